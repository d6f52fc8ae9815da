//! Sawing around: two opposite faces are peeled, the log is turned a quarter, the other two, and the same once more, until
//! a heart is left.
//!
//! # Problem
//! What remains of the log is a core within four planes. Boards are peeled off it on two opposite sides, the nearer two of
//! its faces bounding them across; then the log is turned a quarter. So a board is as wide as the core is when it is peeled,
//! and the boards from the outermost layer are flitches that only the round bounds. At last a heart lies on the bed: a
//! timber or a cant as wide as the core, or a board that is edged.
//!
//! # Recurrence
//! With the heart's faces `x` and `y`, and `d` and `e` how far the core has grown beyond them on either axis:
//! ```text
//! max over hearts, d, e of  worth(heart) + R(d | y) + R(e | x + d) + S(x + d | y + e) + F(y + e)
//! ```
//! From the inside out: `R(d | y)` are boards without a gap over a depth of `d` on the two sides across, bounded by the
//! heart's other faces (`layer::Run`); `R(e | x + d)` the same on the two upright sides, bounded by the core as it is then;
//! `S` the stacks of what lies beyond across, bounded by the core; `F` those of round flitches beyond it upright
//! ([`crate::stack`]). With `e = 0` that is a four-sided cant. The log is sawn the other way round, from `F` to the heart,
//! so every board lies between faces that are sawn already. Each layer takes two stages: two layers are three turns, as a
//! cant has, all four are seven. Opposite faces come first, as the trade saws a log that is under stress.
//!
//! # Grid and cost
//! The heart's height runs over those of cants ([`super::cant`]), its thickness over those of the groups; it lies in the
//! middle of the wood, or half a board aside so that a kerf does, or about the pith where that is elsewhere. `d` and `e`
//! run over the [`MOST_DEPTHS`] least sums of thicknesses and kerfs. The two sides of `R` have the same planes, and on
//! sound round wood both a board; what they hold may differ. For all that the search is exact in round sound wood. No side
//! is peeled deeper than the one across from it, and none is sawn in more than two rests: heights that are rounded to the
//! scale in every rest would drift apart, and the trade turns a log four to eight times.
//!
//! Tables for every core would cost hundreds of searches. A core is bounded by the tables of a larger one ([`Level`]): those
//! some inches apart are made first; the most promising place has one made that is hardly larger, then its own, until one whose
//! worth is known exactly comes first. What does not beat the best of the other families is left out.

mod layer;
mod made;
mod shape;
#[cfg(test)]
mod tests;

pub(crate) use shape::{AroundShape, Core};

use super::{Found, Method, Search, cant, line};
use crate::column::UNIT;
use crate::flitch::Bounds;
use crate::site::Lie;
use layer::{Asked, Depths, Levels, Run, value};
use made::{Made, found};
use pithward_geometry::Quarter;
use pithward_measure::Length;
use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::rc::Rc;

/// Passes that open faces: four, one of which is the last board's.
pub(super) const PASSES: i64 = 3;

/// How many depths are looked at. Moving it trades time for boards that are peeled deeper before the log is turned.
const MOST_DEPTHS: usize = 24;

/// Distance of the bounds across for which tables are made to begin with: two inches. Closer ones bound better and cost
/// more.
const APART: Length = Length::inches(2);

/// Distance of the bounds for which tables are made where a place is the most promising, nanometres: half an inch. What they
/// hold is ruled out by few of them, where each place's own would be needed.
const GRID: i64 = 12_700_000;

/// Boards that lie likewise, with room up to the next bounds on the grid.
fn on_grid(lie: Lie) -> Lie {
    let out = |bound: i64| -(-bound).div_euclid(GRID) * GRID;
    let Bounds { up, low } = lie.bounds;
    Lie { bounds: Bounds { up: out(up), low: out(low) }, ..lie }
}

/// A heart: what is left on the bed.
#[derive(Clone, Copy, Debug)]
struct Heart {
    core: Core,
    /// The heart itself and the boards across beside it.
    own: Asked,
    /// Its faces, as places in [`Places::upright`] and [`Places::across`].
    faces: [usize; 2],
}

/// Two faces of hearts, and what grows beyond them.
struct Faces {
    faces: [i64; 2],
    /// By depth, as far as the log can be opened there: boards that the two other faces are bounded by.
    asked: Vec<Asked>,
    /// By depth what round flitches beyond it are worth.
    flitches: Vec<i64>,
    /// By level what boards beyond the faces are worth by depth.
    runs: Vec<(usize, Rc<[i64]>)>,
}

