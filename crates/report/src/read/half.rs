//! How to go on with a half-sawn log, read back.

use super::order::chosen;
use super::written::Written;
use super::{ReadHalf, asked_of, differ, no_value, not_rebuilt};
use crate::card::Going;
use crate::json::resumed_json;
use crate::schema::resume::{FollowedForm, HowForm, ResumedForm};
use crate::schema::sawing::SawnForm;
use pithward_job::{AskedBy, Fault, LogJob, PlanFileFault, Words};
use pithward_optimizer::{How, LogPlan, Resumed, rebuilt};
use std::sync::Arc;

pub(super) fn read(written: &Written<'_>, text: &Arc<str>) -> Result<ReadHalf, Vec<Fault>> {
    let mut faults = Vec::new();
    let asked = asked_of(written, &mut faults);
    let sawn = written.whole::<SawnForm>("plan", &mut faults);
    let resumed = written.field::<ResumedForm>("resumed", &mut faults);
    let followed = written.field::<FollowedForm>("followed", &mut faults);
    let (Some(asked), Some(sawn), Some(resumed), Some(followed), true) =
        (asked, sawn, resumed, followed, faults.is_empty())
    else {
        return Err(faults);
    };
    let Some(job) = asked.log_job() else {
        return Err(vec![written.fault("asked", PlanFileFault::NotAsked)]);
    };
    let job = job?;
    let id = match &asked.by {
        AskedBy::LogOf { id, .. } => Some(id.clone()),
        _ => None,
    };
    let plan = |job: &LogJob, form: &SawnForm, at: &str| -> Result<LogPlan, Vec<Fault>> {
        let chosen = chosen(form).map_err(|value| vec![no_value(written, at, value)])?;
        let plan = rebuilt(&job.log, &job.mill, &job.optimizer_wants(), &job.settings, &chosen);
        plan.map_err(|fault| vec![not_rebuilt(written, at, fault)])
    };
    let before = plan(&job, &followed.sawn, "followed.sawn")?;
    let half = Words(followed.typed).resume()?.into_job(job, &before)?;
    let resumed = Resumed {
        plan: plan(&half.job, &sawn, "")?,
        made: resumed.passes_made,
        how: match resumed.how {
            HowForm::AsPlanned => How::AsPlanned,
            HowForm::SamePlanes => How::SamePlanes,
            HowForm::Anew => How::Anew,
        },
        before: resumed.worth_before,
        as_it_stands: resumed.worth_as_it_stands,
        stands_board_feet: resumed.board_feet_as_it_stands,
        states: resumed.states,
    };
    let going = Going { log: id.as_deref(), half: &half, plan: &before, resumed: &resumed };
    let again = resumed_json(&going);
    let faults = differ::differences(written, text, again.as_bytes(), &[]);
    if faults.is_empty() {
        Ok(ReadHalf { id, half, followed: before, resumed })
    } else {
        Err(faults)
    }
}
