//! The heading of a sheet: what each column holds, and in which unit.

use pithward_measure::{Excerpt, Length, Unit};
use pithward_trade::nearest_word;

use crate::fault::{Fault, FaultKind, SheetFault};
use crate::file::TextFile;
use crate::file::cells::{Cell, point_for_comma};
use crate::typed::Typed;

/// The columns by the names that are printed, each with the others that it goes by.
const COLUMNS: [(&str, Column, &[&str]); 24] = [
    ("id", Column::Id, &["log", "no", "nr", "number", "log id", "log no", "log number", "#"]),
    ("species", Column::Species, &["wood", "kind", "kind of wood"]),
    ("small end", Column::SmallEnd, &["small", "top", "top end", "small end 1", "top 1"]),
    ("small end 2", Column::SmallEnd2, &["small 2", "top 2", "top end 2"]),
    (
        "butt",
        Column::Butt,
        &["butt end", "large end", "big end", "large", "big", "butt 1", "large end 1", "big end 1"],
    ),
    ("butt 2", Column::Butt2, &["butt end 2", "large end 2", "big end 2", "large 2", "big 2"]),
    ("length", Column::Length, &["long", "log length"]),
    ("shape", Column::Shape, &["shape file", "scan", "scan file"]),
    ("unit", Column::Unit, &["scan unit", "shape unit"]),
    ("up", Column::Up, &["scan up", "shape up"]),
    (
        "measured",
        Column::Measured,
        &["how measured", "measured by", "diameters by", "taped or told"],
    ),
    ("bark", Column::Bark, &["bark thickness"]),
    ("over bark", Column::OverBark, &["taped over bark", "over the bark"]),
    ("long axis", Column::LongAxis, &["longer diameter", "long axis small"]),
    ("long axis butt", Column::LongAxisButt, &["longer diameter butt"]),
    ("sweep", Column::Sweep, &["bow"]),
    ("crook", Column::Crook, &["bend"]),
    ("pith small", Column::PithSmall, &["pith", "pith small end", "pith top"]),
    ("pith butt", Column::PithButt, &["pith butt end", "pith large end"]),
    ("flare", Column::Flare, &["butt flare"]),
    ("flaws", Column::Flaws, &["flaw", "defects", "defect"]),
    ("seen", Column::Seen, &["seen on the log", "knots"]),
    ("count", Column::Count, &["how many", "alike"]),
    ("notes", Column::Notes, &["remark", "remarks", "comment", "comments"]),
];

/// Columns without which there are no logs, and that first alone where the logs are those of shape files.
const NEEDED: [Column; 4] = [Column::Id, Column::SmallEnd, Column::Butt, Column::Length];

/// Columns without which a sheet of such headings has no logs.
pub(super) fn needed(headings: &[Option<Heading>]) -> impl Iterator<Item = Column> {
    let shapes = headings.iter().flatten().any(|heading| heading.column == Column::Shape);
    NEEDED.into_iter().take(if shapes { 1 } else { NEEDED.len() })
}

const COLUMN_HELP: &str = "a sheet has id, species, small end, butt, length, measured, shape, bark, over bark, long axis, sweep, crook, pith small, pith butt, flare, flaws, seen, count and notes; begin the heading with note to keep a column as a note";

/// What a column may hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Column {
    Id,
    Species,
    SmallEnd,
    SmallEnd2,
    Butt,
    Butt2,
    Length,
    Shape,
    Unit,
    Up,
    Measured,
    Bark,
    OverBark,
    LongAxis,
    LongAxisButt,
    Sweep,
    Crook,
    PithSmall,
    PithButt,
    Flare,
    Flaws,
    Seen,
    Count,
    Notes,
}

impl Column {
    /// The name that is printed.
    pub(super) fn name(self) -> &'static str {
        COLUMNS.iter().find(|(_, known, _)| *known == self).map_or("notes", |(name, ..)| name)
    }

    /// Whether its cells are lengths.
    fn is_length(self) -> bool {
        match self {
            Self::SmallEnd | Self::SmallEnd2 | Self::Butt | Self::Butt2 => true,
            Self::Length | Self::Bark => true,
            Self::Id | Self::Species | Self::OverBark | Self::Count | Self::Notes => false,
            Self::Shape | Self::Unit | Self::Up | Self::Measured => false,
            // Each has more than a length in it, and its own units.
            Self::LongAxis | Self::LongAxisButt | Self::Sweep | Self::Crook => false,
            Self::PithSmall | Self::PithButt | Self::Flare | Self::Flaws | Self::Seen => false,
        }
    }
}

/// What a column of this sheet holds.
#[derive(Clone, Debug)]
pub(super) struct Heading {
    pub(super) column: Column,
    pub(super) name: &'static str,
    /// The unit of bare numbers below it.
    pub(super) unit: Option<String>,
}

