//! The job file to begin with.

use std::fs::{self, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::Path;

use pithward_job::starter_job;

use crate::arguments::NewArguments;
use crate::outcome::Outcome;

/// Writes it, or prints it; a file that is there is never touched.
pub(crate) fn new(arguments: &NewArguments) -> Outcome {
    let path = arguments.file.as_path();
    if path == Path::new("-") {
        return Outcome::Done(starter_job().to_owned());
    }
    match write_new(path, starter_job()) {
        Ok(()) => Outcome::Done(format!(
            "Wrote {file}. Its logs and its list are invented: put your own in their place, then\n  \
             pithward check {file}\n  pithward plan {file}\n",
            file = shown(path)
        )),
        Err(error) => unwritable(path, &error),
    }
}

/// Writes a file that is not there yet, whole or not at all.
fn write_new(path: &Path, text: &str) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    let written = file.write_all(text.as_bytes()).and_then(|()| file.sync_all());
    if written.is_err() {
        // It was made two lines ago and holds nothing of anybody's.
        let _ = fs::remove_file(path);
    }
    written
}

fn unwritable(path: &Path, error: &io::Error) -> Outcome {
    let file = shown(path);
    let (message, help) = match error.kind() {
        _ if path.is_dir() => (
            format!("{file} is a directory"),
            "name the file too, as in pithward new directory/job.toml",
        ),
        ErrorKind::AlreadyExists => (
            format!("{file} is there already, and is left as it is"),
            "name another file, as in pithward new other.toml, or print it with pithward new -",
        ),
        ErrorKind::NotFound => (
            format!("{file} cannot be written: there is no such directory"),
            "make the directory first, or name one that is there",
        ),
        _ => (
            format!("{file} cannot be written: {error}"),
            "name a file in a directory of your own, or print it with pithward new -",
        ),
    };
    Outcome::Unwritable { message, help }
}

/// A path as it can be typed again: in quotes where it has more than plain characters.
fn shown(path: &Path) -> String {
    let plain = |c: char| c.is_alphanumeric() || "/\\._-:".contains(c);
    match path.to_str() {
        Some(text) if !text.is_empty() && text.chars().all(plain) => text.to_owned(),
        _ => format!("{path:?}"),
    }
}
