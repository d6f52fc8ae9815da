//! The most valuable way to rip one flitch or plank into strips.
//!
//! # Problem
//! Two parallel planes bound a flitch of thickness `t`; its outer plane is `b` from the pith. Across it,
//! strips of the wanted widths lie side by side, a kerf between neighbours, each cut to length along the
//! taper. In a cant the sawn faces bound it too ([`Bounds`]). Find the best strips for every `b`.
//!
//! # Recurrence
//! For one `b` the strips are a stack in the other direction: [`crate::stack`] with widths for thicknesses.
//!
//! In round wood the worth only falls as `b` grows, and the strips found at one `b` stay possible up to a largest plane
//! that follows from their own corners (`Ripping::furthest`). So the table of all steps is walked from the
//! axis outward, one search per step: nothing is missed between two of them. Where the wood does not only narrow outward
//! ([`Site::grid`]), planes a grid apart are searched too, and what is found at one holds from there outward.
//!
//! # Grid and cost
//! Exact in whole nanometres on round sound wood. One search per step; some tens of steps.

mod held;
mod kinds;
mod last;
mod table;

use crate::allowance::Allowances;
use crate::column::{Group, Ladder, Lengths, Rim, floor};
use crate::looks::Eyes;
use crate::site::{Lie, Site, floor_of, planes, row_room};
use crate::stack::{Room, Stacks, Step};
use held::Held;
use kinds::{KindList, Place};
use last::last_place;
use std::ops::Range;
use std::rc::Rc;
pub(crate) use table::Table;

/// How far strips may reach to either side, nanometres from the pith.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Bounds {
    /// Toward `+u`.
    pub(crate) up: i64,
    /// Toward `-u`.
    pub(crate) low: i64,
}

impl Bounds {
    /// Only the log's own round.
    pub(crate) const ROUND: Self = Self { up: i64::MAX / 4, low: i64::MAX / 4 };

    pub(crate) fn width(self) -> i64 {
        self.up + self.low
    }

    /// How far others reach beyond these, the nearer face first; `None` where they do not hold these.
    pub(crate) fn beyond(self, other: Self) -> Option<(i64, i64)> {
        let [up, low] = [other.up - self.up, other.low - self.low];
        let beyond = if self.up <= self.low { (up, low) } else { (low, up) };
        (up >= 0 && low >= 0).then_some(beyond)
    }
}

/// A strip side by side with others.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Strip {
    /// Nanometres.
    pub(crate) width: i64,
    /// What it is; `None` for waste between two strips.
    pub(crate) place: Option<StripPlace>,
}

/// What a strip is: one column, sound over one stretch of one of its levels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct StripPlace {
    pub(crate) column: usize,
    pub(crate) level: usize,
    pub(crate) stretch: usize,
    pub(crate) allowance: usize,
}

/// Searches strips; keeps its memory between searches.
#[derive(Debug)]
pub(crate) struct Ripping<'c> {
    pub(crate) site: &'c Site<'c>,
    pub(crate) lengths: Rc<[Lengths]>,
    allowances: &'c Allowances,
    /// What a pass costs.
    pass: i64,
    none: Allowances,
    /// What the strips look like where that changes what they are worth.
    eyes: Option<&'c Eyes<'c>>,
    upper: Stacks,
    lower: Stacks,
    /// For every rim, the furthest edge at the plane that is searched, where the wood is alike all round.
    edges: Vec<Option<i64>>,
    /// For every rim, how far strips may reach to either side, where it is not.
    extents: Vec<Option<(i64, i64)>>,
    /// The kinds of strip at that plane on either side of the axis; where the wood is alike the first stands for both.
    sides: [KindList; 2],
    rooms: Vec<Place>,
}

impl<'c> Ripping<'c> {
    pub(crate) fn new(
        site: &'c Site<'c>,
        lengths: Rc<[Lengths]>,
        allowances: &'c Allowances,
        pass: i64,
    ) -> Self {
        Self {
            site,
            pass,
            lengths,
            allowances,
            none: Allowances::none(),
            eyes: None,
            upper: Stacks::default(),
            lower: Stacks::default(),
            edges: Vec::new(),
            extents: Vec::new(),
            sides: [KindList::default(), KindList::default()],
            rooms: Vec::new(),
        }
    }

    /// The same where strips are worth what they look like.
    pub(crate) fn seeing(self, eyes: Option<&'c Eyes<'c>>) -> Self {
        Self { eyes, ..self }
    }

