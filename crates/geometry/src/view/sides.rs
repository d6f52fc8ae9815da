//! What sawn planes leave of a log: a box along the frame's directions, open on the sides that were not sawn.

use super::{NM, Quarter, View, side};
use crate::body::clip;
use crate::rest::reach;
use crate::{Angle, Body, Covering, Frame, HalfSpace, Log};
use pithward_measure::Length;
use std::sync::Arc;

/// How far from the frame's axis each side was sawn that was; in the order in which quarter turns clockwise bring them up:
/// toward `h`, toward `u`, toward `-h`, toward `-u`. The axis begins on the pith at the small end.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Sides(pub [Option<Length>; 4]);

impl Sides {
    /// The log between them; planes that lie beyond it bound nothing.
    pub fn body<'a>(&self, log: &'a Log, frame: &Frame) -> Body<'a> {
        let basis = frame.basis(log.length());
        let (minus_h, minus_u) = (basis.h.map(|c| -c), basis.u.map(|c| -c));
        let normals = [basis.h, basis.u, minus_h, minus_u];
        let mut body = Body::whole(log);
        for (normal, plane) in normals.into_iter().zip(self.0) {
            if let Some(plane) = plane {
                body = body.cut(HalfSpace { normal, offset: plane.inches_f64() });
            }
        }
        body
    }

    /// The same as they are called when this many quarter turns clockwise have brought another side up.
    #[must_use]
    pub fn turned_by(self, quarters: usize) -> Self {
        let mut turned = self.0;
        turned.rotate_left(quarters % 4);
        Self(turned)
    }
}

/// The same in a view's own coordinates, nanometres from where these begin, in the order of [`side`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Planes {
    sawn: [Option<i64>; 4],
}

impl Planes {
    /// Whether what spans so much of `u` and of `h` reaches within them.
    pub(super) fn meets(&self, [u, h]: [(f64, f64); 2]) -> bool {
        let [right, up, left, down] = self.sawn;
        let within = |(low, high): (f64, f64), most: Option<i64>, least: Option<i64>| {
            most.is_none_or(|most| low < most as f64)
                && least.is_none_or(|least| high > -least as f64)
        };
        within(u, right, left) && within(h, up, down)
    }

    /// How far boards between two planes may reach along them; `None` where one of these lies beyond what is left.
    pub(super) fn between(&self, quarter: Quarter, (from, to): (i64, i64)) -> Option<(f64, f64)> {
        let most = |quarter, up| self.sawn[side(quarter, up)];
        if most(quarter, true).is_some_and(|plane| to > plane)
            || most(quarter, false).is_some_and(|plane| -from > plane)
        {
            return None;
        }
        // Along the planes of the first quarter that is `u`, along those of the second `-h`.
        let (low, high) = match quarter {
            Quarter::First => (most(Quarter::Second, false), most(Quarter::Second, true)),
            Quarter::Second => (most(Quarter::First, true), most(Quarter::First, false)),
        };
        Some((
            low.map_or(f64::NEG_INFINITY, |plane| -plane as f64),
            high.map_or(f64::INFINITY, |plane| plane as f64),
        ))
    }
}

/// A plane that bounds what is left reaches it within this, nanometres: a micrometre.
const REACHES: f64 = 1_000.0;

impl<'a> View<'a> {
    /// What sawn planes leave of the log, as it is seen when so many quarter turns clockwise from the frame's own have
    /// brought another of its directions up; `sides` are called as the frame calls them. `None` where nothing is left.
    pub fn left(log: &'a Log, frame: Frame, quarters: usize, sides: &Sides) -> Option<Self> {
        let degrees = i32::try_from(quarters % 4).ok()? * 90_000;
        let up = frame.turn.as_millidegrees() + degrees;
        let up = Angle::millidegrees(up.rem_euclid(360_000));
        let mut view = Self::with(log, frame, up, Arc::default());
        let body = sides.body(log, &frame);
        let sides = sides.turned_by(quarters);
        let basis = view.basis;
        let normals = [basis.u, basis.h, basis.u.map(|c| -c), basis.h.map(|c| -c)];
        // Sides are told from `h` on, reaches from `u` on.
        let told = [1, 0, 3, 2].map(|n| sides.0[n].map(Length::as_nm));
        let [mut wood, mut bark] = [[0.0; 4]; 2];
        for (n, normal) in normals.into_iter().enumerate() {
            bark[n] = reach(&body, Covering::Bark, normal)? * NM;
            wood[n] = reach(&body, Covering::Wood, normal)? * NM;
        }
        let reaches = |n: usize| told[n].filter(|plane| bark[n] >= *plane as f64 - REACHES);
        let sawn = [0, 1, 2, 3].map(reaches);
        // The place within the planes that is nearest to where the whole log's coordinates begin.
        let [u, h] = view.origin;
        let nearest = |at: i64, high: Option<i64>, low: Option<i64>| {
            let at = high.map_or(at, |high| at.min(high));
            low.map_or(at, |low| at.max(-low))
        };
        let origin = [nearest(u, sawn[0], sawn[2]), nearest(h, sawn[1], sawn[3])];
        // All of it moves to there, from where the whole log's begin.
        view.move_to([origin[0] - u, origin[1] - h]);
        let [a, b] = origin.map(|nm| nm as f64);
        let moved = |reach: [f64; 4]| [reach[0] - a, reach[1] - b, reach[2] + a, reach[3] + b];
        (view.wood, view.bark, view.origin) = (moved(wood), moved(bark), origin);
        let own = [origin[0], origin[1], -origin[0], -origin[1]];
        let mut planes = Planes { sawn };
        for (plane, own) in planes.sawn.iter_mut().zip(own) {
            *plane = plane.map(|plane| plane - own);
        }
        let mut slices = view.slices().to_vec();
        for slice in &mut slices {
            let normals = [[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]];
            for (normal, plane) in normals.into_iter().zip(planes.sawn) {
                if let Some(plane) = plane {
                    slice.bark = clip(&slice.bark, (normal, plane as f64));
                }
            }
        }
        (view.slices, view.left) = (slices.into(), Some(planes));
        Some(view)
    }

