//! The pictures are the plan: boxes read back from a picture are those of the plan's JSON, and what the blade makes of the
//! small end makes up the small end.

use pithward_draw::{
    Drawn, Turn, Words, end_view, flat_view, flitch_view, rest_view, side_view, stand_alone, strip,
};
use pithward_geometry::parting;
use pithward_job::{PileJob, parse_job};
use pithward_measure::Length;
use pithward_optimizer::{LogFate, Pile, PilePlan, plan_pile};
use rayon::prelude::*;
use serde_json::Value;
use std::path::Path;
use std::sync::LazyLock;

/// Small piles: round, oval, bowed, off-centre and measured logs, in all ways to saw them.
const PILES: [(&str, &str, &str); 4] = [
    ("all ways", "", WANTS),
    ("around", "methods = [\"around\"]\n", WANTS),
    ("quarter", "methods = [\"quarter\"]\n", QUARTERED),
    ("boxed", "methods = [\"boxed\", \"four-sided\"]\n", WANTS),
];

const LOGS: &str = r#"
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
[[logs]]
id = "off"
small_end = "13 in"
butt = "15 in"
length = "8 ft 4 in"
species = "white oak"
pith_small = { off = "1 in", toward = "4 o'clock" }
flaws = ["rot radius 1 in from butt length 2 ft"]
[[logs]]
id = "measured"
shape = "shapes/oak.csv"
"#;

const WANTS: &str = r#"
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

const QUARTERED: &str = r#"
[[wants]]
size = "1x6"
rings = ["quarter", "rift"]
lengths = "6/8"
[[wants]]
size = "1x4"
lengths = "6/8"
"#;

type Planned = (&'static str, PileJob, Pile, PilePlan);

/// All piles, planned once.
static PLANNED: LazyLock<Vec<Planned>> = LazyLock::new(|| {
    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("../data");
    let plan = |(name, methods, wants): &(&'static str, &str, &str)| {
        let text = format!("[sawing]\ntrim = \"2 in\"\n{methods}{LOGS}{wants}");
        let job = parse_job(text.as_bytes(), "job.toml", "JOB", &data).expect("a sound job");
        let pile = job.pile();
        let plan = plan_pile(&pile, &()).expect("a plan");
        (*name, job, pile, plan)
    };
    PILES.par_iter().map(plan).collect()
});

/// A polygon of a picture: its class, the piece that it is of, its corners.
struct Polygon {
    class: String,
    piece: Option<usize>,
    corners: Vec<[f64; 2]>,
}

/// The corners of a path of straight lines, each from the one before.
fn path_corners(d: &str) -> Vec<[f64; 2]> {
    let spaced = d.replace('-', " -").replace(['M', 'l', 'z'], " ");
    let figures: Vec<f64> =
        spaced.split_whitespace().map(|figure| figure.parse().expect("a number")).collect();
    let mut at = [0.0, 0.0];
    let steps = figures.chunks(2).map(|step| {
        at = [at[0] + step[0], at[1] + step[1]];
        at
    });
    steps.collect()
}

/// Every outline of a picture, read by its text alone, in inches.
fn polygons(picture: &str) -> Vec<Polygon> {
    let attribute = |tag: &str, name: &str| {
        let from = tag.find(&format!("{name}=\""))? + name.len() + 2;
        Some(tag[from..].split('"').next().unwrap_or_default().to_owned())
    };
    let tags = |name: &'static str| {
        picture.split(name).skip(1).map(|rest| rest.split('>').next().unwrap_or(""))
    };
    let class = |tag: &str| attribute(tag, "class").unwrap_or_default();
    let inches = |corners: Vec<[f64; 2]>| corners.iter().map(|p| p.map(|at| at / 100.0)).collect();
    let boxes = tags("<polygon ").map(|tag| {
        let points = attribute(tag, " points").unwrap_or_default();
        let corner = |pair: &str| {
            let (x, y) = pair.split_once(',').expect("x,y");
            [x, y].map(|figure| figure.parse::<f64>().expect("a number"))
        };
        Polygon {
            class: class(tag),
            piece: attribute(tag, "data-piece").map(|n| n.parse().expect("a number")),
            corners: inches(points.split_whitespace().map(corner).collect()),
        }
    });
    let closed = tags("<path ").filter_map(|tag| {
        let d = attribute(tag, " d")?;
        let corners = d.ends_with('z').then(|| inches(path_corners(&d)))?;
        Some(Polygon { class: class(tag), piece: None, corners })
    });
    boxes.chain(closed).collect()
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
    for (name, job, pile, plan) in PLANNED.iter() {
        boxes_are_those_of_the_json(name, job, pile, plan);
    }
}

