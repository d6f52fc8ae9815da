//! One section as distances from its centre, in [`RAYS`] directions.
//!
//! # Symbols
//! Ray `n` points at `3 n` degrees from `+x` toward `+y`, so that a ring's points run counterclockwise. `r_n` is the
//! distance on it.
//!
//! # Crossings
//! A segment of an outline crosses the rays between the directions of its two ends, the first included and the last
//! not, so that each ray meets an outline that goes once round exactly once more forward than backward.

use super::RAYS;
use crate::Angle;
use crate::log::section::{area, centroid};
use crate::trig::{atan2, norm};
use std::f64::consts::{PI, TAU};
use std::sync::LazyLock;

/// Directions of the rays.
static DIRECTIONS: LazyLock<Vec<[f64; 2]>> = LazyLock::new(|| {
    let direction = |n: i32| {
        let (sin, cos) = Angle::degrees(3 * n).sin_cos();
        [cos, sin]
    };
    (0..).take(RAYS).map(direction).collect()
});

/// Degrees between two rays.
pub(super) const STEP: f64 = 3.0;

/// The widest side that is bridged where it was not seen, degrees: an inch on a log 4 in through, 6 in on one of 24.
pub(super) const MOST_GAP: f64 = 30.0;

/// Angle between two rays, radians.
const RADIANS: f64 = TAU / 120.0;

/// Where an open outline is nearer the middle than this share of its fitted circle, it is something within the log.
const INNER: f64 = 0.5;

/// One section.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Ring {
    pub(super) centre: [f64; 2],
    /// Distance on each ray.
    pub(super) radius: Vec<f64>,
    /// The widest run of rays on which nothing was seen: their distances are those of its neighbours, mixed.
    pub(super) gap: Gap,
    /// Share of the outline's area that lies beyond the first crossings.
    pub(super) lost: f64,
}

/// A run of rays.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Gap {
    /// The first of them.
    pub(super) first: usize,
    /// How many.
    pub(super) rays: usize,
}

/// Why there is no ring.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum NoRing {
    /// No outline.
    Nothing,
    /// The middle of the outline lies outside it.
    Trough,
}

impl Ring {
    /// The ring of a closed outline, about the centre of its area.
    pub(super) fn of_loop(outline: &[[f64; 2]]) -> Result<Self, NoRing> {
        let whole = area(outline).abs();
        if outline.len() < 3 || whole <= 0.0 {
            return Err(NoRing::Nothing);
        }
        let centre = centroid(outline);
        let mut first = vec![f64::INFINITY; RAYS];
        let mut turns = vec![0_i32; RAYS];
        for (a, b) in outline.iter().zip(outline.iter().cycle().skip(1)) {
            crossings(from(centre, *a), from(centre, *b), |n, r, forward| {
                first[n] = first[n].min(r);
                turns[n] += if forward { 1 } else { -1 };
            });
        }
        if turns.contains(&0) || first.iter().any(|r| !(r.is_finite() && *r > 0.0)) {
            return Err(NoRing::Trough);
        }
        let ring = Self { centre, radius: first, gap: Gap::default(), lost: 0.0 };
        let lost = (1.0 - ring.area() / whole).max(0.0);
        Ok(Self { lost, ..ring })
    }

    /// The ring of an outline in parts, bridged where there is none.
    pub(super) fn of_parts(parts: &[Vec<[f64; 2]>]) -> Result<Self, NoRing> {
        let points: Vec<[f64; 2]> = parts.iter().flatten().copied().collect();
        let (mut centre, radius) = circle(&points).ok_or(NoRing::Nothing)?;
        let mut ring = Err(NoRing::Nothing);
        for _ in 0..2 {
            let mut first = vec![f64::INFINITY; RAYS];
            for part in parts {
                for pair in part.windows(2) {
                    crossings(from(centre, pair[0]), from(centre, pair[1]), |n, r, _| {
                        if r >= INNER * radius {
                            first[n] = first[n].min(r);
                        }
                    });
                }
            }
            let found = Self::filled(centre, &first)?;
            centre = centroid(&found.outline());
            ring = Ok(found);
        }
        ring
    }

