//! How well a figure is known.

use super::model::Model;
use crate::figure::Figure;
use crate::regression::Posterior;

/// How well a figure is known.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Knowledge {
    /// Better than before.
    Known,
    /// It cannot be told apart from others, the nearest first: together they are known better than each. It was held near
    /// what it was.
    Together(Vec<Figure>),
    /// The jobs say little of it.
    Little,
}

/// A figure is known better where its deviation is at most this share of what it was.
const KNOWN: f64 = 0.7;
/// It would be, were all others known, where its deviation is at most this share.
const ALONE: f64 = 0.8;
/// Another figure stands for it where the two are correlated by as much.
const CORRELATED: f64 = 0.05;
/// So many others are named.
const NAMED: usize = 3;

/// How well the n-th figure is known.
pub(super) fn knowledge(n: usize, model: &Model<'_>, posterior: &Posterior) -> Knowledge {
    let before = model.known[n].spread(model.pace);
    let variance = |i: usize| posterior.covariance[i][i].max(0.0);
    if variance(n).sqrt() <= KNOWN * before {
        return Knowledge::Known;
    }
    if 1.0 / posterior.alone[n].sqrt() > ALONE * before {
        return Knowledge::Little;
    }
    let mut others: Vec<(f64, Figure)> = (0..model.known.len())
        .filter(|i| *i != n)
        .map(|i| {
            let both = (variance(n) * variance(i)).sqrt();
            let share = if both > 0.0 { posterior.covariance[n][i] / both } else { 0.0 };
            (share.abs(), model.known[i])
        })
        .filter(|(share, _)| *share >= CORRELATED)
        .collect();
    others.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    others.truncate(NAMED);
    if others.is_empty() {
        return Knowledge::Little;
    }
    Knowledge::Together(others.into_iter().map(|(_, figure)| figure).collect())
}
