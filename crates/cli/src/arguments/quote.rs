//! The arguments of a quote.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::By;
use super::help::QUOTE_HELP;

#[derive(Debug, Args)]
#[command(after_help = QUOTE_HELP)]
pub(crate) struct QuoteArguments {
    /// The job file, TOML or JSON
    #[arg(value_name = "JOB")]
    pub(crate) job: PathBuf,
    /// When a day begins, as in 8:00 or "7:30 am"; without it the work order counts from the beginning of each day
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub(crate) start: Option<String>,
    /// How many piles are simulated, as the logs may turn out; 0 for none, and figures without a range
    #[arg(long, value_name = "COUNT", default_value_t = 500, value_parser = clap::value_parser!(u32).range(0..=100_000))]
    pub(crate) piles: u32,
    /// The same seed simulates the same piles
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub(crate) seed: u64,
    /// Keep the promise beside the job file, as JOB.promise: for the tally of the day and the bill. An older one is put aside
    #[arg(long, conflicts_with = "json")]
    pub(crate) keep: bool,
    /// How sawing is paid, as it was agreed; it is kept with the promise
    #[arg(long, value_name = "WAY", value_enum, requires = "keep")]
    pub(crate) by: Option<By>,
    /// Print this paper instead of the sawyer's page; repeat it for several
    #[arg(
        long = "paper",
        value_name = "PAPER",
        value_enum,
        help_heading = "What is printed",
        conflicts_with = "into"
    )]
    pub(crate) papers: Vec<PaperName>,
    /// Print papers as Markdown, not as plain text
    #[arg(long, help_heading = "What is printed", conflicts_with = "into")]
    pub(crate) markdown: bool,
    /// Print the whole quote as JSON; data/schema/quote.schema.json is its form
    #[arg(
        long,
        help_heading = "What is printed",
        conflicts_with_all = ["papers", "markdown", "into"]
    )]
    pub(crate) json: bool,
    /// Write the page and all papers as Markdown files, and the whole as quote.json, into this directory; what is there already is left as it is
    #[arg(long, value_name = "DIR", help_heading = "What is printed")]
    pub(crate) into: Option<PathBuf>,
}

/// A paper, by its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum PaperName {
    /// The sawyer's own page: pieces, hours, price, material, weights
    Quote,
    /// The customer's sheet: what comes out, what it costs, what to have ready, what stays
    Customer,
    /// Terms to agree on, with blanks
    Terms,
    /// What to take along
    Pack,
    /// Which log when
    Order,
}

impl PaperName {
    /// All of them, in the order in which they are written.
    pub(crate) const ALL: [Self; 5] =
        [Self::Quote, Self::Customer, Self::Terms, Self::Pack, Self::Order];

    /// The name of its file.
    pub(crate) fn file(self) -> &'static str {
        match self {
            Self::Quote => "quote.md",
            Self::Customer => "customer.md",
            Self::Terms => "terms.md",
            Self::Pack => "pack.md",
            Self::Order => "order.md",
        }
    }
}
