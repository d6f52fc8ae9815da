//! What the published tables say of a species: weight, shrinkage, bark.
//!
//! # Source
//! Specific gravity and shrinkage: USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190
//! (2010) and FPL-GTR-282 (2021), Tables 5-3 and 4-3. Bark and green weight: USDA Forest Inventory
//! and Analysis reference species table, after Miles and Smith, USFS Research Note NRS-38, 2009.
//! Every figure carries its own mark of confidence; not every species has every figure.

use crate::published::{self, Row, TableFault};
use crate::species_name::{self, SpeciesFault};
use crate::{Direction, Figure, weight};
use pithward_measure::Length;
use std::collections::BTreeMap;
use std::sync::LazyLock;

const BARK: &str = include_str!("../../../data/published/bark.csv");
const PROPERTIES: &str = include_str!("../../../data/published/wood_properties.csv");
const GREEN_WEIGHTS: &str = include_str!("../../../data/published/green_weights.csv");

static SPECIES: LazyLock<Vec<Species>> = LazyLock::new(|| {
    parse().expect("the tables are embedded, and `the_embedded_tables_parse` proves them sound")
});

/// A species and its published figures.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Species {
    /// The name as in the tables, the genus first: `Oak, white`.
    pub name: String,
    /// Broadleaved or conifer.
    pub kind: Kind,
    /// Ovendry mass over green volume, as a share of the mass of water.
    pub basic_specific_gravity: Option<Figure>,
    /// Shrinkage from green to ovendry across the rings, percent of the green size.
    pub shrink_radial_pct: Option<Figure>,
    /// Shrinkage from green to ovendry along the rings, percent of the green size.
    pub shrink_tangential_pct: Option<Figure>,
    /// Weight of green wood without bark, pounds per cubic foot, average of the whole stem.
    pub green_lb_per_ft3: Option<Figure>,
    /// Moisture of the green wood, percent of its ovendry mass, average of the whole stem.
    pub green_moisture_pct: Option<Figure>,
    /// Weight of the green bark, pounds per cubic foot.
    pub bark_lb_per_ft3: Option<Figure>,
    /// Volume of the bark, percent of the volume of the wood.
    pub bark_volume_pct: Figure,
}

/// The two kinds of trees.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Broadleaved.
    Hardwood,
    /// Conifer.
    Softwood,
}

impl Species {
    /// Every species of the tables, hardwoods before softwoods, in the order of the bark table.
    pub fn all() -> &'static [Self] {
        &SPECIES
    }

    /// The species that a person means by `text`.
    ///
    /// Capitals, hyphens, commas and the order of words do not matter: `white oak`, `Oak, white` and
    /// `oak white` are one. Part of a name is enough where only one species has it (`walnut`), and a
    /// trade name of the table `species_names.csv` stands for its species (`hard maple`).
    ///
    /// # Errors
    /// [`SpeciesFault`] if several species go by the name, or none does.
    pub fn find(text: &str) -> Result<&'static Self, SpeciesFault> {
        species_name::find(text, Self::all())
    }

    /// Shrinkage from green to ovendry in a direction, percent of the green size.
    pub fn total_shrinkage_pct(&self, direction: Direction) -> Option<Figure> {
        match direction {
            Direction::Radial => self.shrink_radial_pct,
            Direction::Tangential => self.shrink_tangential_pct,
        }
    }

    /// Diameter inside the bark over diameter outside: `1 / sqrt(1 + b / 100)` for `b` percent of
    /// bark. Wood and bark of one section are circles about one centre, so areas are as volumes.
    pub fn inside_over_outside(&self) -> f64 {
        1.0 / (1.0 + self.bark_volume_pct.value / 100.0).sqrt()
    }

    /// Thickness of the bark on one side of a log, from its diameter inside the bark; rounded up to
    /// the nanometre, because the mill has to clear it.
    pub fn bark_thickness(&self, diameter_inside_bark: Length) -> Length {
        let inside = diameter_inside_bark.inches_f64();
        let both_sides = inside / self.inside_over_outside() - inside;
        -Length::from_inches_f64_down(-both_sides / 2.0)
    }
}

