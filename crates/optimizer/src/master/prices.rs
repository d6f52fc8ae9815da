//! Prices of the wants: column generation over the dual program, and the proof.
//!
//! Every round prices all classes at one point. The dual program over the patterns known by then is solved again and
//! again, each time with the rows that the pool itself offers at the prices it gave, until the pool has nothing more to
//! say; only then is the exact search asked. Its next point lies between the best so far and the program's (in-out
//! smoothing), so that prices do not swing while few patterns are known.
//!
//! Rows stand for classes while these are few, and for groups of neighbouring classes else.

use super::pool::{Pattern, Pool};
use super::{Line, Master, Pricer, UNIT};
use crate::pile::Stage;
use crate::program::{self, Counted, Row};
use rayon::prelude::*;

/// Rounds of exact pricing at most; a dozen are usual.
const ROUNDS: u32 = 60;
/// Times that the dual program is solved between two of them, at most.
const PROGRAMS: u32 = 40;
/// Groups of rows at most.
const MOST_GROUPS: usize = 120;
/// From so many classes on prices are found on a sample first.
const SAMPLE_FROM: usize = 300;
/// Classes in the sample.
const SAMPLE: usize = 150;
/// Times that all classes of a sampled pile are priced, at most.
const FULL_PRICINGS: u32 = 10;
/// Prices are good enough when bound and program differ by one part in so many.
const CLOSE_PARTS: i128 = 50_000;
/// The same where all classes of a sampled pile are priced.
const FULL_PARTS: i128 = 5_000;

/// What is proven.
#[derive(Clone, Debug)]
pub(super) struct Proof {
    /// The prices that prove it, millionths.
    pub(super) prices: Vec<i64>,
    /// No choice is worth more, [`UNIT`]ths.
    pub(super) bound: i128,
    /// For every class what a pattern is worth at most under the prices, [`UNIT`]ths.
    pub(super) most: Vec<i64>,
    /// What the pile is worth about, to measure gaps by, [`UNIT`]ths.
    pub(super) scale: i128,
}

/// Classes with the number of logs that each stands for.
type Set = Vec<(usize, u32)>;

/// The dual program that is being built.
struct Dual {
    set: Set,
    /// For each of the set its group of rows.
    groups: Vec<usize>,
    rows: Vec<Row>,
    counted: Vec<Counted>,
    /// The wants of `counted`.
    wants: Vec<usize>,
}

impl Dual {
    fn new(set: Set, lines: &[Line]) -> Self {
        let len = set.len();
        let groups = (0..len).map(|n| if len <= MOST_GROUPS { n } else { n * MOST_GROUPS / len });
        let counted = lines.iter().enumerate();
        let counted = counted.filter_map(|(want, line)| Some((want, line.count?, line.most)));
        let (wants, counted) =
            counted.map(|(want, count, most)| (want, Counted { count, most })).unzip();
        Self { groups: groups.collect(), set, rows: Vec::new(), counted, wants }
    }

    /// Adds what the pool offers every group at some prices, where that is more than its rows say; whether any was.
    fn extend<M: Clone + Send + Sync>(&mut self, pool: &Pool<M>, prices: &[i64]) -> bool {
        let best = |(class, _): &(usize, u32)| pool.best(*class, prices).0;
        let chosen: Vec<u32> = if self.set.len() > 200 {
            self.set.par_iter().with_min_len(64).map(best).collect()
        } else {
            self.set.iter().map(best).collect()
        };
        let groups = self.groups.last().map_or(0, |last| last + 1);
        let row = |group| Row { group, worth: 0, given: vec![0; self.counted.len()] };
        let mut offers: Vec<Row> = (0..groups).map(row).collect();
        for (((_, logs), group), pattern) in self.set.iter().zip(&self.groups).zip(chosen) {
            let (entry, offer) = (&pool.entries[pattern as usize], &mut offers[*group]);
            offer.worth += entry.base.div_euclid(UNIT) * i64::from(*logs);
            for (gain, pieces) in &entry.gains {
                let gain = pool.gains[*gain];
                let Ok(place) = self.wants.binary_search(&gain.want) else { continue };
                if gain.worth > prices[gain.want] {
                    offer.worth += gain.worth * i64::from(*pieces) * i64::from(*logs);
                    offer.given[place] += pieces * logs;
                }
            }
        }
        let mut said = vec![0; groups];
        for row in &self.rows {
            said[row.group] = self.value(row, prices).max(said[row.group]);
        }
        let known = self.rows.len();
        for offer in offers {
            let (value, said) = (self.value(&offer, prices), said[offer.group]);
            if value > said + 1 + said / 10_000_000 {
                self.rows.push(offer);
            }
        }
        self.rows.len() > known
    }

