//! Every pattern of a tiny log, with planes at any place whatever, not on a grid.
//!
//! # Method
//! Boards of one line lie a kerf apart; pushing them together never hurts, for every one of them is sound at all
//! places between two that are. So a line is a sequence of boards and one free number, the place of its first
//! plane, and every board bounds that number from both sides: a sequence can be sawn when the bounds leave
//! something. The same holds across, for the strips of a board. All sequences are written out.
//!
//! A cant's upper face is tried where the side boards above or below just fit, on the pith, and at every half
//! inch; its height at every sum of widths and every whole inch: more than the search itself tries.
//!
//! Boards that give no more pieces of any kind and reach less far than others are dropped; nothing else is.

mod around;

use pithward_geometry::{Log, Mill};
use pithward_optimizer::{CutId, Method, Want, WantId};
use std::collections::{BTreeMap, BTreeSet};

/// How many pieces of each cut, cut by cut and want by want; without any count, their worth alone, for then
/// nothing else matters.
pub type Pieces = Vec<u32>;

/// A tiny log and what is wanted from it.
#[derive(Debug)]
pub struct EveryWay<'a> {
    log: &'a Log,
    mill: &'a Mill,
    wants: &'a [Want],
    kerf: f64,
    /// Added to the radius everywhere, inches: negative to be sure that what is found fits, positive to be sure
    /// that nothing that fits is missed.
    slack: f64,
    counted: bool,
    ids: Vec<CutId>,
    sections: Vec<Section>,
}

/// A section that is wanted and the ways to cut a strip of it to length.
#[derive(Debug)]
struct Section {
    thickness: f64,
    width: f64,
    wane_thickness: f64,
    wane_width: f64,
    /// Pieces, and the length that they take from the butt.
    lengths: Vec<(Pieces, f64)>,
}

/// What lies between two planes, and how far out the outer one may be.
type Board = (Pieces, f64);

/// From which smaller side on a piece may lie either way up, inches.
const EITHER_WAY: f64 = 3.0;
/// From which side on a piece may be a boxed timber, inches.
const LEAST_TIMBER: f64 = 3.5;
/// Rounding, inches.
const ROUNDING: f64 = 1e-9;

fn add(a: &Pieces, b: &Pieces) -> Pieces {
    a.iter().zip(b).map(|(a, b)| a + b).collect()
}

/// Drops what another beats or equals in every kind of piece and in reach.
fn undominated(all: impl IntoIterator<Item = Board>) -> Vec<Board> {
    let mut furthest: BTreeMap<Pieces, f64> = BTreeMap::new();
    for (pieces, reach) in all {
        let known = furthest.entry(pieces).or_insert(reach);
        *known = known.max(reach);
    }
    let list: Vec<Board> = furthest.into_iter().collect();
    let beaten = |(pieces, reach): &Board| {
        list.iter().any(|(other, far)| {
            other != pieces && far >= reach && other.iter().zip(pieces).all(|(o, p)| o >= p)
        })
    };
    list.iter().filter(|board| !beaten(board)).cloned().collect()
}

/// Drops sets of pieces that are part of another.
fn largest(all: BTreeSet<Pieces>) -> Vec<Pieces> {
    undominated(all.into_iter().map(|pieces| (pieces, 0.0)))
        .into_iter()
        .map(|(pieces, _)| pieces)
        .collect()
}

impl<'a> EveryWay<'a> {
    /// All sections and lengths of the wants.
    pub fn new(log: &'a Log, mill: &'a Mill, wants: &'a [Want], slack: f64) -> Self {
        let ids: Vec<CutId> = wants
            .iter()
            .enumerate()
            .flat_map(|(n, want)| {
                (0..want.cuts.len()).map(move |cut| CutId { want: WantId(n), cut })
            })
            .collect();
        let kerf = mill.kerf.inches_f64();
        let counted = wants.iter().any(|want| want.count.is_some());
        let mut every_way =
            Self { log, mill, wants, kerf, slack, counted, ids, sections: Vec::new() };
        every_way.sections = every_way.all_sections();
        every_way
    }

    fn nothing(&self) -> Pieces {
        vec![0; if self.counted { self.ids.len() } else { 1 }]
    }

