//! Why measurements are not a log.

use super::Log;
use pithward_measure::Length;
use thiserror::Error;

/// Why measurements are not a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum LogFault {
    /// Nothing there, or more than any tree has.
    #[error("the small end must be between {} and {} inches across, got {:.4}", Log::LEAST_DIAMETER.inches_f64(), Log::GREATEST_DIAMETER.inches_f64(), .0.inches_f64())]
    SmallEnd(Length),
    /// More than any tree has.
    #[error("the butt must be at most {} inches across, got {:.4}", Log::GREATEST_DIAMETER.inches_f64(), .0.inches_f64())]
    Butt(Length),
    /// The ends were swapped, or one was misread.
    #[error("the butt ({:.4} in) is smaller than the small end ({:.4} in): measure again, or swap the two", .butt.inches_f64(), .small_end.inches_f64())]
    ButtBelowSmallEnd {
        /// Diameter at the small end.
        small_end: Length,
        /// Diameter at the butt.
        butt: Length,
    },
    /// Nothing there, or longer than any tree.
    #[error("the length must be between {} and {} feet, got {:.4}", Log::LEAST_LENGTH.feet_f64(), Log::GREATEST_LENGTH.feet_f64(), .0.feet_f64())]
    Length(Length),
    /// Two diameters at right angles that no end can have.
    #[error("the {end} is {:.4} in by {:.4} in: the longer diameter comes first, and no end is more than twice as long as wide", .longer.inches_f64(), .shorter.inches_f64())]
    Oval {
        /// Which end.
        end: &'static str,
        /// The one given as the longer.
        longer: Length,
        /// The other.
        shorter: Length,
    },
    /// The pith is not in the wood.
    #[error("the pith is said to be {:.4} in off the middle of the {end}, but in that direction the wood ends {:.4} in from it", .off.inches_f64(), .radius.inches_f64())]
    Pith {
        /// Which end.
        end: &'static str,
        /// How far off.
        off: Length,
        /// How far the surface of the wood is from the middle in that direction.
        radius: Length,
    },
    /// A bow or a bend that is deeper than the log is thick, or is none.
    #[error("the {what} must be between 0 and the log's thickness, {:.4} in, got {:.4} in: buck the log shorter, or measure again", .most.inches_f64(), .depth.inches_f64())]
    Bow {
        /// `sweep` or `crook`.
        what: &'static str,
        /// How deep.
        depth: Length,
        /// The diameter at the small end.
        most: Length,
    },
    /// A bow or a bend that is greatest outside the log, or at its very end.
    #[error("the {what} is said to be greatest {:.4} ft from the small end: that must lie between the ends of a log of {:.4} ft", .at.feet_f64(), .length.feet_f64())]
    BowPlace {
        /// `sweep` or `crook`.
        what: &'static str,
        /// Where.
        at: Length,
        /// The log's length.
        length: Length,
    },
    /// A flare that no butt has.
    #[error("the flare must be shorter than the log and add between 0 in and {:.4} in, got {:.4} in over {:.4} in", .most.inches_f64(), .extra.inches_f64(), .long.inches_f64())]
    Flare {
        /// What it adds.
        extra: Length,
        /// Over which length.
        long: Length,
        /// Most that it may add: the diameter above it.
        most: Length,
    },
    /// A part that is not within the log, or has no length.
    #[error("a part must begin and end within the log's {:.4} ft, got {:.4} ft to {:.4} ft from the small end", .length.feet_f64(), .from.feet_f64(), .to.feet_f64())]
    Part {
        /// Where it begins, from the small end.
        from: Length,
        /// Where it ends.
        to: Length,
        /// The log's length.
        length: Length,
    },
    /// A bark that no tree has.
    #[error("the bark must be between 0 and {} inches thick, got {:.4}", Log::GREATEST_BARK.inches_f64(), .0.inches_f64())]
    Bark(Length),
}

impl LogFault {
    /// Which measurement is at fault: `small end`, `butt`, `length`, `bark`, `sweep`, `crook`, `flare` or `pith`.
    pub fn field(&self) -> &'static str {
        match self {
            Self::Oval { end, .. } => end,
            Self::Pith { .. } => "pith",
            Self::Bow { what, .. } | Self::BowPlace { what, .. } => what,
            Self::Flare { .. } => "flare",
            Self::SmallEnd(_) => "small end",
            Self::Butt(_) | Self::ButtBelowSmallEnd { .. } => "butt",
            Self::Length(_) | Self::Part { .. } => "length",
            Self::Bark(_) => "bark",
        }
    }
}
