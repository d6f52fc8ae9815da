//! Paid in lumber: half of it, or of what is named, is the sawyer's.
//!
//! Half of the grade lumber, or more of it to the customer, is a form on a hardwood mill's price list. Who chooses which
//! boards, and when, is a matter of the terms. A share has no price: what it is worth is said only where the customer's
//! list has prices.

use std::fmt;

use pithward_measure::{Excerpt, Length, Size, Width};
use pithward_trade::{Grade, nearest_word};

use super::text::{PORTION_HELP, SHARED_HELP};
use crate::fault::{ChargeFault, FaultKind, Misread};
use crate::grade_text::grade;
use crate::pile_job::JobWant;
use crate::worth_text::amount;

/// What the sawyer is paid in lumber.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Share {
    /// Which part of what is shared is the sawyer's.
    pub portion: Portion,
    /// What is shared; all of it where it is empty. What is not shared is the customer's.
    pub of: Vec<Shared>,
}

/// Lumber that is shared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shared {
    /// What comes for wants that ask for a grade, or that are paid by it.
    Graded,
    /// What comes for wants that ask for this grade or a better one.
    Grade(Grade),
    /// Pieces of a size: of its thickness and width, and of its length where it has one.
    Size(Size),
}

/// A part of a whole, more than nothing and less than all: `part / whole`, in lowest terms.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Portion {
    part: i64,
    whole: i64,
}

impl Portion {
    /// So many parts of a whole; `None` unless it is more than nothing and less than all.
    pub fn new(part: i64, whole: i64) -> Option<Self> {
        if part <= 0 || part >= whole {
            return None;
        }
        let (mut greatest, mut rest) = (whole, part);
        while rest > 0 {
            (greatest, rest) = (rest, greatest % rest);
        }
        Some(Self { part: part / greatest, whole: whole / greatest })
    }

    /// Its part of something, rounded down; of less than nothing, nothing.
    pub fn of(self, all: i64) -> i64 {
        let part = i128::from(all.max(0)) * i128::from(self.part) / i128::from(self.whole);
        i64::try_from(part).unwrap_or(i64::MAX)
    }

    /// Part and whole, in lowest terms.
    pub fn parts(self) -> (i64, i64) {
        (self.part, self.whole)
    }
}

impl fmt::Display for Portion {
    /// `half`, `a third`, `2/5`; in percent where the whole is larger than twelve.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { part, whole } = *self;
        match (part, whole) {
            (1, 2) => f.pad("half"),
            (1, 3) => f.pad("a third"),
            (1, 4) => f.pad("a quarter"),
            (2, 3) => f.pad("two thirds"),
            (3, 4) => f.pad("three quarters"),
            (part, whole) if whole > 12 => {
                // What is read in percent has six places behind its point, and is exact here.
                let millionths = i128::from(part) * 100_000_000 / i128::from(whole);
                let text = format!("{}.{:06}", millionths / 1_000_000, millionths % 1_000_000);
                f.pad(&format!("{} %", text.trim_end_matches('0').trim_end_matches('.')))
            }
            (part, whole) => f.pad(&format!("{part}/{whole}")),
        }
    }
}

impl fmt::Display for Shared {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Graded => f.pad("boards that are wanted by grade"),
            Self::Grade(grade) => f.pad(&format!("boards of {grade} and better")),
            Self::Size(size) => size.fmt(f),
        }
    }
}

impl Share {
    /// Whether a piece of a thickness, a width and a length is shared that comes for a want; `None` for one that nobody wanted.
    pub fn takes(&self, want: Option<&JobWant>, size: [Length; 3]) -> bool {
        self.of.is_empty() || self.of.iter().any(|of| of.takes(want, size))
    }
}

impl Shared {
    fn takes(&self, want: Option<&JobWant>, [thickness, width, length]: [Length; 3]) -> bool {
        let grade = want.map(|want| &want.grade);
        match self {
            Self::Graded => grade.is_some_and(|grade| grade.least.is_some() || grade.by_grade),
            Self::Grade(poorest) => {
                // The best grade comes first.
                grade.and_then(|grade| grade.least).is_some_and(|least| least <= *poorest)
            }
            Self::Size(size) => {
                let wide = match size.width {
                    Width::Exactly(own) => width == own,
                    Width::AtLeast(least) => width >= least,
                };
                thickness == size.thickness && wide && size.length.is_none_or(|own| own == length)
            }
        }
    }
}

const WORDS: [(&str, i64, i64); 8] = [
    ("half", 1, 2),
    ("a half", 1, 2),
    ("a third", 1, 3),
    ("third", 1, 3),
    ("a quarter", 1, 4),
    ("quarter", 1, 4),
    ("two thirds", 2, 3),
    ("three quarters", 3, 4),
];

/// Reads the sawyer's part: `half`, `1/3`, `40 %`.
pub(super) fn portion(text: &str) -> Result<Portion, Misread> {
    let none = || {
        let kind = ChargeFault::NoPortion { got: Excerpt::new(text) };
        Misread::new(kind, 0..0, PORTION_HELP)
    };
    let lower = text.trim().to_lowercase();
    let words = lower.split_whitespace().collect::<Vec<_>>().join(" ");
    if let Some((_, part, whole)) = WORDS.iter().find(|(known, ..)| *known == words) {
        return Portion::new(*part, *whole).ok_or_else(none);
    }
    if let Some(percent) = lower.strip_suffix('%') {
        let millionths = amount(percent.trim(), 1, 99_999_999).map_err(|_| none())?;
        return Portion::new(millionths, 100_000_000).ok_or_else(none);
    }
    let (part, whole) = lower.split_once('/').ok_or_else(none)?;
    let whole_number = |text: &str| {
        let digits = text.bytes().all(|byte| byte.is_ascii_digit());
        text.parse::<i64>().ok().filter(|number| digits && *number <= 1000)
    };
    let parts = whole_number(part.trim()).zip(whole_number(whole.trim()));
    parts.and_then(|(part, whole)| Portion::new(part, whole)).ok_or_else(none)
}

/// Reads one thing that is shared into the others; `all` adds nothing.
pub(super) fn shared(text: &str, known: &mut Vec<Shared>) -> Result<(), Misread> {
    let word = text.trim().to_lowercase();
    let read = match word.as_str() {
        "graded" => Shared::Graded,
        word => match (grade(word), Size::parse(text.trim())) {
            (Ok(grade), _) => Shared::Grade(grade),
            (_, Ok(size)) => Shared::Size(size),
            _ => {
                let nearest = nearest_word(word, &["all", "graded"]);
                let got = Excerpt::new(text);
                let kind = FaultKind::Unknown { what: "kind of lumber to share", got, nearest };
                return Err(Misread::new(kind, 0..0, SHARED_HELP));
            }
        },
    };
    if known.contains(&read) {
        let kind = FaultKind::Repeated { what: Excerpt::new(text) };
        return Err(Misread::new(kind, 0..0, SHARED_HELP));
    }
    known.push(read);
    Ok(())
}
