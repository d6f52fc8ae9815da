//! The best plan is the best plan: nothing that was searched another way is worth more.
//!
//! * Tiny logs, against every pattern written out with planes at any place (`pithward_tests::every_way`): equal,
//!   for each method, with taper, lengths, wane and the bed's lowest blade.
//! * Tiny logs with counts: no pattern is worth more than the proven bound, and none more than the plan where
//!   the plan claims to be the best.
//! * Straight round logs of 6 to 16 in, without counts, against a grid of 1/64 in (`pithward_tests::dense`): no
//!   family is worth less than the best on the grid, nor more than what no plan off the grid can exceed.

use pithward_geometry::{FlawKinds, Heart, Log, Mill};
use pithward_measure::Length;
use pithward_optimizer::{Answer, Cut, Method, Settings, Want, open};
use pithward_tests::dense::{Reading, Section, Size};
use pithward_tests::every_way::EveryWay;
use pithward_tests::random::Random;
use pithward_tests::{cylinder, roomy_mill, want};
use pithward_trade::Wane;

/// What each method is worth and the bound over all of them.
fn worths(log: &Log, mill: &Mill, wants: &[Want], methods: &[Method]) -> (Vec<(Method, i64)>, i64) {
    let settings = Settings { methods: methods.to_vec(), ..Settings::all(mill) };
    match open(log, mill, wants, &settings).expect("replay confirms every plan") {
        Answer::Impossible(_) => (methods.iter().map(|method| (*method, 0)).collect(), 0),
        Answer::Planned(planned) => {
            let worth = |method: &Method| {
                planned
                    .methods
                    .iter()
                    .find(|result| result.method == *method)
                    .map_or(0, |result| result.worth)
            };
            (
                methods.iter().map(|method| (*method, worth(method))).collect(),
                planned.proof.worth_bound,
            )
        }
    }
}

/// A log of 5 to 8 in and a few sizes that it holds.
fn tiny(random: &mut Random, counted: bool) -> (Log, Mill, Vec<Want>) {
    let thousandth = Length::nm(25_400);
    let small = thousandth * random.within(5_000, if counted { 7_000 } else { 8_000 });
    let taper = thousandth * random.pick(&[0, 0, 500, 1_200]);
    let feet = random.within(4, 9);
    let bark = Length::sixty_fourths(random.pick(&[0, 16, 40]));
    let log = Log::new(small, small + taper, Length::feet(feet), bark, bark)
        .expect("a tiny log is a log");
    let mut mill = roomy_mill(Length::sixty_fourths(random.pick(&[5, 8, 13])));
    mill.lowest_blade = Length::sixty_fourths(random.pick(&[8, 16, 48]));
    let sections = [
        (48, 144),
        (64, 128),
        (64, 160),
        (64, 224),
        (96, 96),
        (128, 128),
        (128, 224),
        (192, 224),
        (224, 256),
    ];
    let mut wants = Vec::new();
    let lines = random.within(1, 2);
    for _ in 0..lines {
        let (t, w) = random.pick(&sections);
        let (thickness, width) = (Length::sixty_fourths(t), Length::sixty_fourths(w));
        let long = Length::inches(12 * feet - random.within(0, 9));
        let short = Length::inches(12 * random.within(2, feet - 1));
        let lengths = if random.one_in(2) { vec![long] } else { vec![short, long] };
        let leg = Length::sixty_fourths(random.pick(&[0, 0, 6, 16]).min(t / 2 - 4));
        let dear = random.within(2, 5);
        let count = if counted && !random.one_in(3) {
            u32::try_from(random.within(1, 3)).ok()
        } else {
            None
        };
        let part = random.pick(&[0, 1, 3]);
        let cut = |length: &Length| {
            let cut = want(thickness, width, *length).cuts[0];
            let worth = cut.board_feet * dear;
            Cut { worth, extra: if count.is_some() { worth * part / 4 } else { worth }, ..cut }
        };
        let wane = Wane { thickness: leg, width: leg };
        wants.push(Want {
            heart: Heart::Any,
            tolerates: FlawKinds::NONE,
            grading: None,
            rings: None,
            count,
            wane,
            cuts: lengths.iter().map(cut).collect(),
        });
    }
    (log, mill, wants)
}

/// How much thinner or thicker a log is made, so that a corner on the very edge of the wood decides nothing.
const EDGE: f64 = 2e-6;

#[test]
fn every_way_of_tiny_logs() {
    let mut random = Random::new(64);
    let (mut equal, mut held) = (0, 0);
    for n in 0..60 {
        let (log, mill, wants) = tiny(&mut random, false);
        let (mut found, bound) = worths(&log, &mill, &wants, &Method::USUAL);
        // Beside the others a log is only sawn around where that is better.
        found.retain(|(method, _)| *method != Method::Around);
        found.extend(worths(&log, &mill, &wants, &[Method::Around]).0);
        let (inside, outside) =
            (EveryWay::new(&log, &mill, &wants, -EDGE), EveryWay::new(&log, &mill, &wants, EDGE));
        for (method, worth) in found {
            let (least, most) = (inside.best(method), outside.best(method));
            let what = format!(
                "case {n}, {}: {worth}, every way {least} to {most}: {log:?} {mill:?} {wants:?}",
                method.name()
            );
            assert!(worth >= least, "less than another way, {what}");
            assert!(worth <= most, "more than there is, {what}");
            assert!(bound >= least, "the bound {bound} is too low, {what}");
            equal += usize::from(least == most);
            held += usize::from(least > 0);
        }
    }
    println!("{held} of 360 hold something, {equal} of 360 are equal to the last digit");
    assert!(held > 180 && equal > 348);
}

