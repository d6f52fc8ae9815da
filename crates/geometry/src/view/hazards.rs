//! What a piece must keep clear of, or hold, and how its rings must lie.

use super::rings::{RingSpan, Standing};
use super::{MARGIN, Quarter, View, seen, whole};
use crate::log::{Flaw, FlawKinds, Section};
use crate::order::Heart;
use pithward_measure::Length;
use std::sync::{Mutex, PoisonError};

/// What a piece must keep clear of, or hold.
#[derive(Clone, Debug, Default)]
pub struct Hazards {
    pub(super) cells: Vec<Cell>,
    pub(super) boxed: Option<Boxed>,
    pub(super) rings: Option<Standing>,
    /// What is blocked between the planes that were asked for last: strips of many widths are asked for at the same planes.
    pub(super) last: Last,
}

/// What all cells block between two planes, from the lowest up, the edges of strips themselves.
#[derive(Debug, Default)]
pub(super) struct Last(Mutex<Option<(Asked, Blocked)>>);

/// The planes that were asked for.
type Asked = (Quarter, (i64, i64));

/// What is blocked there.
type Blocked = Vec<(i64, i64)>;

impl Clone for Last {
    fn clone(&self) -> Self {
        Self::default()
    }
}

/// A convex region that no piece may meet, nanometres `[u, h]`.
#[derive(Clone, Debug)]
pub(super) struct Cell {
    corners: Vec<[f64; 2]>,
    /// Least and greatest `u`, then `h`.
    spans: [(f64, f64); 2],
}

impl Cell {
    pub(super) fn new(points: Vec<[f64; 2]>) -> Self {
        let corners = hull(points);
        let spans = [0, 1].map(|n| {
            let all = corners.iter().map(|p| p[n]);
            all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
                (low.min(at), high.max(at))
            })
        });
        Self { corners, spans }
    }

    /// Least and greatest `u`, then `h`.
    pub(super) fn spans(&self) -> [(f64, f64); 2] {
        self.spans
    }

    /// How far it reaches along the edges between two planes.
    fn between(&self, quarter: Quarter, bottom: f64, top: f64) -> Option<(f64, f64)> {
        let [u, h] = self.spans;
        let (along, across) = match quarter {
            Quarter::First => (u, h),
            Quarter::Second => ((-h.1, -h.0), u),
        };
        if across.1 <= bottom || across.0 >= top {
            return None;
        }
        if across.0 >= bottom && across.1 <= top {
            return Some(along);
        }
        cut(&self.corners, quarter, bottom, top)
    }
}

/// Where the pith goes, and how far from it the middle of a piece may be.
#[derive(Clone, Copy, Debug)]
pub(super) struct Boxed {
    pub(super) u: (f64, f64),
    pub(super) h: (f64, f64),
    pub(super) within: f64,
}

impl View<'_> {
    /// What a piece over a stretch must keep clear of, or hold: flaws that are not tolerated, and the pith; and
    /// at which angles its rings may stand about that, where not at any.
    pub fn hazards(
        &self,
        (from, to): (Length, Length),
        kinds: FlawKinds,
        heart: Heart,
        rings: Option<&[RingSpan]>,
    ) -> Hazards {
        if self.swing.is_some() {
            return Hazards::default();
        }
        let near = |flaw: &&Flaw| !kinds.holds(flaw.kind) && flaw.from < to && flaw.to > from;
        let flaws: Vec<&Flaw> = self.log.flaws().iter().filter(near).collect();
        let mut hazards = Hazards::default();
        let turned = |section: &Section, points: &[[f64; 2]]| -> Vec<[f64; 2]> {
            let [u, h] = self.origin.map(|nm| nm as f64);
            let at = |p: &[f64; 2]| {
                let at = seen(*p, section.z, &self.basis);
                [at[0] - u, at[1] - h]
            };
            points.iter().map(at).collect()
        };
        for flaw in flaws {
            let (from, to) = (flaw.from.max(from), flaw.to.min(to));
            let (low, high) = (from.inches_f64(), to.inches_f64());
            let mut stations = vec![low, high];
            stations.extend(self.log.sections().into_iter().flatten().map(|s| s.z));
            stations.retain(|z| (low..=high).contains(z));
            // The n-th regions of all stations belong together: what lies between them is within their hull.
            let mut cells: Vec<Vec<[f64; 2]>> = Vec::new();
            for z in stations {
                let section = self.log.section_at(z);
                for (n, region) in flaw.regions(&section).iter().enumerate() {
                    let points = turned(&section, region);
                    match cells.get_mut(n) {
                        Some(cell) => cell.extend(points),
                        None => cells.push(points),
                    }
                }
            }
            let cells = cells.into_iter().map(Cell::new);
            // What lies beyond the planes that were sawn is in nobody's way.
            let left = |cell: &Cell| self.left.as_ref().is_none_or(|left| left.meets(cell.spans()));
            hazards.cells.extend(cells.filter(left));
        }
        let pith = || {
            if self.round {
                return vec![self.origin.map(|nm| -nm as f64)];
            }
            self.pith_within(from, to)
        };
        hazards.rings = rings.map(|spans| Standing::new(spans, pith()));
        match heart {
            Heart::Any => {}
            Heart::Free { clear } => {
                let by = clear.as_nm() as f64 + MARGIN;
                let square = |[u, h]: [f64; 2]| {
                    [[u - by, h - by], [u + by, h - by], [u + by, h + by], [u - by, h + by]]
                };
                hazards.cells.push(Cell::new(pith().into_iter().flat_map(square).collect()));
            }
            Heart::Boxed { within } => {
                let points = pith();
                let span = |n: usize| {
                    let all = || points.iter().map(|p| p[n]);
                    (all().fold(f64::INFINITY, f64::min), all().fold(f64::NEG_INFINITY, f64::max))
                };
                let within = within.as_nm() as f64 - MARGIN;
                hazards.boxed = Some(Boxed { u: span(0), h: span(1), within });
            }
        }
        hazards
    }
}

