//! How to open one log whose boards are worth what they look like.
//!
//! # Problem
//! A defect forbids no wood, so the patterns of a log are those of clear wood; but what a board is worth depends on
//! where in the log it lies, and which way up that is. No board is worth more than a clear one of its size.
//!
//! # Method
//! 1. **At their best.** The wants at what clear boards of their sizes are worth ([`looks::at_best`]): the plain search
//!    gives a pattern of every method, and a bound.
//! 2. **Turned.** On round wood the same pattern fits in every turn, so each is turned about the pith (`turned`), and every
//!    piece is looked at. Elsewhere each frame has patterns of its own: those
//!    that the search of rests ranked best,
//! 3. **Narrower.** A wide board has room for more defects, and at its best it is worth most: patterns are sought once more
//!    without the widest graded boards, at each of a few limits.
//! 4. **By their looks.** In the best frame the families search once more with boards at what they are worth where they lie
//!    ([`looks::Eyes`]), looked at on planes half an inch apart. That only ranks patterns: of the most promising cants each is
//!    sawn, and its pieces are looked at where they then lie.
//! 5. **Edged.** Of the best pattern of every method each board whose planes are known now is ripped anew into what is worth
//!    most as it looks ([`edged`]): logs of 12 to 24 in with 20 defects are worth eight per cent more by that.
//! 6. **Sawn.** The best of every method is sawn, looked at and replayed. Where the mill cannot saw it, all of this is done
//!    once more without the sizes that are to blame.
//!
//! Where every method is asked for by itself, the plain searches serve all of them; by their looks those that are akin are
//! sought in the frame of their own best.
//!
//! # How good
//! What a piece is worth where it lies is exact. The choice among patterns and turns is not: it is the best of those looked
//! at, and the bound speaks of a log without a defect.

mod candidates;
mod edged;
mod shares;
mod turned;

pub(crate) use candidates::{Candidate, Candidates};
pub(crate) use shares::Shares;
pub(crate) use turned::{Turns, given};

use crate::column::Columns;
use crate::counts::Ask;
use crate::family::{Found, Method};
use crate::looks::Giving;
use crate::metal::Later;
use crate::open::{
    ByMethod, Made, fewer, first_of, guides, log_plan, most_board_feet, most_sawn, none_given,
    summary,
};
use crate::plan::{Answer, LogPlan, Obstacle, PlanFault, Planned, Proof, Rests, Settings};
use crate::site::Site;
use crate::want::Want;
use candidates::limited;
use pithward_geometry::{Angle, Frame, Log, Mill, View};
use rayon::prelude::*;
use std::sync::Arc;

/// Plans one log, laid as suits it best or as it lies already: the best plan found of every method, the best of them first.
pub(crate) fn open(
    log: &Log,
    mill: &Mill,
    wants: &[Want],
    settings: &Settings,
    laid: Option<Frame>,
) -> Result<Answer, PlanFault> {
    let mut known = Candidates::new(log, mill, wants, (settings, Ask::ALONE), Arc::default());
    known.find_laid(laid)?;
    let mut sawn = sawn(&known, &settings.methods)?;
    sawn.second_best((log, mill, wants), settings, laid)?;
    let plan = sawn.best(log, wants);
    let Sawn { plans, obstacles } = sawn;
    let Some(plan) = plan else { return Ok(Answer::Impossible(obstacles)) };
    let level = View::new(log, Frame::LEVEL);
    let columns = Columns::new(&level, mill.crosscut_kerf, &known.clear);
    let site = Site::new(&level, mill, &columns);
    let most = known.most_sawn.max(most_sawn(&plans));
    let asked = (&settings.methods[..], known.bound);
    let (most, states) = most_board_feet(&site, &known.clear, asked, most);
    let proof = Proof {
        methods: settings.methods.clone(),
        worth_bound: known.bound.max(plan.worth),
        board_feet_bound: most.max(plan.board_feet),
        programs: known.programs,
        states: known.states + states,
    };
    let methods = plans.iter().map(summary).collect();
    Ok(Answer::Planned(Box::new(Planned { plan, proof, methods, obstacles })))
}

