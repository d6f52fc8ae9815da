//! A sheet of logs, as a spreadsheet saves it.
//!
//! The first line that is not empty is the heading; every line below it is a log, empty ones left out. Cells are
//! parted by commas, semicolons or tabs, whichever the heading has most of, and may stand in quotation marks.
//! Headings are matched without capitals, by the names that people give them:
//!
//! | column | also called |
//! |---|---|
//! | `id` | `log`, `no`, `number`, `log id`, `#` |
//! | `species` | `wood`, `kind` |
//! | `small end` | `small`, `top`, `top end`; `small end 2` for a second diameter |
//! | `butt` | `butt end`, `large end`, `big end`, `large`, `big`; `butt 2` |
//! | `length` | `long` |
//! | `shape` | `scan`, `shape file`: the file of a log that was measured all round, in place of the three above |
//! | `unit`, `up` | `scan unit`, `scan up`: the unit of that file, and which of its directions was up |
//! | `measured` | `how measured`, `measured by`, `diameters by`: `taped`, `by eye` or `told` (by the customer) in the cells |
//! | `bark` | `bark thickness` |
//! | `over bark` | `taped over bark`; `yes` or `no` in the cells |
//! | `long axis`, `long axis butt` | where the longer of two diameters points: `2 o'clock` |
//! | `sweep`, `crook` | `bow`, `bend`; as texts with their units: `2 in toward 6 at 6 ft` |
//! | `pith small`, `pith butt` | `pith`; `1 in toward 4` |
//! | `flare` | `4 in over 18 in` |
//! | `flaws` | `flaw`, `defects`; with a semicolon between them: `rot radius 3 in from butt length 4 ft` |
//! | `seen` | `seen on the log`; with a semicolon between them: `knot 2:30 3 ft 2 in 2 in` |
//! | `count` | `how many` |
//! | `notes` | all that begins with `note`, `remarks`, `comments` |
//!
//! A unit in brackets behind a heading, `small end (in)`, is that of all cells below it that have none. A comma in a
//! number is a decimal point where no comma parts the cells: so spreadsheets of half the world save them.

mod heading;

use std::ops::Range;

use pithward_measure::Excerpt;

use super::logs::WrittenLog;
use crate::as_grown::{CROOK, FLARE, GrownParts, PITH, SWEEP};
use crate::fault::{Fault, FaultKind, Misread, SheetFault};
use crate::file::cells::{Cell, point_for_comma, rows, separator};
use crate::file::{FileKind, TextFile, inside};
use crate::flaw_text::FLAW;
use crate::parts::Parts;
use crate::seen::SeenParts;
use crate::typed::Typed;
use heading::{Column, Heading, headings, is_bare, needed};

/// What a sheet of logs is called, and what helps whoever named none.
pub(super) const SHEET_FILE: FileKind = FileKind {
    what: "sheet of logs",
    written: "as a spreadsheet saves it with commas",
    most: 4 << 20,
    none: "name a file that exists; its place is reckoned from that of the job file",
    empty: "write a heading, such as id,species,small end (in),butt (in),length (ft), and a line for each log",
    toml: "",
    json: "",
};

const COUNT_HELP: &str = "write how many logs are alike, as a whole number";
const OVER_HELP: &str = "write yes or no";

/// Every log of a sheet, in order; what is wrong with the sheet itself goes to the faults.
pub(super) fn read(file: &TextFile, faults: &mut Vec<Fault>) -> Vec<WrittenLog> {
    let separator = separator(file.text());
    let comma = separator != b',';
    let rows = rows(file, separator, faults);
    let Some((heading, rows)) = rows.split_first() else {
        // Nothing but separators.
        let nowhere = Typed::absent("logs_file", file, 0..file.text().len());
        faults.push(nowhere.fault(SheetFault::NoRows, SHEET_FILE.empty));
        return Vec::new();
    };
    let headings = headings(file, heading, rows, comma, faults);
    let logs: Vec<WrittenLog> = rows
        .iter()
        .map(|cells| Row { file, headings: &headings, cells, comma }.log(faults))
        .collect();
    if logs.is_empty() {
        let nowhere = Typed::absent("logs_file", file, extent(heading));
        faults
            .push(nowhere.fault(SheetFault::NoRows, "write a line for each log below the heading"));
    }
    logs
}

/// One row below the heading.
struct Row<'a> {
    file: &'a TextFile,
    headings: &'a [Option<Heading>],
    cells: &'a [Cell],
    /// A comma in a number is a decimal point.
    comma: bool,
}

