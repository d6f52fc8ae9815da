//! What can be said, and an entry of it.

use jiff::ZonedDateTime;
use pithward_measure::{Length, Size, board_feet_micro};

/// One entry of a tally.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Its number: 1 for the first of a file, one more for each that follows.
    pub number: u64,
    /// When what it says happened, in whole seconds, with the zone in which that was.
    pub at: ZonedDateTime,
    /// The time was told by hand, for something that was not entered as it happened.
    pub late: bool,
    /// What it says.
    pub said: Said,
}

/// What an entry says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Said {
    /// Work begins, or goes on after a pause; what was done before ends.
    Begin(Doing),
    /// Work rests.
    Pause {
        /// Why.
        why: Option<String>,
    },
    /// Work ends, for the day or for good. The log on the mill stays there.
    Stop,
    /// A log comes on the mill; the one before is done. Where nobody saws yet, or work rests, sawing begins.
    On {
        /// The log, by its name in the job.
        log: String,
    },
    /// Pieces are off the saw and on the stack.
    Off(Off),
    /// Nothing more comes of a log.
    Done {
        /// The log; the one on the mill where it is left out.
        log: Option<String>,
    },
    /// Something was found in a log that the plan does not know of.
    Found {
        /// The log; the one on the mill where it is left out.
        log: Option<String>,
        /// What, and where.
        what: String,
    },
    /// A blade comes off the mill.
    Blade {
        /// What is the matter with it.
        end: BladeEnd,
        /// Why, or what it hit.
        why: Option<String>,
    },
    /// The customer wants more or fewer of a size.
    Want(Wanted),
    /// Something to remember.
    Note(String),
    /// An entry before this one does not count. Undoing an `Undo` makes what it undid count again.
    Undo {
        /// The number of that entry.
        entry: u64,
    },
    /// The file counts as it is up to here, changed lines and all: whoever knows of the changes says so.
    Confirm {
        /// The check of all that stands before this entry.
        check: u32,
    },
}

/// What the hours are spent on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Doing {
    /// Setting up, and whatever else comes before the first log.
    SettingUp,
    /// Work at the logs: loading, sawing, edging, stacking, changing blades.
    Sawing,
    /// Moving and cleaning logs that were to lie ready; some mills bill it at a rate of its own.
    MovingLogs,
    /// Moving the mill to another place of the yard: letting it down, towing it, levelling it again.
    MovingMill,
    /// Packing up.
    PackingUp,
}

/// Pieces off a log.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Off {
    /// The log; the one on the mill where it is left out.
    pub log: Option<String>,
    /// They are what the plan says comes of it.
    pub planned: bool,
    /// The pieces. Of an entry that says `planned` those that the plan named when it was written, so that the file holds
    /// them even where the plan is lost; none there means whatever the plan says when it is reckoned.
    pub pieces: Vec<SizeCount>,
}

/// So many pieces of one size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SizeCount {
    /// How many.
    pub count: u32,
    /// The size as it was typed.
    pub typed: String,
    /// The same as a size; it always has a length. Its width is the one that the piece has; of a random width that nobody
    /// measured, the least.
    pub size: Size,
    /// What is to be remembered of them.
    pub note: Option<String>,
}

/// How a blade came off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum BladeEnd {
    /// Dull, as every blade gets.
    Dull,
    /// It met metal or stone, and can be set and sharpened again.
    Struck,
    /// It cannot be used any more.
    Ruined,
}

/// A line of the customer's list as it is from now on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// The size as it was typed.
    pub typed: String,
    /// The same as a size, with a length only where the list names one or the size is new to it.
    pub size: Size,
    /// Which line of the list, from 1, where several have that size; the first of them where nobody says.
    pub line: Option<u32>,
    /// How many in all; `None` for as many as come.
    pub count: Option<u32>,
}

impl Doing {
    /// All of them, in the order of a day.
    pub const ALL: [Self; 5] =
        [Self::SettingUp, Self::Sawing, Self::MovingLogs, Self::MovingMill, Self::PackingUp];
}

impl SizeCount {
    /// The length of each.
    pub fn length(&self) -> Length {
        self.size.length.unwrap_or_default()
    }

    /// Millionths of a board foot of all of them, by the named size.
    pub fn board_feet(&self) -> i64 {
        let Size { thickness, width, .. } = self.size;
        let each = board_feet_micro(thickness, width.least(), self.length());
        each.saturating_mul(i64::from(self.count))
    }
}
