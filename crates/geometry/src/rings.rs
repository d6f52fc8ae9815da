//! The angle of the growth rings to a piece's wide face.
//!
//! # What is reported
//! Rings are taken as circles about the pith at the small end of the piece. The angle is that between the
//! ring's tangent and the wide face, at the middle of the piece's section: 0 degrees where the rings lie flat
//! in the face, 90 where they stand on it. With the middle `m` and the pith `p`, `a` their distance along the
//! wide face and `b` square to it:
//! ```text
//! angle = atan2(|a|, |b|)
//! ```
//! for the tangent is square to the line from the pith. Along the width, at mid-thickness, `b` stays and `a`
//! goes from edge to edge, so the angle's range and the share of the width with rings between two angles are
//! closed forms too ([`RingAngle::share_between`]). Conventions differ in which of the two they judge by; say
//! which.
//!
//! A square piece has no wide face: the lesser of the two angles is reported.

use crate::defect::{PieceBox, pith_at};
use crate::frame::dot;
use crate::trig::atan2;
use crate::{Angle, Log};

/// How the growth rings lie in a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingAngle {
    /// The angle at the middle of the section, from 0 to 90 degrees.
    pub middle: Angle,
    /// The least and the greatest at mid-thickness, from edge to edge.
    pub range: (Angle, Angle),
    /// Whether the pith lies within the section: then the rings are no guide to how the piece behaves.
    pub holds_pith: bool,
    /// From the pith to the edges along the width, inches; and to the middle of the thickness, square to it.
    edges: (f64, f64),
    off: f64,
}

/// How the growth rings lie in a piece; `None` where the pith is its very middle, or it has no section.
pub fn ring_angle(log: &Log, piece: &PieceBox) -> Option<RingAngle> {
    let z = piece.z.from.inches_f64();
    let [x, y] = pith_at(log, z);
    let from_pith = |axis: [f64; 3], span: crate::Span| {
        let pith = dot(axis, [x, y, z]);
        (span.from.inches_f64() - pith, span.to.inches_f64() - pith)
    };
    let sides = (from_pith(piece.basis.u, piece.u), from_pith(piece.basis.h, piece.h));
    let (wide, thick) = (piece.u.size(), piece.h.size());
    if wide.min(thick).as_nm() <= 0 {
        return None;
    }
    let middle = |side: (f64, f64)| (0.5 * (side.0 + side.1)).abs();
    let is_flat = match wide.cmp(&thick) {
        std::cmp::Ordering::Greater => true,
        std::cmp::Ordering::Less => false,
        std::cmp::Ordering::Equal => middle(sides.0) <= middle(sides.1),
    };
    let (edges, across) = if is_flat { sides } else { (sides.1, sides.0) };
    let (along, off) = (middle(edges), middle(across));
    if along <= 0.0 && off <= 0.0 {
        return None;
    }
    let is_over = |(from, to): (f64, f64)| from <= 0.0 && 0.0 <= to;
    let nearest = if is_over(edges) { 0.0 } else { edges.0.abs().min(edges.1.abs()) };
    let furthest = edges.0.abs().max(edges.1.abs());
    Some(RingAngle {
        middle: angle(along, off),
        range: (angle(nearest, off), angle(furthest, off)),
        holds_pith: is_over(edges) && is_over(across),
        edges,
        off,
    })
}

impl RingAngle {
    /// Which share of the width, at mid-thickness, has its rings at these angles to the face or between.
    pub fn share_between(&self, from: Angle, to: Angle) -> f64 {
        // As far along the width as the ring has this angle; past any edge where it stands square.
        let at = |angle: Angle| {
            if angle >= Angle::degrees(90) {
                return f64::INFINITY;
            }
            let (sin, cos) = angle.max(Angle::ZERO).sin_cos();
            self.off * sin / cos
        };
        let (near, far) = (at(from), at(to));
        let (low, high) = self.edges;
        let common = |a: f64, b: f64| (b.min(high) - a.max(low)).max(0.0);
        // On either side of the pith.
        (common(near, far) + common(-far, -near)).min(high - low) / (high - low)
    }
}

/// To a thousandth of a degree.
#[allow(clippy::cast_possible_truncation, reason = "at most 90 000 thousandths of a degree")]
fn angle(along: f64, off: f64) -> Angle {
    let degrees = atan2(along, off) * (180.0 / std::f64::consts::PI);
    Angle::millidegrees((degrees * 1000.0).round() as i32)
}

#[cfg(test)]
mod tests {
    use super::{RingAngle, ring_angle};
    use crate::{Angle, End, Frame, Log, PieceBox, Span, Taped};
    use pithward_measure::Length;

    fn log() -> Log {
        let inch = Length::inches;
        Log::new(inch(20), inch(20), Length::feet(8), inch(0), inch(0)).unwrap()
    }

    /// In sixteenths of an inch from the pith.
    fn piece(u: (i64, i64), h: (i64, i64)) -> PieceBox {
        let span = |(from, to): (i64, i64)| {
            Span::new(Length::sixty_fourths(4 * from), Length::sixty_fourths(4 * to))
        };
        let z = Span::new(Length::ZERO, Length::feet(8));
        PieceBox { basis: Frame::LEVEL.basis(Length::feet(8)), u: span(u), h: span(h), z }
    }

