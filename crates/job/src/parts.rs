//! A measurement that has several parts, `2 in toward 6 at 6 ft`: as a text, or as a table of a file.
//!
//! ```text
//! text = [head] { word value }
//! ```
//! A word is the name of a part; the part that the form says needs no word where it stands first. Commas and `=` part words
//! as blanks do, but for a comma between two digits. A table has the same parts by the same names.

use std::ops::Range;

use pithward_measure::{Excerpt, Length, Unit};

use crate::fault::{Fault, FaultKind, Misread};
use crate::file::{Fields, Form, Right, Value};
use crate::typed::{Asked, Typed};

/// The parts that a measurement may have.
#[derive(Debug)]
pub(crate) struct PartsForm {
    /// What it is, and its parts in the order in which they are written.
    pub(crate) form: Form,
    /// The part that needs no word before it in a text.
    pub(crate) head: &'static str,
    /// Other words for parts.
    pub(crate) also: &'static [(&'static str, &'static str)],
    /// What would be right, for whoever wrote something of another kind.
    pub(crate) right: Right,
}

/// A measurement of several parts, as far as each is there.
#[derive(Clone, Debug)]
pub(crate) struct Parts {
    /// All of it, to be told of where a part is missing.
    whole: Typed,
    /// The parts that were written, in the order of the form.
    parts: Vec<(&'static str, Typed)>,
}

/// What may stand as a part in a table.
const PART: Right = Right {
    what: "a text in quotes",
    help: "write a text in quotes, as in \"2 in\" or \"6 o'clock\"",
    bare: true,
};

impl Parts {
    /// The parts of a text; `None` where nothing was written.
    pub(crate) fn of_text(
        typed: &Typed,
        form: &PartsForm,
        faults: &mut Vec<Fault>,
    ) -> Option<Self> {
        let text = typed.text.as_deref()?;
        let (mut key, mut from) = (form.head, 0);
        let mut found: Vec<(&'static str, Range<usize>)> = Vec::new();
        for (word, at) in keys(text, form) {
            found.push((key, from..at.start));
            (key, from) = (word, at.end);
        }
        found.push((key, from..text.len()));
        let found = found.into_iter().map(|(key, at)| (key, trimmed(text, at))).enumerate();
        // Nothing may stand before the first word.
        let found = found.filter(|(n, (_, at))| *n > 0 || !at.is_empty()).map(|(_, found)| found);
        Some(Self::of_found(typed, found, faults))
    }

    /// Parts by the bytes that each is in a text.
    pub(crate) fn of_found(
        typed: &Typed,
        found: impl IntoIterator<Item = (&'static str, Range<usize>)>,
        faults: &mut Vec<Fault>,
    ) -> Self {
        let mut parts: Vec<(&'static str, Typed)> = Vec::new();
        for (key, at) in found {
            if parts.iter().any(|(known, _)| *known == key) {
                let kind = FaultKind::Repeated { what: Excerpt::new(key) };
                faults.push(typed.placed(Misread::new(kind, at, "say it once")));
                continue;
            }
            parts.push((key, typed.part(at)));
        }
        Self { whole: typed.clone(), parts }
    }

    /// The parts of a field that is a table or a text; `None` where there is no such field, or where it is neither.
    pub(crate) fn of_field(
        fields: &Fields<'_>,
        name: &'static str,
        form: &PartsForm,
        faults: &mut Vec<Fault>,
    ) -> Option<Self> {
        let node = fields.node(name)?;
        if let Value::Table(table) = &node.value {
            let whole = Typed::judged(name, fields.file, node.at.clone());
            return Some(Self::of_table(
                &Fields::of(fields.file, table, &form.form, faults),
                whole,
                form,
                faults,
            ));
        }
        let typed = fields.typed(name, form.right, faults);
        Self::of_text(&typed, form, faults)
    }

    /// The parts of each value of a field that is a list of tables or texts.
    pub(crate) fn list(
        fields: &Fields<'_>,
        name: &'static str,
        form: &PartsForm,
        faults: &mut Vec<Fault>,
    ) -> Vec<Self> {
        let Some(node) = fields.node(name) else { return Vec::new() };
        let Value::List(nodes) = &node.value else {
            fields.refuse(name, node, form.right, faults);
            return Vec::new();
        };
        let mut all = Vec::new();
        for node in nodes {
            match &node.value {
                Value::Table(table) => {
                    let whole = Typed::judged(name, fields.file, node.at.clone());
                    let of = Fields::of(fields.file, table, &form.form, faults);
                    all.push(Self::of_table(&of, whole, form, faults));
                }
                Value::Text(_) => {
                    let typed = fields.item(name, node, form.right, faults);
                    all.extend(Self::of_text(&typed, form, faults));
                }
                _ => fields.refuse(name, node, form.right, faults),
            }
        }
        all
    }

    /// The parts of the fields of a table; `whole` is what the table is to its reader.
    pub(crate) fn of_table(
        fields: &Fields<'_>,
        whole: Typed,
        form: &PartsForm,
        faults: &mut Vec<Fault>,
    ) -> Self {
        let given = form.form.fields.iter().filter(|name| fields.node(name).is_some());
        let parts = given.map(|name| (*name, fields.typed(name, PART, faults))).collect();
        Self { whole, parts }
    }

    /// A part that was written.
    pub(crate) fn get(&self, part: &str) -> Option<&Typed> {
        self.parts.iter().find(|(known, _)| *known == part).map(|(_, typed)| typed)
    }

    /// The first of some parts that was written.
    pub(crate) fn any_of(&self, parts: &[&'static str]) -> Option<&'static str> {
        parts.iter().copied().find(|part| self.get(part).is_some())
    }

    /// A fault of the whole.
    pub(crate) fn fault(&self, kind: impl Into<FaultKind>, help: &'static str) -> Fault {
        self.whole.fault(kind, help)
    }

    /// A fault of the whole, with its help.
    pub(crate) fn placed(&self, misread: Misread) -> Fault {
        self.whole.placed(misread)
    }

    /// A part that says nothing of what this is.
    pub(crate) fn stray(
        &self,
        part: &'static str,
        of: &'static str,
        help: &'static str,
    ) -> Option<Fault> {
        let fault = self.get(part)?.fault(FaultKind::PartOf { part, of }, help);
        Some(Fault { field: self.whole.name.to_owned(), ..fault })
    }

    /// What `read` makes of a part.
    pub(crate) fn read<T>(
        &self,
        part: &str,
        faults: &mut Vec<Fault>,
        read: impl FnOnce(&Typed, &str) -> Result<T, Misread>,
    ) -> Option<T> {
        let typed = self.get(part)?;
        typed.read(faults, |text| read(typed, text))
    }

    /// A part that cannot be left out.
    pub(crate) fn require<T>(
        &self,
        part: &'static str,
        help: &'static str,
        faults: &mut Vec<Fault>,
        read: impl FnOnce(&Typed, &str) -> Result<T, Misread>,
    ) -> Option<T> {
        if self.get(part).is_none() {
            faults.push(self.fault(FaultKind::NoPart { part }, help));
        }
        self.read(part, faults, read)
    }

    /// All of it on one line, as it was written: a text as it is, of a table its parts by their names.
    pub(crate) fn words(&self, form: &PartsForm) -> String {
        if let Some(text) = &self.whole.text {
            return text.split_whitespace().collect::<Vec<_>>().join(" ");
        }
        let one = |(key, typed): &(&'static str, Typed)| {
            let text = typed.text.as_deref().unwrap_or_default().trim();
            if *key == form.head { text.to_owned() } else { format!("{key} {text}") }
        };
        self.parts.iter().map(one).collect::<Vec<_>>().join(", ")
    }
}

/// A length within limits, as a part is read.
pub(crate) fn length(
    help: &'static str,
    bare: Unit,
    least: Length,
    greatest: Length,
) -> impl FnOnce(&Typed, &str) -> Result<Length, Misread> {
    move |typed, text| {
        let greatest = greatest.max(least);
        typed.length_of(text, Asked { help, bare }, Some(least..=greatest))
    }
}

/// The words of a text that are names of parts, with the bytes that they are.
pub(crate) fn keys(text: &str, form: &PartsForm) -> Vec<(&'static str, Range<usize>)> {
    let words = words(text);
    let mut keys = Vec::new();
    for at in words {
        let word = text[at.clone()].to_lowercase();
        let known = form.form.fields.iter().copied().find(|field| *field == word);
        let also = || form.also.iter().find(|(other, _)| *other == word).map(|(_, field)| *field);
        if let Some(key) = known.or_else(also) {
            keys.push((key, at));
        }
    }
    keys
}

/// The bytes of each word.
pub(crate) fn words(text: &str) -> Vec<Range<usize>> {
    let (mut words, mut from) = (Vec::new(), None);
    let bytes = text.as_bytes();
    let digit = |at: Option<usize>| at.and_then(|at| bytes.get(at)).is_some_and(u8::is_ascii_digit);
    for (at, c) in text.char_indices() {
        let decimal = c == ',' && digit(at.checked_sub(1)) && digit(Some(at + 1));
        if c.is_whitespace() || c == '=' || (c == ',' && !decimal) {
            words.extend(from.take().map(|from| from..at));
        } else {
            from.get_or_insert(at);
        }
    }
    words.extend(from.map(|from| from..text.len()));
    words
}

/// The same bytes without what parts words.
pub(crate) fn trimmed(text: &str, at: Range<usize>) -> Range<usize> {
    let between = |c: char| c.is_whitespace() || matches!(c, ',' | '=');
    let part = &text[at.clone()];
    let start = at.start + part.len() - part.trim_start_matches(between).len();
    start..start + part.trim_matches(between).len()
}
