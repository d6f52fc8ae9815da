use super::*;
use jiff::{Span, ZonedDateTime};
use pithward_day::hours::LogHours;
use pithward_day::kept::{KeptFigures, KeptLog, KeptProduct};
use pithward_job::{PassCount, PlanCounts, parse_job};
use pithward_measure::{Size, Unit};
use pithward_tally::{Entry, Off, Record, Recorded, Said, SizeCount};
use std::path::Path;

const JOB: &str = "[[logs]]\nid = \"A\"\nsmall_end = \"14 in\"\nbutt = \"16 in\"\nlength = \"8 ft 4 in\"\n\
    [[logs]]\nid = \"B\"\nsmall_end = \"14 in\"\nbutt = \"16 in\"\nlength = \"8 ft 4 in\"\n\
    [[logs]]\nid = \"C\"\nsmall_end = \"14 in\"\nbutt = \"16 in\"\nlength = \"8 ft 4 in\"\n\
    [[wants]]\nsize = \"2x6x8\"\ncount = 20\n[yard]\nlogs = \"piled\"\n";

fn job() -> PileJob {
    parse_job(JOB.as_bytes(), "job.toml", "JOB", Path::new("")).unwrap()
}

fn size(text: &str) -> Size {
    Size::parse(text).unwrap()
}

/// Of each of A, B and C four 2x6x8 and two 1x4x8 are planned, 37 board feet and a third.
fn kept() -> Kept {
    let product = |text: &str, count: u32| KeptProduct {
        want: 0,
        size: size(text),
        sawn: [Length::inches(2), Length::inches(6)],
        count,
    };
    let log = |id: &str| KeptLog {
        id: id.to_owned(),
        species: None,
        small_end: Length::inches(14),
        butt: Length::inches(16),
        length: Length::parse("8 ft 4 in", Unit::Inch).unwrap(),
        sawn: Some(KeptSawing {
            quarter: false,
            products: vec![product("2x6x8", 4), product("1x4x8", 2)],
            board_feet: 0,
            hours: LogHours::default(),
            counts: PlanCounts {
                length: 100.0,
                of_log: vec![PassCount { width: 10.0 }; 8],
                pieces: 6,
                ..PlanCounts::default()
            },
        }),
    };
    Kept {
        program: String::new(),
        at: String::new(),
        inputs: Vec::new(),
        seed: 0,
        agreed: None,
        charges: None,
        wants: Vec::new(),
        logs: ["A", "B", "C"].map(log).to_vec(),
        order: vec![0, 1, 2],
        planned: KeptFigures::default(),
        ranges: None,
        lift: 1.0,
        patterns: Vec::new(),
        piles: Vec::new(),
    }
}

/// What was said, each so many minutes after eight o'clock.
fn done(said: Vec<(i64, Said)>) -> JobDone {
    let eight: ZonedDateTime = "2026-05-02T08:00:00-04:00[America/New_York]".parse().unwrap();
    let at = |minutes: i64| &eight + Span::new().minutes(minutes);
    let last = at(said.last().unwrap().0);
    let entries = said.into_iter().zip(1..).map(|((minutes, said), number)| Recorded {
        line: 1,
        entry: Entry { number, at: at(minutes), late: false, said },
        undone_by: None,
    });
    let record = Record { entries: entries.collect(), warnings: Vec::new() };
    let (job, kept) = (job(), kept());
    JobDone::of(&job, &kept, &SoFar::of(&record, &job, &kept, &last))
}

fn on(log: &str) -> Said {
    Said::On { log: log.to_owned() }
}

fn off(pieces: &[(&str, u32)]) -> Said {
    let pieces = pieces.iter().map(|(text, count)| SizeCount {
        count: *count,
        typed: (*text).to_owned(),
        size: size(text),
        note: None,
    });
    Said::Off(Off { log: None, planned: false, pieces: pieces.collect() })
}

fn as_planned() -> Said {
    Said::Off(Off { log: None, planned: true, pieces: Vec::new() })
}

fn pause() -> Said {
    Said::Pause { why: None }
}

/// A move is no minute of a log: it is learned from as what setting up and packing up take together.
#[test]
fn a_mill_that_was_moved() {
    let done = done(vec![
        (0, Said::Begin(Doing::SettingUp)),
        (25, on("A")),
        (40, as_planned()),
        (41, Said::Begin(Doing::PackingUp)),
        (50, Said::Begin(Doing::MovingMill)),
        (60, pause()),
        (80, Said::Begin(Doing::MovingMill)),
        (90, Said::Begin(Doing::SettingUp)),
        (110, on("B")),
        (130, as_planned()),
        (130, Said::Begin(Doing::MovingLogs)),
        (140, on("C")),
        (150, as_planned()),
        (151, Said::Done { log: None }),
        (151, Said::Begin(Doing::PackingUp)),
        (171, Said::Stop),
    ]);
    let observed = &done.observed;
    let minutes: Vec<Option<f64>> = observed.logs.iter().map(|log| log.minutes).collect();
    assert_eq!(minutes, [Some(16.0), Some(20.0), Some(11.0)]);
    assert_eq!(observed.moves, [MoveDone { job: 0, minutes: 49.0 }]);
    assert_eq!((observed.days[0].opening, observed.days[0].closing), (Some(25.0), Some(20.0)));
}

