//! What a person sees on a log that lowers what its boards are worth, and leaves them sawable: knots, bumps, seams,
//! scars and holes; how thick the clear wood over a knotty core is; how good each quarter looks.
//!
//! ```text
//! seen = kind value { value } { word value }
//!
//! knot 2:30 3 ft 2 in 2 in                 a branch: clock, how far from the butt, how thick at the bark
//! knot 2:30 at 3 ft 2 in size 2 in         the same, each part by its word
//! bump 4 5ft 3in grown_over 1in            a branch that the wood has grown over
//! seam 12 butt 6ft depth 2in               a crack that has closed: clock, from where to where
//! scar 9 2ft 5ft wide 4in depth 1in        an old wound
//! hole 7 4ft 1in depth 3in                 clock, how far from the butt, how wide
//! shell 3in                                clear wood over a knotty core; four lengths for the quarters about 12, 3, 6, 9
//! quality clear few knotty unseen          the quarters about 12, 3, 6 and 9
//! ```
//! Values without a word are the first parts of their kind, in order. Feet and the inches behind them are one length
//! where there would be too many values otherwise. In a file each kind has a field of its own, `knots`, `bumps`,
//! `seams`, `scars`, `holes`, `clear_shell` and `quality`, whose values are the same texts without the kind, or tables
//! of the parts.
//!
//! # What is taken for granted
//! Nobody sees the inside of a log. A knot goes square to the pith unless `rise` says how much nearer to the butt it
//! begins there. A bump of which nobody says how much wood has grown over it lies a quarter of the way to the pith under
//! it. Seams and holes go to the pith where nobody says how deep. All three: common practice, no source. What a quarter's
//! quality stands for is told beside [`Quality`].

mod form;
mod quality;
mod read;
mod words;

pub use quality::{Quality, Quarters};

use pithward_geometry::{Defect, Log};
use pithward_measure::Length;

use crate::as_grown::Extent;
use crate::fault::Fault;
use crate::file::Fields;
use crate::parts::Parts;
use crate::typed::{Typed, TypedList};
use form::Kind;
use read::Draft;

/// One thing that was seen on a log, and what it is in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seen {
    /// As it was written, on one line: `knot 2:30, at 3 ft 2 in, size 2 in`.
    pub words: String,
    /// What it is in the log.
    pub defect: Defect,
    /// What nobody said of it, and was taken for granted.
    pub guess: Option<Guess>,
}

/// What nobody said of a defect.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Guess {
    /// How much wood has grown over it: a quarter of the way to the pith.
    GrownOver,
    /// How deep it goes: to the pith.
    ToThePith,
}

/// All that was seen on a log.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct AllSeen {
    /// Each thing by itself, in the order in which they were written.
    pub each: Vec<Seen>,
    /// How good each quarter looks.
    pub quarters: Option<Quarters>,
}

impl AllSeen {
    /// Whether there is nothing.
    pub fn is_nothing(&self) -> bool {
        self.each.is_empty() && self.quarters.is_none()
    }

    /// Every defect of it.
    pub fn defects(&self) -> impl Iterator<Item = &Defect> {
        let each = self.each.iter().map(|seen| &seen.defect);
        each.chain(self.quarters.iter().flat_map(|quarters| &quarters.defects))
    }

    /// What of it lies in the part of a stem between two stations; `of` is said of each.
    pub(crate) fn within(&self, from: Length, to: Length, of: &str) -> Self {
        let seen = |seen: &Seen| {
            let defect = seen.defect.within(from, to)?;
            let words = format!("{} (as said of stem {of})", seen.words);
            Some(Seen { words, defect, guess: seen.guess })
        };
        let quarters = |quarters: &Quarters| Quarters {
            defects: quarters.defects.iter().filter_map(|one| one.within(from, to)).collect(),
            ..quarters.clone()
        };
        Self {
            each: self.each.iter().filter_map(seen).collect(),
            quarters: self.quarters.as_ref().map(quarters),
        }
    }
}

/// All that was written of what was seen, each in its parts.
#[derive(Clone, Debug, Default)]
pub(crate) struct SeenParts(Vec<(Kind, Parts)>);

impl SeenParts {
    /// What some texts say, each of which begins with its kind.
    pub(crate) fn of_texts(list: &TypedList, faults: &mut Vec<Fault>) -> Self {
        let typed = list.texts.iter().map(|text| Typed::new(list.name, Some(text.clone())));
        Self(typed.filter_map(|typed| words::of_text(&typed, faults)).collect())
    }

    /// The same in one text, with a semicolon between them.
    pub(crate) fn of_cell(cell: &Typed, faults: &mut Vec<Fault>) -> Self {
        let text = cell.text.as_deref().unwrap_or_default();
        let (mut all, mut from) = (Vec::new(), 0);
        for one in text.split(';') {
            let start = from + one.len() - one.trim_start().len();
            from += one.len() + 1;
            if !one.trim().is_empty() {
                let typed = cell.part(start..start + one.trim().len());
                all.extend(words::of_text(&typed, faults));
            }
        }
        Self(all)
    }

    /// What the fields of a table say, a field for each kind.
    pub(crate) fn of_fields(fields: &Fields<'_>, faults: &mut Vec<Fault>) -> Self {
        Self(Kind::ALL.into_iter().flat_map(|kind| kind.field(fields, faults)).collect())
    }

    /// What all of it says of a log of that extent; every fault goes to the others. A butt that flares is `extra` thicker.
    pub(crate) fn read(
        &self,
        extent: &Extent,
        extra: Length,
        faults: &mut Vec<Fault>,
    ) -> Drafts<'_> {
        for kind in [Kind::Shell, Kind::Quality] {
            let again = self.0.iter().filter(|(known, _)| *known == kind).skip(1);
            faults.extend(again.map(|(_, parts)| read::twice(parts, kind)));
        }
        let read = |(kind, parts)| read::draft(kind, parts, extent, extra, faults);
        Drafts(self.0.iter().map(|(kind, parts)| (*kind, parts)).filter_map(read).collect())
    }
}

/// What was seen, before the log is known that it is in.
#[derive(Debug)]
pub(crate) struct Drafts<'a>(Vec<Draft<'a>>);

impl Drafts<'_> {
    /// What it is in its log, and the log with it; every fault goes to the others.
    pub(crate) fn in_log(&self, log: Log, faults: &mut Vec<Fault>) -> (Log, AllSeen) {
        let has_shell = self.0.iter().any(|draft| draft.kind == Kind::Shell);
        let quarters = self.0.iter().find_map(Draft::quarters);
        let seen = AllSeen {
            each: self.0.iter().filter_map(|draft| draft.seen(&log, faults)).collect(),
            quarters: quarters.map(|said| Quarters::of(said, &log, !has_shell)),
        };
        if seen.is_nothing() {
            return (log, seen);
        }
        let all = seen.defects().copied().collect();
        (log.with_defects(all), seen)
    }
}

#[cfg(test)]
mod tests;
