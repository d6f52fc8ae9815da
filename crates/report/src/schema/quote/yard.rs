//! The form of what is told of the yard, and of where figures come from.

use schemars::JsonSchema;
use serde::Serialize;

/// The yard. What is not among `told` is as if all were ready.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct YardForm {
    /// The fields of `[yard]` that the job tells.
    pub(crate) told: Vec<&'static str>,
    /// How logs lie.
    pub(crate) logs: LogsLieForm,
    /// How a log comes to the mill.
    pub(crate) moved: MovedForm,
    /// How far they lie from the mill.
    pub(crate) distance: i64,
    /// The bark is dirty.
    pub(crate) dirty: bool,
    /// The wood is frozen.
    pub(crate) frozen: bool,
    /// What the mill stands on.
    pub(crate) ground: GroundForm,
    /// How often the mill is moved on site.
    pub(crate) moves: u32,
    /// There is water; null where nobody said.
    pub(crate) water: Option<bool>,
    /// The way in, as free text; may be empty.
    pub(crate) access: String,
    /// There is room to turn; null where nobody said.
    pub(crate) turning_room: Option<bool>,
    /// Who else hears the mill, as free text; may be empty.
    pub(crate) neighbours: String,
    /// The time of the day from which the mill may be heard; null where nobody said.
    pub(crate) noise_from: Option<i64>,
    /// The time of the day up to which it may; null where nobody said.
    pub(crate) noise_to: Option<i64>,
    /// What becomes of sawdust and slabs.
    pub(crate) residue: ResidueRuleForm,
    /// Both sides of the tarp; null where nobody said.
    pub(crate) tarp: Option<[i64; 2]>,
    /// How many help; those of the pace where the yard says nothing.
    pub(crate) helpers: u32,
    /// Who stacks.
    pub(crate) stacking: StackingForm,
    /// The sawyer delivers the lumber.
    pub(crate) delivered: bool,
    /// The way there and back of one day; null where nobody said.
    pub(crate) drive: Option<i64>,
}

/// How logs lie.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum LogsLieForm {
    /// Ready beside the mill, off the ground, all alike.
    Staged,
    /// In a pile.
    Piled,
    /// About the yard.
    Scattered,
}

/// How a log comes to the mill.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum MovedForm {
    /// It is rolled.
    Rolled,
    /// It is dragged.
    Dragged,
    /// A machine of the customer brings it.
    Machine,
}

/// What the mill stands on.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum GroundForm {
    /// Firm and level.
    Firm,
    /// Soft: it must be blocked up.
    Soft,
    /// Sloping: feet are dug in, and nobody stands below a log.
    Sloping,
}

/// What becomes of sawdust and slabs.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum ResidueRuleForm {
    /// They stay where they fall.
    Leave,
    /// The slabs are piled as they come; sawdust stays.
    Pile,
    /// A tarp catches the sawdust, and the slabs are piled.
    Tarp,
}

/// Who stacks.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum StackingForm {
    /// Helpers, while the next board is sawn.
    Helpers,
    /// The sawyer, while the mill stands still.
    Sawyer,
    /// The customer, in his own time.
    Customer,
}

/// Where one figure comes from.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct FigureForm {
    /// Its field.
    pub(crate) field: &'static str,
    /// Where it comes from.
    pub(crate) basis: FigureBasisForm,
    /// How much it is; null where nothing is known of it.
    pub(crate) value: Option<FigureValueForm>,
    /// What is told of it where nobody states it, common practice without a source; else null.
    pub(crate) told: Option<&'static str>,
}

/// How much a figure is, in the units of the file.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum FigureValueForm {
    /// A time.
    Time(i64),
    /// A length.
    Length(i64),
    /// So far in a minute.
    PerMinute(i64),
    /// A feed at a width of cut.
    Feed {
        /// So far in a minute.
        per_minute: i64,
        /// At this width of cut.
        at: i64,
    },
    /// An area.
    Area(i64),
    /// A share.
    Share(i64),
    /// A count.
    Count(u32),
    /// A weight.
    Weight(i64),
    /// A power, whole watts.
    Watts(i64),
    /// A volume of a fluid.
    Volume(i64),
    /// A volume of a fluid in an hour.
    VolumePerHour(i64),
    /// A word of the file.
    Word(&'static str),
}

/// Where a figure comes from.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum FigureBasisForm {
    /// It is stated.
    Stated,
    /// The mill learned it from its own jobs.
    Learned,
    /// It follows from another figure that is stated.
    Follows,
    /// Nobody stated it: the usual figure, common practice without a source.
    #[serde(rename = "usual figure")]
    Usual,
    /// Nobody stated it, and nothing is taken for granted.
    Unknown,
}
