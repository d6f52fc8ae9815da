//! Where a strip may lie so that its growth rings stand to its wide face as they must.
//!
//! # Formula
//! With the middle of a strip's section `a` along its wide face and `b` square to it from the pith, the rings stand at
//! `atan2(|a|, |b|)` to the face ([`crate::rings`]). Between two planes `b` is known, so an angle from `t` to `s` is
//! ```text
//! |b| tan t <= |a| <= |b| tan s
//! ```
//! a range of places on either side of the pith. A strip may be cut to length anywhere, so it must keep the angle
//! wherever the pith goes within its stretch. On one side of the pith, and between the same two lines through it, the
//! places from which an angle is kept are convex: it is enough that it is kept at every bend of the pith.
//!
//! Of a square section the lesser of its two angles counts. A strip that holds the pith has no angle that would say
//! anything: it lies nowhere.

use super::{MARGIN, Quarter, whole};
use crate::Angle;
use std::cmp::Ordering;

/// At which angles to the wide face the growth rings of a piece must stand: from the first, below the last, which belongs
/// to it where it is a right angle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RingSpan {
    /// From here on.
    pub from: Angle,
    /// Up to here.
    pub to: Angle,
}

/// Angles are told to a thousandth of a degree: by so much more than half of that a strip keeps clear of where a class
/// ends.
const SPARE: i32 = 2;

/// Ring spans about the pith of a stretch.
#[derive(Clone, Debug)]
pub(super) struct Standing {
    /// The wedges in which the rings of a strip stand as they must: of one that is narrower than it is thick, as wide, or
    /// wider.
    wedges: [Vec<Wedge>; 3],
    /// Where the pith bends, nanometres `[u, h]`.
    pith: Vec<[f64; 2]>,
}

/// How steep the lines through the pith are between which a strip may lie.
#[derive(Clone, Copy, Debug)]
struct Wedge {
    from: f64,
    to: f64,
}

impl Wedge {
    /// `None` where nothing lies between them.
    fn new(from: Angle, to: Angle) -> Option<Self> {
        let (from, to) = (from.as_millidegrees(), to.as_millidegrees());
        let steep = |millidegrees: i32| {
            let (sin, cos) = Angle::millidegrees(millidegrees).sin_cos();
            sin / cos
        };
        let low = if from <= 0 { 0.0 } else { steep((from + SPARE).min(89_999)) };
        let high = if to >= 90_000 { f64::INFINITY } else { steep(to - SPARE) };
        (low < high).then_some(Self { from: low, to: high })
    }
}

/// The wedges in which the rings of a strip stand so: it is wider than it is thick, as wide, or narrower.
fn wedges(RingSpan { from, to }: RingSpan, wider: Ordering) -> Vec<Wedge> {
    let turned = |angle: Angle| Angle::millidegrees(90_000 - angle.as_millidegrees());
    let (flat, upright) = match wider {
        Ordering::Greater => (Wedge::new(from, to), None),
        Ordering::Less => (None, Wedge::new(turned(to), turned(from))),
        // Either side may be the one with the lesser angle, which is at most half a right one.
        Ordering::Equal if to > Angle::degrees(45) => (Wedge::new(from, turned(from)), None),
        Ordering::Equal => (Wedge::new(from, to), Wedge::new(turned(to), turned(from))),
    };
    flat.into_iter().chain(upright).collect()
}

impl Standing {
    pub(super) fn new(spans: &[RingSpan], pith: Vec<[f64; 2]>) -> Self {
        let of = |wider| spans.iter().flat_map(|span| wedges(*span, wider)).collect();
        Self { wedges: [Ordering::Less, Ordering::Equal, Ordering::Greater].map(of), pith }
    }

    /// Where the `-u` edge of a strip of this width may lie between two planes, from the lowest up.
    pub(super) fn places(
        &self,
        quarter: Quarter,
        (bottom, top): (i64, i64),
        width: i64,
    ) -> Vec<(i64, i64)> {
        let wedges = match width.cmp(&(top - bottom)) {
            Ordering::Less => &self.wedges[0],
            Ordering::Equal => &self.wedges[1],
            Ordering::Greater => &self.wedges[2],
        };
        let mut places: Vec<(i64, i64)> = Vec::with_capacity(2 * wedges.len());
        for wedge in wedges {
            places.extend(self.within(*wedge, quarter, (bottom as f64, top as f64), width as f64));
        }
        places.sort_unstable();
        // Ranges that overlap are one.
        places.dedup_by(|next, last| {
            let meet = next.0 <= last.1;
            if meet {
                last.1 = last.1.max(next.1);
            }
            meet
        });
        places
    }

    /// The places within one wedge, on either side of the pith.
    fn within(
        &self,
        wedge: Wedge,
        quarter: Quarter,
        (bottom, top): (f64, f64),
        width: f64,
    ) -> impl Iterator<Item = (i64, i64)> + use<> {
        let half = 0.5 * width;
        let across = |p: &[f64; 2]| f64::midpoint(bottom, top) - quarter.of(*p)[1];
        let least = self.pith.iter().map(across).fold(f64::INFINITY, f64::min);
        let most = self.pith.iter().map(across).fold(f64::NEG_INFINITY, f64::max);
        // A wedge that does not reach along the face has an upper and a lower part, and the pith stays in one of them.
        if wedge.to.is_finite() && least < 0.0 && most > 0.0 {
            return [None, None].into_iter().flatten();
        }
        let crosses = self.pith.iter().any(|p| (bottom..=top).contains(&quarter.of(*p)[1]))
            || (least < 0.0 && most > 0.0);
        let side = |sign: f64| {
            // Of the strip's middle, on its own side of the pith.
            let (mut from, mut to) = (f64::NEG_INFINITY, f64::INFINITY);
            for p in &self.pith {
                let (along, off) = (sign * quarter.of(*p)[0], across(p).abs());
                let clear = if crosses { half + MARGIN } else { 0.0 };
                from = from.max(along + (off * wedge.from).max(clear));
                let reach = if wedge.to.is_finite() { off * wedge.to } else { f64::INFINITY };
                to = to.min(along + reach);
            }
            (from, to)
        };
        let edge = |(from, to): (f64, f64)| {
            let far = 1e15;
            (whole((from.max(-far) - half).ceil()), whole((to.min(far) - half).floor()))
        };
        let ((from, to), (low, high)) = (side(1.0), side(-1.0));
        let ranges = if wedge.from <= 0.0 && !crosses {
            // Both sides are one range about the pith.
            [Some(edge((-high, to))), None]
        } else {
            [Some(edge((-high, -low))), Some(edge((from, to)))]
        };
        ranges.map(|range| range.filter(|(from, to)| from <= to)).into_iter().flatten()
    }
}
