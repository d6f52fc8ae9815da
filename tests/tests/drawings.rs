//! The pictures are the plan: boxes read back from a picture are those of the plan's JSON, and what the blade makes of the
//! small end makes up the small end.

use pithward_draw::{Drawn, Words, end_view, rest_view};
use pithward_job::{PileJob, parse_job};
use pithward_measure::Length;
use pithward_optimizer::{LogFate, Pile, PilePlan, plan_pile};
use serde_json::Value;
use std::path::Path;

/// A small pile: round, oval, bowed and off-centre logs, in four woods' worth of ways to saw them.
const JOB: &str = r#"
[sawing]
trim = "2 in"
[[logs]]
id = "round"
small_end = "16 in"
butt = "18 in"
length = "12 ft 4 in"
[[logs]]
id = "oval"
small_end = ["15 in", "12 in"]
long_axis = "2 o'clock"
butt = ["17 in", "15 in"]
length = "10 ft 4 in"
[[logs]]
id = "bowed"
small_end = "14 in"
butt = "16 in"
length = "12 ft 4 in"
sweep = { depth = "2 in", toward = "9 o'clock" }
[[wants]]
size = "6x6x8"
count = 1
[[wants]]
size = "2x8"
[[wants]]
size = "1x6"
[[wants]]
size = "1x4"
"#;

fn planned() -> (PileJob, Pile, PilePlan) {
    let job = parse_job(JOB.as_bytes(), "job.toml", "JOB", Path::new("")).expect("a sound job");
    let pile = job.pile();
    let plan = plan_pile(&pile, &()).expect("a plan");
    (job, pile, plan)
}

/// A polygon of a picture: its class, the piece that it is of, its corners.
struct Polygon {
    class: String,
    piece: Option<usize>,
    corners: Vec<[f64; 2]>,
}

/// Every polygon of a picture, read by its text alone.
fn polygons(picture: &str) -> Vec<Polygon> {
    let attribute = |tag: &str, name: &str| {
        let from = tag.find(&format!("{name}=\""))? + name.len() + 2;
        Some(tag[from..].split('"').next().unwrap_or_default().to_owned())
    };
    let tags = picture.split("<polygon ").skip(1).map(|rest| rest.split('>').next().unwrap_or(""));
    tags.map(|tag| {
        let points = attribute(tag, " points").unwrap_or_default();
        let corner = |pair: &str| {
            let (x, y) = pair.split_once(',').expect("x,y");
            [x, y].map(|figure| figure.parse::<f64>().expect("a number"))
        };
        Polygon {
            class: attribute(tag, "class").unwrap_or_default(),
            piece: attribute(tag, "data-piece").map(|n| n.parse().expect("a number")),
            corners: points.split_whitespace().map(corner).collect(),
        }
    })
    .collect()
}

