//! The program over patterns of a whole pile: prices by column generation, the proof, and a whole plan.
//!
//! # Problem
//! Logs stand in classes of `n_c` that are alike. A pattern `p` of a class gives pieces of some wants and costs some
//! work; a piece within the count `d_i` of its want is worth `v`, one beyond it `w <= v`. Choose at most one pattern for
//! every log:
//! ```text
//! max  sum_c sum_p (extras_p - work_p) x_cp + sum_i gains of the pieces within the count
//! s.t. sum_p x_cp <= n_c ;  pieces within the count of i <= d_i ;  x whole
//! ```
//! where a piece gains `v - w` by being within the count.
//!
//! # Prices and the bound
//! A price `u_i` from 0 to the most that a piece of want `i` gains makes its pieces worth `max(v - u_i, w)`. For any
//! prices
//! ```text
//! bound(u) = sum_c n_c * best_pattern_c(u) + sum_i d_i u_i
//! ```
//! is a proof, converged or not, because the best pattern under prices is exact, or is given with a bound of its own.
//! It is evaluated in whole numbers: prices are whole millionths, values thousandths of them.
//!
//! # Method
//! 1. **Prices** (`prices`): the dual program over the patterns known so far proposes prices, every class is priced
//!    exactly there, and what it finds is added, until bound and program meet. A very large pile finds its prices on a
//!    sample of classes first. Between exact searches the patterns known so far are priced again: a pattern found for
//!    one log suits every log that it fits.
//! 2. **A whole plan** (`whole`): every log begins with its best pattern under the prices, then logs change theirs one
//!    at a time while that gains, then those least decided choose anew all together, by a program in whole numbers. Only
//!    patterns whose reduced cost lies within the gap can be part of a better plan; the others are not looked at.
//! 3. **More patterns**: while a gap is left, single logs are priced under what the others leave wanted, and step 2 is
//!    repeated.
//!
//! All steps stop by counted work, never by the clock; a [`Watch`] may stop them at any time.
//!
//! # Source
//! Gilmore and Gomory, "A linear programming approach to the cutting-stock problem", Operations Research 9(6), 1961;
//! the bound for any prices and its use in whole numbers: Luebbecke and Desrosiers, "Selected topics in column
//! generation", Operations Research 53(6), 2005; smoothing of prices: Wentges, "Weighted Dantzig-Wolfe decomposition for
//! linear mixed-integer programming", International Transactions in Operational Research 4(2), 1997.

mod pool;
mod prices;
mod whole;

pub use pool::{Pattern, Pieces};

use crate::pile::{Stage, Watch};
use pool::Pool;
use rayon::prelude::*;
use std::sync::atomic::{AtomicU64, Ordering};

/// Thousandths of a millionth of worth: what values are counted in here, so that work can break ties.
pub const UNIT: i64 = crate::column::UNIT;

/// Whoever knows the logs: what the program asks of them.
pub trait Pricer: Sync {
    /// What the pricer knows a pattern by.
    type Mark: Clone + Send + Sync;

    /// How many classes of logs there are. Neighbours should be alike.
    fn classes(&self) -> usize;

    /// How many logs a class has.
    fn logs(&self, class: usize) -> u32;

    /// The best pattern of a class when a piece of want `i` is worth `max(v - prices[i], w)`, if its value is more than
    /// `least`, and a bound on what any pattern is worth under these prices.
    ///
    /// # Units
    /// Prices are millionths, values [`UNIT`]ths.
    fn best(&self, class: usize, prices: &[i64], least: i64) -> Priced<Self::Mark>;

    /// A pattern of a class that is worth much when only `left[i]` pieces of want `i` are within its count: more than
    /// that are extra ones. It need not be the best. `None` where the pricer knows none.
    fn best_within(&self, class: usize, left: &[u32]) -> Option<Within<Self::Mark>> {
        let _ = (class, left);
        None
    }

