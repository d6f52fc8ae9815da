//! What was observed, beside what the reckoning of a forecast says of it at some figures.

use std::time::Duration;

use pithward_day::hours::LogHours;
use pithward_job::{Pace, PlanCounts, Residue, Yard};

use super::{BLADE, OddLog, PART, blades, parts};
use crate::figure::Figure;
use crate::normal::hazard;
use crate::observed::Observed;
use crate::regression::{Prior, Regression, Row};

/// A small step of the logarithm of a figure.
const STEP: f64 = 1e-3;
/// A figure whose step of one moves less than this of a logarithm plays no part.
const PLAYS: f64 = 1e-2;

/// A part of a day that is timed by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Part {
    SetUp,
    Uncover,
    Cover,
    PackUp,
    Move,
}

/// A log, or a part of it, that a blade sawed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Left<'a> {
    pub(super) counts: &'a PlanCounts,
    pub(super) share: f64,
}

/// A pace whose shares are not rounded to thousandths: a small step of one would be none.
#[derive(Clone, Copy, Debug)]
struct Exact {
    pace: Pace,
    utilisation: f64,
    dirty: f64,
    frozen: f64,
}

/// What was observed.
#[derive(Debug)]
pub(super) struct Model<'a> {
    pub(super) pace: &'a Pace,
    /// The figures of which something was seen.
    pub(super) known: Vec<Figure>,
    observed: &'a Observed,
    /// Logs with their minutes, by their day: places in the observed logs.
    days: Vec<Vec<(usize, f64)>>,
    parts: Vec<(usize, Part, f64)>,
    blades: Vec<(usize, Vec<Left<'a>>, bool)>,
}

/// A log that is too far off.
#[derive(Clone, Copy, Debug)]
pub(super) struct Odd {
    pub(super) of: OddLog,
}

impl<'a> Model<'a> {
    pub(super) fn new(pace: &'a Pace, observed: &'a Observed) -> Self {
        let mut days: Vec<Vec<(usize, f64)>> = vec![Vec::new(); observed.days.len()];
        for (n, log) in observed.logs.iter().enumerate() {
            let minutes = log.minutes.filter(|minutes| *minutes > 0.0 && minutes.is_finite());
            let known = observed.yards.get(log.job).is_some();
            if let (Some(minutes), Some(day), true) = (minutes, days.get_mut(log.day), known) {
                day.push((n, minutes));
            }
        }
        let (parts, blades) = (parts(observed), blades(observed));
        let mut model =
            Self { pace, known: Figure::all().collect(), observed, days, parts, blades };
        let none = vec![0.0; model.known.len()];
        let seen = model.seen(&none);
        model.known = Figure::all().filter(|figure| seen[figure.place()] > 0).collect();
        model
    }

