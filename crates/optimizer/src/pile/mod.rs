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
//! | `sawn` | the chosen patterns sawn and replayed; what is refused is chosen anew |
//! | `order` | the order of sawing, and which pieces are beyond a count |
//! | `short` | why a want stays short, and what would cure it |
//! | `need` | how many logs a list takes |

mod classes;
mod need;
mod order;
mod plan;
mod sawn;
mod short;

pub use need::{Need, Needed, need};
pub use plan::{
    Cure, LogFate, Lot, LotReason, PilePlan, PileProof, Progress, Shortage, Stage, Watch, WhyShort,
};

use crate::master::{Choice, Line, Master, Meter, UNIT};
use crate::plan::{PlanFault, Settings, Tally};
use crate::want::Want;
use classes::{Classes, Mark};
use pithward_geometry::{Log, Mill};
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
    let (sawn, refused) = sawn::saw(&classes, &mut master, &meter);
    Ok(assemble(&classes, &master.choice(), &sawn, refused, &meter))
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
    let Choice {
        patterns,
        suitable,
        uses,
        value,
        bound,
        prices,
        programs,
        searches,
        states,
        stopped,
    } = master.choice();
    let patterns =
        patterns.into_iter().map(|(pattern, mark)| (pattern, mark.map(|_| ()))).collect();
    let program = Choice {
        patterns,
        suitable,
        uses,
        value,
        bound,
        prices,
        programs,
        searches,
        states,
        stopped,
    };
    Ok((program, lines, logs.collect()))
}

fn check(pile: &Pile) -> Result<(), PlanFault> {
    let Settings { methods, tolerance } = &pile.settings;
    if *tolerance < pile.mill.step {
        return Err(PlanFault::Tolerance { tolerance: *tolerance, step: pile.mill.step });
    }
    if methods.is_empty() {
        return Err(PlanFault::NoMethods);
    }
    Ok(())
}

/// The wants as the program over patterns sees them.
fn lines(pile: &Pile) -> Vec<Line> {
    let line = |(n, demand): (usize, &Demand)| {
        let cuts = pile.menus.iter().filter_map(|menu| menu.get(n)).flat_map(|want| &want.cuts);
        let most = cuts.map(|cut| cut.worth - cut.extra).max().unwrap_or(0).max(0);
        Line { count: demand.count, most, start: demand.first }
    };
    pile.demands.iter().enumerate().map(line).collect()
}

/// Puts the plans of the logs together.
fn assemble(
    classes: &Classes<'_>,
    choice: &Choice<Arc<Mark>>,
    sawn: &Sawn,
    refused: u32,
    meter: &Meter<'_>,
) -> PilePlan {
    let pile = classes.pile;
    let mut logs = sawn::fates(classes, choice, sawn, meter.stopped());
    let order = order::order(classes, &logs);
    order::share_out(pile, &order, &mut logs);
    let sum = |mut all: Vec<Tally>, fate: &LogFate| {
        if let LogFate::Sawn(plan) = fate {
            for (all, own) in all.iter_mut().zip(&plan.tally) {
                all.given += own.given;
                all.extra += own.extra;
            }
        }
        all
    };
    let none = pile.demands.iter().map(|demand| Tally { wanted: demand.count, ..Tally::default() });
    let tally = logs.iter().fold(none.collect(), sum);
    let plans = || {
        logs.iter().zip(&pile.logs).filter_map(|(fate, log)| match fate {
            LogFate::Sawn(plan) => Some((plan, log)),
            _ => None,
        })
    };
    let worth: i64 = plans().map(|(plan, _)| plan.worth).sum();
    let solid: f64 = plans().map(|(_, log)| log.log.volume()).sum();
    let pieces: f64 = plans().map(|(plan, log)| plan.share_of_solid * log.log.volume()).sum();
    let shortages = short::shortages(classes, &logs, &tally, meter);
    let least = |n: usize| shortages.iter().find(|short| short.want.0 == n);
    let first: i64 =
        tally.iter().zip(&pile.demands).map(|(tally, d)| d.first * i64::from(tally.given)).sum();
    let effort: i128 = sawn.effort(choice);
    // What the plan really is worth, reckoned anew from its pieces.
    let value = i128::from(worth + first) * i128::from(UNIT) - effort;
    let millionths =
        |value: i128| i64::try_from(value.div_euclid(i128::from(UNIT))).unwrap_or(i64::MAX);
    debug_assert!(choice.bound.is_none_or(|bound| bound >= value), "a bound below the plan");
    let proof = PileProof {
        methods: pile.settings.methods.clone(),
        value: millionths(value),
        bound: choice.bound.map(|bound| millionths(bound + i128::from(UNIT) - 1)),
        first,
        list_is_proven: (0..tally.len())
            .all(|n| least(n).is_none_or(|short| short.is_all(&tally[n]))),
        classes: classes.all.len(),
        patterns: choice.patterns.len() - 1,
        programs: choice.programs,
        searches: choice.searches,
        states: choice.states,
        refused,
    };
    PilePlan {
        order,
        tally,
        shortages,
        worth,
        board_feet: plans().map(|(plan, _)| plan.board_feet).sum(),
        share_of_solid: if solid > 0.0 { pieces / solid } else { 0.0 },
        logs,
        proof,
        stopped: meter.stopped(),
    }
}
