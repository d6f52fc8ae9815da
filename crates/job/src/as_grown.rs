//! What makes a log other than a round, straight cone, as a person measured it: oval ends, sweep, crook, a pith off the
//! middle, a flared butt.
//!
//! | what | as a text | parts |
//! |---|---|---|
//! | sweep | `2 in toward 6 at 6 ft` | `depth`, `toward`, `at` (the middle where it is left out) |
//! | crook | `3 in toward 9 at 5 ft` | `depth`, `toward`, `at` |
//! | pith at an end | `1 in toward 4` | `off`, `toward` |
//! | flare | `4 in over 18 in` | `extra`, `length` (or `over`) |
//!
//! Directions are those of a clock at the small end; places along the log count from the butt ([`crate::along`]).

use pithward_geometry::{Angle, Crook, Flare, Log, LogFault, Sweep};
use pithward_measure::{Length, Unit};

use crate::along::{PLACE_HELP, place};
use crate::clock::clock;
use crate::fault::{Fault, FaultKind};
use crate::file::{Fields, Form, Right};
use crate::flaw_text::FLAW;
use crate::parts::{Parts, PartsForm, length};
use crate::seen::SeenParts;
use crate::typed::{Typed, TypedList};

/// What makes a log other than round, straight and sound, as it was typed.
#[derive(Clone, Debug)]
pub struct AsGrown {
    /// Direction of the longer of two diameters at the small end.
    pub long_axis: Typed,
    /// The same at the butt, where it differs.
    pub long_axis_butt: Typed,
    /// A bow of the whole log.
    pub sweep: Typed,
    /// A sharp bend.
    pub crook: Typed,
    /// How far the pith is from the middle of the small end, and where.
    pub pith_small: Typed,
    /// The same at the butt.
    pub pith_butt: Typed,
    /// How much the butt widens below the stem.
    pub flare: Typed,
    /// Flaws, each by its kind and its parts.
    pub flaws: TypedList,
    /// What is seen on it that lowers what its boards are worth: each by its kind and its parts.
    pub seen: TypedList,
    /// The file that has its shape all round, in place of whatever a tape says of it.
    pub shape: Typed,
    /// The unit of that file; judged by the size of the log where it is left out.
    pub unit: Typed,
    /// Which direction of its coordinates was up; `+z` where it is left out.
    pub up: Typed,
}

impl AsGrown {
    /// Nothing of that; each by its name in words.
    pub fn nothing() -> Self {
        let none = |name| Typed::new(name, None);
        Self {
            long_axis: none("long axis"),
            long_axis_butt: none("long axis at the butt"),
            sweep: none("sweep"),
            crook: none("crook"),
            pith_small: none("pith at the small end"),
            pith_butt: none("pith at the butt"),
            flare: none("flare"),
            flaws: TypedList { name: "flaw", texts: Vec::new() },
            seen: TypedList { name: "seen", texts: Vec::new() },
            shape: none("shape"),
            unit: none("unit"),
            up: none("up"),
        }
    }

    /// The parts of each.
    pub(crate) fn parts(&self, faults: &mut Vec<Fault>) -> GrownParts {
        let flaws =
            self.flaws.texts.iter().map(|text| Typed::new(self.flaws.name, Some(text.clone())));
        GrownParts {
            long_axis: self.long_axis.clone(),
            long_axis_butt: self.long_axis_butt.clone(),
            sweep: Parts::of_text(&self.sweep, &SWEEP, faults),
            crook: Parts::of_text(&self.crook, &CROOK, faults),
            pith_small: Parts::of_text(&self.pith_small, &PITH, faults),
            pith_butt: Parts::of_text(&self.pith_butt, &PITH, faults),
            flare: Parts::of_text(&self.flare, &FLARE, faults),
            flaws: flaws.filter_map(|typed| Parts::of_text(&typed, &FLAW, faults)).collect(),
            seen: SeenParts::of_texts(&self.seen, faults),
            shape: self.shape.clone(),
            unit: self.unit.clone(),
            up: self.up.clone(),
        }
    }
}

