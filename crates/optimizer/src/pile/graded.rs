//! Patterns of a pile's logs whose boards are worth what they look like.
//!
//! # Problem
//! Under prices of the wants the best pattern of a log is the one whose pieces, as they look where they lie, are worth most
//! after the prices. Which pattern that is nobody knows without looking at all of them; what one of them is worth is known
//! exactly.
//!
//! # Method
//! The wants are searched at what clear boards are worth ([`crate::looks::at_best`]): no pattern is worth more than that
//! search says, so its bound holds for the pile. What it finds is turned about the pith to where it is worth most under the
//! prices and looked at, and that is what the program over patterns gets: every piece with the want that it is given to as
//! it looks ([`Giving`]). Where that is no better than what is known, the sizes are sought once more at what boards of
//! them turned out to be worth in this log.
//!
//! Beside these the program is offered all that a log alone would be sawn into ([`Candidates`]), at the prices that it
//! begins with.
//!
//! # For which logs
//! A pattern of a log with defects suits that log alone. What a board of a log without any looks like depends on its size,
//! on the pith and on its wane; the pattern suits every other clear log that has the wood. There it may show more wane
//! where less is allowed by the grade, so what is chosen is looked at once more as it is sawn ([`super::sawn`]).

use super::classes::{Classes, Mark};
use crate::by_grade::{Candidate, Candidates, Shares, Turns, given};
use crate::column::{Columns, Prices};
use crate::counts::{self, Ask, Valued};
use crate::family::{Found, Search};
use crate::looks::{self, Given, Giving, Looking};
use crate::master::{Pattern, Within};
use crate::sawing::{Sawn, saw};
use crate::site::Site;
use crate::want::{Cut, Want};
use pithward_geometry::{Angle, Frame};
use std::sync::{Arc, OnceLock};

/// States of one search for a candidate, once a count is exceeded.
const STATES_EACH: u64 = 150_000;

/// What a log's candidates taught of it.
#[derive(Debug)]
pub(crate) struct Looked {
    turns: Turns,
    shares: Shares,
}

/// The same, once somebody looked.
pub(super) type LookedOnce = OnceLock<Arc<Looked>>;

/// A pattern with what the program knows it by.
pub(super) type Offer = (Pattern, Arc<Mark>);

/// The wants of every menu at their best; nothing for a menu where nobody grades.
pub(super) fn at_best(menus: &[Vec<Want>]) -> Vec<Option<Vec<Want>>> {
    let is_graded = |want: &Want| want.grading.is_some() && !want.cuts.is_empty();
    let best = |menu: &Vec<Want>| menu.iter().any(is_graded).then(|| looks::at_best(menu));
    menus.iter().map(best).collect()
}