/// Plans one log: by each method the best plan found, without a proof; or why there is none.
pub(crate) fn open_each(
    log: &Log,
    mill: &Mill,
    wants: &[Want],
    settings: &Settings,
) -> Result<Vec<ByMethod>, PlanFault> {
    let mut known = Candidates::new(log, mill, wants, (settings, Ask::ALONE), Arc::default());
    known.find_each()?;
    let by_method = |method: &Method| -> Result<ByMethod, PlanFault> {
        let mut sawn = sawn(&known, &[*method])?;
        sawn.second_best((log, mill, wants), settings, None)?;
        let plan = sawn.best(log, wants);
        Ok((*method, plan.ok_or(sawn.obstacles)))
    };
    settings.methods.par_iter().map(by_method).collect()
}

/// What becomes of a log.
struct Sawn {
    /// The plans of all methods.
    plans: Vec<LogPlan>,
    obstacles: Vec<Obstacle>,
}

impl Sawn {
    /// Adds the plans, from fewer sizes, of methods whose best pattern the mill cannot saw.
    fn second_best(
        &mut self,
        (log, mill, wants): (&Log, &Mill, &[Want]),
        settings: &Settings,
        laid: Option<Frame>,
    ) -> Result<(), PlanFault> {
        let mut lacking = unsawable(&self.obstacles);
        for fewer in fewer(wants, mill) {
            if lacking.is_empty() {
                break;
            }
            let only = Settings { methods: lacking.clone(), ..settings.clone() };
            let mut known = Candidates::new(log, mill, &fewer, (&only, Ask::ALONE), Arc::default());
            known.find_laid(laid)?;
            let Self { plans, obstacles } = sawn(&known, &lacking)?;
            lacking = unsawable(&obstacles);
            self.plans.extend(plans);
        }
        Ok(())
    }

    /// The best plan, if one has a piece. Why wants get nothing by it is added to the obstacles.
    fn best(&mut self, log: &Log, wants: &[Want]) -> Option<LogPlan> {
        let first = first_of(&mut self.plans).cloned();
        self.obstacles.extend(none_given(log, wants, first.as_ref()));
        let plan = first.filter(|plan| !plan.products.is_empty())?;
        Some(LogPlan { later: Later::than(&plan, self.plans.iter()), ..plan })
    }
}

/// The methods whose best pattern the mill cannot saw.
fn unsawable(obstacles: &[Obstacle]) -> Vec<Method> {
    let method = |obstacle: &Obstacle| match obstacle {
        Obstacle::Unsawable { method, .. } => Some(*method),
        _ => None,
    };
    obstacles.iter().filter_map(method).collect()
}

/// Saws the best of each of these methods where it is worth most.
fn sawn(known: &Candidates<'_>, methods: &[Method]) -> Result<Sawn, PlanFault> {
    let Candidates { log, mill, wants, settings, clear, .. } = known;
    let level = View::new(log, Frame::LEVEL);
    let columns = Columns::new(&level, mill.crosscut_kerf, clear);
    let mut obstacles = guides(&Site::new(&level, mill, &columns), methods);
    let mut plans: Vec<LogPlan> = Vec::new();
    for candidate in known.best.iter().filter(|best| methods.contains(&best.found.method)) {
        let view = View::new(log, candidate.frame.turned_by(Angle::degrees(candidate.turn)));
        // The columns by which it was found.
        let menu = limited(clear, candidate.limit);
        let columns = Columns::new(&view, mill.crosscut_kerf, &menu);
        let site = Site::new(&view, mill, &columns);
        let asked = (*wants, &Giving::Worth);
        let mut made = log_plan(&site, asked, settings, &candidate.found)?;
        if matches!(made, Made::Unsawable(_)) && !candidate.found.edged.is_empty() {
            // As it was found every board may be one that the mill can edge.
            let plain = Found { edged: Vec::new(), ..candidate.found.clone() };
            made = log_plan(&site, asked, settings, &plain)?;
        }
        match made {
            Made::Plan(plan) => {
                let rests = Rests {
                    tried: known.tried.max(1),
                    ruled_out: 0,
                    best: Some(plan.worth),
                    worst: known.worst.filter(|_| known.tried > 1),
                };
                plans.push(LogPlan { rests, ..*plan });
            }
            Made::Unsawable(fault) => {
                let method = candidate.found.method;
                obstacles.push(Obstacle::Unsawable { method, fault });
            }
        }
    }
    Ok(Sawn { plans, obstacles })
}
