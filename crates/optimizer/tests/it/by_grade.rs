//! Logs with defects, sawn by grade.

use pithward_geometry::{Angle, Defect, FlawKinds, Frame, Heart, Log, Mill, Piece};
use pithward_measure::{Length, board_feet_micro};
use pithward_optimizer::{
    Answer, Cut, Grading, LogPlan, Method, Settings, Want, open, open_each, open_laid,
};
use pithward_trade::Wane;
use pithward_trade::grade::{Grade, Prices};

pub(crate) fn mill() -> Mill {
    Mill {
        name: "test".to_owned(),
        kerf: Length::sixty_fourths(8),
        step: Length::sixty_fourths(4),
        largest_diameter: Length::inches(36),
        longest: Length::feet(20),
        shortest: Length::feet(4),
        widest_cut: Length::inches(28),
        deepest_above: Length::inches(16),
        lowest_blade: Length::inches(1),
        crosscut_kerf: Length::sixty_fourths(8),
        edging_batch: 6,
        toe_board: None,
    }
}

/// 4/4 boards of every whole inch from 4 to 16 in, 8 and 10 ft long, paid by grade.
pub(crate) fn boards(least: Option<Grade>) -> Want {
    let dollars = [2_900_000, 2_800_000, 2_750_000, 1_700_000, 950_000, 600_000, 400_000];
    let prices = Prices::new(dollars.map(Some), 250_000);
    let cut = |(width, feet): (i64, i64)| {
        let (thickness, width, length) =
            (Length::inches(1), Length::inches(width), Length::feet(feet));
        let board_feet = board_feet_micro(thickness, width, length);
        let worth =
            i64::try_from(i128::from(board_feet) * 2_900_000 / 1_000_000).expect("a board's worth");
        Cut { thickness, width, length, take: length, board_feet, worth, extra: worth }
    };
    let sizes = [8, 10].into_iter().flat_map(|feet| (4..=16).map(move |width| (width, feet)));
    Want {
        count: None,
        wane: Wane::NONE,
        heart: Heart::Any,
        tolerates: FlawKinds::NONE,
        grading: Some(Grading { least, prices }),
        rings: None,
        cuts: sizes.map(cut).collect(),
    }
}

pub(crate) fn log(defects: Vec<Defect>) -> Log {
    let log = Log::new(
        Length::inches(16),
        Length::inches(17),
        Length::inches(123),
        Length::ZERO,
        Length::ZERO,
    );
    log.expect("a log").with_defects(defects)
}

/// Knots along one side of the log, at clock positions about `clock` degrees.
pub(crate) fn knots(clock: i32) -> Vec<Defect> {
    let knot = |n: i32| Defect::Knot {
        at: Length::inches(i64::from(8 + 12 * n)),
        clock: Angle::degrees((clock + 25 * (n % 3 - 1)).rem_euclid(360)),
        across: Length::inches(2),
        rise: Length::inches(2),
        clear: Length::ZERO,
    };
    (0..10).map(knot).collect()
}

fn plan(log: &Log, wants: &[Want]) -> LogPlan {
    let mill = mill();
    match open(log, &mill, wants, &Settings::all(&mill)).expect("no fault of the program") {
        Answer::Planned(planned) => {
            assert!(planned.plan.worth <= planned.proof.worth_bound);
            planned.plan
        }
        Answer::Impossible(why) => panic!("{why:?}"),
    }
}

/// What the plan says of itself, reckoned once more.
fn reckoned(plan: &LogPlan, wants: &[Want]) -> i64 {
    let products = plan.products.iter().zip(&plan.looks);
    let worth = products.map(|(product, look)| {
        let want = &wants[product.cut.want.0];
        let (grading, cut) = (want.grading.expect("by grade"), want.cuts[product.cut.cut]);
        let grade = look.grade.expect("looked at").grade;
        assert!(grading.admits(grade));
        cut.worth - grading.loss(cut.board_feet, grade)
    });
    worth.sum()
}

