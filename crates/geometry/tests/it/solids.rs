//! Random taped logs against general geometry libraries, which know nothing of logs, and against the tape's formulas.
//!
//! `parry3d` measures the volume of the triangles between the sections; `geo` says what lines and half-planes leave of
//! outlines, and what they hold.
use crate::common::taped;

use crate::common::taped::{Oval, a_log, oval};
use geo::{Area, BooleanOps, Contains, Coord, LineString, MultiLineString, Point, Polygon};
use parry3d_f64::math::Vector;
use parry3d_f64::shape::{Shape, TriMesh};
use pithward_geometry::trig::{norm, sin_cos};
use pithward_geometry::{
    Angle, Body, Covering, Flaw, FlawKind, HalfSpace, Log, Region, Section, Taped,
};
use pithward_measure::Length;
use proptest::prelude::*;
use std::f64::consts::{PI, TAU};

fn cases() -> ProptestConfig {
    ProptestConfig { cases: 200, ..ProptestConfig::default() }
}

/// The volume of the triangles between the sections of a log; what lies between the two ways of parting a ruled side
/// is shared.
fn volume_of_triangles(log: &Log) -> f64 {
    let sections = log.sections().expect("a log of sections");
    let round = sections[0].wood.len() as u32;
    let points = sections.iter().flat_map(|s| s.wood.iter().map(|p| Vector::new(p[0], p[1], s.z)));
    let points: Vec<Vector> = points.collect();
    let parted = |either: bool| {
        let mut triangles = Vec::new();
        for row in 0..sections.len() as u32 - 1 {
            for n in 0..round {
                let (a, b) = (row * round + n, row * round + (n + 1) % round);
                let (c, d) = (b + round, a + round);
                let two = if either { [[a, c, b], [a, d, c]] } else { [[a, d, b], [b, d, c]] };
                triangles.extend(two);
            }
        }
        let last = (sections.len() as u32 - 1) * round;
        for n in 1..round - 1 {
            triangles.extend([[0, n, n + 1], [last, last + n + 1, last + n]]);
        }
        TriMesh::new(points.clone(), triangles).expect("a closed mesh").mass_properties(1.0).mass()
    };
    f64::midpoint(parted(true), parted(false))
}

fn polygon(outline: &[[f64; 2]]) -> Polygon {
    Polygon::new(LineString::from(outline.to_vec()), Vec::new())
}

/// A half-plane as far as any log reaches.
fn half_plane(normal: [f64; 2], offset: f64) -> Polygon {
    let at = |along: f64, across: f64| Coord {
        x: normal[0] * along - normal[1] * across,
        y: normal[1] * along + normal[0] * across,
    };
    let ring = [at(offset, -500.0), at(offset, 500.0), at(-900.0, 500.0), at(-900.0, -500.0)];
    Polygon::new(LineString::new(ring.to_vec()), Vec::new())
}

/// The sections of a log and those midway between two of them.
fn looked_at(log: &Log) -> Vec<Section> {
    let sections = log.sections().expect("a log of sections");
    let middles = sections.windows(2).map(|pair| f64::midpoint(pair[0].z, pair[1].z));
    let all = sections.iter().map(|section| section.z).chain(middles);
    all.map(|z| log.section_at(z)).collect()
}

/// How far out a point lies: 1 on the ellipse.
fn share(oval: &Oval, p: &[f64; 2]) -> f64 {
    let (x, y) = (p[0] - oval.middle[0], p[1] - oval.middle[1]);
    let [s, c] = oval.axis;
    norm((x * s + y * c) / oval.half.0, (x * c - y * s) / oval.half.1)
}

