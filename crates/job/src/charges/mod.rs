//! What a mill charges: by the hour, by the board foot, by the board or in lumber, and all that comes on top.
//!
//! In which of these ways a job is paid is a choice; a mill file may state several, and then all are reckoned side by side.
//! All amounts of one mill are in one currency, and exact. What is stated nowhere is not charged.
//!
//! # Forms of charge that were seen, and how a mill file says them
//! Figures are those that sawyers' own pages and talk gave; they are examples, and no advice. Each is worked by hand in a test
//! of `day::money`.
//!
//! | form | in `[charges]` | test |
//! |---|---|---|
//! | by the hour, 30 to 125 USD by region and mill, with travel and blades | `hour`, `drive`, `ruined_blade` | `by_the_hour_on_site_or_at_the_saw`, `set_up_miles_moves_blades_and_moving_logs` |
//! | 125 USD an hour for thin, thick, beams, quarter sawing | `odd_hour`, `odd_work` | `odd_work_is_dearer_by_the_hour` |
//! | by the board foot, 0.15 to 0.45 USD | `board_foot` | `by_the_board_foot_named_or_sawn` |
//! | of log scale, 0.35 USD milled, 0.80 stacked, 1.00 delivered | `board_foot`, `stacked_foot`, `delivered_foot`, `basis` | `the_published_card`, `milled_stacked_delivered` |
//! | a fixed sum for each board up to 4x8 in by 6 m, more above | `board` | `by_the_board_up_to_a_size` |
//! | half of the grade lumber, or more of it to the customer | `share`, `shared` | `half_of_the_grade_lumber`, `a_third_of_all_of_it` |
//! | 25 USD and 1.50 USD a mile | `set_up`, `drive` | `set_up_miles_moves_blades_and_moving_logs` |
//! | a sum for each move on site | `relocation` | the same |
//! | 10 USD a strike, 25 to 40 USD a blade that metal ruins | `metal_strike`, `ruined_blade` | the same |
//! | 50 to 80 USD an hour for preparing and moving logs | `moving_hour` | the same |
//! | a log under 8 ft billed as 8 ft | `short_log` | `short_logs_are_billed_as_longer_ones` |
//! | of log scale, 12 in and 8 ft at least | `thin_log`, `short_log` | `the_published_card` |
//! | up to 1 in billed as 1, up to 2 as 2, and so on | `thickness_classes` | `thickness_classes` |
//! | board feet that were cut, not log scale | `basis` | `by_the_board_foot_named_or_sawn` |
//! | half a day, 2 to 4 h, or 300 to 500 bf at least (common practice, no source) | `minimum` | `the_least_that_is_billed` |

mod boards;
mod file;
mod share;
#[cfg(test)]
mod tests;
mod text;

pub use boards::BoardPrice;
pub use file::ChargesForm;
pub(crate) use file::charges;
pub use share::{Portion, Share, Shared};
pub(crate) use text::{KILOMETRE, MILE};

use std::time::Duration;

use pithward_measure::{Currency, Length, Money};
use pithward_trade::LogRule;

/// What a mill charges.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Charges {
    /// An hour of sawing.
    pub hour: Option<Money>,
    /// An hour of odd work, which [`Charges::odd`] tells; as any other where it is left out.
    pub odd_hour: Option<Money>,
    /// What is odd work.
    pub odd: OddWork,
    /// An hour of moving and cleaning logs that were not ready; as sawing where it is left out.
    pub moving_hour: Option<Money>,
    /// Which hours are billed; [`Charges::billed`] where it is left out.
    pub hours_of: Option<BilledHours>,
    /// What the sum of the hours is rounded to; to the minute, nearest, where it is left out.
    pub hour_step: HourStep,
    /// A board foot.
    pub board_foot: Option<Money>,
    /// A board foot where the sawyer stacks the lumber; as any other where it is left out.
    pub stacked_foot: Option<Money>,
    /// A board foot where the sawyer delivers the lumber; as one that he stacks where it is left out.
    pub delivered_foot: Option<Money>,
    /// Board feet of what.
    pub basis: FootBasis,
    /// Thicknesses that are billed: a board counts as the next of them that is not below its own, and as it is where it is
    /// above them all.
    pub classes: Vec<Length>,
    /// A shorter log is billed as if it were so long.
    pub short_log: Option<Length>,
    /// Where the scale of the logs is paid, a thinner log is billed as if its small end were so thick.
    pub thin_log: Option<Length>,
    /// What each board costs, by its size: the first line that takes it counts.
    pub boards: Vec<BoardPrice>,
    /// What the sawyer is paid in lumber.
    pub share: Option<Share>,
    /// Coming and setting up.
    pub set_up: Option<Money>,
    /// The way there and back.
    pub drive: Option<Drive>,
    /// Moving the mill to another place of the yard, each time.
    pub relocation: Option<Money>,
    /// A blade that met metal and is set and sharpened again, each time.
    pub strike: Option<Money>,
    /// A blade that metal ruined.
    pub blade: Option<Money>,
    /// The least that is billed.
    pub least: Least,
    /// What is taken off the sum, before tax.
    pub discount: Option<Part>,
    /// The tax on what is taxed.
    pub tax: Option<Percent>,
    /// What is taxed; all of it where nobody says.
    pub taxed: Option<Vec<Item>>,
    /// What the total is rounded to; to the hundredth where it is left out.
    pub total_step: Option<Money>,
    /// What is paid before the day.
    pub deposit: Option<Part>,
}

