//! What the log rules give a log, in board feet.
//!
//! `D` is the diameter inside the bark at the small end in whole inches, `L` the length in whole feet
//! after trim: a log of 8 ft 6 in scales as 8 ft.
//!
//! * **International 1/4-inch.** A section of 4 ft has `0.905 * (0.22 D^2 - 0.71 D)`, none if that is
//!   negative (`D` under 3.3 in), and `D` grows 1/2 in from each section to the next. One to three
//!   odd feet are that share of a section at the small end, and the whole sections then start 1/8 in
//!   per odd foot larger; this way round the unrounded table is met to its last digit. Rounded to 5.
//! * **Scribner Decimal C.** A factor by diameter times `L`, rounded to tens, with exceptions: see
//!   `scribner.rs`. Its tables are complete for `D` of 1 to 50 in and `L` of 4 to 20 ft; nothing else
//!   is scaled here. Longer logs are scaled in two or more lengths.
//! * **Doyle.** `(D - 4)^2 * L / 16`, none under 4 in. Rounded to whole board feet.
//!
//! # Source
//! F. Freese, A collection of log rules, USFS FPL-GTR-1, 1973 (International); USFS National Volume
//! Estimator Library, Scribner subroutine (factors and exceptions); Purdue FNR-191 (Doyle).

use crate::scribner;
use pithward_measure::Length;
use std::fmt;
use std::ops::RangeInclusive;

const INCH: Length = Length::inches(1);
const FOOT: Length = Length::feet(1);

/// A log rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LogRule {
    /// International 1/4-inch.
    International,
    /// Scribner Decimal C.
    Scribner,
    /// Doyle.
    Doyle,
}

impl LogRule {
    /// Every rule.
    pub const ALL: [Self; 3] = [Self::International, Self::Scribner, Self::Doyle];

    /// Diameters that the rule scales, whole inches; the formulas stop where only a slip of the unit
    /// gets to.
    pub fn diameters_in(self) -> RangeInclusive<i64> {
        match self {
            Self::International | Self::Doyle => 1..=120,
            Self::Scribner => 1..=50,
        }
    }

    /// Lengths that the rule scales, whole feet.
    pub fn lengths_ft(self) -> RangeInclusive<i64> {
        match self {
            Self::International | Self::Doyle => 1..=60,
            Self::Scribner => 4..=20,
        }
    }
}

impl fmt::Display for LogRule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::International => "International 1/4-inch",
            Self::Scribner => "Scribner Decimal C",
            Self::Doyle => "Doyle",
        })
    }
}

/// How a diameter becomes whole inches. Agencies differ, so it is a setting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DiameterRounding {
    /// To the nearest inch; a half goes up.
    Nearest,
    /// Always down.
    Down,
}

/// What a rule gives a log.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// The rule.
    pub rule: LogRule,
    /// The diameter that was scaled, whole inches.
    pub diameter_in: i64,
    /// The length that was scaled, whole feet.
    pub length_ft: i64,
    /// Board feet as the rule's own table prints them.
    pub board_feet: i64,
    /// Board feet before that rounding; for Scribner, before its exceptions too.
    pub unrounded_board_feet: f64,
}

/// Why a rule does not scale a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LogRuleFault {
    /// The diameter is outside the rule.
    #[error(
        "{rule} scales small ends of {} in to {} in, got {} in",
        rule.diameters_in().start(),
        rule.diameters_in().end(),
        got.inches_f64()
    )]
    Diameter {
        /// The rule.
        rule: LogRule,
        /// What was given.
        got: Length,
    },
    /// The length is outside the rule.
    #[error(
        "{rule} scales lengths of {} ft to {} ft, got {} ft; scale a longer log in two or more lengths",
        rule.lengths_ft().start(),
        rule.lengths_ft().end(),
        got.feet_f64()
    )]
    Length {
        /// The rule.
        rule: LogRule,
        /// What was given.
        got: Length,
    },
}

/// By how much a log whose butt nobody measured is thicker there than at its small end: 1 in in 8 ft, rounded down to
/// the nanometre.
///
/// # Source
/// The taper that the International 1/4-inch log rule assumes, 1/2 in for every 4 ft of length: F. Freese, A
/// collection of log rules, USFS FPL-GTR-1, 1973; Massachusetts General Laws, chapter 96, section 11A. A larger one
/// promises more wood.
pub fn usual_growth(length: Length) -> Length {
    const INCHES_FOR_ONE_OF_TAPER: i64 = 96;
    Length::nm(length.as_nm() / INCHES_FOR_ONE_OF_TAPER)
}

