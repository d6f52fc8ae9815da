//! The kept promise: what was promised of a job, written down, so that on the day nobody need plan again to know it.
//!
//! # What it holds
//! For every log what is planned of it and how long that takes; the ranges that were promised; and every pile that was
//! simulated for them, log by log, so that the piles can be asked again once some of the day has happened
//! ([`so_far`](crate::so_far)). Logs are known by what they are called, never by their place: stems are cut by now, and a
//! job file may be edited.
//!
//! # Size
//! Logs of simulated piles are sawn by few patterns; each pattern is kept once, and a log of a pile is its number and a
//! pace. A job of 200 logs and 500 piles has 100,000 of them.
//!
//! # Rounding
//! Times are kept to the microsecond, paces to a millionth: a price that is reckoned from them is that of the quote.

mod form;
mod make;
mod ranges;
#[cfg(test)]
pub(crate) mod tests;

pub use form::{KeptFault, VERSION};
pub use make::{Keeping, KeptPlan, Making};

use pithward_job::{Charges, InputFile, PlanCounts};
use pithward_measure::{Length, Money, Size};
use pithward_tally::{Planned, SizeCount};

use crate::hours::LogHours;
use crate::money::{DoneLog, Way};
use crate::range::Range;

/// What was promised of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// The version of the program that made it.
    pub program: String,
    /// When it was made, as it was told.
    pub at: String,
    /// The files that the job was read from, as they were then.
    pub inputs: Vec<InputFile>,
    /// The seed of its simulation.
    pub seed: u64,
    /// How sawing is paid, where that was agreed.
    pub agreed: Option<Way>,
    /// What the mill charged then; `None` in a promise of a program that did not keep it.
    pub charges: Option<Charges>,
    /// The wants of the job, in its order.
    pub wants: Vec<KeptWant>,
    /// All logs, stems bucked, in the order of the job.
    pub logs: Vec<KeptLog>,
    /// The order of sawing, places in `logs`.
    pub order: Vec<usize>,
    /// What the plan itself comes to.
    pub planned: KeptFigures,
    /// What all simulated piles came to; `None` where none was simulated.
    pub ranges: Option<KeptRanges>,
    /// By how much board feet of simulated piles are lifted, as [`Forecast::lifted`](crate::range::Forecast::lifted) says.
    pub lift: f64,
    /// The patterns by which logs of simulated piles are sawn.
    pub patterns: Vec<KeptPattern>,
    /// The piles that were simulated.
    pub piles: Vec<KeptPile>,
}

/// One want.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptWant {
    /// Its size.
    pub size: Size,
    /// How many were asked for; `None` for as many as come.
    pub asked: Option<u32>,
    /// How many the plan gives, within the count and beyond it.
    pub planned: u32,
    /// What the simulated piles gave, and what was promised; `None` where none was simulated.
    pub promised: Option<KeptCount>,
}

/// What was promised of one want.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KeptCount {
    /// Pieces.
    pub pieces: Range<u32>,
    /// So many were promised, with nine chances in ten.
    pub safe: u32,
    /// How often all that were asked for came, from 0 to 1.
    pub filled: f64,
}

/// One log.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptLog {
    /// What it is called.
    pub id: String,
    /// Its species, where it was named.
    pub species: Option<String>,
    /// Its diameter at the small end, inside the bark.
    pub small_end: Length,
    /// The same at the butt.
    pub butt: Length,
    /// Its length, with trim.
    pub length: Length,
    /// How it is sawn; `None` where it is not.
    pub sawn: Option<KeptSawing>,
}

/// How a log is planned to be sawn.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptSawing {
    /// It is quarter sawn.
    pub quarter: bool,
    /// What comes of it, by size.
    pub products: Vec<KeptProduct>,
    /// Millionths of a board foot, by named sizes.
    pub board_feet: i64,
    /// What it takes.
    pub hours: LogHours,
    /// What of it takes time.
    pub counts: PlanCounts,
}

/// Pieces of one size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KeptProduct {
    /// The want that they serve, its place.
    pub want: usize,
    /// Their size as it is named, with a width and a length.
    pub size: Size,
    /// Thickness and width as sawn.
    pub sawn: [Length; 2],
    /// How many.
    pub count: u32,
}

/// What a plan itself comes to.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct KeptFigures {
    /// From setting up to packing up, without breaks, minutes.
    pub on_site: f64,
    /// Millionths of a board foot.
    pub board_feet: i64,
    /// What the customer pays by the hour, where the mill states a price of one.
    pub by_hour: Option<Money>,
    /// The same by the board foot.
    pub by_board_foot: Option<Money>,
    /// The same by the board.
    pub by_board: Option<Money>,
    /// The same in money beside what is paid in lumber.
    pub by_share: Option<Money>,
    /// What the sawyer is paid in lumber, millionths of a board foot.
    pub in_lumber: Option<i64>,
}

