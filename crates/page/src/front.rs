//! What is seen first: the order of the logs, what comes out, and the way to all else. Printed, it is a sheet or two to lie on
//! top of the cards.

use crate::sheet::{HEAD, HIGH, Lines, WIDE, sheets};
use crate::text;
use crate::view::{View, strip};
use maud::{Markup, html};
use pithward_optimizer::Tally;

/// Ends of logs beside one another on paper.
const BESIDE: usize = 8;
/// The height of such a row without its names, and of a line of a name, mm.
const ENDS: f64 = 21.5;
const NAME: f64 = 3.7;
/// Letters, points; the style sheet has the same.
const TEXT: f64 = 9.5;
/// What a heading takes, mm.
const HEADING: f64 = 11.0;

/// A log in the order.
pub(crate) struct Line<'a> {
    pub(crate) id: &'a str,
    pub(crate) end: &'a Markup,
}

/// What the first view is made of.
pub(crate) struct Front<'a> {
    /// When, and what else was noted; each may be empty.
    pub(crate) date: &'a str,
    pub(crate) notes: &'a str,
    /// The list, and what comes of each of its lines.
    pub(crate) wants: &'a [(String, Tally)],
    pub(crate) title: &'a str,
    pub(crate) of: &'a str,
    pub(crate) lines: &'a [Line<'a>],
    /// Logs that are not sawn.
    pub(crate) left: &'a [&'a str],
    /// What stands below, by its name in the page's address.
    pub(crate) jumps: &'a [(&'a str, &'a str)],
}

/// A part that no sheet parts.
#[derive(Clone, Copy)]
enum Part {
    /// Logs from a place in the order.
    Ends(usize),
    Left,
    /// A want by its place.
    Want(usize),
}

impl Part {
    fn kind(self) -> u8 {
        match self {
            Self::Ends(_) => 0,
            Self::Left => 1,
            Self::Want(_) => 2,
        }
    }
}

