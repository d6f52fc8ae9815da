//! The arguments of a bill.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use pithward_day::money::Way;

use super::help::BILL_HELP;

#[derive(Debug, Args)]
#[command(after_help = BILL_HELP)]
pub(crate) struct BillArguments {
    /// The job file, TOML or JSON; its tally and its promise are the files beside it that end in .tally and .promise
    #[arg(value_name = "JOB")]
    pub(crate) job: PathBuf,
    /// How sawing is paid, where the mill states more than one way; without it as it was agreed when the promise was kept, else
    /// the first of them
    #[arg(long, value_name = "WAY", value_enum)]
    pub(crate) by: Option<By>,
    /// By whose charges: those that were kept with the promise, or those of the mill file now; without it as promised
    #[arg(long, value_name = "WHICH", value_enum)]
    pub(crate) charges: Option<WhoseCharges>,
    /// Print the paper as Markdown, not as plain text
    #[arg(long, help_heading = "What is printed", conflicts_with = "into")]
    pub(crate) markdown: bool,
    /// Print the whole bill as JSON; data/schema/bill.schema.json is its form
    #[arg(long, help_heading = "What is printed", conflicts_with_all = ["markdown", "into"])]
    pub(crate) json: bool,
    /// Write the bill as Markdown and JSON into this directory; what is there already is left as it is
    #[arg(long, value_name = "DIR", help_heading = "What is printed")]
    pub(crate) into: Option<PathBuf>,
}

/// Which charges a bill is reckoned by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum WhoseCharges {
    /// Those that were kept with the promise
    Promised,
    /// Those of the mill file as it is now
    Now,
}

/// How sawing is paid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum By {
    /// By the hour
    Hour,
    /// By the board foot
    Foot,
    /// By the board
    Board,
    /// In lumber
    Share,
}

impl By {
    /// The same as the day knows it.
    pub(crate) fn way(self) -> Way {
        match self {
            Self::Hour => Way::Hour,
            Self::Foot => Way::BoardFoot,
            Self::Board => Way::Board,
            Self::Share => Way::Share,
        }
    }
}
