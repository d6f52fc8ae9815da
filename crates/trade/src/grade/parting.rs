//! In which ways two cuttings can be apart, and on which lines.

use super::{Area, Least};
use pithward_measure::Length;

/// In which direction two cuttings are apart, the first before the other.
#[derive(Clone, Copy, Debug)]
pub(super) enum Apart {
    Along,
    Across,
}

impl Apart {
    /// What two areas are on their sides of a line.
    pub(super) fn at(self, line: Length, before: &Area, after: &Area) -> (Area, Area) {
        let (mut before, mut after) = (*before, *after);
        match self {
            Self::Along => {
                before.along.1 = before.along.1.min(line);
                after.along.0 = after.along.0.max(line);
            }
            Self::Across => {
                before.across.1 = before.across.1.min(line);
                after.across.0 = after.across.0.max(line);
            }
        }
        (before, after)
    }
}

/// The places on which some best set has its lines.
pub(super) struct Places {
    along: Vec<Length>,
    across: Vec<Length>,
}

impl Places {
    pub(super) fn of(&self, apart: Apart) -> &[Length] {
        match apart {
            Apart::Along => &self.along,
            Apart::Across => &self.across,
        }
    }

    pub(super) fn new(least: &Least, areas: &[Area]) -> Self {
        let (long, wide) = least.steps(areas);
        let steps = match least {
            Least::Sizes(_) => areas.len().saturating_sub(1),
            Least::Content { .. } => 1,
        };
        let along = hanging(areas.iter().map(|area| area.along), &long, steps);
        let across = hanging(areas.iter().map(|area| area.across), &wide, steps);
        Self { along, across }
    }
}

/// Sides, and all that is up to so many least sizes away from one, between the outermost of them.
fn hanging(
    sides: impl Iterator<Item = (Length, Length)>,
    least: &[Length],
    steps: usize,
) -> Vec<Length> {
    let mut all: Vec<Length> = sides.flat_map(|(from, to)| [from, to]).collect();
    all.sort_unstable();
    all.dedup();
    let (Some(first), Some(last)) = (all.first().copied(), all.last().copied()) else {
        return all;
    };
    let mut newest = all.clone();
    for _ in 0..steps {
        let next = newest.iter().flat_map(|at| least.iter().flat_map(|by| [*at + *by, *at - *by]));
        let mut next: Vec<Length> = next.filter(|at| first < *at && *at < last).collect();
        next.sort_unstable();
        next.dedup();
        next.retain(|at| all.binary_search(at).is_err());
        if next.is_empty() {
            break;
        }
        all.extend(&next);
        all.sort_unstable();
        newest = next;
    }
    all
}
