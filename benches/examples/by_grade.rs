//! Logs with defects sawn by grade: what turning them gains, and how long one takes.
//!
//! `cargo run --release -p pithward-benches --example by_grade -- [logs]`
#![allow(clippy::print_stdout, reason = "a program whose result is its standard output")]
#![allow(clippy::disallowed_methods, reason = "a bench looks at the clock")]

use pithward_benches::{knotty, mill};
use pithward_geometry::{Angle, Frame, Log};
use pithward_optimizer::{Answer, Settings, open, open_laid};
use std::time::Instant;

/// Turns whose mean stands for turning without a look, degrees apart.
const APART: i32 = 36;

fn main() {
    let logs = std::env::args().nth(1).and_then(|text| text.parse().ok()).unwrap_or(200);
    let mill = mill();
    let settings = Settings::all(&mill);
    let (mut found, mut random, mut worst, mut longest) = (0.0, 0.0, 0.0, 0.0f64);
    for seed in 0..logs {
        let small = 12 + i64::try_from(seed % 13).unwrap_or(0);
        let log: Log = knotty::log(seed, small, 10, 20);
        let wants = knotty::by_grade(small, 10);
        let begun = Instant::now();
        let Ok(Answer::Planned(planned)) = open(&log, &mill, &wants, &settings) else { continue };
        let seconds = begun.elapsed().as_secs_f64();
        longest = longest.max(seconds);
        let worth = |degrees: i32| {
            let frame = Frame::turned(Angle::degrees(degrees));
            match open_laid(&log, &mill, &wants, &settings, frame) {
                Ok(Answer::Planned(planned)) => planned.plan.worth as f64 / 1e6,
                _ => 0.0,
            }
        };
        let turned: Vec<f64> = (0..360 / APART).map(|n| worth(n * APART)).collect();
        let mean = turned.iter().sum::<f64>() / turned.len() as f64;
        let least = turned.iter().copied().fold(f64::INFINITY, f64::min);
        let own = planned.plan.worth as f64 / 1e6;
        (found, random, worst) = (found + own, random + mean, worst + least);
        println!(
            "log {seed}, {small} in: {own:.1} by {}, turned anyhow {mean:.1}, at worst {least:.1}; clear {:.1}; {:.0} ms",
            planned.plan.method.name(),
            planned.proof.worth_bound as f64 / 1e6,
            1e3 * seconds,
        );
    }
    println!(
        "in all {found:.0}; turned anyhow {random:.0} ({:.1} % less), at worst {worst:.0} ({:.1} % less); the longest took {longest:.2} s",
        100.0 * (1.0 - random / found),
        100.0 * (1.0 - worst / found)
    );
}
