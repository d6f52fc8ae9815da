//! What the plan of a pile takes for granted: every figure that would change it.

use crate::card::assumed::{kerf, limits, mill, policy, tolerance, trim};
use crate::grade_words;
use crate::grown;
use crate::names::{self, amount, count, exact, figure};
use crate::page::Page;
use crate::seen_words;
use pithward_job::{AllSeen, BarkSource, JobLog, JobWant, PieceWorth, PileJob, Told};
use pithward_measure::Width;
use pithward_optimizer::{Method, Pile};

/// Columns of the longest name that is not a size, `list first`.
const LEAST_NAME: usize = 10;
/// A size with a longer name pushes its own words aside, not everybody's.
const MOST_NAME: usize = 16;
/// Of more logs than this only the number is said.
const FEW_LOGS: usize = 12;

/// Logs, bark, mill, sizes, the wants and their worth, trim, tolerance, methods.
pub(super) fn assumed(page: &mut Page, job: &PileJob, pile: &Pile, searched: &[Method]) {
    page.heading("ASSUMED", "change any of these and the plan changes");
    logs_and_mill(page, job);
    list(page, job, pile);
    worth_and_work(page, job, pile);
    row(page, job, "searched", &names::searched(searched, pile.settings.taper));
}

/// The logs' shape and bark, the mill, the sizes.
pub(super) fn logs_and_mill(page: &mut Page, job: &PileJob) {
    row(page, job, "logs", &logs(job));
    for words in bark(&job.logs) {
        row(page, job, "bark", &words);
    }
    let trees = job.logs.iter().chain(job.stems.iter().map(|stem| &stem.stem));
    let seen: Vec<&AllSeen> = trees.map(|log| &log.told.seen).collect();
    if let Some(words) = seen_words::assumed(job, &seen) {
        row(page, job, "seen", &words);
    }
    for (name, words) in
        [("mill", mill(job)), ("kerf", kerf(job)), ("limits", limits(job)), ("sizes", policy(job))]
    {
        row(page, job, name, &words);
    }
}

/// What is sawn for each want, and what a piece is worth.
pub(super) fn list(page: &mut Page, job: &PileJob, pile: &Pile) {
    for (n, want) in job.wants.iter().enumerate() {
        row(page, job, &want.size.section().to_string(), &want_words(job, pile, n, want));
    }
}

/// What is sawn for one want, and the wane that it allows.
pub(super) fn size(page: &mut Page, job: &PileJob, pile: &Pile, n: usize, want: &JobWant) {
    row(page, job, &want.size.section().to_string(), &size_words(job, pile, n, want).join("; "));
}

fn size_words(job: &PileJob, pile: &Pile, n: usize, want: &JobWant) -> Vec<String> {
    vec![sawn(job, pile, n, want), names::wane_limit(job, want.wane)]
}

/// What puts the list first, worth, work, trim and tolerance.
pub(super) fn worth_and_work(page: &mut Page, job: &PileJob, pile: &Pile) {
    if let Some(words) = first(job, pile) {
        row(page, job, "list first", &words);
    }
    row(page, job, "worth", &worth(job));
    row(page, job, "work", &work(job, pile));
    row(page, job, "trim", &trim(job));
    row(page, job, "tolerance", &tolerance(job));
}

/// One figure by its name.
pub(super) fn row(page: &mut Page, job: &PileJob, name: &str, words: &str) {
    let sections = job.wants.iter().map(|want| want.size.section().to_string().chars().count());
    let width = sections.max().unwrap_or(0).clamp(LEAST_NAME, MOST_NAME);
    page.hang(&format!("  {name:<width$} "), words);
}

