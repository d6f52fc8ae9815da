//! Why a text is not a size, and where in it.

use std::fmt;
use std::ops::Range;

use super::{Writing, nanometres};
use crate::Length;
use crate::fault::{Excerpt, LengthFault};
use crate::writing::{Decimal, FOOT, Inches, MM, minus};

/// Why a text is not a size. Every message quotes what was got and says what would be right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SizeFault {
    /// Nothing was written.
    #[error("a size is missing; write one such as 2x6, 2x6x12, 1x4up, 4/4 or 50x150x3000 mm")]
    Empty,
    /// A dimension that every size has, or that an `x` promised, is not there.
    #[error(
        "{text} is not a size: it has no {dimension}; write one such as 2x6, 2x6x12, 1x4up, 4/4 or \
         50x150x3000 mm"
    )]
    Missing {
        /// The whole text.
        text: Excerpt,
        /// What is not there.
        dimension: Dimension,
        /// Where it should be.
        at: Range<usize>,
    },
    /// More than thickness, width and length.
    #[error("{text} is not a size: it has more than thickness x width x length")]
    TooManyDimensions {
        /// The whole text.
        text: Excerpt,
        /// What stands behind the length.
        at: Range<usize>,
    },
    /// A dimension is not a length.
    #[error("the {dimension} in {text}: {fault}")]
    NotALength {
        /// The whole text.
        text: Excerpt,
        /// Which one it is.
        dimension: Dimension,
        /// What is wrong with it; its own span counts from where the dimension begins.
        fault: LengthFault,
        /// Where that is in the whole text.
        at: Range<usize>,
    },
    /// Inches or feet beside millimetres, centimetres or metres.
    #[error(
        "{text} is not a size: it mixes units; write inches and feet, as in 2x6x12, or millimetres, \
         as in 50x150x3000 mm"
    )]
    MixedUnits {
        /// The whole text.
        text: Excerpt,
        /// Where the size is.
        at: Range<usize>,
    },
    /// A dimension that no mill saws.
    #[error(
        "{text} is not a size: {dimension} must be between {} and {}, got {}{}",
        said(.limits.least, *.dimension, *.writing), said(.limits.most, *.dimension, *.writing),
        said(*.got, *.dimension, *.writing), hint(*.got, *.limits, *.writing)
    )]
    OutOfRange {
        /// The whole text.
        text: Excerpt,
        /// Which one it is.
        dimension: Dimension,
        /// What it is.
        got: Length,
        /// What it may be.
        limits: Limits,
        /// The units of the size.
        writing: Writing,
        /// Where it is written.
        at: Range<usize>,
    },
}

impl SizeFault {
    /// The bytes of the text that are at fault; `None` when there is nothing to point at.
    pub fn span(&self) -> Option<Range<usize>> {
        match self {
            Self::Empty => None,
            Self::Missing { at, .. }
            | Self::NotALength { at, .. }
            | Self::TooManyDimensions { at, .. }
            | Self::MixedUnits { at, .. }
            | Self::OutOfRange { at, .. } => Some(at.clone()),
        }
    }
}

/// One of the three lengths of a [`Size`](super::Size).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dimension {
    /// The smaller side of the section.
    Thickness,
    /// The larger one.
    Width,
    /// Along the grain.
    Length,
}

impl fmt::Display for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Thickness => "thickness",
            Self::Width => "width",
            Self::Length => "length",
        })
    }
}

/// The smallest and the largest that a dimension may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// The smallest.
    pub least: Length,
    /// The largest.
    pub most: Length,
}

impl Limits {
    /// Wide enough for veneer and for the longest beam, narrow enough to find a slip of the pen and
    /// a size whose `mm` was forgotten or put where inches were meant (`2x6x3600 mm`). From no
    /// source; what a mill can saw is checked where the mill is known.
    pub(super) const fn of(dimension: Dimension, writing: Writing) -> Self {
        let (least, most) = match (writing, dimension) {
            (Writing::Metric, Dimension::Thickness) => (Length::mm(3), Length::mm(1500)),
            (Writing::Metric, Dimension::Width) => (Length::mm(10), Length::mm(1500)),
            (Writing::Metric, Dimension::Length) => (Length::mm(25), Length::mm(30_000)),
            (_, Dimension::Thickness) => (Length::sixty_fourths(8), Length::inches(60)),
            (_, Dimension::Width) => (Length::sixty_fourths(24), Length::inches(60)),
            (_, Dimension::Length) => (Length::inches(1), Length::feet(100)),
        };
        Self { least, most }
    }
}

/// A dimension as it is said, exactly: a message must not round what was got into what would be
/// right.
struct Said {
    length: Length,
    dimension: Dimension,
    writing: Writing,
}

fn said(length: Length, dimension: Dimension, writing: Writing) -> Said {
    Said { length, dimension, writing }
}

impl fmt::Display for Said {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let nm = nanometres(self.length);
        if self.writing == Writing::Metric {
            let mm = Decimal { over: nm, under: MM, places: 6, least: 0 };
            return write!(f, "{mm} mm");
        }
        if self.dimension != Dimension::Length || nm.abs() < FOOT {
            return write!(f, "{} in", Inches { nm, joint: ' ' });
        }
        write!(f, "{}{} ft", minus(nm), nm.abs() / FOOT)?;
        match nm.abs() % FOOT {
            0 => Ok(()),
            past => write!(f, " {} in", Inches { nm: past, joint: ' ' }),
        }
    }
}

/// What may have been meant: a section far too large in inches is often one in millimetres.
fn hint(got: Length, limits: Limits, writing: Writing) -> &'static str {
    let forgotten = writing == Writing::Imperial && got > limits.most;
    if forgotten { "; a size in millimetres ends in mm" } else { "" }
}
