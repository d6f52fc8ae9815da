//! What a day's work takes of fuel, water and blades.
//!
//! # Formula
//! ```text
//! fuel  = gal/h engine hours         spare cans = ceil((fuel - tank) / can), none below nothing
//! water = gal/h sawing hours         lubricant  = its share of the water
//! sharp blades = ceil(blades dulled), one at least where anything is sawn, and the spare ones
//! blades used up = blades dulled / (1 + sharpenings)
//! ```
//! A blade that was sharpened three times has been sharp four times.

use pithward_job::Stores;
use pithward_measure::Fluid;

/// The hours of a day, from whoever reckons them.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Work {
    /// Hours that the engine runs.
    pub engine_hours: f64,
    /// Hours in which water runs on the blade.
    pub sawing_hours: f64,
    /// How many times a sharp blade is sawn dull; need be no whole number.
    pub blades_dulled: f64,
}

/// What must be brought, and what it uses up.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Supplies {
    /// Fuel that is burned.
    pub fuel: Fluid,
    /// Spare cans beside a full tank.
    pub spare_cans: u32,
    /// Water on the blade.
    pub water: Fluid,
    /// What is put into it against pitch.
    pub lubricant: Fluid,
    /// Sharp blades to bring, the spare ones with them.
    pub sharp_blades: u32,
    /// So many of them are spare.
    pub spare_blades: u32,
    /// Blades used up, as a share of new ones.
    pub blades_used: f64,
    /// How many of them are sharpened again afterward.
    pub sharpened: f64,
}

impl Supplies {
    /// What a day takes; hours and blades below nothing count as none.
    pub fn of(stores: &Stores, work: &Work) -> Self {
        let engine = work.engine_hours.max(0.0);
        let sawing = work.sawing_hours.max(0.0);
        let dulled = work.blades_dulled.max(0.0);
        let fuel = engine * stores.gallons_per_hour();
        let water = sawing * stores.water_per_hour.gallons_f64();
        let beyond = (fuel - stores.tank.gallons_f64()).max(0.0);
        let can = stores.can.gallons_f64();
        let is_sawn = dulled > 0.0 || sawing > 0.0;
        let work_blades = if is_sawn { count(dulled).max(1) } else { 0 };
        let used = dulled / (1.0 + f64::from(stores.sharpenings));
        Self {
            fuel: Fluid::from_gallons_f64(fuel),
            spare_cans: if can > 0.0 { count(beyond / can) } else { 0 },
            water: Fluid::from_gallons_f64(water),
            lubricant: Fluid::from_gallons_f64(water * f64::from(stores.lubricant) / 1000.0),
            sharp_blades: if is_sawn { work_blades.saturating_add(stores.spare_blades) } else { 0 },
            spare_blades: if is_sawn { stores.spare_blades } else { 0 },
            blades_used: used,
            sharpened: dulled - used,
        }
    }
}

/// The whole number at or above; a millionth over one is rounding.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "not negative, and `as` saturates"
)]
fn count(number: f64) -> u32 {
    (number - 1e-6).ceil().max(0.0) as u32
}

#[cfg(test)]
mod tests {
    use super::{Supplies, Work};
    use pithward_job::Stores;
    use pithward_measure::Fluid;
    use proptest::prelude::*;

    fn work(engine_hours: f64, sawing_hours: f64, blades_dulled: f64) -> Work {
        Work { engine_hours, sawing_hours, blades_dulled }
    }

    /// Five gallons run a mill six to seven hours, so a full day needs a spare can; a blade is sharpened three or four
    /// times before it is done (common practice, no source).
    #[test]
    fn a_full_day_needs_a_spare_can() {
        let stores = Stores::default();
        let day = Supplies::of(&stores, &work(8.0, 5.0, 3.2));
        assert!((day.fuel.gallons_f64() - 8.0 * 5.0 / 6.5).abs() < 1e-6);
        assert_eq!(day.spare_cans, 1);
        assert_eq!(Supplies::of(&stores, &work(6.0, 5.0, 3.2)).spare_cans, 0);
        assert_eq!(Supplies::of(&stores, &work(6.5, 5.0, 3.2)).spare_cans, 0);
        assert_eq!(Supplies::of(&stores, &work(14.0, 5.0, 3.2)).spare_cans, 2);
        assert_eq!(day.water, Fluid::gallons(10));
        assert!((day.lubricant.gallons_f64() - 0.1).abs() < 1e-6);
        // Four blades for the work, two for metal.
        assert_eq!((day.sharp_blades, day.spare_blades), (6, 2));
        assert!((day.blades_used - 0.8).abs() < 1e-12 && (day.sharpened - 2.4).abs() < 1e-12);
    }

    /// One blade saws some 600 bf (400 to 800) in all, with its three or four sharpenings, says a trade page (weak). At
    /// 150 to 200 bf of dirty, small logs between two sharpenings that is what comes out.
    #[test]
    fn a_blade_lasts_its_sharpenings() {
        let stores = Stores::default();
        let blades = Supplies::of(&stores, &work(8.0, 5.0, 600.0 / 175.0)).blades_used;
        assert!((400.0..=800.0).contains(&(600.0 / blades)), "{blades}");
    }

    #[test]
    fn nothing_takes_nothing() {
        assert_eq!(Supplies::of(&Stores::default(), &Work::default()), Supplies::default());
        assert_eq!(Supplies::of(&Stores::default(), &work(-1.0, -1.0, -1.0)), Supplies::default());
        assert_eq!(Supplies::of(&Stores::default(), &work(0.0, 0.1, 0.0)).sharp_blades, 3);
    }

    proptest! {
        #[test]
        fn prop_more_work_takes_no_less(a in 0.0..20.0f64, b in 0.0..20.0f64, dulled in 0.0..30.0f64) {
            let stores = Stores::default();
            let (less, more) = (a.min(b), a.max(b));
            let less = Supplies::of(&stores, &work(less, less, dulled));
            let more = Supplies::of(&stores, &work(more, more, dulled + 1.0));
            prop_assert!(less.fuel <= more.fuel && less.spare_cans <= more.spare_cans);
            prop_assert!(less.water <= more.water && less.sharp_blades <= more.sharp_blades);
            // What is in the tank and the cans is enough.
            let brought = stores.tank.gallons_f64() + f64::from(more.spare_cans) * stores.can.gallons_f64();
            prop_assert!(more.fuel.gallons_f64() <= brought + 1e-4);
            prop_assert!((more.blades_used + more.sharpened - dulled - 1.0).abs() < 1e-9);
        }
    }
}
