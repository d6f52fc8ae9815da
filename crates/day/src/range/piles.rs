//! A simulated pile, log by log: what a caller may keep of each.

use super::LogAgain;
use pithward_optimizer::CutId;
use std::sync::Arc;

/// A pile that was simulated.
#[derive(Debug)]
pub struct SimulatedPile<T> {
    /// How much longer than stated the whole day takes, as a factor.
    pub day: f64,
    /// The logs that are sawn, in the order of sawing.
    pub logs: Vec<SimulatedLog<T>>,
}

/// One of its logs.
#[derive(Debug)]
pub struct SimulatedLog<T> {
    /// Its place in the job.
    pub log: usize,
    /// What was kept of its plan; logs that are sawn alike share it.
    pub kept: Arc<T>,
    /// Its board feet by named sizes, millionths.
    pub board_feet: i64,
    /// How much longer it takes than by the pace of its day, as a factor.
    pub pace: f64,
    /// Times that the blade meets metal in it.
    pub struck: u32,
    /// The cuts of its pieces, where what was hidden in it took some away; `None` where all of its plan came.
    pub cuts: Option<Vec<CutId>>,
}

impl<T> Clone for SimulatedPile<T> {
    fn clone(&self) -> Self {
        Self { day: self.day, logs: self.logs.clone() }
    }
}

impl<T> Clone for SimulatedLog<T> {
    fn clone(&self) -> Self {
        Self {
            kept: Arc::clone(&self.kept),
            cuts: self.cuts.clone(),
            log: self.log,
            board_feet: self.board_feet,
            pace: self.pace,
            struck: self.struck,
        }
    }
}

impl<T> SimulatedPile<T> {
    /// Its logs, as they are reckoned.
    pub(super) fn again(&self) -> Vec<LogAgain<'_, T>> {
        let logs = self.logs.iter().map(|of| LogAgain {
            log: of.log,
            kept: &*of.kept,
            board_feet: of.board_feet,
            pace: self.day * of.pace,
            struck: of.struck,
        });
        logs.collect()
    }
}
