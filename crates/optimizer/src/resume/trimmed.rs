//! An order that loses pieces, and then the passes that give nothing any more.

use super::begun::passes;
use crate::looks;
use crate::plan::{Fate, Part};
use crate::sawing::Sawn;
use pithward_geometry::{PartId, ReplayFault, SawingOrder, Stage};

/// The parts of an order, body by body.
pub(crate) fn parts_of(order: &SawingOrder) -> Vec<PartId> {
    let count = |stages: &[Stage]| -> u32 {
        let passes: usize = stages.iter().map(|stage| stage.passes.len()).sum();
        u32::try_from(passes).unwrap_or(u32::MAX)
    };
    let own = |stages: &[Stage]| {
        (1..=count(stages)).map(PartId::Freed).chain([PartId::Left]).collect::<Vec<_>>()
    };
    let mut parts = own(&order.stages);
    for (n, resaw) in (1..).zip(&order.resaws) {
        parts.extend(own(&resaw.stages).into_iter().map(|part| part.of_resaw(n)));
    }
    parts
}

/// What is sawn with some of its pieces.
pub(super) fn without(sawn: Sawn, keep: &[bool]) -> Sawn {
    let Sawn { mut order, parts, cuts } = sawn;
    let mut kept = 0;
    let place = |keep: &bool| {
        let place = keep.then_some(kept);
        kept += usize::from(*keep);
        place
    };
    let places: Vec<Option<usize>> = keep.iter().map(place).collect();
    let own = cuts.into_iter().zip(keep).filter(|(_, keep)| **keep);
    let cuts = own.map(|(cut, _)| cut).collect();
    let parts = looks::leave_out(&mut order, parts, &places);
    Sawn { order, parts, cuts }
}

/// Which piece of an order a fault is of, from 1.
pub(super) fn refused(fault: &ReplayFault) -> Option<usize> {
    match fault {
        ReplayFault::Size { piece, .. }
        | ReplayFault::Unsound { piece, .. }
        | ReplayFault::Flaw { piece, .. }
        | ReplayFault::Heart { piece, .. }
        | ReplayFault::Unsawn { piece }
        | ReplayFault::Square { piece } => Some(*piece),
        _ => None,
    }
}

/// What is sawn without the last passes of what is on the mill that neither free nor leave anything wanted; those that were
/// made stay.
pub(super) fn idle(sawn: Sawn, made: usize) -> Sawn {
    let Sawn { mut order, mut parts, cuts } = sawn;
    loop {
        if passes(&order.stages, &order.resaws) <= made {
            break;
        }
        let resaw = u32::try_from(order.resaws.len()).unwrap_or(u32::MAX);
        let stages = match order.resaws.last_mut() {
            Some(resaw) => &mut resaw.stages,
            None => &mut order.stages,
        };
        let own = |part: PartId| if resaw == 0 { part } else { part.of_resaw(resaw) };
        let count: usize = stages.iter().map(|stage| stage.passes.len()).sum();
        let freed = own(PartId::Freed(u32::try_from(count).unwrap_or(u32::MAX)));
        let is_slab = |id: PartId| {
            parts
                .iter()
                .find(|part: &&Part| part.id == id)
                .is_none_or(|part| part.fate == Fate::Slab)
        };
        let Some(stage) =
            stages.last_mut().filter(|_| is_slab(freed) && is_slab(own(PartId::Left)))
        else {
            break;
        };
        stage.passes.pop();
        if stage.passes.is_empty() {
            stages.pop();
        }
        parts.retain(|part| part.id != freed);
        if resaw > 0 && stages.is_empty() {
            parts.retain(|part| part.id.resaw() != Some(resaw));
            if let Some(resaw) = order.resaws.pop()
                && let Some(part) = parts.iter_mut().find(|part| part.id == resaw.part)
            {
                part.fate = Fate::Slab;
            }
        }
    }
    Sawn { order, parts, cuts }
}
