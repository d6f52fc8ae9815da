//! How much wood may be missing from the edges of a piece.
//!
//! A piece that reaches into the round of the log loses a three-cornered strip along an edge. Its two
//! **legs** lie on the faces of the piece: one along the thickness, one along the width. A limit on
//! wane is the largest legs that the customer takes, as lengths or as a share of the piece.
//!
//! Both legs stay under half of the piece: with half a face gone on either edge there would be no
//! sawn face left between them.

use crate::Confidence;
use crate::published::{self, TableFault};
use pithward_measure::Length;
use std::sync::LazyLock;

const LIMITS: &str = include_str!("../../../data/published/wane_limits.csv");

static TABLE: LazyLock<Vec<GradeWane>> = LazyLock::new(|| {
    parse().expect("the table is embedded, and `the_embedded_table_parses` proves it sound")
});

/// The largest legs of wood that may be missing from an edge of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Wane {
    /// Leg along the thickness.
    pub thickness: Length,
    /// Leg along the width.
    pub width: Length,
}

/// A customer's limit on wane, before it meets a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WaneLimit {
    /// Both legs at most this long; zero for square edges.
    Legs(Length),
    /// Each leg at most `numerator / denominator` of the piece's thickness and width.
    Share {
        /// Above the line.
        numerator: u32,
        /// Below it.
        denominator: u32,
    },
}

/// Why a limit on wane makes no sense.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum WaneFault {
    /// A leg is negative.
    #[error("wane must be 0 in or more, got {} in", got.inches_f64())]
    Negative {
        /// What was given.
        got: Length,
    },
    /// A leg takes half of the piece or more.
    #[error(
        "wane must be under half of the piece: {} in is not under half of {} in",
        got.inches_f64(),
        of.inches_f64()
    )]
    Legs {
        /// The leg that was given.
        got: Length,
        /// The thickness or width of the piece.
        of: Length,
    },
    /// A share of half of the piece or more.
    #[error("wane must be under half of the piece, got {numerator}/{denominator} of it")]
    Share {
        /// Above the line.
        numerator: u32,
        /// Below it.
        denominator: u32,
    },
}

impl Wane {
    /// Square edges.
    pub const NONE: Self = Self::legs(Length::ZERO);

    /// Both legs alike; [`Wane::check`] says whether a piece bears them.
    pub const fn legs(leg: Length) -> Self {
        Self { thickness: leg, width: leg }
    }

    /// `numerator / denominator` of a piece's thickness and of its width, rounded down to the
    /// nanometre.
    ///
    /// # Errors
    /// If the share is half or more, or `denominator` is zero.
    pub fn fraction(
        numerator: u32,
        denominator: u32,
        thickness: Length,
        width: Length,
    ) -> Result<Self, WaneFault> {
        if 2 * u64::from(numerator) >= u64::from(denominator) {
            return Err(WaneFault::Share { numerator, denominator });
        }
        let share = |of: Length| {
            // A share under one half of an `i64` is an `i64`.
            let nm = i128::from(of.as_nm()) * i128::from(numerator) / i128::from(denominator);
            Length::nm(i64::try_from(nm).unwrap_or(0))
        };
        Self { thickness: share(thickness), width: share(width) }.check(thickness, width)
    }

    /// The same wane, once it is known that a piece of this size bears it.
    ///
    /// # Errors
    /// If a leg is negative, or half of the thickness or width or more.
    pub fn check(self, thickness: Length, width: Length) -> Result<Self, WaneFault> {
        for (leg, of) in [(self.thickness, thickness), (self.width, width)] {
            if leg < Length::ZERO {
                return Err(WaneFault::Negative { got: leg });
            }
            if leg * 2 >= of {
                return Err(WaneFault::Legs { got: leg, of });
            }
        }
        Ok(self)
    }
}

impl WaneLimit {
    /// Whether a leg, or a stretch, is at most this share of a whole, or at most this long. Unlike [`WaneLimit::on`] a share may
    /// be anything: this only compares.
    pub(crate) fn allows(self, leg: Length, whole: Length) -> bool {
        match self {
            Self::Legs(most) => leg <= most,
            Self::Share { numerator, denominator } => {
                i128::from(leg.as_nm()) * i128::from(denominator)
                    <= i128::from(whole.as_nm()) * i128::from(numerator)
            }
        }
    }

    /// The limit on a piece of this size.
    ///
    /// # Errors
    /// If it is negative, or half of the thickness or width or more.
    pub fn on(self, thickness: Length, width: Length) -> Result<Wane, WaneFault> {
        match self {
            Self::Legs(leg) => Wane::legs(leg).check(thickness, width),
            Self::Share { numerator, denominator } => {
                Wane::fraction(numerator, denominator, thickness, width)
            }
        }
    }
}

