//! `pithward tally`: what a person types and sees, what is refused, and what follows from it.

use crate::common;

use std::fs;
use std::path::PathBuf;
use std::process::Output;
use std::thread;

use crate::common::{command, directory, pithward, printed, put, refused};
use serde_json::Value;

const SCHEMA: &str = include_str!("../../../../data/schema/tally.schema.json");

/// Three logs of an invented yard, and a mill that states a price of an hour.
const JOB: &str = r#"
[mill]
file = "mill.toml"

[[logs]]
id = "A1"
species = "white oak"
small_end = "14 in"
butt = "15 in"
length = "12 ft 4 in"

[[logs]]
id = "A10"
species = "white oak"
small_end = "16 in"
butt = "17 in"
length = "12 ft 4 in"

[[logs]]
id = "yard pine"
species = "red pine"
small_end = "12 in"
butt = "13 in"
length = "10 ft 4 in"

[[wants]]
size = "2x8x12"
count = 10

[[wants]]
size = "1x6x10"
count = 4

[[wants]]
size = "1x8"
"#;

/// A job in a directory of its own.
struct Yard(PathBuf);

impl Yard {
    fn new(name: &str) -> Self {
        let place = directory(&format!("tally_{name}"));
        put(&place, "job.toml", JOB);
        let mill = format!("{}\n[charges]\nhour = \"90 USD/h\"\n", common::GENERIC);
        put(&place, "mill.toml", mill);
        Self(place)
    }

    fn path(&self, name: &str) -> String {
        self.0.join(name).to_str().expect("the directory is UTF-8").to_owned()
    }

    /// Runs the command in New York, a word for each word.
    fn run(&self, words: &[&str]) -> Output {
        let job = self.path("job.toml");
        let mut command = command(&[&["tally", &job], words].concat());
        command.env("TZ", "America/New_York").output().expect("the binary was built for this test")
    }

    /// What is printed of it.
    #[track_caller]
    fn says(&self, words: &str) -> String {
        let words: Vec<&str> = words.split_whitespace().collect();
        flat(&printed(&self.run(&words)))
    }

    /// The same at a time of a day in May.
    #[track_caller]
    fn at(&self, clock: &str, words: &str) -> String {
        let at = format!("2024-05-02 {clock}");
        let words: Vec<&str> = words.split_whitespace().chain(["--at", &at]).collect();
        flat(&printed(&self.run(&words)))
    }

    fn tally(&self) -> String {
        fs::read_to_string(self.path("job.tally")).expect("the tally is there")
    }

    #[track_caller]
    fn json(&self) -> Value {
        let text = printed(&self.run(&["--json"]));
        serde_json::from_str(&text).expect("stdout holds one whole JSON value")
    }
}

/// Words as they follow each other, wherever a line ends.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_day_as_it_is_typed() {
    let yard = Yard::new("day");
    let nothing = yard.says("");
    assert!(nothing.starts_with("Nothing is said yet; 0 of 3 logs done"), "{nothing}");
    assert!(nothing.contains("2x8x12 10 0 of 10"), "{nothing}");
    assert!(!yard.0.join("job.tally").exists());

    let begun = yard.at("7:30", "be set");
    assert!(begun.contains("Kept: 1 2024-05-02 07:30 begin setup"), "{begun}");
    yard.at("8:00", "on a1");
    let off = yard.at("8:30", "off 4 2x8x12 1 1x6");
    assert!(off.contains("Kept: 3 2024-05-02 08:30 off 4 2x8x12 1 1x6x10"), "{off}");
    assert!(off.contains("2x8x12 6 4 of 10") && off.contains("1x6x10 3 1 of 4"), "{off}");
    yard.at("8:40", "pause coffee");
    yard.at("8:55", "begin");
    yard.at("9:00", "on y");
    yard.at("9:20", "off 2 1x8x10");
    yard.at("9:30", "done");
    yard.at("9:30", "begin pack");
    let stopped = yard.at("9:45", "stop");
    assert!(stopped.contains("Stopped; 2 of 3 logs done"), "{stopped}");
    // Sawing from 8:00 to 9:30 but for the coffee: 1 h 15 min, 7 pieces.
    assert!(
        stopped.contains("Off: 7 pieces, 82.3 bf; an hour at the saw 5.6 pieces, 66 bf"),
        "{stopped}"
    );
    assert!(
        stopped.contains("Worked: 2 h (setting up 30 min, sawing 1 h 15 min, packing up 15 min, paused 15 min, not counted)"),
        "{stopped}"
    );
    assert!(stopped.contains("Cost so far: 180.00 USD"), "{stopped}");
    assert_eq!(yard.tally().lines().filter(|line| !line.starts_with('#')).count(), 11);

    let json = yard.json();
    let schema: Value = serde_json::from_str(SCHEMA).expect("the schema is JSON");
    let validator = jsonschema::validator_for(&schema).expect("the schema is one");
    let errors: Vec<String> = validator.iter_errors(&json).map(|e| e.to_string()).collect();
    assert!(errors.is_empty(), "{errors:?}");
    assert_eq!(json["spent"]["sawing"], 75 * 60_000);
    assert_eq!(json["logs"][2]["takes"], 30 * 60_000);
    assert_eq!(json["bill"]["total"]["amount"], "180.00");
    assert_eq!(json["pauses"][0]["why"], "coffee");
}