    fn yard(&self, job: usize) -> &'a Yard {
        // Rows of jobs that are not there were never made.
        &self.observed.yards[job.min(self.observed.yards.len() - 1)]
    }

    pub(super) fn logs(&self) -> usize {
        self.days.iter().map(Vec::len).sum()
    }

    pub(super) fn days(&self) -> usize {
        self.days.iter().filter(|day| !day.is_empty()).count()
    }

    /// The logs of every job.
    pub(super) fn jobs(&self) -> Vec<Vec<(&'a PlanCounts, &'a Yard)>> {
        let mut jobs = vec![Vec::new(); self.observed.yards.len()];
        for (n, _) in self.days.iter().flatten() {
            let log = &self.observed.logs[*n];
            jobs[log.job].push((&log.counts, self.yard(log.job)));
        }
        jobs.retain(|logs| !logs.is_empty());
        jobs
    }

    /// The regression of all rows, straightened about some figures.
    pub(super) fn straightened(&self, at: &[f64], prior: Prior) -> Regression {
        let paces = self.paces(at);
        let mut regression = Regression::new(prior);
        for day in &self.days {
            let rows: Vec<Row> = day
                .iter()
                .map(|(n, minutes)| {
                    self.row(at, &paces, libm::log(*minutes), |pace| self.log(*n, pace))
                })
                .collect();
            regression.group(&rows);
        }
        for (job, part, minutes) in &self.parts {
            let of = |pace: &Exact| self.part(*job, *part, pace);
            if of(&paces.at) > 0.0 {
                regression.alone(&self.row(at, &paces, libm::log(*minutes), of), PART);
            }
        }
        for (job, logs, dull) in &self.blades {
            let of = |pace: &Exact| self.wear(*job, logs, pace);
            if of(&paces.at) <= 0.0 {
                continue;
            }
            let row = self.row(at, &paces, 0.0, of);
            if *dull {
                regression.alone(&row, BLADE);
                continue;
            }
            // It lasts longer: the chance of that about the figures at hand, as a parabola.
            let z = libm::log(of(&paces.at)) / BLADE;
            let steep = hazard(z);
            let weight = (steep * (steep - z)).max(1e-12);
            let y = row.x.iter().zip(at).fold(0.0, |sum, (x, at)| sum + x * at);
            regression.alone(&Row { y: y - BLADE * steep / weight, ..row }, BLADE / weight.sqrt());
        }
        regression
    }

    /// The regression of what straightening leaves out of every row of a log.
    pub(super) fn bent(&self, at: &[f64], covariance: &[Vec<f64>], prior: Prior) -> Regression {
        let paces = self.paces(at);
        let mut regression = Regression::new(prior);
        for day in &self.days {
            let rows: Vec<Row> = day
                .iter()
                .map(|(n, _)| {
                    let x = paces.slopes(&|pace| self.log(*n, pace));
                    Row { y: -variance_and_bend(&x, covariance).1, x }
                })
                .collect();
            regression.group(&rows);
        }
        regression
    }

    /// How many rows each figure plays a part in.
    pub(super) fn seen(&self, at: &[f64]) -> Vec<usize> {
        let paces = self.paces(at);
        let mut seen = vec![0; self.known.len()];
        let mut count = |row: &Row| {
            for (seen, x) in seen.iter_mut().zip(&row.x) {
                *seen += usize::from(x.abs() >= PLAYS);
            }
        };
        for (n, _) in self.days.iter().flatten() {
            count(&self.row(at, &paces, 0.0, |pace| self.log(*n, pace)));
        }
        for (job, part, _) in &self.parts {
            count(&self.row(at, &paces, 0.0, |pace| self.part(*job, *part, pace)));
        }
        for (job, logs, _) in &self.blades {
            count(&self.row(at, &paces, 0.0, |pace| self.wear(*job, logs, pace)));
        }
        seen
    }

    /// Logs that are off by more than a logarithm; of those, the ones that are half as far off as the worst.
    pub(super) fn odd(&self, at: &[f64], most: f64) -> Vec<Odd> {
        let pace = exact(self.pace, &self.known, at);
        let off = self.days.iter().flatten().map(|(n, took)| {
            let usual = self.log(*n, &pace);
            (libm::log(took / usual).abs(), OddLog { log: *n, took: *took, usual })
        });
        let off: Vec<(f64, OddLog)> = off.collect();
        let worst = off.iter().map(|(by, _)| *by).fold(0.0, f64::max);
        let limit = most.max(0.5 * worst);
        off.iter().filter(|(by, _)| *by > limit).map(|(_, of)| Odd { of: *of }).collect()
    }

    pub(super) fn leave_out(&mut self, odd: &[Odd]) {
        for day in &mut self.days {
            day.retain(|(n, _)| odd.iter().all(|odd| odd.of.log != *n));
        }
    }

    /// What one log takes with its changes of blades, minutes.
    fn log(&self, n: usize, pace: &Exact) -> f64 {
        let log = &self.observed.logs[n];
        let changes = f64::from(log.changes) * minutes_of(pace.pace.blade.change);
        of_log(&log.counts, self.yard(log.job), pace) + changes
    }

    /// What a part of a day takes, minutes.
    fn part(&self, job: usize, part: Part, Exact { pace, .. }: &Exact) -> f64 {
        let yard = self.yard(job);
        let tidy = if yard.residue == Residue::Tarp { minutes_of(pace.day.tidy) } else { 0.0 };
        let half_night = minutes_of(pace.day.overnight) / 2.0;
        match part {
            Part::SetUp => yard.set_up(pace),
            Part::Uncover => half_night,
            Part::Cover => half_night + tidy,
            Part::PackUp => minutes_of(pace.day.pack_up) + tidy,
            Part::Move => yard.set_up(pace) + minutes_of(pace.day.pack_up),
        }
    }

    /// How much of a blade some logs take, by area or by time, whichever is more.
    fn wear(&self, job: usize, logs: &[Left<'_>], exact: &Exact) -> f64 {
        let (yard, pace) = (self.yard(job), &exact.pace);
        let of = |is: bool, share: f64| if is { share } else { 1.0 };
        let left = of(yard.dirty, exact.dirty) * of(yard.frozen, exact.frozen);
        let lasts = pace.blade.minutes(false, false) * left;
        let (mut area, mut time) = (0.0, 0.0);
        for Left { counts, share } in logs {
            area +=
                share * counts.sawn_area() / (pace.blade.area(counts.wood, false, false) * left);
            time += share * pace.time(counts).sawing / lasts;
        }
        area.max(time)
    }

    fn paces(&self, at: &[f64]) -> Paces {
        Paces::about(self.pace, &self.known, at)
    }

    /// A row straightened about some figures, of the logarithm of what is reckoned.
    fn row(&self, at: &[f64], paces: &Paces, y: f64, of: impl Fn(&Exact) -> f64) -> Row {
        let x = paces.slopes(&of);
        let here = libm::log(of(&paces.at).max(f64::MIN_POSITIVE));
        let along = x.iter().zip(at).fold(0.0, |sum, (x, at)| sum + x * at);
        Row { y: y - here + along, x }
    }
}

