//! The form of what was measured, wanted and assumed.

use super::grown::{DefectForm, FlawForm, HeartForm, SectionForm};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The units of every number in the file.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct UnitsForm {
    /// Lengths, heights, positions: `nm`, whole nanometres; 1 in is 25 400 000.
    pub(crate) length: &'static str,
    /// Points of outlines: `um`, whole micrometres.
    pub(crate) outline: &'static str,
    /// Angles: `millidegree`, whole thousandths of a degree.
    pub(crate) angle: &'static str,
    /// Board feet: `millionth of a board foot`.
    pub(crate) board_feet: &'static str,
    /// Worth: `millionth`, of the unit in which the wants' cuts state their worth.
    pub(crate) worth: &'static str,
    /// Shares: `millionth` of the whole.
    pub(crate) share: &'static str,
}

/// A log. Where `sections` is null it is round and straight, the pith at its centre: at z a disc about the log's axis whose
/// radius grows evenly from half the small end's diameter to half the butt's, the bark's thickness growing evenly too.
/// Else the sections are the log, and the diameters and barks only what a tape says of its ends.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct LogForm {
    /// Diameter of the wood at the small end, inside the bark; the mean one where it is not round.
    pub(crate) small_end: i64,
    /// Diameter of the wood at the butt, inside the bark and above any flare; the mean one where it is not round.
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
    /// The shape file that it was read from; null of a log that was taped.
    pub(crate) scanned: Option<ScannedForm>,
    /// What is wrong with the wood, and where.
    pub(crate) flaws: Vec<FlawForm>,
    /// What its bark and its ends tell of its inside, and leaves it sawable.
    pub(crate) defects: Vec<DefectForm>,
    /// From the small end to the butt; null of a log that is round and straight.
    pub(crate) sections: Option<Vec<SectionForm>>,
}

/// A shape file, and what was made of it.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct ScannedForm {
    /// The file.
    pub(crate) file: String,
    /// What was put right, taken for granted or left out, each a short sentence.
    pub(crate) repairs: Vec<String>,
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
    /// Along the bed from what carries the butt to the toe board that raises the small end; null where the mill has none.
    pub(crate) toe_board: Option<i64>,
    /// Most flitches that stand together for edging.
    pub(crate) edging_batch: u32,
}

/// What was assumed.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct AssumptionsForm {
    /// The shape that is taken for the log's: `straight frustum, pith at the centre`, or `as sections and flaws say`.
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
    /// Where the pith may be in a piece.
    pub(crate) heart: HeartForm,
    /// Kinds of flaw that a piece may hold.
    pub(crate) tolerates: Vec<&'static str>,
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

/// The count of one want.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
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
