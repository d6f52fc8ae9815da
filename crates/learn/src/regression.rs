//! A straight-line regression whose unknowns are known roughly beforehand, of rows that are off together in groups.
//!
//! # Problem
//! ```text
//! y = x b + u + e      b ~ N(m, diag s²)   u ~ N(0, day²), the same for all rows of a group   e ~ N(0, row²)
//! ```
//! `b`, `day` and `row` are wanted. Beside these rows there may be some of which the deviation is known, each by itself.
//!
//! # Method
//! For given `day` and `row` everything is normal. With `V` the variances of the rows, `X` all `x`, `r = y - X m`:
//! ```text
//! P = X' V⁻¹ X + diag s⁻²      b - m ~ N(P⁻¹ X' V⁻¹ r, P⁻¹)
//! -2 log p(y) = log |V| + log |P| + log |diag s²| + r' V⁻¹ r - (X' V⁻¹ r)' P⁻¹ (X' V⁻¹ r) + const
//! ```
//! (Bishop, "Pattern Recognition and Machine Learning", 2006, equations 3.50, 3.51 and 3.86, where the group is new.) Of a
//! group of `n` rows `V = row² I + day² 11'`, so with `c = day² / (row² + n day²)`
//! ```text
//! V⁻¹ = (I - c 11') / row²      |V| = row²^(n-1) (row² + n day²)
//! ```
//! `day` and `row` are known roughly beforehand too, their logarithms normal about stated values. They are not put at their
//! most likely values, which would make few rows seem surer than they are: the answer is the mean over a grid of both,
//! weighted by `p(y)`. That is exact but for the grid's steps and its ends.
//!
//! # Cost
//! `O(rows n² + grid (groups n² + n³))` for `n` unknowns.
//!
//! # The same bytes everywhere
//! Sums are written out in a fixed order; only factors by Cholesky come from the library, which needs no more than
//! additions, products, divisions and square roots of doubles.

use nalgebra::{DMatrix, DVector};

/// What is known beforehand of every unknown.
#[derive(Clone, Debug, PartialEq)]
pub struct Prior {
    /// Means.
    pub mean: Vec<f64>,
    /// Standard deviations, above 0.
    pub deviation: Vec<f64>,
    /// About where the deviation within a group lies, and that of the groups; both above 0.
    pub row: f64,
    /// See `row`.
    pub day: f64,
    /// One standard deviation of the logarithms of these two.
    pub unsure: f64,
}

/// One row.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// One for every unknown.
    pub x: Vec<f64>,
    /// What was observed.
    pub y: f64,
}

/// Rows that are off together.
pub type Group = Vec<Row>;

/// What is known afterwards.
#[derive(Clone, Debug, PartialEq)]
pub struct Posterior {
    /// Means of the unknowns.
    pub mean: Vec<f64>,
    /// Their covariances, row by row.
    pub covariance: Vec<Vec<f64>>,
    /// Precisions: inverse variances of each, were all others known.
    pub alone: Vec<f64>,
    /// The deviation within a group: mean and standard deviation of its logarithm.
    pub row: [f64; 2],
    /// The same of the groups.
    pub day: [f64; 2],
}

/// The sums of all rows that a regression needs.
#[derive(Clone, Debug)]
pub struct Regression {
    prior: Prior,
    /// Precisions and weighted residuals of the rows that stand by themselves, with those of the prior.
    own: Sums,
    /// The sums of all grouped rows, unweighted.
    all: Sums,
    /// Of each group: the number of rows, the sum of all x, the sum of all residuals.
    groups: Vec<(f64, Vec<f64>, f64)>,
}

/// `X' W X`, `X' W r`, `r' W r`; only the lower half of the matrix.
#[derive(Clone, Debug)]
struct Sums {
    xx: DMatrix<f64>,
    xr: DVector<f64>,
    rr: f64,
}

impl Sums {
    fn none(n: usize) -> Self {
        Self { xx: DMatrix::zeros(n, n), xr: DVector::zeros(n), rr: 0.0 }
    }

    /// Adds a row with a residual, so many times.
    fn add(&mut self, x: &[f64], r: f64, weight: f64) {
        for (i, xi) in x.iter().enumerate() {
            if *xi == 0.0 {
                continue;
            }
            for (j, xj) in x.iter().enumerate().take(i + 1) {
                self.xx[(i, j)] += weight * xi * xj;
            }
            self.xr[i] += weight * xi * r;
        }
        self.rr += weight * r * r;
    }
}

/// Steps of the grid to either side of the stated deviations, and how far each goes, in deviations of their logarithms.
const SIDE: i32 = 8;
const STEP: f64 = 0.4;

impl Regression {
    /// Without any rows.
    pub fn new(prior: Prior) -> Self {
        let n = prior.mean.len();
        let mut own = Sums::none(n);
        for (i, deviation) in prior.deviation.iter().enumerate() {
            own.xx[(i, i)] = 1.0 / (deviation * deviation);
        }
        Self { prior, own, all: Sums::none(n), groups: Vec::new() }
    }

    /// What a row says beyond the means that are known beforehand.
    fn residual(&self, row: &Row) -> f64 {
        let mean = &self.prior.mean;
        row.y - row.x.iter().zip(mean).fold(0.0, |sum, (x, mean)| sum + x * mean)
    }

    /// Adds rows that are off together.
    pub fn group(&mut self, rows: &[Row]) {
        let mut sum = vec![0.0; self.prior.mean.len()];
        let (mut count, mut residuals) = (0.0, 0.0);
        for row in rows {
            let r = self.residual(row);
            self.all.add(&row.x, r, 1.0);
            sum.iter_mut().zip(&row.x).for_each(|(sum, x)| *sum += x);
            count += 1.0;
            residuals += r;
        }
        if count > 0.0 {
            self.groups.push((count, sum, residuals));
        }
    }

