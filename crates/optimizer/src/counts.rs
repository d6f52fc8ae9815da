//! One log with counts: the best single pattern when some wants ask for so many and no more.
//!
//! # Problem
//! A piece within the count of its want is worth `v`, one beyond it `w <= v`. The families of
//! [`crate::family`] price every piece alike; here the counts come in.
//!
//! # Method
//! 1. **Free.** Search as if nothing were counted. When no count is exceeded, that pattern is the best.
//! 2. **Prices.** A price `u_i` on each counted want makes its pieces worth `max(v - u_i, w)`. For any
//!    prices `u >= 0`
//!    ```text
//!    bound(u) = best_pattern(u) + sum_i d_i u_i
//!    ```
//!    is a proof: what a pattern is truly worth is at most what it is worth under the prices and the price of
//!    the pieces that the counts allow. The best prices come from the linear program over the patterns found
//!    so far ([`crate::program`]), each new search adding its patterns, until the two meet.
//! 3. **Exact.** Prices alone cannot always name one whole pattern. Then the counts of the wants that a
//!    pattern exceeds are carried through the recurrences ([`crate::allowance`]), the others keep their
//!    price, and wants are added until no count is exceeded: the pattern is then the best. The work grows
//!    with the product of the counts, so it stops at [`MOST_ALLOWANCES`].
//! 4. **Wander.** While a gap is left, more whole patterns are sought at prices about the best ones, moved
//!    against what the last pattern gave too much or too little of. What gap remains is told.
//!
//! Steps 3 and 4 stop by the states made ([`Ask::most_states`]), never by the clock.
//!
//! All bounds are evaluated in whole numbers; no proof rests on a solver's floating point.
//!
//! # Source
//! Step 2 is the Lagrangian dual by columns: Gilmore and Gomory 1961; Luebbecke and Desrosiers, "Selected
//! topics in column generation", Operations Research 53(6), 2005. Step 3 is the relaxation of the state
//! space that grows only where it is violated: Righini and Salani, "New dynamic programming algorithms for
//! the resource constrained elementary shortest path problem", Networks 51(3), 2008.

use crate::allowance::Allowances;
use crate::column::{Prices, UNIT, Work};
use crate::family::{Found, Method, Search};
use crate::program::{self, Counted, Row};
use crate::site::Site;
use crate::want::{CutId, Want, WantId};

/// Allowances are carried exactly up to this many; each search costs some ten times their number in plain
/// searches at worst. Moving it trades time for gaps closed.
const MOST_ALLOWANCES: usize = 40;

/// Searches under prices at most; a dozen are usual.
const MOST_ROUNDS: u32 = 40;

/// Searches that wander about the best prices for more patterns, at most.
const MOST_WANDERINGS: u32 = 60;

/// What is asked besides the wants.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Ask {
    /// What the work of sawing costs.
    pub(crate) work: Work,
    /// No further search begins once so many states were made, or [`Ask::times_free`] times those of the free search
    /// where that is more. Moving either trades time for gaps closed.
    pub(crate) most_states: u64,
    /// See [`Ask::most_states`].
    pub(crate) times_free: u64,
}

impl Ask {
    /// For one log alone: about a second of work.
    pub(crate) const ALONE: Self =
        Self { work: Work::TIES, most_states: 5_000_000, times_free: 16 };
}

/// What is known of a search at full worth, nothing counted, before it begins.
#[derive(Clone, Debug)]
pub(crate) enum Known {
    Nothing,
    /// The best patterns of all methods, and the states that finding them made.
    Found(Vec<Found>, u64),
}

/// A pattern with what it is truly worth.
#[derive(Clone, Debug)]
pub(crate) struct Valued {
    pub(crate) found: Found,
    /// Under the counts, millionths.
    pub(crate) worth: i64,
    /// What its work costs, [`UNIT`]ths.
    pub(crate) effort: i64,
}

