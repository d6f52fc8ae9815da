//! What a log holds, in cubic feet, from diameters inside the bark.
//!
//! `A` is the area of a section, `L` the length; `s`, `m` and `l` are the small end, the middle and
//! the large end.
//!
//! ```text
//! Smalian    L (As + Al) / 2                      high on tapered logs
//! Huber      L Am                                 low on tapered logs, by half of that
//! Newton     L (As + 4 Am + Al) / 6               exact for a cone, a paraboloid and a neiloid
//! cone       L (As + sqrt(As Al) + Al) / 3        exact for a straight taper
//! neiloid    L (As + cbrt(As^2 Al) + cbrt(As Al^2) + Al) / 4      a flared butt
//! ```
//! # Source
//! University of Missouri, forestry functions page; textbook formulas all. A length that makes no
//! sense (negative) gives a volume that makes none.

use pithward_measure::Length;
use std::f64::consts::PI;

/// Cubic metres in a cubic foot: 0.3048 m cubed, exactly.
const CUBIC_METRES_PER_CUBIC_FOOT: f64 = 0.3048 * 0.3048 * 0.3048;

/// A volume in cubic feet.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct CubicFeet(f64);

impl CubicFeet {
    /// A volume of so many cubic feet.
    pub const fn new(cubic_feet: f64) -> Self {
        Self(cubic_feet)
    }

    /// Cubic feet.
    pub const fn get(self) -> f64 {
        self.0
    }

    /// Cubic metres.
    pub fn cubic_metres(self) -> f64 {
        self.0 * CUBIC_METRES_PER_CUBIC_FOOT
    }

    /// Board feet of solid wood: 12 to the cubic foot, before any saw has touched it.
    pub fn board_feet(self) -> f64 {
        self.0 * 12.0
    }
}

/// By the mean of the two end areas.
pub fn smalian(small: Length, large: Length, length: Length) -> CubicFeet {
    CubicFeet(length.feet_f64() * (area_ft2(small) + area_ft2(large)) / 2.0)
}

/// By the area at the middle of the length.
pub fn huber(middle: Length, length: Length) -> CubicFeet {
    CubicFeet(length.feet_f64() * area_ft2(middle))
}

/// By both ends and four times the middle.
pub fn newton(small: Length, middle: Length, large: Length, length: Length) -> CubicFeet {
    let areas = area_ft2(small) + 4.0 * area_ft2(middle) + area_ft2(large);
    CubicFeet(length.feet_f64() * areas / 6.0)
}

/// A log whose diameter grows evenly.
pub fn cone_frustum(small: Length, large: Length, length: Length) -> CubicFeet {
    // sqrt(As Al) is the area on the product of the diameters.
    let (s, l) = (small.feet_f64(), large.feet_f64());
    CubicFeet(length.feet_f64() * PI / 4.0 * (s * s + s * l + l * l) / 3.0)
}

/// A log that flares like the foot of a tree.
pub fn neiloid_frustum(small: Length, large: Length, length: Length) -> CubicFeet {
    // The cube roots of both areas give the two areas between them.
    let (s, l) = (cube_root(area_ft2(small)), cube_root(area_ft2(large)));
    CubicFeet(length.feet_f64() * (s * s * s + s * s * l + s * l * l + l * l * l) / 4.0)
}

/// Area of a round section, square feet.
fn area_ft2(diameter: Length) -> f64 {
    let feet = diameter.feet_f64();
    PI / 4.0 * feet * feet
}

/// The cube root of a number that is not negative, by Newton's method from above.
///
/// In plain arithmetic, because the platform's own `cbrt` may differ in the last digit from one
/// machine to another. From above the steps only fall, until they no longer can.
fn cube_root(x: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    let mut root = x.max(1.0);
    loop {
        let next = root - (root - x / (root * root)) / 3.0;
        if next >= root || next.is_nan() {
            return root;
        }
        root = next;
    }
}

#[cfg(test)]
mod tests {
    use super::{cone_frustum, cube_root, huber, neiloid_frustum, newton, smalian};
    use crate::published;
    use pithward_measure::Length;
    use proptest::prelude::*;

    const EXAMPLES: &str = include_str!("../../../data/published/cubic_examples.csv");

