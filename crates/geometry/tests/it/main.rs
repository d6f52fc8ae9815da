//! All tests of this package, in one program: one is linked, and they run side by side.

mod common;
mod measured;
mod ring_places;
mod solids;
