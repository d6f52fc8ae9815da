//! What the sides of a core give: a board between two planes, boards without a gap down to a face, boards as they come.

use super::super::{Board, Search, Tables, line};
use crate::flitch::Bounds;
use crate::site::{Lie, planes};
use crate::stack::{Room, Stacks};
use pithward_geometry::Quarter;
use std::cell::OnceCell;
use std::collections::BTreeMap;

/// Nothing lies there.
pub(super) const NONE: i64 = i64::MIN / 8;

/// How far the faces of a core may lie beyond those of the heart: sums of thicknesses with a kerf for each.
#[derive(Debug)]
pub(super) struct Depths {
    /// From nothing outward.
    pub(super) all: Vec<i64>,
    /// For each the thicknesses that its outermost board may have, and the depth that is left without it.
    last: Vec<Vec<(i64, usize)>>,
}

impl Depths {
    /// The `most` smallest sums of thicknesses that can be freed from above.
    pub(super) fn new(search: &Search<'_>, most: usize) -> Self {
        let (site, kerf) = (search.site, search.site.kerf);
        let groups = site.columns.groups.iter().map(|group| group.thickness);
        let thicknesses: Vec<i64> = groups.filter(|t| *t <= site.deepest_board()).collect();
        let mut all = vec![0];
        let mut next = 0;
        // Every sum is looked at after all smaller ones, and only adds larger ones.
        while next < all.len() {
            for thickness in &thicknesses {
                let sum = all[next] + thickness + kerf;
                if let Err(place) = all.binary_search(&sum)
                    && sum <= site.limit
                {
                    all.insert(place, sum);
                }
            }
            all.truncate(most);
            next += 1;
        }
        let place = |sum: i64| all.binary_search(&sum).ok();
        let last = |sum: &i64| {
            let without = thicknesses.iter().map(|t| (*t, place(sum - t - kerf)));
            without.filter_map(|(t, place)| Some((t, place?))).collect()
        };
        let last = all.iter().map(last).collect();
        Self { all, last }
    }
}

/// A board that is peeled off: what it is worth, and where a table has it.
#[derive(Clone, Copy, Debug)]
struct Peeled {
    value: i64,
    offer: usize,
    step: usize,
}

/// The best board between two planes on one side of a core, both reckoned outward from the axis, that an allowance
/// suffices for. The worth of every board of a core's bounded sides comes from here.
fn peeled(
    search: &Search<'_>,
    offers: &line::Offers<'_>,
    up: bool,
    (from, to): (i64, i64),
    allowance: usize,
) -> Option<Peeled> {
    let of_it = offers.side(up).iter().enumerate().filter(|(_, offer)| {
        let fits = offer.kind.size == to - from && 2 * to >= offer.kind.size;
        fits && search.allowances.minus(allowance, offer.kind.uses).is_some()
    });
    let best = of_it.filter_map(|(n, offer)| {
        let reached = offer.kind.steps.partition_point(|step| step.at >= to);
        let step = reached.checked_sub(1)?;
        let value = offer.kind.steps[step].value;
        (value > 0).then_some(Peeled { value, offer: n, step })
    });
    best.reduce(|best, next| if next.value > best.value { next } else { best })
}

/// What the best board between two planes is worth for an allowance; nothing where it is waste.
///
/// The pass that frees waste is left out: under prices a board may be worth less than that pass, and a bound must hold for
/// patterns that have it none the less.
pub(super) fn value(
    search: &Search<'_>,
    offers: &line::Offers<'_>,
    up: bool,
    planes: (i64, i64),
    allowance: usize,
) -> i64 {
    peeled(search, offers, up, planes, allowance).map_or(0, |peeled| peeled.value)
}

/// That board itself, or waste.
pub(super) fn board(
    search: &Search<'_>,
    offers: &line::Offers<'_>,
    up: bool,
    (from, to): (i64, i64),
    allowance: usize,
) -> Board {
    let thickness = to - from;
    let waste = Board { thickness, strips: Vec::new() };
    let Some(Peeled { offer, step, .. }) = peeled(search, offers, up, (from, to), allowance) else {
        return waste;
    };
    let board = line::board(search, &offers.side(up)[offer], step);
    // What was found at a nearer plane is looked at once more here, where wood need not narrow outward.
    let site = search.site;
    let lie = offers.lie();
    let sound = || site.room_of(&board.strips, lie, planes(up, to, thickness)).is_some();
    if site.is_alike() || sound() { board } else { waste }
}