/// What `rule` gives a log.
///
/// # Errors
/// [`LogRuleFault`] if the diameter, in whole inches, or the length, in whole feet, is outside what
/// the rule scales.
pub fn scale(
    rule: LogRule,
    small_end_inside_bark: Length,
    length: Length,
    rounding: DiameterRounding,
) -> Result<Scale, LogRuleFault> {
    let diameter_in = match rounding {
        DiameterRounding::Nearest => small_end_inside_bark.round_to(INCH),
        DiameterRounding::Down => small_end_inside_bark.floor_to(INCH),
    }
    .div_floor(INCH);
    if !rule.diameters_in().contains(&diameter_in) {
        return Err(LogRuleFault::Diameter { rule, got: small_end_inside_bark });
    }
    let length_ft = length.div_floor(FOOT);
    if !rule.lengths_ft().contains(&length_ft) {
        return Err(LogRuleFault::Length { rule, got: length });
    }
    let (board_feet, unrounded_board_feet) = match rule {
        LogRule::International => {
            let unrounded = international(diameter_in as f64, length_ft);
            (nearest(unrounded / 5.0) * 5, unrounded)
        }
        LogRule::Scribner => scribner::board_feet(diameter_in, length_ft),
        LogRule::Doyle => {
            let unrounded = doyle(diameter_in, length_ft);
            (nearest(unrounded), unrounded)
        }
    };
    Ok(Scale { rule, diameter_in, length_ft, board_feet, unrounded_board_feet })
}

fn international(diameter_in: f64, length_ft: i64) -> f64 {
    let section = |d: f64| (0.905 * (0.22 * d * d - 0.71 * d)).max(0.0);
    let odd_ft = (length_ft % 4) as f64;
    let mut sum = section(diameter_in) * odd_ft / 4.0;
    let mut d = diameter_in + odd_ft / 8.0;
    for _ in 0..length_ft / 4 {
        sum += section(d);
        d += 0.5;
    }
    sum
}

fn doyle(diameter_in: i64, length_ft: i64) -> f64 {
    let slabbed = (diameter_in - 4).max(0);
    (slabbed * slabbed * length_ft) as f64 / 16.0
}

#[allow(
    clippy::cast_possible_truncation,
    reason = "the limits on diameter and length keep every scale far below 2^53"
)]
fn nearest(value: f64) -> i64 {
    value.round() as i64
}

#[cfg(test)]
mod tests {
    use super::{DiameterRounding, LogRule, Scale, international, scale};
    use crate::published;
    use pithward_measure::Length;
    use proptest::prelude::*;

    const VALUES: &str = include_str!("../../../data/published/log_rule_values.csv");
    const CLOSED_FORMS: &str =
        include_str!("../../../data/published/international_closed_forms.csv");

    /// Cells where a table prints another figure than its own rule: rule, inches, feet, printed, ours.
    /// An old printed table gives the 6-in 8-ft log half a ten; the factor method cannot.
    const DIFFER: [(LogRule, i64, i64, i64, i64); 1] = [(LogRule::Scribner, 6, 8, 5, 10)];

    fn scaled(rule: LogRule, diameter_in: i64, length_ft: i64) -> Scale {
        let (diameter, length) = (Length::inches(diameter_in), Length::feet(length_ft));
        scale(rule, diameter, length, DiameterRounding::Nearest).unwrap()
    }

    #[test]
    fn every_cell_of_the_published_table() {
        let mut differ = Vec::new();
        let rows = published::read(VALUES, |row| {
            let (diameter, length) = (row.whole("diameter_in")?, row.whole("length_ft")?);
            let at = format!("{diameter} in, {length} ft");
            for (rule, printed) in [
                (LogRule::International, row.whole("international_bf")?),
                (LogRule::Scribner, row.whole("scribner_bf")?),
            ] {
                let ours = scaled(rule, diameter, length).board_feet;
                if ours != printed {
                    differ.push((rule, diameter, length, printed, ours));
                }
            }
            let unrounded = scaled(LogRule::International, diameter, length).unrounded_board_feet;
            let printed = row.number("international_unrounded_bf")?;
            assert!((unrounded - printed).abs() <= 0.005 + 1e-9, "{at}: {unrounded}");
            let doyle = scaled(LogRule::Doyle, diameter, length);
            let printed = row.number("doyle_unrounded_bf")?;
            assert!((doyle.unrounded_board_feet - printed).abs() < 1e-9, "{at}: {doyle:?}");
            assert!((doyle.board_feet as f64 - printed).abs() <= 0.5, "{at}: {doyle:?}");
            Ok(())
        })
        .unwrap();
        assert_eq!(rows.len(), 90);
        assert_eq!(differ, DIFFER);
    }

