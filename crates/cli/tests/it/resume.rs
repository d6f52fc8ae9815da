//! `pithward resume`: what a person sees at the mill, and what is refused.

use crate::common::{pithward, printed, refused};
use serde_json::Value;

const FARMYARD: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../data/jobs/farmyard.toml");

const LOG: [&str; 12] = [
    "--small",
    "22",
    "--butt",
    "24 1/2",
    "--length",
    "12 ft 2 in",
    "--species",
    "white oak",
    "--want",
    "2x8x12=6",
    "--want",
    "1x6",
];

fn resume(arguments: &[&str]) -> String {
    printed(&pithward(&[&["resume"], &LOG[..], arguments].concat()))
}

fn json(arguments: &[&str]) -> Value {
    let text = resume(&[arguments, &["--json"]].concat());
    serde_json::from_str(&text).expect("it is JSON")
}

#[track_caller]
fn refuses(arguments: &[&str], said: &[&str]) {
    let stderr = refused(&pithward(&[&["resume"], &LOG[..], arguments].concat()), said);
    assert!(stderr.contains("help: "), "{stderr}");
}

#[test]
fn with_nothing_sawn_and_nothing_found_it_is_the_plan() {
    let plan = printed(&pithward(&[&["open"], &LOG[..], &["--json"]].concat()));
    let plan: Value = serde_json::from_str(&plan).expect("it is JSON");
    for sawn in ["0", "3", "7"] {
        let on = json(&["--sawn", sawn]);
        assert!(on["resumed"]["worth"].as_i64() >= plan["result"]["worth"].as_i64(), "{sawn}");
        assert_eq!(on["resumed"]["worth_before"], plan["result"]["worth"]);
        assert_eq!(on["resumed"]["passes_made"].to_string(), sawn);
    }
}

#[test]
fn the_card_begins_at_the_present_rest_and_goes_on_with_the_numbers() {
    let card = resume(&["--sawn", "2", "--found", "rot radius 3 in from butt length 5 ft"]);
    for words in [
        "CUT CARD, GOING ON   22 in small end",
        "2 passes are made; the numbers below go on from there",
        "found   rot radius 3 in from butt length 5 ft",
        "were planned;",
        "BEFORE THE NEXT PASS",
        "WHAT LIES ASIDE",
    ] {
        assert!(card.contains(words), "no {words:?} in:\n{card}");
    }
    let half_a_face = resume(&["--sawn", "1"]);
    assert!(half_a_face.contains("FACE A GOES ON   as it lies, not turned"), "{half_a_face}");
    let rows =
        |number: &str| card.lines().any(|line| line.starts_with(&format!("  {number:>4}   ")));
    assert!(!rows("1") && !rows("2") && rows("3"), "{card}");
    assert!(card.lines().all(|line| line.chars().count() <= 80), "{card}");
}

#[test]
fn metal_is_told_by_where_it_is_and_no_piece_holds_it() {
    let metal = "metal height 9 in across 11 in at 4 ft";
    let card = resume(&["--sawn", "3", "--found", metal]);
    for words in ["STOP THE BLADE", "Dig the metal out", "the mill's manual rules", "height 9 in"] {
        assert!(card.replace('\n', " ").contains(words), "no {words:?} in:\n{card}");
    }
    let on = json(&["--sawn", "3", "--found", metal]);
    let flaws = on["log"]["flaws"].as_array().expect("flaws are a list");
    assert_eq!(flaws.len(), 1);
    assert!(flaws[0]["region"]["spot"].is_object(), "{flaws:?}");
    let near = on["stages"].as_array().expect("a list").iter().any(|stage| {
        stage["passes"].as_array().expect("a list").iter().any(|pass| pass["near_metal"] == true)
    });
    assert_eq!(on["metal"].is_object(), near, "{}", on["metal"]);
}

#[test]
fn the_card_says_when_passes_come_near_metal() {
    let metal = ["--flaw", "metal toward 12 depth 1 in wide 1 in from butt to 4 ft"];
    let card = printed(&pithward(&[&["open"], &LOG[..], &metal[..]].concat())).replace('\n', " ");
    let words = card.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("of the orders tried this comes near it latest"), "{words}");
}