#[test]
fn a_plan_is_worth_what_its_pieces_look_like() {
    let wants = [boards(None)];
    let plan = plan(&log(knots(40)), &wants);
    assert_eq!(plan.worth, reckoned(&plan, &wants));
    assert!(plan.looks.iter().any(|look| look.grade.unwrap().grade > Some(Grade::Fas)));
    assert_eq!(plan.products.len(), plan.order.pieces.len());
}

/// A flitch stands on edge to be edged, so what is narrower than the blade can go down to is not edged.
#[test]
fn where_the_blade_cannot_go_down_to_narrow_boards_others_are_sawn() {
    let mill = Mill { lowest_blade: Length::inches(5), ..mill() };
    let wants = [boards(None)];
    let settings = Settings::all(&mill);
    for log in
        [log(knots(40)), log(Vec::new()), log(knots(200)).thicker(Length::inches(6)).unwrap()]
    {
        let answer = open(&log, &mill, &wants, &settings).expect("no fault of the program");
        let Answer::Planned(planned) = answer else { panic!("{answer:?}") };
        let plan = &planned.plan;
        assert_eq!(plan.worth, reckoned(plan, &wants));
        assert!(plan.worth <= planned.proof.worth_bound);
        assert!(plan.products.len() > 5, "{:?}", plan.products);
        // Sawn straight down a log needs no board on the bed; that one would be too thin for this blade.
        let each = open_each(&log, &mill, &wants, &settings).expect("no fault of the program");
        let planned = each.iter().filter(|(_, plan)| plan.is_ok()).map(|(method, _)| *method);
        assert_eq!(planned.collect::<Vec<_>>(), [Method::Through, Method::TwoSidedCant]);
    }
}

/// Side by side the methods share their plain searches, so one may gain or lose a little by the others.
#[test]
fn side_by_side_each_method_gives_about_what_it_gives_alone() {
    let (mill, wants) = (mill(), [boards(None)]);
    let all = Settings::all(&mill);
    let (mut together, mut apart) = (0, 0);
    for clock in [70, 190, 310] {
        let log = log(knots(clock));
        let each = open_each(&log, &mill, &wants, &all).expect("no fault of the program");
        assert_eq!(each.iter().map(|(method, _)| *method).collect::<Vec<_>>(), all.methods);
        let mut planned = 0;
        for (method, plan) in each {
            let only = Settings { methods: vec![method], ..all.clone() };
            let alone = open(&log, &mill, &wants, &only).expect("no fault of the program");
            match (plan, alone) {
                (Ok(plan), Answer::Planned(alone)) => {
                    assert_eq!(plan.method, method);
                    assert_eq!(plan.worth, reckoned(&plan, &wants));
                    assert!(plan.worth * 10 > alone.plan.worth * 9, "{method:?}");
                    (together, apart) = (together + plan.worth, apart + alone.plan.worth);
                    planned += 1;
                }
                (Err(why), Answer::Impossible(alone)) => assert_eq!(why, alone),
                (plan, _) => panic!("{method:?}: {plan:?}"),
            }
        }
        assert!(planned > 3);
    }
    assert!(together * 100 > apart * 98, "{together} together, {apart} apart");
}

/// Knots along one edge of what a log is sawn into cost that edge its grade, not the whole board.
#[test]
fn boards_are_edged_clear_of_what_is_at_their_edge() {
    // All on the one side at 3 o'clock, so that a board across has them at its edge; the log lies so already.
    let log = log(knots(90));
    let (mill, wants) = (mill(), [boards(None)]);
    let through = Settings { methods: vec![Method::Through], ..Settings::all(&mill) };
    let Ok(Answer::Planned(planned)) = open_laid(&log, &mill, &wants, &through, Frame::LEVEL)
    else {
        panic!("no plan")
    };
    let plan = planned.plan;
    assert_eq!(plan.worth, reckoned(&plan, &wants));
    // Two boards side by side, the better the one away from the knots.
    let mut better = 0;
    for (place, piece) in plan.order.pieces.iter().enumerate() {
        let beside = |other: &&(usize, &Piece)| {
            other.1.part == piece.part && other.1.claim.u.from > piece.claim.u.to
        };
        let all: Vec<(usize, &Piece)> = plan.order.pieces.iter().enumerate().collect();
        if let Some((other, _)) = all.iter().find(beside) {
            let grade = |place: usize| plan.looks[place].grade.expect("by grade").grade;
            assert!(plan.order.pieces[place].claim.u.to < plan.order.pieces[*other].claim.u.from);
            better += i32::from(rank(grade(place)) < rank(grade(*other)));
        }
    }
    assert!(better > 2, "{better} boards are parted from a knotty edge");
}

