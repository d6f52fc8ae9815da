//! One log drawn: all pictures of its section on the page; and its plan read back.
#![allow(missing_docs, reason = "made by the macros of the bench harness")]

use criterion::{Criterion, criterion_group, criterion_main};
use pithward_benches::drawn::job_of;
use pithward_job::parse_job;
use pithward_optimizer::plan_pile;
use pithward_page::{Papers, pile_page};
use pithward_report::{pile_json, read_plan};
use std::path::Path;

fn drawing(c: &mut Criterion) {
    let text = job_of(8);
    let job = parse_job(text.as_bytes(), "job.toml", "JOB", Path::new("")).expect("a sound job");
    let pile = job.pile();
    let plan = plan_pile(&pile, &()).expect("a plan");
    let mut json = Vec::new();
    pile_json(&job, &pile, &plan, &mut json).expect("written");
    c.bench_function("page of 8 logs", |b| {
        b.iter(|| pile_page(&job, &plan, &Papers::default()).expect("it replays"));
    });
    c.bench_function("plan of 8 logs read back", |b| {
        b.iter(|| read_plan(&json, "plan.json", "PLAN").expect("the same plan"));
    });
}

criterion_group!(benches, drawing);
criterion_main!(benches);
