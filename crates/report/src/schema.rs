//! The file form of a plan, and its schema.
//!
//! The types that compute carry no serde; these do, and [`mod@crate::json`] fills them in. Their doc comments
//! become the schema's descriptions, so they are written for someone who has the file and not this code.
//! Every quantity is a whole number: nanometres, micrometres of outlines, thousandths of a degree, millionths.

pub(crate) mod asked;
pub(crate) mod bill;
pub(crate) mod compare;
pub(crate) mod day;
pub(crate) mod grown;
pub(crate) mod looks;
pub(crate) mod obstacle;
pub(crate) mod pile;
pub(crate) mod plan;
pub(crate) mod quote;
pub(crate) mod resume;
pub(crate) mod sawing;
pub(crate) mod stems;
pub(crate) mod tally;

use bill::BilledForm;
use compare::CompareForm;
use pile::{PileForm, PileLogForm};
use plan::PlanForm;
use quote::QuoteForm;
use resume::ResumeForm;
use schemars::Schema;
use tally::TallyForm;

/// The JSON Schema of the plan of one log, as text; `data/schema/plan.schema.json` is this.
pub fn schema() -> String {
    text(schemars::schema_for!(PlanForm))
}

/// The JSON Schema of the plan of a pile, as text; `data/schema/pile.schema.json` is this.
pub fn pile_schema() -> String {
    text(schemars::schema_for!(PileForm<Vec<PileLogForm>>))
}

/// The JSON Schema of a quote, as text; `data/schema/quote.schema.json` is this.
pub fn quote_schema() -> String {
    text(schemars::schema_for!(QuoteForm))
}

/// The JSON Schema of how to go on with a half-sawn log, as text; `data/schema/resume.schema.json` is this.
pub fn resume_schema() -> String {
    text(schemars::schema_for!(ResumeForm))
}

/// The JSON Schema of a tally and of how the day stands, as text; `data/schema/tally.schema.json` is this.
pub fn tally_schema() -> String {
    text(schemars::schema_for!(TallyForm))
}

/// The JSON Schema of a bill in the evening, as text; `data/schema/bill.schema.json` is this.
pub fn bill_schema() -> String {
    text(schemars::schema_for!(BilledForm))
}

/// The JSON Schema of a comparison of methods, as text; `data/schema/compare.schema.json` is this.
pub fn compare_schema() -> String {
    text(schemars::schema_for!(CompareForm))
}

fn text(schema: Schema) -> String {
    let mut schema = schema.to_value();
    // Another crate of the build may keep keys in the order of insertion: one order for all builds.
    schema.sort_all_objects();
    let text = serde_json::to_string_pretty(&schema);
    // A value of maps with text keys always has a text.
    text.unwrap_or_default() + "\n"
}

/// The version of the forms; a change that an old reader would misread raises it.
pub(crate) const VERSION: u32 = 2;
