//! Reading a length as a person writes it.
//!
//! # Grammar
//! ```text
//! length   = [dash] number [unit] | [dash] number foot [dash] number [inch]
//! number   = digits | decimal | fraction | digits (blanks | dash | nothing) fraction
//! decimal  = [digits] "." digits
//! fraction = digits "/" digits | ½ and its kin         "nothing" only before ½ and its kin
//! unit     = in, inch, inches, " | ft, foot, feet, ' | mm, cm, m and their long names
//! ```
//! Blanks may stand between any two of these, and upper case is as good as lower. A comma is refused
//! rather than guessed at: `1,200` is a thousand to some and little more than one to others. So is
//! a dash between whole numbers: `12-6` may be a range, or feet and inches.
//!
//! # Exactness
//! A number is kept as a whole number and a fraction, both integers; only when it meets its unit is
//! the fraction rounded, half up, to a whole nanometre. Every 64th of an inch and every decimal of a
//! millimetre to the sixth place comes out exact. Digits past the eighteenth decimal are far below a
//! nanometre and are dropped.

mod cursor;

use crate::Length;
use crate::fault::{LengthFault, Spot};
use cursor::{Cursor, Number, is_dash};

/// The longest that is read: 1000 km. Nothing in a yard comes near it, and sums of thousands of
/// such lengths still fit a [`Length`].
const LONGEST_NM: i128 = 1_000_000_000_000_000;

/// The largest whole number that is read: past [`LONGEST_NM`] in every unit, yet its product with
/// the nanometres of any unit fits an `i128` with room to spare.
const LARGEST: i128 = 1_000_000_000_000_000_000;

/// A unit in which people write lengths.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unit {
    /// 25.4 mm.
    Inch,
    /// 12 in.
    Foot,
    /// A thousandth of a metre.
    Millimetre,
    /// A hundredth of a metre.
    Centimetre,
    /// 1000 mm.
    Metre,
}

impl Unit {
    /// One of it.
    pub const fn length(self) -> Length {
        match self {
            Self::Inch => Length::inches(1),
            Self::Foot => Length::feet(1),
            Self::Millimetre => Length::mm(1),
            Self::Centimetre => Length::mm(10),
            Self::Metre => Length::mm(1000),
        }
    }

    /// Whether it is of the metric system.
    pub const fn is_metric(self) -> bool {
        matches!(self, Self::Millimetre | Self::Centimetre | Self::Metre)
    }

    fn named(name: &str) -> Option<Self> {
        const NAMES: [(Unit, &[&str]); 5] = [
            (Unit::Inch, &["in", "ins", "inch", "inches"]),
            (Unit::Foot, &["ft", "foot", "feet"]),
            (Unit::Millimetre, &["mm", "millimetre", "millimetres", "millimeter", "millimeters"]),
            (Unit::Centimetre, &["cm", "centimetre", "centimetres", "centimeter", "centimeters"]),
            (Unit::Metre, &["m", "metre", "metres", "meter", "meters"]),
        ];
        let is_name = |known: &&str| known.eq_ignore_ascii_case(name);
        NAMES.iter().find(|(_, names)| names.iter().any(is_name)).map(|(unit, _)| *unit)
    }
}

impl Length {
    /// Reads a length as a person writes it: `24 1/2 in`, `24½"`, `12' 4"`, `12 ft`, `3.66 m`,
    /// `620 mm`. A number without a unit is in `bare`, or in inches when it stands after feet. A
    /// leading `-` makes it negative, so that the caller can say what it must be instead.
    ///
    /// # Errors
    /// If the text is not exactly one length; the fault says what was got, where, and what would be
    /// right.
    ///
    /// ```
    /// use pithward_measure::{Length, Unit};
    ///
    /// assert_eq!(Length::parse("12' 4-1/2\"", Unit::Inch)?, Length::sixty_fourths(64 * 148 + 32));
    /// assert_eq!(Length::parse("620", Unit::Millimetre)?, Length::mm(620));
    /// assert!(Length::parse("24,5 in", Unit::Inch).unwrap_err().to_string().contains("comma"));
    /// # Ok::<(), pithward_measure::LengthFault>(())
    /// ```
    pub fn parse(text: &str, bare: Unit) -> Result<Self, LengthFault> {
        Reading::of(text)?.length(text, bare)
    }
}

/// A length as it was written, its bare number still without a unit.
#[derive(Clone, Debug)]
pub(crate) struct Reading {
    negative: bool,
    number: Number,
    /// The unit that was written behind the first number.
    pub(crate) unit: Option<Unit>,
    inches_past_feet: Option<Number>,
}

impl Reading {
    /// Reads a text that is one length and nothing else.
    pub(crate) fn of(text: &str) -> Result<Self, LengthFault> {
        let mut cursor = Cursor::new(text)?;
        let from = cursor.at;
        let negative = cursor.eat(is_dash);
        cursor.skip_blanks();
        let number = cursor.number(from)?;
        cursor.skip_blanks();
        let unit = cursor.unit()?;
        let inches_past_feet =
            if unit == Some(Unit::Foot) { cursor.inches_past_feet()? } else { None };
        cursor.skip_blanks();
        if !cursor.rest().is_empty() {
            return Err(LengthFault::LeftOver(cursor.spot_from(cursor.at)));
        }
        Ok(Self { negative, number, unit, inches_past_feet })
    }

