//! Cant sawing: two opposite faces leave a cant of a useful height, which is turned a quarter and sawn
//! through; what lies beyond the faces becomes side boards.
//!
//! # Recurrence
//! With `H` the height of the cant, `y` the place of its upper face and `k` the kerf:
//! ```text
//! max over H, y of  F(y + k) + F(H - y + k) + I(H, y)
//! ```
//! `F` is the stack of side boards ([`crate::stack`]) and `I` the best line of planks across the cant: the
//! through-and-through program again, a quarter turned, with the two faces bounding every plank.
//!
//! # Grid and cost
//! `H` runs over the wanted widths and their sums with kerfs; a random width stands alone. In round wood the upper face
//! is, by symmetry, the further one. As it moves out, `F(y + k)` and `I` only fall, and `F(H - y + k)` rises in steps: so
//! only the places where the lower side gains a board need be tried, and the cant on the pith; and of those only
//! where both sides together are worth more than at every nearer place. That is exact where all pieces are of one length.
//! A shorter piece reaches further out than a longer one beside it: such a row may fit between faces that lie aside, and not
//! between nearer ones. Of 400 logs with a taper of 2 to 7 in over 16 ft and wants of several lengths, 18 had a cant aside that
//! was better than the one found, by 0.1 to 2.7 per cent (every 1/32 in looked at).
//!
//! In other wood both directions are gone from the middle of the wood, each by the same rule. There `I` need not fall
//! with every step outward, and only some of the places are looked at, so the search is as good as those. They are opened
//! by the bounds of [`bounded`].
//!
//! The search opens the most promising first, by three bounds. The planks of a place bound those of every
//! place further out. Those of a centred cant bound those of every lower cant, for the lower one lies
//! within it; only its square planks, which need no edging, may save a pass each. And the side boards are
//! known before any plank is. What does not beat the best so far is left out.

mod bounded;

use super::{CantShape, Found, Method, Search, Shape, Tables, line};
use crate::column::UNIT;
use crate::flitch::Bounds;
use crate::site::Site;
pub(crate) use bounded::first;
use bounded::{Place, explore};
use pithward_geometry::Quarter;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Passes that open faces: the two of the cant, and the first inside it.
pub(super) const PASSES: i64 = 3;

/// The two methods that leave a cant.
const CANTS: [Method; 2] = [Method::TwoSidedCant, Method::FourSidedCant];

/// What is sought among the cants.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Aim {
    /// The best of each of these methods.
    Each,
    /// The best of all, if it is worth more than this.
    Above(i64),
}

/// One height of cant and the places of its upper face that may be best, from the middle outward.
struct Height {
    height: i64,
    /// The upper face is the one that moves out; else the lower one.
    up: bool,
    /// Place, and what the side boards are worth there.
    places: Vec<(i64, i64)>,
    /// What its planks may be worth more than those of a higher cant.
    square: i64,
}

impl Height {
    /// The most that its side boards are worth: they only rise from place to place.
    fn most_sides(&self) -> i64 {
        self.places.last().map_or(0, |(_, sides)| *sides)
    }
}

/// What is still open.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Open {
    /// Heights from the first on, this last one excepted.
    Heights { from: usize, to: usize },
    /// Places of one height after the first, up to the last one excepted.
    Places { height: usize, from: usize, to: usize },
}

/// Something open, with a bound on what it holds.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Block {
    /// Nothing in it is worth more.
    bound: i64,
    /// Ties go to the smaller height, then to the nearer places.
    open: Reverse<Open>,
    /// The planks that its own cannot beat.
    planks: i64,
}

impl Block {
    /// The places of a height after `from`, where the planks are known.
    fn places(
        heights: &[Height],
        height: usize,
        from: usize,
        to: usize,
        planks: i64,
    ) -> Option<Self> {
        let most = heights[height].places[from + 1..to].iter().map(|(_, sides)| *sides).max()?;
        let open = Reverse(Open::Places { height, from, to });
        Some(Self { bound: most + planks, open, planks })
    }