    /// Patterns of a class that may be worth more than what [`Pricer::best`] finds, under some prices. `None` where that is
    /// exact.
    fn offers(&self, class: usize, prices: &[i64]) -> Option<Offered<Self::Mark>> {
        let _ = (class, prices);
        None
    }

    /// Whether a class can be sawn by a pattern that was found for another one.
    fn suits(&self, mark: &Self::Mark, class: usize) -> bool;
}

/// What came of pricing one class.
#[derive(Clone, Debug)]
pub struct Priced<M> {
    /// The best pattern, if it is worth more than was asked for.
    pub pattern: Option<(Pattern, M)>,
    /// No pattern of the class is worth more under the prices, [`UNIT`]ths; at least what was asked for.
    pub bound: i64,
    /// States that the search made, a count of work.
    pub states: u64,
}

/// Patterns that are offered beside the best.
#[derive(Clone, Debug)]
pub struct Offered<M> {
    /// Each with what the pricer knows it by.
    pub patterns: Vec<(Pattern, M)>,
    /// States that the search made, a count of work.
    pub states: u64,
}

/// A pattern found within what is left wanted.
#[derive(Clone, Debug)]
pub struct Within<M> {
    /// The pattern.
    pub pattern: Pattern,
    /// What the pricer knows it by.
    pub mark: M,
    /// States that the search made, a count of work.
    pub states: u64,
}

/// One want, as the program sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Line {
    /// How many; `None` for as many as come.
    pub count: Option<u32>,
    /// The most that a piece of it gains by being within the count, millionths.
    pub most: i64,
    /// A price to begin with, millionths.
    pub start: i64,
}

/// The choice of a pattern for every log.
#[derive(Clone, Debug)]
pub struct Choice<M> {
    /// Every pattern that is known, each with what the pricer knows it by. The first is empty: a log left whole.
    pub patterns: Vec<(Pattern, Option<M>)>,
    /// For every class the patterns that it can be sawn by, as places in `patterns`.
    pub suitable: Vec<Vec<usize>>,
    /// For every class the patterns chosen, and for how many of its logs.
    pub uses: Vec<Vec<(usize, u32)>>,
    /// What the choice is worth, [`UNIT`]ths.
    pub value: i128,
    /// No choice is worth more, [`UNIT`]ths; `None` when the search was stopped before that was known.
    pub bound: Option<i128>,
    /// The prices that prove it, millionths.
    pub prices: Vec<i64>,
    /// Linear programs solved.
    pub programs: u32,
    /// Classes priced, each time counted.
    pub searches: u64,
    /// States that the searches made.
    pub states: u64,
    /// It was told to stop.
    pub stopped: bool,
}

/// Rounds of more patterns at most.
const MORE_ROUNDS: u32 = 16;
/// Rounds of more patterns in a row that gain nothing, at most.
const FRUITLESS: u32 = 4;
/// Classes that are searched for more patterns in one round, at most.
const MORE_CLASSES: usize = 120;

/// Logs that are searched within what is left wanted in one round, at most: such a search takes some ten times as long.
const MORE_WITHIN: usize = 48;

/// A class of one log that is sawn already: as it was chosen, or by what it turned out to give.
pub(crate) type Settled<M> = (usize, Option<(Pattern, M)>);

/// Chooses a pattern for every log. Patterns of [`Choice::uses`] that the caller finds wanting may be refused, see
/// [`Master::refuse`].
pub struct Master<'a, P: Pricer> {
    pricer: &'a P,
    lines: &'a [Line],
    meter: &'a Meter<'a>,
    pool: Pool<P::Mark>,
    /// The best prices so far, the bound they prove, and what every class is worth at most under them.
    proof: Option<prices::Proof>,
    /// The prices that the dual program gave last.
    dual: Option<Vec<i64>>,
    programs: u32,
    searches: u64,
    states: u64,
    chosen: Option<whole::Whole>,
}

impl<P: Pricer> std::fmt::Debug for Master<'_, P> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Master").field("classes", &self.pricer.classes()).finish_non_exhaustive()
    }
}