#[test]
fn heights_that_were_sawn_are_taken_as_they_are() {
    let card = json(&["--cut", "20 1/2, 19 1/4", "--cut", "A down: 17, 15 3/4"]);
    assert_eq!(card["resumed"]["passes_made"], 4);
    let heights = |stage: usize| -> Vec<i64> {
        let passes = card["stages"][stage]["passes"].as_array().expect("passes are a list");
        passes.iter().filter_map(|pass| pass["height"].as_i64()).collect()
    };
    assert_eq!(heights(0), [520_700_000, 488_950_000]);
    assert!(heights(1).starts_with(&[431_800_000, 400_050_000]), "{:?}", heights(1));
}

#[test]
fn what_is_finished_or_wanted_otherwise_is_heeded() {
    let on = json(&["--sawn", "5", "--left", "2x8x12=0"]);
    let wanted = &on["tally"][0];
    assert!(wanted["given"].as_i64() <= wanted["wanted"].as_i64(), "{wanted}");
    let also = json(&["--sawn", "2", "--also", "4x4x8=1"]);
    assert_eq!(also["wants"].as_array().map(Vec::len), Some(3));
    let again = json(&["--sawn", "2", "--now-small", "21 1/2"]);
    assert!(again["resumed"]["worth_before"].is_null());
    assert_eq!(again["log"]["small_end"], 546_100_000);
}

#[test]
fn any_figure_of_the_tape_may_be_measured_again() {
    let said = [
        ("--now-small", "20 1/2 x 22", "small end"),
        ("--now-long-axis", "2", "long axis"),
        ("--now-butt", "24", "butt"),
        ("--now-length", "12 ft 1 in", "length"),
        ("--now-bark", "1/2", "bark"),
        ("--now-sweep", "1 1/2 in toward 6", "sweep"),
        ("--now-crook", "1 in toward 9 at 5 ft", "crook"),
        ("--now-pith-small", "1 in toward 4", "pith at the small end"),
        ("--now-pith-butt", "1 1/2 in toward 4", "pith at the butt"),
        ("--now-flare", "3 in over 12 in", "flare"),
    ];
    let all: Vec<&str> = said.iter().flat_map(|(name, text, _)| [*name, *text]).collect();
    let card = resume(&[&["--sawn", "2"], &all[..]].concat()).replace("\n          ", " ");
    for (_, text, what) in said {
        let words = format!("the {what} is {text} by a new measurement");
        assert!(card.contains(&words), "no {words:?} in:\n{card}");
    }
    let shape = "22 x 20 1/2 in small end, 24 in butt, 12 ft 1 in long";
    assert!(card.contains(shape), "no {shape:?} in:\n{card}");
    // What is sawn stays sawn at its heights.
    let heights = |log: &Value| -> Vec<i64> {
        let stages = log["stages"].as_array().expect("stages are a list").iter();
        let passes = stages.flat_map(|stage| stage["passes"].as_array().expect("a list"));
        passes.filter_map(|pass| pass["printed"].as_i64()).take(2).collect()
    };
    let (plan, bowed) =
        (json(&["--sawn", "2"]), json(&["--sawn", "2", "--now-sweep", "2 in toward 6"]));
    assert_eq!(heights(&plan), heights(&bowed));
    assert_eq!(heights(&plan).len(), 2);
    let straight = json(&["--sawn", "2", "--now-sweep", "0 in toward 6"]);
    assert!(straight["log"]["taped"].is_null(), "{}", straight["log"]);
    // How much the list weighs is another thing in another log; what comes out is not.
    let board_feet = |log: &Value| log["resumed"]["board_feet"].as_i64();
    assert!(board_feet(&bowed) < board_feet(&straight), "a bow costs wood");
}

