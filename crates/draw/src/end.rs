//! The small end, with every cut and every piece: what becomes of the log.

use crate::paint::{Frame, Paper, cross, line, middle, path, short};
use crate::{Drawn, Picture, Words};
use maud::{Markup, html};
use pithward_geometry::{Angle, Outlines, PartId, Piece, Place, StageParting};
use pithward_measure::Length;

/// The height of letters and numbers, as a share of the picture's width.
const LETTERS: f64 = 0.036;

/// What begins no further from the small end than this reaches it, but for its trim.
const TRIM: Length = Length::inches(6);

impl Drawn<'_> {
    /// The small end as it lies in the first stage.
    fn first_paper(&self) -> Paper {
        match self.small.stages.first() {
            Some(stage) => Paper { up: stage.up, right: stage.right, middle: 0.0 },
            None => Paper { up: [0.0, 1.0], right: [1.0, 0.0], middle: 0.0 },
        }
    }

    /// The corners of a piece's box in the small end.
    pub(crate) fn corners(&self, piece: &Piece) -> Vec<[f64; 2]> {
        let corners = piece.claim.corners_at(&self.plan.order.frame, self.log.length(), 0.0);
        corners.map(Vec::from).unwrap_or_default()
    }
}

/// The small end with every cut in its order, and every piece with its size, as it lies for the first face. What is drawn
/// within the bark is under `id`, for a [`thumbnail`].
pub fn end_view(drawn: &Drawn<'_>, words: &Words<'_>, id: &str, title: &str) -> Picture {
    let paper = drawn.first_paper();
    let whole = &drawn.small.whole;
    let butt = drawn.log_at_butt();
    let all = Frame::EMPTY
        .with(&paper.all(&whole.bark))
        .with(&paper.all(&butt.bark))
        .with(&paper.all(&whole.wood));
    let size = all.width().max(all.height());
    let letters = size * LETTERS;
    let margin = 2.6 * letters;
    let frame = all.padded([margin, margin, 2.0 * margin, margin]);
    let (leads, numbers, top) = numbers(drawn, &paper, &all, letters);
    let frame = frame.padded([0.0, top, 0.0, 0.0]);
    html! {
        svg class="pw" role="img" viewBox=(frame.view_box()) {
            title { (title) }
            (leads)
            path class="far" d=(paper.rough(&butt.wood)) {}
            path class="bark" d=(paper.rough(&whole.bark)) {}
            g id=(id) {
                path class="wood" d=(paper.path(&whole.wood)) {}
                (sections(drawn, &paper, words, letters))
            }
            (clock(&paper, &all, letters))
            (numbers)
        }
    }
}

/// The end of a log as one among many: what [`end_view`] drew under this id on the same page.
pub fn thumbnail(drawn: &Drawn<'_>, id: &str, title: &str) -> Picture {
    let paper = drawn.first_paper();
    let whole = &drawn.small.whole;
    let all = Frame::EMPTY.with(&paper.all(&whole.bark)).with(&paper.all(&whole.wood));
    let frame = all.padded([0.3; 4]);
    html! {
        svg class="pw small" role="img" viewBox=(frame.view_box()) aria-label=(title) {
            use href=(format!("#{id}")) {}
        }
    }
}

/// Waste, sawdust, and pieces with their sizes.
fn sections(drawn: &Drawn<'_>, paper: &Paper, words: &Words<'_>, letters: f64) -> Markup {
    let small = &drawn.small;
    let pieces = &drawn.plan.order.pieces;
    let kerfs = small.stages.iter().flat_map(|stage| &stage.passes).map(|pass| &pass.kerf.wood);
    html! {
        g {
            @for part in small.parts.iter().filter(|part| !part.outlines.wood.is_empty()) {
                path class="waste" d=(paper.path(&part.outlines.wood)) {}
            }
            @for (n, piece) in pieces.iter().enumerate() {
                @let corners = drawn.corners(piece);
                // What is cut from the butt need not reach the small end.
                @let reaches = piece.claim.z.from <= TRIM;
                polygon class=(if reaches { "piece" } else { "piece short" }) data-piece=(n + 1)
                    points=(paper.corners(&corners)) {}
            }
            @for kerf in kerfs.filter(|kerf| !kerf.is_empty()) {
                path class="kerf" d=(path(&paper.all(kerf))) {}
            }
            (sizes(drawn, paper, words, letters))
        }
    }
}

