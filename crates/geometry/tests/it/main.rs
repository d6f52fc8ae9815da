//! All tests of this package, in one program: one is linked, and they run side by side.

#![allow(
    clippy::cast_possible_truncation,
    clippy::unwrap_used,
    reason = "a test fails where it breaks"
)]

mod common;
mod measured;
mod ring_places;
mod solids;
