//! From a pattern that was found in what is left of a log to the passes that saw it, from the rest that the body lies in.
//!
//! # Rests
//! What is up already is sawn first. A line is sawn straight down where that is possible, on the face that it lies on or
//! from the other side; else down to the board that is to lie on the bed, and turned onto that. A pattern's plane that lies
//! on a face which is sawn already takes no pass; a pattern with slack is moved onto such a face.

use super::way::{Row, Way, opposite};
use crate::family::{Board, CantShape, Found, Line, Shape, cant, line};
use crate::site::{Lie, Site};
use pithward_geometry::Quarter;

/// Ways that are tried for one pattern until one is confirmed.
const MOST_WAYS: usize = 4;

/// Boards that are tried as the one on the bed.
const MOST_BEDS: usize = 4;

/// The ways to saw a pattern of what is left, the least turned first. `site` is what is left, seen after so many quarter
/// turns from the frame's own directions.
pub(super) fn ways<'s, 'a>(
    base: &Way<'s, 'a>,
    site: &Site<'_>,
    quarters: usize,
    found: &Found,
) -> Vec<Way<'s, 'a>> {
    let pattern = Pattern { base, site, quarters };
    let mut ways = match &found.shape {
        Shape::Through(line) => pattern.line(vec![base.clone()], line, Lie::ROUND),
        Shape::Cant(cant) => pattern.cant(cant),
        Shape::Around(_) | Shape::Quarter(_) => Vec::new(),
    };
    ways.retain(|way| !way.beyond);
    ways.sort_by_key(Way::effort);
    ways.truncate(MOST_WAYS);
    ways
}

struct Pattern<'p, 's, 'a> {
    base: &'p Way<'s, 'a>,
    site: &'p Site<'p>,
    quarters: usize,
}

