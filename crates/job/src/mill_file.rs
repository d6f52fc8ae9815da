//! A mill, from a file that a person wrote.
//!
//! The file is TOML or JSON: by its ending, and where that says neither, JSON if it begins with `{`.
//! Its fields are those of [`MillForm`]. Lengths are texts with their unit (`"0.1 in"`, `"20 ft"`,
//! `"2.4 mm"`); a bare number is refused, because a kerf of 2.4 is a fine one in millimetres and a
//! dangerous one in inches.
//!
//! All faults of a file come at once, each with its place. A file that is no TOML or JSON at all has
//! one fault, because what follows it cannot be trusted.

mod entries;
mod form;

use std::borrow::Cow;
use std::io::Read;
use std::ops::Range;
use std::path::Path;
use std::sync::Arc;

use pithward_geometry::{Mill, MillFault};
use pithward_measure::{Excerpt, Length, Scale, Unit};
use pithward_trade::nearest_word;

use crate::fault::{Fault, FaultKind, FilePlace, Misread, Place};
use entries::{Entry, Value};
pub use form::{MillForm, mill_schema};

const GENERIC: &str = include_str!("../../../data/mills/generic.toml");

/// The most that is read of a file: a mill file has some 500 bytes, and its comments a few thousand.
const LARGEST_FILE: u64 = 1 << 20;

/// The longest name of a mill, in characters: it stands on one line of a card.
const LONGEST_NAME: usize = 60;

/// Every field of a mill file, in the order in which they are written.
const FIELDS: [&str; 11] = [
    "name",
    "kerf",
    "step",
    "largest_diameter",
    "longest",
    "shortest",
    "widest_cut",
    "deepest_above",
    "lowest_blade",
    "crosscut_kerf",
    "edging_batch",
];

/// Fields that may be left out: they are then as in the generic mill.
const OPTIONAL: [&str; 2] = ["crosscut_kerf", "edging_batch"];

const WITH_UNIT: &str =
    "write a number and its unit in quotes, for instance \"1/16 in\", \"20 ft\" or \"2.4 mm\"";
const STEPS: &str = "a scale has marks every 1/8, 1/16, 1/32 or 1/64 in, or every 1, 0.5 or 0.1 mm";

/// The stated generic mill: `data/mills/generic.toml`, which says that it is invented.
#[allow(clippy::missing_panics_doc, reason = "a test reads the embedded file")]
pub fn generic_mill() -> Mill {
    parse_mill(GENERIC.as_bytes(), "generic.toml", "mill")
        .expect("the file is embedded, and `the_mills_that_ship_can_be_read` reads it")
}

/// Reads a mill from a file. `field` is what the person knows the file's name by, say `--mill`.
///
/// # Errors
/// Every fault of the file.
pub fn read_mill(path: &Path, field: &str) -> Result<Mill, Vec<Fault>> {
    let file = path.to_string_lossy();
    match bytes_of(path, &file) {
        Ok(bytes) => parse_mill(&bytes, &file, field),
        Err(misread) => Err(vec![misread.of(field, &file)]),
    }
}

