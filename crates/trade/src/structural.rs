//! Which structural grades the wane and the knots of a piece would allow: a hint for sorting.
//!
//! **Never a grade mark.** A structural grade is given by a grader of an approved agency, who also looks at
//! slope of grain, splits, shake, warp, rot and more. Where the building code asks for marked lumber, a piece
//! without a mark or a certificate is none.
//!
//! Limits are those of softwood dimension lumber: wane as shares of the piece ([`full_length_limits`]), knots
//! by the named width. Most of them are from memory, and each hint says how far the figures that it needed are
//! to be trusted ([`Hint::confidence`]).
//!
//! # Source
//! `data/published/wane_limits.csv` and `structural_knots.csv`, each row with its own.

use crate::published::{self, TableFault, inches};
use crate::wane::{GradeWane, Wane, full_length_limits};
use crate::{Confidence, WaneLimit};
use pithward_measure::Length;
use std::sync::LazyLock;

const KNOTS: &str = include_str!("../../../data/published/structural_knots.csv");

static TABLE: LazyLock<Vec<KnotLimit>> = LazyLock::new(|| {
    parse().expect("the table is embedded, and `the_embedded_table_parses` proves it sound")
});

/// The largest knots that a grade allows on the wide face of a piece.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct KnotLimit {
    /// Name of the grade.
    pub grade: String,
    /// Named width of the piece.
    pub width: Length,
    /// At the edge; `None` where it is as anywhere.
    pub edge: Option<(Length, Confidence)>,
    /// On the centre line, or anywhere.
    pub centre: (Length, Confidence),
    /// Who publishes it.
    pub source: String,
}

/// The published limits on knots.
pub fn knot_limits() -> &'static [KnotLimit] {
    &TABLE
}

/// What is known of a piece.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Piece {
    /// Thickness.
    pub thickness: Length,
    /// Width.
    pub width: Length,
    /// Width as it is named.
    pub named_width: Length,
    /// Length.
    pub length: Length,
    /// Stretches with wane: how long, and the largest legs there.
    pub wane: Vec<(Length, Wane)>,
    /// The largest knot at an edge of a wide face, none where there is none.
    pub edge_knot: Length,
    /// The largest knot elsewhere on a wide face.
    pub centre_knot: Length,
}

/// Whether something is within a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fits {
    /// It is.
    Yes,
    /// It is not.
    No,
    /// No limit for such a piece is known here.
    Unknown,
}

/// What a grade's limits say of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hint {
    /// Name of the grade.
    pub grade: &'static str,
    /// Its wane.
    pub wane: Fits,
    /// Its knots.
    pub knots: Fits,
    /// How far the weakest of the figures used is to be trusted.
    pub confidence: Confidence,
}

/// A hint for every structural grade of the tables, in their order.
pub fn hints(piece: &Piece) -> Vec<Hint> {
    full_length_limits().iter().map(|limit| hint(piece, limit)).collect()
}

fn hint(piece: &Piece, limit: &'static GradeWane) -> Hint {
    let (wane, of_wane) = wane(piece, limit);
    let (knots, of_knots) = knots(piece, &limit.grade);
    let confidence = of_knots.map_or(of_wane, |of_knots| of_wane.max(of_knots));
    Hint { grade: &limit.grade, wane, knots, confidence }
}

/// Wane within the full-length limit may be anywhere; what is more must be within the limit for a part, on one
/// of the two faces.
fn wane(piece: &Piece, limit: &GradeWane) -> (Fits, Confidence) {
    let is_thin = |limit: Option<WaneLimit>, legs: &Wane| {
        limit.is_none_or(|limit| limit.allows(legs.thickness, piece.thickness))
    };
    let is_narrow = |limit: WaneLimit, legs: &Wane| limit.allows(legs.width, piece.width);
    let within = |legs: &Wane| is_thin(limit.thickness, legs) && is_narrow(limit.width, legs);
    let more: Vec<&(Length, Wane)> = piece.wane.iter().filter(|(_, legs)| !within(legs)).collect();
    if more.is_empty() {
        return (Fits::Yes, limit.confidence);
    }
    let Some(part) = limit.part else { return (Fits::No, limit.confidence) };
    let in_part = |legs: &Wane| {
        (is_thin(Some(part.thickness), legs) && is_narrow(limit.width, legs))
            || (is_thin(limit.thickness, legs) && is_narrow(part.width, legs))
    };
    // No stretch, nor all of them, is longer than the piece.
    let add = |sum: Length, (long, _): &&(Length, Wane)| (sum + *long).min(piece.length);
    let long = more.iter().fold(Length::ZERO, add);
    let fits =
        part.of_length.allows(long, piece.length) && more.iter().all(|(_, legs)| in_part(legs));
    let confidence = limit.confidence.max(limit.at_most_confidence);
    (if fits { Fits::Yes } else { Fits::No }, confidence)
}

fn knots(piece: &Piece, grade: &str) -> (Fits, Option<Confidence>) {
    let here = |limit: &&KnotLimit| limit.grade == grade && limit.width == piece.named_width;
    let Some(limit) = knot_limits().iter().find(here) else {
        // Without a knot no limit is needed.
        let is_clear = piece.edge_knot.max(piece.centre_knot) <= Length::ZERO;
        return (if is_clear { Fits::Yes } else { Fits::Unknown }, None);
    };
    let (edge, of_edge) = limit.edge.unwrap_or(limit.centre);
    let (centre, of_centre) = limit.centre;
    let fits = piece.edge_knot <= edge && piece.centre_knot <= centre;
    (if fits { Fits::Yes } else { Fits::No }, Some(of_edge.max(of_centre)))
}

