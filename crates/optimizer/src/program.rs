//! The linear program over patterns, solved by its dual. The only file that meets the solver.
//!
//! # Problem
//! Of many patterns, each giving `g_i` pieces within the count of want `i` and worth `w` in all, a mix of
//! one log's worth (amounts that add up to 1) is to be worth most without giving more than the count `d_i`
//! of any want:
//! ```text
//! max sum_p w_p x_p    sum_p x_p <= 1    sum_p g_ip x_p <= d_i    x >= 0
//! ```
//! The solver shows no dual values, and the search needs just those: what one more piece within the count
//! would be worth. So the dual is solved, whose variables they are:
//! ```text
//! min s + sum_i d_i u_i    s + sum_i g_ip u_i >= w_p for every pattern p    0 <= u_i <= most_i
//! ```
//! Every new pattern is a new row.
//!
//! # Units
//! Millionths on the outside, whole units inside, so that the solver sees numbers near 1.

use good_lp::{Expression, Solution, SolverModel, constraint, microlp, variable, variables};

/// One pattern as the program sees it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Row {
    /// Worth of the pattern, millionths.
    pub(crate) worth: i64,
    /// Pieces within the count, for each counted want.
    pub(crate) given: Vec<u32>,
}

/// A counted want as the program sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Counted {
    pub(crate) count: u32,
    /// No price above this changes anything, millionths.
    pub(crate) most: i64,
}

/// The price of a piece of every counted want, rounded to whole millionths; `None` when the solver finds no
/// answer, which a program that is feasible and bounded always has.
pub(crate) fn prices(rows: &[Row], counted: &[Counted]) -> Option<Vec<i64>> {
    const MILLION: f64 = 1e6;
    let mut vars = variables!();
    let whole = vars.add(variable().min(0));
    let prices: Vec<_> =
        counted.iter().map(|c| vars.add(variable().min(0).max(c.most as f64 / MILLION))).collect();
    let sum = |factors: &mut dyn Iterator<Item = f64>| -> Expression {
        prices.iter().zip(factors).map(|(price, factor)| *price * factor).sum()
    };
    let objective = whole + sum(&mut counted.iter().map(|c| f64::from(c.count)));
    let mut model = vars.minimise(objective).using(microlp);
    for row in rows {
        let given = sum(&mut row.given.iter().map(|given| f64::from(*given)));
        model = model.with(constraint!(whole + given >= row.worth as f64 / MILLION));
    }
    let solution = model.solve().ok()?;
    #[allow(clippy::cast_possible_truncation, reason = "prices lie between 0 and `most`, an i64")]
    let rounded = |value: f64| (value * MILLION).round() as i64;
    Some(
        prices
            .iter()
            .zip(counted)
            .map(|(price, c)| rounded(solution.value(*price)).clamp(0, c.most))
            .collect(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_piece_is_priced_at_what_the_next_best_use_forgoes() {
        // One pattern gives 3 dear pieces worth 10 each, another 1 and five cheap ones worth 2 each; two
        // dear ones are asked for. Half of each: 2 dear, 2.5 cheap. A third dear piece would take a
        // quarter of the second pattern's place: (30 - 20) / 2 = 5 each.
        let rows =
            [Row { worth: 30_000_000, given: vec![3] }, Row { worth: 20_000_000, given: vec![1] }];
        let counted = [Counted { count: 2, most: 10_000_000 }];
        assert_eq!(prices(&rows, &counted), Some(vec![5_000_000]));
    }

    #[test]
    fn a_count_that_is_never_reached_has_no_price() {
        let rows = [Row { worth: 30_000_000, given: vec![3] }];
        assert_eq!(prices(&rows, &[Counted { count: 7, most: 10_000_000 }]), Some(vec![0]));
    }
}
