//! The ways to saw one log, each as an exact program over the places of its planes.
//!
//! Lines of boards run along `y` (parallel to the first two faces' normal) or, inside a cant, along `x`.
//! Places are nanometres from the pith. See [`through`], [`cant`], [`boxed`], [`quarter`] for the recurrences, and [`mod@line`] for what a
//! mill asks of a line.

pub(crate) mod around;
pub(crate) mod boxed;
pub(crate) mod cant;
pub(crate) mod line;
pub(crate) mod quarter;
mod tables;
pub(crate) mod through;

use crate::allowance::Allowances;
use crate::column::{Lengths, Prices, Work};
use crate::flitch::{Bounds, Ripping, Strip};
use crate::looks::Eyes;
use crate::site::{Lie, Site};
use crate::stack::{Room, Stacks};
use crate::want::{CutId, Rings, Want};
use around::AroundShape;
use cant::Aim;
pub(crate) use cant::Rough;
use line::Offer;
use quarter::QuarterShape;
use std::cell::Cell;
use std::rc::Rc;
use tables::Known;
pub(crate) use tables::Tables;

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
    /// Two opposite faces, the other two, then the first two again and the other two once more, until a heart is left.
    Around,
    /// Parted, its parts put back, so that the boards' faces meet the growth rings steeply.
    Quarter,
}

impl Method {
    /// All of them, simplest first.
    pub const ALL: [Self; 7] = [
        Self::Through,
        Self::ThroughTurned,
        Self::TwoSidedCant,
        Self::FourSidedCant,
        Self::BoxedHeart,
        Self::Around,
        Self::Quarter,
    ];

    /// Those that are searched where nobody names any: quarter sawing takes twice the time, and gives less wood.
    pub const USUAL: [Self; 6] = [
        Self::Through,
        Self::ThroughTurned,
        Self::TwoSidedCant,
        Self::FourSidedCant,
        Self::BoxedHeart,
        Self::Around,
    ];

    /// Those by which a pile is planned where nobody says which: to price every log around as well takes several times as
    /// long as by all others, and few lists gain by it.
    pub const OF_A_PILE: [Self; 5] = [
        Self::Through,
        Self::ThroughTurned,
        Self::TwoSidedCant,
        Self::FourSidedCant,
        Self::BoxedHeart,
    ];

    /// Those that are searched for these wants where nobody names any: the usual ones, and quarter sawing where a want
    /// asks for rings that stand on the face.
    pub fn usual(wants: &[Want]) -> Vec<Self> {
        let asked = wants.iter().filter_map(|want| want.rings.as_ref()).any(Rings::ask_for_quarter);
        Self::USUAL.into_iter().chain(asked.then_some(Self::Quarter)).collect()
    }

    /// Turns of the log; at the least, where the pattern decides.
    pub fn turns(self) -> i64 {
        match self {
            Self::Through => 0,
            Self::ThroughTurned | Self::Quarter => 1,
            Self::TwoSidedCant => 2,
            Self::FourSidedCant | Self::BoxedHeart | Self::Around => 3,
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
            Self::Around => "around",
            Self::Quarter => "quarter sawing",
        }
    }
}

/// A board between two planes and the strips that it is ripped into, from `-u` to `+u`; without strips it is waste.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Board {
    pub(crate) thickness: i64,
    pub(crate) strips: Vec<Rip>,
}

/// A strip as it is cut: one section, sound over a stretch of the log, and its pieces from the butt on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Rip {
    /// Nanometres.
    pub(crate) width: i64,
    /// Its section; `None` for waste between two strips.
    pub(crate) column: Option<usize>,
    /// Where its stretch begins, from the butt, nanometres.
    pub(crate) butt: i64,
    /// Nanometres, crosscuts between the pieces included.
    pub(crate) length: i64,
    pub(crate) cuts: Vec<CutId>,
}

impl Rip {
    /// A strip with the pieces that it is cut into.
    pub(crate) fn of(site: &Site<'_>, lengths: &[Lengths], strip: &Strip) -> Self {
        let width = strip.width;
        let Some(place) = strip.place else {
            return Self { width, column: None, butt: 0, length: 0, cuts: Vec::new() };
        };
        let level = &site.columns.all[place.column].levels[place.level];
        Self {
            width,
            column: Some(place.column),
            butt: level.stretches[place.stretch].butt,
            length: level.length,
            cuts: lengths[place.column].cuts(place.level, place.allowance),
        }
    }
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
    /// Layers round a heart.
    Around(AroundShape),
    /// Parted, its parts put back.
    Quarter(QuarterShape),
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
    /// Boards that are edged otherwise than the shape says.
    pub(crate) edged: Vec<Edged>,
}

/// A board that is edged otherwise, by where it lies.
#[derive(Clone, Debug)]
pub(crate) struct Edged {
    pub(crate) lie: Lie,
    /// Its lower and its upper plane.
    pub(crate) planes: (i64, i64),
    pub(crate) strips: Vec<Rip>,
    /// Where the first strip begins.
    pub(crate) at: i64,
    /// How many strips it has more than the shape says.
    pub(crate) more: i64,
}

