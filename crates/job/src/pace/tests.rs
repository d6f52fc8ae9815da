use std::time::Duration;

use super::text::{area, duration, feed, long, speed, time};
use super::{BladeLife, Feed, Pace, PassCount, PlanCounts, WorkDay};
use crate::basis::Basis;
use crate::fault::Fault;
use crate::mill_file::{parse_mill, parse_outfit};
use crate::sawing_request::OpenRequest;
use pithward_measure::Length;
use pithward_optimizer::{Answer, Method, open};
use pithward_trade::species::Kind;
use proptest::prelude::*;

const GENERIC: &str = include_str!("../../../../data/mills/generic.toml");

fn near(got: f64, expected: f64) {
    assert!((got - expected).abs() < 1e-9, "{got} is not {expected}");
}

#[test]
fn times_speeds_and_areas() {
    let secs = Duration::from_secs;
    for (text, expected) in [
        ("90 s", secs(90)),
        ("1.5 min", secs(90)),
        (" 2 Minutes ", secs(120)),
        ("6.25s", Duration::from_millis(6250)),
        ("3600 s", secs(3600)),
    ] {
        assert_eq!(time(text).unwrap(), expected, "{text}");
    }
    for text in ["", "90", "90 h", "s", "1.5.5 s", "-3 s", "1e3 s", "61 min", "99999 s"] {
        assert!(time(text).is_err(), "{text}");
    }
    assert_eq!(speed("90 ft/min").unwrap(), Length::feet(90));
    assert_eq!(speed("27 m / min").ok(), None);
    assert_eq!(speed("27 m per minute").unwrap(), Length::mm(27_000));
    for text in ["", "90", "90 ft", "90/min", "1000 ft/min", "0 ft/min", "90 ft/h"] {
        assert!(speed(text).is_err(), "{text}");
    }
    let expected = Feed { per_minute: Length::feet(32), at: Length::inches(10) };
    assert_eq!(feed("32 ft/min at 10 in").unwrap(), expected);
    for text in ["32 ft/min", "32 ft/min at 10", "32 ft at 10 in", "32 ft/min at 90 in"] {
        assert!(feed(text).is_err(), "{text}");
    }
    assert_eq!(duration("8 h"), Some(secs(8 * 3600)));
    let day = long(secs(3600)..=secs(86_400), "");
    assert_eq!(day("7.5 hours").unwrap(), secs(27_000));
    for text in ["", "8", "30 min", "25 h", "-8 h"] {
        assert!(day(text).is_err(), "{text}");
    }
    assert!((area("600 ft2").unwrap() - 600.0).abs() < 1e-12);
    assert!((area("55 m2").unwrap() - 592.015).abs() < 1e-3);
    for text in ["", "600", "600 ft", "10 ft2", "9999999 ft2", "nan ft2", "1e3 ft2", "-600 ft2"] {
        assert!(area(text).is_err(), "{text}");
    }
}

#[test]
fn a_mill_file_states_what_is_other_than_usual() {
    let text = format!(
        "{GENERIC}[pace]\nload = \"3 min\"\nhardwood_feed = \"20 ft/min at 12 in\"\nreturn = \"60 ft/min\"\nhelpers = 0\nmove = \"40 s\"\nutilisation = \"60 %\"\nday = \"7 h\"\nbreak = \"0 min\"\nhardwood_blade = \"500 ft2\"\nfrozen_blade = 40\n"
    );
    let outfit = parse_outfit(text.as_bytes(), "mill.toml", "--mill").unwrap();
    let pace = outfit.pace;
    assert_eq!(outfit.mill, parse_mill(GENERIC.as_bytes(), "mill.toml", "--mill").unwrap());
    let expected = Pace {
        load: Duration::from_secs(180),
        hardwood: Feed { per_minute: Length::feet(20), at: Length::inches(12) },
        back: Length::feet(60),
        helpers: 0,
        shift: Duration::from_secs(40),
        utilisation: 600,
        day: WorkDay {
            length: Duration::from_secs(7 * 3600),
            rest: Duration::ZERO,
            ..WorkDay::default()
        },
        blade: BladeLife { hardwood: 500.0, frozen: 400, ..BladeLife::default() },
        stated: pace.stated,
        ..Pace::default()
    };
    assert_eq!(pace, expected);
    let stated = Pace::fields().filter(|field| pace.basis(field) == Some(Basis::Stated));
    assert_eq!(stated.count(), 10);
    let plain = parse_outfit(GENERIC.as_bytes(), "mill.toml", "--mill").unwrap().pace;
    assert_eq!(plain, Pace::default());
}

