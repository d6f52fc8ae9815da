//! Cants that are still open, by what they can be worth at most.

use super::Search;
use super::places::{Height, side};
use std::cmp::Reverse;

/// What is still open.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Open {
    /// Heights from the first on, this last one excepted.
    Heights { from: usize, to: usize },
    /// Places of one height after the first, up to the last one excepted.
    Places { height: usize, from: usize, to: usize },
    /// Places of one height from one on that was searched, up to another.
    Between { height: usize, near: i64, far: i64 },
}

/// Something open, with a bound on what it holds.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Block {
    /// Nothing in it is worth more.
    pub(super) bound: i64,
    /// Ties go to the smaller height, then to the nearer places.
    pub(super) open: Reverse<Open>,
    /// The planks that its own cannot beat.
    pub(super) planks: i64,
}

impl Block {
    /// The places of a height after `from`, where the planks are known.
    pub(super) fn places(
        heights: &[Height],
        height: usize,
        from: usize,
        to: usize,
        planks: i64,
    ) -> Option<Self> {
        let most = heights[height].places[from + 1..to].iter().map(|(_, sides)| *sides).max()?;
        let open = Reverse(Open::Places { height, from, to });
        Some(Self { bound: most + planks, open, planks })
    }

    /// Places from one that was searched up to another, bounded by a cant that holds them all; `None` where none of them can
    /// be worth more than the first.
    pub(super) fn between(
        search: &mut Search<'_>,
        heights: &[Height],
        n: usize,
        (near, far): (i64, i64),
    ) -> Option<Self> {
        let between = &heights[n];
        let most = between.most_planks(search, near, far)?;
        let planks = most[search.allowances.full()];
        let [above, below] = between.nearest(near, far);
        let sides = side(search, true, above) + side(search, false, below);
        let open = Reverse(Open::Between { height: n, near, far });
        Some(Self { bound: sides + planks, open, planks })
    }

    /// The heights below `to`, of which a higher one's planks are known.
    pub(super) fn heights(heights: &[Height], from: usize, to: usize, planks: i64) -> Option<Self> {
        let most = heights[from..to].iter().map(|h| h.most_sides() + h.square).max()?;
        Some(Self { bound: most + planks, open: Reverse(Open::Heights { from, to }), planks })
    }
}
