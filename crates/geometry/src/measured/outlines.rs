//! A log from outlines at stations: distances from a middle, in directions of the clock.
//!
//! Between two measured directions the distance is mixed from both, so that a round log measured in 8 directions is
//! round. What is wrong with what was measured is told point by point, because a person can measure it again.

use super::ring::{Ring, STEP};
use super::section::{Slice, finish, possible};
use super::unit::{Candidates, credible_units};
use super::{Measured, RAYS, Repair, ShapeFault, ShapeRequest};
use thiserror::Error;

/// Fewer stations tell nothing of a bow.
pub(super) const LEAST_STATIONS: usize = 3;

/// Fewer directions tell nothing of an outline.
pub(super) const LEAST_POINTS: usize = 8;

/// The widest angle between two directions.
pub(super) const WIDEST: f64 = 60.0;

/// A distance so many times those beside it is a slip, and so is one so many times smaller.
const JUMP: f64 = 5.0;

/// An end is measured within so many inches of the log's end.
const AT_END: f64 = 1.0;

/// Ends whose areas differ by less than this share are alike.
const ALIKE: f64 = 0.01;

/// An outline.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outline {
    /// Distance from the small end, inches.
    pub station: f64,
    /// Where the distances are measured from: to the right and up of a straight line along the log, inches.
    pub centre: [f64; 2],
    /// What was measured, in any order.
    pub points: Vec<Polar>,
}

/// One point of an outline.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Polar {
    /// Direction, degrees clockwise from 12 o'clock, looking at the small end.
    pub clock: f64,
    /// Distance from the middle, inches.
    pub radius: f64,
    /// Thickness of the bark there, inches; where it is stated, the distance is over the bark.
    pub bark: Option<f64>,
}

/// Something wrong with an outline.
#[derive(Clone, Debug, PartialEq)]
pub struct OutlineFault {
    /// Which outline, from 0.
    pub outline: usize,
    /// Which of its points, from 0; `None` for all of it.
    pub point: Option<usize>,
    /// What is wrong.
    pub kind: OutlineFaultKind,
}

/// What is wrong with an outline.
///
/// # Units
/// Inches and degrees.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum OutlineFaultKind {
    /// No number, or a distance that is none.
    #[error("must be more than 0, got {0:.3} in")]
    Radius(f64),
    /// A coordinate that is no number.
    #[error("must be a number, got {0}")]
    NoNumber(f64),
    /// A direction that no clock has.
    #[error("must be between 0 and 360 degrees, got {0}")]
    Clock(f64),
    /// Bark that is none, or that is all of it.
    #[error("must be between 0 and the radius, {radius:.3} in, got {bark:.3} in")]
    Bark {
        /// Thickness.
        bark: f64,
        /// Distance over it.
        radius: f64,
    },
    /// A station that is not beyond the one before it.
    #[error("must be more than that of the outline before it, {before:.2} in, got {station:.2} in")]
    Order {
        /// The station before.
        before: f64,
        /// This one.
        station: f64,
    },
    /// Too few stations.
    #[error("stands for {got} outlines, and a log takes at least {LEAST_STATIONS}")]
    Stations {
        /// How many there are.
        got: usize,
    },
    /// Too few directions.
    #[error(
        "has {got} directions at the station {station:.2} in, and an outline takes at least {LEAST_POINTS}"
    )]
    Points {
        /// How many there are.
        got: usize,
        /// The station.
        station: f64,
    },
    /// A side that was not measured.
    #[error(
        "leaves out {width:.1} degrees between {from} and {to} at the station {station:.2} in, and at most {WIDEST} can be bridged"
    )]
    Gap {
        /// Where the side begins.
        from: f64,
        /// Where it ends.
        to: f64,
        /// How wide it is.
        width: f64,
        /// The station.
        station: f64,
    },
    /// The same direction twice.
    #[error("is there twice at the station {station:.2} in: {clock} degrees")]
    Twice {
        /// Direction.
        clock: f64,
        /// The station.
        station: f64,
    },
    /// A distance that no log has beside its neighbours.
    #[error("jumps: {radius:.3} in stands beside {beside:.3} in")]
    Jump {
        /// The distance.
        radius: f64,
        /// The nearer to it of those on either side.
        beside: f64,
    },
    /// The log begins before its first station.
    #[error("must be 0 at the small end, got {0:.2} in")]
    NoEnd(f64),
    /// No log is of that size.
    #[error("makes a log {:.4} ft long and {across:.4} in through; {candidates}", .length / 12.0)]
    Size {
        /// Length.
        length: f64,
        /// Mean diameter.
        across: f64,
        /// What other units would make of it.
        candidates: Candidates,
    },
}

