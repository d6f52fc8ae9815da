//! What the trade and the standards know: species, sizes, log rules, volumes, wane.
//!
//! This crate never knows any search: it has not heard of a mill, a log on one, a pattern or a plan.
//! It answers questions that a book could answer, and says which book. Its tables are the files of
//! `data/published`, embedded as they are; the README there names source, edition and confidence of
//! each, and every line where what is computed here differs from what is printed.
//!
//! * [`confidence`]: how far a published figure is to be trusted.
//! * [`species`]: weight, shrinkage and bark of the species, found by the names people use.
//! * [`weight`]: what green wood and bark weigh, and what drying takes of it.
//! * [`residue`]: how loose sawdust and slabs lie.
//! * [`spelling`]: the known word that a slip of the pen may have meant.
//! * [`shrinkage`]: how much a piece shrinks from green to a moisture content.
//! * [`softwood_sizes`]: the nominal, dressed and rough sizes of the softwood standard.
//! * [`finish`]: the green size that dries and planes to a finished one.
//! * [`target`](mod@target): what is sawn for a named size, under the policy that the user chose.
//! * [`grade`]: the hardwood factory grade that a board may be expected to have.
//! * [`rings`]: flat, rift and quarter, by the angle of the growth rings.
//! * [`structural`]: which structural grades a piece's wane and knots would allow, a hint for sorting.
//! * [`wane`]: how much wood may be missing from the edges of a piece.
//! * [`log_rule`]: what International 1/4-inch, Scribner Decimal C and Doyle give a log.
//! * [`cubic`]: what a log holds, in cubic feet.
//! * [`boxed`]: squares, beams and opening faces in a round log.

pub mod boxed;
pub mod confidence;
pub mod cubic;
pub mod finish;
pub mod grade;
pub mod log_rule;
mod published;
pub mod residue;
pub mod rings;
mod scribner;
pub mod shrinkage;
pub mod softwood_sizes;
pub mod species;
mod species_name;
pub mod spelling;
pub mod structural;
pub mod target;
pub mod wane;
pub mod weight;

pub use confidence::{Confidence, Figure};
pub use cubic::CubicFeet;
pub use finish::{Finish, FinishFault, green_target, z_for_undersize};
pub use grade::{Grade, surface_measure};
pub use log_rule::{DiameterRounding, LogRule, LogRuleFault, Scale, scale};
pub use rings::{RingClass, RingConvention};
pub use shrinkage::{Direction, ShrinkageFault};
pub use softwood_sizes::{Class, Side, SoftwoodSize};
pub use species::{Kind, Species};
pub use species_name::SpeciesFault;
pub use spelling::nearest_word;
pub use target::{SizePolicy, Target, TargetFault, target};
pub use wane::{GradeWane, PartWane, Wane, WaneFault, WaneLimit, full_length_limits};
pub use weight::{DensityBasis, GreenDensity};
