//! What planks may be worth between faces further aside, in round wood.
//!
//! # What fits aside
//! Let the nearer face of a cant be `near` from the pith, and that of one further aside, no higher, less. Strips side by
//! side that fit there are moved toward the pith until its nearer face is `near` from it too. On the far side no edge then
//! reaches further out than before; on the near side none reaches further than `near`. So they fit here, but for a
//! strip whose wood reaches less than `near` to that side. And where no strip's wood reaches past the far face here, they
//! fit without being moved.
//!
//! # Bound
//! So a board is worth no more aside than here, but for outer planes in a band: from where the wood of some strip comes
//! nearer than `near`, to where no strip's wood reaches past the far face. In the band it is worth no more than just
//! within it, for whatever the faces are, boards are worth less further out; and no more than between faces that hold both
//! cants. Strips that reach equally far have no band.

use super::{Search, Tables, line};
use crate::column::{Rim, floor};
use crate::flitch::Bounds;
use crate::stack::Step;
use pithward_geometry::Quarter;
use std::cmp::Reverse;

/// The most that the planks of a cant are worth whose faces lie further aside and no further apart than these, by
/// the tables of these and those between faces that hold both, for every allowance. `None` where that is no more than here.
pub(super) fn most_planks(
    search: &Search<'_>,
    own: &Tables,
    bounds: Bounds,
    holding: &Tables,
) -> Option<Vec<i64>> {
    if !search.site.is_even() {
        return None;
    }
    let offers = line::Offers::new(search, own);
    let holding = line::Offers::new(search, holding);
    let mut more = false;
    let steps = |offer: &line::Offer<'_>| -> Vec<Step> {
        let (here, size) = (offer.kind.steps, offer.kind.size);
        let Some(band) = Band::new(&rims(search, size), here, (size, search.site.limit), bounds)
        else {
            return here.to_vec();
        };
        let by = holding.like(offer).map_or(&[][..], |offer| offer.kind.steps);
        // A strip that is as wide as the cant takes no pass of its own.
        let mut columns = search.site.columns.all.iter();
        let square = columns.any(|c| c.thickness == size && c.width == bounds.width());
        let steps = band.steps(here, by, if square { search.work.pass } else { 0 });
        more |= steps != here;
        steps
    };
    let steps: Vec<Vec<Step>> = offers.side(true).iter().map(steps).collect();
    more.then(|| line::unbounded(search, offers.with(&steps)).values())
}

/// The rims of the strips of boards of one thickness, each with the narrowest of its strips.
fn rims<'s>(search: &Search<'s>, thickness: i64) -> Vec<(&'s Rim, i64)> {
    let columns = search.site.columns;
    let own = columns.groups.iter().filter(|group| group.thickness == thickness);
    let mut rims: Vec<(usize, i64)> = Vec::new();
    for column in own.flat_map(|group| &group.columns) {
        let section = &columns.all[*column];
        let rungs = search.lengths[*column].ladders.iter().flat_map(|ladder| &ladder.rungs);
        for (level, _) in rungs {
            let rim = section.levels[*level].stretches[0].rim;
            match rims.iter_mut().find(|(other, _)| *other == rim) {
                Some((_, width)) => *width = (*width).min(section.width),
                None => rims.push((rim, section.width)),
            }
        }
    }
    rims.into_iter().map(|(rim, width)| (&columns.rims[rim], width)).collect()
}

/// Outer planes at which boards may be worth more aside.
struct Band {
    /// The furthest plane.
    to: i64,
    /// How many steps of the boards here reach to it or, from further in, into it.
    steps: usize,
    /// They are worth no more than this.
    most: i64,
}

impl Band {
    fn new(
        rims: &[(&Rim, i64)],
        here: &[Step],
        (thickness, limit): (i64, i64),
        bounds: Bounds,
    ) -> Option<Self> {
        let (near, far) = (bounds.up.min(bounds.low), bounds.up.max(bounds.low));
        let edge = |rim: &Rim, plane: i64| {
            rim.extent(Quarter::First, (plane, plane)).map(|extent| floor(extent.high))
        };
        // A strip as wide as twice that has no place where its wood comes nearer.
        let narrow = || rims.iter().filter(|(_, width)| *width < 2 * near);
        let short = |plane: i64| narrow().any(|(rim, _)| edge(rim, plane).is_none_or(|e| e < near));
        let beyond =
            |plane: i64| rims.iter().any(|(rim, _)| edge(rim, plane).is_some_and(|e| e > far));
        let steps = here.partition_point(|step| short(step.at));
        let inner = here.get(steps).map_or((thickness - 1) / 2, |step| step.at);
        if !beyond(inner + 1) {
            return None;
        }
        // Just within the band lies the next step, or this one where the band begins on its way.
        let last = if short(inner + 1) { steps } else { steps.checked_sub(1)? };
        let most = here.get(last).map_or(i64::MAX / 8, |step| step.value);
        let (mut to, mut past) = (inner + 1, limit + 2);
        while past - to > 1 {
            let middle = to + (past - to) / 2;
            if beyond(middle) { to = middle } else { past = middle }
        }
        Some(Self { to, steps, most })
    }

    /// What boards are worth at most: as here, but for the band.
    fn steps(&self, here: &[Step], holding: &[Step], square: i64) -> Vec<Step> {
        let (outer, inner) = here.split_at(self.steps);
        let (outer, band) = outer.split_at(outer.partition_point(|step| step.at > self.to));
        let from = inner.first().map_or(0, |step| step.at);
        let between =
            holding.iter().map(|step| step.at).filter(|at| (from + 1..self.to).contains(at));
        let mut planes: Vec<i64> = band.iter().map(|step| step.at).chain(between).collect();
        planes.push(self.to);
        planes.sort_unstable_by_key(|plane| Reverse(*plane));
        let bounded = planes.into_iter().map(|at| {
            let by = worth(holding, at) + square;
            Step { at, value: by.min(self.most).max(worth(here, at)) }
        });
        let mut all = outer.to_vec();
        for step in bounded.chain(inner.iter().copied()) {
            if all.last().map_or(step.value > 0, |last| last.value < step.value) {
                all.push(step);
            }
        }
        all
    }
}

/// What a board is worth at a plane.
fn worth(steps: &[Step], plane: i64) -> i64 {
    let reaching = steps.partition_point(|step| step.at >= plane);
    reaching.checked_sub(1).map_or(0, |n| steps[n].value)
}
