//! The parts of a length, one after the other: numbers, units, and what joins them.

use std::ops::Range;

use super::{LARGEST, Unit};
use crate::Length;
use crate::fault::{LengthFault, Spot};

/// Decimals that are looked at; ten to this power is [`LARGEST`].
const DECIMALS: usize = 18;

/// The fractions that are one character: sign, upper number, lower number.
const COMMON_FRACTIONS: [(char, i128, i128); 18] = [
    ('½', 1, 2),
    ('¼', 1, 4),
    ('¾', 3, 4),
    ('⅛', 1, 8),
    ('⅜', 3, 8),
    ('⅝', 5, 8),
    ('⅞', 7, 8),
    ('⅓', 1, 3),
    ('⅔', 2, 3),
    ('⅕', 1, 5),
    ('⅖', 2, 5),
    ('⅗', 3, 5),
    ('⅘', 4, 5),
    ('⅙', 1, 6),
    ('⅚', 5, 6),
    ('⅐', 1, 7),
    ('⅑', 1, 9),
    ('⅒', 1, 10),
];

/// `whole + over / under`, none of them negative, `under` at least 1, all at most [`LARGEST`].
#[derive(Clone, Debug)]
pub(super) struct Number {
    whole: i128,
    over: i128,
    under: i128,
    pub(super) at: Range<usize>,
}

impl Number {
    pub(super) fn nanometres(&self, unit: Unit) -> i128 {
        let nm = i128::from(unit.length().as_nm());
        self.whole * nm + (self.over * nm + self.under / 2) / self.under
    }
}

/// A place in the text; it only ever moves forward by whole characters.
pub(super) struct Cursor<'a> {
    /// The text as it was given, for the spans.
    text: &'a str,
    /// Where the text ends, the blanks behind it left out.
    end: usize,
    pub(super) at: usize,
}

impl<'a> Cursor<'a> {
    /// Stands on the first character that is no blank.
    pub(super) fn new(text: &'a str) -> Result<Self, LengthFault> {
        let end = text.trim_end().len();
        let mut cursor = Self { text, end, at: 0 };
        cursor.skip_blanks();
        if cursor.rest().is_empty() {
            return Err(LengthFault::Empty);
        }
        let found = |wrong: fn(char) -> bool| {
            let (offset, c) = cursor.rest().char_indices().find(|(_, c)| wrong(*c))?;
            let from = cursor.at + offset;
            Some(Spot::new(text, from..from + c.len_utf8()))
        };
        if let Some(spot) = found(|c| c.is_control() && c != '\t') {
            return Err(LengthFault::ControlCharacter(spot));
        }
        if let Some(spot) = found(|c| c == ',') {
            return Err(LengthFault::Comma(spot));
        }
        Ok(cursor)
    }

    pub(super) fn rest(&self) -> &'a str {
        self.text.get(self.at..self.end).unwrap_or_default()
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    pub(super) fn eat(&mut self, wanted: impl Fn(char) -> bool) -> bool {
        match self.peek() {
            Some(c) if wanted(c) => {
                self.at += c.len_utf8();
                true
            }
            _ => false,
        }
    }

    pub(super) fn skip_blanks(&mut self) {
        while self.eat(char::is_whitespace) {}
    }

