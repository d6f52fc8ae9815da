//! The road of a page: job file, search, papers, pictures, a file.

use crate::arguments::DrawArguments;
use crate::outcome::Outcome;
use crate::papers::{Beside, Wanted, papers};
use crate::pile::{JOB, nothing, nothing_sawn, planned_under};
use crate::wait::waiting;
use crate::written::{self, Kept};
use pithward_job::{Typed, read_job, read_time};
use pithward_optimizer::PlanFault;
use pithward_page::Page;
use std::path::PathBuf;

/// A job as one page for a phone and for paper.
pub(crate) fn draw(arguments: &DrawArguments) -> Outcome {
    let start = read_time(&Typed::new("--start", arguments.start.clone()));
    let (job, start) = match (read_job(&arguments.job, JOB), start) {
        (Ok(job), Ok(start)) => (job, start),
        (job, start) => {
            let faults = [start.err(), job.err()].into_iter().flatten().flatten();
            return Outcome::Faulty(faults.collect());
        }
    };
    let wanted = Wanted { start, piles: arguments.piles, seed: arguments.seed };
    let mut beside = Beside::of(&arguments.job);
    let drawn = waiting(|wait| {
        let (planned, pile, plan) = planned_under(job.clone(), wait)?;
        if nothing_sawn(&plan) {
            return Ok((planned, pile, plan, None));
        }
        let of = (&planned, &pile, &plan);
        let papers = papers(&job, of, wanted, &mut beside, wait)?;
        let page = pithward_page::pile_page(&planned, &plan, &papers).map_err(PlanFault::Replay)?;
        Ok((planned, pile, plan, Some(page)))
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
    let says: String = beside.says.iter().map(|words| format!("{words}\n")).collect();
    match written::all_new(&arguments.into, &[(path.clone(), page.html.clone())]) {
        Err(refused) => refused,
        Ok(kept) => {
            let shown = written::shown(&path);
            let wrote = match kept.first() {
                Some(Kept::Same) => format!("{shown} is there already, word for word.\n"),
                _ => format!("Wrote {shown}: open it in a browser, or send it to a phone.\n"),
            };
            Outcome::Done(wrote + &printed(&page) + &says)
        }
    }
}

/// How many sheets each view takes.
fn printed(page: &Page) -> String {
    let sheets = |count: usize| format!("{count} {}", if count == 1 { "sheet" } else { "sheets" });
    let papers = page.papers.iter().map(|(name, count)| format!("{} {count}", name.to_lowercase()));
    let papers: Vec<String> = papers.collect();
    let mut said = format!("Printed, list and cards are {}", sheets(page.cards));
    if !papers.is_empty() {
        said.push_str(&format!("; the papers: {}", papers.join(", ")));
    }
    said + ".\n"
}
