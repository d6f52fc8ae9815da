//! The chosen patterns sawn and replayed. What the mill cannot saw, or the replay does not confirm, is taken away from
//! the logs that it was chosen for, and they choose again.

use super::classes::{Classes, Mark};
use super::graded::Offer;
use super::{LogFate, Stage};
use crate::column::{Columns, Prices};
use crate::looks::Giving;
use crate::master::{Choice, Master, Meter, Pattern};
use crate::open::{Made, fewer, log_plan, none_given, too_large};
use crate::plan::{LogPlan, Obstacle, Product};
use crate::site::Site;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Rounds of choosing again at most; a mill with a shallow throat takes a few.
const ROUNDS: u32 = 24;

/// The plans of classes by the patterns they are sawn by.
#[derive(Debug, Default)]
pub(super) struct Sawn {
    plans: BTreeMap<(usize, usize), Arc<LogPlan>>,
}

impl Sawn {
    /// What the work of the whole plan costs.
    pub(super) fn effort(&self, choice: &Choice<Arc<Mark>>) -> i128 {
        let used = choice.uses.iter().enumerate().flat_map(|(class, uses)| {
            uses.iter().filter(move |(pattern, _)| self.plans.contains_key(&(class, *pattern)))
        });
        used.map(|(pattern, logs)| {
            i128::from(choice.patterns[*pattern].0.effort) * i128::from(*logs)
        })
        .sum()
    }
}

/// Saws and replays everything that is chosen, until all of it is confirmed. Besides the plans, how many patterns were
/// refused.
pub(super) fn saw(
    classes: &Classes<'_>,
    master: &mut Master<'_, Classes<'_>>,
    meter: &Meter<'_>,
) -> (Sawn, u32) {
    let mut sawn = Sawn::default();
    let mut refused = 0;
    for _ in 0..ROUNDS {
        let choice = master.choice();
        let used = choice.uses.iter().enumerate();
        let open: Vec<(usize, usize)> = used
            .flat_map(|(class, uses)| uses.iter().map(move |(pattern, _)| (class, *pattern)))
            .filter(|key| !sawn.plans.contains_key(key))
            .collect();
        if open.is_empty() {
            break;
        }
        let made: Vec<Option<LogPlan>> = open
            .par_iter()
            .with_max_len(16)
            .map(|(class, pattern)| {
                if meter.count().is_multiple_of(256) {
                    meter.tell(Stage::Replaying, None);
                }
                made(classes, *class, choice.patterns[*pattern].1.as_deref()?)
            })
            .collect();
        let mut not: Vec<(usize, usize)> = Vec::new();
        let mut poorer: Vec<(usize, usize)> = Vec::new();
        for (key, made) in open.into_iter().zip(made) {
            match made {
                Some(plan) => match poorer_than_known(classes, &choice, key, &plan) {
                    Some((pattern, mark)) => {
                        master.offer(key.0, pattern, mark);
                        poorer.push(key);
                    }
                    None => {
                        sawn.plans.insert(key, Arc::new(plan));
                    }
                },
                None => not.push(key),
            }
        }
        if not.is_empty() && poorer.is_empty() {
            break;
        }
        refused += u32::try_from(not.len()).unwrap_or(u32::MAX);
        let mut offered: Vec<usize> = not.iter().map(|(class, _)| *class).collect();
        offered.dedup();
        for class in offered {
            offer_less(classes, master, class);
        }
        not.extend(poorer);
        master.refuse(&not);
    }
    (sawn, refused)
}

/// What a pattern gives of a class, where its pieces look poorer there than in the log that it was found in.
fn poorer_than_known(
    classes: &Classes<'_>,
    choice: &Choice<Arc<Mark>>,
    (class, pattern): (usize, usize),
    plan: &LogPlan,
) -> Option<Offer> {
    let (known, mark) = &choice.patterns[pattern];
    let mark = mark.as_ref().filter(|mark| mark.giving.is_some() && mark.class != class)?;
    let piece = |product: &Product| {
        let (worth, extra) = product.worths(classes.wants(class));
        (product.cut.want.0, worth, extra)
    };
    let own = Pattern::new(known.effort, plan.products.iter().map(piece));
    let poorer = own.value(&choice.prices) < known.value(&choice.prices);
    poorer.then(|| (own, Arc::new(Mark { only: Some(class), class, ..Mark::clone(mark) })))
}

