//! The pace that some jobs were really done at.
//!
//! # Model
//! The minutes of a log are those of its plan by the same reckoning as a forecast
//! ([`LogHours::of`](pithward_day::hours::LogHours::of)) and the changes of blades meanwhile, times what its day and the log
//! itself have of their own:
//! ```text
//! log minutes = log T(counts, yard, figures) + day + log      day ~ N(0, pace_day²)   log ~ N(0, pace_log²)
//! ```
//! Setting up, packing up, covering up and moving the mill are times of the same kind, each off by [`PART`]. A dull blade has sawn what it
//! lasts for, off by [`BLADE`]; one that came off for another reason lasts longer than what it sawed:
//! ```text
//! 0 = log wear(areas, times in the wood, figures) + e      or      0 > ...
//! ```
//! The figures are known roughly beforehand: their logarithms (of a share, those of its odds) are normal about what the mill
//! file says, as wide as [`Figure::spread`] tells. So all of them stay positive, few jobs move them little, and figures that
//! no job tells apart stay where they are against each other.
//!
//! # Method
//! `T` and `wear` are straightened about the figures found so far, and a straight-line regression ([`Regression`])
//! finds better ones, until they stay (Gauss and Newton's way). Slopes are taken by small steps of each figure, so this
//! file has no formula of its own that could differ from the forecast's. What is known of a figure is the normal
//! distribution of the last step.
//!
//! # What straightening leaves out
//! A sum of parts that are each off by factors is more, in the mean, than the sum of their middles; where totals were seen, the
//! figures have taken that up. To the second order a row is off by `h = (sum |x| c - x' C x) / 2` and the figures by `d`, what
//! the same regression makes of rows `-h`; other logs are then off by `x' d + h`, which is nothing for logs like those that were
//! seen, and is added to what is not known of others ([`Fit::unsure_of`]).
//!
//! # What is left out
//! A log that took four times as long as the fit says, or a quarter, was no log like others: a pause was not told, or the log
//! before was not told done. It is left out and told ([`Fit::odd`]).

mod model;
#[cfg(test)]
mod tests;
mod words;

use pithward_job::{Doubt, Pace, PlanCounts, Yard};

use crate::figure::Figure;
use crate::normal::FOUR_OF_FIVE;
use crate::observed::Observed;
use crate::regression::{Posterior, Prior};
use model::{Left, Model, Part};

pub use words::Knowledge;

/// How far one setting up or packing up is off another, one standard deviation of the logarithm. Common practice, no
/// source.
pub(crate) const PART: f64 = 0.35;
/// The same of what a blade lasts for.
pub(crate) const BLADE: f64 = 0.35;
/// One standard deviation of the logarithm of what is stated of `pace_day` and `pace_log`: a third of them in two cases of
/// three.
const SPREAD_UNSURE: f64 = 0.5;
/// By what factor a log is too far off to be one like others.
const ODD: f64 = 4.0;

/// The pace that some jobs were really done at.
#[derive(Clone, Debug)]
pub struct Fit {
    /// The pace that the mill file says.
    pub before: Pace,
    /// The pace that was learned. Figures of which nothing was seen are as before.
    pub after: Pace,
    /// Every figure of which something was seen, in the order of the mill file.
    pub figures: Vec<Fitted>,
    /// How much a day goes faster or slower than the pace.
    pub day: Spread,
    /// The same of a single log.
    pub log: Spread,
    /// How far the minutes of one of the jobs at hand may be off because the figures are not known better, one standard
    /// deviation of the logarithm; the mean over them.
    pub unsure: f64,
    /// Logs that were learned from.
    pub logs: usize,
    /// Days of work on which they were sawn.
    pub days: usize,
    /// Logs that were left out, being too far off.
    pub odd: Vec<OddLog>,
    /// Figures of which nothing was seen: they stay as they were.
    pub unseen: Vec<Figure>,
    known: Vec<Figure>,
    posterior: Posterior,
    /// By how much the figures are off because everything was straightened.
    bent: Vec<f64>,
}

/// A figure, before and after.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// The figure.
    pub figure: Figure,
    /// What the mill file says, in the units of [`Figure::get`].
    pub before: f64,
    /// What was learned.
    pub after: f64,
    /// One in ten is below.
    pub low: f64,
    /// One in ten is above.
    pub high: f64,
    /// Logs, days or blades in which it plays a part.
    pub seen: usize,
    /// How well it is known.
    pub knowledge: Knowledge,
}

/// A deviation, before and after.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// What is stated where nobody says otherwise.
    pub before: f64,
    /// What was learned.
    pub after: f64,
    /// One in ten is below.
    pub low: f64,
    /// One in ten is above.
    pub high: f64,
}

