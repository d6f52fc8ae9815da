//! What somebody who types means, some of which depends on what the tally says already.

use pithward_job::PileJob;
use pithward_measure::{Excerpt, Size};
use thiserror::Error;

use crate::entry::{Doing, Said, Wanted};
use crate::record::Record;
use crate::so_far;
use crate::words::{self, Reading, WordFault, WordFaultKind};

/// What is meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Meant {
    /// Just what was typed.
    Said(Said),
    /// Work goes on: with what it was before it rested, else with sawing.
    GoOn,
    /// The last entry is undone.
    UndoLast,
    /// The file counts as it is.
    Confirm,
}

/// Why what is meant cannot be said of this tally.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum MeantFault {
    /// Nothing there to be undone.
    #[error("there is no entry to be undone")]
    NothingToUndo,
    /// No such entry.
    #[error("there is no entry {number}")]
    NoEntry {
        /// The number that was typed.
        number: u64,
    },
    /// It is undone already.
    #[error("entry {number} is undone already, by entry {by}")]
    Undone {
        /// The number that was typed.
        number: u64,
        /// The entry that undid it.
        by: u64,
    },
    /// Nothing in the file needs it.
    #[error("every line of the tally is as it was written: there is nothing to confirm")]
    NothingToConfirm,
}

impl Meant {
    /// Reads what was typed about a job. Logs may be shortened to any beginning that no other has, and a size without a length
    /// gets the one in which the list wants it.
    ///
    /// # Errors
    /// Everything that is wrong with it.
    pub fn read(words: &[String], job: &PileJob) -> Result<Self, Vec<WordFault>> {
        let [first, rest @ ..] = words else {
            return words::read(words, Reading::Kept).map(Self::Said);
        };
        if rest.is_empty() {
            match words::verb(first) {
                Ok("begin") => return Ok(Self::GoOn),
                Ok("undo") => return Ok(Self::UndoLast),
                Ok("confirm") => return Ok(Self::Confirm),
                _ => {}
            }
        }
        let logs: Vec<String> = job.logs.iter().map(|log| log.id.clone()).collect();
        let wants = sizes(job);
        let reading = Reading::Typed { logs: &logs, wants: &wants };
        let said = words::read(words, reading)?;
        match &said {
            Said::Want(wanted) => of_the_list(wanted, job)?,
            Said::Confirm { .. } => {
                let got = Excerpt::new(&rest.join(" "));
                let kind = WordFaultKind::LeftOver { got };
                return Err(vec![WordFault { kind, words: 1..words.len() }]);
            }
            _ => {}
        }
        Ok(Self::Said(said))
    }

    /// What it comes to, as the tally is.
    ///
    /// # Errors
    /// It is about an entry that is not there, or about nothing.
    pub fn said(&self, record: &Record) -> Result<Said, MeantFault> {
        match self {
            Self::Said(Said::Undo { entry }) => {
                let mut of = record.entries.iter().filter(|one| one.entry.number == *entry);
                let number = *entry;
                let last = of.next_back().ok_or(MeantFault::NoEntry { number })?;
                match last.undone_by {
                    Some(by) => Err(MeantFault::Undone { number, by }),
                    None => Ok(Said::Undo { entry: number }),
                }
            }
            Self::Said(said) => Ok(said.clone()),
            Self::GoOn => Ok(Said::Begin(before_rest(record))),
            Self::UndoLast => {
                let matters =
                    |said: &Said| !matches!(said, Said::Undo { .. } | Said::Confirm { .. });
                let mut counted = record.counted().filter(|entry| matters(&entry.said));
                let last = counted.by_ref().last().ok_or(MeantFault::NothingToUndo)?;
                Ok(Said::Undo { entry: last.number })
            }
            Self::Confirm if record.open_warnings().next().is_none() => {
                Err(MeantFault::NothingToConfirm)
            }
            // Its check is known once it is written.
            Self::Confirm => Ok(Said::Confirm { check: 0 }),
        }
    }
}

/// What was done before work rested; sawing where it stopped, or where nothing was said.
fn before_rest(record: &Record) -> Doing {
    let mut doing = Doing::Sawing;
    for entry in record.counted() {
        match &entry.said {
            Said::Begin(now) => doing = *now,
            Said::On { .. } | Said::Stop => doing = Doing::Sawing,
            _ => {}
        }
    }
    doing
}

/// The sizes that are wanted, each with each of its lengths.
pub(crate) fn sizes(job: &PileJob) -> Vec<Size> {
    let all = job.wants.iter().flat_map(|want| {
        want.lengths.iter().map(|length| Size { length: Some(*length), ..want.size })
    });
    all.collect()
}

/// Whether a changed want is one line of the list, or new to it.
fn of_the_list(wanted: &Wanted, job: &PileJob) -> Result<(), Vec<WordFault>> {
    let lines = u32::try_from(job.wants.len()).unwrap_or(u32::MAX);
    let fault = |kind, words| Err(vec![WordFault { kind, words }]);
    let got = || Excerpt::new(&wanted.typed);
    let at = so_far::lines_of(job, &wanted.size);
    let of = || {
        let said = |n: &usize| format!("{} on line {} of the list", job.wants[*n].size, n + 1);
        at.iter().map(said).collect::<Vec<_>>()
    };
    if let Some(line) = wanted.line {
        let n = usize::try_from(line).unwrap_or(usize::MAX).wrapping_sub(1);
        return match (n < job.wants.len(), at.contains(&n)) {
            (_, true) => Ok(()),
            (false, _) => {
                let got = Excerpt::new(&line.to_string());
                fault(WordFaultKind::Count { least: 1, most: lines, got }, 4..5)
            }
            (true, false) => fault(WordFaultKind::Ambiguous { got: got(), of: of() }, 1..2),
        };
    }
    match at[..] {
        [_] => Ok(()),
        [] if wanted.size.length.is_some() => Ok(()),
        [] => fault(WordFaultKind::NoLength { got: got(), near: Vec::new() }, 1..2),
        _ => fault(WordFaultKind::Ambiguous { got: got(), of: of() }, 1..2),
    }
}

#[cfg(test)]
mod tests;
