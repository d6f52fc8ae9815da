//! Scans of invented logs: what comes back is what was scanned, and what is no log is refused with its reason.
//!
//! Volumes and sections are compared with those of a general mesh library, which knows nothing of logs.
use crate::common::invented::{Invented, Lying, Noise};
use parry3d_f64::math::Vector;
use parry3d_f64::query::IntersectResult;
use parry3d_f64::shape::{Shape, TriMesh};
use pithward_geometry::measured::{WhichEnd, from_mesh};
use pithward_geometry::trig::{atan2, norm};
use pithward_geometry::{
    Angle, Log, Measured, Mesh, PithAt, Repair, Section, ShapeFault, ShapeRequest, Surface,
};
use pithward_measure::{Length, Unit};
use proptest::prelude::*;
use std::f64::consts::TAU;

const INCHES: ShapeRequest = ShapeRequest {
    unit: Some(Unit::Inch),
    up: None,
    surface: Surface::Wood,
    pith_small: None,
    pith_butt: None,
};

fn vectors(mesh: &Mesh) -> Vec<Vector> {
    mesh.points.iter().map(|[x, y, z]| Vector::new(*x, *y, *z)).collect()
}

fn volume(mesh: &Mesh) -> f64 {
    let mesh = TriMesh::new(vectors(mesh), mesh.triangles.clone()).expect("a mesh");
    mesh.mass_properties(1.0).mass()
}

/// The solid between the sections of a log.
fn solid(log: &Log) -> Mesh {
    let sections = log.sections().expect("a log of sections");
    let round = sections[0].wood.len() as u32;
    let mut mesh = Mesh::default();
    for section in sections {
        mesh.points.extend(section.wood.iter().map(|[x, y]| [*x, *y, section.z]));
    }
    for i in 0..sections.len() as u32 - 1 {
        for k in 0..round {
            let (a, b) = (i * round + k, i * round + (k + 1) % round);
            mesh.triangles.extend([[a, b + round, b], [a, a + round, b + round]]);
        }
    }
    let (first, last) = (mesh.points.len() as u32, (sections.len() as u32 - 1) * round);
    mesh.points.extend([[0.0; 3], [0.0, 0.0, log.length().inches_f64()]]);
    for k in 0..round {
        let next = (k + 1) % round;
        mesh.triangles.extend([[first, k, next], [first + 1, last + next, last + k]]);
    }
    mesh
}

/// The farthest that a section's outline is from that of the formula.
fn off(log: &Invented, section: &Section, wood: impl Fn(f64) -> f64) -> f64 {
    let [x, y] = log.middle(section.z);
    let far = |point: &[f64; 2]| {
        let (x, y) = (point[0] - x, point[1] - y);
        (norm(x, y) - wood(log.radius(atan2(y, x), section.z))).abs()
    };
    section.wood.iter().map(far).fold(0.0, f64::max)
}

fn read(mesh: Mesh) -> Measured {
    from_mesh(mesh, &INCHES).expect("a closed log")
}

fn fault(mesh: Mesh) -> ShapeFault {
    refusal(from_mesh(mesh, &INCHES))
}

fn refusal(measured: Result<Measured, ShapeFault>) -> ShapeFault {
    match measured {
        Ok(Measured { log, told }) => {
            panic!("taken as {:?} x {:?}: {told:?}", log.butt(), log.length())
        }
        Err(refused) => refused,
    }
}

fn lying() -> Lying {
    Lying { yaw: 0.6, pitch: 0.05, at: [300.0, -80.0, 24.0] }
}

#[test]
fn a_crooked_log_comes_back() {
    let log = Invented::CROOKED;
    let mesh = log.scanned(240, 360, lying());
    let right = volume(&mesh).abs();
    let Measured { log: measured, told } = read(mesh);
    assert_eq!(told, []);
    assert!((measured.length().inches_f64() - 120.0).abs() < 0.02, "{:?}", measured.length());
    let sections = measured.sections().unwrap();
    assert_eq!(sections.len(), 49);
    let worst = sections.iter().map(|section| off(&log, section, |r| r)).fold(0.0, f64::max);
    assert!(worst < 0.02, "{worst}");
    let share = volume(&solid(&measured)).abs() / right;
    assert!((share - 1.0).abs() < 0.001, "{share}");
    assert!((measured.volume() / right - 1.0).abs() < 0.001, "{}", measured.volume());
}

