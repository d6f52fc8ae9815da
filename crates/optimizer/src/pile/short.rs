//! Why a want stays short, and what would cure it.
//!
//! A want that no log could hold is short by the logs' length or thickness. Else the logs are asked how many pieces of
//! it they hold when nothing else is sawn: fewer than were asked for, and the pile is too small; as many, and other
//! wants use them up. Both are exact for the methods searched, because for each log alone they are.
//!
//! The cure is sought among logs of the wood of which most of the pile is, in the shortest length that the want
//! accepts: the thickness is that of the pile's middle log, or the least that holds a piece where that is more. What
//! such a log holds of the want alone is searched too, so that many logs are enough, though fewer may do.

use super::classes::Classes;
use super::order::{could_hold, holds};
use super::{Cure, LogFate, Pile, PileLog, Shortage, WhyShort};
use crate::column::{Prices, Work};
use crate::looks::at_best;
use crate::master::Meter;
use crate::open::too_large;
use crate::plan::Tally;
use crate::want::{Cut, Want, WantId};
use pithward_geometry::Log;
use pithward_measure::Length;
use pithward_trade::boxed::smallest_log;
use pithward_trade::log_rule::usual_growth;
use rayon::prelude::*;

/// Classes that are asked at once how many pieces they hold.
const ASKED: usize = 256;

/// The wants that stay short, in the order of the list.
pub(super) fn shortages(
    classes: &Classes<'_>,
    fates: &[LogFate],
    tally: &[Tally],
    meter: &Meter<'_>,
) -> Vec<Shortage> {
    let pile = classes.pile;
    let short = tally.iter().enumerate().filter(|(_, tally)| tally.short() > 0);
    short
        .map(|(want, tally)| {
            let why = why(classes, fates, want, tally, meter);
            let missing = tally.short();
            Shortage { want: WantId(want), missing, why, cure: cure(pile, want, missing) }
        })
        .collect()
}

fn why(
    classes: &Classes<'_>,
    fates: &[LogFate],
    want: usize,
    tally: &Tally,
    meter: &Meter<'_>,
) -> WhyShort {
    let pile = classes.pile;
    let own = |log: &PileLog| -> &Want { &pile.menus[log.menu][want] };
    let accepted: Vec<&PileLog> =
        classes.all.iter().map(|class| class.log).filter(|log| !own(log).cuts.is_empty()).collect();
    let Some(longest) = accepted.iter().map(|log| log.log.length()).max() else {
        return WhyShort::NoLog;
    };
    let shortest =
        |log: &&PileLog| own(log).cuts.iter().map(|cut| cut.take).min().unwrap_or(Length::MAX);
    let takes = accepted.iter().map(shortest).min().unwrap_or(Length::MAX);
    let long: Vec<&&PileLog> =
        accepted.iter().filter(|log| log.log.length() >= shortest(log)).collect();
    if long.is_empty() {
        return WhyShort::TooShort { takes, longest };
    }
    if !long.iter().any(|log| could_hold(&log.log, own(log))) {
        let least = |log: &&&PileLog| thinnest(own(log));
        let has = |log: &&&PileLog| {
            let radius = log.log.radius_over_length(shortest(log)).unwrap_or(0.0);
            Length::from_inches_f64_down(2.0 * radius)
        };
        let diameter = long.iter().filter_map(least).min().unwrap_or(Length::MAX);
        let thickest = long.iter().map(has).max().unwrap_or(Length::ZERO);
        return WhyShort::TooThin { diameter, thickest };
    }
    let wanted = u64::from(tally.wanted.unwrap_or(0));
    match most_pieces(classes, want, wanted, meter) {
        None => WhyShort::NotSought,
        Some(most) if most < wanted => {
            WhyShort::TooFew { most: u32::try_from(most).unwrap_or(u32::MAX) }
        }
        Some(_) => {
            let able = (0..pile.logs.len()).filter(|log| holds(pile, *log, want));
            let mut by: Vec<usize> = able
                .filter_map(|log| match &fates[log] {
                    LogFate::Sawn(plan) => Some(plan),
                    _ => None,
                })
                .flat_map(|plan| plan.products.iter().map(|product| product.cut.want.0))
                .filter(|other| *other != want)
                .collect();
            by.sort_unstable();
            by.dedup();
            WhyShort::UsedUp { by: by.into_iter().map(WantId).collect() }
        }
    }
}