    /// The ring of points, the median of those nearest to each ray, bridged where there are none.
    pub(super) fn of_points(points: &[[f64; 2]]) -> Result<Self, NoRing> {
        let (mut centre, _) = circle(points).ok_or(NoRing::Nothing)?;
        let mut ring = Err(NoRing::Nothing);
        for _ in 0..3 {
            let mut near: Vec<(usize, f64)> = points
                .iter()
                .map(|point| from(centre, *point))
                .map(|[x, y]| (ray_near(atan2(y, x)), norm(x, y)))
                .collect();
            near.sort_unstable_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
            let mut middle = vec![f64::INFINITY; RAYS];
            for group in near.chunk_by(|a, b| a.0 == b.0) {
                let half = group.len() / 2;
                let (n, upper) = group[half];
                let lower = group[(group.len() - 1) / 2].1;
                middle[n] = (lower + upper) / 2.0;
            }
            let found = Self::filled(centre, &middle)?;
            centre = centroid(&found.outline());
            ring = Ok(found);
        }
        ring
    }

    /// A ring about a centre; what is not finite is mixed from both neighbours that are.
    pub(super) fn filled(centre: [f64; 2], radius: &[f64]) -> Result<Self, NoRing> {
        let start = radius.iter().position(|r| r.is_finite()).ok_or(NoRing::Nothing)?;
        let (mut filled, mut gap) = (radius.to_vec(), Gap::default());
        let mut last = start;
        for n in (start + 1)..=(start + RAYS) {
            if !radius[n % RAYS].is_finite() {
                continue;
            }
            let (from, to, rays) = (radius[last % RAYS], radius[n % RAYS], n - last - 1);
            for k in 1..=rays {
                let share = k as f64 / (rays + 1) as f64;
                filled[(last + k) % RAYS] = from + share * (to - from);
            }
            if rays > gap.rays {
                gap = Gap { first: (last + 1) % RAYS, rays };
            }
            last = n;
        }
        if filled.iter().any(|r| *r <= 0.0) {
            return Err(NoRing::Nothing);
        }
        Ok(Self { centre, radius: filled, gap, lost: 0.0 })
    }

    /// Whether enough of it was seen for the rest to be bridged.
    pub(super) fn is_seen(&self) -> bool {
        self.gap.rays as f64 * STEP <= MOST_GAP
    }

    /// Its points, counterclockwise.
    pub(super) fn outline(&self) -> Vec<[f64; 2]> {
        points(self.centre, &self.radius)
    }

    /// The same in another unit.
    pub(super) fn scaled(mut self, by: f64) -> Self {
        self.centre = self.centre.map(|c| c * by);
        self.radius.iter_mut().for_each(|r| *r *= by);
        self
    }

    /// Area within it.
    pub(super) fn area(&self) -> f64 {
        let next = self.radius.iter().cycle().skip(1);
        let twice: f64 = self.radius.iter().zip(next).map(|(a, b)| a * b).sum();
        twice * DIRECTIONS[1][1] / 2.0
    }

    /// Diameter of the circle of the same area.
    pub(super) fn across(&self) -> f64 {
        2.0 * (self.area() / PI).sqrt()
    }

    /// The widest of its diameters through the centre by the narrowest.
    pub(super) fn flatness(&self) -> f64 {
        let across = (0..RAYS / 2).map(|n| self.radius[n] + self.radius[n + RAYS / 2]);
        let (least, most) =
            across.fold((f64::INFINITY, 0.0_f64), |(least, most), w| (least.min(w), most.max(w)));
        most / least
    }

    /// Mean distance over the 30 degrees about a ray: a scanner's noise is gone in it.
    pub(super) fn mean_about(&self, n: usize) -> f64 {
        let around = (n + RAYS - 5)..=(n + RAYS + 5);
        around.map(|k| self.radius[k % RAYS]).sum::<f64>() / 11.0
    }

