//! How the day stands: what follows from a tally and its job.

mod lumber;
mod walk;

use jiff::ZonedDateTime;
use pithward_measure::Size;

use crate::entry::{BladeEnd, Doing, SizeCount};
pub(crate) use lumber::lines_of;

/// Whoever knows what a plan says comes of a log.
pub trait Planned {
    /// The pieces that are planned of the log with this name; `None` where nothing is.
    fn pieces(&self, log: &str) -> Option<Vec<SizeCount>>;
}

/// No plan.
#[derive(Clone, Copy, Debug, Default)]
pub struct NoPlan;

impl Planned for NoPlan {
    fn pieces(&self, _: &str) -> Option<Vec<SizeCount>> {
        None
    }
}

/// How the day stands.
///
/// # Hours
/// Hours are sums of seconds between entries that follow each other. Where the clock went back between two of them, no
/// time is counted between them; a time that was told by hand stands where it belongs. The last stretch or pause is open
/// and lasts until now; where nothing was said for twelve hours it was forgotten, and is counted up to the last entry.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SoFar {
    /// Up to when it was reckoned; `None` where nothing was said.
    pub now: Option<ZonedDateTime>,
    /// What was done when, in order; pauses are between them.
    pub stretches: Vec<Stretch>,
    /// When work rested, in order.
    pub pauses: Vec<Pause>,
    /// The same by what was done.
    pub spent: Spent,
    /// Days of work. A day ends with three hours or more without any, where work begins again on another date; so a night
    /// is one, and so is a day with a long rest at noon.
    pub days: u32,
    /// Times that the mill was moved to another place of the yard. What is said between two logs is one move, however often it
    /// rests or is levelled meanwhile.
    pub moves: u32,
    /// The logs of the job in its order, then those that only the tally names.
    pub logs: Vec<LogSoFar>,
    /// The place in `logs` of the log on the mill.
    pub on_the_mill: Option<usize>,
    /// Pieces of which nobody knows the log.
    pub loose: Vec<Piece>,
    /// The customer's list as it is now: the wants of the job in its order, then those that were added.
    pub wants: Vec<WantSoFar>,
    /// Blades that came off.
    pub blades: Vec<BladeChange>,
    /// Notes.
    pub notes: Vec<Remark>,
    /// Where the clock went back.
    pub clock_back: Vec<ClockBack>,
    /// The first and the last moment of work; `None` before there is any. The work may not be over.
    pub work: Option<(ZonedDateTime, ZonedDateTime)>,
}

/// A time without a break that was spent on one thing, and at most one log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// On what.
    pub doing: Doing,
    /// The place in [`SoFar::logs`] of the log on the mill, while there is sawing.
    pub log: Option<usize>,
    /// From.
    pub from: ZonedDateTime,
    /// To. Before `from` only where the clock went back meanwhile.
    pub to: ZonedDateTime,
    /// How long, in seconds; never below nothing.
    pub seconds: i64,
    /// It lasts.
    pub open: bool,
}

/// A time in which work rested.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pause {
    /// From.
    pub from: ZonedDateTime,
    /// To.
    pub to: ZonedDateTime,
    /// How long, in seconds; never below nothing.
    pub seconds: i64,
    /// Why.
    pub why: Option<String>,
    /// The log that was on the mill, its place in [`SoFar::logs`].
    pub log: Option<usize>,
    /// It lasts.
    pub open: bool,
}

/// Seconds by what they were spent on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Spent {
    /// Setting up.
    pub setting_up: i64,
    /// Work at the logs.
    pub sawing: i64,
    /// Moving and cleaning logs.
    pub moving_logs: i64,
    /// Moving the mill to another place of the yard.
    pub moving_mill: i64,
    /// Packing up.
    pub packing_up: i64,
}

/// A log so far.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LogSoFar {
    /// Its name.
    pub id: String,
    /// Its place in [`PileJob::logs`](pithward_job::PileJob::logs); `None` where only the tally names it.
    pub in_job: Option<usize>,
    /// How far it is.
    pub state: LogState,
    /// When it first came on the mill.
    pub from: Option<ZonedDateTime>,
    /// When the last work was done on it, or the last of it was told.
    pub to: Option<ZonedDateTime>,
    /// Seconds of work while it was on the mill, without pauses.
    pub seconds: i64,
    /// What came off it, in the order in which it was told.
    pub pieces: Vec<Piece>,
    /// All that came off it was told as planned.
    pub as_planned: bool,
    /// What was found in it.
    pub found: Vec<Finding>,
}

