//! What is to go where nothing was promised, so that nobody has planned the logs that are left: a guess from those that are
//! done.
//!
//! As long as the logs that are done took, one by one, and as long as they took by the wood in them. What is right lies mostly
//! between: a small log takes less time than a large one, but more for what is in it. It is told as from one to the other.

use pithward_job::PileJob;
use pithward_tally::{LogState, SoFar};

use super::rest::of_seconds;

/// Fewer logs say nothing of others.
const FEWEST: usize = 2;
/// A log on the mill takes at least so much more of what it was thought to take.
const LEAST_LEFT: f64 = 0.1;

/// Work at the logs that is still to come, minutes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unplanned {
    /// Logs that are not done, with the one on the mill.
    pub logs: usize,
    /// The less of the two guesses.
    pub least: f64,
    /// The more of them.
    pub most: f64,
}

impl Unplanned {
    /// What is to go of a job, from the logs that are done; `None` where these are too few, or none is left.
    pub fn of(job: &PileJob, so_far: &SoFar) -> Option<Self> {
        // Twice the ends' mean area by the length, but for a factor that all logs have alike.
        let wood = |place: usize| {
            let log = job.logs.get(place).map(|of| &of.log)?;
            let [small, butt] = [log.small_end(), log.butt()].map(|it| it.inches_f64());
            Some((small * small + butt * butt) * log.length().inches_f64())
        };
        let (mut done, mut took, mut of_done) = (0_usize, 0.0, 0.0);
        let (mut left, mut count, mut of_left) = (0_usize, 0.0, 0.0);
        let known = so_far.logs.iter().filter_map(|log| Some((log, wood(log.in_job?)?)));
        for (log, wood) in known.clone() {
            if log.state == LogState::Done && log.seconds > 0 {
                done += 1;
                took += of_seconds(log.seconds);
                of_done += wood;
            }
        }
        if done < FEWEST || of_done <= 0.0 {
            return None;
        }
        #[allow(clippy::cast_precision_loss, reason = "no pile has so many logs")]
        let each = took / done as f64;
        for (log, wood) in known {
            let share = match log.state {
                LogState::Done => continue,
                LogState::Waiting => 1.0,
                LogState::OnTheMill => (1.0 - of_seconds(log.seconds) / each).max(LEAST_LEFT),
            };
            left += 1;
            count += share;
            of_left += share * wood;
        }
        let (by_count, by_wood) = (count * each, of_left / of_done * took);
        let (least, most) = (by_count.min(by_wood), by_count.max(by_wood));
        (left > 0).then_some(Self { logs: left, least, most })
    }
}
