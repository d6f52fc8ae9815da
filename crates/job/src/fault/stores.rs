//! What is wrong with what a mill takes with it, lifts and burns, and with what is hauled.

use pithward_measure::{Excerpt, Fluid, FluidFault, Weight, WeightFault};
use thiserror::Error;

/// What is wrong with what a mill takes with it, lifts and burns, and with what is hauled.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum StoresFault {
    /// No weight.
    #[error(transparent)]
    Weight(#[from] WeightFault),
    /// A weight that nobody lifts or hauls.
    #[error("must be between {least} and {greatest}, got {got}")]
    WeightRange {
        /// The least that makes sense.
        least: Weight,
        /// The most that makes sense.
        greatest: Weight,
        /// What was written.
        got: Excerpt,
    },
    /// No volume.
    #[error(transparent)]
    Fluid(#[from] FluidFault),
    /// A volume that nobody brings.
    #[error("must be more than nothing and at most {most}, got {got}")]
    FluidRange {
        /// The most that makes sense.
        most: Fluid,
        /// What was written.
        got: Excerpt,
    },
    /// Nothing by the hour.
    #[error("{got} is no volume by the hour")]
    NoFlow {
        /// What was written.
        got: Excerpt,
    },
    /// No power.
    #[error("{got} is no power")]
    NoPower {
        /// What was written.
        got: Excerpt,
    },
    /// A power that no such engine has.
    #[error("must be between 0.5 kW and 500 kW, got {got}")]
    PowerRange {
        /// What was written.
        got: Excerpt,
    },
    /// A percentage that makes no sense where it stands.
    #[error("must be between {least} % and {greatest} %, got {got}")]
    Share {
        /// The least that makes sense.
        least: u32,
        /// The most that makes sense.
        greatest: u32,
        /// What was written.
        got: Excerpt,
    },
}

impl StoresFault {
    /// Whether the message goes on where the name of the field ends.
    pub(super) fn is_said_of_the_field(&self) -> bool {
        matches!(
            self,
            Self::WeightRange { .. }
                | Self::FluidRange { .. }
                | Self::PowerRange { .. }
                | Self::Share { .. }
        )
    }
}
