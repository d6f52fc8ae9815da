//! Boxed heart: one timber with the pith at its middle, side boards and planks from what surrounds it.
//!
//! # Recurrence
//! For a timber of height `H` (from face to face) and thickness `T`, centred on the pith:
//! ```text
//! max over timbers of  2 F(H/2 + k) + worth(timber) + 2 G(T/2 + k)
//! ```
//! `F` is the stack of side boards beyond the two faces, `G` that of planks within the cant on either side
//! of the timber. The pith is centred because a centred heart warps least; a timber off the pith is a
//! pattern of [`super::cant`].
//!
//! # Source
//! The procedure is the trade's own for a boxed-heart timber: level, first face at the pith plus half the
//! timber, turn, second face at the whole, and the same a quarter round.

use super::{Board, CantShape, Found, Line, Method, Search, Shape, line};
use crate::flitch::{Bounds, Strip};
use crate::stack::{Room, Stacks};
use pithward_measure::Length;

/// From this size on, in both directions, a piece can hold the pith and stay useful (common practice, no
/// source: a 4x4, dressed, is the smallest post).
const LEAST_TIMBER: Length = Length::sixty_fourths(7 * 32);

/// The best boxed timber; `None` when no wanted timber fits round the pith.
pub(crate) fn best(search: &mut Search<'_>) -> Option<Found> {
    let mut best: Option<Found> = None;
    for column in 0..search.site.columns.all.len() {
        if let Some(found) =
            around(search, column).filter(|f| best.as_ref().is_none_or(|b| f.value > b.value))
        {
            best = Some(found);
        }
    }
    best
}

/// The best pattern round one timber.
fn around(search: &mut Search<'_>, column: usize) -> Option<Found> {
    let section = &search.site.columns.all[column];
    let (thickness, height) = (section.thickness, section.width);
    let most = search.site.mill.widest_cut.as_nm();
    if thickness.min(height) < LEAST_TIMBER.as_nm() || height > most || thickness > most {
        return None;
    }
    let (top, plane) = ((height + 1) / 2, (thickness + 1) / 2);
    if top < search.site.nearest_plane() {
        return None;
    }
    let bounds = Bounds { up: height - top, low: top };
    let (allowances, kerf) = (search.allowances, search.site.kerf);
    // The timber itself, for every allowance that it may use.
    let mut timbers: Vec<(usize, i64, Strip)> = Vec::new();
    for ladder in &search.ripping.lengths[column].ladders {
        let rims = &search.site.columns.rims;
        let edge = |level: usize| rims[section.levels[level].rim].edge(plane);
        let sound = |rung: &(usize, i64)| edge(rung.0).is_some_and(|edge| edge >= top);
        if let Some((level, value)) = ladder.rungs.iter().rev().find(|rung| sound(rung)) {
            timbers.push((
                ladder.uses,
                *value,
                Strip { column, level: *level, allowance: ladder.uses },
            ));
        }
    }
    if timbers.is_empty() {
        return None;
    }
    let tables = search.tables(bounds);
    // The timber stays on the bed, the planks beside it are freed from above.
    if thickness < search.site.lowest_blade() {
        return None;
    }
    let offers = line::freed(search, &line::offers(search, &tables));
    let plain = line::kinds(&offers);
    let mut side = Stacks::default();
    side.sweep(
        &plain,
        kerf,
        Room { outer: search.site.limit, past: search.site.limit },
        allowances,
    );
    let beyond = plane + kerf;
    // For every allowance of what the cant holds: the timber and how the rest is shared by its two sides.
    let mut inner = vec![(0i64, None); allowances.size()];
    for (allowance, best) in inner.iter_mut().enumerate() {
        for (uses, value, strip) in &timbers {
            let Some(rest) = allowances.minus(allowance, *uses) else { continue };
            for (right, left) in allowances.shares(rest) {
                let total =
                    value + side.value_beyond(right, beyond) + side.value_beyond(left, beyond);
                if total > best.0 {
                    *best = (total, Some((*strip, right, left)));
                }
            }
        }
    }
    let worth: Vec<i64> = inner.iter().map(|(value, _)| *value).collect();
    let (value, shares) = super::cant::shared(search, height, top, &worth);
    let (strip, right, left) = inner[shares[2]].1?;
    let planks = |allowance| {
        line::boards(search, &offers, side.boards_beyond(&plain, allowances, allowance, beyond))
    };
    let mut row = planks(left);
    let base =
        thickness - plane - thickness - row.iter().map(|board| board.thickness + kerf).sum::<i64>();
    row.reverse();
    row.push(Board { thickness, strips: vec![search.rip(&strip)] });
    row.extend(planks(right));
    let [above, below] = super::cant::side_boards(search, height, top, shares);
    let inner = Line { boards: row, base };
    let shape = Shape::Cant(CantShape { height, top, above, below, inner });
    let method = Method::BoxedHeart;
    Some(search.found(method, value - search.work.fixed(method, 4), shape))
}
