//! Rows of strips that a table with more room holds, taken over where they fit.

use super::{Ripping, Strip, Table};
use crate::column::{Column, Group};
use crate::site::{Lie, Site, planes};
use crate::stack::Step;
use std::ops::Range;

/// Strips of another table that fit here too.
#[derive(Debug)]
pub(super) struct Held {
    pub(super) value: i64,
    pub(super) strips: Range<usize>,
    /// The furthest plane at which they fit, where that is known.
    pub(super) at: Option<i64>,
}

impl Ripping<'_> {
    /// The strips that a table with more room has at a plane, if they fit here too: then none are worth more here. Nothing
    /// where it has none from there outward.
    pub(super) fn held(
        &self,
        wider: &Table,
        (group, lie, up): (usize, Lie, bool),
        plane: i64,
        all: &mut Vec<Strip>,
    ) -> Option<Held> {
        let site = self.site;
        let steps = &wider.steps[0];
        let reaching = steps.partition_point(|step| step.at >= plane);
        let Some(n) = reaching.checked_sub(1) else {
            return Some(Held { value: 0, strips: 0..0, at: None });
        };
        let Step { at, value } = steps[n];
        let Group { thickness, ref columns } = site.columns.groups[group];
        let between = planes(up, plane, thickness);
        let strips = wider.strips(0, n);
        let fits = |outer: i64| {
            if site.is_even() {
                return site.slack(strips, outer, lie.bounds).is_some_and(|(by, _)| by >= 0);
            }
            site.room(strips, lie, planes(up, outer, thickness)).is_some()
        };
        // Only here a strip that is as wide as the cant takes no pass of its own.
        let is_square = |column: &&Column| column.width == lie.bounds.width();
        let square = columns.iter().map(|column| &site.columns.all[*column]).filter(is_square);
        let mut square = square.flat_map(|column| {
            let stretches = column.levels.iter().flat_map(|level| &level.stretches);
            stretches.map(|stretch| (&site.columns.rims[stretch.rim], column.width))
        });
        if value <= 0
            || !fits(plane)
            || square.any(|(rim, width)| Site::place(rim, lie, between, width).is_some())
        {
            return None;
        }
        // What keeps clear of something may fit there and not on the way.
        let at = (at == plane || !self.heeds(strips) && fits(at)).then_some(at);
        let begins = all.len();
        all.extend_from_slice(strips);
        Some(Held { value: value + self.pass, strips: begins..all.len(), at })
    }
}
