//! The arguments, and the requests that they make. Values stay as they were typed: whoever knows what a
//! value means reads it, and tells its faults together with all others.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};
use pithward_job::{
    CountRequest, LogRequest, OpenRequest, PolicyRequest, SawingRequest, ScaleRequest, Switch,
    Typed, TypedList, TypedPath,
};

/// Plans how to saw a customer's logs on a portable horizontal band mill.
#[derive(Debug, Parser)]
#[command(name = "pithward", version, arg_required_else_help = true)]
#[command(
    after_help = "Lengths are written as people write them: 24 1/2 in, 24-1/2\", 12 ft 4 in, 12' 4\", 3.66 m, \
620 mm. A bare diameter, thickness or allowance is inches, a bare log or board length feet.\n\n\
Exit code: 0 with a plan, 1 when none is possible, 2 on bad input, 3 when the program itself fails."
)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// How to open one log: every pass, every turn, what every piece becomes, and what comes out
    Open(OpenArguments),
    /// The most pieces of one size that a log gives, by each method
    Count(CountArguments),
    /// What a log holds by each log rule, in cubic measure, and what it weighs
    Scale(ScaleArguments),
}

const OPEN_HELP: &str = "\
Examples:
  pithward open --small \"22 in\" --butt \"24 1/2 in\" --length \"12 ft\" --species \"white oak\" \\
      --want 2x8x12=6 --want 1x6
  pithward open --small \"560 mm\" --butt \"590 mm\" --length \"3.7 m\" \\
      --mill data/mills/small-metric.toml \\
      --want \"50x150x3600 mm=4+\" --want \"25x100up mm\"

A want is a size, how many, and what is allowed:
  2x8x12=6               six, twelve feet long
  2x8x12=6+              six, and more are welcome
  1x6                    as many as come, in every usual length
  4/4x6up                hardwood an inch thick, six inches and wider
  2x6=8,lengths=8/10/12  eight, in any of these lengths (feet; or lengths=2400/3000 mm)
  2x6x12=8,wane=1/2 in   with at most 1/2 in of wood missing at a corner
  2x6x12=8,wane=1/3      with at most a third of the thickness and of the width missing
Where nobody names a length, every whole foot from 6 ft up is accepted (every 300 mm from
1800 mm up for a size in millimetres).

A mill file is TOML or JSON. Copy data/mills/generic.toml and put your own mill's figures in;
without one, a stated generic mill is planned with.";

const COUNT_HELP: &str = "\
Examples:
  pithward count 2x6 --small 16 --butt 18 --length 12
  pithward count 4/4x6x8 --small \"410 mm\" --butt \"450 mm\" --length \"2.5 m\" --method through

Where neither the size nor --lengths names a length, it is the full length of the log in whole feet.";

const SCALE_HELP: &str = "\
Example:
  pithward scale --small 16 --butt 18 --length \"12 ft 6 in\" --trim 6 \\
      --species \"northern red oak\"";

#[derive(Debug, Args)]
#[command(after_help = OPEN_HELP)]
#[command(
    override_usage = "pithward open --small <DIAMETER> --butt <DIAMETER> --length <LENGTH> --want <WANT>... [OPTIONS]"
)]
pub(crate) struct OpenArguments {
    #[command(flatten)]
    log: LogArguments,
    /// One line of the customer's list, see below; repeat it for every line
    #[arg(
        long = "want",
        value_name = "WANT",
        allow_hyphen_values = true,
        help_heading = "The wants"
    )]
    wants: Vec<String>,
    #[command(flatten)]
    sawing: SawingArguments,
    /// Print the whole plan as JSON instead of the card
    #[arg(long, help_heading = "What is printed")]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
#[command(after_help = COUNT_HELP)]
#[command(
    override_usage = "pithward count <SIZE> --small <DIAMETER> --butt <DIAMETER> --length <LENGTH> [OPTIONS]"
)]
pub(crate) struct CountArguments {
    /// The size, as in 2x6, 2x6x12 or 50x150 mm, with what is allowed behind it as in 2x6,wane=1/2 in
    #[arg(value_name = "SIZE", allow_hyphen_values = true)]
    size: Option<String>,
    #[command(flatten)]
    log: LogArguments,
    #[command(flatten)]
    sawing: SawingArguments,
}

#[derive(Debug, Args)]
#[command(after_help = SCALE_HELP)]
#[command(
    override_usage = "pithward scale --small <DIAMETER> --butt <DIAMETER> --length <LENGTH> [OPTIONS]"
)]
pub(crate) struct ScaleArguments {
    #[command(flatten)]
    log: LogArguments,
    /// Round the diameter down to a whole inch, not to the nearest: agencies differ
    #[arg(long, help_heading = "How it is scaled")]
    round_down: bool,
}

#[derive(Debug, Args)]
#[command(next_help_heading = "The log")]
struct LogArguments {
    /// Diameter at the small end, inside the bark; a bare number is inches
    #[arg(long, value_name = "DIAMETER", allow_hyphen_values = true)]
    small: Option<String>,
    /// Diameter at the butt, the large end, inside the bark; a bare number is inches
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
}

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
    /// How far a thickness or a width may be off once the blade is set; a bare number is inches. Without
    /// it, one step of the mill's scale
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    tolerance: Option<String>,
    /// A way to saw: `through`, `through-turned`, `two-sided`, `four-sided` or `boxed`; repeat it for
    /// several. Without it, all of them, and the best is taken
    #[arg(long = "method", value_name = "METHOD", allow_hyphen_values = true)]
    methods: Vec<String>,
}

impl OpenArguments {
    /// The request that they make.
    pub(crate) fn into_request(self) -> OpenRequest {
        let wants = TypedList { name: "--want", texts: self.wants };
        OpenRequest { sawing: self.sawing.into_request(self.log), wants }
    }
}

impl CountArguments {
    /// The request that they make.
    pub(crate) fn into_request(self) -> CountRequest {
        let size = Typed::new("SIZE", self.size);
        CountRequest { sawing: self.sawing.into_request(self.log), size }
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
            tolerance: Typed::new("--tolerance", self.tolerance),
            methods: TypedList { name: "--method", texts: self.methods },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Arguments;
    use clap::CommandFactory;

    #[test]
    fn the_arguments_do_not_contradict_each_other() {
        Arguments::command().debug_assert();
    }
}
