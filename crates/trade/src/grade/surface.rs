//! The surface measure of a board: the square feet of its face, as the trade rounds them.
//!
//! ```text
//! SM = width in inches and fractions x length in whole feet / 12, to the nearest whole number
//! ```
//! The fraction of a foot is dropped first. Exact: no floating point.
//!
//! # Source
//! Rules of the National Hardwood Lumber Association as told in E. Wengert's fact sheet on grading; worked
//! examples in `data/published/surface_measure_examples.csv`. What becomes of an exact half is a setting: a
//! dealer's note rounds it up, while from memory a tally rounds the first up and the next down. [`Half::Up`] is
//! what is taken when nothing is said.

use pithward_measure::Length;

/// What becomes of an exact half of a square foot.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Half {
    /// Counted as a whole one.
    #[default]
    Up,
    /// Dropped.
    Down,
}

/// Surface measure of a board, square feet; 0 where it has no width or is under a foot long.
pub fn surface_measure(width: Length, length: Length, half: Half) -> i64 {
    let feet = i128::from(whole_feet(length));
    let (inches, foot) =
        (i128::from(width.as_nm().max(0)) * feet, 12 * i128::from(Length::inches(1).as_nm()));
    let (whole, rest) = (inches / foot, 2 * (inches % foot));
    let up = rest > foot || (rest == foot && half == Half::Up);
    i64::try_from(whole + i128::from(up)).unwrap_or(i64::MAX)
}

/// Whole feet of a length, the fraction dropped.
pub fn whole_feet(length: Length) -> i64 {
    length.max(Length::ZERO).div_floor(Length::feet(1))
}

#[cfg(test)]
mod tests {
    use super::{Half, surface_measure, whole_feet};
    use crate::published::{inches, number, read};
    use pithward_measure::Length;

    const EXAMPLES: &str = include_str!("../../../../data/published/surface_measure_examples.csv");

    #[test]
    fn the_published_examples_agree() {
        let mut seen = 0;
        read(EXAMPLES, |row| {
            let width = row.cell("width_in", "inches", inches)?;
            let length = row.cell("length", "feet and inches", |cell| {
                let (feet, rest) = cell.split_once(" ft")?;
                let inches = rest.trim().strip_suffix(" in").map_or(Some(0), |n| n.parse().ok())?;
                Some(Length::feet(feet.parse().ok()?) + Length::inches(inches))
            })?;
            let raw = row.cell("raw_SM", "a number", number)?;
            let ours = width.inches_f64() * whole_feet(length) as f64 / 12.0;
            assert!((ours - raw).abs() < 0.0006, "{ours}, printed {raw}");
            assert_eq!(surface_measure(width, length, Half::Up), row.whole("SM")?);
            seen += 1;
            Ok(())
        })
        .unwrap();
        assert_eq!(seen, 6);
    }

    #[test]
    fn a_half_goes_where_the_setting_says_and_nothing_else_does() {
        let [width, length] = [Length::sixty_fourths(9 * 64 + 32), Length::feet(12)];
        assert_eq!(surface_measure(width, length, Half::Up), 10);
        assert_eq!(surface_measure(width, length, Half::Down), 9);
        for (off, measure) in [(-1, 9), (1, 10)] {
            for half in [Half::Up, Half::Down] {
                assert_eq!(surface_measure(width + Length::nm(off), length, half), measure);
            }
        }
        assert_eq!(surface_measure(width, Length::inches(13 * 12) - Length::nm(1), Half::Down), 9);
        assert_eq!(surface_measure(-width, length, Half::Up), 0);
        assert_eq!(surface_measure(width, -length, Half::Up), 0);
        assert!(surface_measure(Length::MAX, Length::MAX, Half::Up) > 0);
    }
}
