//! Entries that were kept elsewhere: what a page on a phone has exported.
//!
//! ```text
//! line = time ["late"] words          as in the file, without number and check
//! ```
//! Lines that are empty or begin with `#`, and a first line that says what the file is, are passed over; so are number and
//! check, where they are there. `undo` without a number takes back the line before it that counts; with a number it says
//! nothing, for lines of an export have none. What is in the tally already, by its time and its words, is not added again,
//! not even what was undone there: the same export may be read as often as one likes, and a longer one after it.

use std::ops::Range;

use jiff::{SignedDuration, ZonedDateTime};
use pithward_job::PileJob;
use thiserror::Error;

use crate::append::Draft;
use crate::entry::Said;
use crate::line;
use crate::meant::Meant;
use crate::record::Record;
use crate::time;
use crate::words::quoting;
use crate::words::{WordFault, WordFaultKind};

/// How far the clock of another device may be ahead.
const AHEAD: SignedDuration = SignedDuration::from_mins(10);

/// Entries that were kept elsewhere.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Import {
    lines: Vec<Line>,
}

/// One of them.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Line {
    at: ZonedDateTime,
    meant: Meant,
}

/// What is new of an import.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Imported {
    /// The entries, to be added.
    pub drafts: Vec<Draft>,
    /// How many lines are in the tally already.
    pub known: usize,
}

/// A fault of an import, and where it is.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{kind}")]
pub struct ImportFault {
    /// What is wrong.
    pub kind: ImportFaultKind,
    /// The line, from 1.
    pub line: usize,
    /// Which bytes of the file it is.
    pub at: Range<usize>,
}

/// Why a line cannot be taken.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum ImportFaultKind {
    /// It does not begin with a time.
    #[error("the line does not begin with a time")]
    NoTime,
    /// A quotation does not end.
    #[error("the quotation mark has no other to it")]
    OpenQuote,
    /// It is still to come.
    #[error("the time is still to come")]
    Ahead,
    /// Its words say nothing that can be kept.
    #[error(transparent)]
    Words(#[from] WordFaultKind),
    /// It undoes by a number.
    #[error("an export has no numbers that could be undone")]
    Numbered,
}

impl ImportFaultKind {
    /// What would be right.
    pub fn help(&self) -> String {
        match self {
            Self::NoTime => {
                "begin it with its time and zone, as in 2026-05-02T09:41:07-04:00[America/New_York]"
                    .to_owned()
            }
            Self::OpenQuote => "close it, or leave it out".to_owned(),
            Self::Ahead => "set it right; the clock of the other device may be wrong".to_owned(),
            Self::Words(kind) => kind.help(),
            Self::Numbered => "write `undo` alone, which takes back the line before it".to_owned(),
        }
    }
}

impl Import {
    /// Reads an export about a job.
    ///
    /// # Errors
    /// Every fault of every line; nothing is taken then.
    pub fn read(text: &str, job: &PileJob, now: &ZonedDateTime) -> Result<Self, Vec<ImportFault>> {
        let mut lines = Vec::new();
        let mut faults = Vec::new();
        let mut from = 0;
        for (n, whole) in text.split('\n').enumerate() {
            let start = from;
            from += whole.len() + 1;
            let lead =
                if n == 0 { whole.len() - whole.trim_start_matches('\u{feff}').len() } else { 0 };
            let body = whole[lead..].trim_end();
            if body.is_empty() || body.starts_with('#') || (n == 0 && line::version(body).is_some())
            {
                continue;
            }
            match one(line::apart(body).0, job, now) {
                Ok(Some(line)) => lines.push(line),
                Ok(None) => {}
                Err(more) => faults.extend(more.into_iter().map(|(kind, at)| {
                    let at = start + lead + at.start..start + lead + at.end;
                    ImportFault { kind, line: n + 1, at }
                })),
            }
        }
        if faults.is_empty() { Ok(Self { lines }) } else { Err(faults) }
    }

    /// What of it is new to a tally whose next entry has the number `next`.
    pub fn new_to(&self, record: &Record, next: u64) -> Imported {
        let mut imported = Imported { drafts: Vec::new(), known: 0 };
        // The numbers of the lines that count so far, the last at the end.
        let mut counting: Vec<(u64, bool)> = Vec::new();
        // An entry of the tally is the same as one line, not as two.
        let mut taken = vec![false; record.entries.len()];
        for Line { at, meant } in &self.lines {
            let said = match meant {
                Meant::Said(said) => said.clone(),
                Meant::GoOn => Said::Begin(crate::entry::Doing::Sawing),
                Meant::UndoLast => match counting.pop() {
                    None => continue,
                    // It is undone there already.
                    Some((_, true)) => {
                        imported.known += 1;
                        continue;
                    }
                    Some((entry, false)) => Said::Undo { entry },
                },
                Meant::Confirm => continue,
            };
            let same = record.entries.iter().enumerate().find(|(n, one)| {
                let same = one.entry.at.timestamp() == at.timestamp() && one.entry.said == said;
                same && !taken[*n]
            });
            let undoes = matches!(said, Said::Undo { .. });
            if let Some((n, known)) = same.filter(|_| !undoes) {
                taken[n] = true;
                imported.known += 1;
                counting.push((known.entry.number, known.undone_by.is_some()));
                continue;
            }
            if !undoes {
                counting.push((next.saturating_add(imported.drafts.len() as u64), false));
            }
            imported.drafts.push(Draft { at: at.clone(), late: true, said });
        }
        imported
    }
}

type Misread = (ImportFaultKind, Range<usize>);

