//! All tests of this package, in one program: one is linked, and they run side by side.

mod boards;
mod common;
mod cuttings;
mod grades;
