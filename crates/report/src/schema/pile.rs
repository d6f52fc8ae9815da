//! The form of the plan of a pile.

use super::asked::AskedForm;
use super::day::{AssumptionsForm, CutForm, LogForm, MillForm, TallyForm, UnitsForm};
use super::grown::HeartForm;
use super::obstacle::ObstacleForm;
use super::sawing::{MethodForm, SawnForm};
use super::stems::BuckingForm;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The plan of a pile of logs: what becomes of every log, in which order they are sawn, every pass with its blade height,
/// what each pass frees, and the box that each finished piece is cut from; for the pile what was wanted, what comes, what
/// stays short, and how good the plan is proven to be. With it alone every cut can be rebuilt and every piece checked.
///
#[doc = include_str!("frames.md")]
///
/// Places in lists (`wood`, `want`, `cut`, `logs` of a lot, numbers of `pieces`) count from 0; numbers in the order of
/// sawing, of passes and of edging batches from 1.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(title = "plan of a pile")]
pub(crate) struct PileForm<L> {
    /// Version of this form.
    pub(crate) schema_version: u32,
    /// The units of every number in the file.
    pub(crate) units: UnitsForm,
    /// What the job is called.
    pub(crate) job: JobForm,
    /// The mill whose limits every pass keeps.
    pub(crate) mill: MillForm,
    /// What was assumed about sizes, trim and tolerance.
    pub(crate) assumptions: AssumptionsForm,
    /// What worth is counted in, and what work weighs against it.
    pub(crate) worth: WorthForm,
    /// The customer's list, the most important first.
    pub(crate) wants: Vec<PileWantForm>,
    /// The woods of the pile, and what is sawn for each want from each of them.
    pub(crate) woods: Vec<WoodForm>,
    /// For every want, in order: what was asked for and what comes from the pile.
    pub(crate) tally: Vec<TallyForm>,
    /// The wants that stay short, in the order of the list.
    pub(crate) shortages: Vec<ShortageForm>,
    /// The order of sawing. Every log that is sawn is in exactly one lot.
    pub(crate) order: Vec<LotForm>,
    /// What the plan is worth, how much of the logs it uses, and how good it is proven to be.
    pub(crate) result: PileResultForm,
    /// How stems are cut into logs before anything is sawn; null where the job has none.
    pub(crate) bucking: Option<BuckingForm>,
    /// What the plan was asked with; null of one that cannot be read back.
    pub(crate) asked: Option<AskedForm>,
    /// Every log, in the order of the job; those cut from stems behind the others.
    pub(crate) logs: L,
}

/// What a job is called.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct JobForm {
    /// The file that it was read from.
    pub(crate) file: String,
    /// Where, as free text; may be empty.
    pub(crate) site: String,
    /// When, as free text; may be empty.
    pub(crate) date: String,
    /// What else was noted; may be empty.
    pub(crate) notes: String,
}

/// What worth is counted in, and what work weighs against it.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct WorthForm {
    /// The unit in words.
    pub(crate) unit: String,
    /// Worth of a board foot by named size of a want that states no worth of its own.
    pub(crate) board_foot: i64,
    /// What an hour of sawing weighs; 0 where work only breaks ties.
    pub(crate) hour: i64,
    /// Seconds that a pass is reckoned to take.
    pub(crate) pass_seconds: u32,
    /// Seconds that a turn is reckoned to take.
    pub(crate) turn_seconds: u32,
    /// What a pass weighs.
    pub(crate) pass: i64,
    /// What a turn weighs.
    pub(crate) turn: i64,
}

/// A line of the customer's list, as it holds for every wood.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct PileWantForm {
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
    /// How many; null for as many as come.
    pub(crate) count: Option<u32>,
    /// More than the count is welcome.
    pub(crate) more_welcome: bool,
    /// The species that are accepted, as the tables name them; all where the list is empty.
    pub(crate) species: Vec<&'static str>,
    /// Blocking and stickers, sawn before the rest.
    pub(crate) blocking: bool,
    /// How much of the `worth` of a cut is there only so that the list is filled before anything else; no part of what
    /// the lumber is worth.
    pub(crate) list_first: i64,
}

