//! The wood of a log as it is seen along the axis of a frame.
//!
//! A piece is a box along the frame's axis, so what counts over the stretch that it takes is the wood that all sections
//! of the stretch have in common: the [`Prism`]. A strip between two planes may reach as far as the prism does at both,
//! and as it does between them.
//!
//! # Grid
//! Round wood seen along its own axis is a circle, and every answer is closed. Any other prism is kept as its extent at
//! heights a [`PITCH`] apart, the least over the stations of the log and the ends of the stretch; between two heights it
//! is taken as the straight line, which lies within convex wood. Where wood is hollowed out between two heights, the
//! least of the heights between counts. All of it is taken two thousandths of an inch within.
//!
//! # Coordinates
//! They begin in the middle of the wood that the whole length has in common, from where it mostly narrows outward: the
//! [origin](View::origin_toward) of a view lies so far from the frame's axis. In round wood it lies on it. However the
//! log is turned, it is the same point of it.
//!
//! # What sawn planes leave
//! A view may be of what four planes along the frame's directions leave of the log ([`View::left`]). They bound every
//! answer exactly, with nothing left out beside them. Its coordinates begin where those of the whole log do, or at the
//! nearest place to that within the planes.

mod common;
mod cores;
mod hazards;
mod prism;
mod profile;
mod rings;
mod sides;

pub use hazards::Hazards;
pub use prism::{Extent, Prism};
pub use rings::RingSpan;
pub use sides::Sides;

use crate::Angle;
use crate::frame::{Basis, Frame, dot};
use crate::log::section::centroid;
use crate::log::{Flaw, FlawKinds, Log, Section};
use crate::order::Heart;
use common::common;
use cores::{Cores, Stretch};
use hazards::{Boxed, Cell, hull};
use pithward_measure::Length;
use prism::Kind;
use profile::Profile;
use rings::Standing;
use sides::Planes;
use std::sync::Arc;

/// Distance of the heights at which a prism is kept, nanometres: a sixteenth of an inch. Half of it changes no answer by
/// a thousandth of an inch, and doubles the work.
pub const PITCH: i64 = 1_587_500;

/// What is left out at the rim, nanometres: two thousandths of an inch, more than the ruled surface between two stations
/// lies within what both have in common.
const MARGIN: f64 = 50_800.0;

/// Nanometres in an inch.
const NM: f64 = 25_400_000.0;

/// A log seen along the axis of a frame.
#[derive(Clone, Debug)]
pub struct View<'a> {
    log: &'a Log,
    frame: Frame,
    /// The clock direction of `h`.
    up: Angle,
    basis: Basis,
    /// Where its coordinates begin, `[u, h]` from the frame's axis, nanometres.
    origin: [i64; 2],
    /// The sections as the frame sees them, from the small end; empty for round wood along its own axis.
    slices: Vec<Slice>,
    cores: Arc<Cores>,
    /// All turns by up to so much to either side at once, radians.
    swing: Option<f64>,
    /// How far the wood reaches: `+u`, `+h`, `-u`, `-h`, nanometres.
    wood: [f64; 4],
    /// The same for the bark.
    bark: [f64; 4],
    /// What sawn planes leave of it.
    left: Option<Planes>,
}

/// One section in the frame's own coordinates.
#[derive(Clone, Debug)]
struct Slice {
    /// Inches from the small end.
    z: f64,
    /// The outlines in nanometres, `[u, h]`.
    wood: Vec<[f64; 2]>,
    bark: Vec<[f64; 2]>,
    pith: [f64; 2],
}

/// Which way the planes lie: a quarter turn of the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Quarter {
    /// Planes across `h`, their edges along `u`.
    First,
    /// The log turned a quarter: planes across `u`, their edges along `-h`.
    Second,
}

impl Quarter {
    /// A point's coordinates along the edges and across the planes.
    fn of(self, [u, h]: [f64; 2]) -> [f64; 2] {
        match self {
            Self::First => [u, h],
            Self::Second => [-h, u],
        }
    }
}

impl<'a> View<'a> {
    /// The log as the frame sees it.
    pub fn new(log: &'a Log, frame: Frame) -> Self {
        Self::with(log, frame, frame.turn, Arc::default())
    }

