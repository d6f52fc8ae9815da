//! The arguments of comparing methods.

use std::path::PathBuf;

use clap::Args;
use pithward_job::{OpenRequest, TypedList};

use super::help::COMPARE_HELP;
use super::{LOG, LogArguments, SAWING, SawingArguments};

#[derive(Debug, Args)]
#[command(after_help = COMPARE_HELP)]
#[command(override_usage = "\
pithward compare <JOB> [--log <ID>]...
       pithward compare --small <DIAMETER> --butt <DIAMETER> --length <LENGTH> --want <WANT>... [OPTIONS]
       pithward compare --shape <FILE> --want <WANT>... [OPTIONS]")]
pub(crate) struct CompareArguments {
    /// A job file: its logs are compared one by one, each want as it comes, and all of them together
    #[arg(value_name = "JOB", conflicts_with = "wants", conflicts_with_all = LOG, conflicts_with_all = SAWING)]
    job: Option<PathBuf>,
    /// Only this log of the job; repeat it for several
    #[arg(long = "log", value_name = "ID", allow_hyphen_values = true, requires = "job")]
    ids: Vec<String>,
    #[command(flatten)]
    log: LogArguments,
    /// One line of the customer's list, see `pithward open --help`; repeat it for every line
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

/// What is compared.
#[derive(Debug)]
pub(crate) enum Compared {
    /// One log.
    Log(Box<OpenRequest>),
    /// Logs of a job file; all of them where none is named.
    Job(PathBuf, Vec<String>),
}

impl CompareArguments {
    /// The request that they make.
    pub(crate) fn into_request(self) -> Compared {
        if let Some(job) = self.job {
            return Compared::Job(job, self.ids);
        }
        let wants = TypedList { name: "--want", texts: self.wants };
        let sawing = self.sawing.into_request(self.log);
        Compared::Log(Box::new(OpenRequest { sawing, wants }))
    }
}
