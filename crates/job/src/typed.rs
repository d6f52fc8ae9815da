//! What a person typed or wrote into a file, before anybody has read it, and the name that they know it by.
//!
//! One kind of value for both, so that a diameter behind a flag and one in a file are read by the same lines; all
//! that differs is where its faults stand, and that in a file a number without a unit is refused: whoever reads it on
//! another day cannot know what its writer had in mind.

use std::borrow::Cow;
use std::ops::{Range, RangeInclusive};
use std::path::PathBuf;

use pithward_measure::{Excerpt, Length, Unit};

use crate::fault::{Fault, FaultKind, Misread};
use crate::file::TextFile;
use crate::place::Place;

/// A value that may have been typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Typed {
    /// What the person knows it by, say `--small`.
    pub name: &'static str,
    /// What was typed; `None` for nothing.
    pub text: Option<String>,
    /// Where in a file it stands; `None` where it was typed.
    written: Option<Written>,
    /// Of a part of what was typed, the whole of it, and the byte at which the part begins.
    part_of: Option<(String, usize)>,
}

/// Where in a file a value stands.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Written {
    file: TextFile,
    /// Bytes of the file that are the value, its quotes included; where there is none, what it should stand in.
    at: Range<usize>,
    /// Bytes of the file that are the text itself, byte by byte; `None` where it is written otherwise than it reads.
    text_at: Option<Range<usize>>,
    /// It has its fault already, so that its lack is no news.
    judged: bool,
}