#[test]
fn what_cannot_be_measured_again_is_told_at_once() {
    refuses(&["--sawn", "2", "--now-sweep", "2 in"], &["--now-sweep has no toward"]);
    refuses(&["--sawn", "2", "--now-crook", "2 in toward 6"], &["--now-crook has no at"]);
    refuses(&["--sawn", "2", "--now-pith-small", "30 in toward 6"], &["--now-pith-small"]);
    refuses(&["--sawn", "2", "--now-long-axis", "2"], &["--now-long-axis", "neither end has two"]);
    refuses(
        &["--sawn", "2", "--now-small", "20 x wide"],
        &["--now-small: \"wide\" is not a length"],
    );
    refuses(&["--sawn", "2", "--now-small", "10 x 24", "--now-long-axis", "2"], &["--now-small"]);
    let many = ["--sawn", "2", "--now-sweep", "deep", "--now-flare", "wide", "--now-butt", "fat"];
    let stderr = refused(&pithward(&[&["resume"], &LOG[..], &many[..]].concat()), &[]);
    assert_eq!(stderr.matches("error: ").count(), 5, "{stderr}");
}

/// Writes a plan where this test keeps its files, and reads what `resume --plan` makes of it.
fn kept(name: &str, text: &str) -> String {
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, text).expect("the folder is there");
    path.to_string_lossy().into_owned()
}

fn on_plan(arguments: &[&str]) -> Value {
    let text = printed(&pithward(&[&["resume"], arguments, &["--json"]].concat()));
    serde_json::from_str(&text).expect("it is JSON")
}

#[test]
fn the_plan_that_is_followed_may_be_read_from_its_file() {
    let plan = printed(&pithward(&[&["open"], &LOG[..], &["--json"]].concat()));
    let plan = kept("resume-open.json", &plan);
    let found = ["--sawn", "3", "--found", "rot radius 3 in from butt length 5 ft"];
    let again = json(&found);
    assert_eq!(on_plan(&[&["--plan", &plan], &found[..]].concat()), again);
    // A log of a pile.
    let pile = kept("resume-pile.json", &printed(&pithward(&["plan", FARMYARD, "--json"])));
    let planned = on_plan(&[FARMYARD, "--log", "O1", "--sawn", "2"]);
    assert_eq!(on_plan(&["--plan", &pile, "--log", "O1", "--sawn", "2"]), planned);
    // Found once more: what was found and finished by then stays so.
    let half = resume(&[&found[..], &["--finished", "2", "--json"]].concat());
    let half = kept("resume-half.json", &half);
    let next =
        ["--plan", &half, "--sawn", "4", "--found", "metal height 8 in across 11 in at 9 ft"];
    let next = on_plan(&next);
    assert_eq!(next["log"]["flaws"].as_array().map(Vec::len), Some(2));
    assert_eq!(next["resumed"]["passes_made"], 4);
    assert_eq!(next["resumed"]["finished"].as_array().map(Vec::len), Some(1));
}

#[test]
fn a_plan_that_cannot_be_followed_is_told() {
    let resume = |arguments: &[&str], said: &[&str]| {
        refused(&pithward(&[&["resume"], arguments].concat()), said)
    };
    resume(
        &["--plan", "no-such.json", "--sawn", "2"],
        &["--plan: there is no file \"no-such.json\""],
    );
    let text = kept("resume-no-plan.json", "{ \"logs\": [] }");
    resume(&["--plan", &text, "--sawn", "2"], &["--plan"]);
    let plan = printed(&pithward(&[&["open"], &LOG[..], &["--json"]].concat()));
    let edited = kept("resume-edited.json", &plan.replace("\"worth\": ", "\"worth\": 9"));
    resume(&["--plan", &edited, "--sawn", "2"], &["worth"]);
    let plan = kept("resume-named.json", &plan);
    resume(&["--plan", &plan, "--log", "A1", "--sawn", "2"], &["\"A1\" is no log of the plan"]);
    resume(&["--plan", &plan, "--want", "1x6", "--sawn", "2"], &["--plan"]);
    resume(&["--plan", &plan], &["--sawn: nothing says how far the log is sawn"]);
    let pile = kept("resume-no-log.json", &printed(&pithward(&["plan", FARMYARD, "--json"])));
    resume(&["--plan", &pile, "--sawn", "2"], &["--log"]);
}