    /// How far from where the coordinates begin a side was sawn, where it was.
    ///
    /// # Units
    /// Nanometres.
    pub fn sawn(&self, quarter: Quarter, up: bool) -> Option<i64> {
        self.left.as_ref().and_then(|left| left.sawn[side(quarter, up)])
    }

    /// [`View::width_beyond`] of what planes leave of round wood, at the butt.
    pub(super) fn round_beyond(
        &self,
        left: &Planes,
        quarter: Quarter,
        up: bool,
        plane: f64,
    ) -> f64 {
        let axis = quarter.of(self.origin.map(|nm| -nm as f64));
        let radius = self.log.bark_radius(self.log.length().inches_f64()) * NM;
        let sign = if up { 1.0 } else { -1.0 };
        // From the round's own middle, this side up: the widest of what lies at the plane or beyond.
        let from = plane - sign * axis[1];
        let top = left.sawn[side(quarter, up)].map_or(radius, |top| top as f64 - sign * axis[1]);
        if from > top.min(radius) {
            return 0.0;
        }
        let away = if from > 0.0 { from } else { top.min(0.0) };
        let half = (radius * radius - away * away).max(0.0).sqrt();
        let most = left.between(quarter, (0, 0)).unwrap_or((f64::NEG_INFINITY, f64::INFINITY));
        let (low, high) = ((axis[0] - half).max(most.0), (axis[0] + half).min(most.1));
        (high - low).max(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Extent;

    fn log() -> Log {
        let [small, butt] = [20, 24].map(Length::inches);
        Log::new(small, butt, Length::feet(10), Length::ZERO, Length::inches(1)).unwrap()
    }

    fn nm(inches: i64) -> i64 {
        Length::inches(inches).as_nm()
    }

    /// Where each side was sawn, inches; 0 where it was not.
    fn sides(sawn: [i64; 4]) -> Sides {
        Sides(sawn.map(|plane| (plane != 0).then(|| Length::inches(plane))))
    }

    #[test]
    fn sawn_planes_bound_a_view_exactly_and_bark_does_elsewhere() {
        let log = log();
        // Above and to the left it is sawn.
        let view = View::left(&log, Frame::LEVEL, 0, &sides([6, 0, 0, 5])).unwrap();
        assert_eq!(view.sawn(Quarter::First, true), Some(nm(6)));
        assert_eq!(view.sawn(Quarter::Second, false), Some(nm(5)));
        assert_eq!(view.sawn(Quarter::First, false), None);
        assert!((view.wood_reach(Quarter::First, true) - nm(6) as f64).abs() < 1.0);
        assert!((view.bark_reach(Quarter::First, false) - nm(13) as f64).abs() < 1.0);
        let prism = view.prism(Length::ZERO, log.length());
        let extent = |planes| prism.extent(Quarter::First, planes, (0.0, 0.0));
        let Extent { low, high } = extent((0, nm(6))).unwrap();
        assert!(
            (low + nm(5) as f64).abs() < 1e-6 && (high - nm(8) as f64).abs() < 1e-6,
            "{low} {high}"
        );
        assert_eq!(extent((0, nm(6) + 1)), None, "beyond what is left");
        // As wide as the round at the sawn face, from the left face on.
        let chord = (13.0f64 * 13.0 - 36.0).sqrt();
        let wide = view.width_beyond(Quarter::First, true, nm(6) as f64) / NM;
        assert!((wide - (5.0 + chord)).abs() < 1e-9, "{wide}");
    }

    #[test]
    fn a_quarter_turn_calls_the_same_sides_otherwise() {
        let log = log();
        let sawn = sides([6, 7, 8, 9]);
        let turned = View::left(&log, Frame::LEVEL, 1, &sawn).unwrap();
        assert_eq!(turned.up(), Angle::degrees(90));
        let of = |quarter, up| turned.sawn(quarter, up).map(|plane| plane / nm(1));
        assert_eq!(of(Quarter::First, true), Some(7));
        assert_eq!(of(Quarter::First, false), Some(9));
        assert_eq!(of(Quarter::Second, true), Some(8));
        assert_eq!(of(Quarter::Second, false), Some(6));
        assert_eq!(sawn.turned_by(4), sawn);
    }

    #[test]
    fn what_does_not_hold_the_pith_begins_at_its_nearest_side_and_what_is_gone_is_no_view() {
        let log = log();
        // A half above a plane 2 in over the pith.
        let half = View::left(&log, Frame::LEVEL, 0, &sides([0, 0, -2, 0])).unwrap();
        assert_eq!(half.sawn(Quarter::First, false), Some(0));
        assert_eq!(half.origin_toward([0.0, 1.0, 0.0]), nm(2));
        let prism = half.prism(Length::ZERO, log.length());
        let Extent { high, .. } = prism.extent(Quarter::First, (0, nm(4)), (0.0, 0.0)).unwrap();
        assert!((high - nm(8) as f64).abs() < 1e-6, "10 in round, 6 in over the pith: {high}");
        assert!(View::left(&log, Frame::LEVEL, 0, &sides([0, 0, -14, 0])).is_none());
        // A plane that lies beyond the bark bounds nothing.
        let whole = View::left(&log, Frame::LEVEL, 0, &sides([30, 0, 0, 0])).unwrap();
        assert_eq!(whole.sawn(Quarter::First, true), None);
    }
}
