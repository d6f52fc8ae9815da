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
//! `H` runs over the wanted widths and their sums with kerfs; a random width stands alone. By symmetry the upper face is the further
//! one. As it moves out, `F(y + k)` and `I` only fall, and `F(H - y + k)` rises in steps: so only the
//! places where the lower side gains a board need be tried, and the cant on the pith; and of those only
//! where both sides together are worth more than at every nearer place. That is exact. A place is skipped
//! when the sides there and the planks of any nearer place, which bound its own, do not beat the best so
//! far; the most promising is tried first.

use super::{CantShape, Found, Method, Search, Shape, boards, kinds, line, only};
use crate::column::{PASS, TURN, UNIT};
use crate::flitch::Bounds;
use crate::stack::{Kind, Room, Stacks};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// One height of cant and the places of its upper face that may be best, from the pith outward.
struct Height {
    height: i64,
    /// Place, and what the side boards are worth there.
    places: Vec<(i64, i64)>,
}

/// Neighbouring places of one height: at the first the planks are known, the others are open.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Block {
    /// No open place is worth more: the best side boards among them, and the planks at the first.
    bound: i64,
    /// Ties go to the smaller height, then to the nearer places.
    height: Reverse<usize>,
    from: Reverse<usize>,
    to: usize,
    planks: i64,
}

impl Block {
    fn new(heights: &[Height], n: usize, from: usize, to: usize, planks: i64) -> Option<Self> {
        let most = heights[n].places[from + 1..to].iter().map(|(_, sides)| *sides).max()?;
        Some(Self { bound: most + planks, height: Reverse(n), from: Reverse(from), to, planks })
    }
}

/// The best two-sided and the best four-sided cant.
pub(crate) fn best(search: &mut Search<'_>) -> Vec<Found> {
    let full = search.allowances.full();
    let mut best = Incumbents::default();
    let heights = places(search);
    let mut blocks: BinaryHeap<Block> = BinaryHeap::new();
    for (n, Height { height, places }) in heights.iter().enumerate() {
        let planks = best.search(search, *height, places[0].0);
        blocks.extend(Block::new(&heights, n, 0, places.len(), planks[full]));
    }
    while let Some(Block { bound, height: Reverse(n), from: Reverse(from), to, planks: known }) =
        blocks.pop()
    {
        if !best.may_gain(bound) {
            break;
        }
        let Height { height, places } = &heights[n];
        let middle = from + (to - from) / 2;
        let planks = best.search(search, *height, places[middle].0);
        blocks.extend(Block::new(&heights, n, from, middle, known));
        blocks.extend(Block::new(&heights, n, middle, to, planks[full]));
    }
    best.read_back(search)
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
    most_states: u64,
) -> (Vec<Found>, i64) {
    let nearest = search.site.nearest_plane();
    let heights = places(guide);
    let mut gains = side_gains(search);
    gains.reverse();
    let mut best = Incumbents::default();
    let mut aside = Incumbents::default();
    // Blocks to be opened, and places (blocks without open places) to be searched with counts.
    let mut blocks: BinaryHeap<Block> = BinaryHeap::new();
    let open =
        |guide: &mut Search<'_>, aside: &mut Incumbents, n: usize, place: usize, to: usize| {
            let Height { height, places } = &heights[n];
            let planks = aside.search(guide, *height, places[place].0)[guide.allowances.full()];
            let own = Block {
                bound: places[place].1 + planks,
                height: Reverse(n),
                from: Reverse(place),
                to: place,
                planks,
            };
            std::iter::once(own)
                .chain(Block::new(&heights, n, place, to, planks))
                .collect::<Vec<_>>()
        };
    for (n, Height { places, .. }) in heights.iter().enumerate() {
        blocks.extend(open(guide, &mut aside, n, 0, places.len()));
    }
    let mut unsearched = 0;
    while let Some(Block { bound, height: Reverse(n), from: Reverse(from), to, planks }) =
        blocks.pop()
    {
        let known =
            |best: &Incumbents| best.four_sided.map_or(least, |(value, ..)| value.max(least));
        if (bound + allowed).div_euclid(UNIT) <= known(&best).div_euclid(UNIT) {
            break;
        }
        if search.states() + guide.states() > most_states {
            unsearched = bound + allowed;
            break;
        }
        if to > from {
            let middle = from + (to - from) / 2;
            blocks.extend(Block::new(&heights, n, from, middle, planks));
            blocks.extend(open(guide, &mut aside, n, middle, to));
            continue;
        }
        let Height { height, places } = &heights[n];
        let range = places[from].0..places.get(from + 1).map_or(i64::MAX, |(top, _)| *top);
        let within =
            |top: i64| top < search.site.limit && top <= *height && height - top >= nearest;
        let tops = gains.iter().map(|at| height + search.site.kerf - at);
        let tops: Vec<i64> =
            tops.filter(|top| *top > range.start && range.contains(top) && within(*top)).collect();
        let planks = best.search(search, *height, range.start);
        for top in tops {
            if shared(search, *height, top, &planks).0 > known(&best) {
                best.search(search, *height, top);
            }
        }
    }
    (best.read_back(search), unsearched)
}

