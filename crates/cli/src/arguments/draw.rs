//! The arguments of a page.

use std::path::PathBuf;

use clap::Args;

use super::help::DRAW_HELP;

#[derive(Debug, Args)]
#[command(after_help = DRAW_HELP)]
pub(crate) struct DrawArguments {
    /// The job file, TOML or JSON
    #[arg(value_name = "JOB")]
    pub(crate) job: PathBuf,
    /// Write the page, named as the job file is, into this directory; what is there already is left as it is
    #[arg(long, value_name = "DIR")]
    pub(crate) into: PathBuf,
}
