//! A job whose stems are cut as a plan cut them.

use crate::pile_job::PileJob;
use pithward_measure::Length;
use pithward_optimizer::{BuckedStem, PartKind, Pile, PileLog};

impl PileJob {
    /// The job with the logs that its stems are cut into, and its pile; `None` where a part of a stem is no log, or where these
    /// are cuts of other stems. Its proof is not known by that ([`PileJob::cuts`]).
    pub fn cut_so(&self, cut: &[BuckedStem]) -> Option<(Self, Pile)> {
        if cut.len() != self.stems.len() {
            return None;
        }
        let (mut pile, stems, _) = self.with_stems();
        for (stem, cut) in stems.iter().zip(cut) {
            let end = stem.log.length();
            for part in &cut.parts {
                if !matches!(part.what, PartKind::Log(_)) {
                    continue;
                }
                let within = Length::ZERO <= part.from && part.from < part.to && part.to <= end;
                let log =
                    stem.log.bucked(end - part.to, end - part.from).ok().filter(|_| within)?;
                pile.logs.push(PileLog { log, menu: stem.menu });
            }
        }
        let mut places = cut.iter().flat_map(|cut| &cut.parts).filter_map(|part| match part.what {
            PartKind::Log(place) => Some(place),
            _ => None,
        });
        let in_order = (self.logs.len()..).zip(places.by_ref()).all(|(next, place)| place == next);
        in_order.then(|| (self.with_cut_logs(cut, &pile), pile))
    }
}
