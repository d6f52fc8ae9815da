//! The ways to saw one log, each as an exact program over the places of its planes.
//!
//! Lines of boards run along `y` (parallel to the first two faces' normal) or, inside a cant, along `x`.
//! Places are nanometres from the pith. See [`through`], [`cant`], [`boxed`] for the recurrences, and [`mod@line`] for what a
//! mill asks of a line.

pub(crate) mod boxed;
pub(crate) mod cant;
mod line;
pub(crate) mod through;

use crate::allowance::Allowances;
use crate::column::{Columns, Lengths, Prices, Work};
use crate::flitch::{Bounds, Ripping, Strip, Table};
use crate::site::Site;
use crate::stack::{Room, Stacks};
use crate::want::{CutId, Want};
use cant::Aim;
use line::Offer;
use std::rc::Rc;

/// A way to saw a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Method {
    /// Through and through, the log never turned.
    Through,
    /// Through and through to just past the pith, turned half round onto the flat, then the rest.
    ThroughTurned,
    /// Two opposite faces, turned a quarter, then sawn straight down.
    TwoSidedCant,
    /// Two opposite faces, turned a quarter, the third face opened, turned half round, sawn down to the bed.
    FourSidedCant,
    /// One timber with the pith at its middle, and what surrounds it.
    BoxedHeart,
}

impl Method {
    /// All of them, simplest first.
    pub const ALL: [Self; 5] = [
        Self::Through,
        Self::ThroughTurned,
        Self::TwoSidedCant,
        Self::FourSidedCant,
        Self::BoxedHeart,
    ];

    /// Turns of the log.
    pub fn turns(self) -> i64 {
        match self {
            Self::Through => 0,
            Self::ThroughTurned => 1,
            Self::TwoSidedCant => 2,
            Self::FourSidedCant | Self::BoxedHeart => 3,
        }
    }

    /// Its name in words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Through => "through and through",
            Self::ThroughTurned => "through and through, turned once",
            Self::TwoSidedCant => "two-sided cant",
            Self::FourSidedCant => "four-sided cant",
            Self::BoxedHeart => "boxed heart",
        }
    }
}

/// A board between two planes and the strips that it is ripped into, from `-u` to `+u`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Board {
    pub(crate) thickness: i64,
    pub(crate) strips: Vec<Rip>,
}

/// A strip as it is cut: one section, sound over a length from the butt, and its pieces from the butt on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Rip {
    pub(crate) column: usize,
    /// Nanometres, crosscuts between the pieces included.
    pub(crate) length: i64,
    pub(crate) cuts: Vec<CutId>,
}

/// Boards a kerf apart, from the lowest up.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Line {
    pub(crate) boards: Vec<Board>,
    /// Lower plane of the first board.
    pub(crate) base: i64,
}

impl Line {
    /// Lower and upper plane of each board.
    pub(crate) fn planes(&self, kerf: i64) -> impl Iterator<Item = (i64, i64, &Board)> {
        let mut from = self.base;
        self.boards.iter().map(move |board| {
            let span = (from, from + board.thickness, board);
            from += board.thickness + kerf;
            span
        })
    }
}

/// Where the planes of a pattern lie.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Shape {
    /// One line of boards along `y`.
    Through(Line),
    /// A cant between two planes across `y`, side boards beyond them, a line along `x` inside.
    Cant(CantShape),
}

/// The planes of a cant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct CantShape {
    /// From face to face.
    pub(crate) height: i64,
    /// Place of the upper face.
    pub(crate) top: i64,
    /// Side boards above it, from the inside out.
    pub(crate) above: Vec<Board>,
    /// Side boards below the lower face, from the inside out.
    pub(crate) below: Vec<Board>,
    /// What the cant is sawn into.
    pub(crate) inner: Line,
}

impl CantShape {
    /// What bounds a plank of the cant across its width: `+u` is `-y`.
    pub(crate) fn bounds(&self) -> Bounds {
        Bounds { up: self.height - self.top, low: self.top }
    }
}

/// A pattern and what it is worth to the search.
#[derive(Clone, Debug)]
pub(crate) struct Found {
    pub(crate) method: Method,
    /// In [`crate::column::UNIT`]ths, less what its passes and turns count for.
    pub(crate) value: i64,
    pub(crate) shape: Shape,
}

impl Found {
    /// The cuts of every strip, in no order that matters.
    pub(crate) fn cuts(&self) -> Vec<CutId> {
        let strips = self.boards().into_iter().flat_map(|board| &board.strips);
        strips.flat_map(|strip| strip.cuts.iter().copied()).collect()
    }

    /// What its work costs, in [`crate::column::UNIT`]ths: a pass for every face that is opened, board that is freed and
    /// strip that is not square already, and the turns of its method.
    pub(crate) fn effort(&self, columns: &Columns, work: Work) -> i64 {
        let (height, openings) = match &self.shape {
            Shape::Through(_) => (None, through::PASSES),
            Shape::Cant(cant) => (Some(cant.height), cant::PASSES),
        };
        let inner = match &self.shape {
            Shape::Through(_) => &[][..],
            Shape::Cant(cant) => &cant.inner.boards,
        };
        let boards = self.boards();
        let strips: usize = boards.iter().map(|board| board.strips.len()).sum();
        let square = inner.iter().flat_map(|board| &board.strips);
        let square = square.filter(|strip| Some(columns.all[strip.column].width) == height).count();
        let passes = i64::try_from(boards.len() + strips - square).unwrap_or(i64::MAX);
        passes * work.pass + work.fixed(self.method, openings)
    }

