//! The text of a plan, field by field, and where in it things stand.

use pithward_job::{Fault, FaultKind, FileFault, FilePlace, Place, PlanFileFault};
use serde::Deserialize;
use serde_json::value::RawValue;
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

/// What would be right where a value of a plan is not.
const AS_WRITTEN: &str = "the plan as it was written: take it from its copy, or plan again";

/// The fields of an object as they are written.
type Fields<'a> = BTreeMap<Cow<'a, str>, &'a RawValue>;

/// A plan's text.
#[derive(Debug)]
pub(super) struct Written<'a> {
    file: &'a str,
    text: &'a Arc<str>,
    fields: Fields<'a>,
}

impl<'a> Written<'a> {
    /// The fields of a text that is JSON. `field` is what the person knows the file by.
    pub(super) fn of(file: &'a str, text: &'a Arc<str>, field: &str) -> Result<Self, Vec<Fault>> {
        match serde_json::from_str(text) {
            Ok(fields) => Ok(Self { file, text, fields }),
            Err(error) => {
                let at = byte_of(text, &error);
                let kind = FileFault::Json(without_place(&error)).into();
                let help = "a whole plan, as plan --json wrote it (was the file cut short?)";
                Err(vec![fault(field, kind, help, place(file, text, at..at))])
            }
        }
    }

    pub(super) fn has(&self, name: &str) -> bool {
        self.fields.contains_key(name)
    }

    /// A field; its faults go to the others.
    pub(super) fn field<T: Deserialize<'a>>(
        &self,
        name: &str,
        faults: &mut Vec<Fault>,
    ) -> Option<T> {
        let Some(raw) = self.fields.get(name) else {
            faults.push(fault(name, FaultKind::Missing, AS_WRITTEN, self.place(0..1)));
            return None;
        };
        self.value(name, raw, faults)
    }

    /// All fields as one value: of a form whose fields stand in the file itself.
    pub(super) fn whole<T: Deserialize<'a>>(
        &self,
        field: &str,
        faults: &mut Vec<Fault>,
    ) -> Option<T> {
        self.read(field, self.text, faults)
    }

    /// A value of the text.
    pub(super) fn value<T: Deserialize<'a>>(
        &self,
        name: &str,
        raw: &'a RawValue,
        faults: &mut Vec<Fault>,
    ) -> Option<T> {
        self.read(name, raw.get(), faults)
    }

    fn read<T: Deserialize<'a>>(
        &self,
        name: &str,
        written: &'a str,
        faults: &mut Vec<Fault>,
    ) -> Option<T> {
        match serde_json::from_str(written) {
            Ok(value) => Some(value),
            Err(error) => {
                let at = self.start(written) + byte_of(written, &error);
                let kind = PlanFileFault::Form(without_place(&error)).into();
                faults.push(fault(name, kind, AS_WRITTEN, self.place(at..at)));
                None
            }
        }
    }

    /// A fault of what stands at a path, as in `logs[3].plan`.
    pub(super) fn fault(&self, path: &str, kind: PlanFileFault) -> Fault {
        let help = match kind {
            PlanFileFault::NotAsked => "plan once more, from the job or the log's own measures",
            PlanFileFault::NoPlan { .. } => {
                "a file that plan --json, open --json or resume --json wrote"
            }
            PlanFileFault::Version { .. } => "plan once more with this program",
            _ => AS_WRITTEN,
        };
        fault(path, kind.into(), help, self.place(self.at(path)))
    }

    /// The same with what would be right.
    pub(super) fn fault_with(&self, path: &str, kind: PlanFileFault, help: &'static str) -> Fault {
        Fault { help: help.into(), ..self.fault(path, kind) }
    }

    /// Where the value of a path stands; of what is not there, what it should stand in.
    fn at(&self, path: &str) -> Range<usize> {
        let mut here: &str = self.text;
        for step in path.split(['.', '[']).filter(|step| !step.is_empty()) {
            let within = match step.strip_suffix(']') {
                Some(place) => {
                    let list: Option<Vec<&RawValue>> = serde_json::from_str(here).ok();
                    let place: Option<usize> = place.parse().ok();
                    list.zip(place).and_then(|(list, place)| list.get(place).map(|raw| raw.get()))
                }
                None => {
                    let fields: Option<Fields<'_>> = serde_json::from_str(here).ok();
                    fields.and_then(|fields| fields.get(step).map(|raw| raw.get()))
                }
            };
            match within {
                Some(within) => here = within,
                None => break,
            }
        }
        let start = self.start(here);
        // Of what is large its beginning is enough.
        let end = if here.len() <= SHOWN { here.len() } else { 1 };
        start..start + end
    }

    fn start(&self, part: &str) -> usize {
        (part.as_ptr() as usize).saturating_sub(self.text.as_ptr() as usize)
    }

    fn place(&self, at: Range<usize>) -> Place {
        place(self.file, self.text, at)
    }
}

/// A value that is longer is shown by its beginning.
const SHOWN: usize = 60;

fn fault(field: &str, kind: FaultKind, help: &'static str, place: Place) -> Fault {
    Fault { field: field.to_owned(), kind: Box::new(kind), help: help.into(), place }
}

/// The message of a reader of JSON, which ends with the place.
fn without_place(error: &serde_json::Error) -> String {
    let message = error.to_string();
    message.rsplit_once(" at line ").map_or(message.clone(), |(before, _)| before.to_owned())
}

/// The byte at which a reader of JSON stopped.
fn byte_of(text: &str, error: &serde_json::Error) -> usize {
    let lines = text.split_inclusive('\n').take(error.line().saturating_sub(1));
    (lines.map(str::len).sum::<usize>() + error.column().saturating_sub(1)).min(text.len())
}

/// A place of a text, on whole characters.
pub(super) fn place(file: &str, text: &Arc<str>, at: Range<usize>) -> Place {
    let whole = |mut at: usize| {
        at = at.min(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let span = whole(at.start)..whole(at.end.max(at.start));
    let before = text.get(..span.start).unwrap_or_default();
    let line = before.matches('\n').count() + 1;
    let line_start = before.rfind('\n').map_or(0, |at| at + 1);
    let column = before.get(line_start..).map_or(0, |line| line.chars().count()) + 1;
    Place::File(FilePlace { file: file.to_owned(), text: Arc::clone(text), span, line, column })
}
