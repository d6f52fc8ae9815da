//! What a mill takes with it and lifts: fuel, water, blades, the loader. `[stores]` of the mill file.
//!
//! # Figures
//! Every one is the mill's own to state ([`StoresForm`]). Where it states none, [`Stores::default`] has figures of common
//! practice, without a source, and [`Stores::basis`] says of each what is told. What the loader lifts has no default: a
//! log is held against a figure that its owner knows, or against none.
//!
//! # Fuel
//! What is stated by the hour counts; else what follows from the engine,
//! ```text
//! gal/h = power * load * fuel per power and hour / weight of a gallon
//! ```
//! with 0.46 lb for each horsepower and hour of petrol at 6.0 lb a gallon, 0.40 lb at 7.1 lb of diesel (Miyata, USFS general
//! technical report NC-32, 1980, from memory); else five gallons for six and a half hours.

mod file;
#[cfg(test)]
mod tests;
mod text;

pub use file::StoresForm;
pub(crate) use file::stores;
pub(crate) use text::weight;

use pithward_measure::{Fluid, Weight};

use crate::basis::{Basis, Figure};

/// What a mill takes with it and lifts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stores {
    /// What its loader lifts; `None` where nobody said.
    pub lifts: Option<Weight>,
    /// Power of the engine, where it was stated.
    pub engine: Option<Power>,
    /// What the engine burns.
    pub burns: Burns,
    /// How hard the engine works over the hours at the mill, thousandths of its power.
    pub load: u32,
    /// Fuel in an hour at the mill, where it was stated.
    pub fuel_per_hour: Option<Fluid>,
    /// What the tank holds.
    pub tank: Fluid,
    /// What a spare can holds.
    pub can: Fluid,
    /// Water in an hour of sawing.
    pub water_per_hour: Fluid,
    /// What is put into the water against pitch, thousandths of it.
    pub lubricant: u32,
    /// How often a blade is sharpened before it is done.
    pub sharpenings: u32,
    /// Sharp blades beside those that the work takes, for metal and mishaps.
    pub spare_blades: u32,
    /// How much of the sawdust leaves by the chute, thousandths; the rest lies under the mill and on the boards.
    pub chute: u32,
    /// Which of the figures the mill states itself.
    stated: u32,
}

/// Power of an engine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Power {
    watts: u32,
}

/// What an engine burns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Burns {
    /// Petrol.
    Gasoline,
    /// Diesel.
    Diesel,
}

/// Watts in a horsepower.
const HORSEPOWER: f64 = 745.699_871_582_27;

impl Power {
    /// Whole watts.
    pub const fn watts(watts: u32) -> Self {
        Self { watts }
    }

    /// Horsepower.
    pub fn hp_f64(self) -> f64 {
        f64::from(self.watts) / HORSEPOWER
    }

    /// Kilowatts.
    pub fn kw_f64(self) -> f64 {
        f64::from(self.watts) / 1000.0
    }
}

impl Burns {
    /// Pounds for each horsepower and hour, and pounds in a gallon.
    fn figures(self) -> (f64, f64) {
        match self {
            Self::Gasoline => (0.46, 6.0),
            Self::Diesel => (0.40, 7.1),
        }
    }
}

/// Five gallons run a mill for six to seven hours: gallons, and the middle of the hours.
const RUNS: (f64, f64) = (5.0, 6.5);

impl Default for Stores {
    /// A trailer mill with an engine of its own. Each figure is common practice, no source.
    fn default() -> Self {
        Self {
            lifts: None,
            engine: None,
            burns: Burns::Gasoline,
            load: 400,
            fuel_per_hour: None,
            tank: Fluid::gallons(5),
            can: Fluid::gallons(5),
            water_per_hour: Fluid::gallons(2),
            lubricant: 10,
            sharpenings: 3,
            spare_blades: 2,
            chute: 875,
            stated: 0,
        }
    }
}

/// What is told of each figure where the mill states none. Common practice, no source, but for what names one.
const TOLD: [(&str, &str); file::FIELDS.len()] = [
    ("lifts", ""),
    ("engine", ""),
    ("burns", "petrol"),
    ("load", "about 40 % of the engine's power over the hours at the mill"),
    ("fuel", "five gallons run such a mill six to seven hours"),
    ("tank", "5 gal"),
    ("can", "5 gal"),
    ("water", "1 to 3 gal an hour by the drop; about 10 where it is left running"),
    ("lubricant", "a splash of detergent, about 1 % of the water (from memory)"),
    ("sharpenings", "three or four times"),
    ("spare_blades", "two more than the work takes"),
    ("chute", "85 to 90 %"),
];

impl Stores {
    /// The fields of `[stores]`, in the order in which they are written.
    pub fn fields() -> impl Iterator<Item = &'static str> {
        file::FIELDS.into_iter()
    }

    /// Where a figure comes from, by its field; `None` where there is no such field.
    pub fn basis(&self, field: &str) -> Option<Basis> {
        let told = TOLD.iter().find(|(known, _)| *known == field)?.1;
        Some(if self.stated & bit(field) != 0 {
            Basis::Stated
        } else if field == "fuel" && self.engine.is_some() {
            Basis::Follows
        } else if told.is_empty() {
            Basis::Unknown
        } else {
            Basis::Usual(told)
        })
    }

    /// How much a figure is, by its field; `None` where there is no such field, and where nothing is known of it.
    pub fn figure(&self, field: &str) -> Option<Figure> {
        match field {
            "lifts" => self.lifts.map(Figure::Weight),
            "engine" => self.engine.map(Figure::Power),
            "burns" => Some(Figure::Word(match self.burns {
                Burns::Gasoline => "gasoline",
                Burns::Diesel => "diesel",
            })),
            "load" => Some(Figure::Share(self.load)),
            "fuel" => Some(Figure::PerHour(self.gallons_per_hour())),
            "tank" => Some(Figure::Fluid(self.tank)),
            "can" => Some(Figure::Fluid(self.can)),
            "water" => Some(Figure::PerHour(self.water_per_hour.gallons_f64())),
            "lubricant" => Some(Figure::Share(self.lubricant)),
            "sharpenings" => Some(Figure::Count(self.sharpenings)),
            "spare_blades" => Some(Figure::Count(self.spare_blades)),
            "chute" => Some(Figure::Share(self.chute)),
            _ => None,
        }
    }

    /// Fuel that is burned in an hour at the mill.
    ///
    /// # Units
    /// US gallons.
    pub fn gallons_per_hour(&self) -> f64 {
        if let Some(fuel) = self.fuel_per_hour {
            return fuel.gallons_f64();
        }
        let Some(engine) = self.engine else { return RUNS.0 / RUNS.1 };
        let (each, gallon) = self.burns.figures();
        engine.hp_f64() * f64::from(self.load) / 1000.0 * each / gallon
    }
}

/// The place of a field among the bits.
fn bit(field: &str) -> u32 {
    file::FIELDS.iter().position(|known| *known == field).map_or(0, |place| 1 << place)
}
