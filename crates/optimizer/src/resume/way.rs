//! A sawing order being written from the present body on: where every sawn side is by now, how the body lies, and what each
//! pass frees.
//!
//! # Directions and coordinates
//! The four sides are numbered in the order in which quarter turns clockwise from the frame's own rest bring them up: 0 is
//! `h`, 1 `u`, 2 `-h`, 3 `-u`. A plane across a direction is told by how far it lies from the frame's axis along it, in
//! nanometres.
//!
//! # A pass
//! At a plane it leaves what lies below the plane, and frees what lies a kerf above it up to the side as it was. As long as
//! the same side is up the passes go on in the same rest; else the body is turned, and lies on whatever is lowest then.

use crate::column::NM;
use crate::family::{Board, Rip};
use crate::flitch::Bounds;
use crate::metal::{self, NearMetal};
use crate::sawing::{Placed, lift, pass, slices};
use crate::site::{Lie, Site};
use crate::want::CutId;
use pithward_geometry::{
    Angle, Body, Covering, Face, HalfSpace, Metal, Mill, PartId, Quarter, Resaw, Rest, SawingOrder,
    Sides, Stage, Support,
};
use pithward_measure::Length;

/// A micrometre, in nanometres: a side that is nearer to a plane than that lies there.
const MICROMETRE: i64 = 1_000;

/// What becomes of the log and of what is freed of it.
#[derive(Clone, Debug)]
pub(super) struct Way<'s, 'a> {
    /// The whole log as its frame sees it.
    pub(super) site: &'s Site<'a>,
    pub(super) order: SawingOrder,
    /// What is on the mill.
    body: Body<'a>,
    /// Where each side of it was sawn.
    pub(super) sides: [Option<i64>; 4],
    /// The sides in the order in which they were opened.
    opened: Vec<usize>,
    /// Which side is up, and how high the frame's axis lies over the bed.
    lies: Option<(usize, i64)>,
    /// Passes of the body on the mill.
    freed: u32,
    /// What was freed so far, of all bodies, and what was left of those that are done.
    pub(super) parts: Vec<Freed<'a>>,
    /// Boards that parts are to become.
    pub(super) boards: Vec<(PartId, Piece)>,
    /// A pass would lie lower than the blade can go, or free more than clears the head.
    pub(super) beyond: bool,
    /// Turns and loadings.
    pub(super) turns: usize,
    /// Where metal is, if any is in the log.
    metal: Option<&'s Metal>,
    /// Of every pass through the log and what is put back of it, whether it comes near.
    near: Vec<bool>,
}

/// A part that was freed, or left on the bed.
#[derive(Clone, Debug)]
pub(super) struct Freed<'a> {
    pub(super) id: PartId,
    /// Where each of its sides was sawn.
    pub(super) sides: [Option<i64>; 4],
    body: Body<'a>,
}

/// A board of a part: its planes across a direction, and its strips in the order of the next direction.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    pub(super) across: usize,
    pub(super) from: i64,
    pub(super) to: i64,
    pub(super) strips: Vec<Rip>,
    /// Where the two sides across its width were sawn, on the next direction's own side and on the other.
    pub(super) bounds: [Option<i64>; 2],
}

impl Piece {
    /// What its strips are cut into.
    pub(super) fn cuts(&self) -> impl Iterator<Item = CutId> + '_ {
        self.strips.iter().flat_map(|rip| rip.cuts.iter().copied())
    }
}

/// A board to be sawn: its planes from the lower up across the direction of its line, and its strips.
#[derive(Clone, Debug)]
pub(super) struct Row {
    pub(super) from: i64,
    pub(super) to: i64,
    pub(super) strips: Vec<Rip>,
}

impl Row {
    /// The same seen from the other side.
    fn turned(&self) -> Self {
        let strips = self.strips.iter().rev().cloned().collect();
        Self { from: -self.to, to: -self.from, strips }
    }
}

/// The other side.
pub(super) fn opposite(side: usize) -> usize {
    (side + 2) % 4
}

impl<'s, 'a> Way<'s, 'a> {
    /// The whole log, nothing sawn.
    pub(super) fn new(site: &'s Site<'a>, metal: Option<&'s Metal>) -> Self {
        Self {
            site,
            metal,
            near: Vec::new(),
            order: SawingOrder { frame: site.view.frame(), ..SawingOrder::default() },
            body: Body::whole(site.log()),
            sides: [None; 4],
            opened: Vec::new(),
            lies: None,
            freed: 0,
            parts: Vec::new(),
            boards: Vec::new(),
            beyond: false,
            turns: 0,
        }
    }