    /// Examples that print another last digit than their own formula: formula, printed, ours. The
    /// first is 10.5689; the second was worked with 0.785 for pi / 4.
    const DIFFER: [(&str, &str, &str); 2] =
        [("neiloid_frustum", "10.568", "10.569"), ("huber", "1.256", "1.257")];

    #[test]
    fn published_worked_examples() {
        let mut differ = Vec::new();
        let rows = published::read(EXAMPLES, |row| {
            let metric = row.text("units")? == "metric";
            let diameter = |column| {
                let inches = |value| if metric { value / 2.54 } else { value };
                row.number(column).map(|value| Length::from_inches_f64(inches(value)))
            };
            let length = row.number("length")?;
            let length =
                Length::from_inches_f64(if metric { length / 0.0254 } else { length * 12.0 });
            let formula = row.text("formula")?;
            let volume = match formula {
                "smalian" => smalian(diameter("small")?, diameter("large")?, length),
                "huber" => huber(diameter("middle")?, length),
                "newton" => {
                    newton(diameter("small")?, diameter("middle")?, diameter("large")?, length)
                }
                "cone_frustum" => cone_frustum(diameter("small")?, diameter("large")?, length),
                "neiloid_frustum" => {
                    neiloid_frustum(diameter("small")?, diameter("large")?, length)
                }
                other => panic!("{other}"),
            };
            let volume = if metric { volume.cubic_metres() } else { volume.get() };
            let printed = row.text("volume")?;
            let digits = printed.split_once('.').map_or(0, |(_, digits)| digits.len());
            let ours = format!("{volume:.digits$}");
            if ours != printed {
                differ.push((formula.to_owned(), printed.to_owned(), ours));
            }
            Ok(())
        })
        .unwrap();
        assert_eq!(rows.len(), 13);
        let expected = DIFFER.map(|(formula, printed, ours)| {
            (formula.to_owned(), printed.to_owned(), ours.to_owned())
        });
        assert_eq!(differ, expected);
    }

    /// A 12-in log of 16 ft with 2 in of taper holds 14.78 ft3; the cylinder of its small end 12.57.
    #[test]
    fn taper_holds_wood() {
        let (small, large, length) = (Length::inches(12), Length::inches(14), Length::feet(16));
        let check = |volume: super::CubicFeet, printed: &str| {
            assert_eq!(format!("{:.2}", volume.get()), printed);
        };
        check(cone_frustum(small, large, length), "14.78");
        check(cone_frustum(small, small, length), "12.57");
        check(neiloid_frustum(small, small, length), "12.57");
        assert_eq!(format!("{:.3}", super::CubicFeet::new(1.0).board_feet()), "12.000");
        // 423.776 board feet to the cubic metre.
        let cubic_metre = super::CubicFeet::new(1.0 / super::CubicFeet::new(1.0).cubic_metres());
        assert_eq!(format!("{:.3}", cubic_metre.board_feet()), "423.776");
    }

    #[test]
    fn cube_roots() {
        for root in [0.0, 1e-6, 0.3, 1.0, 1.7, 3.0, 120.0] {
            let found = cube_root(root * root * root);
            assert!((found - root).abs() <= 1e-14 * root, "{root}: {found}");
        }
    }

    proptest! {
        /// For a frustum of a cone: Huber <= exact <= Smalian, the gaps 1 : 2, and Newton exact.
        #[test]
        fn prop_straight_taper(small in 1.0..40.0_f64, taper in 0.0..10.0_f64, feet in 1_i64..40) {
            // Even nanometres, so that the middle diameter is exactly the mean.
            let small = Length::from_inches_f64(small).floor_to(Length::nm(2));
            let large = small + Length::from_inches_f64(taper).floor_to(Length::nm(2));
            let (middle, length) = ((small + large).half(), Length::feet(feet));
            let exact = cone_frustum(small, large, length).get();
            let low = exact - huber(middle, length).get();
            let high = smalian(small, large, length).get() - exact;
            let newton = newton(small, middle, large, length).get();
            let neiloid = neiloid_frustum(small, large, length).get();
            let slack = 1e-12 * exact;
            prop_assert!(low >= -slack && high >= -slack);
            prop_assert!((high - 2.0 * low).abs() <= 4.0 * slack);
            prop_assert!((newton - exact).abs() <= slack);
            prop_assert!(neiloid <= exact + slack, "a flared log is hollow beside a cone");
        }
    }
}
