//! What boards of each size turned out to be worth in a log, as a share of what clear ones are.

use crate::want::{Cut, Want};

/// By thickness and width.
#[derive(Clone, Debug, Default)]
pub(crate) struct Shares {
    /// What they were worth in all, and what they would have been.
    of_size: Vec<((i64, i64), (i128, i128))>,
}

impl Shares {
    /// One board that was worth so much, millionths.
    pub(super) fn add(&mut self, best: &Cut, worth: i64) {
        let (got, may) = (i128::from(worth), i128::from(best.worth));
        match self.of_size.iter_mut().find(|(known, _)| *known == size(best)) {
            Some((_, sums)) => *sums = (sums.0 + got, sums.1 + may),
            None => self.of_size.push((size(best), (got, may))),
        }
    }

    /// Wants at their best with what boards of each size are worth by that.
    pub(crate) fn of(&self, clear: &[Want]) -> Vec<Want> {
        let mut menu = clear.to_vec();
        for want in menu.iter_mut().filter(|want| want.grading.is_some()) {
            for cut in &mut want.cuts {
                let known = self.of_size.iter().find(|(known, _)| *known == size(cut));
                let Some((_, (got, may))) = known.filter(|(_, (_, may))| *may > 0) else {
                    continue;
                };
                let share = |worth: i64| {
                    i64::try_from(i128::from(worth) * got.min(may) / may).unwrap_or(worth)
                };
                (cut.worth, cut.extra) = (share(cut.worth), share(cut.extra));
            }
        }
        menu
    }
}

fn size(cut: &Cut) -> (i64, i64) {
    (cut.thickness.as_nm(), cut.width.as_nm())
}