impl Hazards {
    /// Whether there is nothing to heed.
    pub fn is_none(&self) -> bool {
        self.cells.is_empty() && self.boxed.is_none() && self.rings.is_none()
    }

    /// Where the `-u` edge of a strip of this width may lie between two planes, from the lowest up, if it may lie
    /// anywhere from `from` to `to` but for the hazards.
    ///
    /// # Units
    /// Nanometres.
    pub fn places(
        &self,
        quarter: Quarter,
        planes: (i64, i64),
        width: i64,
        (from, to): (i64, i64),
    ) -> Vec<(i64, i64)> {
        let (mut from, mut to) = (from, to);
        let (bottom, top) = (planes.0 as f64, planes.1 as f64);
        if let Some(Boxed { u, h, within }) = self.boxed {
            let (along, across) = match quarter {
                Quarter::First => (u, h),
                Quarter::Second => ((-h.1, -h.0), u),
            };
            let middle = f64::midpoint(bottom, top);
            let holds = bottom <= across.0
                && across.1 <= top
                && middle >= across.1 - within
                && middle <= across.0 + within;
            if !holds {
                return Vec::new();
            }
            let half = width as f64 / 2.0;
            let least = (along.1 - width as f64).max(along.1 - within - half);
            let most = along.0.min(along.0 + within - half);
            from = from.max(whole(least.ceil()));
            to = to.min(whole(most.floor()));
        }
        let mut places = Vec::new();
        let mut last = self.last.0.lock().unwrap_or_else(PoisonError::into_inner);
        let asked = (quarter, planes);
        if last.as_ref().is_none_or(|(known, _)| *known != asked) {
            let mut blocked = last.take().map(|(_, blocked)| blocked).unwrap_or_default();
            blocked.clear();
            let between = self.cells.iter().filter_map(|cell| cell.between(quarter, bottom, top));
            blocked.extend(
                between.map(|(low, high)| {
                    (whole((low - MARGIN).floor()), whole((high + MARGIN).ceil()))
                }),
            );
            blocked.sort_unstable();
            *last = Some((asked, blocked));
        }
        for (low, high) in last.iter().flat_map(|(_, blocked)| blocked) {
            let low = low - width;
            if low >= from {
                places.push((from, low.min(to)));
            }
            from = from.max(*high);
        }
        drop(last);
        places.push((from, to));
        places.retain(|(from, to)| from <= to);
        let Some(rings) = &self.rings else { return places };
        let standing = rings.places(quarter, planes, width);
        let mut both = Vec::with_capacity(standing.len());
        for (from, to) in places {
            let common = standing.iter().map(|(low, high)| (from.max(*low), to.min(*high)));
            both.extend(common.filter(|(from, to)| from <= to));
        }
        both
    }
}

/// How far a convex region reaches along the edges between two planes that cut it.
fn cut(cell: &[[f64; 2]], quarter: Quarter, bottom: f64, top: f64) -> Option<(f64, f64)> {
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    let mut see = |u: f64| {
        low = low.min(u);
        high = high.max(u);
    };
    let next = cell.iter().cycle().skip(1);
    for (a, b) in cell.iter().zip(next) {
        let (a, b) = (quarter.of(*a), quarter.of(*b));
        if a[1] > bottom && a[1] < top {
            see(a[0]);
        }
        for plane in [bottom, top] {
            if (a[1] < plane) != (b[1] < plane) {
                see(a[0] + (plane - a[1]) / (b[1] - a[1]) * (b[0] - a[0]));
            }
        }
    }
    (low <= high).then_some((low, high))
}

/// The convex hull, counterclockwise.
///
/// # Source
/// Andrew, "Another efficient algorithm for convex hulls in two dimensions", Information Processing Letters 9(5), 1979.
pub(super) fn hull(mut points: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    points.dedup();
    let half = |points: &mut dyn Iterator<Item = [f64; 2]>| {
        let mut chain: Vec<[f64; 2]> = Vec::new();
        for p in points {
            while let [.., a, b] = chain[..] {
                let turn = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
                if turn > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut hull = half(&mut points.iter().copied());
    hull.extend(half(&mut points.iter().rev().copied()));
    hull
}
