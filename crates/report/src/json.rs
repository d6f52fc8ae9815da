//! Plans as JSON: everything that the text says, and every figure behind it.
//!
//! The forms are in [`mod@crate::schema`]; here they are only filled in.

pub(crate) mod asked;
mod base64;
mod bill;
mod compare;
mod day;
mod grown;
mod lines;
mod looks;
mod obstacle;
mod pile;
mod plan;
mod quote;
mod resume;
mod sawing;
mod stems;
mod tally;

pub use bill::bill_json;
pub use compare::{comparison_json, comparisons_json};
pub use pile::pile_json;
pub use plan::json;
pub use quote::quote_json;
pub use resume::resumed_json;
pub use tally::tally_json;

use pithward_measure::Length;

/// A computed length in inches to the nearest nanometre.
fn from_inches(inches: f64) -> i64 {
    Length::from_inches_f64(inches).as_nm()
}

/// The nearest whole number.
#[allow(
    clippy::cast_possible_truncation,
    reason = "shares and percentages in millionths; `as` saturates"
)]
fn whole(figure: f64) -> i64 {
    figure.round() as i64
}
