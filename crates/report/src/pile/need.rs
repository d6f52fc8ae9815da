//! How many logs of one kind a list takes.

use super::order::way;
use super::{assumed, count as count_pieces, outcome};
use crate::card::{assumed as card, setup};
use crate::names::{self, capital, count, number};
use crate::obstacle;
use crate::page::Page;
use pithward_job::{JobWant, NeedJob, PileJob};
use pithward_optimizer::{LogFate, Need, Needed};

/// How many logs of one kind fill a list, and how they are sawn, as plain text of at most 80 columns.
///
/// What is assumed of the kind and of the list stands below it.
pub fn need_answer(asked: &NeedJob, need: &Need) -> String {
    let job = &asked.job;
    let mut page = Page::default();
    // A need names one log, its kind.
    let Some(log_job) = (!job.logs.is_empty()).then(|| job.log_job(0)) else {
        return page.finish();
    };
    page.hang("NEED   ", &format!("logs of {}", setup::log(&log_job)));
    page.blank();
    match need {
        Need::Logs(needed) => answer(&mut page, job, needed),
        Need::Impossible(obstacles) => {
            page.say("No number of such logs fills the list.");
            for sentences in obstacle::told(&log_job, obstacles, false) {
                page.item(&sentences);
            }
        }
        Need::TooMany { tried } => page.say(&format!(
            "More than {tried}: so many do not fill the list. Ask for fewer pieces at a time, or think of thicker or \
             longer logs."
        )),
    }
    assumed(&mut page, asked);
    page.finish()
}

/// What is taken for granted: the kind, what was left out, sizes and mill.
fn assumed(page: &mut Page, asked: &NeedJob) {
    let NeedJob { job, pile, tapered, left_out } = asked;
    page.heading("ASSUMED", "change any of these and the number changes");
    if *tapered {
        let words = "not given: it follows from the small end by a taper of 1 in in 8 ft (about 10 mm in 1 m)";
        assumed::row(page, job, "butt", words);
    }
    assumed::logs_and_mill(page, job);
    for (n, want) in counted(job) {
        assumed::size(page, job, pile, n, want);
    }
    for (which, wants) in [
        ("it does not accept this wood", left_out.iter().collect::<Vec<_>>()),
        ("it has no count", job.wants.iter().filter(|want| want.count.is_none()).collect()),
    ] {
        for want in wants {
            let words = format!("{}: {which}", names::sized(want.size, &want.lengths));
            assumed::row(page, job, "left out", &words);
        }
    }
    for (name, words) in [("trim", card::trim(job)), ("tolerance", card::tolerance(job))] {
        assumed::row(page, job, name, &words);
    }
}

fn answer(page: &mut Page, job: &PileJob, needed: &Needed) {
    let Needed { logs, least, plan } = needed;
    let noun = if *logs == 1 { "log" } else { "logs" };
    let fills = if *logs == 1 { "fills" } else { "fill" };
    page.say(&format!("{} such {noun} {fills} the list.", capital(&number(*logs))));
    page.say(&if least >= logs {
        format!("Proven: fewer do not, by {}.", names::methods(&plan.proof.methods))
    } else {
        format!(
            "Proven: fewer than {} do not, by {}; whether fewer than {} do is not known.",
            number(*least),
            names::methods(&plan.proof.methods),
            number(*logs)
        )
    });
    page.say(
        "Real logs differ from one another and from what was guessed while they stood: taper, sweep, rot, a knot \
         where it hurts. Fell some more than this, or measure the first ones and ask again.",
    );
    patterns(page, job, needed);
    page.heading("WHAT COMES OUT", "");
    let log_job = job.log_job(0);
    let pieces = plan.logs.iter().filter_map(|fate| match fate {
        LogFate::Sawn(plan) => Some(names::pieces(&log_job, plan)),
        _ => None,
    });
    let wants: Vec<usize> = counted(job).map(|(n, _)| n).collect();
    outcome::table(page, job, &wants, &plan.tally, pieces.flatten().flatten());
}

/// Wants with a count: a need is asked for them alone.
fn counted(job: &PileJob) -> impl Iterator<Item = (usize, &JobWant)> {
    job.wants.iter().enumerate().filter(|(_, want)| want.count.is_some())
}

/// What each way of sawing gives, and how many logs are sawn so.
fn patterns(page: &mut Page, job: &PileJob, needed: &Needed) {
    let log_job = job.log_job(0);
    let mut patterns: Vec<(String, usize)> = Vec::new();
    for fate in &needed.plan.logs {
        let LogFate::Sawn(plan) = fate else { continue };
        let pieces = names::by_want(names::pieces(&log_job, plan).into_iter().flatten());
        let gives = super::gives(job, &count_pieces(&pieces, job.wants.len()));
        let words = format!("{gives}; {}", way(job, plan));
        match patterns.iter_mut().find(|(known, _)| *known == words) {
            Some((_, n)) => *n += 1,
            None => patterns.push((words, 1)),
        }
    }
    page.heading("HOW THEY ARE SAWN", "each of so many logs gives");
    let width = patterns.iter().map(|(_, n)| count(*n, "log", "logs").len()).max().unwrap_or(0);
    for (words, n) in patterns {
        page.hang(&format!("  {:>width$}  ", count(n, "log", "logs")), &words);
    }
}
