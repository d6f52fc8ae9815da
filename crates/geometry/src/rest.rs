//! Where a body comes to lie: the bed frame that follows from a [`Rest`].
//!
//! The log is turned about its axis until the stated direction is up, tilted until the lowest point of
//! its small end stands the stated lift above the lowest point of its butt, and set down on the bed.
//!
//! # Formula
//! With `m_s` and `m_b` the lowest heights of the two end sections after the turn, reckoned from the
//! pith, and `D` the distance between the two stations, the tilt `t` (small end up) solves
//! ```text
//! (m_s - m_b) cos t + D sin t = lift
//! ```
//! On bark `m_s - m_b` is the difference of the radii, so the pith is level (`t = 0`) when the lift is
//! that difference; on a sawn face parallel to the pith it is 0, so it is level without any lift.

use crate::{Angle, Body, Covering, HalfSpace, Rest, trig};
use pithward_measure::Length;

/// The bed frame of a body at rest: height and right-hand position of any point of the log frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    turn: (f64, f64),
    tilt: (f64, f64),
    ground: f64,
}

impl Pose {
    /// The pose of a body in a rest; `None` when there is nothing left of the body, or when no tilt
    /// gives that lift. A lift within `level_within` inches of what levels the pith levels it: the
    /// sawyer does not set a figure, he raises the end until the pith reads alike at both.
    pub fn of(body: &Body<'_>, rest: &Rest, level_within: f64) -> Option<Self> {
        let turn = rest.turn.sin_cos();
        let down = [-turn.0, -turn.1];
        let (from, to) = body.stations(Covering::Bark)?;
        let lowest = |z: f64| body.reach_at(Covering::Bark, z, down).map(|reach| -reach);
        let rise = lowest(from)? - lowest(to)?;
        let distance = to - from;
        let lift = rest.lift.inches_f64();
        let tilt = if (lift - rise).abs() < level_within {
            (0.0, 1.0)
        } else {
            let whole = trig::norm(rise, distance);
            if lift.abs() > whole {
                return None;
            }
            trig::sin_cos(trig::asin(lift / whole) - trig::atan2(rise, distance))
        };
        // Height before setting down is h cos t - z sin t; the lowest point goes to 0.
        let lowest = -body.reach(Covering::Bark, down, tilt.0 / tilt.1)? * tilt.1;
        Some(Self { turn, tilt, ground: -lowest })
    }

    /// The outward normal of what is below a horizontal plane: the direction "up" in the log frame.
    pub fn up(&self) -> [f64; 3] {
        [self.turn.0 * self.tilt.1, self.turn.1 * self.tilt.1, -self.tilt.0]
    }

    /// The direction "right, away from the stops" in the log frame.
    pub fn right(&self) -> [f64; 3] {
        [self.turn.1, -self.turn.0, 0.0]
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

    /// Height of the pith over the bed at a station.
    ///
    /// # Units
    /// Inches.
    pub fn pith_height(&self, z: f64) -> f64 {
        self.ground - z * self.tilt.0
    }

    /// Whether the pith lies level.
    pub fn is_level(&self) -> bool {
        self.tilt.0.abs() < 1e-12
    }
}

/// The lift that levels the centre line of a flitch standing on its bark edge: how much wider, by
/// half, the flitch is at the butt than where it begins. `inner` is the distance of its wider face
/// from the pith (0 when the pith is inside it).
pub fn lift_to_level_flitch(body: &Body<'_>, turn: Angle) -> Option<Length> {
    let (sin, cos) = turn.sin_cos();
    let (from, to) = body.stations(Covering::Bark)?;
    let down = [-sin, -cos];
    let rise =
        body.reach_at(Covering::Bark, to, down)? - body.reach_at(Covering::Bark, from, down)?;
    Some(Length::from_inches_f64(rise))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Log, Support};

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

    fn rest(lift: Length) -> Rest {
        Rest { turn: Angle::ZERO, lift, on: Support::Bark, against: None }
    }

    #[test]
    fn as_it_lies_the_pith_slopes_by_half_the_difference() {
        // Pith height is half the diameter at either end, less what the tilt itself turns away.
        let log = log();
        let pose = Pose::of(&Body::whole(&log), &rest(Length::ZERO), 1e-6).unwrap();
        assert!((pose.pith_height(120.0) - 12.0).abs() < 0.01);
        assert!((pose.pith_height(0.0) - 10.0).abs() < 0.01);
    }

    #[test]
    fn half_the_difference_levels_the_pith() {
        let log = log();
        let pose = Pose::of(&Body::whole(&log), &rest(log.lift_to_level_pith()), 1e-6).unwrap();
        assert!(pose.is_level());
        assert!((pose.pith_height(0.0) - 12.0).abs() < 1e-12);
    }

    #[test]
    fn the_whole_difference_levels_the_upper_bark_line() {
        let log = log();
        let pose = Pose::of(&Body::whole(&log), &rest(log.lift_to_level_pith() * 2), 1e-6).unwrap();
        let top = |z: f64| pose.pith_height(z) + log.bark_radius(z);
        assert!((top(0.0) - top(120.0)).abs() < 0.01);
    }

    #[test]
    fn on_a_face_parallel_to_the_pith_no_lift_is_needed() {
        let log = log();
        let cant = Body::whole(&log).cut(HalfSpace { normal: [0.0, 1.0, 0.0], offset: 8.0 });
        let on_a = Rest { turn: Angle::degrees(180), ..rest(Length::ZERO) };
        let pose = Pose::of(&cant, &on_a, 1e-6).unwrap();
        assert!(pose.is_level());
        assert!((pose.pith_height(0.0) - 8.0).abs() < 1e-12);
    }
}
