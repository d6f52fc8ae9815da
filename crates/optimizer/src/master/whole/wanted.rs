//! What the other logs of a plan leave wanted of a log, so that more patterns can be sought for it.

use super::{Pool, Whole};
use crate::master::Line;
use std::cmp::Reverse;

impl Whole {
    /// Classes to be priced for more patterns, each under prices that say what all other logs leave wanted: a want that
    /// is filled without the log has the price that makes its pieces extra ones, one of which much is missing none, and
    /// one that the log itself fills its proven price. Every other round the proven prices are mixed in.
    pub(in crate::master) fn left_wanted<M: Clone + Send + Sync>(
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
    pub(in crate::master) fn left_within<M: Clone + Send + Sync>(
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
}

/// The same of one pattern.
fn gains_of<M>(pool: &Pool<M>, pattern: u32, wants: usize) -> Vec<i64> {
    let mut own = vec![0i64; wants];
    for (gain, pieces) in &pool.entries[pattern as usize].gains {
        own[pool.gains[*gain].want] += i64::from(*pieces);
    }
    own
}
