//! What the parts of a thing that was seen say.

use pithward_geometry::{Angle, Defect, Log};
use pithward_measure::{Excerpt, Length, Unit};

use super::form::{HOURS, Kind};
use super::{Guess, Quality, Seen};
use crate::along::{PLACE_HELP, Stretch, place, stretch};
use crate::as_grown::Extent;
use crate::clock::{CLOCK_HELP, clock};
use crate::fault::{Fault, FaultKind};
use crate::flaw_text::{LEAST, farthest, wide_as_seen};
use crate::parts::{Parts, length};

const SIZE_HELP: &str = "write how wide it is across, as in size 2 in";
const OVER_HELP: &str = "write how much clear wood has grown over it, as in grown_over 1 in: less than from the bark to the pith; leave it out where nobody knows";
const RISE_HELP: &str =
    "write how much nearer to the butt it begins at the pith, as in rise 4 in, or leave it out";
const DEPTH_HELP: &str = "write how deep it goes from the bark inward, as in depth 2 in: no deeper than to the pith; of a seam or a hole it may be left out";
const SCAR_HELP: &str = "write how deep it goes from the bark inward as far as one can tell, as in depth 1 in: no deeper than to the pith";
const WIDE_HELP: &str = "write how wide it is along the bark, as in wide 4 in or wide 2 hours";
const SHELL_HELP: &str = "write how thick the clear wood is over the knotty core, as in 3 in, or four lengths for the quarters about 12, 3, 6 and 9; less than from the bark to the pith";
const QUALITY_HELP: &str = "say of one quarter at least how good it looks";
const ONE_HELP: &str = "say it once of a log";

/// The farthest that a branch leans along the log; more is a slip of the unit.
const MOST_RISE: Length = Length::feet(3);

/// Something that was seen, as far as it could be read without its log.
#[derive(Debug)]
pub(super) struct Draft<'a> {
    pub(super) kind: Kind,
    parts: &'a Parts,
    said: Said,
}

/// What was said of it; stations are from the small end.
#[derive(Debug)]
enum Said {
    Knot { clock: Angle, at: Length, across: Length, rise: Length, clear: Option<Length> },
    Seam { clock: Angle, stretch: Stretch, depth: Option<Length> },
    Scar { clock: Angle, stretch: Stretch, width: Angle, depth: Length },
    Hole { clock: Angle, at: Length, across: Length, depth: Option<Length> },
    Shell([Length; 4]),
    Quality([Option<Quality>; 4]),
}

/// A kind that can be said only once.
pub(super) fn twice(parts: &Parts, kind: Kind) -> Fault {
    parts.fault(FaultKind::Repeated { what: Excerpt::new(kind.word()) }, ONE_HELP)
}

/// What some parts say; every fault goes to the others.
pub(super) fn draft<'a>(
    kind: Kind,
    parts: &'a Parts,
    extent: &Extent,
    extra: Length,
    faults: &mut Vec<Fault>,
) -> Option<Draft<'a>> {
    let mut reading = Reading { parts, extent, extra, faults };
    let said = match kind {
        Kind::Knot => reading.knot(false),
        Kind::Bump => reading.knot(true),
        Kind::Seam => reading.seam(),
        Kind::Scar => reading.scar(),
        Kind::Hole => reading.hole(),
        Kind::Shell => reading.shell(),
        Kind::Quality => reading.quality(),
    };
    Some(Draft { kind, parts, said: said? })
}

struct Reading<'a, 'f> {
    parts: &'a Parts,
    extent: &'a Extent,
    extra: Length,
    faults: &'f mut Vec<Fault>,
}

impl Reading<'_, '_> {
    fn clock(&mut self) -> Option<Angle> {
        self.parts.require("clock", CLOCK_HELP, self.faults, |_, text| clock(text))
    }

    fn at(&mut self) -> Option<Length> {
        let long = self.extent.long;
        let read = |typed: &_, text: &str| place(typed, text, long);
        let at = self.parts.require("at", PLACE_HELP, self.faults, read)?;
        long.map(|long| at.station(long))
    }

    fn required(&mut self, part: &'static str, help: &'static str, most: Length) -> Option<Length> {
        self.parts.require(part, help, self.faults, length(help, Unit::Inch, LEAST, most))
    }

    /// A part that may be left out: outside whether it has a fault.
    fn open(&mut self, part: &str, help: &'static str, most: Length) -> Option<Option<Length>> {
        if self.parts.get(part).is_none() {
            return Some(None);
        }
        self.parts.read(part, self.faults, length(help, Unit::Inch, LEAST, most)).map(Some)
    }

    /// From the bark to the pith, where it is farthest.
    fn radius(&self) -> Length {
        farthest(self.extent, self.extra)
    }

