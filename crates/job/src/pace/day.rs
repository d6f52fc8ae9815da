//! What a day takes beside the steps of its logs, and how long a blade lasts.
//!
//! # Blades
//! A blade is changed when it has sawn so much area or was in the wood for so many hours, whichever comes first. Board feet
//! are a poorer measure: boards of an inch have nearly twice the cuts of planks of two. A fast mill comes to the area first, one that
//! is fed by hand to the hours.

use std::time::Duration;

use pithward_measure::Length;
use pithward_trade::species::Kind;

/// What a day takes beside the logs that lie ready.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WorkDay {
    /// Loading a log from a pile that does not lie ready.
    pub load_piled: Duration,
    /// Loading a log that must be dragged, with a winch.
    pub load_dragged: Duration,
    /// How fast one goes for a log and comes back with it, per minute.
    pub haul: Length,
    /// Carrying one finished piece to the stack and stacking it.
    pub stack: Duration,
    /// Setting up where the mill comes to stand.
    pub set_up: Duration,
    /// What soft or sloping ground adds to it: blocking, digging in the feet.
    pub block_up: Duration,
    /// Packing up.
    pub pack_up: Duration,
    /// Covering up in the evening, and uncovering and greasing next morning.
    pub overnight: Duration,
    /// Laying out a tarp for sawdust and slabs, and emptying it, each day.
    pub tidy: Duration,
    /// The longest day on site, breaks and all.
    pub length: Duration,
    /// One break.
    pub rest: Duration,
    /// So much work between breaks.
    pub rest_every: Duration,
}

/// How long a blade lasts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BladeLife {
    /// Changing it.
    pub change: Duration,
    /// Time in the wood after which it is changed.
    pub hours: Duration,
    /// Sawn area after which it is changed in clean softwood, square feet.
    pub softwood: f64,
    /// The same in hardwood, and in wood that nobody named.
    pub hardwood: f64,
    /// How much of that is left where the bark is dirty, thousandths.
    pub dirty: u32,
    /// How much of it is left in frozen wood, thousandths.
    pub frozen: u32,
}

impl Default for WorkDay {
    /// Common practice, no source: [`Basis`](crate::Basis) has what is told of each.
    fn default() -> Self {
        let minutes = |minutes: u64| Duration::from_secs(60 * minutes);
        Self {
            load_piled: Duration::from_secs(330),
            load_dragged: Duration::from_secs(330),
            haul: Length::feet(60),
            stack: Duration::from_secs(20),
            set_up: minutes(20),
            block_up: minutes(15),
            pack_up: minutes(20),
            overnight: minutes(15),
            tidy: minutes(15),
            length: minutes(8 * 60),
            rest: minutes(15),
            rest_every: minutes(2 * 60),
        }
    }
}

impl Default for BladeLife {
    /// Common practice, no source: 400 to 600 board feet of clean softwood or 250 to 400 of hardwood, mostly boards of an
    /// inch, which have about 1.4 square feet of cut for each, slabs and edges counted.
    fn default() -> Self {
        Self {
            change: Duration::from_secs(270),
            hours: Duration::from_secs(105 * 60),
            softwood: 700.0,
            hardwood: 450.0,
            dirty: 650,
            frozen: 500,
        }
    }
}

impl BladeLife {
    /// Area after which it is changed in a wood, square feet; never nothing.
    pub fn area(&self, wood: Option<Kind>, dirty: bool, frozen: bool) -> f64 {
        let clean = match wood {
            Some(Kind::Softwood) => self.softwood,
            Some(Kind::Hardwood) | None => self.hardwood,
        };
        (clean * self.left(dirty, frozen)).max(1.0)
    }

    /// Minutes in the wood after which it is changed; never nothing.
    pub fn minutes(&self, dirty: bool, frozen: bool) -> f64 {
        (self.hours.as_secs_f64() / 60.0 * self.left(dirty, frozen)).max(1.0)
    }

    fn left(&self, dirty: bool, frozen: bool) -> f64 {
        let of =
            |is: bool, thousandths: u32| if is { f64::from(thousandths) / 1000.0 } else { 1.0 };
        of(dirty, self.dirty) * of(frozen, self.frozen)
    }
}
