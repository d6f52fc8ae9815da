//! Reading a scan of a million triangles and slicing it into the sections of a log.
#![allow(
    missing_docs,
    dead_code,
    unreachable_pub,
    clippy::cast_possible_truncation,
    reason = "criterion's macros make public functions without any; what tests share is not all used here"
)]

#[path = "../../crates/geometry/tests/it/common/invented.rs"]
mod invented;
#[path = "../../crates/geometry/tests/it/common/written.rs"]
mod written;

use criterion::{Criterion, criterion_group, criterion_main};
use invented::{Invented, Lying};
use pithward_geometry::measured::from_mesh;
use pithward_geometry::{Mesh, ShapeRequest};
use pithward_job::read_shape;
use pithward_measure::Unit;
use std::hint::black_box;
use written::{Form, obj, ply};

fn shape(c: &mut Criterion) {
    // Run once, to see that it runs, a small one is enough.
    let once = std::env::args().any(|argument| argument == "--test");
    let (along, round) = if once { (60, 50) } else { (1000, 500) };
    let lying = Lying { yaw: 0.6, pitch: 0.05, at: [300.0, -80.0, 24.0] };
    let mesh = Invented::CROOKED.scanned(along, round, lying);
    let request = ShapeRequest { unit: Some(Unit::Inch), ..ShapeRequest::default() };
    let count = mesh.triangles.len();
    let files = [
        ("ply_bytes", "a.ply", ply(&mesh, Form::Little)),
        ("ply_text", "a.ply", ply(&mesh, Form::Ascii)),
        ("obj", "a.obj", obj(&mesh).into_bytes()),
    ];
    for (form, name, bytes) in files {
        c.bench_function(&format!("shape/{count}_triangles/{form}"), |b| {
            b.iter(|| read_shape(name, black_box(&bytes), &request));
        });
    }
    c.bench_function(&format!("shape/{count}_triangles/slice_alone"), |b| {
        b.iter(|| from_mesh(black_box(mesh.clone()), &request));
    });
    let cloud = Mesh { points: mesh.points, triangles: Vec::new() };
    c.bench_function(&format!("shape/{}_points/slice_alone", cloud.points.len()), |b| {
        b.iter(|| from_mesh(black_box(cloud.clone()), &request));
    });
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(10).measurement_time(std::time::Duration::from_secs(5));
    targets = shape
}
criterion_main!(benches);
