//! Whether the ranges of many small jobs hold what they say.
//!
//! `cargo run --release -p pithward-benches --example calibrate [jobs] [first seed] [piles] [logs learned from]`
//!
//! Prints how often each figure lay within its range of eight chances in ten, below it and above it: with true errors of
//! the stated size, and twice as large. Counts come in steps, so they are held more often than eight times in ten.
#![allow(clippy::print_stdout, reason = "a program whose result is its standard output")]

use pithward_benches::calibrated::{Coverage, Held, ranged, small_job, times, truth};
use pithward_day::range::Asked;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut args = std::env::args().skip(1);
    let jobs: u64 = args.next().map_or(Ok(2_000), |text| text.parse())?;
    let first: u64 = args.next().map_or(Ok(0), |text| text.parse())?;
    let piles: u32 = args.next().map_or(Ok(49), |text| text.parse())?;
    let learned: u32 = args.next().map_or(Ok(180), |text| text.parse())?;
    let (mut stated, mut twice) = (Coverage::default(), Coverage::default());
    for n in 0..jobs {
        let seed = first + n;
        let job = small_job(seed);
        let range = ranged(&job, &Asked { seed, piles, learned })?;
        stated.add(&range, &truth(&job, &job.doubt, seed)?);
        twice.add(&range, &truth(&job, &times(&job.doubt, 2), seed)?);
        if (n + 1) % 50 == 0 || n + 1 == jobs {
            println!("{} jobs, errors as stated", n + 1);
            print(&stated);
            println!("{} jobs, errors twice as large", n + 1);
            print(&twice);
        }
    }
    Ok(())
}

fn print(of: &Coverage) {
    for (name, held) in [
        ("board feet", of.board_feet),
        ("minutes", of.minutes),
        ("pieces of open wants", of.open_wants),
        ("pieces of counted wants", of.counted),
        ("promises", of.promises),
    ] {
        let Held { within, below, above } = held;
        println!(
            "  {name:<24} {:>6.1} %  ({within} within, {below} below, {above} above)",
            100.0 * held.share()
        );
    }
}