pub(crate) const SWEEP: PartsForm = PartsForm {
    form: Form { of: "a sweep", fields: &["depth", "toward", "at"] },
    head: "depth",
    also: &[],
    right: Right {
        what: "a table or a text in quotes",
        help: "write it as in sweep = { depth = \"2 in\", toward = \"6 o'clock\" }",
        bare: false,
    },
};
pub(crate) const CROOK: PartsForm = PartsForm {
    form: Form { of: "a crook", fields: &["depth", "toward", "at"] },
    right: Right {
        help: "write it as in crook = { depth = \"3 in\", toward = \"9 o'clock\", at = \"5 ft\" }",
        ..SWEEP.right
    },
    ..SWEEP
};
pub(crate) const PITH: PartsForm = PartsForm {
    form: Form { of: "a pith off the middle", fields: &["off", "toward"] },
    head: "off",
    also: &[],
    right: Right {
        help: "write it as in pith_small = { off = \"1 in\", toward = \"4 o'clock\" }",
        ..SWEEP.right
    },
};
pub(crate) const FLARE: PartsForm = PartsForm {
    form: Form { of: "a flare", fields: &["extra", "length"] },
    head: "extra",
    also: &[("over", "length")],
    right: Right {
        help: "write it as in flare = { extra = \"4 in\", length = \"18 in\" }",
        ..SWEEP.right
    },
};

const DEPTH_HELP: &str = "write the greatest gap between a string from end to end and the hollow side, as in 2 in; a log that bows by more than it is thick is bucked first";
const CROOK_HELP: &str = "write how far the log stands off the straight line between its ends at the bend, as in 3 in; a log that bends by more than it is thick is bucked there";
const SWEEP_TOWARD_HELP: &str =
    "write toward which hour of a clock at the small end the belly lies, as in toward 6";
const CROOK_TOWARD_HELP: &str =
    "write toward which hour of a clock at the small end it bends out, as in toward 9";
const CROOK_AT_HELP: &str = "write how far from the butt the bend is, as in at 5 ft";
const OFF_HELP: &str =
    "write how far the pith is from the middle of that end, less than to the bark, as in 1 in";
const PITH_TOWARD_HELP: &str = "write toward which hour of a clock the pith lies from the middle, looking at the small end, as in toward 4";
const EXTRA_HELP: &str = "write how much the flare adds to the diameter at the butt end, as in 4 in; the butt itself is taped above it";
const OVER_HELP: &str = "write over which length from the butt end it flares, as in 18 in";
const AXIS_HELP: &str =
    "give both diameters of an oval end, at right angles, or leave the direction out";
const AXIS_SMALL_HELP: &str =
    "write toward which hour the longer diameter of the small end points, as in 2 o'clock";

/// The same, each in its parts.
#[derive(Clone, Debug)]
pub(crate) struct GrownParts {
    pub(crate) long_axis: Typed,
    pub(crate) long_axis_butt: Typed,
    pub(crate) sweep: Option<Parts>,
    pub(crate) crook: Option<Parts>,
    pub(crate) pith_small: Option<Parts>,
    pub(crate) pith_butt: Option<Parts>,
    pub(crate) flare: Option<Parts>,
    pub(crate) flaws: Vec<Parts>,
    pub(crate) seen: SeenParts,
    pub(crate) shape: Typed,
    pub(crate) unit: Typed,
    pub(crate) up: Typed,
}

/// What the tape says besides, as far as it could be read.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Extent {
    /// Length from end to end.
    pub(crate) long: Option<Length>,
    /// Diameters at the small end, the longer one first.
    pub(crate) small: Option<(Length, Length)>,
    /// The same at the butt.
    pub(crate) butt: Option<(Length, Length)>,
    /// Two diameters were given at the small end, and at the butt.
    pub(crate) twice: (bool, bool),
}

/// What was read: nothing where nothing was written, or where it has a fault.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Grown {
    /// Directions of the longer diameter at the small end and at the butt; `None` where nobody names any.
    pub(crate) long_axis: Option<(Angle, Angle)>,
    pub(crate) sweep: Option<Sweep>,
    pub(crate) crook: Option<Crook>,
    /// How far, and where.
    pub(crate) pith_small: Option<(Length, Angle)>,
    pub(crate) pith_butt: Option<(Length, Angle)>,
    pub(crate) flare: Option<Flare>,
}

impl Grown {
    /// Whether the log is no plain cone.
    pub(crate) fn is_any(&self) -> bool {
        self.long_axis.is_some()
            || self.sweep.is_some()
            || self.crook.is_some()
            || self.pith_small.is_some()
            || self.pith_butt.is_some()
            || self.flare.is_some()
    }
}