    /// What a row is worth under prices, millionths.
    fn value(&self, row: &Row, prices: &[i64]) -> i64 {
        let paid = self.wants.iter().zip(&row.given);
        row.worth - paid.map(|(want, given)| prices[*want] * i64::from(*given)).sum::<i64>()
    }

    /// What the program is worth under prices as far as its rows tell, [`UNIT`]ths.
    fn bound(&self, prices: &[i64]) -> i128 {
        let mut said = vec![0i64; self.groups.last().map_or(0, |last| last + 1)];
        for row in &self.rows {
            said[row.group] = self.value(row, prices).max(said[row.group]);
        }
        let logs: i128 = said.into_iter().map(i128::from).sum();
        let counts = self.wants.iter().zip(&self.counted);
        let counts: i128 =
            counts.map(|(want, c)| i128::from(prices[*want]) * i128::from(c.count)).sum();
        (logs + counts) * i128::from(UNIT)
    }

    /// The best prices for the rows so far.
    fn prices(&self, wants: usize) -> Option<Vec<i64>> {
        let found = program::prices(&self.rows, &self.counted)?;
        let mut prices = vec![0; wants];
        for (want, price) in self.wants.iter().zip(found) {
            prices[*want] = price;
        }
        Some(prices)
    }
}

impl<P: Pricer> Master<'_, P> {
    /// Finds prices and what they prove.
    pub(super) fn find_prices(&mut self) {
        let classes = self.pricer.classes();
        let all: Set = (0..classes).map(|class| (class, self.pricer.logs(class))).collect();
        let Some(searches) = u64::try_from(classes).ok().filter(|n| *n > 0) else { return };
        if classes < SAMPLE_FROM {
            self.meter.expect(searches * 16);
            self.generate(all, true);
            return;
        }
        let sample = sample(&all);
        self.meter.expect(15 * SAMPLE as u64 + u64::from(FULL_PRICINGS) * searches + 2 * searches);
        let mut point = self.generate(sample, false);
        let mut dual = Dual::new(all, self.lines);
        for round in 0..FULL_PRICINGS {
            if self.prove(&dual.set, &point).is_none() {
                return;
            }
            let Some(prices) = self.solve_dual(&mut dual, &point) else { return };
            let Some(Proof { bound, scale, prices: centre, .. }) = &self.proof else { return };
            if (bound - dual.bound(&prices)) * FULL_PARTS <= *scale {
                return;
            }
            let out = if round % 2 == 0 { 2 } else { 1 };
            let between = |(centre, far): (&i64, &i64)| centre + (far - centre) / out;
            point = centre.iter().zip(&prices).map(between).collect();
        }
    }

    /// Prices near some that are known: by the patterns known so far and by those that so many rounds of exact pricing
    /// add. What is proven then is so only as far as the known patterns go.
    pub(super) fn find_prices_near(&mut self, near: &[i64], rounds: u32) -> Option<()> {
        let classes = self.pricer.classes();
        let all: Set = (0..classes).map(|class| (class, self.pricer.logs(class))).collect();
        let mut dual = Dual::new(all, self.lines);
        let mut point = near.to_vec();
        for round in 0..=rounds {
            point = self.solve_dual(&mut dual, &point)?;
            if round < rounds {
                self.price_all(&dual.set, &point)?;
            }
        }
        let most: Vec<i64> =
            dual.set.iter().map(|(class, _)| self.pool.best(*class, &point).1).collect();
        let logs = dual.set.iter().zip(&most);
        let logs: i128 = logs.map(|((_, logs), most)| i128::from(*logs) * i128::from(*most)).sum();
        let counts =
            self.lines.iter().zip(&point).filter_map(|(line, price)| Some((line.count?, price)));
        let counts: i128 =
            counts.map(|(count, price)| i128::from(count) * i128::from(*price)).sum();
        let scale = self.scale(&dual.set, &most);
        let bound = logs + counts * i128::from(UNIT);
        self.keep(Proof { prices: point, bound, most, scale });
        Some(())
    }

    /// Column generation over a set of classes; the best prices found. Where the set is `whole`, what they prove is
    /// kept.
    fn generate(&mut self, set: Set, whole: bool) -> Vec<i64> {
        let mut dual = Dual::new(set, self.lines);
        let mut point = self.prices();
        let mut best: Option<(i128, Vec<i64>)> = None;
        let mut scale = None;
        for _ in 0..ROUNDS {
            let known = self.pool.entries.len();
            let Some((bound, most)) = self.price_all(&dual.set, &point) else { break };
            let scale = *scale.get_or_insert_with(|| self.scale(&dual.set, &most));
            if best.as_ref().is_none_or(|(known, _)| bound < *known) {
                best = Some((bound, point.clone()));
                if whole {
                    self.keep(Proof { prices: point.clone(), bound, most, scale });
                }
            }
            let Some(prices) = self.solve_dual(&mut dual, &point) else { break };
            let Some((bound, centre)) = &best else { break };
            self.meter.tell(Stage::Prices, None);
            if (bound - dual.bound(&prices)) * CLOSE_PARTS <= scale {
                break;
            }
            // Half way out, unless the last point taught nothing.
            let taught = self.pool.entries.len() > known;
            let between = |(centre, out): (&i64, &i64)| {
                if taught { centre + (out - centre) / 2 } else { *out }
            };
            let next: Vec<i64> = centre.iter().zip(&prices).map(between).collect();
            if next == point {
                if point == prices {
                    break;
                }
                point = prices;
            } else {
                point = next;
            }
        }
        best.map_or(point, |(_, prices)| prices)
    }

    /// Prices every class at a point and keeps what that proves.
    fn prove(&mut self, set: &Set, point: &[i64]) -> Option<()> {
        let (bound, most) = self.price_all(set, point)?;
        let scale = self.scale(set, &most);
        self.keep(Proof { prices: point.to_vec(), bound, most, scale });
        self.meter.tell(Stage::Prices, None);
        Some(())
    }

    fn keep(&mut self, proof: Proof) {
        if self.proof.as_ref().is_none_or(|known| proof.bound < known.bound) {
            self.proof = Some(proof);
        }
    }

    /// What all logs are worth together under prices: what gaps are measured by.
    fn scale(&self, set: &Set, most: &[i64]) -> i128 {
        set.iter().zip(most).map(|((_, logs), most)| i128::from(*logs) * i128::from(*most)).sum()
    }

    /// Solves the dual program over the pool: the best prices that the patterns known so far allow.
    fn solve_dual(&mut self, dual: &mut Dual, point: &[i64]) -> Option<Vec<i64>> {
        dual.extend(&self.pool, point);
        let mut prices = None;
        for _ in 0..PROGRAMS {
            let Some(found) = dual.prices(self.lines.len()) else { break };
            self.programs += 1;
            let more = dual.extend(&self.pool, &found);
            prices = Some(found);
            if !more {
                break;
            }
        }
        if prices.is_some() {
            self.dual.clone_from(&prices);
        }
        prices
    }

    /// Prices classes exactly, adds what is found, and gives the bound that the prices prove and what each class is
    /// worth at most. `None` when it was told to stop.
    fn price_all(&mut self, set: &Set, prices: &[i64]) -> Option<(i128, Vec<i64>)> {
        let wanted: Vec<(usize, Vec<i64>)> =
            set.iter().map(|(class, _)| (*class, prices.to_vec())).collect();
        let most = self.price_each(&wanted)?;
        let logs = set.iter().zip(&most);
        let logs: i128 =
            logs.map(|((_, logs), most)| i128::from(*logs) * i128::from((*most).max(0))).sum();
        let counts =
            self.lines.iter().zip(prices).filter_map(|(line, price)| Some((line.count?, price)));
        let counts: i128 =
            counts.map(|(count, price)| i128::from(count) * i128::from(*price)).sum();
        Some((logs + counts * i128::from(UNIT), most))
    }

    /// Prices classes, each under prices of its own, and adds what is found; what each is worth at most there.
    pub(super) fn price_each(&mut self, wanted: &[(usize, Vec<i64>)]) -> Option<Vec<i64>> {
        let (pricer, pool, meter) = (self.pricer, &self.pool, self.meter);
        let priced: Option<Vec<_>> = wanted
            .par_iter()
            .with_max_len(8)
            .map(|(class, prices)| {
                if meter.stopped() {
                    return None;
                }
                let (_, known) = pool.best(*class, prices);
                let priced = pricer.best(*class, prices, known);
                if meter.count().is_multiple_of(64) {
                    meter.tell(Stage::Prices, None);
                }
                Some(priced)
            })
            .collect();
        let mut most = Vec::with_capacity(wanted.len());
        let mut added: Vec<(Pattern, usize)> = Vec::new();
        for ((class, _), priced) in wanted.iter().zip(priced?) {
            self.searches += 1;
            self.states += priced.states;
            most.push(priced.bound);
            let Some((pattern, mark)) = priced.pattern else { continue };
            // Logs that are nearly alike find the same: it is offered once where it suits.
            let known = added.iter().rev().take(100).any(|(known, entry)| {
                *known == pattern
                    && self.pool.of_class[*class].contains(&u32::try_from(*entry).unwrap_or(0))
            });
            if !known {
                added.push((pattern.clone(), self.pool.entries.len()));
                self.pool.add(self.pricer, &[*class], pattern, mark);
            }
        }
        Some(most)
    }
}

