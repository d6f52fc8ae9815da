//! The day by hand, and its laws.

use std::time::Duration;

use super::{Hours, LogHours};
use pithward_job::{
    BladeLife, Ground, Heard, LogsLie, Pace, PassCount, PlanCounts, PlanTime, Residue, Stacking,
    WorkDay, Yard,
};
use pithward_trade::species::Kind;
use proptest::prelude::*;

fn near(got: f64, expected: f64) {
    assert!((got - expected).abs() < 1e-6, "{got} is not {expected}");
}

fn counts(passes: usize, width: f64) -> PlanCounts {
    PlanCounts {
        length: 120.0,
        wood: Some(Kind::Softwood),
        turns: 3,
        of_log: vec![PassCount { width }; passes],
        of_edging: vec![PassCount { width: 4.0 }; 3],
        batches: 1,
        shifts: 0,
        pieces: 10,
    }
}

/// A log that takes so many minutes and wears off so much of a blade by area.
fn log(minutes: f64, wear: f64) -> LogHours {
    LogHours { minutes, wear, ..LogHours::default() }
}

fn usual() -> (Pace, Yard) {
    (Pace::default(), Yard::default())
}

#[test]
fn one_log_by_hand() {
    let (pace, yard) = usual();
    // 12 passes of 10 in and 3 of 4 in over 10 ft: 12 at 55 ft/min, 3 at the fastest, 70.
    let counts = counts(12, 10.0);
    let ready = LogHours::of(&counts, &pace, &yard);
    let steps = 1.5 + 0.75 + 2.75 + 120.0 / 55.0 + 30.0 / 70.0 + 150.0 / 90.0 + 1.5 + 2.0 + 1.0;
    near(ready.steps.minutes(), steps);
    near(ready.minutes, steps / 0.75);
    near(ready.waits, steps / 0.75 - steps);
    near(ready.area, (12.0 * 10.0 + 12.0) * 120.0 / 144.0);
    near(ready.wear, 110.0 / 700.0);
    assert_eq!(ready.waits_for_helpers.to_bits(), 0);
    // From a pile: four minutes more, with all that comes between.
    let piled = LogHours::of(&counts, &pace, &Yard { logs: LogsLie::Piled, ..yard.clone() });
    near(piled.minutes - ready.minutes, 4.0 / 0.75);
    // Ten boards by the sawyer take 200 s.
    let by_sawyer = Yard { stacking: Some(Stacking::Sawyer), ..yard.clone() };
    near(LogHours::of(&counts, &pace, &by_sawyer).minutes, (steps + 200.0 / 60.0) / 0.75);
    // One helper takes 15 x 8 s and 90 x 20 s; two are done in time.
    let many = PlanCounts { pieces: 90, ..counts.clone() };
    let slow = LogHours::of(&many, &pace, &yard);
    near(slow.minutes, 2.0 + 30.0);
    near(slow.waits_for_helpers, 32.0 - steps / 0.75);
    let three = LogHours::of(&many, &pace, &Yard { helpers: Some(3), ..yard.clone() });
    near(three.minutes, steps / 0.75);
    // Alone 14 s more at each of 15 passes.
    let alone = LogHours::of(&counts, &pace, &Yard { helpers: Some(0), ..yard.clone() });
    near(alone.minutes, (steps + 3.5) / 0.75);
    // Dirty and frozen: 0.65 x 0.5 of the blade's area.
    let bad = LogHours::of(&counts, &pace, &Yard { dirty: true, frozen: true, ..yard });
    near(bad.wear, 110.0 / (700.0 * 0.325));
    near(ready.at_pace(1.2).minutes, 1.2 * ready.minutes);
    near(ready.at_pace(1.2).wear, ready.wear);
}

#[test]
fn a_short_day_by_hand() {
    let (pace, yard) = usual();
    let hours = Hours::of(&[log(30.0, 0.1); 4], &pace, &yard, Some(480));
    let [day] = &hours.days[..] else { panic!() };
    // 20 + 120 + 20: one break after two hours.
    assert_eq!((day.begins, day.logs.clone(), day.overruns), (Some(480), 0..4, false));
    near(day.work(), 160.0);
    near(hours.rests, 15.0);
    near(hours.all(), 175.0);
    near(hours.at_the_saw(), 120.0);
    assert_eq!((hours.blades(), hours.worn), (1, 0));
    let begins: Vec<f64> = hours.logs.iter().map(|log| log.begins).collect();
    assert_eq!(begins, [20.0, 50.0, 80.0, 110.0]);
    assert_eq!(Hours::of(&[], &pace, &yard, None), Hours::default());
    assert_eq!(Hours::default().blades(), 0);
}

