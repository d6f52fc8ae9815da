//! What is wrong with how many pieces are said to come out.

use pithward_measure::Excerpt;
use thiserror::Error;

/// What is wrong with how many pieces are said to come out.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum LearnedFault {
    /// A percentage that makes no sense where it stands.
    #[error("must be between {least} % and {greatest} %, got {got}")]
    Percent {
        /// The least that makes sense.
        least: u32,
        /// The most that makes sense.
        greatest: u32,
        /// What was written.
        got: Excerpt,
    },
}

impl LearnedFault {
    /// Whether the message goes on where the name of the field ends.
    pub(super) fn is_said_of_the_field(&self) -> bool {
        matches!(self, Self::Percent { .. })
    }
}
