//! The road of going on with a half-sawn log: the card that was followed, what is said of it, the way on.

use std::path::Path;

use pithward_job::{
    LogJob, OpenRequest, PileJob, ResumeRequest, Typed, log_of_plan, plan_bytes, read_job,
};
use pithward_optimizer::{
    Answer, Begun, HalfSawn, LogFate, LogPlan, Pile, PilePlan, ResumeAnswer, open as plan_log,
    resume as search,
};
use pithward_report::{
    Going, ReadHalf, ReadPile, ReadPlan, impossible, pile_card, read_plan, resumed_card,
    resumed_json,
};

use crate::arguments::{Half, ResumeArguments};
use crate::outcome::Outcome;
use crate::pile::{JOB, planned_under};
use crate::wait::waiting;

/// What a fault calls the name of a log.
const LOG: &str = "--log";

/// The best way on.
pub(crate) fn resume(arguments: ResumeArguments) -> Outcome {
    let json = arguments.json;
    let (half, request) = arguments.into_request();
    match half {
        Half::Log(open) => of_log(*open, request, json),
        Half::Job(job, id) => of_job(&job, id, request, json),
        Half::Plan(plan, id) => of_plan(&plan, id, request, json),
    }
}

/// What a fault calls a plan.
const PLAN: &str = "--plan";

/// A log whose plan is in a file: nothing is planned anew.
fn of_plan(path: &Path, id: Option<String>, request: ResumeRequest, json: bool) -> Outcome {
    let bytes = match plan_bytes(path, PLAN) {
        Ok(bytes) => bytes,
        Err(fault) => return Outcome::Faulty(vec![*fault]),
    };
    let read = match read_plan(&bytes, &path.to_string_lossy(), PLAN) {
        Ok(read) => read,
        Err(faults) => return Outcome::Faulty(faults),
    };
    let typed = Typed::new(LOG, id);
    match read {
        ReadPlan::Pile(read) => {
            let ReadPile { job, pile, plan } = *read;
            of_pile((&job, &pile, &plan), &typed, request, json)
        }
        ReadPlan::Log(read) => match log_of_plan(&typed, None) {
            Some(fault) => Outcome::Faulty(vec![fault]),
            None => {
                let plan = &read.planned.plan;
                go_on((None, read.job), plan, request, json)
            }
        },
        ReadPlan::Half(read) => {
            let ReadHalf { id: own, half, resumed, .. } = *read;
            if let Some(fault) = log_of_plan(&typed, own.as_deref()) {
                return Outcome::Faulty(vec![fault]);
            }
            // What was found by then is in the log now; the request from which that followed is another card's.
            let job = LogJob { asked: None, ..half.job };
            let before = Some(half.begun);
            go_on_with((own.as_deref(), job), &resumed.plan, (request, before), json)
        }
    }
}

/// A log that is told by arguments.
fn of_log(open: OpenRequest, request: ResumeRequest, json: bool) -> Outcome {
    let job = match open.into_job() {
        Ok(job) => job,
        Err(faults) => return Outcome::Faulty(faults),
    };
    let answer = plan_log(&job.log, &job.mill, &job.optimizer_wants(), &job.settings);
    match answer {
        Ok(Answer::Planned(planned)) => go_on((None, job), &planned.plan, request, json),
        Ok(Answer::Impossible(obstacles)) => Outcome::Impossible(impossible(&job, &obstacles)),
        Err(fault) => Outcome::Failed(fault),
    }
}

/// A log of a job: its card is that of the plan of the pile, and it is wanted what the other logs do not give.
fn of_job(path: &Path, id: String, request: ResumeRequest, json: bool) -> Outcome {
    let job = match read_job(path, JOB) {
        Ok(job) => job,
        Err(faults) => return Outcome::Faulty(faults),
    };
    let typed = Typed::new(LOG, Some(id));
    // A log that a stem is cut into has its name only then.
    if job.stems.is_empty()
        && let Err(fault) = job.log_called(&typed)
    {
        return Outcome::Faulty(vec![fault]);
    }
    let (job, pile, plan) = match waiting(|watch| planned_under(job, watch)) {
        Ok(planned) => planned,
        Err(fault) => return Outcome::Failed(fault),
    };
    of_pile((&job, &pile, &plan), &typed, request, json)
}

/// A log of a pile whose plan is known.
fn of_pile(
    (job, pile, plan): (&PileJob, &Pile, &PilePlan),
    typed: &Typed,
    request: ResumeRequest,
    json: bool,
) -> Outcome {
    let log = match job.log_called(typed) {
        Ok(log) => log,
        Err(fault) => return Outcome::Faulty(vec![fault]),
    };
    let Some(LogFate::Sawn(log_plan)) = plan.logs.get(log) else {
        return Outcome::Impossible(pile_card(job, pile, plan, log));
    };
    let log_job = job.half_job(log, &left_of(job, plan, log));
    let name = job.logs[log].id.as_str();
    go_on((Some(name), log_job), log_plan, request, json)
}

/// What the other logs of the pile leave of the counts.
fn left_of(job: &PileJob, plan: &PilePlan, log: usize) -> Vec<Option<u32>> {
    let mut counts: Vec<Option<u32>> = job.wants.iter().map(|want| want.count).collect();
    let others = plan.logs.iter().enumerate().filter(|(n, _)| *n != log);
    for (_, fate) in others {
        let LogFate::Sawn(other) = fate else { continue };
        for product in &other.products {
            if let Some(Some(count)) = counts.get_mut(product.cut.want.0) {
                *count = count.saturating_sub(1);
            }
        }
    }
    counts
}

fn go_on(
    log: (Option<&str>, LogJob),
    plan: &LogPlan,
    request: ResumeRequest,
    json: bool,
) -> Outcome {
    go_on_with(log, plan, (request, None), json)
}

/// The same where some parts were finished before the card that is followed was written.
fn go_on_with(
    (name, job): (Option<&str>, LogJob),
    plan: &LogPlan,
    (request, before): (ResumeRequest, Option<Begun>),
    json: bool,
) -> Outcome {
    let mut half = match request.into_job(job, plan) {
        Ok(half) => half,
        Err(faults) => return Outcome::Faulty(faults),
    };
    for part in before.into_iter().flat_map(|before| before.finished) {
        if !half.begun.finished.contains(&part) {
            half.begun.finished.push(part);
        }
    }
    let sawn = HalfSawn { begun: &half.begun, plan: half.follows.then_some(plan) };
    let LogJob { log, mill, settings, .. } = &half.job;
    match search(log, mill, &half.job.optimizer_wants(), settings, sawn) {
        Ok(ResumeAnswer::Resumed(resumed)) => {
            let going = Going { log: name, half: &half, plan, resumed: &resumed };
            Outcome::Done(if json { resumed_json(&going) } else { resumed_card(&going) })
        }
        Ok(ResumeAnswer::Nothing(obstacles)) => {
            Outcome::Impossible(impossible(&half.job, &obstacles))
        }
        Ok(ResumeAnswer::NotSo(fault)) => Outcome::Faulty(vec![half.not_so(fault.to_string())]),
        Err(fault) => Outcome::Failed(fault),
    }
}
