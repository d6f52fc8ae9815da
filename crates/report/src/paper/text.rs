//! Papers as plain text.

use super::{Block, Paper, Side, Table};
use crate::page::{Page, WIDTH, broken};

/// Between two columns.
const GAP: usize = 2;

/// A column of words is never made narrower than that.
const LEAST_WORDS: usize = 14;

/// How far a blank reaches.
const BLANK: usize = 40;

pub(super) fn write(paper: &Paper) -> String {
    let mut page = Page::default();
    page.hang("", &paper.title);
    for block in &paper.blocks {
        match block {
            Block::Heading(words) => page.heading(&words.to_uppercase(), ""),
            Block::Say(words) => page.say(words),
            Block::Items(items) => items.iter().for_each(|item| page.item(item)),
            Block::Ticks(things) => things.iter().for_each(|thing| page.hang("  [ ] ", thing)),
            Block::Table(table) => rows(&mut page, table),
            Block::Blanks(labels) => {
                let wide = labels.iter().map(|label| label.chars().count()).max().unwrap_or(0);
                for label in labels {
                    page.hang(&format!("  {label:wide$}  "), &"_".repeat(BLANK));
                }
            }
            Block::Caution(words) => page.hang("  CAUTION  ", words),
        }
    }
    page.finish()
}

fn rows(page: &mut Page, table: &Table) {
    let widths = widths(table);
    let heads: Vec<String> = table.columns.iter().map(|(head, _)| head.clone()).collect();
    row(page, table, &widths, &heads);
    for (n, cells) in table.rows.iter().enumerate() {
        if table.summed && n + 1 == table.rows.len() {
            let all = widths.iter().sum::<usize>() + GAP * (widths.len().max(1) - 1);
            page.line(&format!("  {}", "-".repeat(all)));
        }
        row(page, table, &widths, cells);
    }
}

/// A width for every column: as wide as its widest cell, but the widest columns of words so narrow that a line holds all; no
/// word is broken for it while another column has room to give.
fn widths(table: &Table) -> Vec<usize> {
    let of = |column: usize| {
        let cells = table.rows.iter().map(|row| row[column].chars().count());
        cells.chain([table.columns[column].0.chars().count()]).max().unwrap_or(0)
    };
    let mut widths: Vec<usize> = (0..table.columns.len()).map(of).collect();
    let longest = |column: usize| {
        let cells = table.rows.iter().map(|row| row[column].as_str());
        let words = cells.chain([table.columns[column].0.as_str()]).flat_map(str::split_whitespace);
        words.map(|word| word.chars().count()).max().unwrap_or(0).max(LEAST_WORDS)
    };
    let longest: Vec<usize> = (0..table.columns.len()).map(longest).collect();
    let room = WIDTH - 2 - GAP * (widths.len().max(1) - 1);
    loop {
        let over = widths.iter().sum::<usize>().saturating_sub(room);
        let words = || (0..widths.len()).filter(|column| table.columns[*column].1 == Side::Left);
        let whole = words().filter(|column| widths[*column] > longest[*column]);
        let any = || words().filter(|column| widths[*column] > LEAST_WORDS);
        let widest = whole.max_by_key(|column| widths[*column]);
        match widest.or_else(|| any().max_by_key(|column| widths[*column])) {
            Some(widest) if over > 0 => widths[widest] -= 1,
            _ => return widths,
        }
    }
}

fn row(page: &mut Page, table: &Table, widths: &[usize], cells: &[String]) {
    let lines: Vec<Vec<String>> =
        cells.iter().zip(widths).map(|(cell, width)| broken(cell, *width)).collect();
    let most = lines.iter().map(Vec::len).max().unwrap_or(0);
    for n in 0..most {
        let mut line = String::new();
        for (column, ((_, side), width)) in table.columns.iter().zip(widths).enumerate() {
            let cell = lines[column].get(n).map_or("", String::as_str);
            line.push_str(&" ".repeat(if column == 0 { 2 } else { GAP }));
            match side {
                Side::Left => line.push_str(&format!("{cell:width$}")),
                Side::Right => line.push_str(&format!("{cell:>width$}")),
            }
        }
        page.line(&line);
    }
}
