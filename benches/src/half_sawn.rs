//! Half-sawn logs with something found in them.

use crate::{eight_sizes, log, mill, want};
use pithward_geometry::{Angle, Flaw, FlawKind, Log, Region};
use pithward_measure::Length;
use pithward_optimizer::{Answer, Begun, LogPlan, Method, Settings, Want, open};

/// What is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Found {
    /// Nothing.
    Nothing,
    /// Rot from the butt, round the pith.
    Rot,
    /// A nail in the lower half.
    Nail,
    /// A ring that comes apart.
    Shake,
}

impl Found {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Nothing, Self::Rot, Self::Nail, Self::Shake];

    /// The log with it.
    #[must_use]
    pub fn in_log(self, log: &Log) -> Log {
        let (whole, inches) = (log.length(), Length::inches);
        let (kind, from, to, region) = match self {
            Self::Nothing => return log.clone(),
            Self::Rot => {
                (FlawKind::Rot, whole - inches(40), whole, Region::Heart { radius: inches(3) })
            }
            Self::Nail => {
                let region =
                    Region::Spot { clock: Angle::degrees(200), away: inches(7), radius: inches(1) };
                (FlawKind::Metal, inches(50), inches(53), region)
            }
            Self::Shake => {
                let region =
                    Region::Ring { inner: inches(5), outer: Length::sixty_fourths(5 * 64 + 16) };
                (FlawKind::Shake, Length::ZERO, whole, region)
            }
        };
        let flaw = Flaw { kind, from, to, region };
        if flaw.fault(log).is_some() { log.clone() } else { log.clone().with_flaws(vec![flaw]) }
    }
}

/// A half-sawn log.
#[derive(Clone, Debug)]
pub struct HalfSawnCase {
    /// What it is.
    pub name: String,
    /// The log.
    pub log: Log,
    /// What is wanted.
    pub wants: Vec<Want>,
    /// The plan that was followed.
    pub plan: LogPlan,
    /// How far.
    pub begun: Begun,
}

/// A log of so many inches, opened by every method, after a quarter, a half and three quarters of its passes; with and
/// without a count.
pub fn cases(inches: i64) -> Vec<HalfSawnCase> {
    let (log, mill) = (log(inches, 12), mill());
    let sizes = eight_sizes([8, 10, 12]);
    let mut counted = sizes.clone();
    counted[5] = want(2, 8, &[12], Some(6));
    let mut cases = Vec::new();
    for (name, wants) in [("as they come", sizes), ("with a count", counted)] {
        for method in Method::ALL {
            let settings = Settings { methods: vec![method], ..Settings::all(&mill) };
            let Ok(Answer::Planned(planned)) = open(&log, &mill, &wants, &settings) else {
                continue;
            };
            let order = &planned.plan.order;
            let bodies = order.resaws.iter().map(|resaw| &resaw.stages).chain([&order.stages]);
            let passes: usize = bodies.flatten().map(|stage| stage.passes.len()).sum();
            for quarter in 1..4 {
                let made = (passes * quarter / 4).max(1);
                cases.push(HalfSawnCase {
                    name: format!("{}, {made} of {passes} passes, {name}", method.name()),
                    log: log.clone(),
                    wants: wants.clone(),
                    plan: planned.plan.clone(),
                    begun: Begun::of(order, made),
                });
            }
        }
    }
    cases
}
