//! One log on the page: its end with all that becomes of it, then its steps.

use crate::text;
use maud::{Markup, html};
use pithward_draw::{Drawn, Words, end_view, flitch_view, rest_view, side_view};
use pithward_geometry::{Place, ReplayFault};
use pithward_job::LogJob;
use pithward_measure::Length;
use pithward_optimizer::LogPlan;
use pithward_report::{Step, StepPass, length_called, log_called, pieces_called, steps};

/// A log as the page knows it.
pub(crate) struct Shown<'a> {
    /// Its place among the sections of the page, from 1.
    pub(crate) number: usize,
    /// What it is called.
    pub(crate) id: &'a str,
    /// Notes of the job.
    pub(crate) notes: &'a str,
    pub(crate) job: &'a LogJob,
    pub(crate) plan: &'a LogPlan,
}

/// The section of a log.
pub(crate) fn section(shown: &Shown<'_>) -> Result<Markup, ReplayFault> {
    let Shown { number, id, notes, job, plan } = shown;
    let drawn = Drawn::of(&job.log, &job.mill, plan)?;
    let names = pieces_called(job, plan);
    let piece = |n: usize| names.get(n).cloned().unwrap_or_default();
    let height = |length: Length| job.scale.bare(length).to_string();
    let long = |length: Length| length_called(job, length);
    let words = Words { piece: &piece, height: &height, long: &long };
    let steps = steps(job, plan);
    Ok(html! {
        section.log id=(format!("log-{number}")) data-log=(id) aria-labelledby=(format!("log-{number}-name")) {
            h2 id=(format!("log-{number}-name")) { "Log " (id) }
            p.facts { (log_called(job)) }
            @if !notes.is_empty() { p.notes { (notes) } }
            p.bar {
                button.walk type="button" { (text::WALK) }
                a href="#top" { (text::TOP) }
                span.done aria-live="polite" {}
            }
            figure.end {
                (end_view(&drawn, &words, &format!("end-{number}"), text::END))
                figcaption { (text::END) ". " (text::HATCHED) }
            }
            ol.steps {
                @for (n, step) in steps.iter().enumerate() {
                    (one(&drawn, &words, *number, n, step))
                }
            }
        }
    })
}

/// One step.
fn one(drawn: &Drawn<'_>, words: &Words<'_>, log: usize, n: usize, step: &Step) -> Markup {
    let rest = step.place.and_then(|place| drawn.rest_of(place));
    let flitch = matches!(step.place, Some(Place::Edging { .. }));
    let head = format!("log-{log}-step-{n}");
    html! {
        li.step tabindex="-1" aria-labelledby=(head) {
            h3 id=(head) { (step.title) }
            @if step.says.len() == 1 { p { (step.says[0]) } }
            @else if !step.says.is_empty() {
                ul { @for says in &step.says { li { (says) } } }
            }
            @if let Some(rest) = rest {
                @if flitch {
                    figure { (flitch_view(drawn, rest, words, text::EDGE).unwrap_or_default()) }
                } @else {
                    figure.lies { (rest_view(drawn, rest, words, text::LIES).unwrap_or_default()) }
                    figure { (side_view(drawn, rest, words, text::SIDE).unwrap_or_default()) }
                }
            }
            @if !step.passes.is_empty() {
                ul.passes {
                    @for (m, pass) in step.passes.iter().enumerate() { (mark(log, n, m, pass)) }
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
