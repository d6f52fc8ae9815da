//! The form of weights, loads, stacks, residue and supplies.

use schemars::JsonSchema;
use serde::Serialize;

/// An amount of wood with its bark.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct MatterForm {
    /// Solid wood.
    pub(crate) wood: i64,
    /// Solid bark.
    pub(crate) bark: i64,
    /// What both weigh, green.
    pub(crate) weight: i64,
}

/// What one log weighs, and whether the loader lifts it.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct LogWeightForm {
    /// The whole log with its bark, green; rotten and hollow wood counts as sound.
    pub(crate) whole: MatterForm,
    /// Of its wood, green.
    pub(crate) wood_density: i64,
    /// Where that comes from.
    pub(crate) wood_basis: DensityBasisForm,
    /// Of its bark, green.
    pub(crate) bark_density: i64,
    /// Where that comes from.
    pub(crate) bark_basis: DensityBasisForm,
    /// Whether the loader lifts it.
    pub(crate) lift: LiftForm,
}

/// Where a density comes from.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum DensityBasisForm {
    /// The average of the species.
    Species,
    /// Nothing is published of the species: the heaviest of its kind, softwood or hardwood.
    HeaviestOfKind,
    /// Nobody named the wood: the heaviest of the table.
    Heaviest,
    /// Of bark whose weight is not published: as heavy as the wood.
    AsTheWood,
}

/// A log against what the loader lifts.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum LiftForm {
    /// Nobody said what the loader lifts.
    Unknown,
    /// It lifts it, though it be a tenth heavier than the average of its species.
    Lifts,
    /// It lifts it if it is no heavier than the average.
    Near,
    /// It is too heavy: do not lift it with the loader.
    TooHeavy,
}

/// What the job is made of. Weights are averages of the species, green; the mill's manual and the loader's plate rule.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct GoodsForm {
    /// What the loader lifts; null where nobody said.
    pub(crate) lifts: Option<i64>,
    /// The heaviest log, a place in `logs`; null where there is none.
    pub(crate) heaviest: Option<usize>,
    /// The lumber, by wood and size, in the order of the list.
    pub(crate) lumber: Vec<LumberLineForm>,
    /// Its loads.
    pub(crate) loads: LoadsForm,
    /// Its stacks.
    pub(crate) stacks: StacksForm,
    /// What is left lying there of the logs that are sawn.
    pub(crate) residue: ResidueForm,
    /// The logs that are not sawn.
    pub(crate) unsawn: MatterForm,
    /// What the sawn logs weigh, against all that comes of them.
    pub(crate) balance: BalanceForm,
}

/// Pieces of one size from one wood.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct LumberLineForm {
    /// The want that they serve, a place in `wants`.
    pub(crate) want: usize,
    /// Their size as it is named, with its length; null where the job does not know it.
    pub(crate) size: Option<String>,
    /// Their species as the tables name it; null when none was named.
    pub(crate) species: Option<&'static str>,
    /// Smaller dimension as sawn, green.
    pub(crate) thickness: i64,
    /// Larger dimension as sawn, green.
    pub(crate) width: i64,
    /// As cut, trim included.
    pub(crate) length: i64,
    /// How many.
    pub(crate) count: u32,
    /// So many of them are beyond the want's count.
    pub(crate) extra: u32,
    /// Board feet of all of them by the named size.
    pub(crate) board_feet: i64,
    /// All of them as sawn, green.
    pub(crate) matter: MatterForm,
    /// What one weighs, the mean.
    pub(crate) each: i64,
    /// What the heaviest of them weighs.
    pub(crate) heaviest: i64,
}

/// Loads of lumber, whole pieces.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct LoadsForm {
    /// What the hauler carries at once; null where nobody said, and then nothing is parted.
    pub(crate) payload: Option<i64>,
    /// What all the lumber weighs.
    pub(crate) weight: i64,
    /// No loading takes fewer loads.
    pub(crate) least: u32,
    /// The loads, in the order in which they are filled.
    pub(crate) loads: Vec<LoadForm>,
    /// Pieces that are heavier than the payload: they are on no load.
    pub(crate) over: Vec<LoadedForm>,
}

