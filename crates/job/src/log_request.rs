//! One log as a person measured it.
//!
//! # Bark
//! `d` is the diameter inside the bark, `D` over it, `b` the bark's thickness on one side, `q` the
//! species' average ratio of `d` to `D`:
//! ```text
//!                     taped inside the bark       taped over the bark
//! thickness given     b as given                  d = D - 2 b
//! species known       b = (d / q - d) / 2         d = D q,  b = (D - d) / 2
//! neither             b = 0                       a fault: nobody knows what to take off
//! ```
//! `d` rounds down to the nanometre and `b` up: no wood is promised that is not there, and the mill has
//! to clear the bark. An end with two diameters has the bark of their mean all round.
//!
//! # Two diameters
//! Where somebody says in which direction the longer of two diameters lies the end is oval. Where nobody does, the mean
//! counts, as logs are scaled: common practice, no source.

use std::borrow::Cow;
use std::path::Path;

use pithward_geometry::{Angle, End, Log, LogFault, Taped};
use pithward_measure::{Excerpt, Length, Unit};
use pithward_trade::log_rule::usual_growth;
use pithward_trade::{Species, SpeciesFault};

use crate::as_grown::{AsGrown, Extent, Grown, GrownParts};
use crate::asked::{Files, Folder};
use crate::fault::{Fault, FaultKind, Misread};
use crate::flaw_text;
use crate::length_list::unit_behind;
use crate::log_job::{BarkSource, Told};
use crate::scanned::of_no_shape;
use crate::typed::{Asked, Switch, Typed};

const SMALL: Asked = Asked {
    help: "write the diameter at the small end, as in 22 in, 24 1/2 in or 560 mm",
    bare: Unit::Inch,
};
const BUTT: Asked =
    Asked { help: "write the diameter at the butt, as in 24 1/2 in or 620 mm", bare: Unit::Inch };
const LENGTH: Asked =
    Asked { help: "write the log's length, as in 12 ft, 12 ft 4 in or 3.66 m", bare: Unit::Foot };
pub(crate) const BARK: Asked = Asked {
    help: "write the bark's thickness on one side, as in 5/8 in or 15 mm",
    bare: Unit::Inch,
};
/// What is asked for as trim.
pub(crate) const TRIM: Asked = Asked {
    help: "write what is cut off each board beyond the length that counts, as in 2 in",
    bare: Unit::Inch,
};
const SPECIES_HELP: &str = "write a name such as white oak, hard maple or eastern white pine";
const OVAL_HELP: &str = "measure the two diameters again, at right angles to each other";
const OVER_BARK_HELP: &str =
    "give the bark's thickness or the species, or tape the ends inside the bark";

/// The most that is cut off a board beyond the length that counts; more is a slip of the unit.
pub(crate) const MOST_TRIM: Length = Length::inches(24);

/// What a tape shows.
const SIXTEENTH: Length = Length::sixty_fourths(4);

/// The longest name of a species that is looked up, in characters.
const LONGEST_NAME: usize = 60;

/// A log as it was typed.
#[derive(Clone, Debug)]
pub struct LogRequest {
    /// Diameter at the small end, or two at right angles with an `x` between them; a bare number is inches.
    pub small_end: Typed,
    /// The same at the butt, above any flare.
    pub butt: Typed,
    /// Length; a bare number is feet.
    pub length: Typed,
    /// Species, by any name that people use.
    pub species: Typed,
    /// Thickness of the bark on one side, the same at both ends; a bare number is inches.
    pub bark: Typed,
    /// The diameters were taped over the bark.
    pub over_bark: Switch,
    /// What is cut off each board beyond the length that counts; a bare number is inches.
    pub trim: Typed,
    /// What makes it other than round, straight and sound.
    pub as_grown: AsGrown,
    /// Where its shape file is found, and the mill file of the request that it is part of.
    pub files: Files,
}

