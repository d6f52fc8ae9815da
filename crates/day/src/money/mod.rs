//! What a job costs, in every way that a mill states, side by side: by the hour, by the board foot, by the board, in lumber.
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
mod in_lumber;
mod lines;
mod lumber;
#[cfg(test)]
mod tests;

pub use bill::{Bill, Charge, Line, Quantity, Way};
pub(crate) use done::seconds;
pub use done::{Done, DoneLog, LogDone, SawnLog};
pub use in_lumber::{InLumber, SizeShare};
pub use lumber::{Boards, Lumber};

use pithward_job::Charges;
use pithward_measure::Size;
use pithward_trade::LogRuleFault;
use thiserror::Error;

/// Why something has no price.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum BillFault {
    /// A log that the rule does not scale, where its scale is paid.
    #[error("log {id} has no scale: {fault}")]
    NoScale {
        /// Its place in [`Done::logs`].
        log: usize,
        /// What it is called; where nobody said, its number among them.
        id: String,
        /// Why.
        fault: LogRuleFault,
    },
    /// Lumber that came from no log, where the scale of logs is paid.
    #[error("lumber that is of no log has no scale, and scale is what is paid")]
    NoLog,
    /// Boards that are larger than any that has a price.
    #[error("boards of {size} have no price: none is stated for any so large")]
    NoBoardPrice {
        /// Their size, as it is named.
        size: Size,
    },
    /// Lumber whose boards nobody counted, where boards are what is paid or shared.
    #[error("nobody counted the boards of some lumber, and boards are what is paid by")]
    NotCounted,
    /// More than money can hold.
    #[error("is more than can be billed")]
    TooMuch,
}

/// What is to be paid one way, or why it cannot be told.
pub type Priced = Result<Bill, Vec<BillFault>>;

/// A price in every way that the mill states.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    /// By the hour; `None` where the mill states no price of one.
    pub by_hour: Option<Priced>,
    /// By the board foot; `None` where the mill states no price of one.
    pub by_board_foot: Option<Priced>,
    /// By the board; `None` where the mill states no price of one.
    pub by_board: Option<Priced>,
    /// In lumber; `None` where the mill states no share of it.
    pub by_share: Option<Priced>,
    /// Millionths of a board foot that were sawn, by named sizes.
    pub board_feet: i64,
    /// Of that, what an hour makes, of those hours that would be billed; `None` where there are none.
    pub board_feet_an_hour: Option<i64>,
}

impl Price {
    /// What is to be paid for what was done, each way that the mill states.
    pub fn of(done: &Done, charges: &Charges) -> Self {
        let bill = |way: Way| way.is_stated(charges).then(|| Bill::of(done, charges, way));
        let board_feet = done.board_feet();
        Self {
            by_hour: bill(Way::Hour),
            by_board_foot: bill(Way::BoardFoot),
            by_board: bill(Way::Board),
            by_share: bill(Way::Share),
            board_feet,
            board_feet_an_hour: an_hour(board_feet, lines::billed_seconds(done, charges)),
        }
    }

    /// What is to be paid one way; `None` where the mill does not state it.
    pub fn by(&self, way: Way) -> Option<&Priced> {
        match way {
            Way::Hour => self.by_hour.as_ref(),
            Way::BoardFoot => self.by_board_foot.as_ref(),
            Way::Board => self.by_board.as_ref(),
            Way::Share => self.by_share.as_ref(),
        }
    }

    /// All ways that the mill states, in the order of [`Way::ALL`].
    pub fn ways(&self) -> impl Iterator<Item = (Way, &Priced)> {
        Way::ALL.into_iter().filter_map(|way| Some((way, self.by(way)?)))
    }
}

/// So much of something in an hour, given that of some seconds; rounded down. `None` without any.
fn an_hour(of: i64, seconds: i64) -> Option<i64> {
    let product = i128::from(of) * 3600;
    (seconds > 0).then(|| i64::try_from(product / i128::from(seconds)).ok()).flatten()
}
