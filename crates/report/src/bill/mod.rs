//! The bill in the evening: the hours with their stops, what is to be paid, what was promised and what came, the lumber, the
//! logs.
//!
//! # Measure
//! A board foot is 144 cubic inches, by named sizes, as NIST Handbook 130, Uniform Regulation for the Method of Sale of
//! Commodities, has it of lumber (sections 2.10 and 2.12, by quotations; the handbook itself was not at hand). Sawing a
//! customer's own logs is a service and no sale of lumber; what is stated must be true all the same, so the bill says which
//! measure it states.

mod came;
mod hours;
mod lumber;

use pithward_day::kept::{Kept, KeptWant};
use pithward_day::money::{Bill, BillFault, Done, Way};
use pithward_day::so_far::{Carried, is_over};
use pithward_job::PileJob;
use pithward_tally::{LogState, SoFar, WantSoFar};

use crate::grade_words;
use crate::names;
use crate::paper::{Paper, Side, Table};
use crate::quote::bill as lines;

/// By whose rules a bill is reckoned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Rules {
    /// Those that were kept with the promise; the mill file has the same.
    Promised,
    /// Those that were kept with the promise; the mill file has others now.
    PromisedNotNow {
        /// The fields of the mill file that differ.
        differ: Vec<&'static str>,
    },
    /// Those of the mill file, though others were promised: somebody asked for it.
    Now {
        /// The fields of the mill file that differ.
        differ: Vec<&'static str>,
    },
    /// Those of the mill file: none were kept with a promise.
    NotKept,
}

/// A day that was worked, and all that follows from it.
#[derive(Clone, Copy, Debug)]
pub struct Billed<'a> {
    /// The job as its file has it now.
    pub job: &'a PileJob,
    /// What was promised, where that was kept.
    pub kept: Option<&'a Kept>,
    /// The day by its tally.
    pub so_far: &'a SoFar,
    /// Lines of the tally that are not as they were written, and nobody said that they count.
    pub doubtful_lines: usize,
    /// What was done.
    pub done: &'a Done,
    /// How sawing is paid; `None` where the mill states no price.
    pub way: Option<Way>,
    /// It was agreed so: on the command line or with the promise; else it is the first way for which there is a price.
    pub way_agreed: bool,
    /// By whose rules; those of [`Billed::job`] are they.
    pub rules: &'a Rules,
    /// What is to be paid; `None` where the mill states no price.
    pub bill: Option<&'a Result<Bill, Vec<BillFault>>>,
    /// The lumber.
    pub carried: &'a Carried,
}

impl Billed<'_> {
    /// Work is not over, as far as the tally says.
    pub fn is_provisional(&self) -> bool {
        !is_over(self.kept, self.so_far)
    }

    /// Seconds on site, from setting up to packing up, without stops.
    pub(crate) fn on_site(&self) -> i64 {
        self.so_far.spent.on_site()
    }

    /// What was kept of a want of the tally.
    pub(crate) fn kept_want(&self, want: &WantSoFar) -> Option<&KeptWant> {
        let kept = self.kept?.wants.get(want.in_job?)?;
        (kept.size == want.size).then_some(kept)
    }

    /// Logs that were planned to be sawn and of which the tally says nothing.
    pub(crate) fn not_sawn(&self) -> Vec<&str> {
        let waits = |id: &str| {
            let log = self.so_far.logs.iter().find(|log| log.id == id);
            log.is_none_or(|log| log.state == LogState::Waiting && log.pieces.is_empty())
        };
        let planned = self.kept.into_iter().flat_map(|kept| &kept.logs);
        planned
            .filter(|log| log.sawn.is_some() && waits(&log.id))
            .map(|log| log.id.as_str())
            .collect()
    }

    /// The files of the job that are not as they were when it was promised.
    pub(crate) fn changed(&self) -> Vec<&str> {
        self.kept.map(|kept| kept.changed(&self.job.inputs)).unwrap_or_default()
    }

    /// A want as it is called.
    fn want(&self, n: usize) -> String {
        let Some(want) = self.so_far.wants.get(n) else { return String::new() };
        match want.in_job.filter(|place| *place < self.job.wants.len()) {
            Some(place) => names::want_row(self.job, pithward_optimizer::WantId(place)),
            None => format!("{}, added on the day", want.size),
        }
    }

    /// A log on the mill, by its place in the tally, as it is called.
    fn log(&self, place: Option<usize>) -> String {
        let log = place.and_then(|place| self.so_far.logs.get(place));
        log.map(|log| log.id.clone()).unwrap_or_default()
    }
}

