//! How a scan lies: its axis, its ends, which of them is the small one, and which way is up.
//!
//! # Method
//! The axis begins as the principal direction of the surface, goes on through the centres of sections near the ends, and
//! ends through the middles (or the piths) of the end sections themselves. A log's end is where its section is whole:
//! as large all round as the sections further in let one expect. So an oblique or ragged end loses some length.

use super::fault::ShapeFault;
use super::ring::{NoRing, Ring};
use super::{RAYS, Repair, ShapeRequest};
use crate::frame::dot;

/// A log is at least so many times as long as it is wide, or its long direction is a matter of taste.
const LEAST_LONG: f64 = 1.2;

/// Where two sections are taken that say where the axis goes, by the length from either end; where there is none, a
/// little further in.
const NEAR: [f64; 6] = [0.15, 0.18, 0.22, 0.26, 0.30, 0.34];

/// Where sections are taken that say what is expected at an end, by the length from it.
const WITHIN: [f64; 2] = [0.25, 0.5];

/// A section is whole where over 30 degrees it is nowhere smaller than this share of what is expected.
const WHOLE: f64 = 0.92;

/// Half the thickness of the slabs in which a cloud's points are taken together before its unit is known, by the length.
const HALF: f64 = 0.01;

/// Ends whose areas differ by less than this share are alike.
const ALIKE: f64 = 0.002;

/// Cosine of 30 degrees: a log that is nearer the file's `+z` stands.
const STANDS: f64 = 0.866_025_403_784_438_6;

/// Sine of 10 degrees: the least angle between the log and its 12 o'clock.
const ACROSS: f64 = 0.173_648_177_666_930_3;

/// A log frame in the file's coordinates.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pose {
    origin: [f64; 3],
    /// `x`, `y` and `z` of the log frame. A log frame is left-handed, a file right-handed.
    axes: [[f64; 3]; 3],
}

/// What is expected at an end: the mean distance over the 30 degrees about each ray.
#[derive(Clone, Debug)]
pub(super) struct Expected {
    radius: Vec<f64>,
    /// Whether the sections that say so were themselves seen all round.
    seen: bool,
}

/// A clean scan in its file's coordinates.
pub(super) trait Scan {
    /// The scan in a pose.
    type Placed<'a>: Placed
    where
        Self: 'a;

    /// Its centre, and how it spreads about it: the sums of products of coordinates.
    fn spread(&self) -> ([f64; 3], [[f64; 3]; 3]);

    /// It in a pose.
    fn placed(&self, pose: &Pose) -> Self::Placed<'_>;

    /// What its holes say once its pose is known.
    ///
    /// # Errors
    /// When too much is missing.
    fn holes(&self, pose: &Pose, length: f64, told: &mut Vec<Repair>) -> Result<(), ShapeFault>;
}

/// A scan in a pose.
pub(super) trait Placed {
    /// The least and the greatest station.
    fn extent(&self) -> [f64; 2];

    /// The section at a station, from what lies within half a slab of it where there are only points.
    fn ring(&self, z: f64, half: f64) -> Result<Ring, NoRing>;

    /// The first station from an end at which the section is whole.
    fn end(&self, low: bool, expected: &Expected, half: f64) -> Option<f64>;

    /// Leaves out what is not between the ends, so that only the side is left.
    fn keep(&mut self, ends: [f64; 2]);
}

/// A scan with its axis, its ends and its sides known.
pub(super) struct Posed<P> {
    pub(super) pose: Pose,
    pub(super) placed: P,
    /// Stations of the small end and the butt in this pose.
    pub(super) ends: [f64; 2],
    /// How far the scan goes beyond them.
    pub(super) extent: [f64; 2],
    /// Sections there.
    pub(super) rings: [Ring; 2],
    expected: [Expected; 2],
    up: [f64; 3],
}

impl Pose {
    /// The frame about an axis from the small end to the butt, through an origin. `None` where 12 o'clock is along it.
    fn new(origin: [f64; 3], along: [f64; 3], up: [f64; 3]) -> Option<Self> {
        let z = unit(along)?;
        let off = dot(up, z);
        let y = [up[0] - off * z[0], up[1] - off * z[1], up[2] - off * z[2]];
        if dot(y, y) < ACROSS * ACROSS {
            return None;
        }
        let y = unit(y)?;
        // Looking along z with y up, right is z x y.
        Some(Self { origin, axes: [cross(z, y), y, z] })
    }

    /// A point of the file in the log frame.
    pub(super) fn of(&self, point: [f64; 3]) -> [f64; 3] {
        let from = [0, 1, 2].map(|k| point[k] - self.origin[k]);
        self.axes.map(|axis| dot(axis, from))
    }

    /// A point of the log frame in the file.
    fn back(&self, point: [f64; 3]) -> [f64; 3] {
        let [x, y, z] = self.axes;
        [0, 1, 2].map(|k| self.origin[k] + point[0] * x[k] + point[1] * y[k] + point[2] * z[k])
    }

