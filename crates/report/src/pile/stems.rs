//! Where to cut the stems: what the person with the chainsaw follows, why the cuts lie there, and how good they are.

use super::proof::{stopped_early, tenths_of_percent_up};
use super::{Whole, gives};
use crate::names::{self, amount, count, exact, long};
use crate::page::Page;
use pithward_job::{JobStem, PileJob};
use pithward_measure::Length;
use pithward_optimizer::{BuckedStem, LogFate, PartKind, Plain, PlainRule, StemCuts, StemPart};
use std::cmp::Ordering;

/// Lengths of logs that are listed one by one, at most.
const LISTED: usize = 8;

/// Every stem with its marks, what choosing them gained, and the cautions; nothing where the job has no stems.
pub(super) fn stems(page: &mut Page, whole: &Whole<'_>) {
    let job = whole.job;
    let Some(cuts) = &job.cuts else { return };
    page.heading("BUCK THE STEMS FIRST", "places from the butt end along the stem");
    page.say(&format!(
        "Measure all marks of a stem from its butt end before the first cut, so that errors do not add up. The chain \
         cuts just beyond each mark, toward the small end; the marks allow for the {} that it takes{}. Where a stem is \
         not as it was measured, stop and plan again.",
        exact(job, job.bucking.chain_kerf),
        match job.trim {
            Length::ZERO => String::new(),
            trim => format!(", and logs are longer than what counts by the trim of {}", exact(job, trim)),
        }
    ));
    for (stem, cut) in job.stems.iter().zip(&cuts.stems) {
        one(page, whole, stem, cut);
    }
    page.blank();
    for plain in &cuts.plain {
        page.say(&gained(whole, cuts, plain));
    }
    page.say(&proof(whole, cuts));
    page.blank();
    for caution in CAUTIONS {
        page.item(caution);
    }
}

/// Where someone can get hurt: common practice; it defers to the saw's manual and to training.
const CAUTIONS: [&str; 5] = [
    "BUCKING: a stem lies under load, pressed on one side and stretched on the other, and springs or pinches the bar as \
     it is cut. Read it before every cut: the pressed side first and not deep, then from the stretched side.",
    "Stems and logs roll when they are cut free: stand uphill, chock what can roll, nobody below.",
    "Kickback: keep the tip of the bar clear of wood and ground, both hands on the saw, nobody within its reach.",
    "Look for nails, wire and hooks where you cut.",
    "The chainsaw's manual, protective clothing and trained practice come first; whoever is not trained leaves the cuts \
     to somebody who is.",
];

/// One stem: its size, and part by part from the butt what lies between its marks.
fn one(page: &mut Page, whole: &Whole<'_>, of: &JobStem, cut: &BuckedStem) {
    let (job, stem) = (whole.job, &of.stem);
    let wood = stem.species.map_or(String::new(), |wood| format!(", {}", names::species(wood)));
    page.blank();
    page.hang(&format!("  STEM {}   ", stem.id), &(names::log(job, &stem.log) + &wood));
    let is_log = |part: &StemPart| matches!(part.what, PartKind::Log(_));
    if !cut.parts.iter().any(is_log) {
        page.hang("    leave  ", &none(cut));
        return;
    }
    let mut mark = 0;
    for (n, part) in cut.parts.iter().enumerate() {
        let words = words(whole, part);
        let after = cut.parts.get(n + 1);
        let is_cut = after.is_some_and(|after| is_log(part) || is_log(after));
        page.hang("       ", &words);
        if is_cut {
            mark += 1;
            page.hang(&format!("    mark {mark}  "), &long(job, part.to));
        }
    }
}

/// Why no log is cut from a stem.
fn none(cut: &BuckedStem) -> String {
    let all = |kind: PartKind| {
        cut.parts.iter().all(|part| part.what == kind || part.what == PartKind::CutOut)
    };
    if all(PartKind::CutOut) {
        "all of it: what is cut out leaves nothing".to_owned()
    } else if all(PartKind::TooShort) {
        "all of it: it is too short for any of the logs that are wanted".to_owned()
    } else if all(PartKind::TooThick) {
        "all of it: it is too thick for the mill".to_owned()
    } else {
        "all of it: no log of it is worth the sawing, or the list is filled without it".to_owned()
    }
}

/// What a part is.
fn words(whole: &Whole<'_>, part: &StemPart) -> String {
    let job = whole.job;
    let length = long(job, part.to - part.from);
    let PartKind::Log(place) = part.what else {
        return format!("waste, {length}: {}", waste(part.what));
    };
    let Some(log) = job.logs.get(place) else { return length };
    let ends = [log.log.butt(), log.log.small_end()];
    let ends = ends.map(|end| names::width(job, end.inches_f64()));
    let makes = match whole.plan.logs.get(place) {
        Some(LogFate::Sawn(_)) => format!("makes {}", gives(job, &whole.counts(place))),
        _ => "left whole".to_owned(),
    };
    let [butt, small] = ends;
    format!("log {}, {length}: {butt} at its butt, {small} at its small end; {makes}", log.id)
}

