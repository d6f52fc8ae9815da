//! How a log, a want and a piece are called, for whoever shows them in another way than as a page of text.

use crate::card::setup;
use crate::names;
use pithward_job::{LogJob, PileJob};
use pithward_measure::Length;
use pithward_optimizer::{LogPlan, WantId};

/// A log's size and species, as the head of its card has them.
pub fn log_called(job: &LogJob) -> String {
    setup::log(job)
}

/// A line of the list, by its place in it.
pub fn want_called(job: &PileJob, want: usize) -> String {
    names::want_row(job, WantId(want))
}

/// The same of the list of one log.
pub fn log_want_called(job: &LogJob, want: usize) -> String {
    names::want_row(job, WantId(want))
}

/// What each piece of a plan is called, in the order of its pieces: `2x6x12`.
pub fn pieces_called(job: &LogJob, plan: &LogPlan) -> Vec<String> {
    names::pieces(job, plan).into_iter().map(names::sizes).collect()
}

/// A length along a log, with its unit.
pub fn length_called(job: &LogJob, length: Length) -> String {
    names::long(job, length)
}
