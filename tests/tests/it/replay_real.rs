//! Replay and the plan agree with the tape's own formulas, over random logs that are oval, bowed, flared and flawed.
//!
//! 2,000 orders by hand and 500 plans; `PITHWARD_CASES=100000` for more, `PITHWARD_FIRST` to begin elsewhere. What is held
//! against them is written in `pithward_tests::check_real`: ellipses, bows and the pith as formulas, no outlines.

use pithward_geometry::{
    Claim, FlawKinds, Heart, Log, Mill, ReplayFault, SawingOrder, Setting, Span, confirm, replay,
};
use pithward_measure::{Length, board_feet_micro};
use pithward_optimizer::{Answer, Cut, Settings, Want, open};
use pithward_tests::check_real::{self, Verdict};
use pithward_tests::random::Random;
use pithward_tests::random_shape::{self, RealCase};
use pithward_tests::{by_hand, by_hand_quarters, roomy_mill};
use pithward_trade::Wane;
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicU64, Ordering};

fn number(variable: &str, otherwise: u64) -> u64 {
    std::env::var(variable).map_or(otherwise, |text| text.parse().expect("a whole number"))
}

/// Judges all cases on all threads: how often each outcome came up, and the faults by case.
fn judge_all(
    cases: u64,
    judge: impl Fn(u64) -> Result<Vec<&'static str>, String> + Sync,
) -> (BTreeMap<&'static str, usize>, Vec<(u64, String)>) {
    let first = number("PITHWARD_FIRST", 0);
    let next = AtomicU64::new(first);
    let work = || {
        let mut outcomes = Vec::new();
        loop {
            let n = next.fetch_add(1, Ordering::Relaxed);
            if n >= first + cases {
                return outcomes;
            }
            outcomes.push((n, judge(n)));
        }
    };
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let outcomes: Vec<(u64, Result<Vec<&'static str>, String>)> = std::thread::scope(|scope| {
        let workers: Vec<_> = (0..threads).map(|_| scope.spawn(work)).collect();
        workers.into_iter().flat_map(|worker| worker.join().expect("a case panicked")).collect()
    });
    let (mut counts, mut faults) = (BTreeMap::new(), Vec::new());
    for (n, outcome) in outcomes {
        match outcome {
            Ok(kinds) => kinds.into_iter().for_each(|kind| *counts.entry(kind).or_default() += 1),
            Err(why) => faults.push((n, why)),
        }
    }
    faults.sort();
    (counts, faults)
}

/// An order made by hand: replay takes it when every piece is true, and refuses it when one is not, for the reason.
fn by_hand(n: u64) -> Result<Vec<&'static str>, String> {
    judge_by_hand(n, by_hand::order)
}

/// The same of one whose parts are put back on the mill.
fn by_hand_quarters(n: u64) -> Result<Vec<&'static str>, String> {
    judge_by_hand(n, |real, mill, random| {
        by_hand_quarters::order(&real.case.log, random_shape::frame(random), mill, random)
    })
}

fn judge_by_hand(
    n: u64,
    order: impl Fn(&RealCase, &Mill, &mut Random) -> Option<SawingOrder>,
) -> Result<Vec<&'static str>, String> {
    let real = RealCase::new(n);
    let mut random = Random::new(n.wrapping_mul(0x2545_f491_4f6c_dd1d));
    let mill = roomy_mill(Length::sixty_fourths(8));
    let Some(order) = order(&real, &mill, &mut random) else {
        return Ok(vec!["nothing to saw"]);
    };
    let verdicts: Vec<Verdict> =
        order.pieces.iter().map(|piece| check_real::piece(&real, &order, &piece.claim)).collect();
    let untrue = verdicts.iter().find_map(|verdict| match verdict {
        Verdict::Untrue(why) => Some(why),
        Verdict::True | Verdict::Near => None,
    });
    match replay(&real.case.log, &mill, &order, Setting::Exact) {
        Ok(replayed) => {
            if let Some(why) = untrue {
                return Err(format!("taken, but {why}"));
            }
            check_real::stages(&real, &mill, &order, &replayed)?;
            check_real::metal(&real, &mill, &order, &replayed)?;
            confirm(&real.case.log, &mill, &order, mill.step)
                .map_err(|fault| format!("taken at the exact heights alone: {fault}"))?;
            Ok(if replayed.metal.is_empty() { vec!["taken"] } else { vec!["taken", "near metal"] })
        }
        Err(fault) => {
            let (piece, kind) = match &fault {
                ReplayFault::Unsound { piece, .. } => (*piece, "refused for its wood"),
                ReplayFault::Flaw { piece, .. } => (*piece, "refused for a flaw"),
                ReplayFault::Heart { piece, .. } => (*piece, "refused for the pith"),
                _ => return Err(format!("refused: {fault}")),
            };
            if verdicts[piece - 1] == Verdict::True {
                return Err(format!("refused, though it is true: {fault}"));
            }
            Ok(vec![kind])
        }
    }
}

