//! A whole job, from a file that a person wrote.
//!
//! The file is TOML or JSON, as a mill file is; its fields are those of [`JobForm`]. Lengths are texts with their
//! unit (`"14 1/2 in"`, `"12 ft 4 in"`, `"370 mm"`), because whoever opens the file next spring cannot ask which unit
//! a bare number was in. The logs stand in the file itself, or in a sheet as a spreadsheet saves it, or both: those
//! of the sheet come first.
//!
//! # Worth
//! Amounts are exact decimals with six places at most. Where neither a want nor `[worth]` states any, the unit is
//! board feet, and a board foot is worth 1. Once one want states a worth of its own, every want must, or `[worth]`
//! says what a board foot is worth.
//!
//! # Faults
//! All faults of the job file, of the sheet and of the mill file come at once, each with its place: those of the job
//! file in its order, those of another file where it is named. Of a file that is no TOML or JSON at all only that is
//! told, because what its fields would be cannot be trusted.

mod bucking;
mod form;
mod logs;
mod prices;
mod sawing;
mod sheet;
mod wants;

use std::path::Path;

use pithward_measure::Excerpt;
use pithward_optimizer::Method;

use crate::asked::{AskedBy, AskedFile, AskedFor, Files, Folder};
use crate::doubt::doubt;
use crate::fault::{Fault, FaultKind, Misread};
use crate::file::{Fields, FileKind, Form, Right, TextFile};
use crate::input_file::InputFile;
use crate::lumber::lumber;
use crate::pile_job::{PileJob, woods_of};
use crate::place::{FilePlace, Place};
use crate::sawing_request::unnamed_methods;
use crate::typed::Typed;
use crate::yard::yard;
pub(crate) use form::NumberOrText;
pub use form::{JobForm, job_schema};
use logs::PileLogs;
use sawing::Sawing;
use wants::WrittenWants;

const STARTER: &str = include_str!("../../../data/jobs/starter.toml");

/// What a job file is called, and what helps whoever named none.
const JOB_FILE: FileKind = FileKind {
    what: "job file",
    written: "in TOML or JSON",
    // 20 000 logs of 200 bytes each.
    most: 4 << 20,
    none: "name a file that exists; `pithward new` writes one to begin with",
    empty: "`pithward new` writes a job file to begin with",
    toml: "size = \"2x8x12\"",
    json: "{ \"logs\": [...], \"wants\": [...] }",
};

const FORM: Form = Form {
    of: "a job file",
    fields: &[
        "site",
        "date",
        "notes",
        "logs_file",
        "mill",
        "yard",
        "lumber",
        "sawing",
        "bucking",
        "worth",
        "doubt",
        "prices",
        "logs",
        "stems",
        "wants",
    ],
};

/// The longest line of free text, in characters.
const LONGEST_LINE: usize = 100;
/// The longest notes, in characters.
const LONGEST_NOTES: usize = 2000;

const TABLE: Right = Right {
    what: "a table",
    help: "write its fields below a heading, as in [sawing] and then trim = \"2 in\"",
    bare: false,
};
const TEXT: Right = Right { what: "a text in quotes", help: "write a text in quotes", bare: true };

/// A job file to begin with, commented, with invented logs and an invented list: `data/jobs/starter.toml`. It can be
/// planned as it stands.
pub fn starter_job() -> &'static str {
    STARTER
}

/// Reads a job from a file, and the sheet and the mill file that it names. `field` is what the person knows the file's
/// name by, say `JOB`.
///
/// # Errors
/// Every fault of all these files.
pub fn read_job(path: &Path, field: &str) -> Result<PileJob, Vec<Fault>> {
    let base = path.parent().unwrap_or(Path::new(""));
    read_in(path, field, Folder { base, files: &Files::OnDisk })
}

/// A job that is kept with a plan.
pub(crate) fn read_kept(path: &str, base: &Path, files: &Files) -> Result<PileJob, Vec<Fault>> {
    read_in(Path::new(path), "asked", Folder { base, files })
}

