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
//! In a rest on bark the frame's axis lies level, as high as the lowest bark of what is left of the log is below it, and
//! heights are reckoned from there. On a sawn face they are sums of thicknesses and kerfs up from the bed, so the last
//! board on the bed comes out full.
//!
//! # Starts
//! Of two opposite sides either may be sawn first, of the first pair and of the second, and a line that is turned may be
//! turned as late as a board is left to lie on ([`Starts`]): all of these orders free the same boards. Where metal is in the
//! log, the caller takes the one that comes near it last.
//!
//! # Parts put back
//! A part that is put back on the mill is a body like the log: its stages and parts are written by the same steps, under
//! its own number.

mod around;
mod quarter;
mod starts;

pub(crate) use starts::Starts;

use crate::column::NM;
use crate::edging;
use crate::family::{Board, CantShape, Edged, Found, Line, Method, Shape, cant, line};
use crate::plan::{Fate, Part};
use crate::site::{Lie, Site};
use crate::want::{CutId, Want};
use pithward_geometry::{
    Angle, Basis, Body, Claim, Covering, Face, HalfSpace, Mill, PartId, Pass, Piece, Place,
    Quarter, ReplayFault, Rest, SawingOrder, Span, Stage, Support,
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
    /// How its planes lie.
    pub(crate) lie: Lie,
    pub(crate) from: i64,
    pub(crate) to: i64,
    pub(crate) board: Board,
    /// Where its first strip begins; `None` in the middle of the strips' room.
    pub(crate) at: Option<i64>,
}

/// Saws a pattern; what the mill cannot do, when no order of its passes keeps within that.
pub(crate) fn saw(site: &Site<'_>, wants: &[Want], found: &Found) -> Result<Sawn, ReplayFault> {
    saw_from(site, wants, found, Starts::default())
}

/// The same from these sides first.
pub(crate) fn saw_from(
    site: &Site<'_>,
    wants: &[Want],
    found: &Found,
    starts: Starts,
) -> Result<Sawn, ReplayFault> {
    let mut sawing = Sawing::of(site, found, starts)?;
    for placed in &mut sawing.placed {
        let is_it =
            |edged: &&Edged| edged.lie == placed.lie && edged.planes == (placed.from, placed.to);
        if let Some(edged) = found.edged.iter().find(is_it) {
            placed.board.strips.clone_from(&edged.strips);
            placed.at = Some(edged.at);
        }
    }
    Ok(sawing.finish(wants))
}

/// The boards of a pattern as its shape says, where they come to lie.
pub(crate) fn placed(site: &Site<'_>, found: &Found) -> Result<Vec<Placed>, ReplayFault> {
    Ok(Sawing::of(site, found, Starts::default())?.placed)
}

/// An order being written.
struct Sawing<'s, 'a> {
    site: &'s Site<'a>,
    starts: Starts,
    mill: &'s Mill,
    kerf: i64,
    /// What is left of the log, or of the part of it that was put back last.
    body: Body<'a>,
    stages: Vec<Stage>,
    /// How far each face that was opened is from the axis, on its own side.
    faces: Vec<i64>,
    placed: Vec<Placed>,
    freed: u32,
    /// The bodies that are done, and the one being sawn, but for its stages.
    order: SawingOrder,
    /// The parts of the bodies that are done.
    ids: Vec<PartId>,
}

/// How what is left of the log lies in a rest.
struct Laid {
    rest: Rest,
    basis: Basis,
    /// Height over the bed of where the site's planes are reckoned from, nanometres.
    axis: i64,
    /// How far it stands over the bed, nanometres.
    top: i64,
}

/// How far a body reaches in a direction from where the site's planes are reckoned from, with its bark, nanometres.
pub(crate) fn reach(site: &Site<'_>, body: &Body<'_>, direction: [f64; 3]) -> i64 {
    let [x, y, z] = direction;
    let flat = (x * x + y * y).sqrt();
    let reach = body.reach(Covering::Bark, [x / flat, y / flat], z / flat).unwrap_or(0.0);
    Length::from_inches_f64(reach * flat).as_nm() - site.view.origin_toward(direction)
}

/// All that lies no further out in a direction than one of the site's planes.
pub(crate) fn below(site: &Site<'_>, direction: [f64; 3], plane: i64) -> HalfSpace {
    let offset = plane + site.view.origin_toward(direction);
    HalfSpace { normal: direction, offset: offset as f64 / NM }
}