impl Found {
    /// The cuts of every strip as the shape says, in no order that matters.
    pub(crate) fn cuts(&self) -> Vec<CutId> {
        let strips = self.boards().into_iter().flat_map(|board| &board.strips);
        strips.flat_map(|strip| strip.cuts.iter().copied()).collect()
    }

    /// What its work costs, in [`crate::column::UNIT`]ths: a pass for every face that is opened, board that is freed and
    /// strip that is not square already, and the turns of its method.
    pub(crate) fn effort(&self, work: Work) -> i64 {
        let is_square = |strip: &&Rip, width: i64| strip.column.is_some() && strip.width == width;
        let (fixed, square) = match &self.shape {
            Shape::Through(_) => (work.fixed(self.method, through::PASSES), 0),
            Shape::Cant(cant) => {
                let strips = cant.inner.boards.iter().flat_map(|board| &board.strips);
                let square = strips.filter(|strip| is_square(strip, cant.height)).count();
                (work.fixed(self.method, cant::PASSES), square)
            }
            Shape::Around(around) => {
                let bounded = around.bounded();
                let own = |(board, width): &(&Board, i64)| {
                    board.strips.iter().filter(|strip| is_square(strip, *width)).count()
                };
                let more = (around.turns() - self.method.turns()) * work.turn;
                let fixed = work.fixed(self.method, around::PASSES) + more;
                (fixed, bounded.iter().map(own).sum())
            }
            Shape::Quarter(shape) => (work.handling(shape.handling()), 0),
        };
        let boards = self.boards();
        let strips: usize = boards.iter().map(|board| board.strips.len()).sum();
        let passes = i64::try_from(boards.len() + strips - square).unwrap_or(i64::MAX);
        let passes = passes + self.edged.iter().map(|edged| edged.more).sum::<i64>();
        passes * work.pass + fixed
    }

    /// Every board, in no order that matters.
    pub(crate) fn boards(&self) -> Vec<&Board> {
        match &self.shape {
            Shape::Through(line) => line.boards.iter().collect(),
            Shape::Cant(cant) => {
                cant.above.iter().chain(&cant.below).chain(&cant.inner.boards).collect()
            }
            Shape::Around(around) => around.boards(),
            Shape::Quarter(shape) => shape.boards(),
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
    /// The strips of flitches that only the log bounds.
    pub(crate) round: Tables,
    known: Known,
    /// Stacks of such flitches above the axis, and below it where that differs.
    outer: (Stacks, Option<Stacks>),
    /// States of searches that are not kept.
    more_states: Cell<u64>,
}

impl<'a> Search<'a> {
    pub(crate) fn new(site: &'a Site<'a>, wants: &[Want], prices: &'a Prices) -> Self {
        Self::seeing(site, wants, prices, None)
    }

    /// The same where boards are worth what they look like; what is found then is the best by tables that look at them
    /// here and there.
    pub(crate) fn seeing(
        site: &'a Site<'a>,
        wants: &[Want],
        prices: &'a Prices,
        eyes: Option<&'a Eyes<'a>>,
    ) -> Self {
        let allowances = &prices.allowances;
        let columns = site.columns.all.iter();
        let lengths: Rc<[Lengths]> =
            columns.map(|column| Lengths::new(column, wants, prices)).collect();
        let mut ripping = Ripping::new(site, Rc::clone(&lengths), allowances, prices.work.pass);
        ripping = ripping.seeing(eyes);
        let mut known = Known::default();
        let round = known.tables(&mut ripping, Lie::ROUND);
        let room = Room { outer: site.limit, past: site.limit };
        let sweep = |up: bool| {
            let offers = line::freed(site, &round.offers(site, allowances, up));
            let mut outer = Stacks::default();
            outer.sweep(&line::kinds(&offers), site.kerf, room, allowances);
            outer
        };
        let outer = (sweep(true), round.low.is_some().then(|| sweep(false)));
        let work = prices.work;
        let more_states = Cell::new(0);
        Self { site, allowances, work, lengths, ripping, round, known, outer, more_states }
    }

    /// Stacks of flitches that only the log bounds, above the axis or below it.
    pub(crate) fn outer(&self, up: bool) -> &Stacks {
        let (above, below) = &self.outer;
        below.as_ref().filter(|_| !up).unwrap_or(above)
    }

    /// The tables of planks that these bounds hold, group by group.
    pub(crate) fn planks(&mut self, bounds: Bounds) -> Tables {
        self.tables(Lie::planks(bounds))
    }

    /// The tables of boards that lie like this, group by group.
    pub(crate) fn tables(&mut self, lie: Lie) -> Tables {
        self.known.tables(&mut self.ripping, lie)
    }

    /// What side boards above the axis or below it may be: all of them are freed from above.
    pub(crate) fn side_offers(&self, up: bool) -> Vec<Offer<'_>> {
        line::freed(self.site, &self.round.offers(self.site, self.allowances, up))
    }

    /// A strip with the pieces that it is cut into under these prices.
    pub(crate) fn rip(&self, strip: &Strip) -> Rip {
        Rip::of(self.site, &self.lengths, strip)
    }

    /// A pattern of this search.
    pub(crate) fn found(&self, method: Method, value: i64, shape: Shape) -> Found {
        Found { method, value, shape, edged: Vec::new() }
    }

    /// The best pattern of each of these methods that has one; around the log only where that is better than all others.
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
        let quarter = methods.contains(&Method::Quarter) && self.counts_nothing();
        let quarters = if quarter { quarter::best(self) } else { None };
        if methods.contains(&Method::Around) {
            let values = found.iter().chain(&quarters).map(|found| found.value);
            found.extend(around::best(self, values.fold(0, i64::max)));
        }
        found.extend(quarters);
        found
    }

