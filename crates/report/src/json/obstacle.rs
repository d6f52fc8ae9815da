//! What keeps something from being sawn, as it stands in the file.

use super::sawing::method;
use crate::obstacle;
use crate::schema::obstacle::{ObstacleForm, ObstacleKindForm};
use pithward_geometry::ReplayFault;
use pithward_job::LogJob;
use pithward_measure::Length;
use pithward_optimizer::{Obstacle, WhyNone};

/// One obstacle.
pub(super) fn form(job: &LogJob, obstacle: &Obstacle) -> ObstacleForm {
    use ObstacleKindForm as Kind;
    let (kind, rules_out, want, figures) = match obstacle {
        Obstacle::TooThick { butt, limit, .. } => {
            (Kind::LogTooThick, None, None, Some((*butt, *limit)))
        }
        Obstacle::TooLong { length, limit } => {
            (Kind::LogTooLong, None, None, Some((*length, *limit)))
        }
        Obstacle::TooShort { length, limit } => {
            (Kind::LogTooShort, None, None, Some((*length, *limit)))
        }
        Obstacle::Guides { method, width, limit } => {
            (Kind::Guides, Some(*method), None, Some((*width, *limit)))
        }
        Obstacle::NoPiece { want, why } => {
            let (kind, figures) = match why {
                WhyNone::TooShort { takes } => {
                    (Kind::WantTooLong, Some((*takes, job.log.length())))
                }
                WhyNone::TooThin { diameter, has } => (Kind::WantTooThick, Some((*diameter, *has))),
                WhyNone::Outbid => (Kind::WantOutbid, None),
            };
            (kind, None, Some(want.0), figures)
        }
        Obstacle::NoWant => (Kind::NoWant, None, None, None),
        Obstacle::Unsawable { method, fault } => {
            (Kind::Unsawable, Some(*method), None, limits(fault))
        }
    };
    ObstacleForm {
        kind,
        method: rules_out.map(method),
        want,
        got: figures.map(|(got, _)| got.as_nm()),
        limit: figures.map(|(_, limit)| limit.as_nm()),
        says: obstacle::sentence(job, obstacle),
    }
}

/// What a pass met and what the mill allows, where the fault is one of the mill's limits.
fn limits(fault: &ReplayFault) -> Option<(Length, Length)> {
    let inches = Length::from_inches_f64;
    match fault {
        ReplayFault::TooLow { height, lowest, .. } => Some((*height, *lowest)),
        ReplayFault::TooWide { widest, limit, .. } => Some((inches(*widest), inches(*limit))),
        ReplayFault::TooDeep { above, limit, .. } => Some((inches(*above), inches(*limit))),
        _ => None,
    }
}
