//! The plan of one log read back.

use super::order::{chosen, method};
use super::written::Written;
use super::{ReadLog, asked_of, differ, no_value, not_rebuilt};
use crate::json::json;
use crate::schema::day::TallyForm;
use crate::schema::plan::{MethodResultForm, ResultForm};
use crate::schema::sawing::SawnForm;
use pithward_job::{Fault, PlanFileFault};
use pithward_optimizer::{MethodResult, Planned, Proof, Tally, rebuilt};
use std::sync::Arc;

/// What was said of other logs and other lists: nothing of the plan follows from it.
const BESIDE: [&str; 2] = ["obstacles", "near_misses"];

pub(super) fn read(written: &Written<'_>, text: &Arc<str>) -> Result<ReadLog, Vec<Fault>> {
    let mut faults = Vec::new();
    let asked = asked_of(written, &mut faults);
    let sawn = written.whole::<SawnForm>("plan", &mut faults);
    let result = written.field::<ResultForm>("result", &mut faults);
    let methods = written.field::<Vec<MethodResultForm>>("methods_compared", &mut faults);
    let (Some(asked), Some(sawn), Some(result), Some(methods), true) =
        (asked, sawn, result, methods, faults.is_empty())
    else {
        return Err(faults);
    };
    let Some(job) = asked.log_job() else {
        return Err(vec![written.fault("asked", PlanFileFault::NotAsked)]);
    };
    let job = job?;
    let chosen = chosen(&sawn).map_err(|value| vec![no_value(written, "", value)])?;
    let wants = job.optimizer_wants();
    let plan = rebuilt(&job.log, &job.mill, &wants, &job.settings, &chosen);
    let plan = plan.map_err(|fault| vec![not_rebuilt(written, "", fault)])?;
    let proof = Proof {
        methods: job.settings.methods.clone(),
        worth_bound: result.worth_bound,
        board_feet_bound: result.board_feet_bound,
        programs: result.programs,
        states: result.states,
    };
    let methods = methods.iter().map(method_result).collect();
    let planned = Planned { plan, proof, methods, obstacles: Vec::new() };
    let again = json(&job, &planned, &[]);
    let faults = differ::differences(written, text, again.as_bytes(), &BESIDE);
    if faults.is_empty() { Ok(ReadLog { job, planned }) } else { Err(faults) }
}

fn method_result(form: &MethodResultForm) -> MethodResult {
    MethodResult {
        method: method(form.method),
        tally: form.tally.iter().map(tally).collect(),
        worth: form.worth,
        board_feet: form.board_feet,
        passes: form.passes,
        turns: form.turns,
    }
}

fn tally(form: &TallyForm) -> Tally {
    Tally { wanted: form.wanted, given: form.given, extra: form.extra }
}
