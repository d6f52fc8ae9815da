//! The form of the plan of one log.

use super::asked::AskedForm;
use super::day::{AssumptionsForm, LogForm, MillForm, TallyForm, UnitsForm, WantForm};
use super::obstacle::ObstacleForm;
use super::sawing::{MethodForm, SawnForm};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The plan of one log: how it lies, every pass with its blade height, what each pass frees, and the box
/// that each finished piece is cut from. With it alone every cut can be rebuilt and every piece checked.
///
#[doc = include_str!("frames.md")]
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(title = "plan")]
pub(crate) struct PlanForm {
    /// Version of this form.
    pub(crate) schema_version: u32,
    /// The units of every number in the file.
    pub(crate) units: UnitsForm,
    /// The log.
    pub(crate) log: LogForm,
    /// The mill whose limits every pass keeps.
    pub(crate) mill: MillForm,
    /// What was assumed about sizes, trim and tolerance.
    pub(crate) assumptions: AssumptionsForm,
    /// The customer's list, in order.
    pub(crate) wants: Vec<WantForm>,
    /// The sawing.
    #[serde(flatten)]
    pub(crate) sawn: SawnForm,
    /// For every want, in order: what was asked for and what comes.
    pub(crate) tally: Vec<TallyForm>,
    /// What the plan is worth, how much of the log it uses, and how good it is proven to be.
    pub(crate) result: ResultForm,
    /// The best plan of each method that was searched.
    pub(crate) methods_compared: Vec<MethodResultForm>,
    /// What the mill's limits or the log did not allow.
    pub(crate) obstacles: Vec<ObstacleForm>,
    /// What a little more of something would have bought.
    pub(crate) near_misses: Vec<NearMissForm>,
    /// What the plan was asked with; null of one that cannot be read back.
    pub(crate) asked: Option<AskedForm>,
}

/// What the plan is worth and how good it is proven to be.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct ResultForm {
    /// Worth of the plan.
    pub(crate) worth: i64,
    /// No plan of the methods searched is worth more.
    pub(crate) worth_bound: i64,
    /// The bound less the worth.
    pub(crate) worth_gap: i64,
    /// Board feet of the pieces by named sizes.
    pub(crate) board_feet: i64,
    /// No plan of the methods searched gives more of the list's sizes, whatever their counts.
    pub(crate) board_feet_bound: i64,
    /// Volume of the pieces as sawn, trim included, over the volume of the wood inside the bark.
    pub(crate) share_of_wood: i64,
    /// Passes, edging included; a batch is passed once.
    pub(crate) passes: usize,
    /// Turns of the log.
    pub(crate) turns: usize,
    /// The methods searched: the bounds speak for these alone, on this log and in this frame.
    pub(crate) methods_searched: Vec<MethodForm>,
    /// Linear programs solved, a count of work.
    pub(crate) programs: u32,
    /// States searched, a count of work.
    pub(crate) states: u64,
}

/// The best plan of one method.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct MethodResultForm {
    /// The method.
    pub(crate) method: MethodForm,
    /// For every want, in order.
    pub(crate) tally: Vec<TallyForm>,
    /// Worth.
    pub(crate) worth: i64,
    /// Board feet by named sizes.
    pub(crate) board_feet: i64,
    /// Passes, edging included.
    pub(crate) passes: usize,
    /// Turns of the log.
    pub(crate) turns: usize,
}

/// What a little more of something would have bought.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct NearMissForm {
    /// The want that would gain, as a place in `wants`.
    pub(crate) want: usize,
    /// Pieces of it now.
    pub(crate) now: u32,
    /// Pieces of it then.
    pub(crate) then: u32,
    /// What would do it.
    pub(crate) little: LittleForm,
    /// The same in a sentence.
    pub(crate) says: String,
}

/// A little more of something.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum LittleForm {
    /// Wane with these legs allowed on the want's pieces.
    Wane {
        /// Leg along the thickness.
        along_thickness: i64,
        /// Leg along the width.
        along_width: i64,
    },
    /// A log thicker by this in diameter, at both ends.
    Diameter(i64),
    /// A log longer by this.
    Length(i64),
}
