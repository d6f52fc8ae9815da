//! A pile planned again and again, its logs each time a little other than they were measured.
//!
//! # Problem
//! What a pile gives goes up and down in steps with the shape of its logs, so how far it may be off is known only by
//! planning it anew for every shape that it may have: many hundred times, each in a small part of the time that a plan
//! takes which is to be sawn.
//!
//! # Method
//! 1. **Learning.** Some of the piles are priced exactly: prices near those of the pile as it was measured, by the
//!    patterns known so far, and every log searched once under them. What is found is known from then on, with what
//!    a log must have for it ([`super::classes`]), so it serves every other log that has that.
//! 2. **Planning.** Any other pile chooses among the patterns that are known: prices by the same program, then a choice by
//!    exchanges (`Master::choose_in`).
//! 3. **Hidden wood.** What is wrong inside a log is found when it is sawn. The pieces that lie there are lost, and the logs
//!    that come after it choose again.
//!
//! Every pattern that is chosen is sawn and replayed once, on the log that it was found in; one that the mill cannot
//! saw is passed over.
//!
//! # How near it comes
//! A choice like this never gives more than the logs hold, and a little less than [`plan_pile`](super::plan_pile) finds:
//! of an invented farm's forty logs, measured by tape, all counts that are asked for and about one per cent less worth
//! (`benches/examples/again.rs` prints it).
//!
//! # Cost
//! Half a millisecond for each log that is searched, a tenth of a second where boards are worth what they look like; for a
//! pile of forty logs about ten milliseconds to choose.

mod hidden;
mod known;

pub use hidden::Hidden;

use super::classes::{Class, Classes, Laid, Mark};
use super::{Pile, PileLog, check, lines};
use crate::master::{Line, Master, Meter, Priced, Pricer, Settled, Within};
use crate::plan::{LogPlan, PlanFault, Tally};
use crate::want::CutId;
use known::Known;
use pithward_geometry::Log;
use pithward_measure::Length;
use rayon::prelude::*;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

/// Exact searches of every log of the pile as it was measured, to begin with.
const FIRST_ROUNDS: u32 = 8;
/// Exact searches of every log of a pile that is learned from. A second one finds little more, but where logs are few.
const ROUNDS: u32 = 1;
/// Logs of each of them that are searched within what the others leave wanted: a count is filled by a log that gives just
/// what is missing, which no prices find.
const WITHIN: usize = 2;
/// Piles of no more logs than this are searched thoroughly, unless boards are worth what they look like: prices say little
/// of a choice among so few.
const FEW: usize = 12;
/// Exact searches of every log of such a pile; all of them are searched within what the others leave wanted too.
const ROUNDS_OF_FEW: u32 = 3;
/// Where boards are worth what they look like, a log that is not round is not searched anew if it is thicker and longer by
/// no more than this than a shape of it that was.
const HARDLY: Length = Length::sixty_fourths(24);
/// Piles that are learned from at the same time, each from what was known before: the same on any number of threads.
const TOGETHER: usize = 8;
/// Steps of the choice for every log; four times as many find little more.
const STEPS_EACH: u32 = 250;
/// The same where the logs after a surprise choose again.
const STEPS_AFTER: u32 = 50;

/// What of a sawn log is kept: of every pattern that is chosen, once.
pub type Keep<'a, T> = dyn Fn(&PileLog, &LogPlan) -> T + Sync + 'a;

/// A pile, and what is known of how its logs can be sawn.
pub struct Again<'a, T> {
    pile: &'a Pile,
    lines: Vec<Line>,
    /// How each log of the pile is laid.
    laid: Vec<Laid>,
    /// When each log is sawn among the others.
    turns: Vec<usize>,
    known: Known<T>,
    keep: &'a Keep<'a, T>,
    /// Prices of the pile as it was measured.
    near: Vec<i64>,
    searches: u64,
    /// For every log, see [`Pile::is_graded`].
    is_graded: Vec<bool>,
}

impl<T> std::fmt::Debug for Again<'_, T> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Again").field("searches", &self.searches).finish_non_exhaustive()
    }
}

/// A pile as it is planned again.
#[derive(Clone, Debug)]
pub struct AgainPlan<T> {
    /// For every log how it is sawn; `None` where it is left whole, or does not go on the mill.
    pub logs: Vec<Option<SawnAgain<T>>>,
    /// For every want, over the whole pile.
    pub tally: Vec<Tally>,
    /// What the pieces are worth, without what only puts the list first, millionths of the unit of worth.
    pub worth: i64,
    /// Millionths of a board foot, by named sizes.
    pub board_feet: i64,
    /// What the program weighs, with what puts the list first and less the work, millionths.
    pub value: i64,
}

