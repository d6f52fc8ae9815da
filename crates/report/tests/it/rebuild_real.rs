//! A plan of a log that is not round rebuilt from its JSON alone, with the formulas of `data/schema/README.md`, polygon
//! code of its own and nothing of this program.

#![allow(clippy::disallowed_methods, reason = "a reader of the file has the platform's own sine")]

use crate::common::real::{bowed, by_hand, crooked, flaw, real_job};
use crate::common::{length, planned};
use pithward_geometry::{Angle, Flaw, FlawKind, FlawKinds, Frame, Region};
use pithward_job::{HeartRule, LogJob, NamedFlaw};
use pithward_measure::Length;
use pithward_optimizer::Planned;
use pithward_report::json;
use serde_json::Value;

/// What planes and heights agree to, nanometres.
const CLOSE: f64 = 1_000.0;
/// What the rounding of outlines to micrometres may hide.
const ROUNDED: f64 = 3_000.0;
/// How far the lowest point of a part that is cut may lie between two stations that are looked at.
const BETWEEN: f64 = 250_000.0;

type Point = [f64; 2];
type Axis = [f64; 3];
/// The points `p` with `normal . p <= offset`.
type Plane = (Axis, f64);

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().unwrap()
}

fn place(value: &Value) -> usize {
    usize::try_from(value.as_u64().unwrap()).unwrap()
}

fn dot(a: Axis, b: Axis) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: Axis, b: Axis) -> Axis {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn minus(a: Axis) -> Axis {
    a.map(|c| -c)
}

fn unit(a: Axis) -> Axis {
    let long = dot(a, a).sqrt();
    a.map(|c| c / long)
}

fn clock(millidegrees: f64) -> Axis {
    let (sin, cos) = (millidegrees / 1000.0).to_radians().sin_cos();
    [sin, cos, 0.0]
}

/// A plan and the directions of its planes.
struct Read<'a> {
    plan: &'a Value,
    turn: f64,
    u: Axis,
    h: Axis,
}

impl<'a> Read<'a> {
    fn new(plan: &'a Value) -> Self {
        let frame = &plan["frame"];
        let (turn, long) = (number(&frame["turn"]), number(&plan["log"]["length"]));
        let (du, dh) = (number(&frame["drift_u"]), number(&frame["drift_h"]));
        let (right, up) = (clock(turn + 90_000.0), clock(turn));
        let along = unit([du * right[0] + dh * up[0], du * right[1] + dh * up[1], long]);
        let off = dot(up, along);
        let h = unit([up[0] - off * along[0], up[1] - off * along[1], -off * along[2]]);
        Self { plan, turn, u: cross(h, along), h }
    }

    /// What is right and what is up in a rest or a piece's frame of some turn.
    fn turned(&self, turn: &Value) -> (Axis, Axis) {
        let by = (number(turn) - self.turn).rem_euclid(360_000.0) / 90_000.0;
        let quarter = [0.0, 1.0, 2.0, 3.0].iter().position(|n| (by - n).abs() < 1e-9);
        match quarter.expect("a whole number of quarters") {
            0 => (self.u, self.h),
            1 => (minus(self.h), self.u),
            2 => (minus(self.u), minus(self.h)),
            _ => (self.h, minus(self.u)),
        }
    }

    /// The outline, `wood` or `bark`, and the pith at a station.
    fn section(&self, z: f64, of: &str) -> (Vec<Point>, Point) {
        let sections = list(&self.plan["log"]["sections"]);
        let next = sections.iter().position(|s| number(&s["z"]) >= z - 0.5).unwrap();
        let (a, b) = (&sections[next.saturating_sub(1)], &sections[next]);
        let (from, to) = (number(&a["z"]), number(&b["z"]));
        let share = if to > from { (z - from) / (to - from) } else { 1.0 };
        let mix = |a: &Value, b: &Value| {
            let at = |n: usize| number(&a[n]) + share * (number(&b[n]) - number(&a[n]));
            [1000.0 * at(0), 1000.0 * at(1)]
        };
        let points = list(&a[of]).iter().zip(list(&b[of])).map(|(a, b)| mix(a, b)).collect();
        (points, mix(&a["pith"], &b["pith"]))
    }

