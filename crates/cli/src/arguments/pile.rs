//! The arguments of the subcommands over a whole pile.

use std::path::PathBuf;

use clap::Args;
use pithward_job::{LogRequest, NeedRequest, Typed, TypedList};

use super::help::{CHECK_HELP, NEED_HELP, NEW_HELP, PLAN_HELP};
use super::{LogArguments, SAWING, SawingArguments};

/// The file that is written where nobody names one.
const STARTER_FILE: &str = "job.toml";

#[derive(Debug, Args)]
#[command(after_help = NEW_HELP)]
pub(crate) struct NewArguments {
    /// Where it is written; `-` prints it. A file that is there already is left as it is
    #[arg(value_name = "FILE", default_value = STARTER_FILE)]
    pub(crate) file: PathBuf,
}

#[derive(Debug, Args)]
#[command(after_help = CHECK_HELP)]
pub(crate) struct CheckArguments {
    /// The job file, TOML or JSON
    #[arg(value_name = "JOB")]
    pub(crate) job: PathBuf,
}

#[derive(Debug, Args)]
#[command(after_help = PLAN_HELP)]
pub(crate) struct PlanArguments {
    /// The job file, TOML or JSON
    #[arg(value_name = "JOB")]
    pub(crate) job: PathBuf,
    /// Plan what the tally leaves: the logs that are not done, for what is still wanted
    #[arg(long)]
    pub(crate) rest: bool,
    /// Print the cut card of every log behind the summary, in the order of sawing
    #[arg(long, help_heading = "What is printed", conflicts_with = "ids")]
    pub(crate) cards: bool,
    /// Print the cut card of this log instead of the summary; repeat it for several
    #[arg(
        long = "card",
        value_name = "ID",
        allow_hyphen_values = true,
        help_heading = "What is printed"
    )]
    pub(crate) ids: Vec<String>,
    /// Print the whole plan as JSON instead of the summary
    #[arg(long, help_heading = "What is printed", conflicts_with_all = ["cards", "ids"])]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
#[command(after_help = NEED_HELP)]
#[command(override_usage = "\
pithward need --want <WANT>... --small <DIAMETER> --length <LENGTH> [OPTIONS]
       pithward need <JOB> --small <DIAMETER> --length <LENGTH> [OPTIONS]")]
pub(crate) struct NeedArguments {
    /// A job file: its list is filled, on its mill; its own logs are left out
    #[arg(value_name = "JOB", conflicts_with = "wants", conflicts_with_all = SAWING)]
    pub(crate) job: Option<PathBuf>,
    #[command(flatten)]
    log: LogArguments,
    /// One line of the list with its count, as in 2x8x12=40 (see `pithward open --help`); repeat it for
    /// every line
    #[arg(
        long = "want",
        value_name = "WANT",
        allow_hyphen_values = true,
        help_heading = "The wants"
    )]
    wants: Vec<String>,
    #[command(flatten)]
    sawing: SawingArguments,
}

/// Whose list is to be filled, and from what kind of log.
#[derive(Debug)]
pub(crate) enum Needed {
    /// A list that was typed.
    List(Box<NeedRequest>),
    /// The list of a job file, and the log.
    Job(PathBuf, Box<LogRequest>),
}

impl NeedArguments {
    /// The request that they make.
    pub(crate) fn into_request(self) -> Needed {
        match self.job {
            Some(job) => Needed::Job(job, Box::new(self.log.into_request())),
            None => {
                let wants = TypedList { name: "--want", texts: self.wants };
                let sawing = self.sawing.into_request(self.log);
                Needed::List(Box::new(NeedRequest { sawing, wants }))
            }
        }
    }
}

/// What was typed for the name of a log, to be told of.
pub(crate) fn card(id: &str) -> Typed {
    Typed::new("--card", Some(id.to_owned()))
}