impl OutlineFaultKind {
    /// What a person can do about it.
    pub fn help(&self) -> &'static str {
        match self {
            Self::Radius(_) => "write the distance from the middle to the surface",
            Self::NoNumber(_) => "write a number",
            Self::Clock(_) => "write degrees clockwise from 12 o'clock, looking at the small end",
            Self::Bark { .. } => {
                "write the thickness of the bark; the radius is that over the bark"
            }
            Self::Order { .. } => {
                "write the outlines from the small end on, each under its distance from there"
            }
            Self::Stations { .. } => "measure either end, and once between them",
            Self::Points { .. } => "measure all round, every 45 degrees at least",
            Self::Gap { .. } => "measure that side as well, every 60 degrees at least",
            Self::Twice { .. } => "keep one of them",
            Self::Jump { .. } => "measure there again, or look for a slip of the unit",
            Self::NoEnd(_) => "measure the outline of the end itself, and count stations from it",
            Self::Size { .. } => {
                "write the unit of each column behind its heading: mm, cm, m, in or ft"
            }
        }
    }
}

/// Everything that is wrong with outlines, in their order; a log can be made of them where there is nothing.
pub fn outline_faults(outlines: &[Outline]) -> Vec<OutlineFault> {
    let mut faults = Vec::new();
    let mut before: Option<f64> = None;
    for (n, outline) in outlines.iter().enumerate() {
        let mut tell = |point, kind| faults.push(OutlineFault { outline: n, point, kind });
        if !outline.station.is_finite() {
            tell(None, OutlineFaultKind::NoNumber(outline.station));
        } else if let Some(before) = before.filter(|before| *before >= outline.station) {
            tell(None, OutlineFaultKind::Order { before, station: outline.station });
        } else if n == 0 && !(0.0..=AT_END).contains(&outline.station) {
            tell(None, OutlineFaultKind::NoEnd(outline.station));
        }
        before = Some(outline.station);
        for c in outline.centre.into_iter().filter(|c| !c.is_finite()) {
            tell(None, OutlineFaultKind::NoNumber(c));
        }
        if points_faults(outline, &mut tell) {
            round_faults(outline, &mut tell);
        }
    }
    if outlines.len() < LEAST_STATIONS {
        let kind = OutlineFaultKind::Stations { got: outlines.len() };
        faults.push(OutlineFault { outline: 0, point: None, kind });
    }
    if faults.is_empty() {
        faults.extend(size_fault(outlines));
    }
    faults
}

/// Whether every point of an outline can be one.
fn points_faults(
    outline: &Outline,
    tell: &mut impl FnMut(Option<usize>, OutlineFaultKind),
) -> bool {
    let mut good = true;
    for (n, Polar { clock, radius, bark }) in outline.points.iter().enumerate() {
        let mut wrong = |kind| {
            good = false;
            tell(Some(n), kind);
        };
        if !(0.0..=360.0).contains(clock) {
            wrong(OutlineFaultKind::Clock(*clock));
        }
        if !(radius.is_finite() && *radius > 0.0) {
            wrong(OutlineFaultKind::Radius(*radius));
        }
        if let Some(bark) = bark.filter(|bark| !(0.0..*radius).contains(bark)) {
            wrong(OutlineFaultKind::Bark { bark, radius: *radius });
        }
    }
    good
}