/// A wood of the pile, and what is sawn from it.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct WoodForm {
    /// The species as the tables name it; null when none was named.
    pub(crate) species: Option<&'static str>,
    /// For every want, in order.
    pub(crate) wants: Vec<WoodWantForm>,
}

/// What is sawn from one wood for one want.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct WoodWantForm {
    /// Largest leg of wood that may be missing along the thickness at a corner.
    pub(crate) wane_along_thickness: i64,
    /// The same along the width.
    pub(crate) wane_along_width: i64,
    /// Where the pith may be in a piece.
    pub(crate) heart: HeartForm,
    /// Kinds of flaw that a piece may hold.
    pub(crate) tolerates: Vec<&'static str>,
    /// Every size that serves it: one for each length, and for each width where the width is random; none where the want
    /// does not accept the wood.
    pub(crate) cuts: Vec<CutForm>,
}

/// A want of which the pile gives fewer than were asked for.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct ShortageForm {
    /// The want, as a place in `wants`.
    pub(crate) want: usize,
    /// How many are missing.
    pub(crate) missing: u32,
    /// Why.
    pub(crate) why: WhyShortForm,
    /// Logs that would be enough, were nothing else sawn from them; null where there is no such log.
    pub(crate) cure: Option<CureForm>,
    /// The same in sentences.
    pub(crate) says: String,
}

/// Why a want stays short.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum WhyShortForm {
    /// No log of a wood that it accepts goes on the mill.
    NoLog,
    /// No log is long enough.
    TooShort {
        /// What the shortest accepted length takes, with its trim.
        takes: i64,
        /// The longest log that it accepts.
        longest: i64,
    },
    /// The section is in no log that is long enough.
    TooThin {
        /// Least diameter inside the bark, over the shortest accepted length, for one piece.
        diameter: i64,
        /// The most that a log has there.
        thickest: i64,
    },
    /// The logs together hold no more than this, even if nothing else were sawn from them.
    TooFew {
        /// The most pieces of the want, over all logs.
        most: u32,
    },
    /// The search was stopped before it was known.
    NotSought,
    /// The logs could give it, but wants before it in the list, or worth more, use them up.
    UsedUp {
        /// Wants that get pieces from logs that could have given this one.
        by: Vec<usize>,
    },
}

/// Logs that would be enough to fill a shortage.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct CureForm {
    /// How many.
    pub(crate) logs: u32,
    /// Pieces of the want in each.
    pub(crate) each: u32,
    /// Diameter inside the bark at the small end.
    pub(crate) small_end: i64,
    /// Whole length.
    pub(crate) length: i64,
    /// The wood, as a place in `woods`.
    pub(crate) wood: usize,
}

/// Logs that are sawn one after the other.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct LotForm {
    /// Why they stand together, and where they stand.
    pub(crate) reason: LotReasonForm,
    /// Places in `logs`, in the order of sawing.
    pub(crate) logs: Vec<usize>,
}

/// Why logs are sawn together.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum LotReasonForm {
    /// They give the blocking that all else is stacked on; the poorest first.
    Blocking,
    /// No other logs of the pile, but for those sawn before, can give this want.
    Only {
        /// The want, as a place in `wants`.
        want: usize,
    },
    /// The same way of sawing, and the same cant where there is one.
    Alike {
        /// How they are sawn.
        method: MethodForm,
        /// The cant's height between its two faces; null where there is none.
        cant: Option<i64>,
    },
}

/// What is proven of plans that fill the list as far as the plan does, as if no more had been asked for.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct AsFarForm {
    /// The plan's own value.
    pub(crate) value: i64,
    /// No such plan of the methods searched has a greater value.
    pub(crate) bound: i64,
}

