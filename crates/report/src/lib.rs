//! What people look at: for a pile of logs its summary, the cut card of each log, and the whole as JSON; for one log
//! its card and its plan; the counts of one size, how many logs a list takes, why a log cannot be sawn, and what it
//! holds by the log rules.
//!
//! This crate knows no formula. It is given a job and its plan, and says what they say: it adds up what
//! it is given and chooses words, nothing more. Text is plain, at most 80 columns wide, and uses the
//! marks of the mill's own scale.
//!
//! | to | see |
//! |---|---|
//! | print what is read before the day | [`pile_summary`] |
//! | print what a sawyer follows at the mill | [`pile_card`]; for a log alone [`card`](card()) |
//! | show the card step by step | [`steps`], [`log_called`], [`want_called`], [`pieces_called`] |
//! | hand the whole plan to another program | [`pile_json`], [`pile_schema`]; for a log alone [`json`](json()), [`schema`](schema()) |
//! | print how to go on with a half-sawn log | [`resumed_card`]; as JSON [`resumed_json`], [`resume_schema`] |
//! | say why there is no plan and what would help | [`impossible`] |
//! | print where to cut a stem | [`buck_summary`] |
//! | write the papers of a job before the day ([`Paper`]) | [`quote_page`], [`customer_sheet`], [`terms_sheet`], [`pack_list`], [`work_order`] |
//! | compare methods | [`comparison`], [`comparisons`]; for another program [`comparison_json`], [`comparisons_json`], [`compare_schema`] |
//! | write the bill in the evening | [`bill_paper`]; for another program [`bill_json`], [`bill_schema`] |
//! | hand a quote to another program | [`quote_json`], [`quote_schema`] |
//! | say how the day stands | [`tally_page`]; to another program [`tally_json`], [`tally_schema`] |
//! | say what was understood of a job file | [`check_report`] |
//! | say how many of one size come | [`pile_counts`]; from a log alone, by method, [`counts`](counts()) |
//! | say how many logs a list takes | [`need_answer`] |
//! | say what a log holds by each log rule | [`scales`](scales()) |

mod bill;
mod called;
mod card;
mod compare;
mod counts;
mod grade_words;
mod grown;
mod json;
mod learn;
mod names;
mod obstacle;
mod page;
mod paper;
mod pile;
mod quote;
mod read;
mod rest;
mod scales;
mod schema;
mod seen_words;
mod sorting;
mod tally;
mod terms;

pub use bill::{Billed, Rules, bill_paper};
pub use called::{length_called, log_called, log_want_called, pieces_called, want_called};
pub use card::{Going, Step, StepPass, card, resumed_card, steps};
pub use compare::{comparison, comparisons};
pub use counts::counts;
pub use json::{
    bill_json, comparison_json, comparisons_json, json, pile_json, quote_json, resumed_json,
    tally_json,
};
pub use learn::{Ahead, LearnedJobs, LearnedMill, MillText, NotWritten, learned_page};
pub use obstacle::impossible;
pub use paper::{Block, Paper, Side, Span, Table};
pub use pile::{buck_summary, check_report, need_answer, pile_card, pile_counts, pile_summary};
pub use quote::{Quoted, customer_sheet, pack_list, quote_page, terms_sheet, work_order};
pub use read::{ReadHalf, ReadLog, ReadPile, ReadPlan, is_plan, read_plan};
pub use rest::rest_paper;
pub use scales::scales;
pub use schema::{
    bill_schema, compare_schema, pile_schema, quote_schema, resume_schema, schema, tally_schema,
};
pub use tally::{Standing, tally_page};

/// The library use that `README.md` shows, compiled and run.
#[cfg(doctest)]
#[doc = include_str!("../../../README.md")]
mod readme {}
