//! Patterns of a straight round log on a grid of planes: a plain recursion over every place of the grid.
//!
//! # Problem
//! A circle of whole-number diameter `D`; planes on whole units, 0 at the lowest point of the circle. Sizes of
//! whole thickness and width, full length, no wane, no counts.
//!
//! # Two answers
//! [`Reading::Strict`] takes every board where the grid puts it: what is found can be sawn, so no search may find
//! less. [`Reading::Lenient`] lets the board between planes `a` and `a + T` lie anywhere from `a` up to `a + 1`
//! for its soundness alone. Planes that lie anywhere can be rounded down to the grid and stay a kerf apart, for
//! thicknesses and kerf are whole: so no search whatever may find more than that.
//!
//! # Grid and cost
//! `O(D T)` through and through, `O(H D^2 T)` with a cant of `H` heights.

/// One size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    /// Units.
    pub thickness: i64,
    /// Units.
    pub width: i64,
    /// Worth of one.
    pub value: i64,
}

/// A round section and what may be cut from it.
#[derive(Clone, Debug)]
pub struct Section {
    /// Units.
    pub diameter: i64,
    /// Units.
    pub kerf: i64,
    /// Sizes, each as often as it fits; none is turned.
    pub sizes: Vec<Size>,
}

/// Where a board may lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reading {
    /// On the grid.
    Strict,
    /// Up to a unit above its place on the grid, whichever serves it best.
    Lenient,
}

/// What boards wholly above, or wholly below, every plane of the grid are worth.
#[derive(Debug)]
struct Sides {
    /// By the lowest plane that they may have.
    above: Vec<i64>,
    /// By the highest plane that they may have.
    below: Vec<i64>,
}

/// A place of a grid as an index; places below the grid are its first.
fn index(place: i64) -> usize {
    usize::try_from(place.max(0)).unwrap_or(0)
}

impl Section {
    /// The same section on a grid so many times as fine.
    #[must_use]
    pub fn finer(&self, times: i64) -> Self {
        let size = |size: &Size| Size {
            thickness: size.thickness * times,
            width: size.width * times,
            ..*size
        };
        Self {
            diameter: self.diameter * times,
            kerf: self.kerf * times,
            sizes: self.sizes.iter().map(size).collect(),
        }
    }

