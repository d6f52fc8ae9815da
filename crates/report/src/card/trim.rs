//! Cutting to length: where every strip is crosscut, from its butt end.
//!
//! A strip whose butt is rotten, or runs out of the wood, is first cut back to where its first piece begins.

use super::Sheet;
use crate::names::{self, Named, long};
use crate::page::Page;
use pithward_geometry::{PartId, Piece};
use pithward_measure::Length;

/// One cut along a strip, from the butt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Cut {
    named: Named,
    /// From end to end with its trim.
    length: Length,
    /// What is cut off before it, the blade's own kerf left out; none where it begins at the last cut.
    off: Length,
}

/// Sizes wider than this push their own words aside, not everybody's.
const WIDEST_SIZES: usize = 24;

/// The list of crosscuts; strips that are cut alike stand together.
pub(super) fn trim(page: &mut Page, sheet: &Sheet<'_>) {
    page.heading("TRIM", HOW);
    let (rows, is_off) = told(sheet);
    if is_off {
        page.say(OFF);
    }
    let width = rows.iter().map(|(sizes, _)| sizes.len()).max().unwrap_or(0).min(WIDEST_SIZES);
    for (sizes, words) in rows {
        page.hang(&format!("  {sizes:<width$}  "), &words);
    }
}

/// How it is cut.
pub(super) const HOW: &str =
    "cut to length from the butt end; what is over at the small end is waste";

/// What a cut before a piece is for.
const OFF: &str = "What is cut off before a piece is flawed, or not of its full size.";

/// The same, item by item.
pub(super) fn items(sheet: &Sheet<'_>) -> Vec<String> {
    let (rows, is_off) = told(sheet);
    let rows = rows.into_iter().map(|(sizes, words)| format!("{sizes}: {words}"));
    rows.chain(is_off.then(|| OFF.to_owned())).collect()
}

/// The sizes with how they are cut; whether anything is cut off before a piece.
fn told(sheet: &Sheet<'_>) -> (Vec<(String, String)>, bool) {
    let mut rows: Vec<(Vec<Cut>, Vec<PartId>)> = Vec::new();
    let pieces = &sheet.plan.order.pieces;
    let mut seen: Vec<(PartId, Option<PartId>)> = Vec::new();
    for piece in pieces.iter().filter(|piece| !sheet.is_finished(piece.part)) {
        let strip = (piece.part, piece.strip);
        if seen.contains(&strip) {
            continue;
        }
        seen.push(strip);
        let cuts = cuts(sheet, pieces, strip);
        match rows.iter_mut().find(|(known, _)| *known == cuts) {
            Some((_, parts)) => parts.push(piece.part),
            None => rows.push((cuts, vec![piece.part])),
        }
    }
    let whole = sheet.job.log.length();
    rows.sort_by(|a, b| a.0.first().cmp(&b.0.first()));
    let is_off = rows.iter().flat_map(|(cuts, _)| cuts).any(|cut| cut.off > Length::ZERO);
    let rows = rows
        .iter()
        .map(|(cuts, parts)| {
            let sizes = names::sizes(cuts.iter().map(|cut| cut.named));
            let cut = match cuts.as_slice() {
                [only] if only.length == whole => "the whole length, nothing to cut".to_owned(),
                [first, ..] if cuts.len() > 1 && cuts.iter().all(|cut| cut == first) => {
                    format!("cut {}, {} times", long(sheet.job, first.length), cuts.len())
                }
                _ => in_turn(sheet, cuts),
            };
            (sizes, format!("{cut}: from {}", sheet.numbers(parts)))
        })
        .collect();
    (rows, is_off)
}

/// One cut after the other, with what is cut off between them.
fn in_turn(sheet: &Sheet<'_>, cuts: &[Cut]) -> String {
    let cut = |cut: &Cut| {
        let length = long(sheet.job, cut.length);
        match cut.off {
            Length::ZERO => length,
            off => format!("off {}, then {length}", long(sheet.job, off)),
        }
    };
    let words: Vec<String> = cuts.iter().map(cut).collect();
    format!("cut {}", words.join(", then "))
}

/// What one strip is cut into, from the butt.
fn cuts(sheet: &Sheet<'_>, pieces: &[Piece], strip: (PartId, Option<PartId>)) -> Vec<Cut> {
    let mut found: Vec<(&Piece, Named)> = pieces
        .iter()
        .zip(&sheet.pieces)
        .filter(|(piece, _)| (piece.part, piece.strip) == strip)
        .filter_map(|(piece, named)| named.map(|named| (piece, named)))
        .collect();
    found.sort_by_key(|(piece, _)| std::cmp::Reverse(piece.claim.z.to));
    let mut end = sheet.job.log.length();
    let mut kerf = Length::ZERO;
    found
        .into_iter()
        .map(|(piece, named)| {
            let z = piece.claim.z;
            // Less than the crosscut itself is nothing that anybody cuts off.
            let gap = end - z.to - kerf;
            let off = if gap > sheet.job.mill.crosscut_kerf { gap } else { Length::ZERO };
            (end, kerf) = (z.from, sheet.job.mill.crosscut_kerf);
            Cut { named, length: z.size(), off }
        })
        .collect()
}
