//! What goes on a sheet of paper: how high words and pictures come out, and how many sheets they take.
//!
//! # Problem
//! A page is printed by a browser, on A4 or on Letter, in whatever letters it has; yet the page says how many sheets that
//! takes. So it is laid out in sheets of its own: each begins a new page, and holds no more than surely fits.
//!
//! # Method
//! A line is broken as a browser does, word by word, with letters a little wider than those that the style sheet names; heights
//! are those of the style sheet. Blocks go into columns in their order, the first column that has room. A
//! browser that balances the columns never needs more than that.
//!
//! # Units
//! Millimetres; letters in points.

use std::ops::Range;

/// The width of what is printed: A4 less its margins; Letter has 6 mm more.
pub(crate) const WIDE: f64 = 194.0;
/// The height of what is printed: Letter less its margins of 8 mm, and a little for what browsers round; A4 has 18 mm more.
pub(crate) const HIGH: f64 = 260.0;
/// Between two columns.
pub(crate) const GAP: f64 = 6.0;
/// The width of one of two columns.
pub(crate) const COLUMN: f64 = (WIDE - GAP) / 2.0;
/// The line at the head of each sheet, with its distance.
pub(crate) const HEAD: f64 = 7.5;
/// A point.
const POINT: f64 = 25.4 / 72.0;
/// From line to line, in heights of letters.
const LINE: f64 = 1.305;
/// How much wider letters are when they are bold.
const BOLD: f64 = 1.1;

/// Letters of a size, on a line so wide.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Lines {
    pub(crate) wide: f64,
    pub(crate) points: f64,
    pub(crate) bold: bool,
}

impl Lines {
    pub(crate) fn new(wide: f64, points: f64) -> Self {
        Self { wide, points, bold: false }
    }

    pub(crate) fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    /// The height of some words.
    pub(crate) fn height(&self, words: &str) -> f64 {
        self.count(words) * self.points * POINT * LINE
    }

    /// On how many lines they come.
    pub(crate) fn count(&self, words: &str) -> f64 {
        let em = self.points * POINT * if self.bold { BOLD } else { 1.0 };
        let room = (self.wide / em).max(1.0);
        let (mut lines, mut at) = (1.0, 0.0);
        for word in words.split_whitespace() {
            let wide: f64 = word.chars().map(ems).sum();
            let gap = if at > 0.0 { ems(' ') } else { 0.0 };
            if at + gap + wide <= room {
                at += gap + wide;
                continue;
            }
            if at > 0.0 {
                lines += 1.0;
            }
            // A word that no line holds is broken anywhere.
            let more = (wide / room).ceil().max(1.0) - 1.0;
            lines += more;
            at = wide - more * room;
        }
        lines
    }
}

/// The width of a letter in heights of letters: a fiftieth more than in the families that the style sheet names, which are all
/// as wide as one another.
fn ems(letter: char) -> f64 {
    match letter {
        'i' | 'j' | 'l' | '\'' | '|' => 0.23,
        'f' | 't' | '.' | ',' | ':' | ';' | '!' | ' ' | 'I' | '/' | '[' | ']' => 0.284,
        'r' | '(' | ')' | '-' | '"' => 0.35,
        'c' | 'k' | 's' | 'v' | 'x' | 'y' | 'z' | 'J' => 0.51,
        'm' | 'M' => 0.85,
        'w' => 0.74,
        'W' | '@' | '%' => 1.03,
        'A'..='Z' | '&' => 0.74,
        '\u{20}'..='\u{7e}' => 0.57,
        '\u{a0}'..='\u{2fff}' => 0.8,
        _ => 1.4,
    }
}

/// Blocks with these heights in their order, in columns so high on each sheet: which of them go on which sheet. The first
/// sheet has this much less room in each column. A block that no column holds begins a column, and goes on in the next.
pub(crate) fn sheets(blocks: &[f64], columns: u32, high: f64, less: f64) -> Vec<Range<usize>> {
    let mut all = Vec::new();
    let (mut first, mut column, mut room) = (0, 1, (high - less).max(1.0));
    let mut of_column = room;
    for (n, block) in blocks.iter().enumerate() {
        let mut left = *block;
        while left > room {
            let is_fresh = room >= of_column;
            if is_fresh {
                left -= room;
            }
            if column < columns {
                column += 1;
            } else {
                if n > first {
                    all.push(first..n);
                    first = n;
                }
                (column, of_column) = (1, high);
            }
            room = of_column;
        }
        room -= left;
    }
    if first < blocks.len() {
        all.push(first..blocks.len());
    }
    all
}

/// How high a picture is for its width, by the box that it shows.
pub(crate) fn aspect(picture: &str) -> f64 {
    let view = picture.split_once("viewBox=\"").and_then(|(_, rest)| rest.split_once('"'));
    let sides: Vec<f64> = view
        .map(|(sides, _)| sides.split_whitespace().filter_map(|side| side.parse().ok()).collect())
        .unwrap_or_default();
    match sides.as_slice() {
        [_, _, wide, high] if *wide > 0.0 => high / wide,
        _ => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blocks_fill_columns_and_then_sheets() {
        assert_eq!(sheets(&[], 2, 10.0, 0.0), Vec::<Range<usize>>::new());
        assert_eq!(
            sheets(&[4.0, 4.0, 4.0, 4.0], 2, 10.0, 0.0),
            Vec::from_iter(std::iter::once(0..4))
        );
        assert_eq!(sheets(&[6.0, 6.0, 6.0], 2, 10.0, 0.0), [0..2, 2..3]);
        // The head of the first sheet leaves less room there.
        assert_eq!(sheets(&[4.0, 4.0, 4.0, 4.0], 2, 10.0, 3.0), [0..2, 2..4]);
        assert_eq!(sheets(&[1.0, 1.0], 1, 1.0, 0.0), [0..1, 1..2]);
    }

    #[test]
    fn a_block_higher_than_a_column_goes_on_in_the_next() {
        assert_eq!(sheets(&[15.0, 5.0, 1.0], 2, 10.0, 0.0), [0..2, 2..3]);
        assert_eq!(sheets(&[1.0, 25.0, 1.0], 2, 10.0, 0.0), [0..1, 1..3]);
    }

    #[test]
    fn words_come_on_as_many_lines_as_they_need() {
        let lines = Lines::new(20.0, 10.0);
        assert_eq!(format!("{}", lines.count("")), "1");
        assert_eq!(format!("{}", lines.count("one")), "1");
        assert_eq!(format!("{}", lines.count("seven words that take some more lines")), "4");
        // No line holds it: it is broken.
        assert!(lines.count(&"x".repeat(100)) > 8.0);
        assert!(lines.bold().count(&"x".repeat(100)) >= lines.count(&"x".repeat(100)));
        assert!(Lines::new(0.0, 10.0).count("xxx") < 4.0);
    }

    #[test]
    fn the_box_of_a_picture_is_its_aspect() {
        assert_eq!(format!("{}", aspect("<svg class=\"pw\" viewBox=\"-1 2 40 10\">")), "0.25");
        assert_eq!(format!("{}", aspect("<svg>")), "0");
    }
}
