//! Which way up, and how far raised: the frames in which a log that is not round and clean may be sawn.
//!
//! # Problem
//! The worth of a log's best pattern jumps with every degree that it is turned, by a per cent or so, swells with its
//! ovals and bows, by ten, and changes by as much when the axis follows the bark on one side instead of the pith. All
//! frames cannot be searched in the time that a sawyer has.
//!
//! # Method
//! Frames are ranked by a rough search ([`Search::roughly`]), which stops as soon as a frame cannot come near the best, and
//! the best few by the full one.
//!
//! 1. **Round.** Turns [`COARSE`] apart through half a turn, and those that the shape itself suggests: along and across the
//!    longest axis and the bow. Half a turn more gives the same planes.
//! 2. **Best first.** About the best frame whose neighbours were not searched yet: turns a little to either side, and the
//!    axis in either plane along the bark on one side, on the other, or along the pith. So on while the searches last
//!    ([`MOST_SEARCHES`]).
//! 3. **Bound.** All other turns, in ranges: the wood of all turns of a range taken together ([`View::around`]) bounds what
//!    each of them is worth. A range that cannot beat the best is dropped, any other is halved, and at last every
//!    degree of it is searched: so no turn with the axis along the pith is better, roughly searched. Of cants off the
//!    middle that is so in thin logs ([`THIN`]), as far as they were looked at.
//! 4. **In full.** The best [`LEADERS`] of all.
//! 5. **This way up.** Of the two ways to lay the same planes the one with the horns of a bow up, so that its belly lies on
//!    the bed (E. Wengert, on dealing with crooked logs, 2001). Where metal is, what is sawn decides which side comes
//!    first ([`crate::metal`]).
//!
//! A round, sound log lies the same in all turns. Where its taper is to be searched ([`Taper`]), the level frame is searched
//! in full, and those along the bark where they may be worth more.

use crate::column::{Columns, Prices, UNIT};
use crate::counts::Known;
use crate::family::{Found, Method, Rough, Search};
use crate::plan::{Rests, Settings, Taper};
use crate::site::Site;
use crate::want::Want;
use pithward_geometry::{Angle, Frame, Log, Mill, Region, Section, View};
use pithward_measure::Length;
use rayon::prelude::*;

/// Distance of the turns that are searched first, degrees.
const COARSE: i32 = 12;

/// Distances of the turns that are searched about a good one, degrees.
const CLOSER: [i32; 4] = [-3, -1, 1, 3];

/// Rough searches of the best frames' neighbours. Twice as many find a tenth of a per cent more.
const MOST_SEARCHES: usize = 60;

/// A frame that is worth less than the best by more than such a share is not searched to the end.
const HOPELESS: i64 = 200;

/// A turn that is better by less than such a share of the best is not looked for.
const SLACK: i64 = 600;

/// Into how many ranges all turns are parted at first, an even number.
const RANGES: i32 = 40;

/// Where the turns about a range were worth less than the best by more than such a share, two of them are bounded as one. Ranges
/// as wide bound what they hold to about a hundredth; elsewhere nearly all have to be halved.
const FAR_BELOW: i64 = 100;

/// Small ends of logs whose frames are ranked by cants off the middle of the wood too. Without, 5 of 37 crooked logs of 15 to 24 in
/// lost more than a fifth of a per cent to the best of all degrees, up to 1.2; all of these were thinner than this. In 24 bowed
/// ovals of 22 to 24 in such cants gave nothing, in twice the time.
const MIDDLING: Length = Length::inches(22);

/// The same of ranges that are bounded. Of 25 of these logs none lost anything to the best of all degrees without, in three fifths
/// of the time.
const THIN: Length = Length::inches(18);

/// Ranges that are bounded at most.
const MOST_RANGES: usize = 150;

/// How many frames are searched in full.
const LEADERS: usize = 2;