    /// A direction of the file in the log frame.
    pub(super) fn direction(&self, vector: [f64; 3]) -> [f64; 3] {
        self.axes.map(|axis| dot(axis, vector))
    }
}

impl Expected {
    /// What sections a quarter and half the length away let expect at an end: no more than the nearer one, and less
    /// as it is thinner than the farther one.
    fn of(near: &Ring, far: &Ring) -> Self {
        let expected = |n| {
            let (near, far) = (near.mean_about(n), far.mean_about(n));
            (2.0 * near - far).max(0.5 * near).min(near)
        };
        Self { radius: (0..RAYS).map(expected).collect(), seen: near.is_seen() && far.is_seen() }
    }

    /// Whether a section is as large.
    pub(super) fn is_met(&self, ring: &Ring) -> bool {
        let all =
            || self.radius.iter().enumerate().all(|(n, least)| ring.mean_about(n) >= WHOLE * least);
        (ring.is_seen() || !self.seen) && all()
    }

    /// What is expected on a ray.
    pub(super) fn at(&self, ray: usize) -> f64 {
        self.radius[ray % RAYS]
    }

    /// Mean over all rays.
    pub(super) fn mean_radius(&self) -> f64 {
        self.radius.iter().sum::<f64>() / RAYS as f64
    }
}

/// The pose of a scan, its axis through the middles of its end sections.
pub(super) fn pose<'a, S: Scan>(
    scan: &'a S,
    request: &ShapeRequest,
    told: &mut Vec<Repair>,
) -> Result<Posed<S::Placed<'a>>, ShapeFault> {
    let (centre, spread) = scan.spread();
    let mut along =
        principal(spread).ok_or(ShapeFault::NotLong { ratio: 1.0, least: LEAST_LONG })?;
    let up = up(along, request, told)?;
    let mut origin = centre;
    for _ in 0..2 {
        let pose = Pose::new(origin, along, up).ok_or(ShapeFault::UpAlong)?;
        let placed = scan.placed(&pose);
        let [low, high] = placed.extent();
        let length = high - low;
        let at = |share: f64| placed.ring(low + share * length, HALF * length);
        let ring = |butt: bool| {
            let stations = NEAR.map(|share| if butt { 1.0 - share } else { share });
            let found = stations.into_iter().find_map(|share| Some((share, at(share).ok()?)));
            found.ok_or(ShapeFault::NoEnd)
        };
        let [(small_at, small), (butt_at, butt)] = [ring(false)?, ring(true)?];
        let widest =
            small.across().max(butt.across()).max(at(0.5).map_or(0.0, |ring| ring.across()));
        is_long(length, widest)?;
        let from = pose.back([small.centre[0], small.centre[1], low + small_at * length]);
        let to = pose.back([butt.centre[0], butt.centre[1], low + butt_at * length]);
        (origin, along) = (from, minus(to, from));
    }
    let mut posed = Posed::of(scan, origin, along, up)?;
    let areas = posed.rings.each_ref().map(Ring::area);
    let alike = (areas[0] - areas[1]).abs() < ALIKE * areas[1];
    if alike {
        told.push(Repair::EndsAlike);
    } else if areas[0] > areas[1] {
        posed = Posed::of(scan, origin, along.map(|c| -c), up)?;
    }
    for _ in 0..2 {
        posed = posed.through(scan, [[0.0; 2]; 2])?;
    }
    is_long(posed.length(), posed.across())?;
    Ok(posed)
}

/// Whether a shape is long enough beside its width.
fn is_long(length: f64, widest: f64) -> Result<(), ShapeFault> {
    if length < LEAST_LONG * widest {
        return Err(ShapeFault::NotLong { ratio: length / widest, least: LEAST_LONG });
    }
    Ok(())
}

impl<'a, P: Placed> Posed<P> {
    fn of<S: Scan<Placed<'a> = P>>(
        scan: &'a S,
        origin: [f64; 3],
        along: [f64; 3],
        up: [f64; 3],
    ) -> Result<Self, ShapeFault> {
        let pose = Pose::new(origin, along, up).ok_or(ShapeFault::UpAlong)?;
        let mut placed = scan.placed(&pose);
        let [low, high] = placed.extent();
        let length = high - low;
        let half = HALF * length;
        let inward = |butt: bool| {
            let ring = |share: f64| {
                let z = if butt { high - share * length } else { low + share * length };
                placed.ring(z, half).map_err(|none| no_ring(none, (z - low) / length))
            };
            Ok::<_, ShapeFault>(Expected::of(&ring(WITHIN[0])?, &ring(WITHIN[1])?))
        };
        let expected = [inward(false)?, inward(true)?];
        let small = placed.end(true, &expected[0], half).ok_or(ShapeFault::NoEnd)?;
        let butt = placed.end(false, &expected[1], half).ok_or(ShapeFault::NoEnd)?;
        placed.keep([small, butt]);
        let ring = |z: f64| placed.ring(z, half).map_err(|none| no_ring(none, (z - low) / length));
        let rings = [ring(small)?, ring(butt)?];
        Ok(Self { pose, placed, ends: [small, butt], extent: [low, high], rings, expected, up })
    }

    /// The same with the axis through points so far from the middles of the end sections.
    pub(super) fn through<S: Scan<Placed<'a> = P>>(
        self,
        scan: &'a S,
        off: [[f64; 2]; 2],
    ) -> Result<Self, ShapeFault> {
        let [from, to] = [0, 1].map(|n| {
            let centre = self.rings[n].centre;
            self.pose.back([centre[0] + off[n][0], centre[1] + off[n][1], self.ends[n]])
        });
        Self::of(scan, from, minus(to, from), self.up)
    }

    /// How long it is between its whole sections.
    pub(super) fn length(&self) -> f64 {
        self.ends[1] - self.ends[0]
    }

    /// What is expected at the ends.
    pub(super) fn across(&self) -> f64 {
        self.expected.iter().map(Expected::mean_radius).sum()
    }
}