impl GrownParts {
    /// What the fields of a table say.
    pub(crate) fn of_fields(fields: &Fields<'_>, faults: &mut Vec<Fault>) -> Self {
        Self {
            long_axis: fields.typed("long_axis", CLOCK, faults),
            long_axis_butt: fields.typed("long_axis_butt", CLOCK, faults),
            sweep: Parts::of_field(fields, "sweep", &SWEEP, faults),
            crook: Parts::of_field(fields, "crook", &CROOK, faults),
            pith_small: Parts::of_field(fields, "pith_small", &PITH, faults),
            pith_butt: Parts::of_field(fields, "pith_butt", &PITH, faults),
            flare: Parts::of_field(fields, "flare", &FLARE, faults),
            flaws: Parts::list(fields, "flaws", &FLAW, faults),
            seen: SeenParts::of_fields(fields, faults),
            shape: fields.typed("shape", SHAPE, faults),
            unit: fields.typed("unit", UNIT, faults),
            up: fields.typed("up", UP, faults),
        }
    }

    /// What all of it says of a log of that extent, but its flaws and what is seen on it; every fault goes to the others.
    pub(crate) fn read(&self, extent: &Extent, faults: &mut Vec<Fault>) -> Grown {
        let long_axis = self.long_axis(extent, faults);
        let mean =
            |end: Option<(Length, Length)>| end.map(|(longer, shorter)| (longer + shorter).half());
        let most = mean(extent.small).unwrap_or(Log::GREATEST_DIAMETER);
        let sweep = self.sweep.as_ref().and_then(|parts| {
            let (depth, clock, at) =
                bend(parts, [DEPTH_HELP, SWEEP_TOWARD_HELP, PLACE_HELP], most, extent, faults)?;
            let at =
                at.or_else(|| extent.long.filter(|_| parts.get("at").is_none()).map(Length::half));
            Some(Sweep { depth, clock, at: at? })
        });
        let crook = self.crook.as_ref().and_then(|parts| {
            if parts.get("at").is_none() {
                faults.push(parts.fault(FaultKind::NoPart { part: "at" }, CROOK_AT_HELP));
            }
            let (depth, clock, at) =
                bend(parts, [CROOK_HELP, CROOK_TOWARD_HELP, PLACE_HELP], most, extent, faults)?;
            Some(Crook { depth, clock, at: at? })
        });
        let pith_small = pith(self.pith_small.as_ref(), extent.small, faults);
        let pith_butt = pith(self.pith_butt.as_ref(), extent.butt, faults);
        let flare = self.flare.as_ref().and_then(|parts| {
            let greatest = extent.long.unwrap_or(Log::GREATEST_LENGTH) - LEAST_OFF;
            let most = extent.butt.map_or(MOST_EXTRA, |(longer, _)| longer.min(MOST_EXTRA));
            let limits = length(EXTRA_HELP, Unit::Inch, Length::ZERO, most);
            let extra = parts.require("extra", EXTRA_HELP, faults, limits);
            let limits = length(OVER_HELP, Unit::Inch, Length::inches(1), greatest);
            let over = parts.require("length", OVER_HELP, faults, limits);
            Some(Flare { length: over?, extra: extra? })
        });
        Grown {
            long_axis,
            sweep: sweep.filter(|sweep| sweep.depth > Length::ZERO),
            crook: crook.filter(|crook| crook.depth > Length::ZERO),
            pith_small: pith_small.filter(|(off, _)| *off > Length::ZERO),
            pith_butt: pith_butt.filter(|(off, _)| *off > Length::ZERO),
            flare: flare.filter(|flare| flare.extra > Length::ZERO),
        }
    }

    /// The pith at the small end and at the butt, of a log whose ends nobody taped.
    pub(crate) fn pith(&self, faults: &mut Vec<Fault>) -> [Option<(Length, Angle)>; 2] {
        [&self.pith_small, &self.pith_butt].map(|parts| pith(parts.as_ref(), None, faults))
    }

    /// Figures that could each be read, but are no log together.
    pub(crate) fn fault_of(&self, fault: LogFault) -> Option<Fault> {
        let (parts, help) = match fault {
            LogFault::Pith { end: "butt", .. } => (&self.pith_butt, OFF_HELP),
            LogFault::Pith { .. } => (&self.pith_small, OFF_HELP),
            LogFault::Bow { what: "crook", .. } => (&self.crook, CROOK_HELP),
            LogFault::Bow { .. } => (&self.sweep, DEPTH_HELP),
            LogFault::BowPlace { what: "crook", .. } => (&self.crook, PLACE_HELP),
            LogFault::BowPlace { .. } => (&self.sweep, PLACE_HELP),
            LogFault::Flare { .. } => (&self.flare, EXTRA_HELP),
            _ => return None,
        };
        Some(parts.as_ref()?.fault(fault, help))
    }

