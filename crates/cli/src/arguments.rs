//! The arguments, and the requests that they make. Values stay as they were typed: whoever knows what a
//! value means reads it, and tells its faults together with all others.

mod bill;
mod buck;
mod compare;
mod draw;
mod help;
mod learn;
mod pile;
mod quote;
mod resume;
mod tally;

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};
use pithward_job::{
    AsGrown, CountRequest, Files, LogRequest, OpenRequest, PieceRules, PolicyRequest,
    SawingRequest, ScaleRequest, Switch, Typed, TypedList, TypedPath,
};

pub(crate) use bill::{BillArguments, By, WhoseCharges};
pub(crate) use buck::BuckArguments;
pub(crate) use compare::{CompareArguments, Compared};
pub(crate) use draw::DrawArguments;
use help::{COUNT_HELP, OPEN_HELP, SCALE_HELP};
pub(crate) use learn::LearnArguments;
pub(crate) use pile::{CheckArguments, NeedArguments, Needed, NewArguments, PlanArguments, card};
pub(crate) use quote::{PaperName, QuoteArguments};
pub(crate) use resume::{Half, ResumeArguments};
pub(crate) use tally::TallyArguments;

/// Plans how to saw a customer's logs on a portable horizontal band mill.
#[derive(Debug, Parser)]
#[command(name = "pithward", version, arg_required_else_help = true)]
#[command(
    after_help = "Lengths are written as people write them: 24 1/2 in, 24-1/2\", 12 ft 4 in, 12' 4\", 3.66 m, \
620 mm. A bare diameter, thickness or allowance is inches, a bare log or board length feet.\n\n\
Exit code: 0 with a plan, 1 when none is possible, 2 on bad input, 3 when the program itself fails, \
130 when Ctrl-C ended it."
)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Write a commented job file to begin with
    New(NewArguments),
    /// Every fault of a job file at once, or what was understood of it
    Check(CheckArguments),
    /// Which log of a pile makes what: the list filled, the order of sawing, the cut cards
    Plan(PlanArguments),
    /// What a job makes, how long it takes, what it costs, needs and leaves, with the papers for both sides
    Quote(QuoteArguments),
    /// What happened at the mill, kept line by line, and how the day stands
    Tally(TallyArguments),
    /// What a day came to: hours, what is to be paid, what was promised and what came, the lumber
    Bill(BillArguments),
    /// A job as one page for a phone and for paper: every log step by step, with pictures
    Draw(DrawArguments),
    /// What your own jobs say of the pace and of what comes out, as a new mill file
    Learn(LearnArguments),
    /// Where to cut a long stem, chosen together with what its logs will make
    Buck(BuckArguments),
    /// How many logs of one kind a list takes
    Need(NeedArguments),
    /// How to open one log: every pass, every turn, what every piece becomes, and what comes out
    Open(OpenArguments),
    /// How to go on with a half-sawn log: something was found, measured again, or is wanted otherwise
    Resume(Box<ResumeArguments>),
    /// One log by every method: pieces, grades, worth, minutes, and which to choose
    Compare(CompareArguments),
    /// The most pieces of one size that a log gives, by each method, or that a pile gives
    Count(CountArguments),
    /// What a log holds by each log rule, in cubic measure, and what it weighs
    Scale(ScaleArguments),
}

#[derive(Debug, Args)]
#[command(after_help = OPEN_HELP)]
#[command(override_usage = "\
pithward open --small <DIAMETER> --butt <DIAMETER> --length <LENGTH> --want <WANT>... [OPTIONS]
       pithward open --shape <FILE> --want <WANT>... [OPTIONS]")]
