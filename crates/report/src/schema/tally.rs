//! The form of a tally and of how the day stands.

use super::pile::JobForm;
use super::quote::money::{BillForm, MoneyForm};
use super::quote::range::RangeForm;
use schemars::JsonSchema;
use serde::Serialize;

/// What was said as the day went, and how it stands: hours, logs, pieces, wants and blades, what is owed so far, and what is to
/// be expected of the rest.
///
/// Places in lists (`log`, `want`) count from 0, numbers of entries and lines of the file from 1. Times of the clock are text
/// as RFC 9557 has it, with offset and zone.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(title = "tally of a job")]
pub(crate) struct TallyForm {
    /// Version of this form.
    pub(crate) schema_version: u32,
    /// The units of every number in the file.
    pub(crate) units: TallyUnitsForm,
    /// What the job is called.
    pub(crate) job: JobForm,
    /// Up to when it was reckoned; null where nothing was said.
    pub(crate) now: Option<String>,
    /// What was said, in the order of the file.
    pub(crate) entries: Vec<EntryForm>,
    /// What in the file is not as it was written.
    pub(crate) warnings: Vec<WarningForm>,
    /// Where the clock went back between two entries.
    pub(crate) clock_back: Vec<ClockBackForm>,
    /// What was done when, in order; pauses are not among them.
    pub(crate) stretches: Vec<StretchForm>,
    /// When work rested.
    pub(crate) pauses: Vec<PauseForm>,
    /// Hours by what they were spent on, without pauses.
    pub(crate) spent: SpentForm,
    /// Days with work.
    pub(crate) days: u32,
    /// Times that the mill was moved to another place of the yard.
    pub(crate) moves: u32,
    /// The logs of the job in its order, then those that only the tally names.
    pub(crate) logs: Vec<TallyLogForm>,
    /// The log on the mill.
    pub(crate) on_the_mill: Option<usize>,
    /// Pieces of which nobody knows the log.
    pub(crate) loose: Vec<TallyPieceForm>,
    /// The customer's list as it is now.
    pub(crate) wants: Vec<TallyWantForm>,
    /// Board feet of all pieces by named sizes.
    pub(crate) board_feet: i64,
    /// Blades that came off.
    pub(crate) blades: Vec<BladeForm>,
    /// Notes.
    pub(crate) notes: Vec<RemarkForm>,
    /// What is owed for what was done so far; null where the mill states no price.
    pub(crate) bill: Option<BillForm>,
    /// What is to be expected; null where no promise was kept.
    pub(crate) ahead: Option<AheadForm>,
}

/// The units of every number in the file. All are whole, but those of money, which are decimal text.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct TallyUnitsForm {
    /// Times: `ms`, whole milliseconds.
    pub(crate) time: &'static str,
    /// Board feet, shares and factors: `millionths`.
    pub(crate) share: &'static str,
}

/// An entry.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct EntryForm {
    /// Its number.
    pub(crate) number: u64,
    /// The line on which it stands.
    pub(crate) line: usize,
    /// When it happened.
    pub(crate) at: String,
    /// The time was told by hand.
    pub(crate) late: bool,
    /// What it says, word by word, as the file has it.
    pub(crate) words: Vec<String>,
    /// The entry that undid it; null where it counts.
    pub(crate) undone_by: Option<u64>,
}

/// Something in the file that is not as it was written.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct WarningForm {
    /// The line.
    pub(crate) line: usize,
    /// What is wrong.
    pub(crate) kind: WarningKindForm,
    /// What the line holds, where it does not count; else null.
    pub(crate) text: Option<String>,
    /// The first entry that is missing, or the one that is another, repeated or undone; else null.
    pub(crate) first: Option<u64>,
    /// The last entry that is missing; else null.
    pub(crate) last: Option<u64>,
    /// An entry behind it says that the file counts as it is.
    pub(crate) confirmed: bool,
}

/// What is wrong.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum WarningKindForm {
    /// The first line is gone.
    NoHead,
    /// A line cannot be read; it does not count.
    Unread,
    /// A line was changed or added by hand; it counts.
    Changed,
    /// Entries are gone.
    Missing,
    /// The last entries that were kept are gone: the file ends before them.
    CutOff,
    /// An entry of this number was kept, and it is another one: the file is not the one that was written.
    Other,
    /// A number stands twice; both entries count.
    Repeated,
    /// A line was never finished; it does not count.
    Torn,
    /// An entry undoes one that is not there.
    NothingUndone,
}

/// A place at which the clock went back.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct ClockBackForm {
    /// The entry before it.
    pub(crate) before: u64,
    /// The first entry after it.
    pub(crate) entry: u64,
    /// By how much at least.
    pub(crate) by: i64,
}

/// A time that was spent on one thing, and at most one log.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct StretchForm {
    /// On what.
    pub(crate) doing: DoingForm,
    /// The log on the mill.
    pub(crate) log: Option<usize>,
    /// From.
    pub(crate) from: String,
    /// To.
    pub(crate) to: String,
    /// How long.
    pub(crate) takes: i64,
    /// It lasts.
    pub(crate) open: bool,
}

/// What hours are spent on.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum DoingForm {
    /// Setting up.
    SettingUp,
    /// Work at the logs.
    Sawing,
    /// Moving and cleaning logs.
    MovingLogs,
    /// Moving the mill to another place of the yard.
    MovingMill,
    /// Packing up.
    PackingUp,
}

