//! What was done to a measured shape before it was a log.

use super::fault::{WhichEnd, clock};
use std::fmt;

/// Something that was put right, taken for granted or left out.
///
/// Displayed it is a short sentence.
///
/// # Units
/// Inches and degrees; shares are of one.
#[derive(Clone, Debug, PartialEq)]
pub enum Repair {
    /// Points that are no numbers were left out.
    NoNumbers {
        /// How many.
        points: usize,
    },
    /// Points at the same place were made one.
    Welded {
        /// How many were given up.
        points: usize,
    },
    /// Triangles without an area, or there twice, were left out.
    Degenerate {
        /// How many.
        triangles: usize,
    },
    /// Points that no triangle uses were left out.
    Unused {
        /// How many.
        points: usize,
    },
    /// Everything that hangs not together with the log was left out.
    Dropped {
        /// How many pieces.
        pieces: usize,
        /// Their share of the surface, or of the points.
        share: f64,
    },
    /// Triangles that faced another way than their neighbours were turned.
    Turned {
        /// How many.
        triangles: usize,
    },
    /// The whole surface faced inward and was turned.
    Inverted,
    /// Edges at which more than two triangles meet, or two face each other.
    Tangled {
        /// How many.
        edges: usize,
    },
    /// The surface is open at an end, which was taken as a flat cut.
    Capped {
        /// Which end.
        end: WhichEnd,
    },
    /// Holes in the side were bridged.
    Bridged {
        /// How many.
        holes: usize,
        /// Their share of the side.
        share: f64,
    },
    /// Sides that were not seen were bridged from what is beside them.
    Filled {
        /// How many sections.
        sections: usize,
        /// The widest, degrees.
        widest: f64,
        /// Where it is, from the small end.
        station: f64,
        /// Its middle, degrees clockwise from 12 o'clock.
        clock: f64,
    },
    /// The unit was judged by the size.
    Unit {
        /// The unit.
        unit: &'static str,
        /// Length.
        length: f64,
        /// Mean diameter.
        across: f64,
    },
    /// A log that stands in its file has its 12 o'clock at the file's `+y`.
    Standing,
    /// Both ends are alike: the end at the file's lower coordinates was taken as the small end.
    EndsAlike,
    /// Outlines that were written from the butt on were put the other way round.
    Reversed,
    /// An end is not square, or ragged: the log begins where its section is whole.
    Trimmed {
        /// Which end.
        end: WhichEnd,
        /// How much of the length was given up.
        by: f64,
    },
    /// Outlines that turn back on themselves were kept as far as the first crossing.
    Overhang {
        /// The greatest share of a section that was given up.
        share: f64,
        /// Where, from the small end.
        station: f64,
    },
}

impl fmt::Display for Repair {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let many =
            |n: usize, one: &str| if n == 1 { format!("1 {one}") } else { format!("{n} {one}s") };
        match self {
            Self::NoNumbers { points } => write!(f, "{} without numbers left out", many(*points, "point")),
            Self::Welded { points } => write!(f, "{} at the place of another made one with it", many(*points, "point")),
            Self::Degenerate { triangles } => write!(f, "{} without an area, or there twice, left out", many(*triangles, "triangle")),
            Self::Unused { points } => write!(f, "{} that no triangle uses left out", many(*points, "point")),
            Self::Dropped { pieces, share } => {
                write!(f, "{} apart from the log left out, {:.1} % of what was scanned", many(*pieces, "piece"), share * 100.0)
            }
            Self::Turned { triangles } => write!(f, "{} turned to face as the others do", many(*triangles, "triangle")),
            Self::Inverted => f.write_str("the surface faced inward and was turned"),
            Self::Tangled { edges } => write!(f, "{} where the surface does not go on singly", many(*edges, "edge")),
            Self::Capped { end } => write!(f, "open at the {end}: taken as cut flat"),
            Self::Bridged { holes, share } => {
                write!(f, "{} in the side bridged, {:.1} % of it", many(*holes, "hole"), share * 100.0)
            }
            Self::Filled { sections, widest, station, clock: toward } => write!(
                f,
                "{} bridged where the scan saw nothing, at most {widest:.0} degrees, at {} o'clock {station:.0} in from the small end",
                many(*sections, "section"),
                clock(*toward)
            ),
            Self::Unit { unit, length, across } => {
                write!(f, "read in {unit}, the only unit that makes a log of it: {:.1} ft long, {across:.1} in through", length / 12.0)
            }
            Self::Standing => f.write_str("the log stands in its file: 12 o'clock is the file's +y"),
            Self::EndsAlike => f.write_str("both ends are alike: the one at the file's lower coordinates is taken as the small end"),
            Self::Reversed => f.write_str("the outlines began at the butt and were put the other way round"),
            Self::Trimmed { end, by } => write!(f, "{by:.1} in left out at the {end}, where the section is not whole"),
            Self::Overhang { share, station } => write!(
                f,
                "outlines that turn back on themselves kept to the first crossing; at most {:.1} % of a section left out, at {station:.0} in from the small end",
                share * 100.0
            ),
        }
    }
}