    /// States that the searches made, a count of work.
    pub(crate) fn states(&self) -> u64 {
        self.upper.states + self.lower.states
    }

    /// The table of one group of columns on the upper or the lower side of the axis, whatever boards look like; with the help
    /// of one that has more room, where nothing is counted.
    pub(crate) fn table(
        &mut self,
        group: usize,
        lie: Lie,
        up: bool,
        wider: Option<&Table>,
    ) -> Table {
        let limit = self.site.limit;
        let size = self.allowances.size();
        let mut table = Table {
            steps: vec![Vec::new(); size],
            strips: vec![Vec::new(); size],
            all: Vec::new(),
        };
        let Group { thickness, ref columns } = self.site.columns.groups[group];
        let (narrows, grid) = self.site.grid(columns, lie.quarter, up);
        let apart = if self.site.is_even() { 1 } else { CLOSE };
        let mut plane = (thickness + 1) / 2;
        let mut found = Vec::with_capacity(size);
        while plane <= limit {
            let place = (group, lie, up);
            let held = wider.and_then(|wider| self.held(wider, place, plane, &mut table.all));
            let known_at = held.as_ref().and_then(|held| held.at);
            match held {
                Some(Held { value, strips, .. }) => found.push((value, strips)),
                None => self.best(group, (lie, up), plane, &mut table.all, &mut found),
            }
            let mut next = limit + 1;
            for (allowance, (value, strips)) in found.drain(..).enumerate() {
                // The pass that frees the board from its neighbour.
                let value = value - self.pass;
                let (steps, ranges) = (&mut table.steps[allowance], &mut table.strips[allowance]);
                let known = steps.last().filter(|last: &&Step| last.at >= plane);
                if value <= 0 || known.is_some_and(|last| last.value >= value) {
                    // What was found further in still fits.
                    next = next.min(known.map_or(limit, |last| last.at) + 1);
                    continue;
                }
                let furthest =
                    || self.furthest(&table.all[strips.clone()], (lie, up), (plane, thickness));
                let at = known_at.unwrap_or_else(furthest);
                next = next.min(at + apart);
                if self.site.is_even() {
                    // The same worth further out takes the place of the nearer step.
                    if steps.last().is_some_and(|last| last.value <= value) {
                        steps.pop();
                        ranges.pop();
                    }
                } else {
                    // Nothing nearer than this plane is said to hold these strips.
                    let gap = steps.last().map_or(i64::MIN, |last| last.at);
                    if let Some(last) = steps.last_mut().filter(|last| last.at >= plane) {
                        last.at = plane - 1;
                    } else if gap < plane - 1 {
                        steps.push(Step { at: plane - 1, value: 0 });
                        ranges.push(0..0);
                    }
                }
                steps.push(Step { at, value });
                ranges.push(strips);
            }
            if plane < narrows {
                // No nearer to each other either: beside a flaw something changes with every nanometre.
                next = next.clamp(plane + grid / 2, plane + grid);
            }
            if next > limit {
                break;
            }
            plane = next;
        }
        for (steps, strips) in table.steps.iter_mut().zip(&mut table.strips) {
            steps.reverse();
            strips.reverse();
        }
        table
    }

    /// Whether boards are worth what they look like.
    pub(crate) fn sees(&self) -> bool {
        self.eyes.is_some()
    }

    /// Whether no count is carried exactly.
    pub(crate) fn counts_nothing(&self) -> bool {
        self.allowances.size() == 1
    }

    /// A table of this group and side whose boards are worth what they look like.
    pub(crate) fn seen(&self, table: &Table, group: usize, lie: Lie, up: bool) -> Table {
        let thickness = self.site.columns.groups[group].thickness;
        let see = |eyes| table.seen(eyes, self.site, &self.lengths, (lie, up, thickness));
        self.eyes.map_or_else(|| table.clone(), see)
    }

    /// The best strips of a board between two planes, where nothing is counted, and what they are worth.
    pub(crate) fn at(
        &mut self,
        group: usize,
        lie: Lie,
        (from, to): (i64, i64),
    ) -> (i64, Vec<Strip>) {
        let (up, plane) = if from + to >= 0 { (true, to) } else { (false, -from) };
        let (mut all, mut found) = (Vec::new(), Vec::new());
        self.best(group, (lie, up), plane, &mut all, &mut found);
        let Some((value, range)) = found.into_iter().next() else { return (0, Vec::new()) };
        let strips = all[range].to_vec();
        let loss = |eyes: &Eyes<'_>| eyes.loss(self.site, &self.lengths, &strips, lie, (from, to));
        let loss = self.eyes.filter(|_| value > 0).map_or(0, loss);
        ((value - loss).max(0), strips)
    }