/// A log as it is sawn again.
#[derive(Clone, Debug)]
pub struct SawnAgain<T> {
    /// What was kept of its pattern, as it was sawn from the log that it was found in.
    pub kept: Arc<T>,
    /// The cuts of its pieces, but for those that are lost.
    pub cuts: Vec<CutId>,
    /// Millionths of a board foot, by named sizes.
    pub board_feet: i64,
    /// Pieces that what was hidden takes away.
    pub lost: u32,
}

impl<'a, T: Send + Sync> Again<'a, T> {
    /// A pile, laid and priced as it was measured; `keep` says what of a sawn log is wanted.
    ///
    /// # Errors
    /// Settings that contradict the mill.
    pub fn new(pile: &'a Pile, keep: &'a Keep<'a, T>) -> Result<Self, PlanFault> {
        check(pile)?;
        let classes = Classes::new(pile);
        let lines = lines(pile);
        let near: Vec<i64> = lines.iter().map(|line| line.start.clamp(0, line.most)).collect();
        let mut known = Known::new(pile.menus.len());
        let offer = |class: usize| Some((class, classes.offers(class, &near)?.patterns));
        let offers: Vec<_> =
            (0..classes.all.len()).into_par_iter().with_max_len(2).filter_map(offer).collect();
        let mut laid = vec![Laid::LEVEL; pile.logs.len()];
        for (n, class) in classes.all.iter().enumerate() {
            for member in &class.members {
                laid[*member] = classes.how_laid(n);
            }
        }
        for (class, offered) in offers {
            for member in &classes.all[class].members {
                for (pattern, mark) in &offered {
                    let log = (*member, pile.logs[*member].clone());
                    known.learn(pattern.clone(), Arc::clone(mark), log);
                }
            }
        }
        let turns = (0..pile.logs.len()).collect();
        let (searches, is_graded) = (0, pile.is_graded());
        let mut again = Self { pile, lines, laid, turns, known, keep, near, searches, is_graded };
        let logs: Vec<Log> = pile.logs.iter().map(|of| of.log.clone()).collect();
        again.near = again.learn(&[&logs], FIRST_ROUNDS, Seek::All).pop().unwrap_or_default();
        Ok(again)
    }

    /// The order in which logs are sawn, by their places in the pile; logs that it leaves out come last. Without it they
    /// are sawn in the order of the pile.
    pub fn sawn_in(&mut self, order: &[usize]) {
        self.turns = vec![order.len(); self.pile.logs.len()];
        for (turn, log) in order.iter().enumerate() {
            if let Some(own) = self.turns.get_mut(*log) {
                *own = turn;
            }
        }
    }

    /// Learns from piles: each has the logs of the pile, in its order, as they may be instead.
    pub fn teach(&mut self, piles: &[&Vec<Log>]) {
        for piles in piles.chunks(TOGETHER) {
            self.learn(piles, self.rounds(), Seek::All);
        }
    }

    /// The same, of those logs alone of which nothing is known ([`Again::knows`]).
    pub fn teach_unknown(&mut self, piles: &[&Vec<Log>]) {
        for piles in piles.chunks(TOGETHER) {
            self.learn(piles, self.rounds(), Seek::Unknown);
        }
    }

    /// Logs searched so far, a count of work.
    pub fn searches(&self) -> u64 {
        self.searches
    }

    /// Patterns that are known.
    pub fn patterns(&self) -> usize {
        self.known.ways.len()
    }

    /// Whether something is known of a log: of one that is round, straight and clean patterns of others serve too; where
    /// boards are worth what they look like, those of a shape that is hardly thinner.
    pub fn knows(&self, place: usize, log: &Log) -> bool {
        let thinner = if self.is_graded[place] { HARDLY } else { Length::ZERO };
        log.is_round() || self.known.knows(self.pile.logs[place].menu, (place, log), thinner)
    }

    fn rounds(&self) -> u32 {
        if self.is_few() { ROUNDS_OF_FEW } else { ROUNDS }
    }

    fn is_few(&self) -> bool {
        self.pile.logs.len() <= FEW && !self.is_graded.contains(&true)
    }

    fn like(&self, logs: &[Log]) -> Pile {
        let logs = logs.iter().zip(&self.pile.logs);
        let logs = logs.map(|(log, of)| PileLog { log: log.clone(), menu: of.menu }).collect();
        Pile { logs, ..self.pile.clone() }
    }

    /// Steps for every log, over all of them.
    fn steps(&self, each: u32) -> u32 {
        each * u32::try_from(self.pile.logs.len()).unwrap_or(u32::MAX / each.max(1)).min(20_000)
    }

