//! Shape files: every form gives the same log, and every fault is told in its line.
#![allow(
    missing_docs,
    unreachable_pub,
    clippy::cast_possible_truncation,
    clippy::unwrap_used,
    reason = "tests, and what several of them share"
)]

#[path = "../../geometry/tests/it/common/invented.rs"]
mod invented;
#[path = "../../geometry/tests/it/common/written.rs"]
mod written;

use std::f64::consts::TAU;
use std::fmt::Write as _;

use invented::{Invented, Lying, Noise};
use pithward_geometry::trig::{atan2, norm};
use pithward_geometry::{Measured, Mesh, Repair, ShapeRequest};
use pithward_job::{Fault, Place, read_shape};
use pithward_measure::{Length, Unit};
use proptest::prelude::*;
use written::{Form, obj, ply};

const INCHES: ShapeRequest = ShapeRequest {
    unit: Some(Unit::Inch),
    up: None,
    surface: pithward_geometry::Surface::Wood,
    pith_small: None,
    pith_butt: None,
};

fn scanned() -> Mesh {
    let lying = Lying { yaw: 0.6, pitch: 0.05, at: [30.0, -80.0, 24.0] };
    Invented::CROOKED.scanned(120, 180, lying)
}

fn read(name: &str, bytes: &[u8]) -> Measured {
    read_shape(name, bytes, &INCHES).unwrap()
}

/// Each fault with the line and the text that it stands at.
fn faults(name: &str, bytes: &[u8]) -> Vec<String> {
    let Err(faults) = read_shape(name, bytes, &INCHES) else { panic!("a log") };
    let said = |fault: &Fault| {
        assert!(!fault.help.is_empty());
        match &fault.place {
            Place::File(at) => format!("{}: {fault} [{}]", at.line, &at.text[at.span.clone()]),
            _ => fault.to_string(),
        }
    };
    faults.iter().map(said).collect()
}

#[track_caller]
fn check(name: &str, bytes: &[u8], expected: &[&str]) {
    let said = faults(name, bytes);
    assert_eq!(said.len(), expected.len(), "{said:#?}");
    for (said, expected) in said.iter().zip(expected) {
        assert!(said.starts_with(expected), "{said}\ninstead of\n{expected}");
    }
}

/// The farthest that any section is from the formula's.
fn off(measured: &Measured) -> f64 {
    let log = Invented::CROOKED;
    let sections = measured.log.sections().unwrap();
    let far = |section: &pithward_geometry::Section| {
        let [x, y] = log.middle(section.z);
        let off = section.wood.iter().map(|point| {
            let (x, y) = (point[0] - x, point[1] - y);
            (norm(x, y) - log.radius(atan2(y, x), section.z)).abs()
        });
        off.fold(0.0, f64::max)
    };
    sections.iter().map(far).fold(0.0, f64::max)
}

#[test]
fn every_form_of_file_gives_the_same_log() {
    let mesh = scanned();
    let first = read("a.ply", &ply(&mesh, Form::Big));
    assert!(off(&first) < 0.02, "{}", off(&first));
    for form in [Form::Ascii, Form::Little] {
        let other = read("b.PLY", &ply(&mesh, form));
        assert!(off(&other) < 0.02, "{form:?}: {}", off(&other));
        assert!((other.log.volume() / first.log.volume() - 1.0).abs() < 1e-5);
    }
    let other = read("c.obj", obj(&mesh).as_bytes());
    assert!(off(&other) < 0.02);
    assert!((other.log.volume() / first.log.volume() - 1.0).abs() < 1e-5);
    let right = 120.0 * std::f64::consts::PI * 48.0;
    assert!(first.log.volume() > 0.9 * right);
}

#[test]
fn a_file_without_faces_is_a_cloud() {
    let cloud =
        Mesh { triangles: Vec::new(), ..Invented::CROOKED.scanned(240, 180, Lying::default()) };
    for (name, bytes) in [("a.ply", ply(&cloud, Form::Ascii)), ("a.obj", obj(&cloud).into_bytes())]
    {
        let measured = read(name, &bytes);
        assert!((measured.log.length() - Length::inches(120)).abs() < Length::inches(2));
        assert!(off(&measured) < 0.4, "{}", off(&measured));
    }
}

