//! The form of the sawing of one log: rests, passes, parts, edgings, pieces.

use super::grown::{FrameForm, HeartForm, RestsForm};
use super::looks::LooksForm;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;

/// A way to saw a log.
#[derive(Clone, Copy, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum MethodForm {
    /// All passes parallel, the log never turned.
    Through,
    /// All passes parallel, the log turned half round onto a sawn face once.
    ThroughTurned,
    /// Two opposite faces, a quarter turn, sawn straight down.
    TwoSidedCant,
    /// Two opposite faces, a quarter turn, the third face, half a turn, sawn down to the bed.
    FourSidedCant,
    /// One timber with the pith at its middle, and what surrounds it.
    BoxedHeart,
    /// Two opposite faces, the other two, then the first two again and the other two once more, until a heart is left.
    Around,
    /// Parted, its parts put back on the mill, so that the boards' faces meet the growth rings steeply.
    Quarter,
}

/// The sawing of one log.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct SawnForm {
    /// How the log is sawn.
    pub(crate) method: MethodForm,
    /// The directions of all its planes.
    pub(crate) frame: FrameForm,
    /// The ways of laying it that were searched before this one was chosen.
    pub(crate) rests: RestsForm,
    /// How often passes come near metal, and how soon; null where none does.
    pub(crate) metal: Option<MetalForm>,
    /// The log's stages, in order. Its faces are named A, B, C, D in the order in which stages open them, which the last
    /// pass of a stage does; a face that is sawn again keeps its letter.
    pub(crate) stages: Vec<StageForm>,
    /// The parts that are set aside when they are freed and put back on the mill later, each as a body of its own, in the
    /// order in which they are put back; they may come from one before.
    pub(crate) resaws: Vec<ResawForm>,
    /// Every part of the log: what each pass frees, in order, and what lies on the bed at the end; then the same of every
    /// part that was put back.
    pub(crate) parts: Vec<PartForm>,
    /// The edging of flitches and planks, one entry for each; those of one batch stand together and are
    /// cut by the same passes.
    pub(crate) edgings: Vec<EdgingForm>,
    /// The finished pieces; their wants are places in `wants`, their cuts places in the `cuts` of the want, or of the want
    /// as the log's wood serves it.
    pub(crate) pieces: Vec<PieceForm>,
}

/// How often passes come near metal, and how soon.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct MetalForm {
    /// Passes that come near it, edging included.
    pub(crate) passes: usize,
    /// Summed over those through the log and what is put back of it: passes clear of metal that come after. 0 where they
    /// come last.
    pub(crate) sooner: usize,
    /// What came near it less often or later among the plans that were compared; null where nothing did.
    pub(crate) otherwise: Option<LaterForm>,
}

/// Another way to saw the log, that comes near metal less often or later.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct LaterForm {
    /// How it is sawn.
    pub(crate) method: MethodForm,
    /// Passes that come near metal.
    pub(crate) passes: usize,
    /// As in the plan's own.
    pub(crate) sooner: usize,
    /// What it is worth less.
    pub(crate) worth_less: i64,
    /// Board feet that it gives less; negative where it gives more.
    pub(crate) board_feet_less: i64,
}

/// A part that is put back on the mill.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct ResawForm {
    /// The part.
    pub(crate) part: PartIdForm,
    /// Its stages, in the bed frame as the log's are; passes are counted from 1 within it. Its faces are named from A in
    /// the order in which they were first opened: those that it came with first.
    pub(crate) stages: Vec<StageForm>,
}

/// One rest and the passes made in it, from the top down.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct StageForm {
    /// How the body lies.
    pub(crate) rest: RestForm,
    /// Height of the pith over the bed at the small end, where the frame's axis begins, which is level.
    pub(crate) pith_small_end: i64,
    /// Height of the pith over the bed at the butt.
    pub(crate) pith_butt: i64,
    /// Between which stations it touches the bed: nearly one where a point carries it.
    pub(crate) carried: Option<SpanForm>,
    /// How high its lowest bark hangs over the bed.
    pub(crate) hangs: Option<HangsForm>,
    /// The passes.
    pub(crate) passes: Vec<PassForm>,
}

/// How high the lowest bark of a log hangs over the bed.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct HangsForm {
    /// At the small end: so far it is raised, or held where something else carries the log.
    pub(crate) small_end: i64,
    /// At the butt.
    pub(crate) butt: i64,
    /// Over the toe board; null where the mill has none, or the log does not reach it.
    pub(crate) toe_board: Option<i64>,
}

/// How a body lies on the bed.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct RestForm {
    /// Which direction of the log frame is up: 0 is 12 o'clock, 90 000 is 3 o'clock.
    pub(crate) turn: i32,
    /// How far the lowest point of the small end (of a flitch: of its thinner end, where it begins)
    /// stands above the lowest point of the butt when the frame's axis is level; negative where the butt is raised.
    pub(crate) lift: i64,
    /// What is down on the bed.
    pub(crate) on: SupportForm,
    /// The sawn face that stands against the side stops, which are a quarter turn counterclockwise of
    /// up; null when none does.
    pub(crate) against: Option<char>,
}

/// What a body lies on.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum SupportForm {
    /// Its round, bark side.
    Bark,
    /// This sawn face of the log, or of the part that was put back.
    Face(char),
    /// A sawn edge of the flitch or plank.
    SawnEdge,
}

