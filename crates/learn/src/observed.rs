//! What jobs that are done came to, in the quantities that are learned from.

use pithward_job::{PlanCounts, Yard};

/// What some jobs came to. All places are those of the lists in it.
#[derive(Clone, Debug, Default)]
pub struct Observed {
    /// The yard of every job, in the order of the jobs.
    pub yards: Vec<Yard>,
    /// The logs that were sawn.
    pub logs: Vec<LogDone>,
    /// The days of work.
    pub days: Vec<DayDone>,
    /// Moves of the mill to another place of the yard.
    pub moves: Vec<MoveDone>,
    /// The blades.
    pub blades: Vec<BladeDone>,
}

/// A log that was sawn.
#[derive(Clone, Debug)]
pub struct LogDone {
    /// The job, a place in [`Observed::yards`].
    pub job: usize,
    /// What it is called.
    pub id: String,
    /// The day of work on which it was sawn, a place in [`Observed::days`].
    pub day: usize,
    /// What of its plan takes time.
    pub counts: PlanCounts,
    /// Minutes of work while it was on the mill, without pauses; `None` where the clock or the tally does not say, or where
    /// what was found in it made the plan another one.
    pub minutes: Option<f64>,
    /// Blades that were changed in that time.
    pub changes: u32,
    /// What came out; `None` where nobody told it, or where hidden rot or metal took some of it: that is in doubt by itself.
    pub outcome: Option<Outcome>,
}

/// What came out of a log, against its plan.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Outcome {
    /// Pieces that were planned.
    pub planned: u32,
    /// Of these, how many came out at the size that was planned.
    pub came: u32,
    /// Millionths of a board foot that were planned.
    pub planned_feet: i64,
    /// Millionths of a board foot that came out, at whatever size.
    pub came_feet: i64,
}

/// A day of work.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct DayDone {
    /// The job, a place in [`Observed::yards`].
    pub job: usize,
    /// It is the first of its job: the mill was set up.
    pub first: bool,
    /// It is the last of its job: the mill was packed up.
    pub last: bool,
    /// Minutes of setting up or uncovering, where they were told.
    pub opening: Option<f64>,
    /// Minutes of packing up or covering up, where they were told.
    pub closing: Option<f64>,
}

/// A move of the mill to another place of the yard: packing up there and setting up here with it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct MoveDone {
    /// The job, a place in [`Observed::yards`].
    pub job: usize,
    /// What it took, minutes.
    pub minutes: f64,
}

/// What a blade sawed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BladeDone {
    /// The job, a place in [`Observed::yards`].
    pub job: usize,
    /// The logs that it sawed.
    pub logs: Vec<BladeLog>,
    /// It came off because it was dull; else it lasted longer than that.
    pub dull: bool,
}

/// A log that a blade sawed, or a part of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BladeLog {
    /// The log, a place in [`Observed::logs`].
    pub log: usize,
    /// How much of it, from 0 to 1.
    pub share: f64,
}

impl Observed {
    /// All that another has as well.
    pub fn add(&mut self, other: Self) {
        let (jobs, logs, days) = (self.yards.len(), self.logs.len(), self.days.len());
        self.yards.extend(other.yards);
        let of_log = |log: LogDone| LogDone { job: log.job + jobs, day: log.day + days, ..log };
        self.logs.extend(other.logs.into_iter().map(of_log));
        self.days.extend(other.days.into_iter().map(|day| DayDone { job: day.job + jobs, ..day }));
        self.moves.extend(other.moves.into_iter().map(|of| MoveDone { job: of.job + jobs, ..of }));
        self.blades.extend(other.blades.into_iter().map(|blade| BladeDone {
            job: blade.job + jobs,
            logs: blade.logs.iter().map(|of| BladeLog { log: of.log + logs, ..*of }).collect(),
            ..blade
        }));
    }

    /// Logs whose minutes are known.
    pub fn timed(&self) -> usize {
        self.logs.iter().filter(|log| log.minutes.is_some()).count()
    }
}
