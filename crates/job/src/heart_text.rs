//! Where the pith may be in the pieces of a want.
//!
//! The pith is as thick as a pencil, some 1/4 in, and wanders: common practice, no source. So a piece that is free of
//! heart keeps clear of its middle by half of that at least, and one that boxes it has that much wood about it.

use pithward_geometry::Heart;
use pithward_measure::{Excerpt, Length, Unit};
use pithward_trade::{Target, nearest_word};

use crate::fault::{Fault, FaultKind, Misread};
use crate::typed::{Asked, Typed};

/// Half of the pith's thickness.
const PENCIL: Length = Length::sixty_fourths(8);

/// The farthest from the pith or from a middle that anyone asks for; more is a slip of the unit.
const MOST: Length = Length::inches(12);

const HEART_HELP: &str =
    "write boxed (the pith inside the piece), free (the pith outside it) or any";
const CENTRED: Asked = Asked {
    help: "write how far the pith may be from the middle of a piece that boxes it, as in 1/2 in",
    bare: Unit::Inch,
};
const CLEAR: Asked = Asked {
    help: "write how far from the pith a piece that is free of heart must be, as in 1/2 in",
    bare: Unit::Inch,
};
/// What to do where a size is too small to box the pith.
const BOX_HELP: &str = "box the pith in a piece of more than 1/4 in, or write heart free or any";

/// Where the pith may be in the pieces of a want, as it was asked for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum HeartRule {
    /// Anywhere.
    #[default]
    Any,
    /// Not in a piece, nor nearer to it than this.
    Free {
        /// Least distance from the middle of the pith.
        clear: Length,
    },
    /// Inside a piece, over its whole length.
    Boxed {
        /// Greatest distance from the middle of the piece; anywhere inside where nobody says.
        within: Option<Length>,
    },
}

impl HeartRule {
    /// The rule on a piece that is sawn so thick and so wide; one that boxes the pith anywhere keeps 1/8 in of wood
    /// about its middle.
    pub fn on(self, target: Target) -> Heart {
        let inside = || (target.thickness.min(target.width).half() - PENCIL).max(Length::ZERO);
        match self {
            Self::Any => Heart::Any,
            Self::Free { clear } => Heart::Free { clear },
            Self::Boxed { within } => {
                Heart::Boxed { within: within.map_or_else(inside, |within| within.min(inside())) }
            }
        }
    }

    /// Why a piece of a size cannot have the pith where the rule wants it.
    pub(crate) fn fault_on(self, target: Target, size: &str) -> Option<Misread> {
        let small = target.thickness.min(target.width).half() <= PENCIL;
        let kind = || FaultKind::TooSmallToBox { size: Excerpt::new(size) };
        (small && matches!(self, Self::Boxed { .. })).then(|| Misread::new(kind(), 0..0, BOX_HELP))
    }
}

/// The three words.
const WORDS: [&str; 3] = ["boxed", "free", "any"];

/// The rule that a word and its settings say; `None` where no word was written. Every fault goes to the others.
pub(crate) fn heart(
    word: &Typed,
    centred: &Typed,
    clear: &Typed,
    faults: &mut Vec<Fault>,
) -> Option<HeartRule> {
    let rule = word.read(faults, |text| {
        let lower = text.trim().to_lowercase();
        WORDS.into_iter().find(|known| *known == lower).ok_or_else(|| {
            let nearest = nearest_word(&lower, &WORDS);
            let kind =
                FaultKind::Unknown { what: "rule on the heart", got: Excerpt::new(text), nearest };
            Misread::new(kind, 0..0, HEART_HELP)
        })
    });
    let within = centred.length(faults, CENTRED, Length::ZERO..=MOST);
    let free_by = clear.length(faults, CLEAR, PENCIL..=MOST);
    // A word that could not be read may be the right one.
    let other = |heart: &str| !word.is_given() || rule.is_some_and(|rule| rule != heart);
    for (typed, heart) in [(centred, "boxed"), (clear, "free")] {
        if typed.is_given() && other(heart) {
            let help = if heart == "boxed" { CENTRED.help } else { CLEAR.help };
            faults.push(typed.fault(FaultKind::OtherHeart { heart }, help));
        }
    }
    match rule? {
        "boxed" => Some(HeartRule::Boxed { within }),
        "free" => Some(HeartRule::Free { clear: free_by.unwrap_or(PENCIL) }),
        _ => Some(HeartRule::Any),
    }
}
