//! The entries of a tally, walked through in their order.

use jiff::ZonedDateTime;
use jiff::civil::Date;
use pithward_job::PileJob;

use super::{
    BladeChange, ClockBack, Finding, LogSoFar, LogState, Pause, Piece, Planned, Remark, SoFar,
    Stretch, lumber,
};
use crate::entry::{Doing, Entry, Off, Said, SizeCount};
use crate::record::Record;

/// So many seconds without work end a day, where the next work begins on another date.
const NIGHT: i64 = 3 * 3600;

/// Nobody works so long without a word, in seconds: what is open then was forgotten, and ends with the last word.
const SILENT: i64 = 12 * 3600;

impl SoFar {
    /// How the day stands by a record of a job, now. A log that only the tally names comes behind those of the job.
    pub fn of(record: &Record, job: &PileJob, planned: &dyn Planned, now: &ZonedDateTime) -> Self {
        let log = |(n, log): (usize, &pithward_job::JobLog)| LogSoFar::new(&log.id, Some(n));
        let mut walk = Walk {
            so_far: Self {
                logs: job.logs.iter().enumerate().map(log).collect(),
                wants: lumber::wants(job),
                ..Self::default()
            },
            planned,
            job,
            doing: None,
            log: None,
            resting: None,
            done: vec![false; job.logs.len()],
            day: None,
            last: None,
        };
        walk.so_far.clock_back = clock_back(record);
        for entry in in_order(record) {
            walk.to(&entry.at);
            walk.entry(entry);
        }
        if let Some(last) = record.counted().map(|entry| &entry.at).max_by_key(|at| at.timestamp())
        {
            if seconds(last, now) <= SILENT {
                walk.to(now);
            }
            walk.so_far.now = Some(now.clone());
        }
        walk.finish()
    }
}

/// The entries that count in the order in which they happened: those whose time was told by hand where it belongs, all
/// others as they were entered, whatever the clock said.
fn in_order(record: &Record) -> Vec<&Entry> {
    let mut order: Vec<&Entry> = record.counted().filter(|entry| !entry.late).collect();
    for late in record.counted().filter(|entry| entry.late) {
        let before = |entry: &&Entry| entry.at.timestamp() <= late.at.timestamp();
        let place = order.iter().rposition(before).map_or(0, |n| n + 1);
        order.insert(place, late);
    }
    order
}

/// Where the clock went back between two entries.
fn clock_back(record: &Record) -> Vec<ClockBack> {
    let told: Vec<&Entry> = record.counted().filter(|entry| !entry.late).collect();
    let back = |pair: &[&Entry]| {
        let seconds = seconds(&pair[1].at, &pair[0].at);
        let [before, after] = [pair[0], pair[1]].map(|entry| entry.number);
        (seconds > 0).then_some(ClockBack { entry: after, before, seconds })
    };
    told.windows(2).filter_map(back).collect()
}

/// Whole seconds from one time to another.
fn seconds(from: &ZonedDateTime, to: &ZonedDateTime) -> i64 {
    to.timestamp().as_second() - from.timestamp().as_second()
}

struct Walk<'a> {
    so_far: SoFar,
    planned: &'a dyn Planned,
    job: &'a PileJob,
    /// What work is done; `None` before it begins and after it stopped.
    doing: Option<Doing>,
    log: Option<usize>,
    /// Work rests; why.
    resting: Option<Option<String>>,
    /// Logs of which nothing more comes.
    done: Vec<bool>,
    /// The date on which the day of work began.
    day: Option<Date>,
    /// The time that was walked to.
    last: Option<ZonedDateTime>,
}

impl LogSoFar {
    fn new(id: &str, in_job: Option<usize>) -> Self {
        Self {
            id: id.to_owned(),
            in_job,
            state: LogState::Waiting,
            from: None,
            to: None,
            seconds: 0,
            pieces: Vec::new(),
            as_planned: false,
            found: Vec::new(),
        }
    }
}

