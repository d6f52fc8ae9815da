//! The form of how a piece looks.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;

/// How a piece is expected to look. Nothing of it is a grade mark or a promise: only a grader with the board in hand grades it.
#[derive(Debug, Default, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub(crate) struct LooksForm {
    /// Its expected grade by its two faces; null where its want is not graded.
    pub(crate) grade: Option<ExpectedForm>,
    /// How the growth rings meet its wide face; null where the pith is its very middle.
    pub(crate) rings: Option<RingsForm>,
    /// By which structural grade's wane and knot limits it may be sorted; null where nothing can be said of it.
    pub(crate) sorting: Option<SortingForm>,
}

/// An expected hardwood grade.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct ExpectedForm {
    /// The grade; null below all grades.
    pub(crate) grade: Option<Cow<'static, str>>,
    /// Surface measure, square feet.
    pub(crate) surface_measure: i64,
    /// It is proven to be no better than that by what was seen.
    pub(crate) proven: bool,
}

/// The growth rings at the small end of a piece.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
pub(crate) struct RingsForm {
    /// The class of the angle in the middle, by the job's convention; null between two classes.
    pub(crate) class: Option<Cow<'static, str>>,
    /// Their angle to the wide face in the middle of the section.
    pub(crate) middle: i32,
    /// The least at mid-thickness, from edge to edge.
    pub(crate) least: i32,
    /// The greatest there.
    pub(crate) greatest: i32,
    /// The pith lies within the section.
    pub(crate) holds_pith: bool,
}

/// A hint for sorting the stack, by wane and by the knots that were told, and by nothing else.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum SortingForm {
    /// Wane and knots are within the limits of this structural grade, and of no better one.
    Within(Cow<'static, str>),
    /// They are within those of no grade.
    OfNone,
    /// Something else shows: look at it.
    Look,
}
