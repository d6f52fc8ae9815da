//! The outlines of a log's sections, as its pieces see them: found once for all pieces that lie along the same directions.
//!
//! Most pieces lie deep in the wood. So of every outline a disk is known that lies within it; what lies in that needs no look
//! at the outline's edges.

use super::across::{Octagon, Polygon, holds, place};
use crate::trig::norm;
use crate::{Angle, Basis, Body, Log};
use std::cell::{OnceCell, RefCell};
use std::rc::Rc;

/// An outline, and a disk within it.
#[derive(Debug)]
pub(super) struct Outline {
    pub(super) points: Polygon,
    middle: [f64; 2],
    /// Radius of the disk about the middle; less than nothing where the middle lies outside.
    clear: f64,
}

impl Outline {
    fn new(points: Polygon) -> Self {
        let count = points.len() as f64;
        let middle = [0, 1].map(|n| points.iter().map(|p| p[n]).sum::<f64>() / count);
        let clear = if holds(&points, middle) { nearest(&points, middle) } else { -1.0 };
        Self { points, middle, clear }
    }

    /// Whether a box lies wholly within it, as far as that is seen at once.
    pub(super) fn surely_holds(&self, u: (f64, f64), h: (f64, f64)) -> bool {
        let furthest = |(from, to): (f64, f64), middle: f64| (middle - from).max(to - middle);
        let [x, y] = self.middle;
        norm(furthest(u, x), furthest(h, y)) < self.clear
    }

    /// Whether all of an octagon lies within it.
    pub(super) fn holds(&self, octagon: &Octagon) -> bool {
        octagon.is_within(&self.points)
    }
}

/// How near the edges of an outline come to a point.
fn nearest(outline: &[[f64; 2]], [x, y]: [f64; 2]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    let away = |(a, b): (&[f64; 2], &[f64; 2])| {
        let (along, from) = ([b[0] - a[0], b[1] - a[1]], [x - a[0], y - a[1]]);
        let square = along[0] * along[0] + along[1] * along[1];
        let share = (along[0] * from[0] + along[1] * from[1]) / square;
        let share = if square > 0.0 { share.clamp(0.0, 1.0) } else { 0.0 };
        let [dx, dy] = [0, 1].map(|n| from[n] - share * along[n]);
        dx * dx + dy * dy
    };
    outline.iter().zip(next).map(away).fold(f64::INFINITY, f64::min).sqrt()
}

/// The outlines of a log that pieces asked for.
#[derive(Debug)]
pub(super) struct SeenWood<'a> {
    log: &'a Log,
    /// By the turn of the pieces: at every section of the log, and midway to the next.
    known: RefCell<Vec<(Angle, Known)>>,
}

type Known = Rc<[OnceCell<Outline>]>;

impl<'a> SeenWood<'a> {
    pub(super) fn new(log: &'a Log) -> Self {
        Self { log, known: RefCell::default() }
    }

    pub(super) fn log(&self) -> &'a Log {
        self.log
    }

    /// Sees the outlines at the ends of a piece, at the log's sections within it, and midway between two of these, in their
    /// order.
    ///
    /// # Errors
    /// What `see` says first.
    pub(super) fn each<E>(
        &self,
        (turn, basis): (Angle, &Basis),
        (from, to): (f64, f64),
        mut see: impl FnMut(f64, &Outline) -> Result<(), E>,
    ) -> Result<(), E> {
        let sections = self.log.sections().unwrap_or_default();
        let whole = Body::whole(self.log);
        let made = |z: f64| Outline::new(whole.wood_at(z).map(|p| place(basis, p, z)).collect());
        let known = self.along(turn);
        let first = sections.partition_point(|section| section.z <= from);
        let end = sections.partition_point(|section| section.z < to);
        see(from, &made(from))?;
        let mut before = from;
        for n in first..end {
            let z = sections[n].z;
            let middle = 0.5 * (before + z);
            if n > first {
                see(middle, known[2 * n - 1].get_or_init(|| made(middle)))?;
            } else {
                see(middle, &made(middle))?;
            }
            see(z, known[2 * n].get_or_init(|| made(z)))?;
            before = z;
        }
        let middle = 0.5 * (before + to);
        see(middle, &made(middle))?;
        see(to, &made(to))
    }

    fn along(&self, turn: Angle) -> Known {
        let mut known = self.known.borrow_mut();
        if let Some((_, known)) = known.iter().find(|(of, _)| *of == turn) {
            return Rc::clone(known);
        }
        let count = 2 * self.log.sections().unwrap_or_default().len();
        let new: Known = (0..count).map(|_| OnceCell::new()).collect();
        known.push((turn, Rc::clone(&new)));
        new
    }
}

