//! The road of a quote: job file, search, all that follows from the plan, papers.

use std::path::{Path, PathBuf};

use jiff::ZonedDateTime;
use pithward_day::kept::{Keeping, Kept, Making};
use pithward_day::promise::Promise;
use pithward_day::range::{Asked, forecast_and_piles};
use pithward_job::{Typed, read_job, read_time};
use pithward_optimizer::{PilePlan, PlanFault};
use pithward_report::{
    Paper, Quoted, customer_sheet, pack_list, quote_json, quote_page, terms_sheet, work_order,
};
use pithward_tally::whole_seconds;

use crate::arguments::{By, PaperName, QuoteArguments};
use crate::outcome::Outcome;
use crate::pile::{JOB, nothing, nothing_sawn, planned_under};
use crate::promise;
use crate::wait::waiting;
use crate::written;

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
            _ => Some(forecast_and_piles(&job, &plan, &Keeping::of(&job), &asked, wait)?),
        };
        let kept = arguments.keep.then(|| {
            let making = Making {
                job: &job,
                plan: &plan,
                promise: &promise,
                forecast: forecast.as_ref().map(|(forecast, piles)| (forecast, piles.as_slice())),
                agreed: arguments.by.map(By::way),
                program: env!("CARGO_PKG_VERSION"),
                at: &whole_seconds(&ZonedDateTime::now()).to_string(),
            };
            making.kept()
        });
        let forecast = forecast.map(|(forecast, _)| forecast);
        Ok((job, pile, plan, Some((promise, forecast, kept))))
    });
    let (job, pile, plan, follows) = match reckoned {
        Ok(reckoned) => reckoned,
        Err(fault) => return Outcome::Failed(fault),
    };
    let Some((promise, forecast, kept)) = follows else {
        return nothing(&plan, pithward_report::pile_summary(&job, &pile, &plan));
    };
    let forecast = forecast.as_ref().filter(|forecast| forecast.piles > 0);
    let quoted = Quoted { job: &job, pile: &pile, plan: &plan, promise: &promise, forecast };
    let kept = kept.map(|kept| keep(arguments, &plan, &kept)).transpose();
    let kept = match kept {
        Ok(said) => said.unwrap_or_default(),
        Err(refused) => return refused,
    };
    if let Some(directory) = &arguments.into {
        return match into(directory, &quoted) {
            Outcome::Done(said) => Outcome::Done(said + &kept),
            refused => refused,
        };
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
    let kept = if kept.is_empty() { kept } else { format!("\n\n{kept}") };
    Outcome::Done(papers.join("\n\n") + &kept)
}

/// Keeps the promise beside the job file; says where.
fn keep(arguments: &QuoteArguments, plan: &PilePlan, kept: &Kept) -> Result<String, Outcome> {
    if plan.stopped {
        return Err(Outcome::NotKept {
            message:
                "the search was stopped before it was done, and no promise is kept of half a plan"
                    .to_owned(),
            help: "let it go on to its end, or quote without --keep",
        });
    }
    promise::keep(&arguments.job, kept)
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
    written::told_all_new(directory, &files)
}
