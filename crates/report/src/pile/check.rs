//! What was understood of a job file.

use super::assumed::{self, wood};
use crate::grown;
use crate::names::{self, capital, count, height, long};
use crate::page::{Column, Page};
use crate::seen_words;
use pithward_job::{JobLog, JobStem, PileJob};
use pithward_measure::Length;
use pithward_optimizer::{Pile, WantId};

/// What was understood of a job, as plain text of at most 80 columns: the logs by wood, the list as it was read, the mill,
/// and what is assumed.
pub fn check_report(job: &PileJob) -> String {
    // Woods that stems alone bring have menus too.
    let (pile, ..) = job.with_stems();
    let mut page = Page::default();
    let place: Vec<&str> =
        [job.site.as_str(), job.date.as_str()].into_iter().filter(|s| !s.is_empty()).collect();
    page.hang("CHECKED   ", &format!("{}: no fault was found", job.file));
    if !place.is_empty() {
        page.blank();
        page.hang("  site    ", &place.join(", "));
    }
    if !job.notes.is_empty() {
        page.hang("  notes   ", &job.notes);
    }
    logs(&mut page, job, &pile);
    list(&mut page, job, &pile);
    page.heading("TAKEN AS", "change any of these in the job file");
    assumed::logs_and_mill(&mut page, job);
    assumed::worth_and_work(&mut page, job, &pile);
    assumed::row(&mut page, job, "methods", &names::methods(&job.settings.methods));
    page.finish()
}

/// The logs of each wood: how many, from which to which size, and how much solid wood.
fn logs(page: &mut Page, job: &PileJob, pile: &Pile) {
    if !job.logs.is_empty() {
        page.heading("LOGS", "diameters inside the bark; volume of the solid wood");
    }
    for menu in 0..pile.menus.len() {
        let of = job.logs.iter().zip(&pile.logs).filter(|(_, log)| log.menu == menu);
        let of: Vec<&JobLog> = of.map(|(log, _)| log).collect();
        if of.is_empty() {
            continue;
        }
        page.item(&format!("{}: {}", capital(&wood(job, pile, menu)), kind(job, &of)));
    }
    if pile.menus.len() > 1 && !job.logs.is_empty() {
        let all: Vec<&JobLog> = job.logs.iter().collect();
        page.item(&format!("In all: {}", kind(job, &all)));
    }
    let grown = job.logs.iter().filter_map(|log| words(job, log));
    let grown: Vec<String> = grown.collect();
    if !grown.is_empty() {
        page.heading("NOT ROUND, STRAIGHT AND SOUND", "clock at the small end, 12 up");
        for words in &grown {
            page.item(words);
        }
    }
    let all = job.logs.iter().chain(job.stems.iter().map(|of| &of.stem));
    let seen = |log: &JobLog| {
        let words = seen_words::all(job, &log.log, &log.told.seen).join("; ");
        (!words.is_empty()).then(|| format!("{}: {words}", log.id))
    };
    let seen: Vec<String> = all.clone().filter_map(seen).collect();
    if !seen.is_empty() {
        page.heading("SEEN ON THE LOGS", "clock at the small end, 12 up");
        seen.iter().for_each(|words| page.item(words));
    }
    let scanned = all.filter_map(|log| Some((log, grown::scanned(&log.told)?)));
    let scanned: Vec<String> =
        scanned.map(|(log, words)| format!("{}, from {words}", log.id)).collect();
    if !scanned.is_empty() {
        page.heading("AS SCANNED", "what was put right, taken for granted or left out");
        for words in &scanned {
            page.item(words);
        }
    }
    if !job.stems.is_empty() {
        page.heading("STEMS", "to be bucked; diameters inside the bark");
    }
    for JobStem { stem, cut_out } in &job.stems {
        page.item(&format!("{}: {}", stem.id, names::log(job, &stem.log)));
        words(job, stem).iter().for_each(|words| page.item(words));
        for stretch in cut_out {
            let off = |at| long(job, stem.log.length() - at);
            let (from, to) = (off(stretch.to), off(stretch.from));
            page.item(&format!("{}: goes into no log from {from} to {to} from the butt", stem.id));
        }
    }
}

/// What makes a log other than round, straight and sound.
fn words(job: &PileJob, log: &JobLog) -> Option<String> {
    let words = grown::words(job, &log.log, &log.told)?;
    Some(format!("{}: {words}", log.id))
}

fn kind(job: &PileJob, logs: &[&JobLog]) -> String {
    let span = |of: &dyn Fn(&JobLog) -> Length, say: &dyn Fn(Length) -> String| {
        let ends = [logs.iter().map(|log| of(log)).min(), logs.iter().map(|log| of(log)).max()];
        match ends.map(|end| say(end.unwrap_or_default())) {
            [least, most] if least == most => least,
            [least, most] => format!("{least} to {most}"),
        }
    };
    let across = |length| height(job, length);
    let volume: f64 = logs.iter().map(|log| log.log.volume()).sum();
    format!(
        "{}, {} at the small end, {} at the butt, {} long, {}",
        count(logs.len(), "log", "logs"),
        span(&|log| log.log.small_end(), &across),
        span(&|log| log.log.butt(), &across),
        span(&|log| log.log.length(), &|length| long(job, length)),
        names::solid(job, volume)
    )
}

/// The list as it was read.
fn list(page: &mut Page, job: &PileJob, pile: &Pile) {
    page.heading("LIST", "the most important first");
    let rows: Vec<String> = (0..job.wants.len()).map(|n| names::want_row(job, WantId(n))).collect();
    let wanted =
        job.wants.iter().map(|want| want.count.map_or("any".to_owned(), |n| n.to_string()));
    page.table("want", &rows, &[Column::new(&["wanted"], wanted.collect())]);
    page.blank();
    assumed::list(page, job, pile);
}
