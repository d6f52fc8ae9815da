//! Stems, as a person at a shell meets them: as a subcommand of their own, and beside the logs of a job.

use crate::common::{file, pithward, printed, refused};
use serde_json::Value;

/// A round stem of 42 ft and a list.
const STEM: [&str; 14] = [
    "buck",
    "--small",
    "11 in",
    "--butt",
    "19 in",
    "--length",
    "42 ft",
    "--trim",
    "3",
    "--log-lengths",
    "8/10/12",
    "--want",
    "2x8x12=6",
    "--want=1x6",
];

/// A job of two logs and a stem between two of which something is cut out.
fn job(name: &str) -> String {
    let text = "[[logs]]\nid = \"a\"\nspecies = \"white oak\"\nsmall_end = \"14 in\"\nbutt = \"15 in\"\nlength = \"8 ft 2 in\"\n\n\
                [[logs]]\nid = \"S-1\"\nspecies = \"white oak\"\nsmall_end = \"9 in\"\nbutt = \"10 in\"\nlength = \"8 ft 2 in\"\n\n\
                [[stems]]\nid = \"S\"\nspecies = \"red pine\"\nsmall_end = \"9 in\"\nbutt = \"15 in\"\nlength = \"30 ft\"\n\
                flaws = [\"rot radius 2 in from butt length 2 ft\"]\ncut_out = [\"10 ft to 11 ft\"]\n\n\
                [bucking]\nlog_lengths = \"8/9\"\n\n\
                [[wants]]\nsize = \"2x8x8\"\ncount = 2\n\n[[wants]]\nsize = \"1x6\"\nspecies = \"red pine\"\n";
    file(name, text.as_bytes())
}

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn json(text: &str) -> Value {
    serde_json::from_str(text).expect("one whole JSON value")
}

#[test]
fn the_marks_of_a_stem_are_told_from_its_butt() {
    let said = printed(&pithward(&STEM));
    assert!(said.lines().all(|line| line.chars().count() <= 80), "{said}");
    let said = flat(&said);
    for part in [
        "BUCK THE STEMS FIRST places from the butt end along the stem",
        "STEM S 11 in small end, 19 in butt, 42 ft long",
        "mark 1 8 ft 3 in log S-2, 12 ft 3 in",
        "the 3/8 in that it takes",
        "With always the longest log first (3 logs), the stem would bring the job to",
        "8 ft 3 in, 10 ft 3 in and 12 ft 3 in long (as the job says, the trim with them)",
        "Proven: however the stems are cut into such logs",
        "Kickback",
        "manual, protective clothing and trained practice come first",
        "2x8x12 6 6 - - 96",
    ] {
        assert!(said.contains(part), "{part}\n{said}");
    }
    assert!(!said.contains("ORDER OF SAWING"), "{said}");
    let cards = printed(&pithward(&[&STEM[..], &["--cards"]].concat()));
    for log in ["S-1", "S-2", "S-3"] {
        assert!(cards.contains(&format!("log {log}")), "{log}\n{cards}");
    }
}

/// From the marks alone every log can be found again: they lie where the parts are, a kerf apart.
#[test]
fn the_cuts_of_a_stem_are_whole_in_json() {
    let plan =
        json(&printed(&pithward(&[&STEM[..], &["--json", "--chain-kerf", "1/2 in"]].concat())));
    let (bucking, logs) = (&plan["bucking"], plan["logs"].as_array().unwrap());
    let kerf = bucking["chain_kerf"].as_i64().unwrap();
    assert_eq!(kerf, 12_700_000);
    let stem = &bucking["stems"][0];
    let parts = stem["parts"].as_array().unwrap();
    let (mut at, mut place) = (0, 0);
    for part in parts {
        let (from, to) = (part["from"].as_i64().unwrap(), part["to"].as_i64().unwrap());
        assert_eq!(from, if at == 0 { 0 } else { at + kerf }, "{parts:?}");
        at = to;
        if part["what"] == "log" {
            assert_eq!(part["log"], place);
            assert_eq!(logs[place]["log"]["length"].as_i64().unwrap(), to - from);
            assert_eq!(logs[place]["id"], format!("S-{}", place + 1));
            place += 1;
        }
    }
    assert_eq!((place, at), (logs.len(), stem["stem"]["length"].as_i64().unwrap()));
    let (value, bound) = (&bucking["value"], &bucking["bound"]);
    assert_eq!(value, &plan["result"]["value"]);
    assert!(bound.as_i64() >= value.as_i64());
    for plain in bucking["plain"].as_array().unwrap() {
        assert!(plain["value"].as_i64() <= value.as_i64(), "{plain}");
    }
}

#[test]
fn stems_beside_logs_are_cut_first() {
    let job = job("stem-beside-logs.toml");
    let said = flat(&printed(&pithward(&["plan", &job])));
    for part in [
        "PILE 5 logs, 3 of them cut from 1 stem",
        "STEM S 9 in small end, 15 in butt, 30 ft long",
        "cut out, as the job says",
        // A log of the job is called S-1 already.
        "log S-1',",
        "log S-2,",
        "ORDER OF SAWING",
    ] {
        assert!(said.contains(part), "{part}\n{said}");
    }
    let card = flat(&printed(&pithward(&["plan", &job, "--card", "S-1'"])));
    assert!(card.contains("(as said of stem S)"), "{card}");
    refused(&pithward(&["plan", &job, "--card", "T-1"]), &["T-1", "no log of the job"]);
    refused(&pithward(&["plan", &job, "--card", "S-9"]), &["S-9", "no log of the job"]);
    let count = flat(&printed(&pithward(&["count", "1x6", &job])));
    assert!(count.contains("BUCK THE STEMS FIRST") && count.contains("log S-2"), "{count}");
}

#[test]
fn every_fault_of_the_cuts_is_told_at_once() {
    let call = [
        &STEM[..11],
        &[
            "--chain-kerf",
            "3 in",
            "--cut-out",
            "60 ft to 70 ft",
            "--shortest",
            "14",
            "--longest",
            "9",
            "--want",
            "2x9x",
        ],
    ]
    .concat();
    refused(&pithward(&call), &["--chain-kerf", "--cut-out", "--shortest", "--want", "2x9x"]);
    refused(&pithward(&["buck", "--length", "30 ft"]), &["--small", "--butt", "--want"]);
}

/// The shipped day has a stem.
#[test]
fn the_stem_of_the_crooked_yard_is_cut() {
    let yard = concat!(env!("CARGO_MANIFEST_DIR"), "/../../data/jobs/crooked-yard.toml");
    let said = flat(&printed(&pithward(&["plan", yard])));
    for part in ["STEM E", "cut out, as the job says", "log E-1, ", "log E-2, ", "NOTED"] {
        assert!(said.contains(part), "{part}\n{said}");
    }
}
