//! How good the plan is proven to be, and what the other methods would give.

use super::Sheet;
use crate::names::{self, method_head, tenths, tenths_up};
use crate::page::{Column, Page};
use pithward_geometry::Frame;
use pithward_job::COUNT_FIRST;
use pithward_measure::Length;
use pithward_optimizer::{Planned, Tally, WantId};

/// One plain sentence from the proof, and the methods side by side.
pub(super) fn proof(page: &mut Page, sheet: &Sheet<'_>, planned: &Planned) {
    page.heading("HOW GOOD", "");
    page.say(&sentence(sheet, planned));
    let counted = sheet.job.wants.iter().any(|want| want.count.is_some());
    let first = if counted {
        format!(", {COUNT_FIRST} times that for a piece within a count, so that counts come first")
    } else {
        String::new()
    };
    page.say(&format!("Worth is board feet by named size{first}."));
    if planned.methods.len() > 1 {
        page.blank();
        methods(page, sheet, planned);
    }
}

fn sentence(sheet: &Sheet<'_>, planned: &Planned) -> String {
    let (plan, proof) = (&planned.plan, &planned.proof);
    let by = if proof.methods.len() == 1 { "this method" } else { "these methods" };
    let worth = match above(plan.worth, proof.worth_bound) {
        None => format!("Proven: no plan by {by} serves the list better"),
        Some(percent) => {
            format!("Proven: no plan by {by} is worth more than {percent} % above this one")
        }
    };
    let board_feet = if proof.board_feet_bound <= plan.board_feet {
        "and none gives more board feet of these sizes".to_owned()
    } else {
        format!(
            "and none gives more than {} bf of these sizes, whatever their count",
            tenths_up(proof.board_feet_bound)
        )
    };
    let methods = names::spoken_for(&proof.methods);
    format!("{worth}, {board_feet}. It speaks for {methods}, {}", ground(sheet))
}

/// On which log the proof stands, and what it does not speak for.
fn ground(sheet: &Sheet<'_>) -> String {
    let Frame { drift_u, drift_h, .. } = sheet.plan.order.frame;
    let is_level = drift_u == Length::ZERO && drift_h == Length::ZERO;
    if sheet.job.log.is_round() && is_level {
        return "on a round straight log, the planes at any height and on no grid; another way of \
                sawing may give more."
            .to_owned();
    }
    let log = match (sheet.job.log.sections(), sheet.job.log.flaws()) {
        (Some(_), []) => "on the log as it was measured",
        (Some(_), _) => "on the log as it was measured and with the flaws that were told",
        (None, []) => "on a round straight log",
        (None, _) => "on a round straight log with the flaws that were told",
    };
    let rests = &sheet.plan.rests;
    let tried = match (rests.tried, rests.ruled_out) {
        (0 | 1, _) => String::new(),
        (tried, 0) => format!(" {tried} ways of laying it were tried."),
        (tried, out) => format!(" {tried} ways of laying it were tried, {out} more ruled out."),
    };
    format!(
        "{log}, for laying it as this card says and for the places of its faces that were looked at, \
         not for all.{tried} Another way of laying or of sawing it may give more."
    )
}

/// How far a bound lies above a worth, in percent rounded up to a tenth; `None` when it does not.
fn above(worth: i64, bound: i64) -> Option<String> {
    let gap = i128::from(bound) - i128::from(worth);
    if gap <= 0 || worth <= 0 {
        return None;
    }
    let worth = i128::from(worth);
    let tenths = (gap * 1000 + worth - 1) / worth;
    Some(format!("{}.{}", tenths / 10, tenths % 10))
}

fn methods(page: &mut Page, sheet: &Sheet<'_>, planned: &Planned) {
    let wants = sheet.plan.tally.len();
    let mut rows: Vec<String> = (0..wants).map(|n| names::want_row(sheet.job, WantId(n))).collect();
    rows.extend(["board feet", "passes", "turns"].map(str::to_owned));
    let columns: Vec<Column> = planned
        .methods
        .iter()
        .map(|result| {
            let this = (result.method == sheet.plan.method).then_some("THIS");
            let head: Vec<&str> =
                this.into_iter().chain(method_head(result.method).iter().copied()).collect();
            let count = |tally: &Tally| match tally.given + tally.extra {
                0 => "-".to_owned(),
                n => n.to_string(),
            };
            let mut cells: Vec<String> = result.tally.iter().map(count).collect();
            cells.resize(wants, String::new());
            cells.push(tenths(result.board_feet));
            cells.push(result.passes.to_string());
            cells.push(result.turns.to_string());
            Column::new(&head, cells)
        })
        .collect();
    page.table("pieces by method", &rows, &columns);
}

#[cfg(test)]
mod tests {
    use super::above;

    #[test]
    fn a_gap_is_never_said_smaller_than_it_is() {
        assert_eq!(above(1_000_000, 1_000_000), None);
        assert_eq!(above(1_000_000, 1_000_001).as_deref(), Some("0.1"));
        assert_eq!(above(1_000_000, 1_123_000).as_deref(), Some("12.3"));
    }
}
