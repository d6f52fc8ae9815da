//! Reading a table field by field, with a fault for each that is unknown, repeated or of the wrong kind.

use std::borrow::Cow;
use std::ops::{Range, RangeInclusive};

use pithward_measure::Excerpt;
use pithward_trade::nearest_word;

use super::TextFile;
use super::value::{Entry, Node, Table, Value, inside};
use crate::fault::{Fault, FaultKind};
use crate::typed::Typed;

/// The fields that a table may have.
#[derive(Debug)]
pub(crate) struct Form {
    /// What the table is: `a mill file`.
    pub(crate) of: &'static str,
    /// Every field, in the order in which they are written.
    pub(crate) fields: &'static [&'static str],
}

/// The fields of a table of one form.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fields<'a> {
    pub(crate) file: &'a TextFile,
    table: &'a Table,
}

impl<'a> Fields<'a> {
    /// The fields of a table; those that its form does not have, and those that it has twice, are faults.
    pub(crate) fn of(
        file: &'a TextFile,
        table: &'a Table,
        form: &Form,
        faults: &mut Vec<Fault>,
    ) -> Self {
        let mut named: Vec<&str> = Vec::new();
        for Entry { key, key_at, .. } in &table.entries {
            let mut fault = |field: String, kind: FaultKind, help: String| {
                let (place, kind) = (file.place(key_at.clone()), Box::new(kind));
                faults.push(Fault { field, kind, help: help.into(), place });
            };
            if !form.fields.contains(&&**key) {
                let nearest = nearest_word(key, form.fields);
                let help = nearest.map_or_else(
                    || format!("{} has {}", form.of, form.fields.join(", ")),
                    |field| format!("write {field}, or take the line out"),
                );
                // A key may be as long as the file, and hold what cannot be printed.
                let field = Excerpt::new(key).to_string();
                fault(field, FaultKind::UnknownField { of: form.of, nearest }, help);
            } else if named.contains(&&**key) {
                let kind = FaultKind::Repeated { what: Excerpt::new(key) };
                fault(key.clone(), kind, "keep one of the two".to_owned());
            } else {
                named.push(key);
            }
        }
        Self { file, table }
    }

