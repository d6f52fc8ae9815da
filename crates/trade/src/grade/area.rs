//! Rectangles on a face, cutting units, and what of a face is free of defects.
//!
//! # Maximal areas
//! An area of the face is **maximal** when it is free and no side of it can move outward. Each of its sides
//! then lies on an edge of the board or of a defect, so there are few: for every pair of such edges across, the
//! band between them is cut by the defects that reach into it, and each gap along the band is maximal along; it
//! is maximal across too where something stops it on either side. Every free rectangle lies in a maximal one.
//! `O(d^3)` for `d` defects.

use super::Least;
use pithward_measure::Length;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Sub};

/// A rectangle on a face, its sides parallel to the board's edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Area {
    /// From and to along the board, from the one end.
    pub along: (Length, Length),
    /// From and to across it, from the one edge.
    pub across: (Length, Length),
}

impl Area {
    /// From these to these.
    pub const fn new(along: (Length, Length), across: (Length, Length)) -> Self {
        Self { along, across }
    }

    /// How long it is.
    pub fn length(&self) -> Length {
        self.along.1 - self.along.0
    }

    /// How wide it is.
    pub fn width(&self) -> Length {
        self.across.1 - self.across.0
    }

    /// Its content; none where it is turned inside out.
    pub fn units(&self) -> Units {
        let [l, w] = [self.length(), self.width()].map(|side| i128::from(side.as_nm().max(0)));
        Units(l * w)
    }

    /// Whether two have more than an edge in common.
    pub fn meets(&self, other: &Self) -> bool {
        let over = |a: (Length, Length), b: (Length, Length)| a.0.max(b.0) < a.1.min(b.1);
        over(self.along, other.along) && over(self.across, other.across)
    }

    /// Whether another lies within it, edges included.
    pub fn holds(&self, other: &Self) -> bool {
        let within = |a: (Length, Length), b: (Length, Length)| a.0 <= b.0 && b.1 <= a.1;
        within(self.along, other.along) && within(self.across, other.across)
    }

    /// What both have in common; `None` where that is nothing or an edge.
    pub fn common(&self, other: &Self) -> Option<Self> {
        let both = |a: (Length, Length), b: (Length, Length)| (a.0.max(b.0), a.1.min(b.1));
        let common = Self::new(both(self.along, other.along), both(self.across, other.across));
        self.meets(other).then_some(common)
    }
}

/// Content of an area, exact. A cutting unit is 1 in by 1 ft.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Units(i128);

impl Units {
    /// None.
    pub const ZERO: Self = Self(0);

    /// Square nanometres in a hundredth of a cutting unit; it is a whole number of them.
    const HUNDREDTH: i128 =
        Length::inches(1).as_nm() as i128 * Length::feet(1).as_nm() as i128 / 100;

    /// So many hundredths of a cutting unit.
    pub const fn hundredths(hundredths: i64) -> Self {
        Self(hundredths as i128 * Self::HUNDREDTH)
    }

    /// So many square inches: a cutting unit has twelve.
    pub const fn square_inches(number: i64) -> Self {
        Self(number as i128 * Length::inches(1).as_nm() as i128 * Length::inches(1).as_nm() as i128)
    }

    /// Cutting units, for print.
    pub fn f64(self) -> f64 {
        self.0 as f64 / (100 * Self::HUNDREDTH) as f64
    }

    /// How many parts of this size cover it, rounded up; none where the part has no content.
    pub(super) fn parts_of(self, part: Self) -> usize {
        if part.0 <= 0 {
            return 0;
        }
        usize::try_from(self.0.max(0) / part.0 + i128::from(self.0 % part.0 > 0))
            .unwrap_or(usize::MAX)
    }

    /// How long a strip of this width is that holds it, rounded up to the nanometre.
    pub(super) fn over(self, width: Length) -> Length {
        let width = i128::from(width.as_nm().max(1));
        let long = self.0.max(0) / width + i128::from(self.0 % width > 0);
        Length::nm(i64::try_from(long).unwrap_or(i64::MAX)).min(Length::MAX)
    }

    /// So many times as much.
    pub(super) fn times(self, times: i64) -> Self {
        Self(self.0.saturating_mul(i128::from(times)))
    }

    /// A nanometre of a nanometre: more than what was reached.
    pub(super) fn and_more(self) -> Self {
        Self(self.0 + 1)
    }
}

impl Add for Units {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}
impl AddAssign for Units {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}
impl Sub for Units {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}
impl Sum for Units {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::ZERO, Add::add)
    }
}

/// Content of several areas together, what they have in common counted once.
///
/// The plane is cut along into strips at their ends; `O(n^2 log n)`.
pub(super) fn together(areas: &[Area]) -> Units {
    let mut ends: Vec<Length> = areas.iter().flat_map(|a| [a.along.0, a.along.1]).collect();
    ends.sort_unstable();
    ends.dedup();
    let mut low_first: Vec<&Area> = areas.iter().collect();
    low_first.sort_unstable_by_key(|area| area.across.0);
    let strip = |ends: &[Length]| {
        let (mut covered, mut to) = (Length::ZERO, -Length::MAX);
        for area in &low_first {
            if area.along.0 <= ends[0] && ends[1] <= area.along.1 {
                covered += (area.across.1 - area.across.0.max(to)).max(Length::ZERO);
                to = to.max(area.across.1);
            }
        }
        Area::new((ends[0], ends[1]), (Length::ZERO, covered)).units()
    };
    ends.windows(2).map(strip).sum()
}

