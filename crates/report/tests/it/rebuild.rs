//! A plan rebuilt from its JSON alone, with the formulas of `data/schema/README.md` and nothing of this
//! program: what someone without the code would do.

use crate::common::pile::{logs, pile_job, pile_job_on, planned_pile, wants};
use crate::common::{job, job_on, length, mill, planned};
use pithward_geometry::Mill;
use pithward_measure::{Length, Scale};
use pithward_optimizer::PilePlan;
use pithward_report::{json, pile_json};
use serde_json::Value;

/// A micrometre, in nanometres: the lowest point of a flitch on its bark is a square root.
const CLOSE: f64 = 1000.0;

/// A half-plane `x sin(turn) + y cos(turn) <= offset`, in millidegrees and nanometres.
type Side = (i64, f64);

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn place(value: &Value) -> usize {
    usize::try_from(value.as_u64().unwrap()).unwrap()
}

fn turned(turn: i64, by: i64) -> i64 {
    (turn + by).rem_euclid(360_000)
}

/// The nearest side in a direction.
fn side(body: &[Side], turn: i64) -> Option<f64> {
    let offsets = body.iter().filter(|(t, _)| *t == turned(turn, 0)).map(|(_, offset)| *offset);
    offsets.reduce(f64::min)
}

/// Carries a body through the passes of one stage, the pith at this height over the bed.
fn saw(
    body: &mut Vec<Side>,
    parts: &mut Vec<(Value, Vec<Side>)>,
    stage: &Value,
    pith: f64,
    kerf: f64,
) {
    let turn = stage["rest"]["turn"].as_i64().unwrap();
    for pass in stage["passes"].as_array().unwrap() {
        let height = number(&pass["height"]);
        let mut freed = body.clone();
        freed.push((turned(turn, 180_000), -(height + kerf - pith)));
        parts.push((pass["frees"].clone(), freed));
        body.push((turned(turn, 0), height - pith));
    }
}

/// Height of the plane of the pith when a part of the log stands on edge, level.
fn stands(body: &[Side], stage: &Value, butt: f64) -> f64 {
    let turn = stage["rest"]["turn"].as_i64().unwrap();
    if stage["rest"]["on"] == "sawn_edge" {
        return side(body, turn + 180_000).unwrap();
    }
    // On bark: the lowest point of its section at the butt, which lies on its face nearest the pith.
    let (right, left) = (side(body, turn + 90_000), side(body, turn - 90_000));
    let nearest = [right, left].into_iter().flatten().fold(0.0, |near, offset| offset.min(near));
    (butt * butt - nearest * nearest).sqrt()
}

/// Every piece of the plan of one log.
fn check(text: &str) {
    let plan: Value = serde_json::from_str(text).unwrap();
    check_log(&plan, &plan["log"], number(&plan["mill"]["kerf"]), &plan["wants"]);
    let given = plan["pieces"].as_array().unwrap().len() as u64;
    assert_eq!(given, plan["tally"].as_array().unwrap().iter().map(pieces).sum::<u64>());
}

/// Pieces within and beyond a count.
fn pieces(tally: &Value) -> u64 {
    tally["given"].as_u64().unwrap() + tally["extra"].as_u64().unwrap()
}

/// Every piece of every log of a pile, and that the counts, the order and the worth add up.
fn check_pile(text: &str) {
    let pile: Value = serde_json::from_str(text).unwrap();
    let list = |value: &Value| value.as_array().unwrap().clone();
    let wants = list(&pile["wants"]).len();
    let (mut given, mut board_feet, mut worth) = (vec![(0, 0); wants], 0, 0);
    let mut sawn = Vec::new();
    for (place, log) in list(&pile["logs"]).iter().enumerate() {
        let plan = &log["plan"];
        assert_eq!(plan.is_null(), log["fate"] != "sawn");
        assert_eq!(plan.is_null(), log["number"].is_null());
        if plan.is_null() {
            continue;
        }
        let wood = &pile["woods"][self::place(&log["wood"])];
        check_log(plan, &log["log"], number(&pile["mill"]["kerf"]), &wood["wants"]);
        let gives = list(&plan["gives"]);
        let sum = |of: &str| gives.iter().map(|gives| gives[of].as_u64().unwrap()).sum::<u64>();
        let extra =
            list(&plan["pieces"]).iter().filter(|piece| piece["extra"] == true).count() as u64;
        assert_eq!(sum("extra"), extra);
        assert_eq!(sum("given") + extra, list(&plan["pieces"]).len() as u64);
        for piece in list(&plan["pieces"]) {
            let want = self::place(&piece["want"]);
            let cut = &wood["wants"][want]["cuts"][self::place(&piece["cut"])];
            assert_eq!(piece["board_feet"], cut["board_feet"]);
            board_feet += cut["board_feet"].as_i64().unwrap();
            if piece["extra"] == true {
                given[want].1 += 1;
                worth += cut["worth_beyond_count"].as_i64().unwrap();
            } else {
                given[want].0 += 1;
                worth += cut["worth"].as_i64().unwrap();
                worth -= pile["wants"][want]["list_first"].as_i64().unwrap();
            }
        }
        sawn.push((self::place(&log["number"]), place));
    }
    for (tally, (within, beyond)) in list(&pile["tally"]).iter().zip(&given) {
        assert_eq!((&tally["given"], &tally["extra"]), (&(*within).into(), &(*beyond).into()));
        let short = tally["wanted"].as_u64().map_or(0, |wanted| wanted - *within);
        assert_eq!(tally["short"], short);
    }
    assert_eq!(pile["result"]["board_feet"], board_feet);
    assert_eq!(pile["result"]["worth"], worth);
    let first = list(&pile["wants"]).into_iter().zip(&given).map(|(want, (within, _))| {
        want["list_first"].as_i64().unwrap() * i64::try_from(*within).unwrap()
    });
    assert_eq!(pile["result"]["list_first"], first.sum::<i64>());
    sawn.sort_unstable();
    let order: Vec<usize> =
        list(&pile["order"]).iter().flat_map(|lot| list(&lot["logs"])).map(|n| place(&n)).collect();
    assert_eq!(sawn, (1..).zip(order).collect::<Vec<_>>());
    let short = |shortage: &Value| shortage["missing"].as_u64().unwrap();
    let tally = |tally: &Value| tally["short"].as_u64().unwrap();
    assert_eq!(
        list(&pile["shortages"]).iter().map(short).sum::<u64>(),
        list(&pile["tally"]).iter().map(tally).sum::<u64>()
    );
}