pub(crate) struct OpenArguments {
    #[command(flatten)]
    log: LogArguments,
    #[command(flatten)]
    wants: WantArguments,
    #[command(flatten)]
    sawing: SawingArguments,
    /// Print the whole plan as JSON instead of the card
    #[arg(long, help_heading = "What is printed")]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
#[command(after_help = COUNT_HELP)]
#[command(override_usage = "\
pithward count <SIZE> --small <DIAMETER> --butt <DIAMETER> --length <LENGTH> [OPTIONS]
       pithward count <SIZE> --shape <FILE> [OPTIONS]
       pithward count <SIZE> <JOB>")]
pub(crate) struct CountArguments {
    /// The size, as in 2x6, 2x6x12 or 50x150 mm, with what is allowed behind it as in 2x6,wane=1/2 in
    #[arg(value_name = "SIZE", allow_hyphen_values = true)]
    size: Option<String>,
    /// A job file: the pieces are counted that all of its logs give
    #[arg(value_name = "JOB", conflicts_with_all = LOG, conflicts_with_all = SAWING)]
    job: Option<PathBuf>,
    #[command(flatten)]
    log: LogArguments,
    #[command(flatten)]
    sawing: SawingArguments,
}

#[derive(Debug, Args)]
#[command(after_help = SCALE_HELP)]
#[command(override_usage = "\
pithward scale --small <DIAMETER> --butt <DIAMETER> --length <LENGTH> [OPTIONS]
       pithward scale --shape <FILE> [OPTIONS]")]
pub(crate) struct ScaleArguments {
    #[command(flatten)]
    log: LogArguments,
    /// Round the diameter down to a whole inch, not to the nearest: agencies differ
    #[arg(long, help_heading = "How it is scaled")]
    round_down: bool,
}

/// What is said of one log, and [`SAWING`] of how it is sawn, where no job file says it. Each by its own name: of a
/// group, clap tells also those that were not typed.
const LOG: [&str; 19] = [
    "small",
    "butt",
    "length",
    "species",
    "bark",
    "over_bark",
    "trim",
    "long_axis",
    "long_axis_butt",
    "sweep",
    "crook",
    "pith_small",
    "pith_butt",
    "flare",
    "flaws",
    "seen",
    "shape",
    "unit",
    "up",
];
const SAWING: [&str; 14] = [
    "mill",
    "sizes",
    "final_moisture",
    "planing",
    "sawing_deviation",
    "undersize",
    "lengths",
    "heart",
    "centred",
    "clear",
    "tolerates",
    "tolerance",
    "methods",
    "taper",
];

/// The customer's list.
#[derive(Debug, Args)]
struct WantArguments {
    /// One line of the customer's list, see `pithward open --help`; repeat it for every line
    #[arg(
        long = "want",
        value_name = "WANT",
        allow_hyphen_values = true,
        help_heading = "The wants"
    )]
    wants: Vec<String>,
}

impl WantArguments {
    fn into_list(self) -> TypedList {
        TypedList { name: "--want", texts: self.wants }
    }
}

#[derive(Debug, Args)]
#[command(next_help_heading = "The log")]
struct LogArguments {
    /// Diameter at the small end, inside the bark, or two at right angles, as in "14 x 12 1/2 in"; a bare
    /// number is inches
    #[arg(long, value_name = "DIAMETER", allow_hyphen_values = true)]
    small: Option<String>,
    /// Diameter at the butt, the large end, inside the bark and above any flare; a bare number is inches
    #[arg(long, value_name = "DIAMETER", allow_hyphen_values = true)]
    butt: Option<String>,
    /// Length of the log; a bare number is feet
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    length: Option<String>,
    /// Species, as in "white oak": for its bark, its weight and its shrinkage
    #[arg(long, value_name = "NAME", allow_hyphen_values = true)]
    species: Option<String>,
    /// Thickness of the bark on one side; a bare number is inches. Without it, the species' average
    #[arg(long, value_name = "THICKNESS", allow_hyphen_values = true)]
    bark: Option<String>,
    /// The diameters were taped over the bark: take it off, as given or by the species' average
    #[arg(long)]
    over_bark: bool,
    /// What is cut off each board beyond the length that counts; a bare number is inches. None without it
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    trim: Option<String>,
    /// Where the longer of two diameters points on a clock at the small end, 12 being up: the end is then
    /// oval. Without it, the mean of the two counts
    #[arg(long, value_name = "CLOCK", allow_hyphen_values = true, help_heading = REAL)]
    long_axis: Option<String>,
    /// The same at the butt, where it differs, still as seen from the small end
    #[arg(long, value_name = "CLOCK", allow_hyphen_values = true, help_heading = REAL)]
    long_axis_butt: Option<String>,
    /// A bow of the whole log, the belly toward an hour of the clock, as in "2 in toward 6 at 6 ft" (from
    /// the butt; the middle where it is left out)
    #[arg(long, value_name = "SWEEP", allow_hyphen_values = true, help_heading = REAL)]
    sweep: Option<String>,
    /// A sharp bend, as in "3 in toward 9 at 5 ft"
    #[arg(long, value_name = "CROOK", allow_hyphen_values = true, help_heading = REAL)]
    crook: Option<String>,
    /// How far the pith is from the middle of the small end, and where, as in "1 in toward 4"
    #[arg(long, value_name = "PITH", allow_hyphen_values = true, help_heading = REAL)]
    pith_small: Option<String>,
    /// The same at the butt, still as seen from the small end
    #[arg(long, value_name = "PITH", allow_hyphen_values = true, help_heading = REAL)]
    pith_butt: Option<String>,
    /// How much the butt widens below the stem, as in "4 in over 18 in"
    #[arg(long, value_name = "FLARE", allow_hyphen_values = true, help_heading = REAL)]
    flare: Option<String>,
    /// Something wrong with the wood, see `pithward open --help`; repeat it for every flaw
    #[arg(long = "flaw", value_name = "FLAW", allow_hyphen_values = true, help_heading = REAL)]
    flaws: Vec<String>,
    /// Something seen on the log that lowers what its boards are worth, as in "knot 2:30 3 ft 2 in 2 in" (clock,
    /// from the butt, across), see `pithward open --help`; repeat it for every one
    #[arg(long = "seen", value_name = "SEEN", allow_hyphen_values = true, help_heading = REAL)]
    seen: Vec<String>,
    /// A scan (PLY, OBJ) or outlines in a sheet (CSV) in place of the ends, the length and the bow; with
    /// `--over-bark` if the log was scanned with its bark on
    #[arg(long, value_name = "FILE", allow_hyphen_values = true, help_heading = REAL)]
    shape: Option<String>,
    /// What the coordinates of the scan are in: mm, cm, m, in or ft. Without it, judged by the size
    #[arg(long, value_name = "UNIT", allow_hyphen_values = true, help_heading = REAL)]
    unit: Option<String>,
    /// Which of the scan's own directions was up, as in +y or "0 1 0". Without it, +z
    #[arg(long, value_name = "DIRECTION", allow_hyphen_values = true, help_heading = REAL)]
    up: Option<String>,
}

