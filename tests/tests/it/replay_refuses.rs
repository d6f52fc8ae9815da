//! Replay refuses an order that was tampered with in any one step.
//!
//! Planned orders of random cases are altered in every kind of single step, and replayed at the exact and at the
//! printed heights. What must be refused is all that changes what falls out, or that tells the sawyer something
//! untrue. What is honestly harmless is listed by [`harmless`], each with its reason, and judged there in plain
//! coordinates, not by replay.

use pithward_geometry::{Angle, End, Log, Mill, SawingOrder, Setting, Taped, replay};
use pithward_measure::Length;
use pithward_optimizer::{Answer, Method, Rings, Settings, open};
use pithward_tests::check_real::{self, Verdict};
use pithward_tests::random::{Case, Random};
use pithward_tests::random_shape::{self, RealCase};
use pithward_tests::real_wood::RealWood;
use pithward_tests::tampered::{Tampered, tamperings};
use pithward_tests::{by_hand, by_hand_quarters, check, roomy_mill};
use pithward_trade::RingClass;
use std::collections::BTreeMap;

/// An order and what it is judged by.
struct Subject {
    name: String,
    real: RealCase,
    order: SawingOrder,
    tolerance: Length,
}

/// A round log as the tape would tell it, so that one check speaks for all.
fn taped(log: &Log) -> Taped {
    let end = |diameter, bark| End {
        longer: diameter,
        shorter: diameter,
        clock: Angle::ZERO,
        pith_off: Length::ZERO,
        pith_clock: Angle::ZERO,
        bark,
    };
    Taped {
        length: log.length(),
        small: end(log.small_end(), log.bark_small()),
        butt: end(log.butt(), log.bark_butt()),
        sweep: None,
        crook: None,
        flare: None,
    }
}

/// Why an altered order is still true, if it is: told from the order alone.
fn harmless(subject: &Subject, tampered: &Tampered) -> Option<&'static str> {
    let (real, order, other) = (&subject.real, &subject.order, &tampered.order);
    let log = &real.case.log;
    // Replay is told apart from the formulas only where these say plainly that a claim is not so.
    let plainly_untrue = || {
        let pieces = other.pieces.iter();
        pieces
            .map(|piece| check_real::piece(real, other, &piece.claim))
            .any(|verdict| matches!(verdict, Verdict::Untrue(_)))
    };
    match tampered.kind.as_str() {
        // The pose is the same; the sawyer is told less. The card names the face that the plan has.
        "log: no face against the stops" | "resaw: no face against the stops" => Some("tells less"),
        // Standing alone, or with flitches that get the very same passes: each is still replayed in its own rest,
        // and replay holds the count and the width of a batch against the mill.
        "edging: another batch" => batches_are_alike(other).then_some("cut alone or with its like"),
        // The crosscuts are nowhere but in the claims, so other crosscuts within sound wood are another true plan.
        // More wane than there is, is a weaker claim, and true.
        "piece: along" | "piece: wane" => {
            let claims = other.pieces.iter().map(|piece| &piece.claim);
            // In plain coordinates the axis of the frame is the log's own.
            let level = order.frame.drift_u == Length::ZERO && order.frame.drift_h == Length::ZERO;
            let sound = if log.is_round() && level {
                claims.clone().all(|claim| check::soundness(&real.case, claim) >= -1e-4)
            } else {
                !plainly_untrue()
            };
            let within = claims.clone().all(|claim| {
                Length::ZERO <= claim.z.from
                    && claim.z.from < claim.z.to
                    && claim.z.to <= log.length()
            });
            (sound && within && strips_are_apart(&real.case.mill, other))
                .then_some("true of other crosscuts")
        }
        // Another rule that the piece keeps as well; a flaw tolerated that it may hold or not.
        "piece: another rule for the pith" | "piece: no flaw tolerated" => {
            (!plainly_untrue()).then_some("true of another rule")
        }
        "piece: one more flaw tolerated" => Some("a weaker claim"),
        // A centred timber is the same box after half a turn, a centred square one after a quarter.
        "piece: turned" => {
            let boxes = |order: &SawingOrder| {
                let seen = |p: &pithward_geometry::Piece| check::frame_box(&order.frame, &p.claim);
                order.pieces.iter().map(seen).collect::<Vec<_>>()
            };
            let wane_alike = other.pieces.iter().all(|p| p.claim.wane_u == p.claim.wane_h);
            let half = order.pieces.iter().zip(&other.pieces).all(|(a, b)| {
                (a.claim.turn.as_millidegrees() - b.claim.turn.as_millidegrees()) % 180_000 == 0
            });
            (boxes(other).iter().all(Option::is_some)
                && boxes(order) == boxes(other)
                && (half || wane_alike))
                .then_some("the same box")
        }
        // Without a drift the frame is the same four directions whichever of them it is named for.
        "frame: turned" => {
            let level = order.frame.drift_u == Length::ZERO && order.frame.drift_h == Length::ZERO;
            let by = other.frame.turn.as_millidegrees() - order.frame.turn.as_millidegrees();
            (level && by % 90_000 == 0).then_some("the same directions")
        }
        // Across the bed the log may lie askew by any amount: heights and lifts are the same, and so are the sizes.
        "frame: drift across" | "frame: drift upward" => (!plainly_untrue()
            && lifts_are_alike(subject, other))
        .then_some("true of an axis askew"),
        _ => None,
    }
}

