//! What was promised and what came of it, with what was noted on the day; and the logs.

use pithward_day::kept::Kept;
use pithward_tally::LogState;

use super::{Billed, hours::span};
use crate::names::{self, count, diameter, long, tenths};
use crate::paper::{Paper, Side, Table};
use crate::quote::words;

/// What was promised against what came, and the reasons.
pub(super) fn against_the_promise(paper: &mut Paper, billed: &Billed<'_>) {
    let so_far = billed.so_far;
    paper.heading("Promised, and come");
    let mut table = Table::new(&[
        ("size", Side::Left),
        ("asked", Side::Right),
        ("promised", Side::Right),
        ("come", Side::Right),
        ("over or short", Side::Right),
    ]);
    for (n, want) in so_far.wants.iter().enumerate() {
        let promised = billed
            .kept_want(want)
            .map(|kept| kept.promised.map_or(kept.planned, |promised| promised.safe));
        let asked = match (want.count, want.asked) {
            (Some(count), Some(before)) if count != before => format!("{count} (was {before})"),
            (Some(count), _) => count.to_string(),
            (None, _) => "any".to_owned(),
        };
        let over = match want.count.map(|count| i64::from(want.given) - i64::from(count)) {
            Some(0) | None => String::new(),
            Some(over) if over > 0 => format!("{over} over"),
            Some(short) => format!("{} short", -short),
        };
        let promised = promised.map_or_else(String::new, |promised| promised.to_string());
        table.row([billed.want(n), asked, promised, want.given.to_string(), over]);
    }
    paper.table(table);
    match billed.kept {
        None => paper.say("No promise of this job was kept (`pithward quote --keep` keeps one)."),
        Some(kept) => figures(paper, billed, kept),
    }
    reasons(paper, billed);
}

fn figures(paper: &mut Paper, billed: &Billed<'_>, kept: &Kept) {
    let on_site = f64::from(i32::try_from(billed.on_site()).unwrap_or(i32::MAX)) / 60.0;
    let mut table = Table::new(&[
        ("what", Side::Left),
        ("planned", Side::Right),
        ("promised", Side::Right),
        ("come", Side::Right),
    ]);
    let ranges = kept.ranges.as_ref();
    let between = |low: String, high: String| format!("{low} to {high}");
    table.row([
        "hours on site".to_owned(),
        words::time(kept.planned.on_site),
        ranges.map_or_else(String::new, |ranges| {
            between(words::time(ranges.minutes.low), words::time(ranges.minutes.high))
        }),
        words::time(on_site),
    ]);
    table.row([
        "board feet".to_owned(),
        words::whole_feet(kept.planned.board_feet),
        ranges.map_or_else(String::new, |ranges| {
            between(
                words::round_feet(ranges.board_feet.low),
                words::round_feet(ranges.board_feet.high),
            )
        }),
        words::whole_feet(billed.so_far.board_feet()),
    ]);
    let planned = billed.way.and_then(|way| kept.planned.by(way));
    let ranged = billed.way.and_then(|way| kept.price_range(way));
    if let (Some(planned), Some(Ok(own))) = (planned, billed.bill) {
        table.row([
            "price".to_owned(),
            planned.to_string(),
            ranged.map_or_else(String::new, |range| {
                between(range.low.to_string(), range.high.to_string())
            }),
            own.total.to_string(),
        ]);
    }
    paper.table(table);
    let unsawn = billed.not_sawn();
    paper.say(format!(
        "The promise was kept on {}; counts are those with nine chances in ten, ranges hold four days out of five.",
        kept.at.split('T').next().unwrap_or_default()
    ));
    if !unsawn.is_empty() {
        paper.say(format!(
            "{} that {} planned {} not sawn: {}.",
            names::capital(&count(unsawn.len(), "log", "logs")),
            if unsawn.len() == 1 { "was" } else { "were" },
            if unsawn.len() == 1 { "was" } else { "were" },
            names::list(&unsawn)
        ));
    }
}

/// What was noted on the day, in the words in which it was.
fn reasons(paper: &mut Paper, billed: &Billed<'_>) {
    let so_far = billed.so_far;
    let mut told: Vec<(u64, String)> = Vec::new();
    for log in &so_far.logs {
        told.extend(
            log.found
                .iter()
                .map(|found| (found.entry, format!("in log {}: {}", log.id, found.what))),
        );
    }
    told.extend(so_far.notes.iter().map(|note| {
        let at = match note.log {
            Some(_) => format!(" (log {} on the mill)", billed.log(note.log)),
            None => String::new(),
        };
        (note.entry, format!("{}{at}", note.what))
    }));
    told.sort();
    let mut told: Vec<String> = told.into_iter().map(|(_, words)| words).collect();
    for pause in so_far.pauses.iter().filter(|pause| pause.why.is_some() && pause.seconds > 0) {
        let why = pause.why.as_deref().unwrap_or_default();
        told.push(format!("stopped for {}: {why}", span(pause.seconds)));
    }
    if !told.is_empty() {
        paper.say("Noted on the day:");
        paper.items(told);
    }
}

/// The logs that were sawn.
pub(super) fn logs(paper: &mut Paper, billed: &Billed<'_>) {
    let Billed { job, so_far, .. } = *billed;
    let mut table = Table::new(&[
        ("log", Side::Left),
        ("small end x length", Side::Left),
        ("at the saw", Side::Right),
        ("board feet", Side::Right),
        ("what came", Side::Left),
    ]);
    for log in
        so_far.logs.iter().filter(|log| log.state != LogState::Waiting || !log.pieces.is_empty())
    {
        let own = job.logs.iter().find(|of| of.id == log.id);
        let kept = billed.kept.and_then(|kept| kept.logs.get(kept.log_called(&log.id)?));
        let shape = own
            .map(|own| (own.log.small_end(), own.log.length()))
            .or_else(|| kept.map(|kept| (kept.small_end, kept.length)));
        let shape = shape.map_or_else(String::new, |(small, length)| {
            format!("{} x {}", diameter(job, small), long(job, length))
        });
        let mut pieces: Vec<(String, u32)> = Vec::new();
        for piece in &log.pieces {
            let name = piece.what.size.to_string();
            match pieces.iter_mut().find(|(known, _)| *known == name) {
                Some((_, count)) => *count += piece.what.count,
                None => pieces.push((name, piece.what.count)),
            }
        }
        let mut came: Vec<String> =
            pieces.into_iter().map(|(name, count)| format!("{count} x {name}")).collect();
        if came.is_empty() {
            came.push(
                if log.state == LogState::OnTheMill { "on the mill" } else { "nothing" }.to_owned(),
            );
        } else if log.as_planned {
            came.push("as planned".to_owned());
        }
        table.row([
            log.id.clone(),
            shape,
            span(log.seconds),
            tenths(log.board_feet()),
            came.join(", "),
        ]);
    }
    if !table.is_empty() {
        paper.heading("Logs");
        paper.table(table);
    }
}
