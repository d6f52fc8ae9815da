//! Where the planes of a log that is sawn around lie: a heart, and layers of boards on two opposite sides at a time.

use super::super::Board;
use crate::flitch::Bounds;
use crate::site::Lie;
use pithward_geometry::Quarter;

/// What remains within four planes: how far each is from the axis on its own side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Core {
    /// Above and below the axis.
    pub(crate) upright: [i64; 2],
    /// The same a quarter turned: toward `+u` and toward `-u`.
    pub(crate) across: [i64; 2],
}

impl Core {
    /// The two planes that boards in this quarter lie beyond.
    pub(crate) fn of(&self, quarter: Quarter) -> [i64; 2] {
        match quarter {
            Quarter::First => self.upright,
            Quarter::Second => self.across,
        }
    }

    /// The same core with the faces of this quarter further out.
    pub(crate) fn with(self, quarter: Quarter, faces: [i64; 2]) -> Self {
        match quarter {
            Quarter::First => Self { upright: faces, ..self },
            Quarter::Second => Self { across: faces, ..self },
        }
    }

    /// How boards in this quarter lie that the core's other two faces bound.
    pub(crate) fn lie(&self, quarter: Quarter) -> Lie {
        let bounds = match quarter {
            Quarter::First => Bounds { up: self.across[0], low: self.across[1] },
            // A quarter turned, the edges run along `-h`.
            Quarter::Second => Bounds { up: self.upright[1], low: self.upright[0] },
        };
        Lie { quarter, bounds }
    }
}

/// What two opposite sides give before the log is turned a quarter.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Layer {
    /// How the boards' planes lie.
    pub(crate) quarter: Quarter,
    /// Boards beyond the upper face and beyond the lower one, from the inside out, a kerf before each.
    pub(crate) sides: [Vec<Board>; 2],
}

/// A heart and the layers round it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct AroundShape {
    pub(crate) kerf: i64,
    /// What is left on the bed, as a board in the second quarter.
    pub(crate) heart: Board,
    /// The heart's own faces.
    pub(crate) core: Core,
    /// From the inside out. The last is in the first quarter and lies beyond all others, so only the log bounds it.
    pub(crate) layers: Vec<Layer>,
}

/// A board where it lies.
pub(crate) struct PlacedBoard<'s> {
    pub(crate) board: &'s Board,
    pub(crate) lie: Lie,
    pub(crate) from: i64,
    pub(crate) to: i64,
}

impl AroundShape {
    /// Turns of the log: each layer is sawn on both of its sides.
    pub(crate) fn turns(&self) -> i64 {
        2 * i64::try_from(self.layers.len()).unwrap_or(0) - 1
    }

    /// What remains within each layer.
    pub(crate) fn cores(&self) -> Vec<Core> {
        let mut core = self.core;
        let mut cores = Vec::with_capacity(self.layers.len());
        for layer in &self.layers {
            cores.push(core);
            let mut faces = core.of(layer.quarter);
            for (face, side) in faces.iter_mut().zip(&layer.sides) {
                *face += side.iter().map(|board| self.kerf + board.thickness).sum::<i64>();
            }
            core = core.with(layer.quarter, faces);
        }
        cores
    }

    /// How the boards of a layer lie round their core.
    pub(crate) fn lie(&self, layer: usize, core: &Core) -> Lie {
        if layer + 1 == self.layers.len() {
            Lie::ROUND
        } else {
            core.lie(self.layers[layer].quarter)
        }
    }

    /// Every board, in no order that matters.
    pub(crate) fn boards(&self) -> Vec<&Board> {
        let layers = self.layers.iter().flat_map(|layer| layer.sides.iter().flatten());
        std::iter::once(&self.heart).chain(layers).collect()
    }

    /// The boards between sawn faces, each with how far these are apart.
    pub(crate) fn bounded(&self) -> Vec<(&Board, i64)> {
        let width = |bounds: Bounds| bounds.up.saturating_add(bounds.low);
        let all = self.placed().into_iter();
        all.map(|placed| (placed.board, width(placed.lie.bounds))).collect()
    }

    /// Every board where it lies, the heart first.
    pub(crate) fn placed(&self) -> Vec<PlacedBoard<'_>> {
        let [right, left] = self.core.across;
        let lie = self.core.lie(Quarter::Second);
        let mut all = vec![PlacedBoard { board: &self.heart, lie, from: -left, to: right }];
        for (n, (layer, core)) in self.layers.iter().zip(self.cores()).enumerate() {
            let lie = self.lie(n, &core);
            let faces = core.of(layer.quarter).into_iter().zip([true, false]);
            for (side, (face, up)) in layer.sides.iter().zip(faces) {
                let mut to = face;
                for board in side {
                    let from = to + self.kerf;
                    to = from + board.thickness;
                    let (from, to) = if up { (from, to) } else { (-to, -from) };
                    all.push(PlacedBoard { board, lie, from, to });
                }
            }
        }
        all
    }

    /// The faces beyond which only the two outermost layers lie, with the quarter of each: where the log is opened, it is
    /// sawn no further in before it is turned.
    pub(crate) fn opened(&self) -> Vec<(Quarter, i64)> {
        let cores = self.cores();
        let outer = cores.iter().zip(&self.layers).rev().take(2);
        let faces = outer.flat_map(|(core, layer)| {
            core.of(layer.quarter).into_iter().map(|face| (layer.quarter, face))
        });
        faces.collect()
    }
}
