//! A paper as HTML: the same words as its plain text, in sheets of its own, with its ranges drawn.

use crate::sheet::{HEAD, HIGH, Lines, WIDE, sheets};
use crate::text;
use crate::view::{View, strip};
use maud::{Markup, html};
use pithward_draw::{Interval, interval};
use pithward_report::{Block, Paper, Side, Span, Table};

/// Letters of a paper, points; the style sheet has the same.
const TEXT: f64 = 9.5;
const HEADING: f64 = 11.5;
const TITLE: f64 = 15.0;
const KEY: f64 = 8.0;
/// Between two blocks, mm.
const APART: f64 = 1.6;
/// A row of a table has this above and below its words, mm.
const ROW: f64 = 1.3;
/// The column of a table in which a range is drawn, mm.
const DRAWN: f64 = 42.0;
/// A table of no more rows is not parted.
const WHOLE: usize = 8;
/// Between two cells, mm.
const CELL: f64 = 3.0;

/// A part of a paper that no sheet parts: a line of a list, a row of a table, or a whole block.
struct Part<'a> {
    /// The block that it is of, by its place.
    of: usize,
    kind: Kind<'a>,
    high: f64,
    /// It must not be the last on its sheet.
    leads: bool,
}

/// What stands around the parts of one block.
#[derive(Clone, Copy)]
enum Kind<'a> {
    Heading(&'a str),
    Say(&'a str),
    Item(&'a str),
    Tick(&'a str, usize),
    Row(&'a Table, usize),
    Blank(&'a str),
    Caution(&'a str),
    /// How a range is drawn; behind the first table that has some.
    Key,
}

/// A paper as a view of the page; `of` says whose.
pub(crate) fn view(id: &'static str, name: &'static str, paper: &Paper, of: &str) -> View {
    let mut parts = Vec::new();
    for (n, block) in paper.blocks().iter().enumerate() {
        block_parts(&mut parts, n, block);
        if matches!(block, Block::Table(table) if table.span(0).is_some())
            && !parts.iter().any(|part| matches!(part.kind, Kind::Key))
        {
            let high = Lines::new(WIDE, KEY).height(text::RANGES) + APART;
            parts.push(Part { of: usize::MAX, kind: Kind::Key, high, leads: false });
        }
    }
    // What leads is one with what it leads to.
    let mut joined: Vec<(f64, usize)> = Vec::new();
    let mut open = None;
    for part in &parts {
        let (high, count) = open.take().unwrap_or((0.0, 0));
        let all = (high + part.high, count + 1);
        if part.leads {
            open = Some(all);
        } else {
            joined.push(all);
        }
    }
    joined.extend(open);
    let heights: Vec<f64> = joined.iter().map(|(high, _)| *high).collect();
    let title = Lines::new(WIDE, TITLE).bold().height(paper.title()) + 4.0;
    // Where a table goes on, its head is there once more.
    let heads = paper.blocks().iter().map(|block| match block {
        Block::Table(table) => head_high(table),
        _ => 0.0,
    });
    let again = heads.fold(0.0, f64::max);
    let mut packed = sheets(&heights, 1, HIGH - HEAD - again, title - again);
    if packed.is_empty() {
        packed.push(0..0);
    }
    let count = packed.len();
    let (mut left, mut all) = (parts.as_slice(), Vec::with_capacity(count));
    for (n, sheet) in packed.iter().enumerate() {
        let many = joined[sheet.clone()].iter().map(|(_, count)| count).sum::<usize>();
        let (own, rest) = left.split_at(many);
        left = rest;
        all.push(html! {
            div.sheet {
                (strip(of, name, n + 1, count))
                @if n == 0 { h1 id=(format!("{id}-name")) tabindex="-1" dir="auto" { (paper.title()) } }
                @for block in own.chunk_by(|a, b| a.of == b.of) { (written(block, id)) }
            }
        });
    }
    let markup = html! { @for sheet in &all { (sheet) } };
    View { id: id.to_owned(), name, kind: "paper", sheets: count, markup }
}

/// A block as parts: lists and tables may be parted between their lines.
fn block_parts<'a>(parts: &mut Vec<Part<'a>>, of: usize, block: &'a Block) {
    let plain = Lines::new(WIDE, TEXT);
    let mut part = |kind, high: f64, leads| parts.push(Part { of, kind, high, leads });
    match block {
        Block::Heading(words) => {
            let high = Lines::new(WIDE, HEADING).bold().height(words) + 4.4;
            part(Kind::Heading(words), high, true);
        }
        // What ends in a colon is said of what follows.
        Block::Say(words) => {
            part(Kind::Say(words), plain.height(words) + APART, words.ends_with(':'));
        }
        Block::Items(items) => items.iter().for_each(|item| {
            part(Kind::Item(item), Lines::new(WIDE - 6.0, TEXT).height(item) + 0.7, false);
        }),
        Block::Ticks(things) => things.iter().enumerate().for_each(|(n, thing)| {
            let high = Lines::new(WIDE - 8.0, TEXT).height(thing) + 1.3;
            part(Kind::Tick(thing, n), high, false);
        }),
        Block::Table(table) => {
            let (widths, head) = (widths(table), head_high(table));
            let rows = table.rows().len();
            // A short table stays whole; of a long one no first and no last row is left alone.
            let leads = |n| n + 1 < rows && (rows <= WHOLE || n == 0 || n + 2 == rows);
            for n in 0..rows {
                let high = row_high(table, n, &widths) + if n == 0 { head + APART } else { 0.0 };
                part(Kind::Row(table, n), high, leads(n));
            }
        }
        Block::Blanks(labels) => labels.iter().for_each(|label| {
            part(Kind::Blank(label), 9.0, false);
        }),
        Block::Caution(words) => {
            let said = format!("{} {words}", text::CAUTION);
            let high = Lines::new(WIDE - 6.0, TEXT).bold().height(&said) + 3.6;
            part(Kind::Caution(words), high, false);
        }
    }
}

/// The parts of one block that are on one sheet.
fn written(parts: &[Part<'_>], id: &str) -> Markup {
    let Some(first) = parts.first() else { return html! {} };
    match first.kind {
        Kind::Heading(words) => html! { h2 { (text::capital(words)) } },
        Kind::Say(words) => html! { p { (words) } },
        Kind::Key => html! { p.key { (text::RANGES) } },
        Kind::Caution(words) => html! { p.caution { strong { (text::CAUTION) } " " (words) } },
        Kind::Item(_) => html! {
            ul { @for part in parts { @if let Kind::Item(words) = part.kind { li { (words) } } } }
        },
        Kind::Blank(_) => html! {
            ul.blanks { @for part in parts { @if let Kind::Blank(words) = part.kind {
                li { span { (text::capital(words)) } span.line {} }
            } } }
        },
        Kind::Tick(..) => html! {
            ul.ticks { @for part in parts { @if let Kind::Tick(words, n) = part.kind {
                @let of = format!("t-{id}-{}-{n}", part.of);
                li { input.tick type="checkbox" id=(of); label for=(of) { (words) } }
            } } }
        },
        Kind::Row(table, from) => {
            let ranged = table.span(0).is_some();
            html! {
                table.wide[table.columns().len() > 4].ranged[ranged].more[from > 0] {
                    thead { tr {
                        @for (head, side) in table.columns() {
                            th.figure[*side == Side::Right] scope="col" { (head) }
                        }
                        @if ranged { th scope="col" { (text::RANGE) } }
                    } }
                    tbody { @for part in parts { @if let Kind::Row(_, n) = part.kind { (row(table, n)) } } }
                }
            }
        }
    }
}

/// The height of a table's head.
fn head_high(table: &Table) -> f64 {
    let widths = widths(table);
    let heads = table.columns().iter().zip(&widths);
    heads.map(|((head, _), wide)| Lines::new(*wide, TEXT).bold().height(head)).fold(0.0, f64::max)
        + ROW
}

/// The height of a row.
fn row_high(table: &Table, n: usize, widths: &[f64]) -> f64 {
    let sum = table.is_summed() && n + 1 == table.rows().len();
    let cells = table.rows()[n].iter().zip(widths).enumerate();
    let high = cells.map(|(place, (cell, wide))| {
        let lines = Lines::new(*wide, TEXT);
        if place == 0 || sum { lines.bold().height(cell) } else { lines.height(cell) }
    });
    high.fold(if table.span(n).is_some() { 5.0 } else { 0.0 }, f64::max) + ROW
}

/// How wide each column comes out at least: what its widest word takes, and of what is left a share by what it holds.
fn widths(table: &Table) -> Vec<f64> {
    const EM: f64 = TEXT * 25.4 / 72.0;
    let drawn = if table.span(0).is_some() { DRAWN } else { 0.0 };
    let room = WIDE - drawn;
    let of = |n: usize, part: &dyn Fn(&str) -> f64| {
        let cells = table.rows().iter().filter_map(|row| row.get(n)).map(String::as_str);
        cells.chain([table.columns()[n].0.as_str()]).map(part).fold(1.0, f64::max)
    };
    let wide = |words: &str| words.chars().fold(0.0, |sum, _| sum + 0.68);
    let columns = table.columns().len();
    let least = |n| of(n, &|words| words.split_whitespace().map(wide).fold(0.0, f64::max));
    let least: Vec<f64> = (0..columns).map(|n| (EM * least(n)).min(room / 2.0)).collect();
    let most: Vec<f64> = (0..columns).map(|n| EM * of(n, &wide)).collect();
    let cells = CELL * table.columns().iter().fold(0.0, |sum, _| sum + 1.0);
    let spare = (room - cells - least.iter().sum::<f64>()).max(0.0);
    let more: Vec<f64> =
        least.iter().zip(&most).map(|(least, most)| (most - least).max(0.0)).collect();
    let all = more.iter().sum::<f64>().max(1.0);
    least.iter().zip(&more).map(|(least, more)| least + more * (spare / all).min(1.0)).collect()
}

fn row(table: &Table, n: usize) -> Markup {
    let sum = table.is_summed() && n + 1 == table.rows().len();
    let cells = table.columns().iter().zip(&table.rows()[n]);
    html! {
        tr.sum[sum] {
            @for (place, ((head, side), cell)) in cells.enumerate() {
                @if place == 0 { th.figure[*side == Side::Right] scope="row" { (cell) } }
                @else {
                    td.figure[*side == Side::Right] data-head=[(table.columns().len() > 4).then_some(head)] { (cell) }
                }
            }
            @if table.span(0).is_some() {
                td.drawn { @if let Some(span) = table.span(n) { (drawn(span, &table.rows()[n][0])) } }
            }
        }
    }
}

/// A range on a scale of its own, from nothing to its highest figure.
fn drawn(span: Span, what: &str) -> Markup {
    let Span { low, likely, high, planned } = span;
    let most = low.max(likely).max(high).max(planned);
    interval(&Interval { low, likely, high, mark: Some(planned), most }, &text::range_of(what))
}
