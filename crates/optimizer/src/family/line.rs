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

use super::{Board, Line, Search, Tables};
use crate::allowance::Allowances;
use crate::flitch::Table;
use crate::site::{Lie, Site};
use crate::stack::{Chosen, Kind, Meeting, Room, Stacks, Step};

/// A kind of board that a table offers.
#[derive(Clone)]
pub(crate) struct Offer<'t> {
    pub(crate) kind: Kind<'t>,
    table: &'t Table,
    /// What it uses of the allowance of its table.
    uses: usize,
}

/// What tables offer a line: its upper side, and its lower one where that differs.
pub(crate) struct Offers<'t> {
    lie: Lie,
    up: Vec<Offer<'t>>,
    low: Option<Vec<Offer<'t>>>,
}

impl<'t> Offers<'t> {
    pub(crate) fn new(search: &Search<'_>, tables: &'t Tables) -> Self {
        let side = |up| tables.offers(search.site, search.allowances, up);
        Self { lie: tables.lie, up: side(true), low: tables.low.is_some().then(|| side(false)) }
    }

    /// Those of them that can be freed from above.
    pub(crate) fn freed(&self, site: &Site<'_>) -> Self {
        let low = self.low.as_ref().map(|low| freed(site, low));
        Self { lie: self.lie, up: freed(site, &self.up), low }
    }

    /// The same with other steps on either side, offer by offer.
    pub(super) fn with<'s>(&self, steps: &'s [Vec<Step>]) -> Offers<'s>
    where
        't: 's,
    {
        let one = |(offer, steps): (&Offer<'t>, &'s Vec<Step>)| {
            let Kind { size, uses, .. } = offer.kind;
            Offer { kind: Kind { size, uses, steps }, table: offer.table, uses: offer.uses }
        };
        let up = self.up.iter().zip(steps).map(one).collect();
        Offers { lie: self.lie, up, low: None }
    }

    /// The offer of boards as thick, with as much of the allowance.
    pub(super) fn like(&self, other: &Offer<'_>) -> Option<&Offer<'t>> {
        let same = |own: &Offer<'_>| own.kind.size == other.kind.size && own.uses == other.uses;
        self.up.iter().find(|own| same(own))
    }

    /// How the boards lie.
    pub(super) fn lie(&self) -> Lie {
        self.lie
    }

    pub(crate) fn side(&self, up: bool) -> &[Offer<'t>] {
        self.low.as_ref().filter(|_| !up).unwrap_or(&self.up)
    }
}

/// The kinds of board that tables offer, group by group.
pub(super) fn offers<'t>(
    site: &Site<'_>,
    allowances: &Allowances,
    tables: &'t [Table],
) -> Vec<Offer<'t>> {
    let groups = site.columns.groups.iter().zip(tables);
    groups
        .flat_map(|(group, table)| {
            let kinds = table.kinds(group.thickness, allowances);
            kinds.into_iter().map(move |kind| Offer { uses: kind.uses, kind, table })
        })
        .collect()
}

/// Those of them that can be freed from above.
pub(super) fn freed<'t>(site: &Site<'_>, offers: &[Offer<'t>]) -> Vec<Offer<'t>> {
    let deepest = site.deepest_board();
    offers.iter().filter(|offer| offer.kind.size <= deepest).cloned().collect()
}

/// The kinds as a stack takes them.
pub(crate) fn kinds<'t>(offers: &[Offer<'t>]) -> Vec<Kind<'t>> {
    offers.iter().map(|offer| offer.kind.clone()).collect()
}

