//! The form of what a plan was asked with.

use super::stems::StemPartForm;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What the plan was asked with, whole, so that whoever has the file can go on from it: the job file and all that it names, or
/// what was typed. It holds all that the job and the mill file say, prices included.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct AskedForm {
    /// Who asked, and how.
    pub(crate) by: AskedByForm,
    /// Every file that was read for it.
    pub(crate) files: Vec<AskedFileForm>,
}

/// How a plan was asked for.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum AskedByForm {
    /// By a job file.
    Job {
        /// Its path in `files`.
        file: String,
        /// From where the files that it names are looked for.
        base: String,
        /// What was left of it, where the plan is of the rest of a pile; else null.
        rest: Option<AskedRestForm>,
    },
    /// One log of a job file, for what the others leave.
    LogOf {
        /// Its path in `files`.
        file: String,
        /// From where the files that it names are looked for.
        base: String,
        /// How its stems were cut, the parts of each.
        cut: Vec<Vec<StemPartForm>>,
        /// What the log is called.
        id: String,
        /// For every want of the job how many are wanted of this log; null for as many as come.
        counts: Vec<Option<u32>>,
    },
    /// One log, by what was typed: under each name its texts; of what is only said or not, an empty one.
    Log(BTreeMap<String, Vec<String>>),
    /// One stem, by what was typed.
    Stem(BTreeMap<String, Vec<String>>),
}

/// What was left of a pile.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct AskedRestForm {
    /// How its stems were cut, the parts of each.
    pub(crate) cut: Vec<Vec<StemPartForm>>,
    /// The logs that were left, as places in the job.
    pub(crate) logs: Vec<usize>,
    /// The list as it was then.
    pub(crate) wants: Vec<AskedWantForm>,
    /// What was found in logs that were left.
    pub(crate) found: Vec<AskedFoundForm>,
}

/// A line of the list that was left.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct AskedWantForm {
    /// Its place in the job; null for one that was added.
    pub(crate) want: Option<usize>,
    /// Its size.
    pub(crate) size: String,
    /// How many were still wanted; null for as many as come.
    pub(crate) left: Option<u32>,
}

/// What was found in a log that was left.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct AskedFoundForm {
    /// The log's place in the job.
    pub(crate) log: usize,
    /// The words.
    pub(crate) words: String,
}

/// A file that was read.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct AskedFileForm {
    /// Where it was looked for.
    pub(crate) path: String,
    /// How many bytes it has.
    pub(crate) length: u64,
    /// The CRC-32 of them, that of ISO 3309.
    pub(crate) check: u32,
    /// The text of it; null of a file that is no UTF-8 text, or is not kept here.
    pub(crate) text: Option<String>,
    /// The bytes of one that is no text, in base64 (RFC 4648, section 4); null of any other. A shape file of more than 1 MiB
    /// is kept neither way: it is looked for at its path, and must be the same.
    pub(crate) base64: Option<String>,
}