#[test]
fn faces_of_many_corners_and_numbers_from_the_end() {
    // A square bar: its sides as quadrilaterals, in OBJ's numbers back from the last point, and as a PLY with colours.
    let (mut obj, mut ply, mut faces) = (String::new(), String::new(), String::new());
    for i in 0..=12 {
        for [x, z] in [[0, 0], [8, 0], [8, 8], [0, 8]] {
            let _ = writeln!(obj, "v {x} {} {z} 1.0", i * 10);
            let _ = writeln!(ply, "{x} {} {z} 200", i * 10);
        }
        if i > 0 {
            for k in 0..4 {
                let next = (k + 1) % 4;
                let _ = writeln!(obj, "f {} {} {} {}", k - 8, next - 8, next - 4, k - 4);
                let before = (i - 1) * 4;
                let _ = writeln!(
                    faces,
                    "4 {} {} {} {}",
                    before + k,
                    before + next,
                    before + 4 + next,
                    before + 4 + k
                );
            }
        }
    }
    let measured = read("bar.obj", obj.as_bytes());
    // A square's circle of the same area.
    assert!(
        (measured.log.small_end().inches_f64() - 9.027).abs() < 0.05,
        "{:?}",
        measured.log.small_end()
    );
    let heading = "ply\nformat ascii 1.0\nobj_info made up\nelement vertex 52\nproperty int x\nproperty short y\nproperty uchar z\nproperty uchar red\nelement face 48\nproperty list uchar uint vertex_index\nelement edge 1\nproperty int a\nend_header\n";
    let other = read("bar.ply", format!("{heading}{ply}{faces}7\n").as_bytes());
    assert_eq!(other.log, measured.log);
}

#[test]
fn what_is_no_shape_file() {
    check("", b"", &[": \"\" is empty"]);
    check("log.ply", b"  \n ", &["log.ply: \"log.ply\" is empty"]);
    check(
        "log.stp",
        b"solid",
        &["log.stp is no shape file: its name ends in neither .ply, .obj nor .csv"],
    );
    check("log.obj", b"o nothing\n", &["log.obj has 0 points"]);
}

#[test]
fn what_is_wrong_with_a_ply_file() {
    check("a.ply", b"plx\n", &["1: a.ply is not PLY: "]);
    check(
        "a.ply",
        b"ply\nformat ascii 1.0\nelement vertex two\nend_header\n",
        &["3: a.ply is not PLY: "],
    );
    let good = ply(&scanned(), Form::Ascii);
    let text = String::from_utf8(good).unwrap();
    check(
        "a.ply",
        &text.as_bytes()[..text.len() / 2],
        &["a.ply is not PLY: Unexpected end of file"],
    );
    let lines: Vec<&str> = text.lines().collect();
    let mut bad = lines.clone();
    bad[20] = "1.0 x 3.0";
    check("a.ply", bad.join("\n").as_bytes(), &["21: a.ply is not PLY: "]);
    let mut bad = lines.clone();
    let last = bad.len() - 1;
    bad[last] = "3 0 1 999999";
    check(
        "a.ply",
        bad.join("\n").as_bytes(),
        &["a.ply has a face with the corner 999999, and there are 21782 points"],
    );
    bad[last] = "3 0 1 -2";
    assert_eq!(faults("a.ply", bad.join("\n").as_bytes()).len(), 1);
    // Without a z every point is no number.
    let flat = text.replace("property double z", "property double w");
    check(
        "a.ply",
        flat.as_bytes(),
        &["a.ply has 21782 points of 21782 whose coordinates are no numbers"],
    );
    let little = ply(&scanned(), Form::Little);
    let said = faults("a.ply", &little[..little.len() - 9]);
    assert!(said[0].contains("is not PLY") && said[0].contains("end of file"), "{said:?}");
}

