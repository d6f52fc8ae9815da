//! A pile's answers by its public face: who gets what, what is short and why, in which order, and when it is stopped.

use pithward_geometry::{Log, Mill};
use pithward_measure::{Length, board_feet_micro};
use pithward_optimizer::{
    Cut, Demand, Effort, LogFate, Lot, LotReason, Need, Obstacle, Pile, PileLog, PilePlan,
    Progress, Settings, Want, WantId, Watch, WhyShort, need, plan_pile,
};
use pithward_trade::Wane;
use std::sync::atomic::{AtomicU32, Ordering};

fn mill() -> Mill {
    Mill {
        toe_board: None,
        name: "test".to_owned(),
        kerf: Length::nm(2_540_000),
        step: Length::sixty_fourths(4),
        largest_diameter: Length::inches(30),
        longest: Length::feet(20),
        shortest: Length::feet(4),
        widest_cut: Length::inches(26),
        deepest_above: Length::inches(14),
        lowest_blade: Length::inches(1),
        crosscut_kerf: Length::sixty_fourths(8),
        edging_batch: 6,
    }
}

/// A log without bark that grows by an inch over its length.
fn log(small_end_in: i64, length_ft: i64) -> Log {
    let small = Length::inches(small_end_in);
    let length = Length::feet(length_ft) + Length::inches(2);
    Log::new(small, small + Length::inches(1), length, Length::ZERO, Length::ZERO)
        .expect("a test's log is a log")
}

