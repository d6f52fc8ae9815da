//! `[recovery]` and `[learned]` of a mill file.

use schemars::JsonSchema;
use serde::Serialize;

use super::{Learned, Recovery};
use crate::doubt::share as part;
use crate::fault::{Fault, FaultKind, LearnedFault, Misread};
use crate::file::{Fields, Form, Right};
use crate::job_file::NumberOrText;
use crate::pace::{Pace, PercentForm};
use crate::typed::{Typed, percentage};
use pithward_measure::Excerpt;
use pithward_trade::nearest_word;

/// How many of the planned pieces come out. Where it is left out all do; `pithward learn` writes it from the jobs that were
/// done.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct RecoveryForm {
    /// Of a hundred planned pieces of softwood so many, from 30 to 100; 100 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub softwood: Option<PercentForm>,
    /// The same of hardwood, and of wood that nobody named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hardwood: Option<PercentForm>,
    /// By how many of a hundred these may be off, from 0 to 30, one standard deviation; 0 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unsure: Option<PercentForm>,
    /// How far pieces of one log are lost together, from 0, each by itself, to 100, all or none; 0 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub together: Option<PercentForm>,
}

/// What the figures of the file were learned from; `pithward learn` writes it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct LearnedForm {
    /// The mill file that they were learned beside: the one to learn from again, with all jobs, so that none counts twice.
    #[schemars(length(min = 1, max = 200))]
    pub from: String,
    /// On which day, as text.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(length(min = 1, max = 200))]
    pub on: Option<String>,
    /// From how many jobs.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0, max = 1_000_000))]
    pub jobs: Option<u32>,
    /// From how many logs.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0, max = 1_000_000))]
    pub logs: Option<u32>,
    /// The fields of `[pace]` that were learned; all others are as they were stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pace: Option<Vec<String>>,
    /// How much faster or slower a day goes than the pace, from 0 to 1, where a job says nothing of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pace_day: Option<NumberOrText>,
    /// The same of a single log.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pace_log: Option<NumberOrText>,
}

const RECOVERY: Form =
    Form { of: "[recovery]", fields: &["softwood", "hardwood", "unsure", "together"] };
const LEARNED: Form = Form {
    of: "[learned]",
    fields: &["from", "on", "jobs", "logs", "pace", "pace_day", "pace_log"],
};

const RECOVERY_TABLE: Right = Right {
    what: "a table",
    help: "write its fields below a heading [recovery], as in softwood = 97",
    bare: false,
};
const LEARNED_TABLE: Right = Right {
    what: "a table",
    help: "leave [learned] as pithward learn wrote it, or take it out",
    bare: false,
};
const PERCENT: Right =
    Right { what: "a percentage", help: "write a number, as in 97, or \"97 %\"", bare: true };
const SHARE: Right = Right {
    what: "a number from 0 to 1",
    help: "write a number from 0 to 1, as in 0.1",
    bare: true,
};
const TEXT: Right = Right {
    what: "a text in quotes",
    help: "write it in quotes, as in \"my-mill.toml\"",
    bare: true,
};

const FROM_HELP: &str = "name the mill file that the figures were learned beside, in 200 characters at most, \
                         or take [learned] out";
const PACE_HELP: &str = "name fields of [pace], as in [\"load\", \"turn\"]";
const COUNT_HELP: &str = "write a whole number, without quotes";

/// The longest name of a file and the longest date, in characters.
const LONGEST: usize = 200;

/// What a mill's fields say of its recovery, whole where they say nothing; every fault goes to the others.
pub(crate) fn recovery(mill: &Fields<'_>, faults: &mut Vec<Fault>) -> Recovery {
    let mut recovery = Recovery::default();
    let Some(table) = mill.table("recovery", RECOVERY_TABLE, faults) else { return recovery };
    let fields = Fields::of(mill.file, table, &RECOVERY, faults);
    recovery.stated = true;
    for (name, figure, limits, help) in [
        (
            "softwood",
            &mut recovery.softwood,
            (30, 100),
            "write how many of a hundred planned pieces come out, from 30 to 100, as in 97",
        ),
        (
            "hardwood",
            &mut recovery.hardwood,
            (30, 100),
            "write how many of a hundred planned pieces come out, from 30 to 100, as in 94",
        ),
        (
            "unsure",
            &mut recovery.unsure,
            (0, 30),
            "write by how many of a hundred that may be off, from 0 to 30, as in 2",
        ),
        (
            "together",
            &mut recovery.together,
            (0, 100),
            "write how far pieces of one log are lost together, from 0 to 100, as in 15",
        ),
    ] {
        let typed = fields.typed(name, PERCENT, faults);
        *figure = percent(&typed, limits, help, faults).unwrap_or(*figure);
    }
    recovery
}

/// What a mill's fields say of what they were learned from; every fault goes to the others.
pub(crate) fn learned(mill: &Fields<'_>, faults: &mut Vec<Fault>) -> Option<Learned> {
    let table = mill.table("learned", LEARNED_TABLE, faults)?;
    let fields = Fields::of(mill.file, table, &LEARNED, faults);
    let from = fields.typed("from", TEXT, faults);
    if from.text.is_none() && fields.node("from").is_none() {
        let kind = FaultKind::MissingFields { from: "[learned]" };
        let place = mill.file.place(fields.head());
        let (field, kind) = ("from".to_owned(), Box::new(kind));
        faults.push(Fault { field, kind, help: FROM_HELP.into(), place });
    }
    let from = from.read(faults, line)?;
    let on = fields.typed("on", TEXT, faults).read(faults, line).unwrap_or_default();
    let mut whole = |name| fields.whole(name, 0..=1_000_000, COUNT_HELP, faults);
    let (jobs, logs) = (whole("jobs").unwrap_or(0), whole("logs").unwrap_or(0));
    let named = fields.list("pace", TEXT, faults);
    let pace = named.iter().filter_map(|typed| typed.read(faults, field_of_pace)).collect();
    let mut spread = |name| fields.typed(name, SHARE, faults).read(faults, part);
    let (pace_day, pace_log) = (spread("pace_day"), spread("pace_log"));
    Some(Learned { from, on, jobs, logs, pace, pace_day, pace_log })
}

/// A field of `[pace]` by its name.
fn field_of_pace(text: &str) -> Result<&'static str, Misread> {
    let name = text.trim();
    Pace::fields().find(|field| *field == name).ok_or_else(|| {
        let nearest = nearest_word(name, &Pace::fields().collect::<Vec<_>>());
        let kind = FaultKind::Unknown { what: "field of [pace]", got: Excerpt::new(text), nearest };
        Misread::new(kind, 0..0, PACE_HELP)
    })
}

/// A name or a date on one line.
fn line(text: &str) -> Result<String, Misread> {
    let text = text.trim();
    let fits = (1..=LONGEST).contains(&text.chars().count());
    if !fits || text.contains(char::is_control) {
        let kind = FaultKind::Name { most: LONGEST, got: Excerpt::new(text) };
        return Err(Misread::new(kind, 0..0, FROM_HELP));
    }
    Ok(text.to_owned())
}

/// A percentage within limits, as a share.
fn percent(
    typed: &Typed,
    (least, greatest): (u32, u32),
    help: &'static str,
    faults: &mut Vec<Fault>,
) -> Option<f64> {
    let percent = typed.read(faults, percentage(help))?;
    if !(f64::from(least)..=f64::from(greatest)).contains(&percent) {
        let got = Excerpt::new(typed.text.as_deref().unwrap_or_default());
        faults.push(typed.fault(LearnedFault::Percent { least, greatest, got }, help));
        return None;
    }
    Some(percent / 100.0)
}
