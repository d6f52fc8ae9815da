//! Where a piece holds the pith.
//!
//! The pith goes straight from section to section of the log; in a log that is round and straight it is its
//! axis. Each straight part is cut by the piece's six planes, each moved outward by the pith's own radius.

use super::{
    PieceBox, Shown, pith_at,
    solid::{range, span},
};
use crate::Log;
use crate::frame::dot;
use pithward_measure::Length;

/// What of the pith a piece holds, as rectangles on its faces at `h`: from and to along `u`, the radius
/// included, and along the log. Boxed or showing; nothing where it is beside the piece.
pub fn pith_in(log: &Log, piece: &PieceBox, radius: Length) -> Vec<Shown> {
    let radius = radius.inches_f64().max(0.0);
    let wide = |span: crate::Span| (span.from.inches_f64() - radius, span.to.inches_f64() + radius);
    let (from, to) = (piece.z.from.inches_f64(), piece.z.to.inches_f64());
    let inner = log.sections().unwrap_or_default().iter().map(|section| section.z);
    let stations = std::iter::once(from).chain(inner.filter(|z| from < *z && *z < to)).chain([to]);
    let place = |z: f64| {
        let [x, y] = pith_at(log, z);
        [dot(piece.basis.u, [x, y, z]), dot(piece.basis.h, [x, y, z]), z]
    };
    let points: Vec<[f64; 3]> = stations.map(place).collect();
    let (u, h) = (wide(piece.u), wide(piece.h));
    let held = |two: &[[f64; 3]]| {
        let (a, b) = (two[0], two[1]);
        let (mut first, mut last) = (0.0f64, 1.0f64);
        for (axis, (low, high)) in [(0, u), (1, h)] {
            let run = b[axis] - a[axis];
            if run == 0.0 {
                if !(low..=high).contains(&a[axis]) {
                    return None;
                }
                continue;
            }
            let ends = [(low - a[axis]) / run, (high - a[axis]) / run];
            first = first.max(ends[0].min(ends[1]));
            last = last.min(ends[0].max(ends[1]));
        }
        if first > last {
            return None;
        }
        let at = |axis: usize, share: f64| a[axis] + share * (b[axis] - a[axis]);
        let across = [first, last].into_iter().flat_map(|share| {
            [at(0, share) - radius, at(0, share) + radius].map(|at| at.clamp(u.0, u.1))
        });
        let along = [first, last].map(|share| at(2, share));
        Some(Shown { across: span(range(across))?, along: span(range(along.into_iter()))? })
    };
    points.windows(2).filter_map(held).collect()
}
