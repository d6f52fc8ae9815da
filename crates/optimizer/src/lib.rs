//! Patterns for one log.
pub mod allowance;
mod column;
mod family;
mod flitch;
pub mod stack;
mod want;
pub use want::{Cut, CutId, Want, WantId};
pub use family::Method;
mod plan;
pub use plan::{Answer, Fate, Little, LogPlan, MethodResult, NearMiss, Obstacle, Part, PlanFault, Planned, Product, Proof, Settings, Tally, WhyNone};
/// Plans one log.
///
/// # Errors
/// See [`PlanFault`].
pub fn open(_log: &pithward_geometry::Log, _mill: &pithward_geometry::Mill, _wants: &[Want], _settings: &Settings) -> Result<Answer, PlanFault> { Err(PlanFault::Program) }
/// Near misses of a plan.
///
/// # Errors
/// See [`PlanFault`].
pub fn near_misses(_log: &pithward_geometry::Log, _mill: &pithward_geometry::Mill, _wants: &[Want], _settings: &Settings, _planned: &Planned) -> Result<Vec<NearMiss>, PlanFault> { Ok(Vec::new()) }
