use super::*;
use crate::{End, Sweep, Taped};
use proptest::prelude::*;

const FEET: i64 = 10;

fn inch(n: i64) -> Length {
    Length::inches(n)
}

fn round() -> Log {
    Log::new(inch(16), inch(20), Length::feet(FEET), inch(0), inch(0)).unwrap()
}

/// Oval and bowed, its pith off the middle.
fn bowed() -> Log {
    let end = |longer, shorter, off| End {
        longer: inch(longer),
        shorter: inch(shorter),
        clock: Angle::degrees(40),
        pith_off: inch(off),
        pith_clock: Angle::degrees(100),
        bark: Length::ZERO,
    };
    let sweep = Sweep { depth: inch(3), clock: Angle::degrees(200), at: Length::feet(4) };
    Log::taped(&Taped {
        length: Length::feet(FEET),
        small: end(17, 15, 1),
        butt: end(20, 18, 2),
        sweep: Some(sweep),
        crook: None,
        flare: None,
    })
    .unwrap()
}

fn piece(basis: Basis, u: (f64, f64), h: (f64, f64), z: (f64, f64)) -> PieceBox {
    let span = |(from, to): (f64, f64)| {
        Span::new(Length::from_inches_f64(from), Length::from_inches_f64(to))
    };
    PieceBox { basis, u: span(u), h: span(h), z: span(z) }
}

fn level(u: (f64, f64), h: (f64, f64), z: (f64, f64)) -> PieceBox {
    piece(Frame::LEVEL.basis(Length::feet(FEET)), u, h, z)
}

fn knot(at: i64, clock: i32, across: i64, rise: i64, clear: i64) -> Defect {
    Defect::Knot {
        at: inch(at),
        clock: Angle::degrees(clock),
        across: inch(across),
        rise: inch(rise),
        clear: inch(clear),
    }
}

fn sides(shown: &Shown) -> [f64; 4] {
    [shown.across.from, shown.across.to, shown.along.from, shown.along.to].map(Length::inches_f64)
}

/// A knot straight up in a log that is 18 in through halfway: a cone 9 in long, 3 in across at its end.
#[test]
fn on_a_flat_face_a_knot_is_round_and_as_wide_as_the_cone_there() {
    let body = DefectBody::new(&knot(60, 0, 3, 0, 0), &round());
    let board = level((-5.0, 5.0), (6.0, 7.0), (0.0, 120.0));
    let [shown] = body.on_face(&board, BoxFace::LowH)[..] else { panic!("one") };
    for (got, exact) in sides(&shown).into_iter().zip([-1.0, 1.0, 59.0, 61.0]) {
        assert!((got - exact).abs() < 0.009, "{shown:?}");
    }
    let [shown] = body.on_face(&board, BoxFace::HighH)[..] else { panic!("one") };
    assert!((shown.across.to.inches_f64() - 7.0 / 6.0).abs() < 0.011);
    // Its edges are clear, and so is a board on the other side of the pith.
    assert_eq!(body.on_face(&board, BoxFace::LowU), []);
    assert_eq!(body.on_face(&level((-5.0, 5.0), (-7.0, -6.0), (0.0, 120.0)), BoxFace::LowH), []);
}

#[test]
fn on_a_face_along_its_middle_a_knot_is_a_spike() {
    let body = DefectBody::new(&knot(60, 0, 3, 0, 0), &round());
    let board = level((0.0, 1.0), (-5.0, 8.0), (0.0, 120.0));
    let [shown] = body.on_face(&board, BoxFace::LowU)[..] else { panic!("one") };
    let [from, to, ..] = sides(&shown);
    // From the pith to the edge of the board.
    assert!(from.abs() < 1e-6 && (to - 8.0).abs() < 1e-6, "{shown:?}");
}

#[test]
fn a_knot_that_leans_is_nearer_to_the_butt_the_deeper_it_is() {
    let body = DefectBody::new(&knot(60, 0, 1, 9, 0), &round());
    let at = |h: f64| {
        let board = level((-5.0, 5.0), (h, h + 1.0), (0.0, 120.0));
        let [shown] = body.on_face(&board, BoxFace::LowH)[..] else { panic!("one") };
        0.5 * (shown.along.from + shown.along.to).inches_f64()
    };
    // Its axis goes from (0, 69) to (9, 60).
    assert!((at(3.0) - 66.0).abs() < 0.05 && (at(6.0) - 63.0).abs() < 0.1);
}