/// Why a part is no log.
fn waste(what: PartKind) -> &'static str {
    match what {
        PartKind::CutOut => "cut out, as the job says",
        PartKind::TooShort => "too short for a log",
        PartKind::TooThick => "too thick for the mill",
        PartKind::LeftOver => "left over, no log of it is worth as much",
        PartKind::Log(_) => "",
    }
}

/// What choosing the cuts gains over a plain bucking.
fn gained(whole: &Whole<'_>, cuts: &StemCuts, plain: &Plain) -> String {
    let (job, plan) = (whole.job, whole.plan);
    let rule = match plain.rule {
        PlainRule::LongestFirst => "With always the longest log first".to_owned(),
        PlainRule::Every(length) => format!("With logs of {} each", long(job, length)),
    };
    let logs = match cuts.stems.len() {
        1 => "the stem",
        _ => "the stems",
    };
    let missing: u32 = plan.shortages.iter().map(|short| short.missing).sum();
    let list = match plain.missing.cmp(&missing) {
        Ordering::Greater => {
            let more = plain.missing - missing;
            format!(", and {} more of the list short", count(more as usize, "piece", "pieces"))
        }
        Ordering::Less => {
            let fewer = missing - plain.missing;
            format!(", and {} fewer of the list short", count(fewer as usize, "piece", "pieces"))
        }
        Ordering::Equal => String::new(),
    };
    let by = match plan.worth.cmp(&plain.worth) {
        Ordering::Equal => "as much as here".to_owned(),
        Ordering::Greater => {
            format!("{} less than here", amount(plan.worth - plain.worth, &job.worth.unit))
        }
        Ordering::Less => {
            format!("{} more than here", amount(plain.worth - plan.worth, &job.worth.unit))
        }
    };
    let made = count(plain.logs, "log", "logs");
    let worth = amount(plain.worth, &job.worth.unit);
    let work = if plain.value < cuts.proof.value && plain.worth >= plan.worth && list.is_empty() {
        ", but for more work"
    } else {
        ""
    };
    format!("{rule} ({made}), {logs} would bring the job to {worth}: {by}{list}{work}.")
}

/// How good the cuts are proven to be, and among which.
fn proof(whole: &Whole<'_>, cuts: &StemCuts) -> String {
    let proof = &cuts.proof;
    let many = if whole.plan.proof.methods.len() == 1 { "this method" } else { "these methods" };
    let far = if whole.plan.tally.iter().any(|tally| tally.short() > 0) {
        "as far as this one, and no further,"
    } else {
        "as far"
    };
    let plans = format!(
        "Proven: however the stems are cut into such logs, no plan of {many} that fills the list {far} is worth more"
    );
    let said = match (proof.bound, proof.gap_millionths()) {
        (None, _) => stopped_early().to_owned(),
        (Some(_), Some(0)) => format!("{plans}."),
        (Some(_), Some(gap)) => {
            format!("{plans} than {} % above this one.", tenths_of_percent_up(gap))
        }
        (Some(bound), None) if bound <= proof.value => format!("{plans}."),
        (Some(bound), None) => {
            let more = amount(bound.saturating_sub(proof.value), &whole.job.worth.unit);
            format!("{plans} than {more} above this one.")
        }
    };
    format!("{} {said}", looked_at(whole.job, cuts))
}

/// The logs that were looked at.
fn looked_at(job: &PileJob, cuts: &StemCuts) -> String {
    let lengths = &cuts.proof.lengths;
    let lengths = match (lengths.first(), lengths.last()) {
        (Some(first), Some(last)) if lengths.len() > LISTED => {
            format!("{} lengths from {} to {}", lengths.len(), long(job, *first), long(job, *last))
        }
        _ => names::list(&lengths.iter().map(|length| long(job, *length)).collect::<Vec<_>>()),
    };
    let trim = if job.trim > Length::ZERO { ", the trim with them" } else { "" };
    let given = if job.bucking.log_lengths.is_some() {
        "as the job says"
    } else {
        "as the list makes them useful"
    };
    let different = match cuts.proof.spans {
        1 => "One log was looked at".to_owned(),
        spans => format!("{spans} different logs were looked at"),
    };
    if lengths.is_empty() {
        return "No length of log serves the list.".to_owned();
    }
    format!("{different}, {lengths} long ({given}{trim}).")
}
