//! The plan of a pile read back.

use super::order::{chosen, method};
use super::written::Written;
use super::{ReadPile, asked_of, differ, no_value, not_rebuilt, of_asked};
use crate::json::asked::read_cuts;
use crate::json::pile_json;
use crate::schema::pile::{
    AsFarForm, LogFateForm, LotForm, LotReasonForm, PileResultForm, ShortageForm, WhyShortForm,
};
use crate::schema::sawing::SawnForm;
use crate::schema::stems::{PlainForm, StemPartForm};
use pithward_job::{Fault, PileJob, PlanFileFault};
use pithward_measure::Length;
use pithward_optimizer::{
    AsFar, BuckProof, Cure, LogFate, LogPlan, Lot, LotReason, Pile, PileProof, Plain, PlainRule,
    Shortage, StemCuts, WantId, WhyShort, none_from, put_together, rebuilt_of_pile,
};
use rayon::prelude::*;
use serde::Deserialize;
use serde_json::value::RawValue;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A log of the pile, as far as it is read.
#[derive(Deserialize)]
struct LogRead<'a> {
    fate: LogFateForm,
    #[serde(borrow)]
    plan: Option<&'a RawValue>,
}

/// How the stems are cut, as far as it is read.
#[derive(Deserialize)]
struct BuckingRead {
    lengths: Vec<i64>,
    logs_looked_at: usize,
    list_first: i64,
    programs: u32,
    states: u64,
    value: i64,
    bound: Option<i64>,
    as_far: Option<AsFarForm>,
    plain: Vec<PlainForm>,
    stems: Vec<StemRead>,
}

#[derive(Deserialize)]
struct StemRead {
    parts: Vec<StemPartForm>,
}

pub(super) fn read(
    written: &Written<'_>,
    text: &Arc<str>,
    file: &str,
) -> Result<ReadPile, Vec<Fault>> {
    let mut faults = Vec::new();
    let asked = asked_of(written, &mut faults);
    let order = written.field::<Vec<LotForm>>("order", &mut faults);
    let shortages = written.field::<Vec<ShortageForm>>("shortages", &mut faults);
    let result = written.field::<PileResultForm>("result", &mut faults);
    let bucking = written.field::<Option<BuckingRead>>("bucking", &mut faults);
    let logs = written.field::<Vec<&RawValue>>("logs", &mut faults);
    let logs: Option<Vec<LogRead<'_>>> = logs.map(|logs| {
        let read = |(n, raw)| written.value(&format!("logs[{n}]"), raw, &mut faults);
        logs.into_iter().enumerate().filter_map(read).collect()
    });
    let (Some(asked), Some(order), Some(shortages), Some(result), Some(bucking), Some(logs), true) =
        (asked, order, shortages, result, bucking, logs, faults.is_empty())
    else {
        return Err(faults);
    };
    let job = match asked.pile_job() {
        Some(Ok(job)) => job,
        Some(Err(found)) => return Err(of_asked(written, found, file, text)),
        None => return Err(vec![written.fault("asked", PlanFileFault::NotAsked)]),
    };
    let (job, pile) = cut(written, job, bucking)?;
    if logs.len() != pile.logs.len() {
        let kind = PlanFileFault::Entries { got: logs.len(), right: pile.logs.len() };
        return Err(vec![written.fault("logs", kind)]);
    }
    let fates = fates(written, &pile, &logs)?;
    let order = lots(written, &order, &fates)?;
    let shortages = shortages.iter().enumerate().map(|(n, form)| {
        let path = format!("shortages[{n}].want");
        let of = pile.demands.len();
        let no = |want| written.fault(&path, PlanFileFault::NoSuch { got: want, of });
        if form.want < of { Ok(shortage(form)) } else { Err(vec![no(form.want)]) }
    });
    let shortages = shortages.collect::<Result<Vec<_>, _>>()?;
    let proof = (proof(&pile, &result), result.stopped);
    let plan = put_together(&pile, fates, order, shortages, proof);
    let mut again = Vec::with_capacity(text.len());
    // A list in memory can always be written to.
    let _ = pile_json(&job, &pile, &plan, &mut again);
    let faults = differ::differences(written, text, &again, &[]);
    if faults.is_empty() { Ok(ReadPile { job, pile, plan }) } else { Err(faults) }
}

