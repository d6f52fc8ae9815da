//! Squares, beams and opening faces in a round log: closed forms.
//!
//! `D` is the diameter inside the bark at the small end, `w` and `h` the width and thickness of a
//! timber. A timber's corners lie on the circle, so `D^2 = w^2 + h^2`. With wane of legs `c` allowed,
//! the corner itself may be missing and the ends of the legs lie on the circle instead:
//!
//! ```text
//! D = max( sqrt(w^2 + (h - 2c)^2), sqrt((w - 2c)^2 + h^2) )
//! ```
//! A face of width `f` opens at a depth of `D/2 - sqrt(D^2 - f^2) / 2` under the bark line, and a slab
//! of depth `s` leaves a face of `2 sqrt(s (D - s))`.
//!
//! Every rounding goes to the safe side by a nanometre: logs up, pieces and faces down.
//!
//! # Source
//! Plain geometry of the circle. Strongest and stiffest beam: section modulus `b d^2 / 6` and moment
//! `b d^3 / 12` of the textbooks, greatest on `b^2 + d^2 = D^2`.

use crate::{Wane, WaneFault};
use pithward_measure::Length;

/// A rectangle in the round, standing on edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Beam {
    /// Across the load.
    pub breadth: Length,
    /// Along the load.
    pub depth: Length,
}

/// The smallest small end that gives a full-length timber with no more wane than allowed on its four
/// edges; straight log, timber in the middle. Sweep and a pith off centre come on top.
///
/// # Errors
/// If the wane is negative, or half of the timber or more.
pub fn smallest_log(thickness: Length, width: Length, wane: Wane) -> Result<Length, WaneFault> {
    wane.check(thickness, width)?;
    let (w, h) = (width.inches_f64(), thickness.inches_f64());
    let along_thickness = (thickness - wane.thickness * 2).inches_f64();
    let along_width = (width - wane.width * 2).inches_f64();
    Ok(up(hypotenuse(w, along_thickness).max(hypotenuse(along_width, h))))
}

/// The smallest small end that gives four square timbers of side `side` around the heart, none of
/// which has the pith in it: `sqrt(2) (2w + k + p)` for a cross cut through the middle of kerf `kerf`
/// and a `pith_zone` to keep clear of, both counted once across the log.
pub fn smallest_log_for_four_free_of_heart(
    side: Length,
    kerf: Length,
    pith_zone: Length,
) -> Length {
    let across = (side * 2 + kerf + pith_zone).inches_f64();
    up(hypotenuse(across, across))
}

/// Side of the largest square in a round log: `D / sqrt(2)`; 64 percent of the circle.
pub fn largest_square(diameter: Length) -> Length {
    down(diameter.inches_f64() * 0.5_f64.sqrt())
}

/// The beam that bears most before it breaks: `D / sqrt(3)` by `D sqrt(2/3)`, sides as 1 to `sqrt(2)`.
pub fn strongest_beam(diameter: Length) -> Beam {
    let d = diameter.inches_f64();
    Beam { breadth: down(d * (1.0 / 3.0_f64).sqrt()), depth: down(d * (2.0 / 3.0_f64).sqrt()) }
}

/// The beam that bends least: `D / 2` by `D sqrt(3) / 2`, sides as 1 to `sqrt(3)`.
pub fn stiffest_beam(diameter: Length) -> Beam {
    Beam { breadth: diameter.half(), depth: down(diameter.inches_f64() * 0.75_f64.sqrt()) }
}

/// Width of the face that a slab of this depth leaves; `None` if the slab is not part of the log.
pub fn face_width(diameter: Length, slab_depth: Length) -> Option<Length> {
    if !(Length::ZERO..=diameter).contains(&slab_depth) {
        return None;
    }
    let (s, rest) = (slab_depth.inches_f64(), (diameter - slab_depth).inches_f64());
    Some(down(2.0 * (s * rest).sqrt()))
}

