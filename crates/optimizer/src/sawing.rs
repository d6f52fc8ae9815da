//! From a pattern to a sawing order: where exactly the planes go, in which rest each is sawn, and at what
//! blade height.
//!
//! # Places
//! A pattern fixes what lies beside what; its planes may still shift by the slack that the round leaves.
//! The slack is halved, so that a small error of the tape costs nothing, and within it the first height of
//! a rest that lies on bark is put on a mark of the mill's scale where there is one. A boxed timber stays
//! centred on the pith.
//!
//! # Heights
//! In a rest on bark the pith lies level at the radius of the butt over the bark, and heights are reckoned
//! from there. On a sawn face they are sums of thicknesses and kerfs up from the bed, so the last board on
//! the bed comes out full.

use crate::edging;
use crate::family::{Board, CantShape, Found, Line, Method, Shape};
use crate::flitch::Bounds;
use crate::plan::{Fate, Part};
use crate::site::Site;
use crate::want::{CutId, Want};
use pithward_geometry::{
    Angle, Claim, Face, Mill, PartId, Pass, Piece, Place, ReplayFault, Rest, SawingOrder, Span,
    Stage, Support,
};
use pithward_measure::Length;

/// A pattern as it is sawn.
#[derive(Clone, Debug)]
pub(crate) struct Sawn {
    pub(crate) order: SawingOrder,
    pub(crate) parts: Vec<Part>,
    /// What each piece of the order is cut for.
    pub(crate) cuts: Vec<CutId>,
}

/// A board of the log, placed.
#[derive(Clone, Debug)]
pub(crate) struct Placed {
    pub(crate) part: PartId,
    /// Frame in which `h` is the thickness.
    pub(crate) frame: Angle,
    pub(crate) from: i64,
    pub(crate) to: i64,
    pub(crate) bounds: Bounds,
    pub(crate) board: Board,
}

/// Saws a pattern; what the mill cannot do, when no order of its passes keeps within that.
pub(crate) fn saw(site: &Site<'_>, wants: &[Want], found: &Found) -> Result<Sawn, ReplayFault> {
    let mut sawing = Sawing {
        site,
        mill: site.mill,
        kerf: site.kerf,
        stages: Vec::new(),
        placed: Vec::new(),
        freed: 0,
    };
    match &found.shape {
        Shape::Through(line) => sawing.through(line, found.method)?,
        Shape::Cant(cant) => sawing.cant(cant, found.method)?,
    }
    Ok(sawing.finish(wants))
}

/// An order being written.
struct Sawing<'s, 'a> {
    site: &'s Site<'a>,
    mill: &'s Mill,
    kerf: i64,
    stages: Vec<Stage>,
    placed: Vec<Placed>,
    freed: u32,
}

/// The frame and bounds that the boards of one line share.
#[derive(Clone, Copy)]
struct Setting {
    frame: Angle,
    bounds: Bounds,
}

impl Sawing<'_, '_> {
    fn through(&mut self, line: &Line, method: Method) -> Result<(), ReplayFault> {
        let setting = Setting { frame: Angle::ZERO, bounds: Bounds::ROUND };
        let line = self.place_line(line, setting, method == Method::Through);
        if method == Method::Through {
            self.straight_down(&line, setting, self.on_bark(0, None));
            return Ok(());
        }
        self.turned(&line, setting, self.on_bark(0, None), self.on_face(180, Face::A, None))
    }

    fn cant(&mut self, cant: &CantShape, method: Method) -> Result<(), ReplayFault> {
        let centred = method == Method::BoxedHeart;
        let cant = if centred { cant.clone() } else { self.place_cant(cant) };
        let round = Setting { frame: Angle::ZERO, bounds: Bounds::ROUND };
        self.face(&cant.above, cant.top, 1, round, self.on_bark(0, None));
        self.face(&cant.below, cant.height - cant.top, -1, round, self.on_face(180, Face::A, None));
        let setting = Setting { frame: Angle::degrees(90), bounds: cant.bounds() };
        let line = if centred {
            cant.inner.clone()
        } else {
            self.place_line(&cant.inner, setting, method == Method::TwoSidedCant)
        };
        let third = self.on_bark(90, Some(Face::A));
        if method == Method::TwoSidedCant {
            self.straight_down(&line, setting, third);
            return Ok(());
        }
        self.turned(&line, setting, third, self.on_face(270, Face::C, Some(Face::B)))
    }

