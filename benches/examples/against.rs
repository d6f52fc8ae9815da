//! What planning gains over rules of thumb, on invented piles, by how thick the logs are.
//!
//! `cargo run --release -p pithward-benches --example against [logs] [piles]`
#![allow(clippy::print_stdout, reason = "a program whose result is its standard output")]

use pithward_benches::{against::Against, yard::yard};
use pithward_optimizer::plan_pile;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut arguments = std::env::args().skip(1);
    let logs: usize = arguments.next().map_or(Ok(60), |text| text.parse())?;
    let piles: u64 = arguments.next().map_or(Ok(5), |text| text.parse())?;
    for seed in 0..piles {
        let pile = yard(logs, seed);
        let plan = plan_pile(&pile, &())?;
        println!("pile {seed}, {logs} logs\n{}", Against::new(&pile, &plan)?);
        for (n, (demand, tally)) in pile.demands.iter().zip(&plan.tally).enumerate() {
            if let Some(count) = demand.count {
                println!("  want {:>2}: {:>5} of {count:>5}", n + 1, tally.given);
            }
        }
        println!();
    }
    Ok(())
}
