//! What a job came to, from what was kept of its promise and from its tally.
//!
//! # What counts
//! * A log's **minutes** are those of work while it was on the mill; the log on which the day's first loading falls has it, and
//!   so has every other its own. They count where the log is done, all of it within one day of work, where the clock did not go
//!   back meanwhile, and where nothing was found in it and no blade met metal: then what was sawn is what was planned.
//! * **What came out** counts where the log is done and pieces of it were told, and where nothing was found in it. Rot and metal
//!   are in doubt before the day, and are reckoned with by themselves.
//! * A **day's** first work, if it is setting up, and its last, if it is packing up.
//! * A **move** of the mill to another place, between two logs of a day: with packing up before it and setting up behind it, as
//!   a forecast reckons it.
//! * A **blade** has sawn the logs since the change before; the log that was on the mill at a change, by the share of its time.
//!   What was sawn after the last change is a blade that lasts longer. So is one that was struck.

use std::collections::BTreeMap;

use pithward_day::kept::{Kept, KeptSawing};
use pithward_job::PileJob;
use pithward_measure::{Length, board_feet_micro};
use pithward_tally::{BladeEnd, Doing, LogSoFar, LogState, Piece, SoFar, Stretch};

use crate::observed::{BladeDone, BladeLog, DayDone, LogDone, MoveDone, Observed, Outcome};

/// What a job came to, and what of it could not be learned from.
#[derive(Clone, Debug, Default)]
pub struct JobDone {
    /// What it came to.
    pub observed: Observed,
    /// Logs that are left out, by what they are called, and why; in the order of the job.
    pub left_out: Vec<(String, Why)>,
}

/// Why a log is left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// The promise has no plan of it.
    NotPlanned,
    /// It is not done.
    NotDone,
    /// The tally does not say when it was on the mill; what came out of it counts.
    NoTime,
    /// It was on the mill on two days; what came out of it counts.
    TwoDays,
    /// The clock went back while it was on the mill; what came out of it counts.
    ClockBack,
    /// Something was found in it, or the blade met metal: it was not sawn as planned.
    Found,
    /// Nobody told what came out; its minutes count.
    NoPieces,
}

/// Work that rests as long ends a day of work, where it goes on at another date, seconds; as the tally counts days.
const NIGHT: i64 = 3 * 3600;

impl JobDone {
    /// What a job came to.
    pub fn of(job: &PileJob, kept: &Kept, so_far: &SoFar) -> Self {
        let mut done = Self {
            observed: Observed { yards: vec![job.yard.clone()], ..Observed::default() },
            ..Self::default()
        };
        let days = Days::of(&so_far.stretches);
        done.observed.days = days.told(&so_far.stretches);
        done.observed.moves = days.moves(&so_far.stretches);
        let mut places: BTreeMap<usize, usize> = BTreeMap::new();
        for (n, log) in so_far.logs.iter().enumerate() {
            if log.state == LogState::Waiting {
                continue;
            }
            let planned = kept.log_called(&log.id).and_then(|place| kept.logs[place].sawn.as_ref());
            let Some(planned) = planned else {
                done.left_out.push((log.id.clone(), Why::NotPlanned));
                continue;
            };
            // Its area is sawn, whatever else is known of it.
            places.insert(n, done.observed.logs.len());
            let struck =
                so_far.blades.iter().any(|it| it.log == Some(n) && it.end != BladeEnd::Dull);
            let found = struck || !log.found.is_empty();
            let (minutes, day) = done.minutes(n, found, so_far, &days);
            let outcome = done.outcome(log, found, planned);
            let changes = so_far.blades.iter().filter(|blade| blade.log == Some(n)).count();
            done.observed.logs.push(LogDone {
                job: 0,
                id: log.id.clone(),
                day: day.unwrap_or_default(),
                counts: planned.counts.clone(),
                minutes,
                changes: u32::try_from(changes).unwrap_or(u32::MAX),
                outcome,
            });
        }
        done.observed.blades = blades(so_far, &places);
        done
    }