    /// Stations between two, those of sections, the ends, and some between.
    fn stations(&self, from: f64, to: f64) -> Vec<f64> {
        let own = list(&self.plan["log"]["sections"]).iter().map(|s| number(&s["z"]));
        let mut all: Vec<f64> = own.filter(|z| *z > from && *z < to).chain([from, to]).collect();
        all.sort_by(f64::total_cmp);
        let between = |pair: &[f64]| [0.25, 0.5, 0.75].map(|s| pair[0] + s * (pair[1] - pair[0]));
        let more: Vec<f64> = all.windows(2).flat_map(between).collect();
        all.extend(more);
        all
    }

    /// What of a section is left of a body, upward: its lowest and its highest point; `None` where nothing is.
    fn ends(&self, body: &[Plane], up: Axis, z: f64, of: &str) -> Option<(f64, f64)> {
        let mut left = self.section(z, of).0;
        for (normal, offset) in body {
            left = clip(&left, |[x, y]| dot(*normal, [x, y, z]) - offset);
        }
        let heights: Vec<f64> = left.iter().map(|[x, y]| dot(up, [*x, *y, z])).collect();
        let low = heights.iter().copied().reduce(f64::min)?;
        Some((low, heights.iter().copied().reduce(f64::max)?))
    }

    /// How high the ends hang over the bed, and what hangs over the toe board.
    fn hangs(&self, body: &[Plane], stage: &Value, g: f64) {
        let (_, up) = self.turned(&stage["rest"]["turn"]);
        let (length, hangs) = (number(&self.plan["log"]["length"]), &stage["hangs"]);
        let toe = self.plan["mill"]["toe_board"].as_f64();
        let ends = [
            ("small_end", Some(0.0)),
            ("butt", Some(length)),
            ("toe_board", toe.map(|a| length - a)),
        ];
        for (name, z) in ends {
            let Some(z) = z else {
                assert!(hangs[name].is_null());
                continue;
            };
            let (low, _) = self.ends(body, up, z, "bark").unwrap();
            assert!((low + g - number(&hangs[name])).abs() < ROUNDED, "{name}: {hangs}");
        }
        let lift = number(&hangs["small_end"]) - number(&hangs["butt"]);
        assert!((lift - number(&stage["rest"]["lift"])).abs() < CLOSE, "{stage}");
    }

    /// The lowest bark of a body, upward.
    fn lowest(&self, body: &[Plane], up: Axis) -> f64 {
        let length = number(&self.plan["log"]["length"]);
        let mut lowest = f64::INFINITY;
        for z in self.stations(0.0, length) {
            lowest = self.ends(body, up, z, "bark").map_or(lowest, |(low, _)| lowest.min(low));
        }
        lowest
    }

    /// Carries a body through the passes of a stage whose axis is so high over the bed.
    fn saw(
        &self,
        body: &mut Vec<Plane>,
        parts: &mut Vec<(Value, Vec<Plane>)>,
        stage: &Value,
        g: f64,
    ) {
        let (_, up) = self.turned(&stage["rest"]["turn"]);
        // What is lowest of it touches the bed.
        let slack = if body.is_empty() { ROUNDED } else { BETWEEN };
        let ground = -self.lowest(body, up);
        assert!((ground - g).abs() < slack, "the axis is at {ground}, not at {g}: {stage}");
        let kerf = number(&self.plan["mill"]["kerf"]);
        for pass in list(&stage["passes"]) {
            let height = number(&pass["height"]);
            let mut freed = body.clone();
            freed.push((minus(up), -(height + kerf - g)));
            parts.push((pass["frees"].clone(), freed));
            body.push((up, height - g));
        }
    }
}

/// What of a polygon lies where a function is not above 0.
fn clip(polygon: &[Point], over: impl Fn(Point) -> f64) -> Vec<Point> {
    let mut left = Vec::new();
    for (a, b) in polygon.iter().zip(polygon.iter().cycle().skip(1)) {
        let (at, next) = (over(*a), over(*b));
        if at <= 0.0 {
            left.push(*a);
        }
        if (at < 0.0 && next > 0.0) || (at > 0.0 && next < 0.0) {
            let share = at / (at - next);
            left.push([a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]);
        }
    }
    left
}

fn inside(polygon: &[Point], [x, y]: Point) -> bool {
    let mut odd = false;
    for (a, b) in polygon.iter().zip(polygon.iter().cycle().skip(1)) {
        if (a[1] > y) != (b[1] > y) && x < a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]) {
            odd = !odd;
        }
    }
    odd
}

