//! What a plan takes: hours, money, material, what is left lying there, and how far all of it may be off.
//!
//! [`pithward_job`] says what was measured, wanted and agreed; [`pithward_optimizer`] plans it; this crate reckons what
//! follows for the day. It never reads a file, never prints, and knows no clock: whatever depends on the time of day is
//! handed in.
//!
//! * [`range`]: the pile simulated many hundred times, and what may be promised.

pub mod range;
