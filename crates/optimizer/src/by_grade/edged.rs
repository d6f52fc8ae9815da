//! The strips of a board between known planes, by what they look like.
//!
//! # Problem
//! The search rips every board into what would be worth most if it were clear, in the middle of its room. Where the log is
//! laid and its planes are known, other strips may be worth more: narrower ones beside a knot at the edge, two of which one
//! is clear, a shorter one that ends before a seam.
//!
//! # Method
//! Rows of strips side by side, a kerf between neighbours. The first begins at a place of a grid across the board, or one or
//! two strips end where the wood does. A row's worth is the sum of its strips', so the best row is the longest path over the
//! places where strips begin. A strip that nobody looked at is held for clear: the strips of the best row are looked at, what
//! they are worth less is taken off, and the best row is sought again, until it is one whose strips were all looked at. That
//! is the best of all rows, for what a strip looks like never adds to its worth. When so many were looked at as may be, the best
//! row is taken of those whose strips all were.

use crate::column::{Lengths, Prices, Work};
use crate::family::{Edged, Found, Rip};
use crate::flitch::{Strip, StripPlace};
use crate::looks::Eyes;
use crate::sawing::{Placed, placed};
use crate::site::Site;
use crate::want::Want;
use std::collections::BTreeSet;

#[cfg(test)]
mod tests;

/// Distance of the places where rows begin, nanometres: half an inch.
const APART: i64 = 12_700_000;

/// Edges boards of one log by what their strips look like.
pub(super) struct Edging<'e> {
    site: &'e Site<'e>,
    eyes: &'e Eyes<'e>,
    /// By column.
    lengths: Vec<Lengths>,
    pass: i64,
}

/// A strip at a place.
#[derive(Clone, Copy)]
struct Spot {
    /// Place in [`Rows::places`], and of the next strip's.
    here: usize,
    next: Option<usize>,
    strip: Strip,
    /// What it is worth at most, or, once it was looked at, as it looks; less its pass.
    value: i64,
    is_known: bool,
}

/// A strip, what it is worth at most, less its pass, and where it may begin.
type Kind = (Strip, i64, Vec<(i64, i64)>);

/// The rows of a board.
struct Rows {
    /// Where strips may begin, from `-u`.
    places: Vec<i64>,
    /// By place.
    spots: Vec<Spot>,
    /// By place what strips from there on are worth, and the first of them.
    best: Vec<(i64, Option<usize>)>,
    /// So many places, from the first on, for which that must be reckoned anew.
    changed: usize,
}

impl<'e> Edging<'e> {
    /// `wants` are those of the site's columns, at their best.
    pub(super) fn new(
        site: &'e Site<'e>,
        (wants, work): (&[Want], Work),
        eyes: &'e Eyes<'e>,
    ) -> Self {
        let prices = Prices::of(vec![0; wants.len()], work);
        let columns = site.columns.all.iter();
        let lengths = columns.map(|column| Lengths::new(column, wants, &prices)).collect();
        Self { site, eyes, lengths, pass: work.pass }
    }

    /// A pattern with its boards edged so that they are worth most, so many strips of each looked at; `None` where they are
    /// already.
    pub(super) fn edge(&self, found: &Found, looks: usize) -> Option<Found> {
        let placed = placed(self.site, found).ok()?;
        let boards = placed.iter().filter(|placed| !placed.board.strips.is_empty());
        let edged: Vec<Edged> = boards.filter_map(|placed| self.edged(placed, looks)).collect();
        (!edged.is_empty()).then(|| Found { edged, ..found.clone() })
    }

    /// A board with strips that are worth more than those that it has.
    fn edged(&self, placed: &Placed, most: usize) -> Option<Edged> {
        let (site, planes) = (self.site, (placed.from, placed.to));
        let own = site.strips(&placed.board.strips)?;
        let loss = self.eyes.loss(site, &self.lengths, &own, placed.lie, planes);
        if loss == 0 {
            return None;
        }
        let clear = |strip: &Strip| strip.place.map_or(0, |place| self.clear(place));
        let least =
            own.iter().map(|strip| clear(strip) - self.cost(strip, placed)).sum::<i64>() - loss;
        let mut rows = self.rows(placed);
        let mut looks = 0;
        loop {
            let (value, row) = rows.best(looks >= most)?;
            if value <= least {
                return None;
            }
            let unknown: Vec<usize> =
                row.iter().copied().filter(|spot| !rows.spots[*spot].is_known).collect();
            if unknown.is_empty() {
                return self.row(&rows, &row, placed);
            }
            looks += unknown.len();
            for spot in unknown {
                let Spot { here, strip, .. } = rows.spots[spot];
                let at = (&strip, rows.places[here]);
                let loss = self.eyes.loss_of(site, &self.lengths, at, placed.lie, planes);
                rows.look(spot, loss);
            }
        }
    }

    fn row(&self, rows: &Rows, row: &[usize], placed: &Placed) -> Option<Edged> {
        let strips: Vec<Strip> = row.iter().map(|spot| rows.spots[*spot].strip).collect();
        let at = rows.places[rows.spots[*row.first()?].here];
        let (lie, planes) = (placed.lie, (placed.from, placed.to));
        let (from, to) = self.site.room(&strips, lie, planes)?;
        if !(from..=to).contains(&at) {
            return None;
        }
        let rip = |strip: &Strip| Rip::of(self.site, &self.lengths, strip);
        let count = |strips: usize| i64::try_from(strips).unwrap_or(i64::MAX);
        let more = count(strips.len()) - count(placed.board.strips.len());
        Some(Edged { lie, planes, strips: strips.iter().map(rip).collect(), at, more })
    }