fn boxes_are_those_of_the_json(name: &str, job: &PileJob, pile: &Pile, plan: &PilePlan) {
    let mut text = Vec::new();
    pithward_report::pile_json(job, pile, plan, &mut text).expect("written");
    let json: Value = serde_json::from_slice(&text).expect("JSON");
    let mut seen = 0;
    for (n, fate) in plan.logs.iter().enumerate() {
        let LogFate::Sawn(sawn) = fate else { continue };
        let n = format!("{name}, log {n}");
        let place: usize = n.rsplit(' ').next().and_then(|n| n.parse().ok()).expect("its place");
        let told = &json["logs"][place]["plan"];
        assert!(told.is_object(), "log {n} has no plan");
        let drawn = Drawn::of(&pile.logs[place].log, &pile.mill, sawn).expect("it replays");
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
    assert!(seen > 20, "{name}: {seen}");
}

#[test]
fn parts_and_sawdust_make_up_the_small_end() {
    for (name, _, pile, plan) in PLANNED.iter() {
        for (n, fate) in plan.logs.iter().enumerate() {
            let LogFate::Sawn(sawn) = fate else { continue };
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
                (parts + kerfs - whole).abs() < 0.006 * whole,
                "{name}, log {n}: {parts} + {kerfs} of {whole}"
            );
            // Every sort of thing is there, and the sawdust is what the passes take.
            let passes: f64 =
                sawn.replayed.passes.iter().flatten().map(|it| it.opening_small_end).sum();
            let by_log = passes * pile.mill.kerf.inches_f64();
            assert!(
                kerfs > 0.7 * by_log && parts > 0.5 * whole,
                "{name}, log {n}: {kerfs} for {by_log}"
            );
        }
    }
}

/// What of an outline lies in a box: clipped by its four sides in turn (Sutherland and Hodgman, "Reentrant polygon clipping",
/// Communications of the ACM 17(1), 1974).
fn within(outline: &[[f64; 2]], corners: &[[f64; 2]; 4]) -> Vec<[f64; 2]> {
    let mut clipped = outline.to_vec();
    let turn: f64 = signed(corners);
    for (a, b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let side = |p: &[f64; 2]| {
            ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) * turn.signum()
        };
        let mut kept = Vec::new();
        for (p, q) in clipped.iter().zip(clipped.iter().cycle().skip(1)) {
            let (s, t) = (side(p), side(q));
            if s >= 0.0 {
                kept.push(*p);
            }
            if s * t < 0.0 {
                let share = s / (s - t);
                kept.push([p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])]);
            }
        }
        clipped = kept;
    }
    clipped
}

fn signed(corners: &[[f64; 2]]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    0.5 * corners.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>()
}

/// At any section of a log: pieces, sawdust and waste add up to it, and every piece lies in the part that it is cut from.
#[test]
fn pieces_sawdust_and_waste_make_up_every_section() {
    let (mut sections, mut pieces) = (0, 0);
    for (name, _, pile, plan) in PLANNED.iter() {
        for (n, fate) in plan.logs.iter().enumerate() {
            let LogFate::Sawn(sawn) = fate else { continue };
            let log = &pile.logs[n].log;
            let long = log.length().inches_f64();
            for z in [0.0, 0.31 * long, 0.5 * long, 0.77 * long] {
                let at = format!("{name}, log {n}, {z:.1} in");
                let parting = parting(log, pile.mill.kerf, &sawn.order, z).expect("it replays");
                let whole = area(&parting.whole.wood);
                let kerfs: f64 = parting
                    .stages
                    .iter()
                    .flat_map(|stage| &stage.passes)
                    .map(|pass| area(&pass.kerf.wood))
                    .sum();
                let (mut boxes, mut waste) = (0.0, 0.0);
                for part in &parting.parts {
                    let own = sawn.order.pieces.iter().filter(|piece| {
                        let (from, to) = (piece.claim.z.from, piece.claim.z.to);
                        (piece.part, piece.strip) == (part.part, part.strip)
                            && (from.inches_f64()..=to.inches_f64()).contains(&z)
                    });
                    let outline = &part.outlines.wood;
                    let mut left = area(outline);
                    for piece in own {
                        let claim = &piece.claim;
                        let corners = claim.corners_at(&sawn.order.frame, log.length(), z);
                        let corners = corners.expect("a whole number of quarter turns");
                        let (full, has) = (area(&corners), area(&within(outline, &corners)));
                        let legs = claim.wane_u.inches_f64() * claim.wane_h.inches_f64();
                        // Round wood is a polygon here, a hair within its circle.
                        assert!(
                            has > full - 2.0 * legs - 0.02 * full.sqrt(),
                            "{at}: {has} of {full}"
                        );
                        (left, boxes, pieces) = (left - has, boxes + has, pieces + 1);
                    }
                    assert!(left > -1e-6, "{at}: pieces overlap");
                    waste += left;
                }
                let sum = boxes + kerfs + waste;
                assert!((sum - whole).abs() < 1e-6 * whole, "{at}: {sum} of {whole}");
                // Short pieces come from the butt.
                assert!(z < 0.7 * long || boxes > 0.2 * whole, "{at}: {boxes} of {whole}");
                sections += 1;
            }
        }
    }
    assert!(sections > 60 && pieces > 500, "{sections} sections, {pieces} pieces");
}

