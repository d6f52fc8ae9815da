//! Outlines at stations, as a spreadsheet saves them.
//!
//! A row is a point: its station, its direction and its distance from the middle. Rows of one station stand together,
//! in any order; stations rise from the small end, which is 0.
//!
//! | column | also called | what it holds |
//! |---|---|---|
//! | `station` | `z`, `position` | distance from the small end |
//! | `angle` | `clock`, `direction`, `degrees` | degrees clockwise from 12 o'clock, looking at the small end |
//! | `radius` | `r`, `distance` | from the middle to the surface |
//! | `x`, `y` | | where the middle is, right and up of a straight line along the log; may be left out |
//! | `bark` | `bark thickness` | where the surface is the bark's, how thick it is there; may be left out |
//!
//! Units stand in brackets behind the headings, as in a sheet of logs: `station (in)`.

use std::ops::Range;

use pithward_geometry::measured::{
    Outline, OutlineFault, OutlineFaultKind, Polar, from_outlines, outline_faults,
};
use pithward_geometry::{Measured, ShapeRequest};
use pithward_measure::{Excerpt, Length, Unit};
use pithward_trade::nearest_word;

use super::{SHAPE_FILE, nowhere};
use crate::fault::{Fault, FaultKind, Misread, ShapeFileFault, SheetFault};
use crate::file::TextFile;
use crate::file::cells::{Cell, point_for_comma, rows, separator};

/// The columns by the names that are printed, each with the others that it goes by.
const COLUMNS: [(&str, Column, &[&str]); 6] = [
    ("station", Column::Station, &["z", "position", "along"]),
    ("angle", Column::Angle, &["clock", "direction", "degrees"]),
    ("radius", Column::Radius, &["r", "distance"]),
    ("x", Column::X, &["middle x", "centre x", "center x"]),
    ("y", Column::Y, &["middle y", "centre y", "center y"]),
    ("bark", Column::Bark, &["bark thickness"]),
];

const COLUMN_HELP: &str = "outlines have the columns station, angle and radius, and may have x, y and bark; write the unit behind each, as in station (in)";
const LENGTH_HELP: &str = "write a number in the unit of the heading, or a length with its unit";
const ANGLE_HELP: &str = "write degrees clockwise from 12 o'clock, as in 0, 22.5 or 270";
const MIDDLE_HELP: &str = "all rows of a station have the same x and y";

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Column {
    Station,
    Angle,
    Radius,
    X,
    Y,
    Bark,
}

impl Column {
    fn name(self) -> &'static str {
        COLUMNS.iter().find(|(_, known, _)| *known == self).map_or("", |(name, ..)| name)
    }

    fn is_needed(self) -> bool {
        matches!(self, Self::Station | Self::Angle | Self::Radius)
    }
}

/// What a column of this sheet holds.
#[derive(Clone, Debug)]
struct Heading {
    column: Column,
    /// The unit of bare numbers below it.
    unit: Option<String>,
    at: Range<usize>,
}

/// A sheet as it is read.
struct Sheet<'a> {
    file: &'a TextFile,
    headings: Vec<Option<Heading>>,
    comma: bool,
}

/// One row that could be read.
struct Row<'a> {
    cells: &'a [Cell],
    station: f64,
    middle: [f64; 2],
    point: Polar,
}

