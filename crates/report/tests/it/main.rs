//! All tests of this package, in one program: one is linked, and they run side by side.

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
