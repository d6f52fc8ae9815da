//! A text file that a person wrote: its bytes, its text, and the places in it.
//!
//! The file may be TOML or JSON: by its ending, and where that says neither, JSON if it begins with `{`. Either way it
//! becomes one [`Table`] whose every key and value knows where it stands ([`value`]), and is read field by field
//! ([`fields`]).

pub(crate) mod cells;
mod fields;
mod json;
mod toml;
mod value;

use std::io::Read;
use std::ops::Range;
use std::path::Path;
use std::sync::Arc;

use pithward_measure::Excerpt;

use crate::fault::{Fault, FileFault, Misread};
use crate::place::{FilePlace, Place};
pub(crate) use fields::{Fields, Form, Right};
pub(crate) use value::{Table, Value, inside};

/// What a kind of file is called, and what helps whoever named none.
#[derive(Debug)]
pub(crate) struct FileKind {
    /// `mill file`.
    pub(crate) what: &'static str,
    /// In which forms it may be written: `in TOML or JSON`.
    pub(crate) written: &'static str,
    /// The most bytes that are read of one.
    pub(crate) most: u64,
    /// What to do where there is no such file.
    pub(crate) none: &'static str,
    /// What to do where the file is empty.
    pub(crate) empty: &'static str,
    /// One line of it, for a text that is not TOML.
    pub(crate) toml: &'static str,
    /// The beginning of it, for a text that is not JSON.
    pub(crate) json: &'static str,
}

/// A text and the name of the file that it stands in; to clone it is cheap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct TextFile {
    name: Arc<str>,
    text: Arc<str>,
    /// The byte at which each line begins.
    lines: Arc<[usize]>,
}

impl TextFile {
    /// The text of a file, without the mark that some editors put before it.
    pub(crate) fn new(bytes: &[u8], name: &str, kind: &FileKind) -> Result<Self, Misread> {
        let file = Excerpt::new(name);
        let right = || format!("name a {} {}", kind.what, kind.written);
        if bytes.len() as u64 > kind.most {
            let fault = FileFault::FileTooLarge { file, what: kind.what, most: kind.most };
            return Err(Misread::new(fault, 0..0, right()));
        }
        let text = std::str::from_utf8(bytes).map_err(|error| {
            let at = error.valid_up_to();
            let line = bytes[..at].iter().filter(|byte| **byte == b'\n').count() + 1;
            let byte = bytes.get(at).copied().unwrap_or_default();
            let fault = FileFault::NotUtf8 { file: file.clone(), byte, line };
            Misread::new(fault, 0..0, format!("{}, saved as UTF-8", right()))
        })?;
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        if text.trim().is_empty() {
            return Err(Misread::new(FileFault::EmptyFile { file }, 0..0, kind.empty));
        }
        let lines = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
        let lines = std::iter::once(0).chain(lines.map(|(at, _)| at + 1)).collect();
        Ok(Self { name: name.into(), text: text.into(), lines })
    }

    /// The same text under another name.
    pub(crate) fn named(self, name: &str) -> Self {
        Self { name: name.into(), ..self }
    }

    pub(crate) fn name(&self) -> &str {
        &self.name
    }

    pub(crate) fn text(&self) -> &str {
        &self.text
    }

    /// What stands at some bytes of it.
    pub(crate) fn slice(&self, at: Range<usize>) -> &str {
        self.text.get(at).unwrap_or_default()
    }

    /// The place of some bytes of it.
    pub(crate) fn place(&self, span: Range<usize>) -> Place {
        Place::File(FilePlace::on_lines(&self.name, &self.text, &self.lines, span))
    }

    /// The line, from 1, on which a byte stands.
    pub(crate) fn line(&self, at: usize) -> usize {
        self.lines.partition_point(|start| *start <= at)
    }

    /// Whether a place is in this text.
    pub(crate) fn has(&self, place: &FilePlace) -> bool {
        Arc::ptr_eq(&self.text, &place.text)
    }

    /// Every field of it, with its place. `field` is what the person knows the file by.
    pub(crate) fn table(&self, field: &str, kind: &FileKind) -> Result<Table, Vec<Fault>> {
        let table = if self.is_json() {
            json::table(&self.text, kind.json)
        } else {
            toml::table(&self.text, kind.toml)
        };
        let placed = |misread: Misread| {
            let Misread { kind, help, span } = misread;
            Fault { field: field.to_owned(), kind, help, place: self.place(span) }
        };
        table.map_err(|found| found.into_iter().map(placed).collect())
    }

    fn is_json(&self) -> bool {
        let ending = Path::new(&*self.name).extension();
        match ending.map(|ending| ending.to_string_lossy().to_lowercase()).as_deref() {
            Some("json") => true,
            Some("toml") => false,
            _ => self.text.trim_start().starts_with('{'),
        }
    }
}

/// The bytes of a file, one more than the most at most. `name` is how the person wrote its name.
pub(crate) fn bytes_of(path: &Path, name: &str, kind: &FileKind) -> Result<Vec<u8>, Misread> {
    let file = || Excerpt::new(name);
    let unreadable = |error: std::io::Error| match error.kind() {
        std::io::ErrorKind::NotFound => {
            Misread::new(FileFault::NoFile { file: file() }, 0..0, kind.none)
        }
        why => {
            let help = format!("name a file that can be read, {}", kind.written);
            Misread::new(FileFault::Unreadable { file: file(), why }, 0..0, help)
        }
    };
    if path.is_dir() {
        let help = format!("name a {} in it", kind.what);
        return Err(Misread::new(FileFault::Directory { file: file() }, 0..0, help));
    }
    let mut bytes = Vec::new();
    let opened = std::fs::File::open(path).map_err(unreadable)?;
    opened.take(kind.most + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    Ok(bytes)
}

/// The JSON Schema of a form, as text.
pub(crate) fn schema_text<T: schemars::JsonSchema>() -> String {
    let mut schema = schemars::schema_for!(T).to_value();
    // Another crate of the build may keep keys in the order of insertion: one order for all builds.
    schema.sort_all_objects();
    let text = serde_json::to_string_pretty(&schema);
    // A value of maps with text keys always has a text.
    text.unwrap_or_default() + "\n"
}
