//! The ranges of a kept promise, as those of a simulation, so that nobody simulates again to show them.

use pithward_job::PileJob;
use pithward_optimizer::PilePlan;

use super::{Kept, KeptCount};
use crate::promise::Promise;
use crate::range::{Forecast, WantRange};

/// Minutes by which hours may be off that were kept to the microsecond.
const SAME: f64 = 1e-3;

impl Kept {
    /// Whether it is of this job as it is now, and of this plan: the same files, counts, hours and board feet.
    pub fn is_of(&self, job: &PileJob, plan: &PilePlan, promise: &Promise) -> bool {
        let hours = promise.hours.hours.on_site();
        let planned = plan.tally.iter().map(|tally| tally.given + tally.extra);
        self.changed(&job.inputs).is_empty()
            && self.planned.board_feet == plan.board_feet
            && (self.planned.on_site - hours).abs() <= SAME
            && self.wants.iter().map(|want| want.planned).eq(planned)
    }

    /// The ranges that were promised, as those of a simulation; what makes them wide and what the pieces are worth is not
    /// kept. `None` where none was simulated.
    pub fn forecast(&self) -> Option<Forecast> {
        let ranges = self.ranges?;
        let want = |promised: KeptCount, asked| {
            let KeptCount { pieces, safe, filled } = promised;
            WantRange { asked, pieces, safe, filled }
        };
        let wants = self.wants.iter().map(|of| Some(want(of.promised?, of.asked)));
        Some(Forecast {
            seed: self.seed,
            piles: u32::try_from(self.piles.len()).unwrap_or(u32::MAX),
            stopped: false,
            wants: wants.collect::<Option<Vec<_>>>()?,
            board_feet: ranges.board_feet,
            worth: None,
            minutes: ranges.minutes,
            price: ranges.price,
            prices: ranges.prices,
            in_lumber: ranges.in_lumber,
            blades: ranges.blades,
            shares: Vec::new(),
            lifted: [self.lift, 1.0],
            searches: 0,
            patterns: self.patterns.len(),
        })
    }
}
