//! One log by every method, side by side: what comes out, what it is worth, how long it takes, and which to choose.
//!
//! Each method lies the log as suits it best. Minutes are those of the mill's [`Pace`](crate::Pace). What pays is worth
//! less the cost of the minutes; where one of the two is not stated in the unit of the other, worth alone decides, and
//! among methods that are as good as equal the minutes.
//!
//! # How sure
//! A tape reads a quarter of an inch too much or too little. So the best method and the next best are planned once more
//! in the same log a quarter of an inch thicker, and thinner: where the best stays ahead the advice is
//! [`Sure::EitherWay`].

use crate::log_job::LogJob;
use crate::pace::PlanCounts;
use crate::pile_job::{PileJob, WorthTerms};
use pithward_measure::{Length, Money};
use pithward_optimizer::{LogPlan, Method, Obstacle, PlanFault, Settings, Want, open_each};
use pithward_trade::{Grade, RingClass, RingConvention};
use rayon::prelude::*;

/// By how much a tape may be wrong in diameter. Common practice, no source.
const TAPE: Length = Length::sixty_fourths(16);

/// Methods whose worth differs by less than such a share of the better one are as good as equal.
const EQUAL: i64 = 100;

/// A log by every method.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// The methods that give anything, in the order in which they were asked for.
    pub rows: Vec<MethodRow>,
    /// What worth and the cost of minutes are counted in: `None` for board feet, and minutes that cost nothing.
    pub unit: Option<String>,
    /// What to do; `None` where no method gives anything.
    pub advice: Option<Advice>,
    /// Methods that give nothing.
    pub nothing: Vec<Method>,
    /// Why, where none gives anything.
    pub obstacles: Vec<Obstacle>,
}

/// A log by one method.
#[derive(Clone, Debug)]
pub struct MethodRow {
    /// The method.
    pub method: Method,
    /// Its plan, replayed.
    pub plan: Box<LogPlan>,
    /// Board feet of each expected grade, the best first, millionths; empty where nobody grades.
    pub grades: Vec<(Option<Grade>, i64)>,
    /// Board feet of each class of rings, millionths.
    pub rings: Vec<(RingClass, i64)>,
    /// Minutes at the mill, with all that comes between the steps.
    pub minutes: f64,
    /// What the minutes cost by the rate of the mill file, where it states one.
    pub cost: Option<Money>,
    /// What the minutes cost in the unit of worth, millionths; `None` where an hour has no worth stated.
    pub cost_in_worth: Option<i64>,
}

impl MethodRow {
    /// Worth net of the minutes, millionths; worth alone where they cost nothing.
    pub fn net(&self) -> i64 {
        self.plan.worth - self.cost_in_worth.unwrap_or(0)
    }

    /// Whether one gives as much as the other, so that the minutes decide; where these cost something they are in what is
    /// left already.
    fn is_equal(&self, other: &Self) -> bool {
        let (one, two) = (self.net(), other.net());
        let share = if self.cost_in_worth.is_some() { 0 } else { one.max(two).abs() / EQUAL };
        (one - two).abs() <= share
    }
}

/// Which method to choose, and why.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Advice {
    /// The place of the method in [`Comparison::rows`].
    pub best: usize,
    /// The next best.
    pub next: Option<usize>,
    /// Both are as good as equal, and the minutes decide.
    pub by_minutes: bool,
    /// How sure it is.
    pub sure: Sure,
}

/// How sure an advice is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sure {
    /// There is no other.
    Alone,
    /// It holds with the log a quarter of an inch thinner and thicker.
    EitherWay,
    /// It does not: with the log so much thicker (or thinner, where negative) the next best is better.
    NotBy(Length),
}

/// What a comparison is made in.
struct Terms<'a> {
    job: &'a LogJob,
    wants: Vec<Want>,
    convention: RingConvention,
    /// Millionths of the unit.
    hour: Option<i64>,
    unit: Option<String>,
}

impl LogJob {
    /// Its log by every method, or by those that somebody named.
    ///
    /// # Errors
    /// As [`open_each`].
    pub fn compare(&self) -> Result<Comparison, PlanFault> {
        let wants = self.optimizer_wants();
        let convention = RingConvention::default();
        Terms { job: self, wants, convention, hour: None, unit: None }.compare()
    }
}

impl PileJob {
    /// One of its logs by every method, alone: each want as it comes, whatever the counts, for these are shared by all
    /// logs.
    ///
    /// # Errors
    /// As [`open_each`].
    pub fn compare(&self, log: usize) -> Result<Comparison, PlanFault> {
        let mut job = self.log_job(log);
        for want in &mut job.wants {
            want.count = None;
        }
        let worth = &self.worth;
        let is_stated = worth.unit != WorthTerms::BOARD_FEET;
        let wants = job.optimizer_wants();
        let terms = Terms {
            wants,
            convention: self.ring_convention,
            hour: (is_stated && worth.hour > 0).then_some(worth.hour),
            unit: is_stated.then(|| worth.unit.clone()),
            job: &job,
        };
        terms.compare()
    }
}