/// The boards that a stack chose on one side of the axis: the lower plane of each, what it is worth, and itself.
pub(crate) fn boards(
    search: &Search<'_>,
    offers: &[Offer<'_>],
    up: bool,
    chosen: impl Iterator<Item = Chosen>,
) -> Vec<Lying> {
    chosen
        .map(|Chosen { kind, step, at }| {
            let offer = &offers[kind];
            let Offer { kind, .. } = offer;
            Lying {
                from: if up { at } else { -at - kind.size },
                value: kind.steps[step].value,
                board: board(search, offer, step),
            }
        })
        .collect()
}

/// The board of one step of an offer.
pub(super) fn board(search: &Search<'_>, offer: &Offer<'_>, step: usize) -> Board {
    let Offer { kind, table, uses } = offer;
    let strips = table.strips(*uses, step).iter();
    let strips = strips.map(|strip| search.rip(strip)).collect();
    Board { thickness: kind.size, strips }
}

/// A board where a stack has it.
pub(crate) struct Lying {
    /// Its lower plane.
    from: i64,
    value: i64,
    board: Board,
}

/// Far above what any line is worth, far below what overflows.
const ON_BED: i64 = 1 << 61;

/// The board on the bed as a kind of its own.
struct OnBed {
    /// The steps of the offers of either side that may lie there, each with the bonus; none for the others.
    up: Vec<Vec<Step>>,
    low: Option<Vec<Vec<Step>>>,
    allowances: Allowances,
}

impl OnBed {
    /// `None` where every board may be freed and may lie on the bed.
    fn new(search: &Search<'_>, offers: &Offers<'_>) -> Option<Self> {
        let (lowest, deepest) = (search.site.lowest_blade(), search.site.deepest_board());
        let free = |offer: &Offer<'_>| (lowest..=deepest).contains(&offer.kind.size);
        if offers.up.iter().chain(offers.low.iter().flatten()).all(free) {
            return None;
        }
        let with_bonus = |offer: &Offer<'_>| -> Vec<Step> {
            let steps = offer.kind.steps.iter().filter(|_| offer.kind.size >= lowest);
            // Where nothing may lie, nothing may lie on the bed either.
            let more = |value: i64| if value > 0 { value + ON_BED } else { value };
            steps.map(|step| Step { at: step.at, value: more(step.value) }).collect()
        };
        let all = |offers: &Vec<Offer<'_>>| offers.iter().map(with_bonus).collect();
        let (up, low) = (all(&offers.up), offers.low.as_ref().map(all));
        Some(Self { up, low, allowances: search.allowances.with_one_more() })
    }

    /// The boards that may be freed, and those that may lie on the bed.
    fn offers<'s>(&'s self, search: &Search<'_>, offers: &Offers<'s>) -> Offers<'s> {
        let one = search.allowances.size();
        let side = |offers: &[Offer<'s>], steps: &'s [Vec<Step>]| {
            let bed = offers.iter().zip(steps).filter(|(_, steps)| !steps.is_empty());
            let bed = bed.map(|(offer, steps)| Offer {
                kind: Kind { size: offer.kind.size, uses: offer.kind.uses + one, steps },
                ..*offer
            });
            freed(search.site, offers).into_iter().chain(bed).collect()
        };
        let low = offers.low.as_ref().zip(self.low.as_ref());
        Offers {
            lie: offers.lie,
            up: side(&offers.up, &self.up),
            low: low.map(|(offers, steps)| side(offers, steps)),
        }
    }
}

/// Both sides of a line and the best way for them to meet, for every allowance of the search.
pub(crate) struct Sides<'s> {
    offers: Offers<'s>,
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
        let (under, over) = (self.offers.side(false), self.offers.side(true));
        let (low_kinds, kinds) = (kinds(under), kinds(over));
        let below = lower.lower_boards(&low_kinds, &self.allowances, meeting);
        let mut line = boards(search, under, false, below);
        let above = self.upper.upper_boards(&kinds, &self.allowances, meeting);
        let kerf = search.site.kerf;
        let depth: i64 = line.iter().map(|found| found.board.thickness + kerf).sum();
        line.reverse();
        line.extend(boards(search, over, true, above));
        let site = search.site;
        snug(kerf, line, meeting.at - depth, |line| {
            site.is_alike() || fits(site, self.offers.lie, line)
        })
    }
}

/// Puts boards side by side, the first at `base`; where they do not fit so, each where it was found, with waste between.
/// Between two of them there must be either a kerf, or two and waste between: where there is neither, the one worth less
/// is left out.
fn snug(kerf: i64, mut found: Vec<Lying>, base: i64, fits: impl Fn(&Line) -> bool) -> Line {
    let boards = found.iter().map(|found| found.board.clone()).collect();
    let line = Line { boards, base };
    if fits(&line) {
        return line;
    }
    let gap = |pair: &[Lying]| pair[1].from - pair[0].from - pair[0].board.thickness;
    let narrow = |pair: &[Lying]| gap(pair) != kerf && gap(pair) < 2 * kerf;
    while let Some(place) = found.windows(2).position(narrow) {
        let less = if found[place].value < found[place + 1].value { place } else { place + 1 };
        found.remove(less);
    }
    let base = found.first().map_or(base, |found| found.from);
    let mut boards: Vec<Board> = Vec::with_capacity(2 * found.len());
    let mut next = base;
    for Lying { from, board, .. } in found {
        if from > next {
            boards.push(Board { thickness: from - kerf - next, strips: Vec::new() });
        }
        next = from + board.thickness + kerf;
        boards.push(board);
    }
    Line { boards, base }
}

/// Whether every board of a line has its strips in sound wood.
pub(crate) fn fits(site: &Site<'_>, lie: Lie, line: &Line) -> bool {
    let mut boards = line.planes(site.kerf);
    boards.all(|(from, to, board)| site.room_of(&board.strips, lie, (from, to)).is_some())
}

