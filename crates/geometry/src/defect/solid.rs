//! A convex body between two loops of points that belong together, cut by the planes of a piece.
//!
//! Two loops with as many points each, point for point; every side of the body lies between two neighbours of
//! the one and the two of the other. Those four need not be in one plane. A straight line may then be drawn
//! between any two of them, so both diagonals are edges: whatever surface is spanned between them, the body
//! holds it.

use super::{PieceBox, Shown};
use crate::frame::dot;
use crate::trig::{norm, sin_cos};
use crate::{Basis, Span};
use pithward_measure::Length;
use std::cell::OnceCell;
use std::sync::Arc;

/// Sides of the polygon around a circle.
pub(super) const SIDES: usize = 24;

/// A body in the log frame, inches. No loop has more points than [`SIDES`].
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Solid {
    loops: [Vec<[f64; 3]>; 2],
    edges: Arc<[Edge]>,
}

/// Two corners of a body, each by its loop and its place there.
type Edge = [(usize, usize); 2];

/// The same as seen in a frame: along `u`, along `h`, station.
#[derive(Clone, Debug)]
pub(super) struct Seen {
    loops: [Vec<[f64; 3]>; 2],
    edges: Arc<[Edge]>,
    /// The least and the greatest of each coordinate.
    bounds: [(f64, f64); 3],
}

/// What a plane cuts out of a body: a convex polygon, across the face that lies in it and along the log.
#[derive(Clone, Debug)]
pub(super) struct Cut {
    /// Points of it, all of its corners among them.
    points: Vec<[f64; 2]>,
    /// Its corners in order, once a face holds only a part of it.
    corners: OnceCell<Vec<[f64; 2]>>,
    /// The least and the greatest of each coordinate.
    bounds: [(f64, f64); 2],
}

impl Cut {
    /// The rectangle that holds what of it lies within a face.
    pub(super) fn within(&self, across: Span, along: Span) -> Option<Shown> {
        let face = [across, along].map(|span| (span.from.inches_f64(), span.to.inches_f64()));
        let sides = || self.bounds.iter().zip(face);
        if sides().any(|((low, high), (from, to))| *high < from || to < *low) {
            return None;
        }
        if sides().all(|((low, high), (from, to))| from <= *low && *high <= to) {
            return Some(Shown { across: span(self.bounds[0])?, along: span(self.bounds[1])? });
        }
        let mut left = self.corners.get_or_init(|| hull(self.points.clone())).clone();
        for (n, (from, to)) in face.into_iter().enumerate() {
            left = clipped(&left, |p| p[n] - from);
            left = clipped(&left, |p| to - p[n]);
        }
        let side = |n: usize| span(range(left.iter().map(|p| p[n])));
        Some(Shown { across: side(0)?, along: side(1)? })
    }
}

impl Solid {
    pub(super) fn new(one: Vec<[f64; 3]>, other: Vec<[f64; 3]>) -> Self {
        debug_assert!(one.len().max(other.len()) <= SIDES, "a loop of too many points");
        let edges = edges(&one, &other).into();
        Self { loops: [one, other], edges }
    }

    pub(super) fn seen(&self, basis: &Basis) -> Seen {
        let place = |p: &[f64; 3]| [dot(basis.u, *p), dot(basis.h, *p), p[2]];
        let loops: [Vec<[f64; 3]>; 2] =
            self.loops.each_ref().map(|of| of.iter().map(place).collect());
        let bounds = [0, 1, 2].map(|n| range(loops.iter().flatten().map(|p| p[n])));
        Seen { loops, edges: Arc::clone(&self.edges), bounds }
    }
}

impl Seen {
    /// The four corners of every side: two neighbours on the one loop, the two on the other in the same order.
    fn sides(&self) -> impl Iterator<Item = [[f64; 3]; 4]> {
        let [one, other] = &self.loops;
        let count = one.len().min(other.len());
        (0..count).map(move |n| {
            let next = (n + 1) % count;
            [one[n], one[next], other[n], other[next]]
        })
    }

    /// Whether anything of it may show on a face in a plane across the `axis`: whether the boxes that hold them meet.
    pub(super) fn may_show(&self, axis: usize, at: Length, across: Span, along: Span) -> bool {
        let meets = |(low, high): (f64, f64), from: Length, to: Length| {
            low <= to.inches_f64() && from.inches_f64() <= high
        };
        meets(self.bounds[axis], at, at)
            && meets(self.bounds[1 - axis], across.from, across.to)
            && meets(self.bounds[2], along.from, along.to)
    }

    /// What a plane across the `axis` cuts out of it; `None` where it misses it.
    pub(super) fn cut(&self, axis: usize, at: Length) -> Option<Cut> {
        let at = at.inches_f64();
        let other = 1 - axis;
        let (low, high) = self.bounds[axis];
        if high < at || at < low {
            return None;
        }
        let away = self.loops.each_ref().map(|of| {
            let mut away = [0.0; SIDES];
            away.iter_mut().zip(of).for_each(|(away, corner)| *away = corner[axis] - at);
            away
        });
        let mut points: Vec<[f64; 2]> = Vec::with_capacity(2 * SIDES);
        for edge in self.edges.iter() {
            let [low, high] = edge.map(|(of, n)| away[of][n]);
            if (low > 0.0 && high > 0.0) || (low < 0.0 && high < 0.0) {
                continue;
            }
            let [a, b] = edge.map(|(of, n)| self.loops[of][n]);
            for (end, away) in [(a, low), (b, high)] {
                if away == 0.0 {
                    points.push([end[other], end[2]]);
                }
            }
            if low != 0.0 && high != 0.0 {
                let share = low / (low - high);
                points.push([other, 2].map(|n| a[n] + share * (b[n] - a[n])));
            }
        }
        (!points.is_empty()).then(|| {
            let bounds = [0, 1].map(|n| range(points.iter().map(|p| p[n])));
            Cut { points, corners: OnceCell::new(), bounds }
        })
    }

