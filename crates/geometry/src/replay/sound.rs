//! Whether a piece is wood throughout, and free of the flaws that it does not tolerate.
//!
//! # Round logs
//! The wood of a section is a disk. The box less its corners is sound when on each of its four sides the wood reaches
//! from one leg to the other: the wood is convex, so it then holds everything between. Radii and places are linear
//! along the log, so its two ends say all.
//!
//! # Sections
//! The outline of any other log may be bowed in. The box less its corners is sound in a section when no edge of the
//! outline reaches into it and its middle lies within. That is looked at wherever the log has a section, at the ends
//! of the piece, and midway between.
//!
//! # Flaws
//! Each is a few convex polygons in a section; none of them may reach into the box less its corners.

use super::MICROMETRE;
use super::across::{Octagon, missing, place};
use super::seen::SeenWood;
use crate::{Basis, Body, Claim, Covering, FlawKind, Log};
use pithward_measure::Length;

/// The planes of a piece, across and upward, inches.
pub(super) type Sides = ((f64, f64), (f64, f64));

/// The stations at which a piece is looked at: its ends, the log's sections within it, and midway between two of these.
pub(super) fn stations(log: &Log, from: f64, to: f64) -> Vec<f64> {
    let inner = log.sections().unwrap_or_default().iter().map(|section| section.z);
    let inner = inner.filter(|z| from < *z && *z < to);
    let mut all = Vec::new();
    for z in std::iter::once(from).chain(inner).chain([to]) {
        if let Some(last) = all.last().copied() {
            all.push(0.5 * (last + z));
        }
        all.push(z);
    }
    all
}

/// The largest legs of missing wood over the corners of the box, along `u` and along `h`.
///
/// # Errors
/// The first station, inches, at which more is missing than the claim allows.
pub(super) fn soundness(
    seen: &SeenWood<'_>,
    basis: &Basis,
    claim: &Claim,
    sides: Sides,
) -> Result<(f64, f64), f64> {
    let log = seen.log();
    let legs = (claim.wane_u.inches_f64() + MICROMETRE, claim.wane_h.inches_f64() + MICROMETRE);
    let (from, to) = (claim.z.from.inches_f64(), claim.z.to.inches_f64());
    if log.sections().is_none() {
        return round(log, basis, (from, to), sides, legs);
    }
    let (u, h) = sides;
    let octagon = Octagon::new(u, h, legs, 0.5 * MICROMETRE);
    let may_miss = claim.wane_u > Length::ZERO || claim.wane_h > Length::ZERO;
    let mut wane = (0.0f64, 0.0f64);
    seen.each((claim.turn, basis), (from, to), |z, outline| {
        if outline.surely_holds(u, h) {
            return Ok(());
        }
        if !outline.holds(&octagon) {
            return Err(z);
        }
        if may_miss {
            let gone = missing(&outline.points, u, h, legs);
            wane = (wane.0.max(gone.0), wane.1.max(gone.1));
        }
        Ok(())
    })?;
    Ok(wane)
}

/// The same in a log whose sections are disks.
fn round(
    log: &Log,
    basis: &Basis,
    (from, to): (f64, f64),
    (u, h): Sides,
    legs: (f64, f64),
) -> Result<(f64, f64), f64> {
    let wood = Body::whole(log);
    // Missing beyond the wood on a line where `axis . p` is so much, at the ends of the span along the other axis.
    let missing = |z: f64, axis: [f64; 3], at: f64, other: [f64; 3], span: (f64, f64)| {
        let square = axis[0] * axis[0] + axis[1] * axis[1];
        let away = (at - axis[2] * z) / square;
        let long = square.sqrt();
        let origin = [axis[0] * away, axis[1] * away];
        // Along the line, the way in which the other axis grows.
        let turn = if axis[1] * other[0] - axis[0] * other[1] < 0.0 { -1.0 } else { 1.0 };
        let run = [turn * axis[1] / long, -turn * axis[0] / long];
        let (first, last) = wood.interval(Covering::Wood, z, origin, run)?;
        let grows = other[0] * run[0] + other[1] * run[1];
        let begins = other[0] * origin[0] + other[1] * origin[1] + other[2] * z;
        let (first, last) = (begins + grows * first, begins + grows * last);
        Some((first - span.0).max(span.1 - last).max(0.0))
    };
    let mut wane = (0.0f64, 0.0f64);
    for z in [from, to] {
        for at in [h.0, h.1] {
            let gone =
                missing(z, basis.h, at, basis.u, u).filter(|gone| *gone <= legs.0).ok_or(z)?;
            wane.0 = wane.0.max(gone);
        }
        for at in [u.0, u.1] {
            let gone =
                missing(z, basis.u, at, basis.h, h).filter(|gone| *gone <= legs.1).ok_or(z)?;
            wane.1 = wane.1.max(gone);
        }
    }
    Ok(wane)
}

/// Holds a piece against the flaws that it does not tolerate.
///
/// # Errors
/// The first flaw that reaches into it, and at which station, inches.
pub(super) fn flaws(
    log: &Log,
    basis: &Basis,
    claim: &Claim,
    (u, h): Sides,
) -> Result<(), (FlawKind, f64)> {
    let legs = (claim.wane_u.inches_f64(), claim.wane_h.inches_f64());
    let octagon = Octagon::new(u, h, legs, MICROMETRE);
    let (from, to) = (claim.z.from.inches_f64(), claim.z.to.inches_f64());
    for flaw in log.flaws().iter().filter(|flaw| !claim.tolerates.holds(flaw.kind)) {
        let (first, last) = (from.max(flaw.from.inches_f64()), to.min(flaw.to.inches_f64()));
        if first > last || flaw.from >= claim.z.to || flaw.to <= claim.z.from {
            continue;
        }
        for z in stations(log, first, last) {
            let regions = flaw.regions(&log.section_at(z));
            let seen = |region: &Vec<[f64; 2]>| {
                region.iter().map(|p| place(basis, *p, z)).collect::<Vec<_>>()
            };
            if regions.iter().any(|region| octagon.meets(&seen(region))) {
                return Err((flaw.kind, z));
            }
        }
    }
    Ok(())
}