/// A log that can be.
#[derive(Clone, Debug)]
pub(crate) struct MeasuredLog {
    pub(crate) log: Log,
    pub(crate) species: Option<&'static Species>,
    pub(crate) bark: BarkSource,
    pub(crate) trim: Length,
    /// An end was measured across twice.
    pub(crate) two_diameters: bool,
    pub(crate) told: Told,
}

impl LogRequest {
    /// The log, once every field of it could be read; every fault goes to the others.
    pub(crate) fn measure(&self, faults: &mut Vec<Fault>) -> Option<MeasuredLog> {
        self.measured(false, faults)
    }

    /// The same where the butt may have been left out: it follows from the small end by the stated taper.
    pub(crate) fn measure_or_taper(&self, faults: &mut Vec<Fault>) -> Option<MeasuredLog> {
        self.measured(true, faults)
    }

    /// Whether its butt follows from the small end where it may have been left out.
    pub(crate) fn is_tapered(&self) -> bool {
        !self.butt.is_given() && !self.as_grown.shape.is_given()
    }

    /// Where its files are found.
    pub(crate) fn files(&self) -> &Files {
        &self.files
    }

    /// Its shape file.
    pub(crate) fn shape(&self) -> Option<&str> {
        self.as_grown.shape.text.as_deref()
    }

    fn measured(&self, tapers: bool, faults: &mut Vec<Fault>) -> Option<MeasuredLog> {
        let mut of_grown = Vec::new();
        let grown = self.as_grown.parts(&mut of_grown);
        let [small_end, butt] = [&self.small_end, &self.butt].map(diameters);
        let tape = Tape {
            small_end: &small_end,
            butt: &butt,
            tapers,
            length: &self.length,
            species: &self.species,
            bark: &self.bark,
            over_bark: &Typed::new(self.over_bark.name, None),
            over: self.over_bark.on,
            trim: Some(&self.trim),
            grown: &grown,
            folder: Folder { base: Path::new(""), files: &self.files },
        };
        let measured = tape.measure(faults);
        let sound = of_grown.is_empty();
        faults.extend(of_grown);
        measured.filter(|_| sound)
    }
}

/// Two diameters with an `x` between them, the unit behind the second that of both where the first has none; or one.
fn diameters(typed: &Typed) -> Vec<Typed> {
    let text = typed.text.as_deref().unwrap_or_default();
    let by = text.char_indices().find(|(_, c)| matches!(c, 'x' | 'X' | '\u{d7}'));
    let Some((at, by)) = by else { return vec![typed.clone()] };
    let trimmed = |from: usize, to: usize| {
        let part = &text[from..to];
        let start = from + part.len() - part.trim_start().len();
        typed.part(start..start + part.trim().len())
    };
    let [first, second] = [trimmed(0, at), trimmed(at + by.len_utf8(), text.len())];
    let written = |typed: &Typed| typed.text.clone().unwrap_or_default();
    let unit = unit_behind(&written(&second)).map(|unit| format!("{}{unit}", written(&first)));
    match unit {
        Some(with_unit) if unit_behind(&written(&first)).is_none() => {
            vec![first.read_as(with_unit), second]
        }
        _ => vec![first, second],
    }
}

/// What a tape says of a log, wherever it was written down.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Tape<'a> {
    /// One diameter, or two at right angles; the first cannot be left out.
    pub(crate) small_end: &'a [Typed],
    /// The same at the butt.
    pub(crate) butt: &'a [Typed],
    /// The butt may be left out.
    pub(crate) tapers: bool,
    pub(crate) length: &'a Typed,
    pub(crate) species: &'a Typed,
    pub(crate) bark: &'a Typed,
    /// Where it is said that the diameters are over the bark.
    pub(crate) over_bark: &'a Typed,
    pub(crate) over: bool,
    pub(crate) trim: Option<&'a Typed>,
    pub(crate) grown: &'a GrownParts,
    /// From where a shape file is looked for.
    pub(crate) folder: Folder<'a>,
}

