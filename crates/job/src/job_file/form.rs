//! The form in which a job stands in a file, and its schema.

mod seen;

use schemars::JsonSchema;
use serde::Serialize;

use crate::doubt::DoubtForm;
use crate::lumber::LumberForm;
use crate::mill_file::MillForm;
use crate::yard::YardForm;
use seen::{HoleForm, KnotForm, QualityForm, ScarForm, SeamForm, ShellForm};

/// A day's job: the logs, what is wanted from them, and the mill. Lengths are texts with their unit, such as
/// `14 1/2 in`, `12 ft 4 in` or `370 mm`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(title = "job", deny_unknown_fields)]
pub struct JobForm {
    /// Where, as free text on one line.
    #[schemars(default, length(max = 100))]
    pub site: String,
    /// When, as free text on one line.
    #[schemars(default, length(max = 100))]
    pub date: String,
    /// What else is to be seen on the plan, as free text.
    #[schemars(default, length(max = 2000))]
    pub notes: String,
    /// A sheet of logs, as a spreadsheet saves it; its place is reckoned from that of this file.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub logs_file: Option<String>,
    /// The mill; the stated generic mill where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mill: Option<JobMillForm>,
    /// The yard that the mill comes to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub yard: Option<YardForm>,
    /// What becomes of the lumber.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lumber: Option<LumberForm>,
    /// How sizes are sawn.
    #[schemars(default)]
    pub sawing: SawingForm,
    /// What worth is counted in; board feet where it is left out and no want states a worth.
    #[schemars(default)]
    pub worth: WorthForm,
    /// What a board foot is worth by its grade: the first row that is for a board's wood and thickness counts.
    #[schemars(default, length(max = 200))]
    pub prices: Vec<PriceForm>,
    /// How far all that is said of the pile may be off.
    #[schemars(default)]
    pub doubt: DoubtForm,
    /// How stems are bucked.
    #[schemars(default)]
    pub bucking: BuckingForm,
    /// Logs. There must be one here or in the sheet, or a stem.
    #[schemars(default)]
    pub logs: Vec<LogForm>,
    /// Stems, which are bucked before anything is sawn.
    #[schemars(default)]
    pub stems: Vec<StemForm>,
    /// The customer's list, the most important first.
    #[schemars(length(min = 1, max = 64))]
    pub wants: Vec<WantForm>,
}

/// A mill's own figures, or the name of the file that has them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum JobMillForm {
    /// The figures.
    Figures(Box<MillForm>),
    /// A mill file.
    File(MillFileForm),
}

/// The name of a mill file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct MillFileForm {
    /// A mill file; its place is reckoned from that of this file.
    pub file: String,
}

/// How sizes are sawn.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct SawingForm {
    /// `full` (sawn exactly as named), `dressed` (sawn so that it dresses to the softwood standard) or `finished` (the
    /// named size is the dry, planed one); `full` where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["full", "dressed", "finished"]))]
    pub sizes: Option<String>,
    /// For finished sizes: the moisture that the wood is dried to, in percent of its dry mass.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub final_moisture: Option<NumberOrText>,
    /// For finished sizes: what planing takes off both faces together.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub planing: Option<String>,
    /// For finished sizes: how far boards stray from their size, one standard deviation.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sawing_deviation: Option<String>,
    /// For finished sizes: how many boards in a hundred may come out scant.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub undersize: Option<NumberOrText>,
    /// What is cut off each board beyond the length that counts; nothing where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub trim: Option<String>,
    /// Lengths that are accepted where a want names none; the usual ones up to the longest log where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lengths: Option<OneOrMore>,
    /// How far a board may be off once the blade is set; one step of the mill's scale where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<String>,
    /// Methods to search: `through`, `through-turned`, `two-sided`, `four-sided`, `boxed`, `around`, `quarter`; where it is
    /// left out all but `around`, which takes several times as long, and `quarter` only where a want asks for rings that
    /// stand on the face.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub methods: Option<OneOrMore>,
    /// How round logs may lie for their taper: `level`, the pith level, or `search`, also with one side or two parallel to the
    /// bark where that is worth more, which takes several times as long; `level` where it is left out. Logs that are not round
    /// are laid as suits them in any case.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["level", "search"]))]
    pub taper: Option<String>,
    /// Which angles of the growth rings are flat, rift and quarter: `thirds` (0, 30, 60, 90 degrees), `halves` (0, 45, 90,
    /// without rift) or `hardwood` (0, 45, 75, 90); `thirds` where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["thirds", "halves", "hardwood"]))]
    pub ring_convention: Option<String>,
}

