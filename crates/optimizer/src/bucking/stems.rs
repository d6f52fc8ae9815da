//! The pile as the program over patterns asks for it where stems stand beside the logs: a stem is a class whose
//! patterns are rows of logs.
//!
//! The logs that may be cut from stems are classes of logs like any other, found alike across stems and searched in
//! parallel; what a stem's best row is worth under prices is the recurrence of [`super::way`] over what the best
//! patterns of its spans are worth.

use super::way::{Span, Way};
use super::{BuckTerms, PileStem, way};
use crate::master::{Pattern, Priced, Pricer};
use crate::pile::classes::{Classes, Mark};
use crate::pile::{Pile, PileLog};
use pithward_geometry::Log;
use pithward_measure::Length;
use rayon::prelude::*;
use std::sync::Arc;

/// Spans of one round, sound stem at most; more than a few hundred gain less than they cost.
const MOST_ROUND: usize = 400;
/// Spans of any other stem: a frame is sought for each.
const MOST_OTHER: usize = 120;
/// Spans of all stems together, at most; each of them has as many as any other. Moving these trades time for choice.
const MOST_OF_ALL: usize = 2_000;
/// But no stem is kept from so many.
const LEAST: usize = 40;

/// Stems that are alike.
#[derive(Debug)]
pub(super) struct Kind {
    /// Places in the list of stems.
    pub(super) members: Vec<usize>,
    pub(super) way: Way,
}

/// What may be cut from every kind of stem.
pub(super) fn kinds(pile: &Pile, stems: &[PileStem], terms: &BuckTerms) -> Vec<Kind> {
    let mut kinds: Vec<(usize, Vec<usize>)> = Vec::new();
    for (n, stem) in stems.iter().enumerate() {
        match kinds.iter_mut().find(|(first, _)| stems[*first] == *stem) {
            Some((_, members)) => members.push(n),
            None => kinds.push((n, vec![n])),
        }
    }
    let share = (MOST_OF_ALL / kinds.len().max(1)).max(LEAST);
    let kind = |(first, members): (usize, Vec<usize>)| {
        let stem = &stems[first];
        let wants = &pile.menus[stem.menu];
        let lengths = terms.lengths_for(wants, pile.mill.crosscut_kerf);
        let most = if stem.log.is_round() { MOST_ROUND } else { MOST_OTHER };
        let most = way::Most { spans: most.min(share) };
        Kind { members, way: Way::new(stem, terms, wants, &lengths, most) }
    };
    kinds.into_iter().map(kind).collect()
}

/// A log cut from a stem; `None` where a span is no log.
pub(super) fn log_of(stem: &PileStem, span: Span) -> Option<Log> {
    let end = stem.log.length();
    stem.log.bucked(end - span.to, end - span.from).ok()
}

/// A pile with all logs that may be cut from its stems.
#[derive(Debug)]
pub(super) struct Spanned {
    pile: Pile,
    /// How many of its logs are not cut from stems.
    logs: usize,
    /// For every kind and span the log's place.
    places: Vec<Vec<Option<usize>>>,
    /// For every log the one that it is laid like: one that begins where it does.
    leaders: Vec<Option<usize>>,
}

/// A pile with all logs that may be cut from its stems.
pub(super) fn with_spans(pile: &Pile, stems: &[PileStem], kinds: &[Kind]) -> Spanned {
    let mut logs = pile.logs.clone();
    let mut leaders: Vec<Option<usize>> = vec![None; logs.len()];
    let mut places: Vec<Vec<Option<usize>>> = Vec::new();
    for Kind { members, way } in kinds {
        let stem = &stems[members[0]];
        let cut: Vec<Option<Log>> = way.spans.par_iter().map(|span| log_of(stem, *span)).collect();
        let place = |log: Option<Log>| {
            log.map(|log| {
                logs.push(PileLog { log, menu: stem.menu });
                logs.len() - 1
            })
        };
        let of_kind: Vec<Option<usize>> = cut.into_iter().map(place).collect();
        leaders.resize(logs.len(), None);
        for same in way.starting_together() {
            let middle = of_kind[(same.start + same.end) / 2];
            for place in of_kind[same].iter().flatten() {
                leaders[*place] = middle.filter(|middle| middle != place);
            }
        }
        places.push(of_kind);
    }
    Spanned { logs: pile.logs.len(), pile: Pile { logs, ..pile.clone() }, places, leaders }
}

/// One class of the program.
#[derive(Debug)]
enum Unit {
    /// Logs of the pile that are alike: their class, and how many.
    Logs(usize, u32),
    /// A kind of stem.
    Stems(usize),
}

/// What a pattern is known by.
#[derive(Clone, Debug)]
pub(super) enum Cut {
    /// That of a log.
    Log(Arc<Mark>),
    /// The spans of a kind of stem.
    Row(usize, Arc<Vec<usize>>),
}

/// The classes of a pile of logs and stems.
#[derive(Debug)]
pub(super) struct Stems<'a> {
    classes: Classes<'a>,
    kinds: &'a [Kind],
    /// For every kind and span its class; `None` where it does not go on the mill.
    of_span: Vec<Vec<Option<usize>>>,
    units: Vec<Unit>,
}

/// What the spans of a stem are worth under some prices.
pub(super) struct Worths {
    /// Their best patterns, and what these are worth.
    found: Vec<Option<(Pattern, i64)>>,
    /// No pattern of a span is worth more.
    most: Vec<Option<i64>>,
    states: u64,
}

