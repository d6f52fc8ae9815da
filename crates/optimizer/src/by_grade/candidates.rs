//! The patterns of a log whose boards are worth what they look like, that are worth most: the best found of every method.

use super::edged::Edging;
use super::shares::Shares;
use super::turned::{Turned, Turns, given, kin, most};
use crate::column::{Columns, Prices, UNIT};
use crate::counts::{self, Ask};
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

/// Widest graded boards of patterns that are sought without wider ones, in eighths of the widest that was found. Without
/// them logs of 12 to 24 in with 20 defects are worth one per cent less.
const NARROWER: [i64; 3] = [7, 6, 4];

/// Cants that are sawn and looked at where their boards lie. With 12 a pile of seven logs was worth two per cent less, with 30 half
/// a per cent more; single logs gain less by it.
const MOST_SEEN: usize = 20;

/// Strips of a board that are looked at, at most, to edge it. With 40 the same logs are worth two per cent less, with 400 one
/// per cent more.
const MOST_LOOKS: usize = 120;

/// The same where patterns are only ranked.
const FEW_LOOKS: usize = 40;

/// Share of the best pattern's worth that others must have by few looks to be edged by many, per cent.
const NEAR: i64 = 97;

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

/// Wants, and the widest graded board among them, if there is such a limit.
type Menu = (Vec<Want>, Option<Length>);

