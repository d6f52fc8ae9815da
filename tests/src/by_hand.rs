//! Sawing orders of real logs made by hand: random planes along a random frame, no search behind them.
//!
//! Some of their pieces are sound and some are not; whether replay tells them apart is what they are for. Poses and
//! lifts are geometry's, as a sawyer reads them off the log on the bed.

use crate::random::Random;
use crate::random_shape::{RealCase, frame, heart, tolerates};
use pithward_geometry::{
    Angle, Body, Claim, Covering, Edging, Face, Frame, HalfSpace, Log, Mill, PartId, Pass, Piece,
    Pose, Rest, SawingOrder, Span, Stage, Support, lift_to_level,
};
use pithward_measure::Length;

const SIXTEENTH: Length = Length::sixty_fourths(4);

/// An order for a log on a mill that is in nobody's way: a cant turned once, or boards through and through, edged.
/// `None` where the planes that came up leave nothing to saw.
pub fn order(real: &RealCase, mill: &Mill, random: &mut Random) -> Option<SawingOrder> {
    let frame = frame(random);
    let log = &real.case.log;
    let order = SawingOrder { frame, ..SawingOrder::default() };
    let hand = Hand { log, mill, frame, body: Body::whole(log), order };
    if random.one_in(2) { hand.cant(random) } else { hand.through(random) }
}

/// What a pass takes off at the least, inches.
const SPARE: f64 = 0.2;

/// How far a body reaches in a direction from the start of the axis, with its bark, inches.
fn reach(body: &Body<'_>, [x, y, z]: [f64; 3]) -> Option<f64> {
    let flat = (x * x + y * y).sqrt();
    Some(body.reach(Covering::Bark, [x / flat, y / flat], z / flat)? * flat)
}

/// Somebody sawing one log.
struct Hand<'a> {
    log: &'a Log,
    mill: &'a Mill,
    frame: Frame,
    body: Body<'a>,
    order: SawingOrder,
}

impl<'a> Hand<'a> {
    fn turn(&self, degrees: i32) -> Angle {
        Angle::millidegrees((self.frame.turn.as_millidegrees() + degrees * 1000) % 360_000)
    }

    /// How a body lies, and how high the axis.
    fn lay(&self, body: &Body<'_>, degrees: i32, on: Support) -> Option<(Rest, Pose, Length)> {
        let turn = self.turn(degrees);
        let lift = lift_to_level(body, &self.frame, turn)?;
        let rest = Rest { turn, lift, on, against: None };
        let pose = Pose::of(body, &self.frame, &rest)?;
        Some((rest, pose, Length::from_inches_f64(pose.axis_height())))
    }

    fn pass(&self, height: Length) -> Pass {
        Pass { height, printed: height.round_to(self.mill.step) }
    }

    /// Lays the log down and saws it at these distances from the axis, from the top down, as far as the blade goes; how
    /// many passes that are.
    fn stage(
        &mut self,
        (degrees, on): (i32, Support),
        against: Option<Face>,
        planes: &[Length],
    ) -> Option<usize> {
        let (rest, pose, axis) = self.lay(&self.body, degrees, on)?;
        if reach(&self.body, pose.up())? < planes.first()?.inches_f64() + SPARE {
            return None;
        }
        let low = self.mill.lowest_blade + self.mill.step;
        let heights = planes.iter().map(|plane| axis + *plane).take_while(|height| *height > low);
        let passes: Vec<Pass> = heights.map(|height| self.pass(height)).collect();
        let (count, last) = (passes.len(), passes.last()?.height);
        self.body = self.body.cut(pose.below(last.inches_f64()));
        self.order.stages.push(Stage { rest: Rest { against, ..rest }, passes });
        Some(count)
    }

