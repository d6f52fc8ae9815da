//! Random piles of logs and a list, each made from one number, so that a pile that fails can be named.

use crate::random::{self, Random};
use pithward_geometry::{Angle, Defect, Log, Mill};
use pithward_measure::Length;
use pithward_optimizer::{Cut, Demand, Effort, Grading, Pile, PileLog, Settings, Want};
use pithward_trade::grade::{Grade, Prices};

/// How large a random pile is.
#[derive(Clone, Copy, Debug)]
pub struct Scope {
    /// Logs, at most.
    pub logs: i64,
    /// Lines of the list, at least and at most.
    pub wants: (i64, i64),
    /// Kinds of wood, at most.
    pub woods: i64,
    /// Small ends, whole inches, at most.
    pub inches: i64,
    /// One log in so many is like one before it; 0 for none.
    pub alike: u64,
    /// Mills that are in the way of some logs; one that is in nobody's way, else.
    pub odd_mills: bool,
    /// Knots of a log, at most; where there are any, most lines of the list are graded.
    pub knots: i64,
}

impl Scope {
    /// A few small logs: planned in a fraction of a second.
    pub const SMALL: Self =
        Self { logs: 9, wants: (2, 4), woods: 2, inches: 12, alike: 3, odd_mills: true, knots: 0 };

    /// A few small logs, some of them with knots, for a list that asks and pays for grades.
    pub const GRADED: Self = Self { logs: 4, knots: 8, ..Self::SMALL };

    /// A few days: some dozens of logs and a long list.
    pub const DAY: Self = Self {
        logs: 60,
        wants: (8, 10),
        woods: 3,
        inches: 20,
        alike: 6,
        odd_mills: false,
        knots: 0,
    };

    /// A morning: what is planned in a moment.
    pub const MORNING: Self = Self {
        logs: 24,
        wants: (4, 7),
        woods: 3,
        inches: 15,
        alike: 6,
        odd_mills: false,
        knots: 0,
    };

    /// The pile of this number.
    ///
    /// # Panics
    /// Never: every number is within what a log may measure.
    pub fn pile(self, number: u64) -> Pile {
        let mut random = Random::new(number ^ 0x7069_6c65);
        let mill = if self.odd_mills { random::mill(&mut random) } else { day_mill() };
        let woods = random.within(1, self.woods);
        let number_of_logs = random.within((self.logs / 2).max(1), self.logs);
        let mut logs: Vec<PileLog> = Vec::new();
        for _ in 0..number_of_logs {
            if self.alike > 0 && !logs.is_empty() && random.one_in(self.alike) {
                let known = random.within(0, i64::try_from(logs.len()).unwrap_or(1) - 1);
                logs.push(logs[usize::try_from(known).unwrap_or(0)].clone());
                continue;
            }
            let menu = usize::try_from(random.within(0, woods - 1)).unwrap_or(0);
            let mut log = log(&mut random, self.inches);
            if self.knots > 0 && !random.one_in(4) {
                log = knotty(&mut random, log, self.knots);
            }
            logs.push(PileLog { log, menu });
        }
        let lines = random.within(self.wants.0, self.wants.1);
        let mut menus = vec![Vec::new(); usize::try_from(woods).unwrap_or(1)];
        let mut demands = Vec::new();
        for line in 0..lines {
            let after = lines - line;
            let (mut served, demand) = line_of(&mut random, &logs, (menus.len(), after));
            if self.knots > 0 && !random.one_in(4) {
                grade(&mut random, &mut served, demand.first);
            }
            for (menu, want) in menus.iter_mut().zip(served) {
                menu.push(want);
            }
            demands.push(demand);
        }
        let effort = if random.one_in(2) {
            Effort::default()
        } else {
            Effort { pass: random.within(0, 400_000), turn: random.within(0, 1_500_000) }
        };
        Pile { settings: Settings::of_a_pile(&mill), mill, logs, menus, demands, effort }
    }
}

/// A mill that takes every log of a day, and has a lowest height that matters.
fn day_mill() -> Mill {
    Mill { lowest_blade: Length::inches(1), ..crate::roomy_mill(Length::nm(2_540_000)) }
}

