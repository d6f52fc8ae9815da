//! The pile: which log makes what, so that the list is filled and the most is made of the rest.
//!
//! # The road
//!
//! ```text
//! logs -classes-> prices, proof, a pattern for every log -saw, replay-> plans -order-> who gets what, what is short
//! ```
//!
//! | module | what it holds |
//! |---|---|
//! | `classes` | logs that are alike, and their exact search as [`crate::master`] asks for it |
//! | `graded` | the same where boards are worth what they look like |
//! | `sawn` | the chosen patterns sawn and replayed; what is refused is chosen anew |
//! | `order` | the order of sawing, and which pieces are beyond a count |
//! | `short` | why a want stays short, and what would cure it |
//! | `need` | how many logs a list takes |

mod again;
pub(crate) mod classes;
mod graded;
mod need;
pub(crate) mod order;
mod plan;
mod sawn;
mod short;

pub use again::{Again, AgainPlan, Hidden, Keep, SawnAgain};
pub use need::{Need, Needed, need};
pub use plan::{
    AsFar, Cure, LogFate, Lot, LotReason, PilePlan, PileProof, Progress, Shortage, Stage, Watch,
    WhyShort,
};

use crate::master::{Choice, Line, Master, Meter, Pattern, UNIT};
use crate::plan::{PlanFault, Settings, Tally, Taper};
use crate::want::Want;
use classes::{Classes, Mark};
use pithward_geometry::{Heart, Log, Mill};
use sawn::Sawn;
use std::sync::Arc;

/// The logs of one job, what is wanted from them, and the mill.
#[derive(Clone, Debug)]
pub struct Pile {
    /// The mill.
    pub mill: Mill,
    /// In the order of the job; ties between plans go by it.
    pub logs: Vec<PileLog>,
    /// The wants as each kind of wood serves them. Every menu has the same wants in the same order; a want that
    /// does not accept the wood has no cuts there.
    pub menus: Vec<Vec<Want>>,
    /// What holds for a want whatever the wood: one for each want, in the order of the menus.
    pub demands: Vec<Demand>,
    /// How to search.
    pub settings: Settings,
    /// What the work of sawing weighs against worth.
    pub effort: Effort,
}

impl Pile {
    /// For every log whether its boards are worth what they look like: it takes many times as long to search.
    pub fn is_graded(&self) -> Vec<bool> {
        let menus = graded::at_best(&self.menus);
        self.logs.iter().map(|log| menus[log.menu].is_some()).collect()
    }
}

/// One log of a pile.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PileLog {
    /// The log.
    pub log: Log,
    /// Its place in [`Pile::menus`].
    pub menu: usize,
}

/// One want over the whole pile.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Demand {
    /// How many; `None` for as many as come. The same as [`Want::count`] in every menu.
    pub count: Option<u32>,
    /// How much of the worth of a piece within the count is there only so that the list is filled before anything
    /// else, millionths: it is part of every [`Cut::worth`](crate::Cut) of the want, and no part of what the lumber
    /// is worth to anyone.
    pub first: i64,
    /// Blocking and stickers: sawn before the rest, so that the rest can be stacked on it.
    pub blocking: bool,
}

/// What the work of sawing weighs against the worth of lumber.
///
/// The search charges a pass for every face that it opens, every board that it frees and every strip that is not square
/// already. What edging takes less by batches, or more by second edges, is not in that.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Effort {
    /// A pass of the blade, millionths of the unit of worth.
    pub pass: i64,
    /// A turn of the log, the same.
    pub turn: i64,
}

/// Plans a pile: one pattern for every log, chosen together, sawn, replayed at the exact and at the printed heights,
/// with the proof of how good the choice is.
///
/// # Errors
/// Settings that contradict the mill.
pub fn plan_pile(pile: &Pile, watch: &dyn Watch) -> Result<PilePlan, PlanFault> {
    check(pile)?;
    let (classes, lines, meter) = (Classes::new(pile), lines(pile), Meter::new(watch));
    let mut master = Master::new(&classes, &lines, &meter);
    master.solve();
    let bound = master.bound();
    // What stays short is proven again for what can be filled: how good the rest is would drown in what is missing.
    let reached = reached(&lines, &master.pieces());
    let mut master = match &reached {
        Some(reached) => {
            let mut master = master.under(reached);
            master.solve();
            master
        }
        None => master,
    };
    let (sawn, refused) = sawn::saw(&classes, &mut master, &meter);
    let reached = reached.as_deref();
    let outcome = Outcome { bound, reached, choice: master.choice(), sawn, refused };
    Ok(assemble(&classes, &outcome, &meter))
}

