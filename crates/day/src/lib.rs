//! What a plan takes: hours, money, material, what is left lying there, and how far all of it may be off.
//!
//! [`pithward_job`] says what was measured, wanted and agreed; [`pithward_optimizer`] plans it; this crate reckons what
//! follows for the day. It never reads a file, never prints, and knows no clock: whatever depends on the time of day is
//! handed in.
//!
//! * [`hours`]: how long each log and each day takes, and when blades are changed.
//! * [`money`]: what it costs, by the hour and by the board foot.
//! * [`goods`]: weights, loads, stacks, what is left lying there, fuel, water and blades.
//! * [`range`]: the pile simulated many hundred times, and what may be promised.
//! * [`promise`]: all of them together.
//! * [`kept`]: the promise, written down.
//! * [`so_far`]: what of it has happened, and what is to be expected of the rest.

pub mod goods;
pub mod hours;
pub mod kept;
pub mod money;
pub mod promise;
pub mod range;
pub mod so_far;
