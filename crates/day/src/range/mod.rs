//! How far a forecast may be off: the pile simulated many hundred times, and what may be promised.
//!
//! # Problem
//! Logs are thicker or thinner, longer or shorter than a tape or an owner says; rot and metal hide in them; no day goes at
//! its pace. What a pile gives changes in steps with the shape of its logs, and less of one want is made up from other
//! logs, so errors cannot simply be added up.
//!
//! # Method
//! A pile is drawn as it may be instead of as it was measured ([`Doubt`](pithward_job::Doubt)), planned anew
//! ([`Again`]), and what is hidden in it found log by log in the order of the plan. Its hours, price and
//! blades are reckoned as those of the plan are ([`Reckon`]). So on for as many piles as are asked for; the range goes from
//! where one in ten is below to where one in ten is above.
//!
//! Where nothing is in doubt a pile is the one that was planned, and all its figures are those of the plan. Where the mill says
//! that not all planned pieces come out ([`Recovery`](pithward_job::Recovery)), a pile loses some by chance (`come_out.rs`);
//! the plan loses none.
//!
//! # How near it comes
//! Simulated piles are planned a little less well than the plan itself; see [`Again`]. So the pile as it was measured is planned
//! in the same way too, and by as much as its plan is better, board feet and worth of all simulated piles are lifted
//! ([`Forecast::lifted`]). Pieces are left as they came: of wants that are counted the two hardly ever differ.

mod come_out;
mod draw;
mod figures;
mod piles;
mod reckon;
#[cfg(test)]
mod tests;

pub use draw::{Drawn, draw_pile};
pub use figures::Range;
pub(crate) use figures::{HIGH, LOW};
pub use piles::{SimulatedLog, SimulatedPile};
pub use reckon::{ByHours, KeptHours, LogAgain, Reckon, Reckoned};

use crate::money::Way;
use come_out::ComeOut;
use pithward_geometry::Log;
use pithward_job::PileJob;
use pithward_measure::Money;
use pithward_optimizer::{
    Again, CutId, LogFate, LogPlan, Pile, PileLog, PilePlan, PlanFault, Tally,
};
use rayon::prelude::*;
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};

/// What is asked of a simulation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Asked {
    /// The same seed gives the same range.
    pub seed: u64,
    /// How many piles are simulated.
    pub piles: u32,
    /// So many logs, of the first of them, are searched to learn patterns from; one whose boards are worth what they look
    /// like counts for eight. With half as many, forty logs are worth a third of a per cent less.
    pub learned: u32,
}

/// For how many logs one counts whose boards are worth what they look like. It takes far longer to search, but of fewer piles
/// too little would be known: with this, seven oaks take a minute and a half.
const GRADED: u32 = 8;

impl Asked {
    /// Piles that are learned from where a pile has so many logs.
    fn learned_piles(&self, pile: &Pile) -> u32 {
        let weigh = |is_graded: bool| if is_graded { GRADED } else { 1 };
        let logs: u32 = pile.is_graded().into_iter().map(weigh).sum();
        self.learned.div_ceil(logs.max(1)).min(self.piles)
    }
}

impl Default for Asked {
    fn default() -> Self {
        Self { seed: 1, piles: 500, learned: 4_800 }
    }
}

/// Whoever waits for a simulation.
pub trait Wait: Sync {
    /// How far it is, as a share of all its work from 0 to 1, and how many piles are simulated.
    fn tell(&self, share: f64, piles: u32);
    /// Whether to stop with the piles that are simulated so far.
    fn stopped(&self) -> bool;
}

/// Nobody waits.
impl Wait for () {
    fn tell(&self, _: f64, _: u32) {}

    fn stopped(&self) -> bool {
        false
    }
}

