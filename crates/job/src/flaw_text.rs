//! Flaws as a person describes them: what, where in the section, and over which stretch of the log.
//!
//! ```text
//! rot radius 3 in from butt length 4 ft          rot, hollow, stain, metal: round the pith, or from the bark inward
//! metal toward 9 depth 3 in wide 6 in to 5 ft
//! stain toward all round depth 2 in
//! shake radius 4 in from butt to 6 ft            a ring
//! split toward 3 inner 0 in outer 5 in           along the pith
//! ```
//! | part | means |
//! |---|---|
//! | `radius` | round the pith, out to there; of a shake, where the rings come apart |
//! | `inner`, `outer` | distances from the pith between which a shake or a split lies; a split goes from the pith to the bark where they are left out |
//! | `toward` | direction from the pith, or `all round` |
//! | `depth` | from the bark inward |
//! | `wide` | along the bark, as a length, or in `hours` or `degrees` of the clock |
//! | `from`, `to`, `length` | the stretch: two places along the log, or one and how long it goes on from there; all of the log where none is written |

use pithward_geometry::{Angle, Flaw, FlawKind, FlawKinds, Log, Region, trig};
use pithward_measure::{Excerpt, Length, Unit};
use pithward_trade::nearest_word;

use crate::along::{Stretch, stretch};
use crate::as_grown::Extent;
use crate::clock::{CLOCK_HELP, clock, degrees};
use crate::fault::{Fault, FaultKind, Misread};
use crate::file::{Form, Right};
use crate::parts::{Parts, PartsForm, length};
use crate::typed::Typed;

/// The parts of a flaw.
pub(crate) const FLAW: PartsForm = PartsForm {
    form: Form {
        of: "a flaw",
        fields: &[
            "kind", "radius", "inner", "outer", "toward", "depth", "wide", "from", "to", "length",
        ],
    },
    head: "kind",
    also: &[],
    right: Right {
        what: "a list of flaws",
        help: "write each in braces, as in flaws = [{ kind = \"rot\", radius = \"3 in\", from = \"butt\", length = \"4 ft\" }]",
        bare: false,
    },
};

/// The kinds by their words.
const KINDS: [&str; 6] = ["rot", "hollow", "shake", "split", "stain", "metal"];

const KIND_HELP: &str = "write rot, hollow, shake, split, stain or metal, and behind it each part by its word, as in rot radius 3 in from butt length 4 ft";
const TOLERATES_HELP: &str = "write rot, hollow, shake, split or stain, each once";
const ROUND_HELP: &str = "rot, hollow, stain and metal have radius (round the pith), or toward, depth and wide (from the bark inward)";
const SHAKE_HELP: &str =
    "a shake has radius, or inner and outer: how far from the pith its rings come apart";
const SPLIT_HELP: &str =
    "a split has toward, and may have inner and outer: how far from the pith it begins and ends";
const RADIUS_HELP: &str = "write how far from the pith it reaches, as in radius 3 in";
const DEPTH_HELP: &str = "write how deep below the bark it reaches, as in depth 3 in; for all of the section write a radius";
const TOWARD_HELP: &str = "write toward which hour of a clock at the small end it lies, as in toward 9, or toward all round";
const WIDE_HELP: &str = "write how wide it is along the bark, as in wide 6 in or wide 2 hours; for more write toward all round";
const ONE_HELP: &str = "keep one of the two";

/// The least that can be measured of a flaw.
pub(crate) const LEAST: Length = Length::sixty_fourths(4);
/// How wide a shake is where only its radius is known. Moving it changes how much wood on either side is given up:
/// common practice, no source.
const SHAKE_WIDE: Length = Length::sixty_fourths(16);
/// A flaw from the bark inward is less than half a turn wide.
const WIDEST: Angle = Angle::degrees(170);
/// One that is all round is as many of a quarter turn each.
const QUARTERS: [i32; 4] = [0, 90, 180, 270];

/// One flaw as a person named it, and what it is in the log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NamedFlaw {
    /// What is wrong.
    pub kind: FlawKind,
    /// As it was written, on one line: `metal, toward 9, depth 3 in, wide 6 in, from butt, length 4 ft`.
    pub words: String,
    /// What it is in the log; one that lies all round is several.
    pub flaws: Vec<Flaw>,
}

/// The kind of flaw of a word.
pub(crate) fn flaw_kind(text: &str) -> Result<FlawKind, Misread> {
    let word = text.trim().to_lowercase();
    FlawKind::ALL.into_iter().find(|kind| kind.name() == word).ok_or_else(|| {
        let nearest = nearest_word(&word, &KINDS);
        let kind = FaultKind::Unknown { what: "kind of flaw", got: Excerpt::new(text), nearest };
        Misread::new(kind, 0..0, KIND_HELP)
    })
}

