//! Cant sawing: two opposite faces leave a cant of a useful height, which is turned a quarter and sawn
//! through; what lies beyond the faces becomes side boards.
//!
//! # Recurrence
//! With `H` the height of the cant, `y` the place of its upper face and `k` the kerf:
//! ```text
//! max over H, y of  F(y + k) + F(H - y + k) + I(H, y)
//! ```
//! `F` is the stack of side boards ([`crate::stack`]) and `I` the best line of planks across the cant: the
//! through-and-through program again, a quarter turned, with the two faces bounding every plank.
//!
//! # Grid and cost
//! `H` runs over the wanted widths and their sums with kerfs; a random width stands alone. In round wood the upper face
//! is, by symmetry, the further one. As it moves out, `F(y + k)` only falls, `F(H - y + k)` rises in steps, and `I` rises only
//! where a short piece that reaches far out makes use of the room ([`aside`]). So the cant on the pith is tried and the
//! places where the lower side gains a board, of these only where both sides together are worth more than at every
//! nearer place; and between two of them only while `I` may rise there, by halves, down to a thousandth of an inch.
//!
//! In other wood both directions are gone from the middle of the wood, each by the same rule. There `I` need not fall
//! with every step outward, and only some of the places are looked at, so the search is as good as those. They are opened
//! by the bounds of [`bounded`].
//!
//! The search opens the most promising first, by three bounds. The planks of a place bound those of every place further
//! out, and those of a centred cant bound those of every lower cant, but for what [`aside`] adds, and for square planks, which
//! need no edging and may save a pass each. And the side boards are known before any plank is. What does not beat the best
//! so far is left out.

mod aside;
mod blocks;
mod bounded;
mod places;
#[cfg(test)]
mod tests;

use super::{CantShape, Found, Method, Search, Shape, Tables, line};
use crate::column::UNIT;
use blocks::{Block, Open};
pub(crate) use bounded::first;
use bounded::{Place, explore};
use places::{Height, MOST_PLACES, faces, middle, most_square, open_places, side_gains};
pub(crate) use places::{heights, within};
use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::ops::Range;

/// Passes that open faces: the two of the cant, and the first inside it.
pub(super) const PASSES: i64 = 3;

/// The two methods that leave a cant.
const CANTS: [Method; 2] = [Method::TwoSidedCant, Method::FourSidedCant];

/// What is sought among the cants.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Aim {
    /// The best of each of these methods.
    Each,
    /// The best of all, if it is worth more than this.
    Above(i64),
}

/// The best cants of these methods.
pub(crate) fn best(search: &mut Search<'_>, methods: &[Method], aim: Aim) -> Vec<Found> {
    let mut best = Incumbents::new(search, methods, aim);
    if !best.wanted.contains(&true) {
        return Vec::new();
    }
    let heights = places::all(search, MOST_PLACES);
    if !search.site.is_alike() && search.allowances.size() == 1 {
        let places = open_places(search, &heights);
        let see =
            |best: &mut Incumbents, search: &mut Search<'_>, place: &Place, tables: &Tables| {
                best.see(search, (place.height, place.top), tables);
            };
        explore(search, (places, true), &mut best, Incumbents::may_gain, see);
        return best.read_back(search);
    }
    let mut blocks: BinaryHeap<Block> = BinaryHeap::new();
    if let Some(highest) = heights.len().checked_sub(1) {
        let (most, places) = best.look(search, &heights, highest, 0..heights[highest].places.len());
        blocks.extend(places);
        blocks.extend(Block::heights(&heights, 0, highest, most));
    }
    while let Some(Block { bound, open: Reverse(what), planks: known }) = blocks.pop() {
        if !best.may_gain(bound) {
            break;
        }
        match what {
            Open::Heights { from, to } => {
                let middle = from + (to - from) / 2;
                let (most, places) =
                    best.look(search, &heights, middle, 0..heights[middle].places.len());
                blocks.extend(places);
                blocks.extend(Block::heights(&heights, from, middle, most));
                blocks.extend(Block::heights(&heights, middle + 1, to, known));
            }
            Open::Places { height: n, from, to } => {
                let middle = from + (to - from) / 2;
                blocks.extend(Block::places(&heights, n, from, middle, known));
                blocks.extend(best.look(search, &heights, n, middle..to).1);
            }
            Open::Between { height: n, near, far } => {
                let Some(middle) = heights[n].between(near, far) else { continue };
                best.search(search, heights[n].height, middle);
                let both = [(near, middle), (middle, far)]
                    .map(|span| Block::between(search, &heights, n, span));
                let closer = |block: Block| Block { bound: block.bound.min(bound), ..block };
                blocks.extend(both.into_iter().flatten().map(closer));
            }
        }
    }
    best.read_back(search)
}