/// The fault of a section that is none, by its share of the length.
fn no_ring(none: NoRing, along: f64) -> ShapeFault {
    match none {
        NoRing::Nothing => ShapeFault::NoEnd,
        NoRing::Trough => ShapeFault::Trough { along },
    }
}

/// The direction of 12 o'clock, of length 1.
fn up(
    along: [f64; 3],
    request: &ShapeRequest,
    told: &mut Vec<Repair>,
) -> Result<[f64; 3], ShapeFault> {
    if let Some(stated) = request.up {
        return unit(stated).ok_or(ShapeFault::UpAlong);
    }
    if along[2].abs() > STANDS {
        told.push(Repair::Standing);
        return Ok([0.0, 1.0, 0.0]);
    }
    Ok([0.0, 0.0, 1.0])
}

/// The direction in which the spread is greatest, its greatest coordinate positive: any vector comes to lie along it
/// when the spread is multiplied by itself again and again.
fn principal(mut spread: [[f64; 3]; 3]) -> Option<[f64; 3]> {
    for _ in 0..40 {
        let trace = spread[0][0] + spread[1][1] + spread[2][2];
        if !(trace.is_finite() && trace > 0.0) {
            return None;
        }
        let scaled = spread.map(|row| row.map(|c| c / trace));
        spread = scaled.map(|row| {
            [0, 1, 2].map(|k| row[0] * scaled[0][k] + row[1] * scaled[1][k] + row[2] * scaled[2][k])
        });
    }
    // Its largest column.
    let column = spread.into_iter().max_by(|a, b| dot(*a, *a).total_cmp(&dot(*b, *b)))?;
    let along = unit(column)?;
    let greatest =
        along.into_iter().fold(0.0_f64, |most, c| if c.abs() > most.abs() { c } else { most });
    Some(if greatest < 0.0 { along.map(|c| -c) } else { along })
}

fn minus(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn unit(a: [f64; 3]) -> Option<[f64; 3]> {
    let long = dot(a, a).sqrt();
    (long.is_finite() && long > 0.0).then(|| a.map(|c| c / long))
}

#[cfg(test)]
mod tests {
    use super::{Pose, principal};

    #[test]
    fn looking_at_the_small_end_3_oclock_is_to_the_right() {
        // A log that lies north, its small end south: whoever looks north has east on the right.
        let pose = Pose::new([1.0, 2.0, 3.0], [0.0, 9.0, 0.0], [0.0, 0.0, 1.0]).unwrap();
        let same = |a: [f64; 3], b: [f64; 3]| a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-12);
        assert!(same(pose.of([2.0, 2.0, 3.0]), [1.0, 0.0, 0.0]));
        assert!(same(pose.of([1.0, 2.0, 4.0]), [0.0, 1.0, 0.0]));
        assert!(same(pose.of([1.0, 3.0, 3.0]), [0.0, 0.0, 1.0]));
        assert!(same(pose.back([1.0, 1.0, 1.0]), [2.0, 3.0, 4.0]));
        assert!(Pose::new([0.0; 3], [0.0, 0.0, 1.0], [0.0, 0.01, 1.0]).is_none());
    }

    #[test]
    fn the_principal_direction_of_a_stick() {
        let along = [0.6, -0.8, 0.0];
        let mut spread = [[0.0; 3]; 3];
        for (i, row) in spread.iter_mut().enumerate() {
            for (k, c) in row.iter_mut().enumerate() {
                *c = 100.0 * along[i] * along[k] + if i == k { 3.0 } else { 0.0 };
            }
        }
        let found = principal(spread).unwrap();
        // The greatest coordinate is positive.
        assert!((found[0] + 0.6).abs() < 1e-12 && (found[1] - 0.8).abs() < 1e-12);
        assert!(principal([[0.0; 3]; 3]).is_none());
        assert!(principal([[f64::NAN; 3]; 3]).is_none());
    }
}