impl Heart {
    /// Whether its middle is above the axis, and its planes outward from there.
    fn planes(&self) -> (bool, (i64, i64)) {
        let [right, left] = self.core.across;
        if right >= left { (true, (-left, right)) } else { (false, (-right, left)) }
    }
}

/// A heart and how far the core has grown when the log is turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Place {
    heart: usize,
    /// Places in the depths: across, and upright.
    depths: [usize; 2],
}

/// The place round a heart that may be worth most.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Open {
    /// It is worth no more than this.
    bound: i64,
    /// Ties go to the fewer turns, then to the first heart.
    place: Reverse<Place>,
    /// How many levels there were when that was said: since then it may be another.
    levels: usize,
}

/// The places of one search, the heart with the most promising first.
struct Places {
    depths: Depths,
    hearts: Vec<Heart>,
    levels: Levels,
    /// Their faces, upright and across, each pair once.
    upright: Vec<Faces>,
    across: Vec<Faces>,
    /// By heart and level what the heart and the boards across beside it are worth by depth.
    inner: Vec<Vec<(usize, Rc<[i64]>)>>,
    /// Of every heart its best place.
    open: BinaryHeap<Open>,
    /// Of every heart the depths that may still be best: bounds only fall.
    live: Vec<Vec<[usize; 2]>>,
}

/// The best pattern that is sawn around, if it is worth more than `least` by more than a tie.
pub(crate) fn best(search: &mut Search<'_>, least: i64) -> Option<Found> {
    let mut places = Places::new(search, least);
    let mut known: Option<(i64, Place)> = None;
    let exactly = search.allowances.size() == 1;
    loop {
        let floor = known.map_or(least, |(value, _)| value);
        let Some((bound, place)) = places.next(search, floor) else { break };
        // Nothing open is bounded higher than a worth that is known exactly.
        let value =
            if exactly { bound } else { places.value(search, &places.hearts[place.heart], place) };
        if value > floor {
            known = Some((value, place));
        }
        if exactly {
            break;
        }
    }
    let (_, place) = known?;
    found(search, &places.depths, &places.hearts[place.heart], place)
}

/// The best pattern that carries counts exactly, sought in the order that a search under prices alone gives, as cants are:
/// and what a place left unsearched could be worth at most.
pub(crate) fn best_guided(
    search: &mut Search<'_>,
    guide: &mut Search<'_>,
    allowed: i64,
    least: i64,
    most_states: u64,
) -> (Option<Found>, i64) {
    let mut places = Places::new(guide, least - allowed);
    let mut known: Option<(i64, Place)> = None;
    let mut unsearched = 0;
    loop {
        let floor = known.map_or(least, |(value, _)| value);
        let Some((bound, place)) = places.next(guide, floor - allowed) else { break };
        if search.states() + guide.states() > most_states {
            unsearched = bound + allowed;
            break;
        }
        let value = places.value(search, &places.hearts[place.heart], place);
        if value > floor {
            known = Some((value, place));
        }
    }
    let best = known
        .and_then(|(_, place)| found(search, &places.depths, &places.hearts[place.heart], place));
    (best, unsearched)
}

/// Turns of a pattern: each layer is sawn on two sides.
fn turns([across, upright]: [usize; 2]) -> i64 {
    match (across, upright) {
        (_, 0) => 3,
        (0, _) => 5,
        _ => 7,
    }
}

/// What a pattern costs beside the passes that free its boards.
fn fixed(search: &Search<'_>, depths: [usize; 2]) -> i64 {
    let more = turns(depths) - Method::Around.turns();
    search.work.fixed(Method::Around, PASSES) + more * search.work.turn
}

/// The core of a heart grown by two depths.
fn grown(heart: &Heart, depths: &Depths, [across, upright]: [usize; 2]) -> Core {
    let by = |faces: [i64; 2], depth: usize| faces.map(|face| face + depths.all[depth]);
    Core { upright: by(heart.core.upright, upright), across: by(heart.core.across, across) }
}

