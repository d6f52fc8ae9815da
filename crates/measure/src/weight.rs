//! A weight, exact to a tenth of a microgram.
//!
//! A pound is 453.592 37 g, so hundredths of a pound and grams are both whole numbers of such tenths: what a person states
//! is kept as it was stated. What is computed, a log from its volume, is a number of pounds in `f64` and comes in rounded.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Sub};
use thiserror::Error;

use crate::Excerpt;
use crate::decimal::{decimal, written};

/// Tenths of a microgram in a pound.
const POUND: i64 = 4_535_923_700;
/// Tenths of a microgram in a kilogram.
const KILOGRAM: i64 = 10_000_000_000;
/// More than any load weighs: 1000 t.
const MOST: i64 = 1_000_000 * KILOGRAM;

/// A weight.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Weight(i64);

/// Why a text is no weight.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum WeightFault {
    /// No number with its unit.
    #[error("{0} is no weight; write a number and its unit, as in 4000 lb, 900 kg or 1.8 t")]
    NoWeight(Excerpt),
    /// A number alone.
    #[error("{0} has no unit; write lb, kg or t behind it")]
    NoUnit(Excerpt),
    /// A word that is no unit of weight.
    #[error("{0} is no weight: its unit is none; write lb, kg or t")]
    Unit(Excerpt),
    /// A ton, which is of 2000 lb to some, of 2240 lb or of 1000 kg to others.
    #[error("{0} may be of 2000 lb, 2240 lb or 1000 kg; write lb, kg or t (1000 kg)")]
    Ton(Excerpt),
    /// More than any load weighs.
    #[error("{0} is too much; a weight is at most 1000 t")]
    Size(Excerpt),
}

impl Weight {
    /// No weight at all.
    pub const ZERO: Self = Self(0);

    /// Whole pounds.
    pub const fn lb(pounds: i64) -> Self {
        Self(pounds * POUND)
    }

    /// Whole kilograms.
    pub const fn kg(kilograms: i64) -> Self {
        Self(kilograms * KILOGRAM)
    }

    /// The nearest tenth of a microgram to a computed number of pounds.
    #[must_use]
    #[allow(
        clippy::cast_possible_truncation,
        reason = "weights in hand are far below 2^63 such tenths; `as` saturates"
    )]
    pub fn from_lb_f64(pounds: f64) -> Self {
        Self((pounds * POUND as f64).round() as i64)
    }

    /// Pounds, for print and for what is computed from it.
    pub fn lb_f64(self) -> f64 {
        self.0 as f64 / POUND as f64
    }

    /// Kilograms.
    pub fn kg_f64(self) -> f64 {
        self.0 as f64 / KILOGRAM as f64
    }

    /// How often it must be parted so that no part is more than `most`; `None` where `most` is nothing.
    pub fn div_ceil(self, most: Self) -> Option<i64> {
        (most.0 > 0).then(|| -(-self.0).div_euclid(most.0))
    }

    /// Reads a weight: `4000 lb`, `900 kg`, `1.8 t`.
    ///
    /// # Errors
    /// Why it is none.
    ///
    /// ```
    /// use pithward_measure::Weight;
    /// assert_eq!(Weight::parse("1.8 t")?, Weight::kg(1800));
    /// assert!(Weight::parse("2 tons").unwrap_err().to_string().contains("2240 lb"));
    /// # Ok::<(), pithward_measure::WeightFault>(())
    /// ```
    pub fn parse(text: &str) -> Result<Self, WeightFault> {
        let got = || Excerpt::new(text);
        let read = decimal(text).ok_or_else(|| WeightFault::NoWeight(got()))?;
        let unit = match &read.unit[..] {
            "lb" | "lbs" | "pound" | "pounds" => POUND,
            "kg" | "kilo" | "kilos" | "kilogram" | "kilograms" => KILOGRAM,
            "t" | "tonne" | "tonnes" | "metric ton" | "metric tons" => 1000 * KILOGRAM,
            "ton" | "tons" => return Err(WeightFault::Ton(got())),
            "" => return Err(WeightFault::NoUnit(got())),
            _ => return Err(WeightFault::Unit(got())),
        };
        let parts = (read.millionths * i128::from(unit) + 500_000) / 1_000_000;
        match i64::try_from(parts) {
            Ok(exact) if exact <= MOST => Ok(Self(if read.is_negative { -exact } else { exact })),
            _ => Err(WeightFault::Size(got())),
        }
    }
}

