//! A lock on a file, waited for but not for ever.

use std::fs::{File, TryLockError};
use std::io::ErrorKind;
use std::thread;
use std::time::Duration;

use super::AppendFault;

/// How long one waits between two tries.
const WAIT: Duration = Duration::from_millis(10);

/// How often one tries: whoever adds an entry holds the file for some milliseconds, so ten seconds are for ever.
const TRIES: usize = 1000;

/// A lock, held as long as this lives.
#[derive(Debug)]
pub(super) struct Locked(Option<File>);

impl Locked {
    /// Against everybody else.
    pub(super) fn alone(file: &File) -> Result<Self, AppendFault> {
        Self::by(file, File::try_lock)
    }

    /// Against those who write.
    pub(super) fn shared(file: &File) -> Result<Self, AppendFault> {
        Self::by(file, File::try_lock_shared)
    }

    /// Whether there is one: some disks know no locks.
    pub(super) fn is_held(&self) -> bool {
        self.0.is_some()
    }

    fn by(file: &File, lock: fn(&File) -> Result<(), TryLockError>) -> Result<Self, AppendFault> {
        let own = file.try_clone().map_err(AppendFault::Open)?;
        for _ in 0..TRIES {
            match lock(&own) {
                Ok(()) => return Ok(Self(Some(own))),
                Err(TryLockError::WouldBlock) => thread::sleep(WAIT),
                Err(TryLockError::Error(error)) if error.kind() == ErrorKind::Interrupted => {}
                Err(TryLockError::Error(error)) if error.kind() == ErrorKind::Unsupported => {
                    return Ok(Self(None));
                }
                Err(TryLockError::Error(error)) => return Err(AppendFault::Open(error)),
            }
        }
        Err(AppendFault::Held)
    }
}

impl Drop for Locked {
    fn drop(&mut self) {
        if let Some(file) = &self.0 {
            // Where it cannot be given back, the end of the process does it.
            let _ = file.unlock();
        }
    }
}
