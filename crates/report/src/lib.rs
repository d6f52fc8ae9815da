//! What people look at: the cut card for one log, its plan as JSON, the counts of one size, why a log
//! cannot be sawn, and what it holds by the log rules.
//!
//! This crate knows no formula. It is given a job and its plan, and says what they say: it adds up what
//! it is given and chooses words, nothing more. Text is plain, at most 80 columns wide, and uses the
//! marks of the mill's own scale.
//!
//! | to | see |
//! |---|---|
//! | print what a sawyer follows at the mill | [`card`](card()) |
//! | hand the whole plan to another program | [`json`], [`schema`](schema()) |
//! | say why there is no plan and what would help | [`impossible`] |
//! | say how many of one size a log gives, by method | [`counts`](counts()) |
//! | say what a log holds by each log rule | [`scales`](scales()) |

mod card;
mod counts;
mod names;
mod obstacle;
mod page;
mod plan_json;
mod scales;
mod schema;

pub use card::card;
pub use counts::counts;
pub use obstacle::impossible;
pub use plan_json::json;
pub use scales::scales;
pub use schema::schema;

/// The library use that `README.md` shows, compiled and run.
#[cfg(doctest)]
#[doc = include_str!("../../../README.md")]
mod readme {}