    /// The heights below `to`, of which a higher one's planks are known.
    fn heights(heights: &[Height], from: usize, to: usize, planks: i64) -> Option<Self> {
        let most = heights[from..to].iter().map(|h| h.most_sides() + h.square).max()?;
        Some(Self { bound: most + planks, open: Reverse(Open::Heights { from, to }), planks })
    }
}

/// The best cants of these methods.
pub(crate) fn best(search: &mut Search<'_>, methods: &[Method], aim: Aim) -> Vec<Found> {
    let full = search.allowances.full();
    let mut best = Incumbents::new(search, methods, aim);
    if !best.wanted.contains(&true) {
        return Vec::new();
    }
    let heights = places(search);
    if !search.site.is_alike() && search.allowances.size() == 1 {
        let places = open_places(search, &heights);
        let see =
            |best: &mut Incumbents, search: &mut Search<'_>, place: &Place, tables: &Tables| {
                best.see(search, (place.height, place.top), tables);
            };
        explore(search, places, &mut best, Incumbents::may_gain, see);
        return best.read_back(search);
    }
    let mut blocks: BinaryHeap<Block> = BinaryHeap::new();
    // Searches the first place of one height, and opens its others.
    let open = |search: &mut Search<'_>, best: &mut Incumbents, n: usize| {
        let Height { height, places, .. } = &heights[n];
        let planks = best.search(search, *height, places[0].0)[full];
        (planks, Block::places(&heights, n, 0, places.len(), planks))
    };
    if let Some(highest) = heights.len().checked_sub(1) {
        let (planks, places) = open(search, &mut best, highest);
        blocks.extend(places);
        blocks.extend(Block::heights(&heights, 0, highest, planks));
    }
    while let Some(Block { bound, open: Reverse(what), planks: known }) = blocks.pop() {
        if !best.may_gain(bound) {
            break;
        }
        match what {
            Open::Heights { from, to } => {
                let middle = from + (to - from) / 2;
                let (planks, places) = open(search, &mut best, middle);
                blocks.extend(places);
                blocks.extend(Block::heights(&heights, from, middle, planks));
                blocks.extend(Block::heights(&heights, middle + 1, to, known));
            }
            Open::Places { height: n, from, to } => {
                let Height { height, places, .. } = &heights[n];
                let middle = from + (to - from) / 2;
                let planks = best.search(search, *height, places[middle].0);
                blocks.extend(Block::places(&heights, n, from, middle, known));
                blocks.extend(Block::places(&heights, n, middle, to, planks[full]));
            }
        }
    }
    best.read_back(search)
}

/// Every place of these heights as one that may be opened.
fn open_places(search: &Search<'_>, heights: &[Height]) -> Vec<Place> {
    let place = |height: &Height| {
        let Height { height, ref places, square, .. } = *height;
        let place = |(top, _): &(i64, i64)| Place::new(search, height, *top, square);
        places.iter().map(place).collect::<Vec<_>>()
    };
    heights.iter().flat_map(place).collect()
}

/// What the best cant is worth with its faces about the middle of the wood, whatever the mill asks, if that is more than
/// `least`; of any that is, where any will do. Nothing may be counted.
pub(crate) fn roughly(search: &mut Search<'_>, methods: &[Method], least: i64, any: bool) -> i64 {
    let method = CANTS.into_iter().find(|method| methods.contains(method));
    let others = [Method::BoxedHeart, Method::Around];
    let Some(method) =
        method.or(others.iter().any(|m| methods.contains(m)).then_some(Method::FourSidedCant))
    else {
        return least;
    };
    let fixed = search.work.fixed(method, PASSES);
    let full = search.allowances.full();
    let central = |height: i64| {
        let (top, _) = middle(search.site, height);
        let place = || Place::new(search, height, top, most_square(search, height));
        within(search.site, height, top).then(place)
    };
    let places: Vec<Place> = heights(search).into_iter().filter_map(central).collect();
    let see = |best: &mut i64, search: &mut Search<'_>, place: &Place, tables: &Tables| {
        let planks = line::unbounded(search, line::Offers::new(search, tables)).values()[full];
        *best = (*best).max(planks + place.sides);
    };
    let mut best = least + fixed;
    let gains = |best: &i64, bound: i64| {
        bound.div_euclid(UNIT) > best.div_euclid(UNIT) && !(any && *best > least + fixed)
    };
    explore(search, places, &mut best, gains, see);
    best - fixed
}