/// What every column holds, once it is known what is below it; what is wrong with the heading goes to the faults.
pub(super) fn headings(
    file: &TextFile,
    cells: &[Cell],
    rows: &[Vec<Cell>],
    comma: bool,
    faults: &mut Vec<Fault>,
) -> Vec<Option<Heading>> {
    let mut headings: Vec<Option<Heading>> =
        cells.iter().map(|cell| heading(file, cell, faults)).collect();
    for (n, (known, cell)) in headings.iter_mut().zip(cells).enumerate() {
        let Some(known) = known else { continue };
        let below = rows.iter().filter_map(|row| row.get(n)).filter(|cell| !cell.text.is_empty());
        unit_below(file, cell, known, below, comma, faults);
    }
    repeated(file, cells, &headings, faults);
    // An unknown heading may be the very column that is missing.
    let all_known =
        headings.iter().zip(cells).all(|(known, cell)| known.is_some() || cell.text.is_empty());
    let has = |column| headings.iter().flatten().any(|heading| heading.column == column);
    for column in needed(&headings).filter(|column| all_known && !has(*column)) {
        let nowhere = Typed::absent(column.name(), file, super::extent(cells));
        faults.push(nowhere.fault(SheetFault::NoColumn, COLUMN_HELP));
    }
    headings
}

/// What a heading stands for; `None` for a column that is left alone.
fn heading(file: &TextFile, cell: &Cell, faults: &mut Vec<Fault>) -> Option<Heading> {
    if cell.text.is_empty() {
        return None;
    }
    let (name, unit) = match cell.text.split_once(['(', '[']) {
        Some((name, unit)) => (name, Some(unit.trim_end_matches([')', ']']).trim().to_owned())),
        None => (&*cell.text, None),
    };
    let name: String = name.to_lowercase().replace(['_', '-', '.', ':'], " ");
    let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
    let known =
        COLUMNS.iter().find(|(known, _, others)| *known == name || others.contains(&&*name));
    let written = Typed::absent("heading", file, cell.at.clone());
    let Some((known, column, _)) = known else {
        if name.starts_with("note") {
            return Some(Heading { column: Column::Notes, name: "notes", unit: None });
        }
        let nearest = nearest_word(&name, &COLUMNS.map(|(known, ..)| known));
        let Fault { help, place, .. } = written.fault(SheetFault::NoColumn, COLUMN_HELP);
        let field = Excerpt::new(&cell.text).to_string();
        let kind = Box::new(SheetFault::UnknownColumn { nearest }.into());
        faults.push(Fault { field, kind, help, place });
        return None;
    };
    let unit = unit.filter(|_| column.is_length());
    if let Some(unit) = &unit
        && !is_unit(unit)
    {
        let kind =
            FaultKind::Unknown { what: "unit of length", got: Excerpt::new(unit), nearest: None };
        let written = Typed::absent(known, file, cell.at.clone());
        faults.push(written.fault(kind, "write in, ft, mm, cm or m in the brackets"));
        // Its cells are not to be told of for want of a unit.
        return Some(Heading { column: *column, name: known, unit: Some("in".to_owned()) });
    }
    Some(Heading { column: *column, name: known, unit })
}

/// A column of lengths none of which has a unit, nor the heading: one fault, not one for each cell.
fn unit_below<'c>(
    file: &TextFile,
    heading: &Cell,
    known: &mut Heading,
    cells: impl Iterator<Item = &'c Cell>,
    comma: bool,
    faults: &mut Vec<Fault>,
) {
    if known.unit.is_some() || !known.column.is_length() {
        return;
    }
    let mut cells = cells.peekable();
    let Some(first) = cells.peek().map(|cell| (Excerpt::new(&cell.text), cell.at.start)) else {
        return;
    };
    if cells.all(|cell| is_bare(&point_for_comma(&cell.text, comma))) {
        let (got, line) = (first.0, file.line(first.1));
        let written = Typed::absent(known.name, file, heading.at.clone());
        let unit = if known.column == Column::Length { "ft" } else { "in" };
        let help = format!("write the unit behind the heading, as in {} ({unit})", known.name);
        faults.push(written.fault(SheetFault::NoUnitBelow { got, line }, help));
        known.unit = Some(unit.to_owned());
    }
}

/// Whether a text is a number that is a length once it has a unit.
pub(super) fn is_bare(text: &str) -> bool {
    let inches = Length::parse(text, Unit::Inch);
    inches.is_ok() && inches != Length::parse(text, Unit::Metre)
}

/// Columns that are named twice; notes may be.
fn repeated(
    file: &TextFile,
    cells: &[Cell],
    headings: &[Option<Heading>],
    faults: &mut Vec<Fault>,
) {
    let mut known: Vec<Column> = Vec::new();
    for (cell, heading) in cells.iter().zip(headings) {
        let Some(heading) = heading else { continue };
        if heading.column != Column::Notes && known.contains(&heading.column) {
            let written = Typed::absent(heading.name, file, cell.at.clone());
            let kind = FaultKind::Repeated { what: Excerpt::new(&cell.text) };
            faults.push(written.fault(kind, "keep one column of each kind; a second diameter stands below small end 2 or butt 2"));
        }
        known.push(heading.column);
    }
}

/// Whether a text is a unit of length alone.
fn is_unit(text: &str) -> bool {
    let [inch, metre] =
        [Unit::Inch, Unit::Metre].map(|bare| Length::parse(&format!("1 {text}"), bare));
    text.starts_with(char::is_alphabetic) && inch.is_ok() && inch == metre
}