impl<'a, P: Pricer> Master<'a, P> {
    /// A program that knows no pattern yet but leaving logs whole.
    pub fn new(pricer: &'a P, lines: &'a [Line], meter: &'a Meter<'a>) -> Self {
        Self {
            pricer,
            lines,
            meter,
            pool: Pool::new(lines, pricer.classes()),
            proof: None,
            dual: None,
            programs: 0,
            searches: 0,
            states: 0,
            chosen: None,
        }
    }

    /// Finds prices and their proof, and chooses.
    pub fn solve(&mut self) {
        if self.pool.is_new() {
            self.take_offers(&self.prices());
        }
        self.find_prices();
        // Every class is sawn once, and a round or two of more patterns is usual.
        let classes = self.pricer.classes() as u64;
        self.meter.expect(classes + 3 * classes.min(MORE_CLASSES as u64));
        self.choose();
        self.meter.tell(Stage::Choosing, self.share_gap());
        self.find_more();
    }

    /// Adds what the pricer offers every class under some prices.
    fn take_offers(&mut self, prices: &[i64]) {
        let (pricer, meter) = (self.pricer, self.meter);
        let offer = |class: usize| {
            if meter.stopped() { None } else { pricer.offers(class, prices) }
        };
        let classes = (0..pricer.classes()).into_par_iter().with_max_len(2);
        let offered: Vec<_> = classes.map(offer).collect();
        for (class, offered) in offered.into_iter().enumerate() {
            let Some(Offered { patterns, states }) = offered else { continue };
            self.states += states;
            for (pattern, mark) in patterns {
                if self.pool.place(class, &pattern).is_none() {
                    self.pool.add(pricer, &[class], pattern, mark);
                }
            }
        }
    }

    /// Takes a pattern away from a class, and chooses again. The bound stays: it speaks of more than remains.
    pub fn refuse(&mut self, refused: &[(usize, usize)]) {
        for (class, pattern) in refused {
            self.pool.refuse(*class, *pattern);
        }
        self.choose();
    }

    /// Adds a pattern for one class, as the caller made it.
    pub fn offer(&mut self, class: usize, pattern: Pattern, mark: P::Mark) {
        self.pool.add(self.pricer, &[class], pattern, mark);
    }

    /// Adds a pattern that is known already, for these classes.
    pub(crate) fn know_for(&mut self, classes: &[usize], pattern: Pattern, mark: P::Mark) {
        self.pool.put(classes, pattern, mark);
    }

    /// Prices near known ones, every class exactly priced so many times.
    pub(crate) fn price_near(&mut self, near: &[i64], rounds: u32) {
        self.find_prices_near(near, rounds);
    }

    /// Chooses by exchanges alone, in so many steps that may lose at first: not as well as [`Master::solve`], in a
    /// fraction of its time.
    pub(crate) fn choose_in(&mut self, steps: u32) {
        let mut whole = self.begun();
        whole.improve_in(&self.pool, steps);
        self.chosen = Some(whole);
    }

    /// Seeks patterns for the logs that lack most to their best, within what all others leave wanted: so many logs.
    pub(crate) fn seek_within(&mut self, most: usize) {
        let Some(whole) = &self.chosen else { return };
        let wanted = whole.left_within(&self.pool, self.lines, 0, most);
        self.price_within(&wanted);
    }

    /// The pattern that was chosen for a class of one log; none where it is left whole.
    pub(crate) fn chosen(&self, class: usize) -> Option<(&Pattern, &P::Mark)> {
        self.pool.with_mark(self.chosen.as_ref()?.only(class)?)
    }

    /// Takes away from a class of one log what was chosen for it, and lets all choose again that may.
    pub(crate) fn choose_other(&mut self, class: usize, steps: u32) {
        let Some(mut whole) = self.chosen.take() else { return };
        if let Some(pattern) = whole.only(class) {
            self.pool.refuse(class, pattern as usize);
            whole.give(&self.pool, class, pool::WHOLE);
        }
        whole.improve_in(&self.pool, steps);
        self.chosen = Some(whole);
    }

