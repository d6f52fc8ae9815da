//! How much wood shrinks from green to a moisture content.
//!
//! Two sets of figures, for two uses:
//!
//! * by species, `S = S0 * (1 - M / 30)`: `S0` is the shrinkage from green to ovendry in percent, `M`
//!   the moisture content in percent of the dry mass, and 30 percent the point below which wood
//!   shrinks. Wood Handbook, USDA FPL-GTR-190, 2010, equation 4-9.
//! * for softwood dimension lumber of any species, the straight lines behind the dry and green sizes
//!   of the American Softwood Lumber Standard: D. Green, USDA FPL-RP-489, 1989.

use std::ops::RangeInclusive;

/// Moisture content below which wood shrinks, percent of the dry mass; Wood Handbook,
/// USDA FPL-GTR-190, 2010, chapter 4. Raising it makes every computed target larger.
pub const FIBER_SATURATION_PCT: f64 = 30.0;

/// Shrinkage in thickness that PS 20-70 takes from green to 15 percent moisture, percent; quoted in
/// USDA FPL-RP-489, 1989.
pub const PS20_ASSUMED_THICKNESS_PCT: f64 = 2.35;

/// Shrinkage in width that PS 20-70 takes from green to 15 percent moisture, percent; quoted in
/// USDA FPL-RP-489, 1989.
pub const PS20_ASSUMED_WIDTH_PCT: f64 = 2.80;

/// Moisture contents for which the lines of USDA FPL-RP-489, 1989, were drawn, percent.
const PS20_MOISTURE: RangeInclusive<f64> = 8.0..=19.0;

/// A direction across the grain; along it, shrinkage is too small to matter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Direction {
    /// Across the growth rings: the thickness of a flat-sawn board.
    Radial,
    /// Along the growth rings: the width of a flat-sawn board. The larger of the two.
    Tangential,
}

/// Why a shrinkage cannot be computed.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum ShrinkageFault {
    /// The moisture content is outside what the formula is for.
    #[error("final moisture must be between {least} % and {most} %, got {got} %")]
    Moisture {
        /// What was given, percent.
        got: f64,
        /// The least allowed, percent.
        least: f64,
        /// The most allowed, percent.
        most: f64,
    },
}

/// Shrinkage from green to `moisture_pct`, percent of the green size, for wood that shrinks
/// `total_pct` from green to ovendry.
///
/// # Errors
/// If the moisture content is not between 0 and [`FIBER_SATURATION_PCT`]; at the latter the wood is
/// green and has not shrunk at all.
pub fn shrink_pct(total_pct: f64, moisture_pct: f64) -> Result<f64, ShrinkageFault> {
    let moisture = within(moisture_pct, 0.0..=FIBER_SATURATION_PCT)?;
    Ok(total_pct * (1.0 - moisture / FIBER_SATURATION_PCT))
}

/// Shrinkage in width of softwood dimension lumber, percent: `6.031 - 0.215 M`, USDA FPL-RP-489.
///
/// # Errors
/// If the moisture content is not between 8 and 19 percent.
pub fn ps20_width_pct(moisture_pct: f64) -> Result<f64, ShrinkageFault> {
    Ok(6.031 - 0.215 * within(moisture_pct, PS20_MOISTURE)?)
}

/// Shrinkage in thickness of softwood dimension lumber, percent: `5.062 - 0.181 M`, USDA FPL-RP-489.
///
/// # Errors
/// If the moisture content is not between 8 and 19 percent.
pub fn ps20_thickness_pct(moisture_pct: f64) -> Result<f64, ShrinkageFault> {
    Ok(5.062 - 0.181 * within(moisture_pct, PS20_MOISTURE)?)
}

fn within(moisture_pct: f64, range: RangeInclusive<f64>) -> Result<f64, ShrinkageFault> {
    if range.contains(&moisture_pct) {
        return Ok(moisture_pct);
    }
    Err(ShrinkageFault::Moisture { got: moisture_pct, least: *range.start(), most: *range.end() })
}

#[cfg(test)]
mod tests {
    use super::{
        Direction, PS20_ASSUMED_THICKNESS_PCT, PS20_ASSUMED_WIDTH_PCT, ps20_thickness_pct,
        ps20_width_pct, shrink_pct,
    };
    use crate::{Species, published};

    const PS20_CHECKS: &str = include_str!("../../../data/published/softwood_shrinkage_checks.csv");

    #[track_caller]
    fn check(computed: f64, printed: f64, digits: i32) {
        // Half a unit of the last printed digit, and a little for a tie.
        let allowed = 0.5 * 10_f64.powi(-digits) + 1e-9;
        assert!((computed - printed).abs() <= allowed, "{computed} is not {printed}");
    }

    #[test]
    fn lines_of_the_softwood_standard() {
        published::read(PS20_CHECKS, |row| {
            let moisture = row.number("moisture_pct")?;
            check(ps20_width_pct(moisture).unwrap(), row.number("width_pct")?, 3);
            check(ps20_thickness_pct(moisture).unwrap(), row.number("thickness_pct")?, 3);
            Ok(())
        })
        .unwrap();
        // What the standard assumes at 15 percent is the lines' own value, printed shorter.
        check(ps20_width_pct(15.0).unwrap(), PS20_ASSUMED_WIDTH_PCT, 1);
        check(ps20_thickness_pct(15.0).unwrap(), PS20_ASSUMED_THICKNESS_PCT, 2);
    }

    /// Sugar maple, 1.125 in thick and quarter-sawn, so that the thickness runs along the rings:
    /// 1.125 * 9.9 * (1 - 8 / 30) / 100 = 0.0817 in lost at 8 percent. Northern red oak across the
    /// rings to 7 percent: 4.0 * 23 / 30 = 3.067 percent.
    #[test]
    fn by_species() {
        let total = |name, direction| {
            Species::find(name).unwrap().total_shrinkage_pct(direction).unwrap().value
        };
        let maple = shrink_pct(total("sugar maple", Direction::Tangential), 8.0).unwrap();
        check(1.125 * maple / 100.0, 0.0817, 4);
        let oak = shrink_pct(total("northern red oak", Direction::Radial), 7.0).unwrap();
        check(oak, 3.067, 3);
    }

    #[test]
    fn green_wood_has_not_shrunk_and_ovendry_wood_has_wholly() {
        check(shrink_pct(7.6, 30.0).unwrap(), 0.0, 12);
        check(shrink_pct(7.6, 0.0).unwrap(), 7.6, 12);
        for wrong in [-1.0, 31.0, f64::NAN, f64::INFINITY] {
            assert!(shrink_pct(7.6, wrong).is_err());
        }
        let fault = ps20_width_pct(25.0).unwrap_err();
        assert_eq!(fault.to_string(), "final moisture must be between 8 % and 19 %, got 25 %");
    }
}
