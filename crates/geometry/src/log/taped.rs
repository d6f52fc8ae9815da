//! A log from a tape's figures: oval ends, sweep, crook, flare, pith off the middle.

use super::Log;
use crate::{Angle, LogFault};
use pithward_measure::Length;

/// One end of a log as a tape measures it, inside the bark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct End {
    /// The longer of two diameters at right angles.
    pub longer: Length,
    /// The shorter one.
    pub shorter: Length,
    /// Direction of the longer one.
    pub clock: Angle,
    /// How far the pith is from the middle.
    pub pith_off: Length,
    /// In which direction from the middle.
    pub pith_clock: Angle,
    /// Thickness of the bark.
    pub bark: Length,
}

/// A bow of the whole log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sweep {
    /// Greatest gap between a string from end to end and the hollow side of the log.
    pub depth: Length,
    /// Direction in which the log bows: the side of the belly.
    pub clock: Angle,
    /// Where it is greatest, from the small end.
    pub at: Length,
}

/// A sharp bend.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Crook {
    /// How far the middle of the log stands off the straight line between its ends at the bend.
    pub depth: Length,
    /// Direction.
    pub clock: Angle,
    /// Where, from the small end.
    pub at: Length,
}

/// A butt that widens below the stem.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Flare {
    /// Over which length from the butt end.
    pub length: Length,
    /// How much it adds to the diameter at the butt end.
    pub extra: Length,
}

/// A log from a tape's figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Taped {
    /// Length from end to end.
    pub length: Length,
    /// The small end.
    pub small: End,
    /// The butt, above any flare.
    pub butt: End,
    /// A bow.
    pub sweep: Option<Sweep>,
    /// A bend.
    pub crook: Option<Crook>,
    /// A widening at the butt.
    pub flare: Option<Flare>,
}

impl Log {
    /// The log of a tape's figures. One that turns out round and straight is the same as that of [`Log::new`].
    ///
    /// # Errors
    /// The first measurement that no log can have.
    pub fn taped(_taped: &Taped) -> Result<Self, LogFault> {
        unimplemented!("the sections of a taped log")
    }
}
