//! A log sawn around: opposite faces, a quarter turn, the other two, and the same again down to the heart.
//!
//! Every stage lies on the face that was sawn just before on the opposite side, and on bark only where that side is not
//! open yet. A face that is sawn again keeps the letter that it got when it was opened.

use super::{Sawing, outward};
use crate::family::around::AroundShape;
use pithward_geometry::{Face, Quarter, Support};

/// A side that was opened: what is up when it is sawn, degrees from the frame's own up, and how far it is from the axis
/// by now.
struct Open {
    degrees: i32,
    face: i64,
}

impl Sawing<'_, '_> {
    /// The layers from the outside in; the heart stays on the bed.
    pub(super) fn around(&mut self, shape: &AroundShape) {
        let mut open: Vec<Open> = Vec::with_capacity(4);
        let cores = shape.cores();
        for (n, (layer, core)) in shape.layers.iter().zip(&cores).enumerate().rev() {
            let lie = shape.lie(n, core);
            let mut sides = [(0, true), (1, false)];
            if !self.starts.own(layer.quarter) {
                sides.reverse();
            }
            for (side, up) in sides {
                let degrees = match (layer.quarter, up) {
                    (Quarter::First, true) => 0,
                    (Quarter::First, false) => 180,
                    (Quarter::Second, true) => 90,
                    (Quarter::Second, false) => 270,
                };
                let face = core.of(layer.quarter)[side];
                let place = |degrees: i32| {
                    open.iter().position(|open| open.degrees == degrees.rem_euclid(360))
                };
                let letter = |place: usize| Face::ALL[place.min(3)];
                // Up at 12 o'clock, the stops are at 9.
                let (own, down, stops) =
                    (place(degrees), place(degrees + 180), place(degrees + 270));
                let on = down.map_or(Support::Bark, |place| Support::Face(letter(place)));
                let mut laid = self.lay(degrees, on, stops.map(letter));
                if let Some(down) = down {
                    laid.axis = open[down].face;
                }
                let planes: Vec<_> = outward(&layer.sides[side], face, self.kerf).collect();
                // The first pass on a side opens it; later there is a face already.
                let opening = match own {
                    Some(_) => None,
                    None => Some(planes.last().map_or(face, |(_, to, _)| *to)),
                };
                let heights: Vec<i64> = opening
                    .into_iter()
                    .chain(planes.iter().rev().map(|(from, ..)| from - self.kerf))
                    .map(|plane| laid.axis + plane)
                    .collect();
                let boards = planes.iter().rev().map(|(from, to, board)| {
                    let (from, to) = if up { (*from, *to) } else { (-to, -from) };
                    Some(self.placed(lie, from, to, board))
                });
                let freed = opening.map(|_| None).into_iter().chain(boards).collect();
                self.stage(&laid, heights, freed);
                match own {
                    Some(own) => open[own].face = face,
                    None => open.push(Open { degrees, face }),
                }
            }
        }
        let Some(core) = cores.first() else { return };
        let [right, left] = core.across;
        let heart = self.placed(core.lie(Quarter::Second), -left, right, &shape.heart);
        self.placed.push(heart);
    }
}
