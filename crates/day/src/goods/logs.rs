//! What the logs weigh, and whether the loader lifts them.

use super::Matter;
use pithward_geometry::{Body, Covering, Log, Solid};
use pithward_measure::Weight;
use pithward_trade::{GreenDensity, Species};

/// By how much one tree may be heavier than the average of its species: 5 to 10 percent, from memory.
pub const HEAVIER: f64 = 0.10;

/// What one log weighs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LogWeight {
    /// The whole log with its bark, green. What is rotten or hollow counts as sound: nobody knows how much of it is gone.
    pub whole: Matter,
    /// What a cubic foot of it weighs, and how that is known.
    pub density: GreenDensity,
    /// Whether the loader lifts it.
    pub lift: Lift,
}

/// A log against what the loader lifts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lift {
    /// Nobody said what the loader lifts.
    Unknown,
    /// It lifts it, though it be a tenth heavier than the average of its species.
    Lifts,
    /// It lifts it if it is no heavier than the average.
    Near {
        /// What the loader lifts.
        lifts: Weight,
    },
    /// It is too heavy.
    TooHeavy {
        /// What the loader lifts.
        lifts: Weight,
    },
}

impl Lift {
    /// A weight against what the loader lifts.
    pub fn of(weight: Weight, lifts: Option<Weight>) -> Self {
        let Some(lifts) = lifts else { return Self::Unknown };
        if weight > lifts {
            Self::TooHeavy { lifts }
        } else if weight.lb_f64() * (1.0 + HEAVIER) > lifts.lb_f64() {
            Self::Near { lifts }
        } else {
            Self::Lifts
        }
    }
}

impl LogWeight {
    /// A log of a species, or of wood that nobody named, against what the loader lifts.
    pub fn of(log: &Log, species: Option<&Species>, lifts: Option<Weight>) -> Self {
        let body = Body::whole(log);
        let bark = (body.volume(Covering::Bark) - body.volume(Covering::Wood)).max(0.0);
        let density = GreenDensity::of(species);
        Self::measured(Solid { wood: log.volume(), bark }, density, lifts)
    }

    /// A log whose wood and bark are measured already.
    pub(super) fn measured(solid: Solid, density: GreenDensity, lifts: Option<Weight>) -> Self {
        let whole = Matter::of(solid, density);
        Self { whole, density, lift: Lift::of(whole.weight, lifts) }
    }
}

#[cfg(test)]
mod tests {
    use super::{Lift, LogWeight};
    use pithward_geometry::Log;
    use pithward_measure::{Length, Weight};
    use pithward_trade::{DensityBasis, Species};

    fn cylinder(inches: i64, bark: Length) -> Log {
        let diameter = Length::inches(inches);
        Log::new(diameter, diameter, Length::feet(10), bark, bark).unwrap()
    }

    /// Logs of 10 ft without bark and taper: cubic feet, and pounds at 45, 55 and 63 lb/ft3, to the figures of the table
    /// (computed, no source).
    #[test]
    fn cylinders_weigh_what_the_table_says() {
        for (diameter, cubic_feet, pounds) in [
            (12, 7.9, [350.0, 430.0, 500.0]),
            (16, 14.0, [630.0, 770.0, 880.0]),
            (20, 21.8, [980.0, 1200.0, 1370.0]),
            (24, 31.4, [1410.0, 1730.0, 1980.0]),
            (30, 49.1, [2210.0, 2700.0, 3090.0]),
            (36, 70.7, [3180.0, 3890.0, 4450.0]),
        ] {
            let log = cylinder(diameter, Length::ZERO);
            for (density, pounds) in [45.0, 55.0, 63.0].into_iter().zip(pounds) {
                // Hard maple at 55, ponderosa pine at 45, white oak at 63.
                let species = match density {
                    45.0 => "ponderosa pine",
                    55.0 => "hard maple",
                    _ => "white oak",
                };
                let weight = LogWeight::of(&log, Some(Species::find(species).unwrap()), None);
                let whole = weight.whole;
                assert!((whole.wood.get() - cubic_feet).abs() <= 0.05, "{whole:?}");
                assert!((whole.weight.lb_f64() - pounds).abs() <= 5.5, "{diameter}: {whole:?}");
            }
        }
    }

    /// Told (no source): bark is 8 to 15 percent more, by weight. By the inventory's table it is for 14 of its 32 species;
    /// where bark is thick or wet it is up to a quarter, as of oaks and Douglas-fir. By volume, 10 to 20 percent of the
    /// log with its bark is published of most species.
    #[test]
    fn bark_adds_what_is_told_of_it_and_more_where_it_is_thick_or_wet() {
        let (mut outside, mut most_by_volume, mut count) = (Vec::new(), 0, 0);
        for species in Species::all().iter().filter(|species| species.bark_lb_per_ft3.is_some()) {
            let log = cylinder(16, species.bark_thickness(Length::inches(16)));
            let weight = LogWeight::of(&log, Some(species), None);
            let wood = weight.whole.wood.get() * weight.density.wood;
            let more = 100.0 * (weight.whole.weight.lb_f64() / wood - 1.0);
            // The bark's own share of the volume.
            let share = 100.0 * weight.whole.bark.get() / weight.whole.wood.get();
            assert!((share - species.bark_volume_pct.value).abs() < 0.01, "{}", species.name);
            let with_bark = 100.0 * weight.whole.bark.get() / weight.whole.solid().get();
            most_by_volume += u32::from((9.5..=20.5).contains(&with_bark));
            count += 1;
            if !(8.0..=15.0).contains(&more) {
                outside.push((&species.name, more.round()));
            }
        }
        println!("outside 8 to 15 %: {outside:?}");
        println!("{most_by_volume} of {count} between 10 and 20 % by volume");
        assert_eq!((count, outside.len()), (32, 18));
        assert!(outside.iter().all(|(_, more)| (15.0..=25.0).contains(more)), "{outside:?}");
        assert!(4 * most_by_volume > 3 * count, "{most_by_volume}");
    }

    #[test]
    fn a_log_is_held_against_what_the_loader_lifts() {
        let log = cylinder(24, Length::ZERO);
        let species = Species::find("white oak").unwrap();
        let weight = |lifts| LogWeight::of(&log, Some(species), lifts);
        // 31.4 ft3 at 63 lb are 1979 lb.
        assert_eq!(weight(None).lift, Lift::Unknown);
        for (lifts, expected) in [(1978, true), (1980, false)] {
            let lifts = Weight::lb(lifts);
            let too_heavy = Lift::TooHeavy { lifts };
            assert_eq!(weight(Some(lifts)).lift == too_heavy, expected);
        }
        assert_eq!(weight(Some(Weight::lb(2170))).lift, Lift::Near { lifts: Weight::lb(2170) });
        assert_eq!(weight(Some(Weight::lb(2180))).lift, Lift::Lifts);
        // A wood that nobody named is taken as heavy as any.
        let unnamed = LogWeight::of(&log, None, None);
        assert_eq!(unnamed.density.wood_basis, DensityBasis::Heaviest);
        assert!(unnamed.whole.weight >= weight(None).whole.weight);
    }
}
