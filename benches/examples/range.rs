//! How long the range of a quote takes, and what it takes of the machine.
//!
//! `cargo run --release -p pithward-benches --example range [job file] [piles]`
//!
//! Prints, for a job: seconds and peak memory of its plan and of its range, the work in counts, and the range.
#![allow(clippy::print_stdout, reason = "a program whose result is its standard output")]
#![allow(clippy::disallowed_methods, reason = "a bench looks at the clock")]

use pithward_day::range::{Asked, ByHours, Range, forecast};
use pithward_job::read_job;
use pithward_optimizer::plan_pile;
use std::path::Path;
use std::time::Instant;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut args = std::env::args().skip(1);
    let file = args.next().unwrap_or_else(|| "data/jobs/farmyard.toml".to_owned());
    let mut asked = Asked::default();
    if let Some(piles) = args.next() {
        asked.piles = piles.parse()?;
    }
    let job = read_job(Path::new(&file), "JOB").map_err(|faults| format!("{faults:?}"))?;
    let start = Instant::now();
    let plan = plan_pile(&job.pile(), &())?;
    let planned = start.elapsed().as_secs_f64();
    let range = forecast(&job, &plan, &ByHours::of(&job), &asked, &())?;
    println!("plan {planned:.2} s, with its range {:.2} s", start.elapsed().as_secs_f64());
    println!("peak memory {}", peak_memory().unwrap_or_else(|| "unknown".to_owned()));
    println!("{} logs searched, {} patterns", range.searches, range.patterns);
    println!("                 planned       low    likely      high");
    let line = |name: &str, of: Range<f64>| {
        let Range { planned, low, likely, high } = of;
        println!("{name:<14} {planned:>9.1} {low:>9.1} {likely:>9.1} {high:>9.1}");
    };
    let millionths = |of: Range<i64>| {
        let all = [of.planned, of.low, of.likely, of.high].map(|n| n as f64 / 1e6);
        Range { planned: all[0], low: all[1], likely: all[2], high: all[3] }
    };
    let count = |of: Range<u32>| Range {
        planned: f64::from(of.planned),
        low: f64::from(of.low),
        likely: f64::from(of.likely),
        high: f64::from(of.high),
    };
    line("board feet", millionths(range.board_feet));
    if let Some(worth) = range.worth {
        line("worth", millionths(worth));
    }
    line("minutes", range.minutes);
    line("blades", count(range.blades));
    for (want, of) in job.wants.iter().zip(&range.wants) {
        line(&want.size.to_string(), count(of.pieces));
        println!("{:<14} asked {:?}, safe {}, filled {:.3}", "", of.asked, of.safe, of.filled);
    }
    for share in &range.shares {
        let [feet, worth, minutes] =
            [share.board_feet, share.worth, share.minutes].map(|share| 100.0 * share);
        println!("{:?}: {feet:.0} % {worth:.0} % {minutes:.0} %", share.source);
    }
    Ok(())
}

/// As the system tells it; nothing where it does not.
fn peak_memory() -> Option<String> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.trim_start_matches("VmHWM:").trim().to_owned())
}