/// The wants with no more asked for than these pieces fill; `None` where they fill all of them.
pub(crate) fn reached(lines: &[Line], pieces: &[u32]) -> Option<Vec<Line>> {
    let short = |(line, pieces): (&Line, &u32)| line.count.is_some_and(|count| pieces < &count);
    let reach = |(line, pieces): (&Line, &u32)| Line {
        count: line.count.map(|count| count.min(*pieces)),
        ..*line
    };
    let any = lines.iter().zip(pieces).any(short);
    any.then(|| lines.iter().zip(pieces).map(reach).collect())
}

/// A pattern as the program over patterns knows it, and for how many logs of a class it is used: see [`program_of`].
pub type Program = Choice<()>;

/// The program over patterns of a pile as it stands at the end, before anything is sawn: for checks by another solver.
///
/// # Errors
/// As [`plan_pile`].
pub fn program_of(pile: &Pile) -> Result<(Program, Vec<Line>, Vec<u32>), PlanFault> {
    check(pile)?;
    let (classes, lines, meter) = (Classes::new(pile), lines(pile), Meter::new(&()));
    let mut master = Master::new(&classes, &lines, &meter);
    master.solve();
    let logs =
        classes.all.iter().map(|class| u32::try_from(class.members.len()).unwrap_or(u32::MAX));
    let choice = master.choice();
    let unmarked = |(pattern, mark): (Pattern, Option<Arc<Mark>>)| (pattern, mark.map(|_| ()));
    let program = Choice {
        patterns: choice.patterns.into_iter().map(unmarked).collect(),
        suitable: choice.suitable,
        uses: choice.uses,
        value: choice.value,
        bound: choice.bound,
        prices: choice.prices,
        programs: choice.programs,
        searches: choice.searches,
        states: choice.states,
        stopped: choice.stopped,
    };
    Ok((program, lines, logs.collect()))
}

pub(crate) fn check(pile: &Pile) -> Result<(), PlanFault> {
    let Settings { methods, tolerance, .. } = &pile.settings;
    if *tolerance < pile.mill.step {
        return Err(PlanFault::Tolerance { tolerance: *tolerance, step: pile.mill.step });
    }
    if methods.is_empty() {
        return Err(PlanFault::NoMethods);
    }
    Ok(())
}

/// The wants as the program over patterns sees them.
pub(crate) fn lines(pile: &Pile) -> Vec<Line> {
    let line = |(n, demand): (usize, &Demand)| {
        let cuts = pile.menus.iter().filter_map(|menu| menu.get(n)).flat_map(|want| &want.cuts);
        let most = cuts.map(|cut| cut.worth - cut.extra).max().unwrap_or(0).max(0);
        Line { count: demand.count, most, start: demand.first }
    };
    pile.demands.iter().enumerate().map(line).collect()
}

/// What came of the search.
struct Outcome<'a> {
    /// What is proven under the counts as they were asked for.
    bound: Option<i128>,
    /// The wants as far as they could be filled, where that is less.
    reached: Option<&'a [Line]>,
    choice: Choice<Arc<Mark>>,
    sawn: Sawn,
    refused: u32,
}

/// Puts the plans of the logs together.
fn assemble(classes: &Classes<'_>, outcome: &Outcome<'_>, meter: &Meter<'_>) -> PilePlan {
    let pile = classes.pile;
    let Outcome { choice, sawn, .. } = outcome;
    let mut logs = sawn::fates(classes, choice, sawn, meter.stopped());
    let order = order::order(classes, &logs);
    order::share_out(pile, &order, &mut logs);
    let tally = tally_of(pile, &logs);
    let shortages = short::shortages(classes, &logs, &tally, meter);
    let proof = proof(classes, outcome, &logs, (&tally, &shortages));
    put_together(pile, logs, order, shortages, (proof, meter.stopped()))
}

/// What all logs give of every want.
fn tally_of(pile: &Pile, logs: &[LogFate]) -> Vec<Tally> {
    let none = pile.demands.iter().map(|demand| Tally { wanted: demand.count, ..Tally::default() });
    let mut tally: Vec<Tally> = none.collect();
    for fate in logs {
        let LogFate::Sawn(plan) = fate else { continue };
        for (all, own) in tally.iter_mut().zip(&plan.tally) {
            all.given += own.given;
            all.extra += own.extra;
        }
    }
    tally
}

