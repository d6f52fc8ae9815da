//! The form of a quote: what comes out, how sure it is, how long it takes, what it costs, weighs and leaves.

pub(crate) mod goods;
pub(crate) mod hours;
pub(crate) mod money;
pub(crate) mod range;
pub(crate) mod yard;

use super::day::{AssumptionsForm, MillForm};
use super::obstacle::ObstacleForm;
use super::pile::{GivesForm, JobForm, LogFateForm, LotForm, WhyShortForm};
use goods::{GoodsForm, LogWeightForm, SuppliesForm};
use hours::{HoursForm, LogHoursForm};
use money::{ChargesForm, PriceForm};
use range::{ForecastForm, RangeForm};
use schemars::JsonSchema;
use serde::Serialize;
use yard::{FigureForm, YardForm};

/// All that follows from the plan of a pile: what comes out and what may be promised, hours, price, weights, what must be
/// brought and what stays. It says nothing of how a log is opened; that is in the plan of the pile.
///
/// Places in lists (`want`, `wants`, `log`, `logs`, `line`) count from 0, numbers in the order of sawing from 1. Figures
/// under `low`, `likely` and `high` are of simulated piles: one in ten came out below `low`, one in ten above `high`, and as
/// many below `likely` as above; `planned` is the plan's own. Where nothing was simulated they are null.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(title = "quote of a pile")]
pub(crate) struct QuoteForm {
    /// Version of this form.
    pub(crate) schema_version: u32,
    /// The units of every number in the file.
    pub(crate) units: QuoteUnitsForm,
    /// What the job is called.
    pub(crate) job: JobForm,
    /// The mill.
    pub(crate) mill: MillForm,
    /// What was assumed about sizes, trim and tolerance.
    pub(crate) assumptions: AssumptionsForm,
    /// The yard, as it was told.
    pub(crate) yard: YardForm,
    /// The search was stopped before it was done: all this is of the best plan that was found by then.
    pub(crate) stopped: bool,
    /// Board feet of all pieces by named sizes.
    pub(crate) board_feet: i64,
    /// The customer's list, the most important first, and what comes of it.
    pub(crate) wants: Vec<QuoteWantForm>,
    /// The wants that stay short in the plan, in the order of the list.
    pub(crate) shortages: Vec<QuoteShortageForm>,
    /// The day as it may come out, and what was simulated; null where nothing was.
    pub(crate) forecast: Option<ForecastForm>,
    /// How long it takes, as planned.
    pub(crate) hours: HoursForm,
    /// What it costs, as planned.
    pub(crate) price: PriceForm,
    /// What the mill charges.
    pub(crate) charges: ChargesForm,
    /// What must be brought, and what it uses up.
    pub(crate) supplies: SuppliesForm,
    /// What the lumber weighs, how it is stacked and loaded, and what stays.
    pub(crate) goods: GoodsForm,
    /// The order of sawing. Every log that is sawn is in exactly one lot.
    pub(crate) order: Vec<LotForm>,
    /// Every log, in the order of the job; those cut from stems behind the others.
    pub(crate) logs: Vec<QuoteLogForm>,
    /// Where every figure comes from that is taken for granted unless somebody states it.
    pub(crate) basis: BasisForm,
}

/// The units of every number in the file. All are whole, but those of money, which are decimal text.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct QuoteUnitsForm {
    /// Lengths and diameters: `nm`, whole nanometres; 1 in is 25 400 000.
    pub(crate) length: &'static str,
    /// Areas: `mm2`, whole square millimetres.
    pub(crate) area: &'static str,
    /// Volumes, solid, loose and liquid: `mm3`, whole cubic millimetres; a litre is 1 000 000, a cord of 128 cubic feet
    /// 3 624 556 363 776.
    pub(crate) volume: &'static str,
    /// Weights: `mg`, whole milligrams; 1 lb is 453 592.37.
    pub(crate) weight: &'static str,
    /// Densities: `g/m3`, whole grams in a cubic metre.
    pub(crate) density: &'static str,
    /// Times, and times of the day from midnight on: `ms`, whole milliseconds.
    pub(crate) time: &'static str,
    /// Board feet: `millionth of a board foot`.
    pub(crate) board_feet: &'static str,
    /// Shares: `millionth` of the whole.
    pub(crate) share: &'static str,
    /// Blades, where they are parts of one: `millionth` of a blade.
    pub(crate) blade: &'static str,
    /// Money: `decimal text`, beside the three letters of its currency.
    pub(crate) money: &'static str,
}

