//! From a half-sawn log: the best way on from exactly what is left.
//!
//! # Problem
//! Some passes of a log are made, at known heights; then something is found, or wanted otherwise. What is on the mill is
//! the log within the planes that were sawn, and beside it lie the parts that they freed. What is the best that can still
//! be made of all of it?
//!
//! # Method
//! Every answer is a whole sawing order **from the whole log**: the passes that were made, as they were made, then the way
//! on. So the ordinary replay confirms all of it, and knows nothing of how it was found. Candidates are
//!
//! 1. the order that was followed, continued as it stands, less the pieces that what was found costs: it makes the answer
//!    never worse than the rest of the plan;
//! 2. the same planes, each part ripped anew for what is wanted now ([`rip`]);
//! 3. what is on the mill sawn anew ([`program`]): the families of lines and cants over the wood within the planes
//!    ([`View::left`]), in either direction, all of them exact or not as they are in a log that is not round. Parts that
//!    lie aside are ripped anew first, and what they give is taken off the counts.
//!
//! The one that is worth most is the answer; of those worth as much the one whose blade comes near metal least often, then
//! the one that comes there latest, and then the one with least work. Where metal is in the log, what is on the mill is
//! sought anew also for what is worth just as much: its passes near metal may come later than the card's.
//!
//! # What is not searched
//! Around and quarter sawing are followed where they were begun, and not begun in what is left. The sharing of a count
//! between parts that lie aside and what is on the mill is a choice by rule, not a search. Nothing here is a bound.

mod begun;
mod program;
mod rip;
mod search;
mod trimmed;
mod way;

pub use begun::Begun;

use crate::column::Columns;
use crate::counts;
use crate::family::Method;
use crate::looks::{self, Giving};
use crate::metal::{Later, holds_metal};
use crate::open::{Made, open, rank, sawn_plan, too_large};
use crate::plan::{Answer, Fate, LogPlan, Obstacle, PlanFault, Settings};
use crate::sawing::{Sawn, finish};
use crate::site::Site;
use crate::want::{CutId, Want};
use pithward_geometry::{Log, Metal, Mill, PartId, ReplayFault, SawingOrder, Stage, View, flaw_in};
use rip::Ripper;
use search::Better;
pub(crate) use trimmed::parts_of;
use trimmed::{idle, refused, without};
use way::{Freed, Way};

/// A log that is sawn so far.
#[derive(Clone, Copy, Debug)]
pub struct HalfSawn<'p> {
    /// The passes that were made.
    pub begun: &'p Begun,
    /// The plan that was followed, where there was one: of the same log by the same measurements, for the same list, whatever
    /// the counts and the worths were.
    pub plan: Option<&'p LogPlan>,
}

/// What came of it.
#[derive(Clone, Debug)]
pub enum ResumeAnswer {
    /// The best way on.
    Resumed(Box<Resumed>),
    /// Nothing that is wanted is left in it; why not, where the mill is the reason.
    Nothing(Vec<Obstacle>),
    /// The passes that were made do not belong to this log on this mill.
    NotSo(ReplayFault),
}

/// The best way on from a half-sawn log.
#[derive(Clone, Debug)]
pub struct Resumed {
    /// Everything from the whole log on: what was made, and the way on; replayed.
    pub plan: LogPlan,
    /// How many passes of the log, and of what was put back of it, are made already.
    pub made: usize,
    /// How the way on was found.
    pub how: How,
    /// What the plan that was followed was worth, millionths, by what is wanted now and without what was found.
    pub before: Option<i64>,
    /// What is left of that when it is continued as it stands, millionths.
    pub as_it_stands: Option<i64>,
    /// The same in board feet by named sizes, millionths.
    pub stands_board_feet: Option<i64>,
    /// States that the searches made, a count of work.
    pub states: u64,
}

/// How a way on was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// It is the plan that was followed.
    AsPlanned,
    /// It has the planes of that plan; what comes from between them is cut otherwise.
    SamePlanes,
    /// It is planned anew.
    Anew,
}

/// Pieces that replay refuses one by one at most, before an order is given up.
const MOST_REFUSED: usize = 12;

