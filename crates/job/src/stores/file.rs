//! What a mill takes with it and lifts, in its file: `[stores]`.

use schemars::JsonSchema;
use serde::Serialize;

use super::text::{burned, burns, flow, holds, power, weight};
use super::{Stores, bit};
use crate::fault::{Fault, StoresFault};
use crate::file::{Fields, Form, Right};
use crate::pace::PercentForm;
use crate::typed::{Typed, percentage};
use pithward_measure::Excerpt;

/// What a mill takes with it and lifts. Whatever is left out is as stated, common practice without a source; what the
/// loader lifts is then unknown.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct StoresForm {
    /// What the loader lifts, as its manual says: `2000 lb`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lifts: Option<String>,
    /// Power of the engine: `27 hp` or `20 kW`. Fuel then follows from it, where `fuel` is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub engine: Option<String>,
    /// What the engine burns; gasoline where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["gasoline", "diesel"]))]
    pub burns: Option<String>,
    /// How hard the engine works over the hours at the mill, in percent of its power; 40 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub load: Option<PercentForm>,
    /// Fuel in an hour at the mill: `0.8 gal/h`; where it is left out, by the engine, else five gallons for six and a half
    /// hours.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fuel: Option<String>,
    /// What the tank holds; 5 gal where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tank: Option<String>,
    /// What a spare can holds; 5 gal where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub can: Option<String>,
    /// Water on the blade in an hour of sawing; 2 gal/h where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub water: Option<String>,
    /// What is put into the water against pitch, in percent of it; 1 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lubricant: Option<PercentForm>,
    /// How often a blade is sharpened before it is done; 3 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0, max = 50))]
    pub sharpenings: Option<u32>,
    /// Sharp blades beside those that the work takes; 2 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0, max = 100))]
    pub spare_blades: Option<u32>,
    /// How much of the sawdust leaves by the chute, in percent; 87.5 where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chute: Option<PercentForm>,
}

/// The fields of `[stores]`, in the order in which they are written.
pub(super) const FIELDS: [&str; 12] = [
    "lifts",
    "engine",
    "burns",
    "load",
    "fuel",
    "tank",
    "can",
    "water",
    "lubricant",
    "sharpenings",
    "spare_blades",
    "chute",
];

const FORM: Form = Form { of: "[stores]", fields: &FIELDS };

const TABLE: Right = Right {
    what: "a table",
    help: "write its fields below a heading [stores], as in lifts = \"2000 lb\"",
    bare: false,
};
const TEXT: Right = Right {
    what: "a text in quotes",
    help: "write a number and its unit in quotes, as in \"2000 lb\", \"5 gal\", \"0.8 gal/h\" or \"27 hp\"",
    bare: false,
};
const PERCENT: Right =
    Right { what: "a percentage", help: "write a number, as in 40, or \"40 %\"", bare: true };

const SHARPENINGS_HELP: &str =
    "write how often a blade is sharpened before it is done, from 0 to 50, without quotes";
const SPARE_HELP: &str = "write how many sharp blades are brought beside those that the work takes, from 0 to 100, without quotes";

/// The stores that a mill's fields say, as stated where they say nothing; every fault goes to the others.
pub(crate) fn stores(mill: &Fields<'_>, faults: &mut Vec<Fault>) -> Stores {
    let mut stores = Stores::default();
    let Some(table) = mill.table("stores", TABLE, faults) else { return stores };
    let fields = Fields::of(mill.file, table, &FORM, faults);
    let text = |name, faults: &mut Vec<Fault>| fields.typed(name, TEXT, faults);
    stores.lifts = text("lifts", faults).read(faults, weight);
    stores.engine = text("engine", faults).read(faults, power);
    stores.fuel_per_hour = text("fuel", faults).read(faults, burned);
    if let Some(read) = text("burns", faults).read(faults, burns) {
        stores.burns = read;
    }
    for (name, figure) in [("tank", &mut stores.tank), ("can", &mut stores.can)] {
        *figure = text(name, faults).read(faults, holds).unwrap_or(*figure);
    }
    let water = text("water", faults).read(faults, flow);
    stores.water_per_hour = water.unwrap_or(stores.water_per_hour);
    for (name, figure, limits, help) in [
        (
            "load",
            &mut stores.load,
            (5, 100),
            "write how hard the engine works over the hours at the mill, from 5 to 100 percent of its power, as in 40",
        ),
        (
            "lubricant",
            &mut stores.lubricant,
            (0, 100),
            "write how much of the water it is, from 0 to 100 percent, as in 1",
        ),
        (
            "chute",
            &mut stores.chute,
            (0, 100),
            "write how much of the sawdust leaves by the chute, from 0 to 100 percent, as in 85",
        ),
    ] {
        let typed = fields.typed(name, PERCENT, faults);
        *figure = share(&typed, limits, help, faults).unwrap_or(*figure);
    }
    let whole = fields.whole("sharpenings", 0..=50, SHARPENINGS_HELP, faults);
    stores.sharpenings = whole.unwrap_or(stores.sharpenings);
    let whole = fields.whole("spare_blades", 0..=100, SPARE_HELP, faults);
    stores.spare_blades = whole.unwrap_or(stores.spare_blades);
    let stated = FIELDS.into_iter().filter(|field| fields.node(field).is_some());
    stores.stated = stated.map(bit).sum();
    stores
}

/// A percentage in thousandths.
fn share(
    typed: &Typed,
    (least, greatest): (u32, u32),
    help: &'static str,
    faults: &mut Vec<Fault>,
) -> Option<u32> {
    let percent = typed.read(faults, percentage(help))?;
    if !(f64::from(least)..=f64::from(greatest)).contains(&percent) {
        let got = Excerpt::new(typed.text.as_deref().unwrap_or_default());
        faults.push(typed.fault(StoresFault::Share { least, greatest, got }, help));
        return None;
    }
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "held against its limits just above"
    )]
    let thousandths = (percent * 10.0).round() as u32;
    Some(thousandths)
}