/// A line without its check; `None` where it says nothing that is to be taken.
fn one(body: &str, job: &PileJob, now: &ZonedDateTime) -> Result<Option<Line>, Vec<Misread>> {
    let words =
        quoting::split(body).map_err(|at| vec![(ImportFaultKind::OpenQuote, at..body.len())])?;
    let mut words = words.as_slice();
    if let [first, rest @ ..] = words
        && first.text.bytes().all(|byte| byte.is_ascii_digit())
    {
        words = rest;
    }
    let [first, rest @ ..] = words else {
        return Err(vec![(ImportFaultKind::NoTime, 0..body.len())]);
    };
    let Some(at) = time::kept(&first.text) else {
        return Err(vec![(ImportFaultKind::NoTime, first.at.clone())]);
    };
    if at.duration_since(now) > AHEAD {
        return Err(vec![(ImportFaultKind::Ahead, first.at.clone())]);
    }
    let rest = match rest {
        [late, rest @ ..] if late.text == "late" => rest,
        rest => rest,
    };
    let texts: Vec<String> = rest.iter().map(|word| word.text.clone()).collect();
    let place =
        |words: Range<usize>| match (rest.get(words.start), rest.get(words.end.wrapping_sub(1))) {
            (Some(first), Some(last)) if words.start < words.end => first.at.start..last.at.end,
            _ => first.at.end..body.len(),
        };
    // The check of a confirmation is one of another file.
    if texts.first().is_some_and(|word| word == "confirm") {
        return Ok(None);
    }
    let meant = Meant::read(&texts, job).map_err(|faults| {
        let placed = |WordFault { kind, words }| (ImportFaultKind::Words(kind), place(words));
        faults.into_iter().map(placed).collect::<Vec<_>>()
    })?;
    if let Meant::Said(Said::Undo { .. }) = meant {
        return Err(vec![(ImportFaultKind::Numbered, place(0..rest.len()))]);
    }
    Ok(Some(Line { at, meant }))
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::{Import, ImportFaultKind};
    use crate::entry::{Entry, Said};
    use crate::record::{Record, Recorded};
    use jiff::ZonedDateTime;
    use pithward_job::{PileJob, parse_job, starter_job};

    fn job() -> PileJob {
        parse_job(starter_job().as_bytes(), "starter.toml", "JOB", Path::new("")).unwrap()
    }

    fn now() -> ZonedDateTime {
        "2026-05-02T18:00:00-04:00[America/New_York]".parse().unwrap()
    }

    fn lines(times_and_words: &[&str]) -> String {
        let line = |text: &&str| {
            let (time, words) = text.split_once(' ').unwrap();
            format!("2026-05-02T{time}:00-04:00[America/New_York] {words}\n")
        };
        times_and_words.iter().map(line).collect()
    }

    /// What comes of reading exports one after the other.
    fn read_all(exports: &[String]) -> (Vec<String>, Vec<usize>) {
        let mut record = Record::default();
        let mut known = Vec::new();
        for text in exports {
            let next = record.entries.len() as u64 + 1;
            let imported = Import::read(text, &job(), &now()).unwrap().new_to(&record, next);
            known.push(imported.known);
            for (number, draft) in (next..).zip(imported.drafts) {
                if let Said::Undo { entry } = draft.said {
                    record.entries[entry as usize - 1].undone_by = Some(number);
                }
                let entry = Entry { number, at: draft.at, late: draft.late, said: draft.said };
                record.entries.push(Recorded { line: 0, entry, undone_by: None });
            }
        }
        let said = record.entries.iter().map(|one| one.entry.said.line()).collect();
        (said, known)
    }

    #[test]
    fn the_same_export_twice_is_the_same_as_once() {
        let id = job().logs[0].id.clone();
        let short =
            lines(&[&format!("08:00 on \"{id}\""), "08:10 off 2 2x8x12", "08:10 off 2 2x8x12"]);
        let more = short.clone() + &lines(&["08:20 undo", "08:30 note rain"]);
        let on = format!("on {}", crate::words::quoting::join(std::slice::from_ref(&id)));
        let off = "off 2 2x8x12".to_owned();
        let once = vec![on, off.clone(), off];
        assert_eq!(read_all(&[short.clone(), short.clone()]), (once.clone(), vec![0, 3]));
        let all = [once, vec!["undo 3".to_owned(), "note rain".to_owned()]].concat();
        assert_eq!(read_all(std::slice::from_ref(&more)), (all.clone(), vec![0]));
        // What was undone after the first reading is undone once.
        assert_eq!(read_all(&[short, more.clone(), more]), (all, vec![0, 3, 5]));
    }

    #[test]
    fn heads_remarks_numbers_and_checks_are_passed_over() {
        let text = "\u{feff}pithward tally 1\r\n# from the phone\r\n\r\n7 2026-05-02T09:00:00Z late note a | 0011aabb\r\n\
                    2026-05-02T09:01:00Z confirm 0011aabb\n";
        assert_eq!(read_all(&[text.to_owned()]).0, ["note a"]);
    }

    #[test]
    fn every_fault_with_its_line() {
        let text = lines(&["08:00 note fine"])
            + "note no time\n"
            + &lines(&[
                "08:00 on nowhere",
                "23:00 note ahead",
                "08:00 undo 3",
                "08:00 note \"open",
            ]);
        let faults = Import::read(&text, &job(), &now()).unwrap_err();
        let told: Vec<(usize, &str)> =
            faults.iter().map(|fault| (fault.line, &text[fault.at.clone()])).collect();
        assert_eq!(told[0], (2, "note"));
        assert_eq!(told[1], (3, "nowhere"));
        assert_eq!((told[2].0, told[3], told[4]), (4, (5, "undo 3"), (6, "\"open")));
        assert!(matches!(faults[2].kind, ImportFaultKind::Ahead));
    }
}
