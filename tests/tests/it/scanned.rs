//! From a scan to pieces: what is sawn from a scanned log lies within the surface that was scanned.
//!
//! The surface is a formula; nothing between it and the pieces' corners is asked but the triangles that a scanner would
//! have written.
#![allow(
    missing_docs,
    dead_code,
    unreachable_pub,
    clippy::cast_possible_truncation,
    reason = "what several tests share"
)]

#[path = "../../../crates/geometry/tests/it/common/invented.rs"]
mod invented;

use invented::{Invented, Lying};
use pithward_geometry::measured::from_mesh;
use pithward_geometry::trig::{atan2, norm};
use pithward_geometry::{Log, ShapeRequest, Surface};
use pithward_measure::{Length, Unit};
use pithward_optimizer::{Answer, Planned, Settings, open};
use pithward_tests::real_wood::Axes;
use pithward_tests::{roomy_mill, want};
use std::f64::consts::TAU;
use std::path::Path;

/// How far the log's outlines may lie outside the formula's, inches: straight lines between two sections, of the bow
/// and of the flare.
const SLACK: f64 = 0.03;

fn plan(log: &Log) -> Planned {
    let mill = roomy_mill(Length::sixty_fourths(8));
    let size = |(t, w, l)| want(Length::inches(t), Length::inches(w), Length::feet(l));
    let wants: Vec<_> = [(1, 4, 8), (2, 6, 8), (2, 4, 4), (4, 4, 4)].map(size).into();
    match open(log, &mill, &wants, &Settings::all(&mill)) {
        Ok(Answer::Planned(planned)) => *planned,
        other => panic!("no plan: {other:?}"),
    }
}

/// The farthest that a corner of a piece lies outside the formula's surface, less the bark; negative where none does.
fn outside(invented: &Invented, bark: f64, log: &Log, planned: &Planned) -> f64 {
    let (order, length) = (&planned.plan.order, log.length().inches_f64());
    // The scan begins a hair within the log.
    let begins = (invented.length - length) / 2.0;
    let mut farthest = f64::NEG_INFINITY;
    for claim in order.pieces.iter().map(|piece| piece.claim) {
        let turn = claim.turn.as_millidegrees() - order.frame.turn.as_millidegrees();
        let quarters = usize::try_from(turn.rem_euclid(360_000) / 90_000).expect("few");
        let axes = Axes::new(&order.frame, length, quarters);
        let (from, to) = (claim.z.from.inches_f64(), claim.z.to.inches_f64());
        for z in (0..=32).map(|n| from + (to - from) * f64::from(n) / 32.0) {
            for u in [claim.u.from, claim.u.to].map(Length::inches_f64) {
                for h in [claim.h.from, claim.h.to].map(Length::inches_f64) {
                    let ([x, y], station) = (axes.point([u, h], z), z + begins);
                    let [middle_x, middle_y] = invented.middle(station);
                    let (x, y) = (x - middle_x, y - middle_y);
                    let r = invented.radius(atan2(y, x), station);
                    farthest = farthest.max(norm(x, y) - (r - bark));
                }
            }
        }
    }
    farthest
}

#[test]
fn pieces_of_a_scanned_log_lie_within_what_was_scanned() {
    for n in 0..6 {
        let n = f64::from(n);
        let invented = Invented {
            length: 100.0 + 8.0 * n,
            oval: 0.03 * n,
            toward: 1.1 * n,
            bow: 2.5 - 0.4 * n,
            bow_toward: 2.0 * n,
            ..Invented::CROOKED
        };
        let lying = Lying { yaw: n, pitch: 0.02 * n, at: [50.0, 10.0 * n, 12.0] };
        for bark in [0.0, 0.5] {
            let thick = Length::from_inches_f64(bark);
            let surface = Surface::Bark { small: thick, butt: thick };
            let request =
                ShapeRequest { unit: Some(Unit::Inch), surface, ..ShapeRequest::default() };
            let scanned = from_mesh(invented.scanned(200, 240, lying), &request);
            let log = scanned.expect("a log").log;
            let planned = plan(&log);
            assert!(
                planned.plan.order.pieces.len() > 3,
                "{} pieces",
                planned.plan.order.pieces.len()
            );
            let outside = outside(&invented, bark, &log, &planned);
            assert!(outside < SLACK, "{n} {bark}: {outside}");
            // Pieces that would all be much deeper would say that wood is lost.
            assert!(outside > -1.0, "{n} {bark}: {outside}");
        }
    }
}

#[test]
fn the_demos_shapes_are_planned() {
    for name in ["crooked.ply", "oak.csv"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../data/shapes").join(name);
        let measured = pithward_job::read_shape_file(&path, name, &ShapeRequest::default());
        let log = measured.expect("a log").log;
        let planned = plan(&log);
        let share = planned.plan.share_of_solid;
        assert!((0.3..0.8).contains(&share), "{name}: {share}");
    }
}

/// A scan of a round and straight log is planned about as well as the log itself.
#[test]
fn a_scan_of_a_round_log_loses_little() {
    let round = Invented {
        oval: 0.0,
        wave: 0.0,
        flare: 0.0,
        bow: 0.0,
        small: 7.0,
        butt: 8.0,
        ..Invented::CROOKED
    };
    let request = ShapeRequest { unit: Some(Unit::Inch), ..ShapeRequest::default() };
    let lying = Lying { yaw: TAU / 5.0, ..Lying::default() };
    let scanned = from_mesh(round.scanned(100, 360, lying), &request).expect("a log").log;
    let taped = Log::new(
        Length::inches(14),
        Length::inches(16),
        Length::feet(10),
        Length::ZERO,
        Length::ZERO,
    );
    let [scanned, taped] = [&scanned, &taped.expect("a log")].map(|log| plan(log).plan.worth);
    assert!(scanned * 100 > taped * 93 && scanned <= taped, "{scanned} of {taped}");
}