    /// Distances in the same directions to what lies nowhere nearer the outline than `by`. `None` where the centre does.
    pub(super) fn within(&self, by: f64) -> Option<Vec<f64>> {
        let outline = points([0.0, 0.0], &self.radius);
        let segments: Vec<Side> = (0..RAYS)
            .map(|n| Side::new(outline[n], outline[(n + 1) % RAYS], by))
            .collect::<Option<_>>()?;
        let reach = |direction: &[f64; 2]| {
            segments.iter().map(|side| side.met(*direction)).fold(f64::INFINITY, f64::min)
        };
        Some(DIRECTIONS.iter().map(reach).zip(&self.radius).map(|(r, own)| r.min(*own)).collect())
    }

    /// The middle of its gap, degrees clockwise from 12 o'clock, and where it begins and ends.
    pub(super) fn gap_clock(&self) -> [f64; 3] {
        let (first, rays) = (self.gap.first as f64, self.gap.rays as f64);
        let clock = |ray: f64| (90.0 - STEP * ray).rem_euclid(360.0);
        // Clockwise the last ray comes first.
        [clock(first + (rays - 1.0) / 2.0), clock(first + rays - 0.5), clock(first - 0.5)]
    }
}

/// The points at distances from a centre, counterclockwise.
pub(super) fn points(centre: [f64; 2], radius: &[f64]) -> Vec<[f64; 2]> {
    let point = |(d, r): (&[f64; 2], &f64)| [centre[0] + r * d[0], centre[1] + r * d[1]];
    DIRECTIONS.iter().zip(radius).map(point).collect()
}

/// A side of an outline about the origin, and all that lies no farther from it than a distance.
struct Side {
    from: [f64; 2],
    /// Unit vector along it, and how long it is.
    along: [f64; 2],
    long: f64,
    by: f64,
}

impl Side {
    /// `None` where the origin lies within that distance.
    fn new(from: [f64; 2], to: [f64; 2], by: f64) -> Option<Self> {
        let side = [to[0] - from[0], to[1] - from[1]];
        let long = norm(side[0], side[1]);
        let along = if long > 0.0 { side.map(|c| c / long) } else { [0.0, 0.0] };
        let nearest = (-dot(from, along)).max(0.0).min(long);
        let near = [from[0] + nearest * along[0], from[1] + nearest * along[1]];
        (norm(near[0], near[1]) > by).then_some(Self { from, along, long, by })
    }

    /// How far along a direction from the origin one comes within the distance.
    fn met(&self, direction: [f64; 2]) -> f64 {
        let at_corner = {
            let (ahead, aside) = (dot(self.from, direction), cross(self.from, direction));
            let left = self.by * self.by - aside * aside;
            if left >= 0.0 && ahead > 0.0 { ahead - left.sqrt() } else { f64::INFINITY }
        };
        // The inner side lies to the left, as the outline runs counterclockwise.
        let inner = [-self.along[1], self.along[0]];
        let toward = dot(direction, inner);
        if toward >= 0.0 {
            return at_corner;
        }
        let s = (dot(self.from, inner) + self.by) / toward;
        let at = [s * direction[0] - self.from[0], s * direction[1] - self.from[1]];
        if s > 0.0 && (0.0..=self.long).contains(&dot(at, self.along)) {
            s.min(at_corner)
        } else {
            at_corner
        }
    }
}

/// What a segment does to the rays from the origin that it crosses: the ray, the distance, and whether it crosses it
/// counterclockwise.
fn crossings(a: [f64; 2], b: [f64; 2], mut each: impl FnMut(usize, f64, bool)) {
    let (from, to) = (atan2(a[1], a[0]), atan2(b[1], b[0]));
    let (from, to) = (ray_at(from), ray_at(to));
    let ahead = (to + RAYS - from) % RAYS;
    // Which way is short tells the rays themselves, so that no rounding of a small turn tells otherwise; where they do
    // not, the sides do.
    let forward = match ahead {
        59..=61 => cross(a, b) >= 0.0,
        _ => ahead < RAYS / 2,
    };
    let (first, rays) = if forward { (from, ahead) } else { (to, (RAYS - ahead) % RAYS) };
    let side = [b[0] - a[0], b[1] - a[1]];
    let (near, far) = (norm(a[0], a[1]), norm(b[0], b[1]));
    for n in (first..first + rays).map(|n| n % RAYS) {
        let across = cross(DIRECTIONS[n], side);
        let r = if across == 0.0 { near.min(far) } else { cross(a, side) / across };
        // No `clamp`: rounding may put the nearest beyond the farthest.
        each(n, r.max(nearest(a, side)).min(near.max(far)), forward);
    }
}

