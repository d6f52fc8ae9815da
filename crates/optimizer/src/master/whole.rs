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
use rayon::prelude::*;
use std::cmp::Reverse;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Patterns of the program whose amounts need not be whole, at most.
const MOST_COLUMNS: usize = 1_500;
/// Classes that choose together at most.
const MOST_OPEN: usize = 100;
/// Classes that choose with them for every want that is short, at most.
const MOST_GIVING: usize = 20;
/// Patterns that a class then chooses among, the closest to its best.
const MOST_CHOICES: usize = 16;
/// Nodes of one search in whole numbers.
const NODES: u64 = 3_000;
/// Searches in whole numbers of one improvement at most.
const MOST_PROGRAMS: u32 = 6;
/// Patterns of a class that are tried for a single exchange, the closest to its best.
const MOST_TRIED: usize = 48;
/// Single exchanges end when a round of them closes less than one part in so many of the gap.
const WORTH_LOOKING: i128 = 2_000;
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
            ranked: Arc::default(),
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

    /// Exchanges patterns until no single exchange gains, then asks the program in whole numbers, until that gains
    /// nothing either. How many programs were solved.
    pub(super) fn improve<M: Clone + Send + Sync>(&mut self, pool: &Pool<M>) -> u32 {
        self.reckon(pool);
        self.rank(pool);
        self.singles(pool);
        self.dive(pool);
        let mut programs = 2;
        while programs < MOST_PROGRAMS {
            programs += 1;
            let undecided = self.undecided(pool, self.gap());
            if !self.together(pool, &undecided) {
                break;
            }
            self.singles(pool);
        }
        programs
    }

    /// Begins anew with what the program says when amounts need not be whole, lets the logs that it leaves open choose one
    /// after the other, and then together; keeps what is better.
    fn dive<M: Clone + Send + Sync>(&mut self, pool: &Pool<M>) {
        let Some((mut other, mut open)) = self.rounded_down(pool) else { return };
        other.singles(pool);
        // Those that have a part of a log, and those that are least decided beside them.
        for (class, chosen) in other.undecided(pool, other.gap()) {
            if !open.iter().any(|(known, _)| *known == class) {
                open.push((class, chosen));
            }
        }
        open.sort_unstable();
        other.together(pool, &open);
        if other.value() > self.value() {
            *self = other;
        }
    }

    /// The amounts of the program that need not be whole, rounded down, the other logs left whole; and the classes that
    /// have a part of a log, with their patterns. `None` when nothing can be gained.
    #[allow(clippy::type_complexity, reason = "a plan and a list of classes with their patterns")]
    fn rounded_down<M: Clone + Send + Sync>(
        &self,
        pool: &Pool<M>,
    ) -> Option<(Self, Vec<(usize, Vec<u32>)>)> {
        let closest = self.closest(self.gap());
        let (losses, patterns) = self.losses(pool, &closest)?;
        let amounts = program::amounts(&losses)?;
        let mut whole = self.clone();
        let mut open: Vec<(usize, Vec<u32>)> = Vec::new();
        for (class, chosen) in closest {
            for (pattern, logs) in self.uses[class].clone() {
                whole.remove(pool, class, pattern, logs);
            }
            let mut left = self.logs[class];
            let mut any = false;
            let own = patterns.iter().zip(&amounts).filter(|((known, _), _)| *known == class);
            for ((_, pattern), amount) in own {
                let (down, parted) = parts(*amount);
                let logs = left.min(down);
                whole.add(pool, class, *pattern, logs);
                left -= logs;
                any |= parted;
            }
            whole.add(pool, class, WHOLE, left);
            if any {
                open.push((class, chosen));
            }
        }
        whole.reckon(pool);
        Some((whole, open))
    }

    /// The program over some classes and their patterns, the others as they are; and the class and pattern of every
    /// column. `None` when nothing can be gained.
    fn losses<'p, M: Clone + Send + Sync>(
        &'p self,
        pool: &'p Pool<M>,
        open: &[(usize, Vec<u32>)],
    ) -> Option<(Losses<'p>, Vec<(usize, u32)>)> {
        let lost = i64::try_from(self.gap()).ok().filter(|lost| *lost > 0)?;
        let mut given = self.given.clone();
        let mut columns: Vec<Column> = Vec::new();
        let mut patterns: Vec<(usize, u32)> = Vec::new();
        for (n, (class, chosen)) in open.iter().enumerate() {
            for (pattern, logs) in &self.uses[*class] {
                for (gain, pieces) in &pool.entries[*pattern as usize].gains {
                    given[*gain] -= i64::from(*pieces) * i64::from(*logs);
                }
            }
            let own = self.uses[*class].iter().map(|(pattern, _)| *pattern);
            let own = own.filter(|pattern| !chosen.contains(pattern));
            for pattern in chosen.iter().copied().chain(own) {
                let uses = self.uses[*class].iter().find(|(known, _)| *known == pattern);
                let gains = pool.entries[pattern as usize].gains.clone();
                let lost = self.reduced(pool, *class, pattern);
                columns.push(Column { class: n, lost, gains, start: uses.map_or(0, |(_, n)| *n) });
                patterns.push((*class, pattern));
            }
        }
        let logs = open.iter().map(|(class, _)| self.logs[*class]).collect();
        let (gains, counts) = (&pool.gains[..], self.lines.clone());
        Some((Losses { columns, logs, gains, given, counts, prices: &self.prices, lost }, patterns))
    }

    /// Lets some classes choose anew among these patterns, all together; whether that gained.
    fn together<M: Clone + Send + Sync>(
        &mut self,
        pool: &Pool<M>,
        open: &[(usize, Vec<u32>)],
    ) -> bool {
        let Some((losses, patterns)) = self.losses(pool, open) else { return false };
        let Some(amounts) = program::whole_amounts(&losses, NODES) else { return false };
        let before = self.clone();
        for (class, _) in open {
            for (pattern, logs) in self.uses[*class].clone() {
                self.remove(pool, *class, pattern, logs);
            }
        }
        for ((class, pattern), logs) in patterns.into_iter().zip(amounts) {
            self.add(pool, class, pattern, logs);
        }
        self.reckon(pool);
        let whole = |(class, _): &(usize, Vec<u32>)| {
            self.uses[*class].iter().map(|(_, logs)| *logs).sum::<u32>() == self.logs[*class]
        };
        if self.value() <= before.value() || !open.iter().all(whole) {
            *self = before;
            return false;
        }
        true
    }

    /// The patterns that lack least to the best of their class, over all classes, for those classes that have another
    /// one than they are sawn by among them.
    fn closest(&self, gap: i128) -> Vec<(usize, Vec<u32>)> {
        let all = self.ranked.iter().enumerate().filter(|(class, _)| self.logs[*class] > 0);
        let mut nearest: Vec<(i64, usize, u32)> = all
            .flat_map(|(class, ranked)| {
                open(ranked, gap).iter().map(move |(reduced, pattern)| (*reduced, class, *pattern))
            })
            .collect();
        if nearest.len() > MOST_COLUMNS {
            nearest.select_nth_unstable(MOST_COLUMNS);
            nearest.truncate(MOST_COLUMNS);
        }
        nearest.sort_unstable_by_key(|(reduced, class, pattern)| (*class, *reduced, *pattern));
        let mut undecided: Vec<(usize, Vec<u32>)> = Vec::new();
        for (_, class, pattern) in nearest {
            match undecided.last_mut().filter(|(last, _)| *last == class) {
                Some((_, patterns)) => patterns.push(pattern),
                None => undecided.push((class, vec![pattern])),
            }
        }
        let other = |class: usize, patterns: &[u32]| {
            let uses = |p: &u32| self.uses[class].iter().any(|(known, _)| known == p);
            self.uses[class].len() > 1 || !patterns.iter().all(uses)
        };
        undecided.retain(|(class, patterns)| other(*class, patterns));
        undecided
    }

    /// The classes that are least decided: those whose nearest other pattern would lose least more, and for every want
    /// that is short those that would lose least by giving more of it.
    fn undecided<M: Clone + Send + Sync>(
        &self,
        pool: &Pool<M>,
        gap: i128,
    ) -> Vec<(usize, Vec<u32>)> {
        let ranked = Arc::clone(&self.ranked);
        let short = self.short(pool);
        let mut nearest: Vec<(i64, usize)> = Vec::new();
        let mut giving: Vec<Vec<(i64, usize)>> = vec![Vec::new(); short.len()];
        for class in (0..self.logs.len()).filter(|class| self.logs[*class] > 0) {
            let open = open(&ranked[class], gap);
            let own = self.uses[class].iter().map(|(p, _)| self.reduced(pool, class, *p));
            let now = own.max().unwrap_or(0);
            let uses = |pattern: u32| self.uses[class].iter().any(|(known, _)| *known == pattern);
            let other = open.iter().find(|(_, pattern)| !uses(*pattern));
            nearest.extend(other.map(|(reduced, _)| (reduced - now, class)));
            for (want, giving) in short.iter().zip(&mut giving) {
                let more = self.giving_more(pool, class, *want, open);
                giving.extend(more.map(|(reduced, _)| (reduced - now, class)));
            }
        }
        let mut classes: Vec<usize> = Vec::new();
        for (mut list, most) in giving
            .into_iter()
            .map(|list| (list, MOST_GIVING))
            .chain(std::iter::once((nearest, MOST_OPEN)))
        {
            list.sort_unstable();
            classes.extend(list.into_iter().take(most).map(|(_, class)| class));
        }
        classes.sort_unstable();
        classes.dedup();
        let choices = |class: usize| {
            let open = open(&ranked[class], gap);
            let mut chosen: Vec<u32> =
                open.iter().map(|(_, pattern)| *pattern).take(MOST_CHOICES).collect();
            let more = short.iter().filter_map(|want| self.giving_more(pool, class, *want, open));
            for (_, pattern) in more {
                if !chosen.contains(&pattern) {
                    chosen.push(pattern);
                }
            }
            (class, chosen)
        };
        classes.into_iter().map(choices).collect()
    }

    /// The wants of which more within the count would gain.
    fn short<M>(&self, pool: &Pool<M>) -> Vec<usize> {
        let given = self.given_of_wants(pool);
        let mut short: Vec<usize> = (0..self.counts.len()).collect();
        short.retain(|want| given[*want] < self.counts[*want]);
        short
    }

    /// The pattern of a class that lacks least and gives more of a want than any that it is sawn by.
    fn giving_more<M>(
        &self,
        pool: &Pool<M>,
        class: usize,
        want: usize,
        open: &[(i64, u32)],
    ) -> Option<(i64, u32)> {
        let pieces = |pattern: u32| -> u32 {
            let gains = pool.entries[pattern as usize].gains.iter();
            gains.filter(|(gain, _)| pool.gains[*gain].want == want).map(|(_, n)| n).sum()
        };
        let now = self.uses[class].iter().map(|(pattern, _)| pieces(*pattern)).max().unwrap_or(0);
        open.iter().copied().find(|(_, pattern)| pieces(*pattern) > now)
    }

    /// Single exchanges, each log taking what is best for it now, until what they gain is not worth the looking.
    fn singles<M: Clone + Send + Sync>(&mut self, pool: &Pool<M>) {
        let ranked = Arc::clone(&self.ranked);
        for _ in 0..SWEEPS {
            let (gap, mut gained) = (self.gap(), 0);
            for class in 0..self.logs.len() {
                if self.logs[class] == 0 {
                    continue;
                }
                let open = open(&ranked[class], gap);
                let open = &open[..open.len().min(MOST_TRIED)];
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
                    let Some((more, from, to)) = best else { break };
                    self.apply(pool, class, from, to, 1);
                    gained += more;
                }
            }
            if gained == 0 || gained < gap / WORTH_LOOKING {
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
        let given = self.given_of_wants(pool);
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
            let own = gains_of(pool, *pattern, lines.len());
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

    /// Logs to be searched within what all others leave wanted, one for every class and pattern it uses, and how many
    /// pieces of every want are left for it. Every other round those that lack most to the best of their class come
    /// first; between them another part of all of them.
    pub(super) fn left_within<M: Clone + Send + Sync>(
        &self,
        pool: &Pool<M>,
        lines: &[Line],
        round: u32,
        most: usize,
    ) -> Vec<(usize, Vec<u32>)> {
        let given = self.given_of_wants(pool);
        let mut logs: Vec<(i64, usize, u32)> = Vec::new();
        for (class, uses) in self.uses.iter().enumerate() {
            logs.extend(uses.iter().map(|(p, _)| (self.reduced(pool, class, *p), class, *p)));
        }
        if logs.len() > most {
            let step = logs.len().div_ceil(most);
            if round.is_multiple_of(2) {
                logs.sort_by_key(|(reduced, class, pattern)| (Reverse(*reduced), *class, *pattern));
                logs.truncate(most);
            } else {
                let first = (round / 2) as usize % step;
                logs = logs.into_iter().skip(first).step_by(step).collect();
            }
        }
        let left = |(_, class, pattern): (i64, usize, u32)| {
            let own = gains_of(pool, pattern, lines.len());
            let left = |want: usize| {
                let left = lines[want].count.map_or(0, i64::from) - given[want] + own[want];
                u32::try_from(left.max(0)).unwrap_or(u32::MAX)
            };
            (class, (0..lines.len()).map(left).collect())
        };
        logs.into_iter().map(left).collect()
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

/// The whole number at or below an amount, and whether that leaves a part of it.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "amounts lie between 0 and the logs of a class; `as` saturates"
)]
fn parts(amount: f64) -> (u32, bool) {
    // A hair under a whole number is that number.
    let down = (amount + 1e-6).max(0.0).floor();
    (down as u32, amount - down > 1e-6)
}

/// The same of one pattern.
fn gains_of<M>(pool: &Pool<M>, pattern: u32, wants: usize) -> Vec<i64> {
    let mut own = vec![0i64; wants];
    for (gain, pieces) in &pool.entries[pattern as usize].gains {
        own[pool.gains[*gain].want] += i64::from(*pieces);
    }
    own
}
