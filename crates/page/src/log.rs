//! One log on the page: its end with all that becomes of it, then its steps. Printed, it is one sheet, or two where one does
//! not hold it.

use crate::sheet::{COLUMN, HEAD, HIGH, Lines, WIDE, aspect, sheets};
use crate::text;
use crate::view::strip;
use maud::{Markup, html};
use pithward_draw::{
    Drawn, Turn, Words, end_view, flat_view, flitch_view, rest_view, side_view,
    strip as turns_strip, thumbnail,
};
use pithward_geometry::{Place, ReplayFault};
use pithward_job::LogJob;
use pithward_measure::Length;
use pithward_optimizer::LogPlan;
use pithward_report::{Step, StepPass, length_called, log_called, pieces_called, steps};
use std::ops::Range;

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
    /// So many of its passes are made already.
    pub(crate) made: usize,
}

/// A log on the page.
pub(crate) struct Section {
    /// What it is called.
    pub(crate) id: String,
    /// Its view.
    pub(crate) markup: Markup,
    /// On how many sheets it is printed.
    pub(crate) sheets: usize,
    /// Its end as one among many.
    pub(crate) end: Markup,
}

/// How large things are on paper.
#[derive(Clone, Copy)]
struct Print {
    /// Letters, points.
    text: f64,
    /// The small end, how it lies, a flitch: how wide, mm. Of nothing there is no picture.
    end: f64,
    lies: f64,
    edge: f64,
}

/// Easy to read first; each of the others where it saves a sheet. What an edging says without its pictures is the whole of it.
const PRINTS: [Print; 4] = [
    Print { text: 8.5, end: 72.0, lies: 36.0, edge: COLUMN },
    Print { text: 8.0, end: 60.0, lies: 33.0, edge: 64.0 },
    Print { text: 8.0, end: 58.0, lies: 33.0, edge: 0.0 },
    Print { text: 7.5, end: 48.0, lies: 28.0, edge: 0.0 },
];
/// The letters of a blade's height, points.
const HEIGHT: f64 = 12.0;

/// A step, and the pictures that stand in it.
struct Laid<'a> {
    step: &'a Step,
    /// How it lies, and from the side; or a flitch on edge.
    lies: Markup,
    side: Markup,
    /// The flitches of an edging, flat.
    flat: Vec<Markup>,
    is_flitch: bool,
    /// It goes on with what the step before it names.
    goes_on: bool,
    /// It is the last and holds for all of them: on paper it stands at the foot of the sheet.
    is_cautions: bool,
}

