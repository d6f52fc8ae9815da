//! Adding to the file, so that what was acknowledged stays.
//!
//! # How
//! 1. The file is locked against all others that add to it, and read.
//! 2. What the last writer left unfinished is ended: the remains of a line get a mark and do not count. Nothing is erased.
//! 3. All new lines go into the file in one write at its end, and are synced to the disk; of a new file its directory too.
//! 4. Which entry is the last now is written into a small file beside it, so that a tally that got shorter is noticed
//!    ([`last`] says how, and what is not noticed).
//! 5. Only then is it said that they are kept.
//!
//! A writer that is killed loses at most what it had not acknowledged. One that runs out of disk takes back what it wrote
//! of its own lines, and nothing else.

mod last;
mod locked;

use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind, Read, Write};
use std::path::{Path, PathBuf};

use jiff::ZonedDateTime;
use thiserror::Error;

use crate::entry::{Entry, Said};
use crate::line;
use crate::record::{self, Ending, ReadFault, Record, Warning, WarningKind};
pub(crate) use last::Last;
use locked::Locked;

/// The longest file that is read, bytes: some hundred thousand entries.
const MOST: u64 = 64 << 20;

/// An entry before it has its number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// When it happened.
    pub at: ZonedDateTime,
    /// The time was told by hand.
    pub late: bool,
    /// What it says.
    pub said: Said,
}

/// What was added.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Appended {
    /// The tally as it is now.
    pub record: Record,
    /// How many of its last entries are new.
    pub new: usize,
    /// The remains of a line that was never kept, which stood at the end of the file and have a mark now.
    pub ended: Option<Warning>,
    /// The file could not be locked here: two that write at the same time may give the same number twice.
    pub unlocked: bool,
    /// Which entry is the last could not be written beside the file: where it gets shorter, that may go unnoticed.
    pub unmarked: bool,
}

