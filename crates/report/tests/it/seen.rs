//! What was seen on a log, on its card and in its plan: by the faces as they are opened, on the rim of the end view, in
//! what is assumed, and complete in the JSON.

use crate::common::{fits, flat, planned};
use pithward_geometry::{PartId, Stage};
use pithward_job::{LogJob, OpenRequest};
use pithward_optimizer::{Answer, open};
use pithward_report::{card, json, schema};
use pithward_trade::Grade;
use serde_json::Value;

const SEEN: [&str; 7] = [
    "knot 2:30 3 ft 2 in 2 in",
    "knot 3 7 ft 1 1/2 in over 1 in rise 3 in",
    "bump 6 butt 2 in",
    "seam 12 butt 4 ft",
    "scar 9 from 2 ft to small end wide 60 degrees depth 1 in",
    "hole 7 small end 1 in depth 3 in",
    "quality clear few knotty unseen",
];

fn job(seen: &[&str], want: &str) -> LogJob {
    let mut request = OpenRequest::new("16 in", "18 in", "12 ft", &[want]);
    let texts = seen.iter().map(|text| (*text).to_owned()).collect();
    request.sawing.log.as_grown.seen.texts = texts;
    request.sawing.methods.texts = vec!["four-sided".to_owned()];
    request.into_job().unwrap_or_else(|faults| panic!("{faults:#?}"))
}

fn printed(job: &LogJob) -> String {
    let (planned, near) = planned(job);
    fits(card(job, &planned, &near))
}

#[test]
fn a_card_tells_it_by_the_faces_in_their_order() {
    let text = printed(&job(&SEEN, "4/4x6up,grade=1 common"));
    let flat = flat(&text);
    let (before, after) = text.split_once("\nSET-UP\n").unwrap();
    let seen = before.split_once("\nSEEN ON THE LOG ").unwrap().1;
    let lines: Vec<&str> = seen.lines().filter(|line| line.starts_with("  face ")).collect();
    assert_eq!(lines.len(), 4, "{seen}");
    for (line, face) in lines.iter().zip("ABCD".chars()) {
        assert!(line.starts_with(&format!("  face {face}, ")), "{seen}");
    }
    for said in [
        // Side by side, whichever way up the log is best laid.
        "knot at 2:30, 3 ft 2 in from the butt, 2 in across; bump at 3 o'clock, 7 ft from the butt, 1 1/2 in across, \
         grown over by 1 in, 3 in nearer to the butt at the pith",
        "bump at 6 o'clock, at the butt, 2 in across, taken to be grown over by a quarter of the way to the pith",
        "hole at 7 o'clock, at the small end, 1 in across, 3 in deep",
        "seam at 12 o'clock, from the butt to 4 ft, taken to go to the pith",
        "scar about 9 o'clock, from 2 ft from the butt to the small end, 60 degrees of the round wide, 1 in deep",
        "quarters by their look: about 12 clear, 3 with a few knots, 6 knotty and 9 unseen and taken as knotty",
        "Letters on the rim, wherever along the log: B bump, C scar, K knot, O hole, S seam.",
    ] {
        assert!(flat.contains(said), "no {said} in {text}");
    }
    // What was seen is on one side of it, so no other side may be up.
    assert!(
        !flat.contains("any side may be up")
            && flat.contains("as it was when the log was measured")
    );
    let assumed = after.split_once("\nASSUMED ").unwrap().1;
    let assumed = assumed.split_whitespace().collect::<Vec<_>>().join(" ");
    for said in [
        "a knot is a cone with its tip at the pith",
        "lies a quarter of the way to the pith: common practice, no source",
        "few: one 1 in across every 4 ft, knotty: one 1 1/2 in across every 1 ft",
        "a knotty core of a third of the radius",
        "expected to grade No. 1 Common or better",
        "no grade mark, and no promise",
        "grade stamp",
    ] {
        assert!(assumed.contains(said), "no {said} in {assumed}");
    }
}

/// A flitch that is edged clear of a knot must stand on the edge that the plan says.
#[test]
fn the_card_says_which_edge_of_a_flitch_is_up() {
    let job = job(&SEEN, "4/4x6up");
    let (planned, near) = planned(&job);
    let text = fits(card(&job, &planned, &near));
    assert!(flat(&text).contains("the side with its number up and the small end toward you"));
    let (order, length) = (&planned.plan.order, job.log.length());
    // The first line of every batch, and which flitches stand in it.
    let batches = text.split_once("\nEDGING ").unwrap().1.split("\n  batch ").skip(1);
    let (mut told, mut rights) = (0, 0);
    for (number, batch) in (1..).zip(batches) {
        let batch = flat(batch);
        for edging in order.edgings.iter().filter(|edging| edging.batch == number) {
            let PartId::Freed(pass) = edging.part else { continue };
            let mut before = 0;
            let freed_in = |stage: &&Stage| {
                before += stage.passes.len();
                before >= pass as usize
            };
            let lay = order.stages.iter().find(freed_in).unwrap().rest.turn;
            let lay = order.frame.turned_to(lay, length).unwrap();
            let on_edge = order.frame.turned_to(edging.stages[0].rest.turn, length).unwrap();
            let right: f64 = (0..3).map(|n| lay.u[n] * on_edge.h[n]).sum();
            assert!(right.abs() > 0.99);
            let side = if right > 0.0 { "right" } else { "left" };
            let alone = format!(", the {side} edge up");
            let among = format!("the {side} edge of");
            assert!(batch.contains(&alone) || batch.contains(&among), "{pass} {side}: {batch}");
            (told, rights) = (told + 1, rights + i32::from(side == "right"));
        }
    }
    assert!(told > 4 && (1..told).contains(&rights), "{rights} of {told}: {text}");
}

