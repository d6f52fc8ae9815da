//! Every way to peel a tiny log around a heart: the heart, boards on two opposite sides down to a face, on the other two,
//! and what lies beyond, all sequences of thicknesses written out.

use super::{Board, EveryWay, Pieces, ROUNDING, largest};
use std::collections::BTreeSet;

/// Boards on two sides over a depth: all that they may give.
type Run = (f64, Vec<Pieces>);

impl EveryWay<'_> {
    /// Every largest set of pieces that a log sawn around gives.
    pub(super) fn around(&self) -> Vec<Pieces> {
        let wide = 2.0 * self.radius(0.0);
        let flitches = self.side(&self.kinds(wide, wide));
        let lowest = self.mill.lowest_blade.ceil_to(self.mill.step).inches_f64();
        let mut all = BTreeSet::new();
        for height in self.heart_heights() {
            for thickness in self.thicknesses() {
                if height.min(thickness) < lowest - ROUNDING {
                    continue;
                }
                let aside = 0.5 * (thickness + self.kerf);
                for right in [0.5 * thickness, 0.5 * thickness + aside] {
                    let faces = [right, thickness - right];
                    all.extend(self.around_heart(height, faces, &flitches));
                }
            }
        }
        largest(all)
    }

    /// The heights that a heart may have: sums of widths of one thickness.
    fn heart_heights(&self) -> Vec<f64> {
        let most = 2.0 * self.radius(0.0);
        let mut heights: Vec<f64> = Vec::new();
        for thickness in self.thicknesses() {
            let of_it = self.sections.iter().filter(|s| (s.thickness - thickness).abs() < ROUNDING);
            let widths: Vec<f64> = of_it.map(|section| section.width).collect();
            let mut open = widths.clone();
            while let Some(sum) = open.pop() {
                if sum <= most {
                    heights.push(sum);
                    open.extend(widths.iter().map(|width| sum + self.kerf + width));
                }
            }
        }
        heights.sort_by(f64::total_cmp);
        heights.dedup_by(|a, b| (*a - *b).abs() < ROUNDING);
        heights
    }

    /// Everything round one heart.
    fn around_heart(
        &self,
        height: f64,
        [right, left]: [f64; 2],
        flitches: &[Board],
    ) -> Vec<Pieces> {
        let (top, radius) = (0.5 * height, self.radius(0.0));
        let reach = right.max(left) - ROUNDING;
        let hearts = self.boards(right + left, top, top).into_iter();
        let mut hearts: BTreeSet<Pieces> =
            hearts.filter(|(_, plane)| *plane >= reach).map(|(pieces, _)| pieces).collect();
        hearts.insert(self.nothing());
        let hearts = largest(hearts);
        let mut all = BTreeSet::new();
        for (depth, inner) in self.runs([right, left], (top, top)) {
            let (right, left) = (right + depth, left + depth);
            for (height, upright) in self.runs([top, top], (left, right)) {
                let top = top + height;
                // Without upright boards between, those across are of one layer.
                let apart = depth == 0.0 || height > 0.0;
                if !apart || [top, right, left].iter().any(|face| *face >= radius) {
                    continue;
                }
                let planks = self.side(&self.kinds(top, top));
                let mut sets = hearts.clone();
                sets = together(&sets, &inner);
                sets = together(&sets, &upright);
                for (stack, face) in
                    [(&planks[..], right), (&planks, left), (flitches, top), (flitches, top)]
                {
                    let fits = stack.iter().filter(|(_, at)| *at >= face + self.kerf - ROUNDING);
                    let fits: BTreeSet<Pieces> = fits.map(|(pieces, _)| pieces.clone()).collect();
                    sets = together(&sets, &largest(fits));
                }
                all.extend(sets);
            }
        }
        largest(all)
    }

    /// Boards without a gap beyond two faces, in step, by how far they reach: nothing first.
    fn runs(&self, faces: [f64; 2], (low, up): (f64, f64)) -> Vec<Run> {
        let (kinds, radius) = (self.kinds(low, up), self.radius(0.0));
        let mut all: Vec<Run> = vec![(0.0, vec![self.nothing()])];
        let mut next = 0;
        while next < all.len() {
            all[next..].sort_by(|a, b| a.0.total_cmp(&b.0));
            let (depth, sets) = all[next].clone();
            for (thickness, boards) in &kinds {
                let to = depth + self.kerf + thickness;
                if faces.iter().any(|face| face + to >= radius) {
                    continue;
                }
                let side = |face: f64| {
                    let fits = boards.iter().filter(|(_, plane)| *plane >= face + to - ROUNDING);
                    // It may be waste.
                    let nothing = std::iter::once(self.nothing());
                    largest(fits.map(|(pieces, _)| pieces.clone()).chain(nothing).collect())
                };
                let more = together(&together(&sets, &side(faces[0])), &side(faces[1]));
                match all.iter_mut().find(|(known, _)| (known - to).abs() < ROUNDING) {
                    Some((_, known)) => {
                        *known = largest(known.drain(..).chain(more).collect());
                    }
                    None => all.push((to, more)),
                }
            }
            next += 1;
        }
        all
    }
}

/// Every largest sum of one of these and one of those.
fn together(these: &[Pieces], those: &[Pieces]) -> Vec<Pieces> {
    let sums = these.iter().flat_map(|a| those.iter().map(|b| super::add(a, b)));
    largest(sums.collect())
}