/// What is wrong with an outline as a whole.
fn round_faults(outline: &Outline, tell: &mut impl FnMut(Option<usize>, OutlineFaultKind)) {
    let (got, station) = (outline.points.len(), outline.station);
    if got < LEAST_POINTS {
        return tell(None, OutlineFaultKind::Points { got, station });
    }
    let order = by_clock(outline);
    let at = |n: usize| (order[n % got], &outline.points[order[n % got]]);
    for n in 0..got {
        let ((_, a), (own, b), (_, c)) = (at(n), at(n + 1), at(n + 2));
        let width = if got > 1 { (b.clock - a.clock).rem_euclid(360.0) } else { 360.0 };
        if width == 0.0 {
            tell(Some(own), OutlineFaultKind::Twice { clock: b.clock, station });
        } else if width > WIDEST {
            tell(Some(own), OutlineFaultKind::Gap { from: a.clock, to: b.clock, width, station });
        }
        // A slip differs from both beside it; those beside it do not.
        let (least, most) = (a.radius.min(c.radius), a.radius.max(c.radius));
        if b.radius > JUMP * most {
            tell(Some(own), OutlineFaultKind::Jump { radius: b.radius, beside: most });
        } else if b.radius * JUMP < least {
            tell(Some(own), OutlineFaultKind::Jump { radius: b.radius, beside: least });
        }
    }
}

/// The numbers of an outline's points, clockwise from 12 o'clock.
fn by_clock(outline: &Outline) -> Vec<usize> {
    let mut order: Vec<usize> = (0..outline.points.len()).collect();
    let clock = |n: &usize| outline.points[*n].clock.rem_euclid(360.0);
    order.sort_by(|a, b| clock(a).total_cmp(&clock(b)));
    order
}

/// The length and the mean diameter, where no log has them.
fn size_fault(outlines: &[Outline]) -> Option<OutlineFault> {
    let (first, last) = (outlines.first()?, outlines.last()?);
    let length = last.station - first.station;
    let (sum, count) = outlines
        .iter()
        .flat_map(|outline| &outline.points)
        .fold((0.0, 0.0), |(sum, count), point| (sum + point.radius, count + 1.0));
    let across = 2.0 * sum / count;
    if possible(length, across) {
        return None;
    }
    let candidates = credible_units(length, across);
    let kind = OutlineFaultKind::Size { length, across, candidates };
    Some(OutlineFault { outline: 0, point: None, kind })
}

/// The log of outlines in which nothing is wrong. The unit and the direction of 12 o'clock are those of the outlines,
/// whatever the request says.
///
/// # Errors
/// Why no log can be made of them.
pub fn from_outlines(outlines: &[Outline], request: &ShapeRequest) -> Result<Measured, ShapeFault> {
    if !outline_faults(outlines).is_empty() {
        return Err(ShapeFault::Sections { what: "the outlines have faults" });
    }
    let mut told = Vec::new();
    let mut slices: Vec<Slice> = outlines.iter().map(slice).collect::<Result<_, _>>()?;
    let area = |slice: Option<&Slice>| slice.map_or(0.0, |slice| slice.ring.area());
    let (small, butt) = (area(slices.first()), area(slices.last()));
    if small > (1.0 + ALIKE) * butt {
        told.push(Repair::Reversed);
        let end = slices.last().map_or(0.0, |slice| slice.z);
        slices.reverse();
        slices.iter_mut().for_each(|slice| slice.z = end - slice.z);
    }
    finish(slices, request, told)
}

/// An outline in the directions in which all sections are kept.
fn slice(outline: &Outline) -> Result<Slice, ShapeFault> {
    let order = by_clock(outline);
    let points: Vec<&Polar> = order.iter().map(|n| &outline.points[*n]).collect();
    let mixed = |what: &dyn Fn(&Polar) -> f64| -> Vec<f64> {
        (0..RAYS)
            .map(|ray| {
                let clock = (90.0 - STEP * ray as f64).rem_euclid(360.0);
                let after = points.partition_point(|point| point.clock.rem_euclid(360.0) <= clock);
                let (from, to) = (
                    points[(after + points.len() - 1) % points.len()],
                    points[after % points.len()],
                );
                let width = (to.clock - from.clock).rem_euclid(360.0);
                let share =
                    if width > 0.0 { (clock - from.clock).rem_euclid(360.0) / width } else { 0.0 };
                what(from) + share * (what(to) - what(from))
            })
            .collect()
    };
    let no_ring = |_| ShapeFault::NoSection { station: outline.station };
    let ring = Ring::filled(outline.centre, &mixed(&|point| point.radius)).map_err(no_ring)?;
    let barked = points.iter().any(|point| point.bark.is_some());
    let wood = barked.then(|| mixed(&|point| point.radius - point.bark.unwrap_or_default()));
    Ok(Slice { z: outline.station, ring, wood })
}
