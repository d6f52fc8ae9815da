use super::*;
use crate::observed::{BladeDone, BladeLog, DayDone, LogDone};
use pithward_day::hours::LogHours;
use pithward_job::PassCount;
use pithward_trade::species::Kind;

fn counts(passes: usize) -> PlanCounts {
    PlanCounts {
        length: 144.0,
        wood: Some(Kind::Softwood),
        turns: 2,
        of_log: vec![PassCount { width: 12.0 }; passes],
        pieces: 6,
        ..PlanCounts::default()
    }
}

fn log(day: usize, minutes: f64) -> LogDone {
    LogDone {
        job: 0,
        id: "1".to_owned(),
        day,
        counts: counts(9),
        minutes: Some(minutes),
        changes: 0,
        outcome: None,
    }
}

fn observed() -> Observed {
    Observed { yards: vec![Yard::default()], ..Observed::default() }
}

fn fitted<'a>(fit: &'a Fit, field: &str) -> &'a Fitted {
    fit.figures.iter().find(|fitted| fitted.figure.field() == field).unwrap()
}

/// Packing up took 30 min twice where 20 are usual. By hand: the logarithm of a default is known to 0.5, each time to 0.35, so
/// with w = 2 / 0.35² and p = 1 / 0.5² it moves by log(1.5) w / (w + p), and is known to 1 / sqrt(w + p).
#[test]
fn a_time_of_its_own_is_weighed_by_hand() {
    let day = DayDone { job: 0, first: true, last: true, opening: None, closing: Some(30.0) };
    let fit = Fit::of(&Pace::default(), &Observed { days: vec![day; 2], ..observed() });
    let (w, p) = (2.0 / (0.35 * 0.35), 1.0 / 0.25);
    let by = libm::log(1.5) * w / (w + p);
    let pack_up = fitted(&fit, "pack_up");
    assert!((pack_up.after - 1200.0 * libm::exp(by)).abs() < 1e-3, "{pack_up:?}");
    let wide = FOUR_OF_FIVE / f64::sqrt(w + p);
    assert!((pack_up.low - pack_up.after * libm::exp(-wide)).abs() < 1e-3);
    assert_eq!((fit.figures.len(), pack_up.seen, fit.logs), (1, 2, 0));
    // Nothing is said of logs.
    assert!((fit.day.after - 0.10).abs() < 1e-12 && fit.unsure == 0.0);
    assert_eq!(Pace { day: fit.before.day, ..fit.after }, fit.before);
}

/// Moves that took longer than setting up and packing up are usually make both longer, and nothing else.
#[test]
fn a_move_tells_of_setting_up_and_packing_up() {
    let moves = vec![crate::MoveDone { job: 0, minutes: 60.0 }; 4];
    let fit = Fit::of(&Pace::default(), &Observed { moves, ..observed() });
    assert_eq!(fit.figures.len(), 2);
    let (set_up, pack_up) = (fitted(&fit, "set_up"), fitted(&fit, "pack_up"));
    // Twenty minutes each before, and 60 together.
    assert!(set_up.after > 25.0 * 60.0 && (set_up.after - pack_up.after).abs() < 1e-6);
    assert!((50.0..60.0).contains(&((set_up.after + pack_up.after) / 60.0)), "{set_up:?}");
    assert!(
        matches!(&set_up.knowledge, Knowledge::Together(others) if others == &[pack_up.figure])
    );
    assert_eq!(fit.unseen.len(), Figure::COUNT - 2);
}

/// In frost a blade lasts as long as the jobs in frost say, where others say how long it lasts without.
#[test]
fn frost_is_learned_where_jobs_tell_it_apart() {
    let yards = vec![Yard::default(), Yard { frozen: true, ..Yard::default() }];
    let logs = |job: usize| (0..3).map(move |_| LogDone { minutes: None, job, ..log(0, 1.0) });
    let logs: Vec<LogDone> = logs(0).chain(logs(1)).collect();
    let blade = |job: usize, last: usize| BladeDone {
        job,
        logs: (3 * job..last).map(|log| BladeLog { log, share: 1.0 }).collect(),
        dull: true,
    };
    let days = vec![DayDone::default()];
    // Three logs to a blade without frost, one in it.
    let blades = (0..8).map(|n| if n % 2 == 0 { blade(0, 3) } else { blade(1, 4) }).collect();
    let both = Observed {
        yards: yards.clone(),
        logs: logs.clone(),
        days: days.clone(),
        blades,
        ..observed()
    };
    let fit = Fit::of(&Pace::default(), &both);
    let frost = fitted(&fit, "frozen_blade");
    assert!((0.3..0.45).contains(&frost.after) && frost.high < 0.5, "{frost:?}");
    // Without frost nothing is said of it.
    let none = Observed { yards, logs, days, blades: vec![blade(0, 3); 8], ..observed() };
    let fit = Fit::of(&Pace::default(), &none);
    assert!(fit.unseen.iter().any(|figure| figure.field() == "frozen_blade"));
}

