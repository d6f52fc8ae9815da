//! The logs of a pile as the program over patterns asks for them: classes of logs that are alike, each priced by the
//! exact search of one log.
//!
//! # Patterns that suit other logs
//! A strip needs wood within a radius over a length from the butt. The places that a pattern found for one log has its
//! strips in therefore say what any other log of the same wood must have: for each length a radius. Where it has that,
//! and the mill's guides and bed allow the same planes, the pattern suits it too. That is a sufficient condition, and
//! cheap: most patterns suit most larger logs.

use super::graded::{self, Looked, LookedOnce, Offer};
use super::{Pile, PileLog};
use crate::column::{Columns, NM, Prices, Work};
use crate::counts::{self, Ask, Valued};
use crate::family::around::AroundShape;
use crate::family::{Board, CantShape, Found, Line, Method, Rip, Search, Shape};
use crate::looks::{Giving, Remembered};
use crate::master::{Offered, Pattern, Priced, Pricer, UNIT, Within};
use crate::open::too_large;
use crate::plan::Rests;
use crate::rests::Laying;
use crate::site::{Lie, Site};
use crate::want::{Cut, Want};
use pithward_geometry::{Frame, Quarter, View};
use pithward_measure::Length;
use rayon::prelude::*;
use std::sync::Arc;

/// Logs that are alike.
#[derive(Clone, Debug)]
pub(crate) struct Class<'a> {
    pub(super) log: &'a PileLog,
    /// Places in [`Pile::logs`].
    pub(crate) members: Vec<usize>,
    /// The frame in which it is searched.
    pub(super) seen: Seen<'a>,
    pub(super) rests: Rests,
    /// What its candidates taught of it, where its boards are graded.
    pub(super) looked: LookedOnce,
    /// Which pieces were looked at.
    pub(super) remembered: Arc<Remembered>,
    nearest: i64,
    lowest: i64,
}

/// A log as one frame sees it.
#[derive(Clone, Debug)]
pub(super) struct Seen<'a> {
    pub(super) view: View<'a>,
    /// The columns of its own menu, where they cost much to make.
    columns: Option<Arc<Columns>>,
}

/// How a log is laid, and what was learned by looking at it.
#[derive(Clone, Debug)]
pub(super) struct Laid {
    frame: Frame,
    looked: Option<Arc<Looked>>,
}

impl Laid {
    /// As it was measured.
    pub(super) const LEVEL: Self = Self { frame: Frame::LEVEL, looked: None };
}

/// The classes of a pile. Logs that do not go on the mill are in none.
#[derive(Debug)]
pub(crate) struct Classes<'a> {
    pub(super) pile: &'a Pile,
    /// For every menu the wants at their best, where boards are graded.
    at_best: Vec<Option<Vec<Want>>>,
    pub(crate) all: Vec<Class<'a>>,
    pub(super) work: Work,
}

/// A pattern as it was found for one class, and what another must have for it.
#[derive(Clone, Debug)]
pub(crate) struct Mark {
    pub(super) menu: usize,
    pub(super) found: Found,
    pub(super) frame: Frame,
    /// The class that it was found for.
    pub(super) class: usize,
    /// The one class that it suits, where its log is not round and clean.
    pub(super) only: Option<usize>,
    /// To which wants its pieces are given, where boards are graded.
    pub(super) giving: Option<Giving>,
    /// Lengths from the butt and the radius that must be wood over them, the longest first.
    pub(super) needs: Vec<(Length, f64)>,
    /// The whole round passes between the guides at this plane.
    pub(super) nearest: i64,
    /// How far past the pith its lowest plane is, where it must be clear of the bed.
    pub(super) lowest: i64,
}

impl<'a> Classes<'a> {
    pub(crate) fn new(pile: &'a Pile) -> Self {
        Self::following(pile, &vec![None; pile.logs.len()])
    }

