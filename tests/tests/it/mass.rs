//! What a log is turned into weighs what the log weighed: over random logs of every kind and every family of sawing, the
//! pieces, slabs, edgings, ends and sawdust, each measured by itself, are the log again.
//!
//! `PITHWARD_CASES` for more of each kind, `PITHWARD_FIRST` to begin elsewhere. A log's own volume is that of its closed
//! form; a pound of the heaviest wood, 64 lb/ft3, is 27 cubic inches.

use pithward_geometry::{Log, Material, Mill, SawingOrder, Setting, material, replay};
use pithward_measure::Length;
use pithward_optimizer::{Answer, Method, Settings, open};
use pithward_tests::random::{Case, Random};
use pithward_tests::random_shape::{self, RealCase};
use pithward_tests::{by_hand, by_hand_quarters, roomy_mill};

/// Cubic inches by which the sum may be off: a tenth of a pound of the heaviest wood.
const OFF: f64 = 2.7;

fn number(variable: &str, otherwise: u64) -> u64 {
    std::env::var(variable).map_or(otherwise, |text| text.parse().expect("a whole number"))
}

fn cases(otherwise: u64) -> std::ops::Range<u64> {
    let first = number("PITHWARD_FIRST", 0);
    first..first + number("PITHWARD_CASES", otherwise)
}

/// How far the parts of a log are off its own volume, cubic inches, wood and bark; and that none of them is absurd.
fn off(log: &Log, mill: &Mill, order: &SawingOrder) -> (f64, f64) {
    let found = material(log, mill, order).expect("it replays");
    let Material { slabs, edgings, pieces, kerfs, ends, .. } = &found;
    let of_parts = slabs.iter().map(|(_, solid)| solid).chain(edgings.iter().map(|(.., s)| s));
    for solid in of_parts.chain(pieces).chain(ends).chain(kerfs.iter().map(|kerf| &kerf.sawdust)) {
        assert!(
            solid.wood >= 0.0 && solid.bark >= 0.0 && solid.wood <= found.log.wood,
            "{solid:?}"
        );
    }
    // A piece is its box, less what its wane takes off the corners. It is cut to length square to the log's own axis.
    let along = order.frame.basis(log.length()).along[2];
    for (piece, solid) in order.pieces.iter().zip(pieces) {
        let claim = &piece.claim;
        let [u, h, z] = [claim.u, claim.h, claim.z].map(|span| span.size().inches_f64());
        let (box_of, legs) =
            (u * h * z / along, claim.wane_u.inches_f64() * claim.wane_h.inches_f64());
        let least = box_of - 2.0 * legs * z / along;
        // A micrometre of slack on each side, and what rounding leaves.
        let slack = 1e-3 + 1e-4 * box_of;
        assert!(solid.wood <= box_of + slack, "{solid:?} in a box of {box_of}");
        assert!(solid.wood >= least - slack, "{solid:?} in a box of {box_of}, wane {legs}");
    }
    let all = found.all();
    (all.wood - found.log.wood, all.bark - found.log.bark)
}

/// The worst of some cases, as they are told.
struct Worst {
    told: &'static str,
    count: u32,
    most: (f64, f64),
}

impl Worst {
    fn new(told: &'static str) -> Self {
        Self { told, count: 0, most: (0.0, 0.0) }
    }

    fn look(&mut self, n: u64, log: &Log, mill: &Mill, order: &SawingOrder) {
        let (wood, bark) = off(log, mill, order);
        assert!(wood.abs() < OFF && bark.abs() < OFF, "{} case {n}: {wood}, {bark}", self.told);
        self.count += 1;
        self.most = (self.most.0.max(wood.abs()), self.most.1.max(bark.abs()));
    }

    /// What is told of them; there must be at least so many.
    fn told(&self, least: u32) -> String {
        assert!(self.count >= least, "only {} orders", self.count);
        let (wood, bark) = self.most;
        let pounds = wood / 27.0;
        format!(
            "{}: {} orders, worst {wood:.4} in3 of wood ({pounds:.5} lb at 64 lb/ft3), {bark:.4} of bark",
            self.told, self.count
        )
    }
}

