//! What is wrong with what is said of how far a pile may be off.

use pithward_measure::Excerpt;
use thiserror::Error;

/// What is wrong with what is said of how far a pile may be off.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum DoubtFault {
    /// No number.
    #[error("{got} is no number from 0 to 1")]
    NoShare {
        /// What was written.
        got: Excerpt,
    },
    /// A number that is no share.
    #[error("must be between 0 and 1, got {got}")]
    Share {
        /// What was written.
        got: Excerpt,
    },
    /// A log that is said to be measured in two ways.
    #[error("{got} is said to be measured in two ways")]
    Twice {
        /// The log.
        got: Excerpt,
    },
}

impl DoubtFault {
    /// Whether the message goes on where the name of the field ends.
    pub(super) fn is_said_of_the_field(&self) -> bool {
        matches!(self, Self::Share { .. })
    }
}