    /// Patterns of these methods but around by boards that are worth what they look like: the best of every line and of
    /// quarters, and of the `most` most promising cants each its own.
    pub(crate) fn seen(&mut self, methods: &[Method], most: usize) -> Vec<Found> {
        let mut found = Vec::new();
        for method in [Method::Through, Method::ThroughTurned] {
            if methods.contains(&method) {
                found.extend(through::best(self, method));
            }
        }
        found.extend(cant::first(self, methods, most));
        if methods.contains(&Method::BoxedHeart) {
            found.extend(boxed::best(self));
        }
        if methods.contains(&Method::Quarter) {
            found.extend(quarter::best(self));
        }
        found
    }

    /// The best pattern that is sawn around, if it is worth more than `least`.
    pub(crate) fn around(&mut self, least: i64) -> Option<Found> {
        around::best(self, least)
    }

    /// Whether no count is carried exactly.
    fn counts_nothing(&self) -> bool {
        self.ripping.counts_nothing()
    }

    /// What the best pattern is worth, roughly, if that is more than is known: lines across the whole log, and cants. No more
    /// than there is, but what the mill asks of a line.
    pub(crate) fn roughly(&mut self, methods: &[Method], rough: Rough) -> i64 {
        let least = self.best_through(methods, rough.least);
        let best = least.max(cant::roughly(self, methods, Rough { least, ..rough }));
        self.best_quarters(methods, best)
    }

    /// Whether the best pattern is worth more than is known, roughly. Any that is ends the search.
    pub(crate) fn roughly_above(&mut self, methods: &[Method], rough: Rough) -> bool {
        let least = rough.least;
        self.best_through(methods, least) > least
            || cant::roughly(self, methods, Rough { any: true, ..rough }) > least
            || self.best_quarters(methods, least) > least
    }

    /// What the best line across the whole log is worth, if that is more than `least`.
    fn best_through(&self, methods: &[Method], least: i64) -> i64 {
        let through = [Method::ThroughTurned, Method::Through];
        let method = through.into_iter().find(|method| methods.contains(method));
        let found = method.and_then(|method| through::best(self, method));
        found.map_or(least, |found| least.max(found.value))
    }

    /// What quarters are worth, roughly, if that is more than `least`.
    fn best_quarters(&mut self, methods: &[Method], least: i64) -> i64 {
        if !methods.contains(&Method::Quarter) || !self.counts_nothing() {
            return least;
        }
        quarter::roughly(self).map_or(least, |value| least.max(value))
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
        if methods.contains(&Method::Quarter) && self.counts_nothing() {
            take(quarter::best(self), &mut floor);
        }
        if methods.contains(&Method::Around) {
            take(around::best(self, floor), &mut floor);
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
        let others = |method: &Method| !cants.contains(method) && *method != Method::Around;
        let others: Vec<Method> = methods.iter().copied().filter(others).collect();
        let mut found = self.best(&others);
        let mut unsearched = 0;
        let least = |found: &[Found]| found.iter().map(|found| found.value).max().unwrap_or(0);
        if methods.iter().any(|method| cants.contains(method)) {
            let least = least(&found);
            let (cants, more) =
                cant::best_guided(self, guide, allowed, least, methods, most_states);
            found.extend(cants);
            unsearched = more;
        }
        if methods.contains(&Method::Around) {
            let least = least(&found);
            let (around, more) = around::best_guided(self, guide, allowed, least, most_states);
            found.extend(around);
            unsearched = unsearched.max(more);
        }
        if methods.contains(&Method::Quarter) && !self.counts_nothing() {
            // Quarters carry no counts: what the guide's prices say of them bounds what these could give.
            let guided = if guide.counts_nothing() { quarter::best(guide) } else { None };
            unsearched = unsearched.max(guided.as_ref().map_or(0, |found| found.value + allowed));
            found.extend(guided);
        }
        (found, unsearched)
    }

    /// States so far, a count of work.
    pub(crate) fn states(&self) -> u64 {
        let below = self.outer.1.as_ref().map_or(0, |below| below.states);
        self.ripping.states() + self.outer.0.states + below + self.more_states.get()
    }
}
