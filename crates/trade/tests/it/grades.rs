//! The expected grade against a grader who counts cells.
//!
//! The boards' defects lie on whole inches across and whole feet along, as do the least sizes of all grades but the last; so a cell
//! is a cutting unit, and looking at whole cells only is exhaustive. The rules are written out here once more, by hand.

use crate::common::Dice;
use pithward_measure::Length;
use pithward_trade::grade::{Area, Board, Defect, DefectKind, Grade, Settings, expected};

/// The cells of a board: bit `across * feet + along`.
#[derive(Clone, Copy, Default)]
struct Face {
    marked: u128,
    unsound: u128,
}

struct Cells {
    inches: i64,
    feet: i64,
    faces: [Face; 2],
}

impl Cells {
    fn block(&self, (a, b): (i64, i64), (c, d): (i64, i64)) -> u128 {
        let cells = (c..d).flat_map(|row| (a..b).map(move |column| row * self.feet + column));
        cells.fold(0, |all, cell| all | 1 << cell)
    }

    fn measure(&self) -> i64 {
        // To the nearest, a half up.
        (2 * self.inches * self.feet + 12) / 24
    }

    /// Whether at most so many rectangles of these sizes, free of these cells, hold so many cells.
    fn holds(&self, blocked: u128, sizes: &[(i64, i64)], most: i64, enough: i64) -> bool {
        let mut all = Vec::new();
        for (a, c) in (0..self.feet).flat_map(|a| (0..self.inches).map(move |c| (a, c))) {
            for (b, d) in
                (a + 1..=self.feet).flat_map(|b| (c + 1..=self.inches).map(move |d| (b, d)))
            {
                let is_large = sizes.iter().any(|(wide, long)| d - c >= *wide && b - a >= *long);
                let cells = self.block((a, b), (c, d));
                if is_large && cells & blocked == 0 {
                    all.push((cells, (b - a) * (d - c)));
                }
            }
        }
        all.sort_by_key(|(_, size)| std::cmp::Reverse(*size));
        reaches(&all, most, 0, enough)
    }

    /// Whether two stretches across the whole width hold 97 percent.
    fn full_width(&self, blocked: u128) -> bool {
        let is_clear =
            |along: &i64| self.block((*along, along + 1), (0, self.inches)) & blocked == 0;
        let along: Vec<i64> = (0..self.feet).collect();
        let runs = along.chunk_by(|a, b| is_clear(a) && is_clear(b));
        let mut runs: Vec<i64> =
            runs.filter(|run| is_clear(&run[0])).map(|run| run.len() as i64).collect();
        runs.sort_unstable();
        let two: i64 = runs.iter().rev().take(2).sum();
        two * self.inches * 100 >= self.measure() * 1164
    }

    fn fas(&self, blocked: u128) -> bool {
        let (sm, sizes) = (self.measure(), [(4, 5), (3, 7)]);
        (sm >= 4 && self.holds(blocked, &sizes, (sm / 4).min(4), 10 * sm))
            || ((6..=15).contains(&sm) && self.holds(blocked, &sizes, sm / 4 + 1, 11 * sm))
            || ((6..=12).contains(&sm) && self.inches >= 6 && self.full_width(blocked))
    }

    fn selects(&self, blocked: u128) -> bool {
        let sm = self.measure();
        let is_small = (2..=3).contains(&sm);
        self.fas(blocked)
            || (is_small && (blocked == 0 || self.holds(blocked, &[(4, 5), (3, 7)], 1, 11 * sm)))
    }

    fn no_1(&self, blocked: u128) -> bool {
        let (sm, sizes) = (self.measure(), [(4, 2), (3, 3)]);
        match sm {
            ..=1 => sm == 1 && blocked == 0,
            2 => self.holds(blocked, &sizes, 1, 18),
            _ => {
                let most = ((sm + 1) / 3).min(5);
                self.holds(blocked, &sizes, most, 8 * sm)
                    || (sm <= 10 && self.holds(blocked, &sizes, most + 1, 9 * sm))
            }
        }
    }

    fn no_2a(&self, blocked: u128) -> bool {
        let (sm, sizes) = (self.measure(), [(3, 2)]);
        if sm == 1 {
            return self.holds(blocked, &sizes, 1, 8);
        }
        let most = (sm / 2).min(7);
        self.holds(blocked, &sizes, most, 6 * sm)
            || (sm <= 7 && self.holds(blocked, &sizes, most + 1, 8 * sm))
    }