/// The nearest plane of a body in a direction.
fn side(body: &[Plane], normal: Axis) -> Option<f64> {
    let same = body.iter().filter(|(n, _)| dot(*n, normal) > 1.0 - 1e-12);
    same.map(|(_, offset)| *offset).reduce(f64::min)
}

/// Every piece of a plan against the planes that its steps saw, the wood, the flaws and the pith.
fn check(text: &str) {
    let plan: Value = serde_json::from_str(text).unwrap();
    let read = Read::new(&plan);
    let mut body: Vec<Plane> = Vec::new();
    let mut parts: Vec<(Value, Vec<Plane>)> = Vec::new();
    for stage in list(&plan["stages"]) {
        let g = number(&stage["pith_small_end"]);
        let before = body.clone();
        read.saw(&mut body, &mut parts, stage, g);
        read.hangs(&before, stage, g);
        // The pith at the butt follows from the drift.
        let (_, up) = read.turned(&stage["rest"]["turn"]);
        let at_butt = g + up[2] * number(&plan["log"]["length"]);
        assert!((at_butt - number(&stage["pith_butt"])).abs() < CLOSE, "{stage}");
    }
    parts.push(("left_on_bed".into(), body));
    let find = |parts: &[(Value, Vec<Plane>)], id: &Value| {
        parts.iter().find(|(part, _)| part == id).unwrap().1.clone()
    };
    assert!(!list(&plan["pieces"]).is_empty());
    for piece in list(&plan["pieces"]) {
        let mut body = find(&parts, &piece["part"]);
        if !piece["strip"].is_null() {
            let edgings = list(&plan["edgings"]);
            let edging = edgings.iter().find(|edging| edging["part"] == piece["part"]).unwrap();
            let mut strips = Vec::new();
            for stage in list(&edging["stages"]) {
                let axis = number(&stage["axis"]);
                let (_, up) = read.turned(&stage["rest"]["turn"]);
                let butt = number(&plan["log"]["length"]);
                if let Some((low, high)) = read.ends(&body, up, butt, "wood") {
                    let middle = 0.5 * (low + high) + axis;
                    assert!((middle - number(&stage["middle_butt"])).abs() < ROUNDED, "{stage}");
                }
                read.saw(&mut body, &mut strips, stage, axis);
            }
            strips.push(("left_on_bed".into(), body));
            body = find(&strips, &piece["strip"]);
        }
        let (right, up) = read.turned(&piece["turn"]);
        let span = |axis: &str| (number(&piece[axis]["from"]), number(&piece[axis]["to"]));
        let (u, h, z) = (span("u"), span("h"), span("z"));
        for (normal, offset) in [(up, h.1), (minus(up), -h.0), (right, u.1), (minus(right), -u.0)] {
            let found = side(&body, normal).expect("every side of a piece is sawn");
            assert!((found - offset).abs() < CLOSE, "{piece}: {found} is not {offset}");
        }
        let cut = &plan["wants"][place(&piece["want"])]["cuts"][place(&piece["cut"])];
        let mut sizes = [u.1 - u.0, h.1 - h.0];
        let mut named = [number(&cut["sawn_thickness"]), number(&cut["sawn_width"])];
        sizes.sort_by(f64::total_cmp);
        named.sort_by(f64::total_cmp);
        assert_eq!((sizes, z.1 - z.0), (named, number(&cut["takes"])));
        sound(&read, piece, (right, up), (u, h, z));
    }
}