/// The maximal areas of a face that are free of these and large enough for a cutting, the largest first.
pub(super) fn maximal(face: &Area, blocked: &[Area], least: &Least) -> Vec<Area> {
    let blocked: Vec<Area> = blocked.iter().filter_map(|area| area.common(face)).collect();
    // On its low side only the upper edge of something stops an area, on its high side only a lower one.
    let ends = |own: Length, others: &dyn Fn(&Area) -> Length| {
        let mut ends: Vec<Length> = blocked.iter().map(others).chain([own]).collect();
        ends.sort_unstable();
        ends.dedup();
        ends
    };
    let lows = ends(face.across.0, &|area| area.across.1);
    let highs = ends(face.across.1, &|area| area.across.0);
    let mut long_first = blocked.clone();
    long_first.sort_unstable_by_key(|area| area.along.0);
    let mut all = Vec::new();
    for low in &lows {
        for high in &highs[highs.partition_point(|high| high <= low)..] {
            let Some(shortest) = least.shortest(*high - *low) else { continue };
            let across = (*low, *high);
            let mut from = face.along.0;
            let mut gap = |to: Length, from: Length| {
                let area = Area::new((from, to), across);
                if to - from >= shortest && to > from && is_stopped(face, &blocked, &area) {
                    all.push(area);
                }
            };
            let reaching = |area: &&Area| area.across.0 < *high && *low < area.across.1;
            for area in long_first.iter().filter(reaching) {
                gap(area.along.0, from);
                from = from.max(area.along.1);
            }
            gap(face.along.1, from);
        }
    }
    all.sort_unstable_by_key(|area| (std::cmp::Reverse(area.units()), *area));
    all
}

/// Whether something keeps an area from growing across, on either side.
fn is_stopped(face: &Area, blocked: &[Area], area: &Area) -> bool {
    let beside = |other: &&Area| other.along.0 < area.along.1 && area.along.0 < other.along.1;
    let low = area.across.0 == face.across.0
        || blocked.iter().filter(beside).any(|other| other.across.1 == area.across.0);
    let high = area.across.1 == face.across.1
        || blocked.iter().filter(beside).any(|other| other.across.0 == area.across.1);
    low && high
}

#[cfg(test)]
mod tests {
    use super::{Area, Units, maximal, together};
    use crate::grade::Least;
    use pithward_measure::Length;

    fn area(along: (i64, i64), across: (i64, i64)) -> Area {
        let [along, across] = [along, across].map(|(a, b)| (Length::inches(a), Length::inches(b)));
        Area::new(along, across)
    }

    #[test]
    fn a_cutting_unit_is_an_inch_by_a_foot() {
        assert_eq!(area((0, 12), (0, 1)).units(), Units::hundredths(100));
        assert_eq!(Units::square_inches(36), Units::hundredths(300));
        assert_eq!(Units::hundredths(1164).f64().to_string(), "11.64");
        assert_eq!(Units::square_inches(36).over(Length::inches(3)), Length::inches(12));
        assert_eq!(Units::hundredths(2000).parts_of(Units::hundredths(600)), 4);
        assert_eq!(Units::hundredths(1800).parts_of(Units::hundredths(600)), 3);
    }

    #[test]
    fn what_areas_have_in_common_counts_once() {
        let cross = [area((0, 9), (3, 6)), area((3, 6), (0, 9))];
        assert_eq!(together(&cross), Units::square_inches(27 + 27 - 9));
        assert_eq!(together(&[cross[0], cross[0]]), Units::square_inches(27));
        assert_eq!(together(&[]), Units::ZERO);
        let apart = [area((0, 1), (0, 1)), area((5, 6), (0, 1))];
        assert_eq!(together(&apart), Units::square_inches(2));
    }

    #[test]
    fn a_knot_in_the_middle_leaves_four_maximal_areas() {
        let (face, knot) = (area((0, 90), (0, 9)), area((40, 50), (3, 6)));
        let any = Least::sizes(&[(Length::nm(1), Length::nm(1))]);
        let all = maximal(&face, &[knot], &any);
        let expected = [
            area((0, 40), (0, 9)),
            area((50, 90), (0, 9)),
            area((0, 90), (0, 3)),
            area((0, 90), (6, 9)),
        ];
        assert_eq!(all.len(), 4);
        assert!(expected.iter().all(|area| all.contains(area)));
        let wide = Least::sizes(&[(Length::inches(4), Length::inches(1))]);
        assert_eq!(maximal(&face, &[knot], &wide).len(), 2);
        assert_eq!(maximal(&face, &[face], &any), []);
    }
}
