//! The log as a solid, how it rests on the mill, what a pass of the blade leaves, and the replay of
//! a sawing order.
//!
//! This crate knows nothing of wants or money, nor how a plan was found: its [`replay()`] is a second
//! opinion. It takes the log and the steps alone, carries the solid through every pass, and reports
//! what falls out.
//!
//! | module | what it holds |
//! |---|---|
//! | [`log`] | the log: round, oval, bowed or measured all round, with its bark, its pith and its flaws |
//! | [`measured`] | a log that was measured all round: triangles, points, outlines |
//! | [`body`] | a part of the log between sawn planes: the sound interval on a line, the outermost reach |
//! | [`defect`] | what the outside tells of the inside: knots, seams, a core, and where they show on a piece |
//! | [`rings`] | the angle of the growth rings to a piece's wide face |
//! | [`frame`] | the directions in which a log is sawn |
//! | [`rest`] | how a body lies on the bed, and the frame that follows from it |
//! | [`mill`] | what the mill can do |
//! | [`order`] | the sawing order: rests, passes, edging, trimming, finished pieces |
//! | [`replay`](mod@replay) | the physical truth of a sawing order |
//! | [`trig`] | the one place that meets trigonometry |
//!
//! # Frames and units
//!
//! Log frame: `z` runs from 0 at the small end to the log's length at the butt, through the pith at either end. Looking at the small
//! end, `x` points right and `y` up; 12 o'clock is `+y`, 3 o'clock `+x`. Bed frame: `u` points right,
//! away from the side stops, and `h` up from the bed. What the saw is set to is an exact
//! [`Length`](pithward_measure::Length); curves are `f64` inches.

pub mod body;
pub mod defect;
pub mod frame;
pub mod log;
pub mod measured;
pub mod mill;
pub mod order;
pub mod replay;
pub mod rest;
pub mod rings;
pub mod trig;
pub mod view;

pub use body::{Body, Covering, HalfSpace};
pub use defect::{BoxFace, Defect, DefectBody, DefectFault, PieceBox, SeenBodies, Shown, pith_in};
pub use frame::{Basis, Frame};
pub use log::{
    Across, Bow, Crook, End, Flare, Flaw, FlawFault, FlawKind, FlawKinds, Log, LogFault, Looks,
    Region, Section, Sweep, Taped,
};
pub use measured::{
    Measured, Mesh, Outline, PithAt, Polar, Repair, ShapeFault, ShapeRequest, Surface,
};
pub use mill::{Mill, MillFault};
pub use order::{
    Claim, Edging, Face, Heart, PartId, Pass, Piece, Resaw, Rest, SawingOrder, Span, Stage, Support,
};
pub use replay::{
    Hangs, Kerf, Laid, Material, Metal, Outlines, PartParting, Parting, PassFact, PassParting,
    Place, Rebuilt, ReplayFault, Replayed, Resawn, Setting, Solid, StageParting, confirm, flaw_in,
    laid, material, parting, replay,
};
pub use rest::{Pose, lift_to_level, lift_to_level_flitch};
pub use rings::{RingAngle, ring_angle};
pub use trig::Angle;
pub use view::{Extent, Hazards, Prism, Quarter, RingSpan, Sides, View};
