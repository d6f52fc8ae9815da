//! The tally: what is said as the day goes, kept line by line, and what follows from it.
//!
//! A job has one tally, a file beside the job file that is only ever added to. Every entry is a line that a person can
//! read; it is in the file and on the disk before anybody is told that it is kept. Nothing is erased: what was wrong is
//! undone by another entry.
//!
//! This crate knows no plan, no money and no printing, and never looks at a clock: the time is handed in.
//!
//! | to | see |
//! |---|---|
//! | say something | [`Said`], [`Entry`] |
//! | read what somebody typed | [`Meant`], [`read_at`] |
//! | add it to the file | [`append`](append()) |
//! | add what a phone has kept | [`Import`] |
//! | read a file | [`open`], [`Record`] |
//! | know how the day stands | [`SoFar`] |

mod append;
mod entry;
mod import;
mod line;
mod meant;
mod names;
mod record;
mod so_far;
mod time;
mod words;

pub use append::{AppendFault, Appended, Draft, append, beside, open};
pub use entry::{BladeEnd, Doing, Entry, Off, Said, SizeCount, Wanted};
pub use import::{Import, ImportFault, ImportFaultKind, Imported};
pub use meant::{Meant, MeantFault};
pub use record::{ReadFault, Record, Recorded, Warning, WarningKind};
pub use so_far::{
    BladeChange, ClockBack, Finding, LogSoFar, LogState, NoPlan, Pause, Piece, Planned, Remark,
    SoFar, Spent, Stretch, WantSoFar,
};
pub use time::{TimeFault, read_at, whole_seconds};
pub use words::{LONGEST_TEXT, MOST_COUNT, WordFault, WordFaultKind, split_words};
