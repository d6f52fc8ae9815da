//! A cloud of points made clean, and its sections.
//!
//! # Method
//! Points hang together where their cells of a coarse grid touch; what hangs not together with most of them is left
//! out. A section takes the points of a slab, and in each direction the median of their distances: noise, and the
//! inside of a crack, move it little. An end is the plane through the outermost points of its sides, moved in until it
//! has passed the last of them.

use super::fault::ShapeFault;
use super::mesh::{is_number, spread, welded};
use super::pieces::{Largest, Pieces};
use super::pose::{Expected, Placed, Pose, Scan};
use super::ring::{NoRing, Ring};
use super::{RAYS, Repair};
use crate::trig::{atan2, norm};

/// Fewer points are no scan of a log.
const LEAST_POINTS: usize = 200;

/// The most points without numbers, of all.
const MOST_BAD: f64 = 0.05;

/// A second piece of more than this share of the largest is another thing, not clutter.
const MOST_SECOND: f64 = 0.25;

/// Cells along the longest side of the grid in which points hang together.
const CELLS: f64 = 50.0;

/// How often a cloud that has become smaller is looked at anew, in smaller cells.
const LOOKS: usize = 8;

/// So many points of a slab are enough: ten in each direction.
const ENOUGH: usize = 10 * RAYS;

/// Nearer the middle than this share of what is expected, a point belongs to the face of an end, not to its side.
const SIDE: f64 = 0.88;

/// Sides of an end that are looked at.
const SIDES: usize = 36;

/// How far from an end its side is looked at, by the length.
const END_REACH: f64 = 0.25;

/// How far within the plane of its sides the face of an end may lie, by the length.
const FACE: f64 = 0.02;

/// Nearer the middle than this share of what is expected, a point surely belongs to the face.
const INNER: f64 = 0.8;

/// So many of a face's points say where it ends; the others are noise.
const MOST_OF_FACE: f64 = 0.998;

/// The rim of a face reaches further in than those points by at most so much of how far they do from its middle: a tilt
/// goes on to the rim, and noise has a tail.
const RIM: f64 = 0.4;

/// Where two sections say how the middle goes on to an end, by the length from it.
const MIDDLES: [f64; 2] = [0.08, 0.16];

/// A clean cloud.
#[derive(Debug)]
pub(super) struct Cloud {
    points: Vec<[f64; 3]>,
    /// The middle of the points of each cell.
    cells: Vec<[f64; 3]>,
}

/// The clean cloud of some points.
pub(super) fn clean(points: Vec<[f64; 3]>, told: &mut Vec<Repair>) -> Result<Cloud, ShapeFault> {
    let given = points.len();
    let mut points: Vec<[f64; 3]> = points.into_iter().filter(|point| is_number(*point)).collect();
    let bad = given - points.len();
    if bad as f64 > MOST_BAD * given as f64 {
        return Err(ShapeFault::NotNumbers { bad, points: given });
    }
    if bad > 0 {
        told.push(Repair::NoNumbers { points: bad });
    }
    let same = welded(&points, told);
    let mut first = (0_u32..).zip(same).map(|(n, same)| n == same);
    points.retain(|_| first.next().unwrap_or_default());
    let (mut pieces, all) = (0, points.len());
    for _ in 0..LOOKS {
        if points.len() < LEAST_POINTS {
            return Err(ShapeFault::TooFew { least: LEAST_POINTS, points: points.len() });
        }
        let grid = Grid::of(&points);
        let (largest, member) = grid.largest(points.len());
        if largest.second > MOST_SECOND {
            return Err(ShapeFault::Several { share: largest.second });
        }
        if largest.others == 0 {
            let share = 1.0 - points.len() as f64 / all as f64;
            if pieces > 0 {
                told.push(Repair::Dropped { pieces, share });
            }
            return Ok(Cloud { cells: grid.middles(&points), points });
        }
        pieces += largest.others;
        let mut member = member.into_iter();
        points.retain(|_| member.next().unwrap_or_default());
    }
    // What falls apart again and again is no surface.
    Err(ShapeFault::Several { share: 1.0 })
}

/// Points in cells.
struct Grid {
    /// Each cell's number and one of its points, cell by cell.
    order: Vec<(u32, u32)>,
}

impl Grid {
    /// A cell's number has so many bits for each of its three places.
    const BITS: u32 = 8;

