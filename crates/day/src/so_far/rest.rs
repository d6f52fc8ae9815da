//! What is left of a day: the logs that are not done, and what comes of them in one pile.
//!
//! # Hours
//! Those of the whole day are reckoned as a quote reckons them, the logs that are done with the minutes that they took; what
//! the logs that are done come to alone is taken off again. What is left is work at the logs, changes of blades, moves, nights
//! and tarps, and of setting up and packing up what was not done yet:
//! ```text
//! left = day(done, rest) - day(done) + set up + pack up
//! ```
//! With nothing done that is the whole day, with all done it is nothing.

use std::time::Duration;

use pithward_job::PileJob;
use pithward_tally::{Doing, LogState, SoFar};

use crate::hours::{Hours, LogHours};
use crate::kept::{Kept, KeptPile};
use crate::money::DoneLog;

/// A log on the mill takes at least so much of what it was thought to take, however long it has been there.
const LEAST_LEFT: f64 = 0.1;

/// What one pile says of the rest of the day.
#[derive(Clone, Debug, Default)]
pub(super) struct Rest<'k> {
    /// Minutes of work that are left, without breaks, where nothing is left out.
    pub(super) minutes: f64,
    /// Of that, work at the logs and changes of blades.
    pub(super) at_the_saw: f64,
    /// Breaks in it.
    pub(super) breaks: f64,
    /// Days on site beyond those that were begun.
    pub(super) days: i64,
    /// Blades that will be changed.
    pub(super) changes: u32,
    /// Of those, blades that meet metal.
    pub(super) struck: u32,
    /// Minutes of it that are odd work.
    pub(super) odd: f64,
    /// Minutes of it that bring logs to the mill.
    pub(super) moving: f64,
    /// Board feet, millionths, lifted as the promise is.
    pub(super) board_feet: i64,
    /// Pieces by want.
    pub(super) pieces: Vec<u32>,
    /// Logs as they are billed.
    pub(super) logs: Vec<&'k DoneLog>,
}

/// What is known of the day before any pile is asked.
#[derive(Clone, Debug)]
pub(super) struct Known<'a> {
    job: &'a PileJob,
    kept: &'a Kept,
    /// The logs that are done or on the mill, with the minutes that they took.
    done: Vec<LogHours>,
    /// What these alone come to.
    of_done: Hours,
    /// Of every log of the promise how far it is.
    state: Vec<State>,
    /// Minutes of setting up and of packing up that are left.
    around: f64,
    /// Moves of the mill that were told, and minutes that the one at hand has taken.
    moves: u32,
    moving: f64,
}

/// How far a log of the promise is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum State {
    /// It waits.
    Waits,
    /// It is on the mill, so many minutes, and gave pieces already.
    OnTheMill(f64),
    /// It is done.
    Done,
}

fn minutes(time: Duration) -> f64 {
    time.as_secs_f64() / 60.0
}

#[allow(clippy::cast_precision_loss, reason = "seconds of some days")]
pub(super) fn of_seconds(seconds: i64) -> f64 {
    seconds as f64 / 60.0
}

#[allow(clippy::cast_possible_truncation, reason = "`as` saturates, and no pile is that large")]
#[allow(clippy::cast_precision_loss, reason = "far below 2^53 millionths of a board foot")]
pub(super) fn lifted(board_feet: i64, lift: f64) -> i64 {
    (board_feet as f64 * lift).round() as i64
}

impl<'a> Known<'a> {
    pub(super) fn of(job: &'a PileJob, kept: &'a Kept, so_far: &SoFar) -> Self {
        let mut state = vec![State::Waits; kept.logs.len()];
        let mut done = Vec::new();
        for log in &so_far.logs {
            let is = match log.state {
                LogState::Waiting if log.pieces.is_empty() => continue,
                LogState::Waiting | LogState::Done => State::Done,
                LogState::OnTheMill => State::OnTheMill(of_seconds(log.seconds)),
            };
            let place = kept.log_called(&log.id);
            if let Some(own) = place.and_then(|place| state.get_mut(place)) {
                *own = is;
            }
            if is == State::Done {
                let planned = place.and_then(|place| kept.logs[place].sawn.as_ref());
                let wear = planned.map_or(0.0, |sawn| sawn.hours.wear);
                done.push(LogHours {
                    minutes: of_seconds(log.seconds),
                    wear,
                    ..LogHours::default()
                });
            }
        }
        let of_done = Hours::of(&done, &job.pace, &job.yard, None);
        let spent = &so_far.spent;
        let begun = so_far.logs.iter().any(|log| log.from.is_some() || !log.pieces.is_empty());
        let set_up = match begun || spent.sawing > 0 {
            true => 0.0,
            false => (job.yard.set_up(&job.pace) - of_seconds(spent.setting_up)).max(0.0),
        };
        let packed = so_far.stretches.iter().any(|stretch| stretch.doing == Doing::PackingUp);
        let over = packed && so_far.stretches.last().is_some_and(|stretch| !stretch.open);
        let pack_up = match over {
            true => 0.0,
            false => (minutes(job.pace.day.pack_up) - of_seconds(spent.packing_up)).max(0.0),
        };
        // The mill that is being moved has the rest of its move before it.
        let at_hand = so_far.stretches.iter().rev().take_while(|of| of.doing != Doing::Sawing);
        let moving: i64 =
            at_hand.filter(|of| of.doing == Doing::MovingMill).map(|of| of.seconds).sum();
        Self {
            job,
            kept,
            done,
            of_done,
            state,
            around: set_up + pack_up,
            moves: so_far.moves,
            moving: of_seconds(moving),
        }
    }

