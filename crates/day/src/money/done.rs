//! What was done, or is planned to be done, in the quantities that are billed.

use pithward_geometry::Log;
use pithward_job::{LumberWork, PileJob, RoundWay};
use pithward_measure::{Length, Size, Width};
use pithward_optimizer::{LogFate, LogPlan, Method, PilePlan, Want};
use pithward_trade::RingClass;

use super::lumber::{Boards, Lumber};
use crate::hours::{Hours, PlannedHours};

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
    /// What the sawyer does with the lumber.
    pub lumber_work: LumberWork,
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
    /// What it is called; may be empty of one that was simulated.
    pub id: String,
    /// Its diameter at the small end, inside the bark.
    pub small_end: Length,
    /// Its length that counts, without trim.
    pub length: Length,
    /// What came out of it.
    pub lumber: Vec<Lumber>,
}

impl DoneLog {
    /// The same where fewer millionths of a board foot come of it, by named sizes: all its lumber in the same share.
    #[must_use]
    pub fn less(&self, board_feet: i64) -> Self {
        let all = self.lumber.iter().fold(0_i64, |sum, lumber| sum.saturating_add(lumber.named));
        if board_feet >= all || all <= 0 {
            return self.clone();
        }
        let share = |amount: i64| {
            let left = i128::from(amount) * i128::from(board_feet.max(0));
            i64::try_from(left / i128::from(all)).unwrap_or(amount)
        };
        // Boards are whole: what one size is short of them goes on to the next, so that their number is right to the nearest.
        let (mut before, mut given) = (0_i64, 0_i64);
        let mut whole = |count: u32| {
            before += i64::from(count);
            let twice = 2 * i128::from(before) * i128::from(board_feet.max(0)) + i128::from(all);
            let so_far = i64::try_from(twice / (2 * i128::from(all))).unwrap_or(before);
            let own = so_far - given;
            given = so_far;
            u32::try_from(own).unwrap_or(0).min(count)
        };
        let less = |lumber: &Lumber| Lumber {
            named: share(lumber.named),
            sawn: share(lumber.sawn),
            boards: lumber.boards.map(|boards| Boards {
                count: whole(boards.count),
                worth: boards.worth.map(share),
                ..boards
            }),
            ..*lumber
        };
        Self { lumber: self.lumber.iter().map(less).collect(), ..self.clone() }
    }
}

impl Done {
    /// As the yard says what becomes of the lumber.
    #[must_use]
    pub(crate) fn in_yard(self, job: &PileJob) -> Self {
        Self { lumber_work: job.yard.lumber_work(&job.pace), ..self }
    }

    /// What a plan of a job does in its hours; no blade is planned to meet metal.
    pub fn planned(job: &PileJob, plan: &PilePlan, hours: &PlannedHours) -> Self {
        let pile = job.pile();
        let logs = hours.order.iter().zip(&hours.logs).filter_map(|(log, of)| {
            let (Some(LogFate::Sawn(sawn)), Some(told)) = (plan.logs.get(*log), job.logs.get(*log))
            else {
                return None;
            };
            let menu = pile.menus.get(pile.logs.get(*log)?.menu)?;
            let SawnLog { log, odd } = SawnLog::of(job, &told.log, sawn, menu);
            let log = DoneLog { id: told.id.clone(), ..log };
            Some(LogDone { log, odd: of.minutes * odd, moving: job.yard.moving(&job.pace) })
        });
        Self::of(job, &hours.hours, logs)
    }

    /// What is done in some hours, and every log that is sawn in them. What brings logs to the mill is in the hours, and no part
    /// of the hours of sawing that are billed.
    pub fn of(job: &PileJob, hours: &Hours, logs: impl IntoIterator<Item = LogDone>) -> Self {
        let days = i64::try_from(hours.days.len()).unwrap_or(i64::MAX);
        let mut done = Self {
            at_the_saw: seconds(hours.at_the_saw()),
            on_site: seconds(hours.on_site()),
            drive: job.yard.drive.unwrap_or_default() * days,
            relocations: job.yard.moves,
            blades: hours.struck,
            ..Self::default().in_yard(job)
        };
        let (mut odd, mut moving) = (0.0, 0.0);
        for of in logs {
            odd += of.odd;
            moving += of.moving;
            done.logs.push(of.log);
        }
        done.moving = seconds(moving).min(done.at_the_saw);
        done.at_the_saw -= done.moving;
        done.on_site -= done.moving;
        done.odd = seconds(odd).min(done.at_the_saw);
        done
    }

    /// Millionths of a board foot, by named sizes.
    pub fn board_feet(&self) -> i64 {
        self.all_lumber().fold(0_i64, |sum, lumber| sum.saturating_add(lumber.named))
    }

    /// All lumber, that of logs first.
    pub fn all_lumber(&self) -> impl Iterator<Item = &Lumber> {
        self.logs.iter().flat_map(|log| &log.lumber).chain(&self.lumber)
    }
}

/// A log that is sawn in some hours.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LogDone {
    /// As it is billed.
    pub log: DoneLog,
    /// Minutes of it that are odd work.
    pub odd: f64,
    /// Minutes of it that bring it to the mill.
    pub moving: f64,
}

/// A log as a plan saws it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SawnLog {
    /// As it is billed.
    pub log: DoneLog,
    /// Which share of its lumber, by board feet, is odd work.
    pub odd: f64,
}

impl SawnLog {
    /// A log of a job, and a plan of it from a menu of its pile.
    pub fn of(job: &PileJob, log: &Log, plan: &LogPlan, menu: &[Want]) -> Self {
        let (lumber, odd) = lumber(job, plan, menu);
        let length = log.length() - job.trim;
        let id = String::new();
        Self { log: DoneLog { id, small_end: log.small_end(), length, lumber }, odd }
    }
}

/// The lumber of one plan by size, and which share of it, by board feet, is odd work.
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
        let width = Width::Exactly(want.named_width(cut.length, cut.board_feet));
        let named = Size { width, length: Some(cut.length), ..want.size };
        let piece = Lumber::pieces(1, named, [cut.thickness, cut.width]);
        piece.for_want(job, Some(want)).add_to(&mut all);
    }
    #[allow(clippy::cast_precision_loss, reason = "far below 2^53 millionths of a board foot")]
    let share = if sum > 0 { odd as f64 / sum as f64 } else { 0.0 };
    (all, share)
}

/// Whole seconds of some minutes, to the nearest.
pub(crate) fn seconds(minutes: f64) -> i64 {
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