/// The best cants that carry counts exactly, sought in the order that a search under prices alone gives.
///
/// At every place the guide's worth and `allowed` together bound what the counted pattern can be worth. So
/// places are opened by the guide's bound, and a place's own range, up to the next one, is searched with
/// counts only while it may beat `least` and the best so far, and while the states made are fewer than
/// `most_states`. Besides the patterns it gives what a place left unsearched could be worth at most.
pub(crate) fn best_guided(
    search: &mut Search<'_>,
    guide: &mut Search<'_>,
    allowed: i64,
    least: i64,
    methods: &[Method],
    most_states: u64,
) -> (Vec<Found>, i64) {
    let heights = places(guide);
    let kerf = search.site.kerf;
    let gains = [side_gains(search, false), side_gains(search, true)];
    let mut best = Incumbents::new(search, methods, Aim::Each);
    let mut aside = Incumbents::new(search, &[], Aim::Each);
    // Blocks to be opened, and places (blocks without open places) to be searched with counts.
    let mut blocks: BinaryHeap<Block> = BinaryHeap::new();
    let open =
        |guide: &mut Search<'_>, aside: &mut Incumbents, n: usize, place: usize, to: usize| {
            let Height { height, places, .. } = &heights[n];
            let planks = aside.search(guide, *height, places[place].0)[guide.allowances.full()];
            let own = Block {
                bound: places[place].1 + planks,
                open: Reverse(Open::Places { height: n, from: place, to: place }),
                planks,
            };
            std::iter::once(own)
                .chain(Block::places(&heights, n, place, to, planks))
                .collect::<Vec<_>>()
        };
    for (n, Height { places, .. }) in heights.iter().enumerate() {
        blocks.extend(open(guide, &mut aside, n, 0, places.len()));
    }
    let mut unsearched = 0;
    while let Some(Block { bound, open: Reverse(what), planks }) = blocks.pop() {
        // Only places are ever open here.
        let Open::Places { height: n, from, to } = what else { continue };
        let known = |best: &Incumbents| best.known[1].map_or(least, |(value, ..)| value.max(least));
        if (bound + allowed).div_euclid(UNIT) <= known(&best).div_euclid(UNIT) {
            break;
        }
        if search.states() + guide.states() > most_states {
            unsearched = bound + allowed;
            break;
        }
        if to > from {
            let middle = from + (to - from) / 2;
            blocks.extend(Block::places(&heights, n, from, middle, planks));
            blocks.extend(open(guide, &mut aside, n, middle, to));
            continue;
        }
        let Height { height, places, up, .. } = &heights[n];
        let (at, next) = (places[from].0, places.get(from + 1).map(|(top, _)| *top));
        let further = |top: i64| if *up { top > at } else { top < at };
        let nearer = |top: i64| next.is_none_or(|next| if *up { top < next } else { top > next });
        let gained = gains[usize::from(*up)].iter();
        let tops = gained.map(|gain| if *up { height + kerf - gain } else { gain - kerf });
        let mut tops: Vec<i64> = tops
            .filter(|top| further(*top) && nearer(*top) && within(search.site, *height, *top))
            .collect();
        tops.sort_unstable_by_key(|top| (top - at).abs());
        let planks = best.search(search, *height, at);
        for top in tops {
            if shared(search, *height, top, &planks).0 > known(&best) {
                best.search(search, *height, top);
            }
        }
    }
    (best.read_back(search), unsearched)
}

