//! What is wrong with what is said of a half-sawn log.

use pithward_measure::Excerpt;
use thiserror::Error;

/// What is wrong with what is said of a half-sawn log.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum ResumeFault {
    /// Neither a number of passes nor heights.
    #[error("nothing says how far the log is sawn")]
    HowFar,
    /// No number of a pass.
    #[error("{got} is no pass of the card")]
    NoPass {
        /// What was written.
        got: Excerpt,
    },
    /// A pass that is not made yet, or freed nothing that is cut into boards.
    #[error("pass {pass} {why}")]
    NothingToFinish {
        /// Its number on the card.
        pass: u32,
        /// `is not made yet`.
        why: &'static str,
    },
    /// No rest.
    #[error("{got} does not say how the log lies")]
    NoRest {
        /// What was written.
        got: Excerpt,
    },
    /// A face that is not open.
    #[error("face {face} is not open yet")]
    NotOpen {
        /// Its letter.
        face: char,
    },
    /// A height that is not below the one before.
    #[error("{got} is not below the pass before it")]
    NotBelow {
        /// What was written.
        got: Excerpt,
    },
    /// Passes that cannot have been made.
    #[error("these passes cannot have been made: {why}")]
    NotSo {
        /// What stands against it.
        why: String,
    },
    /// A size that is not on the list.
    #[error("{got} is not on the list")]
    NotWanted {
        /// What was written.
        got: Excerpt,
    },
    /// A size without a count.
    #[error("{got} does not say how many are left")]
    NoCount {
        /// What was written.
        got: Excerpt,
    },
    /// A log that a tape does not correct.
    #[error("the log was scanned, and a tape does not correct a scan")]
    Scanned,
    /// A place that is not in what is left of the log.
    #[error("is {what} {got}, and what lies on the mill reaches only from {least} to {greatest}")]
    Beyond {
        /// `at a height of`.
        what: &'static str,
        /// What was written.
        got: Excerpt,
        /// The least.
        least: String,
        /// The most.
        greatest: String,
    },
    /// A flaw that cannot be in the log.
    #[error(transparent)]
    Flaw(#[from] pithward_geometry::FlawFault),
}

impl ResumeFault {
    /// Whether the message goes on where the name of the field ends.
    pub(super) fn is_said_of_the_field(&self) -> bool {
        matches!(self, Self::Beyond { .. })
    }
}