    fn thicknesses(&self) -> Vec<i64> {
        let mut all: Vec<i64> = self.sizes.iter().map(|size| size.thickness).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// Width of the circle, in units, over a board between planes `a` and `a + thickness`; negative where there
    /// is none.
    fn chord(&self, a: i64, thickness: i64, reading: Reading) -> f64 {
        let d = self.diameter as f64;
        let most = |a: f64| (2.0 * a - d).abs().max((2.0 * (a + thickness as f64) - d).abs());
        let a = a as f64;
        let m = match reading {
            Reading::Strict => most(a),
            Reading::Lenient => most(((d - thickness as f64) / 2.0).clamp(a, a + 1.0)),
        };
        if m > d { -1.0 } else { (d * d - m * m).sqrt() }
    }

    /// The most that boards of one thickness side by side are worth, by the width that they share.
    fn ripped(&self, thickness: i64) -> Vec<i64> {
        let mut best = vec![0; index(self.diameter + self.kerf) + 1];
        for lent in 0..best.len() {
            for size in self.sizes.iter().filter(|size| size.thickness == thickness) {
                if let Some(rest) = lent.checked_sub(index(size.width + self.kerf)) {
                    best[lent] = best[lent].max(best[rest] + size.value);
                }
            }
            if lent > 0 {
                best[lent] = best[lent].max(best[lent - 1]);
            }
        }
        // Lend the width one kerf and charge every board one.
        best.split_off(index(self.kerf))
    }

    fn sides(&self, reading: Reading) -> Sides {
        let places = index(self.diameter) + 2;
        let mut sides = Sides { above: vec![0; places], below: vec![0; places] };
        let kinds: Vec<(i64, Vec<i64>)> =
            self.thicknesses().iter().map(|t| (*t, self.ripped(*t))).collect();
        for y in (0..=self.diameter).rev() {
            let mut best = sides.above[index(y + 1)];
            for (thickness, ripped) in &kinds {
                let next = y + thickness + self.kerf;
                let beyond = if next <= self.diameter { sides.above[index(next)] } else { 0 };
                best = best.max(width(ripped, self.chord(y, *thickness, reading)) + beyond);
            }
            sides.above[index(y)] = best;
        }
        for y in 0..=self.diameter + 1 {
            let mut best = if y > 0 { sides.below[index(y - 1)] } else { 0 };
            for (thickness, ripped) in &kinds {
                let from = y - thickness;
                // Leniently a board may begin in the unit below the circle.
                if from < if reading == Reading::Lenient { -1 } else { 0 } {
                    continue;
                }
                let beyond =
                    if from >= self.kerf { sides.below[index(from - self.kerf)] } else { 0 };
                best = best.max(width(ripped, self.chord(from, *thickness, reading)) + beyond);
            }
            sides.below[index(y)] = best;
        }
        sides
    }

    /// The best of boards all parallel, side by side in every flitch.
    pub fn through(&self, reading: Reading) -> i64 {
        let sides = self.sides(reading);
        let from_below = sides.below[index(self.diameter + 1)];
        match reading {
            // Found twice, from the top down and from the bottom up.
            Reading::Strict if sides.above[0] != from_below => -1,
            Reading::Strict => sides.above[0],
            Reading::Lenient => from_below.max(sides.above[0]),
        }
    }

    /// The best with one cant, whose planks stand across it and may be ripped, as wide as any sum of widths a
    /// kerf apart. `pith_inside`: only cants that hold the pith.
    pub fn cant(&self, reading: Reading, pith_inside: bool) -> i64 {
        let sides = self.sides(reading);
        let kinds: Vec<(i64, Vec<i64>)> =
            self.thicknesses().iter().map(|t| (*t, self.ripped(*t))).collect();
        let d = self.diameter;
        // Half the chord of a plank between x planes, by its lower plane.
        let halves: Vec<Vec<f64>> = kinds
            .iter()
            .map(|(t, _)| (-1..=d).map(|x| self.chord(x, *t, reading) / 2.0).collect())
            .collect();
        let mut best = 0;
        let mut planks = vec![0i64; index(d) + 3];
        for height in self.heights() {
            // By symmetry the cant's middle lies at the pith or above.
            let first = (d - height).div_euclid(2);
            let last = if pith_inside { d.div_euclid(2) + 1 } else { d };
            for bottom in first..=last.min(d - 1) {
                let bottom_at = match reading {
                    Reading::Strict => bottom as f64,
                    Reading::Lenient => {
                        ((d - height) as f64 / 2.0).clamp(bottom as f64, bottom as f64 + 1.0)
                    }
                };
                let middle = d as f64 / 2.0;
                if pith_inside && (bottom_at > middle || bottom_at + (height as f64) < middle) {
                    continue;
                }
                let (low, up) = (bottom_at - middle, bottom_at + height as f64 - middle);
                let (under, over) = (bottom - self.kerf, bottom + height + self.kerf);
                let mut side = if under >= 0 { sides.below[index(under)] } else { 0 };
                side += if over <= d { sides.above[index(over)] } else { 0 };
                // Planks between x planes, from the top down; place 0 is the unit below the circle.
                for x in (-1..=d).rev() {
                    let here = index(x + 1);
                    let mut value = if x < d { planks[here + 1] } else { 0 };
                    for ((thickness, ripped), halves) in kinds.iter().zip(&halves) {
                        let half = halves[here];
                        if half < 0.0 {
                            continue;
                        }
                        let next = x + thickness + self.kerf;
                        let beyond = if next <= d { planks[index(next + 1)] } else { 0 };
                        let room = up.min(half) - low.max(-half);
                        value = value.max(width(ripped, room) + beyond);
                    }
                    planks[here] = value;
                }
                best = best.max(side + planks[0]);
            }
        }
        best
    }

    /// The best with at most one cant by the rule of the published set: its height is one wanted width, and it holds
    /// only boards of that width, within the widest rectangle of that height.
    pub fn cant_of_one_width(&self) -> i64 {
        let sides = self.sides(Reading::Strict);
        let mut best = sides.above[0];
        let mut widths: Vec<i64> = self.sizes.iter().map(|size| size.width).collect();
        widths.sort_unstable();
        widths.dedup();
        for height in widths {
            // Boards of this width side by side: a stack of thicknesses.
            let stack = Self {
                sizes: self
                    .sizes
                    .iter()
                    .filter(|size| size.width == height)
                    .map(|size| Size { thickness: 0, width: size.thickness, value: size.value })
                    .collect(),
                ..self.clone()
            };
            let stacked = stack.ripped(0);
            for bottom in 0..=self.diameter - height {
                let (under, over) = (bottom - self.kerf, bottom + height + self.kerf);
                let mut value = width(&stacked, self.chord(bottom, height, Reading::Strict));
                value += if under >= 0 { sides.below[index(under)] } else { 0 };
                value += if over <= self.diameter { sides.above[index(over)] } else { 0 };
                best = best.max(value);
            }
        }
        best
    }

    /// The best round one timber with the pith at its middle: side boards beyond two faces, planks on its other two
    /// sides within them. `least`: no side of the timber is smaller.
    pub fn boxed(&self, reading: Reading, least: i64) -> i64 {
        let sides = self.sides(reading);
        let d = self.diameter;
        let kinds: Vec<(i64, Vec<i64>)> =
            self.thicknesses().iter().map(|t| (*t, self.ripped(*t))).collect();
        let mut best = 0;
        let turned = self.sizes.iter().map(|size| Size {
            thickness: size.width,
            width: size.thickness,
            ..*size
        });
        for timber in self.sizes.iter().copied().chain(turned) {
            let (t, h) = (timber.thickness, timber.width);
            if t.min(h) < least || t * t + h * h > d * d {
                continue;
            }
            // The plane at a distance from the pith, in halves of units, on the grid.
            let beyond = |half: i64| match reading {
                Reading::Strict => (d + half + 2 * self.kerf + 1).div_euclid(2),
                Reading::Lenient => (d + half + 2 * self.kerf).div_euclid(2),
            };
            let side = sides.above.get(index(beyond(h))).copied().unwrap_or(0);
            let mut planks = vec![0i64; index(d) + 2];
            for x in (beyond(t)..=d).rev() {
                let mut value = planks[index(x + 1)];
                for (thickness, ripped) in &kinds {
                    let next = x + thickness + self.kerf;
                    let further = if next <= d { planks[index(next)] } else { 0 };
                    let room = self.chord(x, *thickness, reading).min(h as f64);
                    value = value.max(width(ripped, room) + further);
                }
                planks[index(x)] = value;
            }
            let plank = planks.get(index(beyond(t))).copied().unwrap_or(0);
            best = best.max(timber.value + 2 * side + 2 * plank);
        }
        best
    }

    /// Sums of widths a kerf apart that the circle holds.
    fn heights(&self) -> Vec<i64> {
        let mut sums = Vec::new();
        let mut open: Vec<i64> = self.sizes.iter().map(|size| size.width).collect();
        while let Some(sum) = open.pop() {
            if sum <= self.diameter && !sums.contains(&sum) {
                sums.push(sum);
                open.extend(self.sizes.iter().map(|size| sum + self.kerf + size.width));
            }
        }
        sums
    }
}

/// What a table gives for a computed width; rounding of a whole number's square root is forgiven.
fn width(ripped: &[i64], chord: f64) -> i64 {
    if chord < 0.0 {
        return 0;
    }
    #[allow(clippy::cast_possible_truncation, reason = "a chord is less than the diameter")]
    let whole = (chord + 1e-9).floor() as i64;
    ripped.get(index(whole)).copied().unwrap_or_else(|| ripped.last().copied().unwrap_or(0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_circle_of_10_holds_one_6_by_8_and_two_need_13_and_more() {
        // The 6-8-10 triangle; two 6 thick a kerf of 1 apart are 13 deep: sqrt(64 + 169) = 15.26.
        let one = |diameter, kerf| Section {
            diameter,
            kerf,
            sizes: vec![Size { thickness: 6, width: 8, value: 1 }],
        };
        assert_eq!(one(10, 1).through(Reading::Strict), 1);
        assert_eq!(one(9, 1).through(Reading::Strict), 0);
        assert_eq!(one(15, 1).through(Reading::Strict), 1);
        assert_eq!(one(17, 1).through(Reading::Strict), 2);
        assert_eq!(one(15, 1).finer(64).through(Reading::Lenient), 1);
        assert_eq!(one(10, 1).boxed(Reading::Strict, 6), 1);
        assert_eq!(one(10, 1).boxed(Reading::Strict, 7), 0);
        // Without kerf four 3x4 stand as two by two of them in a cant, or lie as one 6x8: both in a circle of 10.
        let four = Section {
            diameter: 10,
            kerf: 0,
            sizes: vec![Size { thickness: 3, width: 4, value: 1 }],
        };
        assert_eq!(four.through(Reading::Strict), 4);
        assert_eq!(four.cant(Reading::Strict, true), 4);
    }
}