impl Walk<'_> {
    /// Time passes.
    fn to(&mut self, at: &ZonedDateTime) {
        if let Some(last) = self.last.replace(at.clone()) {
            let passed = seconds(&last, at).max(0);
            if self.resting.is_some() {
                if let Some(pause) = self.so_far.pauses.last_mut().filter(|pause| pause.open) {
                    pause.seconds += passed;
                    pause.to = at.clone();
                }
            } else if let Some(doing) = self.doing {
                self.work(doing, passed, at);
            }
        }
    }

    fn work(&mut self, doing: Doing, passed: i64, at: &ZonedDateTime) {
        if let Some(stretch) = self.so_far.stretches.last_mut().filter(|stretch| stretch.open) {
            stretch.seconds += passed;
            stretch.to = at.clone();
        }
        let spent = &mut self.so_far.spent;
        let on = match doing {
            Doing::SettingUp => &mut spent.setting_up,
            Doing::Sawing => &mut spent.sawing,
            Doing::MovingLogs => &mut spent.moving_logs,
            Doing::MovingMill => &mut spent.moving_mill,
            Doing::PackingUp => &mut spent.packing_up,
        };
        *on += passed;
        if let Some(log) = self.log.filter(|_| doing == Doing::Sawing) {
            let log = &mut self.so_far.logs[log];
            log.seconds += passed;
            log.to = Some(at.clone());
        }
        if let Some((_, last)) = &mut self.so_far.work {
            *last = at.clone();
        }
    }

    fn entry(&mut self, entry: &Entry) {
        let Entry { number, at, said, .. } = entry;
        let before = (self.doing, self.log, self.resting.clone());
        match said {
            Said::Begin(doing) => {
                self.doing = Some(*doing);
                self.resting = None;
            }
            Said::Pause { why } => self.resting = Some(why.clone()),
            Said::Stop => {
                self.doing = None;
                self.resting = None;
            }
            Said::On { log } => {
                let log = self.log_named(log);
                if let Some(before) = self.log.replace(log).filter(|before| *before != log) {
                    self.done[before] = true;
                }
                self.done[log] = false;
                self.doing = Some(Doing::Sawing);
                self.resting = None;
                let told = &mut self.so_far.logs[log];
                told.from.get_or_insert_with(|| at.clone());
                told.to = Some(at.clone());
            }
            Said::Off(off) => self.off(entry, off),
            Said::Done { log } => {
                if let Some(log) = self.or_on_the_mill(log.as_deref()) {
                    self.done[log] = true;
                    if self.log == Some(log) {
                        self.log = None;
                    }
                }
            }
            Said::Found { log, what } => {
                let finding = Finding { entry: *number, at: at.clone(), what: what.clone() };
                match self.or_on_the_mill(log.as_deref()) {
                    Some(log) => self.so_far.logs[log].found.push(finding),
                    None => {
                        let Finding { entry, at, what } = finding;
                        self.so_far.notes.push(Remark { entry, at, what, log: None });
                    }
                }
            }
            Said::Blade { end, why } => self.so_far.blades.push(BladeChange {
                entry: *number,
                at: at.clone(),
                end: *end,
                why: why.clone(),
                log: self.log,
            }),
            Said::Want(wanted) => lumber::change(&mut self.so_far.wants, self.job, wanted),
            Said::Note(what) => self.so_far.notes.push(Remark {
                entry: *number,
                at: at.clone(),
                what: what.clone(),
                log: self.log,
            }),
            Said::Undo { .. } | Said::Confirm { .. } => {}
        }
        let again = matches!(said, Said::Pause { .. });
        if again || before != (self.doing, self.log, self.resting.clone()) {
            self.turn(at);
        }
    }

    /// What is done is another thing from here on.
    fn turn(&mut self, at: &ZonedDateTime) {
        if let Some(stretch) = self.so_far.stretches.last_mut() {
            stretch.open = false;
        }
        if let Some(pause) = self.so_far.pauses.last_mut() {
            pause.open = false;
        }
        let (from, to) = (at.clone(), at.clone());
        if let Some(why) = self.resting.clone() {
            let log = self.log;
            self.so_far.pauses.push(Pause { from, to, seconds: 0, why, log, open: true });
        } else if let Some(doing) = self.doing {
            self.day(at);
            self.so_far.work.get_or_insert_with(|| (at.clone(), at.clone()));
            let log = self.log.filter(|_| doing == Doing::Sawing);
            self.so_far.stretches.push(Stretch { doing, log, from, to, seconds: 0, open: true });
        }
    }

    /// Counts a day of work where one begins.
    fn day(&mut self, at: &ZonedDateTime) {
        let another = match self.so_far.stretches.last() {
            None => true,
            Some(last) => self.day != Some(at.date()) && seconds(&last.to, at) >= NIGHT,
        };
        if another {
            self.day = Some(at.date());
        }
        self.so_far.days += u32::from(another);
    }

    fn off(&mut self, entry: &Entry, off: &Off) {
        let log = self.or_on_the_mill(off.log.as_deref());
        let mut pieces = off.pieces.clone();
        if off.planned
            && pieces.is_empty()
            && let Some(log) = log
        {
            pieces = self.planned.pieces(&self.so_far.logs[log].id).unwrap_or_default();
        }
        let piece = |what: SizeCount| Piece {
            entry: entry.number,
            at: entry.at.clone(),
            what,
            to: Vec::new(),
        };
        let pieces = pieces.into_iter().map(piece);
        match log {
            Some(log) => {
                let told = &mut self.so_far.logs[log];
                told.as_planned = off.planned && (told.pieces.is_empty() || told.as_planned);
                told.pieces.extend(pieces);
                let later = told.to.as_ref().is_none_or(|to| to.timestamp() < entry.at.timestamp());
                if later {
                    told.to = Some(entry.at.clone());
                }
            }
            None => self.so_far.loose.extend(pieces),
        }
    }

    fn or_on_the_mill(&mut self, log: Option<&str>) -> Option<usize> {
        match log {
            Some(log) => Some(self.log_named(log)),
            None => self.log,
        }
    }

    fn log_named(&mut self, id: &str) -> usize {
        let logs = &mut self.so_far.logs;
        logs.iter().position(|log| log.id == id).unwrap_or_else(|| {
            logs.push(LogSoFar::new(id, None));
            self.done.push(false);
            logs.len() - 1
        })
    }

    fn finish(mut self) -> SoFar {
        for (n, log) in self.so_far.logs.iter_mut().enumerate() {
            let touched = log.from.is_some() || !log.pieces.is_empty();
            log.state = match self.log == Some(n) {
                true => LogState::OnTheMill,
                false if touched || self.done[n] => LogState::Done,
                false => LogState::Waiting,
            };
        }
        self.so_far.moves = moves(&self.so_far.stretches);
        self.so_far.on_the_mill = self.log;
        lumber::give(&mut self.so_far, self.job);
        self.so_far
    }
}

/// How often the mill was moved: sawing ends a move.
fn moves(stretches: &[Stretch]) -> u32 {
    let (mut moves, mut is_moved) = (0_u32, false);
    for stretch in stretches {
        match stretch.doing {
            Doing::MovingMill => {
                moves = moves.saturating_add(u32::from(!is_moved));
                is_moved = true;
            }
            Doing::Sawing => is_moved = false,
            Doing::SettingUp | Doing::MovingLogs | Doing::PackingUp => {}
        }
    }
    moves
}

#[cfg(test)]
mod tests;