/// The best cants so far: worth, height, place of the upper face.
#[derive(Default)]
struct Incumbents {
    two_sided: Option<(i64, i64, i64)>,
    four_sided: Option<(i64, i64, i64)>,
}

impl Incumbents {
    /// The patterns themselves.
    fn read_back(&self, search: &mut Search<'_>) -> Vec<Found> {
        let mut patterns = Vec::new();
        for (method, best) in
            [(Method::TwoSidedCant, self.two_sided), (Method::FourSidedCant, self.four_sided)]
        {
            patterns.extend(best.map(|(_, height, top)| found(search, method, height, top)));
        }
        patterns
    }

    /// Whether something of this worth would be better than either of them by more than a tie.
    fn may_gain(&self, bound: i64) -> bool {
        let gains = |best: &Option<(i64, i64, i64)>| {
            best.is_none_or(|(value, ..)| bound.div_euclid(UNIT) > value.div_euclid(UNIT))
        };
        gains(&self.two_sided) || gains(&self.four_sided)
    }

    /// Searches the planks of one place and keeps what is better; the worth of the planks of a four-sided
    /// cant, for every allowance.
    fn search(&mut self, search: &mut Search<'_>, height: i64, top: i64) -> Vec<i64> {
        let tables = search.tables(Bounds { up: height - top, low: top });
        let (allowances, kerf) = (search.allowances, search.site.kerf);
        let kinds = kinds(search.site.columns, &tables, allowances);
        let plain = only(&kinds);
        let meet = |upper: &Stacks, lower: &Stacks| -> Vec<i64> {
            (0..allowances.size())
                .map(|a| Stacks::meet(upper, lower, kerf, allowances, a).value)
                .collect()
        };
        let free = half(search, &plain, Method::FourSidedCant);
        let planks = meet(&free, &free);
        let value = shared(search, height, top, &planks).0;
        let better = |best: &Option<(i64, i64, i64)>, value: i64| {
            value > 0 && best.is_none_or(|(known, ..)| value > known)
        };
        if better(&self.four_sided, value) {
            self.four_sided = Some((value, height, top));
        }
        // The bed only takes away: what is no better without it need not be looked at.
        if better(&self.two_sided, value) {
            let clear = half(search, &plain, Method::TwoSidedCant);
            let value = shared(search, height, top, &meet(&free, &clear)).0;
            if better(&self.two_sided, value) {
                self.two_sided = Some((value, height, top));
            }
        }
        planks
    }
}

/// The heights of cant, each with the places that may be best: on the pith, and where the side boards together
/// are worth more than at any place nearer to it. A place that is not is no better than a nearer one, where the
/// planks are worth as much or more.
fn places(search: &Search<'_>) -> Vec<Height> {
    let nearest = search.site.nearest_plane();
    let gains = side_gains(search);
    heights(search)
        .into_iter()
        .filter_map(|height| {
            let middle = (height + 1) / 2;
            let within =
                |top: i64| top < search.site.limit && top <= height && height - top >= nearest;
            let gained = gains.iter().rev().map(|at| height + search.site.kerf - at);
            let tops =
                std::iter::once(middle).chain(gained.filter(|top| *top > middle && within(*top)));
            let mut places: Vec<(i64, i64)> = Vec::new();
            for top in tops {
                let sides = sides(search, height, top);
                let more = |(_, most): &(i64, i64)| sides.div_euclid(UNIT) > most.div_euclid(UNIT);
                if places.last().is_none_or(more) {
                    places.push((top, sides));
                }
            }
            within(middle).then_some(Height { height, places })
        })
        .collect()
}

/// What the side boards of a cant can be worth at most.
fn sides(search: &Search<'_>, height: i64, top: i64) -> i64 {
    let (full, kerf) = (search.allowances.full(), search.site.kerf);
    search.outer.value_beyond(full, top + kerf)
        + search.outer.value_beyond(full, height - top + kerf)
}