/// What a pile may come to.
#[derive(Clone, Debug, PartialEq)]
pub struct Forecast {
    /// The seed that gives it again.
    pub seed: u64,
    /// Piles that were simulated.
    pub piles: u32,
    /// It was told to stop before all were.
    pub stopped: bool,
    /// Every want, in the order of the list.
    pub wants: Vec<WantRange>,
    /// Board feet of all pieces by named sizes, millionths.
    pub board_feet: Range<i64>,
    /// What all pieces are worth, millionths of the unit of worth; `None` where the ranges are those of a kept promise, which
    /// does not tell it.
    pub worth: Option<Range<i64>>,
    /// All minutes.
    pub minutes: Range<f64>,
    /// What the customer pays, by the first way that the mill states; `None` where it states none.
    pub price: Option<Range<Money>>,
    /// The same in every way that the mill states, in the order of [`Way::ALL`].
    pub prices: [Option<Range<Money>>; Way::ALL.len()],
    /// What the sawyer is paid in lumber, millionths of a board foot; `None` where the mill states no share of it.
    pub in_lumber: Option<Range<i64>>,
    /// Blades that are taken.
    pub blades: Range<u32>,
    /// What makes the ranges wide, every source of doubt once.
    pub shares: Vec<Shares>,
    /// By how much board feet and worth of simulated piles were lifted, as factors: what the plan has over the pile as it
    /// was measured, planned as the simulated ones are.
    pub lifted: [f64; 2],
    /// Logs that were searched, a count of work.
    pub searches: u64,
    /// Patterns that piles were planned from.
    pub patterns: usize,
}

/// One want in all piles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WantRange {
    /// How many were asked for; `None` for as many as come.
    pub asked: Option<u32>,
    /// Pieces, within the count and beyond it.
    pub pieces: Range<u32>,
    /// So many can be promised: with nine chances in ten there are as many or more. No more than were asked for.
    pub safe: u32,
    /// How often all that were asked for came, from 0 to 1; 1 where nobody asked for a count.
    pub filled: f64,
}

/// Something that is in doubt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Source {
    /// Diameters, every log by itself.
    Diameter,
    /// Diameters, all logs alike.
    Shared,
    /// Tapers.
    Taper,
    /// Lengths.
    Length,
    /// Hidden rot.
    Rot,
    /// Hidden metal.
    Metal,
    /// The pace of the day.
    Day,
    /// The pace of single logs.
    Pace,
}

impl Source {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::Diameter,
        Self::Shared,
        Self::Taper,
        Self::Length,
        Self::Rot,
        Self::Metal,
        Self::Day,
        Self::Pace,
    ];
}

/// How much of the variance of each figure follows a source in proportion, from 0 to 1. What all sources together leave is
/// the steps of the counts, and sources that work together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shares {
    /// The source.
    pub source: Source,
    /// Of the board feet.
    pub board_feet: f64,
    /// Of the worth.
    pub worth: f64,
    /// Of the minutes.
    pub minutes: f64,
}

/// What one pile came to.
#[derive(Clone, Debug, PartialEq)]
struct Outcome {
    pieces: Vec<Tally>,
    board_feet: i64,
    worth: i64,
    reckoned: Reckoned,
    off: [f64; 8],
}

/// Simulates the pile of a job whose plan is known.
///
/// # Errors
/// Settings that contradict the mill.
pub fn forecast<R: Reckon>(
    job: &PileJob,
    plan: &PilePlan,
    reckon: &R,
    asked: &Asked,
    wait: &dyn Wait,
) -> Result<Forecast, PlanFault> {
    let (forecast, _) = simulate(job, plan, reckon, asked, wait, &|_| ())?;
    Ok(forecast)
}

/// A forecast, and the piles that it was made from.
pub type Simulated<T> = (Forecast, Vec<SimulatedPile<T>>);

/// The same, and with it every pile that was simulated, log by log, in the order of their numbers.
///
/// # Errors
/// Settings that contradict the mill.
pub fn forecast_and_piles<R: Reckon>(
    job: &PileJob,
    plan: &PilePlan,
    reckon: &R,
    asked: &Asked,
    wait: &dyn Wait,
) -> Result<Simulated<R::Kept>, PlanFault> {
    simulate(job, plan, reckon, asked, wait, &SimulatedPile::clone)
}

