//! A length, exact to the nanometre.
//!
//! 1/64 in is 396 875 nm and 0.1 mm is 100 000 nm: everything that a sawyer sets on a mill or reads
//! off a tape is a whole number of nanometres, so sums compare, order and hash without an epsilon.
//! Curves (chords, areas) are computed in `f64` inches: one way out, [`Length::inches_f64`], and one
//! way in per direction of rounding.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

const NM_PER_INCH: i64 = 25_400_000;
const NM_PER_MM: i64 = 1_000_000;

/// A length, exact to the nanometre; may be negative (a position can be).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Length(i64);

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);
    /// Longer than anything that is ever measured; a bound to start from.
    pub const MAX: Self = Self(i64::MAX / 4);

    /// A length of whole nanometres.
    pub const fn nm(nm: i64) -> Self {
        Self(nm)
    }

    /// A length of whole millimetres.
    pub const fn mm(mm: i64) -> Self {
        Self(mm * NM_PER_MM)
    }

    /// A length of whole inches.
    pub const fn inches(inches: i64) -> Self {
        Self(inches * NM_PER_INCH)
    }

    /// A length of whole feet.
    pub const fn feet(feet: i64) -> Self {
        Self(feet * 12 * NM_PER_INCH)
    }

    /// `numerator / 64` inches, for instance `sixty_fourths(40)` for 5/8 in.
    pub const fn sixty_fourths(numerator: i64) -> Self {
        Self(numerator * (NM_PER_INCH / 64))
    }

    /// The nearest nanometre to a computed number of inches.
    #[must_use]
    #[allow(
        clippy::cast_possible_truncation,
        reason = "lengths in hand are far below 2^63 nm; `as` saturates"
    )]
    pub fn from_inches_f64(inches: f64) -> Self {
        Self((inches * NM_PER_INCH as f64).round() as i64)
    }

    /// The nanometre at or below a computed number of inches: never promises more than was computed.
    #[must_use]
    #[allow(
        clippy::cast_possible_truncation,
        reason = "lengths in hand are far below 2^63 nm; `as` saturates"
    )]
    pub fn from_inches_f64_down(inches: f64) -> Self {
        Self((inches * NM_PER_INCH as f64).floor() as i64)
    }

    /// Whole nanometres.
    pub const fn as_nm(self) -> i64 {
        self.0
    }

    /// Inches, for curves and for print; exact to about 15 digits.
    pub fn inches_f64(self) -> f64 {
        self.0 as f64 / NM_PER_INCH as f64
    }

    /// Millimetres, for print.
    pub fn mm_f64(self) -> f64 {
        self.0 as f64 / NM_PER_MM as f64
    }

    /// Feet, for volumes and for print.
    pub fn feet_f64(self) -> f64 {
        self.inches_f64() / 12.0
    }

    /// The length without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// Half of it, rounded down to the nanometre.
    #[must_use]
    pub const fn half(self) -> Self {
        Self(self.0.div_euclid(2))
    }

    /// How many whole `step`s fit, rounded towards minus infinity.
    ///
    /// # Panics
    /// If `step` is not positive.
    pub const fn div_floor(self, step: Self) -> i64 {
        assert!(step.0 > 0, "a step is positive");
        self.0.div_euclid(step.0)
    }

    /// The nearest multiple of `step`; a tie goes up.
    ///
    /// # Panics
    /// If `step` is not positive.
    #[must_use]
    pub const fn round_to(self, step: Self) -> Self {
        Self(Self(self.0 + step.0 / 2).div_floor(step) * step.0)
    }

    /// The multiple of `step` at or below.
    ///
    /// # Panics
    /// If `step` is not positive.
    #[must_use]
    pub const fn floor_to(self, step: Self) -> Self {
        Self(self.div_floor(step) * step.0)
    }

    /// The multiple of `step` at or above.
    ///
    /// # Panics
    /// If `step` is not positive.
    #[must_use]
    pub const fn ceil_to(self, step: Self) -> Self {
        Self(-Self(-self.0).div_floor(step) * step.0)
    }
}

impl std::fmt::Debug for Length {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}in", self.inches_f64())
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}
impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}
impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}
impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}
impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}
impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * times)
    }
}
impl Div for Length {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        self.0 as f64 / other.0 as f64
    }
}
impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::Length;

    #[test]
    fn sixty_fourths_and_tenths_of_a_millimetre_are_exact() {
        assert_eq!(Length::sixty_fourths(1).as_nm(), 396_875);
        assert_eq!(Length::sixty_fourths(64), Length::inches(1));
        assert_eq!(Length::mm(254), Length::inches(10));
    }

    #[test]
    fn every_rounding_says_its_direction() {
        let step = Length::sixty_fourths(4);
        let length = Length::sixty_fourths(14);
        assert_eq!(length.floor_to(step), Length::sixty_fourths(12));
        assert_eq!(length.ceil_to(step), Length::sixty_fourths(16));
        assert_eq!(length.round_to(step), Length::sixty_fourths(16), "a tie goes up");
        assert_eq!((-length).floor_to(step), Length::sixty_fourths(-16));
        assert_eq!((-length).ceil_to(step), Length::sixty_fourths(-12));
        assert_eq!(Length::inches(3).ceil_to(step), Length::inches(3));
    }
}
