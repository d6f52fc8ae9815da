//! A part of the log between sawn planes, and the two questions that are asked of it.
//!
//! A pass goes through the whole length, so every part of a log is the log between half-spaces. In a log that is round
//! and straight that is a convex body: at a station its section is a disk cut by half-planes, and both questions have
//! closed forms there, the **sound interval** on a line, and the **outermost reach** in a direction. In any other log
//! the section is a polygon, which the half-planes clip.

mod area;
mod kept;
mod outline;

use crate::log::Section;
use crate::{Log, trig::norm};
use kept::Kept;
pub(crate) use outline::clip;
use std::sync::Arc;

/// Which outline counts: wood for what a piece may contain, bark for what the mill must clear.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Covering {
    /// Inside the bark.
    Wood,
    /// Over the bark.
    Bark,
}

impl Covering {
    /// The outline of a section.
    fn of(self, section: &Section) -> &[[f64; 2]] {
        match self {
            Self::Wood => &section.wood,
            Self::Bark => &section.bark,
        }
    }
}

/// The points `p` with `normal . p <= offset`, in the log frame.
///
/// # Units
/// Inches; the normal has length 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HalfSpace {
    /// Outward normal `[x, y, z]`.
    pub normal: [f64; 3],
    /// Distance of the plane from the origin along the normal.
    pub offset: f64,
}

/// A convex part of a log.
#[derive(Clone, Debug)]
pub struct Body<'a> {
    log: &'a Log,
    cuts: Vec<HalfSpace>,
    kept: Arc<Kept>,
}

/// Slack for "inside", inches: some hundred times the rounding of `f64` at these sizes, a thousandth
/// of what replay lets pass.
const ON: f64 = 1e-11;

impl<'a> Body<'a> {
    /// The whole log.
    pub fn whole(log: &'a Log) -> Self {
        Self { log, cuts: Vec::new(), kept: Arc::default() }
    }

