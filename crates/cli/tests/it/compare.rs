//! `pithward compare`: what a person sees, and what is refused.

use crate::common::{pithward, printed, refused, told};
use serde_json::Value;

const OAK_FACES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../data/jobs/oak-faces.toml");

/// What is printed where there is something to compare.
fn compare(arguments: &[&str]) -> String {
    printed(&pithward(&[&["compare"], arguments].concat()))
}

const LOG: [&str; 6] = ["--small", "18", "--butt", "20", "--length", "12 ft 4 in"];

/// The figures of a row of the table.
fn row<'t>(text: &'t str, name: &str) -> Vec<&'t str> {
    let line = text.lines().find(|line| line.trim_start().starts_with(name));
    let line = line.unwrap_or_else(|| panic!("no row {name} in:\n{text}"));
    line.trim_start().trim_start_matches(name).split_whitespace().collect()
}

#[test]
fn one_log_is_told_by_every_method_that_gives_something_and_one_is_advised() {
    let text = compare(&[&LOG[..], &["--want", "2x6x12", "--want", "1x6"]].concat());
    assert_eq!(row(&text, "turns")[..4], ["0", "1", "2", "3"]);
    let minutes = row(&text, "minutes");
    assert_eq!(minutes.len(), row(&text, "board feet").len());
    assert!(text.contains("Nothing from this log by boxed heart."), "{text}");
    assert!(text.contains("a quarter of an inch"), "{text}");
    // No grades were asked for, so none are spoken of.
    assert!(!text.contains("expected grade"), "{text}");
}

#[test]
fn what_is_seen_on_a_log_costs_it_grade_and_nothing_reads_as_a_stamp() {
    let want = ["--want", "4/4x6up,grade=1 common", "--want", "6x6x12"];
    let knots = ["--seen", "knot 12 2 ft 3 in", "--seen", "knot 12:30 5 ft 3 in"];
    let more = ["--seen", "knot 11:30 8 ft 3 in", "--seen", "knot 12 10 ft 3 in"];
    let clear = compare(&[&LOG[..], &want[..]].concat());
    let knotty = compare(&[&LOG[..], &want[..], &knots[..], &more[..]].concat());
    let fas = |text: &str| -> f64 {
        let cells = row(text, "bf FAS");
        cells.iter().filter_map(|cell| cell.parse::<f64>().ok()).fold(0.0, f64::max)
    };
    assert!(fas(&knotty) < fas(&clear), "{knotty}\n{clear}");
    assert!(knotty.contains("no grade mark, and no promise"), "{knotty}");
}

#[test]
fn logs_of_a_job_are_told_one_by_one_and_together() {
    let two = compare(&[OAK_FACES, "--log", "B2", "--log", "B3"]);
    for words in ["LOG B2", "LOG B3", "TOGETHER   2 logs", "each log by its best"] {
        assert!(two.contains(words), "no {words:?} in:\n{two}");
    }
    let none = pithward(&["compare", OAK_FACES, "--log", "Z9"]);
    refused(&none, &["\"Z9\" is no log of the job", "A1, A2, A3"]);
}

#[test]
fn where_no_method_gives_anything_it_says_what_would() {
    let thin = ["--small", "4", "--butt", "5", "--length", "8", "--want", "2x8x8"];
    let nothing = pithward(&[&["compare"], &thin[..]].concat());
    told(&nothing, 1, &["No method gives a piece", "take a thicker log"]);
}

#[test]
fn as_json_it_keeps_to_its_schema_and_says_what_the_table_says() {
    let validator = {
        let schema = serde_json::from_str(&pithward_report::compare_schema()).expect("JSON");
        jsonschema::validator_for(&schema).expect("a schema")
    };
    let read = |arguments: &[&str]| -> Value {
        let value =
            serde_json::from_str(&compare(&[arguments, &["--json"]].concat())).expect("JSON");
        let errors: Vec<String> = validator.iter_errors(&value).map(|e| e.to_string()).collect();
        assert!(errors.is_empty(), "{errors:?}");
        value
    };
    let asked = [&LOG[..], &["--want", "2x6x12", "--want", "1x6"]].concat();
    let (text, one) = (compare(&asked), read(&asked));
    let methods = one["logs"][0]["methods"].as_array().expect("a list");
    let passes: Vec<String> = methods.iter().map(|method| method["passes"].to_string()).collect();
    assert_eq!(passes, row(&text, "passes"));
    let pieces = |method: &Value| -> u64 {
        method["pieces"].as_array().into_iter().flatten().filter_map(Value::as_u64).sum()
    };
    let pieces: Vec<String> = methods.iter().map(|method| pieces(method).to_string()).collect();
    assert_eq!(pieces, row(&text, "pieces"));
    let says = one["logs"][0]["advice"]["says"].as_str().expect("a sentence");
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat(&text).contains(&flat(says)), "{says}\n{text}");
    let two = read(&[OAK_FACES, "--log", "B2", "--log", "B3"]);
    assert_eq!((&two["logs"][0]["log"], &two["logs"][1]["log"]), (&"B2".into(), &"B3".into()));
    assert!(two["logs"][0]["methods"][0]["grades"].as_array().is_some_and(|all| !all.is_empty()));
}