#[cfg(test)]
mod tests {
    use super::super::sound::stations;
    use super::*;
    use crate::{End, Frame, Sweep, Taped};
    use pithward_measure::Length;

    #[test]
    fn a_piece_is_seen_at_all_its_stations_and_alike_however_many_were_seen_before() {
        let end = |inches: i64| End {
            longer: Length::inches(inches + 2),
            shorter: Length::inches(inches),
            clock: Angle::degrees(20),
            pith_off: Length::ZERO,
            pith_clock: Angle::ZERO,
            bark: Length::ZERO,
        };
        let (length, clock) = (Length::inches(120), Angle::degrees(70));
        let sweep = Some(Sweep { depth: Length::inches(2), clock, at: length.half() });
        let (small, butt) = (end(12), end(14));
        let taped = Taped { length, small, butt, sweep, crook: None, flare: None };
        let log = Log::taped(&taped).expect("a log that a tree can have");
        let turn = Angle::degrees(90);
        let basis = Frame::LEVEL.turned_to(turn, log.length()).expect("a quarter turn");
        let seen = SeenWood::new(&log);
        let at = |seen: &SeenWood<'_>, (from, to)| {
            let mut all: Vec<(f64, Polygon)> = Vec::new();
            let see = |z, outline: &Outline| {
                all.push((z, outline.points.clone()));
                Ok::<(), ()>(())
            };
            seen.each((turn, &basis), (from, to), see).expect("nothing is refused");
            all
        };
        for (from, to) in [(0.0, 120.0), (0.0, 7.3), (31.2, 31.4), (30.0, 96.0), (0.5, 119.5)] {
            let known = at(&seen, (from, to));
            let places: Vec<f64> = known.iter().map(|(z, _)| *z).collect();
            assert_eq!(places, stations(&log, from, to));
            assert_eq!(known, at(&SeenWood::new(&log), (from, to)));
        }
    }

    #[test]
    fn what_lies_in_the_disk_lies_within_the_outline() {
        let square = vec![[-2.0, -2.0], [2.0, -2.0], [2.0, 2.0], [-2.0, 2.0]];
        let outline = Outline::new(square);
        assert!(outline.surely_holds((-1.4, 1.4), (-1.4, 1.4)));
        // It lies within the square, but not in its disk.
        assert!(!outline.surely_holds((-1.5, 1.5), (-1.5, 1.5)));
        assert!(outline.holds(&Octagon::new((-1.5, 1.5), (-1.5, 1.5), (0.0, 0.0), 0.0)));
        // A notch that comes near the middle leaves a small disk, one beyond it none.
        let notched = |depth: f64| {
            Outline::new(vec![[-2.0, -2.0], [2.0, -2.0], [2.0, 2.0], [0.0, depth], [-2.0, 2.0]])
        };
        assert!(notched(1.0).surely_holds((-0.1, 0.1), (-0.1, 0.1)));
        assert!(!notched(1.0).surely_holds((-1.0, 1.0), (-1.0, 1.0)));
        assert!(!notched(-1.5).surely_holds((-0.01, 0.01), (-0.01, 0.01)));
    }
}
