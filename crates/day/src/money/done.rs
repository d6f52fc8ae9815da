//! What was done, or is planned to be done, in the quantities that are billed.

use pithward_job::{PileJob, RoundWay};
use pithward_measure::{Length, board_feet_micro};
use pithward_optimizer::{LogFate, LogPlan, Method, PilePlan, Want};
use pithward_trade::RingClass;

use crate::hours::PlannedHours;

/// What was done, or is planned to be done.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Done {
    /// Work at the logs and changes of blades, seconds.
    pub at_the_saw: i64,
    /// The same with setting up and packing up, without breaks, seconds.
    pub on_site: i64,
    /// Of the work at the logs, what was odd, seconds.
    pub odd: i64,
    /// Moving and cleaning logs that were not ready, seconds; no part of the others.
    pub moving: i64,
    /// The logs that were sawn.
    pub logs: Vec<DoneLog>,
    /// Lumber of which nobody knows the log.
    pub lumber: Vec<Lumber>,
    /// The way there and back, of all days.
    pub drive: Length,
    /// Times that the mill was moved on site.
    pub relocations: u32,
    /// Blades that met metal and were set and sharpened again.
    pub strikes: u32,
    /// Blades that metal ruined.
    pub blades: u32,
}

/// A log that was sawn.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DoneLog {
    /// Its diameter at the small end, inside the bark.
    pub small_end: Length,
    /// Its length that counts, without trim.
    pub length: Length,
    /// What came out of it.
    pub lumber: Vec<Lumber>,
}

/// Some lumber of one thickness.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Lumber {
    /// The thickness that it is named by.
    pub thickness: Length,
    /// The thickness that it was sawn to.
    pub sawn_thickness: Length,
    /// Millionths of a board foot, by named sizes.
    pub named: i64,
    /// The same by the sizes that it was sawn to.
    pub sawn: i64,
}

impl Lumber {
    /// Pieces of one size: as it is named, and as it is sawn, each thickness, width and length.
    pub fn pieces(count: u32, named: [Length; 3], sawn: [Length; 3]) -> Self {
        let feet = |[thickness, width, length]: [Length; 3]| {
            board_feet_micro(thickness, width, length).saturating_mul(i64::from(count))
        };
        Self { thickness: named[0], sawn_thickness: sawn[0], named: feet(named), sawn: feet(sawn) }
    }
}

impl Done {
    /// What a plan of a job does in its hours. `days` is how often the way is driven; no blade is planned to meet metal.
    pub fn planned(job: &PileJob, plan: &PilePlan, hours: &PlannedHours, days: u32) -> Self {
        let pile = job.pile();
        let mut done = Self {
            at_the_saw: seconds(hours.hours.at_the_saw()),
            on_site: seconds(hours.hours.on_site()),
            drive: job.yard.drive.unwrap_or_default() * i64::from(days),
            relocations: job.yard.moves,
            ..Self::default()
        };
        let mut odd = 0.0;
        for (log, of) in hours.order.iter().zip(&hours.logs) {
            let fates = (plan.logs.get(*log), job.logs.get(*log), pile.logs.get(*log));
            let (Some(LogFate::Sawn(sawn)), Some(told), Some(place)) = fates else { continue };
            let Some(menu) = pile.menus.get(place.menu) else { continue };
            let (lumber, share) = lumber(job, sawn, menu);
            odd += of.minutes * share;
            done.logs.push(DoneLog {
                small_end: told.log.small_end(),
                length: told.log.length() - job.trim,
                lumber,
            });
        }
        done.odd = seconds(odd).min(done.at_the_saw);
        done
    }

    /// Millionths of a board foot, by named sizes.
    pub fn board_feet(&self) -> i64 {
        let all = self.logs.iter().flat_map(|log| &log.lumber).chain(&self.lumber);
        all.fold(0_i64, |sum, lumber| sum.saturating_add(lumber.named))
    }
}

/// The lumber of one plan by thickness, and which share of it, by board feet, is odd work.
fn lumber(job: &PileJob, plan: &LogPlan, menu: &[Want]) -> (Vec<Lumber>, f64) {
    let mut all: Vec<Lumber> = Vec::new();
    let (mut odd, mut sum) = (0_i64, 0_i64);
    for product in &plan.products {
        let n = product.cut.want.0;
        let cut = menu.get(n).and_then(|want| want.cuts.get(product.cut.cut));
        let (Some(cut), Some(want)) = (cut, job.wants.get(n)) else { continue };
        let thickness = want.size.thickness;
        let quarter = plan.method == Method::Quarter || want.grade.rings == [RingClass::Quarter];
        sum += cut.board_feet;
        if job.charges.odd.is(thickness, want.size.width.least(), quarter) {
            odd += cut.board_feet;
        }
        let sawn = board_feet_micro(cut.thickness, cut.width, cut.length);
        let known = all
            .iter_mut()
            .find(|known| known.thickness == thickness && known.sawn_thickness == cut.thickness);
        match known {
            Some(known) => {
                known.named += cut.board_feet;
                known.sawn += sawn;
            }
            None => all.push(Lumber {
                thickness,
                sawn_thickness: cut.thickness,
                named: cut.board_feet,
                sawn,
            }),
        }
    }
    #[allow(clippy::cast_precision_loss, reason = "far below 2^53 millionths of a board foot")]
    let share = if sum > 0 { odd as f64 / sum as f64 } else { 0.0 };
    (all, share)
}

/// Whole seconds of some minutes, to the nearest.
pub(super) fn seconds(minutes: f64) -> i64 {
    let seconds = (minutes * 60.0).round();
    if !(0.0..1e12).contains(&seconds) {
        return 0;
    }
    #[allow(clippy::cast_possible_truncation, reason = "held against its limits just above")]
    let seconds = seconds as i64;
    seconds
}

/// So many seconds rounded to whole numbers of a step.
pub(super) fn rounded(seconds: i64, step: i64, way: RoundWay) -> i64 {
    let step = step.max(1);
    let down = seconds.div_euclid(step) * step;
    let over = seconds - down;
    let up = match way {
        RoundWay::Nearest => 2 * over >= step,
        RoundWay::Up => over > 0,
        RoundWay::Down => false,
    };
    if up { down.saturating_add(step) } else { down }
}