/// A log that was left out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OddLog {
    /// The log, a place in [`Observed::logs`].
    pub log: usize,
    /// What it took, minutes.
    pub took: f64,
    /// What logs like it take by the fit, minutes.
    pub usual: f64,
}

impl Spread {
    /// With which deviation a forecast reckons so that four in five of its ranges hold though the deviation itself is not
    /// known: where its logarithm is normal, `s` wide about that of `after`, four in five of normal figures that are off by it
    /// lie within `1.2816 after exp(0.36 s²)` (by quadrature; within half a per cent for `s` up to 0.6). Reckoned with `after`
    /// alone, ranges of a sawyer with few days would hold three in four.
    pub fn to_reckon(&self) -> f64 {
        const SHARE: f64 = 0.36;
        let wide = libm::log(self.high / self.low) / (2.0 * FOUR_OF_FIVE);
        if wide.is_finite() { self.after * libm::exp(SHARE * wide * wide) } else { self.after }
    }
}

impl Fit {
    /// Learns a pace from what some jobs came to.
    pub fn of(pace: &Pace, observed: &Observed) -> Self {
        let mut model = Model::new(pace, observed);
        let doubt = Doubt::default();
        let prior = (doubt.pace_log, doubt.pace_day);
        let mut odd: Vec<OddLog> = Vec::new();
        let (mut at, mut posterior) = settle(&model, prior);
        loop {
            let worst = model.odd(&at, libm::log(ODD));
            if worst.is_empty() {
                break;
            }
            odd.extend(worst.iter().map(|log| log.of));
            model.leave_out(&worst);
            (at, posterior) = settle(&model, prior);
        }
        odd.sort_by_key(|odd| odd.log);
        Self::told(&model, &at, posterior, odd)
    }

    fn told(model: &Model<'_>, at: &[f64], posterior: Posterior, odd: Vec<OddLog>) -> Self {
        let before = *model.pace;
        let mut after = before;
        let deviations: Vec<f64> =
            (0..at.len()).map(|i| posterior.covariance[i][i].max(0.0).sqrt()).collect();
        let seen = model.seen(at);
        let figures: Vec<Fitted> = model
            .known
            .iter()
            .enumerate()
            .map(|(n, figure)| {
                let stated = figure.get(&before);
                let (mean, wide) = (posterior.mean[n], FOUR_OF_FIVE * deviations[n]);
                let value = figure.moved(stated, mean);
                figure.set(&mut after, value);
                let ends = [mean - wide, mean + wide].map(|by| figure.moved(stated, by));
                Fitted {
                    figure: *figure,
                    before: stated,
                    after: value,
                    low: ends[0].min(ends[1]),
                    high: ends[0].max(ends[1]),
                    seen: seen[n],
                    knowledge: words::knowledge(n, model, &posterior),
                }
            })
            .collect();
        let doubt = Doubt::default();
        let spreads = (libm::exp(posterior.row[0]), libm::exp(posterior.day[0]));
        let bent = model
            .bent(at, &posterior.covariance, known_before(model, spreads))
            .mean(spreads.0, spreads.1)
            .unwrap_or_else(|| vec![0.0; at.len()]);
        let spread = |before: f64, [mean, wide]: [f64; 2]| Spread {
            before,
            after: libm::exp(mean),
            low: libm::exp(mean - FOUR_OF_FIVE * wide),
            high: libm::exp(mean + FOUR_OF_FIVE * wide),
        };
        let mut fit = Self {
            before,
            after,
            figures,
            day: spread(doubt.pace_day, posterior.day),
            log: spread(doubt.pace_log, posterior.row),
            unsure: 0.0,
            logs: model.logs(),
            days: model.days(),
            odd,
            unseen: Figure::all().filter(|figure| !model.known.contains(figure)).collect(),
            known: model.known.clone(),
            posterior,
            bent,
        };
        let jobs = model.jobs();
        let all: f64 = jobs.iter().map(|logs| fit.unsure_of(logs)).sum();
        fit.unsure = if jobs.is_empty() { 0.0 } else { all / jobs.len() as f64 };
        fit
    }

    /// How far the minutes of some logs together may be off because the figures are not known better: one standard deviation
    /// of their logarithm. Figures that no job has told anything of are known as before.
    pub fn unsure_of(&self, logs: &[(&PlanCounts, &Yard)]) -> f64 {
        let all = [self.known.as_slice(), &self.unseen].concat();
        let mut by = self.posterior.mean.clone();
        by.resize(all.len(), 0.0);
        let slope = model::slope(&self.before, &all, &by, logs);
        let (seen, rest) = slope.split_at(self.known.len());
        let (mut variance, mut bend) = model::variance_and_bend(seen, &self.posterior.covariance);
        for (figure, x) in self.unseen.iter().zip(rest) {
            let spread = figure.spread(&self.before);
            variance += x * x * spread * spread;
            bend += 0.5 * (x.abs() - x * x) * spread * spread;
        }
        let off = seen.iter().zip(&self.bent).fold(bend, |sum, (x, d)| sum + x * d);
        (variance + off * off).sqrt()
    }

