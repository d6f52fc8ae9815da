//! The form of what was simulated.

use super::money::MoneyForm;
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;

/// What the customer pays in money, in every way; null where the mill does not state it.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct PricesForm {
    /// By the hour.
    pub(crate) by_hour: Option<RangeForm<MoneyForm>>,
    /// By the board foot.
    pub(crate) by_board_foot: Option<RangeForm<MoneyForm>>,
    /// By the board.
    pub(crate) by_board: Option<RangeForm<MoneyForm>>,
    /// Beside what is paid in lumber.
    pub(crate) by_share: Option<RangeForm<MoneyForm>>,
}

/// A figure: as planned, and as it came out in simulated piles.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct RangeForm<T> {
    /// By the plan itself.
    pub(crate) planned: T,
    /// One in ten came out below.
    pub(crate) low: T,
    /// As many came out below as above.
    pub(crate) likely: T,
    /// One in ten came out above.
    pub(crate) high: T,
}

/// The day as it may come out.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct ForecastForm {
    /// From setting up to packing up, without breaks.
    pub(crate) on_site: RangeForm<i64>,
    /// What the customer pays, by the first way that the mill states; null where it states none.
    pub(crate) price: Option<RangeForm<MoneyForm>>,
    /// The same in every way.
    pub(crate) prices: PricesForm,
    /// Board feet that the sawyer is paid in lumber; null where the mill states no share of it.
    pub(crate) in_lumber: Option<RangeForm<i64>>,
    /// Board feet of all pieces by named sizes.
    pub(crate) board_feet: RangeForm<i64>,
    /// Sharp blades that are taken, whole ones.
    pub(crate) blades: RangeForm<u32>,
    /// What makes the ranges wide, every source of doubt once.
    pub(crate) shares: Vec<SharesForm>,
    /// Piles that were simulated.
    pub(crate) piles: u32,
    /// The seed; the same gives the same piles.
    pub(crate) seed: u64,
    /// It was stopped before all piles that were asked for were simulated.
    pub(crate) stopped: bool,
    /// How far what was said of the logs and the pace may be off.
    pub(crate) doubt: DoubtForm,
    /// How many of the planned pieces come out in simulated piles, as the mill says; null where all do. The plan itself loses
    /// none.
    pub(crate) recovery: Option<RecoveryForm>,
}

/// How many of the planned pieces come out.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct RecoveryForm {
    /// Share of the pieces of softwood.
    pub(crate) softwood: i64,
    /// Share of the pieces of hardwood, and of wood that nobody named.
    pub(crate) hardwood: i64,
    /// How far these shares may be off, one standard deviation.
    pub(crate) unsure: i64,
    /// How far pieces of one log are lost together: the correlation of any two of them.
    pub(crate) together: i64,
}

/// How much of the variance of each figure follows a source of doubt in proportion. What all sources together leave is the
/// steps of the counts, and sources that work together.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct SharesForm {
    /// The source.
    pub(crate) source: SourceForm,
    /// Share of the variance of the board feet.
    pub(crate) board_feet: i64,
    /// Share of the variance of the time on site.
    pub(crate) on_site: i64,
    /// Share of the variance of what all pieces are worth.
    pub(crate) worth: i64,
}

/// Something that is in doubt.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum SourceForm {
    /// Diameters, every log by itself.
    Diameter,
    /// Diameters, all logs alike.
    Shared,
    /// Tapers.
    Taper,
    /// Lengths.
    Length,
    /// Hidden rot.
    Rot,
    /// Hidden metal.
    Metal,
    /// The pace of the day.
    Day,
    /// The pace of single logs.
    Pace,
}

/// How far what was said may be off. What is not among `stated` is common practice without a source.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct DoubtForm {
    /// How the logs were measured that nothing else is said of: `tape`, `eye` or `told`.
    pub(crate) measured: &'static str,
    /// Logs that were measured otherwise, by what they are called, and how.
    pub(crate) otherwise: BTreeMap<String, &'static str>,
    /// Either diameter, the same at both ends, of every log by itself; one standard deviation.
    pub(crate) diameter: i64,
    /// The same for all logs together.
    pub(crate) diameter_shared: i64,
    /// The difference of the two ends; one standard deviation.
    pub(crate) taper: i64,
    /// The length; one standard deviation.
    pub(crate) length: i64,
    /// Share of the logs that have hidden rot.
    pub(crate) rot: i64,
    /// How far from the pith it goes at the butt, a share of the wood's radius there.
    pub(crate) rot_radius: i64,
    /// How far up from the butt it goes.
    pub(crate) rot_length: i64,
    /// Share of the logs that have hidden metal.
    pub(crate) metal: i64,
    /// The stretch of a log that is lost with it.
    pub(crate) metal_stretch: i64,
    /// What changing the blade and getting the metal out takes.
    pub(crate) metal_time: i64,
    /// How much faster or slower than the stated pace a whole day goes: one standard deviation of the logarithm, as a share.
    pub(crate) pace_day: i64,
    /// The same of a single log, beside what its day has.
    pub(crate) pace_log: i64,
    /// The fields of `[doubt]` that the job states.
    pub(crate) stated: Vec<&'static str>,
    /// The fields of `[doubt]` that the mill learned from its own jobs, where the job does not state them.
    pub(crate) learned: Vec<&'static str>,
}
