//! A plan read back from its JSON: what `plan --json`, `open --json` and `resume --json` write.
//!
//! Nothing of the file is believed that can be reckoned. What was asked is read once more, by whoever reads requests; from
//! the rest only the choices are taken: directions, rests, heights, what each piece is. Those are **replayed**, and the plan
//! is written again: whatever the file has otherwise is a fault, told with its place. So a height that somebody changed is
//! refused by the replay, and a count that somebody changed by the counts.
//!
//! Taken as they stand are only the figures of the search, which nothing follows from: bounds, and counts of work.

mod differ;
mod half;
mod log;
mod order;
mod pile;
mod written;

use crate::json::asked;
use crate::schema::VERSION;
use crate::schema::asked::AskedForm;
use order::NoValue;
use pithward_job::{
    AskedFor, Fault, FaultKind, FileFault, LogJob, PileJob, Place, PlanFileFault, ResumeJob,
};
use pithward_measure::{Excerpt, Length};
use pithward_optimizer::{LogPlan, Pile, PilePlan, Planned, RebuildFault, Resumed};
use std::sync::Arc;
use written::{Written, place};

/// A plan that was read back, replayed.
#[derive(Clone, Debug)]
pub enum ReadPlan {
    /// That of a pile, or of a stem.
    Pile(Box<ReadPile>),
    /// That of one log.
    Log(Box<ReadLog>),
    /// How to go on with a half-sawn log.
    Half(Box<ReadHalf>),
}

/// The plan of a pile.
#[derive(Clone, Debug)]
pub struct ReadPile {
    /// The job, its stems cut.
    pub job: PileJob,
    /// The same as the search has it.
    pub pile: Pile,
    /// What becomes of it.
    pub plan: PilePlan,
}

/// The plan of one log.
#[derive(Clone, Debug)]
pub struct ReadLog {
    /// The log and what is wanted.
    pub job: LogJob,
    /// Its plan. Obstacles are not read back: they are words for whoever asked.
    pub planned: Planned,
}

/// How to go on with a half-sawn log.
#[derive(Clone, Debug)]
pub struct ReadHalf {
    /// What the log is called; `None` of one that is told by arguments.
    pub id: Option<String>,
    /// The half-sawn log.
    pub half: ResumeJob,
    /// The plan that was followed.
    pub followed: LogPlan,
    /// The way on.
    pub resumed: Resumed,
}

/// Whether a file is a plan, or what was one, rather than a job: told by what is in it.
pub fn is_plan(bytes: &[u8]) -> bool {
    let mark = b"\"schema_version\"";
    let begins = bytes.iter().find(|byte| !byte.is_ascii_whitespace());
    begins == Some(&b'{') && bytes.windows(mark.len()).any(|part| part == mark)
}

/// A plan from the bytes of its file. `field` is what the person knows the file by.
///
/// # Errors
/// Every fault of the file: a text that is no JSON, fields that are missing, and all that the plan, replayed, has otherwise.
pub fn read_plan(bytes: &[u8], file: &str, field: &str) -> Result<ReadPlan, Vec<Fault>> {
    let text: Arc<str> = text_of(bytes, file, field)?.into();
    let written = Written::of(file, &text, field)?;
    let mut faults = Vec::new();
    let no_plan = |lacks| {
        let fault = written.fault("", PlanFileFault::NoPlan { lacks });
        Err(vec![Fault { field: field.to_owned(), ..fault }])
    };
    if !written.has("schema_version") {
        return no_plan("schema_version");
    }
    match written.field::<u64>("schema_version", &mut faults) {
        Some(got) if got == u64::from(VERSION) => {}
        Some(got) => {
            let kind = PlanFileFault::Version { got, reads: VERSION };
            return Err(vec![written.fault("schema_version", kind)]);
        }
        None => return Err(faults),
    }
    if written.has("woods") && written.has("logs") && written.has("order") {
        pile::read(&written, &text, file).map(|pile| ReadPlan::Pile(Box::new(pile)))
    } else if !written.has("stages") {
        no_plan("stages")
    } else if written.has("resumed") {
        half::read(&written, &text).map(|half| ReadPlan::Half(Box::new(half)))
    } else {
        log::read(&written, &text).map(|log| ReadPlan::Log(Box::new(log)))
    }
}

