//! The section of a piece: a box less its corners, and what reaches into it.
//!
//! Everything is seen along the frame's axis: a point of the log frame has the place `(u . p, h . p)`, and the piece
//! is the same in it at every station.

use crate::{Basis, frame::dot, trig::norm};

/// A convex polygon, its corners in order.
pub(super) type Polygon = Vec<[f64; 2]>;

/// Where a point of the section at a station is, as seen along the frame's axis.
pub(super) fn place(basis: &Basis, [x, y]: [f64; 2], z: f64) -> [f64; 2] {
    [dot(basis.u, [x, y, z]), dot(basis.h, [x, y, z])]
}

/// A box whose corners are cut off: the points `p` with `normal . p < offset` for all of its sides.
#[derive(Clone, Debug)]
pub(super) struct Octagon {
    sides: Vec<([f64; 2], f64)>,
    /// Between which places the box lies, across and upward.
    within: ((f64, f64), (f64, f64)),
    middle: [f64; 2],
}

impl Octagon {
    /// The box from `u.0` to `u.1` and from `h.0` to `h.1`, smaller by a slack on every side, less what lies beyond a
    /// line from one leg to the other at every corner. Legs that would cross on a side end in its middle.
    pub(super) fn new(u: (f64, f64), h: (f64, f64), legs: (f64, f64), slack: f64) -> Self {
        let within = ((u.0 + slack, u.1 - slack), (h.0 + slack, h.1 - slack));
        let mut sides = vec![
            ([-1.0, 0.0], -within.0.0),
            ([1.0, 0.0], within.0.1),
            ([0.0, -1.0], -within.1.0),
            ([0.0, 1.0], within.1.1),
        ];
        let legs = (legs.0.min(0.5 * (u.1 - u.0)), legs.1.min(0.5 * (h.1 - h.0)));
        if legs.0 > 0.0 && legs.1 > 0.0 {
            let (a, b) = (1.0 / legs.0, 1.0 / legs.1);
            let inward = 1.0 + slack * norm(a, b);
            for (n, corner) in [(-a, u.0), (a, u.1)] {
                for (m, other) in [(-b, h.0), (b, h.1)] {
                    sides.push(([n, m], n * corner + m * other - inward));
                }
            }
        }
        Self { sides, within, middle: [0.5 * (u.0 + u.1), 0.5 * (h.0 + h.1)] }
    }

    /// Of the box's own sides those that a point lies on or beyond, a bit for each.
    fn beyond(&self, [x, y]: [f64; 2]) -> u8 {
        let ((left, right), (low, high)) = self.within;
        u8::from(x <= left)
            | u8::from(x >= right) << 1
            | u8::from(y <= low) << 2
            | u8::from(y >= high) << 3
    }

    /// Whether any of the straight line between two points lies inside.
    pub(super) fn meets_line(&self, a: [f64; 2], b: [f64; 2]) -> bool {
        self.beyond(a) & self.beyond(b) == 0 && self.crosses(a, b)
    }

    /// The same of two points that do not lie beyond one side.
    fn crosses(&self, a: [f64; 2], b: [f64; 2]) -> bool {
        let (mut from, mut to) = (0.0, 1.0);
        for &(n, offset) in &self.sides {
            let at = offset - (n[0] * a[0] + n[1] * a[1]);
            let slope = n[0] * (b[0] - a[0]) + n[1] * (b[1] - a[1]);
            if slope > 0.0 {
                to = f64::min(to, at / slope);
            } else if slope < 0.0 {
                from = f64::max(from, at / slope);
            } else if at <= 0.0 {
                return false;
            }
            if from >= to {
                return false;
            }
        }
        true
    }

    /// Whether any of a convex polygon lies inside.
    pub(super) fn meets(&self, polygon: &[[f64; 2]]) -> bool {
        let mut left = polygon.to_vec();
        for &(n, offset) in &self.sides {
            left = within(&left, n, offset);
        }
        !left.is_empty()
    }

    /// Whether all of it lies within an outline, convex or not.
    ///
    /// No edge of the outline reaches into it, and its middle lies within: then all of it does.
    pub(super) fn is_within(&self, outline: &[[f64; 2]]) -> bool {
        let Some(last) = outline.last() else { return false };
        let mut before = (*last, self.beyond(*last));
        // Most edges lie wholly beyond one of the sides.
        let free = outline.iter().all(|p| {
            let (from, beyond) = before;
            before = (*p, self.beyond(*p));
            beyond & before.1 != 0 || !self.crosses(from, *p)
        });
        free && holds(outline, self.middle)
    }
}

/// What of a convex polygon lies where `normal . p <= offset`.
pub(super) fn within(polygon: &[[f64; 2]], normal: [f64; 2], offset: f64) -> Polygon {
    let over = |p: &[f64; 2]| normal[0] * p[0] + normal[1] * p[1] - offset;
    let mut left = Vec::with_capacity(polygon.len() + 1);
    for (a, b) in polygon.iter().zip(polygon.iter().cycle().skip(1)) {
        let (at, then) = (over(a), over(b));
        if at <= 0.0 {
            left.push(*a);
        }
        if (at <= 0.0) != (then <= 0.0) {
            let share = at / (at - then);
            left.push([a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]);
        }
    }
    left
}