/// Shape, and ends that were measured across twice.
fn logs(job: &PileJob) -> String {
    let trees = job.logs.iter().chain(job.stems.iter().map(|stem| &stem.stem));
    let by_mean: Vec<&str> =
        trees.filter(|log| log.is_by_mean()).map(|log| log.id.as_str()).collect();
    let mean = match by_mean.len() {
        0 => String::new(),
        1..=FEW_LOGS => format!("; {}: {}", names::list(&by_mean), grown::BY_MEAN),
        n => format!("; {}: {}", count(n, "log", "logs"), grown::BY_MEAN),
    };
    let plain = |log: &JobLog| {
        let Told { of_stem, seen, .. } = log.told.clone();
        log.told == Told { of_stem, seen, ..Told::default() }
            && (log.log.is_round() || !log.told.of_stem)
    };
    let plain = job.logs.iter().all(plain);
    let others = if plain { "" } else { ", but for what was said of them" };
    format!("round and straight, pith at the centre{others}{mean}")
}

/// Where the bark's thickness comes from, for the logs of which it is the same.
fn bark(logs: &[JobLog]) -> Vec<String> {
    let mut said = Vec::new();
    for source in [BarkSource::Given, BarkSource::Species, BarkSource::None] {
        for (taped, scanned) in [(false, false), (true, false), (false, true), (true, true)] {
            let of: Vec<&str> = logs
                .iter()
                .filter(|log| log.told.scanned.is_some() == scanned)
                .filter(|log| log.bark == source && log.taped_over_bark == taped)
                .map(|log| log.id.as_str())
                .collect();
            if of.is_empty() {
                continue;
            }
            let which = if of.len() == logs.len() {
                String::new()
            } else if of.len() <= FEW_LOGS {
                let noun = if of.len() == 1 { "log" } else { "logs" };
                format!("{noun} {}: ", names::list(&of))
            } else {
                format!("{}: ", count(of.len(), "log", "logs"))
            };
            let words =
                if scanned { scanned_bark(source, taped) } else { bark_words(source, taped) };
            said.push(which + words);
        }
    }
    said
}

/// The same of logs that were scanned.
fn scanned_bark(source: BarkSource, over_bark: bool) -> &'static str {
    match (source, over_bark) {
        (BarkSource::Given, false) => "as the outlines say",
        (BarkSource::Given, true) => "as given; taken off what was scanned",
        (BarkSource::Species, _) => "the species' average share; taken off what was scanned",
        (BarkSource::None, _) => {
            "none: taken as scanned peeled; a log with bark gives less, and lies higher on the bed, than its card says"
        }
    }
}

fn bark_words(source: BarkSource, taped_over_bark: bool) -> &'static str {
    match (source, taped_over_bark) {
        (BarkSource::Given, false) => "as given; taped inside the bark",
        (BarkSource::Given, true) => "as given; taped over the bark, which was taken off",
        (BarkSource::Species, false) => "the species' average share; taped inside the bark",
        (BarkSource::Species, true) => {
            "the species' average share; taped over the bark, which was taken off"
        }
        (BarkSource::None, _) => {
            "none: neither a thickness nor a species was given; a log with bark lies higher on the bed than its card \
             says"
        }
    }
}

/// What is sawn for a want, what it allows, and what a piece is worth.
fn want_words(job: &PileJob, pile: &Pile, n: usize, want: &JobWant) -> String {
    let mut words = size_words(job, pile, n, want);
    words.extend(grown::allowed(job, want.heart, want.tolerates));
    words.extend(grade_words::asked(want.grade.least, &want.grade.rings, job.ring_convention));
    if !want.species.is_empty() {
        words.push(format!("only {}", names::woods(&want.species)));
    }
    if want.blocking {
        words.push("blocking, sawn first".to_owned());
    }
    words.push(if want.grade.by_grade {
        "paid by its expected grade, as the job's prices say".to_owned()
    } else {
        piece_worth(want.worth, &job.worth.unit)
    });
    words.push(match (want.count, want.extra) {
        (None, _) => "as many as come".to_owned(),
        (Some(_), None) => "no more than wanted".to_owned(),
        (Some(_), Some(extra)) if extra == want.worth => "more are welcome".to_owned(),
        (Some(_), Some(extra)) => {
            format!("more are welcome, each {}", piece_worth(extra, &job.worth.unit))
        }
    });
    words.join("; ")
}

