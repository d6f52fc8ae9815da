//! A mill, from a file that a person wrote.
//!
//! The file is TOML or JSON: by its ending, and where that says neither, JSON if it begins with `{`.
//! Its fields are those of [`MillForm`]. Lengths are texts with their unit (`"0.1 in"`, `"20 ft"`,
//! `"2.4 mm"`); a bare number is refused, because a kerf of 2.4 is a fine one in millimetres and a
//! dangerous one in inches. A job file may have the same fields in its own `[mill]`.
//!
//! All faults of a file come at once, each with its place. Of a file that is no TOML or JSON at all only
//! that is told, because what its fields would be cannot be trusted.

mod form;

use std::borrow::Cow;
use std::path::Path;

use pithward_geometry::{Log, Mill, MillFault};
use pithward_measure::{Excerpt, Length, Scale, Unit};

use crate::asked::Files;
use crate::charges::{Charges, charges};
use crate::fault::{Fault, FaultKind, Misread};
use crate::file::{Fields, FileKind, Form, Right, TextFile};
use crate::learned::{Learned, Recovery, learned, recovery};
use crate::log_job::MillSource;
use crate::pace::{Pace, pace};
use crate::place::Place;
use crate::stores::{Stores, stores};
use crate::typed::{Asked, Typed};
pub use form::{MillForm, mill_schema};

const GENERIC: &str = include_str!("../../../data/mills/generic.toml");

/// What a mill file is called, and what helps whoever named none.
pub(crate) const MILL_FILE: FileKind = FileKind {
    what: "mill file",
    written: "in TOML or JSON",
    // A mill file has some 500 bytes, and its comments a few thousand.
    most: 1 << 20,
    none: "name a file that exists, or leave it out and plan with the stated generic mill",
    empty: "copy one of the mills that ship with the program, and put your own figures in",
    toml: "kerf = \"0.1 in\"",
    json: "{ \"kerf\": \"0.1 in\", ... }",
};

/// The longest name of a mill, in characters: it stands on one line of a card.
const LONGEST_NAME: usize = 60;

/// Every field of a mill file, in the order in which they are written.
pub(crate) const FIELDS: [&str; 17] = [
    "name",
    "kerf",
    "step",
    "largest_diameter",
    "longest",
    "shortest",
    "widest_cut",
    "deepest_above",
    "lowest_blade",
    "crosscut_kerf",
    "toe_board",
    "edging_batch",
    "pace",
    "charges",
    "stores",
    "recovery",
    "learned",
];

/// Fields that may be left out. The toe board is then taken to stand where the small end lies; the others are as in the
/// generic mill, the pace is [`Pace::default`], the stores are [`Stores::default`]; nothing is charged, every planned piece
/// comes out, and nothing was learned.
const OPTIONAL: [&str; 8] = [
    "crosscut_kerf",
    "toe_board",
    "edging_batch",
    "pace",
    "charges",
    "stores",
    "recovery",
    "learned",
];

/// Fields that are tables of their own.
const TABLES: [&str; 5] = ["pace", "charges", "stores", "recovery", "learned"];

/// A mill file.
pub(crate) const FORM: Form = Form { of: "a mill file", fields: &FIELDS };

const NAME: Right =
    Right { what: "a name in quotes", help: "for instance name = \"my mill\"", bare: false };
const LENGTH: Right = Right { what: "a length in quotes", help: WITH_UNIT.help, bare: true };

const WITH_UNIT: Asked = Asked {
    help: "write a number and its unit in quotes, for instance \"1/16 in\", \"20 ft\" or \"2.4 mm\"",
    bare: Unit::Inch,
};
const STEPS: &str = "a scale has marks every 1/8, 1/16, 1/32 or 1/64 in, or every 1, 0.5 or 0.1 mm";

/// A mill, the scale in which its heights are read, and where its figures come from.
#[derive(Clone, Debug)]
pub(crate) struct ChosenMill {
    pub(crate) mill: Mill,
    pub(crate) scale: Scale,
    pub(crate) source: MillSource,
    pub(crate) pace: Pace,
    pub(crate) charges: Charges,
    pub(crate) stores: Stores,
    pub(crate) recovery: Recovery,
    pub(crate) learned: Option<Learned>,
}

/// What a mill file says.
#[derive(Clone, Debug)]
pub struct Outfit {
    /// The mill.
    pub mill: Mill,
    /// How long the steps of sawing take on it, and the day around them.
    pub pace: Pace,
    /// What it charges.
    pub charges: Charges,
    /// What it takes with it and lifts.
    pub stores: Stores,
    /// How many of the planned pieces come out.
    pub recovery: Recovery,
    /// What its figures were learned from, where they were.
    pub learned: Option<Learned>,
}

impl ChosenMill {
    /// A mill whose step is that of a scale, as every mill's is that could be read.
    pub(crate) fn of(outfit: Outfit, source: MillSource) -> Option<Self> {
        let Outfit { mill, pace, charges, stores, recovery, learned } = outfit;
        let scale = Scale::from_step(mill.step)?;
        Some(Self { mill, scale, source, pace, charges, stores, recovery, learned })
    }