/// The best way on from a half-sawn log, its flaws all that is known of by now.
///
/// # Errors
/// As [`open()`].
pub fn resume(
    log: &Log,
    mill: &Mill,
    wants: &[Want],
    settings: &Settings,
    half: HalfSawn<'_>,
) -> Result<ResumeAnswer, PlanFault> {
    if settings.tolerance < mill.step {
        return Err(PlanFault::Tolerance { tolerance: settings.tolerance, step: mill.step });
    }
    if settings.methods.is_empty() {
        return Err(PlanFault::NoMethods);
    }
    let obstacles = too_large(log, mill);
    if !obstacles.is_empty() {
        return Ok(ResumeAnswer::Nothing(obstacles));
    }
    let begun = half.begun;
    // Where other passes were made, there is no plan to be followed.
    let half = HalfSawn { plan: half.plan.filter(|plan| begun.is_of(&plan.order)), ..half };
    if let Some(fault) = not_so(log, mill, settings, begun) {
        return Ok(ResumeAnswer::NotSo(fault));
    }
    let clear = looks::at_best(wants);
    let view = View::new(log, begun.frame);
    let columns = Columns::new(&view, mill.crosscut_kerf, &clear);
    let site = Site::new(&view, mill, &columns);
    let metal = holds_metal(log).then(|| Metal::of(log));
    let run = Run { site: &site, clear: &clear, wants, settings, half, metal: metal.as_ref() };
    let mut best = Best::default();
    let before = half.plan.map(|plan| {
        let cuts: Vec<CutId> = plan.products.iter().map(|product| product.cut).collect();
        counts::worth(wants, &cuts)
    });
    let (mut as_it_stands, mut stands_board_feet) = (None, None);
    if let Some(plan) = half.plan {
        let stands = run.as_it_stands(plan);
        as_it_stands = Some(stands.as_ref().map_or(0, |plan| plan.worth));
        stands_board_feet = Some(stands.as_ref().map_or(0, |plan| plan.board_feet));
        best.see(stands, How::AsPlanned);
        best.see(run.same_planes(plan), How::SamePlanes);
    }
    let mut obstacles = Vec::new();
    if begun.passes() == 0 {
        match open(log, mill, wants, settings)? {
            Answer::Planned(planned) => {
                best.states += planned.proof.states;
                best.see(Some(planned.plan), How::Anew);
            }
            Answer::Impossible(why) => obstacles = why,
        }
    } else {
        run.anew(&mut best);
    }
    let Some((mut plan, how)) = best.plan else { return Ok(ResumeAnswer::Nothing(obstacles)) };
    plan.later = Later::than(&plan, best.others.iter()).or(plan.later);
    let made = begun.passes();
    let states = best.states;
    let resumed = Resumed { plan, made, how, before, as_it_stands, stands_board_feet, states };
    Ok(ResumeAnswer::Resumed(Box::new(resumed)))
}

/// Why the passes that were made cannot have been, if they cannot.
fn not_so(log: &Log, mill: &Mill, settings: &Settings, begun: &Begun) -> Option<ReplayFault> {
    let made = |stages: &[Stage]| -> Vec<Stage> {
        stages.iter().filter(|stage| !stage.passes.is_empty()).cloned().collect()
    };
    let mut order = SawingOrder { frame: begun.frame, ..SawingOrder::default() };
    order.stages = made(&begun.stages);
    order.resaws = begun.resaws.clone();
    pithward_geometry::confirm(log, mill, &order, settings.tolerance).err()
}

/// The best so far.
#[derive(Default)]
struct Best {
    plan: Option<(LogPlan, How)>,
    /// What it was better than.
    others: Vec<LogPlan>,
    states: u64,
}

impl Best {
    /// Keeps a plan that is better.
    fn see(&mut self, plan: Option<LogPlan>, how: How) {
        let Some(plan) = plan.filter(|plan| !plan.products.is_empty()) else { return };
        let less = match &self.plan {
            Some((known, _)) if rank(&plan) <= rank(known) => Some(plan),
            _ => self.plan.replace((plan, how)).map(|(known, _)| known),
        };
        self.others.extend(less);
    }