    /// The log that it is a part of.
    pub fn log(&self) -> &'a Log {
        self.log
    }

    /// The planes that bound it, none of them twice in the same direction.
    pub fn cuts(&self) -> &[HalfSpace] {
        &self.cuts
    }

    /// What of it lies in a half-space.
    #[must_use]
    pub fn cut(&self, half_space: HalfSpace) -> Self {
        let mut cuts = self.cuts.clone();
        match cuts.iter_mut().find(|cut| same_direction(cut.normal, half_space.normal)) {
            Some(cut) => cut.offset = cut.offset.min(half_space.offset),
            None => cuts.push(half_space),
        }
        Self { log: self.log, cuts, kept: Kept::cut(&self.kept, half_space) }
    }

    /// The tightest sawn plane that faces this way, if there is one.
    pub fn plane_facing(&self, normal: [f64; 3]) -> Option<HalfSpace> {
        self.cuts.iter().copied().find(|cut| same_direction(cut.normal, normal))
    }

    /// Radius at a station.
    fn radius(&self, covering: Covering, z: f64) -> f64 {
        match covering {
            Covering::Wood => self.log.wood_radius(z),
            Covering::Bark => self.log.bark_radius(z),
        }
    }

    /// The sound interval on the line `origin + s * direction` in the section at `z`, as a pair of
    /// values of `s`; `None` where the line misses the body. Where an outline is bowed in and the line meets it more than
    /// twice, the longest sound interval.
    ///
    /// # Units
    /// Inches; `direction` has length 1.
    pub fn interval(
        &self,
        covering: Covering,
        z: f64,
        origin: [f64; 2],
        direction: [f64; 2],
    ) -> Option<(f64, f64)> {
        if self.log.sections().is_some() {
            return self.interval_of_outline(covering, z, origin, direction);
        }
        let radius = self.radius(covering, z);
        let along = origin[0] * direction[0] + origin[1] * direction[1];
        let away = origin[0] * direction[1] - origin[1] * direction[0];
        let chord = radius * radius - away * away;
        if chord < 0.0 {
            return None;
        }
        let whole = (-along - chord.sqrt(), -along + chord.sqrt());
        let (from, to) = self.between_cuts(z, origin, direction, whole)?;
        (from <= to + ON).then_some((from, to))
    }

    /// What the planes leave of a stretch of a line in the section at `z`; `None` where they leave nothing of the line.
    fn between_cuts(
        &self,
        z: f64,
        origin: [f64; 2],
        direction: [f64; 2],
        (mut from, mut to): (f64, f64),
    ) -> Option<(f64, f64)> {
        for cut in &self.cuts {
            let slope = cut.normal[0] * direction[0] + cut.normal[1] * direction[1];
            let room = cut.offset
                - cut.normal[2] * z
                - cut.normal[0] * origin[0]
                - cut.normal[1] * origin[1];
            if slope > ON {
                to = to.min(room / slope);
            } else if slope < -ON {
                from = from.max(room / slope);
            } else if room < -ON {
                return None;
            }
        }
        Some((from, to))
    }

    /// The outermost reach of the section at `z` in a direction: the largest `direction . p`;
    /// `None` where the section is empty.
    ///
    /// The largest value of a linear function over a disk cut by half-planes lies at the disk's own
    /// extreme point, where a line meets the circle, or where two lines meet.
    ///
    /// # Units
    /// Inches; `direction` has length 1.
    pub fn reach_at(&self, covering: Covering, z: f64, direction: [f64; 2]) -> Option<f64> {
        if self.log.sections().is_some() {
            return self.reach_of_outline(covering, z, direction);
        }
        let radius = self.radius(covering, z);
        let lines: Vec<([f64; 2], f64)> = self
            .cuts
            .iter()
            .map(|cut| ([cut.normal[0], cut.normal[1]], cut.offset - cut.normal[2] * z))
            .collect();
        let mut best: Option<f64> = None;
        let mut consider = |p: [f64; 2]| {
            let inside = norm(p[0], p[1]) <= radius + ON
                && lines.iter().all(|(n, offset)| n[0] * p[0] + n[1] * p[1] <= offset + ON);
            if inside {
                let value = direction[0] * p[0] + direction[1] * p[1];
                best = Some(best.map_or(value, |b: f64| b.max(value)));
            }
        };
        consider([direction[0] * radius, direction[1] * radius]);
        for (i, &(n, offset)) in lines.iter().enumerate() {
            let length = norm(n[0], n[1]);
            let foot = [n[0] * offset / (length * length), n[1] * offset / (length * length)];
            let away = offset / length;
            let chord = radius * radius - away * away;
            // A line that just touches the circle still meets it, by the slack that points have.
            if away.abs() <= radius + ON {
                let half = chord.max(0.0).sqrt() / length;
                consider([foot[0] - n[1] * half, foot[1] + n[0] * half]);
                consider([foot[0] + n[1] * half, foot[1] - n[0] * half]);
            }
            for &(m, other) in &lines[..i] {
                let det = n[0] * m[1] - n[1] * m[0];
                if det.abs() > ON {
                    consider([
                        (offset * m[1] - n[1] * other) / det,
                        (n[0] * other - offset * m[0]) / det,
                    ]);
                }
            }
        }
        best
    }

    /// Whether there is anything of the body.
    pub fn exists(&self, covering: Covering) -> bool {
        let butt = self.log.length().inches_f64();
        self.reach_at(covering, butt, [0.0, 1.0]).is_some() || self.stations(covering).is_some()
    }

    /// The stations between which the body has any section; `None` when there is nothing of it.
    ///
    /// Round wood only grows toward the butt, so a body of it that exists at all exists at the butt unless a
    /// tilted plane took it from there; both ends are found by halving between a station with a
    /// section and one without.
    ///
    /// # Units
    /// Inches.
    pub fn stations(&self, covering: Covering) -> Option<(f64, f64)> {
        self.kept.stations(covering, || {
            if self.log.sections().is_some() {
                self.stations_of_outlines(covering)
            } else {
                self.stations_of_round(covering)
            }
        })
    }

    fn stations_of_round(&self, covering: Covering) -> Option<(f64, f64)> {
        let length = self.log.length().inches_f64();
        let exists = |z: f64| self.reach_at(covering, z, [0.0, 1.0]).is_some();
        // Eighths catch every body that a tilted plane leaves somewhere in the middle.
        let some = (0..=8u32).rev().map(|i| length * f64::from(i) / 8.0).find(|z| exists(*z))?;
        let end = |mut without: f64| {
            if exists(without) {
                return without;
            }
            let mut with = some;
            for _ in 0..60 {
                let middle = 0.5 * (with + without);
                if exists(middle) { with = middle } else { without = middle }
            }
            with
        };
        Some((end(0.0), end(length)))
    }

    /// The outermost reach over all stations of the function `direction . p + slope * z`.
    ///
    /// The reach of the sections of a convex body is a concave function of the station, so halving by
    /// the golden section finds its top; without a slope it is at one of the ends.
    ///
    /// # Units
    /// Inches; `direction` has length 1.
    pub fn reach(&self, covering: Covering, direction: [f64; 2], slope: f64) -> Option<f64> {
        if self.log.sections().is_some() {
            return self.reach_of_outlines(covering, direction, slope);
        }
        let straight =
            slope.abs() < 1e-12 && self.cuts.iter().all(|cut| cut.normal[2].abs() < 1e-12);
        if straight {
            // The radius grows or falls along the whole log, so the sections at the ends contain the others.
            let ends = [0.0, self.log.length().inches_f64()];
            return ends
                .into_iter()
                .filter_map(|z| self.reach_at(covering, z, direction))
                .reduce(f64::max);
        }
        let (from, to) = self.stations(covering)?;
        let at = |z: f64| self.reach_at(covering, z, direction).map(|r| r + slope * z);
        let ends = [from, to].into_iter().filter_map(at).fold(f64::NEG_INFINITY, f64::max);
        let see = |z: f64| at(z).unwrap_or(f64::NEG_INFINITY);
        let (low, high) = golden((from, to), REFINED, see);
        Some(at(0.5 * (low + high)).unwrap_or(f64::NEG_INFINITY).max(ends))
    }
}

