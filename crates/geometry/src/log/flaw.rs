//! What is wrong with the wood of a log, and where.

use super::Section;
use crate::trig::{norm, sin_cos};
use crate::{Angle, Log};
use pithward_measure::Length;
use thiserror::Error;

/// What is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FlawKind {
    /// Rotten wood.
    Rot,
    /// No wood at all.
    Hollow,
    /// Rings that come apart.
    Shake,
    /// A split or a seam.
    Split,
    /// Wood of another colour, sound.
    Stain,
    /// Metal is there or may be: no blade should pass.
    Metal,
}

impl FlawKind {
    /// All of them.
    pub const ALL: [Self; 6] =
        [Self::Rot, Self::Hollow, Self::Shake, Self::Split, Self::Stain, Self::Metal];

    /// Its word.
    pub fn name(self) -> &'static str {
        match self {
            Self::Rot => "rot",
            Self::Hollow => "hollow",
            Self::Shake => "shake",
            Self::Split => "split",
            Self::Stain => "stain",
            Self::Metal => "metal",
        }
    }
}

/// Kinds of flaw that a piece may hold.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FlawKinds(u8);

impl FlawKinds {
    /// None: sound wood only.
    pub const NONE: Self = Self(0);

    /// These and one more.
    #[must_use]
    pub const fn with(self, kind: FlawKind) -> Self {
        Self(self.0 | 1 << kind as u8)
    }

    /// Whether a kind is among them.
    pub const fn holds(self, kind: FlawKind) -> bool {
        self.0 & (1 << kind as u8) != 0
    }
}

/// A flaw: what, over which stretch, and where in the section.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Flaw {
    /// What is wrong.
    pub kind: FlawKind,
    /// Where it begins, from the small end.
    pub from: Length,
    /// Where it ends, from the small end.
    pub to: Length,
    /// Where in the section.
    pub region: Region,
}

/// Where in a section a flaw lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Region {
    /// Round the pith, out to a radius.
    Heart {
        /// Radius.
        radius: Length,
    },
    /// A ring round the pith: wood may lie within it or outside it, but not across.
    Ring {
        /// Radius of its inner side.
        inner: Length,
        /// Radius of its outer side.
        outer: Length,
    },
    /// A plane through the pith and along it.
    Radial {
        /// Direction from the pith.
        clock: Angle,
        /// How far from the pith it begins.
        from: Length,
        /// How far from the pith it ends.
        to: Length,
    },
    /// From the surface of the wood inward, on one side.
    Side {
        /// Direction of its middle from the pith.
        clock: Angle,
        /// How wide it is, as seen from the pith: less than half a turn.
        width: Angle,
        /// How deep below the surface of the wood, reckoned toward the pith.
        depth: Length,
    },
    /// Round a place that was found: a nail that the blade met.
    Spot {
        /// Direction of its middle from the pith.
        clock: Angle,
        /// How far its middle is from the pith.
        away: Length,
        /// Radius.
        radius: Length,
    },
}

/// Half the thickness that a plane of split wood counts with, inches: a sixteenth. Common practice, no source.
const HALF_SPLIT: f64 = 1.0 / 16.0;

/// Parts of a ring or of a full round; each is a polygon that holds its arc.
const ARCS: u32 = 36;

/// Parts of a side zone at most.
const SIDE_ARCS: u32 = 16;

/// Parts of a spot.
const SPOT_ARCS: u32 = 8;

/// Why a flaw cannot be in a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum FlawFault {
    /// It begins where it ends, or lies outside the log.
    #[error("the {} must begin and end within the log's {:.4} ft, got {:.4} ft to {:.4} ft from the small end", .kind.name(), .length.feet_f64(), .from.feet_f64(), .to.feet_f64())]
    Stretch {
        /// What is wrong.
        kind: FlawKind,
        /// Where it begins.
        from: Length,
        /// Where it ends.
        to: Length,
        /// The log's length.
        length: Length,
    },
    /// It has no size, or one that contradicts itself.
    #[error("the {} must have a size: {:.4} in to {:.4} in from the pith", .kind.name(), .least.inches_f64(), .most.inches_f64())]
    Size {
        /// What is wrong.
        kind: FlawKind,
        /// Where it begins.
        least: Length,
        /// Where it ends.
        most: Length,
    },
    /// It begins further from the pith than the wood reaches.
    #[error("the {} is said to begin {:.4} in from the pith, but over that stretch the wood reaches no further than {:.4} in", .kind.name(), .least.inches_f64(), .reach.inches_f64())]
    Outside {
        /// What is wrong.
        kind: FlawKind,
        /// Where it begins.
        least: Length,
        /// How far from the pith the wood reaches.
        reach: Length,
    },
    /// A side zone that goes half round or more.
    #[error("the {} must be between 0 and 180 degrees wide as seen from the pith, got {:.1}; wood that is flawed all round is a ring", .kind.name(), .width.degrees_f64())]
    Width {
        /// What is wrong.
        kind: FlawKind,
        /// How wide.
        width: Angle,
    },
}

