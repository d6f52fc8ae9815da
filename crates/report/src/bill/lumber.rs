//! The lumber in its stated measure, and what it weighs.

use pithward_trade::SizePolicy;

use super::Billed;
use crate::names::{self, count, tenths};
use crate::paper::{Paper, Side, Table};
use crate::quote::words;

/// The lumber by size.
pub(super) fn list(paper: &mut Paper, billed: &Billed<'_>) {
    let carried = billed.carried;
    paper.heading("Lumber");
    if carried.lines.is_empty() {
        paper.say("None yet.");
        return;
    }
    let mut table = Table::new(&[
        ("size", Side::Left),
        ("wood", Side::Left),
        ("pieces", Side::Right),
        ("board feet", Side::Right),
        ("each, green", Side::Right),
    ]);
    for line in &carried.lines {
        table.row([
            line.size.to_string(),
            line.species.map_or_else(|| "not told".to_owned(), names::species),
            line.count.to_string(),
            tenths(line.board_feet),
            words::weight(billed.job, line.each),
        ]);
    }
    table.sum([
        "in all".to_owned(),
        String::new(),
        carried.count().to_string(),
        tenths(carried.board_feet()),
        words::weight(billed.job, carried.loads.weight),
    ]);
    paper.table(table);
    let unwanted: u32 = carried.lines.iter().map(|line| line.unwanted).sum();
    let mut said = vec![
        "sawn from the customer's own logs, as a service: rough, green and ungraded".to_owned(),
        measure(billed.job.policy).to_owned(),
        "a board foot is 144 cubic inches: inches of thickness x inches of width x feet of length / 12, by the sizes as \
         named, thicknesses under an inch as an inch; every piece exactly, and the sums rounded once, to a tenth"
            .to_owned(),
        "counted piece by piece as the tally has them; random widths at the width that was told".to_owned(),
    ];
    if unwanted > 0 {
        said.push(format!(
            "{} for no line of the list, at {} own size",
            count(unwanted as usize, "piece is", "pieces are"),
            if unwanted == 1 { "its" } else { "their" }
        ));
    }
    paper.items(said);
}

/// Which measure the sizes are in.
fn measure(policy: SizePolicy) -> &'static str {
    match policy {
        SizePolicy::Full => {
            "full sizes: as thick and as wide as they are named, measured green off the saw; wood shrinks as it dries"
        }
        SizePolicy::Dressed => {
            "nominal sizes: named by the names of the trade, sawn rough so that they dry and dress to the smaller sizes that \
             the softwood standard has for these names"
        }
        SizePolicy::Finished(_) => {
            "finished sizes: named by what is left once they are dry and planed, sawn rough with room for both"
        }
    }
}

/// What the hauler gets to carry.
pub(super) fn weights(paper: &mut Paper, billed: &Billed<'_>) {
    let (job, loads) = (billed.job, &billed.carried.loads);
    if billed.carried.lines.is_empty() {
        return;
    }
    paper.heading("For the hauler");
    let all = words::weight(job, loads.weight);
    let Some(payload) = loads.payload else {
        paper.say(format!(
            "The lumber weighs about {all} green. Hold that against what truck and trailer may carry: nobody said (payload, \
             below [lumber])."
        ));
        return;
    };
    paper.say(format!(
        "The lumber weighs about {all} green: {} of at most {}.",
        count(loads.loads.len(), "load", "loads"),
        words::weight(job, payload)
    ));
    let each = |load: &pithward_day::goods::Load| words::weight(job, load.weight);
    if loads.loads.len() > 1 {
        let weights: Vec<String> = loads.loads.iter().map(each).collect();
        paper.say(format!("Load by load: {}.", names::list(&weights)));
        paper.caution(format!(
            "In one load it is over the payload of {}.",
            words::weight(job, payload)
        ));
    }
    let over: u32 = loads.over.iter().map(|(_, pieces)| pieces).sum();
    if over > 0 {
        paper.caution(format!(
            "{} heavier than the whole payload.",
            count(over as usize, "piece is", "pieces are")
        ));
    }
}
