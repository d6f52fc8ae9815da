//! Defects inside a log, as they are told by what its bark and its ends show, and where they come out on a
//! piece.
//!
//! A [`Flaw`](crate::Flaw) forbids wood; a defect does not. It lowers what a face is worth, so all that is
//! asked of it is where it shows on the faces of a piece ([`DefectBody::on_face`]) and whether a piece holds
//! any of it ([`DefectBody::is_in`]).
//!
//! # Model
//! * A **knot** is a cone with its tip at the pith: every branch starts there, and grows thicker outward as
//!   long as it lives (Lin and Wang, 18th Central Hardwood Forest Conference, 2012, as cited by others; not
//!   read). It ends at the surface of the wood, or, when it is **overgrown** (a bump or a ring on the bark),
//!   under clear wood of a stated thickness. A branch that died early is thicker inside than its cone; nothing
//!   on the bark tells.
//! * A **seam** is a plane from the surface toward the pith; a **scar** a zone of the surface with its depth; a
//!   **hole** a tube toward the pith.
//! * A **core** is what lies deeper than a clear shell whose thickness is told for each quarter: taken as knots
//!   throughout.
//!
//! # Method
//! Each is one or more convex bodies, told by two loops of points that belong together. A circle is the
//! 24-sided polygon around it, under one per cent larger. The plane of a face cuts the body's edges; what is
//! cut is the face's polygon, which is clipped to the face and held by a rectangle. So what is shown is never
//! too small: it holds all of the cone, and reaches further by no more than the polygon does; where the body's
//! sides are warped, by what is between their two diagonals.
//!
//! # Units
//! Inches in the log frame; a piece's planes are exact lengths, and rectangles are rounded outward to the
//! nanometre.

mod fault;
mod part;
mod pith;
mod solid;

pub use fault::DefectFault;
pub use pith::pith_in;

use crate::log::{Section, surface};
use crate::trig::{norm, sin_cos};
use crate::{Angle, Basis, Claim, Frame, Log, Span};
use pithward_measure::Length;
use solid::{Cut, Solid};
use std::cell::{OnceCell, RefCell};
use std::collections::BTreeMap;
use std::rc::Rc;

/// What a log's outside tells of its inside. Stations are from the small end, clocks are read there. Of a log that was
/// cut through a knot or a hole its station may lie a little beyond the log's end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Defect {
    /// A branch.
    Knot {
        /// Station at which it ends, or meets the surface of the wood.
        at: Length,
        /// Direction from the pith.
        clock: Angle,
        /// Its thickness there.
        across: Length,
        /// How much nearer to the butt its tip at the pith is: branches lean toward the top of the tree.
        rise: Length,
        /// Thickness of the clear wood that has grown over its end; none where it is seen on the bark.
        clear: Length,
    },
    /// A plane from the surface toward the pith, such as an old frost crack.
    Seam {
        /// Where it begins.
        from: Length,
        /// Where it ends.
        to: Length,
        /// Direction from the pith.
        clock: Angle,
        /// How deep.
        depth: Length,
    },
    /// A zone of the surface, such as an old wound.
    Scar {
        /// Where it begins.
        from: Length,
        /// Where it ends.
        to: Length,
        /// Direction of its middle from the pith.
        clock: Angle,
        /// How wide it is, as seen from the pith: less than half a turn.
        width: Angle,
        /// How deep.
        depth: Length,
    },
    /// A tube from the surface toward the pith.
    Hole {
        /// Station.
        at: Length,
        /// Direction from the pith.
        clock: Angle,
        /// How wide.
        across: Length,
        /// How deep.
        depth: Length,
    },
    /// Wood with knots throughout, inside of a clear shell.
    Core {
        /// Where it begins.
        from: Length,
        /// Where it ends.
        to: Length,
        /// Thickness of the shell in the quarters about 12, 3, 6 and 9 o'clock.
        clear: [Length; 4],
    },
}

/// Parts of a quarter or of a scar.
const ARCS: u32 = 6;

/// Half the thickness of a seam, inches: a sixteenth. Common practice, no source.
const HALF_SEAM: f64 = 1.0 / 16.0;

