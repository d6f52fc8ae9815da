//! A flitch on edge, as it stands on the bed for edging: its cuts with their heights, and where it is cut to length.

use crate::end::{label, spread};
use crate::paint::{Frame, corners_of, path, short};
use crate::side::{Elevation, floor, seen_from_the_side};
use crate::{Drawn, Picture, Words};
use maud::{Markup, html};
use pithward_geometry::{Covering, Laid, Piece, Place};

/// The height of letters, as a share of the picture's width.
const LETTERS: f64 = 0.028;

/// Stations at which a face is looked at.
const STATIONS: u32 = 24;

/// A flitch on edge in the stage of a picture (see [`Drawn::rests`]), small end at the left: its outer face, its narrower face
/// as a broken line, the cuts at their heights, the pieces where they are cut to length. `None` where there is no such
/// stage, or it is none of an edging.
pub fn flitch_view(
    drawn: &Drawn<'_>,
    rest: usize,
    words: &Words<'_>,
    title: &str,
) -> Option<Picture> {
    let laid = drawn.laid.get(rest)?;
    let Place::Edging { edging, .. } = laid.place else { return None };
    let part = drawn.plan.order.edgings.get(edging.checked_sub(1)?)?.part;
    let stage = drawn.stage(laid.place)?;
    let outer = Elevation::of(laid, Covering::Wood).outline();
    let all = Frame::EMPTY.with(&outer).with(&[[0.0, 0.0]]);
    let letters = LETTERS * all.width().max(24.0);
    let frame = all.padded([letters, letters, 6.5 * letters, 3.4 * letters]);
    let own = |(_, piece): &(usize, &Piece)| piece.part == part;
    let pieces: Vec<(usize, &Piece)> =
        drawn.plan.order.pieces.iter().enumerate().filter(own).collect();
    let heights: Vec<f64> = stage.passes.iter().map(|pass| -pass.height.inches_f64()).collect();
    let rows = spread(heights.iter().copied(), 1.3 * letters);
    let right = all.to[0];
    Some(html! {
        svg class="pw" role="img" viewBox=(frame.view_box()) {
            title { (title) }
            path class="waste outer" d=(path(&outer)) {}
            @for (n, piece) in &pieces {
                (piece_box(laid, piece, &(words.piece)(*n), *n, letters))
            }
            path class="far" d=(path(&narrower(laid))) {}
            (floor(&all, letters))
            @for ((pass, y), row) in stage.passes.iter().zip(&heights).zip(rows) {
                @let (at, y) = (right + 1.2 * letters, short(*y));
                path class="cut" d=(format!("M{} {y}H{}", short(all.from[0] - 0.5 * letters), short(right))) {}
                path class="lead" d=(format!("M{} {y}L{} {}", short(right), short(at), short(row))) {}
                text class="r" x=(short(at + 0.3 * letters)) y=(short(row)) font-size=(short(1.1 * letters)) { ((words.height)(pass.printed)) }
            }
            (lengths(&pieces, words, letters))
        }
    })
}

/// The box of a piece as it stands, with its size.
pub(crate) fn piece_box(
    laid: &Laid<'_>,
    piece: &Piece,
    text: &str,
    n: usize,
    letters: f64,
) -> Markup {
    let Some(corners) = seen_from_the_side(laid, piece) else { return html! {} };
    html! {
        polygon class="piece" data-piece=(n + 1) points=(corners_of(&corners)) {}
        (label(&corners, text, letters))
    }
}

/// The narrower of the two faces at each station: what both have.
pub(crate) fn narrower(laid: &Laid<'_>) -> Vec<[f64; 2]> {
    let (mut low, mut high) = (Vec::new(), Vec::new());
    let Some((from, to)) = laid.body.stations(Covering::Wood) else { return low };
    let ([ux, uy, _], [rx, ry, _]) = (laid.pose.up(), laid.pose.right());
    for n in 0..=STATIONS {
        let z = from + (to - from) * f64::from(n) / f64::from(STATIONS);
        let outline = laid.body.outline_at(Covering::Wood, z);
        let across = outline.iter().map(|[x, y]| rx * x + ry * y);
        let (near, far) =
            across.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), r| (a.min(r), b.max(r)));
        // A face lies a hair within its plane.
        let faces = [near + 1e-6, far - 1e-6].map(|r| {
            laid.body.interval(Covering::Wood, z, [rx * r, ry * r], [ux, uy]).map(|(a, b)| {
                [a, b].map(|s| laid.pose.height_of([rx * r + ux * s, ry * r + uy * s, z]))
            })
        });
        if let [Some(one), Some(two)] = faces {
            let (foot, top) = (one[0].max(two[0]), one[1].min(two[1]));
            if foot < top {
                low.push([z, -foot]);
                high.push([z, -top]);
            }
        }
    }
    high.into_iter().chain(low.into_iter().rev()).collect()
}

/// Under the bed, where each piece begins and ends along the log.
pub(crate) fn lengths(pieces: &[(usize, &Piece)], words: &Words<'_>, letters: f64) -> Markup {
    let mut told: Vec<(f64, f64, String)> = Vec::new();
    for (_, piece) in pieces {
        let z = piece.claim.z;
        let one = (z.from.inches_f64(), z.to.inches_f64(), (words.long)(z.size()));
        if !told.contains(&one) {
            told.push(one);
        }
    }
    let y = 1.3 * letters;
    html! {
        @for (from, to, long) in &told {
            path class="lead" d=(format!("M{} {}v{}m0 {}H{}m0 {}v{}", short(*from), short(y - 0.3 * letters),
                short(0.6 * letters), short(-0.3 * letters), short(*to), short(-0.3 * letters), short(0.6 * letters))) {}
            text x=(short(f64::midpoint(*from, *to))) y=(short(y + 1.1 * letters)) text-anchor="middle"
                font-size=(short(letters)) { (long) }
        }
    }
}
