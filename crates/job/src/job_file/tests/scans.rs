//! Logs whose shape stands in a file.

use super::super::read_job;
use super::{directory, job, parse, told};
use crate::log_job::{BarkSource, Scanned};
use crate::{AsGrown, JobLog, LogRequest, ScaleRequest, Switch, Typed};
use pithward_geometry::Log;
use pithward_measure::Length;
use std::path::Path;

/// From where the tests of this package run.
const SHAPES: &str = "../../data/shapes";

/// A job of one log with these lines.
fn of(lines: &str) -> String {
    let lines = lines.replace("SHAPES", SHAPES);
    format!("[[logs]]\nid = \"S\"\n{lines}\n\n[[wants]]\nsize = \"2x8x8\"\n")
}

fn log(lines: &str) -> JobLog {
    job(&of(lines)).logs.remove(0)
}

/// Each fault with its place, which begins with the job file's name unless it stands elsewhere.
#[track_caller]
fn check(lines: &str, expected: &[&str]) {
    let found = told(&parse(&of(lines)).unwrap_err());
    assert_eq!(found.len(), expected.len(), "{found:#?}");
    for (found, expected) in found.iter().zip(expected) {
        let found = found.strip_prefix("job.toml:").unwrap_or(found);
        assert!(found.starts_with(expected), "{found}\ninstead of\n{expected}");
    }
}

#[test]
fn a_scan_in_place_of_the_tape() {
    let bare = log("shape = \"SHAPES/crooked.ply\"\nunit = \"mm\"");
    let said = bare.told.scanned.clone().unwrap();
    assert_eq!(said.file, format!("{SHAPES}/crooked.ply"));
    assert!((bare.log.length() - Length::feet(10)).abs() < Length::inches(3), "{said:?}");
    assert!(bare.log.sections().is_some() && bare.told.taped.is_none());
    assert_eq!((bare.bark, bare.log.bark_butt()), (BarkSource::None, Length::ZERO));
    // Without a unit it is judged by the size, and that is told.
    let judged = log("shape = \"SHAPES/crooked.ply\"");
    assert_eq!(judged.log, bare.log);
    let Scanned { repairs, .. } = judged.told.scanned.unwrap();
    assert_eq!(repairs.len(), said.repairs.len() + 1);
    assert!(repairs.iter().any(|said| said.starts_with("read in mm, ")), "{repairs:?}");
    // Over the bark there is less wood, by what is given or by the species.
    let scan = "shape = \"SHAPES/crooked.ply\"\nover_bark = true\n";
    let given = log(&format!("{scan}bark = \"1/2 in\""));
    assert_eq!(given.bark, BarkSource::Given);
    assert!(given.taped_over_bark);
    let off = bare.log.butt() - given.log.butt() - Length::inches(1);
    assert!(off.abs() < Length::sixty_fourths(8), "{off:?}");
    let species = log(&format!("{scan}species = \"white oak\""));
    assert_eq!(species.bark, BarkSource::Species);
    assert!(species.log.volume() < bare.log.volume());
    assert!(species.log.bark_butt() > Length::ZERO);
}

#[test]
fn outlines_flaws_and_logs_that_are_alike() {
    let oak = log("shape = \"SHAPES/oak.csv\"\nspecies = \"white oak\"");
    assert_eq!((oak.bark, oak.log.length()), (BarkSource::Given, Length::feet(8)));
    assert!((oak.log.bark_small() - Length::sixty_fourths(40)).abs() < Length::sixty_fourths(4));
    let flawed = log(
        "shape = \"SHAPES/oak.csv\"\npith_small = \"1 in toward 4\"\nflaws = [\"rot radius 2 in from butt length 2 ft\"]",
    );
    assert_eq!((flawed.told.flaws.len(), flawed.log.flaws().len()), (1, 1));
    assert!(oak.log.flaws().is_empty() && flawed.log.sections() != oak.log.sections());
    let alike = job(&of("shape = \"SHAPES/oak.csv\"\ncount = 3"));
    assert_eq!(alike.logs.len(), 3);
    assert!(alike.logs.iter().all(|log| log.log == oak.log && log.told.scanned.is_some()));
    let stem = of("shape = \"SHAPES/oak.csv\"").replace("[[logs]]", "[[stems]]");
    let stem = job(&stem).stems.remove(0).stem;
    assert_eq!(stem.log, oak.log);
}