    fn of(points: &[[f64; 3]]) -> Self {
        let mut bounds = [[f64::INFINITY, f64::NEG_INFINITY]; 3];
        for point in points {
            for (bound, c) in bounds.iter_mut().zip(point) {
                *bound = [bound[0].min(*c), bound[1].max(*c)];
            }
        }
        let widest = bounds.iter().map(|[low, high]| high - low).fold(0.0, f64::max);
        let cell = if widest > 0.0 { widest / CELLS } else { 1.0 };
        let number = |point: &[f64; 3]| {
            let places = [0, 1, 2].map(|k| place((point[k] - bounds[k][0]) / cell));
            places[0] << (2 * Self::BITS) | places[1] << Self::BITS | places[2]
        };
        let mut order: Vec<(u32, u32)> = points.iter().map(number).zip(0..).collect();
        order.sort_unstable();
        Self { order }
    }

    fn cells(&self) -> impl Iterator<Item = &[(u32, u32)]> {
        self.order.chunk_by(|a, b| a.0 == b.0)
    }

    /// The piece of the most points, and for each point whether it belongs to it.
    fn largest(&self, points: usize) -> (Largest, Vec<bool>) {
        let numbers: Vec<u32> = self.cells().map(|cell| cell[0].0).collect();
        let mut pieces = Pieces::alone(u32::try_from(numbers.len()).unwrap_or(u32::MAX));
        let near: Vec<i32> = (-1..=1)
            .flat_map(|x| (-1..=1).flat_map(move |y| (-1..=1).map(move |z| [x, y, z])))
            .map(|[x, y, z]| (x << (2 * Self::BITS)) + (y << Self::BITS) + z)
            .collect();
        for (n, number) in (0_u32..).zip(&numbers) {
            for step in &near {
                // Places begin at 1 and end before the last, so that no step leaves its bits.
                let other = number.wrapping_add_signed(*step);
                if let Ok(other) = numbers.binary_search(&other) {
                    pieces.join(n, u32::try_from(other).unwrap_or(n));
                }
            }
        }
        let mut weights = vec![0.0; numbers.len()];
        for (n, cell) in (0_u32..).zip(self.cells()) {
            weights[pieces.of(n) as usize] += cell.len() as f64;
        }
        let none = Largest { piece: 0, share: 0.0, second: 0.0, others: 0 };
        let largest = Largest::of(&weights).unwrap_or(none);
        let mut member = vec![false; points];
        for (n, cell) in (0_u32..).zip(self.cells()) {
            let own = pieces.of(n) == largest.piece;
            for (_, point) in cell {
                member[*point as usize] = own;
            }
        }
        (largest, member)
    }

    fn middles(&self, points: &[[f64; 3]]) -> Vec<[f64; 3]> {
        let middle = |cell: &[(u32, u32)]| {
            let of = |k: usize| cell.iter().map(|(_, n)| points[*n as usize][k]).sum::<f64>();
            [of(0), of(1), of(2)].map(|sum| sum / cell.len() as f64)
        };
        self.cells().map(middle).collect()
    }
}

/// The place of a cell, from 1.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "between 0 and 50; `as` saturates, and what is no number becomes 0"
)]
fn place(cells: f64) -> u32 {
    (cells as u32).min(250) + 1
}

/// A cloud in its pose, by station.
#[derive(Debug)]
pub(super) struct PlacedCloud {
    points: Vec<[f64; 3]>,
}

impl Scan for Cloud {
    type Placed<'a> = PlacedCloud;

    /// By cells, so that the side nearer the scanner weighs no more.
    fn spread(&self) -> ([f64; 3], [[f64; 3]; 3]) {
        spread(|| self.cells.iter().map(|cell| (1.0, *cell)))
    }

    fn placed(&self, pose: &Pose) -> PlacedCloud {
        let mut points: Vec<[f64; 3]> = self.points.iter().map(|point| pose.of(*point)).collect();
        points.sort_unstable_by(|a, b| a[2].total_cmp(&b[2]));
        PlacedCloud { points }
    }

    fn holes(&self, _: &Pose, _: f64, _: &mut Vec<Repair>) -> Result<(), ShapeFault> {
        Ok(())
    }
}

impl PlacedCloud {
    fn between(&self, low: f64, high: f64) -> &[[f64; 3]] {
        let from = self.points.partition_point(|point| point[2] < low);
        let to = self.points.partition_point(|point| point[2] <= high);
        self.points.get(from..to).unwrap_or_default()
    }

