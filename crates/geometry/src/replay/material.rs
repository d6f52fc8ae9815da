//! What a sawing order turns the log into: pieces, slabs, edgings, ends, sawdust, each measured by itself.
//!
//! # Method
//! The steps are gone through once more at their exact heights, with the bodies that [`replay`](crate::replay()) carries:
//! every part is the log between the planes that bound it, the sawdust of a pass is what of its body lies within the
//! kerf, and each volume is the integral of its own sections. Nothing is reckoned by difference, so that the sum over all
//! of them is a check: it is the log's own volume, which has a closed form.
//!
//! # What is counted as what
//! Of a part that is edged its strips count, of any other the part itself. One from which a piece comes is cut to length:
//! the pieces, the sawdust of the crosscuts at the ends of each, the rest is ends. A crosscut is made wherever a piece
//! ends within the log; two that would leave less than a kerf between them leave sawdust. All else is slab or edging.
//! What is rotten or hollow counts as wood: nobody knows how much of it is gone.

use super::walk::{Step, Walk};
use super::{Place, ReplayFault, find};
use crate::{Body, Covering, Log, Mill, PartId, Piece, SawingOrder};

/// A volume of wood and of the bark on it.
///
/// # Units
/// Cubic inches.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Solid {
    /// Inside the bark.
    pub wood: f64,
    /// Bark.
    pub bark: f64,
}

impl Solid {
    /// Wood and bark together.
    pub fn all(self) -> f64 {
        self.wood + self.bark
    }

    /// The sum of two.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self { wood: self.wood + other.wood, bark: self.bark + other.bark }
    }

    /// Between two stations of a body.
    fn between(body: &Body<'_>, from: f64, to: f64) -> Self {
        let [wood, over] = body.volumes_between([Covering::Wood, Covering::Bark], from, to);
        Self { wood, bark: (over - wood).max(0.0) }
    }
}

impl std::iter::Sum for Solid {
    fn sum<I: Iterator<Item = Self>>(solids: I) -> Self {
        solids.fold(Self::default(), Self::plus)
    }
}

/// The sawdust of one pass through the log, through a part put back, or through one flitch of a batch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kerf {
    /// The stage.
    pub place: Place,
    /// The pass, from 1 in its stage.
    pub pass: usize,
    /// What it turns to sawdust.
    pub sawdust: Solid,
    /// Area of the cut through the wood, the mean over the kerf, square inches.
    pub area: f64,
}

/// What a log is turned into.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Material {
    /// The log before the first pass.
    pub log: Solid,
    /// The pieces as they are cut, in the order's own order.
    pub pieces: Vec<Solid>,
    /// Parts of the log from which no piece comes.
    pub slabs: Vec<(PartId, Solid)>,
    /// Strips of edged parts from which no piece comes: the part, the strip.
    pub edgings: Vec<(PartId, PartId, Solid)>,
    /// What is cut off the ends of pieces.
    pub ends: Vec<Solid>,
    /// Every pass.
    pub kerfs: Vec<Kerf>,
    /// Sawdust of all crosscuts.
    pub crosscuts: Solid,
}

impl Material {
    /// All slabs together.
    pub fn slab(&self) -> Solid {
        self.slabs.iter().map(|(_, solid)| *solid).sum()
    }

    /// All edgings together.
    pub fn edging(&self) -> Solid {
        self.edgings.iter().map(|(.., solid)| *solid).sum()
    }

    /// All ends together.
    pub fn end(&self) -> Solid {
        self.ends.iter().copied().sum()
    }

    /// All pieces together.
    pub fn lumber(&self) -> Solid {
        self.pieces.iter().copied().sum()
    }

    /// All sawdust: of the passes and of the crosscuts.
    pub fn sawdust(&self) -> Solid {
        self.kerfs.iter().map(|kerf| kerf.sawdust).sum::<Solid>().plus(self.crosscuts)
    }

    /// Area that the blade sawed, square inches; without crosscuts.
    pub fn sawn_area(&self) -> f64 {
        self.kerfs.iter().map(|kerf| kerf.area).sum()
    }

    /// All that the log became, measured part by part: the log again, but for what the measuring is off.
    pub fn all(&self) -> Solid {
        [self.lumber(), self.slab(), self.edging(), self.end(), self.sawdust()].into_iter().sum()
    }
}

