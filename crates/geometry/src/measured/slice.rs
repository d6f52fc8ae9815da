//! Sections of a surface of triangles.
//!
//! # Method
//! The triangles lie in bins along the axis, so that a section looks at few of them. A corner on the plane counts as
//! above it: so every triangle that meets the plane has one corner on one side and two on the other, and its segment
//! runs between two of its edges. Segments that end on the same edge are joined there, without a tolerance.
//!
//! The section is the closed outline of the greatest area: what lies within it is a hollow or a scanner's dust. Where the
//! surface has a hole there, the open parts are taken together and bridged ([`Ring::of_parts`]).

use super::pose::{Expected, Placed};
use super::ring::{NoRing, Ring};
use crate::log::section::area;
use crate::trig::norm;

/// Bins along the axis at first; halved until triangles lie in few of them each.
const BINS: usize = 512;

/// Bins that a triangle may lie in on average.
const BINS_EACH: usize = 4;

/// The open parts of a section count where they are longer than this share of its longest closed outline.
const OPEN: f64 = 0.3;

/// Parts shorter than this share of the longest are dust.
const DUST: f64 = 0.02;

/// Steps of the search for a whole section near an end, by the mean radius there.
const END_STEP: f64 = 0.01;

/// The most steps of that search.
const END_STEPS: f64 = 300.0;

/// How much further in a section is taken to tell a notch in the rim from a crack, by the mean radius.
const FURTHER: f64 = 0.1;

/// A ray shorter than this share of the same one further in meets a notch.
const NOTCH: f64 = 0.85;

/// How far from an end a whole section is looked for, by the length.
const END_REACH: f64 = 0.25;

/// No partner.
const NONE: u32 = u32::MAX;

/// A surface in its pose.
#[derive(Debug)]
pub(super) struct PlacedMesh<'a> {
    points: Vec<[f64; 3]>,
    triangles: &'a [[u32; 3]],
    low: f64,
    high: f64,
    /// For each bin where its triangles begin among the members.
    starts: Vec<usize>,
    members: Vec<u32>,
}

/// A run of segments, each beginning where the one before it ends.
#[derive(Debug)]
struct Chain {
    points: Vec<[f64; 2]>,
    closed: bool,
}