/// The three tables joined by name; the bark table has every species.
fn parse() -> Result<Vec<Species>, TableFault> {
    let properties = by_name(PROPERTIES, |row| {
        Ok((
            row.figure("basic_specific_gravity", "specific_gravity_confidence")?,
            row.figure("shrink_radial_pct", "shrink_confidence")?,
            row.figure("shrink_tangential_pct", "shrink_confidence")?,
        ))
    })?;
    let green_weights = by_name(GREEN_WEIGHTS, |row| {
        let green = row.figure("green_lb_per_ft3", "confidence")?;
        Ok((green, row.figure("moisture_pct", "confidence")?, weight::bark_figure(row)?))
    })?;
    published::read(BARK, |row| {
        let name = row.text("species")?.to_owned();
        let (basic_specific_gravity, shrink_radial_pct, shrink_tangential_pct) =
            properties.get(&name).copied().unwrap_or_default();
        let (green_lb_per_ft3, green_moisture_pct, bark_lb_per_ft3) =
            green_weights.get(&name).copied().unwrap_or_default();
        Ok(Species {
            name,
            kind: row.cell("kind", "hardwood or softwood", |cell| match cell {
                "hardwood" => Some(Kind::Hardwood),
                "softwood" => Some(Kind::Softwood),
                _ => None,
            })?,
            basic_specific_gravity,
            shrink_radial_pct,
            shrink_tangential_pct,
            green_lb_per_ft3,
            green_moisture_pct,
            bark_lb_per_ft3,
            bark_volume_pct: Figure {
                value: row.number("bark_volume_pct")?,
                confidence: row.confidence("confidence")?,
            },
        })
    })
}

/// What `parse` makes of every line of a table, by the name of the species.
fn by_name<T>(
    text: &str,
    parse: impl Fn(&Row<'_>) -> Result<T, TableFault>,
) -> Result<BTreeMap<String, T>, TableFault> {
    let rows = published::read(text, |row| Ok((row.text("species")?.to_owned(), parse(row)?)))?;
    Ok(rows.into_iter().collect())
}

#[cfg(test)]
mod tests {
    use super::{BARK, GREEN_WEIGHTS, Kind, PROPERTIES, Species, by_name, parse};
    use crate::Confidence;
    use crate::published::read;
    use pithward_measure::Length;

    #[test]
    fn the_embedded_tables_parse() {
        let species = parse().unwrap();
        assert_eq!(species.len(), 67);
        for table in [PROPERTIES, GREEN_WEIGHTS] {
            for name in by_name(table, |_| Ok(())).unwrap().keys() {
                assert!(species.iter().any(|species| species.name == *name), "{name} has no bark");
            }
        }
    }

    #[test]
    fn a_figure_carries_its_mark() {
        let oak = Species::find("white oak").unwrap();
        assert_eq!(oak.kind, Kind::Hardwood);
        assert_eq!(oak.basic_specific_gravity.unwrap().value.to_bits(), 0.6_f64.to_bits());
        assert_eq!(oak.basic_specific_gravity.unwrap().confidence, Confidence::Read);
        assert_eq!(oak.green_lb_per_ft3.unwrap().value.to_bits(), 63.0_f64.to_bits());
        let alder = Species::find("red alder").unwrap();
        assert_eq!(alder.basic_specific_gravity.unwrap().confidence, Confidence::Memory);
        assert_eq!(Species::find("bur oak").unwrap().shrink_tangential_pct, None);
    }

    /// The printed ratio of every species; and the weight that its gravity and moisture give, to the
    /// pound that the source rounds to (the same arithmetic, so a slip of the pen in a row shows).
    #[test]
    fn bark_ratios_and_green_weights_agree_with_the_tables() {
        let ratios = read(BARK, |row| row.number("inside_over_outside")).unwrap();
        for (species, printed) in Species::all().iter().zip(ratios) {
            let ratio = species.inside_over_outside();
            assert!((ratio - printed).abs() <= 0.000_05, "{}: {ratio}", species.name);
        }
        read(GREEN_WEIGHTS, |row| {
            if row.text("moisture_pct")?.is_empty() {
                return Ok(());
            }
            let (gravity, moisture) =
                (row.number("specific_gravity")?, row.number("moisture_pct")?);
            let weight = 62.4 * gravity * (1.0 + moisture / 100.0);
            let printed = row.number("green_lb_per_ft3")?;
            assert!((weight - printed).abs() <= 0.6, "{}: {weight}", row.text("species")?);
            Ok(())
        })
        .unwrap();
    }

    #[test]
    fn bark_is_thick_enough_for_its_share() {
        // 10 in inside / 0.9285 = 10.770 in outside: 0.385 in of bark on each side.
        let bark = Species::find("white ash").unwrap().bark_thickness(Length::inches(10));
        assert_eq!(format!("{:.3}", bark.inches_f64()), "0.385");
        let outside = 10.0 + 2.0 * bark.inches_f64();
        assert!(outside * outside >= 116.0, "sqrt(1.16) * 10 in, rounded up");
        assert!(outside * outside - 116.0 < 1e-5);
        assert_eq!(Species::all()[0].bark_thickness(Length::ZERO), Length::ZERO);
    }
}
