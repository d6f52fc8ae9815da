//! Replay refuses an order that was tampered with in any one step.
//!
//! Planned orders of random cases are altered in every kind of single step, and replayed at the exact and at the
//! printed heights. What must be refused is all that changes what falls out, or that tells the sawyer something
//! untrue. What is honestly harmless is listed by [`harmless`], each with its reason, and judged there in plain
//! coordinates, not by replay.

use pithward_geometry::{
    Angle, Face, PartId, Piece, SawingOrder, Setting, Span, Stage, Support, replay,
};
use pithward_measure::Length;
use pithward_optimizer::{Answer, Settings, open};
use pithward_tests::{check, random::Case};
use std::collections::BTreeMap;

/// An order with one step altered, and which kind of alteration it is.
struct Tampered {
    kind: String,
    order: SawingOrder,
}

fn altered(
    order: &SawingOrder,
    all: &mut Vec<Tampered>,
    kind: &str,
    change: impl FnOnce(&mut SawingOrder),
) {
    let mut copy = order.clone();
    change(&mut copy);
    if copy != *order {
        all.push(Tampered { kind: kind.to_owned(), order: copy });
    }
}

/// The stages of the log (`None`) or of one edging.
fn stages(order: &mut SawingOrder, edging: Option<usize>) -> &mut Vec<Stage> {
    match edging {
        None => &mut order.stages,
        Some(n) => &mut order.edgings[n].stages,
    }
}

/// Every single step of an order altered in every way.
fn tamperings(order: &SawingOrder, case: &Case) -> Vec<Tampered> {
    let mut all = Vec::new();
    let places: Vec<Option<usize>> =
        std::iter::once(None).chain((0..order.edgings.len()).map(Some)).collect();
    for place in places {
        let what = if place.is_none() { "log" } else { "edging" };
        let list = stages(&mut order.clone(), place).clone();
        for (s, stage) in list.iter().enumerate() {
            for p in 0..stage.passes.len() {
                passes(order, case, &mut all, what, (place, s, p));
            }
            rests(order, &mut all, what, (place, s), &stage.rest);
            if stage.passes.len() > 1 {
                for p in 1..stage.passes.len() {
                    altered(order, &mut all, &format!("{what}: two passes swapped"), |o| {
                        stages(o, place)[s].passes.swap(p - 1, p);
                    });
                }
            }
            altered(order, &mut all, &format!("{what}: a stage dropped"), |o| {
                stages(o, place).remove(s);
            });
            altered(order, &mut all, &format!("{what}: a stage twice"), |o| {
                let again = stages(o, place)[s].clone();
                stages(o, place).insert(s, again);
            });
            if s > 0 {
                altered(order, &mut all, &format!("{what}: two stages swapped"), |o| {
                    stages(o, place).swap(s - 1, s);
                });
            }
        }
    }
    for n in 0..order.edgings.len() {
        edging(order, &mut all, n);
    }
    for n in 0..order.pieces.len() {
        piece(order, &mut all, n);
    }
    all
}

fn passes(
    order: &SawingOrder,
    case: &Case,
    all: &mut Vec<Tampered>,
    what: &str,
    (place, s, p): (Option<usize>, usize, usize),
) {
    let step = case.mill.step;
    let by = [Length::sixty_fourths(4), Length::nm(100_000), step, Length::mm(1)];
    for by in by.into_iter().flat_map(|by| [by, -by]) {
        let pass = move |o: &mut SawingOrder| stages(o, place)[s].passes[p];
        altered(order, all, &format!("{what}: exact and printed height moved"), |o| {
            let height = pass(o).height + by;
            stages(o, place)[s].passes[p] =
                pithward_geometry::Pass { height, printed: height.round_to(step) };
        });
        // A height that prints alike is caught by what it frees, not by its print.
        altered(order, all, &format!("{what}: exact height moved"), |o| {
            stages(o, place)[s].passes[p].height += by;
        });
        altered(order, all, &format!("{what}: printed height moved"), |o| {
            stages(o, place)[s].passes[p].printed += by;
        });
    }
    altered(order, all, &format!("{what}: a pass dropped"), |o| {
        stages(o, place)[s].passes.remove(p);
    });
    altered(order, all, &format!("{what}: a pass twice"), |o| {
        let again = stages(o, place)[s].passes[p];
        stages(o, place)[s].passes.insert(p, again);
    });
}

