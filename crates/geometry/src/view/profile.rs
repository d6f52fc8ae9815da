//! How far the wood of a stretch reaches to either side, height by height.

use super::{Extent, MARGIN, NM, PITCH, Quarter, whole};

/// How far wood reaches to either side at heights a [`PITCH`] apart.
#[derive(Clone, Debug)]
pub(super) struct Profile {
    /// Height of the first, in pitches.
    from: i64,
    low: Vec<f64>,
    high: Vec<f64>,
    /// Convex: what lies between two heights reaches no less far than both.
    convex: bool,
    /// From here outward, above and below, it only narrows.
    pub(super) narrows: [i64; 2],
}

impl Profile {
    /// What all outlines have in common.
    pub(super) fn new<'s>(
        quarter: Quarter,
        outlines: impl Iterator<Item = &'s [[f64; 2]]>,
    ) -> Self {
        let turned: Vec<Vec<[f64; 2]>> =
            outlines.map(|outline| outline.iter().map(|p| quarter.of(*p)).collect()).collect();
        // The heights that all of them have.
        let ends = |outline: &Vec<[f64; 2]>| {
            let fold = |a: (f64, f64), p: &[f64; 2]| (a.0.min(p[1]), a.1.max(p[1]));
            outline.iter().fold((f64::INFINITY, f64::NEG_INFINITY), fold)
        };
        let least = |a: (f64, f64), b: (f64, f64)| (a.0.max(b.0), a.1.min(b.1));
        let (bottom, top) = turned.iter().map(ends).fold((f64::NEG_INFINITY, f64::INFINITY), least);
        let from = whole((bottom / PITCH as f64).ceil());
        let to = whole((top / PITCH as f64).floor());
        let count = usize::try_from(to - from + 1).unwrap_or(0);
        let (mut low, mut high) = (vec![f64::NEG_INFINITY; count], vec![f64::INFINITY; count]);
        let mut convex = true;
        let (mut left, mut right) = (Vec::new(), Vec::new());
        for outline in &turned {
            convex &= extents(outline, from, count, &mut left, &mut right);
            for n in 0..count {
                low[n] = low[n].max(left[n] + MARGIN);
                high[n] = high[n].min(right[n] - MARGIN);
            }
        }
        let narrows = [narrows(from, &low, &high, true), narrows(from, &low, &high, false)];
        Self { from, low, high, convex, narrows }
    }

    fn at(&self, height: f64) -> Option<Extent> {
        let place = height * (1.0 / PITCH as f64) - self.from as f64;
        if place < 0.0 {
            return None;
        }
        let n = usize::try_from(whole(place)).ok()?;
        let share = place - n as f64;
        let row = |n: usize| {
            let (low, high) = (*self.low.get(n)?, *self.high.get(n)?);
            (low <= high).then_some((low, high))
        };
        let (low, high) = row(n)?;
        if share <= 0.0 {
            return Some(Extent { low, high });
        }
        let (next_low, next_high) = row(n + 1)?;
        Some(Extent {
            low: low + share * (next_low - low),
            high: high + share * (next_high - high),
        })
    }

    /// The extent that all heights between two have in common.
    pub(super) fn between(&self, from: f64, to: f64) -> Option<Extent> {
        let (a, b) = (self.at(from)?, self.at(to)?);
        let mut common = Extent { low: a.low.max(b.low), high: a.high.min(b.high) };
        if !self.convex {
            let place = |height: f64| height / PITCH as f64 - self.from as f64;
            let first = usize::try_from(whole(place(from).max(0.0).ceil())).unwrap_or(0);
            let last = usize::try_from(whole(place(to).max(0.0).floor())).unwrap_or(0);
            for n in first..=last.min(self.low.len().saturating_sub(1)) {
                common.low = common.low.max(self.low[n]);
                common.high = common.high.min(self.high[n]);
            }
        }
        Some(common)
    }
}

/// The extent of an outline at every height; whether it is convex. Where an outline is met more than twice, the widest
/// stretch of wood counts.
fn extents(
    outline: &[[f64; 2]],
    from: i64,
    count: usize,
    left: &mut Vec<f64>,
    right: &mut Vec<f64>,
) -> bool {
    left.clear();
    left.resize(count, f64::INFINITY);
    right.clear();
    right.resize(count, f64::NEG_INFINITY);
    let mut crossings = vec![0u8; count];
    let next = outline.iter().cycle().skip(1);
    for (a, b) in outline.iter().zip(next) {
        let (low, high) = if a[1] < b[1] { (a, b) } else { (b, a) };
        let first = whole((low[1] / PITCH as f64).ceil()) - from;
        // The upper end belongs to the next edge, so that no height is met twice in one point.
        let last = whole((high[1] / PITCH as f64).ceil()) - from - 1;
        let slope = (high[0] - low[0]) / (high[1] - low[1]);
        for n in first.max(0)..=last.min(i64::try_from(count).unwrap_or(0) - 1) {
            let u = low[0] + slope * ((n + from) as f64 * PITCH as f64 - low[1]);
            let n = usize::try_from(n).unwrap_or(0);
            left[n] = left[n].min(u);
            right[n] = right[n].max(u);
            crossings[n] = crossings[n].saturating_add(1);
        }
    }
    let turns = |n: usize| {
        let m = outline.len();
        let (a, b, c) = (outline[n], outline[(n + 1) % m], outline[(n + 2) % m]);
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
    };
    let twice = |a: f64| a / (NM * NM) >= -1e-7;
    let convex = (0..outline.len()).all(|n| twice(turns(n)));
    if crossings.iter().any(|crossings| *crossings > 2) {
        widest(outline, from, &crossings, left, right);
    }
    convex
}

/// The widest stretch of wood at heights that meet an outline more than twice.
fn widest(outline: &[[f64; 2]], from: i64, crossings: &[u8], left: &mut [f64], right: &mut [f64]) {
    for n in (0..crossings.len()).filter(|n| crossings[*n] > 2) {
        let height = (from + i64::try_from(n).unwrap_or(0)) as f64 * PITCH as f64;
        let next = outline.iter().cycle().skip(1);
        let mut met: Vec<f64> = outline
            .iter()
            .zip(next)
            .filter(|(a, b)| (a[1] < height) != (b[1] < height))
            .map(|(a, b)| a[0] + (height - a[1]) / (b[1] - a[1]) * (b[0] - a[0]))
            .collect();
        met.sort_by(f64::total_cmp);
        let pairs = met.chunks_exact(2).map(|pair| (pair[0], pair[1]));
        if let Some((a, b)) = pairs.max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0))) {
            (left[n], right[n]) = (a, b);
        }
    }
}

/// The plane from which outward, on one side of the axis, wood only narrows.
fn narrows(from: i64, low: &[f64], high: &[f64], up: bool) -> i64 {
    let count = low.len();
    let grows = |n: &usize| high[*n + 1] > high[*n] || low[*n + 1] < low[*n];
    let shrinks = |n: &usize| high[*n] > high[*n + 1] || low[*n] < low[*n + 1];
    let pairs = 0..count.saturating_sub(1);
    let place = if up {
        pairs.rev().find(grows).map(|n| from + i64::try_from(n).unwrap_or(0) + 1)
    } else {
        pairs.into_iter().find(shrinks).map(|n| -(from + i64::try_from(n).unwrap_or(0)))
    };
    place.map_or(0, |place| place.max(0) * PITCH)
}
