//! The quote of a pile as JSON: all that its papers say, and every figure behind it.

mod goods;
mod hours;
pub(super) mod money;
pub(super) mod range;
mod yard;

use super::{day, obstacle, pile, whole};
use crate::quote::Quoted;
use crate::schema::VERSION;
use crate::schema::pile::{GivesForm, LogFateForm};
use crate::schema::quote::{
    PromisedForm, QuoteForm, QuoteLogForm, QuoteSawnForm, QuoteShortageForm, QuoteUnitsForm,
    QuoteWantForm,
};
use pithward_geometry::FlawKind;
use pithward_job::JobWant;
use pithward_measure::{Fluid, Width};
use pithward_optimizer::{LogFate, LogPlan, Tally};
use pithward_trade::CubicFeet;

/// The whole quote as JSON, in the form of [`quote_schema`](crate::quote_schema()).
pub fn quote_json(quoted: &Quoted<'_>) -> String {
    let text = serde_json::to_string_pretty(&form(quoted));
    // Numbers, texts, lists and maps with text keys always have a text.
    text.unwrap_or_default() + "\n"
}

fn form(quoted: &Quoted<'_>) -> QuoteForm {
    let Quoted { job, pile, plan, promise, forecast } = *quoted;
    let wants = job.wants.iter().zip(&plan.tally).enumerate();
    QuoteForm {
        schema_version: VERSION,
        units: units(),
        job: pile::job_form(job),
        mill: day::mill(job),
        assumptions: day::assumptions(job, job.logs.iter().all(|log| log.log.is_round())),
        yard: yard::yard(job),
        stopped: plan.stopped,
        board_feet: plan.board_feet,
        wants: wants.map(|(n, (named, tally))| want(quoted, n, named, tally)).collect(),
        shortages: plan
            .shortages
            .iter()
            .map(|one| shortage(pile::shortage(job, pile, one)))
            .collect(),
        forecast: forecast.map(|forecast| range::forecast(job, forecast)),
        hours: hours::hours(&promise.hours),
        price: money::price(promise),
        charges: money::charges(&job.charges),
        supplies: goods::supplies(job, promise),
        goods: goods::goods(job, &promise.goods),
        order: pile::order(plan),
        logs: (0..job.logs.len()).filter_map(|log| one_log(quoted, log)).collect(),
        basis: yard::basis(job),
    }
}

fn units() -> QuoteUnitsForm {
    QuoteUnitsForm {
        length: "nm",
        area: "mm2",
        volume: "mm3",
        weight: "mg",
        density: "g/m3",
        time: "ms",
        board_feet: "millionth of a board foot",
        share: "millionth",
        blade: "millionth",
        money: "decimal text",
    }
}

fn want(quoted: &Quoted<'_>, n: usize, named: &JobWant, tally: &Tally) -> QuoteWantForm {
    let promised = quoted.forecast.and_then(|forecast| forecast.wants.get(n));
    QuoteWantForm {
        size: named.size.to_string(),
        thickness: named.size.thickness.as_nm(),
        width: named.size.width.least().as_nm(),
        random_width: matches!(named.size.width, Width::AtLeast(_)),
        lengths: named.lengths.iter().map(|length| length.as_nm()).collect(),
        species: named.species.iter().map(|species| species.name.as_str()).collect(),
        more_welcome: named.count.is_none() || named.extra.is_some(),
        blocking: named.blocking,
        asked: tally.wanted,
        given: tally.given,
        extra: tally.extra,
        short: tally.short(),
        promised: promised.map(|want| PromisedForm {
            pieces: range::range(&want.pieces, |pieces| *pieces),
            safe: want.safe,
            filled: share(want.filled),
        }),
    }
}

fn shortage(form: crate::schema::pile::ShortageForm) -> QuoteShortageForm {
    QuoteShortageForm { want: form.want, missing: form.missing, why: form.why, says: form.says }
}

fn one_log(quoted: &Quoted<'_>, n: usize) -> Option<QuoteLogForm> {
    let Quoted { job, plan, promise, .. } = *quoted;
    let (log, fate) = (job.logs.get(n)?, plan.logs.get(n)?);
    let (fate, sawn, obstacles) = match fate {
        LogFate::Sawn(plan) => (LogFateForm::Sawn, sawn(quoted, n, plan), Vec::new()),
        LogFate::LeftWhole => (LogFateForm::LeftWhole, None, Vec::new()),
        LogFate::Unplanned => (LogFateForm::Unplanned, None, Vec::new()),
        LogFate::Impossible(obstacles) => {
            let of_log = job.log_job(n);
            let forms = obstacles.iter().map(|one| obstacle::form(&of_log, one)).collect();
            (LogFateForm::Impossible, None, forms)
        }
    };
    Some(QuoteLogForm {
        id: log.id.clone(),
        species: log.species.map(|species| species.name.as_str()),
        small_end: log.log.small_end().as_nm(),
        butt: log.log.butt().as_nm(),
        length: log.log.length().as_nm(),
        measured: job.doubt.measured(&log.id).word(),
        metal: log.log.flaws().iter().any(|flaw| flaw.kind == FlawKind::Metal),
        notes: log.notes.clone(),
        fate,
        obstacles,
        weight: goods::log(promise.goods.logs.get(n)?),
        sawn,
    })
}

fn sawn(quoted: &Quoted<'_>, n: usize, plan: &LogPlan) -> Option<QuoteSawnForm> {
    let hours = &quoted.promise.hours;
    let place = hours.order.iter().position(|log| *log == n)?;
    let mut gives = vec![GivesForm::default(); quoted.job.wants.len()];
    for product in &plan.products {
        let Some(gives) = gives.get_mut(product.cut.want.0) else { continue };
        if product.extra {
            gives.extra += 1;
        } else {
            gives.given += 1;
        }
    }
    Some(QuoteSawnForm {
        number: place + 1,
        gives,
        board_feet: plan.board_feet,
        put_back: plan.order.resaws.len(),
        hours: hours::log(hours, place)?,
    })
}

/// Minutes in milliseconds.
pub(super) fn minutes(minutes: f64) -> i64 {
    whole(minutes * 60_000.0)
}

/// Whole seconds in milliseconds.
pub(super) fn seconds(seconds: i64) -> i64 {
    seconds.saturating_mul(1000)
}

/// A share from 0 to 1, or blades, in millionths.
pub(super) fn share(share: f64) -> i64 {
    whole(share * 1e6)
}

/// A weight in milligrams.
pub(super) fn weight(weight: pithward_measure::Weight) -> i64 {
    whole(weight.kg_f64() * 1e6)
}

/// A volume in cubic millimetres.
fn volume(volume: CubicFeet) -> i64 {
    whole(volume.get() * CUBIC_FOOT)
}

/// Cubic millimetres in a cubic foot.
const CUBIC_FOOT: f64 = 28_316_846.592;

/// A liquid in cubic millimetres.
fn fluid(fluid: Fluid) -> i64 {
    whole(fluid.litres_f64() * 1e6)
}

/// Square feet in square millimetres.
fn area(square_feet: f64) -> i64 {
    whole(square_feet * 92_903.04)
}