    /// The same where some logs are laid as others are, parts of the same stem, without a search of their own: for every
    /// log the place of the one that it follows, which follows none.
    pub(crate) fn following(pile: &'a Pile, leaders: &[Option<usize>]) -> Self {
        let mut places: Vec<usize> = (0..pile.logs.len())
            .filter(|n| too_large(&pile.logs[*n].log, &pile.mill).is_empty())
            .collect();
        let key = |n: usize| {
            let PileLog { log, menu } = &pile.logs[n];
            let ends = (log.small_end(), log.butt(), log.bark_small(), log.bark_butt());
            (*menu, log.small_end() + log.butt(), log.length(), ends)
        };
        // Neighbours are alike: by wood, then by thickness.
        places.sort_by_key(|n| (key(*n), *n));
        let mut groups: Vec<Vec<usize>> = Vec::new();
        for n in places {
            let alike = |group: &&mut Vec<usize>| {
                key(group[0]) == key(n) && pile.logs[group[0]].log == pile.logs[n].log
            };
            match groups.last_mut().filter(alike) {
                Some(group) => group.push(n),
                None => groups.push(vec![n]),
            }
        }
        let at_best = graded::at_best(&pile.menus);
        // Logs with a leader come once their leaders are laid.
        let mut of_log: Vec<Option<usize>> = vec![None; pile.logs.len()];
        for (n, group) in groups.iter().enumerate() {
            group.iter().for_each(|member| of_log[*member] = Some(n));
        }
        let leader = |group: &[usize]| {
            let leader = of_log[leaders[group[0]]?]?;
            leaders[groups[leader][0]].is_none().then_some(leader)
        };
        let laid: Vec<Option<Class<'_>>> = groups
            .par_iter()
            .map(|group| leader(group).is_none().then(|| Class::new(pile, &at_best, group.clone())))
            .collect();
        let class = |(n, group): (usize, &Vec<usize>)| match (&laid[n], leader(group)) {
            (Some(class), _) => class.clone(),
            (None, leader) => match leader.and_then(|leader| laid[leader].as_ref()) {
                Some(leader) => Class::like(pile, &at_best, group.clone(), leader),
                None => Class::new(pile, &at_best, group.clone()),
            },
        };
        let all = groups.par_iter().enumerate().map(class).collect();
        Self { pile, all, work: Work::of(pile.effort), at_best }
    }

    /// A class for every log, each laid as it is known, with what was looked at; logs that do not go on the mill are in none.
    pub(super) fn laid(pile: &'a Pile, laid: &[Laid]) -> Self {
        let fits = |n: &usize| too_large(&pile.logs[*n].log, &pile.mill).is_empty();
        let places: Vec<usize> = (0..pile.logs.len()).filter(fits).collect();
        let at_best = graded::at_best(&pile.menus);
        let class = |n: &usize| {
            let Laid { frame, looked } = &laid[*n];
            let class = Class::seen(pile, &at_best, vec![*n], *frame, Rests::default());
            let looked = looked.clone().map_or_else(LookedOnce::new, LookedOnce::from);
            Class { looked, ..class }
        };
        let all = places.iter().map(class).collect();
        Self { pile, all, work: Work::of(pile.effort), at_best }
    }

    /// How a class is laid, and what was looked at.
    pub(super) fn how_laid(&self, class: usize) -> Laid {
        let Class { seen, looked, .. } = &self.all[class];
        Laid { frame: seen.view.frame(), looked: looked.get().cloned() }
    }

    /// The wants that a class is searched for: its own, or those at their best where boards are graded.
    pub(super) fn menu(&self, class: usize) -> &[Want] {
        menu(self.pile, &self.at_best, self.all[class].log.menu)
    }

    fn is_graded(&self, class: usize) -> bool {
        self.at_best[self.all[class].log.menu].is_some()
    }

