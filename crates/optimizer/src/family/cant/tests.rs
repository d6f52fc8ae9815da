//! The cants that are found, against every thirty-second of an inch; in wood that is not round, against all places.

use super::*;
use crate::allowance::Allowances;
use crate::column::{Columns, Prices};
use crate::invented::{Random, counted, cut, mill, want};
use crate::site::Site;
use crate::want::{Want, WantId};
use pithward_geometry::{End, Frame, Log, Sweep, Taped, View};
use pithward_measure::Length;
use pithward_trade::Wane;

/// A log of much taper, so that short pieces reach further out than long ones.
fn log(random: &mut Random) -> Log {
    let small = Length::inches(random.within(7, 13));
    let butt = small + Length::inches(random.within(2, 7));
    Log::new(small, butt, Length::feet(16), Length::ZERO, Length::ZERO).unwrap()
}

/// Boards and planks of short lengths, some of a long one too, and some with wane.
fn wants(random: &mut Random) -> Vec<Want> {
    let mut wants = Vec::new();
    for _ in 0..random.within(2, 4) {
        let size = (Length::inches(random.within(1, 2)), Length::inches(random.within(2, 7)));
        wants.push(want(vec![cut(size, random.within(4, 8))]));
        if random.within(0, 1) == 0 {
            wants.push(want(vec![cut(size, 15)]));
        }
        if random.within(0, 5) == 0 {
            let wane = Wane { thickness: size.0.half(), width: Length::inches(1) };
            wants.push(Want { wane, ..want(vec![cut(size, 12)]) });
        }
    }
    wants
}

/// What the best cant is worth whose upper face lies on a mark of a thirty-second of an inch from the middle outward.
fn most(search: &mut Search<'_>) -> i64 {
    let mut most = 0;
    for height in heights(search) {
        let mut top = (height + 1) / 2;
        while let Some(found) = at(search, Method::FourSidedCant, height, top) {
            most = most.max(found.value);
            top += Length::sixty_fourths(2).as_nm();
        }
    }
    most
}

/// Of these logs without what [`aside`] adds several have a better cant than the one found, by up to 2.7 per cent.
#[test]
fn no_cant_aside_is_better_where_pieces_differ_in_length() {
    for number in 0..150 {
        let mut random = Random(number);
        let (log, mill) = (log(&mut random), mill(Length::nm(random.within(1_000_000, 5_000_000))));
        let wants = wants(&mut random);
        let prices = Prices::full(&wants);
        let view = View::new(&log, Frame::LEVEL);
        let columns = Columns::new(&view, mill.crosscut_kerf, &wants);
        let site = Site::new(&view, &mill, &columns);
        let mut search = Search::new(&site, &wants, &prices);
        let found = best(&mut search, &[Method::FourSidedCant], Aim::Each);
        let value = found.first().map_or(0, |found| found.value);
        let most = most(&mut search);
        assert!(value.div_euclid(UNIT) >= most.div_euclid(UNIT), "log {number}: {value} of {most}");
    }
}

/// The same where one want is counted exactly: nothing is left unsearched, and nothing found is better.
#[test]
fn no_cant_aside_is_better_with_counts() {
    for number in 0..60 {
        let mut random = Random(number);
        let (log, mill) = (log(&mut random), mill(Length::nm(random.within(1_000_000, 5_000_000))));
        let mut wants = wants(&mut random);
        let first = &wants[0].cuts[0];
        wants[0] = counted((first.thickness, first.width), 6, 2);
        let full = Prices::full(&wants);
        let allowances = Allowances::new(vec![2]);
        let prices = Prices { counted: vec![WantId(0)], allowances, ..full.clone() };
        let view = View::new(&log, Frame::LEVEL);
        let columns = Columns::new(&view, mill.crosscut_kerf, &wants);
        let site = Site::new(&view, &mill, &columns);
        let mut search = Search::new(&site, &wants, &prices);
        let most = most(&mut search);
        // Under full prices any number of the counted pieces is worth as much: no pattern is bounded by less.
        let guide = Search::new(&site, &wants, &full);
        let value = |found: &[Found]| found.first().map_or(0, |found| found.value).div_euclid(UNIT);
        let methods = [Method::FourSidedCant];
        let (guided, unsearched) =
            best_guided(&mut search, &mut { guide }, 0, 0, &methods, u64::MAX);
        let alone = best(&mut search, &methods, Aim::Each);
        for value in [value(&guided), value(&alone)] {
            assert!(value >= most.div_euclid(UNIT), "log {number}: {value} of {most}");
        }
        assert_eq!(unsearched, 0, "log {number}");
    }
}

/// A bowed oval.
fn bowed(random: &mut Random) -> Log {
    let shorter = random.within(8, 14);
    let mut end = |inches: i64| End {
        longer: Length::inches(inches + 1),
        shorter: Length::inches(inches),
        clock: random.clock(),
        pith_off: Length::ZERO,
        pith_clock: random.clock(),
        bark: Length::ZERO,
    };
    let (small, butt) = (end(shorter), end(shorter + 2));
    let length = Length::feet(9);
    let sweep = Sweep { depth: Length::inches(1), clock: random.clock(), at: length.half() };
    Log::taped(&Taped { small, butt, length, sweep: Some(sweep), crook: None, flare: None })
        .unwrap()
}

/// The bounds by which cants are opened leave none out that is better; by how little tables that are taken over from others
/// may differ from those made alone is allowed for.
#[test]
fn no_place_that_is_left_closed_is_better_in_wood_that_is_not_round() {
    for number in 0..25 {
        let mut random = Random(number);
        let (log, mill) = (bowed(&mut random), mill(Length::nm(2_540_000)));
        let sizes = [(1, 4), (1, 6), (2, 4), (2, 8)];
        let both = |(t, w): (i64, i64)| {
            let size = (Length::inches(t), Length::inches(w));
            want([6, 8].iter().map(|feet| cut(size, *feet)).collect())
        };
        let wants: Vec<Want> = sizes.into_iter().map(both).collect();
        let prices = Prices::full(&wants);
        let view = View::new(&log, Frame::LEVEL);
        let columns = Columns::new(&view, mill.crosscut_kerf, &wants);
        let site = Site::new(&view, &mill, &columns);
        let method = Method::FourSidedCant;
        let mut search = Search::new(&site, &wants, &prices);
        let value = best(&mut search, &[method], Aim::Each)[0].value;
        let mut search = Search::new(&site, &wants, &prices);
        let all = places::all(&search, MOST_PLACES);
        let places =
            all.iter().flat_map(|own| own.places.iter().map(|(top, _)| (own.height, *top)));
        let most = places.map(|(height, top)| found(&mut search, method, height, top).value).max();
        let most = most.unwrap_or(0);
        assert!(value * 1000 >= most * 998, "log {number}: {value} of {most}");
    }
}
