//! A promise is kept: from a job, its plan and its simulated piles.

use std::collections::BTreeMap;
use std::sync::Arc;

use pithward_job::{JobLog, LogJob, PileJob, PlanCounts};
use pithward_measure::Width;
use pithward_optimizer::{CutId, LogFate, LogPlan, Method, PilePlan};

use super::{
    Kept, KeptCount, KeptFigures, KeptLog, KeptPattern, KeptPile, KeptProduct, KeptRanges,
    KeptSawing, KeptSawn, KeptWant,
};
use crate::money::Way;
use crate::promise::Promise;
use crate::range::{ByHours, Forecast, KeptHours, LogAgain, Reckon, Reckoned, SimulatedPile};

/// Reckons as [`ByHours`] does, and keeps of every pattern what a promise needs beside.
#[derive(Clone, Debug)]
pub struct Keeping<'a>(ByHours<'a>);

/// What is kept of a pattern.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KeptPlan {
    hours: KeptHours,
    cuts: Vec<CutId>,
}

impl<'a> Keeping<'a> {
    /// The hours, price and blades of a job.
    pub fn of(job: &'a PileJob) -> Self {
        Self(ByHours::of(job))
    }
}

impl Reckon for Keeping<'_> {
    type Kept = KeptPlan;

    fn keep(&self, log: &JobLog, plan: &LogPlan) -> KeptPlan {
        let cuts = plan.products.iter().map(|product| product.cut).collect();
        KeptPlan { hours: self.0.keep(log, plan), cuts }
    }

    fn day(&self, logs: &[LogAgain<'_, KeptPlan>]) -> Reckoned {
        let logs: Vec<LogAgain<'_, KeptHours>> = logs
            .iter()
            .map(|log| LogAgain {
                log: log.log,
                kept: &log.kept.hours,
                board_feet: log.board_feet,
                pace: log.pace,
                struck: log.struck,
            })
            .collect();
        self.0.day(&logs)
    }
}

/// All that a promise is kept from. The plan, the promise and the piles are those of the job, stems bucked.
#[derive(Clone, Copy, Debug)]
pub struct Making<'a> {
    /// The job, stems bucked.
    pub job: &'a PileJob,
    /// Its plan.
    pub plan: &'a PilePlan,
    /// What follows from it.
    pub promise: &'a Promise,
    /// What was simulated of it, where it was.
    pub forecast: Option<(&'a Forecast, &'a [SimulatedPile<KeptPlan>])>,
    /// How sawing is paid, where that was agreed.
    pub agreed: Option<Way>,
    /// The version of the program.
    pub program: &'a str,
    /// When it is made.
    pub at: &'a str,
}

