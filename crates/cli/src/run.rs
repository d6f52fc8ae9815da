//! The road of each subcommand over one log: request, job, search, report.

use pithward_job::{CountRequest, LogJob};
use pithward_optimizer::{Answer, near_misses, open as plan};
use pithward_report::{comparison, comparison_json};

use crate::arguments::{
    CompareArguments, Compared, CountArguments, Counted, OpenArguments, ScaleArguments,
};
use crate::outcome::Outcome;
use crate::pile;

/// The best plan for one log.
pub(crate) fn open(arguments: OpenArguments) -> Outcome {
    let json = arguments.json;
    let job = match arguments.into_request().into_job() {
        Ok(job) => job,
        Err(faults) => return Outcome::Faulty(faults),
    };
    let LogJob { log, mill, settings, .. } = &job;
    let wants = job.optimizer_wants();
    let planned = match plan(log, mill, &wants, settings) {
        Ok(Answer::Planned(planned)) => planned,
        Ok(Answer::Impossible(obstacles)) => {
            return Outcome::Impossible(pithward_report::impossible(&job, &obstacles));
        }
        Err(fault) => return Outcome::Failed(fault),
    };
    match near_misses(log, mill, &wants, settings, &planned) {
        Ok(near) if json => Outcome::Done(pithward_report::json(&job, &planned, &near)),
        Ok(near) => Outcome::Done(pithward_report::card(&job, &planned, &near)),
        Err(fault) => Outcome::Failed(fault),
    }
}

/// One log, or those of a job, by every method.
pub(crate) fn compare(arguments: CompareArguments) -> Outcome {
    let json = arguments.json;
    let request = match arguments.into_request() {
        Compared::Log(request) => request,
        Compared::Job(job, ids) => return pile::compare(&job, &ids, json),
    };
    let job = match request.into_job() {
        Ok(job) => job,
        Err(faults) => return Outcome::Faulty(faults),
    };
    match job.compare() {
        Ok(compared) => {
            let text = if json { comparison_json } else { comparison };
            let page = text(&job, &compared);
            if compared.rows.is_empty() { Outcome::Impossible(page) } else { Outcome::Done(page) }
        }
        Err(fault) => Outcome::Failed(fault),
    }
}

/// The most pieces of one size.
pub(crate) fn count(arguments: CountArguments) -> Outcome {
    match arguments.into_request() {
        Counted::Log(request) => count_log(*request),
        Counted::Pile(size, job) => pile::count(&size, &job),
    }
}

fn count_log(request: CountRequest) -> Outcome {
    let (job, size) = match request.into_job() {
        Ok(counted) => counted,
        Err(faults) => return Outcome::Faulty(faults),
    };
    match plan(&job.log, &job.mill, &job.counting_wants(), &job.settings) {
        Ok(Answer::Planned(planned)) => {
            let obstacles = &planned.obstacles;
            Outcome::Done(pithward_report::counts(&job, &size, Some(&planned), obstacles))
        }
        Ok(Answer::Impossible(obstacles)) => {
            Outcome::Impossible(pithward_report::counts(&job, &size, None, &obstacles))
        }
        Err(fault) => Outcome::Failed(fault),
    }
}

/// The log by each rule.
pub(crate) fn scale(arguments: ScaleArguments) -> Outcome {
    match arguments.into_request().into_scales() {
        Ok(scales) => Outcome::Done(pithward_report::scales(&scales)),
        Err(faults) => Outcome::Faulty(faults),
    }
}
