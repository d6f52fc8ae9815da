//! An amount of wood with its bark: how much there is of it, and what it weighs green.

use pithward_geometry::Solid;
use pithward_measure::Weight;
use pithward_trade::{CubicFeet, GreenDensity};

/// Cubic inches in a cubic foot.
const CUBIC_INCHES: f64 = 1728.0;

/// Wood with its bark.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Matter {
    /// Solid wood.
    pub wood: CubicFeet,
    /// Solid bark.
    pub bark: CubicFeet,
    /// Of both, green.
    pub weight: Weight,
}

impl Default for Matter {
    fn default() -> Self {
        Self { wood: CubicFeet::new(0.0), bark: CubicFeet::new(0.0), weight: Weight::ZERO }
    }
}

impl Matter {
    /// So much of a log.
    pub fn of(solid: Solid, density: GreenDensity) -> Self {
        let (wood, bark) = (solid.wood / CUBIC_INCHES, solid.bark / CUBIC_INCHES);
        Self {
            wood: CubicFeet::new(wood),
            bark: CubicFeet::new(bark),
            weight: Weight::from_lb_f64(wood * density.wood + bark * density.bark),
        }
    }

    /// Wood and bark together.
    pub fn solid(&self) -> CubicFeet {
        CubicFeet::new(self.wood.get() + self.bark.get())
    }

    /// Two amounts together.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            wood: CubicFeet::new(self.wood.get() + other.wood.get()),
            bark: CubicFeet::new(self.bark.get() + other.bark.get()),
            weight: self.weight + other.weight,
        }
    }
}

impl std::iter::Sum for Matter {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        amounts.fold(Self::default(), Self::plus)
    }
}
