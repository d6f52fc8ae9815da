//! Near misses: what a little more of something would have bought.

use crate::plan::{NearMiss, PlanFault, Planned, Settings};
use crate::want::Want;
use pithward_geometry::{Log, Mill};

/// Near misses of a plan.
///
/// # Errors
/// See [`PlanFault`].
pub fn near_misses(
    _log: &Log,
    _mill: &Mill,
    _wants: &[Want],
    _settings: &Settings,
    _planned: &Planned,
) -> Result<Vec<NearMiss>, PlanFault> {
    Ok(Vec::new())
}
