//! The small end in plain text, with the numbered passes.
//!
//! # Drawing
//! One character is twice as high as it is wide, so a row stands for two columns of wood. A level cut is
//! a row of underscores, which is the plane at the foot of that row; so two cuts a row apart can be told
//! from each other. The scale is the smallest at which they are. Where a page is not wide enough for that, a
//! few passes that lie too near to others are left out, and told of; of more there is no drawing: one that
//! merges two cuts would mislead.

mod outline;
mod seen;

use super::Sheet;
use crate::grown;
use crate::names;
use crate::page::Page;
use outline::{Outline, hatch};
use pithward_geometry::{Angle, Claim, Flaw, Piece};
use pithward_measure::Length;

/// Columns of the narrowest drawing that is made, and of the widest that leaves room for numbers.
const NARROWEST: i64 = 48;
const WIDEST: i64 = 68;

/// Empty columns on either side of the wood: room for a number on its line.
const MARGIN: i64 = 2;

/// Columns from one number to the next, when both have two digits.
const DIGITS: i64 = 3;
/// The same where numbers stand by turns on two rows.
const BY_TURNS: i64 = 2;

/// Of so many passes one may be left out.
const LEFT_OUT_OF: usize = 6;

/// A plane in the order's frame, seen from the small end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Cut {
    number: u32,
    /// Level as the log first lies; upright else.
    level: bool,
    /// From the frame's axis, which begins on the pith, up or to the right.
    at: Length,
    /// Where it begins and ends across, as far as earlier cuts bound it.
    from: Length,
    to: Length,
}

/// The end view, where it can be drawn so that a sawyer understands it.
pub(super) fn end_view(page: &mut Page, sheet: &Sheet<'_>) {
    let Some(cuts) = cuts(sheet) else { return };
    let Some((drawing, left_out)) = Drawing::of(sheet, &cuts) else {
        page.heading("SMALL END", "");
        page.say(
            "Not drawn: the passes lie nearer to each other than a page of plain text can show.",
        );
        return;
    };
    page.heading("SMALL END", "numbers are the passes; as it lies for face A");
    page.blank();
    for line in drawing.lines() {
        page.line(&line);
    }
    if !sheet.plan.order.resaws.is_empty() {
        page.say(
            "Numbers at the right: passes across face A. Numbers inside: passes across face B. The \
             marks : and - are edging cuts. What is put back is not drawn.",
        );
    } else if cuts.iter().any(|cut| !cut.level) {
        page.say(
            "Numbers at the right: level passes, faces A (top) and B (bottom). Numbers inside: passes \
             after the quarter turn. The marks : and - are edging cuts.",
        );
    } else {
        page.say("Numbers at the right: the passes. The marks : and - are edging cuts.");
    }
    if !left_out.is_empty() {
        let left_out: Vec<String> = left_out.iter().map(u32::to_string).collect();
        let noun = if left_out.len() == 1 { "pass" } else { "passes" };
        page.say(&format!(
            "Not drawn, as too near to another to be told from it: {noun} {}.",
            names::list(&left_out)
        ));
    }
    legend(page, sheet);
    if let Some(words) = seen::legend(sheet) {
        page.say(&words);
    }
}

/// What the other marks are, of a log that is not round, straight and sound.
fn legend(page: &mut Page, sheet: &Sheet<'_>) {
    let (job, log) = (sheet.job, &sheet.job.log);
    if log.is_round() {
        return;
    }
    let mut said: Vec<String> = Vec::new();
    for flaw in log.flaws() {
        let (letter, name) = (hatch(flaw.kind), flaw.kind.name());
        let words = format!("{letter} {name}, {}", grown::stretch(job, log, flaw));
        if !said.contains(&words) {
            said.push(words);
        }
    }
    let flaws: String = said.iter().map(|words| format!("; {words}")).collect();
    page.say(&format!("The mark + is the pith{flaws}."));
}

