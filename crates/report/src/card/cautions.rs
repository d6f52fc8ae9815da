//! Where someone can get hurt: short, and deferring to those who know the machine and the code.

use crate::grade_words;
use crate::names::height;
use crate::page::Page;
use crate::terms::Terms;
use pithward_geometry::SawingOrder;
use pithward_measure::Length;

/// The cautions; with the lowest height at which the blade passes, where there is one.
pub(crate) fn cautions(page: &mut Page, job: &impl Terms, lowest: Option<Length>) {
    page.heading("CAUTIONS", "");
    items(job, lowest).iter().for_each(|item| page.item(item));
}

/// The same, item by item.
pub(crate) fn items(job: &impl Terms, lowest: Option<Length>) -> Vec<String> {
    let low = lowest
        .map_or(String::new(), |lowest| format!(" The lowest pass is at {}.", height(job, lowest)));
    [
        &*format!("Stops, clamp and shims below the blade before every pass.{low}"),
        "Yard trees hold nails, wire and hooks: go over the log with a detector first.",
        "Logs roll: nobody downhill, chocks in, nobody between pile and mill.",
        "A band can break: nobody in its plane or at the discharge end, covers shut, blade stopped \
         before anyone reaches in.",
        "Know what the log weighs before the loader lifts it; the mill's manual rules.",
        grade_words::STAMP,
    ]
    .map(str::to_owned)
    .to_vec()
}

/// What parts that are put back on the mill ask for, where any log has some.
pub(crate) fn parts<'o>(page: &mut Page, orders: impl IntoIterator<Item = &'o SawingOrder>) {
    if orders.into_iter().any(|order| !order.resaws.is_empty()) {
        page.item(
            "Halves, segments and quarters are hard to hold and may roll: clamp on their flats, chocks \
             beside what is set aside, nobody in the way as one is freed. One may be heavier than \
             anyone can lift: move it as the log was moved; the mill's manual rules.",
        );
    }
}

/// The lowest printed height of all passes of a log.
pub(crate) fn lowest(order: &SawingOrder) -> Option<Length> {
    let stages = order.stages.iter().chain(order.resaws.iter().flat_map(|resaw| &resaw.stages));
    let stages = stages.chain(order.edgings.iter().flat_map(|edging| &edging.stages));
    stages.flat_map(|stage| &stage.passes).map(|pass| pass.printed).min()
}