impl Valued {
    /// Worth less the work, [`UNIT`]ths.
    pub(crate) fn net(&self) -> i64 {
        self.worth * UNIT - self.effort
    }
}

/// The best patterns under the counts.
#[derive(Clone, Debug, Default)]
pub(crate) struct Best {
    /// The best of each method, in the order of [`Method::ALL`].
    pub(crate) patterns: Vec<Valued>,
    /// No pattern of these methods is worth more, its work taken off, millionths.
    pub(crate) bound: i64,
    /// Linear programs solved.
    pub(crate) programs: u32,
    /// States made by the searches.
    pub(crate) states: u64,
}

/// The best patterns of these methods. `None` when the linear program fails.
pub(crate) fn best(site: &Site<'_>, wants: &[Want], methods: &[Method], ask: Ask) -> Option<Best> {
    best_knowing(site, wants, methods, ask, Known::Nothing)
}

/// The same where something is known of the first search.
pub(crate) fn best_knowing(
    site: &Site<'_>,
    wants: &[Want],
    methods: &[Method],
    ask: Ask,
    known: Known,
) -> Option<Best> {
    let best = Best { bound: i64::MAX, ..Best::default() };
    let mut run = Run { site, wants, methods, work: ask.work, most_states: ask.most_states, best };
    let prices = Prices::of(vec![0; wants.len()], ask.work);
    let (free, states) = match known {
        Known::Nothing => {
            let free = run.search(&prices);
            (free, run.best.states)
        }
        Known::Found(free, states) => {
            run.learn(&prices, &free, 0);
            (free, states)
        }
    };
    run.most_states = run.most_states.max(ask.times_free * states);
    let exceeded = |found: &[Found]| found.iter().any(|f| !over(wants, f).is_empty());
    if exceeded(&free) {
        let prices = run.by_prices(&free)?;
        run.exactly(&prices);
        run.wander(&prices);
    }
    Some(run.best)
}

struct Run<'a> {
    site: &'a Site<'a>,
    wants: &'a [Want],
    methods: &'a [Method],
    work: Work,
    most_states: u64,
    best: Best,
}

