//! One log on one mill: the numbers that every search and every sawing order go by.

use crate::column::{Columns, NM, Rim, floor};
use crate::family::Rip;
use crate::flitch::{Bounds, Strip};
use pithward_geometry::{Log, Mill};

/// Nanometres in a micrometre.
const MICROMETRE: i64 = 1_000;

/// One log on one mill, and the columns of what is wanted from it.
#[derive(Debug)]
pub(crate) struct Site<'a> {
    pub(crate) log: &'a Log,
    pub(crate) mill: &'a Mill,
    pub(crate) columns: &'a Columns,
    /// Nanometres.
    pub(crate) kerf: i64,
    /// Radius of the wood at the butt, nanometres: no plane lies further out.
    pub(crate) limit: i64,
}

impl<'a> Site<'a> {
    pub(crate) fn new(log: &'a Log, mill: &'a Mill, columns: &'a Columns) -> Self {
        Self { log, mill, columns, kerf: mill.kerf.as_nm(), limit: log.butt().half().as_nm() }
    }

    /// The lowest height that the scale can show and the blade can reach.
    pub(crate) fn lowest_blade(&self) -> i64 {
        self.mill.lowest_blade.ceil_to(self.mill.step).as_nm()
    }

    /// Whether a face at this plane lies in the wood: a pass that only touches it takes nothing off.
    pub(crate) fn opens(&self, plane: i64) -> bool {
        plane < self.limit - MICROMETRE
    }

    /// The thickest board that can be freed from above: it stands above the blade with a kerf.
    pub(crate) fn deepest_board(&self) -> i64 {
        self.mill.deepest_above.as_nm() - self.kerf
    }

    /// How far past the pith the lowest plane may lie when the log rests on its bark and is not to be
    /// turned: the kerf below it is still as high as the blade can go down.
    pub(crate) fn lowest_plane(&self) -> i64 {
        self.pith_height() - self.lowest_blade() - self.kerf
    }

    /// Height of the pith over the bed when the log rests on its bark with the pith level.
    pub(crate) fn pith_height(&self) -> i64 {
        self.log.butt_over_bark().half().as_nm()
    }

    /// The nearest plane to the pith at which the whole round, with its bark, passes between the guides, with
    /// a step of the scale to spare: printed heights may lie that much lower.
    pub(crate) fn nearest_plane(&self) -> i64 {
        let radius = self.log.butt_over_bark().inches_f64() / 2.0;
        let half = self.mill.widest_cut.inches_f64() / 2.0;
        if radius <= half {
            0
        } else {
            floor((radius * radius - half * half).sqrt() * NM) + 1 + self.mill.step.as_nm()
        }
    }

    /// The places that the `-u` edge of the first of some strips may take when their outer plane is at
    /// `plane`; `None` when they do not fit side by side.
    pub(crate) fn room(&self, strips: &[Rip], plane: i64, bounds: Bounds) -> Option<(i64, i64)> {
        let (mut from, mut to) = (i64::MIN, i64::MAX);
        let mut offset = 0;
        for strip in strips {
            let column = &self.columns.all[strip.column];
            let edge = Rim::new(self.log, column, strip.length)?.edge(plane)?;
            from = from.max(-edge.min(bounds.low) - offset);
            to = to.min(edge.min(bounds.up) - offset - column.width);
            offset += column.width + self.kerf;
        }
        (from <= to).then_some((from, to))
    }

    /// By how much some strips fit side by side, and how fast that falls with the square of the plane. By a
    /// negative amount when they do not; `None` when the plane misses the wood.
    pub(crate) fn slack(&self, strips: &[Strip], plane: i64, bounds: Bounds) -> Option<(i64, f64)> {
        let (mut from, mut to) = ((i64::MIN, 0.0), (i64::MAX, 0.0));
        let mut offset = 0;
        for strip in strips {
            let column = &self.columns.all[strip.column];
            let edge = self.columns.rims[column.levels[strip.level].rim].edge(plane)?;
            // An edge that a sawn face bounds stays where it is. The other falls as a chord's half does.
            let slope = |bound: i64| if edge < bound { 0.5 / (edge.max(1) as f64) } else { 0.0 };
            let (low, up) =
                (-edge.min(bounds.low) - offset, edge.min(bounds.up) - offset - column.width);
            if low > from.0 {
                from = (low, slope(bounds.low));
            }
            if up < to.0 {
                to = (up, slope(bounds.up));
            }
            offset += column.width + self.kerf;
        }
        Some((to.0 - from.0, from.1 + to.1))
    }
}
