//! What is wanted, in the numbers that the search needs.

use pithward_geometry::{Angle, FlawKinds, Heart, RingSpan};
use pithward_measure::Length;
use pithward_trade::Wane;
use pithward_trade::grade::{Grade, Prices};
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
    /// What the expected grade of a piece changes; `None` where nobody grades it.
    pub grading: Option<Grading>,
    /// How the growth rings of a piece must lie; `None` where that does not matter.
    pub rings: Option<Rings>,
    /// Every size that serves it: one per accepted length, and per width where the width is random.
    pub cuts: Vec<Cut>,
}

/// What the expected grade of a piece changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Grading {
    /// The poorest that serves the want; `None` for any.
    pub least: Option<Grade>,
    /// Millionths for a board foot of each grade. A [`Cut`] states its worth at the dearest.
    pub prices: Prices,
}

impl Grading {
    /// Whether a piece of this grade serves the want.
    pub fn admits(&self, grade: Option<Grade>) -> bool {
        // The better a grade, the smaller.
        self.least.is_none_or(|least| grade.is_some_and(|grade| grade <= least))
    }

    /// What a piece of so many millionths of a board foot is worth less than at the dearest grade, millionths.
    pub fn loss(&self, board_feet: i64, grade: Option<Grade>) -> i64 {
        let loss = self.prices.dearest() - self.prices.of(grade);
        let loss = i128::from(loss) * i128::from(board_feet);
        i64::try_from(loss / 1_000_000).unwrap_or(i64::MAX)
    }
}

/// Which classes of rings a want accepts: judged by the angle to the wide face, at the middle of a piece's section, in its
/// small end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rings {
    /// Where the classes begin and end.
    pub convention: RingConvention,
    /// The classes; a piece whose rings lie in none of them does not serve the want.
    pub accepts: Vec<RingClass>,
}

impl Rings {
    /// One class, where they are told by thirds of a right angle.
    pub fn only(class: RingClass) -> Self {
        Self { convention: RingConvention::Thirds, accepts: vec![class] }
    }

    /// Whether it is for rings that stand on the face that a log is sawn.
    pub fn ask_for_quarter(&self) -> bool {
        self.accepts.contains(&RingClass::Quarter) && !self.accepts.contains(&RingClass::Flat)
    }

    /// The angles that it accepts, from the least up, apart from each other.
    fn spans(&self) -> Vec<RingSpan> {
        let mut spans: Vec<RingSpan> = Vec::new();
        for range in self.convention.ranges().filter(|range| self.accepts.contains(&range.class)) {
            let (from, to) = (Angle::degrees(range.from), Angle::degrees(range.to));
            match spans.last_mut() {
                Some(last) if last.to == from => last.to = to,
                _ => spans.push(RingSpan { from, to }),
            }
        }
        spans
    }
}

impl Want {
    /// At which angles the rings of a piece must stand; `None` where they may at any.
    pub(crate) fn ring_spans(&self) -> Option<Vec<RingSpan>> {
        let spans = self.rings.as_ref()?.spans();
        let right = Angle::degrees(90);
        let any = |span: &RingSpan| span.from == Angle::ZERO && span.to == right;
        (!spans.iter().any(any)).then_some(spans)
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

#[cfg(test)]
mod tests {
    use super::{RingClass, RingConvention, Rings};

    #[test]
    fn classes_beside_each_other_are_one_span() {
        use RingClass::{Flat, Quarter, Rift};
        let spans = |convention, accepts: &[RingClass]| {
            let rings = Rings { convention, accepts: accepts.to_vec() };
            let degrees = |span: super::RingSpan| {
                (span.from.as_millidegrees() / 1000, span.to.as_millidegrees() / 1000)
            };
            rings.spans().into_iter().map(degrees).collect::<Vec<_>>()
        };
        assert_eq!(spans(RingConvention::Thirds, &[Quarter, Rift]), [(30, 90)]);
        assert_eq!(spans(RingConvention::Thirds, &[Flat, Quarter]), [(0, 30), (60, 90)]);
        assert_eq!(spans(RingConvention::Hardwood, &[Quarter]), [(75, 90)]);
        assert_eq!(spans(RingConvention::Halves, &[Flat, Quarter]), [(0, 90)]);
        assert!(Rings::only(Quarter).ask_for_quarter() && !Rings::only(Rift).ask_for_quarter());
    }
}
