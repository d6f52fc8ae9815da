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
use crate::log::{Log, Section};
use common::common;
use cores::{Cores, Stretch};
use hazards::hull;
use pithward_measure::Length;
use prism::Kind;
use profile::Profile;
use sides::Planes;
use std::borrow::Cow;
use std::sync::{Arc, OnceLock};

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
    /// Whether it is of round wood along its own axis.
    round: bool,
    /// The sections as the frame sees them, made when they are asked for: along the log's own axis few ask.
    slices: OnceLock<Vec<Slice>>,
    cores: Arc<Cores>,
    /// What the whole length has in common, from the frame's axis, where that drifts and it is known as one outline.
    whole: Option<Arc<Vec<[f64; 2]>>>,
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
            self.along(Frame::turned(Angle::millidegrees(turn.rem_euclid(360_000)))).wood
        });
        // All turn about the same point.
        for (n, reach) in view.wood.iter_mut().enumerate() {
            let out = ends.iter().map(|wood| wood[n]);
            *reach = out.fold(0.0, f64::max) * beyond(by / 2.0);
        }
        view.swing = Some(by);
        view
    }

    fn with(log: &'a Log, frame: Frame, up: Angle, cores: Arc<Cores>) -> Self {
        let whole = || frame.basis(log.length());
        let basis = frame.turned_to(up, log.length()).unwrap_or_else(whole);
        let round = log.sections().is_none() && is_level(frame);
        let (slices, reach) = (OnceLock::new(), [0.0; 4]);
        let mut view = Self {
            log,
            frame,
            up,
            basis,
            origin: [0, 0],
            round,
            slices,
            cores,
            whole: None,
            swing: None,
            wood: reach,
            bark: reach,
            left: None,
        };
        if round {
            let length = log.length().inches_f64();
            view.wood = [log.wood_radius(length) * NM; 4];
            view.bark = [log.bark_radius(length) * NM; 4];
        } else if is_level(frame) {
            // Only corners of the hull of all sections reach furthest.
            let hulls = Arc::clone(&view.cores);
            [view.wood, view.bark] = hulls
                .hulls(log)
                .each_ref()
                .map(|hull| furthest(hull.iter().map(|p| seen(*p, 0.0, &basis))));
        } else {
            let slices = view.slices();
            let wood = furthest(slices.iter().flat_map(|slice| slice.wood.iter().copied()));
            let bark = furthest(slices.iter().flat_map(|slice| slice.bark.iter().copied()));
            (view.wood, view.bark) = (wood, bark);
        }
        if !round && !is_level(frame) {
            view.whole = view.core((Length::ZERO, log.length())).map(Arc::new);
        }
        if !round {
            view.move_to(view.middle());
        }
        view
    }

    /// The sections as the frame sees them, from the small end; none of round wood along its own axis.
    fn slices(&self) -> &[Slice] {
        self.slices.get_or_init(|| {
            let log = self.log;
            let slice = |section: &Section| Slice::new(section, &self.basis, self.origin);
            match log.sections() {
                None if self.round => Vec::new(),
                None => [Length::ZERO, log.length()]
                    .map(|z| slice(&round(log, z.inches_f64())))
                    .to_vec(),
                Some(sections) => sections.iter().map(slice).collect(),
            }
        })
    }

    /// The middle of the wood that the whole length has in common, nanometres from the frame's axis.
    fn middle(&self) -> [i64; 2] {
        if is_level(self.frame) {
            let centre = self.cores.centre(self.log);
            return seen(centre, 0.0, &self.basis).map(|nm| whole(nm.round()));
        }
        let about = || {
            let about = self.cores.about(self.log, (Length::ZERO, self.log.length()));
            centroid(&about.iter().map(|p| seen(*p, 0.0, &self.basis)).collect::<Vec<_>>())
        };
        let middle = self.whole.as_ref().map_or_else(about, |whole| centroid(whole));
        middle.map(|nm| whole(nm.round()))
    }

    /// Lets the coordinates begin elsewhere.
    fn move_to(&mut self, origin: [i64; 2]) {
        let [u, h] = origin.map(|nm| nm as f64);
        for slice in self.slices.get_mut().into_iter().flatten() {
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
        self.round && self.left.is_none()
    }

    /// Whether it is of round wood along its own axis, whatever sawn planes leave of that.
    pub fn is_of_round(&self) -> bool {
        self.round
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
        if let Some(left) = self.left.as_ref().filter(|_| self.round) {
            return self.round_beyond(left, quarter, up, plane);
        }
        if self.round {
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
        for slice in self.slices() {
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
        if self.round {
            let radius = self.log.wood_radius(from.inches_f64()) * NM;
            let axis = self.origin.map(|nm| -nm as f64);
            return Prism { kind: Kind::Round { radius, axis }, left: self.left };
        }
        let quarters = [Quarter::First, Quarter::Second];
        let both = if let Some(core) = self.core((from, to)) {
            quarters.map(|quarter| Profile::new(quarter, std::iter::once(&core[..])))
        } else {
            let within = self.within(from, to);
            let outlines = || within.iter().map(|outline| &outline[..]);
            quarters.map(|quarter| Profile::new(quarter, outlines()))
        };
        Prism { kind: Kind::Grid(Box::new(both)), left: self.left }
    }

    /// What the sections of a stretch have in common, in the view's coordinates, where that is known as one outline.
    fn core(&self, stretch: Stretch) -> Option<Vec<[f64; 2]>> {
        if let Some(by) = self.swing {
            return Some(self.swung(stretch, by));
        }
        let [u, h] = self.origin.map(|nm| nm as f64);
        let whole = self.whole.as_ref().filter(|_| stretch == (Length::ZERO, self.log.length()));
        if let Some(whole) = whole {
            return Some(whole.iter().map(|p| [p[0] - u, p[1] - h]).collect());
        }
        if !is_level(self.frame) || self.log.sections().is_none() {
            let within = self.within(stretch.0, stretch.1);
            return common(&within.iter().map(|outline| &outline[..]).collect::<Vec<_>>());
        }
        let core = self.cores.of(self.log, stretch)?;
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
        let mut points = Vec::with_capacity(core.len() * 3);
        for share in [-1.0, 0.0, 1.0] {
            let (sin, cos) = crate::trig::sin_cos(by * share);
            let turned =
                |[x, y]: &[f64; 2]| [scale * (cos * x - sin * y), scale * (sin * x + cos * y)];
            points.extend(core.iter().map(turned));
        }
        hull(points)
    }

    /// The outlines of the wood over a stretch, its ends first.
    fn within(&self, from: Length, to: Length) -> Vec<Cow<'_, [[f64; 2]]>> {
        let end = |z: f64| {
            let (a, b, share) = self.slices_about(z);
            let pairs = a.wood.iter().zip(&b.wood);
            Cow::Owned(pairs.map(|(a, b)| between(*a, *b, share)).collect())
        };
        let inside = self.slices_inside(from, to).iter().map(|slice| Cow::from(&slice.wood));
        [from, to].into_iter().map(|z| end(z.inches_f64())).chain(inside).collect()
    }

    /// The pith over a stretch: at its ends, and at the stations between.
    fn pith_within(&self, from: Length, to: Length) -> Vec<[f64; 2]> {
        let end = |z: f64| {
            let (a, b, share) = self.slices_about(z);
            between(a.pith, b.pith, share)
        };
        let inside = self.slices_inside(from, to).iter().map(|slice| slice.pith);
        [from, to].into_iter().map(|z| end(z.inches_f64())).chain(inside).collect()
    }

    /// The slices between two stations, those at them left out.
    fn slices_inside(&self, from: Length, to: Length) -> &[Slice] {
        let (slices, from, to) = (self.slices(), from.inches_f64(), to.inches_f64());
        let first = slices.partition_point(|slice| slice.z <= from);
        let last = slices.partition_point(|slice| slice.z < to);
        slices.get(first..last).unwrap_or_default()
    }

    /// The slices before and after a station, and by what share of the way it lies between them.
    fn slices_about(&self, z: f64) -> (&Slice, &Slice, f64) {
        let slices = self.slices();
        let after = slices.partition_point(|slice| slice.z <= z).min(slices.len() - 1);
        let (a, b) = (&slices[after.saturating_sub(1)], &slices[after]);
        let share = if b.z > a.z { ((z - a.z) / (b.z - a.z)).clamp(0.0, 1.0) } else { 0.0 };
        (a, b, share)
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
const SWINGS: f64 = 2.0;

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
    /// A section as it is seen from where the coordinates begin.
    fn new(section: &Section, basis: &Basis, origin: [i64; 2]) -> Self {
        let [u, h] = origin.map(|nm| nm as f64);
        let at = |p: &[f64; 2]| {
            let at = seen(*p, section.z, basis);
            [at[0] - u, at[1] - h]
        };
        let all = |points: &[[f64; 2]]| points.iter().map(at).collect();
        Self {
            z: section.z,
            wood: all(&section.wood),
            bark: all(&section.bark),
            pith: at(&section.pith),
        }
    }
}

/// A point between two.
fn between(a: [f64; 2], b: [f64; 2], share: f64) -> [f64; 2] {
    [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]
}

/// How far points reach: `+u`, `+h`, `-u`, `-h`.
fn furthest(points: impl Iterator<Item = [f64; 2]>) -> [f64; 4] {
    points.fold([f64::NEG_INFINITY; 4], |far, [u, h]| {
        [far[0].max(u), far[1].max(h), far[2].max(-u), far[3].max(-h)]
    })
}

/// The whole number that a float of moderate size has been rounded to.
#[allow(
    clippy::cast_possible_truncation,
    reason = "lengths of a log are far below 2^63 nanometres"
)]
fn whole(x: f64) -> i64 {
    x as i64
}