/// What bounds by levels that are not a core's own leave out: boards as wide as the core may be square, and save
/// a pass each.
fn squares(search: &Search<'_>, open: [bool; 3]) -> i64 {
    let (site, groups) = (search.site, &search.site.columns.groups);
    let thinnest = groups.first().map_or(i64::MAX / 4, |group| group.thickness);
    let boards = 2 * (site.limit / (thinnest + site.kerf) + 1);
    open.into_iter().map(|open| if open { boards * search.work.pass } else { 0 }).sum()
}

/// Whether the log can be opened down to two faces: they lie in the wood, and what is sawn down to them passes between the
/// guides.
fn opens(search: &Search<'_>, quarter: Quarter, faces: [i64; 2]) -> bool {
    let site = search.site;
    let most = site.mill.widest_cut.as_nm();
    // The first two faces are sawn while the log is as wide as it ever is.
    let passes = |up: bool, face: i64| quarter == Quarter::Second || face >= site.nearest_plane(up);
    let open = |(up, face)| passes(up, face) && site.opens(quarter, up, face);
    faces[0] + faces[1] <= most && [true, false].into_iter().zip(faces).all(open)
}

impl Places {
    /// Every place that may be worth more than `least`.
    fn new(search: &mut Search<'_>, least: i64) -> Self {
        let mut places = Self {
            depths: Depths::new(search, MOST_DEPTHS),
            hearts: Vec::new(),
            levels: Levels::default(),
            upright: Vec::new(),
            across: Vec::new(),
            inner: Vec::new(),
            open: BinaryHeap::new(),
            live: Vec::new(),
        };
        places.make_levels(search);
        places.make_hearts(search);
        places.live = places.hearts.iter().map(|heart| places.depths_of(heart)).collect();
        let open = (0..places.hearts.len()).filter_map(|n| places.best(search, n, least));
        places.open = open.collect::<Vec<_>>().into();
        places
    }

    /// Every depth to which a core may grow from a heart.
    fn depths_of(&self, heart: &Heart) -> Vec<[usize; 2]> {
        let [upright, across] = heart.faces;
        let upright = self.upright[upright].asked.len();
        let beyond = |d: usize| {
            // Without upright boards between, those across are all of one layer.
            (0..upright).filter(move |e| d == 0 || *e > 0).map(move |e| [d, e])
        };
        (0..self.across[across].asked.len()).flat_map(beyond).collect()
    }

    /// The place round a heart with the greatest bound by the levels that there are, if it may be worth more than `least` by
    /// more than a tie. What may not is not looked at again.
    fn best(&mut self, search: &Search<'_>, heart: usize, least: i64) -> Option<Open> {
        let mut live = std::mem::take(&mut self.live[heart]);
        let bounds = self.bounds(search, heart, (&live, least));
        let gains =
            |bound: Option<i64>| bound.filter(|b| b.div_euclid(UNIT) > least.div_euclid(UNIT));
        let place = |depths: [usize; 2]| Reverse(Place { heart, depths });
        let open = bounds
            .iter()
            .zip(&live)
            .filter_map(|(bound, depths)| Some((gains(*bound)?, place(*depths))));
        let levels = self.levels.all.len();
        let best = open.max().map(|(bound, place)| Open { bound, place, levels });
        let mut bounds = bounds.into_iter();
        live.retain(|_| bounds.next().and_then(gains).is_some());
        self.live[heart] = live;
        best
    }

