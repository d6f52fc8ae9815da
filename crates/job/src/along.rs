//! Places along a log, as a person walks it off with a tape from the butt.
//!
//! ```text
//! place = "butt" | "small end" | length [ "off" ("butt" | "small end") ]
//! ```
//! Two places make a stretch, or one and how far it goes on from there. A length alone is reckoned from the butt, where most that is wrong with a log begins; `the` may stand before an end.

use pithward_geometry::Log;
use pithward_measure::{Excerpt, Length, Unit};

use crate::fault::{Fault, FaultKind, Misread};
use crate::parts::{Parts, length};
use crate::typed::{Asked, Typed};

/// What to write for a place.
pub(crate) const PLACE_HELP: &str =
    "write how far from the butt, as in 6 ft; or butt, small end, or 2 ft off the small end";

const LENGTH_HELP: &str = "write how far it goes on along the log, as in length 4 ft";
const FROM_HELP: &str = "write where it begins too, as in from butt or from 3 ft (from the butt), or leave the stretch out where it is all of the log";
const TO_HELP: &str = "write where it ends too, as in to 5 ft (from the butt) or length 4 ft";
const ONE_HELP: &str = "keep one of the two";

/// The shortest stretch that can be measured.
const SHORTEST: Length = Length::sixty_fourths(4);

/// A place along a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Along {
    /// So far from the butt.
    Butt(Length),
    /// So far from the small end.
    SmallEnd(Length),
}

impl Along {
    /// How far it is from the small end of a log.
    pub(crate) fn station(self, long: Length) -> Length {
        match self {
            Self::Butt(off) => long - off,
            Self::SmallEnd(off) => off,
        }
    }
}

/// Reads a place on a log that is so long; one of unknown length may be as long as any.
pub(crate) fn place(typed: &Typed, text: &str, long: Option<Length>) -> Result<Along, Misread> {
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower.split_whitespace().filter(|word| *word != "the").collect();
    let end = |words: &[&str]| match words {
        ["butt"] => Some(Along::Butt as fn(Length) -> Along),
        ["small", "end"] => Some(Along::SmallEnd as fn(Length) -> Along),
        _ => None,
    };
    if let Some(end) = end(&words) {
        return Ok(end(Length::ZERO));
    }
    let (from, off) = match words.iter().position(|word| *word == "off") {
        Some(at) => (end(&words[at + 1..]), words[..at].join(" ")),
        None => (Some(Along::Butt as fn(Length) -> Along), text.trim().to_owned()),
    };
    let (Some(from), true) = (from, off.contains(|c: char| c.is_numeric())) else {
        return Err(Misread::new(FaultKind::NoPlace { got: Excerpt::new(text) }, 0..0, PLACE_HELP));
    };
    let asked = Asked { help: PLACE_HELP, bare: Unit::Foot };
    let limits = Length::ZERO..=long.unwrap_or(Log::GREATEST_LENGTH);
    // Where an end is named the bytes are no longer those of the text.
    let read = typed.length_of(&off, asked, Some(limits));
    read.map(from)
        .map_err(|misread| if off == text { misread } else { Misread { span: 0..0, ..misread } })
}

/// A stretch of a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// Where it begins, from the small end.
    pub from: Length,
    /// Where it ends, from the small end.
    pub to: Length,
}

/// The stretch that the parts `from`, `to` and `length` say, two of them at most; all of the log where none is written.
/// `None` where that has a fault or the log's length is unknown.
pub(crate) fn stretch(
    parts: &Parts,
    long: Option<Length>,
    faults: &mut Vec<Fault>,
) -> Option<Stretch> {
    let place = |part, faults: &mut Vec<Fault>| {
        parts.read(part, faults, |typed, text| place(typed, text, long))
    };
    let Some(given) = parts.any_of(&["from", "to", "length"]) else {
        return long.map(|to| Stretch { from: Length::ZERO, to });
    };
    let from = place("from", faults);
    let to = place("to", faults);
    if parts.get("to").is_some() && parts.get("length").is_some() {
        faults.push(parts.fault(FaultKind::Both { one: "to", other: "length" }, ONE_HELP));
    }
    if given != "from" {
        faults.push(parts.fault(FaultKind::NoPart { part: "from" }, FROM_HELP));
    } else if parts.any_of(&["to", "length"]).is_none() {
        faults.push(parts.fault(FaultKind::NoPart { part: "to" }, TO_HELP));
    }
    // How far it can go on from where it begins.
    let left = match (from, long) {
        (Some(Along::Butt(off) | Along::SmallEnd(off)), Some(long)) => long - off,
        _ => Log::GREATEST_LENGTH,
    };
    let goes_on = parts.read("length", faults, length(LENGTH_HELP, Unit::Foot, SHORTEST, left));
    let (from, long) = (from?, long?);
    let to = match goes_on {
        None => to?,
        Some(goes_on) => match from {
            Along::Butt(off) => Along::Butt(off + goes_on),
            Along::SmallEnd(off) => Along::SmallEnd(off + goes_on),
        },
    };
    let (one, other) = (from.station(long), to.station(long));
    if one == other {
        faults.push(parts.fault(FaultKind::NoStretch, PLACE_HELP));
        return None;
    }
    Some(Stretch { from: one.min(other), to: one.max(other) })
}

#[cfg(test)]
mod tests {
    use super::{Along, place};
    use crate::typed::Typed;
    use pithward_measure::Length;
    use proptest::prelude::*;

    fn read(text: &str) -> Option<Along> {
        let typed = Typed::new("--sweep", Some(text.to_owned()));
        place(&typed, text, Some(Length::feet(12))).ok()
    }

    #[test]
    fn places_as_people_say_them() {
        let feet = Length::feet;
        for (text, expected) in [
            ("butt", Along::Butt(Length::ZERO)),
            ("the Small End", Along::SmallEnd(Length::ZERO)),
            ("6 ft", Along::Butt(feet(6))),
            ("6", Along::Butt(feet(6))),
            ("2 ft off the butt", Along::Butt(feet(2))),
            ("24 in off small end", Along::SmallEnd(feet(2))),
        ] {
            assert_eq!(read(text), Some(expected), "{text}");
        }
        assert_eq!(Along::Butt(feet(2)).station(feet(12)), feet(10));
        assert_eq!(Along::SmallEnd(feet(2)).station(feet(12)), feet(2));
        for text in [
            "",
            "top",
            "13 ft",
            "-1 ft",
            "6 ft off",
            "6 ft off the middle",
            "off the butt",
            "6 fot",
        ] {
            assert_eq!(read(text), None, "{text}");
        }
    }

    proptest! {
        #[test]
        fn prop_no_text_panics(text in prop_oneof![any::<String>(), "[0-9]{0,2}( ft| off| the| butt| small| end){0,5}"]) {
            let typed = Typed::new("--sweep", Some(text.clone()));
            let _ = place(&typed, &text, None);
        }
    }
}