#[test]
fn a_log_on_which_nothing_was_seen_has_the_card_that_it_had() {
    let text = printed(&job(&[], "4/4x6up"));
    assert!(!text.contains("SEEN") && !text.contains("no promise") && !text.contains("the rim"));
    assert!(flat(&text).contains("any side may be up"));
}

#[test]
fn the_rim_has_a_letter_where_it_was_seen() {
    let text = printed(&job(&["knot 3 3 ft 2 in", "hole 9 3 ft 1 in"], "4/4x6up"));
    let view = text.split_once("\nSMALL END ").unwrap().1.split_once("Numbers at").unwrap().0;
    let row = view.lines().find(|line| line.contains('K')).unwrap();
    assert!(row.find('O').unwrap() < row.find('K').unwrap(), "{view}");
    assert_eq!(view.matches('K').count() + view.matches('O').count(), 2, "{view}");
}

#[test]
fn the_json_has_every_defect() {
    let job = job(&SEEN, "4/4x6up,grade=3A common");
    let answer = open(&job.log, &job.mill, &job.optimizer_wants(), &job.settings).unwrap();
    let Answer::Planned(planned) = answer else { panic!("boards come of it") };
    let mut plan: Value = serde_json::from_str(&json(&job, &planned, &[])).unwrap();
    let schema: Value = serde_json::from_str(&schema()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let errors: Vec<String> = validator.iter_errors(&plan).map(|error| error.to_string()).collect();
    assert!(errors.is_empty(), "{errors:?}");
    let defects = plan["log"]["defects"].as_array().unwrap();
    assert_eq!(defects.len(), job.log.defects().len());
    let knot = &defects[0]["knot"];
    // 3 ft 2 in from the butt of 12 ft.
    assert_eq!(knot["at"], (144 - 38) * 25_400_000_i64);
    assert_eq!((&knot["clock"], &knot["clear"]), (&Value::from(75_000), &Value::from(0)));
    let kinds = ["knot", "knot", "knot", "seam", "scar", "hole", "knot"];
    assert!(kinds.iter().zip(defects).all(|(kind, defect)| defect.get(kind).is_some()));
    assert!(defects.last().unwrap()["core"]["clear"].as_array().unwrap().len() == 4);
    // Every piece has the grade and the rings that the plan's own look has.
    let pieces = plan["pieces"].as_array().unwrap();
    assert_eq!(pieces.len(), planned.plan.looks.len());
    for (piece, look) in pieces.iter().zip(&planned.plan.looks) {
        let (expected, rings) = (look.grade.unwrap(), look.rings.unwrap());
        let told = &piece["looks"];
        assert_eq!(told["grade"]["grade"], Value::from(expected.grade.map(Grade::name)));
        assert_eq!(told["grade"]["surface_measure"], expected.measure);
        assert_eq!(told["rings"]["middle"], rings.middle.as_millidegrees());
        assert_eq!(told["sorting"], Value::Null, "a hardwood");
    }
    plan["log"]["defects"][0]["knot"]["at"] = Value::from("3 ft");
    assert!(!validator.is_valid(&plan));
}

#[test]
fn dimension_lumber_of_a_conifer_gets_a_sorting_hint_and_no_grade() {
    let seen = ["knot 12 6 ft 2 in", "knot 3 4 ft 1 1/2 in", "knot 8 9 ft 4 in"];
    let mut request = OpenRequest::new("16 in", "18 in", "12 ft", &["2x8"]);
    request.sawing.log.as_grown.seen.texts = seen.map(str::to_owned).to_vec();
    request.sawing.log.species.text = Some("eastern white pine".to_owned());
    let text = printed(&request.clone().into_job().unwrap());
    let (_, after) = text.split_once("\nSORTING HINT   no grade, and no grade mark\n").unwrap();
    let hint = flat(after.split_once("\n\n").unwrap().0);
    assert!(hint.contains("  within ") || hint.contains("within "), "{hint}");
    assert!(hint.contains("a hint for sorting the stack, no grade and no grade mark"), "{hint}");
    // Every piece is in it once: as many as the log gives.
    let counts = hint.split(" of 2x8").count() - 1;
    assert!(counts > 0, "{hint}");
    let job = request.clone().into_job().unwrap();
    let (planned, near) = planned(&job);
    let plan: Value = serde_json::from_str(&json(&job, &planned, &near)).unwrap();
    for piece in plan["pieces"].as_array().unwrap() {
        let sorting = &piece["looks"]["sorting"];
        let within = sorting["within"].as_str();
        let told = within.or_else(|| sorting.as_str().map(|_| "within none")).unwrap();
        assert!(hint.contains(told), "{told}");
    }
    // Nothing is said of a hardwood, nor where nobody told of knots.
    request.sawing.log.species.text = Some("white oak".to_owned());
    assert!(!printed(&request.clone().into_job().unwrap()).contains("SORTING HINT"));
    request.sawing.log.species.text = Some("eastern white pine".to_owned());
    request.sawing.log.as_grown.seen.texts.clear();
    assert!(!printed(&request.into_job().unwrap()).contains("SORTING HINT"));
}