    /// The minutes of a log and its day, where they count.
    fn minutes(
        &mut self,
        n: usize,
        found: bool,
        so_far: &SoFar,
        days: &Days,
    ) -> (Option<f64>, Option<usize>) {
        let log = &so_far.logs[n];
        let own = || so_far.stretches.iter().zip(&days.of).filter(|(it, _)| it.log == Some(n));
        let mut of: Vec<usize> = own().map(|(_, day)| *day).collect();
        of.dedup();
        let back = own().any(|(it, _)| it.to.timestamp() < it.from.timestamp());
        let why = if log.state != LogState::Done {
            Some(Why::NotDone)
        } else if found {
            Some(Why::Found)
        } else if log.seconds <= 0 {
            Some(Why::NoTime)
        } else if of.len() != 1 {
            Some(Why::TwoDays)
        } else if back {
            Some(Why::ClockBack)
        } else {
            None
        };
        if let Some(why) = why {
            self.left_out.push((log.id.clone(), why));
            return (None, of.first().copied());
        }
        #[allow(clippy::cast_precision_loss, reason = "far below 2^53 seconds")]
        let minutes = log.seconds as f64 / 60.0;
        (Some(minutes), of.first().copied())
    }

    /// What came out of a log, where it counts.
    fn outcome(&mut self, log: &LogSoFar, found: bool, planned: &KeptSawing) -> Option<Outcome> {
        if log.state != LogState::Done || found {
            return None;
        }
        if log.pieces.is_empty() {
            self.left_out.push((log.id.clone(), Why::NoPieces));
            return None;
        }
        Some(outcome(&log.pieces, planned))
    }
}

/// Thickness, width and length of a piece, as it is named.
type Named = (Length, Length, Length);

/// What came out, against the plan. A piece of the planned size is one, however many of others there are.
fn outcome(pieces: &[Piece], planned: &KeptSawing) -> Outcome {
    let mut came: BTreeMap<Named, u32> = BTreeMap::new();
    let mut came_feet = 0_i64;
    for Piece { what, .. } in pieces {
        let size = &what.size;
        *came.entry((size.thickness, size.width.least(), what.length())).or_default() += what.count;
        came_feet = came_feet.saturating_add(what.board_feet());
    }
    let mut outcome = Outcome { came_feet, ..Outcome::default() };
    for product in &planned.products {
        let size = &product.size;
        let (width, length) = (size.width.least(), size.length.unwrap_or_default());
        let feet = board_feet_micro(size.thickness, width, length);
        outcome.planned += product.count;
        outcome.planned_feet =
            outcome.planned_feet.saturating_add(feet.saturating_mul(i64::from(product.count)));
        if let Some(left) = came.get_mut(&(size.thickness, width, length)) {
            let here = product.count.min(*left);
            *left -= here;
            outcome.came += here;
        }
    }
    outcome
}

/// Days of work.
struct Days {
    /// The day of every stretch.
    of: Vec<usize>,
    /// How many there are.
    count: usize,
}

impl Days {
    fn of(stretches: &[Stretch]) -> Self {
        let mut of = Vec::with_capacity(stretches.len());
        let mut day = 0;
        for (n, stretch) in stretches.iter().enumerate() {
            if let Some(before) = n.checked_sub(1).map(|n| &stretches[n]) {
                let rested =
                    stretch.from.timestamp().as_second() - before.to.timestamp().as_second();
                day += usize::from(rested >= NIGHT && stretch.from.date() != before.to.date());
            }
            of.push(day);
        }
        Self { count: of.last().map_or(0, |day| day + 1), of }
    }

