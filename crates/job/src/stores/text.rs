//! Weights, volumes, flows and powers as a person writes them: `2000 lb`, `5 gal`, `0.8 gal/h`, `27 hp`.

use pithward_measure::{Excerpt, Fluid, Weight};

use super::{Burns, HORSEPOWER, Power};
use crate::fault::{FaultKind, Misread, StoresFault};

const WEIGHT_HELP: &str =
    "write a number with its unit, as in \"2000 lb\", \"900 kg\" or \"1.8 t\"";
const FLUID_HELP: &str = "write a number with its unit, as in \"5 gal\" or \"20 l\"";
const FLOW_HELP: &str = "write how much in an hour, as in \"0.8 gal/h\" or \"3 l/h\"";
const POWER_HELP: &str = "write a number with its unit, as in \"27 hp\" or \"20 kW\"";
const BURNS_HELP: &str = "write gasoline or diesel";

/// The least and the most that is lifted or hauled at once; anything else is a slip of the unit.
const WEIGHTS: (Weight, Weight) = (Weight::lb(50), Weight::lb(200_000));
/// The most that a tank or a can holds.
const MOST_FLUID: Fluid = Fluid::gallons(500);
/// The most that a mill burns or drips in an hour.
const MOST_FLOW: Fluid = Fluid::gallons(100);
/// The weakest and the strongest engine of a mill that is towed, watts.
const POWERS: (f64, f64) = (500.0, 500_000.0);

/// Reads a weight that can be lifted or hauled.
pub(crate) fn weight(text: &str) -> Result<Weight, Misread> {
    let refuse = |kind: FaultKind| Misread::new(kind, 0..0, WEIGHT_HELP);
    let weight = Weight::parse(text).map_err(|fault| refuse(StoresFault::from(fault).into()))?;
    let (least, greatest) = WEIGHTS;
    if !(least..=greatest).contains(&weight) {
        let got = Excerpt::new(text);
        return Err(refuse(StoresFault::WeightRange { least, greatest, got }.into()));
    }
    Ok(weight)
}

/// Reads what a tank or a can holds.
pub(super) fn holds(text: &str) -> Result<Fluid, Misread> {
    let fluid = fluid(text, FLUID_HELP)?;
    within(text, fluid, MOST_FLUID, FLUID_HELP, fluid > Fluid::ZERO)
}

/// Reads how much in an hour; nothing is as good as any.
pub(super) fn flow(text: &str) -> Result<Fluid, Misread> {
    let lower = text.trim().to_lowercase();
    let per = ["/h", "/hour", "/hr", "per hour", "an hour"];
    let Some(per) = per.into_iter().find(|per| lower.ends_with(per)) else {
        let kind = StoresFault::NoFlow { got: Excerpt::new(text) };
        return Err(Misread::new(kind, 0..0, FLOW_HELP));
    };
    let fluid = fluid(&lower[..lower.len() - per.len()], FLOW_HELP)?;
    within(text, fluid, MOST_FLOW, FLOW_HELP, fluid >= Fluid::ZERO)
}

/// Reads how much fuel in an hour; an engine burns some.
pub(super) fn burned(text: &str) -> Result<Fluid, Misread> {
    let fluid = flow(text)?;
    within(text, fluid, MOST_FLOW, FLOW_HELP, fluid > Fluid::ZERO)
}

/// Reads the power of an engine.
pub(super) fn power(text: &str) -> Result<Power, Misread> {
    let got = || Excerpt::new(text);
    let refuse = |kind: StoresFault| Misread::new(kind, 0..0, POWER_HELP);
    let lower = text.trim().to_lowercase();
    let number = lower.trim_end_matches(|c: char| c.is_alphabetic());
    let watts = match &lower[number.len()..] {
        "hp" | "horsepower" => HORSEPOWER,
        "kw" => 1000.0,
        _ => return Err(refuse(StoresFault::NoPower { got: got() })),
    };
    let number = number.trim_end();
    let plain = number.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    let read = number.parse::<f64>().ok().filter(|read| plain && read.is_finite());
    let Some(power) = read.map(|read| read * watts) else {
        return Err(refuse(StoresFault::NoPower { got: got() }));
    };
    if !(POWERS.0..=POWERS.1).contains(&power) {
        return Err(refuse(StoresFault::PowerRange { got: got() }));
    }
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "held against its limits just above"
    )]
    let watts = power.round() as u32;
    Ok(Power { watts })
}

/// Reads what an engine burns.
pub(super) fn burns(text: &str) -> Result<Burns, Misread> {
    match text.trim().to_lowercase().as_str() {
        "gasoline" | "gas" | "petrol" => Ok(Burns::Gasoline),
        "diesel" => Ok(Burns::Diesel),
        _ => {
            let nearest = pithward_trade::nearest_word(text, &["gasoline", "diesel"]);
            let kind = FaultKind::Unknown { what: "fuel", got: Excerpt::new(text), nearest };
            Err(Misread::new(kind, 0..0, BURNS_HELP))
        }
    }
}

fn fluid(text: &str, help: &'static str) -> Result<Fluid, Misread> {
    Fluid::parse(text).map_err(|fault| Misread::new(StoresFault::from(fault), 0..0, help))
}

fn within(
    text: &str,
    fluid: Fluid,
    most: Fluid,
    help: &'static str,
    enough: bool,
) -> Result<Fluid, Misread> {
    if !enough || fluid > most {
        let kind = StoresFault::FluidRange { most, got: Excerpt::new(text) };
        return Err(Misread::new(kind, 0..0, help));
    }
    Ok(fluid)
}