/// A piece's wood, flaws and pith at every station.
fn sound(
    read: &Read<'_>,
    piece: &Value,
    (right, up): (Axis, Axis),
    (u, h, z): ((f64, f64), (f64, f64), (f64, f64)),
) {
    let legs = (number(&piece["wane_u"]), number(&piece["wane_h"]));
    let points = grid(u, h, legs);
    for at in read.stations(z.0, z.1) {
        let (wood, pith) = read.section(at, "wood");
        let seen = |[x, y]: Point| [dot(right, [x, y, at]), dot(up, [x, y, at])];
        let wood: Vec<Point> = wood.into_iter().map(seen).collect();
        let pith = seen(pith);
        for point in &points {
            assert!(inside(&wood, *point), "{piece}: {point:?} is no wood at {at}");
        }
        for flaw in list(&read.plan["log"]["flaws"]) {
            let reaches = (number(&flaw["from"]), number(&flaw["to"]));
            let tolerated = list(&piece["tolerates"]).contains(&flaw["kind"]);
            if !tolerated && reaches.0 < at && at < reaches.1 {
                let turn = |clock: f64| {
                    let axis = self::clock(clock);
                    [dot(right, axis), dot(up, axis)]
                };
                let met = points.iter().find(|point| {
                    holds(&flaw["region"], [point[0] - pith[0], point[1] - pith[1]], turn, &|ray| {
                        surface(&wood, pith, ray)
                    })
                });
                assert!(met.is_none(), "{piece} meets {flaw} at {at}");
            }
        }
        let off = |at: f64, (from, to): (f64, f64)| (from - at).max(at - to).max(0.0);
        let (away_u, away_h) = (off(pith[0], u), off(pith[1], h));
        let heart = &piece["heart"];
        if let Some(free) = heart.get("free") {
            let away = (away_u * away_u + away_h * away_h).sqrt();
            assert!(away > 0.0 && away >= number(&free["clear"]) - ROUNDED, "{piece} at {at}");
        } else if let Some(boxed) = heart.get("boxed") {
            let within = number(&boxed["within"]) + ROUNDED;
            let middle = |(from, to): (f64, f64)| 0.5 * (from + to);
            let near = (pith[0] - middle(u)).abs().max((pith[1] - middle(h)).abs());
            assert!(near <= within && away_u + away_h < CLOSE, "{piece} at {at}: {near}");
        } else {
            assert_eq!(heart, "any");
        }
    }
}

/// Points all over a box, its rim a hair inside, less the corners that may be missing.
fn grid(u: (f64, f64), h: (f64, f64), legs: (f64, f64)) -> Vec<Point> {
    const PARTS: u32 = 24;
    let along = |(from, to): (f64, f64), n: u32| {
        let (from, to) = (from + ROUNDED, to - ROUNDED);
        from + (to - from) * f64::from(n) / f64::from(PARTS)
    };
    let mut points = Vec::new();
    for n in 0..=PARTS {
        for m in 0..=PARTS {
            let point = [along(u, n), along(h, m)];
            let (du, dh) =
                ((point[0] - u.0).min(u.1 - point[0]), (point[1] - h.0).min(h.1 - point[1]));
            let missing = legs.0 > 0.0 && legs.1 > 0.0 && du / legs.0 + dh / legs.1 < 1.001;
            if !missing {
                points.push(point);
            }
        }
    }
    points
}

/// Whether a point, from the pith, lies in a flaw; `turn` gives the direction of a clock position, `surface` how far the
/// wood goes in a direction.
fn holds(
    region: &Value,
    at: Point,
    turn: impl Fn(f64) -> Point,
    surface: &dyn Fn(Point) -> f64,
) -> bool {
    let away = (at[0] * at[0] + at[1] * at[1]).sqrt();
    let toward = |clock: &Value| {
        let axis = turn(number(clock));
        (at[0] * axis[0] + at[1] * axis[1], at[0] * axis[1] - at[1] * axis[0])
    };
    if let Some(heart) = region.get("heart") {
        away < number(&heart["radius"])
    } else if let Some(ring) = region.get("ring") {
        number(&ring["inner"]) < away && away < number(&ring["outer"])
    } else if let Some(radial) = region.get("radial") {
        let (along, aside) = toward(&radial["clock"]);
        let within = number(&radial["from"]) < along && along < number(&radial["to"]);
        within && aside.abs() < 25_400_000.0 / 16.0
    } else {
        let side = &region["side"];
        let (along, aside) = toward(&side["clock"]);
        let half = (number(&side["width"]) / 2000.0).to_radians();
        let ray = [at[0] / away, at[1] / away];
        aside.abs().atan2(along) < half && away > surface(ray) - number(&side["depth"])
    }
}

/// How far the wood goes from the pith in a direction.
fn surface(wood: &[Point], pith: Point, ray: Point) -> f64 {
    let seen = |p: &Point| {
        let (x, y) = (p[0] - pith[0], p[1] - pith[1]);
        (x * ray[0] + y * ray[1], x * ray[1] - y * ray[0])
    };
    let next = wood.iter().cycle().skip(1);
    let met = wood.iter().zip(next).filter_map(|(a, b)| {
        let ((along, aside), (next_along, next_aside)) = (seen(a), seen(b));
        ((aside <= 0.0) != (next_aside <= 0.0))
            .then(|| along - aside / (next_aside - aside) * (next_along - along))
    });
    met.fold(0.0, f64::max)
}