#[test]
fn over_an_overgrown_knot_the_wood_is_clear() {
    let body = DefectBody::new(&knot(60, 0, 2, 0, 3), &round());
    let board = |h: f64| level((-5.0, 5.0), (h, h + 1.0), (0.0, 120.0));
    assert!(body.is_in(&board(5.5)));
    assert_eq!(body.on_face(&board(5.5), BoxFace::LowH).len(), 1);
    assert_eq!(body.on_face(&board(5.5), BoxFace::HighH), []);
    assert!(!body.is_in(&board(6.01)));
}

#[test]
fn what_lies_between_the_faces_is_held_inside() {
    // A hole as deep as three inches, 1/4 in wide; a timber that holds its end.
    let hole = Defect::Hole {
        at: inch(60),
        clock: Angle::degrees(90),
        across: Length::sixty_fourths(16),
        depth: inch(3),
    };
    let body = DefectBody::new(&hole, &round());
    let timber = |u: (f64, f64)| level(u, (-3.0, 3.0), (0.0, 120.0));
    let is_shown = |piece: &PieceBox| {
        BoxFace::ALL.into_iter().any(|face| !body.on_face(piece, face).is_empty())
    };
    assert!(body.is_in(&timber((0.0, 6.5))) && is_shown(&timber((0.0, 6.5))));
    assert!(!body.is_in(&timber((0.0, 5.9))) && !is_shown(&timber((0.0, 5.9))));
    // An overgrown knot in the middle of a timber shows nowhere.
    let body = DefectBody::new(&knot(60, 90, 1, 0, 6), &round());
    let boxed = level((-4.0, 4.0), (-4.0, 4.0), (0.0, 120.0));
    assert!(body.is_in(&boxed));
    assert!(BoxFace::ALL.into_iter().all(|face| body.on_face(&boxed, face).is_empty()));
}

#[test]
fn a_clear_shell_outside_of_a_core() {
    let clear = [inch(4), inch(2), inch(2), inch(2)];
    let core = Defect::Core { from: inch(0), to: inch(120), clear };
    assert_eq!(core.faults(&round()), []);
    let body = DefectBody::new(&core, &round());
    // At 12 o'clock the core ends 4 in below the surface, 8 in from the pith at the small end and 10 at the butt.
    let board = |h: f64, from: f64, to: f64| level((-3.0, 3.0), (h, h + 1.0), (from, to));
    assert!(body.is_in(&board(3.9, 0.0, 120.0)));
    assert!(body.is_in(&board(5.9, 0.0, 120.0)) && !body.is_in(&board(5.9, 0.0, 100.0)));
    assert!(!body.is_in(&board(6.1, 0.0, 120.0)));
    let shown = body.on_face(&board(5.0, 0.0, 120.0), BoxFace::LowH);
    let begins = shown.iter().map(|shown| shown.along.from).min().unwrap().inches_f64();
    // The core is 5 in thick halfway; a wedge of 15 degrees is no more than one per cent more.
    assert!((57.0..=60.0).contains(&begins), "{begins}");
}

