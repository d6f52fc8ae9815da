//! A log that was measured all round: from a scanner's triangles or points, or from outlines at stations.
//!
//! # Road
//! ```text
//! triangles -mesh--> one clean surface ┐
//! points ---cloud--> one cloud --------┴-pose-> its axis, its ends, 12 o'clock -unit-> inches ┐
//! outlines at stations -----------------------------------------------------------------------┴-section-> Log
//! ```
//! Whatever is put right on the way is told as a [`Repair`]; what cannot be is a [`ShapeFault`] that says what a
//! person can do.
//!
//! # Which way is up
//! A file's coordinates are right-handed. The end of the smaller area is the small end. 12 o'clock is the file's `+z`,
//! or the stated direction; a log that stands in its file (its axis within 30 degrees of `+z`) has its 12 o'clock at
//! `+y` unless a direction is stated.
//!
//! # Sections
//! Every section of a scan is cut square to the line through the pith at both ends, and is kept as [`RAYS`] distances
//! from its own centre, in the same directions in all sections. Where the outline turns back on itself, the distance
//! is that of the first crossing, so that no wood is promised that is not there; what is lost by it is told.

mod cloud;
mod fault;
mod mesh;
mod outlines;
mod pieces;
mod pose;
mod repair;
mod ring;
mod section;
mod slice;
mod unit;

pub use fault::{ShapeFault, WhichEnd};
pub use outlines::{Outline, OutlineFault, OutlineFaultKind, Polar, from_outlines, outline_faults};
pub use repair::Repair;
pub use unit::{Candidate, Candidates, credible_units, unit_name};

use crate::{Angle, Log};
use pithward_measure::{Length, Unit};

/// Directions in which a section is kept, from its centre: every 3 degrees, so that the outline of a round log 24 in
/// through lies nowhere more than a 240th of an inch inside the true one.
pub const RAYS: usize = 120;

/// The greatest distance of two sections, inches: a bump or a hollow that is shorter is no matter to a board.
pub const SPACING: f64 = 2.5;

/// A surface of triangles; a cloud of points where there are none.
///
/// # Units
/// Those of the file that it comes from.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    /// Corners.
    pub points: Vec<[f64; 3]>,
    /// Three corners each, counted from 0. One that is out of range belongs to no triangle that is looked at.
    pub triangles: Vec<[u32; 3]>,
}

/// What is known of a measured shape beside its points.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ShapeRequest {
    /// What the coordinates are in; where it is not stated, it is judged by the size. Outlines come in inches.
    pub unit: Option<Unit>,
    /// The direction of 12 o'clock in the file's coordinates, where it is not `+z`.
    pub up: Option<[f64; 3]>,
    /// What the scanner saw.
    pub surface: Surface,
    /// Where the pith is at the small end; in the middle where it is not stated.
    pub pith_small: Option<PithAt>,
    /// Where it is at the butt.
    pub pith_butt: Option<PithAt>,
}

/// What a scanner saw.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Surface {
    /// The wood: a peeled log, or one that lost its bark.
    #[default]
    Wood,
    /// Bark of a thickness at either end.
    Bark {
        /// At the small end.
        small: Length,
        /// At the butt.
        butt: Length,
    },
    /// Bark as thick as the species' average.
    BarkShare {
        /// Diameter inside the bark over diameter outside.
        inside_over_outside: f64,
    },
}

/// Where the pith is at an end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PithAt {
    /// How far from the middle of the section.
    pub off: Length,
    /// In which direction, looking at the small end.
    pub clock: Angle,
}

/// A measured log, and what was put right before it was one.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// The log.
    pub log: Log,
    /// What was done to what was measured, in the order in which it was done.
    pub told: Vec<Repair>,
}

/// The log within a surface of triangles, or within a cloud of points where there are none.
///
/// # Errors
/// Why the shape is no log that can be sawn, and what a person can do about it.
pub fn from_mesh(mesh: Mesh, request: &ShapeRequest) -> Result<Measured, ShapeFault> {
    let mut told = Vec::new();
    if mesh.triangles.is_empty() {
        let cloud = cloud::clean(mesh.points, &mut told)?;
        return section::of_scan(cloud, request, told);
    }
    let surface = mesh::clean(mesh, &mut told)?;
    section::of_scan(surface, request, told)
}