impl<'a> PlacedMesh<'a> {
    /// The surface with its points as a pose sees them.
    pub(super) fn new(points: Vec<[f64; 3]>, triangles: &'a [[u32; 3]]) -> Self {
        let mut placed = Self {
            points,
            triangles,
            low: 0.0,
            high: 0.0,
            starts: Vec::new(),
            members: Vec::new(),
        };
        let stations = placed.points.iter().map(|point| point[2]);
        (placed.low, placed.high) = stations
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), z| (low.min(z), high.max(z)));
        let mut bins = BINS;
        while bins > 1 && placed.spans(bins) > BINS_EACH * triangles.len() {
            bins /= 2;
        }
        let mut counts = vec![0; bins + 1];
        for triangle in triangles {
            let (first, last) = placed.bins_of(triangle, bins);
            for bin in first..=last {
                counts[bin + 1] += 1;
            }
        }
        for bin in 0..bins {
            counts[bin + 1] += counts[bin];
        }
        let mut next = counts.clone();
        placed.members = vec![0; counts[bins]];
        for (n, triangle) in (0_u32..).zip(triangles) {
            let (first, last) = placed.bins_of(triangle, bins);
            for place in &mut next[first..=last] {
                placed.members[*place] = n;
                *place += 1;
            }
        }
        placed.starts = counts;
        placed
    }

    fn spans(&self, bins: usize) -> usize {
        let span = |triangle| {
            let (first, last) = self.bins_of(triangle, bins);
            last - first + 1
        };
        self.triangles.iter().map(span).sum()
    }

    fn corners(&self, triangle: &[u32; 3]) -> [[f64; 3]; 3] {
        triangle.map(|corner| self.points[corner as usize])
    }

    fn bins_of(&self, triangle: &[u32; 3], bins: usize) -> (usize, usize) {
        let [a, b, c] = self.corners(triangle).map(|corner| corner[2]);
        (self.bin(a.min(b).min(c), bins), self.bin(a.max(b).max(c), bins))
    }

    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between 0 and the number of bins; `as` saturates, and what is no number becomes 0"
    )]
    fn bin(&self, z: f64, bins: usize) -> usize {
        let share = (z - self.low) / (self.high - self.low);
        ((share * bins as f64) as usize).min(bins - 1)
    }

    /// The outlines at a station.
    fn chains(&self, z: f64) -> Vec<Chain> {
        if !(self.low..=self.high).contains(&z) {
            return Vec::new();
        }
        let bin = self.bin(z, self.starts.len() - 1);
        let members = &self.members[self.starts[bin]..self.starts[bin + 1]];
        // Two ends to each segment: the edge on which it lies, and the end's number.
        let (mut ends, mut points) = (Vec::new(), Vec::new());
        for triangle in members.iter().map(|n| self.triangles[*n as usize]) {
            let above = self.corners(&triangle).map(|corner| corner[2] >= z);
            let alone = match above {
                [a, b, c] if a == b && b == c => continue,
                [a, b, c] if b == c && a != b => 0,
                [a, _, c] if a == c => 1,
                _ => 2,
            };
            for other in [(alone + 1) % 3, (alone + 2) % 3] {
                let (a, b) =
                    (triangle[alone].min(triangle[other]), triangle[alone].max(triangle[other]));
                let end = u32::try_from(points.len()).unwrap_or(NONE);
                ends.push((u64::from(a) << 32 | u64::from(b), end));
                points.push(self.on_edge(a, b, z));
            }
        }
        ends.sort_unstable();
        let mut partner = vec![NONE; points.len()];
        for edge in ends.chunk_by(|a, b| a.0 == b.0) {
            for pair in edge.chunks_exact(2) {
                partner[pair[0].1 as usize] = pair[1].1;
                partner[pair[1].1 as usize] = pair[0].1;
            }
        }
        joined(&points, &partner)
    }

    fn on_edge(&self, a: u32, b: u32, z: f64) -> [f64; 2] {
        let (a, b) = (self.points[a as usize], self.points[b as usize]);
        let share = (z - a[2]) / (b[2] - a[2]);
        [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]
    }

    /// Whether the section at a station is as large all round as is expected there, and nowhere much smaller than the
    /// one a little further in: the rim of a rough face has notches that end with it.
    fn is_whole(&self, z: f64, further: f64, expected: &Expected) -> bool {
        let (Ok(ring), Ok(next)) = (self.ring(z, 0.0), self.ring(further, 0.0)) else {
            return false;
        };
        let notched = ring.radius.iter().zip(&next.radius).any(|(own, next)| *own < NOTCH * next);
        expected.is_met(&ring) && !notched
    }
}

/// The ends of segments put together: end `2 n` and end `2 n + 1` are those of segment `n`.
fn joined(points: &[[f64; 2]], partner: &[u32]) -> Vec<Chain> {
    let mut seen = vec![false; points.len() / 2];
    let mut chains = Vec::new();
    let mut walk = |start: usize| {
        let mut chain = Chain { points: Vec::new(), closed: false };
        let mut end = start;
        while !seen[end / 2] {
            seen[end / 2] = true;
            chain.points.push(points[end]);
            let far = end ^ 1;
            if partner[far] == NONE {
                chain.points.push(points[far]);
                return chains.push(chain);
            }
            end = partner[far] as usize;
        }
        chain.closed = true;
        if chain.points.len() > 2 {
            chains.push(chain);
        }
    };
    // Open ones from their ends, then what is left goes round.
    for open in (0..partner.len()).filter(|end| partner[*end] == NONE) {
        walk(open);
    }
    for segment in 0..partner.len() / 2 {
        walk(2 * segment);
    }
    chains.retain(|chain| chain.points.len() > 1);
    chains
}

fn long(points: &[[f64; 2]]) -> f64 {
    points.windows(2).map(|pair| norm(pair[1][0] - pair[0][0], pair[1][1] - pair[0][1])).sum()
}

