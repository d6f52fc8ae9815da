//! The linear programs over patterns. The only file that meets the solver.
//!
//! # Prices
//! Logs stand in groups; of the patterns of a group, each giving `g_i` pieces within the count of want `i` and worth
//! `w` in all, one group's worth (amounts that add up to 1) is chosen, so that all together are worth most and give no
//! more than the count `d_i` of any want:
//! ```text
//! max sum_p w_p x_p    sum_{p in group} x_p <= 1    sum_p g_ip x_p <= d_i    x >= 0
//! ```
//! The solver shows no dual values, and the search needs just those: what one more piece within the count would be
//! worth. So the dual is solved, whose variables they are:
//! ```text
//! min sum_group s + sum_i d_i u_i    s_group + sum_i g_ip u_i >= w_p for every pattern p    0 <= u_i <= most_i
//! ```
//! Every new pattern is a new row. A row may also stand for one pattern of each log of a group, added up.
//!
//! # Whole amounts
//! At the end some logs have several patterns that are nearly as good, and which of them together lose least is a
//! program in whole numbers: see [`whole_amounts`]. It needs a limit on the nodes of its search and a plan to start
//! from, which only the solver itself offers.
//!
//! # Units
//! Millionths on the outside. Inside, a price is a share of the most that it may be, and worths are shares of the
//! greatest, so that the solver sees numbers near 1.

use crate::column::UNIT;
use good_lp::{Expression, Solution, SolverModel, constraint, microlp, variable, variables};
use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOptions, Variable};

/// One pattern, or one of each log of a group, as the program sees it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Row {
    /// The group that it belongs to.
    pub(crate) group: usize,
    /// Worth, millionths.
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
    let scale = scale(rows.iter().map(|row| row.worth));
    let groups = rows.iter().map(|row| row.group + 1).max().unwrap_or(0);
    let mut vars = variables!();
    let wholes: Vec<_> = (0..groups).map(|_| vars.add(variable().min(0))).collect();
    let shares: Vec<_> = counted.iter().map(|_| vars.add(variable().min(0).max(1))).collect();
    let most: Vec<f64> = counted.iter().map(|c| c.most as f64 / scale).collect();
    let sum = |factors: &mut dyn Iterator<Item = f64>| -> Expression {
        let priced = shares.iter().zip(&most).zip(factors).filter(|(_, factor)| *factor > 0.0);
        priced.map(|((share, most), factor)| *share * (most * factor)).sum()
    };
    let whole: Expression = wholes.iter().sum();
    let objective = whole + sum(&mut counted.iter().map(|c| f64::from(c.count)));
    let mut model = vars.minimise(objective).using(microlp);
    for row in rows {
        let given = sum(&mut row.given.iter().map(|given| f64::from(*given)));
        model = model.with(constraint!(wholes[row.group] + given >= row.worth as f64 / scale));
    }
    let solution = model.solve().ok()?;
    #[allow(clippy::cast_possible_truncation, reason = "prices lie between 0 and `most`, an i64")]
    let rounded = |share: f64, most: i64| (share * most as f64).round() as i64;
    Some(
        shares
            .iter()
            .zip(counted)
            .map(|(share, c)| rounded(solution.value(*share), c.most).clamp(0, c.most))
            .collect(),
    )
}

/// A pattern that a class of logs that are alike may be sawn by, for [`whole_amounts`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Column {
    /// The class.
    pub(crate) class: usize,
    /// What it lacks to the best of its class under the prices, [`UNIT`]ths.
    pub(crate) lost: i64,
    /// Places in the list of gains, and how many pieces gain that within the count.
    pub(crate) gains: Vec<(usize, u32)>,
    /// For how many logs it is used at the start.
    pub(crate) start: u32,
}

/// What a piece gains by being within the count of its want.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Gain {
    /// The want.
    pub(crate) want: usize,
    /// Millionths.
    pub(crate) worth: i64,
}

/// A program in whole amounts over some classes: which patterns lose least together.
///
/// What a plan lacks to the bound that prices `u` prove is
/// ```text
/// sum lost_p x_p  +  sum_g [ (gain_g - u)+ over_g + (u - gain_g)+ within_g ]  +  sum_i u_i short_i
/// ```
/// with the pieces of every gain parted into those within the count of their want and those over it, and `short_i` what
/// the count lacks. All of it is small where the prices are good, so the solver sees small numbers, and nothing that loses more
/// than the plan at hand need be part of the program.
#[derive(Clone, Debug)]
pub(crate) struct Losses<'a> {
    /// Patterns; every log of a class has exactly one.
    pub(crate) columns: Vec<Column>,
    /// Logs of each class.
    pub(crate) logs: Vec<u32>,
    /// All gains.
    pub(crate) gains: &'a [Gain],
    /// Pieces of each gain that the other classes give.
    pub(crate) given: Vec<i64>,
    /// Counts of the wants; none for a want without one.
    pub(crate) counts: Vec<Option<u32>>,
    /// Prices of the wants, millionths.
    pub(crate) prices: &'a [i64],
    /// What the plan at hand loses, [`UNIT`]ths.
    pub(crate) lost: i64,
}

/// How many logs take each column when least is lost, by branch and bound from the start that the columns name and within
/// so many nodes. `None` when nothing better than the start is found.
pub(crate) fn whole_amounts(losses: &Losses<'_>, nodes: u64) -> Option<Vec<u32>> {
    // The solver rather stops with a panic than with a wrong number; a plan without its help is still a plan.
    std::panic::catch_unwind(|| branch(losses, nodes)).ok().flatten()
}

