//! The road of a page: job file and search, or a plan that is read back; papers, pictures, files.

use crate::arguments::DrawArguments;
use crate::outcome::Outcome;
use crate::papers::{Beside, Wanted, papers};
use crate::pile::{JOB, nothing, nothing_sawn, planned_under};
use crate::wait::waiting;
use crate::written::{self, Kept};
use pithward_job::{PileJob, Typed, read_job, read_time};
use pithward_optimizer::{LogPlan, Pile, PilePlan, PlanFault};
use pithward_page::{Page, log_page, log_pictures, pile_page, pile_pictures};
use pithward_report::{ReadPlan, is_plan, read_plan};
use std::path::{Path, PathBuf};

/// What a fault calls a plan.
const PLAN: &str = "PLAN";

/// What a log is called that nobody gave a name.
const NO_NAME: &str = "1";

/// A page, and the pictures beside it where they were asked for.
struct Drawn {
    page: Page,
    pictures: Vec<(String, String)>,
    /// What else is to be said.
    says: Vec<String>,
}

/// A job, or a plan, as one page for a phone and for paper.
pub(crate) fn draw(arguments: &DrawArguments) -> Outcome {
    let start = read_time(&Typed::new("--start", arguments.start.clone()));
    // What is no plan, or cannot be read, is told as a job file.
    let bytes = std::fs::read(&arguments.job).unwrap_or_default();
    if !is_plan(&bytes) {
        return match (read_job(&arguments.job, JOB), start) {
            (Ok(job), Ok(start)) => of_job(arguments, job, start),
            (job, start) => {
                let faults = [start.err(), job.err()].into_iter().flatten().flatten();
                Outcome::Faulty(faults.collect())
            }
        };
    }
    let file = arguments.job.to_string_lossy();
    match (read_plan(&bytes, &file, PLAN), start) {
        (Ok(ReadPlan::Pile(read)), Ok(start)) => {
            let of = (read.job, read.pile, read.plan);
            let as_told = of.0.clone();
            of_pile(arguments, &as_told, of, start)
        }
        (Ok(ReadPlan::Log(read)), Ok(_)) => {
            of_log(arguments, &read.job, &read.planned.plan, None, 0)
        }
        (Ok(ReadPlan::Half(read)), Ok(_)) => {
            let (job, plan) = (&read.half.job, &read.resumed.plan);
            of_log(arguments, job, plan, read.id.as_deref(), read.resumed.made)
        }
        (plan, start) => {
            let faults = [start.err(), plan.err()].into_iter().flatten().flatten();
            Outcome::Faulty(faults.collect())
        }
    }
}

/// A job that is planned first.
fn of_job(arguments: &DrawArguments, job: PileJob, start: Option<u32>) -> Outcome {
    let planned = waiting(|wait| planned_under(job.clone(), wait));
    match planned {
        Ok(planned) => of_pile(arguments, &job, planned, start),
        Err(fault) => Outcome::Failed(fault),
    }
}

/// A pile whose plan is known; `as_told` is the job as its file has it.
fn of_pile(
    arguments: &DrawArguments,
    as_told: &PileJob,
    (job, pile, plan): (PileJob, Pile, PilePlan),
    start: Option<u32>,
) -> Outcome {
    if nothing_sawn(&plan) {
        return nothing(&plan, pithward_report::pile_summary(&job, &pile, &plan));
    }
    let wanted = Wanted { start, piles: arguments.piles, seed: arguments.seed };
    // What was typed has no file, and nothing beside it.
    let file = if job.file.is_empty() { arguments.job.as_path() } else { Path::new(&job.file) };
    let mut beside = Beside::of(file);
    let drawn = waiting(|wait| {
        let papers = papers(as_told, (&job, &pile, &plan), wanted, &mut beside, wait)?;
        let page = pile_page(&job, &plan, &papers).map_err(PlanFault::Replay)?;
        let pictures = arguments.svg.then(|| pile_pictures(&job, &plan)).transpose();
        Ok::<_, PlanFault>((page, pictures.map_err(PlanFault::Replay)?.unwrap_or_default()))
    });
    match drawn {
        Ok((page, pictures)) => kept(arguments, Drawn { page, pictures, says: beside.says }),
        Err(fault) => Outcome::Failed(fault),
    }
}

/// One log whose plan is known, of which so many passes are made.
fn of_log(
    arguments: &DrawArguments,
    job: &pithward_job::LogJob,
    plan: &LogPlan,
    id: Option<&str>,
    made: usize,
) -> Outcome {
    let id = id.unwrap_or(NO_NAME);
    let drawn = log_page(job, plan, id, made).and_then(|page| {
        let pictures = arguments.svg.then(|| log_pictures(job, plan, id)).transpose()?;
        Ok(Drawn { page, pictures: pictures.unwrap_or_default(), says: Vec::new() })
    });
    match drawn {
        Ok(drawn) => kept(arguments, drawn),
        Err(fault) => Outcome::Failed(PlanFault::Replay(fault)),
    }
}

/// Writes what was drawn, and says so.
fn kept(arguments: &DrawArguments, drawn: Drawn) -> Outcome {
    let Drawn { page, pictures, says } = drawn;
    let stem = PathBuf::from(arguments.job.file_stem().unwrap_or("page".as_ref()));
    let path = arguments.into.join(stem.with_extension("html"));
    let beside = arguments.into.join(stem.with_extension("svg"));
    let wrote = match written::all_new(&arguments.into, &[(path.clone(), page.html.clone())]) {
        Err(refused) => return refused,
        Ok(kept) => {
            let shown = written::shown(&path);
            match kept.first() {
                Some(Kept::Same) => format!("{shown} is there already, word for word.\n"),
                _ => format!("Wrote {shown}: open it in a browser, or send it to a phone.\n"),
            }
        }
    };
    let mut said = wrote + &printed(&page);
    if !pictures.is_empty() {
        let files: Vec<(PathBuf, String)> =
            pictures.into_iter().map(|(name, text)| (beside.join(name), text)).collect();
        if let Err(refused) = written::all_new(&beside, &files) {
            return refused;
        }
        said.push_str(&format!("{} pictures are in {}.\n", files.len(), written::shown(&beside)));
    }
    Outcome::Done(said + &says.iter().map(|words| format!("{words}\n")).collect::<String>())
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
