//! How good the rests are that the search finds: the plan of `open` beside the best plan of every degree along the pith,
//! both sawn and replayed, and what either costs.
//!
//! `cargo run --release -p pithward-tests --example rests -- [logs] [first] [inches thicker than the random shapes of the tests]`
#![allow(clippy::print_stdout, reason = "a program whose result is its standard output")]
#![allow(clippy::disallowed_methods, reason = "a bench looks at the clock")]

use pithward_geometry::{Angle, FlawKinds, Frame, Heart, Log};
use pithward_measure::{Length, board_feet_micro};
use pithward_optimizer::{Answer, Cut, PlanFault, Settings, Want, open, open_laid};
use pithward_tests::random::Random;
use pithward_tests::random_shape::taped;
use pithward_tests::roomy_mill;
use pithward_trade::Wane;
use rayon::prelude::*;
use std::time::Instant;

fn main() {
    let mut arguments = std::env::args().skip(1).filter_map(|text| text.parse::<u64>().ok());
    let mut next = |or: u64| arguments.next().unwrap_or(or);
    let (logs, first, more) = (next(20), next(0), next(0));
    let more = Length::inches(i64::try_from(more).unwrap_or(0));
    let (mill, wants) = (roomy_mill(Length::nm(2_540_000)), eight_sizes([6, 8, 10]));
    let settings = Settings::all(&mill);
    let worth = |answer: Result<Answer, PlanFault>| match answer {
        Ok(Answer::Planned(planned)) => planned.plan.worth,
        Ok(Answer::Impossible(_)) | Err(_) => 0,
    };
    let mut losses: Vec<f64> = Vec::new();
    let (mut own, mut other) = (0.0, 0.0);
    for number in first..first + logs {
        let mut shape = taped(&mut Random::new(number));
        for end in [&mut shape.small, &mut shape.butt] {
            (end.shorter, end.longer) = (end.shorter + more, end.longer + more);
        }
        let log = Log::taped(&shape).expect("a log that a tree can have");
        let begun = Instant::now();
        let found = worth(open(&log, &mill, &wants, &settings));
        own += begun.elapsed().as_secs_f64();
        let begun = Instant::now();
        let laid = |degree| {
            let frame = Frame::turned(Angle::degrees(degree));
            worth(open_laid(&log, &mill, &wants, &settings, frame))
        };
        let dense = (0..180).into_par_iter().map(laid).max().unwrap_or(0);
        other += begun.elapsed().as_secs_f64();
        if dense > 0 {
            let loss = (dense - found) as f64 / dense as f64;
            println!(
                "{number}: {:.1} in, loses {:.3} %",
                log.small_end().inches_f64(),
                loss * 100.0
            );
            losses.push(loss);
        }
    }
    let over = losses.iter().filter(|loss| **loss > 0.002).count();
    let (count, worst) = (losses.len(), losses.iter().copied().fold(0.0, f64::max) * 100.0);
    let mean = losses.iter().sum::<f64>() / losses.len().max(1) as f64 * 100.0;
    println!("{count} logs: {over} lose over 0.2 %, {worst:.2} % at most, {mean:.2} % in the mean");
    println!("the search took {own:.1} s, every degree {other:.1} s");
}

fn eight_sizes(lengths_ft: [i64; 3]) -> Vec<Want> {
    let want = |(t, w): (i64, i64)| {
        let cut = |feet: &i64| {
            let (thickness, width, length) =
                (Length::inches(t), Length::inches(w), Length::feet(*feet));
            let board_feet = board_feet_micro(thickness, width, length);
            Cut {
                thickness,
                width,
                length,
                take: length,
                board_feet,
                worth: board_feet,
                extra: board_feet,
            }
        };
        Want {
            cuts: lengths_ft.iter().map(cut).collect(),
            wane: Wane::NONE,
            count: None,
            heart: Heart::Any,
            tolerates: FlawKinds::NONE,
            grading: None,
            rings: None,
        }
    };
    [(1, 4), (1, 6), (1, 8), (2, 4), (2, 6), (2, 8), (2, 10), (6, 6)]
        .into_iter()
        .map(want)
        .collect()
}
