//! What can be said, in words: as people type it, as a page on a phone writes it, and as the file keeps it.
//!
//! ```text
//! begin [setup | saw | logs | move | pack]   saw where it is left out
//! move                                       the same as `begin move`
//! pause [why]
//! stop
//! on LOG
//! off [LOG] PIECES | off PIECES from LOG     PIECES = [COUNT] SIZE { [COUNT] SIZE }, or planned
//! done [LOG]
//! found [LOG] WHAT
//! blade [dull | struck | ruined] [why]       dull where it is left out
//! want SIZE COUNT [line N]                   COUNT may be all
//! note WHAT
//! undo N
//! ```
//! Any beginning of a word that no other of these words has will do. A size may be followed by a comma and what is to be
//! remembered of the pieces. The words that an entry is kept in are of the same form, and read back as they were meant
//! without knowing the job: `off` has its log at the end, `found` always names one (`-` where there is none).

pub(crate) mod quoting;
mod read;
mod write;

pub(crate) use read::{Reading, read, verb};

use std::ops::Range;

use pithward_measure::{Excerpt, SizeFault};
use thiserror::Error;

/// Why words say nothing that can be kept, and which of them.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{kind}")]
pub struct WordFault {
    /// What is wrong.
    pub kind: WordFaultKind,
    /// Which words it is, from 0; empty for all.
    pub words: Range<usize>,
}

/// Why words say nothing that can be kept.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum WordFaultKind {
    /// Nothing was said.
    #[error("nothing is said")]
    Nothing,
    /// No word of the tally.
    #[error("{got} is no word of a tally")]
    NoWord {
        /// What was written.
        got: Excerpt,
        /// Words that are near, or begin so.
        near: Vec<&'static str>,
    },
    /// Not one of a few words.
    #[error("{got} is none of {}", listed(.of))]
    NoneOf {
        /// What was written.
        got: Excerpt,
        /// The words.
        of: &'static [&'static str],
    },
    /// A word that more than one begins with.
    #[error("{got} may be {}", listed(.of))]
    Ambiguous {
        /// What was written.
        got: Excerpt,
        /// What it may be.
        of: Vec<String>,
    },
    /// No such log.
    #[error("{got} is no log of the job")]
    NoLog {
        /// What was written.
        got: Excerpt,
        /// Logs with names like it.
        near: Vec<String>,
    },
    /// Something is missing behind the last word.
    #[error("{what} is missing")]
    Missing {
        /// What.
        what: &'static str,
    },
    /// More than there is a meaning for.
    #[error("{got} is left over")]
    LeftOver {
        /// What was written.
        got: Excerpt,
    },
    /// No size.
    #[error(transparent)]
    Size(#[from] SizeFault),
    /// A size without a length, where pieces are told.
    #[error("{got} has no length")]
    NoLength {
        /// What was written.
        got: Excerpt,
        /// The lengths in which the list wants it, as sizes.
        near: Vec<String>,
    },
    /// No count.
    #[error("a count must be a whole number between {least} and {most}, got {got}")]
    Count {
        /// The least.
        least: u32,
        /// The most.
        most: u32,
        /// What was written.
        got: Excerpt,
    },
    /// No number of an entry.
    #[error("{got} is no number of an entry")]
    NoEntry {
        /// What was written.
        got: Excerpt,
    },
    /// More text than a line takes.
    #[error("is too long: at most {most} characters can be kept in an entry")]
    TooLong {
        /// The most.
        most: usize,
    },
}

/// The most pieces of one size in an entry, and the most of one size that can be wanted.
pub const MOST_COUNT: u32 = 10_000;

/// The most characters of free text in an entry.
pub const LONGEST_TEXT: usize = 500;

impl WordFaultKind {
    /// What would be right.
    pub fn help(&self) -> String {
        match self {
            Self::Nothing => format!("say one of {}", listed(&read::VERBS)),
            Self::NoWord { near, .. } if near.is_empty() => {
                format!("say one of {}", listed(&read::VERBS))
            }
            Self::NoWord { near, .. } => format!("did you mean {}?", listed(near)),
            Self::NoneOf { of, .. } => {
                format!("write one of {}, or as much of it as is its own", listed(of))
            }
            Self::Ambiguous { .. } => "write one letter more".to_owned(),
            Self::NoLog { near, .. } if near.is_empty() => "name a log as the job does".to_owned(),
            Self::NoLog { near, .. } => {
                format!("name a log as the job does; the nearest: {}", listed(near))
            }
            Self::Missing { what } => format!("write {what} behind it"),
            Self::LeftOver { .. } => "leave it out, or say it as an entry of its own".to_owned(),
            Self::Size(_) => {
                "write pieces as in `off 4 2x8x12 3 1x6x10`: count, then thickness x width x length"
                    .to_owned()
            }
            Self::NoLength { near, .. } if near.is_empty() => {
                "write the length behind a second x, as in 2x8x12".to_owned()
            }
            Self::NoLength { near, .. } => {
                format!("write the length too; the list wants {}", listed(near))
            }
            Self::Count { .. } => "write a count as digits, without a unit".to_owned(),
            Self::NoEntry { .. } => {
                "write the number that stands before the entry, as in `undo 12`".to_owned()
            }
            Self::TooLong { .. } => "say it in two entries".to_owned(),
        }
    }
}

/// The words of a line that somebody typed, some of them in quotes; `None` where a quotation does not end.
pub fn split_words(line: &str) -> Option<Vec<String>> {
    let words = quoting::split(line).ok()?;
    Some(words.into_iter().map(|word| word.text).collect())
}

/// Words in a sentence: `a, b or c`.
pub(crate) fn listed(words: &[impl AsRef<str>]) -> String {
    match words {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [most @ .., last] => {
            let most: Vec<&str> = most.iter().map(AsRef::as_ref).collect();
            format!("{} or {}", most.join(", "), last.as_ref())
        }
    }
}
