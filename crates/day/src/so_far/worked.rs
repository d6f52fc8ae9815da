//! What the tally says was done, in the quantities that are billed.
//!
//! Hours are those of the tally, pauses left out. A piece is billed by the size that it was told with, whether anybody wanted
//! it or not; it counts as sawn to what its named size stands for. What no tally tells is as it was agreed: the way there and
//! back on every day with work, and, where no move of the mill was told, the times that it was to be moved.

use pithward_job::{JobLog, PileJob};
use pithward_measure::{Length, Size};
use pithward_tally::{BladeEnd, LogSoFar, LogState, Piece, SoFar, WantSoFar};
use pithward_trade::{RingClass, Species, target};

use crate::kept::{Kept, KeptLog};
use crate::money::{Done, DoneLog, Lumber};

/// What was done so far.
pub fn worked(job: &PileJob, kept: Option<&Kept>, so_far: &SoFar) -> Done {
    let spent = &so_far.spent;
    let mut done = Done {
        at_the_saw: spent.sawing,
        on_site: spent.on_site(),
        moving: spent.moving_logs,
        drive: job.yard.drive.unwrap_or_default() * i64::from(so_far.days),
        relocations: match so_far.moves {
            0 if so_far.days > 0 => job.yard.moves,
            moves => moves,
        },
        strikes: so_far.blades(BladeEnd::Struck),
        blades: so_far.blades(BladeEnd::Ruined),
        ..Done::default().in_yard(job)
    };
    for log in so_far.logs.iter().filter(|log| !log.pieces.is_empty()) {
        let of = Of::log(job, kept, log);
        let lumber = lumber(job, of.species, so_far, &log.pieces);
        let id = log.id.clone();
        done.logs.push(DoneLog { id, small_end: of.small_end, length: of.length, lumber });
    }
    for log in &so_far.logs {
        let quarter = Of::log(job, kept, log).quarter;
        done.odd += odd_seconds(job, so_far, log, quarter);
    }
    done.odd = done.odd.min(done.at_the_saw);
    done.lumber = lumber(job, None, so_far, &so_far.loose);
    done
}

/// Whether the tally says that the work is over: it was stopped, and no log is on the mill or waits to be sawn as promised.
pub fn is_over(kept: Option<&Kept>, so_far: &SoFar) -> bool {
    let open = so_far.stretches.iter().any(|stretch| stretch.open)
        || so_far.pauses.iter().any(|pause| pause.open);
    let waits = |log: &LogSoFar| {
        let planned = kept.and_then(|kept| kept.logs.get(kept.log_called(&log.id)?));
        log.state != LogState::Done && planned.is_some_and(|log| log.sawn.is_some())
    };
    so_far.work.is_some() && !open && !so_far.logs.iter().any(waits)
}

/// The wood of a log, where it is known.
pub(super) fn wood(job: &PileJob, kept: Option<&Kept>, log: &LogSoFar) -> Option<&'static Species> {
    Of::log(job, kept, log).species
}

/// What of a log is billed beside its pieces.
struct Of {
    small_end: Length,
    length: Length,
    species: Option<&'static Species>,
    quarter: bool,
}

impl Of {
    fn log(job: &PileJob, kept: Option<&Kept>, log: &LogSoFar) -> Self {
        let own = job.logs.iter().find(|of| of.id == log.id);
        let promised = kept.and_then(|kept| kept.logs.get(kept.log_called(&log.id)?));
        let of_kept = |promised: &KeptLog| (promised.small_end, promised.length);
        let of_job = |own: &JobLog| (own.log.small_end(), own.log.length());
        let (small_end, length) = own.map(of_job).or(promised.map(of_kept)).unwrap_or_default();
        let named = promised.and_then(|promised| promised.species.as_deref());
        Self {
            small_end,
            length: (length - job.trim).max(Length::ZERO),
            species: own
                .map_or_else(|| named.and_then(|name| Species::find(name).ok()), |own| own.species),
            quarter: promised.and_then(|log| log.sawn.as_ref()).is_some_and(|sawn| sawn.quarter),
        }
    }
}

/// Some pieces by size; those for one want apart from those for another or for none.
fn lumber(
    job: &PileJob,
    species: Option<&Species>,
    so_far: &SoFar,
    pieces: &[Piece],
) -> Vec<Lumber> {
    let mut all: Vec<Lumber> = Vec::new();
    for Piece { what, to, .. } in pieces {
        let (size, length) = (what.size, what.length());
        let named = Size { length: Some(length), ..size };
        let sawn = match target(job.policy, &size, species) {
            Ok(target) => [target.thickness, target.width],
            Err(_) => [size.thickness, size.width.least()],
        };
        let mut left = what.count;
        for (want, count) in to {
            let count = (*count).min(left);
            left -= count;
            let want = so_far.wants.get(*want).and_then(|want| job.wants.get(want.in_job?));
            Lumber::pieces(count, named, sawn).for_want(job, want).add_to(&mut all);
        }
        Lumber::pieces(left, named, sawn).for_want(job, None).add_to(&mut all);
    }
    all.retain(|lumber| lumber.boards.is_none_or(|boards| boards.count > 0));
    all
}

/// Seconds of a log that are odd work: its share of them by board feet, rounded to the nearest.
fn odd_seconds(job: &PileJob, so_far: &SoFar, log: &LogSoFar, quarter: bool) -> i64 {
    let rings_of = |want: &WantSoFar| {
        let want = want.in_job.and_then(|want| job.wants.get(want))?;
        Some(want.grade.rings == [RingClass::Quarter])
    };
    let (mut odd, mut all) = (0_i128, 0_i128);
    for piece in &log.pieces {
        let size = piece.what.size;
        let wants = piece.to.iter().filter_map(|(want, _)| so_far.wants.get(*want));
        let quarter = quarter || wants.filter_map(rings_of).any(|quarter| quarter);
        let board_feet = i128::from(piece.what.board_feet());
        all += board_feet;
        if job.charges.odd.is(size.thickness, size.width.least(), quarter) {
            odd += board_feet;
        }
    }
    if all <= 0 {
        return 0;
    }
    let nearest = (i128::from(log.seconds) * odd * 2 + all).div_euclid(2 * all);
    i64::try_from(nearest).unwrap_or(log.seconds)
}
