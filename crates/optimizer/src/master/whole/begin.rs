//! The plan to begin with.
//!
//! # Problem
//! At the best prices many logs have several patterns that are worth the same, and each taking its first would give far
//! too much of one want and too little of another; repaired log by log, that costs more than it need.
//!
//! # Method
//! The logs choose one after the other, and the prices lean against what was given so far: when a want is ahead of its
//! share of the count its price is a little higher than the program's, when it is behind a little lower. The logs come in
//! an order that mixes thick and thin, so that every want has its share of all of them. Ties then fall where they are
//! needed, and little else changes. In a small pile every log counts by itself, and the plain choice is taken.
//!
//! # Source
//! Prices that follow the error while the demand is served: Agrawal and Devanur, "Fast algorithms for online stochastic
//! convex programming", SODA 2015.

use super::{Pool, Whole};

/// In piles of fewer logs each takes its best pattern by the program's prices.
const MIXED_FROM: u64 = 300;

/// How much a price leans at most, as a share of what a piece gains by being within its count.
const LEAN: f64 = 0.1;

/// A want that is this share of its count ahead or behind leans by the most.
const SHARE: f64 = 0.01;

impl Whole {
    /// Gives every log a pattern by the prices of the program.
    pub(super) fn begin<M: Clone + Send + Sync>(&mut self, pool: &Pool<M>, start: &[i64]) {
        let total: u64 = self.logs.iter().map(|logs| u64::from(*logs)).sum();
        let classes = self.logs.len();
        if total < MIXED_FROM {
            for class in 0..classes {
                let (best, _) = pool.best(class, start);
                self.add(pool, class, best, self.logs[class]);
            }
            return;
        }
        // What a piece of every want gains at most by being within its count, its price paid.
        let gain = |want: usize| {
            let most = pool.of_want[want].first().map_or(0, |gain| pool.gains[*gain].worth);
            (most - start[want]).max(0) as f64
        };
        let leans: Vec<f64> = (0..start.len()).map(|want| LEAN * gain(want)).collect();
        let stride = stride(classes);
        let (mut prices, mut passed) = (start.to_vec(), 0u64);
        let mut given = vec![0i64; self.counts.len()];
        for n in 0..classes {
            let class = n * stride % classes;
            for _ in 0..self.logs[class] {
                let (best, _) = pool.best(class, &prices);
                self.add(pool, class, best, 1);
                passed += 1;
                for (gain, pieces) in &pool.entries[best as usize].gains {
                    given[pool.gains[*gain].want] += i64::from(*pieces);
                }
                let share = passed as f64 / total as f64;
                for (want, price) in prices.iter_mut().enumerate() {
                    let count = self.counts[want] as f64;
                    let ahead = given[want] as f64 - share * count;
                    let by = (ahead / (SHARE * count).max(4.0)).clamp(-1.0, 1.0) * leans[want];
                    #[allow(
                        clippy::cast_possible_truncation,
                        reason = "a fraction of what a piece gains"
                    )]
                    let leaning = start[want] + by as i64;
                    // Without a price there is nothing to lean against.
                    *price = if start[want] == 0 { 0 } else { leaning.max(0) };
                }
            }
        }
    }
}

/// A step that visits every class once and mixes them: near the golden section, with no divisor in common.
fn stride(classes: usize) -> usize {
    let divides = |a: usize, b: usize| {
        let (mut a, mut b) = (a, b);
        while b > 0 {
            (a, b) = (b, a % b);
        }
        a > 1
    };
    // 0.618 in whole numbers.
    let first = (classes * 618 / 1000).max(1);
    (first..).find(|step| !divides(*step, classes)).unwrap_or(1)
}

#[cfg(test)]
mod tests {
    use super::stride;

    #[test]
    fn every_class_comes_once() {
        for classes in 1..200 {
            let mut seen: Vec<usize> =
                (0..classes).map(|n| n * stride(classes) % classes).collect();
            seen.sort_unstable();
            assert_eq!(seen, (0..classes).collect::<Vec<_>>());
        }
    }
}
