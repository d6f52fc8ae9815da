use std::path::Path;

use jiff::ZonedDateTime;
use pithward_job::{PileJob, parse_job};
use pithward_measure::Size;
use proptest::prelude::*;

use crate::entry::{BladeEnd, Entry, SizeCount};
use crate::record::{Record, Recorded};
use crate::so_far::{LogState, NoPlan, Planned, SoFar};
use crate::words::quoting;
use crate::words::{self, Reading};

const JOB: &str = r#"
[[logs]]
id = "a"
species = "white oak"
small_end = "14 in"
butt = "15 in"
length = "12 ft 4 in"

[[logs]]
id = "b"
species = "red pine"
small_end = "14 in"
butt = "15 in"
length = "12 ft 4 in"

[[wants]]
size = "2x8x12"
count = 4
species = "red pine"

[[wants]]
size = "2x8x12"
count = 2
species = "white oak"

[[wants]]
size = "1x8"
count = 3

[[wants]]
size = "4/4x6up"
"#;

fn job() -> PileJob {
    parse_job(JOB.as_bytes(), "job.toml", "JOB", Path::new("")).unwrap()
}

struct Plan;

impl Planned for Plan {
    fn pieces(&self, log: &str) -> Option<Vec<SizeCount>> {
        let size = Size::parse("2x8x12").unwrap();
        let pieces = SizeCount { count: 3, typed: "2x8x12".to_owned(), size, note: None };
        (log == "b").then(|| vec![pieces])
    }
}

/// A record of lines `time words`; a time without a date is one of a day in May in New York, and `late` may stand before
/// the words. A time with an `!` is of an entry that is undone.
fn record(lines: &[&str]) -> Record {
    let entry = |(n, line): (usize, &&str)| {
        let (time, rest) = line.split_once(' ').unwrap();
        let (late, rest) = match rest.strip_prefix("late ") {
            Some(rest) => (true, rest),
            None => (false, rest),
        };
        let words: Vec<String> =
            quoting::split(rest).unwrap().into_iter().map(|word| word.text).collect();
        let said = words::read(&words, Reading::Kept).unwrap();
        let undone = time.strip_suffix('!');
        let at = clock(undone.unwrap_or(time));
        let entry = Entry { number: n as u64 + 1, at, late, said };
        Recorded { line: n + 4, entry, undone_by: undone.map(|_| 99) }
    };
    Record { entries: lines.iter().enumerate().map(entry).collect(), warnings: Vec::new() }
}

fn clock(time: &str) -> ZonedDateTime {
    let text = match time.len() {
        5 => format!("2026-05-02T{time}:00-04:00[America/New_York]"),
        _ => time.to_owned(),
    };
    text.parse().unwrap()
}

fn so_far(lines: &[&str], now: &str) -> SoFar {
    SoFar::of(&record(lines), &job(), &Plan, &clock(now))
}

const MIN: i64 = 60;

#[test]
fn a_day_at_the_mill() {
    let day = so_far(
        &[
            "07:30 begin setup",
            "08:00 begin logs",
            "08:10 on a",
            "08:40 off 2 2x8x12 1 1x8x12",
            "08:45 pause coffee",
            "09:00 begin saw",
            "09:05 blade struck nail",
            "09:20 on b",
            "09:50 off planned",
            "10:00 done",
            "10:05 begin pack",
            "10:25 stop",
        ],
        "18:00",
    );
    let spent = day.spent;
    assert_eq!(
        [spent.setting_up, spent.moving_logs, spent.sawing, spent.packing_up],
        [30 * MIN, 10 * MIN, 100 * MIN, 20 * MIN]
    );
    assert_eq!(spent.all(), 160 * MIN);
    let pauses: Vec<(i64, Option<&str>)> =
        day.pauses.iter().map(|pause| (pause.seconds, pause.why.as_deref())).collect();
    assert_eq!(pauses, [(15 * MIN, Some("coffee"))]);
    // Log a from 8:10 to 9:20 but for the coffee; b from 9:20 to 10:00; five minutes on neither.
    assert_eq!([day.logs[0].seconds, day.logs[1].seconds], [55 * MIN, 40 * MIN]);
    assert_eq!(day.logs[0].to.as_ref(), Some(&clock("09:20")));
    assert_eq!([day.logs[0].state, day.logs[1].state], [LogState::Done; 2]);
    assert!(!day.logs[0].as_planned && day.logs[1].as_planned);
    assert_eq!(day.blades(BladeEnd::Struck), 1);
    assert_eq!(day.blades[0].log, Some(0));
    assert_eq!((day.days, day.on_the_mill), (1, None));
    assert_eq!(day.work, Some((clock("07:30"), clock("10:25"))));
    assert!(day.stretches.iter().all(|stretch| !stretch.open));
    // Board feet: 2 x 16, 8 and 3 x 16.
    assert_eq!(day.board_feet(), 88_000_000);
    // Oak to the oak's line, pine to the pine's.
    let given: Vec<u32> = day.wants.iter().map(|want| want.given).collect();
    assert_eq!(given, [3, 2, 1, 0]);
    assert_eq!(day.wants[0].wanted(), Some(1));
}

