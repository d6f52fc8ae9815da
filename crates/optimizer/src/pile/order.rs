//! The order in which to saw a pile, and which pieces come beyond a count.
//!
//! # Order
//! 1. Blocking, so that all else can be stacked on it; the poorest logs first, which here are the thinnest.
//! 2. The logs that alone of those left can give a want of the list, want by want: if one of them fails, it is known while
//!    others still stand. Where all that are left can give it there are no such logs.
//! 3. The rest, alike together: by wood and by the way of sawing, and within a group by the cant's height and then the
//!    thickest first, so that neighbours are set up alike. Of one wood the groups that give the first wants of the list
//!    come first.
//!
//! # Beyond a count
//! When more pieces of a want come than were asked for, those count that gain most by it, and of equals those that are
//! sawn first.

use super::classes::Classes;
use super::{LogFate, Lot, LotReason, Pile};
use crate::family::Method;
use crate::master::UNIT;
use crate::plan::{LogPlan, Tally};
use crate::rebuilt::pile_worth;
use crate::want::{Want, WantId};
use pithward_geometry::{Log, Support};
use pithward_measure::Length;
use pithward_trade::boxed::smallest_log;
use std::cmp::Reverse;
use std::sync::Arc;

/// The order of sawing.
pub(super) fn order(classes: &Classes<'_>, fates: &[LogFate]) -> Vec<Lot> {
    let pile = classes.pile;
    let plan = |n: usize| match &fates[n] {
        LogFate::Sawn(plan) => Some(plan.as_ref()),
        _ => None,
    };
    let gives = |n: usize, want: usize| {
        plan(n).is_some_and(|plan| plan.products.iter().any(|product| product.cut.want.0 == want))
    };
    let mut left: Vec<usize> = (0..fates.len()).filter(|n| plan(*n).is_some()).collect();
    let mut lots: Vec<Lot> = Vec::new();
    let blocking = |n: &usize| {
        pile.demands.iter().enumerate().any(|(want, demand)| demand.blocking && gives(*n, want))
    };
    let (mut first, rest): (Vec<usize>, Vec<usize>) = left.into_iter().partition(blocking);
    first.sort_by_key(|n| (pile.logs[*n].log.small_end(), *n));
    let enough = enough(pile, &first, fates);
    left = first.split_off(enough);
    left.extend(rest);
    left.sort_unstable();
    push(&mut lots, LotReason::Blocking, first);
    // The wants whose every possible log gives them already.
    let listed = (0..pile.demands.len()).filter(|want| pile.demands[*want].count.is_some());
    for want in listed {
        let able: Vec<usize> = (0..pile.logs.len()).filter(|n| holds(pile, *n, want)).collect();
        let giving = left.iter().filter(|n| gives(**n, want)).count();
        if able.iter().any(|n| !gives(*n, want)) || giving == left.len() {
            continue;
        }
        let (mut only, rest): (Vec<usize>, Vec<usize>) =
            left.into_iter().partition(|n| gives(*n, want));
        left = rest;
        only.sort_by_key(|n| (Reverse(pile.logs[*n].log.small_end()), *n));
        push(&mut lots, LotReason::Only(WantId(want)), only);
    }
    let mut groups: Vec<((usize, Method), Vec<usize>)> = Vec::new();
    for n in left {
        let Some(plan) = plan(n) else { continue };
        let key = (pile.logs[n].menu, plan.method);
        match groups.iter_mut().find(|(known, _)| *known == key) {
            Some((_, group)) => group.push(n),
            None => groups.push((key, vec![n])),
        }
    }
    let first_want = |group: &[usize]| {
        let wants = group.iter().filter_map(|n| plan(*n)).flat_map(|plan| &plan.products);
        wants.map(|product| product.cut.want.0).min()
    };
    groups.sort_by_key(|((menu, method), group)| (*menu, first_want(group), *method));
    for ((_, method), mut group) in groups {
        let height = |n: &usize| plan(*n).and_then(cant);
        group.sort_by_key(|n| (Reverse(height(n)), Reverse(pile.logs[*n].log.small_end()), *n));
        let first = group.first().and_then(height);
        let cant = first.filter(|first| group.iter().all(|n| height(n) == Some(*first)));
        push(&mut lots, LotReason::Alike { method, cant }, group);
    }
    lots
}

fn push(lots: &mut Vec<Lot>, reason: LotReason, logs: Vec<usize>) {
    if !logs.is_empty() {
        lots.push(Lot { reason, logs });
    }
}

/// How many of the first of some logs give all the blocking that was asked for; all of them where it is as much as
/// comes.
fn enough(pile: &Pile, logs: &[usize], fates: &[LogFate]) -> usize {
    let mut missing: Vec<i64> = pile
        .demands
        .iter()
        .map(|demand| if demand.blocking { demand.count.map_or(i64::MAX, i64::from) } else { 0 })
        .collect();
    for (n, log) in logs.iter().enumerate() {
        if missing.iter().all(|missing| *missing <= 0) {
            return n;
        }
        if let LogFate::Sawn(plan) = &fates[*log] {
            for product in &plan.products {
                missing[product.cut.want.0] -= 1;
            }
        }
    }
    logs.len()
}