/// What heads the arguments that make a log other than round, straight and sound.
const REAL: &str = "A log that is not round, straight and sound";

#[derive(Debug, Args)]
#[command(next_help_heading = "The mill and the sizes")]
struct SawingArguments {
    /// The mill's own figures, TOML or JSON. Without it, a stated generic mill
    #[arg(long, value_name = "FILE")]
    mill: Option<PathBuf>,
    /// What a named size stands for: `full` (sawn exactly as named), `dressed` (sawn so that it dresses to
    /// the softwood standard's size of that name) or `finished` (the named size is the dry, planed one;
    /// needs the species and the four settings below). Without it `full` is assumed, and the card says so
    #[arg(long, value_name = "POLICY", allow_hyphen_values = true)]
    sizes: Option<String>,
    /// For finished sizes: moisture that the wood is dried to, percent of its dry mass
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    final_moisture: Option<String>,
    /// For finished sizes: what planing takes off both faces together; a bare number is inches
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    planing: Option<String>,
    /// For finished sizes: how far sawn sizes stray, one standard deviation; a bare number is inches
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    sawing_deviation: Option<String>,
    /// For finished sizes: boards in a hundred that may come out scant
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    undersize: Option<String>,
    /// Lengths that are accepted where a size names none, as in 8/10/12 or "2400/3000 mm"; bare numbers
    /// are feet
    #[arg(long, value_name = "LENGTHS", allow_hyphen_values = true)]
    lengths: Option<String>,
    /// Where the pith may be where a want says nothing: `boxed` (inside the piece), `free` (outside it) or
    /// `any`, which it is without it
    #[arg(long, value_name = "RULE", allow_hyphen_values = true)]
    heart: Option<String>,
    /// For boxed heart: how far the pith may be from the middle of a piece; a bare number is inches
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    centred: Option<String>,
    /// For free heart: how far the pith must be from a piece; a bare number is inches. Without it, 1/8 in
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    clear: Option<String>,
    /// Flaws that a piece may hold where a want says nothing, as in stain/split. Without it, none
    #[arg(long, value_name = "FLAWS", allow_hyphen_values = true)]
    tolerates: Option<String>,
    /// How far a thickness or a width may be off once the blade is set; a bare number is inches. Without
    /// it, one step of the mill's scale
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    tolerance: Option<String>,
    /// A way to saw: `through`, `through-turned`, `two-sided`, `four-sided`, `boxed`, `around` or `quarter`;
    /// repeat it for several. Without it all of them are searched, `quarter` only where a want asks for rings
    /// that stand on the face, and the best is taken
    #[arg(long = "method", value_name = "METHOD", allow_hyphen_values = true)]
    methods: Vec<String>,
    /// How a round log may lie for its taper: `level`, its pith level, as without it; or `search`, also with one
    /// side or two parallel to the bark where that is worth more, which takes several times as long
    #[arg(long, value_name = "HOW", allow_hyphen_values = true)]
    taper: Option<String>,
}