    /// The wants as a class serves them.
    pub(super) fn wants(&self, class: usize) -> &'a [Want] {
        &self.pile.menus[self.all[class].log.menu]
    }

    /// What a class is seen as in a frame.
    pub(super) fn view(&self, class: usize, frame: Frame) -> View<'a> {
        let known = &self.all[class].seen.view;
        if known.frame() == frame { known.clone() } else { known.along(frame) }
    }

    /// The best pattern of a class from some wants under prices, if it is worth more than `least`; and the states made.
    pub(super) fn search(
        &self,
        class: usize,
        wants: &[Want],
        prices: &Prices,
        least: i64,
    ) -> (Option<(Pattern, Arc<Mark>, i64)>, u64) {
        let seen = &self.all[class].seen;
        let columns = seen.columns_for(self, class, wants);
        let site = Site::new(&seen.view, &self.pile.mill, &columns);
        let mut search = Search::new(&site, wants, prices);
        let found = search.best_above(&self.pile.settings.methods, least);
        let states = search.states();
        let Some(found) = found else { return (None, states) };
        let pattern = self.pattern(class, prices.work, &found);
        let full: i64 = found.cuts().into_iter().map(|cut| prices.worth(wants, cut) * UNIT).sum();
        // Waste between boards that do not fit side by side takes passes that no recurrence knows.
        let value = full - pattern.effort;
        debug_assert!(value <= found.value, "its work is at least as searched");
        // Sawn around, the search leaves out the passes that free waste.
        let as_searched = value == found.value || found.method == Method::Around;
        debug_assert!(as_searched || !site.is_alike(), "its work is as searched");
        let bound = found.value;
        (Some((pattern, Arc::new(self.mark(&site, class, found)), bound)), states)
    }

    /// A pattern under prices, if it is worth more than `least`, from the menu of a class or a part of it; what none is worth
    /// more than, and the states made.
    pub(super) fn priced(
        &self,
        class: usize,
        menu: &[Want],
        prices: &Prices,
        least: i64,
    ) -> (Option<Offer>, i64, u64) {
        if self.is_graded(class) {
            return self.by_looks(class, menu, prices, least);
        }
        let (found, states) = self.search(class, menu, prices, least);
        let most = found.as_ref().map_or(least, |(.., value)| *value);
        (found.map(|(pattern, mark, _)| (pattern, mark)), most, states)
    }

    pub(super) fn mark(&self, site: &Site<'_>, class: usize, found: Found) -> Mark {
        // The halves of a thicker log may not clear the head, and its quarters lie otherwise.
        let quartered = matches!(found.shape, Shape::Quarter(_));
        // Boards of a log with defects look otherwise in any other.
        let looks = self.is_graded(class) && !self.all[class].log.log.defects().is_empty();
        let only = (!site.is_alike() || quartered || looks).then_some(class);
        Mark { class, ..Mark::new(site, self.all[class].log.menu, only, found) }
    }

    /// A pattern as the program sees it: what a piece is truly worth, whatever wants it was sought among.
    fn pattern(&self, class: usize, work: Work, found: &Found) -> Pattern {
        let own = self.wants(class);
        let pieces = found.cuts().into_iter().map(|id| {
            let cut = &own[id.want.0].cuts[id.cut];
            (id.want.0, cut.worth, cut.extra)
        });
        Pattern::new(found.effort(work), pieces)
    }
}

/// States of a search within what is left wanted: a fraction of a second, for there are many.
const STATES_WITHIN: u64 = 150_000;

impl<'a> Class<'a> {
    /// Logs that are alike, in the best frame that was found for them.
    fn new(pile: &'a Pile, at_best: &[Option<Vec<Want>>], members: Vec<usize>) -> Self {
        let log = &pile.logs[members[0]];
        let wants = menu(pile, at_best, log.menu);
        let free = Prices::of(vec![0; wants.len()], Work::of(pile.effort));
        let mut laying = Laying::new(&log.log, &pile.mill, wants, &pile.settings, &free);
        // One frame: what another gives more is less than what it costs to price both.
        let frame = laying.search_fewer().first().copied().unwrap_or(Frame::LEVEL);
        Self::seen(pile, at_best, members, frame, laying.rests())
    }

    /// Logs that are alike, in the best frame of others: turned like them, their axes as steep.
    fn like(
        pile: &'a Pile,
        at_best: &[Option<Vec<Want>>],
        members: Vec<usize>,
        leader: &Self,
    ) -> Self {
        let (own, other) = (&pile.logs[members[0]].log, &leader.log.log);
        let [own, other] = [own, other].map(|log| i128::from(log.length().as_nm()));
        let drift = |drift: Length| {
            let drift = (i128::from(drift.as_nm()) * own).div_euclid(other);
            Length::nm(i64::try_from(drift).unwrap_or(0))
        };
        let Frame { turn, drift_u, drift_h } = leader.seen.view.frame();
        let frame = Frame { turn, drift_u: drift(drift_u), drift_h: drift(drift_h) };
        Self::seen(pile, at_best, members, frame, leader.rests)
    }