    /// The same log as another frame sees it. What does not change by turning the log is not found again.
    #[must_use]
    pub fn along(&self, frame: Frame) -> Self {
        Self::with(self.log, frame, frame.turn, Arc::clone(&self.cores))
    }

    /// All that the log has in any of the level frames that are turned by up to `by` from this turn, taken together: more
    /// than in each of them, so that what is found there bounds what can be found in them. It knows no flaws, and no bark.
    #[must_use]
    pub fn around(&self, turn: Angle, by: Angle) -> Self {
        let mut view = self.along(Frame::turned(turn));
        let by = f64::from(by.as_millidegrees()) * (std::f64::consts::PI / 180_000.0);
        let ends = [-1000, 0, 1000].map(|share| {
            let off = (by * 180.0 / std::f64::consts::PI) * f64::from(share);
            let turn = turn.as_millidegrees() + whole_turn(off);
            self.along(Frame::turned(Angle::millidegrees(turn.rem_euclid(360_000))))
        });
        // All turn about the same point.
        for (n, reach) in view.wood.iter_mut().enumerate() {
            let out = ends.iter().map(|end| end.wood[n]);
            *reach = out.fold(0.0, f64::max) * beyond(by / 2.0);
        }
        view.swing = Some(by);
        view
    }

    fn with(log: &'a Log, frame: Frame, up: Angle, cores: Arc<Cores>) -> Self {
        let whole = || frame.basis(log.length());
        let basis = frame.turned_to(up, log.length()).unwrap_or_else(whole);
        let sections = match log.sections() {
            None if is_level(frame) => Vec::new(),
            None => [Length::ZERO, log.length()].map(|z| round(log, z.inches_f64())).to_vec(),
            Some(sections) => sections.to_vec(),
        };
        let slices: Vec<Slice> =
            sections.iter().map(|section| Slice::new(section, &basis)).collect();
        let reach = |covering: fn(&Slice) -> &Vec<[f64; 2]>, radius: f64| {
            if slices.is_empty() {
                return [radius * NM; 4];
            }
            [[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]].map(|[a, b]| {
                let points = slices.iter().flat_map(covering);
                points.map(|p| a * p[0] + b * p[1]).fold(f64::NEG_INFINITY, f64::max)
            })
        };
        let length = log.length().inches_f64();
        let wood = reach(|slice| &slice.wood, log.wood_radius(length));
        let bark = reach(|slice| &slice.bark, log.bark_radius(length));
        let (origin, swing) = ([0, 0], None);
        let left = None;
        let mut view =
            Self { log, frame, up, basis, origin, slices, cores, swing, wood, bark, left };
        if !view.slices.is_empty() {
            view.move_to(view.middle());
        }
        view
    }

    /// The middle of the wood that the whole length has in common, nanometres from the frame's axis.
    fn middle(&self) -> [i64; 2] {
        let whole_length = (Length::ZERO, self.log.length());
        let core = self.core(whole_length).unwrap_or_else(|| {
            let about = self.cores.about(self.log, whole_length);
            about.iter().map(|p| seen(*p, 0.0, &self.basis)).collect()
        });
        centroid(&core).map(|nm| whole(nm.round()))
    }

    /// Lets the coordinates begin elsewhere.
    fn move_to(&mut self, origin: [i64; 2]) {
        let [u, h] = origin.map(|nm| nm as f64);
        for slice in &mut self.slices {
            let outlines = slice.wood.iter_mut().chain(&mut slice.bark);
            for p in outlines.chain([&mut slice.pith]) {
                *p = [p[0] - u, p[1] - h];
            }
        }
        for reach in [&mut self.wood, &mut self.bark] {
            *reach = [reach[0] - u, reach[1] - h, reach[2] + u, reach[3] + h];
        }
        self.origin = origin;
    }

    /// How far the view's coordinates begin from the frame's axis in one of the frame's four directions across it.
    ///
    /// # Units
    /// Nanometres.
    pub fn origin_toward(&self, direction: [f64; 3]) -> i64 {
        let Basis { u, h, .. } = self.basis;
        let [a, b] = self.origin.map(|nm| nm as f64);
        whole((a * dot(u, direction) + b * dot(h, direction)).round())
    }

