//! How to open one log whose boards are worth what they look like.
//!
//! # Problem
//! A defect forbids no wood, so the patterns of a log are those of clear wood; but what a board is worth depends on
//! where in the log it lies, and which way up that is. No board is worth more than a clear one of its size.
//!
//! # Method
//! 1. **At their best.** The wants at what clear boards of their sizes are worth ([`looks::at_best`]): the plain search
//!    gives a pattern of every method, and a bound.
//! 2. **Turned.** On round wood the same pattern fits in every turn, so each is turned about the pith, [`COARSE`] apart and
//!    then ever closer about the best, and every piece is looked at. Elsewhere each frame has patterns of its own: those
//!    that the search of rests ranked best,
//! 3. **Learned.** What boards of each size turned out to be worth there takes the place of their worth at best, and
//!    patterns are sought anew: narrower boards beside a knotty face, say. [`ROUNDS`] times.
//! 4. **Narrower.** A wide board has room for more defects, and at its best it is worth most: patterns are sought once more
//!    without the widest graded boards, at each of the [`NARROWER`] limits.
//! 5. **By their looks.** In the best frame the families search once more with boards at what they are worth where they lie
//!    ([`looks::Eyes`]), looked at on planes half an inch apart.
//! 6. **Sawn.** The best of every method is sawn, looked at and replayed.
//!
//! # How good
//! What a piece is worth where it lies is exact. The choice among patterns and turns is not: it is the best of those looked
//! at, and the bound speaks of a log without a defect.

use crate::column::{Columns, Prices, UNIT};
use crate::counts::{self, Ask, Best};
use crate::family::{Found, Method, Search};
use crate::looks::{self, Looking};
use crate::metal::Later;
use crate::open::{Made, first_of, guides, log_plan, most_board_feet, none_given, summary};
use crate::plan::{Answer, LogPlan, Obstacle, PlanFault, Planned, Proof, Rests, Settings};
use crate::rests::Laying;
use crate::sawing::{Sawn, saw};
use crate::site::Site;
use crate::want::{Cut, CutId, Want};
use pithward_geometry::{Angle, Claim, Frame, Log, Mill, Piece, View};
use pithward_measure::Length;
use rayon::prelude::*;

/// Distance of the turns that are looked at first, degrees.
const COARSE: i32 = 12;

/// Turns in which what is found later is looked at: those in which the first pattern of its method is worth most.
const BEST_TURNS: usize = 6;

/// Distances of the turns that are looked at about the best, degrees, one after the other.
const CLOSER: [i32; 3] = [5, 2, 1];

/// Frames of a log that is not round, each of which has patterns of its own.
const FRAMES: usize = 6;

/// How often patterns are sought anew by what their boards turned out to be worth.
const ROUNDS: u32 = 2;

/// Widest graded boards of patterns that are sought without wider ones, in eighths of the widest that was found.
const NARROWER: [i64; 3] = [7, 6, 4];

/// A pattern, sawn once, and the turn in which its pieces are worth most.
struct Candidate {
    found: Found,
    /// In which frame it was found.
    frame: Frame,
    sawn: Sawn,
    /// It was sought without graded boards wider than that.
    limit: Option<Length>,
    /// By how much it is turned, degrees.
    turn: i32,
    worth: i64,
}

/// Plans one log: the best plan found of every method, the best of them first.
pub(crate) fn open(
    log: &Log,
    mill: &Mill,
    wants: &[Want],
    settings: &Settings,
) -> Result<Answer, PlanFault> {
    let mut search = ByGrade::new(log, mill, wants, settings);
    search.find()?;
    search.answer()
}

struct ByGrade<'a> {
    log: &'a Log,
    mill: &'a Mill,
    wants: &'a [Want],
    settings: &'a Settings,
    /// The wants as they are worth at their best.
    clear: Vec<Want>,
    /// Of each method the best so far.
    best: Vec<Candidate>,
    /// Of each method the turns in which its first pattern is worth most.
    turns: Vec<(Method, Vec<i32>)>,
    /// What the plain search proved of clear wood, millionths.
    bound: i64,
    programs: u32,
    states: u64,
    /// Ways in which the log was laid, and the worst of them, with what the best pattern there is worth.
    tried: u32,
    worst: Option<(Frame, i64)>,
}

