//! The days of a job, log by log.

use std::ops::Range;
use std::time::Duration;

use pithward_job::{Pace, Residue, Yard};

use super::{Hours, LogHours};

/// One day, in minutes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Day {
    /// When it begins, minutes after midnight; `None` where nobody says.
    pub begins: Option<u32>,
    /// Its logs, by their place in the order of sawing.
    pub logs: Range<usize>,
    /// Setting up, or uncovering and greasing.
    pub open: f64,
    /// Work at the logs.
    pub at_logs: f64,
    /// Changes of blades.
    pub changes: f64,
    /// Moves to another place of the yard.
    pub moves: f64,
    /// Covering up or packing up, and emptying a tarp.
    pub close: f64,
    /// Breaks.
    pub rests: f64,
    /// It is longer than a day may be, because of one log.
    pub overruns: bool,
}

/// Where a log falls.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LogPlace {
    /// Its day, from 0.
    pub day: usize,
    /// When it is begun, minutes after the day's beginning.
    pub begins: f64,
    /// What it takes, without changes of blades.
    pub minutes: f64,
    /// Blades that are changed before or within it.
    pub changes: u32,
}

impl Day {
    /// All work, without breaks.
    pub fn work(&self) -> f64 {
        self.open + self.at_logs + self.changes + self.moves + self.close
    }

    /// From its beginning to its end.
    pub fn minutes(&self) -> f64 {
        self.work() + self.rests
    }
}

/// How much of a blade is gone, by area and by hours in the wood.
#[derive(Clone, Copy, Debug, Default)]
struct Wear {
    area: f64,
    hours: f64,
}

/// More changes within one log than any has.
const MOST_CHANGES: u32 = 1000;

impl Wear {
    /// A log is sawn that takes so much of a blade: how many are changed.
    fn saw(&mut self, area: f64, hours: f64) -> u32 {
        let (mut left, mut changes) = (1.0, 0);
        while changes < MOST_CHANGES {
            // The share of the log that the blade still lasts for.
            let by_area = if area > 0.0 { (1.0 - self.area) / area } else { f64::INFINITY };
            let by_hours = if hours > 0.0 { (1.0 - self.hours) / hours } else { f64::INFINITY };
            let lasts = by_area.min(by_hours).max(0.0);
            if lasts >= left {
                break;
            }
            left -= lasts;
            changes += 1;
            *self = Self::default();
        }
        self.area += area * left;
        self.hours += hours * left;
        changes
    }
}

fn minutes(time: Duration) -> f64 {
    time.as_secs_f64() / 60.0
}

/// Breaks within so much work: one falls due after each `every`, none at its end.
fn breaks(work: f64, every: f64) -> f64 {
    ((work - 1e-9) / every).floor().max(0.0)
}

/// Logs in their order, split into days.
pub(super) fn split(logs: &[LogHours], pace: &Pace, yard: &Yard, start: Option<u32>) -> Hours {
    let mut hours = Hours::default();
    if logs.is_empty() {
        return hours;
    }
    let (rest, every) = (minutes(pace.day.rest), minutes(pace.day.rest_every).max(1.0));
    let with_rests = |work: f64| work + breaks(work, every) * rest;
    let longest = yard.longest_day(pace) + 1e-9;
    let tidy = if yard.residue == Residue::Tarp { minutes(pace.day.tidy) } else { 0.0 };
    let half_night = minutes(pace.day.overnight) / 2.0;
    let (set_up, pack_up) = (yard.set_up(pace), minutes(pace.day.pack_up));
    let change = minutes(pace.blade.change);
    let life = pace.blade.minutes(yard.dirty, yard.frozen);
    let heard = yard.noise.map_or(0, |noise| noise.from);
    let begins = start.map(|start| start.max(heard)).or(yard.noise.map(|noise| noise.from));
    let mut wear = Wear::default();
    let mut day = Day { begins, open: set_up, ..Day::default() };
    for (n, log) in logs.iter().enumerate() {
        let mut worn = wear;
        let mut changes = worn.saw(log.wear, log.steps.sawing / life);
        let struck = log.strikes;
        if struck > 0 {
            // The blade that comes on after the last strike is a new one.
            worn = Wear::default();
            changes += struck;
        }
        let moves = f64::from(moves_before(n, logs.len(), yard.moves)) * (pack_up + set_up);
        let takes = moves + log.minutes + f64::from(changes) * change;
        let close = tidy + if n + 1 == logs.len() { pack_up } else { half_night };
        if !day.logs.is_empty() && with_rests(day.work() + takes + close) > longest {
            day.close = tidy + half_night;
            day.rests = breaks(day.work(), every) * rest;
            let next = Day { begins, open: half_night, logs: n..n, ..Day::default() };
            hours.days.push(std::mem::replace(&mut day, next));
            hours.nights += 2.0 * half_night;
            hours.tidy += tidy;
        }
        let before = day.work();
        hours.logs.push(LogPlace {
            day: hours.days.len(),
            begins: before + moves + breaks(before + moves, every) * rest,
            minutes: log.minutes,
            changes,
        });
        day.logs.end = n + 1;
        day.at_logs += log.minutes;
        day.changes += f64::from(changes) * change;
        day.moves += moves;
        day.overruns |= with_rests(day.work() + close) > longest;
        wear = worn;
        hours.worn += changes - struck;
        hours.struck += struck;
        hours.steps = hours.steps.plus(log.steps);
        hours.stacking += log.stacking;
        hours.waits += log.waits;
        hours.at_logs += log.minutes;
        hours.area += log.area;
        hours.moves += moves;
    }
    day.close = tidy + pack_up;
    day.rests = breaks(day.work(), every) * rest;
    hours.days.push(day);
    hours.tidy += tidy;
    (hours.set_up, hours.pack_up) = (set_up, pack_up);
    hours.changes = hours.days.iter().map(|day| day.changes).sum();
    hours.rests = hours.days.iter().map(|day| day.rests).sum();
    hours
}

/// How many of some moves come before the n-th of some logs: they part the order evenly, and none comes before the first.
fn moves_before(n: usize, logs: usize, moves: u32) -> u32 {
    // The k-th move comes before log `ceil(k logs / (moves + 1))`.
    let logs = logs as u64;
    let place = |k: u32| (u64::from(k) * logs).div_ceil(u64::from(moves) + 1);
    let at = |k: &u32| place(*k).clamp(1, logs.max(2) - 1) == n as u64;
    u32::try_from((1..=moves).filter(at).count()).unwrap_or_default()
}