/// How a rough search of cants goes.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rough {
    /// Only what is worth more than this is sought.
    pub(crate) least: i64,
    /// Any that is will do.
    pub(crate) any: bool,
    /// Also with faces off the middle of the wood.
    pub(crate) aside: bool,
}

/// What the best cant is worth whatever the mill asks, its faces about the middle of the wood, if that is more than is known.
/// Nothing may be counted.
pub(crate) fn roughly(search: &mut Search<'_>, methods: &[Method], rough: Rough) -> i64 {
    let Rough { least, any, aside } = rough;
    let method = CANTS.into_iter().find(|method| methods.contains(method));
    let others = [Method::BoxedHeart, Method::Around];
    let Some(method) =
        method.or(others.iter().any(|m| methods.contains(m)).then_some(Method::FourSidedCant))
    else {
        return least;
    };
    let fixed = search.work.fixed(method, PASSES);
    let full = search.allowances.full();
    let central = |height: i64| {
        let (top, _) = middle(search.site, height);
        let place = || Place::new(search, height, top, most_square(search, height));
        within(search.site, height, top).then(place)
    };
    let places: Vec<Place> = if aside {
        // What is to bound the wood of many frames must hold the best place of each.
        let most = if any { usize::MAX } else { MOST_PLACES };
        open_places(search, &places::all(search, most))
    } else {
        heights(search).into_iter().filter_map(central).collect()
    };
    let see = |best: &mut i64, search: &mut Search<'_>, place: &Place, tables: &Tables| {
        let planks = line::unbounded(search, line::Offers::new(search, tables)).values()[full];
        *best = (*best).max(planks + place.sides);
    };
    let mut best = least + fixed;
    let gains = |best: &i64, bound: i64| {
        bound.div_euclid(UNIT) > best.div_euclid(UNIT) && !(any && *best > least + fixed)
    };
    explore(search, (places, aside), &mut best, gains, see);
    best - fixed
}

/// The best cants that carry counts exactly, sought in the order that a search under prices alone gives.
///
/// At every place the guide's worth and `allowed` together bound what the counted pattern can be worth. So
/// places are opened by the guide's bound, and a place's own range, up to the next one, is searched with
/// counts only while it may beat `least` and the best so far, and while the states made are fewer than
/// `most_states`. Besides the patterns it gives what a place left unsearched could be worth at most.
pub(crate) fn best_guided(
    search: &mut Search<'_>,
    guide: &mut Search<'_>,
    allowed: i64,
    least: i64,
    methods: &[Method],
    most_states: u64,
) -> (Vec<Found>, i64) {
    let heights = places::all(guide, MOST_PLACES);
    let kerf = search.site.kerf;
    let gains = [side_gains(search, false), side_gains(search, true)];
    let mut best = Incumbents::new(search, methods, Aim::Each);
    // Blocks to be opened, and places (blocks without open places) to be searched with counts.
    let mut blocks: BinaryHeap<Block> = BinaryHeap::new();
    let open = |guide: &mut Search<'_>, n: usize, place: usize, to: usize| {
        let (top, sides) = heights[n].places[place];
        let bounds = faces(heights[n].height, top);
        let tables = guide.planks(bounds);
        let planks = aside::most_planks(guide, &tables, bounds, &guide.round)
            .unwrap_or_else(|| line::unbounded(guide, line::Offers::new(guide, &tables)).values());
        let planks = planks[guide.allowances.full()];
        let open = Reverse(Open::Places { height: n, from: place, to: place });
        let own = Block { bound: sides + planks, open, planks };
        let others = Block::places(&heights, n, place, to, planks);
        std::iter::once(own).chain(others).collect::<Vec<_>>()
    };
    for (n, Height { places, .. }) in heights.iter().enumerate() {
        blocks.extend(open(guide, n, 0, places.len()));
    }
    let mut unsearched = 0;
    while let Some(Block { bound, open: Reverse(what), planks }) = blocks.pop() {
        // Only places are ever open here.
        let Open::Places { height: n, from, to } = what else { continue };
        if (bound + allowed).div_euclid(UNIT) <= best.counted(least).div_euclid(UNIT) {
            break;
        }
        if search.states() + guide.states() > most_states {
            unsearched = bound + allowed;
            break;
        }
        if to > from {
            let middle = from + (to - from) / 2;
            blocks.extend(Block::places(&heights, n, from, middle, planks));
            blocks.extend(open(guide, n, middle, to));
            continue;
        }
        let own = &heights[n];
        let Height { height, up, .. } = *own;
        let at = own.places[from].0;
        let (next, last) = (own.places.get(from + 1), own.gains.last());
        let far = next.map(|(top, _)| *top).or(last.copied()).unwrap_or(at);
        let gained = gains[usize::from(up)].iter();
        let tops = gained.map(|gain| if up { height + kerf - gain } else { gain - kerf });
        let between = |top: &i64| (at.min(far)..=at.max(far)).contains(top) && *top != at;
        let mut tops: Vec<i64> =
            tops.filter(|top| between(top) && within(search.site, height, *top)).collect();
        tops.sort_unstable_by_key(|top| (top - at).abs());
        let planks = best.search(search, height, at);
        for &top in &tops {
            if shared(search, [top, height - top], &planks).0 > best.counted(least) {
                best.search(search, height, top);
            }
        }
        best.between(search, own, (at, far), least);
    }
    (best.read_back(search), unsearched)
}

