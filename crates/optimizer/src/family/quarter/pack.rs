//! A pack of boards about the pith, sawn through, and the two segments beyond it, turned a quarter.
//!
//! # Problem
//! The log lies on its bark. The first pass frees the upper segment, the next ones the boards of the pack, all of one
//! thickness: one of them with the pith at its middle and as many as come beside it, or all beside a kerf through the
//! pith. The lower segment stays, is turned a quarter, its flat against the stops, and sawn straight down; the upper one
//! is put back and sawn in the same way. An empty pack parts the log into halves, each sawn so.
//!
//! # How far a pack goes
//! Further from the pith its boards would be plain sawn, and a pack over the whole log is sawing through and through. So
//! its boards end where the rings, halfway from the pith to the bark, would stand at less than 60 degrees to the face. With
//! `y` from the pith to the middle of a board and `r` from the pith to the bark, that is where `sqrt(r^2 - y^2) / 2` is less
//! than `y tan 60`: where `13 y^2` is more than `r^2`.
//!
//! # Recurrence
//! With `v` the worth of the boards of a pack that ends at a plane, less their passes, and `S` that of the best line of
//! planks in the segment beyond it ([`line::within`]), less an opening and what moving it costs:
//! ```text
//! P = max over t, odd or even, of v(middle) + max over n of v(n boards above) + S(above them)
//!                                           + max over n of v(n boards below) + S(below them)
//! ```
//! `S` only falls as its plane goes outward, so a plane nearer to the pith bounds all further ones: most of them need no
//! line of their own.
//!
//! # Grid and cost
//! Exact in whole nanometres on round sound wood for packs of one thickness; the planks of a segment are as exact as
//! those of a cant. One search of strips for each board of a pack, a table of every thickness and a line for some ten
//! planes on either side.

use super::{Handling, Toward, clears, parting};
use crate::family::{Board, Line, Search, line};
use crate::sawing::{below, reach};
use crate::site::Lie;
use pithward_geometry::{Body, Covering, Quarter};
use std::collections::BTreeMap;

/// A pack and the segments beyond it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Pack {
    /// Where the first pass frees the upper segment.
    pub(crate) top: i64,
    /// The boards of the pack, along `y`; none where the log is parted into halves.
    pub(crate) line: Line,
    /// What the segments are sawn into, along `x`.
    pub(crate) above: Line,
    pub(crate) below: Line,
}

impl Pack {
    /// The flat of a segment: which way it faces, and how far out.
    pub(crate) fn flat(&self, upper: bool, kerf: i64) -> (Toward, i64) {
        let lowest = if self.line.boards.is_empty() { self.top } else { self.line.base - kerf };
        if upper { (Toward::Down, -(self.top + kerf)) } else { (Toward::Up, lowest) }
    }

    /// How the planks of a segment lie.
    pub(crate) fn lie(&self, upper: bool, kerf: i64) -> Lie {
        let (toward, flat) = self.flat(upper, kerf);
        Toward::Right.lie(toward, flat)
    }

    pub(super) fn handling(&self) -> Handling {
        let has = |line: &Line| i64::from(!line.boards.is_empty());
        let (above, below) = (has(&self.above), has(&self.below));
        Handling { openings: 1 + above + below, turns: below, moves: 2 * above }
    }
}

/// One side of a pack: its boards outward from the middle, and what they are worth with the segment beyond them.
#[derive(Clone, Debug, Default)]
struct Side {
    value: i64,
    boards: Vec<Board>,
}

/// A log being searched.
struct Packing<'s, 'a> {
    search: &'s mut Search<'a>,
    /// What the segments above and below are worth, by how far out their flats are from the middle.
    segments: [BTreeMap<i64, i64>; 2],
}

/// The best pattern and what it is worth; `None` where the mill cannot part the log, or nothing comes of it.
pub(crate) fn best(search: &mut Search<'_>) -> Option<(i64, Pack)> {
    let site = search.site;
    if site.nearest_plane(true) > 0 {
        return None;
    }
    let (kerf, pass) = (site.kerf, search.work.pass);
    let [_, parted] = parting(site);
    let pith = parted + kerf / 2;
    let groups: Vec<(usize, i64)> =
        site.columns.groups.iter().map(|group| group.thickness).enumerate().collect();
    let mut packing = Packing { search, segments: Default::default() };
    let mut best: Option<(i64, Pack)> = None;
    for (group, thickness) in groups {
        if thickness > site.deepest_board() {
            continue;
        }
        for odd in [true, false] {
            let from = pith - thickness / 2;
            let middle = odd.then(|| packing.board(group, (from, from + thickness)));
            let (low, high) =
                if odd { (from - kerf, from + thickness + kerf) } else { (parted, parted + kerf) };
            let own = middle.as_ref().map_or(0, |(value, _)| *value) - pass;
            let known = best.as_ref().map_or(0, |(value, _)| *value);
            let (Some(above), Some(below)) =
                (packing.side(true, high, group), packing.side(false, low, group))
            else {
                continue;
            };
            let value = own + above.value + below.value;
            if value <= known {
                continue;
            }
            let outward = |side: &Side| side.boards.iter().map(|b| b.thickness + kerf).sum::<i64>();
            let (top, base) = (high - kerf + outward(&above), low + kerf - outward(&below));
            let middle = middle.into_iter().map(|(_, board)| board);
            let boards: Vec<Board> =
                below.boards.into_iter().rev().chain(middle).chain(above.boards).collect();
            let line = Line { boards, base };
            let none = Line::default;
            best = Some((value, Pack { top, line, above: none(), below: none() }));
        }
    }
    let (value, mut pack) = best.filter(|(value, _)| *value > 0)?;
    for upper in [true, false] {
        let flat = pack.flat(upper, kerf);
        let (worth, line) = packing.planks(flat, true);
        if worth > packing.cost(upper) {
            *(if upper { &mut pack.above } else { &mut pack.below }) = line.unwrap_or_default();
        }
    }
    Some((value, pack))
}