/// The section of a log.
pub(crate) fn section(shown: &Shown<'_>) -> Result<Section, ReplayFault> {
    let Shown { number, count, id, notes, of, job, plan, made } = shown;
    let drawn = Drawn::of(&job.log, &job.mill, plan)?;
    let names = pieces_called(job, plan);
    let piece = |n: usize| names.get(n).cloned().unwrap_or_default();
    let height = |length: Length| job.scale.bare(length).to_string();
    let long = |length: Length| length_called(job, length);
    let words = Words { piece: &piece, height: &height, long: &long };
    let steps = steps(job, plan);
    let end = end_view(&drawn, &words, &format!("end-{number}"), text::END);
    let turns = drawn.turns();
    let turned = turns_strip(&drawn, &turn_words, text::TURNS);
    let laid: Vec<Laid<'_>> =
        steps.iter().enumerate().map(|(n, _)| laid(&drawn, &words, &steps, n)).collect();
    let facts = log_called(job);
    let head = log_head(id, &facts, notes);
    let tried = PRINTS.map(|print| (print, on_sheets(&print, &end, &laid, head)));
    let least = tried.iter().map(|(_, sheets)| sheets.len()).min().unwrap_or_default();
    let found = tried.into_iter().find(|(_, sheets)| sheets.len() == least);
    let (print, packed) = found.unwrap_or((PRINTS[0], Vec::new()));
    let all = packed.len();
    let name = format!("{} {id}, {}", text::LOG, text::number_of(*number, *count));
    let Print { text: letters, end: wide, lies, edge } = print;
    let style = format!("--f:{letters}pt;--end:{wide}mm;--lies:{lies}mm;--edge:{edge}mm");
    let markup = html! {
        section.view.log.wide-edge[edge >= COLUMN].no-edge[edge <= 0.0] id=(format!("log-{number}")) data-log=(id) data-sheets=(all) style=(style)
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
                        @if turns.len() > 1 { figure.turns { (turned) } }
                    }
                    div.columns {
                        @if n == 0 {
                            figure.end { (end) figcaption { (text::HATCHED) } }
                        }
                        // The end is the first block of the first sheet.
                        @let own = sheet.start.max(1) - 1..sheet.end.max(1) - 1;
                        ol.steps start=(own.start + 1) {
                            @for m in own { (one(&laid[m], *number, m, *made)) }
                        }
                    }
                }
            }
        }
    };
    let end = thumbnail(&drawn, &format!("end-{number}"), id);
    Ok(Section { id: (*id).to_owned(), markup, sheets: all, end })
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
    let flat = match rest {
        Some(rest) if is_flitch => drawn
            .edged_with(rest)
            .into_iter()
            .filter(|part| drawn.is_first_edging_of(rest, *part))
            .filter_map(|part| flat_view(drawn, part, words, text::FLAT))
            .collect(),
        _ => Vec::new(),
    };
    let goes_on = is_flitch && n > 0 && steps[n - 1].title == step.title;
    let is_cautions = n + 1 == steps.len() && step.place.is_none();
    Laid { step, lies, side, flat, is_flitch, goes_on, is_cautions }
}

/// What stands under a picture of the strip.
pub(crate) fn turn_words(turn: &Turn) -> [String; 2] {
    let how = match (turn.turned, turn.place) {
        (Some(by), _) => text::turned(by),
        (None, Place::Resaw { .. }) => text::PUT_BACK.to_owned(),
        (None, _) => text::FIRST.to_owned(),
    };
    [how, text::passes(turn.passes)]
}

/// One step.
fn one(laid: &Laid<'_>, log: usize, n: usize, made: usize) -> Markup {
    let Laid { step, lies, side, flat, is_flitch, goes_on, is_cautions } = laid;
    let head = format!("s-{log}-{n}");
    html! {
        li.step.edging[*is_flitch].on[*goes_on].cautions[*is_cautions] tabindex="-1" aria-labelledby=(head) {
            h2 id=(head) { (step.title) }
            @if step.says.len() == 1 { p { (step.says[0]) } }
            @else if !step.says.is_empty() {
                ul { @for says in &step.says { li { (says) } } }
            }
            @if step.place.is_some() {
                div.work {
                    @if !lies.0.is_empty() { figure.lies { (lies) } }
                    ul.passes {
                        @for (m, pass) in step.passes.iter().enumerate() { (mark(log, n, m, pass, made)) }
                    }
                    @if !side.0.is_empty() { figure.side { (side) } }
                    @for flat in flat { figure.flat { (flat) } }
                }
            }
            @for after in &step.after { p.after { (after) } }
        }
    }
}

/// A pass that can be marked.
fn mark(log: usize, step: usize, n: usize, pass: &StepPass, made: usize) -> Markup {
    let id = format!("m-{log}-{step}-{n}");
    // What is made already is no longer to be marked.
    let is_made = pass.number.and_then(|n| usize::try_from(n).ok()).is_some_and(|n| n <= made);
    html! {
        li.made[is_made] {
            @if !is_made { input.mark type="checkbox" id=(id); }
            label for=[(!is_made).then_some(&id)] {
                @if is_made { span.drop { (text::MADE) } }
                @if let Some(number) = pass.number { span.number { (number) } }
                span.height { (pass.height) }
                @if !pass.drop.is_empty() { span.drop { (text::DROP) " " (pass.drop) } }
                span.frees { (pass.frees) }
            }
        }
    }
}