    fn eat_while(&mut self, wanted: impl Fn(char) -> bool) -> &'a str {
        let rest = self.rest();
        let length = rest.find(|c| !wanted(c)).unwrap_or(rest.len());
        self.at += length;
        &rest[..length]
    }

    /// From `from` to the end of the text.
    pub(super) fn spot_from(&self, from: usize) -> Spot {
        Spot::new(self.text, from..self.end)
    }

    /// From `from` to the next blank at or behind the cursor.
    fn spot_to_blank(&self, from: usize) -> Spot {
        let length = self.rest().find(char::is_whitespace).unwrap_or(self.rest().len());
        Spot::new(self.text, from..self.at + length)
    }

    /// The number at the cursor; `from` is where it begins in a message, its sign included.
    pub(super) fn number(&mut self, from: usize) -> Result<Number, LengthFault> {
        if let Some((over, under)) = self.common_fraction() {
            return Ok(Number { whole: 0, over, under, at: from..self.at });
        }
        if !self.peek().is_some_and(begins_number) {
            return Err(LengthFault::NoNumber(self.spot_to_blank(from)));
        }
        let whole = self.digits();
        let (whole, over, under) = match self.peek() {
            Some('.') => {
                let (over, under) = self.decimals(from)?;
                (self.known(whole, from)?, over, under)
            }
            Some(c) if is_slash(c) => {
                let (over, under) = self.denominator(whole, from)?;
                (0, over, under)
            }
            _ => {
                let whole = self.known(whole, from)?;
                let (over, under) = self.joined_fraction()?.unwrap_or((0, 1));
                (whole, over, under)
            }
        };
        if self.peek().is_some_and(|c| c == '.' || c.is_ascii_digit() || is_slash(c)) {
            return Err(LengthFault::BadNumber(self.spot_to_blank(from)));
        }
        Ok(Number { whole, over, under, at: from..self.at })
    }

    /// A run of digits; `None` when it is more than [`LARGEST`].
    fn digits(&mut self) -> Option<i128> {
        let digits = self.eat_while(|c| c.is_ascii_digit()).trim_start_matches('0');
        match digits {
            "" => Some(0),
            _ => digits.parse().ok().filter(|value| *value <= LARGEST),
        }
    }

    fn known(&self, value: Option<i128>, from: usize) -> Result<i128, LengthFault> {
        value.ok_or_else(|| LengthFault::TooLarge(Spot::new(self.text, from..self.at)))
    }

    /// The point and the digits behind it, as a fraction.
    fn decimals(&mut self, from: usize) -> Result<(i128, i128), LengthFault> {
        self.eat(|c| c == '.');
        let digits = self.eat_while(|c| c.is_ascii_digit());
        if digits.is_empty() {
            return Err(LengthFault::BadNumber(self.spot_to_blank(from)));
        }
        let value = |(over, under), digit: u8| (over * 10 + i128::from(digit - b'0'), under * 10);
        Ok(digits.bytes().take(DECIMALS).fold((0, 1), value))
    }

    /// The stroke and the lower number of a fraction whose upper number was read from `from` on.
    fn denominator(
        &mut self,
        over: Option<i128>,
        from: usize,
    ) -> Result<(i128, i128), LengthFault> {
        let over = self.known(over, from)?;
        self.eat(is_slash);
        let below = self.at;
        if !self.peek().is_some_and(|c| c.is_ascii_digit()) {
            return Err(LengthFault::BadNumber(self.spot_to_blank(from)));
        }
        let under = self.digits();
        match self.known(under, below)? {
            0 => Err(LengthFault::ZeroDenominator(Spot::new(self.text, from..self.at))),
            under => Ok((over, under)),
        }
    }

    /// The fraction behind a whole number, if one is there; else the cursor stays.
    fn joined_fraction(&mut self) -> Result<Option<(i128, i128)>, LengthFault> {
        let before = self.at;
        if !self.eat(is_dash) {
            self.skip_blanks();
        }
        let from = self.at;
        let fraction = if let Some(fraction) = self.common_fraction() {
            fraction
        } else {
            let over = self.digits();
            // Without a stroke these digits are the next number; without digits, no fraction.
            if self.at == from || !self.peek().is_some_and(is_slash) {
                self.at = before;
                return Ok(None);
            }
            self.denominator(over, from)?
        };
        if fraction.0 >= fraction.1 {
            return Err(LengthFault::FractionPastOne(Spot::new(self.text, from..self.at)));
        }
        Ok(Some(fraction))
    }

    /// A fraction that is one character, if the cursor stands on one.
    fn common_fraction(&mut self) -> Option<(i128, i128)> {
        let c = self.peek()?;
        let (_, over, under) = COMMON_FRACTIONS.iter().find(|(sign, ..)| *sign == c)?;
        self.at += c.len_utf8();
        Some((*over, *under))
    }

    /// The unit at the cursor; `None` at the end or before what begins another number.
    pub(super) fn unit(&mut self) -> Result<Option<Unit>, LengthFault> {
        let from = self.at;
        if self.eat(is_inch_mark) {
            return Ok(Some(Unit::Inch));
        }
        if self.eat(is_foot_mark) {
            // Two of them are an inch mark to whoever has no other.
            return Ok(Some(if self.eat(is_foot_mark) { Unit::Inch } else { Unit::Foot }));
        }
        let name = self.eat_while(char::is_alphabetic);
        if name.is_empty() {
            return match self.peek() {
                Some(c) if !begins_number(c) && !is_dash(c) => {
                    Err(LengthFault::NoUnit(self.spot_to_blank(from)))
                }
                _ => Ok(None),
            };
        }
        let unit =
            Unit::named(name).ok_or_else(|| LengthFault::NoUnit(self.spot_to_blank(from)))?;
        // `ft.` is short for feet, but in `ft.5` the point belongs to the number.
        let rest = self.rest();
        if rest.starts_with('.') && !rest[1..].starts_with(|c: char| c.is_ascii_digit()) {
            self.at += 1;
        }
        Ok(Some(unit))
    }

    /// The inches behind feet, if any are there; else the cursor stays.
    pub(super) fn inches_past_feet(&mut self) -> Result<Option<Number>, LengthFault> {
        let before = self.at;
        self.skip_blanks();
        self.eat(is_dash);
        self.skip_blanks();
        let from = self.at;
        let number = match self.number(from) {
            Err(LengthFault::NoNumber(_)) => {
                self.at = before;
                return Ok(None);
            }
            read => read?,
        };
        self.skip_blanks();
        if !matches!(self.unit()?, None | Some(Unit::Inch)) {
            return Err(LengthFault::LeftOver(self.spot_from(from)));
        }
        if number.nanometres(Unit::Inch) >= i128::from(Length::feet(1).as_nm()) {
            return Err(LengthFault::InchesPastFoot(Spot::new(self.text, from..self.at)));
        }
        Ok(Some(number))
    }
}

fn begins_number(c: char) -> bool {
    c.is_ascii_digit() || c == '.' || COMMON_FRACTIONS.iter().any(|(sign, ..)| *sign == c)
}

/// A hyphen, a minus or one of the dashes that a word processor makes of them.
pub(super) fn is_dash(c: char) -> bool {
    matches!(c, '-' | '\u{2010}' | '\u{2011}' | '\u{2013}' | '\u{2212}')
}

fn is_slash(c: char) -> bool {
    matches!(c, '/' | '\u{2044}')
}

fn is_foot_mark(c: char) -> bool {
    matches!(c, '\'' | '′' | '’' | '‘')
}

fn is_inch_mark(c: char) -> bool {
    matches!(c, '"' | '″' | '”' | '“')
}