impl Placed for PlacedMesh<'_> {
    fn extent(&self) -> [f64; 2] {
        [self.low, self.high]
    }

    fn ring(&self, z: f64, _half: f64) -> Result<Ring, NoRing> {
        let (closed, open): (Vec<Chain>, Vec<Chain>) =
            self.chains(z).into_iter().partition(|chain| chain.closed);
        let outer = closed
            .into_iter()
            .max_by(|a, b| area(&a.points).abs().total_cmp(&area(&b.points).abs()));
        let lengths: Vec<f64> = open.iter().map(|chain| long(&chain.points)).collect();
        let (longest, all) =
            lengths.iter().fold((0.0_f64, 0.0), |(longest, all), l| (longest.max(*l), all + l));
        if let Some(outer) = outer
            && all <= OPEN * long(&outer.points)
        {
            return Ring::of_loop(&outer.points);
        }
        let parts = open.into_iter().zip(lengths).filter(|(_, l)| *l >= DUST * longest);
        Ring::of_parts(&parts.map(|(chain, _)| chain.points).collect::<Vec<_>>())
    }

    /// From the end inward until the section is whole, and then back by halves.
    fn end(&self, low: bool, expected: &Expected, _half: f64) -> Option<f64> {
        let step =
            (END_STEP * expected.mean_radius()).max(END_REACH * (self.high - self.low) / END_STEPS);
        let inward = |by: f64| if low { self.low + by } else { self.high - by };
        let further = FURTHER * expected.mean_radius();
        let is_whole = |by: f64| self.is_whole(inward(by), inward(by + further), expected);
        let (mut part, mut whole) = (0.0, 0.1 * step);
        while !is_whole(whole) {
            part = whole;
            whole += step;
            if whole > END_REACH * (self.high - self.low) {
                return None;
            }
        }
        if part > 0.0 {
            for _ in 0..4 {
                let middle = (part + whole) / 2.0;
                if is_whole(middle) {
                    whole = middle;
                } else {
                    part = middle;
                }
            }
        }
        Some(inward(whole))
    }

    fn keep(&mut self, _ends: [f64; 2]) {}
}

#[cfg(test)]
mod tests {
    use super::PlacedMesh;
    use crate::measured::pose::Placed;

    /// A square prism of side 2 and length 10 along z, without its caps; corners doubled at a few stations.
    fn prism() -> (Vec<[f64; 3]>, Vec<[u32; 3]>) {
        let mut points = Vec::new();
        for z in [0.0, 5.0, 10.0] {
            points.extend([[-1.0, -1.0, z], [1.0, -1.0, z], [1.0, 1.0, z], [-1.0, 1.0, z]]);
        }
        let mut triangles = Vec::new();
        for level in [0, 4] {
            for k in 0..4 {
                let (a, b) = (level + k, level + (k + 1) % 4);
                triangles.extend([[a, b, b + 4], [a, b + 4, a + 4]]);
            }
        }
        (points, triangles)
    }

    #[test]
    fn a_plane_through_corners_cuts_the_prism_once() {
        let (points, triangles) = prism();
        let placed = PlacedMesh::new(points, &triangles);
        for z in [0.1, 2.5, 5.0, 7.5, 10.0] {
            let chains = placed.chains(z);
            assert_eq!(chains.len(), 1, "at {z}");
            assert!(chains[0].closed, "at {z}");
            let ring = placed.ring(z, 0.0).unwrap();
            assert!((ring.area() - 4.0).abs() < 0.01 && ring.centre[0].abs() < 1e-9);
        }
        assert!(placed.chains(-0.1).is_empty() && placed.chains(10.1).is_empty());
    }

    #[test]
    fn a_prism_without_a_side_is_in_parts() {
        let (points, mut triangles) = prism();
        triangles.drain(0..2);
        let placed = PlacedMesh::new(points, &triangles);
        assert!(!placed.chains(2.5)[0].closed);
        assert!(placed.chains(7.5)[0].closed);
        assert!(placed.ring(2.5, 0.0).unwrap().gap.rays > 20);
    }
}
