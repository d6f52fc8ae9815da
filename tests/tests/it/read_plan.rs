//! A plan that is written and read back is the same plan, to the last figure; what was changed in its file is told.
//!
//! `PITHWARD_CASES=300` for as many random piles and logs, 8 without it.

use pithward_job::{
    AgainRequest, AsGrown, FaultKind, OpenRequest, PileJob, PlanFileFault, ResumeRequest, Typed,
    TypedList, parse_job, read_job,
};
use pithward_optimizer::{
    Answer, HalfSawn, LogFate, Pile, PilePlan, ResumeAnswer, buck, near_misses, open, plan_pile,
    resume,
};
use pithward_report::{Going, ReadPlan, is_plan, json, pile_json, read_plan, resumed_json};
use pithward_tests::asked;
use rayon::prelude::*;
use std::path::Path;

fn cases() -> u64 {
    std::env::var("PITHWARD_CASES").map_or(8, |text| text.parse().expect("a whole number"))
}

fn planned(job: PileJob) -> (PileJob, Pile, PilePlan) {
    if job.stems.is_empty() {
        let pile = job.pile();
        let plan = plan_pile(&pile, &()).expect("a plan");
        return (job, pile, plan);
    }
    let (pile, stems, terms) = job.with_stems();
    let bucked = buck(&pile, &stems, &terms, &()).expect("a plan");
    (job.bucked(&bucked), bucked.pile, bucked.plan)
}

fn written(job: &PileJob, pile: &Pile, plan: &PilePlan) -> String {
    let mut text = Vec::new();
    pile_json(job, pile, plan, &mut text).expect("written");
    String::from_utf8(text).expect("text")
}

/// The plan of a pile read back is the same in all that it holds.
fn same_pile((job, pile, plan): &(PileJob, Pile, PilePlan)) -> String {
    let text = written(job, pile, plan);
    let read = read_plan(text.as_bytes(), "plan.json", "PLAN").unwrap_or_else(|faults| {
        panic!("{faults:#?}", faults = faults.iter().map(ToString::to_string).collect::<Vec<_>>())
    });
    let ReadPlan::Pile(read) = read else { panic!("a pile") };
    assert_eq!(format!("{:?}", read.job), format!("{job:?}"));
    assert_eq!(format!("{:?}", read.pile), format!("{pile:?}"));
    assert_eq!(format!("{:?}", read.plan), format!("{plan:?}"));
    text
}

#[test]
fn the_demo_jobs() {
    let jobs = Path::new(env!("CARGO_MANIFEST_DIR")).join("../data/jobs");
    for name in ["farmyard", "crooked-yard", "oak-faces", "scanned", "starter"] {
        let job = read_job(&jobs.join(format!("{name}.toml")), "JOB").expect("a sound job");
        let text = same_pile(&planned(job));
        assert!(is_plan(text.as_bytes()));
    }
    assert!(!is_plan(&std::fs::read(jobs.join("farmyard.toml")).expect("there")));
}

#[test]
fn random_piles() {
    (0..cases()).into_par_iter().for_each(|number| {
        let text = asked::job(number, 3);
        let job = parse_job(text.as_bytes(), "job.toml", "JOB", Path::new("."));
        let job = job.unwrap_or_else(|faults| panic!("{number}: {faults:?}"));
        same_pile(&planned(job));
    });
}

/// Random single logs by what is typed, half of them followed for some passes and gone on with.
#[test]
fn random_logs_and_the_way_on() {
    let count =
        (0..cases()).into_par_iter().map(|number| usize::from(one_log(number))).sum::<usize>();
    assert!(count as u64 > cases() / 4, "{count} half-sawn logs");
}

