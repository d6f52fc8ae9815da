use std::path::Path;

use super::text::{tarp, time_of_day, way};
use super::{Ground, Heard, LogsLie, Moved, Residue, Stacking, Yard};
use crate::fault::Fault;
use crate::job_file::{parse_job, starter_job};
use crate::pace::Pace;
use pithward_measure::Length;
use proptest::prelude::*;

fn read(yard: &str) -> Result<Yard, Vec<Fault>> {
    let text = format!("{}\n[yard]\n{yard}", starter_job());
    parse_job(text.as_bytes(), "job.toml", "JOB", Path::new("")).map(|job| job.yard)
}

#[track_caller]
fn refused(yard: &str, expected: &[&str]) {
    let said: Vec<String> = read(yard).unwrap_err().iter().map(Fault::to_string).collect();
    assert_eq!(said.len(), expected.len(), "{said:#?}");
    for (said, expected) in said.iter().zip(expected) {
        assert!(said.starts_with(expected), "{said} is not {expected}");
    }
}

#[test]
fn every_field_of_a_yard() {
    let yard = read(
        "logs = \"piled\"\nmoved = \"dragged\"\ndistance = \"90 ft\"\nbark = \"dirty\"\nfrozen = true\n\
         ground = \"sloping\"\nmoves = 1\nwater = false\naccess = \"a lane of 9 ft\"\nturning_room = true\n\
         neighbours = \"one house\"\nnoise_from = \"8:00\"\nnoise_to = \"5 pm\"\nresidue = \"tarp\"\n\
         tarp = \"20 ft x 30 ft\"\nhelpers = 2\nstacking = \"sawyer\"\ndelivered = true\ndrive = \"48 mi\"\n",
    );
    let yard = yard.unwrap();
    let expected = Yard {
        told: yard.told.clone(),
        logs: LogsLie::Piled,
        moved: Moved::Dragged,
        distance: Length::feet(90),
        dirty: true,
        frozen: true,
        ground: Ground::Sloping,
        moves: 1,
        water: Some(false),
        access: "a lane of 9 ft".to_owned(),
        turning_room: Some(true),
        neighbours: "one house".to_owned(),
        noise: Some(Heard { from: 480, to: 1020 }),
        residue: Residue::Tarp,
        tarp: Some((Length::feet(20), Length::feet(30))),
        helpers: Some(2),
        stacking: Some(Stacking::Sawyer),
        delivered: true,
        drive: Some(Length::mm(1_609_344) * 48),
    };
    assert_eq!(yard, expected);
    assert_eq!((yard.told.len(), yard.told[0]), (19, "logs"));
    let text = format!("{}\n[yard]\nhelpers = 0\n", starter_job());
    let job = parse_job(text.as_bytes(), "job.toml", "JOB", Path::new("")).unwrap();
    assert_eq!(job.pace.helpers, 0);
    let plain = parse_job(starter_job().as_bytes(), "job.toml", "JOB", Path::new("")).unwrap();
    assert_eq!((plain.yard, plain.pace.helpers), (Yard::default(), 1));
}

#[test]
fn every_fault_of_a_yard_at_once() {
    refused(
        "logs = \"pilled\"\nmoved = 3\ndistance = \"90\"\nbark = \"muddy\"\nfrozen = \"yes\"\nground = \"bog\"\n\
         moves = -1\nnoise_from = \"8\"\nnoise_to = \"25:00\"\nresidue = \"pile\"\ntarp = \"20 ft x 30 ft\"\n\
         helpers = 0\nstacking = \"helpers\"\ndrive = \"far\"\nfence = true\n",
        &[
            "logs: \"pilled\" is no way for logs to lie; perhaps piled?",
            "moved must be a word in quotes, got \"3\"",
            "distance: \"90\" has no unit",
            "bark: \"muddy\" is no state of bark",
            "frozen must be true or false, got",
            "ground: \"bog\" is no kind of ground",
            "moves must be a whole number between 0 and 20, got \"-1\"",
            "noise_from: \"8\" is no time of the day",
            "noise_to: \"25:00\" is no time of the day",
            "tarp is the size of a tarp, and residue is pile",
            "stacking says that helpers stack, and nobody helps",
            "drive: \"far\" is no way in miles or kilometres",
            "\"fence\" is no field of [yard]",
        ],
    );
    refused("noise_from = \"8:00\"\n", &["noise_from says nothing without noise_to"]);
    let short = "noise_from = \"8:00\"\nnoise_to = \"8:30\"\n";
    refused(short, &["noise_to must be at least an hour after noise_from, got \"8:30\""]);
    assert_eq!(read("tarp = \"6 m x 9 m\"\n").unwrap().residue, Residue::Tarp);
}