    fn angle(u: (i64, i64), h: (i64, i64)) -> RingAngle {
        ring_angle(&log(), &piece(u, h)).unwrap()
    }

    #[test]
    fn straight_above_the_pith_the_rings_lie_flat_and_beside_it_they_stand() {
        let flat = angle((-64, 64), (80, 96));
        assert_eq!(flat.middle, Angle::ZERO);
        // At its edges: 4 in along, 5 1/2 in off.
        assert_eq!(flat.range, (Angle::ZERO, Angle::millidegrees(36_027)));
        let quarter = angle((32, 128), (-8, 8));
        assert_eq!(quarter.middle, Angle::degrees(90));
        assert!(!quarter.holds_pith && !flat.holds_pith);
        // Standing on edge it is the other way round.
        assert_eq!(angle((80, 96), (-64, 64)).middle, Angle::ZERO);
        assert_eq!(angle((-8, 8), (32, 128)).middle, Angle::degrees(90));
    }

    #[test]
    fn halfway_it_is_half_a_right_angle_on_every_side() {
        for (u, h) in [
            ((48, 112), (72, 88)),
            ((-112, -48), (72, 88)),
            ((48, 112), (-88, -72)),
            ((-112, -48), (-88, -72)),
        ] {
            assert_eq!(angle(u, h).middle, Angle::degrees(45));
        }
    }

    #[test]
    fn a_square_has_the_lesser_angle() {
        let [wide, high] = [((100, 116), (50, 66)), ((50, 66), (100, 116))];
        let [one, other] = [wide, high].map(|(u, h)| angle(u, h).middle);
        assert_eq!(one, other);
        assert!(one < Angle::degrees(45));
    }

    #[test]
    fn the_share_of_the_width_is_a_closed_form() {
        // 2 in off the pith, from 0 to 8 in along: 60 degrees at 3.4641 in, 30 at 1.1547.
        let board = angle((0, 128), (24, 40));
        let share = |from, to| board.share_between(Angle::degrees(from), Angle::degrees(to));
        assert!((share(60, 90) - (8.0 - 3.464_101_6) / 8.0).abs() < 1e-7);
        assert!((share(30, 60) - (3.464_101_6 - 1.154_700_5) / 8.0).abs() < 1e-7);
        assert!((share(0, 30) - 1.154_700_5 / 8.0).abs() < 1e-7);
        assert!((share(0, 90) - 1.0).abs() < 1e-12);
        // Over the pith both sides count.
        let over = angle((-64, 64), (24, 40));
        assert!((over.share_between(Angle::ZERO, Angle::degrees(45)) - 0.5).abs() < 1e-12);
        // With the pith at mid-thickness all of it stands.
        let through = angle((-64, 66), (-8, 8));
        assert!(
            (through.share_between(Angle::degrees(80), Angle::degrees(90)) - 1.0).abs() < 1e-12
        );
        assert!(through.share_between(Angle::ZERO, Angle::degrees(80)) < 1e-12);
    }

    #[test]
    fn the_pith_in_the_very_middle_has_no_angle() {
        assert!(ring_angle(&log(), &piece((-64, 64), (-32, 32))).is_none());
        assert!(angle((-64, 65), (-32, 32)).holds_pith);
        assert!(ring_angle(&log(), &piece((64, 64), (-32, 32))).is_none());
    }

    #[test]
    fn the_pith_counts_where_it_is_at_the_piece_s_small_end() {
        // Off the middle in the small end and not in the butt: the frame's axis begins on the pith at the small end.
        let end = |off: i64| End {
            longer: Length::inches(20),
            shorter: Length::inches(20),
            clock: Angle::ZERO,
            pith_off: Length::inches(off),
            pith_clock: Angle::degrees(90),
            bark: Length::ZERO,
        };
        let taped = Taped {
            length: Length::feet(8),
            small: end(3),
            butt: end(3),
            sweep: None,
            crook: None,
            flare: None,
        };
        let log = Log::taped(&taped).unwrap();
        let mut piece = piece((48, 112), (72, 88));
        let near = |piece: &PieceBox, degrees: i32| {
            let middle = ring_angle(&log, piece).unwrap().middle;
            (middle.as_millidegrees() - 1000 * degrees).abs() <= 1
        };
        assert!(near(&piece, 45));
        // The same piece turned half round lies on the other side of the same pith.
        piece.basis = Frame::LEVEL.turned_to(Angle::degrees(180), Length::feet(8)).unwrap();
        assert!(near(&piece, 45));
        // In a frame that drifts, a piece that begins further on is beside the pith by that much.
        let frame = Frame { drift_u: Length::inches(5), ..Frame::LEVEL };
        piece.basis = frame.basis(Length::feet(8));
        piece.z.from = Length::feet(8) - Length::inches(1);
        let middle = ring_angle(&log, &piece).unwrap().middle;
        assert!(middle > Angle::degrees(60), "{middle:?}");
    }
}
