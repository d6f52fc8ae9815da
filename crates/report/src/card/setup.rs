//! The head of the card, and how the log is laid down.

use super::Sheet;
use crate::names::{self, capital, count, height, percent, tenths};
use crate::page::Page;
use pithward_geometry::Rest;
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
    names::log(job, &job.log) + &species
}

/// Bark, method, and what comes out.
pub(crate) fn facts(page: &mut Page, sheet: &Sheet<'_>) {
    let plan = sheet.plan;
    page.hang("  bark    ", &bark(sheet));
    page.hang("  sawn    ", &format!("{}: {}", capital(plan.method.name()), work(sheet)));
    let out = format!(
        "{} = {} bf, {} of the wood",
        names::sizes(names::by_want(sheet.pieces.iter().copied().flatten())),
        tenths(plan.board_feet),
        percent(plan.share_of_solid)
    );
    page.hang("  gives   ", &out);
}

fn bark(sheet: &Sheet<'_>) -> String {
    let (job, log) = (sheet.job, &sheet.job.log);
    let [small, butt] = [log.bark_small(), log.bark_butt()].map(|bark| height(job, bark));
    match (log.bark_small(), log.bark_butt()) {
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
    let log: usize = order.stages.iter().map(|stage| stage.passes.len()).sum();
    let mut words = count(log, "pass", "passes");
    if order.turns() > 0 {
        words += &format!(", {}", count(order.turns(), "turn", "turns"));
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
    page.item("Knock off mud and stones; look for metal.");
    page.item(
        "Small end toward you. The log is taken as round and straight: any side may be up. Mark \
         12 o'clock and the pith on the small end, the pith on the butt.",
    );
    if let Some(stage) = sheet.plan.order.stages.first() {
        page.item(&level(sheet, 0, &stage.rest));
    }
    page.item(
        "Blade heights are from the bed to the underside of the cut, on the mill's own scale. \
         Openings are clear wood, without bark. Chalk its pass number on every piece that comes off.",
    );
}

/// Whether something must be raised to level the pith.
pub(super) fn is_raised(sheet: &Sheet<'_>, rest: &Rest) -> bool {
    height(sheet.job, rest.lift) != height(sheet.job, Length::ZERO)
}

/// What to raise, and the pith's height that proves it.
pub(super) fn level(sheet: &Sheet<'_>, stage: usize, rest: &Rest) -> String {
    let job = sheet.job;
    let pith = sheet.plan.replayed.pith.get(stage);
    let pith = pith.map(|(small, butt)| [*small, *butt].map(Length::from_inches_f64));
    let reads = match pith.map(|[small, butt]| [height(job, small), height(job, butt)]) {
        Some([small, butt]) if small == butt => {
            format!("the pith stands {small} over the bed at both ends")
        }
        Some([small, butt]) => {
            format!("the pith stands {small} over the bed at the small end and {butt} at the butt")
        }
        None => "the pith is level".to_owned(),
    };
    if !is_raised(sheet, rest) {
        return format!("Nothing to raise: {reads}. Clamp.");
    }
    let lift = height(job, rest.lift);
    format!("Raise the small end {lift}, until {reads}; the pith decides, not the lift. Clamp.")
}
