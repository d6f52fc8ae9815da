//! The logs of a pile as the program over patterns asks for them: classes of logs that are alike, each priced by the
//! exact search of one log.
//!
//! # Patterns that suit other logs
//! A strip needs wood within a radius over a length from the butt. The places that a pattern found for one log has its
//! strips in therefore say what any other log of the same wood must have: for each length a radius. Where it has that,
//! and the mill's guides and bed allow the same planes, the pattern suits it too. That is a sufficient condition, and
//! cheap: most patterns suit most larger logs.

use super::{Pile, PileLog};
use crate::column::{Columns, NM, Prices, Work};
use crate::counts::{self, Ask, Valued};
use crate::family::{Board, CantShape, Found, Line, Method, Rip, Search, Shape};
use crate::flitch::Bounds;
use crate::master::{Pattern, Priced, Pricer, UNIT, Within};
use crate::open::too_large;
use crate::site::Site;
use crate::want::{Cut, Want};
use pithward_measure::Length;
use std::sync::Arc;

/// Logs that are alike.
#[derive(Clone, Debug)]
pub(super) struct Class {
    pub(super) log: PileLog,
    /// Places in [`Pile::logs`].
    pub(super) members: Vec<usize>,
    nearest: i64,
    lowest: i64,
}

/// The classes of a pile. Logs that do not go on the mill are in none.
#[derive(Debug)]
pub(super) struct Classes<'a> {
    pub(super) pile: &'a Pile,
    pub(super) all: Vec<Class>,
    pub(super) work: Work,
}

/// A pattern as it was found for one class, and what another must have for it.
#[derive(Clone, Debug)]
pub(super) struct Mark {
    menu: usize,
    pub(super) found: Found,
    /// Lengths from the butt and the radius that must be wood over them, the longest first.
    needs: Vec<(Length, f64)>,
    /// The whole round passes between the guides at this plane.
    nearest: i64,
    /// How far past the pith its lowest plane is, where it must be clear of the bed.
    lowest: i64,
}

impl<'a> Classes<'a> {
    pub(super) fn new(pile: &'a Pile) -> Self {
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
        let none = Columns::new(&nothing(), pile.mill.crosscut_kerf, &[]);
        let mut all: Vec<Class> = Vec::new();
        for n in places {
            match all.last_mut().filter(|class| key(class.members[0]) == key(n)) {
                Some(class) => class.members.push(n),
                None => {
                    let log = pile.logs[n].clone();
                    let site = Site::new(&log.log, &pile.mill, &none);
                    let (nearest, lowest) = (site.nearest_plane(), site.lowest_plane());
                    all.push(Class { log, members: vec![n], nearest, lowest });
                }
            }
        }
        Self { pile, all, work: Work::of(pile.effort) }
    }

    /// The wants as a class serves them.
    pub(super) fn wants(&self, class: usize) -> &'a [Want] {
        &self.pile.menus[self.all[class].log.menu]
    }

    /// The columns of a class.
    pub(super) fn columns(&self, class: usize, wants: &[Want]) -> Columns {
        Columns::new(&self.all[class].log.log, self.pile.mill.crosscut_kerf, wants)
    }

    /// The best pattern of a class from some wants under prices, if it is worth more than `least`; and the states made.
    pub(super) fn search(
        &self,
        class: usize,
        wants: &[Want],
        prices: &Prices,
        least: i64,
    ) -> (Option<(Pattern, Arc<Mark>, i64)>, u64) {
        let columns = self.columns(class, wants);
        let site = Site::new(&self.all[class].log.log, &self.pile.mill, &columns);
        let mut search = Search::new(&site, wants, prices);
        let found = search.best_above(&self.pile.settings.methods, least);
        let states = search.states();
        let named = found.map(|found| {
            let value = found.value;
            let pattern = self.pattern(class, &columns, prices.work, &found);
            let full = found.cuts().into_iter().map(|cut| prices.worth(wants, cut) * UNIT);
            debug_assert_eq!(full.sum::<i64>() - pattern.effort, value, "its work is as searched");
            (pattern, Arc::new(Mark::new(&site, self.all[class].log.menu, found)), value)
        });
        (named, states)
    }

    /// A pattern as the program sees it: what a piece is truly worth, whatever wants it was sought among.
    fn pattern(&self, class: usize, columns: &Columns, work: Work, found: &Found) -> Pattern {
        let own = self.wants(class);
        let pieces = found.cuts().into_iter().map(|id| {
            let cut = &own[id.want.0].cuts[id.cut];
            (id.want.0, cut.worth, cut.extra)
        });
        Pattern::new(found.effort(columns, work), pieces)
    }
}

