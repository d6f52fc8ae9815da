//! How a log looks to somebody with a tape and a string: what of it is not round and straight.

use super::{Log, Section, section};
use crate::Angle;
use crate::trig::{atan2, norm, sin_cos};
use pithward_measure::Length;

/// A log that is not round and straight, in the words of a tape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Looks {
    /// The small end, inside the bark.
    pub small_end: Across,
    /// The butt, inside the bark, with any flare.
    pub butt: Across,
    /// Where its middle leaves the straight line between the ends' middles most.
    pub bow: Bow,
}

/// Two diameters at right angles.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Across {
    /// The greatest of all directions.
    pub longer: Length,
    /// Square to it.
    pub shorter: Length,
    /// Direction of the longer one, within half a turn of 12 o'clock.
    pub clock: Angle,
}

/// A bow or a bend.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bow {
    /// How far; zero where the log is straight.
    pub depth: Length,
    /// Toward where: the side of the belly.
    pub clock: Angle,
    /// Where, from the small end.
    pub at: Length,
}

impl Log {
    /// What of it is not round and straight; `None` where its ends say all.
    pub fn looks(&self) -> Option<Looks> {
        let sections = self.sections()?;
        let (small, butt) = (sections.first()?, sections.last()?);
        Some(Looks { small_end: across(small), butt: across(butt), bow: bow(sections) })
    }
}

/// The longest diameter, to a degree, and the one square to it.
fn across(section: &Section) -> Across {
    let width = |degrees: u32| {
        let (sin, cos) = sin_cos(f64::from(degrees) * (std::f64::consts::PI / 180.0));
        let along = section.wood.iter().map(|p| p[0] * sin + p[1] * cos);
        let (low, high) = along.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
            (low.min(at), high.max(at))
        });
        high - low
    };
    let (mut longest, mut clock) = (0.0, 0);
    for degrees in 0..180 {
        let wide = width(degrees);
        // What differs by less than a tape shows does not turn the axis.
        if wide > longest + 1e-6 {
            (longest, clock) = (wide, degrees);
        }
    }
    Across {
        longer: Length::from_inches_f64(longest),
        shorter: Length::from_inches_f64(width(clock + 90)),
        clock: Angle::degrees(i32::try_from(clock).unwrap_or(0)),
    }
}

/// The furthest that the middle of a section is off the straight line between the middles of the ends.
fn bow(sections: &[Section]) -> Bow {
    let middles: Vec<(f64, [f64; 2])> =
        sections.iter().map(|of| (of.z, section::centroid(&of.wood))).collect();
    let mut most = Bow { depth: Length::ZERO, clock: Angle::ZERO, at: Length::ZERO };
    let (Some((from, a)), Some((to, b))) = (middles.first(), middles.last()) else { return most };
    let mut furthest = 0.0;
    for (z, middle) in &middles {
        let share = (z - from) / (to - from);
        let [x, y] = [0, 1].map(|n| middle[n] - a[n] - share * (b[n] - a[n]));
        let off = norm(x, y);
        if off > furthest + 1e-9 {
            furthest = off;
            most = Bow {
                depth: Length::from_inches_f64(off),
                clock: direction(x, y),
                at: Length::from_inches_f64(*z),
            };
        }
    }
    most
}

/// A direction on the clock, to a thousandth of a degree.
#[allow(clippy::cast_possible_truncation, reason = "an angle in thousandths of a degree")]
fn direction(x: f64, y: f64) -> Angle {
    let degrees = atan2(x, y) * (180.0 / std::f64::consts::PI);
    Angle::millidegrees(((degrees * 1000.0).round() as i32).rem_euclid(360_000))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{End, Flare, Sweep, Taped};

    fn end(longer: i64, shorter: i64, clock: i32) -> End {
        End {
            longer: Length::inches(longer),
            shorter: Length::inches(shorter),
            clock: Angle::degrees(clock),
            pith_off: Length::inches(1),
            pith_clock: Angle::degrees(200),
            bark: Length::ZERO,
        }
    }

    #[test]
    fn a_taped_log_looks_as_it_was_taped() {
        let sweep =
            Sweep { depth: Length::inches(2), clock: Angle::degrees(195), at: Length::inches(60) };
        let flare = Flare { length: Length::inches(18), extra: Length::inches(3) };
        let taped = Taped {
            length: Length::feet(12),
            small: end(16, 14, 60),
            butt: end(18, 16, 75),
            sweep: Some(sweep),
            crook: None,
            flare: Some(flare),
        };
        let looks = Log::taped(&taped).unwrap().looks().unwrap();
        let near = |a: Length, b: i64| (a - Length::inches(b)).abs() < Length::mm(1);
        assert!(near(looks.small_end.longer, 16) && near(looks.small_end.shorter, 14));
        assert_eq!(looks.small_end.clock, Angle::degrees(60));
        assert!(near(looks.butt.longer, 21) && near(looks.butt.shorter, 19));
        assert_eq!(looks.butt.clock, Angle::degrees(75));
        assert!(near(looks.bow.depth, 2), "{looks:?}");
        assert!((looks.bow.clock.as_millidegrees() - 195_000).abs() <= 1);
        assert_eq!(looks.bow.at, Length::inches(60));
    }

    #[test]
    fn a_pith_off_the_middle_is_no_bow() {
        let taped = Taped {
            length: Length::feet(8),
            small: end(12, 12, 0),
            butt: End { pith_clock: Angle::degrees(20), ..end(13, 13, 0) },
            sweep: None,
            crook: None,
            flare: None,
        };
        let looks = Log::taped(&taped).unwrap().looks().unwrap();
        assert!(looks.bow.depth < Length::nm(1_000), "{looks:?}");
        let inch = Length::inches;
        let round = Log::new(inch(9), inch(10), Length::feet(8), inch(0), inch(0)).unwrap();
        assert_eq!(round.looks(), None);
    }
}