    /// Whether a box holds any of it.
    ///
    /// What of the body lies over the box, along `u` and the log, has its highest and its lowest point on the
    /// body's surface.
    pub(super) fn is_in(&self, piece: &PieceBox) -> bool {
        let inches = |span: Span| (span.from.inches_f64(), span.to.inches_f64());
        let (u, h, z) = (inches(piece.u), inches(piece.h), inches(piece.z));
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let mut surface = |polygon: Vec<[f64; 3]>| {
            let mut left = polygon;
            for (n, (from, to)) in [(0, u), (2, z)] {
                left = clipped(&left, |p| p[n] - from);
                left = clipped(&left, |p| to - p[n]);
            }
            for p in left {
                (low, high) = (low.min(p[1]), high.max(p[1]));
            }
        };
        for [a, b, c, d] in self.sides() {
            for corners in [[a, b, c], [b, c, d], [a, b, d], [a, c, d]] {
                surface(corners.to_vec());
            }
        }
        self.loops.iter().for_each(|end| surface(end.clone()));
        low <= h.1 && h.0 <= high
    }
}

/// The edges of the body between two loops, both diagonals of every side among them; each once, and none between corners
/// that lie in one place: of a cone's side only one is left.
fn edges(one: &[[f64; 3]], other: &[[f64; 3]]) -> Vec<Edge> {
    let count = one.len().min(other.len());
    let mut edges: Vec<Edge> = Vec::with_capacity(5 * count);
    for n in 0..count {
        let next = (n + 1) % count;
        let (a, b, c, d) = ((0, n), (0, next), (1, n), (1, next));
        let differ = |of: &[[f64; 3]]| (0..3).any(|k| of[n][k].to_bits() != of[next][k].to_bits());
        let (is_open, is_other_open) = (differ(one), differ(other));
        edges.push([a, c]);
        edges.extend(is_open.then_some([a, b]));
        edges.extend(is_other_open.then_some([c, d]));
        if is_open && is_other_open {
            edges.extend([[a, d], [b, c]]);
        }
    }
    edges
}

/// A disk square to a direction as the polygon around it, in an order that does not depend on its place.
pub(super) fn disk(middle: [f64; 3], from: [f64; 3], to: [f64; 3], radius: f64) -> Vec<[f64; 3]> {
    let run = [0, 1, 2].map(|n| to[n] - from[n]);
    let long = norm(norm(run[0], run[1]), run[2]);
    let run = if long > 0.0 { run.map(|c| c / long) } else { [0.0, 1.0, 0.0] };
    // Square to it: across in the section, and the third.
    let flat = norm(run[0], run[1]);
    let aside = if flat > 0.0 { [run[1] / flat, -run[0] / flat, 0.0] } else { [1.0, 0.0, 0.0] };
    let third = [
        run[1] * aside[2] - run[2] * aside[1],
        run[2] * aside[0] - run[0] * aside[2],
        run[0] * aside[1] - run[1] * aside[0],
    ];
    let step = std::f64::consts::TAU / SIDES as f64;
    let out = radius / sin_cos(0.5 * step).1;
    let point = |n: usize| {
        let (sin, cos) = sin_cos(step * n as f64);
        [0, 1, 2].map(|k| middle[k] + out * (cos * aside[k] + sin * third[k]))
    };
    (0..SIDES).map(point).collect()
}

/// What of a polygon lies where something linear is not negative.
fn clipped<const N: usize>(polygon: &[[f64; N]], over: impl Fn(&[f64; N]) -> f64) -> Vec<[f64; N]> {
    let mut left = Vec::with_capacity(polygon.len() + 1);
    for (a, b) in polygon.iter().zip(polygon.iter().cycle().skip(1)) {
        let (at, then) = (over(a), over(b));
        if at >= 0.0 {
            left.push(*a);
        }
        if (at >= 0.0) != (then >= 0.0) {
            let share = at / (at - then);
            left.push(std::array::from_fn(|n| a[n] + share * (b[n] - a[n])));
        }
    }
    left
}

/// The convex polygon around points, counterclockwise: Andrew's monotone chain (Information Processing Letters
/// 9(5), 1979; from memory).
fn hull(mut points: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    points.sort_unstable_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    points.dedup();
    if points.len() < 3 {
        return points;
    }
    let turns_left = |a: [f64; 2], b: [f64; 2], c: [f64; 2]| {
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > 0.0
    };
    let half = |points: &mut dyn Iterator<Item = [f64; 2]>| {
        let mut chain: Vec<[f64; 2]> = Vec::new();
        for p in points {
            while let [.., a, b] = chain[..]
                && !turns_left(a, b, p)
            {
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut all = half(&mut points.iter().copied());
    all.extend(half(&mut points.iter().rev().copied()));
    all
}

/// The least and the greatest; the least is more where there is none.
pub(super) fn range(values: impl Iterator<Item = f64>) -> (f64, f64) {
    let none = (f64::INFINITY, f64::NEG_INFINITY);
    values.fold(none, |(low, high), at| (low.min(at), high.max(at)))
}

/// From the least to the greatest, rounded outward; `None` of none.
pub(super) fn span((low, high): (f64, f64)) -> Option<Span> {
    let (from, to) = (Length::from_inches_f64_down(low), -Length::from_inches_f64_down(-high));
    (low <= high).then(|| Span::new(from, to))
}
