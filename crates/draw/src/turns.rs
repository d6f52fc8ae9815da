//! The strip: what is on the mill after each turn, small pictures in their order.
//!
//! Each shows the small end as it lies when its passes begin: what is gone is dotted, the faces that were sawn just before are
//! the thickest lines, those sawn earlier plain ones; the passes to come are lines through the wood. A part that is put back
//! on the mill is shown alone, in the same size.

use crate::paint::{Frame, Paper, cross, line, short};
use crate::{Drawn, Picture};
use maud::{Markup, html};
use pithward_geometry::{Place, StageParting};

/// Pictures in a row: more are too small on a phone.
const IN_A_ROW: usize = 4;

/// The height of letters, as a share of one picture's width.
const LETTERS: f64 = 0.115;

/// How near the outline of the whole section an edge lies that no pass has made, inches.
const NEAR: f64 = 1e-6;

/// A stage of the log, or of a part that is put back, as the strip has it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Turn {
    /// The stage.
    pub place: Place,
    /// By how many degrees the body is turned for it, clockwise as seen at the small end; `None` where it is laid on the mill
    /// anew.
    pub turned: Option<i32>,
    /// Passes made in it.
    pub passes: usize,
}

impl Drawn<'_> {
    /// The stages of the strip, in order.
    pub fn turns(&self) -> Vec<Turn> {
        let mut turns: Vec<Turn> = Vec::new();
        let mut last: Option<(usize, i32)> = None;
        for parting in &self.small.stages {
            let Some(stage) = self.stage(parting.place) else { continue };
            let body = match parting.place {
                Place::Log { .. } => 0,
                Place::Resaw { resaw, .. } => resaw,
                Place::Edging { .. } => continue,
            };
            let up = stage.rest.turn.as_millidegrees();
            let before = last.filter(|(of, _)| *of == body);
            // What looked up looks the other way round when the log is turned.
            let turned = before.map(|(_, before)| (before - up).rem_euclid(360_000) / 1000);
            turns.push(Turn { place: parting.place, turned, passes: stage.passes.len() });
            last = Some((body, up));
        }
        turns
    }
}

/// What is on the mill after each turn, in rows, with two short lines of words under each picture; `title` says what all of it
/// is.
pub fn strip(drawn: &Drawn<'_>, words: &dyn Fn(&Turn) -> [String; 2], title: &str) -> Picture {
    let turns = drawn.turns();
    let size = drawn.reach();
    let letters = LETTERS * size;
    let (wide, high) = (1.12 * size, size + 3.4 * letters);
    let columns = turns.len().clamp(1, IN_A_ROW);
    let rows = turns.len().div_ceil(columns);
    #[allow(clippy::cast_precision_loss, reason = "a few dozen turns")]
    let (across, down) = (columns as f64 * wide, rows as f64 * high);
    let frame = Frame { from: [0.0, 0.0], to: [across, down] };
    #[allow(clippy::cast_precision_loss, reason = "a few dozen turns")]
    let place = |n: usize| {
        let (column, row) = (n % columns, n / columns);
        [(column as f64 + 0.5) * wide, row as f64 * high + size]
    };
    html! {
        svg class="pw" role="img" viewBox=(frame.view_box()) {
            title { (title) }
            @for (n, turn) in turns.iter().enumerate() {
                @let at = place(n);
                @let [bold, plain] = words(turn);
                g transform=(format!("translate({} {})", short(at[0]), short(at[1]))) {
                    (one(drawn, turn, size, letters))
                    text class="c" x="0" y=(short(1.35 * letters)) font-size=(short(letters)) font-weight="bold" { (bold) }
                    text class="c" x="0" y=(short(2.5 * letters)) font-size=(short(letters)) { (plain) }
                }
                @if n + 1 < turns.len() && n % columns + 1 < columns {
                    (arrow([at[0] + 0.5 * wide, at[1] - 0.5 * size], 0.028 * size))
                }
            }
        }
    }
}

/// From one picture to the next.
fn arrow([x, y]: [f64; 2], arm: f64) -> Markup {
    let head = [[x - arm, y - 1.6 * arm], [x + arm, y], [x - arm, y + 1.6 * arm]];
    html! { path class="sawn" d=(line(&head)) {} }
}

/// One picture, the bed at height 0, the middle of the body at 0.
fn one(drawn: &Drawn<'_>, turn: &Turn, size: f64, letters: f64) -> Markup {
    let stages = &drawn.small.stages;
    let Some(n) = stages.iter().position(|stage| stage.place == turn.place) else {
        return html! {};
    };
    let (parting, whole) = (&stages[n], &drawn.small.whole);
    let is_log = matches!(turn.place, Place::Log { .. });
    let lies = Paper { up: parting.up, right: parting.right, middle: parting.axis };
    let about = if is_log { &whole.bark } else { &parting.before.bark };
    let own = Frame::EMPTY.with(&lies.all(about));
    let middle = if about.is_empty() { 0.0 } else { f64::midpoint(own.from[0], own.to[0]) };
    let moved = |points: Vec<[f64; 2]>| -> Vec<[f64; 2]> {
        points.into_iter().map(|[x, y]| [x - middle, y]).collect()
    };
    let wood = &parting.before.wood;
    let before = stages[..n].iter().rev().find(|stage| of_one_body(stage.place, turn.place));
    let edges = edges(wood, &whole.wood, before.map(|stage| stage.before.wood.as_slice()));
    let half = 0.5 * size;
    let stops = drawn.stage(turn.place).and_then(|stage| stage.rest.against);
    let left = moved(lies.all(wood)).iter().map(|p| p[0]).fold(f64::INFINITY, f64::min);
    let pith = moved(vec![lies.at([0.0, 0.0])]);
    html! {
        @if is_log { path class="gone" d=(line(&over_the_bed(&moved(lies.all(&whole.wood))))) {} }
        path class="wood hair" d=(crate::paint::rough(&moved(lies.all(wood)))) {}
        @for pass in &parting.passes {
            @let cut = moved(lies.all(&pass.kerf.wood));
            @if !cut.is_empty() {
                @let about = Frame::EMPTY.with(&cut);
                path class="next hair" d=(format!("M{} {}H{}", short(about.from[0]), short(-pass.height), short(about.to[0]))) {}
            }
        }
        @for (edge, fresh) in &edges {
            path class=(if *fresh { "fresh" } else { "sawn" }) d=(line(&moved(lies.all(edge)))) {}
        }
        @if is_within(wood, [0.0, 0.0]) {
            @for at in &pith { path class="pith" d=(cross(*at, 0.3 * letters)) {} }
        }
        path class="bed" d=(format!("M{} 0H{}", short(-half), short(half))) {}
        @if stops.is_some() && left.is_finite() {
            path class="bed" d=(format!("M{} 0V{}", short(left), short(-0.35 * size))) {}
        }
    }
}

