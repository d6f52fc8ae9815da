//! The logs of a job: `[[logs]]` of the job file, and the rows of the sheet that it names.

use std::collections::BTreeMap;

use pithward_measure::Excerpt;

use super::sawing::Sawing;
use super::{LONGEST_LINE, NamedFiles, TEXT, free_text, sheet};
use crate::as_grown::GrownParts;
use crate::asked::Folder;
use crate::fault::{Fault, FaultKind, Misread};
use crate::file::{Fields, Form, Right, Value};
use crate::log_request::{Tape, find_species};
use crate::parts::Parts;
use crate::pile_job::JobLog;
use crate::size_policy::shrinks;
use crate::stem::{CUT_OUT, JobStem, cut_outs};
use crate::typed::Typed;

/// The most logs of a job; more is a slip of the pen.
pub(super) const MOST_LOGS: u32 = 20_000;

/// The longest name of a log, in characters: it stands in the margin of a list.
const LONGEST_ID: usize = 12;

/// Every field of a log, in the order in which they are written.
const FIELDS: [&str; 27] = [
    "id",
    "species",
    "small_end",
    "butt",
    "length",
    "bark",
    "over_bark",
    "long_axis",
    "long_axis_butt",
    "sweep",
    "crook",
    "pith_small",
    "pith_butt",
    "flare",
    "flaws",
    "knots",
    "bumps",
    "seams",
    "scars",
    "holes",
    "clear_shell",
    "quality",
    "shape",
    "unit",
    "up",
    "notes",
    "count",
];

/// The same, and what only a stem has.
const STEM_FIELDS: [&str; FIELDS.len() + 1] = {
    let mut fields = ["cut_out"; FIELDS.len() + 1];
    let mut n = 0;
    while n < FIELDS.len() {
        fields[n] = FIELDS[n];
        n += 1;
    }
    fields
};

const FORM: Form = Form { of: "a log", fields: &FIELDS };
const STEM_FORM: Form = Form { of: "a stem", fields: &STEM_FIELDS };

const TABLES: Right = Right {
    what: "a list, each log below its own [[logs]]",
    help: "write [[logs]] and below it the fields of one log, as in id = \"1\"",
    bare: false,
};
const STEMS: Right = Right {
    what: "a list, each stem below its own [[stems]]",
    help: "write [[stems]] and below it the fields of one stem, as in id = \"1\"",
    bare: false,
};
const SHEET: Right = Right {
    what: "a file's name in quotes",
    help: "for instance logs_file = \"logs.csv\"",
    bare: false,
};
const LENGTH: Right = Right {
    what: "a length in quotes",
    help: "write a number and its unit in quotes, for instance \"14 1/2 in\" or \"370 mm\"",
    bare: true,
};
const ID: Right = Right { what: "a name in quotes", help: ID_HELP, bare: true };
const NAME: Right = Right {
    what: "the name of a species in quotes",
    help: "for instance species = \"white oak\"",
    bare: false,
};

const ID_HELP: &str = "write what stands on the log's end, 12 characters at most";
const COUNT_HELP: &str = "write how many logs are alike, without quotes; they are then called by the id and -1, -2 and so on";
const DIAMETERS_HELP: &str = "write one diameter, or two in brackets, as in [\"14 in\", \"15 in\"]";
const SAME_HELP: &str = "give every log a name of its own, and write it on its end";
const NO_LOGS_HELP: &str =
    "write [[logs]] for each, or name a sheet of them, as in logs_file = \"logs.csv\"";

/// One log, or some that are alike, as they stand in a file.
#[derive(Debug)]
pub(super) struct WrittenLog {
    pub(super) id: Typed,
    pub(super) species: Typed,
    /// One diameter or two.
    pub(super) small_end: Vec<Typed>,
    pub(super) butt: Vec<Typed>,
    pub(super) length: Typed,
    pub(super) bark: Typed,
    /// Where it is said whether the diameters are over the bark.
    pub(super) over_bark: Typed,
    pub(super) over: bool,
    /// What makes it other than round, straight and sound.
    pub(super) grown: GrownParts,
    pub(super) notes: Typed,
    /// How many are alike; `None` where nobody says, and it is one.
    pub(super) count: Option<u32>,
}

/// The logs of a job, as far as they could be read.
#[derive(Debug)]
pub(super) struct PileLogs {
    pub(super) logs: Vec<JobLog>,
    pub(super) stems: Vec<JobStem>,
    /// The line and the file at which each was named.
    known: BTreeMap<String, (usize, String)>,
    /// How many there are, with those that could not be read.
    total: usize,
    /// Every one needs a species.
    finished: bool,
}

