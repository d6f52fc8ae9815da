//! Where a body comes to lie: the bed frame that follows from a [`Rest`].
//!
//! The log is turned until the stated direction is up, the frame's axis is levelled, and it is set down: what of
//! its bark is lowest anywhere carries it. The lift that levels the axis is no setting but an outcome: how far the
//! lowest bark of the body's small end then stands above that of its butt.
//!
//! # Formula
//! With `h` the direction that is up, `g` the height of the origin of the log frame, the pith at the small end, over
//! the bed, and `z_s`, `z_b` the stations between which there is anything of the body:
//! ```text
//! height(p) = h . p + g         g = -min { h . p : p in the bark }
//! lift      = min { h . p : p at z_s } - min { h . p : p at z_b }
//! ```

use crate::{Angle, Basis, Body, Covering, Frame, HalfSpace, Rest, frame::dot, trig::norm};
use pithward_measure::Length;

/// The bed frame of a body at rest: height and right-hand position of any point of the log frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    basis: Basis,
    ground: f64,
}

/// What carries a body reaches the bed within this, inches: a micrometre.
const TOUCHES: f64 = 1e-3 / 25.4;

/// Into how many stretches a round body is parted to find where it touches the bed.
const STRETCHES: u32 = 32;

impl Pose {
    /// The pose of a body in a rest; `None` when there is nothing of the body, or when the rest is not turned by whole
    /// quarters from the frame. The rest's lift is not looked at: [`lift_to_level`] is what it must be.
    pub fn of(body: &Body<'_>, frame: &Frame, rest: &Rest) -> Option<Self> {
        Self::levelled(body, frame.turned_to(rest.turn, body.log().length())?)
    }

    /// The pose of a body whose planes run along these directions, its axis level; `None` when there is nothing of it.
    pub fn levelled(body: &Body<'_>, basis: Basis) -> Option<Self> {
        let ground = reach(body, Covering::Bark, basis.h.map(|c| -c))?;
        Some(Self { basis, ground })
    }

    /// Its directions.
    pub fn basis(&self) -> Basis {
        self.basis
    }

    /// The outward normal of what is below a horizontal plane: the direction "up" in the log frame.
    pub fn up(&self) -> [f64; 3] {
        self.basis.h
    }

    /// The direction "right, away from the stops" in the log frame.
    pub fn right(&self) -> [f64; 3] {
        self.basis.u
    }

    /// Everything at or below a height over the bed.
    ///
    /// # Units
    /// Inches.
    pub fn below(&self, height: f64) -> HalfSpace {
        HalfSpace { normal: self.up(), offset: height - self.ground }
    }

    /// Everything at or above a height over the bed.
    ///
    /// # Units
    /// Inches.
    pub fn above(&self, height: f64) -> HalfSpace {
        HalfSpace { normal: self.up().map(|c| -c), offset: self.ground - height }
    }

    /// Height of a point of the log frame over the bed.
    ///
    /// # Units
    /// Inches.
    pub fn height_of(&self, point: [f64; 3]) -> f64 {
        dot(self.basis.h, point) + self.ground
    }

    /// Height over the bed of the frame's axis, from which pieces are reckoned: level, so the same at every station.
    ///
    /// # Units
    /// Inches.
    pub fn axis_height(&self) -> f64 {
        self.ground
    }

    /// Height over the bed of the log's own axis at a station: at the ends, of the pith.
    ///
    /// # Units
    /// Inches.
    pub fn pith_height(&self, z: f64) -> f64 {
        self.height_of([0.0, 0.0, z])
    }

    /// How high the lowest bark of a body hangs over the bed at a station; `None` where there is nothing of it there.
    ///
    /// # Units
    /// Inches.
    pub fn hangs(&self, body: &Body<'_>, z: f64) -> Option<f64> {
        let low = reach_at(body, Covering::Bark, z, self.basis.h.map(|c| -c))?;
        Some(self.ground - low)
    }