/// One end as it was taped.
#[derive(Clone, Copy, Debug)]
struct Across {
    /// What counts where the end is taken as round: of two diameters the mean, rounded down to the nanometre.
    mean: Length,
    longer: Length,
    shorter: Length,
    twice: bool,
}

impl Across {
    fn once(diameter: Length) -> Self {
        Self { mean: diameter, longer: diameter, shorter: diameter, twice: false }
    }

    /// The same with so much taken off all round.
    fn less(self, bark: Length) -> (Length, Length) {
        (self.longer - bark * 2, self.shorter - bark * 2)
    }
}

impl Tape<'_> {
    /// The log, once everything could be read; every fault goes to the others.
    pub(crate) fn measure(&self, faults: &mut Vec<Fault>) -> Option<MeasuredLog> {
        if self.grown.shape.is_given() {
            return self.scanned(faults);
        }
        let before = faults.len();
        of_no_shape(self.grown, faults);
        let along = Log::LEAST_LENGTH..=Log::GREATEST_LENGTH;
        let small_end = across(self.small_end, SMALL, faults);
        let butt = if self.tapers && !self.butt.iter().any(Typed::is_given) {
            None
        } else {
            across(self.butt, BUTT, faults)
        };
        if let (Some(small_end), Some(butt)) = (small_end, butt)
            && butt.mean < small_end.mean
        {
            faults.extend(self.swapped());
        }
        let long = self.length.require_length(faults, LENGTH, along);
        let species = self.species.read(faults, find_species);
        let bark = self.bark.length(faults, BARK, Length::ZERO..=Log::GREATEST_BARK);
        if self.over && !self.species.is_given() && !self.bark.is_given() {
            faults.push(self.over_bark.fault(FaultKind::BarkUnknown, OVER_BARK_HELP));
        }
        let most_trim = long.map_or(MOST_TRIM, |long| MOST_TRIM.min(long.half()));
        let trim = self.trim.and_then(|trim| trim.length(faults, TRIM, Length::ZERO..=most_trim));
        let butt = butt.or_else(|| {
            let tapers = self.tapers && !self.butt.iter().any(Typed::is_given);
            Some(Across::once(tapered(small_end?.mean, long?))).filter(|_| tapers)
        });
        let twice = |end: Option<Across>| end.is_some_and(|end| end.twice);
        let two_diameters = twice(small_end) || twice(butt);
        let inside = |end: Across| self.inside([end.mean; 2], species, bark).1[0].1;
        let within = |end: Across| end.less(if self.over { inside(end) } else { Length::ZERO });
        let extent = Extent {
            long,
            small: small_end.map(within),
            butt: butt.map(within),
            twice: (twice(small_end), twice(butt)),
        };
        let grown = self.grown.read(&extent, faults);
        if grown.long_axis.is_some() {
            for (end, name) in [(extent.small, "small end"), (extent.butt, "butt")] {
                let Some((longer, shorter)) = end else { continue };
                if longer > shorter * 2 {
                    faults.extend(self.no_log(LogFault::Oval { end: name, longer, shorter }));
                }
            }
        }
        let extra = grown.flare.map_or(Length::ZERO, |flare| flare.extra);
        let flaws = self
            .grown
            .flaws
            .iter()
            .filter_map(|parts| flaw_text::read(parts, &extent, extra, faults));
        let flaws: Vec<_> = flaws.collect();
        let seen = self.grown.seen.read(&extent, extra, faults);
        if faults.len() > before {
            return None;
        }
        let (small_end, butt, long) = (small_end?, butt?, long?);
        let (source, ends) = self.inside([small_end.mean, butt.mean], species, bark);
        let taped = grown.is_any().then(|| {
            let [(_, bark_small), (_, bark_butt)] = ends;
            let sides =
                grown.long_axis.map(|(small, butt)| [Some(small), Some(butt)]).unwrap_or_default();
            let [small, butt] = [
                (small_end, bark_small, sides[0], grown.pith_small),
                (butt, bark_butt, sides[1], grown.pith_butt),
            ]
            .map(|(end, bark, clock, pith)| self.end(end, bark, clock, pith));
            let Grown { sweep, crook, flare, .. } = grown;
            Taped { length: long, small, butt, sweep, crook, flare }
        });
        let [(small_end, bark_small), (butt, bark_butt)] = ends;
        let log = match &taped {
            Some(taped) => Log::taped(taped),
            None => Log::new(small_end, butt, long, bark_small, bark_butt),
        };
        match log {
            Ok(log) => {
                let all = flaws.iter().flat_map(|named| named.flaws.iter().copied()).collect();
                let log = if flaws.is_empty() { log } else { log.with_flaws(all) };
                let (log, seen) = seen.in_log(log, faults);
                if faults.len() > before {
                    return None;
                }
                // Two diameters that are alike make no oval.
                let taped = taped.filter(|_| log.sections().is_some());
                let told = Told { taped, flaws, seen, ..Told::default() };
                let trim = trim.unwrap_or_default();
                Some(MeasuredLog { log, species, bark: source, trim, two_diameters, told })
            }
            Err(fault) => {
                faults.extend(self.no_log(fault));
                None
            }
        }
    }

    /// An end inside the bark; round by its mean where nobody says in which direction its longer diameter lies.
    fn end(
        &self,
        end: Across,
        bark: Length,
        clock: Option<Angle>,
        pith: Option<(Length, Angle)>,
    ) -> End {
        let off = if self.over { bark } else { Length::ZERO };
        let end = if clock.is_some() { end } else { Across::once(end.mean) };
        let (longer, shorter) = end.less(off);
        let (pith_off, pith_clock) = pith.unwrap_or_default();
        End { longer, shorter, clock: clock.unwrap_or_default(), pith_off, pith_clock, bark }
    }

    /// Each diameter inside the bark, and the bark's thickness there.
    fn inside(
        &self,
        ends: [Length; 2],
        species: Option<&Species>,
        bark: Option<Length>,
    ) -> (BarkSource, [(Length, Length); 2]) {
        let over = self.over;
        match (bark, species) {
            (Some(bark), _) => {
                let inside = |end: Length| if over { end - bark * 2 } else { end };
                (BarkSource::Given, ends.map(|end| (inside(end), bark)))
            }
            (None, Some(species)) if over => {
                let ends = ends.map(|end| {
                    let ratio = species.inside_over_outside();
                    let inside = Length::from_inches_f64_down(end.inches_f64() * ratio);
                    // `half` rounds down, so half of the negative rounds the bark up.
                    (inside, -(inside - end).half())
                });
                (BarkSource::Species, ends)
            }
            (None, Some(species)) => {
                (BarkSource::Species, ends.map(|end| (end, species.bark_thickness(end))))
            }
            (None, None) => (BarkSource::None, ends.map(|end| (end, Length::ZERO))),
        }
    }

    fn swapped(&self) -> Option<Fault> {
        let written = |end: &[Typed]| {
            let texts: Vec<&str> = end.iter().filter_map(|typed| typed.text.as_deref()).collect();
            Excerpt::new(&texts.join(" and "))
        };
        let kind = FaultKind::ButtBelowSmallEnd {
            butt: written(self.butt),
            small_end: written(self.small_end),
        };
        let help =
            "measure again, or swap the two; the butt is the end that stood nearer the ground";
        Some(self.butt.first()?.fault(kind, help))
    }

    /// Measurements that could each be read, but are no log once the bark is taken into account.
    fn no_log(&self, fault: LogFault) -> Option<Fault> {
        let bark = if self.bark.text.is_some() { self.bark } else { self.species };
        let (typed, help) = match fault {
            LogFault::Bark(_) => (bark, bark.help(BARK)),
            LogFault::Length(_) | LogFault::Part { .. } => (self.length, self.length.help(LENGTH)),
            LogFault::Butt(_) | LogFault::ButtBelowSmallEnd { .. } => {
                let butt = self.butt.first()?;
                (butt, butt.help(BUTT))
            }
            LogFault::SmallEnd(_) => (
                self.small_end.first()?,
                "with the bark taken off there is no log left: measure again".into(),
            ),
            LogFault::Oval { end: "butt", .. } => (self.butt.first()?, OVAL_HELP.into()),
            LogFault::Oval { .. } => (self.small_end.first()?, OVAL_HELP.into()),
            LogFault::Pith { .. }
            | LogFault::Bow { .. }
            | LogFault::BowPlace { .. }
            | LogFault::Flare { .. } => match self.grown.fault_of(fault) {
                Some(fault) => return Some(fault),
                None => (self.small_end.first()?, self.small_end.first()?.help(SMALL)),
            },
        };
        Some(typed.fault(fault, help))
    }
}