    /// Where the middle goes to at an end.
    fn middle(&self, low: bool, half: f64) -> Option<[f64; 2]> {
        let [first, last] = self.extent();
        let at = |share: f64| {
            let by = share * (last - first);
            let ring = self.ring(if low { first + by } else { last - by }, half).ok()?;
            Some(ring.centre)
        };
        let (near, far) = (at(MIDDLES[0])?, at(MIDDLES[1])?);
        Some([2.0 * near[0] - far[0], 2.0 * near[1] - far[1]])
    }
}

impl Placed for PlacedCloud {
    fn extent(&self) -> [f64; 2] {
        let station = |point: Option<&[f64; 3]>| point.map_or(0.0, |point| point[2]);
        [station(self.points.first()), station(self.points.last())]
    }

    /// From the thinnest slab that shows enough: a bowed or tapered side moves least over it.
    fn ring(&self, z: f64, half: f64) -> Result<Ring, NoRing> {
        let of = |half: f64| {
            let flat: Vec<[f64; 2]> =
                self.between(z - half, z + half).iter().map(|point| [point[0], point[1]]).collect();
            (flat.len() >= ENOUGH, Ring::of_points(&flat))
        };
        for half in [half / 8.0, half / 4.0, half / 2.0] {
            if let (true, Ok(ring)) = of(half)
                && ring.gap.rays == 0
            {
                return Ok(ring);
            }
        }
        match of(half).1 {
            Ok(ring) if ring.is_seen() => Ok(ring),
            narrow => of(2.0 * half).1.or(narrow),
        }
    }

    /// The plane `z = a + b x + c y` nearest to the outermost point of each side, where it is farthest in, or where the
    /// face of the end has been passed.
    fn end(&self, low: bool, expected: &Expected, half: f64) -> Option<f64> {
        let [first, last] = self.extent();
        let reach = END_REACH * (last - first);
        let centre = self.middle(low, half)?;
        let near =
            if low { self.between(first, first + reach) } else { self.between(last - reach, last) };
        let mut outermost = [f64::INFINITY; SIDES];
        let mut inner = Vec::new();
        for [x, y, z] in near {
            let by = if low { z - first } else { last - z };
            let (x, y) = (x - centre[0], y - centre[1]);
            let (side, share) = (side(x, y), norm(x, y));
            let share = share / expected.at(side * RAYS / SIDES);
            if share >= SIDE {
                outermost[side] = outermost[side].min(by);
            } else if share < INNER {
                inner.push(by);
            }
        }
        let mut sums = [0.0; 4];
        for (n, by) in outermost.iter().enumerate().filter(|(_, by)| by.is_finite()) {
            let angle = std::f64::consts::TAU * n as f64 / SIDES as f64;
            let (sin, cos) = crate::trig::sin_cos(angle);
            for (sum, part) in sums.iter_mut().zip([1.0, *by, by * cos, by * sin]) {
                *sum += part;
            }
        }
        let [count, sum, cos, sin] = sums;
        // Sides that nothing was seen of say nothing; where many are, so does the slope.
        let slope = if count > 0.9 * SIDES as f64 { 2.0 * norm(cos, sin) / count } else { 0.0 };
        let plane = sum / count + slope;
        inner.retain(|by| *by <= plane + FACE * (last - first));
        inner.sort_unstable_by(f64::total_cmp);
        let face = face_end(inner.len()).and_then(|n| Some((*inner.get(n)?, *inner.get(n / 2)?)));
        let by = face.map_or(plane, |(end, middle)| plane.max(end + RIM * (end - middle)));
        by.is_finite().then_some(if low { first + by } else { last - by })
    }

    fn keep(&mut self, [low, high]: [f64; 2]) {
        self.points.retain(|point| low < point[2] && point[2] < high);
    }
}

/// The number of the point of a face, from the outside in, beyond which there is only noise.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "between 0 and the number of points; `as` saturates"
)]
fn face_end(points: usize) -> Option<usize> {
    points.checked_sub(1).map(|last| (MOST_OF_FACE * last as f64) as usize)
}

/// The side on which a point lies.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "between 0 and 36; `as` saturates, and what is no number becomes 0"
)]
fn side(x: f64, y: f64) -> usize {
    let turn = atan2(y, x).rem_euclid(std::f64::consts::TAU) / std::f64::consts::TAU;
    (turn * SIDES as f64).round() as usize % SIDES
}
