//! The form of stems and of how they are cut.

use super::day::LogForm;
use super::pile::AsFarForm;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How the stems of the job are cut into logs, and how good that is.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct BuckingForm {
    /// What one cut of the chainsaw turns to sawdust.
    pub(crate) chain_kerf: i64,
    /// The shortest log.
    pub(crate) shortest: i64,
    /// The longest log.
    pub(crate) longest: i64,
    /// Lengths of logs that were looked at, with trim, the shortest first.
    pub(crate) lengths: Vec<i64>,
    /// Different logs that were looked at.
    pub(crate) logs_looked_at: usize,
    /// How much of `value` is there only because the list comes first.
    pub(crate) list_first: i64,
    /// Linear programs solved, a count of work.
    pub(crate) programs: u32,
    /// States searched, a count of work.
    pub(crate) states: u64,
    /// The plan's own value, as `value` of the `result`.
    pub(crate) value: i64,
    /// No plan of logs that were looked at has more, however the stems are cut; null when the search was stopped before
    /// it was known.
    pub(crate) bound: Option<i64>,
    /// What is proven of plans that fill the list as far as this one and no further; null where it is filled, or where
    /// the plan fills it otherwise than the search expected.
    pub(crate) as_far: Option<AsFarForm>,
    /// By how much such a plan can be worth more, as a share of this one's worth less its work.
    pub(crate) gap: Option<i64>,
    /// What plain buckings would give, those that were planned in full, the best first.
    pub(crate) plain: Vec<PlainForm>,
    /// Every stem, in the order of the job.
    pub(crate) stems: Vec<StemForm>,
}

/// What a plain bucking would give.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct PlainForm {
    /// The length of every log, with trim; null where from the butt on always the longest log is cut that the stem still
    /// gives.
    pub(crate) every: Option<i64>,
    /// Logs cut from stems.
    pub(crate) logs: usize,
    /// What its plan is worth.
    pub(crate) worth: i64,
    /// Its value, as `value` of the `result`.
    pub(crate) value: i64,
    /// Its board feet.
    pub(crate) board_feet: i64,
    /// Pieces of the list that stay short.
    pub(crate) missing: u32,
}

/// A stem.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct StemForm {
    /// What it is called.
    pub(crate) id: String,
    /// The stem, measured as a log is.
    pub(crate) stem: LogForm,
    /// From the butt to the small end. Before and behind a log lies a kerf, but at the ends of the stem and beside what is
    /// cut out.
    pub(crate) parts: Vec<StemPartForm>,
}

/// A part of a stem.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct StemPartForm {
    /// Where it begins, from the butt end of the stem.
    pub(crate) from: i64,
    /// Where it ends.
    pub(crate) to: i64,
    /// What it is.
    pub(crate) what: StemPartKind,
    /// Of a log its place in `logs`.
    pub(crate) log: Option<usize>,
}

/// What a part of a stem is.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum StemPartKind {
    /// A log of the pile.
    Log,
    /// No log may hold it.
    CutOut,
    /// Too short for a log.
    TooShort,
    /// Too thick for the mill.
    TooThick,
    /// No log of it is worth as much.
    LeftOver,
}
