//! Invented mills and wants for the tests of this crate.

use crate::want::{Cut, Want};
use pithward_geometry::{Angle, FlawKinds, Heart, Mill};
use pithward_measure::{Length, board_feet_micro};
use pithward_trade::Wane;

pub(crate) const SIXTEENTH: Length = Length::sixty_fourths(4);

/// `SplitMix64` (Steele, Lea and Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014).
pub(crate) struct Random(pub(crate) u64);

impl Random {
    /// Both ends are drawn too.
    pub(crate) fn within(&mut self, least: i64, most: i64) -> i64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        least + i64::try_from(z % ((most - least).unsigned_abs() + 1)).unwrap()
    }

    pub(crate) fn clock(&mut self) -> Angle {
        Angle::degrees(i32::try_from(self.within(0, 359)).unwrap())
    }
}

/// A mill that takes any log of the tests and clears any board.
pub(crate) fn mill(kerf: Length) -> Mill {
    Mill {
        toe_board: None,
        name: "invented".to_owned(),
        kerf,
        step: SIXTEENTH,
        largest_diameter: Length::inches(40),
        longest: Length::feet(21),
        shortest: Length::feet(2),
        widest_cut: Length::inches(40),
        deepest_above: Length::inches(16),
        lowest_blade: Length::inches(1),
        crosscut_kerf: Length::sixty_fourths(8),
        edging_batch: 6,
    }
}

/// A piece that is worth its board feet.
pub(crate) fn cut((thickness, width): (Length, Length), feet: i64) -> Cut {
    let length = Length::feet(feet);
    let worth = board_feet_micro(thickness, width, length);
    Cut { thickness, width, length, take: length, board_feet: worth, worth, extra: worth }
}

/// As many as the log gives of these pieces, sharp-edged, wherever they lie.
pub(crate) fn want(cuts: Vec<Cut>) -> Want {
    let (heart, tolerates) = (Heart::Any, FlawKinds::NONE);
    Want { cuts, wane: Wane::NONE, count: None, heart, tolerates, grading: None, rings: None }
}

/// So many of a piece; more are worth nothing.
pub(crate) fn counted(size: (Length, Length), feet: i64, count: u32) -> Want {
    Want { count: Some(count), ..want(vec![Cut { extra: 0, ..cut(size, feet) }]) }
}