/// The height of what stands above the columns of the first sheet.
fn log_head(id: &str, facts: &str, notes: &str) -> f64 {
    let small = Lines::new(WIDE, 9.0);
    let notes = if notes.is_empty() { 0.0 } else { small.height(notes) + 0.6 };
    // The line at the head of the sheet stands beside the name, which is short.
    let name = Lines::new(0.45 * WIDE, 15.0).bold().height(&format!("{} {id}", text::LOG));
    name + small.bold().height(facts) + notes + 2.6 - HEAD
}

/// Which blocks, the end and then the steps, go on which sheet.
fn on_sheets(print: &Print, end: &Markup, laid: &[Laid<'_>], head: f64) -> Vec<Range<usize>> {
    let said = Lines::new(COLUMN, print.text - 1.0).height(text::HATCHED);
    let end = print.end * aspect(&end.0) + said + 3.5;
    let (foot, steps): (Vec<_>, Vec<_>) = laid.iter().partition(|laid| laid.is_cautions);
    let steps = steps.iter().map(|laid| step_high(print, laid));
    let blocks: Vec<f64> = [end].into_iter().chain(steps).collect();
    let high = HIGH - HEAD;
    let mut packed = sheets(&blocks, 2, high, head);
    // The cautions stand below the columns of the last sheet, or on one of their own.
    let foot: f64 = foot.iter().map(|laid| foot_high(print, laid)).sum();
    let n = blocks.len();
    if let Some(last) = packed.last_mut() {
        let less = if last.start == 0 { head } else { 0.0 };
        let fits = sheets(&blocks[last.clone()], 2, high - foot, less).len() == 1;
        if fits {
            last.end = laid.len() + 1;
        } else if foot > 0.0 {
            packed.push(n..n + 1);
        }
    }
    packed
}

/// The height of the cautions, one behind another over the whole width.
fn foot_high(print: &Print, laid: &Laid<'_>) -> f64 {
    let all = format!("{}. {}", laid.step.title, laid.step.says.join(" x "));
    Lines::new(WIDE, print.text).height(&all) + 4.0
}

/// The height of a step on paper.
fn step_high(print: &Print, laid: &Laid<'_>) -> f64 {
    let Laid { step, lies, side, is_flitch, goes_on, .. } = laid;
    let text = Lines::new(COLUMN, print.text);
    let title = match goes_on {
        true => 0.0,
        false => Lines::new(COLUMN, print.text + 1.0).bold().height(&step.title) + 0.5,
    };
    let says: f64 = match step.says.as_slice() {
        [one] => text.height(one) + 0.4,
        many => {
            let item = Lines::new(COLUMN - 3.6, print.text);
            many.iter().map(|says| item.height(says)).sum::<f64>() + 0.4
        }
    };
    let after: f64 = step.after.iter().map(|after| text.bold().height(after) + 0.4).sum();
    let beside = |wide: f64| COLUMN - wide - 2.0;
    let work = match (step.place, is_flitch) {
        (None, _) => 0.0,
        (_, true) if print.edge <= 0.0 => passes(print, step, COLUMN),
        (_, true) if print.edge >= COLUMN => {
            print.edge * aspect(&lies.0) + passes(print, step, COLUMN)
        }
        (_, true) => (print.edge * aspect(&lies.0)).max(passes(print, step, beside(print.edge))),
        (_, false) => {
            let side = beside(print.lies) * aspect(&side.0);
            (print.lies * aspect(&lies.0)).max(side) + passes(print, step, COLUMN)
        }
    };
    title + says + work + after + 2.4
}

/// The height of the passes of a step, on lines so wide: what comes off stands beside the height, or below it where there is no
/// room.
fn passes(print: &Print, step: &Step, wide: f64) -> f64 {
    const ROW: f64 = 0.9;
    let line = HEIGHT * 0.41;
    let row = |pass: &StepPass| {
        let beside = match pass.number {
            // Ring, height, drop and box.
            Some(_) => wide - 47.4,
            None => wide - 26.0,
        };
        if beside > 20.0 {
            Lines::new(beside, print.text).height(&pass.frees).max(line) + ROW
        } else {
            line + Lines::new(wide, print.text).height(&pass.frees) + ROW
        }
    };
    step.passes.iter().map(row).sum()
}