#[test]
fn the_pith_in_a_piece_is_where_its_line_is() {
    // Along the axis of a round log: all of a board that holds it, none of one beside it.
    let quarter = Length::sixty_fourths(8);
    let board = |h: f64| level((-3.0, 3.0), (h, h + 1.0), (12.0, 120.0));
    let [held] = pith_in(&round(), &board(-0.5), quarter)[..] else { panic!("one") };
    assert_eq!(held.along, Span::new(inch(12), inch(120)));
    assert_eq!(held.across, Span::new(-quarter, quarter));
    // Its own radius counts.
    assert_eq!(pith_in(&round(), &board(0.12), quarter).len(), 1);
    assert_eq!(pith_in(&round(), &board(0.13), quarter), []);
    // In a frame that drifts by 6 in over the log it passes a board 1 in thick in a sixth of the length.
    let frame = Frame { drift_h: inch(6), ..Frame::LEVEL };
    let basis = frame.basis(Length::feet(FEET));
    let board = piece(basis, (-3.0, 3.0), (-3.0, -2.0), (0.0, 120.0));
    let [held] = pith_in(&round(), &board, Length::ZERO)[..] else { panic!("one") };
    let [.., from, to] = sides(&held);
    assert!((from - 40.0).abs() < 0.1 && (to - 60.0).abs() < 0.1, "{held:?}");
    // In a bowed log the pieces of its way follow each other.
    let all = pith_in(&bowed(), &level((-9.0, 9.0), (-9.0, 9.0), (0.0, 120.0)), quarter);
    assert!(all.len() > 5 && all.windows(2).all(|two| two[1].along.from <= two[0].along.to));
    assert!(all.windows(2).all(|two| two[0].along.to <= two[1].along.from + Length::nm(2)));
}

#[test]
fn the_wide_faces_are_the_wide_ones() {
    assert_eq!(level((0.0, 6.0), (0.0, 1.0), (0.0, 9.0)).wide_faces()[0], BoxFace::LowH);
    assert_eq!(level((0.0, 1.0), (0.0, 6.0), (0.0, 9.0)).wide_faces()[0], BoxFace::LowU);
}

#[test]
fn faults_are_told_all_at_once() {
    let log = round();
    let wrong = |rise: i64| Defect::Knot {
        at: inch(121),
        clock: Angle::ZERO,
        across: inch(0),
        rise: inch(rise),
        clear: inch(30),
    };
    let faults = wrong(0).faults(&log);
    assert_eq!(faults.len(), 3, "{faults:?}");
    assert!(faults.iter().all(|fault| fault.to_string().contains("overgrown knot")));
    let scar = |width: i32, depth: i64, from: i64, to: i64| Defect::Scar {
        from: inch(from),
        to: inch(to),
        clock: Angle::ZERO,
        width: Angle::degrees(width),
        depth: inch(depth),
    };
    assert_eq!(scar(180, 0, 5, 5).faults(&log).len(), 3);
    // A depth is held against the thickest wood of the stretch.
    assert_eq!(scar(179, 10, 0, 120).faults(&log), []);
    assert_eq!(scar(179, 11, 0, 120).faults(&log).len(), 1);
    assert_eq!(scar(179, 10, 0, 100).faults(&log).len(), 1);
    assert_eq!(knot(0, 0, 1, 0, 7).faults(&log), []);
    assert_eq!(knot(0, 0, 1, 0, 8).faults(&log).len(), 1);
    // Whatever it is, it has a body.
    let _ =
        DefectBody::new(&wrong(-500), &log).is_in(&level((-1.0, 1.0), (-1.0, 1.0), (0.0, 120.0)));
}

/// Points of a knot by its own words, in the log frame: the cone's disks, ring by ring.
fn points(log: &Log, z: f64, clock: Angle, across: f64, rise: f64, clear: f64) -> Vec<[f64; 3]> {
    let tip = pith_at(log, z + rise);
    let tip = [tip[0], tip[1], z + rise];
    let away = (wood_toward(log, z, clock) - clear).max(0.0);
    let end = spot(pith_at(log, z), clock, away, z);
    let axis = [0, 1, 2].map(|n| end[n] - tip[n]);
    let long = norm(norm(axis[0], axis[1]), axis[2]);
    let axis = axis.map(|c| c / long);
    // Two directions square to the axis: it is never along the log, so this one is not along it.
    let aside = [axis[1], -axis[0], 0.0];
    let flat = norm(aside[0], aside[1]);
    let aside = aside.map(|c| c / flat);
    let third = [
        axis[1] * aside[2] - axis[2] * aside[1],
        axis[2] * aside[0] - axis[0] * aside[2],
        axis[0] * aside[1] - axis[1] * aside[0],
    ];
    let mut all = Vec::new();
    for step in 0..=40 {
        let share = f64::from(step) / 40.0;
        for ring in 0..=4 {
            let radius = 0.5 * across * share * f64::from(ring) / 4.0;
            for turn in 0..60 {
                let (sin, cos) = sin_cos(std::f64::consts::TAU * f64::from(turn) / 60.0);
                all.push([0, 1, 2].map(|n| {
                    tip[n] + share * long * axis[n] + radius * (cos * aside[n] + sin * third[n])
                }));
            }
        }
    }
    all
}