/// The job with its stems cut as the file has it, and its pile.
fn cut(
    written: &Written<'_>,
    job: PileJob,
    bucking: Option<BuckingRead>,
) -> Result<(PileJob, Pile), Vec<Fault>> {
    let Some(bucking) = bucking else {
        let pile = job.pile();
        return Ok((job, pile));
    };
    let parts: Vec<Vec<StemPartForm>> = bucking.stems.into_iter().map(|stem| stem.parts).collect();
    let stems = read_cuts(&parts);
    let Some((job, pile)) = job.cut_so(&stems) else {
        let kind = PlanFileFault::Form("these are no cuts of the job's stems".to_owned());
        return Err(vec![written.fault("bucking.stems", kind)]);
    };
    let proof = BuckProof {
        value: bucking.value,
        bound: bucking.bound,
        as_far: bucking.as_far.map(as_far),
        first: bucking.list_first,
        spans: bucking.logs_looked_at,
        lengths: bucking.lengths.into_iter().map(Length::nm).collect(),
        programs: bucking.programs,
        states: bucking.states,
    };
    let plain = bucking.plain.iter().map(plain).collect();
    Ok((PileJob { cuts: Some(StemCuts { stems, proof, plain }), ..job }, pile))
}

fn plain(form: &PlainForm) -> Plain {
    Plain {
        rule: form
            .every
            .map_or(PlainRule::LongestFirst, |every| PlainRule::Every(Length::nm(every))),
        logs: form.logs,
        worth: form.worth,
        value: form.value,
        board_feet: form.board_feet,
        missing: form.missing,
    }
}

fn as_far(form: AsFarForm) -> AsFar {
    AsFar { value: form.value, bound: form.bound }
}

