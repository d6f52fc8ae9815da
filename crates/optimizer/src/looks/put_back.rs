//! Parts that are put back on the mill, once some pieces are left out: one that gives no piece any more stays where it
//! was set aside.

use crate::plan::{Fate, Part};
use pithward_geometry::{PartId, SawingOrder};

/// Leaves out the resaws that give nothing, with their parts, and counts the others anew.
pub(super) fn leave_idle(order: &mut SawingOrder, parts: Vec<Part>) -> Vec<Part> {
    let place = |resaw: Option<u32>| resaw.and_then(|n| usize::try_from(n).ok()?.checked_sub(1));
    let mut gives = vec![false; order.resaws.len()];
    let mark = |gives: &mut Vec<bool>, part: PartId| {
        if let Some(given) = place(part.resaw()).and_then(|place| gives.get_mut(place)) {
            *given = true;
        }
    };
    for part in &parts {
        if matches!(part.fate, Fate::Square(_) | Fate::Flitch { .. }) {
            mark(&mut gives, part.id);
        }
    }
    // A part comes from a body before its own.
    for (n, resaw) in order.resaws.iter().enumerate().rev() {
        if gives[n] {
            mark(&mut gives, resaw.part);
        }
    }
    if gives.iter().all(|gives| *gives) {
        return parts;
    }
    // The new number of each that is kept.
    let mut numbers: Vec<Option<u32>> = Vec::with_capacity(gives.len());
    let mut last = 0;
    for gives in &gives {
        last += u32::from(*gives);
        numbers.push(gives.then_some(last));
    }
    let number =
        |old: u32| place(Some(old)).and_then(|place| numbers.get(place).copied().flatten());
    let named = |part: PartId| match part {
        PartId::FreedOf { resaw, pass } => Some(PartId::FreedOf { resaw: number(resaw)?, pass }),
        PartId::LeftOf { resaw } => Some(PartId::LeftOf { resaw: number(resaw)? }),
        PartId::Freed(_) | PartId::Left => Some(part),
    };
    let mut kept = gives.iter().copied();
    order.resaws.retain(|_| kept.next().unwrap_or(true));
    let of_resaws = order.resaws.iter_mut().map(|resaw| &mut resaw.part);
    let of_edgings = order.edgings.iter_mut().map(|edging| &mut edging.part);
    let of_pieces = order.pieces.iter_mut().map(|piece| &mut piece.part);
    // What is named here gives pieces.
    for part in of_resaws.chain(of_edgings).chain(of_pieces) {
        *part = named(*part).unwrap_or(*part);
    }
    let kept = |Part { id, fate }: Part| {
        let fate = match fate {
            Fate::PutBack(old) => number(old).map_or(Fate::Slab, Fate::PutBack),
            fate => fate,
        };
        Some(Part { id: named(id)?, fate })
    };
    parts.into_iter().filter_map(kept).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use pithward_geometry::{Edging, Resaw};

    #[test]
    fn what_gives_nothing_is_not_put_back() {
        let freed_of = |resaw, pass| PartId::FreedOf { resaw, pass };
        // Two halves of the log and a quarter of each: the first half gives nothing but its quarter, the second nothing.
        let put_back = [PartId::Freed(1), PartId::Freed(2), freed_of(2, 1), freed_of(1, 1)];
        let edging = |part| Edging { part, batch: 1, stages: Vec::new() };
        let mut order = SawingOrder {
            resaws: put_back.map(|part| Resaw { part, stages: Vec::new() }).to_vec(),
            edgings: vec![edging(freed_of(4, 2))],
            ..SawingOrder::default()
        };
        let flitch = Fate::Flitch { batch: 1, pieces: vec![0] };
        let fates = [
            (PartId::Freed(1), Fate::PutBack(1)),
            (PartId::Freed(2), Fate::PutBack(2)),
            (PartId::Left, Fate::Slab),
            (freed_of(1, 1), Fate::PutBack(4)),
            (PartId::LeftOf { resaw: 1 }, Fate::Slab),
            (freed_of(2, 1), Fate::PutBack(3)),
            (PartId::LeftOf { resaw: 3 }, Fate::Slab),
            (freed_of(4, 2), flitch.clone()),
        ];
        let parts = fates.into_iter().map(|(id, fate)| Part { id, fate }).collect();
        let parts = leave_idle(&mut order, parts);
        let left: Vec<_> = parts.into_iter().map(|part| (part.id, part.fate)).collect();
        let expected = [
            (PartId::Freed(1), Fate::PutBack(1)),
            (PartId::Freed(2), Fate::Slab),
            (PartId::Left, Fate::Slab),
            (freed_of(1, 1), Fate::PutBack(2)),
            (PartId::LeftOf { resaw: 1 }, Fate::Slab),
            (freed_of(2, 2), flitch),
        ];
        assert_eq!(left, expected);
        let resaws: Vec<PartId> = order.resaws.iter().map(|resaw| resaw.part).collect();
        assert_eq!(resaws, [PartId::Freed(1), freed_of(1, 1)]);
        assert_eq!(order.edgings[0].part, freed_of(2, 2));
    }
}
