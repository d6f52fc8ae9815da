//! The road of a page: job file, search, pictures, a file.

use crate::arguments::DrawArguments;
use crate::outcome::Outcome;
use crate::pile::{JOB, nothing, nothing_sawn, planned_under};
use crate::wait::waiting;
use crate::written::{self, Kept};
use pithward_job::read_job;
use pithward_optimizer::PlanFault;
use std::path::PathBuf;

/// A job as one page for a phone and for paper.
pub(crate) fn draw(arguments: &DrawArguments) -> Outcome {
    let job = match read_job(&arguments.job, JOB) {
        Ok(job) => job,
        Err(faults) => return Outcome::Faulty(faults),
    };
    let drawn = waiting(|wait| {
        let (job, pile, plan) = planned_under(job, wait)?;
        if nothing_sawn(&plan) {
            return Ok((job, pile, plan, None));
        }
        let page = pithward_page::pile_page(&job, &plan).map_err(PlanFault::Replay)?;
        Ok((job, pile, plan, Some(page)))
    });
    let (job, pile, plan, page) = match drawn {
        Ok(drawn) => drawn,
        Err(fault) => return Outcome::Failed(fault),
    };
    let Some(page) = page else {
        return nothing(&plan, pithward_report::pile_summary(&job, &pile, &plan));
    };
    let mut name = PathBuf::from(arguments.job.file_stem().unwrap_or("page".as_ref()));
    name.set_extension("html");
    let path = arguments.into.join(name);
    match written::all_new(&arguments.into, &[(path.clone(), page)]) {
        Err(refused) => refused,
        Ok(kept) => {
            let shown = written::shown(&path);
            Outcome::Done(match kept.first() {
                Some(Kept::Same) => format!("{shown} is there already, word for word.\n"),
                _ => format!("Wrote {shown}: open it in a browser, or send it to a phone.\n"),
            })
        }
    }
}
