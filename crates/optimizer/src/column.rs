//! Columns: every section that is wanted, and how its length may be cut up.
//!
//! A column is one thickness by one width with one wane and one rule for the pith and for flaws. What a strip of that
//! section is worth depends on the length over which it is sound; the lengths and their sums that matter are the
//! column's *levels*. A round straight log is thickest at the butt, so there a length is always reckoned from the butt.
//! On any other log a level may lie at several places along it, its *stretches*.
//!
//! # Recurrence
//! ```text
//! V(l) = max { V(l'), worth(c) + V(l - take(c) - crosscut) : c a cut, l' the level below }
//! ```
//! over levels `l`, exact, `O(levels * cuts)`.

use crate::allowance::Allowances;
use crate::family::Method;
use crate::family::quarter::Handling;
use crate::pile::Effort;
use crate::want::{CutId, Want, WantId};
use pithward_geometry::{Extent, FlawKinds, Hazards, Heart, Prism, Quarter, RingSpan, View};
use pithward_measure::Length;
use std::sync::Arc;

/// Nanometres in an inch, for curves.
pub(crate) const NM: f64 = 25_400_000.0;

/// One section that is wanted.
#[derive(Clone, Debug)]
pub(crate) struct Column {
    /// Nanometres, in the direction across the planes.
    pub(crate) thickness: i64,
    /// Nanometres, along the planes.
    pub(crate) width: i64,
    /// Legs of wood that may be missing at a corner, nanometres.
    pub(crate) wane_thickness: f64,
    pub(crate) wane_width: f64,
    /// Where the pith may be.
    pub(crate) heart: Heart,
    /// At which angles the rings must stand.
    pub(crate) rings: Option<Vec<RingSpan>>,
    /// Flaws that it may hold.
    pub(crate) tolerates: FlawKinds,
    pub(crate) cuts: Vec<CutId>,
    /// One of many widths of a want that takes any.
    pub(crate) random: bool,
    /// From the shortest.
    pub(crate) levels: Vec<Level>,
}

/// A length that matters.
#[derive(Clone, Debug)]
pub(crate) struct Level {
    /// Nanometres.
    pub(crate) length: i64,
    /// Where along the log it may lie.
    pub(crate) stretches: Vec<Stretch>,
    /// For each of the column's cuts the level that is left below it: `Some(None)` for nothing.
    below: Vec<Option<Option<usize>>>,
}

/// A place of a level along the log.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stretch {
    /// Where it begins, from the butt, nanometres.
    pub(crate) butt: i64,
    /// Place in [`Columns::rims`].
    pub(crate) rim: usize,
}

/// What bounds the edges of strips: the wood that a stretch has in common, the wane that is allowed there, and what a
/// strip must keep clear of. Many levels of many columns share one.
#[derive(Clone, Debug)]
pub(crate) struct Rim {
    prism: Arc<Prism>,
    /// Nanometres.
    wane: (f64, f64),
    hazards: Option<Arc<Hazards>>,
    key: RimKey,
}

/// What makes two rims the same: the stretch, the wane, what may be in the wood.
type RimKey = (i64, i64, u64, u64, FlawKinds, Heart, Option<Vec<RingSpan>>);

impl Rim {
    /// How far a strip between two planes may reach to either side; `None` where it is nowhere.
    pub(crate) fn extent(&self, quarter: Quarter, planes: (i64, i64)) -> Option<Extent> {
        self.prism.extent(quarter, planes, self.wane)
    }

    /// What a strip must keep clear of, or hold.
    pub(crate) fn hazards(&self) -> Option<&Hazards> {
        self.hazards.as_deref()
    }

    pub(crate) fn prism(&self) -> &Prism {
        &self.prism
    }
}

/// The rims of a log, each made once.
struct Rims<'v> {
    view: &'v View<'v>,
    all: Vec<Rim>,
    prisms: Vec<((i64, i64), Arc<Prism>)>,
}