#[test]
fn a_log_of_a_job_goes_on_under_the_counts_that_others_leave() {
    let text = printed(&pithward(&["resume", FARMYARD, "--log", "O1", "--sawn", "2"]));
    assert!(text.contains("CUT CARD, GOING ON   log O1"), "{text}");
    refused(
        &pithward(&["resume", FARMYARD, "--log", "Z9", "--sawn", "2"]),
        &["\"Z9\" is no log of the job"],
    );
}

/// The committed schema is the generated one (`UPDATE_SCHEMA=1` writes it anew), and what is printed keeps to it.
#[test]
fn the_json_keeps_to_the_committed_schema() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../data/schema/resume.schema.json");
    let generated = pithward_report::resume_schema();
    if std::env::var_os("UPDATE_SCHEMA").is_some() {
        std::fs::write(path, &generated).expect("the folder is there");
    }
    let committed = std::fs::read_to_string(path).expect("it is committed");
    assert!(committed == generated, "run this test with UPDATE_SCHEMA=1 and commit the file");
    let schema: Value = serde_json::from_str(&generated).expect("it is JSON");
    let validator = jsonschema::validator_for(&schema).expect("it is a schema");
    let found = ["--found", "rot radius 3 in from butt length 5 ft"];
    let mut on = json(&[&["--sawn", "4", "--finished", "2"][..], &found[..]].concat());
    let errors: Vec<String> = validator.iter_errors(&on).map(|error| error.to_string()).collect();
    assert!(errors.is_empty(), "{errors:?}");
    on["resumed"]["passes_made"] = Value::from("four");
    assert!(!validator.is_valid(&on));
}

#[test]
fn bad_input_is_told_at_once_and_says_what_would_be_right() {
    refuses(&[], &["--sawn: nothing says how far the log is sawn", "--sawn 7"]);
    refuses(&["--sawn", "90"], &["--sawn must be a whole number between 0 and", "\"90\""]);
    refuses(&["--sawn", "-1"], &["--sawn must be a whole number"]);
    refuses(&["--sawn", "2", "--cut", "14"], &["--sawn has both --sawn and --cut"]);
    refuses(&["--sawn", "2", "--finished", "9"], &["--finished: pass 9 is not made yet"]);
    refuses(&["--sawn", "2", "--finished", "1"], &["pass 1 freed nothing that the card cuts"]);
    refuses(&["--sawn", "2", "--finished", "two"], &["\"two\" is no pass of the card"]);
    refuses(&["--cut", "99 in"], &["--cut must be between", "\"99 in\""]);
    refuses(&["--cut", "20, 20"], &["\"20\" is not below the pass before it"]);
    refuses(&["--cut", "20", "--cut", "19"], &["\"19\" does not say how the log lies", "A down"]);
    refuses(&["--cut", "20", "--cut", "C down: 19"], &["face C is not open yet"]);
    refuses(&["--cut", "20", "--cut", "sideways: 19"], &["\"sideways\" does not say how"]);
    refuses(&["--sawn", "2", "--found", "worms"], &["\"worms\" is no kind of flaw"]);
    refuses(&["--sawn", "2", "--found", "metal height 9 in at 4 ft"], &["--found has no across"]);
    refuses(
        &["--sawn", "2", "--found", "metal height 60 in across 3 in at 4 ft"],
        &["--found is at a height of", "\"60 in\"", "reaches only from 0 in to"],
    );
    refuses(&["--sawn", "2", "--left", "2x8x12"], &["does not say how many are left"]);
    refuses(&["--sawn", "2", "--left", "3x9=1"], &["\"3x9=1\" is not on the list", "2x8x12"]);
    refuses(&["--sawn", "2", "--also", "wide"], &["--also"]);
    refuses(&["--sawn", "2", "--now-small", "30"], &["--now-small"]);
    let both = ["--sawn", "ninety", "--left", "3x9=1"];
    let stderr = refused(&pithward(&[&["resume"], &LOG[..], &both[..]].concat()), &[]);
    assert_eq!(stderr.matches("error: ").count(), 2, "{stderr}");
}
