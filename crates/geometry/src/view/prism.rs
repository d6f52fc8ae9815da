//! The wood that all sections of a stretch have in common, and how far boards may reach in it.

use super::profile::Profile;
use super::sides::Planes;
use super::{Quarter, whole};

/// The wood that all sections of a stretch have in common.
#[derive(Clone, Debug)]
pub struct Prism {
    pub(super) kind: Kind,
    /// What sawn planes leave of it.
    pub(super) left: Option<Planes>,
}

#[derive(Clone, Debug)]
pub(super) enum Kind {
    /// Within this radius of the frame's axis, which lies there, nanometres.
    Round { radius: f64, axis: [f64; 2] },
    /// Extents for either quarter.
    Grid(Box<[Profile; 2]>),
}

/// How far wood reaches along the edges of two planes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extent {
    /// Toward `-u`, nanometres.
    pub low: f64,
    /// Toward `+u`, nanometres.
    pub high: f64,
}

impl Prism {
    /// How far the wood reaches along the edges between two planes, with legs of wood missing at the corners.
    ///
    /// The points that bound a missing corner must be wood: those a leg of the thickness within the planes at the edges,
    /// and those a leg of the width within the edges on the planes; the wood between them is convex. `None` where a
    /// plane misses the wood.
    ///
    /// # Units
    /// Nanometres, all of them.
    pub fn extent(
        &self,
        quarter: Quarter,
        (from, to): (i64, i64),
        (wane_thickness, wane_width): (f64, f64),
    ) -> Option<Extent> {
        let Some(left) = &self.left else {
            return self.grown(quarter, (from, to), (wane_thickness, wane_width));
        };
        let (low, high) = left.between(quarter, (from, to))?;
        let grown = self.grown(quarter, (from, to), (wane_thickness, wane_width))?;
        Some(Extent { low: grown.low.max(low), high: grown.high.min(high) })
    }

    /// The same as the log has grown.
    fn grown(
        &self,
        quarter: Quarter,
        (from, to): (i64, i64),
        (wane_thickness, wane_width): (f64, f64),
    ) -> Option<Extent> {
        match &self.kind {
            Kind::Round { radius, axis } => {
                let [along, across] = quarter.of(*axis);
                let plane = (from as f64 - across).abs().max((to as f64 - across).abs());
                let face = radius * radius - plane * plane;
                if face < 0.0 {
                    return None;
                }
                let inner = plane - wane_thickness;
                let side = (radius * radius - inner * inner).sqrt();
                let edge = side.min(face.sqrt() + wane_width);
                Some(Extent { low: along - edge, high: along + edge })
            }
            Kind::Grid(both) => {
                let profile = &both[usize::from(quarter == Quarter::Second)];
                let (from, to) = (from as f64, to as f64);
                let face = profile.between(from, to)?;
                if wane_thickness <= 0.0 && wane_width <= 0.0 {
                    return Some(face);
                }
                let inner = profile.between(from + wane_thickness, to - wane_thickness)?;
                Some(Extent {
                    low: (face.low - wane_width).max(inner.low),
                    high: (face.high + wane_width).min(inner.high),
                })
            }
        }
    }

    /// From this plane outward on one side of the axis the wood only narrows.
    ///
    /// # Units
    /// Nanometres.
    pub fn narrows_from(&self, quarter: Quarter, up: bool) -> i64 {
        match &self.kind {
            Kind::Round { axis, .. } => {
                let across = quarter.of(*axis)[1];
                whole(if up { across } else { -across }.max(0.0))
            }
            Kind::Grid(both) => {
                both[usize::from(quarter == Quarter::Second)].narrows[usize::from(!up)]
            }
        }
    }
}