/// A butt that nobody measured, by the usual taper: down to a sixteenth, or to a millimetre for an end in millimetres,
/// as a guess is not said to the nanometre.
fn tapered(small_end: Length, long: Length) -> Length {
    let metric = small_end.as_nm() % 1_000_000 == 0 && small_end.as_nm() % SIXTEENTH.as_nm() != 0;
    let mark = if metric { Length::mm(1) } else { SIXTEENTH };
    (small_end + usual_growth(long)).floor_to(mark).max(small_end)
}

/// The diameter of an end, or two of them.
fn across(end: &[Typed], asked: Asked, faults: &mut Vec<Fault>) -> Option<Across> {
    let limits = || Log::LEAST_DIAMETER..=Log::GREATEST_DIAMETER;
    let [first, second @ ..] = end else { return None };
    let first = first.require_length(faults, asked, limits());
    let Some(second) = second.iter().find(|second| second.is_given()) else {
        return first.map(Across::once);
    };
    let second = second.length(faults, asked, limits());
    let (first, second) = (first?, second?);
    let (longer, shorter) = (first.max(second), first.min(second));
    Some(Across { mean: (first + second).half(), longer, shorter, twice: true })
}

/// The species that a name stands for.
pub(crate) fn find_species(text: &str) -> Result<&'static Species, Misread> {
    if text.trim().is_empty() || text.chars().count() > LONGEST_NAME {
        let got = Excerpt::new(text);
        let kind = FaultKind::Unknown { what: "species", got, nearest: None };
        return Err(Misread::new(kind, 0..0, SPECIES_HELP));
    }
    Species::find(text).map_err(|fault| {
        let (SpeciesFault::Ambiguous { candidates: near, .. }
        | SpeciesFault::Unknown { nearest: near, .. }) = &fault;
        let help: Cow<'static, str> = match near.first() {
            Some(name) => format!("write the whole name, for instance \"{name}\"").into(),
            None => SPECIES_HELP.into(),
        };
        Misread::new(fault, 0..0, help)
    })
}

