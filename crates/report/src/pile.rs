//! What is read for a pile of logs: the summary before the day, and the cut card of each log at the mill.

mod assumed;
pub(crate) mod card;
mod check;
mod counts;
mod left;
mod need;
mod order;
mod outcome;
mod proof;
pub(crate) mod short;
mod stems;

pub use card::pile_card;
pub use check::check_report;
pub use counts::pile_counts;
pub use need::need_answer;

use crate::card::cautions;
use crate::grade_words;
use crate::names::{self, Named};
use crate::page::Page;
use pithward_job::{LogJob, PileJob};
use pithward_optimizer::{LogFate, LogPlan, Pile, PilePlan, WantId};

/// What a pile gives, what stays short, how good that is, and in which order it is sawn, as plain text of at most
/// 80 columns.
pub fn pile_summary(job: &PileJob, pile: &Pile, plan: &PilePlan) -> String {
    let whole = Whole::new(job, pile, plan);
    let mut page = Page::default();
    outcome::title(&mut page, &whole);
    short::short(&mut page, &whole);
    outcome::outcome(&mut page, &whole);
    proof::proof(&mut page, &whole);
    stems::stems(&mut page, &whole);
    order::order(&mut page, &whole);
    left::left(&mut page, &whole);
    left::noted(&mut page, job);
    assumed::assumed(&mut page, job, pile, &plan.proof.methods);
    let lowest = whole.sawn().filter_map(|(_, plan)| cautions::lowest(&plan.order)).min();
    cautions::cautions(&mut page, job, lowest);
    if job.wants.iter().any(|want| grade_words::is_asked(&want.grade)) {
        page.item(grade_words::EXPECTED);
    }
    cautions::parts(&mut page, whole.sawn().map(|(_, plan)| &plan.order));
    page.finish()
}

/// Where to cut the stems, what they give then, and how good that is: as [`pile_summary`], the cuts first and without the
/// order of sawing.
pub fn buck_summary(job: &PileJob, pile: &Pile, plan: &PilePlan) -> String {
    let whole = Whole::new(job, pile, plan);
    let mut page = Page::default();
    outcome::title(&mut page, &whole);
    short::short(&mut page, &whole);
    stems::stems(&mut page, &whole);
    outcome::outcome(&mut page, &whole);
    proof::proof(&mut page, &whole);
    left::left(&mut page, &whole);
    assumed::assumed(&mut page, job, pile, &plan.proof.methods);
    let lowest = whole.sawn().filter_map(|(_, plan)| cautions::lowest(&plan.order)).min();
    cautions::cautions(&mut page, job, lowest);
    if job.wants.iter().any(|want| grade_words::is_asked(&want.grade)) {
        page.item(grade_words::EXPECTED);
    }
    cautions::parts(&mut page, whole.sawn().map(|(_, plan)| &plan.order));
    page.finish()
}

/// What every section reads: the job and its plan, and what each log gives.
pub(crate) struct Whole<'a> {
    pub(crate) job: &'a PileJob,
    pub(crate) pile: &'a Pile,
    pub(crate) plan: &'a PilePlan,
    /// Logs in the order of sawing.
    pub(crate) sequence: Vec<usize>,
    /// For every log the pieces that it gives, in the order of the list, the longest first.
    pub(crate) gives: Vec<Vec<Named>>,
}

impl<'a> Whole<'a> {
    /// A job and its plan, no piece named: for one card, that names the pieces of its own log alone.
    pub(crate) fn without_pieces(job: &'a PileJob, pile: &'a Pile, plan: &'a PilePlan) -> Self {
        let sequence = plan.order.iter().flat_map(|lot| lot.logs.iter().copied()).collect();
        Self { job, pile, plan, sequence, gives: Vec::new() }
    }

    /// A job and its plan, every piece named.
    pub(crate) fn new(job: &'a PileJob, pile: &'a Pile, plan: &'a PilePlan) -> Self {
        let whole = Self::without_pieces(job, pile, plan);
        let woods = Woods::of(job, pile);
        let gives = (0..plan.logs.len()).map(|n| match (woods.job(n), whole.log_plan(n)) {
            (Some(job), Some(plan)) => {
                names::by_want(names::pieces(job, plan).into_iter().flatten())
            }
            _ => Vec::new(),
        });
        Self { gives: gives.collect(), ..whole }
    }

    /// The plan of a log that is sawn.
    pub(crate) fn log_plan(&self, log: usize) -> Option<&'a LogPlan> {
        match self.plan.logs.get(log) {
            Some(LogFate::Sawn(plan)) => Some(plan.as_ref()),
            _ => None,
        }
    }

    /// Every log that is sawn, in the order of the pile.
    pub(crate) fn sawn(&self) -> impl Iterator<Item = (usize, &'a LogPlan)> {
        (0..self.plan.logs.len()).filter_map(|log| Some((log, self.log_plan(log)?)))
    }

    /// What a log is called.
    pub(crate) fn id(&self, log: usize) -> &'a str {
        self.job.logs.get(log).map_or("?", |log| log.id.as_str())
    }

    /// What some logs are called, in a sentence.
    pub(crate) fn ids(&self, logs: &[usize]) -> String {
        let ids: Vec<&str> = logs.iter().map(|log| self.id(*log)).collect();
        names::list(&ids)
    }

    /// What a log gives of every want.
    pub(crate) fn counts(&self, log: usize) -> Vec<u32> {
        count(self.gives.get(log).map_or(&[][..], Vec::as_slice), self.job.wants.len())
    }

    /// The counted wants and how many are asked for.
    pub(crate) fn wanted(&self, want: usize) -> Option<u32> {
        self.job.wants.get(want).and_then(|want| want.count)
    }

    /// A want in a sentence.
    pub(crate) fn want(&self, want: usize) -> String {
        names::want(self.job, WantId(want))
    }
}

/// Counts of pieces by want: `6 of 2x8x12 + 36 of 1x6`.
fn gives(job: &PileJob, counts: &[u32]) -> String {
    let given = counts.iter().enumerate().filter(|(_, n)| **n > 0);
    let words: Vec<String> = given
        .map(|(want, n)| match (names::want(job, WantId(want)), n) {
            (want, 1) => want,
            (want, n) => format!("{n} of {want}"),
        })
        .collect();
    if words.is_empty() { "nothing of the list".to_owned() } else { words.join(" + ") }
}

/// For each wood of a pile a log of it as a job of its own: all logs of a wood name their pieces alike.
pub(crate) struct Woods<'a> {
    pile: &'a Pile,
    jobs: Vec<Option<LogJob>>,
}

impl<'a> Woods<'a> {
    /// The woods of a pile.
    pub(crate) fn of(job: &PileJob, pile: &'a Pile) -> Self {
        let first = |menu| pile.logs.iter().take(job.logs.len()).position(|log| log.menu == menu);
        let jobs = (0..pile.menus.len()).map(|menu| Some(job.log_job(first(menu)?)));
        Self { pile, jobs: jobs.collect() }
    }

    /// The job that names the pieces of a log.
    pub(crate) fn job(&self, log: usize) -> Option<&LogJob> {
        self.of_menu(self.pile.logs.get(log)?.menu)
    }

    /// The job that names the pieces of a menu.
    pub(crate) fn of_menu(&self, menu: usize) -> Option<&LogJob> {
        self.jobs.get(menu)?.as_ref()
    }
}

/// How many pieces serve each want.
fn count(pieces: &[Named], wants: usize) -> Vec<u32> {
    let mut counts = vec![0; wants];
    for piece in pieces {
        if let Some(count) = counts.get_mut(piece.want) {
            *count += 1;
        }
    }
    counts
}