/// The best cants so far.
struct Incumbents {
    aim: Aim,
    /// Which of [`CANTS`] are sought.
    wanted: [bool; 2],
    /// What each costs beside the passes that free its boards.
    fixed: [i64; 2],
    /// Of each: worth without that cost, height, place of the upper face.
    known: [Option<(i64, i64, i64)>; 2],
}

impl Incumbents {
    fn new(search: &Search<'_>, methods: &[Method], aim: Aim) -> Self {
        Self {
            aim,
            wanted: CANTS.map(|method| methods.contains(&method)),
            fixed: CANTS.map(|method| search.work.fixed(method, PASSES)),
            known: [None; 2],
        }
    }

    /// The patterns themselves.
    fn read_back(&self, search: &mut Search<'_>) -> Vec<Found> {
        let mut patterns = Vec::new();
        for (method, best) in CANTS.into_iter().zip(self.known) {
            patterns.extend(best.map(|(_, height, top)| found(search, method, height, top)));
        }
        patterns
    }

    /// Whether something of this worth would be better by more than a tie.
    fn may_gain(&self, bound: i64) -> bool {
        let beats = |bound: i64, known: i64| bound.div_euclid(UNIT) > known.div_euclid(UNIT);
        (0..2).filter(|n| self.wanted[*n]).any(|n| match self.aim {
            Aim::Each => self.known[n].is_none_or(|(value, ..)| beats(bound, value)),
            Aim::Above(_) => beats(bound - self.fixed[n], self.floor()),
        })
    }

    /// The best of all methods so far, its cost taken off.
    fn floor(&self) -> i64 {
        let net = |n: usize| self.known[n].map(|(value, ..)| value - self.fixed[n]);
        let least = match self.aim {
            Aim::Each => i64::MIN,
            Aim::Above(least) => least,
        };
        (0..2).filter_map(net).fold(least, i64::max)
    }

    /// Whether this worth of one method is better than what is known.
    fn is_better(&self, n: usize, value: i64) -> bool {
        let best = match self.aim {
            Aim::Each => self.known[n].is_none_or(|(known, ..)| value > known),
            Aim::Above(_) => value - self.fixed[n] > self.floor(),
        };
        self.wanted[n] && value > 0 && best
    }

    /// Searches the planks of one place and keeps what is better; the worth of the planks of a four-sided
    /// cant, for every allowance.
    fn search(&mut self, search: &mut Search<'_>, height: i64, top: i64) -> Vec<i64> {
        let tables = search.planks(Bounds { up: height - top, low: top });
        self.see(search, (height, top), &tables)
    }

    /// The same, its tables known.
    fn see(&mut self, search: &Search<'_>, (height, top): (i64, i64), tables: &Tables) -> Vec<i64> {
        let offers = || line::Offers::new(search, tables);
        let planks = line::unbounded(search, offers()).values();
        let most = shared(search, height, top, &planks).0;
        // What the mill asks only takes away: what is no better without it need not be looked at.
        if self.is_better(0, most) {
            let value = shared(search, height, top, &line::straight(search, &offers()).values()).0;
            if self.is_better(0, value) {
                self.known[0] = Some((value, height, top));
            }
        }
        if self.is_better(1, most) {
            let value = if line::asks(search, &offers()) {
                let values = line::turned(search, offers(), |sides| sides.values());
                shared(search, height, top, &values).0
            } else {
                most
            };
            if self.is_better(1, value) {
                self.known[1] = Some((value, height, top));
            }
        }
        planks
    }
}

/// Whether a cant of this height may have its upper face here: both faces open in the wood, with its middle between them,
/// and what lies beyond each passes between the guides.
pub(crate) fn within(site: &Site<'_>, height: i64, top: i64) -> bool {
    let bottom = height - top;
    let face = |up: bool, plane: i64| {
        let passes = plane >= site.nearest_plane(up) || site.is_sawn(Quarter::First, up, plane);
        passes && site.opens(Quarter::First, up, plane)
    };
    face(true, top) && face(false, bottom)
}

