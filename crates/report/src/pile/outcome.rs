//! The head of the summary, and what comes out.

use super::Whole;
use crate::card::tally::columns;
use crate::names::{self, Named, amount, count, percent, tenths};
use crate::page::{Column, Page};
use crate::terms::Terms;
use pithward_geometry::SawingOrder;
use pithward_job::PileJob;
use pithward_optimizer::{LogFate, Tally, WantId};

/// Where, when, from which file; and in one line whether the list is filled.
pub(super) fn title(page: &mut Page, whole: &Whole<'_>) {
    let (job, plan) = (whole.job, whole.plan);
    let place: Vec<&str> =
        [job.site.as_str(), job.date.as_str()].into_iter().filter(|s| !s.is_empty()).collect();
    let logs = count(job.logs.len(), "log", "logs") + &of_stems(job);
    page.hang("PILE   ", &[&[logs.as_str()][..], &place].concat().join(", "));
    page.blank();
    if !job.file.is_empty() {
        page.hang("  job     ", &job.file);
    }
    if !job.notes.is_empty() {
        page.hang("  notes   ", &job.notes);
    }
    page.hang("  list    ", &verdict(whole));
    if plan.stopped {
        page.blank();
        page.say(
            "STOPPED BEFORE THE SEARCH WAS DONE: this is the best plan so far, and every cut of it holds; \
             a longer search may find a better one.",
        );
    }
}

/// How many of the logs are cut from stems; nothing where none is.
fn of_stems(job: &PileJob) -> String {
    let cut = job.logs.iter().filter(|log| log.told.of_stem).count();
    let stems = count(job.stems.len(), "stem", "stems");
    match cut {
        0 => String::new(),
        cut if cut == job.logs.len() => format!(" cut from {stems}"),
        cut => format!(", {cut} of them cut from {stems}"),
    }
}

/// Whether the list is filled, in one line.
fn verdict(whole: &Whole<'_>) -> String {
    let tally = &whole.plan.tally;
    let short: Vec<String> = tally
        .iter()
        .enumerate()
        .filter(|(_, tally)| tally.short() > 0)
        .map(|(want, tally)| format!("{} of {}", tally.short(), whole.want(want)))
        .collect();
    if !short.is_empty() {
        return format!("SHORT: {}.", names::list(&short));
    }
    if tally.iter().any(|tally| tally.wanted.is_some()) {
        "FILLED: every count is met.".to_owned()
    } else {
        "nothing is counted: the most is made of every log.".to_owned()
    }
}

/// The wants side by side, and the totals.
pub(super) fn outcome(page: &mut Page, whole: &Whole<'_>) {
    let (job, plan) = (whole.job, whole.plan);
    page.heading("WHAT COMES OUT", "");
    let wants: Vec<usize> = (0..plan.tally.len()).collect();
    table(page, job, &wants, &plan.tally, whole.gives.iter().flatten().copied());
    page.blank();
    if whole.sequence.is_empty() {
        page.say("No log is sawn: nothing comes out.");
    } else {
        page.say(&totals(whole));
        page.say(&work(whole));
    }
    page.say(&fates(whole));
}

/// Wanted, given, short, over and board feet of these wants.
pub(super) fn table(
    page: &mut Page,
    job: &PileJob,
    wants: &[usize],
    tally: &[Tally],
    pieces: impl Iterator<Item = Named>,
) {
    let mut board_feet = vec![0_i64; tally.len()];
    for piece in pieces {
        if let Some(sum) = board_feet.get_mut(piece.want) {
            *sum = sum.saturating_add(piece.board_feet());
        }
    }
    let tally: Vec<Tally> = wants.iter().filter_map(|n| tally.get(*n)).copied().collect();
    let names: Vec<String> = wants.iter().map(|n| names::want_row(job, WantId(*n))).collect();
    let board_feet = wants.iter().filter_map(|n| board_feet.get(*n)).copied().map(tenths);
    let mut columns = columns(&tally, "over");
    columns.push(Column::new(&["bf"], board_feet.collect()));
    page.table("want", &names, &columns);
}

fn totals(whole: &Whole<'_>) -> String {
    let (job, plan) = (whole.job, whole.plan);
    let metres = if job.scale().is_metric() {
        let named: f64 = whole.gives.iter().flatten().map(Named::cubic_metres).sum();
        format!(", {named:.3} m3")
    } else {
        String::new()
    };
    let worth = if (plan.worth, job.worth.unit.as_str()) == (plan.board_feet, "board feet") {
        String::new()
    } else {
        format!(" Worth {}.", amount(plan.worth, &job.worth.unit))
    };
    format!(
        "{} board feet by named size{metres}; {} of the wood of the logs that are sawn.{worth}",
        tenths(plan.board_feet),
        percent(plan.share_of_solid)
    )
}

/// Passes and turns over all logs.
fn work(whole: &Whole<'_>) -> String {
    let orders = || whole.sawn().map(|(_, plan)| &plan.order);
    format!(
        "{} with edging, and {}.",
        count(orders().map(SawingOrder::passes).sum(), "pass", "passes"),
        count(orders().map(SawingOrder::turns).sum(), "turn", "turns")
    )
}

/// How many logs are sawn, left whole, and not to be sawn.
fn fates(whole: &Whole<'_>) -> String {
    let fates = &whole.plan.logs;
    let number = |of: fn(&LogFate) -> bool| fates.iter().filter(|fate| of(fate)).count();
    let sawn = number(|fate| matches!(fate, LogFate::Sawn(_)));
    let mut words = vec![format!("{} sawn", count(sawn, "log is", "logs are"))];
    for (n, one, many) in [
        (number(|fate| matches!(fate, LogFate::LeftWhole)), "is left whole", "are left whole"),
        (number(|fate| matches!(fate, LogFate::Impossible(_))), "cannot be sawn", "cannot be sawn"),
        (number(|fate| matches!(fate, LogFate::Unplanned)), "has no plan", "have no plan"),
    ] {
        if n > 0 {
            words.push(count(n, one, many));
        }
    }
    words.join(", ") + "."
}