    fn all_sections(&self) -> Vec<Section> {
        // Strips may mix the cuts that share a section and its wane.
        let mut by_section: BTreeMap<[i64; 4], Vec<usize>> = BTreeMap::new();
        for (place, id) in self.ids.iter().enumerate() {
            let want = &self.wants[id.want.0];
            let cut = &want.cuts[id.cut];
            let flat =
                [cut.thickness, cut.width, want.wane.thickness, want.wane.width].map(|l| l.as_nm());
            by_section.entry(flat).or_default().push(place);
            if cut.thickness != cut.width && cut.thickness.min(cut.width).inches_f64() >= EITHER_WAY
            {
                by_section.entry([flat[1], flat[0], flat[3], flat[2]]).or_default().push(place);
            }
        }
        by_section
            .into_iter()
            .map(|(key, cuts)| {
                let [thickness, width, wane_thickness, wane_width] =
                    key.map(|nm| nm as f64 / 25_400_000.0);
                let mut lengths = Vec::new();
                self.cut_up(&cuts, self.nothing(), 0.0, &mut lengths);
                Section { thickness, width, wane_thickness, wane_width, lengths }
            })
            .collect()
    }

    /// Every set of pieces that a strip may be cut into, with the length that it takes.
    fn cut_up(&self, cuts: &[usize], pieces: Pieces, taken: f64, all: &mut Vec<(Pieces, f64)>) {
        for (n, place) in cuts.iter().enumerate() {
            let id = self.ids[*place];
            let take = self.wants[id.want.0].cuts[id.cut].take.inches_f64();
            let crosscut = if taken > 0.0 { self.mill.crosscut_kerf.inches_f64() } else { 0.0 };
            let taken = taken + crosscut + take;
            if taken <= self.log.length().inches_f64() + ROUNDING {
                let mut pieces = pieces.clone();
                if self.counted {
                    pieces[*place] += 1;
                } else {
                    let worth = self.wants[id.want.0].cuts[id.cut].worth;
                    pieces[0] +=
                        u32::try_from(worth).expect("a piece is worth less than 4000 units");
                }
                all.push((pieces.clone(), taken));
                self.cut_up(&cuts[n..], pieces, taken, all);
            }
        }
    }

    /// Radius where a length from the butt begins.
    fn radius(&self, taken: f64) -> f64 {
        let (small, butt) =
            (self.log.small_end().inches_f64() / 2.0, self.log.butt().inches_f64() / 2.0);
        butt - (butt - small) * taken / self.log.length().inches_f64() + self.slack
    }

    /// How far from the pith a strip's edge may lie when its board's outer plane is at `plane`.
    fn edge(&self, section: &Section, radius: f64, plane: f64) -> Option<f64> {
        let face = radius * radius - plane * plane;
        let inner = plane - section.wane_thickness;
        (face >= 0.0)
            .then(|| (radius * radius - inner * inner).sqrt().min(face.sqrt() + section.wane_width))
    }

    /// The boards of one thickness between two bounds across, each with the furthest outer plane.
    fn boards(&self, thickness: f64, low: f64, up: f64) -> Vec<Board> {
        let of_it: Vec<&Section> =
            self.sections.iter().filter(|s| (s.thickness - thickness).abs() < ROUNDING).collect();
        let mut found = Vec::new();
        let mut strips: Vec<(&Section, f64)> = Vec::new();
        self.rip(&of_it, thickness, (low, up), &mut strips, self.nothing(), &mut found);
        undominated(found)
    }