#[test]
fn what_is_wrong_with_an_obj_file() {
    let text = b"v 0 0 0\nv 1 zero 2\n# caf\xe9\nv 1 1\nf 1 2\nf 1 1 9\nf 1 1 x\nf 0 1 1\n";
    check(
        "a.obj",
        text,
        &[
            "2: a.obj: \"v 1 zero 2\" is no point: three numbers follow the v [v 1 zero 2]",
            "4: a.obj: \"v 1 1\" is no point",
            "5: a.obj has a face with the corner 2, and there are 1 points",
            "6: a.obj has a face with the corner 9, and there are 1 points",
            "7: a.obj: \"f 1 1 x\" is no face",
            "8: a.obj has a face with the corner 0, and there are 1 points",
        ],
    );
    let many = "v 1\n".repeat(1000);
    let said = faults("a.obj", many.as_bytes());
    assert_eq!(said.len(), 21);
    assert_eq!(said[20], "a.obj has 980 more lines like these");
}

/// Outlines of the invented log: so many stations and directions.
fn outlines(stations: u32, directions: u32) -> Vec<Vec<String>> {
    let log = Invented::CROOKED;
    let mut rows = vec![
        ["station (in)", "angle", "radius (in)", "x (in)", "y (in)"].map(str::to_owned).to_vec(),
    ];
    for i in 0..stations {
        let z = log.length * f64::from(i) / f64::from(stations - 1);
        let [x, y] = log.middle(z);
        for k in 0..directions {
            let clock = 360.0 * f64::from(k) / f64::from(directions);
            let r = log.radius((90.0 - clock) / 360.0 * TAU, z);
            rows.push([z, clock, r, x, y].map(|n| format!("{:.4}", n + 0.0)).to_vec());
        }
    }
    rows
}

fn csv(rows: &[Vec<String>]) -> String {
    rows.iter().map(|row| row.join(",") + "\n").collect()
}

#[test]
fn outlines_come_back() {
    let measured = read("log.csv", csv(&outlines(61, 120)).as_bytes());
    assert!(off(&measured) < 0.001, "{}", off(&measured));
    assert_eq!(measured.told, []);
    assert_eq!(measured.log.length(), Length::inches(120));
    // In 24 directions, by rows in any order, in millimetres, with decimal commas.
    let mut rows = outlines(41, 24);
    for row in &mut rows[1..] {
        for n in [0, 2, 3, 4] {
            let inches: f64 = row[n].parse().unwrap();
            row[n] = format!("{:.3}", inches * 25.4).replace('.', ",");
        }
    }
    rows[1..].chunks_mut(24).for_each(|outline| outline.rotate_left(7));
    let text: String =
        rows.iter().map(|row| row.join(";").replace("(in)", "(mm)") + "\n").collect();
    let measured = read("log.csv", text.as_bytes());
    assert!(off(&measured) < 0.08, "{}", off(&measured));
    // The butt first.
    let mut rows = outlines(11, 36);
    for row in &mut rows[1..] {
        row[0] = format!("{}", 120.0 - row[0].parse::<f64>().unwrap());
    }
    rows[1..].reverse();
    let measured = read("log.csv", csv(&rows).as_bytes());
    assert_eq!(measured.told, [Repair::Reversed]);
    assert!(off(&measured) < 0.3, "{}", off(&measured));
}

#[test]
fn bark_is_a_column_or_goes_by_the_request() {
    let mut rows = outlines(11, 36);
    rows[0].push("bark".to_owned());
    rows[1..].iter_mut().for_each(|row| row.push("1/2 in".to_owned()));
    let log = read("log.csv", csv(&rows).as_bytes()).log;
    assert!((log.bark_small().inches_f64() - 0.5).abs() < 0.001, "{:?}", log.bark_small());
    assert!((log.small_end().inches_f64() - 11.0).abs() < 0.05);
}

