//! What the small end looks like as the log lies for face A: the rim of its wood, and where its flaws are.
//!
//! Everything is seen along the axis of the order's frame, which begins on the pith at the small end: `[u, h]`, to the
//! right and up, inches.

use pithward_geometry::{Basis, Flaw, FlawKind, Frame, Log, Region};

/// The rim of the wood at the small end.
#[derive(Clone, Debug)]
pub(super) struct Outline {
    rim: Rim,
    /// Where it begins at the left.
    pub(super) left: f64,
    right: f64,
    /// How far up it goes.
    pub(super) top: f64,
    foot: f64,
}

#[derive(Clone, Debug)]
enum Rim {
    /// Round about the pith, with this radius.
    Round(f64),
    /// Corners, in order.
    Corners(Vec<[f64; 2]>),
}

impl Outline {
    pub(super) fn of(log: &Log, frame: &Frame) -> Self {
        let Some(first) = log.sections().and_then(<[_]>::first) else {
            let radius = log.small_end().inches_f64() / 2.0;
            let rim = Rim::Round(radius);
            return Self { rim, left: -radius, right: radius, top: radius, foot: -radius };
        };
        let basis = frame.basis(log.length());
        let corners: Vec<[f64; 2]> =
            first.wood.iter().map(|p| place(&basis, *p, first.z)).collect();
        let most = |axis: usize, sign: f64| {
            sign * corners.iter().map(|p| sign * p[axis]).fold(f64::NEG_INFINITY, f64::max)
        };
        let (left, right, top, foot) = (most(0, -1.0), most(0, 1.0), most(1, 1.0), most(1, -1.0));
        Self { rim: Rim::Corners(corners), left, right, top, foot }
    }

    pub(super) fn width(&self) -> f64 {
        self.right - self.left
    }

    pub(super) fn height(&self) -> f64 {
        self.top - self.foot
    }

    /// Where the wood begins and ends at a height, its outermost points; `None` above and below it.
    pub(super) fn across(&self, up: f64) -> Option<(f64, f64)> {
        let corners = match &self.rim {
            Rim::Round(radius) => {
                let square = radius * radius - up * up;
                return (square >= 0.0).then(|| (-square.sqrt(), square.sqrt()));
            }
            Rim::Corners(corners) => corners,
        };
        let next = corners.iter().cycle().skip(1);
        let met = corners.iter().zip(next).filter_map(|(a, b)| {
            let share = (up - a[1]) / (b[1] - a[1]);
            ((a[1] < up) != (b[1] < up)).then(|| a[0] + share * (b[0] - a[0]))
        });
        let ends = met.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
            (low.min(at), high.max(at))
        });
        (ends.0 <= ends.1).then_some(ends)
    }
}

/// A point of the section at a station, seen along the axis.
fn place(basis: &Basis, [x, y]: [f64; 2], z: f64) -> [f64; 2] {
    [basis.u, basis.h].map(|axis| axis[0] * x + axis[1] * y + axis[2] * z)
}

/// Where a flaw is at its end nearest to the small end: convex regions.
pub(super) fn regions(log: &Log, frame: &Frame, flaw: &Flaw) -> Vec<Vec<[f64; 2]>> {
    let (basis, z) = (frame.basis(log.length()), flaw.from.inches_f64());
    let seen = |region: &Vec<[f64; 2]>| region.iter().map(|p| place(&basis, *p, z)).collect();
    flaw.regions(&log.section_at(z)).iter().map(seen).collect()
}

/// Whether a convex region holds a point.
pub(super) fn holds(region: &[[f64; 2]], at: [f64; 2]) -> bool {
    let next = region.iter().cycle().skip(1);
    let mut sides = region
        .iter()
        .zip(next)
        .map(|(a, b)| (b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0]));
    let turns: Vec<f64> = sides.by_ref().collect();
    turns.iter().all(|turn| *turn >= 0.0) || turns.iter().all(|turn| *turn <= 0.0)
}

/// A flaw so thin that every character of it is drawn, or it would be lost.
pub(super) fn is_thin(flaw: &Flaw) -> bool {
    matches!(flaw.region, Region::Ring { .. } | Region::Radial { .. } | Region::Spot { .. })
}

/// The letter that a flaw is hatched with.
pub(super) fn hatch(kind: FlawKind) -> char {
    match kind {
        FlawKind::Rot => 'r',
        FlawKind::Hollow => 'h',
        FlawKind::Shake => 's',
        // An s is a shake or a stain already.
        FlawKind::Split => '/',
        FlawKind::Stain => 't',
        FlawKind::Metal => 'm',
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pithward_geometry::{Angle, End, Taped};
    use pithward_measure::Length;

    #[test]
    fn an_oval_end_is_as_wide_as_it_lies() {
        let end = |longer, shorter| End {
            longer: Length::inches(longer),
            shorter: Length::inches(shorter),
            clock: Angle::degrees(90),
            pith_off: Length::inches(1),
            pith_clock: Angle::ZERO,
            bark: Length::ZERO,
        };
        let (small, butt) = (end(16, 12), end(17, 13));
        let length = Length::feet(8);
        let taped = Taped { length, small, butt, sweep: None, crook: None, flare: None };
        let log = Log::taped(&taped).unwrap();
        let lying = Outline::of(&log, &Frame::LEVEL);
        assert!((lying.width() - 16.0).abs() < 1e-3 && (lying.height() - 12.0).abs() < 1e-3);
        // The pith is an inch above the middle.
        assert!((lying.top - 5.0).abs() < 1e-3, "{lying:?}");
        let (from, to) = lying.across(-1.0).unwrap();
        assert!((from + 8.0).abs() < 1e-3 && (to - 8.0).abs() < 1e-3);
        assert_eq!(lying.across(5.1), None);
        let upright = Outline::of(&log, &Frame::turned(Angle::degrees(90)));
        assert!((upright.width() - 12.0).abs() < 1e-3);
        assert!((upright.right - 7.0).abs() < 1e-3 || (upright.left + 7.0).abs() < 1e-3);
    }

    #[test]
    fn a_region_holds_what_is_within_it_whichever_way_it_runs() {
        let mut square = vec![[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]];
        assert!(holds(&square, [1.0, 0.5]) && !holds(&square, [2.5, 1.0]));
        square.reverse();
        assert!(holds(&square, [1.0, 0.5]) && !holds(&square, [1.0, -0.5]));
    }
}