#[test]
fn a_day_by_hand() {
    let done = done(vec![
        (0, Said::Begin(Doing::SettingUp)),
        (25, on("A")),
        (40, as_planned()),
        (42, on("B")),
        (50, pause()),
        (65, Said::Begin(Doing::Sawing)),
        // Three of four came, and a narrower one.
        (70, off(&[("2x6x8", 3), ("2x4x8", 1), ("1x4x8", 2)])),
        (72, on("C")),
        (90, off(&[("2x6x8", 4), ("1x4x8", 3)])),
        (91, Said::Begin(Doing::PackingUp)),
        (111, Said::Stop),
    ]);
    let observed = &done.observed;
    let minutes: Vec<Option<f64>> = observed.logs.iter().map(|log| log.minutes).collect();
    // C is on the mill until somebody says that it is not.
    assert_eq!(minutes, [Some(17.0), Some(15.0), None]);
    assert_eq!(done.left_out, [("C".to_owned(), Why::NotDone)]);
    let feet = |pieces: i64, inches: i64| pieces * ((inches * 8 * 1_000_000 + 6) / 12);
    let planned = (6, feet(4, 12) + feet(2, 4));
    let of = |n: usize| observed.logs[n].outcome.unwrap();
    assert_eq!((of(0).planned, of(0).planned_feet), planned);
    assert_eq!((of(0).came, of(0).came_feet), planned);
    assert_eq!((of(1).came, of(1).came_feet), (5, feet(3, 12) + feet(1, 8) + feet(2, 4)));
    let day = DayDone { job: 0, first: true, last: true, opening: Some(25.0), closing: Some(20.0) };
    assert_eq!(observed.days, [day]);
    assert_eq!(observed.yards, [job().yard]);
    // One blade, never changed.
    assert_eq!(observed.blades.len(), 1);
    assert_eq!((observed.blades[0].dull, observed.blades[0].logs.len()), (false, 3));
}

#[test]
fn what_was_found_does_not_count() {
    let found = |what: Said| {
        let said = vec![
            (0, on("A")),
            (5, what),
            (20, off(&[("2x6x8", 2)])),
            (21, Said::Done { log: None }),
        ];
        let done = done(said);
        (done.observed.logs[0].minutes, done.observed.logs[0].outcome, done.left_out)
    };
    let none = (None, None, vec![("A".to_owned(), Why::Found)]);
    let what = "rot radius 3 in from butt to 2 ft".to_owned();
    assert_eq!(found(Said::Found { log: None, what }), none);
    assert_eq!(found(Said::Blade { end: BladeEnd::Struck, why: None }), none);
    let (minutes, outcome, left_out) = found(Said::Note("hot".to_owned()));
    assert_eq!((minutes, outcome.unwrap().came, left_out.len()), (Some(21.0), 2, 0));
}

#[test]
fn a_blade_has_sawn_what_came_before_its_change() {
    let done = done(vec![
        (0, on("A")),
        (20, as_planned()),
        (20, on("B")),
        (30, Said::Blade { end: BladeEnd::Dull, why: None }),
        (60, as_planned()),
        (60, Said::Done { log: None }),
    ]);
    let blades: Vec<(bool, Vec<(usize, f64)>)> = done
        .observed
        .blades
        .iter()
        .map(|blade| (blade.dull, blade.logs.iter().map(|of| (of.log, of.share)).collect()))
        .collect();
    assert_eq!(blades, [(true, vec![(0, 1.0), (1, 0.25)]), (false, vec![(1, 0.75)])]);
    assert_eq!(done.observed.logs[1].changes, 1);
}

#[test]
fn two_days_and_a_log_that_nobody_planned() {
    let done = done(vec![
        (0, Said::Begin(Doing::SettingUp)),
        (10, on("A")),
        (30, Said::Stop),
        // Next morning.
        (1440, Said::Begin(Doing::SettingUp)),
        (1450, on("A")),
        (1470, as_planned()),
        (1470, on("X")),
        (1480, off(&[("2x6x8", 1)])),
        (1480, on("B")),
        (1500, Said::Done { log: None }),
        (1500, Said::Begin(Doing::PackingUp)),
        (1530, Said::Stop),
    ]);
    let left_out = [("A", Why::TwoDays), ("B", Why::NoPieces), ("X", Why::NotPlanned)];
    assert_eq!(done.left_out, left_out.map(|(log, why)| (log.to_owned(), why)));
    let days = &done.observed.days;
    assert_eq!((days.len(), days[0].first, days[0].last, days[1].last), (2, true, false, true));
    assert_eq!((days[0].opening, days[0].closing), (Some(10.0), None));
    assert_eq!((days[1].opening, days[1].closing), (Some(10.0), Some(30.0)));
    // A's pieces count, B's minutes do.
    let [a, b] = &done.observed.logs[..] else { panic!("two logs are planned") };
    assert!(a.minutes.is_none() && a.outcome.is_some_and(|of| of.came == 6));
    assert!(b.minutes == Some(20.0) && b.outcome.is_none() && b.day == 1);
}