/// Depth of the slab, under the bark line at the small end, that opens a face of this width; `None`
/// if the log is not that wide. A shallower slab opens a narrower face.
pub fn slab_depth(diameter: Length, face_width: Length) -> Option<Length> {
    if !(Length::ZERO..=diameter).contains(&face_width) {
        return None;
    }
    let (d, f) = (diameter.inches_f64(), face_width.inches_f64());
    Some(up((d - ((d - f) * (d + f)).sqrt()) / 2.0))
}

/// Thickness of the largest piece of this width in the middle of a round log: `sqrt(D^2 - w^2)`;
/// `None` if the log is not that wide.
pub fn thickest_at_width(diameter: Length, width: Length) -> Option<Length> {
    if !(Length::ZERO..=diameter).contains(&width) {
        return None;
    }
    let (d, w) = (diameter.inches_f64(), width.inches_f64());
    Some(down(((d - w) * (d + w)).sqrt()))
}

fn hypotenuse(a: f64, b: f64) -> f64 {
    (a * a + b * b).sqrt()
}

fn down(inches: f64) -> Length {
    Length::from_inches_f64_down(inches)
}

fn up(inches: f64) -> Length {
    -Length::from_inches_f64_down(-inches)
}

#[cfg(test)]
mod tests {
    use super::{
        Beam, face_width, largest_square, slab_depth, smallest_log,
        smallest_log_for_four_free_of_heart, stiffest_beam, strongest_beam, thickest_at_width,
    };
    use crate::{Wane, WaneFault};
    use pithward_measure::Length;
    use proptest::prelude::*;
    use std::f64::consts::PI;

    #[track_caller]
    fn check(length: Length, digits: usize, printed: &str) {
        assert_eq!(format!("{:.digits$}", length.inches_f64()), printed);
    }

    /// Plain geometry (calc): small end in inches for wane legs of 0, 1/2 and 1 in.
    #[test]
    fn smallest_log_for_a_boxed_timber() {
        for (thickness, width, printed) in [
            (4, 4, ["5.66", "5.00", "4.47"]),
            (4, 6, ["7.21", "6.71", "6.32"]),
            (6, 6, ["8.49", "7.81", "7.21"]),
            (6, 8, ["10.00", "9.43", "8.94"]),
            (7, 9, ["11.40", "10.82", "10.30"]),
            (8, 8, ["11.31", "10.63", "10.00"]),
            (8, 10, ["12.81", "12.21", "11.66"]),
            (8, 12, ["14.42", "13.89", "13.42"]),
            (10, 10, ["14.14", "13.45", "12.81"]),
            (10, 12, ["15.62", "15.00", "14.42"]),
            (12, 12, ["16.97", "16.28", "15.62"]),
        ] {
            for (halves, printed) in (0..).zip(printed) {
                let wane = Wane::legs(Length::sixty_fourths(32 * halves));
                let (thickness, width) = (Length::inches(thickness), Length::inches(width));
                let diameter = smallest_log(thickness, width, wane).unwrap();
                check(diameter, 2, printed);
                assert_eq!(smallest_log(width, thickness, wane), Ok(diameter));
            }
        }
        let wane = Wane::legs(Length::inches(2));
        let four = Length::inches(4);
        assert_eq!(
            smallest_log(four, four, wane),
            Err(WaneFault::Legs { got: wane.width, of: four })
        );
    }

    /// Plain geometry (calc): slab depth in inches for opening faces of 3, 4, 5, 6, 8 and 10 in; the
    /// table leaves out faces as wide as the log.
    #[test]
    fn slab_depth_for_an_opening_face() {
        const NONE: &str = "-";
        for (diameter, printed) in [
            (8, ["0.29", "0.54", "0.88", "1.35", NONE, NONE]),
            (10, ["0.23", "0.42", "0.67", "1.00", "2.00", NONE]),
            (12, ["0.19", "0.34", "0.55", "0.80", "1.53", "2.68"]),
            (14, ["0.16", "0.29", "0.46", "0.68", "1.26", "2.10"]),
            (16, ["0.14", "0.25", "0.40", "0.58", "1.07", "1.76"]),
            (20, ["0.11", "0.20", "0.32", "0.46", "0.83", "1.34"]),
            (24, ["0.09", "0.17", "0.26", "0.38", "0.69", "1.09"]),
        ] {
            for (face, printed) in [3, 4, 5, 6, 8, 10].into_iter().zip(printed) {
                let depth = slab_depth(Length::inches(diameter), Length::inches(face));
                if printed == NONE {
                    assert!(face >= diameter);
                    assert_eq!(depth.is_none(), face > diameter);
                } else {
                    check(depth.unwrap(), 2, printed);
                }
            }
        }
        for (diameter, printed) in [(10, "1.000"), (14, "0.675"), (20, "0.461")] {
            check(slab_depth(Length::inches(diameter), Length::inches(6)).unwrap(), 3, printed);
        }
    }

