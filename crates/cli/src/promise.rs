//! The kept promise of a job, in the file beside it.

use std::fs;
use std::io::ErrorKind;
use std::path::Path;

use pithward_day::kept::Kept;

use crate::outcome::Outcome;
use crate::written;

/// The promise that is kept beside a job file; `None` where none is.
pub(crate) fn beside(job: &Path) -> Result<Option<Kept>, Outcome> {
    let path = job.with_extension("promise");
    let refused = |why: String| Outcome::Unwritable {
        message: format!("{} {why}", written::shown(&path)),
        help: "move it away, and keep the promise again: pithward quote JOB --keep",
    };
    match fs::read_to_string(&path) {
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(refused(format!("cannot be read: {error}"))),
        Ok(text) => Kept::read(&text).map(Some).map_err(|fault| refused(fault.to_string())),
    }
}
