//! A tally: how reading it and what follows from it grow with its entries, on a job of 200 logs. An entry at the mill does
//! both once, and must be answered before anybody looks up.
#![allow(missing_docs, reason = "criterion's macros make public functions without any")]

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use jiff::{Span, ZonedDateTime};
use pithward_job::{PileJob, parse_job};
use pithward_tally::{
    AppendFault, Doing, Draft, Meant, NoPlan, Record, Said, SoFar, append, split_words,
};
use std::fmt::Write;
use std::hint::black_box;
use std::path::Path;

const LOGS: usize = 200;

/// A job of 200 logs. Invented.
fn job() -> PileJob {
    let mut text = String::from(
        "[[wants]]\nsize = \"2x8x12\"\ncount = 400\n\n[[wants]]\nsize = \"1x6x10\"\ncount = 900\n",
    );
    for log in 1..=LOGS {
        let log = format!(
            "\n[[logs]]\nid = \"L{log}\"\nsmall_end = \"14 in\"\nbutt = \"15 in\"\nlength = \"12 ft 4 in\"\n"
        );
        let _ = text.write_str(&log);
    }
    parse_job(text.as_bytes(), "job.toml", "JOB", Path::new("")).expect("the job is sound")
}

/// So many entries: a log comes on, and some pieces off it, every two minutes.
fn drafts(job: &PileJob, entries: usize) -> Vec<Draft> {
    let begins: ZonedDateTime =
        "2026-05-02T07:30:00-04:00[America/New_York]".parse().expect("a time");
    let said = |n: usize| match n {
        0 => Said::Begin(Doing::SettingUp),
        n if n % 5 == 1 => Said::On { log: job.logs[n / 5 % LOGS].id.clone() },
        _ => {
            let words = split_words("off 2 2x8x12 3 1x6x10").expect("words");
            match Meant::read(&words, job) {
                Ok(Meant::Said(said)) => said,
                other => panic!("{other:?}"),
            }
        }
    };
    let minutes = |n: usize| Span::new().minutes(2 * i64::try_from(n).expect("a small number"));
    let at = |n: usize| begins.checked_add(minutes(n)).expect("a time");
    (0..entries).map(|n| Draft { at: at(n), late: false, said: said(n) }).collect()
}

fn tally(c: &mut Criterion) {
    let mut group = c.benchmark_group("tally");
    let job = job();
    let place = std::env::temp_dir().join(format!("pithward-bench-{}.tally", std::process::id()));
    for entries in [100, 1000, 4000] {
        let _ = std::fs::remove_file(&place);
        let drafts = drafts(&job, entries);
        let now = drafts.last().map(|draft| draft.at.clone()).expect("there are some");
        append::<AppendFault>(&place, |_, _| Ok(drafts)).expect("the file can be written");
        let bytes = std::fs::read(&place).expect("it was just written");
        group.bench_with_input(BenchmarkId::new("read", entries), &bytes, |b, bytes| {
            b.iter(|| Record::read(black_box(bytes)));
        });
        let record = Record::read(&bytes).expect("it was just written");
        group.bench_with_input(BenchmarkId::new("so_far", entries), &record, |b, record| {
            b.iter(|| SoFar::of(black_box(record), &job, &NoPlan, &now));
        });
    }
    let _ = std::fs::remove_file(&place);
    group.finish();
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(20);
    targets = tally
}
criterion_main!(benches);
