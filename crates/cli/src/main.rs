//! The `pithward` command.
//!
//! It knows nothing but arguments, files, the terminal and the clock: arguments become a request, `pithward-job`
//! makes a job of it or of a job file, or tells all its faults, `pithward-optimizer` plans it, `pithward-report`
//! says what came out. Result on stdout, all else on stderr.
//!
//! | exit | means |
//! |---|---|
//! | 0 | there is a plan |
//! | 1 | none is possible; why, and what would help |
//! | 2 | bad input; every fault of it |
//! | 3 | the program failed: a fault of its own, or a result or an entry that could not be written |
//! | 130 | Ctrl-C a second time, or before there was any plan |

mod arguments;
mod bill;
mod draw;
mod fault_text;
mod learn;
mod outcome;
mod papers;
mod pile;
mod promise;
mod quote;
mod resume;
mod run;
mod starter;
mod tally;
mod wait;
mod written;

use arguments::{Arguments, Command};
use clap::Parser;
use std::process::ExitCode;

fn main() -> ExitCode {
    let outcome = match Arguments::parse().command {
        Command::New(arguments) => starter::new(&arguments),
        Command::Check(arguments) => pile::check(&arguments),
        Command::Plan(arguments) => pile::plan(arguments),
        Command::Quote(arguments) => quote::quote(&arguments),
        Command::Tally(arguments) => tally::tally(&arguments),
        Command::Bill(arguments) => bill::bill(&arguments),
        Command::Draw(arguments) => draw::draw(&arguments),
        Command::Learn(arguments) => learn::learn(&arguments),
        Command::Buck(arguments) => pile::buck(arguments),
        Command::Need(arguments) => pile::need(arguments),
        Command::Open(arguments) => run::open(arguments),
        Command::Resume(arguments) => resume::resume(*arguments),
        Command::Compare(arguments) => run::compare(arguments),
        Command::Count(arguments) => run::count(arguments),
        Command::Scale(arguments) => run::scale(arguments),
    };
    outcome.print()
}
