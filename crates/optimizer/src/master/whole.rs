//! A whole plan: one pattern for every log, improved by exchanges.
//!
//! # Method
//! Every class begins with the best pattern under the prices of the dual program. Then patterns are exchanged, one log at a time: a
//! piece is worth what it is within or beyond its count *now*, so an exchange sees at once what it fills and what it
//! overfills. When no single exchange gains, the classes that are least decided choose anew all together, by a program
//! in whole numbers ([`crate::program::whole_amounts`]).
//!
//! # What is looked at
//! The reduced cost of a pattern is what it lacks to the best of its class under the prices. The gap of a plan is the
//! sum of the reduced costs of its patterns and of what the counts lack, so a better plan uses no pattern whose reduced
//! cost is above the gap.
//!
//! # Cost
//! One round of single exchanges costs patterns times wants; the program in whole numbers stops by its nodes.

use super::pool::{Pool, WHOLE};
use super::{Line, UNIT};
use crate::program::{self, Column, Losses};

/// Classes that choose together at most.
const MOST_OPEN: usize = 100;
/// Patterns that a class then chooses among, the closest to its best.
const MOST_CHOICES: usize = 16;
/// Nodes of one search in whole numbers.
const NODES: u64 = 3_000;
/// Searches in whole numbers of one improvement at most.
const MOST_PROGRAMS: u32 = 4;
/// Rounds of single exchanges at most.
const SWEEPS: usize = 200;

/// A plan that gives every log a pattern.
#[derive(Clone, Debug)]
pub(super) struct Whole {
    /// For every class its patterns and for how many logs each is used.
    uses: Vec<Vec<(u32, u32)>>,
    /// Pieces of every gain.
    given: Vec<i64>,
    /// For every want, what its pieces gain by the count, [`UNIT`]ths.
    gained: Vec<i128>,
    base: i128,
    counts: Vec<i64>,
    lines: Vec<Option<u32>>,
    logs: Vec<u32>,
    prices: Vec<i64>,
    /// For every class what a pattern is worth at most under the prices; empty while nothing is proven.
    most: Vec<i64>,
    /// Worth of the counts under the prices.
    priced_counts: i128,
}

impl Whole {
    pub(super) fn new<M: Clone + Send + Sync>(
        pool: &Pool<M>,
        lines: &[Line],
        logs: Vec<u32>,
        (prices, most): (Vec<i64>, Option<Vec<i64>>),
        start: &[i64],
    ) -> Self {
        let counts: Vec<i64> = lines.iter().map(|line| line.count.map_or(0, i64::from)).collect();
        let priced = prices.iter().zip(&counts);
        let priced: i128 = priced.map(|(p, c)| i128::from(*p) * i128::from(*c)).sum();
        let mut whole = Self {
            uses: vec![Vec::new(); logs.len()],
            given: vec![0; pool.gains.len()],
            gained: vec![0; lines.len()],
            base: 0,
            counts,
            lines: lines.iter().map(|line| line.count).collect(),
            logs,
            most: most.unwrap_or_default(),
            priced_counts: priced * i128::from(UNIT),
            prices,
        };
        for class in 0..whole.logs.len() {
            let (best, _) = pool.best(class, start);
            let logs = whole.logs[class];
            whole.add(pool, class, best, logs);
        }
        whole.reckon(pool);
        whole
    }

    pub(super) fn value(&self) -> i128 {
        self.base + self.gained.iter().sum::<i128>()
    }

    /// For every class its patterns, and for how many logs each is used; those left whole are not named.
    pub(super) fn uses(&self) -> Vec<Vec<(usize, u32)>> {
        let sawn = |uses: &Vec<(u32, u32)>| {
            let sawn = uses.iter().filter(|(pattern, _)| *pattern != WHOLE);
            sawn.map(|(pattern, logs)| (*pattern as usize, *logs)).collect()
        };
        self.uses.iter().map(sawn).collect()
    }

