//! The replay of a sawing order: a second opinion on every plan before anyone sees it.
//!
//! # What it does
//! It takes the log, the mill and the steps. It lays the log down as each [`Rest`] says, carries the
//! solid through every pass, edges and trims the parts, and rebuilds every piece from the planes that
//! were really sawn. Then it holds each piece's claim against what fell out, and each pass against what
//! the mill can do. It shares no arithmetic with the search that found the plan: positions come from
//! poses and half-spaces, soundness from intervals on lines.
//!
//! # Two settings
//! [`Setting::Exact`] saws at the exact heights: the boxes must agree to a micrometre, and each must be
//! sound within its wane. [`Setting::Printed`] saws at the heights that the mill's scale can show: each
//! piece must keep its size within the tolerance, and the part of its box that is still there must be
//! at least its size less twice the tolerance (faces lie on faces, so a box may have moved by
//! two roundings while its own size is off by one), sound within the same wane. A flitch on its bark edge is set by its
//! centre line, not by the bed: how far its round edge lies below that changes with the planes that bound it,
//! more than the planes themselves do.

mod fault;

pub use fault::{Place, ReplayFault};

use crate::{
    Body, Claim, Covering, Edging, HalfSpace, Log, Mill, PartId, Pass, Piece, Pose, Rest,
    SawingOrder, Span, Stage, Support,
};
use pithward_measure::Length;

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
    /// Across, from the pith, inches.
    pub u: (f64, f64),
    /// Upward, from the pith, inches.
    pub h: (f64, f64),
    /// Largest leg of missing wood along `u` and along `h` over its corners, inches.
    pub wane: (f64, f64),
}

/// What fell out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Replayed {
    /// For every stage of the log, its passes.
    pub passes: Vec<Vec<PassFact>>,
    /// Height of the pith over the bed in each stage, at the small end and at the butt, inches.
    pub pith: Vec<(f64, f64)>,
    /// For every edging, the height of the pith's plane over the bed in each of its stages, inches.
    pub edging_pith: Vec<Vec<f64>>,
    /// The pieces, in the order's own order.
    pub pieces: Vec<Rebuilt>,
}

/// A micrometre in inches: far above the rounding of the arithmetic, far below anything sawn.
const MICROMETRE: f64 = 1e-3 / 25.4;

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
        Setting::Exact => replay_once(log, mill, order, setting, &[]),
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
    let exact = replay_once(log, mill, order, Setting::Exact, &[])?;
    let printed =
        replay_once(log, mill, order, Setting::Printed { tolerance }, &exact.edging_pith)?;
    Ok((exact, printed))
}

