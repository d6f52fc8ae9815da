//! The frame in which a log is sawn: the directions of all its planes.
//!
//! All pieces of one log are parallel to one axis. It need not be the log's own: raised further at one end, the log is
//! sawn parallel to its bark on one side. So the axis of the frame drifts against the pith, in the direction of its
//! `h` and of its `u`, by so much from the small end to the butt.
//!
//! # Formula
//! With `c(t) = (sin t, cos t, 0)` the clock direction of the turn `t`, `L` the log's length and the drifts `d_u`, `d_h`:
//! ```text
//! along = unit(d_u c(t + 90) + d_h c(t) + L z)
//! h     = unit(c(t) - (c(t) . along) along)
//! u     = h x along ... the quarter turn clockwise of h, exactly square to both
//! ```

use crate::{Angle, trig::norm};
use pithward_measure::Length;

/// The directions of the planes of one log.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Frame {
    /// The clock direction of `h`, up when the first face is opened; `u` is a quarter turn clockwise of it.
    pub turn: Angle,
    /// How far the frame's axis moves along `u` from the small end to the butt.
    pub drift_u: Length,
    /// How far it moves along `h`.
    pub drift_h: Length,
}

/// Three directions, each square to the others, in the log frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Basis {
    /// To the right, away from the side stops.
    pub u: [f64; 3],
    /// Up.
    pub h: [f64; 3],
    /// From the small end to the butt.
    pub along: [f64; 3],
}

impl Frame {
    /// The log's own axis, 12 o'clock up.
    pub const LEVEL: Self =
        Self { turn: Angle::ZERO, drift_u: Length::ZERO, drift_h: Length::ZERO };

    /// The log's own axis, this clock direction up.
    pub const fn turned(turn: Angle) -> Self {
        Self { turn, ..Self::LEVEL }
    }

    /// The same frame, turned on about the pith: it drifts along its own directions as before.
    #[must_use]
    pub const fn turned_by(self, by: Angle) -> Self {
        Self { turn: self.turn.turned_by(by), ..self }
    }

    /// The same planes, the other way up.
    #[must_use]
    pub fn half_turned(self) -> Self {
        let turn = Angle::millidegrees((self.turn.as_millidegrees() + 180_000) % 360_000);
        Self { turn, drift_u: -self.drift_u, drift_h: -self.drift_h }
    }

    /// Its directions in a log of this length.
    pub fn basis(&self, length: Length) -> Basis {
        let (sin, cos) = self.turn.sin_cos();
        let (h, u) = ([sin, cos, 0.0], [cos, -sin, 0.0]);
        if self.drift_u == Length::ZERO && self.drift_h == Length::ZERO {
            return Basis { u, h, along: [0.0, 0.0, 1.0] };
        }
        let (du, dh) = (self.drift_u / length, self.drift_h / length);
        let along = unit([du * u[0] + dh * h[0], du * u[1] + dh * h[1], 1.0]);
        let off = dot(h, along);
        let h = unit([h[0] - off * along[0], h[1] - off * along[1], h[2] - off * along[2]]);
        Basis { u: cross(h, along), h, along }
    }

    /// Its directions when the log is turned on: this clock direction is up. `None` where that is no whole number of
    /// quarter turns from the frame's own.
    pub fn turned_to(&self, up: Angle, length: Length) -> Option<Basis> {
        let quarters = (up.as_millidegrees() - self.turn.as_millidegrees()).rem_euclid(360_000);
        let Basis { u, h, along } = self.basis(length);
        let (minus_u, minus_h) = (u.map(|c| -c), h.map(|c| -c));
        let (h, u) = match quarters {
            0 => (h, u),
            90_000 => (u, minus_h),
            180_000 => (minus_h, minus_u),
            270_000 => (minus_u, h),
            _ => return None,
        };
        Some(Basis { u, h, along })
    }
}

/// The inner product.
pub(crate) fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn unit(a: [f64; 3]) -> [f64; 3] {
    let long = norm(norm(a[0], a[1]), a[2]);
    a.map(|c| c / long)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_frame_without_drift_is_the_log_frame_turned() {
        let level = Frame::LEVEL.basis(Length::feet(10));
        assert_eq!((level.u, level.h), ([1.0, 0.0, 0.0], [0.0, 1.0, 0.0]));
        let turned = Frame::LEVEL.turned_to(Angle::degrees(90), Length::feet(10)).unwrap();
        assert_eq!((turned.u, turned.h), ([0.0, -1.0, 0.0], [1.0, 0.0, 0.0]));
        assert!(Frame::LEVEL.turned_to(Angle::degrees(45), Length::feet(10)).is_none());
    }

    #[test]
    fn its_directions_are_square_whatever_the_drift() {
        let frame = Frame {
            turn: Angle::degrees(37),
            drift_u: Length::inches(-2),
            drift_h: Length::inches(3),
        };
        for up in [37, 127, 217, 307] {
            let basis = frame.turned_to(Angle::degrees(up), Length::feet(8)).unwrap();
            for (a, b) in [(basis.u, basis.h), (basis.h, basis.along), (basis.along, basis.u)] {
                assert!(dot(a, b).abs() < 1e-15);
            }
            let (sin, cos) = Angle::degrees(up).sin_cos();
            assert!(dot(basis.h, [sin, cos, 0.0]) > 0.999);
            assert!(dot(basis.u, [cos, -sin, 0.0]) > 0.999);
        }
        // The axis drifts by what is said, from end to end.
        let along = frame.basis(Length::feet(8)).along.map(|c| c * 96.0);
        let (sin, cos) = frame.turn.sin_cos();
        let scale = 96.0 / along[2];
        assert!((scale * (along[0] * sin + along[1] * cos) - 3.0).abs() < 1e-12);
        assert!((scale * (along[0] * cos - along[1] * sin) + 2.0).abs() < 1e-12);
    }
}