impl Rims<'_> {
    /// The rim of a column over a stretch.
    fn place(&mut self, column: &Column, butt: i64, length: i64) -> usize {
        let wane = (column.wane_thickness, column.wane_width);
        let (tolerates, heart, rings) = (column.tolerates, column.heart, column.rings.as_deref());
        let own = rings.map(<[RingSpan]>::to_vec);
        let key = (butt, length, wane.0.to_bits(), wane.1.to_bits(), tolerates, heart, own);
        if let Some(place) = self.all.iter().position(|rim| rim.key == key) {
            return place;
        }
        let to = self.view.log().length() - Length::nm(butt);
        let stretch = (to - Length::nm(length), to);
        let known = self.prisms.iter().find(|(place, _)| *place == (butt, length));
        let prism = known.map(|(_, prism)| Arc::clone(prism)).unwrap_or_else(|| {
            let prism = Arc::new(self.view.prism(stretch.0, stretch.1));
            self.prisms.push(((butt, length), Arc::clone(&prism)));
            prism
        });
        let hazards = self.view.hazards(stretch, tolerates, heart, rings);
        let hazards = (!hazards.is_none()).then(|| Arc::new(hazards));
        self.all.push(Rim { prism, wane, hazards, key });
        self.all.len() - 1
    }
}

/// Where along a log a length may lie: at the butt; and where the log is not round and clean also at the small end and at
/// places between, and just clear of every flaw. More places find more short boards in a bowed log, and cost as many
/// searches.
fn stretches(view: &View<'_>, length: i64) -> Vec<i64> {
    let log = view.log();
    let slack = log.length().as_nm() - length;
    if log.is_round() || slack <= 0 {
        return vec![0];
    }
    let parts = match Length::nm(slack) {
        slack if slack >= Length::inches(24) => 2,
        slack if slack >= Length::inches(6) => 1,
        _ => 0,
    };
    let mut places: Vec<i64> = (0..=parts).map(|n| slack * n / parts.max(1)).collect();
    if view.is_of_round() {
        places.truncate(1);
    }
    for flaw in log.flaws() {
        // The butt side of the stretch at the flaw's small-end side, and the other way round.
        let (from, to) = (flaw.from.as_nm(), flaw.to.as_nm());
        places.extend([log.length().as_nm() - from, log.length().as_nm() - to - length]);
    }
    places.retain(|place| (0..=slack).contains(place));
    places.sort_unstable();
    places.dedup();
    places
}

/// The columns of a list of wants in one log.
#[derive(Clone, Debug)]
pub(crate) struct Columns {
    pub(crate) all: Vec<Column>,
    /// Distinct thicknesses, each with the columns that have it.
    pub(crate) groups: Vec<Group>,
    /// What bounds the edges of the columns' levels.
    pub(crate) rims: Vec<Rim>,
}

/// The columns of one thickness.
#[derive(Clone, Debug)]
pub(crate) struct Group {
    pub(crate) thickness: i64,
    pub(crate) columns: Vec<usize>,
}

/// From this thickness on a section may stand either way: a 6x8 is as good as an 8x6. Thinner stock is
/// sawn flat; set on edge it would be a cant of its own. Common practice, no source.
const EITHER_WAY: Length = Length::inches(3);

impl Columns {
    pub(crate) fn new(view: &View<'_>, crosscut: Length, wants: &[Want]) -> Self {
        let mut all: Vec<Column> = Vec::new();
        for (want, w) in wants.iter().enumerate() {
            for (cut, c) in w.cuts.iter().enumerate() {
                let id = CutId { want: WantId(want), cut };
                let turned = c.thickness != c.width && c.thickness.min(c.width) >= EITHER_WAY;
                let flat = (c.thickness, c.width, w.wane.thickness, w.wane.width);
                let random = w.cuts.iter().any(|other| other.width != c.width);
                let upright = (c.width, c.thickness, w.wane.width, w.wane.thickness);
                for (thickness, width, wane_thickness, wane_width) in
                    [Some(flat), turned.then_some(upright)].into_iter().flatten()
                {
                    let column = Column {
                        thickness: thickness.as_nm(),
                        width: width.as_nm(),
                        wane_thickness: wane_thickness.as_nm() as f64,
                        wane_width: wane_width.as_nm() as f64,
                        heart: w.heart,
                        rings: w.ring_spans(),
                        tolerates: w.tolerates,
                        cuts: vec![id],
                        random,
                        levels: Vec::new(),
                    };
                    match all.iter_mut().find(|other| other.same_section(&column)) {
                        Some(other) => {
                            other.cuts.push(id);
                            other.random &= random;
                        }
                        None => all.push(column),
                    }
                }
            }
        }
        let mut rims = Rims { view, all: Vec::new(), prisms: Vec::new() };
        for column in &mut all {
            let mut levels = levels(view.log().length(), crosscut, wants, &column.cuts);
            for level in &mut levels {
                let places = stretches(view, level.length).into_iter();
                let at = |butt| Stretch { butt, rim: rims.place(column, butt, level.length) };
                level.stretches = places.map(at).collect();
            }
            column.levels = levels;
        }
        let mut groups: Vec<Group> = Vec::new();
        // A column that no part of the log is long enough for keeps its place: the same wants give every log the same columns.
        let usable = all.iter().enumerate().filter(|(_, column)| !column.levels.is_empty());
        for (n, column) in usable {
            match groups.iter_mut().find(|group| group.thickness == column.thickness) {
                Some(group) => group.columns.push(n),
                None => groups.push(Group { thickness: column.thickness, columns: vec![n] }),
            }
        }
        groups.sort_by_key(|group| group.thickness);
        Self { all, groups, rims: rims.all }
    }
}

