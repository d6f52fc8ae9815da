//! The arguments of learning.

use std::path::PathBuf;

use clap::Args;

const LEARN_HELP: &str = "\
Examples:
  pithward learn jobs/ --mill my-mill.toml
  pithward learn jobs/ --mill my-mill.toml --on next.toml
  pithward learn jobs/ --mill my-mill.toml --show

A job that counts has three files beside each other: the job file, what was kept of its promise
(pithward quote JOB --keep) and its tally, as in farm.toml, farm.promise and farm.tally. Folders
within the folder are looked through too. What cannot be read is told and left out.

The new mill file stands beside the old one, as my-mill-learned-2026-05-02.toml; it is never written
over anything. Name it in your next jobs. To learn from more jobs later, start from the old one
again, with all of them: so none counts twice.";

#[derive(Debug, Args)]
#[command(after_help = LEARN_HELP)]
pub(crate) struct LearnArguments {
    /// The folder with the jobs that are done
    #[arg(value_name = "DIR")]
    pub(crate) directory: PathBuf,
    /// The mill file that the jobs were sawn with, TOML
    #[arg(long, value_name = "FILE")]
    pub(crate) mill: PathBuf,
    /// A job file: what is learned changes its hours and its board feet so
    #[arg(long, value_name = "JOB")]
    pub(crate) on: Option<PathBuf>,
    /// The day that the new file is named by, as in 2026-05-02; today without it
    #[arg(long, value_name = "DATE")]
    pub(crate) date: Option<String>,
    /// Print what was learned, and write no file
    #[arg(long, help_heading = "What is printed")]
    pub(crate) show: bool,
    /// Print it as Markdown, not as plain text
    #[arg(long, help_heading = "What is printed")]
    pub(crate) markdown: bool,
}
