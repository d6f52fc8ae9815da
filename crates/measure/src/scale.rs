//! How a length is printed: on the marks of one scale, and in the words of its system.
//!
//! # Rounding
//! A length goes to the nearest mark, a tie to the higher one (so `-1/32 in` on sixteenths is `0 in`),
//! once and before anything is printed: 11.999 in on sixteenths is `12 in`, and long `1 ft`, never
//! `0 ft 12 in`. What is printed reads back as that mark exactly.

use std::fmt;

use crate::Length;
use crate::writing::{Decimal, FOOT, Inches, MM, minus};

/// The marks of a mill's height scale or of a tape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Scale {
    /// 1/8 in.
    Eighths,
    /// 1/16 in.
    Sixteenths,
    /// 1/32 in.
    ThirtySeconds,
    /// 1/64 in.
    SixtyFourths,
    /// 1 mm.
    Millimetres,
    /// 0.5 mm.
    HalfMillimetres,
    /// 0.1 mm.
    TenthMillimetres,
}

impl Scale {
    /// Every scale there is, inches first, coarse before fine.
    pub const ALL: [Self; 7] = [
        Self::Eighths,
        Self::Sixteenths,
        Self::ThirtySeconds,
        Self::SixtyFourths,
        Self::Millimetres,
        Self::HalfMillimetres,
        Self::TenthMillimetres,
    ];

    /// From one mark to the next.
    pub const fn step(self) -> Length {
        match self {
            Self::Eighths => Length::sixty_fourths(8),
            Self::Sixteenths => Length::sixty_fourths(4),
            Self::ThirtySeconds => Length::sixty_fourths(2),
            Self::SixtyFourths => Length::sixty_fourths(1),
            Self::Millimetres => Length::mm(1),
            Self::HalfMillimetres => Length::nm(500_000),
            Self::TenthMillimetres => Length::nm(100_000),
        }
    }

    /// The scale whose marks are exactly `step` apart; `None` if there is none.
    pub fn from_step(step: Length) -> Option<Self> {
        Self::ALL.into_iter().find(|scale| scale.step() == step)
    }

    /// Whether it is in millimetres.
    pub const fn is_metric(self) -> bool {
        matches!(self, Self::Millimetres | Self::HalfMillimetres | Self::TenthMillimetres)
    }

    /// The length with its unit: `24 1/2 in`, `620 mm`, `620.5 mm`.
    ///
    /// ```
    /// use pithward_measure::{Length, Scale};
    ///
    /// assert_eq!(Scale::Sixteenths.show(Length::sixty_fourths(40)).to_string(), "5/8 in");
    /// assert_eq!(Scale::Millimetres.show(Length::mm(620)).to_string(), "620 mm");
    /// ```
    pub fn show(self, length: Length) -> impl fmt::Display {
        self.shown(length, Form::WithUnit)
    }

    /// The length without its unit, for a column whose head names it: `24 1/2`, `620`.
    pub fn bare(self, length: Length) -> impl fmt::Display {
        self.shown(length, Form::Bare)
    }

    /// The length as one speaks of logs and of boards' lengths: `12 ft 4 in`, `12 ft`, `4 in` below
    /// a foot; `3.660 m`, always to the millimetre so that columns line up, and `620 mm` below a
    /// metre.
    ///
    /// ```
    /// use pithward_measure::{Length, Scale};
    ///
    /// assert_eq!(Scale::Eighths.show_long(Length::inches(148)).to_string(), "12 ft 4 in");
    /// assert_eq!(Scale::Millimetres.show_long(Length::mm(3660)).to_string(), "3.660 m");
    /// ```
    pub fn show_long(self, length: Length) -> impl fmt::Display {
        self.shown(length, Form::Long)
    }

    fn shown(self, length: Length, form: Form) -> Shown {
        let step = i128::from(self.step().as_nm());
        let marks = (i128::from(length.as_nm()) + step / 2).div_euclid(step);
        Shown { nm: marks * step, metric: self.is_metric(), form }
    }
}

/// A length on a mark of its scale, ready to print.
#[derive(Clone, Copy, Debug)]
struct Shown {
    nm: i128,
    metric: bool,
    form: Form,
}

#[derive(Clone, Copy, Debug)]
enum Form {
    Bare,
    WithUnit,
    Long,
}

impl fmt::Display for Shown {
    /// Obeys the width and the alignment that the caller asks for, as a number would.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut text = String::new();
        self.write(&mut text)?;
        f.pad(&text)
    }
}

