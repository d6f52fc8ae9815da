//! The form of the plan of one log.

use super::day::{AssumptionsForm, LogForm, MillForm, TallyForm, UnitsForm, WantForm};
use super::grown::{FrameForm, RestsForm};
use super::obstacle::ObstacleForm;
use super::sawing::{EdgingForm, MethodForm, PartForm, PieceForm, StageForm};
use schemars::JsonSchema;
use serde::Serialize;

/// The plan of one log: how it lies, every pass with its blade height, what each pass frees, and the box
/// that each finished piece is cut from. With it alone every cut can be rebuilt and every piece checked.
///
/// Log frame: z runs along the straight line through the pith at both ends, from 0 at the small end to the log's length at
/// the butt. Looking at the small end, x points right and y up, 12 o'clock is +y, 3 o'clock +x; both are 0 on that line.
/// Angles are clockwise as seen there. What the wood is at z, `log` says.
///
/// All planes of the log run along the axis of `frame`, which begins on the pith at the small end, and are square to its h
/// or its u. On a log that is round and straight that axis is the log's own.
///
/// Bed frame of a rest: height is 0 on the bed. The log is turned until `turn` is up, which is a whole number of quarters
/// from the frame's own turn: 0 quarters h is up, one quarter u, two -h, three -u. It is tilted until the frame's axis
/// lies level, and set down until what is lowest of its bark touches the bed. So a point p is at height
/// g + up . p, with g the pith's height of the stage at the small end. `lift` is what that takes: how far the lowest point
/// of the small end's section (with bark) then stands above that of the butt's. A pass at height H turns the wood between
/// H and H + kerf to sawdust: what lies above H + kerf is freed, what lies below H stays on the bed.
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
    /// How the log is sawn.
    pub(crate) method: MethodForm,
    /// The directions of all its planes.
    pub(crate) frame: FrameForm,
    /// The ways of laying it that were searched before this one was chosen.
    pub(crate) rests: RestsForm,
    /// The log's stages, in order; the last pass of the first opens face A, of the second face B, and so
    /// on.
    pub(crate) stages: Vec<StageForm>,
    /// Every part of the log: what each pass frees, in order, and what lies on the bed at the end.
    pub(crate) parts: Vec<PartForm>,
    /// The edging of flitches and planks, one entry for each; those of one batch stand together and are
    /// cut by the same passes.
    pub(crate) edgings: Vec<EdgingForm>,
    /// The finished pieces.
    pub(crate) pieces: Vec<PieceForm>,
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
}

/// What the plan is worth and how good it is proven to be.
#[derive(Debug, Serialize, JsonSchema)]
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
#[derive(Debug, Serialize, JsonSchema)]
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
