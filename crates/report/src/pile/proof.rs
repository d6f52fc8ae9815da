//! How good the plan of a pile is proven to be.

use super::Whole;
use crate::names::{self, amount};
use crate::page::Page;
use pithward_optimizer::{PilePlan, Taper};

/// The proof in plain sentences.
pub(super) fn proof(page: &mut Page, whole: &Whole<'_>) {
    let (job, plan) = (whole.job, whole.plan);
    page.heading("HOW GOOD", "");
    if plan.stopped {
        page.say("The search was stopped before it was done.");
    }
    let short = plan.tally.iter().any(|tally| tally.short() > 0);
    let graded = job.wants.iter().any(|want| want.grade.by_grade || want.grade.least.is_some());
    let clear = graded.then(|| CLEAR.to_owned());
    for sentence in [worth(plan, &job.worth.unit), clear, list(plan, short)].into_iter().flatten() {
        page.say(&sentence);
    }
    let many = if plan.proof.methods.len() == 1 { "this method" } else { "these methods" };
    page.say(&format!(
        "It speaks for {many}: {}; on {}. Another way of sawing may give more.",
        names::spoken_for(&plan.proof.methods),
        ground(whole)
    ));
    let work = match job.worth.hour {
        0 => "; work counts only between plans that are worth the same",
        _ => ", less what the hours of sawing weigh",
    };
    page.say(&format!("Worth is counted in {}{work}.", job.worth.unit));
}

/// Where boards are graded.
const CLEAR: &str = "That is reckoned as if no log had a defect: by what is seen on them less is possible, nobody knows how \
                     much less.";

/// On which logs the proof stands.
fn ground(whole: &Whole<'_>) -> &'static str {
    let is_round = whole.job.logs.iter().all(|log| log.log.is_round());
    if is_round && whole.pile.settings.taper == Taper::Searched {
        "round straight logs, for the ways of laying them and the places of the faces that were looked at, not for all"
    } else if is_round {
        "round straight logs, the planes at any height and on no grid"
    } else {
        "the logs as they were measured; of those that are not round, straight and sound for the ways of laying them and \
         the places of the faces that were looked at, not for all"
    }
}

/// By how much another plan could be worth more; what is said is never less than what is known.
pub(crate) fn worth(plan: &PilePlan, unit: &str) -> Option<String> {
    let Some(bound) = plan.proof.bound else {
        return Some(stopped_early().to_owned());
    };
    let more = bound.saturating_sub(plan.proof.value);
    let many = if plan.proof.methods.len() == 1 { "this method" } else { "these methods" };
    let short = plan.tally.iter().any(|tally| tally.short() > 0);
    let far = if short { "as far as this one, and no further," } else { "as far" };
    let plans = format!("Proven: no plan of {many} that fills the list {far} is worth more");
    Some(match plan.gap_millionths() {
        None if more <= 0 => format!("{plans}."),
        Some(0) => format!("{plans}."),
        Some(gap) => format!("{plans} than {} % above this one.", tenths_of_percent_up(gap)),
        None => format!("{plans} than {} above this one.", amount(more, unit)),
    })
}

/// Where no bound is known.
pub(super) const fn stopped_early() -> &'static str {
    "NOT PROVEN: it was stopped before any bound was known. Nothing is known of how much better another plan could be."
}

/// Whether more of the list could be filled.
pub(crate) fn list(plan: &PilePlan, short: bool) -> Option<String> {
    let said = match (short, plan.proof.list_is_proven, plan.proof.bound) {
        (false, ..) | (true, false, None) => return None,
        (true, true, _) => {
            "Proven: no plan of these methods gives one more piece of what is short."
        }
        (true, false, Some(_)) => {
            "It is NOT proven that no more of what is short could be given: another plan may find a piece of it in \
             these logs."
        }
    };
    Some(said.to_owned())
}

/// Millionths as percent, rounded up to a tenth.
pub(super) fn tenths_of_percent_up(gap: i64) -> String {
    let tenths = i128::from(gap.max(0)).saturating_add(999) / 1000;
    format!("{}.{}", tenths / 10, tenths % 10)
}

#[cfg(test)]
mod tests {
    use super::tenths_of_percent_up;

    #[test]
    fn a_gap_is_never_said_smaller_than_it_is() {
        assert_eq!(tenths_of_percent_up(1), "0.1");
        assert_eq!(tenths_of_percent_up(13_000), "1.3");
        assert_eq!(tenths_of_percent_up(13_001), "1.4");
        assert_eq!(tenths_of_percent_up(i64::MAX), "922337203685477.6");
    }
}