fn area(corners: &[[f64; 2]]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    0.5 * corners.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>().abs()
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

/// Unit vectors of a clock direction and of the one a quarter turn clockwise of it, thousandths of a degree.
fn clock(turn: f64) -> ([f64; 2], [f64; 2]) {
    let (sin, cos) = (turn / 1000.0).to_radians().sin_cos();
    ([sin, cos], [cos, -sin])
}

#[test]
fn boxes_read_back_from_the_picture_are_those_of_the_json() {
    let (job, pile, plan) = planned();
    let mut text = Vec::new();
    pithward_report::pile_json(&job, &pile, &plan, &mut text).expect("written");
    let json: Value = serde_json::from_slice(&text).expect("JSON");
    let mut seen = 0;
    for (n, fate) in plan.logs.iter().enumerate() {
        let LogFate::Sawn(sawn) = fate else { panic!("log {n} is not sawn") };
        let told = &json["logs"][n]["plan"];
        assert!(told.is_object(), "log {n} has no plan");
        let drawn = Drawn::of(&pile.logs[n].log, &pile.mill, sawn).expect("it replays");
        let nothing = |_: Length| String::new();
        let words = Words { piece: &|n| n.to_string(), height: &nothing, long: &nothing };
        let picture = end_view(&drawn, &words, "end", "the small end").into_string();
        let (up, right) = clock(number(&told["stages"][0]["rest"]["turn"]));
        let drift = ["drift_u", "drift_h"].map(|name| number(&told["frame"][name]).abs() / 25.4e6);
        let straight = drift == [0.0, 0.0];
        let pieces = told["pieces"].as_array().expect("pieces");
        let drawn_pieces: Vec<Polygon> =
            polygons(&picture).into_iter().filter(|it| it.piece.is_some()).collect();
        assert_eq!(drawn_pieces.len(), pieces.len());
        for polygon in drawn_pieces {
            let piece = &pieces[polygon.piece.expect("it is of a piece") - 1];
            let (h_way, u_way) = clock(number(&piece["turn"]));
            let inches = |axis: &str, end: &str| number(&piece[axis][end]) / 25.4e6;
            // Every corner of the box, in the log frame and then as the log lies.
            let mut expected = Vec::new();
            for (u_end, h_end) in [("from", "from"), ("to", "from"), ("to", "to"), ("from", "to")] {
                let (u, h) = (inches("u", u_end), inches("h", h_end));
                let p = [0, 1].map(|n| u * u_way[n] + h * h_way[n]);
                let along = |d: [f64; 2]| p[0] * d[0] + p[1] * d[1];
                expected.push([along(right), -along(up)]);
            }
            // A frame that drifts leans by less than one in a hundred; coordinates have four digits.
            let off = if straight { 6e-5 } else { 5e-3 };
            for (is, should) in polygon.corners.iter().zip(&expected) {
                let near = (is[0] - should[0]).abs() < off && (is[1] - should[1]).abs() < off;
                assert!(near, "log {n}: {is:?} for {should:?}, drift {drift:?}");
            }
            assert_eq!(polygon.corners.len(), 4);
            seen += 1;
        }
    }
    assert!(seen > 20, "{seen}");
}

#[test]
fn parts_and_sawdust_make_up_the_small_end() {
    let (_, pile, plan) = planned();
    for (n, fate) in plan.logs.iter().enumerate() {
        let LogFate::Sawn(sawn) = fate else { panic!("log {n} is not sawn") };
        let drawn = Drawn::of(&pile.logs[n].log, &pile.mill, sawn).expect("it replays");
        let nothing = |_: Length| String::new();
        let words = Words { piece: &|n| n.to_string(), height: &nothing, long: &nothing };
        let all = polygons(&end_view(&drawn, &words, "end", "the small end").into_string());
        let sum = |class: &str| -> f64 {
            all.iter().filter(|it| it.class == class).map(|it| area(&it.corners)).sum()
        };
        let (whole, parts, kerfs) = (sum("wood"), sum("waste"), sum("kerf"));
        // Points are drawn to a hundredth of an inch.
        assert!(
            (parts + kerfs - whole).abs() < 0.004 * whole,
            "log {n}: {parts} + {kerfs} of {whole}"
        );
        // Every sort of thing is there, and the sawdust is what the passes take.
        let passes: f64 =
            sawn.replayed.passes.iter().flatten().map(|it| it.opening_small_end).sum();
        let by_log = passes * pile.mill.kerf.inches_f64();
        assert!(kerfs > 0.8 * by_log && parts > 0.5 * whole, "log {n}: {kerfs} for {by_log}");
    }
}

#[test]
fn every_stage_has_its_picture_with_its_heights() {
    let (_, pile, plan) = planned();
    let LogFate::Sawn(sawn) = &plan.logs[0] else { panic!("the first log is sawn") };
    let drawn = Drawn::of(&pile.logs[0].log, &pile.mill, sawn).expect("it replays");
    let height = |length: Length| format!("[{}]", length.inches_f64());
    let words = Words { piece: &|_| "<piece>".to_owned(), height: &height, long: &height };
    for (n, stage) in sawn.order.stages.iter().enumerate() {
        let picture = rest_view(&drawn, n, &words, "<script>").expect("a stage").into_string();
        for pass in &stage.passes {
            let told = format!("[{}]", pass.printed.inches_f64());
            assert!(picture.contains(&told), "{told} in {picture}");
        }
        // What was typed is text, wherever it stands.
        assert!(!picture.contains("<script>") && !picture.contains("<piece>"));
        assert!(picture.contains("&lt;script&gt;"));
    }
    assert!(rest_view(&drawn, 1000, &words, "none").is_none());
}