#[test]
fn the_generic_mill_tells_the_figures_that_are_taken() {
    let (before, rest) = GENERIC.split_once("# [pace]\n").unwrap();
    let pace = rest.split("\n\n").next().unwrap();
    let pace: String = pace.lines().map(|line| format!("{}\n", &line[2..])).collect();
    let text = format!("{before}[pace]\n{pace}");
    let told = parse_outfit(text.as_bytes(), "mill.toml", "--mill").unwrap().pace;
    assert_eq!(Pace { stated: Pace::default().stated, ..told }, Pace::default());
    assert!(Pace::fields().all(|field| told.basis(field) == Some(Basis::Stated)));
    assert_eq!(pace.lines().count(), super::file::FIELDS.len());
}

#[test]
fn every_fault_of_a_pace_at_once() {
    let text = format!(
        "{GENERIC}[pace]\nload = \"3\"\nturn = 55\nfeed = \"20 ft/min\"\nhardwood_feed = \"20 ft/min\"\nreturn = \"900 ft/min\"\nhelpers = -1\nutilisation = 5\nday = \"30 min\"\nset_up = \"soon\"\nsoftwood_blade = \"600\"\nrate = \"75 USD/h\"\n"
    );
    let faults = parse_mill(text.as_bytes(), "mill.toml", "--mill").unwrap_err();
    let said: Vec<String> = faults.iter().map(Fault::to_string).collect();
    let expected = [
        "load: \"3\" is no time",
        "turn must be a text in quotes, got \"55\"",
        "\"feed\" is no field of [pace]",
        "hardwood_feed: \"20 ft/min\" is no speed",
        "return must be between 6 in and 400 ft, got \"900 ft\"",
        "helpers must be a whole number between 0 and 20, got \"-1\"",
        "utilisation must be between 10 % and 100 %, got \"5\"",
        "day must be between 1 h and 24 h, got \"30 min\"",
        "set_up: \"soon\" is no time",
        "softwood_blade: \"600\" is no area",
        "\"rate\" is no field of [pace]",
    ];
    assert_eq!(said.len(), expected.len(), "{said:#?}");
    for (said, expected) in said.iter().zip(expected) {
        assert!(said.starts_with(expected), "{said} is not {expected}");
    }
}

#[test]
fn the_model_by_hand() {
    // 10 ft of hardwood: two passes of 20 in at 16 ft/min, one of 4 in at the fastest; two edging passes of 5 in.
    let width = |width| PassCount { width };
    let counts = PlanCounts {
        length: 120.0,
        wood: Some(Kind::Hardwood),
        turns: 2,
        of_log: vec![width(20.0), width(20.0), width(4.0)],
        of_edging: vec![width(5.0); 2],
        batches: 1,
        shifts: 3,
        pieces: 4,
    };
    let pace = Pace::default();
    let time = pace.time(&counts);
    near(time.load, 135.0 / 60.0);
    near(time.turns, 110.0 / 60.0);
    near(time.sawing, 2.0 * 10.0 / 16.0 + 10.0 / 70.0 + 2.0 * 10.0 / 64.0);
    near(time.back, 5.0 * 10.0 / 90.0);
    near(time.set, 0.5);
    near(time.take, 5.0 * 8.0 / 60.0);
    near(time.edging, 1.0);
    near(time.shifts, 1.5);
    let all = time.load + time.turns + time.sawing + time.back + time.set + time.take + 2.5;
    near(time.minutes(), all);
    near(pace.minutes(&counts), all / 0.75);
    near(time.plus(time).minutes(), 2.0 * all);
    // Alone every pass takes 14 s more.
    let alone = Pace { helpers: 0, ..pace };
    near(alone.time(&counts).minutes() - all, 5.0 * 14.0 / 60.0);
    // Softwood is faster, what nobody named is not.
    let of = |wood| pace.time(&PlanCounts { wood, ..counts.clone() }).sawing;
    near(of(None), time.sawing);
    assert!(of(Some(Kind::Softwood)) < 0.7 * time.sawing);
    // Five passes, 20, 20, 4, 5 and 5 in wide, over 10 ft.
    near(counts.sawn_area(), 54.0 / 12.0 * 10.0);
}