/// How far the lowest point of a body's small end stands above that of its butt when this direction is up.
pub(crate) fn lift(body: &Body<'_>, [x, y, z]: [f64; 3]) -> Length {
    let flat = (x * x + y * y).sqrt();
    let lowest = |at: f64| {
        let reach = body.reach_at(Covering::Bark, at, [-x / flat, -y / flat]);
        reach.map(|reach| z * at - reach * flat)
    };
    let ends = body.stations(Covering::Bark);
    let rise = ends.and_then(|(from, to)| Some(lowest(from)? - lowest(to)?));
    Length::from_inches_f64(rise.unwrap_or(0.0))
}

impl<'s, 'a> Sawing<'s, 'a> {
    /// A pattern with all planes placed, from these sides first.
    fn of(site: &'s Site<'a>, found: &Found, starts: Starts) -> Result<Self, ReplayFault> {
        let mut sawing = Sawing {
            site,
            starts,
            mill: site.mill,
            kerf: site.kerf,
            body: Body::whole(site.log()),
            stages: Vec::new(),
            faces: Vec::new(),
            placed: Vec::new(),
            freed: 0,
            order: SawingOrder { frame: site.view.frame(), ..SawingOrder::default() },
            ids: Vec::new(),
        };
        match &found.shape {
            Shape::Through(line) => sawing.through(line, found.method)?,
            Shape::Cant(cant) => sawing.cant(cant, found.method)?,
            Shape::Around(around) => sawing.around(around),
            Shape::Quarter(shape) => sawing.quarter(shape)?,
        }
        Ok(sawing)
    }

    fn through(&mut self, line: &Line, method: Method) -> Result<(), ReplayFault> {
        let up = self.starts.own(Quarter::First);
        let first = self.lay(degrees(0, up), Support::Bark, None);
        let straight = method == Method::Through;
        let line = self.place_line(line, Lie::ROUND, &first, (straight, up));
        if straight {
            self.straight_down(&line, Lie::ROUND, first, up);
            return Ok(());
        }
        let second = (degrees(180, up), Face::A, None);
        self.turned(&line, (Lie::ROUND, up), first, second)
    }

    fn cant(&mut self, cant: &CantShape, method: Method) -> Result<(), ReplayFault> {
        let centred = method == Method::BoxedHeart;
        let (over, up) = (self.starts.own(Quarter::First), self.starts.own(Quarter::Second));
        let first = self.lay(degrees(0, over), Support::Bark, None);
        let cant = if centred { cant.clone() } else { self.place_cant(cant, &first, over) };
        let mut sides =
            [(&cant.above, cant.top, true), (&cant.below, cant.height - cant.top, false)];
        if !over {
            sides.reverse();
        }
        let [(boards, face, side), (others, opposite, other)] = sides;
        self.face(boards, face, side, first);
        let second = self.lay(degrees(180, over), Support::Face(Face::A), None);
        self.face(others, opposite, other, second);
        let lie = Lie::planks(cant.bounds());
        // Up at 3 o'clock from the frame's own up, what was up there stands against the stops.
        let stops = if over == up { [Face::A, Face::B] } else { [Face::B, Face::A] };
        let third = self.lay(degrees(90, up), Support::Bark, Some(stops[0]));
        let straight = method == Method::TwoSidedCant;
        let line = if centred {
            cant.inner.clone()
        } else {
            self.place_line(&cant.inner, lie, &third, (straight, up))
        };
        if straight {
            self.straight_down(&line, lie, third, up);
            return Ok(());
        }
        self.turned(&line, (lie, up), third, (degrees(270, up), Face::C, Some(stops[1])))
    }

    /// How what is left lies when it is turned by so many degrees from the frame's own up.
    fn lay(&self, degrees: i32, on: Support, against: Option<Face>) -> Laid {
        let frame = self.site.view.frame();
        let turn = self.site.view.up().as_millidegrees() + degrees * 1000;
        let turn = Angle::millidegrees(turn % 360_000);
        let basis = frame.turned_to(turn, self.site.log().length());
        let basis = basis.unwrap_or_else(|| self.site.view.basis());
        let down = basis.h.map(|c| -c);
        let axis = reach(self.site, &self.body, down);
        let rest = Rest { turn, lift: lift(&self.body, basis.h), on, against };
        let top = axis + reach(self.site, &self.body, basis.h);
        Laid { rest, basis, axis, top }
    }

