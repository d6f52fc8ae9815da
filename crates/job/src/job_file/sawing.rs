//! The mill and the sawing of a job: `[mill]` and `[sawing]`.

use pithward_measure::{Excerpt, Length, Unit};
use pithward_optimizer::Settings;
use pithward_trade::{RingConvention, SizePolicy};

use super::{NamedFiles, TABLE};
use crate::asked::Folder;
use crate::fault::{Fault, FaultKind};
use crate::file::{Fields, Form, Right, Table};
use crate::grade_text::convention;
use crate::length_list;
use crate::log_job::MillSource;
use crate::log_request::{MOST_TRIM, TRIM};
use crate::mill_file::{self, ChosenMill, FORM as MILL, MILL_FILE, mill_of};
use crate::sawing_request::{methods, taper, tolerance};
use crate::size_policy::{FINISHED, PolicyRequest};
use crate::typed::Typed;

/// The most lengths of one list: every whole foot that there is.
const MOST_LENGTHS: usize = 100;

/// `[mill]` of a job: a mill's own fields, or the name of the file that has them.
const MILL_TABLE: Form = Form { of: "[mill]", fields: &FILE_OR_FIELDS };

/// `file`, and every field of a mill file.
const FILE_OR_FIELDS: [&str; mill_file::FIELDS.len() + 1] = {
    let mut fields = ["file"; mill_file::FIELDS.len() + 1];
    let mut n = 0;
    while n < mill_file::FIELDS.len() {
        fields[n + 1] = mill_file::FIELDS[n];
        n += 1;
    }
    fields
};

const SAWING: Form = Form {
    of: "[sawing]",
    fields: &[
        "sizes",
        "final_moisture",
        "planing",
        "sawing_deviation",
        "undersize",
        "trim",
        "lengths",
        "tolerance",
        "taper",
        "methods",
        "ring_convention",
    ],
};

const FILE: Right = Right {
    what: "a file's name in quotes",
    help: "for instance file = \"my-mill.toml\"",
    bare: false,
};
const WORD: Right =
    Right { what: "a word in quotes", help: "write the word in quotes", bare: false };
const LENGTH: Right = Right {
    what: "a length in quotes",
    help: "write a number and its unit in quotes, for instance \"2 in\" or \"50 mm\"",
    bare: true,
};
const PERCENT: Right =
    Right { what: "a percentage", help: "write a number, as in 8, or \"8 %\"", bare: true };
/// Lengths of boards, in one text or in a list.
pub(super) const LENGTHS: Right = Right {
    what: "lengths in quotes",
    help: "write lengths with a / between them, as in \"8/10/12\" (feet) or \"2400/3000 mm\"",
    bare: true,
};

/// What `[mill]` and `[sawing]` say, as far as it could be read.
#[derive(Debug)]
pub(super) struct Sawing {
    pub(super) mill: Option<ChosenMill>,
    /// The sizes are finished ones: every log needs a species.
    pub(super) finished: bool,
    pub(super) policy: Option<SizePolicy>,
    pub(super) trim: Option<Length>,
    /// Lengths that are accepted where a want names none.
    pub(super) lengths: Option<Vec<Length>>,
    pub(super) settings: Option<Settings>,
    /// How classes of rings are told apart.
    pub(super) ring_convention: Option<RingConvention>,
}

impl Sawing {
    pub(super) fn read(
        job: &Fields<'_>,
        folder: Folder<'_>,
        named: &mut NamedFiles,
        faults: &mut Vec<Fault>,
    ) -> Self {
        let mill = match (job.node("mill"), job.table("mill", TABLE, faults)) {
            (None, _) => ChosenMill::generic(),
            (Some(_), None) => None,
            (Some(_), Some(table)) => mill(job, table, folder, named, faults),
        };
        let before = faults.len();
        let empty = Table { entries: Vec::new(), head: job.head() };
        let table = job.table("sawing", TABLE, faults);
        let sound = faults.len() == before;
        let fields = Fields::of(job.file, table.unwrap_or(&empty), &SAWING, faults);
        let sizes = PolicyRequest {
            sizes: fields.typed("sizes", WORD, faults),
            final_moisture: fields.typed("final_moisture", PERCENT, faults),
            planing: fields.typed("planing", LENGTH, faults),
            sawing_deviation: fields.typed("sawing_deviation", LENGTH, faults),
            undersize: fields.typed("undersize", PERCENT, faults),
        };
        let word = sizes.word(faults);
        let policy = word.and_then(|word| sizes.under(word, faults));
        let trim = fields.typed("trim", LENGTH, faults);
        let trim = match trim.is_given() {
            true => trim.length(faults, TRIM, Length::ZERO..=MOST_TRIM),
            false => Some(Length::ZERO),
        };
        let lengths = lengths(&fields.list("lengths", LENGTHS, faults), Unit::Foot, faults);
        let named = fields.list("methods", WORD, faults);
        let methods = methods(named, faults);
        let asked = fields.typed("tolerance", LENGTH, faults);
        let tolerance = tolerance(&asked, mill.as_ref().map(|mill| &mill.mill), faults);
        let taper = taper(&fields.typed("taper", WORD, faults), faults);
        let settings = tolerance.map(|tolerance| Settings { methods, tolerance, taper });
        let by = fields.typed("ring_convention", WORD, faults);
        let ring_convention = match by.is_given() {
            true => by.read(faults, convention),
            false => Some(RingConvention::default()),
        };
        let finished = word == Some(FINISHED);
        let policy = policy.filter(|_| sound);
        Self { mill, finished, policy, trim, lengths, settings, ring_convention }
    }
}

/// Lengths in one text or in several; bare numbers are in `bare`. `None` where none are named.
pub(super) fn lengths(typed: &[Typed], bare: Unit, faults: &mut Vec<Fault>) -> Option<Vec<Length>> {
    if typed.is_empty() {
        return None;
    }
    let read = |typed: &Typed| typed.read(faults, |text| length_list::read(text, bare));
    let mut lengths: Vec<Length> = typed.iter().filter_map(read).flatten().collect();
    lengths.sort_unstable();
    lengths.dedup();
    if let Some(first) = typed.first().filter(|_| lengths.len() > MOST_LENGTHS) {
        let kind = FaultKind::TooMany { most: MOST_LENGTHS, got: lengths.len() };
        faults.push(first.fault(kind, "list fewer lengths"));
    }
    Some(lengths)
}

fn mill(
    job: &Fields<'_>,
    table: &Table,
    folder: Folder<'_>,
    named: &mut NamedFiles,
    faults: &mut Vec<Fault>,
) -> Option<ChosenMill> {
    let fields = Fields::of(job.file, table, &MILL_TABLE, faults);
    if fields.node("file").is_none() {
        let mill = mill_of(&fields, "[mill]", faults)?;
        return ChosenMill::of(mill, MillSource::File(job.file.name().to_owned()));
    }
    let name = fields.typed("file", FILE, faults);
    if let Some(beside) = MILL.fields.iter().find(|field| fields.node(field).is_some()) {
        let kind = FaultKind::FileBeside { beside: Excerpt::new(beside) };
        faults.push(name.fault(kind, "keep the file or the figures, not both"));
    }
    let text = named.open(&name, folder, &MILL_FILE, faults)?;
    let table = text.table(name.name, &MILL_FILE).map_err(|found| faults.extend(found)).ok()?;
    let fields = Fields::of(&text, &table, &MILL, faults);
    let mill = mill_of(&fields, "the mill file", faults)?;
    ChosenMill::of(mill, MillSource::File(text.name().to_owned()))
}
