//! What sawing leaves: how loose sawdust and slabs lie.
//!
//! # Source
//! `data/published/residues.csv`: Briggs, Forest Products Measurements and Conversion Factors, 1994, Table 7-1, and a survey
//! of sawmill residue in British Columbia. How much of a log each is follows from its sawing; the published shares are for
//! tests.

use crate::published::{self, TableFault};
use crate::{Confidence, CubicFeet, Figure};
use std::sync::LazyLock;

const RESIDUES: &str = include_str!("../../../data/published/residues.csv");

static ALL: LazyLock<Vec<Residue>> = LazyLock::new(|| {
    parse().expect("the table is embedded, and `the_embedded_table_parses` proves it sound")
});

/// One published figure, low and high.
#[derive(Clone, Debug, PartialEq)]
struct Residue {
    item: String,
    what: String,
    low: f64,
    high: f64,
    confidence: Confidence,
}

fn parse() -> Result<Vec<Residue>, TableFault> {
    published::read(RESIDUES, |row| {
        Ok(Residue {
            item: row.text("item")?.to_owned(),
            what: row.text("what")?.to_owned(),
            low: row.number("low")?,
            high: row.number("high")?,
            confidence: row.confidence("confidence")?,
        })
    })
}

fn figure(item: &str, what: &str) -> (Figure, f64) {
    let row = ALL.iter().find(|row| row.item == item && row.what == what);
    row.map_or((Figure { value: 0.0, confidence: Confidence::Memory }, 0.0), |row| {
        (Figure { value: row.low, confidence: row.confidence }, row.high)
    })
}

/// Cubic feet in a cord as it is stacked: 4 ft by 4 ft by 8 ft.
pub const CORD_STACKED_FT3: f64 = 128.0;

/// How many cubic feet a solid cubic foot of sawdust lies loose.
pub fn sawdust_loose() -> Figure {
    figure("expansion", "sawdust").0
}

/// How many cubic feet a solid cubic foot of bark lies loose.
pub fn bark_loose() -> Figure {
    figure("expansion", "bark").0
}

/// Solid cubic feet in a stacked cord of slabs and edgings.
pub fn slab_cord() -> Figure {
    figure("cord", "slabs").0
}

/// Of slabs that are stacked with care a cord holds more: solid cubic feet. Common practice, no source.
pub const SLAB_CORD_CLOSE_FT3: f64 = 85.0;

/// The least and the greatest published share of the log that a residue makes, percent: of `sawdust`, of `coarse residue`,
/// or of `total residue without planing`. `None` where nothing is published of it.
pub fn share_pct(what: &str) -> Option<(f64, f64)> {
    let (least, greatest) = figure("share", what);
    (greatest > 0.0).then_some((least.value, greatest))
}

/// Cords of so much solid wood in slabs, at so much to the cord.
pub fn cords(solid: CubicFeet, solid_in_a_cord: f64) -> f64 {
    if solid_in_a_cord > 0.0 { solid.get() / solid_in_a_cord } else { 0.0 }
}

/// Stacked cubic metres of so many cords.
pub fn stacked_cubic_metres(cords: f64) -> f64 {
    CubicFeet::new(cords * CORD_STACKED_FT3).cubic_metres()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_embedded_table_parses() {
        assert_eq!(parse().unwrap().len(), 7);
        for figure in [sawdust_loose(), bark_loose(), slab_cord()] {
            assert!(figure.value > 1.0 && figure.confidence == Confidence::Read, "{figure:?}");
        }
        // A unit of 200 ft3 loose holds 80 ft3 of wood.
        assert!((80.0 * sawdust_loose().value - 200.0).abs() < 1e-9);
        assert!((figure("unit", "sawdust").0.value - 80.0).abs() < 1e-9);
        assert_eq!(share_pct("sawdust"), Some((11.0, 15.0)));
        assert_eq!(share_pct("shavings"), None);
    }

    #[test]
    fn a_cord_of_slabs_is_three_and_a_half_stacked_metres() {
        let one = cords(CubicFeet::new(75.0), slab_cord().value);
        assert!((one - 1.0).abs() < 1e-12);
        assert!((stacked_cubic_metres(one) - 3.625).abs() < 0.001);
        // Green red oak sawdust: 62.9 lb/ft3 solid is 25.2 loose (Wood Handbook, Briggs).
        assert!((62.9 / sawdust_loose().value - 25.2).abs() < 0.05);
    }
}