/// A time in which work rested.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct PauseForm {
    /// From.
    pub(crate) from: String,
    /// To.
    pub(crate) to: String,
    /// How long.
    pub(crate) takes: i64,
    /// Why, where that was said.
    pub(crate) why: Option<String>,
    /// It lasts.
    pub(crate) open: bool,
}

/// Hours by what they were spent on.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct SpentForm {
    /// Setting up.
    pub(crate) setting_up: i64,
    /// Work at the logs.
    pub(crate) sawing: i64,
    /// Moving and cleaning logs.
    pub(crate) moving_logs: i64,
    /// Moving the mill to another place of the yard.
    pub(crate) moving_mill: i64,
    /// Packing up.
    pub(crate) packing_up: i64,
}

/// A log.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct TallyLogForm {
    /// What it is called.
    pub(crate) id: String,
    /// Whether the job knows it.
    pub(crate) in_job: bool,
    /// How far it is.
    pub(crate) state: LogStateForm,
    /// When it first came on the mill.
    pub(crate) from: Option<String>,
    /// When the last work was done on it, or the last of it was told.
    pub(crate) to: Option<String>,
    /// Work while it was on the mill, without pauses.
    pub(crate) takes: i64,
    /// What came off it.
    pub(crate) pieces: Vec<TallyPieceForm>,
    /// All of that was told as planned.
    pub(crate) as_planned: bool,
    /// What was found in it.
    pub(crate) found: Vec<String>,
}

/// How far a log is.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum LogStateForm {
    /// Nothing was said of it.
    Waiting,
    /// It is on the mill.
    OnTheMill,
    /// It is done.
    Done,
}

/// Pieces off the saw.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct TallyPieceForm {
    /// The entry that told them.
    pub(crate) entry: u64,
    /// When.
    pub(crate) at: String,
    /// How many.
    pub(crate) count: u32,
    /// Their size as it was typed.
    pub(crate) size: String,
    /// Board feet of all of them by the named size.
    pub(crate) board_feet: i64,
    /// What is to be remembered of them.
    pub(crate) note: Option<String>,
    /// How many of them go to which line of the list; what is missing to their number is on none.
    pub(crate) to: Vec<ToForm>,
}

/// Pieces that go to a line of the list.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct ToForm {
    /// The line, a place in `wants`.
    pub(crate) want: usize,
    /// How many.
    pub(crate) count: u32,
}

/// A line of the list.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct TallyWantForm {
    /// The size.
    pub(crate) size: String,
    /// Whether the job asks for it; else it was added on the day.
    pub(crate) in_job: bool,
    /// How many the job asked for; null for as many as come.
    pub(crate) asked: Option<u32>,
    /// How many are wanted now; null for as many as come.
    pub(crate) count: Option<u32>,
    /// How many there are.
    pub(crate) given: u32,
    /// How many are still wanted; null for as many as come.
    pub(crate) wanted: Option<u32>,
    /// Board feet of those that are there.
    pub(crate) board_feet: i64,
}

/// A blade that came off.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct BladeForm {
    /// The entry.
    pub(crate) entry: u64,
    /// When.
    pub(crate) at: String,
    /// What is the matter with it.
    pub(crate) end: BladeEndForm,
    /// Why, where that was said.
    pub(crate) why: Option<String>,
    /// The log that was on the mill.
    pub(crate) log: Option<usize>,
}

/// How a blade came off.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum BladeEndForm {
    /// Dull.
    Dull,
    /// It met metal or stone, and can be sharpened again.
    Struck,
    /// It cannot be used any more.
    Ruined,
}

/// Something to remember.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct RemarkForm {
    /// The entry.
    pub(crate) entry: u64,
    /// When.
    pub(crate) at: String,
    /// What.
    pub(crate) what: String,
    /// The log that was on the mill.
    pub(crate) log: Option<usize>,
}

/// What is to be expected once the day is over, of the piles that were simulated for the promise, weighed by what has
/// happened.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct AheadForm {
    /// Logs that are still to be sawn as planned.
    pub(crate) logs_to_go: usize,
    /// How much longer than stated work takes, likely, as a factor.
    pub(crate) pace: i64,
    /// Work that is left, without breaks.
    pub(crate) to_go: RangeForm<i64>,
    /// All work on site in the end, without breaks and pauses.
    pub(crate) on_site: RangeForm<i64>,
    /// What the customer pays in the end; null where there is no price.
    pub(crate) price: Option<RangeForm<MoneyForm>>,
    /// Board feet in the end.
    pub(crate) board_feet: RangeForm<i64>,
    /// How often the hours do not pass the promised ones; null where none were promised.
    pub(crate) in_time: Option<i64>,
    /// Whether the promised hours stand; null where none were promised.
    pub(crate) hours: Option<StandsForm>,
    /// The lines of the list, in the order of `wants`.
    pub(crate) wants: Vec<WantAheadForm>,
}

/// What is to be expected of a line of the list.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct WantAheadForm {
    /// Pieces in the end.
    pub(crate) pieces: RangeForm<u32>,
    /// What was promised; null where nothing was.
    pub(crate) promised: Option<u32>,
    /// How often that comes.
    pub(crate) chance: i64,
    /// Whether it stands; null where nothing was promised.
    pub(crate) stands: Option<StandsForm>,
}

/// Whether a promise stands.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum StandsForm {
    /// It is kept.
    Kept,
    /// It stands, in four cases of five or more.
    Holds,
    /// It is in doubt.
    InDoubt,
    /// It will not be kept, in four cases of five or more.
    Unlikely,
    /// It is broken.
    Broken,
}