    fn mill(&self) -> &'a Mill {
        self.site.mill
    }

    /// The clock direction of a side.
    fn turn(&self, side: usize) -> Angle {
        let quarter = i32::try_from(side % 4).unwrap_or(0) * 90_000;
        Angle::millidegrees((self.order.frame.turn.as_millidegrees() + quarter) % 360_000)
    }

    /// The direction of a side.
    pub(super) fn direction(&self, side: usize) -> [f64; 3] {
        let basis = self.site.view.basis();
        match side % 4 {
            0 => basis.h,
            1 => basis.u,
            2 => basis.h.map(|c| -c),
            _ => basis.u.map(|c| -c),
        }
    }

    /// Which side a clock direction brings up; `None` where it is no whole number of quarter turns from the frame.
    pub(super) fn side_of(&self, turn: Angle) -> Option<usize> {
        (0..4).find(|side| {
            (self.turn(*side).as_millidegrees() - turn.as_millidegrees()).rem_euclid(360_000) == 0
        })
    }

    /// How far what is on the mill reaches toward a side, with its bark.
    pub(super) fn reach(&self, side: usize) -> i64 {
        reach(&self.body, self.direction(side))
    }

    /// What is on the mill, as sides.
    pub(super) fn left(&self) -> Sides {
        Sides(self.sides.map(|plane| plane.map(Length::nm)))
    }

    /// Which side is up.
    pub(super) fn up(&self) -> Option<usize> {
        self.lies.map(|(side, _)| side)
    }

    /// Whether metal is in the log.
    pub(super) fn heeds_metal(&self) -> bool {
        self.metal.is_some()
    }

    /// How often its passes come near metal, and how soon; then how much work it is.
    pub(super) fn effort(&self) -> (NearMetal, usize, usize) {
        let passes = self.near.iter().filter(|near| **near).count();
        let sooner = metal::sooner(self.near.iter().copied());
        (NearMetal { passes, sooner }, self.turns, self.parts.len())
    }

    /// The stages of the body on the mill.
    fn stages(&mut self) -> &mut Vec<Stage> {
        match self.order.resaws.last_mut() {
            Some(resaw) => &mut resaw.stages,
            None => &mut self.order.stages,
        }
    }

    fn id(&self, part: PartId) -> PartId {
        let resaw = u32::try_from(self.order.resaws.len()).unwrap_or(u32::MAX);
        if resaw == 0 { part } else { part.of_resaw(resaw) }
    }

    /// Turns the body until a side is up, if it is not.
    fn lay(&mut self, side: usize) -> i64 {
        if let Some((_, axis)) = self.lies.filter(|(up, _)| *up == side) {
            return axis;
        }
        let axis = self.reach(opposite(side));
        let sawn = |plane: i64| (plane - axis).abs() < MICROMETRE;
        let letter = |at: &usize| self.opened.iter().position(|open| open == at);
        let down = opposite(side);
        let on = letter(&down).filter(|_| self.sides[down].is_some_and(sawn));
        let on = on.map_or(Support::Bark, |place| Support::Face(Face::ALL[place.min(3)]));
        // Up at 12 o'clock, the stops are at 9.
        let stops = (side + 3) % 4;
        let against = letter(&stops).map(|place| Face::ALL[place.min(3)]);
        let lift = lift(&self.body, self.direction(side));
        let rest = Rest { turn: self.turn(side), lift, on, against };
        self.begin(side, axis, rest);
        axis
    }

    /// Begins a stage.
    fn begin(&mut self, side: usize, axis: i64, rest: Rest) {
        self.turns += usize::from(self.lies.is_some());
        self.lies = Some((side, axis));
        self.stages().push(Stage { rest, passes: Vec::new() });
    }

    /// Saws on as a stage says, up to so many of its passes; how many of them were made. `None` where the stage does not
    /// belong to the frame.
    ///
    /// What its rest says is taken as it is, but for the lift: that follows from the body.
    pub(super) fn follow(&mut self, stage: &Stage, most: usize) -> Option<usize> {
        let side = self.side_of(stage.rest.turn)?;
        let axis = self.reach(opposite(side));
        let rest = Rest { lift: lift(&self.body, self.direction(side)), ..stage.rest };
        self.begin(side, axis, rest);
        let made = stage.passes.len().min(most);
        for pass in &stage.passes[..made] {
            self.pass(side, pass.height.as_nm() - axis, *pass);
        }
        Some(made)
    }

    /// Goes on in the rest that the body lies in: these passes of a stage that was begun.
    pub(super) fn go_on(&mut self, passes: &[pithward_geometry::Pass]) {
        let Some((side, axis)) = self.lies else { return };
        for pass in passes {
            self.pass(side, pass.height.as_nm() - axis, *pass);
        }
    }

    /// One pass across the side that is up.
    fn pass(&mut self, side: usize, plane: i64, pass: pithward_geometry::Pass) -> PartId {
        let kerf = self.site.kerf;
        let normal = self.direction(side);
        if let Some(metal) = self.metal {
            let (from, kerf) = (plane as f64 / NM, kerf as f64 / NM);
            self.near.push(metal.is_near(&self.body, normal, from, kerf));
        }
        let above = HalfSpace { normal: normal.map(|c| -c), offset: -((plane + kerf) as f64) / NM };
        let body = self.body.cut(above);
        self.freed += 1;
        let id = self.id(PartId::Freed(self.freed));
        let mut sides = self.sides;
        sides[opposite(side)] = Some(-(plane + kerf));
        self.parts.push(Freed { id, sides, body });
        self.body = self.body.cut(HalfSpace { normal, offset: plane as f64 / NM });
        self.sides[side] = Some(plane);
        if !self.opened.contains(&side) {
            self.opened.push(side);
        }
        if let Some(stage) = self.stages().last_mut() {
            stage.passes.push(pass);
        }
        id
    }

    /// Saws down to a plane across a side; what that frees. Waste that stands higher than clears the head comes off in
    /// slices.
    fn cut(&mut self, side: usize, plane: i64, waste: bool) -> PartId {
        let axis = self.lay(side);
        let mill = self.mill();
        let top = axis + self.reach(side);
        if waste {
            for height in slices(axis + plane, top, mill) {
                self.pass(side, height - axis, pass(height, mill));
            }
        } else if top - axis - plane > mill.deepest_above.as_nm() + MICROMETRE {
            self.beyond = true;
        }
        let made = pass(axis + plane, mill);
        self.beyond |= made.height < mill.lowest_blade || made.printed < mill.lowest_blade;
        self.pass(side, plane, made)
    }

    /// Saws boards off a side, from the outermost in. The last of them stays on the bed where `keeps` says so: what it
    /// lies on is sawn already then.
    pub(super) fn saw(&mut self, side: usize, rows: &[Row], keeps: bool) {
        for (n, row) in rows.iter().enumerate() {
            if self.reach(side) > row.to + MICROMETRE {
                self.cut(side, row.to, true);
            }
            if keeps && n + 1 == rows.len() {
                self.stays(side, row);
                return;
            }
            let id = self.cut(side, row.from - self.site.kerf, row.strips.is_empty());
            self.becomes(id, side, row);
        }
    }

    /// Opens a side at a plane, unless it is sawn so far already.
    pub(super) fn open(&mut self, side: usize, plane: i64) {
        if self.reach(side) > plane + MICROMETRE {
            self.cut(side, plane, true);
        }
    }

    /// What lies on the bed is this board.
    pub(super) fn stays(&mut self, side: usize, row: &Row) {
        let id = self.id(PartId::Left);
        self.becomes(id, side, row);
    }

    fn becomes(&mut self, id: PartId, across: usize, row: &Row) {
        if row.strips.is_empty() {
            return;
        }
        let bounds = [self.sides[(across + 1) % 4], self.sides[(across + 3) % 4]];
        let (from, to, strips) = (row.from, row.to, row.strips.clone());
        self.boards.push((id, Piece { across, from, to, strips, bounds }));
    }

    /// A line of boards from the lowest up across a direction, sawn from the top down in one rest; whether the lowest one
    /// stays on the bed.
    pub(super) fn straight(&mut self, up: bool, across: usize, rows: &[Row]) {
        let (side, rows) = from_above(up, across, rows);
        let last = rows.last().map(|row| -row.from);
        let keeps = last.is_some() && self.sides[opposite(side)] == last;
        self.saw(side, &rows, keeps);
    }

    /// The same, sawn down to the board that is to lie on the bed, turned onto that, and sawn down to it.
    pub(super) fn onto(&mut self, up: bool, across: usize, rows: &[Row], bed: usize) {
        let (side, rows) = from_above(up, across, rows);
        let (above, below) = rows.split_at(bed.min(rows.len().saturating_sub(1)));
        let Some(on_bed) = below.first() else { return };
        self.saw(side, above, false);
        self.open(side, on_bed.to);
        let below: Vec<Row> = below.iter().rev().map(Row::turned).collect();
        self.saw(opposite(side), &below, true);
    }

    /// What is left on the bed of the body that is on the mill, as a part.
    fn rest_of_it(&self) -> Freed<'a> {
        Freed { id: self.id(PartId::Left), sides: self.sides, body: self.body.clone() }
    }

    /// Puts a part that was freed back on the mill.
    pub(super) fn put_back(&mut self, part: PartId) -> Option<()> {
        let place = self.parts.iter().position(|freed| freed.id == part)?;
        let left = self.rest_of_it();
        self.parts.push(left);
        let Freed { sides, body, .. } = self.parts.remove(place);
        self.order.resaws.push(Resaw { part, stages: Vec::new() });
        let normal = |side: usize| self.direction(side);
        let side = |cut: &HalfSpace| {
            let along = |side: &usize| {
                let n = normal(*side);
                n[0] * cut.normal[0] + n[1] * cut.normal[1] + n[2] * cut.normal[2] > 0.5
            };
            (0..4).find(along)
        };
        self.opened = body.cuts().iter().filter_map(side).collect();
        (self.sides, self.body, self.lies, self.freed) = (sides, body, None, 0);
        self.turns += 2;
        Some(())
    }

    /// All parts at the end, those left on the bed too.
    pub(super) fn all_parts(&self) -> Vec<Freed<'a>> {
        let mut parts = self.parts.clone();
        parts.push(self.rest_of_it());
        parts
    }

    /// A board as the whole log's own site has it.
    pub(super) fn placed(&self, part: PartId, piece: &Piece) -> Placed {
        let own =
            |side: usize, plane: i64| plane - self.site.view.origin_toward(self.direction(side));
        let mut piece = piece.clone();
        if piece.across % 4 > 1 {
            // Seen from the other side.
            let strips = piece.strips.into_iter().rev().collect();
            let (from, to) = (-piece.to, -piece.from);
            let bounds = [piece.bounds[1], piece.bounds[0]];
            piece = Piece { across: opposite(piece.across), from, to, strips, bounds };
        }
        let quarter = if piece.across == 0 { Quarter::First } else { Quarter::Second };
        let [up, low] = piece.bounds;
        let bounds = Bounds {
            up: up.map_or(Bounds::ROUND.up, |plane| own(piece.across + 1, plane)),
            low: low.map_or(Bounds::ROUND.low, |plane| own(piece.across + 3, plane)),
        };
        let (from, to) = (own(piece.across, piece.from), own(piece.across, piece.to));
        let board = Board { thickness: to - from, strips: piece.strips };
        Placed { part, lie: Lie { quarter, bounds }, from, to, board, at: None }
    }
}

