//! The form of what makes a log other than round, straight and sound, and of the directions in which it is sawn.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What the log is at one station. All sections of a log have as many points, and the points of the same place in two
/// neighbours belong together: between them every point moves straight from the one to the other.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct SectionForm {
    /// Station, from the small end.
    pub(crate) z: i64,
    /// The pith, `[x, y]`, in the unit of outlines.
    pub(crate) pith: [i64; 2],
    /// Outline of the wood, counterclockwise as one looks at the small end, in the unit of outlines.
    pub(crate) wood: Vec<[i64; 2]>,
    /// Outline over the bark, point for point.
    pub(crate) bark: Vec<[i64; 2]>,
}

/// Something wrong with the wood.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct FlawForm {
    /// `rot`, `hollow`, `shake`, `split`, `stain` or `metal`.
    pub(crate) kind: &'static str,
    /// Where it begins, from the small end.
    pub(crate) from: i64,
    /// Where it ends, from the small end.
    pub(crate) to: i64,
    /// Where in the section.
    pub(crate) region: RegionForm,
}

/// Where in a section a flaw lies.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum RegionForm {
    /// Round the pith.
    Heart {
        /// Out to here.
        radius: i64,
    },
    /// A ring round the pith: wood may lie within it or outside it, but not across.
    Ring {
        /// Radius of its inner side.
        inner: i64,
        /// Radius of its outer side.
        outer: i64,
    },
    /// A plane through the pith and along it; it counts a sixteenth of an inch to either side.
    Radial {
        /// Direction from the pith, as on a clock: 0 is 12 o'clock, 90 000 is 3 o'clock.
        clock: i32,
        /// How far from the pith it begins.
        from: i64,
        /// How far from the pith it ends.
        to: i64,
    },
    /// From the surface of the wood inward, on one side.
    Side {
        /// Direction of its middle from the pith.
        clock: i32,
        /// How wide it is as seen from the pith, an angle.
        width: i32,
        /// How deep below the surface of the wood.
        depth: i64,
    },
    /// Round a place that was found.
    Spot {
        /// Direction of its middle from the pith.
        clock: i32,
        /// How far its middle is from the pith.
        away: i64,
        /// Radius.
        radius: i64,
    },
}

/// What the outside of a log tells of its inside. Directions are those from the pith. Of a log that was cut from a stem
/// through a knot or a hole its station may lie a little beyond the log's end.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum DefectForm {
    /// A branch: a cone with its tip at the pith.
    Knot {
        /// Station at which it ends, or meets the surface of the wood.
        at: i64,
        /// Direction from the pith, as on a clock: 0 is 12 o'clock, 90 000 is 3 o'clock.
        clock: i32,
        /// Its thickness there.
        across: i64,
        /// How much nearer to the butt its tip is.
        rise: i64,
        /// Thickness of the clear wood over its end; 0 where it is seen on the bark.
        clear: i64,
    },
    /// A plane from the surface toward the pith; it counts a sixteenth of an inch to either side.
    Seam {
        /// Where it begins, from the small end.
        from: i64,
        /// Where it ends.
        to: i64,
        /// Direction from the pith.
        clock: i32,
        /// How deep below the surface of the wood.
        depth: i64,
    },
    /// A zone of the surface.
    Scar {
        /// Where it begins, from the small end.
        from: i64,
        /// Where it ends.
        to: i64,
        /// Direction of its middle from the pith.
        clock: i32,
        /// How wide it is as seen from the pith, an angle.
        width: i32,
        /// How deep below the surface of the wood.
        depth: i64,
    },
    /// A tube from the surface toward the pith.
    Hole {
        /// Station.
        at: i64,
        /// Direction from the pith.
        clock: i32,
        /// How wide.
        across: i64,
        /// How deep below the surface of the wood.
        depth: i64,
    },
    /// Wood with knots throughout, within a clear shell.
    Core {
        /// Where it begins, from the small end.
        from: i64,
        /// Where it ends.
        to: i64,
        /// Thickness of the shell in the quarters about 12, 3, 6 and 9 o'clock.
        clear: [i64; 4],
    },
}

/// The directions of all planes of a log: they are square to `h` or to `u`, and run along the frame's axis, which begins
/// on the pith at the small end.
///
/// With `c(t) = (sin t, cos t, 0)`: `along = unit(drift_u c(turn + 90 degrees) + drift_h c(turn) + (0, 0, length))`,
/// `h = unit(c(turn) - (c(turn) . along) along)`, `u = h x along`. Without drift `h` is `c(turn)`, `u` a quarter turn
/// clockwise of it, and the axis is the log's own.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct FrameForm {
    /// The clock direction of h, up when the first face is opened.
    pub(crate) turn: i32,
    /// How far the axis moves along u from the small end to the butt, against the log's own.
    pub(crate) drift_u: i64,
    /// The same along h.
    pub(crate) drift_h: i64,
}

/// The ways of laying the log that were searched.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct RestsForm {
    /// Frames that were searched, roughly; 0 where it was not told.
    pub(crate) tried: u32,
    /// Frames that a bound ruled out without a search of their own.
    pub(crate) ruled_out: u32,
    /// What the best pattern that was found so in any of them is worth, as if there were no counts; null where one frame is
    /// as good as any other.
    pub(crate) best: Option<i64>,
    /// The poorest of those searched; null where one frame is as good as any other.
    pub(crate) worst: Option<WorstRestForm>,
}

/// The poorest frame.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct WorstRestForm {
    /// The frame.
    pub(crate) frame: FrameForm,
    /// What the best pattern in it is worth at most, as if there were no counts.
    pub(crate) worth: i64,
}

/// Where the pith may be in a piece.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum HeartForm {
    /// Anywhere, or not in it at all.
    Any,
    /// Not in the piece.
    Free {
        /// Least distance from the pith.
        clear: i64,
    },
    /// Inside the piece, over its whole length.
    Boxed {
        /// Greatest distance from the middle of the piece, in either direction of its section.
        within: i64,
    },
}
