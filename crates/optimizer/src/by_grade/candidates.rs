//! The patterns of a log whose boards are worth what they look like, that are worth most: the best found of every method.

use super::shares::Shares;
use super::turned::{Turned, Turns, given, kin, most};
use crate::column::{Columns, Prices, UNIT};
use crate::counts::{self, Ask, Best};
use crate::family::{Found, Method, Search};
use crate::looks::{self, Given, Giving, Looking, Remembered};
use crate::plan::{PlanFault, Settings};
use crate::rests::Laying;
use crate::sawing::{Sawn, saw};
use crate::site::Site;
use crate::want::{Cut, CutId, Want};
use pithward_geometry::{Angle, Frame, Log, Mill, View};
use pithward_measure::Length;
use rayon::prelude::*;
use std::sync::Arc;

/// Frames of a log that is not round, each of which has patterns of its own.
const FRAMES: usize = 6;

/// How often patterns are sought anew by what their boards turned out to be worth.
const ROUNDS: u32 = 1;

/// Widest graded boards of patterns that are sought without wider ones, in eighths of the widest that was found. Without
/// them logs of 24 in with 20 defects are worth seven per cent less.
const NARROWER: [i64; 3] = [7, 6, 4];

/// Cants that are sawn and looked at where their boards lie. With 20 instead of 30 logs of 12 to 24 in with 20 defects are worth
/// one per cent less, in nine tenths of the time.
const MOST_SEEN: usize = 30;

/// Logs with a thicker butt are not looked at for sawing around where other methods are asked for too: that takes a seventh of
/// the time of all, and of 36 logs of 12 to 24 in one was best sawn so, of 19 in.
const AROUND: Length = Length::inches(22);

/// A pattern, sawn once, and the turn in which its pieces are worth most.
#[derive(Debug)]
pub(crate) struct Candidate {
    pub(crate) found: Found,
    /// In which frame it was found.
    pub(crate) frame: Frame,
    pub(crate) sawn: Sawn,
    /// It was sought without graded boards wider than that.
    pub(super) limit: Option<Length>,
    /// By how much it is turned, degrees.
    pub(crate) turn: i32,
    worth: i64,
}

/// The patterns of one log that were looked at.
pub(crate) struct Candidates<'a> {
    pub(super) log: &'a Log,
    pub(super) mill: &'a Mill,
    pub(super) wants: &'a [Want],
    pub(super) settings: &'a Settings,
    ask: Ask,
    /// The wants as they are worth at their best.
    pub(super) clear: Vec<Want>,
    /// Of each method the best so far.
    pub(crate) best: Vec<Candidate>,
    pub(crate) turns: Turns,
    /// What the plain search proved of clear wood, millionths.
    pub(super) bound: i64,
    /// The most board feet of a pattern that was looked at, millionths.
    pub(super) most_sawn: i64,
    pub(super) programs: u32,
    pub(crate) states: u64,
    /// Ways in which the log was laid, and the worst of them, with what the best pattern there is worth.
    pub(super) tried: u32,
    pub(super) worst: Option<(Frame, i64)>,
    /// What was looked at.
    remembered: Arc<Remembered>,
}

