//! Logs that are not sawn, and why.

use super::Whole;
use crate::names::{self, count};
use crate::obstacle;
use crate::page::Page;
use pithward_job::PileJob;
use pithward_optimizer::LogFate;

/// Logs left whole, logs that cannot be sawn, logs without a plan; nothing when every log is sawn.
pub(super) fn left(page: &mut Page, whole: &Whole<'_>) {
    let of = |is: fn(&LogFate) -> bool| -> Vec<usize> {
        let logs = whole.plan.logs.iter().enumerate();
        logs.filter(|(_, fate)| is(fate)).map(|(log, _)| log).collect()
    };
    let spared = of(|fate| matches!(fate, LogFate::LeftWhole));
    if !spared.is_empty() {
        page.heading("LEFT WHOLE", "they could be sawn");
        for (why, logs) in grouped(spared, |log| why_spared(whole, log)) {
            page.item(&format!("{}: {why}", logs_named(whole, &logs)));
        }
    }
    let impossible = of(|fate| matches!(fate, LogFate::Impossible(_)));
    if !impossible.is_empty() {
        page.heading("CANNOT BE SAWN", "and what would make it possible");
        for (why, logs) in grouped(impossible, |log| why_impossible(whole, log)) {
            page.item(&format!("{}: {why}", logs_named(whole, &logs)));
        }
    }
    let unplanned = of(|fate| matches!(fate, LogFate::Unplanned));
    if !unplanned.is_empty() {
        page.heading("WITHOUT A PLAN", "");
        page.item(&format!(
            "{}: the search was stopped before it came to {}. Let it run longer.",
            logs_named(whole, &unplanned),
            if unplanned.len() == 1 { "it" } else { "them" }
        ));
    }
}

/// What is known of single logs, as their cards say it too.
pub(super) fn noted(page: &mut Page, job: &PileJob) {
    let mut noted = job.logs.iter().filter(|log| !log.notes.is_empty()).peekable();
    if noted.peek().is_none() {
        return;
    }
    page.heading("NOTED", "on single logs");
    for log in noted {
        page.item(&format!("log {}: {}", log.id, log.notes));
    }
}

/// Logs of which the same is said, together, in the order of the pile.
fn grouped(logs: Vec<usize>, say: impl Fn(usize) -> String) -> Vec<(String, Vec<usize>)> {
    let mut groups: Vec<(String, Vec<usize>)> = Vec::new();
    for log in logs {
        let words = say(log);
        match groups.iter_mut().find(|(known, _)| *known == words) {
            Some((_, logs)) => logs.push(log),
            None => groups.push((words, vec![log])),
        }
    }
    groups
}

fn logs_named(whole: &Whole<'_>, logs: &[usize]) -> String {
    match logs {
        [one] => {
            let log = whole.job.logs.get(*one);
            let size =
                log.map_or(String::new(), |log| format!(" ({})", names::log(whole.job, &log.log)));
            format!("log {}{size}", whole.id(*one))
        }
        logs => format!("{}, {}", count(logs.len(), "log", "logs"), whole.ids(logs)),
    }
}

/// Why a log that could be sawn is not.
fn why_spared(whole: &Whole<'_>, log: usize) -> String {
    let menu = whole.pile.logs.get(log).and_then(|log| whole.pile.menus.get(log.menu));
    let open = menu.into_iter().flatten().zip(&whole.plan.tally).any(|(want, tally)| {
        let beyond = want.cuts.iter().any(|cut| cut.extra > 0);
        !want.cuts.is_empty() && (want.count.is_none() || tally.short() > 0 || beyond)
    });
    if open {
        "what it would still give of the list is not worth the passes, or is not in it. Keep it for another job."
            .to_owned()
    } else {
        "every count that its wood serves is filled, and no more is wanted. Keep it for another job.".to_owned()
    }
}

/// Why a log cannot be sawn, and the remedy.
fn why_impossible(whole: &Whole<'_>, log: usize) -> String {
    let Some(LogFate::Impossible(obstacles)) = whole.plan.logs.get(log) else {
        return String::new();
    };
    if log >= whole.job.logs.len() || obstacles.is_empty() {
        return obstacle::NOTHING.to_owned();
    }
    obstacle::told(&whole.job.log_job(log), obstacles, false).join(" ")
}