/// Where the line between two points meets a plane, as places on the face.
fn crossing(a: [f64; 3], b: [f64; 3], axis: usize, at: f64) -> Option<[f64; 2]> {
    let (low, high) = (a[axis] - at, b[axis] - at);
    let share = low / (low - high);
    ((low < 0.0) != (high < 0.0)).then(|| [1 - axis, 2].map(|n| a[n] + share * (b[n] - a[n])))
}

/// Whether a seam, a scar and a core, all told by the same numbers, hold their own points where a face meets them.
fn zones_hold(
    is_bowed: bool,
    (clock, width, depth): (i32, i32, f64),
    (from, long): (f64, f64),
    turn: i32,
    h: f64,
) -> Result<(), TestCaseError> {
    let log = if is_bowed { bowed() } else { round() };
    let length = Length::from_inches_f64;
    let (begin, end, deep) = (length(from), length(from + long), length(depth));
    // What the zones and the face are told: a plane a nanometre off meets a flat ray fifty nanometres away.
    let told = |at: f64| length(at).inches_f64();
    let (from, long, depth, h) = (told(from), told(from + long) - told(from), told(depth), told(h));
    let angle = Angle::degrees(clock);
    let basis = Frame::turned(Angle::degrees(turn)).basis(log.length());
    let piece = piece(basis, (-12.0, 12.0), (h, 30.0), (0.0, 120.0));
    let zones = [
        (Defect::Seam { from: begin, to: end, clock: angle, depth: deep }, 0),
        (
            Defect::Scar {
                from: begin,
                to: end,
                clock: angle,
                width: Angle::degrees(width),
                depth: deep,
            },
            width / 2,
        ),
        (Defect::Core { from: begin, to: end, clear: [deep; 4] }, 180),
    ];
    for (zone, half) in zones {
        let body = DefectBody::new(&zone, &log);
        let shown = body.on_face(&piece, BoxFace::LowH);
        let is_core = matches!(zone, Defect::Core { .. });
        for step in 0..=12 {
            let z = from + long * f64::from(step) / 12.0;
            for turn in -half..=half {
                let turn = Angle::degrees(clock + turn);
                let reach = wood_toward(&log, z, turn);
                // The deepest wood between two directions is not deeper than this one's by itself.
                let (near, far) =
                    if is_core { (0.0, reach - depth) } else { (reach - depth, reach) };
                let place = |away: f64| {
                    let p = spot(pith_at(&log, z), turn, away, z);
                    [crate::frame::dot(basis.u, p), crate::frame::dot(basis.h, p), p[2]]
                };
                let (a, b) = (place(near.max(0.0)), place(far.max(0.0)));
                if let Some(p) = crossing(a, b, 1, h) {
                    let holds = |span: Span, at: f64| {
                        span.from.inches_f64() <= at + 1e-6 && at <= span.to.inches_f64() + 1e-6
                    };
                    let is_held =
                        shown.iter().any(|s| holds(s.across, p[0]) && holds(s.along, p[1]));
                    prop_assert!(is_held || p[0].abs() > 12.0, "{zone:?} {p:?} {shown:?}");
                }
            }
        }
    }
    Ok(())
}

#[test]
fn a_face_nearly_along_a_ray_from_the_pith_meets_it_where_it_is_told() -> Result<(), TestCaseError>
{
    let (zone, along) = ((233, 116, 0.5), (16.578_410_120_282_08, 5.0));
    zones_hold(true, zone, along, 20, -1.561_526_673_098_660_1)
}