fn one_log(number: u64) -> bool {
    let mut random = pithward_tests::random::Random::new(number ^ 0x5eed);
    let small = random.within(9, 15);
    let butt = small + random.within(0, 3);
    let mut request = OpenRequest::new(
        &format!("{small} in"),
        &format!("{butt} 1/8 in"),
        &format!("{} ft 3 in", random.within(6, 9)),
        &["2x6x6=2+", "1x4"],
    );
    let grown = &mut request.sawing.log.as_grown;
    match random.within(0, 5) {
        0 => grown.sweep.text = Some("1 in toward 7".to_owned()),
        1 => {
            request.sawing.log.small_end.text = Some(format!("{small} x {} 1/2 in", small - 2));
            grown.long_axis.text = Some("4".to_owned());
        }
        2 => {
            let shapes = concat!(env!("CARGO_MANIFEST_DIR"), "/../data/shapes");
            let file = if random.one_in(2) { "oak.csv" } else { "crooked.ply" };
            grown.shape.text = Some(format!("{shapes}/{file}"));
            for typed in [
                &mut request.sawing.log.small_end,
                &mut request.sawing.log.butt,
                &mut request.sawing.log.length,
            ] {
                typed.text = None;
            }
        }
        3 => request.sawing.log.species.text = Some("white oak".to_owned()),
        4 => grown.seen.texts = vec!["knot 2:30 3 ft 2 in 2 in".to_owned()],
        _ => {}
    }
    match random.within(0, 4) {
        0 => request.sawing.methods.texts = vec!["around".to_owned()],
        1 => request.sawing.methods.texts = vec!["quarter".to_owned()],
        2 => request.wants.texts[1] = "1x4,grade=#1 common".to_owned(),
        _ => {}
    }
    if random.one_in(6) {
        request.sawing.log.trim.text = Some("2 in".to_owned());
    }
    let job = match request.clone().into_job() {
        Ok(job) => job,
        // A grade that this wood does not have.
        Err(_) if request.wants.texts[1].contains("grade") => {
            request.wants.texts[1] = "1x4".to_owned();
            request.into_job().expect("a sound request")
        }
        Err(faults) => panic!("{number}: {faults:?}"),
    };
    let wants = job.optimizer_wants();
    let answer = open(&job.log, &job.mill, &wants, &job.settings).expect("an answer");
    let Answer::Planned(planned) = answer else { return false };
    let near = near_misses(&job.log, &job.mill, &wants, &job.settings, &planned).expect("near");
    let text = json(&job, &planned, &near);
    let read = read_plan(text.as_bytes(), "plan.json", "PLAN");
    let read = read.unwrap_or_else(|faults| panic!("{number}: {faults:#?}"));
    let ReadPlan::Log(read) = read else { panic!("{number}: one log") };
    assert_eq!(format!("{:?}", read.job), format!("{job:?}"), "{number}");
    assert_eq!(format!("{:?}", read.planned.plan), format!("{:?}", planned.plan), "{number}");
    assert_eq!(read.planned.proof, planned.proof);
    assert_eq!(read.planned.methods, planned.methods);

    let passes: usize = planned.plan.order.stages.iter().map(|stage| stage.passes.len()).sum();
    let sawn = random.within(0, i64::try_from(passes).expect("few"));
    let none = |name| Typed::new(name, None);
    let list = |name, texts: &[&str]| TypedList {
        name,
        texts: texts.iter().map(|text| (*text).to_owned()).collect(),
    };
    let found: &[&str] =
        if random.one_in(2) { &["rot radius 1 in from butt length 1 ft"] } else { &[] };
    let request = ResumeRequest {
        sawn: Typed::new("--sawn", Some(sawn.to_string())),
        cuts: list("--cut", &[]),
        finished: list("--finished", &[]),
        found: list("--found", found),
        left: list("--left", if random.one_in(3) { &["2x6x6=1"] } else { &[] }),
        also: list("--also", if random.one_in(3) { &["1x3x4"] } else { &[] }),
        again: AgainRequest {
            small_end: none("--now-small"),
            butt: none("--now-butt"),
            length: none("--now-length"),
            bark: none("--now-bark"),
            as_grown: AsGrown::nothing(),
        },
    };
    let Ok(half) = request.into_job(job, &planned.plan) else { return false };
    let begun = HalfSawn { begun: &half.begun, plan: Some(&planned.plan) };
    let (log, mill) = (&half.job.log, &half.job.mill);
    let wants = half.job.optimizer_wants();
    let answer = resume(log, mill, &wants, &half.job.settings, begun).expect("an answer");
    let ResumeAnswer::Resumed(resumed) = answer else { return false };
    let going = Going { log: None, half: &half, plan: &planned.plan, resumed: &resumed };
    let text = resumed_json(&going);
    let read = read_plan(text.as_bytes(), "resumed.json", "PLAN");
    let read = read.unwrap_or_else(|faults| panic!("{number}: {faults:#?}"));
    let ReadPlan::Half(read) = read else { panic!("{number}: a half-sawn log") };
    assert_eq!(format!("{:?}", read.half.job), format!("{:?}", half.job), "{number}");
    assert_eq!(read.half.begun, half.begun);
    assert_eq!(format!("{:?}", read.resumed), format!("{resumed:?}"), "{number}");
    assert_eq!(format!("{:?}", read.followed), format!("{:?}", planned.plan), "{number}");
    true
}

