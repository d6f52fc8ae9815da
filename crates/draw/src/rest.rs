//! How what is on the mill lies for one stage, and its cuts with their heights.

use crate::end::{label_beside, numbered, spread};
use crate::paint::{Frame, Paper, cross, cut_class, short};
use crate::{Drawn, Picture, Words};
use maud::{Markup, html};
use pithward_geometry::{Angle, Covering, PartId, PassParting, Piece, Place, Stage, StageParting};
use pithward_measure::Length;

/// The height of letters and numbers, as a share of the picture's width.
const LETTERS: f64 = 0.045;

/// How far apart the heights stand, in letters.
const ROW: f64 = 1.75;

/// How far the bed goes on beside the log, as a share of the log's width.
const BESIDE: f64 = 0.12;

impl Drawn<'_> {
    /// How many pictures of rests there are: of the log's stages, of those of parts that are put back, and of the edgings.
    pub fn rests(&self) -> usize {
        self.small.stages.len()
    }

    /// The picture of a stage; `None` where it has none.
    pub fn rest_of(&self, place: Place) -> Option<usize> {
        self.small.stages.iter().position(|stage| stage.place == place)
    }

    /// The stage of a picture.
    pub fn place(&self, rest: usize) -> Option<Place> {
        self.small.stages.get(rest).map(|stage| stage.place)
    }

    /// The number of the pass that frees a part, as a card counts them: through the log's stages, then through those of each
    /// part that is put back; `None` of what is left on the bed.
    pub(crate) fn number_of(&self, part: PartId) -> Option<u32> {
        let order = &self.plan.order;
        let count = |stages: &[Stage]| -> usize { stages.iter().map(|it| it.passes.len()).sum() };
        let before = match part.resaw() {
            None => 0,
            Some(resaw) => {
                let resaw = usize::try_from(resaw).ok()?.checked_sub(1)?;
                let earlier = order.resaws.iter().take(resaw).map(|it| count(&it.stages));
                count(&order.stages) + earlier.sum::<usize>()
            }
        };
        part.pass()?.checked_add(u32::try_from(before).ok()?)
    }

    /// What is done in a stage.
    pub(crate) fn stage(&self, place: Place) -> Option<&Stage> {
        let order = &self.plan.order;
        let (stages, stage) = match place {
            Place::Log { stage } => (&order.stages, stage),
            Place::Resaw { resaw, stage } => {
                (&order.resaws.get(resaw.checked_sub(1)?)?.stages, stage)
            }
            Place::Edging { edging, stage } => {
                (&order.edgings.get(edging.checked_sub(1)?)?.stages, stage)
            }
        };
        stages.get(stage.checked_sub(1)?)
    }
}

/// How the body lies in one of its stages (see [`Drawn::rests`]), with the bed, the stops, and every cut at its height; `None`
/// where there is no such stage. Of what is freed, the sizes of the pieces are told.
pub fn rest_view(
    drawn: &Drawn<'_>,
    rest: usize,
    words: &Words<'_>,
    title: &str,
) -> Option<Picture> {
    let parting = drawn.small.stages.get(rest)?;
    let stage = drawn.stage(parting.place)?;
    let paper = Paper { up: parting.up, right: parting.right, middle: parting.axis };
    let is_log = !matches!(parting.place, Place::Edging { .. });
    let now = paper.all(&parting.before.bark);
    let whole = if is_log { paper.all(&drawn.small.whole.bark) } else { Vec::new() };
    let mut all = Frame::EMPTY.with(&now).with(&[[0.0, 0.0]]);
    // A body that does not reach the small end is seen by its cuts alone.
    for pass in &parting.passes {
        all = all.with(&[[0.0, -pass.height]]);
    }
    let butt = if rest == 0 { paper.all(&drawn.log_at_butt().bark) } else { Vec::new() };
    let seen = if is_log {
        all.with(&whole).with(&butt).with(&paper.all(&drawn.small.whole.wood))
    } else {
        all
    };
    let size = seen.width().max(seen.height()).max(1.0);
    let letters = size * LETTERS;
    let beside = (BESIDE * size).max(1.5 * letters);
    // The numbers stand as far apart as they need, beyond the log where there are many.
    let rows = spread(parting.passes.iter().map(|pass| -pass.height), ROW * letters);
    let ends = rows.first().into_iter().chain(rows.last()).map(|row| [seen.to[0], *row]);
    let ends = Frame::EMPTY.with(&ends.collect::<Vec<_>>()).padded([
        0.0,
        0.3 * letters,
        0.0,
        0.3 * letters,
    ]);
    let whole_picture = if rows.is_empty() { seen } else { seen.with(&[ends.from, ends.to]) };
    let frame = whole_picture.padded([beside, letters, beside + 9.5 * letters, 2.0 * letters]);
    let (left, right) = (seen.from[0] - beside, seen.to[0] + beside);
    let bed = format!("M{} 0H{}", short(left), short(right));
    let stops = stage.rest.against.map(|_| {
        let x = now.iter().map(|p| p[0]).fold(f64::INFINITY, f64::min);
        let high = now.iter().map(|p| p[1]).fold(0.0, f64::min);
        format!("M{} 0V{}", short(x), short(0.7 * high))
    });
    Some(html! {
        svg class="pw" role="img" viewBox=(frame.view_box()) {
            title { (title) }
            @if is_log {
                path class="gone" d=(paper.rough(&drawn.small.whole.wood)) {}
            }
            @if rest == 0 {
                // What is thicker at the butt carries the log there.
                path class="far" d=(paper.rough(&drawn.log_at_butt().bark)) {}
            }
            path class="bark" d=(paper.rough(&parting.before.bark)) {}
            path class="wood" d=(paper.path(&parting.before.wood)) {}
            (freed(drawn, parting, &paper, words, letters))
            rect class="under" x=(short(left)) y="0" width=(short(right - left)) height=(short(letters)) {}
            path class="bed" d=(bed) {}
            @if let Some(stops) = stops { path class="bed" d=(stops) {} }
            (cuts(drawn, (stage, parting), (seen.from[0], right), &rows, words, letters))
            @if is_log { (mark(drawn, &paper, letters)) }
        }
    })
}

