//! The two questions in a log whose sections are polygons.

use super::{Body, Covering, ON, golden};

/// The outline at a station: of a section, or mixed of two.
#[derive(Clone, Copy)]
struct Outline<'s> {
    before: &'s [[f64; 2]],
    /// The next section's, and how far the station is on the way to it.
    next: Option<(&'s [[f64; 2]], f64)>,
}

impl<'s> Outline<'s> {
    fn points(self) -> impl Iterator<Item = [f64; 2]> + 's {
        let (next, share) = self.next.unwrap_or((self.before, 0.0));
        self.before.iter().zip(next).map(move |(a, b)| {
            if share == 0.0 {
                *a
            } else {
                [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]
            }
        })
    }
}

impl Outline<'_> {
    /// How far it reaches in a direction, and the first of its points that does.
    fn furthest(self, direction: [f64; 2]) -> Option<(f64, [f64; 2])> {
        if self.next.is_some() {
            let tops = self.points().map(|p| (along(direction, p), p));
            return tops.reduce(|best, next| if next.0 > best.0 { next } else { best });
        }
        let reach = reach_of(self.before, direction)?;
        let at = self.before.iter().find(|p| along(direction, **p) >= reach)?;
        Some((reach, *at))
    }
}

/// How far a point lies in a direction.
fn along(direction: [f64; 2], p: [f64; 2]) -> f64 {
    direction[0] * p[0] + direction[1] * p[1]
}

/// How far points reach in a direction; four of them side by side, so that none waits for the one before it.
fn reach_of(points: &[[f64; 2]], direction: [f64; 2]) -> Option<f64> {
    let mut most = [f64::NEG_INFINITY; 4];
    let mut see = |n: usize, p: [f64; 2]| {
        let reach = along(direction, p);
        most[n] = if reach > most[n] { reach } else { most[n] };
    };
    let fours = points.chunks_exact(4);
    fours.remainder().iter().for_each(|p| see(0, *p));
    for four in fours {
        four.iter().enumerate().for_each(|(n, p)| see(n, *p));
    }
    let reach = most.into_iter().fold(f64::NEG_INFINITY, f64::max);
    (!points.is_empty()).then_some(reach)
}

/// A plane in the section at one station: `normal . p <= offset`.
pub(crate) type Side = ([f64; 2], f64);

/// The outermost reach of a section.
#[derive(Clone, Copy)]
struct Top {
    reach: f64,
    /// It is known that no plane cuts the outline off there.
    free: bool,
}

