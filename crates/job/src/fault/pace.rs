//! What is wrong with how long a step of sawing takes, or with what an hour costs.

use pithward_measure::{Excerpt, MoneyFault};
use thiserror::Error;

/// What is wrong with how long a step of sawing takes, or with what an hour costs.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum PaceFault {
    /// No time.
    #[error("{got} is no time")]
    NoTime {
        /// What was written.
        got: Excerpt,
    },
    /// A time that no step takes.
    #[error("must be an hour at most, got {got}")]
    TimeRange {
        /// What was written.
        got: Excerpt,
    },
    /// No speed.
    #[error("{got} is no speed")]
    NoSpeed {
        /// What was written.
        got: Excerpt,
    },
    /// No price of an hour.
    #[error("{got} is no rate by the hour")]
    NoRate {
        /// What was written.
        got: Excerpt,
    },
    /// A percentage that makes no sense where it stands.
    #[error("must be between {least} % and {greatest} %, got {got}")]
    Share {
        /// The least that makes sense.
        least: u32,
        /// The most that makes sense.
        greatest: u32,
        /// What was written.
        got: Excerpt,
    },
    /// No amount of money.
    #[error(transparent)]
    Money(#[from] MoneyFault),
}

impl PaceFault {
    /// Whether the message goes on where the name of the field ends.
    pub(super) fn is_said_of_the_field(&self) -> bool {
        matches!(self, Self::TimeRange { .. } | Self::Share { .. })
    }
}