/// A piece: its box along the directions of a frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PieceBox {
    /// The directions.
    pub basis: Basis,
    /// Across, along `u`.
    pub u: Span,
    /// Upward, along `h`.
    pub h: Span,
    /// Along the log's axis, from the small end.
    pub z: Span,
}

impl PieceBox {
    /// The box of a claim in a log of this length; `None` where its turn is none of the frame's.
    pub fn of(claim: &Claim, frame: &Frame, length: Length) -> Option<Self> {
        let basis = frame.turned_to(claim.turn, length)?;
        Some(Self { basis, u: claim.u, h: claim.h, z: claim.z })
    }
}

impl PieceBox {
    /// Its two wide faces; those at `h` where it is square.
    pub fn wide_faces(&self) -> [BoxFace; 2] {
        if self.u.size() >= self.h.size() {
            [BoxFace::LowH, BoxFace::HighH]
        } else {
            [BoxFace::LowU, BoxFace::HighU]
        }
    }
}

/// A long face of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BoxFace {
    /// Where `u` is least.
    LowU,
    /// Where `u` is greatest.
    HighU,
    /// Where `h` is least.
    LowH,
    /// Where `h` is greatest.
    HighH,
}

impl BoxFace {
    /// All four.
    pub const ALL: [Self; 4] = [Self::LowU, Self::HighU, Self::LowH, Self::HighH];

    /// The plane's axis, 0 for `u` and 1 for `h`, and where it is.
    fn plane(self, piece: &PieceBox) -> (usize, Length) {
        match self {
            Self::LowU => (0, piece.u.from),
            Self::HighU => (0, piece.u.to),
            Self::LowH => (1, piece.h.from),
            Self::HighH => (1, piece.h.to),
        }
    }
}

/// The rectangle of a face that holds what a defect shows there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Shown {
    /// Across the face: along `u` on the faces at `h`, along `h` on those at `u`.
    pub across: Span,
    /// Along the log, from the small end.
    pub along: Span,
}

/// A defect as a body in its log.
#[derive(Clone, Debug, PartialEq)]
pub struct DefectBody {
    solids: Vec<Solid>,
}

impl DefectBody {
    /// The body of a defect in a log.
    pub fn new(defect: &Defect, log: &Log) -> Self {
        let solids = match *defect {
            Defect::Knot { at, clock, across, rise, clear } => {
                vec![knot(log, at.inches_f64(), clock, across.inches_f64(), rise, clear)]
            }
            Defect::Hole { at, clock, across, depth } => {
                let (z, radius) = (at.inches_f64(), 0.5 * across.inches_f64());
                let (pith, reach) = (pith_at(log, z), wood_toward(log, z, clock));
                let along = |away: f64| spot(pith, clock, away, z);
                let inner = (reach - depth.inches_f64()).max(0.0);
                // Out of the wood, so that its rim lies outside all round.
                let ends = [along(inner), along(reach + radius)];
                let disk = |n: usize| solid::disk(ends[n], ends[0], ends[1], radius);
                vec![Solid::new(disk(0), disk(1))]
            }
            Defect::Seam { from, to, clock, depth } => between(log, from, to, |section| {
                let reach = reach_in(section, clock);
                let (sin, cos) = clock.sin_cos();
                let at = |away: f64, aside: f64| {
                    [
                        section.pith[0] + away * sin + aside * cos,
                        section.pith[1] + away * cos - aside * sin,
                    ]
                };
                let (near, far) = ((reach - depth.inches_f64()).max(0.0), reach + HALF_SEAM);
                let sides =
                    [(near, -HALF_SEAM), (near, HALF_SEAM), (far, HALF_SEAM), (far, -HALF_SEAM)];
                vec![sides.map(|(away, aside)| at(away, aside)).to_vec()]
            }),
            Defect::Scar { from, to, clock, width, depth } => between(log, from, to, |section| {
                let depth = depth.inches_f64();
                arcs(clock, width)
                    .map(|arc| {
                        let (near, far) = surface(section, arc.0, arc.1);
                        // A chord's middle is nearer to the pith than its ends.
                        let (near, far) = ((near - depth).max(0.0), far * bulge(arc));
                        let corners = [(arc.0, near), (arc.1, near), (arc.1, far), (arc.0, far)];
                        corners.map(|(turn, away)| turned(section.pith, turn, away)).to_vec()
                    })
                    .collect()
            }),
            Defect::Core { from, to, clear } => between(log, from, to, |section| {
                let quarters = (0..4).zip(clear);
                let quarter = |(n, clear): (i32, Length)| {
                    let clear = clear.inches_f64();
                    let wedge = move |arc: (f64, f64)| {
                        let (_, far) = surface(section, arc.0, arc.1);
                        let far = (far - clear).max(0.0) * bulge(arc);
                        let ends = [arc.0, arc.1].map(|turn| turned(section.pith, turn, far));
                        vec![section.pith, ends[0], ends[1]]
                    };
                    arcs(Angle::degrees(90 * n), Angle::degrees(90)).map(wedge)
                };
                quarters.flat_map(quarter).collect()
            }),
        };
        Self { solids }
    }

