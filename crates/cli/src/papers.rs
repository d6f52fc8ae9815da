//! The papers that go on a page: those of the quote, with the ranges that were promised or are simulated now, and the bill
//! where there is a tally.

use std::path::Path;

use pithward_day::kept::Kept;
use pithward_day::promise::Promise;
use pithward_day::range::{Asked, ByHours, Forecast, forecast};
use pithward_job::PileJob;
use pithward_optimizer::{Pile, PilePlan, PlanFault};
use pithward_page::{PaperKind, Papers};
use pithward_report::{
    Paper, Quoted, bill_paper, customer_sheet, pack_list, quote_page, terms_sheet, work_order,
};
use pithward_tally::{Record, beside, open};

use crate::bill::{charges, way_of, with_billed};
use crate::outcome::Outcome;
use crate::promise;
use crate::wait::Wait;
use crate::written;

/// What lies beside a job file. A page is drawn without what cannot be read, and that is told.
pub(crate) struct Beside {
    kept: Option<Kept>,
    record: Option<Record>,
    /// What is to be said of it.
    pub(crate) says: Vec<String>,
}

impl Beside {
    /// The promise and the tally of a job file.
    pub(crate) fn of(job: &Path) -> Self {
        let mut says = Vec::new();
        let kept = promise::beside(job).unwrap_or_else(|refused| {
            says.extend(words(refused));
            None
        });
        let tally = beside(job);
        let record = open(&tally).unwrap_or_else(|fault| {
            says.push(format!("{} {fault}: the page has no bill.", written::shown(&tally)));
            None
        });
        Self { kept, record, says }
    }
}

/// What is asked of the papers.
#[derive(Clone, Copy)]
pub(crate) struct Wanted {
    /// When a day begins, minutes after midnight.
    pub(crate) start: Option<u32>,
    /// How many piles to simulate; `None` for the ranges of the kept promise.
    pub(crate) piles: Option<u32>,
    pub(crate) seed: u64,
}

/// The papers of a job that is planned, its stems bucked; `as_told` is the job as its file has it.
pub(crate) fn papers(
    as_told: &PileJob,
    (job, pile, plan): (&PileJob, &Pile, &PilePlan),
    wanted: Wanted,
    beside: &mut Beside,
    wait: &Wait,
) -> Result<Papers, PlanFault> {
    let promise = Promise::of(job, plan, wanted.start).map_err(PlanFault::Replay)?;
    let (forecast, note) = match wanted.piles {
        Some(piles) => {
            let asked = Asked { seed: wanted.seed, piles, ..Asked::default() };
            let ranges = || forecast(job, plan, &ByHours::of(job), &asked, wait);
            ((piles > 0).then(ranges).transpose()?, String::new())
        }
        None => promised(beside.kept.as_ref(), job, plan, &promise),
    };
    let forecast = forecast.as_ref().filter(|forecast| forecast.piles > 0);
    let quoted = Quoted { job, pile, plan, promise: &promise, forecast };
    let mut papers = vec![
        (PaperKind::Quote, quote_page(&quoted)),
        (PaperKind::Customer, customer_sheet(&quoted)),
        (PaperKind::Terms, terms_sheet(&quoted)),
        (PaperKind::Pack, pack_list(&quoted)),
        (PaperKind::WorkOrder, work_order(&quoted)),
    ];
    if let Some(record) = &beside.record {
        let kept = beside.kept.as_ref();
        match bill(as_told, kept, record) {
            Ok(bill) => papers.push((PaperKind::Bill, bill)),
            Err(refused) => beside.says.extend(words(refused)),
        }
    }
    Ok(Papers { papers, note })
}

/// The bill as the day stands, by the charges that were promised.
fn bill(job: &PileJob, kept: Option<&Kept>, record: &Record) -> Result<Paper, Outcome> {
    let (charges, rules) = charges(job, kept, None)?;
    let job = PileJob { charges, ..job.clone() };
    let agreed = kept.and_then(|kept| kept.agreed);
    let way = way_of(&job, agreed)?;
    Ok(with_billed(&job, kept, record, (way, agreed.is_some(), &rules), bill_paper))
}

/// The ranges that were promised, where the promise is of this plan; and what is said of them.
fn promised(
    kept: Option<&Kept>,
    job: &PileJob,
    plan: &PilePlan,
    promise: &Promise,
) -> (Option<Forecast>, String) {
    const HOW: &str = "pithward quote JOB --keep reckons and keeps them, pithward draw JOB --piles 500 reckons them alone.";
    let Some(kept) = kept else {
        return (None, format!("The papers are of the plan as it stands, without ranges: {HOW}"));
    };
    let on = kept.at.split('T').next().unwrap_or_default();
    if !kept.is_of(job, plan, promise) {
        let why = "is not of this job as it is now, so its ranges are not shown";
        return (None, format!("The promise that was kept on {on} {why}: {HOW}"));
    }
    match kept.forecast() {
        Some(forecast) => {
            (Some(forecast), format!("Ranges are those of the promise that was kept on {on}."))
        }
        None => (None, format!("The promise that was kept on {on} has no ranges: {HOW}")),
    }
}

/// What a refusal says.
fn words(refused: Outcome) -> Option<String> {
    match refused {
        Outcome::Unwritable { message, help } => Some(format!("{message} ({help})")),
        _ => None,
    }
}