impl Body<'_> {
    /// The outline at a station, clamped to the log's ends.
    fn outline(&self, covering: Covering, z: f64) -> Outline<'_> {
        let sections = self.log.sections().unwrap_or_default();
        let after = sections.partition_point(|section| section.z < z);
        let Some(next) = sections.get(after) else {
            return Outline {
                before: sections.last().map_or(&[], |last| covering.of(last)),
                next: None,
            };
        };
        let before = after.checked_sub(1).map(|before| &sections[before]);
        let Some(before) = before.filter(|_| next.z > z) else {
            return Outline { before: covering.of(next), next: None };
        };
        let share = (z - before.z) / (next.z - before.z);
        Outline { before: covering.of(before), next: Some((covering.of(next), share)) }
    }

    /// The log's own wood at a station, as an outline.
    pub(crate) fn wood_at(&self, z: f64) -> impl Iterator<Item = [f64; 2]> {
        self.outline(Covering::Wood, z).points()
    }

    /// The planes in the section at a station.
    fn sides(&self, z: f64) -> impl Iterator<Item = Side> + '_ {
        self.cuts
            .iter()
            .map(move |cut| ([cut.normal[0], cut.normal[1]], cut.offset - cut.normal[2] * z))
    }

    pub(super) fn interval_of_outline(
        &self,
        covering: Covering,
        z: f64,
        origin: [f64; 2],
        direction: [f64; 2],
    ) -> Option<(f64, f64)> {
        let outline: Vec<[f64; 2]> = self.outline(covering, z).points().collect();
        let seen = |p: &[f64; 2]| {
            let (x, y) = (p[0] - origin[0], p[1] - origin[1]);
            (x * direction[0] + y * direction[1], x * direction[1] - y * direction[0])
        };
        let mut met: Vec<f64> = Vec::with_capacity(4);
        let mut before = seen(outline.last()?);
        for point in &outline {
            let at = seen(point);
            if (before.1 < 0.0) != (at.1 < 0.0) {
                met.push(before.0 - before.1 / (at.1 - before.1) * (at.0 - before.0));
            }
            before = at;
        }
        met.sort_by(f64::total_cmp);
        let all = (f64::NEG_INFINITY, f64::INFINITY);
        let (low, high) = self.between_cuts(z, origin, direction, all)?;
        let pairs = met.chunks_exact(2).map(|pair| (pair[0].max(low), pair[1].min(high)));
        pairs
            .filter(|(from, to)| *from <= *to + ON)
            .max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))
    }

    pub(super) fn reach_of_outline(
        &self,
        covering: Covering,
        z: f64,
        direction: [f64; 2],
    ) -> Option<f64> {
        self.top(covering, z, direction).map(|top| top.reach)
    }

    fn top(&self, covering: Covering, z: f64, direction: [f64; 2]) -> Option<Top> {
        if let Some(left) = self.at_section(covering, z) {
            let reach = reach_of(left, direction)?;
            return Some(Top { reach, free: false });
        }
        let outline = self.outline(covering, z);
        let (reach, at) = outline.furthest(direction)?;
        if self.sides(z).all(|side| over(side, at) <= 0.0) {
            return Some(Top { reach, free: true });
        }
        let reach = reach_of(&self.clipped(outline, z), direction)?;
        Some(Top { reach, free: false })
    }

    /// Whether no plane cuts the outline at a station off where it reaches furthest.
    fn is_free(&self, covering: Covering, z: f64, direction: [f64; 2]) -> bool {
        let furthest = self.outline(covering, z).furthest(direction);
        furthest.is_some_and(|(_, at)| self.sides(z).all(|side| over(side, at) <= 0.0))
    }

    /// What the planes leave of the section at a station, where the log has one there that they cut.
    fn at_section(&self, covering: Covering, z: f64) -> Option<&[[f64; 2]]> {
        let sections = self.log.sections().unwrap_or_default();
        let place = sections.partition_point(|section| section.z < z);
        sections.get(place).filter(|section| section.z <= z)?;
        self.left(covering)[place].as_deref().map(Vec::as_slice)
    }

    /// What the planes leave of the outline at a station.
    pub(super) fn left_at(&self, covering: Covering, z: f64) -> Vec<[f64; 2]> {
        self.clipped(self.outline(covering, z), z)
    }

    /// What the planes leave of an outline.
    fn clipped(&self, outline: Outline<'_>, z: f64) -> Vec<[f64; 2]> {
        let mut left: Vec<[f64; 2]> = outline.points().collect();
        for side in self.sides(z) {
            // Most planes are far from most sections.
            if left.iter().any(|p| over(side, *p) > 0.0) {
                left = clip(&left, side);
            }
        }
        left
    }

    /// Whether there is anything of the body in the section at a station.
    fn exists_at(&self, covering: Covering, z: f64) -> bool {
        if let Some(left) = self.at_section(covering, z) {
            return !left.is_empty();
        }
        let outline = self.outline(covering, z);
        outline.points().any(|p| self.sides(z).all(|side| over(side, p) <= 0.0))
            || !self.clipped(outline, z).is_empty()
    }

    /// The outermost reach over the stations at which the log has a section, over the ends of the body, and next to the
    /// best of these.
    ///
    /// Between two sections all points move straight, so an uncut outline reaches no further there than at one of them.
    /// Where a plane cuts it off it may, by a little, though not past a plane that faces this way: the golden section
    /// finds how far.
    pub(super) fn reach_of_outlines(
        &self,
        covering: Covering,
        direction: [f64; 2],
        slope: f64,
    ) -> Option<f64> {
        let top = |z: f64| {
            let top = self.top(covering, z, direction)?;
            Some(Top { reach: top.reach + slope * z, ..top })
        };
        let sections = self.log.sections().unwrap_or_default().iter().map(|section| section.z);
        if self.cuts.is_empty() {
            return sections.filter_map(top).map(|top| top.reach).reduce(f64::max);
        }
        let (from, to) = self.stations(covering)?;
        let inner = sections.filter(|z| *z > from && *z < to);
        let looked: Vec<(f64, Top)> = std::iter::once(from)
            .chain(inner)
            .chain([to])
            .filter_map(|z| top(z).map(|top| (z, top)))
            .collect();
        let best =
            (0..looked.len()).max_by(|a, b| looked[*a].1.reach.total_cmp(&looked[*b].1.reach))?;
        let beside = &looked[best.saturating_sub(1)..(best + 2).min(looked.len())];
        let mut most = looked[best].1.reach;
        let long = (1.0 + slope * slope).sqrt();
        let facing = [direction[0] / long, direction[1] / long, slope / long];
        let faced = self.plane_facing(facing).is_some_and(|plane| most >= plane.offset * long - ON);
        let free = |(z, top): &(f64, Top)| top.free || self.is_free(covering, *z, direction);
        if faced || beside.iter().all(free) {
            return Some(most);
        }
        let at = |z: f64| top(z).map(|top| top.reach);
        let (low, high) =
            (looked[best.saturating_sub(1)].0, looked[(best + 1).min(looked.len() - 1)].0);
        // Where it falls off to both sides at once there is nothing to look for.
        let at_best = looked[best].0;
        let falls = |z: f64| !(low..=high).contains(&z) || at(z).is_none_or(|reach| reach <= most);
        if falls(at_best - BESIDE) && falls(at_best + BESIDE) {
            return Some(most);
        }
        golden((low, high), REFINED, |z| {
            let reach = at(z).unwrap_or(f64::NEG_INFINITY);
            most = most.max(reach);
            reach
        });
        Some(most)
    }

    /// The outermost stations at which there is anything of the body, found among the log's sections and midway between
    /// them, then by halving. A bowed log may have left a part at either end and nothing between.
    pub(super) fn stations_of_outlines(&self, covering: Covering) -> Option<(f64, f64)> {
        let exists = |z: f64| self.exists_at(covering, z);
        let sections = self.log.sections().unwrap_or_default();
        let middle = |n: usize| f64::midpoint(sections[n].z, sections[n + 1].z);
        // Twice as many places: sections and the middles after them.
        let place = |n: usize| if n.is_multiple_of(2) { sections[n / 2].z } else { middle(n / 2) };
        let places = (2 * sections.len()).checked_sub(1)?;
        let first = (0..places).find(|n| exists(place(*n)))?;
        let last = (first..places).rfind(|n| exists(place(*n)))?;
        let end = |mut with: f64, mut without: f64| {
            for _ in 0..HALVED {
                let middle = f64::midpoint(with, without);
                if exists(middle) { with = middle } else { without = middle }
            }
            with
        };
        let from = if first == 0 { place(0) } else { end(place(first), place(first - 1)) };
        let to = if last + 1 == places { place(last) } else { end(place(last), place(last + 1)) };
        Some((from, to))
    }
}