/// What a sawing order turns a log into. The order must be one that replays: only what cannot be gone through at all is
/// refused here.
///
/// # Errors
/// A part that nothing frees, a turn or a rest that cannot be.
pub fn material(log: &Log, mill: &Mill, order: &SawingOrder) -> Result<Material, ReplayFault> {
    let whole = Body::whole(log);
    let length = log.length().inches_f64();
    let mut found = Material {
        log: Solid {
            wood: log.volume(),
            bark: (whole.volume(Covering::Bark) - whole.volume(Covering::Wood)).max(0.0),
        },
        pieces: vec![Solid::default(); order.pieces.len()],
        ..Material::default()
    };
    let kerf = mill.kerf.inches_f64();
    let walk = Walk { order, kerf };
    let walked = walk.all(log, &mut |step: Step<'_, '_>| {
        let sawdust = Solid::between(step.dust, 0.0, length);
        let area = if kerf > 0.0 { sawdust.wood / kerf } else { 0.0 };
        found.kerfs.push(Kerf { place: step.place, pass: step.pass, sawdust, area });
    })?;
    let (parts, strips) = (walked.parts, walked.strips);
    let crosscut = mill.crosscut_kerf.inches_f64();
    let from = |part: PartId, strip: Option<PartId>| {
        let own = |(_, piece): &(usize, &Piece)| piece.part == part && piece.strip == strip;
        order.pieces.iter().enumerate().filter(own).collect::<Vec<_>>()
    };
    let mut placed = 0;
    let mut part_found = |body: &Body<'_>, pieces: Vec<(usize, &Piece)>| {
        placed += pieces.len();
        if pieces.is_empty() {
            return Some(Solid::between(body, 0.0, length));
        }
        cut_to_length(body, pieces, crosscut, &mut found);
        None
    };
    let (mut slabs, mut edgings) = (Vec::new(), Vec::new());
    for (part, body) in &parts {
        let Some((_, of_part)) = strips.iter().find(|(edged, _)| edged == part) else {
            slabs.extend(part_found(body, from(*part, None)).map(|solid| (*part, solid)));
            continue;
        };
        for (strip, body) in of_part {
            let solid = part_found(body, from(*part, Some(*strip)));
            edgings.extend(solid.map(|solid| (*part, *strip, solid)));
        }
    }
    if placed != order.pieces.len() {
        let known = |piece: &&Piece| match strips.iter().find(|(part, _)| *part == piece.part) {
            Some((_, strips)) => piece.strip.is_some_and(|strip| find(strips, strip).is_some()),
            None => piece.strip.is_none() && find(&parts, piece.part).is_some(),
        };
        if let Some(lost) = order.pieces.iter().find(|piece| !known(piece)) {
            return Err(ReplayFault::NoPart(lost.part));
        }
    }
    found.slabs = slabs;
    found.edgings = edgings;
    Ok(found)
}

/// Measures the pieces of one strip, with the crosscuts and the ends between them.
fn cut_to_length(
    body: &Body<'_>,
    mut pieces: Vec<(usize, &Piece)>,
    crosscut: f64,
    found: &mut Material,
) {
    pieces.sort_by_key(|(_, piece)| piece.claim.z.from);
    let length = body.log().length().inches_f64();
    // Where what was cut before ends, and whether it needs a crosscut there.
    let mut free = (0.0, false);
    let stretch = |from, to| Solid::between(body, from, to);
    let mut gap = |(from, cut): (f64, bool), to: f64, cut_too: bool| {
        if from >= to {
            return;
        }
        let left = from + if cut { crosscut } else { 0.0 };
        let right = to - if cut_too { crosscut } else { 0.0 };
        if left < right {
            found.ends.push(stretch(left, right));
            let dust = stretch(from, left).plus(stretch(right, to));
            found.crosscuts = found.crosscuts.plus(dust);
        } else {
            found.crosscuts = found.crosscuts.plus(stretch(from, to));
        }
    };
    for (place, piece) in pieces {
        let z = piece.claim.z;
        let (from, to) = (z.from.inches_f64(), z.to.inches_f64());
        gap(free, from, true);
        found.pieces[place] = stretch(from, to);
        free = (to, true);
    }
    gap(free, length, false);
}
