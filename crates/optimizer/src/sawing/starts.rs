//! From which sides a pattern is sawn, where the pattern leaves that open.

use crate::family::{Found, Method, Shape};
use pithward_geometry::Quarter;

/// From which sides a pattern is sawn first, and when it is turned.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Starts {
    /// The first pair of sides from the other one.
    first: bool,
    /// The second pair from the other one.
    second: bool,
    /// A line is turned onto the last board that may lie on the bed, not just past the pith.
    pub(super) late: bool,
}

impl Starts {
    /// All that a pattern leaves open, the usual one first.
    pub(crate) fn all(found: &Found) -> Vec<Self> {
        const EITHER: &[bool] = &[false, true];
        const USUAL: &[bool] = &[false];
        let (first, second) = match &found.shape {
            Shape::Through(_) => (EITHER, USUAL),
            Shape::Cant(_) | Shape::Around(_) => (EITHER, EITHER),
            // Which half is sawn first follows from which one is set aside.
            Shape::Quarter(_) => (USUAL, USUAL),
        };
        let late = match found.method {
            Method::ThroughTurned | Method::FourSidedCant | Method::BoxedHeart => EITHER,
            Method::Through | Method::TwoSidedCant | Method::Around | Method::Quarter => USUAL,
        };
        let all = late.iter().flat_map(|late| {
            second.iter().flat_map(|second| {
                first.iter().map(|first| Self { first: *first, second: *second, late: *late })
            })
        });
        all.collect()
    }

    /// Whether sides of this quarter are sawn from their own direction first.
    pub(super) fn own(self, quarter: Quarter) -> bool {
        match quarter {
            Quarter::First => !self.first,
            Quarter::Second => !self.second,
        }
    }
}
