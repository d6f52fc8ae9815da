//! A surface of triangles made clean: nothing twice, one piece, all facing outward, its holes known.
//!
//! # Cost
//! Linear in points and triangles but for one sort of the points; neighbours are found in buckets by the lower corner
//! of an edge.

use super::fault::{ShapeFault, WhichEnd};
use super::pieces::{Largest, Pieces};
use super::pose::{Pose, Scan};
use super::slice::PlacedMesh;
use super::{Mesh, Repair};
use crate::frame::dot;
use std::collections::BTreeMap;

/// Fewer triangles are no scan of a log.
const LEAST_TRIANGLES: usize = 24;

/// The most points without numbers, of all.
const MOST_BAD: f64 = 0.01;

/// A second piece of more than this share of the largest is another thing, not dust.
const MOST_SECOND: f64 = 0.25;

/// The most edges, of all, at which a surface does not go on singly.
const MOST_TANGLED: f64 = 0.02;

/// The most of the side that may be missing: what a slice bridges without a scan of a log becoming a guess.
const MOST_MISSING: f64 = 0.03;

/// A hole that faces along the axis by at least this cosine, near an end, is that end left open.
const FACES_END: f64 = 0.7;

/// How near an end, by the length.
const NEAR_END: f64 = 0.15;

/// Holes smaller than this share of the side are not worth a word.
const WORTH_A_WORD: f64 = 1e-6;

/// No neighbour: a hole begins here.
const HOLE: u32 = u32::MAX;

/// More than one neighbour.
const TANGLE: u32 = u32::MAX - 1;

/// Larger coordinates are no numbers: their squares do not fit.
const LARGEST: f64 = 1e12;

/// A clean surface.
#[derive(Debug)]
pub(super) struct Surface {
    points: Vec<[f64; 3]>,
    triangles: Vec<[u32; 3]>,
    area: f64,
    holes: Vec<Hole>,
}

/// A hole in the surface.
#[derive(Clone, Copy, Debug)]
struct Hole {
    middle: [f64; 3],
    /// Square to it, as long as its area.
    vector: [f64; 3],
}

/// The clean surface of a mesh.
pub(super) fn clean(mesh: Mesh, told: &mut Vec<Repair>) -> Result<Surface, ShapeFault> {
    let Mesh { points, triangles } = mesh;
    let bad = points.iter().filter(|point| !is_number(**point)).count();
    if bad as f64 > MOST_BAD * points.len() as f64 {
        return Err(ShapeFault::NotNumbers { bad, points: points.len() });
    }
    if bad > 0 {
        told.push(Repair::NoNumbers { points: bad });
    }
    let mut named = vec![false; points.len()];
    for corner in triangles.iter().flatten() {
        if let Some(named) = named.get_mut(*corner as usize) {
            *named = true;
        }
    }
    let unused = named.iter().filter(|named| !**named).count();
    if unused > 0 {
        told.push(Repair::Unused { points: unused });
    }
    let same = welded(&points, told);
    let good = |corner: u32| points.get(corner as usize).is_some_and(|point| is_number(*point));
    let given = triangles.len();
    let mut triangles: Vec<[u32; 3]> = triangles
        .into_iter()
        .filter(|triangle| triangle.iter().all(|corner| good(*corner)))
        .map(|triangle| triangle.map(|corner| same[corner as usize]))
        .filter(|[a, b, c]| a != b && b != c && c != a)
        .collect();
    let mut edges = Edges::of(&triangles, points.len());
    if edges.tangled > 0 && once(&mut triangles) {
        edges = Edges::of(&triangles, points.len());
    }
    if given > triangles.len() {
        told.push(Repair::Degenerate { triangles: given - triangles.len() });
    }
    let before = triangles.len();
    largest(&points, &mut triangles, told)?;
    if triangles.len() < before {
        edges = Edges::of(&triangles, points.len());
    }
    if triangles.len() < LEAST_TRIANGLES {
        let points = triangles.iter().flatten().max().map_or(0, |last| *last as usize + 1);
        return Err(ShapeFault::TooFew { least: LEAST_TRIANGLES, points });
    }
    let contrary = edges.face_alike(&points, &mut triangles, told);
    let tangled = edges.tangled + contrary;
    let share = tangled as f64 / edges.count as f64;
    if share > MOST_TANGLED {
        return Err(ShapeFault::Tangled { edges: tangled, share });
    }
    if tangled > 0 {
        told.push(Repair::Tangled { edges: tangled });
    }
    let holes = edges.holes(&points, &triangles);
    let area = triangles.iter().map(|triangle| size(area_of(&points, triangle))).sum();
    let (points, triangles) = used(&points, triangles);
    Ok(Surface { points, triangles, area, holes })
}