    fn rip<'s>(
        &self,
        sections: &[&'s Section],
        thickness: f64,
        bounds: (f64, f64),
        strips: &mut Vec<(&'s Section, f64)>,
        pieces: Pieces,
        found: &mut Vec<Board>,
    ) {
        for section in sections {
            for (more, taken) in &section.lengths {
                strips.push((section, self.radius(*taken)));
                if let Some(plane) = self.furthest(strips, thickness, bounds) {
                    let pieces = add(&pieces, more);
                    found.push((pieces.clone(), plane));
                    self.rip(sections, thickness, bounds, strips, pieces, found);
                }
                strips.pop();
            }
        }
    }

    fn room(&self, strips: &[(&Section, f64)], plane: f64, (low, up): (f64, f64)) -> bool {
        let (mut from, mut to, mut offset) = (f64::NEG_INFINITY, f64::INFINITY, 0.0);
        for (section, radius) in strips {
            let Some(edge) = self.edge(section, *radius, plane) else { return false };
            from = from.max((-edge).max(-low) - offset);
            to = to.min(edge.min(up) - offset - section.width);
            offset += section.width + self.kerf;
        }
        from <= to + ROUNDING
    }

    /// The furthest outer plane at which strips fit side by side.
    fn furthest(
        &self,
        strips: &[(&Section, f64)],
        thickness: f64,
        bounds: (f64, f64),
    ) -> Option<f64> {
        let mut fits = thickness / 2.0;
        if !self.room(strips, fits, bounds) {
            return None;
        }
        let mut beyond = self.radius(0.0) + 1.0;
        for _ in 0..50 {
            let middle = 0.5 * (fits + beyond);
            if self.room(strips, middle, bounds) { fits = middle } else { beyond = middle }
        }
        Some(fits)
    }

    fn thicknesses(&self) -> Vec<f64> {
        let mut all: Vec<f64> = self.sections.iter().map(|section| section.thickness).collect();
        all.sort_by(f64::total_cmp);
        all.dedup_by(|a, b| (*a - *b).abs() < ROUNDING);
        all
    }

    fn kinds(&self, low: f64, up: f64) -> Vec<(f64, Vec<Board>)> {
        self.thicknesses().into_iter().map(|t| (t, self.boards(t, low, up))).collect()
    }

    /// Everything that lines of boards across the whole log give; `lowest` bounds the first plane from below.
    fn lines(&self, kinds: &[(f64, Vec<Board>)], lowest: f64) -> Vec<Pieces> {
        let mut all = BTreeSet::from([self.nothing()]);
        self.line(kinds, 0.0, (lowest, f64::INFINITY), self.nothing(), &mut all);
        largest(all)
    }

    fn line(
        &self,
        kinds: &[(f64, Vec<Board>)],
        offset: f64,
        (from, to): (f64, f64),
        pieces: Pieces,
        all: &mut BTreeSet<Pieces>,
    ) {
        for (thickness, boards) in kinds {
            for (more, plane) in boards {
                let from = from.max(-plane - offset);
                let to = to.min(plane - offset - thickness);
                if from <= to + ROUNDING {
                    let pieces = add(&pieces, more);
                    all.insert(pieces.clone());
                    self.line(kinds, offset + thickness + self.kerf, (from, to), pieces, all);
                }
            }
        }
    }

    /// Stacks of boards on one side of the pith, each with the furthest place of its first plane.
    fn side(&self, kinds: &[(f64, Vec<Board>)]) -> Vec<Board> {
        let none = self.nothing();
        let mut all = vec![(none.clone(), f64::INFINITY)];
        self.outward(kinds, 0.0, f64::INFINITY, &none, &mut all);
        undominated(all)
    }

    fn outward(
        &self,
        kinds: &[(f64, Vec<Board>)],
        offset: f64,
        at: f64,
        pieces: &Pieces,
        all: &mut Vec<Board>,
    ) {
        for (thickness, boards) in kinds {
            for (more, plane) in boards {
                let at = at.min(plane - offset - thickness);
                if at >= 0.0 {
                    let pieces = add(pieces, more);
                    all.push((pieces.clone(), at));
                    self.outward(kinds, offset + thickness + self.kerf, at, &pieces, all);
                }
            }
        }
    }

    /// How far below the pith the lowest plane may lie in a rest on bark that is not turned.
    fn lowest_plane(&self) -> f64 {
        let lowest = self.mill.lowest_blade.ceil_to(self.mill.step).inches_f64();
        self.log.butt_over_bark().inches_f64() / 2.0 - lowest - self.kerf
    }

    /// Every largest set of pieces that a method gives.
    pub fn patterns(&self, method: Method) -> Vec<Pieces> {
        let wide = 2.0 * self.radius(0.0);
        match method {
            Method::Through => self.lines(&self.kinds(wide, wide), -self.lowest_plane()),
            Method::ThroughTurned => self.lines(&self.kinds(wide, wide), f64::NEG_INFINITY),
            Method::TwoSidedCant => self.cants(-self.lowest_plane()),
            Method::FourSidedCant => self.cants(f64::NEG_INFINITY),
            Method::BoxedHeart => self.boxed(),
            Method::Around => self.around(),
            // Not written another way.
            Method::Quarter => Vec::new(),
        }
    }

    fn heights(&self) -> Vec<f64> {
        let most = 2.0 * self.radius(0.0);
        let mut open: Vec<f64> = self.sections.iter().map(|section| section.width).collect();
        let mut heights: Vec<f64> = Vec::new();
        while let Some(sum) = open.pop() {
            if sum <= most && !heights.iter().any(|height| (height - sum).abs() < ROUNDING) {
                heights.push(sum);
                open.extend(self.sections.iter().map(|section| sum + self.kerf + section.width));
            }
        }
        heights.extend((2..).map(f64::from).take_while(|height| *height <= most));
        heights
    }

    fn cants(&self, lowest: f64) -> Vec<Pieces> {
        let wide = 2.0 * self.radius(0.0);
        let side = self.side(&self.kinds(wide, wide));
        let mut all = BTreeSet::new();
        for height in self.heights() {
            // The furthest places of a face that the sides allow, from either side of the pith.
            let faces = side.iter().map(|(_, at)| at - self.kerf);
            let mut tops: Vec<f64> =
                faces.flat_map(|at| [at, height - at]).chain([height / 2.0]).collect();
            tops.extend((0..).map(|n| f64::from(n) / 2.0).take_while(|top| *top <= height));
            // By symmetry the upper face is the further one, save that the bed is below.
            tops.retain(|top| {
                (0.0..=height).contains(top) && (lowest > f64::NEG_INFINITY || 2.0 * top >= height)
            });
            tops.sort_by(f64::total_cmp);
            tops.dedup_by(|a, b| (*a - *b).abs() < ROUNDING);
            for top in tops {
                let beyond = |face: f64| {
                    let fits =
                        side.iter().filter(move |(_, at)| *at >= face + self.kerf - ROUNDING);
                    undominated(fits.map(|(pieces, _)| (pieces.clone(), 0.0)))
                };
                let (above, below) = (beyond(top), beyond(height - top));
                let planks = self.lines(&self.kinds(top, height - top), lowest);
                for (above, _) in &above {
                    for (below, _) in &below {
                        let sides = add(above, below);
                        all.extend(planks.iter().map(|planks| add(&sides, planks)));
                    }
                }
            }
        }
        largest(all)
    }

    fn boxed(&self) -> Vec<Pieces> {
        let wide = 2.0 * self.radius(0.0);
        let side = self.side(&self.kinds(wide, wide));
        let mut all = BTreeSet::new();
        for timber in &self.sections {
            let (t, h) = (timber.thickness, timber.width);
            if t.min(h) < LEAST_TIMBER {
                continue;
            }
            let planks = self.side(&self.kinds(h / 2.0, h / 2.0));
            let beyond = |side: &[Board], at: f64| -> Vec<Pieces> {
                let fits = side.iter().filter(|(_, far)| *far >= at - ROUNDING);
                largest(fits.map(|(pieces, _)| pieces.clone()).collect())
            };
            let (outer, inner) =
                (beyond(&side, h / 2.0 + self.kerf), beyond(&planks, t / 2.0 + self.kerf));
            for (pieces, taken) in &timber.lengths {
                let edge = self.edge(timber, self.radius(*taken), t / 2.0);
                if edge.is_none_or(|edge| edge < h / 2.0 - ROUNDING) {
                    continue;
                }
                for (a, b) in pairs(&outer) {
                    for (c, d) in pairs(&inner) {
                        all.insert(
                            [a, b, c, d]
                                .into_iter()
                                .fold(pieces.clone(), |sum, more| add(&sum, more)),
                        );
                    }
                }
            }
        }
        largest(all)
    }

    /// What pieces are worth: those of a want within its count first, where that gains most.
    pub fn worth(&self, pieces: &Pieces) -> i64 {
        if !self.counted {
            return i64::from(pieces[0]);
        }
        let mut worth = 0;
        for (n, want) in self.wants.iter().enumerate() {
            let mut gains = Vec::new();
            for (id, count) in self.ids.iter().zip(pieces).filter(|(id, _)| id.want.0 == n) {
                let cut = &want.cuts[id.cut];
                worth += i64::from(*count) * cut.extra;
                gains.extend((0..*count).map(|_| cut.worth - cut.extra));
            }
            gains.sort_unstable_by(|a, b| b.cmp(a));
            let within = want.count.map_or(usize::MAX, |count| count as usize);
            worth += gains.iter().take(within).sum::<i64>();
        }
        worth
    }

    /// The most that a method's patterns are worth; 0 when it has none.
    pub fn best(&self, method: Method) -> i64 {
        self.patterns(method).iter().map(|pieces| self.worth(pieces)).max().unwrap_or(0)
    }
}

/// Every two of a list, each with itself too.
fn pairs(list: &[Pieces]) -> impl Iterator<Item = (&Pieces, &Pieces)> {
    list.iter().enumerate().flat_map(move |(n, a)| list[n..].iter().map(move |b| (a, b)))
}