impl Flaw {
    /// Why it cannot be in this log; nothing where it can.
    pub fn fault(&self, log: &Log) -> Option<FlawFault> {
        let Self { kind, from, to, region } = *self;
        let length = log.length();
        if from < Length::ZERO || from >= to || to > length {
            return Some(FlawFault::Stretch { kind, from, to, length });
        }
        let (least, most) = match region {
            Region::Heart { radius } => (Length::ZERO, radius),
            Region::Ring { inner, outer } => (inner, outer),
            Region::Radial { from, to, .. } => (from, to),
            Region::Spot { away, radius, .. } => {
                if radius <= Length::ZERO || away < Length::ZERO {
                    return Some(FlawFault::Size { kind, least: away, most: radius });
                }
                ((away - radius).max(Length::ZERO), away + radius)
            }
            Region::Side { width, depth, .. } => {
                if !(1..180_000).contains(&width.as_millidegrees()) {
                    return Some(FlawFault::Width { kind, width });
                }
                (Length::ZERO, depth)
            }
        };
        if least < Length::ZERO || least >= most {
            return Some(FlawFault::Size { kind, least, most });
        }
        let reach = Length::from_inches_f64(self.reach(log));
        (least >= reach).then_some(FlawFault::Outside { kind, least, reach })
    }

    /// How far from the pith the wood reaches over its stretch, inches.
    fn reach(&self, log: &Log) -> f64 {
        let (from, to) = (self.from.inches_f64(), self.to.inches_f64());
        let inner = log.sections().unwrap_or_default().iter().map(|section| section.z);
        let stations = inner.filter(|z| from < *z && *z < to).chain([from, to]);
        let reach = |z: f64| match log.sections() {
            None => log.wood_radius(z),
            Some(_) => {
                let Section { wood, pith, .. } = log.section_at(z);
                let away = wood.iter().map(|p| norm(p[0] - pith[0], p[1] - pith[1]));
                away.fold(0.0, f64::max)
            }
        };
        stations.map(reach).fold(0.0, f64::max)
    }

