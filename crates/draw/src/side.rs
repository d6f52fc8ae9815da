//! The log from the side, as it lies for its first face: taper, bow, what raises it, where its passes go.

use crate::end::label;
use crate::paint::{Frame, corners_of, cut_class, path, short};
use crate::{Drawn, Picture, Words};
use maud::{Markup, html};
use pithward_geometry::{Covering, Laid, PartId, Piece, Place, Stage};
use pithward_measure::Length;

/// Stations at which a body is looked at, but for the ends.
const STATIONS: u32 = 24;

/// The height of letters, as a share of the picture's width.
const LETTERS: f64 = 0.028;

/// An end that hangs lower lies on the bed, to look at.
const TOLD: Length = Length::sixty_fourths(4);

/// How high a body reaches over the bed at its stations: lowest and highest, from the small end.
pub(crate) struct Elevation {
    pub(crate) low: Vec<[f64; 2]>,
    pub(crate) high: Vec<[f64; 2]>,
}

impl Elevation {
    pub(crate) fn of(laid: &Laid<'_>, covering: Covering) -> Self {
        let (mut low, mut high) = (Vec::new(), Vec::new());
        let Some((from, to)) = laid.body.stations(covering) else { return Self { low, high } };
        for n in 0..=STATIONS {
            let z = from + (to - from) * f64::from(n) / f64::from(STATIONS);
            let heights = laid.body.outline_at(covering, z);
            let heights = heights.iter().map(|[x, y]| laid.pose.height_of([*x, *y, z]));
            let (least, most) =
                heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), h| (a.min(h), b.max(h)));
            if least <= most {
                low.push([z, -least]);
                high.push([z, -most]);
            }
        }
        Self { low, high }
    }

    /// All around, of what is above a height over the bed.
    fn above(&self, height: f64) -> Vec<[f64; 2]> {
        let both = self.high.iter().zip(&self.low).filter(|(high, _)| -high[1] > height);
        let (high, low): (Vec<_>, Vec<_>) =
            both.map(|(high, low)| (*high, [low[0], low[1].min(-height)])).unzip();
        high.into_iter().chain(low.into_iter().rev()).collect()
    }

    /// All around.
    pub(crate) fn outline(&self) -> Vec<[f64; 2]> {
        self.high.iter().chain(self.low.iter().rev()).copied().collect()
    }
}

/// The log from the side in the stage of a picture (see [`Drawn::rests`]), small end at the left, with its passes and the
/// pieces that they free; `None` where there is no such stage, or it is one of a flitch. Heights are drawn as they are.
pub fn side_view(
    drawn: &Drawn<'_>,
    rest: usize,
    words: &Words<'_>,
    title: &str,
) -> Option<Picture> {
    let laid = drawn.laid.get(rest)?;
    let stage = drawn.stage(laid.place)?;
    let bark = Elevation::of(laid, Covering::Bark);
    let wood = Elevation::of(laid, Covering::Wood);
    let length = drawn.log.length();
    let long = length.inches_f64();
    let all =
        Frame::EMPTY.with(&bark.outline()).with(&wood.outline()).with(&[[0.0, 0.0], [long, 0.0]]);
    let letters = LETTERS * all.width();
    let frame = all.padded([letters, letters, letters, 3.6 * letters]);
    // How high the end itself hangs: what raises it is told in words.
    let hangs = match laid.place {
        Place::Log { stage } => {
            let of = stage.checked_sub(1).and_then(|n| drawn.plan.replayed.hangs.get(n));
            of.copied().flatten().map(|hangs| Length::from_inches_f64(hangs.small_end))
        }
        _ => None,
    };
    let raised = hangs.filter(|hangs| *hangs >= TOLD);
    let raised = raised.map_or_else(String::new, |up| format!(", up {}", (words.height)(up)));
    let (pith_small, pith_butt) = (laid.pose.pith_height(0.0), laid.pose.pith_height(long));
    Some(html! {
        svg class="pw" role="img" viewBox=(frame.view_box()) {
            title { (title) }
            path class="bark" d=(path(&bark.outline())) {}
            path class="wood" d=(path(&wood.outline())) {}
            @if let Some(lowest) = stage.passes.last() {
                // What the passes free is waste where it is no piece.
                path class="waste" d=(path(&wood.above(lowest.height.inches_f64()))) {}
            }
            (pieces(drawn, laid, words, letters))
            (passes(stage, &all))
            path class="gone" d=(format!("M0 {}L{} {}", short(-pith_small), short(long), short(-pith_butt))) {}
            (floor(&all, letters))
            text x="0" y=(short(2.5 * letters)) font-size=(short(letters)) { "small end" (raised) }
            text x=(short(0.5 * long)) y=(short(2.5 * letters)) font-size=(short(letters))
                text-anchor="middle" { ((words.long)(length)) }
            text x=(short(long)) y=(short(2.5 * letters)) font-size=(short(letters))
                text-anchor="end" { "butt" }
        }
    })
}

/// The pieces that a stage frees, or leaves on the bed at the end, as they lie in the log.
fn pieces(drawn: &Drawn<'_>, laid: &Laid<'_>, words: &Words<'_>, letters: f64) -> Markup {
    let freed: Vec<PartId> = drawn
        .small
        .stages
        .iter()
        .filter(|stage| stage.place == laid.place)
        .flat_map(|stage| stage.passes.iter().map(|pass| pass.frees))
        .collect();
    let own = |(_, piece): &(usize, &Piece)| {
        freed.contains(&piece.part) || drawn.is_left_of(laid.place, piece.part)
    };
    let all = drawn.plan.order.pieces.iter().enumerate().filter(own);
    html! {
        @for (n, piece) in all {
            @if let Some(corners) = seen_from_the_side(laid, piece) {
                polygon class="piece hair" data-piece=(n + 1) points=(corners_of(&corners)) {}
                // Smaller letters nobody reads.
                @if corners[2][1] - corners[0][1] > 1.1 * letters {
                    (label(&corners, &(words.piece)(n), letters))
                }
            }
        }
    }
}

/// The box of a piece from the side: along the log, and upward as it lies.
pub(crate) fn seen_from_the_side(laid: &Laid<'_>, piece: &Piece) -> Option<[[f64; 2]; 4]> {
    let (from, to) = (piece.claim.z.from.inches_f64(), piece.claim.z.to.inches_f64());
    let corners = laid.corners(piece, f64::midpoint(from, to))?;
    let heights = corners.iter().map(|corner| -laid.pose.height_of(*corner));
    let (top, foot) =
        heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), h| (a.min(h), b.max(h)));
    Some([[from, top], [to, top], [to, foot], [from, foot]])
}

/// The passes of a stage, as lines from end to end.
fn passes(stage: &Stage, all: &Frame) -> Markup {
    let heights: Vec<f64> = stage.passes.iter().map(|pass| pass.height.inches_f64()).collect();
    let class = cut_class(&heights, all.width());
    html! {
        @for height in &heights {
            @let y = short(-height);
            path class=(class) d=(format!("M{} {y}H{}", short(all.from[0]), short(all.to[0]))) {}
        }
    }
}

/// The bed.
pub(crate) fn floor(all: &Frame, letters: f64) -> Markup {
    let (left, wide) = (all.from[0] - 0.5 * letters, all.width() + letters);
    html! {
        rect class="under" x=(short(left)) y="0" width=(short(wide)) height=(short(0.7 * letters)) {}
        path class="bed" d=(format!("M{} 0h{}", short(left), short(wide))) {}
    }
}
