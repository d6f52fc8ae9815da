//! Patterns, and the simulated piles that are sawn by them.

use pithward_measure::Length;
use serde::{Deserialize, Serialize};

use super::log::{HoursForm, hours, hours_form};
use super::{KeptFault, MILLION, over, pieces, size, whole};
use crate::kept::{KeptPattern, KeptPile, KeptSawn};
use crate::money::{Boards, DoneLog, Lumber};

#[derive(Serialize, Deserialize)]
pub(super) struct PatternForm {
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
pub(super) struct PileForm {
    day: i64,
    logs: Vec<i64>,
    /// Which logs of the pile meet metal, by their place in it, and how often.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    struck: Vec<(usize, u32)>,
    /// Which of them lose pieces: what is left of these, and its board feet.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    lost: Vec<LostForm>,
}

pub(super) fn pattern_form(pattern: &KeptPattern) -> PatternForm {
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

pub(super) fn pile_form(pile: &KeptPile) -> PileForm {
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

pub(super) fn pattern(form: &PatternForm, wants: usize) -> Result<KeptPattern, KeptFault> {
    let lumber = |[thickness, sawn_thickness, named, sawn]: &[i64; 4]| Lumber {
        thickness: Length::nm(*thickness),
        sawn_thickness: Length::nm(*sawn_thickness),
        named: *named,
        sawn: *sawn,
        boards: None,
    };
    let boards = |(count, text, shared): &(u32, String, bool)| {
        Ok(Boards { count: *count, size: size(text)?, shared: *shared, worth: None })
    };
    let boards: Vec<Boards> = form.boards.iter().map(boards).collect::<Result<_, KeptFault>>()?;
    let mut all: Vec<Lumber> = form.lumber.iter().map(lumber).collect();
    match boards.len() {
        0 => {}
        n if n == all.len() => {
            all.iter_mut().zip(boards).for_each(|(lumber, boards)| lumber.boards = Some(boards));
        }
        n => return Err(KeptFault::value("the boards of a pattern", format!("{n} lines"))),
    }
    Ok(KeptPattern {
        hours: hours(&form.hours),
        log: DoneLog {
            id: String::new(),
            small_end: Length::nm(form.small_end),
            length: Length::nm(form.length),
            lumber: all,
        },
        odd: over(form.odd, MILLION),
        pieces: pieces(&form.pieces, wants)?,
    })
}

pub(super) fn pile(
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