    /// Some classes of one log are sawn as chosen, or turned out to give something else; the others choose again.
    pub(crate) fn settle(&mut self, sawn: Vec<Settled<P::Mark>>, steps: u32) {
        let Some(mut whole) = self.chosen.take() else { return };
        for (class, other) in sawn {
            let kept = whole.only(class).unwrap_or(pool::WHOLE);
            let kept = match other {
                None => kept,
                Some((pattern, mark)) => {
                    let own = u32::try_from(self.pool.entries.len()).unwrap_or(pool::WHOLE);
                    self.pool.put(&[class], pattern, mark);
                    whole.give(&self.pool, class, own);
                    own
                }
            };
            self.pool.of_class[class] = vec![kept];
        }
        whole.improve_in(&self.pool, steps);
        self.chosen = Some(whole);
    }

    /// What was chosen.
    pub fn choice(&self) -> Choice<P::Mark> {
        let whole = self.chosen.as_ref();
        Choice {
            patterns: self.pool.patterns(),
            suitable: self.pool.suitable(),
            uses: whole.map_or_else(|| vec![Vec::new(); self.pricer.classes()], whole::Whole::uses),
            value: whole.map_or(0, whole::Whole::value),
            bound: self.bound(),
            prices: self.prices(),
            programs: self.programs,
            searches: self.searches,
            states: self.states,
            stopped: self.meter.stopped(),
        }
    }

    /// What is proven, [`UNIT`]ths: no choice is worth more.
    pub fn bound(&self) -> Option<i128> {
        self.proof.as_ref().map(|proof| proof.bound)
    }

    /// The best prices so far.
    fn prices(&self) -> Vec<i64> {
        let start = || self.lines.iter().map(|line| line.start.clamp(0, line.most)).collect();
        self.proof.as_ref().map_or_else(start, |proof| proof.prices.clone())
    }

    /// Chooses a pattern for every log: beginning from the prices, and from what was chosen before.
    fn choose(&mut self) {
        let fresh = self.begun();
        let known = self.chosen.take().filter(|known| known.stands(&self.pool));
        let mut known = known.map(|known| fresh.with_uses(&self.pool, &known));
        let mut fresh = fresh;
        for whole in known.iter_mut().chain([&mut fresh]) {
            self.programs += whole.improve(&self.pool);
        }
        self.chosen = Some(match known {
            Some(known) if known.value() >= fresh.value() => known,
            _ => fresh,
        });
    }

    /// Every log with its best pattern under the prices of the dual program.
    fn begun(&self) -> whole::Whole {
        let logs: Vec<u32> = (0..self.pricer.classes()).map(|c| self.pricer.logs(c)).collect();
        let prices = self.prices();
        let most: Option<Vec<i64>> = self.proof.as_ref().map(|proof| proof.most.clone());
        let start = self.dual.clone().unwrap_or_else(|| prices.clone());
        whole::Whole::new(&self.pool, self.lines, logs, (prices, most), &start)
    }

    /// Pieces of every want that what was chosen gives, whether within a count or beyond it.
    pub fn pieces(&self) -> Vec<u32> {
        let mut pieces = vec![0u32; self.lines.len()];
        for (pattern, logs) in self.chosen.iter().flat_map(whole::Whole::uses).flatten() {
            for p in &self.pool.pattern(pattern).pieces {
                pieces[p.want] += p.pieces * logs;
            }
        }
        pieces
    }

