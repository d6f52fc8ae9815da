//! What was learned, for the sawyer to read.

use pithward_day::range::{Forecast, Range};
use pithward_learn::{Fit, Fitted, Knowledge, Observed, Recovered, Share, Spread};

use super::words;
use crate::names::{self, count, percent};
use crate::paper::{Paper, Side, Table};
use crate::quote::words::{round_feet, time};

/// What was learned, and from what.
#[derive(Clone, Copy, Debug)]
pub struct LearnedJobs<'a> {
    /// The name of the mill.
    pub mill: &'a str,
    /// The jobs that were learned from, as they are called.
    pub jobs: &'a [String],
    /// What they came to.
    pub observed: &'a Observed,
    /// The pace.
    pub fit: &'a Fit,
    /// What comes out.
    pub recovered: &'a Recovered,
    /// What a job ahead comes to, before and after.
    pub ahead: Option<&'a Ahead>,
    /// What could not be learned from: what it is, and why.
    pub left_out: &'a [String],
    /// What became of the new mill file.
    pub written: &'a [String],
}

/// What a job comes to by the old mill file and by the new one.
#[derive(Clone, Debug)]
pub struct Ahead {
    /// What it is called.
    pub job: String,
    /// By the old one.
    pub before: Forecast,
    /// By the new one.
    pub after: Forecast,
}

/// The page.
pub fn learned_page(learned: &LearnedJobs<'_>) -> Paper {
    let LearnedJobs { fit, recovered, .. } = learned;
    let mut paper = Paper::new(format!("What your jobs say   {}", learned.mill));
    paper.say(format!(
        "Learned from {}: {} timed on {}, {} told.",
        count(learned.jobs.len(), "job", "jobs"),
        count(fit.logs, "log", "logs"),
        count(fit.days, "day", "days"),
        match recovered.all {
            Some(all) => format!("what came out of {}", all.logs),
            None => "nothing that came out".to_owned(),
        }
    ));
    pace(&mut paper, fit);
    spreads(&mut paper, fit);
    pieces(&mut paper, recovered);
    if let Some(ahead) = learned.ahead {
        changes(&mut paper, ahead);
    }
    left_out(&mut paper, learned);
    if !learned.written.is_empty() {
        paper.heading("The new mill file");
        for line in learned.written {
            paper.say(line.clone());
        }
    }
    paper
}

fn pace(paper: &mut Paper, fit: &Fit) {
    paper.heading("The pace");
    if fit.is_empty() {
        paper.say("No log was timed, so the pace stays as it is.");
        return;
    }
    let mut table = Table::new(&[
        ("figure", Side::Left),
        ("before", Side::Right),
        ("after", Side::Right),
        ("eight in ten", Side::Right),
        ("seen in", Side::Right),
        ("known", Side::Left),
    ]);
    let (mut said, mut quiet): (Vec<&Fitted>, Vec<&Fitted>) =
        fit.figures.iter().partition(|of| of.knowledge != Knowledge::Little);
    // What is known well stands first.
    said.sort_by_key(|of| of.knowledge != Knowledge::Known);
    for Fitted { figure, before, after, low, high, seen, knowledge } in said {
        let [before, after, low, high] =
            [*before, *after, *low, *high].map(|of| words::said(*figure, of));
        // The unit stands once in the range, where both ends have the same.
        let unit = |text: &str| text.split_once(' ').map(|(_, unit)| unit.to_owned());
        let bare = low.split(' ').next().filter(|_| unit(&low) == unit(&high)).map(str::to_owned);
        let between = format!("{} to {high}", bare.unwrap_or(low));
        let known = if *knowledge == Knowledge::Known { "well" } else { "shared" };
        table.row([
            figure.field().to_owned(),
            before,
            after,
            between,
            seen.to_string(),
            known.to_owned(),
        ]);
    }
    if table.is_empty() {
        paper.say("The jobs do not say enough of any figure by itself yet.");
    } else {
        paper.table(table);
        paper.say(
            "With eight chances in ten the true figure lies between the two of `eight in ten`. `Seen in` counts the logs in which \
             it plays a part; of setting up, moving, packing up and nights the times, of blades the blades. Few jobs move a \
             figure little: it begins where the mill file has it, or, where that says nothing, at what is usual.",
        );
    }
    let together = fit.figures.iter().filter_map(|fitted| match &fitted.knowledge {
        Knowledge::Together(others) => {
            let others: Vec<&str> = others.iter().map(|other| other.field()).collect();
            Some(format!("{} from {}", fitted.figure.field(), names::list(&others)))
        }
        Knowledge::Known | Knowledge::Little => None,
    });
    let together: Vec<String> = together.collect();
    if !together.is_empty() {
        paper.say(
            "Some cannot be told apart, for they come in the same logs together: their sum is known better than each, and each \
             was held near what it was.",
        );
        paper.items(together);
    }
    quiet.sort_by_key(|of| of.figure);
    if !quiet.is_empty() {
        let moved = |of: &&Fitted| {
            let [before, after] = [of.before, of.after].map(|it| words::said(of.figure, it));
            match before == after {
                true => format!("{} {before}", of.figure.field()),
                false => format!("{} {before} to {after}", of.figure.field()),
            }
        };
        let quiet: Vec<String> = quiet.iter().map(moved).collect();
        paper.say(format!("Not enough to say yet, and hardly moved: {}.", names::list(&quiet)));
    }
    if !fit.unseen.is_empty() {
        let unseen: Vec<&str> = fit.unseen.iter().map(|figure| figure.field()).collect();
        paper.say(format!("No job says anything of {}: left as before.", names::list(&unseen)));
    }
    paper.say("How many help, how long a day may be and when you rest (helpers, day, break, break_every) is for you to say.");
}