    /// Whether the pool still has every pattern that is used.
    pub(super) fn stands<M>(&self, pool: &Pool<M>) -> bool {
        let known = |(class, uses): (usize, &Vec<(u32, u32)>)| {
            uses.iter().all(|(pattern, _)| pool.of_class[class].contains(pattern))
        };
        self.uses.iter().enumerate().all(known)
    }

    fn add<M>(&mut self, pool: &Pool<M>, class: usize, pattern: u32, logs: u32) {
        if logs == 0 {
            return;
        }
        match self.uses[class].iter_mut().find(|(known, _)| *known == pattern) {
            Some((_, n)) => *n += logs,
            None => self.uses[class].push((pattern, logs)),
        }
        self.count(pool, pattern, i64::from(logs));
    }

    fn remove<M>(&mut self, pool: &Pool<M>, class: usize, pattern: u32, logs: u32) {
        let uses = &mut self.uses[class];
        if let Some(at) = uses.iter().position(|(known, _)| *known == pattern) {
            uses[at].1 -= logs;
            if uses[at].1 == 0 {
                uses.remove(at);
            }
        }
        self.count(pool, pattern, -i64::from(logs));
    }

    fn count<M>(&mut self, pool: &Pool<M>, pattern: u32, logs: i64) {
        let entry = &pool.entries[pattern as usize];
        self.base += i128::from(entry.base) * i128::from(logs);
        for (gain, pieces) in &entry.gains {
            self.given[*gain] += i64::from(*pieces) * logs;
        }
    }

    /// Reckons anew what every want gains.
    fn reckon<M>(&mut self, pool: &Pool<M>) {
        self.given.resize(pool.gains.len(), 0);
        for want in 0..self.gained.len() {
            self.gained[want] = self.gain_of(pool, want);
        }
    }

    /// What the pieces of a want gain by the count: those that gain most come first.
    fn gain_of<M>(&self, pool: &Pool<M>, want: usize) -> i128 {
        let mut left = self.counts[want];
        let mut gained = 0;
        for gain in &pool.of_want[want] {
            let within = self.given[*gain].min(left);
            gained += i128::from(pool.gains[*gain].worth) * i128::from(within);
            left -= within;
        }
        gained * i128::from(UNIT)
    }

    /// What the wants that two patterns touch would gain if one log changed between them, and what that changes in all.
    fn change<M>(&mut self, pool: &Pool<M>, from: u32, to: u32) -> i128 {
        let (old, new) = (&pool.entries[from as usize], &pool.entries[to as usize]);
        for (gain, pieces) in &old.gains {
            self.given[*gain] -= i64::from(*pieces);
        }
        for (gain, pieces) in &new.gains {
            self.given[*gain] += i64::from(*pieces);
        }
        let mut changed = i128::from(new.base) - i128::from(old.base);
        let mut last = usize::MAX;
        let touched = |list: &[(usize, u32)], want: usize| {
            list.iter().any(|(gain, _)| pool.gains[*gain].want == want)
        };
        for (gain, _) in &old.gains {
            let want = pool.gains[*gain].want;
            if want != last {
                changed += self.gain_of(pool, want) - self.gained[want];
                last = want;
            }
        }
        last = usize::MAX;
        for (gain, _) in &new.gains {
            let want = pool.gains[*gain].want;
            if want != last && !touched(&old.gains, want) {
                changed += self.gain_of(pool, want) - self.gained[want];
                last = want;
            }
        }
        for (gain, pieces) in &new.gains {
            self.given[*gain] -= i64::from(*pieces);
        }
        for (gain, pieces) in &old.gains {
            self.given[*gain] += i64::from(*pieces);
        }
        changed
    }

    fn apply<M>(&mut self, pool: &Pool<M>, class: usize, from: u32, to: u32, logs: u32) {
        self.remove(pool, class, from, logs);
        self.add(pool, class, to, logs);
        for pattern in [from, to] {
            for (gain, _) in &pool.entries[pattern as usize].gains {
                let want = pool.gains[*gain].want;
                self.gained[want] = self.gain_of(pool, want);
            }
        }
    }