const SMALL: &str = r#"
[sawing]
trim = "2 in"
[[logs]]
id = "7"
small_end = "14 in"
butt = "16 in"
length = "8 ft 4 in"
[[logs]]
id = "8"
small_end = "14 in"
butt = "16 in"
length = "8 ft 4 in"
[[wants]]
size = "2x6x8"
count = 3
[[wants]]
size = "1x4x8"
"#;

fn small() -> (PileJob, Pile, PilePlan) {
    planned(parse_job(SMALL.as_bytes(), "job.toml", "JOB", Path::new("")).expect("a sound job"))
}

/// A text with one value of a path replaced.
fn changed(text: &str, path: &str, change: impl Fn(&mut serde_json::Value)) -> String {
    let mut value: serde_json::Value = serde_json::from_str(text).expect("JSON");
    change(value.pointer_mut(path).unwrap_or_else(|| panic!("{path}")));
    serde_json::to_string(&value).expect("a text")
}

#[test]
fn what_somebody_changed_is_told_where_it_stands() {
    let (job, pile, plan) = small();
    let text = written(&job, &pile, &plan);
    let add = |by: i64| {
        move |value: &mut serde_json::Value| {
            *value = (value.as_i64().expect("a number") + by).into();
        }
    };
    let text_of = |to: &'static str| move |value: &mut serde_json::Value| *value = to.into();
    let cases: Vec<(&str, String, &str, &str)> = vec![
        // A height that no longer frees the board that it should.
        (
            "height",
            changed(&text, "/logs/0/plan/stages/0/passes/1/height", add(-9_000_000)),
            "logs[0].plan",
            "replay",
        ),
        (
            "both",
            changed(&text, "/logs/1/plan/stages/0/passes/0/height", add(3_000_000)),
            "logs[1].plan",
            "replay",
        ),
        (
            "printed",
            changed(&text, "/logs/0/plan/stages/0/passes/0/printed", add(1_000_000)),
            "logs[0].plan",
            "",
        ),
        (
            "box",
            changed(&text, "/logs/0/plan/pieces/0/u/to", add(1)),
            "logs[0].plan.pieces[0]",
            "its size is sawn",
        ),
        (
            "want",
            changed(&text, "/logs/0/plan/pieces/0/want", |v| *v = 9.into()),
            "logs[0].plan.pieces[0].want",
            "there are only 2",
        ),
        (
            "given",
            changed(&text, "/tally/0/given", add(1)),
            "tally[0].given",
            "is \"4\", and by the rest of the plan it is \"3\"",
        ),
        ("kerf", changed(&text, "/mill/kerf", add(1)), "mill.kerf", "by the rest of the plan"),
        (
            "id",
            changed(&text, "/logs/0/id", text_of("70")),
            "logs[0].id",
            "by the rest of the plan",
        ),
        (
            "part",
            changed(&text, "/logs/0/plan/parts/0/fate", text_of("square")),
            "logs[0].plan.parts[0].fate",
            "slab",
        ),
        (
            "lots",
            changed(&text, "/order/0/logs", |v| *v = serde_json::json!([0, 0])),
            "order[0].logs[1]",
            "twice",
        ),
        (
            "lot",
            changed(&text, "/order/0/logs", |v| *v = serde_json::json!([0, 77])),
            "order[0].logs[1]",
            "there are only 2",
        ),
        (
            "fate",
            changed(&text, "/logs/0/fate", text_of("left_whole")),
            "logs[0].fate",
            "said not to be sawn",
        ),
        (
            "kind",
            changed(&text, "/logs/0/plan/method", text_of("sideways")),
            "logs[0].plan",
            "unknown variant",
        ),
        (
            "face",
            changed(&text, "/logs/0/plan/stages/0/rest/on", |v| {
                *v = serde_json::json!({"face": "Z"});
            }),
            "logs[0].plan.stages[0].rest.on",
            "",
        ),
        (
            "version",
            changed(&text, "/schema_version", add(7)),
            "schema_version",
            "this program reads form",
        ),
        (
            "asked",
            changed(&text, "/asked", |v| *v = serde_json::Value::Null),
            "asked",
            "does not say what was asked",
        ),
        (
            "file",
            changed(&text, "/asked/files/0/text", text_of("[[logs]]")),
            "asked",
            "is not the file",
        ),
        (
            "more",
            changed(&text, "/mill", |v| v["paint"] = 1.into()),
            "mill.paint",
            "no plan has such a field",
        ),
        (
            "length",
            changed(&text, "/logs", |v| {
                v.as_array_mut().expect("a list").pop();
            }),
            "logs",
            "there are 2",
        ),
    ];
    for (what, text, field, says) in cases {
        let faults = read_plan(text.as_bytes(), "plan.json", "PLAN").expect_err(what);
        let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
        let found = faults.iter().zip(&told).any(|(fault, told)| {
            fault.field.starts_with(field) && told.contains(says) && !fault.help.is_empty()
        });
        assert!(found, "{what}: {field:?} {says:?} in {told:#?}");
    }
}

