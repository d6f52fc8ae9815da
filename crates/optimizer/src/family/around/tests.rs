//! Places that the search would seldom choose, sawn and replayed all the same; and its bounds against every place.

use super::*;
use crate::allowance::Allowances;
use crate::column::{Columns, Prices};
use crate::invented::{self, Random, SIXTEENTH, counted, cut, want};
use crate::sawing::saw;
use crate::site::Site;
use crate::want::{Want, WantId};
use pithward_geometry::{End, Frame, Log, Mill, ReplayFault, Sweep, Taped, View, confirm};

fn mill(random: &mut Random) -> Mill {
    let kerf = Length::nm(random.within(1_000_000, 5_000_000));
    Mill {
        step: if random.within(0, 1) == 0 { SIXTEENTH } else { Length::mm(1) },
        widest_cut: Length::inches(random.within(14, 40)),
        deepest_above: Length::inches(random.within(4, 16)),
        ..invented::mill(kerf)
    }
}

/// Boards and timbers, some a little over their names as green targets are.
fn wants(random: &mut Random, feet: i64) -> Vec<Want> {
    let sizes = [(1, 4), (1, 6), (1, 8), (2, 4), (2, 6), (4, 4), (4, 6), (6, 6)];
    let lines = random.within(2, 4);
    let one = |_| {
        let (t, w) = sizes[usize::try_from(random.within(0, 7)).unwrap()];
        let over = Length::sixty_fourths(random.within(0, 5));
        want(vec![cut((Length::inches(t) + over, Length::inches(w) + over), feet)])
    };
    (0..lines).map(one).collect()
}

fn round_log(random: &mut Random, feet: i64) -> Log {
    let small = SIXTEENTH * random.within(9 * 16, 22 * 16);
    let butt = small + SIXTEENTH * random.within(0, 40);
    let bark = SIXTEENTH * random.within(0, 12);
    Log::new(small, butt, Length::feet(feet), bark, bark).unwrap()
}

/// Oval and bowed, the pith off the middle.
fn bowed_log(random: &mut Random, feet: i64) -> Log {
    let shorter = SIXTEENTH * random.within(9 * 16, 18 * 16);
    let clock = random.clock();
    let mut end = |more: i64| End {
        longer: shorter + SIXTEENTH * (more + random.within(0, 24)),
        shorter: shorter + SIXTEENTH * more,
        clock,
        pith_off: SIXTEENTH * random.within(0, 12),
        pith_clock: clock,
        bark: SIXTEENTH * 8,
    };
    let (small, butt, length) = (end(0), end(16), Length::feet(feet));
    let sweep = Sweep { depth: SIXTEENTH * random.within(1, 24), clock, at: length.half() };
    Log::taped(&Taped { small, butt, length, sweep: Some(sweep), crook: None, flare: None })
        .unwrap()
}

