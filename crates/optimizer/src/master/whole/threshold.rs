//! Improving a plan by many small exchanges, some of which lose at first.
//!
//! # Problem
//! Single exchanges end where every one of them loses, and a program in whole numbers costs more than a plan that is
//! wanted only for its figures may.
//!
//! # Method
//! One log after the other is drawn and given another of the patterns that lack little to its best; an exchange stands
//! where it loses less than a threshold, which falls evenly to nothing. The best plan on the way is kept. What is drawn
//! is the same in every run.
//!
//! # Cost
//! One look at what a single exchange changes for every step.
//!
//! # Source
//! Dueck and Scheuer, "Threshold accepting: a general purpose optimization algorithm appearing superior to simulated
//! annealing", Journal of Computational Physics 90(1), 1990. Random numbers: `SplitMix64`, Steele, Lea and Flood, "Fast
//! splittable pseudorandom number generators", OOPSLA 2014.

use super::{Pool, Whole};
use std::sync::Arc;

/// The first threshold, as a share of what a log of the pile is worth on average, thousandths.
const FIRST_THRESHOLD: i128 = 200;

/// Patterns of a log that are drawn from, those that lack least to its best. Half as many find less in small piles.
const MOST_DRAWN: usize = 32;

impl Whole {
    /// Exchanges patterns in so many steps, and keeps the best plan on the way.
    pub(in crate::master) fn accept_by_threshold<M: Clone + Send + Sync>(
        &mut self,
        pool: &Pool<M>,
        steps: u32,
    ) {
        let ranked = Arc::clone(&self.ranked);
        let classes: Vec<usize> = (0..self.logs.len())
            .filter(|class| self.logs[*class] == 1 && ranked[*class].len() > 1)
            .collect();
        if classes.is_empty() || steps == 0 {
            return;
        }
        let worth: i128 = self.most.iter().map(|most| i128::from((*most).max(0))).sum();
        let first = worth / i128::try_from(classes.len()).unwrap_or(1) * FIRST_THRESHOLD / 1000;
        let mut random = Draw(0);
        let mut value = self.value();
        let (mut best, mut kept) = (value, self.uses.clone());
        for step in 0..steps {
            let threshold = first * i128::from(steps - step) / i128::from(steps);
            let class = classes[random.below(classes.len())];
            let drawn = &ranked[class][..ranked[class].len().min(MOST_DRAWN)];
            // The nearer to the best the more often.
            let at = random.below(drawn.len()).min(random.below(drawn.len()));
            let Some(&[(from, _)]) = self.uses.get(class).map(Vec::as_slice) else { continue };
            let to = drawn[at].1;
            if to == from {
                continue;
            }
            let change = self.change(pool, from, to);
            if change < -threshold || (change == 0 && threshold == 0) {
                continue;
            }
            self.apply(pool, class, from, to, 1);
            value += change;
            if value > best {
                best = value;
                kept.clone_from(&self.uses);
            }
        }
        if self.value() < best {
            let kept = Self { uses: kept, ..self.clone() };
            *self = self.with_uses(pool, &kept);
        }
    }
}

/// Random numbers.
struct Draw(u64);

impl Draw {
    /// From 0 to less than `n`, which is small.
    fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        let product = u128::from(z) * n as u128;
        usize::try_from(product >> 64).unwrap_or(0)
    }
}
