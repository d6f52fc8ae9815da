//! The file form of a kept promise: JSON on one line.
//!
//! # Units
//! Lengths are nanometres, times microseconds, board feet, areas (square feet), paces, wear and shares millionths, widths of
//! passes thousandths of an inch. `hours` are, in this order: load, turns, sawing, back, set, take, edging, shifts, stacking,
//! waits, waits for helpers, all, area, wear. The logs of a pile are one list: log, pattern, pace, and again.

use pithward_job::{InputFile, PassCount, PlanCounts, PlanTime};
use pithward_measure::{Length, Money, Size};
use pithward_trade::species::Kind;
use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::{
    Kept, KeptCount, KeptFigures, KeptLog, KeptPattern, KeptPile, KeptProduct, KeptRanges,
    KeptSawing, KeptSawn, KeptWant,
};
use crate::hours::LogHours;
use crate::money::{DoneLog, Lumber, Way};
use crate::range::Range;

/// The version of the form.
pub const VERSION: u32 = 1;

/// What such a file says that it is.
const WHAT: &str = "pithward promise";

/// Microseconds in a minute.
const MINUTE: f64 = 60e6;
const MILLION: f64 = 1e6;

/// Why a text is no kept promise.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum KeptFault {
    /// It is no JSON, or lacks a field.
    #[error("is no kept promise: {says}, at line {line}, column {column}")]
    Form {
        /// What is wrong.
        says: String,
        /// On which line, from 1.
        line: usize,
        /// In which column, from 1.
        column: usize,
    },
    /// It was made by a program that writes another form.
    #[error("is a kept promise of form {got}; this program reads form {VERSION}")]
    Version {
        /// The form that it has.
        got: u32,
    },
    /// A value that cannot be.
    #[error("is no kept promise: {field} cannot be {got}")]
    Value {
        /// The field.
        field: &'static str,
        /// What stands there.
        got: String,
    },
}

impl KeptFault {
    fn value(field: &'static str, got: impl ToString) -> Self {
        Self::Value { field, got: got.to_string() }
    }
}

#[derive(Serialize, Deserialize)]
struct Head {
    what: String,
    form: u32,
}

#[derive(Serialize, Deserialize)]
struct File {
    what: String,
    form: u32,
    program: String,
    at: String,
    inputs: Vec<(String, u64, u32)>,
    seed: u64,
    agreed: Option<WayForm>,
    wants: Vec<WantForm>,
    logs: Vec<LogForm>,
    order: Vec<usize>,
    planned: FiguresForm,
    ranges: Option<RangesForm>,
    lift: i64,
    patterns: Vec<PatternForm>,
    piles: Vec<PileForm>,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum WayForm {
    Hour,
    BoardFoot,
}

#[derive(Serialize, Deserialize)]
struct WantForm {
    size: String,
    asked: Option<u32>,
    planned: u32,
    promised: Option<CountForm>,
}

#[derive(Serialize, Deserialize)]
struct CountForm {
    pieces: [u32; 4],
    safe: u32,
    filled: i64,
}

#[derive(Serialize, Deserialize)]
struct LogForm {
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

#[derive(Serialize, Deserialize)]
struct FiguresForm {
    on_site: i64,
    board_feet: i64,
    by_hour: Option<String>,
    by_board_foot: Option<String>,
}

#[derive(Serialize, Deserialize)]
struct RangesForm {
    minutes: [i64; 4],
    board_feet: [i64; 4],
    price: Option<[String; 4]>,
    blades: [u32; 4],
}

/// As the head of the file says.
type HoursForm = [i64; 14];

#[derive(Serialize, Deserialize)]
struct PatternForm {
    hours: HoursForm,
    small_end: i64,
    length: i64,
    /// Thickness as named and as sawn, board feet by named sizes and by those that were sawn.
    lumber: Vec<[i64; 4]>,
    odd: i64,
    pieces: Vec<(usize, u32)>,
}

/// A log by its place in the pile, how many pieces of which want are left of it, and its board feet.
type LostForm = (usize, Vec<(usize, u32)>, i64);

#[derive(Serialize, Deserialize)]
struct PileForm {
    day: i64,
    logs: Vec<i64>,
    /// Which logs of the pile meet metal, by their place in it, and how often.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    struck: Vec<(usize, u32)>,
    /// Which of them lose pieces: what is left of these, and its board feet.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    lost: Vec<LostForm>,
}

impl Kept {
    /// The promise as the text of a file.
    pub fn write(&self) -> String {
        // Numbers, texts and lists always have a text.
        serde_json::to_string(&file(self)).unwrap_or_default() + "\n"
    }