/// A line of the customer's list, and what comes of it.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct QuoteWantForm {
    /// The size as it was named, for instance `2x6x12`.
    pub(crate) size: String,
    /// Named thickness.
    pub(crate) thickness: i64,
    /// Named width; the least one when the width is random.
    pub(crate) width: i64,
    /// Any greater width serves too.
    pub(crate) random_width: bool,
    /// Lengths that are accepted, without trim.
    pub(crate) lengths: Vec<i64>,
    /// The species that are accepted, as the tables name them; all where the list is empty.
    pub(crate) species: Vec<&'static str>,
    /// More than the count is welcome.
    pub(crate) more_welcome: bool,
    /// Blocking and stickers, sawn before the rest.
    pub(crate) blocking: bool,
    /// How many were asked for; null for as many as come.
    pub(crate) asked: Option<u32>,
    /// Planned within the count.
    pub(crate) given: u32,
    /// Planned beyond the count.
    pub(crate) extra: u32,
    /// Still missing by the plan.
    pub(crate) short: u32,
    /// What may come and what may be promised; null where nothing was simulated.
    pub(crate) promised: Option<PromisedForm>,
}

/// What may come of a want, and what may be promised of it.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct PromisedForm {
    /// Pieces, within the count and beyond it.
    pub(crate) pieces: RangeForm<u32>,
    /// So many can be promised: in nine of ten simulated piles there were as many or more. No more than were asked for.
    pub(crate) safe: u32,
    /// How often all that were asked for came, a share of the simulated piles; the whole where no count was asked for.
    pub(crate) filled: i64,
}

/// A want of which the pile gives fewer than were asked for.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct QuoteShortageForm {
    /// The want, as a place in `wants`.
    pub(crate) want: usize,
    /// How many are missing.
    pub(crate) missing: u32,
    /// Why.
    pub(crate) why: WhyShortForm,
    /// The same in sentences.
    pub(crate) says: String,
}

/// One log: what it is, what becomes of it and what it takes.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct QuoteLogForm {
    /// What it is called.
    pub(crate) id: String,
    /// The species as the tables name it; null when none was named.
    pub(crate) species: Option<&'static str>,
    /// Diameter of the wood at the small end, inside the bark; the mean one where it is not round.
    pub(crate) small_end: i64,
    /// Diameter of the wood at the butt, inside the bark and above any flare; the mean one where it is not round.
    pub(crate) butt: i64,
    /// From end to end.
    pub(crate) length: i64,
    /// How it was measured: `tape`, `eye` or `told`.
    pub(crate) measured: &'static str,
    /// Metal in it was told of: an old blade for it.
    pub(crate) metal: bool,
    /// What was noted of it; may be empty.
    pub(crate) notes: String,
    /// What becomes of it.
    pub(crate) fate: LogFateForm,
    /// What rules it out; none of a log that is sawn, left whole or has no plan yet.
    pub(crate) obstacles: Vec<ObstacleForm>,
    /// What it weighs, and whether the loader lifts it.
    pub(crate) weight: LogWeightForm,
    /// What sawing it gives and takes; null of a log that is not sawn.
    pub(crate) sawn: Option<QuoteSawnForm>,
}

/// What sawing a log gives and takes.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct QuoteSawnForm {
    /// Its number in the order of sawing.
    pub(crate) number: usize,
    /// For every want, in order: what the log gives.
    pub(crate) gives: Vec<GivesForm>,
    /// Board feet of its pieces by named sizes.
    pub(crate) board_feet: i64,
    /// Parts of it that are set aside and put back on the mill.
    pub(crate) put_back: usize,
    /// What it takes, and when.
    pub(crate) hours: LogHoursForm,
}

/// Where every figure comes from that is taken for granted unless somebody states it. In the order of the fields of the
/// files.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct BasisForm {
    /// `[pace]` of the mill file; `helpers` may be told of the yard.
    pub(crate) pace: Vec<FigureForm>,
    /// `[stores]` of the mill file.
    pub(crate) stores: Vec<FigureForm>,
    /// `[lumber]` of the job file.
    pub(crate) lumber: Vec<FigureForm>,
}