/// The green size, for each wood where woods differ.
fn sawn(job: &PileJob, pile: &Pile, n: usize, want: &JobWant) -> String {
    let up = if matches!(want.size.width, Width::AtLeast(_)) { " and wider" } else { "" };
    let mut sizes: Vec<(String, Vec<String>)> = Vec::new();
    for (menu, wants) in pile.menus.iter().enumerate() {
        let cuts = wants.get(n).into_iter().flat_map(|want| &want.cuts);
        let Some(least) = cuts.min_by_key(|cut| cut.width) else { continue };
        let size =
            format!("sawn {} x {}{up}", exact(job, least.thickness), exact(job, least.width));
        let wood = wood(job, pile, menu);
        match sizes.iter_mut().find(|(known, _)| *known == size) {
            Some((_, woods)) => woods.push(wood),
            None => sizes.push((size, vec![wood])),
        }
    }
    match sizes.as_slice() {
        [] => "no log is of a wood that it accepts".to_owned(),
        [(size, _)] => size.clone(),
        sizes => {
            let each: Vec<String> = sizes
                .iter()
                .map(|(size, woods)| format!("{size} in {}", names::list(woods)))
                .collect();
            each.join(", ")
        }
    }
}

/// The wood of a menu.
pub(super) fn wood(job: &PileJob, pile: &Pile, menu: usize) -> String {
    let log = pile.logs.iter().position(|log| log.menu == menu);
    let species = log.and_then(|log| job.logs.get(log)).and_then(|log| log.species);
    species.map_or_else(|| "wood that was not named".to_owned(), names::species)
}

/// In the unit that the line `worth` names.
fn piece_worth(worth: PieceWorth, unit: &str) -> String {
    match worth {
        PieceWorth::BoardFoot(1_000_000) if unit == "board feet" => {
            "worth its board feet".to_owned()
        }
        PieceWorth::BoardFoot(each) => format!("worth {} a board foot", figure(each)),
        PieceWorth::Piece(each) => format!("worth {} a piece", figure(each)),
    }
}

/// What puts the list before everything else.
fn first(job: &PileJob, pile: &Pile) -> Option<String> {
    let weights = pile.demands.iter().enumerate().filter(|(_, demand)| demand.first > 0);
    let weights: Vec<String> = weights
        .map(|(want, demand)| {
            let want = names::want(job, pithward_optimizer::WantId(want));
            format!("{} for {want}", names::tenths(demand.first))
        })
        .collect();
    (!weights.is_empty()).then(|| {
        format!(
            "so that counts are filled in their order before anything else, a piece within its count weighs more \
             than it is worth, in {}: {}",
            job.worth.unit,
            names::list(&weights)
        )
    })
}

fn worth(job: &PileJob) -> String {
    let unit = &job.worth.unit;
    match (job.worth.board_foot, unit.as_str()) {
        (1_000_000, "board feet") => {
            "board feet by named size, where a size states nothing else".to_owned()
        }
        (each, unit) => {
            format!(
                "in {unit}; {} a board foot by named size where a size states nothing else",
                figure(each)
            )
        }
    }
}

/// What the work of sawing weighs.
fn work(job: &PileJob, pile: &Pile) -> String {
    let terms = &job.worth;
    if terms.hour == 0 {
        return "an hour weighs nothing: fewer passes and turns only decide between plans that are worth the same"
            .to_owned();
    }
    format!(
        "an hour of sawing weighs {}: a pass of {} s {}, a turn of {} s {}",
        amount(terms.hour, &terms.unit),
        terms.pass_seconds,
        figure(pile.effort.pass),
        terms.turn_seconds,
        figure(pile.effort.turn)
    )
}
