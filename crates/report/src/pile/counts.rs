//! How many of one size a pile gives.

use super::proof::stopped_early;
use super::{Whole, stems};
use crate::names::{self, count, long};
use crate::obstacle;
use crate::page::{Column, Page};
use crate::terms::Terms;
use pithward_job::{JobLog, PileJob};
use pithward_measure::{Length, Size};
use pithward_optimizer::{Effort, LogFate, Pile, PilePlan, WantId};

/// Logs whose small ends lie within so much of each other are one kind.
const SMALL_END_STEP: Length = Length::inches(2);
/// The same on a metric scale.
const SMALL_END_STEP_METRIC: Length = Length::mm(50);
/// Lengths within so much of each other are one kind.
const LENGTH_STEP: Length = Length::feet(1);
/// The same on a metric scale.
const LENGTH_STEP_METRIC: Length = Length::mm(500);

/// What only decides between plans that are worth the same, passes and turns, is a millionth of a piece for each thousand
/// of them: over any pile less than this part of a piece.
const TIES: i64 = 10;

/// How many of one size a pile gives when nothing else is sawn from it, as plain text of at most 80 columns: in all, by
/// kind of log, and the logs that give none and why.
///
/// The job's only want is this size, as many as come.
pub fn pile_counts(job: &PileJob, pile: &Pile, size: &Size, plan: &PilePlan) -> String {
    let whole = Whole::new(job, pile, plan);
    let mut page = Page::default();
    let size = match job.wants.as_slice() {
        [_] => names::want_row(job, WantId(0)),
        _ => size.to_string(),
    };
    let logs = count(job.logs.len(), "log", "logs");
    let of = if job.file.is_empty() { String::new() } else { format!(" of {}", job.file) };
    page.hang(&format!("COUNT OF {size}   "), &(logs + &of));
    page.blank();
    if plan.stopped {
        page.say("STOPPED BEFORE THE SEARCH WAS DONE: these are the most that were found so far.");
        page.blank();
    }
    let pieces: usize = whole.gives.iter().map(Vec::len).sum();
    if pieces == 0 {
        page.say(&format!("Not one {size} comes from this pile on this mill."));
    } else {
        page.say(&format!(
            "{pieces} of {size} from {}, if nothing else is sawn.",
            count(whole.sawn().count(), "log", "logs")
        ));
        page.say(&proven(&whole, pieces));
        page.blank();
        by_kind(&mut page, &whole);
    }
    stems::stems(&mut page, &whole);
    none(&mut page, &whole);
    page.finish()
}

/// That no more come, as far as that is known.
fn proven(whole: &Whole<'_>, pieces: usize) -> String {
    let proof = &whole.plan.proof;
    let methods = names::methods(&proof.methods);
    let Some(bound) = proof.bound else { return stopped_early().to_owned() };
    // Every piece is worth the same and work weighs nothing: then the bound is a count too. What only decides between plans
    // that are worth the same never adds up to a part of a piece.
    let each = i64::try_from(pieces)
        .ok()
        .filter(|pieces| {
            whole.pile.effort == Effort::default()
                && whole.plan.worth.checked_rem(*pieces) == Some(0)
        })
        .and_then(|pieces| whole.plan.worth.checked_div(pieces));
    let most = each.filter(|each| *each > 0).map(|each| bound.saturating_add(each / TIES) / each);
    match most.and_then(|most| usize::try_from(most).ok()) {
        Some(most) if most > pieces => {
            format!("Proven: no way of these methods gives more than {most} ({methods}).")
        }
        Some(_) => format!("Proven: no way of these methods gives one more ({methods})."),
        None => format!("Searched: {methods}."),
    }
}

/// Logs of one wood, much alike in small end and length.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Kind {
    wood: String,
    small_end: Length,
    length: Length,
}

fn kind(job: &PileJob, log: &JobLog) -> Kind {
    let (small, long) = steps(job);
    let down = |length: Length, step: Length| step * length.div_floor(step);
    Kind {
        wood: log.species.map_or_else(String::new, names::species),
        small_end: down(log.log.small_end(), small),
        length: down(log.log.length(), long),
    }
}

fn steps(job: &PileJob) -> (Length, Length) {
    if job.scale().is_metric() {
        (SMALL_END_STEP_METRIC, LENGTH_STEP_METRIC)
    } else {
        (SMALL_END_STEP, LENGTH_STEP)
    }
}

fn by_kind(page: &mut Page, whole: &Whole<'_>) {
    let mut kinds: std::collections::BTreeMap<Kind, Vec<usize>> = std::collections::BTreeMap::new();
    for (n, log) in whole.job.logs.iter().enumerate() {
        kinds.entry(kind(whole.job, log)).or_default().push(whole.gives.get(n).map_or(0, Vec::len));
    }
    let (small, length) = steps(whole.job);
    let scale = whole.job.scale();
    let rows: Vec<String> = kinds
        .keys()
        .map(|kind| {
            let wood =
                if kind.wood.is_empty() { String::new() } else { format!("{}, ", kind.wood) };
            format!(
                "{wood}{} to {} x {} to {}",
                scale.bare(kind.small_end),
                scale.show(kind.small_end + small),
                long(whole.job, kind.length),
                long(whole.job, kind.length + length)
            )
        })
        .collect();
    let cells = |cell: &dyn Fn(&[usize]) -> String| kinds.values().map(|logs| cell(logs)).collect();
    let figure = |n: usize| if n == 0 { "-".to_owned() } else { n.to_string() };
    page.table(
        "kind of log, small end x length",
        &rows,
        &[
            Column::new(&["logs"], cells(&|logs| logs.len().to_string())),
            Column::new(&["pieces"], cells(&|logs| figure(logs.iter().sum()))),
            Column::new(
                &["from", "each"],
                cells(&|logs| match [logs.iter().min(), logs.iter().max()]
                    .map(|n| n.copied().unwrap_or(0))
                {
                    [least, most] if least == most => figure(least),
                    [least, most] => format!("{least}-{most}"),
                }),
            ),
        ],
    );
    page.say("Each line is from its first figure to just under its second.");
}

/// The logs that give none, those with the same reason together.
fn none(page: &mut Page, whole: &Whole<'_>) {
    let mut groups: Vec<(String, Vec<usize>)> = Vec::new();
    for (log, fate) in whole.plan.logs.iter().enumerate() {
        let why = match fate {
            LogFate::Sawn(_) => continue,
            LogFate::Impossible(obstacles)
                if !obstacles.is_empty() && log < whole.job.logs.len() =>
            {
                obstacle::told(&whole.job.log_job(log), obstacles, false).join(" ")
            }
            LogFate::Impossible(_) => "No method gives a single piece from it.".to_owned(),
            LogFate::LeftWhole => "A piece from it is not worth the passes.".to_owned(),
            LogFate::Unplanned => "The search was stopped before it came to it.".to_owned(),
        };
        match groups.iter_mut().find(|(known, _)| *known == why) {
            Some((_, logs)) => logs.push(log),
            None => groups.push((why, vec![log])),
        }
    }
    if groups.is_empty() {
        return;
    }
    page.heading("GIVE NONE", "and why");
    for (why, logs) in groups {
        let noun = if logs.len() == 1 { "log" } else { "logs" };
        page.item(&format!("{noun} {}: {why}", whole.ids(&logs)));
    }
}