impl<'a> ByGrade<'a> {
    fn new(log: &'a Log, mill: &'a Mill, wants: &'a [Want], settings: &'a Settings) -> Self {
        let clear = looks::at_best(wants);
        let (best, bound, programs, states) = (Vec::new(), 0, 0, 0);
        let (turns, tried, worst) = (Vec::new(), 0, None);
        Self {
            log,
            mill,
            wants,
            settings,
            clear,
            best,
            turns,
            bound,
            programs,
            states,
            tried,
            worst,
        }
    }

    fn find(&mut self) -> Result<(), PlanFault> {
        let clear = self.clear.clone();
        let prices = Prices::full(&clear);
        let mut laying = Laying::new(self.log, self.mill, &clear, self.settings, &prices);
        let frames: Vec<Frame> = if self.log.is_round() {
            Laying::for_taper(self.log, self.settings.taper)
        } else {
            laying.rank();
            laying.ranked(FRAMES)
        };
        self.states += laying.states;
        for round in 0..=ROUNDS {
            let menu = if round == 0 { clear.clone() } else { self.learned() };
            let found = self.patterns(&frames, &menu, None, round == 0)?;
            self.keep(found);
        }
        let widest = self.widest().filter(|_| !self.log.defects().is_empty());
        for eighths in widest.iter().flat_map(|_| NARROWER) {
            let limit = widest.map(|widest| Length::nm(widest.as_nm() / 8 * eighths));
            let found = self.patterns(&frames, &clear, limit, false)?;
            self.keep(found);
        }
        self.by_looks();
        Ok(())
    }

    /// The best pattern of every method in every frame by what some menu says, sawn.
    fn patterns(
        &mut self,
        frames: &[Frame],
        menu: &[Want],
        limit: Option<Length>,
        first: bool,
    ) -> Result<Vec<Candidate>, PlanFault> {
        let menu = &limited(menu, limit)[..];
        let search = |frame: &Frame| -> Result<(Vec<Candidate>, Best), PlanFault> {
            let view = View::new(self.log, *frame);
            let columns = Columns::new(&view, self.mill.crosscut_kerf, menu);
            let site = Site::new(&view, self.mill, &columns);
            let best = counts::best(&site, menu, &self.settings.methods, Ask::ALONE)
                .ok_or(PlanFault::Program)?;
            let candidate = |valued: &counts::Valued| {
                let sawn = saw(&site, menu, &valued.found).ok()?;
                let found = valued.found.clone();
                Some(Candidate { found, frame: *frame, sawn, limit, turn: 0, worth: 0 })
            };
            Ok((best.patterns.iter().filter_map(candidate).collect(), best))
        };
        let found: Vec<_> = frames.par_iter().map(search).collect::<Result<_, _>>()?;
        let mut all = Vec::new();
        for (candidates, best) in found {
            if first {
                self.bound = self.bound.max(best.bound);
            }
            self.programs += best.programs;
            self.states += best.states;
            all.extend(candidates);
        }
        Ok(all)
    }

    /// The best pattern of every method by what boards look like where they lie, in the frame of the best so far; kept where
    /// it is better.
    fn by_looks(&mut self) {
        let best = self.best.iter().max_by_key(|candidate| candidate.worth);
        let Some(best) = best.filter(|_| !self.log.defects().is_empty()) else { return };
        let frame = best.frame.turned_by(Angle::degrees(best.turn));
        let (limit, known) = (best.limit, best.worth * UNIT);
        let menu = limited(&self.clear, limit);
        let prices = Prices::full(&menu);
        let looking = Looking::rough(self.log);
        let eyes = looks::Eyes::new(&looking, self.wants, &self.clear);
        let view = View::new(self.log, frame);
        let columns = Columns::new(&view, self.mill.crosscut_kerf, &menu);
        let site = Site::new(&view, self.mill, &columns).unlike();
        let mut search = Search::seeing(&site, &menu, &prices, Some(&eyes));
        let mut candidates = Vec::new();
        for found in search.best_beside(&self.settings.methods, known) {
            let Ok(sawn) = saw(&site, &menu, &found) else { continue };
            let mut candidate = Candidate { found, frame, sawn, limit, turn: 0, worth: 0 };
            candidate.worth = self.worth(&looking, &candidate, 0);
            candidates.push(candidate);
        }
        let states = search.states();
        self.states += states;
        candidates.into_iter().for_each(|candidate| self.keep_best(candidate));
    }

