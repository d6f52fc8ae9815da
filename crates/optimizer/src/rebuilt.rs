//! A plan from what was chosen alone, as it stands in a file: replayed, and all that follows from it reckoned anew.
//!
//! Whatever a file says besides can then be held against it; nothing of it is believed.

use crate::counts;
use crate::family::Method;
use crate::looks::{Giving, Judged, judge};
use crate::metal::Later;
use crate::open::replayed_plan;
use crate::pile::Demand;
use crate::plan::{Fate, LogPlan, Part, Product, Rests, Settings, Tally};
use crate::resume::parts_of;
use crate::sawing::Sawn;
use crate::want::{Cut, CutId, Want};
use pithward_geometry::{Claim, Log, Mill, PartId, ReplayFault, SawingOrder};
use pithward_measure::Length;
use thiserror::Error;

/// What was chosen for a log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chosen {
    /// How it is sawn.
    pub method: Method,
    /// Every step.
    pub order: SawingOrder,
    /// What each piece is, in the order of the pieces, and whether it is beyond its want's count.
    pub pieces: Vec<(CutId, bool)>,
    /// The rests that were searched before.
    pub rests: Rests,
    /// What came near metal less often or later.
    pub later: Option<Later>,
}

/// Why what was chosen is no plan.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum RebuildFault {
    /// A piece of a want that there is not.
    #[error("piece {} is of want {}, and there are {wants}", .piece + 1, .want + 1)]
    NoWant {
        /// Its place among the pieces.
        piece: usize,
        /// The want's place.
        want: usize,
        /// How many there are.
        wants: usize,
    },
    /// A piece of a size that its want does not have.
    #[error("piece {} is of size {} of its want, which has {cuts}", .piece + 1, .cut + 1)]
    NoCut {
        /// Its place among the pieces.
        piece: usize,
        /// The size's place in the want.
        cut: usize,
        /// How many sizes the want has.
        cuts: usize,
    },
    /// A piece whose box is not of its size.
    #[error("piece {} has a box of another size than it is said to be", .piece + 1)]
    Size {
        /// Its place among the pieces.
        piece: usize,
        /// The box's thickness, width and length, the thickness its smaller side.
        has: [Length; 3],
        /// What is sawn for its size.
        takes: [Length; 3],
    },
    /// A piece that may lack more wood, or hold more, than its want allows.
    #[error("piece {} is not what its want allows", .piece + 1)]
    Allowed {
        /// Its place among the pieces.
        piece: usize,
    },
    /// A piece that does not serve its want as it looks.
    #[error("piece {} does not serve its want by its expected grade", .piece + 1)]
    Grade {
        /// Its place among the pieces.
        piece: usize,
    },
    /// The replay does not confirm it.
    #[error(transparent)]
    Replay(#[from] ReplayFault),
}

/// The plan of a log that is sawn alone, from what was chosen.
///
/// # Errors
/// What of it cannot be so.
pub fn rebuilt(
    log: &Log,
    mill: &Mill,
    wants: &[Want],
    settings: &Settings,
    chosen: &Chosen,
) -> Result<LogPlan, RebuildFault> {
    let mut plan = replayed(log, mill, wants, settings, chosen)?;
    let mut worth = 0;
    plan.tally =
        wants.iter().map(|want| Tally { wanted: want.count, ..Tally::default() }).collect();
    for (product, (_, extra)) in plan.products.iter_mut().zip(&chosen.pieces) {
        product.extra = *extra;
        worth += counts::worth_of(wants, product.cut, *extra, product.loss);
        let tally = &mut plan.tally[product.cut.want.0];
        if *extra { tally.extra += 1 } else { tally.given += 1 }
    }
    plan.worth = worth;
    Ok(plan)
}

/// The same for a log of a pile: what is wanted is wanted from the pile, and what only puts the list first is no worth of a
/// log.
///
/// # Errors
/// What of it cannot be so.
pub fn rebuilt_of_pile(
    log: &Log,
    mill: &Mill,
    (wants, demands): (&[Want], &[Demand]),
    settings: &Settings,
    chosen: &Chosen,
) -> Result<LogPlan, RebuildFault> {
    let mut plan = replayed(log, mill, wants, settings, chosen)?;
    let mut worth = 0;
    plan.tally = vec![Tally::default(); wants.len()];
    for (product, (_, extra)) in plan.products.iter_mut().zip(&chosen.pieces) {
        product.extra = *extra;
        worth += pile_worth(wants, demands, product);
        let tally = &mut plan.tally[product.cut.want.0];
        if *extra { tally.extra += 1 } else { tally.given += 1 }
    }
    plan.worth = worth;
    Ok(plan)
}