/// The library slices the same mesh: every point of its outline lies on the section's.
#[test]
fn sections_are_those_of_a_general_mesh_library() {
    let log = Invented { bow: 0.0, ..Invented::CROOKED };
    let mesh = log.mesh(100, 200);
    let slicer = TriMesh::new(vectors(&mesh), mesh.triangles.clone()).unwrap();
    let up = ShapeRequest { up: Some([0.0, 1.0, 0.0]), ..INCHES };
    let Measured { log: measured, .. } = from_mesh(mesh, &up).unwrap();
    for section in &measured.sections().unwrap()[1..48] {
        // The log's own length ends where its sections are whole, a few thousandths within the mesh.
        let z = section.z + (120.0 - measured.length().inches_f64()) / 2.0;
        let IntersectResult::Intersect(line) =
            slicer.intersection_with_local_plane(Vector::new(0.0, 0.0, 1.0), z, 1e-9)
        else {
            panic!("the library sees no section at {z}");
        };
        // A file's coordinates are right-handed: seen from the small end its x runs to the left.
        let mut theirs: Vec<(f64, f64)> =
            line.vertices().iter().map(|p| (atan2(p.y, -p.x), norm(p.x, p.y))).collect();
        theirs.sort_by(|a, b| a.0.total_cmp(&b.0));
        for point in &section.wood {
            let (angle, r) = (atan2(point[1], point[0]), norm(point[0], point[1]));
            let near = |other: f64| ((angle - other + TAU / 2.0).rem_euclid(TAU) - TAU / 2.0).abs();
            let nearest = theirs.iter().min_by(|a, b| near(a.0).total_cmp(&near(b.0))).unwrap();
            assert!((nearest.1 - r).abs() < 0.03, "{nearest:?} {angle} {r} at {z}");
        }
    }
}

#[test]
fn the_clock_is_that_of_whoever_looks_at_the_small_end() {
    // A bow toward 3 o'clock.
    let log = Invented { bow: 3.0, bow_toward: 0.0, oval: 0.0, wave: 0.0, ..Invented::CROOKED };
    let measured = read(log.scanned(60, 90, lying())).log;
    let middle = &measured.sections().unwrap()[24];
    assert!(
        (middle.pith[0] - 3.0).abs() < 0.02 && middle.pith[1].abs() < 0.02,
        "{:?}",
        middle.pith
    );
    // The same file read with its 12 o'clock stated at the bow.
    let (sin, cos) = pithward_geometry::trig::sin_cos(0.6);
    let up = ShapeRequest { up: Some([cos, sin, 0.0]), ..INCHES };
    let turned = from_mesh(log.scanned(60, 90, lying()), &up).unwrap().log;
    let middle = &turned.sections().unwrap()[24];
    assert!(
        middle.pith[0].abs() < 0.02 && (middle.pith[1] - 3.0).abs() < 0.02,
        "{:?}",
        middle.pith
    );
    let along = ShapeRequest { up: Some(lying().of([0.0, 0.0, 1.0]).map(|_| 0.0)), ..INCHES };
    assert_eq!(from_mesh(log.scanned(60, 90, lying()), &along), Err(ShapeFault::UpAlong));
}

#[test]
fn the_butt_may_come_first_in_the_file() {
    let log = Invented::CROOKED;
    let round = Lying { yaw: 0.6 + TAU / 2.0, ..lying() };
    let measured = read(log.scanned(120, 180, round)).log;
    assert!(measured.small_end() < measured.butt());
    let worst =
        measured.sections().unwrap().iter().map(|s| off(&log, s, |r| r)).fold(0.0, f64::max);
    assert!(worst < 0.03, "{worst}");
}

