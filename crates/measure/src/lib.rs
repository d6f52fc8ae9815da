//! Lengths as people write them, exact to the nanometre.
//!
//! This crate never knows what a length is a length of.

mod length;
mod size;

pub use length::Length;
pub use size::{Size, Width, Writing};
