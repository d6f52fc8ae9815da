//! How good each quarter of a log looks, in three words, and what that is taken for.
//!
//! A quarter is a quarter of the round about 12, 3, 6 or 9 o'clock, over the whole length. Whoever has no time to
//! measure every knot says of each that it is **clear**, has a **few** knots or is **knotty**. From that follow typical
//! defects, always the same ones:
//!
//! | word | knots of the quarter |
//! |---|---|
//! | `clear` | none on the bark |
//! | `few` | one of 1 in for every 4 ft |
//! | `knotty` | one of 1 1/2 in for every foot |
//!
//! They follow each other along the log a third of the quarter aside of its middle, on it, and a third on the other side;
//! each quarter begins an eighth of a spacing, three, five or seven eighths from the butt. A quarter that nobody saw is
//! taken for as poor as the poorest that was. Where nobody says how thick the clear shell is, two thirds of the radius at
//! the small end are taken for it: even a log that is clear outside has its first branches inside.
//!
//! All of these figures are common practice, no source. A larger size or a closer spacing grades the boards lower.

use pithward_geometry::{Angle, Defect, Log};
use pithward_measure::{Excerpt, Length};
use pithward_trade::nearest_word;

use crate::fault::{FaultKind, Misread};

/// How good a quarter looks, the best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Quality {
    /// No knots on the bark.
    Clear,
    /// A few knots.
    Few,
    /// Many knots.
    Knotty,
}

/// How good each quarter of a log looks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quarters {
    /// What was said of the quarters about 12, 3, 6 and 9 o'clock; `None` of one that nobody saw.
    pub said: [Option<Quality>; 4],
    /// The typical defects that stand for it.
    pub defects: Vec<Defect>,
    /// A knotty core is among them: nobody said how thick the clear shell is.
    pub core: bool,
}

/// A few knots: how far apart they are along the log, and how thick.
const FEW: (Length, Length) = (Length::feet(4), Length::inches(1));
/// The same of a knotty quarter.
const KNOTTY: (Length, Length) = (Length::feet(1), Length::sixty_fourths(96));
/// How far aside of the middle of a quarter its knots are, one after the other.
const ASIDE: [i32; 3] = [-30, 0, 30];

const QUALITY_HELP: &str =
    "write clear, few or knotty of each quarter, or unseen of one that lies on the ground";

impl Quality {
    const WORDS: [&str; 4] = ["clear", "few", "knotty", "unseen"];

    /// Its word.
    pub fn word(self) -> &'static str {
        Self::WORDS[self as usize]
    }

    /// How far apart the knots are along the log that stand for it, and how thick; `None` where there are none.
    pub fn knots(self) -> Option<(Length, Length)> {
        match self {
            Self::Clear => None,
            Self::Few => Some(FEW),
            Self::Knotty => Some(KNOTTY),
        }
    }

    /// The quality of a word, `None` for `unseen`.
    pub(crate) fn read(text: &str) -> Result<Option<Self>, Misread> {
        let word = text.trim().to_lowercase();
        match &*word {
            "clear" => Ok(Some(Self::Clear)),
            "few" | "few knots" => Ok(Some(Self::Few)),
            "knotty" => Ok(Some(Self::Knotty)),
            "unseen" => Ok(None),
            _ => {
                let nearest = nearest_word(&word, &Self::WORDS);
                let got = Excerpt::new(text);
                let kind = FaultKind::Unknown { what: "quality of a quarter", got, nearest };
                Err(Misread::new(kind, 0..0, QUALITY_HELP))
            }
        }
    }
}

impl Quarters {
    /// What stands for it in a log, with a knotty core or without.
    pub(super) fn of(said: [Option<Quality>; 4], log: &Log, core: bool) -> Self {
        let mut defects = Vec::new();
        for (n, quality) in (0..).zip(Self::taken(said)) {
            let of_quarter = quality.knots().map(|of| knots(log, n, of));
            defects.extend(of_quarter.unwrap_or_default());
        }
        if core {
            let clear = |n: i32| {
                let radius = log.wood_toward(Length::ZERO, Angle::degrees(90 * n));
                (radius * 2).div_floor(Length::sixty_fourths(12))
            };
            let clear = [0, 1, 2, 3].map(|n| Length::sixty_fourths(4) * clear(n));
            defects.push(Defect::Core { from: Length::ZERO, to: log.length(), clear });
        }
        Self { said, defects, core }
    }

    /// What each quarter is taken for.
    pub fn taken(said: [Option<Quality>; 4]) -> [Quality; 4] {
        let poorest = said.into_iter().flatten().max().unwrap_or(Quality::Knotty);
        said.map(|quality| quality.unwrap_or(poorest))
    }
}

/// The knots of a quarter, from the butt.
fn knots(log: &Log, quarter: i32, (apart, across): (Length, Length)) -> Vec<Defect> {
    let eighths = i64::from(2 * quarter + 1);
    // Of a log that is shorter than that the quarter has its one knot in the middle.
    let first = (apart * eighths).div_floor(Length::nm(8));
    let first = Length::nm(first).min(log.length().half());
    let middle = 90 * quarter;
    let knots = (0..).zip(ASIDE.into_iter().cycle()).map(|(n, aside): (i64, i32)| (n, aside));
    let knots = knots.map(|(n, aside)| (first + apart * n, aside));
    let within = knots.take_while(|(off, _)| *off < log.length());
    let knot = |(off, aside): (Length, i32)| Defect::Knot {
        at: log.length() - off,
        clock: Angle::degrees((middle + aside).rem_euclid(360)),
        across,
        rise: Length::ZERO,
        clear: Length::ZERO,
    };
    within.map(knot).collect()
}
