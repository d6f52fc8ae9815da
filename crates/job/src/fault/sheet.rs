//! What is wrong with a sheet, as a spreadsheet saves it.

use pithward_measure::Excerpt;
use thiserror::Error;

use super::meant;

/// What is wrong with a sheet.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum SheetFault {
    /// Lengths below a heading, and neither it nor they have a unit.
    #[error("the numbers below have no unit, the first of them is {got} on line {line}")]
    NoUnitBelow {
        /// The first.
        got: Excerpt,
        /// The line it is on, from 1.
        line: usize,
    },
    /// A column that no sheet of logs has.
    #[error("is no column of a sheet of logs{}", meant(*.nearest))]
    UnknownColumn {
        /// The column that may have been meant.
        nearest: Option<&'static str>,
    },
    /// A column that the sheet cannot do without.
    #[error("has no column in the sheet")]
    NoColumn,
    /// A sheet with a heading and nothing below it.
    #[error("the sheet has no log in it")]
    NoRows,
    /// A cell beyond the last column.
    #[error("{got} stands beyond the last column, which is column {columns}")]
    ExtraCell {
        /// What was written.
        got: Excerpt,
        /// How many columns the heading has.
        columns: usize,
    },
    /// A cell whose quotation marks are not closed.
    #[error("a quotation mark opens here and none closes it")]
    OpenQuote,
}

impl SheetFault {
    /// Whether the message goes on where the name of the field ends.
    pub(super) fn is_said_of_the_field(&self) -> bool {
        matches!(self, Self::UnknownColumn { .. } | Self::NoColumn)
    }
}
