//! Angles and the one place that meets trigonometry.
//!
//! The platform's own functions differ in the last digit from machine to machine; `libm` is the same
//! code everywhere, and quarter turns are exact.

/// An angle in whole thousandths of a degree, clockwise when one looks at the small end.
///
/// # Units
/// Thousandths of a degree.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Angle(i32);

impl Angle {
    /// No turn.
    pub const ZERO: Self = Self(0);

    /// Whole degrees.
    pub const fn degrees(degrees: i32) -> Self {
        Self(degrees * 1000)
    }

    /// Thousandths of a degree.
    pub const fn millidegrees(millidegrees: i32) -> Self {
        Self(millidegrees)
    }

    /// Turned on, within a whole turn.
    #[must_use]
    pub const fn turned_by(self, by: Self) -> Self {
        Self((self.0 + by.0).rem_euclid(360_000))
    }

    /// Thousandths of a degree.
    pub const fn as_millidegrees(self) -> i32 {
        self.0
    }

    /// Degrees, for print.
    pub fn degrees_f64(self) -> f64 {
        f64::from(self.0) / 1000.0
    }

    /// Sine and cosine; exact at whole quarter turns.
    pub fn sin_cos(self) -> (f64, f64) {
        match self.0.rem_euclid(360_000) {
            0 => (0.0, 1.0),
            90_000 => (1.0, 0.0),
            180_000 => (0.0, -1.0),
            270_000 => (-1.0, 0.0),
            other => {
                let radians = f64::from(other) * (std::f64::consts::PI / 180_000.0);
                (libm::sin(radians), libm::cos(radians))
            }
        }
    }
}

/// `sqrt(a^2 + b^2)`, from square roots alone, which every machine rounds alike.
pub fn norm(a: f64, b: f64) -> f64 {
    (a * a + b * b).sqrt()
}

/// Arc sine, radians.
pub fn asin(x: f64) -> f64 {
    libm::asin(x)
}

/// Arc cosine, radians.
pub fn acos(x: f64) -> f64 {
    libm::acos(x)
}

/// The angle of the direction `(x, y)`, radians.
pub fn atan2(y: f64, x: f64) -> f64 {
    libm::atan2(y, x)
}

/// Sine and cosine of radians.
pub fn sin_cos(radians: f64) -> (f64, f64) {
    (libm::sin(radians), libm::cos(radians))
}
