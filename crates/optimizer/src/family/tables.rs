//! Tables of boards, and what those that were made before say of new ones.
//!
//! The boards of a cant are bounded by its faces and by the log. What lies further out than a face reaches is bounded by the
//! log alone, whatever the faces are; and boards that reach past only one face are the same between all pairs of faces that
//! have that one. So a new table takes over every row of strips of a known one with more room that fits between its own
//! faces: none is worth more there. Only the planes where none fits are searched. That is exact in round sound wood, and
//! elsewhere as good as the known table.

use super::line::{self, Offer};
use crate::allowance::Allowances;
use crate::flitch::{Ripping, Table};
use crate::site::{Lie, Site};
use pithward_geometry::Quarter;
use std::rc::Rc;

/// For every group the strips of a board on the upper side of the axis, and on the lower one where that differs.
#[derive(Clone, Debug)]
pub(crate) struct Tables {
    pub(super) lie: Lie,
    up: Rc<[Table]>,
    pub(super) low: Option<Rc<[Table]>>,
}

impl Tables {
    /// Those of one side.
    fn side(&self, up: bool) -> &[Table] {
        self.low.as_ref().filter(|_| !up).unwrap_or(&self.up)
    }

    /// The kinds of board that one side offers, group by group.
    pub(super) fn offers<'t>(
        &'t self,
        site: &Site<'_>,
        allowances: &Allowances,
        up: bool,
    ) -> Vec<Offer<'t>> {
        line::offers(site, allowances, self.side(up))
    }
}

/// The tables of one search by what boards are worth at their best.
#[derive(Debug, Default)]
pub(super) struct Known {
    all: Vec<Tables>,
}

impl Known {
    /// The tables of boards that lie like this, each at what it looks like where that is to be heeded.
    pub(super) fn tables(&mut self, ripping: &mut Ripping<'_>, lie: Lie) -> Tables {
        let Tables { up, low, .. } = self.plain(ripping, lie);
        if !ripping.sees() {
            return Tables { lie, up, low };
        }
        let see = |side: &[Table], up: bool| -> Rc<[Table]> {
            side.iter()
                .enumerate()
                .map(|(group, table)| ripping.seen(table, group, lie, up))
                .collect()
        };
        Tables { lie, up: see(&up, true), low: Some(see(low.as_ref().unwrap_or(&up), false)) }
    }

    /// The same whatever boards look like.
    fn plain(&mut self, ripping: &mut Ripping<'_>, lie: Lie) -> Tables {
        let even = ripping.site.is_even();
        // On even wood one quarter is as the other.
        let lie = if even { Lie { quarter: Quarter::First, ..lie } } else { lie };
        let known = self.all.iter().filter(|known| known.lie.quarter == lie.quarter);
        let holding = known.filter_map(|known| Some((lie.bounds.beyond(known.lie.bounds)?, known)));
        let wider = holding.min_by_key(|(beyond, _)| *beyond).map(|(_, known)| known);
        if let Some(same) = wider.filter(|known| known.lie == lie) {
            return same.clone();
        }
        let groups = 0..ripping.site.columns.groups.len();
        let mut side = |up: bool| -> Rc<[Table]> {
            let table = |group| ripping.table(group, lie, up, wider.map(|w| &w.side(up)[group]));
            groups.clone().map(table).collect()
        };
        let up = side(true);
        let low = (!even).then(|| side(false));
        let tables = Tables { lie, up, low };
        // With counts the tables of a search are many times as large, and none has to do with another.
        if ripping.counts_nothing() {
            self.all.push(tables.clone());
        }
        tables
    }
}

#[cfg(test)]
mod tests {
    use super::super::Search;
    use crate::column::{Columns, Prices};
    use crate::flitch::Bounds;
    use crate::invented::{cut, mill, want};
    use crate::site::{Lie, Site};
    use crate::want::Want;
    use pithward_geometry::{Frame, Log, View};
    use pithward_measure::Length;
    use proptest::prelude::*;

    /// Boards and timbers of a few widths, each of two lengths.
    fn wants(lengths: [i64; 2]) -> Vec<Want> {
        let sizes = [(1, 4), (1, 6), (1, 10), (2, 4), (2, 8)];
        let inches = sizes.map(|(t, w)| (Length::inches(t), Length::inches(w)));
        let both = |size| lengths.map(|feet| want(vec![cut(size, feet)]));
        inches.into_iter().flat_map(both).collect()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        /// On both sides of the square planks: some faces are as far apart as a want is wide.
        #[test]
        fn what_is_taken_over_is_what_would_be_found(
            small in 8i64..20, taper in 0i64..5, kerf in 1_000_000i64..5_000_000,
            faces in prop::collection::vec((prop::sample::select(vec![4i64, 6, 8, 10, 13, 17]), 0i64..1_000), 2..8),
        ) {
            let log = Log::new(
                Length::inches(small), Length::inches(small + taper), Length::feet(16), Length::ZERO, Length::ZERO,
            ).unwrap();
            let (mill, wants) = (mill(Length::nm(kerf)), wants([8, 15]));
            let view = View::new(&log, Frame::LEVEL);
            let columns = Columns::new(&view, mill.crosscut_kerf, &wants);
            let site = Site::new(&view, &mill, &columns);
            let prices = Prices::full(&wants);
            let mut search = Search::new(&site, &wants, &prices);
            for (height, aside) in faces {
                let height = Length::inches(height).as_nm();
                let up = height / 2 - height / 2 * aside / 1_000;
                let bounds = Bounds { up, low: height - up };
                let tables = search.planks(bounds);
                for group in 0..columns.groups.len() {
                    let alone = search.ripping.table(group, Lie::planks(bounds), true, None);
                    prop_assert_eq!(&tables.side(true)[group].steps, &alone.steps);
                }
            }
        }
    }
}
