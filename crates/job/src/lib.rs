//! The day: what was measured and what is wanted.
//!
//! This crate never knows how a plan was found, nor how it will look.

mod log_job;

pub use log_job::{BarkSource, LogJob, MillSource, NamedWant};