    /// Every board, in no order that matters.
    pub(crate) fn boards(&self) -> Vec<&Board> {
        match &self.shape {
            Shape::Through(line) => line.boards.iter().collect(),
            Shape::Cant(cant) => {
                cant.above.iter().chain(&cant.below).chain(&cant.inner.boards).collect()
            }
        }
    }
}

/// Everything about one log and one set of prices that the families share.
pub(crate) struct Search<'a> {
    pub(crate) site: &'a Site<'a>,
    pub(crate) allowances: &'a Allowances,
    pub(crate) work: Work,
    pub(crate) lengths: Rc<[Lengths]>,
    pub(crate) ripping: Ripping<'a>,
    /// For every group, the strips of a flitch that only the log bounds.
    pub(crate) round: Vec<Table>,
    /// Stacks of such flitches on one side of the pith.
    pub(crate) outer: Stacks,
}

impl<'a> Search<'a> {
    pub(crate) fn new(site: &'a Site<'a>, wants: &[Want], prices: &'a Prices) -> Self {
        let allowances = &prices.allowances;
        let columns = site.columns.all.iter();
        let lengths: Rc<[Lengths]> =
            columns.map(|column| Lengths::new(column, wants, prices)).collect();
        let mut ripping = Ripping::new(site, Rc::clone(&lengths), allowances, prices.work.pass);
        let groups = 0..site.columns.groups.len();
        let round: Vec<Table> = groups.map(|group| ripping.table(group, Bounds::ROUND)).collect();
        let outer = Stacks::default();
        let mut search =
            Self { site, allowances, work: prices.work, lengths, ripping, round, outer };
        let mut outer = Stacks::default();
        let room = Room { outer: site.limit, past: site.limit };
        outer.sweep(&line::kinds(&search.side_offers()), site.kerf, room, allowances);
        search.outer = outer;
        search
    }

    /// The tables of planks that these bounds hold, group by group.
    pub(crate) fn tables(&mut self, bounds: Bounds) -> Vec<Table> {
        (0..self.site.columns.groups.len()).map(|group| self.ripping.table(group, bounds)).collect()
    }

    /// What side boards may be: all of them are freed from above.
    pub(crate) fn side_offers(&self) -> Vec<Offer<'_>> {
        line::freed(self, &line::offers(self, &self.round))
    }

    /// A strip with the pieces that it is cut into under these prices.
    pub(crate) fn rip(&self, strip: &Strip) -> Rip {
        let column = &self.site.columns.all[strip.column];
        Rip {
            column: strip.column,
            length: column.levels[strip.level].length,
            cuts: self.lengths[strip.column].cuts(strip.level, strip.allowance),
        }
    }

    /// A pattern of this search.
    pub(crate) fn found(&self, method: Method, value: i64, shape: Shape) -> Found {
        Found { method, value, shape }
    }

    /// The best pattern of each of these methods that has one.
    pub(crate) fn best(&mut self, methods: &[Method]) -> Vec<Found> {
        let mut found = Vec::new();
        for method in [Method::Through, Method::ThroughTurned] {
            if methods.contains(&method) {
                found.extend(through::best(self, method));
            }
        }
        found.extend(cant::best(self, methods, Aim::Each));
        if methods.contains(&Method::BoxedHeart) {
            found.extend(boxed::best(self));
        }
        found
    }

    /// The best pattern of all these methods, if one is worth more than `least` by more than a tie.
    pub(crate) fn best_above(&mut self, methods: &[Method], least: i64) -> Option<Found> {
        let mut best: Option<Found> = None;
        let mut floor = least;
        let mut take = |found: Option<Found>, floor: &mut i64| {
            if let Some(found) = found.filter(|found| found.value > *floor) {
                *floor = found.value;
                best = Some(found);
            }
        };
        for method in [Method::Through, Method::ThroughTurned] {
            if methods.contains(&method) {
                take(through::best(self, method), &mut floor);
            }
        }
        if methods.contains(&Method::BoxedHeart) {
            take(boxed::best(self), &mut floor);
        }
        for found in cant::best(self, methods, Aim::Above(floor)) {
            take(Some(found), &mut floor);
        }
        best
    }

    /// The best patterns of these methods, the cants found with the help of a search that counts nothing, and
    /// what a pattern that was not looked at could be worth at most. A method that cannot have the best of all
    /// may be left out.
    pub(crate) fn best_guided(
        &mut self,
        guide: &mut Self,
        allowed: i64,
        methods: &[Method],
        most_states: u64,
    ) -> (Vec<Found>, i64) {
        let cants = [Method::TwoSidedCant, Method::FourSidedCant];
        let others: Vec<Method> =
            methods.iter().copied().filter(|method| !cants.contains(method)).collect();
        let mut found = self.best(&others);
        let mut unsearched = 0;
        if others.len() < methods.len() {
            let least = found.iter().map(|found| found.value).max().unwrap_or(0);
            let (cants, more) =
                cant::best_guided(self, guide, allowed, least, methods, most_states);
            found.extend(cants);
            unsearched = more;
        }
        (found, unsearched)
    }

    /// States so far, a count of work.
    pub(crate) fn states(&self) -> u64 {
        self.ripping.states() + self.outer.states
    }
}
