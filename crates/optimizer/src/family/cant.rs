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
//! `H` runs over the wanted widths and their sums with kerfs. By symmetry the upper face is the further
//! one. As it moves out, `F(y + k)` and `I` only fall, and `F(H - y + k)` rises in steps: so only the
//! places where the lower side gains a board need be tried, and the cant on the pith. That is exact. A
//! place is skipped when the sides there and the cant *on the pith*, which bounds it, do not beat the best
//! so far.

use super::{CantShape, Found, Method, Search, Shape, boards, kinds, line, only};
use crate::column::{PASS, TURN};
use crate::flitch::{Bounds, Table};
use crate::stack::{Room, Stacks};

/// The worth of a cant's planks, with the bed side free and with it kept clear of the bed.
#[derive(Clone, Debug)]
struct Inner {
    four_sided: Vec<i64>,
    two_sided: Vec<i64>,
}

/// The best two-sided and the best four-sided cant.
pub(crate) fn best(search: &mut Search<'_>) -> Vec<Found> {
    let nearest = search.nearest_plane();
    let heights = heights(search);
    let full = search.allowances.full();
    // The cant on the pith is the most that its planks are ever worth.
    let mut candidates: Vec<(i64, i64, i64)> = Vec::new();
    let lower_places: Vec<i64> = {
        let mut places: Vec<i64> = (0..search.allowances.size()).flat_map(|a| search.outer.steps(a)).map(|s| s.at).collect();
        places.sort_unstable();
        places.dedup();
        places
    };
    let mut inners: Vec<Inner> = Vec::new();
    for (n, height) in heights.iter().enumerate() {
        let middle = (height + 1) / 2;
        if middle < nearest {
            inners.push(Inner { four_sided: Vec::new(), two_sided: Vec::new() });
            continue;
        }
        let inner = planks(search, *height, middle);
        let tops = lower_places
            .iter()
            .map(|at| height + search.kerf - at)
            .filter(|top| *top > middle && *top <= *height && height - top >= nearest)
            .chain([middle]);
        for top in tops {
            let sides = search.outer.value_beyond(full, top + search.kerf)
                + search.outer.value_beyond(full, height - top + search.kerf);
            candidates.push((sides + inner.four_sided[full], i64::try_from(n).unwrap_or(0), top));
        }
        inners.push(inner);
    }
    candidates.sort_unstable_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(&b.1)).then(a.2.cmp(&b.2)));
    let mut best: [Option<(i64, i64, i64)>; 2] = [None, None];
    for (bound, n, top) in candidates {
        if best.iter().all(|best| best.is_some_and(|(value, ..)| bound <= value)) {
            break;
        }
        let n = usize::try_from(n).unwrap_or(0);
        let height = heights[n];
        let inner = if top == (height + 1) / 2 { inners[n].clone() } else { planks(search, height, top) };
        for (best, inner) in best.iter_mut().zip([&inner.two_sided, &inner.four_sided]) {
            let value = shared(search, height, top, inner).0;
            if value > 0 && best.is_none_or(|(known, ..)| value > known) {
                *best = Some((value, height, top));
            }
        }
    }
    [Method::TwoSidedCant, Method::FourSidedCant]
        .into_iter()
        .zip(best)
        .filter_map(|(method, best)| best.map(|(_, height, top)| found(search, method, height, top)))
        .collect()
}

/// The heights that a cant may have: sums of widths of one thickness, a kerf between neighbours.
fn heights(search: &Search<'_>) -> Vec<i64> {
    let most = (2 * search.limit).min(search.mill.widest_cut.as_nm());
    let mut heights: Vec<i64> = Vec::new();
    for group in &search.columns.groups {
        let widths: Vec<i64> = group.columns.iter().map(|column| search.columns.all[*column].width).collect();
        let mut sums: Vec<i64> = Vec::new();
        let mut open: Vec<i64> = widths.clone();
        while let Some(sum) = open.pop() {
            if sum <= most && let Err(place) = sums.binary_search(&sum) {
                sums.insert(place, sum);
                open.extend(widths.iter().map(|width| sum + search.kerf + width));
            }
        }
        heights.extend(sums);
    }
    heights.sort_unstable();
    heights.dedup();
    heights
}

/// The tables of planks in a cant.
fn tables(search: &mut Search<'_>, height: i64, top: i64) -> Vec<Table> {
    let bounds = Bounds { up: height - top, low: top };
    (0..search.columns.groups.len()).map(|group| search.ripping.table(group, bounds, search.limit)).collect()
}

/// What the planks of a cant are worth, for every allowance.
fn planks(search: &mut Search<'_>, height: i64, top: i64) -> Inner {
    let tables = tables(search, height, top);
    let (allowances, kerf) = (search.allowances, search.kerf);
    let kinds = kinds(search.columns, &tables, allowances);
    let plain = only(&kinds);
    let (free, clear) = sides(search, &plain);
    let value = |lower: &Stacks| {
        (0..allowances.size()).map(|a| Stacks::meet(&free, lower, kerf, allowances, a).value).collect()
    };
    Inner { four_sided: value(&free), two_sided: value(&clear) }
}

/// A side of planks, free to the bark, and one that keeps clear of the bed.
fn sides(search: &Search<'_>, kinds: &[crate::stack::Kind<'_>]) -> (Stacks, Stacks) {
    let (mut free, mut clear) = (Stacks::default(), Stacks::default());
    let past = search.limit;
    free.sweep(kinds, search.kerf, Room { outer: search.limit, past }, search.allowances);
    let outer = search.lowest_plane().min(search.limit);
    clear.sweep(kinds, search.kerf, Room { outer, past }, search.allowances);
    (free, clear)
}

/// The best sharing of the allowance between the upper side boards, the lower ones and the planks.
pub(super) fn shared(search: &Search<'_>, height: i64, top: i64, inner: &[i64]) -> (i64, [usize; 3]) {
    let (allowances, kerf) = (search.allowances, search.kerf);
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
pub(super) fn side_boards(search: &Search<'_>, height: i64, top: i64, shares: [usize; 3]) -> [Vec<super::Board>; 2] {
    let kinds = kinds(search.columns, &search.round, search.allowances);
    let plain = only(&kinds);
    let side = |allowance: usize, beyond: i64| {
        boards(&kinds, search.outer.boards_beyond(&plain, search.allowances, allowance, beyond))
    };
    [side(shares[0], top + search.kerf), side(shares[1], height - top + search.kerf)]
}

/// Reads back the pattern at one height and place.
fn found(search: &mut Search<'_>, method: Method, height: i64, top: i64) -> Found {
    let tables = tables(search, height, top);
    let (allowances, kerf) = (search.allowances, search.kerf);
    let kinds = kinds(search.columns, &tables, allowances);
    let plain = only(&kinds);
    let (free, clear) = sides(search, &plain);
    let lower = if method == Method::TwoSidedCant { &clear } else { &free };
    let meetings: Vec<_> =
        (0..allowances.size()).map(|a| Stacks::meet(&free, lower, kerf, allowances, a)).collect();
    let worth: Vec<i64> = meetings.iter().map(|meeting| meeting.value).collect();
    let (value, shares) = shared(search, height, top, &worth);
    let inner = line(&kinds, &free, lower, kerf, allowances, &meetings[shares[2]]);
    let [above, below] = side_boards(search, height, top, shares);
    // The two faces of the cant and the first opening inside it.
    let value = value - 3 * PASS - TURN * method.turns();
    Found { method, value, shape: Shape::Cant(CantShape { height, top, above, below, inner }) }
}
