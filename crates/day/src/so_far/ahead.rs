//! What is to be expected once some of the day has happened: minutes to go, the end, the price, each want, and whether what
//! was promised still stands.
//!
//! # Method
//! What has happened is certain. What is left is that of the simulated piles of the promise, each with its weight
//! ([`super::weighed`]), sawn on as each of them was to be sawn: it is no new plan, and where pieces were lost a new one may
//! do better. With nothing done all weights are one and all ranges those of the quote; with all done there is nothing left to
//! be unsure of.
//!
//! # Ranges
//! As those of [`range`](crate::range): of `n` weights of one, the ones at `(n + 1) p`.

use pithward_job::PileJob;
use pithward_measure::Money;
use pithward_tally::{BladeEnd, LogState, SoFar, WantSoFar};
use rayon::prelude::*;

use super::rest::{Known, Rest, of_seconds};
use super::weighed::{Happened, Weighed};
use super::worked;
use crate::kept::{Kept, KeptLog, KeptPattern, KeptPile, KeptSawn};
use crate::money::{Bill, Done, DoneLog, Lumber, Way, seconds};
use crate::range::{HIGH, LOW, Range};

/// What is to be expected.
#[derive(Clone, Debug, PartialEq)]
pub struct Ahead {
    /// What it rests on.
    pub basis: Basis,
    /// Piles that were asked.
    pub piles: usize,
    /// How many piles of the same weight would say as much.
    pub effective: f64,
    /// How much longer than stated work takes, likely, as a factor.
    pub pace: f64,
    /// Logs that are still to be sawn as planned, with the one on the mill.
    pub logs_to_go: usize,
    /// Minutes of work that are left, without breaks.
    pub to_go: Range<f64>,
    /// The same with the breaks: when the day is over, counted from now. Of several days only the work counts.
    pub until_the_end: Range<f64>,
    /// Days with work beyond those that were begun.
    pub more_days: Range<i64>,
    /// On site, from the first moment to the last, without breaks and pauses, minutes.
    pub on_site: Range<f64>,
    /// How often the hours do not pass the promised ones, from 0 to 1; `None` where none were promised.
    pub in_time: Option<f64>,
    /// Whether the promised hours stand; `None` where none were promised.
    pub hours: Option<Stands>,
    /// What the customer pays; `None` where there is no such price.
    pub price: Option<Range<Money>>,
    /// Board feet, millionths.
    pub board_feet: Range<i64>,
    /// Blades that are taken.
    pub blades: Range<u32>,
    /// The wants as the tally has them.
    pub wants: Vec<WantAhead>,
}

/// What a look ahead rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// Nothing has happened yet that says anything: the ranges are the promise's own.
    Promise,
    /// The piles of the promise, weighed by what has happened.
    Weighed,
    /// The same, but the day is beyond what nearly all piles held for possible: a guess.
    Far,
    /// No piles were simulated: the plan itself, at the pace of the day so far.
    Plan,
    /// All logs are done.
    Happened,
}

/// One want.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WantAhead {
    /// Pieces that are there.
    pub given: u32,
    /// How many are wanted now; `None` for as many as come.
    pub asked: Option<u32>,
    /// Pieces in the end.
    pub pieces: Range<u32>,
    /// How often all that are wanted come, from 0 to 1.
    pub filled: f64,
    /// What was promised with nine chances in ten, no more than are wanted now; `None` where nothing was.
    pub promised: Option<u32>,
    /// How often that comes.
    pub chance: f64,
    /// Whether it stands.
    pub stands: Option<Stands>,
}

/// Whether a promise stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// It is kept: what was promised is there.
    Kept,
    /// It stands, in four cases of five or more.
    Holds,
    /// It is in doubt.
    InDoubt,
    /// It will not be kept, in four cases of five or more.
    Unlikely,
    /// It is broken: it was more than can come now.
    Broken,
}

/// A promise stands where it is kept so often.
const HOLDS: f64 = 0.8;

impl Stands {
    fn of(chance: f64, is_kept: bool, is_over: bool) -> Self {
        match chance {
            _ if is_kept => Self::Kept,
            _ if is_over || chance <= 0.0 => Self::Broken,
            chance if chance >= HOLDS => Self::Holds,
            chance if chance > 1.0 - HOLDS => Self::InDoubt,
            _ => Self::Unlikely,
        }
    }
}

/// What one pile comes to in the end.
struct End {
    to_go: f64,
    until_the_end: f64,
    more_days: i64,
    on_site: f64,
    price: Option<Money>,
    board_feet: i64,
    blades: u32,
    pieces: Vec<u32>,
}

