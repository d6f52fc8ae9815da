//! The file form of a kept promise: JSON on one line.
//!
//! # Units
//! Lengths are nanometres, times microseconds, board feet, areas (square feet), paces, wear and shares millionths, widths of
//! passes thousandths of an inch. `hours` are, in this order: load, turns, sawing, back, set, take, edging, shifts, stacking,
//! waits, waits for helpers, all, area, wear. The logs of a pile are one list: log, pattern, pace, and again.

mod read;

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
use crate::money::{Boards, DoneLog, Lumber, Way};
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
    Board,
    Share,
}

impl WayForm {
    fn of(way: Way) -> Self {
        match way {
            Way::Hour => Self::Hour,
            Way::BoardFoot => Self::BoardFoot,
            Way::Board => Self::Board,
            Way::Share => Self::Share,
        }
    }

    fn way(self) -> Way {
        match self {
            Self::Hour => Way::Hour,
            Self::BoardFoot => Way::BoardFoot,
            Self::Board => Way::Board,
            Self::Share => Way::Share,
        }
    }
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
    #[serde(default, skip_serializing_if = "Option::is_none")]
    by_board: Option<String>,
    /// In money, beside what is paid in lumber.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    by_share: Option<String>,
    /// What the sawyer is paid in lumber, millionths of a board foot.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    in_lumber: Option<i64>,
}

#[derive(Serialize, Deserialize)]
struct RangesForm {
    minutes: [i64; 4],
    board_feet: [i64; 4],
    price: Option<[String; 4]>,
    /// Of every way that the mill states.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    prices: Vec<(WayForm, [String; 4])>,
    /// What the sawyer is paid in lumber.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    in_lumber: Option<[i64; 4]>,
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
    /// Of each of these, in order, how many boards of which size, and whether they are shared; none where a promise was kept
    /// before boards were counted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    boards: Vec<(u32, String, bool)>,
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
            _ => read::kept(read.map_err(form)?),
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
        agreed: kept.agreed.map(WayForm::of),
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
            by_board: kept.planned.by_board.map(|money| money.to_string()),
            by_share: kept.planned.by_share.map(|money| money.to_string()),
            in_lumber: kept.planned.in_lumber,
        },
        ranges: kept.ranges.as_ref().map(|ranges| RangesForm {
            minutes: minutes(&ranges.minutes),
            board_feet: numbers(&ranges.board_feet),
            price: ranges.price.as_ref().map(moneys),
            prices: Way::ALL
                .into_iter()
                .zip(&ranges.prices)
                .filter_map(|(way, range)| Some((WayForm::of(way), moneys(range.as_ref()?))))
                .collect(),
            in_lumber: ranges.in_lumber.as_ref().map(numbers),
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
    let boards = |of: &Lumber| {
        let Boards { count, size, shared, .. } = of.boards?;
        Some((count, size.to_string(), shared))
    };
    PatternForm {
        hours: hours_form(&pattern.hours),
        small_end: pattern.log.small_end.as_nm(),
        length: pattern.log.length.as_nm(),
        lumber: pattern.log.lumber.iter().map(lumber).collect(),
        boards: pattern.log.lumber.iter().filter_map(boards).collect(),
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