    fn seen(
        pile: &'a Pile,
        at_best: &[Option<Vec<Want>>],
        members: Vec<usize>,
        frame: Frame,
        rests: Rests,
    ) -> Self {
        let log = &pile.logs[members[0]];
        let wants = menu(pile, at_best, log.menu);
        let crosscut = pile.mill.crosscut_kerf;
        let view = View::new(&log.log, frame);
        let columns = (!log.log.is_round()).then(|| Arc::new(Columns::new(&view, crosscut, wants)));
        let none = Columns::new(&view, crosscut, &[]);
        let site = Site::new(&view, &pile.mill, &none);
        let (nearest, lowest) = (site.nearest_plane(true), site.lowest_plane(Quarter::First));
        let seen = Seen { view, columns };
        let (looked, remembered) = (LookedOnce::new(), Arc::default());
        Self { log, members, seen, rests, looked, remembered, nearest, lowest }
    }
}

/// The wants that logs of a menu are searched for.
fn menu<'m>(pile: &'m Pile, at_best: &'m [Option<Vec<Want>>], menu: usize) -> &'m [Want] {
    at_best[menu].as_ref().unwrap_or(&pile.menus[menu])
}

impl Seen<'_> {
    pub(super) fn columns_for(
        &self,
        classes: &Classes<'_>,
        class: usize,
        wants: &[Want],
    ) -> Arc<Columns> {
        let own = std::ptr::eq(wants.as_ptr(), classes.menu(class).as_ptr());
        self.columns.as_ref().filter(|_| own).map_or_else(
            || Arc::new(Columns::new(&self.view, classes.pile.mill.crosscut_kerf, wants)),
            Arc::clone,
        )
    }
}

impl Pricer for Classes<'_> {
    type Mark = Arc<Mark>;

    fn classes(&self) -> usize {
        self.all.len()
    }

    fn logs(&self, class: usize) -> u32 {
        u32::try_from(self.all[class].members.len()).unwrap_or(u32::MAX)
    }

    fn best(&self, class: usize, prices: &[i64], least: i64) -> Priced<Arc<Mark>> {
        let prices = Prices::of(prices.to_vec(), self.work);
        let (pattern, most, states) = self.priced(class, self.menu(class), &prices, least);
        // What is better by less than a unit is not looked for.
        let bound = most.div_euclid(UNIT) * UNIT + UNIT - 1;
        Priced { pattern, bound, states }
    }

    fn offers(&self, class: usize, prices: &[i64]) -> Option<Offered<Arc<Mark>>> {
        let (patterns, states) = self.is_graded(class).then(|| self.candidates(class, prices))?;
        Some(Offered { patterns, states })
    }

    fn best_within(&self, class: usize, left: &[u32]) -> Option<Within<Arc<Mark>>> {
        let within = |(want, left): (&Want, &u32)| {
            // Of what nothing is left wanted every piece is an extra one.
            let spent = want.count.is_some() && *left == 0;
            let cut = |cut: &Cut| Cut { worth: if spent { cut.extra } else { cut.worth }, ..*cut };
            let count = want.count.filter(|_| !spent).map(|_| *left);
            Want { count, cuts: want.cuts.iter().map(cut).collect(), ..want.clone() }
        };
        let wants: Vec<Want> = self.wants(class).iter().zip(left).map(within).collect();
        let ask = Ask { work: self.work, most_states: STATES_WITHIN, times_free: 4 };
        if self.is_graded(class) {
            return self.within_by_looks(class, &wants, (left, ask));
        }
        let seen = &self.all[class].seen;
        let columns = Columns::new(&seen.view, self.pile.mill.crosscut_kerf, &wants);
        let site = Site::new(&seen.view, &self.pile.mill, &columns);
        let best = counts::best(&site, &wants, &self.pile.settings.methods, ask)?;
        let valued = best.patterns.into_iter().max_by_key(Valued::net)?;
        let pattern = self.pattern(class, self.work, &valued.found);
        let mark = Arc::new(self.mark(&site, class, valued.found));
        Some(Within { pattern, mark, states: best.states })
    }

    fn suits(&self, mark: &Arc<Mark>, class: usize) -> bool {
        let Class { log, nearest, lowest, .. } = &self.all[class];
        let wide = |(length, radius): &(Length, f64)| {
            log.log.radius_over_length(*length).is_some_and(|has| has >= *radius)
        };
        if let Some(only) = mark.only {
            return only == class;
        }
        log.menu == mark.menu
            && log.log.is_round()
            && (mark.giving.is_none() || log.log.defects().is_empty())
            && *nearest <= mark.nearest
            && *lowest >= mark.lowest
            && mark.needs.iter().all(wide)
    }
}

