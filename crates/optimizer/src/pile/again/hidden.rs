//! What is wrong inside a log and is found only when it is sawn.

use pithward_geometry::Claim;
use pithward_measure::Length;

/// A round zone along a log, in which no piece is worth anything.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hidden {
    /// The log, by its place in the pile.
    pub log: usize,
    /// Where the zone begins, from the butt.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// Its middle, from the pith, as one looks at the small end: to the right and up, inches.
    pub middle: [f64; 2],
    /// Its radius, inches.
    pub radius: f64,
}

impl Hidden {
    /// Whether a piece of a log of some length lies in it.
    pub fn takes(&self, claim: &Claim, length: Length) -> bool {
        let (from, to) = (length - claim.z.to, length - claim.z.from);
        if from >= self.to || to <= self.from {
            return false;
        }
        let (sin, cos) = claim.turn.sin_cos();
        let [x, y] = self.middle;
        let (u, h) = (x * cos - y * sin, x * sin + y * cos);
        let off = |at: f64, from: Length, to: Length| {
            (from.inches_f64() - at).max(at - to.inches_f64()).max(0.0)
        };
        let (u, h) = (off(u, claim.u.from, claim.u.to), off(h, claim.h.from, claim.h.to));
        u * u + h * h < self.radius * self.radius
    }
}