#[cfg(test)]
pub(crate) mod tests {
    use super::LogRequest;
    use crate::as_grown::AsGrown;
    use crate::asked::Files;
    use crate::fault::Fault;
    use crate::log_job::BarkSource;
    use crate::typed::{Switch, Typed};
    use pithward_measure::Length;
    use proptest::prelude::*;

    pub(crate) fn request(small_end: &str, butt: &str, length: &str) -> LogRequest {
        let typed = |name, text: &str| Typed::new(name, Some(text.to_owned()));
        LogRequest {
            small_end: typed("--small", small_end),
            butt: typed("--butt", butt),
            length: typed("--length", length),
            species: Typed::new("--species", None),
            bark: Typed::new("--bark", None),
            over_bark: Switch { name: "--over-bark", on: false },
            trim: Typed::new("--trim", None),
            as_grown: AsGrown::nothing(),
            files: Files::OnDisk,
        }
    }

    fn said(request: &LogRequest) -> Vec<String> {
        let mut faults = Vec::new();
        assert!(request.measure(&mut faults).is_none());
        assert!(faults.iter().all(|fault| !fault.help.is_empty()));
        faults.iter().map(Fault::to_string).collect()
    }

    #[test]
    fn a_bare_diameter_is_inches_and_a_bare_length_feet() {
        let measured = request("22", "24 1/2", "12").measure(&mut Vec::new()).unwrap();
        assert_eq!(measured.log.small_end(), Length::inches(22));
        assert_eq!(measured.log.butt(), Length::sixty_fourths(64 * 24 + 32));
        assert_eq!(measured.log.length(), Length::feet(12));
        assert_eq!((measured.bark, measured.trim), (BarkSource::None, Length::ZERO));
    }