impl Shown {
    fn write(&self, f: &mut impl fmt::Write) -> fmt::Result {
        let nm = self.nm;
        let inches = Inches { nm, joint: ' ' };
        let mm = Decimal { over: nm, under: MM, places: 1, least: 0 };
        match (self.form, self.metric) {
            (Form::Bare, false) => write!(f, "{inches}"),
            (Form::Bare, true) => write!(f, "{mm}"),
            (Form::Long, false) if nm.abs() >= FOOT => {
                write!(f, "{}{} ft", minus(nm), nm.abs() / FOOT)?;
                match nm.abs() % FOOT {
                    0 => Ok(()),
                    past => write!(f, " {} in", Inches { nm: past, joint: ' ' }),
                }
            }
            (Form::Long, true) if nm.abs() >= 1000 * MM => {
                let metres = Decimal { over: nm, under: 1000 * MM, places: 4, least: 3 };
                write!(f, "{metres} m")
            }
            (Form::WithUnit | Form::Long, false) => write!(f, "{inches} in"),
            (Form::WithUnit | Form::Long, true) => write!(f, "{mm} mm"),
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::Scale::{self, *};
    use crate::{Length, Unit};

    /// The length as `show` and as `show_long` print it.
    #[track_caller]
    fn check(scale: Scale, length: Length, shown: &str, long: &str) {
        assert_eq!(scale.show(length).to_string(), shown);
        assert_eq!(scale.show_long(length).to_string(), long);
        let unit = if scale.is_metric() { " mm" } else { " in" };
        assert_eq!(format!("{}{unit}", scale.bare(length)), shown);
    }

    #[test]
    fn fractions_are_reduced_and_long_lengths_are_in_feet() {
        check(Sixteenths, Length::sixty_fourths(64 * 24 + 32), "24 1/2 in", "2 ft 1/2 in");
        check(Sixteenths, Length::sixty_fourths(4), "1/16 in", "1/16 in");
        check(SixtyFourths, Length::sixty_fourths(63), "63/64 in", "63/64 in");
        check(Eighths, Length::inches(148), "148 in", "12 ft 4 in");
        check(Eighths, Length::feet(12), "144 in", "12 ft");
        check(ThirtySeconds, Length::ZERO, "0 in", "0 in");
        check(Sixteenths, Length::sixty_fourths(-32), "-1/2 in", "-1/2 in");
        check(Sixteenths, Length::sixty_fourths(-64 * 148 - 32), "-148 1/2 in", "-12 ft 4 1/2 in");
    }

    #[test]
    fn a_length_goes_to_the_nearest_mark_and_a_tie_up() {
        check(Sixteenths, Length::from_inches_f64(11.999), "12 in", "1 ft");
        check(Eighths, Length::from_inches_f64(143.95), "144 in", "12 ft");
        check(Sixteenths, Length::sixty_fourths(2), "1/16 in", "1/16 in");
        check(Sixteenths, Length::sixty_fourths(-2), "0 in", "0 in");
        check(Sixteenths, Length::nm(-1), "0 in", "0 in");
        check(Millimetres, Length::nm(619_500_000), "620 mm", "620 mm");
        check(Millimetres, Length::nm(999_500_000), "1000 mm", "1.000 m");
    }

    #[test]
    fn metric_lengths_show_no_more_decimals_than_the_scale_has() {
        check(Millimetres, Length::mm(3660), "3660 mm", "3.660 m");
        check(HalfMillimetres, Length::nm(620_500_000), "620.5 mm", "620.5 mm");
        check(HalfMillimetres, Length::mm(620), "620 mm", "620 mm");
        check(HalfMillimetres, Length::nm(3_660_500_000), "3660.5 mm", "3.6605 m");
        check(TenthMillimetres, Length::nm(-38_140_000), "-38.1 mm", "-38.1 mm");
        check(Millimetres, Length::ZERO, "0 mm", "0 mm");
    }

    #[test]
    fn a_column_can_be_aligned() {
        assert_eq!(format!("{:>8}|", Sixteenths.bare(Length::sixty_fourths(96))), "   1 1/2|");
        assert_eq!(format!("{:8}|", Sixteenths.show(Length::inches(3))), "3 in    |");
    }

    #[test]
    fn a_scale_is_known_by_its_step() {
        for scale in Scale::ALL {
            assert_eq!(Scale::from_step(scale.step()), Some(scale));
        }
        assert_eq!(Scale::from_step(Length::mm(2)), None);
        assert_eq!(Scale::from_step(Length::ZERO), None);
    }

    proptest! {
        #[test]
        fn what_is_shown_reads_back_as_the_nearest_mark(
            nm in -100_000_000_000_i64..100_000_000_000,
            scale in proptest::sample::select(Scale::ALL.to_vec()),
        ) {
            let length = Length::nm(nm);
            let mark = Ok(length.round_to(scale.step()));
            let unit = if scale.is_metric() { Unit::Millimetre } else { Unit::Inch };
            prop_assert_eq!(Length::parse(&scale.show(length).to_string(), Unit::Foot), mark.clone());
            prop_assert_eq!(Length::parse(&scale.bare(length).to_string(), unit), mark.clone());
            prop_assert_eq!(Length::parse(&scale.show_long(length).to_string(), Unit::Foot), mark);
        }

        #[test]
        fn any_length_can_be_shown(nm in any::<i64>()) {
            for scale in Scale::ALL {
                prop_assert!(scale.show(Length::nm(nm)).to_string().len() < 40);
                prop_assert!(scale.show_long(Length::nm(nm)).to_string().len() < 40);
            }
        }
    }
}
