//! How many logs alike a list takes.
//!
//! # Method
//! The pile's own program is asked for `n` logs: doubling `n` until the list is filled, then halving between the most
//! that were not enough and the fewest that were; and then between those proven too few and those that are not. Every piece of a want is worth the same here and none beyond its
//! count is worth anything, so the list is filled exactly when the plan is worth all of it; and where the bound for `n`
//! logs is less, it is proven that `n` do not suffice.

use super::{Demand, Effort, LogFate, Pile, PilePlan, Watch, plan_pile};
use crate::open::{none_given, too_large};
use crate::plan::{Obstacle, PlanFault};
use crate::want::{Cut, Grading, Want};
use pithward_trade::grade::Prices as GradePrices;

/// No more logs than this are tried.
const MOST_LOGS: u32 = 20_000;

/// How many logs of one kind a list takes.
#[derive(Clone, Debug)]
pub enum Need {
    /// So many.
    Logs(Box<Needed>),
    /// No number of such logs fills the list; why.
    Impossible(Vec<Obstacle>),
    /// More than the most that were tried.
    TooMany {
        /// So many are not enough.
        tried: u32,
    },
}

/// So many logs of one kind.
#[derive(Clone, Debug)]
pub struct Needed {
    /// Enough: the plan below fills every count of the list from them.
    pub logs: u32,
    /// It is proven that fewer than this do not suffice.
    pub least: u32,
    /// How they are sawn; none of them is left whole.
    pub plan: PilePlan,
}

/// How many logs alike fill the counts of a list. `pile` holds one log, the kind; wants without a count, and what
/// pieces beyond a count are worth, are left out.
///
/// # Errors
/// As [`plan_pile`].
pub fn need(pile: &Pile, watch: &dyn Watch) -> Result<Need, PlanFault> {
    let pile = &counted(pile);
    let Some(kind) = pile.logs.first() else { return Ok(Need::Impossible(Vec::new())) };
    let obstacles = too_large(&kind.log, &pile.mill);
    if !obstacles.is_empty() {
        return Ok(Need::Impossible(obstacles));
    }
    let wants = &pile.menus[kind.menu];
    let none: Vec<Obstacle> = none_given(&kind.log, wants, None);
    let never = |obstacle: &Obstacle| {
        use crate::plan::WhyNone::{TooShort, TooThin};
        matches!(obstacle, Obstacle::NoPiece { why: TooShort { .. } | TooThin { .. }, .. })
    };
    if none.iter().any(never)
        || wants
            .iter()
            .zip(&pile.demands)
            .any(|(want, d)| d.count.is_some() && want.cuts.is_empty())
    {
        return Ok(Need::Impossible(none.into_iter().filter(never).collect()));
    }
    let whole: i64 = pile
        .demands
        .iter()
        .zip(wants)
        .map(|(demand, want)| {
            let each = want.cuts.iter().map(|cut| cut.worth).max().unwrap_or(0);
            i64::from(demand.count.unwrap_or(0)) * each
        })
        .sum();
    let try_with = |logs: u32| -> Result<(PilePlan, bool), PlanFault> {
        let many = Pile { logs: vec![kind.clone(); logs as usize], ..pile.clone() };
        let plan = plan_pile(&many, watch)?;
        // Ties between plans take a little off the bound: less than one millionth for each log.
        let short = plan.proof.bound.is_some_and(|bound| bound + i64::from(logs) + 1 < whole);
        Ok((plan, short))
    };
    let (mut least, mut too_few) = (1, 0);
    let mut logs = 1;
    let mut enough: Option<(u32, PilePlan)> = None;
    loop {
        let (plan, short) = try_with(logs)?;
        if plan.stopped {
            break;
        }
        if short {
            least = least.max(logs + 1);
        }
        if plan.shortages.is_empty() {
            // Logs that are left whole are not needed.
            let used = plan.logs.iter().filter(|fate| matches!(fate, LogFate::Sawn(_))).count();
            let used = u32::try_from(used).unwrap_or(logs).clamp(1, logs);
            enough = Some((used, plan));
        } else if logs >= MOST_LOGS {
            return Ok(Need::TooMany { tried: logs });
        } else {
            too_few = too_few.max(logs);
        }
        logs = match &enough {
            None => (logs * 2).min(MOST_LOGS),
            Some((fewest, _)) if fewest - too_few <= 1 => break,
            Some((fewest, _)) => too_few + (fewest - too_few) / 2,
        };
    }
    let Some((logs, mut plan)) = enough else { return Ok(Need::TooMany { tried: too_few }) };
    // Between the most that are proven too few and the fewest that are not, where the proof ends.
    let mut unproven = logs;
    while unproven > least {
        let middle = least + (unproven - least) / 2;
        let (plan, short) = try_with(middle)?;
        if plan.stopped {
            break;
        }
        if short { least = middle + 1 } else { unproven = middle }
    }
    if plan.logs.len() > logs as usize {
        (plan, _) = try_with(logs)?;
        if !plan.shortages.is_empty() {
            return Ok(Need::TooMany { tried: logs });
        }
    }
    Ok(Need::Logs(Box::new(Needed { logs, least: least.min(logs), plan })))
}

/// The list with its counted wants alone, each piece of a want worth as much as any other of it.
fn counted(pile: &Pile) -> Pile {
    let menu = |menu: &Vec<Want>| {
        let want = |(want, demand): (&Want, &Demand)| {
            let each = want.cuts.iter().map(|cut| cut.board_feet).max().unwrap_or(0).max(1);
            let cut = |cut: &Cut| Cut { worth: each, extra: 0, ..*cut };
            let cuts = if demand.count.is_some() {
                want.cuts.iter().map(cut).collect()
            } else {
                Vec::new()
            };
            // Good enough is good enough.
            let flat =
                |grading: Grading| Grading { prices: GradePrices::new([None; 7], 0), ..grading };
            Want { cuts, grading: want.grading.map(flat), ..want.clone() }
        };
        menu.iter().zip(&pile.demands).map(want).collect()
    };
    Pile {
        mill: pile.mill.clone(),
        logs: pile.logs.iter().take(1).cloned().collect(),
        menus: pile.menus.iter().map(menu).collect(),
        demands: pile.demands.iter().map(|demand| Demand { first: 0, ..*demand }).collect(),
        settings: pile.settings.clone(),
        effort: Effort::default(),
    }
}