/// The counts of the best plan of a round log of 10 ft, four-sided, its flitches that are edged, and its board feet.
fn planned(diameter: i64, want: &str) -> (PlanCounts, usize, f64) {
    let end = format!("{diameter} in");
    let mut request = OpenRequest::new(&end, &end, "10 ft", &[want]);
    request.sawing.methods.texts = vec!["four-sided".to_owned()];
    let job = request.into_job().unwrap();
    assert_eq!(job.settings.methods, [Method::FourSidedCant]);
    let answer = open(&job.log, &job.mill, &job.optimizer_wants(), &job.settings).unwrap();
    let Answer::Planned(planned) = answer else { panic!("no plan") };
    let plan = &planned.plan;
    let counts = PlanCounts::of(&job.log, None, &plan.order, &plan.replayed);
    assert_eq!(counts.passes() as usize, plan.order.passes());
    #[allow(clippy::cast_precision_loss, reason = "a few hundred million at most")]
    let board_feet = plan.board_feet as f64 / 1e6;
    (counts, plan.order.edgings.len(), board_feet)
}

/// Board feet an hour for straight logs of 10 ft, sawn four-sided into boards of an inch or of two: load 1.5 min, 55 s
/// for a turn, feed 35 ft/min at any width, return 90 ft/min, set 6 s, take away 8 s, edging in batches of four, three
/// quarters of the time used.
///
/// The table that it is held against is itself calculated from a pass-count model, in round figures, not measured, and
/// says neither its patterns nor its edging passes. Here the passes through the log are those of real plans; flitches are
/// edged by fours, three passes and the handling for each four. Of fourteen figures twelve come within 15 per cent.
#[test]
fn board_feet_an_hour_as_calculated_from_a_pass_count_model() {
    let feed = Feed { per_minute: Length::feet(35), at: Length::inches(60) };
    let pace = Pace {
        load: Duration::from_secs(90),
        level: Duration::ZERO,
        turn: Duration::from_secs(55),
        fastest: Length::feet(35),
        softwood: feed,
        hardwood: feed,
        ..Pace::default()
    };
    let mut ratios = Vec::new();
    for (diameter, boards, planks) in [
        (8, 104.0, 122.0),
        (10, 141.0, 196.0),
        (12, 189.0, 238.0),
        (14, 248.0, 295.0),
        (16, 291.0, 373.0),
        (20, 404.0, 528.0),
        (24, 494.0, 665.0),
    ] {
        for (want, expected) in [("4/4x4up", boards), ("2x4up", planks)] {
            let (counts, flitches, board_feet) = planned(diameter, want);
            let of_log = PlanCounts { of_edging: Vec::new(), batches: 0, ..counts.clone() };
            // As if each flitch were a batch, and of that a quarter.
            let by_four = PlanCounts {
                of_edging: vec![PassCount { width: 4.0 }; 3 * flitches],
                batches: u32::try_from(flitches).unwrap(),
                ..PlanCounts { length: counts.length, ..PlanCounts::default() }
            };
            let once = pace.time(&of_log);
            let edging = pace.time(&by_four).minutes() - once.load;
            let minutes = pace.with_waits(once.minutes() + edging / 4.0);
            let rate = board_feet * 60.0 / minutes;
            assert!((rate / expected - 1.0).abs() < 0.2, "{diameter} in, {want}: {rate:.0}");
            ratios.push(rate / expected);
        }
    }
    let within = ratios.iter().filter(|ratio| (*ratio - 1.0).abs() < 0.15).count();
    assert!(within >= 12, "{ratios:.2?}");
    let mean = ratios.iter().sum::<f64>() / 14.0;
    assert!((mean - 1.0).abs() < 0.05, "{mean}");
}

/// A batch is as wide as the flitches that stand in it are thick, and its passes are made once.
#[test]
fn a_pass_through_a_batch_is_as_wide_as_its_flitches_are_thick() {
    let (counts, flitches, _) = planned(12, "4/4x4up");
    let inches: f64 = counts.of_edging.iter().map(|pass| pass.width).fold(0.0, f64::max);
    assert!(flitches > 1 && counts.batches > 0 && inches >= 1.0);
    assert!(counts.of_edging.iter().all(|pass| (pass.width - pass.width.round()).abs() < 1e-9));
    // No pass through the log is wider than the log.
    assert!(counts.of_log.iter().all(|pass| (0.0..=12.0).contains(&pass.width)));
    assert!(counts.of_log.iter().any(|pass| pass.width > 5.0));
}

proptest! {
    #[test]
    fn prop_no_text_panics(text in prop_oneof![any::<String>(), "[0-9.]{0,6} ?(s|min|h|ft/min|ft/min at [0-9]{1,3} in|ft2|m2)?"]) {
        let _ = (time(&text), speed(&text), feed(&text), area(&text), duration(&text));
    }
}
