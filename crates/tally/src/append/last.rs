//! Which entry was the last, kept in a small file beside the tally.
//!
//! # Why
//! The check of a line goes into the next, so whatever is changed or cut out before a line is noticed by that line. What is
//! cut off at the end has no line behind it: a shorter file looks whole. So the number and the check of the last entry are
//! written beside it, `farm.tally.last` beside `farm.tally`, after every entry:
//! ```text
//! pithward tally 1 has entry 57 5f2ac1d0 | 03c1d99e
//! # Written after every entry, ... : a remark for whoever finds the file
//! ```
//! The last figure is a check of what stands before the bar, so a torn file says nothing rather than something wrong.
//!
//! # What it may do
//! It is written once the entry is on the disk: it may lag behind the tally, and never leads. It is read before the tally, so
//! that it does not seem to lead where somebody adds an entry meanwhile. Where it is lost, torn, or of another version, or left
//! behind when a job is moved, nothing is said and the next entry writes it anew.
//!
//! # What is not caught
//! Entries lost from the end where this file is lost too, or where both come from the same older copy; and the very last
//! ones, where the machine stopped between writing them and writing this.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use crate::line;

/// The last entry that was kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Last {
    /// Its number.
    pub(crate) number: u64,
    /// The check of its line.
    pub(crate) check: u32,
}

/// Longer than any such file.
const MOST: u64 = 4096;

/// What stands between the head of a tally and the number.
const HAS: &str = "has entry";

const REMARK: &str = "\
# Written after every entry, so that entries which go missing from the end of the tally beside it are noticed.
# It holds nothing else: without it, or with an older one, the tally is as good as before.
";

/// The file beside a tally.
pub(super) fn beside(tally: &Path) -> PathBuf {
    let mut name = tally.file_name().unwrap_or_default().to_owned();
    name.push(".last");
    tally.with_file_name(name)
}

/// What it says; `None` where there is none that can be read.
pub(super) fn read(tally: &Path) -> Option<Last> {
    let path = beside(tally);
    // Opening what is no file may wait for ever.
    if !fs::metadata(&path).ok()?.is_file() {
        return None;
    }
    let mut text = String::new();
    File::open(path).ok()?.take(MOST).read_to_string(&mut text).ok()?;
    of_text(&text)
}

fn of_text(text: &str) -> Option<Last> {
    let (body, check) = text.lines().next()?.rsplit_once(" | ")?;
    if line::check_of(check.trim()) != Some(line::check(0, body)) {
        return None;
    }
    let (head, said) = body.split_once(HAS)?;
    if line::version(head) != Some(line::VERSION) {
        return None;
    }
    let (number, check) = said.trim().split_once(' ')?;
    Some(Last { number: number.parse().ok()?, check: line::check_of(check)? })
}

/// Writes what the last entry is, and sees that it is on the disk.
pub(super) fn write(tally: &Path, last: Last) -> io::Result<()> {
    let text = text(last);
    // Over what stands there, in one write: a file of so few bytes is hardly ever torn, and nothing else is left lying about.
    let mut file =
        OpenOptions::new().write(true).create(true).truncate(false).open(beside(tally))?;
    file.write_all(text.as_bytes())?;
    file.set_len(text.len() as u64)?;
    file.sync_data()
}

fn text(Last { number, check }: Last) -> String {
    let body = format!("{} {} {HAS} {number} {check:08x}", line::HEAD, line::VERSION);
    format!("{body} | {:08x}\n{REMARK}", line::check(0, &body))
}

#[cfg(test)]
mod tests {
    use super::{Last, of_text, text};

    #[test]
    fn what_is_written_is_read_and_nothing_else() {
        let last = Last { number: 57, check: 0x05f2_ac1d };
        let whole = text(last);
        assert!(whole.starts_with("pithward tally 1 has entry 57 05f2ac1d | "), "{whole}");
        assert_eq!(of_text(&whole), Some(last));
        let first = whole.lines().next().unwrap().len();
        for cut in 0..first {
            assert_eq!(of_text(&whole[..cut]), None, "{cut}");
        }
        // A shorter one written over a longer one that was not cut yet.
        assert_eq!(of_text(&format!("{whole}left over")), Some(last));
        for (from, to) in [("57", "58"), ("tally 1", "tally 2"), ("pithward", "somebody")] {
            assert_eq!(of_text(&whole.replacen(from, to, 1)), None, "{to}");
        }
        assert_eq!(of_text(""), None);
    }
}