fn bytes_of(path: &Path, file: &str) -> Result<Vec<u8>, Misread> {
    let name = || Excerpt::new(file);
    let unreadable = |error: std::io::Error| {
        let (kind, help) = match error.kind() {
            std::io::ErrorKind::NotFound => (
                FaultKind::NoFile { file: name() },
                "name a file that exists, or leave it out and plan with the stated generic mill",
            ),
            why => (
                FaultKind::Unreadable { file: name(), why },
                "name a file that can be read, in TOML or JSON",
            ),
        };
        Misread::new(kind, 0..0, help)
    };
    if path.is_dir() {
        let kind = FaultKind::Directory { file: name() };
        return Err(Misread::new(kind, 0..0, "name a mill file in it"));
    }
    let mut bytes = Vec::new();
    let opened = std::fs::File::open(path).map_err(unreadable)?;
    opened.take(LARGEST_FILE + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    Ok(bytes)
}

/// Reads a mill from the bytes of a file.
///
/// # Errors
/// Every fault of the file. `field` is what the person knows the file by; only a fault of the file as a
/// whole carries it, all others name their own field.
pub fn parse_mill(bytes: &[u8], file: &str, field: &str) -> Result<Mill, Vec<Fault>> {
    let text = text_of(bytes, file).map_err(|misread| vec![misread.of(field, file)])?;
    let text: Arc<str> = text.into();
    let at = |span| Place::File(FilePlace::new(file, &text, span));
    let entries = if is_json(file, &text) { entries::json(&text) } else { entries::toml(&text) };
    let entries = entries.map_err(|misread| {
        let Misread { kind, help, span } = misread;
        vec![Fault { field: field.to_owned(), kind, help, place: at(span) }]
    })?;
    let (mill, faults) = Reading::of(&text, entries);
    if faults.is_empty() {
        return Ok(mill);
    }
    let placed = |(field, misread): (String, Misread)| {
        let Misread { kind, help, span } = misread;
        Fault { field, kind, help, place: at(span) }
    };
    Err(faults.into_iter().map(placed).collect())
}

/// The text of a file, without the mark that some editors put before it.
fn text_of<'a>(bytes: &'a [u8], file: &str) -> Result<&'a str, Misread> {
    let file = Excerpt::new(file);
    if bytes.len() as u64 > LARGEST_FILE {
        let kind = FaultKind::FileTooLarge { file, most: LARGEST_FILE };
        return Err(Misread::new(kind, 0..0, "name a mill file in TOML or JSON"));
    }
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let at = error.valid_up_to();
        let line = bytes[..at].iter().filter(|byte| **byte == b'\n').count() + 1;
        let byte = bytes.get(at).copied().unwrap_or_default();
        let kind = FaultKind::NotUtf8 { file: file.clone(), byte, line };
        Misread::new(kind, 0..0, "name a mill file in TOML or JSON, saved as UTF-8")
    })?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        let help = "copy one of the mills that ship with the program, and put your own figures in";
        return Err(Misread::new(FaultKind::EmptyFile { file }, 0..0, help));
    }
    Ok(text)
}

fn is_json(file: &str, text: &str) -> bool {
    let ending = Path::new(file).extension().map(|ending| ending.to_string_lossy().to_lowercase());
    match ending.as_deref() {
        Some("json") => true,
        Some("toml") => false,
        _ => text.trim_start().starts_with('{'),
    }
}

/// A mill as far as it could be read.
struct Reading<'a> {
    text: &'a str,
    mill: Mill,
    /// Fields that were given and could be read, where, and as what.
    read: Vec<(&'static str, Range<usize>, Excerpt)>,
    faults: Vec<(String, Misread)>,
}

impl<'a> Reading<'a> {
    /// What a file's entries say, and every fault of them in the order of the file.
    fn of(text: &'a str, entries: Vec<Entry>) -> (Mill, Vec<(String, Misread)>) {
        let mut reading = Self { text, mill: unread_mill(), read: Vec::new(), faults: Vec::new() };
        let mut named: Vec<&'static str> = Vec::new();
        for entry in &entries {
            match FIELDS.iter().find(|field| **field == entry.key) {
                Some(field) if named.contains(field) => {
                    let what = Excerpt::new(field);
                    let kind = FaultKind::Repeated { what };
                    reading.fault(field, kind, entry.key_at.clone(), "keep one of the two");
                }
                Some(field) => {
                    named.push(field);
                    reading.take(field, entry);
                }
                None => reading.unknown(entry),
            }
        }
        let missing: Vec<_> = FIELDS
            .into_iter()
            .filter(|field| !OPTIONAL.contains(field) && !named.contains(field))
            .collect();
        if !missing.is_empty() {
            let end = text.trim_end().len();
            let help = format!(
                "write a line for each (was the file cut short?); a mill file has {}, and may have {}",
                FIELDS[..9].join(", "),
                OPTIONAL.join(" and ")
            );
            let misread = Misread::new(FaultKind::MissingFields, end..end, help);
            reading.faults.push((missing.join(", "), misread));
        }
        reading.judge();
        reading.faults.sort_by_key(|(_, misread)| misread.span.start);
        (reading.mill, reading.faults)
    }