    /// Learns from piles, each from what was known before; the prices of each.
    fn learn(&mut self, piles: &[&Vec<Log>], rounds: u32, seek: Seek) -> Vec<Vec<i64>> {
        let found: Vec<_> = piles
            .par_iter()
            .with_max_len(1)
            .map(|logs| {
                let pile = self.like(logs);
                let classes = Classes::laid(&pile, &self.laid);
                let meter = Meter::new(&());
                let is_sought = |of: &Class<'_>| match seek {
                    Seek::All => true,
                    Seek::Unknown => !self.knows(of.members[0], &of.log.log),
                };
                let is_sought = classes.all.iter().map(is_sought).collect();
                let sought = Sought { classes: &classes, is_sought, searches: AtomicU64::new(0) };
                let mut master = Master::new(&sought, &self.lines, &meter);
                let ways = self.known.suitable_ways(&classes, self.keep);
                let told = ways.len();
                for (way, of) in ways {
                    let way = &self.known.ways[way];
                    let give = self.known.gives[way.give].clone();
                    master.know_for(&of, give, Arc::clone(&way.mark));
                }
                master.price_near(&self.near, rounds);
                master.choose_in(self.steps(STEPS_EACH));
                master.seek_within(if self.is_few() { pile.logs.len() } else { WITHIN });
                let choice = master.choice();
                let new = choice.patterns.into_iter().skip(1 + told);
                let new = new.filter_map(|(pattern, mark)| {
                    let mark = mark?;
                    let of = &classes.all[mark.class];
                    let log = (of.members[0], of.log.clone());
                    Some((pattern, mark, log))
                });
                let searches = sought.searches.load(Ordering::Relaxed);
                (new.collect::<Vec<_>>(), choice.prices, searches)
            })
            .collect();
        let mut prices = Vec::with_capacity(found.len());
        for (new, of, searches) in found {
            self.searches += searches;
            prices.push(of);
            for (pattern, mark, log) in new {
                self.known.learn(pattern, mark, log);
            }
        }
        prices
    }

    /// Plans a pile whose logs are these, among the patterns that are known, and in which this is hidden. What was sawn
    /// before the first of it comes to light stays as it was chosen.
    pub fn plan(&self, logs: &[Log], hidden: &[Hidden]) -> AgainPlan<T> {
        let pile = self.like(logs);
        let classes = Classes::laid(&pile, &self.laid);
        let meter = Meter::new(&());
        let fixed = Fixed(classes.all.len());
        let mut master = Master::new(&fixed, &self.lines, &meter);
        for (give, of) in self.known.suitable(&classes, self.keep) {
            master.know_for(&of, self.known.gives[give].clone(), give);
        }
        master.price_near(&self.near, 0);
        master.choose_in(self.steps(STEPS_EACH));
        self.pass_over(&classes, &mut master);
        let lost = self.find_hidden(&classes, &mut master, hidden, self.steps(STEPS_AFTER));
        self.assemble(&classes, &master, &lost)
    }

    /// Takes away what the mill cannot saw, until all that is chosen can be sawn.
    fn pass_over(&self, classes: &Classes<'_>, master: &mut Master<'_, Fixed>) {
        for class in 0..classes.all.len() {
            while let Some((_, give)) = master.chosen(class) {
                if self.known.sawn(classes, class, *give, self.keep).is_some() {
                    break;
                }
                master.choose_other(class, 0);
            }
        }
    }

    /// Finds what is hidden, log by log; for every class the pieces that are lost, by their place in its pattern.
    fn find_hidden(
        &self,
        classes: &Classes<'_>,
        master: &mut Master<'_, Fixed>,
        hidden: &[Hidden],
        steps: u32,
    ) -> Vec<Vec<usize>> {
        let mut lost: Vec<Vec<usize>> = vec![Vec::new(); classes.all.len()];
        let mut settled: Vec<Settled<usize>> = Vec::new();
        for (class, of) in classes.all.iter().enumerate() {
            let own: Vec<&Hidden> =
                hidden.iter().filter(|hidden| of.members.contains(&hidden.log)).collect();
            let Some((_, give)) = master.chosen(class).filter(|_| !own.is_empty()) else {
                continue;
            };
            let give = *give;
            let Some(sawn) = self.known.sawn(classes, class, give, self.keep) else { continue };
            lost[class] = sawn.lost(&own);
            let left = self.known.without(classes.wants(class), give, sawn, &lost[class]);
            settled.push((class, Some((left, give))));
        }
        let turn = |class: usize| self.turns[classes.all[class].members[0]];
        let surprises = (0..lost.len()).filter(|class| !lost[*class].is_empty());
        let Some(first) = surprises.map(turn).min() else { return lost };
        // What was sawn before the first of them stays as it is.
        for class in 0..classes.all.len() {
            if turn(class) < first && !settled.iter().any(|(known, _)| *known == class) {
                settled.push((class, None));
            }
        }
        master.settle(settled, steps);
        self.pass_over(classes, master);
        lost
    }

    fn assemble(
        &self,
        classes: &Classes<'_>,
        master: &Master<'_, Fixed>,
        lost: &[Vec<usize>],
    ) -> AgainPlan<T> {
        let pile = classes.pile;
        let mut logs: Vec<Option<SawnAgain<T>>> = Vec::new();
        logs.resize_with(pile.logs.len(), || None);
        // What each piece gains by being within its count, and what it is worth beyond it.
        let mut pieces: Vec<Vec<(i64, i64)>> = vec![Vec::new(); pile.demands.len()];
        let mut board_feet = 0;
        for (class, lost) in lost.iter().enumerate() {
            let Some((_, give)) = master.chosen(class) else { continue };
            let Some(sawn) = self.known.sawn(classes, class, *give, self.keep) else { continue };
            let wants = classes.wants(class);
            let left = sawn.products.iter().enumerate().filter(|(n, _)| !lost.contains(n));
            let mut cuts = Vec::with_capacity(sawn.products.len() - lost.len());
            let before = board_feet;
            for (_, product) in left {
                let (id, want) = (product.cut, product.cut.want.0);
                let (within, extra) = product.worths(wants);
                pieces[want].push((within - pile.demands[want].first - extra, extra));
                board_feet += wants[want].cuts[id.cut].board_feet;
                cuts.push(id);
            }
            let lost = u32::try_from(lost.len()).unwrap_or(u32::MAX);
            logs[classes.all[class].members[0]] = Some(SawnAgain {
                kept: Arc::clone(&sawn.kept),
                cuts,
                board_feet: board_feet - before,
                lost,
            });
        }
        let mut worth = 0;
        let tally = pieces.iter_mut().zip(&pile.demands).map(|(pieces, demand)| {
            pieces.sort_unstable_by_key(|(gain, _)| -gain);
            let count = demand.count.map_or(usize::MAX, |count| count as usize);
            let given = pieces.len().min(count);
            worth += pieces.iter().map(|(_, extra)| extra).sum::<i64>();
            worth += pieces[..given].iter().map(|(gain, _)| gain).sum::<i64>();
            let whole = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
            let extra = whole(pieces.len() - given);
            Tally { wanted: demand.count, given: whole(given), extra }
        });
        let tally = tally.collect();
        let value = master.choice().value.div_euclid(i128::from(crate::master::UNIT));
        let value = i64::try_from(value).unwrap_or(i64::MAX);
        AgainPlan { logs, tally, worth, board_feet, value }
    }
}

