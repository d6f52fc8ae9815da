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
//! 3. **Learned.** What boards of each size turned out to be worth there takes the place of their worth at best, and
//!    patterns are sought anew: narrower boards beside a knotty face, say.
//! 4. **Narrower.** A wide board has room for more defects, and at its best it is worth most: patterns are sought once more
//!    without the widest graded boards, at each of a few limits.
//! 5. **By their looks.** In the best frame the families search once more with boards at what they are worth where they lie
//!    ([`looks::Eyes`]), looked at on planes half an inch apart. That only ranks patterns: of the most promising cants each is
//!    sawn, and its pieces are looked at where they then lie.
//! 6. **Sawn.** The best of every method is sawn, looked at and replayed.
//!
//! # How good
//! What a piece is worth where it lies is exact. The choice among patterns and turns is not: it is the best of those looked
//! at, and the bound speaks of a log without a defect.

mod candidates;
mod shares;
mod turned;

pub(crate) use candidates::{Candidate, Candidates};
pub(crate) use shares::Shares;
pub(crate) use turned::{Turns, given};

use crate::column::Columns;
use crate::counts::Ask;
use crate::looks::{Giving, Remembered};
use crate::metal::Later;
use crate::open::{
    Made, first_of, guides, log_plan, most_board_feet, most_sawn, none_given, summary,
};
use crate::plan::{Answer, LogPlan, Obstacle, PlanFault, Planned, Proof, Rests, Settings};
use crate::site::Site;
use crate::want::Want;
use candidates::limited;
use pithward_geometry::{Angle, Frame, Log, Mill, View};
use std::sync::Arc;

/// Plans one log: the best plan found of every method, the best of them first.
pub(crate) fn open(
    log: &Log,
    mill: &Mill,
    wants: &[Want],
    settings: &Settings,
) -> Result<Answer, PlanFault> {
    let asked = (settings, Ask::ALONE);
    let mut known = Candidates::new(log, mill, wants, asked, Arc::default());
    known.find()?;
    let Sawn { plan, plans, obstacles } = sawn(&known)?;
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

/// The best plan found of a log whose pieces others look at too, without a proof; or why there is none.
pub(crate) fn best_plan(
    log: &Log,
    mill: &Mill,
    wants: &[Want],
    settings: &Settings,
    remembered: &Arc<Remembered>,
) -> Result<Result<LogPlan, Vec<Obstacle>>, PlanFault> {
    let asked = (settings, Ask::ALONE);
    let mut known = Candidates::new(log, mill, wants, asked, Arc::clone(remembered));
    known.find()?;
    let Sawn { plan, obstacles, .. } = sawn(&known)?;
    Ok(plan.ok_or(obstacles))
}

/// What becomes of a log.
struct Sawn {
    /// The best plan, if one has a piece.
    plan: Option<LogPlan>,
    /// The plans of all methods.
    plans: Vec<LogPlan>,
    obstacles: Vec<Obstacle>,
}

/// Saws the best of every method where it is worth most.
fn sawn(known: &Candidates<'_>) -> Result<Sawn, PlanFault> {
    let Candidates { log, mill, wants, settings, clear, .. } = known;
    let level = View::new(log, Frame::LEVEL);
    let columns = Columns::new(&level, mill.crosscut_kerf, clear);
    let mut obstacles = guides(&Site::new(&level, mill, &columns), &settings.methods);
    let mut plans: Vec<LogPlan> = Vec::new();
    for candidate in &known.best {
        let view = View::new(log, candidate.frame.turned_by(Angle::degrees(candidate.turn)));
        // The columns by which it was found.
        let menu = limited(clear, candidate.limit);
        let columns = Columns::new(&view, mill.crosscut_kerf, &menu);
        let site = Site::new(&view, mill, &columns);
        match log_plan(&site, (wants, &Giving::Worth), settings, &candidate.found)? {
            Made::Plan(plan) => plans.push(*plan),
            Made::Unsawable(fault) => {
                let method = candidate.found.method;
                obstacles.push(Obstacle::Unsawable { method, fault });
            }
        }
    }
    let first = first_of(&mut plans);
    obstacles.extend(none_given(log, wants, first));
    let plan = first.filter(|plan| !plan.products.is_empty()).cloned();
    let plan = plan.map(|plan| LogPlan {
        rests: Rests {
            tried: known.tried.max(1),
            ruled_out: 0,
            best: Some(plan.worth),
            worst: known.worst.filter(|_| known.tried > 1),
        },
        later: Later::than(&plan, plans.iter()),
        ..plan
    });
    Ok(Sawn { plan, plans, obstacles })
}
