//! The fields of a JSON file.

use std::fmt;
use std::ops::Range;

use serde::Deserializer;
use serde::de::{MapAccess, SeqAccess, Visitor};
use serde_json::value::RawValue;

use super::value::{Entry, Node, Table, Value};
use crate::fault::{FileFault, Misread};

/// Tables and lists within each other; none of our files has more than four.
const DEEPEST: u32 = 8;

/// The fields of a JSON file in the order of the file. `beginning` is that of a right one.
///
/// A text that is no JSON has one fault: what follows it cannot be trusted.
pub(super) fn table(text: &str, beginning: &str) -> Result<Table, Vec<Misread>> {
    let refuse = |error: &serde_json::Error| {
        let at = offset(text, error.line(), error.column());
        // The reader of JSON ends its message with the place, which is printed apart.
        let message = error.to_string();
        let message = message.rsplit_once(" at line ").map_or(&*message, |(before, _)| before);
        let help = format!("one object, as in {beginning} (was the file cut short?)");
        vec![Misread::new(FileFault::Json(message.to_owned()), at..at, help)]
    };
    let mut reader = serde_json::Deserializer::from_str(text);
    let written = reader.deserialize_map(Fields).map_err(|error| refuse(&error))?;
    reader.end().map_err(|error| refuse(&error))?;
    let end = text.trim_end().len();
    Ok(Table { entries: entries(text, written, DEEPEST), head: end..end })
}

fn entries(text: &str, written: Vec<(&RawValue, &RawValue)>, depth: u32) -> Vec<Entry> {
    let entry = |(key, value): (&RawValue, &RawValue)| {
        let at = place(text, key);
        let key = serde_json::from_str(key.get()).unwrap_or_default();
        let key_at = at.start + 1..at.end.saturating_sub(1).max(at.start + 1);
        Entry { key, key_at, node: node(text, value, depth) }
    };
    written.into_iter().map(entry).collect()
}

fn node(text: &str, raw: &RawValue, depth: u32) -> Node {
    let (written, at) = (raw.get(), place(text, raw));
    let value = match written.as_bytes().first() {
        Some(b'"') => serde_json::from_str(written).map_or(Value::Other, Value::Text),
        Some(b'-' | b'0'..=b'9') => Value::Number(written.to_owned()),
        Some(b't' | b'f') => Value::Flag(written == "true"),
        Some(b'[') if depth > 0 => {
            let mut reader = serde_json::Deserializer::from_str(written);
            let nodes = |list: Vec<&RawValue>| {
                let nodes = list.into_iter().map(|raw| node(text, raw, depth - 1));
                Value::List(nodes.collect())
            };
            reader.deserialize_seq(Items).map_or(Value::Other, nodes)
        }
        Some(b'{') if depth > 0 => {
            let mut reader = serde_json::Deserializer::from_str(written);
            let table = |fields| {
                let entries = entries(text, fields, depth - 1);
                Value::Table(Table { entries, head: at.start..at.start + 1 })
            };
            reader.deserialize_map(Fields).map_or(Value::Other, table)
        }
        _ => Value::Other,
    };
    Node { value, at }
}

/// Bytes of the text that a value in it was read from.
fn place(text: &str, raw: &RawValue) -> Range<usize> {
    let start = (raw.get().as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
    start..start + raw.get().len()
}

/// The byte at a line and a column of it, both from 1; the column counts bytes.
fn offset(text: &str, line: usize, column: usize) -> usize {
    let lines = text.split_inclusive('\n').take(line.saturating_sub(1));
    (lines.map(str::len).sum::<usize>() + column.saturating_sub(1)).min(text.len())
}

/// Every field of an object as it is written, one named twice included.
struct Fields;

impl<'de> Visitor<'de> for Fields {
    type Value = Vec<(&'de RawValue, &'de RawValue)>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let mut fields = Vec::new();
        while let Some(field) = map.next_entry()? {
            fields.push(field);
        }
        Ok(fields)
    }
}

/// Every value of a list as it is written.
struct Items;

impl<'de> Visitor<'de> for Items {
    type Value = Vec<&'de RawValue>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a list")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Self::Value, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = list.next_element()? {
            items.push(item);
        }
        Ok(items)
    }
}