/// Simulates, and keeps of every pile what is asked for.
fn simulate<R: Reckon, K: Send>(
    job: &PileJob,
    plan: &PilePlan,
    reckon: &R,
    asked: &Asked,
    wait: &dyn Wait,
    of_pile: &(dyn Fn(&SimulatedPile<R::Kept>) -> K + Sync),
) -> Result<(Forecast, Vec<K>), PlanFault> {
    let pile = job.pile();
    let order: Vec<usize> = plan.order.iter().flat_map(|lot| lot.logs.iter().copied()).collect();
    let keep = |of: &PileLog, plan: &LogPlan| {
        // A log of the same wood as it was found, for what the job knows beside its shape.
        let like = pile.logs.iter().position(|log| log.menu == of.menu).unwrap_or_default();
        reckon.keep(&pithward_job::JobLog { log: of.log.clone(), ..job.logs[like].clone() }, plan)
    };
    let come_out = ComeOut::of(job, &pile, asked.seed);
    let of_plan = Planned::new(job, plan, reckon, &order);
    let planned = of_plan.outcome();
    let is_sure = {
        let Drawn { logs, hidden, .. } = draw_pile(job, &job.doubt, asked.seed, 0);
        let spread = |log: &pithward_job::JobLog| job.doubt.spread(&log.id);
        let none = job.logs.iter().all(|log| spread(log) == pithward_job::Spread::NONE);
        let same = logs.iter().zip(&job.logs).all(|(log, of)| *log == of.log);
        let rates = job.doubt.rot.share <= 0.0 && job.doubt.metal.share <= 0.0;
        none && same && rates && hidden.is_empty()
    };
    let mut again = None;
    let (mut searches, mut patterns, mut lift) = (0, 0, Lift::NONE);
    let learned = asked.learned_piles(&pile);
    let work = asked.piles + 3 * learned;
    if !is_sure {
        let mut known = Again::new(&pile, &keep)?;
        known.sawn_in(&order);
        learn(job, (asked, learned), &mut known, &|done| {
            wait.tell(f64::from(3 * done) / f64::from(work.max(1)), 0);
            wait.stopped()
        });
        // Taught as the others are, so that what its plan has over it is what full plans have over theirs.
        let measured: Vec<Log> = job.logs.iter().map(|of| of.log.clone()).collect();
        known.teach(&[&measured]);
        (searches, patterns) = (known.searches(), known.patterns());
        let like = known.plan(&measured, &[]);
        lift.board_feet = (plan.board_feet, like.board_feet);
        lift.worth = (plan.worth, like.worth);
        again = Some(known);
    }
    let done = AtomicU32::new(0);
    let outcomes: Vec<Option<(Outcome, K)>> = (0..asked.piles)
        .into_par_iter()
        .with_max_len(1)
        .map(|n| {
            if wait.stopped() {
                return None;
            }
            let drawn = draw_pile(job, &job.doubt, asked.seed, u64::from(n));
            let lose =
                |cuts: &[Vec<CutId>], sawn: &mut SimulatedPile<R::Kept>, outcome: &mut Outcome| {
                    let Some(come_out) = &come_out else { return };
                    come_out.lose(u64::from(n), sawn, cuts, outcome);
                };
            let (outcome, sawn) = match &again {
                None => of_plan.paced(&drawn, &lose),
                Some(again) => simulated(&order, again, reckon, &drawn, &lose),
            };
            let outcome = lift.of(outcome);
            let kept = of_pile(&sawn);
            let piles = done.fetch_add(1, Ordering::Relaxed) + 1;
            wait.tell(f64::from(3 * learned + piles) / f64::from(work.max(1)), piles);
            Some((outcome, kept))
        })
        .collect();
    let (outcomes, kept): (Vec<Outcome>, Vec<K>) = outcomes.into_iter().flatten().unzip();
    let lifted = [lift.board_feet, lift.worth].map(|(all, of)| all as f64 / of.max(1) as f64);
    Ok((Forecast { searches, patterns, lifted, ..summed(job, asked, &planned, &outcomes) }, kept))
}

/// What the plan has over the same pile planned as simulated ones are: the plan's own, and the other's.
struct Lift {
    board_feet: (i64, i64),
    worth: (i64, i64),
}

impl Lift {
    /// The two are the same.
    const NONE: Self = Self { board_feet: (1, 1), worth: (1, 1) };

    fn of(&self, outcome: Outcome) -> Outcome {
        let lifted = |amount: i64, (all, of): (i64, i64)| {
            let product = i128::from(amount) * i128::from(all);
            i64::try_from(product / i128::from(of.max(1))).unwrap_or(amount)
        };
        let board_feet = lifted(outcome.board_feet, self.board_feet);
        Outcome { board_feet, worth: lifted(outcome.worth, self.worth), ..outcome }
    }
}

/// Piles that are learned from before anybody who waits is told.
const AT_ONCE: u32 = 8;

