//! Why a defect cannot be in a log.

use super::Defect;
use crate::{Angle, Log};
use pithward_measure::Length;
use thiserror::Error;

/// Why a defect cannot be in a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum DefectFault {
    /// It lies beyond an end of the log.
    #[error("the {name} must lie within the log's {:.4} ft, got {:.4} ft from the small end", .length.feet_f64(), .at.feet_f64())]
    Station {
        /// Its word.
        name: &'static str,
        /// Where it is said to be.
        at: Length,
        /// The log's length.
        length: Length,
    },
    /// It ends where it begins, or before.
    #[error("the {name} must end beyond where it begins, got {:.4} ft to {:.4} ft from the small end", .from.feet_f64(), .to.feet_f64())]
    Stretch {
        /// Its word.
        name: &'static str,
        /// Where it begins.
        from: Length,
        /// Where it ends.
        to: Length,
    },
    /// It has no size.
    #[error("the {name} must be more than 0 in across, got {:.4} in", .got.inches_f64())]
    Across {
        /// Its word.
        name: &'static str,
        /// What was given.
        got: Length,
    },
    /// It is deeper than the wood, or not deep at all.
    #[error("the {name} must be more than 0 in and at most {:.4} in deep, got {:.4} in", .reach.inches_f64(), .got.inches_f64())]
    Depth {
        /// Its word.
        name: &'static str,
        /// What was given.
        got: Length,
        /// From the pith to the surface of the wood, where it is thickest.
        reach: Length,
    },
    /// Clear wood that is negative, or as thick as the log's radius.
    #[error("the clear wood over the {name} must be 0 in or more and under {:.4} in, got {:.4} in", .reach.inches_f64(), .got.inches_f64())]
    Clear {
        /// Its word.
        name: &'static str,
        /// What was given.
        got: Length,
        /// From the pith to the surface of the wood there.
        reach: Length,
    },
    /// A scar that goes half round or more.
    #[error("the {name} must be between 0 and 180 degrees wide as seen from the pith, got {:.1}", .width.degrees_f64())]
    Width {
        /// Its word.
        name: &'static str,
        /// How wide.
        width: Angle,
    },
}

impl Defect {
    /// Its word.
    pub fn name(&self) -> &'static str {
        match self {
            Self::Knot { clear, .. } if *clear > Length::ZERO => "overgrown knot",
            Self::Knot { .. } => "knot",
            Self::Seam { .. } => "seam",
            Self::Scar { .. } => "scar",
            Self::Hole { .. } => "hole",
            Self::Core { .. } => "knotty core",
        }
    }

    /// Everything because of which it cannot be in this log; nothing where it can.
    pub fn faults(&self, log: &Log) -> Vec<DefectFault> {
        let (name, length) = (self.name(), log.length());
        let mut faults = Vec::new();
        let is_on = |at: Length| (Length::ZERO..=length).contains(&at);
        let stations: &[Length] = match self {
            Self::Knot { at, .. } | Self::Hole { at, .. } => &[*at],
            Self::Seam { from, to, .. }
            | Self::Scar { from, to, .. }
            | Self::Core { from, to, .. } => {
                if from >= to {
                    faults.push(DefectFault::Stretch { name, from: *from, to: *to });
                }
                &[*from, *to]
            }
        };
        let off = stations.iter().copied().filter(|at| !is_on(*at));
        faults.extend(off.map(|at| DefectFault::Station { name, at, length }));
        // The wood at the first station, or the end that is nearest to it; a depth is held against all of them.
        let reach = |clock| log.wood_toward(stations[0], clock);
        let furthest = |clock| {
            let all = stations.iter().map(|at| log.wood_toward(*at, clock));
            all.fold(Length::ZERO, Length::max)
        };
        let is_under = |got: Length, reach: Length| Length::ZERO <= got && got < reach;
        let depth = |got: Length, clock: Angle| {
            let reach = furthest(clock);
            let is_deep = Length::ZERO < got && got <= reach;
            (!is_deep).then_some(DefectFault::Depth { name, got, reach })
        };
        let across =
            |got: Length| (got <= Length::ZERO).then_some(DefectFault::Across { name, got });
        match *self {
            Self::Knot { clock, across: wide, clear, .. } => {
                faults.extend(across(wide));
                let reach = reach(clock);
                if !is_under(clear, reach) {
                    faults.push(DefectFault::Clear { name, got: clear, reach });
                }
            }
            Self::Seam { clock, depth: deep, .. } => faults.extend(depth(deep, clock)),
            Self::Scar { clock, width, depth: deep, .. } => {
                if !(1..180_000).contains(&width.as_millidegrees()) {
                    faults.push(DefectFault::Width { name, width });
                }
                faults.extend(depth(deep, clock));
            }
            Self::Hole { clock, across: wide, depth: deep, .. } => {
                faults.extend(across(wide));
                faults.extend(depth(deep, clock));
            }
            Self::Core { clear, .. } => {
                for (quarter, got) in (0..4).zip(clear) {
                    let reach = reach(Angle::degrees(90 * quarter));
                    if !is_under(got, reach) {
                        faults.push(DefectFault::Clear { name, got, reach });
                    }
                }
            }
        }
        faults
    }
}
