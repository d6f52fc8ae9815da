//! Simulated piles weighed by what has happened.
//!
//! # Problem
//! Every pile `j` was drawn with a pace of its day `D_j`, with logs that are a little other than they were measured, and
//! with what is hidden in them. Of the logs done it is known how long they took, `t_i`, and what came of them. What do the
//! piles say of the rest now?
//!
//! # Method
//! Log by log the piles are drawn apart, so one log says nothing of another but by what they share: the pace of the day, and
//! errors of the tape that all logs have alike. So only sums are held against each other; single logs would take the weight
//! from nearly all piles, for nothing.
//!
//! *Pace.* With `m_ij` the minutes of log `i` in pile `j` at the stated pace, `r_ij = ln t_i - ln m_ij` is the logarithm of
//! the day's pace and an error of the log, with variances `a` and `b` (`pace_day`, `pace_log` squared). Of `n` logs with the
//! mean `r_j` what follows for the day is known exactly, so the pile's day is moved to where it belongs instead of being
//! weighed:
//! ```text
//! mean_j = n a r_j / (b + n a)     variance = a b / (b + n a)     ln D_j' = mean_j + sqrt(variance / a) ln D_j
//! ```
//! and the pile has the weight of `r_j` under its own variance, `a + b / n`.
//!
//! *Recovery.* With `B_j` the board feet of the same logs in pile `j`, and `B` those that came, a pile has the weight
//! `exp(-((B_j - B) / h)^2 / 2)`; `h` is three tenths of the standard deviation of all `B_j`.
//!
//! Where so few piles are left that they say nothing, all logarithms of weights are halved until enough are, and
//! [`Weighed::far`] says so: the day is then beyond what was thought possible, and the piles are a guess.
//!
//! # Source
//! The normal case of a mean with a known prior is in any textbook. Weights by the distance of sums: Beaumont, Zhang and
//! Balding, "Approximate Bayesian computation in population genetics", Genetics 162(4), 2002; they weigh by another kernel
//! and adjust, which is left out here.

use crate::kept::{Kept, KeptPile};

/// How near piles must come, as a share of the standard deviation of the board feet.
const NEAR: f64 = 0.3;
/// Minutes of a log are never known better than that, one standard deviation of the logarithm: when a log begins and ends
/// is told by hand.
const LEAST_NOISE: f64 = 0.05;
/// So many piles at least, as a share of all, must carry the weight.
const ENOUGH: f64 = 0.08;
/// And so many at least.
const FEWEST: f64 = 20.0;
/// Halved so often, weights say nothing any more.
const MOST_HALVES: u32 = 16;
/// Halved more often than that, the day is beyond what was thought possible.
const FAR: u32 = 3;

/// What has happened, as far as it says anything of the rest.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Happened {
    /// Logs of which it is known how long they took: their places in the promise, and minutes at the logs without changes
    /// of blades.
    pub(super) timed: Vec<(usize, f64)>,
    /// Logs of which all that came is known: their places.
    pub(super) sawn: Vec<usize>,
    /// Board feet that came of these, millionths.
    pub(super) board_feet: i64,
}

/// Weights of piles.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Weighed {
    /// Of every pile; their mean is 1.
    pub(super) weights: Vec<f64>,
    /// The pace of the rest of the day in every pile, as a factor.
    pub(super) days: Vec<f64>,
    /// How many piles of the same weight would say as much.
    pub(super) effective: f64,
    /// What has happened is beyond what nearly all piles hold for possible.
    pub(super) far: bool,
}

