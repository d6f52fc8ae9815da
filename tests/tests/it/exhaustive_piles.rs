//! Small piles against every way to saw them: every largest set of pieces of every log
//! (`pithward_tests::every_way`), every choice of one set for each log. No choice is worth more than the proven
//! bound, and the plan is worth no more than the best.
//!
//! And whatever the prices of the counted wants, what they prove (the best of every log alone at these prices,
//! and the counts at theirs) is no less than the best choice: searched log by log with `open`, which the pile's
//! program does not call.

use pithward_geometry::Log;
use pithward_measure::Length;
use pithward_optimizer::{
    Answer, Cut, Demand, Effort, Method, Pile, PileLog, Settings, Want, open, plan_pile,
};
use pithward_tests::every_way::{EveryWay, Pieces};
use pithward_tests::random::Random;
use pithward_tests::{check_pile, roomy_mill, want};
use pithward_trade::Wane;
use std::collections::BTreeSet;

/// How much thinner or thicker a log is made, so that a corner on the very edge of the wood decides nothing.
const EDGE: f64 = 2e-6;

/// Two to four logs of 5 to 7 in, one to three wants, at least one of them counted over the pile.
fn tiny(random: &mut Random) -> Pile {
    let mut mill = roomy_mill(Length::sixty_fourths(random.pick(&[5, 8, 13])));
    mill.lowest_blade = Length::sixty_fourths(random.pick(&[8, 16, 48]));
    let feet = random.within(4, 8);
    let mut logs: Vec<PileLog> = Vec::new();
    for _ in 0..random.within(2, 4) {
        if !logs.is_empty() && random.one_in(4) {
            logs.push(logs[0].clone());
            continue;
        }
        let small = Length::nm(25_400) * random.within(4_800, 6_800);
        let butt = small + Length::nm(25_400) * random.pick(&[0, 0, 400, 900]);
        let bark = Length::sixty_fourths(random.pick(&[0, 16, 40]));
        let log = Log::new(small, butt, Length::feet(feet), bark, bark).expect("a log");
        logs.push(PileLog { log, menu: 0 });
    }
    let sections = [
        (64, 128),
        (64, 192),
        (64, 224),
        (96, 160),
        (128, 128),
        (128, 224),
        (192, 224),
        (224, 224),
    ];
    let (mut menu, mut demands) = (Vec::new(), Vec::new());
    let lines = random.within(1, 3);
    for line in 0..lines {
        let (t, w) = random.pick(&sections);
        let (thickness, width) = (Length::sixty_fourths(t), Length::sixty_fourths(w));
        let long = Length::inches(12 * feet - random.within(0, 9));
        let short = Length::inches(12 * random.within(2, feet - 1));
        let lengths = if random.one_in(3) { vec![short, long] } else { vec![long] };
        let leg = Length::sixty_fourths(random.pick(&[0, 0, 6, 16]));
        let count = if line == 0 || random.one_in(2) {
            u32::try_from(random.within(1, 9)).ok()
        } else {
            None
        };
        let (dear, part) = (random.within(1, 4), random.pick(&[0, 0, 1, 3]));
        let plain = |length: &Length| {
            let cut = want(thickness, width, *length).cuts[0];
            let worth = cut.board_feet * dear;
            Cut { worth, extra: if count.is_some() { worth * part / 4 } else { worth }, ..cut }
        };
        let mut cuts: Vec<Cut> = lengths.iter().map(plain).collect();
        let most = cuts.iter().map(|cut| cut.worth).max().unwrap_or(0);
        let first = if count.is_some() { most * random.pick(&[0, 1, 9]) } else { 0 };
        cuts.iter_mut().for_each(|cut| cut.worth += first);
        menu.push(Want {
            heart: pithward_geometry::Heart::Any,
            tolerates: pithward_geometry::FlawKinds::NONE,
            grading: None,
            rings: None,
            count,
            wane: Wane { thickness: leg, width: leg },
            cuts,
        });
        demands.push(Demand { count, first, blocking: false });
    }
    Pile {
        settings: Settings { methods: Method::OF_A_PILE.to_vec(), ..Settings::all(&mill) },
        mill,
        logs,
        menus: vec![menu],
        demands,
        effort: Effort::default(),
    }
}

/// Every largest set of pieces of one log.
fn sets(every_way: &EveryWay<'_>) -> Vec<Pieces> {
    let all: BTreeSet<Pieces> =
        Method::OF_A_PILE.iter().flat_map(|method| every_way.patterns(*method)).collect();
    let part_of_another = |set: &Pieces| {
        all.iter().any(|other| other != set && other.iter().zip(set).all(|(o, p)| o >= p))
    };
    all.iter().filter(|set| !part_of_another(set)).cloned().collect()
}