proptest! {
    /// Every point of a cone that lies on a face lies in what is shown there; and where the whole cone is in
    /// sight, no more is shown than its points span, but for the polygon around the circle and the steps
    /// between the points.
    #[test]
    fn what_is_shown_holds_the_cone(
        is_bowed in any::<bool>(),
        (at, clock, across) in (10.0..110.0_f64, 0..360_i32, 0.5..6.0_f64),
        (rise, clear) in (-6.0..12.0_f64, 0.1..5.0_f64),
        (turn, drift) in (0..90_i32, -3..3_i64),
        (u, h) in (-8.0..2.0_f64, -8.0..7.0_f64),
        (wide, thick) in (3.0..12.0_f64, 0.5..4.0_f64),
    ) {
        let log = if is_bowed { bowed() } else { round() };
        let frame = Frame { turn: Angle::degrees(turn), drift_u: inch(drift), drift_h: inch(1) };
        let basis = frame.basis(log.length());
        let piece = piece(basis, (u, u + wide), (h, h + thick), (6.0, 114.0));
        let length = Length::from_inches_f64;
        let clock = Angle::degrees(clock);
        let defect = Defect::Knot {
            at: length(at), clock, across: length(across), rise: length(rise), clear: length(clear),
        };
        let body = DefectBody::new(&defect, &log);
        let place = |p: &[f64; 3]| {
            [crate::frame::dot(basis.u, *p), crate::frame::dot(basis.h, *p), p[2]]
        };
        let points: Vec<[f64; 3]> =
            points(&log, at, clock, across, rise, clear).iter().map(place).collect();
        let inside = |p: &[f64; 3]| {
            (u..=u + wide).contains(&p[0]) && (h..=h + thick).contains(&p[1]) && (6.0..=114.0).contains(&p[2])
        };
        if points.iter().any(inside) {
            prop_assert!(body.is_in(&piece));
        }
        for face in BoxFace::ALL {
            let (axis, plane) = face.plane(&piece);
            let across_face = if axis == 0 { piece.h } else { piece.u };
            let (low, high) = (across_face.from.inches_f64(), across_face.to.inches_f64());
            let shown = body.on_face(&piece, face);
            prop_assert!(shown.len() <= 1);
            // Neighbours along the cone, from disk to disk and on one disk.
            let near = (0..points.len()).flat_map(|n| [(n, n + 300), (n, n + 1), (n, n + 60)]);
            let met: Vec<[f64; 2]> = near
                .filter(|(_, b)| *b < points.len())
                .filter_map(|(a, b)| crossing(points[a], points[b], axis, plane.inches_f64()))
                .collect();
            let on_face: Vec<&[f64; 2]> = met
                .iter()
                .filter(|p| (low..=high).contains(&p[0]) && (6.0..=114.0).contains(&p[1]))
                .collect();
            if let Some(Shown { across, along }) = shown.first() {
                let holds = |span: Span, at: f64| {
                    span.from.inches_f64() <= at + 1e-9 && at <= span.to.inches_f64() + 1e-9
                };
                for p in &on_face {
                    prop_assert!(holds(*across, p[0]) && holds(*along, p[1]), "{p:?} {across:?} {along:?}");
                }
                // All in sight: as tight as it is said to be.
                let is_whole = met.len() > 100 && met.len() == on_face.len();
                if is_whole {
                    let range = |n: usize| {
                        let all = met.iter().map(|p| p[n]);
                        all.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), at| (a.min(at), b.max(at)))
                    };
                    for (n, span) in [*across, *along].into_iter().enumerate() {
                        let (from, to) = range(n);
                        let size = span.size().inches_f64();
                        prop_assert!(size <= (to - from) * 1.25 + 0.35, "{n}: {size}, points {}", to - from);
                    }
                }
            } else {
                prop_assert!(on_face.is_empty(), "{:?} of {} points", face, on_face.len());
            }
        }
    }

    /// A seam, a scar and a core hold their own points too.
    #[test]
    fn zones_hold_their_points(
        is_bowed in any::<bool>(),
        zone in (0..360_i32, 5..120_i32, 0.5..5.0_f64),
        along in (0.0..60.0_f64, 5.0..60.0_f64),
        turn in 0..90_i32,
        h in -9.0..9.0_f64,
    ) {
        zones_hold(is_bowed, zone, along, turn, h)?;
    }
}
