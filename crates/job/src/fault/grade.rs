//! What is wrong with grades, rings, or what is paid for them.

use pithward_measure::Excerpt;
use pithward_trade::Grade;
use thiserror::Error;

/// What is wrong with grades, rings, or what is paid for them.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum GradeFault {
    /// A class of rings that the convention does not have.
    #[error("{class} is no class where rings are told by {convention}")]
    NoRingClass {
        /// The class.
        class: &'static str,
        /// The convention.
        convention: &'static str,
    },
    /// A better grade that is worth less than a poorer one.
    #[error("must not be less than what {poorer} is worth, and {better} would be at {got}")]
    PriceRises {
        /// The better grade.
        better: Grade,
        /// The poorer one, by its name.
        poorer: &'static str,
        /// What the better one is worth.
        got: Excerpt,
    },
    /// A want that is paid by grade, and no price for its boards.
    #[error("is paid by grade, and no row of [[prices]] is for {thickness} of {wood}")]
    NoPrices {
        /// The named thickness, as it was written in its size.
        thickness: Excerpt,
        /// The wood.
        wood: &'static str,
    },
    /// A worth of its own for pieces beyond the count of a want that is paid by grade.
    #[error("says what pieces beyond the count are worth, and the want is paid by grade")]
    ExtraByGrade,
}

impl GradeFault {
    /// Whether the message goes on where the name of the field ends.
    pub(super) fn is_said_of_the_field(&self) -> bool {
        !matches!(self, Self::NoRingClass { .. })
    }
}