/// The best grade first, below all of them last.
fn rank(grade: Option<Grade>) -> usize {
    Grade::ALL.iter().position(|one| Some(*one) == grade).unwrap_or(Grade::ALL.len())
}

#[test]
fn turning_the_log_pays_where_its_knots_are_on_one_side() {
    let (mill, wants) = (mill(), [boards(None)]);
    let log = log(knots(45));
    let turned = plan(&log, &wants);
    let as_it_fell: Vec<i64> = (0..8)
        .map(|n| {
            let frame = Frame::turned(Angle::degrees(45 * n));
            match open_laid(&log, &mill, &wants, &Settings::all(&mill), frame).unwrap() {
                Answer::Planned(planned) => planned.plan.worth,
                Answer::Impossible(_) => 0,
            }
        })
        .collect();
    let (most, least) = (as_it_fell.iter().max().unwrap(), as_it_fell.iter().min().unwrap());
    assert!(turned.worth >= *most, "{} against {as_it_fell:?}", turned.worth);
    // A tenth and more between the best way up and the worst.
    assert!(turned.worth > least + least / 10, "{} against {as_it_fell:?}", turned.worth);
}

#[test]
fn a_log_without_defects_is_worth_as_much_as_it_may_be() {
    let wants = [boards(None)];
    let mill = mill();
    let Ok(Answer::Planned(planned)) = open(&log(Vec::new()), &mill, &wants, &Settings::all(&mill))
    else {
        panic!("no plan")
    };
    // Only the pith costs a grade.
    assert!(planned.plan.worth > planned.proof.worth_bound * 8 / 10);
}

#[test]
fn what_is_poorer_than_its_want_asks_is_no_piece_of_it() {
    let wants = [boards(Some(Grade::Fas))];
    let core =
        Defect::Core { from: Length::ZERO, to: Length::inches(123), clear: [Length::inches(3); 4] };
    let plan = plan(&log(vec![core]), &wants);
    assert!(!plan.products.is_empty());
    for look in &plan.looks {
        assert_eq!(look.grade.unwrap().grade, Some(Grade::Fas));
    }
    // Much of the log serves no want, and nothing of that is edged.
    assert!(plan.share_of_solid < 0.5);
    let edged = plan.order.edgings.iter().map(|edging| edging.part);
    for part in edged {
        assert!(plan.order.pieces.iter().any(|piece| piece.part == part));
    }
}

/// A longer list of widths holds all of a shorter one, so the best plan cannot be worth less by it. The plan found is not
/// proven to be the best; it must come near that.
#[test]
fn wider_boards_on_the_list_do_not_cost_a_log_its_worth() {
    for (small, narrow, wide) in [(14, 10, 12), (14, 12, 14), (18, 12, 14), (18, 14, 16)] {
        let (from, to) = (Length::ZERO, Length::inches(123));
        let core = Defect::Core { from, to, clear: [Length::inches(3); 4] };
        let log = Log::new(
            Length::inches(small),
            Length::inches(small + 1),
            Length::inches(123),
            Length::ZERO,
            Length::ZERO,
        );
        let log = log.expect("a log").with_defects(vec![core]);
        let settings = Settings::all(&mill());
        let worth = |widest: i64| {
            let mut want = boards(None);
            want.cuts.retain(|cut| cut.width <= Length::inches(widest));
            match open(&log, &mill(), &[want], &settings).expect("replay confirms it") {
                Answer::Planned(planned) => planned.plan.worth as f64,
                Answer::Impossible(_) => 0.0,
            }
        };
        let (short, long) = (worth(narrow), worth(wide));
        assert!(
            long > 0.95 * short,
            "{small} in: {short} up to {narrow} in, {long} up to {wide} in"
        );
    }
}