    /// What places round one heart are worth at most by the levels that there are; `None` where none has room for one, or
    /// where that is no more than `least`.
    fn bounds(
        &mut self,
        search: &Search<'_>,
        n: usize,
        (all, least): (&[[usize; 2]], i64),
    ) -> Vec<Option<i64>> {
        let Heart { own, faces: [upright, across], .. } = self.hearts[n];
        let Some((own, own_exact)) = self.levels.holding(own) else { return vec![None; all.len()] };
        let inner = self.inner(search, n, own);
        let mut bounds = Vec::with_capacity(all.len());
        for of_depth in all.chunk_by(|one, next| one[0] == next[0]) {
            let d = of_depth[0][0];
            let Some((flat, flat_exact)) = self.levels.holding(self.across[across].asked[d]) else {
                bounds.extend(of_depth.iter().map(|_| None));
                continue;
            };
            let run = self.run(search, upright, flat);
            let faces = self.across[across].faces.map(|face| face + self.depths.all[d]);
            // What has room for the deepest has room for all of them.
            let deepest = of_depth[of_depth.len() - 1][1];
            let deepest = self.levels.holding(self.upright[upright].asked[deepest]);
            let most_stacked = deepest.map(|(level, _)| self.stacked(search, level, faces));
            let mut stacks: Option<(usize, i64)> = None;
            for depths in of_depth {
                let e = depths[1];
                let flitches = self.upright[upright].flitches[e];
                let most = |stacked: i64, open: [bool; 3]| {
                    let boards = inner[d] + run[e] + flitches + stacked;
                    boards + squares(search, open) - fixed(search, *depths)
                };
                if most_stacked.is_some_and(|stacked| most(stacked, [true; 3]) <= least) {
                    bounds.push(None);
                    continue;
                }
                let Some((level, exact)) = self.levels.holding(self.upright[upright].asked[e])
                else {
                    bounds.push(None);
                    continue;
                };
                let stacked = match stacks.filter(|(known, _)| *known == level) {
                    Some((_, stacked)) => stacked,
                    None => self.stacked(search, level, faces),
                };
                stacks = Some((level, stacked));
                let open = [!own_exact, e > 0 && !flat_exact, !exact];
                bounds.push(Some(most(stacked, open)));
            }
        }
        bounds
    }

    /// What a heart and the boards across beside it are worth by depth, bounded by a level.
    fn inner(&mut self, search: &Search<'_>, n: usize, level: usize) -> Rc<[i64]> {
        if let Some((_, inner)) = self.inner[n].iter().find(|(known, _)| *known == level) {
            return Rc::clone(inner);
        }
        let (heart, full) = (&self.hearts[n], search.allowances.full());
        let offers = line::Offers::new(search, &self.levels.all[level].tables);
        let (up, planes) = heart.planes();
        let own = value(search, &offers, up, planes, full);
        let offers = offers.freed(search.site);
        let run = Run::bounds(search, &offers, heart.core.across, &self.depths);
        let inner: Rc<[i64]> = run.into_iter().map(|beside| own + beside).collect();
        self.inner[n].push((level, Rc::clone(&inner)));
        inner
    }

    /// What upright boards beyond a heart's faces are worth by depth, bounded by a level.
    fn run(&mut self, search: &Search<'_>, upright: usize, level: usize) -> Rc<[i64]> {
        let Faces { faces, runs, .. } = &mut self.upright[upright];
        if let Some((_, run)) = runs.iter().find(|(known, _)| *known == level) {
            return Rc::clone(run);
        }
        let offers = line::Offers::new(search, &self.levels.all[level].tables).freed(search.site);
        let run: Rc<[i64]> = Run::bounds(search, &offers, *faces, &self.depths).into();
        runs.push((level, Rc::clone(&run)));
        run
    }

    /// What the stacks beyond two faces across are worth, bounded by a level.
    fn stacked(&self, search: &Search<'_>, level: usize, faces: [i64; 2]) -> i64 {
        let (kerf, full) = (search.site.kerf, search.allowances.full());
        let level = &self.levels.all[level];
        let beyond = |(up, face)| level.stacks(search, up).value_beyond(full, face + kerf);
        [true, false].into_iter().zip(faces).map(beyond).sum()
    }

    /// Levels some inches apart.
    fn make_levels(&mut self, search: &mut Search<'_>) {
        let quarters = if search.site.is_alike() {
            &[Quarter::First][..]
        } else {
            &[Quarter::First, Quarter::Second]
        };
        let limit = search.site.limit;
        let apart = APART.as_nm();
        for quarter in quarters {
            for n in 1..=limit / apart + 1 {
                let bounds = Bounds { up: n * apart, low: n * apart };
                self.levels.exact(search, Lie { quarter: *quarter, bounds });
            }
        }
    }

