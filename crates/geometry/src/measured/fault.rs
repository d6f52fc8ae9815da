//! Why a measured shape is no log, with what a person can do about it.

use super::unit::Candidates;
use crate::LogFault;
use std::fmt;
use thiserror::Error;

/// One of the two ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WhichEnd {
    /// The small end.
    Small,
    /// The butt.
    Butt,
}

impl fmt::Display for WhichEnd {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Small => "small end",
            Self::Butt => "butt",
        })
    }
}

/// Why a shape is no log that can be sawn.
///
/// # Units
/// Inches and degrees of the clock, unless the field says otherwise; shares are of one.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ShapeFault {
    /// Too little to be a shape.
    #[error("has {points} points, and a log takes at least {least}")]
    TooFew {
        /// The least that is looked at.
        least: usize,
        /// How many there are.
        points: usize,
    },
    /// Coordinates that are no numbers.
    #[error("has {bad} points of {points} whose coordinates are no numbers")]
    NotNumbers {
        /// How many are none.
        bad: usize,
        /// Of how many.
        points: usize,
    },
    /// More than one thing in the file.
    #[error("holds several pieces: the second is {:.0} % of the largest", .share * 100.0)]
    Several {
        /// The second by the largest.
        share: f64,
    },
    /// Triangles that bound nothing.
    #[error("has {edges} edges ({:.1} % of all) at which more than two triangles meet or two face each other", .share * 100.0)]
    Tangled {
        /// How many.
        edges: usize,
        /// Their share of all edges.
        share: f64,
    },
    /// Holes in the side.
    #[error("is not a closed log: {:.1} % of its side is missing, and {:.0} % can be bridged", .share * 100.0, .most * 100.0)]
    NotClosed {
        /// What is missing.
        share: f64,
        /// The most that is bridged.
        most: f64,
    },
    /// As wide as it is long.
    #[error("has no long direction: it is {:.2} times as long as it is wide, and a log at least {}", .ratio, .least)]
    NotLong {
        /// Length by width.
        ratio: f64,
        /// The least.
        least: f64,
    },
    /// A board rather than a log.
    #[error(
        "is flat at {station:.1} in: {ratio:.1} times as wide as it is thick, and a log at most {most}"
    )]
    Flat {
        /// Station from the small end.
        station: f64,
        /// Width by thickness.
        ratio: f64,
        /// The most.
        most: f64,
    },
    /// 12 o'clock along the log.
    #[error("has its 12 o'clock along its own axis")]
    UpAlong,
    /// No unit makes a log of it, or several do.
    #[error("may be in any unit: {candidates}")]
    UnitUnknown {
        /// What it would be.
        candidates: Candidates,
    },
    /// No log is of that size.
    #[error("is {:.4} ft long and {across:.4} in through when read in {unit}; {candidates}", .length / 12.0)]
    Size {
        /// Length.
        length: f64,
        /// Mean diameter.
        across: f64,
        /// The unit it was read in.
        unit: &'static str,
        /// What it would be in others.
        candidates: Candidates,
    },
    /// Nowhere near an end is the section whole.
    #[error("has no whole section near one of its ends")]
    NoEnd,
    /// Nothing there.
    #[error("has no outline at {station:.1} in from the small end")]
    NoSection {
        /// Station.
        station: f64,
    },
    /// A log that is open like a trough.
    #[error("has no wood at the middle of its outline, {:.0} % along its length", .along * 100.0)]
    Trough {
        /// Where, by its length.
        along: f64,
    },
    /// A side that was not seen.
    #[error("was not seen at {station:.1} in from the small end from {} o'clock to {} o'clock: {width:.0} degrees, and {most:.0} can be bridged", clock(*.from), clock(*.to))]
    Gap {
        /// Station.
        station: f64,
        /// Where it begins, degrees clockwise from 12 o'clock.
        from: f64,
        /// Where it ends.
        to: f64,
        /// How wide it is.
        width: f64,
        /// The widest that is bridged.
        most: f64,
    },
    /// More bark than wood.
    #[error(
        "has bark {bark:.2} in thick at {station:.1} in from the small end, where it is {across:.2} in across"
    )]
    Bark {
        /// Station.
        station: f64,
        /// Thickness of the bark.
        bark: f64,
        /// Mean diameter over it.
        across: f64,
    },
    /// Pith where no wood is.
    #[error("has its pith outside the wood at {station:.1} in from the small end")]
    Pith {
        /// Station.
        station: f64,
    },
    /// More bow than log.
    #[error(
        "bows {depth:.1} in off the straight line at {station:.1} in from the small end, where it is {across:.1} in through"
    )]
    Sweep {
        /// Station.
        station: f64,
        /// How far its middle is from the line between the ends' middles.
        depth: f64,
        /// Mean diameter there.
        across: f64,
    },
    /// An outline that is none.
    #[error(
        "has an outline at {station:.1} in from the small end that crosses itself or runs the wrong way"
    )]
    Crossing {
        /// Station.
        station: f64,
    },
    /// Sections that are no row of sections.
    #[error("has sections that do not follow one another: {what}")]
    Sections {
        /// What is wrong with them.
        what: &'static str,
    },
    /// Measurements that no log has.
    #[error("is no log: {0}")]
    Log(#[from] LogFault),
}

