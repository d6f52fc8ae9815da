//! What a job costs, by the hour and by the board foot, side by side.
//!
//! A price is reckoned from plain quantities, [`Done`]: hours, lumber, logs, miles, blades. They are those of a plan before
//! the day, and those of the tally in the evening; the rules are the same.
//!
//! # Rounding
//! Every amount is one price times one quantity, rounded once to the hundredth of the currency, halves away from nothing. Sums
//! of amounts are exact. Seconds are whole; board feet are whole millionths.
//!
//! # Order
//! ```text
//! sum   = lines, filled up to the least that is billed
//! net   = sum - discount
//! tax   = (what is taxed - its share of the discount) x tax
//! total = net + tax, rounded as the mill says
//! due   = total - deposit
//! ```

mod bill;
mod done;
mod lines;
#[cfg(test)]
mod tests;

pub use bill::{Bill, Charge, Line, Quantity, Way};
pub(crate) use done::seconds;
pub use done::{Done, DoneLog, Lumber, SawnLog};

use pithward_job::Charges;
use pithward_measure::Money;
use pithward_trade::LogRuleFault;
use thiserror::Error;

/// Why something has no price.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum BillFault {
    /// A log that the rule does not scale, where its scale is paid.
    #[error("log {} of the bill has no scale: {fault}", log + 1)]
    NoScale {
        /// Its place in [`Done::logs`].
        log: usize,
        /// Why.
        fault: LogRuleFault,
    },
    /// Lumber that came from no log, where the scale of logs is paid.
    #[error("lumber that is of no log has no scale, and scale is what is paid")]
    NoLog,
    /// More than money can hold.
    #[error("is more than can be billed")]
    TooMuch,
}

/// A price both ways.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    /// By the hour; `None` where the mill states no price of one.
    pub by_hour: Option<Result<Bill, Vec<BillFault>>>,
    /// By the board foot; `None` where the mill states no price of one.
    pub by_board_foot: Option<Result<Bill, Vec<BillFault>>>,
    /// Millionths of a board foot that were sawn, by named sizes.
    pub board_feet: i64,
    /// Of that, what an hour makes, of those hours that would be billed; `None` where there are none.
    pub board_feet_an_hour: Option<i64>,
}

impl Price {
    /// What is to be paid for what was done, each way for which the mill states a price.
    pub fn of(done: &Done, charges: &Charges) -> Self {
        let bill = |way, price: Option<Money>| price.map(|_| Bill::of(done, charges, way));
        let board_feet = done.board_feet();
        Self {
            by_hour: bill(Way::Hour, charges.hour),
            by_board_foot: bill(Way::BoardFoot, charges.board_foot),
            board_feet,
            board_feet_an_hour: an_hour(board_feet, lines::billed_seconds(done, charges)),
        }
    }
}

/// So much of something in an hour, given that of some seconds; rounded down. `None` without any.
fn an_hour(of: i64, seconds: i64) -> Option<i64> {
    let product = i128::from(of) * 3600;
    (seconds > 0).then(|| i64::try_from(product / i128::from(seconds)).ok()).flatten()
}
