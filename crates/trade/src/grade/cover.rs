//! What areas cover together, cell by cell.

use super::{Area, Units};
use pithward_measure::Length;

/// The plane of the maximal areas, cut at all of their sides.
#[derive(Clone, Debug)]
pub(super) struct Cover {
    pub(super) cells: Vec<Units>,
    /// For every area the columns and the rows of its cells.
    within: Vec<[std::ops::Range<usize>; 2]>,
    columns: usize,
}

impl Cover {
    pub(super) fn new(areas: &[Area]) -> Self {
        let cut = |side: fn(&Area) -> (Length, Length)| {
            let mut at: Vec<Length> =
                areas.iter().map(side).flat_map(|(from, to)| [from, to]).collect();
            at.sort_unstable();
            at.dedup();
            at
        };
        let (along, across) = (cut(|area| area.along), cut(|area| area.across));
        let columns = along.len().saturating_sub(1);
        let mut cells = Vec::with_capacity(columns * across.len());
        for rows in across.windows(2) {
            for of in along.windows(2) {
                cells.push(Area::new((of[0], of[1]), (rows[0], rows[1])).units());
            }
        }
        let range = |at: &[Length], (from, to): (Length, Length)| {
            at.partition_point(|line| *line < from)..at.partition_point(|line| *line < to)
        };
        let within =
            areas.iter().map(|a| [range(&along, a.along), range(&across, a.across)]).collect();
        Self { cells, within, columns }
    }

    /// The cells of an area.
    pub(super) fn of(&self, area: usize) -> impl Iterator<Item = usize> {
        let [columns, rows] = self.within[area].clone();
        let wide = self.columns;
        rows.flat_map(move |row| columns.clone().map(move |column| row * wide + column))
    }

    /// What all areas cover together.
    pub(super) fn content(&self) -> Units {
        let mut covered = vec![false; self.cells.len()];
        (0..self.within.len()).flat_map(|area| self.of(area)).for_each(|cell| covered[cell] = true);
        self.cells.iter().zip(covered).filter(|(_, is)| *is).map(|(units, _)| *units).sum()
    }
}