/// One travel of the blade at one height.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct PassForm {
    /// Its number, from 1 through all stages of the body.
    pub(crate) number: u32,
    /// Exact height over the bed of the underside of the kerf.
    pub(crate) height: i64,
    /// The same rounded to the nearest mark of the mill's scale, a tie up.
    pub(crate) printed: i64,
    /// The printed height as it reads on the mill's scale.
    pub(crate) reads: String,
    /// The part that it frees.
    pub(crate) frees: PartIdForm,
    /// Width of the wood where the blade comes out at the small end, 0 where it meets none; null for an
    /// edging pass.
    pub(crate) opening_small_end: Option<i64>,
    /// The same at the butt.
    pub(crate) opening_butt: Option<i64>,
    /// Its kerf meets metal or what may hold some, or comes within an inch of it.
    pub(crate) near_metal: bool,
}

/// A part of a body.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum PartIdForm {
    /// Freed by the pass of this number.
    FreedByPass(u32),
    /// What lies on the bed after the last pass.
    LeftOnBed,
    /// Freed by a pass of a part that was put back.
    FreedByPassOf {
        /// Its place in `resaws`, from 1.
        resaw: u32,
        /// The number of the pass.
        pass: u32,
    },
    /// What lies on the bed after the last pass of a part that was put back: its place in `resaws`, from 1.
    LeftOnBedOf(u32),
}

/// What becomes of a part of the log.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct PartForm {
    /// The part.
    pub(crate) part: PartIdForm,
    /// What it is.
    pub(crate) fate: FateForm,
    /// The edging batch that it goes to; null when it is not edged.
    pub(crate) edging_batch: Option<u32>,
    /// Its place in `resaws`, from 1, when it is put back on the mill; null when it is not.
    pub(crate) resaw: Option<u32>,
    /// Its pieces, as numbers of `pieces`.
    pub(crate) pieces: Vec<usize>,
}

/// What a part of the log is.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum FateForm {
    /// No wanted piece comes from it.
    Slab,
    /// Its edges are square already; it is only cut to length.
    Square,
    /// It is edged, then its strips are cut to length.
    Edged,
    /// It is set aside, and put back on the mill.
    PutBack,
}

/// The edging of one part, standing on edge. Its stages lie in the bed frame as the log's do.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct EdgingForm {
    /// The part of the log that is edged.
    pub(crate) part: PartIdForm,
    /// Parts of one batch stand together and are cut by the same passes.
    pub(crate) batch: u32,
    /// Its stages; passes are counted from 1 within the edging, and what they free are its strips.
    pub(crate) stages: Vec<EdgingStageForm>,
}

/// One rest of an edging and the passes made in it, from the top down.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct EdgingStageForm {
    /// How the flitch stands.
    pub(crate) rest: RestForm,
    /// Height over the bed of the frame's axis, level.
    pub(crate) axis: Option<i64>,
    /// Height over the bed of the middle of the wood where it begins at its small end.
    pub(crate) middle_small_end: Option<i64>,
    /// The same at its butt.
    pub(crate) middle_butt: Option<i64>,
    /// The passes.
    pub(crate) passes: Vec<PassForm>,
}

/// An interval on one axis.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct SpanForm {
    /// Where it begins.
    pub(crate) from: i64,
    /// Where it ends.
    pub(crate) to: i64,
}

/// A finished piece: the box that it is cut from, and what it is for.
///
/// The piece's frame is the log's `frame`, turned on by whole quarters until its h points to `turn`: a quarter on, its h
/// is the frame's u and its u the frame's -h. It shares the frame's axis; z is the log's own, from the small end. On a
/// log that is round and straight: u = x cos(turn) - y sin(turn), h = x sin(turn) + y cos(turn).
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct PieceForm {
    /// Its number, from 0, as `parts` use it.
    pub(crate) number: usize,
    /// The want that it serves, as a place in `wants`, from 0.
    pub(crate) want: usize,
    /// Which of the want's `cuts` it is, from 0.
    pub(crate) cut: usize,
    /// What it is called, for instance `2x6x12`; null when the list does not name it.
    pub(crate) name: Option<String>,
    /// Its length that counts, without trim; null when the list does not name it.
    pub(crate) length: Option<i64>,
    /// Board feet by its named size; null when the list does not name it.
    pub(crate) board_feet: Option<i64>,
    /// Beyond the want's count.
    pub(crate) extra: bool,
    /// The part of the log that it comes from.
    pub(crate) part: PartIdForm,
    /// The strip of that part when it is edged; null when it is not.
    pub(crate) strip: Option<PartIdForm>,
    /// Turn of the piece's frame against the log frame.
    pub(crate) turn: i32,
    /// Across, from the frame's axis.
    pub(crate) u: SpanForm,
    /// Upward, from the frame's axis.
    pub(crate) h: SpanForm,
    /// Along the log, from the small end, trim included.
    pub(crate) z: SpanForm,
    /// Largest leg of wood that may be missing along u at a corner.
    pub(crate) wane_u: i64,
    /// Largest leg of wood that may be missing along h at a corner.
    pub(crate) wane_h: i64,
    /// Where the pith may be in it.
    pub(crate) heart: HeartForm,
    /// Kinds of flaw that it may hold.
    pub(crate) tolerates: Vec<Cow<'static, str>>,
    /// How it is expected to look.
    #[serde(default)]
    pub(crate) looks: LooksForm,
}