    /// What some logs take together at the learned figures, minutes, by the reckoning of a forecast.
    pub fn minutes(&self, logs: &[(&PlanCounts, &Yard)]) -> f64 {
        model::minutes(&self.before, &self.known, &self.posterior.mean, logs)
    }

    /// How much a whole day goes faster or slower than the learned pace, to be reckoned with in a forecast: what days have of
    /// their own, and what is not known of the figures.
    pub fn day_to_reckon(&self) -> f64 {
        let day = self.day.to_reckon();
        (day * day + self.unsure * self.unsure).sqrt()
    }

    /// The same of a single log.
    pub fn log_to_reckon(&self) -> f64 {
        self.log.to_reckon()
    }

    /// Nothing was seen of the pace.
    pub fn is_empty(&self) -> bool {
        self.figures.is_empty()
    }
}

/// Steps at most, and how little the figures still move where it ends.
const MOST_STEPS: u32 = 60;
const STILL: f64 = 1e-8;

/// The figures that fit best, and what is known of them.
fn settle(model: &Model<'_>, prior: (f64, f64)) -> (Vec<f64>, Posterior) {
    let mut at = vec![0.0; model.known.len()];
    let mut spreads = prior;
    let mut posterior = None;
    // The deviations are learned from how far rows are off a fit, so there are two fits.
    for _ in 0..2 {
        for step in 0..MOST_STEPS {
            let regression = model.straightened(&at, known_before(model, prior));
            let Some(mean) = regression.mean(spreads.0, spreads.1) else { break };
            // Where two ways to reckon meet, full steps may go to and fro.
            let share = if step < 12 { 1.0 } else { 0.5 };
            let mut most = 0.0_f64;
            for (at, mean) in at.iter_mut().zip(&mean) {
                let by = (share * (mean - *at)).clamp(-1.0, 1.0);
                *at += by;
                most = most.max(by.abs());
            }
            if most < STILL {
                break;
            }
        }
        let found = model.straightened(&at, known_before(model, prior)).posterior();
        spreads = (libm::exp(found.row[0]), libm::exp(found.day[0]));
        posterior = Some(found);
    }
    let posterior = posterior
        .unwrap_or_else(|| model.straightened(&at, known_before(model, prior)).posterior());
    (posterior.mean.clone(), posterior)
}

fn known_before(model: &Model<'_>, (row, day): (f64, f64)) -> Prior {
    Prior {
        mean: vec![0.0; model.known.len()],
        deviation: model.known.iter().map(|figure| figure.spread(model.pace)).collect(),
        row,
        day,
        unsure: SPREAD_UNSURE,
    }
}

/// What jobs have of parts that are timed by themselves.
fn parts(observed: &Observed) -> Vec<(usize, Part, f64)> {
    let moves =
        observed.moves.iter().filter(|of| of.job < observed.yards.len() && of.minutes > 0.0);
    let mut all: Vec<(usize, Part, f64)> =
        moves.map(|of| (of.job, Part::Move, of.minutes)).collect();
    for day in observed.days.iter().filter(|day| day.job < observed.yards.len()) {
        let opening = if day.first { Part::SetUp } else { Part::Uncover };
        let closing = if day.last { Part::PackUp } else { Part::Cover };
        let told = [(opening, day.opening), (closing, day.closing)];
        let told = told.into_iter().filter_map(|(part, took)| Some((part, took?)));
        all.extend(told.filter(|(_, took)| *took > 0.0).map(|(part, took)| (day.job, part, took)));
    }
    all
}

/// Blades, each with the areas and the wood of what it sawed.
fn blades(observed: &Observed) -> Vec<(usize, Vec<Left<'_>>, bool)> {
    let of = |blade: &crate::BladeDone| {
        let logs = blade.logs.iter().filter_map(|of| {
            let log = observed.logs.get(of.log)?;
            Some(Left { counts: &log.counts, share: of.share })
        });
        (blade.job, logs.collect::<Vec<_>>(), blade.dull)
    };
    let known = observed.blades.iter().filter(|blade| blade.job < observed.yards.len());
    known.map(of).filter(|(_, logs, _)| !logs.is_empty()).collect()
}
