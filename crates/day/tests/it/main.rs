//! All tests of this package, in one program: one is linked, and they run side by side.

#![allow(clippy::unwrap_used, reason = "a test fails where it breaks")]

mod goods;
mod planned;
mod published;
mod worked;