    fn fault(
        &mut self,
        field: &str,
        kind: FaultKind,
        at: Range<usize>,
        help: impl Into<Cow<'static, str>>,
    ) {
        self.faults.push((field.to_owned(), Misread::new(kind, at, help)));
    }

    fn unknown(&mut self, entry: &Entry) {
        let nearest = nearest_word(&entry.key, &FIELDS);
        let help = nearest.map_or_else(
            || format!("a mill file has {}", FIELDS.join(", ")),
            |field| format!("write {field}, or take the line out"),
        );
        // A key may be as long as the file, and hold what cannot be printed.
        let field = Excerpt::new(&entry.key).to_string();
        self.fault(&field, FaultKind::UnknownField { nearest }, entry.key_at.clone(), help);
    }

    /// A value as the file has it.
    fn written(&self, entry: &Entry) -> Excerpt {
        Excerpt::new(self.text.get(entry.at.clone()).unwrap_or_default())
    }

    /// Reads the value of a known field into the mill.
    fn take(&mut self, field: &'static str, entry: &Entry) {
        let got = self.written(entry);
        let read = match field {
            "name" => self.take_name(entry, got),
            "edging_batch" => self.take_batch(entry, got),
            _ => self.take_length(field, entry, got),
        };
        match read {
            Ok(()) => {
                let got = match &entry.value {
                    Value::Text(text) => Excerpt::new(text),
                    _ => self.written(entry),
                };
                self.read.push((field, entry.at.clone(), got));
            }
            Err(misread) => self.faults.push((field.to_owned(), misread)),
        }
    }

    fn take_name(&mut self, entry: &Entry, got: Excerpt) -> Result<(), Misread> {
        let Value::Text(name) = &entry.value else {
            let kind = FaultKind::WrongKind { right: "a name in quotes", got };
            return Err(Misread::new(kind, entry.at.clone(), "for instance name = \"my mill\""));
        };
        let name = name.trim();
        let printable = !name.contains(|c: char| c.is_control());
        if name.is_empty() || name.chars().count() > LONGEST_NAME || !printable {
            let kind = FaultKind::Name { most: LONGEST_NAME, got };
            return Err(Misread::new(kind, entry.at.clone(), "write what you call the mill"));
        }
        name.clone_into(&mut self.mill.name);
        Ok(())
    }

    fn take_batch(&mut self, entry: &Entry, got: Excerpt) -> Result<(), Misread> {
        let help = "write how many flitches stand side by side for edging at most, without quotes";
        let read = match &entry.value {
            Value::Number(number) => number.parse().ok(),
            _ => None,
        };
        let kind = FaultKind::WholeRange { least: 1, greatest: 20, got };
        self.mill.edging_batch = read.ok_or_else(|| Misread::new(kind, entry.at.clone(), help))?;
        Ok(())
    }

    fn take_length(
        &mut self,
        field: &'static str,
        entry: &Entry,
        got: Excerpt,
    ) -> Result<(), Misread> {
        let (text, got) = match &entry.value {
            Value::Text(text) => (text, Excerpt::new(text)),
            Value::Number(number) => {
                let help = format!("write the unit too: \"{number} in\" or \"{number} mm\"");
                return Err(Misread::new(FaultKind::NoUnit { got }, entry.at.clone(), help));
            }
            Value::Other => {
                let kind = FaultKind::WrongKind { right: "a length in quotes", got };
                return Err(Misread::new(kind, entry.at.clone(), WITH_UNIT));
            }
        };
        let length = Length::parse(text, Unit::Inch).map_err(|fault| {
            let at = entry.part(self.text, text, fault.span().unwrap_or(0..0));
            Misread::new(fault, at, WITH_UNIT)
        })?;
        // A number that is another length in metres has no unit of its own.
        if Length::parse(text, Unit::Metre) != Ok(length) {
            let help = format!("write the unit too: \"{0} in\" or \"{0} mm\"", text.trim());
            return Err(Misread::new(FaultKind::NoUnit { got }, entry.at.clone(), help));
        }
        if field == "step" && length > Length::ZERO && Scale::from_step(length).is_none() {
            return Err(Misread::new(FaultKind::NoScale { got }, entry.at.clone(), STEPS));
        }
        if let Some(figure) = length_of(&mut self.mill, field) {
            *figure = length;
        }
        Ok(())
    }

