//! How soon a sawyer's own jobs improve the forecast, and whether the ranges of what is learned hold: on invented histories
//! of mills whose true pace is known, drawn about the defaults or about a mill that is worked by hand.
//!
//! ```text
//! cargo run --release -p pithward-benches --example learned            300 mills for each number of jobs
//! cargo run --release -p pithward-benches --example learned -- 1000
//! ```
//! `days leave` is what no fit can know: how far the mean of so many days of such mills is off the middle of all their days, in
//! the mean over the mills. What is off beyond it is off because the figures are not told apart well enough; `leans` says how much
//! of it points one way.
#![allow(clippy::print_stdout, reason = "an example prints what it finds")]

#[path = "../../crates/learn/tests/simulated/mod.rs"]
mod simulated;

use pithward_job::Pace;
use pithward_learn::{Fit, Recovered};
use simulated::{Draw, Planned, Truth, history};

/// Jobs of each mill that are forecast.
const NEW: u32 = 5;

/// What was found for one number of jobs.
#[derive(Default)]
struct Found {
    before: Vec<f64>,
    after: Vec<f64>,
    /// How far forecasts lie above what is right, as a logarithm.
    above: Vec<f64>,
    /// How far off the mean of its days leaves a mill.
    days: Vec<f64>,
    /// How often a range held, of how many: of true figures four in five, of the middle of other jobs nine in ten, of how
    /// another job went four in five, of the share of pieces four in five.
    held: [(u32, u32); 4],
}

fn main() {
    let mills = std::env::args().nth(1).and_then(|text| text.parse().ok()).unwrap_or(300);
    println!("{mills} mills each; {NEW} other jobs of each are forecast");
    for (kind, truth) in [
        ("drawn about the defaults", Truth::drawn as fn(&mut Draw) -> Truth),
        ("worked by hand", Truth::by_hand),
    ] {
        println!();
        println!("Mills {kind}");
        println!(
            "        off, mean             days    off after           within 5 %   leans   ranges that held, per cent"
        );
        println!(
            "jobs   defaults   learned    leave   nine of ten below   of mills             figures(80)  middle(90)  job(80)  pieces(80)"
        );
        for jobs in [1, 2, 3, 5, 10, 30, 60] {
            let mut found = Found::default();
            for seed in 1..=mills {
                found.add(seed, jobs, truth);
            }
            found.print(jobs);
        }
    }
}

impl Found {
    fn add(&mut self, seed: u64, jobs: u32, truth: fn(&mut Draw) -> Truth) {
        let mut draw = Draw::new(seed, u64::from(jobs));
        let truth = truth(&mut draw);
        let observed = history(&truth, jobs, &mut draw);
        let fit = Fit::of(&Pace::default(), &observed);
        let mut count = |of: usize, held: bool| {
            self.held[of].0 += u32::from(held);
            self.held[of].1 += 1;
        };
        for fitted in &fit.figures {
            let right = fitted.figure.get(&truth.pace);
            count(0, (fitted.low..=fitted.high).contains(&right));
        }
        if let Some(all) = Recovered::of(&observed).all {
            count(3, (all.share.low..=all.share.high).contains(&truth.recovery));
        }
        let (mut before, mut after) = (0.0, 0.0);
        for _ in 0..NEW {
            let job = Planned::drawn(&mut draw);
            let asked = job.asked();
            let (right, minutes, unsure) =
                (job.minutes(&truth.pace), fit.minutes(&asked), fit.unsure_of(&asked));
            before += (job.minutes(&fit.before) / right - 1.0).abs() / f64::from(NEW);
            after += (minutes / right - 1.0).abs() / f64::from(NEW);
            count(1, libm::log(right / minutes).abs() <= 1.645 * unsure);
            self.above.push(libm::log(minutes / right));
            let (likely, wide) = job.forecast(&fit);
            let took = job.took(&truth, &mut draw);
            count(2, libm::log(took / likely).abs() <= 1.2816 * wide);
        }
        // The mean of what is normal lies so far from its middle.
        let off = (2.0 / std::f64::consts::PI).sqrt();
        self.days.push(off * truth.day / (observed.days.len() as f64).sqrt());
        self.before.push(before);
        self.after.push(after);
    }

    fn print(mut self, jobs: u32) {
        let mean = |all: &[f64]| 100.0 * all.iter().sum::<f64>() / all.len().max(1) as f64;
        self.after.sort_by(f64::total_cmp);
        let nine = self.after.get(self.after.len() * 9 / 10).copied().unwrap_or_default();
        let within = self.after.iter().filter(|off| **off < 0.05).count();
        let held = self.held.map(|(held, of)| 100.0 * f64::from(held) / f64::from(of.max(1)));
        println!(
            "{jobs:>4} {:>9.1} % {:>7.1} % {:>6.1} % {:>17.1} % {:>8.0} % {:>6.1} % {:>12.1} {:>11.1} {:>8.1} {:>11.1}",
            mean(&self.before),
            mean(&self.after),
            mean(&self.days),
            100.0 * nine,
            100.0 * within as f64 / self.after.len().max(1) as f64,
            mean(&self.above),
            held[0],
            held[1],
            held[2],
            held[3]
        );
    }
}