fn text_of<'a>(bytes: &'a [u8], file: &str, field: &str) -> Result<&'a str, Vec<Fault>> {
    let name = || Excerpt::new(file);
    let fault = |kind: FileFault| {
        let help = "a file that plan --json, open --json or resume --json wrote".into();
        let kind = Box::new(FaultKind::File(kind));
        vec![Fault { field: field.to_owned(), kind, help, place: Place::Nowhere }]
    };
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let at = error.valid_up_to();
        let line = bytes[..at].iter().filter(|byte| **byte == b'\n').count() + 1;
        let byte = bytes.get(at).copied().unwrap_or_default();
        fault(FileFault::NotUtf8 { file: name(), byte, line })
    })?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        Err(fault(FileFault::EmptyFile { file: name() }))
    } else {
        Ok(text)
    }
}

/// What was asked.
fn asked_of(written: &Written<'_>, faults: &mut Vec<Fault>) -> Option<AskedFor> {
    if !written.has("asked") {
        faults.push(written.fault("asked", PlanFileFault::NotAsked));
        return None;
    }
    let Some(form) = written.field::<Option<AskedForm>>("asked", faults)? else {
        faults.push(written.fault("asked", PlanFileFault::NotAsked));
        return None;
    };
    match asked::read(form) {
        Ok(asked) => Some(asked),
        Err((path, right)) => {
            let kind = PlanFileFault::Form("is not what it should be".to_owned());
            faults.push(written.fault_with(&path, kind, right));
            None
        }
    }
}

/// The fault of a value that is none; `at` is the path of what it is in.
fn no_value(written: &Written<'_>, at: &str, value: NoValue) -> Fault {
    let path = within(at, &value.field);
    let kind = PlanFileFault::Form(format!("{} is no value of it", Excerpt::new(&value.got)));
    written.fault_with(&path, kind, value.right)
}

/// The fault of a plan that cannot be.
fn not_rebuilt(written: &Written<'_>, at: &str, fault: RebuildFault) -> Fault {
    let in_piece = |piece: usize, rest: &str| within(at, &format!("pieces[{piece}]{rest}"));
    match fault {
        RebuildFault::NoWant { piece, want, wants } => {
            let kind = PlanFileFault::NoSuch { got: want, of: wants };
            written.fault(&in_piece(piece, ".want"), kind)
        }
        RebuildFault::NoCut { piece, cut, cuts } => {
            let kind = PlanFileFault::NoSuch { got: cut, of: cuts };
            written.fault(&in_piece(piece, ".cut"), kind)
        }
        RebuildFault::Size { piece, has, takes } => {
            let words = |sides: [Length; 3]| {
                let [thick, wide, long] = sides.map(|side| side.inches_f64());
                format!("{thick:.3} x {wide:.3} x {long:.2} in")
            };
            let kind = PlanFileFault::Size { has: words(has), takes: words(takes) };
            written.fault(&in_piece(piece, ""), kind)
        }
        RebuildFault::Allowed { piece } | RebuildFault::Grade { piece } => {
            let kind = PlanFileFault::Form(fault.to_string());
            written.fault(&in_piece(piece, ""), kind)
        }
        RebuildFault::Replay(fault) => {
            let path = if at.is_empty() { "stages" } else { at };
            let help = "the heights and boxes as they were planned: plan again rather than change a plan by hand";
            written.fault_with(path, PlanFileFault::Replay(fault), help)
        }
    }
}

fn within(at: &str, field: &str) -> String {
    if at.is_empty() { field.to_owned() } else { format!("{at}.{field}") }
}

/// Faults of what was asked, which stand in files that the plan keeps: told as those of the plan.
fn of_asked(written: &Written<'_>, faults: Vec<Fault>, file: &str, text: &Arc<str>) -> Vec<Fault> {
    let _ = written;
    let at = text.find("\"asked\"").unwrap_or(0);
    let placed = |fault: Fault| match fault.place {
        Place::Nowhere => Fault { place: place(file, text, at..at + 7), ..fault },
        _ => fault,
    };
    faults.into_iter().map(placed).collect()
}