    fn keep_best(&mut self, candidate: Candidate) {
        let same = |known: &&mut Candidate| known.found.method == candidate.found.method;
        match self.best.iter_mut().find(same) {
            Some(known) if known.worth >= candidate.worth => {}
            Some(known) => *known = candidate,
            None => self.best.push(candidate),
        }
    }

    /// Turns candidates to where they are worth most, and keeps the best of every method.
    fn keep(&mut self, candidates: Vec<Candidate>) {
        let turns = |method: Method| -> Vec<i32> {
            if !self.log.is_round() || self.log.defects().is_empty() {
                return vec![0];
            }
            match self.turns.iter().find(|(known, _)| *known == method) {
                Some((_, best)) => best.clone(),
                None => (0..360 / COARSE).map(|n| n * COARSE).collect(),
            }
        };
        let turned: Vec<(Candidate, Vec<(i32, i64)>)> = candidates
            .into_par_iter()
            .map_init(
                || Looking::rough(self.log),
                |looking, mut candidate| {
                    let worth = |turn: i32| self.worth(looking, &candidate, turn);
                    let turns = turns(candidate.found.method);
                    let mut seen: Vec<(i32, i64)> =
                        turns.iter().map(|turn| (*turn, worth(*turn))).collect();
                    if turns.len() > 1 {
                        for by in CLOSER {
                            let (at, _) = most(&seen);
                            seen.extend([at - by, at + by].map(|turn| (turn, worth(turn))));
                        }
                    }
                    (candidate.turn, candidate.worth) = most(&seen);
                    (candidate, seen)
                },
            )
            .collect();
        for (candidate, mut seen) in turned {
            self.tried += u32::try_from(seen.len()).unwrap_or(0);
            let poorest = seen.iter().min_by_key(|(_, worth)| *worth);
            if let Some((turn, worth)) = poorest
                && self.worst.is_none_or(|(_, known)| *worth < known)
            {
                self.worst = Some((candidate.frame.turned_by(Angle::degrees(*turn)), *worth));
            }
            let method = candidate.found.method;
            if self.turns.iter().all(|(known, _)| *known != method) {
                seen.sort_by_key(|(turn, worth)| (-worth, *turn));
                seen.truncate(BEST_TURNS);
                self.turns.push((method, seen.into_iter().map(|(turn, _)| turn).collect()));
            }
            self.keep_best(candidate);
        }
    }

    /// Of every piece of a candidate that is turned by so many degrees, what it was cut for, and which want it serves as it
    /// looks there, with its worth.
    fn served(
        &self,
        looking: &Looking<'_>,
        candidate: &Candidate,
        turn: i32,
    ) -> Vec<(CutId, Option<(CutId, i64)>)> {
        let turn = Angle::degrees(turn);
        let frame = candidate.frame.turned_by(turn);
        let Sawn { order, cuts, .. } = &candidate.sawn;
        let look = |(piece, id): (&Piece, &CutId)| {
            let claim = Claim { turn: piece.claim.turn.turned_by(turn), ..piece.claim };
            (*id, looks::serves(self.wants, *id, || looking.expected(&claim, &frame).grade))
        };
        order.pieces.iter().zip(cuts).map(look).collect()
    }

    /// What a candidate's pieces are worth when it is turned by so many degrees.
    fn worth(&self, looking: &Looking<'_>, candidate: &Candidate, turn: i32) -> i64 {
        let served: Vec<(CutId, i64)> =
            self.served(looking, candidate, turn).into_iter().filter_map(|(_, to)| to).collect();
        let cuts: Vec<CutId> = served.iter().map(|(id, _)| *id).collect();
        let extra = counts::beyond_count(self.wants, &cuts);
        let one = |((id, worth), extra): (&(CutId, i64), &bool)| {
            let loss = self.wants[id.want.0].cuts[id.cut].worth - worth;
            counts::worth_of(self.wants, *id, *extra, loss)
        };
        served.iter().zip(&extra).map(one).sum()
    }

    /// The widest graded board of the best candidates.
    fn widest(&self) -> Option<Length> {
        let cuts = self.best.iter().flat_map(|candidate| &candidate.sawn.cuts);
        let graded = cuts.filter(|id| self.wants[id.want.0].grading.is_some());
        graded.map(|id| across(&self.wants[id.want.0].cuts[id.cut])).max()
    }