/// A frame by its turn, whole degrees below a half turn, and what its axis follows in the plane across `u` and in the
/// one across `h`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Lay {
    turn: i32,
    along: [Along; 2],
}

/// What the axis of a frame follows in one plane.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Along {
    Pith,
    /// The bark on the side to which the plane's direction points.
    Bark,
    /// The bark on the other side.
    OtherBark,
}

/// A frame that was searched.
#[derive(Clone, Copy, Debug)]
struct Tried {
    lay: Lay,
    frame: Frame,
    /// What its best pattern is worth, roughly; no more than that where the search was stopped.
    worth: i64,
    stopped: bool,
    /// Whether the frames about it were searched.
    opened: bool,
}

/// The frames of one log, searched under some prices.
pub(crate) struct Laying<'a> {
    view: View<'a>,
    mill: &'a Mill,
    wants: &'a [Want],
    settings: &'a Settings,
    prices: &'a Prices,
    /// Cants off the middle of the wood rank the frames too.
    aside: bool,
    tried: Vec<Tried>,
    /// Turns that a bound ruled out, degrees.
    ruled_out: u32,
    /// States that the searches made.
    pub(crate) states: u64,
}

impl<'a> Laying<'a> {
    pub(crate) fn new(
        log: &'a Log,
        mill: &'a Mill,
        wants: &'a [Want],
        settings: &'a Settings,
        prices: &'a Prices,
    ) -> Self {
        let view = View::new(log, Frame::LEVEL);
        let (aside, tried, ruled_out, states) = (false, Vec::new(), 0, 0);
        Self { view, mill, wants, settings, prices, aside, tried, ruled_out, states }
    }

    /// Searches the frames that matter, with the bound; the best of them first, with what is known of it.
    pub(crate) fn search(&mut self) -> Vec<(Frame, Known)> {
        // In a log that is not thick one board is a per cent or several.
        let log = self.view.log();
        self.aside = !log.is_round() && log.small_end() <= MIDDLING;
        self.rank();
        self.in_full(true)
    }

    /// Ranks the frames that matter, with the bound.
    pub(crate) fn rank(&mut self) {
        self.find(MOST_SEARCHES);
        if self.view.log().sections().is_some() {
            self.bound();
        }
    }

    /// Searches fewer of them, and bounds nothing: good enough where other prices than these will decide.
    pub(crate) fn search_fewer(&mut self) -> Vec<Frame> {
        self.find(MOST_SEARCHES / 2);
        self.in_full(false).into_iter().map(|(frame, _)| frame).collect()
    }

    /// The frames of a round log that it may lie in for its taper.
    pub(crate) fn for_taper(log: &Log, taper: Taper) -> Vec<Frame> {
        use Along::{Bark, Pith};
        // All turns are alike, and so are two opposite sides.
        let along = match taper {
            Taper::Level => &[[Pith, Pith]][..],
            Taper::Searched => &[[Pith, Pith], [Pith, Bark], [Bark, Pith], [Bark, Bark]],
        };
        along.iter().map(|along| Lay { turn: 0, along: *along }.frame(log)).collect()
    }

    /// The frames of a round log, the best first: level, and those along the bark that may be worth more.
    fn of_round(&mut self, patterns: bool) -> Vec<(Frame, Known)> {
        let log = self.view.log();
        let frames = Self::for_taper(log, self.settings.taper);
        if let [only] = frames[..] {
            return vec![(only, Known::Nothing)];
        }
        let mut all: Vec<(Frame, Known)> = Vec::new();
        let mut least = 0;
        for frame in frames {
            let hopeless = least - least / HOPELESS;
            let (worth, states) = self.roughly(&self.view.along(frame), hopeless);
            self.states += states;
            let stopped = least > 0 && worth <= hopeless;
            self.tried.push(Tried { lay: Lay::LEVEL, frame, worth, stopped, opened: true });
            if stopped {
                continue;
            }
            let (found, states) = self.fully(frame, least, patterns);
            self.states += states;
            if let Some((value, found)) = found {
                least = value;
                let known = if patterns { Known::Found(found, states) } else { Known::Nothing };
                let mut best = (frame, known);
                least = least.max(self.add_around(&mut best, least));
                all.insert(0, best);
            }
        }
        if all.is_empty() { vec![(Frame::LEVEL, Known::Nothing)] } else { all }
    }