/// Whether all coordinates are numbers that can be reckoned with.
pub(super) fn is_number(point: [f64; 3]) -> bool {
    point.iter().all(|c| c.abs() <= LARGEST)
}

/// For every point the first that is at the same place.
///
/// Points of the same place are exactly that: files that name a corner once for every triangle write it with the same
/// digits each time.
pub(super) fn welded(points: &[[f64; 3]], told: &mut Vec<Repair>) -> Vec<u32> {
    // By a number that equal points share, so that the sort moves little.
    let mixed = |point: &[f64; 3]| {
        point.iter().fold(0_u64, |mixed, c| {
            // Zero is zero, whatever its sign.
            (mixed.rotate_left(23) ^ (c + 0.0).to_bits()).wrapping_mul(0x9e37_79b9_7f4a_7c15)
        })
    };
    let mut order: Vec<(u64, u32)> = points.iter().map(mixed).zip(0..).collect();
    order.sort_unstable();
    let mut same: Vec<u32> = (0..).take(points.len()).collect();
    let mut given_up = 0;
    for group in order.chunk_by(|a, b| a.0 == b.0) {
        for (n, (_, point)) in group.iter().enumerate().skip(1) {
            // Numbers of the same bits but for the sign of zero; none here is without a number.
            let at = |point: u32| points[point as usize].map(|c| (c + 0.0).to_bits());
            let first =
                group[..n].iter().map(|(_, first)| *first).find(|first| at(*first) == at(*point));
            if let Some(first) = first {
                same[*point as usize] = same[first as usize];
                given_up += 1;
            }
        }
    }
    if given_up > 0 {
        told.push(Repair::Welded { points: given_up });
    }
    same
}

/// Leaves out triangles that are there twice, whichever way they face; whether there were any.
fn once(triangles: &mut Vec<[u32; 3]>) -> bool {
    let mut order: Vec<([u32; 3], usize)> = triangles
        .iter()
        .map(|triangle| {
            let mut corners = *triangle;
            corners.sort_unstable();
            corners
        })
        .zip(0..)
        .collect();
    order.sort_unstable();
    let twice: Vec<usize> =
        order.windows(2).filter(|pair| pair[0].0 == pair[1].0).map(|pair| pair[1].1).collect();
    let mut gone = vec![false; triangles.len()];
    for n in &twice {
        gone[*n] = true;
    }
    let mut gone = gone.into_iter();
    triangles.retain(|_| !gone.next().unwrap_or_default());
    !twice.is_empty()
}

/// Leaves only the triangles that hang together with most of the surface.
fn largest(
    points: &[[f64; 3]],
    triangles: &mut Vec<[u32; 3]>,
    told: &mut Vec<Repair>,
) -> Result<(), ShapeFault> {
    let mut pieces = Pieces::alone(u32::try_from(points.len()).unwrap_or(u32::MAX));
    for [a, b, c] in triangles.iter() {
        pieces.join(*a, *b);
        pieces.join(*b, *c);
    }
    let mut areas = vec![0.0; points.len()];
    for triangle in triangles.iter() {
        areas[pieces.of(triangle[0]) as usize] += size(area_of(points, triangle));
    }
    let least = || ShapeFault::TooFew { least: LEAST_TRIANGLES, points: points.len() };
    let Largest { piece, share, second, others } = Largest::of(&areas).ok_or_else(least)?;
    if second > MOST_SECOND {
        return Err(ShapeFault::Several { share: second });
    }
    triangles.retain(|triangle| pieces.of(triangle[0]) == piece);
    if others > 0 {
        told.push(Repair::Dropped { pieces: others, share: 1.0 - share });
    }
    Ok(())
}

/// Half the product of two sides: as long as the triangle's area, square to it.
fn area_of(points: &[[f64; 3]], triangle: &[u32; 3]) -> [f64; 3] {
    let [a, b, c] = triangle.map(|corner| points[corner as usize]);
    half_cross(minus(b, a), minus(c, a))
}

fn half_cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [
        (a[1] * b[2] - a[2] * b[1]) / 2.0,
        (a[2] * b[0] - a[0] * b[2]) / 2.0,
        (a[0] * b[1] - a[1] * b[0]) / 2.0,
    ]
}

