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

use crate::as_grown::Extent;
use crate::fault::{Fault, FaultKind, Misread};
use crate::flaw_text;
use crate::log_job::{BarkSource, Scanned, Told};
use crate::log_request::{BARK, MOST_TRIM, MeasuredLog, TRIM, Tape, find_species};
use crate::place::{FilePlace, Place};
use crate::shape_file::read_shape_file;
use crate::typed::Typed;

const BESIDE_HELP: &str = "leave it out, or leave out shape and tape the log";
const BARK_HELP: &str =
    "say that the scan is over the bark, or leave the bark out if the log was scanned peeled";
const OVER_HELP: &str = "give the bark's thickness or the species; or leave this out if the log was scanned peeled, or if its outlines tell their bark";
const UNIT_HELP: &str = "write the unit of the file: mm, cm, m, in or ft";
const SHEET_UNIT_HELP: &str = "leave it out: outlines have their units in their heading";
const NO_SHAPE_HELP: &str = "leave it out, or name the file that it is the unit of as shape";

/// A unit that was named beside no file.
pub(crate) fn unit_alone(unit: &Typed, faults: &mut Vec<Fault>) {
    if unit.is_given() {
        faults.push(unit.fault(FaultKind::UnitOfNothing, NO_SHAPE_HELP));
    }
}

impl Tape<'_> {
    /// The log in a shape file, once everything could be read; every fault goes to the others.
    pub(crate) fn scanned(&self, faults: &mut Vec<Fault>) -> Option<MeasuredLog> {
        let before = faults.len();
        self.taped_beside(faults);
        let named = &self.grown.shape;
        let unit = self.grown.unit.read(faults, unit);
        let outlines = named.text.as_deref().is_some_and(is_outlines);
        if outlines && self.grown.unit.is_given() {
            let kind = FaultKind::BesideShape { why: "whose outlines have units of their own" };
            faults.push(self.grown.unit.fault(kind, SHEET_UNIT_HELP));
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
            let kind = FaultKind::BesideShape { why: "and nobody says that the scan is over it" };
            faults.push(self.bark.fault(kind, BARK_HELP));
        }
        let of_pith = faults.len();
        let [pith_small, pith_butt] = self.grown.pith(faults).map(|pith| {
            let (off, clock) = pith?;
            Some(PithAt { off, clock })
        });
        let pith_read = faults.len() == of_pith;
        let request = ShapeRequest { unit, up: None, surface, pith_small, pith_butt };
        // With a unit or a pith that nobody could read, what would be found in the file is no news.
        let readable = pith_read && (unit.is_some() || !self.grown.unit.is_given());
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
        let repairs = told.iter().map(ToString::to_string).collect();
        let scanned = Some(Scanned { file: named.text.clone()?, repairs });
        let told = Told { taped: None, flaws, of_stem: false, scanned };
        let trim = trim.unwrap_or_default();
        Some(MeasuredLog { log, species, bark, trim, two_diameters: false, told })
    }

    /// What a tape says beside the file that says it all.
    fn taped_beside(&self, faults: &mut Vec<Fault>) {
        let kind = || FaultKind::BesideShape { why: "which says it already" };
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
        let path = self.base_dir.join(name);
        match read_shape_file(&path, name, request) {
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