/// The plan of a pile from those of its logs, in an order; what it is worth in all follows.
pub fn put_together(
    pile: &Pile,
    logs: Vec<LogFate>,
    order: Vec<Lot>,
    shortages: Vec<Shortage>,
    (proof, stopped): (PileProof, bool),
) -> PilePlan {
    let plans = || {
        logs.iter().zip(&pile.logs).filter_map(|(fate, log)| match fate {
            LogFate::Sawn(plan) => Some((plan, log)),
            _ => None,
        })
    };
    let worth: i64 = plans().map(|(plan, _)| plan.worth).sum();
    let solid: f64 = plans().map(|(_, log)| log.log.volume()).sum();
    let pieces: f64 = plans().map(|(plan, log)| plan.share_of_solid * log.log.volume()).sum();
    PilePlan {
        order,
        worth,
        board_feet: plans().map(|(plan, _)| plan.board_feet).sum(),
        share_of_solid: if solid > 0.0 { pieces / solid } else { 0.0 },
        tally: tally_of(pile, &logs),
        shortages,
        proof,
        stopped,
        logs,
    }
}

/// Whether every log is round, sound and laid level, and no want minds where its pith or its rings are, or what it looks like:
/// then each search is exact.
fn is_alike(pile: &Pile) -> bool {
    let wants = || pile.menus.iter().flatten();
    let minds =
        |want: &Want| want.heart != Heart::Any || want.rings.is_some() || want.grading.is_some();
    pile.settings.taper == Taper::Level
        && pile.logs.iter().all(|log| log.log.is_round())
        && !wants().any(minds)
}

/// What is proven, and what the plan really is worth, reckoned anew from its pieces.
fn proof(
    classes: &Classes<'_>,
    outcome: &Outcome<'_>,
    logs: &[LogFate],
    (tally, shortages): (&[Tally], &[Shortage]),
) -> PileProof {
    let (pile, Outcome { choice, sawn, .. }) = (classes.pile, outcome);
    let effort = sawn.effort(choice);
    let counts = pile.demands.iter().map(|demand| demand.count);
    let value = order::worth_under(pile, logs, counts) - effort;
    let first = tally.iter().zip(&pile.demands);
    let first = first.map(|(tally, demand)| demand.first * i64::from(tally.given)).sum();
    let down = |value: i128| i64::try_from(value.div_euclid(i128::from(UNIT))).unwrap_or(i64::MAX);
    let up = |bound: i128| down(bound + i128::from(UNIT) - 1);
    // Where no log goes on the mill nothing can be worth more than nothing.
    let bound = outcome.bound.or_else(|| classes.all.is_empty().then_some(0));
    // Two searches of wood that is not alike on all sides need not have looked at the same places, nor one by the looks of
    // boards where that of clear wood did: a plan may then be worth more than a search said of its log, and bounds what is
    // known of it itself.
    let is_alike = is_alike(pile);
    debug_assert!(!is_alike || bound.is_none_or(|bound| bound >= value), "a bound below the plan");
    let bound = bound.map(|bound| if is_alike { bound } else { bound.max(value) });
    let as_far = outcome.reached.zip(choice.bound).map(|(lines, bound)| {
        let counts = lines.iter().map(|line| line.count);
        let value = order::worth_under(pile, logs, counts) - effort;
        debug_assert!(
            !is_alike || bound >= value,
            "a bound below the plan that fills the list as far"
        );
        let bound = if is_alike { bound } else { bound.max(value) };
        AsFar { value: down(value), bound: up(bound) }
    });
    let least = |n: usize| shortages.iter().find(|short| short.want.0 == n);
    let is_all = |n: usize| least(n).is_none_or(|short| short.is_all(&tally[n]));
    PileProof {
        methods: pile.settings.methods.clone(),
        value: down(value),
        bound: bound.map(up),
        as_far,
        first,
        list_is_proven: (0..tally.len()).all(is_all),
        classes: classes.all.len(),
        patterns: choice.patterns.len() - 1,
        programs: choice.programs,
        searches: choice.searches,
        states: choice.states,
        refused: outcome.refused,
    }
}
