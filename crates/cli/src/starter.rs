//! The job file to begin with.

use std::io::{self, ErrorKind};
use std::path::Path;

use pithward_job::starter_job;

use crate::arguments::NewArguments;
use crate::outcome::Outcome;
use crate::written::{shown, write_new};

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
