//! How long a job takes: each log by the steps of its plan, and the days around them.
//!
//! # One log
//! The steps are those of [`Pace`], but for loading, which is by the yard. Boards are stacked by the sawyer while the mill
//! stands, by the customer in his own time, or by helpers while the saw goes on; with a load of boards that they cannot
//! clear in the log's time, the saw waits for them:
//! ```text
//! T = max { (load + steps + stacking) / utilisation,  take away + pieces stack / helpers }
//! ```
//! # Blades
//! One is changed when it has sawn its area or was in the wood for its hours, whichever comes first. Both wear off in the
//! same share of a log, so with several woods the shares add up. The last of a day or of the job is not changed for having
//! come to its end; the next cut is. A blade that meets metal is changed at once.
//!
//! # The days
//! Logs are sawn in their order. A log is begun where it ends, with packing up or covering up behind it, within the day; one
//! that is longer than a day has a day of its own, and overruns it. A break falls due after so much work, none at the end of a
//! day. The mill stays where it stands: set up once, covered up and uncovered overnight, moved as often as the yard says, at
//! even places of the order.
//! ```text
//! day = open + logs + changes + moves + close + (ceil(work / every) - 1) break
//! ```
//! `O(logs)` time. Setting up, packing up and covering up are not divided by the utilisation.

mod days;
mod log;
#[cfg(test)]
mod tests;

pub use days::{Day, LogPlace};
pub use log::LogHours;

use pithward_job::{Pace, PileJob, PlanCounts, PlanTime, Yard};
use pithward_optimizer::{LogFate, PilePlan};

/// How long a job takes, in minutes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Hours {
    /// The days, one at least where a log is sawn.
    pub days: Vec<Day>,
    /// Where each log falls, in the order of sawing.
    pub logs: Vec<LogPlace>,
    /// The steps of all logs together.
    pub steps: PlanTime,
    /// Boards stacked by the sawyer.
    pub stacking: f64,
    /// What comes between the steps: fuel, water, sawdust, talk, and waiting for helpers.
    pub waits: f64,
    /// All work at the logs: steps, stacking and waits.
    pub at_logs: f64,
    /// Changes of worn blades.
    pub worn: u32,
    /// Changes of blades that met metal.
    pub struck: u32,
    /// All changes of blades.
    pub changes: f64,
    /// Setting up, with all its blocking, once.
    pub set_up: f64,
    /// Moves to another place of the yard.
    pub moves: f64,
    /// Covering up, uncovering and greasing, over all nights.
    pub nights: f64,
    /// Tarps laid out and emptied, over all days.
    pub tidy: f64,
    /// Packing up.
    pub pack_up: f64,
    /// Breaks.
    pub rests: f64,
    /// Sawn area, square feet.
    pub area: f64,
}

impl Hours {
    /// The hours of some logs, in the order in which they are sawn. `start` is when a day begins, in minutes after midnight;
    /// no day begins before the mill may be heard.
    pub fn of(logs: &[LogHours], pace: &Pace, yard: &Yard, start: Option<u32>) -> Self {
        days::split(logs, pace, yard, start)
    }

    /// Work at the logs and changes of blades.
    pub fn at_the_saw(&self) -> f64 {
        self.at_logs + self.changes
    }

    /// From setting up to packing up, without breaks.
    pub fn on_site(&self) -> f64 {
        self.at_the_saw() + self.set_up + self.moves + self.nights + self.tidy + self.pack_up
    }

    /// The same with the breaks.
    pub fn all(&self) -> f64 {
        self.on_site() + self.rests
    }

    /// Blades that are taken: the first, and one for each change.
    pub fn blades(&self) -> u32 {
        u32::from(!self.logs.is_empty()) + self.worn + self.struck
    }
}

/// The hours of a plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlannedHours {
    /// The logs that are sawn, in the order of sawing, each by its place in the pile.
    pub order: Vec<usize>,
    /// What each of them takes, in the same order.
    pub logs: Vec<LogHours>,
    /// The days.
    pub hours: Hours,
}

impl PlannedHours {
    /// What a plan of a job takes. `start` is when a day begins, in minutes after midnight.
    pub fn of(job: &PileJob, plan: &PilePlan, start: Option<u32>) -> Self {
        let (mut order, mut logs) = (Vec::new(), Vec::new());
        for log in plan.order.iter().flat_map(|lot| &lot.logs) {
            let (Some(LogFate::Sawn(sawn)), Some(of)) = (plan.logs.get(*log), job.logs.get(*log))
            else {
                continue;
            };
            let counts = PlanCounts::of(&of.log, of.species, &sawn.order, &sawn.replayed);
            order.push(*log);
            logs.push(LogHours::of(&counts, &job.pace, &job.yard));
        }
        let hours = Hours::of(&logs, &job.pace, &job.yard, start);
        Self { order, logs, hours }
    }
}
