//! Piles of logs and a list: invented, the same in every run.
//!
//! Three kinds of wood, logs measured in sixteenths as a tape reads them (so that hardly two are alike), ten
//! wants whose counts grow with the pile. Nothing here was measured or ordered by anyone.

use crate::mill;
use pithward_geometry::{Angle, End, Log, Sweep, Taped};
use pithward_measure::{Length, board_feet_micro};
use pithward_optimizer::{Cut, Demand, Effort, Pile, PileLog, PileProof, Settings, Want};
use pithward_trade::Wane;

/// The kinds of wood: as many menus.
pub const WOODS: usize = 3;

/// Numbers of logs at which growth is looked at.
pub const SIZES: [usize; 6] = [40, 100, 300, 1_000, 3_000, 10_000];

/// By how much the bound is above the plan, as a share of the plan's value; all of it where nothing is proven.
pub fn gap(proof: &PileProof) -> f64 {
    proof.bound.map_or(1.0, |bound| (bound - proof.value) as f64 / proof.value.max(1) as f64)
}

/// Random numbers that are the same everywhere: `SplitMix64` (Steele, Lea and Flood, "Fast splittable
/// pseudorandom number generators", OOPSLA 2014).
pub(crate) struct Random(pub(crate) u64);

impl Random {
    /// From `least` to `most`, both included.
    pub(crate) fn within(&mut self, least: i64, most: i64) -> i64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        least + i64::try_from(z % ((most - least).unsigned_abs() + 1)).unwrap_or(0)
    }
}

/// One line of the list.
struct Line {
    section: (i64, i64),
    feet: &'static [i64],
    /// Pieces asked for from every hundred logs; `None` for as many as come.
    per_hundred: Option<u32>,
    /// The woods that it accepts, by their places.
    woods: &'static [usize],
}

/// The list, the most important first: a frame, its floor, siding from the rest. Common practice, no source.
const LIST: [Line; 10] = [
    Line { section: (8, 8), feet: &[12], per_hundred: Some(12), woods: &[0] },
    Line { section: (6, 8), feet: &[14], per_hundred: Some(14), woods: &[0] },
    Line { section: (6, 6), feet: &[10], per_hundred: Some(25), woods: &[0, 1] },
    Line { section: (4, 6), feet: &[8, 10], per_hundred: Some(40), woods: &[0, 1, 2] },
    Line { section: (2, 10), feet: &[12, 14], per_hundred: Some(60), woods: &[1] },
    Line { section: (2, 8), feet: &[12], per_hundred: Some(220), woods: &[1, 2] },
    Line { section: (2, 6), feet: &[8, 10, 12], per_hundred: Some(160), woods: &[1, 2] },
    Line { section: (1, 10), feet: &[8, 10], per_hundred: Some(60), woods: &[2] },
    Line { section: (1, 8), feet: &[8, 10, 12], per_hundred: None, woods: &[0, 1, 2] },
    Line { section: (1, 6), feet: &[8, 10, 12], per_hundred: None, woods: &[0, 1, 2] },
];

/// What every piece takes beyond its length.
const TRIM: Length = Length::inches(2);

/// A pile of so many logs, from a seed.
pub fn yard(logs: usize, seed: u64) -> Pile {
    let mut random = Random(seed);
    let mill = mill();
    let plain = |(t, w): (i64, i64), feet: i64| {
        board_feet_micro(Length::inches(t), Length::inches(w), Length::feet(feet))
    };
    let share = |per_hundred: u32| {
        let logs = u32::try_from(logs).unwrap_or(u32::MAX);
        (logs.saturating_mul(per_hundred) / 100).max(1)
    };
    let most: Vec<Option<i64>> = LIST
        .iter()
        .map(|line| {
            line.per_hundred
                .and_then(|_| line.feet.iter().map(|feet| plain(line.section, *feet)).max())
        })
        .collect();
    let first = firsts(&most);
    let want = |line: &Line, first: i64, wood: usize| {
        let (t, w) = line.section;
        let cut = |feet: &i64| {
            let board_feet = plain(line.section, *feet);
            let extra = if line.per_hundred.is_some() { 0 } else { board_feet };
            Cut {
                thickness: Length::inches(t),
                width: Length::inches(w),
                length: Length::feet(*feet),
                take: Length::feet(*feet) + TRIM,
                board_feet,
                worth: board_feet + first,
                extra,
            }
        };
        let accepted = line.woods.contains(&wood);
        let cuts = if accepted { line.feet.iter().map(cut).collect() } else { Vec::new() };
        Want {
            heart: pithward_geometry::Heart::Any,
            tolerates: pithward_geometry::FlawKinds::NONE,
            grading: None,
            rings: None,
            count: line.per_hundred.map(share),
            wane: Wane::NONE,
            cuts,
        }
    };
    let menu =
        |wood| LIST.iter().zip(&first).map(|(line, first)| want(line, *first, wood)).collect();
    let demand = |(line, first): (&Line, &i64)| Demand {
        count: line.per_hundred.map(share),
        first: *first,
        blocking: false,
    };
    Pile {
        logs: (0..logs).map(|_| log(&mut random)).collect(),
        menus: (0..WOODS).map(menu).collect(),
        demands: LIST.iter().zip(&first).map(demand).collect(),
        settings: Settings::of_a_pile(&mill),
        effort: Effort::default(),
        mill,
    }
}