    /// A field, whatever stands behind it.
    pub(crate) fn node(&self, name: &str) -> Option<&'a Node> {
        self.table.entry(name).map(|entry| &entry.node)
    }

    /// Bytes of the file that are the name of a field.
    pub(crate) fn key_at(&self, name: &str) -> Option<Range<usize>> {
        self.table.entry(name).map(|entry| entry.key_at.clone())
    }

    /// What a person takes for the whole table.
    pub(crate) fn head(&self) -> Range<usize> {
        self.table.head.clone()
    }

    /// A field that is a text, or a number or a date as it is written. `right` says what it should be.
    pub(crate) fn typed(&self, name: &'static str, right: Right, faults: &mut Vec<Fault>) -> Typed {
        match self.node(name) {
            None => self.absent(name),
            Some(node) => typed(self.file, name, node, right, faults),
        }
    }

    /// A field that is one such value or a list of them; an empty list is a fault.
    pub(crate) fn list(
        &self,
        name: &'static str,
        right: Right,
        faults: &mut Vec<Fault>,
    ) -> Vec<Typed> {
        match self.node(name) {
            None => Vec::new(),
            Some(Node { value: Value::List(nodes), .. }) if !nodes.is_empty() => {
                nodes.iter().map(|node| typed(self.file, name, node, right, faults)).collect()
            }
            Some(node) => vec![typed(self.file, name, node, right, faults)],
        }
    }

    /// One value of a field that is a list, read as if it were the field.
    pub(crate) fn item(
        &self,
        name: &'static str,
        node: &Node,
        right: Right,
        faults: &mut Vec<Fault>,
    ) -> Typed {
        typed(self.file, name, node, right, faults)
    }

    /// A value that is nothing of what the field should be.
    pub(crate) fn refuse(
        &self,
        name: &'static str,
        node: &Node,
        right: Right,
        faults: &mut Vec<Fault>,
    ) {
        wrong(self.file, name, node, right, faults);
    }

    /// A field that is `true` or `false`, and where it stands.
    pub(crate) fn flag(&self, name: &'static str, faults: &mut Vec<Fault>) -> (Typed, bool) {
        match self.node(name) {
            None => (self.absent(name), false),
            Some(Node { value: Value::Flag(on), at }) => {
                (Typed::absent(name, self.file, at.clone()), *on)
            }
            Some(node) => (wrong(self.file, name, node, FLAG, faults), false),
        }
    }

    /// A field that is a whole number within limits, written without quotes.
    pub(crate) fn whole(
        &self,
        name: &'static str,
        limits: RangeInclusive<u32>,
        help: impl Into<Cow<'static, str>>,
        faults: &mut Vec<Fault>,
    ) -> Option<u32> {
        let node = self.node(name)?;
        let read = match &node.value {
            Value::Number(number) => number.parse().ok(),
            _ => None,
        };
        let read = read.filter(|number| limits.contains(number));
        if read.is_none() {
            let got = Excerpt::new(self.file.slice(node.at.clone()));
            let (least, greatest) = (*limits.start(), *limits.end());
            let kind = FaultKind::WholeRange { least, greatest, got };
            faults.push(Typed::judged(name, self.file, node.at.clone()).fault(kind, help));
        }
        read
    }

    /// Tables of a list of them, `[[logs]]`; `None` where there is no such field, or where it is none.
    pub(crate) fn tables(
        &self,
        name: &'static str,
        right: Right,
        faults: &mut Vec<Fault>,
    ) -> Option<Vec<&'a Table>> {
        let node = self.node(name)?;
        let Value::List(nodes) = &node.value else {
            wrong(self.file, name, node, right, faults);
            return None;
        };
        let mut tables = Vec::new();
        for node in nodes {
            match &node.value {
                Value::Table(table) => tables.push(table),
                _ => drop(wrong(self.file, name, node, right, faults)),
            }
        }
        Some(tables)
    }

    /// A table in it, `[mill]`; `None` where there is no such field, or where it is none.
    pub(crate) fn table(
        &self,
        name: &'static str,
        right: Right,
        faults: &mut Vec<Fault>,
    ) -> Option<&'a Table> {
        let node = self.node(name)?;
        let Value::Table(table) = &node.value else {
            wrong(self.file, name, node, right, faults);
            return None;
        };
        Some(table)
    }

    fn absent(&self, name: &'static str) -> Typed {
        Typed::absent(name, self.file, self.table.head.clone())
    }
}

/// What a value should be, and an example of it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Right {
    /// `a length in quotes`.
    pub(crate) what: &'static str,
    /// What to write.
    pub(crate) help: &'static str,
    /// A number or a date will do.
    pub(crate) bare: bool,
}

const FLAG: Right =
    Right { what: "true or false", help: "write true or false, without quotes", bare: false };

fn typed(
    file: &TextFile,
    name: &'static str,
    node: &Node,
    right: Right,
    faults: &mut Vec<Fault>,
) -> Typed {
    match text_of_node(node, right.bare) {
        Some(text) => {
            let text_at = inside(file.text(), node.at.clone(), text);
            Typed::written(name, text.to_owned(), file, node.at.clone(), text_at)
        }
        None => wrong(file, name, node, right, faults),
    }
}

/// The text of a value: a text, or, where `bare` will do, a number or a date as it is written.
pub(crate) fn text_of_node(node: &Node, bare: bool) -> Option<&str> {
    match &node.value {
        Value::Text(text) => Some(text),
        Value::Number(text) | Value::Date(text) if bare => Some(text),
        _ => None,
    }
}

fn wrong(
    file: &TextFile,
    name: &'static str,
    node: &Node,
    right: Right,
    faults: &mut Vec<Fault>,
) -> Typed {
    let got = Excerpt::new(file.slice(node.at.clone()));
    let kind = FaultKind::WrongKind { right: right.what, got };
    let judged = Typed::judged(name, file, node.at.clone());
    faults.push(judged.fault(kind, right.help));
    judged
}