    /// Searches frames roughly, until so many are searched.
    fn find(&mut self, most: usize) {
        let log = self.view.log();
        if log.is_round() {
            return;
        }
        let mut turns: Vec<i32> = (0..180 / COARSE).map(|n| n * COARSE).collect();
        let suggested = match log.sections() {
            Some(sections) => suggested(sections),
            // Round wood with flaws: the flaws alone make one side differ from another.
            None => log.flaws().iter().filter_map(|flaw| flaw_turn(&flaw.region)).collect(),
        };
        turns.extend(suggested);
        let level = |turn| Lay { turn, along: [Along::Pith; 2] };
        // What the first is worth tells how poor others may be.
        self.search_roughly(&[level(0)]);
        self.search_roughly(&turns.into_iter().map(level).collect::<Vec<_>>());
        while self.tried.len() < most {
            let open = self.tried.iter_mut().filter(|tried| !tried.opened && !tried.stopped);
            let Some(best) =
                open.reduce(|best, next| if next.worth > best.worth { next } else { best })
            else {
                break;
            };
            best.opened = true;
            let neighbours = best.lay.neighbours();
            self.search_roughly(&neighbours);
        }
    }

    /// The best frames as they were ranked, roughly.
    pub(crate) fn ranked(&self, most: usize) -> Vec<Frame> {
        let mut ranked: Vec<&Tried> = self.tried.iter().filter(|tried| !tried.stopped).collect();
        ranked.sort_by_key(|tried| -tried.worth);
        ranked.into_iter().take(most).map(|tried| tried.frame).collect()
    }

    /// What is known of the search: how many frames, and the poorest of them.
    pub(crate) fn rests(&self) -> Rests {
        let worst = self.tried.iter().min_by_key(|tried| tried.worth);
        Rests {
            tried: u32::try_from(self.tried.len()).unwrap_or(u32::MAX).max(1),
            ruled_out: self.ruled_out,
            best: worst.map(|_| self.best().div_euclid(UNIT)),
            worst: worst.map(|worst| (worst.frame, worst.worth.div_euclid(UNIT))),
        }
    }

    /// Rules out turns along the pith that cannot be better, and searches the others.
    fn bound(&mut self) {
        let mut open = self.ranges();
        let mut bounded = 0;
        while !open.is_empty() && bounded < MOST_RANGES {
            // Of each range the whole degrees that were not searched.
            let turns = |(middle, half): &(i32, i32)| -> Vec<i32> {
                let from = |at: i32| (at + 999).div_euclid(1000);
                let new = |turn: &i32| self.tried.iter().all(|tried| !tried.lay.is_level(*turn));
                (from(middle - half)..from(middle + half)).filter(new).collect()
            };
            let wave: Vec<((i32, i32), Vec<i32>)> =
                open.drain(..).map(|range| (range, turns(&range))).collect();
            let least = self.best() + self.best() / SLACK;
            let worth = |((middle, half), turns): &((i32, i32), Vec<i32>)| {
                if turns.is_empty() {
                    return (false, 0);
                }
                let (middle, half) = (Angle::millidegrees(*middle), Angle::millidegrees(*half));
                self.above(&self.view.around(middle, half), least)
            };
            let bounds: Vec<(bool, u64)> = wave.par_iter().map(worth).collect();
            let mut leaves = Vec::new();
            for (((middle, half), turns), (may_gain, states)) in wave.into_iter().zip(bounds) {
                bounded += usize::from(!turns.is_empty());
                self.states += states;
                if !may_gain {
                    self.ruled_out += u32::try_from(turns.len()).unwrap_or(0);
                } else if turns.len() <= 1 {
                    leaves.extend(
                        turns.into_iter().map(|turn| Lay { turn, along: [Along::Pith; 2] }),
                    );
                } else {
                    open.extend([(middle - half / 2, half / 2), (middle + half / 2, half / 2)]);
                }
            }
            self.search_roughly(&leaves);
        }
    }

