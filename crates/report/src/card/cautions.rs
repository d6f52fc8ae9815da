//! Where someone can get hurt: short, and deferring to those who know the machine and the code.

use super::Sheet;
use crate::names::height;
use crate::page::Page;

/// The cautions.
pub(super) fn cautions(page: &mut Page, sheet: &Sheet<'_>) {
    let order = &sheet.plan.order;
    let passes = order.stages.iter().chain(order.edgings.iter().flat_map(|edging| &edging.stages));
    let lowest = passes.flat_map(|stage| &stage.passes).map(|pass| pass.printed).min();
    let low = lowest.map_or(String::new(), |lowest| {
        format!(" The lowest pass is at {}.", height(sheet.job, lowest))
    });
    page.heading("CAUTIONS", "");
    page.item(&format!("Stops, clamp and shims below the blade before every pass.{low}"));
    page.item("Yard trees hold nails, wire and hooks: go over the log with a detector first.");
    page.item("Logs roll: nobody downhill, chocks in, nobody between pile and mill.");
    page.item(
        "A band can break: nobody in its plane or at the discharge end, covers shut, blade stopped \
         before anyone reaches in.",
    );
    page.item("Know what the log weighs before the loader lifts it; the mill's manual rules.");
    page.item(
        "This is rough, green, ungraded lumber: where the building code asks for a grade stamp or a \
         certificate, it needs one before it goes into a building.",
    );
}