/// Learns patterns from the first piles, and of every shape of a log that is searched by itself; until it is told to
/// stop.
fn learn<T: Send + Sync>(
    job: &PileJob,
    (asked, learned): (&Asked, u32),
    again: &mut Again<'_, T>,
    tell: &dyn Fn(u32) -> bool,
) {
    let pile = |n: u64| draw_pile(job, &job.doubt, asked.seed, n).logs;
    let mut done = 0;
    while done < learned {
        let to = (done + AT_ONCE).min(learned);
        let piles: Vec<Vec<Log>> = (done..to).map(|n| pile(u64::from(n))).collect();
        again.teach(&piles.iter().collect::<Vec<_>>());
        done = to;
        if tell(done) {
            return;
        }
    }
    if job.logs.iter().all(|of| of.log.is_round()) {
        return;
    }
    let mut unknown: Vec<Vec<Log>> = Vec::new();
    for n in learned..asked.piles {
        let logs = pile(u64::from(n));
        if logs.iter().enumerate().any(|(place, log)| !again.knows(place, log)) {
            unknown.push(logs);
        }
        if unknown.len() == AT_ONCE as usize || n + 1 == asked.piles {
            again.teach_unknown(&unknown.iter().collect::<Vec<_>>());
            unknown.clear();
            if tell(done) {
                return;
            }
        }
    }
}

/// Whoever takes away planned pieces that do not come out, of the cuts of every log of a pile.
type Lose<'a, T> = dyn Fn(&[Vec<CutId>], &mut SimulatedPile<T>, &mut Outcome) + 'a;

/// Nothing was reckoned yet.
const UNRECKONED: Reckoned =
    Reckoned { minutes: 0.0, prices: [None; Way::ALL.len()], in_lumber: None, blades: 0 };

/// What a pile that is planned anew comes to, and how its logs are sawn.
fn simulated<R: Reckon>(
    order: &[usize],
    again: &Again<'_, R::Kept>,
    reckon: &R,
    drawn: &Drawn,
    lose: &Lose<'_, R::Kept>,
) -> (Outcome, SimulatedPile<R::Kept>) {
    let plan = again.plan(&drawn.logs, &drawn.hidden);
    let mut places: Vec<usize> = order.to_vec();
    places.extend((0..plan.logs.len()).filter(|place| !order.contains(place)));
    let logs = places.iter().filter_map(|place| {
        let sawn = plan.logs[*place].as_ref()?;
        Some(SimulatedLog {
            log: *place,
            kept: Arc::clone(&sawn.kept),
            board_feet: sawn.board_feet,
            pace: drawn.paces[*place],
            struck: u32::from(drawn.metal[*place]),
            cuts: (sawn.lost > 0).then(|| sawn.cuts.clone()),
        })
    });
    let mut pile = SimulatedPile { day: drawn.day, logs: logs.collect() };
    let cuts = |log: &SimulatedLog<R::Kept>| {
        plan.logs[log.log].as_ref().map(|sawn| sawn.cuts.clone()).unwrap_or_default()
    };
    let cuts: Vec<Vec<CutId>> = pile.logs.iter().map(cuts).collect();
    let (board_feet, worth, off) = (plan.board_feet, plan.worth, drawn.off);
    let reckoned = UNRECKONED;
    let mut outcome = Outcome { pieces: plan.tally, board_feet, worth, reckoned, off };
    lose(&cuts, &mut pile, &mut outcome);
    outcome.reckoned = reckon.day(&pile.again());
    (outcome, pile)
}

/// The plan itself.
struct Planned<'a, R: Reckon> {
    plan: &'a PilePlan,
    reckon: &'a R,
    sawn: Vec<SimulatedLog<R::Kept>>,
}

impl<'a, R: Reckon> Planned<'a, R> {
    fn new(job: &PileJob, plan: &'a PilePlan, reckon: &'a R, order: &[usize]) -> Self {
        let sawn = order.iter().filter_map(|place| match plan.logs.get(*place)? {
            LogFate::Sawn(plan) => Some(SimulatedLog {
                log: *place,
                kept: Arc::new(reckon.keep(job.logs.get(*place)?, plan)),
                board_feet: plan.board_feet,
                pace: 1.0,
                struck: 0,
                cuts: None,
            }),
            _ => None,
        });
        Self { plan, reckon, sawn: sawn.collect() }
    }

    fn outcome(&self) -> Outcome {
        self.with([0.0; 8], 1.0, |_| 1.0, &|_, _, _| ()).0
    }

    /// At another pace.
    fn paced(&self, drawn: &Drawn, lose: &Lose<'_, R::Kept>) -> (Outcome, SimulatedPile<R::Kept>) {
        self.with(drawn.off, drawn.day, |place| drawn.paces[place], lose)
    }

