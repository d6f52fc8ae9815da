//! A pile of logs with defects planned by grade: what it is worth beside its logs planned alone, and how long it takes.
//!
//! `cargo run --release -p pithward-benches --example pile_by_grade -- [logs] [count]`, with a count that many of the first
//! want within it for each log.
#![allow(clippy::print_stdout, reason = "a program whose result is its standard output")]
#![allow(clippy::disallowed_methods, reason = "a bench looks at the clock")]

use pithward_benches::{knotty, mill};
use pithward_optimizer::{
    Answer, Cut, Demand, Effort, Pile, PileLog, Settings, Want, open, plan_pile,
};
use std::time::Instant;

fn main() {
    let number = |place: usize| std::env::args().nth(place).and_then(|text| text.parse().ok());
    let (logs, each): (u64, u32) =
        (number(1).unwrap_or(40), number(2).map_or(0, |n: u64| u32::try_from(n).unwrap_or(0)));
    let mill = mill();
    let settings = Settings::of_a_pile(&mill);
    let log = |seed: u64| {
        let small = 12 + i64::try_from(seed % 11).unwrap_or(0);
        let knots = i64::try_from(seed % 9).unwrap_or(0);
        PileLog { log: knotty::log(seed, small, 10, knots), menu: 0 }
    };
    let mut wants = knotty::by_grade(22, 10);
    let alone = wants.clone();
    let count = (each > 0).then(|| each * u32::try_from(logs).unwrap_or(1));
    let first = count.map_or(0, |_| put_first(&mut wants[0], count));
    let demand = |(n, want): (usize, &Want)| Demand {
        count: want.count,
        first: if n == 0 { first } else { 0 },
        blocking: false,
    };
    let pile = Pile {
        mill: mill.clone(),
        logs: (0..logs).map(log).collect(),
        demands: wants.iter().enumerate().map(demand).collect(),
        menus: vec![wants],
        settings: settings.clone(),
        effort: Effort::default(),
    };
    let begun = Instant::now();
    let plan = plan_pile(&pile, &()).expect("no fault of the program");
    let seconds = begun.elapsed().as_secs_f64();
    let begun = Instant::now();
    let of = |of: &PileLog| match open(&of.log, &mill, &alone, &settings) {
        Ok(Answer::Planned(planned)) => planned.plan.worth as f64 / 1e6,
        _ => 0.0,
    };
    let alone: f64 = pile.logs.iter().map(of).sum();
    println!(
        "{logs} logs: {:.1} in {seconds:.1} s, {} of {:?} within the first count; alone {alone:.1} in {:.1} s; {} patterns, {} \
         searches, {} states, gap {:?} millionths",
        plan.worth as f64 / 1e6,
        plan.tally[0].given,
        count,
        begun.elapsed().as_secs_f64(),
        plan.proof.patterns,
        plan.proof.searches,
        plan.proof.states,
        plan.gap_millionths(),
    );
}

/// Asks for so many pieces of a want before anything else; what that puts on each.
fn put_first(want: &mut Want, count: Option<u32>) -> i64 {
    let first = want.cuts.iter().map(|cut| cut.worth).max().unwrap_or(0) * 9;
    let cut = |cut: &Cut| Cut { worth: cut.worth + first, ..*cut };
    want.cuts = want.cuts.iter().map(cut).collect();
    want.count = count;
    first
}
