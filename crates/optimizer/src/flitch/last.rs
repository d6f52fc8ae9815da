//! The last place at which something still holds.

use super::CLOSE;
use crate::column::floor;

/// A place, within [`CLOSE`] of the last one, at which a slack is not negative: it is not at `within`, and it is or is
/// nothing at `beyond`. In convex wood the slack is concave, and straight between two heights of the grid. So the chord
/// between two places on either side of its zero crosses zero no further out than the slack does, and the one through two
/// places beyond it no nearer: from either side they close in on it. Halving takes over where that gains little.
pub(super) fn last_place(
    mut within: i64,
    mut beyond: i64,
    slack: impl Fn(i64) -> Option<i64>,
) -> i64 {
    let mut here = slack(within).unwrap_or(0).max(0);
    // What the slack is beyond, and at the place further beyond that was looked at before.
    let (mut there, mut further): (Option<i64>, Option<(i64, i64)>) = (None, None);
    let mut turn = 0;
    while beyond - within > CLOSE {
        let middle = within + (beyond - within) / 2;
        let crosses = |(a, at_a): (i64, i64), (b, at_b): (i64, i64)| {
            let share = at_a as f64 / (at_a - at_b).max(1) as f64;
            a + floor(share * (b - a) as f64)
        };
        let guess = match (turn % 4, there, further) {
            (0, Some(there), _) => crosses((within, here), (beyond, there)),
            (1 | 2, Some(there), Some((far, at_far))) if at_far < there => {
                let fall = (there - at_far) as f64 / (far - beyond) as f64;
                beyond - floor(-there as f64 / fall)
            }
            // Just beyond the chord.
            (1, Some(there), _) => crosses((within, here), (beyond, there)) + CLOSE / 2,
            _ => middle,
        };
        let guess = guess.clamp(within + 1, beyond - 1);
        match slack(guess) {
            Some(by) if by >= 0 => (within, here) = (guess, by),
            by => {
                further = there.map(|there| (beyond, there));
                (beyond, there) = (guess, by);
            }
        }
        turn += 1;
    }
    within
}