/// Whether every rest of the log takes the lift that it is told in another frame too: told from the bark's own formula
/// at the ends, for the first rest.
fn lifts_are_alike(subject: &Subject, other: &SawingOrder) -> bool {
    let first = |order: &SawingOrder| check_real::first_lift(&subject.real.wood, order);
    match (first(&subject.order), first(other)) {
        (Some(a), Some(b)) => (a - b).abs() < 1e-3,
        _ => false,
    }
}

fn batches_are_alike(order: &SawingOrder) -> bool {
    order.edgings.iter().all(|a| {
        order.edgings.iter().filter(|b| a.batch == b.batch).all(|b| {
            a.stages.len() == b.stages.len()
                && a.stages.iter().zip(&b.stages).all(|(a, b)| a.passes == b.passes)
        })
    })
}

fn strips_are_apart(mill: &Mill, order: &SawingOrder) -> bool {
    order.pieces.iter().enumerate().all(|(n, a)| {
        order.pieces[..n].iter().filter(|b| (a.part, a.strip) == (b.part, b.strip)).all(|b| {
            let (a, b) = (a.claim.z, b.claim.z);
            a.from >= b.to + mill.crosscut_kerf || b.from >= a.to + mill.crosscut_kerf
        })
    })
}

/// What came of altering orders.
#[derive(Default)]
struct Tried {
    orders: usize,
    altered: usize,
    /// By kind: refused, harmless.
    counts: BTreeMap<String, [usize; 2]>,
    faults: Vec<String>,
}

impl Tried {
    fn alter(&mut self, subject: &Subject) {
        let case = &subject.real.case;
        self.orders += 1;
        for tampered in tamperings(&subject.order, &case.mill) {
            self.altered += 1;
            let printed = Setting::Printed { tolerance: subject.tolerance };
            let refused = [Setting::Exact, printed]
                .into_iter()
                .any(|setting| replay(&case.log, &case.mill, &tampered.order, setting).is_err());
            let count = self.counts.entry(tampered.kind.clone()).or_default();
            // Replay may be stricter than the plain coordinates: at the printed heights there is less wood.
            if refused {
                count[0] += 1;
            } else if harmless(subject, &tampered).is_some() {
                count[1] += 1;
            } else {
                self.faults.push(format!("{}: {}", subject.name, tampered.kind));
            }
        }
    }

    /// What there is to print, line by line.
    fn lines(&self) -> Vec<String> {
        let mut lines = vec![format!(
            "{} orders altered in {} ways: refused, harmless",
            self.orders, self.altered
        )];
        for (kind, [refused, harmless]) in &self.counts {
            lines.push(format!("{kind:55} {refused:6} {harmless:6}"));
        }
        let mut kinds: BTreeMap<&str, (usize, &str)> = BTreeMap::new();
        for fault in &self.faults {
            let (case, kind) = fault.split_once(": ").unwrap_or((fault, ""));
            kinds.entry(kind).or_insert((0, case)).0 += 1;
        }
        for (kind, (times, first)) in &kinds {
            lines.push(format!("NOT REFUSED {times} times, first {first}: {kind}"));
        }
        lines
    }

    fn has(&self, kind: &str) -> bool {
        self.counts.keys().any(|name| name.starts_with(kind))
    }
}

#[test]
fn every_single_step_altered_is_refused() {
    let mut tried = Tried::default();
    for n in 0.. {
        let case = Case::new(1_000_000 + n);
        let settings = Settings::all(&case.mill);
        let Ok(Answer::Planned(planned)) = open(&case.log, &case.mill, &case.wants, &settings)
        else {
            continue;
        };
        // Many small orders say more than a few large ones.
        if planned.plan.order.pieces.len() > 24 {
            continue;
        }
        let (taped, name) = (taped(&case.log), format!("case {}", 1_000_000 + n));
        let real = RealCase { case, taped, wood: RealWood::new(&taped) };
        let (order, tolerance) = (planned.plan.order, settings.tolerance);
        tried.alter(&Subject { name, real, order, tolerance });
        if tried.orders >= 60 && tried.has("edging") {
            break;
        }
    }
    tried.lines().iter().for_each(|line| println!("{line}"));
    assert!(tried.faults.is_empty(), "{} altered orders were not refused", tried.faults.len());
    // Every kind of step is there, or the test says less than its name.
    assert!(tried.counts.len() > 44, "only {} kinds of alteration", tried.counts.len());
}