/// The size of every piece, once where several lie one behind another in one strip.
fn sizes(drawn: &Drawn<'_>, paper: &Paper, words: &Words<'_>, letters: f64) -> Markup {
    let pieces = &drawn.plan.order.pieces;
    let pith = Some(paper.at([0.0, 0.0]));
    let same = |a: &Piece, b: &Piece| {
        (a.part, a.strip, a.claim.u, a.claim.h) == (b.part, b.strip, b.claim.u, b.claim.h)
    };
    html! {
        @for (n, piece) in pieces.iter().enumerate() {
            @if pieces[..n].iter().all(|before| !same(before, piece)) {
                (label_beside(&paper.all(&drawn.corners(piece)), &(words.piece)(n), letters, pith))
            }
        }
    }
}

/// A size in a box: along its longer side, and no larger than fits.
pub(crate) fn label(corners: &[[f64; 2]], text: &str, letters: f64) -> Markup {
    label_beside(corners, text, letters, None)
}

/// The same beside what is drawn at a place, where that would be under the letters.
pub(crate) fn label_beside(
    corners: &[[f64; 2]],
    text: &str,
    letters: f64,
    beside: Option<[f64; 2]>,
) -> Markup {
    let Some(at) = middle(corners) else { return html! {} };
    let frame = Frame::EMPTY.with(corners);
    let (wide, high) = (frame.width(), frame.height());
    let upright = high > 1.25 * wide;
    let (long, across) = if upright { (high, wide) } else { (wide, high) };
    let along = usize::from(upright);
    let count = text.chars().count().max(1);
    #[allow(clippy::cast_precision_loss, reason = "a handful of letters")]
    let width = LETTER_WIDTH * count as f64;
    let fits = |long: f64| (long * 0.92 / width).min(across * 0.86).min(letters * 1.25);
    let mut size = fits(long);
    let mut at = at;
    if let Some(p) = beside {
        let (off, aside) = (p[along] - at[along], p[1 - along] - at[1 - along]);
        let near = |half: f64, off: f64| off.abs() < half + 0.5 * letters;
        if near(0.5 * width * size, off) && near(0.5 * size, aside) {
            // The longer way from there to an end of the box.
            let room = 0.5 * long + off.abs() - 0.6 * letters;
            let toward = if off > 0.0 { -1.0 } else { 1.0 };
            at[along] += toward * (0.5 * long - 0.5 * room);
            size = fits(room.max(0.25 * long));
        }
    }
    let [x, y] = at.map(short);
    let turn = upright.then(|| format!("rotate(-90 {x} {y})"));
    html! {
        text class="c" x=(x) y=(y) font-size=(short(size)) transform=[turn] { (text) }
    }
}

/// How wide a letter is, as a share of its size.
const LETTER_WIDTH: f64 = 0.58;

/// The clock positions of the log about its end, and the pith.
fn clock(paper: &Paper, all: &Frame, letters: f64) -> Markup {
    let radius = 0.5 * all.width().max(all.height()) + 0.9 * letters;
    let [cx, cy] = [0, 1].map(|n| f64::midpoint(all.from[n], all.to[n]));
    let hours = [(12, 0), (3, 90), (6, 180), (9, 270)].map(|(hour, degrees)| {
        let (sin, cos) = Angle::degrees(degrees).sin_cos();
        let [x, y] = Paper { middle: 0.0, ..*paper }.at([sin * radius, cos * radius]);
        (hour, [cx + x, cy + y])
    });
    let arm = 0.5 * letters;
    let [px, py] = paper.at([0.0, 0.0]);
    let cross = cross([px, py], arm);
    html! {
        path class="pith" d=(cross) {}
        @for (hour, [x, y]) in hours {
            text class="c" x=(short(x)) y=(short(y)) font-size=(short(0.95 * letters)) font-weight="bold" { (hour) }
        }
    }
}

/// How far apart two numbers in rings are, in letters.
const APART: f64 = 1.68;

