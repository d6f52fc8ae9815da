//! A plain decimal and the word behind it, as weights and volumes of liquids are written.

/// Places behind the point that are looked at.
const PLACES: usize = 6;
/// So many digits before the point are more than anything weighs.
const DIGITS: usize = 12;

/// A number in millionths, and the word behind it in lower case.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Decimal {
    pub(crate) is_negative: bool,
    pub(crate) millionths: i128,
    pub(crate) unit: String,
}

/// Reads `12.5 lb`; `None` where it is not a number and at most one word behind it.
pub(crate) fn decimal(text: &str) -> Option<Decimal> {
    let lower = text.trim().to_lowercase();
    let is_unit = |c: char| !(c.is_ascii_digit() || c == '.');
    let (is_negative, plain) =
        lower.strip_prefix(['-', '−']).map_or((false, &lower[..]), |plain| (true, plain.trim()));
    let number = &plain[..plain.find(is_unit).unwrap_or(plain.len())];
    let unit = plain[number.len()..].trim().trim_end_matches('.');
    let (whole, places) = number.split_once('.').unwrap_or((number, "0"));
    let digits = |part: &str, most: usize| {
        (1..=most).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit())
    };
    let is_word = unit.is_empty() || unit.starts_with(char::is_alphabetic);
    if !digits(whole, DIGITS) || !digits(places, PLACES) || !is_word {
        return None;
    }
    let millionths = format!("{whole}{places:0<PLACES$}").parse().ok()?;
    Some(Decimal { is_negative, millionths, unit: unit.to_owned() })
}

/// How many hundredths or thousandths make up a size, written without trailing zeros.
pub(crate) fn written(parts: i128, places: usize) -> String {
    let (sign, size) = (if parts < 0 { "-" } else { "" }, parts.unsigned_abs());
    let ten = 10_u128.pow(u32::try_from(places).unwrap_or(0));
    let digits = format!("{:0places$}", size % ten);
    let digits = digits.trim_end_matches('0');
    let point = if digits.is_empty() { "" } else { "." };
    format!("{sign}{}{point}{digits}", size / ten)
}