impl<'a> Stems<'a> {
    /// The classes of a pile.
    pub(super) fn new(spanned: &'a Spanned, kinds: &'a [Kind]) -> Self {
        let Spanned { pile, logs, places, leaders } = spanned;
        let classes = Classes::following(pile, leaders);
        let mut of_log: Vec<Option<usize>> = vec![None; pile.logs.len()];
        let mut units = Vec::new();
        for (n, class) in classes.all.iter().enumerate() {
            for member in &class.members {
                of_log[*member] = Some(n);
            }
            let own = class.members.iter().filter(|member| **member < *logs).count();
            if own > 0 {
                units.push(Unit::Logs(n, u32::try_from(own).unwrap_or(u32::MAX)));
            }
        }
        units.extend((0..kinds.len()).map(Unit::Stems));
        let class = |place: &Option<usize>| place.and_then(|place| of_log[place]);
        let of_span = places.iter().map(|spans| spans.iter().map(class).collect()).collect();
        Self { classes, kinds, of_span, units }
    }

    /// The kind of stem that a class of the program is.
    pub(super) fn kind(&self, unit: usize) -> Option<usize> {
        match self.units[unit] {
            Unit::Logs(..) => None,
            Unit::Stems(kind) => Some(kind),
        }
    }

    /// How many different logs may be cut from the stems.
    pub(super) fn spans(&self) -> usize {
        let mut all: Vec<usize> =
            self.of_span.iter().flatten().filter_map(|class| *class).collect();
        all.sort_unstable();
        all.dedup();
        all.len()
    }

    /// What the spans of a kind are worth under prices.
    pub(super) fn worths(&self, kind: usize, prices: &[i64]) -> Worths {
        let of_span = &self.of_span[kind];
        let mut classes: Vec<usize> = of_span.iter().filter_map(|class| *class).collect();
        classes.sort_unstable();
        classes.dedup();
        let priced: Vec<Priced<Arc<Mark>>> =
            classes.par_iter().map(|class| self.classes.best(*class, prices, 0)).collect();
        let of = |class: &Option<usize>| {
            let place = classes.binary_search(&(*class)?).ok()?;
            priced.get(place)
        };
        let found = |class| {
            let (pattern, _) = of(class)?.pattern.as_ref()?;
            Some((pattern.clone(), pattern.value(prices)))
        };
        Worths {
            found: of_span.iter().map(found).collect(),
            most: of_span.iter().map(|class| of(class).map(|priced| priced.bound)).collect(),
            states: priced.iter().map(|priced| priced.states).sum(),
        }
    }
}

impl Worths {
    /// What a row of spans is worth.
    pub(super) fn of<'s>(&self, spans: impl IntoIterator<Item = &'s usize>) -> i64 {
        let one = |span: &usize| self.found[*span].as_ref().map_or(0, |(_, value)| *value);
        spans.into_iter().map(one).fold(0, i64::saturating_add)
    }

    /// The best row, and what it is worth.
    pub(super) fn best(&self, way: &Way) -> (i64, Vec<usize>) {
        let worth: Vec<Option<i64>> =
            self.found.iter().map(|found| found.as_ref().map(|(_, value)| *value)).collect();
        way.best(&worth)
    }

    /// The pattern of a row.
    fn pattern(&self, row: &[usize]) -> Pattern {
        let found = || row.iter().filter_map(|span| self.found[*span].as_ref());
        let effort = found().map(|(pattern, _)| pattern.effort).sum();
        let pieces = found().flat_map(|(pattern, _)| &pattern.pieces);
        let each =
            pieces.flat_map(|p| std::iter::repeat_n((p.want, p.worth, p.extra), p.pieces as usize));
        Pattern::new(effort, each)
    }
}

impl Pricer for Stems<'_> {
    type Mark = Cut;

    fn classes(&self) -> usize {
        self.units.len()
    }

    fn logs(&self, class: usize) -> u32 {
        match self.units[class] {
            Unit::Logs(_, logs) => logs,
            Unit::Stems(kind) => u32::try_from(self.kinds[kind].members.len()).unwrap_or(u32::MAX),
        }
    }

    fn best(&self, class: usize, prices: &[i64], least: i64) -> Priced<Cut> {
        match self.units[class] {
            Unit::Logs(class, _) => {
                let Priced { pattern, bound, states } = self.classes.best(class, prices, least);
                let pattern = pattern.map(|(pattern, mark)| (pattern, Cut::Log(mark)));
                Priced { pattern, bound, states }
            }
            Unit::Stems(kind) => {
                let way = &self.kinds[kind].way;
                let worths = self.worths(kind, prices);
                let (bound, _) = way.best(&worths.most);
                let (value, row) = worths.best(way);
                let pattern = (value > least && !row.is_empty())
                    .then(|| (worths.pattern(&row), Cut::Row(kind, Arc::new(row))));
                Priced { pattern, bound: bound.max(least), states: worths.states }
            }
        }
    }

    fn suits(&self, mark: &Cut, class: usize) -> bool {
        match (mark, &self.units[class]) {
            (Cut::Log(mark), Unit::Logs(class, _)) => self.classes.suits(mark, *class),
            (Cut::Row(kind, _), Unit::Stems(own)) => kind == own,
            _ => false,
        }
    }
}

impl BuckTerms {
    /// Lengths of the logs that serve some wants, trim included, the shortest first.
    pub(super) fn lengths_for(&self, wants: &[crate::Want], crosscut: Length) -> Vec<Length> {
        let limits = (self.shortest, self.longest);
        let Some(lengths) = &self.lengths else {
            return super::lengths::useful(wants, crosscut, limits);
        };
        let mut lengths: Vec<Length> =
            lengths.iter().copied().filter(|l| (limits.0..=limits.1).contains(l)).collect();
        lengths.sort_unstable();
        lengths.dedup();
        lengths
    }
}