    /// The wants at what boards of each thickness and width were worth in the best candidates, as a share of their best.
    fn learned(&self) -> Vec<Want> {
        let looking = Looking::new(self.log);
        let mut seen: Vec<((i64, i64), (i128, i128))> = Vec::new();
        let size = |cut: &Cut| (cut.thickness.as_nm(), cut.width.as_nm());
        for candidate in &self.best {
            for (id, served) in self.served(&looking, candidate, candidate.turn) {
                let best = &self.clear[id.want.0].cuts[id.cut];
                let (got, may) = (served.map_or(0, |(_, worth)| worth), best.worth);
                let key = size(best);
                match seen.iter_mut().find(|(known, _)| *known == key) {
                    Some((_, sums)) => *sums = (sums.0 + i128::from(got), sums.1 + i128::from(may)),
                    None => seen.push((key, (i128::from(got), i128::from(may)))),
                }
            }
        }
        let mut menu = self.clear.clone();
        for want in menu.iter_mut().filter(|want| want.grading.is_some()) {
            for cut in &mut want.cuts {
                let known = seen.iter().find(|(key, _)| *key == size(cut)).map(|(_, sums)| *sums);
                let Some((got, may)) = known.filter(|(_, may)| *may > 0) else { continue };
                let share = |worth: i64| {
                    i64::try_from(i128::from(worth) * got.min(may) / may).unwrap_or(worth)
                };
                (cut.worth, cut.extra) = (share(cut.worth), share(cut.extra));
            }
        }
        menu
    }

    /// Saws the best of every method where it is worth most.
    fn answer(self) -> Result<Answer, PlanFault> {
        let Self { log, mill, wants, settings, .. } = self;
        let level = View::new(log, Frame::LEVEL);
        let columns = Columns::new(&level, mill.crosscut_kerf, &self.clear);
        let site = Site::new(&level, mill, &columns);
        let mut obstacles = guides(&site, &settings.methods);
        let mut plans: Vec<LogPlan> = Vec::new();
        for candidate in &self.best {
            let view = View::new(log, candidate.frame.turned_by(Angle::degrees(candidate.turn)));
            // The columns by which it was found.
            let menu = limited(&self.clear, candidate.limit);
            let columns = Columns::new(&view, mill.crosscut_kerf, &menu);
            let site = Site::new(&view, mill, &columns);
            match log_plan(&site, wants, settings, &candidate.found)? {
                Made::Plan(plan) => plans.push(*plan),
                Made::Unsawable(fault) => {
                    let method = candidate.found.method;
                    obstacles.push(Obstacle::Unsawable { method, fault });
                }
            }
        }
        let first = first_of(&mut plans);
        obstacles.extend(none_given(log, wants, first));
        let Some(mut plan) = first.filter(|plan| !plan.products.is_empty()).cloned() else {
            return Ok(Answer::Impossible(obstacles));
        };
        plan.rests = Rests {
            tried: self.tried.max(1),
            ruled_out: 0,
            best: Some(plan.worth),
            worst: self.worst.filter(|_| self.tried > 1),
        };
        plan.later = Later::than(&plan, plans.iter());
        let best = Best { bound: self.bound, ..Best::default() };
        let (most, states) = most_board_feet(&site, &self.clear, &settings.methods, &best)?;
        let proof = Proof {
            methods: settings.methods.clone(),
            worth_bound: self.bound.max(plan.worth),
            board_feet_bound: most.max(plan.board_feet),
            programs: self.programs,
            states: self.states + states,
        };
        let methods = plans.iter().map(summary).collect();
        Ok(Answer::Planned(Box::new(Planned { plan, proof, methods, obstacles })))
    }
}

fn across(cut: &Cut) -> Length {
    cut.width.max(cut.thickness)
}

/// The wants without graded boards that are wider than a limit.
fn limited(wants: &[Want], limit: Option<Length>) -> Vec<Want> {
    let mut wants = wants.to_vec();
    let Some(limit) = limit else { return wants };
    for want in wants.iter_mut().filter(|want| want.grading.is_some()) {
        for cut in want.cuts.iter_mut().filter(|cut| across(cut) > limit) {
            // It takes more than any log has.
            (cut.worth, cut.extra, cut.take) = (0, 0, Length::MAX);
        }
    }
    wants
}

/// The first of the best.
fn most(seen: &[(i32, i64)]) -> (i32, i64) {
    seen.iter()
        .copied()
        .reduce(|best, next| if next.1 > best.1 { next } else { best })
        .unwrap_or((0, 0))
}
