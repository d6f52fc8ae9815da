//! Patterns for one log, and the proof of how good they are.
//!
//! This crate never knows the hours of the day, files, or printing.
//!
//! # The road
//!
//! ```text
//! wants -columns-> sections and lengths -tables-> best strips by place -stacks-> patterns of a family
//!       -prices, counts-> the best pattern and its bound -saw-> sawing order -replay-> plan
//! ```
//!
//! | module | what it holds |
//! |---|---|
//! | `want` | what is wanted, in the numbers that the search needs |
//! | `column` | sections, lengths and their worth under prices |
//! | [`stack`] | the kernel: the most valuable stack on one side of the pith |
//! | `flitch` | the best strips of a flitch, for every place of its outer plane |
//! | `family` | through and through, cant, boxed heart, around |
//! | `counts`, `program`, [`allowance`] | counts: the linear program over patterns, and counts carried exactly |
//! | `sawing`, `edging` | from a pattern to a sawing order at exact and printed heights |
//! | `bucking` | stems cut into logs together with what the logs make |
//! | `looks`, `by_grade` | how pieces look, their expected grade, and the log opened by it |
//! | `metal` | when the blade comes near metal |
//! | `resume` | the best way on from a half-sawn log |
//! | `rebuilt` | a plan from what was chosen alone, as a file has it |
//! | `open`, `near` | the answer for one log; what a little more would have bought |

pub mod allowance;
mod bucking;
mod by_grade;
mod column;
mod counts;
mod edging;
mod family;
mod flitch;
#[cfg(test)]
mod invented;
mod looks;
pub mod master;
mod metal;
mod near;
mod open;
mod pile;
mod plan;
mod program;
mod rebuilt;
mod rests;
mod resume;
mod sawing;
mod site;
pub mod stack;
mod want;

pub use bucking::{
    BuckProof, BuckTerms, Bucked, BuckedStem, PartKind, PileStem, Plain, PlainRule, StemCuts,
    StemPart, buck,
};
pub use family::Method;
pub use looks::{Expected, Look, shown};
pub use metal::{Later, NearMetal};
pub use near::near_misses;
pub use open::{ByMethod, none_from, open, open_each, open_laid};
pub use pile::{Again, AgainPlan, Hidden, Keep, SawnAgain};
pub use pile::{
    AsFar, Cure, Demand, Effort, LogFate, Lot, LotReason, Pile, PileLog, PilePlan, PileProof,
    Program, Progress, Shortage, Stage, Watch, WhyShort, need, plan_pile, program_of, put_together,
};
pub use pile::{Need, Needed};
pub use plan::{
    Answer, Fate, Little, LogPlan, MethodResult, NearMiss, Obstacle, Part, PlanFault, Planned,
    Product, Proof, Rests, Settings, Tally, Taper, WhyNone,
};
pub use rebuilt::{Chosen, RebuildFault, rebuilt, rebuilt_of_pile};
pub use resume::{Begun, HalfSawn, How, ResumeAnswer, Resumed, resume};
pub use want::{Cut, CutId, Grading, Rings, Want, WantId};
