//! The green size that dries and planes to a finished one.
//!
//! ```text
//! target = (F + P) / (1 - s / 100) + Z * S
//! ```
//! `F` is the finished size, `P` what planing takes off both faces together, `s` the shrinkage in
//! percent of the green size, `S` the total standard deviation of the sawn size, and `Z` how many of
//! those the target lies above the critical size, so that only a chosen percentage comes out under it.
//!
//! # Source
//! T. D. Brown, Oregon State University Extension EM 8731, 2000: the critical size (p. 12) and the
//! table of `Z` (Table 2). The whole formula is as commonly printed (memory).

use crate::published::{self, TableFault};
use pithward_measure::Length;
use std::sync::LazyLock;

const UNDERSIZE_Z: &str = include_str!("../../../data/published/undersize_z.csv");

static TABLE: LazyLock<Vec<(f64, f64)>> = LazyLock::new(|| {
    parse().expect("the table is embedded, and `the_embedded_table_parses` proves it sound")
});

/// Most that planing is believed to take off; more is a slip of the unit.
const MOST_PLANING: Length = Length::inches(1);
/// Most deviations above the critical size; a normal spread has nothing beyond.
const MOST_Z: f64 = 4.0;
/// Largest believed standard deviation of sawing; the worst of the small mills of Kilborn, USFS
/// PNW-GTR-544, 2002, had 0.121 in.
const MOST_DEVIATION: Length = Length::sixty_fourths(32);

/// How a piece is finished after sawing, for the size policy of that name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Finish {
    /// Moisture content that the piece is dried to, percent of its dry mass.
    pub final_moisture_pct: f64,
    /// What planing takes off, both faces together.
    pub planing: Length,
    /// Standard deviations of sawing that the target lies above the critical size; for a percentage
    /// of pieces that may come out scant, ask [`z_for_undersize`].
    pub z: f64,
    /// Total standard deviation of the sawn size, between boards and within them.
    pub sawing_deviation: Length,
}

/// Why a finish makes no sense. Its moisture content is judged where shrinkage is computed.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum FinishFault {
    /// The planing allowance is out of its limits.
    #[error("planing must be between 0 in and {} in, got {} in", MOST_PLANING.inches_f64(), got.inches_f64())]
    Planing {
        /// What was given.
        got: Length,
    },
    /// `z` is out of its limits.
    #[error("z must be between 0 and {MOST_Z}, got {got}")]
    Z {
        /// What was given.
        got: f64,
    },
    /// The sawing deviation is out of its limits.
    #[error("sawing deviation must be between 0 in and {} in, got {} in", MOST_DEVIATION.inches_f64(), got.inches_f64())]
    Deviation {
        /// What was given.
        got: Length,
    },
    /// The table of `Z` does not have the percentage.
    #[error("undersize must be between {least} % and {most} %, got {got} %")]
    Undersize {
        /// What was given, percent.
        got: f64,
        /// The least percentage of the table.
        least: f64,
        /// The greatest percentage of the table.
        most: f64,
    },
}

impl Finish {
    /// Whether planing, `z` and deviation are believable.
    ///
    /// # Errors
    /// [`FinishFault`] names the first that is not.
    pub fn check(&self) -> Result<(), FinishFault> {
        if !(Length::ZERO..=MOST_PLANING).contains(&self.planing) {
            return Err(FinishFault::Planing { got: self.planing });
        }
        if !(0.0..=MOST_Z).contains(&self.z) {
            return Err(FinishFault::Z { got: self.z });
        }
        if !(Length::ZERO..=MOST_DEVIATION).contains(&self.sawing_deviation) {
            return Err(FinishFault::Deviation { got: self.sawing_deviation });
        }
        Ok(())
    }
}

/// The green size, to the nearest nanometre: `(F + P) / (1 - s / 100) + Z * S`.
///
/// # Units
/// `shrink_pct` is percent of the green size; all else is a length, or the plain number `z`.
pub fn green_target(
    finished: Length,
    planing: Length,
    shrink_pct: f64,
    z: f64,
    sawing_deviation: Length,
) -> Length {
    let green = (finished + planing).inches_f64() / (1.0 - shrink_pct / 100.0);
    Length::from_inches_f64(green + z * sawing_deviation.inches_f64())
}