/// What worth is counted in, and what work weighs against it. Amounts have six places behind the point at most.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct WorthForm {
    /// The unit in words; cannot be left out once anything states a worth.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(length(min = 1, max = 20))]
    pub unit: Option<String>,
    /// Worth of a board foot of a want that states no worth of its own, 0.01 to 1000000.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub board_foot: Option<NumberOrText>,
    /// What an hour of sawing weighs; where it is left out, work only breaks ties.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hour: Option<NumberOrText>,
    /// Seconds that a pass takes, with setting the blade and taking the board away; 60 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0, max = 3600))]
    pub pass_seconds: Option<u32>,
    /// Seconds that a turn takes, with clamping; 60 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0, max = 3600))]
    pub turn_seconds: Option<u32>,
}

/// One log, or some that are alike.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(extend("anyOf" = [{ "required": ["small_end", "butt", "length"] }, { "required": ["shape"] }]))]
pub struct LogForm {
    /// What stands on its end, 12 characters at most; no two logs have the same.
    pub id: NumberOrText,
    /// Its species, by any name that people use.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub species: Option<String>,
    /// Diameter at the small end, or two at right angles: the end is oval where `long_axis` says which way the longer one
    /// lies, and their mean counts where it does not. Cannot be left out but beside `shape`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub small_end: Option<OneOrMore>,
    /// The same at the butt, taped above any flare. Cannot be left out but beside `shape`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub butt: Option<OneOrMore>,
    /// Length from end to end. Cannot be left out but beside `shape`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length: Option<String>,
    /// How its diameters and its length were taken: `taped`, `by eye` (the sawyer's) or `told` (by the owner); as `[doubt]`
    /// says where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured: Option<String>,
    /// Thickness of the bark on one side; by the species where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bark: Option<String>,
    /// The diameters were taped, or the log scanned, over the bark.
    #[schemars(default)]
    pub over_bark: bool,
    /// Direction of the longer of two diameters: `2 o'clock`, `2:30` or `65 degrees`, on a clock at the small end as one
    /// looks at it, 12 being up.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub long_axis: Option<NumberOrText>,
    /// The same at the butt, still as seen from the small end; as at the small end where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub long_axis_butt: Option<NumberOrText>,
    /// A bow of the whole log; as a text `2 in toward 6 at 6 ft`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sweep: Option<TextOr<BendForm>>,
    /// A sharp bend; as a text `3 in toward 9 at 5 ft`. The place cannot be left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub crook: Option<TextOr<BendForm>>,
    /// How far the pith is from the middle of the small end, and where; as a text `1 in toward 4`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pith_small: Option<TextOr<PithForm>>,
    /// The same at the butt, still as seen from the small end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pith_butt: Option<TextOr<PithForm>>,
    /// How much the butt widens below the stem; as a text `4 in over 18 in`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flare: Option<TextOr<FlareForm>>,
    /// What is wrong with the wood, and where; each as a text `rot radius 3 in from butt length 4 ft`.
    #[schemars(default)]
    pub flaws: Vec<TextOr<FlawForm>>,
    /// What is seen of branches on the bark; each as a text `2:30 3 ft 2 in 2 in`.
    #[schemars(default)]
    pub knots: Vec<TextOr<KnotForm>>,
    /// Branches that the wood has grown over; each as a text `4 5 ft 3 in`.
    #[schemars(default)]
    pub bumps: Vec<TextOr<KnotForm>>,
    /// Cracks that have closed; each as a text `12 butt 6 ft depth 2 in`.
    #[schemars(default)]
    pub seams: Vec<TextOr<SeamForm>>,
    /// Old wounds; each as a text `9 2 ft 5 ft wide 4 in depth 1 in`.
    #[schemars(default)]
    pub scars: Vec<TextOr<ScarForm>>,
    /// Holes; each as a text `7 4 ft 1 in depth 3 in`.
    #[schemars(default)]
    pub holes: Vec<TextOr<HoleForm>>,
    /// How thick the clear wood over a knotty core is; as a text one length, or four for the quarters about 12, 3, 6 and 9.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clear_shell: Option<TextOr<ShellForm>>,
    /// How good each quarter of the log looks; as a text `clear few knotty unseen` for those about 12, 3, 6 and 9.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub quality: Option<TextOr<QualityForm>>,
    /// A file that has its shape all round, in place of all that a tape says of it: PLY, OBJ or, for outlines, CSV. Its
    /// place is reckoned from that of this file. 12 o'clock is `+z` in a scan, or `+y` where the log stands in it, unless `up`
    /// says otherwise.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shape: Option<String>,
    /// What the coordinates of `shape` are in; judged by the size where it is left out. Outlines have units of their own.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["mm", "cm", "m", "in", "ft"]))]
    pub unit: Option<String>,
    /// Which direction of the coordinates of `shape` was up: `+y`, `-z` or `0 1 0`. Outlines begin at 12 o'clock.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub up: Option<String>,
    /// What else is known of it, as free text on one line.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(length(max = 100))]
    pub notes: Option<String>,
    /// So many logs are alike; they are called by the id and -1, -2 and so on.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 1, max = 20000))]
    pub count: Option<u32>,
}

