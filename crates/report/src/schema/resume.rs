//! The form of how to go on with a half-sawn log.

use super::VERSION;
use super::asked::AskedForm;
use super::day::{AssumptionsForm, LogForm, MillForm, TallyForm, UnitsForm, WantForm};
use super::sawing::{PartIdForm, SawnForm};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// How to go on with a half-sawn log: all of its sawing from the whole log, of which the first passes are made already. With
/// it alone every cut can be rebuilt and every piece checked.
///
#[doc = include_str!("frames.md")]
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(title = "resumed")]
pub(crate) struct ResumeForm {
    /// Version of this form.
    pub(crate) schema_version: u32,
    /// The units of every number in the file.
    pub(crate) units: UnitsForm,
    /// The log, with what was found in it.
    pub(crate) log: LogForm,
    /// The mill whose limits every pass keeps.
    pub(crate) mill: MillForm,
    /// What was assumed about sizes, trim and tolerance.
    pub(crate) assumptions: AssumptionsForm,
    /// What is wanted now, in order: the list of the plan before, with counts as they are now, and what is new.
    pub(crate) wants: Vec<WantForm>,
    /// How far it is sawn, and what the way on is measured against.
    pub(crate) resumed: ResumedForm,
    /// The sawing, what was made included.
    #[serde(flatten)]
    pub(crate) sawn: SawnForm,
    /// For every want, in order: what was asked for and what comes.
    pub(crate) tally: Vec<TallyForm>,
    /// What was followed, and what was said of it.
    pub(crate) followed: FollowedForm,
    /// What the plan was asked with; null of one that cannot be read back.
    pub(crate) asked: Option<AskedForm>,
}

/// The plan that was followed, and what was said of how far.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct FollowedForm {
    /// What was said, under each name its texts.
    pub(crate) typed: BTreeMap<String, Vec<String>>,
    /// The sawing that was planned before, of the log as it was asked for.
    pub(crate) sawn: SawnForm,
}

impl ResumeForm {
    /// The version of the form.
    pub(crate) const VERSION: u32 = VERSION;
}

/// How far a log is sawn, and what the way on is measured against.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct ResumedForm {
    /// How many passes are made already, through the log's stages and then those of what was put back.
    pub(crate) passes_made: usize,
    /// The parts whose pieces are finished already.
    pub(crate) finished: Vec<PartIdForm>,
    /// How the way on was found.
    pub(crate) how: HowForm,
    /// What was found, as it was written.
    pub(crate) found: Vec<String>,
    /// What was measured again, or is wanted otherwise, in words.
    pub(crate) changed: Vec<String>,
    /// Worth of this plan.
    pub(crate) worth: i64,
    /// Worth of the plan before, by what is wanted now and without what was found; none where the log was measured again.
    pub(crate) worth_before: Option<i64>,
    /// Worth of what is left of it when it is followed on; none where the log was measured again.
    pub(crate) worth_as_it_stands: Option<i64>,
    /// Board feet of what is left of it by named sizes, when it is followed on; none where the log was measured again.
    pub(crate) board_feet_as_it_stands: Option<i64>,
    /// Board feet of this plan by named sizes.
    pub(crate) board_feet: i64,
    /// Board feet of the plan before.
    pub(crate) board_feet_before: i64,
    /// Pieces of the plan before that no longer come, by named size.
    pub(crate) gone: Vec<String>,
    /// Pieces that come in their stead.
    pub(crate) instead: Vec<String>,
    /// States searched, a count of work.
    pub(crate) states: u64,
}

/// How a way on was found.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum HowForm {
    /// It is the plan before.
    AsPlanned,
    /// It has the planes of the plan before; what comes from between them is cut otherwise.
    SamePlanes,
    /// It is planned anew from what is left.
    Anew,
}
