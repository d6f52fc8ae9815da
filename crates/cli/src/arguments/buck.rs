//! The arguments of bucking one stem.

use clap::Args;
use pithward_job::{BuckRequest, BuckingRequest, Typed, TypedList};

use super::help::BUCK_HELP;
use super::{LogArguments, SawingArguments, WantArguments};

#[derive(Debug, Args)]
#[command(after_help = BUCK_HELP)]
#[command(override_usage = "\
pithward buck --small <DIAMETER> --butt <DIAMETER> --length <LENGTH> --want <WANT>... [OPTIONS]
       pithward buck --shape <FILE> --want <WANT>... [OPTIONS]")]
pub(crate) struct BuckArguments {
    #[command(flatten)]
    stem: LogArguments,
    /// A stretch of the stem that no log may hold, as in "12 ft to 14 ft" (from the butt) or "butt to 2 ft"; repeat it for
    /// several
    #[arg(
        long = "cut-out",
        value_name = "STRETCH",
        allow_hyphen_values = true,
        help_heading = BUCKING
    )]
    cut_out: Vec<String>,
    /// What one cut of the chainsaw turns to sawdust; a bare number is inches. 3/8 in without it
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, help_heading = BUCKING)]
    chain_kerf: Option<String>,
    /// Lengths of the logs, as in 8/10/12 (feet), each cut longer by the trim. Without it, those that the wants make
    /// useful; repeat it for more
    #[arg(long, value_name = "LENGTHS", allow_hyphen_values = true, help_heading = BUCKING)]
    log_lengths: Vec<String>,
    /// The shortest log; a bare number is feet. Without it, the shortest that the mill takes
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, help_heading = BUCKING)]
    shortest: Option<String>,
    /// The longest log; a bare number is feet. Without it, the longest that the mill takes
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, help_heading = BUCKING)]
    longest: Option<String>,
    #[command(flatten)]
    wants: WantArguments,
    #[command(flatten)]
    sawing: SawingArguments,
    /// Print the cut card of every log behind the cuts, in the order of sawing
    #[arg(long, help_heading = "What is printed", conflicts_with = "json")]
    pub(crate) cards: bool,
    /// Print the whole plan as JSON
    #[arg(long, help_heading = "What is printed")]
    pub(crate) json: bool,
}

/// What heads the arguments of how a stem is cut.
const BUCKING: &str = "How the stem may be cut";

impl BuckArguments {
    /// The request that they make, and what its wants are called.
    pub(crate) fn into_request(self) -> (BuckRequest, Typed) {
        let first = Typed::new("--want", self.wants.wants.first().cloned());
        let lengths = self.log_lengths.into_iter();
        let request = BuckRequest {
            sawing: self.sawing.into_request(self.stem),
            wants: self.wants.into_list(),
            cut_out: TypedList { name: "--cut-out", texts: self.cut_out },
            bucking: BuckingRequest {
                chain_kerf: Typed::new("--chain-kerf", self.chain_kerf),
                log_lengths: lengths.map(|text| Typed::new("--log-lengths", Some(text))).collect(),
                shortest: Typed::new("--shortest", self.shortest),
                longest: Typed::new("--longest", self.longest),
            },
        };
        (request, first)
    }
}
