//! One log whose shape stands in a file, as a scanner or a person with a tape wrote it.
//!
//! # Bark
//! ```text
//!                     over_bark                             not over_bark
//! thickness given     the file has the bark's surface:      a fault: the file has the wood, and no bark is left on it
//!                     so much is taken off all round
//! species known       the same, by its average share        the file has the wood
//! neither             a fault                               the file has the wood
//! ```
//! Outlines that have a thickness of bark of their own keep it, whatever is said here.
//!
//! # Faults
//! Those of a line of the file stand there. Those of the file as a whole stand where it is named, but for its unit and
//! the pith, which stand where they are said.

use std::path::Path;

use pithward_geometry::{Log, Measured, PithAt, ShapeFault, ShapeRequest, Surface};
use pithward_measure::{Excerpt, Length, Unit};

use crate::as_grown::{Extent, GrownParts};
use crate::fault::{Fault, FaultKind, Misread, ShapeFileFault};
use crate::flaw_text;
use crate::log_job::{BarkSource, Scanned, Told};
use crate::log_request::{BARK, MOST_TRIM, MeasuredLog, TRIM, Tape, find_species};
use crate::place::{FilePlace, Place};
use crate::shape_file::{SHAPE_FILE, nowhere, read_shape};

const BESIDE_HELP: &str = "leave it out, or leave out shape and tape the log";
const BARK_HELP: &str =
    "say that the scan is over the bark, or leave the bark out if the log was scanned peeled";
const OVER_HELP: &str = "give the bark's thickness or the species; or leave this out if the log was scanned peeled, or if its outlines tell their bark";
const UNIT_HELP: &str = "write the unit of the file: mm, cm, m, in or ft";
const SHEET_UNIT_HELP: &str = "leave it out: outlines have their units in their heading";
const SHEET_UP_HELP: &str = "leave it out: the angles of outlines count from 12 o'clock";
const UP_HELP: &str = "write which way of the scan's own coordinates was up, as in +y, -z or 0 1 0";
const NO_SHAPE_HELP: &str = "leave it out, or name the file that it is said of as shape";

/// A unit or an up that was named beside no file.
pub(crate) fn of_no_shape(grown: &GrownParts, faults: &mut Vec<Fault>) {
    for (typed, what) in [(&grown.unit, "unit"), (&grown.up, "up")] {
        if typed.is_given() {
            faults.push(typed.fault(ShapeFileFault::OfNoShape { what }, NO_SHAPE_HELP));
        }
    }
}