/// Why nothing was added. The file is as it was.
#[derive(Debug, Error)]
pub enum AppendFault {
    /// It cannot be opened.
    #[error("cannot be opened: {0}")]
    Open(#[source] io::Error),
    /// It is no file that can be added to.
    #[error("is no file")]
    NoFile,
    /// It cannot be read.
    #[error("cannot be read: {0}")]
    Read(#[source] io::Error),
    /// It is longer than any tally.
    #[error("is longer than {} MB, and no tally is", MOST >> 20)]
    TooLong,
    /// What is in it is no tally.
    #[error(transparent)]
    NoTally(#[from] ReadFault),
    /// Somebody else holds it and does not let go.
    #[error("is held by another program that does not let go of it")]
    Held,
    /// It cannot be written.
    #[error("cannot be written: {error}")]
    Write {
        /// Why.
        #[source]
        error: io::Error,
        /// What was written of the new lines was taken back; where not, it does not count, and gets its mark when the next
        /// entry is added.
        taken_back: bool,
    },
}

/// The file of the tally of a job: beside the job file, of the same name.
pub fn beside(job: &Path) -> PathBuf {
    job.with_extension("tally")
}

/// Reads a tally; none where there is no file yet, and none was ever kept.
///
/// # Errors
/// It cannot be read, or is no tally.
pub fn open(path: &Path) -> Result<Option<Record>, AppendFault> {
    // Before the tally: it may lag behind, and must not seem to lead.
    let last = last::read(path);
    match fs::metadata(path) {
        Err(error) if error.kind() == ErrorKind::NotFound => {
            return Ok(match last {
                None => None,
                Some(_) => Some(record::read(&[], last)?.record),
            });
        }
        Err(error) => return Err(AppendFault::Open(error)),
        Ok(found) if !found.is_file() => return Err(AppendFault::NoFile),
        Ok(_) => {}
    }
    let mut file = File::open(path).map_err(AppendFault::Open)?;
    // A line that is being written is not torn.
    let _lock = Locked::shared(&file)?;
    Ok(Some(record::read(&bytes(&mut file)?, last)?.record))
}

/// Adds entries to a tally, which is made where it is missing. What they are is decided by `drafts` once nobody else can
/// write: it is handed the tally as it is then, and the number of the next entry. Where it gives none, nothing is written.
///
/// # Errors
/// What `drafts` says, or why nothing could be added.
pub fn append<E: From<AppendFault>>(
    path: &Path,
    drafts: impl FnOnce(&Record, u64) -> Result<Vec<Draft>, E>,
) -> Result<Appended, E> {
    let (mut file, lock) = held(path)?;
    let unlocked = !lock.is_held();
    let last = last::read(path);
    let before = bytes(&mut file)?;
    let mut whole = record::read(&before, last).map_err(AppendFault::from)?;
    let drafts = drafts(&whole.record, whole.next)?;
    if drafts.is_empty() {
        let record = whole.record;
        return Ok(Appended { record, new: 0, ended: None, unlocked, unmarked: false });
    }
    let mut text = match whole.ending {
        Ending::Whole => String::new(),
        Ending::Unended => "\n".to_owned(),
        Ending::Torn => format!("{}\n", line::TORN),
        Ending::Head => line::head().get(before.len()..).unwrap_or_default().to_owned(),
    };
    let new = drafts.len();
    let confirms = drafts.iter().any(|draft| matches!(draft.said, Said::Confirm { .. }));
    let other = whole.record.open_warnings().any(|of| matches!(of.kind, WarningKind::Other { .. }));
    for Draft { at, late, said } in drafts {
        // What was known up to here, for a confirmation.
        let said = match said {
            Said::Confirm { .. } => Said::Confirm { check: hash(&before, &text) },
            said => said,
        };
        let entry = Entry { number: whole.next, at, late, said };
        let (line, check) = line::write(&entry, whole.last_check);
        text.push_str(&line);
        text.push('\n');
        whole.last_check = check;
        whole.next = whole.next.saturating_add(1);
    }
    write(&mut file, path, &text, before.len())?;
    let mut all = before;
    all.extend_from_slice(text.as_bytes());
    let torn = |warning: &&Warning| matches!(warning.kind, WarningKind::Torn { .. });
    let ended = whole.record.warnings.iter().rfind(torn).cloned();
    let ended = ended.filter(|_| whole.ending == Ending::Torn);
    let now = Last { number: whole.next.saturating_sub(1), check: whole.last_check };
    // What is not the file that was written here stays so until somebody says that it counts.
    let keeps = other && !confirms;
    let unmarked = !keeps && last::write(path, now).is_err();
    let known = if keeps { last } else { Some(now) };
    let record = record::read(&all, known).map_err(AppendFault::from)?.record;
    Ok(Appended { record, new, ended, unlocked, unmarked })
}

fn hash(before: &[u8], text: &str) -> u32 {
    let mut hasher = crc32fast::Hasher::new();
    hasher.update(before);
    hasher.update(text.as_bytes());
    hasher.finalize()
}

/// The file, open and locked. Whoever saves a file by putting another in its place may do so while it is waited for; what
/// went into the old one would be lost.
fn held(path: &Path) -> Result<(File, Locked), AppendFault> {
    const TIMES: usize = 20;
    for _ in 0..TIMES {
        match fs::metadata(path) {
            Ok(found) if !found.is_file() => return Err(AppendFault::NoFile),
            _ => {}
        }
        let open = OpenOptions::new().read(true).append(true).create(true).open(path);
        let file = open.map_err(AppendFault::Open)?;
        let lock = Locked::alone(&file)?;
        if is_still(path, &file) {
            return Ok((file, lock));
        }
    }
    Err(AppendFault::Held)
}

#[cfg(unix)]
fn is_still(path: &Path, file: &File) -> bool {
    use std::os::unix::fs::MetadataExt;
    match (fs::metadata(path), file.metadata()) {
        (Ok(there), Ok(here)) => (there.dev(), there.ino()) == (here.dev(), here.ino()),
        _ => false,
    }
}

#[cfg(not(unix))]
fn is_still(path: &Path, _: &File) -> bool {
    path.exists()
}

fn bytes(file: &mut File) -> Result<Vec<u8>, AppendFault> {
    let mut bytes = Vec::new();
    file.take(MOST + 1).read_to_end(&mut bytes).map_err(AppendFault::Read)?;
    if bytes.len() as u64 > MOST {
        return Err(AppendFault::TooLong);
    }
    Ok(bytes)
}

/// Puts text at the end of a file that has some length, and sees that it is on the disk.
fn write(file: &mut File, path: &Path, text: &str, length: usize) -> Result<(), AppendFault> {
    let written = file.write_all(text.as_bytes()).and_then(|()| file.sync_all());
    if let Err(error) = written {
        // Only what was written just now, by this process, which alone holds the file.
        let taken_back = file.set_len(length as u64).and_then(|()| file.sync_all()).is_ok();
        return Err(AppendFault::Write { error, taken_back });
    }
    if length == 0 {
        sync_directory(path);
    }
    Ok(())
}

/// A new file is in its directory only once that is on the disk. Where directories cannot be synced they need not be.
fn sync_directory(path: &Path) {
    let parent = path.parent().filter(|parent| !parent.as_os_str().is_empty());
    if let Ok(directory) = File::open(parent.unwrap_or(Path::new("."))) {
        let _ = directory.sync_all();
    }
}

#[cfg(test)]
mod tests;
