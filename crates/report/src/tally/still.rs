//! What is still wanted, and what came that nobody asked for.

use pithward_tally::{SoFar, WantSoFar};

use super::Standing;
use crate::names::count;
use crate::paper::{Paper, Side, Table};

/// The most lines of the list on a phone.
const SHOWN: usize = 12;

/// The lines of the list that lack pieces, and in a sentence those that lack none.
pub(super) fn wanted(paper: &mut Paper, standing: &Standing<'_>) {
    let so_far = standing.so_far;
    let mut table =
        Table::new(&[("still wanted", Side::Left), ("", Side::Right), ("off", Side::Right)]);
    let lacks = |want: &&WantSoFar| want.wanted().is_some_and(|wanted| wanted > 0);
    let open: Vec<&WantSoFar> = so_far.wants.iter().filter(lacks).collect();
    for want in open.iter().take(SHOWN) {
        let wanted = want.wanted().unwrap_or(0).to_string();
        let of = want.count.map_or_else(String::new, |of| format!(" of {of}"));
        table.row([name(standing, want), wanted, format!("{}{of}", want.given)]);
    }
    if open.len() > SHOWN {
        table.row([format!("and {} lines more", open.len() - SHOWN)]);
    }
    let filled = so_far.wants.iter().filter(|want| want.wanted() == Some(0)).count();
    let counted = so_far.wants.iter().filter(|want| want.count.is_some()).count();
    paper.table(table);
    if counted > 0 && filled == counted {
        paper.say("All that was asked for by count is there.");
    } else if filled > 0 {
        paper.say(format!("Filled: {}.", count(filled, "line", "lines")));
    }
    other(paper, so_far);
    unknown(paper, so_far);
}

/// The size of a line, and what tells it from another of the same size.
fn name(standing: &Standing<'_>, want: &WantSoFar) -> String {
    let size = want.size.to_string();
    let twins = standing.so_far.wants.iter().filter(|other| other.size == want.size).count();
    match want.in_job {
        Some(n) if twins > 1 => format!("{size} (line {})", n + 1),
        Some(_) => size,
        None => format!("{size} (new)"),
    }
}

/// Lumber that is on no line of the list.
fn other(paper: &mut Paper, so_far: &SoFar) {
    let mut sizes: Vec<(String, u32)> = Vec::new();
    for piece in so_far.pieces() {
        let given = piece.to.iter().fold(0, |sum: u32, (_, given)| sum.saturating_add(*given));
        let left = piece.what.count.saturating_sub(given);
        let size = piece.what.size.to_string();
        match sizes.iter_mut().find(|(known, _)| *known == size) {
            Some((_, sum)) => *sum = sum.saturating_add(left),
            None => sizes.push((size, left)),
        }
    }
    sizes.retain(|(_, left)| *left > 0);
    if !sizes.is_empty() {
        let sizes: Vec<String> =
            sizes.iter().map(|(size, left)| format!("{left} of {size}")).collect();
        paper.say(format!("On no line of the list: {}.", sizes.join(", ")));
    }
}

/// Logs that only the tally names.
fn unknown(paper: &mut Paper, so_far: &SoFar) {
    let unknown = so_far.logs.iter().filter(|log| log.in_job.is_none());
    let ids: Vec<&str> = unknown.map(|log| log.id.as_str()).collect();
    if !ids.is_empty() {
        paper.say(format!("The job knows no log {}.", ids.join(", ")));
    }
}