impl Classes<'_> {
    /// The patterns that a log of a class alone would be sawn into under some prices; and the states made.
    pub(super) fn candidates(&self, class: usize, prices: &[i64]) -> (Vec<Offer>, u64) {
        let own = &self.all[class];
        let wants = under(self.wants(class), prices);
        let ask = Ask { work: self.work, most_states: STATES_EACH, times_free: 4 };
        let (log, pile) = (&own.log.log, self.pile);
        let asked = (&pile.settings, ask);
        let remembered = Arc::clone(&own.remembered);
        let mut candidates = Candidates::new(log, &pile.mill, &wants, asked, remembered);
        if candidates.find().is_err() {
            return (Vec::new(), candidates.states);
        }
        own.looked.get_or_init(|| {
            let (turns, shares) = (candidates.turns.clone(), candidates.shares());
            Arc::new(Looked { turns, shares })
        });
        let giving = Giving::Prices(prices.to_vec());
        let looking = Looking::remembering(log, &own.remembered);
        let offer = |candidate: &Candidate| {
            let Candidate { found, frame, sawn, turn, .. } = candidate;
            self.offer(class, &looking, found.clone(), (*frame, sawn, *turn), &giving)
        };
        (candidates.best.iter().map(offer).collect(), candidates.states)
    }

    /// A pattern of a class under prices, if it is worth more than `least` as it looks; what none is worth more than, and
    /// the states made.
    pub(super) fn by_looks(
        &self,
        class: usize,
        sought: &[Want],
        prices: &Prices,
        least: i64,
    ) -> (Option<Offer>, i64, u64) {
        let giving = Giving::Prices(prices.discount.clone());
        let better = |(pattern, _): &Offer| pattern.value(&prices.discount) > least;
        let (found, mut states) = self.sought(class, sought, prices, least);
        let Some(found) = found else { return (None, least, states) };
        let most = found.value;
        let mut offer = self.turned(class, sought, found, &giving).filter(better);
        if let Some(looked) = self.all[class].looked.get().filter(|_| offer.is_none()) {
            let learned = looked.shares.of(sought);
            let (found, more) = self.sought(class, &learned, prices, 0);
            states += more;
            let found = found.and_then(|found| self.turned(class, &learned, found, &giving));
            offer = found.filter(better);
        }
        (offer, most, states)
    }

    /// A pattern of a class within what is left wanted.
    pub(super) fn within_by_looks(
        &self,
        class: usize,
        wants: &[Want],
        (left, ask): (&[u32], Ask),
    ) -> Option<Within<Arc<Mark>>> {
        let sought = looks::at_best(wants);
        let seen = &self.all[class].seen;
        let columns = Columns::new(&seen.view, self.pile.mill.crosscut_kerf, &sought);
        let site = Site::new(&seen.view, &self.pile.mill, &columns);
        let best = counts::best(&site, &sought, &self.pile.settings.methods, ask)?;
        let valued = best.patterns.into_iter().max_by_key(Valued::net)?;
        let giving = Giving::Left(left.to_vec());
        let (pattern, mark) = self.turned(class, &sought, valued.found, &giving)?;
        Some(Within { pattern, mark, states: best.states })
    }

    /// The best pattern of some wants under prices, if it is worth more than `least`; and the states made.
    fn sought(
        &self,
        class: usize,
        wants: &[Want],
        prices: &Prices,
        least: i64,
    ) -> (Option<Found>, u64) {
        let seen = &self.all[class].seen;
        let columns = seen.columns_for(self, class, wants);
        let site = Site::new(&seen.view, &self.pile.mill, &columns);
        let mut search = Search::new(&site, wants, prices);
        let found = search.best_above(&self.pile.settings.methods, least);
        (found, search.states())
    }

    /// A pattern that was found for a class in its frame, turned to where its pieces are worth most as they are given.
    fn turned(
        &self,
        class: usize,
        sought: &[Want],
        found: Found,
        giving: &Giving,
    ) -> Option<Offer> {
        let own = &self.all[class];
        let (view, log) = (&own.seen.view, &own.log.log);
        let columns = own.seen.columns_for(self, class, sought);
        let site = Site::new(view, &self.pile.mill, &columns);
        let sawn = saw(&site, sought, &found).ok()?;
        let looking = Looking::rough(log, &own.remembered);
        let worth = |turn: i32| {
            let sawn = (view.frame(), &sawn);
            let pieces = given(&looking, (self.wants(class), giving), sawn, turn);
            pieces.iter().filter_map(|(_, given)| Some(given.as_ref()?.value)).sum()
        };
        // What may be cut from a stem is only weighed here; a log that is sawn was looked at.
        let rough = Turns::roughly();
        let turns = own.looked.get().map_or(&rough, |looked| &looked.turns);
        let turn = turns.best(log, found.method, worth);
        let looking = Looking::remembering(log, &own.remembered);
        Some(self.offer(class, &looking, found, (view.frame(), &sawn, turn), giving))
    }

    /// A pattern of a class that was sawn in a frame and is turned by so many degrees, as the program gets it.
    fn offer(
        &self,
        class: usize,
        looking: &Looking<'_>,
        found: Found,
        (frame, sawn, turn): (Frame, &Sawn, i32),
        giving: &Giving,
    ) -> Offer {
        let pieces = given(looking, (self.wants(class), giving), (frame, sawn), turn);
        let piece = |given: Given| (given.id.want.0, given.worth, given.extra);
        let pieces = pieces.into_iter().filter_map(|(_, given)| given.map(piece));
        let pattern = Pattern::new(found.effort(self.work), pieces);
        let columns = self.all[class].seen.columns_for(self, class, self.menu(class));
        let site = Site::new(&self.all[class].seen.view, &self.pile.mill, &columns);
        let frame = frame.turned_by(Angle::degrees(turn));
        let giving = Some(giving.clone());
        (pattern, Arc::new(Mark { frame, giving, ..self.mark(&site, class, found) }))
    }
}

/// Wants, as many of each as come, whose pieces are worth what is left of their worth after the prices.
fn under(wants: &[Want], prices: &[i64]) -> Vec<Want> {
    let want = |(want, price): (&Want, &i64)| {
        let cut = |cut: &Cut| Cut { worth: (cut.worth - price).max(cut.extra), ..*cut };
        Want { count: None, cuts: want.cuts.iter().map(cut).collect(), ..want.clone() }
    };
    wants.iter().zip(prices).map(want).collect()
}
