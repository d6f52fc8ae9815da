//! The road of each subcommand over a pile: job file, search, report.

use std::path::Path;

use jiff::ZonedDateTime;
use pithward_day::so_far::LeftOfPile;
use pithward_job::{
    Fault, JobStem, PileJob, Typed, is_told_by_height, kind_faults, read_job, size_faults,
};
use pithward_optimizer::{
    LogFate, Need, Pile, PilePlan, PlanFault, Watch, buck as search_bucking, need as search_need,
    plan_pile,
};
use pithward_report::{
    Paper, buck_summary, check_report, comparisons, comparisons_json, need_answer, pile_card,
    pile_counts, pile_json, pile_summary, rest_paper,
};
use pithward_tally::{LogSoFar, LogState, NoPlan, Planned, SoFar, beside, open, whole_seconds};

use crate::arguments::{BuckArguments, CheckArguments, NeedArguments, Needed, PlanArguments, card};
use crate::fault_text;
use crate::outcome::Outcome;
use crate::promise;
use crate::wait::waiting;
use crate::written;

/// What a fault calls the job file.
pub(crate) const JOB: &str = "JOB";

/// What was understood of a job file.
pub(crate) fn check(arguments: &CheckArguments) -> Outcome {
    match read_job(&arguments.job, JOB) {
        Ok(job) => Outcome::Done(check_report(&job)),
        Err(faults) => Outcome::Faulty(faults),
    }
}

/// Which log makes what.
pub(crate) fn plan(arguments: PlanArguments) -> Outcome {
    let job = match read_job(&arguments.job, JOB) {
        Ok(job) => job,
        Err(faults) => return Outcome::Faulty(faults),
    };
    let (job, taken_off) = match arguments.rest.then(|| rest(&arguments.job, job.clone())) {
        None => (job, None),
        Some(Ok((rest, taken_off))) => (rest, Some(taken_off)),
        Some(Err(refused)) => return refused,
    };
    // What is called as no log can be is told before the search.
    let named_early = named(&job, arguments.ids.iter().filter(|id| !may_be_cut(&job, id)));
    if let Err(faults) = named_early {
        return Outcome::Faulty(faults);
    }
    let (job, pile, plan) = match planned(job) {
        Ok(planned) => planned,
        Err(fault) => return Outcome::Failed(fault),
    };
    let named = match named(&job, &arguments.ids) {
        Ok(named) => named,
        Err(faults) => return Outcome::Faulty(faults),
    };
    let head = taken_off.map(|paper| paper.text() + "\n\n").unwrap_or_default();
    if nothing_sawn(&plan) {
        return nothing(&plan, head + &pile_summary(&job, &pile, &plan));
    }
    if arguments.json {
        return Outcome::Streamed(Box::new(move |out| pile_json(&job, &pile, &plan, out)));
    }
    if arguments.cards {
        return with_cards(head, job, pile, plan, pile_summary);
    }
    if named.is_empty() {
        return Outcome::Done(head + &pile_summary(&job, &pile, &plan));
    }
    let cards = named.iter().map(|log| pile_card(&job, &pile, &plan, *log));
    Outcome::Done(cards.collect::<Vec<_>>().join("\n\n"))
}

/// What the tally beside a job file leaves of the job, and a paper that says what was taken off. Stems are cut first, as the
/// plan cut them.
fn rest(path: &Path, job: PileJob) -> Result<(PileJob, Paper), Outcome> {
    let tally = beside(path);
    let shown = || written::shown(&tally);
    let record = match open(&tally) {
        Ok(Some(record)) => record,
        Ok(None) => {
            return Err(Outcome::Unwritable {
                message: format!("there is no tally of this job ({})", shown()),
                help: "without one the rest of the pile is the whole pile: plan it without --rest",
            });
        }
        Err(fault) => {
            return Err(Outcome::Unwritable {
                message: format!("{} {fault}", shown()),
                help: "the tally of a job is the file beside it that ends in .tally",
            });
        }
    };
    let kept = promise::beside(path)?;
    let job = with_cut_logs(job).map_err(Outcome::Failed)?;
    let planner = kept.as_ref().map_or(&NoPlan as &dyn Planned, |kept| kept as &dyn Planned);
    let so_far = SoFar::of(&record, &job, planner, &whole_seconds(&ZonedDateTime::now()));
    let by_height: Vec<String> = so_far.logs.iter().flat_map(told_by_height).collect();
    if !by_height.is_empty() {
        return Err(Outcome::Refused(fault_text::together(&by_height)));
    }
    let left = LeftOfPile::of(&job, kept.as_ref(), &so_far);
    let rest = job.rest(&left.left).map_err(Outcome::Faulty)?;
    let paper = rest_paper(&job, &so_far, &left, &rest);
    match (rest.job.logs.is_empty(), rest.job.wants.is_empty()) {
        (false, false) => Ok((rest.job, paper)),
        (true, _) => Err(Outcome::Done(paper.text() + "\nNo log is left to be sawn.\n")),
        (false, true) => Err(Outcome::Done(
            paper.text() + "\nNothing is wanted any more: the logs that are left may stay whole.\n",
        )),
    }
}