impl Making<'_> {
    /// The promise, to be kept.
    pub fn kept(&self) -> Kept {
        let Self { job, plan, promise, forecast, .. } = *self;
        let of_range = |forecast: &Forecast| KeptRanges {
            minutes: forecast.minutes,
            board_feet: forecast.board_feet,
            price: forecast.price,
            prices: forecast.prices,
            in_lumber: forecast.in_lumber,
            blades: forecast.blades,
        };
        let forecast = forecast.filter(|(forecast, _)| forecast.piles > 0);
        let (patterns, piles) = match forecast {
            Some((_, piles)) => piles_of(piles),
            None => (Vec::new(), Vec::new()),
        };
        let wants = job.wants.iter().zip(&plan.tally).enumerate().map(|(n, (want, tally))| {
            let promised = forecast.and_then(|(forecast, _)| forecast.wants.get(n));
            KeptWant {
                size: want.size,
                asked: want.count,
                planned: tally.given + tally.extra,
                promised: promised.map(|want| KeptCount {
                    pieces: want.pieces,
                    safe: want.safe,
                    filled: want.filled,
                }),
            }
        });
        let bill = |way: Way| promise.price.by(way).and_then(|bill| bill.as_ref().ok());
        let price = |way: Way| bill(way).map(|bill| bill.total);
        Kept {
            program: self.program.to_owned(),
            at: self.at.to_owned(),
            inputs: job.inputs.clone(),
            seed: forecast.map_or(0, |(forecast, _)| forecast.seed),
            agreed: self.agreed,
            charges: Some(job.charges.clone()),
            wants: wants.collect(),
            logs: (0..job.logs.len()).map(|log| self.log(log)).collect(),
            order: promise.hours.order.clone(),
            planned: KeptFigures {
                on_site: promise.hours.hours.on_site(),
                board_feet: plan.board_feet,
                by_hour: price(Way::Hour),
                by_board_foot: price(Way::BoardFoot),
                by_board: price(Way::Board),
                by_share: price(Way::Share),
                in_lumber: bill(Way::Share)
                    .and_then(|bill| bill.in_lumber.as_ref())
                    .map(|lumber| lumber.board_feet),
            },
            ranges: forecast.map(|(forecast, _)| of_range(forecast)),
            lift: forecast.map_or(1.0, |(forecast, _)| forecast.lifted[0]),
            patterns,
            piles,
        }
    }

    fn log(&self, place: usize) -> KeptLog {
        let Self { job, plan, promise, .. } = *self;
        let log = &job.logs[place];
        let sawn = match plan.logs.get(place) {
            Some(LogFate::Sawn(sawn)) => Some(sawn),
            _ => None,
        };
        let at = promise.hours.order.iter().position(|of| *of == place);
        let hours = at.and_then(|at| promise.hours.logs.get(at)).copied();
        KeptLog {
            id: log.id.clone(),
            species: log.species.map(|species| species.name.clone()),
            small_end: log.log.small_end(),
            butt: log.log.butt(),
            length: log.log.length(),
            sawn: sawn.map(|sawn| KeptSawing {
                quarter: sawn.method == Method::Quarter,
                products: products(job, place, sawn),
                board_feet: sawn.board_feet,
                hours: hours.unwrap_or_default(),
                counts: PlanCounts::of(&log.log, log.species, &sawn.order, &sawn.replayed),
            }),
        }
    }
}

/// The pieces of a plan by size, in the order of the list.
fn products(job: &PileJob, place: usize, sawn: &LogPlan) -> Vec<KeptProduct> {
    let of_log: LogJob = job.log_job(place);
    let wants = of_log.optimizer_wants();
    let mut cuts: BTreeMap<CutId, u32> = BTreeMap::new();
    for product in &sawn.products {
        *cuts.entry(product.cut).or_default() += 1;
    }
    let products = cuts.into_iter().filter_map(|(id, count)| {
        let cut = wants.get(id.want.0)?.cuts.get(id.cut)?;
        let named = of_log.named_size(id)?;
        let size = pithward_measure::Size { width: Width::Exactly(named.width.least()), ..named };
        Some(KeptProduct { want: id.want.0, size, sawn: [cut.thickness, cut.width], count })
    });
    products.collect()
}

/// Simulated piles with each pattern once, numbered as they first come.
fn piles_of(piles: &[SimulatedPile<KeptPlan>]) -> (Vec<KeptPattern>, Vec<KeptPile>) {
    let mut known: BTreeMap<*const KeptPlan, usize> = BTreeMap::new();
    let mut patterns = Vec::new();
    let mut all = Vec::with_capacity(piles.len());
    for pile in piles {
        let mut logs = Vec::with_capacity(pile.logs.len());
        for sawn in &pile.logs {
            let pattern = *known.entry(Arc::as_ptr(&sawn.kept)).or_insert_with(|| {
                patterns.push(pattern(&sawn.kept));
                patterns.len() - 1
            });
            logs.push(KeptSawn {
                log: sawn.log,
                pattern,
                pace: sawn.pace,
                struck: sawn.struck,
                board_feet: sawn.board_feet,
                pieces: sawn.cuts.as_deref().map(by_want),
            });
        }
        all.push(KeptPile { day: pile.day, logs });
    }
    (patterns, all)
}

fn pattern(plan: &KeptPlan) -> KeptPattern {
    let (hours, sawn) = plan.hours.parts();
    KeptPattern { hours: *hours, log: sawn.log.clone(), odd: sawn.odd, pieces: by_want(&plan.cuts) }
}

/// How many cuts go to which want.
fn by_want(cuts: &[CutId]) -> Vec<(usize, u32)> {
    let mut wants: BTreeMap<usize, u32> = BTreeMap::new();
    for cut in cuts {
        *wants.entry(cut.want.0).or_default() += 1;
    }
    wants.into_iter().collect()
}