/// The same list from logs that are neither round nor straight: each about 24 in at the small end and 12 ft long, with
/// a long axis an inch or two above the short one, and a bow of one to three inches.
pub fn crooked(logs: usize, seed: u64) -> Pile {
    let mut pile = yard(logs, seed);
    let mut random = Random(!seed);
    for of in &mut pile.logs {
        of.log = bowed(&mut random);
    }
    pile
}

/// One such log.
///
/// # Panics
/// Never: every figure is within what a log may measure.
pub fn bowed_log(seed: u64) -> Log {
    bowed(&mut Random(seed))
}

fn bowed(random: &mut Random) -> Log {
    let sixteenth = Length::sixty_fourths(4);
    let mut clock = || Angle::degrees(i32::try_from(random.within(0, 359)).unwrap_or(0));
    let (axis, toward) = (clock(), clock());
    let (shorter, grows) = (random.within(22 * 16, 24 * 16), random.within(16, 48));
    let mut end = |shorter: i64| End {
        longer: sixteenth * (shorter + random.within(16, 32)),
        shorter: sixteenth * shorter,
        clock: axis,
        pith_off: Length::ZERO,
        pith_clock: Angle::ZERO,
        bark: sixteenth * 8,
    };
    let (small, butt) = (end(shorter), end(shorter + grows));
    let length = Length::inches(146);
    let sweep =
        Some(Sweep { depth: sixteenth * random.within(16, 48), clock: toward, at: length.half() });
    let taped = Taped { small, butt, length, sweep, crook: None, flare: None };
    Log::taped(&taped).expect("between the limits of what a log measures")
}

/// One log: 8 to 25 in at the small end, the thinner the more of them; 8 to 16 ft and some trim; half an inch
/// to two inches of taper in eight feet.
fn log(random: &mut Random) -> PileLog {
    let sixteenth = Length::sixty_fourths(4);
    let thinner = random.within(8 * 16, 25 * 16).min(random.within(8 * 16, 25 * 16));
    let small = sixteenth * thinner;
    let length = Length::inches(random.within(8 * 12 + 2, 16 * 12 + 6));
    let per_foot = random.within(1, 4);
    let taper = sixteenth * (per_foot * length.div_floor(Length::feet(1)) + random.within(0, 7));
    let bark = sixteenth * random.within(3, 14);
    let log = Log::new(small, small + taper, length, bark, bark + sixteenth * random.within(0, 4))
        .expect("between the limits of what a log measures");
    let menu = usize::try_from(random.within(0, 2)).unwrap_or(0);
    PileLog { log, menu }
}

/// What puts each counted want of a list first, from the greatest worth of a piece of it: `None` for a want
/// without a count.
///
/// Nine times its worth, so that a piece within a count outweighs ten times its wood as it comes; and from the
/// last to the first each at least `r` times the one after it, `r = 2` for the ten wants and fewer of these
/// piles.
pub fn firsts(most: &[Option<i64>]) -> Vec<i64> {
    let (mut first, mut after, mut power) = (vec![0; most.len()], 0, 1i64);
    for (n, worth) in most.iter().enumerate().rev() {
        if let Some(worth) = worth {
            first[n] = worth.saturating_mul(9 * power).max(2 * after);
            after = first[n];
            power = power.saturating_mul(2);
        }
    }
    first
}
