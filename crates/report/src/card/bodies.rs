//! What is sawn on the mill, body by body: the log, then every part of it that is put back.
//!
//! Passes are numbered through all of them, so that a number chalked on a piece names it. Faces are named within a body,
//! in the order in which they were first opened; a part brings along those that were open when it came off.

use super::Sheet;
use crate::names;
use pithward_geometry::replay::{Hangs, PassFact, Place};
use pithward_geometry::{Face, PartId, Stage};
use pithward_measure::Length;

/// A stage of the log, or of a part that is put back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct At {
    /// The part's place among those that are put back; `None` for the log itself.
    pub(super) resaw: Option<usize>,
    /// The stage, from 0.
    pub(super) stage: usize,
}

impl At {
    /// A stage of the log.
    pub(super) fn log(stage: usize) -> Self {
        Self { resaw: None, stage }
    }
}

/// A sawn side of a body: which way it looks, thousandths of a degree, and how far out it is from the axis, inches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Side {
    pub(super) turn: i32,
    pub(super) plane: f64,
}

const FULL_TURN: i32 = 360_000;

fn open(sides: &mut Vec<Side>, turn: i32, plane: f64) {
    let turn = turn.rem_euclid(FULL_TURN);
    match sides.iter_mut().find(|side| side.turn == turn) {
        Some(side) => side.plane = plane,
        None => sides.push(Side { turn, plane }),
    }
}

