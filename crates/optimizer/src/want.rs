//! What is wanted, in the numbers that the search needs.

use pithward_geometry::{FlawKinds, Heart};
use pithward_measure::Length;
use pithward_trade::Wane;
use pithward_trade::grade::{Grade, Prices};

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
