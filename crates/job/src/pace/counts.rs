//! What of a plan takes time: its passes with their widths, its turns, its batches.

use pithward_geometry::{Log, Replayed, SawingOrder};
use pithward_trade::Species;
use pithward_trade::species::Kind;

/// One pass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PassCount {
    /// Width of the cut, the mean over its length, inches; 0 where the blade meets no wood.
    pub width: f64,
}

/// What of the plan of one log takes time.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlanCounts {
    /// How far the blade travels in each pass: the log's length, inches.
    pub length: f64,
    /// The kind of its wood; as hardwood where nobody knows.
    pub wood: Option<Kind>,
    /// Turns of the log, and of what is put back of it.
    pub turns: u32,
    /// Passes through the log, and through what is put back of it.
    pub of_log: Vec<PassCount>,
    /// Passes through batches of flitches; a batch is passed once for all that stands in it.
    pub of_edging: Vec<PassCount>,
    /// Batches of flitches.
    pub batches: u32,
    /// Times that a part is taken off the mill or put on again, beside the flitches of batches. No order that is sawn
    /// in one piece has any.
    pub shifts: u32,
    /// Finished pieces.
    pub pieces: u32,
}

impl PlanCounts {
    /// The counts of an order and of what replay found of it.
    ///
    /// Of a pass through the log replay tells how wide the cut is at either end; their mean is taken. Of one through a
    /// batch it tells no width: that is the thickness of all the flitches that stand in it, by the pieces that come from
    /// them.
    pub fn of(log: &Log, species: Option<&Species>, order: &SawingOrder, found: &Replayed) -> Self {
        let mean = |small_end: f64, butt: f64| PassCount { width: 0.5 * (small_end + butt) };
        let resawn = found.resaws.iter().flat_map(|part| &part.passes);
        let passes = found.passes.iter().chain(resawn).flatten();
        let of_log = passes.map(|fact| mean(fact.opening_small_end, fact.opening_butt)).collect();
        let batches: Vec<_> = order.batches().collect();
        let of_batch = |edging: &&pithward_geometry::Edging| {
            let width = batch_width(order, edging.batch);
            let passes = edging.stages.iter().map(|stage| stage.passes.len()).sum();
            std::iter::repeat_n(PassCount { width }, passes)
        };
        let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        Self {
            length: log.length().inches_f64(),
            wood: species.map(|species| species.kind),
            turns: count(order.turns()),
            of_log,
            of_edging: batches.iter().flat_map(of_batch).collect(),
            batches: count(batches.len()),
            shifts: count(order.moves()),
            pieces: count(order.pieces.len()),
        }
    }

    /// What all passes cut, square feet: each as wide as [`PassCount::width`] over the whole length.
    ///
    /// Crosscuts are left out: boards are cut to length with a chain saw or another saw beside the mill, which wears no band.
    pub fn sawn_area(&self) -> f64 {
        let widths = self.of_log.iter().chain(&self.of_edging).map(|pass| pass.width);
        widths.sum::<f64>() * self.length / 144.0
    }

    /// All passes.
    pub fn passes(&self) -> u32 {
        u32::try_from(self.of_log.len() + self.of_edging.len()).unwrap_or(u32::MAX)
    }
}

/// The thickness of all that stands in a batch, inches.
fn batch_width(order: &SawingOrder, batch: u32) -> f64 {
    let of_batch = order.edgings.iter().filter(|edging| edging.batch == batch);
    let thickness = |edging: &pithward_geometry::Edging| {
        // The pieces of a flitch have its thickness along their own height.
        let piece = order.pieces.iter().find(|piece| piece.part == edging.part);
        piece.map_or(0.0, |piece| piece.claim.h.size().inches_f64())
    };
    of_batch.map(thickness).sum()
}