impl Ahead {
    /// What is to be expected of a job after what its tally says, sawing paid one way.
    pub fn of(job: &PileJob, kept: &Kept, so_far: &SoFar, way: Option<Way>) -> Self {
        let known = Known::of(job, kept, so_far);
        let done = worked(job, Some(kept), so_far);
        let happened = happened(job, kept, so_far);
        let spread = (job.doubt.pace_day, job.doubt.pace_log);
        let as_planned = PlanPile::of(job, kept);
        let known_of_plan = Known::of(job, &as_planned.kept, so_far);
        let alone = Weighed::of(&as_planned.kept, &happened, spread);
        let on = Day { job, kept, so_far, done: &done, way };
        let weighed = match kept.piles.is_empty() {
            true => alone.clone(),
            false => Weighed::of(kept, &happened, spread),
        };
        let ends: Vec<End> = match kept.piles.is_empty() {
            true => as_planned
                .kept
                .piles
                .iter()
                .map(|pile| on.end(&known_of_plan.rest(pile, alone.days[0])))
                .collect(),
            false => kept
                .piles
                .par_iter()
                .zip(&weighed.days)
                .map(|(pile, day)| on.end(&known.rest(pile, *day)))
                .collect(),
        };
        let planned =
            as_planned.kept.piles.iter().map(|pile| on.end(&known_of_plan.rest(pile, 1.0)));
        let planned: Vec<End> = planned.collect();
        let to_go = on.left(&known);
        let basis = match () {
            () if to_go == 0 => Basis::Happened,
            () if kept.piles.is_empty() => Basis::Plan,
            () if happened == Happened::default() => Basis::Promise,
            () if weighed.far => Basis::Far,
            () => Basis::Weighed,
        };
        on.summed(&planned, &ends, &weighed, (basis, to_go))
    }
}

/// What one day is reckoned from.
struct Day<'a> {
    job: &'a PileJob,
    kept: &'a Kept,
    so_far: &'a SoFar,
    done: &'a Done,
    way: Option<Way>,
}

