//! Where a figure comes from that is taken for granted unless somebody states it, and how much it is.

use std::time::Duration;

use pithward_measure::{Fluid, Length, Weight};

use crate::pace::Feed;
use crate::stores::Power;

/// Where a figure comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// The mill's own, or the job's.
    Stated,
    /// The mill learned it from its own jobs.
    Learned,
    /// It follows from another figure that is stated.
    Follows,
    /// The usual figure: what is told of it, common practice without a source.
    Usual(&'static str),
    /// Nobody said, and nothing is taken for granted.
    Unknown,
}

/// How much a figure is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Figure {
    /// A time.
    Time(Duration),
    /// So far in a minute.
    Speed(Length),
    /// A feed at a width of cut.
    Feed(Feed),
    /// A sawn area, square feet.
    Area(f64),
    /// Thousandths of a whole.
    Share(u32),
    /// A count.
    Count(u32),
    /// A weight.
    Weight(Weight),
    /// A power.
    Power(Power),
    /// What something holds.
    Fluid(Fluid),
    /// What is used in an hour, US gallons.
    PerHour(f64),
    /// A length.
    Length(Length),
    /// A word of the file.
    Word(&'static str),
}
