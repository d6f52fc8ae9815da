//! Planning one log: the sizes of log that a sawyer meets, all methods, replay included.
//!
//! Beside each stands the plain grid search of [`pithward_benches::grid`] on the same log in the same run. It
//! answers a small part of the question (through and through only, nothing replayed), and its times tell how
//! fast the machine was.
#![allow(missing_docs, reason = "criterion's macros make public functions without any")]

use criterion::{Criterion, criterion_group, criterion_main};
use pithward_benches::{eight_sizes, grid, log, mill, random_width, want, yard::bowed_log};
use pithward_geometry::Log;
use pithward_measure::Length;
use pithward_optimizer::{Settings, Want, near_misses, open};
use std::hint::black_box;

fn plan(c: &mut Criterion, name: &str, log: &Log, wants: &[Want]) {
    let mill = mill();
    let settings = Settings::all(&mill);
    c.bench_function(name, |b| b.iter(|| open(black_box(log), &mill, wants, &settings)));
}

fn baseline(c: &mut Criterion, name: &str, log: &Log, wants: &[Want]) {
    let mill = mill();
    let step = Length::sixty_fourths(1);
    c.bench_function(name, |b| b.iter(|| grid::through(black_box(log), mill.kerf, wants, step)));
}

fn one_log(c: &mut Criterion) {
    let sizes = eight_sizes([8, 10, 12]);
    for (name, log) in
        [("12_in_12_ft", log(12, 12)), ("24_in_12_ft", log(24, 12)), ("36_in_20_ft", log(36, 20))]
    {
        plan(c, &format!("open/{name}/8_sizes_3_lengths"), &log, &sizes);
        baseline(c, &format!("grid_baseline/{name}/8_sizes_3_lengths"), &log, &sizes);
    }
    // Every way of laying it; the round log of that size stands above.
    plan(c, "open/bowed_oval_24_in_12_ft/8_sizes_3_lengths", &bowed_log(1), &sizes);
    let mut counted = sizes.clone();
    counted[5] = want(2, 8, &[12], Some(6));
    plan(c, "open/24_in_12_ft/with_a_count", &log(24, 12), &counted);
    plan(c, "open/24_in_12_ft/random_width", &log(24, 12), &[random_width(1, 24, 12)]);
    let (log, mill) = (log(24, 12), mill());
    let settings = Settings::all(&mill);
    if let Ok(pithward_optimizer::Answer::Planned(planned)) = open(&log, &mill, &sizes, &settings) {
        c.bench_function("near_misses/24_in_12_ft/8_sizes_3_lengths", |b| {
            b.iter(|| near_misses(black_box(&log), &mill, &sizes, &settings, &planned));
        });
    }
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(20).measurement_time(std::time::Duration::from_secs(3));
    targets = one_log
}
criterion_main!(benches);