impl Packing<'_, '_> {
    /// How far the wood reaches from the pith along its line, on the side on which it reaches less.
    fn round(&self, [across, _]: [i64; 2]) -> f64 {
        let view = self.search.site.view;
        let reach = |up: bool| view.wood_reach(Quarter::Second, up);
        let pith = across as f64;
        (reach(true) - pith).min(reach(false) + pith).max(0.0)
    }

    /// The best strips of a board of the pack, less the pass that frees it.
    fn board(&mut self, group: usize, planes: (i64, i64)) -> (i64, Board) {
        let (value, strips) = self.search.ripping.at(group, Lie::ROUND, planes);
        let strips = if value > 0 { strips } else { Vec::new() };
        let strips = strips.iter().map(|strip| self.search.rip(strip)).collect();
        let board = Board { thickness: planes.1 - planes.0, strips };
        (value.max(0) - self.search.work.pass, board)
    }

    /// The best side of a pack whose boards begin at a plane and go outward from it; `None` where the mill cannot saw
    /// any.
    fn side(&mut self, upper: bool, begins: i64, group: usize) -> Option<Side> {
        let site = self.search.site;
        let kerf = site.kerf;
        let thickness = site.columns.groups[group].thickness;
        let sign = if upper { 1 } else { -1 };
        let pith = site.pith();
        let round = self.round(pith);
        // From the middle of a board to the pith.
        let stands = |flat: i64| {
            let y = (flat + thickness / 2 - sign * pith[1]) as f64;
            13.0 * y * y <= round * round
        };
        let toward = if upper { Toward::Up } else { Toward::Down };
        // Where the flat of the segment is after so many boards, and what they are worth.
        let mut ends: Vec<(i64, i64)> = vec![(sign * begins, 0)];
        let mut boards = Vec::new();
        while let Some((flat, worth)) = ends.last().copied().filter(|(flat, _)| stands(*flat)) {
            let (value, board) = self.board(group, toward.planes(flat + thickness, thickness));
            boards.push(board);
            ends.push((flat + thickness + kerf, worth + value));
        }
        let may = |flat: i64| {
            if upper {
                clears(site, Toward::Up, flat - kerf)
            } else {
                super::bark(site, Toward::Down) - flat >= site.lowest_blade()
            }
        };
        // The most promising first: what lies beyond a plane is worth no more than beyond one nearer to the pith.
        let mut best: Option<(i64, usize)> = None;
        let mut open: Vec<usize> = (0..ends.len()).filter(|n| may(ends[*n].0)).collect();
        loop {
            let most = |n: usize| {
                let nearer = self.segments[usize::from(!upper)].range(..=ends[n].0).next_back();
                nearer.map_or(i64::MAX, |(_, value)| ends[n].1 + value)
            };
            let floor = best.map_or(i64::MIN, |(value, _)| value);
            open.retain(|n| most(*n) > floor);
            let Some(place) =
                (0..open.len()).max_by_key(|place| (most(open[*place]), -ends[open[*place]].0))
            else {
                break;
            };
            let n = open.remove(place);
            let value = ends[n].1 + self.segment(upper, ends[n].0);
            if best.is_none_or(|(known, _)| value > known) {
                best = Some((value, n));
            }
        }
        let (value, n) = best?;
        boards.truncate(n);
        Some(Side { value, boards })
    }

    /// What the segment beyond a flat so far from the middle is worth, less what it costs; 0 where it is left whole.
    fn segment(&mut self, upper: bool, flat: i64) -> i64 {
        if let Some(value) = self.segments[usize::from(!upper)].get(&flat) {
            return *value;
        }
        let toward = if upper { Toward::Down } else { Toward::Up };
        let (worth, _) = self.planks((toward, -flat), false);
        let value = (worth - self.cost(upper)).max(0);
        self.segments[usize::from(!upper)].insert(flat, value);
        value
    }

    /// What it costs to saw a segment at all: it is opened, and turned or put back.
    fn cost(&self, upper: bool) -> i64 {
        let work = self.search.work;
        work.pass + if upper { 2 * work.turn } else { work.turn }
    }

    /// The best planks of a segment whose flat faces this way and is so far out, and what they are worth.
    fn planks(&mut self, (toward, flat): (Toward, i64), with_line: bool) -> (i64, Option<Line>) {
        let site = self.search.site;
        let part = Body::whole(site.log()).cut(below(site, toward.of(site), flat));
        if !part.exists(Covering::Bark) {
            return (0, None);
        }
        // It stands with its flat against the stops: the side that is then down must leave room for the blade.
        let down = if toward == Toward::Up { Toward::Left } else { Toward::Right };
        let room = reach(site, &part, down.of(site)) - site.kerf - site.lowest_blade();
        let room = room.min(site.limit);
        let limits = if down == Toward::Left { [site.limit, room] } else { [room, site.limit] };
        let lie = Toward::Right.lie(toward, flat);
        let tables = self.search.planks(lie.bounds);
        let offers = line::Offers::new(self.search, &tables).freed(site);
        let sides = line::within(self.search, offers, limits);
        let full = self.search.allowances.full();
        let value = sides.values()[full];
        (value, with_line.then(|| sides.line(self.search, full)))
    }
}
