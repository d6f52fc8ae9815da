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

/// How two areas lie to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Overlap {
    /// Apart already.
    No,
    /// Parted, they lose this much at least.
    Loses(Units),
    /// They overlap and cannot be parted.
    Never,
}

/// Two of some areas, the one with the lower number first.
#[derive(Clone, Copy, Debug)]
struct Pair {
    numbers: (usize, usize),
    /// In which way they are apart, if that is said: the first before the other, or the other before it.
    way: Option<(bool, Apart)>,
    overlap: Overlap,
}

impl Pair {
    /// Which is before which, and in which direction, in every way that is open.
    fn open(&self) -> impl Iterator<Item = (usize, usize, Apart)> + use<> {
        let (a, b) = self.numbers;
        let said = self.way;
        let all = Apart::BOTH.into_iter().flat_map(|apart| [(true, apart), (false, apart)]);
        let open = all.filter(move |way| said.is_none_or(|said| said == *way));
        open.map(move |(in_order, apart)| if in_order { (a, b, apart) } else { (b, a, apart) })
    }

    /// How they lie to each other now.
    ///
    /// The loss is linear in the line, so it is least at an end.
    fn lies(&self, least: &Least, areas: &[Area]) -> Overlap {
        let (a, b) = (&areas[self.numbers.0], &areas[self.numbers.1]);
        if !a.meets(b) {
            return Overlap::No;
        }
        let both = a.units() + b.units();
        let at_ends = |(before, after, apart): (usize, usize, Apart)| {
            let (before, after) = (&areas[before], &areas[after]);
            let ends = apart.lines(least, before, after).map(|(from, to)| [from, to]);
            ends.into_iter().flatten().map(move |line| {
                both - apart.until(before, line).units() - apart.since(after, line).units()
            })
        };
        self.open().flat_map(at_ends).min().map_or(Overlap::Never, Overlap::Loses)
    }
}

/// Areas, one cutting in each.
#[derive(Clone, Debug)]
pub(super) struct Parts {
    areas: Vec<Area>,
    /// Every two of them.
    pairs: Vec<Pair>,
    /// What they hold, each for itself.
    most: Units,
}

impl Parts {
    /// Nothing said yet.
    pub(super) fn whole(least: &Least, areas: Vec<Area>) -> Self {
        let pair = |numbers| {
            let pair = Pair { numbers, way: None, overlap: Overlap::No };
            Pair { overlap: pair.lies(least, &areas), ..pair }
        };
        let numbers = (0..areas.len()).flat_map(|b| (0..b).map(move |a| (a, b)));
        let most = areas.iter().map(Area::units).sum();
        Self { pairs: numbers.map(pair).collect(), most, areas }
    }

    /// The same, one step further; and what it holds at most, see [`Parts::bound`]. `None` where that is below `need`. Only
    /// what the two that are parted have to do with others is looked at again.
    pub(super) fn parted(&self, least: &Least, step: Step, need: Units) -> Option<(Units, Self)> {
        let Step { way: (before, after, apart), end, begin } = step;
        let one = apart.until(&self.areas[before], end);
        let other = apart.since(&self.areas[after], begin);
        let less = self.areas[before].units() + self.areas[after].units();
        let most = self.most + one.units() + other.units() - less;
        if most < need || !least.takes(&one) || !least.takes(&other) {
            return None;
        }
        let mut parts = Self { most, ..self.clone() };
        (parts.areas[before], parts.areas[after]) = (one, other);
        let both = [before, after];
        for pair in &mut parts.pairs {
            let (a, b) = pair.numbers;
            if both.contains(&a) && both.contains(&b) {
                pair.way = Some((a == before, apart));
            } else if !both.contains(&a) && !both.contains(&b) {
                continue;
            }
            pair.overlap = pair.lies(least, &parts.areas);
            if pair.overlap == Overlap::Never {
                return None;
            }
        }
        let bound = parts.bound(need);
        (bound >= need).then_some((bound, parts))
    }

    /// The areas: cuttings, once none overlap.
    pub(super) fn areas(&self) -> &[Area] {
        &self.areas
    }

    /// No cuttings in these areas, one in each, hold more: not more than the areas cover together, nor than
    /// their sum less what pairs of them lose, each area in one pair at most. Below `need` any bound will do.
    pub(super) fn bound(&self, need: Units) -> Units {
        let loses = |pair: &Pair| match pair.overlap {
            Overlap::No => None,
            Overlap::Loses(loss) => Some((Reverse(loss), pair.numbers)),
            // No cuttings lie in these.
            Overlap::Never => Some((Reverse(self.most), pair.numbers)),
        };
        let mut losses: Vec<_> = self.pairs.iter().filter_map(loses).collect();
        losses.sort_unstable();
        let mut bound = self.most;
        let mut is_paired = vec![false; self.areas.len()];
        for (Reverse(loss), (a, b)) in losses {
            if !is_paired[a] && !is_paired[b] {
                (is_paired[a], is_paired[b]) = (true, true);
                bound = bound - loss;
            }
        }
        if bound < need { bound } else { bound.min(together(&self.areas)) }
    }

    /// One step further, every one that there is; `None` when no two overlap.
    pub(super) fn steps(&self, least: &Least, places: &Places) -> Option<Vec<Step>> {
        // Those that lose most, of those of which nothing is said yet if there are any.
        let order = |pair: &Pair| {
            let loss = match pair.overlap {
                Overlap::No => return None,
                Overlap::Loses(loss) => (false, loss),
                Overlap::Never => (true, Units::ZERO),
            };
            Some((pair.way.is_none(), loss, Reverse(pair.numbers)))
        };
        let overlapping = self.pairs.iter().filter_map(|pair| Some((order(pair)?, pair)));
        let (_, pair) = overlapping.max_by_key(|(order, _)| *order)?;
        let mut steps = Vec::new();
        for way in pair.open() {
            let (before, after, apart) = way;
            let (one, other) = (&self.areas[before], &self.areas[after]);
            let Some((from, to)) = apart.lines(least, one, other) else { continue };
            let mut add = |end: Length, begin: Length| steps.push(Step { way, end, begin });
            if pair.way.is_none() {
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
        Some(steps)
    }
}

/// Two areas parted in one way: the one ends at the first line or before it, the other begins at the second or after it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Step {
    way: (usize, usize, Apart),
    end: Length,
    begin: Length,
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