/// A log that is not a frustum; the strategy makes one of the other kind now and then.
fn sectioned(taped: &Taped) -> Option<Log> {
    let log = Log::taped(taped).expect("the strategy makes logs");
    log.sections().is_some().then_some(log)
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn the_volume_is_that_of_the_triangles(taped in a_log()) {
        let Some(log) = sectioned(&taped) else { return Ok(()) };
        let (ours, theirs) = (log.volume(), volume_of_triangles(&log));
        prop_assert!((ours - theirs).abs() < 1e-9 * theirs, "{ours} {theirs}");
    }

    #[test]
    fn the_volume_is_that_of_the_formula_less_what_polygons_leave_out(taped in a_log()) {
        let Some(log) = sectioned(&taped) else { return Ok(()) };
        let (long, slices) = (taped.length.inches_f64(), 2_000);
        let area = |n: i32| {
            let (a, b) = oval(&taped, long * f64::from(n) / f64::from(slices)).half;
            PI * a * b
        };
        let weight = |n: i32| if n % slices == 0 { 1.0 } else { f64::from(2 + 2 * (n % 2)) };
        let formula = (0..=slices).map(|n| weight(n) * area(n)).sum::<f64>();
        let formula = formula * long / (3.0 * f64::from(slices));
        // 120 points on an ellipse hold this much of it.
        let turn = TAU / 120.0;
        let held = log.volume() / (formula * sin_cos(turn).0 / turn);
        prop_assert!(held > 1.0 - 1e-3 && held < 1.0 + 2e-4, "{held}");
    }

    #[test]
    fn no_wood_is_there_that_the_formula_has_not_and_all_bark_is(taped in a_log()) {
        let Some(log) = sectioned(&taped) else { return Ok(()) };
        for section in looked_at(&log) {
            let oval = oval(&taped, section.z);
            for p in &section.wood {
                let over = (share(&oval, p) - 1.0) * oval.half.0;
                prop_assert!(over < 2.1e-3, "wood by {over} in too far at {}", section.z);
            }
            let bark = polygon(&section.bark);
            for n in 0..90 {
                let (sin, cos) = sin_cos(TAU * f64::from(n) / 90.0);
                let (nx, ny) = (cos / oval.half.0, sin / oval.half.1);
                let run = (oval.bark - 3e-3) / norm(nx, ny);
                let (x, y) = (oval.half.0 * cos + nx * run, oval.half.1 * sin + ny * run);
                let ([s, c], [mx, my]) = (oval.axis, oval.middle);
                let at = Point::new(mx + x * s + y * c, my + x * c - y * s);
                prop_assert!(bark.contains(&at), "no bark at {at:?}, {}", section.z);
            }
            let off = norm(section.pith[0] - oval.pith[0], section.pith[1] - oval.pith[1]);
            prop_assert!(off < 1.05e-3, "the pith is {off} in off");
        }
    }

    #[test]
    fn lines_and_planes_leave_what_a_polygon_library_leaves(
        taped in a_log(),
        (along, turn, away, other) in (0.0..1.0f64, 0..360i32, -0.95..0.95f64, 0..360i32),
        cut in prop::bool::ANY,
    ) {
        let Some(log) = sectioned(&taped) else { return Ok(()) };
        let z = along * log.length().inches_f64();
        let (section, radius) = (log.section_at(z), log.wood_radius(z));
        let (sin, cos) = sin_cos(f64::from(turn).to_radians());
        let (direction, normal) = ([cos, sin], [-sin, cos]);
        // A plane at a slope, which passes this section so far from the pith.
        let (ns, nc) = sin_cos(f64::from(other).to_radians());
        let level = radius * 0.3 + nc * section.pith[0] + ns * section.pith[1];
        let (slope, long) = (0.02, norm(1.0, 0.02));
        let plane = HalfSpace {
            normal: [nc / long, ns / long, slope / long],
            offset: (level + slope * z) / long,
        };
        let whole = Body::whole(&log);
        let body = if cut { whole.cut(plane) } else { whole };
        for (covering, outline) in
            [(Covering::Wood, &section.wood), (Covering::Bark, &section.bark)]
        {
            let theirs = match cut {
                true => polygon(outline).intersection(&half_plane([nc, ns], level)),
                false => polygon(outline).into(),
            };
            let reach = theirs
                .iter()
                .flat_map(|polygon| polygon.exterior().coords())
                .map(|p| p.x * direction[0] + p.y * direction[1])
                .fold(f64::NEG_INFINITY, f64::max);
            let ours = body.reach_at(covering, z, direction).unwrap();
            prop_assert!((ours - reach).abs() < 1e-5, "reach {ours} {reach}");

            let origin = [0, 1].map(|n| section.pith[n] + away * radius * normal[n]);
            let at = |s: f64| Coord {
                x: origin[0] + s * direction[0],
                y: origin[1] + s * direction[1],
            };
            let line = MultiLineString::new(vec![LineString::new(vec![at(-200.0), at(200.0)])]);
            let back = |p: &Coord| {
                (p.x - origin[0]) * direction[0] + (p.y - origin[1]) * direction[1]
            };
            let runs: Vec<(f64, f64)> = theirs
                .clip(&line, false)
                .iter()
                .map(|run| {
                    let ends = run.coords().map(back);
                    ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(from, to), at| {
                        (from.min(at), to.max(at))
                    })
                })
                .collect();
            let longest = runs.into_iter().max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
            // Where a line all but touches, rounding tells.
            let some = |run: &(f64, f64)| run.1 - run.0 > 0.05;
            let ours = body.interval(covering, z, origin, direction).filter(some);
            match (ours, longest.filter(some)) {
                (Some(ours), Some(theirs)) => prop_assert!(
                    (ours.0 - theirs.0).abs() < 1e-4 && (ours.1 - theirs.1).abs() < 1e-4,
                    "interval {ours:?} {theirs:?}"
                ),
                (None, None) => {}
                (ours, theirs) => prop_assert!(false, "{ours:?} {theirs:?}"),
            }
        }
    }

    /// The stations and the reach of a slab against a look at every twentieth of an inch.
    #[test]
    fn a_slab_reaches_as_far_as_a_close_look_finds(
        taped in a_log(),
        (turn, away, slope) in (0..360i32, 0.0..1.1f64, -0.03..0.03f64),
        level in prop::bool::ANY,
    ) {
        let Some(log) = sectioned(&taped) else { return Ok(()) };
        let (sin, cos) = sin_cos(f64::from(turn).to_radians());
        let slope = if level { 0.0 } else { slope };
        let long = norm(1.0, slope);
        let whole = Body::whole(&log);
        let out = whole.reach(Covering::Wood, [cos, sin], 0.0).unwrap();
        let slab = whole.cut(HalfSpace {
            normal: [-cos / long, -sin / long, -slope / long],
            offset: -away * out / long,
        });
        let end = log.length().inches_f64();
        let steps = (end * 20.0).ceil() as i32;
        let exists = |z: &f64| slab.reach_at(Covering::Wood, *z, [1.0, 0.0]).is_some();
        let close: Vec<f64> =
            (0..=steps).map(|n| end * f64::from(n) / f64::from(steps)).filter(exists).collect();
        let Some((from, to)) = slab.stations(Covering::Wood) else {
            prop_assert!(close.is_empty(), "not found: {:?}", close.first());
            return Ok(());
        };
        let first = close.first().copied().unwrap_or(from);
        let last = close.last().copied().unwrap_or(to);
        prop_assert!(from <= first + 1e-9 && first < from + 0.051, "{from} {first}");
        prop_assert!(to >= last - 1e-9 && last > to - 0.051, "{to} {last}");
        for direction in [[cos, sin], [-sin, cos], [sin, -cos]] {
            // A slab that is about to vanish is short, and narrows faster than a twentieth of an inch shows.
            let closer = (0..=2000).map(|n| from + (to - from) * f64::from(n) / 2000.0);
            let reach = |z: f64| slab.reach_at(Covering::Wood, z, direction);
            let all = close.iter().copied().chain(closer);
            let close = all.filter_map(reach).fold(f64::NEG_INFINITY, f64::max);
            let ours = slab.reach(Covering::Wood, direction, 0.0).unwrap();
            // In a log of five feet whose ovals lie across each other sixteen ten-thousandths were missed.
            prop_assert!(ours > close - 3e-3, "{ours} {close}");
            prop_assert!(close.is_infinite() || ours < close + 0.02, "{ours} {close}");
        }
    }

    /// The parts of a log hold what it holds, seen along their own axes.
    #[test]
    fn two_parts_are_the_whole(taped in a_log(), along in 0.3..0.7f64) {
        let rot = Flaw {
            kind: FlawKind::Rot,
            from: Length::ZERO,
            to: taped.length,
            region: Region::Heart { radius: Length::inches(1) },
        };
        let log = Log::taped(&taped).unwrap().with_flaws(vec![rot]);
        prop_assert_eq!(log.bucked(Length::ZERO, taped.length).unwrap(), log.clone());
        let at = Length::from_inches_f64(along * taped.length.inches_f64());
        let parts = [log.bucked(Length::ZERO, at), log.bucked(at, taped.length)];
        let [top, bottom] = parts.map(Result::unwrap);
        prop_assert_eq!(top.small_end(), log.small_end());
        prop_assert_eq!(top.butt(), bottom.small_end());
        prop_assert_eq!(bottom.butt(), log.butt());
        prop_assert_eq!((top.length(), bottom.length()), (at, taped.length - at));
        prop_assert_eq!((top.flaws()[0].to, bottom.flaws()[0].to), (at, taped.length - at));
        let pith = log.section_at(at.inches_f64()).pith;
        let mut both = 0.0;
        for (part, long) in [(&top, at), (&bottom, taped.length - at)] {
            let tilt = norm(pith[0], pith[1]) / long.inches_f64();
            both += part.volume() * norm(1.0, tilt);
            for end in [part.section_at(0.0), part.section_at(long.inches_f64())] {
                prop_assert!(norm(end.pith[0], end.pith[1]) < 1e-12, "{:?}", end.pith);
            }
        }
        // Of round wood the diameters between are whole nanometres.
        prop_assert!((both - log.volume()).abs() < 1e-8 * both, "{both} {}", log.volume());
    }

    #[test]
    fn a_thicker_and_a_longer_log(taped in a_log(), by in 1..64i64) {
        let log = Log::taped(&taped).unwrap();
        let by = Length::sixty_fourths(by);
        let (thicker, longer) = (log.thicker(by).unwrap(), log.longer(by).unwrap());
        prop_assert_eq!(thicker.butt(), log.butt() + by);
        prop_assert_eq!(longer.length(), log.length() + by);
        let drawn = longer.length() / log.length();
        prop_assert!((longer.volume() / log.volume() - drawn).abs() < 1e-9);
        let (Some(now), Some(then)) = (log.sections(), thicker.sections()) else { return Ok(()) };
        let by = by.inches_f64();
        for (now, then) in now.iter().zip(then) {
            let (now, then) = (polygon(&now.wood), polygon(&then.wood));
            prop_assert!(then.contains(&now));
            // Steiner: what lies within d of a convex outline of length P adds P d + pi d^2.
            let round = geo::Length::length(&geo::Euclidean, now.exterior());
            let adds = round * by / 2.0 + PI * by * by / 4.0;
            let added = then.unsigned_area() - now.unsigned_area();
            prop_assert!(added > 0.98 * adds && added < 1.001 * adds, "{added} {adds}");
        }
    }

    /// Every point that a flaw's own words place in it lies in one of its polygons.
    #[test]
    fn regions_hold_their_flaws(
        taped in a_log(),
        kind in 0..4usize,
        (along, turn, width) in (0.0..1.0f64, 0..360i32, 5..175i32),
        (inner, across) in (8..200i64, 2..100i64),
    ) {
        let log = Log::taped(&taped).unwrap();
        let section = log.section_at(along * log.length().inches_f64());
        let (clock, near) = (Angle::degrees(turn), Length::sixty_fourths(inner));
        let far = near + Length::sixty_fourths(across);
        let region = match kind {
            0 => Region::Heart { radius: near },
            1 => Region::Ring { inner: near, outer: far },
            2 => Region::Radial { clock, from: near, to: far },
            _ => Region::Side { clock, width: Angle::degrees(width), depth: near },
        };
        let flaw = Flaw { kind: FlawKind::Shake, from: Length::ZERO, to: log.length(), region };
        let polygons: Vec<Polygon> = flaw.regions(&section).iter().map(|r| polygon(r)).collect();
        let wood = polygon(&section.wood);
        // A hair to all sides: what lies on the rims of two polygons is within one of them.
        let hairs = [(1e-9, 0.0), (-1e-9, 0.0), (0.0, 1e-9), (0.0, -1e-9)];
        let holds = |p: [f64; 2]| {
            let near = |(x, y): (f64, f64)| Point::new(p[0] + x, p[1] + y);
            hairs.iter().any(|by| polygons.iter().any(|polygon| polygon.contains(&near(*by))))
        };
        for n in 0..=60 {
            let spread = f64::from(n) / 60.0;
            let degrees = match region {
                Region::Radial { .. } => f64::from(turn),
                Region::Side { .. } => f64::from(turn) + f64::from(width) * (spread - 0.5) * 0.999,
                _ => 360.0 * spread,
            };
            let (sin, cos) = sin_cos(degrees.to_radians());
            let at = |away: f64| [section.pith[0] + away * sin, section.pith[1] + away * cos];
            let (near, far) = (near.inches_f64(), far.inches_f64());
            let (from, to) = match region {
                Region::Heart { .. } => (0.0, near),
                Region::Side { .. } => {
                    // How far the wood reaches, by halving.
                    let (mut within, mut out) = (0.0, 200.0);
                    for _ in 0..60 {
                        let middle = f64::midpoint(within, out);
                        let [x, y] = at(middle);
                        let inside = wood.contains(&Point::new(x, y));
                        if inside { within = middle } else { out = middle }
                    }
                    ((within - near).max(0.05), within)
                }
                _ => (near, far),
            };
            for step in 0..=8 {
                let away = from + (to - from) * f64::from(step) / 8.0;
                prop_assert!(holds(at(away)), "{region:?}: {away} in at {degrees} degrees");
            }
        }
    }
}

