//! Checks of the whole program against sources outside it, and what those checks share.
//!
//! Nothing here calls the search or the replay to judge the search or the replay: what a plan claims is
//! looked at with plain coordinates ([`check`]), and what the best plan is worth with searches written
//! another way ([`every_way`], [`dense`]).
//!
//! | module | what it holds |
//! |---|---|
//! | [`random`] | random logs, mills and wants, each from one number |
//! | [`random_pile`] | random piles of logs with a list, each from one number |
//! | [`random_shape`] | random oval, bowed, flawed logs, each from one number |
//! | [`real_wood`] | a taped log in plain coordinates |
//! | [`by_hand`] | orders made by hand on such logs, no search behind them |
//! | [`by_hand_quarters`] | orders made by hand whose parts are put back on the mill |
//! | [`check`] | a plan held against its log, mill and wants, in plain coordinates |
//! | [`check_real`] | orders and plans of real logs held against the tape's own formulas |
//! | [`check_pile`] | the plan of a pile held against its logs, list and mill |
//! | [`every_way`] | every pattern of a tiny log, places not on any grid |
//! | [`dense`] | patterns of a round log on a grid of planes: the best on it, and what no grid can beat |
//! | [`knapsack`] | bars and round sections for the program over a pile, priced by the kernel alone |
//! | [`compared`] | the published comparisons of sawing methods under `data/published` |
//! | [`tampered`] | orders altered in one step, in every way |
//! | [`table`] | the published figures under `data/benchmarks` |

pub mod asked;
pub mod by_hand;
pub mod by_hand_quarters;
pub mod check;
pub mod check_pile;
pub mod check_real;
pub mod compared;
pub mod dense;
pub mod every_way;
pub mod knapsack;
pub mod random;
pub mod random_pile;
pub mod random_shape;
pub mod real_wood;
pub mod table;
pub mod tampered;

use pithward_geometry::{Log, Mill};
use pithward_measure::{Length, board_feet_micro};
use pithward_optimizer::{Cut, Want};
use pithward_trade::Wane;

/// A mill that is in nobody's way: everything fits, and the blade goes down to an eighth of an inch.
pub fn roomy_mill(kerf: Length) -> Mill {
    Mill {
        toe_board: None,
        name: "roomy".to_owned(),
        kerf,
        step: Length::sixty_fourths(4),
        largest_diameter: Length::inches(200),
        longest: Length::feet(100),
        shortest: Length::ZERO,
        widest_cut: Length::inches(200),
        deepest_above: Length::inches(200),
        lowest_blade: Length::sixty_fourths(8),
        crosscut_kerf: Length::sixty_fourths(8),
        edging_batch: 6,
    }
}

/// A log without taper and without bark.
///
/// # Panics
/// When these are no log's measures.
pub fn cylinder(diameter: Length, length: Length) -> Log {
    Log::new(diameter, diameter, length, Length::ZERO, Length::ZERO)
        .expect("a cylinder that a tree can have")
}

/// One size in one length, square-edged, as many as come, each worth its board feet.
pub fn want(thickness: Length, width: Length, length: Length) -> Want {
    let board_feet = board_feet_micro(thickness, width, length);
    let cut = Cut {
        thickness,
        width,
        length,
        take: length,
        board_feet,
        worth: board_feet,
        extra: board_feet,
    };
    Want {
        heart: pithward_geometry::Heart::Any,
        tolerates: pithward_geometry::FlawKinds::NONE,
        grading: None,
        rings: None,
        count: None,
        wane: Wane::NONE,
        cuts: vec![cut],
    }
}

/// The nearest millionth of an inch, for print.
pub fn inches(length: Length) -> String {
    format!("{:.6} in", length.inches_f64())
}
