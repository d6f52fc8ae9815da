//! The road of a bill: job file, promise and tally beside it, what is to be paid, a paper.

use std::path::Path;

use jiff::ZonedDateTime;
use pithward_day::kept::Kept;
use pithward_day::money::{Bill, Way};
use pithward_day::so_far::{Carried, worked};
use pithward_job::{Charges, PileJob, read_job};
use pithward_report::{Billed, Rules, bill_json, bill_paper};
use pithward_tally::{NoPlan, Planned, Record, SoFar, beside, open, whole_seconds};

use crate::arguments::{BillArguments, WhoseCharges};
use crate::outcome::Outcome;
use crate::pile::JOB;
use crate::promise;
use crate::written;

/// What a day came to.
pub(crate) fn bill(arguments: &BillArguments) -> Outcome {
    let mut job = match read_job(&arguments.job, JOB) {
        Ok(job) => job,
        Err(faults) => return Outcome::Faulty(faults),
    };
    let kept = match promise::beside(&arguments.job) {
        Ok(kept) => kept,
        Err(refused) => return refused,
    };
    let path = beside(&arguments.job);
    let record = match open(&path) {
        Ok(Some(record)) => record,
        Ok(None) => {
            return Outcome::Unwritable {
                message: format!("there is no tally of this job ({})", written::shown(&path)),
                help: "say what is done as it is done: pithward tally JOB begin; pithward tally --help says more",
            };
        }
        Err(fault) => {
            return Outcome::Unwritable {
                message: format!("{} {fault}", written::shown(&path)),
                help: "the tally of a job is the file beside it that ends in .tally",
            };
        }
    };
    let (charges, rules) = match charges(&job, kept.as_ref(), arguments.charges) {
        Ok(found) => found,
        Err(refused) => return refused,
    };
    job.charges = charges;
    let agreed = arguments.by.map(|by| by.way()).or(kept.as_ref().and_then(|kept| kept.agreed));
    let way = match way_of(&job, agreed) {
        Ok(way) => way,
        Err(refused) => return refused,
    };
    with_billed(&job, kept.as_ref(), &record, (way, agreed.is_some(), &rules), |billed| {
        told(arguments, billed)
    })
}

/// By what a job is paid: as it was agreed, else by the first way for which there is a price.
pub(crate) fn way_of(job: &PileJob, agreed: Option<Way>) -> Result<Option<Way>, Outcome> {
    let charges = &job.charges;
    let way = agreed.or_else(|| Way::first(charges));
    if let Some(way) = way.filter(|way| !way.is_stated(charges)) {
        let (what, help) = match way {
            Way::Hour => (
                "no price of an hour",
                "state it in the mill file, below [charges], as in hour = \"85 USD/h\"",
            ),
            Way::BoardFoot => (
                "no price of a board foot",
                "state it in the mill file, below [charges], as in board_foot = \"0.45 USD/bf\"",
            ),
            Way::Board => (
                "no price of a board",
                "state it in the mill file, below [charges], as in board = [\"4 USD up to 4x8x20\", \"7 USD\"]",
            ),
            Way::Share => (
                "no share of the lumber",
                "state it in the mill file, below [charges], as in share = \"half\"",
            ),
        };
        return Err(Outcome::Unwritable {
            message: format!("the mill states {what}, and by that the job is paid"),
            help,
        });
    }
    Ok(way)
}

/// The day by its tally, and all that follows from it; with how it is paid, whether that was agreed, and by what
/// right it is charged.
pub(crate) fn with_billed<T>(
    job: &PileJob,
    kept: Option<&Kept>,
    record: &Record,
    (way, agreed, rules): (Option<Way>, bool, &Rules),
    then: impl FnOnce(&Billed<'_>) -> T,
) -> T {
    let charges = &job.charges;
    let planner = kept.map_or(&NoPlan as &dyn Planned, |kept| kept as &dyn Planned);
    let so_far = SoFar::of(record, job, planner, &whole_seconds(&ZonedDateTime::now()));
    let done = worked(job, kept, &so_far);
    let own = way.map(|way| Bill::of(&done, charges, way));
    let carried = Carried::of(job, kept, &so_far);
    then(&Billed {
        job,
        kept,
        so_far: &so_far,
        doubtful_lines: record.open_warnings().count(),
        done: &done,
        way,
        way_agreed: agreed
            || Way::ALL.into_iter().filter(|way| way.is_stated(charges)).count() == 1,
        rules,
        bill: own.as_ref(),
        carried: &carried,
    })
}

/// The bill as it was asked for.
fn told(arguments: &BillArguments, billed: &Billed<'_>) -> Outcome {
    if let Some(directory) = &arguments.into {
        return into(directory, billed);
    }
    if arguments.json {
        return Outcome::Done(bill_json(billed));
    }
    let paper = bill_paper(billed);
    Outcome::Done(if arguments.markdown { paper.markdown() } else { paper.text() })
}

/// What is charged, and by what right: as promised, unless somebody asks for what the mill file says now.
pub(crate) fn charges(
    job: &PileJob,
    kept: Option<&Kept>,
    which: Option<WhoseCharges>,
) -> Result<(Charges, Rules), Outcome> {
    let promised = kept.and_then(Kept::promised_charges).cloned();
    match (promised, which) {
        (None, Some(WhoseCharges::Promised)) => Err(Outcome::Unwritable {
            message: "no charges were kept with a promise of this job".to_owned(),
            help: "leave out --charges promised; `pithward quote JOB --keep` keeps them with the next promise",
        }),
        (None, _) => Ok((job.charges.clone(), Rules::NotKept)),
        (Some(promised), which) => {
            let differ = job.charges.differences(&promised);
            Ok(match (differ.is_empty(), which) {
                (true, _) => (promised, Rules::Promised),
                (false, Some(WhoseCharges::Now)) => (job.charges.clone(), Rules::Now { differ }),
                (false, _) => (promised, Rules::PromisedNotNow { differ }),
            })
        }
    }
}

/// Writes the paper, and the whole as JSON, into a directory.
fn into(directory: &Path, billed: &Billed<'_>) -> Outcome {
    let name = if billed.is_provisional() { "bill-so-far" } else { "bill" };
    let files = [
        (directory.join(format!("{name}.md")), bill_paper(billed).markdown()),
        (directory.join(format!("{name}.json")), bill_json(billed)),
    ];
    written::told_all_new(directory, &files)
}
