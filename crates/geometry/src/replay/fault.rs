//! Why an order is not what it claims to be, and where.

use crate::{FlawKind, PartId};
use pithward_measure::Length;
use thiserror::Error;

/// Where in the order a fault lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// A stage of the log.
    Log {
        /// From 1.
        stage: usize,
    },
    /// A stage of a part that was put back on the mill.
    Resaw {
        /// Which, from 1.
        resaw: usize,
        /// From 1.
        stage: usize,
    },
    /// A stage of an edging.
    Edging {
        /// Which edging, from 1.
        edging: usize,
        /// From 1.
        stage: usize,
    },
}

impl std::fmt::Display for Place {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Log { stage } => write!(f, "stage {stage}"),
            Self::Resaw { resaw, stage } => write!(f, "resaw {resaw}, stage {stage}"),
            Self::Edging { edging, stage } => write!(f, "edging {edging}, stage {stage}"),
        }
    }
}

/// Why an order is not what it claims to be.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ReplayFault {
    /// The log does not go on the mill at all.
    #[error("the mill cannot take the log: {what} is {:.3} in, its limit {:.3} in", .got.inches_f64(), .limit.inches_f64())]
    Log {
        /// Which measure.
        what: &'static str,
        /// The log's.
        got: Length,
        /// The mill's.
        limit: Length,
    },
    /// A frame that leaves the log.
    #[error("the sawing axis leaves the log's own by {:.4} in from end to end, {:.4} in is the most in a log of that length", .drift.inches_f64(), .limit.inches_f64())]
    Frame {
        /// The larger of its two drifts.
        drift: Length,
        /// The most that is taken for a log of that length.
        limit: Length,
    },
    /// A rest whose planes would not be square to the others.
    #[error("{place}: it is not turned by whole quarters from the order's frame")]
    Turn {
        /// Where.
        place: Place,
    },
    /// A lift that does not level the frame's axis.
    #[error("{place}: raised by {:.4} in, but {:.4} in level it", .told.inches_f64(), .takes.inches_f64())]
    Lift {
        /// Where.
        place: Place,
        /// What the order says.
        told: Length,
        /// What it takes.
        takes: Length,
    },
    /// No pose fits the rest.
    #[error("{place}: nothing can lie like this")]
    NoPose {
        /// Where.
        place: Place,
    },
    /// What the rest says is down is not down.
    #[error("{place}: it does not lie on what the order says")]
    Support {
        /// Where.
        place: Place,
    },
    /// What the rest says stands against the stops does not.
    #[error("{place}: what should stand against the stops does not")]
    Stops {
        /// Where.
        place: Place,
    },
    /// The blade lower than the mill allows.
    #[error("{place}, pass {pass}: the blade is at {:.4} in, the mill's lowest is {:.4} in", .height.inches_f64(), .lowest.inches_f64())]
    TooLow {
        /// Where.
        place: Place,
        /// From 1 in its stage.
        pass: usize,
        /// Blade height.
        height: Length,
        /// The mill's lowest.
        lowest: Length,
    },
    /// The stock does not pass between the guides.
    #[error(
        "{place}, pass {pass}: the stock is {widest:.4} in wide, the guides let {limit:.4} in through"
    )]
    TooWide {
        /// Where.
        place: Place,
        /// From 1 in its stage; 0 for the batch as a whole.
        pass: usize,
        /// Widest stock at or above the blade.
        widest: f64,
        /// The mill's limit.
        limit: f64,
    },
    /// The stock does not pass under the head.
    #[error(
        "{place}, pass {pass}: {above:.4} in stand above the blade, the head clears {limit:.4} in"
    )]
    TooDeep {
        /// Where.
        place: Place,
        /// From 1 in its stage.
        pass: usize,
        /// What stands above the blade.
        above: f64,
        /// The mill's limit.
        limit: f64,
    },
    /// More flitches side by side than the clamp holds.
    #[error("edging batch {batch}: {count} flitches, the mill takes {limit}")]
    Batch {
        /// The batch's number.
        batch: u32,
        /// How many.
        count: usize,
        /// The mill's limit.
        limit: u32,
    },
    /// Flitches of one batch that are told different passes.
    #[error("edging batch {batch}: its flitches are not cut by the same passes")]
    BatchDiffers {
        /// The batch's number.
        batch: u32,
    },
    /// A printed height that is not the exact one on the mill's scale.
    #[error("{place}, pass {pass}: printed {:.5} in is not {:.5} in on the mill's scale", .printed.inches_f64(), .exact.inches_f64())]
    Printed {
        /// Where.
        place: Place,
        /// From 1 in its stage.
        pass: usize,
        /// The exact height.
        exact: Length,
        /// The printed one.
        printed: Length,
    },
    /// A pass above everything that lies on the bed.
    #[error("{place}, pass {pass}: the blade meets nothing")]
    Nothing {
        /// Where.
        place: Place,
        /// From 1 in its stage.
        pass: usize,
    },
    /// A part that the order names but no pass frees, or one that is edged, or put back on the mill, already.
    #[error("the order speaks of a part that is not there: {0:?}")]
    NoPart(PartId),
    /// A piece whose sides are not those of the order's frame.
    #[error("piece {piece}: it is not turned by whole quarters from the order's frame")]
    Square {
        /// From 1.
        piece: usize,
    },
    /// A side of a piece that was never sawn.
    #[error("piece {piece}: one of its four sides was never sawn")]
    Unsawn {
        /// From 1.
        piece: usize,
    },
    /// A piece that is not where, or not as large as, it claims.
    #[error("piece {piece}: it claims {claimed:.5} in {axis}, the planes give {found:.5} in")]
    Size {
        /// From 1.
        piece: usize,
        /// Which measure.
        axis: &'static str,
        /// Claimed.
        claimed: f64,
        /// Found.
        found: f64,
    },
    /// A piece that is not wood throughout.
    #[error("piece {piece}: wood is missing beyond its wane at {z:.3} in from the small end")]
    Unsound {
        /// From 1.
        piece: usize,
        /// Station.
        z: f64,
    },
    /// A piece with a flaw that it does not tolerate.
    #[error("piece {piece}: {} reaches into it at {z:.3} in from the small end", .kind.name())]
    Flaw {
        /// From 1.
        piece: usize,
        /// What is wrong with the wood.
        kind: FlawKind,
        /// Station.
        z: f64,
    },
    /// A piece in which the pith is where it must not be.
    #[error("piece {piece}: the pith is not where it may be at {z:.3} in from the small end")]
    Heart {
        /// From 1.
        piece: usize,
        /// Station.
        z: f64,
    },
    /// Pieces cut from one strip that overlap, or reach past the log's ends.
    #[error("piece {piece}: it cannot be cut to that length")]
    Length {
        /// From 1.
        piece: usize,
    },
}
