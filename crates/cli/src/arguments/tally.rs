//! The arguments of a tally.

use std::path::PathBuf;

use clap::Args;

use super::help::TALLY_HELP;

#[derive(Debug, Args)]
#[command(after_help = TALLY_HELP)]
#[command(override_usage = "\
pithward tally <JOB> [OPTIONS]
       pithward tally <JOB> <WORDS>... [--at <TIME>] [OPTIONS]
       pithward tally <JOB> read <FILE> [OPTIONS]")]
pub(crate) struct TallyArguments {
    /// The job file, TOML or JSON; the tally is the file beside it that ends in .tally
    #[arg(value_name = "JOB")]
    pub(crate) job: PathBuf,
    /// What happened, see below; without any word, how the day stands
    #[arg(value_name = "WORDS")]
    pub(crate) words: Vec<String>,
    /// When it happened, where that is not now: 9:40, "1:05 pm", -10 for ten minutes ago, "2026-05-02 9:40"
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub(crate) at: Option<String>,
    /// Print the tally and all that follows as JSON; data/schema/tally.schema.json is its form
    #[arg(long, help_heading = "What is printed")]
    pub(crate) json: bool,
}