/// Measured in sixteenths.
fn log(random: &mut Random, inches: i64) -> Log {
    let sixteenth = Length::sixty_fourths(4);
    let most = 16 * inches;
    let small = sixteenth * random.within(16 * 5, most).min(random.within(16 * 6, most));
    let length = Length::inches(random.within(8 * 12, 15 * 12));
    let butt = small + sixteenth * random.within(4, 40);
    let bark = sixteenth * random.within(0, 12);
    Log::new(small, butt, length, bark, bark).expect("a log that a tree can have")
}

/// A log with some knots, most of them on one side.
fn knotty(random: &mut Random, log: Log, most: i64) -> Log {
    let inches = log.length().inches_f64().floor();
    let side = random.within(0, 359);
    let knots = 0..random.within(1, most);
    let knot = |n: i64| {
        let off = if n % 3 == 0 { random.within(0, 359) } else { random.within(-40, 40) };
        let clock = i32::try_from((side + off).rem_euclid(360)).unwrap_or(0);
        Defect::Knot {
            at: Length::from_inches_f64(inches * random.within(5, 95) as f64 / 100.0),
            clock: Angle::degrees(clock),
            across: Length::sixty_fourths(16) * random.within(4, 12),
            rise: Length::inches(random.within(0, 3)),
            clear: Length::sixty_fourths(16) * random.within(0, 8),
        }
    };
    let knots = knots.map(knot).collect();
    log.with_defects(knots)
}

/// Makes a line one that is paid by grade: what its pieces are worth is what they are worth at the best.
fn grade(random: &mut Random, served: &mut [Want], first: i64) {
    let least = [None, Some(Grade::Fas), Some(Grade::No1Common), Some(Grade::No2ACommon)];
    let least = least[usize::try_from(random.within(0, 3)).unwrap_or(0)];
    let dearest = random.within(500_000, 3_000_000);
    let share = |hundredths: i64| Some(dearest * hundredths / 100);
    let prices = [share(100), None, share(95), share(60), share(35), None, share(20)];
    let prices = Prices::new(prices, dearest / 10);
    let beyond = random.within(0, 100);
    for want in served {
        want.grading = Some(Grading { least, prices });
        for cut in &mut want.cuts {
            let worth = i128::from(cut.board_feet) * i128::from(dearest) / 1_000_000;
            let worth = i64::try_from(worth).unwrap_or(0);
            let extra = if want.count.is_some() { worth * beyond / 100 } else { worth };
            (cut.worth, cut.extra) = (worth + first, extra);
        }
    }
}

/// A line of the list as each wood serves it, and what holds whatever the wood. Thicker green sizes for some
/// woods; some woods are not accepted.
fn line_of(
    random: &mut Random,
    logs: &[PileLog],
    (woods, after): (usize, i64),
) -> (Vec<Want>, Demand) {
    // Sizes that one of the logs can hold, for most of the list.
    let model = random.within(0, i64::try_from(logs.len()).unwrap_or(1) - 1);
    let mut plain = random::want(random, &logs[usize::try_from(model).unwrap_or(0)].log);
    if let Some(count) = plain.count.as_mut() {
        let many = u32::try_from(logs.len()).unwrap_or(1);
        *count = (*count * many * u32::try_from(random.within(1, 4)).unwrap_or(1) / 6).max(1);
    }
    let worth = plain.cuts.iter().map(|cut| cut.worth).max().unwrap_or(0);
    let first = if plain.count.is_some() && !random.one_in(3) { worth * (2 + after) } else { 0 };
    let accepted_by_all = random.one_in(2);
    let only = random.within(0, i64::try_from(woods).unwrap_or(1) - 1);
    let menus = (0..woods)
        .map(|wood| {
            let accepts = accepted_by_all || usize::try_from(only) == Ok(wood) || random.one_in(2);
            let green = Length::sixty_fourths(2) * i64::try_from(wood).unwrap_or(0);
            let cut = |cut: &Cut| Cut {
                thickness: cut.thickness + green,
                width: cut.width + green,
                worth: cut.worth + first,
                ..*cut
            };
            let cuts = if accepts { plain.cuts.iter().map(cut).collect() } else { Vec::new() };
            Want { cuts, ..plain.clone() }
        })
        .collect();
    (menus, Demand { count: plain.count, first, blocking: random.one_in(8) })
}
