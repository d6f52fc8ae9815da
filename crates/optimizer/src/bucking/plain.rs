//! Plain buckings: what a person would cut who thinks of no want.

use super::stems::{Kind, Stems};
use super::way::{Span, plain, rules, sound};
use super::{BuckTerms, PileStem, with_rows};
use crate::pile::{Pile, PilePlan, Watch, plan_pile};
use crate::plan::PlanFault;
use pithward_measure::Length;
use std::cmp::Reverse;

/// A rule by which stems are cut without thinking of the wants.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlainRule {
    /// Every log of one length, trim included.
    Every(Length),
    /// From the butt on always the longest log that the stem still gives.
    LongestFirst,
}

/// What a plain bucking gives, planned as well as the chosen one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plain {
    /// The rule.
    pub rule: PlainRule,
    /// Logs cut from stems.
    pub logs: usize,
    /// The plan's value, as in [`BuckProof`](super::BuckProof).
    pub value: i64,
    /// Its worth without what only puts the list first.
    pub worth: i64,
    /// Its board feet, millionths.
    pub board_feet: i64,
    /// Pieces of the list that it leaves short.
    pub missing: u32,
}

impl Plain {
    pub(super) fn new(rule: PlainRule, rows: &[Vec<Span>], plan: &PilePlan) -> Self {
        Self {
            rule,
            logs: rows.iter().map(Vec::len).sum(),
            value: plan.proof.value,
            worth: plan.worth,
            board_feet: plan.board_feet,
            missing: plan.shortages.iter().map(|short| short.missing).sum(),
        }
    }
}

/// A plain bucking: its rule, and for every stem its logs.
pub(super) type Rows = (PlainRule, Vec<Vec<Span>>);

/// The plain buckings of all stems, none twice.
pub(super) fn rows(stems: &[PileStem], terms: &BuckTerms, kinds: &[Kind]) -> Vec<Rows> {
    let mut lengths: Vec<Length> =
        kinds.iter().flat_map(|kind| kind.way.all_lengths.iter().copied()).collect();
    lengths.sort_unstable();
    lengths.dedup();
    let mut all: Vec<Rows> = Vec::new();
    for rule in rules(&lengths) {
        let of = |n: usize| {
            let kind = kinds.iter().find(|kind| kind.members.contains(&n));
            let lengths = kind.map_or(&[][..], |kind| &kind.way.all_lengths);
            plain(&sound(&stems[n], terms.chain_kerf), terms.chain_kerf, lengths, rule)
        };
        let rows: Vec<Vec<Span>> = (0..stems.len()).map(of).collect();
        let is_new = all.iter().all(|(_, known)| *known != rows);
        if is_new && rows.iter().any(|row| !row.is_empty()) {
            all.push((rule, rows));
        }
    }
    all
}

/// Puts what is worth most under some prices first.
pub(super) fn rank(plain: &mut [Rows], classes: &Stems<'_>, kinds: &[Kind], prices: &[i64]) {
    let mut worth = vec![0i64; plain.len()];
    for (n, kind) in kinds.iter().enumerate() {
        let worths = classes.worths(n, prices);
        for ((_, rows), worth) in plain.iter().zip(&mut worth) {
            for member in &kind.members {
                let places = rows[*member].iter().filter_map(|span| kind.way.place(span));
                let places: Vec<usize> = places.collect();
                *worth = worth.saturating_add(worths.of(&places));
            }
        }
    }
    let mut ranked: Vec<(i64, Rows)> = worth.into_iter().zip(plain.iter().cloned()).collect();
    ranked.sort_by_key(|(worth, _)| Reverse(*worth));
    for (place, (_, rows)) in plain.iter_mut().zip(ranked) {
        *place = rows;
    }
}

/// The pile with the logs of a bucking, and its plan.
pub(super) fn planned(
    pile: &Pile,
    stems: &[PileStem],
    rows: &[Vec<Span>],
    watch: &dyn Watch,
) -> Result<(Pile, PilePlan), PlanFault> {
    let bucked = with_rows(pile, stems, rows);
    let plan = plan_pile(&bucked, watch)?;
    Ok((bucked, plan))
}