    fn with(
        &self,
        off: [f64; 8],
        day: f64,
        pace: impl Fn(usize) -> f64,
        lose: &Lose<'_, R::Kept>,
    ) -> (Outcome, SimulatedPile<R::Kept>) {
        let at_pace =
            |log: &SimulatedLog<R::Kept>| SimulatedLog { pace: pace(log.log), ..log.clone() };
        let mut pile = SimulatedPile { day, logs: self.sawn.iter().map(at_pace).collect() };
        let cuts = |log: &SimulatedLog<R::Kept>| match self.plan.logs.get(log.log) {
            Some(LogFate::Sawn(plan)) => plan.products.iter().map(|product| product.cut).collect(),
            _ => Vec::new(),
        };
        let cuts: Vec<Vec<CutId>> = pile.logs.iter().map(cuts).collect();
        let (board_feet, worth) = (self.plan.board_feet, self.plan.worth);
        let (pieces, reckoned) = (self.plan.tally.clone(), UNRECKONED);
        let mut outcome = Outcome { pieces, board_feet, worth, reckoned, off };
        lose(&cuts, &mut pile, &mut outcome);
        outcome.reckoned = self.reckon.day(&pile.again());
        (outcome, pile)
    }
}

/// The ranges of all outcomes.
fn summed(job: &PileJob, asked: &Asked, planned: &Outcome, all: &[Outcome]) -> Forecast {
    let whole = |of: &dyn Fn(&Outcome) -> i64| {
        Range::of(of(planned), all.iter().map(of).collect(), Ord::cmp)
    };
    let minutes: Vec<f64> = all.iter().map(|it| it.reckoned.minutes).collect();
    let blades = all.iter().map(|it| it.reckoned.blades).collect();
    let priced = |of: &dyn Fn(&Reckoned) -> Option<Money>| {
        let prices: Option<Vec<Money>> = all.iter().map(|it| of(&it.reckoned)).collect();
        let by = |one: &Money, two: &Money| one.as_ten_thousandths().cmp(&two.as_ten_thousandths());
        let (planned, prices) = of(&planned.reckoned).zip(prices)?;
        Some(Range::of(planned, prices, by))
    };
    let in_lumber: Option<Vec<i64>> = all.iter().map(|it| it.reckoned.in_lumber).collect();
    let in_lumber = planned.reckoned.in_lumber.zip(in_lumber);
    let wants = (0..job.wants.len()).map(|want| {
        let pieces = |it: &Outcome| it.pieces[want].given + it.pieces[want].extra;
        let asked = job.wants[want].count;
        let range = Range::of(pieces(planned), all.iter().map(pieces).collect(), Ord::cmp);
        let is_filled = |it: &&Outcome| asked.is_none_or(|count| pieces(it) >= count);
        let filled = all.iter().filter(is_filled).count() as f64 / (all.len().max(1)) as f64;
        let filled = if all.is_empty() { f64::from(u8::from(is_filled(&planned))) } else { filled };
        let safe = asked.map_or(range.low, |count| range.low.min(count));
        WantRange { asked, pieces: range, safe, filled }
    });
    let column = |of: &dyn Fn(&Outcome) -> f64| all.iter().map(of).collect::<Vec<f64>>();
    let board_feet = column(&|it| it.board_feet as f64);
    let worth = column(&|it| it.worth as f64);
    let shares = Source::ALL.into_iter().enumerate().map(|(n, source)| {
        let off = column(&|it| it.off[n]);
        let share = |figure: &[f64]| figures::share(figure, &off);
        Shares {
            source,
            board_feet: share(&board_feet),
            worth: share(&worth),
            minutes: share(&minutes),
        }
    });
    let piles = u32::try_from(all.len()).unwrap_or(u32::MAX);
    Forecast {
        seed: asked.seed,
        piles,
        stopped: piles < asked.piles,
        wants: wants.collect(),
        board_feet: whole(&|it| it.board_feet),
        worth: Some(whole(&|it| it.worth)),
        shares: shares.collect(),
        minutes: Range::of(planned.reckoned.minutes, minutes, f64::total_cmp),
        price: priced(&Reckoned::price),
        prices: Way::ALL.map(|way| priced(&|it| it.prices[way.place()])),
        in_lumber: in_lumber.map(|(planned, all)| Range::of(planned, all, Ord::cmp)),
        blades: Range::of(planned.reckoned.blades, blades, Ord::cmp),
        lifted: [1.0; 2],
        searches: 0,
        patterns: 0,
    }
}