    fn on_bark(&self, turn: i32, against: Option<Face>) -> Rest {
        Rest {
            turn: Angle::degrees(turn),
            lift: self.site.log.lift_to_level_pith(),
            on: Support::Bark,
            against,
        }
    }

    fn on_face(&self, turn: i32, on: Face, against: Option<Face>) -> Rest {
        let lift = self.lift_on_face();
        Rest { turn: Angle::degrees(turn), lift, on: Support::Face(on), against }
    }

    /// What levels the pith on the face that was opened last: nothing, unless the face does not reach the
    /// small end and leaves that in the air.
    fn lift_on_face(&self) -> Length {
        let face = Length::nm(self.last_face());
        (face - self.site.log.small_end_over_bark().half()).max(Length::ZERO)
    }

    /// Height of a plane over the bed in a rest on bark.
    fn height(&self, plane: i64) -> i64 {
        self.site.pith_height() + plane
    }

    fn fits(&self, board: &Board, from: i64, to: i64, bounds: Bounds) -> bool {
        self.site.room(&board.strips, from.abs().max(to.abs()), bounds).is_some()
    }

    fn line_fits(&self, line: &Line, base: i64, bounds: Bounds) -> bool {
        let moved = Line { boards: line.boards.clone(), base };
        moved.planes(self.kerf).all(|(from, to, board)| self.fits(board, from, to, bounds))
    }

    /// Puts a line in the middle of its slack, its first height on the scale where that is possible.
    fn place_line(&self, line: &Line, setting: Setting, clear_of_bed: bool) -> Line {
        let fits = |base: i64| {
            self.line_fits(line, base, setting.bounds)
                && (!clear_of_bed || -base <= self.site.lowest_plane())
        };
        let depth = line.planes(self.kerf).last().map_or(0, |(_, to, _)| to - line.base);
        let base = self.settle(line.base, fits, self.height(depth));
        Line { boards: line.boards.clone(), base }
    }

    /// Puts the cant's faces in the middle of their slack.
    fn place_cant(&self, cant: &CantShape) -> CantShape {
        let nearest = self.site.nearest_plane();
        let fits = |top: i64| {
            let moved = CantShape { top, ..cant.clone() };
            let bottom = cant.height - top;
            self.site.opens(top.max(bottom))
                && top >= nearest.max(0)
                && bottom >= nearest.max(0)
                && self.line_fits(&cant.inner, cant.inner.base, moved.bounds())
                && [(&cant.above, top), (&cant.below, bottom)].into_iter().all(|(side, face)| {
                    outward(side, face, self.kerf)
                        .all(|(from, to, board)| self.fits(board, from, to, Bounds::ROUND))
                })
        };
        let depth = outward(&cant.above, 0, self.kerf).last().map_or(0, |(_, to, _)| to);
        let top = self.settle(cant.top, fits, self.height(depth));
        CantShape { top, ..cant.clone() }
    }

    /// The middle of the places that fit, moved to where `place + offset` is a mark of the scale when one
    /// is among them. The places that fit are an interval round `known`: every one of them is bounded by
    /// corners in a convex section.
    fn settle(&self, known: i64, fits: impl Fn(i64) -> bool, offset: i64) -> i64 {
        let reach = 2 * self.site.limit;
        let end = |sign: i64| {
            let (mut within, mut beyond) = (0, reach);
            while beyond - within > 1 {
                let middle = within + (beyond - within) / 2;
                if fits(known + sign * middle) { within = middle } else { beyond = middle }
            }
            known + sign * within
        };
        let (from, to) = (end(-1), end(1));
        let middle = from + (to - from) / 2;
        let mark = Length::nm(middle + offset).round_to(self.mill.step).as_nm() - offset;
        if (from..=to).contains(&mark) { mark } else { middle }
    }