    /// All turns in ranges, each by its middle and half its width, thousandths of a degree.
    fn ranges(&self) -> Vec<(i32, i32)> {
        let half = 180_000 / RANGES;
        let best = self.best();
        let range = |n: i32| {
            let middle = (2 * n + 1) * half;
            // Both ends lie side by side, half a turn apart.
            let away = |turn: i32| {
                let away = (1000 * turn - middle).rem_euclid(180_000);
                away.min(180_000 - away)
            };
            let about = self.tried.iter().filter(|tried| {
                tried.lay.is_level(tried.lay.turn) && away(tried.lay.turn) <= half + 500 * COARSE
            });
            let most = about.map(|tried| tried.worth).max();
            let is_far_below = most.is_some_and(|most| most < best - best / FAR_BELOW);
            let halves = vec![(middle - half / 2, half / 2), (middle + half / 2, half / 2)];
            if is_far_below { vec![(middle, half)] } else { halves }
        };
        (0..RANGES / 2).flat_map(range).collect()
    }

    /// What the best frame so far is worth.
    fn best(&self) -> i64 {
        self.tried.iter().map(|tried| tried.worth).max().unwrap_or(0)
    }

    fn rough(&self, least: i64) -> Rough {
        Rough { least, any: false, aside: self.aside }
    }

    /// What a frame is worth, roughly, if that is more than `least`; and the states made.
    fn roughly(&self, view: &View<'_>, least: i64) -> (i64, u64) {
        let columns = Columns::new(view, self.mill.crosscut_kerf, self.wants);
        let site = Site::new(view, self.mill, &columns);
        let mut search = Search::new(&site, self.wants, self.prices);
        let worth = search.roughly(&self.settings.methods, self.rough(least));
        (worth, search.states())
    }

    /// Whether a frame may be worth more than `least`, roughly; and the states made.
    fn above(&self, view: &View<'_>, least: i64) -> (bool, u64) {
        let columns = Columns::new(view, self.mill.crosscut_kerf, self.wants);
        let site = Site::new(view, self.mill, &columns);
        let mut search = Search::new(&site, self.wants, self.prices);
        // Where they are to bound a range, cants off the middle take longer than all else.
        let aside = self.aside && self.view.log().small_end() <= THIN;
        let rough = Rough { aside, ..self.rough(least) };
        let above = search.roughly_above(&self.settings.methods, rough);
        (above, search.states())
    }

    /// The best pattern of a frame but around, if that is worth more than `least`: its worth, and where they are asked for the
    /// best of every method; and the states made.
    fn fully(&self, frame: Frame, least: i64, all: bool) -> (Option<(i64, Vec<Found>)>, u64) {
        let view = self.view.along(frame);
        let columns = Columns::new(&view, self.mill.crosscut_kerf, self.wants);
        let site = Site::new(&view, self.mill, &columns);
        let mut search = Search::new(&site, self.wants, self.prices);
        let methods = self.but_around();
        let value = |found: &[Found]| found.iter().map(|found| found.value).max();
        let found = if all && least == 0 {
            let found = search.best(&methods);
            value(&found).map(|value| (value, found))
        } else {
            search.best_above(&methods, least).map(|best| {
                let found = if all { search.best(&methods) } else { Vec::new() };
                (best.value, found)
            })
        };
        (found, search.states())
    }