/// Adds kinds of flaw that a piece may hold, by their words with a stroke or a comma between them.
pub(crate) fn tolerated(typed: &Typed, known: FlawKinds, faults: &mut Vec<Fault>) -> FlawKinds {
    let text = typed.text.as_deref().unwrap_or_default();
    let (mut kinds, mut from) = (known, 0);
    for word in text.split(['/', ',']) {
        let start = from + word.len() - word.trim_start().len();
        let part = typed.part(start..start + word.trim().len());
        from += word.len() + 1;
        let kind = part.read(faults, |text| one_tolerated(text, kinds));
        kinds = kind.map_or(kinds, |kind| kinds.with(kind));
    }
    kinds
}

fn one_tolerated(text: &str, known: FlawKinds) -> Result<FlawKind, Misread> {
    let refuse = |kind| Err(Misread::new(kind, 0..0, TOLERATES_HELP));
    let kind =
        flaw_kind(text).map_err(|misread| Misread { help: TOLERATES_HELP.into(), ..misread })?;
    if kind == FlawKind::Metal {
        return refuse(FaultKind::NeverTolerated { got: Excerpt::new(text) });
    }
    if known.holds(kind) {
        return refuse(FaultKind::Repeated { what: Excerpt::new(text) });
    }
    Ok(kind)
}

/// The flaw that some parts say, in a log of that extent; every fault goes to the others.
pub(crate) fn read(
    parts: &Parts,
    extent: &Extent,
    extra: Length,
    faults: &mut Vec<Fault>,
) -> Option<NamedFlaw> {
    let before = faults.len();
    let kind = parts.require("kind", KIND_HELP, faults, |_, text| flaw_kind(text));
    let stretch = stretch(parts, extent.long, faults);
    let section = Section { parts, extent, extra };
    let regions = match kind? {
        FlawKind::Shake => section.ring(faults),
        FlawKind::Split => section.radial(faults),
        kind => section.round(kind.name(), faults),
    };
    let (kind, Stretch { from, to }) = (kind?, stretch?);
    if faults.len() > before {
        return None;
    }
    let flaws = regions.into_iter().map(|region| Flaw { kind, from, to, region }).collect();
    Some(NamedFlaw { kind, words: parts.words(&FLAW), flaws })
}

/// Where in the section a flaw lies, still in words.
struct Section<'a> {
    parts: &'a Parts,
    extent: &'a Extent,
    extra: Length,
}

impl Section<'_> {
    /// The farthest from the pith that there is wood.
    fn farthest(&self) -> Length {
        farthest(self.extent, self.extra)
    }

    fn strays(
        &self,
        parts: &[&'static str],
        of: &'static str,
        help: &'static str,
        faults: &mut Vec<Fault>,
    ) {
        faults.extend(parts.iter().filter_map(|part| self.parts.stray(part, of, help)));
    }

    fn both(&self, one: &'static str, other: &'static str, faults: &mut Vec<Fault>) {
        faults.push(self.parts.fault(FaultKind::Both { one, other }, ONE_HELP));
    }

    fn away(
        &self,
        part: &'static str,
        help: &'static str,
        least: Length,
        faults: &mut Vec<Fault>,
    ) -> Option<Length> {
        self.parts.read(part, faults, length(help, Unit::Inch, least, self.farthest()))
    }

    /// Round the pith, or from the bark inward.
    fn round(&self, of: &'static str, faults: &mut Vec<Fault>) -> Vec<Region> {
        self.strays(&["inner", "outer"], of, ROUND_HELP, faults);
        let side = self.parts.any_of(&["depth", "toward", "wide"]);
        if let (Some(_), Some(side)) = (self.parts.get("radius"), side) {
            self.both("radius", side, faults);
            return Vec::new();
        }
        if self.parts.get("radius").is_none() && side.is_none() {
            faults.push(self.parts.fault(FaultKind::NoPart { part: "radius" }, ROUND_HELP));
            return Vec::new();
        }
        if side.is_none() {
            let radius = self.away("radius", RADIUS_HELP, LEAST, faults);
            return radius.map(|radius| Region::Heart { radius }).into_iter().collect();
        }
        let limits = length(DEPTH_HELP, Unit::Inch, LEAST, self.farthest());
        let depth = self.parts.require("depth", DEPTH_HELP, faults, limits);
        let toward = self.parts.require("toward", TOWARD_HELP, faults, |_, text| side_of(text));
        if let Some(None) = toward {
            if self.parts.get("wide").is_some() {
                self.both("wide", "all round", faults);
            }
            let Some(depth) = depth else { return Vec::new() };
            let quarter = |clock| Region::Side {
                clock: Angle::degrees(clock),
                width: Angle::degrees(90),
                depth,
            };
            return QUARTERS.map(quarter).to_vec();
        }
        let wide = self.parts.require("wide", WIDE_HELP, faults, |typed, text| {
            wide_as_seen(typed, text, self.extent, WIDE_HELP)
        });
        match (depth, toward.flatten(), wide) {
            (Some(depth), Some(clock), Some(width)) => vec![Region::Side { clock, width, depth }],
            _ => Vec::new(),
        }
    }

    /// A ring round the pith.
    fn ring(&self, faults: &mut Vec<Fault>) -> Vec<Region> {
        self.strays(&["toward", "depth", "wide"], "a shake", SHAKE_HELP, faults);
        let between = self.parts.any_of(&["inner", "outer"]);
        if let (Some(_), Some(between)) = (self.parts.get("radius"), between) {
            self.both("radius", between, faults);
            return Vec::new();
        }
        if between.is_none() {
            let limits = length(SHAKE_HELP, Unit::Inch, SHAKE_WIDE, self.farthest());
            let radius = self.parts.require("radius", SHAKE_HELP, faults, limits);
            let half = SHAKE_WIDE.half();
            let ring = |radius| Region::Ring { inner: radius - half, outer: radius + half };
            return radius.map(ring).into_iter().collect();
        }
        for part in ["inner", "outer"] {
            if self.parts.get(part).is_none() {
                faults.push(self.parts.fault(FaultKind::NoPart { part }, SHAKE_HELP));
            }
        }
        let (inner, outer) = self.between(SHAKE_HELP, faults);
        match (inner, outer) {
            (Some(inner), Some(outer)) => vec![Region::Ring { inner, outer }],
            _ => Vec::new(),
        }
    }

    /// A plane along the pith.
    fn radial(&self, faults: &mut Vec<Fault>) -> Vec<Region> {
        self.strays(&["radius", "depth", "wide"], "a split", SPLIT_HELP, faults);
        let toward = self.parts.require("toward", SPLIT_HELP, faults, |_, text| clock(text));
        let (inner, outer) = self.between(SPLIT_HELP, faults);
        let read = |part, read: Option<Length>, plain| {
            if self.parts.get(part).is_some() { read } else { Some(plain) }
        };
        // Off the middle the pith may be a whole diameter from the bark.
        let to_bark = self.farthest() * 2;
        match (toward, read("inner", inner, Length::ZERO), read("outer", outer, to_bark)) {
            (Some(clock), Some(from), Some(to)) => vec![Region::Radial { clock, from, to }],
            _ => Vec::new(),
        }
    }

    /// Two distances from the pith, the first the smaller.
    fn between(
        &self,
        help: &'static str,
        faults: &mut Vec<Fault>,
    ) -> (Option<Length>, Option<Length>) {
        let inner = self.away("inner", help, Length::ZERO, faults);
        let outer = self.away("outer", help, LEAST, faults);
        if let (Some(small), Some(large), Some(typed)) = (inner, outer, self.parts.get("inner"))
            && small >= large
        {
            faults.push(
                typed.fault(FaultKind::Contradiction { larger: "outer", small, large }, help),
            );
        }
        (inner, outer)
    }
}

