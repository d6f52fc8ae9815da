//! What one log takes.

use std::time::Duration;

use pithward_job::{Pace, PlanCounts, PlanTime, Stacking, Yard};

/// What one log takes, in minutes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LogHours {
    /// Its steps, with loading by the yard.
    pub steps: PlanTime,
    /// Boards stacked by the sawyer.
    pub stacking: f64,
    /// What comes between: fuel, water, sawdust, talk, and waiting for helpers.
    pub waits: f64,
    /// Of that, how long the saw waits for helpers who stack.
    pub waits_for_helpers: f64,
    /// All of it.
    pub minutes: f64,
    /// Sawn area, square feet.
    pub area: f64,
    /// How much of a blade's area that is: 1 wears one out.
    pub wear: f64,
    /// Blades that meet metal in it.
    pub strikes: u32,
}

impl LogHours {
    /// What a plan takes at a pace, in a yard.
    pub fn of(counts: &PlanCounts, pace: &Pace, yard: &Yard) -> Self {
        let minutes = |time: Duration| time.as_secs_f64() / 60.0;
        let helpers = yard.helpers(pace);
        let pace = Pace { helpers, ..*pace };
        let mut steps = pace.time(counts);
        steps.load += yard.load(&pace) - minutes(pace.load);
        let carried = f64::from(counts.pieces) * minutes(pace.day.stack);
        let (stacking, clearing) = match yard.stacking(&pace) {
            Stacking::Sawyer => (carried, 0.0),
            Stacking::Customer => (0.0, 0.0),
            Stacking::Helpers => (0.0, steps.take + carried / f64::from(helpers.max(1))),
        };
        let work = steps.minutes() + stacking;
        let usual = pace.with_waits(work);
        let minutes = usual.max(clearing);
        let area = counts.sawn_area();
        Self {
            steps,
            stacking,
            waits: minutes - work,
            waits_for_helpers: minutes - usual,
            minutes,
            area,
            wear: area / pace.blade.area(counts.wood, yard.dirty, yard.frozen),
            strikes: 0,
        }
    }

    /// The same at another pace: everything takes so many times as long.
    #[must_use]
    pub fn at_pace(self, share: f64) -> Self {
        Self {
            steps: scaled(self.steps, share),
            stacking: self.stacking * share,
            waits: self.waits * share,
            waits_for_helpers: self.waits_for_helpers * share,
            minutes: self.minutes * share,
            ..self
        }
    }
}

fn scaled(steps: PlanTime, share: f64) -> PlanTime {
    PlanTime {
        load: steps.load * share,
        turns: steps.turns * share,
        sawing: steps.sawing * share,
        back: steps.back * share,
        set: steps.set * share,
        take: steps.take * share,
        edging: steps.edging * share,
        shifts: steps.shifts * share,
    }
}
