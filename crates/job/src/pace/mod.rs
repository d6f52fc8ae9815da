//! How long the steps of sawing take on one mill, and what a plan takes by them.
//!
//! # Model
//! A count of passes, by elements of the cycle:
//! ```text
//! T = load + level + turns turn + sum over passes (L / feed + L / return + set + take away) + batches edging + moves move
//! feed(w) = min(fastest, feed at a width x that width / w)
//! ```
//! Of a narrow cut the blade goes as fast as anybody walks; from some width on the engine or the gullets give out, and
//! width times feed stays the same. `w` is the mean of the widths where the blade comes out at the ends, of an edging the
//! thickness of all that stands side by side. Blade changes, setting up and packing up are no part of it: what a day
//! takes besides stands in [`WorkDay`] and [`BladeLife`].
//!
//! # Figures
//! Every one is the mill's own to state ([`PaceForm`]). Where it states none, [`Pace::default`] has figures in the middle
//! of what sawyers tell of hydraulic trailer mills: common practice, no source. [`Pace::basis`] says of each which it is.

mod basis;
mod counts;
mod day;
mod file;
#[cfg(test)]
mod tests;
pub(crate) mod text;

pub use basis::Stated;
pub use counts::{PassCount, PlanCounts};
pub use day::{BladeLife, WorkDay};
pub use file::PaceForm;
pub(crate) use file::{PercentForm, pace};
pub(crate) use text::time;

use std::time::Duration;

use pithward_measure::Length;
use pithward_trade::species::Kind;

/// How long the steps of sawing take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pace {
    /// Loading a log that lies ready, up to the side stops.
    pub load: Duration,
    /// Choosing the first face, levelling the pith and clamping.
    pub level: Duration,
    /// Turning onto another face, with levelling and clamping again.
    pub turn: Duration,
    /// Feed in softwood, at a width of cut.
    pub softwood: Feed,
    /// The same in hardwood, and in wood that nobody named.
    pub hardwood: Feed,
    /// The fastest feed in any wood, per minute.
    pub fastest: Length,
    /// The way back, per minute.
    pub back: Length,
    /// Setting the height of one pass.
    pub set: Duration,
    /// Taking away what a pass frees, without a helper.
    pub take_alone: Duration,
    /// The same with one helper or more.
    pub take_helped: Duration,
    /// How many help.
    pub helpers: u32,
    /// Handling one batch of flitches: onto the mill, clamped, turned over. Its passes are counted as passes.
    pub edging: Duration,
    /// Taking a part off the mill that goes on again later, or putting it on.
    pub shift: Duration,
    /// How much of the time goes to all these steps, thousandths; the rest is fuel, water, sawdust and talk.
    pub utilisation: u32,
    /// What a day takes beside the logs.
    pub day: WorkDay,
    /// How long a blade lasts.
    pub blade: BladeLife,
    /// Which of the figures the mill states itself.
    pub stated: Stated,
    /// Which of them it learned from its own jobs.
    pub learned: Stated,
}

/// A feed at a width of cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Feed {
    /// So far in a minute.
    pub per_minute: Length,
    /// At this width.
    pub at: Length,
}

impl Default for Pace {
    /// A hydraulic trailer mill with one helper. Each figure is in the middle of what sawyers tell, common practice, no
    /// source: the time that a plan takes moves with it as [`Pace`] says.
    fn default() -> Self {
        let feed = |feet| Feed { per_minute: Length::feet(feet), at: Length::inches(10) };
        Self {
            load: Duration::from_secs(90),
            level: Duration::from_secs(45),
            turn: Duration::from_secs(55),
            softwood: feed(55),
            hardwood: feed(32),
            fastest: Length::feet(70),
            back: Length::feet(90),
            set: Duration::from_secs(6),
            take_alone: Duration::from_secs(22),
            take_helped: Duration::from_secs(8),
            helpers: 1,
            edging: Duration::from_secs(60),
            shift: Duration::from_secs(30),
            utilisation: 750,
            day: WorkDay::default(),
            blade: BladeLife::default(),
            stated: Stated::default(),
            learned: Stated::default(),
        }
    }
}

/// What a plan takes, by steps, in minutes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PlanTime {
    /// Loading, and levelling for the first face.
    pub load: f64,
    /// Turning.
    pub turns: f64,
    /// The blade in the wood.
    pub sawing: f64,
    /// The way back.
    pub back: f64,
    /// Setting heights.
    pub set: f64,
    /// Taking away.
    pub take: f64,
    /// Handling batches of flitches.
    pub edging: f64,
    /// Parts taken off and put on again.
    pub shifts: f64,
}

impl PlanTime {
    /// All steps together.
    pub fn minutes(&self) -> f64 {
        let steps = [self.load, self.turns, self.sawing, self.back];
        let more = [self.set, self.take, self.edging, self.shifts];
        steps.iter().chain(&more).sum()
    }

    /// The steps of several plans together.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            load: self.load + other.load,
            turns: self.turns + other.turns,
            sawing: self.sawing + other.sawing,
            back: self.back + other.back,
            set: self.set + other.set,
            take: self.take + other.take,
            edging: self.edging + other.edging,
            shifts: self.shifts + other.shifts,
        }
    }
}

impl Pace {
    /// What the steps of a plan take.
    pub fn time(&self, counts: &PlanCounts) -> PlanTime {
        let minutes = |time: Duration| time.as_secs_f64() / 60.0;
        let passes = f64::from(counts.passes());
        let take = if self.helpers > 0 { self.take_helped } else { self.take_alone };
        let long = counts.length;
        PlanTime {
            load: minutes(self.load) + minutes(self.level),
            turns: f64::from(counts.turns) * minutes(self.turn),
            sawing: counts
                .of_log
                .iter()
                .chain(&counts.of_edging)
                .map(|pass| long / self.feed(counts.wood, pass.width))
                .sum(),
            back: passes * (long / self.back.inches_f64()),
            set: passes * minutes(self.set),
            take: passes * minutes(take),
            edging: f64::from(counts.batches) * minutes(self.edging),
            shifts: f64::from(counts.shifts) * minutes(self.shift),
        }
    }

    /// What a plan takes with all that comes between its steps, minutes.
    pub fn minutes(&self, counts: &PlanCounts) -> f64 {
        self.with_waits(self.time(counts).minutes())
    }

    /// So many minutes of steps with all that comes between them.
    pub fn with_waits(&self, minutes: f64) -> f64 {
        minutes * 1000.0 / f64::from(self.utilisation.max(1))
    }

    /// Feed in a wood at a width of cut, inches a minute.
    fn feed(&self, wood: Option<Kind>, width: f64) -> f64 {
        let Feed { per_minute, at } = match wood {
            Some(Kind::Softwood) => self.softwood,
            Some(Kind::Hardwood) | None => self.hardwood,
        };
        let fastest = self.fastest.inches_f64();
        if width <= 0.0 {
            return fastest;
        }
        (per_minute.inches_f64() * at.inches_f64() / width).min(fastest)
    }
}
