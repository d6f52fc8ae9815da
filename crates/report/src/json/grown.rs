//! What makes a log other than round, straight and sound, and the directions in which it is sawn, as they stand in the
//! file.

use super::from_inches;
use crate::grown;
use crate::schema::grown::{
    DefectForm, FlawForm, FrameForm, HeartForm, RegionForm, RestsForm, SectionForm, WorstRestForm,
};
use pithward_geometry::{Defect, Flaw, FlawKinds, Frame, Heart, Log, Region, Section};
use pithward_measure::Length;
use pithward_optimizer::Rests;

/// The sections; none of a log that is round and straight.
pub(super) fn sections(log: &Log) -> Option<Vec<SectionForm>> {
    Some(log.sections()?.iter().map(section).collect())
}

fn section(section: &Section) -> SectionForm {
    let all = |points: &[[f64; 2]]| points.iter().map(micrometres).collect();
    SectionForm {
        z: from_inches(section.z),
        pith: micrometres(&section.pith),
        wood: all(&section.wood),
        bark: all(&section.bark),
    }
}

/// A point to the nearest micrometre: far below what anybody measures, and half the text.
fn micrometres(point: &[f64; 2]) -> [i64; 2] {
    point.map(|at| (from_inches(at) + 500).div_euclid(1000))
}

/// The flaws.
pub(super) fn flaws(log: &Log) -> Vec<FlawForm> {
    log.flaws().iter().map(flaw).collect()
}

fn flaw(flaw: &Flaw) -> FlawForm {
    FlawForm {
        kind: flaw.kind.name(),
        from: flaw.from.as_nm(),
        to: flaw.to.as_nm(),
        region: match flaw.region {
            Region::Heart { radius } => RegionForm::Heart { radius: radius.as_nm() },
            Region::Ring { inner, outer } => {
                RegionForm::Ring { inner: inner.as_nm(), outer: outer.as_nm() }
            }
            Region::Radial { clock, from, to } => RegionForm::Radial {
                clock: clock.as_millidegrees(),
                from: from.as_nm(),
                to: to.as_nm(),
            },
            Region::Spot { clock, away, radius } => RegionForm::Spot {
                clock: clock.as_millidegrees(),
                away: away.as_nm(),
                radius: radius.as_nm(),
            },
            Region::Side { clock, width, depth } => RegionForm::Side {
                clock: clock.as_millidegrees(),
                width: width.as_millidegrees(),
                depth: depth.as_nm(),
            },
        },
    }
}

/// The defects.
pub(super) fn defects(log: &Log) -> Vec<DefectForm> {
    log.defects().iter().map(defect).collect()
}

fn defect(defect: &Defect) -> DefectForm {
    match *defect {
        Defect::Knot { at, clock, across, rise, clear } => DefectForm::Knot {
            at: at.as_nm(),
            clock: clock.as_millidegrees(),
            across: across.as_nm(),
            rise: rise.as_nm(),
            clear: clear.as_nm(),
        },
        Defect::Seam { from, to, clock, depth } => DefectForm::Seam {
            from: from.as_nm(),
            to: to.as_nm(),
            clock: clock.as_millidegrees(),
            depth: depth.as_nm(),
        },
        Defect::Scar { from, to, clock, width, depth } => DefectForm::Scar {
            from: from.as_nm(),
            to: to.as_nm(),
            clock: clock.as_millidegrees(),
            width: width.as_millidegrees(),
            depth: depth.as_nm(),
        },
        Defect::Hole { at, clock, across, depth } => DefectForm::Hole {
            at: at.as_nm(),
            clock: clock.as_millidegrees(),
            across: across.as_nm(),
            depth: depth.as_nm(),
        },
        Defect::Core { from, to, clear } => {
            DefectForm::Core { from: from.as_nm(), to: to.as_nm(), clear: clear.map(Length::as_nm) }
        }
    }
}

/// The directions of all planes.
pub(super) fn frame(frame: &Frame) -> FrameForm {
    FrameForm {
        turn: frame.turn.as_millidegrees(),
        drift_u: frame.drift_u.as_nm(),
        drift_h: frame.drift_h.as_nm(),
    }
}

/// The ways of laying the log that were searched.
pub(super) fn rests(rests: &Rests) -> RestsForm {
    RestsForm {
        tried: rests.tried,
        ruled_out: rests.ruled_out,
        best: rests.best,
        worst: rests.worst.map(|(worst, worth)| WorstRestForm { frame: frame(&worst), worth }),
    }
}

/// Where the pith may be.
pub(super) fn heart(heart: Heart) -> HeartForm {
    match heart {
        Heart::Any => HeartForm::Any,
        Heart::Free { clear } => HeartForm::Free { clear: clear.as_nm() },
        Heart::Boxed { within } => HeartForm::Boxed { within: within.as_nm() },
    }
}

/// Flaws that a piece may hold.
pub(super) fn tolerates(kinds: FlawKinds) -> Vec<&'static str> {
    grown::kinds(kinds)
}
