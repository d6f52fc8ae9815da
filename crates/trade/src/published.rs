//! Reading the tables of `data/published`.
//!
//! A table is CSV: lines that start with `#` say where it comes from, the next line names the
//! columns. Every table is embedded in the program and read once; a test in the file that embeds it
//! proves that it parses.

use crate::{Confidence, Figure};
use csv::{ReaderBuilder, StringRecord};
use pithward_measure::Length;

/// What is wrong with a table; only ever seen by the tests of this crate.
#[derive(Debug, thiserror::Error)]
pub(crate) enum TableFault {
    #[error("not a table: {0}")]
    Csv(#[from] csv::Error),
    #[error("no column {column}")]
    Column { column: &'static str },
    #[error("line {line}, column {column}: {cell:?} is not {wanted}")]
    Cell { line: u64, column: &'static str, cell: String, wanted: &'static str },
}

/// One line of a table, its cells found by the names of their columns.
pub(crate) struct Row<'a> {
    columns: &'a StringRecord,
    cells: StringRecord,
}

impl Row<'_> {
    /// The cell as it is written; empty where the table leaves it open.
    pub(crate) fn text(&self, column: &'static str) -> Result<&str, TableFault> {
        let place = self.columns.iter().position(|name| name == column);
        place.and_then(|place| self.cells.get(place)).ok_or(TableFault::Column { column })
    }

    /// A cell that `parse` makes something of; `wanted` says what, for the fault.
    pub(crate) fn cell<T>(
        &self,
        column: &'static str,
        wanted: &'static str,
        parse: impl Fn(&str) -> Option<T>,
    ) -> Result<T, TableFault> {
        let cell = self.text(column)?;
        parse(cell).ok_or_else(|| TableFault::Cell {
            line: self.cells.position().map_or(0, csv::Position::line),
            column,
            cell: cell.to_owned(),
            wanted,
        })
    }

    /// The same, but `None` for an open cell.
    pub(crate) fn open_cell<T>(
        &self,
        column: &'static str,
        wanted: &'static str,
        parse: impl Fn(&str) -> Option<T>,
    ) -> Result<Option<T>, TableFault> {
        if self.text(column)?.is_empty() {
            return Ok(None);
        }
        self.cell(column, wanted, parse).map(Some)
    }

    /// A decimal number.
    pub(crate) fn number(&self, column: &'static str) -> Result<f64, TableFault> {
        self.cell(column, "a number", number)
    }

    /// A whole number.
    pub(crate) fn whole(&self, column: &'static str) -> Result<i64, TableFault> {
        self.cell(column, "a whole number", |cell| cell.parse().ok())
    }

    /// A mark of confidence.
    pub(crate) fn confidence(&self, column: &'static str) -> Result<Confidence, TableFault> {
        self.cell(column, "a mark of confidence", Confidence::parse)
    }

    /// A number with its mark of confidence; `None` where the table leaves the number open.
    pub(crate) fn figure(
        &self,
        column: &'static str,
        confidence: &'static str,
    ) -> Result<Option<Figure>, TableFault> {
        let Some(value) = self.open_cell(column, "a number", number)? else {
            return Ok(None);
        };
        Ok(Some(Figure { value, confidence: self.confidence(confidence)? }))
    }
}

/// A finite decimal number.
pub(crate) fn number(cell: &str) -> Option<f64> {
    cell.parse().ok().filter(|number: &f64| number.is_finite())
}

/// Inches as the standards print them, `11 7/8`; no finer than a 64th.
pub(crate) fn inches(cell: &str) -> Option<Length> {
    let mut sum = Length::ZERO;
    for part in cell.split(' ') {
        sum += match part.split_once('/') {
            None => Length::inches(part.parse().ok()?),
            Some((above, below)) => {
                let (above, below): (i64, i64) = (above.parse().ok()?, below.parse().ok()?);
                if below <= 0 || 64 % below != 0 {
                    return None;
                }
                Length::sixty_fourths(above * (64 / below))
            }
        };
    }
    Some(sum)
}

/// Every line of a table, made something of by `parse`.
pub(crate) fn read<T>(
    text: &str,
    mut parse: impl FnMut(&Row<'_>) -> Result<T, TableFault>,
) -> Result<Vec<T>, TableFault> {
    let mut reader = ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let columns = reader.headers()?.clone();
    reader.into_records().map(|cells| parse(&Row { columns: &columns, cells: cells? })).collect()
}

#[cfg(test)]
mod tests {
    use super::{TableFault, inches, read};
    use pithward_measure::Length;

    #[test]
    fn inches_are_read_as_the_standards_print_them() {
        assert_eq!(inches("12"), Some(Length::inches(12)));
        assert_eq!(inches("5/8"), Some(Length::sixty_fourths(40)));
        assert_eq!(inches("11 7/8"), Some(Length::sixty_fourths(11 * 64 + 56)));
        for not in ["", "1/3", "1/0", "1 x", "7-1/4"] {
            assert_eq!(inches(not), None, "{not:?}");
        }
    }

    #[test]
    fn the_readme_has_a_line_for_every_table() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../data/published");
        let readme = std::fs::read_to_string(format!("{folder}/README.md")).unwrap();
        for file in std::fs::read_dir(folder).unwrap() {
            let name = file.unwrap().file_name().into_string().unwrap();
            let is_there = readme.contains(&format!("| `{name}` |"));
            assert!(is_there || name == "README.md", "{name} is not in the README");
        }
    }

    #[test]
    fn a_fault_names_its_line_and_column() {
        let fault = read("# source\na,b\n1,2\n3,x\n", |row| row.number("b")).unwrap_err();
        assert_eq!(fault.to_string(), "line 4, column b: \"x\" is not a number");
        let fault = read("a\n1\n", |row| row.number("b")).unwrap_err();
        assert!(matches!(fault, TableFault::Column { column: "b" }));
    }
}