    /// What the plan lacks to the bound; a very great deal while nothing is proven.
    fn gap(&self) -> i128 {
        if self.most.is_empty() {
            return i128::MAX;
        }
        let logs = self.most.iter().zip(&self.logs);
        let logs: i128 =
            logs.map(|(most, logs)| i128::from((*most).max(0)) * i128::from(*logs)).sum();
        logs + self.priced_counts - self.value()
    }

    /// What a pattern lacks to the best of its class under the prices.
    fn reduced<M: Clone + Send + Sync>(&self, pool: &Pool<M>, class: usize, pattern: u32) -> i64 {
        let most = self.most.get(class).copied().unwrap_or(0).max(0);
        most - pool.value(pattern, &self.prices)
    }

    /// The patterns of a class that may be part of a better plan, and what each lacks to the best, the least first.
    fn open<M: Clone + Send + Sync>(
        &self,
        pool: &Pool<M>,
        class: usize,
        gap: i128,
    ) -> Vec<(i64, u32)> {
        let all = pool.of_class[class].iter();
        let mut open: Vec<(i64, u32)> = all
            .map(|pattern| (self.reduced(pool, class, *pattern), *pattern))
            .filter(|(reduced, _)| i128::from(*reduced) <= gap)
            .collect();
        open.sort_unstable();
        open
    }

    /// Exchanges patterns until no single exchange gains, then asks the program in whole numbers, until that gains
    /// nothing either. How many programs were solved.
    pub(super) fn improve<M: Clone + Send + Sync>(&mut self, pool: &Pool<M>) -> u32 {
        self.reckon(pool);
        self.singles(pool);
        let mut programs = 0;
        while programs < MOST_PROGRAMS {
            programs += 1;
            if !self.together(pool) {
                break;
            }
            self.singles(pool);
        }
        programs
    }

    /// Chooses anew for the classes that have most to choose from, all together; whether that gained.
    fn together<M: Clone + Send + Sync>(&mut self, pool: &Pool<M>) -> bool {
        let gap = self.gap();
        let Ok(lost) = i64::try_from(gap) else { return false };
        if lost <= 0 {
            return false;
        }
        // Classes by what their nearest other pattern would lose more: the least decided first.
        let mut undecided: Vec<(i64, usize)> = Vec::new();
        for class in 0..self.logs.len() {
            if self.logs[class] == 0 {
                continue;
            }
            let open = self.open(pool, class, gap);
            let now = self.uses[class]
                .iter()
                .map(|(p, _)| self.reduced(pool, class, *p))
                .max()
                .unwrap_or(0);
            let uses = |pattern: u32| self.uses[class].iter().any(|(known, _)| *known == pattern);
            if let Some((reduced, _)) = open.iter().find(|(_, pattern)| !uses(*pattern)) {
                undecided.push((reduced - now, class));
            }
        }
        undecided.sort_unstable();
        undecided.truncate(MOST_OPEN);
        let mut classes: Vec<usize> = undecided.into_iter().map(|(_, class)| class).collect();
        classes.sort_unstable();
        let mut given = self.given.clone();
        let mut columns: Vec<Column> = Vec::new();
        let mut patterns: Vec<(usize, u32)> = Vec::new();
        for (n, class) in classes.iter().enumerate() {
            let uses = |pattern: u32| {
                self.uses[*class].iter().find(|(known, _)| *known == pattern).map_or(0, |(_, n)| *n)
            };
            for (pattern, logs) in &self.uses[*class] {
                for (gain, pieces) in &pool.entries[*pattern as usize].gains {
                    given[*gain] -= i64::from(*pieces) * i64::from(*logs);
                }
            }
            let open = self.open(pool, *class, gap);
            let chosen = open.iter().map(|(_, pattern)| *pattern).take(MOST_CHOICES);
            let mut chosen: Vec<u32> = chosen.collect();
            for (pattern, _) in &self.uses[*class] {
                if !chosen.contains(pattern) {
                    chosen.push(*pattern);
                }
            }
            for pattern in chosen {
                let gains = pool.entries[pattern as usize].gains.clone();
                let lost = self.reduced(pool, *class, pattern);
                columns.push(Column { class: n, lost, gains, start: uses(pattern) });
                patterns.push((*class, pattern));
            }
        }
        let losses = Losses {
            columns,
            logs: classes.iter().map(|class| self.logs[*class]).collect(),
            gains: &pool.gains,
            given,
            counts: self.lines.clone(),
            prices: &self.prices,
            lost,
        };
        let Some(amounts) = program::whole_amounts(&losses, NODES) else { return false };
        let before = self.clone();
        for class in &classes {
            for (pattern, logs) in self.uses[*class].clone() {
                self.remove(pool, *class, pattern, logs);
            }
        }
        for ((class, pattern), logs) in patterns.into_iter().zip(amounts) {
            self.add(pool, class, pattern, logs);
        }
        self.reckon(pool);
        let whole = |class: &usize| {
            self.uses[*class].iter().map(|(_, logs)| *logs).sum::<u32>() == self.logs[*class]
        };
        if self.value() <= before.value() || !classes.iter().all(whole) {
            *self = before;
            return false;
        }
        true
    }