impl Tape<'_> {
    /// The log in a shape file, once everything could be read; every fault goes to the others.
    pub(crate) fn scanned(&self, faults: &mut Vec<Fault>) -> Option<MeasuredLog> {
        let before = faults.len();
        self.taped_beside(faults);
        let named = &self.grown.shape;
        let unit = self.grown.unit.read(faults, unit);
        let toward = self.grown.up.read(faults, up);
        let outlines = named.text.as_deref().is_some_and(is_outlines);
        let of_scans = [
            (&self.grown.unit, "whose outlines have units of their own", SHEET_UNIT_HELP),
            (&self.grown.up, "whose outlines begin at 12 o'clock", SHEET_UP_HELP),
        ];
        for (typed, why, help) in of_scans.into_iter().filter(|(typed, ..)| typed.is_given()) {
            if outlines {
                faults.push(typed.fault(ShapeFileFault::BesideShape { why }, help));
            }
        }
        let species = self.species.read(faults, find_species);
        let bark = self.bark.length(faults, BARK, Length::ZERO..=Log::GREATEST_BARK);
        let surface = match (self.over, bark, species) {
            (true, Some(bark), _) => Surface::Bark { small: bark, butt: bark },
            (true, None, Some(species)) => {
                Surface::BarkShare { inside_over_outside: species.inside_over_outside() }
            }
            _ => Surface::Wood,
        };
        if self.over && !self.species.is_given() && !self.bark.is_given() {
            faults.push(self.over_bark.fault(FaultKind::BarkUnknown, OVER_HELP));
        }
        if !self.over && bark.is_some_and(|bark| bark > Length::ZERO) {
            let kind =
                ShapeFileFault::BesideShape { why: "and nobody says that the scan is over it" };
            faults.push(self.bark.fault(kind, BARK_HELP));
        }
        let of_pith = faults.len();
        let [pith_small, pith_butt] = self.grown.pith(faults).map(|pith| {
            let (off, clock) = pith?;
            Some(PithAt { off, clock })
        });
        let pith_read = faults.len() == of_pith;
        let request = ShapeRequest { unit, up: toward, surface, pith_small, pith_butt };
        // With a unit, an up or a pith that nobody could read, what would be found in the file is no news.
        let readable = pith_read
            && (unit.is_some() || !self.grown.unit.is_given())
            && (toward.is_some() || !self.grown.up.is_given());
        let measured = if readable { self.shape(&request, faults) } else { None };
        let log = measured.as_ref().map(|measured| &measured.log);
        let long = log.map(Log::length);
        let most_trim = long.map_or(MOST_TRIM, |long| MOST_TRIM.min(long.half()));
        let trim = self.trim.and_then(|trim| trim.length(faults, TRIM, Length::ZERO..=most_trim));
        let extent = log.map_or_else(Extent::default, extent);
        let flaws = self.grown.flaws.iter();
        let flaws = flaws
            .filter_map(|parts| flaw_text::read(parts, &extent, Length::ZERO, faults))
            .collect::<Vec<_>>();
        let seen = self.grown.seen.read(&extent, Length::ZERO, faults);
        if faults.len() > before {
            return None;
        }
        let Measured { log, told } = measured?;
        let bark = match (surface, log.bark_small().max(log.bark_butt())) {
            (_, Length::ZERO) => BarkSource::None,
            (Surface::BarkShare { .. }, _) => BarkSource::Species,
            _ => BarkSource::Given,
        };
        let all = flaws.iter().flat_map(|named| named.flaws.iter().copied()).collect();
        let log = if flaws.is_empty() { log } else { log.with_flaws(all) };
        let (log, seen) = seen.in_log(log, faults);
        if faults.len() > before {
            return None;
        }
        let repairs = told.iter().map(ToString::to_string).collect();
        let pith = [pith_small, pith_butt].map(|pith| pith.filter(|pith| pith.off > Length::ZERO));
        let scanned = Some(Scanned { file: named.text.clone()?, repairs, pith });
        let told = Told { flaws, seen, scanned, ..Told::default() };
        let trim = trim.unwrap_or_default();
        Some(MeasuredLog { log, species, bark, trim, two_diameters: false, told })
    }

    /// What a tape says beside the file that says it all.
    fn taped_beside(&self, faults: &mut Vec<Fault>) {
        let kind = || ShapeFileFault::BesideShape { why: "which says it already" };
        let grown = self.grown;
        let ends = [self.small_end, self.butt];
        let ends = ends.iter().filter_map(|end| end.iter().find(|typed| typed.is_given()));
        let rest = [self.length, &grown.long_axis, &grown.long_axis_butt];
        for typed in ends.chain(rest.into_iter().filter(|typed| typed.is_given())) {
            faults.push(typed.fault(kind(), BESIDE_HELP));
        }
        for parts in [&grown.sweep, &grown.crook, &grown.flare].into_iter().flatten() {
            faults.push(parts.fault(kind(), BESIDE_HELP));
        }
    }

    fn shape(&self, request: &ShapeRequest, faults: &mut Vec<Fault>) -> Option<Measured> {
        let named = &self.grown.shape;
        // One of another kind than a text has its fault already.
        let name = named.text.as_deref()?;
        let path = self.folder.join(name);
        let bytes = self.folder.files.bytes(&path, name, &SHAPE_FILE);
        let bytes = match bytes {
            Ok(bytes) => bytes,
            Err(misread) => {
                faults.push(self.hung(nowhere(name, misread), &path));
                return None;
            }
        };
        match read_shape(name, &bytes, request) {
            Ok(measured) => Some(measured),
            Err(found) => {
                faults.extend(found.into_iter().map(|fault| self.hung(fault, &path)));
                None
            }
        }
    }

    /// A fault of the file, where a person finds it.
    fn hung(&self, fault: Fault, path: &Path) -> Fault {
        let Fault { field, kind, help, place } = fault;
        let named = match place {
            Place::Nowhere => &self.grown.shape,
            Place::File(place) => {
                let file = path.to_string_lossy().into_owned();
                return Fault {
                    field,
                    kind,
                    help,
                    place: Place::File(FilePlace { file, ..place }),
                };
            }
            place => return Fault { field, kind, help, place },
        };
        let at = match *kind {
            FaultKind::Shape(ShapeFault::Size { .. }) if self.grown.unit.is_given() => {
                &self.grown.unit
            }
            FaultKind::Shape(ShapeFault::UpAlong) if self.grown.up.is_given() => &self.grown.up,
            FaultKind::Shape(ShapeFault::Pith { station }) => {
                // It runs straight from end to end, so that between them either may be at fault.
                let (small, butt) = (self.grown.pith_small.as_ref(), self.grown.pith_butt.as_ref());
                match if station > 0.0 { butt.or(small) } else { small.or(butt) } {
                    Some(parts) => return parts.placed(Misread { kind, span: 0..0, help }),
                    None => named,
                }
            }
            _ => named,
        };
        at.placed(Misread { kind, span: 0..0, help })
    }
}