impl Freed<'_> {
    /// Whether there is any wood of it.
    pub(super) fn is_wood(&self) -> bool {
        self.body.exists(Covering::Wood)
    }

    /// Across which directions it lies between two sawn planes: those, and its bounds across them.
    pub(super) fn boards(&self) -> Vec<Piece> {
        let of = |across: usize| {
            let to = self.sides[across]?;
            let from = -self.sides[opposite(across)]?;
            let bounds = [self.sides[(across + 1) % 4], self.sides[(across + 3) % 4]];
            Some(Piece { across, from, to, strips: Vec::new(), bounds })
        };
        [0, 1].into_iter().filter_map(of).collect()
    }
}

/// The side that is up and the rows from the top down, when a line is sawn from its own upper side or from the other.
fn from_above(up: bool, across: usize, rows: &[Row]) -> (usize, Vec<Row>) {
    if up {
        (across, rows.iter().rev().cloned().collect())
    } else {
        (opposite(across), rows.iter().map(Row::turned).collect())
    }
}

/// How far a body reaches in a direction from the frame's axis, with its bark, nanometres.
fn reach(body: &Body<'_>, [x, y, z]: [f64; 3]) -> i64 {
    let flat = (x * x + y * y).sqrt();
    let reach = body.reach(Covering::Bark, [x / flat, y / flat], z / flat).unwrap_or(0.0);
    Length::from_inches_f64(reach * flat).as_nm()
}
