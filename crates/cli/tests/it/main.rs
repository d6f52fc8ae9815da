//! All tests of this package, in one program: one is linked, and they run side by side.

mod bad_input;
mod bad_job;
mod bad_job_logs;
mod bad_shape;
mod bad_sheet;
mod bill;
mod buck;
mod common;
mod compare;
mod interrupt;
mod learn;
mod no_panic;
mod pile;
mod quote;
mod quote_json;
mod readme;
mod resume;
mod scans;
mod tally;
mod tally_file;
mod taper;
mod terminal;