/// One step of a run: two boards of a thickness, on either side.
#[derive(Clone, Copy, Debug)]
struct Pair {
    thickness: i64,
    /// The depth without them, and the allowance that is left for it.
    rest: (usize, usize),
    /// What each may use.
    uses: [usize; 2],
}

/// Boards without a gap on two opposite sides of a core, in step: for every depth what they are worth.
#[derive(Debug)]
pub(super) struct Run {
    /// For every depth and allowance.
    pub(super) values: Vec<Vec<i64>>,
    pairs: Vec<Vec<Option<Pair>>>,
}

impl Run {
    /// The boards beyond two faces.
    ///
    /// ```text
    /// R(d) = max over thickness t of  R(d - t - k) + v_up(face + d, t) + v_low(face + d, t)
    /// ```
    /// Either may be waste.
    pub(super) fn new(
        search: &Search<'_>,
        offers: &line::Offers<'_>,
        faces: [i64; 2],
        depths: &Depths,
    ) -> Self {
        let allowances = search.allowances;
        let size = allowances.size();
        let mut values = vec![vec![0; size]];
        let mut pairs = vec![vec![None; size]];
        for (depth, last) in depths.all.iter().zip(&depths.last).skip(1) {
            let (mut best, mut how) = (vec![NONE; size], vec![None; size]);
            for (thickness, rest) in last {
                let one = |side: usize| -> Vec<i64> {
                    let to = faces[side] + depth;
                    let planes = (to - thickness, to);
                    let own = |a| value(search, offers, side == 0, planes, a);
                    (0..size).map(own).collect()
                };
                let sides = [one(0), one(1)];
                for allowance in 0..size {
                    for (own, left) in allowances.shares(allowance) {
                        for (up, low) in allowances.shares(own) {
                            let worth = sides[0][up] + sides[1][low];
                            let total = worth + values[*rest][left];
                            if total > best[allowance] {
                                best[allowance] = total;
                                let (rest, uses) = ((*rest, left), [up, low]);
                                how[allowance] = Some(Pair { thickness: *thickness, rest, uses });
                            }
                        }
                    }
                }
            }
            values.push(best);
            pairs.push(how);
        }
        Self { values, pairs }
    }

    /// What they are worth by depth at most: every board may use the whole allowance.
    pub(super) fn bounds(
        search: &Search<'_>,
        offers: &line::Offers<'_>,
        faces: [i64; 2],
        depths: &Depths,
    ) -> Vec<i64> {
        let full = search.allowances.full();
        let mut values = Vec::with_capacity(depths.all.len());
        values.push(0);
        for (depth, last) in depths.all.iter().zip(&depths.last).skip(1) {
            let to = faces.map(|face| face + depth);
            let total = |(thickness, rest): &(i64, usize)| {
                let own = |up: bool, to: i64| value(search, offers, up, (to - thickness, to), full);
                own(true, to[0]) + own(false, to[1]) + values[*rest]
            };
            let most = last.iter().map(total).fold(NONE, i64::max);
            values.push(most);
        }
        values
    }

    /// The boards down from a depth, on either side from the inside out.
    pub(super) fn boards(
        &self,
        search: &Search<'_>,
        offers: &line::Offers<'_>,
        faces: [i64; 2],
        depths: &Depths,
        (mut depth, mut allowance): (usize, usize),
    ) -> [Vec<Board>; 2] {
        let mut sides = [Vec::new(), Vec::new()];
        while let Some(Pair { thickness, rest, uses }) = self.pairs[depth][allowance] {
            for (side, own) in sides.iter_mut().enumerate() {
                let to = faces[side] + depths.all[depth];
                let planes = (to - thickness, to);
                own.push(board(search, offers, side == 0, planes, uses[side]));
            }
            (depth, allowance) = rest;
        }
        sides.iter_mut().for_each(|side| side.reverse());
        sides
    }
}

