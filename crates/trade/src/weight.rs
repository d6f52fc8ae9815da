//! What green wood weighs, what it loses as it dries, and what is known of the wood and the bark of a log.
//!
//! # Formula
//! With the basic specific gravity `G` (ovendry mass over green volume) and the moisture `M` in percent of the ovendry mass:
//! ```text
//! density = 62.4 G (1 + M / 100)  lb/ft3        most moisture = 100 (1.54 - G) / (1.54 G)  percent
//! ```
//! # Source
//! USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190, 2010, chapter 4 (equation 4-3 for the most moisture); the
//! figures of a species are those of the US forest inventory's table, averages of whole stems. One tree differs from them
//! by 5 to 10 percent (from memory).

use crate::published::{self, TableFault};
use crate::species::{Kind, Species};
use crate::{Confidence, Figure};

/// Pounds in a cubic foot of water.
pub const WATER_LB_PER_FT3: f64 = 62.4;

/// Density of wood substance without its pores, as a share of water's.
const SUBSTANCE: f64 = 1.54;

/// Weight of a cubic foot of green volume, pounds.
pub fn lb_per_ft3(basic_specific_gravity: f64, moisture_pct: f64) -> f64 {
    WATER_LB_PER_FT3 * basic_specific_gravity * (1.0 + moisture_pct / 100.0)
}

/// The most moisture that wood can hold, percent of its ovendry mass.
pub fn most_moisture_pct(basic_specific_gravity: f64) -> f64 {
    100.0 * (SUBSTANCE - basic_specific_gravity) / (SUBSTANCE * basic_specific_gravity)
}

/// What wood loses of its weight from one moisture to another, percent.
pub fn weight_loss_pct(from_moisture_pct: f64, to_moisture_pct: f64) -> f64 {
    100.0 * (from_moisture_pct - to_moisture_pct) / (100.0 + from_moisture_pct)
}

/// Where a density comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DensityBasis {
    /// The average of the species, and how far it is to be trusted.
    Species(Confidence),
    /// Nothing is published of the species: the heaviest of its kind in the table, so that no load is told too light.
    HeaviestOfKind(Kind),
    /// Nobody named the wood: the heaviest of the table.
    Heaviest,
    /// Of bark whose weight is not published: as heavy as the wood.
    AsTheWood,
}

/// What a cubic foot of a green log weighs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GreenDensity {
    /// Of wood, pounds per cubic foot.
    pub wood: f64,
    /// Where it comes from.
    pub wood_basis: DensityBasis,
    /// Of bark, pounds per cubic foot.
    pub bark: f64,
    /// Where it comes from.
    pub bark_basis: DensityBasis,
}

impl GreenDensity {
    /// Of a species, or of wood that nobody named.
    pub fn of(species: Option<&Species>) -> Self {
        let (wood, wood_basis) = match species {
            None => (heaviest(None), DensityBasis::Heaviest),
            Some(species) => species.green_lb_per_ft3.map_or_else(
                || (heaviest(Some(species.kind)), DensityBasis::HeaviestOfKind(species.kind)),
                |figure| (figure.value, DensityBasis::Species(figure.confidence)),
            ),
        };
        let bark = species.and_then(|species| species.bark_lb_per_ft3);
        let (bark, bark_basis) = bark.map_or((wood, DensityBasis::AsTheWood), |figure| {
            (figure.value, DensityBasis::Species(figure.confidence))
        });
        Self { wood, wood_basis, bark, bark_basis }
    }

    /// The same of a tree that is heavier or lighter than the average by a factor.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        Self { wood: self.wood * factor, bark: self.bark * factor, ..self }
    }
}

/// The heaviest green wood of the table, or of one kind in it, pounds per cubic foot.
fn heaviest(kind: Option<Kind>) -> f64 {
    let of_kind = |species: &&Species| kind.is_none_or(|kind| species.kind == kind);
    let all = Species::all().iter().filter(of_kind).filter_map(|species| species.green_lb_per_ft3);
    all.map(|figure| figure.value).fold(0.0, f64::max)
}

