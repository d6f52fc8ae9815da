//! A line of boards between parallel planes, and what the mill asks of it.
//!
//! # Problem
//! A line is sawn from the top down. What a pass frees stands above the blade, a kerf higher, and must clear the head:
//! a board thicker than `D` cannot be freed. Sawn straight down, every board is freed, and a slab stays on the bed.
//! Turned half round onto one of its planes, the line is sawn down to the bed, where one board stays: that one may be
//! thicker than `D`, but not thinner than the blade can go down to.
//!
//! # Recurrence
//! The stack of [`crate::stack`], with the boards that may be freed. Where a line is turned and not every board could
//! be the one on the bed, that one is a kind of its own, which uses one more allowance and has a bonus far above any
//! worth: the best line then has exactly one.
//!
//! # Cost
//! Nothing more on a mill on which every board can be freed and left on the bed; twice the states else.

use super::{Board, Line, Search};
use crate::allowance::Allowances;
use crate::flitch::Table;
use crate::stack::{Chosen, Kind, Meeting, Room, Stacks, Step};

/// A kind of board that a table offers.
#[derive(Clone)]
pub(crate) struct Offer<'t> {
    pub(crate) kind: Kind<'t>,
    table: &'t Table,
    /// What it uses of the allowance of its table.
    uses: usize,
}

/// The kinds of board that tables offer, group by group.
pub(crate) fn offers<'t>(search: &Search<'_>, tables: &'t [Table]) -> Vec<Offer<'t>> {
    let groups = search.site.columns.groups.iter().zip(tables);
    groups
        .flat_map(|(group, table)| {
            let kinds = table.kinds(group.thickness, search.allowances);
            kinds.into_iter().map(move |kind| Offer { uses: kind.uses, kind, table })
        })
        .collect()
}

/// Those of them that can be freed from above.
pub(crate) fn freed<'t>(search: &Search<'_>, offers: &[Offer<'t>]) -> Vec<Offer<'t>> {
    let deepest = search.site.deepest_board();
    offers.iter().filter(|offer| offer.kind.size <= deepest).cloned().collect()
}

/// The kinds as a stack takes them.
pub(crate) fn kinds<'t>(offers: &[Offer<'t>]) -> Vec<Kind<'t>> {
    offers.iter().map(|offer| offer.kind.clone()).collect()
}

/// The boards that a stack chose.
pub(crate) fn boards(
    search: &Search<'_>,
    offers: &[Offer<'_>],
    chosen: impl Iterator<Item = Chosen>,
) -> Vec<Board> {
    chosen
        .map(|Chosen { kind, step }| {
            let Offer { kind, table, uses } = &offers[kind];
            let strips = table.strips(*uses, step).iter();
            Board { thickness: kind.size, strips: strips.map(|strip| search.rip(strip)).collect() }
        })
        .collect()
}

/// Far above what any line is worth, far below what overflows.
const ON_BED: i64 = 1 << 61;

/// The board on the bed as a kind of its own.
struct OnBed {
    /// The steps of the offers that may lie there, each with the bonus; none for the others.
    steps: Vec<Vec<Step>>,
    allowances: Allowances,
}

impl OnBed {
    /// `None` where every board may be freed and may lie on the bed.
    fn new(search: &Search<'_>, offers: &[Offer<'_>]) -> Option<Self> {
        let (lowest, deepest) = (search.site.lowest_blade(), search.site.deepest_board());
        let free = |offer: &Offer<'_>| (lowest..=deepest).contains(&offer.kind.size);
        if offers.iter().all(free) {
            return None;
        }
        let with_bonus = |offer: &Offer<'_>| -> Vec<Step> {
            let steps = offer.kind.steps.iter().filter(|_| offer.kind.size >= lowest);
            steps.map(|step| Step { at: step.at, value: step.value + ON_BED }).collect()
        };
        let steps = offers.iter().map(with_bonus).collect();
        Some(Self { steps, allowances: search.allowances.with_one_more() })
    }

    /// The boards that may be freed, and those that may lie on the bed.
    fn offers<'s>(&'s self, search: &Search<'_>, offers: &[Offer<'s>]) -> Vec<Offer<'s>> {
        let one = search.allowances.size();
        let bed = offers.iter().zip(&self.steps).filter(|(_, steps)| !steps.is_empty());
        let bed = bed.map(|(offer, steps)| Offer {
            kind: Kind { size: offer.kind.size, uses: offer.kind.uses + one, steps },
            ..*offer
        });
        freed(search, offers).into_iter().chain(bed).collect()
    }
}