#[test]
fn an_entry_is_taken_back_and_that_as_well() {
    let yard = Yard::new("undo");
    yard.at("8:00", "on A1");
    yard.at("8:10", "off 5 2x8x12");
    let undone = yard.says("undo");
    assert!(
        undone.contains("undo 2 (was: off 5 2x8x12)") && undone.contains("2x8x12 10 0 of 10"),
        "{undone}"
    );
    assert!(yard.says("undo 3").contains("2x8x12 5 5 of 10"));
    assert!(yard.tally().contains(" off 5 2x8x12 | "));
    refused(&yard.run(&["undo", "9"]), &["there is no entry 9", "--json"]);
    refused(&yard.run(&["undo", "3"]), &["entry 3 is undone already, by entry 4"]);
    refused(&Yard::new("undo_none").run(&["undo"]), &["there is no entry to be undone"]);
}

#[test]
fn what_says_nothing_is_refused_and_not_kept() {
    let yard = Yard::new("refused");
    refused(
        &yard.run(&["on", "A2"]),
        &["\"A2\" is no log of the job", "tally \"on A2\"", "^^", "the nearest: A1 or A10"],
    );
    refused(&yard.run(&["on", "a"]), &["\"a\" may be A1 or A10"]);
    refused(&yard.run(&["of", "2", "2x8x1z"]), &["2x8x1z"]);
    let both = refused(
        &yard.run(&["off", "0", "2x8", "--at", "25:00"]),
        &["\"25:00\" is no time", "2 faults"],
    );
    assert!(both.contains("a count must be a whole number between 1 and 10000"), "{both}");
    refused(&yard.run(&["on", "A1", "--at", "2099-01-01 8:00"]), &["is still to come"]);
    refused(&yard.run(&["off", "planned"]), &["no log is on the mill"]);
    refused(&yard.run(&["off", "A1", "planned"]), &["no promise is kept", "quote JOB --keep"]);
    refused(&yard.run(&["confirm"]), &["nothing to confirm"]);
    assert!(!yard.0.join("job.tally").exists() || yard.tally().is_empty());
}

#[test]
fn sizes_that_nobody_wants_and_wants_that_change() {
    let yard = Yard::new("sizes");
    yard.at("8:00", "on yard");
    let other = yard.at("8:10", "off 3 5x5x10 2 2x8x12");
    assert!(other.contains("On no line of the list: 3 of 5x5x10."), "{other}");
    let changed = yard.at("8:20", "want 2x8x12 2");
    assert!(changed.contains("Filled: 1 line."), "{changed}");
    let added = yard.at("8:30", "want 5x5x10 4");
    assert!(added.contains("5x5x10 (new) 1 3 of 4") && !added.contains("On no line"), "{added}");
}

#[test]
fn metal_is_warned_of() {
    let yard = Yard::new("metal");
    yard.at("8:00", "on A1");
    assert!(
        yard.at("8:10", "found nail at 9 o'clock 3 ft from the butt")
            .contains("CAUTION Metal is seldom alone")
    );
    assert!(yard.at("8:12", "blade struck").contains("CAUTION"));
    assert!(!yard.at("8:14", "blade").contains("Metal is seldom"));
    assert!(yard.says("").contains("Blades off: 1 dull, 1 struck"));
}

#[test]
fn work_that_nobody_stopped_is_told() {
    let yard = Yard::new("forgotten");
    assert!(
        yard.at("8:00", "on A1")
            .contains("work still runs. Nothing is counted since then. If it stopped, say when: stop --at \"2024-05-02 08:00\"")
    );
    assert!(!yard.at("8:10", "stop").contains("still runs"));
}