/// The golden section.
const GOLDEN: f64 = 0.618_033_988_749_894_9;

/// Steps of the golden section: less than rounding is left of a log's length.
const REFINED: u32 = 60;

/// Between which places a function that rises and then falls is greatest, after so many steps of the golden section.
fn golden(
    (mut low, mut high): (f64, f64),
    steps: u32,
    mut see: impl FnMut(f64) -> f64,
) -> (f64, f64) {
    let inside = |low: f64, high: f64| (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
    let (mut left, mut right) = inside(low, high);
    let (mut at_left, mut at_right) = (see(left), see(right));
    for _ in 0..steps {
        if at_left < at_right {
            low = left;
            (left, at_left) = (right, at_right);
            right = inside(low, high).1;
            at_right = see(right);
        } else {
            high = right;
            (right, at_right) = (left, at_left);
            left = inside(low, high).0;
            at_left = see(left);
        }
    }
    (low, high)
}

/// Two normals that differ by no more than rounding.
fn same_direction(a: [f64; 3], b: [f64; 3]) -> bool {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2] > 1.0 - 1e-14
}

#[cfg(test)]
mod tests {
    use super::*;
    use pithward_measure::Length;

    fn log() -> Log {
        Log::new(
            Length::inches(20),
            Length::inches(24),
            Length::feet(10),
            Length::ZERO,
            Length::inches(1),
        )
        .unwrap()
    }

    #[test]
    fn a_chord_of_a_20_in_section_8_in_from_the_pith_is_12_in() {
        let log = log();
        let body = Body::whole(&log);
        let (from, to) = body.interval(Covering::Wood, 0.0, [0.0, 8.0], [1.0, 0.0]).unwrap();
        assert!((from + 6.0).abs() < 1e-12 && (to - 6.0).abs() < 1e-12);
        assert!(body.interval(Covering::Wood, 0.0, [0.0, 10.5], [1.0, 0.0]).is_none());
    }

    #[test]
    fn bark_reaches_further_than_wood() {
        let log = log();
        let body = Body::whole(&log);
        assert_eq!(body.reach(Covering::Wood, [0.0, 1.0], 0.0), Some(12.0));
        assert_eq!(body.reach(Covering::Bark, [0.0, 1.0], 0.0), Some(13.0));
    }

    #[test]
    fn a_slab_that_only_the_butt_has_begins_where_the_taper_lets_it() {
        let log = log();
        let slab = Body::whole(&log).cut(HalfSpace { normal: [0.0, -1.0, 0.0], offset: -11.0 });
        let (from, to) = slab.stations(Covering::Wood).unwrap();
        assert!((from - 60.0).abs() < 1e-6, "radius 11 is reached half-way, got {from}");
        assert!((to - 120.0).abs() < 1e-12);
        let none = Body::whole(&log).cut(HalfSpace { normal: [0.0, -1.0, 0.0], offset: -14.0 });
        assert!(none.stations(Covering::Bark).is_none());
    }

    #[test]
    fn where_a_flitch_begins_it_reaches_somewhere_in_every_direction() {
        // Where a plane just touches the round, the section is one point, and rounding decides on which side.
        let log = Log::new(
            Length::nm(654_050_000),
            Length::nm(727_375_000),
            Length::inches(169),
            Length::ZERO,
            Length::ZERO,
        )
        .unwrap();
        for place in 0..2_000 {
            let offset = 12.9 + f64::from(place) * 1e-3 / 3.0;
            let flitch = Body::whole(&log)
                .cut(HalfSpace { normal: [0.0, 1.0, 0.0], offset: offset + 1.0 })
                .cut(HalfSpace { normal: [0.0, -1.0, 0.0], offset: -offset });
            let (from, _) = flitch.stations(Covering::Wood).unwrap();
            for direction in [[0.0, 1.0], [1.0, 0.0], [0.0, -1.0], [-1.0, 0.0], [0.6, -0.8]] {
                assert!(flitch.reach_at(Covering::Wood, from, direction).is_some(), "{offset}");
            }
        }
    }

    #[test]
    fn corners_of_a_squared_section_are_found() {
        let log = log();
        let body = Body::whole(&log)
            .cut(HalfSpace { normal: [1.0, 0.0, 0.0], offset: 3.0 })
            .cut(HalfSpace { normal: [0.0, 1.0, 0.0], offset: 4.0 });
        let d = 0.5f64.sqrt();
        assert!((body.reach_at(Covering::Wood, 0.0, [d, d]).unwrap() - 7.0 * d).abs() < 1e-12);
    }
}