    /// The settings' methods but around, unless it is the only one.
    fn but_around(&self) -> Vec<Method> {
        let methods = &self.settings.methods;
        let others = methods.iter().copied().filter(|method| *method != Method::Around);
        let others: Vec<Method> = others.collect();
        if others.is_empty() { methods.clone() } else { others }
    }

    /// Adds the best pattern around to those of a frame, where it is asked for beside others and worth more than `least`; what
    /// it is worth.
    fn add_around(&mut self, (frame, known): &mut (Frame, Known), least: i64) -> i64 {
        let methods = &self.settings.methods;
        let Known::Found(found, states) = known else { return 0 };
        if methods.len() == 1 || !methods.contains(&Method::Around) {
            return 0;
        }
        let view = self.view.along(*frame);
        let columns = Columns::new(&view, self.mill.crosscut_kerf, self.wants);
        let site = Site::new(&view, self.mill, &columns);
        let mut search = Search::new(&site, self.wants, self.prices);
        let around = search.around(least);
        let value = around.as_ref().map_or(0, |around| around.value);
        *states += search.states();
        self.states += search.states();
        found.extend(around);
        value
    }

    /// Searches frames roughly, but those for which that was done.
    fn search_roughly(&mut self, lays: &[Lay]) {
        let mut new: Vec<Lay> = Vec::with_capacity(lays.len());
        for lay in lays {
            if !new.contains(lay) && self.tried.iter().all(|tried| tried.lay != *lay) {
                new.push(*lay);
            }
        }
        let least = self.best() - self.best() / HOPELESS;
        let search = |lay: &Lay| {
            let frame = lay.frame(self.view.log());
            (frame, self.roughly(&self.view.along(frame), least))
        };
        let found: Vec<(Frame, (i64, u64))> = new.par_iter().map(search).collect();
        for (lay, (frame, (worth, states))) in new.into_iter().zip(found) {
            let stopped = worth <= least && least > 0;
            self.tried.push(Tried { lay, frame, worth, stopped, opened: false });
            self.states += states;
        }
    }

    /// The best frames, the best of the full search first, and what was found there. One after the other: what the first
    /// is worth spares most of the search of the next. What is sawn around takes as long as all others together and is
    /// seldom worth more, so it is sought in the best of these frames alone.
    fn in_full(&mut self, patterns: bool) -> Vec<(Frame, Known)> {
        if self.view.log().is_round() {
            return self.of_round(patterns);
        }
        let best = self.best();
        let promising = |tried: &&Tried| !tried.stopped || tried.worth == best;
        let mut ranked: Vec<Tried> = self.tried.iter().filter(promising).copied().collect();
        ranked.sort_by_key(|tried| -tried.worth);
        ranked.truncate(LEADERS);
        let mut least = 0;
        let mut all: Vec<(Frame, Known)> = Vec::with_capacity(LEADERS);
        for tried in ranked {
            let frame = self.this_way_up(tried.frame);
            let (found, states) = self.fully(frame, least, patterns);
            self.states += states;
            match found {
                Some((value, found)) => {
                    least = value;
                    let known = if patterns { Known::Found(found, states) } else { Known::Nothing };
                    all.insert(0, (frame, known));
                }
                None => all.push((frame, Known::Nothing)),
            }
        }
        if let Some(best) = all.first_mut() {
            self.add_around(best, least);
        }
        all
    }

    /// Of the two ways to lay the same planes the one with the horns of a bow up.
    fn this_way_up(&self, frame: Frame) -> Frame {
        let other = frame.half_turned();
        if self.horns(frame) >= self.horns(other) { frame } else { other }
    }

    /// How much higher the ends lie than the middle, inches.
    fn horns(&self, frame: Frame) -> f64 {
        let (sin, cos) = frame.turn.sin_cos();
        let height = |z: f64| {
            let pith = self.view.log().section_at(z).pith;
            sin * pith[0] + cos * pith[1]
        };
        -height(self.view.log().length().inches_f64() / 2.0)
    }
}

