//! Hours, weights, volumes and money as they stand on papers.

use pithward_measure::{Fluid, Length, Weight};
use pithward_trade::CubicFeet;

use crate::names;
use crate::terms::Terms;

/// Cubic feet in a cubic yard.
const YARD: f64 = 27.0;
/// Cubic feet in a cord.
const CORD: f64 = 128.0;

/// `6 h 40 min`, to the nearest five minutes; under two hours to the minute.
pub(crate) fn time(minutes: f64) -> String {
    let step = if minutes < 120.0 { 1.0 } else { 5.0 };
    let minutes = whole((minutes / step).round() * step);
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

/// A time that is billed, to the second, so that it times its price is the amount: `5 h 59 min`.
pub(crate) fn billed(seconds: i64) -> String {
    let (minutes, rest) = (seconds.max(0) / 60, seconds.max(0) % 60);
    let parts = [(minutes / 60, "h"), (minutes % 60, "min"), (rest, "s")];
    let told: Vec<String> = parts
        .iter()
        .filter(|(figure, _)| *figure > 0)
        .map(|(figure, unit)| format!("{figure} {unit}"))
        .collect();
    if told.is_empty() { "0 min".to_owned() } else { told.join(" ") }
}

/// The time of the day: `8:05`.
pub(crate) fn clock(minutes: f64) -> String {
    let minutes = whole(minutes.round());
    format!("{}:{:02}", minutes / 60, minutes % 60)
}

/// A weight as heavy as it must be taken: to the nearest 10 lb or 5 kg.
pub(crate) fn weight(job: &impl Terms, weight: Weight) -> String {
    if job.scale().is_metric() {
        format!("{} kg", grouped(rounded(weight.kg_f64(), 5.0)))
    } else {
        format!("{} lb", grouped(rounded(weight.lb_f64(), 10.0)))
    }
}

/// A rough length in the job's own units: so many feet, or as many metres.
pub(crate) fn room(job: &impl Terms, feet: i32, metres: &str) -> String {
    if job.scale().is_metric() { format!("{metres} m") } else { format!("{feet} ft") }
}

/// A thickness or a small distance, to the eighth or the millimetre.
pub(crate) fn small(job: &impl Terms, length: Length) -> String {
    names::width(job, length.inches_f64())
}

/// Slabs and edgings, stacked: cords, or stacked cubic metres.
pub(crate) fn stacked(job: &impl Terms, cords: (f64, f64)) -> String {
    let (least, most, unit) = if job.scale().is_metric() {
        let metres = |cords: f64| CubicFeet::new(cords * CORD).cubic_metres();
        (metres(cords.0), metres(cords.1), "stacked cubic metres")
    } else {
        (cords.0, cords.1, "cords, stacked")
    };
    match [least, most].map(|figure| format!("{figure:.1}")) {
        [least, most] if least == most => format!("about {most} {unit}"),
        [least, most] => format!("{least} to {most} {unit}"),
    }
}

/// A heap: cubic yards or cubic metres, to a tenth.
pub(crate) fn heap(job: &impl Terms, volume: CubicFeet) -> String {
    if job.scale().is_metric() {
        format!("{:.1} m3", volume.cubic_metres())
    } else {
        format!("{:.1} cubic yards", volume.get() / YARD)
    }
}

/// Water and fuel, up to the next whole gallon or litre.
pub(crate) fn fluid(job: &impl Terms, fluid: Fluid) -> String {
    if job.scale().is_metric() {
        format!("{} L", whole((fluid.litres_f64() - 1e-6).ceil()))
    } else {
        format!("{} gal", whole((fluid.gallons_f64() - 1e-6).ceil()))
    }
}

fn rounded(figure: f64, step: f64) -> u64 {
    whole((figure / step).round() * step)
}

/// Board feet, whole.
pub(crate) fn whole_feet(millionths: i64) -> String {
    grouped(u64::try_from((millionths.max(0) + 500_000) / 1_000_000).unwrap_or(0))
}

/// Board feet for people who do not saw: to the nearest ten.
pub(crate) fn round_feet(millionths: i64) -> String {
    let tens = (millionths.max(0) + 5_000_000) / 10_000_000;
    grouped(u64::try_from(tens).unwrap_or(0) * 10)
}

/// `12,340`.
fn grouped(figure: u64) -> String {
    match (figure / 1000, figure % 1000) {
        (0, rest) => rest.to_string(),
        (more, rest) => format!("{},{rest:03}", grouped(more)),
    }
}

/// A figure that is whole already, none below nothing.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "not negative, and `as` saturates"
)]
pub(super) fn whole(figure: f64) -> u64 {
    figure.max(0.0) as u64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_as_people_say_them() {
        assert_eq!(time(0.4), "0 min");
        assert_eq!(time(61.2), "1 h 1 min");
        assert_eq!(time(402.0), "6 h 40 min");
        assert_eq!(time(119.6), "2 h");
        assert_eq!([billed(21_540), billed(7_200), billed(0)], ["5 h 59 min", "2 h", "0 min"]);
        assert_eq!(clock(485.4), "8:05");
        assert_eq!(grouped(1_234_567), "1,234,567");
        assert_eq!(grouped(30), "30");
        assert_eq!([round_feet(4_976_300_000), round_feet(4_000_000)], ["4,980", "0"]);
        assert_eq!(rounded(1234.9, 10.0), 1230);
    }
}