/// A pace, and for each figure the same a step down and a step up.
#[derive(Debug)]
struct Paces {
    at: Exact,
    steps: Vec<[Exact; 2]>,
}

impl Paces {
    fn about(pace: &Pace, known: &[Figure], at: &[f64]) -> Self {
        let mut by = at.to_vec();
        let steps = (0..known.len()).map(|n| {
            [-STEP, STEP].map(|step| {
                by[n] = at[n] + step;
                let exact = exact(pace, known, &by);
                by[n] = at[n];
                exact
            })
        });
        let steps = steps.collect();
        Self { at: exact(pace, known, at), steps }
    }

    /// By how much the logarithm of something moves with each figure.
    fn slopes(&self, of: &dyn Fn(&Exact) -> f64) -> Vec<f64> {
        let slope = |[down, up]: &[Exact; 2]| {
            let (down, up) = (of(down), of(up));
            if down > 0.0 && up > 0.0 { libm::log(up / down) / (2.0 * STEP) } else { 0.0 }
        };
        self.steps.iter().map(slope).collect()
    }
}

/// A pace whose figures are moved.
fn exact(pace: &Pace, known: &[Figure], by: &[f64]) -> Exact {
    let mut moved = *pace;
    let share = |thousandths: u32| f64::from(thousandths) / 1000.0;
    let mut utilisation = share(pace.utilisation);
    let (mut dirty, mut frozen) = (share(pace.blade.dirty), share(pace.blade.frozen));
    for (figure, by) in known.iter().zip(by) {
        let value = figure.moved(figure.get(pace), *by);
        match figure.field() {
            "utilisation" => utilisation = value,
            "dirty_blade" => dirty = value,
            "frozen_blade" => frozen = value,
            _ => figure.set(&mut moved, value),
        }
    }
    // All of the time, so that what comes between can be added exactly.
    moved.utilisation = 1000;
    Exact { pace: moved, utilisation, dirty, frozen }
}

/// What a log takes by the reckoning of a forecast, minutes.
fn of_log(counts: &PlanCounts, yard: &Yard, Exact { pace, utilisation, .. }: &Exact) -> f64 {
    let hours = LogHours::of(counts, pace, yard);
    let usual = (hours.steps.minutes() + hours.stacking) / utilisation.max(1e-3);
    // Helpers who stack are behind, and their time stays what it is.
    if hours.waits_for_helpers > 0.0 { usual.max(hours.minutes) } else { usual }
}

fn minutes_of(time: Duration) -> f64 {
    time.as_secs_f64() / 60.0
}

/// What some logs take together at moved figures, minutes.
pub(super) fn minutes(
    pace: &Pace,
    known: &[Figure],
    by: &[f64],
    logs: &[(&PlanCounts, &Yard)],
) -> f64 {
    let pace = exact(pace, known, by);
    logs.iter().map(|(counts, yard)| of_log(counts, yard, &pace)).sum()
}

/// The variance of something that moves so with each figure, and what straightening leaves out of it.
pub(super) fn variance_and_bend(slope: &[f64], covariance: &[Vec<f64>]) -> (f64, f64) {
    let (mut variance, mut parts) = (0.0, 0.0);
    for (n, (one, row)) in slope.iter().zip(covariance).enumerate() {
        variance += row.iter().zip(slope).fold(0.0, |sum, (of, two)| sum + one * of * two);
        parts += one.abs() * row[n];
    }
    (variance.max(0.0), 0.5 * (parts - variance))
}

/// By how much the logarithm of that moves with each figure.
pub(super) fn slope(
    pace: &Pace,
    known: &[Figure],
    by: &[f64],
    logs: &[(&PlanCounts, &Yard)],
) -> Vec<f64> {
    let paces = Paces::about(pace, known, by);
    paces.slopes(&|pace| logs.iter().map(|(counts, yard)| of_log(counts, yard, pace)).sum())
}
