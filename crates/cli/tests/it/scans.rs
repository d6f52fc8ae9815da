//! Logs whose shape stands in a file, as a person at a shell meets them.

use crate::common::{directory, pithward, printed, put, refused};
use serde_json::Value;
use std::path::{Path, PathBuf};

const CROOKED: &[u8] = include_bytes!("../../../../data/shapes/crooked.ply");
const OAK: &str = include_str!("../../../../data/shapes/oak.csv");

/// A directory with both shapes and a job of one log with these lines; the job's name.
fn place(name: &str, log: &str) -> (PathBuf, String) {
    let place = directory(name);
    put(&place, "crooked.ply", CROOKED);
    put(&place, "oak.csv", OAK);
    let job = format!(
        "[[logs]]\nid = \"S\"\nspecies = \"white oak\"\n{log}\n\n[[wants]]\nsize = \"4x4x6\"\ncount = 1\n"
    );
    put(&place, "job.toml", job);
    let job = text(&place.join("job.toml"));
    (place, job)
}

fn text(path: &Path) -> String {
    path.to_str().expect("the directory is UTF-8").to_owned()
}

/// One fault, told by `check` and by `plan`, at its place in the job file.
#[track_caller]
fn check(name: &str, log: &str, at: &str, said: &[&str]) {
    let (_, job) = place(&format!("scans-{name}"), log);
    for command in ["check", "plan"] {
        let stderr = refused(&pithward(&[command, &job]), &[said, &[at, "help: "]].concat());
        assert_eq!(stderr.matches("error: ").count(), 1, "{stderr}");
    }
}

#[test]
fn what_was_made_of_a_scan_is_told() {
    let scan = "shape = \"crooked.ply\"\nover_bark = true";
    let (_, job) = place("scans-told", scan);
    let said = printed(&pithward(&["check", &job]));
    for part in ["AS SCANNED", "S, from crooked.ply: ", "read in mm", "measured all round"] {
        assert!(said.contains(part), "no {part:?} in:\n{said}");
    }
    let (_, silent) = place("scans-silent", "shape = \"oak.csv\"");
    let said = printed(&pithward(&["check", &silent]));
    assert!(said.contains("S, from oak.csv: nothing had to be put right"), "{said}");
    assert!(said.contains("as the outlines say"), "{said}");
}

#[test]
fn one_log_is_opened_from_its_outlines() {
    let (place, _) = place("scans-open", "shape = \"oak.csv\"");
    let shape = text(&place.join("oak.csv"));
    let open = ["open", "--shape", &shape, "--want", "4x4x6=1", "--method", "through"];
    let card = printed(&pithward(&open));
    for part in
        ["  shape   measured all round at 9 stations", "  scanned ", "nothing had to be put"]
    {
        assert!(card.contains(part), "no {part:?} in:\n{card}");
    }
    let plan: Value = serde_json::from_str(&printed(&pithward(&[&open[..], &["--json"]].concat())))
        .expect("the plan is JSON");
    assert_eq!(plan["log"]["scanned"]["file"], shape.as_str());
    assert_eq!(plan["log"]["scanned"]["repairs"], Value::Array(Vec::new()));
    let taped = printed(&pithward(&[
        "open", "--small", "14", "--butt", "15", "--length", "8", "--want", "4x4x6=1", "--method",
        "through", "--json",
    ]));
    let taped: Value = serde_json::from_str(&taped).expect("the plan is JSON");
    assert!(taped["log"]["scanned"].is_null());
    let both = [&open[..], &["--small", "14 in", "--unit", "in"]].concat();
    refused(
        &pithward(&both),
        &[
            "--small stands beside shape, which says it already",
            "leave out shape and tape the log",
            "--unit stands beside shape",
        ],
    );
}

#[test]
fn faults_of_shape_files() {
    check("missing", "shape = \"none.ply\"", "job.toml:4:9", &["shape", "none.ply", "no file"]);
    check(
        "both",
        "shape = \"oak.csv\"\nbutt = \"15 in\"",
        "job.toml:5:8",
        &["butt stands beside shape", "leave it out, or leave out shape"],
    );
    check(
        "unit",
        "shape = \"crooked.ply\"\nunit = \"in\"",
        "job.toml:5:8",
        &["unit is 25", "when read in in", "mm"],
    );
    check("ending", "shape = \"job.toml\"", "job.toml:4:9", &["shape is no shape file", ".ply"]);
    check(
        "bark",
        "shape = \"crooked.ply\"\nbark = \"5/8 in\"",
        "job.toml:5:8",
        &["bark stands beside shape", "scanned peeled"],
    );
    // A line of the shape file has its place there.
    let (directory, job) = place("scans-line", "shape = \"bad.csv\"");
    put(&directory, "bad.csv", OAK.replacen("\n0,0,8.9375,", "\n0,0,wide,", 1));
    refused(&pithward(&["check", &job]), &["bad.csv:2:5", "wide", "help: "]);
}

#[test]
#[allow(clippy::disallowed_methods, reason = "a scan has the platform's own sine")]
fn half_a_scan_is_no_log() {
    let (directory, job) = place("scans-half", "shape = \"half.obj\"\nunit = \"in\"");
    // The upper half of a round log, as seen from above: its under side is missing.
    let mut obj = String::new();
    let (rings, around) = (21, 13);
    for ring in 0..rings {
        for n in 0..around {
            let angle = std::f64::consts::PI * f64::from(n) / f64::from(around - 1);
            let (sin, cos) = angle.sin_cos();
            let (y, z) = (8.0 * cos, 8.0 * sin);
            obj += &format!("v {} {y} {z}\n", 6 * ring);
        }
    }
    for ring in 1..rings {
        for n in 1..around {
            let at = |ring: i32, n: i32| (ring - 1) * around + n;
            obj += &format!(
                "f {} {} {} {}\n",
                at(ring, n),
                at(ring + 1, n),
                at(ring + 1, n + 1),
                at(ring, n + 1)
            );
        }
    }
    put(&directory, "half.obj", obj);
    let stderr = refused(&pithward(&["check", &job]), &["job.toml:4:9", "shape ", "help: "]);
    assert_eq!(stderr.matches("error: ").count(), 1, "{stderr}");
}
