//! Ranges of what many simulated piles came to, and what makes them wide.
//!
//! # Ranges
//! Of `n` simulated piles in order the one at `(n + 1) p` has about the share `p` below it, and a new pile lies between the
//! ones at a tenth and at nine tenths with eight chances in ten. Counts come in steps, so of them more than eight in ten
//! may lie within.
//!
//! # Shares
//! The sources of doubt are drawn apart, so of the variance of a figure the share of a source is the square of its correlation
//! with it, as far as the figure follows it in proportion. What is left over is what does not: the steps of the counts, and
//! sources that work together. A source that does nothing has a squared correlation of `1 / n` in the mean, which is taken
//! off.

use std::cmp::Ordering;

/// A figure: as planned, and as it may come out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Range<T> {
    /// By the plan itself.
    pub planned: T,
    /// One in ten comes out below.
    pub low: T,
    /// As many come out below as above.
    pub likely: T,
    /// One in ten comes out above.
    pub high: T,
}

/// Chances in a hundred that the low end of a range is undercut.
pub(crate) const LOW: usize = 10;
/// Chances in a hundred that its high end is not passed.
pub(crate) const HIGH: usize = 100 - LOW;

impl<T: Copy> Range<T> {
    /// The range of what all piles came to; as planned where there is none.
    pub(super) fn of(planned: T, mut all: Vec<T>, order: impl Fn(&T, &T) -> Ordering) -> Self {
        all.sort_by(order);
        let at = |place: usize| all.get(place.saturating_sub(1).min(all.len().max(1) - 1)).copied();
        let n = all.len() + 1;
        let low = at(n * LOW / 100).unwrap_or(planned);
        let likely = at(n.div_ceil(2)).unwrap_or(planned);
        let high = at((n * HIGH).div_ceil(100)).unwrap_or(planned);
        Self { planned, low, likely, high }
    }
}

/// The share of the variance of a figure that follows a source.
pub(super) fn share(figure: &[f64], off: &[f64]) -> f64 {
    let n = figure.len() as f64;
    let mean = |all: &[f64]| all.iter().sum::<f64>() / n;
    let (of_figure, of_off) = (mean(figure), mean(off));
    let (mut xy, mut xx, mut yy) = (0.0, 0.0, 0.0);
    for (y, x) in figure.iter().zip(off) {
        let (y, x) = (y - of_figure, x - of_off);
        (xy, xx, yy) = (xy + x * y, xx + x * x, yy + y * y);
    }
    let all = xx * yy;
    if all <= 0.0 { 0.0 } else { (xy * xy / all - 1.0 / n).clamp(0.0, 1.0) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn of_nine_hundred_and_ninety_nine_the_hundredth_and_the_nine_hundredth() {
        let range = Range::of(7, (1..1000).rev().collect(), Ord::cmp);
        assert_eq!(range, Range { planned: 7, low: 100, likely: 500, high: 900 });
        assert_eq!(
            Range::of(7, Vec::new(), Ord::cmp),
            Range { planned: 7, low: 7, likely: 7, high: 7 }
        );
        assert_eq!(
            Range::of(7, vec![3], Ord::cmp),
            Range { planned: 7, low: 3, likely: 3, high: 3 }
        );
    }

    #[test]
    fn a_figure_shares_its_variance_among_its_sources() {
        let one: Vec<f64> = (0..400).map(|n| f64::from(n % 20)).collect();
        let two: Vec<f64> = (0..400).map(|n| f64::from(n / 20)).collect();
        let sum: Vec<f64> = one.iter().zip(&two).map(|(one, two)| 2.0 * one + two).collect();
        assert!((share(&sum, &one) - 0.8).abs() < 0.005);
        assert!((share(&sum, &two) - 0.2).abs() < 0.005);
        assert!(share(&one, &two) < 1e-9);
        assert!(share(&one, &[1.0; 400]) < 1e-9);
    }
}