impl Weighed {
    /// Weighs the piles of a promise; `day` and `log` are the standard deviations of the logarithms of both paces.
    pub(super) fn of(kept: &Kept, happened: &Happened, (day, log): (f64, f64)) -> Self {
        let paced: Vec<Paced> =
            kept.piles.iter().map(|pile| Paced::of(kept, pile, happened, (day, log))).collect();
        let mut is_sawn = vec![false; kept.logs.len()];
        for place in &happened.sawn {
            if let Some(is) = is_sawn.get_mut(*place) {
                *is = true;
            }
        }
        let feet: Vec<f64> = kept.piles.iter().map(|pile| feet(kept, pile, &is_sawn)).collect();
        let came = happened.board_feet as f64;
        let spread = deviation(&feet);
        let near = |feet: f64| match spread > 0.0 && !happened.sawn.is_empty() {
            true => -0.5 * ((feet - came) / (NEAR * spread)).powi(2),
            false => 0.0,
        };
        let mut logs: Vec<f64> =
            paced.iter().zip(&feet).map(|(paced, feet)| paced.log_weight + near(*feet)).collect();
        let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        logs.iter_mut().for_each(|log| *log -= most);
        let enough = (ENOUGH * logs.len() as f64).max(FEWEST).min(logs.len() as f64);
        let mut halves = 0;
        let mut weights = raised(&logs);
        while effective(&weights) < enough && halves < MOST_HALVES {
            logs.iter_mut().for_each(|log| *log *= 0.5);
            weights = raised(&logs);
            halves += 1;
        }
        let effective = effective(&weights);
        let mean = weights.iter().sum::<f64>() / weights.len().max(1) as f64;
        weights.iter_mut().for_each(|weight| *weight /= mean.max(f64::MIN_POSITIVE));
        let days = paced.iter().map(|paced| paced.day).collect();
        Self { weights, days, effective, far: halves > FAR }
    }
}

/// The pace of a pile after some logs.
struct Paced {
    day: f64,
    log_weight: f64,
}

impl Paced {
    fn of(kept: &Kept, pile: &KeptPile, happened: &Happened, (day, log): (f64, f64)) -> Self {
        let mut patterns = vec![None; kept.logs.len()];
        for sawn in &pile.logs {
            if let Some(pattern) = patterns.get_mut(sawn.log) {
                *pattern = kept.patterns.get(sawn.pattern);
            }
        }
        let residuals: Vec<f64> = happened
            .timed
            .iter()
            .filter_map(|(place, minutes)| {
                // As planned, where the pile does not saw it.
                let planned = match patterns.get(*place)? {
                    Some(pattern) => pattern.hours.minutes,
                    None => kept.logs.get(*place)?.sawn.as_ref()?.hours.minutes,
                };
                (planned > 0.0 && *minutes > 0.0).then(|| libm::log(*minutes / planned))
            })
            .collect();
        let n = residuals.len() as f64;
        if residuals.is_empty() {
            return Self { day: pile.day, log_weight: 0.0 };
        }
        let noise = log.max(LEAST_NOISE);
        let (a, b) = (day * day, noise * noise);
        let mean = residuals.iter().sum::<f64>() / n;
        let log_weight = -0.5 * mean * mean / (a + b / n);
        if a <= 0.0 {
            return Self { day: pile.day, log_weight };
        }
        let left = (b / (b + n * a)).sqrt();
        let moved = n * a * mean / (b + n * a) + left * libm::log(pile.day);
        Self { day: libm::exp(moved), log_weight }
    }
}

/// Board feet of some logs in a pile, millionths, lifted as the promise is.
fn feet(kept: &Kept, pile: &KeptPile, is: &[bool]) -> f64 {
    let of = pile.logs.iter().filter(|sawn| is.get(sawn.log) == Some(&true));
    kept.lift * of.map(|sawn| sawn.board_feet as f64).sum::<f64>()
}

fn deviation(figures: &[f64]) -> f64 {
    let n = figures.len().max(1) as f64;
    let mean = figures.iter().sum::<f64>() / n;
    (figures.iter().map(|it| (it - mean) * (it - mean)).sum::<f64>() / n).sqrt()
}

fn raised(logs: &[f64]) -> Vec<f64> {
    logs.iter().map(|log| libm::exp(*log)).collect()
}

/// How many piles of the same weight would say as much: Kish's effective sample size.
fn effective(weights: &[f64]) -> f64 {
    let sum: f64 = weights.iter().sum();
    let squares: f64 = weights.iter().map(|weight| weight * weight).sum();
    if squares > 0.0 { sum * sum / squares } else { 0.0 }
}