impl Mark {
    fn new(site: &Site<'_>, menu: usize, only: Option<usize>, found: Found) -> Self {
        let frame = site.view.frame();
        if only.is_some() {
            return Self {
                menu,
                found,
                frame,
                class: 0,
                only,
                giving: None,
                needs: Vec::new(),
                nearest: 0,
                lowest: 0,
            };
        }
        let mut needs = Needs { site, all: Vec::new() };
        let (nearest, lowest) = match &found.shape {
            Shape::Through(line) => {
                needs.line(line, Lie::ROUND);
                (0, clear(found.method == Method::Through, line))
            }
            Shape::Cant(cant) => {
                needs.cant(cant);
                let two_sided = found.method == Method::TwoSidedCant;
                (cant.top.min(cant.height - cant.top), clear(two_sided, &cant.inner))
            }
            Shape::Around(around) => (needs.around(around), i64::MIN),
            // It suits its own class alone.
            Shape::Quarter(_) => (0, i64::MIN),
        };
        let (needs, giving) = (needs.of_lengths(), None);
        Self { menu, nearest, lowest, needs, found, frame, class: 0, only, giving }
    }
}

/// How far past the pith a line reaches, where that matters.
fn clear(of_the_bed: bool, line: &Line) -> i64 {
    if of_the_bed { -line.base } else { i64::MIN }
}

/// What a log must have for the strips of a pattern.
struct Needs<'s, 'a> {
    site: &'s Site<'a>,
    /// Lengths from the butt, and the radius over them, nanometres.
    all: Vec<(i64, f64)>,
}

impl Needs<'_, '_> {
    fn line(&mut self, line: &Line, lie: Lie) {
        for (from, to, board) in line.planes(self.site.kerf) {
            self.board(board, from.abs().max(to.abs()), lie);
        }
    }

    fn cant(&mut self, cant: &CantShape) {
        self.line(&cant.inner, Lie::planks(cant.bounds()));
        for (side, face) in [(&cant.above, cant.top), (&cant.below, cant.height - cant.top)] {
            let mut plane = face;
            for board in side {
                plane += self.site.kerf + board.thickness;
                self.board(board, plane, Lie::ROUND);
            }
            // The face opens in the wood of the butt, by two micrometres.
            self.all.push((0, (face + 2_000) as f64));
        }
    }

    /// Layer by layer; the nearer of the two faces that are opened first.
    fn around(&mut self, around: &AroundShape) -> i64 {
        let mut nearest = i64::MAX;
        for placed in around.placed() {
            self.board(placed.board, placed.from.abs().max(placed.to.abs()), placed.lie);
        }
        for (quarter, face) in around.opened() {
            self.all.push((0, (face + 2_000) as f64));
            if quarter == Quarter::First {
                nearest = nearest.min(face);
            }
        }
        nearest
    }

    /// The strips of a board where they lie in the middle of their room.
    fn board(&mut self, board: &Board, plane: i64, lie: Lie) {
        let Some((from, to)) = self.site.room_of(&board.strips, lie, (plane, plane)) else {
            // It was found to fit; what does not is not said to suit anything.
            self.all.push((i64::MAX, f64::INFINITY));
            return;
        };
        let mut at = from + (to - from) / 2;
        for Rip { width, column, length, .. } in &board.strips {
            let end = at + width;
            if let Some(column) = column.map(|column| &self.site.columns.all[column]) {
                let edge = (-at).max(end) as f64;
                let plane = plane as f64;
                let inner = plane - column.wane_thickness;
                let mut radius = plane;
                if edge > 0.0 {
                    radius = radius.max((edge * edge + inner * inner).sqrt());
                }
                let face = edge - column.wane_width;
                if face > 0.0 {
                    radius = radius.max((face * face + plane * plane).sqrt());
                }
                // The next nanometre takes what the root rounds off.
                self.all.push((*length, radius + 1.0));
            }
            at = end + self.site.kerf;
        }
    }

    /// For every length the radius that all strips of it need, but those that a longer one implies.
    fn of_lengths(mut self) -> Vec<(Length, f64)> {
        self.all.sort_by(|a, b| b.0.cmp(&a.0).then(b.1.total_cmp(&a.1)));
        let mut needs: Vec<(Length, f64)> = Vec::new();
        for (length, radius) in self.all {
            let radius = radius / NM;
            if needs.last().is_none_or(|(_, known)| radius > *known) {
                needs.push((Length::nm(length), radius));
            }
        }
        needs
    }
}