#[test]
fn a_mill_that_is_moved() {
    let day = so_far(
        &[
            "08:00 on a",
            "08:30 off planned",
            "08:31 begin pack",
            "08:40 begin move",
            "08:50 pause the truck is stuck",
            "09:10 begin move",
            "09:20 begin setup",
            "09:35 on b",
            "09:55 begin move",
            "10:25 on b",
        ],
        "10:30",
    );
    let spent = day.spent;
    // Sawing is what it was, and none of the logs has the minutes of a move.
    assert_eq!([spent.sawing, spent.moving_mill], [56 * MIN, 50 * MIN]);
    assert_eq!([spent.packing_up, spent.setting_up], [9 * MIN, 15 * MIN]);
    assert_eq!((spent.on_site(), spent.all()), (130 * MIN, 130 * MIN));
    assert_eq!([day.logs[0].seconds, day.logs[1].seconds], [31 * MIN, 25 * MIN]);
    assert_eq!(day.moves, 2);
    let resting = so_far(&["08:00 move", "08:10 pause"], "09:00");
    assert_eq!((resting.moves, resting.spent.moving_mill), (1, 10 * MIN));
}

#[test]
fn what_is_open_lasts_until_now() {
    let day = so_far(&["08:00 on a", "08:30 pause"], "09:00");
    assert_eq!((day.spent.sawing, day.pauses[0].seconds), (30 * MIN, 30 * MIN));
    assert!(day.pauses[0].open && !day.stretches[0].open);
    assert_eq!((day.on_the_mill, day.logs[0].state), (Some(0), LogState::OnTheMill));
    let day = so_far(&["08:00 on a"], "09:00");
    assert!(day.stretches[0].open);
    assert_eq!(day.logs[0].seconds, 60 * MIN);
    assert_eq!(
        so_far(&[], "09:00"),
        SoFar {
            logs: day_logs(),
            wants: so_far(&["08:00 stop"], "09:00").wants,
            ..SoFar::default()
        }
    );
    let stopped = so_far(&["08:00 on a", "08:30 stop"], "23:00");
    assert_eq!((stopped.spent.all(), stopped.logs[0].state), (30 * MIN, LogState::OnTheMill));
}

fn day_logs() -> Vec<crate::so_far::LogSoFar> {
    so_far(&["08:00 stop"], "09:00").logs
}

#[test]
fn work_that_nobody_stopped_ends_with_the_last_word() {
    let day = so_far(&["08:00 on a", "08:30 off 1x8x12"], "20:30");
    assert_eq!(day.spent.all(), 12 * 3600 + 30 * MIN);
    let day = so_far(&["08:00 on a", "08:30 off 1x8x12"], "20:31");
    assert_eq!((day.spent.all(), day.stretches[0].open), (30 * MIN, true));
}

#[test]
fn what_is_told_late_stands_where_it_belongs() {
    let day = so_far(
        &[
            "08:00 on a",
            "09:00 on b",
            "08:50 late off 2 2x8x12",
            "08:20 late pause",
            "08:30 late begin saw",
        ],
        "09:30",
    );
    assert_eq!(day.logs[0].seconds, 50 * MIN);
    assert_eq!(day.pauses[0].seconds, 10 * MIN);
    // The log that was on the mill then.
    assert_eq!((day.logs[0].pieces.len(), day.logs[1].pieces.len()), (1, 0));
    assert_eq!(day.clock_back, []);
}