impl Column {
    fn same_section(&self, other: &Self) -> bool {
        let wane = |c: &Self| (c.wane_thickness.to_bits(), c.wane_width.to_bits());
        let key = |c: &Self| (c.thickness, c.width, wane(c), c.heart, c.tolerates);
        key(self) == key(other) && self.rings == other.rings
    }
}

/// The sums of lengths that fit the log, a crosscut between neighbours.
fn levels(log: Length, crosscut: Length, wants: &[Want], cuts: &[CutId]) -> Vec<Level> {
    let takes: Vec<i64> =
        cuts.iter().map(|id| wants[id.want.0].cuts[id.cut].take.as_nm()).collect();
    let (whole, crosscut) = (log.as_nm(), crosscut.as_nm());
    let mut sums: Vec<i64> = Vec::new();
    let mut open: Vec<i64> = takes.iter().copied().filter(|take| *take <= whole).collect();
    while let Some(sum) = open.pop() {
        if let Err(place) = sums.binary_search(&sum) {
            sums.insert(place, sum);
            open.extend(takes.iter().map(|take| sum + crosscut + take).filter(|sum| *sum <= whole));
        }
    }
    let level = |sum: i64| {
        let below = |take: &i64| match sum - take {
            rest if rest < 0 => None,
            rest => Some(sums.partition_point(|other| *other <= rest - crosscut).checked_sub(1)),
        };
        Level { length: sum, stretches: Vec::new(), below: takes.iter().map(below).collect() }
    };
    sums.iter().map(|sum| level(*sum)).collect()
}

/// What a piece is worth to the search at the moment.
#[derive(Clone, Debug)]
pub(crate) struct Prices {
    /// Taken off the worth of every piece of a want, millionths: its price in the program over patterns.
    pub(crate) discount: Vec<i64>,
    /// The wants whose counts are carried exactly, by their place in the allowances.
    pub(crate) counted: Vec<WantId>,
    pub(crate) allowances: Allowances,
    pub(crate) work: Work,
}

impl Prices {
    /// Every piece at its full worth, nothing counted, work only to break ties.
    pub(crate) fn full(wants: &[Want]) -> Self {
        Self::of(vec![0; wants.len()], Work::TIES)
    }

    /// Pieces at a discount, nothing counted.
    pub(crate) fn of(discount: Vec<i64>, work: Work) -> Self {
        Self { discount, counted: Vec::new(), allowances: Allowances::none(), work }
    }

    /// What a cut is worth where nothing is counted exactly, millionths.
    pub(crate) fn worth(&self, wants: &[Want], id: CutId) -> i64 {
        let cut = &wants[id.want.0].cuts[id.cut];
        (cut.worth - self.discount[id.want.0]).max(cut.extra)
    }

    /// What a cut may be worth: pairs of what it uses of the allowance and its worth.
    fn options(&self, wants: &[Want], id: CutId) -> [Option<(usize, i64)>; 2] {
        let cut = &wants[id.want.0].cuts[id.cut];
        match self.counted.iter().position(|want| *want == id.want) {
            Some(n) => [Some((self.allowances.one(n), cut.worth)), Some((0, cut.extra))],
            None => [Some((0, self.worth(wants, id))), None],
        }
    }
}

/// One unit of worth in the search. Below it is room for what only breaks ties.
pub(crate) const UNIT: i64 = 1000;

