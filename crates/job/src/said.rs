//! How a length is said in a message: exactly, in the unit in which it is a plain number.
//!
//! A message must never round what was got into what would be right, and it speaks of inches and of
//! millimetres in one breath, because limits come in either. So: whole feet past ten as feet, 64ths of an inch
//! as fractions, thousandths of an inch as decimals, all else in millimetres to the nanometre.

use std::fmt;

use pithward_measure::{Length, Scale};

/// 0.001 in.
const THOUSANDTH: Length = Length::nm(25_400);

/// A length, ready to be put into a message.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Said(pub(crate) Length);

impl fmt::Display for Said {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let length = self.0;
        let whole = |step: Length| length.as_nm() % step.as_nm() == 0;
        if whole(Length::feet(1)) && length > Length::feet(10) {
            return write!(f, "{} ft", length.div_floor(Length::feet(1)));
        }
        if whole(Scale::SixtyFourths.step()) {
            return write!(f, "{}", Scale::SixtyFourths.show(length));
        }
        if whole(THOUSANDTH) {
            return decimal(f, length.as_nm() / THOUSANDTH.as_nm(), 3, "in");
        }
        decimal(f, length.as_nm(), 6, "mm")
    }
}

/// Millionths, ready to be put into a message as a decimal.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Amount(pub(crate) i64);

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        decimal(f, self.0, 6, "")
    }
}

/// `count / 10^places` without trailing zeros, and its unit.
fn decimal(f: &mut fmt::Formatter<'_>, count: i64, places: u32, unit: &str) -> fmt::Result {
    let (size, ten) = (count.unsigned_abs(), 10_u64.pow(places));
    let width = places as usize;
    let digits = format!("{:0width$}", size % ten);
    let digits = digits.trim_end_matches('0');
    let (sign, point) =
        (if count < 0 { "-" } else { "" }, if digits.is_empty() { "" } else { "." });
    let blank = if unit.is_empty() { "" } else { " " };
    write!(f, "{sign}{}{point}{digits}{blank}{unit}", size / ten)
}

#[cfg(test)]
mod tests {
    use super::{Amount, Said};
    use pithward_measure::{Length, Unit};
    use proptest::prelude::*;

    #[test]
    fn every_length_in_its_own_unit() {
        for text in [
            "0.1 in",
            "1/16 in",
            "24 1/2 in",
            "20 ft",
            "54 in",
            "0.5 mm",
            "20 mm",
            "0 in",
            "0.000001 mm",
            "-3.2 mm",
            "-0.095 in",
            "120 in",
            "4200 mm",
        ] {
            let length = Length::parse(text, Unit::Inch).unwrap();
            assert_eq!(Said(length).to_string(), text);
        }
    }

    #[test]
    fn an_amount_is_a_decimal() {
        for (millionths, said) in
            [(600_000, "0.6"), (0, "0"), (-1, "-0.000001"), (1_000_000_000_000, "1000000")]
        {
            assert_eq!(Amount(millionths).to_string(), said);
        }
    }

    proptest! {
        #[test]
        fn prop_reads_back_exactly(nm in -1_000_000_000_000_i64..1_000_000_000_000) {
            let said = Said(Length::nm(nm)).to_string();
            prop_assert_eq!(Length::parse(&said, Unit::Metre), Ok(Length::nm(nm)));
        }
    }
}