fn rests(
    order: &SawingOrder,
    all: &mut Vec<Tampered>,
    what: &str,
    (place, s): (Option<usize>, usize),
    rest: &pithward_geometry::Rest,
) {
    for degrees in [90, 180, 270, 1, -1] {
        altered(order, all, &format!("{what}: turned otherwise"), |o| {
            let turn = &mut stages(o, place)[s].rest.turn;
            *turn = Angle::millidegrees(turn.as_millidegrees() + degrees * 1000);
        });
    }
    for by in [Length::sixty_fourths(8), Length::nm(100_000)].into_iter().flat_map(|by| [by, -by]) {
        altered(order, all, &format!("{what}: raised otherwise"), |o| {
            stages(o, place)[s].rest.lift += by;
        });
    }
    let supports =
        [Support::Bark, Support::SawnEdge].into_iter().chain(Face::ALL.map(Support::Face));
    for on in supports.filter(|on| *on != rest.on) {
        altered(order, all, &format!("{what}: on {on:?}, not {:?}", rest.on), |o| {
            stages(o, place)[s].rest.on = on;
        });
    }
    for face in Face::ALL {
        altered(order, all, &format!("{what}: another face against the stops"), |o| {
            stages(o, place)[s].rest.against = Some(face);
        });
    }
    altered(order, all, &format!("{what}: no face against the stops"), |o| {
        stages(o, place)[s].rest.against = None;
    });
}

fn edging(order: &SawingOrder, all: &mut Vec<Tampered>, n: usize) {
    let parts: Vec<PartId> = (1..=order.passes())
        .map(|n| PartId::Freed(u32::try_from(n).expect("few passes")))
        .collect();
    for part in parts.into_iter().chain([PartId::Left]) {
        altered(order, all, "edging: another part", |o| o.edgings[n].part = part);
    }
    for batch in 0..=u32::try_from(order.edgings.len()).expect("few edgings") + 1 {
        altered(order, all, "edging: another batch", |o| o.edgings[n].batch = batch);
    }
    altered(order, all, "edging: dropped", |o| {
        o.edgings.remove(n);
    });
    altered(order, all, "edging: twice", |o| {
        let again = o.edgings[n].clone();
        o.edgings.push(again);
    });
}

fn piece(order: &SawingOrder, all: &mut Vec<Tampered>, n: usize) {
    let (sixteenth, foot) = (Length::sixty_fourths(4), Length::feet(1));
    let tenth = Length::nm(100_000);
    for by in [sixteenth, tenth, -tenth, -sixteenth] {
        let shifted = |span: Span| Span::new(span.from + by, span.to + by);
        altered(order, all, "piece: shifted across", |o| {
            o.pieces[n].claim.u = shifted(o.pieces[n].claim.u);
        });
        altered(order, all, "piece: shifted upward", |o| {
            o.pieces[n].claim.h = shifted(o.pieces[n].claim.h);
        });
        altered(order, all, "piece: wider", |o| o.pieces[n].claim.u.to += by);
        altered(order, all, "piece: wider", |o| o.pieces[n].claim.u.from += by);
        altered(order, all, "piece: thicker", |o| o.pieces[n].claim.h.to += by);
        altered(order, all, "piece: thicker", |o| o.pieces[n].claim.h.from += by);
        altered(order, all, "piece: wane", |o| {
            o.pieces[n].claim.wane_u = (o.pieces[n].claim.wane_u + by).max(Length::ZERO);
        });
        altered(order, all, "piece: wane", |o| {
            o.pieces[n].claim.wane_h = (o.pieces[n].claim.wane_h + by).max(Length::ZERO);
        });
    }
    for by in [foot * 30, foot * 4, foot, sixteenth, -sixteenth, -foot, -foot * 4, -foot * 30] {
        altered(order, all, "piece: along", |o| o.pieces[n].claim.z.from += by);
        altered(order, all, "piece: along", |o| o.pieces[n].claim.z.to += by);
        altered(order, all, "piece: along", |o| {
            let z = o.pieces[n].claim.z;
            o.pieces[n].claim.z = Span::new(z.from + by, z.to + by);
        });
    }
    for degrees in [90, 180, 270, 1] {
        altered(order, all, "piece: turned", |o| {
            let turn = &mut o.pieces[n].claim.turn;
            *turn = Angle::millidegrees(turn.as_millidegrees() + degrees * 1000);
        });
    }
    let ids = (1..=4).map(PartId::Freed).chain([PartId::Left]);
    for id in ids {
        altered(order, all, "piece: from another part", |o| o.pieces[n].part = id);
        altered(order, all, "piece: another strip", |o| o.pieces[n].strip = Some(id));
    }
    altered(order, all, "piece: another strip", |o| o.pieces[n].strip = None);
    altered(order, all, "piece: twice", |o| {
        let again: Piece = o.pieces[n].clone();
        o.pieces.push(again);
    });
}