impl OpenArguments {
    /// The request that they make.
    pub(crate) fn into_request(self) -> OpenRequest {
        OpenRequest { sawing: self.sawing.into_request(self.log), wants: self.wants.into_list() }
    }
}

/// What is counted.
#[derive(Debug)]
pub(crate) enum Counted {
    /// The pieces of one log.
    Log(Box<CountRequest>),
    /// The pieces of a size that the logs of a job file give.
    Pile(Typed, PathBuf),
}

impl CountArguments {
    /// The request that they make.
    pub(crate) fn into_request(self) -> Counted {
        let size = Typed::new("SIZE", self.size);
        match self.job {
            Some(job) => Counted::Pile(size, job),
            None => {
                let sawing = self.sawing.into_request(self.log);
                Counted::Log(Box::new(CountRequest { sawing, size }))
            }
        }
    }
}

impl ScaleArguments {
    /// The request that they make.
    pub(crate) fn into_request(self) -> ScaleRequest {
        ScaleRequest { log: self.log.into_request(), round_down: self.round_down }
    }
}

impl LogArguments {
    fn into_request(self) -> LogRequest {
        LogRequest {
            small_end: Typed::new("--small", self.small),
            butt: Typed::new("--butt", self.butt),
            length: Typed::new("--length", self.length),
            species: Typed::new("--species", self.species),
            bark: Typed::new("--bark", self.bark),
            over_bark: Switch { name: "--over-bark", on: self.over_bark },
            trim: Typed::new("--trim", self.trim),
            as_grown: AsGrown {
                long_axis: Typed::new("--long-axis", self.long_axis),
                long_axis_butt: Typed::new("--long-axis-butt", self.long_axis_butt),
                sweep: Typed::new("--sweep", self.sweep),
                crook: Typed::new("--crook", self.crook),
                pith_small: Typed::new("--pith-small", self.pith_small),
                pith_butt: Typed::new("--pith-butt", self.pith_butt),
                flare: Typed::new("--flare", self.flare),
                flaws: TypedList { name: "--flaw", texts: self.flaws },
                seen: TypedList { name: "--seen", texts: self.seen },
                shape: Typed::new("--shape", self.shape),
                unit: Typed::new("--unit", self.unit),
                up: Typed::new("--up", self.up),
            },
            files: Files::OnDisk,
        }
    }
}

impl SawingArguments {
    fn into_request(self, log: LogArguments) -> SawingRequest {
        SawingRequest {
            log: log.into_request(),
            mill: TypedPath { name: "--mill", path: self.mill },
            policy: PolicyRequest {
                sizes: Typed::new("--sizes", self.sizes),
                final_moisture: Typed::new("--final-moisture", self.final_moisture),
                planing: Typed::new("--planing", self.planing),
                sawing_deviation: Typed::new("--sawing-deviation", self.sawing_deviation),
                undersize: Typed::new("--undersize", self.undersize),
            },
            lengths: Typed::new("--lengths", self.lengths),
            pieces: PieceRules {
                heart: Typed::new("--heart", self.heart),
                centred: Typed::new("--centred", self.centred),
                clear: Typed::new("--clear", self.clear),
                tolerates: Typed::new("--tolerates", self.tolerates),
            },
            tolerance: Typed::new("--tolerance", self.tolerance),
            methods: TypedList { name: "--method", texts: self.methods },
            taper: Typed::new("--taper", self.taper),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Arguments, LOG, LogArguments, SAWING, SawingArguments};
    use clap::{Args, Command, CommandFactory};

    #[test]
    fn the_arguments_do_not_contradict_each_other() {
        Arguments::command().debug_assert();
    }

    /// A job file stands against every argument that it takes the place of.
    #[test]
    fn the_names_are_all_of_the_log_and_the_sawing() {
        let names = |command: Command| -> Vec<String> {
            command.get_arguments().map(|argument| argument.get_id().to_string()).collect()
        };
        assert_eq!(names(LogArguments::augment_args(Command::new("log"))), LOG);
        assert_eq!(names(SawingArguments::augment_args(Command::new("sawing"))), SAWING);
    }
}