/// What a published grade of structural softwood lumber allows.
///
/// This is a hint for sorting, never a grade mark: grades are given by graders, and look at much more
/// than wane.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct GradeWane {
    /// Name of the grade.
    pub grade: String,
    /// Share of the dressed thickness along the full length; `None` where the grade names none.
    pub thickness: Option<WaneLimit>,
    /// Share of the dressed width along the full length.
    pub width: WaneLimit,
    /// How far the two shares are to be trusted.
    pub confidence: Confidence,
    /// What it allows over part of the length; `None` where it does not say so in shares. As far to be trusted as the words.
    pub part: Option<PartWane>,
    /// What the grade allows over part of the length, in words.
    pub at_most: String,
    /// How far those words are to be trusted.
    pub at_most_confidence: Confidence,
    /// Who publishes it.
    pub source: String,
}

/// What a grade allows over part of the length: on one of the two faces of an edge, the other within its full-length limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct PartWane {
    /// Share of the thickness.
    pub thickness: WaneLimit,
    /// Share of the width.
    pub width: WaneLimit,
    /// Share of the length.
    pub of_length: WaneLimit,
}

/// The published full-length limits on wane by grade, a reference for people; some are half of the
/// piece or more, which no [`Wane`] can be.
pub fn full_length_limits() -> &'static [GradeWane] {
    &TABLE
}

fn parse() -> Result<Vec<GradeWane>, TableFault> {
    published::read(LIMITS, |row| {
        Ok(GradeWane {
            grade: row.text("grade")?.to_owned(),
            thickness: row.open_cell("full_length_thickness", "a share", share)?,
            width: row.cell("full_length_width", "a share", share)?,
            confidence: row.confidence("full_length_confidence")?,
            part: match (
                row.open_cell("part_thickness", "a share", share)?,
                row.open_cell("part_width", "a share", share)?,
                row.open_cell("part_of_length", "a share", share)?,
            ) {
                (Some(thickness), Some(width), Some(of_length)) => {
                    Some(PartWane { thickness, width, of_length })
                }
                _ => None,
            },
            at_most: row.text("at_most")?.to_owned(),
            at_most_confidence: row.confidence("at_most_confidence")?,
            source: row.text("source")?.to_owned(),
        })
    })
}

fn share(cell: &str) -> Option<WaneLimit> {
    let (numerator, denominator) = cell.split_once('/')?;
    Some(WaneLimit::Share {
        numerator: numerator.parse().ok()?,
        denominator: denominator.parse().ok()?,
    })
}

#[cfg(test)]
mod tests {
    use super::{Wane, WaneFault, WaneLimit, full_length_limits, parse};
    use crate::Confidence;
    use pithward_measure::Length;

    const TWO: Length = Length::inches(2);
    const SIX: Length = Length::inches(6);

    fn share(numerator: u32, denominator: u32) -> WaneLimit {
        WaneLimit::Share { numerator, denominator }
    }

    #[test]
    fn the_embedded_table_parses() {
        assert_eq!(parse().unwrap().len(), 9);
        let two = full_length_limits().iter().find(|limit| limit.grade == "No. 2").unwrap();
        assert_eq!((two.thickness, two.width), (Some(share(1, 3)), share(1, 3)));
        let part = two.part.unwrap();
        assert_eq!(
            (part.thickness, part.width, part.of_length),
            (share(2, 3), share(1, 2), share(1, 4))
        );
        assert_eq!(full_length_limits().iter().filter(|limit| limit.part.is_none()).count(), 1);
        assert_eq!(two.confidence, Confidence::Memory);
        assert_eq!(two.at_most_confidence, Confidence::Read);
    }

    #[test]
    fn a_limit_meets_a_piece() {
        let half_inch = Length::sixty_fourths(32);
        assert_eq!(WaneLimit::Legs(half_inch).on(TWO, SIX), Ok(Wane::legs(half_inch)));
        assert_eq!(WaneLimit::Legs(Length::ZERO).on(TWO, SIX), Ok(Wane::NONE));
        assert_eq!(share(0, 1).on(TWO, SIX), Ok(Wane::NONE));
        let third = share(1, 3).on(TWO, SIX).unwrap();
        assert_eq!((third.thickness, third.width), (Length::nm(16_933_333), TWO));
    }

    #[test]
    fn half_of_the_piece_is_too_much() {
        let fault = WaneLimit::Legs(Length::inches(1)).on(TWO, SIX).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "wane must be under half of the piece: 1 in is not under half of 2 in"
        );
        assert_eq!(
            share(1, 2).on(TWO, SIX).unwrap_err().to_string(),
            "wane must be under half of the piece, got 1/2 of it"
        );
        assert_eq!(
            share(0, 0).on(TWO, SIX),
            Err(WaneFault::Share { numerator: 0, denominator: 0 })
        );
        assert!(share(u32::MAX, u32::MAX).on(TWO, SIX).is_err());
        assert!(share(u32::MAX / 2 - 1, u32::MAX).on(Length::MAX, Length::MAX).is_ok());
        let negative = WaneLimit::Legs(-TWO).on(TWO, SIX).unwrap_err();
        assert_eq!(negative.to_string(), "wane must be 0 in or more, got -2 in");
        assert!(WaneLimit::Legs(Length::ZERO).on(Length::ZERO, SIX).is_err(), "no piece at all");
    }
}
