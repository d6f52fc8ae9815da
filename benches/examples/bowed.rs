//! A pile of bowed ovals: how long its plan takes, and the gap that is left.
//!
//! `cargo run --release -p pithward-benches --example bowed -- [logs] [seed]`
#![allow(clippy::print_stdout, reason = "a program whose result is its standard output")]
#![allow(clippy::disallowed_methods, reason = "a bench looks at the clock")]

use pithward_benches::yard::{bowed_log, crooked};
use pithward_benches::{eight_sizes, mill};
use pithward_optimizer::{Settings, open, plan_pile};
use std::time::Instant;

fn main() {
    let mut arguments = std::env::args().skip(1).filter_map(|text| text.parse().ok());
    let (logs, seed) = (arguments.next().unwrap_or(40), arguments.next().unwrap_or(1));
    let (mill, sizes) = (mill(), eight_sizes([8, 10, 12]));
    for log in (0..4).map(bowed_log) {
        let begun = Instant::now();
        let answer = open(&log, &mill, &sizes, &Settings::all(&mill));
        println!(
            "one log: {:.0} ms, planned: {}",
            begun.elapsed().as_secs_f64() * 1e3,
            answer.is_ok()
        );
    }
    let pile = crooked(usize::try_from(logs).unwrap_or(40), seed);
    let begun = Instant::now();
    if let Ok(plan) = plan_pile(&pile, &()) {
        let gap = plan.gap_millionths().map(|gap| gap as f64 / 1e4);
        println!("{logs} logs: {:.1} s, a gap of {gap:?} %", begun.elapsed().as_secs_f64());
    }
}