/// A figure that the mill states is known to 0.2 before.
#[test]
fn a_stated_figure_moves_less() {
    let mill = "kerf = \"0.1 in\"\nname = \"a\"\nstep = \"1/16 in\"\nlargest_diameter = \"32 in\"\nlongest = \"20 ft\"\n\
        shortest = \"4 ft\"\nwidest_cut = \"26 in\"\ndeepest_above = \"14 in\"\nlowest_blade = \"1 in\"\n";
    let read = |pace: &str| {
        let text = format!("{mill}{pace}");
        pithward_job::parse_outfit(text.as_bytes(), "mill.toml", "--mill").unwrap().pace
    };
    let logs: Vec<LogDone> = (0..4).map(|day| log(day, 30.0)).collect();
    let days = vec![DayDone::default(); 4];
    let observed = Observed { logs, days, ..observed() };
    let moved = |pace: &Pace| {
        let fit = Fit::of(pace, &observed);
        libm::log(fitted(&fit, "turn").after / 55.0)
    };
    let (plain, stated) = (moved(&read("")), moved(&read("[pace]\nturn = \"55 s\"\n")));
    assert!(plain > 0.0 && stated > 0.0 && stated < 0.3 * plain, "{plain} {stated}");
}

#[test]
fn the_fit_reckons_as_a_forecast_does() {
    let logs: Vec<LogDone> = (0..12).map(|n| log(n / 4, 25.0)).collect();
    let observed = Observed { logs, days: vec![DayDone::default(); 3], ..observed() };
    let fit = Fit::of(&Pace::default(), &observed);
    let (nine, yard) = (counts(9), Yard::default());
    let by_forecast = LogHours::of(&nine, &fit.after, &yard).minutes;
    let by_fit = fit.minutes(&[(&nine, &yard)]);
    // The utilisation of a pace is in thousandths.
    assert!((by_fit / by_forecast - 1.0).abs() < 1e-3, "{by_fit} {by_forecast}");
    // Twelve logs that all took the same, so nearly that.
    assert!((by_fit / 25.0 - 1.0).abs() < 0.03, "{by_fit}");
    // Days and logs that are all alike are steadier than stated.
    assert!(fit.log.after < 0.15 && fit.day.after < 0.10);
}

#[test]
fn a_blade_that_was_not_dull_lasts_longer() {
    let logs: Vec<LogDone> = (0..3).map(|_| LogDone { minutes: None, ..log(0, 1.0) }).collect();
    let blade = |dull: bool| BladeDone {
        job: 0,
        logs: (0..3).map(|log| BladeLog { log, share: 1.0 }).collect(),
        dull,
    };
    let life = |blades: Vec<BladeDone>| {
        let days = vec![DayDone::default()];
        let fit =
            Fit::of(&Pace::default(), &Observed { logs: logs.clone(), days, blades, ..observed() });
        fitted(&fit, "softwood_blade").after
    };
    // Three logs have 324 of its 700 square feet.
    let (dull, struck) = (life(vec![blade(true); 5]), life(vec![blade(false); 5]));
    assert!(dull < 500.0, "{dull}");
    assert!(struck > 700.0 && struck < 1000.0, "{struck}");
    // One that was struck says less than one that was dull.
    let both = life([vec![blade(true); 5], vec![blade(false); 5]].concat());
    assert!(dull < both && both < struck, "{dull} {both} {struck}");
}

#[test]
fn no_history_is_too_odd() {
    let odd = [0.0, -1.0, f64::NAN, f64::INFINITY, 1e-9, 1e9];
    let logs = odd.iter().map(|minutes| log(0, *minutes)).collect();
    let none = PlanCounts::default();
    let fit = Fit::of(
        &Pace { utilisation: 1000, ..Pace::default() },
        &Observed { logs, days: vec![DayDone::default()], ..observed() },
    );
    assert!(fit.figures.iter().all(|fitted| fitted.after.is_finite() && fitted.after > 0.0));
    assert!(fit.minutes(&[(&none, &Yard::default())]).is_finite());
    // A job that is not there, a day that is not there, a log that is not there.
    let lost = Observed {
        logs: vec![LogDone { job: 7, ..log(0, 20.0) }, log(9, 20.0)],
        days: vec![DayDone { job: 3, closing: Some(5.0), ..DayDone::default() }],
        blades: vec![BladeDone { job: 5, logs: vec![BladeLog { log: 8, share: 1.0 }], dull: true }],
        moves: vec![crate::MoveDone { job: 2, minutes: 9.0 }],
        yards: Vec::new(),
    };
    assert!(Fit::of(&Pace::default(), &lost).is_empty());
}
