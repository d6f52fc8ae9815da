//! How far what was said of a pile may be off: `[doubt]` of a job file.
//!
//! # Model
//! Every figure of a log is wrong by an error of its own, and by one that all logs share that the same person measured
//! in the same way: who reads a tape full reads it full all day. Errors are normal; each [`Spread`] is one standard
//! deviation. Two logs in three are within it, nineteen in twenty within twice as much.
//!
//! # Figures
//! Each may be stated ([`DoubtForm`]). Where none is, the defaults are in the middle of what sawyers tell: common
//! practice, no source. That an owner's guess is off by an inch, and board feet of a 12 in log by 15 to 20 % with it, is
//! told in the same way.

mod file;
#[cfg(test)]
mod tests;

pub use file::DoubtForm;
pub(crate) use file::{MEASURED_HELP, doubt, measured_by, share};

use crate::learned::Learned;
use pithward_measure::Length;
use std::collections::BTreeMap;
use std::time::Duration;

/// How far what was said of a pile may be off.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubt {
    /// How the logs were measured that nothing else is said of.
    pub measured: Measured,
    /// Logs that were measured otherwise, by what they are called.
    pub otherwise: BTreeMap<String, Measured>,
    /// How far a log that was measured as `measured` says may be off.
    pub spread: Spread,
    /// Hidden rot.
    pub rot: HiddenRot,
    /// Hidden metal.
    pub metal: HiddenMetal,
    /// How much faster or slower than the stated pace a whole day goes, one standard deviation of the logarithm:
    /// 0.1 is about a tenth.
    pub pace_day: f64,
    /// The same of a single log, beside what its day has.
    pub pace_log: f64,
    /// The fields that the job states; all others are defaults.
    pub stated: Vec<&'static str>,
    /// The fields that the mill learned from its own jobs.
    pub of_mill: Vec<&'static str>,
}

/// How a log was measured.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Measured {
    /// With a tape or a calliper, at both ends.
    #[default]
    Tape,
    /// By the sawyer's eye.
    Eye,
    /// As its owner told.
    Told,
}

/// How far a log may be off, each one standard deviation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spread {
    /// Either diameter, the same at both ends, of every log by itself.
    pub diameter: Length,
    /// The same, for all logs together.
    pub shared: Length,
    /// The difference of the two ends.
    pub taper: Length,
    /// The length.
    pub length: Length,
}

/// Rot that does not show before the log lies on the mill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HiddenRot {
    /// How often a log has it, from 0 to 1.
    pub share: f64,
    /// How far from the pith it goes at the butt, as a share of the wood's radius there, from 0 to 1.
    pub radius: f64,
    /// How far up from the butt it goes.
    pub length: Length,
}

/// Metal that no one knows of before the blade meets it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HiddenMetal {
    /// How often a log has it, from 0 to 1.
    pub share: f64,
    /// The stretch of the log that is lost with it.
    pub stretch: Length,
    /// What changing the blade and getting the metal out takes.
    pub time: Duration,
}

impl Measured {
    /// All of them, the surest first.
    pub const ALL: [Self; 3] = [Self::Tape, Self::Eye, Self::Told];

    /// Its word in a job file.
    pub fn word(self) -> &'static str {
        match self {
            Self::Tape => "tape",
            Self::Eye => "eye",
            Self::Told => "told",
        }
    }

    /// How far a log may be off that was measured so: common practice, no source.
    pub fn usual(self) -> Spread {
        let quarters = |n: i64| Length::sixty_fourths(16) * n;
        let [diameter, shared, taper, length] = match self {
            Self::Tape => [quarters(1), Length::sixty_fourths(8), quarters(1), quarters(2)],
            Self::Eye => [quarters(3), quarters(2), quarters(2), quarters(8)],
            Self::Told => [quarters(4), quarters(3), quarters(3), quarters(12)],
        };
        Spread { diameter, shared, taper, length }
    }
}

impl Spread {
    /// Nothing is off.
    pub const NONE: Self = Self {
        diameter: Length::ZERO,
        shared: Length::ZERO,
        taper: Length::ZERO,
        length: Length::ZERO,
    };
}

impl Default for Doubt {
    /// Logs that were taped, with rot in three of a hundred and metal in two, on a day that goes a tenth faster or slower
    /// than stated: common practice, no source.
    fn default() -> Self {
        Self {
            measured: Measured::Tape,
            otherwise: BTreeMap::new(),
            spread: Measured::Tape.usual(),
            rot: HiddenRot { share: 0.03, radius: 0.4, length: Length::feet(3) },
            metal: HiddenMetal {
                share: 0.02,
                stretch: Length::inches(12),
                time: Duration::from_secs(600),
            },
            pace_day: 0.10,
            pace_log: 0.20,
            stated: Vec::new(),
            of_mill: Vec::new(),
        }
    }
}

impl Doubt {
    /// Nothing is off: what is said is so.
    pub fn none() -> Self {
        let whole = Self::default();
        Self {
            spread: Spread::NONE,
            rot: HiddenRot { share: 0.0, ..whole.rot },
            metal: HiddenMetal { share: 0.0, ..whole.metal },
            pace_day: 0.0,
            pace_log: 0.0,
            ..whole
        }
    }

    /// How a log was measured.
    pub fn measured(&self, log: &str) -> Measured {
        self.otherwise.get(log).copied().unwrap_or(self.measured)
    }

    /// How far a log may be off: as the job states of those that were measured as most are, as usual of others.
    pub fn spread(&self, log: &str) -> Spread {
        let measured = self.measured(log);
        if measured == self.measured { self.spread } else { measured.usual() }
    }

    /// The same with what the mill learned of its pace, where the job does not say it.
    #[must_use]
    pub(crate) fn of_mill(mut self, learned: Option<&Learned>) -> Self {
        let Some(learned) = learned else { return self };
        for (field, figure, own) in [
            ("pace_day", &mut self.pace_day, learned.pace_day),
            ("pace_log", &mut self.pace_log, learned.pace_log),
        ] {
            if let Some(own) = own.filter(|_| !self.stated.contains(&field)) {
                *figure = own;
                self.of_mill.push(field);
            }
        }
        self
    }

    /// Whether the job states a field of `[doubt]`; else it has its default.
    pub fn is_stated(&self, field: &str) -> bool {
        self.stated.contains(&field)
    }
}