    /// What of it shows on a face of a piece; nothing where it does not.
    pub fn on_face(&self, piece: &PieceBox, face: BoxFace) -> Vec<Shown> {
        let seen = SeenBodies::new([self], &piece.basis);
        seen.on_face(piece, face).into_iter().map(|(_, shown)| shown).collect()
    }

    /// Whether a piece holds any of it, on its faces or inside.
    pub fn is_in(&self, piece: &PieceBox) -> bool {
        self.solids.iter().any(|solid| solid.seen(&piece.basis).is_in(piece))
    }
}

/// The bodies of defects as they are seen along the directions of pieces: for many of these. What planes cut out of them is
/// remembered: boards have faces in the same plane.
#[derive(Clone, Debug)]
pub struct SeenBodies {
    /// Convex bodies, each with the place of the defect that it is of.
    solids: Vec<(usize, solid::Seen)>,
    planes: RefCell<BTreeMap<Plane, Cuts>>,
}

/// A plane across `u` or `h`, and where.
type Plane = (usize, Length);

/// What a plane cuts out of every convex body, each as soon as it is asked for.
type Cuts = Rc<[OnceCell<Option<Cut>>]>;

/// Planes that are remembered at most.
const MOST_PLANES: usize = 4_000;

impl SeenBodies {
    /// These bodies along the directions of a basis.
    pub fn new<'a>(bodies: impl IntoIterator<Item = &'a DefectBody>, basis: &Basis) -> Self {
        let seen = |(n, body): (usize, &'a DefectBody)| {
            body.solids.iter().map(move |solid| (n, solid.seen(basis)))
        };
        let solids = bodies.into_iter().enumerate().flat_map(seen).collect();
        Self { solids, planes: RefCell::default() }
    }

    /// What of the bodies shows on a face of a piece along the same directions, body by body in their order, each by its
    /// place among them; nothing of those that do not show.
    pub fn on_face(&self, piece: &PieceBox, face: BoxFace) -> Vec<(usize, Shown)> {
        let (axis, at) = face.plane(piece);
        let across = if axis == 0 { piece.h } else { piece.u };
        let cuts = self.cuts((axis, at));
        let mut shown: Vec<(usize, Shown)> = Vec::new();
        for ((body, solid), cut) in self.solids.iter().zip(cuts.iter()) {
            if solid.may_show(axis, at, across, piece.z) {
                let cut = cut.get_or_init(|| solid.cut(axis, at)).as_ref();
                shown.extend(cut.and_then(|cut| Some((*body, cut.within(across, piece.z)?))));
            }
        }
        shown.sort_unstable();
        shown.dedup();
        shown
    }

    fn cuts(&self, plane: Plane) -> Cuts {
        let mut known = self.planes.borrow_mut();
        if known.len() >= MOST_PLANES && !known.contains_key(&plane) {
            known.clear();
        }
        let none = || self.solids.iter().map(|_| OnceCell::new()).collect();
        Rc::clone(known.entry(plane).or_insert_with(none))
    }
}

