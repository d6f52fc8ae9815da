//! The form of the hours.

use schemars::JsonSchema;
use serde::Serialize;

/// How long the job takes, as planned. `on_site` is the sum of `at_logs`, `changes`, `set_up`, `moves`, `nights`, `tidy` and
/// `pack_up`; `at_logs` is that of all `steps`, `stacking` and `waits`.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct HoursForm {
    /// From setting up to packing up, without breaks.
    pub(crate) on_site: i64,
    /// Breaks, on top of it.
    pub(crate) rests: i64,
    /// All work at the logs and changes of blades.
    pub(crate) at_the_saw: i64,
    /// All work at the logs.
    pub(crate) at_logs: i64,
    /// The steps of all logs together.
    pub(crate) steps: StepsForm,
    /// Boards stacked by the sawyer while the mill stands.
    pub(crate) stacking: i64,
    /// What comes between: fuel, water, sawdust, talk, and waiting for helpers.
    pub(crate) waits: i64,
    /// Changes of blades.
    pub(crate) changes: i64,
    /// Setting up, with all its blocking, once.
    pub(crate) set_up: i64,
    /// Moving the mill to another place of the yard.
    pub(crate) moves: i64,
    /// Covering up, uncovering and greasing, over all nights.
    pub(crate) nights: i64,
    /// Tarps laid out and emptied, over all days.
    pub(crate) tidy: i64,
    /// Packing up.
    pub(crate) pack_up: i64,
    /// How many worn blades are changed.
    pub(crate) worn_blades: u32,
    /// Area that the blade saws.
    pub(crate) sawn_area: i64,
    /// The days.
    pub(crate) days: Vec<DayForm>,
}

/// The steps of sawing.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct StepsForm {
    /// Loading and levelling.
    pub(crate) load: i64,
    /// Turning.
    pub(crate) turns: i64,
    /// The blade in the wood, edging included.
    pub(crate) sawing: i64,
    /// The way back.
    pub(crate) back: i64,
    /// Setting heights.
    pub(crate) set: i64,
    /// Taking away what was sawn.
    pub(crate) take: i64,
    /// Batches handled for edging.
    pub(crate) edging: i64,
    /// Parts taken off and put on again.
    pub(crate) shifts: i64,
}

/// One day.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct DayForm {
    /// The time of the day at which it begins; null where nobody said.
    pub(crate) begins: Option<i64>,
    /// From its beginning to its end, breaks included.
    pub(crate) takes: i64,
    /// Setting up, or uncovering and greasing.
    pub(crate) open: i64,
    /// Work at the logs.
    pub(crate) at_logs: i64,
    /// Changes of blades.
    pub(crate) changes: i64,
    /// Moves to another place of the yard.
    pub(crate) moves: i64,
    /// Covering up or packing up, and emptying a tarp.
    pub(crate) close: i64,
    /// Breaks.
    pub(crate) rests: i64,
    /// It is longer than a day may be, because of one log.
    pub(crate) overruns: bool,
    /// Its logs, places in `logs` in the order of sawing.
    pub(crate) logs: Vec<usize>,
}

/// What one log takes, and when.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct LogHoursForm {
    /// Its day, a place in `days`.
    pub(crate) day: usize,
    /// When it is begun, from the day's beginning on.
    pub(crate) begins: i64,
    /// What it takes, without changes of blades.
    pub(crate) takes: i64,
    /// Its steps.
    pub(crate) steps: StepsForm,
    /// Its boards stacked by the sawyer while the mill stands.
    pub(crate) stacking: i64,
    /// What comes between: fuel, water, sawdust, talk, and waiting for helpers.
    pub(crate) waits: i64,
    /// Of that, how long the saw waits for helpers who stack.
    pub(crate) waits_for_helpers: i64,
    /// Blades that are changed before or within it.
    pub(crate) blade_changes: u32,
    /// How much of a sharp blade it dulls.
    pub(crate) wear: i64,
    /// Area that the blade saws.
    pub(crate) sawn_area: i64,
}
