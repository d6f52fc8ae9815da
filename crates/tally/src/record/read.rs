//! A file, read line by line: what can be read counts, what cannot is told and kept.

use std::collections::BTreeMap;

use thiserror::Error;

use super::{Record, Recorded, Warning, WarningKind};
use crate::append::Last;
use crate::entry::Said;
use crate::line::{self, Line};

/// The most characters of a line that are told.
const SHOWN: usize = 120;

/// Why a file is no tally.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum ReadFault {
    /// Something else is in it.
    #[error("is no tally: its first line does not say so, and no line of it is an entry")]
    NoTally,
    /// A later version of this program wrote it.
    #[error("is a tally of version {version}, and this program knows version {known}")]
    Newer {
        /// Its version.
        version: u32,
        /// The one that is known.
        known: u32,
    },
}

/// A file as it was read, and what its next line needs to know.
#[derive(Clone, Debug, Default)]
pub(crate) struct Whole {
    pub(crate) record: Record,
    /// The check of the last line.
    pub(crate) last_check: u32,
    /// The number that the next entry has.
    pub(crate) next: u64,
    /// How it ends.
    pub(crate) ending: Ending,
}

/// How a file ends.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Ending {
    /// As it should.
    #[default]
    Whole,
    /// With an entry that lacks only its end of line.
    Unended,
    /// With the remains of a line.
    Torn,
    /// Before the head of the file is whole: nothing else is in it.
    Head,
}

/// What is carried from line to line.
#[derive(Debug, Default)]
struct Reader {
    whole: Whole,
    /// Numbers that were read, with how often.
    seen: BTreeMap<u64, u32>,
    /// The greatest number so far.
    last_number: u64,
    /// Lines since the last entry that could not be read.
    unread: u64,
    /// The line that says that all before it counts as it is; 0 where none does.
    confirmed: usize,
    /// The last entry that is known to have been kept.
    last: Option<Last>,
    /// Its line is there.
    has_last: bool,
    /// The line of an entry of its number that is as it was written, and another.
    other: Option<usize>,
}

impl Record {
    /// Reads a file.
    ///
    /// # Errors
    /// It is no tally, or one that this program is too old for. Whatever else is wrong with it is among the warnings.
    pub fn read(bytes: &[u8]) -> Result<Self, ReadFault> {
        read(bytes, None).map(|whole| whole.record)
    }
}

/// Reads a file of which an entry is known to have been kept. Where that is gone from its end, the next entry has the number
/// behind it and goes on from its check: so the gap is told in the file itself, and the lines fit where somebody finds them
/// and puts them back.
pub(crate) fn read(bytes: &[u8], last: Option<Last>) -> Result<Whole, ReadFault> {
    let mut reader = Reader { last, ..Reader::default() };
    let without_mark = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let mark = bytes.len() - without_mark.len();
    let mut from = mark;
    let mut number = 0;
    let mut has_head = false;
    while from < bytes.len() {
        let end = bytes[from..].iter().position(|byte| *byte == b'\n').map(|at| from + at);
        let text = String::from_utf8_lossy(&bytes[from..end.unwrap_or(bytes.len())]);
        number += 1;
        if number == 1
            && let Some(version) = line::version(&text)
        {
            if version > line::VERSION {
                return Err(ReadFault::Newer { version, known: line::VERSION });
            }
            has_head = true;
            if end.is_none() {
                reader.whole.ending = Ending::Unended;
            }
        } else {
            reader.line(number, text.trim_end(), end.is_some(), &bytes[..from]);
        }
        from = end.map_or(bytes.len(), |end| end + 1);
    }
    if !has_head {
        if line::head().as_bytes().starts_with(bytes) {
            reader = Reader { last, ..Reader::default() };
            reader.whole.ending = Ending::Head;
        } else if reader.whole.record.entries.is_empty() {
            return Err(ReadFault::NoTally);
        } else {
            reader.warn(1, WarningKind::NoHead);
        }
    }
    reader.hold_against_the_last(number + 1);
    reader.whole.next = reader.last_number.saturating_add(1);
    let Reader { mut whole, confirmed, .. } = reader;
    undo(&mut whole.record);
    for warning in &mut whole.record.warnings {
        // What is missing before the line that confirms stands on that line.
        let missing = matches!(warning.kind, WarningKind::Missing { .. });
        warning.confirmed |= warning.line < confirmed || (missing && warning.line == confirmed);
    }
    Ok(whole)
}