fn spreads(paper: &mut Paper, fit: &Fit) {
    if fit.logs == 0 {
        return;
    }
    paper.heading("How steady it is");
    let mut table = Table::new(&[
        ("how far off the pace", Side::Left),
        ("before", Side::Right),
        ("after", Side::Right),
        ("low", Side::Right),
        ("high", Side::Right),
    ]);
    for (what, Spread { before, after, low, high }) in [("a day", fit.day), ("a log", fit.log)] {
        let cells = [before, after, low, high].map(percent);
        table.row([what.to_owned()].into_iter().chain(cells));
    }
    paper.table(table);
    paper.say(format!(
        "Two days in three are nearer than the first, two logs in three than the second. That the pace itself is not known \
         better yet adds {} to the hours of such a job; quotes reckon with {} for a day.",
        percent(fit.unsure),
        percent(fit.day_to_reckon())
    ));
}

fn pieces(paper: &mut Paper, recovered: &Recovered) {
    paper.heading("What comes out");
    let Some(all) = recovered.all else {
        paper
            .say("Of no log it was told what came out, so quotes reckon with every planned piece.");
        return;
    };
    let mut table = Table::new(&[
        ("of what was planned", Side::Left),
        ("planned", Side::Right),
        ("came", Side::Right),
        ("reckoned", Side::Right),
        ("low", Side::Right),
        ("high", Side::Right),
    ]);
    let tenth = |share: f64| format!("{:.1} %", share * 100.0);
    let mut row = |what: &str, counts: [String; 2], share: Share| {
        let [planned, came] = counts;
        let cells = [share.of, share.low, share.high].map(tenth);
        table.row([what.to_owned(), planned, came].into_iter().chain(cells));
    };
    match (recovered.softwood, recovered.hardwood) {
        (Some(soft), Some(hard)) => {
            for (what, of) in [("pieces of softwood", soft), ("pieces of hardwood", hard)] {
                row(what, [of.planned.to_string(), of.came.to_string()], of.share);
            }
        }
        _ => row("pieces", [all.planned.to_string(), all.came.to_string()], all.share),
    }
    if let Some(feet) = recovered.feet {
        row("board feet, at any size", [String::new(), String::new()], feet);
    }
    paper.table(table);
    paper.say(
        "Quotes reckon with so many of the planned pieces; the plans stay as they are. A share begins as if fifty pieces had come \
         out, all of them, so few losses move it little. Logs in which something was found are left out of it: quotes \
         reckon with hidden rot and metal by themselves.",
    );
}

fn changes(paper: &mut Paper, ahead: &Ahead) {
    paper.heading(format!("What it changes for {}", ahead.job));
    let mut table = Table::new(&[
        ("what", Side::Left),
        ("planned", Side::Right),
        ("low", Side::Right),
        ("likely", Side::Right),
        ("high", Side::Right),
    ]);
    let mut row = |what: &str, cells: [String; 4]| {
        table.row([what.to_owned()].into_iter().chain(cells));
    };
    let of = |range: &Range<f64>| [range.planned, range.low, range.likely, range.high].map(time);
    row("on site, before", of(&ahead.before.minutes));
    row("on site, after", of(&ahead.after.minutes));
    let of =
        |range: &Range<i64>| [range.planned, range.low, range.likely, range.high].map(round_feet);
    row("board feet, before", of(&ahead.before.board_feet));
    row("board feet, after", of(&ahead.after.board_feet));
    if let (Some(before), Some(after)) = (&ahead.before.price, &ahead.after.price) {
        for (what, price) in [("price, before", before), ("price, after", after)] {
            let cells = [price.planned, price.low, price.likely, price.high];
            row(what, cells.map(|price| price.to_string()));
        }
    }
    paper.table(table);
}

fn left_out(paper: &mut Paper, learned: &LearnedJobs<'_>) {
    let LearnedJobs { fit, observed, jobs, .. } = learned;
    let odd = fit.odd.iter().filter_map(|odd| {
        let log = observed.logs.get(odd.log)?;
        Some(format!(
            "{}, log {}: {} where {} are usual; was a pause forgotten, or a log not told?",
            jobs.get(log.job).map_or("", String::as_str),
            log.id,
            time(odd.took),
            time(odd.usual)
        ))
    });
    let all: Vec<String> = learned.left_out.iter().cloned().chain(odd).collect();
    if !all.is_empty() {
        paper.heading("Left out");
        paper.items(all);
    }
}