/// What of an outline is over the bed, from where it comes up to where it goes down.
fn over_the_bed(outline: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let below = |p: &[f64; 2]| p[1] > 0.0;
    let begin = outline.iter().position(below).unwrap_or(0);
    let round = outline[begin..].iter().chain(&outline[..begin]);
    let mut over: Vec<[f64; 2]> = round.copied().filter(|p| !below(p)).collect();
    // All of it is over the bed: it closes.
    if over.len() == outline.len() {
        over.extend(outline.first());
    }
    over
}

/// Whether two stages are of one body.
fn of_one_body(a: Place, b: Place) -> bool {
    match (a, b) {
        (Place::Log { .. }, Place::Log { .. }) => true,
        (Place::Resaw { resaw: a, .. }, Place::Resaw { resaw: b, .. }) => a == b,
        _ => false,
    }
}

/// The edges of a section that passes have made, and whether since an earlier look at it.
fn edges(
    now: &[[f64; 2]],
    whole: &[[f64; 2]],
    before: Option<&[[f64; 2]]>,
) -> Vec<([[f64; 2]; 2], bool)> {
    let next = now.iter().cycle().skip(1);
    let all = now.iter().zip(next).map(|(a, b)| [*a, *b]);
    let middle = |[a, b]: &[[f64; 2]; 2]| [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])];
    let sawn = all.filter(|edge| !is_on(whole, middle(edge)));
    sawn.map(|edge| (edge, before.is_none_or(|before| !is_on(before, middle(&edge))))).collect()
}

/// Whether a point lies on an outline.
fn is_on(outline: &[[f64; 2]], p: [f64; 2]) -> bool {
    let next = outline.iter().cycle().skip(1);
    outline.iter().zip(next).any(|(a, b)| {
        let (d, off) = ([b[0] - a[0], b[1] - a[1]], [p[0] - a[0], p[1] - a[1]]);
        let long = d[0] * d[0] + d[1] * d[1];
        let along = if long > 0.0 { (d[0] * off[0] + d[1] * off[1]) / long } else { 0.0 };
        let along = along.clamp(0.0, 1.0);
        let (x, y) = (off[0] - along * d[0], off[1] - along * d[1]);
        x * x + y * y < NEAR * NEAR
    })
}

/// Whether a point lies within an outline that is nowhere hollow.
fn is_within(outline: &[[f64; 2]], p: [f64; 2]) -> bool {
    let next = outline.iter().cycle().skip(1);
    let crossings = outline.iter().zip(next).filter(|(a, b)| {
        let level = |c: &[f64; 2]| c[1] > p[1];
        level(a) != level(b) && p[0] < a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
    });
    crossings.count() % 2 == 1
}

impl Drawn<'_> {
    /// How wide and high the log is at the small end over the bark, in any of its stages, and how high it lies: the size of
    /// each picture.
    fn reach(&self) -> f64 {
        let of = |stage: &StageParting| {
            let lies = Paper { up: stage.up, right: stage.right, middle: stage.axis };
            let all = Frame::EMPTY.with(&lies.all(&self.small.whole.bark));
            all.width().max(-all.from[1])
        };
        let stages = self.small.stages.iter();
        let log = stages.filter(|stage| matches!(stage.place, Place::Log { .. })).map(of);
        log.fold(1.0, f64::max) * 1.02
    }
}

#[cfg(test)]
mod tests {
    use super::{edges, is_within};

    const SQUARE: [[f64; 2]; 4] = [[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [0.0, 4.0]];

    #[test]
    fn a_face_is_an_edge_that_the_log_did_not_have() {
        let now = [[0.0, 0.0], [3.0, 0.0], [3.0, 2.0], [0.0, 2.0]];
        let first = edges(&now, &SQUARE, None);
        assert_eq!(first, [([[3.0, 0.0], [3.0, 2.0]], true), ([[3.0, 2.0], [0.0, 2.0]], true)]);
        let before = [[0.0, 0.0], [3.0, 0.0], [3.0, 4.0], [0.0, 4.0]];
        let fresh: Vec<bool> = edges(&now, &SQUARE, Some(&before)).iter().map(|e| e.1).collect();
        assert_eq!(fresh, [false, true]);
    }

    #[test]
    fn the_pith_is_in_it_or_not() {
        assert!(is_within(&SQUARE, [1.0, 1.0]) && !is_within(&SQUARE, [5.0, 1.0]));
        assert!(!is_within(&[], [0.0, 0.0]));
    }
}