/// Where the passes lie in the order's frame; `None` when one is neither level nor upright there.
fn cuts(sheet: &Sheet<'_>) -> Option<Vec<Cut>> {
    let plan = sheet.plan;
    let edge = sheet.job.log.widest_over_bark();
    // What is left of the log: from below up, and from left to right.
    let (mut rows, mut columns) = ((-edge, edge), (-edge, edge));
    let mut cuts = Vec::new();
    let mut number = 0;
    for (stage, (axis, _)) in plan.order.stages.iter().zip(&plan.replayed.pith) {
        // The axis begins on the pith at the small end, and lies level.
        let axis = Length::from_inches_f64(*axis);
        for pass in &stage.passes {
            number += 1;
            let away = pass.height - axis;
            let (level, at) = side(quarters(stage.rest.turn, plan.order.frame.turn), away)?;
            let (from, to) = if level { columns } else { rows };
            cuts.push(Cut { number, level, at, from, to });
            let kept = if level { &mut rows } else { &mut columns };
            if at == away { kept.1 = at } else { kept.0 = at }
        }
    }
    Some(cuts)
}

/// How far a direction is turned from the one that is up for face A, thousandths of a degree within a full turn.
fn quarters(turn: Angle, up: Angle) -> i32 {
    (turn.as_millidegrees() - up.as_millidegrees()).rem_euclid(360_000)
}

/// Whether a plane so far above the axis is level in the frame, and where it lies there.
fn side(quarters: i32, away: Length) -> Option<(bool, Length)> {
    match quarters {
        0 => Some((true, away)),
        90_000 => Some((false, away)),
        180_000 => Some((true, -away)),
        270_000 => Some((false, -away)),
        _ => None,
    }
}

/// Characters being drawn, row by row from the top.
struct Drawing {
    outline: Outline,
    /// Height at the top of the first row, from the axis, inches.
    top: f64,
    /// Columns of the wood.
    columns: i64,
    cells: Vec<Vec<char>>,
    /// Numbers at the right of each row.
    numbers: Vec<String>,
}