    /// The first and the last station at which the body touches the bed, within a micrometre: nearly the same where
    /// one point carries it.
    ///
    /// # Units
    /// Inches.
    pub fn carried(&self, body: &Body<'_>) -> Option<(f64, f64)> {
        let (from, to) = body.stations(Covering::Bark)?;
        let down = self.basis.h.map(|c| -c);
        let over = |z: f64| {
            reach_at(body, Covering::Bark, z, down).map_or(f64::INFINITY, |low| self.ground - low)
        };
        let inner: Vec<f64> = match body.log().sections() {
            Some(sections) => sections.iter().map(|section| section.z).collect(),
            None => (1..STRETCHES)
                .map(|n| from + (to - from) * f64::from(n) / f64::from(STRETCHES))
                .collect(),
        };
        let inner = inner.into_iter().filter(|z| from < *z && *z < to);
        let at: Vec<f64> = std::iter::once(from).chain(inner).chain([to]).collect();
        let heights: Vec<f64> = at.iter().map(|z| over(*z)).collect();
        let touching = |height: &f64| *height < TOUCHES;
        let (Some(first), Some(last)) =
            (heights.iter().position(touching), heights.iter().rposition(touching))
        else {
            // It touches between two of them; the lowest is next to it.
            let lowest = heights.iter().zip(&at).min_by(|a, b| a.0.total_cmp(b.0))?;
            return Some((*lowest.1, *lowest.1));
        };
        let edge = |mut touches: f64, mut free: f64| {
            for _ in 0..40 {
                let middle = 0.5 * (touches + free);
                if over(middle) < TOUCHES { touches = middle } else { free = middle }
            }
            touches
        };
        let before = first.checked_sub(1).map_or(at[first], |free| edge(at[first], at[free]));
        let after = at.get(last + 1).map_or(at[last], |free| edge(at[last], *free));
        Some((before, after))
    }
}

/// The lift that levels the frame's axis when a body lies with this direction up: how far the lowest bark of its small
/// end stands above that of its butt; negative where it is the butt that is raised. `None` when there is nothing of the
/// body, or when that direction is no whole number of quarter turns from the frame.
pub fn lift_to_level(body: &Body<'_>, frame: &Frame, up: Angle) -> Option<Length> {
    let basis = frame.turned_to(up, body.log().length())?;
    let (from, to) = body.stations(Covering::Bark)?;
    let down = basis.h.map(|c| -c);
    let low = |z: f64| reach_at(body, Covering::Bark, z, down);
    Some(Length::from_inches_f64(low(to)? - low(from)?))
}

/// The lift that levels the centre line of a flitch standing on its bark edge, sawn parallel to the log's own axis: how
/// much wider, by half, the flitch is at the butt than where it begins.
pub fn lift_to_level_flitch(body: &Body<'_>, turn: Angle) -> Option<Length> {
    lift_to_level(body, &Frame::turned(turn), turn)
}

/// The largest `direction . p` over a body.
///
/// # Units
/// Inches.
pub(crate) fn reach(body: &Body<'_>, covering: Covering, direction: [f64; 3]) -> Option<f64> {
    let [x, y, z] = direction;
    let flat = norm(x, y);
    Some(body.reach(covering, [x / flat, y / flat], z / flat)? * flat)
}

