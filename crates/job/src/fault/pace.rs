//! What is wrong with how long something takes, or with how long a blade lasts.

use std::fmt;
use std::time::Duration;

use pithward_measure::Excerpt;
use thiserror::Error;

/// What is wrong with how long something takes, or with how long a blade lasts.
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
    /// A time that makes no sense where it stands.
    #[error("must be between {} and {}, got {got}", Spoken(*.least), Spoken(*.greatest))]
    Span {
        /// The least that makes sense.
        least: Duration,
        /// The most that makes sense.
        greatest: Duration,
        /// What was written.
        got: Excerpt,
    },
    /// No area.
    #[error("{got} is no area")]
    NoArea {
        /// What was written.
        got: Excerpt,
    },
    /// An area that no blade saws.
    #[error("must be between 20 ft2 and 20000 ft2, got {got}")]
    AreaRange {
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
}

impl PaceFault {
    /// Whether the message goes on where the name of the field ends.
    pub(super) fn is_said_of_the_field(&self) -> bool {
        matches!(
            self,
            Self::TimeRange { .. }
                | Self::Span { .. }
                | Self::AreaRange { .. }
                | Self::Share { .. }
        )
    }
}

/// A time of whole seconds, minutes or hours, ready to be put into a message.
struct Spoken(Duration);

impl fmt::Display for Spoken {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0.as_secs() {
            seconds if seconds > 0 && seconds % 3600 == 0 => write!(f, "{} h", seconds / 3600),
            seconds if seconds > 0 && seconds % 60 == 0 => write!(f, "{} min", seconds / 60),
            seconds => write!(f, "{seconds} s"),
        }
    }
}
