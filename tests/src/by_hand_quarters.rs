//! Sawing orders made by hand whose parts are put back on the mill: a log parted into halves, one half into quarters, a
//! quarter put back, each sawn from its flat faces.
//!
//! As [`crate::by_hand`], no search stands behind them: planes are random, poses and lifts geometry's.

use crate::random::Random;
use pithward_geometry::{
    Angle, Body, Claim, Covering, Edging, Face, FlawKinds, Frame, HalfSpace, Heart, Log, Mill,
    PartId, Pass, Piece, Pose, Resaw, Rest, SawingOrder, Span, Stage, Support, lift_to_level,
};
use pithward_measure::Length;

const SIXTEENTH: Length = Length::sixty_fourths(4);

/// What a pass takes off at the least, inches.
const SPARE: f64 = 0.2;

/// An order for a log on a mill that is in nobody's way; `None` where the planes that came up leave nothing to saw.
pub fn order(log: &Log, frame: Frame, mill: &Mill, random: &mut Random) -> Option<SawingOrder> {
    let mut hand = Hand { log, mill, frame, pieces: Vec::new(), edgings: Vec::new() };
    let near = |random: &mut Random| SIXTEENTH * random.within(-8, 8);
    let thick = |random: &mut Random| SIXTEENTH * random.within(12, 32);
    let kerf = mill.kerf;
    // Parted at `a`, its upper half put aside; the lower one parted at `b`, and what is left of it sawn from both flats.
    let (a, b) = (near(random), near(random));
    let (s, t) = (thick(random), thick(random));
    let whole = Body::whole(log);
    let (first, lower) = hand.stage(&whole, 0, Support::Bark, None, &[a])?;
    let planes = [b, b - s - kerf];
    let (second, left) = hand.stage(&lower, 90, Support::Bark, Some(Face::A), &planes)?;
    let (third, _) = hand.stage(&left, 0, Support::Bark, None, &[a - t - kerf])?;
    hand.board((PartId::Freed(3), 90), (b - s, b), -a, random)?;
    hand.board((PartId::Freed(4), 0), (a - t, a), s + kerf - b, random)?;
    // The upper half put back: it stands with its flat against the stops, is parted, and sawn on.
    let upper = whole.cut(hand.side(0, a + kerf).beyond());
    let (c, v) = (near(random), thick(random));
    let planes = [c, c - v - kerf];
    let (half, _) = hand.stage(&upper, 270, Support::Bark, Some(Face::A), &planes)?;
    hand.board((PartId::FreedOf { resaw: 1, pass: 2 }, 270), (c - v, c), a + kerf, random)?;
    // Its quarter put back, on its bark or on its flat, its other flat against the stops.
    let quarter = upper.cut(hand.side(270, c + kerf).beyond());
    let w = thick(random);
    let part = PartId::FreedOf { resaw: 1, pass: 1 };
    let freed = PartId::FreedOf { resaw: 2, pass: 1 };
    let stage = if random.one_in(2) {
        let plane = -a - kerf - w - kerf;
        let (stage, _) = hand.stage(&quarter, 180, Support::Bark, Some(Face::B), &[plane])?;
        hand.board((freed, 180), (-a - kerf - w, -a - kerf), c + kerf, random)?;
        stage
    } else {
        // From the bed up: the board is what is left.
        let plane = a + kerf + w;
        let (stage, _) = hand.stage(&quarter, 0, Support::Face(Face::A), None, &[plane])?;
        let left = PartId::LeftOf { resaw: 2 };
        hand.board((left, 180), (-plane, -a - kerf), c + kerf, random)?;
        stage
    };
    Some(SawingOrder {
        frame,
        stages: vec![first, second, third],
        resaws: vec![
            Resaw { part: PartId::Freed(1), stages: vec![half] },
            Resaw { part, stages: vec![stage] },
        ],
        edgings: hand.edgings,
        pieces: hand.pieces,
    })
}

/// A plane seen from below and from above.
#[derive(Clone, Copy)]
struct Plane(HalfSpace);

impl Plane {
    /// What lies beyond it.
    fn beyond(self) -> HalfSpace {
        HalfSpace { normal: self.0.normal.map(|c| -c), offset: -self.0.offset }
    }
}

/// Somebody sawing one log.
struct Hand<'a> {
    log: &'a Log,
    mill: &'a Mill,
    frame: Frame,
    pieces: Vec<Piece>,
    edgings: Vec<Edging>,
}