#[test]
fn what_is_wrong_with_outlines() {
    let good = outlines(5, 12);
    let changed = |change: &dyn Fn(&mut Vec<Vec<String>>)| {
        let mut rows = good.clone();
        change(&mut rows);
        csv(&rows)
    };
    let check = |change: &dyn Fn(&mut Vec<Vec<String>>), expected: &[&str]| {
        check("log.csv", changed(change).as_bytes(), expected);
    };
    check(&|rows| rows[0][2] = "radiuss (in)".to_owned(), &["1: \"radiuss (in)\" is no column"]);
    check(
        &|rows| rows.iter_mut().for_each(|row| drop(row.remove(2))),
        &["1: radius has no column in the sheet"],
    );
    check(
        &|rows| rows[0][0] = "station".to_owned(),
        &[
            "1: station: the numbers below have no unit, the first of them is \"0.0000\" on line 2 [station]",
        ],
    );
    check(&|rows| rows[0][4] = "x (in)".to_owned(), &["1: x: \"x (in)\" is said twice"]);
    check(
        &|rows| rows[0][0] = "station (cubits)".to_owned(),
        &["1: station: \"cubits\" is no unit of length"],
    );
    check(
        &|rows| {
            rows[2][1] = "north".to_owned();
            rows[3][2] = String::new();
            rows[4][2] = "six".to_owned();
        },
        &[
            "3: angle must be degrees, got \"north\" [north]",
            "4: radius is missing",
            "5: radius: \"six\" is not a length",
        ],
    );
    check(
        &|rows| {
            rows[2][2] = "-4".to_owned();
            rows[15][2] = "60".to_owned();
            rows[30][1] = "400".to_owned();
        },
        &[
            "3: radius must be more than 0, got -4.000 in [-4]",
            "16: radius jumps: 60.000 in stands beside 6.",
            "31: angle must be between 0 and 360 degrees, got 400 [400]",
        ],
    );
    check(
        &|rows| rows[5][1] = "60".to_owned(),
        &["6: angle is there twice at the station 0.00 in: 60 degrees"],
    );
    check(
        &|rows| drop(rows.drain(3..5)),
        &[
            "4: angle leaves out 90.0 degrees between 30 and 120 at the station 0.00 in, and at most 60 can be bridged [120.0000]",
        ],
    );
    check(
        &|rows| rows.truncate(20),
        &["14: angle has 7 directions at the station 30.00 in", "1: station stands for 2 outlines"],
    );
    check(
        &|rows| rows[1..].rotate_left(12),
        &[
            "2: station must be 0 at the small end, got 30.00 in",
            "50: station must be more than that of the outline before it, 120.00 in, got 0.00 in",
        ],
    );
    check(
        &|rows| rows[7][3] = "1".to_owned(),
        &["8: x is \"1\" here and \"0.0000\" before it at the same station [1]"],
    );
    // Off by 25.4, and by 1000.
    check(
        &|rows| {
            rows[0] = ["station (in)", "angle", "radius (ft)", "x (in)", "y (in)"]
                .map(str::to_owned)
                .to_vec();
        },
        &["1: radius makes a log 10.0000 ft long and"],
    );
    check(
        &|rows| {
            rows[0] = ["station (mm)", "angle", "radius (mm)", "x (mm)", "y (mm)"]
                .map(str::to_owned)
                .to_vec();
        },
        &["1: radius makes a log 0.3937 ft long and 0.5"],
    );
    check(&|rows| rows.truncate(1), &["1: station stands for 0 outlines"]);
    let bark = |rows: &mut Vec<Vec<String>>| {
        rows[0].push("bark (in)".to_owned());
        rows[1..].iter_mut().for_each(|row| row.push("0.5".to_owned()));
        rows[9][5] = "-0.5".to_owned();
        rows[10][5] = "50".to_owned();
    };
    check(
        &bark,
        &["10: bark must be between 0 and the radius", "11: bark must be between 0 and the radius"],
    );
}

