//! What a simulated day comes to: hours, price and blades, by whoever knows how to reckon them.

use pithward_job::{JobLog, PileJob, PlanCounts};
use pithward_measure::Money;
use pithward_optimizer::LogPlan;

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
    /// What the customer pays; `None` where the mill states no price.
    pub price: Option<Money>,
    /// Blades that are taken.
    pub blades: u32,
}

/// The steps of the logs alone, by the mill's [`Pace`](pithward_job::Pace) and its rate by the hour; a blade is changed
/// after so long in the wood, and when it meets metal.
#[derive(Clone, Copy, Debug)]
pub struct BySteps<'a> {
    /// The job.
    pub job: &'a PileJob,
}

/// Minutes in the wood after which a blade is changed: between an hour and a half and two. Common practice, no source.
const BLADE: f64 = 105.0;

impl Reckon for BySteps<'_> {
    type Kept = PlanCounts;

    fn keep(&self, log: &JobLog, plan: &LogPlan) -> PlanCounts {
        PlanCounts::of(&log.log, log.species, &plan.order, &plan.replayed)
    }

    fn day(&self, logs: &[LogAgain<'_, PlanCounts>]) -> Reckoned {
        let pace = &self.job.pace;
        let metal = self.job.doubt.metal.time.as_secs_f64() / 60.0;
        let (mut minutes, mut in_wood, mut struck) = (0.0, 0.0, 0);
        for log in logs {
            minutes += pace.minutes(log.kept) * log.pace + metal * f64::from(log.struck);
            in_wood += pace.time(log.kept).sawing * log.pace;
            struck += log.struck;
        }
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "some blades; `as` saturates"
        )]
        let worn = (in_wood / BLADE) as u32;
        let first = u32::from(!logs.is_empty());
        Reckoned { minutes, price: pace.cost(minutes), blades: first + worn + struck }
    }
}