#[test]
fn every_fault_of_a_file_is_told_at_once() {
    let (job, pile, plan) = small();
    let text = written(&job, &pile, &plan);
    let text = changed(&text, "/tally/0/given", |value| *value = 77.into());
    let text = changed(&text, "/mill/name", |value| *value = "another".into());
    let text = changed(&text, "/logs/1/log/butt", |value| *value = 1.into());
    let faults = read_plan(text.as_bytes(), "plan.json", "PLAN").expect_err("changed");
    let fields: Vec<&str> = faults.iter().map(|fault| fault.field.as_str()).collect();
    assert_eq!(fields, ["logs[1].log.butt", "mill.name", "tally[0].given"]);
}

#[test]
fn what_is_no_plan_is_told_so() {
    let (job, pile, plan) = small();
    let text = written(&job, &pile, &plan);
    // Cut short anywhere: never a panic, always a fault.
    for cut in (0..text.len()).step_by(97).filter(|cut| text.is_char_boundary(*cut)) {
        let faults =
            read_plan(&text.as_bytes()[..cut], "plan.json", "PLAN").expect_err("cut short");
        assert!(faults.iter().all(|fault| !fault.help.is_empty()));
    }
    for foreign in
        ["", "[]", "{}", "{\"schema_version\": 2}", "{\"logs\": []}", "null", "7", "plan"]
    {
        let faults = read_plan(foreign.as_bytes(), "plan.json", "PLAN").expect_err("foreign");
        assert_eq!(faults.len(), 1, "{foreign}: {faults:?}");
    }
    let faults = read_plan(b"{\"schema_version\": 2, \"hours\": 7}", "quote.json", "PLAN");
    let faults = faults.expect_err("a quote");
    assert!(matches!(*faults[0].kind, FaultKind::PlanFile(PlanFileFault::NoPlan { .. })));
    assert!(read_plan(b"\xff\xfe{", "plan.json", "PLAN").is_err());
    // Bytes that are changed anywhere never panic.
    for at in (0..text.len()).step_by(211) {
        let mut bytes = text.clone().into_bytes();
        bytes[at] = b'7';
        let _ = read_plan(&bytes, "plan.json", "PLAN");
    }
}

#[test]
fn a_plan_is_read_however_it_is_laid_out() {
    let (job, pile, plan) = small();
    let text = written(&job, &pile, &plan);
    let value: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    let pretty = serde_json::to_string_pretty(&value).expect("a text");
    let Ok(ReadPlan::Pile(read)) = read_plan(pretty.as_bytes(), "plan.json", "PLAN") else {
        panic!("the same plan")
    };
    assert_eq!(format!("{:?}", read.plan), format!("{plan:?}"));
    // Logs that are sawn alike share their plan, so thousands take no more memory than the kinds of them.
    let [LogFate::Sawn(first), LogFate::Sawn(second)] = &read.plan.logs[..] else {
        panic!("both are sawn")
    };
    assert!(first.products == second.products || first.products.len() != second.products.len());
}