/// How far a log is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LogState {
    /// Nothing was said of it.
    #[default]
    Waiting,
    /// It is on the mill.
    OnTheMill,
    /// It is done, or it was on the mill and another log is there now.
    Done,
}

/// Pieces off the saw.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// The number of the entry that told them.
    pub entry: u64,
    /// When.
    pub at: ZonedDateTime,
    /// What they are.
    pub what: SizeCount,
    /// How many of them go to which line of the list, places in [`SoFar::wants`], those within its count and those beyond it
    /// alike. What is missing to their number is lumber that nobody wants.
    pub to: Vec<(usize, u32)>,
}

/// A line of the customer's list so far.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WantSoFar {
    /// Its place in [`PileJob::wants`](pithward_job::PileJob::wants); `None` where it was added on the day.
    pub in_job: Option<usize>,
    /// The size.
    pub size: Size,
    /// How many are wanted now; `None` for as many as come.
    pub count: Option<u32>,
    /// How many the job asked for; the same as `count` where nobody changed it.
    pub asked: Option<u32>,
    /// How many there are.
    pub given: u32,
    /// Millionths of a board foot of them.
    pub board_feet: i64,
}

/// A blade that came off.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BladeChange {
    /// The number of the entry.
    pub entry: u64,
    /// When.
    pub at: ZonedDateTime,
    /// What is the matter with it.
    pub end: BladeEnd,
    /// Why.
    pub why: Option<String>,
    /// The log that was on the mill, its place in [`SoFar::logs`].
    pub log: Option<usize>,
}

/// Something that was found in a log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The number of the entry.
    pub entry: u64,
    /// When.
    pub at: ZonedDateTime,
    /// What, and where.
    pub what: String,
}

/// Something to remember.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// The number of the entry.
    pub entry: u64,
    /// When.
    pub at: ZonedDateTime,
    /// What.
    pub what: String,
    /// The log that was on the mill, its place in [`SoFar::logs`].
    pub log: Option<usize>,
}

/// A place at which the clock went back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClockBack {
    /// The number of the first entry after it.
    pub entry: u64,
    /// The number of the entry before it.
    pub before: u64,
    /// By how many seconds at least.
    pub seconds: i64,
}

impl Spent {
    /// On one thing.
    pub fn on(&self, doing: Doing) -> i64 {
        match doing {
            Doing::SettingUp => self.setting_up,
            Doing::Sawing => self.sawing,
            Doing::MovingLogs => self.moving_logs,
            Doing::MovingMill => self.moving_mill,
            Doing::PackingUp => self.packing_up,
        }
    }

    /// From setting up to packing up, without pauses; moving logs is paid by itself.
    pub fn on_site(&self) -> i64 {
        let around =
            self.setting_up.saturating_add(self.moving_mill).saturating_add(self.packing_up);
        self.sawing.saturating_add(around)
    }

    /// On all things.
    pub fn all(&self) -> i64 {
        Doing::ALL.into_iter().fold(0, |sum: i64, doing| sum.saturating_add(self.on(doing)))
    }
}

impl LogSoFar {
    /// Millionths of a board foot that came off it, by named sizes.
    pub fn board_feet(&self) -> i64 {
        self.pieces.iter().fold(0, |sum: i64, piece| sum.saturating_add(piece.what.board_feet()))
    }
}

impl WantSoFar {
    /// How many are still wanted; `None` for as many as come.
    pub fn wanted(&self) -> Option<u32> {
        self.count.map(|count| count.saturating_sub(self.given))
    }
}

impl SoFar {
    /// Everything that came off the saw.
    pub fn pieces(&self) -> impl Iterator<Item = &Piece> {
        self.logs.iter().flat_map(|log| &log.pieces).chain(&self.loose)
    }

    /// Millionths of a board foot of everything that came off the saw, by named sizes.
    pub fn board_feet(&self) -> i64 {
        self.pieces().fold(0, |sum: i64, piece| sum.saturating_add(piece.what.board_feet()))
    }

    /// How many blades came off in this way.
    pub fn blades(&self, end: BladeEnd) -> u32 {
        let blades = self.blades.iter().filter(|blade| blade.end == end).count();
        u32::try_from(blades).unwrap_or(u32::MAX)
    }
}
