//! What the hardwood grades limit beside the yield: wane, pith, knots, splits, the ends.
//!
//! | limit | grades | source |
//! |---|---|---|
//! | wane along either edge of a face: half the length in all | FAS, better face | rule book, paragraph 57 |
//! | pith: in inches not over the surface measure in feet | FAS, F1F, Selects | summary chart |
//! | pith: half the length in all | No. 1 Common and the other face of F1F and Selects | paragraph 72 |
//! | knot or hole: mean diameter in inches not over a third of the surface measure in feet, unless it lies within the first foot | FAS, better face | paragraph 60 |
//! | splits: in inches twice the surface measure in feet or 12, whichever is more; not over 1 in aside in a foot | FAS, F1F, Selects | summary chart |
//! | each end foot: half of it clear, a quarter unsound at most | FAS, better face | paragraph 59 |
//! | wane on the other face: widths of both edges a third of the board's together, on either edge half the length | F1F, Selects | paragraph 64 |
//!
//! Paragraphs are those of the National Hardwood Lumber Association's rule book of 2019 as its chief inspector
//! quotes them in the association's Rules Corner; the chart is carried on a distributor's page. That Selects
//! has the limits of F1F is E. Wengert's word (a magazine's question column). Paragraph 59 asks for half clear
//! and another quarter sound.
//!
//! Everything is compared in whole nanometres.

use super::{Area, Board, Defect, Units, area::together};
use pithward_measure::Length;

/// The part of a board at either end that is looked at on its own.
const END: Length = Length::feet(1);

/// A limit that a board breaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limit {
    /// It is too narrow.
    Width {
        /// What it should be.
        least: Length,
    },
    /// It is too short, in whole feet.
    Length {
        /// What it should be.
        least: Length,
    },
    /// A face does not yield enough.
    Yield {
        /// Which of the two faces: 0 or 1.
        face: usize,
        /// Cutting units that the base way asks for, or the one way that there is.
        needed: Units,
        /// The most that was found on the way there.
        found: Units,
    },
    /// Too much wane along an edge.
    WaneLength {
        /// Which face.
        face: usize,
        /// Length of wane on the worse edge.
        got: Length,
        /// What it may be.
        most: Length,
    },
    /// Wane that is too wide, both edges added.
    WaneWidth {
        /// Which face.
        face: usize,
        /// Width of wane.
        got: Length,
        /// What it may be.
        most: Length,
    },
    /// Too much pith.
    Pith {
        /// Length of pith.
        got: Length,
        /// What it may be.
        most: Length,
    },
    /// A knot or a hole that is too large.
    Knot {
        /// Which face.
        face: usize,
        /// Mean diameter of the largest.
        got: Length,
        /// What it may be.
        most: Length,
    },
    /// Too much split.
    Splits {
        /// Length of all splits.
        got: Length,
        /// What it may be.
        most: Length,
    },
    /// A split that runs aside more than an inch in a foot.
    SplitRunsAside,
    /// An end foot with too little clear wood.
    EndNotClear {
        /// Which face.
        face: usize,
    },
    /// An end foot with too much unsound wood.
    EndUnsound {
        /// Which face.
        face: usize,
    },
}

/// What FAS limits on the whole board.
pub(super) fn of_fas_board(board: &Board, measure: i64) -> Vec<Limit> {
    let mut broken = Vec::new();
    let (got, most) = (pith(board), Length::inches(measure));
    if got > most {
        broken.push(Limit::Pith { got, most });
    }
    let got: Length = board.splits.iter().map(Area::length).sum();
    let most = Length::inches((2 * measure).max(12));
    if got > most {
        broken.push(Limit::Splits { got, most });
    }
    if board.splits.iter().any(|split| split.width() * 12 > split.length()) {
        broken.push(Limit::SplitRunsAside);
    }
    broken
}

/// What FAS limits on a face.
pub(super) fn of_fas_face(board: &Board, measure: i64, face: usize) -> Vec<Limit> {
    let mut broken = Vec::new();
    let most = board.length.half();
    let got = wane_lengths(board, face);
    if got > most {
        broken.push(Limit::WaneLength { face, got, most });
    }
    let [first, last] = ends(board);
    let is_elsewhere = |defect: &&Defect| !first.holds(&defect.area) && !last.holds(&defect.area);
    let holes = board.faces[face].iter().filter(|defect| defect.kind.has_diameter());
    let twice = holes.filter(is_elsewhere).map(|of| of.area.width() + of.area.length()).max();
    let most = Length::inches(measure);
    if let Some(twice) = twice.filter(|twice| *twice * 3 > most * 2) {
        let most = Length::nm(most.as_nm() / 3);
        broken.push(Limit::Knot { face, got: twice.half(), most });
    }
    for end in [first, last] {
        let of = |areas: Vec<Area>| {
            let areas: Vec<Area> = areas.iter().filter_map(|area| area.common(&end)).collect();
            together(&areas)
        };
        let (any, unsound) = (of(board.marks(face)), of(board.unsound(face)));
        let all = end.units();
        if any.times(2) > all {
            broken.push(Limit::EndNotClear { face });
        }
        if unsound.times(4) > all {
            broken.push(Limit::EndUnsound { face });
        }
    }
    broken.dedup();
    broken
}

/// What F1F and Selects limit on the face that need not be FAS.
pub(super) fn of_other_face(board: &Board, face: usize) -> Vec<Limit> {
    let mut broken = Vec::new();
    let most = board.length.half();
    let got = wane_lengths(board, face);
    if got > most {
        broken.push(Limit::WaneLength { face, got, most });
    }
    let widest = |is_low: bool| {
        board.wane(face, is_low).map(|area| area.width()).max().unwrap_or(Length::ZERO)
    };
    let got = widest(true) + widest(false);
    if got * 3 > board.width {
        let most = Length::nm(board.width.as_nm() / 3);
        broken.push(Limit::WaneWidth { face, got, most });
    }
    broken.extend(of_no_1(board));
    broken
}

/// What No. 1 Common limits on the board.
pub(super) fn of_no_1(board: &Board) -> Vec<Limit> {
    let (got, most) = (pith(board), board.length.half());
    if got > most { vec![Limit::Pith { got, most }] } else { Vec::new() }
}

/// Length of pith, boxed or showing.
fn pith(board: &Board) -> Length {
    covered(board.pith.iter())
}

/// Length of wane along the worse edge of a face.
fn wane_lengths(board: &Board, face: usize) -> Length {
    let along = |is_low| {
        let wane: Vec<Area> = board.wane(face, is_low).collect();
        covered(wane.iter())
    };
    along(true).max(along(false))
}

/// How much of the length these cover together.
fn covered<'a>(areas: impl Iterator<Item = &'a Area>) -> Length {
    let mut along: Vec<(Length, Length)> = areas.map(|area| area.along).collect();
    along.sort_unstable();
    let (mut sum, mut to) = (Length::ZERO, -Length::MAX);
    for (from, end) in along {
        sum += (end - from.max(to)).max(Length::ZERO);
        to = to.max(end);
    }
    sum
}

/// The first and the last foot.
fn ends(board: &Board) -> [Area; 2] {
    let across = (Length::ZERO, board.width);
    let long = END.min(board.length);
    [(Length::ZERO, long), (board.length - long, board.length)]
        .map(|along| Area::new(along, across))
}