/// Places of a face that are looked at in one direction where wood is not round. Twice as many find a few tenths of a per
/// cent more, in twice the time.
const MOST_PLACES: usize = 4;

/// Keeps the first and the last of some places, and some between, evenly.
fn spread(places: &mut Vec<(i64, i64)>, most: usize) {
    let (count, last) = (places.len(), most - 1);
    if count > most {
        *places = (0..most).map(|n| places[n * (count - 1) / last]).collect();
    }
}

/// The heights of cant, each with the places that may be best: in the middle of the wood, and where the side boards
/// together are worth more than at any place nearer to it. A place that is not is no better than a nearer one, where the
/// planks are worth as much or more. In round wood one direction stands for both.
fn places(search: &Search<'_>) -> Vec<Height> {
    let (site, kerf) = (search.site, search.site.kerf);
    let alike = site.is_alike();
    let gains = [side_gains(search, false), side_gains(search, true)];
    let mut all = Vec::new();
    for height in heights(search) {
        let square = most_square(search, height);
        let (centre, sawn) = middle(site, height);
        if !within(site, height, centre) {
            continue;
        }
        for up in [true, false] {
            let beyond = |top: &i64| if up { *top > centre } else { *top < centre };
            let gained = gains[usize::from(up)].iter();
            let gained = gained.map(|at| if up { height + kerf - at } else { at - kerf });
            let sawn = sawn.clone();
            let mut tops: Vec<i64> = gained
                .chain(sawn)
                .filter(|top| beyond(top) && within(site, height, *top))
                .collect();
            tops.sort_unstable_by_key(|top| (top - centre).abs());
            let mut places: Vec<(i64, i64)> = Vec::new();
            for top in std::iter::once(centre).chain(tops) {
                let sides = sides(search, height, top);
                let more = |(_, most): &(i64, i64)| sides.div_euclid(UNIT) > most.div_euclid(UNIT);
                if places.last().is_none_or(more) {
                    places.push((top, sides));
                }
            }
            if !alike {
                spread(&mut places, MOST_PLACES);
            }
            if up || places.len() > 1 {
                all.push(Height { height, up, places, square });
            }
            if alike {
                break;
            }
        }
    }
    all
}

/// The upper face of a cant of this height in the middle of the wood, or as near to that as faces that are sawn already
/// allow; and where one of them is a face of it.
fn middle(site: &Site<'_>, height: i64) -> (i64, impl Iterator<Item = i64> + Clone + use<>) {
    let [up, low] = [true, false].map(|up| site.view.sawn(Quarter::First, up));
    let low = low.map(|low| height - low);
    let centre = (height + 1) / 2;
    let centre = low.map_or(centre, |low| centre.max(low));
    (up.map_or(centre, |up| centre.min(up)), up.into_iter().chain(low))
}

/// The passes that a cant's square planks may save: one each, and no more of them than lie side by side.
pub(super) fn most_square(search: &Search<'_>, height: i64) -> i64 {
    let (columns, kerf) = (search.site.columns, search.site.kerf);
    let square = columns.all.iter().filter(|c| c.width == height && !c.levels.is_empty());
    let thinnest = square.map(|column| column.thickness).min();
    thinnest.map_or(0, |thickness| {
        (2 * search.site.limit + kerf) / (thickness + kerf) * search.work.pass
    })
}

/// What the side boards of a cant can be worth at most.
fn sides(search: &Search<'_>, height: i64, top: i64) -> i64 {
    let (full, kerf) = (search.allowances.full(), search.site.kerf);
    search.outer(true).value_beyond(full, top + kerf)
        + search.outer(false).value_beyond(full, height - top + kerf)
}

