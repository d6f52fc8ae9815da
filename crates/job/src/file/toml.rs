//! The fields of a TOML file.

use std::ops::Range;

use toml::de::{DeTable, DeValue, Error};

use super::value::{Entry, Node, Table, Value};
use crate::fault::{FileFault, Misread};

/// No more faults of one text are told: after so many it was never meant to be TOML.
const MOST_ERRORS: usize = 50;

/// The fields of a TOML file in the order of the file. `line` is one of them, for whoever wrote no TOML.
///
/// A text that is no TOML has one fault for each line that is not: what else is wrong on it follows from the first.
pub(super) fn table(text: &str, line: &str) -> Result<Table, Vec<Misread>> {
    let (table, errors) = DeTable::parse_recoverable(text);
    let mut lines = Vec::new();
    let mut refuse = |error: &Error| {
        // The place is given by byte, and said by whoever prints the fault.
        let span = error.span().unwrap_or(text.len()..text.len());
        let before = text.get(..span.start).unwrap_or(text);
        let on = before.bytes().filter(|byte| *byte == b'\n').count();
        if lines.contains(&on) {
            return None;
        }
        lines.push(on);
        let message = error.message().replace('\n', ", ");
        let help = format!("one field to a line, as in {line} (was the file cut short?)");
        Some(Misread::new(FileFault::Toml(message), span, help))
    };
    let faults: Vec<Misread> = errors.iter().take(MOST_ERRORS).filter_map(&mut refuse).collect();
    if !faults.is_empty() {
        return Err(faults);
    }
    let end = text.trim_end().len();
    Ok(Table { head: end..end, ..fields(text, table.into_inner(), 0..0) })
}

fn fields(text: &str, table: DeTable<'_>, at: Range<usize>) -> Table {
    let mut entries: Vec<Entry> = table
        .into_iter()
        .map(|(key, value)| {
            let (key_at, at) = (key.span(), value.span());
            let key = key.into_inner().into_owned();
            // The reader of TOML counts the quotes of a key to it.
            let unquoted = super::value::inside(text, key_at.clone(), &key).unwrap_or(key_at);
            Entry { key, key_at: unquoted, node: node(text, value.into_inner(), at) }
        })
        .collect();
    entries.sort_by_key(|entry| entry.key_at.start);
    Table { entries, head: head(text, at) }
}

fn node(text: &str, value: DeValue<'_>, at: Range<usize>) -> Node {
    let written = || text.get(at.clone()).unwrap_or_default().to_owned();
    let value = match value {
        DeValue::String(text) => Value::Text(text.into_owned()),
        DeValue::Integer(number) if number.radix() == 10 => {
            Value::Number(number.as_str().to_owned())
        }
        DeValue::Integer(_) => Value::Number(written()),
        DeValue::Float(number) => Value::Number(number.as_str().to_owned()),
        DeValue::Boolean(flag) => Value::Flag(flag),
        DeValue::Datetime(_) => Value::Date(written()),
        DeValue::Array(list) => {
            let nodes = list.into_iter().map(|value| {
                let at = value.span();
                node(text, value.into_inner(), at)
            });
            Value::List(nodes.collect())
        }
        DeValue::Table(table) => Value::Table(fields(text, table, at.clone())),
    };
    Node { value, at }
}

/// The heading of a table, on one line.
fn head(text: &str, at: Range<usize>) -> Range<usize> {
    let written = text.get(at.clone()).unwrap_or_default();
    let line = written.lines().next().unwrap_or_default().trim_end();
    if line.starts_with('{') {
        return at.start..at.start + 1;
    }
    at.start..at.start + line.len()
}
