//! The replay of a sawing order: a second opinion on every plan before anyone sees it.
//!
//! # What it does
//! It takes the log, the mill and the steps. It lays the log down as each [`Rest`](crate::Rest) says, carries the
//! solid through every pass, does the same with every part that is put back on the mill, edges and trims the parts, and
//! rebuilds every piece from the planes that were really sawn. Then it holds each piece's claim against what fell out, and each pass against what
//! the mill can do. It shares no arithmetic with the search that found the plan: positions come from
//! poses and half-spaces, soundness from intervals on lines and from outlines of sections.
//!
//! # What it holds of a piece
//! Its four sides were sawn where it says. It is wood throughout, but for its wane: a round log says so in
//! closed form, any other at every station at which it has a section, at the piece's ends and midway between.
//! No flaw that it does not tolerate reaches into it. The pith is where its heart rule lets it be.
//!
//! # Two settings
//! [`Setting::Exact`] saws at the exact heights: the boxes must agree to a micrometre, and each must be
//! sound within its wane. [`Setting::Printed`] saws at the heights that the mill's scale can show: each
//! piece must keep its size within the tolerance, and the part of its box that is still there must be
//! at least its size less twice the tolerance (faces lie on faces, so a box may have moved by
//! two roundings while its own size is off by one), sound within the same wane. What lies on its bark is set by the
//! pith's marks, a flitch by its centre line, not by the bed: how far the round lies below that changes with the
//! planes that bound it, more than the planes themselves do.

mod across;
mod fault;
mod heart;
mod material;
mod metal;
mod parting;
mod rebuild;
mod saw;
mod seen;
mod sound;
mod walk;

pub use fault::{Place, ReplayFault};
pub use material::{Kerf, Material, Solid, material};
pub use metal::Metal;
pub use parting::{
    CORNERS, Laid, Outlines, PartParting, Parting, PassParting, StageParting, laid, parting,
};

use crate::{
    Basis, Body, Claim, Covering, Edging, FlawKind, Frame, Log, Mill, PartId, Piece, SawingOrder,
    rest::reach,
};
use pithward_measure::Length;
use rebuild::rebuild;
use saw::Saw;
use seen::SeenWood;

/// At which heights the order is sawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Setting {
    /// At the exact heights.
    Exact,
    /// At the heights on the mill's scale; sizes may be off by this much.
    Printed {
        /// How far a thickness or a width may be off.
        tolerance: Length,
    },
}

/// What replay found of one pass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PassFact {
    /// Width of the wood where the blade comes out at the small end, inches; 0 where it meets no wood
    /// there.
    pub opening_small_end: f64,
    /// The same at the butt.
    pub opening_butt: f64,
    /// Widest stock at or above the blade, with bark, inches.
    pub widest: f64,
    /// How far the stock stands above the blade, with bark, inches.
    pub above: f64,
}

/// A piece rebuilt from the planes that were sawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rebuilt {
    /// Across, from the frame's axis, inches.
    pub u: (f64, f64),
    /// Upward, from the frame's axis, inches.
    pub h: (f64, f64),
    /// Largest leg of missing wood along `u` and along `h` over its corners, inches.
    pub wane: (f64, f64),
}

/// How high the lowest bark of a body hangs over the bed, inches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hangs {
    /// At its small end.
    pub small_end: f64,
    /// At its butt.
    pub butt: f64,
    /// Over the mill's toe board, the butt at its zero; `None` where the mill has none, or the log does not reach it.
    pub toe_board: Option<f64>,
}

/// What replay found of a part that was put back on the mill, as [`Replayed`] has it of the log.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Resawn {
    /// For every stage, its passes.
    pub passes: Vec<Vec<PassFact>>,
    /// Height of the pith over the bed in each stage, at the small end and at the butt, inches.
    pub pith: Vec<(f64, f64)>,
    /// For every stage, the first and the last station at which it touches the bed, inches from the small end.
    pub carried: Vec<(f64, f64)>,
    /// For every stage, how high its ends hang over the bed; told at the exact heights alone.
    pub hangs: Vec<Option<Hangs>>,
}

/// What fell out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Replayed {
    /// For every stage of the log, its passes.
    pub passes: Vec<Vec<PassFact>>,
    /// Height of the pith over the bed in each stage, at the small end and at the butt, inches.
    pub pith: Vec<(f64, f64)>,
    /// For every stage of the log, the first and the last station at which it touches the bed, inches from the small
    /// end: a stretch between the ends where a belly carries it, nearly one station where a point does.
    pub carried: Vec<(f64, f64)>,
    /// For every stage of the log, how high its ends hang over the bed; told at the exact heights alone.
    pub hangs: Vec<Option<Hangs>>,
    /// For every part that was put back on the mill, the same of its stages.
    pub resaws: Vec<Resawn>,
    /// Passes, from 1 in their stage, whose kerf meets metal or what may hold some, or comes within an inch of it.
    pub metal: Vec<(Place, usize)>,
    /// For every edging, the height over the bed of the frame's axis in each of its stages, inches.
    pub edging_pith: Vec<Vec<f64>>,
    /// For every edging, the height over the bed of the middle of the wood in each of its stages, at its small end and at
    /// its butt, inches; told at the exact heights alone.
    pub edging_middle: Vec<Vec<Option<(f64, f64)>>>,
    /// The pieces, in the order's own order.
    pub pieces: Vec<Rebuilt>,
}

