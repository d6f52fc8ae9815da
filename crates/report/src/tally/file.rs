//! What is not right with the file, and with the clock.

use pithward_tally::{Warning, WarningKind};

use super::{Standing, entry, long};
use crate::names::count;
use crate::paper::Paper;

/// The most of them that are told on a phone.
const SHOWN: usize = 4;

/// What somebody should look at, and what to do about it.
pub(super) fn warnings(paper: &mut Paper, standing: &Standing<'_>) {
    let record = standing.record;
    let open: Vec<&Warning> = record.open_warnings().collect();
    let is_cut = |warning: &&Warning| matches!(warning.kind, WarningKind::CutOff { .. });
    let cut = open.iter().any(is_cut);
    let mut told: Vec<String> = open.iter().map(|warning| said(warning, standing, cut)).collect();
    let open = open.len();
    if open > SHOWN {
        told.truncate(SHOWN);
        told.push(format!("and {} more", open - SHOWN));
    }
    if open > 0 {
        paper.say(format!(
            "The file of the tally is not as it was written ({}). If that is as it should be, say: confirm",
            count(open, "place", "places")
        ));
        paper.items(told);
    }
    if let Some(Warning { kind: WarningKind::Torn { text }, line, .. }) = standing.ended {
        // Of a line that was kept whole once, what is missing is told above.
        let missing =
            |of: &Warning| of.line == line + 1 && matches!(of.kind, WarningKind::Missing { .. });
        paper.say(match record.open_warnings().any(missing) {
            true => format!("What is left of line {line}, which breaks off, does not count: {text}"),
            false => format!(
                "Line {line} was never finished: whoever wrote it was stopped before it was kept. It does not count; say it \
                 again if it should: {text}"
            ),
        });
    }
    if standing.unlocked {
        paper.say(
            "This disk knows no locks: enter from one device at a time, or two entries may get the same number.",
        );
    }
    if standing.unmarked {
        paper.say(
            "The small file beside the tally that ends in .last could not be written: entries that go missing from the end of \
             the tally may go unnoticed. All that was kept is there.",
        );
    }
    clock(paper, standing);
}

/// Where the clock went back.
fn clock(paper: &mut Paper, standing: &Standing<'_>) {
    let new = standing.record.entries.iter().rev().take(standing.new);
    let new: Vec<u64> = new.map(|recorded| recorded.entry.number).collect();
    let backs = &standing.so_far.clock_back;
    // Told with the entry that it belongs to, and to whoever only looks.
    for back in backs.iter().filter(|back| new.is_empty() || new.contains(&back.entry)) {
        let of = |number: u64| {
            let mut entries = standing.record.counted();
            entries.find(|one| one.number == number).map(|one| entry(standing, one))
        };
        let before = of(back.before).unwrap_or_default();
        paper.say(format!(
            "The clock went back by {} before entry {}. It is kept, and no time is counted between the two. If a time is wrong, \
             undo that entry and say it again with --at. Before it: {before}",
            long(back.seconds.max(60)),
            back.entry
        ));
    }
}

/// What is wrong on a line, or behind the last where the end is cut off.
fn said(warning: &Warning, standing: &Standing<'_>, cut: bool) -> String {
    let Warning { line, kind, .. } = warning;
    match kind {
        WarningKind::NoHead => "the first line, which says what the file is, is gone".to_owned(),
        WarningKind::Unread { text } => {
            format!("line {line} cannot be read and does not count: {text}")
        }
        WarningKind::Changed => format!("line {line} was changed by hand; it counts as it is"),
        WarningKind::Missing { first, last } if first == last => {
            format!("before line {line} entry {first} is gone")
        }
        WarningKind::Missing { first, last } => {
            format!("before line {line} entries {first} to {last} are gone")
        }
        WarningKind::CutOff { first, last } => {
            let gone = match first == last {
                true => format!("entry {first} was kept and is gone"),
                false => format!("entries {first} to {last} were kept and are gone"),
            };
            let ends = match standing.record.entries.last() {
                Some(one) => format!("the tally ends with {}", entry(standing, &one.entry)),
                None => "the tally holds none".to_owned(),
            };
            format!(
                "{gone}: {ends}. Was an older copy put in its place? If there is a newer one, put that back before you go on"
            )
        }
        WarningKind::Other { number } => format!(
            "line {line} has another entry {number} than the one that was kept here: another file is in its place"
        ),
        WarningKind::Repeated { number } => {
            format!("line {line} has number {number} again; it counts too")
        }
        WarningKind::Torn { text } if cut => format!("line {line} breaks off: {text}"),
        WarningKind::Torn { text } => {
            format!("line {line} was never finished and does not count: {text}")
        }
        WarningKind::NothingUndone { entry } => {
            format!("line {line} undoes entry {entry}, which is not there to be undone")
        }
    }
}