/// The planes at which a side gains a board, for any allowance.
fn side_gains(search: &Search<'_>) -> Vec<i64> {
    let mut gains: Vec<i64> = (0..search.allowances.size())
        .flat_map(|a| search.outer.steps(a))
        .map(|step| step.at)
        .collect();
    gains.sort_unstable();
    gains.dedup();
    gains
}

/// The heights that a cant may have: widths, and sums of widths of one thickness, a kerf between neighbours.
/// A random width stands alone: the next wider one is better than two with a kerf between.
fn heights(search: &Search<'_>) -> Vec<i64> {
    let (kerf, columns) = (search.site.kerf, search.site.columns);
    let most = (2 * search.site.limit).min(search.site.mill.widest_cut.as_nm());
    let mut heights: Vec<i64> = Vec::new();
    for group in &columns.groups {
        let own = || group.columns.iter().map(|column| &columns.all[*column]);
        let widths: Vec<i64> =
            own().filter(|column| !column.random).map(|column| column.width).collect();
        let mut open: Vec<i64> = widths.clone();
        let mut sums: Vec<i64> = Vec::new();
        while let Some(sum) = open.pop() {
            if sum <= most
                && let Err(place) = sums.binary_search(&sum)
            {
                sums.insert(place, sum);
                open.extend(widths.iter().map(|width| sum + kerf + width));
            }
        }
        heights.extend(sums);
        heights.extend(own().map(|column| column.width).filter(|width| *width <= most));
    }
    heights.sort_unstable();
    heights.dedup();
    heights
}

/// One half of a cant's planks: free to the bark, or, for the lower half of a two-sided cant, clear of the bed.
fn half(search: &Search<'_>, kinds: &[Kind<'_>], method: Method) -> Stacks {
    let limit = search.site.limit;
    let outer =
        if method == Method::TwoSidedCant { search.site.lowest_plane().min(limit) } else { limit };
    let mut half = Stacks::default();
    half.sweep(kinds, search.site.kerf, Room { outer, past: limit }, search.allowances);
    half
}

/// The best sharing of the allowance between the upper side boards, the lower ones and the planks.
pub(super) fn shared(
    search: &Search<'_>,
    height: i64,
    top: i64,
    inner: &[i64],
) -> (i64, [usize; 3]) {
    let (allowances, kerf) = (search.allowances, search.site.kerf);
    let mut best = (0, [0; 3]);
    for (planks, sides) in allowances.shares(allowances.full()) {
        for (above, below) in allowances.shares(sides) {
            let value = inner[planks]
                + search.outer.value_beyond(above, top + kerf)
                + search.outer.value_beyond(below, height - top + kerf);
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
    let kinds = kinds(search.site.columns, &search.round, search.allowances);
    let plain = only(&kinds);
    let side = |allowance: usize, beyond: i64| {
        boards(&kinds, search.outer.boards_beyond(&plain, search.allowances, allowance, beyond))
    };
    [side(shares[0], top + search.site.kerf), side(shares[1], height - top + search.site.kerf)]
}

/// The best pattern at one height and place; `None` when the faces do not lie in the wood.
pub(crate) fn at(search: &mut Search<'_>, method: Method, height: i64, top: i64) -> Option<Found> {
    let within = top > 0 && top <= height && top.max(height - top) < search.site.limit;
    within.then(|| found(search, method, height, top))
}

/// Reads back the pattern at one height and place.
fn found(search: &mut Search<'_>, method: Method, height: i64, top: i64) -> Found {
    let tables = search.tables(Bounds { up: height - top, low: top });
    let (allowances, kerf) = (search.allowances, search.site.kerf);
    let kinds = kinds(search.site.columns, &tables, allowances);
    let plain = only(&kinds);
    let free = half(search, &plain, Method::FourSidedCant);
    let clear = half(search, &plain, method);
    let lower = &clear;
    let meetings: Vec<_> =
        (0..allowances.size()).map(|a| Stacks::meet(&free, lower, kerf, allowances, a)).collect();
    let worth: Vec<i64> = meetings.iter().map(|meeting| meeting.value).collect();
    let (value, shares) = shared(search, height, top, &worth);
    let inner = line(&kinds, &free, lower, kerf, allowances, &meetings[shares[2]]);
    let [above, below] = side_boards(search, height, top, shares);
    // The two faces of the cant and the first opening inside it.
    let value = value - 3 * PASS - TURN * method.turns();
    search.found(method, value, Shape::Cant(CantShape { height, top, above, below, inner }))
}