/// What the places of flaws are held against.
fn extent(log: &Log) -> Extent {
    let round = |across: Length| (across, across);
    let (small, butt) = log.looks().map_or((round(log.small_end()), round(log.butt())), |looks| {
        let [small, butt] = [looks.small_end, looks.butt];
        ((small.longer, small.shorter), (butt.longer, butt.shorter))
    });
    Extent { long: Some(log.length()), small: Some(small), butt: Some(butt), twice: (false, false) }
}

fn is_outlines(name: &str) -> bool {
    Path::new(name).extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv"))
}

fn unit(text: &str) -> Result<Unit, Misread> {
    match text.trim().to_lowercase().as_str() {
        "mm" | "millimetre" | "millimetres" | "millimeters" => Ok(Unit::Millimetre),
        "cm" | "centimetre" | "centimetres" | "centimeters" => Ok(Unit::Centimetre),
        "m" | "metre" | "metres" | "meters" => Ok(Unit::Metre),
        "in" | "inch" | "inches" | "\"" => Ok(Unit::Inch),
        "ft" | "foot" | "feet" | "'" => Ok(Unit::Foot),
        _ => {
            let got = Excerpt::new(text);
            let kind = FaultKind::Unknown { what: "unit of length", got, nearest: None };
            Err(Misread::new(kind, 0..0, UNIT_HELP))
        }
    }
}

/// A direction in the coordinates of a file: an axis with its sign, or three numbers.
fn up(text: &str) -> Result<[f64; 3], Misread> {
    let word = text.trim().to_lowercase();
    let (sign, axis) = match word.strip_prefix('-') {
        Some(axis) => (-1.0, axis),
        None => (1.0, word.strip_prefix('+').unwrap_or(&word)),
    };
    let along = match axis {
        "x" => Some([sign, 0.0, 0.0]),
        "y" => Some([0.0, sign, 0.0]),
        "z" => Some([0.0, 0.0, sign]),
        _ => numbers(&word),
    };
    let kind = || ShapeFileFault::NoDirection { got: Excerpt::new(text) };
    along.ok_or_else(|| Misread::new(kind(), 0..0, UP_HELP))
}

/// Three numbers that are a direction together.
fn numbers(text: &str) -> Option<[f64; 3]> {
    let parts = text.split([' ', ',', '\t']).filter(|part| !part.is_empty());
    let read: Result<Vec<f64>, _> = parts.map(str::parse).collect();
    let all: [f64; 3] = read.ok()?.try_into().ok()?;
    // Far beyond what anybody writes a square is no number any more.
    let sound = |c: &f64| c.is_finite() && c.abs() < 1e9;
    let squares: f64 = all.iter().map(|c| c * c).sum();
    (all.iter().all(sound) && squares > 1e-18).then_some(all)
}

#[cfg(test)]
mod tests {
    use super::{unit, up};
    use pithward_measure::Unit;
    use proptest::prelude::*;

    #[test]
    #[allow(clippy::float_cmp, reason = "each is read from its digits, and not reckoned with")]
    fn a_direction_is_an_axis_or_three_numbers() {
        for (text, expected) in [
            ("+y", [0.0, 1.0, 0.0]),
            ("-Z", [0.0, 0.0, -1.0]),
            (" x ", [1.0, 0.0, 0.0]),
            ("0 1 0", [0.0, 1.0, 0.0]),
            ("0, -0.5, 2", [0.0, -0.5, 2.0]),
        ] {
            assert_eq!(up(text).unwrap(), expected, "{text}");
        }
        for text in ["", "up", "w", "--y", "0 0 0", "1 2", "1 2 3 4", "nan 0 1", "1e300 0 0"] {
            assert!(up(text).is_err(), "{text}");
        }
    }

    #[test]
    fn a_unit_is_a_word() {
        assert_eq!(unit(" MM ").unwrap(), Unit::Millimetre);
        assert_eq!(unit("inches").unwrap(), Unit::Inch);
        for text in ["", "yd", "1 mm", "mm2"] {
            assert!(unit(text).is_err(), "{text}");
        }
    }

    proptest! {
        #[test]
        fn prop_no_text_panics(text in any::<String>()) {
            let _ = (unit(&text), up(&text));
        }
    }
}