/// The numbers of the log's own passes, each at an end of its cut, outside the bark: what leads to them, which is drawn under
/// all else; they themselves; how much more room they take above.
fn numbers(drawn: &Drawn<'_>, paper: &Paper, all: &Frame, letters: f64) -> (Markup, Markup, f64) {
    let of_log = |stage: &&StageParting| matches!(stage.place, Place::Log { .. });
    let passes = drawn.small.stages.iter().filter(of_log).flat_map(|stage| &stage.passes);
    // Where the cut is at its right end, or at its upper one where it stands.
    let ends = passes.filter_map(|pass| {
        let PartId::Freed(number) = pass.frees else { return None };
        let outline = if pass.kerf.bark.is_empty() { &pass.kerf.wood } else { &pass.kerf.bark };
        let cut = Frame::EMPTY.with(&paper.all(outline));
        if outline.is_empty() {
            return None;
        }
        let level = cut.width() >= cut.height();
        let [x, y] = [0, 1].map(|n| f64::midpoint(cut.from[n], cut.to[n]));
        Some((number, level, if level { [cut.to[0], y] } else { [x, cut.from[1]] }))
    });
    let (mut level, mut standing): (Vec<_>, Vec<_>) = ends.partition(|(_, level, _)| *level);
    level.sort_by(|a, b| a.2[1].total_cmp(&b.2[1]));
    standing.sort_by(|a, b| a.2[0].total_cmp(&b.2[0]));
    // As large as lets them stand side by side.
    let fits = |count: usize, room: f64| {
        #[allow(clippy::cast_precision_loss, reason = "a few dozen passes")]
        let each = room / (APART * count.max(1) as f64);
        each.min(letters)
    };
    let (tall, wide) = (all.height() + 2.0 * letters, all.width() + 2.0 * letters);
    let (row, column) = (fits(level.len(), tall), fits(standing.len(), wide));
    let rows = spread(level.iter().map(|(.., at)| at[1]), APART * row);
    let columns = spread(standing.iter().map(|(.., at)| at[0]), APART * column);
    let right = all.to[0] + 2.6 * letters;
    // Above the hour.
    let top = all.from[1] - 2.6 * letters;
    let more = if standing.is_empty() { 0.0 } else { 0.9 * letters };
    let at_right =
        level.iter().zip(rows).map(|((number, _, end), y)| (*number, *end, [right, y], row));
    let on_top =
        standing.iter().zip(columns).map(|((number, _, end), x)| (*number, *end, [x, top], column));
    let all: Vec<_> = at_right.chain(on_top).collect();
    let leads = html! {
        @for (_, end, at, _) in &all { path class="lead" d=(line(&[*end, *at])) {} }
    };
    let rings = html! {
        @for (number, _, at, letters) in &all { (numbered(*number, *at, *letters)) }
    };
    (leads, rings, more)
}

/// A number in a ring.
pub(crate) fn numbered(number: u32, [x, y]: [f64; 2], letters: f64) -> Markup {
    let size = if number < 100 { letters } else { 0.8 * letters };
    html! {
        circle class="ring" cx=(short(x)) cy=(short(y)) r=(short(0.78 * letters)) {}
        text class="c" x=(short(x)) y=(short(y)) font-size=(short(0.9 * size)) { (number) }
    }
}

/// Places in rising order, moved as little as need be to lie so far apart.
pub(crate) fn spread(places: impl Iterator<Item = f64>, apart: f64) -> Vec<f64> {
    // Runs of places that touch share their shift: the mean of what each would like, as in isotonic regression.
    let mut runs: Vec<(f64, usize)> = Vec::new();
    for (n, place) in places.enumerate() {
        #[allow(clippy::cast_precision_loss, reason = "a few dozen passes")]
        let mut run = (place - apart * n as f64, 1);
        while let Some((mean, count)) = runs.last().copied().filter(|(mean, _)| *mean > run.0) {
            #[allow(clippy::cast_precision_loss, reason = "a few dozen passes")]
            let sum = mean * count as f64 + run.0 * run.1 as f64;
            run = (0.0, run.1 + count);
            #[allow(clippy::cast_precision_loss, reason = "a few dozen passes")]
            let all = run.1 as f64;
            run.0 = sum / all;
            runs.pop();
        }
        runs.push(run);
    }
    let flat = runs.iter().flat_map(|(mean, count)| std::iter::repeat_n(*mean, *count));
    #[allow(clippy::cast_precision_loss, reason = "a few dozen passes")]
    flat.enumerate().map(|(n, mean)| mean + apart * n as f64).collect()
}

impl Drawn<'_> {
    /// The whole log's section at its butt.
    pub(crate) fn log_at_butt(&self) -> Outlines {
        let body = pithward_geometry::Body::whole(self.log);
        let z = self.log.length().inches_f64();
        let [wood, bark] = [pithward_geometry::Covering::Wood, pithward_geometry::Covering::Bark]
            .map(|covering| body.outline_at(covering, z));
        Outlines { wood, bark }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_that_touch_move_apart_and_no_further() {
        let apart = |places: &[f64]| format!("{:.3?}", spread(places.iter().copied(), 1.0));
        assert_eq!(apart(&[0.0, 3.0]), "[0.000, 3.000]");
        assert_eq!(apart(&[0.0, 0.0]), "[-0.500, 0.500]");
        assert_eq!(apart(&[0.0, 0.2, 5.0]), "[-0.400, 0.600, 5.000]");
        assert_eq!(apart(&[]), "[]");
    }
}