    /// The stated generic mill.
    pub(crate) fn generic() -> Option<Self> {
        let outfit = Outfit {
            mill: generic_mill(),
            pace: Pace::default(),
            charges: Charges::default(),
            stores: Stores::default(),
            recovery: Recovery::default(),
            learned: None,
        };
        Self::of(outfit, MillSource::Generic)
    }
}

/// The stated generic mill: `data/mills/generic.toml`, which says that it is invented.
#[allow(clippy::missing_panics_doc, reason = "a test reads the embedded file")]
pub fn generic_mill() -> Mill {
    parse_mill(GENERIC.as_bytes(), "generic.toml", "mill")
        .expect("the file is embedded, and `the_mills_that_ship_can_be_read` reads it")
}

/// Reads a mill file. `field` is what the person knows the file's name by, say `--mill`.
///
/// # Errors
/// Every fault of the file.
pub fn read_mill(path: &Path, field: &str) -> Result<Outfit, Vec<Fault>> {
    mill_in(&Files::OnDisk, path, field)
}

/// The same from where its files are.
pub(crate) fn mill_in(files: &Files, path: &Path, field: &str) -> Result<Outfit, Vec<Fault>> {
    let file = path.to_string_lossy();
    match files.bytes(path, &file, &MILL_FILE) {
        Ok(bytes) => parse_outfit(&bytes, &file, field),
        Err(misread) => Err(vec![misread.of(field, &file)]),
    }
}

/// Reads a mill from the bytes of a file.
///
/// # Errors
/// Every fault of the file. `field` is what the person knows the file by; only a fault of the file as a
/// whole carries it, all others name their own field.
pub fn parse_mill(bytes: &[u8], file: &str, field: &str) -> Result<Mill, Vec<Fault>> {
    parse_outfit(bytes, file, field).map(|outfit| outfit.mill)
}

/// The same with all that the file says besides.
///
/// # Errors
/// As [`parse_mill`].
pub fn parse_outfit(bytes: &[u8], file: &str, field: &str) -> Result<Outfit, Vec<Fault>> {
    let text = TextFile::new(bytes, file, &MILL_FILE);
    let text = text.map_err(|misread| vec![misread.of(field, file)])?;
    let table = text.table(field, &MILL_FILE)?;
    let mut faults = Vec::new();
    let fields = Fields::of(&text, &table, &FORM, &mut faults);
    match mill_of(&fields, "the mill file", &mut faults) {
        Some(outfit) if faults.is_empty() => Ok(outfit),
        _ => {
            faults.sort_by_key(|fault| match &fault.place {
                Place::File(place) => place.span.start,
                _ => 0,
            });
            Err(faults)
        }
    }
}

/// What the fields of a table say; `from` is what they should stand in. `None` where a figure has a fault.
pub(crate) fn mill_of(
    fields: &Fields<'_>,
    from: &'static str,
    faults: &mut Vec<Fault>,
) -> Option<Outfit> {
    let before = faults.len();
    let mut pace = pace(fields, faults);
    let charges = charges(fields, faults);
    let stores = stores(fields, faults);
    let recovery = recovery(fields, faults);
    let learned = learned(fields, faults);
    let of_jobs = learned.iter().flat_map(|learned| &learned.pace);
    pace.learned = of_jobs.fold(pace.learned, |known, field| known.with(field));
    let mut reading = Reading { mill: unread_mill(), read: Vec::new(), faults };
    for field in FIELDS {
        if !TABLES.contains(&field) && fields.node(field).is_some() {
            reading.take(field, fields);
        }
    }
    let missing: Vec<_> = FIELDS
        .into_iter()
        .filter(|field| !OPTIONAL.contains(field) && fields.node(field).is_none())
        .collect();
    reading.judge();
    let mill = reading.mill;
    if !missing.is_empty() {
        let help = format!(
            "write a line for each (was the file cut short?); a mill file has {}, and may have {}",
            FIELDS[..9].join(", "),
            OPTIONAL.join(", ")
        );
        faults.push(Fault {
            field: missing.join(", "),
            kind: Box::new(FaultKind::MissingFields { from }),
            help: help.into(),
            place: fields.file.place(fields.head()),
        });
    }
    (faults.len() == before).then_some(Outfit { mill, pace, charges, stores, recovery, learned })
}

/// A mill as far as it could be read.
struct Reading<'f> {
    mill: Mill,
    /// Fields that were given and could be read.
    read: Vec<Typed>,
    faults: &'f mut Vec<Fault>,
}