/// Whether a log that goes on the mill could hold one piece of a want.
pub(super) fn holds(pile: &Pile, log: usize, want: usize) -> bool {
    let entry = &pile.logs[log];
    crate::open::too_large(&entry.log, &pile.mill).is_empty()
        && could_hold(&entry.log, &pile.menus[entry.menu][want])
}

/// Whether a log could hold one piece of a want.
pub(super) fn could_hold(log: &Log, want: &Want) -> bool {
    want.cuts.iter().any(|cut| {
        let least = smallest_log(cut.thickness, cut.width, want.wane);
        let has = log
            .radius_over_length(cut.take)
            .map(|radius| Length::from_inches_f64_down(2.0 * radius));
        least.is_ok_and(|least| has.is_some_and(|has| has >= least))
    })
}

/// The height of a plan's cant between its two faces, where it has one.
fn cant(plan: &LogPlan) -> Option<Length> {
    match plan.method {
        Method::Through | Method::ThroughTurned | Method::Around | Method::Quarter => None,
        Method::TwoSidedCant | Method::FourSidedCant | Method::BoxedHeart => {
            let second = plan.order.stages.get(1)?;
            let on_face = matches!(second.rest.on, Support::Face(_));
            second.passes.last().filter(|_| on_face).map(|pass| pass.height)
        }
    }
}

/// A piece, by what it gains by being within its count and by when it is sawn.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Gain {
    by: Reverse<i64>,
    /// Of its log in the order of sawing.
    turn: usize,
    log: usize,
    /// In the log's products.
    place: usize,
}

/// Says of every piece whether it is beyond its want's count, in the order of sawing, and what each log is worth by
/// that.
pub(super) fn share_out(pile: &Pile, order: &[Lot], fates: &mut [LogFate]) {
    let mut gains: Vec<Vec<Gain>> = vec![Vec::new(); pile.demands.len()];
    let logs: Vec<usize> = order.iter().flat_map(|lot| lot.logs.iter().copied()).collect();
    for (turn, log) in logs.iter().enumerate() {
        let LogFate::Sawn(plan) = &fates[*log] else { continue };
        let menu = &pile.menus[pile.logs[*log].menu];
        for (place, product) in plan.products.iter().enumerate() {
            let (worth, extra) = product.worths(menu);
            let gains = &mut gains[product.cut.want.0];
            gains.push(Gain { by: Reverse(worth - extra), turn, log: *log, place });
        }
    }
    let mut beyond: Vec<Vec<usize>> = vec![Vec::new(); fates.len()];
    for (demand, mut gains) in pile.demands.iter().zip(gains) {
        let Some(count) = demand.count else { continue };
        gains.sort_unstable();
        for Gain { log, place, .. } in gains.into_iter().skip(count as usize) {
            beyond[log].push(place);
        }
    }
    for log in logs {
        let LogFate::Sawn(plan) = &mut fates[log] else { continue };
        let menu = &pile.menus[pile.logs[log].menu];
        let mut own = LogPlan::clone(plan);
        let mut worth = 0;
        // What is wanted is wanted from the pile, not from the log.
        own.tally = vec![Tally::default(); own.tally.len()];
        for (place, product) in own.products.iter_mut().enumerate() {
            product.extra = beyond[log].contains(&place);
            worth += pile_worth(menu, &pile.demands, product);
            let tally = &mut own.tally[product.cut.want.0];
            if product.extra { tally.extra += 1 } else { tally.given += 1 }
        }
        own.worth = worth;
        let changed =
            own.products != plan.products || own.worth != plan.worth || own.tally != plan.tally;
        if changed {
            *plan = Arc::new(own);
        }
    }
}

/// What all pieces are worth under some counts, what puts the list first included, in the program's units.
pub(crate) fn worth_under(
    pile: &Pile,
    fates: &[LogFate],
    counts: impl Iterator<Item = Option<u32>>,
) -> i128 {
    let mut gains: Vec<Vec<i64>> = vec![Vec::new(); pile.demands.len()];
    let mut worth = 0;
    let counts: Vec<Option<u32>> = counts.collect();
    for (fate, log) in fates.iter().zip(&pile.logs) {
        let LogFate::Sawn(plan) = fate else { continue };
        for product in &plan.products {
            let (within, extra) = product.worths(&pile.menus[log.menu]);
            match counts[product.cut.want.0] {
                Some(_) => {
                    worth += i128::from(extra);
                    gains[product.cut.want.0].push(within - extra);
                }
                None => worth += i128::from(within),
            }
        }
    }
    for (count, mut gains) in counts.iter().zip(gains) {
        gains.sort_unstable_by_key(|gain| Reverse(*gain));
        let within = gains.into_iter().take(count.unwrap_or(0) as usize);
        worth += within.map(i128::from).sum::<i128>();
    }
    worth * i128::from(UNIT)
}
