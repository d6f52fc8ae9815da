//! A day that has begun: what was done, in the quantities that are billed, and what is to be expected of the rest.
//!
//! * [`worked`]: what the tally says was done, as [`Done`](crate::money::Done), so that the rules of the quote price it.
//! * [`Carried`]: the lumber that came off the saw, and what it weighs.
//! * [`LeftOfPile`]: what the tally leaves of the job, to be planned again.
//! * [`Unplanned`]: where nothing was promised, how long the logs that are left may take.
//! * [`Ahead`]: the simulated piles of the [kept promise](crate::kept), weighed by what has happened.

mod ahead;
mod carried;
mod left;
mod rest;
#[cfg(test)]
mod tests;
mod unplanned;
mod weighed;
mod worked;

pub use ahead::{Ahead, Basis, Stands, WantAhead};
pub use carried::{Carried, CarriedLine};
pub use left::LeftOfPile;
pub use unplanned::Unplanned;
pub use worked::{is_over, worked};
