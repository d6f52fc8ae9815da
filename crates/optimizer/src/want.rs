//! What is wanted, in the numbers that the search needs.

use pithward_geometry::{Angle, FlawKinds, Heart, RingSpan};
use pithward_measure::Length;
use pithward_trade::Wane;
use pithward_trade::rings::{RingClass, RingConvention};

/// A line of the customer's list, by its place in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WantId(pub usize);

/// One line of the list: what may be cut for it, and how many are asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Want {
    /// How many; `None` for as many as come.
    pub count: Option<u32>,
    /// Largest legs of wood that may be missing at a corner of a piece.
    pub wane: Wane,
    /// Where the pith may be in a piece.
    pub heart: Heart,
    /// Flaws that a piece may hold; [`FlawKinds::NONE`] for sound wood only.
    pub tolerates: FlawKinds,
    /// How the growth rings must lie to the wide face of a piece, at the middle of its section in its small end, by
    /// [`RingConvention::Thirds`]; `None` where that does not matter.
    pub rings: Option<RingClass>,
    /// Every size that serves it: one per accepted length, and per width where the width is random.
    pub cuts: Vec<Cut>,
}

impl Want {
    /// At which angles the rings of a piece must stand.
    pub(crate) fn ring_span(&self) -> Option<RingSpan> {
        let class = self.rings?;
        let range = RingConvention::Thirds.ranges().find(|range| range.class == class)?;
        Some(RingSpan { from: Angle::degrees(range.from), to: Angle::degrees(range.to) })
    }
}

/// One size that serves a want.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cut {
    /// Thickness as sawn, green.
    pub thickness: Length,
    /// Width as sawn, green.
    pub width: Length,
    /// Length that counts.
    pub length: Length,
    /// Length that it takes off the log: the length that counts and its trim allowance.
    pub take: Length,
    /// Board feet by its named size, in millionths.
    pub board_feet: i64,
    /// What a piece within the count is worth, in millionths.
    pub worth: i64,
    /// What a piece beyond the count is worth, in millionths; never more than `worth`.
    pub extra: i64,
}

/// A cut by its want and its place there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CutId {
    /// The want that it serves.
    pub want: WantId,
    /// Its place in the want's cuts.
    pub cut: usize,
}