/// What a piece of a pile is worth to the customer.
pub(crate) fn pile_worth(wants: &[Want], demands: &[Demand], product: &Product) -> i64 {
    let (worth, extra) = product.worths(wants);
    match demands.get(product.cut.want.0) {
        _ if product.extra => extra,
        Some(demand) if demand.count.is_some() => worth - demand.first,
        _ => worth,
    }
}

fn replayed(
    log: &Log,
    mill: &Mill,
    wants: &[Want],
    settings: &Settings,
    chosen: &Chosen,
) -> Result<LogPlan, RebuildFault> {
    for (piece, (own, (id, _))) in chosen.order.pieces.iter().zip(&chosen.pieces).enumerate() {
        is_of_size(wants, piece, &own.claim, *id)?;
    }
    let cuts: Vec<CutId> = chosen.pieces.iter().map(|(id, _)| *id).collect();
    let parts = fates(&chosen.order);
    let sawn = Sawn { order: chosen.order.clone(), parts, cuts };
    let judged = judge(log, wants, sawn.clone(), &Giving::Own);
    let same = judged.sawn.cuts.iter().zip(&sawn.cuts).position(|(is, was)| is != was);
    let fewer = judged.sawn.cuts.len() < sawn.cuts.len();
    if let Some(piece) = same.or(fewer.then_some(judged.sawn.cuts.len())) {
        return Err(RebuildFault::Grade { piece });
    }
    let judged = Judged { sawn, ..judged };
    let plan = replayed_plan(log, mill, wants, settings, (chosen.method, judged))?;
    Ok(LogPlan { rests: chosen.rests, later: chosen.later, ..plan })
}

fn is_of_size(wants: &[Want], piece: usize, claim: &Claim, id: CutId) -> Result<(), RebuildFault> {
    let want = wants.get(id.want.0);
    let want = want.ok_or(RebuildFault::NoWant { piece, want: id.want.0, wants: wants.len() })?;
    let cut = want.cuts.get(id.cut);
    let cut = cut.ok_or(RebuildFault::NoCut { piece, cut: id.cut, cuts: want.cuts.len() })?;
    let Cut { thickness, width, take, .. } = *cut;
    let (across, upward) = (claim.u.size(), claim.h.size());
    let lies = (across, upward) == (width, thickness);
    let stands = (across, upward) == (thickness, width);
    if !(lies || stands) || claim.z.size() != take {
        let has = [across.min(upward), across.max(upward), claim.z.size()];
        return Err(RebuildFault::Size { piece, has, takes: [thickness, width, take] });
    }
    let legs = (claim.wane_u, claim.wane_h);
    let within = |(u, h): (Length, Length)| legs.0 <= u && legs.1 <= h;
    let wane = lies && within((want.wane.width, want.wane.thickness))
        || stands && within((want.wane.thickness, want.wane.width));
    if !wane || claim.heart != want.heart || claim.tolerates != want.tolerates {
        return Err(RebuildFault::Allowed { piece });
    }
    Ok(())
}

/// What becomes of every part of an order.
fn fates(order: &SawingOrder) -> Vec<Part> {
    let fate = |id: PartId| {
        let own = order.pieces.iter().enumerate().filter(|(_, piece)| piece.part == id);
        let pieces: Vec<usize> = own.map(|(n, _)| n).collect();
        match (order.put_back(id), order.edgings.iter().find(|edging| edging.part == id)) {
            (Some(resaw), _) => Fate::PutBack(resaw),
            (None, Some(edging)) => Fate::Flitch { batch: edging.batch, pieces },
            (None, None) if pieces.is_empty() => Fate::Slab,
            (None, None) => Fate::Square(pieces),
        }
    };
    parts_of(order).into_iter().map(|id| Part { id, fate: fate(id) }).collect()
}
