//! The heights that were really sawn, rest by rest.
//!
//! ```text
//! rest    = [ lies ":" ] height { ("," | ";") height }
//! lies    = letter ( "up" | "down" | "at the stops" | "away" )
//! ```
//! The first rest is that of the card. After it a rest is told by a face that is open: which one is up (it is sawn again),
//! lies on the bed, stands against the side stops, or looks away from them. Heights are on the mill's own scale, from the
//! bed to the underside of the cut, from the top down.

use crate::fault::{Fault, FaultKind, Misread, ResumeFault};
use crate::log_job::LogJob;
use crate::typed::{Asked, Typed, TypedList};
use pithward_geometry::{Angle, Face};
use pithward_measure::{Excerpt, Length, Unit};
use pithward_optimizer::{Begun, LogPlan};

const REST_HELP: &str = "say how the log lies by a face that is open, then the heights, as in --cut \"A down: 9, 8\", \"A at the stops: 14 1/2\", \"A away: 14\" or \"A up: 12\"";
const HEIGHT_HELP: &str = "write the height of the blade over the bed, on the mill's own scale, from the top down, as in 14 1/2, 13 1/4";

/// The passes of a log, by the heights that were sawn. Every fault goes to the others.
pub(super) fn read(
    cuts: &TypedList,
    job: &LogJob,
    plan: &LogPlan,
    faults: &mut Vec<Fault>,
) -> Option<Begun> {
    let before = faults.len();
    let (log, mill) = (&job.log, &job.mill);
    let mut begun = Begun { frame: plan.order.frame, ..Begun::default() };
    let first = plan.order.stages.first().map_or(begun.frame.turn, |stage| stage.rest.turn);
    for (n, text) in cuts.texts.iter().enumerate() {
        let typed = Typed::new(cuts.name, Some(text.clone()));
        let (lies, from) = match text.find(':') {
            Some(at) => (Some(&text[..at]), at + 1),
            None => (None, 0),
        };
        let up = match lies {
            None if n == 0 => Some(first),
            None => None,
            Some(lies) => match direction(lies, &begun) {
                Ok(up) => Some(up),
                Err(kind) => {
                    faults.push(typed.part(0..lies.len()).fault(kind, REST_HELP));
                    return None;
                }
            },
        };
        let Some(up) = up else {
            let kind = ResumeFault::NoRest { got: Excerpt::new(text) };
            faults.push(typed.fault(kind, REST_HELP));
            return None;
        };
        let Some(top) = begun.lay(log, mill, up) else {
            let kind = ResumeFault::NoRest { got: Excerpt::new(text) };
            faults.push(typed.fault(kind, REST_HELP));
            return None;
        };
        let mut below: Option<Length> = None;
        let bare = if job.scale.is_metric() { Unit::Millimetre } else { Unit::Inch };
        for part in heights(text, from) {
            let own = typed.part(part);
            let lowest = mill.lowest_blade;
            let asked = Asked { help: HEIGHT_HELP, bare };
            let height = own.read(faults, |text| {
                let height = own.length_of(text, asked, Some(lowest..=top.max(lowest)))?;
                if below.is_some_and(|below| height + mill.kerf > below) {
                    let kind = ResumeFault::NotBelow { got: Excerpt::new(text) };
                    return Err(Misread::new(kind, 0..0, HEIGHT_HELP));
                }
                Ok(height)
            });
            if let Some(height) = height {
                begun.pass(height, mill);
                below = Some(height);
            }
        }
    }
    begun.stages.retain(|stage| !stage.passes.is_empty());
    if faults.len() == before && begun.passes() == 0 {
        let whole = Typed::new(cuts.name, cuts.texts.first().cloned());
        faults.push(whole.fault(FaultKind::Missing, HEIGHT_HELP));
    }
    (faults.len() == before).then_some(begun)
}

/// Which direction is up when a log lies so.
fn direction(lies: &str, begun: &Begun) -> Result<Angle, ResumeFault> {
    let no_rest = || ResumeFault::NoRest { got: Excerpt::new(lies) };
    let lower = lies.to_lowercase();
    let mut words = lower
        .split_whitespace()
        .filter(|word| !["face", "the", "at", "against", "side", "is"].contains(word));
    let letter = words.next().filter(|word| word.len() == 1).ok_or_else(no_rest)?;
    let letter = letter.to_uppercase();
    let face = Face::ALL.into_iter().position(|face| letter.starts_with(face.letter()));
    let face = face.ok_or_else(no_rest)?;
    let by = match words.next() {
        Some("up") => 0,
        Some("down") => 180,
        // Up at 12 o'clock, the stops are at 9.
        Some("stops") => 90,
        Some("away") => 270,
        _ => return Err(no_rest()),
    };
    if words.next().is_some() {
        return Err(no_rest());
    }
    let opened = begun.opened();
    let turn = opened.get(face).ok_or(ResumeFault::NotOpen { face: Face::ALL[face].letter() })?;
    Ok(Angle::millidegrees((turn.as_millidegrees() + by * 1000).rem_euclid(360_000)))
}

/// The bytes of each height: a comma between two digits without a blank behind it may be a decimal one.
fn heights(text: &str, from: usize) -> Vec<std::ops::Range<usize>> {
    let bytes = text.as_bytes();
    let mut parts = Vec::new();
    let mut begins = from;
    let ends = |at: usize| match bytes[at] {
        b';' => true,
        b',' => bytes.get(at + 1).is_none_or(|next| !next.is_ascii_digit()),
        _ => false,
    };
    for at in (from..bytes.len()).filter(|at| ends(*at)).chain([bytes.len()]) {
        let part = &text[begins..at];
        let start = begins + part.len() - part.trim_start().len();
        let trimmed = start..start + part.trim().len();
        if !trimmed.is_empty() {
            parts.push(trimmed);
        }
        begins = at + 1;
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::{direction, heights};
    use pithward_geometry::{Angle, Rest, Stage, Support};
    use pithward_measure::Length;
    use pithward_optimizer::Begun;

    #[test]
    fn heights_stand_between_commas() {
        let of = |text: &str, from| {
            let parts = heights(text, from);
            parts.into_iter().map(|at| text[at].to_owned()).collect::<Vec<_>>()
        };
        assert_eq!(of("14 1/2, 13 1/4", 0), ["14 1/2", "13 1/4"]);
        assert_eq!(of("A down: 12,5 mm; 9", 7), ["12,5 mm", "9"]);
        assert_eq!(of(" ,, ", 0), Vec::<String>::new());
    }

    #[test]
    fn a_rest_is_told_by_a_face_that_is_open() {
        let turn = Angle::degrees(30);
        let rest = Rest { turn, lift: Length::ZERO, on: Support::Bark, against: None };
        let passes =
            vec![pithward_geometry::Pass { height: Length::inches(9), printed: Length::inches(9) }];
        let begun = Begun { stages: vec![Stage { rest, passes }], ..Begun::default() };
        for (words, up) in [
            ("A down", 210),
            ("a at the stops", 120),
            ("face A against the side stops", 120),
            ("A up", 30),
            ("A away", 300),
        ] {
            assert_eq!(direction(words, &begun), Ok(Angle::degrees(up)), "{words}");
        }
        for words in ["", "B down", "A", "A sideways", "down", "A down up", "Q down"] {
            assert!(direction(words, &begun).is_err(), "{words}");
        }
    }
}