/// The bill as a paper.
pub fn bill_paper(billed: &Billed<'_>) -> Paper {
    let job = billed.job;
    let place: Vec<&str> =
        [job.site.as_str(), job.date.as_str()].into_iter().filter(|it| !it.is_empty()).collect();
    let name = if billed.is_provisional() { "Bill so far, provisional" } else { "Bill" };
    let mut paper = Paper::new(match place.is_empty() {
        true => name.to_owned(),
        false => format!("{name}: {}", place.join(", ")),
    });
    if billed.is_provisional() {
        paper.say(match billed.so_far.work {
            None => "The tally tells of no work yet.",
            Some(_) => {
                "The tally does not say that the work is over: logs that were planned wait, or the work was not stopped. \
                 All figures are as of its last entry, or as of now where work goes on."
            }
        });
    }
    doubts(&mut paper, billed);
    hours::hours(&mut paper, billed);
    money(&mut paper, billed);
    hours::blades(&mut paper, billed);
    came::against_the_promise(&mut paper, billed);
    lumber::list(&mut paper, billed);
    lumber::weights(&mut paper, billed);
    came::logs(&mut paper, billed);
    paper.heading("Please note");
    paper.caution(grade_words::STAMP);
    paper.caution(
        "Weights are averages of green wood of the kind: weigh, or leave room, before a load goes on the road; the plates of \
         truck and trailer rule.",
    );
    paper.caution(
        "Some places limit where logs, bark and firewood may be moved (insects, diseases): ask before anything leaves the yard.",
    );
    paper.heading("Settled");
    paper.blanks(&["sawyer", "customer", "date", "paid, and how", "received by"]);
    paper
}

/// What whoever pays should know first.
fn doubts(paper: &mut Paper, billed: &Billed<'_>) {
    let mut told = Vec::new();
    let changed = billed.changed();
    if !changed.is_empty() {
        told.push(format!(
            "{} not as {} when the job was promised: {}",
            if changed.len() == 1 {
                format!("{} is", changed[0])
            } else {
                format!("{} are", names::list(&changed))
            },
            if changed.len() == 1 { "it was" } else { "they were" },
            match billed.rules {
                Rules::NotKept => "prices and the list are as they are now",
                _ => "the list is as it is now, and of the charges it is told below which count",
            }
        ));
    }
    if billed.doubtful_lines > 0 {
        told.push(format!(
            "the tally is not as it was written, at {}; `pithward tally` says what is wrong there",
            names::count(billed.doubtful_lines, "place", "places")
        ));
    }
    for back in &billed.so_far.clock_back {
        told.push(format!(
            "the clock went back by {} before entry {}: no time is counted there",
            hours::span(back.seconds),
            back.entry
        ));
    }
    paper.items(told);
}

fn money(paper: &mut Paper, billed: &Billed<'_>) {
    let job = billed.job;
    paper.heading("To pay");
    let Some(way) = billed.way.map(lines::way) else {
        paper.say(lines::NO_PRICE);
        paper.blanks(&["price", "amount"]);
        return;
    };
    paper.say(match billed.way_agreed {
        false => format!(
            "Paid {way}. The mill states more than one way and nobody said which was agreed: `--by hour`, `foot`, `board` or \
             `share` says."
        ),
        true => format!("Paid {way}, as agreed."),
    });
    match billed.rules {
        Rules::Promised | Rules::NotKept => {}
        Rules::PromisedNotNow { differ } => paper.say(format!(
            "Charged as promised. The mill file has changed since ({}); `--charges now` bills by it.",
            names::list(differ)
        )),
        Rules::Now { differ } => paper.say(format!(
            "Charged by the mill file as it is now, not as promised: {} {} changed since.",
            names::list(differ),
            if differ.len() == 1 { "was" } else { "were" }
        )),
    }
    match billed.bill {
        None => {}
        Some(Err(faults)) => paper.say(lines::faults(faults)),
        Some(Ok(own)) => {
            lines::bill(paper, job, own);
            paper.items(hours::how_billed(billed, own));
        }
    }
}

/// A table of two columns.
fn two(left: &str, right: &str) -> Table {
    Table::new(&[(left, Side::Left), (right, Side::Right)])
}
