//! The sizes of the American Softwood Lumber Standard, PS 20.
//!
//! Boards are under 2 in in their smaller dimension, dimension lumber from 2 in to under 5 in, timbers
//! 5 in and up. Boards and dimension lumber have the listed sizes only; a timber has whole inches.
//!
//! # Source
//! PS 20 and, for the rough columns, Tennessee Rules 0080-07-07-.06 Table 4 (2022), which adopts it.
//! The table's rough green sizes are that state's suggestion to the sawyer.

use crate::published::{self, TableFault, inches};
use pithward_measure::Length;
use std::fmt;
use std::sync::LazyLock;

const SIZES: &str = include_str!("../../../data/published/softwood_sizes.csv");

static TABLE: LazyLock<Vec<SoftwoodSize>> = LazyLock::new(|| {
    parse().expect("the table is embedded, and `the_embedded_table_parses` proves it sound")
});

/// What the rough size has over the dressed one, for the planer: every line of the published table.
pub const ROUGH_OVER_DRESSED: Length = Length::sixty_fourths(8);

/// How much wider green wood is taken to be than dry, for sizes without a published rough green
/// size; percent of the dry size. Ours: with rounding up to 1/16 in it meets the published column
/// everywhere but at 2 in (1 3/4 for 1 11/16) and at 8 in (7 11/16 for 7 3/4). Anything from 3.8 to
/// 4 gives the same figure for every size that it is used for.
const GREEN_OVER_DRY_PCT: i64 = 4;

/// The step of the published rough green sizes.
const ROUGH_STEP: Length = Length::sixty_fourths(4);

/// Dressed green timbers are this much under the named size; PS 20, all timbers 5 in and up.
const TIMBER_DRESSED_UNDER: Length = Length::sixty_fourths(32);

/// The class of a softwood size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Class {
    /// Under 2 in in the smaller dimension.
    Board,
    /// From 2 in to under 5 in.
    Dimension,
    /// 5 in and up.
    Timber,
}

impl Class {
    /// The class of a nominal size.
    pub fn of(thickness: Length, width: Length) -> Self {
        let smaller = thickness.min(width);
        if smaller < Length::inches(2) {
            Self::Board
        } else if smaller < Length::inches(5) {
            Self::Dimension
        } else {
            Self::Timber
        }
    }
}

impl fmt::Display for Class {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Board => "board",
            Self::Dimension => "dimension lumber",
            Self::Timber => "timber",
        })
    }
}

/// Thickness or width.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// The thickness.
    Thickness,
    /// The width.
    Width,
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Thickness => "thickness",
            Self::Width => "width",
        })
    }
}

/// A line of the published table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct SoftwoodSize {
    /// Board or dimension lumber; timbers have no lines.
    pub class: Class,
    /// Whether the line is for a thickness or a width.
    pub side: Side,
    /// The size as it is named.
    pub nominal: Length,
    /// The least dressed size at 19 percent moisture or less.
    pub dressed_dry: Length,
    /// The least dressed size when green.
    pub dressed_green: Length,
    /// The rough dry size; dimension lumber only.
    pub rough_dry: Option<Length>,
    /// The suggested rough green size; dimension lumber only.
    pub rough_green: Option<Length>,
}

/// The published table.
pub fn table() -> &'static [SoftwoodSize] {
    &TABLE
}

/// The nominal sizes that the standard lists, smallest first; none for timbers, whose sizes are
/// whole inches.
pub fn listed(class: Class, side: Side) -> impl Iterator<Item = Length> {
    lines(class, side).map(|line| line.nominal)
}

/// What is sawn green for one side of a nominal size; `None` if the standard does not list it.
///
/// Dimension lumber: the published figure. Boards: the published figure of a dimension width of the
/// same name, because both dress to the same width; else [`rough_green_by_rule`]. Timbers: the
/// dressed green size and [`ROUGH_OVER_DRESSED`], which is 3/8 in under the named size (derived).
pub fn rough_green(class: Class, side: Side, nominal: Length) -> Option<Length> {
    if class == Class::Timber {
        let whole = nominal >= Length::inches(5) && nominal == nominal.floor_to(Length::inches(1));
        return whole.then_some(nominal - TIMBER_DRESSED_UNDER + ROUGH_OVER_DRESSED);
    }
    let line = lines(class, side).find(|line| line.nominal == nominal)?;
    let published = TABLE
        .iter()
        .filter(|other| side == Side::Width && other.side == side && other.nominal == nominal)
        .find_map(|other| other.rough_green.filter(|_| other.dressed_dry == line.dressed_dry));
    Some(line.rough_green.or(published).unwrap_or_else(|| rough_green_by_rule(line.dressed_dry)))
}

