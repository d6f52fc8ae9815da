//! Planning a pile: how it grows with the number of logs, beside the rules of thumb on the same pile in the
//! same run.
//!
//! The largest piles take minutes; their times and gaps are printed by `examples/growth.rs`.
#![allow(missing_docs, reason = "criterion's macros make public functions without any")]

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use pithward_benches::{
    thumb,
    yard::{crooked, yard},
};
use pithward_optimizer::{need, plan_pile};
use std::hint::black_box;

/// Whether it is run once, to see that it runs: a small pile is enough.
fn once() -> bool {
    std::env::args().any(|argument| argument == "--test")
}

fn pile(c: &mut Criterion) {
    let mut group = c.benchmark_group("pile");
    for logs in [10, 40, 100] {
        let pile = yard(logs, 1);
        group.bench_with_input(BenchmarkId::new("plan", logs), &pile, |b, pile| {
            b.iter(|| plan_pile(black_box(pile), &()));
        });
        group.bench_with_input(BenchmarkId::new("by_thumb", logs), &pile, |b, pile| {
            b.iter(|| thumb::saw(black_box(pile)));
        });
    }
    let logs = if once() { 3 } else { 40 };
    let bowed = crooked(logs, 1);
    group.bench_with_input(BenchmarkId::new("plan_bowed_ovals", logs), &bowed, |b, pile| {
        b.iter(|| plan_pile(black_box(pile), &()));
    });
    // How many logs like the first a short list takes.
    let mut one = yard(10, 1);
    one.logs.truncate(1);
    group.bench_function("need", |b| b.iter(|| need(black_box(&one), &())));
    group.finish();
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(10).measurement_time(std::time::Duration::from_secs(5));
    targets = pile
}
criterion_main!(benches);