#[test]
fn what_is_undone_does_not_count() {
    let day =
        so_far(&["08:00 on a", "08:10! pause", "08:20! off 1x8x12", "08:20 off 2 1x8x12"], "09:00");
    assert_eq!((day.logs[0].seconds, day.pauses.len()), (60 * MIN, 0));
    assert_eq!(day.wants[2].given, 2);
}

#[test]
fn a_clock_that_goes_back_takes_no_time_away() {
    let lines =
        ["08:00 on a", "08:40 off 1x8x12", "07:50 off 1x8x12", "08:10 off 1x8x12", "08:20 stop"];
    let day = so_far(&lines, "08:30");
    // 40 minutes before it, 30 after.
    assert_eq!(day.spent.sawing, 70 * MIN);
    let back: Vec<(u64, u64, i64)> =
        day.clock_back.iter().map(|back| (back.entry, back.before, back.seconds)).collect();
    assert_eq!(back, [(3, 2, 50 * MIN)]);
    assert!(day.stretches.iter().all(|stretch| stretch.seconds >= 0));
    assert_eq!(day.wants[2].given, 3);
    // Now is before the last entry.
    assert_eq!(so_far(&["08:00 on a"], "07:00").spent.all(), 0);
}

#[test]
fn hours_across_midnight_and_both_changes_of_the_clock() {
    let night = so_far(
        &[
            "2026-05-02T22:00:00-04:00[America/New_York] on a",
            "2026-05-03T01:30:00-04:00[America/New_York] on b",
            "2026-05-03T02:00:00-04:00[America/New_York] stop",
        ],
        "2026-05-03T12:00:00-04:00[America/New_York]",
    );
    assert_eq!((night.spent.all(), night.days), (4 * 3600, 1));
    // 1:00 EST to 4:00 EDT is two hours.
    let spring = so_far(
        &[
            "2026-03-08T01:00:00-05:00[America/New_York] on a",
            "2026-03-08T04:00:00-04:00[America/New_York] stop",
        ],
        "2026-03-08T12:00:00-04:00[America/New_York]",
    );
    assert_eq!((spring.spent.all(), spring.clock_back.len()), (2 * 3600, 0));
    // 1:30 EDT to 1:10 EST is forty minutes, and no clock went back.
    let fall = so_far(
        &[
            "2026-11-01T01:30:00-04:00[America/New_York] on a",
            "2026-11-01T01:10:00-05:00[America/New_York] off 1x8x12",
            "2026-11-01T03:00:00-05:00[America/New_York] stop",
        ],
        "2026-11-01T12:00:00-05:00[America/New_York]",
    );
    assert_eq!(fall.spent.all(), (40 + 110) * MIN);
    assert_eq!(fall.clock_back, []);
    // Over the border, and back.
    let zones = so_far(
        &[
            "2026-05-02T10:00:00-04:00[America/New_York] on a",
            "2026-05-02T09:30:00-05:00[America/Chicago] stop",
        ],
        "2026-05-02T12:00:00-04:00[America/New_York]",
    );
    assert_eq!((zones.spent.all(), zones.clock_back.len()), (30 * MIN, 0));
}

#[test]
fn days_of_work() {
    let day = |date: &str, time: &str| format!("2026-05-{date}T{time}:00-04:00[America/New_York]");
    let lines = [
        day("02", "08:00") + " on a",
        day("02", "12:00") + " stop",
        day("02", "16:00") + " begin saw",
        day("02", "23:00") + " stop",
        day("03", "01:00") + " begin saw",
        day("03", "02:00") + " stop",
        day("03", "08:00") + " on b",
    ];
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    assert_eq!(so_far(&lines, &day("03", "09:00")).days, 2);
}

#[test]
fn pieces_go_where_they_are_wanted() {
    let day = so_far(
        &[
            "08:00 on b",
            // Four are wanted of pine; the two beyond go to no oak.
            "08:10 off 6 2x8x12",
            // One width before a random one; the third line is filled, then the last takes the rest.
            "08:20 off 5 1x8x10",
            "08:30 off 2 4/4x9x8",
            "08:40 off 3 3x3x9",
        ],
        "09:00",
    );
    let given: Vec<u32> = day.wants.iter().map(|want| want.given).collect();
    assert_eq!(given, [6, 0, 3, 4]);
    let to: Vec<Vec<(usize, u32)>> = day.pieces().map(|piece| piece.to.clone()).collect();
    assert_eq!(to, [vec![(0, 6)], vec![(2, 3), (3, 2)], vec![(3, 2)], vec![]]);
    // Two 1x8x10 of 6 2/3 board feet, and two 4/4x9x8 of 6.
    assert_eq!(day.wants[3].board_feet, 2 * 6_666_667 + 2 * 6_000_000);
}

