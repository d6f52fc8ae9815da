//! Piles of logs with defects, whose boards are wanted and paid by grade.

use crate::by_grade::{boards, knots, log, mill};
use pithward_geometry::{Angle, Defect, Log, confirm};
use pithward_measure::Length;
use pithward_optimizer::{
    Answer, Cut, Demand, Effort, Grading, LogFate, LogPlan, Pile, PileLog, PilePlan, Settings,
    Want, open, plan_pile,
};
use pithward_trade::grade::{Grade, Prices};
use proptest::prelude::*;

/// Logs of one wood and a list, what puts a line first beside each want.
fn pile(logs: Vec<Log>, list: Vec<(Want, i64)>) -> Pile {
    let demand =
        |(want, first): &(Want, i64)| Demand { count: want.count, first: *first, blocking: false };
    Pile {
        mill: mill(),
        logs: logs.into_iter().map(|log| PileLog { log, menu: 0 }).collect(),
        demands: list.iter().map(demand).collect(),
        menus: vec![list.into_iter().map(|(want, _)| want).collect()],
        settings: Settings::all(&mill()),
        effort: Effort::default(),
    }
}

/// Plans it; every log is replayed once more, and its worth reckoned from what its pieces look like.
fn planned(pile: &Pile) -> PilePlan {
    let plan = plan_pile(pile, &()).expect("no fault of the program");
    for (fate, of) in plan.logs.iter().zip(&pile.logs) {
        let LogFate::Sawn(own) = fate else { continue };
        confirm(&of.log, &pile.mill, &own.order, pile.settings.tolerance).expect("it can be sawn");
        assert_eq!(own.worth, reckoned(pile, own));
    }
    assert_eq!(plan.worth, plans(&plan).map(|plan| plan.worth).sum::<i64>());
    assert!(plan.proof.bound >= Some(plan.proof.value));
    plan
}

fn plans(plan: &PilePlan) -> impl Iterator<Item = &LogPlan> {
    plan.logs.iter().filter_map(|fate| match fate {
        LogFate::Sawn(plan) => Some(plan.as_ref()),
        _ => None,
    })
}

fn reckoned(pile: &Pile, plan: &LogPlan) -> i64 {
    let pieces = plan.products.iter().zip(&plan.looks);
    let worth = pieces.map(|(product, look)| {
        let (want, demand) =
            (&pile.menus[0][product.cut.want.0], &pile.demands[product.cut.want.0]);
        let cut = &want.cuts[product.cut.cut];
        let grade = || look.grade.expect("looked at").grade;
        let loss = want.grading.map_or(0, |grading| {
            assert!(grading.admits(grade()));
            grading.loss(cut.board_feet, grade())
        });
        if product.extra { cut.extra - loss } else { cut.worth - demand.first - loss }
    });
    worth.sum()
}

fn alone(log: &Log, wants: &[Want]) -> i64 {
    match open(log, &mill(), wants, &Settings::all(&mill())).expect("no fault of the program") {
        Answer::Planned(planned) => planned.plan.worth,
        Answer::Impossible(_) => 0,
    }
}

/// The same sizes whatever they look like, for so much a board foot.
fn anyhow(want: &Want, price: i64) -> Want {
    let cut = |cut: &Cut| {
        let worth = i64::try_from(i128::from(cut.board_feet) * i128::from(price) / 1_000_000);
        let worth = worth.expect("a board's worth");
        Cut { worth, extra: worth, ..*cut }
    };
    Want { grading: None, cuts: want.cuts.iter().map(cut).collect(), ..want.clone() }
}

fn knot() -> impl Strategy<Value = Defect> {
    (6_i64..117, 0_i32..360, 1_i64..4, 0_i64..3).prop_map(|(at, clock, across, clear)| {
        Defect::Knot {
            at: Length::inches(at),
            clock: Angle::degrees(clock),
            across: Length::inches(across),
            rise: Length::inches(2),
            clear: Length::inches(clear),
        }
    })
}