    /// Puts a line in the middle of its slack, its first height on the scale where that is possible; `up` where its own
    /// direction is up.
    fn place_line(
        &self,
        line: &Line,
        lie: Lie,
        laid: &Laid,
        (clear_of_bed, up): (bool, bool),
    ) -> Line {
        let lowest = laid.axis - self.site.lowest_blade() - self.kerf;
        let depth = line.planes(self.kerf).last().map_or(0, |(_, to, _)| to - line.base);
        let fits = |base: i64| {
            let moved = Line { boards: line.boards.clone(), base };
            let down = if up { -base } else { base + depth };
            line::fits(self.site, lie, &moved) && (!clear_of_bed || down <= lowest)
        };
        let offset = if up { laid.axis + depth } else { -laid.axis };
        let base = self.settle(line.base, fits, offset);
        Line { boards: line.boards.clone(), base }
    }

    /// Puts the cant's faces in the middle of their slack; `over` where the upper one is sawn first.
    fn place_cant(&self, cant: &CantShape, laid: &Laid, over: bool) -> CantShape {
        let side = |boards: &[Board], up: bool, face: i64| {
            outward(boards, face, self.kerf).all(|(from, to, board)| {
                let planes = if up { (from, to) } else { (-to, -from) };
                self.site.room_of(&board.strips, Lie::ROUND, planes).is_some()
            })
        };
        let fits = |top: i64| {
            let moved = CantShape { top, ..cant.clone() };
            cant::within(self.site, cant.height, top)
                && line::fits(self.site, Lie::planks(moved.bounds()), &cant.inner)
                && side(&cant.above, true, top)
                && side(&cant.below, false, cant.height - top)
        };
        let depth = |side: &[Board]| outward(side, 0, self.kerf).last().map_or(0, |(_, to, _)| to);
        let offset = if over {
            laid.axis + depth(&cant.above)
        } else {
            -(laid.axis + cant.height + depth(&cant.below))
        };
        let top = self.settle(cant.top, fits, offset);
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
        let places = [mark, middle];
        let good = |place: &i64| (from..=to).contains(place) && (*place == known || fits(*place));
        places.into_iter().find(good).unwrap_or(known)
    }

    /// Adds a stage of passes at these heights, from the top down, and the parts that they free. The first opens a
    /// face; a slab that stands higher above it than clears the head comes off in slices.
    fn stage(
        &mut self,
        laid: &Laid,
        heights: impl IntoIterator<Item = i64>,
        freed: Vec<Option<Placed>>,
    ) {
        let heights: Vec<i64> = heights.into_iter().collect();
        let opening = heights.first().copied();
        let slices = opening.map_or_else(Vec::new, |at| slices(at, laid.top, self.mill));
        let freed = slices.iter().map(|_| None).chain(freed);
        let mut freed: Vec<Option<Placed>> = freed.collect();
        let heights: Vec<i64> = slices.into_iter().chain(heights).collect();
        let passes: Vec<Pass> = heights.iter().map(|height| pass(*height, self.mill)).collect();
        freed.resize(passes.len(), None);
        for placed in freed {
            self.freed += 1;
            if let Some(placed) = placed {
                let part = self.id(PartId::Freed(self.freed));
                self.placed.push(Placed { part, ..placed });
            }
        }
        if let Some(last) = heights.last() {
            let face = last - laid.axis;
            self.faces.push(face);
            self.body = self.body.cut(below(self.site, laid.basis.h, face));
        }
        self.stages.push(Stage { rest: laid.rest, passes });
    }

    fn placed(&self, lie: Lie, from: i64, to: i64, board: &Board) -> Placed {
        Placed { part: PartId::Left, lie, from, to, board: board.clone(), at: None }
    }

    /// The same of planes as they are seen where the line's own direction is up, or down.
    fn placed_as(&self, (lie, up): (Lie, bool), from: i64, to: i64, board: &Board) -> Placed {
        if up { self.placed(lie, from, to, board) } else { self.placed(lie, -to, -from, board) }
    }