    /// The log.
    pub fn log(&self) -> &'a Log {
        self.log
    }

    /// The frame.
    pub fn frame(&self) -> Frame {
        self.frame
    }

    /// The clock direction of `h`: the frame's own, or whole quarter turns from it.
    pub fn up(&self) -> Angle {
        self.up
    }

    /// Its directions.
    pub fn basis(&self) -> Basis {
        self.basis
    }

    /// Whether it is round wood along its own axis, all of it: the same from every side.
    pub fn is_round(&self) -> bool {
        self.slices.is_empty() && self.left.is_none()
    }

    /// Whether it is of round wood along its own axis, whatever sawn planes leave of that.
    pub fn is_of_round(&self) -> bool {
        self.slices.is_empty()
    }

    /// How far the wood reaches above (`up`) or below the axis, across the planes of a quarter.
    ///
    /// # Units
    /// Nanometres.
    pub fn wood_reach(&self, quarter: Quarter, up: bool) -> f64 {
        self.wood[side(quarter, up)]
    }

    /// The same with the bark: below, that is how high the axis lies over the bed.
    ///
    /// # Units
    /// Nanometres.
    pub fn bark_reach(&self, quarter: Quarter, up: bool) -> f64 {
        self.bark[side(quarter, up)]
    }

    /// How wide the stock is, with its bark, at or beyond a plane on one side of the axis, over the whole length.
    ///
    /// # Units
    /// Nanometres.
    pub fn width_beyond(&self, quarter: Quarter, up: bool, plane: f64) -> f64 {
        if self.swing.is_some() {
            return 0.0;
        }
        if let Some(left) = self.left.as_ref().filter(|_| self.slices.is_empty()) {
            return self.round_beyond(left, quarter, up, plane);
        }
        if self.slices.is_empty() {
            let radius = self.bark[0];
            let away = plane.max(0.0).min(radius);
            return 2.0 * (radius * radius - away * away).sqrt();
        }
        let sign = if up { 1.0 } else { -1.0 };
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let mut see = |u: f64| {
            low = low.min(u);
            high = high.max(u);
        };
        for slice in &self.slices {
            let mut before = slice.bark.last().map(|p| quarter.of(*p));
            for point in &slice.bark {
                let at = quarter.of(*point);
                let (there, height) = (before.unwrap_or(at), sign * at[1]);
                if height >= plane {
                    see(at[0]);
                }
                let from = sign * there[1];
                if (from < plane) != (height < plane) {
                    see(there[0] + (plane - from) / (height - from) * (at[0] - there[0]));
                }
                before = Some(at);
            }
        }
        (high - low).max(0.0)
    }

    /// The wood that all sections between two stations have in common.
    pub fn prism(&self, from: Length, to: Length) -> Prism {
        if self.slices.is_empty() {
            let radius = self.log.wood_radius(from.inches_f64()) * NM;
            let axis = self.origin.map(|nm| -nm as f64);
            return Prism { kind: Kind::Round { radius, axis }, left: self.left };
        }
        let quarters = [Quarter::First, Quarter::Second];
        let both = if let Some(core) = self.core((from, to)) {
            quarters.map(|quarter| Profile::new(quarter, std::iter::once(&core[..])))
        } else {
            let within = self.within(from, to);
            let outlines = || within.iter().map(|slice| &slice.wood[..]);
            quarters.map(|quarter| Profile::new(quarter, outlines()))
        };
        Prism { kind: Kind::Grid(Box::new(both)), left: self.left }
    }

    /// What the sections of a stretch have in common, in the view's coordinates, where that is known as one outline.
    fn core(&self, stretch: Stretch) -> Option<Vec<[f64; 2]>> {
        if let Some(by) = self.swing {
            return Some(self.swung(stretch, by));
        }
        if !is_level(self.frame) || self.log.sections().is_none() {
            let within = self.within(stretch.0, stretch.1);
            return common(&within.iter().map(|slice| &slice.wood[..]).collect::<Vec<_>>());
        }
        let core = self.cores.of(self.log, stretch)?;
        let [u, h] = self.origin.map(|nm| nm as f64);
        let seen = |p: &[f64; 2]| {
            let at = seen(*p, 0.0, &self.basis);
            [at[0] - u, at[1] - h]
        };
        Some(core.iter().map(seen).collect())
    }

    /// What a stretch has in any of the turns by up to so much to either side.
    fn swung(&self, stretch: Stretch, by: f64) -> Vec<[f64; 2]> {
        let core = self.cores.about(self.log, stretch);
        let [u, h] = self.origin.map(|nm| nm as f64);
        let core: Vec<[f64; 2]> = core
            .iter()
            .map(|p| {
                let at = seen(*p, 0.0, &self.basis);
                [at[0] - u, at[1] - h]
            })
            .collect();
        // The chord between two turned points lies beyond the arc.
        let scale = beyond(by / SWINGS);
        let mut points = Vec::with_capacity(core.len() * 5);
        for share in [-1.0, -0.5, 0.0, 0.5, 1.0] {
            let (sin, cos) = crate::trig::sin_cos(by * share);
            let turned =
                |[x, y]: &[f64; 2]| [scale * (cos * x - sin * y), scale * (sin * x + cos * y)];
            points.extend(core.iter().map(turned));
        }
        hull(points)
    }

    /// The slices of a stretch, its ends included.
    fn within(&self, from: Length, to: Length) -> Vec<Slice> {
        let (from, to) = (from.inches_f64(), to.inches_f64());
        let inside = self.slices.iter().filter(|slice| slice.z > from && slice.z < to).cloned();
        [from, to].into_iter().map(|z| self.slice_at(z)).chain(inside).collect()
    }

    fn slice_at(&self, z: f64) -> Slice {
        let after = self.slices.partition_point(|slice| slice.z <= z).min(self.slices.len() - 1);
        let (a, b) = (&self.slices[after.saturating_sub(1)], &self.slices[after]);
        let share = if b.z > a.z { ((z - a.z) / (b.z - a.z)).clamp(0.0, 1.0) } else { 0.0 };
        let mix =
            |a: [f64; 2], b: [f64; 2]| [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
        let all = |a: &[[f64; 2]], b: &[[f64; 2]]| {
            a.iter().zip(b).map(|(a, b)| mix(*a, *b)).collect::<Vec<_>>()
        };
        Slice {
            z,
            wood: all(&a.wood, &b.wood),
            bark: all(&a.bark, &b.bark),
            pith: mix(a.pith, b.pith),
        }
    }

    /// What a piece over a stretch must keep clear of, or hold: flaws that are not tolerated, and the pith; and
    /// at which angles its rings may stand about that, where not at any.
    pub fn hazards(
        &self,
        (from, to): (Length, Length),
        kinds: FlawKinds,
        heart: Heart,
        rings: Option<&[RingSpan]>,
    ) -> Hazards {
        if self.swing.is_some() {
            return Hazards::default();
        }
        let near = |flaw: &&Flaw| !kinds.holds(flaw.kind) && flaw.from < to && flaw.to > from;
        let flaws: Vec<&Flaw> = self.log.flaws().iter().filter(near).collect();
        let mut hazards = Hazards::default();
        let turned = |section: &Section, points: &[[f64; 2]]| -> Vec<[f64; 2]> {
            let [u, h] = self.origin.map(|nm| nm as f64);
            let at = |p: &[f64; 2]| {
                let at = seen(*p, section.z, &self.basis);
                [at[0] - u, at[1] - h]
            };
            points.iter().map(at).collect()
        };
        for flaw in flaws {
            let (from, to) = (flaw.from.max(from), flaw.to.min(to));
            let (low, high) = (from.inches_f64(), to.inches_f64());
            let mut stations = vec![low, high];
            stations.extend(self.log.sections().into_iter().flatten().map(|s| s.z));
            stations.retain(|z| (low..=high).contains(z));
            // The n-th regions of all stations belong together: what lies between them is within their hull.
            let mut cells: Vec<Vec<[f64; 2]>> = Vec::new();
            for z in stations {
                let section = self.log.section_at(z);
                for (n, region) in flaw.regions(&section).iter().enumerate() {
                    let points = turned(&section, region);
                    match cells.get_mut(n) {
                        Some(cell) => cell.extend(points),
                        None => cells.push(points),
                    }
                }
            }
            let cells = cells.into_iter().map(Cell::new);
            // What lies beyond the planes that were sawn is in nobody's way.
            let left = |cell: &Cell| self.left.as_ref().is_none_or(|left| left.meets(cell.spans()));
            hazards.cells.extend(cells.filter(left));
        }
        let pith = || {
            let slices = if self.slices.is_empty() { Vec::new() } else { self.within(from, to) };
            let mut points: Vec<[f64; 2]> = slices.iter().map(|slice| slice.pith).collect();
            if points.is_empty() {
                points.push(self.origin.map(|nm| -nm as f64));
            }
            points
        };
        hazards.rings = rings.map(|spans| Standing { spans: spans.to_vec(), pith: pith() });
        match heart {
            Heart::Any => {}
            Heart::Free { clear } => {
                let by = clear.as_nm() as f64 + MARGIN;
                let square = |[u, h]: [f64; 2]| {
                    [[u - by, h - by], [u + by, h - by], [u + by, h + by], [u - by, h + by]]
                };
                hazards.cells.push(Cell::new(pith().into_iter().flat_map(square).collect()));
            }
            Heart::Boxed { within } => {
                let points = pith();
                let span = |n: usize| {
                    let all = || points.iter().map(|p| p[n]);
                    (all().fold(f64::INFINITY, f64::min), all().fold(f64::NEG_INFINITY, f64::max))
                };
                let within = within.as_nm() as f64 - MARGIN;
                hazards.boxed = Some(Boxed { u: span(0), h: span(1), within });
            }
        }
        hazards
    }
}