    fn long_axis(&self, extent: &Extent, faults: &mut Vec<Fault>) -> Option<(Angle, Angle)> {
        let (small, butt) = extent.twice;
        let read = |typed: &Typed, faults: &mut Vec<Fault>| typed.read(faults, clock);
        let at_small = read(&self.long_axis, faults);
        let at_butt = read(&self.long_axis_butt, faults);
        let alone = |typed: &Typed, why| typed.fault(FaultKind::NoLongAxis { why }, AXIS_HELP);
        if self.long_axis.is_given() && !small && !butt {
            faults.push(alone(&self.long_axis, "neither end has two"));
        }
        if self.long_axis_butt.is_given() && !butt {
            faults.push(alone(&self.long_axis_butt, "the butt has only one"));
        }
        if self.long_axis_butt.is_given() && small && !self.long_axis.is_given() {
            faults.push(self.long_axis.fault(FaultKind::Missing, AXIS_SMALL_HELP));
        }
        let either = at_small.or(at_butt)?;
        Some((at_small.unwrap_or(either), at_butt.unwrap_or(either)))
    }
}

/// The most that a flare adds; more is a slip of the unit.
const MOST_EXTRA: Length = Length::inches(48);

/// What may stand as a shape in a file.
const SHAPE: Right = Right {
    what: "a file's name in quotes",
    help: "for instance shape = \"scan.ply\"",
    bare: false,
};

/// What may stand as the up of a scan in a file.
const UP: Right = Right {
    what: "a direction in quotes",
    help: "write which way of the scan was up: \"+y\", \"-z\" or \"0 1 0\"",
    bare: false,
};

/// What may stand as a unit in a file.
const UNIT: Right = Right {
    what: "a unit in quotes",
    help: "write the unit of the shape file: \"mm\", \"cm\", \"m\", \"in\" or \"ft\"",
    bare: false,
};

/// What may stand as a direction in a file.
const CLOCK: Right = Right {
    what: "a direction in quotes",
    help: "for instance \"2 o'clock\", or \"65 degrees\"",
    bare: true,
};

/// How deep, in which direction, and where from the small end if anybody says where.
fn bend(
    parts: &Parts,
    [depth_help, toward_help, at_help]: [&'static str; 3],
    most: Length,
    extent: &Extent,
    faults: &mut Vec<Fault>,
) -> Option<(Length, Angle, Option<Length>)> {
    let limits = length(depth_help, Unit::Inch, Length::ZERO, most);
    let depth = parts.require("depth", depth_help, faults, limits);
    let toward = parts.require("toward", toward_help, faults, |_, text| clock(text));
    let at = parts.read("at", faults, |typed, text| {
        let at = place(typed, text, extent.long)?;
        let within = extent
            .long
            .is_none_or(|long| (LEAST_OFF..=long - LEAST_OFF).contains(&at.station(long)));
        if within { Ok(at) } else { Err(at_an_end(text, extent.long, at_help)) }
    });
    let at = at.and_then(|at| extent.long.map(|long| at.station(long)));
    Some((depth?, toward?, at))
}

/// The nearest to an end that a log is bent.
const LEAST_OFF: Length = Length::inches(1);

fn at_an_end(text: &str, long: Option<Length>, help: &'static str) -> crate::fault::Misread {
    let greatest = long.unwrap_or(Log::GREATEST_LENGTH) - LEAST_OFF;
    let got = pithward_measure::Excerpt::new(text);
    crate::fault::Misread::new(FaultKind::Range { least: LEAST_OFF, greatest, got }, 0..0, help)
}

/// How far the pith is off the middle of an end, and where.
fn pith(
    parts: Option<&Parts>,
    end: Option<(Length, Length)>,
    faults: &mut Vec<Fault>,
) -> Option<(Length, Angle)> {
    let parts = parts?;
    let most =
        end.map_or(Log::GREATEST_DIAMETER.half(), |(_, shorter)| shorter.half() - LEAST_WOOD);
    let off =
        parts.require("off", OFF_HELP, faults, length(OFF_HELP, Unit::Inch, Length::ZERO, most));
    let toward = parts.require("toward", PITH_TOWARD_HELP, faults, |_, text| clock(text));
    Some((off?, toward?))
}

/// What wood there is at least between the pith and the bark.
const LEAST_WOOD: Length = Length::sixty_fourths(8);
