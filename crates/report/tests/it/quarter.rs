//! A quartered log on its card and in its JSON: what is set aside, what is put back, and which face stands where.

use crate::common::{fits, flat, job, says};
use pithward_geometry::PartId;
use pithward_job::LogJob;
use pithward_optimizer::{Answer, Fate, Method, Planned, Rings, Settings, open};
use pithward_report::{card, json, schema};
use pithward_trade::RingClass;
use serde_json::Value;

/// A job by quarter sawing, its plan and its card; `rings` is what all wants ask of their rings.
fn quartered(small: &str, rings: Option<RingClass>) -> (LogJob, Planned, String) {
    let mut job = job(small, small, "8 ft 4 in", &["1x4x8", "1x6x8", "1x8x8"]);
    job.settings.methods = vec![Method::Quarter];
    let mut wants = job.optimizer_wants();
    wants.iter_mut().for_each(|want| want.rings = rings.map(Rings::only));
    let settings = Settings { methods: vec![Method::Quarter], ..Settings::all(&job.mill) };
    let Answer::Planned(planned) = open(&job.log, &job.mill, &wants, &settings).unwrap() else {
        panic!("there is a board in it");
    };
    let text = fits(card(&job, &planned, &[]));
    (job, *planned, text)
}

#[test]
fn a_segment_is_set_aside_and_put_back_on_its_bark() {
    let (_, planned, text) = quartered("20 in", None);
    println!("{text}");
    assert_eq!(planned.plan.order.resaws.len(), 1);
    for words in [
        "1 turn, 1 part taken off and put back",
        "segment: TAKE IT OFF, set it aside and chock it; it is put back later; opens ",
        "SEGMENT 1 PUT IT BACK: face A against the side stops, bark down",
        "What is put back is not drawn.",
        "It speaks for quarter sawing (in quarters pairs of boards of one thickness, about the pith packs of one)",
        "Halves, segments and quarters are hard to hold and may roll",
        "the mill's manual rules.",
    ] {
        says(&text, words);
    }
    assert_eq!(flat(&text).matches("One may be heavier than anyone can lift").count(), 1);
    assert!(!text.contains("12 o'clock mark is"), "the mark may be on what was set aside");
}

#[test]
fn a_half_is_parted_and_its_quarters_are_sawn_from_either_flat_in_turn() {
    let (_, planned, text) = quartered("24 in", Some(RingClass::Quarter));
    println!("{text}");
    let order = &planned.plan.order;
    let nested = order.resaws.iter().filter(|resaw| resaw.part.resaw().is_some()).count();
    assert_eq!((order.resaws.len(), nested), (3, 1));
    for words in [
        "3 parts taken off and put back",
        "half: TAKE IT OFF, set it aside and chock it; it is put back later; opens ",
        "FACE B TURN A QUARTER (90): face A against the side stops, bark down",
        "quarter: TAKE IT OFF, set it aside and chock it; it is put back later",
        "IN TURN a quarter turn (90) before every pass, bark down",
        "where there is none, clamp on the flat that looks away from them.",
        "HALF 1 PUT IT BACK: face A against the side stops, bark down",
        "QUARTER 2 PUT IT BACK: face B against the side stops, bark down, face A up",
        "Press face B flat against the stops. ",
    ] {
        says(&text, words);
    }
    assert_eq!(text.matches("\nIN TURN ").count(), 4, "{text}");
    // Every pass has its line, with a number of its own and its height on the scale.
    let bodies = std::iter::once(&order.stages).chain(order.resaws.iter().map(|r| &r.stages));
    let passes = bodies.flatten().flat_map(|stage| &stage.passes);
    let flat = flat(&text);
    for (n, pass) in passes.enumerate() {
        let scale = pithward_measure::Scale::Sixteenths;
        let height = scale.bare(pass.printed).to_string();
        let line = flat.split(&format!(" {} ", n + 1)).any(|rest| {
            let words: Vec<&str> = rest.split_whitespace().take(8).collect();
            words.join(" ").contains(&height)
        });
        assert!(line, "no pass {} at {height} in {text}", n + 1);
    }
    // A board is edged under the number of the pass that frees it.
    let log: usize = order.stages.iter().map(|stage| stage.passes.len()).sum();
    let first = planned.plan.parts.iter().find_map(|part| match (part.id, &part.fate) {
        (PartId::FreedOf { resaw: 1, pass }, Fate::Flitch { batch, .. }) => Some((pass, *batch)),
        _ => None,
    });
    let (pass, batch) = first.unwrap();
    let number = log + usize::try_from(pass).unwrap();
    let row = flat.split(&format!(" {number} ")).any(|rest| {
        let words: Vec<&str> = rest.split_whitespace().take(12).collect();
        words.join(" ").contains(&format!("to edging batch {batch}:"))
    });
    assert!(row, "pass {number} does not go to batch {batch}: {text}");
}

#[test]
fn its_json_keeps_to_the_schema_and_says_what_is_put_back() {
    let schema: Value = serde_json::from_str(&schema()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    for (small, rings, resaws) in [("20 in", None, 1), ("24 in", Some(RingClass::Quarter), 3)] {
        let (job, planned, _) = quartered(small, rings);
        let plan: Value = serde_json::from_str(&json(&job, &planned, &[])).unwrap();
        let errors: Vec<String> = validator.iter_errors(&plan).map(|e| e.to_string()).collect();
        assert!(errors.is_empty(), "{errors:?}");
        assert_eq!(plan["method"], "quarter");
        let all = plan["resaws"].as_array().unwrap();
        assert_eq!(all.len(), resaws);
        for (n, resaw) in (1..).zip(all) {
            let part = plan["parts"].as_array().unwrap().iter();
            let own: Vec<_> = part.filter(|part| part["part"] == resaw["part"]).collect();
            assert_eq!(own.len(), 1);
            assert_eq!((&own[0]["fate"], &own[0]["resaw"]), (&"put_back".into(), &n.into()));
            let frees = &resaw["stages"][0]["passes"][0]["frees"];
            assert_eq!(frees["freed_by_pass_of"]["resaw"], n);
        }
    }
}
