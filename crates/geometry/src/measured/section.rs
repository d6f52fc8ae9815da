//! From a scan in its pose, or from outlines, to the sections of a log.

use super::fault::{ShapeFault, WhichEnd};
use super::pose::{Placed, Posed, Scan, pose};
use super::ring::{MOST_GAP, NoRing, Ring, STEP, points};
use super::{Measured, PithAt, Repair, SPACING, ShapeRequest, Surface, unit};
use crate::Log;
use crate::log::Section;
use crate::trig::norm;
use pithward_measure::Length;

/// The widest that an outline may be by its narrowest.
const FLATTEST: f64 = 3.0;

/// Less of an end is not worth a word, inches.
const TRIM_WORTH_A_WORD: f64 = 0.25;

/// Less of a section is not worth a word: beyond what straight lines between the rays leave out.
const LOST_WORTH_A_WORD: f64 = 0.01;

/// Narrower gaps are those between a scanner's points, degrees.
const GAP_WORTH_A_WORD: f64 = 10.0;

/// A section as it was measured, in inches.
#[derive(Clone, Debug)]
pub(super) struct Slice {
    pub(super) z: f64,
    /// The surface that was measured.
    pub(super) ring: Ring,
    /// The wood within it, where that was measured too.
    pub(super) wood: Option<Vec<f64>>,
}

/// Whether a log may be of this length and mean diameter, inches.
pub(super) fn possible(length: f64, across: f64) -> bool {
    let long = Log::LEAST_LENGTH.inches_f64()..=Log::GREATEST_LENGTH.inches_f64();
    let through = Log::LEAST_DIAMETER.inches_f64()..=Log::GREATEST_DIAMETER.inches_f64();
    long.contains(&length) && through.contains(&across)
}

/// The log of a clean scan.
pub(super) fn of_scan<S: Scan>(
    scan: S,
    request: &ShapeRequest,
    mut told: Vec<Repair>,
) -> Result<Measured, ShapeFault> {
    let mut posed = pose(&scan, request, &mut told)?;
    let inches = unit::scale(request.unit, posed.length(), posed.across(), &mut told)?;
    let pith = [request.pith_small, request.pith_butt];
    if pith != [None; 2] {
        let off = pith.map(|pith| offset(pith).map(|c| c / inches));
        for _ in 0..2 {
            posed = posed.through(&scan, off)?;
        }
    }
    scan.holes(&posed.pose, posed.length(), &mut told)?;
    trimmed(&posed, inches, &mut told);
    let slices = slices(&posed, inches)?;
    finish(slices, request, told)
}

/// What was left out at the ends.
fn trimmed<P: Placed>(posed: &Posed<P>, inches: f64, told: &mut Vec<Repair>) {
    let by = [posed.ends[0] - posed.extent[0], posed.extent[1] - posed.ends[1]];
    for (end, by) in [WhichEnd::Small, WhichEnd::Butt].into_iter().zip(by.map(|by| by * inches)) {
        if by > TRIM_WORTH_A_WORD {
            told.push(Repair::Trimmed { end, by });
        }
    }
}

/// The sections of a scan, no farther apart than [`SPACING`].
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a log of at most 100 ft has some 480 sections; `as` saturates"
)]
fn slices<P: Placed>(posed: &Posed<P>, inches: f64) -> Result<Vec<Slice>, ShapeFault> {
    let length = posed.length();
    let count = (length * inches / SPACING).ceil().max(1.0) as u32;
    let half = SPACING / inches / 2.0;
    let slice = |n: u32| {
        let share = f64::from(n) / f64::from(count);
        let (along, z) = (share * length, share * length * inches);
        let found = match n {
            0 => Ok(posed.rings[0].clone()),
            n if n == count => Ok(posed.rings[1].clone()),
            _ => posed.placed.ring(posed.ends[0] + along, half),
        };
        let ring = found.map_err(|none| match none {
            NoRing::Nothing => ShapeFault::NoSection { station: z },
            NoRing::Trough => ShapeFault::Trough { along: share },
        })?;
        if !ring.is_seen() {
            let [_, from, to] = ring.gap_clock();
            let width = ring.gap.rays as f64 * STEP;
            return Err(ShapeFault::Gap { station: z, from, to, width, most: MOST_GAP });
        }
        Ok(Slice { z, ring: ring.scaled(inches), wood: None })
    };
    (0..=count).map(slice).collect()
}