/// Sweep costs a full-length piece as much of its depth as the log bows: usable heights of a 12-in log at 6 in of width.
///
/// Source: the chord of a circle, `2 sqrt(6^2 - 3^2)`, less the sweep.
#[test]
fn the_prism_that_sweep_leaves() {
    for (sweep, height) in [(0, 10.4), (1, 9.4), (2, 8.4), (3, 7.4)] {
        let depth = Length::inches(sweep);
        let log = Log::taped(&Taped { sweep: taped::sweep(depth), ..taped::cylinder() }).unwrap();
        let body = Body::whole(&log);
        let mut common = (f64::NEG_INFINITY, f64::INFINITY);
        for z in (0..=960).map(|n| 144.0 * f64::from(n) / 960.0) {
            for side in [-3.0, 3.0] {
                let (from, to) = body.interval(Covering::Wood, z, [side, 0.0], [0.0, 1.0]).unwrap();
                common = (common.0.max(from), common.1.min(to));
            }
        }
        let found = common.1 - common.0;
        assert!((found - height).abs() < 0.05, "sweep {sweep}: {found}");
        let exact = 2.0 * 27f64.sqrt() - depth.inches_f64();
        // Polygons leave out some thousandths of an inch on either side.
        assert!(found > exact - 0.01 && found < exact + 0.002, "sweep {sweep}: {found}, {exact}");
    }
}

