//! Random logs, mills and wants, each made from one number, so that a case that fails can be named.

use pithward_geometry::{Log, Mill};
use pithward_measure::{Length, board_feet_micro};
use pithward_optimizer::{Cut, Want};
use pithward_trade::Wane;

/// Random numbers that are the same everywhere: `SplitMix64` (Steele, Lea and Flood, "Fast splittable
/// pseudorandom number generators", OOPSLA 2014).
#[derive(Clone, Debug)]
pub struct Random(u64);

impl Random {
    /// The numbers that follow from a seed.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From `least` to `most`, both included.
    pub fn within(&mut self, least: i64, most: i64) -> i64 {
        let span = (most - least).unsigned_abs() + 1;
        least + i64::try_from(self.next() % span).unwrap_or(0)
    }

    /// One time in so many.
    pub fn one_in(&mut self, times: u64) -> bool {
        self.next().is_multiple_of(times)
    }

    /// One of these.
    pub fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        let place = self.next() % from.len() as u64;
        from[usize::try_from(place).unwrap_or(0)]
    }
}

/// One log, one mill, some wants.
#[derive(Clone, Debug)]
pub struct Case {
    /// The log.
    pub log: Log,
    /// The mill.
    pub mill: Mill,
    /// What is wanted.
    pub wants: Vec<Want>,
}

impl Case {
    /// The case of this number: one in sixteen a thick or long log with many wants, the others small, because a
    /// small log is planned a hundred times faster and has more corners to get wrong for its size.
    ///
    /// # Panics
    /// Never: every number is within what a log may measure.
    pub fn new(number: u64) -> Self {
        let mut random = Random::new(number);
        let large = random.one_in(16);
        let log = log(&mut random, large);
        let mill = mill(&mut random);
        let lines = random.within(1, if large { 5 } else { 3 });
        let wants = (0..lines).map(|_| want(&mut random, &log)).collect();
        Self { log, mill, wants }
    }
}

/// Diameters to a sixteenth as a tape reads them, or to 0.1 mm; lengths to the inch.
fn log(random: &mut Random, large: bool) -> Log {
    let sixteenth = Length::sixty_fourths(4);
    let fine = |random: &mut Random, length: Length| {
        if random.one_in(3) { length + Length::nm(100_000) * random.within(0, 15) } else { length }
    };
    let (least, most) = if large { (14, 30) } else { (4, 13) };
    let small = sixteenth * random.within(16 * least, 16 * most);
    let small = fine(random, small);
    let taper = sixteenth * random.within(0, 46);
    let butt = small + fine(random, taper);
    let length = Length::inches(random.within(60, if large { 240 } else { 144 }));
    let bark = sixteenth * random.pick(&[0, 0, 2, 4, 8, 12, 24]);
    let thicker = sixteenth * random.pick(&[0, 0, 1, 4]);
    Log::new(small, butt, length, bark, bark + thicker).expect("a log that a tree can have")
}

/// Kerfs from 1 to 6 mm; scales in sixteenths, thirty-seconds and millimetres; limits from ample to in the way.
pub(crate) fn mill(random: &mut Random) -> Mill {
    let kerf = match random.within(0, 2) {
        0 => Length::nm(100_000) * random.within(10, 60),
        1 => Length::sixty_fourths(random.within(3, 15)),
        _ => Length::nm(random.within(1_000_000, 6_000_000)),
    };
    Mill {
        toe_board: None,
        name: "random".to_owned(),
        kerf,
        step: random.pick(&[Length::sixty_fourths(4), Length::sixty_fourths(2), Length::mm(1)]),
        largest_diameter: Length::inches(random.pick(&[24, 36, 40, 40])),
        longest: Length::feet(random.pick(&[11, 21, 21, 21])),
        shortest: Length::feet(random.pick(&[2, 4])),
        widest_cut: Length::inches(random.pick(&[10, 14, 20, 28, 40, 40])),
        deepest_above: Length::inches(random.pick(&[3, 5, 6, 8, 10, 10, 12, 16])),
        lowest_blade: Length::sixty_fourths(random.pick(&[32, 48, 64, 64, 100, 128])),
        crosscut_kerf: Length::sixty_fourths(random.pick(&[0, 8, 16])),
        edging_batch: u32::try_from(random.within(1, 8)).unwrap_or(1),
    }
}

/// One line of a list: full sizes, or some thirty-seconds over as green targets are; one to three lengths.
pub(crate) fn want(random: &mut Random, log: &Log) -> Want {
    let sections = [
        (1, 3),
        (1, 4),
        (1, 4),
        (1, 6),
        (1, 8),
        (2, 2),
        (2, 3),
        (2, 4),
        (2, 4),
        (2, 6),
        (2, 8),
        (2, 10),
        (3, 4),
        (3, 6),
        (4, 4),
        (4, 6),
        (6, 6),
        (6, 8),
        (8, 8),
    ];
    // Mostly what the log can hold.
    let holds = |(t, w): (i64, i64)| {
        Length::inches(w) < log.small_end() && Length::inches(t) * 2 < log.small_end()
    };
    let (t, w) = (0..4)
        .map(|_| random.pick(&sections))
        .reduce(|a, b| if holds(a) { a } else { b })
        .unwrap_or((1, 4));
    let over = Length::sixty_fourths(2) * random.pick(&[0, 0, 0, 1, 3, 4]);
    let (thickness, width) = (Length::inches(t) + over, Length::inches(w) + over);
    let trim = Length::inches(random.pick(&[0, 0, 2, 4]));
    let whole = log.length().div_floor(Length::feet(1));
    let most = if random.one_in(8) { 16 } else { whole.min(16) };
    let mut feet: Vec<i64> = (0..random.within(1, 3)).map(|_| random.within(2, most)).collect();
    feet.sort_unstable();
    feet.dedup();
    let count = if random.one_in(3) { u32::try_from(random.within(1, 6)).ok() } else { None };
    // A leg of wane stays under half of the thickness, and at half an inch at most.
    let widest = if t == 1 { 15 } else { 32 };
    let leg = |random: &mut Random| Length::sixty_fourths(random.pick(&[0, 4, 8, widest]));
    let wane = if random.one_in(2) {
        Wane::NONE
    } else if random.one_in(2) {
        Wane::legs(leg(random))
    } else {
        Wane { thickness: leg(random), width: leg(random) }
    };
    let dear = random.within(1, 3);
    let beyond = random.pick(&[0, 1, 2]);
    let cut = |feet: &i64| {
        let length = Length::feet(*feet);
        let board_feet = board_feet_micro(thickness, width, length);
        let worth = dear * board_feet;
        let extra = if count.is_some() { worth * beyond / 2 } else { worth };
        Cut { thickness, width, length, take: length + trim, board_feet, worth, extra }
    };
    Want {
        heart: pithward_geometry::Heart::Any,
        tolerates: pithward_geometry::FlawKinds::NONE,
        grading: None,
        rings: None,
        count,
        wane,
        cuts: feet.iter().map(cut).collect(),
    }
}