/// The log of sections from the small end to the butt, each about its own centre.
pub(super) fn finish(
    slices: Vec<Slice>,
    request: &ShapeRequest,
    mut told: Vec<Repair>,
) -> Result<Measured, ShapeFault> {
    words(&slices, &mut told);
    let (first, last) = match &slices[..] {
        [first, .., last] => (first, last),
        _ => return Err(ShapeFault::Sections { what: "there are fewer than two" }),
    };
    let length = last.z - first.z;
    let share = |z: f64| (z - first.z) / length;
    let between = |ends: [[f64; 2]; 2], z: f64| {
        let share = share(z);
        [0, 1].map(|k| ends[0][k] + share * (ends[1][k] - ends[0][k]))
    };
    let off = [request.pith_small, request.pith_butt].map(offset);
    let pith_of = |slice: &Slice| {
        let off = between(off, slice.z);
        [slice.ring.centre[0] + off[0], slice.ring.centre[1] + off[1]]
    };
    let middles = [first.ring.centre, last.ring.centre];
    let piths = [pith_of(first), pith_of(last)];
    let mut sections = Vec::with_capacity(slices.len());
    for slice in &slices {
        let (ring, station) = (&slice.ring, slice.z - first.z);
        if ring.flatness() > FLATTEST {
            return Err(ShapeFault::Flat { station, ratio: ring.flatness(), most: FLATTEST });
        }
        let (middle, across) = (between(middles, slice.z), ring.across());
        let depth = norm(ring.centre[0] - middle[0], ring.centre[1] - middle[1]);
        if depth > across {
            return Err(ShapeFault::Sweep { station, depth, across });
        }
        let wood = match &slice.wood {
            Some(wood) => wood.clone(),
            None => {
                let bark = thickness(request.surface, share(slice.z), across);
                let within = if bark > 0.0 { ring.within(bark) } else { Some(ring.radius.clone()) };
                let wood = within.filter(|wood| wood.iter().all(|r| *r > 0.0));
                wood.ok_or(ShapeFault::Bark { station, bark, across })?
            }
        };
        let axis = between(piths, slice.z);
        let moved = |point: [f64; 2]| [point[0] - axis[0], point[1] - axis[1]];
        sections.push(Section {
            z: station,
            wood: points(moved(ring.centre), &wood),
            bark: points(moved(ring.centre), &ring.radius),
            pith: moved(pith_of(slice)),
        });
    }
    Ok(Measured { log: Log::measured(sections)?, told })
}

/// What is to be said of the sections themselves.
fn words(slices: &[Slice], told: &mut Vec<Repair>) {
    let wide = |slice: &&Slice| slice.ring.gap.rays as f64 * STEP > GAP_WORTH_A_WORD;
    let sections = slices.iter().filter(wide).count();
    if let Some(widest) = slices.iter().filter(wide).max_by_key(|slice| slice.ring.gap.rays) {
        let [clock, ..] = widest.ring.gap_clock();
        let width = widest.ring.gap.rays as f64 * STEP;
        told.push(Repair::Filled { sections, widest: width, station: widest.z, clock });
    }
    let lost = slices.iter().max_by(|a, b| a.ring.lost.total_cmp(&b.ring.lost));
    if let Some(slice) = lost.filter(|slice| slice.ring.lost > LOST_WORTH_A_WORD) {
        told.push(Repair::Overhang { share: slice.ring.lost, station: slice.z });
    }
}

/// Where the pith is from the middle, inches.
fn offset(pith: Option<PithAt>) -> [f64; 2] {
    pith.map_or([0.0; 2], |PithAt { off, clock }| {
        let ((sin, cos), off) = (clock.sin_cos(), off.inches_f64());
        [off * sin, off * cos]
    })
}

/// How thick the bark is where the scan is so much across, at a share of the length, inches.
fn thickness(surface: Surface, share: f64, across: f64) -> f64 {
    let inches = |length: Length| length.inches_f64();
    match surface {
        Surface::Wood => 0.0,
        Surface::Bark { small, butt } => inches(small) + share * (inches(butt) - inches(small)),
        Surface::BarkShare { inside_over_outside } => across * (1.0 - inside_over_outside) / 2.0,
    }
}
