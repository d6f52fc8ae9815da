//! The factor method of Scribner Decimal C.
//!
//! The rule was drawn, not computed: boards on the ends of logs, counted. The Forest Service keeps it
//! as a factor for every inch of diameter `D`, in tens of board feet for a length of `L` feet,
//! ```text
//! tens = trunc((L * factor(D) + 5) / 10) + exception(L, D)
//! ```
//! and a table of exceptions of one ten up or down, where the factor misses the drawing. From 6 to
//! 11 in, logs of 16 ft and more have factors of their own.
//!
//! # Source
//! USFS National Volume Estimator Library, Scribner subroutine.

use crate::published::{self, TableFault};
use std::collections::BTreeMap;
use std::sync::LazyLock;

const FACTORS: &str = include_str!("../../../data/published/scribner_factors.csv");
const EXCEPTIONS: &str = include_str!("../../../data/published/scribner_exceptions.csv");

static SCRIBNER: LazyLock<Scribner> = LazyLock::new(|| {
    parse().expect("the tables are embedded, and `the_embedded_tables_parse` proves them sound")
});

/// Lengths from which the second column of factors holds, where it has a figure.
const SECOND_FACTOR_FROM_FT: i64 = 16;

/// Factors are whole thousandths, so that no truncation hangs on the last digit of an `f64`.
struct Scribner {
    /// By diameter in inches: the factor, and the one for logs of 16 ft and more.
    factors: BTreeMap<i64, (i64, i64)>,
    /// By length in feet and diameter in inches: tens of board feet to add.
    exceptions: BTreeMap<(i64, i64), i64>,
}

/// Board feet, in whole tens; and before rounding and exceptions. Zero for a diameter that has no
/// factor.
pub(crate) fn board_feet(diameter_in: i64, length_ft: i64) -> (i64, f64) {
    let (short, long) = SCRIBNER.factors.get(&diameter_in).copied().unwrap_or_default();
    let factor = if length_ft < SECOND_FACTOR_FROM_FT { short } else { long };
    let thousandths = length_ft * factor;
    let exception = SCRIBNER.exceptions.get(&(length_ft, diameter_in)).copied().unwrap_or(0);
    let tens = (thousandths + 5_000).div_euclid(10_000) + exception;
    (tens * 10, thousandths as f64 / 1_000.0)
}

fn parse() -> Result<Scribner, TableFault> {
    let factors = published::read(FACTORS, |row| {
        let short = row.cell("factor", "a factor", thousandths)?;
        let long = row.open_cell("factor_16_31_ft", "a factor", thousandths)?.unwrap_or(short);
        Ok((row.whole("diameter_in")?, (short, long)))
    })?;
    let exceptions = published::read(EXCEPTIONS, |row| {
        Ok(((row.whole("length_ft")?, row.whole("diameter_in")?), row.whole("add_tens_bf")?))
    })?;
    Ok(Scribner {
        factors: factors.into_iter().collect(),
        exceptions: exceptions.into_iter().collect(),
    })
}

/// A decimal of at most three places, in thousandths.
fn thousandths(cell: &str) -> Option<i64> {
    let (whole, decimals) = cell.split_once('.').unwrap_or((cell, ""));
    if decimals.len() > 3 {
        return None;
    }
    format!("{whole}{decimals:0<3}").parse().ok()
}

#[cfg(test)]
mod tests {
    use super::{board_feet, parse, thousandths};
    use crate::LogRule;

    #[test]
    fn the_embedded_tables_parse() {
        let scribner = parse().unwrap();
        assert!(scribner.factors.keys().copied().eq(LogRule::Scribner.diameters_in()));
        assert_eq!(scribner.exceptions.len(), 36);
        let lengths = LogRule::Scribner.lengths_ft();
        assert!(scribner.exceptions.keys().all(|(length, _)| lengths.contains(length)));
    }

    #[test]
    fn decimals_are_exact() {
        assert_eq!(thousandths("1.07"), Some(1_070));
        assert_eq!(thousandths("116.99"), Some(116_990));
        assert_eq!(thousandths("50.0"), Some(50_000));
        assert_eq!(thousandths("1.2345"), None);
        assert_eq!(thousandths("x"), None);
    }

    #[test]
    fn the_second_column_and_the_exceptions_count() {
        assert_eq!(board_feet(10, 15).0, 50); // 46.89
        assert_eq!(board_feet(10, 16).0, 60); // 56.672, not 50.016
        assert_eq!(board_feet(24, 8).0, 210); // 201.744, and one ten more
    }

    #[test]
    fn nothing_is_scaled_below_nothing() {
        for diameter in LogRule::Scribner.diameters_in() {
            for length in LogRule::Scribner.lengths_ft() {
                assert!(board_feet(diameter, length).0 >= 0, "{diameter} in, {length} ft");
            }
        }
    }
}