/// Steps of the golden section: of two stretches between sections a millionth is left.
const REFINED: u32 = 28;

/// So near beside the best station of those looked at it is looked whether the reach falls off, inches: it changes by less
/// than a fortieth of that.
const BESIDE: f64 = 1e-5;

/// Halvings: of a stretch between two sections less than rounding is left.
const HALVED: u32 = 50;

/// How far a point is beyond a plane.
pub(super) fn over((normal, offset): Side, p: [f64; 2]) -> f64 {
    normal[0] * p[0] + normal[1] * p[1] - offset
}

/// What of an outline lies on the inner side of a plane.
///
/// # Source
/// Sutherland and Hodgman, "Reentrant polygon clipping", Communications of the ACM 17(1), 1974.
pub(crate) fn clip(outline: &[[f64; 2]], side: Side) -> Vec<[f64; 2]> {
    let mut left = Vec::with_capacity(outline.len() + 4);
    let Some(mut before) = outline.last().map(|p| (*p, over(side, *p))) else { return left };
    for point in outline {
        let at = (*point, over(side, *point));
        if (before.1 <= 0.0) != (at.1 <= 0.0) {
            let share = before.1 / (before.1 - at.1);
            left.push([0, 1].map(|n| before.0[n] + share * (at.0[n] - before.0[n])));
        }
        if at.1 <= 0.0 {
            left.push(at.0);
        }
        before = at;
    }
    left
}
