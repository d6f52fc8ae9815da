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
//! The worth only falls as `b` grows, and the strips found at one `b` stay possible up to a largest plane
//! that follows from their own corners (`Ripping::furthest`). So the table of all steps is walked from the
//! pith outward, one search per step: nothing is missed between two of them.
//!
//! # Grid and cost
//! Exact in whole nanometres. One search per step; some tens of steps.

use crate::allowance::Allowances;
use crate::column::{Lengths, floor};
use crate::site::Site;
use crate::stack::{Kind, Room, Stacks, Step};
use std::ops::Range;
use std::rc::Rc;

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

    fn width(self) -> i64 {
        self.up + self.low
    }
}

/// A strip: one column, sound over one of its levels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Strip {
    pub(crate) column: usize,
    pub(crate) level: usize,
    pub(crate) allowance: usize,
}

/// The best strips of one thickness by place of the outer plane, for every allowance.
#[derive(Clone, Debug, Default)]
pub(crate) struct Table {
    /// For each allowance the steps from the outermost in, as [`crate::stack`] takes them.
    pub(crate) steps: Vec<Vec<Step>>,
    /// The strips of each step, from `-u` to `+u`, as a range of `all`.
    strips: Vec<Vec<Range<usize>>>,
    all: Vec<Strip>,
}

impl Table {
    pub(crate) fn strips(&self, allowance: usize, step: usize) -> &[Strip] {
        &self.all[self.strips[allowance][step].clone()]
    }

    /// The kinds of board that the table offers a stack of this thickness: an allowance that adds nothing
    /// to a smaller one is left out.
    pub(crate) fn kinds<'t>(&'t self, thickness: i64, allowances: &Allowances) -> Vec<Kind<'t>> {
        let adds = |(uses, steps): &(usize, &Vec<Step>)| {
            let known = |less: usize| {
                allowances.minus(*uses, less).is_some() && self.steps[less] == **steps
            };
            !steps.is_empty() && !(0..*uses).any(known)
        };
        let all = self.steps.iter().enumerate().filter(adds);
        all.map(|(uses, steps)| Kind { size: thickness, uses, steps }).collect()
    }
}

/// Searches strips; keeps its memory between searches.
#[derive(Debug)]
pub(crate) struct Ripping<'c> {
    site: &'c Site<'c>,
    pub(crate) lengths: Rc<[Lengths]>,
    allowances: &'c Allowances,
    /// What a pass costs.
    pass: i64,
    none: Allowances,
    upper: Stacks,
    lower: Stacks,
    steps: Vec<Step>,
    /// For every rim, the furthest edge at the plane that is searched.
    edges: Vec<Option<i64>>,
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
            upper: Stacks::default(),
            lower: Stacks::default(),
            steps: Vec::new(),
            edges: Vec::new(),
        }
    }

    /// States that the searches made, a count of work.
    pub(crate) fn states(&self) -> u64 {
        self.upper.states + self.lower.states
    }

    /// The table of one group of columns.
    pub(crate) fn table(&mut self, group: usize, bounds: Bounds) -> Table {
        let limit = self.site.limit;
        let size = self.allowances.size();
        let mut table = Table {
            steps: vec![Vec::new(); size],
            strips: vec![Vec::new(); size],
            all: Vec::new(),
        };
        let thickness = self.site.columns.groups[group].thickness;
        let mut plane = (thickness + 1) / 2;
        let mut found = Vec::with_capacity(size);
        while plane <= limit {
            self.best(group, plane, bounds, &mut table.all, &mut found);
            let mut next = limit + 1;
            for (allowance, (value, strips)) in found.drain(..).enumerate() {
                // The pass that frees the board from its neighbour.
                let value = value - self.pass;
                if value <= 0 {
                    continue;
                }
                let at = self.furthest(&table.all[strips.clone()], plane, bounds);
                next = next.min(at + 1);
                let (steps, ranges) = (&mut table.steps[allowance], &mut table.strips[allowance]);
                // The same worth further out takes the place of the nearer step.
                if steps.last().is_some_and(|last| last.value <= value) {
                    steps.pop();
                    ranges.pop();
                }
                steps.push(Step { at, value });
                ranges.push(strips);
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

    /// The best strips of a flitch whose outer plane is at `plane`, for every allowance: their worth, and
    /// their range in `all`, to which they are added.
    fn best(
        &mut self,
        group: usize,
        plane: i64,
        bounds: Bounds,
        all: &mut Vec<Strip>,
        found: &mut Vec<(i64, Range<usize>)>,
    ) {
        let columns = &self.site.columns.groups[group].columns;
        self.steps.clear();
        self.edges.clear();
        self.edges.extend(self.site.columns.rims.iter().map(|rim| rim.edge(plane)));
        let mut ranges = Vec::with_capacity(columns.len());
        for &column in columns {
            let section = &self.site.columns.all[column];
            // A strip as wide as its cant is square already; any other takes a pass of its own.
            let cost = if section.width == bounds.width() { 0 } else { self.pass };
            for ladder in &self.lengths[column].ladders {
                let from = self.steps.len();
                for (level, value) in &ladder.rungs {
                    if let Some(at) = self.edges[section.levels[*level].rim] {
                        self.steps.push(Step { at, value: value - cost });
                    }
                }
                if self.steps.len() > from {
                    ranges.push((column, ladder, from..self.steps.len()));
                }
            }
        }
        let kinds: Vec<Kind<'_>> = ranges
            .iter()
            .map(|(column, ladder, range)| Kind {
                size: self.site.columns.all[*column].width,
                uses: ladder.uses,
                steps: &self.steps[range.clone()],
            })
            .collect();
        let (allowances, kerf) = (self.allowances, self.site.kerf);
        let strip = |chosen: crate::stack::Chosen| {
            let (column, ladder, _) = &ranges[chosen.kind];
            Strip { column: *column, level: ladder.rungs[chosen.step].0, allowance: ladder.uses }
        };
        // Where nothing is counted, every allowance gives the same, and the smallest stands for all.
        let allowances =
            if kinds.iter().all(|kind| kind.uses == 0) { &self.none } else { allowances };
        self.upper.sweep(&kinds, kerf, Room { outer: bounds.up, past: bounds.low }, allowances);
        let symmetric = bounds.up == bounds.low;
        if !symmetric {
            self.lower.sweep(&kinds, kerf, Room { outer: bounds.low, past: bounds.up }, allowances);
        }
        let lower = if symmetric { &self.upper } else { &self.lower };
        found.extend((0..allowances.size()).map(|allowance| {
            let meeting = Stacks::meet(&self.upper, lower, kerf, allowances, allowance);
            let from = all.len();
            all.extend(lower.lower_boards(&kinds, allowances, &meeting).map(strip));
            all[from..].reverse();
            all.extend(self.upper.upper_boards(&kinds, allowances, &meeting).map(strip));
            (meeting.value, from..all.len())
        }));
    }

    /// The furthest outer plane at which these strips still fit; they fit at `plane`.
    ///
    /// As a function of the plane's square their slack is concave and falls: a sum of chords' halves. Newton's
    /// method therefore never lands short of its zero, and from beyond it comes back ever closer without
    /// passing it; a few steps reach the nanometre. Halving between the places known to fit and not to fit
    /// takes over where wane makes the slack a little less than concave.
    fn furthest(&self, strips: &[Strip], plane: i64, bounds: Bounds) -> i64 {
        let (mut fits, mut too_far) = (plane, self.site.limit + 1);
        let mut guess = plane;
        let mut tries = 0;
        loop {
            let slack = self.site.slack(strips, guess, bounds);
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
