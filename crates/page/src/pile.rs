//! The whole page: its head, the counts, the order of the logs, and their sections.

use crate::log::{Shown, section};
use crate::text;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use pithward_draw::{Drawn, hatching, style, thumbnail};
use pithward_geometry::ReplayFault;
use pithward_job::PileJob;
use pithward_optimizer::{LogFate, PilePlan};
use pithward_report::want_called;

const STYLE: &str = include_str!("page.css");
const SCRIPT: &str = include_str!("page.js");

/// A pile and its plan as one page of HTML. Marks belong to a plan: of another one there are none.
///
/// # Errors
/// A plan that cannot be gone through, because it does not replay.
pub fn pile_page(job: &PileJob, plan: &PilePlan) -> Result<String, ReplayFault> {
    let order: Vec<usize> = plan.order.iter().flat_map(|lot| lot.logs.iter().copied()).collect();
    let sawn = |log: usize| match plan.logs.get(log) {
        Some(LogFate::Sawn(sawn)) => Some(sawn),
        _ => None,
    };
    let mut sections = Vec::with_capacity(order.len());
    let mut lines = Vec::with_capacity(order.len());
    for (n, log) in order.iter().enumerate() {
        let (Some(plan), Some(known)) = (sawn(*log), job.logs.get(*log)) else { continue };
        let of = job.log_job(*log);
        let number = n + 1;
        sections.push(section(&Shown {
            number,
            id: &known.id,
            notes: &known.notes,
            job: &of,
            plan,
        })?);
        lines.push(line(number, &known.id, &Drawn::of(&of.log, &of.mill, plan)?));
    }
    let left: Vec<&str> = (0..job.logs.len())
        .filter(|log| !order.contains(log))
        .filter_map(|log| job.logs.get(log).map(|known| known.id.as_str()))
        .collect();
    let text = sections.iter().flat_map(|section: &Markup| section.0.bytes()).collect::<Vec<u8>>();
    let key = format!("{:08x}", crc32fast::hash(&text));
    let title = if job.site.is_empty() { "pithward" } else { &job.site };
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) }
                style { (PreEscaped(style())) (PreEscaped(STYLE)) }
            }
            body data-key=(key) {
                (hatching())
                header id="top" {
                    h1 { (title) }
                    @if !job.date.is_empty() { p { (job.date) } }
                    @if !job.notes.is_empty() { p.notes { (job.notes) } }
                }
                main {
                    section.summary aria-labelledby="summary" {
                        h2 id="summary" { (text::SUMMARY) }
                        (counts(job, plan))
                        p.bar {
                            button.save type="button" { (text::SAVE) }
                            button.print type="button" { (text::PRINT) }
                        }
                        p.hint { (text::SAVE_SAYS) }
                    }
                    nav.order aria-labelledby="order" {
                        h2 id="order" { (text::ORDER) }
                        ol { @for line in &lines { (line) } }
                        @if !left.is_empty() { p { (text::NOT_SAWN) ": " (left.join(", ")) } }
                    }
                    @for section in &sections { (section) }
                }
                div.walker hidden {
                    button.back type="button" { (text::BACK) }
                    button.all type="button" { (text::ALL) }
                    button.next type="button" { (text::NEXT) }
                }
                script { (PreEscaped(SCRIPT)) }
            }
        }
    };
    Ok(page.into_string())
}

/// A log in the order: its end, its name, a link to its section.
fn line(number: usize, id: &str, drawn: &Drawn<'_>) -> Markup {
    html! {
        li {
            a href=(format!("#log-{number}")) {
                (thumbnail(drawn, &format!("end-{number}"), id))
                span.name { (id) }
                span.done data-of=(number) {}
            }
        }
    }
}

/// What was wanted, and what comes.
fn counts(job: &PileJob, plan: &PilePlan) -> Markup {
    html! {
        table {
            thead { tr {
                th scope="col" { (text::WANT) }
                th scope="col" { (text::WANTED) }
                th scope="col" { (text::COMES) }
                th scope="col" { (text::STILL) }
            } }
            tbody {
                @for (n, tally) in plan.tally.iter().enumerate().take(job.wants.len()) {
                    tr {
                        th scope="row" { (want_called(job, n)) }
                        td { @match tally.wanted { Some(wanted) => (wanted), None => (text::ANY) } }
                        td { (tally.given + tally.extra) }
                        td { @if tally.short() > 0 { (tally.short()) } }
                    }
                }
            }
        }
    }
}
