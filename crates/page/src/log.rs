//! One log on the page: its end with all that becomes of it, then its steps. Printed, it is one sheet, or two where one does
//! not hold it.

use crate::sheet::{COLUMN, HEAD, HIGH, Lines, WIDE, aspect, sheets};
use crate::text;
use crate::view::strip;
use maud::{Markup, html};
use pithward_draw::{Drawn, Words, end_view, flitch_view, rest_view, side_view};
use pithward_geometry::{Place, ReplayFault};
use pithward_job::LogJob;
use pithward_measure::Length;
use pithward_optimizer::LogPlan;
use pithward_report::{Step, StepPass, length_called, log_called, pieces_called, steps};

/// A log as the page knows it.
pub(crate) struct Shown<'a> {
    /// Its place among the sections of the page, from 1, and how many there are.
    pub(crate) number: usize,
    pub(crate) count: usize,
    /// What it is called.
    pub(crate) id: &'a str,
    /// Notes of the job.
    pub(crate) notes: &'a str,
    /// Whose job it is.
    pub(crate) of: &'a str,
    pub(crate) job: &'a LogJob,
    pub(crate) plan: &'a LogPlan,
}

/// How large things are on paper.
#[derive(Clone, Copy)]
struct Print {
    /// Letters, points.
    text: f64,
    /// The small end, how it lies, a flitch: how wide, mm.
    end: f64,
    lies: f64,
    edge: f64,
}

/// Easy to read; and what brings more on a sheet.
const PRINTS: [Print; 2] = [
    Print { text: 8.5, end: 74.0, lies: 36.0, edge: COLUMN },
    Print { text: 7.5, end: 62.0, lies: 32.0, edge: 66.0 },
];
/// The letters of a blade's height, points.
const HEIGHT: f64 = 12.0;

/// A step, and the pictures that stand in it.
struct Laid<'a> {
    step: &'a Step,
    /// How it lies, and from the side; or a flitch on edge.
    lies: Markup,
    side: Markup,
    is_flitch: bool,
    /// It goes on with what the step before it names.
    goes_on: bool,
}

/// The section of a log; and on how many sheets it is printed.
pub(crate) fn section(shown: &Shown<'_>) -> Result<(Markup, usize), ReplayFault> {
    let Shown { number, count, id, notes, of, job, plan } = shown;
    let drawn = Drawn::of(&job.log, &job.mill, plan)?;
    let names = pieces_called(job, plan);
    let piece = |n: usize| names.get(n).cloned().unwrap_or_default();
    let height = |length: Length| job.scale.bare(length).to_string();
    let long = |length: Length| length_called(job, length);
    let words = Words { piece: &piece, height: &height, long: &long };
    let steps = steps(job, plan);
    let end = end_view(&drawn, &words, &format!("end-{number}"), text::END);
    let laid: Vec<Laid<'_>> =
        steps.iter().enumerate().map(|(n, _)| laid(&drawn, &words, &steps, n)).collect();
    let facts = log_called(job);
    let head = log_head(id, &facts, notes);
    // The larger letters, unless the smaller save a sheet.
    let tried = PRINTS.map(|print| (print, on_sheets(&print, &end, &laid, head)));
    let [large, small] = tried;
    let (print, packed) = if small.1.len() < large.1.len() { small } else { large };
    let all = packed.len();
    let name = format!("{} {id}, {}", text::LOG, text::number_of(*number, *count));
    let Print { text: letters, end: wide, lies, edge } = print;
    let style = format!("--f:{letters}pt;--end:{wide}mm;--lies:{lies}mm;--edge:{edge}mm");
    let markup = html! {
        section.view.log.wide-edge[edge >= COLUMN] id=(format!("log-{number}")) data-log=(id) data-sheets=(all) style=(style)
            aria-labelledby=(format!("log-{number}-name")) {
            p.bar {
                a.back href="#job" { (text::TO_JOB) }
                button.walk type="button" { (text::WALK) }
                button.print type="button" { (text::PRINT) " (" (text::sheets(all)) ")" }
            }
            @for (n, sheet) in packed.iter().enumerate() {
                div.sheet {
                    (strip(of, &name, n + 1, all))
                    @if n == 0 {
                        h1 id=(format!("log-{number}-name")) tabindex="-1" {
                            (text::LOG) " " bdi { (id) } " " span.where {}
                        }
                        p.facts { (facts) }
                        @if !notes.is_empty() { p.notes dir="auto" { (notes) } }
                        p.done aria-live="polite" {}
                    }
                    div.columns {
                        @if n == 0 {
                            figure.end { (end) figcaption { (text::END) ". " (text::HATCHED) } }
                        }
                        // The end is the first block of the first sheet.
                        @let own = sheet.start.max(1) - 1..sheet.end.max(1) - 1;
                        ol.steps start=(own.start + 1) {
                            @for m in own { (one(&laid[m], *number, m)) }
                        }
                    }
                }
            }
        }
    };
    Ok((markup, all))
}

