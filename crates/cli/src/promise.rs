//! The kept promise of a job, in the file beside it.
//!
//! It is written aside, synced and put in its place in one step; an older promise is first copied to a name of its own, with
//! the time at which it was made. So whatever happens there is one promise or the other, and none is ever lost.

use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

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

/// Keeps a promise beside a job file; says where, and what became of an older one.
pub(crate) fn keep(job: &Path, kept: &Kept) -> Result<String, Outcome> {
    let path = job.with_extension("promise");
    let shown = written::shown(&path);
    let failed = |error: io::Error| Outcome::NotKept {
        message: format!("{shown} cannot be written: {error}; the promise is not kept"),
        help: "the promise is kept beside the job file: it needs a folder that can be written to, with room on the disk",
    };
    let mut said = String::new();
    match fs::read(&path) {
        Err(error) if error.kind() == ErrorKind::NotFound => {}
        Err(error) => return Err(failed(error)),
        Ok(old) => {
            let read = std::str::from_utf8(&old).ok().and_then(|text| Kept::read(text).ok());
            if let Some(read) = &read
                && (Kept { at: kept.at.clone(), ..read.clone() }).write() == kept.write()
            {
                return Ok(format!(
                    "{shown} is there already and promises the same, since {}.\n",
                    read.at
                ));
            }
            let aside = put_aside(&path, read.as_ref(), &old).map_err(failed)?;
            said = format!("The promise that was there is {} now.\n", written::shown(&aside));
        }
    }
    let aside = path.with_extension(format!("promise.{}.new", std::process::id()));
    let put = || {
        written::write_new(&aside, &kept.write())?;
        fs::rename(&aside, &path)
    };
    if let Err(error) = put() {
        // It is this run's own.
        let _ = fs::remove_file(&aside);
        return Err(failed(error));
    }
    sync_folder(&path);
    Ok(format!("{said}The promise is kept in {shown}.\n"))
}

/// Copies what is there to a name that nothing has yet: with the time at which it was made, where it says one.
fn put_aside(path: &Path, read: Option<&Kept>, old: &[u8]) -> io::Result<PathBuf> {
    let at = read.map_or("unread", |kept| kept.at.get(..19).unwrap_or("undated"));
    let at: String = at.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
    let mut n = 1;
    loop {
        let number = if n == 1 { String::new() } else { format!(".{n}") };
        let name = path.with_extension(format!("{at}{number}.promise"));
        match written::bytes_new(&name, old) {
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {
                if fs::read(&name).is_ok_and(|there| there == old) {
                    return Ok(name);
                }
                n += 1;
            }
            Err(error) => return Err(error),
            Ok(()) => return Ok(name),
        }
    }
}

/// A name is on the disk once its folder is. Where that cannot be asked for, the system does it in its own time.
fn sync_folder(path: &Path) {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    if let Ok(folder) = fs::File::open(folder.unwrap_or(Path::new("."))) {
        let _ = folder.sync_all();
    }
}