fn minus(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn size(a: [f64; 3]) -> f64 {
    dot(a, a).sqrt()
}

/// Only the points that triangles use.
fn used(points: &[[f64; 3]], mut triangles: Vec<[u32; 3]>) -> (Vec<[f64; 3]>, Vec<[u32; 3]>) {
    let mut number = vec![u32::MAX; points.len()];
    let mut kept = Vec::new();
    for corner in triangles.iter_mut().flatten() {
        let old = *corner as usize;
        if number[old] == u32::MAX {
            number[old] = u32::try_from(kept.len()).unwrap_or(u32::MAX);
            kept.push(points[old]);
        }
        *corner = number[old];
    }
    (kept, triangles)
}

/// What lies across each side of each triangle: side `k` of a triangle runs from its corner `k` to the next, and its
/// number is three times the triangle's and `k`.
struct Edges {
    across: Vec<u32>,
    count: usize,
    tangled: usize,
}

impl Edges {
    fn of(triangles: &[[u32; 3]], points: usize) -> Self {
        let sides = || {
            let ends = triangles.iter().flat_map(|[a, b, c]| [(*a, *b), (*b, *c), (*c, *a)]);
            ends.map(|(a, b)| (a.min(b), a.max(b))).zip(0_u32..)
        };
        // In buckets by the lower corner.
        let mut starts = vec![0_usize; points + 1];
        for ((low, _), _) in sides() {
            starts[low as usize + 1] += 1;
        }
        for n in 0..points {
            starts[n + 1] += starts[n];
        }
        let mut next = starts.clone();
        let mut bucket = vec![(0, 0); 3 * triangles.len()];
        for ((low, high), side) in sides() {
            let place = &mut next[low as usize];
            bucket[*place] = (high, side);
            *place += 1;
        }
        let mut edges = Self { across: vec![HOLE; 3 * triangles.len()], count: 0, tangled: 0 };
        for ends in starts.windows(2) {
            let bucket = &mut bucket[ends[0]..ends[1]];
            bucket.sort_unstable();
            for edge in bucket.chunk_by(|a, b| a.0 == b.0) {
                edges.count += 1;
                match edge {
                    [_] => {}
                    [(_, a), (_, b)] => {
                        edges.across[*a as usize] = *b;
                        edges.across[*b as usize] = *a;
                    }
                    many => {
                        edges.tangled += 1;
                        for (_, side) in many {
                            edges.across[*side as usize] = TANGLE;
                        }
                    }
                }
            }
        }
        edges
    }

    /// Turns triangles until all face as their neighbours do, and outward; how many edges still have two that face
    /// each other.
    fn face_alike(
        &self,
        points: &[[f64; 3]],
        triangles: &mut [[u32; 3]],
        told: &mut Vec<Repair>,
    ) -> usize {
        let mut turned: Vec<Option<bool>> = vec![None; triangles.len()];
        let forward = |side: u32| {
            let triangle = triangles[side as usize / 3];
            let k = side as usize % 3;
            triangle[k] < triangle[(k + 1) % 3]
        };
        let (mut contrary, mut sum) = (0, 0);
        let (mut patch, mut inverted) = (Vec::new(), false);
        for start in 0..triangles.len() {
            if turned[start].is_some() {
                continue;
            }
            turned[start] = Some(false);
            patch.clear();
            patch.push(start);
            let mut at = 0;
            while let Some(triangle) = patch.get(at).copied() {
                at += 1;
                let own = turned[triangle].unwrap_or_default();
                for side in (0_u32..3).map(|k| u32::try_from(triangle).unwrap_or(0) * 3 + k) {
                    let other = self.across[side as usize];
                    if other == HOLE || other == TANGLE {
                        continue;
                    }
                    // Neighbours that face alike run along their common edge in opposite directions.
                    let right = own ^ (forward(side) == forward(other));
                    match &mut turned[other as usize / 3] {
                        Some(known) => contrary += usize::from(*known != right),
                        unknown => {
                            *unknown = Some(right);
                            patch.push(other as usize / 3);
                        }
                    }
                }
            }
            let from = points[triangles[start][0] as usize];
            let outward: f64 = patch
                .iter()
                .map(|n| {
                    let volume = six_volumes(points, &triangles[*n], from);
                    if turned[*n] == Some(true) { -volume } else { volume }
                })
                .sum();
            if outward < 0.0 {
                for n in &patch {
                    turned[*n] = turned[*n].map(|turned| !turned);
                }
            }
            // Where most of it is turned, all of it faced inward, and the others were the odd ones.
            let odd = patch.iter().filter(|n| turned[**n] == Some(true)).count();
            inverted |= odd * 2 > patch.len();
            sum += odd.min(patch.len() - odd);
        }
        for (triangle, turned) in triangles.iter_mut().zip(&turned) {
            if *turned == Some(true) {
                triangle.swap(1, 2);
            }
        }
        if inverted {
            told.push(Repair::Inverted);
        }
        if sum > 0 {
            told.push(Repair::Turned { triangles: sum });
        }
        // Each was met from both sides.
        contrary / 2
    }

    /// The holes, each with the vector of its area.
    fn holes(&self, points: &[[f64; 3]], triangles: &[[u32; 3]]) -> Vec<Hole> {
        let rim: Vec<(u32, u32)> = (0..)
            .zip(&self.across)
            .filter(|(_, across)| **across == HOLE)
            .map(|(side, _): (usize, _)| {
                (triangles[side / 3][side % 3], triangles[side / 3][(side + 1) % 3])
            })
            .collect();
        let mut corners: Vec<u32> = rim.iter().flat_map(|(a, b)| [*a, *b]).collect();
        corners.sort_unstable();
        corners.dedup();
        let number = |corner: u32| {
            u32::try_from(corners.partition_point(|known| *known < corner)).unwrap_or_default()
        };
        let mut pieces = Pieces::alone(u32::try_from(corners.len()).unwrap_or(u32::MAX));
        for (a, b) in &rim {
            pieces.join(number(*a), number(*b));
        }
        let mut sums: BTreeMap<u32, (f64, [f64; 3])> = BTreeMap::new();
        for (a, _) in &rim {
            let (count, sum) = sums.entry(pieces.of(number(*a))).or_default();
            let at = points[*a as usize];
            (*count, *sum) = (*count + 1.0, [sum[0] + at[0], sum[1] + at[1], sum[2] + at[2]]);
        }
        let mut holes: BTreeMap<u32, Hole> = sums
            .into_iter()
            .map(|(piece, (count, sum))| {
                (piece, Hole { middle: sum.map(|c| c / count), vector: [0.0; 3] })
            })
            .collect();
        for (a, b) in &rim {
            if let Some(hole) = holes.get_mut(&pieces.of(number(*a))) {
                let [from, to] = [*a, *b].map(|corner| minus(points[corner as usize], hole.middle));
                let part = half_cross(from, to);
                hole.vector = [0, 1, 2].map(|k| hole.vector[k] + part[k]);
            }
        }
        holes.into_values().collect()
    }
}

/// Six times the volume between a triangle and a point, positive where the triangle faces away from it.
fn six_volumes(points: &[[f64; 3]], triangle: &[u32; 3], from: [f64; 3]) -> f64 {
    let [a, b, c] = triangle.map(|corner| minus(points[corner as usize], from));
    2.0 * dot(half_cross(a, b), c)
}

impl Scan for Surface {
    type Placed<'a> = PlacedMesh<'a>;

    /// By area, so that a scanner's denser patches weigh no more.
    fn spread(&self) -> ([f64; 3], [[f64; 3]; 3]) {
        let parts = || {
            self.triangles.iter().map(|triangle| {
                let [a, b, c] = triangle.map(|corner| self.points[corner as usize]);
                (
                    size(area_of(&self.points, triangle)),
                    [0, 1, 2].map(|k| (a[k] + b[k] + c[k]) / 3.0),
                )
            })
        };
        spread(parts)
    }

    fn placed(&self, pose: &Pose) -> PlacedMesh<'_> {
        PlacedMesh::new(self.points.iter().map(|point| pose.of(*point)).collect(), &self.triangles)
    }

    fn holes(&self, pose: &Pose, length: f64, told: &mut Vec<Repair>) -> Result<(), ShapeFault> {
        let (mut open, mut missing, mut count) = ([false; 2], 0.0, 0);
        for hole in &self.holes {
            let (at, vector) = (pose.of(hole.middle)[2], pose.direction(hole.vector));
            let area = size(vector);
            let near = [at < NEAR_END * length, at > (1.0 - NEAR_END) * length];
            if vector[2].abs() >= FACES_END * area && near != [false; 2] {
                open = [open[0] || near[0], open[1] || near[1]];
            } else if area > WORTH_A_WORD * self.area {
                (missing, count) = (missing + area, count + 1);
            }
        }
        let share = missing / (self.area + missing);
        if share > MOST_MISSING {
            return Err(ShapeFault::NotClosed { share, most: MOST_MISSING });
        }
        let ends = [WhichEnd::Small, WhichEnd::Butt].into_iter().zip(open);
        told.extend(ends.filter(|(_, open)| *open).map(|(end, _)| Repair::Capped { end }));
        if count > 0 {
            told.push(Repair::Bridged { holes: count, share });
        }
        Ok(())
    }
}

/// Centre and spread of parts that weigh something.
pub(super) fn spread<I: Iterator<Item = (f64, [f64; 3])>>(
    parts: impl Fn() -> I,
) -> ([f64; 3], [[f64; 3]; 3]) {
    let (mut all, mut sum) = (0.0, [0.0; 3]);
    for (weight, at) in parts() {
        (all, sum) = (all + weight, [0, 1, 2].map(|k| sum[k] + weight * at[k]));
    }
    let centre = sum.map(|c| c / all);
    let mut spread = [[0.0; 3]; 3];
    for (weight, at) in parts() {
        let off = minus(at, centre);
        spread = [0, 1, 2].map(|i| [0, 1, 2].map(|k| spread[i][k] + weight * off[i] * off[k]));
    }
    (centre, spread)
}