#[test]
fn a_strip_tells_every_turn_and_the_faces_that_are_open() {
    for (name, _, pile, plan) in PLANNED.iter() {
        for (n, fate) in plan.logs.iter().enumerate() {
            let LogFate::Sawn(sawn) = fate else { continue };
            let drawn = Drawn::of(&pile.logs[n].log, &pile.mill, sawn).expect("it replays");
            let turns = drawn.turns();
            let bodies = sawn.order.resaws.iter().map(|resaw| resaw.stages.len());
            let stages = sawn.order.stages.len() + bodies.sum::<usize>();
            assert_eq!(turns.len(), stages, "{name}, log {n}");
            let passes: usize = turns.iter().map(|turn| turn.passes).sum();
            let words = |turn: &Turn| [format!("<{:?}>", turn.place), turn.passes.to_string()];
            let picture = strip(&drawn, &words, "turns").into_string();
            assert!(!picture.contains("NaN") && !picture.contains("inf"), "{picture}");
            assert!(picture.contains("&lt;Log") && !picture.contains("<Log"));
            let count = |class: &str| picture.matches(&format!("class=\"{class}\"")).count();
            // One outline for each, and a face that was just sawn wherever the log was turned.
            assert_eq!(count("wood hair"), stages, "{name}, log {n}");
            // Of a bowed log a first pass may miss the small end.
            let later = if pile.logs[n].log.is_round() { sawn.order.stages.len() - 1 } else { 0 };
            assert!(count("fresh") >= later, "{name}, log {n}: {} of {later}", count("fresh"));
            assert!(count("next hair") <= passes, "{name}, log {n}");
            let turned: Vec<i32> = turns.iter().filter_map(|turn| turn.turned).collect();
            assert!(turned.iter().all(|by| [90, 180, 270].contains(by)), "{turned:?}");
        }
    }
}

/// Every picture as a file of its own is XML that a reader of XML reads, with a title and a description.
#[test]
fn pictures_that_stand_alone_are_well_formed() {
    let (mut read, mut flat) = (0, 0);
    for (_, _, pile, plan) in PLANNED.iter() {
        for (n, fate) in plan.logs.iter().enumerate() {
            let LogFate::Sawn(sawn) = fate else { continue };
            let drawn = Drawn::of(&pile.logs[n].log, &pile.mill, sawn).expect("it replays");
            let text = |length: Length| format!("<{}\" & more>", length.inches_f64());
            let words = Words { piece: &|n| format!("piece & <{n}>"), height: &text, long: &text };
            let mut all = vec![
                end_view(&drawn, &words, "end", "the <small> end"),
                strip(&drawn, &|_| ["a & b".to_owned(), "]]>".to_owned()], "turns"),
            ];
            for rest in 0..drawn.rests() {
                all.extend(rest_view(&drawn, rest, &words, "lies"));
                all.extend(side_view(&drawn, rest, &words, "side"));
                all.extend(flitch_view(&drawn, rest, &words, "edge"));
            }
            for edging in &sawn.order.edgings {
                all.extend(flat_view(&drawn, edging.part, &words, "flat"));
                flat += 1;
            }
            for picture in &all {
                let text = stand_alone(picture, "what it is & <more>");
                let document = roxmltree::Document::parse(&text);
                let document = document.unwrap_or_else(|fault| panic!("{fault}: {text}"));
                let root = document.root_element();
                let named = |name| {
                    root.children().find(|node| node.has_tag_name(name)).and_then(|it| it.text())
                };
                assert_eq!(root.tag_name().namespace(), Some("http://www.w3.org/2000/svg"));
                assert_eq!(
                    named(("http://www.w3.org/2000/svg", "desc")),
                    Some("what it is & <more>")
                );
                assert!(named(("http://www.w3.org/2000/svg", "title")).is_some());
                assert!(!text.contains("var(") && !text.contains("NaN"), "{text}");
                read += 1;
            }
        }
    }
    assert!(read > 200 && flat > 20, "{read} pictures, {flat} flitches");
}

#[test]
fn every_stage_has_its_picture_with_its_heights() {
    let (_, _, pile, plan) = &PLANNED[0];
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