    /// What a clear strip is worth.
    fn clear(&self, place: StripPlace) -> i64 {
        let rungs = self.lengths[place.column].ladders.iter().flat_map(|ladder| &ladder.rungs);
        rungs.filter(|(level, _)| *level <= place.level).map(|(_, value)| *value).max().unwrap_or(0)
    }

    /// What its pass costs, where it needs one.
    fn cost(&self, strip: &Strip, placed: &Placed) -> i64 {
        if strip.width == placed.lie.bounds.width() { 0 } else { self.pass }
    }

    /// All rows of a board.
    fn rows(&self, placed: &Placed) -> Rows {
        let (site, planes) = (self.site, (placed.from, placed.to));
        let mut kinds: Vec<Kind> = Vec::new();
        let groups = site.columns.groups.iter();
        for &column in
            groups.filter(|g| g.thickness == placed.board.thickness).flat_map(|g| &g.columns)
        {
            let own = &site.columns.all[column];
            for ladder in &self.lengths[column].ladders {
                for (level, value) in &ladder.rungs {
                    for (stretch, place) in own.levels[*level].stretches.iter().enumerate() {
                        let rim = &site.columns.rims[place.rim];
                        let places = site.places(rim, placed.lie, planes, own.width);
                        let place =
                            StripPlace { column, level: *level, stretch, allowance: ladder.uses };
                        let strip = Strip { width: own.width, place: Some(place) };
                        let value = *value - self.cost(&strip, placed);
                        kinds.push((strip, value, places));
                    }
                }
            }
        }
        let mut rooms: Vec<(i64, i64)> =
            kinds.iter().flat_map(|(.., rooms)| rooms).copied().collect();
        rooms.sort_unstable();
        rooms.dedup();
        let mut widths: Vec<i64> = kinds.iter().map(|(strip, ..)| strip.width).collect();
        widths.sort_unstable();
        widths.dedup();
        let mut open: Vec<i64> = Vec::new();
        for (from, to) in rooms {
            let grid = (from.div_euclid(APART) + 1..=to.div_euclid(APART)).map(|n| n * APART);
            open.extend(grid.chain([from, to]));
            open.extend(widths.iter().map(|width| to - site.kerf - width));
        }
        Rows::from(open, &kinds, site.kerf)
    }
}

impl Rows {
    /// All rows of these strips, each with what it is worth at most and where it may begin, that begin at these places.
    fn from(mut open: Vec<i64>, kinds: &[Kind], kerf: i64) -> Self {
        let may_begin = |(.., rooms): &Kind, at: i64| {
            rooms.iter().any(|(from, to)| (*from..=*to).contains(&at))
        };
        let mut places: BTreeSet<i64> = BTreeSet::new();
        while let Some(at) = open.pop() {
            if places.contains(&at) {
                continue;
            }
            let here = kinds.iter().filter(|kind| may_begin(kind, at));
            let before = open.len();
            open.extend(here.map(|(strip, ..)| at + strip.width + kerf));
            if open.len() > before {
                places.insert(at);
            }
        }
        let places: Vec<i64> = places.into_iter().collect();
        let mut spots: Vec<Spot> = Vec::with_capacity(places.len() * kinds.len() / 2);
        for (here, at) in places.iter().enumerate() {
            for (strip, value, _) in kinds.iter().filter(|kind| may_begin(kind, *at)) {
                let next = places.binary_search(&(at + strip.width + kerf)).ok();
                let (strip, value) = (*strip, *value);
                spots.push(Spot { here, next, strip, value, is_known: false });
            }
        }
        let changed = places.len();
        Self { best: vec![(0, None); changed], places, spots, changed }
    }

    /// A strip was looked at, and is worth so much less.
    fn look(&mut self, spot: usize, loss: i64) {
        let spot = &mut self.spots[spot];
        spot.value -= loss;
        spot.is_known = true;
        self.changed = self.changed.max(spot.here + 1);
    }

    /// The best row and what it is worth; of those whose strips were all looked at, if only these are asked for.
    fn best(&mut self, known: bool) -> Option<(i64, Vec<usize>)> {
        let changed = if known { self.places.len() } else { self.changed };
        self.best[..changed].fill((0, None));
        let begun = self.spots.partition_point(|spot| spot.here < changed);
        for (n, spot) in self.spots[..begun].iter().enumerate().rev() {
            if known && !spot.is_known {
                continue;
            }
            let value = spot.value + spot.next.map_or(0, |next| self.best[next].0);
            if value > self.best[spot.here].0 {
                self.best[spot.here] = (value, Some(n));
            }
        }
        self.changed = 0;
        let (value, first) = *self.best.iter().max_by_key(|(value, _)| *value)?;
        let next = |spot: &usize| self.best[self.spots[*spot].next?].1;
        let row: Vec<usize> = std::iter::successors(first, next).collect();
        (!row.is_empty()).then_some((value, row))
    }
}
