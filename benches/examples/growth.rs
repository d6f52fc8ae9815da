//! How planning a pile grows with its logs.
//!
//! `cargo run --release -p pithward-benches --example growth [most logs]`
//!
//! Prints, for invented piles of ten wants and three kinds of wood measured in sixteenths: logs, classes of
//! logs that are alike, seconds, the proven gap (of the value, with what puts the list first; of the worth
//! alone), searches of one log, states, and the most memory that the process has taken so far.
#![allow(clippy::print_stdout, reason = "a program whose result is its standard output")]
#![allow(clippy::disallowed_methods, reason = "a bench looks at the clock")]

use pithward_benches::yard::{SIZES, gap, yard};
use pithward_optimizer::plan_pile;
use std::time::Instant;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let most: usize = std::env::args().nth(1).map_or(Ok(10_000), |text| text.parse())?;
    println!(
        "  logs  classes   seconds       gap  of worth  searches      states  programs  patterns  peak memory"
    );
    for logs in SIZES.into_iter().filter(|logs| *logs <= most) {
        let pile = yard(logs, 1);
        let start = Instant::now();
        let plan = plan_pile(&pile, &())?;
        let seconds = start.elapsed().as_secs_f64();
        let proof = &plan.proof;
        println!(
            "{logs:>6}  {:>7}  {seconds:>8.2}  {:>7.3}%  {:>7.3}%  {:>8}  {:>10}  {:>8}  {:>8}  {:>11}",
            proof.classes,
            100.0 * gap(proof),
            plan.gap_millionths().map_or(f64::NAN, |gap| gap as f64 / 1e4),
            proof.searches,
            proof.states,
            proof.programs,
            proof.patterns,
            peak_memory().unwrap_or_else(|| "unknown".to_owned()),
        );
    }
    Ok(())
}

/// As the system tells it; nothing where it does not.
fn peak_memory() -> Option<String> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.trim_start_matches("VmHWM:").trim().to_owned())
}
