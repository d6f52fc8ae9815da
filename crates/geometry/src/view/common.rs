//! The area that many outlines have in common.
//!
//! # Method
//! Seen from a point within all of them, the sides of convex outlines stand for points of the dual plane: a side
//! `n . p = c` for the point `n / c`. Those on the hull of all of them bound the common area, in order, and the corner
//! between two of these sides is where they meet. `O(n log n)` for `n` sides, and exact but for rounding.
//!
//! # Source
//! F. P. Preparata and M. I. Shamos, "Computational Geometry", 1985, section 7.2: half-planes met by way of the dual's hull.

use super::hazards::hull;

/// Slack of "convex": how far, as a share of its length, a side may turn back.
const STRAIGHT: f64 = 1e-9;

/// What convex outlines, each counterclockwise, have in common, counterclockwise; `None` where one of them is not convex,
/// or where the middle of them all is not within each.
pub(super) fn common(outlines: &[&[[f64; 2]]]) -> Option<Vec<[f64; 2]>> {
    let count: usize = outlines.iter().map(|outline| outline.len()).sum();
    let total = outlines.iter().flat_map(|outline| outline.iter()).fold([0.0, 0.0], |sum, p| {
        let [x, y]: [f64; 2] = sum;
        [x + p[0], y + p[1]]
    });
    let middle = total.map(|sum| sum / count as f64);
    let mut dual: Vec<[f64; 2]> = Vec::with_capacity(count);
    for outline in outlines {
        let next = outline.iter().cycle().skip(1);
        let mut before = outline.last().zip(outline.first()).map(|(a, b)| along(*a, *b))?;
        for (a, b) in outline.iter().zip(next) {
            let run = along(*a, *b);
            let square = run[0] * run[0] + run[1] * run[1];
            if before[0] * run[1] - before[1] * run[0] < -STRAIGHT * square {
                return None;
            }
            if square == 0.0 {
                continue;
            }
            let normal = [run[1], -run[0]];
            let away = normal[0] * (a[0] - middle[0]) + normal[1] * (a[1] - middle[1]);
            if away <= 0.0 {
                return None;
            }
            dual.push(normal.map(|n| n / away));
            before = run;
        }
    }
    let mut sides = hull(dual);
    // Two sides that lie in one line meet nowhere: one of them stands for both.
    sides.dedup_by(|next, side| is_same(*next, *side));
    while sides.len() > 1 && is_same(sides[0], sides[sides.len() - 1]) {
        sides.pop();
    }
    let next = sides.iter().cycle().skip(1);
    let corner = |([a, b], [c, d]): (&[f64; 2], &[f64; 2])| {
        // a x + b y = 1 and c x + d y = 1.
        let det = a * d - b * c;
        [middle[0] + (d - b) / det, middle[1] + (a - c) / det]
    };
    Some(sides.iter().zip(next).map(corner).collect())
}

/// Whether two sides differ by no more than rounding, as a share of their distance from the middle.
fn is_same(a: [f64; 2], b: [f64; 2]) -> bool {
    let off = |n: usize| (a[n] - b[n]).abs();
    off(0).max(off(1)) <= STRAIGHT * (a[0].abs() + a[1].abs())
}

fn along(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [b[0] - a[0], b[1] - a[1]]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::section::area;
    use crate::trig::sin_cos;

    fn oval(x: f64, y: f64, a: f64, b: f64) -> Vec<[f64; 2]> {
        let point = |n: u32| {
            let (sin, cos) = sin_cos(std::f64::consts::TAU * f64::from(n) / 60.0);
            [x + a * cos, y + b * sin]
        };
        (0..60).map(point).collect()
    }

    #[test]
    fn of_one_outline_it_is_that_outline() {
        let oval = oval(1.0, 2.0, 5.0, 4.0);
        let common = common(&[&oval]).unwrap();
        assert!((area(&common) - area(&oval)).abs() < 1e-9);
    }

    #[test]
    fn of_two_squares_it_is_their_overlap() {
        let square = |x: f64| vec![[x, 0.0], [x + 2.0, 0.0], [x + 2.0, 2.0], [x, 2.0]];
        let common = common(&[&square(0.0), &square(1.0)]).unwrap();
        assert!((area(&common) - 2.0).abs() < 1e-12);
        assert!(common.iter().all(|[x, _]| (1.0 - 1e-12..=2.0 + 1e-12).contains(x)));
    }

    #[test]
    fn no_corner_of_it_lies_outside_of_any_outline_and_every_side_is_a_side_of_one() {
        let all: Vec<Vec<[f64; 2]>> = (0..9)
            .map(|n| oval(0.2 * f64::from(n), 0.1 * f64::from(n * n % 5), 6.0, 5.0))
            .collect();
        let outlines: Vec<&[[f64; 2]]> = all.iter().map(Vec::as_slice).collect();
        let common = common(&outlines).unwrap();
        for outline in &all {
            for (a, b) in outline.iter().zip(outline.iter().cycle().skip(1)) {
                let run = along(*a, *b);
                let left = |p: &[f64; 2]| run[0] * (p[1] - a[1]) - run[1] * (p[0] - a[0]);
                assert!(common.iter().all(|p| left(p) > -1e-9));
            }
        }
        let middle = |(a, b): (&[f64; 2], &[f64; 2])| [0, 1].map(|n| f64::midpoint(a[n], b[n]));
        let on = |p: [f64; 2]| {
            all.iter().any(|outline| {
                outline.iter().zip(outline.iter().cycle().skip(1)).any(|(a, b)| {
                    let run = along(*a, *b);
                    (run[0] * (p[1] - a[1]) - run[1] * (p[0] - a[0])).abs() < 1e-9
                })
            })
        };
        assert!(common.iter().zip(common.iter().cycle().skip(1)).map(middle).all(on));
    }

    #[test]
    fn of_the_same_outline_many_times_it_is_that_outline() {
        let nearly =
            |n: u32| oval(1.0 + f64::from(n) * 1e-16, 2.0, 5.0, 4.0 + f64::from(n) * 4e-16);
        let all: Vec<Vec<[f64; 2]>> = (0..20).map(nearly).collect();
        let common = common(&all.iter().map(Vec::as_slice).collect::<Vec<_>>()).unwrap();
        assert!((area(&common) - area(&all[0])).abs() < 1e-6);
        assert!(common.iter().all(|[x, y]| (x - 1.0).abs() < 5.01 && (y - 2.0).abs() < 4.01));
    }

    #[test]
    fn where_one_is_bowed_in_or_they_hardly_meet_nothing_is_said() {
        let bowed = vec![[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [2.0, 1.0], [0.0, 4.0]];
        assert_eq!(common(&[&bowed]), None);
        assert_eq!(common(&[&oval(0.0, 0.0, 2.0, 2.0), &oval(9.0, 0.0, 2.0, 2.0)]), None);
    }
}