    /// Every heart that may be left.
    fn make_hearts(&mut self, search: &Search<'_>) {
        let (site, kerf) = (search.site, search.site.kerf);
        let (least, pith) = (site.lowest_blade(), site.pith());
        let groups: Vec<i64> = site.columns.groups.iter().map(|group| group.thickness).collect();
        for height in cant::heights(search) {
            let centre = (height + 1) / 2;
            let mut tops = vec![centre];
            if !site.is_alike() {
                tops.push(centre + pith[1]);
            }
            tops.dedup();
            for top in tops {
                if height < least || !cant::within(site, height, top) {
                    continue;
                }
                let upright = [top, height - top];
                let lie = Core { upright, across: [0; 2] }.lie(Quarter::Second);
                for thickness in groups.iter().copied().filter(|t| *t >= least) {
                    let centre = (thickness + 1) / 2;
                    let mut rights = vec![centre, centre + (thickness + kerf) / 2];
                    if !site.is_alike() {
                        rights.push(centre - (thickness + kerf) / 2);
                        rights.push(centre + pith[0]);
                    }
                    rights.sort_unstable();
                    rights.dedup();
                    for right in rights {
                        let core = Core { upright, across: [right, thickness - right] };
                        let own = self.levels.asked(search, lie);
                        let faces = [
                            self.faces(search, Quarter::First, core),
                            self.faces(search, Quarter::Second, core),
                        ];
                        self.hearts.push(Heart { core, own, faces });
                        self.inner.push(Vec::new());
                    }
                }
            }
        }
    }

    /// The faces of a core in one quarter.
    fn faces(&mut self, search: &Search<'_>, quarter: Quarter, core: Core) -> usize {
        let (faces, is_upright) = (core.of(quarter), quarter == Quarter::First);
        let all = if is_upright { &self.upright } else { &self.across };
        if let Some(place) = all.iter().position(|known| known.faces == faces) {
            return place;
        }
        let (kerf, full) = (search.site.kerf, search.allowances.full());
        let (mut asked, mut flitches) = (Vec::new(), Vec::new());
        let other = if is_upright { Quarter::Second } else { Quarter::First };
        for depth in &self.depths.all {
            let faces = faces.map(|face| face + depth);
            if !opens(search, quarter, faces) {
                break;
            }
            asked.push(self.levels.asked(search, core.with(quarter, faces).lie(other)));
            let beyond = [true, false].into_iter().zip(faces);
            let beyond = beyond.map(|(up, f)| search.outer(up).value_beyond(full, f + kerf));
            flitches.push(beyond.sum());
        }
        let all = if is_upright { &mut self.upright } else { &mut self.across };
        all.push(Faces { faces, asked, flitches, runs: Vec::new() });
        all.len() - 1
    }

    /// The first of a place's own levels that was not made: of the heart, of what lies beyond across, of the upright boards.
    fn missing(&mut self, place: Place) -> Option<Lie> {
        let Heart { core, own, faces: [face, other] } = self.hearts[place.heart];
        let [across, upright] = place.depths;
        let grown = grown(&self.hearts[place.heart], &self.depths, place.depths);
        let mut is_made = |asked| self.levels.holding(asked).is_some_and(|(_, exact)| exact);
        if !is_made(own) {
            Some(core.lie(Quarter::Second))
        } else if !is_made(self.upright[face].asked[upright]) {
            Some(grown.lie(Quarter::Second))
        } else if upright > 0 && !is_made(self.across[other].asked[across]) {
            Some(Core { upright: core.upright, ..grown }.lie(Quarter::First))
        } else {
            None
        }
    }

    /// The place that is worth most, and what, if that may be more than `floor` by more than a tie: with counts what it is
    /// worth at most.
    fn next(&mut self, search: &mut Search<'_>, floor: i64) -> Option<(i64, Place)> {
        loop {
            let Open { bound, place: Reverse(place), levels } = self.open.pop()?;
            if bound.div_euclid(UNIT) <= floor.div_euclid(UNIT) {
                return None;
            }
            // By a level that was made since, another place round this heart may be the best.
            let is_best = levels == self.levels.all.len();
            let missing = if is_best { self.missing(place) } else { None };
            let found = is_best && missing.is_none();
            if let Some(lie) = missing {
                // One with room for many like it may rule all of them out.
                let roomy = on_grid(lie);
                let lie = if self.levels.are_made(search, roomy) { lie } else { roomy };
                self.levels.exact(search, lie);
            }
            if found {
                self.live[place.heart].retain(|depths| *depths != place.depths);
            }
            let next = self.best(search, place.heart, floor);
            self.open.extend(next);
            if found {
                return Some((bound, place));
            }
        }
    }

    /// What a place is worth exactly, for counts too; 0 without anything.
    fn value(&self, search: &mut Search<'_>, heart: &Heart, place: Place) -> i64 {
        let made = Made::new(search, &self.depths, heart, place);
        made.map_or(0, |made| made.value - fixed(search, place.depths))
    }
}