#[test]
fn replay_takes_true_orders_made_by_hand_and_no_others() {
    let cases = number("PITHWARD_CASES", 2_000);
    let (counts, faults) = judge_all(cases, by_hand);
    println!("{cases} cases: {counts:?}, {} faults", faults.len());
    for (n, why) in faults.iter().take(20) {
        println!("case {n}: {why}");
    }
    assert!(faults.is_empty(), "{} of {cases} cases, the first {:?}", faults.len(), faults[0]);
    // Every outcome must come up, or the test says less than its name.
    let of = |kind| counts.get(kind).copied().unwrap_or(0) as u64;
    assert!(of("taken") * 10 > cases, "only {} taken", of("taken"));
    assert!(of("near metal") * 500 > cases, "only {} near metal", of("near metal"));
    for kind in ["refused for its wood", "refused for a flaw", "refused for the pith"] {
        assert!(of(kind) * 50 > cases, "only {} {kind}", of(kind));
    }
}

#[test]
fn replay_takes_true_orders_with_parts_put_back_and_no_others() {
    let cases = number("PITHWARD_CASES", 2_000);
    let (counts, faults) = judge_all(cases, by_hand_quarters);
    println!("{cases} cases: {counts:?}, {} faults", faults.len());
    for (n, why) in faults.iter().take(20) {
        println!("case {n}: {why}");
    }
    assert!(faults.is_empty(), "{} of {cases} cases, the first {:?}", faults.len(), faults[0]);
    let of = |kind| counts.get(kind).copied().unwrap_or(0) as u64;
    assert!(of("taken") * 10 > cases, "only {} taken", of("taken"));
    for kind in ["refused for its wood", "refused for a flaw"] {
        assert!(of(kind) * 50 > cases, "only {} {kind}", of(kind));
    }
}

/// A plan of the search: everything it says of itself is so.
fn planned(n: u64) -> Result<Vec<&'static str>, String> {
    let real = RealCase::new(n);
    let case = &real.case;
    let settings = Settings::all(&case.mill);
    let answer =
        open(&case.log, &case.mill, &case.wants, &settings).map_err(|fault| fault.to_string())?;
    let Answer::Planned(planned) = &answer else { return Ok(vec!["impossible"]) };
    check_real::plan(&real, planned)?;
    let order = &planned.plan.order;
    let (exact, printed) = confirm(&case.log, &case.mill, order, settings.tolerance)
        .map_err(|fault| fault.to_string())?;
    if exact != planned.plan.replayed {
        return Err("the plan holds another replay than its own".to_owned());
    }
    if printed.pieces.len() != order.pieces.len() {
        return Err("a piece is lost at the printed heights".to_owned());
    }
    let proven = planned.proof.worth_bound == planned.plan.worth;
    Ok(if proven { vec!["planned", "proven"] } else { vec!["planned"] })
}

#[test]
fn plans_of_real_logs_are_what_they_say() {
    let cases = number("PITHWARD_CASES", 500);
    let (counts, faults) = judge_all(cases, planned);
    println!("{cases} cases: {counts:?}, {} faults", faults.len());
    for (n, why) in faults.iter().take(20) {
        println!("case {n}: {why}");
    }
    assert!(faults.is_empty(), "{} of {cases} cases, the first {:?}", faults.len(), faults[0]);
    let planned = counts.get("planned").copied().unwrap_or(0) as u64;
    assert!(planned * 2 > cases, "only {planned} of {cases} planned");
}

/// In a round log all sides are the same, but not to a want that minds where the pith is.
#[test]
fn in_a_round_log_too_a_want_may_mind_the_pith() {
    let mill = roomy_mill(Length::nm(2_540_000));
    let settings = Settings::all(&mill);
    let clear = Length::sixty_fourths(16);
    let (free, boxed) = (Heart::Free { clear }, Heart::Boxed { within: Length::sixty_fourths(32) });
    for small in 10..24 {
        let (small, bark) = (Length::inches(small), Length::sixty_fourths(32));
        let log =
            Log::new(small, small + Length::inches(1), Length::feet(9), bark, bark).expect("a log");
        for (section, heart) in [((2, 6), free), ((1, 4), free), ((6, 6), boxed)] {
            let (thickness, width) = (Length::inches(section.0), Length::inches(section.1));
            let length = Length::feet(8);
            let board_feet = board_feet_micro(thickness, width, length);
            let (worth, extra) = (board_feet, board_feet);
            let cut = Cut { thickness, width, length, take: length, board_feet, worth, extra };
            let (wane, tolerates) = (Wane::NONE, FlawKinds::NONE);
            let (grading, rings, cuts) = (None, None, vec![cut]);
            let wants = [Want { count: None, wane, heart, tolerates, grading, rings, cuts }];
            let answer = open(&log, &mill, &wants, &settings).expect("replay confirms it");
            let Answer::Planned(planned) = answer else { panic!("{section:?} from {small:?}") };
            let order = &planned.plan.order;
            confirm(&log, &mill, order, settings.tolerance).expect("replay confirms it");
            for Claim { u, h, .. } in order.pieces.iter().map(|piece| &piece.claim) {
                let holds = |span: &Span, by: Length| span.from < by && span.to > -by;
                let near = holds(u, clear) && holds(h, clear);
                assert_eq!(near, heart == boxed, "{section:?} from {small:?}: {u:?} by {h:?}");
            }
        }
    }
}
