//! Halves, then quarters, each quarter sawn from its two flats in turn.
//!
//! # Problem
//! The log is parted at the pith across `y`, each half across `x`. A quarter has two flats, square to each other, and
//! bark. A board is taken off the first flat, from above; the quarter is turned by a quarter, and a board of the same
//! thickness taken off the second; and so on, each pair of a thickness of its own. A board's inner edge is the other
//! flat as it lies then.
//!
//! # Recurrence
//! With `s` what both flats have sunk, `v` the worth of the best strips of a board there less its pass, `k` the kerf and
//! `w` what a turn costs:
//! ```text
//! F(s) = max { 0, max over t of v(s, t) + max { 0, -w + v'(s, t) + max { 0, -w + F(s + t + k) } } }
//! ```
//! where the second board of a pair, `v'`, begins at the flat that the first has left. A board may be left whole, as
//! waste, to come past wood that is not sound.
//!
//! # Grid and cost
//! Exact in whole nanometres for pairs of one thickness. One search of strips for each sum `s` of thicknesses and kerfs,
//! each thickness, either flat; of more than [`MOST_SUMS`] sums those that come later go on with the thickness of the
//! pair before.

use super::{Handling, Toward, clears, parting};
use crate::family::{Board, Search};
use crate::sawing::{below, reach};
use pithward_geometry::Body;
use std::collections::BTreeMap;

/// Sums of thicknesses at which every thickness is tried. Enough for any list of three thicknesses.
const MOST_SUMS: usize = 300;

/// The quarters in the order in which they are sawn: which way the flat faces that is sawn first, and the other one. The
/// first and the third lie on the bed when their half is parted.
pub(crate) const QUARTERS: [(Toward, Toward); 4] = [
    (Toward::Right, Toward::Up),
    (Toward::Up, Toward::Left),
    (Toward::Left, Toward::Down),
    (Toward::Down, Toward::Right),
];

/// A log parted into quarters.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Sectors {
    /// Underside of the kerf that parts the halves across `x`, and of the one that parts the log across `y`.
    pub(crate) parted: [i64; 2],
    /// The boards of each quarter, off its first flat and its second in turn.
    pub(crate) quarters: [Vec<Board>; 4],
}

/// A board of a quarter: the flat that it is taken off, and the other one that is its inner edge, as they lie then.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Slice<'b> {
    /// Which way its flat faces, and how far out it is.
    pub(crate) flat: (Toward, i64),
    /// The other flat.
    pub(crate) other: (Toward, i64),
    /// It is off the quarter's first flat.
    pub(crate) is_first: bool,
    pub(crate) board: &'b Board,
}

/// How far out a flat lies before anything is taken off it.
pub(crate) fn flat(toward: Toward, [x, y]: [i64; 2], kerf: i64) -> i64 {
    match toward {
        Toward::Up => y,
        Toward::Right => x,
        Toward::Down => -(y + kerf),
        Toward::Left => -(x + kerf),
    }
}

impl Sectors {
    /// The boards of a quarter, in order, where each of them is.
    pub(crate) fn slices(&self, quarter: usize, kerf: i64) -> Vec<Slice<'_>> {
        let (first, second) = QUARTERS[quarter];
        let mut flats = [first, second].map(|toward| (toward, flat(toward, self.parted, kerf)));
        let slice = |(n, board): (usize, &'_ Board)| {
            let (own, other) = (flats[n % 2], flats[1 - n % 2]);
            flats[n % 2].1 -= board.thickness + kerf;
            (n, own, other)
        };
        let places: Vec<_> = self.quarters[quarter].iter().enumerate().map(slice).collect();
        let boards = self.quarters[quarter].iter();
        let all = places.into_iter().zip(boards);
        all.map(|((n, flat, other), board)| Slice { flat, other, is_first: n % 2 == 0, board })
            .collect()
    }

    pub(crate) fn has(&self, quarter: usize) -> bool {
        !self.quarters[quarter].is_empty()
    }

    pub(super) fn handling(&self) -> Handling {
        let has = |quarter: usize| i64::from(self.has(quarter));
        let (lower, upper) = (has(0).max(has(1)), has(2).max(has(3)));
        let between = |boards: &Vec<Board>| boards.len().saturating_sub(1);
        let between: usize = self.quarters.iter().map(between).sum();
        Handling {
            openings: 1 + lower + upper,
            turns: lower + i64::try_from(between).unwrap_or(i64::MAX),
            moves: 2 * (has(1) + upper + has(3)),
        }
    }
}

/// The best boards of one quarter from one sum of thicknesses on.
#[derive(Clone, Copy, Debug)]
struct Choice {
    value: i64,
    /// The group of the next pair's thickness, and whether its second board is taken.
    pair: Option<(usize, bool)>,
}

/// One quarter being searched.
struct Quartered<'s, 'a> {
    search: &'s mut Search<'a>,
    /// Its flats, first and second, before anything is taken off.
    flats: [(Toward, i64); 2],
    known: BTreeMap<i64, Choice>,
    /// How far the quarter reaches down under each of its flats, by where the other one is.
    under: [BTreeMap<i64, i64>; 2],
}

