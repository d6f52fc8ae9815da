//! One line of the file: `12 2026-05-02T09:41:07-04:00[America/New_York] off 4 2x8x12 from A3 | 5f2ac1d0`.
//!
//! ```text
//! line  = number time ["late"] words " | " check
//! time  = RFC 9557: date, time of the day, offset, zone
//! check = CRC-32 of the check before it, a blank, and all that stands before the bar; eight hexadecimal digits
//! ```
//! The check of one line goes into that of the next, so a line that was changed and lines that were taken out are found.
//! It guards against slips and torn disks, not against whoever wants to cheat.

use crate::entry::Entry;
use crate::time;
use crate::words::quoting::{self, Word};
use crate::words::{self, Reading};

/// What a file of this version begins with.
pub(crate) const HEAD: &str = "pithward tally";

/// The version of the form.
pub(crate) const VERSION: u32 = 1;

/// What stands below the head of a new file.
pub(crate) const FOREWORD: &str = "\
# One entry a line: its number, when, what, and behind the bar a check. Lines are added, never taken away.
# Take an entry back with `pithward tally JOB undo`, not in this file.
";

/// The mark behind the remains of a line that was never whole.
pub(crate) const TORN: &str = " #torn";

/// What a line reads as.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Line {
    /// Its entry.
    pub(crate) entry: Entry,
    /// What its check is, if it has one.
    pub(crate) check: Option<u32>,
    /// Its check would be this, behind a line with the check that was handed in.
    pub(crate) right: u32,
}

/// The check of what stands before the bar, behind a line with the check `before`.
pub(crate) fn check(before: u32, body: &str) -> u32 {
    let mut hasher = crc32fast::Hasher::new();
    hasher.update(format!("{before:08x} ").as_bytes());
    hasher.update(body.as_bytes());
    hasher.finalize()
}

/// A check as it is written.
pub(crate) fn check_of(text: &str) -> Option<u32> {
    let plain = text.len() == 8 && text.bytes().all(|byte| byte.is_ascii_hexdigit());
    plain.then(|| u32::from_str_radix(text, 16).ok()).flatten()
}

/// What stands before the bar, and the check behind it.
pub(crate) fn apart(line: &str) -> (&str, Option<u32>) {
    let parts = line.rsplit_once(" | ");
    match parts.and_then(|(body, check)| Some((body, check_of(check.trim())?))) {
        Some((body, check)) => (body, Some(check)),
        None => (line, None),
    }
}

/// An entry as its line, without an end of line, and its check.
pub(crate) fn write(entry: &Entry, before: u32) -> (String, u32) {
    let late = if entry.late { "late " } else { "" };
    let body = format!("{} {} {late}{}", entry.number, entry.at, entry.said.line());
    let check = check(before, &body);
    (format!("{body} | {check:08x}"), check)
}

/// Reads a line; `None` where it is none.
pub(crate) fn read(line: &str, before: u32) -> Option<Line> {
    let (body, found) = apart(line);
    let words = quoting::split(body).ok()?;
    let (number, words) = words.split_first()?;
    let plain = number.text.bytes().all(|byte| byte.is_ascii_digit());
    let number = number.text.parse().ok().filter(|number| plain && *number > 0)?;
    let Said { at, late, said } = timed(words, Reading::Kept)?.ok()?;
    let entry = Entry { number, at, late, said };
    Some(Line { entry, check: found, right: check(before, body) })
}

/// A time and what was said then.
#[derive(Clone, Debug)]
pub(crate) struct Said {
    pub(crate) at: jiff::ZonedDateTime,
    pub(crate) late: bool,
    pub(crate) said: crate::entry::Said,
}

/// A time, and words; `None` where there is no time.
pub(crate) fn timed(
    words: &[Word],
    reading: Reading<'_>,
) -> Option<Result<Said, Vec<words::WordFault>>> {
    let (at, words) = words.split_first()?;
    let at = time::kept(&at.text)?;
    let late = words.first().is_some_and(|word| word.text == "late");
    let texts: Vec<String> = words.iter().skip(usize::from(late)).map(|w| w.text.clone()).collect();
    Some(words::read(&texts, reading).map(|said| Said { at, late, said }))
}

/// What a new file begins with.
pub(crate) fn head() -> String {
    format!("{HEAD} {VERSION}\n{FOREWORD}")
}

/// The version that a first line names; `None` where it is no first line of a tally.
pub(crate) fn version(line: &str) -> Option<u32> {
    line.trim().strip_prefix(HEAD)?.trim().parse().ok()
}