/// One line of a list: thickness and width in inches, lengths in feet, count, what puts it first for each piece.
#[derive(Clone, Copy)]
struct Line(i64, i64, &'static [i64], Option<u32>, i64);

fn pile(logs: &[Log], list: &[Line]) -> Pile {
    let want = |Line(t, w, lengths, count, first): &Line| {
        let cut = |feet: &i64| {
            let (thickness, width, length) =
                (Length::inches(*t), Length::inches(*w), Length::feet(*feet));
            let board_feet = board_feet_micro(thickness, width, length);
            let (worth, extra) = match count {
                Some(_) => (board_feet + first, 0),
                None => (board_feet, board_feet),
            };
            let take = length + Length::inches(1);
            Cut { thickness, width, length, take, board_feet, worth, extra }
        };
        Want {
            count: *count,
            wane: Wane::NONE,
            heart: pithward_geometry::Heart::Any,
            tolerates: pithward_geometry::FlawKinds::NONE,
            grading: None,
            rings: None,
            cuts: lengths.iter().map(cut).collect(),
        }
    };
    let demand = |line: &Line| Demand { count: line.3, first: line.4, blocking: false };
    let mill = mill();
    Pile {
        settings: Settings::of_a_pile(&mill),
        mill,
        logs: logs.iter().map(|log| PileLog { log: log.clone(), menu: 0 }).collect(),
        menus: vec![list.iter().map(want).collect()],
        demands: list.iter().map(demand).collect(),
        effort: Effort::default(),
    }
}

const FIRST: i64 = 1_000_000_000;

fn planned(pile: &Pile) -> PilePlan {
    let plan = plan_pile(pile, &()).expect("a test's settings agree");
    assert!(plan.proof.bound.is_some_and(|bound| bound >= plan.proof.value));
    assert_eq!(plan.logs.len(), pile.logs.len());
    // Every log that is sawn stands in the order once, and no other.
    let mut order: Vec<usize> = plan.order.iter().flat_map(|lot| lot.logs.clone()).collect();
    order.sort_unstable();
    let sawn = plan.logs.iter().enumerate().filter(|(_, fate)| matches!(fate, LogFate::Sawn(_)));
    assert_eq!(order, sawn.map(|(n, _)| n).collect::<Vec<_>>());
    plan
}

#[test]
fn a_list_is_filled_and_the_rest_is_sawn_into_what_is_welcome() {
    let logs: Vec<Log> = (0..6).map(|n| log(12 + n % 3, 12)).collect();
    let list = [Line(2, 8, &[12], Some(7), FIRST), Line(1, 4, &[8, 10, 12], None, 0)];
    let plan = planned(&pile(&logs, &list));
    assert_eq!((plan.tally[0].given, plan.tally[0].extra), (7, 0));
    assert!(plan.tally[1].given > 20 && plan.shortages.is_empty());
    assert!(plan.gap_millionths().unwrap() < 20_000, "{:?}", plan.gap_millionths());
}

#[test]
fn logs_that_nothing_is_wanted_from_are_left_whole() {
    let logs: Vec<Log> = (0..5).map(|_| log(14, 12)).collect();
    let plan = planned(&pile(&logs, &[Line(8, 8, &[12], Some(2), FIRST)]));
    let whole = plan.logs.iter().filter(|fate| matches!(fate, LogFate::LeftWhole)).count();
    assert_eq!((plan.tally[0].given, whole), (2, 3));
}

#[test]
fn a_log_that_does_not_go_on_the_mill_or_gives_nothing_is_left_out() {
    let logs = [log(14, 12), log(34, 12), log(3, 12)];
    let plan = planned(&pile(&logs, &[Line(2, 6, &[12], None, 0)]));
    assert!(matches!(&plan.logs[0], LogFate::Sawn(_)));
    let LogFate::Impossible(why) = &plan.logs[1] else { panic!("34 in does not go on the mill") };
    assert!(matches!(why[0], Obstacle::TooThick { .. }));
    let LogFate::Impossible(why) = &plan.logs[2] else { panic!("3 in holds no 2x6") };
    assert!(matches!(why[0], Obstacle::NoPiece { want: WantId(0), .. }));
}

#[track_caller]
fn why_short(logs: &[Log], list: &[Line], want: usize) -> WhyShort {
    let plan = planned(&pile(logs, list));
    let short = plan.shortages.iter().find(|short| short.want == WantId(want));
    let short = short.unwrap_or_else(|| panic!("{:?} is not short", plan.tally));
    assert_eq!(short.missing, plan.tally[want].short());
    // As many logs as the cure says give what is missing.
    if let Some(cure) = short.cure {
        let grown = cure.small_end + Length::inches(1);
        let kind = Log::new(cure.small_end, grown, cure.length, Length::ZERO, Length::ZERO)
            .expect("it can be felled");
        let Line(t, w, lengths, ..) = list[want];
        let own = [Line(t, w, lengths, Some(short.missing), FIRST)];
        let many = planned(&pile(&vec![kind; cure.logs as usize], &own));
        assert!(many.shortages.is_empty(), "{cure:?}: {:?}", many.tally);
    }
    short.why.clone()
}

#[test]
fn what_is_short_is_short_for_a_reason_and_can_be_cured() {
    let logs = [log(12, 10), log(12, 10)];
    let long = why_short(&logs, &[Line(2, 8, &[12], Some(3), FIRST)], 0);
    let takes = Length::feet(12) + Length::inches(1);
    assert_eq!(long, WhyShort::TooShort { takes, longest: logs[0].length() });
    let thick = why_short(&logs, &[Line(10, 10, &[8], Some(1), FIRST)], 0);
    assert!(matches!(thick, WhyShort::TooThin { .. }), "{thick:?}");
    // A 12-in log holds two 8x4, whatever else.
    let few = why_short(&logs, &[Line(4, 8, &[10], Some(50), FIRST)], 0);
    assert!(matches!(few, WhyShort::TooFew { most } if (4..50).contains(&most)), "{few:?}");
    let both = [Line(8, 8, &[10], Some(2), 9 * FIRST), Line(2, 10, &[10], Some(4), FIRST)];
    let used = why_short(&logs, &both, 1);
    assert_eq!(used, WhyShort::UsedUp { by: vec![WantId(0)] });
    let mut other = pile(&logs, &[Line(2, 6, &[10], Some(3), FIRST)]);
    other.menus[0][0].cuts.clear();
    assert_eq!(planned(&other).shortages[0].why, WhyShort::NoLog);
}

#[test]
fn the_first_wants_of_the_list_are_served_first() {
    // Either want could have all the wood; each piece of the first outweighs any of the second.
    let logs: Vec<Log> = (0..3).map(|_| log(12, 12)).collect();
    let one = planned(&pile(&logs, &[Line(2, 8, &[12], Some(500), FIRST)]));
    let most = one.tally[0].given;
    let list = [Line(2, 8, &[12], Some(most), 100 * FIRST), Line(1, 4, &[8, 12], Some(500), FIRST)];
    let both = planned(&pile(&logs, &list));
    assert_eq!(both.tally[0].given, most);
    assert!(both.tally[1].given > 0);
    assert!(both.proof.list_is_proven || both.shortages.len() == 1);
}

#[test]
fn blocking_comes_first_and_from_the_thinnest_logs() {
    let logs: Vec<Log> = [16, 9, 14, 10].map(|small| log(small, 12)).to_vec();
    let list = [Line(4, 4, &[6], Some(4), FIRST), Line(1, 6, &[12], None, 0)];
    let mut pile = pile(&logs, &list);
    pile.demands[0].blocking = true;
    let plan = planned(&pile);
    assert_eq!(plan.order[0].reason, LotReason::Blocking);
    let first = plan.order[0].logs[0];
    let gives = |n: usize| match &plan.logs[n] {
        LogFate::Sawn(plan) => plan.products.iter().any(|product| product.cut.want == WantId(0)),
        _ => false,
    };
    assert!(gives(first));
    let thinner = (0..4).filter(|n| logs[*n].small_end() < logs[first].small_end());
    assert!(thinner.into_iter().all(|n| !gives(n)));
}

#[test]
fn the_only_logs_that_can_give_a_want_are_sawn_before_those_alike() {
    let logs = [log(12, 8), log(12, 16), log(13, 8), log(12, 8)];
    let list = [Line(6, 6, &[16], Some(1), FIRST), Line(2, 4, &[8], None, 0)];
    let plan = planned(&pile(&logs, &list));
    assert_eq!(plan.order[0].reason, LotReason::Only(WantId(0)));
    assert_eq!(plan.order[0].logs, [1]);
    assert!(matches!(plan.order[1].reason, LotReason::Alike { .. }));
}

#[test]
fn no_logs_are_the_only_ones_where_all_that_are_left_give_the_want() {
    let logs = [log(12, 12), log(14, 12), log(16, 12)];
    let boards = Line(1, 6, &[12], Some(500), FIRST);
    let blocks = Line(4, 4, &[6], Some(1), 1000 * FIRST);
    for blocking in [false, true] {
        let lines = if blocking { vec![blocks, boards] } else { vec![boards] };
        let mut pile = pile(&logs, &lines);
        pile.demands[0].blocking = blocking;
        let plan = planned(&pile);
        let gives = |n: usize| match &plan.logs[n] {
            LogFate::Sawn(plan) => {
                plan.products.iter().any(|product| product.cut.want.0 == lines.len() - 1)
            }
            _ => false,
        };
        assert!((0..3).all(gives));
        assert_eq!(plan.order[0].reason == LotReason::Blocking, blocking);
        let only = |lot: &&Lot| matches!(lot.reason, LotReason::Only(_));
        assert_eq!(plan.order.iter().find(only), None);
    }
}

#[test]
fn an_hour_that_weighs_something_saves_passes() {
    let logs: Vec<Log> = (0..4).map(|n| log(11 + n, 12)).collect();
    let list = [Line(1, 4, &[8, 12], None, 0), Line(4, 4, &[8, 12], None, 0)];
    let passes = |plan: &PilePlan| -> usize {
        plan.logs
            .iter()
            .map(|fate| match fate {
                LogFate::Sawn(plan) => plan.order.passes(),
                _ => 0,
            })
            .sum()
    };
    let free = pile(&logs, &list);
    let mut dear = free.clone();
    dear.effort = Effort { pass: 2_000_000, turn: 2_000_000 };
    let (free, dear) = (planned(&free), planned(&dear));
    assert!(passes(&dear) < passes(&free), "{} against {}", passes(&dear), passes(&free));
    assert!(dear.board_feet <= free.board_feet);
}

#[test]
fn as_many_logs_as_a_list_takes() {
    let list = [Line(2, 8, &[12], Some(20), 0), Line(6, 6, &[10], Some(3), 0)];
    let Need::Logs(needed) = need(&pile(&[log(13, 12)], &list), &()).unwrap() else {
        panic!("13 in holds both")
    };
    assert!(needed.plan.shortages.is_empty());
    assert_eq!(needed.plan.logs.len(), needed.logs as usize);
    // One fewer does not do, and what is proven says no more than that.
    let fewer = vec![log(13, 12); needed.logs as usize - 1];
    assert!(!planned(&pile(&fewer, &list)).shortages.is_empty());
    assert!(needed.least <= needed.logs && needed.least + 1 >= needed.logs);
    let thick = need(&pile(&[log(13, 12)], &[Line(12, 12, &[8], Some(1), 0)]), &()).unwrap();
    assert!(matches!(thick, Need::Impossible(why) if why.len() == 1));
}

/// Stops when it was asked so many times.
struct After(AtomicU32);

impl Watch for After {
    fn tell(&self, progress: Progress) {
        assert!((0.0..=1.0).contains(&progress.share));
    }

    fn stopped(&self) -> bool {
        self.0.fetch_update(Ordering::Relaxed, Ordering::Relaxed, |n| n.checked_sub(1)).is_err()
    }
}

#[test]
fn a_search_that_is_stopped_gives_the_best_plan_so_far() {
    let logs: Vec<Log> = (0..12).map(|n| log(10 + n, 8 + n % 5)).collect();
    let list = [Line(2, 8, &[8, 12], Some(20), FIRST), Line(1, 4, &[8, 10, 12], None, 0)];
    let pile = pile(&logs, &list);
    let whole = planned(&pile);
    assert!(!whole.stopped);
    for asked in [0, 1, 7, 20, 60] {
        let plan = plan_pile(&pile, &After(AtomicU32::new(asked))).unwrap();
        assert!(plan.stopped && plan.proof.value <= whole.proof.bound.unwrap());
        assert!(plan.proof.bound.is_none_or(|bound| bound >= whole.proof.value));
    }
    let later = plan_pile(&pile, &After(AtomicU32::new(60))).unwrap();
    assert!(later.logs.iter().any(|fate| matches!(fate, LogFate::Sawn(_))));
    let never = plan_pile(&pile, &After(AtomicU32::new(u32::MAX))).unwrap();
    assert_eq!(never.proof.value, whole.proof.value);
}