fn read_in(path: &Path, field: &str, folder: Folder<'_>) -> Result<PileJob, Vec<Fault>> {
    let file = path.to_string_lossy();
    match folder.files.bytes(path, &file, &JOB_FILE) {
        Ok(bytes) => parse_in(&bytes, &file, field, folder),
        Err(misread) => Err(vec![misread.of(field, &file)]),
    }
}

/// Reads a job from the bytes of a file. The files that it names are looked for from `base_dir`.
///
/// # Errors
/// Every fault of all files. `field` is what the person knows the file by; only a fault of the file as a whole
/// carries it, all others name their own field.
pub fn parse_job(
    bytes: &[u8],
    file: &str,
    field: &str,
    base_dir: &Path,
) -> Result<PileJob, Vec<Fault>> {
    parse_in(bytes, file, field, Folder { base: base_dir, files: &Files::OnDisk })
}

fn parse_in(
    bytes: &[u8],
    file: &str,
    field: &str,
    folder: Folder<'_>,
) -> Result<PileJob, Vec<Fault>> {
    let text = TextFile::new(bytes, file, &JOB_FILE);
    let text = text.map_err(|misread| vec![misread.of(field, file)])?;
    let table = text.table(field, &JOB_FILE)?;
    let mut faults = Vec::new();
    let fields = Fields::of(&text, &table, &FORM, &mut faults);
    let mut named = NamedFiles::default();
    let job = read_fields(&fields, folder, &mut named, &mut faults);
    match job {
        Some(mut job) if faults.is_empty() => {
            job.inputs = vec![InputFile::of(file, bytes)];
            job.inputs.append(&mut named.marks);
            let own = AskedFile::whole(Path::new(file), bytes);
            let base = folder.base.to_string_lossy().into_owned();
            let by = AskedBy::Job { file: file.to_owned(), base, rest: None };
            let files = std::iter::once(own).chain(named.kept).collect();
            job.asked = Some(AskedFor { by, files }.into());
            Ok(job)
        }
        _ => {
            faults.sort_by_key(|fault| match &fault.place {
                Place::File(place) if text.has(place) => (place.span.start, 0),
                Place::File(place) => (named.anchor(place), place.span.start),
                Place::Nowhere | Place::Value { .. } => (0, 0),
            });
            Err(faults)
        }
    }
}

/// The files that a job names, each with the byte of the job file at which it does; shape files by their names alone. Then
/// the marks of all of them.
#[derive(Debug, Default)]
struct NamedFiles {
    texts: Vec<(TextFile, usize)>,
    shapes: Vec<(String, usize)>,
    marks: Vec<InputFile>,
    /// All of them, for a plan.
    kept: Vec<AskedFile>,
}

impl NamedFiles {
    /// The text of a file that a job names; its faults as a whole are faults of the name.
    fn open(
        &mut self,
        name: &Typed,
        folder: Folder<'_>,
        kind: &FileKind,
        faults: &mut Vec<Fault>,
    ) -> Option<TextFile> {
        let (text, mark, kept) = name.read(faults, |file| {
            let path = folder.join(file);
            let bytes = folder.files.bytes(&path, file, kind)?;
            let text = TextFile::new(&bytes, file, kind)?;
            let kept = AskedFile::whole(&path, &bytes);
            Ok((text.named(&path.to_string_lossy()), InputFile::of(file, &bytes), kept))
        })?;
        self.marks.push(mark);
        self.kept.push(kept);
        self.texts.push((text.clone(), name.start()));
        Some(text)
    }

    /// A shape file that a log names.
    fn shape(&mut self, folder: Folder<'_>, name: &str, at: usize) {
        let path = folder.join(name);
        let name = path.to_string_lossy().into_owned();
        // What cannot be read is a fault of the log.
        if let Some(kept) = folder.files.again(&path) {
            let mark = InputFile::kept(&kept);
            if !self.marks.contains(&mark) {
                self.marks.push(mark);
            }
            if !self.kept.contains(&kept) {
                self.kept.push(kept);
            }
        }
        self.shapes.push((name, at));
    }