    /// Two faces, a quarter turn, and planks from the top down.
    fn cant(mut self, random: &mut Random) -> Option<SawingOrder> {
        let half = self.log.small_end().half();
        let part = |random: &mut Random, least, most| {
            (SIXTEENTH * (half.div_floor(SIXTEENTH) * random.within(least, most) / 100))
                .max(SIXTEENTH)
        };
        let (above, below) = (part(random, 15, 70), part(random, 15, 70));
        self.stage((0, Support::Bark), None, &[above])?;
        self.stage((180, Support::Face(Face::A)), None, &[below])?;
        let top = part(random, 10, 80);
        let mut planes = vec![top];
        let mut planks = Vec::new();
        for _ in 0..random.within(1, 4) {
            let to = *planes.last()?;
            let from = to - SIXTEENTH * random.within(12, 64);
            planks.push((from, to));
            planes.push(from - self.mill.kerf);
        }
        let passes = self.stage((90, Support::Bark), Some(Face::A), &planes)?;
        for (n, (from, to)) in planks.into_iter().take(passes - 1).enumerate() {
            // Three passes free slabs first; seen from here, up is the frame's u and across its h the other way.
            let part = PartId::Freed(u32::try_from(n + 4).ok()?);
            let sides = (Span::new(-above, below), Span::new(from, to));
            self.piece(random, (part, None), 90, sides);
        }
        Some(self.order)
    }

    /// Boards from the top down in one rest, each edged by itself: one edge sawn, turned over, the other sawn.
    fn through(mut self, random: &mut Random) -> Option<SawingOrder> {
        let half = self.log.small_end().half().div_floor(SIXTEENTH);
        let mut planes = vec![SIXTEENTH * (half * random.within(10, 90) / 100)];
        let mut boards = Vec::new();
        for _ in 0..random.within(1, 4) {
            let to = *planes.last()?;
            let from = to - SIXTEENTH * random.within(12, 48);
            boards.push((from, to));
            planes.push(from - self.mill.kerf);
        }
        let passes = self.stage((0, Support::Bark), None, &planes)?;
        for (n, (from, to)) in boards.into_iter().take(passes - 1).enumerate() {
            let part = PartId::Freed(u32::try_from(n + 2).ok()?);
            let edge = SIXTEENTH * (half * random.within(10, 80) / 100);
            let width = SIXTEENTH * (half * random.within(20, 140) / 100).max(16);
            self.edge(part, (from, to), (edge, width), u32::try_from(n + 1).ok()?)?;
            let sides = (Span::new(edge - width, edge), Span::new(from, to));
            self.piece(random, (part, Some(PartId::Left)), 0, sides);
        }
        Some(self.order)
    }

    fn edge(
        &mut self,
        part: PartId,
        (from, to): (Length, Length),
        (edge, width): (Length, Length),
        batch: u32,
    ) -> Option<()> {
        let basis = self.frame.basis(self.log.length());
        let side =
            |normal: [f64; 3], offset: Length| HalfSpace { normal, offset: offset.inches_f64() };
        let flitch =
            Body::whole(self.log).cut(side(basis.h, to)).cut(side(basis.h.map(|c| -c), -from));
        // Where there is no bark beyond an edge there is nothing to saw.
        let (right, left) = (reach(&flitch, basis.u)?, reach(&flitch, basis.u.map(|c| -c))?);
        if right < edge.inches_f64() + SPARE || left < (width - edge).inches_f64() + SPARE {
            return None;
        }
        let (rest, _, axis) = self.lay(&flitch, 90, Support::Bark)?;
        let first = Stage { rest, passes: vec![self.pass(axis + edge)] };
        let flitch = flitch.cut(side(basis.u, edge));
        let (rest, ..) = self.lay(&flitch, 270, Support::SawnEdge)?;
        let second = Stage { rest, passes: vec![self.pass(width)] };
        self.order.edgings.push(Edging { part, batch, stages: vec![first, second] });
        Some(())
    }

    /// A piece somewhere along its strip, with claims of all sorts.
    fn piece(
        &mut self,
        random: &mut Random,
        (part, strip): (PartId, Option<PartId>),
        degrees: i32,
        (u, h): (Span, Span),
    ) {
        let whole = self.log.length().div_floor(SIXTEENTH);
        let size = whole * random.within(20, 100) / 100;
        let from = random.within(0, whole - size);
        let leg = |random: &mut Random| Length::sixty_fourths(random.pick(&[0, 0, 8, 32]));
        let claim = Claim {
            turn: self.turn(degrees),
            u,
            h,
            z: Span::new(SIXTEENTH * from, SIXTEENTH * (from + size)),
            wane_u: leg(random),
            wane_h: leg(random),
            heart: heart(random),
            tolerates: tolerates(random),
        };
        self.order.pieces.push(Piece { part, strip, claim });
    }
}
