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
use crate::flitch::{Bounds, Strip, StripPlace};
use crate::site::Lie;
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
    let site = search.site;
    let [across, up] = site.pith();
    let (top, plane) = (up + (height + 1) / 2, across + (thickness + 1) / 2);
    // The timber reaches to both sides of the middle of the wood; else it is no boxed one.
    if top < site.nearest_plane(true)
        || height - top < site.nearest_plane(false)
        || !(0..=thickness).contains(&plane)
    {
        return None;
    }
    let bounds = Bounds { up: height - top, low: top };
    let (allowances, kerf) = (search.allowances, search.site.kerf);
    // The timber itself, for every allowance that it may use.
    let mut timbers: Vec<(usize, i64, Strip)> = Vec::new();
    for ladder in &search.ripping.lengths[column].ladders {
        // It fills the cant from face to face.
        let planes = (plane - thickness, plane);
        let sound = |(level, value): &(usize, i64)| {
            let stretch = section.levels[*level].stretches.iter().position(|stretch| {
                let rim = &site.columns.rims[stretch.rim];
                let places = site.places(rim, Lie::planks(bounds), planes, height);
                places.iter().any(|(from, to)| (*from..=*to).contains(&-top))
            })?;
            let place = StripPlace { column, level: *level, stretch, allowance: ladder.uses };
            Some((ladder.uses, *value, Strip { width: height, place: Some(place) }))
        };
        timbers.extend(ladder.rungs.iter().rev().find_map(sound));
    }
    if timbers.is_empty() {
        return None;
    }
    let tables = search.planks(bounds);
    // The timber stays on the bed, the planks beside it are freed from above.
    if thickness < search.site.lowest_blade() {
        return None;
    }
    let offers = line::Offers::new(search, &tables).freed(site);
    let sweep = |up: bool| {
        let mut side = Stacks::default();
        let room = Room { outer: site.limit, past: site.limit };
        side.sweep(&line::kinds(offers.side(up)), kerf, room, allowances);
        side
    };
    let upper = sweep(true);
    let lower = (!site.is_alike()).then(|| sweep(false));
    let lower = lower.as_ref().unwrap_or(&upper);
    // The planes of the timber.
    let (over, under) = (plane, thickness - plane);
    let apart = if site.is_alike() { plane } else { under };
    // For every allowance of what the cant holds: the timber and how the rest is shared by its two sides.
    let mut inner = vec![(0i64, None); allowances.size()];
    for (allowance, best) in inner.iter_mut().enumerate() {
        for (uses, value, strip) in &timbers {
            let Some(rest) = allowances.minus(allowance, *uses) else { continue };
            for (right, left) in allowances.shares(rest) {
                let total = value
                    + upper.value_beyond(right, over + kerf)
                    + lower.value_beyond(left, apart + kerf);
                if total > best.0 {
                    *best = (total, Some((*strip, right, left)));
                }
            }
        }
    }
    let worth: Vec<i64> = inner.iter().map(|(value, _)| *value).collect();
    let (value, shares) = super::cant::shared(search, [top, height - top], &worth);
    let (strip, right, left) = inner[shares[2]].1?;
    let mut row = line::past(search, &offers, lower, (false, left), apart);
    let base = -apart - row.iter().map(|board| board.thickness + kerf).sum::<i64>();
    row.reverse();
    row.push(Board { thickness, strips: vec![search.rip(&strip)] });
    row.extend(line::past(search, &offers, &upper, (true, right), over));
    let [above, below] = super::cant::side_boards(search, height, top, shares);
    let inner = Line { boards: row, base };
    let shape = Shape::Cant(CantShape { height, top, above, below, inner });
    let method = Method::BoxedHeart;
    Some(search.found(method, value - search.work.fixed(method, 4), shape))
}