#[test]
fn a_tape_beside_the_scan() {
    check(
        "shape = \"SHAPES/oak.csv\"\nsmall_end = [\"14 in\", \"15 in\"]\nlength = \"8 ft\"\nlong_axis = \"2\"\nsweep = \"2 in toward 6\"\nflare = \"4 in over 1 ft\"",
        &[
            "4:14 [\"14 in\"] small_end stands beside shape, which says it already",
            "5:10 [\"8 ft\"] length stands beside shape, which says it already",
            "6:13 [\"2\"] long_axis stands beside shape, which says it already",
            "7:9 [\"2 in toward 6\"] sweep stands beside shape, which says it already",
            "8:9 [\"4 in over 1 ft\"] flare stands beside shape, which says it already",
        ],
    );
    check(
        "shape = \"SHAPES/oak.csv\"\nunit = \"in\"",
        &["4:8 [\"in\"] unit stands beside shape, whose outlines have units of their own"],
    );
    check(
        "small_end = \"14 in\"\nbutt = \"15 in\"\nlength = \"8 ft\"\nunit = \"in\"",
        &["6:8 [\"in\"] unit is the unit of a shape file, and no shape is named"],
    );
    check(
        "shape = \"SHAPES/crooked.ply\"\nbark = \"1/2 in\"",
        &["4:8 [\"1/2 in\"] bark stands beside shape, and nobody says that the scan is over it"],
    );
    check(
        "shape = \"SHAPES/crooked.ply\"\nover_bark = true",
        &["4:13 [true] over_bark: the log was measured over the bark"],
    );
}

#[test]
fn files_that_are_no_logs() {
    check("shape = \"nowhere.ply\"", &["3:9 [\"nowhere.ply\"] shape: "]);
    check("shape = 3", &["3:9 [3] shape must be a file's name in quotes"]);
    check("shape = \"Cargo.toml\"", &["3:9 [\"Cargo.toml\"] shape is no shape file"]);
    check("shape = \"src\"", &["3:9 [\"src\"] shape: "]);
    // Off by 25.4: stated in inches, and written in millimetres.
    check("shape = \"SHAPES/crooked.ply\"\nunit = \"in\"", &["4:8 [\"in\"] unit is 25"]);
    check(
        "shape = \"SHAPES/crooked.ply\"\nunit = \"cubit\"",
        &["4:8 [\"cubit\"] unit: \"cubit\" is no unit of length"],
    );
    check(
        "shape = \"SHAPES/oak.csv\"\npith_butt = \"20 in toward 4\"",
        &["4:13 [\"20 in toward 4\"] pith_butt has its pith outside the wood at 48.0 in"],
    );
    // A flaw beyond the end of what was scanned.
    check(
        "shape = \"SHAPES/oak.csv\"\nflaws = [\"rot radius 2 in from butt to 9 ft\"]",
        &["4:40 [9 ft] flaws must be between 0 in and 96 in, got \"9 ft\""],
    );
}

#[test]
fn the_same_for_one_log_alone() {
    let none = |name| Typed::new(name, None);
    let some = |name, text: &str| Typed::new(name, Some(text.to_owned()));
    let grown =
        AsGrown { shape: some("--shape", &format!("{SHAPES}/oak.csv")), ..AsGrown::nothing() };
    let request = LogRequest {
        small_end: none("--small"),
        butt: none("--butt"),
        length: none("--length"),
        species: none("--species"),
        bark: none("--bark"),
        over_bark: Switch { name: "--over-bark", on: false },
        trim: some("--trim", "2 in"),
        as_grown: grown,
        files: crate::Files::OnDisk,
    };
    let measured = request.measure(&mut Vec::new()).unwrap();
    assert_eq!((measured.log.length(), measured.trim), (Length::feet(8), Length::inches(2)));
    assert!(measured.told.scanned.is_some());
    let taped = LogRequest { length: some("--length", "8 ft"), ..request };
    let faults = ScaleRequest { log: taped, round_down: false }.into_scales().unwrap_err();
    let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(said, ["--length stands beside shape, which says it already"]);
}

#[test]
fn twelve_o_clock_is_where_the_job_says() {
    let bow = |log: &Log| log.looks().unwrap().bow.clock.as_millidegrees();
    let plain = log("shape = \"SHAPES/crooked.ply\"").log;
    assert_eq!(log("shape = \"SHAPES/crooked.ply\"\nup = \"+z\"").log, plain);
    let turned = log("shape = \"SHAPES/crooked.ply\"\nup = \"+y\"").log;
    let by = (bow(&turned) - bow(&plain)).rem_euclid(360_000);
    assert!((by - 90_000).abs() < 15_000 || (by - 270_000).abs() < 15_000, "{by}");
    for up in ["y", "0 1 0", "0, 2, 0"] {
        let same = log(&format!("shape = \"SHAPES/crooked.ply\"\nup = \"{up}\"")).log;
        assert!((bow(&same) - bow(&turned)).abs() < 10, "{up}");
    }
    let other = log("shape = \"SHAPES/crooked.ply\"\nup = \"-y\"").log;
    let half = (bow(&other) - bow(&turned)).rem_euclid(360_000);
    assert!((half - 180_000).abs() < 100, "{half}");
    check(
        "shape = \"SHAPES/crooked.ply\"\nup = \"skyward\"",
        &["4:6 [\"skyward\"] up: \"skyward\" is no direction in the file's coordinates"],
    );
    check(
        "shape = \"SHAPES/oak.csv\"\nup = \"+y\"",
        &["4:6 [\"+y\"] up stands beside shape, whose outlines begin at 12 o'clock"],
    );
    check(
        "small_end = \"14 in\"\nbutt = \"15 in\"\nlength = \"8 ft\"\nup = \"+y\"",
        &["6:6 [\"+y\"] up is the up of a shape file, and no shape is named"],
    );
}

