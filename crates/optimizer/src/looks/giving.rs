//! To which of the wants that a piece may serve it is given.
//!
//! A piece serves every want of its size that admits it as it looks. Which of them gets it is a choice: alone in its log it
//! goes where it is worth most; in a pile to the want that lacks it most, as the prices of the wants say, or what the other
//! logs leave wanted.

use crate::WantId;
use crate::want::{CutId, Want};
use pithward_trade::grade::Grade;
use std::cmp::Reverse;

/// Which want gets a piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Giving {
    /// The one where it is worth most within the count.
    Worth,
    /// The one that it was cut for, or none.
    Own,
    /// The one where it is worth most when a place within the count costs so much, by want.
    Prices(Vec<i64>),
    /// The one where it is worth most when so many of each want are left wanted; one after the other.
    Left(Vec<u32>),
}

/// A piece and the want that it is given to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Given {
    pub(crate) id: CutId,
    /// Within the count, as it looks, millionths.
    pub(crate) worth: i64,
    /// Beyond it.
    pub(crate) extra: i64,
    /// What giving it there is worth, as the want was chosen.
    pub(crate) value: i64,
}

/// Gives the pieces of a log.
#[derive(Clone, Debug)]
pub(crate) struct Giver<'a> {
    wants: &'a [Want],
    giving: Giving,
}

impl<'a> Giver<'a> {
    pub(crate) fn new(wants: &'a [Want], giving: &Giving) -> Self {
        Self { wants, giving: giving.clone() }
    }

    /// To which want a piece is given, as it looks; to none where it serves none.
    pub(crate) fn give(
        &mut self,
        id: CutId,
        grade: impl FnOnce() -> Option<Grade>,
    ) -> Option<Given> {
        let Some(_) = self.wants[id.want.0].grading else {
            let cut = &self.wants[id.want.0].cuts[id.cut];
            let given = self.valued(id, cut.worth, cut.extra);
            self.take(id);
            return Some(given);
        };
        let grade = grade();
        let given = if self.giving == Giving::Own {
            self.served(id, grade)
        } else {
            // Its own want before another of equal worth.
            let best = |given: &Given| (given.value, given.id == id, Reverse(given.id));
            self.same_size(id).filter_map(|other| self.served(other, grade)).max_by_key(best)
        }?;
        self.take(given.id);
        Some(given)
    }

    /// Cuts that are as large and allow the same.
    fn same_size(&self, id: CutId) -> impl Iterator<Item = CutId> + use<'a> {
        let wants = self.wants;
        let size = move |id: CutId| {
            let (want, cut) = (&wants[id.want.0], &wants[id.want.0].cuts[id.cut]);
            let what = (want.wane, want.heart, want.tolerates, want.rings.as_ref());
            (cut.thickness, cut.width, cut.take, what)
        };
        let all = wants.iter().enumerate().flat_map(|(n, want)| {
            (0..want.cuts.len()).map(move |cut| CutId { want: WantId(n), cut })
        });
        all.filter(move |other| size(*other) == size(id))
    }

    /// What a piece of a grade is worth to a want that admits it.
    fn served(&self, id: CutId, grade: Option<Grade>) -> Option<Given> {
        let (want, cut) = (&self.wants[id.want.0], &self.wants[id.want.0].cuts[id.cut]);
        let loss = match &want.grading {
            None => 0,
            Some(grading) if grading.admits(grade) => grading.loss(cut.board_feet, grade),
            Some(_) => return None,
        };
        let less = |worth: i64| (worth - loss).max(0);
        Some(self.valued(id, less(cut.worth), less(cut.extra)))
    }

    /// A piece that is worth so much within the count of a want and beyond it.
    fn valued(&self, id: CutId, worth: i64, extra: i64) -> Given {
        let value = match &self.giving {
            Giving::Worth | Giving::Own => worth,
            Giving::Prices(prices) => (worth - prices[id.want.0]).max(extra),
            Giving::Left(left) => {
                let counted = self.wants[id.want.0].count.is_some();
                if counted && left[id.want.0] == 0 { extra } else { worth }
            }
        };
        Given { id, worth, extra, value }
    }

    fn take(&mut self, id: CutId) {
        if let Giving::Left(left) = &mut self.giving {
            left[id.want.0] = left[id.want.0].saturating_sub(1);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::want::{Cut, Grading};
    use pithward_geometry::{FlawKinds, Heart};
    use pithward_measure::Length;
    use pithward_trade::Wane;
    use pithward_trade::grade::Prices;

    /// Wants of one size: what a board is worth at its dearest, beyond the count, and the poorest grade that serves.
    fn wants(all: &[(i64, i64, Option<Grade>)]) -> Vec<Want> {
        let size = (Length::inches(1), Length::inches(6), Length::feet(8));
        let want = |(worth, extra, least): &(i64, i64, Option<Grade>)| Want {
            count: Some(1),
            wane: Wane::NONE,
            heart: Heart::Any,
            tolerates: FlawKinds::NONE,
            // A board is four board feet; below the best it is worth 10 less for each.
            grading: Some(Grading {
                least: *least,
                prices: Prices::new([Some(20), None, None, Some(10), None, None, None], 10),
            }),
            rings: None,
            cuts: vec![Cut {
                thickness: size.0,
                width: size.1,
                length: size.2,
                take: size.2,
                board_feet: 4_000_000,
                worth: *worth,
                extra: *extra,
            }],
        };
        all.iter().map(want).collect()
    }

    fn check(giving: Giving, grades: &[Grade], expected: &[Option<(usize, i64)>]) {
        let wants = wants(&[
            (100, 80, Some(Grade::Fas)),
            (90, 50, Some(Grade::No1Common)),
            (60, 60, Some(Grade::No2ACommon)),
        ]);
        let mut giver = Giver::new(&wants, &giving);
        let own = CutId { want: WantId(1), cut: 0 };
        let given: Vec<Option<(usize, i64)>> = grades
            .iter()
            .map(|grade| giver.give(own, || Some(*grade)).map(|to| (to.id.want.0, to.worth)))
            .collect();
        assert_eq!(given, expected);
    }

    #[test]
    fn a_board_goes_where_it_is_worth_most_as_it_looks() {
        use Grade::{Fas, No1Common, No2ACommon, No3ACommon};
        let grades = [Fas, No1Common, No2ACommon, No3ACommon];
        check(Giving::Worth, &grades, &[Some((0, 100)), Some((1, 50)), Some((2, 20)), None]);
        check(Giving::Own, &grades, &[Some((1, 90)), Some((1, 50)), None, None]);
    }

    #[test]
    fn a_board_goes_where_it_is_lacked() {
        use Grade::Fas;
        // Within the first count it would gain 20, of which 15 are asked for it, within the second 40.
        check(Giving::Prices(vec![15, 0, 0]), &[Fas], &[Some((1, 90))]);
        check(Giving::Prices(vec![5, 40, 0]), &[Fas], &[Some((0, 100))]);
        let three = [Some((0, 100)), Some((1, 90)), Some((0, 100))];
        check(Giving::Left(vec![1, 1, 1]), &[Fas; 3], &three);
    }
}
