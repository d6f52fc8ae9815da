//! How far a log is sawn.

use pithward_geometry::{Frame, PartId, Resaw, SawingOrder, Stage};

/// The passes that were really made, from the whole log on, each at the height at which it was.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Begun {
    /// The directions of all planes.
    pub frame: Frame,
    /// The log's stages; a last one without passes is a rest in which it lies already.
    pub stages: Vec<Stage>,
    /// The parts that were put back on the mill, and how far each was sawn: all but the last to the end.
    pub resaws: Vec<Resaw>,
    /// The parts whose pieces are finished: edged, and cut to length.
    pub finished: Vec<PartId>,
}

impl Begun {
    /// An order that was followed for so many passes, counted as its card counts them: through the log's stages, then
    /// through those of each part that is put back. Nothing is finished yet.
    pub fn of(order: &SawingOrder, passes: usize) -> Self {
        let mut left = passes;
        let mut followed = |stages: &[Stage]| {
            let mut made = Vec::new();
            for stage in stages {
                if left == 0 {
                    break;
                }
                let passes: Vec<_> = stage.passes.iter().copied().take(left).collect();
                left -= passes.len();
                made.push(Stage { rest: stage.rest, passes });
            }
            made
        };
        let stages = followed(&order.stages);
        let mut resaws = Vec::new();
        for resaw in &order.resaws {
            let stages = followed(&resaw.stages);
            if stages.is_empty() {
                break;
            }
            resaws.push(Resaw { part: resaw.part, stages });
        }
        Self { frame: order.frame, stages, resaws, finished: Vec::new() }
    }

    /// Passes that were made.
    pub fn passes(&self) -> usize {
        passes(&self.stages, &self.resaws)
    }
}

/// Passes through the log and through what is put back of it, flitches not counted.
pub(super) fn passes(stages: &[Stage], resaws: &[Resaw]) -> usize {
    let bodies = resaws.iter().map(|resaw| &resaw.stages[..]).chain([stages]);
    bodies.flatten().map(|stage| stage.passes.len()).sum()
}