/// A micrometre in inches: far above the rounding of the arithmetic, far below anything sawn.
const MICROMETRE: f64 = 1e-3 / 25.4;

/// The axis of a frame may leave the log's by one in so many of its length: no log tapers or bows by more.
const STEEPEST: i64 = 4;

/// Replays an order on a log and a mill.
///
/// # Errors
/// The first thing in it that is not so, or that the mill cannot do.
pub fn replay(
    log: &Log,
    mill: &Mill,
    order: &SawingOrder,
    setting: Setting,
) -> Result<Replayed, ReplayFault> {
    match setting {
        Setting::Exact => replay_once(log, mill, order, setting, None),
        Setting::Printed { tolerance } => {
            confirm(log, mill, order, tolerance).map(|(_, printed)| printed)
        }
    }
}

/// Replays an order at the exact heights and then at the printed ones.
///
/// # Errors
/// As [`replay`].
pub fn confirm(
    log: &Log,
    mill: &Mill,
    order: &SawingOrder,
    tolerance: Length,
) -> Result<(Replayed, Replayed), ReplayFault> {
    let exact = replay_once(log, mill, order, Setting::Exact, None)?;
    let printed = replay_once(log, mill, order, Setting::Printed { tolerance }, Some(&exact))?;
    Ok((exact, printed))
}

/// The kind of the first flaw that reaches into a piece and that it does not tolerate; `None` where none does, or where the
/// piece is no whole number of quarter turns from the frame.
pub fn flaw_in(log: &Log, frame: &Frame, claim: &Claim) -> Option<FlawKind> {
    let basis = frame.turned_to(claim.turn, log.length())?;
    let span = |span: crate::Span| (span.from.inches_f64(), span.to.inches_f64());
    sound::flaws(log, &basis, claim, (span(claim.u), span(claim.h))).err().map(|(kind, _)| kind)
}

