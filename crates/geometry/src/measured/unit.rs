//! Which unit a file may be in, by the size of the log that it would make.

use super::ShapeFault;
use crate::measured::Repair;
use pithward_measure::Unit;
use std::fmt;
use std::ops::RangeInclusive;

/// Lengths of logs that someone has sawn, inches: 3 to 50 ft. Common practice, no source; wider limits make fewer
/// files clear without a stated unit.
const CREDIBLE_LENGTH: RangeInclusive<f64> = 36.0..=600.0;

/// Mean diameters of the same, inches. Common practice, no source.
const CREDIBLE_ACROSS: RangeInclusive<f64> = 4.0..=48.0;

const UNITS: [Unit; 5] = [Unit::Millimetre, Unit::Centimetre, Unit::Metre, Unit::Inch, Unit::Foot];

/// The short name of a unit.
pub fn unit_name(unit: Unit) -> &'static str {
    match unit {
        Unit::Millimetre => "mm",
        Unit::Centimetre => "cm",
        Unit::Metre => "m",
        Unit::Inch => "in",
        Unit::Foot => "ft",
    }
}

/// A unit that makes a log of credible size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Candidate {
    /// The unit.
    pub unit: Unit,
    /// Length, inches.
    pub length: f64,
    /// Mean diameter, inches.
    pub across: f64,
}

/// All units that make a log of credible size.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Candidates(pub Vec<Candidate>);

impl fmt::Display for Candidates {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.is_empty() {
            return f.write_str("in no unit would it be a log of usual size");
        }
        for (n, Candidate { unit, length, across }) in self.0.iter().enumerate() {
            let joint = if n == 0 { "" } else { ", " };
            let (unit, feet) = (unit_name(*unit), length / 12.0);
            write!(f, "{joint}in {unit} it would be {feet:.1} ft long and {across:.1} in through")?;
        }
        Ok(())
    }
}

/// The units in which a shape of this length and mean diameter, in units of its file, is a log of credible size.
pub fn credible_units(length: f64, across: f64) -> Candidates {
    let candidate = |unit: Unit| {
        let inches = unit.length().inches_f64();
        let (length, across) = (length * inches, across * inches);
        let credible = CREDIBLE_LENGTH.contains(&length) && CREDIBLE_ACROSS.contains(&across);
        credible.then_some(Candidate { unit, length, across })
    };
    Candidates(UNITS.into_iter().filter_map(candidate).collect())
}

/// Inches in a unit of the file: as stated, or where only one makes a log of credible size.
pub(super) fn scale(
    stated: Option<Unit>,
    length: f64,
    across: f64,
    told: &mut Vec<Repair>,
) -> Result<f64, ShapeFault> {
    let candidates = credible_units(length, across);
    if let Some(unit) = stated {
        let inches = unit.length().inches_f64();
        let (length, across) = (length * inches, across * inches);
        return if super::section::possible(length, across) {
            Ok(inches)
        } else {
            Err(ShapeFault::Size { length, across, unit: unit_name(unit), candidates })
        };
    }
    match candidates.0[..] {
        [Candidate { unit, length, across }] => {
            told.push(Repair::Unit { unit: unit_name(unit), length, across });
            Ok(unit.length().inches_f64())
        }
        _ => Err(ShapeFault::UnitUnknown { candidates }),
    }
}

#[cfg(test)]
mod tests {
    use super::credible_units;
    use pithward_measure::Unit;

    fn units(length: f64, across: f64) -> Vec<Unit> {
        credible_units(length, across).0.iter().map(|candidate| candidate.unit).collect()
    }

    #[test]
    fn a_log_of_12_ft_in_the_units_that_scanners_write() {
        assert_eq!(units(3658.0, 360.0), [Unit::Millimetre]);
        assert_eq!(units(365.8, 36.0), [Unit::Centimetre, Unit::Inch]);
        assert_eq!(units(3.658, 0.36), [Unit::Metre, Unit::Foot]);
        assert_eq!(units(0.003, 0.0003), []);
    }
}