/// The log of a sheet of outlines.
pub(super) fn read(
    name: &str,
    bytes: &[u8],
    request: &ShapeRequest,
) -> Result<Measured, Vec<Fault>> {
    let file =
        TextFile::new(bytes, name, &SHAPE_FILE).map_err(|fault| vec![nowhere(name, fault)])?;
    let mut faults = Vec::new();
    let separator = separator(file.text());
    let all = rows(&file, separator, &mut faults);
    let Some((heading, below)) = all.split_first() else { return Err(faults) };
    let sheet = Sheet::of(&file, heading, below, separator != b',', &mut faults);
    if below.is_empty() && faults.is_empty() {
        let stations = OutlineFaultKind::Stations { got: 0 };
        let help = stations.help();
        faults.push(sheet.fault(
            Column::Station,
            extent(heading),
            Misread::new(stations, 0..0, help),
        ));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let read: Vec<Row> = below.iter().filter_map(|cells| sheet.row(cells, &mut faults)).collect();
    if !faults.is_empty() {
        return Err(faults);
    }
    let outlines: Vec<&[Row]> =
        read.chunk_by(|a, b| a.station.total_cmp(&b.station).is_eq()).collect();
    for rows in &outlines {
        sheet.middles(rows, &mut faults);
    }
    let measured: Vec<Outline> = outlines
        .iter()
        .map(|rows| Outline {
            station: rows[0].station,
            centre: rows[0].middle,
            points: rows.iter().map(|row| row.point).collect(),
        })
        .collect();
    faults.extend(outline_faults(&measured).into_iter().map(|fault| sheet.place(fault, &outlines)));
    if !faults.is_empty() {
        return Err(faults);
    }
    from_outlines(&measured, request).map_err(|fault| {
        let help = fault.help();
        vec![nowhere(name, Misread::new(fault, 0..0, help))]
    })
}

impl<'a> Sheet<'a> {
    /// What the columns hold; what is wrong with the heading goes to the faults.
    fn of(
        file: &'a TextFile,
        heading: &[Cell],
        below: &[Vec<Cell>],
        comma: bool,
        faults: &mut Vec<Fault>,
    ) -> Self {
        let mut sheet = Self { file, headings: Vec::new(), comma };
        let mut unknown = false;
        for cell in heading {
            let known = sheet.heading(cell, faults);
            unknown |= known.is_none() && !cell.text.is_empty();
            let is =
                |other: &&Heading| Some(other.column) == known.as_ref().map(|known| known.column);
            if let Some(twice) = sheet.headings.iter().flatten().find(is) {
                let kind = FaultKind::Repeated { what: Excerpt::new(&cell.text) };
                let help = "keep one column of each kind";
                faults.push(sheet.fault(
                    twice.column,
                    cell.at.clone(),
                    Misread::new(kind, 0..0, help),
                ));
            }
            sheet.headings.push(known);
        }
        // An unknown heading may be the very column that is missing.
        for (_, column, _) in COLUMNS.iter().filter(|(_, column, _)| column.is_needed() && !unknown)
        {
            if !sheet.headings.iter().flatten().any(|heading| heading.column == *column) {
                let misread = Misread::new(SheetFault::NoColumn, 0..0, COLUMN_HELP);
                faults.push(sheet.fault(*column, extent(heading), misread));
            }
        }
        for n in 0..sheet.headings.len() {
            sheet.unit_below(n, below, faults);
        }
        sheet
    }

    fn heading(&self, cell: &Cell, faults: &mut Vec<Fault>) -> Option<Heading> {
        let (name, unit) = match cell.text.split_once(['(', '[']) {
            Some((name, unit)) => (name, Some(unit.trim_end_matches([')', ']']).trim().to_owned())),
            None => (&*cell.text, None),
        };
        let name = name.to_lowercase().replace(['_', '-', '.', ':'], " ");
        let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
        let is = |(known, _, others): &&(&str, Column, &[&str])| {
            *known == name || others.contains(&&*name)
        };
        let Some((_, column, _)) = COLUMNS.iter().find(is) else {
            // What has a note above it, or nothing, is left alone.
            if !name.is_empty() && !name.starts_with("note") {
                let nearest = nearest_word(&name, &COLUMNS.map(|(known, ..)| known));
                let misread =
                    Misread::new(SheetFault::UnknownColumn { nearest }, 0..0, COLUMN_HELP);
                let fault = self.fault(Column::Station, cell.at.clone(), misread);
                faults.push(Fault { field: Excerpt::new(&cell.text).to_string(), ..fault });
            }
            return None;
        };
        let unit = unit.filter(|_| *column != Column::Angle);
        let bad = unit.as_ref().filter(|unit| !is_unit(unit));
        if let Some(got) = bad {
            let kind = FaultKind::Unknown {
                what: "unit of length",
                got: Excerpt::new(got),
                nearest: None,
            };
            let misread = Misread::new(kind, 0..0, "write in, ft, mm, cm or m in the brackets");
            faults.push(self.fault(*column, cell.at.clone(), misread));
        }
        let unit = if bad.is_some() { Some("in".to_owned()) } else { unit };
        Some(Heading { column: *column, unit, at: cell.at.clone() })
    }

    /// A column of lengths none of which has a unit, nor the heading: one fault, not one for each cell.
    fn unit_below(&mut self, n: usize, below: &[Vec<Cell>], faults: &mut Vec<Fault>) {
        let Some(heading) = self.headings[n].clone() else { return };
        if heading.unit.is_some() || heading.column == Column::Angle {
            return;
        }
        let cells = below.iter().filter_map(|row| row.get(n)).filter(|cell| !cell.text.is_empty());
        let bare = cells.clone().next().filter(|_| {
            cells.clone().all(|cell| is_bare(&point_for_comma(&cell.text, self.comma)))
        });
        if let Some(first) = bare {
            let kind = SheetFault::NoUnitBelow {
                got: Excerpt::new(&first.text),
                line: self.file.line(first.at.start),
            };
            let help =
                format!("write the unit behind the heading, as in {} (in)", heading.column.name());
            faults.push(self.fault(
                heading.column,
                heading.at.clone(),
                Misread::new(kind, 0..0, help),
            ));
        }
    }

    fn fault(&self, column: Column, at: Range<usize>, misread: Misread) -> Fault {
        let (place, Misread { kind, help, .. }) = (self.file.place(at), misread);
        Fault { field: column.name().to_owned(), kind, help, place }
    }

    /// The cell of a column, if there is something in it.
    fn cell<'c>(&self, cells: &'c [Cell], column: Column) -> Option<(&Heading, &'c Cell)> {
        let mut cells = self.headings.iter().zip(cells);
        let (heading, cell) =
            cells.find(|(heading, _)| heading.as_ref().is_some_and(|h| h.column == column))?;
        Some((heading.as_ref()?, cell)).filter(|(_, cell)| !cell.text.is_empty())
    }

    fn has(&self, column: Column) -> bool {
        self.headings.iter().flatten().any(|heading| heading.column == column)
    }

    /// A row, once all of its cells could be read.
    fn row<'c>(&self, cells: &'c [Cell], faults: &mut Vec<Fault>) -> Option<Row<'c>> {
        let station = self.length(cells, Column::Station, faults);
        let clock = self.angle(cells, faults);
        let radius = self.length(cells, Column::Radius, faults);
        let mut other = |column| {
            if self.has(column) { self.length(cells, column, faults).map(Some) } else { Some(None) }
        };
        let (x, y, bark) = (other(Column::X), other(Column::Y), other(Column::Bark));
        Some(Row {
            cells,
            station: station?,
            middle: [x?.unwrap_or_default(), y?.unwrap_or_default()],
            point: Polar { clock: clock?, radius: radius?, bark: bark? },
        })
    }

    /// A length in inches.
    fn length(&self, cells: &[Cell], column: Column, faults: &mut Vec<Fault>) -> Option<f64> {
        let Some((heading, cell)) = self.cell(cells, column) else {
            let misread = Misread::new(FaultKind::Missing, 0..0, LENGTH_HELP);
            faults.push(self.fault(column, extent(cells), misread));
            return None;
        };
        let mut text = point_for_comma(&cell.text, self.comma);
        match &heading.unit {
            Some(unit) if is_bare(&text) => text = format!("{text} {unit}"),
            None if is_bare(&text) => {
                let kind = FaultKind::NoUnit { got: Excerpt::new(&cell.text) };
                faults.push(self.fault(
                    column,
                    cell.at.clone(),
                    Misread::new(kind, 0..0, LENGTH_HELP),
                ));
                return None;
            }
            _ => {}
        }
        match Length::parse(&text, Unit::Inch) {
            Ok(length) => Some(length.inches_f64()),
            Err(fault) => {
                faults.push(self.fault(
                    column,
                    cell.at.clone(),
                    Misread::new(fault, 0..0, LENGTH_HELP),
                ));
                None
            }
        }
    }

    /// Degrees.
    fn angle(&self, cells: &[Cell], faults: &mut Vec<Fault>) -> Option<f64> {
        let cell = self.cell(cells, Column::Angle);
        let text =
            cell.map(|(_, cell)| point_for_comma(&cell.text, self.comma)).unwrap_or_default();
        let number =
            text.trim_end_matches("degrees").trim_end_matches("deg").trim_end_matches('°').trim();
        let plain = number.parse().ok().filter(|angle: &f64| angle.is_finite());
        if plain.is_none() {
            let (at, kind) = match cell {
                Some((_, cell)) => {
                    let got = Excerpt::new(&cell.text);
                    (cell.at.clone(), FaultKind::WrongKind { right: "degrees", got })
                }
                None => (extent(cells), FaultKind::Missing),
            };
            faults.push(self.fault(Column::Angle, at, Misread::new(kind, 0..0, ANGLE_HELP)));
        }
        plain
    }

    /// Rows of one station that name different middles.
    fn middles(&self, rows: &[Row], faults: &mut Vec<Fault>) {
        let Some((first, rest)) = rows.split_first() else { return };
        for (n, column) in [Column::X, Column::Y].into_iter().enumerate() {
            for row in rest.iter().filter(|row| row.middle[n].total_cmp(&first.middle[n]).is_ne()) {
                let [before, got] = [first, row].map(|row| self.cell(row.cells, column));
                if let (Some((_, before)), Some((_, got))) = (before, got) {
                    let (at, before) = (got.at.clone(), Excerpt::new(&before.text));
                    let kind = ShapeFileFault::OtherMiddle { before, got: Excerpt::new(&got.text) };
                    faults.push(self.fault(column, at, Misread::new(kind, 0..0, MIDDLE_HELP)));
                }
            }
        }
    }

    /// A fault of an outline at the cell that it is about.
    fn place(&self, fault: OutlineFault, outlines: &[&[Row]]) -> Fault {
        let column = match fault.kind {
            OutlineFaultKind::Radius(_)
            | OutlineFaultKind::Jump { .. }
            | OutlineFaultKind::Size { .. } => Column::Radius,
            OutlineFaultKind::Bark { .. } => Column::Bark,
            OutlineFaultKind::Clock(_)
            | OutlineFaultKind::Points { .. }
            | OutlineFaultKind::Gap { .. }
            | OutlineFaultKind::Twice { .. } => Column::Angle,
            OutlineFaultKind::NoNumber(_)
            | OutlineFaultKind::Order { .. }
            | OutlineFaultKind::Stations { .. }
            | OutlineFaultKind::NoEnd(_) => Column::Station,
        };
        let row = outlines.get(fault.outline).and_then(|rows| rows.get(fault.point.unwrap_or(0)));
        let heading = self.headings.iter().flatten().find(|heading| heading.column == column);
        let of_all =
            matches!(fault.kind, OutlineFaultKind::Stations { .. } | OutlineFaultKind::Size { .. });
        let cell =
            row.and_then(|row| self.cell(row.cells, column)).map(|(_, cell)| cell.at.clone());
        let at = cell.filter(|_| !of_all).or(heading.map(|heading| heading.at.clone()));
        let help = fault.kind.help();
        self.fault(column, at.unwrap_or(0..0), Misread::new(fault.kind, 0..0, help))
    }
}

/// Bytes of the file that some cells take up together.
fn extent(cells: &[Cell]) -> Range<usize> {
    cells.first().map_or(0, |cell| cell.at.start)..cells.last().map_or(0, |cell| cell.at.end)
}

/// Whether a text is a number that is a length once it has a unit.
fn is_bare(text: &str) -> bool {
    Length::parse(&format!("{text} in"), Unit::Inch).is_ok()
}

/// Whether a text is a unit of length alone.
fn is_unit(text: &str) -> bool {
    let [inch, metre] =
        [Unit::Inch, Unit::Metre].map(|bare| Length::parse(&format!("1 {text}"), bare));
    text.starts_with(char::is_alphabetic) && inch.is_ok() && inch == metre
}
