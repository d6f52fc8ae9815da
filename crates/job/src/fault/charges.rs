//! What is wrong with what is charged.

use pithward_measure::{Currency, Excerpt, MoneyFault};
use thiserror::Error;

/// What is wrong with what is charged.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum ChargeFault {
    /// No price of an hour, a board foot or a mile.
    #[error("{got} is no price {per}")]
    NoPrice {
        /// `by the hour`.
        per: &'static str,
        /// What was written.
        got: Excerpt,
    },
    /// No amount of money.
    #[error(transparent)]
    Money(#[from] MoneyFault),
    /// Less than nothing.
    #[error("must not be less than nothing, got {got}")]
    Negative {
        /// What was written.
        got: Excerpt,
    },
    /// Two currencies in the charges of one mill.
    #[error("is in {currency}, and {other} in {first}")]
    TwoCurrencies {
        /// This one's.
        currency: Currency,
        /// The field whose currency counts.
        other: &'static str,
        /// Its currency.
        first: Currency,
    },
    /// No least that is billed.
    #[error("{got} is no minimum")]
    NoMinimum {
        /// What was written.
        got: Excerpt,
    },
    /// No step that hours are rounded to.
    #[error("{got} does not say what hours are rounded to")]
    NoRounding {
        /// What was written.
        got: Excerpt,
    },
    /// A percentage that makes no sense where it stands.
    #[error("must be between 0 % and {greatest} %, got {got}")]
    Percent {
        /// The most that makes sense.
        greatest: u32,
        /// What was written.
        got: Excerpt,
    },
    /// Classes that do not rise, or the same twice.
    #[error("must rise from one to the next, got {got}")]
    ClassesFall {
        /// What was written.
        got: Excerpt,
    },
    /// No size up to which a board has a price.
    #[error("{got} does not say up to which size a board costs that")]
    NoLimit {
        /// What was written.
        got: Excerpt,
    },
    /// A price of boards that those before it take already.
    #[error("{got} is never billed: a line before it takes all such boards")]
    NeverBilled {
        /// What was written.
        got: Excerpt,
    },
    /// No part of the lumber.
    #[error("{got} is no part of the lumber")]
    NoPortion {
        /// What was written.
        got: Excerpt,
    },
    /// All of the lumber beside a part of it.
    #[error("says all and something else")]
    AllBeside,
    /// A rule without the price that it belongs to.
    #[error("says nothing without {needs}")]
    Alone {
        /// The field that is missing.
        needs: &'static str,
    },
}

impl ChargeFault {
    /// Whether the message goes on where the name of the field ends.
    pub(super) fn is_said_of_the_field(&self) -> bool {
        matches!(
            self,
            Self::Negative { .. }
                | Self::TwoCurrencies { .. }
                | Self::Percent { .. }
                | Self::ClassesFall { .. }
                | Self::AllBeside
                | Self::Alone { .. }
        )
    }
}