/// The pictures of a step.
fn laid<'a>(drawn: &Drawn<'_>, words: &Words<'_>, steps: &'a [Step], n: usize) -> Laid<'a> {
    let step = &steps[n];
    let is_flitch = matches!(step.place, Some(Place::Edging { .. }));
    let rest = step.place.and_then(|place| drawn.rest_of(place));
    let (lies, side) = match rest {
        None => Default::default(),
        Some(rest) if is_flitch => {
            (flitch_view(drawn, rest, words, text::EDGE).unwrap_or_default(), Markup::default())
        }
        Some(rest) => (
            rest_view(drawn, rest, words, text::LIES).unwrap_or_default(),
            side_view(drawn, rest, words, text::SIDE).unwrap_or_default(),
        ),
    };
    let goes_on = is_flitch && n > 0 && steps[n - 1].title == step.title;
    Laid { step, lies, side, is_flitch, goes_on }
}

/// One step.
fn one(laid: &Laid<'_>, log: usize, n: usize) -> Markup {
    let Laid { step, lies, side, is_flitch, goes_on } = laid;
    let head = format!("log-{log}-step-{n}");
    html! {
        li.step.edging[*is_flitch].on[*goes_on] tabindex="-1" aria-labelledby=(head) {
            h2 id=(head) { (step.title) }
            @if step.says.len() == 1 { p { (step.says[0]) } }
            @else if !step.says.is_empty() {
                ul { @for says in &step.says { li { (says) } } }
            }
            @if step.place.is_some() {
                div.work {
                    @if !lies.0.is_empty() { figure.lies { (lies) } }
                    ul.passes {
                        @for (m, pass) in step.passes.iter().enumerate() { (mark(log, n, m, pass)) }
                    }
                    @if !side.0.is_empty() { figure.side { (side) } }
                }
            }
            @for after in &step.after { p.after { (after) } }
        }
    }
}

/// A pass that can be marked.
fn mark(log: usize, step: usize, n: usize, pass: &StepPass) -> Markup {
    let id = format!("m-{log}-{step}-{n}");
    html! {
        li {
            input.mark type="checkbox" id=(id);
            label for=(id) {
                @if let Some(number) = pass.number { span.number { (number) } }
                span.height { span.said { (text::AT) " " } (pass.height) }
                @if !pass.drop.is_empty() { span.drop { (text::DROP) " " (pass.drop) } }
                span.frees { span.said { (text::COMES_OFF) ": " } (pass.frees) }
            }
        }
    }
}

/// The height of what stands above the columns of the first sheet.
fn log_head(id: &str, facts: &str, notes: &str) -> f64 {
    let small = Lines::new(WIDE, 9.0);
    let notes = if notes.is_empty() { 0.0 } else { small.height(notes) + 0.8 };
    Lines::new(WIDE, 15.0).bold().height(&format!("Log {id}")) + small.height(facts) + notes + 4.0
}

/// Which blocks, the end and then the steps, go on which sheet.
fn on_sheets(
    print: &Print,
    end: &Markup,
    laid: &[Laid<'_>],
    head: f64,
) -> Vec<std::ops::Range<usize>> {
    let said = format!("{}. {}", text::END, text::HATCHED);
    let end = print.end * aspect(&end.0) + Lines::new(COLUMN, print.text - 1.0).height(&said) + 4.0;
    let blocks: Vec<f64> =
        [end].into_iter().chain(laid.iter().map(|laid| step_high(print, laid))).collect();
    sheets(&blocks, 2, HIGH - HEAD, head)
}

/// The height of a step on paper.
fn step_high(print: &Print, laid: &Laid<'_>) -> f64 {
    let Laid { step, lies, side, is_flitch, goes_on } = laid;
    let text = Lines::new(COLUMN, print.text);
    let title = match goes_on {
        true => 0.0,
        false => Lines::new(COLUMN, print.text + 1.0).bold().height(&step.title) + 0.6,
    };
    let says: f64 = match step.says.as_slice() {
        [one] => text.height(one) + 0.5,
        many => {
            let item = Lines::new(COLUMN - 4.0, print.text);
            many.iter().map(|says| item.height(says) + 0.3).sum()
        }
    };
    let after: f64 = step.after.iter().map(|after| text.bold().height(after) + 0.5).sum();
    let passes = |wide: f64| -> f64 {
        // Ring and box are beside the words.
        let frees = Lines::new(wide - 12.5, print.text);
        let row = |pass: &StepPass| match pass.number {
            None => frees_beside(wide, print, pass).max(6.2),
            Some(_) => HEIGHT * 0.46 + frees.height(&pass.frees) + 0.8,
        };
        step.passes.iter().map(row).sum()
    };
    let beside = |wide: f64| COLUMN - wide - 2.0;
    let work = match (step.place, is_flitch) {
        (None, _) => 0.0,
        (_, true) if print.edge >= COLUMN => print.edge * aspect(&lies.0) + passes(COLUMN),
        (_, true) => (print.edge * aspect(&lies.0)).max(passes(beside(print.edge))),
        (_, false) => {
            let side = beside(print.lies) * aspect(&side.0);
            (print.lies * aspect(&lies.0)).max(side + 1.0 + passes(beside(print.lies)))
        }
    };
    title + says + work + after + 3.2
}

/// A pass of edging: what comes off stands beside its height, or below it where there is no room.
fn frees_beside(wide: f64, print: &Print, pass: &StepPass) -> f64 {
    let room = wide - 26.0;
    if room > 20.0 {
        Lines::new(room, print.text).height(&pass.frees) + 0.8
    } else {
        HEIGHT * 0.46 + Lines::new(wide - 6.0, print.text).height(&pass.frees) + 0.8
    }
}
