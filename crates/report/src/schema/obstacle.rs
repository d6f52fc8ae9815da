//! The form of what keeps something from being sawn.

use super::sawing::MethodForm;
use schemars::JsonSchema;
use serde::Serialize;

/// Something that keeps the log, a method or a want from being sawn.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct ObstacleForm {
    /// What it is.
    pub(crate) kind: ObstacleKindForm,
    /// The method that it rules out; null when it concerns the whole log or one want.
    pub(crate) method: Option<MethodForm>,
    /// The want that gets nothing, as a place in `wants`; null for any other obstacle.
    pub(crate) want: Option<usize>,
    /// What was met: a diameter, a length, a width, a height; null where there is no one figure.
    pub(crate) got: Option<i64>,
    /// What would be allowed or needed; null where there is no one figure.
    pub(crate) limit: Option<i64>,
    /// The reason and the remedy in sentences.
    pub(crate) says: String,
}

/// Kinds of obstacle.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum ObstacleKindForm {
    /// The butt does not go on the mill.
    LogTooThick,
    /// The log is longer than the mill.
    LogTooLong,
    /// The log is too short to be held.
    LogTooShort,
    /// The round does not pass between the guides.
    Guides,
    /// The shortest piece of the want is longer than the log.
    WantTooLong,
    /// The want's section does not fit in the log.
    WantTooThick,
    /// A piece of the want would fit, but others are worth more.
    WantOutbid,
    /// No want of the list accepts the log's wood.
    NoWant,
    /// The method's best pattern passes a limit of the mill.
    Unsawable,
}
