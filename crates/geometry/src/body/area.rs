//! How much there is of a body: the area of a section, and the volume between two stations.
//!
//! # Formula
//! A round section is a disk cut by half-planes: the half-planes leave a convex polygon, and the area that it shares with
//! the disk is summed over its sides, `0.5 p x q` for what of a side `pq` lies within the circle and `0.5 r^2 angle` for
//! what lies beyond. Any other section is a polygon that the half-planes clip. The volume is the integral of the area, by
//! Gauss's formulas over short stretches, which end where the log has a section.
//!
//! # How exact
//! Where no plane enters or leaves the section within a stretch, the area is a quadratic of the station in uncut wood, or
//! smooth. Where one does, it begins as the power 3/2, and a stretch of 2 ft is off by about a tenth of a cubic inch.

use super::outline::clip;
use super::{Body, Covering};
use crate::log::section::area;
use crate::replay::CORNERS;
use crate::trig::{atan2, norm, sin_cos};
use std::f64::consts::PI;

/// The longest stretch that is integrated at once in round wood, inches.
const ROUND: f64 = 24.0;
/// The same between sections.
const RULED: f64 = 12.0;

/// A plane that leaves the direction of the log by no more than this runs along it.
const LEVEL: f64 = 1e-12;

/// Nodes of Gauss's formula on -1 to 1, and their weights.
const THREE: [(f64, f64); 3] =
    [(-0.774_596_669_241_483_4, 5.0 / 9.0), (0.0, 8.0 / 9.0), (0.774_596_669_241_483_4, 5.0 / 9.0)];
const TWO: [(f64, f64); 2] = [(-0.577_350_269_189_625_8, 1.0), (0.577_350_269_189_625_8, 1.0)];

impl Body<'_> {
    /// Area of the section at a station; 0 where there is nothing of the body.
    ///
    /// # Units
    /// Inches and square inches.
    pub fn area_at(&self, covering: Covering, z: f64) -> f64 {
        if self.log.sections().is_some() {
            return area(&self.left_at(covering, z)).max(0.0);
        }
        let r = self.radius(covering, z);
        if self.side_at(z).all(|(_, offset)| offset >= r) {
            return PI * r * r;
        }
        in_disk(&self.polygon(z, r), r)
    }

    /// The outline of the section at a station, counterclockwise as seen at the small end; empty where there is nothing
    /// of the body. Of round wood a polygon of [`CORNERS`] corners, before it is cut.
    ///
    /// # Units
    /// Inches.
    pub fn outline_at(&self, covering: Covering, z: f64) -> Vec<[f64; 2]> {
        if self.log.sections().is_some() {
            return self.left_at(covering, z);
        }
        let r = self.radius(covering, z);
        let corner = |n: u32| {
            let (sin, cos) = sin_cos(2.0 * PI * f64::from(n) / f64::from(CORNERS));
            [r * cos, r * sin]
        };
        let mut outline: Vec<[f64; 2]> = (0..CORNERS).map(corner).collect();
        for side in self.side_at(z) {
            outline = clip(&outline, side);
        }
        outline
    }

    /// Volume between two stations, for instance of what is cut to length from a strip.
    ///
    /// # Units
    /// Inches and cubic inches.
    pub fn volume_between(&self, covering: Covering, from: f64, to: f64) -> f64 {
        let [volume] = self.volumes_between([covering], from, to);
        volume
    }

    /// The same for several coverings at once, which costs little more than for one.
    pub(crate) fn volumes_between<const N: usize>(
        &self,
        coverings: [Covering; N],
        from: f64,
        to: f64,
    ) -> [f64; N] {
        let (from, to) = (from.max(0.0), to.min(self.log.length().inches_f64()));
        if from >= to {
            return [0.0; N];
        }
        if let Some(sections) = self.log.sections() {
            let inner = sections.iter().map(|section| section.z).filter(|z| from < *z && *z < to);
            let ends: Vec<f64> = std::iter::once(from).chain(inner).chain([to]).collect();
            return coverings.map(|covering| {
                let at = |z: f64| self.area_at(covering, z);
                ends.windows(2).map(|pair| stretches(pair[0], pair[1], RULED, &TWO, at)).sum()
            });
        }
        if self.cuts.iter().any(|cut| cut.normal[2].abs() > LEVEL) {
            let at = |covering| move |z: f64| self.area_at(covering, z);
            return coverings.map(|covering| stretches(from, to, ROUND, &THREE, at(covering)));
        }
        // All planes run along the log: what they leave of a section is the same at every station, but for the circle.
        let widest = [from, to].map(|z| self.log.bark_radius(z)).into_iter().fold(0.0, f64::max);
        let polygon = self.polygon(from, widest);
        let farthest = polygon.iter().map(|p| norm(p[0], p[1])).fold(0.0, f64::max);
        let nearest = self.side_at(from).map(|(_, offset)| offset).fold(widest, f64::min);
        let whole = area(&polygon);
        coverings.map(|covering| {
            let at = |z: f64| self.radius(covering, z);
            // The radius goes evenly from end to end.
            if farthest <= at(from).min(at(to)) {
                return whole.max(0.0) * (to - from);
            }
            stretches(from, to, ROUND, &THREE, |z| {
                let r = at(z);
                if nearest >= r { PI * r * r } else { in_disk(&polygon, r) }
            })
        })
    }

    /// Volume of all of it.
    ///
    /// # Units
    /// Cubic inches.
    pub fn volume(&self, covering: Covering) -> f64 {
        self.volume_between(covering, 0.0, self.log.length().inches_f64())
    }

    /// The planes in the section at a station.
    fn side_at(&self, z: f64) -> impl Iterator<Item = ([f64; 2], f64)> + '_ {
        self.cuts.iter().map(move |cut| {
            let [x, y, slope] = cut.normal;
            ([x, y], cut.offset - slope * z)
        })
    }

    /// What the planes leave at a station of a square that holds the circle of a radius.
    fn polygon(&self, z: f64, r: f64) -> Vec<[f64; 2]> {
        let mut polygon = vec![[-r, -r], [r, -r], [r, r], [-r, r]];
        // A plane beyond the corners takes nothing.
        for side in self.side_at(z).filter(|(_, offset)| *offset < 2.0 * r) {
            polygon = clip(&polygon, side);
        }
        polygon
    }
}

