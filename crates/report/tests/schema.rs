//! The committed schema is the generated one, and plans keep to it.

#![allow(clippy::unwrap_used, reason = "a test fails where it breaks")]

mod common;

use common::{job, planned};
use pithward_report::{json, schema};
use serde_json::Value;
use std::path::Path;

#[test]
fn the_committed_schema_is_the_generated_one() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../data/schema/plan.schema.json");
    if std::env::var_os("UPDATE_SCHEMA").is_some() {
        std::fs::write(&path, schema()).unwrap();
    }
    let committed = std::fs::read_to_string(&path).unwrap();
    assert_eq!(committed, schema(), "run this test with UPDATE_SCHEMA=1 and commit the file");
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