impl Front<'_> {
    /// Its sheets, and how many.
    pub(crate) fn sheets(&self) -> (Markup, usize) {
        let mut parts = Vec::new();
        for from in (0..self.lines.len()).step_by(BESIDE) {
            let row = self.lines.iter().skip(from).take(BESIDE);
            let names = row.map(|line| Lines::new(15.0, 8.5).bold().count(line.id).min(2.0));
            let high = ENDS + NAME * names.fold(1.0, f64::max);
            parts.push((Part::Ends(from), high + if from == 0 { HEADING } else { 0.0 }));
        }
        if !self.left.is_empty() {
            parts.push((Part::Left, Lines::new(WIDE, TEXT).height(&self.left()) + 3.0));
        }
        for (want, (called, _)) in self.wants.iter().enumerate() {
            let name = Lines::new(WIDE - 75.0, TEXT).bold().height(called);
            parts
                .push((Part::Want(want), name + 1.6 + if want == 0 { HEADING + 6.0 } else { 0.0 }));
        }
        let heights: Vec<f64> = parts.iter().map(|(_, high)| *high).collect();
        // The head of the table once more, where it goes on.
        let mut packed = sheets(&heights, 1, HIGH - HEAD - 6.0, self.head() - 6.0);
        if packed.is_empty() {
            packed.push(0..0);
        }
        let count = packed.len();
        let all = packed.iter().enumerate().map(|(n, sheet)| {
            html! {
                div.sheet {
                    (strip(self.of, text::FRONT_NAME, n + 1, count))
                    @if n == 0 { (self.title()) }
                    @for block in parts[sheet.clone()].chunk_by(|a, b| a.0.kind() == b.0.kind()) {
                        (self.block(block))
                    }
                }
            }
        });
        let all: Vec<Markup> = all.collect();
        (html! { @for sheet in &all { (sheet) } }, count)
    }

    fn left(&self) -> String {
        format!("{}: {}", text::NOT_SAWN, self.left.join(", "))
    }

    /// The height of the title, mm.
    fn head(&self) -> f64 {
        let notes = Lines::new(WIDE, TEXT).height(self.notes);
        Lines::new(WIDE, 17.0).bold().height(self.title) + notes + 10.0
    }

    fn title(&self) -> Markup {
        html! {
            header {
                h1 id="job-name" tabindex="-1" dir="auto" { (self.title) }
                @if !self.date.is_empty() { p.date { (self.date) } }
                @if !self.notes.is_empty() { p.notes dir="auto" { (self.notes) } }
            }
            a.go-on hidden href="#job" {}
            nav.jumps aria-label=(text::ON_THIS_PAGE) {
                @for (to, name) in self.jumps { a href=(format!("#{to}")) { (name) } }
            }
        }
    }

    /// Parts of one kind on one sheet.
    fn block(&self, parts: &[(Part, f64)]) -> Markup {
        match parts.first() {
            None => html! {},
            Some((Part::Left, _)) => html! { p.left { (self.left()) } },
            Some((Part::Ends(from), _)) => html! {
                @let to = (from + BESIDE * parts.len()).min(self.lines.len());
                @if *from == 0 { h2 { (text::ORDER) } }
                ol.ends start=(from + 1) {
                    @for (n, line) in self.lines[*from..to].iter().enumerate() {
                        @let number = from + n + 1;
                        li { a href=(format!("#log-{number}")) {
                            (line.end)
                            span.no { (number) }
                            bdi.name { (line.id) }
                            span.done data-of=(number) {}
                        } }
                    }
                }
            },
            Some((Part::Want(from), _)) => html! {
                @if *from == 0 { h2 id="list" { (text::SUMMARY) } }
                table.more[*from > 0] {
                    thead { tr {
                        th scope="col" { (text::WANT) }
                        @for head in [text::WANTED, text::COMES, text::STILL] {
                            th.figure scope="col" { (head) }
                        }
                    } }
                    tbody { @for (part, _) in parts { @if let Part::Want(n) = part { (self.want(*n)) } } }
                }
            },
        }
    }

    /// What was wanted, and what comes.
    fn want(&self, n: usize) -> Markup {
        let Some((called, tally)) = self.wants.get(n) else { return html! {} };
        html! {
            tr {
                th scope="row" { (called) }
                td.figure { @match tally.wanted { Some(wanted) => (wanted), None => (text::ANY) } }
                td.figure { (tally.given + tally.extra) }
                td.figure { @if tally.short() > 0 { (tally.short()) } }
            }
        }
    }
}

/// The first view whole: its sheets, and what is only on the screen.
pub(crate) fn view(
    front: &Front<'_>,
    papers: &[View],
    cards: usize,
    note: &str,
) -> (Markup, usize) {
    let (sheets, own) = front.sheets();
    let markup = html! {
        section.view.job id="job" data-sheets=(own) data-cards=(own + cards) aria-labelledby="job-name" {
            (sheets)
            @if !papers.is_empty() {
                nav.papers aria-labelledby="papers" {
                    h2 id="papers" { (text::PAPERS) }
                    ul {
                        @for paper in papers {
                            li { a href=(format!("#{}", paper.id)) {
                                span.name { (paper.name) }
                                span.sheets { (text::sheets(paper.sheets)) }
                            } }
                        }
                    }
                    @if !note.is_empty() { p.hint { (note) } }
                }
            }
            div.tools {
                h2 id="print" { (text::PRINT) }
                p.bar {
                    button.print type="button" data-print="cards" {
                        (text::CARDS) " (" (text::sheets(own + cards)) ")"
                    }
                    button.print type="button" data-print="job" {
                        (text::FRONT) " (" (text::sheets(own)) ")"
                    }
                }
                p.hint { (text::PRINTED) }
                h2 id="marks" { (text::MARKS) }
                p.bar { button.save type="button" { (text::SAVE) } }
                p.hint { (text::SAVE_SAYS) }
            }
        }
    };
    (markup, own)
}
