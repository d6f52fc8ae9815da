//! Figures known from geometry alone, through the whole program: search, sawing order and replay.
//!
//! Sources: the files of `data/benchmarks`, each named at its test.

use pithward_geometry::{
    Angle, Body, Covering, HalfSpace, Log, Pass, Rest, SawingOrder, Setting, Stage, Support, replay,
};
use pithward_measure::Length;
use pithward_optimizer::{Answer, Method, Settings, Want, open};
use pithward_tests::table::{number, rows};
use pithward_tests::{cylinder, roomy_mill, want};
use pithward_trade::Wane;

/// A diameter a little off a computed one.
fn near(inches: f64, off: f64) -> Length {
    Length::from_inches_f64(inches + off)
}

/// An inch and some, exact where the figure is.
fn inch(text: &str) -> Length {
    Length::from_inches_f64(number(text))
}

/// How many pieces of these wants a cylinder gives; the wants are worth a piece each.
fn pieces(diameter: Length, kerf: Length, wants: &[Want], methods: &[Method]) -> usize {
    let mut wants = wants.to_vec();
    for cut in wants.iter_mut().flat_map(|want| &mut want.cuts) {
        (cut.worth, cut.extra) = (1_000_000, 1_000_000);
    }
    let mill = roomy_mill(kerf);
    let settings = Settings { methods: methods.to_vec(), ..Settings::all(&mill) };
    match open(&cylinder(diameter, Length::feet(8)), &mill, &wants, &settings)
        .expect("replay confirms")
    {
        Answer::Planned(planned) => {
            assert_eq!(
                planned.proof.worth_bound, planned.plan.worth,
                "nothing is counted, so nothing is open"
            );
            planned.plan.order.pieces.len()
        }
        Answer::Impossible(_) => 0,
    }
}

/// `closed_form.csv`: just above the least diameter for n pieces in one stack there are n, just below n - 1.
#[test]
fn least_diameters_for_a_stack() {
    let mut checked = 0;
    for row in rows("closed_form.csv").iter().filter(|row| row[1] == "diameter") {
        // "least small-end diameter (in) for 4 full-size 2 x 8 in one stack; kerf 0.125"
        let words: Vec<&str> = row[0].split_whitespace().collect();
        let at = |word: &str| {
            words
                .iter()
                .position(|w| *w == word)
                .unwrap_or_else(|| panic!("{word} in {:?}", row[0]))
        };
        let count: usize = words[at("for") + 1].parse().unwrap();
        let (thickness, width) = (inch(words[at("x") - 1]), inch(words[at("x") + 1]));
        let kerf = number(words[words.len() - 1]);
        // No blade is without a kerf; one board needs none.
        let kerf =
            if kerf > 0.0 { Length::from_inches_f64(kerf) } else { Length::sixty_fourths(6) };
        let diameter = number(&row[2]);
        let depth = count as f64 * thickness.inches_f64() + (count - 1) as f64 * kerf.inches_f64();
        let formula = (width.inches_f64().powi(2) + depth.powi(2)).sqrt();
        assert!((formula - diameter).abs() < 1e-6, "{}: {formula}", row[0]);

        let wants = [want(thickness, width, Length::feet(8))];
        // All in one stack: the family that saws nothing but stacks.
        let through = [Method::ThroughTurned];
        assert_eq!(
            pieces(near(formula, 1e-6), kerf, &wants, &through),
            count,
            "just above: {}",
            row[0]
        );
        assert_eq!(
            pieces(near(formula, -1e-6), kerf, &wants, &through),
            count - 1,
            "just below: {}",
            row[0]
        );
        // No other family can do with less for these: nothing fits beside or beyond the stack.
        assert_eq!(
            pieces(near(formula, -1e-6), kerf, &wants, &Method::USUAL),
            count - 1,
            "by any method: {}",
            row[0]
        );
        checked += 1;
    }
    assert_eq!(checked, 9);
}

