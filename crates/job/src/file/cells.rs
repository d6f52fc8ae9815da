//! The cells of a sheet, each with the bytes of the file that it was read from.

use std::ops::Range;

use csv_core::{ReadFieldResult, ReaderBuilder};

use crate::fault::{Fault, SheetFault};
use crate::file::TextFile;
use crate::typed::Typed;

/// One cell: what it says, and the bytes of the file that it is written as, its quotation marks included.
#[derive(Debug)]
pub(crate) struct Cell {
    pub(crate) text: String,
    pub(crate) at: Range<usize>,
}

/// What the cells of the heading are parted by most often; a comma where by none.
pub(crate) fn separator(text: &str) -> u8 {
    let line = text.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
    let mut quoted = false;
    let mut counts = [(b',', 0), (b';', 0), (b'\t', 0)];
    for byte in line.bytes() {
        quoted ^= byte == b'"';
        for (separator, count) in &mut counts {
            *count += usize::from(byte == *separator && !quoted);
        }
    }
    // Of equals the first.
    counts.iter().rev().max_by_key(|(_, count)| *count).map_or(b',', |(separator, _)| *separator)
}

/// Every row that has something in it.
pub(crate) fn rows(file: &TextFile, separator: u8, faults: &mut Vec<Fault>) -> Vec<Vec<Cell>> {
    let text = file.text();
    let mut reader = ReaderBuilder::new().delimiter(separator).build();
    let mut unquoted = vec![0; text.len() + 1];
    let (mut rows, mut row) = (Vec::new(), Vec::new());
    let (mut at, mut begun, mut length) = (0, 0, 0);
    loop {
        let input = &text.as_bytes()[at..];
        let (result, read, written) = reader.read_field(input, &mut unquoted[length..]);
        at += read;
        length += written;
        match result {
            ReadFieldResult::Field { record_end } => {
                let read = String::from_utf8_lossy(&unquoted[..length]);
                row.push(cell(file, begun..at, separator, &read, faults));
                (begun, length) = (at, 0);
                if record_end {
                    rows.push(std::mem::take(&mut row));
                }
            }
            // At the end of the text the reader is called once more, with nothing.
            ReadFieldResult::InputEmpty => {}
            // The text with its quotation marks taken out is never longer than the text.
            ReadFieldResult::End | ReadFieldResult::OutputFull => break,
        }
    }
    rows.retain(|row| row.iter().any(|cell| !cell.text.is_empty()));
    rows
}

/// A cell from the bytes that the reader took for it, the separator or the end of the line behind it included.
fn cell(
    file: &TextFile,
    taken: Range<usize>,
    separator: u8,
    read: &str,
    faults: &mut Vec<Fault>,
) -> Cell {
    let written = file.slice(taken.clone());
    let written = written.trim_start_matches(['\r', '\n']);
    let from = taken.end - written.len();
    let parted = written.strip_suffix(char::from(separator));
    let ended = || written.strip_suffix('\n').or_else(|| written.strip_suffix('\r'));
    let written = parted.or_else(ended).unwrap_or(written);
    let start = from + (written.len() - written.trim_start().len());
    let at = start..start + written.trim().len();
    // A quotation mark in a cell is doubled, so that their number is even.
    let quotes = written.bytes().filter(|byte| *byte == b'"').count();
    if written.starts_with('"') && quotes % 2 == 1 {
        let at = at.start..at.start + 1;
        let nowhere = Typed::absent("cell", file, at);
        let help = "close it before the next separator, or take it out";
        faults.push(nowhere.fault(SheetFault::OpenQuote, help));
    }
    Cell { text: read.trim().to_owned(), at }
}

/// The same text, with every comma between two digits as a point where a comma is one.
pub(crate) fn point_for_comma(text: &str, comma: bool) -> String {
    if !comma {
        return text.to_owned();
    }
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let mut points = String::with_capacity(text.len());
    let mut chars = text.chars().peekable();
    let mut last = None;
    while let Some(c) = chars.next() {
        let point = c == ',' && digit(last) && digit(chars.peek().copied());
        points.push(if point { '.' } else { c });
        last = Some(c);
    }
    points
}