#[test]
fn the_axis_runs_through_the_pith_that_is_stated() {
    let log = Invented { bow: 0.0, ..Invented::CROOKED };
    let pith = |off: i64, clock: i32| {
        Some(PithAt { off: Length::inches(off), clock: Angle::degrees(clock) })
    };
    let request = ShapeRequest { pith_small: pith(1, 90), pith_butt: pith(2, 180), ..INCHES };
    let Measured { log: measured, .. } =
        from_mesh(log.scanned(120, 180, lying()), &request).unwrap();
    let sections = measured.sections().unwrap();
    let middle = |section: &Section| {
        let n = section.wood.len() as f64;
        [0, 1].map(|k| section.wood.iter().map(|point| point[k]).sum::<f64>() / n)
    };
    let (first, last) = (middle(&sections[0]), middle(&sections[sections.len() - 1]));
    assert!((first[0] + 1.0).abs() < 0.05 && first[1].abs() < 0.05, "{first:?}");
    assert!(last[0].abs() < 0.05 && (last[1] - 2.0).abs() < 0.05, "{last:?}");
    assert!(sections[0].pith[0].abs() < 1e-6 && sections[0].pith[1].abs() < 1e-6);
    let outside = ShapeRequest { pith_small: pith(9, 90), ..INCHES };
    let refused = refusal(from_mesh(log.scanned(120, 180, lying()), &outside));
    assert!(matches!(refused, ShapeFault::Pith { .. }), "{refused}");
}

#[test]
fn bark_is_taken_off_all_round() {
    let log = Invented { wave: 0.0, ..Invented::CROOKED };
    let half = Length::sixty_fourths(32);
    let surface = Surface::Bark { small: half, butt: half };
    let request = ShapeRequest { surface, ..INCHES };
    let measured = from_mesh(log.scanned(240, 360, lying()), &request).unwrap().log;
    assert!((measured.bark_small().inches_f64() - 0.5).abs() < 0.005);
    for section in measured.sections().unwrap() {
        // Square to an oval of 12 % the bark is at most half a percent thicker along a ray.
        assert!(off(&log, section, |r| r - 0.5) < 0.03);
    }
    let surface = Surface::BarkShare { inside_over_outside: 0.9 };
    let measured = from_mesh(log.scanned(240, 360, lying()), &ShapeRequest { surface, ..INCHES });
    let (small, right) = (measured.unwrap().log.small_end().inches_f64(), 0.9 * 12.0);
    assert!((small - right).abs() < 0.05, "{small}");
    let thick = Surface::Bark { small: Length::inches(8), butt: Length::inches(8) };
    let refused =
        from_mesh(log.scanned(60, 90, lying()), &ShapeRequest { surface: thick, ..INCHES });
    assert!(matches!(refused, Err(ShapeFault::Bark { .. })));
}

#[test]
fn a_scanners_noise_stays_within_bounds() {
    let log = Invented::CROOKED;
    let mut mesh = log.scanned(400, 200, lying());
    let mut noise = Noise(7);
    for point in &mut mesh.points {
        *point = point.map(|c| c + noise.normal() / 16.0);
    }
    let Measured { log: measured, .. } = read(mesh);
    assert!((measured.length().inches_f64() - 120.0).abs() < 1.0);
    let offs: Vec<f64> = measured.sections().unwrap().iter().map(|s| off(&log, s, |r| r)).collect();
    // The rim of a rough face is notched; a notch is less wood, not more.
    let (ends, middle) = ([offs[0], offs[offs.len() - 1]], &offs[1..offs.len() - 1]);
    assert!(middle.iter().all(|off| *off < 0.35) && ends.iter().all(|off| *off < 1.3), "{offs:?}");
    let share = volume(&solid(&measured)).abs() / volume(&log.mesh(240, 360)).abs()
        * (120.0 / measured.length().inches_f64());
    assert!((share - 1.0).abs() < 0.01, "{share}");
}

