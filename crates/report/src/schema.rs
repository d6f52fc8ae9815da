//! The file form of a plan, and its schema.
//!
//! The types that compute carry no serde; these do, and [`crate::json`] fills them in. Their doc comments
//! become the schema's descriptions, so they are written for someone who has the file and not this code.
//! Every quantity is a whole number: nanometres, thousandths of a degree, millionths.

use schemars::JsonSchema;
use serde::Serialize;

/// The JSON Schema of a plan, as text; `data/schema/plan.schema.json` is this.
pub fn schema() -> String {
    let mut schema = schemars::schema_for!(PlanForm).to_value();
    // Another crate of the build may keep keys in the order of insertion: one order for all builds.
    schema.sort_all_objects();
    let text = serde_json::to_string_pretty(&schema);
    // A value of maps with text keys always has a text.
    text.unwrap_or_default() + "\n"
}

/// The version of the form; a change that an old reader would misread raises it.
pub(crate) const VERSION: u32 = 1;

/// The plan of one log: how it lies, every pass with its blade height, what each pass frees, and the box
/// that each finished piece is cut from. With it alone every cut can be rebuilt and every piece checked.
///
/// Log frame: z runs along the pith from 0 at the small end to the log's length at the butt. Looking at
/// the small end, x points right and y up, 12 o'clock is +y, 3 o'clock +x; both are 0 on the pith. Angles
/// are clockwise as seen there. The wood at z is a disc about the pith whose radius grows evenly from half
/// the small end's diameter to half the butt's; the bark lies on it, its thickness growing evenly too.
///
/// Bed frame of a rest: height is 0 on the bed. The log is turned until `turn` is up, tilted until the
/// lowest point of the small end's section (with bark) stands `lift` above the lowest point of the butt's,
/// and set down until its lowest point is at height 0. In every plan of this version the pith then lies
/// level, so a point (x, y, z) is at height g + x sin(turn) + y cos(turn), with g the pith's height of the
/// stage. A pass at height H turns the wood between H and H + kerf to sawdust: what lies above H + kerf is
/// freed, what lies below H stays on the bed.
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

/// The units of every number in the file.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct UnitsForm {
    /// Lengths, heights, positions: `nm`, whole nanometres; 1 in is 25 400 000.
    pub(crate) length: &'static str,
    /// Angles: `millidegree`, whole thousandths of a degree.
    pub(crate) angle: &'static str,
    /// Board feet: `millionth of a board foot`.
    pub(crate) board_feet: &'static str,
    /// Worth: `millionth`, of the unit in which the wants' cuts state their worth.
    pub(crate) worth: &'static str,
    /// Shares: `millionth` of the whole.
    pub(crate) share: &'static str,
}

/// A straight round log with the pith at its centre.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct LogForm {
    /// Diameter of the wood at the small end, inside the bark.
    pub(crate) small_end: i64,
    /// Diameter of the wood at the butt, inside the bark.
    pub(crate) butt: i64,
    /// From end to end.
    pub(crate) length: i64,
    /// Thickness of the bark at the small end.
    pub(crate) bark_small_end: i64,
    /// Thickness of the bark at the butt.
    pub(crate) bark_butt: i64,
    /// Where the thickness of the bark comes from.
    pub(crate) bark_source: BarkSourceForm,
    /// Whether the diameters were taped over the bark; they stand here without it.
    pub(crate) taped_over_bark: bool,
    /// The species as the tables name it; null when none was named.
    pub(crate) species: Option<&'static str>,
}

/// Where the thickness of the bark comes from.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum BarkSourceForm {
    /// It was given.
    Given,
    /// The species' average.
    Species,
    /// Nothing was known, and no bark is reckoned with.
    None,
}

/// The mill's own figures.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct MillForm {
    /// What it is called.
    pub(crate) name: String,
    /// The file its figures come from; null for the generic mill.
    pub(crate) file: Option<String>,
    /// Wood that a pass turns to sawdust.
    pub(crate) kerf: i64,
    /// The step of its height scale.
    pub(crate) step: i64,
    /// Largest diameter over the bark that it takes.
    pub(crate) largest_diameter: i64,
    /// Longest log.
    pub(crate) longest: i64,
    /// Shortest log.
    pub(crate) shortest: i64,
    /// Widest stock, with bark, at or above the blade.
    pub(crate) widest_cut: i64,
    /// Deepest stock, with bark, above the blade.
    pub(crate) deepest_above: i64,
    /// Lowest blade height over the bed.
    pub(crate) lowest_blade: i64,
    /// Wood that a crosscut turns to sawdust.
    pub(crate) crosscut_kerf: i64,
    /// Most flitches that stand together for edging.
    pub(crate) edging_batch: u32,
}