impl Day<'_> {
    /// Logs of the plan that are still to be sawn.
    fn left(&self, known: &Known<'_>) -> usize {
        let left = |place: &&usize| known.state(**place) != super::rest::State::Done;
        self.kept.order.iter().filter(left).count()
    }

    fn end(&self, rest: &Rest<'_>) -> End {
        let Self { job, so_far, done, .. } = *self;
        let spent = so_far.spent;
        let on_site = of_seconds(spent.on_site());
        let changed = u32::try_from(so_far.blades.len()).unwrap_or(u32::MAX);
        let any = changed > 0 || spent.sawing > 0 || !rest.logs.is_empty();
        let came = so_far.board_feet();
        let on_the_mill = so_far.on_the_mill.and_then(|log| so_far.logs.get(log));
        // What is off the log on the mill already is among what its pile says of it.
        let of_it = on_the_mill.map_or(0, |log| log.board_feet());
        let more_days = match so_far.days {
            0 => rest.days,
            // The day that was begun counts, though no log is done yet.
            _ if so_far.logs.iter().all(|log| log.state != LogState::Done) => {
                (rest.days - 1).max(0)
            }
            _ => rest.days,
        };
        let price = self.way.and_then(|way| {
            let mut all = done.clone();
            // What brings logs to the mill is billed by itself.
            let moving = seconds(rest.moving).min(seconds(rest.at_the_saw));
            all.moving += moving;
            all.at_the_saw += seconds(rest.at_the_saw) - moving;
            all.on_site += seconds(rest.minutes) - moving;
            all.odd = (all.odd + seconds(rest.odd)).min(all.at_the_saw);
            all.logs.extend(rest.logs.iter().map(|log| (*log).clone()));
            all.blades += rest.struck;
            all.drive = job.yard.drive.unwrap_or_default() * (i64::from(so_far.days) + more_days);
            all.relocations = job.yard.moves.max(so_far.moves);
            Bill::of(&all, &job.charges, way).ok().map(|bill| bill.total)
        });
        End {
            to_go: rest.minutes,
            until_the_end: rest.minutes + rest.breaks,
            more_days,
            on_site: on_site + rest.minutes,
            price,
            board_feet: came.saturating_add((rest.board_feet - of_it).max(0)),
            blades: u32::from(any) + changed + rest.changes,
            pieces: self.pieces(rest),
        }
    }

    /// Pieces in the end, by the wants of the tally.
    fn pieces(&self, rest: &Rest<'_>) -> Vec<u32> {
        let on_the_mill = self.so_far.on_the_mill.and_then(|log| self.so_far.logs.get(log));
        let wants = self.so_far.wants.iter().enumerate();
        wants
            .map(|(n, want)| {
                let to = on_the_mill.into_iter().flat_map(|log| &log.pieces);
                let of_it: u32 = to
                    .flat_map(|piece| &piece.to)
                    .filter(|(to, _)| *to == n)
                    .map(|(_, count)| *count)
                    .sum();
                let more = self.place(want).and_then(|place| rest.pieces.get(place)).copied();
                want.given + more.unwrap_or(0).saturating_sub(of_it)
            })
            .collect()
    }

    /// The place of a want in the promise.
    fn place(&self, want: &WantSoFar) -> Option<usize> {
        let same =
            |place: &usize| self.kept.wants.get(*place).is_some_and(|kept| kept.size == want.size);
        want.in_job.filter(same)
    }

    fn summed(
        &self,
        planned: &[End],
        ends: &[End],
        weighed: &Weighed,
        (basis, logs_to_go): (Basis, usize),
    ) -> Ahead {
        let weights = &weighed.weights;
        let over = basis == Basis::Happened;
        let floats = |of: &dyn Fn(&End) -> f64| {
            let of_plan = planned.first().map_or(0.0, of);
            weighted(of_plan, ends.iter().map(of), weights, f64::total_cmp)
        };
        let whole = |of: &dyn Fn(&End) -> i64| {
            let of_plan = planned.first().map_or(0, of);
            weighted(of_plan, ends.iter().map(of), weights, Ord::cmp)
        };
        let share = |is: &dyn Fn(&End) -> bool| {
            let all: f64 = weights.iter().sum();
            let of = ends.iter().zip(weights).filter(|(end, _)| is(end));
            if all > 0.0 { of.map(|(_, weight)| weight).sum::<f64>() / all } else { 0.0 }
        };
        let by = |one: &Money, two: &Money| one.as_ten_thousandths().cmp(&two.as_ten_thousandths());
        let prices: Option<Vec<Money>> = ends.iter().map(|end| end.price).collect();
        let price = planned.first().and_then(|end| end.price).zip(prices);
        let days = self.kept.ranges.map(|ranges| ranges.minutes.high);
        // A microsecond is not late.
        let in_time = days.map(|high| share(&|end| end.on_site <= high + 1e-6));
        let wants = self.so_far.wants.iter().enumerate().map(|(n, want)| {
            let pieces = |end: &End| end.pieces.get(n).copied().unwrap_or(0);
            let promised = self.place(want).and_then(|place| self.kept.wants.get(place)?.promised);
            let promised = promised.map(|promised| match want.count {
                Some(count) => promised.safe.min(count),
                None => promised.safe,
            });
            let chance = promised.map_or(1.0, |safe| share(&|end| pieces(end) >= safe));
            WantAhead {
                given: want.given,
                asked: want.count,
                pieces: weighted(
                    planned.first().map_or(want.given, pieces),
                    ends.iter().map(pieces),
                    weights,
                    Ord::cmp,
                ),
                filled: want.count.map_or(1.0, |count| share(&|end| pieces(end) >= count)),
                promised,
                chance,
                stands: promised.map(|safe| Stands::of(chance, want.given >= safe, over)),
            }
        });
        Ahead {
            basis,
            piles: self.kept.piles.len(),
            effective: weighed.effective,
            pace: pace(weighed),
            logs_to_go,
            to_go: floats(&|end| end.to_go),
            until_the_end: floats(&|end| end.until_the_end),
            more_days: whole(&|end| end.more_days),
            on_site: floats(&|end| end.on_site),
            in_time,
            hours: in_time.map(|chance| Stands::of(chance, over && chance > 0.5, over)),
            price: price.map(|(planned, prices)| weighted(planned, prices, weights, by)),
            board_feet: whole(&|end| end.board_feet),
            blades: weighted(
                planned.first().map_or(0, |end| end.blades),
                ends.iter().map(|end| end.blades),
                weights,
                Ord::cmp,
            ),
            wants: wants.collect(),
        }
    }
}

fn pace(weighed: &Weighed) -> f64 {
    let days = weighed.days.iter().zip(&weighed.weights).map(|(day, weight)| (*day, *weight));
    let (mut days, mut all): (Vec<(f64, f64)>, f64) = (days.collect(), 0.0);
    days.sort_by(|one, two| one.0.total_cmp(&two.0));
    let half = days.iter().map(|(_, weight)| weight).sum::<f64>() / 2.0;
    for (day, weight) in &days {
        all += weight;
        if all >= half {
            return *day;
        }
    }
    1.0
}