/// The same where amounts need not be whole.
pub(crate) fn amounts(losses: &Losses<'_>) -> Option<Vec<f64>> {
    std::panic::catch_unwind(|| solve(losses, None)).ok().flatten()
}

fn branch(losses: &Losses<'_>, nodes: u64) -> Option<Vec<u32>> {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "amounts lie between 0 and the logs of a class; `as` saturates"
    )]
    let whole = |amount: f64| amount.round().max(0.0) as u32;
    Some(solve(losses, Some(nodes))?.into_iter().map(whole).collect())
}

/// The amounts of the columns; whole ones where there are nodes to search.
fn solve(losses: &Losses<'_>, nodes: Option<u64>) -> Option<Vec<f64>> {
    let scale = losses.lost.max(1) as f64;
    let cost = |lost: i64| lost as f64 / scale;
    // No better plan has more of anything than its loss allows.
    let most = |each: i64, most: u32| match each {
        ..=0 => most,
        each => u32::try_from(losses.lost / each).unwrap_or(u32::MAX).min(most),
    };
    let whole = |most: u32| (0, i32::try_from(most).unwrap_or(i32::MAX));
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let mut start: Vec<(Variable, f64)> = Vec::new();
    let mut of_class: Vec<Vec<(Variable, f64)>> = vec![Vec::new(); losses.logs.len()];
    let mut of_gain: Vec<Vec<(Variable, f64)>> = vec![Vec::new(); losses.gains.len()];
    let mut given = losses.given.clone();
    let mut amounts = Vec::with_capacity(losses.columns.len());
    for column in &losses.columns {
        let most = most(column.lost, losses.logs[column.class]).max(column.start);
        let amount = match nodes {
            Some(_) => problem.add_integer_var(cost(column.lost), whole(most)),
            None => problem.add_var(cost(column.lost), (0.0, f64::from(most))),
        };
        amounts.push(amount);
        start.push((amount, f64::from(column.start)));
        of_class[column.class].push((amount, 1.0));
        for (gain, pieces) in &column.gains {
            of_gain[*gain].push((amount, f64::from(*pieces)));
            given[*gain] += i64::from(*pieces) * i64::from(column.start);
        }
    }
    let mut of_want: Vec<Vec<(Variable, f64)>> = vec![Vec::new(); losses.counts.len()];
    let mut left: Vec<i64> = losses.counts.iter().map(|count| count.map_or(0, i64::from)).collect();
    let mut sorted: Vec<usize> = (0..losses.gains.len()).collect();
    sorted.sort_by_key(|gain| std::cmp::Reverse(losses.gains[*gain].worth));
    let mut parts: Vec<Option<[Variable; 2]>> = vec![None; losses.gains.len()];
    for gain in sorted {
        let Gain { want, worth } = losses.gains[gain];
        let Some(count) = losses.counts[want] else { continue };
        let gained = (worth - losses.prices[want]) * UNIT;
        let within = problem.add_var(cost((-gained).max(0)), (0.0, f64::from(count)));
        let over = problem.add_var(cost(gained.max(0)), (0.0, f64::INFINITY));
        let counted = given[gain].min(left[want]);
        left[want] -= counted;
        start.push((within, counted as f64));
        start.push((over, (given[gain] - counted) as f64));
        of_want[want].push((within, 1.0));
        parts[gain] = Some([within, over]);
    }
    for (class, logs) in of_class.iter().zip(&losses.logs) {
        problem.add_constraint(class.as_slice(), ComparisonOp::Eq, f64::from(*logs));
    }
    for (gain, part) in parts.iter().enumerate() {
        let Some([within, over]) = part else { continue };
        let mut row = of_gain[gain].clone();
        row.extend([(*within, -1.0), (*over, -1.0)]);
        problem.add_constraint(row.as_slice(), ComparisonOp::Eq, -(losses.given[gain] as f64));
    }
    for (want, mut row) in of_want.into_iter().enumerate() {
        let Some(count) = losses.counts[want].filter(|_| !row.is_empty()) else { continue };
        let short = problem.add_var(cost(losses.prices[want] * UNIT), (0.0, f64::INFINITY));
        start.push((short, left[want] as f64));
        row.push((short, 1.0));
        problem.add_constraint(row.as_slice(), ComparisonOp::Eq, f64::from(count));
    }
    let mut options = SolveOptions::default();
    options.node_limit = nodes;
    options.warm_start = nodes.map(|_| start);
    let solved = problem.solve_with(options).ok()?;
    let solution = solved.solution()?;
    Some(amounts.iter().map(|amount| solution.var_value(*amount)).collect())
}

/// The greatest of some worths, as what all are reckoned in.
fn scale(worths: impl Iterator<Item = i64>) -> f64 {
    worths.map(i64::unsigned_abs).max().unwrap_or(1).max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_piece_is_priced_at_what_the_next_best_use_forgoes() {
        // One pattern gives 3 dear pieces worth 10 each, another 1 and five cheap ones worth 2 each; two
        // dear ones are asked for. Half of each: 2 dear, 2.5 cheap. A third dear piece would take a
        // quarter of the second pattern's place: (30 - 20) / 2 = 5 each.
        let rows = [
            Row { group: 0, worth: 30_000_000, given: vec![3] },
            Row { group: 0, worth: 20_000_000, given: vec![1] },
        ];
        let counted = [Counted { count: 2, most: 10_000_000 }];
        assert_eq!(prices(&rows, &counted), Some(vec![5_000_000]));
    }

    #[test]
    fn a_count_that_is_never_reached_has_no_price() {
        let rows = [Row { group: 0, worth: 30_000_000, given: vec![3] }];
        assert_eq!(prices(&rows, &[Counted { count: 7, most: 10_000_000 }]), Some(vec![0]));
    }
}