/// What one log, seen along the level frame, gives under full prices.
fn with_search<R>(
    log: &Log,
    mill: &Mill,
    wants: &[Want],
    prices: &Prices,
    then: impl FnOnce(&mut Search<'_>) -> R,
) -> R {
    let view = View::new(log, Frame::LEVEL);
    let columns = Columns::new(&view, mill.crosscut_kerf, wants);
    let site = Site::new(&view, mill, &columns);
    then(&mut Search::new(&site, wants, prices))
}

impl Places {
    /// The places round all hearts.
    fn every_one(&self) -> Vec<Place> {
        let of_heart = |(heart, own): (usize, &Heart)| {
            let depths = self.depths_of(own).into_iter();
            depths.map(move |depths| Place { heart, depths })
        };
        self.hearts.iter().enumerate().flat_map(of_heart).collect()
    }
}

/// Places here and there: sawn, replayed, and their work held against what the search counted.
fn saw_places(number: u64, log: &Log, mill: &Mill, wants: &[Want]) -> [usize; 2] {
    let (mut sawn, mut most_turned) = (0, 0);
    let prices = Prices::full(wants);
    with_search(log, mill, wants, &prices, |search| {
        let places = Places::new(search, i64::MIN / 4);
        let all = places.every_one();
        for place in all.iter().step_by(all.len() / 6 + 1) {
            let heart = &places.hearts[place.heart];
            let Some(found) = found(search, &places.depths, heart, *place) else { continue };
            let what = format!("log {number}, {place:?}, {heart:?}");
            let made = saw(search.site, wants, &found).unwrap();
            let order = &made.order;
            match confirm(log, mill, order, mill.step) {
                Ok(_) => {}
                // A strip on edge may be too wide for the head, and what is edged from the bed too thin: no recurrence knows.
                Err(ReplayFault::TooDeep { .. } | ReplayFault::TooLow { .. }) => continue,
                Err(_) if !search.site.is_alike() => continue,
                Err(fault) => panic!("{fault}: {what}"),
            }
            let turns = i64::try_from(order.turns()).unwrap();
            assert_eq!(turns, turns_of(place), "{what}");
            let cuts = found.cuts();
            let worth: i64 = cuts.iter().map(|cut| prices.worth(wants, *cut) * UNIT).sum();
            let net = worth - found.effort(search.work);
            let waste = found.boards().iter().filter(|board| board.strips.is_empty()).count();
            let waste = i64::try_from(waste).unwrap() * search.work.pass;
            // The heart and the boards of bounded sides are waste without a pass.
            assert!(net <= found.value, "{what}: {net} of {}", found.value);
            if search.site.is_alike() {
                assert_eq!(net + waste, found.value, "{what}");
            }
            sawn += 1;
            most_turned += usize::from(turns == 7);
        }
    });
    [sawn, most_turned]
}

fn turns_of(place: &Place) -> i64 {
    turns(place.depths)
}

#[test]
fn places_of_round_logs_are_sawn_and_replayed() {
    let mut sum = [0, 0];
    for number in 0..150 {
        let mut random = Random(number);
        let feet = random.within(4, 12);
        let log = round_log(&mut random, feet);
        let (mill, wants) = (mill(&mut random), wants(&mut random, feet - 1));
        let own = saw_places(number, &log, &mill, &wants);
        sum = [sum[0] + own[0], sum[1] + own[1]];
    }
    println!("{} sawn, {} of them turned seven times", sum[0], sum[1]);
    assert!(sum[0] > 400 && sum[1] > 150, "{sum:?}");
}

#[test]
fn most_places_of_bowed_logs_are_sawn_and_replayed() {
    let mut sum = [0, 0];
    for number in 0..20 {
        let mut random = Random(number);
        let feet = random.within(4, 10);
        let log = bowed_log(&mut random, feet);
        let (mill, wants) = (mill(&mut random), wants(&mut random, feet - 1));
        let own = saw_places(number, &log, &mill, &wants);
        sum = [sum[0] + own[0], sum[1] + own[1]];
    }
    println!("{} sawn, {} of them turned seven times", sum[0], sum[1]);
    assert!(sum[0] > 60 && sum[1] > 20, "{sum:?}");
}

#[test]
fn the_search_finds_the_best_of_all_places() {
    for number in 0..12 {
        let mut random = Random(number);
        let log = round_log(&mut random, 6).thicker(-Length::inches(4)).unwrap();
        let mill = mill(&mut random);
        let mut wants = wants(&mut random, 5);
        let is_counted = number % 2 == 1;
        let mut prices = Prices::full(&wants);
        if is_counted {
            let first = &wants[0].cuts[0];
            wants[0] = counted((first.thickness, first.width), 5, 2);
            let allowances = Allowances::new(vec![2]);
            prices = Prices { counted: vec![WantId(0)], allowances, ..prices };
        }
        with_search(&log, &mill, &wants, &prices, |search| {
            let places = Places::new(search, i64::MIN / 4);
            let all = places.every_one();
            let value = |search: &mut Search<'_>, place: &Place| {
                places.value(search, &places.hearts[place.heart], *place)
            };
            let most = all.iter().map(|place| value(search, place)).max().unwrap_or(0);
            let found = best(search, 0).map_or(0, |found| found.value);
            assert_eq!(found.div_euclid(UNIT), most.max(0).div_euclid(UNIT), "log {number}");
            // Guided by itself it finds the same.
            if is_counted {
                let guide = Prices::full(&wants);
                let guided = with_search(&log, &mill, &wants, &guide, |guide| {
                    best_guided(search, guide, 0, 0, u64::MAX)
                });
                let value = guided.0.map_or(0, |found| found.value);
                assert_eq!((value.div_euclid(UNIT), guided.1), (found.div_euclid(UNIT), 0));
            }
        });
    }
}

#[test]
fn a_boxed_timber_is_one_of_the_places() {
    for number in 0..40 {
        let mut random = Random(number);
        let log = round_log(&mut random, 8);
        let (mill, wants) = (mill(&mut random), wants(&mut random, 8));
        let prices = Prices::full(&wants);
        with_search(&log, &mill, &wants, &prices, |search| {
            let Some(boxed) = super::super::boxed::best(search) else { return };
            let around = best(search, 0).map_or(0, |found| found.value);
            assert!(around >= boxed.value, "log {number}: {around} of {}", boxed.value);
        });
    }
}

#[test]
fn its_work_stays_small_beside_the_other_families() {
    let sizes = [(1, 4), (1, 6), (1, 8), (2, 4), (2, 6), (2, 8), (4, 4), (6, 6)];
    let inches = |(t, w)| (Length::inches(t), Length::inches(w));
    let wants: Vec<Want> =
        sizes.into_iter().map(|size| want(vec![cut(inches(size), 12)])).collect();
    let log = Log::new(
        Length::inches(24),
        Length::inches(26),
        Length::feet(12),
        SIXTEENTH * 8,
        SIXTEENTH * 8,
    );
    let mut random = Random(1);
    let mill = Mill { kerf: Length::sixty_fourths(6), ..mill(&mut random) };
    with_search(&log.unwrap(), &mill, &wants, &Prices::full(&wants), |search| {
        let all: Vec<Method> =
            Method::USUAL.into_iter().filter(|method| *method != Method::Around).collect();
        let found = search.best(&all);
        let least = found.iter().map(|found| found.value).max().unwrap();
        let before = search.states();
        let better = best(search, least).map(|found| found.value);
        let states = search.states() - before;
        println!("{before} states for the others, {states} for around; {better:?} over {least}");
        assert!(states < 60_000, "{states}");
    });
}