/// The half-planes of the best n = 2m - 1 slabs in a circle of radius 1, as `closed_form.csv` states the problem, and
/// their share of it: each plane moved in turn until none gains.
fn best_slabs(m: usize) -> (Vec<f64>, f64) {
    let share = |y: &[f64]| {
        let mut inner = 0.0;
        let slab = |outer: &f64| {
            let area = 4.0 * (outer - inner) * (1.0 - outer * outer).sqrt();
            inner = *outer;
            area
        };
        y.iter().map(slab).sum::<f64>() / std::f64::consts::PI
    };
    let mut y: Vec<f64> = (1..=m).map(|n| n as f64 / (m + 1) as f64).collect();
    let mut step = 0.1;
    while step > 1e-13 {
        let mut gained = false;
        for n in 0..m {
            for by in [step, -step] {
                let before = share(&y);
                let old = y[n];
                y[n] = (old + by).clamp(
                    if n > 0 { y[n - 1] } else { 0.0 },
                    if n + 1 < m { y[n + 1] } else { 1.0 },
                );
                if share(&y) > before { gained = true } else { y[n] = old }
            }
        }
        if !gained {
            step /= 2.0;
        }
    }
    let best = share(&y);
    (y, best)
}

/// `closed_form.csv`: the shares of a circle that 1, 3, 5 and 7 slabs give at best. Given just their sizes and a kerf of a
/// nanometre, the program finds the whole pattern.
#[test]
fn best_shares_of_a_circle() {
    let mut checked = 0;
    for row in rows("closed_form.csv").iter().filter(|row| row[1] == "ratio") {
        let slabs: usize =
            row[0].split_whitespace().find_map(|word| word.parse().ok()).unwrap_or(1);
        let (planes, share) = best_slabs(slabs.div_ceil(2));
        let published = number(&row[2]);
        assert!((share - published).abs() < 1e-8, "{}: {share}", row[0]);

        let diameter = Length::inches(20);
        let radius = diameter.inches_f64() / 2.0;
        let down = |inches: f64| Length::from_inches_f64_down(inches - 1e-6);
        let mut wants = Vec::new();
        let mut inner = 0.0;
        for (n, plane) in planes.iter().enumerate() {
            let thickness = down((plane - inner) * radius * if n == 0 { 2.0 } else { 1.0 });
            let width = down(2.0 * (1.0 - plane * plane).sqrt() * radius);
            let mut want = want(thickness, width, Length::feet(8));
            want.count = Some(if n == 0 { 1 } else { 2 });
            want.cuts[0].extra = 0;
            wants.push(want);
            inner = *plane;
        }
        let mut mill = roomy_mill(Length::nm(1));
        mill.step = Length::nm(100_000);
        let settings = Settings { methods: vec![Method::ThroughTurned], ..Settings::all(&mill) };
        let answer = open(&cylinder(diameter, Length::feet(8)), &mill, &wants, &settings)
            .expect("replay confirms");
        let Answer::Planned(planned) = answer else { panic!("{}: no plan", row[0]) };
        let found = planned.plan.share_of_solid;
        assert!(found <= published && found > published - 1e-5, "{}: the plan has {found}", row[0]);
        checked += 1;
    }
    assert_eq!(checked, 4);
}

/// `central_block.csv`: what one block gives is given at least by the best plan; what one stack gives, by the plan that
/// saws through and through.
#[test]
fn a_central_block_is_a_lower_bound() {
    let kerf = Length::nm(2_540_000); // 0.10 in
    let mut more = 0;
    let rows = rows("central_block.csv");
    assert_eq!(rows.len(), 64);
    for row in &rows {
        let [one, block]: [usize; 2] = [&row[3], &row[4]].map(|field| field.parse().unwrap());
        let wants = [want(inch(&row[1]), inch(&row[2]), Length::feet(8))];
        let stack = pieces(inch(&row[0]), kerf, &wants, &[Method::ThroughTurned]);
        let best = pieces(inch(&row[0]), kerf, &wants, &Method::USUAL);
        assert!(stack >= one, "{row:?}: {stack} through and through");
        assert!(best >= block, "{row:?}: {best} by any method");
        more += usize::from(best > block);
    }
    println!("side boards and rips add pieces in {more} of 64");
}

