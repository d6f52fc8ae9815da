//! A board and the defects that its faces show.

use super::{Area, Half, surface_measure};
use pithward_measure::Length;

/// A kind of defect that a face shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DefectKind {
    /// A knot that is solid and tight.
    SoundKnot,
    /// A knot that is loose, rotten or cracked.
    UnsoundKnot,
    /// A hole of a quarter of an inch or more.
    Hole,
    /// Pin, shot and spot worm holes.
    WormHoles,
    /// Stain, streaks, bird peck.
    Stain,
    /// Bark in the wood: a pocket or a seam.
    Bark,
    /// Rot.
    Rot,
    /// Rings that come apart.
    Shake,
    /// Bark or missing wood on an edge.
    Wane,
}

impl DefectKind {
    /// Whether a sound cutting may have it. Paragraph 31 of the rule book; that bark is unsound is ours.
    pub fn is_sound(self) -> bool {
        matches!(self, Self::SoundKnot | Self::WormHoles | Self::Stain)
    }

    /// Whether its mean diameter is limited.
    pub(super) fn has_diameter(self) -> bool {
        matches!(self, Self::SoundKnot | Self::UnsoundKnot | Self::Hole)
    }
}

/// A defect on a face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Defect {
    /// What it is.
    pub kind: DefectKind,
    /// The rectangle that holds it.
    pub area: Area,
}

/// A board and what its faces show.
///
/// Both faces are measured from the same end and the same edge, as if one looked through the board at the second.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Board {
    /// Width.
    pub width: Length,
    /// Length.
    pub length: Length,
    /// The defects of its two faces.
    pub faces: [Vec<Defect>; 2],
    /// Where it holds pith, boxed or showing.
    pub pith: Vec<Area>,
    /// Splits, each from end to end and as far aside as it runs.
    pub splits: Vec<Area>,
}

impl Board {
    /// No board is wider; what is more does not count.
    pub const MOST_WIDTH: Length = Length::inches(1_000);
    /// No board is longer; what is more does not count.
    pub const MOST_LENGTH: Length = Length::feet(1_000);

    /// A board without a defect.
    pub fn clear(width: Length, length: Length) -> Self {
        Self { width, length, ..Self::default() }
    }

    /// Its surface measure, square feet.
    pub fn surface_measure(&self, half: Half) -> i64 {
        surface_measure(self.width, self.length, half)
    }

    /// Cut down to what lies on it, and to a size that no board exceeds: then no sum below can overflow.
    pub(super) fn trimmed(&self) -> Self {
        let width = self.width.clamp(Length::ZERO, Self::MOST_WIDTH);
        let length = self.length.clamp(Length::ZERO, Self::MOST_LENGTH);
        let trim = |area: &Area| {
            let within = |side: (Length, Length), to: Length| {
                (side.0.clamp(Length::ZERO, to), side.1.clamp(Length::ZERO, to))
            };
            Area::new(within(area.along, length), within(area.across, width))
        };
        let of = |defect: &Defect| Defect { kind: defect.kind, area: trim(&defect.area) };
        Self {
            width,
            length,
            faces: self.faces.each_ref().map(|face| face.iter().map(of).collect()),
            pith: self.pith.iter().map(trim).collect(),
            splits: self.splits.iter().map(trim).collect(),
        }
    }

    /// What no clear cutting of a face may have in it.
    pub(super) fn marks(&self, face: usize) -> Vec<Area> {
        let shown = self.faces[face].iter().map(|defect| defect.area);
        shown.chain(self.through()).collect()
    }

    /// What of a face is unsound.
    pub(super) fn unsound(&self, face: usize) -> Vec<Area> {
        let unsound = self.faces[face].iter().filter(|defect| !defect.kind.is_sound());
        unsound.map(|defect| defect.area).chain(self.through()).collect()
    }

    /// Pith and splits: neither face may have them in a cutting.
    fn through(&self) -> impl Iterator<Item = Area> {
        // A straight split is a line, and a line has no content.
        let wide = |area: &Area| {
            let (low, high) = area.across;
            let high = if high > low { high } else { low + Length::nm(1) };
            Area::new(area.along, (low, high))
        };
        self.pith.iter().copied().chain(self.splits.iter().map(wide))
    }

    /// Wane on the edge that is measured from, or on the other.
    pub(super) fn wane(&self, face: usize, is_low: bool) -> impl Iterator<Item = Area> {
        let wane = self.faces[face].iter().filter(|defect| defect.kind == DefectKind::Wane);
        let width = self.width;
        wane.map(|defect| defect.area)
            .filter(move |area| (area.across.0 <= width - area.across.1) == is_low)
    }
}
