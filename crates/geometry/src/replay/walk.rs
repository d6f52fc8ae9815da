//! The blade's way through a log, its parts that are put back and its flitches, at the exact heights, without a look at what
//! the mill can do: for whoever measures or draws what falls out of an order that replays.

use super::{Place, ReplayFault, find};
use crate::{Body, Log, PartId, Pose, SawingOrder, Stage};

/// A body on the mill, in one of its stages.
pub(super) struct Step<'s, 'a> {
    /// The stage.
    pub(super) place: Place,
    /// How it lies.
    pub(super) pose: &'s Pose,
    /// The pass, from 1 in its stage.
    pub(super) pass: usize,
    /// The height of the pass over the bed, inches.
    pub(super) height: f64,
    /// What the pass frees.
    pub(super) id: PartId,
    /// What it finds on the bed.
    pub(super) before: &'s Body<'a>,
    /// What of it becomes sawdust.
    pub(super) dust: &'s Body<'a>,
    /// What it frees.
    pub(super) freed: &'s Body<'a>,
}

/// All that falls out.
pub(super) struct Walked<'a> {
    /// The parts of the log and of what was put back of it.
    pub(super) parts: Vec<(PartId, Body<'a>)>,
    /// Of every part that is edged, its strips.
    pub(super) strips: Vec<(PartId, Vec<(PartId, Body<'a>)>)>,
}

/// An order, and the kerf by which it is sawn, inches.
pub(super) struct Walk<'o> {
    pub(super) order: &'o SawingOrder,
    pub(super) kerf: f64,
}

impl Walk<'_> {
    /// Goes through all of an order; `see` is told of every pass.
    pub(super) fn all<'a>(
        &self,
        log: &'a Log,
        see: &mut dyn FnMut(Step<'_, 'a>),
    ) -> Result<Walked<'a>, ReplayFault> {
        let order = self.order;
        let mut parts =
            self.body(Body::whole(log), &order.stages, see, |stage| Place::Log { stage })?;
        for (i, resaw) in order.resaws.iter().enumerate() {
            let part = parts.iter().position(|(id, _)| *id == resaw.part);
            let (_, body) = parts.remove(part.ok_or(ReplayFault::NoPart(resaw.part))?);
            let place = |stage| Place::Resaw { resaw: i + 1, stage };
            let number = u32::try_from(i + 1).unwrap_or(u32::MAX);
            let mut see_own =
                |step: Step<'_, 'a>| see(Step { id: step.id.of_resaw(number), ..step });
            let sawn = self.body(body, &resaw.stages, &mut see_own, place)?;
            parts.extend(sawn.into_iter().map(|(id, body)| (id.of_resaw(number), body)));
        }
        let mut strips: Vec<(PartId, Vec<(PartId, Body<'a>)>)> = Vec::new();
        for (i, edging) in order.edgings.iter().enumerate() {
            let body = find(&parts, edging.part).ok_or(ReplayFault::NoPart(edging.part))?;
            let place = |stage| Place::Edging { edging: i + 1, stage };
            let sawn = self.body(body.clone(), &edging.stages, see, place)?;
            strips.push((edging.part, sawn));
        }
        Ok(Walked { parts, strips })
    }

    /// Carries a body through its stages; the parts in the order in which they fall off, the one left on the bed last.
    fn body<'a>(
        &self,
        mut body: Body<'a>,
        stages: &[Stage],
        see: &mut dyn FnMut(Step<'_, 'a>),
        place: impl Fn(usize) -> Place,
    ) -> Result<Vec<(PartId, Body<'a>)>, ReplayFault> {
        let length = body.log().length();
        let mut parts = Vec::new();
        for (i, Stage { rest, passes }) in stages.iter().enumerate() {
            let place = place(i + 1);
            let turn = self.order.frame.turned_to(rest.turn, length);
            let basis = turn.ok_or(ReplayFault::Turn { place })?;
            let pose = Pose::levelled(&body, basis).ok_or(ReplayFault::NoPose { place })?;
            for (j, pass) in passes.iter().enumerate() {
                let height = pass.height.inches_f64();
                let id = PartId::Freed(u32::try_from(parts.len() + 1).unwrap_or(u32::MAX));
                let dust = body.cut(pose.above(height)).cut(pose.below(height + self.kerf));
                let freed = body.cut(pose.above(height + self.kerf));
                see(Step {
                    place,
                    pose: &pose,
                    pass: j + 1,
                    height,
                    id,
                    before: &body,
                    dust: &dust,
                    freed: &freed,
                });
                parts.push((id, freed));
                body = body.cut(pose.below(height));
            }
        }
        parts.push((PartId::Left, body));
        Ok(parts)
    }
}