/// Every piece of a log against the planes that its steps saw.
fn check_log(plan: &Value, log: &Value, kerf: f64, wants: &Value) {
    let butt = number(&log["butt"]) / 2.0 + number(&log["bark_butt"]);
    let mut body: Vec<Side> = Vec::new();
    let mut parts: Vec<(Value, Vec<Side>)> = Vec::new();
    for stage in plan["stages"].as_array().unwrap() {
        let pith = number(&stage["pith_small_end"]);
        assert_eq!(stage["pith_small_end"], stage["pith_butt"], "the pith is level");
        saw(&mut body, &mut parts, stage, pith, kerf);
    }
    parts.push(("left_on_bed".into(), body));
    for (resaw, n) in plan["resaws"].as_array().unwrap().iter().zip(1..) {
        let at = parts.iter().position(|(part, _)| *part == resaw["part"]);
        let mut body = parts.remove(at.unwrap()).1;
        for stage in resaw["stages"].as_array().unwrap() {
            let pith = number(&stage["pith_small_end"]);
            saw(&mut body, &mut parts, stage, pith, kerf);
        }
        parts.push((serde_json::json!({ "left_on_bed_of": n }), body));
    }
    let find = |parts: &[(Value, Vec<Side>)], id: &Value| {
        parts.iter().find(|(part, _)| part == id).unwrap().1.clone()
    };
    let radius = |z: f64| {
        let (small, butt) = (number(&log["small_end"]) / 2.0, number(&log["butt"]) / 2.0);
        small + (butt - small) * z / number(&log["length"])
    };
    for piece in plan["pieces"].as_array().unwrap() {
        let mut body = find(&parts, &piece["part"]);
        if !piece["strip"].is_null() {
            let edgings = plan["edgings"].as_array().unwrap();
            let edging = edgings.iter().find(|edging| edging["part"] == piece["part"]).unwrap();
            let mut strips = Vec::new();
            for stage in edging["stages"].as_array().unwrap() {
                let pith = stands(&body, stage, butt);
                saw(&mut body, &mut strips, stage, pith, kerf);
            }
            strips.push(("left_on_bed".into(), body));
            body = find(&strips, &piece["strip"]);
        }
        let turn = piece["turn"].as_i64().unwrap();
        let span = |axis: &str| (number(&piece[axis]["from"]), number(&piece[axis]["to"]));
        let ((u0, u1), (h0, h1), (z0, z1)) = (span("u"), span("h"), span("z"));
        for (by, offset) in [(0, h1), (90_000, u1), (180_000, -h0), (270_000, -u0)] {
            let found = side(&body, turn + by).expect("every side of a piece is sawn");
            assert!((found - offset).abs() < CLOSE, "{piece}: {found} is not {offset}");
        }
        // Sound at its thin end but for the wane.
        let (wane_u, wane_h) = (number(&piece["wane_u"]), number(&piece["wane_h"]));
        let (u, h) = (u0.abs().max(u1.abs()), h0.abs().max(h1.abs()));
        let within = |u: f64, h: f64| (u * u + h * h).sqrt() < radius(z0) + CLOSE;
        assert!(within(u - wane_u, h) && within(u, h - wane_h), "{piece} reaches out of the wood");
        let cut = &wants[place(&piece["want"])]["cuts"][place(&piece["cut"])];
        let mut sizes = [u1 - u0, h1 - h0];
        let mut named = [number(&cut["sawn_thickness"]), number(&cut["sawn_width"])];
        sizes.sort_by(f64::total_cmp);
        named.sort_by(f64::total_cmp);
        assert_eq!((sizes, z1 - z0), (named, number(&cut["takes"])));
    }
}

