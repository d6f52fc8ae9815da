//! The yard that the mill comes to: where the logs lie, the ground, who helps, what becomes of the residue.
//!
//! # What each field does
//! | field | to the minutes | besides |
//! |---|---|---|
//! | `logs`, `moved`, `distance` | loading each log, [`Yard::load`] | machines to be there |
//! | `bark`, `frozen` | blades are changed sooner | blades to be brought; who cleans the logs |
//! | `ground` | `block_up` where the mill comes to stand | blocking to be there, a caution on slopes |
//! | `moves` | setting up again each time | what each costs |
//! | `helpers`, `stacking` | taking away and stacking, [`Yard::stacking`] | who brings gloves |
//! | `noise_from`, `noise_to` | a shorter day | what neighbours are told |
//! | `residue` | a tarp is laid out and emptied | its size against the loose sawdust |
//! | `delivered` | none | what a board foot costs |
//! | `drive` | none | miles on the bill |
//! | `water`, `access`, `turning_room`, `neighbours` | none | what is agreed before the day |

mod file;
#[cfg(test)]
mod tests;
mod text;

pub use file::YardForm;
pub(crate) use file::yard;
pub use text::read_time;

use std::time::Duration;

use pithward_measure::Length;

use crate::charges::LumberWork;
use crate::pace::Pace;

/// What is told of the yard; each figure as if all were ready where nobody says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Yard {
    /// The fields that are told, in the order of [`YardForm`]; all others are as if all were ready.
    pub told: Vec<&'static str>,
    /// How the logs lie.
    pub logs: LogsLie,
    /// How a log comes to the mill.
    pub moved: Moved,
    /// How far the logs lie from the mill.
    pub distance: Length,
    /// Their bark is dirty.
    pub dirty: bool,
    /// Their wood is frozen.
    pub frozen: bool,
    /// What the mill stands on.
    pub ground: Ground,
    /// Times that the mill is moved to another place of the yard.
    pub moves: u32,
    /// There is water; `None` where nobody says.
    pub water: Option<bool>,
    /// How a truck and its trailer come in, as free text; may be empty.
    pub access: String,
    /// There is room to turn them; `None` where nobody says.
    pub turning_room: Option<bool>,
    /// Who lives within hearing, as free text; may be empty.
    pub neighbours: String,
    /// When the mill may be heard.
    pub noise: Option<Heard>,
    /// What becomes of sawdust and slabs.
    pub residue: Residue,
    /// The tarp's sides, where one is laid and its size is told.
    pub tarp: Option<(Length, Length)>,
    /// How many help; as the mill says where nobody does.
    pub helpers: Option<u32>,
    /// Who stacks; `None` where nobody says.
    pub stacking: Option<Stacking>,
    /// The sawyer delivers the lumber.
    pub delivered: bool,
    /// The way there and back, once; `None` where nobody says.
    pub drive: Option<Length>,
}

/// How logs lie.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LogsLie {
    /// Ready beside the mill, off the ground, all alike.
    #[default]
    Staged,
    /// In a pile.
    Piled,
    /// About the yard.
    Scattered,
}

/// How a log comes to the mill.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Moved {
    /// It is rolled.
    #[default]
    Rolled,
    /// It must be dragged, with a winch.
    Dragged,
    /// A machine of the customer brings it while the one before is sawn.
    Machine,
}

/// What the mill stands on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Ground {
    /// Firm and level.
    #[default]
    Firm,
    /// Soft: it must be blocked up.
    Soft,
    /// Sloping: feet are dug in, and nobody stands below a log.
    Sloping,
}

/// What becomes of sawdust and slabs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Residue {
    /// They stay where they fall.
    #[default]
    Leave,
    /// The slabs are piled as they come; sawdust stays.
    Pile,
    /// A tarp catches the sawdust, and the slabs are piled.
    Tarp,
}

/// Who stacks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stacking {
    /// Helpers, while the next board is sawn.
    Helpers,
    /// The sawyer, while the mill stands still.
    Sawyer,
    /// The customer, in his own time.
    Customer,
}

/// Hours of a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Heard {
    /// From so many minutes after midnight.
    pub from: u32,
    /// To so many.
    pub to: u32,
}

fn minutes(time: Duration) -> f64 {
    time.as_secs_f64() / 60.0
}

impl Yard {
    /// What loading one log takes, up to the side stops, minutes.
    ///
    /// A log that a machine brings lies ready. What must be dragged takes no less than what is rolled off a pile. On top
    /// comes the way there and back, where no machine goes it.
    pub fn load(&self, pace: &Pace) -> f64 {
        self.load_beside(pace) + self.moving(pace)
    }

    /// The same of a log that lies beside the mill.
    fn load_beside(&self, pace: &Pace) -> f64 {
        let ready = minutes(pace.load);
        match self.logs {
            _ if self.moved == Moved::Machine => ready,
            LogsLie::Piled => ready.max(minutes(pace.day.load_piled)),
            LogsLie::Staged | LogsLie::Scattered => ready,
        }
    }

    /// What of it goes to bringing the log to the mill, minutes: what dragging takes beyond loading, and the way there and
    /// back. It is billed as moving logs.
    pub fn moving(&self, pace: &Pace) -> f64 {
        if self.moved == Moved::Machine {
            return 0.0;
        }
        let dragged = match self.moved {
            Moved::Dragged => (minutes(pace.day.load_dragged) - self.load_beside(pace)).max(0.0),
            Moved::Rolled | Moved::Machine => 0.0,
        };
        dragged + 2.0 * self.distance.inches_f64() / pace.day.haul.inches_f64().max(1.0)
    }

    /// How many help.
    pub fn helpers(&self, pace: &Pace) -> u32 {
        self.helpers.unwrap_or(pace.helpers)
    }

    /// A pace with as many helpers as the yard says.
    pub(crate) fn pace(&self, pace: Pace) -> Pace {
        let Some(helpers) = self.helpers else { return pace };
        Pace { helpers, stated: pace.stated.with("helpers"), ..pace }
    }

    /// Who stacks. Where nobody says, helpers do where there are any, else the customer in his own time.
    pub fn stacking(&self, pace: &Pace) -> Stacking {
        let usual = if self.helpers(pace) > 0 { Stacking::Helpers } else { Stacking::Customer };
        self.stacking.unwrap_or(usual)
    }

    /// What the sawyer does with the lumber.
    pub fn lumber_work(&self, pace: &Pace) -> LumberWork {
        match self.stacking(pace) {
            _ if self.delivered => LumberWork::Delivered,
            Stacking::Sawyer => LumberWork::Stacked,
            Stacking::Helpers | Stacking::Customer => LumberWork::Sawn,
        }
    }

    /// The longest day on site, minutes: that of the mill, or as long as it may be heard, if that is less.
    pub fn longest_day(&self, pace: &Pace) -> f64 {
        let day = minutes(pace.day.length);
        self.noise.map_or(day, |noise| day.min(f64::from(noise.to.saturating_sub(noise.from))))
    }

    /// Setting up where the mill comes to stand, minutes.
    pub fn set_up(&self, pace: &Pace) -> f64 {
        let firm = minutes(pace.day.set_up);
        let more = minutes(pace.day.block_up);
        if self.ground == Ground::Firm { firm } else { firm + more }
    }
}