/// What is asked for where a length is read.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Asked {
    /// What would be right, without a word about units.
    pub(crate) help: &'static str,
    /// What a bare number that was typed is in.
    pub(crate) bare: Unit,
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
        Self { name, text, written: None, part_of: None }
    }

    /// What stands in a file: its text, the bytes of the value, and those of the text where it is written as it reads.
    pub(crate) fn written(
        name: &'static str,
        text: String,
        file: &TextFile,
        at: Range<usize>,
        text_at: Option<Range<usize>>,
    ) -> Self {
        let written = Written { file: file.clone(), at, text_at, judged: false };
        Self { name, text: Some(text), written: Some(written), part_of: None }
    }

    /// What is not in a file; its lack is told of the bytes that it should stand in.
    pub(crate) fn absent(name: &'static str, file: &TextFile, at: Range<usize>) -> Self {
        let written = Written { file: file.clone(), at, text_at: None, judged: false };
        Self { name, text: None, written: Some(written), part_of: None }
    }

    /// What stands in a file and has its fault already.
    pub(crate) fn judged(name: &'static str, file: &TextFile, at: Range<usize>) -> Self {
        let written = Written { file: file.clone(), at, text_at: None, judged: true };
        Self { name, text: None, written: Some(written), part_of: None }
    }

    /// A part of its text, by its bytes: what it says is its own, and it stands where the part stands.
    pub(crate) fn part(&self, part: Range<usize>) -> Self {
        let text = self.text.as_deref().and_then(|text| text.get(part.clone()));
        let mut own = Self { text: Some(text.unwrap_or_default().to_owned()), ..self.clone() };
        match (&mut own.written, &self.part_of) {
            (Some(written), _) => {
                if let Some(text_at) = &written.text_at {
                    let byte = |in_text: usize| (text_at.start + in_text).min(text_at.end);
                    written.at = byte(part.start)..byte(part.end);
                    written.text_at = Some(written.at.clone());
                }
            }
            (None, Some((whole, from))) => own.part_of = Some((whole.clone(), from + part.start)),
            (None, None) => {
                own.part_of = Some((self.text.clone().unwrap_or_default(), part.start));
            }
        }
        own
    }

    /// The same text, read otherwise than it is written: its faults point at the whole of it.
    pub(crate) fn read_as(&self, text: String) -> Self {
        let mut own = Self { text: Some(text), ..self.clone() };
        match &mut own.written {
            Some(written) => written.text_at = None,
            None => {
                let whole = self.text.clone().unwrap_or_default();
                own.part_of = own.part_of.or(Some((whole, 0)));
            }
        }
        own
    }

    /// Whether there is anything, be it with a fault.
    pub(crate) fn is_given(&self) -> bool {
        self.text.is_some() || self.written.as_ref().is_some_and(|written| written.judged)
    }

    /// The first byte in its file.
    pub(crate) fn start(&self) -> usize {
        self.written.as_ref().map_or(0, |written| written.at.start)
    }

    /// The line of its file on which it stands, and the file's name.
    pub(crate) fn line(&self) -> Option<(usize, &str)> {
        let Written { file, at, .. } = self.written.as_ref()?;
        Some((file.line(at.start), file.name()))
    }

    /// Where a part of it stands, by its bytes in the text; empty for the whole.
    fn place(&self, part: Range<usize>) -> Place {
        match (&self.written, &self.text) {
            (Some(Written { file, at, text_at, .. }), _) => match text_at {
                Some(text) if !part.is_empty() => {
                    let byte = |in_text: usize| (text.start + in_text).min(text.end);
                    file.place(byte(part.start)..byte(part.end))
                }
                _ => file.place(at.clone()),
            },
            (None, Some(text)) => match &self.part_of {
                None => Place::Value { value: text.clone(), span: part },
                Some((whole, from)) => {
                    let part = if part.is_empty() { 0..text.len() } else { part };
                    let byte = |in_part: usize| {
                        let at = (from + in_part).min(whole.len());
                        (0..=at).rev().find(|at| whole.is_char_boundary(*at)).unwrap_or(0)
                    };
                    Place::Value { value: whole.clone(), span: byte(part.start)..byte(part.end) }
                }
            },
            (None, None) => Place::Nowhere,
        }
    }

    /// A fault of it that is not in what was typed.
    pub(crate) fn fault(
        &self,
        kind: impl Into<FaultKind>,
        help: impl Into<Cow<'static, str>>,
    ) -> Fault {
        self.placed(Misread::new(kind, 0..0, help))
    }

    /// A fault of its text.
    pub(crate) fn placed(&self, misread: Misread) -> Fault {
        let Misread { kind, span, help } = misread;
        Fault { field: self.name.to_owned(), kind, help, place: self.place(span) }
    }

    /// What `read` makes of what was typed. `None` where nothing was, or where it has a fault, which
    /// goes to the others.
    pub(crate) fn read<T>(
        &self,
        faults: &mut Vec<Fault>,
        read: impl FnOnce(&str) -> Result<T, Misread>,
    ) -> Option<T> {
        let text = self.text.as_deref()?;
        read(text).map_err(|misread| faults.push(self.placed(misread))).ok()
    }

    /// The same, of what cannot be left out.
    pub(crate) fn require<T>(
        &self,
        faults: &mut Vec<Fault>,
        help: impl Into<Cow<'static, str>>,
        read: impl FnOnce(&str) -> Result<T, Misread>,
    ) -> Option<T> {
        if !self.is_given() {
            faults.push(self.fault(FaultKind::Missing, help));
        }
        self.read(faults, read)
    }

    /// What would be right, and what a bare number would be taken for.
    pub(crate) fn help(&self, asked: Asked) -> Cow<'static, str> {
        match self.written {
            None => format!("{}; a bare number is {}", asked.help, plural(asked.bare)).into(),
            Some(_) => asked.help.into(),
        }
    }

    /// A length within limits.
    pub(crate) fn length(
        &self,
        faults: &mut Vec<Fault>,
        asked: Asked,
        limits: RangeInclusive<Length>,
    ) -> Option<Length> {
        self.read(faults, |text| self.length_of(text, asked, Some(limits)))
    }

    /// A length within limits that cannot be left out.
    pub(crate) fn require_length(
        &self,
        faults: &mut Vec<Fault>,
        asked: Asked,
        limits: RangeInclusive<Length>,
    ) -> Option<Length> {
        self.require(faults, self.help(asked), |text| self.length_of(text, asked, Some(limits)))
    }

    /// Reads a length; whoever gives no limits judges it.
    pub(crate) fn length_of(
        &self,
        text: &str,
        asked: Asked,
        limits: Option<RangeInclusive<Length>>,
    ) -> Result<Length, Misread> {
        let length = Length::parse(text, asked.bare).map_err(|fault| {
            let span = fault.span().unwrap_or(0..0);
            Misread::new(fault, span, self.help(asked))
        })?;
        // A number that is another length in metres has no unit of its own.
        if self.written.is_some() && Length::parse(text, Unit::Metre) != Ok(length) {
            let kind = FaultKind::NoUnit { got: Excerpt::new(text) };
            let units = if asked.bare == Unit::Foot { ["ft", "m"] } else { ["in", "mm"] };
            let [first, second] = units.map(|unit| format!("\"{} {unit}\"", text.trim()));
            let help = format!("write the unit too: {first} or {second}");
            return Err(Misread::new(kind, 0..0, help));
        }
        match limits {
            Some(limits) if !limits.contains(&length) => {
                let (least, greatest) = (*limits.start(), *limits.end());
                let kind = FaultKind::Range { least, greatest, got: Excerpt::new(text) };
                Err(Misread::new(kind, 0..0, self.help(asked)))
            }
            _ => Ok(length),
        }
    }
}

fn plural(unit: Unit) -> &'static str {
    match unit {
        Unit::Inch => "inches",
        Unit::Foot => "feet",
        Unit::Millimetre => "millimetres",
        Unit::Centimetre => "centimetres",
        Unit::Metre => "metres",
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
    use super::{Asked, Typed, percentage};
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
        let asked = Asked { help: "write it", bare: Unit::Inch };
        let read = typed.require_length(&mut faults, asked, limits);
        assert_eq!((read, faults.len()), (None, 1));
        assert_eq!(faults[0].to_string(), "--small is missing");
    }

    proptest! {
        #[test]
        fn prop_no_text_panics(text in any::<String>()) {
            let _ = percentage("")(&text);
            let asked = Asked { help: "", bare: Unit::Inch };
            let typed = Typed::new("--small", Some(text));
            let _ = typed.length(&mut Vec::new(), asked, Length::ZERO..=Length::inches(9));
        }
    }
}
