//! The head of the card, and how the log is laid down.

use super::bodies::At;
use super::{Sheet, hazards, rest_words};
use crate::names::{self, capital, count, height, percent, tenths};
use crate::page::Page;
use crate::{grade_words, grown};
use pithward_geometry::{End, Rest};
use pithward_job::{BarkSource, LogJob};
use pithward_measure::Length;

/// The log, the method, and what comes out.
pub(super) fn title(page: &mut Page, sheet: &Sheet<'_>) {
    page.hang("CUT CARD   ", &log(sheet.job));
    page.blank();
    facts(page, sheet);
}

/// A log's size and species in words.
pub(crate) fn log(job: &LogJob) -> String {
    let species =
        job.species.map_or(String::new(), |species| format!(", {}", names::species(species)));
    match (job.told.taped, job.log.sections()) {
        (Some(taped), _) => {
            let [small, butt] = [taped.small, taped.butt].map(|end| across(job, &end));
            let length = names::long(job, taped.length);
            format!("{small} small end, {butt} butt, {length} long{species}")
        }
        (None, Some(_)) => format!("{}{species}, mean diameters", names::log(job, &job.log)),
        (None, None) => names::log(job, &job.log) + &species,
    }
}

/// An end as it was taped: one diameter, or two.
fn across(job: &LogJob, end: &End) -> String {
    let shorter = names::diameter(job, end.shorter);
    if end.longer == end.shorter {
        return shorter;
    }
    // The unit once.
    let longer = names::diameter(job, end.longer);
    let bare = longer.rsplit_once(' ').map_or(longer.as_str(), |(figure, _)| figure);
    format!("{bare} x {shorter}")
}

/// Shape, flaws, bark, method, what comes out, and how it is laid.
pub(crate) fn facts(page: &mut Page, sheet: &Sheet<'_>) {
    let plan = sheet.plan;
    let shape = grown::shape(sheet.job, &sheet.job.log, &sheet.job.told);
    if !shape.is_empty() {
        page.hang("  shape   ", &shape.join("; "));
    }
    if sheet.job.is_by_mean() {
        page.hang("  ends    ", grown::BY_MEAN);
    }
    if let Some(words) = grown::scanned(&sheet.job.told) {
        page.hang("  scanned ", &words);
    }
    hazards::facts(page, sheet);
    page.hang("  bark    ", &bark(sheet));
    page.hang("  sawn    ", &format!("{}: {}", capital(plan.method.name()), work(sheet)));
    let out = format!(
        "{} = {} bf, {} of the wood",
        names::sizes(names::by_want(sheet.pieces.iter().copied().flatten())),
        tenths(plan.board_feet),
        percent(plan.share_of_solid)
    );
    page.hang("  gives   ", &out);
    if let Some(grades) = grade_words::expected(sheet.job, plan) {
        page.hang("  grades  ", &grades);
    }
    if let Some(choice) = rest_words::choice(sheet) {
        page.hang("  laid    ", &choice);
    }
}

fn bark(sheet: &Sheet<'_>) -> String {
    let (job, log) = (sheet.job, &sheet.job.log);
    let [small, butt] = [log.bark_small(), log.bark_butt()].map(|bark| height(job, bark));
    match (log.bark_small(), log.bark_butt()) {
        (Length::ZERO, Length::ZERO) if job.told.scanned.is_some() => {
            "none: the scan is taken as that of the peeled log. Bark lifts the wood off the bed and \
             every height with it: if it was scanned with its bark on, say so and plan again"
                .to_owned()
        }
        (Length::ZERO, Length::ZERO) if job.bark == BarkSource::None => {
            "none reckoned with: neither a species nor a thickness was given. Bark lifts the wood off \
             the bed and every height with it: if there is any, say so and plan again"
                .to_owned()
        }
        (Length::ZERO, Length::ZERO) => "none, as given".to_owned(),
        _ if small == butt => format!("{small} thick; the diameters above are inside it"),
        _ => format!(
            "{small} at the small end, {butt} at the butt; the diameters above are inside it"
        ),
    }
}

fn work(sheet: &Sheet<'_>) -> String {
    let order = &sheet.plan.order;
    let bodies = sheet.bodies().flat_map(|body| sheet.stages(body));
    let log: usize = bodies.map(|stage| stage.passes.len()).sum();
    let mut words = count(log, "pass", "passes");
    if order.turns() > 0 {
        words += &format!(", {}", count(order.turns(), "turn", "turns"));
    }
    if !order.resaws.is_empty() {
        let parts = count(order.resaws.len(), "part", "parts");
        words += &format!(", {parts} taken off and put back");
    }
    let batches = order.batches().count();
    if batches > 0 {
        let edging = count(order.passes() - log, "pass", "passes");
        words += &format!("; edging in {}, {edging}", count(batches, "batch", "batches"));
    }
    words + "."
}

/// How the log is laid down for the first face.
pub(super) fn set_up(page: &mut Page, sheet: &Sheet<'_>) {
    page.heading("SET-UP", "");
    items(sheet).iter().for_each(|item| page.item(item));
}

/// The same, item by item.
pub(super) fn items(sheet: &Sheet<'_>) -> Vec<String> {
    let mut items = vec!["Knock off mud and stones; look for metal.".to_owned()];
    items.extend(hazards::before(sheet));
    let first = sheet.plan.order.stages.first();
    match first.filter(|_| !grown::any_side_up(&sheet.job.log)) {
        Some(stage) => items.extend(lay(sheet, &stage.rest)),
        None => items.push(
            "Small end toward you. The log is taken as round and straight: any side may be up. Mark \
             12 o'clock and the pith on the small end, the pith on the butt."
                .to_owned(),
        ),
    }
    if let Some(stage) = first {
        items.push(rest_words::level(sheet, At::log(0), &stage.rest));
        items.extend(rest_words::flare(sheet, At::log(0), &stage.rest));
    }
    items.push(
        "Blade heights are from the bed to the underside of the cut, on the mill's own scale. \
         Openings are clear wood, without bark. Chalk its pass number on every piece that comes off, on \
         the side that is up."
            .to_owned(),
    );
    items
}

/// Which side comes up, of a log that is not the same from every side.
fn lay(sheet: &Sheet<'_>, rest: &Rest) -> Vec<String> {
    let mut items = vec![
        "Small end toward you. Mark 12 o'clock on it as it was when the log was measured, and the \
         pith on both ends."
            .to_owned(),
    ];
    let lying = rest_words::lying(&sheet.job.log, rest);
    let so = if lying.is_empty() { String::new() } else { format!(": {lying}") };
    let mark = rest_words::mark(rest);
    items.push(match rest.turn.as_millidegrees().rem_euclid(360_000) {
        0 => format!("It lies as it was measured, 12 o'clock up{so}."),
        _ => format!(
            "Turn it until {} is up; the 12 o'clock mark then points to {mark}{so}.",
            rest_words::up(rest)
        ),
    });
    items.extend(rest_words::bow_advice(sheet));
    items
}