/// The area that a polygon shares with a disk about the origin.
fn in_disk(polygon: &[[f64; 2]], r: f64) -> f64 {
    let next = polygon.iter().cycle().skip(1);
    polygon.iter().zip(next).map(|(a, b)| shared(*a, *b, r)).sum::<f64>().max(0.0)
}

/// The integral of a function, in equal stretches of at most `longest`.
fn stretches(
    from: f64,
    to: f64,
    longest: f64,
    nodes: &[(f64, f64)],
    see: impl Fn(f64) -> f64,
) -> f64 {
    let count = crate::log::section::steps((to - from) / longest).max(1);
    let half = (to - from) / f64::from(count) / 2.0;
    let stretch = |n: u32| {
        let middle = from + half * f64::from(2 * n + 1);
        nodes.iter().map(|(node, weight)| weight * see(middle + half * node)).sum::<f64>()
    };
    half * (0..count).map(stretch).sum::<f64>()
}

/// The area that the triangle of the circle's centre, `a` and `b` shares with the disk; negative where they run clockwise.
fn shared(a: [f64; 2], b: [f64; 2], r: f64) -> f64 {
    let cross = |p: [f64; 2], q: [f64; 2]| p[0] * q[1] - p[1] * q[0];
    let dot = |p: [f64; 2], q: [f64; 2]| p[0] * q[0] + p[1] * q[1];
    let sector = |p, q| 0.5 * r * r * atan2(cross(p, q), dot(p, q));
    let way = [b[0] - a[0], b[1] - a[1]];
    // Where the line meets the circle: long t^2 + 2 half t + over = 0.
    let (long, half, over) = (dot(way, way), dot(a, way), dot(a, a) - r * r);
    let root = half * half - long * over;
    if long <= 0.0 {
        return 0.0;
    }
    if root <= 0.0 {
        return sector(a, b);
    }
    let root = root.sqrt();
    let (enters, leaves) = (((-half - root) / long).max(0.0), ((-half + root) / long).min(1.0));
    if enters >= leaves {
        return sector(a, b);
    }
    let at = |t: f64| [a[0] + t * way[0], a[1] + t * way[1]];
    let (p, q) = (at(enters), at(leaves));
    let before = if enters > 0.0 { sector(a, p) } else { 0.0 };
    let after = if leaves < 1.0 { sector(q, b) } else { 0.0 };
    before + 0.5 * cross(p, q) + after
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trig::{acos, asin};
    use crate::{HalfSpace, Log};
    use pithward_measure::Length;
    use proptest::prelude::*;

    fn log(small: i64, butt: i64) -> Log {
        let (small, butt) = (Length::inches(small), Length::inches(butt));
        Log::new(small, butt, Length::feet(12), Length::inches(1), Length::inches(1)).unwrap()
    }

    fn plane(normal: [f64; 3], offset: f64) -> HalfSpace {
        HalfSpace { normal, offset }
    }

    #[test]
    fn a_segment_a_band_and_a_square_have_the_area_of_their_formulas() {
        let log = log(20, 20);
        let whole = Body::whole(&log);
        let check = |body: &Body<'_>, expected: f64| {
            let got = body.area_at(Covering::Wood, 30.0);
            assert!((got - expected).abs() < 1e-10, "{got} for {expected}");
            let volume = body.volume(Covering::Wood);
            assert!((volume - 144.0 * expected).abs() < 1e-8, "{volume}");
        };
        check(&whole, PI * 100.0);
        let segment = |y: f64| 100.0 * acos(y / 10.0) - y * (100.0 - y * y).sqrt();
        let slab = whole.cut(plane([0.0, -1.0, 0.0], -6.0));
        check(&slab, segment(6.0));
        let more_than_half = whole.cut(plane([0.0, -1.0, 0.0], 3.0));
        check(&more_than_half, PI * 100.0 - segment(3.0));
        check(&slab.cut(plane([0.0, 1.0, 0.0], 8.0)), segment(6.0) - segment(8.0));
        let half = 10.0 * 0.5f64.sqrt();
        let square = |half: f64| {
            [[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]]
                .iter()
                .fold(whole.clone(), |body, [x, y]| body.cut(plane([*x, *y, 0.0], half)))
        };
        // The largest square is 2 / pi of the circle.
        check(&square(half), 200.0);
        // A bigger one lacks its corners.
        check(&square(9.0), PI * 100.0 - 4.0 * segment(9.0));
        check(&whole.cut(plane([0.0, 1.0, 0.0], -10.5)), 0.0);
    }

    #[test]
    fn the_bark_of_a_frustum_is_the_difference_of_two() {
        let log = log(12, 14);
        let whole = Body::whole(&log);
        let frustum = |s: f64, b: f64| PI * 144.0 * (s * s + s * b + b * b) / 3.0;
        assert!((whole.volume(Covering::Wood) - log.volume()).abs() < 1e-9);
        assert!((whole.volume(Covering::Bark) - frustum(7.0, 8.0)).abs() < 1e-9);
        let parts = [(0.0, 50.0), (50.0, 51.0), (51.0, 144.0)]
            .map(|(from, to)| whole.volume_between(Covering::Wood, from, to));
        assert!((parts.iter().sum::<f64>() - log.volume()).abs() < 1e-9);
    }

    /// The wedge that a level cut takes off a cylinder whose axis it crosses, and a slab that begins midway.
    #[test]
    fn a_slab_that_begins_midway_is_within_a_tenth_of_a_cubic_inch() {
        let log = log(20, 24);
        let slab = Body::whole(&log).cut(plane([0.0, -1.0, 0.0], -11.0));
        // The integral of the segment over the radius, from 11 to 12, at 72 in of station to the inch.
        let over = |r: f64| {
            let y: f64 = 11.0;
            let root = (r * r - y * y).sqrt();
            let log_term = ((r + root) / y).ln();
            (r * r * r * acos(y / r) - 2.0 * y * r * root + y * y * y * log_term) / 3.0
        };
        let exact = 72.0 * (over(12.0) - over(11.0));
        let got = slab.volume(Covering::Wood);
        assert!((got - exact).abs() < 0.1, "{got} for {exact}");
        // Integrated by itself, the formula above is right.
        let steps = 20_000;
        let segment = |r: f64| r * r * (PI / 2.0 - asin(11.0 / r)) - 11.0 * (r * r - 121.0).sqrt();
        let rough: f64 = (0..steps)
            .map(|n| {
                72.0 / f64::from(steps) * segment(11.0 + (f64::from(n) + 0.5) / f64::from(steps))
            })
            .sum();
        assert!((rough - exact).abs() < 1e-4, "{rough} for {exact}");
    }

    proptest! {
        /// Whatever planes part it, the two sides of each make up the whole.
        #[test]
        fn prop_what_a_plane_parts_adds_up(
            turns in prop::collection::vec((0..360i32, -12.0..12.0f64), 1..6),
            z in 0.0..144.0f64,
        ) {
            let log = log(16, 22);
            let mut left = Body::whole(&log);
            let mut parted = 0.0;
            let whole = left.area_at(Covering::Bark, z);
            for (turn, offset) in turns {
                let (sin, cos) = crate::Angle::degrees(turn).sin_cos();
                let off = left.cut(plane([-sin, -cos, 0.0], -offset));
                parted += off.area_at(Covering::Bark, z);
                left = left.cut(plane([sin, cos, 0.0], offset));
            }
            let sum = parted + left.area_at(Covering::Bark, z);
            prop_assert!((sum - whole).abs() < 1e-9, "{sum} of {whole}");
        }
    }
}