/// What has happened, as far as it says anything of the rest.
fn happened(job: &PileJob, kept: &Kept, so_far: &SoFar) -> Happened {
    let change = job.pace.blade.change.as_secs_f64() / 60.0;
    let metal = (job.doubt.metal.time.as_secs_f64() / 60.0).max(change);
    let mut happened = Happened::default();
    for (n, log) in so_far.logs.iter().enumerate() {
        if log.state != LogState::Done {
            continue;
        }
        let Some(place) = kept.log_called(&log.id) else { continue };
        if kept.logs[place].sawn.is_none() {
            continue;
        }
        let blades = so_far.blades.iter().filter(|blade| blade.log == Some(n));
        let changes: f64 =
            blades.map(|blade| if blade.end == BladeEnd::Dull { change } else { metal }).sum();
        let minutes = of_seconds(log.seconds);
        if minutes > 0.0 {
            // Where more was taken off than is left, the change was in a pause.
            let net = if minutes - changes > minutes / 4.0 { minutes - changes } else { minutes };
            happened.timed.push((place, net));
        }
        happened.sawn.push(place);
        happened.board_feet = happened.board_feet.saturating_add(log.board_feet());
    }
    happened
}

/// The plan itself as the only pile of a promise.
struct PlanPile {
    kept: Kept,
}

impl PlanPile {
    fn of(job: &PileJob, kept: &Kept) -> Self {
        let (mut patterns, mut logs) = (Vec::new(), Vec::new());
        for place in &kept.order {
            let Some((pattern, board_feet)) =
                kept.logs.get(*place).and_then(|log| of_plan(job, log))
            else {
                continue;
            };
            logs.push(KeptSawn {
                log: *place,
                pattern: patterns.len(),
                pace: 1.0,
                struck: 0,
                board_feet,
                pieces: None,
            });
            patterns.push(pattern);
        }
        let piles = vec![KeptPile { day: 1.0, logs }];
        Self { kept: Kept { patterns, piles, lift: 1.0, ..kept.clone_without_piles() } }
    }
}

fn of_plan(job: &PileJob, log: &KeptLog) -> Option<(KeptPattern, i64)> {
    let sawn = log.sawn.as_ref()?;
    let mut lumber: Vec<Lumber> = Vec::new();
    let mut pieces: Vec<(usize, u32)> = Vec::new();
    let mut odd = 0_i64;
    for product in &sawn.products {
        let size = product.size;
        let more = Lumber::pieces(product.count, size, product.sawn)
            .for_want(job, job.wants.get(product.want));
        if job.charges.odd.is(size.thickness, size.width.least(), sawn.quarter) {
            odd = odd.saturating_add(more.named);
        }
        lumber.push(more);
        match pieces.iter_mut().find(|(want, _)| *want == product.want) {
            Some((_, count)) => *count += product.count,
            None => pieces.push((product.want, product.count)),
        }
    }
    #[allow(clippy::cast_precision_loss, reason = "far below 2^53 millionths of a board foot")]
    let odd = odd as f64 / sawn.board_feet.max(1) as f64;
    let length = log.length - job.trim;
    let pattern = KeptPattern {
        hours: sawn.hours,
        log: DoneLog { id: log.id.clone(), small_end: log.small_end, length, lumber },
        odd,
        pieces,
    };
    Some((pattern, sawn.board_feet))
}

/// The range of weighed figures; as planned where there is none.
fn weighted<T: Copy>(
    planned: T,
    figures: impl IntoIterator<Item = T>,
    weights: &[f64],
    order: impl Fn(&T, &T) -> std::cmp::Ordering,
) -> Range<T> {
    let mut all: Vec<(T, f64)> = figures.into_iter().zip(weights.iter().copied()).collect();
    all.sort_by(|one, two| order(&one.0, &two.0));
    let (Some(first), Some(last)) = (all.first().copied(), all.last().copied()) else {
        return Range { planned, low: planned, likely: planned, high: planned };
    };
    let n = all.iter().map(|(_, weight)| weight).sum::<f64>() + 1.0;
    // Weights of one add up to whole numbers, but for the last places.
    const SLACK: f64 = 1e-9;
    let at = |hundredths: usize| n * hundredths as f64 / 100.0;
    let (mut low, mut likely, mut high) = (first.0, None, None);
    let mut sum = 0.0;
    for (figure, weight) in all {
        sum += weight;
        if sum <= at(LOW) + SLACK {
            low = figure;
        }
        if likely.is_none() && sum >= at(50) - SLACK {
            likely = Some(figure);
        }
        if high.is_none() && sum >= at(HIGH) - SLACK {
            high = Some(figure);
        }
    }
    Range { planned, low, likely: likely.unwrap_or(last.0), high: high.unwrap_or(last.0) }
}