/// Weight of bark from two columns of a row: its specific gravity and its moisture.
pub(crate) fn bark_figure(row: &published::Row<'_>) -> Result<Option<Figure>, TableFault> {
    let gravity = row.figure("bark_specific_gravity", "bark_confidence")?;
    let moisture = row.figure("bark_moisture_pct", "bark_confidence")?;
    Ok(gravity.zip(moisture).map(|(gravity, moisture)| Figure {
        value: lb_per_ft3(gravity.value, moisture.value),
        // Computed from what was read.
        confidence: Confidence::Derived,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::published::read;

    const EXAMPLES: &str = include_str!("../../../data/published/weight_examples.csv");

    /// Losses that are more than four points off what the booklet prints, and by how much ours is less: its trees were
    /// wetter than the averages of the inventory's table.
    const OFF: [(&str, f64); 2] = [("black cherry", 6.2), ("sugar maple", 6.2)];

    #[test]
    fn published_worked_examples() {
        let mut off = Vec::new();
        let rows = read(EXAMPLES, |row| {
            let printed = row.number("value")?;
            let figures = || {
                Ok::<_, TableFault>((row.number("specific_gravity")?, row.number("moisture_pct")?))
            };
            let species = row.text("species")?;
            match row.text("case")? {
                "density" => {
                    let (gravity, moisture) = figures()?;
                    assert!((lb_per_ft3(gravity, moisture) - printed).abs() < 0.05, "{species}");
                }
                "boards" | "foot" => {
                    let (gravity, moisture) = figures()?;
                    let weight = lb_per_ft3(gravity, moisture) * row.number("board_feet")? / 12.0;
                    // Printed to four digits, or by hand to three.
                    assert!((weight / printed - 1.0).abs() < 0.003, "{species}: {weight}");
                }
                "most_moisture" => {
                    let most = most_moisture_pct(row.number("specific_gravity")?);
                    assert!((most - printed).abs() < 0.05, "{most}");
                }
                "loss" => {
                    let known = Species::find(species).unwrap();
                    let loss = weight_loss_pct(known.green_moisture_pct.unwrap().value, 20.0);
                    println!("{species}: loses {loss:.1} % green to 20 %, printed {printed}");
                    if (loss - printed).abs() > 4.0 {
                        off.push((species.to_owned(), (10.0 * (printed - loss)).round() / 10.0));
                    }
                }
                other => panic!("{other}"),
            }
            Ok(())
        })
        .unwrap();
        assert_eq!(rows.len(), 12);
        assert_eq!(off, OFF.map(|(species, off)| (species.to_owned(), off)));
    }

    #[test]
    fn no_wood_of_the_table_holds_more_water_than_wood_can() {
        for species in Species::all() {
            let (Some(gravity), Some(moisture)) =
                (species.basic_specific_gravity, species.green_moisture_pct)
            else {
                continue;
            };
            assert!(moisture.value <= most_moisture_pct(gravity.value), "{}", species.name);
        }
    }

    #[test]
    fn what_nobody_knows_is_taken_heavy() {
        let unnamed = GreenDensity::of(None);
        assert_eq!(unnamed.wood_basis, DensityBasis::Heaviest);
        assert_eq!(unnamed.bark_basis, DensityBasis::AsTheWood);
        for species in Species::all() {
            let density = GreenDensity::of(Some(species));
            assert!(density.wood <= unnamed.wood && density.wood >= 27.0, "{}", species.name);
            assert!((25.0..=81.1).contains(&density.bark), "{}: {}", species.name, density.bark);
            let known = species.green_lb_per_ft3.is_some();
            assert_eq!(matches!(density.wood_basis, DensityBasis::Species(_)), known);
        }
        let twice = unnamed.times(2.0);
        assert!((twice.wood / unnamed.wood - 2.0).abs() < 1e-12);
    }
}