    fn read_as(&self, field: &str) -> Option<(&'static str, Range<usize>, Excerpt)> {
        self.read.iter().find(|(known, ..)| *known == field).cloned()
    }

    /// Faults of figures that could be read, each by itself and with the others.
    fn judge(&mut self) {
        for fault in self.mill.faults() {
            // A figure that was not read has its fault already.
            let Some((_, at, got)) = self.read_as(fault.field()) else { continue };
            match fault {
                MillFault::Range { field, least, greatest, .. } => {
                    let kind = FaultKind::Range { least, greatest, got };
                    let help: Cow<'static, str> = match field {
                        "step" => STEPS.into(),
                        _ => format!("{field} is {}", meaning(field)).into(),
                    };
                    self.fault(field, kind, at, help);
                }
                MillFault::Contradiction { smaller, larger, small, large } => {
                    if self.read_as(larger).is_some() {
                        let kind = FaultKind::Contradiction { larger, small, large };
                        let help = format!(
                            "{smaller} is {}; {larger} is {}",
                            meaning(smaller),
                            meaning(larger)
                        );
                        self.fault(smaller, kind, at, help);
                    }
                }
                MillFault::Batch(_) => {
                    let kind = FaultKind::WholeRange { least: 1, greatest: 20, got };
                    let help = format!("edging_batch is {}", meaning("edging_batch"));
                    self.fault("edging_batch", kind, at, help);
                }
            }
        }
    }
}

/// The figure that a field of the file is read into.
fn length_of<'m>(mill: &'m mut Mill, field: &str) -> Option<&'m mut Length> {
    match field {
        "kerf" => Some(&mut mill.kerf),
        "step" => Some(&mut mill.step),
        "largest_diameter" => Some(&mut mill.largest_diameter),
        "longest" => Some(&mut mill.longest),
        "shortest" => Some(&mut mill.shortest),
        "widest_cut" => Some(&mut mill.widest_cut),
        "deepest_above" => Some(&mut mill.deepest_above),
        "lowest_blade" => Some(&mut mill.lowest_blade),
        "crosscut_kerf" => Some(&mut mill.crosscut_kerf),
        _ => None,
    }
}

/// What a field is, for someone whose figure was refused.
fn meaning(field: &str) -> &'static str {
    match field {
        "kerf" => "the wood that one pass turns to sawdust",
        "step" => "the distance from one mark of the height scale to the next",
        "largest_diameter" => "the thickest log that goes on, over the bark",
        "longest" => "the longest log that goes on",
        "shortest" => "the shortest log that can be held",
        "widest_cut" => "the widest stock that passes between the blade guides",
        "deepest_above" => "the deepest stock that may stand above the blade",
        "lowest_blade" => "the lowest height of the blade over the bed",
        "crosscut_kerf" => "what a crosscut at the end of a board turns to sawdust",
        _ => "how many flitches stand side by side for edging at most",
    }
}

/// A mill of which nothing has been read yet, but for what may be left out.
fn unread_mill() -> Mill {
    Mill {
        name: String::new(),
        kerf: Length::ZERO,
        step: Length::ZERO,
        largest_diameter: Length::ZERO,
        longest: Length::ZERO,
        shortest: Length::ZERO,
        widest_cut: Length::ZERO,
        deepest_above: Length::ZERO,
        lowest_blade: Length::ZERO,
        crosscut_kerf: Length::sixty_fourths(8),
        edging_batch: 6,
    }
}

#[cfg(test)]
mod tests;
