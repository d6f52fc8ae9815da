//! How many of the planned pieces come out.
//!
//! # Model
//! Of the `n` pieces that are planned of a log, `m` come out at their size. Each comes out with a chance that a log shares:
//! some logs break, or are cut too thin, as a whole. So `m` follows the beta-binomial distribution, with the mean share `r` and
//! the correlation `q` of any two pieces of a log (Skellam, Journal of the Royal Statistical Society B 10(2), 1948,
//! pp. 257-261):
//! ```text
//! p(m) ~ (a)_m (b)_(n-m) / (a + b)_n      a = r (1/q - 1)      b = (1 - r) (1/q - 1)      (x)_k = x (x+1) ... (x+k-1)
//! ```
//! Beforehand `r` is as if [`SURE`] pieces had come out, all of them, so that few losses move it little and none move it at
//! all; the logarithm of `q` is normal about [`TOGETHER`], [`TOGETHER_UNSURE`] wide. Both are summed over a grid. The share that
//! is told is the likeliest one.
//!
//! # What is left out
//! Logs in which rot or metal was found: a forecast reckons with these by itself. Where the two woods have ten logs each, each
//! has its own share; else both have the same.
//!
//! # Cost
//! `O(logs + grid pieces of a log)`: products of all logs are gathered by their factors.

use pithward_job::Recovery;
use pithward_trade::species::Kind;

use crate::normal::FOUR_OF_FIVE;
use crate::observed::{LogDone, Observed, Outcome};

/// What is known beforehand is worth so many pieces that all came out. With ten times as many, thirty jobs hardly move it.
const SURE: f64 = 50.0;
/// About how much pieces of one log are lost together, as a correlation, and one standard deviation of its logarithm.
/// Nobody has told: a guess, wide.
const TOGETHER: f64 = 0.1;
/// See [`TOGETHER`].
const TOGETHER_UNSURE: f64 = 1.0;
/// A wood has a share of its own from so many logs on.
const ENOUGH: usize = 10;

/// Steps of the grid of shares; they lie denser toward 1.
const STEPS: u32 = 400;
/// The least share that is thought of.
const LEAST: f64 = 0.3;
/// Steps of the grid of correlations to either side, each so much of their deviation.
const SIDE: i32 = 6;
const STEP: f64 = 0.4;

/// How many of the planned pieces come out, learned from logs.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Recovered {
    /// Of all wood; `None` where no log was told.
    pub all: Option<WoodRecovery>,
    /// Of softwood, where there are logs enough of both woods.
    pub softwood: Option<WoodRecovery>,
    /// The same of hardwood.
    pub hardwood: Option<WoodRecovery>,
    /// Board feet that came out, at whatever size, for each that was planned.
    pub feet: Option<Share>,
}

/// How many of the planned pieces of a wood come out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WoodRecovery {
    /// The share.
    pub share: Share,
    /// How far pieces of one log are lost together, a correlation from 0 to 1.
    pub together: f64,
    /// Logs that it was learned from.
    pub logs: usize,
    /// Pieces that were planned of them.
    pub planned: u64,
    /// Of these, how many came out.
    pub came: u64,
}

/// A share, and how far it may be off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// The share; pieces have one from 0 to 1.
    pub of: f64,
    /// One in ten is below.
    pub low: f64,
    /// One in ten is above.
    pub high: f64,
    /// One standard deviation.
    pub unsure: f64,
}

impl Recovered {
    /// Learns from what came out.
    pub fn of(observed: &Observed) -> Self {
        let told = |log: &LogDone| log.outcome.filter(|outcome| outcome.planned > 0);
        let logs: Vec<(bool, Outcome)> = observed
            .logs
            .iter()
            .filter_map(|log| Some((log.counts.wood == Some(Kind::Softwood), told(log)?)))
            .collect();
        let of_wood = |soft: bool| -> Vec<Outcome> {
            logs.iter().filter(|(is, _)| *is == soft).map(|(_, outcome)| *outcome).collect()
        };
        let all: Vec<Outcome> = logs.iter().map(|(_, outcome)| *outcome).collect();
        let (soft, hard) = (of_wood(true), of_wood(false));
        let apart = soft.len() >= ENOUGH && hard.len() >= ENOUGH;
        Self {
            all: of_logs(&all),
            softwood: of_logs(&soft).filter(|_| apart),
            hardwood: of_logs(&hard).filter(|_| apart),
            feet: feet(&all),
        }
    }

    /// As a mill file says it; `None` where nothing was learned.
    pub fn recovery(&self) -> Option<Recovery> {
        let all = self.all?;
        let (soft, hard) = (self.softwood.unwrap_or(all), self.hardwood.unwrap_or(all));
        Some(Recovery {
            softwood: soft.share.of,
            hardwood: hard.share.of,
            unsure: soft.share.unsure.max(hard.share.unsure),
            together: all.together,
            stated: true,
        })
    }
}

/// How often each factor stands in the products of all logs.
#[derive(Debug, Default)]
struct Factors {
    came: Vec<f64>,
    lost: Vec<f64>,
    all: Vec<f64>,
}

