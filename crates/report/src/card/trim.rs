//! Cutting to length: where every strip is crosscut, from its butt end.

use super::Sheet;
use crate::names::{self, Named, long, numbers};
use crate::page::Page;
use pithward_geometry::{PartId, Piece};
use pithward_measure::Length;

/// One cut along a strip: what it is called, and its length from end to end with its trim.
type Cuts = Vec<(Named, Length)>;

/// Sizes wider than this push their own words aside, not everybody's.
const WIDEST_SIZES: usize = 24;

/// The list of crosscuts; strips that are cut alike stand together.
pub(super) fn trim(page: &mut Page, sheet: &Sheet<'_>) {
    let mut rows: Vec<(Cuts, Vec<PartId>)> = Vec::new();
    let pieces = &sheet.plan.order.pieces;
    let mut seen: Vec<(PartId, Option<PartId>)> = Vec::new();
    for piece in pieces {
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
    page.heading("TRIM", "cut to length from the butt end; what is over at the small end is waste");
    let rows: Vec<(String, String)> = rows
        .iter()
        .map(|(cuts, parts)| {
            let sizes = names::sizes(cuts.iter().map(|(named, _)| *named));
            let lengths: Vec<String> =
                cuts.iter().map(|(_, length)| long(sheet.job, *length)).collect();
            let cut = match cuts.as_slice() {
                [(_, length)] if *length == whole => "the whole length, nothing to cut".to_owned(),
                [(_, first), ..] if cuts.len() > 1 && cuts.iter().all(|(_, l)| l == first) => {
                    format!("cut {}, {} times", long(sheet.job, *first), cuts.len())
                }
                _ => format!("cut {}", lengths.join(", then ")),
            };
            (sizes, format!("{cut}: from {}", numbers(parts)))
        })
        .collect();
    let width = rows.iter().map(|(sizes, _)| sizes.len()).max().unwrap_or(0).min(WIDEST_SIZES);
    for (sizes, words) in rows {
        page.hang(&format!("  {sizes:<width$}  "), &words);
    }
}

/// What one strip is cut into, from the butt.
fn cuts(sheet: &Sheet<'_>, pieces: &[Piece], strip: (PartId, Option<PartId>)) -> Cuts {
    let mut found: Vec<(Length, (Named, Length))> = pieces
        .iter()
        .zip(&sheet.pieces)
        .filter(|(piece, _)| (piece.part, piece.strip) == strip)
        .filter_map(|(piece, named)| {
            named.map(|named| (piece.claim.z.to, (named, piece.claim.z.size())))
        })
        .collect();
    found.sort_by_key(|(end, _)| std::cmp::Reverse(*end));
    found.into_iter().map(|(_, cut)| cut).collect()
}
