//! What is to go, against what was promised.

use pithward_day::range::Range;
use pithward_day::so_far::{Ahead, Basis, Stands, Unplanned};
use pithward_tally::SoFar;

use super::{Standing, clock, time};
use crate::names::{count, list, percent};
use crate::paper::Paper;

/// Hours to go, the price in the end, and what of the promise is in doubt.
pub(super) fn promise(paper: &mut Paper, standing: &Standing<'_>) {
    let Some(ahead) = standing.ahead else {
        unpromised(paper, standing);
        return;
    };
    let mut items = Vec::new();
    let changed = standing.kept.map(|kept| kept.changed(&standing.job.inputs)).unwrap_or_default();
    if !changed.is_empty() {
        items.push(format!("Changed since it was promised: {}", list(&changed)));
    }
    if !standing.charges_differ.is_empty() {
        items.push(format!(
            "Charges that are others now: {}; all is reckoned as promised",
            list(standing.charges_differ)
        ));
    }
    if ahead.basis == Basis::Happened {
        items.push("All logs of the plan are done.".to_owned());
    } else {
        items.push(format!(
            "To go: {}{} for {}",
            hours(&ahead.to_go),
            end(standing.so_far, ahead),
            count(ahead.logs_to_go, "log", "logs")
        ));
    }
    if let Some(price) = &ahead.price {
        items.push(match price.low == price.high {
            true => format!("Price in the end: {}", price.likely),
            false => {
                format!("Price in the end: {} ({} to {})", price.likely, price.low, price.high)
            }
        });
    }
    items.push(promised(standing, ahead));
    match ahead.basis {
        Basis::Far => items.push(
            "The day is beyond nearly all that was held for possible: take these figures as a guess."
                .to_owned(),
        ),
        Basis::Plan => items.push("Nothing was simulated: these are the plan's own figures.".to_owned()),
        Basis::Promise | Basis::Weighed | Basis::Happened => {}
    }
    paper.items(items);
}

/// Hours to go where nothing was promised; how to make a promise is told at the first entry and to whoever looks, not after
/// every stroke.
fn unpromised(paper: &mut Paper, standing: &Standing<'_>) {
    let guess = Unplanned::of(standing.job, standing.so_far);
    if let Some(guess) = &guess {
        let [least, most] = [guess.least, guess.most].map(of_minutes);
        let between = if least == most { least } else { format!("{least} to {most}") };
        paper.items(vec![format!(
            "To go: about {between} at the saw for {}, if they take as long as those that are done",
            count(guess.logs, "log", "logs")
        )]);
    }
    let first = standing.new == 0 || standing.record.entries.len() == standing.new;
    if first {
        let file = std::path::Path::new(&standing.job.file).file_name();
        let file =
            file.map_or_else(|| "JOB".to_owned(), |name| name.to_string_lossy().into_owned());
        let hours = match guess {
            Some(_) => "the hours to go are a guess from the logs that are done",
            None => "nothing is said of the hours to go until two logs are done",
        };
        paper.say(format!(
            "No promise is kept for this job: {hours}, and the day is held against nothing. To plan it and keep one: pithward \
             quote {file} --keep"
        ));
    }
}

/// A likely time, and its range.
fn hours(minutes: &Range<f64>) -> String {
    let [likely, low, high] = [minutes.likely, minutes.low, minutes.high].map(of_minutes);
    if low == high { likely } else { format!("{likely} ({low} to {high})") }
}

fn of_minutes(minutes: f64) -> String {
    crate::quote::words::time(minutes.max(0.0))
}

/// When that is by the clock, where it is today.
fn end(so_far: &SoFar, ahead: &Ahead) -> String {
    let Some(now) = so_far.now.as_ref().filter(|_| ahead.more_days.likely == 0) else {
        return match ahead.more_days.likely {
            days @ 1.. => {
                let days = usize::try_from(days).unwrap_or(usize::MAX);
                format!(", on {}", count(days, "day more", "days more"))
            }
            _ => String::new(),
        };
    };
    let working = so_far.stretches.last().is_some_and(|stretch| stretch.open);
    #[allow(clippy::cast_possible_truncation, reason = "minutes of a day; `as` saturates")]
    let minutes = ahead.until_the_end.likely.clamp(0.0, 1e6).round() as i64;
    match now.checked_add(jiff::SignedDuration::from_mins(minutes)) {
        Ok(end) if working && end.date() == now.date() => format!(", until about {}", clock(&end)),
        _ => String::new(),
    }
}

/// Whether what was promised stands: the hours, then the lines that are in doubt.
fn promised(standing: &Standing<'_>, ahead: &Ahead) -> String {
    let mut doubts = Vec::new();
    if let (Some(stands), Some(chance)) = (ahead.hours, ahead.in_time)
        && let Some(words) = doubt(stands, chance)
    {
        let ranges = standing.kept.and_then(|kept| kept.ranges.as_ref());
        #[allow(clippy::cast_possible_truncation, reason = "minutes of a job; `as` saturates")]
        let promised = ranges.map(|ranges| time((ranges.minutes.high * 60.0).round() as i64));
        let of = promised.map_or_else(String::new, |hours| format!(" of at most {hours}"));
        doubts.push(format!("the hours{of} {words}"));
    }
    for (want, so_far) in ahead.wants.iter().zip(&standing.so_far.wants) {
        if let (Some(stands), Some(promised)) = (want.stands, want.promised)
            && let Some(words) = doubt(stands, want.chance)
        {
            doubts.push(format!("{promised} of {} {words}", so_far.size));
        }
    }
    match doubts.as_slice() {
        [] => "The promise stands.".to_owned(),
        doubts => format!("The promise: {}. All else stands.", doubts.join("; ")),
    }
}

/// What is said of a promise that does not simply stand.
fn doubt(stands: Stands, chance: f64) -> Option<String> {
    match stands {
        Stands::Kept | Stands::Holds => None,
        Stands::InDoubt => Some(format!("in doubt ({} likely)", percent(chance))),
        Stands::Unlikely => Some(format!("hardly to be kept ({} likely)", percent(chance))),
        Stands::Broken => Some("not kept".to_owned()),
    }
}
