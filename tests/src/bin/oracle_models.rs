//! Small cases with this program's own answers, as JSON on stdout, for a solver outside to confirm.
//!
//! `grid`: through and through on a grid of planes, with counts. The solver builds its own model from the numbers; what
//! it finds on the grid must not beat the program, and what it finds when every board may lie a unit off the grid must
//! not be less than the program's.
//!
//! `master`: every largest set of pieces that any method gives a tiny log, written out; the solver chooses one and shares
//! it out to the counts. It must find what the program's proof says.
//!
//! `pile`: the program over patterns of piles of a usual day, as it stands at the end. The solver finds the best amounts of
//! these patterns, and the best whole choice of them: neither is worth more than the bound, nor less than the plan.

use pithward_geometry::Log;
use pithward_measure::Length;
use pithward_optimizer::master::UNIT;
use pithward_optimizer::{Answer, Cut, Method, Planned, Settings, Want, open, program_of};
use pithward_tests::every_way::EveryWay;
use pithward_tests::random::Random;
use pithward_tests::random_pile::Scope;
use pithward_tests::{cylinder, roomy_mill, want};
use serde_json::{Value, json};

fn main() {
    let cases = json!({ "grid": grid(), "master": master(), "pile": piles() });
    #[allow(clippy::print_stdout, reason = "a program whose result is its standard output")]
    {
        println!("{cases:#}");
    }
}

/// A plan, for a case that has one.
fn planned(log: &Log, kerf: Length, wants: &[Want], methods: &[Method]) -> Option<Box<Planned>> {
    let mill = roomy_mill(kerf);
    let settings = Settings { methods: methods.to_vec(), ..Settings::all(&mill) };
    match open(log, &mill, wants, &settings) {
        Ok(Answer::Planned(planned)) => Some(planned),
        Ok(Answer::Impossible(_)) => None,
        Err(fault) => panic!("{fault}"),
    }
}

/// One thickness by one width, its worth, and how many are asked for.
type Line = (i64, i64, i64, Option<u32>);

/// Straight logs; sizes in 1/8 in, worth in whole units, beyond a count a third of it. A corner on the circle itself is
/// within it for the solver, so the log is four nanometres thicker here.
fn grid() -> Vec<Value> {
    let lists: [(i64, i64, &[Line]); 6] = [
        (56, 1, &[(8, 32, 4, None), (16, 32, 9, None)]),
        (64, 1, &[(8, 48, 6, Some(3)), (16, 32, 9, None)]),
        (72, 2, &[(8, 32, 5, Some(4)), (16, 48, 12, Some(2))]),
        (80, 1, &[(8, 32, 4, None), (8, 64, 9, Some(2)), (16, 48, 14, Some(3))]),
        (88, 2, &[(8, 48, 7, None), (12, 64, 12, Some(3)), (16, 32, 9, Some(2))]),
        (96, 1, &[(8, 48, 6, Some(5)), (16, 48, 13, Some(4)), (16, 64, 17, Some(1))]),
    ];
    lists
        .iter()
        .map(|(diameter, kerf, lines)| {
            let eighths = |units: i64| Length::sixty_fourths(8 * units);
            let length = Length::feet(8);
            let wants: Vec<Want> = lines
                .iter()
                .map(|(t, w, worth, count)| {
                    let mut want = want(eighths(*t), eighths(*w), length);
                    want.count = *count;
                    want.cuts[0].worth = worth * 3_000_000;
                    want.cuts[0].extra = if count.is_some() { worth * 1_000_000 } else { worth * 3_000_000 };
                    want
                })
                .collect();
            let log = cylinder(eighths(*diameter) + Length::nm(4), length);
            let plan = planned(&log, eighths(*kerf), &wants, &[Method::ThroughTurned]).expect("there is a board in it");
            json!({
                "diameter": diameter,
                "kerf": kerf,
                "sizes": lines.iter().zip(&wants).map(|((t, w, _, count), want)| json!({
                    "thickness": t, "width": w, "count": count,
                    "worth": want.cuts[0].worth / 1_000_000, "extra": want.cuts[0].extra / 1_000_000,
                })).collect::<Vec<_>>(),
                "plan_worth": plan.plan.worth / 1_000_000,
                "bound": plan.proof.worth_bound / 1_000_000,
            })
        })
        .collect()
}

