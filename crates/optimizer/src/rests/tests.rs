//! The frames that are found, against every degree.

use super::*;
use crate::invented::{Random, SIXTEENTH, cut, mill, want};
use pithward_geometry::{Crook, End, Sweep, Taped};
use std::sync::LazyLock;

/// A tenth of an inch.
const KERF: Length = Length::nm(2_540_000);

fn wants() -> Vec<Want> {
    let both = |(t, w): (i64, i64)| {
        let size = (Length::inches(t), Length::inches(w));
        want([6, 8].iter().map(|feet| cut(size, *feet)).collect())
    };
    [(1, 4), (1, 6), (2, 4), (2, 8)].into_iter().map(both).collect()
}

/// Ovals up to 1.15 : 1, a pith up to a twelfth of the diameter off, bows up to 2 in, a crook in one of four.
fn log(number: u64) -> Log {
    let mut random = Random(number);
    let shorter = random.within(8 * 16, 18 * 16);
    let oval = random.within(0, 15);
    let axis = random.clock();
    let mut end = |shorter: i64| End {
        longer: SIXTEENTH * (shorter + shorter * oval / 100),
        shorter: SIXTEENTH * shorter,
        clock: axis,
        pith_off: SIXTEENTH * random.within(0, shorter / 12),
        pith_clock: random.clock(),
        bark: SIXTEENTH * 8,
    };
    let (small, butt) = (end(shorter), end(shorter + 20));
    let length = Length::feet(random.within(6, 9));
    let sweep = Some(Sweep {
        depth: SIXTEENTH * random.within(1, 32),
        clock: random.clock(),
        at: length.half(),
    });
    let crook = number.is_multiple_of(4).then(|| Crook {
        depth: SIXTEENTH * random.within(4, 16),
        clock: random.clock(),
        at: length.half(),
    });
    Log::taped(&Taped { small, butt, length, sweep, crook, flare: None }).unwrap()
}

fn search<'a>(log: &'a Log, mill: &'a Mill, wants: &'a [Want], prices: &'a Prices) -> Laying<'a> {
    static USUAL: LazyLock<Settings> = LazyLock::new(|| Settings {
        methods: Method::USUAL.to_vec(),
        tolerance: Length::ZERO,
        taper: Taper::Level,
    });
    Laying::new(log, mill, wants, &USUAL, prices)
}

#[test]
fn no_degree_is_better_than_the_frame_that_is_found() {
    let (mill, wants) = (mill(KERF), wants());
    let prices = Prices::full(&wants);
    let losses = (0..200u64).into_par_iter().map(|number| {
        let log = log(number);
        let mut laying = search(&log, &mill, &wants, &prices);
        laying.search();
        let every = |degree: i32| {
            let frame = Frame::turned(Angle::degrees(degree));
            laying.roughly(&laying.view.along(frame), 0).0
        };
        let dense = (0..180).map(every).max().unwrap();
        let loss = dense - laying.best();
        assert!(loss <= dense / 500, "log {number}: {} where {dense} can be had", laying.best());
        (loss < 0, laying.ruled_out > 0)
    });
    let (better, ruled_out): (Vec<bool>, Vec<bool>) =
        losses.collect::<Vec<_>>().into_iter().unzip();
    // The axis along the bark is often better than any turn of it along the pith; and the bound spares most turns.
    assert!(better.iter().filter(|better| **better).count() > 50, "{better:?}");
    assert!(ruled_out.iter().filter(|out| **out).count() > 150, "{ruled_out:?}");
}

#[test]
fn a_range_of_turns_bounds_each_of_them() {
    let (mill, wants) = (mill(KERF), wants());
    let prices = Prices::full(&wants);
    for number in 0..12 {
        let log = log(number);
        let laying = Laying { aside: number % 2 == 0, ..search(&log, &mill, &wants, &prices) };
        for middle in [20, 100, 165] {
            let (middle, half) = (Angle::degrees(middle), Angle::degrees(4));
            let bound = laying.roughly(&laying.view.around(middle, half), 0).0;
            for by in -4..=4 {
                let frame =
                    Frame::turned(Angle::millidegrees(middle.as_millidegrees() + by * 1000));
                let own = laying.roughly(&laying.view.along(frame), 0).0;
                // In whole units: what only breaks ties is no part of the bound.
                let [own, bound] = [own, bound].map(|worth| worth.div_euclid(UNIT));
                assert!(own <= bound, "log {number} at {frame:?}: {own} above {bound}");
            }
        }
    }
}

#[test]
fn half_a_turn_gives_the_same_planes() {
    let log = log(3);
    let along = [Along::Bark, Along::Pith];
    let over = Lay { turn: 190, along }.within();
    assert_eq!(over, Lay { turn: 10, along: [Along::OtherBark, Along::Pith] });
    let (here, there) = (over.frame(&log), Lay { turn: 190, along }.frame(&log));
    assert_eq!((here.drift_u, here.drift_h), (-there.drift_u, there.drift_h));
}

/// Round logs of two inches of taper or so: along the bark some are worth more, and none is ever worth less than level.
#[test]
fn a_taper_that_is_searched_is_never_worth_less_than_level() {
    let (mill, wants) = (mill(KERF), wants());
    let mut gained = 0;
    for number in 0..24 {
        let small = SIXTEENTH * (160 + 11 * number);
        let butt = small + SIXTEENTH * (16 + 3 * (number % 9));
        let bark = Length::sixty_fourths(24);
        let log = Log::new(small, butt, Length::inches(148), bark, bark).unwrap();
        let worth = |taper: Taper| {
            let settings = Settings { taper, ..Settings::all(&mill) };
            match crate::open(&log, &mill, &wants, &settings).unwrap() {
                crate::Answer::Planned(planned) => {
                    assert!(planned.proof.worth_bound >= planned.plan.worth);
                    planned.plan.worth
                }
                crate::Answer::Impossible(why) => panic!("{why:?}"),
            }
        };
        let [level, searched] = [Taper::Level, Taper::Searched].map(worth);
        assert!(searched >= level, "log {number}: {searched} against {level}");
        gained += i32::from(searched > level);
    }
    assert!(gained > 0);
}
