//! A plan that is read back: its bytes, and which of its logs is meant.

use crate::fault::{Fault, FaultKind};
use crate::file::{FileKind, bytes_of};
use crate::typed::Typed;
use pithward_measure::Excerpt;
use std::path::Path;

const PLAN: FileKind = FileKind {
    what: "plan",
    written: "as open --json, plan --json or resume --json wrote it",
    // A thousand logs of a megabyte each.
    most: 1 << 30,
    none: "name a file that open --json, plan --json or resume --json wrote",
    empty: "write the plan once more, by open --json, plan --json or resume --json",
    toml: "",
    json: "{ \"schema_version\": ... }",
};

/// The bytes of a plan's file. `field` is what the person knows the file by.
///
/// # Errors
/// A file that cannot be read.
pub fn plan_bytes(path: &Path, field: &'static str) -> Result<Vec<u8>, Box<Fault>> {
    let name = path.to_string_lossy();
    let typed = Typed::new(field, None);
    bytes_of(path, &name, &PLAN).map_err(|misread| Box::new(typed.placed(misread)))
}

/// The fault of a name that the one log of a plan does not have; `own` is what it is called, where it has a name.
pub fn log_of_plan(typed: &Typed, own: Option<&str>) -> Option<Fault> {
    let id = typed.text.as_deref().filter(|id| Some(id.trim()) != own)?;
    let help = match own {
        Some(own) => format!("the plan is of log {own} alone"),
        None => "the plan is of one log, which has no name: leave it out".to_owned(),
    };
    let kind = FaultKind::Unknown { what: "log of the plan", got: Excerpt::new(id), nearest: None };
    Some(typed.fault(kind, help))
}