/// What becomes of every log, replayed.
fn fates(
    written: &Written<'_>,
    pile: &Pile,
    logs: &[LogRead<'_>],
) -> Result<Vec<LogFate>, Vec<Fault>> {
    // Logs that are alike and sawn alike share one plan.
    let mut leaders: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    let mut leader: Vec<usize> = (0..logs.len()).collect();
    for (n, log) in logs.iter().enumerate() {
        let Some(raw) = log.plan else { continue };
        let alike = leaders.entry(raw.get()).or_default();
        match alike.iter().find(|first| pile.logs[**first] == pile.logs[n]) {
            Some(first) => leader[n] = *first,
            None => alike.push(n),
        }
    }
    let plans: Vec<Option<Result<Arc<LogPlan>, Box<Fault>>>> = logs
        .par_iter()
        .enumerate()
        .map(|(n, log)| {
            let raw = log.plan.filter(|_| leader[n] == n)?;
            Some(log_plan(written, pile, n, raw).map(Arc::new))
        })
        .collect();
    let (mut fates, mut faults) = (Vec::with_capacity(logs.len()), Vec::new());
    for (n, log) in logs.iter().enumerate() {
        let path = |field| format!("logs[{n}].{field}");
        let has = log.plan.is_some();
        let fate = match (&log.fate, plans.get(leader[n])) {
            (LogFateForm::Sawn, Some(Some(Ok(plan)))) => LogFate::Sawn(Arc::clone(plan)),
            (LogFateForm::Sawn, Some(Some(Err(fault)))) => {
                faults.push(Fault::clone(fault));
                continue;
            }
            (LogFateForm::LeftWhole, _) if !has => LogFate::LeftWhole,
            (LogFateForm::Unplanned, _) if !has => LogFate::Unplanned,
            (LogFateForm::Impossible, _) if !has => {
                let of = &pile.logs[n];
                LogFate::Impossible(none_from(&of.log, &pile.mill, &pile.menus[of.menu]))
            }
            _ => {
                let said = if has {
                    "has a plan, and is said not to be sawn"
                } else {
                    "has no plan, and is said to be sawn"
                };
                let kind = PlanFileFault::Form(format!("the log {said}"));
                faults.push(written.fault(&path("fate"), kind));
                continue;
            }
        };
        fates.push(fate);
    }
    if faults.is_empty() { Ok(fates) } else { Err(faults) }
}

fn log_plan(
    written: &Written<'_>,
    pile: &Pile,
    n: usize,
    raw: &RawValue,
) -> Result<LogPlan, Box<Fault>> {
    let at = format!("logs[{n}].plan");
    let form: SawnForm = serde_json::from_str(raw.get()).map_err(|error| {
        let message = error.to_string();
        let message = message.rsplit_once(" at line ").map_or(&*message, |(before, _)| before);
        Box::new(written.fault(&at, PlanFileFault::Form(message.to_owned())))
    })?;
    let chosen = chosen(&form).map_err(|value| Box::new(no_value(written, &at, value)))?;
    let of = &pile.logs[n];
    let wants = (&pile.menus[of.menu][..], &pile.demands[..]);
    let plan = rebuilt_of_pile(&of.log, &pile.mill, wants, &pile.settings, &chosen);
    plan.map_err(|fault| Box::new(not_rebuilt(written, &at, fault)))
}

/// The order of sawing: every log that is sawn in exactly one lot.
fn lots(
    written: &Written<'_>,
    forms: &[LotForm],
    fates: &[LogFate],
) -> Result<Vec<Lot>, Vec<Fault>> {
    let mut seen = vec![false; fates.len()];
    let mut faults = Vec::new();
    for (n, lot) in forms.iter().enumerate() {
        for (m, log) in lot.logs.iter().enumerate() {
            let path = format!("order[{n}].logs[{m}]");
            match (fates.get(*log), seen.get_mut(*log)) {
                (Some(LogFate::Sawn(_)), Some(seen)) if !*seen => *seen = true,
                (Some(fate), _) => {
                    let why = match fate {
                        LogFate::Sawn(_) => "the log stands in the order twice",
                        _ => "the log is not sawn",
                    };
                    faults.push(written.fault(&path, PlanFileFault::Form(why.to_owned())));
                }
                (None, _) => {
                    let kind = PlanFileFault::NoSuch { got: *log, of: fates.len() };
                    faults.push(written.fault(&path, kind));
                }
            }
        }
    }
    let sawn = |fate: &LogFate| matches!(fate, LogFate::Sawn(_));
    for (n, _) in
        fates.iter().zip(&seen).enumerate().filter(|(_, (fate, seen))| sawn(fate) && !**seen)
    {
        let kind =
            PlanFileFault::Form("the log is sawn and stands nowhere in the order".to_owned());
        faults.push(written.fault(&format!("logs[{n}]"), kind));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let lot = |form: &LotForm| Lot {
        reason: match form.reason {
            LotReasonForm::Blocking => LotReason::Blocking,
            LotReasonForm::Only { want } => LotReason::Only(WantId(want)),
            LotReasonForm::Alike { method: how, cant } => {
                LotReason::Alike { method: method(how), cant: cant.map(Length::nm) }
            }
        },
        logs: form.logs.clone(),
    };
    Ok(forms.iter().map(lot).collect())
}

fn shortage(form: &ShortageForm) -> Shortage {
    let why = match &form.why {
        WhyShortForm::NoLog => WhyShort::NoLog,
        WhyShortForm::TooShort { takes, longest } => {
            WhyShort::TooShort { takes: Length::nm(*takes), longest: Length::nm(*longest) }
        }
        WhyShortForm::TooThin { diameter, thickest } => {
            WhyShort::TooThin { diameter: Length::nm(*diameter), thickest: Length::nm(*thickest) }
        }
        WhyShortForm::TooFew { most } => WhyShort::TooFew { most: *most },
        WhyShortForm::NotSought => WhyShort::NotSought,
        WhyShortForm::UsedUp { by } => {
            WhyShort::UsedUp { by: by.iter().copied().map(WantId).collect() }
        }
    };
    let cure = form.cure.as_ref().map(|cure| Cure {
        logs: cure.logs,
        each: cure.each,
        small_end: Length::nm(cure.small_end),
        length: Length::nm(cure.length),
        menu: cure.wood,
    });
    Shortage { want: WantId(form.want), missing: form.missing, why, cure }
}

fn proof(pile: &Pile, form: &PileResultForm) -> PileProof {
    PileProof {
        methods: pile.settings.methods.clone(),
        value: form.value,
        bound: form.bound,
        as_far: form.as_far.as_ref().map(|far| AsFar { value: far.value, bound: far.bound }),
        first: form.list_first,
        list_is_proven: form.list_is_proven,
        classes: form.classes,
        patterns: form.patterns,
        programs: form.programs,
        searches: form.searches,
        states: form.states,
        refused: form.refused,
    }
}