impl Drawing {
    /// The drawing, and the passes that are not in it; `None` when no page is wide enough to keep most of the cuts apart.
    fn of(sheet: &Sheet<'_>, cuts: &[Cut]) -> Option<(Self, Vec<u32>)> {
        let outline = Outline::of(&sheet.job.log, &sheet.plan.order.frame);
        let at = |half: i64| Self::blank(outline.clone(), half * 2).with_room_above(cuts);
        // Room for a number of two digits on every line; else the widest, numbers by turns on two rows.
        let roomy = (NARROWEST / 2..=WIDEST / 2).map(at).find(|d| d.tells_apart(cuts, DIGITS));
        let mut drawing = roomy.unwrap_or_else(|| at(WIDEST / 2));
        let (drawn, left_out) = drawing.apart(cuts, BY_TURNS);
        if left_out.len() * LEFT_OUT_OF > cuts.len() {
            return None;
        }
        drawing.draw(sheet, cuts, &drawn);
        Some((drawing, left_out))
    }

    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a few dozen rows; an end is at most twice as high as wide"
    )]
    fn blank(outline: Outline, columns: i64) -> Self {
        let scale = columns as f64 / outline.width();
        let rows = (outline.height() * scale / 2.0 - 1e-9).ceil().max(1.0) as usize;
        let width = usize::try_from(columns + 2 * MARGIN).unwrap_or(0);
        Self {
            top: outline.top,
            outline,
            columns,
            cells: vec![vec![' '; width]; rows],
            numbers: vec![String::new(); rows],
        }
    }

    /// The same with an empty row on top, where a pass that opens the wood is so near to the top that it has no row else.
    fn with_room_above(mut self, cuts: &[Cut]) -> Self {
        if cuts.iter().any(|cut| cut.level && self.row(cut.at) == -1) {
            self.top += 2.0 / self.scale();
            self.cells.insert(0, vec![' '; self.cells[0].len()]);
            self.numbers.insert(0, String::new());
        }
        self
    }

    /// Columns of an inch.
    fn scale(&self) -> f64 {
        self.columns as f64 / self.outline.width()
    }

    fn rows(&self) -> i64 {
        i64::try_from(self.cells.len()).unwrap_or(0)
    }

    /// Whether level cuts fall on rows of their own, and upright ones this far apart.
    fn tells_apart(&self, cuts: &[Cut], columns_apart: i64) -> bool {
        self.apart(cuts, columns_apart).1.is_empty()
    }

    /// The cuts of which level ones fall on rows of their own, and upright ones this far apart; and the numbers of those
    /// that are too near to them.
    fn apart(&self, cuts: &[Cut], columns_apart: i64) -> (Vec<Cut>, Vec<u32>) {
        let (mut kept, mut left_out) = (Vec::new(), Vec::new());
        for level in [true, false] {
            let place = |cut: &Cut| if level { self.row(cut.at) } else { self.column(cut.at) };
            let least = if level { 1 } else { columns_apart };
            let mut along: Vec<&Cut> = cuts.iter().filter(|cut| cut.level == level).collect();
            along.sort_by_key(|cut| (place(cut), cut.number));
            let mut last: Option<i64> = None;
            for cut in along {
                if last.is_some_and(|last| place(cut) - last < least) {
                    left_out.push(cut.number);
                } else {
                    last = Some(place(cut));
                    kept.push(*cut);
                }
            }
        }
        left_out.sort_unstable();
        (kept, left_out)
    }

    /// The row at whose foot a level plane lies.
    #[allow(clippy::cast_possible_truncation, reason = "a few dozen rows")]
    fn row(&self, up: Length) -> i64 {
        ((self.top - up.inches_f64()) * self.scale() / 2.0).round() as i64 - 1
    }

    /// The column in which an upright plane lies.
    #[allow(clippy::cast_possible_truncation, reason = "a few dozen columns")]
    fn column(&self, right: Length) -> i64 {
        ((right.inches_f64() - self.outline.left) * self.scale()).floor() as i64
    }

    /// Height at so many rows from the top, from the axis, inches.
    fn height(&self, rows: f64) -> f64 {
        self.top - 2.0 * rows / self.scale()
    }

    fn put(&mut self, row: i64, column: i64, c: char) {
        let row = usize::try_from(row).ok().and_then(|row| self.cells.get_mut(row));
        let column = usize::try_from(column + MARGIN).ok();
        if let Some(cell) = row.zip(column).and_then(|(row, column)| row.get_mut(column)) {
            *cell = c;
        }
    }

    /// Draws everything; of the cuts those that are drawn.
    fn draw(&mut self, sheet: &Sheet<'_>, cuts: &[Cut], drawn: &[Cut]) {
        for flaw in sheet.job.log.flaws() {
            self.flaw(sheet, flaw);
        }
        for cut in drawn.iter().filter(|cut| cut.level) {
            self.level(cut);
        }
        for cut in drawn.iter().filter(|cut| !cut.level) {
            self.upright(cut);
        }
        self.edging(sheet, cuts);
        self.rim();
        let row = self.number_row(drawn);
        self.seen(sheet, row);
        if !sheet.job.log.is_round() {
            self.put(self.crossing(Length::ZERO), self.column(Length::ZERO), '+');
        }
        self.names(sheet, row);
        let mut upright: Vec<&Cut> = drawn.iter().filter(|cut| !cut.level).collect();
        upright.sort_by_key(|cut| cut.at);
        let near = |pair: &[&Cut]| self.column(pair[1].at) - self.column(pair[0].at) < DIGITS;
        let by_turns = upright.windows(2).any(near);
        // A cut that runs out before the small end is not seen there.
        upright.retain(|cut| (0..self.columns).contains(&self.column(cut.at)));
        for (n, cut) in upright.into_iter().enumerate() {
            self.number(cut, if by_turns && n % 2 == 1 { row + 1 } else { row });
        }
    }

    /// First and last column of the wood in a row; the first after the last where there is none.
    fn wood(&self, row: i64) -> (i64, i64) {
        self.across(self.height(row as f64 + 0.5))
    }

    /// The same at a height from the axis, inches.
    #[allow(clippy::cast_possible_truncation, reason = "a few dozen columns")]
    fn across(&self, height: f64) -> (i64, i64) {
        let column = |at: f64| ((at - self.outline.left) * self.scale()).round() as i64;
        match self.outline.across(height) {
            Some((from, to)) => (column(from), column(to) - 1),
            None => (self.columns / 2, self.columns / 2 - 1),
        }
    }

    /// Where a flaw is at its end nearest to the small end.
    fn flaw(&mut self, sheet: &Sheet<'_>, flaw: &Flaw) {
        let regions = outline::regions(&sheet.job.log, &sheet.plan.order.frame, flaw);
        let (letter, dense) = (hatch(flaw.kind), outline::is_thin(flaw));
        for row in 0..self.rows() {
            let (from, to) = self.wood(row);
            for column in from..=to {
                let at = [
                    self.outline.left + (column as f64 + 0.5) / self.scale(),
                    self.height(row as f64 + 0.5),
                ];
                let drawn = dense || (row + column) % 2 == 0;
                if drawn && regions.iter().any(|region| outline::holds(region, at)) {
                    self.put(row, column, letter);
                }
            }
        }
    }

    fn level(&mut self, cut: &Cut) {
        let row = self.row(cut.at);
        // Above the first row of wood lies a pass that opens it all the same, by what it opens.
        let (from, to) = match self.wood(row) {
            (first, last) if first <= last => (first, last),
            _ => self.across(cut.at.inches_f64()),
        };
        let (from, to) = (from.max(self.column(cut.from)), to.min(self.column(cut.to)));
        for column in from..=to {
            self.put(row, column, '_');
        }
        if let Some(number) = usize::try_from(row).ok().and_then(|row| self.numbers.get_mut(row)) {
            *number = cut.number.to_string();
        }
    }

    fn upright(&mut self, cut: &Cut) {
        let column = self.column(cut.at);
        for row in self.row(cut.to) + 1..=self.row(cut.from) {
            let (from, to) = self.wood(row);
            if (from..=to).contains(&column) {
                self.put(row, column, '|');
            }
        }
    }

    /// The cuts of edging that bound a piece where no pass does.
    fn edging(&mut self, sheet: &Sheet<'_>, cuts: &[Cut]) {
        let up = sheet.plan.order.frame.turn;
        // A side that a pass has made is drawn already.
        let kerf = sheet.job.mill.kerf;
        let sawn = |side: Length| cuts.iter().any(|cut| cut.level && (cut.at - side).abs() <= kerf);
        let drawn = |piece: &&Piece| piece.strip.is_some() && piece.part.resaw().is_none();
        for piece in sheet.plan.order.pieces.iter().filter(drawn) {
            let Some((across, rise)) = upright_box(&piece.claim, up) else { continue };
            if quarters(piece.claim.turn, up) % 180_000 == 0 {
                for column in [across.0, across.1].map(|side| self.column(side)) {
                    for row in self.row(rise.1) + 1..=self.row(rise.0) {
                        // A shorter piece may begin past the small end: there is no wood of it here.
                        let (from, to) = self.wood(row);
                        if (from..=to).contains(&column) {
                            self.put(row, column, ':');
                        }
                    }
                }
            } else {
                for side in [rise.0, rise.1].into_iter().filter(|side| !sawn(*side)) {
                    let row = self.crossing(side);
                    let (first, last) = self.wood(row);
                    let (from, to) = (self.column(across.0) + 1, self.column(across.1) - 1);
                    for column in from.max(first)..=to.min(last) {
                        self.put(row, column, '-');
                    }
                }
            }
        }
    }

    /// The row that a level plane crosses.
    #[allow(clippy::cast_possible_truncation, reason = "a few dozen rows")]
    fn crossing(&self, up: Length) -> i64 {
        ((self.top - up.inches_f64()) * self.scale() / 2.0).floor() as i64
    }

    /// The section of every piece, where there is room for it.
    fn names(&mut self, sheet: &Sheet<'_>, numbers: i64) {
        let pieces = sheet.plan.order.pieces.iter().zip(&sheet.pieces);
        for (piece, named) in pieces.filter(|(piece, _)| piece.part.resaw().is_none()) {
            let (Some(named), Some((across, up))) =
                (named, upright_box(&piece.claim, sheet.plan.order.frame.turn))
            else {
                continue;
            };
            let section = named.size.section().to_string();
            let name = section.trim_end_matches(" mm");
            let length = i64::try_from(name.chars().count()).unwrap_or(i64::MAX);
            let (from, to) = (self.column(across.0) + 1, self.column(across.1) - 1);
            let (top, foot) = (self.row(up.1) + 1, self.row(up.0));
            let middle = top + (foot - top) / 2;
            // Beside a number a name would read as a part of it.
            let row = match middle - numbers {
                0 if top < middle => middle - 1,
                1 if middle < foot => middle + 1,
                _ => middle,
            };
            let wood = self.wood(row);
            let (from, to) = (from.max(wood.0 + 1), to.min(wood.1 - 1));
            if to - from + 1 < length || foot < top {
                continue;
            }
            let first = from + (to - from + 1 - length) / 2;
            for (column, c) in (first..).zip(name.chars()) {
                self.put(row, column, c);
            }
        }
    }

    /// The number of an upright cut, on its line.
    fn number(&mut self, cut: &Cut, row: i64) {
        let digits = cut.number.to_string();
        let length = i64::try_from(digits.len()).unwrap_or(0);
        let first = self.column(cut.at) - length / 2;
        for (column, c) in (first..).zip(digits.chars()) {
            self.put(row, column, c);
        }
    }

    /// The row for the numbers of upright cuts: the nearest to the middle of what all of them cross that no edging cut does.
    fn number_row(&self, drawn: &[Cut]) -> i64 {
        let upright = || drawn.iter().filter(|cut| !cut.level);
        let top = upright().map(|cut| self.row(cut.to) + 1).max().unwrap_or(0).max(0);
        let foot = upright().map(|cut| self.row(cut.from)).min().unwrap_or(0).min(self.rows() - 1);
        let half = self.rows() / 2;
        let middle =
            if (top..=foot).contains(&half) || top > foot { half } else { (top + foot) / 2 };
        let free = |row: i64| {
            let cells = usize::try_from(row).ok().and_then(|row| self.cells.get(row));
            cells.is_some_and(|cells| !cells.contains(&'-') && !cells.contains(&'_'))
        };
        (0..middle / 2)
            .flat_map(|away| [middle - away, middle + away])
            .find(|row| free(*row))
            .unwrap_or(middle)
    }

    /// The rim of the wood.
    fn rim(&mut self) {
        let widest = self.widest_row();
        // The row above the wood has none.
        let first = i64::from(self.top > self.outline.top);
        for row in first..self.rows() {
            let (from, to) = self.wood(row);
            // Where the rim runs flat it takes the columns up to the next row toward its middle.
            let inner = if row < widest { row - 1 } else { row + 1 };
            let (inner_from, inner_to) = match self.wood(inner) {
                (first, last) if first <= last => (first, last),
                _ => ((from + to + 1) / 2, (from + to - 1) / 2),
            };
            for column in from..=(inner_from - 1).clamp(from, to.max(from)) {
                self.put(row, column, '.');
            }
            for column in (inner_to + 1).clamp(from.min(to), to)..=to {
                self.put(row, column, '.');
            }
        }
    }

    /// The row below which the rim closes in again; of those that are as wide, the one after the middle.
    fn widest_row(&self) -> i64 {
        let wide = |row: i64| {
            let (from, to) = self.wood(row);
            to - from
        };
        let most = (0..self.rows()).map(wide).max().unwrap_or(0);
        let rows: Vec<i64> = (0..self.rows()).filter(|row| wide(*row) == most).collect();
        rows.get(rows.len() / 2).copied().unwrap_or(0)
    }

    fn lines(&self) -> Vec<String> {
        let line = |(cells, number): (&Vec<char>, &String)| {
            let cells: String = cells.iter().collect();
            format!("{cells}{number:>3}")
        };
        self.cells.iter().zip(&self.numbers).map(line).collect()
    }
}

