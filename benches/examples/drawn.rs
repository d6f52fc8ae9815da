//! How long it takes to draw a pile whose plan is known, and how large its page is.
//!
//! `cargo run --release -p pithward-benches --example drawn [most logs]`
//!
//! Prints for 40, 200 and 1,000 logs: seconds to read the plan back from its JSON (which replays it), seconds to draw the page,
//! kilobytes of either, and the most memory that the process has taken so far. Planning is not counted.
#![allow(clippy::print_stdout, reason = "a program whose result is its standard output")]
#![allow(clippy::disallowed_methods, reason = "a bench looks at the clock")]

use pithward_benches::drawn::job_of;
use pithward_job::parse_job;
use pithward_optimizer::plan_pile;
use pithward_page::{Papers, pile_page};
use pithward_report::{ReadPlan, pile_json, read_plan};
use std::path::Path;
use std::time::Instant;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let most: usize = std::env::args().nth(1).map_or(Ok(1000), |text| text.parse())?;
    println!("  logs  planned s  plan kB   read s   draw s   page kB  peak memory");
    for logs in [40, 200, 1000].into_iter().filter(|logs| *logs <= most) {
        let text = job_of(logs);
        let job = parse_job(text.as_bytes(), "job.toml", "JOB", Path::new(""));
        let job = job.map_err(|faults| format!("{faults:?}"))?;
        let pile = job.pile();
        let start = Instant::now();
        let plan = plan_pile(&pile, &())?;
        let planned = start.elapsed().as_secs_f64();
        let mut json = Vec::new();
        pile_json(&job, &pile, &plan, &mut json)?;
        let start = Instant::now();
        let read = read_plan(&json, "plan.json", "PLAN").map_err(|faults| format!("{faults:?}"))?;
        let reading = start.elapsed().as_secs_f64();
        let ReadPlan::Pile(read) = read else { return Err("a pile".into()) };
        let start = Instant::now();
        let page = pile_page(&read.job, &read.plan, &Papers::default())?;
        let drawing = start.elapsed().as_secs_f64();
        println!(
            "{logs:>6}  {planned:>9.1}  {:>7}  {reading:>7.2}  {drawing:>7.2}  {:>8}  {:>11}",
            json.len() / 1000,
            page.html.len() / 1000,
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