impl fmt::Display for Weight {
    /// In pounds where it is a whole number of hundredths of one, else in kilograms.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let hundred = i128::from(self.0) * 100;
        if hundred % i128::from(POUND) == 0 {
            return write!(f, "{} lb", written(hundred / i128::from(POUND), 2));
        }
        write!(f, "{} kg", written(i128::from(self.0), 10))
    }
}

impl fmt::Debug for Weight {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}lb", self.lb_f64())
    }
}

impl Add for Weight {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}
impl AddAssign for Weight {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}
impl Sub for Weight {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}
impl Mul<i64> for Weight {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * times)
    }
}
impl Sum for Weight {
    fn sum<I: Iterator<Item = Self>>(weights: I) -> Self {
        weights.fold(Self::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::{Weight, WeightFault};
    use proptest::prelude::*;

    #[test]
    fn weights_as_people_write_them() {
        for (text, weight) in [
            ("4000 lb", Weight::lb(4000)),
            ("4000LBS", Weight::lb(4000)),
            ("12 pounds", Weight::lb(12)),
            (" 900 kg ", Weight::kg(900)),
            ("1.8 t", Weight::kg(1800)),
            ("1.8 tonnes", Weight::kg(1800)),
            ("0 lb", Weight::ZERO),
            ("-3 lb", Weight::lb(-3)),
        ] {
            assert_eq!(Weight::parse(text), Ok(weight), "{text}");
        }
        type Fault = fn(crate::Excerpt) -> WeightFault;
        let faults: [(Fault, &[&str]); 5] = [
            (WeightFault::NoWeight, &["", "lb", "1,200 lb", ".5 lb", "5. lb", "--1 lb"]),
            (WeightFault::NoUnit, &["4000", "1.5"]),
            (WeightFault::Unit, &["4000 in", "1e3 lb", "3 lb 4 oz", "4000 lb kg", "4 stone"]),
            (WeightFault::Ton, &["2 tons", "2 Ton"]),
            (WeightFault::Size, &["1001 t", "999999999999 t"]),
        ];
        for (fault, texts) in faults {
            for text in texts {
                let expected = fault(crate::Excerpt::new(text));
                assert_eq!(Weight::parse(text), Err(expected), "{text}");
            }
        }
    }

    #[test]
    fn loads_are_counted_up() {
        let payload = Weight::lb(3000);
        for (weight, loads) in [(0, 0), (1, 1), (3000, 1), (3001, 2), (9000, 3)] {
            assert_eq!(Weight::lb(weight).div_ceil(payload), Some(loads));
        }
        assert_eq!(payload.div_ceil(Weight::ZERO), None);
        assert_eq!(Weight::parse("2.25 lb").unwrap().to_string(), "2.25 lb");
        assert_eq!(Weight::kg(1800).to_string(), "1800 kg");
    }

    proptest! {
        #[test]
        fn prop_what_is_printed_reads_back(parts in -9_000_000_000_000_000_i64..9_000_000_000_000_000) {
            let grams = Weight(parts / 10_000_000 * 10_000_000);
            prop_assert_eq!(Weight::parse(&grams.to_string()), Ok(grams));
            let hundredths = Weight(parts / 45_359_237 * 45_359_237);
            prop_assert_eq!(Weight::parse(&hundredths.to_string()), Ok(hundredths));
        }

        #[test]
        fn prop_no_text_panics(text in any::<String>()) {
            let _ = Weight::parse(&text);
        }
    }
}