    /// Adds a row that stands by itself and has a known deviation.
    pub fn alone(&mut self, row: &Row, deviation: f64) {
        let r = self.residual(row);
        self.own.add(&row.x, r, 1.0 / (deviation * deviation));
    }

    /// All that is known, given both deviations: means less those of the prior, covariance, precisions, and twice the
    /// logarithm of how likely the rows are, but for a constant. `None` where the numbers give out.
    fn given(&self, row: f64, day: f64) -> Option<Given> {
        let (row2, day2) = (row * row, day * day);
        let mut sums = self.own.clone();
        sums.xx += &self.all.xx / row2;
        sums.xr += &self.all.xr / row2;
        let mut square = self.own.rr + self.all.rr / row2;
        let mut log_v = 0.0;
        for (count, x, r) in &self.groups {
            let of_group = row2 + count * day2;
            let shared = day2 / of_group / row2;
            sums.add(x, *r, -shared);
            square -= shared * r * r;
            log_v += (count - 1.0) * libm::log(row2) + libm::log(of_group);
        }
        let n = self.prior.mean.len();
        let alone: Vec<f64> = (0..n).map(|i| sums.xx[(i, i)]).collect();
        let factor = sums.xx.cholesky()?;
        let mean = factor.solve(&sums.xr);
        let lower = factor.l_dirty();
        let log_p: f64 = (0..n).map(|i| 2.0 * libm::log(lower[(i, i)])).sum();
        let fitted = sums.xr.iter().zip(mean.iter()).fold(0.0, |sum, (q, b)| sum + q * b);
        let likely = -(log_v + log_p + square - fitted);
        Some(Given { mean, covariance: factor.inverse(), alone, likely })
    }

    /// The means of the unknowns where both deviations are known; `None` where the numbers give out.
    pub fn mean(&self, row: f64, day: f64) -> Option<Vec<f64>> {
        let given = self.given(row, day)?;
        Some(self.prior.mean.iter().zip(given.mean.iter()).map(|(mean, off)| mean + off).collect())
    }

    /// What is known after all rows.
    pub fn posterior(&self) -> Posterior {
        let Prior { mean: before, deviation, row, day, unsure } = &self.prior;
        let mut all = Vec::new();
        // Without groups nothing is said of either deviation.
        let side = if self.groups.is_empty() { 0 } else { SIDE };
        for i in -side..=side {
            for j in -side..=side {
                let (zi, zj) = (f64::from(i) * STEP, f64::from(j) * STEP);
                let of = [libm::log(*row) + unsure * zi, libm::log(*day) + unsure * zj];
                let Some(given) = self.given(libm::exp(of[0]), libm::exp(of[1])) else { continue };
                let likely = given.likely - zi * zi - zj * zj;
                all.push((likely, of, given));
            }
        }
        let most = all.iter().map(|(likely, ..)| *likely).fold(f64::NEG_INFINITY, f64::max);
        let weights: Vec<f64> =
            all.iter().map(|(likely, ..)| libm::exp(0.5 * (likely - most))).collect();
        let sum: f64 = weights.iter().sum();
        let n = before.len();
        if sum <= 0.0 || !sum.is_finite() {
            return self.nothing();
        }
        let mut off = vec![0.0; n];
        let (mut alone, mut spread) = (vec![0.0; n], [[0.0; 2]; 2]);
        for (weight, (_, of, given)) in weights.iter().zip(&all) {
            let weight = weight / sum;
            for i in 0..n {
                off[i] += weight * given.mean[i];
                alone[i] += weight * given.alone[i];
            }
            for (spread, of) in spread.iter_mut().zip(of) {
                spread[0] += weight * of;
                spread[1] += weight * of * of;
            }
        }
        let mut covariance = vec![vec![0.0; n]; n];
        for (weight, (_, _, given)) in weights.iter().zip(&all) {
            let weight = weight / sum;
            for (i, row) in covariance.iter_mut().enumerate() {
                for (j, at) in row.iter_mut().enumerate() {
                    let apart = (given.mean[i] - off[i]) * (given.mean[j] - off[j]);
                    *at += weight * (given.covariance[(i, j)] + apart);
                }
            }
        }
        let wide = |of: [f64; 2]| [of[0], (of[1] - of[0] * of[0]).max(0.0).sqrt()];
        let known = |of: [f64; 2], stated: f64| {
            if self.groups.is_empty() { [libm::log(stated), *unsure] } else { wide(of) }
        };
        debug_assert_eq!(deviation.len(), n);
        Posterior {
            mean: before.iter().zip(&off).map(|(mean, off)| mean + off).collect(),
            covariance,
            alone,
            row: known(spread[0], *row),
            day: known(spread[1], *day),
        }
    }

    /// What is known beforehand.
    fn nothing(&self) -> Posterior {
        let Prior { mean, deviation, row, day, unsure } = &self.prior;
        let n = mean.len();
        let mut covariance = vec![vec![0.0; n]; n];
        for (i, deviation) in deviation.iter().enumerate() {
            covariance[i][i] = deviation * deviation;
        }
        Posterior {
            mean: mean.clone(),
            covariance,
            alone: deviation.iter().map(|deviation| 1.0 / (deviation * deviation)).collect(),
            row: [libm::log(*row), *unsure],
            day: [libm::log(*day), *unsure],
        }
    }
}

/// What is known where both deviations are.
struct Given {
    mean: DVector<f64>,
    covariance: DMatrix<f64>,
    alone: Vec<f64>,
    likely: f64,
}

#[cfg(test)]
mod tests;
