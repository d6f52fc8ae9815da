//! What is wrong with the wood of a log, and where.

use super::Section;
use crate::trig::sin_cos;
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
        /// How deep below the surface of the wood.
        depth: Length,
    },
}

/// Half the thickness that a plane of split wood counts with, inches: a sixteenth. Common practice, no source.
const HALF_SPLIT: f64 = 1.0 / 16.0;

/// Parts of a ring or of a full round; each is a polygon that holds its arc.
const ARCS: u32 = 36;

/// Parts of a side zone at most.
const SIDE_ARCS: u32 = 16;

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
            Region::Side { width, depth, .. } => {
                if !(1..180_000).contains(&width.as_millidegrees()) {
                    return Some(FlawFault::Width { kind, width });
                }
                (Length::ZERO, depth)
            }
        };
        (least < Length::ZERO || least >= most).then_some(FlawFault::Size { kind, least, most })
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
            Region::Side { clock, width, depth } => {
                let radians = |angle: f64| angle * (std::f64::consts::PI / 180_000.0);
                let (middle, width) = (
                    radians(f64::from(clock.as_millidegrees())),
                    radians(f64::from(width.as_millidegrees())),
                );
                let edge = |n: u32| middle + width * (f64::from(n) / f64::from(SIDE_ARCS) - 0.5);
                let part = |n: u32| {
                    let (a, b) = (edge(n), edge(n + 1));
                    let centre = f64::midpoint(a, b);
                    // The surface within the part: nearest and furthest, with what lies between its rays.
                    let rays = [a, centre, b].map(|turn| surface(section, turn));
                    let near = rays.into_iter().fold(f64::INFINITY, f64::min);
                    let far = rays.into_iter().fold(0.0, f64::max);
                    let out = far * out(f64::from(SIDE_ARCS), width) * 1.02;
                    let inner = (near - depth.inches_f64()).max(0.0);
                    vec![at(a, inner), at(b, inner), at(b, out), at(a, out)]
                };
                (0..SIDE_ARCS).map(part).collect()
            }
        }
    }
}

/// How far the surface of the wood is from the pith in a direction, the furthest where the outline is met more than once.
fn surface(section: &Section, turn: f64) -> f64 {
    let (sin, cos) = sin_cos(turn);
    let next = section.wood.iter().cycle().skip(1);
    let mut far = 0.0f64;
    for (a, b) in section.wood.iter().zip(next) {
        let seen = |p: &[f64; 2]| {
            let (x, y) = (p[0] - section.pith[0], p[1] - section.pith[1]);
            (x * sin + y * cos, x * cos - y * sin)
        };
        let ((along, aside), (next_along, next_aside)) = (seen(a), seen(b));
        if (aside <= 0.0) != (next_aside <= 0.0) {
            far = far.max(along - aside / (next_aside - aside) * (next_along - along));
        }
    }
    far
}