/// One load.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct LoadForm {
    /// What it weighs.
    pub(crate) weight: i64,
    /// What is on it.
    pub(crate) pieces: Vec<LoadedForm>,
}

/// Some pieces of one line of lumber.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct LoadedForm {
    /// The line, a place in `lumber`.
    pub(crate) line: usize,
    /// How many pieces of it.
    pub(crate) count: u32,
}

/// The stacks that the lumber stands in.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct StacksForm {
    /// The stacks, those with the longest boards first.
    pub(crate) stacks: Vec<StackForm>,
    /// The ground below all of them, without room to walk between them.
    pub(crate) ground: i64,
    /// Stickers below all layers.
    pub(crate) stickers: u32,
    /// How long each is.
    pub(crate) sticker_length: i64,
    /// How thick each is.
    pub(crate) sticker_thickness: i64,
}

/// One stack.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct StackForm {
    /// Of its longest boards.
    pub(crate) length: i64,
    /// Of its widest layer.
    pub(crate) width: i64,
    /// Over the ground, blocking and stickers included.
    pub(crate) height: i64,
    /// Layers.
    pub(crate) layers: u32,
    /// Boards.
    pub(crate) boards: u32,
    /// Stickers.
    pub(crate) stickers: u32,
    /// What its boards weigh, green.
    pub(crate) weight: i64,
}

/// What sawing leaves.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct ResidueForm {
    /// Parts of the logs from which no piece comes.
    pub(crate) slabs: MatterForm,
    /// Strips from the edges of flitches.
    pub(crate) edgings: MatterForm,
    /// What is cut off the ends of pieces.
    pub(crate) ends: MatterForm,
    /// Sawdust, the bark in it too.
    pub(crate) sawdust: MatterForm,
    /// Room that slabs and edgings take where they are stacked with care.
    pub(crate) stacked_least: i64,
    /// Room that they take stacked as is published.
    pub(crate) stacked_most: i64,
    /// Room that all sawdust takes, loose.
    pub(crate) sawdust_loose: i64,
    /// Of that, what leaves by the chute.
    pub(crate) at_the_chute: i64,
    /// Share of the sawdust that leaves by the chute.
    pub(crate) chute: i64,
}

/// What the sawn logs weigh, against all that comes of them: `lumber` and `residue` are `logs` and `off`.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct BalanceForm {
    /// The logs that are sawn.
    pub(crate) logs: MatterForm,
    /// All lumber.
    pub(crate) lumber: MatterForm,
    /// All that is left lying there of them.
    pub(crate) residue: MatterForm,
    /// By how much the weights do not add up: nothing, but for what the measuring is off.
    pub(crate) off: i64,
}

/// What must be brought, and what it uses up.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct SuppliesForm {
    /// How long the engine runs.
    pub(crate) engine_time: i64,
    /// How long water runs on the blade.
    pub(crate) water_time: i64,
    /// Fuel that is burned.
    pub(crate) fuel: i64,
    /// What the tank holds.
    pub(crate) tank: i64,
    /// What a spare can holds.
    pub(crate) can: i64,
    /// Spare cans beside a full tank.
    pub(crate) spare_cans: u32,
    /// Water on the blade.
    pub(crate) water: i64,
    /// What is put into it against pitch.
    pub(crate) lubricant: i64,
    /// Sharp blades to bring, the spare ones with them.
    pub(crate) sharp_blades: u32,
    /// So many of them are spare.
    pub(crate) spare_blades: u32,
    /// Sharp blades that the work dulls.
    pub(crate) dulled: i64,
    /// Blades used up, as a share of new ones.
    pub(crate) blades_used: i64,
    /// How many are sharpened again afterward.
    pub(crate) sharpened: i64,
}