/// The most that any choice of a set for every log is worth.
fn best(pile: &Pile, slack: f64) -> i64 {
    let menu = &pile.menus[0];
    let of_log = |log: &PileLog| sets(&EveryWay::new(&log.log, &pile.mill, menu, slack));
    // Sums of sets, log by log; what is part of another sum is never worth more.
    let nothing = vec![0; menu.iter().map(|want| want.cuts.len()).sum()];
    let mut sums: BTreeSet<Pieces> = BTreeSet::from([nothing]);
    for log in &pile.logs {
        let own = of_log(log);
        let add = |sum: &Pieces, set: &Pieces| sum.iter().zip(set).map(|(a, b)| a + b).collect();
        sums = sums.iter().flat_map(|sum| own.iter().map(move |set| add(sum, set))).collect();
    }
    let any = EveryWay::new(&pile.logs[0].log, &pile.mill, menu, slack);
    sums.iter().map(|sum| any.worth(sum)).max().unwrap_or(0)
}

/// What some prices prove: the best of every log when a piece within a count costs its price, and the counts at
/// theirs.
fn proven_by(pile: &Pile, prices: &[i64]) -> i64 {
    let priced: Vec<Want> = pile.menus[0]
        .iter()
        .zip(prices)
        .map(|(want, price)| {
            let cut = |cut: &Cut| {
                let worth = if want.count.is_some() {
                    (cut.worth - price).max(cut.extra)
                } else {
                    cut.worth
                };
                Cut { worth, extra: worth, ..*cut }
            };
            Want { count: None, cuts: want.cuts.iter().map(cut).collect(), ..want.clone() }
        })
        .collect();
    let log = |log: &PileLog| match open(&log.log, &pile.mill, &priced, &pile.settings) {
        Ok(Answer::Planned(planned)) => planned.proof.worth_bound,
        Ok(Answer::Impossible(_)) => 0,
        Err(fault) => panic!("{fault}"),
    };
    let counts = pile.demands.iter().zip(prices);
    let counts = counts.map(|(demand, price)| i64::from(demand.count.unwrap_or(0)) * price);
    pile.logs.iter().map(log).sum::<i64>() + counts.sum::<i64>()
}

#[test]
fn every_choice_for_small_piles() {
    let mut random = Random::new(2_027);
    let piles = 60;
    let (mut equal, mut proven, mut tight, mut lacking) = (0, 0, 0, 0.0f64);
    for n in 0..piles {
        let pile = tiny(&mut random);
        let plan = plan_pile(&pile, &()).expect("a pile is planned");
        check_pile::plan(&pile, &plan).unwrap_or_else(|why| panic!("pile {n}: {why}"));
        let (least, most) = (best(&pile, -EDGE), best(&pile, EDGE));
        let value = plan.worth + plan.proof.first;
        let bound = plan.proof.bound.expect("nobody stopped it");
        let what = format!(
            "pile {n}: plan {value}, bound {bound}, every choice {least} to {most}: {pile:?}"
        );
        assert!(value <= most, "more than there is, {what}");
        assert!(bound >= least, "the bound is not one, {what}");
        equal += usize::from(value >= least);
        if value < least {
            println!("{what}");
        }
        proven += usize::from(bound <= plan.proof.value + 1);
        lacking = lacking.max((least - value) as f64 / least.max(1) as f64);

        let mut lowest = i64::MAX;
        for _ in 0..12 {
            let price = |(want, demand): (&Want, &Demand)| {
                let most = want.cuts.iter().map(|cut| cut.worth - cut.extra).max().unwrap_or(0);
                let all = random.one_in(4);
                if demand.count.is_none() {
                    0
                } else if all {
                    most
                } else {
                    random.within(0, most)
                }
            };
            let prices: Vec<i64> = pile.menus[0].iter().zip(&pile.demands).map(price).collect();
            let by_prices = proven_by(&pile, &prices);
            assert!(by_prices >= value, "{prices:?} prove {by_prices}, {what}");
            assert!(by_prices >= least, "{prices:?} prove {by_prices}, {what}");
            lowest = lowest.min(by_prices);
        }
        // The program's own prices are the best: none found by chance prove less, but for what rounding takes.
        assert!(
            bound <= lowest + 1 + lowest / 50_000,
            "{lowest} is proven by other prices, {what}"
        );
        tight += usize::from(bound < lowest);
    }
    println!(
        "{equal} of {piles} plans are the best there is, {proven} proven; the worst lacks {:.2} %; in {tight} no price \
         found by chance proves as much",
        100.0 * lacking
    );
    assert!(equal * 10 >= piles * 9, "only {equal} of {piles} plans are the best there is");
}