    /// The length, a bare number taken in `bare`; `text` is what was read, for the message.
    pub(crate) fn length(&self, text: &str, bare: Unit) -> Result<Length, LengthFault> {
        let first = self.number.nanometres(self.unit.unwrap_or(bare));
        let second = self.inches_past_feet.as_ref().map_or(0, |n| n.nanometres(Unit::Inch));
        let nm = first + second;
        match i64::try_from(if self.negative { -nm } else { nm }) {
            Ok(exact) if nm <= LONGEST_NM => Ok(Length::nm(exact)),
            _ => Err(LengthFault::TooLarge(Spot::new(text, self.number.at.clone()))),
        }
    }
}

/// Reads a text that is one unit and nothing else.
pub(crate) fn unit_alone(text: &str) -> Result<Unit, LengthFault> {
    let mut cursor = Cursor::new(text)?;
    let unit = cursor.unit()?;
    cursor.skip_blanks();
    match unit {
        Some(unit) if cursor.rest().is_empty() => Ok(unit),
        _ => Err(LengthFault::LeftOver(cursor.spot_from(cursor.at))),
    }
}

#[cfg(test)]
mod tests {
    use std::ops::Range;

    use proptest::prelude::*;

    use super::Unit;
    use crate::{Length, LengthFault};

    /// Reads bare numbers as inches and expects 64ths of an inch.
    #[track_caller]
    fn check(text: &str, sixty_fourths: i64) {
        check_bare(text, Unit::Inch, Length::sixty_fourths(sixty_fourths));
    }

    #[track_caller]
    fn check_bare(text: &str, bare: Unit, expected: Length) {
        assert_eq!(Length::parse(text, bare), Ok(expected), "{text}");
    }

    /// Expects the message to go on so after `... is not a length: `.
    #[track_caller]
    fn check_fault(text: &str, span: Range<usize>, message: &str) {
        let fault = Length::parse(text, Unit::Inch).unwrap_err();
        let got = fault.to_string();
        assert_eq!(got.split_once(" is not a length: ").unwrap().1, message);
        assert_eq!(fault.span(), Some(span));
    }

    #[test]
    fn inches_in_every_dress() {
        let same = "24 1/2 in|24-1/2\"|24.5 in|24½\"|24 ½|24-½ IN|24 1/2|24.50|24 1/2 inches\
            |  24 1/2in. |24 1⁄2″|24 1/2”|24 1/2''|24\u{a0}1/2\tin|024.5|49/2|2' 0.5\"|24–1/2 Inch";
        for text in same.split('|') {
            check(text, 64 * 24 + 32);
        }
        check("3/4", 48);
        check("1 1/8", 72);
        check("4/4", 64);
        check("¾", 48);
        check(".5", 32);
        check("0", 0);
        check("5/64 in", 5);
    }

    #[test]
    fn feet_and_inches_in_every_dress() {
        let same = "12' 4\"|12'4|12'4\"|12 ft 4 in|12ft4in|12 FT. 4 IN.|12’ 4”|12′4″|12'-4\"|12' - 4\"\
            |12 feet 4 inches|12 foot 4|12' 4''|12 1/3 ft|148|12⅓'";
        for text in same.split('|') {
            check(text, 64 * 148);
        }
        check("12ft", 64 * 144);
        check("12' 4-1/2\"", 64 * 148 + 32);
        check("12' 4½", 64 * 148 + 32);
        check("8'6\"", 64 * 102);
        check("12 ft.5 in", 64 * 144 + 32);
        check("0' 11 63/64\"", 64 * 12 - 1);
        check_bare("12", Unit::Foot, Length::feet(12));
        check_bare("12.5", Unit::Foot, Length::inches(150));
        check_bare("12 in", Unit::Foot, Length::inches(12));
    }

    #[test]
    fn metric_lengths() {
        for text in ["3.66 m", "3660 mm", "366 cm", "3660MM", "3.66 Metres", "3660 millimeters"] {
            check_bare(text, Unit::Inch, Length::mm(3660));
        }
        check_bare("620", Unit::Millimetre, Length::mm(620));
        check_bare("62", Unit::Centimetre, Length::mm(620));
        check_bare(".62", Unit::Metre, Length::mm(620));
        check_bare("0.000001 mm", Unit::Inch, Length::nm(1));
    }

    #[test]
    fn a_dash_in_front_is_a_minus() {
        check("-3 in", -192);
        check("- 1/2", -32);
        check("−12' 4\"", -64 * 148);
        check("-0", 0);
    }

    #[test]
    fn what_is_no_whole_nanometre_is_rounded_to_the_nearest() {
        check_bare("1/3 in", Unit::Inch, Length::nm(8_466_667));
        check_bare("-1/3 in", Unit::Inch, Length::nm(-8_466_667));
        check_bare("2/3 in", Unit::Inch, Length::nm(16_933_333));
        check_bare("0.0000005 mm", Unit::Inch, Length::nm(1));
        check_bare("0.00000049999999999999999999999 mm", Unit::Inch, Length::ZERO);
        check(&format!("24.5{} in", "0".repeat(1_000_000)), 64 * 24 + 32);
    }

