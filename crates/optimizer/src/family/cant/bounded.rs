//! Cants opened in the order of what they can be worth at most.
//!
//! # Bound
//! A cant is worth its side boards, which are known, and its planks. These are worth no more than those of any cant that
//! holds it, but for the passes that square planks save; and no board of it is worth more than the best strips that its
//! own height has room for. So the planks of a cant are stacked once more from the tables of the smallest cant known that
//! holds it, each board at most at the second of these, and its worth rounded up to a whole unit: what only breaks ties
//! would make many times as many states. That is some hundred times as quick as making tables of its own. Heights that are
//! sums of as much wood and a kerf more or less lie close together: what bounds the highest of them bounds the others nearly
//! as well.
//!
//! # Method
//! The place of the greatest bound is taken: its bound is made closer by a stack of its own height, or where a smaller cant
//! that holds it was opened since; else it is opened itself. None is left that is better when the greatest bound is no better
//! than the best. Where many places of a height lie side by side, the tables of one hardly bound the next. There a cant with
//! faces on a grid that holds some of them is opened first: a few of those rule out nearly all places.

use super::super::{Found, Method, Search, Tables, line};
use super::{CANTS, PASSES, places};
use crate::column::UNIT;
use crate::flitch::Bounds;
use crate::stack::{Kind, Room, Stacks, Step};
use std::collections::{BTreeMap, BinaryHeap};

/// A cant that may be opened. The one that may be worth most is the greatest; of several the higher.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Place {
    /// It is worth no more than this.
    bound: i64,
    pub(super) height: i64,
    /// Place of the upper face.
    pub(super) top: i64,
    /// What its side boards are worth.
    pub(super) sides: i64,
    /// What its planks may be worth more than those of a cant that holds it.
    square: i64,
    /// The cant that the bound is by, in the order in which they were opened, and the height of it that was stacked.
    by: Option<(usize, i64)>,
}

impl Place {
    pub(super) fn new(search: &Search<'_>, height: i64, top: i64, square: i64) -> Self {
        let sides = places::sides(search, height, top);
        Self { bound: i64::MAX, height, top, sides, square, by: None }
    }

    fn bounds(&self) -> Bounds {
        places::faces(self.height, self.top)
    }

    /// What it is worth at most when its planks are worth no more than this, in whole units: less than the next unit, for
    /// every board takes a pass. Passes that square planks save are rounded up in that already, where they only break ties.
    fn most(&self, planks: i64) -> i64 {
        let square = if self.square < UNIT { 0 } else { self.square };
        whole_above(self.sides) + square + planks - 1
    }
}

/// The whole unit at or above.
fn whole_above(value: i64) -> i64 {
    -(-value).div_euclid(UNIT) * UNIT
}

/// Distance of the faces of cants that are opened to bound many places side by side, nanometres. Of twice as large ones ten
/// times as many places must be opened.
const GRID: i64 = 14_000_000;

/// The smallest cant with faces on the grid that holds another, no larger than one that holds all.
fn on_grid(own: Bounds, all: Bounds) -> Bounds {
    let out = |face: i64, most: i64| (-(-face).div_euclid(GRID) * GRID).min(most);
    Bounds { up: out(own.up, all.up), low: out(own.low, all.low) }
}

