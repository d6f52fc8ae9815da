//! How stems are bucked: `[bucking]`.

use super::TABLE;
use super::sawing::{LENGTHS, Sawing};
use crate::fault::Fault;
use crate::file::{Fields, Form, Right, Table};
use crate::stem::{Bucking, BuckingRequest};

const BUCKING: Form =
    Form { of: "[bucking]", fields: &["chain_kerf", "log_lengths", "shortest", "longest"] };

const LENGTH: Right = Right {
    what: "a length in quotes",
    help: "write a number and its unit in quotes, for instance \"3/8 in\" or \"16 ft\"",
    bare: true,
};

/// The terms; `None` where they have a fault.
pub(super) fn read(job: &Fields<'_>, sawing: &Sawing, faults: &mut Vec<Fault>) -> Option<Bucking> {
    let empty = Table { entries: Vec::new(), head: job.head() };
    let before = faults.len();
    let table = job.table("bucking", TABLE, faults).unwrap_or(&empty);
    let fields = Fields::of(job.file, table, &BUCKING, faults);
    let request = BuckingRequest {
        chain_kerf: fields.typed("chain_kerf", LENGTH, faults),
        log_lengths: fields.list("log_lengths", LENGTHS, faults),
        shortest: fields.typed("shortest", LENGTH, faults),
        longest: fields.typed("longest", LENGTH, faults),
    };
    if faults.len() > before {
        return None;
    }
    let mill = sawing.mill.as_ref().map(|chosen| &chosen.mill);
    request.read(mill, sawing.trim.unwrap_or_default(), faults)
}
