//! Which structural grades the wane and the told knots of sawn dimension lumber would allow.
//!
//! A hint by which to sort the stack, and never a grade: [`pithward_trade::structural`] says what is behind the limits.
//! It is given of softwood, of named sizes that are dimension lumber, and of logs on which knots were told one by one.

use crate::names::{self, Named};
use crate::page::Page;
use pithward_geometry::{Defect, Log, Piece};
use pithward_job::LogJob;
use pithward_measure::{Length, Width};
use pithward_optimizer::{LogPlan, shown};
use pithward_trade::grade::{Board, DefectKind};
use pithward_trade::structural::{self, Fits};
use pithward_trade::{Confidence, Kind, Wane};

/// Dimension lumber is named from two inches thick to four, and two inches wide at least: PS 20.
const THICK: (Length, Length) = (Length::inches(2), Length::inches(4));

/// From this named width on a piece is a joist or a plank, below it light framing: the US National Grading Rule, from
/// memory.
const JOIST: Length = Length::inches(5);

/// The grades of joists and planks, and those of light framing, the best first.
const OF_JOISTS: [&str; 5] =
    ["Select Structural (joists and planks)", "No. 1", "No. 2", "No. 3", "Economy"];
const OF_LIGHT_FRAMING: [&str; 3] = ["Construction", "Standard", "Utility"];

/// What a piece may be sorted as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Sorted {
    /// Its wane and knots are within the limits of a grade, and of no better one: its place among its kind, and its name.
    Within(usize, &'static str),
    /// They are within those of no grade whose limits for such a piece are known.
    OfNone,
    /// Something else shows, or more than a knot: a hole, a seam.
    Look,
}

/// Beside every hint.
const HINT: &str = "By wane and by the knots that were told, and by nothing else: a hint for sorting the stack, no grade \
                    and no grade mark. A grader also looks at slope of grain, splits, shake, warp and rot.";

/// How each piece may be sorted; `None` of a piece of which nothing can be said.
pub(crate) fn sorted(job: &LogJob, plan: &LogPlan) -> Vec<Option<Sorted>> {
    let pieces = &plan.order.pieces;
    if !speaks_of(job) {
        return vec![None; pieces.len()];
    }
    let boards = shown(&job.log, &plan.order);
    let each = pieces.iter().zip(boards).zip(&plan.products).enumerate();
    each.map(|(n, ((piece, board), product))| {
        let want = &job.wants[product.cut.want.0];
        let Width::Exactly(width) = want.size.width else { return None };
        let thickness = want.size.thickness;
        let is_dimension = (THICK.0..=THICK.1).contains(&thickness) && width >= THICK.0;
        if !is_dimension || !want.grade.is_nothing() {
            return None;
        }
        let (u, h) = plan.replayed.pieces.get(n)?.wane;
        let legs = if is_flat(piece) { (h, u) } else { (u, h) };
        let [along_thickness, along_width] = [legs.0, legs.1].map(Length::from_inches_f64);
        let legs = Wane { thickness: along_thickness, width: along_width };
        Some(sort(&board?, sawn_thickness(piece), thickness.max(width), legs))
    })
    .collect()
}

/// Whether anything can be said of a log: knots of a conifer, each told by itself.
fn speaks_of(job: &LogJob) -> bool {
    let is_softwood = job.species.is_some_and(|species| species.kind == Kind::Softwood);
    is_softwood && are_told(&job.log)
}

fn are_told(log: &Log) -> bool {
    let is_core = |defect: &Defect| matches!(defect, Defect::Core { .. });
    !log.defects().is_empty() && !log.defects().iter().any(is_core)
}

fn sawn_thickness(piece: &Piece) -> Length {
    piece.claim.u.size().min(piece.claim.h.size())
}

/// Whether a piece's width lies along `u`.
fn is_flat(piece: &Piece) -> bool {
    piece.claim.u.size() >= piece.claim.h.size()
}

fn sort(board: &Board, thickness: Length, named_width: Length, legs: Wane) -> Sorted {
    let mut known = structural::Piece {
        thickness,
        width: board.width,
        named_width,
        length: board.length,
        wane: Vec::new(),
        edge_knot: Length::ZERO,
        centre_knot: Length::ZERO,
    };
    if legs.thickness.max(legs.width) > Length::ZERO {
        // The largest legs of any corner, as if they ran from end to end: no piece is held for better than it is.
        known.wane.push((board.length, legs));
    }
    for defect in board.faces.iter().flatten() {
        let across = defect.area.across;
        match defect.kind {
            DefectKind::Wane => {}
            DefectKind::SoundKnot => {
                let is_at_edge = across.0 <= Length::ZERO || across.1 >= board.width;
                let knot = if is_at_edge { &mut known.edge_knot } else { &mut known.centre_knot };
                *knot = (*knot).max(across.1 - across.0);
            }
            _ => return Sorted::Look,
        }
    }
    let hints = structural::hints(&known);
    let fits = |grade: &&'static str| {
        let hint = hints.iter().find(|hint| hint.grade == *grade);
        hint.is_some_and(|hint| hint.wane == Fits::Yes && hint.knots == Fits::Yes)
    };
    let grades = if named_width < JOIST { &OF_LIGHT_FRAMING[..] } else { &OF_JOISTS };
    let within = grades.iter().copied().enumerate().find(|(_, grade)| fits(grade));
    within.map_or(Sorted::OfNone, |(place, grade)| Sorted::Within(place, grade))
}

/// The hint of a log's card: sizes, and how many of each may be sorted as what.
pub(crate) fn hint(page: &mut Page, job: &LogJob, plan: &LogPlan, pieces: &[Option<Named>]) {
    let sorted = sorted(job, plan);
    let mut kinds: Vec<Sorted> = sorted.iter().flatten().copied().collect();
    kinds.sort_unstable();
    kinds.dedup();
    if kinds.is_empty() {
        return;
    }
    page.heading("SORTING HINT", "no grade, and no grade mark");
    for kind in kinds {
        let words = match kind {
            Sorted::Within(_, grade) => format!("within {grade}"),
            Sorted::OfNone => "within none".to_owned(),
            Sorted::Look => "look at them".to_owned(),
        };
        let of_it = pieces.iter().zip(&sorted).filter(|(_, sorted)| **sorted == Some(kind));
        page.hang(&format!("  {words}: "), &names::sizes(of_it.filter_map(|(piece, _)| *piece)));
    }
    page.say(&format!("{HINT} Limits: published for softwood dimension lumber, {}.", trust()));
}

/// How far the limits are to be trusted.
fn trust() -> &'static str {
    let of_knots = structural::knot_limits().iter().map(|limit| limit.centre.1);
    let of_wane = pithward_trade::full_length_limits().iter().map(|limit| limit.confidence);
    match of_knots.chain(of_wane).max() {
        Some(Confidence::Read | Confidence::Derived) | None => "as read in their sources",
        Some(Confidence::Memory | Confidence::Weak) => {
            "many of them from memory and not seen in print"
        }
    }
}

#[cfg(test)]
mod tests;
