//! A flitch lying flat, from above: where the edger's cuts go and where it is cut to length.

use crate::edge::{lengths, narrower, piece_box};
use crate::paint::{Frame, path, short};
use crate::side::Elevation;
use crate::{Drawn, Picture, Words};
use maud::{Markup, html};
use pithward_geometry::{Covering, Laid, PartId, Piece, Place};

/// The height of letters, as a share of the picture's width.
const LETTERS: f64 = 0.028;

impl Drawn<'_> {
    /// Whether the stage of a picture is the first of the batch in which a part is edged: there its flat view is told once.
    pub fn is_first_edging_of(&self, rest: usize, part: PartId) -> bool {
        let edgings = &self.plan.order.edgings;
        let Some(own) = edgings.iter().find(|it| it.part == part) else { return false };
        let first = edgings.iter().position(|it| it.batch == own.batch);
        first.is_some_and(|n| self.place(rest) == Some(Place::Edging { edging: n + 1, stage: 1 }))
    }

    /// The parts that are edged in one batch with the stage of a picture (see [`Drawn::rests`]), in order.
    pub fn edged_with(&self, rest: usize) -> Vec<PartId> {
        let edgings = &self.plan.order.edgings;
        let batch = match self.place(rest) {
            Some(Place::Edging { edging, .. }) => {
                edging.checked_sub(1).and_then(|n| edgings.get(n)).map(|it| it.batch)
            }
            _ => None,
        };
        edgings.iter().filter(|it| Some(it.batch) == batch).map(|it| it.part).collect()
    }
}

/// A flitch that is edged, flat and from above, small end at the left: its outer face, its narrower one as a broken line, the
/// edger's cuts through its length, and dotted where it is cut to length. `None` of a part that is not edged.
pub fn flat_view(
    drawn: &Drawn<'_>,
    part: PartId,
    words: &Words<'_>,
    title: &str,
) -> Option<Picture> {
    let edging = drawn.plan.order.edgings.iter().position(|edging| edging.part == part)? + 1;
    let first = drawn.laid_in(Place::Edging { edging, stage: 1 })?;
    let outer = Elevation::of(first, Covering::Wood).outline();
    let all = Frame::EMPTY.with(&outer);
    let letters = LETTERS * all.width().max(24.0);
    let low = all.to[1];
    let own = |(_, piece): &(usize, &Piece)| piece.part == part;
    let pieces: Vec<(usize, &Piece)> =
        drawn.plan.order.pieces.iter().enumerate().filter(own).collect();
    let frame = all.padded([letters, 0.8 * letters, letters, 3.2 * letters]);
    Some(html! {
        svg class="pw" role="img" viewBox=(frame.view_box()) {
            title { (title) }
            path class="waste outer" d=(path(&outer)) {}
            @for (n, piece) in &pieces { (piece_box(first, piece, &(words.piece)(*n), *n, letters)) }
            path class="far" d=(path(&narrower(first))) {}
            (edger(drawn, edging, first, &all, letters))
            (trims(&pieces, drawn.log.length().inches_f64(), &all))
            g transform=(format!("translate(0 {})", short(low))) { (lengths(&pieces, words, letters)) }
        }
    })
}

/// The edger's cuts, of all stages.
fn edger(drawn: &Drawn<'_>, edging: usize, first: &Laid<'_>, all: &Frame, letters: f64) -> Markup {
    let of = edging.checked_sub(1).and_then(|n| drawn.plan.order.edgings.get(n));
    let stages = of.map_or(&[][..], |of| &of.stages);
    let mut rows = Vec::new();
    for (n, stage) in stages.iter().enumerate() {
        let Some(laid) = drawn.laid_in(Place::Edging { edging, stage: n + 1 }) else { continue };
        // Turned over, what was up is down: the two heights of any point have one sum.
        let axis = |laid: &Laid<'_>| laid.pose.height_of([0.0, 0.0, 0.0]);
        let over = laid.pose.up()[0] * first.pose.up()[0] + laid.pose.up()[1] * first.pose.up()[1];
        for pass in &stage.passes {
            let height = pass.height.inches_f64();
            let off = height - axis(laid);
            rows.push(-(axis(first) + if over < 0.0 { -off } else { off }));
        }
    }
    html! {
        @for y in rows {
            path class="cut thin" d=(format!("M{} {}H{}", short(all.from[0] - 0.4 * letters), short(y), short(all.to[0] + 0.4 * letters))) {}
        }
    }
}

/// Where it is cut to length, but for the ends of the log itself.
fn trims(pieces: &[(usize, &Piece)], long: f64, all: &Frame) -> Markup {
    let mut places: Vec<f64> = Vec::new();
    for (_, piece) in pieces {
        for at in [piece.claim.z.from.inches_f64(), piece.claim.z.to.inches_f64()] {
            let known = places.iter().any(|place| (place - at).abs() < 0.5);
            if at > 0.01 && at < long - 0.01 && !known {
                places.push(at);
            }
        }
    }
    html! {
        @for at in places {
            path class="trim" d=(format!("M{} {}V{}", short(at), short(all.from[1]), short(all.to[1]))) {}
        }
    }
}