/// The smallest log for a piece w x h with legs c of wane: `max(hypot(w, h - 2c), hypot(w - 2c, h))`. In a log that thick
/// the corners of the piece are wood, in one a hundredth of an inch thinner they are not.
#[test]
fn the_smallest_log_for_a_timber() {
    let rows = [
        (4.0, 4.0, [5.66, 5.00, 4.47]),
        (4.0, 6.0, [7.21, 6.71, 6.32]),
        (6.0, 6.0, [8.49, 7.81, 7.21]),
        (7.0, 9.0, [11.40, 10.82, 10.30]),
        (8.0, 12.0, [14.42, 13.89, 13.42]),
        (12.0, 12.0, [16.97, 16.28, 15.62]),
    ];
    for (w, h, diameters) in rows {
        for (leg, diameter) in [0.0, 0.5, 1.0].into_iter().zip(diameters) {
            let fits = |diameter: f64| {
                let across = Length::from_inches_f64(diameter);
                let none = Length::ZERO;
                let log = Log::new(across, across, Length::feet(8), none, none).unwrap();
                let body = Body::whole(&log);
                let line = |at: f64, half: f64| {
                    let line = body.interval(Covering::Wood, 48.0, [at, 0.0], [0.0, 1.0]);
                    line.is_some_and(|(from, to)| from <= -half && to >= half)
                };
                line(w / 2.0, h / 2.0 - leg) && line(w / 2.0 - leg, h / 2.0)
            };
            assert!(fits(diameter + 0.0051), "{w} x {h}, {leg}");
            assert!(!fits(diameter - 0.0051), "{w} x {h}, {leg}");
        }
    }
}

