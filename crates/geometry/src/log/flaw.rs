//! What is wrong with the wood of a log, and where.

use crate::Angle;
use pithward_measure::Length;

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