    #[test]
    fn bark_is_given_or_goes_by_the_species() {
        let typed = |text: &str| Some(text.to_owned());
        let mut log = request("22 in", "24 in", "12 ft");
        log.species.text = typed("white oak");
        let by_species = log.measure(&mut Vec::new()).unwrap();
        assert_eq!(by_species.bark, BarkSource::Species);
        assert_eq!(by_species.log.small_end(), Length::inches(22));
        let outside = by_species.log.small_end_over_bark();
        // Taped over that bark, the same log comes out.
        let mut over = log.clone();
        over.over_bark.on = true;
        over.small_end.text = Some(format!("{} mm", outside.mm_f64()));
        let taped = over.measure(&mut Vec::new()).unwrap();
        assert!((taped.log.small_end() - Length::inches(22)).abs() < Length::nm(100));
        assert!(taped.log.small_end_over_bark() >= outside);
        over.bark.text = typed("1/2");
        let given = over.measure(&mut Vec::new()).unwrap();
        assert_eq!(given.bark, BarkSource::Given);
        assert_eq!(given.log.butt(), Length::inches(23));
        assert_eq!(given.log.bark_small(), given.log.bark_butt());
    }

    #[test]
    fn every_fault_at_once() {
        let mut log = request("-22 in", "24 fot", "");
        log.species.text = Some("wite oak".to_owned());
        log.trim.text = Some("3 ft".to_owned());
        let said = said(&log);
        let expected = [
            "--small must be between 1 in and 120 in, got \"-22 in\"",
            "--butt: \"24 fot\" is not a length",
            "--length: a length is missing",
            "--species: no species is named \"wite oak\"; nearest: Oak, white",
            "--trim must be between 0 in and 24 in, got \"3 ft\"",
        ];
        assert_eq!(said.len(), expected.len(), "{said:?}");
        for (said, expected) in said.iter().zip(expected) {
            assert!(said.starts_with(expected), "{said}");
        }
    }

    #[test]
    fn measurements_that_contradict_each_other() {
        let swapped = request("24 in", "22 in", "12 ft");
        assert_eq!(
            said(&swapped),
            ["--butt: the butt, \"22 in\", is smaller than the small end, \"24 in\""]
        );
        let mut over = request("24 in", "26 in", "12 ft");
        over.over_bark.on = true;
        assert!(said(&over)[0].starts_with("--over-bark: the log was measured over the bark"));
        over.bark.text = Some("4 in".to_owned());
        over.small_end.text = Some("8 in".to_owned());
        assert!(said(&over)[0].starts_with("--small: the small end must be"));
    }

    proptest! {
        #[test]
        fn prop_no_text_panics(
            small_end in any::<String>(),
            species in any::<String>(),
            bark in "[0-9]{0,3} ?(in|mm|)",
            over in any::<bool>(),
        ) {
            let mut log = request(&small_end, &bark, "12");
            log.species.text = Some(species);
            log.bark.text = Some(bark);
            log.over_bark.on = over;
            let mut faults = Vec::new();
            prop_assert!(log.measure(&mut faults).is_some() == faults.is_empty());
        }
    }
}