impl Factors {
    fn of(logs: &[Outcome]) -> Self {
        let mut factors = Self::default();
        let count = |all: &mut Vec<f64>, to: u32| {
            for place in 0..to as usize {
                if place == all.len() {
                    all.push(0.0);
                }
                all[place] += 1.0;
            }
        };
        for Outcome { planned, came, .. } in logs {
            let came = (*came).min(*planned);
            count(&mut factors.came, came);
            count(&mut factors.lost, planned - came);
            count(&mut factors.all, *planned);
        }
        factors
    }

    /// The logarithm of how likely they are at a share and a correlation.
    fn likely(&self, share: f64, together: f64) -> f64 {
        let many = 1.0 / together - 1.0;
        let rising = |counts: &[f64], from: f64| -> f64 {
            let counts = counts.iter().zip(0_u32..);
            counts.map(|(count, k)| count * libm::log(from + f64::from(k))).sum()
        };
        rising(&self.came, share * many) + rising(&self.lost, (1.0 - share) * many)
            - rising(&self.all, many)
    }
}

/// What the logs of a wood say; `None` without any.
fn of_logs(logs: &[Outcome]) -> Option<WoodRecovery> {
    if logs.is_empty() {
        return None;
    }
    let factors = Factors::of(logs);
    let share = |step: u32| {
        let down = f64::from(step) / f64::from(STEPS);
        1.0 - (1.0 - LEAST) * down * down
    };
    // Logarithms of the weights of each share and correlation.
    let mut grid: Vec<(f64, Vec<(f64, f64)>)> = Vec::new();
    for step in 0..=STEPS {
        let of = share(step);
        let column = (-SIDE..=SIDE).map(|k| {
            let z = f64::from(k) * STEP;
            let together = (TOGETHER * libm::exp(TOGETHER_UNSURE * z)).min(0.95);
            let before = (SURE - 1.0) * libm::log(of) - 0.5 * z * z;
            (together, before + factors.likely(of, together))
        });
        grid.push((of, column.collect()));
    }
    let most = grid.iter().flat_map(|(_, column)| column).map(|(_, it)| *it);
    let most = most.fold(f64::NEG_INFINITY, f64::max);
    // How dense each share is, and how much of the line it stands for.
    let mut known: Vec<(f64, f64, f64)> = Vec::new();
    let mut together = [0.0; 2];
    for (step, (of, column)) in (0..).zip(&grid) {
        let (above, below) = (share(u32::max(step, 1) - 1), share((step + 1).min(STEPS)));
        let width = (above - below) / 2.0;
        let mut dense = 0.0;
        for (q, it) in column {
            let weight = libm::exp(it - most);
            dense += weight;
            together[0] += weight * width * q;
            together[1] += weight * width;
        }
        known.push((*of, dense, dense * width));
    }
    let sum: f64 = known.iter().map(|(.., weight)| weight).sum();
    let best = known.iter().fold((1.0, f64::NEG_INFINITY), |best, (of, dense, _)| {
        if *dense > best.1 { (*of, *dense) } else { best }
    });
    // From the least share up.
    let quantile = |of: f64| {
        let mut below = 0.0;
        for (share, _, weight) in known.iter().rev() {
            below += weight;
            if below >= of * sum {
                return *share;
            }
        }
        1.0
    };
    let mean = known.iter().map(|(of, _, weight)| of * weight).sum::<f64>() / sum;
    let about = |of: f64| (of - mean) * (of - mean);
    let variance = known.iter().map(|(of, _, weight)| about(*of) * weight).sum::<f64>() / sum;
    Some(WoodRecovery {
        // Where nothing was lost the likeliest share is the greatest.
        share: Share {
            of: best.0,
            low: quantile(0.1).min(best.0),
            high: quantile(0.9).max(best.0),
            unsure: variance.sqrt(),
        },
        together: together[0] / together[1],
        logs: logs.len(),
        planned: logs.iter().map(|log| u64::from(log.planned)).sum(),
        came: logs.iter().map(|log| u64::from(log.came.min(log.planned))).sum(),
    })
}

/// Board feet that came out for each that was planned: the ratio of the sums, as far off as the logs say (Cochran, "Sampling
/// Techniques", 1977, equation 6.9, from memory). From one log alone nobody can say how far.
fn feet(logs: &[Outcome]) -> Option<Share> {
    let sum = |of: &dyn Fn(&Outcome) -> i64| logs.iter().map(|log| of(log) as f64).sum::<f64>();
    let planned = sum(&|log| log.planned_feet);
    if logs.len() < 2 || planned <= 0.0 {
        return None;
    }
    let of = sum(&|log| log.came_feet) / planned;
    let off = logs.iter().map(|log| {
        let off = log.came_feet as f64 - of * log.planned_feet as f64;
        off * off
    });
    let n = logs.len() as f64;
    let unsure = (n / (n - 1.0) * off.sum::<f64>()).sqrt() / planned;
    let wide = FOUR_OF_FIVE * unsure;
    Some(Share { of, low: (of - wide).max(0.0), high: of + wide, unsure })
}

#[cfg(test)]
mod tests;