impl Hand<'_> {
    fn turn(&self, degrees: i32) -> Angle {
        Angle::millidegrees((self.frame.turn.as_millidegrees() + degrees * 1000) % 360_000)
    }

    /// The plane so far from the axis in the direction that is up after a turn.
    fn side(&self, degrees: i32, plane: Length) -> Plane {
        let basis = self.frame.turned_to(self.turn(degrees), self.log.length());
        let normal = basis.map_or([0.0, 1.0, 0.0], |basis| basis.h);
        Plane(HalfSpace { normal, offset: plane.inches_f64() })
    }

    fn pass(&self, height: Length) -> Pass {
        Pass { height, printed: height.round_to(self.mill.step) }
    }

    /// Lays a body down and saws it at these distances from the axis, from the top down: the stage, and what is left.
    fn stage<'b>(
        &self,
        body: &Body<'b>,
        degrees: i32,
        on: Support,
        against: Option<Face>,
        planes: &[Length],
    ) -> Option<(Stage, Body<'b>)> {
        let turn = self.turn(degrees);
        let rest = Rest { turn, lift: lift_to_level(body, &self.frame, turn)?, on, against };
        let pose = Pose::of(body, &self.frame, &rest)?;
        let [x, y, z] = pose.up();
        let flat = (x * x + y * y).sqrt();
        let top = body.reach(Covering::Bark, [x / flat, y / flat], z / flat)? * flat;
        if top < planes.first()?.inches_f64() + SPARE {
            return None;
        }
        let axis = Length::from_inches_f64(pose.axis_height());
        let heights: Vec<Length> = planes.iter().map(|plane| axis + *plane).collect();
        let low = self.mill.lowest_blade + self.mill.step;
        let last = *heights.last().filter(|last| **last > low)?;
        let passes = heights.into_iter().map(|height| self.pass(height)).collect();
        Some((Stage { rest, passes }, body.cut(pose.below(last.inches_f64()))))
    }

    /// A board between two planes across the direction that is up after a turn, its inner edge sawn so far from the axis:
    /// it stands on that edge and is sawn to a width.
    fn board(
        &mut self,
        (part, degrees): (PartId, i32),
        (from, to): (Length, Length),
        edge: Length,
        random: &mut Random,
    ) -> Option<()> {
        // The inner edge bounds the board toward the stops, but for the board that is sawn last of the log itself.
        let inner_is_low = part != PartId::Freed(4);
        let width = SIXTEENTH * (self.log.small_end().half().div_floor(SIXTEENTH) / 2).max(16);
        let basis = self.frame.turned_to(self.turn(degrees), self.log.length())?;
        let side = |normal: [f64; 3], at: Length| HalfSpace { normal, offset: at.inches_f64() };
        let minus = |v: [f64; 3]| v.map(|c| -c);
        let flat = Body::whole(self.log).cut(side(basis.h, to)).cut(side(minus(basis.h), -from));
        let (board, up, u) = if inner_is_low {
            (flat.cut(side(minus(basis.u), -edge)), 90, Span::new(edge, edge + width))
        } else {
            (flat.cut(side(basis.u, -edge)), 270, Span::new(-edge - width, -edge))
        };
        let turn =
            Angle::millidegrees((self.turn(degrees).as_millidegrees() + up * 1000) % 360_000);
        let lift = lift_to_level(&board, &self.frame, turn)?;
        let rest = Rest { turn, lift, on: Support::SawnEdge, against: None };
        let pose = Pose::of(&board, &self.frame, &rest)?;
        let [x, y, z] = pose.up();
        let long = (x * x + y * y).sqrt();
        let top = board.reach(Covering::Bark, [x / long, y / long], z / long)? * long;
        if top + pose.axis_height() < width.inches_f64() + SPARE {
            return None;
        }
        let batch = u32::try_from(self.edgings.len() + 1).ok()?;
        let stages = vec![Stage { rest, passes: vec![self.pass(width)] }];
        self.edgings.push(Edging { part, batch, stages });
        let whole = self.log.length().div_floor(SIXTEENTH);
        let size = whole * random.within(30, 100) / 100;
        let begins = random.within(0, whole - size);
        let claim = Claim {
            turn: self.turn(degrees),
            u,
            h: Span::new(from, to),
            z: Span::new(SIXTEENTH * begins, SIXTEENTH * (begins + size)),
            wane_u: Length::ZERO,
            wane_h: Length::sixty_fourths(random.pick(&[0, 0, 16])),
            heart: Heart::Any,
            tolerates: FlawKinds::NONE,
        };
        self.pieces.push(Piece { part, strip: Some(PartId::Left), claim });
        Some(())
    }
}
