//! What a sawyer's own past jobs say of the pace and of what comes out.
//!
//! A job that is done has what was planned of every log and what became of it: minutes and pieces. From some of them this
//! crate finds at which pace the mill really goes, how much that changes from day to day and from log to log, and how many
//! of the planned pieces come out. It never reads a file, never prints, and knows no clock.
//!
//! ```text
//! jobs that are done ─observe→ Observed ─Fit→ figures of the pace, each with its range
//!                                       ─Recovered→ the share of the planned pieces that comes out
//! ```
//!
//! | to | see |
//! |---|---|
//! | know what a job came to | [`JobDone`] |
//! | say it in the quantities that are learned from | [`Observed`], [`LogDone`], [`DayDone`], [`BladeDone`] |
//! | learn the pace | [`Fit`] |
//! | learn what comes out | [`Recovered`] |
//! | know a figure of the pace by its field | [`Figure`] |
//! | know whether a job was sawn with the same mill | [`built_otherwise`] |

mod done;
mod figure;
mod fit;
mod mill;
mod normal;
mod observed;
mod recovery;
mod regression;

pub use done::{JobDone, Why};
pub use figure::{Figure, Kind};
pub use fit::{Fit, Fitted, Knowledge, OddLog, Spread};
pub use mill::built_otherwise;
pub use observed::{BladeDone, BladeLog, DayDone, LogDone, MoveDone, Observed, Outcome};
pub use recovery::{Recovered, Share, WoodRecovery};
pub use regression::{Group, Posterior, Prior, Regression, Row};