/// The largest `direction . p` over the section of a body at a station.
///
/// # Units
/// Inches.
pub(crate) fn reach_at(
    body: &Body<'_>,
    covering: Covering,
    station: f64,
    direction: [f64; 3],
) -> Option<f64> {
    let [x, y, z] = direction;
    let flat = norm(x, y);
    Some(body.reach_at(covering, station, [x / flat, y / flat])? * flat + z * station)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{End, Log, Support, Sweep, Taped};

    fn log() -> Log {
        Log::new(
            Length::inches(20),
            Length::inches(24),
            Length::feet(10),
            Length::ZERO,
            Length::ZERO,
        )
        .unwrap()
    }

    fn rest(turn: i32) -> Rest {
        let turn = Angle::degrees(turn);
        Rest { turn, lift: Length::ZERO, on: Support::Bark, against: None }
    }

    #[test]
    fn half_the_difference_levels_the_pith_and_the_butt_carries() {
        let log = log();
        let body = Body::whole(&log);
        let pose = Pose::of(&body, &Frame::LEVEL, &rest(0)).unwrap();
        assert_eq!((pose.pith_height(0.0), pose.pith_height(120.0)), (12.0, 12.0));
        let (from, to) = pose.carried(&body).unwrap();
        assert!(from > 119.99 && from <= to && to > 119.999, "{from} to {to}");
        let lift = lift_to_level(&body, &Frame::LEVEL, Angle::ZERO);
        assert_eq!(lift, Some(log.lift_to_level_pith()));
    }

    #[test]
    fn an_axis_along_the_lower_bark_needs_no_lift_along_the_upper_the_whole_difference() {
        let log = log();
        let body = Body::whole(&log);
        let drift = |inches| Frame { drift_h: Length::inches(inches), ..Frame::LEVEL };
        // Twice the levelling of a frustum is a little less than its difference: the radius stands square to the pith.
        let lift = |frame: &Frame| lift_to_level(&body, frame, Angle::ZERO).unwrap().inches_f64();
        assert!(lift(&drift(-2)).abs() < 0.01);
        assert!((lift(&drift(2)) - 4.0).abs() < 0.01);
        let pose = Pose::of(&body, &drift(-2), &rest(0)).unwrap();
        // On its lower bark it lies along all of it, the pith 10 in over the bed at the one end, 12 in at the other.
        assert!((pose.pith_height(0.0) - 10.0).abs() < 0.01);
        assert!((pose.pith_height(120.0) - 12.0).abs() < 0.01);
        assert!((pose.height_of([0.0, -10.0, 0.0])).abs() < 1e-9);
        assert!((pose.height_of([0.0, -12.0, 120.0])).abs() < 1e-9);
        assert_eq!(pose.carried(&body), Some((0.0, 120.0)));
    }

    #[test]
    fn on_a_face_parallel_to_the_pith_no_lift_is_needed() {
        let log = log();
        let cant = Body::whole(&log).cut(HalfSpace { normal: [0.0, 1.0, 0.0], offset: 8.0 });
        let pose = Pose::of(&cant, &Frame::LEVEL, &rest(180)).unwrap();
        assert_eq!(lift_to_level(&cant, &Frame::LEVEL, Angle::degrees(180)), Some(Length::ZERO));
        assert!((pose.pith_height(0.0) - 8.0).abs() < 1e-12);
        assert_eq!(pose.carried(&cant), Some((0.0, 120.0)));
    }

    #[test]
    fn a_face_that_the_small_end_does_not_reach_carries_from_where_it_begins() {
        let log = log();
        let cant = Body::whole(&log).cut(HalfSpace { normal: [0.0, 1.0, 0.0], offset: 11.0 });
        let pose = Pose::of(&cant, &Frame::LEVEL, &rest(180)).unwrap();
        let (from, to) = pose.carried(&cant).unwrap();
        assert!((from - 60.0).abs() < 0.01 && (to - 120.0).abs() < 1e-12, "{from} to {to}");
        let lift = lift_to_level(&cant, &Frame::LEVEL, Angle::degrees(180));
        assert_eq!(lift, Some(Length::inches(1)));
    }

    #[test]
    fn a_belly_carries_the_log_that_lies_on_it_an_end_the_log_with_its_horns_down() {
        let end = End {
            longer: Length::inches(12),
            shorter: Length::inches(12),
            clock: Angle::ZERO,
            pith_off: Length::ZERO,
            pith_clock: Angle::ZERO,
            bark: Length::ZERO,
        };
        let sweep =
            Sweep { depth: Length::inches(3), clock: Angle::degrees(90), at: Length::inches(40) };
        let length = Length::inches(96);
        let taped =
            Taped { length, small: end, butt: end, sweep: Some(sweep), crook: None, flare: None };
        let log = Log::taped(&taped).unwrap();
        let body = Body::whole(&log);
        let lie = |degrees| {
            let pose = Pose::of(&body, &Frame::LEVEL, &rest(degrees)).unwrap();
            (pose.axis_height(), pose.carried(&body).unwrap())
        };
        // The belly is at 3 o'clock: down when 9 o'clock is up.
        let (axis, (from, to)) = lie(270);
        // The outline of the bark lies about its circle.
        let about = |axis: f64, held: f64| (axis - held).abs() < 0.005;
        assert!(about(axis, 9.0), "{axis}");
        assert!(from > 39.0 && to < 41.0, "{from} to {to}");
        let (axis, (from, to)) = lie(90);
        assert!(about(axis, 6.0), "{axis}");
        assert_eq!((from < 0.1, to > 95.9), (true, true), "{from} to {to}");
        // On its side it does neither: all of it lies on the bed.
        let (axis, (from, to)) = lie(0);
        assert!(about(axis, 6.0) && from < 1e-9 && to > 95.999, "{axis}, {from} to {to}");
    }

    #[test]
    fn a_turn_that_is_no_quarter_of_the_frame_is_no_pose() {
        let log = log();
        let body = Body::whole(&log);
        let frame = Frame::turned(Angle::degrees(30));
        assert!(Pose::of(&body, &frame, &rest(0)).is_none());
        assert!(Pose::of(&body, &frame, &rest(120)).is_some());
        assert!(lift_to_level(&body, &frame, Angle::degrees(31)).is_none());
    }
}