#[test]
fn what_is_planned_comes_off_in_one_stroke() {
    let yard = Yard::new("planned");
    printed(&pithward(&["quote", &yard.path("job.toml"), "--piles", "30", "--keep"]));
    let on = yard.says("on A1 --at -30");
    for said in ["To go: ", " for 3 logs", "Price in the end: ", "The promise"] {
        assert!(on.contains(said), "no {said:?} in {on}");
    }
    let promise = fs::read_to_string(yard.path("job.promise")).expect("the promise is kept");
    // Some of what is planned was said before.
    let some = yard.says("off 1 1x8x12");
    let off = yard.says("off pl");
    assert!(off.contains("off planned ") && off.contains("from A1"), "{off}");
    let json = yard.json();
    let pieces = json["logs"][0]["pieces"].as_array().expect("pieces are a list");
    let all: u64 = pieces.iter().filter_map(|piece| piece["count"].as_u64()).sum();
    let kept: Value = serde_json::from_str(&promise).expect("the promise is JSON");
    let planned = kept["logs"][0]["sawn"]["products"].as_array().expect("products are a list");
    let planned: u64 = planned.iter().filter_map(|product| product["count"].as_u64()).sum();
    assert_eq!(all, planned, "{some}\n{off}\n{promise}");
    refused(&yard.run(&["off", "planned"]), &["all that is planned of log A1 is off already"]);
    assert_eq!(json["ahead"]["logs_to_go"], 3);
    assert!(yard.says("on A10").contains(" for 2 logs"));
    // A job that was changed is told; a promise that cannot be read keeps nobody from an entry.
    put(&yard.0, "job.toml", JOB.replace("count = 4", "count = 5"));
    assert!(yard.says("").contains("Changed since it was promised: job.toml"));
    put(&yard.0, "job.promise", "{");
    let without = yard.says("off 1 2x8x12");
    assert!(without.contains("is no kept promise") && without.contains("Kept: 5 "), "{without}");
}

#[test]
fn what_a_phone_has_exported_is_added_once() {
    let yard = Yard::new("read");
    let line =
        |time: &str, words: &str| format!("2024-05-02T{time}:00-04:00[America/New_York] {words}\n");
    let export =
        line("08:00", "on A1") + &line("08:20", "off 4 2x8x12") + &line("08:20", "note rain");
    put(&yard.0, "phone.txt", &export);
    let phone = yard.path("phone.txt");
    let read = flat(&printed(&yard.run(&["read", &phone])));
    assert!(read.starts_with("3 entries are new, 0 were here already."), "{read}");
    let before = yard.tally();
    put(&yard.0, "phone.txt", export + &line("08:30", "undo") + &line("08:40", "stop"));
    let again = flat(&printed(&yard.run(&["read", &phone])));
    assert!(again.starts_with("2 entries are new, 3 were here already."), "{again}");
    assert!(yard.tally().starts_with(&before) && yard.tally().contains("undo 3"));
    assert!(flat(&printed(&yard.run(&["read", &phone]))).starts_with("Nothing in"));
    put(&yard.0, "bad.txt", line("08:00", "on A1") + &line("08:10", "on A2") + "off 4 2x8x12\n");
    let bad = yard.path("bad.txt");
    refused(
        &yard.run(&["read", &bad]),
        &["\"A2\" is no log of the job", ":2", "does not begin with a time", "2 faults"],
    );
    refused(&yard.run(&["read", &yard.path("none.txt")]), &["cannot be read"]);
}

#[test]
fn two_people_at_once_lose_nothing() {
    let yard = Yard::new("two");
    thread::scope(|scope| {
        for person in ["left", "right"] {
            let yard = &yard;
            scope.spawn(move || {
                for n in 0..200 {
                    let text = format!("{person}-{n}");
                    printed(&yard.run(&["note", &text]));
                }
            });
        }
    });
    let json = yard.json();
    let entries = json["entries"].as_array().expect("entries are a list");
    let numbers: Vec<u64> = entries.iter().filter_map(|entry| entry["number"].as_u64()).collect();
    assert_eq!(numbers, (1..=400).collect::<Vec<_>>());
    assert_eq!(json["warnings"].as_array().map(Vec::len), Some(0));
    let tally = yard.tally();
    for person in ["left", "right"] {
        let all = (0..200).all(|n| tally.contains(&format!(" note {person}-{n} | ")));
        assert!(all, "{person}");
    }
}