/// Both sides of a line and the best way for them to meet, for every allowance of the search.
pub(crate) struct Sides<'s> {
    offers: Vec<Offer<'s>>,
    allowances: Allowances,
    upper: Stacks,
    /// The same as the upper one where there is none.
    lower: Option<Stacks>,
    meetings: Vec<Meeting>,
}

impl Sides<'_> {
    /// What the line is worth, for every allowance of the search.
    pub(crate) fn values(&self) -> Vec<i64> {
        self.meetings.iter().map(|meeting| meeting.value).collect()
    }

    /// The line itself.
    pub(crate) fn line(&self, search: &Search<'_>, allowance: usize) -> Line {
        let (meeting, lower) =
            (&self.meetings[allowance], self.lower.as_ref().unwrap_or(&self.upper));
        let (kinds, kerf) = (kinds(&self.offers), search.site.kerf);
        let below = lower.lower_boards(&kinds, &self.allowances, meeting);
        let mut line = boards(search, &self.offers, below);
        let above = self.upper.upper_boards(&kinds, &self.allowances, meeting);
        let depth: i64 = line.iter().map(|board| board.thickness + kerf).sum();
        line.reverse();
        line.extend(boards(search, &self.offers, above));
        Line { boards: line, base: meeting.at - depth }
    }
}

/// The best line whatever the mill asks: no line of any way of sawing is worth more.
pub(crate) fn unbounded<'s>(search: &Search<'_>, offers: Vec<Offer<'s>>) -> Sides<'s> {
    let limit = search.site.limit;
    sides(search, offers, search.allowances.clone(), limit, 0)
}

/// The best line that is sawn straight down, clear of the bed.
pub(crate) fn straight<'s>(search: &Search<'_>, offers: &[Offer<'s>]) -> Sides<'s> {
    let lowest = search.site.lowest_plane().min(search.site.limit);
    sides(search, freed(search, offers), search.allowances.clone(), lowest, 0)
}

/// What `then` makes of the best line that is turned onto one of its planes.
pub(crate) fn turned<R>(
    search: &Search<'_>,
    offers: &[Offer<'_>],
    then: impl FnOnce(&Sides<'_>) -> R,
) -> R {
    let Some(bed) = OnBed::new(search, offers) else {
        return then(&unbounded(search, offers.to_vec()));
    };
    let size = search.allowances.size();
    let (all, allowances) = (bed.offers(search, offers), bed.allowances.clone());
    let mut sides = sides(search, all, allowances, search.site.limit, size);
    for meeting in &mut sides.meetings {
        // Without the bonus no board could lie on the bed: there is no such line.
        meeting.value = (meeting.value - ON_BED).max(0);
    }
    then(&sides)
}

/// Whether a turned line asks anything of its boards.
pub(crate) fn asks(search: &Search<'_>, offers: &[Offer<'_>]) -> bool {
    OnBed::new(search, offers).is_some()
}

/// Sweeps both sides, the lower one to its own limit, and lets them meet with `more` allowance than the search has.
fn sides<'s>(
    search: &Search<'_>,
    offers: Vec<Offer<'s>>,
    allowances: Allowances,
    lowest: i64,
    more: usize,
) -> Sides<'s> {
    let (kerf, limit) = (search.site.kerf, search.site.limit);
    let kinds = kinds(&offers);
    let sweep = |outer: i64| {
        let mut side = Stacks::default();
        side.sweep(&kinds, kerf, Room { outer, past: limit }, &allowances);
        side
    };
    let upper = sweep(limit);
    let lower = (lowest < limit).then(|| sweep(lowest));
    let meet = |allowance: usize| {
        let lower = lower.as_ref().unwrap_or(&upper);
        Stacks::meet(&upper, lower, kerf, &allowances, allowance + more)
    };
    let meetings = (0..search.allowances.size()).map(meet).collect();
    Sides { offers, upper, lower, meetings, allowances }
}
