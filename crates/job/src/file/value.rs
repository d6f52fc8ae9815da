//! What stands in a file, every key and value with its place, whether the file is TOML or JSON.

use std::ops::Range;

/// Fields in the order of the file; in JSON one may be named twice.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Table {
    pub(crate) entries: Vec<Entry>,
    /// Bytes that a person takes for the table where something is missing from it: its heading, or its opening brace.
    pub(crate) head: Range<usize>,
}

/// One field.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Entry {
    pub(crate) key: String,
    /// Bytes of the file that are the key, its quotes left out.
    pub(crate) key_at: Range<usize>,
    pub(crate) node: Node,
}

/// One value.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Node {
    pub(crate) value: Value,
    /// Bytes of the file that are the value, its quotes included.
    pub(crate) at: Range<usize>,
}

/// What stands behind a field.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Value {
    Text(String),
    /// As written, without the `_` that TOML allows between digits.
    Number(String),
    Flag(bool),
    /// As written.
    Date(String),
    List(Vec<Node>),
    Table(Table),
    /// Nothing that any of our files has.
    Other,
}

impl Table {
    /// The value of a field, the first where it is named twice.
    pub(crate) fn entry(&self, name: &str) -> Option<&Entry> {
        self.entries.iter().find(|entry| entry.key == name)
    }
}

/// Bytes of a file that are a text itself, byte by byte, given those of the value that it was written as: with quotes,
/// or without them in a table of cells. `None` where it is written otherwise than it reads (escapes).
pub(crate) fn inside(file: &str, at: Range<usize>, text: &str) -> Option<Range<usize>> {
    let written = file.get(at.clone())?;
    if written == text {
        return Some(at);
    }
    let inside = written.get(1..written.len().saturating_sub(1))?;
    (inside == text).then(|| at.start + 1..at.end - 1)
}
