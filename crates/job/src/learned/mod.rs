//! What a mill's own past jobs came to: how many of the planned pieces come out, `[recovery]` of the mill file, and what
//! its figures were learned from, `[learned]`.
//!
//! # Recovery
//! A plan is what the wood holds and the mill can saw. Boards that break, that are sawn too thin, or that nobody wants to
//! see on the pile are none of its pieces. So every planned piece is taken to come out by chance: of a hundred of
//! softwood so many, of hardwood so many. Pieces of one log are lost together, more or less ([`Recovery::together`]), and
//! the chance itself is known only so well ([`Recovery::unsure`]). The plan stays as it is; a forecast reckons with it.
//!
//! What hidden rot and metal take is no part of it: that is in [`Doubt`](crate::Doubt).

mod file;
#[cfg(test)]
mod tests;

pub use file::{LearnedForm, RecoveryForm};
pub(crate) use file::{learned, recovery};

use pithward_trade::species::Kind;

/// How many of the planned pieces come out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recovery {
    /// Of softwood, as a share from 0 to 1.
    pub softwood: f64,
    /// The same of hardwood, and of wood that nobody named.
    pub hardwood: f64,
    /// How far these shares may be off, one standard deviation.
    pub unsure: f64,
    /// How far pieces of one log are lost together, from 0, each by itself, to 1, all or none: the correlation of any two
    /// of them.
    pub together: f64,
    /// The mill states some of it.
    pub stated: bool,
}

/// What the figures of a mill file were learned from.
#[derive(Clone, Debug, PartialEq)]
pub struct Learned {
    /// The mill file that they were learned beside, as its name stands in this one.
    pub from: String,
    /// On which day, as free text.
    pub on: String,
    /// From how many jobs.
    pub jobs: u32,
    /// From how many logs.
    pub logs: u32,
    /// The fields of `[pace]` that were learned; all others are as the mill stated them.
    pub pace: Vec<&'static str>,
    /// How much faster or slower than the pace a whole day goes, one standard deviation of the logarithm; where a job
    /// says nothing of it. `None` where the mill says nothing.
    pub pace_day: Option<f64>,
    /// The same of a single log.
    pub pace_log: Option<f64>,
}

impl Default for Recovery {
    /// Every planned piece comes out.
    fn default() -> Self {
        Self { softwood: 1.0, hardwood: 1.0, unsure: 0.0, together: 0.0, stated: false }
    }
}

impl Recovery {
    /// Of a wood, as a share from 0 to 1.
    pub fn of(&self, wood: Option<Kind>) -> f64 {
        match wood {
            Some(Kind::Softwood) => self.softwood,
            Some(Kind::Hardwood) | None => self.hardwood,
        }
    }

    /// Every planned piece comes out for certain.
    pub fn is_whole(&self) -> bool {
        self.softwood >= 1.0 && self.hardwood >= 1.0 && self.unsure <= 0.0
    }
}
