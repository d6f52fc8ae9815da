//! The area that many outlines have in common.
//!
//! # Method
//! One outline after another cuts what is left. Its sides turn one way round, and so does the corner that lies furthest
//! out across each of them: one walk round both finds every side that cuts anything off, and only these are cut along.
//! `O(n)` for outlines of `n` sides altogether, and a little for every cut; exact but for rounding.
//!
//! # Source
//! The walk is that of the rotating calipers: M. I. Shamos, "Computational Geometry", thesis, Yale University, 1978.

/// Slack of "convex", and of what is cut off: how far, as a share of its length, a side may turn back; and as a share of
/// its distance from the middle, how far out a corner may lie.
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
    for outline in outlines {
        is_about(outline, middle).then_some(())?;
    }
    let (first, others) = outlines.split_first()?;
    let mut core = first.to_vec();
    core.dedup();
    while core.len() > 1 && core.first() == core.last() {
        core.pop();
    }
    // The ends of a stretch come first; where it is bowed its middle leaves least besides.
    let half = others.len() / 2;
    let most = others.get(half).into_iter().chain(&others[..half]);
    for outline in most.chain(others.get(half + 1..).unwrap_or_default()) {
        cut(&mut core, outline, middle)?;
    }
    Some(core)
}

/// Whether an outline is convex, and a point within it.
fn is_about(outline: &[[f64; 2]], middle: [f64; 2]) -> bool {
    let Some(last) = outline.last() else { return false };
    let mut from = *last;
    let mut before = outline.len().checked_sub(2).map_or([0.0, 0.0], |n| along(outline[n], *last));
    outline.iter().all(|to| {
        let run = along(from, *to);
        let square = run[0] * run[0] + run[1] * run[1];
        let turn = before[0] * run[1] - before[1] * run[0];
        let away = run[1] * (from[0] - middle[0]) - run[0] * (from[1] - middle[1]);
        from = *to;
        // A side of no length says nothing.
        if square > 0.0 {
            before = run;
        }
        turn >= -STRAIGHT * square && (away > 0.0 || square <= 0.0)
    })
}

/// Cuts along every side of an outline what lies beyond it; `None` where nothing is left.
fn cut(core: &mut Vec<[f64; 2]>, outline: &[[f64; 2]], middle: [f64; 2]) -> Option<()> {
    let mut furthest: Option<usize> = None;
    let Some(mut from) = outline.last() else { return Some(()) };
    for to in outline {
        let (a, run) = (from, along(*from, *to));
        from = to;
        let out = |p: [f64; 2]| run[1] * (p[0] - a[0]) - run[0] * (p[1] - a[1]);
        let count = core.len();
        let mut n = furthest.unwrap_or_else(|| {
            let further = |n: usize, m: usize| if out(core[m]) > out(core[n]) { m } else { n };
            (1..count).fold(0, further)
        });
        let mut here = out(core[n]);
        for _ in 0..count {
            let m = if n + 1 < count { n + 1 } else { 0 };
            let there = out(core[m]);
            if there < here {
                break;
            }
            (n, here) = (m, there);
        }
        furthest = Some(n);
        if here <= -STRAIGHT * out(middle) {
            continue;
        }
        // The corners beyond this side come first.
        let beyond = |n: &usize| out(core[*n % count]) > 0.0;
        let before = (1..count).take_while(|by| beyond(&(n + count - by))).count();
        let after = (1..count).take_while(|by| beyond(&(n + by))).count();
        let gone = before + after + 1;
        if gone >= count {
            return None;
        }
        core.rotate_left((n + count - before) % count);
        let meet = |p: [f64; 2], q: [f64; 2]| {
            let (from, to) = (out(p), out(q));
            let share = from / (from - to);
            [p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])]
        };
        let corners = [meet(core[0], core[count - 1]), meet(core[gone - 1], core[gone])];
        core.splice(0..gone, corners);
        furthest = Some(1);
    }
    Some(())
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

    #[test]
    fn cutting_along_every_side_of_every_outline_leaves_the_same() {
        for seed in 0..40u32 {
            let part = |n: u32| f64::from((seed * 7919 + n * 104_729) % 1000) / 1000.0;
            let one = |n: u32| {
                let (a, b) = (5.0 + 2.0 * part(4 * n), 5.0 + 2.0 * part(4 * n + 1));
                let (x, y) = (2.0 * part(4 * n + 2), 2.0 * part(4 * n + 3));
                oval(x, y, a, b)
            };
            let all: Vec<Vec<[f64; 2]>> = (0..2 + seed % 25).map(one).collect();
            let common = common(&all.iter().map(Vec::as_slice).collect::<Vec<_>>()).unwrap();
            let mut left = all[0].clone();
            for outline in &all {
                for (a, b) in outline.iter().zip(outline.iter().cycle().skip(1)) {
                    let [x, y] = along(*a, *b);
                    left = crate::body::clip(&left, ([y, -x], y * a[0] - x * a[1]));
                }
            }
            let (own, other) = (area(&common), area(&left));
            assert!((own - other).abs() < 1e-6, "seed {seed}: {own} where it is {other}");
        }
    }
}
