//! What a mill's own jobs came to, as it stands in its file, right and wrong.

use super::{Learned, Recovery};
use crate::job_file::parse_job;
use crate::mill_file::{Outfit, parse_outfit};
use pithward_trade::species::Kind;
use std::path::Path;

const GENERIC: &str = include_str!("../../../../data/mills/generic.toml");

fn outfit(more: &str) -> Result<Outfit, Vec<String>> {
    let text = format!("{GENERIC}\n{more}\n");
    parse_outfit(text.as_bytes(), "mill.toml", "--mill")
        .map_err(|faults| faults.iter().map(ToString::to_string).collect())
}

#[track_caller]
fn check(more: &str, expected: &[&str]) {
    assert_eq!(outfit(more).unwrap_err(), expected, "{more}");
}

#[test]
fn a_mill_that_says_nothing_loses_nothing() {
    let plain = outfit("").unwrap();
    assert_eq!((plain.recovery, plain.learned), (Recovery::default(), None));
    assert!(plain.recovery.is_whole());
    assert!([None, Some(Kind::Softwood)].iter().all(|wood| plain.recovery.of(*wood) >= 1.0));
}

#[test]
fn every_figure_is_read() {
    let read = outfit(
        "[recovery]\nsoftwood = 97\nhardwood = \"94.5 %\"\nunsure = 2\ntogether = 15\n\
         [learned]\nfrom = \"mill.toml\"\non = 2026-05-02\njobs = 3\nlogs = 41\npace_day = 0.08\npace_log = \"17 %\"",
    )
    .unwrap();
    let shares =
        Recovery { softwood: 0.97, hardwood: 0.945, unsure: 0.02, together: 0.15, stated: true };
    assert_eq!(read.recovery, shares);
    assert_eq!((shares.of(Some(Kind::Softwood)), shares.of(None)), (0.97, 0.945));
    let learned = Learned {
        from: "mill.toml".to_owned(),
        on: "2026-05-02".to_owned(),
        jobs: 3,
        logs: 41,
        pace: Vec::new(),
        pace_day: Some(0.08),
        pace_log: Some(0.17),
    };
    assert_eq!(read.learned, Some(learned));
}

#[test]
fn every_fault_is_told_at_once() {
    check(
        "[recovery]\nsoftwood = 29\nhardwood = 101\nunsure = \"x\"\ntogether = -1\nlost = 2\n\
         [learned]\non = \"\"\njobs = -3\nlogs = \"x\"\npace_day = 2\npace_log = \"fast\"",
        &[
            "softwood must be between 30 % and 100 %, got \"29\"",
            "hardwood must be between 30 % and 100 %, got \"101\"",
            "unsure: \"x\" is no percentage",
            "together must be between 0 % and 100 %, got \"-1\"",
            "\"lost\" is no field of [recovery]",
            "from: missing from [learned]",
        ],
    );
    check(
        "[learned]\nfrom = \"a.toml\"\non = \"\"\njobs = -3\nlogs = \"x\"\npace_day = 2\npace_log = \"fast\"",
        &[
            "on must be 1 to 200 characters on one line, got \"\"",
            "jobs must be a whole number between 0 and 1000000, got \"-3\"",
            "logs must be a whole number between 0 and 1000000, got '\"x\"'",
            "pace_day must be between 0 and 1, got \"2\"",
            "pace_log: \"fast\" is no number from 0 to 1",
        ],
    );
    check("recovery = 97", &["recovery must be a table, got \"97\""]);
}

#[test]
fn a_job_takes_the_spread_of_its_mill_where_it_says_nothing() {
    let job = |mill: &str, doubt: &str| {
        let text = format!(
            "logs = [{{ id = \"1\", small_end = \"14 in\", butt = \"16 in\", length = \"8 ft\" }}]\n\
             wants = [{{ size = \"4/4\" }}]\n[mill]\n{}\n{mill}\n{doubt}\n",
            GENERIC.lines().filter(|line| !line.starts_with('#')).collect::<Vec<_>>().join("\n"),
        );
        parse_job(text.as_bytes(), "job.toml", "JOB", Path::new("")).unwrap()
    };
    let mill = "[mill.recovery]\nsoftwood = 90\n[mill.learned]\nfrom = \"a\"\npace_day = 0.05\npace_log = 0.3";
    let plain = job("", "").doubt;
    assert_eq!((plain.pace_day, plain.pace_log), (0.10, 0.20));
    let learned = job(mill, "");
    assert_eq!((learned.doubt.pace_day, learned.doubt.pace_log), (0.05, 0.3));
    assert!((learned.recovery.softwood - 0.9).abs() < 1e-12);
    let stated = job(mill, "[doubt]\npace_day = 0.2").doubt;
    assert_eq!((stated.pace_day, stated.pace_log), (0.2, 0.3));
}