/// An interval across or up.
type Ends = (Length, Length);

/// Where a box lies across and up in the order's frame; `None` when its own is turned by no quarter from that.
fn upright_box(claim: &Claim, up: Angle) -> Option<(Ends, Ends)> {
    let (u, h) = ((claim.u.from, claim.u.to), (claim.h.from, claim.h.to));
    let mirrored = |(from, to): Ends| (-to, -from);
    // `h` points to the turn, `u` a quarter clockwise of it: down when `h` points right.
    match quarters(claim.turn, up) {
        0 => Some((u, h)),
        90_000 => Some((h, mirrored(u))),
        180_000 => Some((mirrored(u), mirrored(h))),
        270_000 => Some((mirrored(h), u)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::{Cut, Drawing, outline::Outline};
    use pithward_geometry::{Frame, Log};
    use pithward_measure::Length;

    /// The end of a round log 12 in through without bark, in columns of a quarter of an inch.
    fn end() -> Drawing {
        let (small, butt, long) = (Length::inches(12), Length::inches(13), Length::feet(8));
        let log = Log::new(small, butt, long, Length::ZERO, Length::ZERO).unwrap();
        Drawing::blank(Outline::of(&log, &Frame::LEVEL), 48)
    }

    /// A cut so many sixty-fourths from the pith.
    fn cut(number: u32, level: bool, at: i64) -> Cut {
        let edge = Length::inches(7);
        Cut { number, level, at: Length::sixty_fourths(at), from: -edge, to: edge }
    }

    #[test]
    fn of_cuts_on_one_character_the_second_is_left_out() {
        let drawing = end();
        // A row is half an inch, a column a quarter.
        let cuts = [
            cut(1, true, 64),
            cut(2, true, 60),
            cut(3, true, 0),
            cut(4, false, 64),
            cut(5, false, 32),
            cut(6, false, 24),
        ];
        let (kept, left_out) = drawing.apart(&cuts, 2);
        assert_eq!(left_out, [2, 5]);
        assert_eq!(kept.len(), 4);
        assert!(!drawing.tells_apart(&cuts, 2) && drawing.tells_apart(&kept, 2));
    }

    #[test]
    fn a_pass_at_the_very_top_has_a_row_and_a_number() {
        // An eighth of an inch below the top: it opens some 2 1/2 in.
        let top = cut(1, true, 6 * 64 - 8);
        let mut drawing = end().with_room_above(&[top]);
        drawing.level(&top);
        drawing.rim();
        let lines = drawing.lines();
        assert!(lines[0].ends_with("  1"), "{lines:#?}");
        assert_eq!(lines[0].matches('_').count(), 10, "{lines:#?}");
        assert!(!lines[0].contains('.') && lines[1].contains("...."), "{lines:#?}");
        // One farther down needs no more room.
        assert_eq!(end().with_room_above(&[cut(1, true, 5 * 64)]).rows(), end().rows());
    }
}