/// A pattern sawn from a class and replayed; `None` when the mill cannot saw it or the replay does not confirm it.
fn made(classes: &Classes<'_>, class: usize, mark: &Mark) -> Option<LogPlan> {
    let (pile, wants) = (classes.pile, classes.wants(class));
    let view = classes.view(class, mark.frame);
    let columns = Columns::new(&view, pile.mill.crosscut_kerf, classes.menu(class));
    let site = Site::new(&view, &pile.mill, &columns);
    let giving = mark.giving.as_ref().unwrap_or(&Giving::Worth);
    match log_plan(&site, (wants, giving), &pile.settings, &mark.found) {
        Ok(Made::Plan(plan)) => Some(LogPlan { rests: classes.all[class].rests, ..*plan }),
        Ok(Made::Unsawable(_)) => None,
        Err(fault) => {
            // A fault of this program: the log is sawn by another pattern, and tests hear of it.
            debug_assert!(false, "{fault}");
            None
        }
    }
}

/// Offers a class what it can be sawn into from fewer sizes.
fn offer_less(classes: &Classes<'_>, master: &mut Master<'_, Classes<'_>>, class: usize) {
    let found = master.choice().prices;
    for fewer in fewer(classes.menu(class), &classes.pile.mill) {
        for prices in [found.clone(), vec![0; found.len()]] {
            let prices = Prices::of(prices, classes.work);
            if let (Some((pattern, mark)), ..) = classes.priced(class, &fewer, &prices, 0) {
                master.offer(class, pattern, mark);
            }
        }
    }
}

/// What becomes of every log.
pub(super) fn fates(
    classes: &Classes<'_>,
    choice: &Choice<Arc<Mark>>,
    sawn: &Sawn,
    stopped: bool,
) -> Vec<LogFate> {
    let pile = classes.pile;
    let mut fates: Vec<LogFate> =
        pile.logs.iter().map(|log| LogFate::Impossible(too_large(&log.log, &pile.mill))).collect();
    for (n, class) in classes.all.iter().enumerate() {
        let mut members = class.members.iter();
        for (pattern, logs) in &choice.uses[n] {
            for member in members.by_ref().take(*logs as usize) {
                fates[*member] = match sawn.plans.get(&(n, *pattern)) {
                    Some(plan) => LogFate::Sawn(Arc::clone(plan)),
                    None => LogFate::LeftWhole,
                };
            }
        }
        let Some(rest) = members.as_slice().first() else { continue };
        let fate = left(classes, n, choice.suitable[n].len() > 1, stopped);
        let rest = class.members.iter().skip_while(|member| *member != rest);
        for member in rest {
            fates[*member] = fate.clone();
        }
    }
    fates
}

/// What becomes of a log that nothing was chosen for.
fn left(classes: &Classes<'_>, class: usize, has_patterns: bool, stopped: bool) -> LogFate {
    if has_patterns {
        return LogFate::LeftWhole;
    }
    if stopped {
        return LogFate::Unplanned;
    }
    let obstacles: Vec<Obstacle> =
        none_given(&classes.all[class].log.log, classes.wants(class), None);
    // Where something could come from it, it was not worth its work, or the mill's limits were in the way.
    let outbid = |obstacle: &Obstacle| {
        matches!(obstacle, Obstacle::NoPiece { why: crate::plan::WhyNone::Outbid, .. })
    };
    if obstacles.iter().any(outbid) {
        LogFate::LeftWhole
    } else if obstacles.is_empty() {
        LogFate::Impossible(vec![Obstacle::NoWant])
    } else {
        LogFate::Impossible(obstacles)
    }
}