    /// Where it lies in a section: convex polygons that hold it, each counterclockwise. The sections of one log have as
    /// many, and the `n`-th of two sections belong together.
    pub fn regions(&self, section: &Section) -> Vec<Vec<[f64; 2]>> {
        let pith = section.pith;
        let at = |turn: f64, away: f64| {
            let (sin, cos) = sin_cos(turn);
            [pith[0] + away * sin, pith[1] + away * cos]
        };
        // A chord's middle is nearer than its ends: polygons that hold an arc reach out further.
        let out = |parts: f64, span: f64| 1.0 / sin_cos(span / (2.0 * parts)).1;
        let turn = |n: u32| std::f64::consts::TAU * f64::from(n) / f64::from(ARCS);
        match self.region {
            Region::Heart { radius } => {
                let out = radius.inches_f64() * out(f64::from(ARCS), std::f64::consts::TAU);
                // Clockwise on the clock is clockwise on the page.
                vec![(0..ARCS).rev().map(|n| at(turn(n), out)).collect()]
            }
            Region::Ring { inner, outer } => {
                let outer = outer.inches_f64() * out(f64::from(ARCS), std::f64::consts::TAU);
                // The inner side of a chord lies within the circle.
                let inner = inner.inches_f64();
                let part = |n: u32| {
                    let (a, b) = (turn(n), turn(n + 1));
                    vec![at(a, inner), at(b, inner), at(b, outer), at(a, outer)]
                };
                (0..ARCS).map(part).collect()
            }
            Region::Radial { clock, from, to } => {
                let (sin, cos) = clock.sin_cos();
                let point = |along: f64, aside: f64| {
                    [pith[0] + along * sin + aside * cos, pith[1] + along * cos - aside * sin]
                };
                let (from, to) = (from.inches_f64(), to.inches_f64());
                vec![vec![
                    point(from, -HALF_SPLIT),
                    point(from, HALF_SPLIT),
                    point(to, HALF_SPLIT),
                    point(to, -HALF_SPLIT),
                ]]
            }
            Region::Spot { clock, away, radius } => {
                let (sin, cos) = clock.sin_cos();
                let away = away.inches_f64();
                let middle = [pith[0] + away * sin, pith[1] + away * cos];
                let out = radius.inches_f64() * out(f64::from(SPOT_ARCS), std::f64::consts::TAU);
                let corner = |n: u32| {
                    let turn = std::f64::consts::TAU * f64::from(n) / f64::from(SPOT_ARCS);
                    let (sin, cos) = sin_cos(turn);
                    [middle[0] + out * sin, middle[1] + out * cos]
                };
                vec![(0..SPOT_ARCS).rev().map(corner).collect()]
            }
            Region::Side { clock, width, depth } => {
                let radians = |angle: f64| angle * (std::f64::consts::PI / 180_000.0);
                let (middle, width) = (
                    radians(f64::from(clock.as_millidegrees())),
                    radians(f64::from(width.as_millidegrees())),
                );
                let edge = |n: u32| middle + width * (f64::from(n) / f64::from(SIDE_ARCS) - 0.5);
                let part = |n: u32| {
                    let (a, b) = (edge(n), edge(n + 1));
                    let (near, far) = surface(section, a, b);
                    let out = far * out(f64::from(SIDE_ARCS), width);
                    let inner = (near - depth.inches_f64()).max(0.0);
                    vec![at(a, inner), at(b, inner), at(b, out), at(a, out)]
                };
                (0..SIDE_ARCS).map(part).collect()
            }
        }
    }
}