impl Run<'_> {
    /// Searches under some prices, keeps what is better and lowers the bound.
    fn search(&mut self, prices: &Prices) -> Vec<Found> {
        let mut search = Search::new(self.site, self.wants, prices);
        let found = search.best(self.methods);
        self.best.states += search.states();
        self.learn(prices, &found, 0);
        found
    }

    /// The same with counts carried exactly, guided by the search under prices alone.
    fn search_counted(&mut self, priced: &Prices, counted: &Prices) -> Vec<Found> {
        let mut guide = Search::new(self.site, self.wants, priced);
        let mut search = Search::new(self.site, self.wants, counted);
        // What the guide's prices allow for the wants that are counted exactly here.
        let allowed = (self.allowed(priced) - self.allowed(counted)) * UNIT;
        let left = self.most_states.saturating_sub(self.best.states);
        let (found, unsearched) = search.best_guided(&mut guide, allowed, self.methods, left);
        self.best.states += search.states() + guide.states();
        self.learn(counted, &found, unsearched);
        found
    }

    /// The price of the pieces that the counts allow.
    fn allowed(&self, prices: &Prices) -> i64 {
        let count = |want: &Want| i64::from(want.count.unwrap_or(0));
        prices.discount.iter().zip(self.wants).map(|(discount, want)| discount * count(want)).sum()
    }

    /// Keeps what is better, and lowers the bound.
    fn learn(&mut self, prices: &Prices, found: &[Found], unsearched: i64) {
        let most = found.iter().map(|f| f.value).max().unwrap_or(0).max(unsearched);
        self.best.bound = self.best.bound.min(whole(most) + self.allowed(prices));
        for f in found {
            self.keep(f);
        }
    }

    fn keep(&mut self, found: &Found) {
        let worth = worth(self.wants, &found.cuts());
        let effort = found.effort(self.work);
        let valued = Valued { found: found.clone(), worth, effort };
        match self.best.patterns.iter_mut().find(|known| known.found.method == found.method) {
            Some(known) => {
                if valued.net() > known.net() {
                    *known = valued;
                }
            }
            None => self.best.patterns.push(valued),
        }
    }

    fn incumbent(&self) -> i64 {
        self.best.patterns.iter().map(|valued| whole(valued.net())).max().unwrap_or(0)
    }

    /// Finds the best prices by the linear program over patterns.
    fn by_prices(&mut self, free: &[Found]) -> Option<Vec<i64>> {
        let counted: Vec<(WantId, Counted)> = self
            .wants
            .iter()
            .enumerate()
            .filter_map(|(n, want)| {
                let most = want.cuts.iter().map(|cut| cut.worth - cut.extra).max().unwrap_or(0);
                want.count.map(|count| (WantId(n), Counted { count, most }))
            })
            .collect();
        let limits: Vec<Counted> = counted.iter().map(|(_, counted)| *counted).collect();
        let mut rows: Vec<Row> = Vec::new();
        let mut discount = vec![0; self.wants.len()];
        let mut found = free.to_vec();
        let mut best_prices = (i64::MAX, discount.clone());
        for _ in 0..MOST_ROUNDS {
            let known = rows.len();
            for f in &found {
                let row = row(self.wants, &counted, &discount, &f.cuts());
                if !rows.contains(&row) {
                    rows.push(row);
                }
            }
            let enough = self.best.states > self.most_states;
            if rows.len() == known || self.best.bound <= self.incumbent() || enough {
                break;
            }
            let prices = program::prices(&rows, &limits)?;
            self.best.programs += 1;
            for ((want, _), price) in counted.iter().zip(&prices) {
                discount[want.0] = *price;
            }
            let bound = self.best.bound;
            found = self.search(&Prices::of(discount.clone(), self.work));
            if self.best.bound < bound {
                best_prices = (self.best.bound, discount.clone());
            }
        }
        Some(best_prices.1)
    }

    /// Carries counts exactly, those that are exceeded first.
    fn exactly(&mut self, prices: &[i64]) {
        let mut counted: Vec<WantId> = Vec::new();
        while self.incumbent() < self.best.bound {
            let discount: Vec<i64> = prices
                .iter()
                .enumerate()
                .map(|(n, price)| if counted.contains(&WantId(n)) { 0 } else { *price })
                .collect();
            let allowances =
                Allowances::new(counted.iter().map(|want| self.count(*want)).collect());
            let found = if counted.is_empty() {
                self.search(&Prices::of(discount, self.work))
            } else {
                let priced = Prices::of(prices.to_vec(), self.work);
                self.search_counted(
                    &priced,
                    &Prices {
                        counted: counted.clone(),
                        allowances,
                        ..Prices::of(discount, self.work)
                    },
                )
            };
            let best = found.iter().max_by_key(|f| f.value);
            let over = best.map(|f| over(self.wants, f)).unwrap_or_default();
            // The want exceeded whose count adds least work; one with a price that still blurs it, else.
            let size = |counts: &[WantId]| {
                counts.iter().map(|w| self.count(*w) as usize + 1).product::<usize>()
            };
            let priced = (0..self.wants.len()).map(WantId).filter(|want| prices[want.0] > 0);
            let next = over
                .into_iter()
                .chain(priced)
                .filter(|want| !counted.contains(want))
                .min_by_key(|w| self.count(*w));
            let Some(next) = next else { break };
            counted.push(next);
            if size(&counted) > MOST_ALLOWANCES {
                break;
            }
        }
    }

    /// Looks for better whole patterns at prices about the best ones: the price of a want that the last pattern
    /// gives too much of rises, that of a want which is short falls, by ever smaller steps.
    fn wander(&mut self, best: &[i64]) {
        let most =
            |want: &Want| want.cuts.iter().map(|cut| cut.worth - cut.extra).max().unwrap_or(0);
        let mut discount = best.to_vec();
        for step in 1..=i64::from(MOST_WANDERINGS) {
            if self.incumbent() >= self.best.bound || self.best.states > self.most_states {
                break;
            }
            let prices = Prices::of(discount.clone(), self.work);
            let found = self.search(&prices);
            let Some(last) = found.iter().max_by_key(|f| f.value) else { break };
            let given = pieces(self.wants, &last.cuts());
            for (n, want) in self.wants.iter().enumerate() {
                if let Some(count) = want.count {
                    let over = i64::from(given[n]) - i64::from(count);
                    // A quarter of the worth at first, divided among the count.
                    let by = most(want) * over / (4 * i64::from(count.max(1)) * (1 + step / 4));
                    discount[n] = (discount[n] + by).clamp(0, most(want));
                }
            }
        }
    }

    fn count(&self, want: WantId) -> u32 {
        self.wants[want.0].count.unwrap_or(0)
    }
}