impl<'s, 'a> Pattern<'_, 's, 'a> {
    /// How far the site's coordinates begin from the frame's axis toward a side.
    fn origin(&self, side: usize) -> i64 {
        self.site.view.origin_toward(self.base.direction(side))
    }

    /// The side toward which the lines of a quarter run.
    fn side(&self, quarter: Quarter) -> usize {
        (self.quarters + usize::from(quarter == Quarter::Second)) % 4
    }

    fn cant(&self, shape: &CantShape) -> Vec<Way<'s, 'a>> {
        let shape = self.place_cant(shape);
        let first = self.side(Quarter::First);
        let kerf = self.site.kerf;
        let faces = [
            (first, &shape.above, shape.top),
            (opposite(first), &shape.below, shape.height - shape.top),
        ];
        let sawn = |reversed: bool| {
            let mut way = self.base.clone();
            let mut order = [0, 1];
            if reversed {
                order.reverse();
            }
            for (side, boards, face) in order.map(|n| faces[n]) {
                let at = self.origin(side);
                let mut rows = Vec::new();
                let mut plane = face + at;
                for board in boards {
                    let from = plane + kerf;
                    plane = from + board.thickness;
                    // Strips run along the pattern's own direction, whichever side a board lies on.
                    let mut strips = board.strips.clone();
                    if side != first {
                        strips.reverse();
                    }
                    rows.push(Row { from, to: plane, strips });
                }
                rows.reverse();
                way.saw(side, &rows, false);
                way.open(side, face + at);
            }
            way
        };
        // What is up already comes first.
        let reversed = self.base.up() == Some(opposite(first));
        let mut ways = vec![sawn(reversed)];
        if ways[0].beyond || self.base.heeds_metal() {
            ways.push(sawn(!reversed));
        }
        self.line(ways, &shape.inner, Lie::planks(shape.bounds()))
    }

    /// A line of boards, sawn after what was sawn already on each of these ways.
    fn line(&self, before: Vec<Way<'s, 'a>>, line: &Line, lie: Lie) -> Vec<Way<'s, 'a>> {
        let line = self.place_line(line, lie);
        let across = self.side(lie.quarter);
        let at = self.origin(across);
        let rows: Vec<Row> = line
            .planes(self.site.kerf)
            .map(|(from, to, board)| Row {
                from: from + at,
                to: to + at,
                strips: board.strips.clone(),
            })
            .collect();
        let mut all = Vec::new();
        for way in before.iter().filter(|way| !way.beyond) {
            if rows.iter().all(|row| row.strips.is_empty()) {
                all.push(way.clone());
                continue;
            }
            for up in [true, false] {
                let mut straight = way.clone();
                straight.straight(up, across, &rows);
                all.push(straight);
            }
            for up in [true, false] {
                for bed in self.beds(&rows, up) {
                    let mut onto = way.clone();
                    onto.onto(up, across, &rows, bed);
                    all.push(onto);
                }
            }
        }
        all
    }

    /// The boards that may lie on the bed, counted from the top down: first those nearest to the pith.
    fn beds(&self, rows: &[Row], up: bool) -> Vec<usize> {
        let lowest = self.site.lowest_blade();
        let may = |n: &usize| !rows[*n].strips.is_empty() && rows[*n].to - rows[*n].from >= lowest;
        let mut beds: Vec<usize> = (0..rows.len()).filter(may).collect();
        // Where metal is, what must be sawn near it may come last of all.
        let ends = [beds.first(), beds.last()].map(|end| end.copied());
        beds.sort_by_key(|n| (rows[*n].to + rows[*n].from).abs());
        beds.truncate(MOST_BEDS);
        if self.base.heeds_metal() {
            for end in ends.into_iter().flatten() {
                if !beds.contains(&end) {
                    beds.push(end);
                }
            }
        }
        beds.into_iter().map(|n| if up { rows.len() - 1 - n } else { n }).collect()
    }

    /// Puts a line onto a face that is sawn already, or else into the middle of its slack.
    fn place_line(&self, line: &Line, lie: Lie) -> Line {
        let site = self.site;
        let fits = |base: i64| line::fits(site, lie, &Line { boards: line.boards.clone(), base });
        let depth = line.planes(site.kerf).last().map_or(0, |(_, to, _)| to - line.base);
        let on_low = site.view.sawn(lie.quarter, false).map(|low| -low);
        let on_high = site.view.sawn(lie.quarter, true).map(|high| high - depth);
        // The side that lies on the bed, then the one that is up.
        let across = self.side(lie.quarter);
        let mut faces = [on_low, on_high];
        if self.base.up() == Some(opposite(across)) {
            faces.reverse();
        }
        let base = faces.into_iter().flatten().find(|base| fits(*base));
        let base = base.unwrap_or_else(|| self.middle(line.base, fits));
        Line { boards: line.boards.clone(), base }
    }

    /// Puts a cant between faces that are sawn already, where it has the slack for that.
    fn place_cant(&self, shape: &CantShape) -> CantShape {
        let (site, kerf) = (self.site, self.site.kerf);
        let side = |boards: &[Board], up: bool, face: i64| {
            let mut plane = face;
            boards.iter().all(|board| {
                let from = plane + kerf;
                plane = from + board.thickness;
                let planes = if up { (from, plane) } else { (-plane, -from) };
                site.room_of(&board.strips, Lie::ROUND, planes).is_some()
            })
        };
        let fits = |top: i64| {
            let moved = CantShape { top, ..shape.clone() };
            cant::within(site, shape.height, top)
                && line::fits(site, Lie::planks(moved.bounds()), &shape.inner)
                && side(&shape.above, true, top)
                && side(&shape.below, false, shape.height - top)
        };
        let high = site.view.sawn(Quarter::First, true);
        let low = site.view.sawn(Quarter::First, false).map(|low| shape.height - low);
        let own = [high, low].contains(&Some(shape.top));
        let sawn =
            if own { None } else { [high, low].into_iter().flatten().find(|top| fits(*top)) };
        CantShape { top: sawn.unwrap_or(shape.top), ..shape.clone() }
    }

    /// The middle of the places that fit about one that does.
    fn middle(&self, known: i64, fits: impl Fn(i64) -> bool) -> i64 {
        let end = |sign: i64| {
            let (mut within, mut beyond) = (0, 2 * self.site.limit);
            while beyond - within > 1 {
                let middle = within + (beyond - within) / 2;
                if fits(known + sign * middle) { within = middle } else { beyond = middle }
            }
            known + sign * within
        };
        let (from, to) = (end(-1), end(1));
        let middle = from + (to - from) / 2;
        if fits(middle) { middle } else { known }
    }
}
