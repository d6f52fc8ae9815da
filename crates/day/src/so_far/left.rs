//! What a tally leaves of a job, to be planned again.

use pithward_job::{Left, PileJob, WantLeft};
use pithward_tally::{LogState, SoFar};

use crate::kept::Kept;

/// What is left of a job, and what was taken off it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LeftOfPile {
    /// What is left.
    pub left: Left,
    /// Logs that are done, by their names.
    pub done: Vec<String>,
    /// The log on the mill: it is no part of what is left, a half-sawn log is planned by itself.
    pub on_the_mill: Option<String>,
    /// Pieces that are off, of every want of the tally.
    pub given: Vec<u32>,
    /// Pieces that the log on the mill is still to give as promised, of every want; they count as given.
    pub to_come: Vec<u32>,
}

impl LeftOfPile {
    /// What is left of a job after what its tally says.
    pub fn of(job: &PileJob, kept: Option<&Kept>, so_far: &SoFar) -> Self {
        let mut all =
            Self { given: so_far.wants.iter().map(|want| want.given).collect(), ..Self::default() };
        for (place, log) in job.logs.iter().enumerate() {
            let told = so_far.logs.iter().find(|of| of.id == log.id);
            match told.map(|of| (of.state, of.pieces.is_empty())) {
                None | Some((LogState::Waiting, true)) => all.left.logs.push(place),
                Some((LogState::OnTheMill, _)) => all.on_the_mill = Some(log.id.clone()),
                Some((LogState::Done | LogState::Waiting, _)) => all.done.push(log.id.clone()),
            }
            let found = told.into_iter().flat_map(|of| &of.found);
            all.left.found.extend(found.map(|found| (place, found.what.clone())));
        }
        all.to_come = to_come(kept, so_far);
        let wants = so_far.wants.iter().zip(&all.to_come);
        all.left.wants = wants
            .map(|(want, to_come)| WantLeft {
                want: want.in_job,
                size: want.size,
                left: want.wanted().map(|left| left.saturating_sub(*to_come)),
            })
            .collect();
        all
    }
}

/// What the log on the mill is still to give as promised, by the wants of the tally.
fn to_come(kept: Option<&Kept>, so_far: &SoFar) -> Vec<u32> {
    let mut to_come = vec![0; so_far.wants.len()];
    let on = so_far.on_the_mill.and_then(|log| so_far.logs.get(log));
    let Some((kept, log)) = kept.zip(on) else { return to_come };
    let sawn = kept.log_called(&log.id).and_then(|place| kept.logs[place].sawn.as_ref());
    for (n, want) in so_far.wants.iter().enumerate() {
        let of_want =
            |place: usize| kept.wants.get(place).is_some_and(|kept| kept.size == want.size);
        let Some(place) = want.in_job.filter(|place| of_want(*place)) else { continue };
        let products = sawn.into_iter().flat_map(|sawn| &sawn.products);
        let planned: u32 =
            products.filter(|product| product.want == place).map(|product| product.count).sum();
        let off: u32 = log
            .pieces
            .iter()
            .flat_map(|piece| &piece.to)
            .filter(|(to, _)| *to == n)
            .map(|(_, count)| *count)
            .sum();
        to_come[n] = planned.saturating_sub(off);
    }
    to_come
}
