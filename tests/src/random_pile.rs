//! Random piles of logs and a list, each made from one number, so that a pile that fails can be named.

use crate::random::{self, Random};
use pithward_geometry::{Log, Mill};
use pithward_measure::Length;
use pithward_optimizer::{Cut, Demand, Effort, Pile, PileLog, Settings, Want};

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
}

impl Scope {
    /// A few small logs: planned in a fraction of a second.
    pub const SMALL: Self =
        Self { logs: 9, wants: (2, 4), woods: 2, inches: 12, alike: 3, odd_mills: true };

    /// A few days: some dozens of logs and a long list.
    pub const DAY: Self =
        Self { logs: 60, wants: (8, 10), woods: 3, inches: 20, alike: 6, odd_mills: false };

    /// A morning: what is planned in a moment.
    pub const MORNING: Self =
        Self { logs: 24, wants: (4, 7), woods: 3, inches: 15, alike: 6, odd_mills: false };

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
            logs.push(PileLog { log: log(&mut random, self.inches), menu });
        }
        let lines = random.within(self.wants.0, self.wants.1);
        let mut menus = vec![Vec::new(); usize::try_from(woods).unwrap_or(1)];
        let mut demands = Vec::new();
        for line in 0..lines {
            let after = lines - line;
            let (served, demand) = line_of(&mut random, &logs, (menus.len(), after));
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
