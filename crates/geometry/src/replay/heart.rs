//! The pith against the heart rule of a piece.
//!
//! As seen along the frame's axis the pith is a line of straight stretches, from section to section; in a log that is
//! round and straight it is one stretch along the log's axis. A stretch is farthest from the middle of a box at one of
//! its ends, but nearest to the box anywhere.

use super::across::{Octagon, place};
use super::sound::stations;
use crate::{Basis, Claim, Heart, Log, trig::norm};

/// Holds a piece between these planes against its heart rule.
///
/// # Errors
/// The station, inches, at which the pith is where it must not be.
pub(super) fn heart(
    log: &Log,
    basis: &Basis,
    claim: &Claim,
    (u, h): ((f64, f64), (f64, f64)),
    slack: f64,
) -> Result<(), f64> {
    if claim.heart == Heart::Any {
        return Ok(());
    }
    let pith: Vec<(f64, [f64; 2])> =
        stations(log, claim.z.from.inches_f64(), claim.z.to.inches_f64())
            .into_iter()
            .map(|z| (z, place(basis, pith_at(log, z), z)))
            .collect();
    match claim.heart {
        Heart::Any => {}
        Heart::Boxed { within } => {
            let within = within.inches_f64() + slack;
            let held = |at: f64, (from, to): (f64, f64)| {
                let off = (at - 0.5 * (from + to)).abs();
                off <= within && off <= 0.5 * (to - from) + slack
            };
            if let Some((z, _)) = pith.iter().find(|(_, p)| !held(p[0], u) || !held(p[1], h)) {
                return Err(*z);
            }
        }
        Heart::Free { clear } => {
            // It may lie on a side of the box.
            let inside = Octagon::new(u, h, (0.0, 0.0), slack);
            let clear = clear.inches_f64() - slack;
            for two in pith.windows(2) {
                let ((z, a), (_, b)) = (two[0], two[1]);
                if inside.meets_line(a, b) || outside(u, h, a, b) < clear {
                    return Err(z);
                }
            }
        }
    }
    Ok(())
}

/// The pith at a station.
fn pith_at(log: &Log, z: f64) -> [f64; 2] {
    let Some(sections) = log.sections() else { return [0.0, 0.0] };
    let after = sections.partition_point(|section| section.z <= z);
    match (after.checked_sub(1).and_then(|n| sections.get(n)), sections.get(after)) {
        (Some(a), Some(b)) => {
            let share = (z - a.z) / (b.z - a.z);
            [0, 1].map(|n| a.pith[n] + share * (b.pith[n] - a.pith[n]))
        }
        (Some(only), None) | (None, Some(only)) => only.pith,
        (None, None) => [0.0, 0.0],
    }
}

/// How near a straight stretch that is not inside of a box comes to it.
///
/// Two convex polygons apart are nearest at a corner of one of them.
fn outside(u: (f64, f64), h: (f64, f64), a: [f64; 2], b: [f64; 2]) -> f64 {
    let over = |at: f64, (from, to): (f64, f64)| (from - at).max(at - to).max(0.0);
    let to_box = |p: [f64; 2]| norm(over(p[0], u), over(p[1], h));
    let run = [b[0] - a[0], b[1] - a[1]];
    let long = run[0] * run[0] + run[1] * run[1];
    let to_stretch = |p: [f64; 2]| {
        let from = [p[0] - a[0], p[1] - a[1]];
        let share = if long > 0.0 { (from[0] * run[0] + from[1] * run[1]) / long } else { 0.0 };
        let share = share.clamp(0.0, 1.0);
        norm(from[0] - share * run[0], from[1] - share * run[1])
    };
    let corners = [[u.0, h.0], [u.1, h.0], [u.1, h.1], [u.0, h.1]];
    corners.into_iter().map(to_stretch).fold(to_box(a).min(to_box(b)), f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Angle, FlawKinds, Frame, Span};
    use pithward_measure::Length;

    /// An 8 ft log, its axis drifting by these against the frame's; a box 4 by 2 in with its middle there.
    fn check(heart: Heart, middle: (i64, i64), drift: (i64, i64)) -> bool {
        let inch = Length::inches;
        let log =
            Log::new(inch(12), inch(12), Length::feet(8), Length::ZERO, Length::ZERO).unwrap();
        let frame = Frame { drift_u: inch(drift.0), drift_h: inch(drift.1), ..Frame::LEVEL };
        let span = |middle, half| Span::new(inch(middle - half), inch(middle + half));
        let claim = Claim {
            turn: Angle::ZERO,
            u: span(middle.0, 2),
            h: span(middle.1, 1),
            z: Span::new(Length::ZERO, log.length()),
            wane_u: Length::ZERO,
            wane_h: Length::ZERO,
            heart,
            tolerates: FlawKinds::NONE,
        };
        let basis = frame.basis(log.length());
        let sides = |span: Span| (span.from.inches_f64(), span.to.inches_f64());
        super::heart(&log, &basis, &claim, (sides(claim.u), sides(claim.h)), 1e-6).is_ok()
    }

    fn free(inches: i64) -> Heart {
        Heart::Free { clear: Length::inches(inches) }
    }

    fn boxed(inches: i64) -> Heart {
        Heart::Boxed { within: Length::inches(inches) }
    }

    #[test]
    fn free_of_heart_is_beside_the_pith_by_what_it_must_be_clear() {
        assert!(!check(free(0), (0, 0), (0, 0)));
        assert!(!check(free(0), (1, 0), (0, 0)));
        assert!(check(free(0), (2, 0), (0, 0)));
        assert!(!check(free(1), (2, 0), (0, 0)));
        assert!(check(free(1), (3, 0), (0, 0)));
        // From the corner it is five inches to the pith.
        assert!(check(free(5), (5, 5), (0, 0)));
        assert!(!check(free(6), (5, 5), (0, 0)));
    }

    #[test]
    fn a_pith_that_crosses_a_piece_between_its_ends_is_seen() {
        // Seen along the frame's axis the pith runs from (0, 0) to (-8, 0).
        assert!(!check(free(0), (-4, 0), (8, 0)));
        assert!(check(free(0), (-4, 1), (8, 0)));
        assert!(!check(free(1), (-4, 1), (8, 0)));
        assert!(check(free(1), (-4, 2), (8, 0)));
    }

    #[test]
    fn boxed_is_near_the_middle_over_the_whole_length() {
        assert!(check(boxed(0), (0, 0), (0, 0)));
        assert!(!check(boxed(0), (1, 0), (0, 0)));
        assert!(check(boxed(1), (1, 1), (0, 0)));
        assert!(!check(boxed(3), (3, 0), (0, 0)), "it is not inside");
        assert!(!check(boxed(1), (0, 0), (2, 0)));
        assert!(check(boxed(1), (-1, 0), (2, 0)));
    }
}
