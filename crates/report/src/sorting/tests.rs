#![allow(clippy::unwrap_used, reason = "a test fails where it breaks")]

use super::{Sorted, sort};
use pithward_measure::Length;
use pithward_trade::Wane;
use pithward_trade::grade::{Area, Board, Defect, DefectKind};

const NO_WANE: Wane = Wane { thickness: Length::ZERO, width: Length::ZERO };

/// A piece two inches thick and 12 ft long with one defect across so much of its first face.
fn with(wide: i64, kind: DefectKind, from: i64, to: i64) -> Board {
    let mut board = Board::clear(Length::inches(wide), Length::feet(12));
    let across = (Length::sixty_fourths(from), Length::sixty_fourths(to));
    let along = (Length::feet(3), Length::feet(3) + Length::inches(2));
    board.faces[0].push(Defect { kind, area: Area::new(along, across) });
    board
}

#[track_caller]
fn check(board: &Board, legs: Wane, expected: &str) {
    let sorted = sort(board, Length::inches(2), board.width, legs);
    let name = match sorted {
        Sorted::Within(_, name) => name,
        Sorted::OfNone => "none",
        Sorted::Look => "look",
    };
    assert_eq!(name, expected);
}

/// The limits are those of `data/published/structural_knots.csv`.
#[test]
fn knots_decide_by_their_place_on_the_face() {
    let clear = Board::clear(Length::inches(8), Length::feet(12));
    check(&clear, NO_WANE, "Select Structural (joists and planks)");
    let knot = |from, to| with(8, DefectKind::SoundKnot, from, to);
    // A 2x8: at the edge 1 1/2, 2, 2 1/2 and 3 1/2 in; on the centre line 2 1/4, 2 3/4, 3 1/2 and 4 1/2 in.
    check(&knot(0, 96), NO_WANE, "Select Structural (joists and planks)");
    check(&knot(0, 97), NO_WANE, "No. 1");
    check(&knot(512 - 128, 512), NO_WANE, "No. 1");
    check(&knot(512 - 129, 512), NO_WANE, "No. 2");
    check(&knot(64, 64 + 144), NO_WANE, "Select Structural (joists and planks)");
    check(&knot(64, 64 + 145), NO_WANE, "No. 1");
    check(&knot(64, 64 + 225), NO_WANE, "No. 3");
    check(&knot(64, 64 + 289), NO_WANE, "none");
    // A 2x4 is light framing; of its grades Standard alone has a limit for knots: 2 in.
    check(&with(4, DefectKind::SoundKnot, 32, 160), NO_WANE, "Standard");
    check(&with(4, DefectKind::SoundKnot, 32, 161), NO_WANE, "none");
    check(&Board::clear(Length::inches(4), Length::feet(8)), NO_WANE, "Construction");
}

/// The limits are those of `data/published/wane_limits.csv`.
#[test]
fn wane_counts_as_if_it_ran_from_end_to_end() {
    let clear = Board::clear(Length::inches(8), Length::feet(12));
    let legs = |thickness: i64, width: i64| Wane {
        thickness: Length::sixty_fourths(thickness),
        width: Length::sixty_fourths(width),
    };
    check(&clear, legs(32, 128), "Select Structural (joists and planks)");
    check(&clear, legs(33, 128), "No. 2");
    check(&clear, legs(42, 170), "No. 2");
    check(&clear, legs(43, 170), "No. 3");
    check(&clear, legs(65, 256), "Economy");
}

#[test]
fn what_is_neither_wane_nor_a_knot_wants_a_look() {
    for kind in [DefectKind::Hole, DefectKind::Bark, DefectKind::Rot] {
        check(&with(8, kind, 64, 128), NO_WANE, "look");
    }
    check(&with(8, DefectKind::Wane, 0, 32), NO_WANE, "Select Structural (joists and planks)");
}