    fn anchor(&self, place: &FilePlace) -> usize {
        let text = self.texts.iter().find(|(file, _)| file.has(place)).map(|(_, at)| *at);
        let shape = || self.shapes.iter().find(|(file, _)| *file == place.file).map(|(_, at)| *at);
        text.or_else(shape).unwrap_or(0)
    }
}

fn read_fields(
    fields: &Fields<'_>,
    folder: Folder<'_>,
    named: &mut NamedFiles,
    faults: &mut Vec<Fault>,
) -> Option<PileJob> {
    let line = |name, most, faults: &mut Vec<Fault>| {
        let read = |text: &str| free_text(text, most);
        fields.typed(name, TEXT, faults).read(faults, read).unwrap_or_default()
    };
    let site = line("site", LONGEST_LINE, faults);
    let date = line("date", LONGEST_LINE, faults);
    let notes = line("notes", LONGEST_NOTES, faults);
    let sawing = Sawing::read(fields, folder, named, faults);
    let pace = sawing.mill.as_ref().map(|mill| &mill.pace);
    let yard = yard(fields, pace, |text| free_text(text, LONGEST_LINE), faults);
    let lumber = lumber(fields, faults);
    let PileLogs { logs, stems, .. } = PileLogs::read(fields, folder, named, &sawing, faults);
    let bucking = bucking::read(fields, &sawing, faults);
    let wants = WrittenWants::read(fields, faults);
    let worth = wants.worth_terms(fields, faults);
    let woods = woods_of(logs.iter().chain(stems.iter().map(|stem| &stem.stem)));
    let prices = prices::read(fields, faults);
    let wants = wants.judge(&sawing, &woods, worth.as_ref(), prices.as_ref(), faults);
    let Sawing { mill, policy, trim, lengths, settings, ring_convention, .. } = sawing;
    let trees = logs.iter().chain(stems.iter().map(|stem| &stem.stem));
    let ids: Vec<&str> = trees.map(|log| log.id.as_str()).collect();
    let doubt = doubt(fields, &ids, faults);
    let (mill, policy, mut settings) = (mill?, policy?, settings?);
    let doubt = doubt.of_mill(mill.learned.as_ref());
    let methods_named = !settings.methods.is_empty();
    if !methods_named {
        let rings = wants.iter().map(|want| &want.want.grade.rings);
        settings.methods = unnamed_methods(&Method::OF_A_PILE, rings);
    }
    let mut job = PileJob {
        file: fields.file.name().to_owned(),
        inputs: Vec::new(),
        site,
        date,
        notes,
        mill: mill.mill,
        mill_source: mill.source,
        pace: yard.pace(mill.pace),
        charges: mill.charges,
        stores: mill.stores,
        recovery: mill.recovery,
        yard,
        lumber,
        scale: mill.scale,
        policy,
        trim: trim?,
        lengths,
        settings,
        methods_named,
        worth: worth?,
        prices: prices?,
        ring_convention: ring_convention?,
        logs,
        stems,
        bucking: bucking?,
        doubt,
        cuts: None,
        wants: wants.iter().map(|want| want.want.clone()).collect(),
        asked: None,
    };
    job.open_lengths();
    if let Err(found) = job.put_list_first() {
        for (n, misread) in found {
            let Some(want) = wants.get(n) else { continue };
            let of_extra = matches!(*misread.kind, FaultKind::ExtraAbove { .. });
            faults.push(if of_extra { &want.extra } else { &want.worth }.placed(misread));
        }
    }
    Some(job)
}

/// Free text that can be printed: no control characters but ends of lines, which notes may have.
fn free_text(text: &str, most: usize) -> Result<String, Misread> {
    let text = text.trim();
    let lines = most > LONGEST_LINE;
    let unprintable = |c: char| c.is_control() && !(lines && matches!(c, '\n' | '\r' | '\t'));
    if text.chars().count() > most || text.contains(unprintable) {
        let kind = FaultKind::FreeText { most, got: Excerpt::new(text) };
        return Err(Misread::new(kind, 0..0, "shorten it, and leave out what cannot be printed"));
    }
    Ok(text.to_owned())
}

#[cfg(test)]
mod tests;
