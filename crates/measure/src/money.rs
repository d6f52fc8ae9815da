//! An amount of money, exact to a ten-thousandth of its unit.
//!
//! Sums of one currency are exact; amounts of two are never added. What is computed from an amount is rounded to the
//! nearest ten-thousandth, and a person sees cents at least.

use std::fmt;
use thiserror::Error;

use crate::Excerpt;

/// Ten-thousandths of a unit.
const PARTS: i64 = 10_000;
/// Places behind the point.
const PLACES: usize = 4;
/// More than anybody pays for a log, a day or a mill.
const MOST: i64 = 1_000_000_000 * PARTS;

/// A currency by its three letters, such as `USD`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Currency([u8; 3]);

impl Currency {
    /// The currency of three letters.
    pub fn parse(letters: &str) -> Option<Self> {
        let letters: [u8; 3] = letters.to_ascii_uppercase().into_bytes().try_into().ok()?;
        letters.iter().all(u8::is_ascii_uppercase).then_some(Self(letters))
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|letter| write!(f, "{}", char::from(*letter)))
    }
}

/// An amount of money; may be negative.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Money {
    currency: Currency,
    parts: i64,
}

/// Why a text is no amount of money.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum MoneyFault {
    /// No number with its currency.
    #[error(
        "{0} is no amount of money; write a number and the three letters of its currency, as in 75 USD"
    )]
    NoMoney(Excerpt),
    /// More places behind the point than are held, or more than anybody pays.
    #[error(
        "{0} is no amount of money: it has more than four places behind the point, or is more than a thousand million"
    )]
    Size(Excerpt),
}

impl Money {
    /// Ten-thousandths in a hundredth of a unit.
    pub const CENT: i64 = PARTS / 100;

    /// No money at all of a currency.
    pub fn none(currency: Currency) -> Self {
        Self { currency, parts: 0 }
    }

    /// So many ten-thousandths of a unit.
    pub fn ten_thousandths(parts: i64, currency: Currency) -> Self {
        Self { currency, parts }
    }

    /// Ten-thousandths of a unit.
    pub fn as_ten_thousandths(self) -> i64 {
        self.parts
    }

    /// Its currency.
    pub fn currency(self) -> Currency {
        self.currency
    }

    /// Reads an amount: `75 USD`, `USD 75.50`.
    ///
    /// # Errors
    /// Why it is none.
    ///
    /// ```
    /// use pithward_measure::Money;
    /// assert_eq!(Money::parse("75.5 usd")?.to_string(), "75.50 USD");
    /// # Ok::<(), pithward_measure::MoneyFault>(())
    /// ```
    pub fn parse(text: &str) -> Result<Self, MoneyFault> {
        let none = || MoneyFault::NoMoney(Excerpt::new(text));
        let trimmed = text.trim();
        let letters = |c: char| c.is_ascii_alphabetic();
        let (number, currency) = if trimmed.starts_with(letters) {
            let number = trimmed.trim_start_matches(letters);
            (number, &trimmed[..trimmed.len() - number.len()])
        } else {
            let number = trimmed.trim_end_matches(letters);
            (number, &trimmed[number.len()..])
        };
        let currency = Currency::parse(currency).ok_or_else(none)?;
        let number = number.trim();
        let (is_negative, plain) =
            number.strip_prefix('-').map_or((false, number), |plain| (true, plain));
        let (whole, places) = plain.split_once('.').unwrap_or((plain, "0"));
        let digits = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
        if !digits(whole) || !digits(places) {
            return Err(none());
        }
        let size = || MoneyFault::Size(Excerpt::new(text));
        if places.len() > PLACES {
            return Err(size());
        }
        let parts: i64 = format!("{whole}{places:0<PLACES$}").parse().map_err(|_| size())?;
        if parts > MOST {
            return Err(size());
        }
        Ok(Self { currency, parts: if is_negative { -parts } else { parts } })
    }

    /// The sum of two amounts; `None` where they are of two currencies, or more than can be held.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        let parts = self.parts.checked_add(other.parts)?;
        (self.currency == other.currency).then_some(Self { parts, ..self })
    }

    /// A share of it, `numerator / denominator`, rounded to the nearest ten-thousandth, halves away from nothing. `None`
    /// over nothing, and where it is more than can be held.
    #[must_use]
    pub fn share(self, numerator: i64, denominator: i64) -> Option<Self> {
        self.share_to(numerator, denominator, 1)
    }

    /// A share of it, `numerator / denominator`, rounded once to the nearest whole number of so many ten-thousandths,
    /// halves away from nothing. `None` over nothing, to no step, and where it is more than can be held.
    ///
    /// ```
    /// use pithward_measure::Money;
    /// // 0.35 USD for each of 1234.1 board feet, to the cent: 431.935 rounds up.
    /// let price = Money::parse("0.35 USD")?.share_to(1_234_100_000, 1_000_000, Money::CENT);
    /// assert_eq!(price, Money::parse("431.94 USD").ok());
    /// # Ok::<(), pithward_measure::MoneyFault>(())
    /// ```
    #[must_use]
    pub fn share_to(self, numerator: i64, denominator: i64, step: i64) -> Option<Self> {
        let product = i128::from(self.parts) * i128::from(numerator);
        let over = i128::from(denominator) * i128::from(step.max(0));
        if over == 0 {
            return None;
        }
        let is_negative = (product < 0) != (over < 0);
        let (product, over) = (product.unsigned_abs(), over.unsigned_abs());
        // A quotient and a rest, for twice the product may not fit.
        let nearest = product / over + u128::from(product % over >= over - over / 2);
        let size = i64::try_from(nearest).ok()?.checked_mul(step)?;
        Some(Self { parts: if is_negative { -size } else { size }, ..self })
    }

    /// What is left of it after another amount; `None` where they are of two currencies, or it is more than can be held.
    #[must_use]
    pub fn minus(self, other: Self) -> Option<Self> {
        let parts = self.parts.checked_sub(other.parts)?;
        (self.currency == other.currency).then_some(Self { parts, ..self })
    }
}