#[test]
fn times_ways_and_tarps() {
    for (text, minutes) in [
        ("8:00", 480),
        ("08:30", 510),
        ("17:30", 1050),
        ("5:30 pm", 1050),
        ("7 AM", 420),
        ("12 am", 0),
        ("12:15pm", 735),
        ("24:00", 1440),
        ("07:32:00", 452),
    ] {
        assert_eq!(time_of_day(text).unwrap(), minutes, "{text}");
    }
    for text in ["", "8", "24:01", "8:60", "13 pm", "0 am", "8:0", "-8:00", "8:00:30", "noon"] {
        assert!(time_of_day(text).is_err(), "{text}");
    }
    assert_eq!(way("48.5 miles").unwrap(), Length::nm(48_500 * 1_609_344_000));
    assert_eq!(way("77 km").unwrap(), Length::mm(77_000_000));
    for text in ["", "48", "-3 mi", "2001 mi", "99999999999 km", "mi", "1e3 mi"] {
        assert!(way(text).is_err(), "{text}");
    }
    assert_eq!(tarp("6 m by 9 m").unwrap(), (Length::mm(6000), Length::mm(9000)));
    for text in ["", "20 ft", "20 x 30", "1 ft x 30 ft", "x", "20 ft x 900 ft"] {
        assert!(tarp(text).is_err(), "{text}");
    }
}

#[test]
fn what_loading_takes() {
    let pace = Pace::default();
    let ready = Yard::default();
    let near = |yard: &Yard, minutes: f64| {
        assert!((yard.load(&pace) - minutes).abs() < 1e-9, "{}", yard.load(&pace));
    };
    near(&ready, 1.5);
    near(&Yard { logs: LogsLie::Piled, ..ready.clone() }, 5.5);
    near(&Yard { logs: LogsLie::Scattered, moved: Moved::Dragged, ..ready.clone() }, 5.5);
    // 90 ft there and back at 60 ft/min.
    let far = Yard { logs: LogsLie::Scattered, distance: Length::feet(90), ..ready.clone() };
    near(&far, 1.5 + 3.0);
    near(&Yard { moved: Moved::Machine, logs: LogsLie::Piled, ..far }, 1.5);
    assert!((ready.set_up(&pace) - 20.0).abs() < 1e-9);
    let soft = Yard { ground: Ground::Soft, ..ready.clone() };
    assert!((soft.set_up(&pace) - 35.0).abs() < 1e-9);
    let heard = Yard { noise: Some(Heard { from: 600, to: 960 }), ..ready.clone() };
    assert!((heard.longest_day(&pace) - 360.0).abs() < 1e-9);
    assert!((ready.longest_day(&pace) - 480.0).abs() < 1e-9);
    assert_eq!(ready.stacking(&pace), Stacking::Helpers);
    let alone = Yard { helpers: Some(0), ..ready };
    assert_eq!(alone.stacking(&pace), Stacking::Customer);
}

proptest! {
    #[test]
    fn prop_no_text_panics(text in prop_oneof![
        any::<String>(),
        "[0-9:.-]{0,8} ?(am|pm|mi|km|ft x 3 m)?",
    ]) {
        let _ = (time_of_day(&text), way(&text), tarp(&text));
    }
}
