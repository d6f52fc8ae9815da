//! What is wrong with the file of a log that was measured all round, and with what is said beside it.

use pithward_measure::Excerpt;
use thiserror::Error;

/// What is wrong with a shape file, beside the shape that is in it.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum ShapeFileFault {
    /// Something that a shape file says, or that does not go with one.
    #[error("stands beside shape, {why}")]
    BesideShape {
        /// `which says it already`.
        why: &'static str,
    },
    /// What is said of a shape file that nobody names.
    #[error("is the {what} of a shape file, and no shape is named")]
    OfNoShape {
        /// `unit`.
        what: &'static str,
    },
    /// No direction in the coordinates of a file.
    #[error("{got} is no direction in the file's coordinates")]
    NoDirection {
        /// What was written.
        got: Excerpt,
    },
    /// A file of another kind than those that hold shapes.
    #[error("is no shape file: its name ends in neither .ply, .obj nor .csv")]
    NoShapeFile,
    /// A text that is not PLY, in the words of whoever reads PLY.
    #[error("is not PLY: {0}")]
    Ply(String),
    /// A line of an OBJ file that is no point.
    #[error("{got} is no point: three numbers follow the v")]
    NoPoint {
        /// The line.
        got: Excerpt,
    },
    /// A line of an OBJ file that is no face.
    #[error("{got} is no face: the numbers of three or more points follow the f")]
    NoFace {
        /// The line.
        got: Excerpt,
    },
    /// A face with a corner that is not there.
    #[error("has a face with the corner {corner}, and there are {corners} points")]
    NoCorner {
        /// The corner, as it is written.
        corner: i64,
        /// How many there are.
        corners: usize,
    },
    /// More lines with faults than are told one by one.
    #[error("has {more} more lines like these")]
    MoreLines {
        /// How many.
        more: usize,
    },
    /// A middle that moves within one outline.
    #[error("is {got} here and {before} before it at the same station")]
    OtherMiddle {
        /// What stands before, inches.
        before: Excerpt,
        /// What stands here.
        got: Excerpt,
    },
}

impl ShapeFileFault {
    /// Whether the message goes on where the name of the field ends.
    pub(super) fn is_said_of_the_field(&self) -> bool {
        matches!(
            self,
            Self::NoShapeFile
                | Self::Ply(_)
                | Self::NoCorner { .. }
                | Self::MoreLines { .. }
                | Self::OtherMiddle { .. }
                | Self::BesideShape { .. }
                | Self::OfNoShape { .. }
        )
    }
}
