//! The day: what was measured and what is wanted.
//!
//! This crate never knows how a plan was found, nor how it will look.
//!
//! # The road
//!
//! ```text
//! what was typed -request-> every fault at once, or a job -> wants in the numbers that a search needs
//! ```
//!
//! | to | see |
//! |---|---|
//! | open one log | [`OpenRequest`] |
//! | count the pieces of one size in it | [`CountRequest`] |
//! | scale it by the log rules | [`ScaleRequest`], [`LogScales`] |
//! | read a mill file | [`read_mill`], [`generic_mill`], [`mill_schema`] |
//! | read one want | [`WantText`] |
//! | tell what is wrong with what was typed | [`Fault`] |

mod fault;
mod length_list;
mod log_job;
mod log_request;
mod log_scale;
mod mill_file;
mod said;
mod sawing_request;
mod size_policy;
mod typed;
mod want_text;

pub use fault::{Fault, FaultKind, FilePlace, Misread, Place};
pub use log_job::{BarkSource, COUNT_FIRST, LogJob, MillSource, NamedWant};
pub use log_request::LogRequest;
pub use log_scale::{GreenWeight, LogScales, ScaleRequest};
pub use mill_file::{MillForm, generic_mill, mill_schema, parse_mill, read_mill};
pub use sawing_request::{CountRequest, METHOD_WORDS, OpenRequest, SawingRequest};
pub use size_policy::{POLICIES, PolicyRequest};
pub use typed::{Switch, Typed, TypedList, TypedPath};
pub use want_text::{MOST_PIECES, WantText};
