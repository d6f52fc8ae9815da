//! The sawing order: what is done at the mill, step by step, and what each finished piece claims to be.
//!
//! A log is sawn in [`Stage`]s: one [`Rest`] and the [`Pass`]es made in it, from the top down. Every
//! pass frees one part; what lies on the bed after the last pass is a part too. A part may be edged in
//! stages of its own ([`Edging`]), which free strips. Strips are cut to length into [`Piece`]s.
//!
//! A part that a pass freed may be set aside and put back on the mill later ([`Resaw`]), as a body of its own with stages
//! of its own, whose parts may be put back in their turn: a half, then its quarters.

use crate::{Angle, FlawKinds, Frame};
use pithward_measure::Length;

/// A side of the log, in the order in which they are first opened; of a part that is put back on the mill, in the same
/// way, but those that were open when it came first. A side that is sawn again later keeps its letter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// The first.
    A,
    /// The second.
    B,
    /// The third.
    C,
    /// The fourth.
    D,
}

impl Face {
    /// All four, in order.
    pub const ALL: [Self; 4] = [Self::A, Self::B, Self::C, Self::D];

    /// Its letter.
    pub fn letter(self) -> char {
        match self {
            Self::A => 'A',
            Self::B => 'B',
            Self::C => 'C',
            Self::D => 'D',
        }
    }
}

/// What a body lies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Support {
    /// Its round, bark side.
    Bark,
    /// A sawn face of the log, or of a part that was put back on the mill.
    Face(Face),
    /// The edge of a flitch that was sawn just before.
    SawnEdge,
}

/// How a body lies on the bed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rest {
    /// Which direction of the log frame is up: 0 is 12 o'clock at the small end, 90 degrees is
    /// 3 o'clock, and so on clockwise. A whole number of quarter turns from the order's frame.
    pub turn: Angle,
    /// How far the lowest point of the small end stands above the lowest point of the butt when the frame's axis lies
    /// level; negative where it is the butt that must be raised.
    pub lift: Length,
    /// What is down on the bed.
    pub on: Support,
    /// The sawn face that stands against the side stops, if one does.
    pub against: Option<Face>,
}

/// One travel of the blade through the whole length at one height.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pass {
    /// Height over the bed of the underside of the kerf: the top of what remains.
    pub height: Length,
    /// The same on the mill's own scale.
    pub printed: Length,
}

/// One rest and the passes made in it, highest first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stage {
    /// How the body lies.
    pub rest: Rest,
    /// The passes, from the top down.
    pub passes: Vec<Pass>,
}

/// A part freed from a body: by the n-th pass made on that body (from 1), or left on the bed at the end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PartId {
    /// Freed by this pass, counted from 1 through all stages.
    Freed(u32),
    /// What lies on the bed after the last pass.
    Left,
    /// Freed by this pass of a part that was put back on the mill.
    FreedOf {
        /// Its place in [`SawingOrder::resaws`], from 1.
        resaw: u32,
        /// Counted from 1 through all its stages.
        pass: u32,
    },
    /// What lies on the bed after the last pass of a part that was put back on the mill.
    LeftOf {
        /// Its place in [`SawingOrder::resaws`], from 1.
        resaw: u32,
    },
}

impl PartId {
    /// The same part, of the body that is put back as the n-th, from 1, instead of the log. A part of another such body
    /// stays what it is.
    #[must_use]
    pub fn of_resaw(self, resaw: u32) -> Self {
        match self {
            Self::Freed(pass) => Self::FreedOf { resaw, pass },
            Self::Left => Self::LeftOf { resaw },
            Self::FreedOf { .. } | Self::LeftOf { .. } => self,
        }
    }

    /// From which resaw it is, from 1; `None` where it is of the log itself.
    pub fn resaw(self) -> Option<u32> {
        match self {
            Self::Freed(_) | Self::Left => None,
            Self::FreedOf { resaw, .. } | Self::LeftOf { resaw } => Some(resaw),
        }
    }

    /// By which pass of its body it was freed, from 1; `None` where it was left on the bed.
    pub fn pass(self) -> Option<u32> {
        match self {
            Self::Freed(pass) | Self::FreedOf { pass, .. } => Some(pass),
            Self::Left | Self::LeftOf { .. } => None,
        }
    }
}