impl Reader {
    /// Takes a line, without its end and blanks before that, in the place where it stands.
    fn line(&mut self, number: usize, text: &str, ended: bool, before: &[u8]) {
        let remains = text.strip_suffix(line::TORN);
        if text.is_empty() || (text.starts_with('#') && remains.is_none()) {
            if !ended && !text.is_empty() {
                self.whole.ending = Ending::Unended;
            }
            return;
        }
        if let Some(remains) = remains {
            let kind = WarningKind::Torn { text: shown(remains) };
            self.whole.record.warnings.push(Warning { line: number, kind, confirmed: true });
            return;
        }
        let read = line::read(text, self.whole.last_check);
        let right = read.as_ref().is_some_and(|line| line.check == Some(line.right));
        if !ended && !right {
            self.whole.ending = Ending::Torn;
            self.warn(number, WarningKind::Torn { text: shown(text) });
            return;
        }
        if !ended {
            self.whole.ending = Ending::Unended;
        }
        match read {
            Some(line) => self.entry(number, line, right, before),
            None => {
                self.warn(number, WarningKind::Unread { text: shown(text) });
                self.unread += 1;
                let (body, check) = line::apart(text);
                self.has_last |= check.is_some() && check == self.last.map(|last| last.check);
                self.whole.last_check = check.unwrap_or(self.whole.last_check);
                let first = body.split_whitespace().next().and_then(|word| word.parse().ok());
                // A number that nobody reached by counting is no number.
                let near = |number: &u64| *number <= self.last_number.saturating_add(1_000_000);
                self.last_number = self.last_number.max(first.filter(near).unwrap_or(0));
            }
        }
    }

    fn entry(&mut self, number: usize, line: Line, right: bool, before: &[u8]) {
        let Line { entry, check, .. } = line;
        let seen = self.seen.entry(entry.number).or_insert(0);
        *seen += 1;
        let repeated = *seen > 1;
        let expected = self.last_number.saturating_add(1);
        if repeated {
            self.warn(number, WarningKind::Repeated { number: entry.number });
        } else if !right {
            let gap = entry.number.saturating_sub(expected);
            // What cannot be read is not missing.
            if entry.number > expected && gap > self.unread {
                let (first, last) = (expected, entry.number - 1);
                self.warn(number, WarningKind::Missing { first, last });
            }
            if check.is_none() || (entry.number <= expected && self.unread == 0) {
                self.warn(number, WarningKind::Changed);
            }
        }
        self.unread = 0;
        if let Some(last) = self.last {
            self.has_last |= check == Some(last.check);
            if right && entry.number == last.number && check != Some(last.check) {
                self.other = Some(number);
            }
        }
        self.last_number = self.last_number.max(entry.number);
        self.whole.last_check = check.unwrap_or(self.whole.last_check);
        if let Said::Confirm { check } = entry.said
            && check == crc32fast::hash(before)
        {
            self.confirmed = number;
        }
        self.whole.record.entries.push(Recorded { line: number, entry, undone_by: None });
    }

    /// Holds the whole file against the last entry that was kept; `behind` is the line behind its last.
    fn hold_against_the_last(&mut self, behind: usize) {
        let Some(last) = self.last.filter(|_| !self.has_last) else { return };
        if let Some(line) = self.other {
            self.warn(line, WarningKind::Other { number: last.number });
        } else if self.last_number < last.number {
            let first = self.last_number.saturating_add(1);
            self.warn(behind, WarningKind::CutOff { first, last: last.number });
            self.last_number = last.number;
            self.whole.last_check = last.check;
        }
    }

    fn warn(&mut self, line: usize, kind: WarningKind) {
        self.whole.record.warnings.push(Warning { line, kind, confirmed: false });
    }
}

/// Marks what is undone, from the last entry to the first: an entry that undoes is undone only by a later one.
fn undo(record: &mut Record) {
    for n in (0..record.entries.len()).rev() {
        let Recorded { line, entry, undone_by } = &record.entries[n];
        let (Said::Undo { entry: target }, None) = (&entry.said, undone_by) else { continue };
        let (line, by, target) = (*line, entry.number, *target);
        let of = |recorded: &&mut Recorded| {
            recorded.entry.number == target && recorded.undone_by.is_none()
        };
        match record.entries[..n].iter_mut().rev().find(of) {
            Some(recorded) => recorded.undone_by = Some(by),
            None => {
                let kind = WarningKind::NothingUndone { entry: target };
                record.warnings.push(Warning { line, kind, confirmed: false });
            }
        }
    }
    record.warnings.sort_by_key(|warning| warning.line);
}

fn shown(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { '\u{fffd}' } else { c }).take(SHOWN).collect()
}

#[cfg(test)]
mod tests;