    /// Half of either end clear, a quarter unsound at most.
    fn ends(&self, face: usize) -> bool {
        [0, self.feet - 1].into_iter().all(|along| {
            let end = self.block((along, along + 1), (0, self.inches));
            let count = |cells: u128| i64::from((end & cells).count_ones());
            let Face { marked, unsound } = self.faces[face];
            2 * count(marked) <= self.inches && 4 * count(unsound) <= self.inches
        })
    }

    fn grade(&self) -> Option<Grade> {
        let [one, two] = self.faces;
        let both = [one.marked | two.unsound, two.marked | one.unsound];
        let at_least = |inches, feet| self.inches >= inches && self.feet >= feet;
        if at_least(6, 8) && both.iter().all(|b| self.fas(*b)) && self.ends(0) && self.ends(1) {
            return Some(Grade::Fas);
        }
        let one_face = |is_better: &dyn Fn(u128) -> bool| {
            [(0, 1), (1, 0)].into_iter().any(|(better, other)| {
                is_better(self.faces[better].marked)
                    && self.ends(better)
                    && self.no_1(self.faces[other].marked)
            })
        };
        if at_least(6, 8) && one_face(&|blocked| self.fas(blocked)) {
            return Some(Grade::FasOneFace);
        }
        if at_least(4, 6) && one_face(&|blocked| self.selects(blocked)) {
            return Some(Grade::Selects);
        }
        if both.iter().all(|blocked| self.no_1(*blocked)) {
            return Some(Grade::No1Common);
        }
        if both.iter().all(|blocked| self.no_2a(*blocked)) {
            return Some(Grade::No2ACommon);
        }
        let sm = self.measure();
        if both.iter().all(|blocked| self.holds(*blocked, &[(3, 2)], 20, 4 * sm)) {
            return Some(Grade::No3ACommon);
        }
        let sizes = [(3, 1), (2, 2)];
        self.holds(one.unsound | two.unsound, &sizes, 20, 3 * sm).then_some(Grade::No3BCommon)
    }
}

/// Whether at most so many of these rectangles, the largest first, none over another, hold so many cells.
fn reaches(all: &[(u128, i64)], most: i64, taken: u128, missing: i64) -> bool {
    if missing <= 0 {
        return true;
    }
    for (n, (cells, size)) in all.iter().enumerate() {
        if size * most < missing {
            return false;
        }
        let is_free = cells & taken == 0;
        if is_free && reaches(&all[n + 1..], most - 1, taken | cells, missing - size) {
            return true;
        }
    }
    false
}

#[test]
fn the_grade_is_that_of_counting_cells_on_10_000_random_boards() {
    let mut dice = Dice(11);
    let mut seen = std::collections::BTreeMap::new();
    for n in 0..10_000 {
        let (inches, feet) = (3 + dice.below(6), 4 + dice.below(7));
        let mut cells = Cells { inches, feet, faces: [Face::default(); 2] };
        let mut board = Board::clear(Length::inches(inches), Length::feet(feet));
        let few = dice.below(5);
        for face in [0, 1] {
            for _ in 0..dice.below(1 + few) {
                let (a, c) = (dice.below(feet), dice.below(inches));
                let b = (a + 1 + dice.below(2)).min(feet);
                let d = (c + 1 + dice.below(2)).min(inches);
                let is_sound = dice.below(3) > 0;
                let block = cells.block((a, b), (c, d));
                cells.faces[face].marked |= block;
                cells.faces[face].unsound |= if is_sound { 0 } else { block };
                let along = (Length::feet(a), Length::feet(b));
                let area = Area::new(along, (Length::inches(c), Length::inches(d)));
                let kind = if is_sound { DefectKind::Stain } else { DefectKind::Rot };
                board.faces[face].push(Defect { kind, area });
            }
        }
        let (found, counted) = (expected(&board, Settings::default()), cells.grade());
        let called = format!("board {n}: {inches} in x {feet} ft, {:?}", board.faces);
        assert_eq!(found.measure, cells.measure(), "{called}");
        match (found.grade, counted) {
            // The least cutting of this grade is told by its content, so it may end between the cells.
            (Some(Grade::No3BCommon), None) => {}
            (found, counted) => assert_eq!(found, counted, "{called}"),
        }
        *seen.entry(counted).or_insert(0) += 1;
    }
    println!("{seen:?}");
    assert!(Grade::ALL.into_iter().all(|grade| seen.get(&Some(grade)) > Some(&20)), "{seen:?}");
}