/// Points of an outline that stands for a circle: they lie on it, so what is within them is within it.
const ROUND_POINTS: u32 = 180;

/// A section of round wood. Those of the ends stand for all: radius and place change evenly along the log, and what two
/// circles have in common lies in every one between them.
fn round(log: &Log, z: f64) -> Section {
    let circle = |radius: f64| -> Vec<[f64; 2]> {
        let point = |k: u32| {
            let turn = std::f64::consts::TAU * f64::from(k) / f64::from(ROUND_POINTS);
            let (sin, cos) = crate::trig::sin_cos(turn);
            [radius * cos, radius * sin]
        };
        (0..ROUND_POINTS).map(point).collect()
    };
    Section {
        z,
        wood: circle(log.wood_radius(z)),
        bark: circle(log.bark_radius(z)),
        pith: [0.0, 0.0],
    }
}

fn side(quarter: Quarter, up: bool) -> usize {
    match (quarter, up) {
        (Quarter::First, true) => 1,
        (Quarter::First, false) => 3,
        (Quarter::Second, true) => 0,
        (Quarter::Second, false) => 2,
    }
}

/// A point of a section in the frame's coordinates, nanometres.
fn seen([x, y]: [f64; 2], z: f64, basis: &Basis) -> [f64; 2] {
    [basis.u, basis.h].map(|axis| (axis[0] * x + axis[1] * y + axis[2] * z) * NM)
}

