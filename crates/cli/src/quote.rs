//! The road of a quote: job file, search, all that follows from the plan, papers.

use std::path::{Path, PathBuf};

use pithward_day::promise::Promise;
use pithward_day::range::{Asked, ByHours, forecast};
use pithward_job::{Typed, read_job, read_time};
use pithward_optimizer::PlanFault;
use pithward_report::{
    Paper, Quoted, customer_sheet, pack_list, quote_json, quote_page, terms_sheet, work_order,
};

use crate::arguments::{PaperName, QuoteArguments};
use crate::outcome::Outcome;
use crate::pile::{JOB, nothing, nothing_sawn, planned_under};
use crate::wait::waiting;
use crate::written::{self, Kept};

/// What a job makes, takes, costs and leaves.
pub(crate) fn quote(arguments: &QuoteArguments) -> Outcome {
    let mut faults = Vec::new();
    let start = match read_time(&Typed::new("--start", arguments.start.clone())) {
        Ok(start) => start,
        Err(more) => {
            faults.extend(more);
            None
        }
    };
    let job = match read_job(&arguments.job, JOB) {
        Ok(job) if faults.is_empty() => job,
        Ok(_) => return Outcome::Faulty(faults),
        Err(more) => {
            faults.extend(more);
            return Outcome::Faulty(faults);
        }
    };
    let asked = Asked { seed: arguments.seed, piles: arguments.piles, ..Asked::default() };
    let reckoned = waiting(|wait| {
        let (job, pile, plan) = planned_under(job, wait)?;
        if nothing_sawn(&plan) {
            return Ok((job, pile, plan, None));
        }
        let promise = Promise::of(&job, &plan, start).map_err(PlanFault::Replay)?;
        let forecast = match asked.piles {
            0 => None,
            _ => Some(forecast(&job, &plan, &ByHours::of(&job), &asked, wait)?),
        };
        Ok((job, pile, plan, Some((promise, forecast))))
    });
    let (job, pile, plan, follows) = match reckoned {
        Ok(reckoned) => reckoned,
        Err(fault) => return Outcome::Failed(fault),
    };
    let Some((promise, forecast)) = follows else {
        return nothing(&plan, pithward_report::pile_summary(&job, &pile, &plan));
    };
    let forecast = forecast.as_ref().filter(|forecast| forecast.piles > 0);
    let quoted = Quoted { job: &job, pile: &pile, plan: &plan, promise: &promise, forecast };
    if let Some(directory) = &arguments.into {
        return into(directory, &quoted);
    }
    if arguments.json {
        return Outcome::Done(quote_json(&quoted));
    }
    let names =
        if arguments.papers.is_empty() { &[PaperName::Quote][..] } else { &arguments.papers };
    let write = |name: &PaperName| {
        let paper = paper(*name, &quoted);
        if arguments.markdown { paper.markdown() } else { paper.text() }
    };
    let papers: Vec<String> = names.iter().map(write).collect();
    Outcome::Done(papers.join("\n\n"))
}

fn paper(name: PaperName, quoted: &Quoted<'_>) -> Paper {
    match name {
        PaperName::Quote => quote_page(quoted),
        PaperName::Customer => customer_sheet(quoted),
        PaperName::Terms => terms_sheet(quoted),
        PaperName::Pack => pack_list(quoted),
        PaperName::Order => work_order(quoted),
    }
}

/// Writes all papers, and the whole as JSON, into a directory.
fn into(directory: &Path, quoted: &Quoted<'_>) -> Outcome {
    let files: Vec<(PathBuf, String)> = PaperName::ALL
        .into_iter()
        .map(|name| (directory.join(name.file()), paper(name, quoted).markdown()))
        .chain([(directory.join("quote.json"), quote_json(quoted))])
        .collect();
    match written::all_new(directory, &files) {
        Err(refused) => refused,
        Ok(kept) => {
            let lines = files.iter().zip(kept).map(|((path, _), kept)| {
                let path = written::shown(path);
                match kept {
                    Kept::Written => format!("Wrote {path}.\n"),
                    Kept::Same => format!("{path} is there already, word for word.\n"),
                }
            });
            Outcome::Done(lines.collect())
        }
    }
}
