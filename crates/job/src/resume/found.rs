//! What was found in a half-sawn log.
//!
//! Rot, a hollow, a shake, a split, stain and metal are told as before the sawing ([`crate::flaw_text`]). Metal that the
//! blade met, or a detector, is told by where it is as the log lies now:
//!
//! ```text
//! metal height 9 1/2 in across 6 in at 4 ft [radius 1 in]
//! ```
//! | part | means |
//! |---|---|
//! | `height` | over the bed |
//! | `across` | from the side stops |
//! | `at` | along the log, from the butt ([`crate::along`]) |
//! | `radius` | round that place no piece is cut; an inch where it is left out: nobody knows a nail's place more closely (common practice, no source) |

use crate::along::{PLACE_HELP, place};
use crate::as_grown::Extent;
use crate::fault::{Fault, FaultKind, ResumeFault};
use crate::file::{Form, Right};
use crate::flaw_text::{self, FLAW, flaw_kind};
use crate::log_job::LogJob;
use crate::parts::{Parts, PartsForm, keys, length};
use crate::typed::Typed;
use pithward_geometry::{Angle, Body, Covering, Flaw, FlawKind, Log, Pose, Region, trig};
use pithward_measure::{Excerpt, Length, Unit};
use pithward_optimizer::Begun;

/// Something that was found.
#[derive(Clone, Debug)]
pub(super) struct Finding {
    pub(super) kind: FlawKind,
    pub(super) words: String,
    pub(super) flaws: Vec<Flaw>,
}

/// The parts of metal at a place.
const MET: PartsForm = PartsForm {
    form: Form { of: "metal at a place", fields: &["kind", "height", "across", "at", "radius"] },
    head: "kind",
    also: &[],
    right: Right { what: "a text", help: MET_HELP, bare: false },
};

const MET_HELP: &str = "write where it is as the log lies: height over the bed, across from the side stops, at how far from the butt, as in metal height 9 1/2 in across 6 in at 4 ft";
const ROUND: Length = Length::inches(1);
const MOST_ROUND: Length = Length::inches(6);

/// Whether words tell where something is by how the log lies on the mill, which only a log that lies there has.
pub fn is_told_by_height(words: &str) -> bool {
    keys(words, &MET).iter().any(|(key, _)| ["height", "across"].contains(key))
}

/// Reads one finding; every fault goes to the others.
pub(super) fn read(
    typed: &Typed,
    job: &LogJob,
    log: &Log,
    begun: &Begun,
    faults: &mut Vec<Fault>,
) -> Option<Finding> {
    let text = typed.text.as_deref().unwrap_or_default();
    if is_told_by_height(text) {
        return at_a_place(typed, job, log, begun, faults);
    }
    let before = faults.len();
    let parts = Parts::of_text(typed, &FLAW, faults)?;
    let extent = Extent {
        long: Some(log.length()),
        small: Some((log.small_end(), log.small_end())),
        butt: Some((log.butt(), log.butt())),
        twice: (false, false),
    };
    let extra = job.told.taped.and_then(|taped| taped.flare).map_or(Length::ZERO, |f| f.extra);
    let named =
        flaw_text::read(&parts, &extent, extra, faults).filter(|_| faults.len() == before)?;
    if let Some(fault) = named.flaws.iter().find_map(|flaw| flaw.fault(log)) {
        faults.push(typed.fault(ResumeFault::from(fault), PLACE_HELP));
        return None;
    }
    Some(Finding { kind: named.kind, words: named.words, flaws: named.flaws })
}