#[test]
fn every_piece_is_what_its_passes_leave() {
    for (small, butt, long, wants) in [
        ("24 in", "26 1/2 in", "12 ft 4 in", &["2x8x12=6", "2x6x12=8", "1x6x12"][..]),
        ("10 in", "11 1/4 in", "8 ft 4 in", &["2x6x8", "1x4", "1x6"]),
        ("16 in", "17 1/2 in", "16 ft 4 in", &["8x8x16=1", "2x6=4", "1x4up"]),
        ("9 in", "9 in", "8 ft 3 in", &["6x6x8=1", "1x4"]),
    ] {
        let job = job(small, butt, long, wants);
        let (planned, near) = planned(&job);
        check(&json(&job, &planned, &near));
    }
}

#[test]
fn every_piece_of_a_quartered_log_is_what_its_passes_leave() {
    let mut put_back = 0;
    for (small, butt, long, wants) in [
        ("20 in", "21 1/2 in", "8 ft 4 in", &["1x4", "1x6", "1x8"][..]),
        ("26 in", "26 in", "10 ft 4 in", &["1x6", "2x4", "1x10", "2x12"]),
    ] {
        let mut job = job(small, butt, long, wants);
        job.settings.methods = vec![pithward_optimizer::Method::Quarter];
        let (planned, near) = planned(&job);
        let text = json(&job, &planned, &near);
        check(&text);
        let plan: Value = serde_json::from_str(&text).unwrap();
        put_back += plan["resaws"].as_array().unwrap().len();
        let mut spoilt = plan.clone();
        let height = &mut spoilt["resaws"][0]["stages"][0]["passes"][1]["height"];
        *height = (height.as_i64().unwrap() + 1_000_000).into();
        let spoilt = spoilt.to_string();
        assert!(std::panic::catch_unwind(|| check(&spoilt)).is_err(), "a spoilt plan passes");
    }
    assert!(put_back > 1);
}

fn pile_text(job: &pithward_job::PileJob) -> (PilePlan, String) {
    let (pile, plan) = planned_pile(job);
    let mut text = Vec::new();
    pile_json(job, &pile, &plan, &mut text).unwrap();
    (plan, String::from_utf8(text).unwrap())
}

#[test]
fn every_piece_of_a_pile_is_what_its_passes_leave() {
    let mut job = pile_job(logs(9), &["4x4x8=6", "8x8x16=1", "2x8x12=12", "1x4up"]);
    job.wants[0].blocking = true;
    job.wants[2].extra = Some(job.wants[2].worth);
    check_pile(&pile_text(&job).1);
}

#[test]
fn every_piece_of_a_pile_in_millimetres() {
    let mill = Mill { step: Length::mm(1), kerf: Length::nm(2_500_000), ..mill() };
    let mut list = wants(&["50x150x3000 mm=5", "25x100 mm"]);
    list[1].lengths = vec![length("2.4 m"), length("3 m")];
    check_pile(&pile_text(&pile_job_on(mill, Scale::Millimetres, logs(4), list)).1);
}

#[test]
#[should_panic(expected = "is not")]
fn a_pile_that_was_tampered_with_is_found_out() {
    let (_, text) = pile_text(&pile_job(logs(2), &["2x6x8=4", "1x4"]));
    let mut plan: Value = serde_json::from_str(&text).unwrap();
    let height = &mut plan["logs"][0]["plan"]["stages"][0]["passes"][0]["height"];
    *height = (height.as_i64().unwrap() + 1_000_000).into();
    check_pile(&plan.to_string());
}

#[test]
fn and_in_millimetres() {
    let mill = Mill { step: Length::mm(1), kerf: Length::nm(2_500_000), ..mill() };
    let wants = ["50x150x3600 mm=4", "25x100 mm"];
    let job = job_on(mill, Scale::Millimetres, "350 mm", "380 mm", "3.7 m", &wants);
    let (planned, near) = planned(&job);
    check(&json(&job, &planned, &near));
}

#[test]
fn the_example_stands_on_its_own() {
    check(include_str!("../../../../data/schema/plan.example.json"));
}

#[test]
#[should_panic(expected = "is not")]
fn a_plan_that_was_tampered_with_is_found_out() {
    let job = job("10 in", "11 1/4 in", "8 ft 4 in", &["2x6x8", "1x4"]);
    let (planned, near) = planned(&job);
    let text = json(&job, &planned, &near);
    let mut plan: Value = serde_json::from_str(&text).unwrap();
    let height = &mut plan["stages"][0]["passes"][0]["height"];
    *height = (height.as_i64().unwrap() + 1_000_000).into();
    check(&plan.to_string());
}