/// The cuts, each with its number and its height on the scale.
fn cuts(
    drawn: &Drawn<'_>,
    (stage, parting): (&Stage, &StageParting),
    (left, right): (f64, f64),
    rows: &[f64],
    words: &Words<'_>,
    letters: f64,
) -> Markup {
    let numbered_ones: Vec<(&PassParting, Length)> =
        parting.passes.iter().zip(&stage.passes).map(|(it, pass)| (it, pass.printed)).collect();
    let heights: Vec<f64> = parting.passes.iter().map(|pass| pass.height).collect();
    let class = cut_class(&heights, right - left + 9.5 * letters);
    let at = right + 0.9 * letters;
    html! {
        @for ((pass, printed), row) in numbered_ones.iter().zip(rows) {
            @let y = short(-pass.height);
            path class=(class) d=(format!("M{} {y}H{}", short(left), short(right - 1.2 * letters))) {}
            path class="lead" d=(format!("M{} {y}L{} {}", short(right - 1.2 * letters), short(at), short(*row))) {}
            @if let Some(number) = drawn.number_of(pass.frees).filter(|_| !matches!(parting.place, Place::Edging { .. })) {
                (numbered(number, [at + 0.4 * letters, *row], letters))
            }
            text class="r" x=(short(at + 1.5 * letters)) y=(short(*row)) font-size=(short(1.15 * letters)) { ((words.height)(*printed)) }
        }
    }
}

/// What the passes free: the pieces that come of it.
fn freed(
    drawn: &Drawn<'_>,
    parting: &StageParting,
    paper: &Paper,
    words: &Words<'_>,
    letters: f64,
) -> Markup {
    let pieces = &drawn.plan.order.pieces;
    let parts: Vec<PartId> = parting.passes.iter().map(|pass| pass.frees).collect();
    let of_edging = match parting.place {
        Place::Edging { edging, .. } => {
            edging.checked_sub(1).and_then(|n| drawn.plan.order.edgings.get(n)).map(|it| it.part)
        }
        _ => None,
    };
    let comes = |piece: &Piece| match of_edging {
        Some(part) => piece.part == part,
        None => parts.contains(&piece.part) || drawn.is_left_of(parting.place, piece.part),
    };
    let same = |a: &Piece, b: &Piece| {
        (a.part, a.strip, a.claim.u, a.claim.h) == (b.part, b.strip, b.claim.u, b.claim.h)
    };
    // Of pieces that lie one behind another the first is seen.
    let first = |(n, piece): &(usize, &Piece)| {
        comes(piece) && pieces[..*n].iter().all(|before| !same(before, piece))
    };
    let pith = of_edging.is_none().then(|| paper.at([0.0, 0.0]));
    html! {
        @for (n, piece) in pieces.iter().enumerate().filter(first) {
            @let corners = drawn.corners(piece);
            polygon class="piece" data-piece=(n + 1) points=(paper.corners(&corners)) {}
            (label_beside(&paper.all(&corners), &(words.piece)(n), letters, pith))
        }
    }
}

/// Where 12 o'clock of the log is: an arrow from the pith.
fn mark(drawn: &Drawn<'_>, paper: &Paper, letters: f64) -> Markup {
    let body = pithward_geometry::Body::whole(drawn.log);
    let (sin, cos) = Angle::ZERO.sin_cos();
    let reach = body.reach_at(Covering::Wood, 0.0, [sin, cos]).unwrap_or(0.0);
    let [px, py] = paper.at([0.0, 0.0]);
    let [x, y] = paper.at([sin * (reach + 1.1 * letters), cos * (reach + 1.1 * letters)]);
    let arm = 0.4 * letters;
    let cross = cross([px, py], arm);
    html! {
        path class="pith" d=(cross) {}
        text class="c halo" x=(short(x)) y=(short(y)) font-size=(short(letters)) font-weight="bold" stroke-width=(short(0.3 * letters)) { "12" }
    }
}

impl Drawn<'_> {
    /// Whether a part is what lies on the bed after the last stage of a body.
    pub(crate) fn is_left_of(&self, place: Place, part: PartId) -> bool {
        let order = &self.plan.order;
        match (place, part) {
            (Place::Log { stage }, PartId::Left) => stage == order.stages.len(),
            (Place::Resaw { resaw, stage }, PartId::LeftOf { resaw: of }) => {
                let last = resaw.checked_sub(1).and_then(|n| order.resaws.get(n));
                usize::try_from(of).is_ok_and(|of| of == resaw)
                    && last.is_some_and(|it| it.stages.len() == stage)
            }
            _ => false,
        }
    }
}