/// Which logs of a pile are searched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Seek {
    All,
    /// Those of which nothing is known.
    Unknown,
}

/// Logs some of which are searched; of the others what is known is enough.
struct Sought<'c, 'a> {
    classes: &'c Classes<'a>,
    is_sought: Vec<bool>,
    searches: AtomicU64,
}

impl Pricer for Sought<'_, '_> {
    type Mark = Arc<Mark>;

    fn classes(&self) -> usize {
        self.classes.classes()
    }

    fn logs(&self, class: usize) -> u32 {
        self.classes.logs(class)
    }

    fn best(&self, class: usize, prices: &[i64], least: i64) -> Priced<Arc<Mark>> {
        if !self.is_sought[class] {
            return Priced { pattern: None, bound: least, states: 0 };
        }
        self.searches.fetch_add(1, Ordering::Relaxed);
        self.classes.best(class, prices, least)
    }

    fn best_within(&self, class: usize, left: &[u32]) -> Option<Within<Arc<Mark>>> {
        if !self.is_sought[class] {
            return None;
        }
        self.searches.fetch_add(1, Ordering::Relaxed);
        self.classes.best_within(class, left)
    }

    fn suits(&self, mark: &Arc<Mark>, class: usize) -> bool {
        self.classes.suits(mark, class)
    }
}

/// Logs of which every pattern that matters is known: nothing is sought.
struct Fixed(usize);

impl Pricer for Fixed {
    type Mark = usize;

    fn classes(&self) -> usize {
        self.0
    }

    fn logs(&self, _: usize) -> u32 {
        1
    }

    fn best(&self, _: usize, _: &[i64], least: i64) -> Priced<usize> {
        Priced { pattern: None, bound: least, states: 0 }
    }

    fn suits(&self, _: &usize, _: usize) -> bool {
        false
    }
}