fn knotty() -> impl Strategy<Value = Log> {
    let core = prop::option::of(2_i64..5);
    (11_i64..17, prop::collection::vec(knot(), 0..10), core).prop_map(|(small, mut seen, core)| {
        let (small, length) = (Length::inches(small), Length::inches(123));
        seen.extend(core.map(|clear| Defect::Core {
            from: Length::ZERO,
            to: length,
            clear: [Length::inches(clear); 4],
        }));
        Log::new(small, small + Length::inches(1), length, Length::ZERO, Length::ZERO)
            .expect("a log")
            .with_defects(seen)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 6, ..ProptestConfig::default() })]

    #[test]
    fn prop_a_pile_is_worth_no_less_than_its_logs_alone(
        logs in prop::collection::vec(knotty(), 1..4),
        least in prop::option::of(Just(Grade::No1Common)),
        cheap in any::<bool>(),
    ) {
        let good = boards(least);
        let mut list = vec![(good.clone(), 0)];
        if cheap {
            list.push((anyhow(&good, 300_000), 0));
        }
        let pile = pile(logs, list);
        let alone: i64 = pile.logs.iter().map(|of| alone(&of.log, &pile.menus[0])).sum();
        let plan = planned(&pile);
        prop_assert!(plan.worth >= alone, "{} in the pile, {alone} alone", plan.worth);
    }
}

/// A log so full of knots that no board of it is clear.
fn full_of_knots() -> Log {
    log((0..360).step_by(40).flat_map(knots).collect())
}

/// 1 in x 6 in x 10 ft of the best grade, and the same for what it brings.
fn six_inch(count: u32) -> Vec<(Want, i64)> {
    let mut good = boards(Some(Grade::Fas));
    good.cuts.retain(|cut| cut.width == Length::inches(6) && cut.length == Length::feet(10));
    let first = good.cuts[0].worth * 9;
    let rest = anyhow(&good, 400_000);
    for cut in &mut good.cuts {
        (cut.worth, cut.extra) = (cut.worth + first, 0);
    }
    good.count = Some(count);
    vec![(good, first), (rest, 0)]
}

/// Two logs of one size: nothing but what is seen on them says which of them gives good boards.
#[test]
fn the_clear_log_serves_the_want_that_asks_for_a_grade() {
    for logs in [[full_of_knots(), log(Vec::new())], [log(Vec::new()), full_of_knots()]] {
        let clear = logs.iter().position(|log| log.defects().is_empty()).expect("one of them");
        let pile = pile(logs.to_vec(), six_inch(5));
        let plan = planned(&pile);
        assert_eq!((plan.tally[0].given, plan.shortages.len()), (5, 0));
        let good = |place: usize| match &plan.logs[place] {
            LogFate::Sawn(plan) => plan.products.iter().filter(|p| p.cut.want.0 == 0).count(),
            _ => 0,
        };
        assert_eq!((good(clear), good(1 - clear)), (5, 0));
        assert!(plan.tally[1].given > 5, "what is not asked for goes to the other want");
    }
}

/// Both wants take the best boards, and only the dearer one asks for them; what it does not lack fills the other.
#[test]
fn boards_beyond_one_count_fill_the_next() {
    let prices = Prices::new([Some(2_900_000), None, None, None, None, None, None], 400_000);
    let mut list = six_inch(3);
    let any = Grading { least: Some(Grade::No2ACommon), prices };
    let (second, first) = (&mut list[1], 3_000_000);
    second.0.grading = Some(any);
    second.0.count = Some(4);
    for cut in &mut second.0.cuts {
        let worth = i64::try_from(i128::from(cut.board_feet) * 2_900_000 / 1_000_000);
        (cut.worth, cut.extra) = (worth.expect("a board's worth") + first, 0);
    }
    second.1 = first;
    let plan = planned(&pile(vec![log(Vec::new())], list));
    assert_eq!((plan.tally[0].given, plan.tally[1].given), (3, 4));
}
