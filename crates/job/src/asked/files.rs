//! The files that a job names: on the disk, or kept with a plan.

use crate::fault::{FileFault, Misread};
use crate::file::{FileKind, bytes_of};
use pithward_measure::Excerpt;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A file that is larger than this is kept by its mark alone, unless it is the job itself, a sheet or a mill.
pub const KEPT_WHOLE: usize = 1 << 20;

/// A file that was read for a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AskedFile {
    /// Where it was looked for.
    pub path: String,
    /// How many bytes it has.
    pub length: u64,
    /// The CRC-32 of them, that of ISO 3309.
    pub check: u32,
    /// Its bytes; `None` where it is too large to be kept.
    pub bytes: Option<Arc<[u8]>>,
}

impl AskedFile {
    /// A file of these bytes, kept whole.
    pub fn whole(path: &Path, bytes: &[u8]) -> Self {
        Self {
            path: path.to_string_lossy().into_owned(),
            length: bytes.len() as u64,
            check: crc32fast::hash(bytes),
            bytes: Some(bytes.into()),
        }
    }

    /// The same, by its mark alone where it is large.
    pub(crate) fn of(path: &Path, bytes: &[u8]) -> Self {
        let whole = Self::whole(path, bytes);
        if bytes.len() > KEPT_WHOLE { Self { bytes: None, ..whole } } else { whole }
    }

    /// Whether these are its bytes.
    fn is(&self, bytes: &[u8]) -> bool {
        bytes.len() as u64 == self.length && crc32fast::hash(bytes) == self.check
    }
}

/// Where files are found.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Files {
    /// On the disk.
    #[default]
    OnDisk,
    /// With a plan, and nowhere else; those that are kept by their marks alone on the disk.
    Kept(Arc<[AskedFile]>),
}

impl Files {
    /// Those of a plan.
    pub(crate) fn kept(files: &[AskedFile]) -> Self {
        Self::Kept(files.into())
    }

    /// The bytes of a file. `name` is how the person wrote its name.
    pub(crate) fn bytes(
        &self,
        path: &Path,
        name: &str,
        kind: &FileKind,
    ) -> Result<Vec<u8>, Misread> {
        let Self::Kept(files) = self else { return bytes_of(path, name, kind) };
        let wanted = path.to_string_lossy();
        let file = || Excerpt::new(name);
        let Some(kept) = files.iter().find(|kept| kept.path == wanted) else {
            let help = "a plan keeps every file that it was made from: plan the job again";
            return Err(Misread::new(FileFault::NotKept { file: file() }, 0..0, help));
        };
        let bytes = match &kept.bytes {
            Some(bytes) => bytes.to_vec(),
            None => bytes_of(path, name, kind)?,
        };
        if kept.is(&bytes) {
            return Ok(bytes);
        }
        let fault = FileFault::Changed { file: file(), bytes: kept.length };
        let help = "bring back the file that the plan was made from, or plan the job again";
        Err(Misread::new(fault, 0..0, help))
    }

    /// A file that was read already; `None` where it is gone since.
    pub(crate) fn again(&self, path: &Path) -> Option<AskedFile> {
        match self {
            Self::OnDisk => Some(AskedFile::of(path, &std::fs::read(path).ok()?)),
            Self::Kept(files) => {
                let wanted = path.to_string_lossy();
                files.iter().find(|kept| kept.path == wanted).cloned()
            }
        }
    }
}

/// From where the files that a job names are looked for.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Folder<'a> {
    /// The folder of the job.
    pub(crate) base: &'a Path,
    /// Where they are found.
    pub(crate) files: &'a Files,
}

impl Folder<'_> {
    /// The path of a file by its name in the job.
    pub(crate) fn join(&self, name: &str) -> PathBuf {
        self.base.join(name)
    }
}