    pub(super) fn state(&self, log: usize) -> State {
        self.state.get(log).copied().unwrap_or(State::Waits)
    }

    /// What is left in a pile, whose day goes at a pace of its own.
    pub(super) fn rest<'k>(&self, pile: &'k KeptPile, day: f64) -> Rest<'k>
    where
        'a: 'k,
    {
        let Self { job, kept, .. } = *self;
        let mut rest = Rest { pieces: vec![0; kept.wants.len()], ..Rest::default() };
        let mut all = self.done.clone();
        let more = (minutes(job.doubt.metal.time) - minutes(job.pace.blade.change)).max(0.0);
        for sawn in &pile.logs {
            let Some(pattern) = kept.patterns.get(sawn.pattern) else { continue };
            let hours = pattern.hours.at_pace(day * sawn.pace);
            let metal = more * f64::from(sawn.struck);
            let whole = hours.minutes + metal;
            let left = match self.state(sawn.log) {
                State::Done => continue,
                State::Waits => 1.0,
                State::OnTheMill(so_far) if whole > 0.0 => {
                    ((whole - so_far) / whole).clamp(LEAST_LEFT, 1.0)
                }
                State::OnTheMill(_) => LEAST_LEFT,
            };
            rest.odd += whole * left * pattern.odd;
            // A log on the mill was brought there.
            if self.state(sawn.log) == State::Waits {
                rest.moving += job.yard.moving(&job.pace) * day * sawn.pace;
            }
            rest.board_feet = rest.board_feet.saturating_add(sawn.board_feet);
            for (want, count) in kept.pieces_of(sawn) {
                if let Some(pieces) = rest.pieces.get_mut(*want) {
                    *pieces += count;
                }
            }
            rest.logs.push(&pattern.log);
            all.push(LogHours {
                minutes: whole * left,
                waits: (hours.waits + metal) * left,
                wear: hours.wear * left,
                strikes: sawn.struck,
                ..hours
            });
        }
        rest.board_feet = lifted(rest.board_feet, kept.lift);
        let hours = Hours::of(&all, &job.pace, &job.yard, None);
        let of_done = &self.of_done;
        let logs = (hours.at_logs - of_done.at_logs).max(0.0);
        let changes = (hours.changes - of_done.changes).max(0.0);
        rest.at_the_saw = logs + changes;
        let around = if all.is_empty() { 0.0 } else { self.around };
        rest.minutes = rest.at_the_saw
            + around
            + self.moves(all.len())
            + (hours.nights - of_done.nights).max(0.0)
            + (hours.tidy - of_done.tidy).max(0.0);
        rest.breaks = (hours.rests - of_done.rests).max(0.0);
        let count = |days: usize| i64::try_from(days).unwrap_or(i64::MAX);
        rest.days = (count(hours.days.len()) - count(of_done.days.len())).max(0);
        rest.changes = (hours.worn + hours.struck).saturating_sub(of_done.worn + of_done.struck);
        rest.struck = hours.struck.saturating_sub(of_done.struck);
        rest
    }

    /// Minutes of the moves of the mill that are still to come, of so many logs in all: those that were agreed less those that
    /// were told; where none was told, those that do not lie behind by the logs that are done.
    fn moves(&self, logs: usize) -> f64 {
        let (job, done) = (self.job, self.done.len() as u64);
        let each = job.yard.set_up(&job.pace) + minutes(job.pace.day.pack_up);
        if self.moves > 0 {
            let at_hand = if self.moving > 0.0 { (each - self.moving).max(0.0) } else { 0.0 };
            return f64::from(job.yard.moves.saturating_sub(self.moves)) * each + at_hand;
        }
        let (moves, logs) = (u64::from(job.yard.moves), logs as u64);
        if done >= logs {
            return 0.0;
        }
        // The k-th of them comes before log `ceil(k logs / (moves + 1))`.
        let place = |k: u64| (k * logs).div_ceil(moves + 1).clamp(1, logs.max(2) - 1);
        let left = (1..=moves).filter(|k| done == 0 || place(*k) >= done).count();
        f64::from(u32::try_from(left).unwrap_or(u32::MAX)) * each
    }
}
