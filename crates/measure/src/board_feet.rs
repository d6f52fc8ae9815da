//! The board foot, the unit in which lumber is tallied.
//!
//! A board foot is 144 cubic inches of lumber: 1 in thick, 12 in wide and 1 ft long. It is counted
//! on the **named** (nominal) size, whatever the piece was sawn or dressed to, and lumber named
//! under 1 in thick counts as 1 in. So these functions tally; they measure no wood. Wood has
//! volumes, and they come from its real shape.
//!
//! # Formula
//! ```text
//! bf = max(t, 1 in) * w * l / 144 in³
//! ```
//! `t` named thickness, `w` named width, `l` length.
//!
//! # Source
//! NIST Handbook 130, Uniform Regulation for the Method of Sale of Commodities, section 2.12
//! (hardwood lumber: 144 cubic inches; seen as quoted elsewhere, not in the handbook), and Tennessee
//! Rules 0080-07-07-.05, whose Table 3 the tests check.

use crate::Length;

/// What lumber named thinner than this counts as.
const THINNEST_COUNTED: Length = Length::inches(1);

/// Cubic inches in a board foot.
const CUBIC_INCHES: f64 = 144.0;

/// Cubic nanometres in a millionth of a board foot: `144 * 25_400_000^3 / 1_000_000`.
const CUBIC_NM_PER_MILLIONTH: i128 = 144 * 25_400_000 * 25_400_000 * 25_400_000 / 1_000_000;

/// Board feet of one piece of a **named** thickness, width and length.
///
/// ```
/// use pithward_measure::{Length, board_feet};
///
/// assert_eq!(board_feet(Length::inches(2), Length::inches(6), Length::feet(12)), 12.0);
/// // 3/4 in counts as 1 in.
/// assert_eq!(board_feet(Length::sixty_fourths(48), Length::inches(12), Length::feet(1)), 1.0);
/// ```
pub fn board_feet(thickness: Length, width: Length, length: Length) -> f64 {
    let counted = thickness.max(THINNEST_COUNTED);
    counted.inches_f64() * width.inches_f64() * length.inches_f64() / CUBIC_INCHES
}

/// Millionths of a board foot of one piece of a **named** thickness, width and length, rounded to
/// the nearest: the exact twin of [`board_feet`], for sums that must not depend on their order.
///
/// Past what an `i64` holds, some 9 billion board feet, it stays at the largest.
pub fn board_feet_micro(thickness: Length, width: Length, length: Length) -> i64 {
    let [t, w, l] =
        [thickness.max(THINNEST_COUNTED), width, length].map(|side| i128::from(side.as_nm()));
    // Two sides fit an i128 at their longest; the third may not.
    let cubic_nm = (t * w).saturating_mul(l);
    let rounded = cubic_nm.saturating_add(CUBIC_NM_PER_MILLIONTH / 2);
    let millionths = rounded.div_euclid(CUBIC_NM_PER_MILLIONTH);
    i64::try_from(millionths).unwrap_or(if millionths < 0 { i64::MIN } else { i64::MAX })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{board_feet, board_feet_micro};
    use crate::Length;

    /// Thickness and width in inches, length in feet, board feet as printed to `within`.
    #[track_caller]
    fn check(t: i64, w: i64, l: i64, printed: f64, within: f64) {
        let (t, w, l) = (Length::inches(t), Length::inches(w), Length::feet(l));
        assert!((board_feet(t, w, l) - printed).abs() <= within, "{}", board_feet(t, w, l));
        let micro = board_feet_micro(t, w, l) as f64 / 1e6;
        assert!((micro - printed).abs() <= within, "{micro}");
    }

    #[test]
    fn worked_examples_agree() {
        check(1, 12, 1, 1.0, 0.0);
        // An engineering reference page poses the first, a sawyer's page prints the second.
        check(2, 4, 14, 9.333, 0.0005);
        check(2, 8, 16, 21.33, 0.005);
    }

    /// Tennessee Rules 0080-07-07-.05 Table 3, 2 in thick: length in feet, then width in inches and
    /// board feet as printed, to one decimal.
    #[test]
    fn the_tennessee_table_agrees_to_its_printed_digit() {
        let table: [(i64, &[(i64, f64)]); 3] = [
            (6, &[(4, 4.0), (6, 6.0), (8, 8.0), (10, 10.0), (12, 12.0)]),
            (7, &[(4, 4.7), (6, 7.0), (8, 9.3), (10, 11.7), (12, 14.0)]),
            (8, &[(4, 5.3), (6, 8.0), (8, 10.7), (10, 13.3)]),
        ];
        for (l, row) in table {
            for (w, printed) in row {
                check(2, *w, l, *printed, 0.05);
            }
        }
    }

    #[test]
    fn under_an_inch_counts_as_an_inch() {
        let (w, l) = (Length::inches(6), Length::feet(10));
        assert_eq!(board_feet_micro(Length::sixty_fourths(40), w, l), 5_000_000);
        assert_eq!(board_feet_micro(Length::sixty_fourths(80), w, l), 6_250_000);
    }

    #[test]
    fn millionths_are_rounded_to_the_nearest() {
        // 2x4 of 1 ft is 2/3 of a board foot.
        let third = |t| board_feet_micro(Length::inches(t), Length::inches(4), Length::feet(1));
        assert_eq!((third(1), third(2)), (333_333, 666_667));
    }

    proptest! {
        #[test]
        fn the_exact_twin_agrees(
            t in 0..1_500_000_000_i64, w in 0..1_500_000_000_i64, l in 0..30_000_000_000_i64,
        ) {
            let (t, w, l) = (Length::nm(t), Length::nm(w), Length::nm(l));
            let micro = board_feet_micro(t, w, l) as f64;
            prop_assert!((board_feet(t, w, l) * 1e6 - micro).abs() <= 0.51);
        }

        #[test]
        fn no_lengths_overflow(t in any::<i64>(), w in any::<i64>(), l in any::<i64>()) {
            let micro = board_feet_micro(Length::nm(t), Length::nm(w), Length::nm(l));
            prop_assert!(w == 0 || l == 0 || (micro < 0) <= ((w < 0) != (l < 0)));
        }
    }
}
