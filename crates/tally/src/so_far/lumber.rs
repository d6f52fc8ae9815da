//! Which line of the customer's list the pieces go to, and what is still wanted.
//!
//! A piece suits a line where it has the line's thickness, its width or, of a random one, at least that, one of its lengths,
//! and a wood that the line takes. Of the lines that it suits it goes to the first that lacks any, those with one width
//! before those with a random one; where none lacks any, to the first that takes more, else to the first.

use pithward_job::{JobWant, PileJob};
use pithward_measure::{Size, Width, board_feet_micro};

use super::{Piece, SoFar, WantSoFar};
use crate::entry::Wanted;

/// The lines of a job's list that a size names, with a length or without one.
pub(crate) fn lines_of(job: &PileJob, size: &Size) -> Vec<usize> {
    let named = |want: &JobWant| {
        let section = want.size.thickness == size.thickness && want.size.width == size.width;
        section && size.length.is_none_or(|length| want.lengths.contains(&length))
    };
    (0..job.wants.len()).filter(|n| named(&job.wants[*n])).collect()
}

/// The list as a job has it.
pub(super) fn wants(job: &PileJob) -> Vec<WantSoFar> {
    let line = |(n, want): (usize, &JobWant)| WantSoFar {
        in_job: Some(n),
        size: want.size,
        count: want.count,
        asked: want.count,
        given: 0,
        board_feet: 0,
    };
    job.wants.iter().enumerate().map(line).collect()
}

/// Changes a line of the list, or adds one.
pub(super) fn change(wants: &mut Vec<WantSoFar>, job: &PileJob, wanted: &Wanted) {
    let lines = lines_of(job, &wanted.size);
    let named = wanted.line.and_then(|line| usize::try_from(line).ok()?.checked_sub(1));
    let line = named.filter(|n| lines.contains(n)).or(lines.first().copied());
    let added = || wants.iter().position(|want| want.in_job.is_none() && want.size == wanted.size);
    match line.or_else(added).and_then(|n| wants.get_mut(n)) {
        Some(want) => want.count = wanted.count,
        None => wants.push(WantSoFar {
            in_job: None,
            size: wanted.size,
            count: wanted.count,
            asked: Some(0),
            given: 0,
            board_feet: 0,
        }),
    }
}

/// Gives the pieces to the lines of the list, in the order in which they were told.
pub(super) fn give(so_far: &mut SoFar, job: &PileJob) {
    let SoFar { logs, loose, wants, .. } = so_far;
    let logs = logs.iter_mut().flat_map(|log| {
        let in_job = log.in_job;
        log.pieces.iter_mut().map(move |piece| (in_job, piece))
    });
    let mut pieces: Vec<(Option<usize>, &mut Piece)> =
        logs.chain(loose.iter_mut().map(|piece| (None, piece))).collect();
    pieces.sort_by_key(|(_, piece)| (piece.at.timestamp(), piece.entry));
    for (log, piece) in pieces {
        let suits = suiting(wants, job, log, &piece.what.size);
        let Size { thickness, width, .. } = piece.what.size;
        let each = board_feet_micro(thickness, width.least(), piece.what.length());
        let mut left = piece.what.count;
        let mut hand = |want: &mut WantSoFar, n: usize, count: u32| {
            want.given = want.given.saturating_add(count);
            want.board_feet = want.board_feet.saturating_add(each.saturating_mul(count.into()));
            match piece.to.iter_mut().find(|(to, _)| *to == n) {
                Some((_, given)) => *given += count,
                None => piece.to.push((n, count)),
            }
        };
        for n in &suits {
            let count = wants[*n].wanted().map_or(left, |wanted| wanted.min(left));
            if count > 0 {
                hand(&mut wants[*n], *n, count);
                left -= count;
            }
        }
        let takes_more = |n: &&usize| {
            let want = wants[**n].in_job.and_then(|n| job.wants.get(n));
            want.is_some_and(|want| want.extra.is_some())
        };
        let more = suits.iter().find(takes_more).or(suits.first()).copied();
        if let Some(n) = more.filter(|_| left > 0) {
            hand(&mut wants[n], n, left);
        }
    }
}

/// The lines that a piece from a log suits, those with one width first.
fn suiting(wants: &[WantSoFar], job: &PileJob, log: Option<usize>, size: &Size) -> Vec<usize> {
    let log = log.and_then(|log| job.logs.get(log));
    let suits = |want: &WantSoFar| {
        let of = want.in_job.and_then(|n| job.wants.get(n));
        let wide = match want.size.width {
            Width::Exactly(width) => size.width == Width::Exactly(width),
            Width::AtLeast(least) => size.width.least() >= least,
        };
        let long = match of {
            Some(of) => size.length.is_some_and(|length| of.lengths.contains(&length)),
            None => want.size.length == size.length,
        };
        // Of a log that nobody knows the wood may be any.
        let wood = of.is_none_or(|of| log.is_none_or(|log| of.accepts(log.species)));
        want.size.thickness == size.thickness && wide && long && wood
    };
    let mut suiting: Vec<usize> = (0..wants.len()).filter(|n| suits(&wants[*n])).collect();
    suiting.sort_by_key(|n| matches!(wants[*n].size.width, Width::AtLeast(_)));
    suiting
}