    /// The best strips of a flitch whose outer plane is at `plane`, for every allowance: their worth, and
    /// their range in `all`, to which they are added.
    fn best(
        &mut self,
        group: usize,
        (lie, up): (Lie, bool),
        plane: i64,
        all: &mut Vec<Strip>,
        found: &mut Vec<(i64, Range<usize>)>,
    ) {
        let site = self.site;
        let columns = &site.columns.groups[group].columns;
        let planes = planes(up, plane, site.columns.groups[group].thickness);
        let lengths = Rc::clone(&self.lengths);
        let mut rungs: Vec<(usize, &Ladder)> = Vec::with_capacity(columns.len());
        self.sides.iter_mut().for_each(KindList::clear);
        if site.is_even() {
            self.edges.clear();
            let edge = |rim: &Rim| rim.extent(lie.quarter, planes).map(|e| floor(e.high));
            self.edges.extend(site.columns.rims.iter().map(edge));
        } else {
            self.extents.clear();
            let extent = |rim: &Rim| {
                rim.extent(lie.quarter, planes).map(|e| (-floor_of(-e.low), floor_of(e.high)))
            };
            self.extents.extend(site.columns.rims.iter().map(extent));
        }
        for &column in columns {
            for ladder in &lengths[column].ladders {
                self.kinds((column, ladder), lie, planes);
                rungs.push((column, ladder));
            }
        }
        let (upper, bounds, kerf) = (self.sides[0].kinds(site, &rungs), lie.bounds, site.kerf);
        // Where nothing is counted, every allowance gives the same, and the smallest stands for all.
        let counts_nothing = upper.iter().all(|kind| kind.uses == 0 || kind.steps.is_empty());
        let allowances = if counts_nothing { &self.none } else { self.allowances };
        self.upper.sweep(&upper, kerf, Room { outer: bounds.up, past: bounds.low }, allowances);
        let same = site.is_even() && bounds.up == bounds.low;
        let lower = if site.is_even() { None } else { Some(self.sides[1].kinds(site, &rungs)) };
        let below = lower.as_ref().unwrap_or(&upper);
        if !same {
            self.lower.sweep(below, kerf, Room { outer: bounds.low, past: bounds.up }, allowances);
        }
        let under = if same { &self.upper } else { &self.lower };
        let names = &self.sides;
        let strip = |side: usize, chosen: crate::stack::Chosen| {
            let (column, ladder) = rungs[chosen.kind];
            let list = &names[if site.is_even() { 0 } else { side }];
            let step = list.ranges[chosen.kind].start + chosen.step;
            let place = list.names[step].map(|(level, stretch)| StripPlace {
                column,
                level,
                stretch,
                allowance: ladder.uses,
            });
            let width = site.columns.all[column].width;
            let from = if side == 0 { chosen.at } else { -chosen.at - width };
            (from, list.steps[step].value, Strip { width, place })
        };
        for allowance in 0..allowances.size() {
            let meeting = Stacks::meet(&self.upper, under, kerf, allowances, allowance);
            let mut row: Vec<(i64, i64, Strip)> =
                under.lower_boards(below, allowances, &meeting).map(|c| strip(1, c)).collect();
            row.reverse();
            row.extend(self.upper.upper_boards(&upper, allowances, &meeting).map(|c| strip(0, c)));
            let begins = all.len();
            all.extend(row.iter().map(|(.., strip)| *strip));
            let mut value = meeting.value;
            if !site.is_even() && !self.fits(&all[begins..], lie, planes) {
                all.truncate(begins);
                value = apart(&mut row, kerf, self.pass, |strips| {
                    site.room(strips, lie, planes).is_some()
                });
                all.extend(row.iter().map(|(.., strip)| *strip));
            }
            found.push((value, begins..all.len()));
        }
    }

