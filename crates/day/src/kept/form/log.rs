//! One log: how it is planned to be sawn, and what that takes.

use pithward_job::{PassCount, PlanCounts, PlanTime};
use pithward_measure::Length;
use pithward_trade::species::Kind;
use serde::{Deserialize, Serialize};

use super::{KeptFault, MILLION, MINUTE, over, pieces, size, whole};
use crate::hours::LogHours;
use crate::kept::{KeptLog, KeptProduct, KeptSawing};

#[derive(Serialize, Deserialize)]
pub(super) struct LogForm {
    id: String,
    species: Option<String>,
    small_end: i64,
    butt: i64,
    length: i64,
    sawn: Option<SawingForm>,
}

#[derive(Serialize, Deserialize)]
struct SawingForm {
    quarter: bool,
    products: Vec<ProductForm>,
    board_feet: i64,
    hours: HoursForm,
    counts: CountsForm,
}

#[derive(Serialize, Deserialize)]
struct ProductForm {
    want: usize,
    size: String,
    sawn: [i64; 2],
    count: u32,
}

#[derive(Serialize, Deserialize)]
struct CountsForm {
    length: i64,
    wood: Option<WoodForm>,
    turns: u32,
    of_log: Vec<i64>,
    of_edging: Vec<i64>,
    batches: u32,
    shifts: u32,
    pieces: u32,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum WoodForm {
    Hardwood,
    Softwood,
}

/// As the head of the file says.
pub(super) type HoursForm = [i64; 14];

pub(super) fn log_form(log: &KeptLog) -> LogForm {
    let inches = |passes: &[PassCount]| passes.iter().map(|it| whole(it.width * 1000.0)).collect();
    LogForm {
        id: log.id.clone(),
        species: log.species.clone(),
        small_end: log.small_end.as_nm(),
        butt: log.butt.as_nm(),
        length: log.length.as_nm(),
        sawn: log.sawn.as_ref().map(|sawn| SawingForm {
            quarter: sawn.quarter,
            products: sawn
                .products
                .iter()
                .map(|product| ProductForm {
                    want: product.want,
                    size: product.size.to_string(),
                    sawn: product.sawn.map(Length::as_nm),
                    count: product.count,
                })
                .collect(),
            board_feet: sawn.board_feet,
            hours: hours_form(&sawn.hours),
            counts: CountsForm {
                length: whole(sawn.counts.length * 1000.0),
                wood: sawn.counts.wood.map(|wood| match wood {
                    Kind::Hardwood => WoodForm::Hardwood,
                    Kind::Softwood => WoodForm::Softwood,
                }),
                turns: sawn.counts.turns,
                of_log: inches(&sawn.counts.of_log),
                of_edging: inches(&sawn.counts.of_edging),
                batches: sawn.counts.batches,
                shifts: sawn.counts.shifts,
                pieces: sawn.counts.pieces,
            },
        }),
    }
}

pub(super) fn log(form: LogForm, wants: usize) -> Result<KeptLog, KeptFault> {
    let passes =
        |widths: &[i64]| widths.iter().map(|it| PassCount { width: over(*it, 1000.0) }).collect();
    let sawing = |form: SawingForm| {
        let product = |form: &ProductForm| {
            pieces(&[(form.want, form.count)], wants)?;
            Ok(KeptProduct {
                want: form.want,
                size: size(&form.size)?,
                sawn: form.sawn.map(Length::nm),
                count: form.count,
            })
        };
        Ok(KeptSawing {
            quarter: form.quarter,
            products: form.products.iter().map(product).collect::<Result<_, _>>()?,
            board_feet: form.board_feet,
            hours: hours(&form.hours),
            counts: PlanCounts {
                length: over(form.counts.length, 1000.0),
                wood: form.counts.wood.map(|wood| match wood {
                    WoodForm::Hardwood => Kind::Hardwood,
                    WoodForm::Softwood => Kind::Softwood,
                }),
                turns: form.counts.turns,
                of_log: passes(&form.counts.of_log),
                of_edging: passes(&form.counts.of_edging),
                batches: form.counts.batches,
                shifts: form.counts.shifts,
                pieces: form.counts.pieces,
            },
        })
    };
    Ok(KeptLog {
        id: form.id,
        species: form.species,
        small_end: Length::nm(form.small_end),
        butt: Length::nm(form.butt),
        length: Length::nm(form.length),
        sawn: form.sawn.map(sawing).transpose()?,
    })
}

pub(super) fn hours_form(hours: &LogHours) -> HoursForm {
    let LogHours { steps, stacking, waits, waits_for_helpers, minutes, area, wear, .. } = hours;
    let PlanTime { load, turns, sawing, back, set, take, edging, shifts } = steps;
    let times = [
        load,
        turns,
        sawing,
        back,
        set,
        take,
        edging,
        shifts,
        stacking,
        waits,
        waits_for_helpers,
        minutes,
    ];
    let mut form = [0; 14];
    for (form, minutes) in form.iter_mut().zip(times) {
        *form = whole(minutes * MINUTE);
    }
    form[12] = whole(area * MILLION);
    form[13] = whole(wear * MILLION);
    form
}

pub(super) fn hours(form: &HoursForm) -> LogHours {
    let time = |n: usize| over(form[n], MINUTE);
    LogHours {
        steps: PlanTime {
            load: time(0),
            turns: time(1),
            sawing: time(2),
            back: time(3),
            set: time(4),
            take: time(5),
            edging: time(6),
            shifts: time(7),
        },
        stacking: time(8),
        waits: time(9),
        waits_for_helpers: time(10),
        minutes: time(11),
        area: over(form[12], MILLION),
        wear: over(form[13], MILLION),
        strikes: 0,
    }
}