/// Why an altered order is still true, if it is: told from the order alone.
fn harmless(case: &Case, order: &SawingOrder, tampered: &Tampered) -> Option<&'static str> {
    let other = &tampered.order;
    match tampered.kind.as_str() {
        // The pose is the same; the sawyer is told less. The card names the face that the plan has.
        "log: no face against the stops" => Some("tells less"),
        // Standing alone, or with flitches that get the very same passes: each is still replayed in its own rest,
        // and replay holds the count and the width of a batch against the mill.
        "edging: another batch" => batches_are_alike(other).then_some("cut alone or with its like"),
        // The crosscuts are nowhere but in the claims, so other crosscuts within sound wood are another true plan.
        // More wane than there is, is a weaker claim, and true.
        "piece: along" | "piece: wane" => {
            let claims = other.pieces.iter().map(|piece| &piece.claim);
            let sound = claims.clone().all(|claim| check::soundness(case, claim) >= -1e-4);
            let within = claims.clone().all(|claim| {
                Length::ZERO <= claim.z.from
                    && claim.z.from < claim.z.to
                    && claim.z.to <= case.log.length()
            });
            (sound && within && strips_are_apart(case, other)).then_some("true of other crosscuts")
        }
        // A centred timber is the same box after half a turn, a centred square one after a quarter.
        "piece: turned" => {
            let boxes = |order: &SawingOrder| {
                order.pieces.iter().map(|p| check::log_box(&p.claim)).collect::<Vec<_>>()
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
        _ => None,
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

fn strips_are_apart(case: &Case, order: &SawingOrder) -> bool {
    order.pieces.iter().enumerate().all(|(n, a)| {
        order.pieces[..n].iter().filter(|b| (a.part, a.strip) == (b.part, b.strip)).all(|b| {
            let (a, b) = (a.claim.z, b.claim.z);
            a.from >= b.to + case.mill.crosscut_kerf || b.from >= a.to + case.mill.crosscut_kerf
        })
    })
}

#[test]
fn every_single_step_altered_is_refused() {
    let mut counts: BTreeMap<String, [usize; 3]> = BTreeMap::new();
    let mut faults: Vec<String> = Vec::new();
    let (mut orders, mut altered_orders) = (0, 0);
    for n in 0.. {
        let case = Case::new(1_000_000 + n);
        let settings = Settings::all(&case.mill);
        let Ok(Answer::Planned(planned)) = open(&case.log, &case.mill, &case.wants, &settings)
        else {
            continue;
        };
        let order = &planned.plan.order;
        // Many small orders say more than a few large ones.
        if order.pieces.len() > 24 {
            continue;
        }
        orders += 1;
        for tampered in tamperings(order, &case) {
            altered_orders += 1;
            let printed = Setting::Printed { tolerance: settings.tolerance };
            let refused = replay(&case.log, &case.mill, &tampered.order, Setting::Exact).is_err()
                || replay(&case.log, &case.mill, &tampered.order, printed).is_err();
            let harmless = harmless(&case, order, &tampered);
            let count = counts.entry(tampered.kind.clone()).or_default();
            match (refused, harmless) {
                (true, None) => count[0] += 1,
                // Replay may be stricter than the plain coordinates: at the printed heights there is less wood.
                (true, Some(_)) => count[1] += 1,
                (false, Some(_)) => count[2] += 1,
                (false, None) => faults.push(format!("case {}: {}", 1_000_000 + n, tampered.kind)),
            }
        }
        if orders >= 60 && counts.keys().any(|kind| kind.starts_with("edging")) {
            break;
        }
    }
    println!(
        "{orders} orders altered in {altered_orders} ways: refused, refused though harmless, harmless"
    );
    for (kind, [refused, strict, harmless]) in &counts {
        println!("{kind:55} {refused:6} {strict:6} {harmless:6}");
    }
    let mut kinds: BTreeMap<&str, (usize, &str)> = BTreeMap::new();
    for fault in &faults {
        let (case, kind) = fault.split_once(": ").unwrap();
        kinds.entry(kind).or_insert((0, case)).0 += 1;
    }
    for (kind, (times, first)) in &kinds {
        println!("NOT REFUSED {times} times, first {first}: {kind}");
    }
    assert!(faults.is_empty(), "{} altered orders were not refused", faults.len());
    // Every kind of step is there, or the test says less than its name.
    assert!(counts.len() > 40, "only {} kinds of alteration", counts.len());
}