    /// Adds a stage of passes at these heights, from the top down, and the parts that they free. The first opens a
    /// face; a slab that stands higher above it than clears the head comes off in slices.
    fn stage(
        &mut self,
        rest: Rest,
        heights: impl IntoIterator<Item = i64>,
        freed: Vec<Option<Placed>>,
    ) {
        let heights: Vec<i64> = heights.into_iter().collect();
        let slices = heights.first().map_or_else(Vec::new, |opening| self.slices(&rest, *opening));
        let freed = slices.iter().map(|_| None).chain(freed);
        let mut freed: Vec<Option<Placed>> = freed.collect();
        let heights = slices.into_iter().chain(heights);
        let passes: Vec<Pass> = heights.map(|height| pass(height, self.mill)).collect();
        freed.resize(passes.len(), None);
        for placed in freed {
            self.freed += 1;
            if let Some(placed) = placed {
                self.placed.push(Placed { part: PartId::Freed(self.freed), ..placed });
            }
        }
        self.stages.push(Stage { rest, passes });
    }

    /// Heights above an opening, from the top down, that leave no more above the blade than clears the head.
    fn slices(&self, rest: &Rest, opening: i64) -> Vec<i64> {
        let below = match rest.on {
            Support::Bark => self.site.pith_height(),
            Support::Face(_) | Support::SawnEdge => self.last_face(),
        };
        let top = below + self.site.pith_height();
        slices(opening, top, self.mill)
    }

    /// Distance from the pith of the face that was opened last.
    fn last_face(&self) -> i64 {
        let last = self.stages.last().and_then(|stage| stage.passes.last());
        last.map_or(0, |pass| pass.height.as_nm()) - self.site.pith_height()
    }

    fn placed(&self, setting: Setting, from: i64, to: i64, board: &Board) -> Placed {
        let (frame, bounds) = (setting.frame, setting.bounds);
        Placed { part: PartId::Left, frame, from, to, bounds, board: board.clone() }
    }

    /// A line sawn from the top down in one rest on bark; the slab below it stays on the bed.
    fn straight_down(&mut self, line: &Line, setting: Setting, rest: Rest) {
        let planes: Vec<_> = line.planes(self.kerf).collect();
        let opening = planes.last().map(|(_, to, _)| self.height(*to));
        let heights: Vec<i64> = opening
            .into_iter()
            .chain(planes.iter().rev().map(|(from, ..)| self.height(from - self.kerf)))
            .collect();
        let boards = planes
            .iter()
            .rev()
            .map(|(from, to, board)| Some(self.placed(setting, *from, *to, board)));
        let freed = std::iter::once(None).chain(boards).collect();
        self.stage(rest, heights, freed);
    }