/// The patterns of one log that were looked at.
pub(crate) struct Candidates<'a> {
    pub(super) log: &'a Log,
    pub(super) mill: &'a Mill,
    pub(super) wants: &'a [Want],
    pub(super) settings: &'a Settings,
    ask: Ask,
    /// Each method for itself, whatever the others are worth.
    each: bool,
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
            each: false,
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

    /// Finds the best of each method, whatever the others are worth.
    pub(crate) fn find_each(&mut self) -> Result<(), PlanFault> {
        self.each = true;
        self.find()
    }

    /// Finds them in a log that lies already as it is to be sawn, or else as suits it best.
    pub(crate) fn find_laid(&mut self, laid: Option<Frame>) -> Result<(), PlanFault> {
        let Some(frame) = laid else { return self.find() };
        self.turns = Turns::never();
        self.find_in(&[frame])
    }

    /// Finds them.
    pub(crate) fn find(&mut self) -> Result<(), PlanFault> {
        let prices = Prices::of(vec![0; self.clear.len()], self.ask.work);
        let mut laying = Laying::new(self.log, self.mill, &self.clear, self.settings, &prices);
        let frames: Vec<Frame> = if self.log.is_round() {
            Laying::for_taper(self.log, self.settings.taper)
        } else {
            laying.rank();
            laying.ranked(FRAMES)
        };
        self.states += laying.states;
        self.find_in(&frames)
    }

    fn find_in(&mut self, frames: &[Frame]) -> Result<(), PlanFault> {
        let clear = self.clear.clone();
        let found = self.patterns(frames, &[(clear.clone(), None)], true)?;
        self.keep(found);
        let widest = self.widest().filter(|_| !self.log.defects().is_empty());
        let narrower: Vec<Menu> = widest
            .iter()
            .flat_map(|widest| NARROWER.map(|eighths| widest.as_nm() / 8 * eighths))
            .map(|limit| (limited(&clear, Some(Length::nm(limit))), Some(Length::nm(limit))))
            .collect();
        let found = self.patterns(frames, &narrower, false)?;
        self.keep(found);
        self.by_looks();
        self.edge();
        Ok(())
    }

    /// The best pattern of every method in every frame by what each of some menus says, sawn.
    fn patterns(
        &mut self,
        frames: &[Frame],
        menus: &[Menu],
        first: bool,
    ) -> Result<Vec<Candidate>, PlanFault> {
        // What is sawn around is sought again only where it was better than all others at first.
        let known = |method: &Method| self.best.iter().any(|best| best.found.method == *method);
        let methods = self.settings.methods.iter().copied();
        let sought = methods.filter(|method| first || *method != Method::Around || known(method));
        // Together what is sawn around is sought only where it beats the others.
        let (around, others): (Vec<Method>, Vec<Method>) =
            sought.partition(|method| self.each && *method == Method::Around);
        let groups = [others, around];
        let mut searches: Vec<(&Frame, &Menu, &[Method])> = Vec::new();
        for methods in groups.iter().filter(|methods| !methods.is_empty()) {
            for menu in menus {
                searches.extend(frames.iter().map(|frame| (frame, menu, &methods[..])));
            }
        }
        let search = |(frame, (menu, limit), methods): &(&Frame, &Menu, &[Method])| {
            let view = View::new(self.log, **frame);
            let columns = Columns::new(&view, self.mill.crosscut_kerf, menu);
            let site = Site::new(&view, self.mill, &columns);
            let best = counts::best(&site, menu, methods, self.ask).ok_or(PlanFault::Program)?;
            let candidate = |valued: &counts::Valued| {
                let sawn = saw(&site, menu, &valued.found).ok()?;
                let found = valued.found.clone();
                Some(Candidate { found, frame: **frame, sawn, limit: *limit, turn: 0, worth: 0 })
            };
            Ok((best.patterns.iter().filter_map(candidate).collect::<Vec<_>>(), best))
        };
        let found: Vec<_> = searches.par_iter().map(search).collect::<Result<_, PlanFault>>()?;
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

    /// Patterns by what boards look like where they lie, way by way; kept where they are better.
    fn by_looks(&mut self) {
        if self.log.defects().is_empty() {
            return;
        }
        let ways = self.ways();
        let seen: Vec<(Vec<Candidate>, u64)> =
            ways.par_iter().map(|(best, methods)| self.by_looks_in(best, methods)).collect();
        for (candidates, states) in seen {
            self.states += states;
            candidates.into_iter().for_each(|candidate| self.keep_best(candidate));
        }
    }

    /// All methods, beside the best candidate; for each method by itself those that are akin, beside their best.
    fn ways(&self) -> Vec<(&Candidate, Vec<Method>)> {
        let mut ways: Vec<(&Candidate, Vec<Method>)> = Vec::new();
        for method in &self.settings.methods {
            let akin = |known: &&Candidate| kin(known.found.method) == kin(*method);
            let akin = self.best.iter().filter(|known| !self.each || akin(known));
            let Some(best) = akin.max_by_key(|known| known.worth) else { continue };
            match ways.iter_mut().find(|(known, _)| std::ptr::eq(*known, best)) {
                Some((_, methods)) => methods.push(*method),
                None => ways.push((best, vec![*method])),
            }
        }
        ways
    }

    /// Patterns of some methods by what boards look like, in the frame of the best of them so far; and the states made. What is
    /// sawn around only where it is better than everything else: to look at all of its cores takes long.
    fn by_looks_in(&self, best: &Candidate, methods: &[Method]) -> (Vec<Candidate>, u64) {
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
        let found = search.seen(methods, MOST_SEEN);
        let mut candidates: Vec<Candidate> = found.into_iter().filter_map(sawn).collect();
        let around = methods.contains(&Method::Around);
        let beside = self.settings.methods.iter().any(|method| *method != Method::Around);
        if around && (self.each || !beside || Length::nm(2 * site.limit) <= AROUND) {
            let rivals = self.best.iter().chain(&candidates);
            let rivals = rivals.filter(|rival| !self.each || rival.found.method == Method::Around);
            let known = rivals.map(|rival| rival.worth).max();
            candidates.extend(search.around(known.unwrap_or(0) * UNIT).and_then(sawn));
        }
        (candidates, search.states())
    }

    /// Edges the boards of the best of every method by what they look like; at first with few looks, where only the best of
    /// all is asked for, and then those once more that come near it.
    fn edge(&mut self) {
        if self.log.defects().is_empty() {
            return;
        }
        if self.each {
            self.edge_those(0, MOST_LOOKS);
            return;
        }
        self.edge_those(0, FEW_LOOKS);
        let most = self.best.iter().map(|known| known.worth).max().unwrap_or(0);
        self.edge_those(most / 100 * NEAR, MOST_LOOKS);
    }

    /// Edges those that are worth so much, so many strips of each board looked at.
    fn edge_those(&mut self, least: i64, looks: usize) {
        let those = self.best.par_iter().filter(|known| known.worth >= least);
        let edged: Vec<Candidate> =
            those.filter_map(|candidate| self.edged(candidate, looks)).collect();
        edged.into_iter().for_each(|candidate| self.keep_best(candidate));
    }

    /// A candidate with its boards edged by what they look like, where another edging is worth more.
    fn edged(&self, candidate: &Candidate, looks: usize) -> Option<Candidate> {
        let frame = candidate.frame.turned_by(Angle::degrees(candidate.turn));
        let limit = candidate.limit;
        let menu = limited(&self.clear, limit);
        let view = View::new(self.log, frame);
        let columns = Columns::new(&view, self.mill.crosscut_kerf, &menu);
        let site = Site::new(&view, self.mill, &columns);
        let looking = Looking::rough(self.log, &self.remembered);
        let eyes = looks::Eyes::new(&looking, self.wants, &self.clear);
        let found =
            Edging::new(&site, (&menu, self.ask.work), &eyes).edge(&candidate.found, looks)?;
        let sawn = saw(&site, &menu, &found).ok()?;
        let mut edged = Candidate { found, frame, sawn, limit, turn: 0, worth: 0 };
        edged.worth = self.worth(&looking, &edged, 0);
        Some(edged)
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
