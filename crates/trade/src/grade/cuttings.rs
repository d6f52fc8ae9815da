//! The best set of cuttings on one face.
//!
//! # Problem
//! A face, a rectangle, has defects in it, rectangles too. Choose at most `n` rectangles ("cuttings"), parallel
//! to the edges, free of defects, none over another, each of an allowed size (at least `w_i` wide and `l_i`
//! long for one of a few `i`), whose contents together reach a target, or are as much as can be.
//!
//! # What may be left out
//! Every cutting lies in a maximal free area ([`maximal`]), so a set of `k` cuttings belongs to a choice of `k`
//! such areas, repeats allowed. Two cuttings are apart in one of four ways: the one before or after the other
//! along the board, or across it, at some line `t`.
//!
//! **Lines on few places.** Hold the cuttings' extent across, the size that each is of, and the way in which
//! each two are apart. What is left are the ends along the board: the content is linear in them, and every
//! condition on them says that a difference of two, or one and a side of a chosen area, is at least a constant,
//! a least length or nought. The best of a linear function is at a corner, where every end hangs, through
//! conditions that are just met, on a side of a chosen area: it is such a side plus and minus a few least
//! lengths, at most one for each other cutting. The same then holds across with the ends held. So some best set
//! has all its lines on these places, and only these are tried.
//!
//! # Search
//! 1. Cuttings are taken greedily, each time the largest that is left. Often that is enough.
//! 2. Areas are chosen, larger ones first, by depth. What the chosen cover together, and the most that each
//!    further one can add to it, bound every set from there on.
//! 3. Chosen areas that overlap are parted: first every two in one of the four ways, those that lose most by it
//!    first, then line by line, halving the places that leave both an allowed size. What the areas still cover
//!    together is a bound; their sum less what pairs of them lose at least is another. When none overlap they
//!    are the cuttings.
//!
//! Everything is whole square nanometres. The work is counted and limited; a search that reaches the limit says
//! so. The exception to exactness is a least size given as a content ([`Least::Content`]): there least lengths
//! depend on widths, and only lines on sides of the areas and at the least sizes of those are tried. What is
//! found is there; only *not found* is not proven.
//!
//! # Source
//! The reduction is ours; `tests/cuttings.rs` holds it against plain enumeration on 10,000 random boards.

use super::area::maximal;
use super::cover::Cover;
use super::parting::{Parts, Places};
use super::{Area, Least, Units};
use pithward_measure::Length;
use std::cmp::Reverse;

/// What a search found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// The cuttings.
    pub cuttings: Vec<Area>,
    /// Their content together.
    pub units: Units,
    /// Whether the target was reached, or there is provably no more: false where the work was limited, or where
    /// sizes are told by content and the target was missed.
    pub proven: bool,
    /// Steps: areas that were weighed and partings that were looked at.
    pub work: u64,
}

/// A face and what no cutting may have in it.
#[derive(Clone, Debug)]
pub struct Field {
    face: Area,
    blocked: Vec<Area>,
    most_work: u64,
}

impl Field {
    /// Steps before a search gives up: areas that are weighed, partings that are looked at. It bounds the time
    /// of the worst board; of 9000 random boards with ten knots a face none takes half of it.
    pub const MOST_WORK: u64 = 100_000;

    /// A face of this width and length.
    pub fn new(width: Length, length: Length, blocked: Vec<Area>) -> Self {
        let face = Area::new((Length::ZERO, length), (Length::ZERO, width));
        Self { face, blocked, most_work: Self::MOST_WORK }
    }

    /// The same, searches of which give up after so many steps.
    #[must_use]
    pub fn limited(self, most_work: u64) -> Self {
        Self { most_work, ..self }
    }

    /// Whether nothing is in it.
    pub fn is_clear(&self) -> bool {
        !self.blocked.iter().any(|area| area.meets(&self.face))
    }

    /// What of the face cuttings of these sizes may lie in.
    pub fn free<'a>(&self, least: &'a Least) -> Free<'a> {
        let areas = maximal(&self.face, &self.blocked, least);
        let cover = Cover::new(&areas);
        Free { least, content: cover.content(), areas, cover, most_work: self.most_work }
    }

    /// Cuttings that reach a target, see [`Free::reach`].
    pub fn reach(&self, least: &Least, most: Option<usize>, target: Units) -> Found {
        self.free(least).reach(most, target)
    }

    /// The cuttings with most content, at most so many.
    pub fn best(&self, least: &Least, most: usize) -> Found {
        self.free(least).search(most, None)
    }

    /// Cuttings as wide as the face, of any length: the longest clear stretches, at most so many.
    pub fn full_width(&self, most: usize) -> Found {
        let any = Least::sizes(&[(self.face.width(), Length::nm(1))]);
        let mut cuttings = maximal(&self.face, &self.blocked, &any);
        cuttings.truncate(most);
        let units = cuttings.iter().map(Area::units).sum();
        Found { cuttings, units, proven: true, work: 1 }
    }
}

/// The maximal areas of a face, for cuttings of some sizes: for several searches that ask for the same.
#[derive(Clone, Debug)]
pub struct Free<'a> {
    least: &'a Least,
    areas: Vec<Area>,
    cover: Cover,
    /// What all areas cover together.
    content: Units,
    most_work: u64,
}