/// The demo's shapes, by file name.
fn shapes() -> [(&'static str, Vec<u8>); 2] {
    // A scanner's file: millimetres, some noise, lying askew.
    let log = Invented { small: 7.2, butt: 8.6, ..Invented::CROOKED };
    let lying = Lying { yaw: 1.1, pitch: 0.02, at: [40.0, 12.0, 15.0] };
    let mut mesh = log.scanned(50, 50, lying);
    let mut noise = Noise(20);
    for point in &mut mesh.points {
        *point = point.map(|c| ((c + noise.normal() / 64.0) * 254.0).round() / 10.0);
    }
    // A person's sheet: nine stations of an oak of 8 ft, sixteen directions, to a sixteenth of an inch.
    let oak = Invented {
        length: 96.0,
        small: 9.0,
        butt: 10.2,
        flare: 0.8,
        oval: 0.1,
        bow: 1.2,
        ..Invented::CROOKED
    };
    let sixteenths = |inches: f64| (inches * 16.0).round() / 16.0 + 0.0;
    let mut sheet = "station (in),angle,radius (in),x (in),y (in),bark (in)\n".to_owned();
    for station in (0..=96).step_by(12).map(f64::from) {
        let [x, y] = oak.middle(station).map(sixteenths);
        for clock in (0..16).map(|n| 22.5 * f64::from(n)) {
            let radius = sixteenths(oak.radius((90.0 - clock) / 360.0 * TAU, station));
            let _ = writeln!(sheet, "{station},{clock},{radius},{x},{y},0.625");
        }
    }
    [("crooked.ply", ply(&mesh, Form::Little)), ("oak.csv", sheet.into_bytes())]
}

/// The shapes of the demo are those that are made here; `UPDATE_SHAPES=1` writes them.
#[test]
fn committed_shapes_are_these_and_are_logs() {
    let place = concat!(env!("CARGO_MANIFEST_DIR"), "/../../data/shapes");
    for (name, bytes) in shapes() {
        let path = std::path::Path::new(place).join(name);
        if std::env::var_os("UPDATE_SHAPES").is_some() {
            std::fs::write(&path, &bytes).unwrap();
        }
        assert!(std::fs::read(&path).unwrap() == bytes, "{name} is another");
        let request = ShapeRequest { unit: None, ..INCHES };
        let measured = pithward_job::read_shape_file(&path, name, &request).unwrap();
        let told: Vec<String> = measured.told.iter().map(Repair::to_string).collect();
        let log = measured.log;
        if name == "oak.csv" {
            assert_eq!(told, [""; 0]);
            assert_eq!(log.length(), Length::feet(8));
            assert!((log.bark_butt().inches_f64() - 0.625).abs() < 0.001);
        } else {
            assert!(
                told[0]
                    .starts_with("read in mm, the only unit that makes a log of it: 10.0 ft long"),
                "{told:?}"
            );
            assert!(
                (log.length() - Length::feet(10)).abs() < Length::inches(1) && told.len() < 3,
                "{told:?}"
            );
        }
    }
}

#[test]
fn a_file_that_is_not_there() {
    let place = std::path::Path::new("nowhere/at.ply");
    let faults = pithward_job::read_shape_file(place, "at.ply", &INCHES).unwrap_err();
    assert_eq!(faults[0].to_string(), "at.ply: there is no file \"at.ply\"");
    let faults =
        pithward_job::read_shape_file(std::path::Path::new("/"), "dir.ply", &INCHES).unwrap_err();
    assert!(faults[0].to_string().contains("is a directory"), "{}", faults[0]);
}

proptest! {
    /// Files that were cut off or changed are read or refused, never a panic.
    #[test]
    fn prop_no_bytes_panic(
        form in 0..5_usize,
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 0..12),
        cut in prop::option::of(any::<prop::sample::Index>()),
    ) {
        let small = Invented::CROOKED.scanned(12, 16, Lying::default());
        let (name, mut bytes) = match form {
            0 => ("a.ply", ply(&small, Form::Ascii)),
            1 => ("a.ply", ply(&small, Form::Little)),
            2 => ("a.ply", ply(&small, Form::Big)),
            3 => ("a.obj", obj(&small).into_bytes()),
            _ => ("a.csv", csv(&outlines(4, 9)).into_bytes()),
        };
        for (at, byte) in &changes {
            let at = at.index(bytes.len());
            bytes[at] = *byte;
        }
        if let Some(cut) = cut {
            bytes.truncate(cut.index(bytes.len()));
        }
        if let Err(faults) = read_shape(name, &bytes, &INCHES) {
            prop_assert!(!faults.is_empty());
            prop_assert!(faults.iter().all(|fault| !fault.help.is_empty() && !fault.to_string().is_empty()));
        }
    }

    /// Nor does any text under any name.
    #[test]
    fn prop_no_text_panics(name in "[a-z]{0,3}(\\.(ply|obj|csv))?", text in "(ply\nformat ascii 1.0\n)?[ -~\n]{0,200}") {
        let _ = read_shape(&name, text.as_bytes(), &ShapeRequest { unit: None, ..INCHES });
    }
}
