//! All tests of this package, in one program: one is linked, and they run side by side.

mod by_grade;
mod metal;
mod pile;
mod pile_by_grade;
