//! What a person typed, before anybody has read it, and the name under which they typed it.

use std::borrow::Cow;
use std::ops::RangeInclusive;
use std::path::PathBuf;

use pithward_measure::{Excerpt, Length, Unit};

use crate::fault::{Fault, FaultKind, Misread, Place};

/// A value that may have been typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Typed {
    /// What the person knows it by, say `--small`.
    pub name: &'static str,
    /// What was typed; `None` for nothing.
    pub text: Option<String>,
}

/// A value that may have been typed any number of times.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TypedList {
    /// What the person knows it by, say `--want`.
    pub name: &'static str,
    /// What was typed, in order.
    pub texts: Vec<String>,
}

/// The name of a file that may have been typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TypedPath {
    /// What the person knows it by, say `--mill`.
    pub name: &'static str,
    /// What was typed; `None` for nothing.
    pub path: Option<PathBuf>,
}

/// Something that is or is not so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Switch {
    /// What the person knows it by, say `--over-bark`.
    pub name: &'static str,
    /// Whether it is so.
    pub on: bool,
}

impl Typed {
    /// What was typed under a name.
    pub fn new(name: &'static str, text: Option<String>) -> Self {
        Self { name, text }
    }

    /// A fault of it that is not in what was typed.
    pub(crate) fn fault(&self, kind: FaultKind, help: impl Into<Cow<'static, str>>) -> Fault {
        let place = match &self.text {
            Some(text) => Place::Value { value: text.clone(), span: 0..0 },
            None => Place::Nowhere,
        };
        Fault { field: self.name.to_owned(), kind: Box::new(kind), help: help.into(), place }
    }

    /// What `read` makes of what was typed. `None` where nothing was, or where it has a fault, which
    /// goes to the others.
    pub(crate) fn read<T>(
        &self,
        faults: &mut Vec<Fault>,
        read: impl FnOnce(&str) -> Result<T, Misread>,
    ) -> Option<T> {
        let text = self.text.as_deref()?;
        read(text).map_err(|misread| faults.push(misread.of(self.name, text))).ok()
    }

    /// The same, of what cannot be left out.
    pub(crate) fn require<T>(
        &self,
        faults: &mut Vec<Fault>,
        help: &'static str,
        read: impl FnOnce(&str) -> Result<T, Misread>,
    ) -> Option<T> {
        if self.text.is_none() {
            faults.push(self.fault(FaultKind::Missing, help));
        }
        self.read(faults, read)
    }
}

/// Reads a length within limits; a bare number is in `bare`.
pub(crate) fn length(
    bare: Unit,
    limits: RangeInclusive<Length>,
    help: &'static str,
) -> impl FnOnce(&str) -> Result<Length, Misread> {
    move |text| {
        let length = Length::parse(text, bare)
            .map_err(|fault| Misread::new(fault.clone(), fault.span().unwrap_or(0..0), help))?;
        if limits.contains(&length) {
            return Ok(length);
        }
        let (least, greatest) = (*limits.start(), *limits.end());
        let kind = FaultKind::Range { least, greatest, got: Excerpt::new(text) };
        Err(Misread::new(kind, 0..0, help))
    }
}

/// Reads a percentage, with or without its sign; whoever uses it knows its limits.
pub(crate) fn percentage(help: &'static str) -> impl FnOnce(&str) -> Result<f64, Misread> {
    move |text| {
        let number = text.trim();
        let number = number.strip_suffix('%').unwrap_or(number).trim_end();
        let plain = number.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b'-'));
        match number.parse::<f64>() {
            Ok(percent) if plain && percent.is_finite() => Ok(percent),
            _ => {
                let kind = FaultKind::NoPercentage { got: Excerpt::new(text) };
                Err(Misread::new(kind, 0..0, help))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Typed, length, percentage};
    use pithward_measure::{Length, Unit};
    use proptest::prelude::*;

    #[test]
    fn percentages_with_and_without_their_sign() {
        for (text, expected) in [("8", 8.0), ("8%", 8.0), (" 12.5 % ", 12.5), ("-3", -3.0)] {
            assert!((percentage("")(text).unwrap() - expected).abs() < 1e-12, "{text}");
        }
        for text in ["", "%", "nan", "inf", "1e5", "8 %%", "8,5", "--3", &"9".repeat(400)] {
            assert!(percentage("")(text).is_err(), "{text}");
        }
    }

    #[test]
    fn what_is_missing_says_so_once() {
        let mut faults = Vec::new();
        let typed = Typed::new("--small", None);
        let limits = Length::ZERO..=Length::inches(1);
        let read = typed.require(&mut faults, "write it", length(Unit::Inch, limits, "write it"));
        assert_eq!((read, faults.len()), (None, 1));
        assert_eq!(faults[0].to_string(), "--small is missing");
    }

    proptest! {
        #[test]
        fn prop_no_text_panics(text in any::<String>()) {
            let _ = percentage("")(&text);
            let _ = length(Unit::Inch, Length::ZERO..=Length::inches(9), "")(&text);
        }
    }
}
