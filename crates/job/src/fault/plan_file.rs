//! What is wrong with a plan that is read back from its file.

use pithward_geometry::ReplayFault;
use pithward_measure::Excerpt;
use thiserror::Error;

/// What is wrong with a plan that is read back from its file.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum PlanFileFault {
    /// Another file.
    #[error("this is no plan: it has no {lacks}")]
    NoPlan {
        /// A field that every plan has.
        lacks: &'static str,
    },
    /// A form that this program does not read.
    #[error("the plan is of form {got}, this program reads form {reads}")]
    Version {
        /// The file's.
        got: u64,
        /// The one that is read.
        reads: u32,
    },
    /// A value of another kind, a field that is missing; in the words of whoever reads JSON.
    #[error("{0}")]
    Form(String),
    /// A plan that was made without a request.
    #[error("the plan does not say what was asked, so it cannot be gone on from")]
    NotAsked,
    /// A value that does not follow from the rest of the plan.
    #[error("is {got}, and by the rest of the plan it is {right}")]
    Differs {
        /// What the file has.
        got: Excerpt,
        /// What would be right.
        right: Excerpt,
    },
    /// A field that no plan has.
    #[error("no plan has such a field here")]
    NoField,
    /// Another number of entries.
    #[error("has {got} entries, and by the rest of the plan there are {right}")]
    Entries {
        /// What the file has.
        got: usize,
        /// What would be right.
        right: usize,
    },
    /// A place in a list that is not there.
    #[error("is {got}, and there are only {of}")]
    NoSuch {
        /// What the file has.
        got: usize,
        /// How many there are.
        of: usize,
    },
    /// A box that is not of the size that it is said to be.
    #[error("the piece is {has}, and its size is sawn {takes}")]
    Size {
        /// The box.
        has: String,
        /// What its size takes.
        takes: String,
    },
    /// What the replay does not confirm.
    #[error("the replay does not confirm the sawing: {0}")]
    Replay(ReplayFault),
    /// A word among what was typed that is no name of anything.
    #[error("is no name of anything that can be asked")]
    NoSuchWord,
    /// A second text where one is asked for.
    #[error("has a second text, {got}")]
    TwoWords {
        /// The second.
        got: Excerpt,
    },
    /// More faults than are told.
    #[error("{more} more values differ")]
    More {
        /// How many more.
        more: usize,
    },
}

impl PlanFileFault {
    /// Whether the message goes on where the name of the field ends.
    pub(super) fn is_said_of_the_field(&self) -> bool {
        matches!(
            self,
            Self::Differs { .. }
                | Self::Entries { .. }
                | Self::NoSuch { .. }
                | Self::NoSuchWord
                | Self::TwoWords { .. }
        )
    }
}