impl Terms<'_> {
    fn compare(&self) -> Result<Comparison, PlanFault> {
        let LogJob { log, mill, settings, methods_named, .. } = self.job;
        let methods = if *methods_named { &settings.methods[..] } else { &Method::ALL[..] };
        let (mut rows, mut nothing, mut known) = (Vec::new(), Vec::new(), Vec::new());
        let settings = Settings { methods: methods.to_vec(), ..settings.clone() };
        for (method, plan) in open_each(log, mill, &self.wants, &settings)? {
            match plan {
                Ok(plan) => rows.push(self.row(plan)),
                Err(why) => {
                    nothing.push(method);
                    for obstacle in why {
                        if !known.contains(&obstacle) {
                            known.push(obstacle);
                        }
                    }
                }
            }
        }
        let obstacles: Vec<Obstacle> = if rows.is_empty() { known } else { Vec::new() };
        let advice = self.advice(&rows)?;
        let unit = self.unit.clone();
        Ok(Comparison { rows, unit, advice, nothing, obstacles })
    }

    fn row(&self, plan: LogPlan) -> MethodRow {
        let counts = PlanCounts::of(&self.job.log, self.job.species, &plan.order, &plan.replayed);
        let minutes = self.job.pace.minutes(&counts);
        let (mut grades, mut rings) = (Vec::new(), Vec::new());
        for (product, look) in plan.products.iter().zip(&plan.looks) {
            let board_feet = self.wants[product.cut.want.0].cuts[product.cut.cut].board_feet;
            if let Some(expected) = look.grade {
                add(&mut grades, expected.grade, board_feet);
            }
            let class =
                look.rings.and_then(|rings| self.convention.class(rings.middle.as_millidegrees()));
            if let Some(class) = class {
                add(&mut rings, class, board_feet);
            }
        }
        // The better a grade, the smaller; below all of them last.
        grades.sort_by_key(|(grade, _)| (grade.is_none(), *grade));
        rings.sort_by_key(|(class, _)| *class);
        let cost_in_worth = self.hour.map(|hour| {
            #[allow(clippy::cast_possible_truncation, reason = "minutes of one log")]
            let milliminutes = (minutes * 1000.0).round() as i64;
            i64::try_from(i128::from(hour) * i128::from(milliminutes) / 60_000).unwrap_or(i64::MAX)
        });
        MethodRow {
            method: plan.method,
            grades,
            rings,
            minutes,
            cost: self.job.charges.cost(minutes),
            cost_in_worth,
            plan: Box::new(plan),
        }
    }

    /// Which row to choose.
    fn advice(&self, rows: &[MethodRow]) -> Result<Option<Advice>, PlanFault> {
        let Some(best) = best_of(rows, None) else { return Ok(None) };
        let Some(next) = best_of(rows, Some(best)) else {
            let sure = Sure::Alone;
            return Ok(Some(Advice { best, next: None, by_minutes: false, sure }));
        };
        let by_minutes = rows[best].is_equal(&rows[next]);
        let stays = |by: &Length| -> Result<bool, PlanFault> {
            let Ok(log) = self.job.log.thicker(*by) else { return Ok(true) };
            let methods = vec![rows[best].method, rows[next].method];
            let settings = Settings { methods, ..self.job.settings.clone() };
            let again = open_each(&log, &self.job.mill, &self.wants, &settings)?;
            let planned: Vec<MethodRow> =
                again.iter().filter_map(|(_, plan)| Some(self.row(plan.clone().ok()?))).collect();
            Ok(if planned.len() == 2 {
                best_of(&planned, None) == Some(0)
            } else {
                again[0].1.is_ok()
            })
        };
        let sizes = [-TAPE, TAPE];
        let stays: Vec<bool> = sizes.par_iter().map(stays).collect::<Result<_, PlanFault>>()?;
        let first = sizes.into_iter().zip(stays).find(|(_, stays)| !stays);
        let sure = first.map_or(Sure::EitherWay, |(by, _)| Sure::NotBy(by));
        Ok(Some(Advice { best, next: Some(next), by_minutes, sure }))
    }
}

/// The place of the row that leaves most, but for one; of those that are as good as equal to it, the one that takes the
/// fewest minutes.
fn best_of(rows: &[MethodRow], but: Option<usize>) -> Option<usize> {
    let all = || (0..rows.len()).filter(|n| Some(*n) != but);
    let most = all().max_by_key(|n| rows[*n].net())?;
    let equal = all().filter(|n| rows[*n].is_equal(&rows[most]));
    equal.min_by(|a, b| rows[*a].minutes.total_cmp(&rows[*b].minutes))
}

fn add<K: PartialEq>(sums: &mut Vec<(K, i64)>, key: K, more: i64) {
    match sums.iter_mut().find(|(known, _)| *known == key) {
        Some((_, sum)) => *sum += more,
        None => sums.push((key, more)),
    }
}