    /// A line sawn from the top down to a plane near the pith, turned half round onto it, and sawn down to
    /// the bed; what the mill cannot do, when no board may lie on the bed or one is too thick to be freed from
    /// above.
    fn turned(
        &mut self,
        line: &Line,
        setting: Setting,
        first: Rest,
        second: Rest,
    ) -> Result<(), ReplayFault> {
        let planes: Vec<_> = line.planes(self.kerf).collect();
        let lowest = self.site.lowest_blade();
        let deepest = self.mill.deepest_above.as_nm() - self.kerf;
        // `bed` is the board that will lie on the bed: the first below the plane that is turned onto.
        let may_turn = |bed: &usize| {
            let (from, to, _) = planes[*bed];
            let others = planes.iter().enumerate().filter(|(n, _)| n != bed);
            to - from >= lowest && others.into_iter().all(|(_, (from, to, _))| to - from <= deepest)
        };
        // Just past the pith, by the trade's rule; the nearest that may be, else.
        let near_the_pith = |bed: &usize| {
            let plane = planes[*bed].1;
            if plane <= 0 { -plane } else { plane + self.site.limit }
        };
        let bed =
            (0..planes.len()).filter(may_turn).min_by_key(near_the_pith).ok_or_else(|| {
                let place = Place::Log { stage: self.stages.len() + 2 };
                let thickest = planes.iter().map(|(from, to, _)| to - from).max().unwrap_or(0);
                if thickest < lowest {
                    let (height, lowest) = (Length::nm(thickest), self.mill.lowest_blade);
                    ReplayFault::TooLow { place, pass: 1, height, lowest }
                } else {
                    let above = Length::nm(thickest + self.kerf).inches_f64();
                    ReplayFault::TooDeep {
                        place,
                        pass: 1,
                        above,
                        limit: self.mill.deepest_above.inches_f64(),
                    }
                }
            })?;
        let face = planes[bed].1;
        let above = &planes[bed + 1..];
        let opening = above.last().map(|(_, to, _)| self.height(*to));
        let heights: Vec<i64> = opening
            .into_iter()
            .chain(above.iter().rev().map(|(from, ..)| self.height(from - self.kerf)))
            .collect();
        // Without a board above it, the plane itself is opened.
        let heights = if heights.is_empty() { vec![self.height(face)] } else { heights };
        let boards = above
            .iter()
            .rev()
            .map(|(from, to, board)| Some(self.placed(setting, *from, *to, board)));
        let freed = std::iter::once(None).chain(boards).collect();
        self.stage(first, heights, freed);

        let second = Rest { lift: self.lift_on_face(), ..second };
        let below = &planes[..=bed];
        let heights: Vec<i64> = below.iter().map(|(from, ..)| face - from).collect();
        let boards = below[..bed]
            .iter()
            .map(|(from, to, board)| Some(self.placed(setting, *from, *to, board)));
        let freed = std::iter::once(None).chain(boards).collect();
        self.stage(second, heights, freed);
        let (from, to, board) = below[bed];
        let left = self.placed(setting, from, to, board);
        self.placed.push(left);
        Ok(())
    }

    /// The side boards beyond one face of a cant, down to the face. `sign` is +1 above the pith and -1
    /// below it, where heights are reckoned from the first face on the bed.
    fn face(&mut self, side: &[Board], face: i64, sign: i64, setting: Setting, rest: Rest) {
        // From the bed to a plane at this distance from the pith, on the side that is now up.
        let base = match rest.on {
            Support::Bark => self.site.pith_height(),
            Support::Face(_) | Support::SawnEdge => self.first_face(),
        };
        let planes: Vec<_> = outward(side, face, self.kerf).collect();
        let opening = planes.last().map_or(face, |(_, to, _)| *to);
        let heights: Vec<i64> = std::iter::once(base + opening)
            .chain(planes.iter().rev().map(|(from, ..)| base + from - self.kerf))
            .collect();
        let boards = planes.iter().rev().map(|(from, to, board)| {
            let (from, to) = if sign > 0 { (*from, *to) } else { (-to, -from) };
            Some(self.placed(setting, from, to, board))
        });
        let freed = std::iter::once(None).chain(boards).collect();
        self.stage(rest, heights, freed);
    }

    /// Distance of face A from the pith: what its last pass left above the pith's height.
    fn first_face(&self) -> i64 {
        let last = self.stages.first().and_then(|stage| stage.passes.last());
        last.map_or(0, |pass| pass.height.as_nm() - self.site.pith_height())
    }