/// How stems are bucked.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct BuckingForm {
    /// What one cut of the chainsaw turns to sawdust; 3/8 in where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chain_kerf: Option<String>,
    /// Lengths that count of the logs, such as `8/10/12`; each is cut longer by the trim. Any length where it is left
    /// out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub log_lengths: Option<OneOrMore>,
    /// The shortest log; the shortest that the mill holds where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shortest: Option<String>,
    /// The longest log; the longest that the mill takes where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub longest: Option<String>,
}

/// One stem, measured as a log is, or some that are alike.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct StemForm {
    /// All that a log has.
    #[serde(flatten)]
    pub log: LogForm,
    /// Stretches that no log may hold; each as a text `12 ft to 14 ft`, from the butt.
    #[schemars(default)]
    pub cut_out: Vec<TextOr<StretchForm>>,
}

/// A stretch of a stem: two of the three.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct StretchForm {
    /// Where it begins: `butt`, `small end`, a distance from the butt, or `2 ft off the small end`.
    pub from: String,
    /// Where it ends.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// Or how far it goes on from where it begins.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length: Option<String>,
}

/// A text, or the same in its parts.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum TextOr<T> {
    /// As a text.
    Text(String),
    /// In its parts.
    Parts(T),
}

/// A bow or a bend.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct BendForm {
    /// Of a sweep the greatest gap between a string from end to end and the hollow side; of a crook how far the log
    /// stands off the straight line between its ends.
    pub depth: String,
    /// Direction of the belly, or of the bend, on the clock at the small end.
    pub toward: NumberOrText,
    /// Where along the log: a distance from the butt, or `2 ft off the small end`; the middle where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
}

/// A pith off the middle.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct PithForm {
    /// How far from the middle of the end.
    pub off: String,
    /// In which direction, on the clock at the small end.
    pub toward: NumberOrText,
}

/// A butt that widens below the stem.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct FlareForm {
    /// How much it adds to the diameter at the butt end.
    pub extra: String,
    /// Over which length from the butt end.
    pub length: String,
}

/// Something wrong with the wood. Rot, hollow, stain and metal have `radius`, or `toward`, `depth` and `wide`; a shake has
/// `radius`, or `inner` and `outer`; a split has `toward`, and may have `inner` and `outer`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct FlawForm {
    /// What.
    #[schemars(extend("enum" = ["rot", "hollow", "shake", "split", "stain", "metal"]))]
    pub kind: String,
    /// Round the pith, out to there; of a shake, where the rings come apart.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub radius: Option<String>,
    /// Distance from the pith at which a shake or a split begins.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub inner: Option<String>,
    /// Distance from the pith at which it ends.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outer: Option<String>,
    /// Direction from the pith on the clock at the small end, or `all round`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub toward: Option<NumberOrText>,
    /// From the bark inward.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub depth: Option<String>,
    /// Along the bark: a length, `2 hours` or `60 degrees`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wide: Option<String>,
    /// Where it begins: `butt`, `small end`, a distance from the butt, or `2 ft off the small end`. With neither of
    /// `from`, `to` and `length` it is all of the log.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// Where it ends.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// Or how far it goes on from where it begins.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length: Option<String>,
}