/// Into how many swings of a turn to either side an arc is parted.
const SWINGS: f64 = 4.0;

/// How far beyond an arc the corner of the lines lies that touch it at its ends, as a share of its radius: its secant,
/// half of the arc being so many radians.
fn beyond(half: f64) -> f64 {
    1.0 / crate::trig::sin_cos(half).1
}

/// A turn in whole thousandths of a degree.
fn whole_turn(millidegrees: f64) -> i32 {
    i32::try_from(whole(millidegrees.round())).unwrap_or(0)
}

/// Whether a frame's axis is the log's own.
fn is_level(frame: Frame) -> bool {
    frame.drift_u == Length::ZERO && frame.drift_h == Length::ZERO
}

impl Slice {
    fn new(section: &Section, basis: &Basis) -> Self {
        let all = |points: &[[f64; 2]]| points.iter().map(|p| seen(*p, section.z, basis)).collect();
        Self {
            z: section.z,
            wood: all(&section.wood),
            bark: all(&section.bark),
            pith: seen(section.pith, section.z, basis),
        }
    }
}

/// The whole number that a float of moderate size has been rounded to.
#[allow(
    clippy::cast_possible_truncation,
    reason = "lengths of a log are far below 2^63 nanometres"
)]
fn whole(x: f64) -> i64 {
    x as i64
}
