//! Files that the command writes: whole or not at all, and never over what is there.

use std::fs::{self, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use crate::outcome::Outcome;

/// What became of a file that was to be written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kept {
    /// It is there now.
    Written,
    /// It was there, and held the same.
    Same,
}

/// Writes a file that is not there yet, whole or not at all.
pub(crate) fn write_new(path: &Path, text: &str) -> io::Result<()> {
    bytes_new(path, text.as_bytes())
}

/// The same of bytes.
pub(crate) fn bytes_new(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    let written = file.write_all(bytes).and_then(|()| file.sync_all());
    if written.is_err() {
        // It was made two lines ago and holds nothing of anybody's.
        let _ = fs::remove_file(path);
    }
    written
}

/// Writes some files into a directory, which is made where it is missing. Nothing is written where one of them is there
/// already and holds something else.
pub(crate) fn all_new(directory: &Path, files: &[(PathBuf, String)]) -> Result<Vec<Kept>, Outcome> {
    if directory.exists() && !directory.is_dir() {
        return Err(Outcome::Unwritable {
            message: format!("{} is no directory", shown(directory)),
            help: "name a directory; it is made where it is missing",
        });
    }
    fs::create_dir_all(directory).map_err(|error| unwritable(directory, &error))?;
    let mut kept = Vec::with_capacity(files.len());
    for (path, text) in files {
        kept.push(match fs::read(path) {
            Ok(there) if there == text.as_bytes() => Kept::Same,
            Ok(_) => return Err(unwritable(path, &ErrorKind::AlreadyExists.into())),
            Err(error) if error.kind() == ErrorKind::NotFound => Kept::Written,
            Err(error) => return Err(unwritable(path, &error)),
        });
    }
    for ((path, text), kept) in files.iter().zip(&kept) {
        if *kept == Kept::Written {
            write_new(path, text).map_err(|error| unwritable(path, &error))?;
        }
    }
    Ok(kept)
}

/// The same, and what became of each is told.
pub(crate) fn told_all_new(directory: &Path, files: &[(PathBuf, String)]) -> Outcome {
    match all_new(directory, files) {
        Err(refused) => refused,
        Ok(kept) => {
            let lines = files.iter().zip(kept).map(|((path, _), kept)| match kept {
                Kept::Written => format!("Wrote {}.\n", shown(path)),
                Kept::Same => format!("{} is there already, word for word.\n", shown(path)),
            });
            Outcome::Done(lines.collect())
        }
    }
}

fn unwritable(path: &Path, error: &io::Error) -> Outcome {
    let file = shown(path);
    let (message, help) = match error.kind() {
        ErrorKind::AlreadyExists => (
            format!("{file} is there already with something else in it, and is left as it is"),
            "name another directory, or move what is there",
        ),
        _ => (
            format!("{file} cannot be written: {error}"),
            "name a directory of your own; it is made where it is missing",
        ),
    };
    Outcome::Unwritable { message, help }
}

/// A path as it can be typed again: in quotes where it has more than plain characters.
pub(crate) fn shown(path: &Path) -> String {
    let plain = |c: char| c.is_alphanumeric() || "/\\._-:".contains(c);
    match path.to_str() {
        Some(text) if !text.is_empty() && text.chars().all(plain) => text.to_owned(),
        _ => format!("{path:?}"),
    }
}
