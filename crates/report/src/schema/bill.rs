//! The form of a bill in the evening.

use super::pile::JobForm;
use super::quote::money::{BillFaultForm, BillForm, MoneyForm};
use super::quote::range::RangeForm;
use super::tally::{
    BladeForm, ClockBackForm, PauseForm, RemarkForm, SpentForm, StretchForm, TallyLogForm,
};
use schemars::JsonSchema;
use serde::Serialize;

/// What a day came to: hours with their stops, what is to be paid, what was promised and what came, the lumber, the logs.
///
/// Places in lists (`log`) count from 0. Times of the clock are text as RFC 9557 has it, with offset and zone.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(title = "bill of a job")]
pub(crate) struct BilledForm {
    /// Version of this form.
    pub(crate) schema_version: u32,
    /// The units of every number in the file.
    pub(crate) units: BilledUnitsForm,
    /// What the job is called.
    pub(crate) job: JobForm,
    /// The tally does not say that the work is over.
    pub(crate) provisional: bool,
    /// Up to when it was reckoned; null where nothing was said.
    pub(crate) now: Option<String>,
    /// Files of the job that are not as they were when it was promised.
    pub(crate) changed: Vec<String>,
    /// Lines of the tally that are not as they were written and that nobody confirmed.
    pub(crate) doubtful_lines: usize,
    /// Where the clock went back between two entries: no time is counted there.
    pub(crate) clock_back: Vec<ClockBackForm>,
    /// What was done when, in order; pauses are not among them.
    pub(crate) stretches: Vec<StretchForm>,
    /// When work rested; it is not billed.
    pub(crate) pauses: Vec<PauseForm>,
    /// Hours by what they were spent on, without pauses.
    pub(crate) spent: SpentForm,
    /// Days with work.
    pub(crate) days: u32,
    /// Times that the mill was moved to another place of the yard, by the tally.
    pub(crate) moves: u32,
    /// How sawing is paid; null where the mill states no price.
    pub(crate) way: Option<WayForm>,
    /// It was agreed so; else it is the first way for which the mill states a price.
    pub(crate) way_agreed: bool,
    /// By whose charges: those that were kept with the promise, or those of the mill file as it is now.
    pub(crate) charges: WhoseChargesForm,
    /// The fields of the mill file's charges that are not as they were promised.
    pub(crate) charges_differ: Vec<&'static str>,
    /// What is to be paid; null where there is no price, or where `bill_faults` says why none can be told.
    pub(crate) bill: Option<BillForm>,
    /// Why no price can be told; a log is a place in the logs of this bill that gave lumber.
    pub(crate) bill_faults: Vec<BillFaultForm>,
    /// Blades that came off.
    pub(crate) blades: Vec<BladeForm>,
    /// The customer's list, what was promised of it and what came.
    pub(crate) wants: Vec<CameForm>,
    /// What was promised and what came in all; null where no promise was kept.
    pub(crate) promise: Option<AgainstForm>,
    /// Notes of the day.
    pub(crate) notes: Vec<RemarkForm>,
    /// Which measure the sizes are in.
    pub(crate) measure: MeasureForm,
    /// The lumber by size and wood.
    pub(crate) lumber: Vec<CarriedForm>,
    /// Board feet of all of it, by named sizes.
    pub(crate) board_feet: i64,
    /// What all of it weighs, green.
    pub(crate) weight: i64,
    /// What the hauler carries at once; null where nobody said.
    pub(crate) payload: Option<i64>,
    /// What each load weighs; empty where nobody said what the hauler carries.
    pub(crate) loads: Vec<i64>,
    /// The logs of the job in its order, then those that only the tally names.
    pub(crate) logs: Vec<TallyLogForm>,
}

/// Whose charges count.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum WhoseChargesForm {
    /// Those that were kept with the promise.
    Promised,
    /// Those of the mill file as it is now.
    Now,
}

/// The units of every number in the file. All are whole, but those of money, which are decimal text.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct BilledUnitsForm {
    /// Times: `ms`, whole milliseconds.
    pub(crate) time: &'static str,
    /// Lengths: `nm`, nanometres.
    pub(crate) length: &'static str,
    /// Weights: `mg`, milligrams.
    pub(crate) weight: &'static str,
    /// Board feet: `millionth of a board foot`.
    pub(crate) board_feet: &'static str,
}

/// How sawing is paid.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum WayForm {
    /// By the hour.
    Hour,
    /// By the board foot.
    BoardFoot,
    /// By the board.
    Board,
    /// In lumber.
    Share,
}

/// Which measure sizes are in.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum MeasureForm {
    /// Full: as thick and as wide as they are named, green.
    Full,
    /// Nominal: they dry and dress to smaller sizes.
    Nominal,
    /// Finished: what is left once they are dry and planed.
    Finished,
}

/// One line of the customer's list.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct CameForm {
    /// Its size.
    pub(crate) size: String,
    /// It was added on the day.
    pub(crate) added: bool,
    /// How many the job asked for; null for as many as come.
    pub(crate) asked: Option<u32>,
    /// How many are wanted now; null for as many as come.
    pub(crate) count: Option<u32>,
    /// How many were planned; null where no promise was kept of it.
    pub(crate) planned: Option<u32>,
    /// How many were promised with nine chances in ten; null where nothing was simulated.
    pub(crate) promised: Option<u32>,
    /// How many came.
    pub(crate) came: u32,
}

/// What was promised and what came.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct AgainstForm {
    /// When it was promised.
    pub(crate) at: String,
    /// Hours on site that were planned.
    pub(crate) planned_time: i64,
    /// Their range; null where nothing was simulated.
    pub(crate) time: Option<RangeForm<i64>>,
    /// Hours on site that it took, without stops and without moving logs.
    pub(crate) came_time: i64,
    /// Board feet that were planned.
    pub(crate) planned_board_feet: i64,
    /// Their range; null where nothing was simulated.
    pub(crate) board_feet: Option<RangeForm<i64>>,
    /// The price that was planned, paid as this bill is; null where there was none.
    pub(crate) planned_price: Option<MoneyForm>,
    /// Logs that were planned to be sawn and were not.
    pub(crate) not_sawn: Vec<String>,
}

/// Pieces of one size from one wood.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct CarriedForm {
    /// Their size with its length.
    pub(crate) size: String,
    /// As named.
    pub(crate) thickness: i64,
    /// As named; of a random width what was told.
    pub(crate) width: i64,
    /// As named, without trim.
    pub(crate) length: i64,
    /// Their species as the tables name it; null where it is not known.
    pub(crate) species: Option<&'static str>,
    /// How many.
    pub(crate) count: u32,
    /// So many of them are for no line of the list.
    pub(crate) unwanted: u32,
    /// Board feet of all of them, by named sizes.
    pub(crate) board_feet: i64,
    /// What each weighs, green.
    pub(crate) each: i64,
}
