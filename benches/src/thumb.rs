//! A pile sawn by rules of thumb: what a practised sawyer does without a plan, as a baseline for the program.
//!
//! # Rules
//! Log by log in the order of the job. The first want of the list that is still short and that the log holds,
//! in the longest length that fits, decides how the log is opened (common practice, no source):
//!
//! * a cant as high as that want is wide, centred on the pith: side boards from the outside in to the first
//!   face, turn half round, side boards to the second face, turn a quarter;
//! * the first cut just opens the third face to the width of the cant; from there down by a thickness and a
//!   kerf, each plank the first want of that width that is still short, until the bed is near;
//! * side boards, and planks that no want of the cant's width takes, are edged to the first want that is still
//!   short and fits, as many side by side as fit; a strip is cut to the longest length first, what is left of
//!   it to the first that fits.
//!
//! He saws under the same mill limits, and every order is held by the replay at exact and at printed heights:
//! no wood is promised that is not there. He counts as he goes, so that nothing is sawn beyond a count. What he
//! does not do is look ahead: at other logs, at another cant, at another place of it.

use pithward_geometry::{
    Angle, Body, Claim, Edging, Face, Frame, HalfSpace, Log, Mill, PartId, Pass, Piece, Pose,
    ReplayFault, Rest, SawingOrder, Span, Stage, Support, confirm, lift_to_level_flitch,
};
use pithward_measure::Length;
use pithward_optimizer::{Cut, CutId, Pile, Want, WantId};

/// A pile sawn by rules of thumb.
#[derive(Clone, Debug)]
pub struct ByThumb {
    /// For every log its order and what its pieces are; `None` for a log that gives nothing.
    pub logs: Vec<Option<(SawingOrder, Vec<CutId>)>>,
    /// Pieces of every want, all within their counts.
    pub given: Vec<u32>,
}

/// Saws a pile.
///
/// # Errors
/// What replay does not confirm, other than a limit of the mill: a fault of these rules.
pub fn saw(pile: &Pile) -> Result<ByThumb, ReplayFault> {
    let mut short: Vec<u32> =
        pile.demands.iter().map(|demand| demand.count.unwrap_or(u32::MAX)).collect();
    let mut by_thumb = ByThumb { logs: Vec::new(), given: vec![0; pile.demands.len()] };
    for pile_log in &pile.logs {
        let wants = &pile.menus[pile_log.menu];
        let mut sawn = None;
        for main in wants
            .iter()
            .enumerate()
            .filter_map(|(n, want)| Some((WantId(n), want.cuts.first()?.width)))
        {
            let start = Sawyer::new(&pile_log.log, &pile.mill, wants, &short);
            let Some(sawyer) = start.and_then(|sawyer| sawyer.saw(main)) else { continue };
            match confirm(&pile_log.log, &pile.mill, &sawyer.order, pile.mill.step) {
                Ok(_) => {
                    short = sawyer.short;
                    sawn = Some((sawyer.order, sawyer.cuts));
                    break;
                }
                // The mill cannot do it: the next want decides.
                Err(
                    ReplayFault::TooLow { .. }
                    | ReplayFault::TooWide { .. }
                    | ReplayFault::TooDeep { .. }
                    | ReplayFault::Log { .. },
                ) => {}
                Err(fault) => return Err(fault),
            }
        }
        for cut in sawn.iter().flat_map(|(_, cuts)| cuts) {
            by_thumb.given[cut.want.0] += 1;
        }
        by_thumb.logs.push(sawn);
    }
    Ok(by_thumb)
}

/// What a corner keeps from the edge of the wood, nanometres: more than the curves round by.
const CLEAR: i64 = 4;

/// A flitch or plank: which part it is, and where it lies in its frame.
#[derive(Clone, Copy)]
struct Board {
    part: PartId,
    frame: Angle,
    from: i64,
    to: i64,
    /// Half of the width between two sawn faces; `None` where bark is on both edges.
    faces: Option<i64>,
}

/// One log being sawn.
struct Sawyer<'a> {
    log: &'a Log,
    mill: &'a Mill,
    wants: &'a [Want],
    kerf: i64,
    /// Pieces still wanted.
    short: Vec<u32>,
    freed: u32,
    order: SawingOrder,
    cuts: Vec<CutId>,
}