/// Opens places while one of them may gain something: `see` is shown the tables of each. Whether many of them lie `close`
/// together is for the caller to know.
pub(super) fn explore<S>(
    search: &mut Search<'_>,
    (open, close): (Vec<Place>, bool),
    state: &mut S,
    gains: impl Fn(&S, i64) -> bool,
    see: impl Fn(&mut S, &mut Search<'_>, &Place, &Tables),
) {
    let mut caps = Caps::new(search);
    // A cant that holds all others makes a bound for each of them.
    let widest = |bounds: Bounds, place: &Place| {
        let own = place.bounds();
        Bounds { up: bounds.up.max(own.up), low: bounds.low.max(own.low) }
    };
    let all = open.iter().fold(Bounds { up: 0, low: 0 }, widest);
    let mut opened: Vec<(Bounds, Tables)> = Vec::new();
    if !open.iter().any(|place| place.bounds() == all) {
        let tables = search.planks(all);
        opened.push((all, tables));
    }
    let mut open = BinaryHeap::from(open);
    while let Some(mut place) = open.pop() {
        if !gains(state, place.bound) {
            break;
        }
        let own = place.bounds();
        let holds = |other: &Bounds| other.up >= own.up && other.low >= own.low;
        let holding = opened.iter().enumerate().filter(|(_, (bounds, _))| holds(bounds));
        let smallest = holding.min_by_key(|(_, (bounds, _))| bounds.up + bounds.low);
        if let Some((by, (_, tables))) = smallest
            && place.by != Some((by, place.height))
        {
            let near = caps.near(by, place.height).filter(|_| place.by.is_none_or(|b| b.0 != by));
            let (height, planks) = near.unwrap_or_else(|| {
                (place.height, caps.planks_by(search, (by, tables), place.height))
            });
            place.bound = place.bound.min(place.most(planks));
            place.by = Some((by, height));
            open.push(place);
            continue;
        }
        let holding = on_grid(own, all);
        if close && !opened.iter().any(|(bounds, _)| *bounds == holding) {
            let tables = search.planks(holding);
            opened.push((holding, tables));
            open.push(place);
            continue;
        }
        let tables = search.planks(own);
        see(state, search, &place, &tables);
        opened.push((own, tables));
    }
}

/// Of each of these methods the patterns of the `most` cants that may be worth most.
pub(crate) fn first(search: &mut Search<'_>, methods: &[Method], most: usize) -> Vec<Found> {
    let own = CANTS.into_iter().filter(|method| methods.contains(method));
    let methods: Vec<Method> = own.collect();
    if methods.is_empty() {
        return Vec::new();
    }
    let heights = places::all(search, places::MOST_PLACES);
    let places = places::open_places(search, &heights);
    let mut seen: (usize, Vec<Found>) = (0, Vec::new());
    let see = |(count, found): &mut (usize, Vec<Found>),
               search: &mut Search<'_>,
               place: &Place,
               tables: &Tables| {
        *count += 1;
        let at = (place.height, place.top);
        let own = methods.iter().map(|method| super::pattern(search, *method, at, tables));
        // A cant that gives nothing is not turned.
        found.extend(own.filter(|own| own.value + search.work.fixed(own.method, PASSES) > 0));
    };
    let more = |seen: &(usize, Vec<Found>), bound: i64| seen.0 < most && bound > 0;
    explore(search, (places, false), &mut seen, more, see);
    seen.1
}

/// What the strips of one board can be worth at most, by how wide it is: for every group of columns.
struct Caps {
    /// Widths with a kerf for each strip, and what they are worth, both rising; `None` where there are too many.
    sums: Vec<Option<Vec<(i64, i64)>>>,
    /// For each group the columns' widths and what a strip of each is worth at most.
    columns: Vec<Vec<(i64, i64)>>,
    kerf: i64,
    pass: i64,
    /// By tables and height what planks are worth at most: places of one height differ by their side boards alone.
    known: BTreeMap<(usize, i64), i64>,
    /// Room for the stacks above the axis and below it.
    sides: [Stacks; 2],
}

/// By how much a cant may be higher that bounds another in its stead, nanometres: a few kerfs.
const NEAR: i64 = 12_700_000;

/// Sums of widths that are kept.
const MOST_SUMS: usize = 400;

impl Caps {
    fn new(search: &Search<'_>) -> Self {
        let (site, kerf, pass) = (search.site, search.site.kerf, search.work.pass);
        let most = 2 * site.limit + kerf;
        let column = |column: &usize| {
            let rungs = search.lengths[*column].ladders.iter().flat_map(|ladder| &ladder.rungs);
            let worth = rungs.map(|(_, worth)| *worth).max().unwrap_or(0);
            (site.columns.all[*column].width, worth)
        };
        let columns: Vec<Vec<(i64, i64)>> = site
            .columns
            .groups
            .iter()
            .map(|group| group.columns.iter().map(column).collect())
            .collect();
        let sums = columns.iter().map(|columns| {
            let mut sums: Vec<(i64, i64)> = vec![(0, 0)];
            let mut next = 0;
            while next < sums.len() {
                let (wide, worth) = sums[next];
                for (width, own) in columns {
                    let sum = (wide + width + kerf, worth + own - pass);
                    if sum.0 > most || *own <= pass {
                        continue;
                    }
                    match sums.iter_mut().find(|other| other.0 == sum.0) {
                        Some(other) => other.1 = other.1.max(sum.1),
                        None => sums.push(sum),
                    }
                }
                if sums.len() > MOST_SUMS {
                    return None;
                }
                // The narrowest that was not looked at, so that what it is worth is known.
                next += 1;
                sums[next..].sort_unstable();
            }
            let mut best = 0;
            for (_, worth) in &mut sums {
                best = best.max(*worth);
                *worth = best;
            }
            Some(sums)
        });
        let sums = sums.collect();
        Self { sums, columns, kerf, pass, known: BTreeMap::new(), sides: Default::default() }
    }

    /// What a board of a group between the faces of a cant is worth at most.
    fn board(&self, group: usize, height: i64) -> i64 {
        // As wide as the cant, a strip takes no pass of its own.
        let own = self.columns[group].iter().filter(|(width, _)| *width == height);
        let square = own.map(|(_, worth)| *worth).max().unwrap_or(0);
        let ripped = match &self.sums[group] {
            Some(sums) => {
                let fit = sums.partition_point(|(wide, _)| *wide <= height + self.kerf);
                fit.checked_sub(1).map_or(0, |n| sums[n].1)
            }
            None => i64::MAX / 8,
        };
        square.max(ripped) - self.pass
    }

    /// What was said of a cant as high or a little higher by the same tables, and its height.
    fn near(&self, by: usize, height: i64) -> Option<(i64, i64)> {
        let known = self.known.range((by, height)..=(by, height + NEAR)).next();
        known.map(|((_, height), planks)| (*height, *planks))
    }

    /// What the planks of a cant are worth at most in whole units, by the tables of one that holds it, the `by`-th.
    fn planks_by(
        &mut self,
        search: &Search<'_>,
        (by, tables): (usize, &Tables),
        height: i64,
    ) -> i64 {
        if let Some(known) = self.known.get(&(by, height)) {
            return *known;
        }
        let mut sides = std::mem::take(&mut self.sides);
        let planks = self.planks(search, tables, height, &mut sides);
        self.sides = sides;
        self.known.insert((by, height), planks);
        planks
    }

    fn planks(
        &self,
        search: &Search<'_>,
        tables: &Tables,
        height: i64,
        [upper, lower]: &mut [Stacks; 2],
    ) -> i64 {
        let (site, full) = (search.site, search.allowances.full());
        let offers = line::Offers::new(search, tables);
        let groups = &site.columns.groups;
        let sweep = |up: bool, side: &mut Stacks| {
            let capped = |offer: &line::Offer<'_>| -> Vec<Step> {
                let group = groups.iter().position(|group| group.thickness == offer.kind.size);
                let cap = group.map_or(i64::MAX, |group| self.board(group, height));
                let mut steps: Vec<Step> = Vec::with_capacity(offer.kind.steps.len());
                for step in offer.kind.steps {
                    let value = whole_above(step.value.min(cap));
                    // What is worth no more than further out needs no step.
                    if steps.last().is_none_or(|last| last.value != value) {
                        steps.push(Step { at: step.at, value });
                    }
                }
                steps
            };
            let all: Vec<Vec<Step>> = offers.side(up).iter().map(capped).collect();
            let kinds: Vec<Kind<'_>> = offers
                .side(up)
                .iter()
                .zip(&all)
                .map(|(offer, steps)| Kind { steps, ..offer.kind.clone() })
                .collect();
            let room = Room { outer: site.limit, past: site.limit };
            side.sweep(&kinds, self.kerf, room, search.allowances);
        };
        sweep(true, upper);
        sweep(false, lower);
        Stacks::meet(upper, lower, self.kerf, search.allowances, full).value
    }
}
