//! The committed schema is the generated one, and plans keep to it.

use crate::common::pile::{log, logs, pile_job, planned_pile};
use crate::common::real::{by_hand, crooked, flaw, real_job};
use crate::common::{job, length, planned};
use pithward_geometry::{Angle, Flaw, FlawKind, Frame, Region};
use pithward_job::job_schema;
use pithward_optimizer::LogFate;
use pithward_report::{
    bill_schema, compare_schema, json, pile_json, pile_schema, schema, tally_schema,
};
use serde_json::Value;
use std::path::Path;

/// A schema as it is committed; written anew where that is asked for.
#[track_caller]
fn committed(name: &str, generated: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../data/schema").join(name);
    if std::env::var_os("UPDATE_SCHEMA").is_some() {
        std::fs::write(&path, generated).unwrap();
    }
    let committed = std::fs::read_to_string(&path).unwrap();
    assert!(committed == generated, "run this test with UPDATE_SCHEMA=1 and commit {name}");
}

#[test]
fn the_committed_schemas_are_the_generated_ones() {
    committed("plan.schema.json", &schema());
    committed("pile.schema.json", &pile_schema());
    committed("job.schema.json", &job_schema());
    committed("tally.schema.json", &tally_schema());
    committed("bill.schema.json", &bill_schema());
    committed("compare.schema.json", &compare_schema());
}

#[test]
fn the_plan_of_a_pile_keeps_to_the_schema_and_a_spoilt_one_does_not() {
    let schema: Value = serde_json::from_str(&pile_schema()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let mut logs = logs(4);
    logs.push(log("giant", "white oak", "38 in", "40 in", "12 ft 4 in"));
    let job = pile_job(logs, &["8x8x16=1", "2x8x12=4", "1x4"]);
    let (pile, mut plan) = planned_pile(&job);
    // What only a search that was stopped leaves, and a log that nobody needs.
    plan.logs.extend([LogFate::Unplanned, LogFate::LeftWhole]);
    let mut job = job;
    let mut pile = pile;
    for place in [0, 1] {
        job.logs.push(job.logs[place].clone());
        pile.logs.push(pile.logs[place].clone());
    }
    let mut text = Vec::new();
    pile_json(&job, &pile, &plan, &mut text).unwrap();
    let mut plan: Value = serde_json::from_slice(&text).unwrap();
    let errors: Vec<String> = validator.iter_errors(&plan).map(|error| error.to_string()).collect();
    assert!(errors.is_empty(), "{errors:?}");
    let fates: Vec<&Value> =
        plan["logs"].as_array().unwrap().iter().map(|log| &log["fate"]).collect();
    for fate in ["sawn", "impossible", "unplanned", "left_whole"] {
        assert!(fates.contains(&&Value::from(fate)), "{fate}");
    }
    plan["logs"][0]["log"]["small_end"] = Value::from("12 in");
    assert!(!validator.is_valid(&plan));
}

#[test]
fn the_example_keeps_to_the_schema_and_is_the_one_that_the_readme_reckons() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../data/schema");
    let path = folder.join("plan.example.json");
    if std::env::var_os("UPDATE_SCHEMA").is_some() {
        let job = job("12 in", "13 in", "8 ft 4 in", &["6x6x8=1", "1x6x8", "1x4x8"]);
        let (planned, near) = planned(&job);
        std::fs::write(&path, json(&job, &planned, &near)).unwrap();
    }
    let example: Value = serde_json::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
    let schema: Value = serde_json::from_str(&schema()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let errors: Vec<String> =
        validator.iter_errors(&example).map(|error| error.to_string()).collect();
    assert!(errors.is_empty(), "{errors:?}");
    let readme = std::fs::read_to_string(folder.join("README.md")).unwrap().replace(' ', "");
    let stages = example["stages"].as_array().unwrap();
    for stage in &stages[..2] {
        let pith = stage["pith_small_end"].to_string();
        assert!(readme.contains(&pith), "README reckons with another pith height than {pith}");
    }
}

#[test]
fn the_plan_of_a_crooked_log_with_flaws_keeps_to_the_schema() {
    let schema: Value = serde_json::from_str(&schema()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let (from, to) = (length("9 ft"), length("12 ft 4 in"));
    let turn = Angle::degrees(200);
    let regions = [
        Region::Heart { radius: length("1 in") },
        Region::Ring { inner: length("2 in"), outer: length("2 1/4 in") },
        Region::Radial { clock: turn, from: length("6 in"), to: length("7 in") },
        Region::Side { clock: turn, width: Angle::degrees(20), depth: length("1 in") },
        Region::Spot { clock: turn, away: length("4 in"), radius: length("1 in") },
    ];
    let flaws = regions.map(|region| flaw("rot", Flaw { kind: FlawKind::Rot, from, to, region }));
    let job = real_job(crooked(), flaws.to_vec(), &["2x6x8"]);
    let by_hand = by_hand(&job, Frame::turned(turn), length("3 ft 5 in"));
    let mut plan: Value = serde_json::from_str(&json(&job, &by_hand, &[])).unwrap();
    let errors: Vec<String> = validator.iter_errors(&plan).map(|error| error.to_string()).collect();
    assert!(errors.is_empty(), "{errors:?}");
    assert_eq!(plan["frame"]["turn"], 200_000);
    assert_eq!(plan["log"]["flaws"].as_array().unwrap().len(), 5);
    plan["log"]["sections"][0]["wood"][0] = Value::from(1);
    assert!(!validator.is_valid(&plan));
}

#[test]
fn a_plan_keeps_to_the_schema_and_a_spoilt_one_does_not() {
    let schema: Value = serde_json::from_str(&schema()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let job = job("14 in", "15 1/2 in", "10 ft 3 in", &["2x6x10=4", "1x4"]);
    let (planned, near) = planned(&job);
    let mut plan: Value = serde_json::from_str(&json(&job, &planned, &near)).unwrap();
    let errors: Vec<String> = validator.iter_errors(&plan).map(|error| error.to_string()).collect();
    assert!(errors.is_empty(), "{errors:?}");
    plan["stages"][0]["passes"][0]["height"] = Value::from("8 1/2 in");
    assert!(!validator.is_valid(&plan));
}
