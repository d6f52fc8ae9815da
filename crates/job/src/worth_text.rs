//! Amounts and the worth of a piece as a person writes them: `0.60`, `3.50 each`, `0.80 per bf`.
//!
//! Amounts are exact: whole millionths, read digit by digit.

use pithward_measure::Excerpt;

use crate::fault::{FaultKind, Misread};
use crate::log_job::PieceWorth;

/// Places behind the point of an amount.
const PLACES: usize = 6;

/// The least that a piece or a board foot can be worth, millionths; less would not outweigh the work in any unit.
pub(crate) const LEAST_WORTH: i64 = 10_000;
/// The most, a million of the unit; more is a slip of the pen.
pub(crate) const GREATEST_WORTH: i64 = 1_000_000_000_000;

const AMOUNT_HELP: &str = "write digits and a point, with six places behind it at most, as in 0.60";
const WORTH_HELP: &str = "write what a piece is worth, as in \"3.50 each\", or a board foot, as in \"0.80 per bf\"; or \"by grade\"";
const EXTRA_HELP: &str = "write \"welcome\" (worth as much as within the count), \"no\", or what one is worth, as in \"2.00 each\" or \"0.40 per bf\"";

/// Reads an amount within limits, in millionths.
pub(crate) fn amount(text: &str, least: i64, greatest: i64) -> Result<i64, Misread> {
    let got = || Excerpt::new(text);
    let Some(amount) = millionths(text.trim()) else {
        return Err(Misread::new(FaultKind::NoAmount { got: got() }, 0..0, AMOUNT_HELP));
    };
    match amount {
        Some(amount) if (least..=greatest).contains(&amount) => Ok(amount),
        _ => {
            let kind = FaultKind::AmountRange { least, greatest, got: got() };
            Err(Misread::new(kind, 0..0, AMOUNT_HELP))
        }
    }
}

/// Reads what a piece is worth; `least` where it may be nothing.
fn worth(text: &str, least: i64, help: &'static str) -> Result<PieceWorth, Misread> {
    let trimmed = text.trim_end();
    let from = trimmed.len() - trimmed.trim_start().len();
    let end = trimmed[from..].find(char::is_whitespace).map_or(trimmed.len(), |at| from + at);
    let by: fn(i64) -> PieceWorth = match words(&trimmed[end..]).as_str() {
        "each" | "a piece" | "per piece" => PieceWorth::Piece,
        "per bf" | "a bf" | "per board foot" | "a board foot" => PieceWorth::BoardFoot,
        _ => {
            let kind = FaultKind::NoWorth { got: Excerpt::new(text) };
            return Err(Misread::new(kind, 0..0, help));
        }
    };
    match amount(&trimmed[from..end], least, GREATEST_WORTH) {
        Ok(amount) => Ok(by(amount)),
        Err(Misread { kind, .. }) => Err(Misread { kind, span: from..end, help: help.into() }),
    }
}

/// Reads what a piece within the count is worth.
pub(crate) fn within(text: &str) -> Result<PieceWorth, Misread> {
    worth(text, LEAST_WORTH, WORTH_HELP)
}

/// Whether a text says that boards are paid by their grade.
pub(crate) fn is_by_grade(text: &str) -> bool {
    words(text) == "by grade"
}

/// Reads what a piece beyond the count is worth; `None` where none is welcome. `within` is what one within it is worth.
pub(crate) fn beyond(text: &str) -> Result<Extra, Misread> {
    match words(text).as_str() {
        "welcome" | "yes" => Ok(Extra::AsWithin),
        "no" => Ok(Extra::No),
        _ => worth(text, 0, EXTRA_HELP).map(Extra::Worth),
    }
}

/// What a piece beyond the count is worth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Extra {
    No,
    AsWithin,
    Worth(PieceWorth),
}

/// Small letters, with one blank between words.
fn words(text: &str) -> String {
    text.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>().join(" ")
}

/// Whole millionths: outside, whether it is an amount at all; inside, whether it can be held.
fn millionths(text: &str) -> Option<Option<i64>> {
    let (negative, plain) = match text.strip_prefix('-') {
        Some(plain) => (true, plain),
        None => (false, text),
    };
    let (whole, places) = plain.split_once('.').unwrap_or((plain, "0"));
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    if !digits(whole) || !digits(places) || places.len() > PLACES {
        return None;
    }
    let places = format!("{places:0<PLACES$}");
    let amount = format!("{whole}{places}").parse::<i64>().ok();
    Some(amount.map(|amount| if negative { -amount } else { amount }))
}

#[cfg(test)]
mod tests {
    use super::{Extra, GREATEST_WORTH, LEAST_WORTH, amount, beyond, within};
    use crate::log_job::PieceWorth;
    use proptest::prelude::*;

    #[test]
    fn amounts_are_exact() {
        for (text, millionths) in
            [("0.60", 600_000), (" 45 ", 45_000_000), ("0.000001", 1), ("1000000", GREATEST_WORTH)]
        {
            assert_eq!(amount(text, 0, GREATEST_WORTH).unwrap(), millionths);
        }
        for (text, said) in [
            ("", "is no amount"),
            (".5", "is no amount"),
            ("1.", "is no amount"),
            ("1,50", "is no amount"),
            ("1e3", "is no amount"),
            ("0.0000001", "is no amount"),
            ("nan", "is no amount"),
            ("$3", "is no amount"),
            ("1000000.01", "must be between 0 and 1000000"),
            ("99999999999999999999999", "must be between 0 and 1000000"),
            ("-0.5", "must be between 0 and 1000000, got \"-0.5\""),
        ] {
            let fault = amount(text, 0, GREATEST_WORTH).unwrap_err();
            assert!(fault.kind.to_string().contains(said), "{text}: {}", fault.kind);
        }
    }

    #[test]
    fn worth_by_the_piece_and_by_the_board_foot() {
        for text in ["3.50 each", " 3.5  EACH", "3.5 a piece", "3.5 per piece"] {
            assert_eq!(within(text).unwrap(), PieceWorth::Piece(3_500_000));
        }
        for text in ["0.80 per bf", "0.8 per board foot", "0.8 a bf"] {
            assert_eq!(within(text).unwrap(), PieceWorth::BoardFoot(800_000));
        }
        for (text, at) in [("3.5", ""), ("each", ""), ("3,5 each", "3,5"), ("0 each", "0")] {
            let fault = within(text).unwrap_err();
            assert_eq!(&text[fault.span], at, "{}", fault.kind);
        }
        assert_eq!(beyond("Welcome").unwrap(), Extra::AsWithin);
        assert_eq!(beyond("no").unwrap(), Extra::No);
        assert_eq!(beyond("0 each").unwrap(), Extra::Worth(PieceWorth::Piece(0)));
        assert!(beyond("maybe").is_err());
        assert!(within("0.01 each").is_ok_and(|worth| worth.of(1) == LEAST_WORTH));
    }

    proptest! {
        #[test]
        fn prop_no_text_panics(text in prop_oneof![any::<String>(), "[0-9. -]{0,9}(each|per bf|x)?"]) {
            for read in [within(&text).err(), beyond(&text).err()].into_iter().flatten() {
                prop_assert!(text.get(read.span).is_some());
            }
        }
    }
}