fn parse() -> Result<Vec<KnotLimit>, TableFault> {
    published::read(KNOTS, |row| {
        let edge = row.open_cell("edge_in", "inches", inches)?;
        Ok(KnotLimit {
            grade: row.text("grade")?.to_owned(),
            width: row.cell("width_in", "inches", inches)?,
            edge: match edge {
                Some(edge) => Some((edge, row.confidence("edge_confidence")?)),
                None => None,
            },
            centre: (
                row.cell("centre_in", "inches", inches)?,
                row.confidence("centre_confidence")?,
            ),
            source: row.text("source")?.to_owned(),
        })
    })
}

#[cfg(test)]
mod tests {
    use super::{Fits, Piece, hints, knot_limits, parse};
    use crate::{Confidence, Wane, full_length_limits};
    use pithward_measure::Length;

    /// A 2x8, dressed, 12 ft.
    fn two_by_eight() -> Piece {
        Piece {
            thickness: Length::sixty_fourths(96),
            width: Length::sixty_fourths(464),
            named_width: Length::inches(8),
            length: Length::feet(12),
            ..Piece::default()
        }
    }

    #[track_caller]
    fn check(piece: &Piece, grade: &str, wane: Fits, knots: Fits) -> Confidence {
        let hints = hints(piece);
        let hint = hints.iter().find(|hint| hint.grade == grade).unwrap();
        assert_eq!((hint.wane, hint.knots), (wane, knots));
        hint.confidence
    }

    #[test]
    fn the_embedded_table_parses() {
        assert_eq!(parse().unwrap().len(), 19);
        let names = |limit: &super::KnotLimit| {
            full_length_limits().iter().any(|grade| grade.grade == limit.grade)
        };
        assert!(knot_limits().iter().all(names));
    }

    #[test]
    fn wane_over_the_full_length_and_over_a_part_on_both_sides() {
        // No. 2: 1/3 of 1 1/2 in and of 7 1/4 in; over a quarter of the length 2/3 or 1/2.
        let waney = |long: Length, thickness: i64, width: i64, more: i64| {
            let legs = Wane {
                thickness: Length::sixty_fourths(thickness),
                width: Length::sixty_fourths(width) + Length::nm(more),
            };
            Piece { wane: vec![(long, legs)], ..two_by_eight() }
        };
        let (all, part) = (Length::feet(12), Length::feet(3));
        check(&two_by_eight(), "No. 2", Fits::Yes, Fits::Yes);
        check(&waney(all, 32, 154, 0), "No. 2", Fits::Yes, Fits::Yes);
        check(&waney(all, 33, 154, 0), "No. 2", Fits::No, Fits::Yes);
        check(&waney(all, 32, 155, 0), "No. 2", Fits::No, Fits::Yes);
        for (thickness, width, fits) in [
            (64, 154, Fits::Yes),
            (65, 154, Fits::No),
            (32, 232, Fits::Yes),
            (32, 233, Fits::No),
            (64, 232, Fits::No),
        ] {
            check(&waney(part, thickness, width, 0), "No. 2", fits, Fits::Yes);
            let long = part + Length::nm(1);
            check(&waney(long, thickness, width, 0), "No. 2", Fits::No, Fits::Yes);
        }
        // Many short stretches are one long one.
        let legs = Wane { thickness: Length::sixty_fourths(64), width: Length::ZERO };
        let many = |count| Piece { wane: vec![(Length::inches(6), legs); count], ..two_by_eight() };
        check(&many(6), "No. 2", Fits::Yes, Fits::Yes);
        check(&many(7), "No. 2", Fits::No, Fits::Yes);
        // Economy: three quarters of the width, nothing said of the thickness.
        check(&waney(all, 96, 348, 0), "Economy", Fits::Yes, Fits::Yes);
        check(&waney(all, 96, 348, 1), "Economy", Fits::No, Fits::Yes);
    }

    #[test]
    fn knots_at_the_edge_and_on_the_centre_line_on_both_sides() {
        let knotty = |edge: i64, centre: i64| Piece {
            edge_knot: Length::sixty_fourths(edge),
            centre_knot: Length::sixty_fourths(centre),
            ..two_by_eight()
        };
        // A 2x8 of No. 2: 2 1/2 in at the edge, 3 1/2 in on the centre line.
        let confidence = check(&knotty(160, 224), "No. 2", Fits::Yes, Fits::Yes);
        assert_eq!(confidence, Confidence::Weak);
        check(&knotty(161, 224), "No. 2", Fits::Yes, Fits::No);
        check(&knotty(160, 225), "No. 2", Fits::Yes, Fits::No);
        // Not in the table.
        check(&knotty(1, 0), "Utility", Fits::Yes, Fits::Unknown);
        let narrow = |named: i64, knot: i64| Piece {
            named_width: Length::inches(named),
            ..knotty(knot, knot)
        };
        assert_eq!(check(&narrow(4, 128), "Standard", Fits::Yes, Fits::Yes), Confidence::Read);
        check(&narrow(4, 129), "Standard", Fits::Yes, Fits::No);
        check(&narrow(7, 1), "No. 2", Fits::Yes, Fits::Unknown);
    }
}