impl PileLogs {
    pub(super) fn read(
        job: &Fields<'_>,
        folder: Folder<'_>,
        named: &mut NamedFiles,
        sawing: &Sawing,
        faults: &mut Vec<Fault>,
    ) -> Self {
        let (logs, stems, known) = (Vec::new(), Vec::new(), BTreeMap::new());
        let mut pile = Self { logs, stems, known, total: 0, finished: sawing.finished };
        let name = job.typed("logs_file", SHEET, faults);
        if let Some(text) = named.open(&name, folder, &sheet::SHEET_FILE, faults) {
            for log in sheet::read(&text, faults) {
                let logs = pile.take(&log, folder, named, faults);
                pile.logs.extend(logs);
            }
        }
        let tables = job.tables("logs", TABLES, faults);
        let none = tables.as_ref().is_some_and(Vec::is_empty) || job.node("logs").is_none();
        for table in tables.into_iter().flatten() {
            let log = written(&Fields::of(job.file, table, &FORM, faults), faults);
            let logs = pile.take(&log, folder, named, faults);
            pile.logs.extend(logs);
        }
        for table in job.tables("stems", STEMS, faults).into_iter().flatten() {
            let fields = Fields::of(job.file, table, &STEM_FORM, faults);
            let stem = written(&fields, faults);
            let parts = Parts::list(&fields, "cut_out", &CUT_OUT, faults);
            let stems = pile.take(&stem, folder, named, faults);
            let long = stems.first().map(|stem| stem.log.length());
            let cut_out = cut_outs(&parts, long, faults);
            let stem = |stem| JobStem { stem, cut_out: cut_out.clone() };
            pile.stems.extend(stems.into_iter().map(stem));
        }
        if none && !name.is_given() && job.node("stems").is_none() {
            let at = job.key_at("logs").unwrap_or_else(|| job.head());
            let nowhere = Typed::absent("logs", job.file, at);
            faults.push(nowhere.fault(FaultKind::Missing, NO_LOGS_HELP));
        }
        if pile.total > MOST_LOGS as usize {
            let at = job.key_at("logs").or_else(|| job.key_at("logs_file"));
            let nowhere = Typed::absent("logs", job.file, at.unwrap_or_else(|| job.head()));
            let kind = FaultKind::TooMany { most: MOST_LOGS as usize, got: pile.total };
            faults.push(nowhere.fault(kind, "plan the pile in parts"));
        }
        pile
    }

    /// What is written as one log, once for each that is alike.
    fn take(
        &mut self,
        written: &WrittenLog,
        folder: Folder<'_>,
        named: &mut NamedFiles,
        faults: &mut Vec<Fault>,
    ) -> Vec<JobLog> {
        let mut logs = Vec::new();
        let id = written.id.require(faults, ID_HELP, log_id);
        let notes = written.notes.read(faults, |text| free_text(text, LONGEST_LINE));
        let tape = Tape {
            small_end: &written.small_end,
            butt: &written.butt,
            tapers: false,
            length: &written.length,
            species: &written.species,
            bark: &written.bark,
            over_bark: &written.over_bark,
            over: written.over,
            trim: None,
            grown: &written.grown,
            folder,
        };
        if let Some(name) = &written.grown.shape.text {
            named.shape(folder, name, written.grown.shape.start());
        }
        let measured = tape.measure(faults);
        if self.finished {
            let species = written.species.text.as_deref().and_then(|text| find_species(text).ok());
            shrinks(species, &written.species, faults);
        }
        let count = written.count.unwrap_or(1);
        self.total = self.total.saturating_add(count as usize);
        let Some(id) = id.filter(|_| self.total <= MOST_LOGS as usize) else { return logs };
        for n in 1..=count {
            let id = if written.count.is_none() { id.clone() } else { format!("{id}-{n}") };
            if !self.name(&id, &written.id, faults) {
                return logs;
            }
            let Some(measured) = &measured else { continue };
            logs.push(JobLog {
                id,
                log: measured.log.clone(),
                species: measured.species,
                bark: measured.bark,
                taped_over_bark: written.over,
                two_diameters: measured.two_diameters,
                told: measured.told.clone(),
                notes: notes.clone().unwrap_or_default(),
            });
        }
        logs
    }

    /// Whether a log may be called so; if not, there is a fault.
    fn name(&mut self, id: &str, written: &Typed, faults: &mut Vec<Fault>) -> bool {
        if let Err(misread) = log_id(id) {
            faults.push(written.placed(Misread { span: 0..0, ..misread }));
            return false;
        }
        if let Some((line, file)) = self.known.get(id) {
            let (id, line, file) = (Excerpt::new(id), *line, file.clone());
            faults.push(written.fault(FaultKind::SameLog { id, line, file }, SAME_HELP));
            return false;
        }
        if let Some((line, file)) = written.line() {
            self.known.insert(id.to_owned(), (line, file.to_owned()));
        }
        true
    }
}

fn log_id(text: &str) -> Result<String, Misread> {
    let id = text.trim();
    let printable = !id.contains(|c: char| c.is_control());
    if id.is_empty() || id.chars().count() > LONGEST_ID || !printable {
        let kind = FaultKind::Name { most: LONGEST_ID, got: Excerpt::new(text) };
        return Err(Misread::new(kind, 0..0, ID_HELP));
    }
    Ok(id.to_owned())
}

/// A log of the job file.
fn written(fields: &Fields<'_>, faults: &mut Vec<Fault>) -> WrittenLog {
    let id = fields.typed("id", ID, faults);
    let species = fields.typed("species", NAME, faults);
    let small_end = diameters(fields, "small_end", faults);
    let butt = diameters(fields, "butt", faults);
    let length = fields.typed("length", LENGTH, faults);
    let bark = fields.typed("bark", LENGTH, faults);
    let (over_bark, over) = fields.flag("over_bark", faults);
    let grown = GrownParts::of_fields(fields, faults);
    let notes = fields.typed("notes", TEXT, faults);
    let count = fields.whole("count", 1..=MOST_LOGS, COUNT_HELP, faults);
    WrittenLog { id, species, small_end, butt, length, bark, over_bark, over, grown, notes, count }
}

/// One diameter or two.
fn diameters(fields: &Fields<'_>, name: &'static str, faults: &mut Vec<Fault>) -> Vec<Typed> {
    if let Some(node) = fields.node(name)
        && let Value::List(nodes) = &node.value
        && !(1..=2).contains(&nodes.len())
    {
        let judged = Typed::judged(name, fields.file, node.at.clone());
        faults.push(judged.fault(FaultKind::Diameters { got: nodes.len() }, DIAMETERS_HELP));
        return vec![judged];
    }
    match fields.list(name, LENGTH, faults) {
        none if none.is_empty() => vec![fields.typed(name, LENGTH, faults)],
        list => list,
    }
}