/// States of a search within what is left wanted: a fraction of a second, for there are many.
const STATES_WITHIN: u64 = 150_000;

/// A log for questions that do not depend on the log.
fn nothing() -> pithward_geometry::Log {
    let (across, along) = (Length::inches(1), Length::feet(1));
    pithward_geometry::Log::new(across, across, along, Length::ZERO, Length::ZERO)
        .expect("an inch across and a foot long is the least that a log may measure")
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
        let (found, states) = self.search(class, self.wants(class), &prices, least);
        let most = found.as_ref().map_or(least, |(.., value)| *value);
        // What is better by less than a unit is not looked for.
        let bound = most.div_euclid(UNIT) * UNIT + UNIT - 1;
        Priced { pattern: found.map(|(pattern, mark, _)| (pattern, mark)), bound, states }
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
        let columns = self.columns(class, &wants);
        let site = Site::new(&self.all[class].log.log, &self.pile.mill, &columns);
        let ask = Ask { work: self.work, most_states: STATES_WITHIN, times_free: 4 };
        let best = counts::best(&site, &wants, &self.pile.settings.methods, ask)?;
        let valued = best.patterns.into_iter().max_by_key(Valued::net)?;
        let pattern = self.pattern(class, &columns, self.work, &valued.found);
        let mark = Arc::new(Mark::new(&site, self.all[class].log.menu, valued.found));
        Some(Within { pattern, mark, states: best.states })
    }

    fn suits(&self, mark: &Arc<Mark>, class: usize) -> bool {
        let Class { log, nearest, lowest, .. } = &self.all[class];
        let wide = |(length, radius): &(Length, f64)| {
            log.log.radius_over_length(*length).is_some_and(|has| has >= *radius)
        };
        log.menu == mark.menu
            && *nearest <= mark.nearest
            && *lowest >= mark.lowest
            && mark.needs.iter().all(wide)
    }
}

impl Mark {
    fn new(site: &Site<'_>, menu: usize, found: Found) -> Self {
        let mut needs = Needs { site, all: Vec::new() };
        let (nearest, lowest) = match &found.shape {
            Shape::Through(line) => {
                needs.line(line, Bounds::ROUND);
                (0, clear(found.method == Method::Through, line))
            }
            Shape::Cant(cant) => {
                needs.cant(cant);
                let two_sided = found.method == Method::TwoSidedCant;
                (cant.top.min(cant.height - cant.top), clear(two_sided, &cant.inner))
            }
        };
        Self { menu, nearest, lowest, needs: needs.of_lengths(), found }
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
    fn line(&mut self, line: &Line, bounds: Bounds) {
        for (from, to, board) in line.planes(self.site.kerf) {
            self.board(board, from.abs().max(to.abs()), bounds);
        }
    }

    fn cant(&mut self, cant: &CantShape) {
        self.line(&cant.inner, cant.bounds());
        for (side, face) in [(&cant.above, cant.top), (&cant.below, cant.height - cant.top)] {
            let mut plane = face;
            for board in side {
                plane += self.site.kerf + board.thickness;
                self.board(board, plane, Bounds::ROUND);
            }
            // The face opens in the wood of the butt, by two micrometres.
            self.all.push((0, (face + 2_000) as f64));
        }
    }

    /// The strips of a board where they lie in the middle of their room.
    fn board(&mut self, board: &Board, plane: i64, bounds: Bounds) {
        let Some((from, to)) = self.site.room(&board.strips, plane, bounds) else {
            // It was found to fit; what does not is not said to suit anything.
            self.all.push((i64::MAX, f64::INFINITY));
            return;
        };
        let mut at = from + (to - from) / 2;
        for Rip { column, length, .. } in &board.strips {
            let column = &self.site.columns.all[*column];
            let end = at + column.width;
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
