//! The hardwood factory grade that a board may be expected to have.
//!
//! A factory grade says how much of a board can be cut up into clear rectangles of a useful size: how many
//! **cutting units** (1 in by 1 ft) the poorer face yields, in at most so many **cuttings**, for each square
//! foot of its **surface measure**. [`expected`] is the best grade all of whose limits hold, given the defects
//! that the two faces show.
//!
//! It is *expected*, never a grade: only a person with the board in hand grades it, and sees what no
//! measurement of a log foretells.
//!
//! * [`surface_measure`]: the square feet of a board's face as the trade rounds them.
//! * [`Field`]: the best set of cuttings on a face, an exact search.
//! * [`rules`]: what each grade asks for, from the published tables.
//! * [`Limit`]: what is limited beside the yield.
//! * [`Prices`]: what somebody pays by the grade.
//!
//! # Which face decides
//! FAS and the common grades are those of the poorer face. F1F and Selects need a better face that is FAS in
//! all and another that is not below No. 1 Common. A cutting is **clear** when its own side has no defect and
//! its reverse is sound; for F1F and Selects the reverse need not be sound. No cutting holds pith or a split.
//! **Sound** is free from rot, pith, shake and wane; it admits sound knots, stain and worm holes
//! ([`DefectKind::is_sound`]).
//!
//! # Where it is not the rule book
//! * Holes of a quarter of an inch and more may be in a sound cutting in small number; here they may not.
//! * Which defects of a species are none ("no defect" clauses) is not known here: do not list them.
//! * No. 3A Common may also be given to a better face of No. 2A with sound cuttings on the reverse; that is
//!   from memory, and left out. No. 2B is not looked for.
//! * A board of 1 ft surface measure is No. 1 Common when the whole face is clear.
//! * A cutting may use the length beyond the last whole foot; the surface measure does not count it.
//!
//! # Source
//! Rules of the National Hardwood Lumber Association: its summary chart, pages 22 and 63 of the rule book of
//! 2015, and paragraphs 31 (sound cutting), 57, 59, 60, 64 and 72 of that of 2019 as quoted in its Rules
//! Corner. Facts only; the rule book itself is the authority. Each row of the tables says how far it is to be
//! trusted.

mod area;
mod board;
mod cover;
mod cuttings;
mod expected;
mod least;
mod limits;
mod name;
mod parting;
mod prices;
mod rules;
mod surface;
#[cfg(test)]
mod tests;

pub use area::{Area, Units};
pub use board::{Board, Defect, DefectKind};
pub use cuttings::{Field, Found, Free};
pub use expected::{Expected, Settings, Yielded, expected, face_yields};
pub use least::Least;
pub use limits::Limit;
pub use name::Grade;
pub use prices::Prices;
pub use rules::{Cuttings, GradeRule, How, Way, rules};
pub use surface::{Half, surface_measure, whole_feet};