impl Free<'_> {
    /// Cuttings that reach a target, at most so many; any number of them where `most` is `None`. Where the
    /// target cannot be reached, whatever was found.
    pub fn reach(&self, most: Option<usize>, target: Units) -> Found {
        // With that many of the smallest it is reached, and the rest of any set may be left out.
        let enough = target.parts_of(self.least.content());
        self.search(most.map_or(enough, |most| most.min(enough)), Some(target))
    }

    fn search(&self, most: usize, target: Option<Units>) -> Found {
        let mut search = Search {
            least: self.least,
            areas: &self.areas,
            cover: &self.cover,
            target,
            best: Vec::new(),
            units: Units::ZERO,
            work: 0,
            most_work: self.most_work,
        };
        search.greedy(most);
        if !search.is_done() && most > 0 && self.content >= search.need() {
            let covered = vec![false; self.cover.cells.len()];
            search.choose(0, &mut Vec::new(), &covered, Units::ZERO, most);
        }
        let reached = target.is_some_and(|target| search.units >= target);
        let proven = search.work < self.most_work && matches!(self.least, Least::Sizes(_));
        let out_of_reach = target.is_some_and(|target| self.content < target);
        let Search { best: cuttings, units, work, .. } = search;
        Found { cuttings, units, proven: reached || proven || out_of_reach, work }
    }
}

struct Search<'a> {
    least: &'a Least,
    areas: &'a [Area],
    cover: &'a Cover,
    target: Option<Units>,
    best: Vec<Area>,
    units: Units,
    work: u64,
    most_work: u64,
}

impl Search<'_> {
    /// What a set must reach to be of use.
    fn need(&self) -> Units {
        self.target.unwrap_or_else(|| self.units.and_more())
    }

    fn is_done(&self) -> bool {
        self.target.is_some_and(|target| self.units >= target) || self.work >= self.most_work
    }

    fn take(&mut self, cuttings: &[Area]) {
        let units = cuttings.iter().map(Area::units).sum();
        if units > self.units {
            self.best = cuttings.to_vec();
            self.units = units;
        }
    }

    /// The largest cutting of what is left, again and again.
    fn greedy(&mut self, most: usize) {
        let mut left = self.areas.to_vec();
        let mut taken: Vec<Area> = Vec::new();
        while taken.len() < most {
            let Some(largest) = left.iter().max_by_key(|a| (a.units(), Reverse(**a))).copied()
            else {
                break;
            };
            taken.push(largest);
            let around = left.iter().flat_map(|area| without(area, &largest));
            let around: Vec<Area> = around.filter(|area| self.least.takes(area)).collect();
            left = around.clone();
            left.retain(|area| !around.iter().any(|other| other != area && other.holds(area)));
            left.sort_unstable();
            left.dedup();
        }
        self.take(&taken);
    }

    /// Sets of the areas from `first` on, with those that were chosen.
    fn choose(
        &mut self,
        first: usize,
        chosen: &mut Vec<usize>,
        covered: &[bool],
        content: Units,
        left: usize,
    ) {
        self.work += 1 + (self.areas.len() - first) as u64;
        if !chosen.is_empty() && content >= self.need() {
            let areas: Vec<Area> = chosen.iter().map(|n| self.areas[*n]).collect();
            let places = Places::new(self.least, &areas);
            let parts = Parts::whole(self.least, areas);
            if parts.bound(self.need()) >= self.need() {
                self.part(&parts, &places);
            }
        }
        if left == 0 || self.is_done() {
            return;
        }
        let gain = |area: usize| -> Units {
            self.cover.of(area).filter(|n| !covered[*n]).map(|n| self.cover.cells[n]).sum()
        };
        let gains: Vec<Units> = (first..self.areas.len()).map(gain).collect();
        // The most that one of them and as many more as are left, from there on, can add.
        let mut bounds = vec![Units::ZERO; gains.len()];
        let mut top: Vec<Units> = Vec::new();
        for (n, gain) in gains.iter().enumerate().rev() {
            let place = top.partition_point(|other| other >= gain);
            top.insert(place, *gain);
            top.truncate(left - 1);
            bounds[n] = content + *gain + top.iter().copied().sum();
        }
        for (n, bound) in bounds.iter().enumerate() {
            if *bound < self.need() {
                continue;
            }
            let mut then = covered.to_vec();
            self.cover.of(first + n).for_each(|cell| then[cell] = true);
            chosen.push(first + n);
            self.choose(first + n, chosen, &then, content + gains[n], left - 1);
            chosen.pop();
            if self.is_done() {
                return;
            }
        }
    }

    /// Parts areas that overlap, until none do.
    fn part(&mut self, parts: &Parts, places: &Places) {
        let Some(steps) = parts.steps(self.least, places) else {
            return self.take(parts.areas());
        };
        self.work += steps.len() as u64;
        let need = self.need();
        let parted = steps.into_iter().filter_map(|step| parts.parted(self.least, step, need));
        let mut bounded: Vec<(Units, Parts)> = parted.collect();
        bounded.sort_by_key(|(bound, _)| Reverse(*bound));
        for (bound, parts) in bounded {
            if bound >= self.need() {
                self.part(&parts, places);
            }
            if self.is_done() {
                return;
            }
        }
    }
}

/// The largest areas of one that lie outside of another.
fn without(area: &Area, other: &Area) -> Vec<Area> {
    if !area.meets(other) {
        return vec![*area];
    }
    let (along, across) = (area.along, area.across);
    let all = [
        Area::new((along.0, other.along.0), across),
        Area::new((other.along.1, along.1), across),
        Area::new(along, (across.0, other.across.0)),
        Area::new(along, (other.across.1, across.1)),
    ];
    all.into_iter().filter(|area| area.units() > Units::ZERO).collect()
}