impl<'a> Sawyer<'a> {
    fn new(log: &'a Log, mill: &'a Mill, wants: &'a [Want], short: &[u32]) -> Option<Self> {
        (log.length() <= mill.longest).then(|| Self {
            log,
            mill,
            wants,
            kerf: mill.kerf.as_nm(),
            short: short.to_vec(),
            freed: 0,
            order: SawingOrder::default(),
            cuts: Vec::new(),
        })
    }

    fn cut(&self, id: CutId) -> &'a Cut {
        &self.wants[id.want.0].cuts[id.cut]
    }

    /// Half of the wood's width at a plane, over a length from the butt; `None` where there is none.
    fn half(&self, length: i64, plane: i64) -> Option<i64> {
        let radius = self.log.radius_over_length(Length::nm(length))?;
        let plane = Length::nm(plane).inches_f64();
        let square = radius * radius - plane * plane;
        let half =
            (square > 0.0).then(|| Length::from_inches_f64_down(square.sqrt()).as_nm() - CLEAR)?;
        (half > 0).then_some(half)
    }

    /// The first want of the list that is still short and has a cut that fits; of its cuts the longest.
    fn first(&self, fits: impl Fn(&Cut) -> bool) -> Option<CutId> {
        let short = self.wants.iter().enumerate().filter(|(n, _)| self.short[*n] > 0);
        short
            .filter_map(|(n, want)| {
                let cuts = want.cuts.iter().enumerate().filter(|(_, cut)| fits(cut));
                let (cut, _) = cuts.max_by_key(|(_, cut)| cut.take)?;
                Some(CutId { want: WantId(n), cut })
            })
            .next()
    }

    /// The log as its main want has it; `None` when it does not hold one, or nothing comes of it.
    fn saw(mut self, (main, width): (WantId, Length)) -> Option<Self> {
        let half = width.as_nm() / 2;
        if self.short[main.0] == 0 {
            return None;
        }
        let holds = |cut: &&Cut| {
            let room = self.half(cut.take.as_nm(), cut.thickness.as_nm() / 2);
            cut.width == width && room.is_some_and(|room| room >= half)
        };
        let cut = self.wants[main.0].cuts.iter().filter(holds).max_by_key(|cut| cut.take)?;
        // How far from the pith the cant is as wide as it is high.
        let open = self.half(cut.take.as_nm(), half)?;
        let pith = self.log.butt_over_bark().half().as_nm();
        let lift = self.log.lift_to_level_pith();
        let on_bark =
            |turn, against| Rest { turn: Angle::degrees(turn), lift, on: Support::Bark, against };
        self.face(half, 1, pith, on_bark(0, None));
        let lift = (Length::nm(half) - self.log.small_end_over_bark().half()).max(Length::ZERO);
        let second =
            Rest { turn: Angle::degrees(180), lift, on: Support::Face(Face::A), against: None };
        self.face(half, -1, half, second);
        self.planks(half, open, pith, on_bark(90, Some(Face::A)));
        (!self.cuts.is_empty()).then_some(self)
    }

    /// The side boards beyond a face at `half` from the pith, from the outside in to the face. `sign` is -1
    /// below the pith, `pith` the height of the pith over the bed.
    fn face(&mut self, half: i64, sign: i64, pith: i64, rest: Rest) {
        // Bed up: from the face outward, as many as the round holds.
        let mut boards = Vec::new();
        let mut plane = half;
        loop {
            let from = plane + self.kerf;
            let side = |cut: &Cut| {
                let room = self.half(cut.take.as_nm(), from + cut.thickness.as_nm());
                room.is_some_and(|room| 2 * room >= cut.width.as_nm())
            };
            let Some(id) = self.first(side) else { break };
            plane = from + self.cut(id).thickness.as_nm();
            let strips = self.strips(id, None, plane);
            boards.push((from, plane, id, strips));
        }
        let mut heights = vec![pith + plane];
        heights.extend(boards.iter().rev().map(|(from, ..)| pith + from - self.kerf));
        self.stage(rest, &heights);
        let first = self.freed;
        self.freed += u32::try_from(heights.len()).unwrap_or(0);
        for (n, (from, to, id, strips)) in (2..).zip(boards.into_iter().rev()) {
            let (from, to) = if sign > 0 { (from, to) } else { (-to, -from) };
            let part = PartId::Freed(first + n);
            self.edge(
                Board { part, frame: Angle::ZERO, from, to, faces: None },
                self.cut(id),
                &strips,
            );
        }
    }

    /// The planks of the cant, from a first cut at `open` over the pith straight down.
    fn planks(&mut self, half: i64, open: i64, pith: i64, rest: Rest) {
        let lowest = self.kerf + self.mill.lowest_blade.ceil_to(self.mill.step).as_nm() - pith;
        let mut heights = vec![pith + open];
        let mut planks = Vec::new();
        let mut top = open;
        loop {
            let within = |cut: &Cut, edge: i64| {
                let bottom = top - cut.thickness.as_nm();
                let plane = top.abs().max(bottom.abs());
                bottom >= lowest
                    && self.half(cut.take.as_nm(), plane).is_some_and(|room| room >= edge)
            };
            let whole = self.first(|cut| cut.width.as_nm() == 2 * half && within(cut, half));
            let part = || self.first(|cut| cut.width.as_nm() < 2 * half && within(cut, half));
            let Some(id) = whole.or_else(part) else { break };
            let bottom = top - self.cut(id).thickness.as_nm();
            let strips = self.strips(id, Some(half), top.abs().max(bottom.abs()));
            heights.push(pith + bottom - self.kerf);
            planks.push((bottom, top, id, strips));
            top = bottom - self.kerf;
        }
        self.stage(rest, &heights);
        let first = self.freed;
        self.freed += u32::try_from(heights.len()).unwrap_or(0);
        for (n, (from, to, id, strips)) in (2..).zip(planks) {
            let part = PartId::Freed(first + n);
            let frame = Angle::degrees(90);
            self.edge(Board { part, frame, from, to, faces: Some(half) }, self.cut(id), &strips);
        }
    }

    fn stage(&mut self, rest: Rest, heights: &[i64]) {
        let passes = heights.iter().map(|height| self.pass(*height)).collect();
        self.order.stages.push(Stage { rest, passes });
    }

    fn pass(&self, height: i64) -> Pass {
        let height = Length::nm(height);
        Pass { height, printed: height.round_to(self.mill.step) }
    }

    /// The strips of one width that a board gives, each with its pieces from the butt on; they are taken off
    /// what is wanted.
    fn strips(&mut self, id: CutId, faces: Option<i64>, plane: i64) -> Vec<Vec<CutId>> {
        let cut = *self.cut(id);
        let (width, take) = (cut.width.as_nm(), cut.take.as_nm());
        let room = 2 * faces.unwrap_or_else(|| self.half(take, plane).unwrap_or(0));
        let fit = (room + self.kerf) / (width + self.kerf);
        // The outermost edge from the pith: strips begin at a sawn face, or lie centred.
        let furthest =
            |strips: i64| faces.unwrap_or((strips * (width + self.kerf) - self.kerf) / 2 + 1);
        let number = fit.min(i64::from(self.short[id.want.0])).max(1);
        let edge = furthest(number);
        let mut strips = Vec::new();
        for _ in 0..number {
            if self.short[id.want.0] == 0 {
                break;
            }
            let mut pieces = Vec::new();
            let mut used = 0;
            let mut next = Some(id);
            while let Some(id) = next {
                self.short[id.want.0] -= 1;
                pieces.push(id);
                used += self.cut(id).take.as_nm() + self.mill.crosscut_kerf.as_nm();
                next = self.first(|other| {
                    other.thickness == cut.thickness
                        && other.width == cut.width
                        && self
                            .half(used + other.take.as_nm(), plane)
                            .is_some_and(|room| room >= edge)
                });
            }
            strips.push(pieces);
        }
        strips
    }

    /// Edges a board to its strips and names the pieces.
    fn edge(&mut self, board: Board, cut: &Cut, strips: &[Vec<CutId>]) {
        let width = cut.width.as_nm();
        let number = i64::try_from(strips.len()).unwrap_or(0);
        let pitch = width + self.kerf;
        let total = number * pitch - self.kerf;
        let ids: Vec<Option<PartId>> = match board.faces {
            Some(half) if number == 1 && total == 2 * half => vec![None],
            Some(half) => self.rip(&board, number, pitch, total < 2 * half),
            None => self.edge_round(&board, number, pitch, total),
        };
        let base = board.faces.map_or_else(|| total / 2 - total, |half| -half);
        for ((n, id), pieces) in (0..).zip(ids).zip(strips) {
            let from = base + n * pitch;
            let mut end = self.log.length();
            for cut in pieces {
                let take = self.cut(*cut).take;
                let claim = Claim {
                    turn: board.frame,
                    u: Span::new(Length::nm(from), Length::nm(from + width)),
                    h: Span::new(Length::nm(board.from), Length::nm(board.to)),
                    z: Span::new(end - take, end),
                    wane_u: Length::ZERO,
                    wane_h: Length::ZERO,
                    heart: pithward_geometry::Heart::Any,
                    tolerates: pithward_geometry::FlawKinds::NONE,
                };
                self.order.pieces.push(Piece { part: board.part, strip: id, claim });
                self.cuts.push(*cut);
                end = end - take - self.mill.crosscut_kerf;
            }
        }
    }

    /// A flitch with bark on both edges: one edge sawn, turned over onto it, ripped from the bed up. The strips
    /// from `-u` on.
    fn edge_round(
        &mut self,
        board: &Board,
        number: i64,
        pitch: i64,
        total: i64,
    ) -> Vec<Option<PartId>> {
        let body = self.body(board);
        let up = turned(board.frame, 90);
        let rest = on_edge(&body, up, Support::Bark);
        let length = self.log.length().inches_f64();
        let pith = Pose::of(&body, &Frame::LEVEL, &rest)
            .map_or(0, |pose| Length::from_inches_f64(pose.pith_height(length)).as_nm());
        let edge = total / 2;
        let first = Stage { rest, passes: vec![self.pass(pith + edge)] };
        let (sin, cos) = up.sin_cos();
        let body =
            body.cut(HalfSpace { normal: [sin, cos, 0.0], offset: Length::nm(edge).inches_f64() });
        let rest = on_edge(&body, turned(board.frame, -90), Support::SawnEdge);
        let heights = (1..=number).rev().map(|n| self.pass(n * pitch - self.kerf)).collect();
        let stages = vec![first, Stage { rest, passes: heights }];
        self.edging(board.part, stages);
        // The first two passes free waste; the strip at -u falls first.
        (3..u32::try_from(number).unwrap_or(0) + 2)
            .map(PartId::Freed)
            .chain([PartId::Left])
            .map(Some)
            .collect()
    }

    /// A plank of the cant: ripped from the face that it stands on, up. The strips from `-u` on.
    fn rip(&mut self, board: &Board, number: i64, pitch: i64, waste: bool) -> Vec<Option<PartId>> {
        let rest = on_edge(&self.body(board), turned(board.frame, 90), Support::SawnEdge);
        let top = if waste { number } else { number - 1 };
        let passes = (1..=top).rev().map(|n| self.pass(n * pitch - self.kerf)).collect();
        self.edging(board.part, vec![Stage { rest, passes }]);
        let first = 1 + u32::from(waste);
        let freed = (first..first + u32::try_from(number - 1).unwrap_or(0)).map(PartId::Freed);
        let mut ids: Vec<Option<PartId>> = freed.chain([PartId::Left]).map(Some).collect();
        ids.reverse();
        ids
    }

    /// Every flitch is a batch of its own.
    fn edging(&mut self, part: PartId, stages: Vec<Stage>) {
        let batch = u32::try_from(self.order.edgings.len() + 1).unwrap_or(u32::MAX);
        self.order.edgings.push(Edging { part, batch, stages });
    }

    fn body(&self, board: &Board) -> Body<'a> {
        let (sin, cos) = board.frame.sin_cos();
        let side = |axis: [f64; 2], sign: f64, plane: i64| HalfSpace {
            normal: [sign * axis[0], sign * axis[1], 0.0],
            offset: sign * Length::nm(plane).inches_f64(),
        };
        let (h, u) = ([sin, cos], [cos, -sin]);
        let body = Body::whole(self.log).cut(side(h, 1.0, board.to)).cut(side(h, -1.0, board.from));
        match board.faces {
            None => body,
            Some(half) => body.cut(side(u, 1.0, half)).cut(side(u, -1.0, -half)),
        }
    }
}

fn turned(frame: Angle, degrees: i32) -> Angle {
    Angle::millidegrees(frame.as_millidegrees() + degrees * 1000)
}

/// Standing on edge with the centre line level.
fn on_edge(body: &Body<'_>, turn: Angle, on: Support) -> Rest {
    let lift = lift_to_level_flitch(body, turn).unwrap_or(Length::ZERO);
    Rest { turn, lift, on, against: None }
}