#[test]
fn where_the_pith_was_said_to_be_is_kept() {
    let said = log(
        "shape = \"SHAPES/oak.csv\"\npith_small = \"1 in toward 3\"\npith_butt = \"0 in toward 3\"",
    );
    let [small, butt] = said.told.scanned.unwrap().pith;
    assert_eq!((small.map(|pith| pith.off), butt), (Some(Length::inches(1)), None));
    // The axis runs through the pith: the wood lies to the other side of it.
    let left = |log: &Log| {
        let wood = log.section_at(0.0).wood;
        wood.iter().map(|point| point[0]).fold(f64::INFINITY, f64::min)
    };
    let moved = left(&log("shape = \"SHAPES/oak.csv\"").log) - left(&said.log);
    assert!((moved - 1.0).abs() < 0.01, "{moved}");
}

/// Faults within a shape file stand in it, and come where the job names it.
#[test]
fn faults_of_a_shape_file_stand_in_its_lines() {
    let job = "[[logs]]\nid = \"1\"\nshape = \"a.csv\"\n[[logs]]\nid = \"2\"\nsmall_end = \"900 in\"\n\
        butt = \"16 in\"\nlength = \"8 ft\"\n[[wants]]\nsize = \"2x4x8\"\n";
    let mut outlines = String::from("station (in),angle,radius (in)\n");
    for (station, angle) in [0, 96].into_iter().flat_map(|z| (0..8).map(move |n| (z, 45 * n))) {
        outlines += &format!("{station},{angle},{}\n", if station == 96 { "seven" } else { "6" });
    }
    let place = directory("shape faults", &[("job.toml", job), ("a.csv", &outlines)]);
    let found = told(&read_job(&place.join("job.toml"), "JOB").unwrap_err());
    std::fs::remove_dir_all(place).unwrap();
    assert_eq!(found.len(), 9, "{found:#?}");
    assert!(found[0].starts_with("a.csv:10:6 [seven] radius: "), "{found:#?}");
    assert!(found[8].starts_with("job.toml:6:13 [\"900 in\"] small_end must"), "{found:#?}");
}

#[test]
fn a_sheet_may_name_shapes() {
    let oak = std::fs::read_to_string(Path::new(SHAPES).join("oak.csv")).unwrap();
    let job = "logs_file = \"logs.csv\"\n[[wants]]\nsize = \"2x4x8\"\n";
    let sheet = "id,scan,species,count\n1,oak.csv,white oak,\n2,oak.csv,,2\n";
    let files = [("job.toml", job), ("logs.csv", sheet), ("oak.csv", &oak)];
    let place = directory("sheet of shapes", &files);
    let read = read_job(&place.join("job.toml"), "JOB");
    let job = read.unwrap_or_else(|faults| panic!("{:#?}", told(&faults)));
    let ids: Vec<&str> = job.logs.iter().map(|log| log.id.as_str()).collect();
    assert_eq!(ids, ["1", "2-1", "2-2"]);
    let same = log("shape = \"SHAPES/oak.csv\"").log;
    assert!(job.logs.iter().all(|log| log.log == same && log.told.scanned.is_some()));
    // A row without a shape needs its diameters; a unit and an up need a shape.
    let sheet = "id,shape,unit,up\n1,,mm,+y\n2,none.ply,,\n3,oak.csv,in,\n";
    std::fs::write(place.join("logs.csv"), sheet).unwrap();
    let found = told(&read_job(&place.join("job.toml"), "JOB").unwrap_err());
    std::fs::remove_dir_all(place).unwrap();
    let expected = [
        "logs.csv:2:4 [mm] unit is the unit of a shape file",
        "logs.csv:2:7 [+y] up is the up of a shape file",
        "small end is missing",
        "butt is missing",
        "length is missing",
        "logs.csv:3:3 [none.ply] shape: there is no file \"none.ply\"",
        "logs.csv:4:11 [in] unit stands beside shape",
    ];
    assert_eq!(found.len(), expected.len(), "{found:#?}");
    for expected in expected {
        assert!(found.iter().any(|found| found.contains(expected)), "{expected}: {found:#?}");
    }
}

/// A log of which nobody tapes a butt has one all the same.
#[test]
fn a_scan_does_not_taper_by_rule() {
    let shape = Typed::new("--shape", Some(format!("{SHAPES}/oak.csv")));
    let grown = AsGrown { shape, ..AsGrown::nothing() };
    let request = crate::log_request::tests::request("14", "15", "8");
    assert!(!LogRequest { as_grown: grown, ..request.clone() }.is_tapered());
    assert!(!request.is_tapered());
    assert!(LogRequest { butt: Typed::new("--butt", None), ..request }.is_tapered());
}