/// One replay. `marks` holds, for every edging, where the exact heights have the flitch's centre line.
fn replay_once(
    log: &Log,
    mill: &Mill,
    order: &SawingOrder,
    setting: Setting,
    marks: &[Vec<f64>],
) -> Result<Replayed, ReplayFault> {
    log_fits(log, mill)?;
    let mut replayed = Replayed::default();
    let saw = Saw { mill, setting };
    let sawn = saw.stages(Body::whole(log), &order.stages, &[], |stage| Place::Log { stage })?;
    (replayed.passes, replayed.pith) = (sawn.passes, sawn.pith);
    let parts = sawn.parts;
    let mut strips: Vec<(PartId, Vec<(PartId, Body<'_>)>)> = Vec::new();
    for (i, edging) in order.edgings.iter().enumerate() {
        let twice = strips.iter().any(|(part, _)| *part == edging.part);
        let part =
            find(&parts, edging.part).filter(|_| !twice).ok_or(ReplayFault::NoPart(edging.part))?;
        let place = |stage| Place::Edging { edging: i + 1, stage };
        let marks = marks.get(i).map_or(&[][..], Vec::as_slice);
        let sawn = saw.stages(part.clone(), &edging.stages, marks, place)?;
        replayed.edging_pith.push(sawn.pith.iter().map(|(_, butt)| *butt).collect());
        strips.push((edging.part, sawn.parts));
    }
    batches_fit(mill, order, &parts)?;
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
        replayed.pieces.push(rebuild(body, i + 1, &piece.claim, setting)?);
    }
    lengths_fit(log, mill, &order.pieces)?;
    Ok(replayed)
}

/// The log against the mill's own size.
fn log_fits(log: &Log, mill: &Mill) -> Result<(), ReplayFault> {
    let checks = [
        (
            "its diameter at the butt over the bark",
            log.butt_over_bark(),
            mill.largest_diameter,
            false,
        ),
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

/// A body after its stages.
struct SawnBody<'a> {
    parts: Vec<(PartId, Body<'a>)>,
    passes: Vec<Vec<PassFact>>,
    /// Height of the pith in each stage, at the small end and at the butt.
    pith: Vec<(f64, f64)>,
}

/// The saw at one setting.
struct Saw<'m> {
    mill: &'m Mill,
    setting: Setting,
}

impl Saw<'_> {
    fn height(&self, pass: &Pass) -> f64 {
        match self.setting {
            Setting::Exact => pass.height,
            Setting::Printed { .. } => pass.printed,
        }
        .inches_f64()
    }

    /// Carries a body through its stages; the parts in the order in which they fall off, the one left
    /// on the bed last. `marks` holds, for a flitch, where its centre line should be over the bed.
    fn stages<'a>(
        &self,
        mut body: Body<'a>,
        stages: &[Stage],
        marks: &[f64],
        place: impl Fn(usize) -> Place,
    ) -> Result<SawnBody<'a>, ReplayFault> {
        let mut sawn = SawnBody { parts: Vec::new(), passes: Vec::new(), pith: Vec::new() };
        let length = body.log().length().inches_f64();
        let mut faces: Vec<HalfSpace> = Vec::new();
        for (i, stage) in stages.iter().enumerate() {
            let place = place(i + 1);
            let pose = self.lay_down(&body, &stage.rest, &faces, place)?;
            let centre = marks.get(i).filter(|_| stage.rest.on == Support::Bark);
            let shift = centre.map_or(0.0, |mark| pose.pith_height(length) - mark);
            let mut passes = Vec::new();
            for (j, pass) in stage.passes.iter().enumerate() {
                let height = self.height(pass) + shift;
                let freed = body.cut(pose.above(height + self.mill.kerf.inches_f64()));
                let fact = self.pass_fits(&body, &pose, (pass, height), place, j + 1)?;
                passes.extend(fact);
                let number = u32::try_from(sawn.parts.len() + 1).unwrap_or(u32::MAX);
                sawn.parts.push((PartId::Freed(number), freed));
                body = body.cut(pose.below(height));
            }
            if let Some(last) = stage.passes.last() {
                faces.push(pose.below(self.height(last) + shift));
            }
            sawn.pith.push((pose.pith_height(0.0), pose.pith_height(length)));
            sawn.passes.push(passes);
        }
        sawn.parts.push((PartId::Left, body));
        Ok(sawn)
    }

    /// Lays the body down and holds the rest's own words against where it comes to lie.
    fn lay_down(
        &self,
        body: &Body<'_>,
        rest: &Rest,
        faces: &[HalfSpace],
        place: Place,
    ) -> Result<Pose, ReplayFault> {
        // At printed heights the planes lie up to half a step off, and with them what levels the body. The
        // sawyer levels by the pith's mark, or by the centre line of a flitch, whatever lift that takes.
        let edging = matches!(place, Place::Edging { .. });
        let level_within = match self.setting {
            Setting::Exact => MICROMETRE,
            Setting::Printed { .. } if edging => f64::INFINITY,
            Setting::Printed { .. } => self.mill.step.inches_f64(),
        };
        let pose = Pose::of(body, rest, level_within).ok_or(ReplayFault::NoPose { place })?;
        let down = pose.up().map(|c| -c);
        let on_bed = |plane: HalfSpace| {
            let below = pose.below(0.0);
            aligned(plane.normal, down) && (plane.offset + below.offset).abs() < MICROMETRE
        };
        let lies = match rest.on {
            Support::Bark => body.plane_facing(down).is_none_or(|plane| !on_bed(plane)),
            Support::Face(face) => !edging && faces.get(face as usize).copied().is_some_and(on_bed),
            Support::SawnEdge => edging && body.plane_facing(down).is_some_and(on_bed),
        };
        // Half a step decides whether a barely squared face still touches the bed; the exact setting tells.
        if !lies && self.setting == Setting::Exact {
            return Err(ReplayFault::Support { place });
        }
        let stops = pose.right().map(|c| -c);
        let stands = match rest.against {
            None => true,
            Some(face) => {
                faces.get(face as usize).is_some_and(|plane| aligned(plane.normal, stops))
                    && body.plane_facing(stops).is_some()
            }
        };
        if stands { Ok(pose) } else { Err(ReplayFault::Stops { place }) }
    }

    /// One pass against what the mill can do; `None` when nothing stands at the blade or above it.
    fn pass_fits(
        &self,
        body: &Body<'_>,
        pose: &Pose,
        (pass, height): (&Pass, f64),
        place: Place,
        number: usize,
    ) -> Result<Option<PassFact>, ReplayFault> {
        let mill = self.mill;
        if pass.printed != pass.height.round_to(mill.step) {
            return Err(ReplayFault::Printed {
                place,
                pass: number,
                exact: pass.height,
                printed: pass.printed,
            });
        }
        // The scale shows a lowest height too: it is the printed one that must not be below it.
        let set = if self.setting == Setting::Exact { pass.height } else { pass.printed };
        if set < mill.lowest_blade {
            return Err(ReplayFault::TooLow {
                place,
                pass: number,
                height: set,
                lowest: mill.lowest_blade,
            });
        }
        let fact = match pass_fact(body, pose, height).filter(|fact| fact.above > MICROMETRE) {
            Some(fact) => fact,
            // Half a step may lift the blade over wood that it barely touched.
            None if self.setting != Setting::Exact => return Ok(None),
            None => return Err(ReplayFault::Nothing { place, pass: number }),
        };
        // Printing may move the blade by half a step; the limits have slack for that, sizes do not.
        let slack = match self.setting {
            Setting::Exact => MICROMETRE,
            Setting::Printed { .. } => mill.step.inches_f64(),
        };
        let (widest, above) = (mill.widest_cut.inches_f64(), mill.deepest_above.inches_f64());
        if fact.widest > widest + slack {
            return Err(ReplayFault::TooWide {
                place,
                pass: number,
                widest: fact.widest,
                limit: widest,
            });
        }
        if fact.above > above + slack {
            return Err(ReplayFault::TooDeep {
                place,
                pass: number,
                above: fact.above,
                limit: above,
            });
        }
        Ok(Some(fact))
    }
}

