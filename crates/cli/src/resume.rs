//! The road of going on with a half-sawn log: the card that was followed, what is said of it, the way on.

use std::path::Path;

use pithward_job::{LogJob, OpenRequest, PileJob, ResumeRequest, Typed, read_job};
use pithward_optimizer::{
    Answer, HalfSawn, LogFate, LogPlan, PilePlan, ResumeAnswer, Want, open as plan_log,
    resume as search,
};
use pithward_report::{Going, impossible, pile_card, resumed_card, resumed_json};

use crate::arguments::{Half, ResumeArguments};
use crate::outcome::Outcome;
use crate::pile::{JOB, planned_under};
use crate::wait::waiting;

/// The best way on.
pub(crate) fn resume(arguments: ResumeArguments) -> Outcome {
    let json = arguments.json;
    let (half, request) = arguments.into_request();
    match half {
        Half::Log(open) => of_log(*open, request, json),
        Half::Job(job, id) => of_job(&job, id, request, json),
    }
}

/// A log that is told by arguments.
fn of_log(open: OpenRequest, request: ResumeRequest, json: bool) -> Outcome {
    let job = match open.into_job() {
        Ok(job) => job,
        Err(faults) => return Outcome::Faulty(faults),
    };
    let answer = plan_log(&job.log, &job.mill, &job.wants_by_grade(), &job.settings);
    match answer {
        Ok(Answer::Planned(planned)) => {
            go_on((None, job), &planned.plan, request, LogJob::wants_by_grade, json)
        }
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
    let typed = Typed::new("--log", Some(id));
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
    let log = match job.log_called(&typed) {
        Ok(log) => log,
        Err(fault) => return Outcome::Faulty(vec![fault]),
    };
    let Some(LogFate::Sawn(log_plan)) = plan.logs.get(log) else {
        return Outcome::Impossible(pile_card(&job, &pile, &plan, log));
    };
    let log_job = job.half_job(log, &left_of(&job, &plan, log));
    let name = job.logs[log].id.as_str();
    go_on((Some(name), log_job), log_plan, request, LogJob::optimizer_wants, json)
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
    (name, job): (Option<&str>, LogJob),
    plan: &LogPlan,
    request: ResumeRequest,
    wants: fn(&LogJob) -> Vec<Want>,
    json: bool,
) -> Outcome {
    let half = match request.into_job(job, plan) {
        Ok(half) => half,
        Err(faults) => return Outcome::Faulty(faults),
    };
    let sawn = HalfSawn { begun: &half.begun, plan: half.follows.then_some(plan) };
    let LogJob { log, mill, settings, .. } = &half.job;
    match search(log, mill, &wants(&half.job), settings, sawn) {
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