/// What was found in a log that waits and told by its height over the bed: off the bed nobody knows where that is, and to plan
/// as if it were not there would send the blade into it.
fn told_by_height(log: &LogSoFar) -> impl Iterator<Item = String> {
    let found = log.found.iter().filter(|_| log.state == LogState::Waiting);
    found.filter(|found| is_told_by_height(&found.what)).map(|found| {
        let (entry, id) = (found.entry, &log.id);
        fault_text::plain(
            &format!(
                "entry {entry} of the tally tells what was found in log {id} by its height over the bed ({}), and log {id} does \
                 not lie on it",
                found.what
            ),
            &format!(
                "undo {entry}, and say where it is in the log, by the clock at its small end: found {id} metal toward 3 depth 2 \
                 in wide 4 in from 3 ft length 1 ft; once it is on the mill, `pithward resume` reads heights"
            ),
        )
    })
}

/// Logs of a job by every method: those that are named, else all.
pub(crate) fn compare(job: &Path, ids: &[String], json: bool) -> Outcome {
    let job = match read_job(job, JOB) {
        Ok(job) => job,
        Err(faults) => return Outcome::Faulty(faults),
    };
    let job = match with_cut_logs(job) {
        Ok(job) => job,
        Err(fault) => return Outcome::Failed(fault),
    };
    let mut faults = Vec::new();
    let mut logs = Vec::new();
    for id in ids {
        match job.log_called(&Typed::new("--log", Some(id.clone()))) {
            Ok(log) => logs.push(log),
            Err(fault) => faults.push(fault),
        }
    }
    if !faults.is_empty() {
        return Outcome::Faulty(faults);
    }
    if ids.is_empty() {
        logs = (0..job.logs.len()).collect();
    }
    let compared = waiting(|_| {
        logs.iter().map(|log| Ok((*log, job.compare(*log)?))).collect::<Result<Vec<_>, PlanFault>>()
    });
    let text = if json { comparisons_json } else { comparisons };
    match compared {
        Ok(compared) if compared.iter().all(|(_, compared)| compared.rows.is_empty()) => {
            Outcome::Impossible(text(&job, &compared))
        }
        Ok(compared) => Outcome::Done(text(&job, &compared)),
        Err(fault) => Outcome::Failed(fault),
    }
}

/// Where to cut one stem.
pub(crate) fn buck(arguments: BuckArguments) -> Outcome {
    let (cards, json) = (arguments.cards, arguments.json);
    let (request, wants) = arguments.into_request();
    let job = match request.into_job().and_then(|job| job.into_pile(&wants)) {
        Ok(job) => job,
        Err(faults) => return Outcome::Faulty(faults),
    };
    let (job, pile, plan) = match planned(job) {
        Ok(planned) => planned,
        Err(fault) => return Outcome::Failed(fault),
    };
    if nothing_sawn(&plan) {
        return nothing(&plan, buck_summary(&job, &pile, &plan));
    }
    if json {
        return Outcome::Streamed(Box::new(move |out| pile_json(&job, &pile, &plan, out)));
    }
    if cards {
        return with_cards(String::new(), job, pile, plan, buck_summary);
    }
    Outcome::Done(buck_summary(&job, &pile, &plan))
}