/// A price by the mile or the kilometre.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Drive {
    /// What it costs.
    pub price: Money,
    /// For so far.
    pub per: Length,
}

/// Work that is dearer by the hour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct OddWork {
    /// Boards named under 1 in.
    pub thin: bool,
    /// Boards named over 1 1/2 in.
    pub thick: bool,
    /// Logs that are quarter sawn, and wants that only take quarter sawn boards.
    pub quarter: bool,
    /// Timbers: 5 in and more both ways.
    pub beams: bool,
}

/// Which hours are billed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BilledHours {
    /// From setting up to packing up, without the breaks.
    OnSite,
    /// Work at the logs and changes of blades.
    AtTheSaw,
}

/// What the sum of the hours is rounded to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HourStep {
    /// To whole numbers of this.
    pub to: Duration,
    /// In which direction.
    pub way: RoundWay,
}

/// In which direction something is rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RoundWay {
    /// To the nearest, a half up.
    Nearest,
    /// Up.
    Up,
    /// Down.
    Down,
}

/// Board feet of what.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum FootBasis {
    /// What was sawn, by named sizes.
    #[default]
    Named,
    /// What was sawn, by the sizes that it was sawn to.
    Sawn,
    /// The scale of the logs by a rule.
    Scale(LogRule),
}

/// What the sawyer does with the lumber.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LumberWork {
    /// It is sawn, and others take it away.
    #[default]
    Sawn,
    /// He stacks it.
    Stacked,
    /// He delivers it.
    Delivered,
}

/// The least that is billed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Least {
    /// Hours, where a job is paid by the hour.
    pub hours: Option<Duration>,
    /// Millionths of a board foot, where it is paid by the board foot.
    pub board_feet: Option<i64>,
    /// Of the sum before discount and tax, either way.
    pub sum: Option<Money>,
}

/// A share of a sum, or an amount.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// A share.
    Share(Percent),
    /// An amount.
    Sum(Money),
}

/// A percentage, exact to the millionth of a per cent.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Percent(i64);

/// What stands on a bill.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Item {
    /// Sawing: by the hour, the board foot or the board, with what is odd.
    Sawing,
    /// Moving and cleaning logs.
    Moving,
    /// Coming and setting up.
    SetUp,
    /// The way there and back.
    Drive,
    /// Moving the mill on site.
    Relocation,
    /// Blades that met metal.
    Blades,
}

impl Percent {
    /// A hundred per cent over which [`Percent::as_millionths`] is a share.
    pub const WHOLE: i64 = 100_000_000;

    /// So many millionths of a per cent.
    pub fn millionths(millionths: i64) -> Self {
        Self(millionths)
    }

    /// Millionths of a per cent.
    pub fn as_millionths(self) -> i64 {
        self.0
    }
}

impl Part {
    /// What it is of a sum, to the cent; `None` where it is in another currency, or more than can be held.
    pub fn of(self, sum: Money) -> Option<Money> {
        match self {
            Self::Share(Percent(part)) => sum.share_to(part, Percent::WHOLE, Money::CENT),
            Self::Sum(money) => (money.currency() == sum.currency()).then_some(money),
        }
    }
}

impl Default for HourStep {
    fn default() -> Self {
        Self { to: Duration::from_secs(60), way: RoundWay::Nearest }
    }
}

impl Item {
    /// All of them, in the order in which they stand on a bill.
    pub const ALL: [Self; 6] =
        [Self::Sawing, Self::Moving, Self::SetUp, Self::Drive, Self::Relocation, Self::Blades];

    /// Its word in a mill file.
    pub fn word(self) -> &'static str {
        match self {
            Self::Sawing => "sawing",
            Self::Moving => "moving",
            Self::SetUp => "set_up",
            Self::Drive => "drive",
            Self::Relocation => "relocation",
            Self::Blades => "blades",
        }
    }
}

impl Charges {
    /// The currency of all that is charged; `None` where nothing is.
    pub fn currency(&self) -> Option<Currency> {
        let part = |part: Option<Part>| match part {
            Some(Part::Sum(money)) => Some(money),
            Some(Part::Share(_)) | None => None,
        };
        let amounts = [
            self.hour,
            self.odd_hour,
            self.moving_hour,
            self.board_foot,
            self.stacked_foot,
            self.delivered_foot,
            self.boards.first().map(|board| board.price),
            self.set_up,
            self.drive.map(|drive| drive.price),
            self.relocation,
            self.strike,
            self.blade,
            self.least.sum,
            part(self.discount),
            part(self.deposit),
        ];
        amounts.into_iter().flatten().next().map(Money::currency)
    }

