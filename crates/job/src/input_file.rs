//! A file that a job was read from, known again by its mark.
//!
//! Whether a job is still the one that was promised is told by its bytes: who changes a comment is told so too, and knows
//! what was changed.

use crate::asked::AskedFile;
use std::path::Path;

/// A file as it was when a job was read from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InputFile {
    /// Its name without its folders, as those may be called otherwise from elsewhere.
    pub name: String,
    /// How many bytes it has.
    pub bytes: u64,
    /// The CRC-32 of them, that of ISO 3309.
    pub check: u32,
}

impl InputFile {
    /// A file of these bytes.
    pub fn of(name: &str, bytes: &[u8]) -> Self {
        let own = Path::new(name).file_name().map(|own| own.to_string_lossy().into_owned());
        Self {
            name: own.unwrap_or_else(|| name.to_owned()),
            bytes: bytes.len() as u64,
            check: crc32fast::hash(bytes),
        }
    }

    /// A file that is kept with a plan.
    pub(crate) fn kept(file: &AskedFile) -> Self {
        let mark = Self::of(&file.path, &[]);
        Self { bytes: file.length, check: file.check, ..mark }
    }

    /// Files of which there is another now: those of `then` that `now` has not as they were, and those that only `now` has.
    pub fn changed<'a>(then: &'a [Self], now: &'a [Self]) -> Vec<&'a str> {
        let lacks = |all: &'a [Self], of: &'a [Self]| {
            of.iter().filter(move |one| !all.contains(one)).map(|one| one.name.as_str())
        };
        let mut names: Vec<&str> = lacks(now, then).chain(lacks(then, now)).collect();
        names.sort_unstable();
        names.dedup();
        names
    }
}

#[cfg(test)]
mod tests {
    use super::InputFile;

    #[test]
    fn a_file_is_known_by_its_name_and_bytes() {
        let of = InputFile::of;
        // The check value that every description of this CRC gives.
        assert_eq!(of("a/b/job.toml", b"123456789").check, 0xcbf4_3926);
        assert_eq!(of("a/b/job.toml", b"x"), of("job.toml", b"x"));
        let then = [of("job.toml", b"one"), of("mill.toml", b"two"), of("logs.csv", b"three")];
        let now = [of("job.toml", b"one "), of("mill.toml", b"two"), of("more.ply", b"")];
        assert_eq!(InputFile::changed(&then, &then), Vec::<&str>::new());
        assert_eq!(InputFile::changed(&then, &now), ["job.toml", "logs.csv", "more.ply"]);
    }
}