/// A rough green size for a dressed dry one where the standard has none: 1/8 in for the planer,
/// 4 percent for shrinkage, rounded up to 1/16 in (derived: see the README of the tables).
pub fn rough_green_by_rule(dressed_dry: Length) -> Length {
    let rough_dry = dressed_dry + ROUGH_OVER_DRESSED;
    let hundredths = (rough_dry * (100 + GREEN_OVER_DRY_PCT)).as_nm();
    Length::nm(-(-hundredths).div_euclid(100)).ceil_to(ROUGH_STEP)
}

fn lines(class: Class, side: Side) -> impl Iterator<Item = &'static SoftwoodSize> {
    TABLE.iter().filter(move |line| line.class == class && line.side == side)
}

fn parse() -> Result<Vec<SoftwoodSize>, TableFault> {
    published::read(SIZES, |row| {
        Ok(SoftwoodSize {
            class: row.cell("class", "board or dimension", |cell| match cell {
                "board" => Some(Class::Board),
                "dimension" => Some(Class::Dimension),
                _ => None,
            })?,
            side: row.cell("dimension", "thickness or width", |cell| match cell {
                "thickness" => Some(Side::Thickness),
                "width" => Some(Side::Width),
                _ => None,
            })?,
            nominal: row.cell("nominal_in", "inches", inches)?,
            dressed_dry: row.cell("dressed_dry_in", "inches", inches)?,
            dressed_green: row.cell("dressed_green_in", "inches", inches)?,
            rough_dry: row.open_cell("rough_dry_in", "inches", inches)?,
            rough_green: row.open_cell("rough_green_in", "inches", inches)?,
        })
    })
}

#[cfg(test)]
mod tests {
    use super::{
        Class, ROUGH_OVER_DRESSED, Side, listed, parse, rough_green, rough_green_by_rule, table,
    };
    use crate::published::inches;
    use pithward_measure::Length;

    fn length(text: &str) -> Length {
        inches(text).unwrap()
    }

    #[test]
    fn the_embedded_table_parses() {
        assert_eq!(parse().unwrap().len(), 39);
        for class in [Class::Board, Class::Dimension] {
            for side in [Side::Thickness, Side::Width] {
                assert!(listed(class, side).is_sorted());
                assert!(listed(class, side).count() >= 6);
            }
        }
    }

    #[test]
    fn every_published_rough_dry_size_is_the_dressed_one_and_an_eighth() {
        for line in table() {
            if let Some(rough) = line.rough_dry {
                assert_eq!(rough, line.dressed_dry + ROUGH_OVER_DRESSED, "{line:?}");
            }
            assert!(line.dressed_green > line.dressed_dry, "{line:?}");
        }
    }

    #[test]
    fn the_rule_meets_the_published_column_but_for_two_sizes() {
        let mut differ = Vec::new();
        for line in table() {
            let rule = rough_green_by_rule(line.dressed_dry);
            if let Some(published) = line.rough_green.filter(|published| *published != rule) {
                differ.push((line.side, line.nominal, published, rule));
            }
        }
        let two = (length("2"), length("1 11/16"), length("1 3/4"));
        let eight = (length("8"), length("7 3/4"), length("7 11/16"));
        assert_eq!(
            differ,
            [
                (Side::Thickness, two.0, two.1, two.2),
                (Side::Width, two.0, two.1, two.2),
                (Side::Width, eight.0, eight.1, eight.2),
            ]
        );
    }

    #[test]
    fn rough_green_sizes() {
        let check = |class, side, nominal: &str, expected: Option<&str>| {
            assert_eq!(
                rough_green(class, side, length(nominal)),
                expected.map(length),
                "{nominal}"
            );
        };
        check(Class::Dimension, Side::Thickness, "2", Some("1 11/16"));
        check(Class::Dimension, Side::Width, "8", Some("7 3/4"));
        check(Class::Dimension, Side::Width, "7", None);
        check(Class::Board, Side::Thickness, "1", Some("15/16"));
        check(Class::Board, Side::Thickness, "1 1/4", Some("1 3/16"));
        check(Class::Board, Side::Width, "6", Some("5 7/8"));
        check(Class::Board, Side::Width, "7", Some("6 15/16"));
        check(Class::Board, Side::Width, "8", Some("7 3/4"));
        check(Class::Timber, Side::Thickness, "6", Some("5 5/8"));
        check(Class::Timber, Side::Width, "12", Some("11 5/8"));
        check(Class::Timber, Side::Width, "6 1/2", None);
    }

    #[test]
    fn the_smaller_dimension_gives_the_class() {
        let class = |thickness, width| Class::of(length(thickness), length(width));
        assert_eq!(class("1", "6"), Class::Board);
        assert_eq!(class("2", "6"), Class::Dimension);
        assert_eq!(class("4 1/2", "12"), Class::Dimension);
        assert_eq!(class("5", "5"), Class::Timber);
        assert_eq!(class("8", "1"), Class::Board);
    }
}
