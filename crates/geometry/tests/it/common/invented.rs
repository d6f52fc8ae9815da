//! Invented logs by formula, and what a scanner would make of them.
//!
//! A section at the station `z` is an oval about a middle that follows a bow, with waves round it:
//! `r(t, z) = r(z) (1 + oval cos 2(t - t0) / 2 + wave cos 5 t)`, `r` straight from the small end to the butt but for a
//! flare, the middle `4 d s (1 - s)` off the straight line at the share `s` of the length. Angles are mathematical,
//! from `x` toward `y`.

use pithward_geometry::{Mesh, trig::sin_cos};
use std::f64::consts::TAU;

/// A log by formula, inches and radians.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Invented {
    pub(crate) length: f64,
    pub(crate) small: f64,
    pub(crate) butt: f64,
    pub(crate) flare: f64,
    pub(crate) oval: f64,
    pub(crate) toward: f64,
    pub(crate) wave: f64,
    pub(crate) bow: f64,
    pub(crate) bow_toward: f64,
}

/// Where it lies in a file: turned about the vertical and raised at the butt, both in radians, and moved.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Lying {
    pub(crate) yaw: f64,
    pub(crate) pitch: f64,
    pub(crate) at: [f64; 3],
}

impl Invented {
    /// A crooked yard log of 10 ft.
    pub(crate) const CROOKED: Self = Self {
        length: 120.0,
        small: 6.0,
        butt: 7.5,
        flare: 1.5,
        oval: 0.12,
        toward: 0.7,
        wave: 0.01,
        bow: 2.5,
        bow_toward: 4.0,
    };

    pub(crate) fn middle(&self, z: f64) -> [f64; 2] {
        let share = z / self.length;
        let off = 4.0 * self.bow * share * (1.0 - share);
        let (sin, cos) = sin_cos(self.bow_toward);
        [off * cos, off * sin]
    }

    pub(crate) fn radius(&self, angle: f64, z: f64) -> f64 {
        let near = ((z - self.length + 18.0) / 18.0).max(0.0);
        let mean =
            self.small + (self.butt - self.small) * z / self.length + self.flare * near * near;
        let (_, oval) = sin_cos(2.0 * (angle - self.toward));
        let (_, wave) = sin_cos(5.0 * angle);
        mean * (1.0 + self.oval / 2.0 * oval + self.wave * wave)
    }

    pub(crate) fn point(&self, angle: f64, z: f64) -> [f64; 3] {
        let ([x, y], r) = (self.middle(z), self.radius(angle, z));
        let (sin, cos) = sin_cos(angle);
        [x + r * cos, y + r * sin, z]
    }

    /// Its surface in its own frame: so many rings and so many points round, closed at both ends, facing outward as a
    /// file's right-handed coordinates have it.
    pub(crate) fn mesh(&self, along: u32, round: u32) -> Mesh {
        let mut mesh = Mesh::default();
        for i in 0..=along {
            for k in 0..round {
                let angle = TAU * f64::from(k) / f64::from(round);
                mesh.points.push(self.point(angle, self.length * f64::from(i) / f64::from(along)));
            }
        }
        for i in 0..along {
            for k in 0..round {
                let (a, b) = (i * round + k, i * round + (k + 1) % round);
                mesh.triangles.extend([[a, b + round, b], [a, a + round, b + round]]);
            }
        }
        let (first, last) = (mesh.points.len() as u32, along * round);
        mesh.points.extend([[0.0; 3], [0.0, 0.0, self.length]]);
        for k in 0..round {
            let next = (k + 1) % round;
            mesh.triangles.extend([[first, k, next], [first + 1, last + next, last + k]]);
        }
        mesh
    }

    /// The same as a file has it.
    pub(crate) fn scanned(&self, along: u32, round: u32, lying: Lying) -> Mesh {
        let mesh = self.mesh(along, round);
        Mesh { points: mesh.points.iter().map(|point| lying.of(*point)).collect(), ..mesh }
    }
}

impl Lying {
    /// A point of a log frame in the file: before it is turned, the log points along `+y` and its 12 o'clock is `+z`.
    pub(crate) fn of(&self, [right, up, along]: [f64; 3]) -> [f64; 3] {
        let (sin, cos) = sin_cos(self.pitch);
        let (along, up) = (along * cos - up * sin, along * sin + up * cos);
        let (sin, cos) = sin_cos(self.yaw);
        let (x, y) = (right * cos - along * sin, right * sin + along * cos);
        [self.at[0] + x, self.at[1] + y, self.at[2] + up]
    }
}

/// Numbers that look random and are the same in every run, between -1 and 1.
///
/// # Source
/// Steele, Lea and Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014: the finalizer of its 64-bit generator.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Noise(pub u64);

impl Noise {
    pub(crate) fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }

    /// Of mean 0 and standard deviation 1: a sum of twelve.
    pub(crate) fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.even()).sum::<f64>() / 2.0
    }
}
