//! What a simulated day comes to: hours, price and blades, by whoever knows how to reckon them.

use crate::hours::{Hours, LogHours};
use crate::money::{Done, LogDone, Price, SawnLog, Way};
use pithward_job::{JobLog, PileJob, PlanCounts};
use pithward_measure::Money;
use pithward_optimizer::{LogPlan, Want};
use pithward_trade::Species;
use std::time::Duration;

/// Whoever knows what sawing takes.
pub trait Reckon: Sync {
    /// What of the plan of a log the reckoning needs. It is made once for each pattern and kept.
    type Kept: Send + Sync;

    /// Of a log as the job has it, and a plan of it: what is needed.
    fn keep(&self, log: &JobLog, plan: &LogPlan) -> Self::Kept;

    /// What a day comes to on which these logs are sawn, in this order.
    fn day(&self, logs: &[LogAgain<'_, Self::Kept>]) -> Reckoned;
}

/// A log of a simulated day.
#[derive(Clone, Copy, Debug)]
pub struct LogAgain<'a, T> {
    /// Its place in the job.
    pub log: usize,
    /// What was kept of its plan.
    pub kept: &'a T,
    /// Its board feet by named sizes, millionths.
    pub board_feet: i64,
    /// How much longer than by the pace all its steps take, as a factor.
    pub pace: f64,
    /// Times that the blade meets metal in it.
    pub struck: u32,
}

/// What a simulated day comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reckoned {
    /// All minutes.
    pub minutes: f64,
    /// What the customer pays in money, in each way of [`Way::ALL`]; `None` where the mill does not state it.
    pub prices: [Option<Money>; Way::ALL.len()],
    /// What the sawyer is paid in lumber where the mill states a share, millionths of a board foot.
    pub in_lumber: Option<i64>,
    /// Blades that are taken.
    pub blades: u32,
}

impl Reckoned {
    /// What the customer pays by the first way that the mill states; `None` where it states none.
    pub fn price(&self) -> Option<Money> {
        self.prices.into_iter().flatten().next()
    }
}

/// Hours, prices and blades as those of a plan are reckoned: by [`Hours`] and [`Price`].
#[derive(Clone, Debug)]
pub struct ByHours<'a> {
    job: &'a PileJob,
    menus: Vec<Vec<Want>>,
    /// Every wood of the job, and its menu.
    woods: Vec<(Option<&'static Species>, usize)>,
}

/// What [`ByHours`] needs of the plan of a log.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KeptHours {
    hours: LogHours,
    sawn: SawnLog,
}

impl KeptHours {
    /// What it takes, and what of it is billed.
    pub(crate) fn parts(&self) -> (&LogHours, &SawnLog) {
        (&self.hours, &self.sawn)
    }
}

impl<'a> ByHours<'a> {
    /// The hours, price and blades of a job.
    pub fn of(job: &'a PileJob) -> Self {
        let pile = job.pile();
        let mut woods: Vec<(Option<&'static Species>, usize)> = Vec::new();
        for (log, of) in job.logs.iter().zip(&pile.logs) {
            if woods.iter().all(|(known, _)| *known != log.species) {
                woods.push((log.species, of.menu));
            }
        }
        Self { job, menus: pile.menus, woods }
    }
}

impl Reckon for ByHours<'_> {
    type Kept = KeptHours;

    fn keep(&self, log: &JobLog, plan: &LogPlan) -> KeptHours {
        let counts = PlanCounts::of(&log.log, log.species, &plan.order, &plan.replayed);
        let menu = self.woods.iter().find(|(known, _)| *known == log.species);
        let menu = menu.and_then(|(_, menu)| self.menus.get(*menu));
        KeptHours {
            hours: LogHours::of(&counts, &self.job.pace, &self.job.yard),
            sawn: SawnLog::of(self.job, &log.log, plan, menu.map_or(&[][..], Vec::as_slice)),
        }
    }

    fn day(&self, logs: &[LogAgain<'_, KeptHours>]) -> Reckoned {
        let minutes = |time: Duration| time.as_secs_f64() / 60.0;
        let job = self.job;
        // Changing the blade is in the hours already.
        let more = (minutes(job.doubt.metal.time) - minutes(job.pace.blade.change)).max(0.0);
        let one = |log: &LogAgain<'_, KeptHours>| {
            let hours = log.kept.hours.at_pace(log.pace);
            let metal = more * f64::from(log.struck);
            LogHours {
                minutes: hours.minutes + metal,
                waits: hours.waits + metal,
                strikes: log.struck,
                ..hours
            }
        };
        let all: Vec<LogHours> = logs.iter().map(one).collect();
        let hours = Hours::of(&all, &job.pace, &job.yard, None);
        let sawn = logs.iter().zip(&all);
        let sawn = sawn.map(|(log, hours)| {
            let SawnLog { log: sawn, odd } = &log.kept.sawn;
            LogDone {
                log: sawn.less(log.board_feet),
                odd: hours.minutes * odd,
                moving: job.yard.moving(&job.pace) * log.pace,
            }
        });
        let price = Price::of(&Done::of(job, &hours, sawn), &job.charges);
        let bill = |way: Way| price.by(way).and_then(|bill| bill.as_ref().ok());
        let in_money = |way: &Way| *way != Way::Share || job.charges.currency().is_some();
        let total = |way: Way| Some(way).filter(in_money).and_then(bill).map(|bill| bill.total);
        let in_lumber = bill(Way::Share).and_then(|bill| bill.in_lumber.as_ref());
        Reckoned {
            minutes: hours.on_site(),
            prices: Way::ALL.map(total),
            in_lumber: in_lumber.map(|lumber| lumber.board_feet),
            blades: hours.blades(),
        }
    }
}
