//! The arguments of going on with a half-sawn log.

use std::path::PathBuf;

use clap::Args;
use pithward_job::{AgainRequest, AsGrown, OpenRequest, ResumeRequest, Typed, TypedList};

use super::help::RESUME_HELP;
use super::{LOG, LogArguments, SAWING, SawingArguments, WantArguments};

#[derive(Debug, Args)]
#[command(after_help = RESUME_HELP)]
#[command(override_usage = "\
pithward resume --small <DIAMETER> --butt <DIAMETER> --length <LENGTH> --want <WANT>... --sawn <PASSES> [OPTIONS]
       pithward resume <JOB> --log <ID> --sawn <PASSES> [OPTIONS]
       pithward resume --plan <FILE> [--log <ID>] --sawn <PASSES> [OPTIONS]")]
pub(crate) struct ResumeArguments {
    /// A job file: the card that is followed is that of its plan
    #[arg(value_name = "JOB", group = "known", requires = "id", conflicts_with = "wants", conflicts_with_all = LOG, conflicts_with_all = SAWING)]
    job: Option<PathBuf>,
    /// A plan, as `open --json`, `plan --json` or `resume --json` wrote it: its card is followed, and nothing is planned
    /// anew; the log, the list and the mill are those of the plan
    #[arg(long, value_name = "FILE", group = "known", conflicts_with = "wants", conflicts_with_all = LOG, conflicts_with_all = SAWING)]
    plan: Option<PathBuf>,
    /// The log of the job, or of a plan of several
    #[arg(long = "log", value_name = "ID", allow_hyphen_values = true, requires = "known")]
    id: Option<String>,
    #[command(flatten)]
    half: HalfArguments,
    #[command(flatten)]
    log: LogArguments,
    #[command(flatten)]
    wants: WantArguments,
    #[command(flatten)]
    sawing: SawingArguments,
    /// Print all of it as JSON instead of the card
    #[arg(long, help_heading = "What is printed")]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
#[command(next_help_heading = "How far it is sawn, and what is otherwise now")]
struct HalfArguments {
    /// How many passes of the card were made, by its numbers
    #[arg(long, value_name = "PASSES", allow_hyphen_values = true)]
    sawn: Option<String>,
    /// The heights that were really sawn in one rest, in place of --sawn; repeat it for every rest
    #[arg(long = "cut", value_name = "HEIGHTS", allow_hyphen_values = true)]
    cuts: Vec<String>,
    /// The passes whose flitches are edged and cut already, by their numbers; all others are not
    #[arg(long, value_name = "PASSES", allow_hyphen_values = true)]
    finished: Vec<String>,
    /// What was found; repeat it for everything
    #[arg(long, value_name = "FLAW", allow_hyphen_values = true)]
    found: Vec<String>,
    /// How many of a size of the list are still wanted from this log, as in 2x8x12=3
    #[arg(long, value_name = "SIZE=COUNT", allow_hyphen_values = true)]
    left: Vec<String>,
    /// A want that is new on the list
    #[arg(long, value_name = "WANT", allow_hyphen_values = true)]
    also: Vec<String>,
    #[command(flatten)]
    again: AgainArguments,
}

/// What a tape says by now; what is not told stays as it was.
#[derive(Debug, Args)]
#[command(next_help_heading = "What was measured again")]
struct AgainArguments {
    /// The diameter at the small end, inside the bark; or two at right angles, as in 20x22
    #[arg(long, value_name = "DIAMETER", allow_hyphen_values = true)]
    now_small: Option<String>,
    /// The diameter at the butt, inside the bark; or two
    #[arg(long, value_name = "DIAMETER", allow_hyphen_values = true)]
    now_butt: Option<String>,
    /// The length
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    now_length: Option<String>,
    /// The bark's thickness on one side
    #[arg(long, value_name = "THICKNESS", allow_hyphen_values = true)]
    now_bark: Option<String>,
    /// Where the longer of two diameters points, at the small end and the butt
    #[arg(long, value_name = "CLOCK", allow_hyphen_values = true)]
    now_long_axis: Option<String>,
    /// The same at the butt, where it differs
    #[arg(long, value_name = "CLOCK", allow_hyphen_values = true)]
    now_long_axis_butt: Option<String>,
    /// How far it bows, as in "2 in toward 6"; "0 in toward 6" where it is straight
    #[arg(long, value_name = "SWEEP", allow_hyphen_values = true)]
    now_sweep: Option<String>,
    /// A sharp bend, as in "3 in toward 9 at 5 ft"
    #[arg(long, value_name = "CROOK", allow_hyphen_values = true)]
    now_crook: Option<String>,
    /// How far the pith lies off the middle of the small end, as in "1 in toward 4"
    #[arg(long, value_name = "PITH", allow_hyphen_values = true)]
    now_pith_small: Option<String>,
    /// The same at the butt
    #[arg(long, value_name = "PITH", allow_hyphen_values = true)]
    now_pith_butt: Option<String>,
    /// How much the butt flares, as in "4 in over 18 in"
    #[arg(long, value_name = "FLARE", allow_hyphen_values = true)]
    now_flare: Option<String>,
}

impl AgainArguments {
    fn into_request(self) -> AgainRequest {
        AgainRequest {
            small_end: Typed::new("--now-small", self.now_small),
            butt: Typed::new("--now-butt", self.now_butt),
            length: Typed::new("--now-length", self.now_length),
            bark: Typed::new("--now-bark", self.now_bark),
            as_grown: AsGrown {
                long_axis: Typed::new("--now-long-axis", self.now_long_axis),
                long_axis_butt: Typed::new("--now-long-axis-butt", self.now_long_axis_butt),
                sweep: Typed::new("--now-sweep", self.now_sweep),
                crook: Typed::new("--now-crook", self.now_crook),
                pith_small: Typed::new("--now-pith-small", self.now_pith_small),
                pith_butt: Typed::new("--now-pith-butt", self.now_pith_butt),
                flare: Typed::new("--now-flare", self.now_flare),
                ..AsGrown::nothing()
            },
        }
    }
}

/// The log whose card was followed.
#[derive(Debug)]
pub(crate) enum Half {
    /// One log.
    Log(Box<OpenRequest>),
    /// A log of a job file.
    Job(PathBuf, String),
    /// The log of a plan; of a plan of several, the one of this name.
    Plan(PathBuf, Option<String>),
}

impl ResumeArguments {
    /// The requests that they make.
    pub(crate) fn into_request(self) -> (Half, ResumeRequest) {
        let half = self.half;
        let request = ResumeRequest {
            sawn: Typed::new("--sawn", half.sawn),
            cuts: TypedList { name: "--cut", texts: half.cuts },
            finished: TypedList { name: "--finished", texts: half.finished },
            found: TypedList { name: "--found", texts: half.found },
            left: TypedList { name: "--left", texts: half.left },
            also: TypedList { name: "--also", texts: half.also },
            again: half.again.into_request(),
        };
        match (self.job, self.plan, self.id) {
            (Some(job), _, Some(id)) => return (Half::Job(job, id), request),
            (_, Some(plan), id) => return (Half::Plan(plan, id), request),
            _ => {}
        }
        let sawing = self.sawing.into_request(self.log);
        let open = OpenRequest { sawing, wants: self.wants.into_list() };
        (Half::Log(Box::new(open)), request)
    }
}
