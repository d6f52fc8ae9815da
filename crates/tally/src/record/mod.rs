//! A tally as it was read.

mod read;

pub use read::ReadFault;
pub(crate) use read::{Ending, read};

use crate::entry::Entry;

/// A tally: all that could be read of it, and what is not as it was written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Record {
    /// The entries in the order of the file, also those that are undone.
    pub entries: Vec<Recorded>,
    /// What is not as it was written, in the order of the file; those that were confirmed as well.
    pub warnings: Vec<Warning>,
}

/// An entry and what became of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recorded {
    /// The line of the file on which it stands, from 1.
    pub line: usize,
    /// The entry.
    pub entry: Entry,
    /// The number of the entry that undid it, and is not undone itself.
    pub undone_by: Option<u64>,
}

/// Something in the file that is not as it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Warning {
    /// The line, from 1.
    pub line: usize,
    /// What is wrong there.
    pub kind: WarningKind,
    /// An entry behind it says that the file counts as it is.
    pub confirmed: bool,
}

/// What is not as it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WarningKind {
    /// The first line does not say what the file is.
    NoHead,
    /// A line that cannot be read; it does not count.
    Unread {
        /// The line.
        text: String,
    },
    /// A line that was changed or added by hand; it counts as it is.
    Changed,
    /// Entries that were there are not.
    Missing {
        /// The number of the first.
        first: u64,
        /// The number of the last.
        last: u64,
    },
    /// The last entries that were kept are not there: the file ends before them. Stands behind its last line.
    CutOff {
        /// The number of the first.
        first: u64,
        /// The number of the last.
        last: u64,
    },
    /// An entry of this number was kept here, and it is another one: the file is not the one that was written.
    Other {
        /// The number.
        number: u64,
    },
    /// A number that an earlier entry has.
    Repeated {
        /// The number.
        number: u64,
    },
    /// The end of an entry that was never kept: whoever wrote it was stopped before it was told so. It does not count.
    Torn {
        /// What there is of it.
        text: String,
    },
    /// An entry that undoes one that is not there.
    NothingUndone {
        /// The number that it names.
        entry: u64,
    },
}

impl Record {
    /// The entries that are not undone, in the order of the file.
    pub fn counted(&self) -> impl Iterator<Item = &Entry> {
        let counts = |recorded: &&Recorded| recorded.undone_by.is_none();
        self.entries.iter().filter(counts).map(|recorded| &recorded.entry)
    }

    /// What is wrong and was not confirmed.
    pub fn open_warnings(&self) -> impl Iterator<Item = &Warning> {
        self.warnings.iter().filter(|warning| !warning.confirmed)
    }
}