/// The best pattern and what it is worth; `None` where the mill cannot part the log, or nothing comes of it.
pub(crate) fn best(search: &mut Search<'_>) -> Option<(i64, Sectors)> {
    let (site, work) = (search.site, search.work);
    let parted = parting(site);
    let [x, y] = parted;
    let kerf = site.kerf;
    if site.nearest_plane(true) > 0 || !clears(site, Toward::Up, y) {
        return None;
    }
    let halves = [clears(site, Toward::Right, x), clears(site, Toward::Left, -(x + kerf))];
    let mut sectors = Sectors { parted, quarters: Default::default() };
    let mut value = -work.pass;
    for (half, may) in halves.into_iter().enumerate() {
        if !may {
            continue;
        }
        // The second quarter of a half is moved off and back on; so is the upper half.
        let ways = [2 * half, 2 * half + 1].map(|quarter| {
            let (own, boards) = quartered(search, quarter, parted);
            let moves = if quarter % 2 == 1 { 2 * work.turn } else { 0 };
            if own > moves { (own - moves, boards) } else { (0, Vec::new()) }
        });
        let cost = work.pass + if half == 0 { work.turn } else { 2 * work.turn };
        let worth = ways[0].0 + ways[1].0;
        if worth > cost {
            value += worth - cost;
            for (n, (_, boards)) in ways.into_iter().enumerate() {
                sectors.quarters[2 * half + n] = boards;
            }
        }
    }
    (value > 0).then_some((value, sectors))
}

/// The best boards of one quarter, and what they are worth.
fn quartered(search: &mut Search<'_>, quarter: usize, parted: [i64; 2]) -> (i64, Vec<Board>) {
    let (first, second) = QUARTERS[quarter];
    let kerf = search.site.kerf;
    let flats = [first, second].map(|toward| (toward, flat(toward, parted, kerf)));
    let mut quartered =
        Quartered { search, flats, known: BTreeMap::new(), under: Default::default() };
    let value = quartered.from(0, None);
    (value, quartered.boards())
}

impl Quartered<'_, '_> {
    /// What boards are worth from where both flats have sunk so far; `last` is the group of the pair before.
    fn from(&mut self, sunk: i64, last: Option<usize>) -> i64 {
        if let Some(choice) = self.known.get(&sunk) {
            return choice.value;
        }
        let groups = match last.filter(|_| self.known.len() >= MOST_SUMS) {
            Some(last) => last..last + 1,
            None => 0..self.search.site.columns.groups.len(),
        };
        // What is asked for again while this is found cannot be: sums only grow.
        let turn = self.search.work.turn;
        let mut best = Choice { value: 0, pair: None };
        for group in groups {
            let by = self.search.site.columns.groups[group].thickness + self.search.site.kerf;
            let Some((first, _)) = self.board(0, (sunk, sunk), group) else { continue };
            let second = self.board(1, (sunk, sunk + by), group).map(|(second, _)| {
                let more = (self.from(sunk + by, Some(group)) - turn).max(0);
                second - turn + more
            });
            let second = second.filter(|second| *second > 0);
            let value = first + second.unwrap_or(0);
            if value > best.value {
                best = Choice { value, pair: Some((group, second.is_some())) };
            }
        }
        self.known.insert(sunk, best);
        best.value
    }

    /// The best strips of a board off one of the flats, itself sunk so far and the other one so far: their worth less
    /// the pass that frees it. `None` where the blade does not come there.
    fn board(
        &mut self,
        own: usize,
        (sunk, other): (i64, i64),
        group: usize,
    ) -> Option<(i64, Board)> {
        let site = self.search.site;
        let thickness = site.columns.groups[group].thickness;
        let (toward, flat) = self.flats[own];
        let (aside, edge) = self.flats[1 - own];
        let (flat, edge) = (flat - sunk, edge - other);
        let blade = flat - thickness - site.kerf;
        if thickness > site.deepest_board() || !self.reaches(own, (toward, blade), (aside, edge)) {
            return None;
        }
        let planes = toward.planes(flat, thickness);
        let (value, strips) = self.search.ripping.at(group, toward.lie(aside, edge), planes);
        let strips = if value > 0 { strips } else { Vec::new() };
        let strips = strips.iter().map(|strip| self.search.rip(strip)).collect();
        Some((value.max(0) - self.search.work.pass, Board { thickness, strips }))
    }

    /// Whether the blade comes down to a plane when the quarter lies on its bark with that flat up.
    fn reaches(
        &mut self,
        own: usize,
        (up, blade): (Toward, i64),
        (aside, edge): (Toward, i64),
    ) -> bool {
        let site = self.search.site;
        let under = *self.under[own].entry(edge).or_insert_with(|| {
            let part = Body::whole(site.log()).cut(below(site, aside.of(site), edge));
            if part.exists(pithward_geometry::Covering::Bark) {
                reach(site, &part, up.opposite().of(site))
            } else {
                i64::MIN / 4
            }
        });
        under + blade >= site.lowest_blade()
    }

    /// The boards that are worth most.
    fn boards(&mut self) -> Vec<Board> {
        let mut boards = Vec::new();
        let mut sunk = 0;
        while let Some((group, both)) = self.known.get(&sunk).and_then(|choice| choice.pair) {
            let by = self.search.site.columns.groups[group].thickness + self.search.site.kerf;
            boards.extend(self.board(0, (sunk, sunk), group).map(|(_, board)| board));
            if !both {
                break;
            }
            boards.extend(self.board(1, (sunk, sunk + by), group).map(|(_, board)| board));
            sunk += by;
            let worth = self.known.get(&sunk).map_or(0, |choice| choice.value);
            if worth <= self.search.work.turn {
                break;
            }
        }
        boards
    }
}