/// A part that is set aside when it is freed, and put back on the mill as a body of its own. What is left on the bed
/// cannot be: further stages of its own body are what is done to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Resaw {
    /// The part: of the log, or of a resaw before this one.
    pub part: PartId,
    /// Its stages.
    pub stages: Vec<Stage>,
}

/// The edging of one part, standing on edge.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edging {
    /// The part that is edged.
    pub part: PartId,
    /// Parts with the same number stand together and are cut by the same passes.
    pub batch: u32,
    /// Its stages.
    pub stages: Vec<Stage>,
}

/// An interval on one axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// Where it begins.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
}

impl Span {
    /// From one end to the other.
    pub fn new(from: Length, to: Length) -> Self {
        Self { from, to }
    }

    /// How long it is.
    pub fn size(self) -> Length {
        self.to - self.from
    }
}

/// The box that a finished piece is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Claim {
    /// Turn of the piece's frame against the log frame: `h` points to this direction, `u` a quarter
    /// turn clockwise of it; a whole number of quarter turns from the order's frame, whose drift it shares.
    pub turn: Angle,
    /// Across, along `u`, from the frame's axis, which begins on the pith at the small end.
    pub u: Span,
    /// Upward, along `h`, from the frame's axis.
    pub h: Span,
    /// Along the log's own axis, from the small end.
    pub z: Span,
    /// Largest leg of wood that may be missing along `u` at a corner.
    pub wane_u: Length,
    /// Largest leg of wood that may be missing along `h` at a corner.
    pub wane_h: Length,
    /// Where the pith may be.
    pub heart: Heart,
    /// Flaws that it may hold.
    pub tolerates: FlawKinds,
}

/// Where the pith may be in a piece.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Heart {
    /// Anywhere, or not in it at all.
    #[default]
    Any,
    /// Not in the piece, nor nearer to it than this.
    Free {
        /// Least distance from the pith.
        clear: Length,
    },
    /// Inside the piece, over its whole length.
    Boxed {
        /// Greatest distance from the middle of the piece, in either direction of its section.
        within: Length,
    },
}

/// One finished piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// The part of the log that it comes from.
    pub part: PartId,
    /// The strip of that part, when the part is edged.
    pub strip: Option<PartId>,
    /// What it claims to be.
    pub claim: Claim,
}

/// Everything done to one log.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct SawingOrder {
    /// The directions of all planes.
    pub frame: Frame,
    /// The log's stages, in order; the sides that they open are A, B, C, D in this order, and keep
    /// their letters when they are sawn again.
    pub stages: Vec<Stage>,
    /// The parts that are put back on the mill, in the order in which they are.
    pub resaws: Vec<Resaw>,
    /// The edging of flitches, by batch.
    pub edgings: Vec<Edging>,
    /// The finished pieces.
    pub pieces: Vec<Piece>,
}

impl SawingOrder {
    /// Passes through the log, what is put back of it, and its flitches; a batch that stands together is passed once.
    pub fn passes(&self) -> usize {
        let bodies = self.resaws.iter().map(|resaw| &resaw.stages).chain([&self.stages]);
        let bodies: usize = bodies.flatten().map(|stage| stage.passes.len()).sum();
        bodies
            + self
                .batches()
                .map(|edging| edging.stages.iter().map(|s| s.passes.len()).sum::<usize>())
                .sum::<usize>()
    }

    /// Turns of the log, and of what is put back of it.
    pub fn turns(&self) -> usize {
        let bodies = self.resaws.iter().map(|resaw| &resaw.stages).chain([&self.stages]);
        bodies.map(|stages| stages.len().saturating_sub(1)).sum()
    }

    /// How often something that is to be sawn on is moved: off the mill, and back on.
    pub fn moves(&self) -> usize {
        2 * self.resaws.len()
    }

    /// Which resaw a part is put back as, from 1; `None` where it is not.
    pub fn put_back(&self, part: PartId) -> Option<u32> {
        let place = self.resaws.iter().position(|resaw| resaw.part == part)?;
        u32::try_from(place + 1).ok()
    }

    /// One edging of each batch.
    pub fn batches(&self) -> impl Iterator<Item = &Edging> {
        self.edgings
            .iter()
            .enumerate()
            .filter(|(i, edging)| {
                self.edgings[..*i].iter().all(|earlier| earlier.batch != edging.batch)
            })
            .map(|(_, edging)| edging)
    }
}