#[test]
fn round_logs_weigh_what_their_parts_weigh_by_every_method() {
    let mut worst = Worst::new("round logs, plans");
    let mut by: Vec<(Method, u32)> = Vec::new();
    for n in cases(300) {
        let case = Case::new(n);
        let mut methods = vec![Method::USUAL.to_vec()];
        if n % 4 == 0 {
            methods.extend(Method::ALL.map(|method| vec![method]));
        }
        for methods in methods {
            let settings = Settings { methods, ..Settings::all(&case.mill) };
            let answer = open(&case.log, &case.mill, &case.wants, &settings).expect("a plan");
            let Answer::Planned(planned) = answer else { continue };
            worst.look(n, &case.log, &case.mill, &planned.plan.order);
            match by.iter_mut().find(|(method, _)| *method == planned.plan.method) {
                Some((_, count)) => *count += 1,
                None => by.push((planned.plan.method, 1)),
            }
        }
    }
    println!("{by:?}");
    assert!(Method::ALL.iter().all(|method| by.iter().any(|(other, _)| other == method)), "{by:?}");
    println!("{}", worst.told(300));
}

#[test]
fn real_logs_weigh_what_their_parts_weigh() {
    let mut worst = Worst::new("real logs, plans");
    for n in cases(80) {
        let RealCase { case, .. } = RealCase::new(n);
        let settings = Settings::all(&case.mill);
        let answer = open(&case.log, &case.mill, &case.wants, &settings).expect("a plan");
        let Answer::Planned(planned) = answer else { continue };
        worst.look(n, &case.log, &case.mill, &planned.plan.order);
    }
    println!("{}", worst.told(40));
}

#[test]
fn real_logs_sawn_by_hand_weigh_what_their_parts_weigh_parts_put_back_too() {
    let mill = roomy_mill(Length::sixty_fourths(8));
    let mut of_log = Worst::new("real logs, orders by hand");
    let mut put_back = Worst::new("real logs, orders by hand with parts put back");
    for n in cases(1_000) {
        let real = RealCase::new(n);
        let mut random = Random::new(n.wrapping_mul(0x2545_f491_4f6c_dd1d));
        let log = &real.case.log;
        let orders = [
            by_hand::order(&real, &mill, &mut random),
            by_hand_quarters::order(log, random_shape::frame(&mut random), &mill, &mut random),
        ];
        for (order, worst) in orders.into_iter().zip([&mut of_log, &mut put_back]) {
            let Some(order) = order else { continue };
            if replay(log, &mill, &order, Setting::Exact).is_ok() {
                worst.look(n, log, &mill, &order);
            }
        }
        // The outlines hold what the tape's own formulas say, but for the chords of a polygon.
        let (outlines, formulas) = (log.volume(), real.wood.volume());
        assert!((outlines / formulas - 1.0).abs() < 0.005, "case {n}: {outlines} for {formulas}");
    }
    println!("{}", of_log.told(100));
    println!("{}", put_back.told(100));
}

/// What is forgotten, or counted twice, shows.
#[test]
fn a_part_that_is_lost_is_missed() {
    let case = Case::new(16);
    let answer = open(&case.log, &case.mill, &case.wants, &Settings::all(&case.mill));
    let Ok(Answer::Planned(planned)) = answer else { panic!("case 16 has a plan") };
    let found = material(&case.log, &case.mill, &planned.plan.order).expect("it replays");
    assert!((found.all().wood - found.log.wood).abs() < OFF);
    let without = |lost: f64| (found.all().wood - lost - found.log.wood).abs();
    let slab = found.slabs.iter().map(|(_, solid)| solid.wood).fold(0.0, f64::max);
    assert!(without(found.pieces[0].wood) > OFF && without(slab) > OFF);
    assert!(without(found.sawdust().wood) > OFF);
    // Half a kerf is half the sawdust, and what is left is that much more.
    let mut thinner = case.mill.clone();
    thinner.kerf = case.mill.kerf.half();
    let less = material(&case.log, &thinner, &planned.plan.order).expect("it can be gone through");
    assert!((less.all().wood - less.log.wood).abs() < OFF);
    let kerfs = |m: &Material| m.kerfs.iter().map(|kerf| kerf.sawdust.wood).sum::<f64>();
    assert!((kerfs(&less) / kerfs(&found) - 0.5).abs() < 0.05);
    assert!((less.sawn_area() / found.sawn_area() - 1.0).abs() < 0.05);
}