    #[test]
    fn a_fault_says_what_was_got_and_what_would_be_right() {
        let fault = Length::parse("12 fot", Unit::Inch).unwrap_err();
        let whole = r#""12 fot" is not a length: "fot" is no unit; write in, ft, mm, cm or m"#;
        assert_eq!(fault.to_string(), whole);

        check_fault("1e9", 1..3, r#""e9" is no unit; write in, ft, mm, cm or m"#);
        let no_number = "is no number; write one such as 24 1/2 in, 12 ft 4 in or 620 mm";
        check_fault(" nan ", 1..4, &format!(r#""nan" {no_number}"#));
        check_fault("-", 0..1, &format!(r#""-" {no_number}"#));
        check_fault(
            "24,5 in",
            2..3,
            "it has a comma; write a decimal point (24.5), and thousands without a separator (1200)",
        );
        check_fault(
            "24 1/2 1/2",
            7..10,
            r#""1/2" is left over; write one number with its unit, or feet and then inches"#,
        );
        check_fault("1'200", 2..5, r#"after feet, inches must be less than 12, got "200""#);
        check_fault("3/0 in", 0..3, r#""3/0" divides by zero"#);
        check_fault(
            "1 9/8",
            2..5,
            r#"after a whole number the fraction must be less than 1, got "9/8""#,
        );
        check_fault("1.2.3\"", 0..6, "'1.2.3\"' is no number; write 24, 24.5, 24 1/2 or 3/4");
        check_fault("12\u{7} in", 2..3, r#"it holds the control character "\u{7}""#);
        check_fault("-1000001 m", 0..8, r#""-1000001" is too large; a length is at most 1000 km"#);
        assert_eq!(Length::parse(" \t", Unit::Inch), Err(LengthFault::Empty));
    }

    #[test]
    fn a_dash_between_whole_numbers_is_not_guessed_at() {
        for text in ["12-6", "24 - 1/2", "12 -6", "12' 4-6", "12 ft -"] {
            let fault = Length::parse(text, Unit::Inch).unwrap_err();
            assert!(matches!(fault, LengthFault::LeftOver(_)), "{fault}");
        }
    }

    #[test]
    fn rubbish_is_refused_in_a_short_message() {
        let short = "inf|-|--3|+3|.|5.|1/|/2|1/2/3|1/2.5|1.5/2|1..5|½½|1 200 mm|1_200|3 m 66 cm\
            |12 ft 4 cm|4 in 12 ft|12 in in|in|'|12'''|１２|12 $|$12|12;|0x10|12\0|12\n4|1/0.5|24 ½ ½\
            |1/99999999999999999999|99999999999999999999999999999999999999999/1|1001 km";
        let parts = ["9", "x", " 1", "½", "'", "-", "/", ".", "\"", "1'", "é", "\u{7}", "1 1/2 "];
        let endless = parts.map(|part| part.repeat(1_000_000 / part.len()));
        for text in short.split('|').chain(endless.iter().map(String::as_str)) {
            let fault = Length::parse(text, Unit::Inch).unwrap_err();
            let message = fault.to_string();
            assert!(message.chars().count() < 220, "{message}");
            assert!(!text[fault.span().unwrap()].is_empty(), "{message}");
        }
    }

    /// Strings of what lengths are made of reach far deeper than arbitrary ones.
    fn nearly_a_length() -> impl Strategy<Value = String> {
        let parts = "0|1|9|12|24|/|1/2|3/4|½|.|,|-|−| |'|\"|in|ft|mm|cm|m|x|e|’|”|\t|\0|\
            |99999999999999999999";
        let parts: Vec<&str> = parts.split('|').collect();
        proptest::collection::vec(proptest::sample::select(parts), 0..12)
            .prop_map(|parts| parts.concat())
    }

    proptest! {
        #[test]
        fn no_text_panics_and_every_span_is_in_it(
            text in prop_oneof![any::<String>(), nearly_a_length()],
        ) {
            for bare in [Unit::Inch, Unit::Foot, Unit::Millimetre, Unit::Centimetre, Unit::Metre] {
                if let Err(fault) = Length::parse(&text, bare) {
                    let span = fault.span().unwrap_or(0..0);
                    prop_assert!(text.get(span).is_some(), "{text:?}: {fault}");
                }
            }
        }

        #[test]
        fn every_nanometre_is_read_exactly(nm in -1_000_000_000_000_i64..1_000_000_000_000) {
            let (sign, size) = (if nm < 0 { "-" } else { "" }, nm.unsigned_abs());
            let text = format!("{sign}{}.{:06} mm", size / 1_000_000, size % 1_000_000);
            prop_assert_eq!(Length::parse(&text, Unit::Inch), Ok(Length::nm(nm)));
            let text = format!("{sign}{size}/25400000 in");
            prop_assert_eq!(Length::parse(&text, Unit::Foot), Ok(Length::nm(nm)));
        }
    }
}