impl fmt::Display for Money {
    /// With two places behind the point where they say all, else with four.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.parts < 0 { "-" } else { "" };
        let size = self.parts.unsigned_abs();
        let (whole, places) = (size / PARTS.unsigned_abs(), size % PARTS.unsigned_abs());
        if places % 100 == 0 {
            return write!(f, "{sign}{whole}.{:02} {}", places / 100, self.currency);
        }
        write!(f, "{sign}{whole}.{places:04} {}", self.currency)
    }
}

#[cfg(test)]
mod tests {
    use super::{Money, MoneyFault};
    use proptest::prelude::*;

    fn money(text: &str) -> Money {
        Money::parse(text).unwrap()
    }

    #[test]
    fn amounts_as_people_write_them() {
        for (text, said) in [
            ("75 USD", "75.00 USD"),
            ("usd 75.5", "75.50 USD"),
            ("0.1234EUR", "0.1234 EUR"),
            (" -3 CAD ", "-3.00 CAD"),
            ("1000000000 USD", "1000000000.00 USD"),
        ] {
            assert_eq!(money(text).to_string(), said, "{text}");
        }
        for text in [
            "",
            "75",
            "$75",
            "USD",
            "75 US",
            "75 DOLLARS",
            "7,5 USD",
            ".5 USD",
            "5. USD",
            "1e3 USD",
            "--1 USD",
        ] {
            assert!(matches!(Money::parse(text), Err(MoneyFault::NoMoney(_))), "{text}");
        }
        for text in ["0.12345 USD", "1000000000.01 USD", "99999999999999999999 USD"] {
            assert!(matches!(Money::parse(text), Err(MoneyFault::Size(_))), "{text}");
        }
    }

    #[test]
    fn only_one_currency_adds_up() {
        assert_eq!(money("0.1 USD").plus(money("0.2 USD")), Some(money("0.3 USD")));
        assert_eq!(money("1 USD").plus(money("1 EUR")), None);
        let most = Money::ten_thousandths(i64::MAX, money("1 USD").currency());
        assert_eq!(most.plus(money("0.0001 USD")), None);
    }

    #[test]
    fn a_share_rounds_to_the_nearest() {
        assert_eq!(money("75 USD").share(90, 60), Some(money("112.5 USD")));
        assert_eq!(money("0.0001 USD").share(1, 2), Some(money("0.0001 USD")));
        assert_eq!(money("-0.0001 USD").share(1, 2), Some(money("-0.0001 USD")));
        assert_eq!(money("0.0001 USD").share(1, 3), Some(money("0 USD")));
        assert_eq!(money("1 USD").share(1, 0), None);
        assert_eq!(money("1000000000 USD").share(i64::MAX, 1), None);
    }

    #[test]
    fn a_share_is_rounded_once() {
        // A third of 0.0149 is 0.004966: by way of 0.0050 it would be a cent.
        let third = money("0.0149 USD").share_to(1, 3, Money::CENT);
        assert_eq!(third, Some(money("0 USD")));
        let by_way = money("0.0149 USD").share(1, 3).unwrap().share_to(1, 1, Money::CENT);
        assert_eq!(by_way, Some(money("0.01 USD")));
        assert_eq!(money("2.5 USD").share_to(1, 1, 10_000), Some(money("3 USD")));
        assert_eq!(money("-2.5 USD").share_to(1, 1, 10_000), Some(money("-3 USD")));
        assert_eq!(money("7.12 USD").share_to(1, 1, 500), Some(money("7.10 USD")));
        assert_eq!(money("1 USD").share_to(1, 1, 0), None);
        assert_eq!(money("1 USD").minus(money("1.5 USD")), Some(money("-0.5 USD")));
        assert_eq!(money("1 USD").minus(money("1 EUR")), None);
    }

    proptest! {
        #[test]
        fn prop_what_is_printed_reads_back(parts in -10_000_000_000_i64..10_000_000_000) {
            let money = Money::ten_thousandths(parts, money("1 USD").currency());
            prop_assert_eq!(Money::parse(&money.to_string()), Ok(money));
        }

        #[test]
        fn prop_no_text_panics(text in any::<String>()) {
            let _ = Money::parse(&text);
        }
    }
}
