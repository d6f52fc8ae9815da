//! The digits of a length: inches with a fraction, or decimals.
//!
//! Nanometres are `i128` here, so that rounding the longest length up to a step cannot overflow.

use std::fmt;

/// Nanometres in an inch.
pub(crate) const INCH: i128 = 25_400_000;
/// Nanometres in a foot.
pub(crate) const FOOT: i128 = 12 * INCH;
/// Nanometres in a millimetre.
pub(crate) const MM: i128 = 1_000_000;

/// Enough decimals of an inch to read back the same nanometre: the eighth is worth 0.254 nm.
const INCH_DECIMALS: usize = 8;

/// Inches as a whole number and a reduced fraction, `24 1/2`; in decimals, `2.1`, when they are no
/// whole number of 64ths, as few as read back the same.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Inches {
    pub(crate) nm: i128,
    /// What stands between the whole number and the fraction.
    pub(crate) joint: char,
}

impl fmt::Display for Inches {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let size = self.nm.abs();
        if size * 64 % INCH != 0 {
            return write!(f, "{}", shortest_decimals(self.nm));
        }
        f.write_str(minus(self.nm))?;
        let (whole, over) = (size / INCH, size % INCH * 64 / INCH);
        if over == 0 {
            return write!(f, "{whole}");
        }
        if whole > 0 {
            write!(f, "{whole}{}", self.joint)?;
        }
        let common = 1 << over.trailing_zeros();
        write!(f, "{}/{}", over / common, 64 / common)
    }
}

fn shortest_decimals(nm: i128) -> Decimal {
    let reads_back = |places: &usize| {
        let ten = ten_to(*places);
        round_div(round_div(nm.abs() * ten, INCH) * INCH, ten) == nm.abs()
    };
    let places = (1..INCH_DECIMALS).find(reads_back).unwrap_or(INCH_DECIMALS);
    Decimal { over: nm, under: INCH, places, least: 0 }
}

/// `over / under` in decimals, rounded half away from zero to `places`, of which `least` are shown
/// even when they are zeros.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Decimal {
    pub(crate) over: i128,
    pub(crate) under: i128,
    pub(crate) places: usize,
    pub(crate) least: usize,
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let ten = ten_to(self.places);
        let shown = round_div(self.over.abs() * ten, self.under);
        if shown > 0 {
            f.write_str(minus(self.over))?;
        }
        write!(f, "{}", shown / ten)?;
        let digits = format!("{:0places$}", shown % ten, places = self.places);
        let kept = digits.trim_end_matches('0').len().max(self.least);
        match digits.get(..kept) {
            Some(digits) if kept > 0 && self.places > 0 => write!(f, ".{digits}"),
            _ => Ok(()),
        }
    }
}

/// The sign of a length in print.
pub(crate) fn minus(nm: i128) -> &'static str {
    if nm < 0 { "-" } else { "" }
}

fn ten_to(places: usize) -> i128 {
    (0..places).fold(1, |ten, _| ten * 10)
}

/// The nearest whole number to `over / under`, neither of them negative, a tie up.
fn round_div(over: i128, under: i128) -> i128 {
    (over + under / 2) / under
}

#[cfg(test)]
mod tests {
    use super::{Decimal, Inches};

    #[track_caller]
    fn check_inches(nm: i128, expected: &str) {
        assert_eq!(Inches { nm, joint: '-' }.to_string(), expected);
    }

    #[test]
    fn inches_are_fractions_when_they_can_be() {
        check_inches(0, "0");
        check_inches(396_875, "1/64");
        check_inches(12_700_000, "1/2");
        check_inches(-63_500_000, "-2-1/2");
        check_inches(53_340_000, "2.1");
        check_inches(8_466_667, "0.33333335");
        check_inches(-1, "-0.00000004");
    }

    #[test]
    fn decimals_end_at_the_last_that_counts() {
        let check = |over, least, expected: &str| {
            assert_eq!(Decimal { over, under: 1000, places: 4, least }.to_string(), expected);
        };
        check(3660, 0, "3.66");
        check(3660, 3, "3.660");
        check(3000, 0, "3");
        check(-3500, 1, "-3.5");
        check(0, 0, "0");
    }
}