impl Row<'_> {
    fn log(&self, faults: &mut Vec<Fault>) -> WrittenLog {
        let columns = self.headings.len();
        for cell in self.cells.iter().skip(columns).filter(|cell| !cell.text.is_empty()) {
            let got = Excerpt::new(&cell.text);
            let stray = Typed::absent("cell", self.file, cell.at.clone());
            let help =
                "give the column a heading, or put a text that has a separator in quotation marks";
            faults.push(stray.fault(SheetFault::ExtraCell { got, columns }, help));
        }
        let over_bark = self.text(Column::OverBark);
        let over = over_bark.read(faults, yes_or_no).unwrap_or(false);
        let count = self.text(Column::Count);
        let count = count.read(faults, whole);
        WrittenLog {
            id: self.text(Column::Id),
            species: self.text(Column::Species),
            small_end: [Column::SmallEnd, Column::SmallEnd2].map(|end| self.length(end)).into(),
            butt: [Column::Butt, Column::Butt2].map(|end| self.length(end)).into(),
            length: self.length(Column::Length),
            measured: self.text(Column::Measured),
            bark: self.length(Column::Bark),
            over_bark,
            over,
            grown: self.grown(faults),
            notes: self.notes(),
            count,
        }
    }

    fn grown(&self, faults: &mut Vec<Fault>) -> GrownParts {
        let mut parts = |column, form| Parts::of_text(&self.plain(column), form, faults);
        let (sweep, crook) = (parts(Column::Sweep, &SWEEP), parts(Column::Crook, &CROOK));
        let pith_small = parts(Column::PithSmall, &PITH);
        let pith_butt = parts(Column::PithButt, &PITH);
        let flare = parts(Column::Flare, &FLARE);
        GrownParts {
            long_axis: self.text(Column::LongAxis),
            long_axis_butt: self.text(Column::LongAxisButt),
            sweep,
            crook,
            pith_small,
            pith_butt,
            flare,
            flaws: self.flaws(faults),
            seen: SeenParts::of_cell(&self.plain(Column::Seen), faults),
            shape: self.text(Column::Shape),
            unit: self.text(Column::Unit),
            up: self.text(Column::Up),
        }
    }

    /// Flaws with a semicolon between them.
    fn flaws(&self, faults: &mut Vec<Fault>) -> Vec<Parts> {
        let cell = self.plain(Column::Flaws);
        let text = cell.text.as_deref().unwrap_or_default();
        let (mut flaws, mut from) = (Vec::new(), 0);
        for one in text.split(';') {
            let start = from + one.len() - one.trim_start().len();
            from += one.len() + 1;
            if !one.trim().is_empty() {
                let typed = cell.part(start..start + one.trim().len());
                flaws.extend(Parts::of_text(&typed, &FLAW, faults));
            }
        }
        flaws
    }

    /// A text with a point where a comma is one.
    fn plain(&self, column: Column) -> Typed {
        let Some((heading, cell)) = self.cell(column) else { return self.absent(column) };
        self.written(heading.name, cell, point_for_comma(&cell.text, self.comma))
    }

    /// The cell of a column that has something in it.
    fn cell(&self, column: Column) -> Option<(&Heading, &Cell)> {
        let is = |heading: &Heading| heading.column == column;
        let mut cells = self.headings.iter().zip(self.cells);
        let (heading, cell) = cells.find(|(heading, _)| heading.as_ref().is_some_and(is))?;
        Some((heading.as_ref()?, cell)).filter(|(_, cell)| !cell.text.is_empty())
    }

    /// What no cell says.
    fn absent(&self, column: Column) -> Typed {
        let name = column.name();
        let known = self.headings.iter().flatten().any(|heading| heading.column == column);
        let at = extent(self.cells);
        if needed(self.headings).any(|needed| needed == column) && !known {
            // The heading has its fault already.
            return Typed::judged(name, self.file, at);
        }
        Typed::absent(name, self.file, at)
    }

    fn text(&self, column: Column) -> Typed {
        let Some((heading, cell)) = self.cell(column) else { return self.absent(column) };
        self.written(heading.name, cell, cell.text.clone())
    }

    /// A length: with a point where a comma is one, and the unit of the heading behind a bare number.
    fn length(&self, column: Column) -> Typed {
        let Some((heading, cell)) = self.cell(column) else { return self.absent(column) };
        let mut text = point_for_comma(&cell.text, self.comma);
        if let Some(unit) = &heading.unit
            && is_bare(&text)
        {
            text = format!("{text} {unit}");
        }
        self.written(heading.name, cell, text)
    }

    /// All notes, one behind the other.
    fn notes(&self) -> Typed {
        let is = |heading: &&Option<Heading>| {
            heading.as_ref().is_some_and(|heading| heading.column == Column::Notes)
        };
        let cells = self.headings.iter().zip(self.cells).filter(|(heading, _)| is(heading));
        let said: Vec<&Cell> =
            cells.map(|(_, cell)| cell).filter(|cell| !cell.text.is_empty()).collect();
        let Some(first) = said.first() else { return self.absent(Column::Notes) };
        let text: Vec<&str> = said.iter().map(|cell| &*cell.text).collect();
        self.written("notes", first, text.join("; "))
    }

    fn written(&self, name: &'static str, cell: &Cell, text: String) -> Typed {
        // A point for a comma leaves every byte in its place, and a unit stands behind all of them.
        let inside = inside(self.file.text(), cell.at.clone(), &cell.text);
        Typed::written(name, text, self.file, cell.at.clone(), inside)
    }
}

/// Bytes of the file that some cells take up together.
fn extent(cells: &[Cell]) -> Range<usize> {
    cells.first().map_or(0, |cell| cell.at.start)..cells.last().map_or(0, |cell| cell.at.end)
}

fn yes_or_no(text: &str) -> Result<bool, Misread> {
    match text.to_lowercase().as_str() {
        "yes" | "y" | "true" | "x" | "1" => Ok(true),
        "no" | "n" | "false" | "0" | "-" => Ok(false),
        _ => {
            let got = Excerpt::new(text);
            let kind = FaultKind::WrongKind { right: "yes or no", got };
            Err(Misread::new(kind, 0..0, OVER_HELP))
        }
    }
}

fn whole(text: &str) -> Result<u32, Misread> {
    let (least, greatest) = (1, super::logs::MOST_LOGS);
    let read = text.parse().ok().filter(|count| (least..=greatest).contains(count));
    read.ok_or_else(|| {
        let kind = FaultKind::WholeRange { least, greatest, got: Excerpt::new(text) };
        Misread::new(kind, 0..0, COUNT_HELP)
    })
}