    fn knot(&mut self, is_bump: bool) -> Option<Said> {
        let (clock, at) = (self.clock(), self.at());
        let across = self.required("size", SIZE_HELP, self.radius());
        let over = self.open("grown_over", OVER_HELP, self.radius());
        let rise = self.open("rise", RISE_HELP, MOST_RISE);
        // A bump is overgrown, whoever says by how much; a knot is not unless somebody does.
        let clear = over.map(|over| if is_bump { over } else { over.or(Some(Length::ZERO)) });
        let rise = rise?.unwrap_or_default();
        Some(Said::Knot { clock: clock?, at: at?, across: across?, rise, clear: clear? })
    }

    fn seam(&mut self) -> Option<Said> {
        let clock = self.clock();
        let stretch = stretch(self.parts, self.extent.long, self.faults);
        let depth = self.open("depth", DEPTH_HELP, self.radius() * 2);
        Some(Said::Seam { clock: clock?, stretch: stretch?, depth: depth? })
    }

    fn scar(&mut self) -> Option<Said> {
        let clock = self.clock();
        let stretch = stretch(self.parts, self.extent.long, self.faults);
        let extent = self.extent;
        let read = |typed: &_, text: &str| wide_as_seen(typed, text, extent, WIDE_HELP);
        let width = self.parts.require("wide", WIDE_HELP, self.faults, read);
        let depth = self.required("depth", SCAR_HELP, self.radius() * 2);
        Some(Said::Scar { clock: clock?, stretch: stretch?, width: width?, depth: depth? })
    }

    fn hole(&mut self) -> Option<Said> {
        let (clock, at) = (self.clock(), self.at());
        let across = self.required("size", SIZE_HELP, self.radius());
        let depth = self.open("depth", DEPTH_HELP, self.radius() * 2);
        Some(Said::Hole { clock: clock?, at: at?, across: across?, depth: depth? })
    }

    fn shell(&mut self) -> Option<Said> {
        let clear = HOURS.map(|hour| self.required(hour, SHELL_HELP, self.radius()));
        let all: Option<Vec<Length>> = clear.into_iter().collect();
        Some(Said::Shell(all?.try_into().ok()?))
    }

    fn quality(&mut self) -> Option<Said> {
        let before = self.faults.len();
        let read = |_: &_, text: &str| Quality::read(text);
        let said = HOURS.map(|hour| self.parts.read(hour, self.faults, read).flatten());
        if self.faults.len() > before {
            return None;
        }
        if said.iter().all(Option::is_none) {
            let kind = FaultKind::NoPart { part: "quarter that was seen" };
            self.faults.push(self.parts.fault(kind, QUALITY_HELP));
            return None;
        }
        Some(Said::Quality(said))
    }
}

impl Draft<'_> {
    /// What was said of the quarters.
    pub(super) fn quarters(&self) -> Option<[Option<Quality>; 4]> {
        match self.said {
            Said::Quality(said) => Some(said),
            _ => None,
        }
    }

    /// What it is in its log; nothing where it is said of quarters or cannot be there.
    pub(super) fn seen(&self, log: &Log, faults: &mut Vec<Fault>) -> Option<Seen> {
        let (defect, guess) = self.defect(log)?;
        let found = defect.faults(log);
        if !found.is_empty() {
            let help = match self.kind {
                Kind::Knot | Kind::Bump => OVER_HELP,
                Kind::Seam | Kind::Hole => DEPTH_HELP,
                Kind::Scar => SCAR_HELP,
                Kind::Shell | Kind::Quality => SHELL_HELP,
            };
            faults.extend(found.into_iter().map(|fault| self.parts.fault(fault, help)));
            return None;
        }
        let words = self.parts.words(self.kind.form());
        let word = self.kind.word();
        let words = if words.starts_with(word) { words } else { format!("{word} {words}") };
        Some(Seen { words, defect, guess })
    }

    fn defect(&self, log: &Log) -> Option<(Defect, Option<Guess>)> {
        let defect = match self.said {
            Said::Knot { clock, at, across, rise, clear } => {
                let guess = clear.is_none().then_some(Guess::GrownOver);
                let quarter = || log.wood_toward(at, clock).half().half();
                let clear = clear.unwrap_or_else(quarter);
                (Defect::Knot { at, clock, across, rise, clear }, guess)
            }
            Said::Seam { clock, stretch: Stretch { from, to }, depth } => {
                let guess = depth.is_none().then_some(Guess::ToThePith);
                let to_pith = || log.wood_toward(from, clock).max(log.wood_toward(to, clock));
                let depth = depth.unwrap_or_else(to_pith);
                (Defect::Seam { from, to, clock, depth }, guess)
            }
            Said::Scar { clock, stretch: Stretch { from, to }, width, depth } => {
                (Defect::Scar { from, to, clock, width, depth }, None)
            }
            Said::Hole { clock, at, across, depth } => {
                let guess = depth.is_none().then_some(Guess::ToThePith);
                let depth = depth.unwrap_or_else(|| log.wood_toward(at, clock));
                (Defect::Hole { at, clock, across, depth }, guess)
            }
            Said::Shell(clear) => {
                let (from, to) = (Length::ZERO, log.length());
                (Defect::Core { from, to, clear }, None)
            }
            Said::Quality(_) => return None,
        };
        Some(defect)
    }
}