fn knot(log: &Log, z: f64, clock: Angle, across: f64, rise: Length, clear: Length) -> Solid {
    let tip_z = z + rise.inches_f64();
    let tip = pith_at(log, tip_z);
    let tip = [tip[0], tip[1], tip_z];
    let away = (wood_toward(log, z, clock) - clear.inches_f64()).max(0.0);
    let end = spot(pith_at(log, z), clock, away, z);
    // One that is seen goes on out of the wood, widening, so that its rim lies outside all round.
    let long = norm(norm(end[0] - tip[0], end[1] - tip[1]), end[2] - tip[2]);
    let further = if clear > Length::ZERO || long <= 0.0 { 1.0 } else { 1.0 + 0.5 * across / long };
    let end = [0, 1, 2].map(|n| tip[n] + further * (end[n] - tip[n]));
    Solid::new(vec![tip; solid::SIDES], solid::disk(end, tip, end, 0.5 * across * further))
}

/// Bodies between the log's sections over a stretch, from convex polygons that belong together.
fn between(
    log: &Log,
    from: Length,
    to: Length,
    polygons: impl Fn(&Section) -> Vec<Vec<[f64; 2]>>,
) -> Vec<Solid> {
    let (from, to) = (from.inches_f64(), to.inches_f64());
    let inner = log.sections().unwrap_or_default().iter().map(|section| section.z);
    let inner = inner.filter(|z| from < *z && *z < to);
    let loops = |z: f64| -> Vec<Vec<[f64; 3]>> {
        let raised = |polygon: Vec<[f64; 2]>| polygon.into_iter().map(|[x, y]| [x, y, z]).collect();
        polygons(&log.section_at(z)).into_iter().map(raised).collect()
    };
    let mut solids = Vec::new();
    let mut last = loops(from);
    for z in inner.chain([to]) {
        let next = loops(z);
        solids.extend(last.into_iter().zip(&next).map(|(a, b)| Solid::new(a, b.clone())));
        last = next;
    }
    solids
}

/// A direction's parts, radians from and to.
fn arcs(middle: Angle, width: Angle) -> impl Iterator<Item = (f64, f64)> {
    let radians = |angle: Angle| angle.degrees_f64() * (std::f64::consts::PI / 180.0);
    let (middle, width) = (radians(middle), radians(width));
    let edge = move |n: u32| middle + width * (f64::from(n) / f64::from(ARCS) - 0.5);
    (0..ARCS).map(move |n| (edge(n), edge(n + 1)))
}

/// How much further out the ends of a chord must be for its middle to lie on the arc.
fn bulge(arc: (f64, f64)) -> f64 {
    1.0 / sin_cos(0.5 * (arc.1 - arc.0)).1
}

fn turned(pith: [f64; 2], turn: f64, away: f64) -> [f64; 2] {
    let (sin, cos) = sin_cos(turn);
    [pith[0] + away * sin, pith[1] + away * cos]
}

fn spot(pith: [f64; 2], clock: Angle, away: f64, z: f64) -> [f64; 3] {
    let (sin, cos) = clock.sin_cos();
    [pith[0] + away * sin, pith[1] + away * cos, z]
}

/// The pith at a station.
pub(crate) fn pith_at(log: &Log, z: f64) -> [f64; 2] {
    if log.sections().is_none() { [0.0, 0.0] } else { log.section_at(z).pith }
}

/// How far the wood reaches from the pith in a direction.
pub(crate) fn wood_toward(log: &Log, z: f64, clock: Angle) -> f64 {
    let z = z.clamp(0.0, log.length().inches_f64());
    if log.sections().is_none() { log.wood_radius(z) } else { reach_in(&log.section_at(z), clock) }
}

/// The same in a section: where its outline is crossed furthest out.
fn reach_in(section: &Section, clock: Angle) -> f64 {
    let (sin, cos) = clock.sin_cos();
    let seen = |p: &[f64; 2]| {
        let (x, y) = (p[0] - section.pith[0], p[1] - section.pith[1]);
        (x * sin + y * cos, x * cos - y * sin)
    };
    let next = section.wood.iter().cycle().skip(1);
    let mut furthest = 0.0f64;
    for (a, b) in section.wood.iter().zip(next) {
        let ((out_a, side_a), (out_b, side_b)) = (seen(a), seen(b));
        if (side_a > 0.0) != (side_b > 0.0) {
            let share = side_a / (side_a - side_b);
            furthest = furthest.max(out_a + share * (out_b - out_a));
        }
    }
    furthest
}

#[cfg(test)]
mod tests;