#[test]
fn every_single_step_altered_is_refused_on_real_logs() {
    let mut tried = Tried::default();
    for n in 0..4_000 {
        let mut real = RealCase::new(2_000_000 + n);
        real.case.mill = roomy_mill(Length::sixty_fourths(8));
        let mill = &real.case.mill;
        let Some(order) = by_hand::order(&real, mill, &mut Random::new(n)) else { continue };
        if replay(&real.case.log, mill, &order, Setting::Exact).is_err() {
            continue;
        }
        let (name, tolerance) = (format!("case {}", 2_000_000 + n), mill.step);
        tried.alter(&Subject { name, real, order, tolerance });
        if tried.orders >= 60 {
            break;
        }
    }
    tried.lines().iter().for_each(|line| println!("{line}"));
    assert!(tried.faults.is_empty(), "{} altered orders were not refused", tried.faults.len());
    assert!(tried.orders >= 60 && tried.has("edging"), "only {} orders", tried.orders);
    assert!(tried.counts.len() > 44, "only {} kinds of alteration", tried.counts.len());
    // What only a real log has is refused where it must be.
    for kind in ["frame: turned", "frame: drift upward", "piece: another rule for the pith"] {
        let refused = tried.counts.get(kind).map_or(0, |count| count[0]);
        assert!(refused > 50, "{kind}: only {refused} refused");
    }
    let flaws = tried.counts.get("piece: no flaw tolerated").map_or(0, |count| count[0]);
    assert!(flaws > 0, "no flaw that was tolerated is refused where it is not");
}

#[test]
fn every_single_step_altered_is_refused_where_parts_are_put_back() {
    let mut tried = Tried::default();
    for n in 0..4_000 {
        let mut random = Random::new(n);
        let case = Case::new(3_000_000 + n);
        let (log, mill) = (case.log, roomy_mill(Length::sixty_fourths(8)));
        let frame = random_shape::frame(&mut random);
        let Some(order) = by_hand_quarters::order(&log, frame, &mill, &mut random) else {
            continue;
        };
        if replay(&log, &mill, &order, Setting::Exact).is_err() {
            continue;
        }
        let (taped, tolerance) = (taped(&log), mill.step);
        let case = Case { log, mill, wants: Vec::new() };
        let (real, name) =
            (RealCase { case, taped, wood: RealWood::new(&taped) }, format!("case {n}"));
        tried.alter(&Subject { name, real, order, tolerance });
        if tried.orders >= 60 {
            break;
        }
    }
    tried.lines().iter().for_each(|line| println!("{line}"));
    assert!(tried.faults.is_empty(), "{} altered orders were not refused", tried.faults.len());
    assert!(tried.orders >= 60, "only {} orders", tried.orders);
    let kinds = tried.counts.keys().filter(|kind| kind.starts_with("resaw"));
    assert!(kinds.count() > 16, "some kinds of alteration of a resaw never came up");
}

#[test]
fn every_single_step_altered_of_a_quartered_log_is_refused() {
    let mut tried = Tried::default();
    for n in 0..400 {
        let mut case = Case::new(7_000_000 + n);
        let diameter = Length::inches(10 + i64::try_from(n % 6).unwrap_or(0));
        let bark = Length::sixty_fourths(16);
        case.log = Log::new(diameter, diameter, case.log.length(), bark, bark).expect("a log");
        case.mill = roomy_mill(Length::sixty_fourths(8));
        if n % 2 == 0 {
            case.wants
                .iter_mut()
                .for_each(|want| want.rings = Some(Rings::only(RingClass::Quarter)));
        }
        let settings = Settings { methods: vec![Method::Quarter], ..Settings::all(&case.mill) };
        let Ok(Answer::Planned(planned)) = open(&case.log, &case.mill, &case.wants, &settings)
        else {
            continue;
        };
        let order = planned.plan.order;
        if order.pieces.len() > 24 || order.resaws.is_empty() {
            continue;
        }
        let (taped, name) = (taped(&case.log), format!("case {}", 7_000_000 + n));
        let real = RealCase { case, taped, wood: RealWood::new(&taped) };
        tried.alter(&Subject { name, real, order, tolerance: settings.tolerance });
        if tried.orders >= 24 {
            break;
        }
    }
    tried.lines().iter().for_each(|line| println!("{line}"));
    assert!(tried.faults.is_empty(), "{} altered orders were not refused", tried.faults.len());
    assert!(tried.orders >= 24 && tried.has("resaw"), "only {} orders", tried.orders);
}