#[test]
fn a_blade_is_changed_by_area_or_by_hours() {
    let (pace, yard) = usual();
    let blades = |logs: &[LogHours]| Hours::of(logs, &pace, &yard, None).blades();
    // Its area: 5 x 0.2 is one blade, the sixth log takes another.
    assert_eq!(blades(&[log(1.0, 0.25); 4]), 1);
    assert_eq!(blades(&[log(1.0, 0.25); 5]), 2);
    // Its hours: 105 min in the wood.
    let in_wood =
        LogHours { steps: PlanTime { sawing: 35.0, ..PlanTime::default() }, ..log(100.0, 0.1) };
    assert_eq!(blades(&[in_wood; 3]), 1);
    assert_eq!(blades(&[in_wood; 4]), 2);
    // A log that takes two and a half.
    assert_eq!(blades(&[log(10.0, 2.5)]), 3);
    // The area of one wood and of another add up.
    assert_eq!(blades(&[log(1.0, 0.6), log(1.0, 0.5)]), 2);
    // Metal: the new blade is whole.
    let metal = LogHours { strikes: 1, ..log(1.0, 0.5) };
    let hours = Hours::of(&[log(1.0, 0.4), metal, log(1.0, 0.9)], &pace, &yard, None);
    assert_eq!((hours.blades(), hours.worn, hours.struck), (2, 0, 1));
    near(hours.changes, 4.5);
    let changes: Vec<u32> = hours.logs.iter().map(|log| log.changes).collect();
    assert_eq!(changes, [0, 1, 0]);
}

#[test]
fn what_the_yard_adds() {
    let (pace, yard) = usual();
    let logs = [log(30.0, 0.1); 4];
    let soft = Yard {
        ground: Ground::Soft,
        residue: Residue::Tarp,
        moves: 1,
        noise: Some(Heard { from: 540, to: 900 }),
        ..yard
    };
    let hours = Hours::of(&logs, &pace, &soft, Some(480));
    // 35 to set up, 4 x 30, 55 to move, 15 for the tarp, 20 to pack up: 245 and two breaks.
    near(hours.set_up, 35.0);
    near(hours.moves, 55.0);
    near(hours.tidy, 15.0);
    near(hours.on_site(), 245.0);
    near(hours.rests, 30.0);
    assert_eq!(hours.days[0].begins, Some(540));
    // The move comes halfway.
    near(hours.logs[2].begins, 35.0 + 60.0 + 55.0 + 15.0);
    let moved = |moves, n| {
        Hours::of(&vec![log(1.0, 0.0); n], &pace, &Yard { moves, ..soft.clone() }, None).moves
    };
    for (moves, logs) in [(1, 2), (2, 2), (3, 7), (5, 3), (20, 40)] {
        near(moved(moves, logs), f64::from(moves) * 55.0);
    }
}

#[test]
fn days_of_whole_logs() {
    let (pace, yard) = usual();
    // A day of 8 h: breaks of 15 min after each 2 h of work.
    let hours = Hours::of(&[log(100.0, 0.0); 9], &pace, &yard, None);
    let logs: Vec<usize> = hours.days.iter().map(|day| day.logs.len()).collect();
    // 20 + 400 + 7.5 and 7.5 + 400 + 7.5, each with three breaks; then the last.
    assert_eq!(logs, [4, 4, 1]);
    assert!(hours.days.iter().all(|day| day.minutes() <= 480.0 && !day.overruns));
    near(hours.nights, 30.0);
    // One log of ten hours has a day of its own, and overruns it.
    let logs = [log(60.0, 0.0), log(600.0, 0.0), log(60.0, 0.0)];
    let hours = Hours::of(&logs, &pace, &yard, Some(0));
    let ranges: Vec<_> = hours.days.iter().map(|day| (day.logs.clone(), day.overruns)).collect();
    assert_eq!(ranges, [(0..1, false), (1..2, true), (2..3, false)]);
}

fn any_logs() -> impl Strategy<Value = Vec<LogHours>> {
    let one = (0.1_f64..200.0, 0.0_f64..1.5, 0_u32..2);
    let one = one.prop_map(|(minutes, wear, strikes)| LogHours { strikes, ..log(minutes, wear) });
    proptest::collection::vec(one, 1..30)
}