/// What was assumed.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct AssumptionsForm {
    /// The shape that is taken for the log's: `straight frustum, pith at the centre`.
    pub(crate) shape: &'static str,
    /// How named sizes became sawn ones.
    pub(crate) sizes: SizePolicyForm,
    /// What a piece takes off the log beyond the length that counts.
    pub(crate) trim: i64,
    /// How far a thickness or a width may be off when the blade is set at the printed heights.
    pub(crate) tolerance: i64,
}

/// How named sizes became sawn ones.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case", tag = "policy")]
pub(crate) enum SizePolicyForm {
    /// Sawn green exactly as named.
    Full,
    /// Sawn green so that it dresses to the softwood standard's size of that name.
    Dressed,
    /// The named size is the finished one, dry and planed.
    Finished {
        /// Moisture content that the piece is dried to, thousandths of a percent of its dry mass.
        final_moisture_thousandths: i64,
        /// What planing takes off both faces together.
        planing: i64,
        /// Standard deviation of the sawn size.
        sawing_deviation: i64,
        /// Deviations that the target lies above the critical size, millionths.
        deviations_above: i64,
    },
}

/// A line of the customer's list.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct WantForm {
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
    /// Largest leg of wood that may be missing along the thickness at a corner.
    pub(crate) wane_along_thickness: i64,
    /// The same along the width.
    pub(crate) wane_along_width: i64,
    /// How many; null for as many as come.
    pub(crate) count: Option<u32>,
    /// More than the count is welcome.
    pub(crate) more_welcome: bool,
    /// Every size that serves it: one for each length, and for each width where the width is random.
    pub(crate) cuts: Vec<CutForm>,
}

/// One size that serves a want.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct CutForm {
    /// Its named size with width and length; null when the list does not name it.
    pub(crate) size: Option<String>,
    /// Green thickness that is sawn.
    pub(crate) sawn_thickness: i64,
    /// Green width that is sawn.
    pub(crate) sawn_width: i64,
    /// Length that counts, without trim.
    pub(crate) length: i64,
    /// Length that it takes off the log, trim included.
    pub(crate) takes: i64,
    /// Board feet by its named size.
    pub(crate) board_feet: i64,
    /// Worth of a piece within the want's count.
    pub(crate) worth: i64,
    /// Worth of a piece beyond the count.
    pub(crate) worth_beyond_count: i64,
}

/// A way to saw a log.
#[derive(Debug, Serialize, JsonSchema)]
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
}

/// One rest and the passes made in it, from the top down.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct StageForm {
    /// How the body lies.
    pub(crate) rest: RestForm,
    /// Height of the pith over the bed at the small end.
    pub(crate) pith_small_end: i64,
    /// Height of the pith over the bed at the butt.
    pub(crate) pith_butt: i64,
    /// The passes.
    pub(crate) passes: Vec<PassForm>,
}

/// How a body lies on the bed.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct RestForm {
    /// Which direction of the log frame is up: 0 is 12 o'clock, 90 000 is 3 o'clock.
    pub(crate) turn: i32,
    /// How far the lowest point of the small end (of a flitch: of its thinner end, where it begins)
    /// stands above the lowest point of the butt; it is what levels the pith.
    pub(crate) lift: i64,
    /// What is down on the bed.
    pub(crate) on: SupportForm,
    /// The sawn face that stands against the side stops, which are a quarter turn counterclockwise of
    /// up; null when none does.
    pub(crate) against: Option<char>,
}

/// What a body lies on.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum SupportForm {
    /// Its round, bark side.
    Bark,
    /// This sawn face of the log.
    Face(char),
    /// A sawn edge of the flitch or plank.
    SawnEdge,
}

/// One travel of the blade at one height.
#[derive(Debug, Serialize, JsonSchema)]
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
}

