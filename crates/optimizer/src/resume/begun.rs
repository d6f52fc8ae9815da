//! How far a log is sawn.

use pithward_geometry::{
    Angle, Body, Face, Frame, HalfSpace, Log, Mill, PartId, Pass, Pose, Resaw, Rest, SawingOrder,
    Stage, Support, lift_to_level,
};
use pithward_measure::Length;

/// The passes that were really made, from the whole log on, each at the height at which it was.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Begun {
    /// The directions of all planes.
    pub frame: Frame,
    /// The log's stages; a last one without passes is a rest in which it lies already.
    pub stages: Vec<Stage>,
    /// The parts that were put back on the mill, and how far each was sawn: all but the last to the end.
    pub resaws: Vec<Resaw>,
    /// The parts whose pieces are finished: edged, and cut to length.
    pub finished: Vec<PartId>,
}

impl Begun {
    /// An order that was followed for so many passes, counted as its card counts them: through the log's stages, then
    /// through those of each part that is put back. Nothing is finished yet.
    pub fn of(order: &SawingOrder, passes: usize) -> Self {
        let mut left = passes;
        let mut followed = |stages: &[Stage]| {
            let mut made = Vec::new();
            for stage in stages {
                if left == 0 {
                    break;
                }
                let passes: Vec<_> = stage.passes.iter().copied().take(left).collect();
                left -= passes.len();
                made.push(Stage { rest: stage.rest, passes });
            }
            made
        };
        let stages = followed(&order.stages);
        let mut resaws = Vec::new();
        for resaw in &order.resaws {
            let stages = followed(&resaw.stages);
            if stages.is_empty() {
                break;
            }
            resaws.push(Resaw { part: resaw.part, stages });
        }
        Self { frame: order.frame, stages, resaws, finished: Vec::new() }
    }

    /// Passes that were made.
    pub fn passes(&self) -> usize {
        passes(&self.stages, &self.resaws)
    }

    /// Whether an order begins with these passes.
    pub(super) fn is_of(&self, order: &SawingOrder) -> bool {
        *self == Self { finished: self.finished.clone(), ..Self::of(order, self.passes()) }
    }

    /// The same passes through a log that was measured again, at the heights of the scale: each rest levelled as that log
    /// takes it. `None` where they do not belong to the log.
    #[must_use]
    pub fn measured_again(&self, log: &Log, mill: &Mill) -> Option<Self> {
        let mut again = Self { frame: self.frame, ..Self::default() };
        for stage in &self.stages {
            again.lay(log, mill, stage.rest.turn)?;
            for pass in &stage.passes {
                again.pass(pass.printed, mill);
            }
        }
        again.resaws.clone_from(&self.resaws);
        again.finished.clone_from(&self.finished);
        Some(again)
    }

    /// What lies on the mill, and in which rest, where there is one; of a kerf so wide. `None` where the passes do not
    /// belong to the log.
    pub fn on_the_mill<'a>(&self, log: &'a Log, mill: &Mill) -> Option<(Body<'a>, Option<Rest>)> {
        let mut parts = Vec::new();
        let mut body = self.sawn(Body::whole(log), &self.stages, mill, 0, &mut parts)?;
        let mut stages = &self.stages;
        for (n, resaw) in (1..).zip(&self.resaws) {
            let place = parts.iter().position(|(id, _)| *id == resaw.part)?;
            let (_, part) = parts.swap_remove(place);
            body = self.sawn(part, &resaw.stages, mill, n, &mut parts)?;
            stages = &resaw.stages;
        }
        Some((body, stages.last().map(|stage| stage.rest)))
    }

    /// Saws a body by its stages.
    fn sawn<'a>(
        &self,
        mut body: Body<'a>,
        stages: &[Stage],
        mill: &Mill,
        resaw: u32,
        parts: &mut Vec<(PartId, Body<'a>)>,
    ) -> Option<Body<'a>> {
        let mut number = 0;
        for stage in stages {
            let pose = Pose::of(&body, &self.frame, &stage.rest)?;
            for pass in &stage.passes {
                number += 1;
                let part = PartId::Freed(number);
                let id = if resaw == 0 { part } else { part.of_resaw(resaw) };
                let height = pass.height.inches_f64();
                parts.push((id, body.cut(pose.above(height + mill.kerf.inches_f64()))));
                body = body.cut(pose.below(height));
            }
        }
        Some(body)
    }

    /// The clock directions of the sides of the log that are open, in the order in which they were opened.
    pub fn opened(&self) -> Vec<Angle> {
        let mut opened: Vec<Angle> = Vec::new();
        for stage in self.stages.iter().filter(|stage| !stage.passes.is_empty()) {
            let turn = whole(stage.rest.turn);
            if !opened.contains(&turn) {
                opened.push(turn);
            }
        }
        opened
    }

    /// Lays the log down with this clock direction up; how far it then reaches over the bed. `None` where that is no whole
    /// number of quarter turns from the frame, or where nothing is left.
    pub fn lay(&mut self, log: &Log, mill: &Mill, up: Angle) -> Option<Length> {
        let (body, last) = self.on_the_mill(log, mill)?;
        if last.is_none_or(|last| whole(last.turn) != whole(up)) {
            let face = |by: i32| {
                let turn = whole(Angle::millidegrees(up.as_millidegrees() + by));
                let place = self.opened().iter().position(|open| *open == turn)?;
                Some(Face::ALL[place.min(3)])
            };
            let basis = self.frame.turned_to(up, log.length())?;
            let pose = Pose::levelled(&body, basis)?;
            let down = basis.h.map(|c| -c);
            let carries = |plane: HalfSpace| (plane.offset + pose.below(0.0).offset).abs() < 1e-6;
            let on = face(180_000).filter(|_| body.plane_facing(down).is_some_and(carries));
            let rest = Rest {
                turn: whole(up),
                lift: lift_to_level(&body, &self.frame, up)?,
                on: on.map_or(Support::Bark, Support::Face),
                against: face(270_000),
            };
            self.stages.push(Stage { rest, passes: Vec::new() });
        }
        let pose = Pose::of(&body, &self.frame, &self.stages.last()?.rest)?;
        let [x, y, z] = pose.up();
        let flat = (x * x + y * y).sqrt();
        let top = body.reach(pithward_geometry::Covering::Bark, [x / flat, y / flat], z / flat)?;
        Some(Length::from_inches_f64_down(top * flat - pose.below(0.0).offset))
    }

    /// A pass in the rest that the log was laid down in last, at a height on the mill's scale.
    pub fn pass(&mut self, height: Length, mill: &Mill) {
        if let Some(stage) = self.stages.last_mut() {
            stage.passes.push(Pass { height, printed: height.round_to(mill.step) });
        }
    }
}

/// A direction between 0 and a whole turn.
fn whole(turn: Angle) -> Angle {
    Angle::millidegrees(turn.as_millidegrees().rem_euclid(360_000))
}

/// Passes through the log and through what is put back of it, flitches not counted.
pub(super) fn passes(stages: &[Stage], resaws: &[Resaw]) -> usize {
    let bodies = resaws.iter().map(|resaw| &resaw.stages[..]).chain([stages]);
    bodies.flatten().map(|stage| stage.passes.len()).sum()
}