/// How wide and how deep the stock is at a pass; `None` when the blade meets nothing.
fn pass_fact(body: &Body<'_>, pose: &Pose, height: f64) -> Option<PassFact> {
    let stock = body.cut(pose.above(height));
    let [x, y, _] = pose.right();
    let widest =
        stock.reach(Covering::Bark, [x, y], 0.0)? + stock.reach(Covering::Bark, [-x, -y], 0.0)?;
    let up = pose.up();
    let flat = crate::trig::norm(up[0], up[1]);
    let top = stock.reach(Covering::Bark, [up[0] / flat, up[1] / flat], up[2] / flat)? * flat;
    let plane = pose.below(height);
    let opening = |z: f64| {
        let away = (plane.offset - up[2] * z) / flat;
        let origin = [up[0] / flat * away, up[1] / flat * away];
        body.interval(Covering::Wood, z, origin, [x, y]).map_or(0.0, |(from, to)| to - from)
    };
    Some(PassFact {
        opening_small_end: opening(0.0),
        opening_butt: opening(body.log().length().inches_f64()),
        widest,
        above: top - plane.offset,
    })
}

/// Rebuilds one piece from its body's planes and holds its claim against it.
fn rebuild(
    body: &Body<'_>,
    piece: usize,
    claim: &Claim,
    setting: Setting,
) -> Result<Rebuilt, ReplayFault> {
    let (sin, cos) = claim.turn.sin_cos();
    let (h_axis, u_axis) = ([sin, cos], [cos, -sin]);
    let side = |axis: [f64; 2], sign: f64| {
        body.plane_facing([sign * axis[0], sign * axis[1], 0.0])
            .map(|plane| sign * plane.offset)
            .ok_or(ReplayFault::Unsawn { piece })
    };
    let mut u = (side(u_axis, -1.0)?, side(u_axis, 1.0)?);
    let mut h = (side(h_axis, -1.0)?, side(h_axis, 1.0)?);
    let claimed = |span: Span| (span.from.inches_f64(), span.to.inches_f64());
    let (cu, ch) = (claimed(claim.u), claimed(claim.h));
    for (axis, found, claimed) in [("across", &mut u, cu), ("upward", &mut h, ch)] {
        match setting {
            Setting::Exact => {
                for (found, claimed) in [(found.0, claimed.0), (found.1, claimed.1)] {
                    if (found - claimed).abs() > MICROMETRE {
                        return Err(ReplayFault::Size { piece, axis, claimed, found });
                    }
                }
            }
            Setting::Printed { tolerance } => {
                let slack = tolerance.inches_f64() + MICROMETRE;
                let (size, wanted) = (found.1 - found.0, claimed.1 - claimed.0);
                if (size - wanted).abs() > slack {
                    return Err(ReplayFault::Size { piece, axis, claimed: wanted, found: size });
                }
                // What of the claimed box is still there; its soundness is looked at below.
                *found = (found.0.max(claimed.0), found.1.min(claimed.1));
                if found.1 - found.0 < wanted - 2.0 * slack {
                    return Err(ReplayFault::Size {
                        piece,
                        axis,
                        claimed: wanted,
                        found: found.1 - found.0,
                    });
                }
            }
        }
    }
    let wane = soundness(body, claim, u, h).map_err(|z| ReplayFault::Unsound { piece, z })?;
    Ok(Rebuilt { u, h, wane })
}