/// Whether a point lies within an outline: a ray from it crosses the outline an odd number of times.
pub(super) fn holds(outline: &[[f64; 2]], [x, y]: [f64; 2]) -> bool {
    let next = outline.iter().cycle().skip(1);
    let crosses = |(a, b): &(&[f64; 2], &[f64; 2])| {
        (a[1] > y) != (b[1] > y) && x < a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
    };
    outline.iter().zip(next).filter(crosses).count() % 2 == 1
}

/// The greatest distance, up to a leg, from the corners of a box at which an outline crosses its sides: along `u` and
/// along `h`.
pub(super) fn missing(
    outline: &[[f64; 2]],
    u: (f64, f64),
    h: (f64, f64),
    legs: (f64, f64),
) -> (f64, f64) {
    let along = |axis: usize, line: (f64, f64), span: (f64, f64), leg: f64| {
        let mut most = 0.0f64;
        for at in [line.0, line.1] {
            for (a, b) in outline.iter().zip(outline.iter().cycle().skip(1)) {
                let (from, to) = (a[1 - axis], b[1 - axis]);
                if (from > at) == (to > at) {
                    continue;
                }
                let place = a[axis] + (at - from) / (to - from) * (b[axis] - a[axis]);
                for gone in [place - span.0, span.1 - place] {
                    if (0.0..=leg).contains(&gone) {
                        most = most.max(gone);
                    }
                }
            }
        }
        most
    };
    (along(0, h, u, legs.0), along(1, u, h, legs.1))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn octagon(leg: f64) -> Octagon {
        Octagon::new((-2.0, 2.0), (-1.0, 1.0), (leg, leg), 1e-9)
    }

    fn outline(half_u: f64, half_h: f64) -> Vec<[f64; 2]> {
        vec![[-half_u, -half_h], [half_u, -half_h], [half_u, half_h], [-half_u, half_h]]
    }

    #[test]
    fn a_box_lies_within_itself_and_not_within_less() {
        assert!(octagon(0.0).is_within(&outline(2.0, 1.0)));
        assert!(!octagon(0.0).is_within(&outline(1.999, 1.0)));
        assert!(!octagon(0.0).is_within(&outline(2.0, 0.999)));
    }

    #[test]
    fn wood_may_be_missing_at_its_corners_alone() {
        // The corner of the box is at (2, 1); this outline cuts it from (1.75, 1) to (2, 0.75).
        let cut = vec![[-3.0, -3.0], [3.0, -3.0], [3.0, -0.25], [-0.25, 3.0], [-3.0, 3.0]];
        assert!(!octagon(0.0).is_within(&cut));
        assert!(!octagon(0.24).is_within(&cut));
        assert!(octagon(0.25).is_within(&cut));
        let gone = missing(&cut, (-2.0, 2.0), (-1.0, 1.0), (0.25, 0.25));
        assert!((gone.0 - 0.25).abs() < 1e-12 && (gone.1 - 0.25).abs() < 1e-12);
    }

    #[test]
    fn no_side_of_a_box_is_missing_from_end_to_end() {
        // Legs of 1.5 in at both corners of a side 2 in high would leave none of it.
        let without_its_side = outline(1.9, 1.0);
        assert!(!octagon(1.5).is_within(&without_its_side));
        let pointed =
            vec![[-3.0, 0.0], [-1.0, -1.0], [1.0, -1.0], [2.0, 0.0], [1.0, 1.0], [-1.0, 1.0]];
        assert!(octagon(1.5).is_within(&pointed));
    }

    #[test]
    fn a_notch_in_the_outline_is_seen_though_every_corner_is_wood() {
        let notch = vec![
            [-3.0, -3.0],
            [3.0, -3.0],
            [3.0, 3.0],
            [0.1, 3.0],
            [0.0, 0.5],
            [-0.1, 3.0],
            [-3.0, 3.0],
        ];
        assert!(!octagon(0.0).is_within(&notch));
        let shallow = vec![
            [-3.0, -3.0],
            [3.0, -3.0],
            [3.0, 3.0],
            [0.1, 3.0],
            [0.0, 1.1],
            [-0.1, 3.0],
            [-3.0, 3.0],
        ];
        assert!(octagon(0.0).is_within(&shallow));
        // All of the outline inside of it, and all of it beside the outline.
        assert!(!octagon(0.0).is_within(&outline(0.1, 0.1)));
        let beside: Vec<_> = outline(2.0, 1.0).iter().map(|p| [p[0] + 10.0, p[1]]).collect();
        assert!(!octagon(0.0).is_within(&beside));
    }

    #[test]
    fn what_only_touches_does_not_reach_into_it() {
        let square = |x: f64| vec![[x, -0.5], [x + 1.0, -0.5], [x + 1.0, 0.5], [x, 0.5]];
        assert!(!octagon(0.0).meets(&square(2.0)));
        assert!(octagon(0.0).meets(&square(1.99)));
        assert!(octagon(0.0).meets(&square(-0.5)));
        // In the corner that may be missing it does no harm.
        let corner = vec![[1.9, 0.9], [2.5, 0.9], [2.5, 1.5], [1.9, 1.5]];
        assert!(octagon(0.0).meets(&corner));
        assert!(!octagon(0.2).meets(&corner));
    }
}