/// How near the origin a segment comes.
fn nearest(a: [f64; 2], side: [f64; 2]) -> f64 {
    let long = dot(side, side);
    let at = if long > 0.0 { (-dot(a, side) / long).clamp(0.0, 1.0) } else { 0.0 };
    norm(a[0] + at * side[0], a[1] + at * side[1])
}

/// The first ray at or after an angle between `-PI` and `PI`.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "between 0 and 120; `as` saturates, and what is no number becomes 0"
)]
fn ray_at(angle: f64) -> usize {
    ((angle.rem_euclid(TAU) / RADIANS).ceil() as usize) % RAYS
}

/// The ray nearest to an angle between `-PI` and `PI`.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "between 0 and 120; `as` saturates, and what is no number becomes 0"
)]
fn ray_near(angle: f64) -> usize {
    ((angle.rem_euclid(TAU) / RADIANS).round() as usize) % RAYS
}

/// Centre and radius of the circle that passes nearest to points, by the least squares of `x² + y² + D x + E y + F`
/// (Kåsa, "A circle fitting procedure and its error analysis", IEEE Trans. Instrum. Meas. 25, 1976).
fn circle(points: &[[f64; 2]]) -> Option<([f64; 2], f64)> {
    if points.len() < 3 {
        return None;
    }
    let n = points.len() as f64;
    let mean = [0, 1].map(|k| points.iter().map(|p| p[k]).sum::<f64>() / n);
    let (mut uu, mut uv, mut vv, mut u3, mut v3) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for point in points {
        let [u, v] = from(mean, *point);
        let square = u * u + v * v;
        (uu, uv, vv) = (uu + u * u, uv + u * v, vv + v * v);
        (u3, v3) = (u3 + u * square, v3 + v * square);
    }
    let whole = uu * vv - uv * uv;
    // Points on a line have no circle.
    if whole <= 1e-9 * (uu + vv) * (uu + vv) {
        return None;
    }
    let centre = [(u3 * vv - v3 * uv) / (2.0 * whole), (v3 * uu - u3 * uv) / (2.0 * whole)];
    let radius = (dot(centre, centre) + (uu + vv) / n).sqrt();
    Some(([mean[0] + centre[0], mean[1] + centre[1]], radius))
}

fn from(centre: [f64; 2], point: [f64; 2]) -> [f64; 2] {
    [point[0] - centre[0], point[1] - centre[1]]
}

