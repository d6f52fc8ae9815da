//! Lengths of boards that are accepted, as typed: `8/10/12`, `8/10/12 ft`, `2400/3000 mm`.
//!
//! A unit behind the last one is the unit of all that have none.

use pithward_measure::{Excerpt, Length, Unit};

use crate::fault::{FaultKind, Misread};

/// The shortest piece that anyone asks for.
const SHORTEST: Length = Length::inches(6);
/// The longest, which is that of the longest log.
const LONGEST: Length = Length::feet(100);

const HELP: &str = "write lengths with a / between them, as in 8/10/12 (feet) or 2400/3000 mm";

/// Reads a list, shortest first and each length once; a bare number is in `bare`.
pub(crate) fn read(text: &str, bare: Unit) -> Result<Vec<Length>, Misread> {
    let unit = text.rsplit('/').next().and_then(unit_behind).unwrap_or_default();
    let mut lengths = Vec::new();
    let mut from = 0;
    for part in text.split('/') {
        let start = from + (part.len() - part.trim_start().len());
        let at = start..start + part.trim().len();
        from += part.len() + 1;
        let refuse = |kind: FaultKind| Misread::new(kind, at.clone(), HELP);
        let length = Length::parse(part, bare).map_err(|fault| {
            let inner = fault.span().map_or(at.clone(), |inner| {
                let offset = at.end - part.trim_end().len();
                inner.start + offset..inner.end + offset
            });
            Misread::new(fault, inner, HELP)
        })?;
        let length = match Length::parse(part, Unit::Metre) {
            // The number has a unit of its own.
            Ok(same) if same == length && bare != Unit::Metre => length,
            _ => Length::parse(&format!("{part}{unit}"), bare).unwrap_or(length),
        };
        if !(SHORTEST..=LONGEST).contains(&length) {
            let got = Excerpt::new(part);
            return Err(refuse(FaultKind::Range { least: SHORTEST, greatest: LONGEST, got }));
        }
        lengths.push(length);
    }
    lengths.sort_unstable();
    lengths.dedup();
    Ok(lengths)
}

/// The unit behind the only number of a text, `None` where there is none.
pub(crate) fn unit_behind(text: &str) -> Option<&str> {
    let digit = |c: char| c.is_ascii_digit() || c == '.';
    let behind = text.trim().trim_start_matches(digit);
    (!behind.is_empty() && !behind.contains(digit)).then_some(behind)
}

#[cfg(test)]
mod tests {
    use super::read;
    use pithward_measure::{Length, Unit};
    use proptest::prelude::*;

    #[track_caller]
    fn check(text: &str, expected: &[Length]) {
        assert_eq!(read(text, Unit::Foot).unwrap(), expected);
    }

    #[test]
    fn lengths_with_and_without_units() {
        let feet = [8, 10, 12].map(Length::feet);
        for text in
            ["8/10/12", "12 / 10/8", "8/10/12 ft", "8/10/12'", "8 ft/10/12", "96/120/144 in"]
        {
            check(text, &feet);
        }
        check("8/8/8", &feet[..1]);
        check("2400/3000 mm", &[Length::mm(2400), Length::mm(3000)]);
        check("2.4/3 m", &[Length::mm(2400), Length::mm(3000)]);
        check("8/12' 6\"", &[Length::feet(8), Length::inches(150)]);
    }

    #[test]
    fn what_is_wrong_is_pointed_at() {
        let check = |text: &str, at: &str| {
            let fault = read(text, Unit::Foot).unwrap_err();
            assert_eq!(&text[fault.span.clone()], at, "{}", fault.kind);
        };
        check("8/ten/12", "ten");
        check("8/ 10 fot /12", "fot");
        check("8/0/12", "0");
        check("8/-10/12", "-10");
        check("8/2400", "2400");
        check("8//12", "");
        check("", "");
    }

    proptest! {
        #[test]
        fn prop_no_text_panics(text in prop_oneof![any::<String>(), "[0-9/ .'a-z½\"-]{0,20}"]) {
            if let Err(fault) = read(&text, Unit::Foot) {
                prop_assert!(text.get(fault.span).is_some());
                prop_assert!(!fault.kind.to_string().is_empty());
            }
        }
    }
}
