//! A piece rebuilt from the planes that were sawn, and its claim held against it.

use super::heart::heart;
use super::seen::SeenWood;
use super::sound::{flaws, soundness};
use super::{MICROMETRE, Rebuilt, ReplayFault, Setting};
use crate::{Body, Claim, Frame, Span};

/// Rebuilds one piece from its body's planes and holds its claim against it.
pub(super) fn rebuild(
    body: &Body<'_>,
    (frame, seen): (&Frame, &SeenWood<'_>),
    piece: usize,
    claim: &Claim,
    setting: Setting,
) -> Result<Rebuilt, ReplayFault> {
    let log = body.log();
    let basis = frame.turned_to(claim.turn, log.length()).ok_or(ReplayFault::Square { piece })?;
    let side = |axis: [f64; 3], sign: f64| {
        body.plane_facing(axis.map(|c| sign * c))
            .map(|plane| sign * plane.offset)
            .ok_or(ReplayFault::Unsawn { piece })
    };
    let mut u = (side(basis.u, -1.0)?, side(basis.u, 1.0)?);
    let mut h = (side(basis.h, -1.0)?, side(basis.h, 1.0)?);
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
    let wane =
        soundness(seen, &basis, claim, (u, h)).map_err(|z| ReplayFault::Unsound { piece, z })?;
    flaws(log, &basis, claim, (u, h)).map_err(|(kind, z)| ReplayFault::Flaw { piece, kind, z })?;
    // Printed, a piece may lie off its place by as much as its size may be off.
    let slack = match setting {
        Setting::Exact => MICROMETRE,
        Setting::Printed { tolerance } => tolerance.inches_f64() + MICROMETRE,
    };
    heart(log, &basis, claim, (u, h), slack).map_err(|z| ReplayFault::Heart { piece, z })?;
    Ok(Rebuilt { u, h, wane })
}
