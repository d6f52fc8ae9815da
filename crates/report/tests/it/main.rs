//! All tests of this package, in one program: one is linked, and they run side by side.

#![allow(clippy::unwrap_used, reason = "a test fails where it breaks")]

mod card;
mod common;
mod pile;
mod pile_answers;
mod quarter;
mod quote_json;
mod real;
mod rebuild;
mod rebuild_real;
mod schema;
mod seen;