fn cloud(log: &Invented, count: usize, faces: bool, noise: f64) -> Vec<[f64; 3]> {
    let mut random = Noise(11);
    let mut points = Vec::new();
    for _ in 0..count {
        let (angle, z) = (TAU / 2.0 * random.even(), log.length / 2.0 * (1.0 + random.even()));
        let [x, y, z] = log.point(angle, z);
        points.push([x + noise * random.normal(), y + noise * random.normal(), z]);
    }
    for n in 0..if faces { count / 20 } else { 0 } {
        let z = if n % 2 == 0 { 0.0 } else { log.length };
        let (angle, share) = (TAU / 2.0 * random.even(), ((1.0 + random.even()) / 2.0).sqrt());
        let [x, y, _] = log.point(angle, z);
        points.push([x * share, y * share, z + noise * random.normal()]);
    }
    points.into_iter().map(|point| lying().of(point)).collect()
}

#[test]
fn a_cloud_of_points_comes_back() {
    let log = Invented { flare: 0.0, ..Invented::CROOKED };
    for (count, faces, noise, bound) in
        [(400_000, true, 0.0, 0.08), (400_000, false, 0.0625, 0.15), (30_000, true, 0.0, 0.25)]
    {
        let points = cloud(&log, count, faces, noise);
        let Measured { log: measured, told } = read(Mesh { points, triangles: Vec::new() });
        assert!(
            (measured.length().inches_f64() - 120.0).abs() < 2.0,
            "{:?} {told:?}",
            measured.length()
        );
        let offs: Vec<f64> =
            measured.sections().unwrap().iter().map(|s| off(&log, s, |r| r)).collect();
        let middle = &offs[2..offs.len() - 2];
        assert!(middle.iter().all(|off| *off < bound), "{count} {bound} {offs:?}");
        assert!(offs.iter().all(|off| *off < 2.5 * bound), "{count} {bound} {offs:?}");
    }
}

#[test]
fn a_cloud_of_one_side_is_refused_with_the_side_that_is_missing() {
    let log = Invented { bow: 0.0, ..Invented::CROOKED };
    // The scanner stood above: nothing of the lower side.
    let points: Vec<[f64; 3]> = cloud(&log, 200_000, true, 0.0)
        .into_iter()
        .filter(|point| point[2] - 24.0 > 0.05 * (point[1] + 80.0) - 3.0)
        .collect();
    let refused = fault(Mesh { points, triangles: Vec::new() });
    let ShapeFault::Gap { from, to, width, .. } = refused else { panic!("{refused}") };
    assert!(
        width > 60.0 && (120.0..180.0).contains(&from) && (180.0..240.0).contains(&to),
        "{refused}"
    );
    assert!(refused.to_string().contains("o'clock"), "{refused}");
}

#[test]
fn two_clouds_and_clutter() {
    let log = Invented::CROOKED;
    let mut points = cloud(&log, 40_000, false, 0.0);
    // A stone beside it, and a stray point far away.
    points.extend(
        cloud(&log, 300, false, 0.0)
            .iter()
            .map(|[x, y, z]| [300.0 + x / 30.0, y / 30.0 - 40.0, *z / 30.0 + 60.0]),
    );
    points.push([9e6, 0.0, 0.0]);
    points.push([f64::NAN, 0.0, 0.0]);
    let told = read(Mesh { points: points.clone(), triangles: Vec::new() }).told;
    assert!(
        told.iter()
            .any(|told| matches!(told, Repair::Dropped { pieces: 1.., share } if *share < 0.02)),
        "{told:?}"
    );
    assert!(told.contains(&Repair::NoNumbers { points: 1 }), "{told:?}");
    let second: Vec<[f64; 3]> =
        points[..40_000].iter().map(|[x, y, z]| [x + 60.0, *y, *z]).collect();
    points.extend(second);
    assert!(matches!(fault(Mesh { points, triangles: Vec::new() }), ShapeFault::Several { .. }));
}

#[test]
fn an_inverted_surface_is_turned_and_told() {
    let log = Invented::CROOKED;
    let mut mesh = log.scanned(60, 90, lying());
    mesh.triangles[..30].iter_mut().for_each(|t| t.swap(0, 1));
    assert_eq!(read(mesh.clone()).told, [Repair::Turned { triangles: 30 }]);
    mesh.triangles.iter_mut().for_each(|t| t.swap(0, 1));
    assert_eq!(read(mesh).told, [Repair::Inverted, Repair::Turned { triangles: 30 }]);
}