/// A summary, and behind it the card of every log in the order of sawing.
fn with_cards(
    head: String,
    job: PileJob,
    pile: Pile,
    plan: PilePlan,
    summary: fn(&PileJob, &Pile, &PilePlan) -> String,
) -> Outcome {
    Outcome::Streamed(Box::new(move |out| {
        out.write_all(head.as_bytes())?;
        out.write_all(summary(&job, &pile, &plan).as_bytes())?;
        let mut logs = plan.order.iter().flat_map(|lot| &lot.logs);
        logs.try_for_each(|log| write!(out, "\n\n{}", pile_card(&job, &pile, &plan, *log)))
    }))
}

/// How many pieces of one size a pile gives.
pub(crate) fn count(size: &Typed, job: &Path) -> Outcome {
    let counting = match read_job(job, JOB) {
        Ok(job) => job.counting_job(size),
        Err(faults) => Err([size_faults(size), faults].concat()),
    };
    let job = match counting {
        Ok(job) => job,
        Err(faults) => return Outcome::Faulty(faults),
    };
    let (job, pile, plan) = match planned(job) {
        Ok(planned) => planned,
        Err(fault) => return Outcome::Failed(fault),
    };
    let size = job.wants.first().map(|want| want.size);
    let counts = size.map_or_else(String::new, |size| pile_counts(&job, &pile, &size, &plan));
    if nothing_sawn(&plan) { nothing(&plan, counts) } else { Outcome::Done(counts) }
}

/// How many logs of one kind a list takes.
pub(crate) fn need(arguments: NeedArguments) -> Outcome {
    let needing = match arguments.into_request() {
        Needed::List(request) => request.into_job(),
        Needed::Job(job, kind) => match read_job(&job, JOB) {
            Ok(job) => job.needing(&kind),
            Err(faults) => Err([faults, kind_faults(&kind)].concat()),
        },
    };
    let needing = match needing {
        Ok(needing) => needing,
        Err(faults) => return Outcome::Faulty(faults),
    };
    match waiting(|watch| search_need(&needing.pile, watch)) {
        Ok(need) => {
            let answer = need_answer(&needing, &need);
            if let Need::Logs(_) = need {
                Outcome::Done(answer)
            } else {
                Outcome::Impossible(answer)
            }
        }
        Err(fault) => Outcome::Failed(fault),
    }
}

/// A job with its stems cut into logs, its pile, and its plan.
fn planned(job: PileJob) -> Result<(PileJob, Pile, PilePlan), PlanFault> {
    waiting(|wait| planned_under(job, wait))
}

/// The same while somebody waits already.
pub(crate) fn planned_under(
    job: PileJob,
    watch: &dyn Watch,
) -> Result<(PileJob, Pile, PilePlan), PlanFault> {
    if job.stems.is_empty() {
        let pile = job.pile();
        let plan = plan_pile(&pile, watch)?;
        return Ok((job, pile, plan));
    }
    let (pile, stems, terms) = job.with_stems();
    let bucked = search_bucking(&pile, &stems, &terms, watch)?;
    let job = job.bucked(&bucked);
    Ok((job, bucked.pile, bucked.plan))
}

/// The job with the logs that its stems are cut into.
fn with_cut_logs(job: PileJob) -> Result<PileJob, PlanFault> {
    if job.stems.is_empty() { Ok(job) } else { planned(job).map(|(job, ..)| job) }
}

/// Whether a log that is cut from a stem may be called so.
fn may_be_cut(job: &PileJob, id: &str) -> bool {
    let of = |stem: &JobStem| id.trim().strip_prefix(&stem.stem.id).is_some();
    job.stems.iter().any(of)
}

/// The logs that were asked for by name, in that order.
fn named<'i>(
    job: &PileJob,
    ids: impl IntoIterator<Item = &'i String>,
) -> Result<Vec<usize>, Vec<Fault>> {
    let (mut logs, mut faults) = (Vec::new(), Vec::new());
    for id in ids {
        match job.log_called(&card(id)) {
            Ok(log) => logs.push(log),
            Err(fault) => faults.push(fault),
        }
    }
    if faults.is_empty() { Ok(logs) } else { Err(faults) }
}

pub(crate) fn nothing_sawn(plan: &PilePlan) -> bool {
    !plan.logs.iter().any(|fate| matches!(fate, LogFate::Sawn(_)))
}

/// What it means that no log is sawn.
pub(crate) fn nothing(plan: &PilePlan, why: String) -> Outcome {
    if plan.stopped { Outcome::Stopped } else { Outcome::Impossible(why) }
}