    /// What is known of each.
    fn told(&self, stretches: &[Stretch]) -> Vec<DayDone> {
        (0..self.count)
            .map(|day| {
                let own = || stretches.iter().zip(&self.of).filter(|(_, of)| **of == day);
                let logs: Vec<usize> = own()
                    .enumerate()
                    .filter(|(_, (it, _))| it.log.is_some())
                    .map(|(n, _)| n)
                    .collect();
                let (first, last) = (logs.first().copied(), logs.last().copied());
                let sum = |doing: Doing, from: usize, to: usize| {
                    let own = own().enumerate().filter(|(n, (it, _))| {
                        (from..to).contains(n) && it.doing == doing && !it.open
                    });
                    #[allow(clippy::cast_precision_loss, reason = "far below 2^53 seconds")]
                    let minutes = own.map(|(_, (it, _))| it.seconds).sum::<i64>() as f64 / 60.0;
                    (minutes > 0.0).then_some(minutes)
                };
                let count = own().count();
                DayDone {
                    job: 0,
                    first: day == 0,
                    last: day + 1 == self.count,
                    opening: sum(Doing::SettingUp, 0, first.unwrap_or(count)),
                    closing: last.and_then(|last| sum(Doing::PackingUp, last, count)),
                }
            })
            .collect()
    }

    /// Moves of the mill between two logs of one day.
    fn moves(&self, stretches: &[Stretch]) -> Vec<MoveDone> {
        let mut moves = Vec::new();
        let logs: Vec<usize> =
            (0..stretches.len()).filter(|n| stretches[*n].log.is_some()).collect();
        for pair in logs.windows(2).filter(|pair| self.of[pair[0]] == self.of[pair[1]]) {
            let between = &stretches[pair[0] + 1..pair[1]];
            if between.iter().all(|of| of.doing != Doing::MovingMill) {
                continue;
            }
            let of_it = between.iter().filter(|of| of.doing != Doing::MovingLogs);
            #[allow(clippy::cast_precision_loss, reason = "far below 2^53 seconds")]
            let minutes = of_it.map(|of| of.seconds).sum::<i64>() as f64 / 60.0;
            moves.push(MoveDone { job: 0, minutes });
        }
        moves.retain(|of| of.minutes > 0.0);
        moves
    }
}

/// What every blade sawed. `places` are those of the tally's logs among the observed ones.
fn blades(so_far: &SoFar, places: &BTreeMap<usize, usize>) -> Vec<BladeDone> {
    let mut all = Vec::new();
    let mut blade = BladeDone::default();
    let mut changes = so_far.blades.iter().peekable();
    let add = |blade: &mut BladeDone, log: usize, share: f64| {
        if share <= 0.0 {
            return;
        }
        match blade.logs.iter_mut().find(|of| of.log == log) {
            Some(of) => of.share += share,
            None => blade.logs.push(BladeLog { log, share }),
        }
    };
    for stretch in &so_far.stretches {
        let Some((log, place)) = stretch.log.and_then(|log| Some((log, *places.get(&log)?))) else {
            continue;
        };
        let seconds = |from: &jiff::ZonedDateTime, to: &jiff::ZonedDateTime| {
            (to.timestamp().as_second() - from.timestamp().as_second()).max(0)
        };
        #[allow(clippy::cast_precision_loss, reason = "far below 2^53 seconds")]
        let share = |part: i64| part as f64 / so_far.logs[log].seconds.max(1) as f64;
        let mut from = stretch.from.clone();
        while let Some(change) =
            changes.next_if(|change| change.at.timestamp() <= stretch.to.timestamp())
        {
            add(&mut blade, place, share(seconds(&from, &change.at)));
            blade.dull = change.end == BladeEnd::Dull;
            all.push(std::mem::take(&mut blade));
            if change.at.timestamp() > from.timestamp() {
                from = change.at.clone();
            }
        }
        add(&mut blade, place, share(seconds(&from, &stretch.to)));
    }
    for change in changes {
        blade.dull = change.end == BladeEnd::Dull;
        all.push(std::mem::take(&mut blade));
    }
    all.push(blade);
    all.retain(|blade| !blade.logs.is_empty());
    all
}

#[cfg(test)]
mod tests;