#[test]
fn a_soup_of_triangles_is_welded() {
    let log = Invented::CROOKED;
    let mesh = log.scanned(60, 90, lying());
    let clean = read(mesh.clone());
    let mut soup = Mesh::default();
    for triangle in &mesh.triangles {
        let first = soup.points.len() as u32;
        soup.points.extend(triangle.map(|corner| mesh.points[corner as usize]));
        soup.triangles.push([first, first + 1, first + 2]);
    }
    // One triangle without an area, one there twice, one that names a corner that is not there, one point for nothing.
    soup.triangles.extend([[0, 0, 1], [3, 4, 5], [0, 1, 9_000_000]]);
    soup.points.push([300.0, -80.0, 24.0]);
    let Measured { log: measured, told } = read(soup);
    assert_eq!(measured, clean.log);
    assert_eq!(told[0], Repair::Unused { points: 1 });
    assert!(matches!(told[1], Repair::Welded { points: 27_000.. }), "{told:?}");
    assert_eq!(told[2], Repair::Degenerate { triangles: 3 });
}

#[test]
fn a_unit_is_judged_where_only_one_makes_a_log() {
    let log = Invented { small: 7.0, butt: 8.5, ..Invented::CROOKED };
    let scaled = |by: f64| {
        let mesh = log.scanned(60, 90, lying());
        Mesh { points: mesh.points.iter().map(|p| p.map(|c| c * by)).collect(), ..mesh }
    };
    let unknown = ShapeRequest { unit: None, ..INCHES };
    let measured = from_mesh(scaled(25.4), &unknown).unwrap();
    assert!((measured.log.length().inches_f64() - 120.0).abs() < 0.02);
    assert!(matches!(measured.told[..], [Repair::Unit { unit: "mm", .. }]), "{:?}", measured.told);
    let refused = refusal(from_mesh(scaled(0.0254), &unknown));
    assert!(refused.to_string().contains("in m it would be 10.0 ft long"), "{refused}");
    assert!(refused.to_string().contains("in ft it would be 3.0 ft long"), "{refused}");
    // Off by 25.4 and by 1000: told in which unit it would be a log.
    let refused = fault(scaled(25.4)).to_string();
    assert!(refused.contains("when read in in; in mm it would be 10.0 ft long"), "{refused}");
    let metres = ShapeRequest { unit: Some(Unit::Metre), ..INCHES };
    let refused = refusal(from_mesh(scaled(25.4), &metres)).to_string();
    assert!(refused.contains("when read in m; in mm it would be 10.0 ft long"), "{refused}");
}

#[test]
fn ends_that_are_open_ragged_or_oblique() {
    let log = Invented { bow: 0.0, flare: 0.0, ..Invented::CROOKED };
    let mut mesh = log.scanned(120, 180, lying());
    let closed = mesh.clone();
    mesh.triangles.truncate(120 * 180 * 2);
    let Measured { log: open, told } = read(mesh.clone());
    assert_eq!(
        told[1..],
        [Repair::Capped { end: WhichEnd::Small }, Repair::Capped { end: WhichEnd::Butt }]
    );
    assert!((open.length().inches_f64() - 120.0).abs() < 0.02);
    assert!((open.butt() - read(closed.clone()).log.butt()).abs() < Length::nm(100_000));
    // An oblique cut: 3 in over the width.
    let mut oblique = log.mesh(120, 180);
    for point in &mut oblique.points {
        if point[2] > 100.0 {
            point[2] += (point[2] - 100.0) / 20.0 * point[0] * 0.2;
        }
    }
    oblique.points.iter_mut().for_each(|point| *point = lying().of(*point));
    let Measured { log: cut, told } = read(oblique);
    let [Repair::Trimmed { end: WhichEnd::Butt, by }] = told[..] else { panic!("{told:?}") };
    assert!((1.5..3.6).contains(&by), "{by}");
    assert!((cut.length().inches_f64() + by - 121.6).abs() < 0.3, "{:?}", cut.length());
}

