//! Improving a plan by many logs together.
//!
//! # Method
//! Where amounts need not be whole, the program is a linear one, and only a few classes get a part of a log in it: as
//! many as there are counts. So a plan begins anew from its amounts rounded down, the logs that are left choose one
//! after the other, and then those that are least decided choose together by a program in whole numbers
//! ([`crate::program::whole_amounts`]), which stops by its nodes. The least decided classes of the plan at hand choose
//! together too.

use super::{Pool, WHOLE, Whole, open};
use crate::program::{self, Column, Losses};
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

impl Whole {
    /// Begins anew with what the program says when amounts need not be whole, lets the logs that it leaves open choose one
    /// after the other, and then together; keeps what is better.
    pub(super) fn dive<M: Clone + Send + Sync>(&mut self, pool: &Pool<M>) {
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
    pub(super) fn together<M: Clone + Send + Sync>(
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
    pub(super) fn undecided<M: Clone + Send + Sync>(
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
    pub(super) fn short<M>(&self, pool: &Pool<M>) -> Vec<usize> {
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