/// `cubic_examples.csv`: frustums of cones, and Newton's formula, which is exact for them.
#[test]
fn published_volumes_of_frustums() {
    let table = include_str!("../../../../data/published/cubic_examples.csv");
    let mut checked = 0;
    for row in table.lines().filter(|line| !line.starts_with('#')).skip(1) {
        let cells: Vec<&str> = row.split(',').collect();
        let number = |n: usize| cells[n].parse::<f64>().unwrap_or(f64::NAN);
        let (small, middle, large) = (number(1), number(2), number(3));
        let straight = (middle - f64::midpoint(small, large)).abs() < 1e-9;
        if cells[0] != "cone_frustum" && !(cells[0] == "newton" && straight) {
            continue;
        }
        // Inches and feet, or centimetres and metres.
        let (across, along) =
            if cells[5] == "metric" { (1.0 / 2.54, 100.0 / 2.54) } else { (1.0, 12.0) };
        let [small, large, long] = [small * across, large * across, number(4) * along];
        let [small, large, long] = [small, large, long].map(Length::from_inches_f64);
        let log = Log::new(small, large, long, Length::ZERO, Length::ZERO).unwrap();
        let decimals = cells[6].split('.').nth(1).map_or(0, str::len);
        let printed = 0.5 * 0.1f64.powi(i32::try_from(decimals).unwrap());
        let ours = log.volume() / along.powi(3);
        assert!((ours - number(6)).abs() <= printed * 1.01, "{row}: {ours}");
        // Two parts are the whole, and each is a frustum again.
        let parts = [log.bucked(Length::ZERO, long.half()), log.bucked(long.half(), long)];
        let both: f64 = parts.iter().map(|part| part.as_ref().unwrap().volume()).sum();
        assert!((both - log.volume()).abs() < 1e-6 * both);
        checked += 1;
    }
    assert_eq!(checked, 3);
}