/// A part of a body.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum PartIdForm {
    /// Freed by the pass of this number.
    FreedByPass(u32),
    /// What lies on the bed after the last pass.
    LeftOnBed,
}

/// What becomes of a part of the log.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct PartForm {
    /// The part.
    pub(crate) part: PartIdForm,
    /// What it is.
    pub(crate) fate: FateForm,
    /// The edging batch that it goes to; null when it is not edged.
    pub(crate) edging_batch: Option<u32>,
    /// Its pieces, as numbers of `pieces`.
    pub(crate) pieces: Vec<usize>,
}

/// What a part of the log is.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum FateForm {
    /// No wanted piece comes from it.
    Slab,
    /// Its edges are square already; it is only cut to length.
    Square,
    /// It is edged, then its strips are cut to length.
    Edged,
}

/// The edging of one part, standing on edge. Its stages lie in the bed frame as the log's do.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct EdgingForm {
    /// The part of the log that is edged.
    pub(crate) part: PartIdForm,
    /// Parts of one batch stand together and are cut by the same passes.
    pub(crate) batch: u32,
    /// Its stages; passes are counted from 1 within the edging, and what they free are its strips.
    pub(crate) stages: Vec<EdgingStageForm>,
}

/// One rest of an edging and the passes made in it, from the top down.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct EdgingStageForm {
    /// How the flitch stands.
    pub(crate) rest: RestForm,
    /// The passes.
    pub(crate) passes: Vec<PassForm>,
}

/// An interval on one axis.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct SpanForm {
    /// Where it begins.
    pub(crate) from: i64,
    /// Where it ends.
    pub(crate) to: i64,
}

/// A finished piece: the box that it is cut from, and what it is for.
///
/// The piece's frame has the log's z. Its h axis points to `turn` (0 is 12 o'clock, clockwise) and its u
/// axis a quarter turn clockwise of that: u = x cos(turn) - y sin(turn), h = x sin(turn) + y cos(turn).
#[derive(Debug, Serialize, JsonSchema)]
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
    /// Tilt of the piece's long axis against the pith; 0 in this version.
    pub(crate) tilt: i32,
    /// Across, from the pith.
    pub(crate) u: SpanForm,
    /// Upward, from the pith.
    pub(crate) h: SpanForm,
    /// Along the log, from the small end, trim included.
    pub(crate) z: SpanForm,
    /// Largest leg of wood that may be missing along u at a corner.
    pub(crate) wane_u: i64,
    /// Largest leg of wood that may be missing along h at a corner.
    pub(crate) wane_h: i64,
}

/// The count of one want.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct TallyForm {
    /// Asked for; null for as many as come.
    pub(crate) wanted: Option<u32>,
    /// Given within the count.
    pub(crate) given: u32,
    /// Still missing.
    pub(crate) short: u32,
    /// Given beyond the count.
    pub(crate) extra: u32,
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
    /// The methods searched: the bounds speak for these alone, and for a straight round log.
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

/// Something that keeps the log, a method or a want from being sawn.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct ObstacleForm {
    /// What it is.
    pub(crate) kind: ObstacleKindForm,
    /// The method that it rules out; null when it concerns the whole log or one want.
    pub(crate) method: Option<MethodForm>,
    /// The want that gets nothing, as a place in `wants`; null for any other obstacle.
    pub(crate) want: Option<usize>,
    /// What was met: a diameter, a length, a width, a height; null where there is no one figure.
    pub(crate) got: Option<i64>,
    /// What would be allowed or needed; null where there is no one figure.
    pub(crate) limit: Option<i64>,
    /// The reason and the remedy in sentences.
    pub(crate) says: String,
}

/// Kinds of obstacle.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum ObstacleKindForm {
    /// The butt does not go on the mill.
    LogTooThick,
    /// The log is longer than the mill.
    LogTooLong,
    /// The log is too short to be held.
    LogTooShort,
    /// The round does not pass between the guides.
    Guides,
    /// The shortest piece of the want is longer than the log.
    WantTooLong,
    /// The want's section does not fit in the log.
    WantTooThick,
    /// A piece of the want would fit, but others are worth more.
    WantOutbid,
    /// The method's best pattern passes a limit of the mill.
    Unsawable,
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