/// The boards beyond a face on one side of a cant, from the inside out, with waste before and between them where they do
/// not fit side by side.
pub(crate) fn beyond(search: &Search<'_>, up: bool, allowance: usize, face: i64) -> Vec<Board> {
    let offers = Offers { lie: Lie::ROUND, up: search.side_offers(up), low: None };
    past(search, &offers, search.outer(up), (up, allowance), face)
}

/// The boards of a stack past a plane on its side of the axis, from the inside out, with waste as in [`beyond`].
pub(crate) fn past(
    search: &Search<'_>,
    offers: &Offers<'_>,
    stack: &Stacks,
    (up, allowance): (bool, usize),
    face: i64,
) -> Vec<Board> {
    let (site, kerf, lie) = (search.site, search.site.kerf, offers.lie);
    let offers = offers.side(up);
    let kinds = kinds(offers);
    let chosen = stack.boards_beyond(&kinds, search.allowances, allowance, face + kerf);
    // Outward from the axis on its own side, the face itself the first, of no thickness.
    let outward = |mut found: Lying| {
        if !up {
            found.from = -found.from - found.board.thickness;
        }
        found
    };
    let own = boards(search, offers, up, chosen).into_iter().map(outward);
    let board = Board { thickness: 0, strips: Vec::new() };
    let found = std::iter::once(Lying { from: face, value: i64::MAX, board }).chain(own).collect();
    let side_by_side = |line: &Line| {
        let mut boards = line.planes(kerf);
        let fits = |(from, to, board): (i64, i64, &Board)| {
            let planes = if up { (from, to) } else { (-to, -from) };
            site.room_of(&board.strips, lie, planes).is_some()
        };
        site.is_alike() || boards.all(fits)
    };
    let mut line = snug(kerf, found, face, side_by_side);
    line.boards.remove(0);
    line.boards
}

/// The best line whatever the mill asks: no line of any way of sawing is worth more.
pub(crate) fn unbounded<'s>(search: &Search<'_>, offers: Offers<'s>) -> Sides<'s> {
    let limit = search.site.limit;
    sides(search, offers, search.allowances.clone(), [limit; 2], 0)
}

/// The best line of boards no plane of which lies further out than so far above the axis, and so far below it.
pub(crate) fn within<'s>(search: &Search<'_>, offers: Offers<'s>, outer: [i64; 2]) -> Sides<'s> {
    sides(search, offers, search.allowances.clone(), outer, 0)
}

/// The best line that is sawn straight down, clear of the bed.
pub(crate) fn straight<'s>(search: &Search<'_>, offers: &Offers<'s>) -> Sides<'s> {
    let site = search.site;
    let lowest = site.lowest_plane(offers.lie.quarter).min(site.limit);
    sides(search, offers.freed(site), search.allowances.clone(), [site.limit, lowest], 0)
}

/// What `then` makes of the best line that is turned onto one of its planes.
pub(crate) fn turned<R>(
    search: &Search<'_>,
    offers: Offers<'_>,
    then: impl FnOnce(&Sides<'_>) -> R,
) -> R {
    let Some(bed) = OnBed::new(search, &offers) else {
        return then(&unbounded(search, offers));
    };
    let size = search.allowances.size();
    let (all, allowances) = (bed.offers(search, &offers), bed.allowances.clone());
    let mut sides = sides(search, all, allowances, [search.site.limit; 2], size);
    for meeting in &mut sides.meetings {
        // Without the bonus no board could lie on the bed: there is no such line.
        meeting.value = (meeting.value - ON_BED).max(0);
    }
    then(&sides)
}

/// Whether a turned line asks anything of its boards.
pub(crate) fn asks(search: &Search<'_>, offers: &Offers<'_>) -> bool {
    OnBed::new(search, offers).is_some()
}

/// Sweeps both sides, each to its own limit, and lets them meet with `more` allowance than the search has.
fn sides<'s>(
    search: &Search<'_>,
    offers: Offers<'s>,
    allowances: Allowances,
    [highest, lowest]: [i64; 2],
    more: usize,
) -> Sides<'s> {
    let (kerf, limit) = (search.site.kerf, search.site.limit);
    let sweep = |up: bool, outer: i64| {
        let mut side = Stacks::default();
        let room = Room { outer, past: limit };
        side.sweep(&kinds(offers.side(up)), kerf, room, &allowances);
        side
    };
    let upper = sweep(true, highest);
    let own = offers.low.is_some() || lowest != highest;
    let lower = own.then(|| sweep(false, lowest));
    let meet = |allowance: usize| {
        let lower = lower.as_ref().unwrap_or(&upper);
        Stacks::meet(&upper, lower, kerf, &allowances, allowance + more)
    };
    let meetings = (0..search.allowances.size()).map(meet).collect();
    Sides { offers, upper, lower, meetings, allowances }
}