/// Metal where the blade or a detector met it.
fn at_a_place(
    typed: &Typed,
    job: &LogJob,
    log: &Log,
    begun: &Begun,
    faults: &mut Vec<Fault>,
) -> Option<Finding> {
    let before = faults.len();
    let parts = Parts::of_text(typed, &MET, faults)?;
    let kind = parts.require("kind", MET_HELP, faults, |_, text| flaw_kind(text));
    let limits = || length(MET_HELP, Unit::Inch, Length::ZERO, Log::GREATEST_DIAMETER);
    let height = parts.require("height", MET_HELP, faults, limits());
    let across = parts.require("across", MET_HELP, faults, limits());
    let long = log.length();
    let at = parts.require("at", PLACE_HELP, faults, |typed, text| place(typed, text, Some(long)));
    let radius = parts
        .read("radius", faults, length(MET_HELP, Unit::Inch, flaw_text::LEAST, MOST_ROUND))
        .unwrap_or(ROUND);
    if kind.is_some_and(|kind| kind != FlawKind::Metal) {
        let got = Excerpt::new(parts.get("kind")?.text.as_deref().unwrap_or_default());
        let kind = FaultKind::Unknown {
            what: "thing that is told by a height",
            got,
            nearest: Some("metal"),
        };
        faults.push(typed.fault(kind, MET_HELP));
    }
    if faults.len() > before {
        return None;
    }
    let (height, across, at) = (height?, across?, at?);
    let station = at.station(long);
    let (body, rest) = begun.on_the_mill(log, &job.mill)?;
    let up = rest.map_or(begun.frame.turn, |rest| rest.turn);
    let basis = begun.frame.turned_to(up, long)?;
    let pose = Pose::levelled(&body, basis)?;
    let reach = |direction: [f64; 3]| reach(&body, direction);
    let (up, right) = (pose.up(), pose.right());
    let stops = -reach(right.map(|c| -c))?;
    let most = [
        ("height", "at a height of", height, reach(up)? + pose.axis_height()),
        ("across", "from the stops by", across, reach(right)? - stops),
    ];
    for (part, what, got, most) in most {
        if got.inches_f64() > most + 1e-6 {
            let says = |length: Length| job.scale.show(length).to_string();
            let (least, greatest) = (says(Length::ZERO), says(Length::from_inches_f64(most)));
            let got = Excerpt::new(parts.get(part)?.text.as_deref().unwrap_or_default());
            let kind = ResumeFault::Beyond { what, got, least, greatest };
            faults.push(typed.fault(kind, MET_HELP));
        }
    }
    if faults.len() > before {
        return None;
    }
    // Height and place across are told along the rest's directions; the station says how far along.
    let (a, b) = (height.inches_f64() - pose.axis_height(), stops + across.inches_f64());
    let along = basis.along;
    let z = station.inches_f64();
    let c = (z - a * up[2] - b * right[2]) / along[2];
    let point = [0, 1].map(|n| a * up[n] + b * right[n] + c * along[n]);
    let pith = match log.sections() {
        Some(_) => log.section_at(z).pith,
        None => [0.0, 0.0],
    };
    let off = [point[0] - pith[0], point[1] - pith[1]];
    let turn = trig::atan2(off[0], off[1]) * 180_000.0 / std::f64::consts::PI;
    #[allow(clippy::cast_possible_truncation, reason = "an angle is less than a turn")]
    let clock = Angle::millidegrees((turn.round() as i32).rem_euclid(360_000));
    let away = Length::from_inches_f64(trig::norm(off[0], off[1]));
    let region = Region::Spot { clock, away, radius };
    let from = (station - radius).max(Length::ZERO);
    let to = (station + radius).min(long);
    let flaw = Flaw { kind: FlawKind::Metal, from, to, region };
    if let Some(fault) = flaw.fault(log) {
        faults.push(typed.fault(ResumeFault::from(fault), MET_HELP));
        return None;
    }
    Some(Finding { kind: FlawKind::Metal, words: parts.words(&MET), flaws: vec![flaw] })
}

/// How far a body reaches in a direction, with its bark, inches.
fn reach(body: &Body<'_>, [x, y, z]: [f64; 3]) -> Option<f64> {
    let flat = trig::norm(x, y);
    Some(body.reach(Covering::Bark, [x / flat, y / flat], z / flat)? * flat)
}
