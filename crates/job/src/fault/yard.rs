//! What is wrong with what is told of the yard.

use pithward_measure::Excerpt;
use thiserror::Error;

/// What is wrong with what is told of the yard.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum YardFault {
    /// No time of the day.
    #[error("{got} is no time of the day")]
    NoTimeOfDay {
        /// What was written.
        got: Excerpt,
    },
    /// No time in which the mill may be heard, or too little of it.
    #[error("must be at least an hour after noise_from, got {got}")]
    NoHours {
        /// What was written.
        got: Excerpt,
    },
    /// One end of a time without the other.
    #[error("says nothing without {needs}")]
    HalfATime {
        /// The field that is missing.
        needs: &'static str,
    },
    /// Two sides of a tarp that are none.
    #[error("{got} is not the size of a tarp")]
    NoTarp {
        /// What was written.
        got: Excerpt,
    },
    /// A tarp where none is laid.
    #[error("is the size of a tarp, and residue is {word}")]
    TarpBeside {
        /// What becomes of the residue.
        word: &'static str,
    },
    /// No way.
    #[error("{got} is no way in miles or kilometres")]
    NoWay {
        /// What was written.
        got: Excerpt,
    },
    /// A way that nobody drives for a day's sawing.
    #[error("must be between 0 and 2000 miles, got {got}")]
    WayRange {
        /// What was written.
        got: Excerpt,
    },
    /// Helpers who stack, and nobody helps.
    #[error("says that helpers stack, and nobody helps")]
    NobodyHelps,
}

impl YardFault {
    /// Whether the message goes on where the name of the field ends.
    pub(super) fn is_said_of_the_field(&self) -> bool {
        matches!(
            self,
            Self::NoHours { .. }
                | Self::HalfATime { .. }
                | Self::TarpBeside { .. }
                | Self::WayRange { .. }
                | Self::NobodyHelps
        )
    }
}