    /// Whether strips fit side by side between the planes that are searched.
    fn fits(&self, strips: &[Strip], lie: Lie, planes: (i64, i64)) -> bool {
        if self.heeds(strips) {
            return self.site.room(strips, lie, planes).is_some();
        }
        let mut row = Vec::with_capacity(4);
        self.site.row(strips, &mut row);
        row_room(&row, lie, |rim| self.extents[rim]).is_some_and(|(from, to)| from <= to)
    }

    /// Whether some of them must keep clear of something.
    fn heeds(&self, strips: &[Strip]) -> bool {
        let mut rims = strips.iter().filter_map(|strip| self.site.rim(strip));
        rims.any(|rim| rim.hazards().is_some())
    }

    /// Adds one kind of strip between two planes to the lists of both sides.
    fn kinds(&mut self, (column, ladder): (usize, &Ladder), lie: Lie, planes: (i64, i64)) {
        let site = self.site;
        let section = &site.columns.all[column];
        // A strip as wide as its cant is square already; any other takes a pass of its own.
        let cost = if section.width == lie.bounds.width() { 0 } else { self.pass };
        if site.is_even() {
            for (level, value) in &ladder.rungs {
                let rim = section.levels[*level].stretches[0].rim;
                if let Some(at) = self.edges[rim] {
                    self.sides[0].steps.push(Step { at, value: value - cost });
                    self.sides[0].names.push(Some((*level, 0)));
                }
            }
            self.sides[0].close();
            return;
        }
        if self.clear_kinds((column, ladder), lie, cost) {
            return;
        }
        for side in 0..2 {
            self.rooms.clear();
            // From the dearest, so that what adds nothing is seen at once.
            for (level, value) in ladder.rungs.iter().rev() {
                for (n, stretch) in section.levels[*level].stretches.iter().enumerate() {
                    let Some((low, high)) = self.extents[stretch.rim] else { continue };
                    let (low, high) = (low.max(-lie.bounds.low), high.min(lie.bounds.up));
                    let (from, to) = (low, high - section.width);
                    if from > to {
                        continue;
                    }
                    let mut see = |from: i64, to: i64| {
                        let (from, to) = match side {
                            0 => (from + section.width, to + section.width),
                            _ => (-to, -from),
                        };
                        // A strip belongs to the side on which its middle lies.
                        if 2 * to < section.width {
                            return;
                        }
                        let known = self.rooms.iter().any(|r| r.from <= from && to <= r.to);
                        if !known {
                            let (value, name) = (value - cost, (*level, n));
                            self.rooms.push(Place { from, to, value, name });
                        }
                    };
                    match site.columns.rims[stretch.rim].hazards() {
                        None => see(from, to),
                        Some(hazards) => hazards
                            .places(lie.quarter, planes, section.width, (from, to))
                            .into_iter()
                            .for_each(|(from, to)| see(from, to)),
                    }
                }
            }
            // Nearer to the pith its rings would lie otherwise.
            self.sides[side].add(&self.rooms, section.rings.is_some());
            self.sides[side].close();
        }
    }

    /// The same where every place of a strip reaches from the middle outward and nothing lies in its way: from the dearest
    /// on only one that reaches further out adds anything. Whether it was so.
    fn clear_kinds(&mut self, (column, ladder): (usize, &Ladder), lie: Lie, cost: i64) -> bool {
        let site = self.site;
        let section = &site.columns.all[column];
        let begun = [self.sides[0].steps.len(), self.sides[1].steps.len()];
        for (level, value) in ladder.rungs.iter().rev() {
            for (n, stretch) in section.levels[*level].stretches.iter().enumerate() {
                let Some((low, high)) = self.extents[stretch.rim] else { continue };
                let (low, high) = (low.max(-lie.bounds.low), high.min(lie.bounds.up));
                if high - low < section.width {
                    continue;
                }
                let clear = site.columns.rims[stretch.rim].hazards().is_none();
                if !clear || -2 * low < section.width || 2 * high < section.width {
                    self.sides.iter_mut().zip(begun).for_each(|(side, len)| side.truncate(len));
                    return false;
                }
                for ((side, len), to) in self.sides.iter_mut().zip(begun).zip([high, -low]) {
                    side.add_further(len, Step { at: to, value: value - cost }, (*level, n));
                }
            }
        }
        for (side, len) in self.sides.iter_mut().zip(begun) {
            side.outermost_first(len);
            side.close();
        }
        true
    }

