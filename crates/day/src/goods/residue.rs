//! What is left lying there: slabs, edgings, ends and sawdust.
//!
//! All of it is measured on the sawn logs. Slabs and edgings lie in a cord of 128 cubic feet with 75 solid ones, as
//! published of slabs, their wood alone; stacked with care with 85 (common practice, no source). Sawdust lies loose at 2.5 times its solid
//! volume, as published; what does not leave by the chute lies under the mill and on the boards.

use super::Matter;
use pithward_trade::{CubicFeet, residue};

/// What sawing leaves.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Residue {
    /// Parts of the logs from which no piece comes.
    pub slabs: Matter,
    /// Strips from the edges of flitches.
    pub edgings: Matter,
    /// What is cut off the ends of pieces.
    pub ends: Matter,
    /// Sawdust, the bark in it too.
    pub sawdust: Matter,
    /// How much of the sawdust leaves by the chute, from 0 to 1.
    pub chute: f64,
    /// Wood of the logs that were sawn.
    pub of_logs: Matter,
}

impl Residue {
    /// Slabs, edgings and ends together.
    pub fn coarse(&self) -> Matter {
        self.slabs.plus(self.edgings).plus(self.ends)
    }

    /// All of it.
    pub fn all(&self) -> Matter {
        self.coarse().plus(self.sawdust)
    }

    /// Stacked cords of slabs and edgings with so many solid cubic feet of wood to the cord, which lie there with their
    /// bark; ends are not stacked.
    pub fn cords(&self, solid_in_a_cord: f64) -> f64 {
        residue::cords(self.slabs.plus(self.edgings).wood, solid_in_a_cord)
    }

    /// The fewest and the most cords of slabs and edgings: stacked with care, and as published.
    pub fn cord_range(&self) -> (f64, f64) {
        (self.cords(residue::SLAB_CORD_CLOSE_FT3), self.cords(residue::slab_cord().value))
    }

    /// Loose volume of all sawdust.
    pub fn sawdust_loose(&self) -> CubicFeet {
        CubicFeet::new(self.sawdust.solid().get() * residue::sawdust_loose().value)
    }

    /// Loose volume of what leaves by the chute.
    pub fn at_the_chute(&self) -> CubicFeet {
        CubicFeet::new(self.sawdust_loose().get() * self.chute)
    }

    /// Share of the logs' wood that an amount makes, by solid wood without bark; 0 where nothing was sawn.
    pub fn share(&self, of: Matter) -> f64 {
        let whole = self.of_logs.wood.get();
        if whole > 0.0 { of.wood.get() / whole } else { 0.0 }
    }

    /// Two piles together, with the chute of the first.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            slabs: self.slabs.plus(other.slabs),
            edgings: self.edgings.plus(other.edgings),
            ends: self.ends.plus(other.ends),
            sawdust: self.sawdust.plus(other.sawdust),
            chute: self.chute,
            of_logs: self.of_logs.plus(other.of_logs),
        }
    }
}
