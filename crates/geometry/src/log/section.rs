//! One section of a log that is not round and straight.

use super::taped::POINTS;
use crate::trig::{norm, sin_cos};

/// What a log is at one station. All sections of a log have as many points, and the `n`-th points of two neighbours
/// belong together: between them the log is ruled, every point moving straight from the one to the other.
///
/// # Units
/// Inches, in the log frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Station.
    pub z: f64,
    /// Outline of the wood, counterclockwise when one looks at the small end with `x` right and `y` up.
    pub wood: Vec<[f64; 2]>,
    /// Outline over the bark, point for point.
    pub bark: Vec<[f64; 2]>,
    /// The pith.
    pub pith: [f64; 2],
}

/// Every coordinate is a number: that is looked at where a log is made.
impl Eq for Section {}

impl Section {
    /// A round section about the pith, as polygons on its circles.
    pub(crate) fn round(z: f64, wood: f64, bark: f64) -> Self {
        let circle = |radius: f64| -> Vec<[f64; 2]> {
            let point = |n: u32| {
                let turn = std::f64::consts::TAU * f64::from(n) / f64::from(POINTS);
                let (sin, cos) = sin_cos(turn);
                [radius * cos, radius * sin]
            };
            (0..POINTS).map(point).collect()
        };
        Self { z, wood: circle(wood), bark: circle(bark), pith: [0.0, 0.0] }
    }

    /// The section elsewhere in the same plane.
    pub(crate) fn moved(&self, by: [f64; 2]) -> Self {
        let to = |p: &[f64; 2]| [p[0] + by[0], p[1] + by[1]];
        Self {
            z: self.z,
            wood: self.wood.iter().map(to).collect(),
            bark: self.bark.iter().map(to).collect(),
            pith: to(&self.pith),
        }
    }

    /// The section at a station between this one and the next.
    pub(crate) fn toward(&self, next: &Self, z: f64) -> Self {
        let share = if next.z > self.z { (z - self.z) / (next.z - self.z) } else { 0.0 };
        let mix = |a: &[f64; 2], b: &[f64; 2]| {
            [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]
        };
        let all =
            |a: &[[f64; 2]], b: &[[f64; 2]]| a.iter().zip(b).map(|(a, b)| mix(a, b)).collect();
        Self {
            z,
            wood: all(&self.wood, &next.wood),
            bark: all(&self.bark, &next.bark),
            pith: mix(&self.pith, &next.pith),
        }
    }
}

/// Area within an outline that runs counterclockwise; negative where it runs clockwise.
///
/// # Units
/// Square inches.
pub(crate) fn area(outline: &[[f64; 2]]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    outline.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>() / 2.0
}

/// The greatest width of an outline in any direction: the greatest distance of two of its points.
///
/// # Units
/// Inches.
pub(crate) fn widest(outline: &[[f64; 2]]) -> f64 {
    let rest = |n: usize| outline[n + 1..].iter().map(move |b| square(&outline[n], b));
    (0..outline.len()).flat_map(rest).fold(0.0, f64::max).sqrt()
}

/// Whether an outline may be wider than so many inches: none of its points are further from each other than twice the furthest
/// is from their middle.
pub(crate) fn may_be_wider(outline: &[[f64; 2]], than: f64) -> bool {
    let count = outline.len() as f64;
    let middle = [0, 1].map(|n| outline.iter().map(|p| p[n]).sum::<f64>() / count);
    outline.iter().any(|p| 4.0 * square(p, &middle) > than * than)
}

fn square(a: &[f64; 2], b: &[f64; 2]) -> f64 {
    let (x, y) = (a[0] - b[0], a[1] - b[1]);
    x * x + y * y
}

/// The middles of an outline's sides.
pub(crate) fn middles(outline: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let next = outline.iter().cycle().skip(1);
    let middle = |(a, b): (&[f64; 2], &[f64; 2])| [0, 1].map(|n| f64::midpoint(a[n], b[n]));
    outline.iter().zip(next).map(middle).collect()
}

/// How many whole steps cover a small number.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a log of at most a hundred feet in steps of inches"
)]
pub(crate) fn steps(number: f64) -> u32 {
    number.ceil().max(0.0) as u32
}

/// The centre of the area within an outline.
pub(crate) fn centroid(outline: &[[f64; 2]]) -> [f64; 2] {
    let next = outline.iter().cycle().skip(1);
    let (mut x, mut y, mut twice) = (0.0, 0.0, 0.0);
    for (a, b) in outline.iter().zip(next) {
        let cross = a[0] * b[1] - b[0] * a[1];
        (x, y, twice) = (x + (a[0] + b[0]) * cross, y + (a[1] + b[1]) * cross, twice + cross);
    }
    [x / (3.0 * twice), y / (3.0 * twice)]
}

/// The outline moved outward by a thickness, each point along the normal of its neighbours' chord.
pub(crate) fn outward(outline: &[[f64; 2]], by: f64) -> Vec<[f64; 2]> {
    let n = outline.len();
    (0..n)
        .map(|i| {
            let (before, at, after) = (outline[(i + n - 1) % n], outline[i], outline[(i + 1) % n]);
            let (dx, dy) = (after[0] - before[0], after[1] - before[1]);
            let long = norm(dx, dy);
            if long > 0.0 { [at[0] + by * dy / long, at[1] - by * dx / long] } else { at }
        })
        .collect()
}
