//! The kinds of strip that may lie at one plane, on one side of the axis, as steps of worth.

use crate::column::Ladder;
use crate::site::Site;
use crate::stack::{Kind, Step};
use std::cmp::Reverse;
use std::ops::Range;

/// Kinds of strip at one plane, on one side: the steps of all of them one after another.
#[derive(Debug, Default)]
pub(super) struct KindList {
    pub(super) steps: Vec<Step>,
    /// For each step its level and stretch; `None` where no strip may lie.
    pub(super) names: Vec<Option<(usize, usize)>>,
    /// Of each kind its steps.
    pub(super) ranges: Vec<Range<usize>>,
}

impl KindList {
    pub(super) fn clear(&mut self) {
        self.steps.clear();
        self.names.clear();
        self.ranges.clear();
    }

    /// The kinds as a stack takes them.
    pub(super) fn kinds(&self, site: &Site<'_>, rungs: &[(usize, &Ladder)]) -> Vec<Kind<'_>> {
        let kind = |((column, ladder), range): (&(usize, &Ladder), &Range<usize>)| {
            let size = site.columns.all[*column].width;
            Kind { size, uses: ladder.uses, steps: &self.steps[range.clone()] }
        };
        rungs.iter().zip(&self.ranges).map(kind).collect()
    }

    /// Closes the kind whose steps were added since the last.
    pub(super) fn close(&mut self) {
        let from = self.ranges.last().map_or(0, |range| range.end);
        self.ranges.push(from..self.steps.len());
    }

    /// Takes away all steps beyond so many.
    pub(super) fn truncate(&mut self, len: usize) {
        self.steps.truncate(len);
        self.names.truncate(len);
    }

    /// Adds a step to those from `begun` on, of which none is worth less, if it reaches further out than they.
    pub(super) fn add_further(&mut self, begun: usize, step: Step, name: (usize, usize)) {
        if let Some(furthest) = self.steps[begun..].last() {
            if step.at <= furthest.at {
                return;
            }
            if step.value == furthest.value {
                self.truncate(self.steps.len() - 1);
            }
        }
        self.steps.push(step);
        self.names.push(Some(name));
    }

    /// Puts the steps from `begun` on in their order.
    pub(super) fn outermost_first(&mut self, begun: usize) {
        self.steps[begun..].reverse();
        self.names[begun..].reverse();
    }

    /// Adds the steps of a kind that may lie at these places: at every edge the place that is worth most. Where it may lie
    /// nowhere nearer than the last of them, `ends` says so.
    pub(super) fn add(&mut self, places: &[Place], ends: bool) {
        let Some(most) = places.iter().map(|place| place.to).max() else { return };
        let mut at = most;
        loop {
            let here = places.iter().filter(|place| place.from <= at && at <= place.to);
            let best = here.max_by_key(|place| (place.value, Reverse(place.name)));
            self.steps.push(Step { at, value: best.map_or(0, |place| place.value) });
            self.names.push(best.map(|place| place.name));
            // Inward it changes where the best ends, or where a better one begins to reach.
            let worth = best.map_or(0, |place| place.value);
            let ends = best.map(|place| place.from - 1);
            let better = places.iter().filter(|place| place.to < at && place.value > worth);
            let next = better.map(|place| place.to).chain(ends).max();
            let Some(next) = next.filter(|next| places.iter().any(|place| place.from <= *next))
            else {
                break;
            };
            at = next;
        }
        if let Some(nearest) = places.iter().map(|place| place.from).min().filter(|_| ends) {
            self.steps.push(Step { at: nearest - 1, value: 0 });
            self.names.push(None);
        }
    }
}

/// Where a strip of one level and stretch may have its outer edge, and what it is worth.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    pub(super) from: i64,
    pub(super) to: i64,
    pub(super) value: i64,
    pub(super) name: (usize, usize),
}