    /// Summing the sections by hand gives the printed coefficients exactly, to their two decimals.
    #[test]
    fn international_in_closed_form() {
        published::read(CLOSED_FORMS, |row| {
            let (a, b, c) = (row.number("a")?, row.number("b")?, row.number("c")?);
            for d in 4..=40 {
                let d = f64::from(d);
                let closed = 0.905 * (a * d * d + b * d + c);
                let ours = international(d, row.whole("length_ft")?);
                assert!((ours - closed).abs() <= 1e-9, "{d} in: {ours} {closed}");
            }
            Ok(())
        })
        .unwrap();
    }

    /// A 12-ft log by the section formula and by Doyle, to whole board feet.
    #[test]
    fn twelve_foot_logs() {
        for (diameter, doyle, international) in [
            (8, 12, 27),
            (10, 27, 46),
            (12, 48, 69),
            (14, 75, 98),
            (16, 108, 131),
            (18, 147, 169),
            (20, 192, 212),
            (24, 300, 311),
        ] {
            assert_eq!(scaled(LogRule::Doyle, diameter, 12).board_feet, doyle);
            let unrounded = scaled(LogRule::International, diameter, 12).unrounded_board_feet;
            assert_eq!(format!("{unrounded:.0}"), international.to_string());
        }
    }

    #[test]
    fn nothing_under_four_inches_by_doyle() {
        for diameter in 1..=4 {
            assert_eq!(scaled(LogRule::Doyle, diameter, 16).board_feet, 0);
        }
        assert_eq!(scaled(LogRule::Doyle, 5, 16).board_feet, 1);
        assert_eq!(scaled(LogRule::International, 1, 4).board_feet, 0);
    }

    #[test]
    fn whole_inches_and_whole_feet() {
        let check = |diameter, rounding, expected| {
            let length = Length::feet(8) + Length::inches(11);
            let scale = scale(LogRule::Doyle, Length::sixty_fourths(diameter), length, rounding);
            let scale = scale.unwrap();
            assert_eq!((scale.diameter_in, scale.length_ft), (expected, 8));
        };
        check(12 * 64 + 31, DiameterRounding::Nearest, 12);
        check(12 * 64 + 32, DiameterRounding::Nearest, 13);
        check(12 * 64 + 63, DiameterRounding::Down, 12);
    }

    #[test]
    fn a_log_outside_the_rule_is_told_the_limits() {
        let check = |diameter, length, expected: &str| {
            let rounding = DiameterRounding::Nearest;
            let fault = scale(LogRule::Scribner, diameter, length, rounding).unwrap_err();
            assert_eq!(fault.to_string(), expected);
        };
        check(
            Length::inches(51),
            Length::feet(12),
            "Scribner Decimal C scales small ends of 1 in to 50 in, got 51 in",
        );
        check(
            Length::inches(12),
            Length::feet(24),
            "Scribner Decimal C scales lengths of 4 ft to 20 ft, got 24 ft; scale a longer log in \
             two or more lengths",
        );
        for rule in LogRule::ALL {
            for (diameter, length) in [(0, 12), (-12, 12), (12, 0), (12, -8), (400, 12), (12, 200)]
            {
                let (diameter, length) = (Length::inches(diameter), Length::feet(length));
                assert!(scale(rule, diameter, length, DiameterRounding::Down).is_err());
            }
        }
    }

    proptest! {
        /// A longer log never scales less, nor a thicker one; except that Scribner's exceptions give
        /// 6 in less than 5 in at some lengths.
        #[test]
        fn prop_a_larger_log_scales_no_less(diameter in 1_i64..50, length in 4_i64..20) {
            for rule in LogRule::ALL {
                let small = scaled(rule, diameter, length);
                prop_assert!(small.board_feet >= 0);
                let thicker = scaled(rule, diameter + 1, length).board_feet;
                let excepted = rule == LogRule::Scribner && diameter == 5;
                prop_assert!(thicker >= small.board_feet || excepted);
                prop_assert!(scaled(rule, diameter, length + 1).board_feet >= small.board_feet);
            }
        }
    }
}
