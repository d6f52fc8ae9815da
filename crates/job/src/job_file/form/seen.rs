//! The forms of what is seen on a log.

use schemars::JsonSchema;
use serde::Serialize;

use super::NumberOrText;

/// A branch that is seen on the bark, or one that the wood has grown over.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct KnotForm {
    /// Direction from the pith on the clock at the small end.
    pub clock: NumberOrText,
    /// Where along the log: a distance from the butt, or `2 ft off the small end`.
    pub at: String,
    /// How thick it is there.
    pub size: String,
    /// How much clear wood has grown over it; of a knot none where it is left out, of a bump a quarter of the way to the
    /// pith.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub grown_over: Option<String>,
    /// How much nearer to the butt it begins at the pith; nothing where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rise: Option<String>,
}

/// A crack that has closed, such as one of frost.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct SeamForm {
    /// Direction from the pith on the clock at the small end.
    pub clock: NumberOrText,
    /// Where it begins: `butt`, `small end`, a distance from the butt, or `2 ft off the small end`. With neither of
    /// `from`, `to` and `length` it is all of the log.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// Where it ends.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// Or how far it goes on from where it begins.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length: Option<String>,
    /// From the bark inward; to the pith where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub depth: Option<String>,
}

/// An old wound.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct ScarForm {
    /// Direction of its middle from the pith on the clock at the small end.
    pub clock: NumberOrText,
    /// Where it begins: `butt`, `small end`, a distance from the butt, or `2 ft off the small end`. With neither of
    /// `from`, `to` and `length` it is all of the log.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// Where it ends.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// Or how far it goes on from where it begins.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length: Option<String>,
    /// Along the bark: a length, `2 hours` or `60 degrees`.
    pub wide: String,
    /// From the bark inward.
    pub depth: String,
}

/// A hole.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct HoleForm {
    /// Direction from the pith on the clock at the small end.
    pub clock: NumberOrText,
    /// Where along the log: a distance from the butt, or `2 ft off the small end`.
    pub at: String,
    /// How wide it is.
    pub size: String,
    /// From the bark inward; to the pith where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub depth: Option<String>,
}

/// How thick the clear wood over a knotty core is in the quarters about each hour.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct ShellForm {
    /// About 12 o'clock.
    #[serde(rename = "12")]
    pub twelve: String,
    /// About 3 o'clock.
    #[serde(rename = "3")]
    pub three: String,
    /// About 6 o'clock.
    #[serde(rename = "6")]
    pub six: String,
    /// About 9 o'clock.
    #[serde(rename = "9")]
    pub nine: String,
}

/// How good the quarters about each hour look: `clear`, `few` (knots), `knotty` or `unseen`, which it is where it is left
/// out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct QualityForm {
    /// About 12 o'clock.
    #[serde(rename = "12", skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["clear", "few", "knotty", "unseen"]))]
    pub twelve: Option<String>,
    /// About 3 o'clock.
    #[serde(rename = "3", skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["clear", "few", "knotty", "unseen"]))]
    pub three: Option<String>,
    /// About 6 o'clock.
    #[serde(rename = "6", skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["clear", "few", "knotty", "unseen"]))]
    pub six: Option<String>,
    /// About 9 o'clock.
    #[serde(rename = "9", skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["clear", "few", "knotty", "unseen"]))]
    pub nine: Option<String>,
}
