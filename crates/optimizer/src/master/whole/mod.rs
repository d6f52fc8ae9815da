//! A whole plan: one pattern for every log.
//!
//! A piece is worth what it is within or beyond its count *now*: of the pieces of a want those that gain most by the
//! count come first. So a plan is kept by what it gives of every gain, and an exchange of patterns is reckoned from
//! what it changes.
//!
//! # What may be part of a better plan
//! The reduced cost of a pattern is what it lacks to the best of its class under the proven prices. The gap of a plan
//! is the sum of the reduced costs of its patterns and of what the counts lack, so a better plan uses no pattern whose
//! reduced cost is above the gap.
//!
//! | module | what it holds |
//! |---|---|
//! | `begin` | the plan to begin with |
//! | `exchange` | improving a plan by one log at a time |
//! | `threshold` | improving it by many exchanges, some of which lose at first |
//! | `together` | improving it by many logs together, by programs |
//! | `wanted` | what the other logs leave wanted of a log, to seek more patterns |

mod begin;
mod exchange;
mod threshold;
mod together;
mod wanted;

use super::pool::{Pool, WHOLE};
use super::{Line, UNIT};
use rayon::prelude::*;
use std::collections::BTreeSet;
use std::sync::Arc;

/// A gap of one part in so many is closed enough: a twentieth of a per cent. To seek what closes smaller ones takes as long
/// again as all the rest in a pile of bowed logs.
const GAP_PARTS: i128 = 2_000;

/// The same while a count is short: what its pieces weigh may be far more than all that is sawn is worth.
const GAP_PARTS_SHORT: i128 = 50_000;

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
    /// What all logs are worth together under the prices.
    scale: i128,
    /// Worth of the counts under the prices.
    priced_counts: i128,
    /// For every class its patterns by what they lack to the best.
    ranked: Arc<Vec<Vec<(i64, u32)>>>,
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
        let most = most.unwrap_or_default();
        let all = most.iter().zip(&logs);
        let scale = all.map(|(most, logs)| i128::from(*most) * i128::from(*logs)).sum();
        let mut whole = Self {
            uses: vec![Vec::new(); logs.len()],
            given: vec![0; pool.gains.len()],
            gained: vec![0; lines.len()],
            base: 0,
            counts,
            lines: lines.iter().map(|line| line.count).collect(),
            logs,
            most,
            scale,
            priced_counts: priced * i128::from(UNIT),
            ranked: Arc::default(),
            prices,
        };
        whole.begin(pool, start);
        whole.reckon(pool);
        whole
    }

    /// The same counts and prices with the patterns of another plan.
    pub(super) fn with_uses<M>(&self, pool: &Pool<M>, other: &Self) -> Self {
        let mut whole = self.clone();
        whole.uses.clone_from(&other.uses);
        (whole.base, whole.given) = (0, vec![0; pool.gains.len()]);
        for uses in &other.uses {
            for (pattern, logs) in uses {
                whole.count(pool, *pattern, i64::from(*logs));
            }
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

    /// The pattern of a class of one log.
    pub(super) fn only(&self, class: usize) -> Option<u32> {
        self.uses[class].first().map(|(pattern, _)| *pattern)
    }

    /// Gives a class of one log another pattern.
    pub(super) fn give<M>(&mut self, pool: &Pool<M>, class: usize, pattern: u32) {
        self.given.resize(pool.gains.len(), 0);
        if let Some(known) = self.only(class) {
            self.remove(pool, class, known, 1);
        }
        self.add(pool, class, pattern, 1);
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

    /// Whether what it lacks to the bound is not worth the looking.
    pub(super) fn is_near<M>(&self, pool: &Pool<M>) -> bool {
        let parts = if self.short(pool).is_empty() { GAP_PARTS } else { GAP_PARTS_SHORT };
        self.gap() <= self.scale / parts
    }

    /// What a pattern lacks to the best of its class under the prices.
    fn reduced<M: Clone + Send + Sync>(&self, pool: &Pool<M>, class: usize, pattern: u32) -> i64 {
        let most = self.most.get(class).copied().unwrap_or(0).max(0);
        most - pool.value(pattern, &self.prices)
    }

    /// Ranks the patterns of every class by what each lacks to the best, the least first, no two that give the same.
    fn rank<M: Clone + Send + Sync>(&mut self, pool: &Pool<M>) {
        let rank = |class: usize| {
            let all = pool.of_class[class].iter();
            let mut ranked: Vec<(i64, u32)> =
                all.map(|pattern| (self.reduced(pool, class, *pattern), *pattern)).collect();
            ranked.sort_unstable();
            // Of those that give the same pieces within counts the one that lacks least stands for all.
            let mut known: BTreeSet<&[(usize, u32)]> = BTreeSet::new();
            ranked.retain(|(_, pattern)| known.insert(&pool.entries[*pattern as usize].gains));
            ranked
        };
        let classes = (0..self.logs.len()).into_par_iter().with_min_len(64);
        self.ranked = Arc::new(classes.map(rank).collect());
    }

    /// Pieces of every want that gain by being within its count.
    fn given_of_wants<M>(&self, pool: &Pool<M>) -> Vec<i64> {
        let mut given = vec![0i64; self.counts.len()];
        for (gain, pieces) in self.given.iter().enumerate() {
            given[pool.gains[gain].want] += pieces;
        }
        given
    }
}

/// Of ranked patterns those that may be part of a better plan.
fn open(ranked: &[(i64, u32)], gap: i128) -> &[(i64, u32)] {
    &ranked[..ranked.partition_point(|(reduced, _)| i128::from(*reduced) <= gap)]
}