    /// The same logs and patterns under other counts, from what was chosen for these; nothing is proven yet.
    #[must_use]
    pub fn under<'b>(self, lines: &'b [Line]) -> Master<'b, P>
    where
        'a: 'b,
    {
        let Self { pricer, meter, pool, programs, searches, states, chosen, .. } = self;
        Master {
            pricer,
            lines,
            meter,
            pool,
            proof: None,
            dual: None,
            programs,
            searches,
            states,
            chosen,
        }
    }

    /// What the plan lacks to the bound.
    fn gap(&self) -> Option<i128> {
        Some(self.proof.as_ref()?.bound - self.chosen.as_ref()?.value())
    }

    /// While a gap is left, seeks patterns for single logs under what all others leave wanted: by prices first, then
    /// within the counts that are left.
    fn find_more(&mut self) {
        let mut fruitless = 0;
        for round in 0..MORE_ROUNDS {
            if self.proof.is_none() || fruitless >= FRUITLESS || self.meter.stopped() {
                return;
            }
            let pool = &self.pool;
            let Some(mut whole) = self.chosen.take_if(|whole| !whole.is_near(pool)) else { return };
            let (before, known) = (whole.value(), self.pool.entries.len());
            if round.is_multiple_of(2) {
                let wanted = whole.left_wanted(&self.pool, self.lines, round / 2, MORE_CLASSES);
                self.price_each(&wanted);
            } else {
                let wanted = whole.left_within(&self.pool, self.lines, round / 2, MORE_WITHIN);
                self.price_within(&wanted);
            }
            if self.pool.entries.len() > known {
                self.programs += whole.improve(&self.pool);
            }
            fruitless = if whole.value() > before { 0 } else { fruitless + 1 };
            self.chosen = Some(whole);
            self.meter.tell(Stage::Choosing, self.share_gap());
        }
    }

    /// Adds patterns of single logs within what is left wanted.
    fn price_within(&mut self, wanted: &[(usize, Vec<u32>)]) {
        let (pricer, meter) = (self.pricer, self.meter);
        let found: Vec<Option<Within<P::Mark>>> = wanted
            .par_iter()
            .with_max_len(2)
            .map(|(class, left)| {
                meter.count();
                if meter.stopped() { None } else { pricer.best_within(*class, left) }
            })
            .collect();
        for ((class, _), found) in wanted.iter().zip(found) {
            let Some(Within { pattern, mark, states }) = found else { continue };
            self.searches += 1;
            self.states += states;
            if self.pool.place(*class, &pattern).is_none() {
                self.pool.add(self.pricer, &[*class], pattern, mark);
            }
        }
    }

    /// The gap as a share, as whoever waits is told.
    fn share_gap(&self) -> Option<f64> {
        let (gap, proof) = (self.gap()?, self.proof.as_ref()?);
        Some(gap as f64 / proof.scale.max(1) as f64)
    }
}

/// Counts work, tells whoever waits, and asks whether to stop.
#[allow(missing_debug_implementations, reason = "it holds whoever waits")]
pub struct Meter<'a> {
    watch: &'a dyn Watch,
    done: AtomicU64,
    /// Work that is expected in all.
    expected: AtomicU64,
    /// The most that was told, in millionths: it never falls.
    told: AtomicU64,
}

impl<'a> Meter<'a> {
    /// Nothing done yet.
    pub fn new(watch: &'a dyn Watch) -> Self {
        Self {
            watch,
            done: AtomicU64::new(0),
            expected: AtomicU64::new(1),
            told: AtomicU64::new(0),
        }
    }

    /// Says how much more work is expected.
    pub(crate) fn expect(&self, more: u64) {
        self.expected.store(self.done.load(Ordering::Relaxed) + more.max(1), Ordering::Relaxed);
    }

    /// One more piece of work is done.
    pub(crate) fn count(&self) -> u64 {
        self.done.fetch_add(1, Ordering::Relaxed) + 1
    }

    /// Tells whoever waits how far it is.
    pub(crate) fn tell(&self, stage: Stage, gap: Option<f64>) {
        let (done, expected) =
            (self.done.load(Ordering::Relaxed), self.expected.load(Ordering::Relaxed));
        let now = (done * 1_000_000 / expected.max(1)).min(1_000_000);
        let told = self.told.fetch_max(now, Ordering::Relaxed).max(now);
        let share = told as f64 / 1e6;
        self.watch.tell(crate::pile::Progress { stage, share, gap });
    }

    /// Whether to stop.
    pub fn stopped(&self) -> bool {
        self.watch.stopped()
    }
}