impl Reading<'_> {
    /// Reads the value of a known field into the mill.
    fn take(&mut self, field: &'static str, fields: &Fields<'_>) {
        if field == "edging_batch" {
            let help = "write how many flitches stand side by side for edging at most, from 1 to 20, without quotes";
            if let Some(batch) = fields.whole(field, 1..=20, help, self.faults) {
                self.mill.edging_batch = batch;
            }
            return;
        }
        let right = if field == "name" { NAME } else { LENGTH };
        let typed = fields.typed(field, right, self.faults);
        let read = match field {
            "name" => typed.read(self.faults, name_of).map(|name| self.mill.name = name),
            _ => typed.read(self.faults, |text| figure(field, &typed, text)).map(|length| {
                if let Some(figure) = length_of(&mut self.mill, field) {
                    *figure = length;
                }
            }),
        };
        if read.is_some() {
            self.read.push(typed);
        }
    }

    fn read_as(&self, field: &str) -> Option<&Typed> {
        self.read.iter().find(|typed| typed.name == field)
    }

    /// Faults of figures that could be read, each by itself and with the others.
    fn judge(&mut self) {
        for fault in self.mill.faults() {
            // A figure that was not read has its fault already.
            let Some(typed) = self.read_as(fault.field()) else { continue };
            let got = Excerpt::new(typed.text.as_deref().unwrap_or_default());
            let found = match fault {
                MillFault::Range { field, least, greatest, .. } => {
                    // The longest log may not have been read.
                    let greatest = if greatest < least { Log::GREATEST_LENGTH } else { greatest };
                    let help: Cow<'static, str> = match field {
                        "step" => STEPS.into(),
                        _ => format!("{field} is {}", meaning(field)).into(),
                    };
                    typed.fault(FaultKind::Range { least, greatest, got }, help)
                }
                MillFault::Contradiction { smaller, larger, small, large } => {
                    if self.read_as(larger).is_none() {
                        continue;
                    }
                    let help = format!(
                        "{smaller} is {}; {larger} is {}",
                        meaning(smaller),
                        meaning(larger)
                    );
                    typed.fault(FaultKind::Contradiction { larger, small, large }, help)
                }
                // Its limits were those of the reading.
                MillFault::Batch(_) => continue,
            };
            self.faults.push(found);
        }
    }
}

fn name_of(text: &str) -> Result<String, Misread> {
    let name = text.trim();
    let printable = !name.contains(|c: char| c.is_control());
    if name.is_empty() || name.chars().count() > LONGEST_NAME || !printable {
        let kind = FaultKind::Name { most: LONGEST_NAME, got: Excerpt::new(text) };
        return Err(Misread::new(kind, 0..0, "write what you call the mill"));
    }
    Ok(name.to_owned())
}

fn figure(field: &str, typed: &Typed, text: &str) -> Result<Length, Misread> {
    let length = typed.length_of(text, WITH_UNIT, None)?;
    if field == "step" && length > Length::ZERO && Scale::from_step(length).is_none() {
        let kind = FaultKind::NoScale { got: Excerpt::new(text) };
        return Err(Misread::new(kind, 0..0, STEPS));
    }
    Ok(length)
}

/// The figure that a field of the file is read into.
fn length_of<'m>(mill: &'m mut Mill, field: &str) -> Option<&'m mut Length> {
    match field {
        "kerf" => Some(&mut mill.kerf),
        "step" => Some(&mut mill.step),
        "largest_diameter" => Some(&mut mill.largest_diameter),
        "longest" => Some(&mut mill.longest),
        "shortest" => Some(&mut mill.shortest),
        "widest_cut" => Some(&mut mill.widest_cut),
        "deepest_above" => Some(&mut mill.deepest_above),
        "lowest_blade" => Some(&mut mill.lowest_blade),
        "crosscut_kerf" => Some(&mut mill.crosscut_kerf),
        "toe_board" => Some(mill.toe_board.get_or_insert_default()),
        _ => None,
    }
}

/// What a field is, for someone whose figure was refused.
fn meaning(field: &str) -> &'static str {
    match field {
        "kerf" => "the wood that one pass turns to sawdust",
        "step" => "the distance from one mark of the height scale to the next",
        "largest_diameter" => "the thickest log that goes on, over the bark",
        "longest" => "the longest log that goes on",
        "shortest" => "the shortest log that can be held",
        "widest_cut" => "the widest stock that passes between the blade guides",
        "deepest_above" => "the deepest stock that may stand above the blade",
        "lowest_blade" => "the lowest height of the blade over the bed",
        "toe_board" => {
            "how far along the bed the toe board that raises the small end stands from what carries the butt"
        }
        "crosscut_kerf" => "what a crosscut at the end of a board turns to sawdust",
        _ => "how many flitches stand side by side for edging at most",
    }
}

/// A mill of which nothing has been read yet, but for what may be left out.
fn unread_mill() -> Mill {
    Mill {
        toe_board: None,
        name: String::new(),
        kerf: Length::ZERO,
        step: Length::ZERO,
        largest_diameter: Length::ZERO,
        longest: Length::ZERO,
        shortest: Length::ZERO,
        widest_cut: Length::ZERO,
        deepest_above: Length::ZERO,
        lowest_blade: Length::ZERO,
        crosscut_kerf: Length::sixty_fourths(8),
        edging_batch: 6,
    }
}

#[cfg(test)]
mod tests;
