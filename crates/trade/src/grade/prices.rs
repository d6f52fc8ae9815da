//! What a board foot is worth by its grade.

use super::Grade;

/// What a board foot of each grade is worth, and of a board below all of them, in whole numbers of any unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Prices {
    grades: [i64; Grade::ALL.len()],
    below: i64,
}

impl Prices {
    /// From what is stated of the grades, the best first. A grade of which nothing is stated is worth what the next
    /// poorer one is, so that no more is promised than somebody pays.
    pub fn new(stated: [Option<i64>; Grade::ALL.len()], below: i64) -> Self {
        let mut grades = [below; Grade::ALL.len()];
        let mut poorer = below;
        for (price, stated) in grades.iter_mut().zip(stated).rev() {
            poorer = stated.unwrap_or(poorer);
            *price = poorer;
        }
        Self { grades, below }
    }

    /// What a board foot of a grade is worth; `None` is below all of them.
    pub fn of(&self, grade: Option<Grade>) -> i64 {
        grade.map_or(self.below, |grade| self.grades[grade as usize])
    }

    /// The first grade, the best first, that is worth less than the next poorer one, `None` being below all of them.
    pub fn rises_below(&self) -> Option<(Grade, Option<Grade>)> {
        let poorer = Grade::ALL.into_iter().skip(1).map(Some).chain([None]);
        let pairs = Grade::ALL.into_iter().zip(poorer);
        pairs.into_iter().find(|(better, poorer)| self.of(Some(*better)) < self.of(*poorer))
    }
}

#[cfg(test)]
mod tests {
    use super::{Grade, Prices};

    #[test]
    fn a_grade_without_a_price_has_that_of_the_next_poorer() {
        let mut stated = [None; 7];
        (stated[0], stated[3], stated[5]) = (Some(200), Some(120), Some(40));
        let prices = Prices::new(stated, 10);
        let all: Vec<i64> = Grade::ALL.into_iter().map(|grade| prices.of(Some(grade))).collect();
        assert_eq!(all, [200, 120, 120, 120, 40, 40, 10]);
        assert_eq!((prices.of(None), prices.rises_below()), (10, None));
        let all = Prices::new([None; 7], 5);
        assert!(Grade::ALL.into_iter().all(|grade| all.of(Some(grade)) == 5));
    }

    #[test]
    fn a_poorer_grade_that_is_worth_more_is_found() {
        let rises = |place: usize, price: i64| {
            let mut stated = [Some(100); 7];
            stated[place] = Some(price);
            Prices::new(stated, 10).rises_below()
        };
        assert_eq!(rises(0, 99), Some((Grade::Fas, Some(Grade::FasOneFace))));
        assert_eq!(rises(4, 101), Some((Grade::No1Common, Some(Grade::No2ACommon))));
        assert_eq!(rises(6, 9), Some((Grade::No3BCommon, None)));
        assert_eq!(rises(6, 10), None);
    }
}