fn text(job: &LogJob, planned: &Planned) -> String {
    json(job, planned, &[])
}

/// Rot in the heart of the butt and nails on one side of it.
fn rot_and_nails() -> Vec<NamedFlaw> {
    let butt = |from: &str| (length(from), length("12 ft 4 in"));
    let (from, to) = butt("9 ft");
    let region = Region::Heart { radius: length("2 in") };
    let rot = Flaw { kind: FlawKind::Rot, from, to, region };
    let (from, to) = butt("7 ft");
    let region = Region::Side {
        clock: Angle::degrees(270),
        width: Angle::degrees(50),
        depth: length("2 1/2 in"),
    };
    vec![flaw("rot", rot), flaw("metal", Flaw { kind: FlawKind::Metal, from, to, region })]
}

#[test]
fn pieces_of_an_order_made_by_hand_on_a_crooked_log() {
    let mut job = real_job(crooked(), Vec::new(), &["2x6x8"]);
    job.mill.toe_board = Some(length("8 ft"));
    for (turn, drift_u, drift_h) in
        [(0, "0 in", "0 in"), (37, "1/2 in", "0 in"), (250, "3/8 in", "3/4 in")]
    {
        let frame = Frame {
            turn: Angle::degrees(turn),
            drift_u: length(drift_u),
            drift_h: -length(drift_h),
        };
        check(&text(&job, &by_hand(&job, frame, length("2 ft 6 in"))));
    }
}

#[test]
fn pieces_of_a_searched_plan_with_flaws_and_rules_for_the_pith() {
    let ring = Region::Ring { inner: length("3 in"), outer: length("3 1/4 in") };
    let split =
        Region::Radial { clock: Angle::degrees(80), from: Length::ZERO, to: length("9 in") };
    let all = |kind, region| Flaw { kind, from: Length::ZERO, to: length("12 ft 4 in"), region };
    for (taped, flaws, heart) in [
        (bowed("1 1/2 in", 200), Vec::new(), HeartRule::Boxed { within: Some(length("1 in")) }),
        (crooked(), rot_and_nails(), HeartRule::Free { clear: length("1/2 in") }),
        (bowed("1 in", 30), vec![flaw("shake", all(FlawKind::Shake, ring))], HeartRule::Any),
        (crooked(), vec![flaw("split", all(FlawKind::Split, split))], HeartRule::Any),
    ] {
        let mut job = real_job(taped, flaws, &["4x6x8", "1x6x6"]);
        job.wants[0].heart = heart;
        job.wants[1].tolerates = FlawKinds::NONE.with(FlawKind::Stain);
        check(&text(&job, &planned(&job).0));
    }
}

#[test]
#[should_panic(expected = "is no wood")]
fn a_log_that_was_tampered_with_is_found_out() {
    let job = real_job(crooked(), Vec::new(), &["2x6x8"]);
    let text = text(&job, &by_hand(&job, Frame::LEVEL, length("2 ft 6 in")));
    let mut plan: Value = serde_json::from_str(&text).unwrap();
    for section in plan["log"]["sections"].as_array_mut().unwrap() {
        for point in section["wood"].as_array_mut().unwrap() {
            point[0] = (point[0].as_i64().unwrap() / 4).into();
        }
    }
    check(&plan.to_string());
}

#[test]
#[should_panic(expected = "the axis is at")]
fn a_pith_that_was_tampered_with_is_found_out() {
    let job = real_job(crooked(), Vec::new(), &["2x6x8"]);
    let text = text(&job, &by_hand(&job, Frame::LEVEL, length("2 ft 6 in")));
    let mut plan: Value = serde_json::from_str(&text).unwrap();
    let pith = &mut plan["stages"][0]["pith_small_end"];
    *pith = (pith.as_i64().unwrap() + 10_000).into();
    check(&plan.to_string());
}

#[test]
fn outlines_keep_the_file_small() {
    let job = real_job(crooked(), Vec::new(), &["2x6x8"]);
    let text = text(&job, &by_hand(&job, Frame::LEVEL, Length::ZERO));
    let sections = job.log.sections().unwrap().len();
    // Two outlines of 120 points, some twenty characters each.
    assert!(text.len() < 20_000 + sections * 2 * 120 * 22, "{} for {sections}", text.len());
    assert!(text.lines().any(|line| line.trim_start().starts_with("\"wood\": [[")));
}