    fn worth(&self) -> i64 {
        self.plan.as_ref().map_or(0, |(plan, _)| plan.worth)
    }
}

struct Run<'r> {
    site: &'r Site<'r>,
    /// The wants at their best grade.
    clear: &'r [Want],
    wants: &'r [Want],
    settings: &'r Settings,
    half: HalfSawn<'r>,
    /// Where metal is, if any is in the log.
    metal: Option<&'r Metal>,
}

impl<'r> Run<'r> {
    fn log(&self) -> &'r Log {
        self.site.log()
    }

    fn is_finished(&self, part: PartId) -> bool {
        self.half.begun.finished.contains(&part)
    }

    /// The plan that was followed, less the pieces that what is known by now takes from it.
    fn as_it_stands(&self, plan: &LogPlan) -> Option<LogPlan> {
        let cuts = plan.products.iter().map(|product| product.cut).collect();
        let sawn = Sawn { order: plan.order.clone(), parts: plan.parts.clone(), cuts };
        self.confirmed(plan.method, self.sound(sawn))
    }

    /// What is sawn, less the pieces that hold a flaw.
    fn sound(&self, sawn: Sawn) -> Sawn {
        let frame = sawn.order.frame;
        let sound =
            |piece: &pithward_geometry::Piece| flaw_in(self.log(), &frame, &piece.claim).is_none();
        let keep: Vec<bool> = sawn.order.pieces.iter().map(sound).collect();
        without(sawn, &keep)
    }

    /// The plan of what is sawn, less the pieces that replay refuses, and less the passes that give nothing then.
    fn confirmed(&self, method: Method, sawn: Sawn) -> Option<LogPlan> {
        let (log, mill) = (self.log(), self.site.mill);
        let mut sawn = sawn;
        for _ in 0..MOST_REFUSED {
            let least = idle(sawn.clone(), self.half.begun.passes());
            match sawn_plan(log, mill, (self.wants, &Giving::Worth), self.settings, (method, least))
            {
                Made::Plan(plan) => return Some(*plan),
                Made::Unsawable(fault) => {
                    let piece = refused(&fault)?.checked_sub(1)?;
                    let keep: Vec<bool> = (0..sawn.cuts.len()).map(|n| n != piece).collect();
                    sawn = without(sawn, &keep);
                }
            }
        }
        None
    }

    /// What was made so far.
    fn made(&self) -> Option<Way<'r, 'r>> {
        let begun = self.half.begun;
        let mut way = Way::new(self.site, self.metal);
        for stage in &begun.stages {
            way.follow(stage, usize::MAX)?;
        }
        for resaw in &begun.resaws {
            way.put_back(resaw.part)?;
            for stage in &resaw.stages {
                way.follow(stage, usize::MAX)?;
            }
        }
        Some(way)
    }

    /// The planes of the plan that was followed, each part ripped anew.
    fn same_planes(&self, plan: &LogPlan) -> Option<LogPlan> {
        let mut way = self.made()?;
        let begun = self.half.begun;
        let onward = |way: &mut Way<'r, 'r>, stages: &[Stage], made: &[Stage]| {
            for (n, stage) in stages.iter().enumerate() {
                match made.get(n) {
                    Some(made) => way.go_on(stage.passes.get(made.passes.len()..)?),
                    None => {
                        way.follow(stage, usize::MAX)?;
                    }
                }
            }
            Some(())
        };
        if begun.resaws.is_empty() {
            onward(&mut way, &plan.order.stages, &begun.stages)?;
        }
        for (n, resaw) in plan.order.resaws.iter().enumerate() {
            match begun.resaws.get(n) {
                Some(_) if n + 1 < begun.resaws.len() => {}
                Some(made) => onward(&mut way, &resaw.stages, &made.stages)?,
                None => {
                    way.put_back(resaw.part)?;
                    onward(&mut way, &resaw.stages, &[])?;
                }
            }
        }
        let parts: Vec<Freed<'_>> =
            way.all_parts().into_iter().filter(|part| !self.is_finished(part.id)).collect();
        let mut ripper = self.ripper();
        let boards = ripper.boards(&way, &parts);
        way.boards.extend(boards);
        self.confirmed(plan.method, self.sawn(&way))
    }

    /// Rips for what is still wanted: the pieces that are finished are given.
    fn ripper(&self) -> Ripper<'r, 'r> {
        let given: Vec<CutId> = self.finished().map(|(_, cut)| cut).collect();
        Ripper::new(self.site, self.clear, self.settings.tolerance, &given)
    }

    /// The pieces that are finished, as places in the plan that was followed.
    fn finished(&self) -> impl Iterator<Item = (usize, CutId)> + '_ {
        let pieces = self
            .half
            .plan
            .into_iter()
            .flat_map(|plan| plan.order.pieces.iter().zip(&plan.products).enumerate());
        let own = pieces.filter(|(_, (piece, _))| self.is_finished(piece.part));
        own.map(|(n, (_, product))| (n, product.cut))
    }

    /// What a way comes to, with what is finished.
    fn sawn(&self, way: &Way<'_, '_>) -> Sawn {
        let fits = |placed: &crate::sawing::Placed| {
            let planes = (placed.from, placed.to);
            self.site.room_of(&placed.board.strips, placed.lie, planes).is_some()
        };
        let placed = way.boards.iter().map(|(part, piece)| way.placed(*part, piece));
        let placed = placed.filter(fits).collect();
        let mut order = way.order.clone();
        order.stages.retain(|stage| !stage.passes.is_empty());
        let sawn = finish(self.site, self.clear, placed, (order.clone(), parts_of(&order)));
        self.with_finished(sawn)
    }

    /// The same with the pieces that are finished, edged as they were.
    fn with_finished(&self, sawn: Sawn) -> Sawn {
        let Some(plan) = self.half.plan else { return sawn };
        let Sawn { mut order, mut parts, mut cuts } = sawn;
        let batch = order.edgings.iter().map(|edging| edging.batch).max().unwrap_or(0);
        let finished = |part: PartId| self.is_finished(part);
        for edging in plan.order.edgings.iter().filter(|edging| finished(edging.part)) {
            let mut edging = edging.clone();
            edging.batch += batch;
            order.edgings.push(edging);
        }
        let mut places = Vec::with_capacity(plan.products.len());
        for (piece, product) in plan.order.pieces.iter().zip(&plan.products) {
            places.push(finished(piece.part).then_some(cuts.len()));
            if finished(piece.part) {
                order.pieces.push(piece.clone());
                cuts.push(product.cut);
            }
        }
        let now = |pieces: &[usize]| -> Vec<usize> {
            pieces.iter().filter_map(|n| places.get(*n).copied().flatten()).collect()
        };
        for part in parts.iter_mut().filter(|part| finished(part.id)) {
            let was = plan.parts.iter().find(|was| was.id == part.id);
            part.fate = match was.map(|was| &was.fate) {
                Some(Fate::Square(pieces)) => Fate::Square(now(pieces)),
                Some(Fate::Flitch { batch: own, pieces }) => {
                    Fate::Flitch { batch: own + batch, pieces: now(pieces) }
                }
                _ => Fate::Slab,
            };
        }
        Sawn { order, parts, cuts }
    }

    /// What is on the mill sawn anew, what lies aside ripped anew.
    fn anew(&self, best: &mut Best) {
        let Some(made) = self.made() else { return };
        let (log, mill) = (self.log(), self.site.mill);
        // What was to be put back of what is freed already, is.
        let later = self.half.plan.map_or(&[][..], |plan| {
            plan.order.resaws.get(self.half.begun.resaws.len()..).unwrap_or_default()
        });
        let is_later = |part: PartId| {
            let known = made.parts.iter().any(|freed| freed.id == part);
            known && later.iter().any(|resaw| resaw.part == part)
        };
        let aside = |part: &&Freed<'_>| !self.is_finished(part.id) && !is_later(part.id);
        let parts: Vec<Freed<'_>> = made.parts.iter().filter(aside).cloned().collect();
        let mut ripper = self.ripper();
        let boards = ripper.boards(&made, &parts);
        let left = ripper.left();
        let mut base = made;
        base.boards.extend(boards);
        let resaws: Vec<_> = later.iter().filter(|resaw| is_later_of(&base, resaw.part)).collect();
        let methods = methods(&self.settings.methods);
        let mut found: Vec<(i64, Way<'r, 'r>, Method)> = Vec::new();
        // What is given already, whatever comes of what is on the mill.
        let mut given: Vec<CutId> = self.finished().map(|(_, cut)| cut).collect();
        given.extend(base.boards.iter().flat_map(|(_, piece)| piece.cuts()));
        let mut least = (best.worth() - counts::worth(self.clear, &given)).max(0);
        if self.metal.is_some() {
            // As much as is known, later.
            least = (least - 1).max(0);
        }
        for quarters in [0, 1] {
            let sides = base.left();
            let Some(view) = View::left(log, self.half.begun.frame, quarters, &sides) else {
                continue;
            };
            let columns = Columns::new(&view, mill.crosscut_kerf, &left);
            let site = Site::new(&view, mill, &columns);
            let better = search::better(&site, &left, &methods, least, &mut best.states);
            for Better { found: pattern, worth } in better {
                let ways = program::ways(&base, &site, quarters, &pattern);
                if !ways.is_empty() {
                    least = least.max(worth);
                }
                found.extend(ways.into_iter().map(|way| (worth, way, pattern.method)));
            }
        }
        // Nothing more may be made of what is on the mill.
        found.push((0, base, half_method(self.half.plan)));
        found.sort_by_key(|(worth, way, _)| (-worth, way.effort()));
        let mut confirmed = 0;
        for (_, mut way, method) in found {
            let mut more = Vec::new();
            for resaw in &resaws {
                let known = way.parts.len();
                if way.put_back(resaw.part).is_none() {
                    continue;
                }
                for stage in &resaw.stages {
                    way.follow(stage, usize::MAX);
                }
                let own = Some(u32::try_from(way.order.resaws.len()).unwrap_or(u32::MAX));
                let parts = way.all_parts().into_iter().skip(known.saturating_sub(1));
                more.extend(parts.filter(|part| part.id.resaw() == own));
            }
            if !more.is_empty() {
                let given: Vec<CutId> =
                    way.boards.iter().flat_map(|(_, piece)| piece.cuts()).collect();
                let mut ripper = self.ripper();
                ripper.give(&given);
                let boards = ripper.boards(&way, &more);
                way.boards.extend(boards);
            }
            let sawn = self.sawn(&way);
            let most = counts::worth(self.clear, &sawn.cuts);
            if most < best.worth() || confirmed >= MOST_CONFIRMED {
                continue;
            }
            let plan = self.confirmed(method, sawn);
            confirmed += usize::from(plan.is_some());
            best.see(plan, How::Anew);
        }
    }
}

/// Ways that are confirmed at most, of those that may be the best.
const MOST_CONFIRMED: usize = 4;

fn is_later_of(base: &Way<'_, '_>, part: PartId) -> bool {
    base.parts.iter().any(|freed| freed.id == part)
}

/// How what is followed is called.
fn half_method(plan: Option<&LogPlan>) -> Method {
    plan.map_or(Method::Through, |plan| plan.method)
}

/// The ways to saw what is left, where these were asked for of the whole log: how a log is turned follows from how it lies.
fn methods(asked: &[Method]) -> Vec<Method> {
    let lines = [Method::Through, Method::ThroughTurned];
    let cants = [Method::TwoSidedCant, Method::FourSidedCant];
    let of = |some: &[Method]| some.iter().any(|method| asked.contains(method));
    let mut methods = Vec::new();
    if of(&lines) || of(&[Method::Quarter]) {
        methods.extend(lines);
    }
    if of(&cants) || of(&[Method::BoxedHeart, Method::Around, Method::Quarter]) {
        methods.extend(cants);
    }
    if of(&[Method::BoxedHeart]) {
        methods.push(Method::BoxedHeart);
    }
    methods
}
