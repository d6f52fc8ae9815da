//! When the blade comes near metal.
//!
//! A blade that meets metal is spoilt, and often the log is given up with it. So where plans are worth the same, the one
//! that comes near metal in fewer passes is better; of those as many, the one that comes there later: what is clear of it is
//! off the log then. The orders in which a pattern may be sawn ([`crate::sawing::Starts`]) are compared. What it would take
//! to come there less often, or later, is told ([`Later`]); worth is never given for it unasked.

use crate::family::Method;
use crate::plan::LogPlan;
use pithward_geometry::{FlawKind, Log, Place, SawingOrder};

/// How often passes come near metal, and how soon; the less is the better.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct NearMetal {
    /// Passes that come near it, edging included.
    pub passes: usize,
    /// Summed over those through the log and what is put back of it: passes clear of metal that come after. None where
    /// they come last.
    pub sooner: usize,
}

impl NearMetal {
    /// Of an order, the passes of which these come near, from 1 in their stage.
    pub fn of(order: &SawingOrder, near: &[(Place, usize)]) -> Self {
        let log = (1..).zip(&order.stages).map(|(stage, own)| (Place::Log { stage }, own));
        let resaws = (1..).zip(&order.resaws).flat_map(|(resaw, own)| {
            (1..).zip(&own.stages).map(move |(stage, own)| (Place::Resaw { resaw, stage }, own))
        });
        let passes = log
            .chain(resaws)
            .flat_map(|(place, stage)| (1..=stage.passes.len()).map(move |pass| (place, pass)));
        Self { passes: near.len(), sooner: sooner(passes.map(|pass| near.contains(&pass))) }
    }
}

impl LogPlan {
    /// How often its passes come near metal, and how soon.
    pub fn near_metal(&self) -> NearMetal {
        NearMetal::of(&self.order, &self.replayed.metal)
    }
}

/// Summed over passes near metal, how many passes that are clear of it come after.
pub(crate) fn sooner(near: impl Iterator<Item = bool>) -> usize {
    let (mut met, mut sooner) = (0, 0);
    for near in near {
        if near { met += 1 } else { sooner += met }
    }
    sooner
}

/// Another way to saw a log, that comes near metal less often or later, and what it gives less.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Later {
    /// How it is sawn.
    pub method: Method,
    /// How often it comes near, and how soon.
    pub near: NearMetal,
    /// What it is worth less, millionths.
    pub worth: i64,
    /// What it gives less, millionths of a board foot; negative where it is worth less, but gives more.
    pub board_feet: i64,
}

impl Later {
    /// The best of these plans that comes near metal less often or later than one that is worth more.
    pub(crate) fn than<'p>(
        plan: &LogPlan,
        others: impl Iterator<Item = &'p LogPlan>,
    ) -> Option<Self> {
        let own = plan.near_metal();
        if own == NearMetal::default() {
            return None;
        }
        let later = |other: &&LogPlan| !other.products.is_empty() && other.near_metal() < own;
        let best = others.filter(later).max_by(|a, b| {
            a.worth.cmp(&b.worth).then_with(|| b.near_metal().cmp(&a.near_metal()))
        })?;
        Some(Self {
            method: best.method,
            near: best.near_metal(),
            worth: plan.worth - best.worth,
            board_feet: plan.board_feet - best.board_feet,
        })
    }
}

/// Whether metal is in a log, or may be.
pub(crate) fn holds_metal(log: &Log) -> bool {
    log.flaws().iter().any(|flaw| flaw.kind == FlawKind::Metal)
}

#[cfg(test)]
mod tests {
    use super::sooner;

    #[test]
    fn passes_near_metal_come_late_where_few_come_after() {
        for (passes, after) in [("", 0), ("nnn", 0), ("...nn", 0), (".n.", 1), ("nn..n.", 7)] {
            assert_eq!(sooner(passes.chars().map(|pass| pass == 'n')), after, "{passes}");
        }
    }
}
