//! How many logs alike a list takes, against every way to saw tiny ones, and against what the pile's own plan says.

use pithward_geometry::Log;
use pithward_measure::Length;
use pithward_optimizer::{
    Demand, Effort, Method, Need, Pile, PileLog, Settings, Want, need, plan_pile,
};
use pithward_tests::every_way::{EveryWay, Pieces};
use pithward_tests::random::Random;
use pithward_tests::random_pile::Scope;
use pithward_tests::{check_pile, roomy_mill, want};
use std::collections::BTreeSet;

/// One log of 5 to 7 in and one to three counted wants of one length that it holds.
fn kind(random: &mut Random) -> Pile {
    let mill = roomy_mill(Length::sixty_fourths(random.pick(&[5, 8])));
    let small = Length::nm(25_400) * random.within(5_000, 6_800);
    let butt = small + Length::nm(25_400) * random.pick(&[0, 500]);
    let log = Log::new(small, butt, Length::feet(6), Length::ZERO, Length::ZERO).expect("a log");
    let sections = [(64, 128), (64, 192), (64, 224), (96, 160), (128, 128), (128, 224)];
    let (mut menu, mut demands): (Vec<Want>, Vec<Demand>) = (Vec::new(), Vec::new());
    for _ in 0..random.within(1, 3) {
        let (t, w) = random.pick(&sections);
        let count = u32::try_from(random.within(1, 20)).ok();
        let mut want = want(Length::sixty_fourths(t), Length::sixty_fourths(w), Length::feet(6));
        want.count = count;
        want.cuts[0].extra = 0;
        menu.push(want);
        demands.push(Demand { count, first: 0, blocking: false });
    }
    Pile {
        settings: Settings { methods: Method::OF_A_PILE.to_vec(), ..Settings::all(&mill) },
        mill,
        logs: vec![PileLog { log, menu: 0 }],
        menus: vec![menu],
        demands,
        effort: Effort::default(),
    }
}

/// The least number of logs whose sets of pieces fill every count; `None` when one want is in no set.
fn fewest(pile: &Pile, slack: f64) -> Option<u32> {
    let menu = &pile.menus[0];
    let every_way = EveryWay::new(&pile.logs[0].log, &pile.mill, menu, slack);
    let sets: BTreeSet<Pieces> =
        Method::OF_A_PILE.iter().flat_map(|method| every_way.patterns(*method)).collect();
    let counts: Pieces = pile.demands.iter().map(|demand| demand.count.unwrap_or(0)).collect();
    // What is given so far, no more than the counts.
    let mut reached = BTreeSet::from([vec![0; counts.len()]]);
    for logs in 0.. {
        if reached.contains(&counts) {
            return Some(logs);
        }
        let add = |sum: &Pieces, set: &Pieces| -> Pieces {
            let more = sum.iter().zip(set).map(|(a, b)| a + b);
            more.zip(&counts).map(|(given, count)| given.min(*count)).collect()
        };
        let next: BTreeSet<Pieces> =
            reached.iter().flat_map(|sum| sets.iter().map(|set| add(sum, set))).collect();
        if next == reached {
            return None;
        }
        // What is part of another is never nearer to the counts.
        let part = |sum: &Pieces| {
            next.iter().any(|other| other != sum && other.iter().zip(sum).all(|(o, s)| o >= s))
        };
        reached = next.iter().filter(|sum| !part(sum)).cloned().collect();
    }
    None
}

#[test]
fn as_many_tiny_logs_as_every_way_says() {
    const EDGE: f64 = 2e-6;
    let mut random = Random::new(77);
    let (mut equal, mut proven, mut asked, mut never) = (0, 0, 0, 0);
    for n in 0..60 {
        let pile = kind(&mut random);
        let (most, least) = (fewest(&pile, -EDGE), fewest(&pile, EDGE));
        let what = format!("case {n}: every way {least:?} to {most:?}: {pile:?}");
        match need(&pile, &()).expect("settings that suit the mill") {
            Need::Logs(needed) => {
                asked += 1;
                let plan = &needed.plan;
                let logs = usize::try_from(needed.logs).unwrap();
                assert_eq!(plan.logs.len(), logs, "{what}");
                assert_eq!(check_pile::plans(plan).count(), logs, "none is left whole, {what}");
                assert!(
                    plan.tally.iter().all(|tally| tally.short() == 0),
                    "the list is filled, {what}"
                );
                let many = Pile { logs: vec![pile.logs[0].clone(); logs], ..pile.clone() };
                check_pile::plan(&many, plan).unwrap_or_else(|why| panic!("{why}, {what}"));
                assert!(needed.least <= needed.logs, "{needed:?}, {what}");
                let (Some(least), Some(most)) = (least, most) else {
                    panic!("it cannot be, {what}")
                };
                assert!(needed.logs >= least, "{} are said to do, {what}", needed.logs);
                assert!(needed.least <= most, "{} are said to be needed, {what}", needed.least);
                equal += usize::from(needed.logs <= most);
                proven += usize::from(needed.least == needed.logs);
                if needed.logs > most {
                    println!("{} logs ({} proven), {what}", needed.logs, needed.least);
                }
            }
            Need::Impossible(obstacles) => {
                never += 1;
                assert!(most.is_none(), "said to be impossible: {obstacles:?}, {what}");
                assert!(!obstacles.is_empty(), "without a reason, {what}");
            }
            Need::TooMany { tried } => panic!("{tried} are not enough, {what}"),
        }
    }
    println!(
        "{equal} of {asked} are the fewest there can be, {proven} of them proven; {never} impossible"
    );
    assert!(asked > 40 && equal * 10 >= asked * 9, "only {equal} of {asked} are the fewest");
}

#[test]
fn one_log_less_does_not_fill_the_list() {
    let mut asked = 0;
    for number in 0..40 {
        let mut pile = Scope::SMALL.pile(number);
        pile.logs.truncate(1);
        pile.effort = Effort::default();
        let Ok(Need::Logs(needed)) = need(&pile, &()) else { continue };
        if needed.least < 2 || needed.logs > 60 {
            continue;
        }
        asked += 1;
        // The same list in a pile that is one log too small.
        let logs = usize::try_from(needed.least).unwrap() - 1;
        let few = Pile { logs: vec![pile.logs[0].clone(); logs], ..pile.clone() };
        let plan = plan_pile(&few, &()).expect("a pile is planned");
        assert!(
            plan.tally.iter().any(|tally| tally.short() > 0),
            "{number}: {} logs are proven to be needed, {logs} fill the list",
            needed.least
        );
    }
    println!("{asked} lists");
    assert!(asked >= 5, "only {asked} lists take more than one log");
}