/// The tables of boards that lie like this, and their stacks.
pub(super) struct Level {
    pub(super) tables: Tables,
    /// Above the axis, and below it where that differs; made when they are asked for.
    stacks: OnceCell<(Stacks, Option<Stacks>)>,
}

impl Level {
    pub(super) fn new(search: &mut Search<'_>, lie: Lie) -> Self {
        Self { tables: search.tables(lie), stacks: OnceCell::new() }
    }

    /// Stacks of the boards above the axis, or below it.
    pub(super) fn stacks(&self, search: &Search<'_>, up: bool) -> &Stacks {
        let (site, allowances) = (search.site, search.allowances);
        let (above, below) = self.stacks.get_or_init(|| {
            let offers = line::Offers::new(search, &self.tables).freed(site);
            let room = Room { outer: site.limit, past: site.limit };
            let sweep = |up: bool| {
                let mut side = Stacks::default();
                side.sweep(&line::kinds(offers.side(up)), site.kerf, room, allowances);
                search.more_states.set(search.more_states.get() + side.states);
                side
            };
            (sweep(true), (!site.is_alike()).then(|| sweep(false)))
        });
        below.as_ref().filter(|_| !up).unwrap_or(above)
    }
}

/// What makes two levels the same: the quarter, and how far boards reach to either side.
type Key = (Quarter, i64, i64);

/// The levels that were made.
#[derive(Default)]
pub(super) struct Levels {
    pub(super) all: Vec<Level>,
    /// Of each level.
    keys: Vec<Key>,
    /// The boards that were asked for, by what makes their levels the same.
    asked: BTreeMap<Key, Asked>,
    /// Of each what was found to hold it, and how many levels there were then.
    held: Vec<(Key, Option<(usize, Held)>)>,
}

/// Boards that lie in some way, by the place at which [`Levels`] knows them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Asked(usize);

/// A level that has room for boards, and whether it is exactly theirs.
pub(super) type Held = (usize, bool);

impl Levels {
    /// In wood that is alike all round the other quarter and the mirror image are the same.
    fn key(search: &Search<'_>, lie: Lie) -> Key {
        let Bounds { up, low } = lie.bounds;
        if search.site.is_alike() {
            (Quarter::First, up.max(low), up.min(low))
        } else {
            (lie.quarter, up, low)
        }
    }

    /// The level of exactly these boards.
    pub(super) fn exact(&mut self, search: &mut Search<'_>, lie: Lie) -> usize {
        let key = Self::key(search, lie);
        let known = self.keys.iter().position(|known| *known == key);
        known.unwrap_or_else(|| {
            self.all.push(Level::new(search, lie));
            self.keys.push(key);
            self.all.len() - 1
        })
    }

    /// Whether there is a level of exactly these boards.
    pub(super) fn are_made(&self, search: &Search<'_>, lie: Lie) -> bool {
        self.keys.contains(&Self::key(search, lie))
    }

    /// What boards that lie like this are asked for by.
    pub(super) fn asked(&mut self, search: &Search<'_>, lie: Lie) -> Asked {
        let (key, held) = (Self::key(search, lie), &mut self.held);
        *self.asked.entry(key).or_insert_with(|| {
            held.push((key, None));
            Asked(held.len() - 1)
        })
    }

    /// The level with the least room that has room for these boards, and whether it is exactly theirs.
    pub(super) fn holding(&mut self, Asked(asked): Asked) -> Option<Held> {
        let made = self.all.len();
        let (own, known) = self.held[asked];
        if let Some((_, held)) = known.filter(|(then, (_, exact))| *then == made || *exact) {
            return Some(held);
        }
        // Of those that were made since it was last asked for one may have less room.
        let room = |n: usize| self.keys[n].1 + self.keys[n].2;
        let before = known.map(|(_, (n, exact))| (room(n), n, exact));
        let since = known.map_or(0, |(then, _)| then);
        let holds = |n: usize| {
            let key = &self.keys[n];
            let holds = key.0 == own.0 && key.1 >= own.1 && key.2 >= own.2;
            holds.then_some((room(n), n, *key == own))
        };
        let best = (since..made).filter_map(holds).chain(before).min();
        let held = best.map(|(_, n, exact)| (n, exact))?;
        self.held[asked].1 = Some((made, held));
        Some(held)
    }
}