#[test]
fn a_changed_list() {
    let day = so_far(
        &[
            "08:00 want 2x8x12 6 line 2",
            "08:00 want 5x5x9 2",
            "08:00 want 1x8 all",
            "08:10 off 5x5x9",
            "08:20 want 5x5x9 3",
        ],
        "09:00",
    );
    let counts: Vec<(Option<u32>, Option<u32>, u32)> =
        day.wants.iter().map(|want| (want.asked, want.count, want.given)).collect();
    assert_eq!(
        counts,
        [
            (Some(4), Some(4), 0),
            (Some(2), Some(6), 0),
            (Some(3), None, 0),
            (None, None, 0),
            (Some(0), Some(3), 1)
        ]
    );
    assert_eq!(day.loose.len(), 1);
}

#[test]
fn logs_that_the_job_does_not_know() {
    let day = SoFar::of(
        &record(&["08:00 on z", "08:30 off planned", "08:40 found - nail"]),
        &job(),
        &NoPlan,
        &clock("09:00"),
    );
    assert_eq!(day.logs.len(), 3);
    assert_eq!((day.logs[2].id.as_str(), day.logs[2].in_job), ("z", None));
    assert_eq!(
        (day.logs[2].seconds, day.logs[2].pieces.len(), day.logs[2].found.len()),
        (60 * MIN, 0, 1)
    );
}

/// Entries as a bad day brings them: in any order of the clock, some of them told late, some undone.
fn any_entries() -> impl Strategy<Value = Vec<String>> {
    let words = proptest::sample::select(vec![
        "begin setup",
        "begin saw",
        "begin logs",
        "begin pack",
        "pause",
        "pause rain",
        "stop",
        "on a",
        "on b",
        "on z",
        "off 3 2x8x12",
        "off 5 1x8x10 2 4/4x9x8",
        "off 2 3x3x9 from b",
        "off planned",
        "off planned from b",
        "done",
        "done a",
        "found - nail",
        "found a rot",
        "blade struck",
        "want 2x8x12 1",
        "want 3x3x9 1",
        "note x",
        "undo 3",
    ]);
    let one = (0..24_u32, 0..60_u32, 0..4_u32, words).prop_map(|(hour, minute, how, words)| {
        let (undone, late) = (if how == 0 { "!" } else { "" }, if how == 1 { "late " } else { "" });
        format!("{hour:02}:{minute:02}{undone} {late}{words}")
    });
    proptest::collection::vec(one, 0..40)
}

proptest! {
    #[test]
    fn prop_hours_and_pieces_add_up(lines in any_entries(), hour in 0..24_u32) {
        let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
        let day = so_far(&lines, &format!("{hour:02}:00"));
        let stretches: i64 = day.stretches.iter().map(|stretch| stretch.seconds).sum();
        prop_assert_eq!(day.spent.all(), stretches);
        let on_logs: i64 = day.logs.iter().map(|log| log.seconds).sum();
        prop_assert!(on_logs <= day.spent.sawing);
        let pauses = day.pauses.iter().map(|pause| pause.seconds);
        prop_assert!(day.stretches.iter().map(|stretch| stretch.seconds).chain(pauses).all(|seconds| seconds >= 0));
        let open = day.stretches.iter().filter(|stretch| stretch.open).count()
            + day.pauses.iter().filter(|pause| pause.open).count();
        prop_assert!(open <= 1);
        let mut given = vec![0; day.wants.len()];
        for piece in day.pieces() {
            let to: u32 = piece.to.iter().map(|(_, count)| count).sum();
            prop_assert!(to <= piece.what.count);
            piece.to.iter().for_each(|(want, count)| given[*want] += count);
        }
        prop_assert_eq!(given, day.wants.iter().map(|want| want.given).collect::<Vec<_>>());
    }
}