impl KeptFigures {
    /// What the customer pays in money one way, where the mill states it.
    pub fn by(&self, way: Way) -> Option<Money> {
        match way {
            Way::Hour => self.by_hour,
            Way::BoardFoot => self.by_board_foot,
            Way::Board => self.by_board,
            Way::Share => self.by_share,
        }
    }

    /// The first way in which it has a price.
    pub fn first_way(&self) -> Option<Way> {
        Way::ALL.into_iter().find(|way| self.by(*way).is_some())
    }
}

/// What all simulated piles came to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KeptRanges {
    /// On site, without breaks, minutes.
    pub minutes: Range<f64>,
    /// Board feet, millionths.
    pub board_feet: Range<i64>,
    /// What the customer pays by the first way that the mill states.
    pub price: Option<Range<Money>>,
    /// The same in every way that it states; none of a promise that was kept before there were several.
    pub prices: [Option<Range<Money>>; Way::ALL.len()],
    /// What the sawyer is paid in lumber, millionths of a board foot.
    pub in_lumber: Option<Range<i64>>,
    /// Blades that are taken.
    pub blades: Range<u32>,
}

/// A way in which some logs of simulated piles are sawn.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptPattern {
    /// What it takes, at the stated pace.
    pub hours: LogHours,
    /// What of it is billed.
    pub log: DoneLog,
    /// Which share of its lumber is odd work.
    pub odd: f64,
    /// How many pieces go to which want.
    pub pieces: Vec<(usize, u32)>,
}

/// A pile that was simulated.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptPile {
    /// How much longer than stated the whole day takes, as a factor.
    pub day: f64,
    /// Its logs that are sawn, in the order of sawing.
    pub logs: Vec<KeptSawn>,
}

/// One of its logs.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptSawn {
    /// Its place in [`Kept::logs`].
    pub log: usize,
    /// Its pattern, a place in [`Kept::patterns`].
    pub pattern: usize,
    /// How much longer it takes than by the pace of its day, as a factor.
    pub pace: f64,
    /// Times that the blade meets metal in it.
    pub struck: u32,
    /// Its board feet by named sizes, millionths.
    pub board_feet: i64,
    /// How many pieces go to which want, where some are lost; `None` where all of the pattern came.
    pub pieces: Option<Vec<(usize, u32)>>,
}

impl Kept {
    /// The place of the log with a name.
    pub fn log_called(&self, id: &str) -> Option<usize> {
        self.logs.iter().position(|log| log.id == id)
    }

    /// All of it but what was simulated.
    pub(crate) fn clone_without_piles(&self) -> Self {
        Self {
            program: self.program.clone(),
            at: self.at.clone(),
            inputs: Vec::new(),
            charges: self.charges.clone(),
            wants: self.wants.clone(),
            logs: self.logs.clone(),
            order: self.order.clone(),
            patterns: Vec::new(),
            piles: Vec::new(),
            ..*self
        }
    }

    /// How many pieces of which want a log of a simulated pile gives.
    pub fn pieces_of<'a>(&'a self, sawn: &'a KeptSawn) -> &'a [(usize, u32)] {
        let of_pattern =
            || self.patterns.get(sawn.pattern).map(|pattern| pattern.pieces.as_slice());
        sawn.pieces.as_deref().or_else(of_pattern).unwrap_or_default()
    }

    /// The range of the price that was promised, sawing paid one way.
    pub fn price_range(&self, way: Way) -> Option<Range<Money>> {
        let ranges = self.ranges.as_ref()?;
        // An older promise has but the range of its first way.
        let first = || ranges.price.filter(|_| self.planned.first_way() == Some(way));
        ranges.prices[way.place()].or_else(first)
    }

    /// What was promised to be charged; `None` where that was not kept, or where the mill stated no price then.
    pub fn promised_charges(&self) -> Option<&Charges> {
        self.charges.as_ref().filter(|of| Way::first(of).is_some())
    }

    /// The files of the job that are not as they were when it was promised, by their names.
    pub fn changed<'a>(&'a self, now: &'a [InputFile]) -> Vec<&'a str> {
        InputFile::changed(&self.inputs, now)
    }
}

impl Planned for Kept {
    fn pieces(&self, log: &str) -> Option<Vec<SizeCount>> {
        let sawn = self.logs.get(self.log_called(log)?)?.sawn.as_ref()?;
        let one = |product: &KeptProduct| SizeCount {
            count: product.count,
            typed: product.size.to_string(),
            size: product.size,
            note: None,
        };
        Some(sawn.products.iter().map(one).collect())
    }
}