    #[test]
    fn squares_and_beams() {
        // A 30-cm log squares to 450 cm2; the square is 2 / pi of the circle.
        let side = largest_square(Length::mm(300)).mm_f64();
        assert!((side * side / 100.0 - 450.0).abs() < 1e-4);
        assert_eq!(format!("{:.5}", 2.0 / PI), "0.63662");
        check(largest_square(Length::inches(1)), 5, "0.70711");

        let Beam { breadth, depth } = strongest_beam(Length::inches(12));
        check(breadth, 2, "6.93");
        check(depth, 2, "9.80");
        let metric = strongest_beam(Length::mm(300));
        assert_eq!(
            format!("{:.1} {:.1}", metric.breadth.mm_f64(), metric.depth.mm_f64()),
            "173.2 244.9"
        );
        let share = breadth.inches_f64() * depth.inches_f64() / (PI / 4.0 * 144.0);
        assert_eq!(format!("{share:.5}"), "0.60021");

        let Beam { breadth, depth } = stiffest_beam(Length::inches(2));
        check(breadth, 5, "1.00000");
        check(depth, 5, "1.73205");
        check(thickest_at_width(Length::inches(10), Length::inches(6)).unwrap(), 3, "8.000");
        assert_eq!(thickest_at_width(Length::inches(6), Length::inches(7)), None);
    }

    /// Four 4x4 with a kerf of 0.1 in and no pith zone: sqrt(2) * 8.1 = 11.455 in.
    #[test]
    fn four_timbers_free_of_heart() {
        let kerf = Length::from_inches_f64(0.1);
        let diameter = smallest_log_for_four_free_of_heart(Length::inches(4), kerf, Length::ZERO);
        check(diameter, 3, "11.455");
    }

    #[test]
    fn a_face_is_part_of_the_log() {
        let ten = Length::inches(10);
        assert_eq!(face_width(ten, Length::ZERO), Some(Length::ZERO));
        assert_eq!(face_width(ten, ten.half()), Some(ten));
        assert_eq!(face_width(ten, ten * 2), None);
        assert_eq!(face_width(ten, -ten), None);
        assert_eq!(slab_depth(ten, ten), Some(ten.half()));
        assert_eq!(slab_depth(ten, -ten), None);
    }

    proptest! {
        /// A slab as deep as was asked for opens at least the face, and the smallest log holds its
        /// timber; both but for the last digits of a square root.
        #[test]
        fn prop_there_and_back(diameter in 2.0..60.0_f64, share in 0.0..1.0_f64, c in 0.0..0.45_f64) {
            let diameter = Length::from_inches_f64(diameter);
            let face = Length::from_inches_f64_down(diameter.inches_f64() * share);
            let depth = slab_depth(diameter, face).unwrap();
            prop_assert!(face_width(diameter, depth).unwrap() >= face - Length::nm(2));

            let thickness = face.max(Length::inches(1));
            let wane = Wane::legs(Length::from_inches_f64_down(thickness.inches_f64() * c));
            let log = smallest_log(thickness, diameter, wane).unwrap().inches_f64();
            let (w, h, c) = (diameter.inches_f64(), thickness.inches_f64(), wane.width.inches_f64());
            for (x, y) in [(w, h - 2.0 * c), (w - 2.0 * c, h)] {
                prop_assert!(x * x + y * y <= log * log * (1.0 + 1e-14));
            }
        }
    }
}