#[test]
fn a_hole_is_bridged_while_it_is_small() {
    let log = Invented { bow: 0.0, flare: 0.0, wave: 0.0, ..Invented::CROOKED };
    let holed = |along: std::ops::Range<u32>, round: u32| {
        let mut mesh = log.scanned(120, 180, lying());
        let mut n = 0;
        mesh.triangles.retain(|_| {
            let quad = n / 2;
            n += 1;
            !(along.contains(&(quad / 180)) && quad % 180 < round)
        });
        mesh
    };
    let Measured { log: measured, told } = read(holed(40..52, 10));
    assert!(
        matches!(told[..], [Repair::Unused { .. }, Repair::Bridged { holes: 1, share }, Repair::Filled { .. }] if share < 0.02),
        "{told:?}"
    );
    let worst =
        measured.sections().unwrap().iter().map(|s| off(&log, s, |r| r)).fold(0.0, f64::max);
    assert!(worst < 0.12, "{worst}");
    // Wider than 30 degrees, yet a small share of the side.
    let refused = fault(holed(40..44, 30));
    assert!(matches!(refused, ShapeFault::Gap { width, .. } if width > 50.0), "{refused}");
    let refused = fault(holed(20..90, 60));
    assert!(matches!(refused, ShapeFault::NotClosed { .. }), "{refused}");
    // Half a shell.
    let refused = fault(holed(0..120, 90));
    assert!(matches!(refused, ShapeFault::NotClosed { .. }), "{refused}");
}

#[test]
fn half_a_log_that_is_closed_is_a_log_of_its_own() {
    let log = Invented { bow: 0.0, flare: 0.0, wave: 0.0, oval: 0.0, ..Invented::CROOKED };
    let mut mesh = log.mesh(60, 120);
    mesh.points
        .iter_mut()
        .for_each(|point| *point = lying().of([point[0], point[1].max(-1.0), point[2]]));
    let measured = read(mesh).log;
    assert!(measured.small_end() < Length::inches(11));
}

#[test]
fn what_is_no_log_is_refused() {
    let ball = |stretch: [f64; 3]| {
        let mut mesh = Invented { bow: 0.0, wave: 0.0, flare: 0.0, oval: 0.0, ..Invented::CROOKED }
            .mesh(60, 60);
        for point in &mut mesh.points {
            let angle = TAU / 2.0 * point[2] / 120.0;
            let (sin, cos) = pithward_geometry::trig::sin_cos(angle);
            let r = norm(point[0], point[1]).max(1e-9);
            *point = [
                10.0 * sin * point[0] / r * stretch[0],
                10.0 * sin * point[1] / r * stretch[1],
                -10.0 * cos * stretch[2],
            ];
        }
        mesh
    };
    let refused = fault(ball([1.0; 3]));
    assert!(matches!(refused, ShapeFault::NotLong { .. }), "{refused}");
    let mut plate = Invented { bow: 0.0, ..Invented::CROOKED }.mesh(60, 60);
    plate
        .points
        .iter_mut()
        .for_each(|point| *point = lying().of([point[0], point[1] / 30.0, point[2]]));
    let refused = fault(plate);
    assert!(matches!(refused, ShapeFault::Flat { .. }), "{refused}");
    let mut two = Invented::CROOKED.scanned(60, 60, lying());
    let other = Invented::CROOKED.scanned(60, 60, Lying { at: [0.0; 3], ..lying() });
    let first = two.points.len() as u32;
    two.points.extend(other.points);
    two.triangles.extend(other.triangles.iter().map(|t| t.map(|corner| corner + first)));
    assert!(matches!(fault(two.clone()), ShapeFault::Several { .. }));
    // A branch stub beside it is left out.
    for point in &mut two.points[first as usize..] {
        *point = point.map(|c| c / 20.0);
    }
    let told = read(two).told;
    assert!(matches!(told[..], [Repair::Dropped { pieces: 1, .. }]), "{told:?}");
    let bowed = Invented { bow: 40.0, ..Invented::CROOKED };
    let refused = fault(bowed.scanned(120, 90, lying()));
    assert!(matches!(refused, ShapeFault::Sweep { .. } | ShapeFault::NoEnd), "{refused}");
    assert!(matches!(fault(Mesh::default()), ShapeFault::TooFew { .. }));
    let short =
        Invented { length: 10.0, small: 3.0, butt: 3.1, flare: 0.0, bow: 0.0, ..Invented::CROOKED };
    assert!(matches!(fault(short.scanned(20, 60, lying())), ShapeFault::Size { .. }));
    let mut bad = Invented::CROOKED.scanned(60, 60, lying());
    bad.points[..200].fill([f64::INFINITY; 3]);
    assert!(matches!(fault(bad), ShapeFault::NotNumbers { bad: 200, .. }));
}

