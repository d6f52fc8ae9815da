//! Improving a plan by one log at a time.
//!
//! # Method
//! Every log takes what is best for it now, over and over, until that gains too little. Then the logs that the program
//! leaves open choose together ([`super::together`]), and so on in turn.
//!
//! # Cost
//! One round of single exchanges costs patterns times wants.

use super::{Pool, Whole, open};
use std::sync::Arc;

/// Searches in whole numbers of one improvement at most.
const MOST_PROGRAMS: u32 = 6;
/// Patterns of a class that are tried for a single exchange, the closest to its best.
const MOST_TRIED: usize = 48;
/// Single exchanges end when a round of them closes less than one part in so many of the gap.
const WORTH_LOOKING: i128 = 2_000;
/// Rounds of single exchanges at most.
const SWEEPS: usize = 200;

impl Whole {
    /// Exchanges patterns until no single exchange gains, then asks the program in whole numbers, until that gains
    /// nothing either or hardly anything is left to gain. How many programs were solved.
    pub(in crate::master) fn improve<M: Clone + Send + Sync>(&mut self, pool: &Pool<M>) -> u32 {
        self.reckon(pool);
        self.rank(pool);
        self.singles(pool);
        let mut programs = 0;
        if !self.is_near(pool) {
            self.dive(pool);
            programs = 2;
        }
        while programs < MOST_PROGRAMS && !self.is_near(pool) {
            programs += 1;
            let undecided = self.undecided(pool, self.gap());
            if !self.together(pool, &undecided) {
                break;
            }
            self.singles(pool);
        }
        programs
    }

    /// The same without any program: by so many exchanges that may lose at first.
    pub(in crate::master) fn improve_in<M: Clone + Send + Sync>(
        &mut self,
        pool: &Pool<M>,
        steps: u32,
    ) {
        self.reckon(pool);
        self.rank(pool);
        self.singles(pool);
        self.accept_by_threshold(pool, steps);
        self.singles(pool);
    }

    /// Single exchanges, each log taking what is best for it now, until what they gain is not worth the looking.
    pub(super) fn singles<M: Clone + Send + Sync>(&mut self, pool: &Pool<M>) {
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
}
