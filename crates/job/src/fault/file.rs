//! What is wrong with a file as a whole.

use pithward_measure::Excerpt;
use thiserror::Error;

/// What is wrong with a file as a whole.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum FileFault {
    /// No such file.
    #[error("there is no file {file}")]
    NoFile {
        /// Its name.
        file: Excerpt,
    },
    /// A directory.
    #[error("{file} is a directory, not a file")]
    Directory {
        /// Its name.
        file: Excerpt,
    },
    /// A file that cannot be read.
    #[error("{file} cannot be read: {why}")]
    Unreadable {
        /// Its name.
        file: Excerpt,
        /// What the system says.
        why: std::io::ErrorKind,
    },
    /// A file that is no text.
    #[error(
        "{file} is not UTF-8 text: the byte {byte:#04x} on line {line} belongs to no character"
    )]
    NotUtf8 {
        /// Its name.
        file: Excerpt,
        /// The byte.
        byte: u8,
        /// The line it is on, from 1.
        line: usize,
    },
    /// A file with nothing in it.
    #[error("{file} is empty")]
    EmptyFile {
        /// Its name.
        file: Excerpt,
    },
    /// A file far larger than any of its kind.
    #[error("{file} is larger than {most} bytes, and no {what} is")]
    FileTooLarge {
        /// Its name.
        file: Excerpt,
        /// What it should be: `mill file`.
        what: &'static str,
        /// The most that is read.
        most: u64,
    },
    /// A file that a plan was made from and does not have.
    #[error("the plan does not have {file}")]
    NotKept {
        /// Its name.
        file: Excerpt,
    },
    /// A file that is not as it was when a plan was made from it.
    #[error("{file} is not the file of {bytes} bytes that the plan was made from")]
    Changed {
        /// Its name.
        file: Excerpt,
        /// How many bytes it had.
        bytes: u64,
    },
    /// A text that is not TOML, in the words of whoever reads TOML.
    #[error("this is not TOML: {0}")]
    Toml(String),
    /// A text that is not JSON, in the words of whoever reads JSON.
    #[error("this is not JSON: {0}")]
    Json(String),
}