#[test]
fn a_tangle_is_refused() {
    let mut mesh = Invented::CROOKED.scanned(60, 60, lying());
    let count = mesh.points.len() as u32;
    let mut random = Noise(3);
    #[allow(clippy::cast_sign_loss, reason = "it is between 0 and the count")]
    let mut any = || ((random.even() + 1.0) / 2.0 * f64::from(count - 1)) as u32;
    for n in 0..2000 {
        // A fin on every third edge.
        let [a, b, _] = mesh.triangles[n * 3];
        mesh.triangles.push([a, b, any()]);
    }
    assert!(matches!(fault(mesh), ShapeFault::Tangled { .. }));
}

#[test]
fn a_log_that_stands_in_its_file() {
    let log = Invented { bow: 0.0, ..Invented::CROOKED };
    let Measured { told, log: measured } = read(log.mesh(60, 90));
    assert_eq!(told, [Repair::Inverted, Repair::Standing]);
    assert!((measured.length().inches_f64() - 120.0).abs() < 0.02);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Whatever the shape and however it lies, it comes back.
    #[test]
    fn prop_any_log_comes_back(
        length in 60.0..240.0_f64,
        small in 4.0..12.0_f64,
        grows in 0.3..3.0_f64,
        flare in 0.0..2.0_f64,
        oval in prop_oneof![1 => Just(0.0), 3 => 0.0..0.3_f64],
        wave in prop_oneof![1 => Just(0.0), 3 => 0.0..0.01_f64],
        toward in 0.0..TAU,
        bow in 0.0..4.0_f64,
        bow_toward in 0.0..TAU,
        yaw in 0.0..TAU,
        pitch in -0.3..0.3_f64,
    ) {
        let log = Invented { length, small, butt: small + grows, flare, oval, toward, wave, bow, bow_toward };
        let lying = Lying { yaw, pitch, at: [-1e3, 2e3, 10.0] };
        let mesh = log.scanned(160, 240, lying);
        let right = volume(&mesh).abs();
        let measured = from_mesh(mesh, &INCHES);
        let measured = match measured {
            Ok(measured) => measured.log,
            Err(refused) => return Err(TestCaseError::fail(refused.to_string())),
        };
        let long = measured.length().inches_f64();
        prop_assert!((long - length).abs() < 0.05, "{long}");
        for section in measured.sections().unwrap() {
            let off = off(&log, section, |r| r);
            prop_assert!(off < 0.04, "{off} at {}", section.z);
        }
        let share = volume(&solid(&measured)).abs() / right;
        prop_assert!((share - 1.0).abs() < 0.0015, "{share}");
    }

    /// Garbage is refused, never a panic.
    #[test]
    fn prop_garbage_is_no_log_and_no_panic(
        points in prop::collection::vec(prop::array::uniform3(prop_oneof![
            8 => -100.0..100.0_f64, 1 => Just(0.0), 1 => any::<f64>(),
        ]), 0..400),
        triangles in prop::collection::vec(prop::array::uniform3(0_u32..420), 0..400),
        scanned in any::<bool>(),
    ) {
        let mut mesh = Mesh { points, triangles };
        if scanned {
            // Garbage among the triangles of a log.
            let log = Invented::CROOKED.scanned(20, 20, lying());
            for (point, bad) in log.points.iter().zip(&mut mesh.points).skip(7) {
                *bad = *point;
            }
            mesh.triangles.extend(log.triangles);
        }
        for unit in [None, Some(Unit::Inch)] {
            if let Err(refused) = from_mesh(mesh.clone(), &ShapeRequest { unit, ..INCHES }) {
                prop_assert!(!refused.to_string().is_empty() && !refused.help().is_empty());
            }
        }
    }
}
