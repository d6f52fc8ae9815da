//! Logs whose shape stands in a file.

use super::{job, parse, told};
use crate::log_job::{BarkSource, Scanned};
use crate::{AsGrown, JobLog, LogRequest, ScaleRequest, Switch, Typed};
use pithward_measure::Length;

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
        &["4:13 [true] over_bark: the diameters are over the bark"],
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
    };
    let measured = request.measure(&mut Vec::new()).unwrap();
    assert_eq!((measured.log.length(), measured.trim), (Length::feet(8), Length::inches(2)));
    assert!(measured.told.scanned.is_some());
    let taped = LogRequest { length: some("--length", "8 ft"), ..request };
    let faults = ScaleRequest { log: taped, round_down: false }.into_scales().unwrap_err();
    let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(said, ["--length stands beside shape, which says it already"]);
}
