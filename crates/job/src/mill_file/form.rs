//! The form in which a mill stands in a file, and its schema.

use pithward_geometry::Mill;
use pithward_measure::Length;
use schemars::JsonSchema;
use serde::Serialize;

use crate::charges::ChargesForm;
use crate::learned::{LearnedForm, RecoveryForm};
use crate::pace::PaceForm;
use crate::said::Said;
use crate::stores::StoresForm;

/// A mill as it stands in a file. Lengths are texts with their unit, such as `0.1 in`, `20 ft` or
/// `2.4 mm`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(title = "mill", deny_unknown_fields)]
pub struct MillForm {
    /// What the person calls the mill: 1 to 60 characters on one line.
    #[schemars(length(min = 1, max = 60))]
    pub name: String,
    /// Wood that one pass turns to sawdust.
    pub kerf: String,
    /// From one mark of the height scale to the next: 1/8, 1/16, 1/32 or 1/64 in, or 1, 0.5 or 0.1 mm.
    pub step: String,
    /// Largest diameter of a log, over the bark.
    pub largest_diameter: String,
    /// Longest log.
    pub longest: String,
    /// Shortest log that can be held.
    pub shortest: String,
    /// Widest stock that passes between the blade guides.
    pub widest_cut: String,
    /// Deepest stock that may stand above the blade.
    pub deepest_above: String,
    /// Lowest height of the blade over the bed.
    pub lowest_blade: String,
    /// What a crosscut at the end of a board turns to sawdust; 1/8 in where it is left out.
    #[schemars(default = "crosscut_kerf")]
    pub crosscut_kerf: String,
    /// Along the bed from what carries the butt to the toe board that raises the small end; where it is left out, how
    /// far to raise is told at the log's own end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub toe_board: Option<String>,
    /// How many flitches stand side by side for edging at most; 6 where it is left out.
    #[schemars(default = "edging_batch", range(min = 1, max = 20))]
    pub edging_batch: u32,
    /// How long the steps of sawing take, and the day around them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pace: Option<PaceForm>,
    /// What it charges.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub charges: Option<ChargesForm>,
    /// What it takes with it and lifts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stores: Option<StoresForm>,
    /// How many of the planned pieces come out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub recovery: Option<RecoveryForm>,
    /// What its figures were learned from.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub learned: Option<LearnedForm>,
}

fn crosscut_kerf() -> String {
    "1/8 in".to_owned()
}

fn edging_batch() -> u32 {
    6
}

impl From<&Mill> for MillForm {
    /// Every figure exactly, in the unit in which it is a plain number.
    fn from(mill: &Mill) -> Self {
        let said = |length: Length| Said(length).to_string();
        Self {
            name: mill.name.clone(),
            kerf: said(mill.kerf),
            step: said(mill.step),
            largest_diameter: said(mill.largest_diameter),
            longest: said(mill.longest),
            shortest: said(mill.shortest),
            widest_cut: said(mill.widest_cut),
            deepest_above: said(mill.deepest_above),
            lowest_blade: said(mill.lowest_blade),
            crosscut_kerf: said(mill.crosscut_kerf),
            toe_board: mill.toe_board.map(said),
            edging_batch: mill.edging_batch,
            pace: None,
            charges: None,
            stores: None,
            recovery: None,
            learned: None,
        }
    }
}

/// The JSON Schema of a mill file, as text; `data/schema/mill.schema.json` is this.
pub fn mill_schema() -> String {
    crate::file::schema_text::<MillForm>()
}