/// What the work of sawing costs the search, in [`UNIT`]ths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Work {
    /// A pass of the blade.
    pub(crate) pass: i64,
    /// A turn of the log, or loading it anew.
    pub(crate) turn: i64,
}

impl Work {
    /// Of two patterns of equal worth the one with less work wins. A turn takes about as long as three passes
    /// (common practice, no source).
    pub(crate) const TIES: Self = Self { pass: 1, turn: 3 };

    /// What a stated weight comes to, and besides what breaks ties.
    pub(crate) fn of(effort: Effort) -> Self {
        Self {
            pass: effort.pass * UNIT + Self::TIES.pass,
            turn: effort.turn * UNIT + Self::TIES.turn,
        }
    }

    /// What a method costs beside the passes that free its boards: those that open faces, and its turns.
    pub(crate) fn fixed(self, method: Method, openings: i64) -> i64 {
        openings * self.pass + method.turns() * self.turn
    }

    /// The same of a pattern whose turns and moves are its own. A move off the mill or back on takes as long as a turn
    /// at the least.
    pub(crate) fn handling(self, handling: Handling) -> i64 {
        let Handling { openings, turns, moves } = handling;
        openings * self.pass + (turns + moves) * self.turn
    }
}

/// The worth of a column's levels under some prices.
#[derive(Clone, Debug)]
pub(crate) struct Ladder {
    /// What it uses of the allowance.
    pub(crate) uses: usize,
    /// Levels that are worth more than every shorter one, with their worth in [`UNIT`]ths.
    pub(crate) rungs: Vec<(usize, i64)>,
}

/// A column's best cutting to length under some prices.
#[derive(Clone, Debug)]
pub(crate) struct Lengths {
    pub(crate) ladders: Vec<Ladder>,
    /// For each allowance and level: the cut taken, and the level and allowance left below it.
    choice: Vec<Option<(CutId, Option<usize>, usize)>>,
    levels: usize,
}

impl Lengths {
    pub(crate) fn new(column: &Column, wants: &[Want], prices: &Prices) -> Self {
        let (levels, size) = (column.levels.len(), prices.allowances.size());
        let mut worth = vec![0i64; levels * size];
        let mut choice = vec![None; levels * size];
        for allowance in 0..size {
            for level in 0..levels {
                let here = allowance * levels + level;
                if level > 0 {
                    (worth[here], choice[here]) = (worth[here - 1], choice[here - 1]);
                }
                for (n, id) in column.cuts.iter().enumerate() {
                    let Some(below) = column.levels[level].below[n] else { continue };
                    for (uses, value) in prices.options(wants, *id).into_iter().flatten() {
                        let Some(rest) = prices.allowances.minus(allowance, uses) else { continue };
                        let total =
                            value * UNIT + below.map_or(0, |below| worth[rest * levels + below]);
                        if total > worth[here] {
                            worth[here] = total;
                            choice[here] = Some((*id, below, rest));
                        }
                    }
                }
            }
        }
        let at = |allowance: usize, level: usize| worth[allowance * levels + level];
        let mut ladders = Vec::new();
        for uses in 0..size {
            let mut rungs = Vec::new();
            let mut best = 0;
            for level in 0..levels {
                let value = at(uses, level);
                let by_less = |less: usize| {
                    at(less, level) == value && prices.allowances.minus(uses, less).is_some()
                };
                if value > best && !(0..uses).any(by_less) {
                    rungs.push((level, value));
                }
                best = best.max(value);
            }
            if !rungs.is_empty() {
                ladders.push(Ladder { uses, rungs });
            }
        }
        Self { ladders, choice, levels }
    }

    /// The cuts of a strip that is sound over a level, from the butt.
    pub(crate) fn cuts(&self, level: usize, allowance: usize) -> Vec<CutId> {
        let mut cuts = Vec::new();
        let (mut level, mut allowance) = (Some(level), allowance);
        while let Some((id, below, rest)) =
            level.and_then(|l| self.choice[allowance * self.levels + l])
        {
            cuts.push(id);
            (level, allowance) = (below, rest);
        }
        cuts
    }
}

/// The whole nanometre at or below a length that is not negative.
#[allow(
    clippy::cast_possible_truncation,
    reason = "radii are far below 2^63 nm, and `as` drops the fraction"
)]
pub(crate) fn floor(nm: f64) -> i64 {
    nm as i64
}