/// How far the surface of the wood is from the pith between two directions less than half a turn apart: the nearest and
/// the furthest of it.
pub(crate) fn surface(section: &Section, from: f64, to: f64) -> (f64, f64) {
    let ((fs, fc), (ts, tc)) = (sin_cos(from), sin_cos(to));
    let (mut near, mut far) = (f64::INFINITY, 0.0f64);
    let seen = |p: &[f64; 2]| [p[0] - section.pith[0], p[1] - section.pith[1]];
    let next = section.wood.iter().cycle().skip(1);
    for (a, b) in section.wood.iter().zip(next) {
        let ([ax, ay], [bx, by]) = (seen(a), seen(b));
        // The part of the side that lies clockwise of the one direction and counterclockwise of the other.
        let (mut first, mut last) = (0.0f64, 1.0f64);
        for (at_a, at_b) in
            [(ax * fc - ay * fs, bx * fc - by * fs), (ay * ts - ax * tc, by * ts - bx * tc)]
        {
            match (at_a >= 0.0, at_b >= 0.0) {
                (true, true) => {}
                (true, false) => last = last.min(at_a / (at_a - at_b)),
                (false, true) => first = first.max(at_a / (at_a - at_b)),
                (false, false) => last = -1.0,
            }
        }
        if first > last {
            continue;
        }
        let (dx, dy) = (bx - ax, by - ay);
        let square = dx * dx + dy * dy;
        // The nearest point of the side's line to the pith.
        let foot = if square > 0.0 { -(ax * dx + ay * dy) / square } else { 0.0 };
        for share in [first, last, foot.clamp(first, last)] {
            let away = norm(ax + share * dx, ay + share * dy);
            near = near.min(away);
            far = far.max(away);
        }
    }
    if near > far { (0.0, 0.0) } else { (near, far) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn log() -> Log {
        let [small, butt] = [12, 16].map(Length::inches);
        Log::new(small, butt, Length::feet(8), Length::ZERO, Length::ZERO).unwrap()
    }

    fn flaw(region: Region) -> Flaw {
        Flaw { kind: FlawKind::Rot, from: Length::ZERO, to: Length::feet(4), region }
    }

    fn ring(inner: i64, outer: i64) -> Region {
        Region::Ring { inner: Length::inches(inner), outer: Length::inches(outer) }
    }

    fn is_within(p: [f64; 2], polygon: &[[f64; 2]]) -> bool {
        let next = polygon.iter().cycle().skip(1);
        polygon
            .iter()
            .zip(next)
            .all(|(a, b)| (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) >= -1e-12)
    }

    #[test]
    fn a_flaw_that_is_not_in_the_log_is_refused() {
        let log = log();
        let stretch = Flaw { to: Length::feet(9), ..flaw(ring(1, 2)) };
        assert!(matches!(stretch.fault(&log), Some(FlawFault::Stretch { .. })));
        let none = Flaw { to: Length::ZERO, ..flaw(ring(1, 2)) };
        assert!(matches!(none.fault(&log), Some(FlawFault::Stretch { .. })));
        assert!(matches!(flaw(ring(2, 2)).fault(&log), Some(FlawFault::Size { .. })));
        assert!(matches!(flaw(ring(-1, 2)).fault(&log), Some(FlawFault::Size { .. })));
        let side = |width: i32| {
            let (clock, width) = (Angle::ZERO, Angle::degrees(width));
            flaw(Region::Side { clock, width, depth: Length::inches(2) })
        };
        assert!(matches!(side(180).fault(&log), Some(FlawFault::Width { .. })));
        assert!(matches!(side(0).fault(&log), Some(FlawFault::Width { .. })));
        assert_eq!(side(179).fault(&log), None);
        // Half-way the log is 14 in through.
        let said = flaw(ring(7, 8)).fault(&log).unwrap().to_string();
        assert!(said.contains("begin 7.0000 in") && said.contains("no further than 7.0000 in"));
        assert_eq!(flaw(ring(6, 9)).fault(&log), None);
    }

    #[test]
    fn regions_are_convex_run_counterclockwise_and_hold_the_flaw() {
        let section = log().section_at(30.0);
        let degrees = |turn: i32| sin_cos(f64::from(turn).to_radians());
        let regions = [
            Region::Heart { radius: Length::inches(3) },
            ring(2, 3),
            Region::Radial {
                clock: Angle::degrees(30),
                from: Length::inches(2),
                to: Length::inches(3),
            },
            Region::Side {
                clock: Angle::degrees(30),
                width: Angle::degrees(80),
                depth: Length::inches(3),
            },
            Region::Spot {
                clock: Angle::degrees(30),
                away: Length::inches(4),
                radius: Length::inches(1),
            },
        ];
        let surface = log().wood_radius(30.0);
        for region in regions {
            let polygons = flaw(region).regions(&section);
            for polygon in &polygons {
                let turned = |n: usize| {
                    let [a, b, c] = [0, 1, 2].map(|k| polygon[(n + k) % polygon.len()]);
                    (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
                };
                assert!((0..polygon.len()).all(|n| turned(n) >= -1e-12), "{region:?}");
            }
            // Everything in it, by its own words.
            let (turns, span) = match region {
                Region::Heart { .. } => (0..360, (0.0, 3.0)),
                Region::Ring { .. } => (0..360, (2.0, 3.0)),
                Region::Radial { .. } => (30..31, (2.0, 3.0)),
                Region::Side { .. } => (-10..71, (surface - 3.0, surface)),
                Region::Spot { .. } => (30..31, (3.0, 5.0)),
            };
            for turn in turns {
                for step in 0..=10 {
                    let away = span.0 + (span.1 - span.0) * f64::from(step) / 10.0;
                    let (sin, cos) = degrees(turn);
                    let p = [away * sin, away * cos];
                    assert!(
                        polygons.iter().any(|polygon| is_within(p, polygon)),
                        "{region:?} does not hold what is {away} in at {turn} degrees"
                    );
                }
            }
        }
    }

    #[test]
    fn a_ring_leaves_the_wood_within_it_and_outside() {
        let polygons = flaw(ring(4, 5)).regions(&log().section_at(0.0));
        // A chord of a 36th of a circle leaves a 263rd of the radius.
        for (away, held) in [(3.98, false), (4.0, true), (5.0, true), (5.02, false)] {
            for turn in 0..720 {
                let (sin, cos) = sin_cos(f64::from(turn).to_radians() / 2.0);
                let p = [away * sin, away * cos];
                let held_here = polygons.iter().any(|polygon| is_within(p, polygon));
                assert_eq!(held_here, held, "{away} in at half of {turn} degrees");
            }
        }
    }
}