    /// Single exchanges, each log taking what is best for it now, until none gains.
    fn singles<M: Clone + Send + Sync>(&mut self, pool: &Pool<M>) {
        for _ in 0..SWEEPS {
            let gap = self.gap();
            let mut changed = false;
            for class in 0..self.logs.len() {
                if self.logs[class] == 0 {
                    continue;
                }
                let open = self.open(pool, class, gap);
                // A class of many logs alike may gain by many exchanges.
                for _ in 0..self.logs[class].min(400) {
                    let mut best: Option<(i128, u32, u32)> = None;
                    for (from, _) in self.uses[class].clone() {
                        for (_, to) in open.iter().filter(|(_, to)| *to != from) {
                            let gained = self.change(pool, from, *to);
                            if gained > best.map_or(0, |(known, ..)| known) {
                                best = Some((gained, from, *to));
                            }
                        }
                    }
                    let Some((_, from, to)) = best else { break };
                    self.apply(pool, class, from, to, 1);
                    changed = true;
                }
            }
            if !changed {
                break;
            }
        }
    }

    /// Classes to be priced for more patterns, each under prices that say what all other logs leave wanted: a want that
    /// is filled without the log has the price that makes its pieces extra ones, one of which much is missing none, and
    /// one that the log itself fills its proven price. Every other round the proven prices are mixed in.
    pub(super) fn left_wanted<M: Clone + Send + Sync>(
        &self,
        pool: &Pool<M>,
        lines: &[Line],
        round: u32,
        most: usize,
    ) -> Vec<(usize, Vec<i64>)> {
        let mut given = vec![0i64; lines.len()];
        for (gain, pieces) in self.given.iter().enumerate() {
            given[pool.gains[gain].want] += pieces;
        }
        let mut classes: Vec<usize> =
            (0..self.logs.len()).filter(|class| self.logs[*class] > 0).collect();
        if classes.len() > most {
            // Another part of the classes every round.
            let step = classes.len().div_ceil(most);
            let first = round as usize % step;
            classes = classes.into_iter().skip(first).step_by(step).collect();
        }
        let mut wanted = Vec::with_capacity(classes.len());
        for class in classes {
            let Some((pattern, _)) = self.uses[class].first() else { continue };
            let mut own = vec![0i64; lines.len()];
            for (gain, pieces) in &pool.entries[*pattern as usize].gains {
                own[pool.gains[*gain].want] += i64::from(*pieces);
            }
            let price = |want: usize| {
                let Some(count) = lines[want].count else { return 0 };
                let missing = i64::from(count) - (given[want] - own[want]);
                let (proven, most) = (self.prices[want], lines[want].most);
                let now = if missing <= 0 {
                    most
                } else if missing > own[want] {
                    0
                } else {
                    proven
                };
                match round % 4 {
                    0 => now,
                    1 => proven + (now - proven) / 4,
                    2 => proven + (now - proven) / 16,
                    _ => proven + (now - proven) / 2,
                }
            };
            wanted.push((class, (0..lines.len()).map(price).collect()));
        }
        wanted
    }
}