    /// The furthest outer plane at which these strips still fit; they fit at `plane`.
    ///
    /// In round wood their slack is, as a function of the plane's square, concave and falls: a sum of chords' halves.
    /// Newton's method therefore never lands short of its zero, and from beyond it comes back ever closer without
    /// passing it; a few steps reach the nanometre. Halving between the places known to fit and not to fit
    /// takes over where wane makes the slack a little less than concave, and in wood that is not round. Where strips must
    /// keep clear of something, they are followed outward plane by plane.
    fn furthest(
        &self,
        strips: &[Strip],
        (lie, up): (Lie, bool),
        (plane, thickness): (i64, i64),
    ) -> i64 {
        if !self.site.is_even() {
            let (mut within, mut beyond) = (plane, self.site.limit + 1);
            if self.heeds(strips) {
                let fits = |outer: i64| {
                    self.site.room(strips, lie, planes(up, outer, thickness)).is_some()
                };
                while within + HEEDFUL < beyond && fits(within + HEEDFUL) {
                    within += HEEDFUL;
                }
                beyond = beyond.min(within + HEEDFUL);
                while beyond - within > CLOSE {
                    let middle = within + (beyond - within) / 2;
                    if fits(middle) { within = middle } else { beyond = middle }
                }
                return within;
            }
            let mut row = Vec::with_capacity(4);
            self.site.row(strips, &mut row);
            let slack = |outer: i64| {
                let room = self.site.row_room(&row, lie, planes(up, outer, thickness));
                room.map(|(from, to)| to - from)
            };
            return last_place(within, beyond, slack);
        }
        let (mut fits, mut too_far) = (plane, self.site.limit + 1);
        let mut guess = plane;
        let mut tries = 0;
        loop {
            let slack = self.site.slack(strips, guess, lie.bounds);
            match slack {
                Some((by, _)) if by >= 0 => fits = fits.max(guess),
                _ => too_far = too_far.min(guess),
            }
            tries += 1;
            if too_far - fits <= 1 {
                return fits;
            }
            let step = slack.map(|(by, slope)| {
                let square = (guess as f64) * (guess as f64) + by as f64 / slope;
                floor(square.max(0.0).sqrt())
            });
            let halved = fits + (too_far - fits) / 2;
            guess = match step {
                // At the zero itself the rounding decides: look at the neighbour.
                Some(next) if next == guess => {
                    if guess == fits {
                        guess + 1
                    } else {
                        guess - 1
                    }
                }
                Some(next) if tries < 12 && fits < next && next < too_far => next,
                _ => halved,
            };
        }
    }
}

/// How closely the last plane is found at which strips fit in wood that is not round, nanometres: a thousandth of an
/// inch, less than what is left out at its rim.
const CLOSE: i64 = 25_400;

/// How far apart the planes are at which strips that must keep clear of something are followed outward, nanometres: a
/// quarter of an inch, less than any board is thick, so that none steps over anything.
const HEEDFUL: i64 = 6_350_000;

/// Puts waste between strips that cannot lie side by side, each where it was found; what it is worth then. Between two of
/// them there must be either a kerf, or two and waste between: where there is neither, the one worth less is left out.
fn apart(
    row: &mut Vec<(i64, i64, Strip)>,
    kerf: i64,
    pass: i64,
    fits: impl Fn(&[Strip]) -> bool,
) -> i64 {
    let gap = |pair: &[(i64, i64, Strip)]| pair[1].0 - pair[0].0 - pair[0].2.width;
    let narrow = |pair: &[(i64, i64, Strip)]| gap(pair) != kerf && gap(pair) < 2 * kerf;
    while let Some(place) = row.windows(2).position(narrow) {
        let less = if row[place].1 < row[place + 1].1 { place } else { place + 1 };
        row.remove(less);
    }
    let worth: i64 = row.iter().map(|(_, value, _)| value).sum();
    let mut with: Vec<(i64, i64, Strip)> = Vec::with_capacity(2 * row.len());
    let mut wastes = 0;
    for item in row.iter() {
        if let Some((from, _, strip)) = with.last() {
            let begins = from + strip.width + kerf;
            let width = item.0 - kerf - begins;
            if width >= 0 && item.0 != begins {
                with.push((begins, 0, Strip { width, place: None }));
                wastes += 1;
            }
        }
        with.push(*item);
    }
    let strips: Vec<Strip> = with.iter().map(|(.., strip)| *strip).collect();
    if !fits(&strips) {
        row.clear();
        return 0;
    }
    *row = with;
    worth - wastes * pass
}