/// What the plan is worth and how good it is proven to be.
///
/// `value` and `bound` count everything that the program weighs: the worth of the pieces, what puts the list first, less
/// the work of sawing.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct PileResultForm {
    /// Worth of the pieces, without what only puts the list first.
    pub(crate) worth: i64,
    /// The plan's own value.
    pub(crate) value: i64,
    /// No plan of the methods searched has a greater value; null when the search was stopped before that was known.
    pub(crate) bound: Option<i64>,
    /// How much of `value` is there only because the list comes first; the rest is worth less work.
    pub(crate) list_first: i64,
    /// The bound less the value.
    pub(crate) value_gap: Option<i64>,
    /// The same for plans that give as many pieces of every want that is short, and no more; null where the list is
    /// filled, or when the search was stopped before that was known.
    pub(crate) as_far: Option<AsFarForm>,
    /// By how much any plan that fills the list as far, and no further, can be worth more, as a share of this one's worth less its work,
    /// rounded up; null without a bound, or when the plan is worth nothing.
    pub(crate) gap: Option<i64>,
    /// It is proven that no plan of the methods searched gives more pieces of any want that is short.
    pub(crate) list_is_proven: bool,
    /// The search was told to stop: this is the best plan so far.
    pub(crate) stopped: bool,
    /// Board feet of the pieces by named sizes.
    pub(crate) board_feet: i64,
    /// Volume of the pieces as sawn, trim included, over the volume of the wood of the logs that are sawn.
    pub(crate) share_of_wood: i64,
    /// Passes over all logs, edging included; a batch is passed once.
    pub(crate) passes: usize,
    /// Turns over all logs.
    pub(crate) turns: usize,
    /// The methods searched: the bounds speak for these alone, and for the frames that were searched of logs that are not round and straight.
    pub(crate) methods_searched: Vec<MethodForm>,
    /// Classes of logs that are alike.
    pub(crate) classes: usize,
    /// Patterns in the program at the end.
    pub(crate) patterns: usize,
    /// Linear programs solved, a count of work.
    pub(crate) programs: u32,
    /// Searches of one log for its best pattern, a count of work.
    pub(crate) searches: u64,
    /// States searched, a count of work.
    pub(crate) states: u64,
    /// Patterns that the mill's limits or the replay refused, and that others took the place of.
    pub(crate) refused: u32,
}

/// One log, and what becomes of it.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct PileLogForm {
    /// What it is called, as written on its end.
    pub(crate) id: String,
    /// Its measures.
    pub(crate) log: LogForm,
    /// An end was measured across twice; `log` has the mean.
    pub(crate) two_diameters: bool,
    /// What else is known of it; may be empty.
    pub(crate) notes: String,
    /// Its wood, as a place in `woods`.
    pub(crate) wood: usize,
    /// What becomes of it.
    pub(crate) fate: LogFateForm,
    /// Its number in the order of sawing, from 1; null when it is not sawn.
    pub(crate) number: Option<usize>,
    /// How it is sawn; null when it is not.
    pub(crate) plan: Option<LogPlanForm>,
    /// Why it cannot be sawn; empty for any other log.
    pub(crate) obstacles: Vec<ObstacleForm>,
}

/// What becomes of a log.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum LogFateForm {
    /// It is sawn.
    Sawn,
    /// It can be sawn, but nothing from it is worth the sawing.
    LeftWhole,
    /// Not a single piece can come from it.
    Impossible,
    /// The search was stopped before it had a plan.
    Unplanned,
}

/// The sawing of one log of the pile.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct LogPlanForm {
    /// The passes, and what they free.
    #[serde(flatten)]
    pub(crate) sawn: SawnForm,
    /// For every want, in order: what the log gives.
    pub(crate) gives: Vec<GivesForm>,
    /// Board feet of the pieces by named sizes.
    pub(crate) board_feet: i64,
    /// Volume of the pieces as sawn, trim included, over the volume of the wood inside the bark.
    pub(crate) share_of_wood: i64,
    /// Passes, edging included; a batch is passed once.
    pub(crate) passes: usize,
    /// Turns of the log.
    pub(crate) turns: usize,
}

/// What a log gives of one want.
#[derive(Clone, Copy, Debug, Default, Serialize, JsonSchema)]
pub(crate) struct GivesForm {
    /// Within the want's count.
    pub(crate) given: u32,
    /// Beyond it.
    pub(crate) extra: u32,
}