/// How wide a zone on the bark is, as seen from the pith.
pub(crate) fn wide_as_seen(
    typed: &Typed,
    text: &str,
    extent: &Extent,
    help: &'static str,
) -> Result<Angle, Misread> {
    let lower = text.trim().to_lowercase();
    let hours = ["hours", "hour"].iter().find_map(|unit| lower.strip_suffix(unit));
    let turned = match hours {
        Some(hours) => Some(
            degrees(&format!("{}degrees", hours.trim_end())).map(|hours| i64::from(hours) * 30),
        ),
        None => degrees(&lower).map(|degrees| Some(i64::from(degrees))),
    };
    if let Some(turned) = turned {
        let turned = turned.and_then(|turned| i32::try_from(turned).ok()).map(Angle::millidegrees);
        return turned.filter(|width| (Angle::degrees(1)..=WIDEST).contains(width)).ok_or_else(
            || Misread::new(FaultKind::NoWidth { got: Excerpt::new(text) }, 0..0, help),
        );
    }
    // As seen from where the bark is nearest it is widest.
    let radius = extent.small.map_or(Log::GREATEST_DIAMETER.half(), |(_, shorter)| shorter.half());
    let wide = length(help, Unit::Inch, LEAST, Length::nm(radius.as_nm() / 5 * 9))(typed, text)?;
    let half = trig::asin((wide.inches_f64() / 2.0 / radius.inches_f64()).min(1.0));
    #[allow(clippy::cast_possible_truncation, reason = "an arc sine is at most a quarter turn")]
    let millidegrees = (half.to_degrees() * 2000.0).ceil() as i32;
    Ok(Angle::millidegrees(millidegrees).min(WIDEST))
}

/// The farthest from the pith that there is wood in a log of that extent, whose butt is `extra` thicker where it flares.
pub(crate) fn farthest(extent: &Extent, extra: Length) -> Length {
    let butt = extent.butt.map_or(Log::GREATEST_DIAMETER, |(longer, _)| longer);
    (butt + extra).half()
}

/// A direction, or `None` for all round.
fn side_of(text: &str) -> Result<Option<Angle>, Misread> {
    let word = text.trim().to_lowercase();
    if ["all round", "all around", "all"].contains(&&*word) {
        return Ok(None);
    }
    clock(text).map(Some).map_err(|misread| {
        let help = format!("{CLOCK_HELP}; or all round");
        Misread { help: help.into(), ..misread }
    })
}