fn dot(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

fn cross(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

#[cfg(test)]
mod tests {
    use super::{DIRECTIONS, Gap, NoRing, RAYS, Ring, points};
    use proptest::prelude::*;

    fn near(a: f64, b: f64, by: f64) -> bool {
        (a - b).abs() < by
    }

    /// A square of side 10 about (3, 4), clockwise or not.
    fn square(clockwise: bool) -> Vec<[f64; 2]> {
        let mut corners = vec![[-2.0, -1.0], [8.0, -1.0], [8.0, 9.0], [-2.0, 9.0]];
        if clockwise {
            corners.reverse();
        }
        corners
    }

    #[test]
    fn a_square_is_seen_from_its_middle_whichever_way_it_runs() {
        for clockwise in [false, true] {
            let ring = Ring::of_loop(&square(clockwise)).unwrap();
            assert!(near(ring.centre[0], 3.0, 1e-12) && near(ring.centre[1], 4.0, 1e-12));
            for (n, r) in [(0, 5.0), (30, 5.0), (15, 50.0_f64.sqrt()), (45, 50.0_f64.sqrt())] {
                assert!(near(ring.radius[n], r, 1e-9), "ray {n}: {}", ring.radius[n]);
            }
            assert!(ring.lost < 0.01);
            assert!(near(ring.area(), 100.0, 0.2));
        }
    }

    #[test]
    fn an_outline_that_turns_back_is_kept_to_the_first_crossing() {
        // A square with an arm that hangs over a slot.
        let outline = [
            [-5.0, -5.0],
            [5.0, -5.0],
            [5.0, -1.0],
            [7.0, -1.0],
            [7.0, 3.0],
            [6.0, 3.0],
            [6.0, 1.0],
            [5.0, 1.0],
            [5.0, 5.0],
            [-5.0, 5.0],
        ];
        let ring = Ring::of_loop(&outline).unwrap();
        assert!(ring.lost > 0.005 && ring.lost < 0.05, "{}", ring.lost);
        assert!(ring.area() < 106.0);
    }

    #[test]
    fn a_trough_has_no_ring() {
        // A ring open through a slot at 3 o'clock too narrow for any ray to pass on either side of it.
        let mut outline = points([0.0, 0.0], &vec![6.0; RAYS]);
        let mut inner = points([0.0, 0.0], &vec![5.0; RAYS]);
        inner.reverse();
        outline.remove(0);
        inner.pop();
        outline.extend(inner);
        assert_eq!(Ring::of_loop(&outline), Err(NoRing::Trough));
    }

    #[test]
    fn what_was_not_seen_is_mixed_from_its_neighbours() {
        let mut radius = vec![6.0; RAYS];
        radius[119] = 5.0;
        radius[3] = 7.0;
        radius[..3].fill(f64::INFINITY);
        let ring = Ring::filled([0.0, 0.0], &radius).unwrap();
        assert!(ring.radius.iter().zip([5.5, 6.0, 6.5]).all(|(r, right)| near(*r, right, 1e-12)));
        assert_eq!(ring.gap, Gap { first: 0, rays: 3 });
        // The rays at 0 to 6 degrees from +x: 3 o'clock and just before it.
        let clock = ring.gap_clock();
        assert!(
            near(clock[0], 87.0, 1e-9) && near(clock[1], 82.5, 1e-9) && near(clock[2], 91.5, 1e-9)
        );
    }

    #[test]
    fn points_are_met_by_their_median() {
        let mut all: Vec<[f64; 2]> = Vec::new();
        for r in [5.9, 6.0, 6.05, 2.0, 6.0] {
            all.extend(points([1.0, -2.0], &vec![r; RAYS]));
        }
        let ring = Ring::of_points(&all).unwrap();
        assert!(ring.radius.iter().all(|r| near(*r, 6.0, 0.01)), "{:?}", ring.radius);
        assert!(near(ring.centre[0], 1.0, 0.01));
        assert_eq!(Ring::of_points(&[[0.0, 0.0], [1.0, 1.0], [2.0, 2.0]]), Err(NoRing::Nothing));
    }

    proptest! {
        /// What lies within a bark is nowhere nearer the outline than the bark is thick, and where it stops it is.
        #[test]
        fn prop_within_is_exactly_as_deep_as_the_bark(
            radius in prop::collection::vec(5.0..6.5_f64, RAYS),
            by in 0.0..1.5_f64,
        ) {
            let ring = Ring::filled([0.0, 0.0], &radius).unwrap();
            let wood = ring.within(by).unwrap();
            let outline = ring.outline();
            let depth = |p: [f64; 2]| {
                outline.iter().zip(outline.iter().cycle().skip(1)).map(|(a, b)| {
                    super::nearest([a[0] - p[0], a[1] - p[1]], [b[0] - a[0], b[1] - a[1]])
                }).fold(f64::INFINITY, f64::min)
            };
            for (direction, r) in DIRECTIONS.iter().zip(&wood) {
                prop_assert!(near(depth([direction[0] * r, direction[1] * r]), by, 1e-9));
                // Nothing on the way there is nearer.
                for share in [0.25, 0.5, 0.75, 0.9, 0.99] {
                    prop_assert!(depth([direction[0] * r * share, direction[1] * r * share]) >= by - 1e-9);
                }
            }
        }
    }
}