/// The best cants so far.
struct Incumbents {
    aim: Aim,
    /// Which of [`CANTS`] are sought.
    wanted: [bool; 2],
    /// What each costs beside the passes that free its boards.
    fixed: [i64; 2],
    /// Of each: worth without that cost, height, place of the upper face.
    known: [Option<(i64, i64, i64)>; 2],
}

impl Incumbents {
    fn new(search: &Search<'_>, methods: &[Method], aim: Aim) -> Self {
        Self {
            aim,
            wanted: CANTS.map(|method| methods.contains(&method)),
            fixed: CANTS.map(|method| search.work.fixed(method, PASSES)),
            known: [None; 2],
        }
    }

    /// The patterns themselves.
    fn read_back(&self, search: &mut Search<'_>) -> Vec<Found> {
        let mut patterns = Vec::new();
        for (method, best) in CANTS.into_iter().zip(self.known) {
            patterns.extend(best.map(|(_, height, top)| found(search, method, height, top)));
        }
        patterns
    }

    /// Whether something of this worth would be better by more than a tie.
    fn may_gain(&self, bound: i64) -> bool {
        let beats = |bound: i64, known: i64| bound.div_euclid(UNIT) > known.div_euclid(UNIT);
        (0..2).filter(|n| self.wanted[*n]).any(|n| match self.aim {
            Aim::Each => self.known[n].is_none_or(|(value, ..)| beats(bound, value)),
            Aim::Above(_) => beats(bound - self.fixed[n], self.floor()),
        })
    }

    /// The most that a pattern with counts is known to be worth.
    fn counted(&self, least: i64) -> i64 {
        self.known[1].map_or(least, |(value, ..)| value.max(least))
    }

    /// Searches places between one that was searched and another, where planks aside may be worth more and so be better
    /// than what is known.
    fn between(
        &mut self,
        search: &mut Search<'_>,
        height: &Height,
        (near, far): (i64, i64),
        least: i64,
    ) {
        let Some(most) = height.most_planks(search, near, far) else { return };
        let value = shared(search, height.nearest(near, far), &most).0;
        if value.div_euclid(UNIT) <= self.counted(least).div_euclid(UNIT) {
            return;
        }
        let Some(middle) = height.between(near, far) else { return };
        self.search(search, height.height, middle);
        self.between(search, height, (near, middle), least);
        self.between(search, height, (middle, far), least);
    }

    /// The best of all methods so far, its cost taken off.
    fn floor(&self) -> i64 {
        let net = |n: usize| self.known[n].map(|(value, ..)| value - self.fixed[n]);
        let least = match self.aim {
            Aim::Each => i64::MIN,
            Aim::Above(least) => least,
        };
        (0..2).filter_map(net).fold(least, i64::max)
    }

    /// Whether this worth of one method is better than what is known.
    fn is_better(&self, n: usize, value: i64) -> bool {
        let best = match self.aim {
            Aim::Each => self.known[n].is_none_or(|(known, ..)| value > known),
            Aim::Above(_) => value - self.fixed[n] > self.floor(),
        };
        self.wanted[n] && value > 0 && best
    }