impl<'a> Candidates<'a> {
    pub(crate) fn new(
        log: &'a Log,
        mill: &'a Mill,
        wants: &'a [Want],
        (settings, ask): (&'a Settings, Ask),
        remembered: Arc<Remembered>,
    ) -> Self {
        let clear = looks::at_best(wants);
        let (best, turns, bound) = (Vec::new(), Turns::default(), 0);
        let (most_sawn, programs, states, tried, worst) = (0, 0, 0, 0, None);
        Self {
            log,
            mill,
            wants,
            settings,
            ask,
            clear,
            best,
            turns,
            bound,
            most_sawn,
            programs,
            states,
            tried,
            worst,
            remembered,
        }
    }

    /// Finds them.
    pub(crate) fn find(&mut self) -> Result<(), PlanFault> {
        let clear = self.clear.clone();
        let prices = Prices::of(vec![0; clear.len()], self.ask.work);
        let mut laying = Laying::new(self.log, self.mill, &clear, self.settings, &prices);
        let frames: Vec<Frame> = if self.log.is_round() {
            Laying::for_taper(self.log, self.settings.taper)
        } else {
            laying.rank();
            laying.ranked(FRAMES)
        };
        self.states += laying.states;
        for round in 0..=ROUNDS {
            let menu = if round == 0 { clear.clone() } else { self.shares().of(&clear) };
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
        // What is sawn around is sought again only where it was better than all others at first.
        let known = |method: &Method| self.best.iter().any(|best| best.found.method == *method);
        let methods = self.settings.methods.iter().copied();
        let methods: Vec<Method> =
            methods.filter(|method| first || *method != Method::Around || known(method)).collect();
        if methods.is_empty() {
            return Ok(Vec::new());
        }
        let search = |frame: &Frame| -> Result<(Vec<Candidate>, Best), PlanFault> {
            let view = View::new(self.log, *frame);
            let columns = Columns::new(&view, self.mill.crosscut_kerf, menu);
            let site = Site::new(&view, self.mill, &columns);
            let best = counts::best(&site, menu, &methods, self.ask).ok_or(PlanFault::Program)?;
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

    /// Patterns by what boards look like where they lie, in the frame of the best so far; kept where they are better. What is
    /// sawn around only where it is better than everything else: to look at all of its cores takes long.
    fn by_looks(&mut self) {
        let best = self.best.iter().max_by_key(|candidate| candidate.worth);
        let Some(best) = best.filter(|_| !self.log.defects().is_empty()) else { return };
        let frame = best.frame.turned_by(Angle::degrees(best.turn));
        let limit = best.limit;
        let menu = limited(&self.clear, limit);
        let prices = Prices::of(vec![0; menu.len()], self.ask.work);
        let looking = Looking::rough(self.log, &self.remembered);
        let eyes = looks::Eyes::new(&looking, self.wants, &self.clear);
        let view = View::new(self.log, frame);
        let columns = Columns::new(&view, self.mill.crosscut_kerf, &menu);
        let site = Site::new(&view, self.mill, &columns).unlike();
        let mut search = Search::seeing(&site, &menu, &prices, Some(&eyes));
        let sawn = |found: Found| {
            let sawn = saw(&site, &menu, &found).ok()?;
            let mut candidate = Candidate { found, frame, sawn, limit, turn: 0, worth: 0 };
            candidate.worth = self.worth(&looking, &candidate, 0);
            Some(candidate)
        };
        let found = search.seen(&self.settings.methods, MOST_SEEN);
        let mut candidates: Vec<Candidate> = found.into_iter().filter_map(sawn).collect();
        let around = self.settings.methods.contains(&Method::Around);
        let beside = self.settings.methods.iter().any(|method| *method != Method::Around);
        if around && (!beside || Length::nm(2 * site.limit) <= AROUND) {
            let known = self.best.iter().chain(&candidates).map(|known| known.worth).max();
            candidates.extend(search.around(known.unwrap_or(0) * UNIT).and_then(sawn));
        }
        self.states += search.states();
        candidates.into_iter().for_each(|candidate| self.keep_best(candidate));
    }

    fn keep_best(&mut self, candidate: Candidate) {
        let sawn =
            candidate.sawn.cuts.iter().map(|id| self.wants[id.want.0].cuts[id.cut].board_feet);
        self.most_sawn = self.most_sawn.max(sawn.sum());
        let same = |known: &&mut Candidate| known.found.method == candidate.found.method;
        match self.best.iter_mut().find(same) {
            Some(known) if known.worth >= candidate.worth => {}
            Some(known) => *known = candidate,
            None => self.best.push(candidate),
        }
    }

    /// Turns candidates to where they are worth most, and keeps the best of every method.
    fn keep(&mut self, candidates: Vec<Candidate>) {
        // What the first of its kin is worth where tells where the others are looked at.
        let mut first: Vec<Method> = Vec::new();
        let (all_the_way, others) = candidates.into_iter().partition(|candidate| {
            let kin = kin(candidate.found.method);
            let is_first = !self.turns.know(kin) && !first.contains(&kin);
            first.extend(is_first.then_some(kin));
            is_first
        });
        self.keep_turned(all_the_way);
        self.keep_turned(others);
    }

    fn keep_turned(&mut self, candidates: Vec<Candidate>) {
        let turned: Vec<(Candidate, Vec<Turned>)> = candidates
            .into_par_iter()
            .map_init(
                || Looking::rough(self.log, &self.remembered),
                |looking, mut candidate| {
                    let worth = |turn: i32| self.worth(looking, &candidate, turn);
                    let seen = self.turns.look(self.log, candidate.found.method, worth);
                    (candidate.turn, candidate.worth) = most(&seen);
                    (candidate, seen)
                },
            )
            .collect();
        for (candidate, seen) in turned {
            self.tried += u32::try_from(seen.len()).unwrap_or(0);
            let poorest = seen.iter().min_by_key(|(_, worth)| *worth);
            if let Some((turn, worth)) = poorest
                && self.worst.is_none_or(|(_, known)| *worth < known)
            {
                self.worst = Some((candidate.frame.turned_by(Angle::degrees(*turn)), *worth));
            }
            self.turns.learn(candidate.found.method, seen);
            self.keep_best(candidate);
        }
    }

    /// Of every piece of a candidate that is turned by so many degrees, what it was cut for, and where it is worth most as
    /// it looks there.
    fn given(
        &self,
        looking: &Looking<'_>,
        candidate: &Candidate,
        turn: i32,
    ) -> Vec<(CutId, Option<Given>)> {
        let sawn = (candidate.frame, &candidate.sawn);
        given(looking, (self.wants, &Giving::Worth), sawn, turn)
    }

    /// What a candidate's pieces are worth when it is turned by so many degrees.
    fn worth(&self, looking: &Looking<'_>, candidate: &Candidate, turn: i32) -> i64 {
        let given: Vec<Given> =
            self.given(looking, candidate, turn).into_iter().filter_map(|(_, to)| to).collect();
        let cuts: Vec<CutId> = given.iter().map(|given| given.id).collect();
        let extra = counts::beyond_count(self.wants, &cuts);
        let one = |(given, extra): (&Given, &bool)| if *extra { given.extra } else { given.worth };
        given.iter().zip(&extra).map(one).sum()
    }

    /// The widest graded board of the best candidates.
    fn widest(&self) -> Option<Length> {
        let cuts = self.best.iter().flat_map(|candidate| &candidate.sawn.cuts);
        let graded = cuts.filter(|id| self.wants[id.want.0].grading.is_some());
        graded.map(|id| across(&self.wants[id.want.0].cuts[id.cut])).max()
    }

    /// What boards of each size were worth in the best candidates.
    pub(crate) fn shares(&self) -> Shares {
        let looking = Looking::rough(self.log, &self.remembered);
        let mut shares = Shares::default();
        for candidate in &self.best {
            for (id, given) in self.given(&looking, candidate, candidate.turn) {
                let best = &self.clear[id.want.0].cuts[id.cut];
                shares.add(best, given.map_or(0, |given| given.worth));
            }
        }
        shares
    }
}

fn across(cut: &Cut) -> Length {
    cut.width.max(cut.thickness)
}

/// The wants without graded boards that are wider than a limit.
pub(super) fn limited(wants: &[Want], limit: Option<Length>) -> Vec<Want> {
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
