//! The arguments of comparing methods.

use std::path::PathBuf;

use clap::Args;
use pithward_job::OpenRequest;

use super::help::COMPARE_HELP;
use super::{LOG, LogArguments, SAWING, SawingArguments, WantArguments};

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
    #[command(flatten)]
    wants: WantArguments,
    #[command(flatten)]
    sawing: SawingArguments,
    /// Print all of it as JSON; data/schema/compare.schema.json is its form
    #[arg(long, help_heading = "What is printed")]
    pub(crate) json: bool,
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
        let wants = self.wants.into_list();
        let sawing = self.sawing.into_request(self.log);
        Compared::Log(Box::new(OpenRequest { sawing, wants }))
    }
}