/// What a board foot is worth by its expected grade, in the unit of `[worth]`; of a grade that is left out as much as of
/// the next poorer one.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct PriceForm {
    /// Woods that it is for; all where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub species: Option<OneOrMore>,
    /// The named thickness that it is for, such as `4/4` or `50 mm`; all where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thickness: Option<String>,
    /// FAS.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fas: Option<NumberOrText>,
    /// FAS on the better face.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub f1f: Option<NumberOrText>,
    /// Selects.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub selects: Option<NumberOrText>,
    /// No. 1 Common.
    #[serde(rename = "1_common", skip_serializing_if = "Option::is_none")]
    pub no_1_common: Option<NumberOrText>,
    /// No. 2A Common.
    #[serde(rename = "2a_common", skip_serializing_if = "Option::is_none")]
    pub no_2a_common: Option<NumberOrText>,
    /// No. 3A Common.
    #[serde(rename = "3a_common", skip_serializing_if = "Option::is_none")]
    pub no_3a_common: Option<NumberOrText>,
    /// No. 3B Common.
    #[serde(rename = "3b_common", skip_serializing_if = "Option::is_none")]
    pub no_3b_common: Option<NumberOrText>,
    /// A board below all grades.
    pub below: NumberOrText,
}

/// One line of the customer's list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct WantForm {
    /// The size, such as `2x8x12`, `1x6`, `4/4x6up` or `50x150x3000 mm`.
    pub size: String,
    /// How many; as many as come where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 1, max = 10000))]
    pub count: Option<u32>,
    /// Lengths that are accepted, such as `8/10/12`; not beside a size that has its length.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lengths: Option<OneOrMore>,
    /// How much wood may be missing at a corner, such as `1/2 in`, or a share such as `1/3`; none where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wane: Option<String>,
    /// Where the pith may be: `boxed` (inside the piece), `free` (outside it) or `any`, which it is where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["boxed", "free", "any"]))]
    pub heart: Option<String>,
    /// For boxed heart: how far the pith may be from the middle of the piece; anywhere inside where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub centred: Option<String>,
    /// For free heart: how far the pith must be from the piece; 1/8 in where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clear: Option<String>,
    /// Kinds of flaw that a piece may hold: `rot`, `hollow`, `shake`, `split`, `stain`; none where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tolerates: Option<OneOrMore>,
    /// Woods that are accepted; all where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub species: Option<OneOrMore>,
    /// The poorest expected hardwood grade that is accepted: `fas`, `f1f`, `selects`, `1 common`, `2a common`, `3a common` or
    /// `3b common`; any where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub grade: Option<String>,
    /// Classes of rings that are accepted: `flat`, `rift`, `quarter`; all where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rings: Option<OneOrMore>,
    /// What a piece is worth: `3.50 each`, `0.80 per bf`, or `by grade` as `prices` say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worth: Option<String>,
    /// What a piece beyond the count is worth: `welcome` (as much as within it), `no`, `2.00 each` or `0.40 per bf`;
    /// `no` where it is left out. Only beside a count.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub extra: Option<String>,
    /// Blocking and stickers: sawn before the rest, so that the rest can be stacked on it.
    #[schemars(default)]
    pub blocking: bool,
}

/// One value, or a list of them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum OneOrMore {
    /// One.
    One(String),
    /// More.
    More(Vec<String>),
}

/// A number, or the same in quotes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum NumberOrText {
    /// A number.
    Number(serde_json::Number),
    /// In quotes.
    Text(String),
}

/// The JSON Schema of a job file, as text; `data/schema/job.schema.json` is this.
pub fn job_schema() -> String {
    crate::file::schema_text::<JobForm>()
}