    /// Searches the first of these places of one height and keeps what is better; what the planks there and further aside
    /// are worth at most, and what is open beyond it.
    fn look(
        &mut self,
        search: &mut Search<'_>,
        heights: &[Height],
        n: usize,
        places: Range<usize>,
    ) -> (i64, Vec<Block>) {
        let Range { start: from, end: to } = places;
        let Height { height, ref places, ref gains, .. } = heights[n];
        let (top, sides) = places[from];
        let bounds = faces(height, top);
        let tables = search.planks(bounds);
        let full = search.allowances.full();
        let own = self.see(search, (height, top), &tables)[full];
        let aside = aside::most_planks(search, &tables, bounds, &search.round);
        let aside = aside.map(|most| most[full]);
        // Until the next place the sides are worth no more than here.
        let next = places.get(from + 1).map(|(top, _)| *top).or(gains.last().copied());
        let between = |planks: i64| {
            let open = Reverse(Open::Between { height: n, near: top, far: next? });
            Some(Block { bound: sides + planks, open, planks })
        };
        let planks = aside.unwrap_or(own);
        let open = Block::places(heights, n, from, to, planks).into_iter();
        (planks, open.chain(aside.and_then(between)).collect())
    }

    /// Searches the planks of one place and keeps what is better; the worth of the planks of a four-sided
    /// cant, for every allowance.
    fn search(&mut self, search: &mut Search<'_>, height: i64, top: i64) -> Vec<i64> {
        let tables = search.planks(faces(height, top));
        self.see(search, (height, top), &tables)
    }

    /// The same, its tables known.
    fn see(&mut self, search: &Search<'_>, (height, top): (i64, i64), tables: &Tables) -> Vec<i64> {
        let offers = || line::Offers::new(search, tables);
        let planks = line::unbounded(search, offers()).values();
        let most = shared(search, [top, height - top], &planks).0;
        // What the mill asks only takes away: what is no better without it need not be looked at.
        if self.is_better(0, most) {
            let value =
                shared(search, [top, height - top], &line::straight(search, &offers()).values()).0;
            if self.is_better(0, value) {
                self.known[0] = Some((value, height, top));
            }
        }
        if self.is_better(1, most) {
            let value = if line::asks(search, &offers()) {
                let values = line::turned(search, offers(), |sides| sides.values());
                shared(search, [top, height - top], &values).0
            } else {
                most
            };
            if self.is_better(1, value) {
                self.known[1] = Some((value, height, top));
            }
        }
        planks
    }
}

/// The best sharing of the allowance between the boards beyond the upper face, those beyond the lower one, and the planks.
pub(super) fn shared(
    search: &Search<'_>,
    [top, bottom]: [i64; 2],
    inner: &[i64],
) -> (i64, [usize; 3]) {
    let (allowances, kerf) = (search.allowances, search.site.kerf);
    let mut best = (0, [0; 3]);
    for (planks, sides) in allowances.shares(allowances.full()) {
        // A cant that gives nothing is not turned.
        if inner[planks] == 0 {
            continue;
        }
        for (above, below) in allowances.shares(sides) {
            let value = inner[planks]
                + search.outer(true).value_beyond(above, top + kerf)
                + search.outer(false).value_beyond(below, bottom + kerf);
            if value > best.0 {
                best = (value, [above, below, planks]);
            }
        }
    }
    best
}

/// The side boards of a cant under an allowance for either side.
pub(super) fn side_boards(
    search: &Search<'_>,
    height: i64,
    top: i64,
    shares: [usize; 3],
) -> [Vec<super::Board>; 2] {
    let bottom = height - top;
    [line::beyond(search, true, shares[0], top), line::beyond(search, false, shares[1], bottom)]
}

/// The best pattern at one height and place; `None` when the faces do not lie in the wood.
pub(crate) fn at(search: &mut Search<'_>, method: Method, height: i64, top: i64) -> Option<Found> {
    within(search.site, height, top).then(|| found(search, method, height, top))
}

/// Reads back the pattern at one height and place.
fn found(search: &mut Search<'_>, method: Method, height: i64, top: i64) -> Found {
    let tables = search.planks(faces(height, top));
    pattern(search, method, (height, top), &tables)
}

/// The same, its tables known.
fn pattern(
    search: &Search<'_>,
    method: Method,
    (height, top): (i64, i64),
    tables: &Tables,
) -> Found {
    let offers = line::Offers::new(search, tables);
    let best = |sides: &line::Sides<'_>| {
        let (value, shares) = shared(search, [top, height - top], &sides.values());
        (value, shares, sides.line(search, shares[2]))
    };
    let (value, shares, inner) = if method == Method::TwoSidedCant {
        best(&line::straight(search, &offers))
    } else {
        line::turned(search, offers, best)
    };
    let [above, below] = side_boards(search, height, top, shares);
    // The two faces of the cant and the first opening inside it.
    let value = value - search.work.fixed(method, PASSES);
    search.found(method, value, Shape::Cant(CantShape { height, top, above, below, inner }))
}
