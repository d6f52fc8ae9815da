//! The lines of a mill file, each value with its place, whether the file is TOML or JSON.

use std::fmt;
use std::ops::Range;

use serde::Deserializer;
use serde::de::{MapAccess, Visitor};
use serde_json::value::RawValue;
use toml::de::{DeTable, DeValue};

use crate::fault::{FaultKind, Misread};

/// One field of a file.
#[derive(Debug)]
pub(super) struct Entry {
    pub(super) key: String,
    /// Bytes of the file that are the key.
    pub(super) key_at: Range<usize>,
    pub(super) value: Value,
    /// Bytes of the file that are the value, its quotes included.
    pub(super) at: Range<usize>,
}

/// What stands behind a field.
#[derive(Debug)]
pub(super) enum Value {
    Text(String),
    /// As written.
    Number(String),
    /// Nothing that a mill file has.
    Other,
}

impl Entry {
    /// Bytes of the file that are a part of a text, whose bytes in it are given; the whole value where
    /// the text is written otherwise than it reads (escapes).
    pub(super) fn part(&self, file: &str, text: &str, part: Range<usize>) -> Range<usize> {
        let written = file.get(self.at.clone()).unwrap_or_default();
        let inside = written.get(1..written.len().saturating_sub(1));
        if inside == Some(text) && !part.is_empty() {
            let start = self.at.start + 1;
            return start + part.start..start + part.end;
        }
        self.at.clone()
    }
}

/// The fields of a TOML file, in the order of the file.
pub(super) fn toml(text: &str) -> Result<Vec<Entry>, Misread> {
    let table = DeTable::parse(text).map_err(|error| {
        // The place is given by byte, and said by whoever prints the fault.
        let span = error.span().unwrap_or(text.len()..text.len());
        let message = error.message().replace('\n', ", ");
        let help = "one field to a line, as in kerf = \"0.1 in\" (was the file cut short?)";
        Misread::new(FaultKind::Toml(message), span, help)
    })?;
    let mut entries: Vec<Entry> = table
        .into_inner()
        .into_iter()
        .map(|(key, value)| Entry {
            key_at: key.span(),
            key: key.into_inner().into_owned(),
            at: value.span(),
            value: match value.into_inner() {
                DeValue::String(text) => Value::Text(text.into_owned()),
                DeValue::Integer(number) => Value::Number(number.to_string()),
                DeValue::Float(number) => Value::Number(number.to_string()),
                _ => Value::Other,
            },
        })
        .collect();
    entries.sort_by_key(|entry| entry.key_at.start);
    Ok(entries)
}

/// The fields of a JSON file, in the order of the file.
pub(super) fn json(text: &str) -> Result<Vec<Entry>, Misread> {
    let refuse = |error: &serde_json::Error| {
        let at = offset(text, error.line(), error.column());
        // The reader of JSON ends its message with the place, which is printed apart.
        let message = error.to_string();
        let message = message.rsplit_once(" at line ").map_or(&*message, |(before, _)| before);
        let help = "one object, as in { \"kerf\": \"0.1 in\", ... } (was the file cut short?)";
        Misread::new(FaultKind::Json(message.to_owned()), at..at, help)
    };
    let mut reader = serde_json::Deserializer::from_str(text);
    let fields = reader.deserialize_map(Fields).map_err(|error| refuse(&error))?;
    reader.end().map_err(|error| refuse(&error))?;
    let entries = fields.into_iter().map(|(key, raw)| {
        let written = raw.get();
        let start = (written.as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
        let quoted = format!("\"{key}\"");
        let before = text.get(..start).unwrap_or_default();
        let key_at = before.rfind(&quoted).map_or(start..start, |at| at + 1..at + 1 + key.len());
        let value = match written.as_bytes().first() {
            Some(b'"') => serde_json::from_str(written).map_or(Value::Other, Value::Text),
            Some(b'-' | b'0'..=b'9') => Value::Number(written.to_owned()),
            _ => Value::Other,
        };
        Entry { key, key_at, value, at: start..start + written.len() }
    });
    Ok(entries.collect())
}

/// The byte at a line and a column of it, both from 1; the column counts bytes.
fn offset(text: &str, line: usize, column: usize) -> usize {
    let lines = text.split_inclusive('\n').take(line.saturating_sub(1));
    (lines.map(str::len).sum::<usize>() + column.saturating_sub(1)).min(text.len())
}

/// Every field of an object as it is written, one named twice included.
struct Fields;

impl<'de> Visitor<'de> for Fields {
    type Value = Vec<(String, &'de RawValue)>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object with the figures of a mill")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let mut fields = Vec::new();
        while let Some(field) = map.next_entry()? {
            fields.push(field);
        }
        Ok(fields)
    }
}