/// The least diameter that holds a piece of a want in its shortest length.
fn thinnest(want: &Want) -> Option<Length> {
    let takes = want.cuts.iter().map(|cut| cut.take).min()?;
    let shortest = want.cuts.iter().filter(|cut| cut.take == takes);
    shortest.filter_map(|cut| smallest_log(cut.thickness, cut.width, want.wane).ok()).min()
}

/// The list with one want alone, every piece of which is worth one.
fn alone(menu: &[Want], want: usize) -> Vec<Want> {
    let one = |cut: &Cut| Cut { worth: 1_000_000, extra: 1_000_000, ..*cut };
    let only = |(n, other): (usize, &Want)| Want {
        count: None,
        wane: other.wane,
        heart: other.heart,
        tolerates: other.tolerates,
        grading: other.grading,
        rings: other.rings.clone(),
        cuts: if n == want { other.cuts.iter().map(one).collect() } else { Vec::new() },
    };
    menu.iter().enumerate().map(only).collect()
}

/// How many pieces of a want the logs hold when nothing else is sawn from them; no more than `enough` are counted.
/// `None` when it was told to stop.
fn most_pieces(classes: &Classes<'_>, want: usize, enough: u64, meter: &Meter<'_>) -> Option<u64> {
    // At their best: no more pieces than that are good enough.
    let menus = classes.pile.menus.iter().map(|menu| alone(&at_best(menu), want));
    let menus: Vec<Vec<Want>> = menus.collect();
    // However much work it takes.
    let prices = Prices::of(vec![0; classes.pile.demands.len()], Work::TIES);
    let mut most = 0;
    let all: Vec<usize> = (0..classes.all.len()).collect();
    for some in all.chunks(ASKED) {
        if meter.stopped() {
            return None;
        }
        let pieces = |class: &usize| {
            let menu = &menus[classes.all[*class].log.menu];
            let (found, _) = classes.search(*class, menu, &prices, 0);
            let each = found.map_or(0, |(pattern, ..)| {
                pattern.pieces.iter().map(|p| u64::from(p.pieces)).sum()
            });
            each * classes.all[*class].members.len() as u64
        };
        most += some.par_iter().with_max_len(8).map(pieces).sum::<u64>();
        if most >= enough {
            break;
        }
    }
    Some(most)
}

/// Logs that would be enough.
fn cure(pile: &Pile, want: usize, missing: u32) -> Option<Cure> {
    // The wood that most logs of the pile are of, among those that are accepted.
    let logs = |menu: usize| pile.logs.iter().filter(|log| log.menu == menu).count();
    let accepting = (0..pile.menus.len()).filter(|menu| !pile.menus[*menu][want].cuts.is_empty());
    let menu = accepting.max_by_key(|menu| (logs(*menu), std::cmp::Reverse(*menu)))?;
    let own = &pile.menus[menu][want];
    let (inch, metric) = if pile.mill.step.as_nm() % 100_000 == 0 {
        (Length::mm(10), true)
    } else {
        (Length::inches(1), false)
    };
    let takes = own.cuts.iter().map(|cut| cut.take).min()?;
    let length = takes.ceil_to(if metric { Length::mm(50) } else { Length::inches(1) });
    let mut ends: Vec<Length> =
        pile.logs.iter().filter(|log| log.menu == menu).map(|log| log.log.small_end()).collect();
    ends.sort_unstable();
    let middle = ends.get(ends.len() / 2).copied().unwrap_or_default().floor_to(inch);
    let bark =
        pile.logs.iter().filter(|log| log.menu == menu).map(|log| log.log.bark_butt()).max()?;
    let small_end = middle.max(thinnest(own)?.ceil_to(inch));
    let log = Log::new(small_end, small_end + usual_growth(length), length, bark, bark).ok()?;
    if !too_large(&log, &pile.mill).is_empty() {
        return None;
    }
    let one = Pile {
        mill: pile.mill.clone(),
        logs: vec![PileLog { log, menu }],
        menus: pile.menus.clone(),
        demands: pile.demands.clone(),
        settings: pile.settings.clone(),
        effort: pile.effort,
    };
    let classes = Classes::new(&one);
    let each = most_pieces(&classes, want, u64::MAX, &Meter::new(&()))?;
    let each = u32::try_from(each).ok().filter(|each| *each > 0)?;
    Some(Cure { logs: missing.div_ceil(each), each, small_end, length, menu })
}
