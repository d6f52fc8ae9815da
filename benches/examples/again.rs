//! How near a pile that is planned again from known patterns comes to one that is planned in full.
//!
//! `cargo run --release -p pithward-benches --example again [job file, or few] [piles]`
//!
//! Prints, for simulated piles of a job, or of small invented ones: milliseconds of each, worth and board feet against the
//! full plan, and by how many pieces the counts differ that are asked for.
#![allow(clippy::print_stdout, reason = "a program whose result is its standard output")]
#![allow(clippy::disallowed_methods, reason = "a bench looks at the clock")]

use pithward_benches::calibrated::small_job;
use pithward_day::range::draw_pile;
use pithward_geometry::Log;
use pithward_job::{PileJob, read_job};
use pithward_optimizer::{Again, LogPlan, Pile, PileLog, plan_pile};
use std::path::Path;
use std::time::Instant;

#[derive(Default)]
struct Sums {
    worth: [f64; 2],
    board_feet: [f64; 2],
    off: u32,
    seconds: [f64; 3],
    piles: u32,
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut args = std::env::args().skip(1);
    let file = args.next().unwrap_or_else(|| "data/jobs/farmyard.toml".to_owned());
    let piles: u64 = args.next().map_or(Ok(50), |text| text.parse())?;
    let mut sums = Sums::default();
    if file == "few" {
        for seed in 0..piles {
            compare(&small_job(1_000_000 + seed), 99, 1, &mut sums)?;
        }
    } else {
        let job = read_job(Path::new(&file), "JOB").map_err(|faults| format!("{faults:?}"))?;
        let learned = 4_800 / job.logs.len().max(1);
        compare(&job, u64::try_from(learned)?, piles, &mut sums)?;
    }
    let each = |seconds: f64| 1e3 * seconds / f64::from(sums.piles);
    let [learned, again, full] = sums.seconds;
    println!("{} piles, learned in {learned:.2} s", sums.piles);
    println!("{:.1} ms again, {:.1} ms in full", each(again), each(full));
    println!("worth {:.4}", sums.worth[0] / sums.worth[1]);
    println!("board feet {:.4}", sums.board_feet[0] / sums.board_feet[1]);
    println!("counts differ by {:.2} pieces a pile", f64::from(sums.off) / f64::from(sums.piles));
    Ok(())
}

fn compare(
    job: &PileJob,
    learned: u64,
    piles: u64,
    sums: &mut Sums,
) -> Result<(), Box<dyn std::error::Error>> {
    let pile = job.pile();
    let drawn = |n: u64| -> Vec<Log> { draw_pile(job, &job.doubt, 1, n).logs };
    let start = Instant::now();
    let keep = |_: &PileLog, _: &LogPlan| ();
    let mut again = Again::new(&pile, &keep)?;
    let known: Vec<Vec<Log>> = (0..learned).map(drawn).collect();
    again.teach(&known.iter().collect::<Vec<_>>());
    sums.seconds[0] += start.elapsed().as_secs_f64();
    // As many of those that are searched themselves as a forecast has.
    let every = 500 / piles.max(1);
    for n in 0..piles {
        let logs = drawn(if piles == 1 { n } else { n * every.max(1) });
        let start = Instant::now();
        let one = again.plan(&logs, &[]);
        sums.seconds[1] += start.elapsed().as_secs_f64();
        let logs = logs.into_iter().zip(&pile.logs);
        let logs = logs.map(|(log, of)| PileLog { log, menu: of.menu }).collect();
        let start = Instant::now();
        let full = plan_pile(&Pile { logs, ..pile.clone() }, &())?;
        sums.seconds[2] += start.elapsed().as_secs_f64();
        for (sum, worth) in sums.worth.iter_mut().zip([one.worth, full.worth]) {
            *sum += worth as f64;
        }
        for (sum, feet) in sums.board_feet.iter_mut().zip([one.board_feet, full.board_feet]) {
            *sum += feet as f64;
        }
        let counted = one.tally.iter().zip(&full.tally).filter(|(tally, _)| tally.wanted.is_some());
        sums.off += counted.map(|(one, full)| one.given.abs_diff(full.given)).sum::<u32>();
        sums.piles += 1;
    }
    Ok(())
}