impl ShapeFault {
    /// What a person can do about it.
    pub fn help(&self) -> &'static str {
        match self {
            Self::TooFew { .. } => "scan the whole log, or export more of the scan",
            Self::NotNumbers { .. } => {
                "export the scan once more; its coordinates must be plain numbers"
            }
            Self::Several { .. } => "cut everything but the one log out of the scan",
            Self::Tangled { .. } => {
                "let the scanner's program clean the surface, or export its points alone"
            }
            Self::NotClosed { .. } => {
                "scan the log from all sides, or measure its ends with a tape instead"
            }
            Self::NotLong { .. } => {
                "scan one log from end to end, with the ground and all else cut away"
            }
            Self::Flat { .. } => {
                "a log is scanned from all sides; is this a board, or one side of a log?"
            }
            Self::UpAlong => "state a direction across the log as its 12 o'clock",
            Self::UnitUnknown { .. } | Self::Size { .. } => {
                "state the unit of the file: mm, cm, m, in or ft"
            }
            Self::NoEnd => "scan the log from end to end, all round at either end",
            Self::NoSection { .. } => "scan the log from end to end without a break",
            Self::Trough { .. } => {
                "a log that is open on one side is measured with a tape, as a hollow or a split"
            }
            Self::Gap { .. } => "scan that side too: roll the log, and join both scans",
            Self::Bark { .. } => {
                "state the thickness of the bark, or that the log was scanned peeled"
            }
            Self::Pith { .. } => {
                "measure the pith from the middle of the end, and its direction looking at the small end"
            }
            Self::Sweep { .. } => {
                "is it one log? One that bows more than it is thick is bucked before it is sawn"
            }
            Self::Crossing { .. } => "let the outline run once round the log",
            Self::Sections { .. } => {
                "give sections from the small end to the butt, all with as many points"
            }
            Self::Log(_) => "measure again, or state the unit of the file",
        }
    }
}

/// A direction as a clock says it, to the half hour: `4:30`.
pub(super) fn clock(degrees: f64) -> impl fmt::Display {
    let halves = (degrees.rem_euclid(360.0) / 15.0).round().rem_euclid(24.0);
    let hour = (halves / 2.0).floor();
    let hour = if hour < 1.0 { 12.0 } else { hour };
    format!("{hour}{}", if halves.rem_euclid(2.0) > 0.5 { ":30" } else { "" })
}

#[cfg(test)]
mod tests {
    use super::clock;

    #[test]
    fn directions_are_said_as_on_a_clock() {
        for (degrees, said) in [
            (0.0, "12"),
            (90.0, "3"),
            (104.0, "3:30"),
            (352.0, "11:30"),
            (353.0, "12"),
            (-90.0, "9"),
            (15.0, "12:30"),
        ] {
            assert_eq!(clock(degrees).to_string(), said);
        }
    }
}
