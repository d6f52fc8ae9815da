//! All tests of this package, in one program: one is linked, and they run side by side.

mod goods;
mod planned;
mod published;
mod worked;