/// Whole degrees of a direction, within half a turn.
#[allow(clippy::cast_possible_truncation, reason = "an angle in degrees is below 2^31")]
fn turn_of(x: f64, y: f64) -> i32 {
    let degrees = pithward_geometry::trig::atan2(x, y) * 180.0 / std::f64::consts::PI;
    (degrees.round() as i32).rem_euclid(180)
}

/// The turns along and across the longest axis of the middle section, and those of the bow.
fn suggested(sections: &[Section]) -> Vec<i32> {
    let middle = &sections[sections.len() / 2];
    let longest = middle.wood.iter().enumerate().max_by(|(_, a), (_, b)| {
        let away = |p: &[f64; 2]| {
            let (x, y) = (p[0] - middle.pith[0], p[1] - middle.pith[1]);
            x * x + y * y
        };
        away(a).total_cmp(&away(b))
    });
    let mut turns = Vec::new();
    if let Some((_, p)) = longest {
        let turn = turn_of(p[0] - middle.pith[0], p[1] - middle.pith[1]);
        turns.extend([turn, (turn + 90) % 180]);
    }
    let [x, y] = middle.pith;
    if x * x + y * y > 0.01 {
        let turn = turn_of(x, y);
        turns.extend([turn, (turn + 90) % 180]);
    }
    turns
}

/// The turn that puts a flaw upright.
fn flaw_turn(region: &Region) -> Option<i32> {
    match region {
        Region::Radial { clock, .. } | Region::Side { clock, .. } | Region::Spot { clock, .. } => {
            Some((clock.as_millidegrees() / 1000).rem_euclid(180))
        }
        Region::Heart { .. } | Region::Ring { .. } => None,
    }
}

impl Lay {
    const LEVEL: Self = Self { turn: 0, along: [Along::Pith; 2] };

    fn is_level(self, turn: i32) -> bool {
        self.along == [Along::Pith; 2] && self.turn == turn
    }

    /// The frames about it: turned a little, and in either plane along what it is not along.
    fn neighbours(self) -> Vec<Self> {
        let turned = CLOSER.map(|by| Self { turn: self.turn + by, ..self }.within());
        let mut all = turned.to_vec();
        for plane in 0..2 {
            for other in [Along::Pith, Along::Bark, Along::OtherBark] {
                let mut along = self.along;
                if along[plane] != other {
                    along[plane] = other;
                    all.push(Self { along, ..self });
                }
            }
        }
        all
    }

    /// The same planes, turned by less than half a turn: then each bark is on the other side.
    fn within(self) -> Self {
        if (0..180).contains(&self.turn) {
            return self;
        }
        let other = |along| match along {
            Along::Pith => Along::Pith,
            Along::Bark => Along::OtherBark,
            Along::OtherBark => Along::Bark,
        };
        Self { turn: self.turn.rem_euclid(180), along: self.along.map(other) }
    }

    fn frame(self, log: &Log) -> Frame {
        let level = Frame::turned(Angle::degrees(self.turn));
        let basis = level.basis(log.length());
        // How much further the wood reaches at the butt than at the small end, on one side.
        let drift = |direction: [f64; 3], along: Along| {
            let sign = match along {
                Along::Pith => return Length::ZERO,
                Along::Bark => 1.0,
                Along::OtherBark => -1.0,
            };
            let reach = |z: f64| {
                let wood = log.section_at(z).wood;
                let out = wood.iter().map(|p| sign * (direction[0] * p[0] + direction[1] * p[1]));
                out.fold(f64::NEG_INFINITY, f64::max)
            };
            Length::from_inches_f64(sign * (reach(log.length().inches_f64()) - reach(0.0)))
        };
        let [drift_u, drift_h] = [drift(basis.u, self.along[0]), drift(basis.h, self.along[1])];
        Frame { drift_u, drift_h, ..level }
    }
}

#[cfg(test)]
mod tests;