    /// The fields of a mill file by which these charges are others than some.
    pub fn differences(&self, other: &Self) -> Vec<&'static str> {
        let Self { hour, odd_hour, odd, moving_hour, hours_of, hour_step, board_foot, .. } = self;
        let Self {
            basis,
            classes,
            short_log,
            thin_log,
            set_up,
            drive,
            relocation,
            strike,
            blade,
            ..
        } = self;
        let Self { least, discount, tax, taxed, total_step, deposit, .. } = self;
        let Self { stacked_foot, delivered_foot, boards, share, .. } = self;
        let (own, others) = (share.as_ref(), other.share.as_ref());
        let differs = [
            ("hour", *hour != other.hour),
            ("odd_hour", *odd_hour != other.odd_hour),
            ("odd_work", *odd != other.odd),
            ("moving_hour", *moving_hour != other.moving_hour),
            ("billed", *hours_of != other.hours_of),
            ("round_hours", *hour_step != other.hour_step),
            ("board_foot", *board_foot != other.board_foot),
            ("stacked_foot", *stacked_foot != other.stacked_foot),
            ("delivered_foot", *delivered_foot != other.delivered_foot),
            ("basis", *basis != other.basis),
            ("thickness_classes", *classes != other.classes),
            ("short_log", *short_log != other.short_log),
            ("thin_log", *thin_log != other.thin_log),
            ("board", *boards != other.boards),
            ("share", own.map(|share| share.portion) != others.map(|share| share.portion)),
            ("shared", own.map(|share| &share.of) != others.map(|share| &share.of)),
            ("set_up", *set_up != other.set_up),
            ("drive", *drive != other.drive),
            ("relocation", *relocation != other.relocation),
            ("metal_strike", *strike != other.strike),
            ("ruined_blade", *blade != other.blade),
            ("minimum", *least != other.least),
            ("discount", *discount != other.discount),
            ("tax", *tax != other.tax),
            ("taxed", *taxed != other.taxed),
            ("round_total", *total_step != other.total_step),
            ("deposit", *deposit != other.deposit),
        ];
        differs.into_iter().filter_map(|(field, differs)| differs.then_some(field)).collect()
    }

    /// Which hours are billed. Where nobody says: whoever is paid for setting up is not paid for its time again.
    pub fn billed(&self) -> BilledHours {
        let usual = if self.set_up.is_some() { BilledHours::AtTheSaw } else { BilledHours::OnSite };
        self.hours_of.unwrap_or(usual)
    }

    /// The thickness that a board is billed at.
    pub fn class(&self, thickness: Length) -> Length {
        self.classes.iter().copied().find(|class| *class >= thickness).unwrap_or(thickness)
    }

    /// What a board of a thickness, a width and a length, as it is named, costs by the board; `None` where no line takes it.
    pub fn board(&self, size: [Length; 3]) -> Option<&BoardPrice> {
        self.boards.iter().find(|board| board.takes(size))
    }

    /// What a board foot costs, by what the sawyer does with the lumber.
    pub fn foot(&self, lumber: LumberWork) -> Option<Money> {
        let stacked = self.stacked_foot.or(self.board_foot);
        match lumber {
            LumberWork::Sawn => self.board_foot,
            LumberWork::Stacked => stacked,
            LumberWork::Delivered => self.delivered_foot.or(stacked),
        }
    }

    /// Whether something is taxed.
    pub fn taxes(&self, item: Item) -> bool {
        self.tax.is_some() && self.taxed.as_ref().is_none_or(|taxed| taxed.contains(&item))
    }

    /// What so many minutes of sawing cost; `None` where no rate is stated, or it is more than money can hold.
    pub fn cost(&self, minutes: f64) -> Option<Money> {
        // By the second, as nobody bills less.
        let seconds = (minutes * 60.0).round();
        if !(0.0..1e12).contains(&seconds) {
            return None;
        }
        #[allow(clippy::cast_possible_truncation, reason = "held against its limits just above")]
        let seconds = seconds as i64;
        self.hour?.share(seconds, 3600)
    }
}

impl OddWork {
    /// Whether a piece is odd work: its named thickness and width, and whether it was quarter sawn or wanted so.
    pub fn is(&self, thickness: Length, width: Length, quarter: bool) -> bool {
        const TIMBER: Length = Length::inches(5);
        (self.thin && thickness < Length::inches(1))
            || (self.thick && thickness > Length::sixty_fourths(96))
            || (self.beams && thickness >= TIMBER && width >= TIMBER)
            || (self.quarter && quarter)
    }

    /// Whether anything is.
    pub fn is_nothing(&self) -> bool {
        *self == Self::default()
    }
}