/// Classes spread evenly over the logs, with the logs that each stands for.
fn sample(all: &Set) -> Set {
    let total: u64 = all.iter().map(|(_, logs)| u64::from(*logs)).sum();
    let mut sample: Set = Vec::with_capacity(SAMPLE);
    let (mut place, mut passed) = (0, 0);
    for n in 0..SAMPLE as u64 {
        let (from, middle, to) = (
            n * total / SAMPLE as u64,
            (2 * n + 1) * total / (2 * SAMPLE as u64),
            (n + 1) * total / SAMPLE as u64,
        );
        while place + 1 < all.len() && passed + u64::from(all[place].1) <= middle {
            passed += u64::from(all[place].1);
            place += 1;
        }
        let logs = u32::try_from(to - from).unwrap_or(u32::MAX);
        match sample.last_mut() {
            Some((class, known)) if *class == all[place].0 => *known += logs,
            _ => sample.push((all[place].0, logs)),
        }
    }
    sample
}

#[cfg(test)]
mod tests {
    use super::{SAMPLE, sample};

    #[test]
    fn a_sample_stands_for_every_log() {
        let all: Vec<(usize, u32)> =
            (0..1000).map(|n| (n, 1 + u32::try_from(n % 3).unwrap())).collect();
        let sampled = sample(&all);
        assert!(sampled.len() <= SAMPLE);
        let logs = |set: &[(usize, u32)]| set.iter().map(|(_, logs)| *logs).sum::<u32>();
        assert_eq!(logs(&sampled), logs(&all));
        assert!(sampled.windows(2).all(|pair| pair[0].0 < pair[1].0));
    }
}
