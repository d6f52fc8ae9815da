//! Why a text is not a length, and where in it.

use std::fmt;
use std::ops::Range;

/// Why a text is not a length. Every message quotes what was got and says what would be right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LengthFault {
    /// Nothing was written.
    #[error("a length is missing; write one such as 24 1/2 in, 12 ft 4 in or 620 mm")]
    Empty,
    /// No number where one must be.
    #[error(
        "{} is not a length: {} is no number; write one such as 24 1/2 in, 12 ft 4 in or 620 mm",
        .0.text, .0.part
    )]
    NoNumber(Spot),
    /// Begins as a number, but does not go on as one: `1.`, `1/`, `1.2.3`.
    #[error(
        "{} is not a length: {} is no number; write 24, 24.5, 24 1/2 or 3/4",
        .0.text, .0.part
    )]
    BadNumber(Spot),
    /// A comma, which is a decimal point to some and a thousands separator to others.
    #[error(
        "{} is not a length: it has a comma; write a decimal point (24.5), and thousands without \
         a separator (1200)",
        .0.text
    )]
    Comma(Spot),
    /// A fraction over nothing.
    #[error("{} is not a length: {} divides by zero", .0.text, .0.part)]
    ZeroDenominator(Spot),
    /// A whole number beside a fraction that is not less than one: `24 5/4`.
    #[error(
        "{} is not a length: after a whole number the fraction must be less than 1, got {}",
        .0.text, .0.part
    )]
    FractionPastOne(Spot),
    /// A word or sign that is no unit.
    #[error("{} is not a length: {} is no unit; write in, ft, mm, cm or m", .0.text, .0.part)]
    NoUnit(Spot),
    /// After the feet, as much as a foot or more: `12' 14"`, and `1'200` meant as a thousand.
    #[error(
        "{} is not a length: after feet, inches must be less than 12, got {}",
        .0.text, .0.part
    )]
    InchesPastFoot(Spot),
    /// A whole length, and then more.
    #[error(
        "{} is not a length: {} is left over; write one number with its unit, or feet and then \
         inches",
        .0.text, .0.part
    )]
    LeftOver(Spot),
    /// A character that cannot be seen in print.
    #[error("{} is not a length: it holds the control character {}", .0.text, .0.part)]
    ControlCharacter(Spot),
    /// Past what is ever measured, or past what the arithmetic holds.
    #[error("{} is not a length: {} is too large; a length is at most 1000 km", .0.text, .0.part)]
    TooLarge(Spot),
}

impl LengthFault {
    /// The bytes of the text that are at fault; `None` when there is nothing to point at.
    pub fn span(&self) -> Option<Range<usize>> {
        match self {
            Self::Empty => None,
            Self::NoNumber(spot)
            | Self::BadNumber(spot)
            | Self::Comma(spot)
            | Self::ZeroDenominator(spot)
            | Self::FractionPastOne(spot)
            | Self::NoUnit(spot)
            | Self::InchesPastFoot(spot)
            | Self::LeftOver(spot)
            | Self::ControlCharacter(spot)
            | Self::TooLarge(spot) => Some(spot.at.clone()),
        }
    }
}

/// A place in a text that was refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spot {
    /// The whole text.
    pub text: Excerpt,
    /// The part at fault.
    pub part: Excerpt,
    /// The bytes of the text that the part takes up.
    pub at: Range<usize>,
}

impl Spot {
    /// The part of `text` at the bytes `at`, which must lie on character boundaries.
    pub(crate) fn new(text: &str, at: Range<usize>) -> Self {
        let part = text.get(at.clone()).unwrap_or_default();
        Self { text: Excerpt::new(text), part: Excerpt::new(part), at }
    }
}

/// What someone wrote, short enough and clean enough to quote in a message.
///
/// Displayed in quotation marks that do not occur in it (an inch mark is one), with what cannot be
/// seen written as an escape, and cut off after some [`Excerpt::LONGEST`] characters.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Excerpt(String);

impl Excerpt {
    /// About how many characters are quoted at most; an escape is not broken off.
    pub const LONGEST: usize = 40;

    /// Quotes a text, leaving out the blanks around it.
    pub fn new(text: &str) -> Self {
        let text = if text.trim().is_empty() { text } else { text.trim() };
        let mut clean = String::new();
        let mut chars = text.chars();
        let mut room = Self::LONGEST;
        while room > 0
            && let Some(c) = chars.next()
        {
            let shown = match c {
                '"' | '\'' | '\\' => c.to_string(),
                _ => c.escape_debug().to_string(),
            };
            room = room.saturating_sub(shown.chars().count());
            clean.push_str(&shown);
        }
        if chars.next().is_some() {
            clean.push('…');
        }
        Self(clean)
    }
}

impl fmt::Display for Excerpt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mark = ['"', '\'', '`'].into_iter().find(|mark| !self.0.contains(*mark)).unwrap_or('"');
        write!(f, "{mark}{}{mark}", self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::Excerpt;

    #[track_caller]
    fn check(text: &str, expected: &str) {
        assert_eq!(Excerpt::new(text).to_string(), expected);
    }

    #[test]
    fn an_excerpt_is_quoted_in_marks_that_it_does_not_hold() {
        check("12 fot", "\"12 fot\"");
        check("24\"", "'24\"'");
        check("8'6\"", "`8'6\"`");
        check("`8'6\"", "\"`8'6\"\"");
    }

    #[test]
    fn an_excerpt_is_short_and_can_be_seen() {
        check("  12 fot\n", "\"12 fot\"");
        check("\n", r#""\n""#);
        check("1\u{7}2", r#""1\u{7}2""#);
        check(&"9".repeat(1_000_000), &format!("\"{}…\"", "9".repeat(40)));
        check(&"½".repeat(41), &format!("\"{}…\"", "½".repeat(40)));
    }
}