/// `Z` for the percentage of pieces that may come out under the critical size.
///
/// The published percentages give the published figures; between two of them, the straight line. The
/// true curve sags below such a line, so the target is never smaller than the exact one. The table's
/// figure for 0 percent is that of a normal spread for 0.1 percent.
///
/// # Errors
/// If the percentage is outside the table, 0 to 15.
pub fn z_for_undersize(undersize_pct: f64) -> Result<f64, FinishFault> {
    let between = TABLE.windows(2).find(|ends| (ends[0].0..=ends[1].0).contains(&undersize_pct));
    if let Some(&[(from, z_from), (to, z_to)]) = between {
        let share = (undersize_pct - from) / (to - from);
        return Ok(z_from * (1.0 - share) + z_to * share);
    }
    let (least, most) =
        (TABLE.first().map_or(0.0, |end| end.0), TABLE.last().map_or(0.0, |end| end.0));
    Err(FinishFault::Undersize { got: undersize_pct, least, most })
}

fn parse() -> Result<Vec<(f64, f64)>, TableFault> {
    published::read(UNDERSIZE_Z, |row| Ok((row.number("undersize_pct")?, row.number("z")?)))
}

#[cfg(test)]
mod tests {
    use super::{Finish, FinishFault, TABLE, green_target, parse, z_for_undersize};
    use crate::published;
    use pithward_measure::Length;

    const EXAMPLES: &str = include_str!("../../../data/published/green_target_examples.csv");

    #[test]
    fn the_embedded_table_parses() {
        let table = parse().unwrap();
        assert_eq!(table.len(), 9);
        assert!(table.windows(2).all(|ends| ends[0].0 < ends[1].0 && ends[0].1 > ends[1].1));
    }

    #[test]
    fn published_worked_examples() {
        let examples = published::read(EXAMPLES, |row| {
            let length = |column| row.number(column).map(Length::from_inches_f64);
            let target = green_target(
                length("final_in")?,
                length("planing_in")?,
                row.number("shrink_pct")?,
                row.number("z")?,
                length("deviation_in")?,
            );
            let printed = row.text("target_in")?;
            let digits = printed.split_once('.').map_or(0, |(_, digits)| digits.len());
            assert_eq!(format!("{:.digits$}", target.inches_f64()), printed);
            Ok(())
        })
        .unwrap();
        assert_eq!(examples.len(), 6);
    }

    #[test]
    fn published_percentages_give_published_figures() {
        for (undersize, z) in TABLE.iter() {
            assert_eq!(z_for_undersize(*undersize).unwrap().to_bits(), z.to_bits());
        }
        assert!((z_for_undersize(7.5).unwrap() - 1.465).abs() < 1e-12);
        for wrong in [-0.1, 15.1, f64::NAN] {
            assert!(z_for_undersize(wrong).is_err());
        }
    }

    #[test]
    fn a_slip_of_the_unit_is_named() {
        let finish = Finish {
            final_moisture_pct: 8.0,
            planing: Length::sixty_fourths(8),
            z: 1.65,
            sawing_deviation: Length::from_inches_f64(0.03),
        };
        assert_eq!(finish.check(), Ok(()));
        let check = |finish: Finish, expected: &str| {
            assert_eq!(finish.check().unwrap_err().to_string(), expected);
        };
        check(
            Finish { planing: Length::inches(3), ..finish },
            "planing must be between 0 in and 1 in, got 3 in",
        );
        check(Finish { z: 5.0, ..finish }, "z must be between 0 and 4, got 5");
        check(
            Finish { sawing_deviation: -Length::inches(1), ..finish },
            "sawing deviation must be between 0 in and 0.5 in, got -1 in",
        );
        assert!(matches!(Finish { z: f64::NAN, ..finish }.check(), Err(FinishFault::Z { .. })));
    }
}