/// `boxed_timbers.csv`, at wane of 0, 1/2 and 1 in: the printed diameters, and one timber just above, none just below.
#[test]
fn boxed_timbers() {
    let rows = rows("boxed_timbers.csv");
    assert_eq!(rows.len(), 11);
    for row in &rows {
        let (thickness, width) = (inch(&row[0]), inch(&row[1]));
        for (halves, printed) in (0..).zip(&row[2..]) {
            let leg = Length::sixty_fourths(32 * halves);
            let (w, h, c) = (width.inches_f64(), thickness.inches_f64(), leg.inches_f64());
            let diameter =
                (w * w + (h - 2.0 * c).powi(2)).sqrt().max(((w - 2.0 * c).powi(2) + h * h).sqrt());
            assert_eq!(&format!("{diameter:.2}"), printed, "{row:?}");
            let mut wants = [want(thickness, width, Length::feet(8))];
            wants[0].wane = Wane::legs(leg);
            let kerf = Length::sixty_fourths(6);
            let what = format!("{row:?}, wane {c}");
            assert_eq!(
                pieces(near(diameter, 1e-6), kerf, &wants, &[Method::BoxedHeart]),
                1,
                "just above: {what}"
            );
            assert_eq!(
                pieces(near(diameter, -1e-6), kerf, &wants, &Method::USUAL),
                0,
                "just below: {what}"
            );
        }
    }
}

/// Geometry: five 2x6 with a kerf of 0.10 in need sqrt(36 + 10.4^2) = 12.007 in, or a 12-in log and 1/16 in of wane.
/// All lie in one stack here; a cant gives side boards besides.
#[test]
fn a_fifth_2x6_in_a_12_in_log() {
    let kerf = Length::nm(2_540_000);
    let two_by_six = |wane: i64| {
        let mut want = want(Length::inches(2), Length::inches(6), Length::feet(8));
        want.wane = Wane::legs(Length::sixty_fourths(wane));
        [want]
    };
    let through = [Method::ThroughTurned];
    assert_eq!(format!("{:.3}", (36.0f64 + 10.4 * 10.4).sqrt()), "12.007");
    assert_eq!(pieces(Length::inches(12), kerf, &two_by_six(0), &through), 4);
    assert_eq!(pieces(Length::inches(12), kerf, &two_by_six(4), &through), 5);
    assert_eq!(pieces(near(12.0066, 0.0), kerf, &two_by_six(0), &through), 4);
    assert_eq!(pieces(near(12.0067, 0.0), kerf, &two_by_six(0), &through), 5);
}

/// Published practice (E. Wengert, kerf thickness and yield): 12 boards of 1.125 in through a flat stack need 16.6 in with a
/// kerf of 9/32 and 15.2 in with 5/32, `n t + (n - 1) k`.
#[test]
fn twelve_boards_through_a_flat_stack() {
    for (kerf, depth, printed) in [(18, "16.6", 16.59), (10, "15.2", 15.22)] {
        let kerf = Length::sixty_fourths(kerf);
        let needed = 12.0 * 1.125 + 11.0 * kerf.inches_f64();
        assert_eq!(format!("{needed:.1}"), depth);
        assert!((needed - printed).abs() < 0.005);
        // Wide ones, so that nothing fits beside the stack; sawn as one stack, with no board beyond it.
        let diameter = (12.0f64.powi(2) + needed.powi(2)).sqrt();
        let wants = [want(Length::sixty_fourths(72), Length::inches(12), Length::feet(8))];
        let through = [Method::ThroughTurned];
        assert_eq!(pieces(near(diameter, 1e-6), kerf, &wants, &through), 12);
        assert_eq!(pieces(near(diameter, -1e-6), kerf, &wants, &through), 11);
    }
}

/// The face that a slab of a depth opens, from the body's own sound interval.
fn opened(log: &Log, depth: f64) -> f64 {
    let plane = log.small_end().inches_f64() / 2.0 - depth;
    let body = Body::whole(log).cut(HalfSpace { normal: [0.0, 1.0, 0.0], offset: plane });
    let (from, to) =
        body.interval(Covering::Wood, 0.0, [0.0, plane], [1.0, 0.0]).expect("the plane meets wood");
    to - from
}