impl Sheet<'_> {
    /// The log, then the parts that are put back.
    pub(super) fn bodies(&self) -> impl Iterator<Item = Option<usize>> + use<> {
        std::iter::once(None).chain((0..self.plan.order.resaws.len()).map(Some))
    }

    /// The stages of a body.
    pub(super) fn stages(&self, resaw: Option<usize>) -> &[Stage] {
        let order = &self.plan.order;
        match resaw {
            None => &order.stages,
            Some(n) => order.resaws.get(n).map_or(&[], |resaw| &resaw.stages),
        }
    }

    fn resawn<'s, T>(
        &'s self,
        at: At,
        log: &'s [T],
        part: impl Fn(&'s pithward_geometry::Resawn) -> &'s [T],
    ) -> Option<&'s T> {
        match at.resaw {
            None => log.get(at.stage),
            Some(n) => self.plan.replayed.resaws.get(n).and_then(|found| part(found).get(at.stage)),
        }
    }

    /// Height of the pith over the bed at both ends.
    pub(super) fn pith(&self, at: At) -> Option<(f64, f64)> {
        self.resawn(at, &self.plan.replayed.pith, |part| &part.pith).copied()
    }

    /// Where it touches the bed.
    pub(super) fn carried(&self, at: At) -> Option<(f64, f64)> {
        self.resawn(at, &self.plan.replayed.carried, |part| &part.carried).copied()
    }

    /// How high its ends hang over the bed.
    pub(super) fn hangs(&self, at: At) -> Option<Hangs> {
        self.resawn(at, &self.plan.replayed.hangs, |part| &part.hangs).copied().flatten()
    }

    /// What replay found of its passes.
    pub(super) fn facts(&self, at: At) -> &[PassFact] {
        self.resawn(at, &self.plan.replayed.passes, |part| &part.passes).map_or(&[], Vec::as_slice)
    }

    /// The stage as replay names it.
    pub(super) fn place(at: At) -> Place {
        let stage = at.stage + 1;
        match at.resaw {
            None => Place::Log { stage },
            Some(n) => Place::Resaw { resaw: n + 1, stage },
        }
    }

    /// Passes of the bodies before this one.
    fn before(&self, resaw: Option<usize>) -> u32 {
        let bodies = self.bodies().take_while(|body| *body != resaw);
        let passes = bodies.flat_map(|body| self.stages(body)).map(|stage| stage.passes.len());
        u32::try_from(passes.sum::<usize>()).unwrap_or(u32::MAX)
    }

    /// A part by the number of its pass through all bodies.
    pub(super) fn on_card(&self, part: PartId) -> PartId {
        let body = part.resaw().and_then(|n| usize::try_from(n).ok()?.checked_sub(1));
        match part.pass() {
            Some(pass) => PartId::Freed(self.before(body) + pass),
            None => PartId::Left,
        }
    }

    /// Parts by the numbers of their passes, in words.
    pub(super) fn numbers(&self, parts: &[PartId]) -> String {
        names::numbers(&parts.iter().map(|part| self.on_card(*part)).collect::<Vec<_>>())
    }

    /// The part that a pass of a body frees, from 1 through its stages.
    pub(super) fn freed(resaw: Option<usize>, pass: u32) -> PartId {
        let part = PartId::Freed(pass);
        match resaw.and_then(|n| u32::try_from(n + 1).ok()) {
            Some(n) => part.of_resaw(n),
            None => part,
        }
    }

    /// Which direction was up when a part was freed, or is up where it is left on the bed, thousandths of a degree.
    pub(super) fn lay(&self, part: PartId) -> Option<i32> {
        let body = part.resaw().map(|n| usize::try_from(n).unwrap_or(usize::MAX).wrapping_sub(1));
        let stages = self.stages(body);
        let mut passes = 0;
        let freed_in = |stage: &&Stage| {
            passes += stage.passes.len();
            part.pass().is_some_and(|pass| usize::try_from(pass).is_ok_and(|pass| pass <= passes))
        };
        let stage = stages.iter().find(freed_in).or(stages.last())?;
        Some(stage.rest.turn.as_millidegrees())
    }

    /// The sides that are open when a stage begins, in the order in which they were first opened.
    pub(super) fn sides(&self, at: At) -> Vec<Side> {
        let mut sides = at.resaw.map_or_else(Vec::new, |n| self.brought(n));
        for n in 0..at.stage {
            let at = At { stage: n, ..at };
            let Some(stage) = self.stages(at.resaw).get(n) else { break };
            if let Some(pass) = stage.passes.last() {
                let plane = self.over_axis(at, pass.height);
                open(&mut sides, stage.rest.turn.as_millidegrees(), plane);
            }
        }
        sides
    }

    /// How far a height lies over the axis in a stage, inches.
    fn over_axis(&self, at: At, height: Length) -> f64 {
        height.inches_f64() - self.pith(at).map_or(0.0, |(small, _)| small)
    }

    /// The sides that a part brings along when it is put back.
    fn brought(&self, resaw: usize) -> Vec<Side> {
        let Some(part) = self.plan.order.resaws.get(resaw).map(|resaw| resaw.part) else {
            return Vec::new();
        };
        let body = part.resaw().and_then(|n| usize::try_from(n).ok()?.checked_sub(1));
        let mut left = part.pass().and_then(|pass| usize::try_from(pass).ok()).unwrap_or(0);
        // A body comes from one before it.
        if body >= Some(resaw) {
            return Vec::new();
        }
        for (n, stage) in self.stages(body).iter().enumerate() {
            let at = At { resaw: body, stage: n };
            if left > stage.passes.len() {
                left -= stage.passes.len();
                continue;
            }
            let Some(own) = left.checked_sub(1).and_then(|own| stage.passes.get(own)) else {
                break;
            };
            let turn = stage.rest.turn.as_millidegrees();
            let mut sides = self.sides(at);
            if let Some(over) = left.checked_sub(2).and_then(|over| stage.passes.get(over)) {
                open(&mut sides, turn, self.over_axis(at, over.height));
            }
            let kerf = self.job.mill.kerf;
            open(&mut sides, turn + FULL_TURN / 2, -self.over_axis(at, own.height + kerf));
            return sides;
        }
        Vec::new()
    }

    /// The letter of the face that a stage opens, or saws again.
    pub(super) fn letter(&self, at: At) -> char {
        let sides = self.sides(at);
        let turn = self.stages(at.resaw).get(at.stage).map(|stage| stage.rest.turn);
        let turn = turn.map(|turn| turn.as_millidegrees().rem_euclid(FULL_TURN));
        let place = sides.iter().position(|side| Some(side.turn) == turn);
        Face::ALL.get(place.unwrap_or(sides.len())).map_or('?', |face| face.letter())
    }

    /// The side that looks so far clockwise from up in a stage, and its letter.
    pub(super) fn side_at(&self, at: At, by: i32) -> Option<(char, Side)> {
        let turn = self.stages(at.resaw).get(at.stage)?.rest.turn.as_millidegrees() + by;
        let sides = self.sides(at);
        let place = sides.iter().position(|side| side.turn == turn.rem_euclid(FULL_TURN))?;
        Some((Face::ALL.get(place)?.letter(), sides[place]))
    }

    /// What a part is called that is put back: by how many flats it has.
    pub(super) fn called(&self, resaw: usize) -> &'static str {
        let parted = self.plan.order.stages.first().is_some_and(|stage| stage.passes.len() == 1);
        match (self.brought(resaw).len(), parted) {
            (0 | 1, true) => "half",
            (0 | 1, false) => "segment",
            _ => "quarter",
        }
    }
}