    /// Reads a promise that was written.
    ///
    /// # Errors
    /// Why it is none.
    pub fn read(text: &str) -> Result<Self, KeptFault> {
        let form = |error: serde_json::Error| KeptFault::Form {
            says: match error.classify() {
                serde_json::error::Category::Eof => "it ends too early".to_owned(),
                _ => error.to_string().split(" at line ").next().unwrap_or_default().to_owned(),
            },
            line: error.line(),
            column: error.column(),
        };
        let read = serde_json::from_str::<File>(text);
        let head = match &read {
            Ok(file) => Some((file.what.clone(), file.form)),
            Err(_) => serde_json::from_str::<Head>(text).ok().map(|head| (head.what, head.form)),
        };
        match head {
            Some((what, _)) if what != WHAT => Err(KeptFault::value("what", what)),
            Some((_, form)) if form != VERSION => Err(KeptFault::Version { got: form }),
            _ => kept(read.map_err(form)?),
        }
    }
}

#[allow(clippy::cast_possible_truncation, reason = "`as` saturates, and no figure is that large")]
fn whole(figure: f64) -> i64 {
    figure.round() as i64
}

#[allow(clippy::cast_precision_loss, reason = "far below 2^53")]
fn over(of: i64, one: f64) -> f64 {
    of as f64 / one
}

fn file(kept: &Kept) -> File {
    let numbers = |range: &Range<i64>| [range.planned, range.low, range.likely, range.high];
    let counts = |range: &Range<u32>| [range.planned, range.low, range.likely, range.high];
    let minutes = |range: &Range<f64>| {
        [range.planned, range.low, range.likely, range.high].map(|it| whole(it * MINUTE))
    };
    let moneys = |range: &Range<Money>| {
        [range.planned, range.low, range.likely, range.high].map(|it| it.to_string())
    };
    File {
        what: WHAT.to_owned(),
        form: VERSION,
        program: kept.program.clone(),
        at: kept.at.clone(),
        inputs: kept.inputs.iter().map(|of| (of.name.clone(), of.bytes, of.check)).collect(),
        seed: kept.seed,
        agreed: kept.agreed.map(|way| match way {
            Way::Hour => WayForm::Hour,
            Way::BoardFoot => WayForm::BoardFoot,
        }),
        wants: kept
            .wants
            .iter()
            .map(|want| WantForm {
                size: want.size.to_string(),
                asked: want.asked,
                planned: want.planned,
                promised: want.promised.map(|count| CountForm {
                    pieces: counts(&count.pieces),
                    safe: count.safe,
                    filled: whole(count.filled * MILLION),
                }),
            })
            .collect(),
        logs: kept.logs.iter().map(log_form).collect(),
        order: kept.order.clone(),
        planned: FiguresForm {
            on_site: whole(kept.planned.on_site * MINUTE),
            board_feet: kept.planned.board_feet,
            by_hour: kept.planned.by_hour.map(|money| money.to_string()),
            by_board_foot: kept.planned.by_board_foot.map(|money| money.to_string()),
        },
        ranges: kept.ranges.as_ref().map(|ranges| RangesForm {
            minutes: minutes(&ranges.minutes),
            board_feet: numbers(&ranges.board_feet),
            price: ranges.price.as_ref().map(moneys),
            blades: counts(&ranges.blades),
        }),
        lift: whole(kept.lift * MILLION * MILLION),
        patterns: kept.patterns.iter().map(pattern_form).collect(),
        piles: kept.piles.iter().map(pile_form).collect(),
    }
}

fn log_form(log: &KeptLog) -> LogForm {
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

fn hours_form(hours: &LogHours) -> HoursForm {
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

fn hours(form: &HoursForm) -> LogHours {
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

fn pattern_form(pattern: &KeptPattern) -> PatternForm {
    let lumber = |of: &Lumber| [of.thickness.as_nm(), of.sawn_thickness.as_nm(), of.named, of.sawn];
    PatternForm {
        hours: hours_form(&pattern.hours),
        small_end: pattern.log.small_end.as_nm(),
        length: pattern.log.length.as_nm(),
        lumber: pattern.log.lumber.iter().map(lumber).collect(),
        odd: whole(pattern.odd * MILLION),
        pieces: pattern.pieces.clone(),
    }
}

fn pile_form(pile: &KeptPile) -> PileForm {
    let mut form = PileForm {
        day: whole(pile.day * MILLION),
        logs: Vec::with_capacity(3 * pile.logs.len()),
        struck: Vec::new(),
        lost: Vec::new(),
    };
    let number = |place: usize| i64::try_from(place).unwrap_or(i64::MAX);
    for (n, log) in pile.logs.iter().enumerate() {
        form.logs.extend([number(log.log), number(log.pattern), whole(log.pace * MILLION)]);
        if log.struck > 0 {
            form.struck.push((n, log.struck));
        }
        if let Some(pieces) = &log.pieces {
            form.lost.push((n, pieces.clone(), log.board_feet));
        }
    }
    form
}

fn kept(file: File) -> Result<Kept, KeptFault> {
    let money = |text: &String| {
        Money::parse(text).map_err(|_| KeptFault::value("an amount of money", format!("{text:?}")))
    };
    let some_money = |text: &Option<String>| text.as_ref().map(money).transpose();
    let (wants, logs) = (file.wants.len(), file.logs.len());
    let in_order = |place: &usize| {
        (*place < logs).then_some(()).ok_or_else(|| KeptFault::value("a log of the order", place))
    };
    file.order.iter().try_for_each(in_order)?;
    let patterns: Vec<KeptPattern> =
        file.patterns.iter().map(|form| pattern(form, wants)).collect::<Result<_, _>>()?;
    let piles = file.piles.iter().map(|form| pile(form, (logs, wants), &patterns));
    Ok(Kept {
        program: file.program,
        at: file.at,
        inputs: file
            .inputs
            .into_iter()
            .map(|(name, bytes, check)| InputFile { name, bytes, check })
            .collect(),
        seed: file.seed,
        agreed: file.agreed.map(|way| match way {
            WayForm::Hour => Way::Hour,
            WayForm::BoardFoot => Way::BoardFoot,
        }),
        wants: file.wants.iter().map(want).collect::<Result<_, _>>()?,
        logs: file.logs.into_iter().map(|form| log(form, wants)).collect::<Result<_, _>>()?,
        order: file.order,
        planned: KeptFigures {
            on_site: over(file.planned.on_site, MINUTE),
            board_feet: file.planned.board_feet,
            by_hour: some_money(&file.planned.by_hour)?,
            by_board_foot: some_money(&file.planned.by_board_foot)?,
        },
        ranges: match file.ranges {
            None => None,
            Some(form) => Some(KeptRanges {
                minutes: range(form.minutes.map(|it| over(it, MINUTE))),
                board_feet: range(form.board_feet),
                price: match &form.price {
                    None => None,
                    Some([planned, low, likely, high]) => {
                        Some(range([money(planned)?, money(low)?, money(likely)?, money(high)?]))
                    }
                },
                blades: range(form.blades),
            }),
        },
        lift: over(file.lift, MILLION * MILLION),
        piles: piles.collect::<Result<_, _>>()?,
        patterns,
    })
}

fn range<T>([planned, low, likely, high]: [T; 4]) -> Range<T> {
    Range { planned, low, likely, high }
}

fn size(text: &str) -> Result<Size, KeptFault> {
    Size::parse(text).map_err(|_| KeptFault::value("a size", format!("{text:?}")))
}

fn want(form: &WantForm) -> Result<KeptWant, KeptFault> {
    let count = |form: &CountForm| KeptCount {
        pieces: range(form.pieces),
        safe: form.safe,
        filled: over(form.filled, MILLION),
    };
    Ok(KeptWant {
        size: size(&form.size)?,
        asked: form.asked,
        planned: form.planned,
        promised: form.promised.as_ref().map(count),
    })
}

fn pieces(form: &[(usize, u32)], wants: usize) -> Result<Vec<(usize, u32)>, KeptFault> {
    match form.iter().find(|(want, _)| *want >= wants) {
        Some((want, _)) => Err(KeptFault::value("the want of a piece", want)),
        None => Ok(form.to_vec()),
    }
}

fn log(form: LogForm, wants: usize) -> Result<KeptLog, KeptFault> {
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

fn pattern(form: &PatternForm, wants: usize) -> Result<KeptPattern, KeptFault> {
    let lumber = |[thickness, sawn_thickness, named, sawn]: &[i64; 4]| Lumber {
        thickness: Length::nm(*thickness),
        sawn_thickness: Length::nm(*sawn_thickness),
        named: *named,
        sawn: *sawn,
    };
    Ok(KeptPattern {
        hours: hours(&form.hours),
        log: DoneLog {
            small_end: Length::nm(form.small_end),
            length: Length::nm(form.length),
            lumber: form.lumber.iter().map(lumber).collect(),
        },
        odd: over(form.odd, MILLION),
        pieces: pieces(&form.pieces, wants)?,
    })
}

fn pile(
    form: &PileForm,
    (logs, wants): (usize, usize),
    patterns: &[KeptPattern],
) -> Result<KeptPile, KeptFault> {
    let mut sawn = Vec::with_capacity(form.logs.len() / 3);
    for of in form.logs.chunks(3) {
        let [log, number, pace] = *of else {
            return Err(KeptFault::value(
                "the logs of a pile",
                format!("{} numbers", form.logs.len()),
            ));
        };
        let place = usize::try_from(log).ok().filter(|log| *log < logs);
        let number = usize::try_from(number).unwrap_or(usize::MAX);
        let (Some(log), Some(pattern)) = (place, patterns.get(number)) else {
            return Err(KeptFault::value("a log of a pile", format!("{of:?}")));
        };
        let lumber = pattern.log.lumber.iter().map(|lumber| lumber.named);
        sawn.push(KeptSawn {
            log,
            pattern: number,
            pace: over(pace, MILLION),
            struck: 0,
            board_feet: lumber.fold(0, i64::saturating_add),
            pieces: None,
        });
    }
    let none = |n: &usize| KeptFault::value("a place in a pile", n);
    for (n, struck) in &form.struck {
        sawn.get_mut(*n).ok_or_else(|| none(n))?.struck = *struck;
    }
    for (n, left, board_feet) in &form.lost {
        let log = sawn.get_mut(*n).ok_or_else(|| none(n))?;
        log.pieces = Some(pieces(left, wants)?);
        log.board_feet = *board_feet;
    }
    Ok(KeptPile { day: over(form.day, MILLION), logs: sawn })
}