/// `slab_depth.csv`, and the chord `2 sqrt(s (D - s))`: through the body's interval and through a replayed pass.
#[test]
fn a_slab_opens_its_face() {
    let mut checked = 0;
    for row in rows("slab_depth.csv") {
        let diameter = inch(&row[0]);
        let log = cylinder(diameter, Length::feet(8));
        for (face, printed) in [3.0, 4.0, 5.0, 6.0, 8.0, 10.0].into_iter().zip(&row[1..]) {
            if printed.is_empty() {
                continue;
            }
            // The depth that opens the face, by halving.
            let (mut low, mut high) = (0.0, diameter.inches_f64() / 2.0);
            for _ in 0..60 {
                let middle = 0.5 * (low + high);
                if opened(&log, middle) < face { low = middle } else { high = middle }
            }
            assert_eq!(&format!("{low:.2}"), printed, "{row:?}, face {face}");
            let chord = 2.0 * (low * (diameter.inches_f64() - low)).sqrt();
            assert!((chord - face).abs() < 1e-9);

            let mill = roomy_mill(Length::sixty_fourths(6));
            let height = diameter - Length::from_inches_f64(low);
            let pass = Pass { height, printed: height.round_to(mill.step) };
            let rest =
                Rest { turn: Angle::ZERO, lift: Length::ZERO, on: Support::Bark, against: None };
            let order = SawingOrder {
                stages: vec![Stage { rest, passes: vec![pass] }],
                ..SawingOrder::default()
            };
            let replayed = replay(&log, &mill, &order, Setting::Exact).expect("one pass");
            let fact = replayed.passes[0][0];
            assert!((fact.opening_small_end - face).abs() < 1e-6, "{row:?}: {fact:?}");
            assert!(
                (fact.above - low).abs() < 1e-6 && (fact.widest - face).abs() < 1e-6,
                "{row:?}: {fact:?}"
            );
            checked += 1;
        }
    }
    assert_eq!(checked, 39);
}

/// Geometry of the circle: a 6-in face opens at 1.000, 0.675 and 0.461 in on logs of 10, 14 and 20 in; the largest piece of
/// width w is `sqrt(D^2 - w^2)` thick; the largest square has the side `D / sqrt 2`.
#[test]
fn chords_and_rectangles() {
    for (diameter, printed) in [(10, "1.000"), (14, "0.675"), (20, "0.461")] {
        let log = cylinder(Length::inches(diameter), Length::feet(8));
        let depth: f64 = printed.parse().unwrap();
        assert!(
            opened(&log, depth - 0.0005) < 6.0 && opened(&log, depth + 0.0005) > 6.0,
            "{diameter} in"
        );
    }
    let kerf = Length::sixty_fourths(6);
    for (diameter, width) in [(10, 6), (13, 5), (20, 16), (17, 11)] {
        let (d, w) = (f64::from(diameter), f64::from(width));
        let height = (d * d - w * w).sqrt();
        for (off, count) in [(-1e-6, 1), (1e-6, 0)] {
            let wants = [want(near(height, off), Length::inches(width.into()), Length::feet(8))];
            assert_eq!(
                pieces(Length::inches(diameter.into()), kerf, &wants, &Method::USUAL),
                count,
                "{diameter} {width}"
            );
        }
    }
    for diameter in [7, 12, 30] {
        let side = f64::from(diameter) * 0.5f64.sqrt();
        for (off, count) in [(-1e-6, 1), (1e-6, 0)] {
            let wants = [want(near(side, off), near(side, off), Length::feet(8))];
            assert_eq!(
                pieces(Length::inches(diameter.into()), kerf, &wants, &Method::USUAL),
                count,
                "{diameter}"
            );
        }
    }
}

/// Geometry: a 16-ft log of 12 in with 2 in of taper holds 14.78 cubic feet (the frustum); a plan's share of it says so.
#[test]
fn the_share_of_a_tapered_log() {
    let log = Log::new(
        Length::inches(12),
        Length::inches(14),
        Length::feet(16),
        Length::ZERO,
        Length::ZERO,
    )
    .unwrap();
    let wants = [want(Length::inches(6), Length::inches(6), Length::feet(16))];
    let mill = roomy_mill(Length::sixty_fourths(6));
    let settings = Settings { methods: vec![Method::BoxedHeart], ..Settings::all(&mill) };
    let Ok(Answer::Planned(planned)) = open(&log, &mill, &wants, &settings) else {
        panic!("a 6x6 is in it")
    };
    assert_eq!(planned.plan.order.pieces.len(), 1);
    // 6 x 6 in by 16 ft are 4 cubic feet.
    assert!(
        (planned.plan.share_of_solid - 4.0 / 14.78).abs() < 1e-4,
        "{}",
        planned.plan.share_of_solid
    );
}