#[test]
fn every_way_of_tiny_logs_with_counts() {
    let mut random = Random::new(128);
    let (mut proven, mut best, mut counting) = (0, 0, 0);
    let cases = 60;
    for n in 0..cases {
        let (log, mill, wants) = tiny(&mut random, true);
        let (found, bound) = worths(&log, &mill, &wants, &Method::USUAL);
        let plan = found.iter().map(|(_, worth)| *worth).max().unwrap_or(0);
        let inside = EveryWay::new(&log, &mill, &wants, -EDGE);
        let outside = EveryWay::new(&log, &mill, &wants, EDGE);
        let least = Method::USUAL.iter().map(|method| inside.best(*method)).max().unwrap_or(0);
        let most = Method::USUAL.iter().map(|method| outside.best(*method)).max().unwrap_or(0);
        let what = format!(
            "case {n}: plan {plan}, bound {bound}, every way {least} to {most}: {log:?} {mill:?} {wants:?}"
        );
        assert!(bound >= least, "the bound is not one, {what}");
        assert!(plan <= most, "more than there is, {what}");
        if bound == plan {
            assert!(plan >= least, "said to be proven best and is not, {what}");
            proven += 1;
        }
        best += usize::from(plan >= least);
        counting += usize::from(wants.iter().any(|want| want.count.is_some()));
    }
    println!("{counting} of {cases} with counts, {proven} proven, {best} the best there is");
    assert!(counting > cases / 2);
    assert!(proven * 10 >= cases * 8, "only {proven} of {cases} are proven");
}

/// A size of the grid as a want.
fn of_size(size: &Size, unit: i64, length: Length) -> Want {
    let inches = |units: i64| Length::sixty_fourths(64 / unit * units);
    let mut want = want(inches(size.thickness), inches(size.width), length);
    (want.cuts[0].worth, want.cuts[0].extra) = (size.value, size.value);
    want
}

#[test]
fn a_dense_search_of_straight_round_logs() {
    let lists: [&[(i64, i64)]; 6] = [
        &[(1, 4), (1, 6)],
        &[(2, 4), (1, 6)],
        &[(1, 4), (2, 6), (2, 8)],
        &[(1, 3), (2, 4), (2, 10)],
        &[(1, 6), (2, 4), (2, 6), (4, 4)],
        &[(1, 4), (1, 8), (2, 6), (6, 6)],
    ];
    let unit = 64;
    let mut met = 0;
    let mut searched = 0;
    for (n, diameter) in (6..=16).enumerate() {
        for (m, list) in lists.iter().enumerate() {
            // Two lists of six for each diameter, all of them over three diameters.
            if n % 3 != m % 3 {
                continue;
            }
            let kerf = if (n + m) % 2 == 0 { 6 } else { 8 };
            let size = |(t, w): &(i64, i64)| Size {
                thickness: t * unit,
                width: w * unit,
                value: t * w * 1_000_000,
            };
            let sizes: Vec<Size> = list.iter().map(size).collect();
            let section = Section { diameter: diameter * unit, kerf, sizes: sizes.clone() };
            let length = Length::feet(8);
            let wants: Vec<Want> = sizes.iter().map(|size| of_size(size, unit, length)).collect();
            let log = cylinder(Length::inches(diameter), length);
            let (found, _) =
                worths(&log, &roomy_mill(Length::sixty_fourths(kerf)), &wants, &Method::USUAL);
            for (method, worth) in found {
                let (least, most) = match method {
                    // A thin slab must stay on the bed, which the grid search does not know of; nor does it turn a face up
                    // again, or put a part back.
                    Method::Through | Method::TwoSidedCant | Method::Around | Method::Quarter => {
                        continue;
                    }
                    Method::ThroughTurned => {
                        (section.through(Reading::Strict), section.through(Reading::Lenient))
                    }
                    Method::FourSidedCant => {
                        // A 4x4 may be turned, and a 6x6; none of these sizes is another one when turned.
                        (section.cant(Reading::Strict, true), section.cant(Reading::Lenient, true))
                    }
                    Method::BoxedHeart => {
                        (section.boxed(Reading::Strict, 224), section.boxed(Reading::Lenient, 224))
                    }
                };
                let what = format!("{diameter} in, kerf {kerf}/64, {list:?}, {}", method.name());
                assert!(worth >= least, "{what}: {worth}, the grid finds {least}");
                assert!(worth <= most, "{what}: {worth}, no plan is worth more than {most}");
                searched += 1;
                met += usize::from(least == most);
            }
        }
    }
    println!("{searched} searches, in {met} of them the grid leaves nothing open");
    assert!(searched > 60 && met * 2 > searched);
}
