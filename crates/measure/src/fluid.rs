//! A volume of fuel or water, exact to a hundredth of a nanolitre: a gallon (the US one) is 3.785 411 784
//! litres, so its hundredths are whole.

use std::fmt;
use thiserror::Error;

use crate::Excerpt;
use crate::decimal::{decimal, written};

/// Hundredths of a nanolitre in a gallon.
const GALLON: i64 = 378_541_178_400;
/// Hundredths of a nanolitre in a litre.
const LITRE: i64 = 100_000_000_000;
/// More than anybody brings to a yard.
const MOST: i64 = 100_000 * LITRE;

/// A volume of a liquid.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Fluid(i64);

/// Why a text is no volume of a liquid.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum FluidFault {
    /// No number with its unit.
    #[error("{0} is no volume; write a number and its unit, as in 5 gal or 20 l")]
    NoFluid(Excerpt),
    /// A number alone.
    #[error("{0} has no unit; write gal or l behind it")]
    NoUnit(Excerpt),
    /// A word that is no unit.
    #[error("{0} is no volume: its unit is none; write gal or l")]
    Unit(Excerpt),
    /// More than anybody brings to a yard.
    #[error("{0} is too much; a volume is at most 100000 l")]
    Size(Excerpt),
}

impl Fluid {
    /// None at all.
    pub const ZERO: Self = Self(0);

    /// Whole US gallons.
    pub const fn gallons(gallons: i64) -> Self {
        Self(gallons * GALLON)
    }

    /// The nearest hundredth of a nanolitre to a computed number of US gallons.
    #[must_use]
    #[allow(
        clippy::cast_possible_truncation,
        reason = "volumes in hand are far below 2^63 such parts; `as` saturates"
    )]
    pub fn from_gallons_f64(gallons: f64) -> Self {
        Self((gallons * GALLON as f64).round() as i64)
    }

    /// US gallons, for print and for what is computed from it.
    pub fn gallons_f64(self) -> f64 {
        self.0 as f64 / GALLON as f64
    }

    /// Litres.
    pub fn litres_f64(self) -> f64 {
        self.0 as f64 / LITRE as f64
    }

    /// Reads a volume: `5 gal` (the US gallon), `20 l`.
    ///
    /// # Errors
    /// Why it is none.
    ///
    /// ```
    /// use pithward_measure::Fluid;
    /// assert_eq!(Fluid::parse("5 gal")?, Fluid::gallons(5));
    /// # Ok::<(), pithward_measure::FluidFault>(())
    /// ```
    pub fn parse(text: &str) -> Result<Self, FluidFault> {
        let got = || Excerpt::new(text);
        let read = decimal(text).ok_or_else(|| FluidFault::NoFluid(got()))?;
        let unit = match &read.unit[..] {
            "gal" | "gallon" | "gallons" => GALLON,
            "l" | "litre" | "litres" | "liter" | "liters" => LITRE,
            "" => return Err(FluidFault::NoUnit(got())),
            _ => return Err(FluidFault::Unit(got())),
        };
        let parts = (read.millionths * i128::from(unit) + 500_000) / 1_000_000;
        match i64::try_from(parts) {
            Ok(exact) if exact <= MOST => Ok(Self(if read.is_negative { -exact } else { exact })),
            _ => Err(FluidFault::Size(got())),
        }
    }
}

impl fmt::Display for Fluid {
    /// In gallons where it is a whole number of hundredths of one, else in litres.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let hundred = i128::from(self.0) * 100;
        if hundred % i128::from(GALLON) == 0 {
            return write!(f, "{} gal", written(hundred / i128::from(GALLON), 2));
        }
        write!(f, "{} l", written(i128::from(self.0), 11))
    }
}

impl fmt::Debug for Fluid {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}gal", self.gallons_f64())
    }
}

#[cfg(test)]
mod tests {
    use super::{Fluid, FluidFault};
    use proptest::prelude::*;

    #[test]
    fn volumes_as_people_write_them() {
        for (text, said) in [
            ("5 gal", "5 gal"),
            ("0.75 Gallons", "0.75 gal"),
            ("20 l", "20 l"),
            ("1.5 liters", "1.5 l"),
            ("-1 gal", "-1 gal"),
        ] {
            assert_eq!(Fluid::parse(text).unwrap().to_string(), said, "{text}");
        }
        assert!((Fluid::parse("18.927 l").unwrap().gallons_f64() - 5.0).abs() < 1e-4);
        assert!(matches!(Fluid::parse("5"), Err(FluidFault::NoUnit(_))));
        assert!(matches!(Fluid::parse("5 lb"), Err(FluidFault::Unit(_))));
        assert!(matches!(Fluid::parse("a can"), Err(FluidFault::NoFluid(_))));
        assert!(matches!(Fluid::parse("900000 gal"), Err(FluidFault::Size(_))));
    }

    proptest! {
        #[test]
        fn prop_no_text_panics(text in any::<String>()) {
            if let Ok(fluid) = Fluid::parse(&text) {
                let _ = fluid.to_string();
            }
        }
    }
}
