//! From a half-sawn log: how long the answer takes, for every way of opening a log of 24 in and every number of passes.
//!
//! `cargo run --release -p pithward-benches --example resume -- [diameter in]`
#![allow(clippy::print_stdout, reason = "a program whose result is its standard output")]
#![allow(clippy::disallowed_methods, reason = "a bench looks at the clock")]

use pithward_benches::half_sawn::{Found, cases};
use pithward_benches::mill;
use pithward_optimizer::{HalfSawn, ResumeAnswer, Settings, resume};
use std::time::Instant;

fn main() {
    let inches = std::env::args().nth(1).and_then(|text| text.parse().ok()).unwrap_or(24);
    let mill = mill();
    let mut all = Vec::new();
    for case in cases(inches) {
        for found in Found::ALL {
            let log = found.in_log(&case.log);
            let half = HalfSawn { begun: &case.begun, plan: Some(&case.plan) };
            let begun = Instant::now();
            let answer = resume(&log, &mill, &case.wants, &Settings::all(&mill), half);
            let took = begun.elapsed().as_secs_f64() * 1e3;
            all.push(took);
            let words = match answer {
                Ok(ResumeAnswer::Resumed(resumed)) => format!(
                    "{:?}, {} of {:?} then {}, {} states",
                    resumed.how,
                    resumed.as_it_stands.unwrap_or(0) / 10_000,
                    resumed.before.map(|worth| worth / 10_000),
                    resumed.plan.worth / 10_000,
                    resumed.states
                ),
                other => format!("{other:?}"),
            };
            println!("{took:>7.1} ms  {}, {found:?}: {words}", case.name);
        }
    }
    all.sort_by(f64::total_cmp);
    let at = |tenths: usize| all[(all.len() - 1) * tenths / 10];
    println!(
        "{} answers: median {:.0} ms, nine in ten {:.0} ms, slowest {:.0} ms",
        all.len(),
        at(5),
        at(9),
        at(10)
    );
}