/// The largest legs of missing wood over the corners of the box, along `u` and along `h`; the station
/// of the first corner that misses more than the claim allows, else.
///
/// The box less its corners is sound when on each of its four sides the wood reaches from one leg to
/// the other: the wood is convex, so it then holds everything between.
fn soundness(
    body: &Body<'_>,
    claim: &Claim,
    u: (f64, f64),
    h: (f64, f64),
) -> Result<(f64, f64), f64> {
    let (sin, cos) = claim.turn.sin_cos();
    let (h_axis, u_axis) = ([sin, cos], [cos, -sin]);
    let wood = Body::whole(body.log());
    let (leg_u, leg_h) =
        (claim.wane_u.inches_f64() + MICROMETRE, claim.wane_h.inches_f64() + MICROMETRE);
    let mut wane = (0.0f64, 0.0f64);
    for z in [claim.z.from.inches_f64(), claim.z.to.inches_f64()] {
        for at in [h.0, h.1] {
            let line = wood.interval(Covering::Wood, z, [h_axis[0] * at, h_axis[1] * at], u_axis);
            let (from, to) = line.ok_or(z)?;
            let missing = (from - u.0).max(u.1 - to).max(0.0);
            if missing > leg_u {
                return Err(z);
            }
            wane.0 = wane.0.max(missing);
        }
        for at in [u.0, u.1] {
            let line = wood.interval(Covering::Wood, z, [u_axis[0] * at, u_axis[1] * at], h_axis);
            let (from, to) = line.ok_or(z)?;
            let missing = (from - h.0).max(h.1 - to).max(0.0);
            if missing > leg_h {
                return Err(z);
            }
            wane.1 = wane.1.max(missing);
        }
    }
    Ok(wane)
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
        for edging in &batch {
            let body = find(parts, edging.part).ok_or(ReplayFault::NoPart(edging.part))?;
            if let Some(stage) = edging.stages.first() {
                // Standing on edge, a flitch's thickness lies across the bed.
                let (sin, cos) = stage.rest.turn.sin_cos();
                let reach = |sign: f64| {
                    body.reach(Covering::Bark, [sign * cos, -sign * sin], 0.0).unwrap_or(0.0)
                };
                width += reach(1.0) + reach(-1.0);
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

fn aligned(a: [f64; 3], b: [f64; 3]) -> bool {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2] > 1.0 - 1e-12
}
