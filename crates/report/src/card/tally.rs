//! What was wanted and what comes.

use super::Sheet;
use crate::names::{self, Named, list, percent, tenths};
use crate::page::{Column, Page};
use pithward_optimizer::{Tally, WantId};

/// Wanted, given, short and extra for every want; board feet and share of the wood.
pub(super) fn tally(page: &mut Page, sheet: &Sheet<'_>) {
    let (job, plan, pieces) = (sheet.job, sheet.plan, &sheet.pieces);
    page.heading("TALLY", "");
    let of = |want: usize| pieces.iter().flatten().filter(move |piece| piece.want == want);
    let wants: Vec<String> =
        (0..plan.tally.len()).map(|n| names::want_row(job, WantId(n))).collect();
    let board_feet =
        (0..plan.tally.len()).map(|n| tenths(of(n).map(Named::board_feet).sum())).collect();
    let mut columns = columns(&plan.tally, "extra");
    columns.push(Column::new(&["bf"], board_feet));
    page.table("want", &wants, &columns);
    for (n, want) in job.wants.iter().enumerate() {
        let mut sizes: Vec<Named> = of(n).copied().collect();
        let first = sizes.first().map(|piece| piece.size);
        if sizes.iter().any(|piece| Some(piece.size) != first) {
            sizes.sort_by_key(|piece| std::cmp::Reverse(*piece));
            page.hang(&format!("  of the {}: ", want.size.section()), &names::sizes(sizes));
        }
    }
    let metres = if job.scale.is_metric() {
        let named: f64 = pieces.iter().flatten().map(Named::cubic_metres).sum();
        format!(", {named:.3} m3")
    } else {
        String::new()
    };
    page.say(&format!(
        "{} board feet by named size{metres}; {} of the wood inside the bark, as sawn.",
        tenths(plan.board_feet),
        percent(plan.share_of_solid)
    ));
    let short: Vec<String> = plan
        .tally
        .iter()
        .enumerate()
        .filter(|(_, tally)| tally.short() > 0)
        .map(|(n, tally)| format!("{} of {}", tally.short(), names::want(job, WantId(n))))
        .collect();
    if !short.is_empty() {
        page.say(&format!("SHORT: {}. Take them from another log.", list(&short)));
    }
}

/// Wanted, given, short and what is beyond the count, under the name `beyond`.
pub(crate) fn columns(tally: &[Tally], beyond: &str) -> Vec<Column> {
    let figures = |figure: &dyn Fn(&Tally) -> Option<u32>| {
        let cell = |tally| match figure(tally) {
            Some(0) => "-".to_owned(),
            Some(n) => n.to_string(),
            None => "any".to_owned(),
        };
        tally.iter().map(cell).collect::<Vec<_>>()
    };
    vec![
        Column::new(&["wanted"], figures(&|tally| tally.wanted)),
        Column::new(&["given"], figures(&|tally| Some(tally.given))),
        Column::new(&["short"], figures(&|tally| Some(tally.short()))),
        Column::new(&[beyond], figures(&|tally| Some(tally.extra))),
    ]
}
