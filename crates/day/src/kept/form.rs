//! The file form of a kept promise: JSON on one line.
//!
//! # Units
//! Lengths are nanometres, times microseconds, board feet, areas (square feet), paces, wear and shares millionths, widths of
//! passes thousandths of an inch. `hours` are, in this order: load, turns, sawing, back, set, take, edging, shifts, stacking,
//! waits, waits for helpers, all, area, wear. The logs of a pile are one list: log, pattern, pace, and again.

mod charges;
mod log;
mod pile;
mod read;

use pithward_measure::{Money, Size};
use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::Kept;
use crate::money::Way;
use crate::range::Range;
use charges::{ChargesForm, charges_form};
use log::{LogForm, log_form};
use pile::{PatternForm, PileForm, pattern_form, pile_form};

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
    /// Promises of older programs have none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    charges: Option<ChargesForm>,
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

fn money(text: &String) -> Result<Money, KeptFault> {
    Money::parse(text).map_err(|_| KeptFault::value("an amount of money", format!("{text:?}")))
}

fn size(text: &str) -> Result<Size, KeptFault> {
    Size::parse(text).map_err(|_| KeptFault::value("a size", format!("{text:?}")))
}

fn pieces(form: &[(usize, u32)], wants: usize) -> Result<Vec<(usize, u32)>, KeptFault> {
    match form.iter().find(|(want, _)| *want >= wants) {
        Some((want, _)) => Err(KeptFault::value("the want of a piece", want)),
        None => Ok(form.to_vec()),
    }
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
        charges: kept.charges.as_ref().map(charges_form),
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