    /// A line sawn from the top down in one rest on bark; the slab below it stays on the bed.
    fn straight_down(&mut self, line: &Line, lie: Lie, laid: Laid, up: bool) {
        let planes = seen(line, self.kerf, up);
        let opening = planes.last().map(|(_, to, _)| laid.axis + to);
        let heights: Vec<i64> = opening
            .into_iter()
            .chain(planes.iter().rev().map(|(from, ..)| laid.axis + from - self.kerf))
            .collect();
        let boards = planes
            .iter()
            .rev()
            .map(|(from, to, board)| Some(self.placed_as((lie, up), *from, *to, board)));
        let freed = std::iter::once(None).chain(boards).collect();
        self.stage(&laid, heights, freed);
    }

    /// A line sawn from the top down to a plane near the pith, turned half round onto it, and sawn down to
    /// the bed; what the mill cannot do, when no board may lie on the bed or one is too thick to be freed from
    /// above.
    fn turned(
        &mut self,
        line: &Line,
        (lie, up): (Lie, bool),
        first: Laid,
        (degrees, on, against): (i32, Face, Option<Face>),
    ) -> Result<(), ReplayFault> {
        let planes = seen(line, self.kerf, up);
        let lowest = self.site.lowest_blade();
        let deepest = self.mill.deepest_above.as_nm() - self.kerf;
        // `bed` is the board that will lie on the bed: the first below the plane that is turned onto.
        let may_turn = |bed: &usize| {
            let (from, to, board) = planes[*bed];
            let others = planes.iter().enumerate().filter(|(n, _)| n != bed);
            !board.strips.is_empty()
                && to - from >= lowest
                && others.into_iter().all(|(_, (from, to, _))| to - from <= deepest)
        };
        // Just past the pith, by the trade's rule; the nearest that may be, else.
        let [across, upward] = self.site.pith();
        let pith = if lie.quarter == Quarter::First { upward } else { across };
        let pith = if up { pith } else { -pith };
        let near_the_pith = |bed: &usize| {
            let plane = planes[*bed].1 - pith;
            if plane <= 0 { -plane } else { plane + self.site.limit }
        };
        let mut beds = (0..planes.len()).filter(may_turn);
        let bed = if self.starts.late { beds.next() } else { beds.min_by_key(near_the_pith) };
        let bed = bed.ok_or_else(|| {
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
        let opening = above.last().map(|(_, to, _)| first.axis + to);
        let heights: Vec<i64> = opening
            .into_iter()
            .chain(above.iter().rev().map(|(from, ..)| first.axis + from - self.kerf))
            .collect();
        // Without a board above it, the plane itself is opened.
        let heights = if heights.is_empty() { vec![first.axis + face] } else { heights };
        let placed =
            |(from, to, board): &(i64, i64, &Board)| self.placed_as((lie, up), *from, *to, board);
        let boards = above.iter().rev().map(|plane| Some(placed(plane)));
        let freed = std::iter::once(None).chain(boards).collect();
        self.stage(&first, heights, freed);

        let second = self.lay(degrees, Support::Face(on), against);
        let below = &planes[..=bed];
        let heights: Vec<i64> = below.iter().map(|(from, ..)| face - from).collect();
        let boards = below[..bed]
            .iter()
            .map(|(from, to, board)| Some(self.placed_as((lie, up), *from, *to, board)));
        let freed = std::iter::once(None).chain(boards).collect();
        self.stage(&second, heights, freed);
        let (from, to, board) = below[bed];
        let left = self.placed_as((lie, up), from, to, board);
        self.placed.push(left);
        Ok(())
    }

    /// The side boards beyond one face of a cant, above the axis or below it, down to the face. For the second one the log
    /// lies on the first, and heights are reckoned from that.
    fn face(&mut self, side: &[Board], face: i64, up: bool, laid: Laid) {
        let base = self.faces.first().copied().unwrap_or(laid.axis);
        let planes: Vec<_> = outward(side, face, self.kerf).collect();
        let opening = planes.last().map_or(face, |(_, to, _)| *to);
        let heights: Vec<i64> = std::iter::once(base + opening)
            .chain(planes.iter().rev().map(|(from, ..)| base + from - self.kerf))
            .collect();
        let boards = planes.iter().rev().map(|(from, to, board)| {
            let (from, to) = if up { (*from, *to) } else { (-to, -from) };
            Some(self.placed(Lie::ROUND, from, to, board))
        });
        let freed = std::iter::once(None).chain(boards).collect();
        self.stage(&Laid { axis: base, ..laid }, heights, freed);
    }

    /// A part of the body that is being sawn.
    fn id(&self, part: PartId) -> PartId {
        let resaw = u32::try_from(self.order.resaws.len()).unwrap_or(u32::MAX);
        if resaw == 0 { part } else { part.of_resaw(resaw) }
    }

    /// Writes the stages of the body that was sawn, and names its parts.
    fn done(&mut self) {
        let freed = (1..=self.freed).map(PartId::Freed).chain([PartId::Left]);
        let ids: Vec<PartId> = freed.map(|part| self.id(part)).collect();
        self.ids.extend(ids);
        let stages = std::mem::take(&mut self.stages);
        match self.order.resaws.last_mut() {
            Some(resaw) => resaw.stages = stages,
            None => self.order.stages = stages,
        }
    }

    /// Edges, trims and names the pieces.
    fn finish(mut self, wants: &[Want]) -> Sawn {
        self.done();
        finish(self.site, wants, self.placed, (self.order, self.ids))
    }
}

/// Edges and trims the boards of an order whose bodies are sawn into these parts, and names the pieces.
pub(crate) fn finish(
    site: &Site<'_>,
    wants: &[Want],
    placed: Vec<Placed>,
    (mut order, ids): (SawingOrder, Vec<PartId>),
) -> Sawn {
    let mut cuts = Vec::new();
    let mut fates: Vec<(PartId, Fate)> = Vec::new();
    let mut flitches = Vec::new();
    // What has no strips is waste between boards.
    for placed in placed.into_iter().filter(|placed| !placed.board.strips.is_empty()) {
        match edging::flitch(site, &placed) {
            Some(flitch) => flitches.push((placed, flitch)),
            None => {
                let strips = edging::square(&placed);
                let pieces = cut_strips(site, wants, &placed, &strips, &mut order, &mut cuts);
                fates.push((placed.part, Fate::Square(pieces)));
            }
        }
    }
    let batches = edging::batches(site.mill, flitches.iter().map(|(_, flitch)| flitch).collect());
    for ((placed, flitch), (batch, first)) in flitches.iter().zip(&batches) {
        let (edging, strips) = edging::edge(site, placed, flitch, *batch, *first);
        order.edgings.push(edging);
        let pieces = cut_strips(site, wants, placed, &strips, &mut order, &mut cuts);
        fates.push((placed.part, Fate::Flitch { batch: *batch, pieces }));
    }
    let fate = |id: PartId| {
        let own = fates.iter().find(|(part, _)| *part == id).map(|(_, fate)| fate.clone());
        own.or_else(|| order.put_back(id).map(Fate::PutBack)).unwrap_or(Fate::Slab)
    };
    let parts = ids.into_iter().map(|id| Part { id, fate: fate(id) }).collect();
    Sawn { order, parts, cuts }
}

/// How far a log is turned for a line whose own direction is up, or down.
fn degrees(own: i32, up: bool) -> i32 {
    if up { own } else { own + 180 }
}

/// The planes of a line from the lowest up, where its own direction is up, or down.
fn seen(line: &Line, kerf: i64, up: bool) -> Vec<(i64, i64, &Board)> {
    let mut planes: Vec<_> = line.planes(kerf).collect();
    if !up {
        planes.reverse();
        planes.iter_mut().for_each(|(from, to, _)| (*from, *to) = (-*to, -*from));
    }
    planes
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
    // Claims are reckoned from the frame's axis.
    let basis = edging::basis_of(site, placed);
    let [across, upward] = [basis.u, basis.h].map(|direction| site.view.origin_toward(direction));
    for (strip, (from, id)) in placed.board.strips.iter().zip(strips) {
        let Some(column) = strip.column.map(|column| &columns.all[column]) else { continue };
        let mut end = site.log().length() - Length::nm(strip.butt);
        for cut in strip.cuts.iter().copied() {
            let want = &wants[cut.want.0];
            let take = want.cuts[cut.cut].take;
            let claim = Claim {
                turn: edging::turn_of(site, placed),
                u: Span::new(Length::nm(from + across), Length::nm(from + across + column.width)),
                h: Span::new(Length::nm(placed.from + upward), Length::nm(placed.to + upward)),
                z: Span::new(end - take, end),
                wane_u: wane(column.wane_width),
                wane_h: wane(column.wane_thickness),
                heart: want.heart,
                tolerates: want.tolerates,
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