/// Tiny tapered logs with counts on everything.
fn master() -> Vec<Value> {
    let mut random = Random::new(2026);
    let mut cases = Vec::new();
    while cases.len() < 8 {
        let sixteenths = |random: &mut Random, least, most| {
            Length::sixty_fourths(4) * random.within(least, most)
        };
        let small = sixteenths(&mut random, 86, 112);
        let butt = small + sixteenths(&mut random, 0, 20);
        let log = Log::new(small, butt, Length::feet(8), Length::ZERO, Length::ZERO)
            .expect("a tiny log is a log");
        let kerf = Length::sixty_fourths(random.pick(&[6, 8]));
        let sizes = [(64, 192), (64, 256), (128, 128), (128, 192), (128, 256), (224, 224)];
        let wants: Vec<Want> = (0..2)
            .map(|_| {
                let (t, w) = random.pick(&sizes);
                let (short, long) = (Length::feet(4), Length::feet(8));
                let cut = |length: Length| {
                    let cut =
                        want(Length::sixty_fourths(t), Length::sixty_fourths(w), length).cuts[0];
                    let worth = cut.board_feet * 3;
                    Cut { worth, extra: worth / 5, ..cut }
                };
                let count = u32::try_from(random.within(1, 4)).ok();
                let cuts =
                    if random.one_in(2) { vec![cut(short), cut(long)] } else { vec![cut(long)] };
                Want {
                    count,
                    cuts,
                    ..want(Length::sixty_fourths(t), Length::sixty_fourths(w), long)
                }
            })
            .collect();
        let Some(plan) = planned(&log, kerf, &wants, &Method::USUAL) else { continue };
        let mill = roomy_mill(kerf);
        let every_way = EveryWay::new(&log, &mill, &wants, 0.0);
        let patterns: Vec<Vec<u32>> =
            Method::USUAL.iter().flat_map(|method| every_way.patterns(*method)).collect();
        let cuts: Vec<Value> = wants
            .iter()
            .enumerate()
            .flat_map(|(n, want)| want.cuts.iter().map(move |cut| (n, cut)))
            .map(|(want, cut)| json!({ "want": want, "worth": cut.worth, "extra": cut.extra }))
            .collect();
        cases.push(json!({
            "cuts": cuts,
            "counts": wants.iter().map(|want| want.count).collect::<Vec<_>>(),
            "patterns": patterns,
            "plan_worth": plan.plan.worth,
            "bound": plan.proof.worth_bound,
        }));
    }
    cases
}

/// Piles of a usual day: lines, classes of logs, patterns and which classes they suit.
fn piles() -> Vec<Value> {
    (20..26)
        .map(|number| {
            let pile = Scope::DAY.pile(number);
            let (program, lines, logs) = program_of(&pile).expect("a pile of a day is planned");
            let patterns = program.patterns.iter().map(|(pattern, _)| {
                let pieces = pattern.pieces.iter();
                let pieces: Vec<_> = pieces.map(|p| (p.want, p.worth, p.extra, p.pieces)).collect();
                json!({ "effort": pattern.effort, "pieces": pieces })
            });
            // 128 bits are more than a number of JSON is sure to hold.
            let units = |value: i128| value.to_string();
            json!({
                "unit": UNIT,
                "counts": lines.iter().map(|line| line.count).collect::<Vec<_>>(),
                "logs": logs,
                "patterns": patterns.collect::<Vec<_>>(),
                "suitable": program.suitable,
                "plan_value": units(program.value),
                "bound": units(program.bound.expect("nobody stopped it")),
            })
        })
        .collect()
}