/// One replay. At printed heights `exact` tells where the exact ones have the axis of what lies on its bark.
fn replay_once(
    log: &Log,
    mill: &Mill,
    order: &SawingOrder,
    setting: Setting,
    exact: Option<&Replayed>,
) -> Result<Replayed, ReplayFault> {
    log_fits(log, mill)?;
    frame_fits(log, &order.frame)?;
    let mut replayed = Replayed::default();
    let saw = Saw { mill, setting, frame: order.frame };
    // The axis begins on the pith at the small end.
    let marks: Vec<f64> =
        exact.map_or(Vec::new(), |exact| exact.pith.iter().map(|(small, _)| *small).collect());
    let sawn = saw.stages(Body::whole(log), &order.stages, &marks, |stage| Place::Log { stage })?;
    (replayed.passes, replayed.pith) = (sawn.passes, sawn.pith);
    (replayed.carried, replayed.hangs) = (sawn.carried, sawn.hangs);
    replayed.metal = sawn.metal;
    let mut parts = sawn.parts;
    for (i, resaw) in order.resaws.iter().enumerate() {
        // What lies on the bed is sawn on there, and is not put back.
        let part = parts.iter().position(|(id, _)| *id == resaw.part && id.pass().is_some());
        let (_, body) = parts.remove(part.ok_or(ReplayFault::NoPart(resaw.part))?);
        let place = |stage| Place::Resaw { resaw: i + 1, stage };
        let known = exact.and_then(|exact| exact.resaws.get(i));
        let marks: Vec<f64> =
            known.map_or(Vec::new(), |known| known.pith.iter().map(|(small, _)| *small).collect());
        let sawn = saw.stages(body, &resaw.stages, &marks, place)?;
        let number = u32::try_from(i + 1).unwrap_or(u32::MAX);
        parts.extend(sawn.parts.into_iter().map(|(id, body)| (id.of_resaw(number), body)));
        replayed.metal.extend(sawn.metal);
        let (passes, pith, carried, hangs) = (sawn.passes, sawn.pith, sawn.carried, sawn.hangs);
        replayed.resaws.push(Resawn { passes, pith, carried, hangs });
    }
    let mut strips: Vec<(PartId, Vec<(PartId, Body<'_>)>)> = Vec::new();
    for (i, edging) in order.edgings.iter().enumerate() {
        let twice = strips.iter().any(|(part, _)| *part == edging.part);
        let part =
            find(&parts, edging.part).filter(|_| !twice).ok_or(ReplayFault::NoPart(edging.part))?;
        let place = |stage| Place::Edging { edging: i + 1, stage };
        let marks = exact.and_then(|exact| exact.edging_pith.get(i)).map_or(&[][..], Vec::as_slice);
        let sawn = saw.stages(part.clone(), &edging.stages, marks, place)?;
        replayed.edging_pith.push(sawn.axis);
        replayed.edging_middle.push(sawn.middle);
        replayed.metal.extend(sawn.metal);
        strips.push((edging.part, sawn.parts));
    }
    batches_fit(mill, order, &parts)?;
    lengths_fit(log, mill, &order.pieces)?;
    let seen = SeenWood::new(log);
    for (i, piece) in order.pieces.iter().enumerate() {
        let part = match piece.strip {
            None if strips.iter().any(|(part, _)| *part == piece.part) => None,
            None => find(&parts, piece.part),
            Some(strip) => strips
                .iter()
                .find(|(part, _)| *part == piece.part)
                .and_then(|(_, strips)| find(strips, strip)),
        };
        let body = part.ok_or(ReplayFault::NoPart(piece.part))?;
        let seen = (&order.frame, &seen);
        replayed.pieces.push(rebuild(body, seen, i + 1, &piece.claim, setting)?);
    }
    Ok(replayed)
}

/// The log against the mill's own size.
fn log_fits(log: &Log, mill: &Mill) -> Result<(), ReplayFault> {
    let checks = [
        ("its greatest width over the bark", log.widest_over_bark(), mill.largest_diameter, false),
        ("its length", log.length(), mill.longest, false),
        ("its length", log.length(), mill.shortest, true),
    ];
    for (what, got, limit, at_least) in checks {
        if if at_least { got < limit } else { got > limit } {
            return Err(ReplayFault::Log { what, got, limit });
        }
    }
    Ok(())
}

/// A frame whose axis stays with the log.
fn frame_fits(log: &Log, frame: &Frame) -> Result<(), ReplayFault> {
    let drift = frame.drift_u.abs().max(frame.drift_h.abs());
    let limit = Length::nm(log.length().as_nm() / STEEPEST);
    if drift > limit { Err(ReplayFault::Frame { drift, limit }) } else { Ok(()) }
}

/// Pieces of one strip: inside the log and a crosscut apart.
fn lengths_fit(log: &Log, mill: &Mill, pieces: &[Piece]) -> Result<(), ReplayFault> {
    for (i, piece) in pieces.iter().enumerate() {
        let z = piece.claim.z;
        let inside = Length::ZERO <= z.from && z.from < z.to && z.to <= log.length();
        let apart = pieces[..i]
            .iter()
            .filter(|other| other.part == piece.part && other.strip == piece.strip)
            .all(|other| {
                let other = other.claim.z;
                z.from >= other.to + mill.crosscut_kerf || other.from >= z.to + mill.crosscut_kerf
            });
        if !inside || !apart {
            return Err(ReplayFault::Length { piece: i + 1 });
        }
    }
    Ok(())
}

/// Flitches of one batch: few enough, told the same, and together no wider than the guides.
fn batches_fit(
    mill: &Mill,
    order: &SawingOrder,
    parts: &[(PartId, Body<'_>)],
) -> Result<(), ReplayFault> {
    let same = |a: &Edging, b: &Edging| {
        let passes = |e: &Edging| e.stages.iter().map(|s| s.passes.clone()).collect::<Vec<_>>();
        passes(a) == passes(b)
    };
    for first in order.batches() {
        let batch: Vec<&Edging> =
            order.edgings.iter().filter(|edging| edging.batch == first.batch).collect();
        if batch.len() > mill.edging_batch as usize {
            return Err(ReplayFault::Batch {
                batch: first.batch,
                count: batch.len(),
                limit: mill.edging_batch,
            });
        }
        if !batch.iter().all(|edging| same(first, edging)) {
            return Err(ReplayFault::BatchDiffers { batch: first.batch });
        }
        let mut width = 0.0;
        for (i, edging) in order.edgings.iter().enumerate().filter(|(_, e)| e.batch == first.batch)
        {
            let body = find(parts, edging.part).ok_or(ReplayFault::NoPart(edging.part))?;
            if let Some(stage) = edging.stages.first() {
                // Standing on edge, a flitch's thickness lies across the bed.
                let length = body.log().length();
                let place = Place::Edging { edging: i + 1, stage: 1 };
                let Basis { u, .. } = order
                    .frame
                    .turned_to(stage.rest.turn, length)
                    .ok_or(ReplayFault::Turn { place })?;
                let wide = |axis| reach(body, Covering::Bark, axis).unwrap_or(0.0);
                width += wide(u) + wide(u.map(|c| -c));
            }
        }
        let limit = mill.widest_cut.inches_f64();
        if width > limit + MICROMETRE + batch.len() as f64 * mill.step.inches_f64() {
            let edging =
                order.edgings.iter().position(|e| e.batch == first.batch).map_or(0, |i| i + 1);
            return Err(ReplayFault::TooWide {
                place: Place::Edging { edging, stage: 1 },
                pass: 0,
                widest: width,
                limit,
            });
        }
    }
    Ok(())
}

fn find<'b, 'a>(parts: &'b [(PartId, Body<'a>)], part: PartId) -> Option<&'b Body<'a>> {
    parts.iter().find(|(id, _)| *id == part).map(|(_, body)| body)
}