/// The worth that a value stands for: what breaks ties lies below one unit.
pub(crate) fn whole(value: i64) -> i64 {
    -(-value).div_euclid(UNIT)
}

/// Pieces per want.
fn pieces(wants: &[Want], cuts: &[CutId]) -> Vec<u32> {
    let mut pieces = vec![0; wants.len()];
    for cut in cuts {
        pieces[cut.want.0] += 1;
    }
    pieces
}

/// Wants of which a pattern gives more than the count, at a loss.
fn over(wants: &[Want], found: &Found) -> Vec<WantId> {
    let pieces = pieces(wants, &found.cuts());
    (0..wants.len())
        .filter(|n| {
            let less = wants[*n].cuts.iter().any(|cut| cut.extra < cut.worth);
            less && wants[*n].count.is_some_and(|count| pieces[*n] > count)
        })
        .map(WantId)
        .collect()
}

/// Which pieces are beyond their want's count: those that lose least by it.
pub(crate) fn beyond_count(wants: &[Want], cuts: &[CutId]) -> Vec<bool> {
    let mut extra = vec![false; cuts.len()];
    for (n, want) in wants.iter().enumerate() {
        let Some(count) = want.count else { continue };
        let mut own: Vec<usize> =
            (0..cuts.len()).filter(|place| cuts[*place].want.0 == n).collect();
        let gain = |place: &usize| {
            let cut = &want.cuts[cuts[*place].cut];
            cut.worth - cut.extra
        };
        own.sort_by_key(|place| (-gain(place), *place));
        for place in own.into_iter().skip(count as usize) {
            extra[place] = true;
        }
    }
    extra
}

/// What cuts are worth under the counts, millionths, at their best grade.
pub(crate) fn worth(wants: &[Want], cuts: &[CutId]) -> i64 {
    let extra = beyond_count(wants, cuts);
    let one = |(id, extra): (&CutId, &bool)| worth_of(wants, *id, *extra, 0);
    cuts.iter().zip(&extra).map(one).sum()
}

/// What one piece is worth, millionths, that is worth so much less than its size may be.
pub(crate) fn worth_of(wants: &[Want], id: CutId, extra: bool, loss: i64) -> i64 {
    let cut = &wants[id.want.0].cuts[id.cut];
    (if extra { cut.extra } else { cut.worth }.saturating_sub(loss)).max(0)
}

/// A pattern as a row of the program: each piece within the count when that pays under the prices.
fn row(wants: &[Want], counted: &[(WantId, Counted)], discount: &[i64], cuts: &[CutId]) -> Row {
    let mut row = Row { group: 0, worth: 0, given: vec![0; counted.len()] };
    for id in cuts {
        let cut = &wants[id.want.0].cuts[id.cut];
        match counted.iter().position(|(want, _)| *want == id.want) {
            Some(n) if cut.worth - discount[id.want.0] >= cut.extra => {
                row.given[n] += 1;
                row.worth += cut.worth;
            }
            Some(_) => row.worth += cut.extra,
            None => row.worth += cut.worth,
        }
    }
    row
}
