//! The arguments of a page.

use std::path::PathBuf;

use clap::Args;

use super::help::DRAW_HELP;

#[derive(Debug, Args)]
#[command(after_help = DRAW_HELP)]
pub(crate) struct DrawArguments {
    /// A job file, TOML or JSON; or a plan, as `plan --json`, `open --json` or `resume --json` wrote it: it is told by what is in it
    #[arg(value_name = "JOB|PLAN")]
    pub(crate) job: PathBuf,
    /// Write the page, named as the job file is, into this directory; what is there already is left as it is
    #[arg(long, value_name = "DIR")]
    pub(crate) into: PathBuf,
    /// Write every picture as an SVG file too, into a directory beside the page, named as the page is
    #[arg(long)]
    pub(crate) svg: bool,
    /// When a day begins, as in 8:00 or "7:30 am"; without it the work order counts from the beginning of each day
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub(crate) start: Option<String>,
    /// Simulate so many piles, as quote does (500 there), for the ranges on the papers; 0 for no ranges. Without it they are
    /// those of the promise that was kept (quote --keep), where it is of this plan
    #[arg(long, value_name = "COUNT", value_parser = clap::value_parser!(u32).range(0..=100_000))]
    pub(crate) piles: Option<u32>,
    /// The same seed simulates the same piles
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub(crate) seed: u64,
}
