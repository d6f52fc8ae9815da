//! What was taken off a job before the rest of its pile was planned again.

use pithward_day::so_far::LeftOfPile;
use pithward_job::{PileJob, RestJob};
use pithward_optimizer::WantId;
use pithward_tally::SoFar;

use crate::names::{self, count};
use crate::paper::{Paper, Side, Table};

/// What was taken off, to stand before the summary of what is left. `job` is the whole job.
pub fn rest_paper(job: &PileJob, so_far: &SoFar, left: &LeftOfPile, rest: &RestJob) -> Paper {
    let mut paper = Paper::new(format!(
        "The rest of the pile: {} of {}",
        rest.job.logs.len(),
        count(job.logs.len(), "log", "logs")
    ));
    let mut told = Vec::new();
    if !left.done.is_empty() {
        told.push(format!(
            "done, by the tally: {} ({})",
            count(left.done.len(), "log", "logs"),
            names::list(&left.done)
        ));
    }
    if let Some(id) = &left.on_the_mill {
        let to_come: u32 = left.to_come.iter().sum();
        told.push(match to_come {
            0 => format!("on the mill: log {id}, which is not planned here; `pithward resume` goes on with it"),
            _ => format!(
                "on the mill: log {id}, which is not planned here; {} of it that were promised and are not off yet count as \
                 given. `pithward resume` goes on with it",
                count(to_come as usize, "piece", "pieces")
            ),
        });
    }
    let found = left.left.found.iter().filter(|(log, _)| left.left.logs.contains(log));
    told.extend(found.filter_map(|(log, words)| {
        let id = &job.logs.get(*log)?.id;
        let unread = rest.unread.iter().any(|(of, unread, _)| of == id && unread == words);
        (!unread).then(|| format!("found in log {id}, and planned around: {words}"))
    }));
    paper.items(told);
    for (id, words, fault) in &rest.unread {
        paper.caution(format!(
            "Found in log {id} and not understood, so nothing is planned around it: {words}. {fault}; {}.",
            fault.help
        ));
    }
    let on_the_mill = left.to_come.iter().any(|count| *count > 0);
    let columns = [
        ("size", Side::Left),
        ("wanted", Side::Right),
        ("off already", Side::Right),
        ("left", Side::Right),
        ("on the mill", Side::Right),
    ];
    let mut table = Table::new(if on_the_mill { &columns[..] } else { &columns[..4] });
    for (n, want) in so_far.wants.iter().enumerate() {
        let name = match want.in_job.filter(|place| *place < job.wants.len()) {
            Some(place) => names::want_row(job, WantId(place)),
            None => format!("{}, added on the day", want.size),
        };
        let number = |n: Option<u32>| n.map_or_else(|| "any".to_owned(), |n| n.to_string());
        let to_come = left.to_come.get(n).copied().unwrap_or(0);
        table.row([
            name,
            number(want.count),
            want.given.to_string(),
            number(left.left.wants.get(n).and_then(|want| want.left)),
            if to_come == 0 { String::new() } else { to_come.to_string() },
        ]);
    }
    paper.table(table);
    paper
}