fn any_counts() -> impl Strategy<Value = PlanCounts> {
    let widths = || proptest::collection::vec(0.0_f64..30.0, 0..40);
    let passes = |widths: Vec<f64>| widths.into_iter().map(|width| PassCount { width }).collect();
    (widths(), widths(), 0_u32..9, 0_u32..9, 0_u32..60).prop_map(
        move |(of_log, of_edging, turns, batches, pieces)| PlanCounts {
            length: 120.0,
            wood: None,
            turns,
            of_log: passes(of_log),
            of_edging: passes(of_edging),
            batches,
            shifts: 0,
            pieces,
        },
    )
}

proptest! {
    #[test]
    fn prop_splitting_keeps_the_sum(logs in any_logs(), day in 60_u64..900, moves in 0_u32..4) {
        let yard = Yard { moves, residue: Residue::Tarp, ..Yard::default() };
        let pace = |minutes| {
            let day = WorkDay { length: Duration::from_secs(60 * minutes), ..WorkDay::default() };
            Pace { day, ..Pace::default() }
        };
        let split = Hours::of(&logs, &pace(day), &yard, None);
        let whole = Hours::of(&logs, &pace(1_000_000), &yard, None);
        prop_assert_eq!(whole.days.len(), 1);
        near(split.at_logs, whole.at_logs);
        near(split.changes, whole.changes);
        prop_assert_eq!((split.worn, split.struck), (whole.worn, whole.struck));
        #[allow(clippy::cast_precision_loss, reason = "a few days")]
        let nights = (split.days.len() - 1) as f64;
        near(split.on_site(), whole.on_site() + nights * 30.0);
        // The days hold what the whole does, and every log once, in its order.
        near(split.days.iter().map(|day| day.work()).sum(), split.on_site());
        near(split.days.iter().map(|day| day.minutes()).sum(), split.all());
        let mut next = 0;
        for (n, of) in split.days.iter().enumerate() {
            prop_assert_eq!(of.logs.start, next);
            prop_assert!(!of.logs.is_empty());
            next = of.logs.end;
            prop_assert!(of.overruns || of.minutes() <= day as f64 + 1e-6);
            prop_assert!(!of.overruns || of.logs.len() == 1 || of.minutes() <= day as f64 + 1e-6);
            prop_assert!(split.logs[of.logs.clone()].iter().all(|log| log.day == n));
            let begins = split.logs[of.logs.clone()].windows(2).all(|two| two[0].begins < two[1].begins);
            prop_assert!(begins);
        }
        prop_assert_eq!(next, logs.len());
    }

    #[test]
    fn prop_more_helpers_are_never_slower(counts in any_counts(), helpers in 0_u32..4, stacks in 0_usize..3) {
        let pace = Pace::default();
        let stacking = [Stacking::Sawyer, Stacking::Customer, Stacking::Helpers][stacks];
        let minutes = |helpers| {
            let yard = Yard { helpers: Some(helpers), stacking: Some(stacking), ..Yard::default() };
            LogHours::of(&counts, &pace, &yard).minutes
        };
        let least = if stacking == Stacking::Helpers { 1 } else { 0 };
        let helpers = helpers.max(least);
        prop_assert!(minutes(helpers + 1) <= minutes(helpers) + 1e-9);
    }

    #[test]
    fn prop_a_poorer_yard_is_never_faster(counts in any_counts(), logs in 1_usize..20) {
        let pace = Pace { blade: BladeLife { softwood: 100.0, ..BladeLife::default() }, ..Pace::default() };
        let good = Yard::default();
        let bad = Yard {
            logs: LogsLie::Piled,
            dirty: true,
            ground: Ground::Sloping,
            residue: Residue::Tarp,
            ..Yard::default()
        };
        let of = |yard: &Yard| Hours::of(&vec![LogHours::of(&counts, &pace, yard); logs], &pace, yard, None);
        let (good, bad) = (of(&good), of(&bad));
        prop_assert!(good.on_site() <= bad.on_site() && good.blades() <= bad.blades());
    }

    #[test]
    fn prop_no_figures_panic(minutes in any::<f64>(), wear in any::<f64>(), strikes in 0_u32..9) {
        let (pace, yard) = usual();
        let _ = Hours::of(&[LogHours { strikes, ..log(minutes, wear) }; 3], &pace, &yard, Some(u32::MAX));
    }
}