/// The planes at which the side that an upper face moving out (`up`) or in gives room gains a board, for any allowance:
/// the lower side, or the upper one.
fn side_gains(search: &Search<'_>, up: bool) -> Vec<i64> {
    let outer = search.outer(!up);
    let mut gains: Vec<i64> =
        (0..search.allowances.size()).flat_map(|a| outer.steps(a)).map(|step| step.at).collect();
    gains.sort_unstable();
    gains.dedup();
    gains
}

/// The heights that a cant may have: widths, and sums of widths of one thickness, a kerf between neighbours.
/// A random width stands alone: the next wider one is better than two with a kerf between.
pub(super) fn heights(search: &Search<'_>) -> Vec<i64> {
    let (kerf, columns) = (search.site.kerf, search.site.columns);
    let most = (2 * search.site.limit).min(search.site.mill.widest_cut.as_nm());
    let mut heights: Vec<i64> = Vec::new();
    for group in &columns.groups {
        let own = || group.columns.iter().map(|column| &columns.all[*column]);
        let widths: Vec<i64> =
            own().filter(|column| !column.random).map(|column| column.width).collect();
        let mut open: Vec<i64> = widths.clone();
        let mut sums: Vec<i64> = Vec::new();
        while let Some(sum) = open.pop() {
            if sum <= most
                && let Err(place) = sums.binary_search(&sum)
            {
                sums.insert(place, sum);
                open.extend(widths.iter().map(|width| sum + kerf + width));
            }
        }
        heights.extend(sums);
        heights.extend(own().map(|column| column.width).filter(|width| *width <= most));
    }
    heights.sort_unstable();
    heights.dedup();
    heights
}

/// The best sharing of the allowance between the upper side boards, the lower ones and the planks.
pub(super) fn shared(
    search: &Search<'_>,
    height: i64,
    top: i64,
    inner: &[i64],
) -> (i64, [usize; 3]) {
    let (allowances, kerf) = (search.allowances, search.site.kerf);
    let mut best = (0, [0; 3]);
    for (planks, sides) in allowances.shares(allowances.full()) {
        // A cant that gives nothing is not turned.
        if inner[planks] == 0 {
            continue;
        }
        for (above, below) in allowances.shares(sides) {
            let value = inner[planks]
                + search.outer(true).value_beyond(above, top + kerf)
                + search.outer(false).value_beyond(below, height - top + kerf);
            if value > best.0 {
                best = (value, [above, below, planks]);
            }
        }
    }
    best
}

/// The side boards of a cant under an allowance for either side.
pub(super) fn side_boards(
    search: &Search<'_>,
    height: i64,
    top: i64,
    shares: [usize; 3],
) -> [Vec<super::Board>; 2] {
    let bottom = height - top;
    [line::beyond(search, true, shares[0], top), line::beyond(search, false, shares[1], bottom)]
}

/// The best pattern at one height and place; `None` when the faces do not lie in the wood.
pub(crate) fn at(search: &mut Search<'_>, method: Method, height: i64, top: i64) -> Option<Found> {
    within(search.site, height, top).then(|| found(search, method, height, top))
}

/// Reads back the pattern at one height and place.
fn found(search: &mut Search<'_>, method: Method, height: i64, top: i64) -> Found {
    let tables = search.planks(Bounds { up: height - top, low: top });
    pattern(search, method, (height, top), &tables)
}

/// The same, its tables known.
fn pattern(
    search: &Search<'_>,
    method: Method,
    (height, top): (i64, i64),
    tables: &Tables,
) -> Found {
    let offers = line::Offers::new(search, tables);
    let best = |sides: &line::Sides<'_>| {
        let (value, shares) = shared(search, height, top, &sides.values());
        (value, shares, sides.line(search, shares[2]))
    };
    let (value, shares, inner) = if method == Method::TwoSidedCant {
        best(&line::straight(search, &offers))
    } else {
        line::turned(search, offers, best)
    };
    let [above, below] = side_boards(search, height, top, shares);
    // The two faces of the cant and the first opening inside it.
    let value = value - search.work.fixed(method, PASSES);
    search.found(method, value, Shape::Cant(CantShape { height, top, above, below, inner }))
}