    /// Edges, trims and names the pieces.
    fn finish(self, wants: &[Want]) -> Sawn {
        let Self { site, mill, stages, placed, freed, .. } = self;
        let mut order = SawingOrder { stages, ..SawingOrder::default() };
        let mut cuts = Vec::new();
        let mut fates: Vec<(PartId, Fate)> = Vec::new();
        let mut flitches = Vec::new();
        for placed in placed {
            match edging::flitch(site, &placed) {
                Some(flitch) => flitches.push((placed, flitch)),
                None => {
                    let strips = edging::square(&placed);
                    let pieces = cut_strips(site, wants, &placed, &strips, &mut order, &mut cuts);
                    fates.push((placed.part, Fate::Square(pieces)));
                }
            }
        }
        let batches = edging::batches(mill, flitches.iter().map(|(_, flitch)| flitch).collect());
        for ((placed, flitch), (batch, first)) in flitches.iter().zip(&batches) {
            let (edging, strips) = edging::edge(site, placed, flitch, *batch, *first);
            order.edgings.push(edging);
            let pieces = cut_strips(site, wants, placed, &strips, &mut order, &mut cuts);
            fates.push((placed.part, Fate::Flitch { batch: *batch, pieces }));
        }
        let parts = (1..=freed)
            .map(PartId::Freed)
            .chain([PartId::Left])
            .map(|id| {
                let fate = fates.iter().find(|(part, _)| *part == id).map(|(_, fate)| fate.clone());
                Part { id, fate: fate.unwrap_or(Fate::Slab) }
            })
            .collect();
        Sawn { order, parts, cuts }
    }
}

/// Heights above a pass, from the top down, so that what stands up to `top` comes off in slices that clear the head.
pub(crate) fn slices(pass: i64, top: i64, mill: &Mill) -> Vec<i64> {
    let deepest = mill.deepest_above.as_nm();
    let slices = (1..).map(|n| pass + n * deepest).take_while(|height| *height < top);
    let mut heights: Vec<i64> = slices.collect();
    heights.reverse();
    heights
}

/// One pass at an exact height, and the same on the mill's scale.
pub(crate) fn pass(height: i64, mill: &Mill) -> Pass {
    let height = Length::nm(height);
    Pass { height, printed: height.round_to(mill.step) }
}

/// Boards from the inside out beyond a face, a kerf before each: their inner and outer planes.
fn outward(side: &[Board], face: i64, kerf: i64) -> impl Iterator<Item = (i64, i64, &Board)> {
    let mut plane = face;
    side.iter().map(move |board| {
        let from = plane + kerf;
        plane = from + board.thickness;
        (from, plane, board)
    })
}

/// A strip, placed: where its `-u` edge lies, and which strip of the edging it is.
pub(crate) type PlacedStrip = (i64, Option<PartId>);

/// Cuts strips to length, from the butt; the places of the pieces in the order.
fn cut_strips(
    site: &Site<'_>,
    wants: &[Want],
    placed: &Placed,
    strips: &[PlacedStrip],
    order: &mut SawingOrder,
    cuts: &mut Vec<CutId>,
) -> Vec<usize> {
    let columns = site.columns;
    let first = order.pieces.len();
    for (strip, (from, id)) in placed.board.strips.iter().zip(strips) {
        let column = &columns.all[strip.column];
        let mut end = site.log.length();
        for cut in strip.cuts.iter().copied() {
            let take = wants[cut.want.0].cuts[cut.cut].take;
            let claim = Claim {
                turn: placed.frame,
                u: Span::new(Length::nm(*from), Length::nm(from + column.width)),
                h: Span::new(Length::nm(placed.from), Length::nm(placed.to)),
                z: Span::new(end - take, end),
                wane_u: wane(column.wane_width),
                wane_h: wane(column.wane_thickness),
                heart: wants[cut.want.0].heart,
                tolerates: wants[cut.want.0].tolerates,
            };
            order.pieces.push(Piece { part: placed.part, strip: *id, claim });
            cuts.push(cut);
            end = end - take - site.mill.crosscut_kerf;
        }
    }
    (first..order.pieces.len()).collect()
}

/// A wane leg, which is a whole number of nanometres kept as `f64` for the curves.
fn wane(leg: f64) -> Length {
    Length::nm(crate::column::floor(leg))
}
