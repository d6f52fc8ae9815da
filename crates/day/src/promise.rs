//! All that follows from a plan, together: what may be said of a job before the day.

use crate::goods::{Goods, Supplies, Work};
use crate::hours::PlannedHours;
use crate::money::{Done, Price};
use pithward_geometry::ReplayFault;
use pithward_job::PileJob;
use pithward_optimizer::PilePlan;

/// What follows from a plan of a job.
#[derive(Clone, Debug)]
pub struct Promise {
    /// How long it takes.
    pub hours: PlannedHours,
    /// What is billed.
    pub done: Done,
    /// What it costs.
    pub price: Price,
    /// What it is made of.
    pub goods: Goods,
    /// Fuel, water and blades.
    pub supplies: Supplies,
}

impl Promise {
    /// What follows from a plan of a job, stems bucked. `start` is when a day begins, in minutes after midnight.
    ///
    /// # Errors
    /// A sawing order that cannot be gone through, as no confirmed plan has.
    pub fn of(job: &PileJob, plan: &PilePlan, start: Option<u32>) -> Result<Self, ReplayFault> {
        let hours = PlannedHours::of(job, plan, start);
        let done = Done::planned(job, plan, &hours);
        let price = Price::of(&done, &job.charges);
        let goods = Goods::of(job, plan)?;
        let supplies = Supplies::of(&job.stores, &work(&hours));
        Ok(Self { hours, done, price, goods, supplies })
    }
}

/// What some hours ask of the engine, the water and the blades. The engine runs while there is work at the logs; water runs
/// while the blade is on its way through the log and back.
pub fn work(hours: &PlannedHours) -> Work {
    let all = &hours.hours;
    Work {
        engine_hours: all.at_the_saw() / 60.0,
        sawing_hours: (all.steps.sawing + all.steps.back) / 60.0,
        blades_dulled: hours.logs.iter().map(|log| log.wear + f64::from(log.strikes)).sum(),
    }
}
