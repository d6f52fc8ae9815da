//! What stretches of a log have in common, found once for all the ways in which the log is turned.

use super::common::common;
use super::hazards::hull;
use crate::log::section::centroid;
use crate::log::{Log, Section};
use pithward_measure::Length;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// What the sections of stretches of a log have in common along its own axis, in the log frame, inches; `None` for one
/// of which that cannot be said in closed form. Whatever way the log is turned, it is the same.
#[derive(Debug, Default)]
pub(super) struct Cores {
    known: Mutex<Vec<(Stretch, Option<Core>)>>,
    /// Not less than that, whatever the outlines.
    about: Mutex<Vec<(Stretch, Core)>>,
    /// What holds the wood of all sections, and their bark.
    hulls: OnceLock<[Vec<[f64; 2]>; 2]>,
    /// The middle of what the whole length has in common.
    centre: OnceLock<[f64; 2]>,
}

/// Two stations.
pub(super) type Stretch = (Length, Length);

/// An outline, counterclockwise.
pub(super) type Core = Arc<Vec<[f64; 2]>>;

impl Cores {
    /// The hulls of all sections' wood and of their bark.
    pub(super) fn hulls(&self, log: &Log) -> &[Vec<[f64; 2]>; 2] {
        self.hulls.get_or_init(|| {
            let all = |covering: fn(&Section) -> &Vec<[f64; 2]>| {
                let sections = log.sections().unwrap_or_default().iter();
                hull(sections.flat_map(covering).copied().collect())
            };
            [all(|section| &section.wood), all(|section| &section.bark)]
        })
    }

    /// The middle of what the whole length has in common.
    pub(super) fn centre(&self, log: &Log) -> [f64; 2] {
        *self.centre.get_or_init(|| centroid(&self.about(log, (Length::ZERO, log.length()))))
    }

    /// What the sections of a stretch have in common, where that is known as one outline.
    pub(super) fn of(&self, log: &Log, stretch: Stretch) -> Option<Core> {
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, core)) = known.iter().find(|(other, _)| *other == stretch) {
            return core.clone();
        }
        let (from, to) = (stretch.0.inches_f64(), stretch.1.inches_f64());
        let ends = [from, to].map(|z| log.section_at(z));
        let inside = log.sections().unwrap_or_default().iter();
        let inside = inside.filter(|section| section.z > from && section.z < to);
        let outlines: Vec<&[[f64; 2]]> =
            ends.iter().chain(inside).map(|section| &section.wood[..]).collect();
        let core = common(&outlines).map(Arc::new);
        known.push((stretch, core.clone()));
        core
    }

    /// An outline that holds what the sections of a stretch have in common.
    pub(super) fn about(&self, log: &Log, stretch: Stretch) -> Core {
        if let Some(core) = self.of(log, stretch) {
            return core;
        }
        let mut known = self.about.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, core)) = known.iter().find(|(other, _)| *other == stretch) {
            return Arc::clone(core);
        }
        let (from, to) = (stretch.0.inches_f64(), stretch.1.inches_f64());
        let inside = log.sections().unwrap_or_default().iter().map(|section| section.z);
        let inside = inside.filter(|z| *z > from && *z < to);
        let stations = [from, to, f64::midpoint(from, to)].into_iter().chain(inside);
        let hulls: Vec<Vec<[f64; 2]>> = stations.map(|z| hull(log.section_at(z).wood)).collect();
        let common = common(&hulls.iter().map(Vec::as_slice).collect::<Vec<_>>());
        // What all sections have in common lies in each of them.
        let core = Arc::new(common.unwrap_or_else(|| hulls[2].clone()));
        known.push((stretch, Arc::clone(&core)));
        core
    }
}
