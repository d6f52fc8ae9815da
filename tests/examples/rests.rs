//! How good the searched rests are: the plan of `open` beside the best of every degree, and what either costs.
//!
//! `cargo run --release -p pithward-benches --example rests -- [shapes] [first] [every]`
#![allow(clippy::print_stdout, reason = "an example prints")]

use pithward_geometry::{Angle, End, FlawKinds, Frame, Heart, Log, Mill, Sweep, Taped};
use pithward_measure::{Length, board_feet_micro};
use pithward_optimizer::{Answer, Cut, Settings, Want, open, open_laid};
use pithward_tests::random::Random;
use pithward_tests::random_shape::taped;
use pithward_trade::Wane;
use std::time::Instant;

fn main() {
    let mut arguments = std::env::args().skip(1).map(|text| text.parse::<i64>().unwrap_or(0));
    let shapes = arguments.next().unwrap_or(20).unsigned_abs();
    let first = arguments.next().unwrap_or(0).unsigned_abs();
    let every = i32::try_from(arguments.next().unwrap_or(1)).unwrap_or(1);
    let mill = mill();
    let wants = eight_sizes([8, 10, 12]);
    let settings = Settings::all(&mill);
    let worth = |answer: Answer| match answer {
        Answer::Planned(planned) => planned.plan.worth,
        Answer::Impossible(_) => 0,
    };
    let mut losses: Vec<f64> = Vec::new();
    let (mut own, mut other) = (0.0, 0.0);
    for shape in first..first + shapes {
        let log = if every < 0 {
            swept()
        } else {
            Log::taped(&taped(&mut Random::new(shape ^ 0x5e57))).expect("a log")
        };
        let begun = Instant::now();
        let Ok(searched) = open(&log, &mill, &wants, &settings) else { continue };
        let took = begun.elapsed().as_secs_f64();
        let searched = worth(searched);
        own += took;
        let mut best = (0, 0);
        let begun = Instant::now();
        for degree in (0..180).step_by(usize::try_from(every.max(1)).unwrap_or(1)) {
            if every <= 0 {
                break;
            }
            let frame = Frame::turned(Angle::degrees(degree));
            if let Ok(answer) = open_laid(&log, &mill, &wants, &settings, frame) {
                best = best.max((worth(answer), degree));
            }
        }
        other += begun.elapsed().as_secs_f64();
        if best.0 == 0 {
            println!("{shape}: {searched} in {:.0} ms", took * 1e3);
            continue;
        }
        let loss = (best.0 - searched) as f64 / best.0 as f64;
        losses.push(loss);
        println!(
            "{shape}: {:?} loss {:.3} % (best {} at {}) {:.0} ms",
            log.small_end().inches_f64(),
            loss * 100.0,
            best.0,
            best.1,
            took * 1e3
        );
    }
    losses.sort_by(f64::total_cmp);
    let over = losses.iter().filter(|loss| **loss > 0.002).count();
    println!(
        "{} shapes, {over} lose over 0.2 %, worst {:?} mean {:.4} %; own {own:.1} s, every degree {other:.1} s",
        losses.len(),
        losses.last(),
        losses.iter().sum::<f64>() / losses.len().max(1) as f64 * 100.0
    );
}

fn mill() -> Mill {
    Mill {
        toe_board: None,
        name: "invented".to_owned(),
        kerf: Length::nm(2_540_000),
        step: Length::sixty_fourths(4),
        largest_diameter: Length::inches(40),
        longest: Length::feet(21),
        shortest: Length::feet(4),
        widest_cut: Length::inches(40),
        deepest_above: Length::inches(16),
        lowest_blade: Length::inches(1),
        crosscut_kerf: Length::sixty_fourths(8),
        edging_batch: 6,
    }
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
        }
    };
    [(1, 4), (1, 6), (1, 8), (2, 4), (2, 6), (2, 8), (2, 10), (6, 6)]
        .into_iter()
        .map(want)
        .collect()
}

/// A swept, oval log of 24 in and 12 ft.
fn swept() -> Log {
    let end = |longer: i64, shorter: i64| End {
        longer: Length::inches(longer),
        shorter: Length::inches(shorter),
        clock: Angle::degrees(60),
        pith_off: Length::ZERO,
        pith_clock: Angle::degrees(0),
        bark: Length::sixty_fourths(32),
    };
    let sweep = Sweep { depth: Length::inches(2), clock: Angle::degrees(200), at: Length::feet(6) };
    Log::taped(&Taped {
        small: end(25, 23),
        butt: end(27, 24),
        length: Length::feet(12),
        sweep: Some(sweep),
        crook: None,
        flare: None,
    })
    .expect("a log")
}
