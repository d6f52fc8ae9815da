//! Areas that overlap, parted step by step into cuttings.
//!
//! A cutting lies in each of a few areas. Of every two it may be said in which way they are apart, and how far
//! each may reach so far; the line between them is still open within the strip that both reach into.

use super::area::together;
use super::{Area, Least, Units};
use pithward_measure::Length;
use std::cmp::Reverse;

/// In which direction two cuttings are apart, the first before the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Apart {
    Along,
    Across,
}

impl Apart {
    const BOTH: [Self; 2] = [Self::Along, Self::Across];

    /// How far an area reaches in this direction.
    fn side(self, area: &Area) -> (Length, Length) {
        match self {
            Self::Along => area.along,
            Self::Across => area.across,
        }
    }

    /// The smallest that a cutting as large in the other direction may be in this one.
    fn least(self, least: &Least, area: &Area) -> Option<Length> {
        match self {
            Self::Along => least.shortest(area.width()),
            Self::Across => least.narrowest(area.length()),
        }
    }

    /// An area that reaches no further than this.
    fn until(self, area: &Area, line: Length) -> Area {
        let mut area = *area;
        let side = if self == Self::Along { &mut area.along } else { &mut area.across };
        side.1 = side.1.min(line);
        area
    }

    /// An area that begins no earlier than this.
    fn since(self, area: &Area, line: Length) -> Area {
        let mut area = *area;
        let side = if self == Self::Along { &mut area.along } else { &mut area.across };
        side.0 = side.0.max(line);
        area
    }

    /// Between which lines two areas may be parted so that both stay large enough; `None` where there are none.
    fn lines(self, least: &Least, before: &Area, after: &Area) -> Option<(Length, Length)> {
        let (one, other) = (self.side(before), self.side(after));
        let from = (one.0 + self.least(least, before)?).max(other.0);
        let to = (other.1 - self.least(least, after)?).min(one.1);
        (from <= to).then_some((from, to))
    }
}

/// Areas, one cutting in each.
#[derive(Clone, Debug)]
pub(super) struct Parts {
    areas: Vec<Area>,
    /// Which is before which, and in which direction.
    ways: Vec<(usize, usize, Apart)>,
}

impl Parts {
    /// Nothing said yet.
    pub(super) fn whole(areas: Vec<Area>) -> Self {
        Self { areas, ways: Vec::new() }
    }

    /// The areas: cuttings, once none overlap.
    pub(super) fn areas(&self) -> &[Area] {
        &self.areas
    }

    /// In which way two are apart, if that is said.
    fn way(&self, a: usize, b: usize) -> Option<(usize, usize, Apart)> {
        self.ways.iter().copied().find(|way| (way.0, way.1) == (a, b) || (way.0, way.1) == (b, a))
    }

    /// The ways in which two may yet be apart.
    fn open(&self, a: usize, b: usize) -> Vec<(usize, usize, Apart)> {
        let all = Apart::BOTH.into_iter().flat_map(|apart| [(a, b, apart), (b, a, apart)]);
        self.way(a, b).map_or_else(|| all.collect(), |way| vec![way])
    }

    /// What two that overlap lose at least when they are parted; `None` where they cannot be.
    ///
    /// The loss is linear in the line, so it is least at an end.
    fn loss(&self, least: &Least, a: usize, b: usize) -> Option<Units> {
        let both = self.areas[a].units() + self.areas[b].units();
        let at_ends = |(before, after, apart): (usize, usize, Apart)| {
            let (before, after) = (&self.areas[before], &self.areas[after]);
            let ends = apart.lines(least, before, after).map(|(from, to)| [from, to]);
            ends.into_iter().flatten().map(move |line| {
                both - apart.until(before, line).units() - apart.since(after, line).units()
            })
        };
        let ways = self.open(a, b);
        ways.into_iter().flat_map(at_ends).min()
    }

    /// What every two that overlap lose, most first; those that cannot be parted before all.
    fn losses(&self, least: &Least) -> Vec<(Option<Units>, (usize, usize))> {
        let pairs = (0..self.areas.len()).flat_map(|b| (0..b).map(move |a| (a, b)));
        let meeting = pairs.filter(|(a, b)| self.areas[*a].meets(&self.areas[*b]));
        let mut losses: Vec<_> = meeting.map(|(a, b)| (self.loss(least, a, b), (a, b))).collect();
        losses.sort_unstable_by_key(|(loss, pair)| (loss.is_some(), Reverse(*loss), *pair));
        losses
    }

    /// No cuttings in these areas, one in each, hold more: not more than the areas cover together, nor than
    /// their sum less what pairs of them lose, each area in one pair at most. Below `need` any bound will do.
    pub(super) fn bound(&self, least: &Least, need: Units) -> Units {
        if self.areas.iter().any(|area| !least.takes(area)) {
            return Units::ZERO;
        }
        let mut bound: Units = self.areas.iter().map(Area::units).sum();
        let mut is_paired = vec![false; self.areas.len()];
        for (loss, (a, b)) in self.losses(least) {
            let Some(loss) = loss else { return Units::ZERO };
            if !is_paired[a] && !is_paired[b] {
                (is_paired[a], is_paired[b]) = (true, true);
                bound = bound - loss;
            }
        }
        if bound < need { bound } else { bound.min(together(&self.areas)) }
    }

    /// One step further, in every way that there is; `None` when no two overlap.
    pub(super) fn next(&self, least: &Least, places: &Places) -> Option<Vec<Self>> {
        let losses = self.losses(least);
        let unsaid = losses.iter().find(|(_, (a, b))| self.way(*a, *b).is_none());
        let (_, (a, b)) = *unsaid.or(losses.first())?;
        let mut next = Vec::new();
        for (before, after, apart) in self.open(a, b) {
            let areas = (&self.areas[before], &self.areas[after]);
            let Some((from, to)) = apart.lines(least, areas.0, areas.1) else { continue };
            // The one ends at the first line or before it, the other begins at the second or after it.
            let mut add = |end: Length, begin: Length| {
                let mut parts = self.clone();
                parts.areas[before] = apart.until(areas.0, end);
                parts.areas[after] = apart.since(areas.1, begin);
                if unsaid.is_some() {
                    parts.ways.push((before, after, apart));
                }
                next.push(parts);
            };
            if unsaid.is_some() {
                add(to, from);
                continue;
            }
            let lines = places.between(apart, from, to);
            match lines.len() {
                0 => {}
                1 => add(lines[0], lines[0]),
                count => {
                    add(lines[count / 2 - 1], lines[0]);
                    add(lines[count - 1], lines[count / 2]);
                }
            }
        }
        Some(next)
    }
}

/// The places on which some best set has its lines.
pub(super) struct Places {
    along: Vec<Length>,
    across: Vec<Length>,
}

impl Places {
    /// Those between two lines, both included: they part two areas whatever becomes of the others.
    fn between(&self, apart: Apart, from: Length, to: Length) -> Vec<Length> {
        let all = match apart {
            Apart::Along => &self.along,
            Apart::Across => &self.across,
        };
        let (begin, end) =
            (all.partition_point(|at| *at <= from), all.partition_point(|at| *at < to));
        let inner = all.get(begin..end).unwrap_or_default();
        let mut lines = vec![from];
        lines.extend(inner);
        if to > from {
            lines.push(to);
        }
        lines
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
