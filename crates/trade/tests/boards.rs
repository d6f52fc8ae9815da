//! The work that boards as they are sawn take.

use pithward_measure::Length;
use pithward_trade::grade::{Area, Board, Defect, DefectKind, Settings, expected};

/// A fixed sequence that looks like chance.
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: i64) -> i64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963);
        i64::try_from((self.0 >> 33) % u64::try_from(end).unwrap()).unwrap()
    }
}

/// A board with so many knots on either face, in sixteenths of an inch, 1/4 in to 3 in large.
fn random(dice: &mut Dice, inches: i64, feet: i64, knots: usize) -> Board {
    let mut board = Board::clear(Length::inches(inches), Length::feet(feet));
    let sixteenths = |n: i64| Length::sixty_fourths(4 * n);
    for face in &mut board.faces {
        for _ in 0..knots {
            let (long, wide) = (4 + dice.below(45), 4 + dice.below(45));
            let (x, y) = (dice.below(feet * 192 - long), dice.below(inches * 16 - wide));
            let along = (sixteenths(x), sixteenths(x + long));
            let area = Area::new(along, (sixteenths(y), sixteenths(y + wide)));
            let kind =
                [DefectKind::SoundKnot, DefectKind::UnsoundKnot][usize::from(dice.below(4) == 0)];
            face.push(Defect { kind, area });
        }
    }
    board
}

/// The mean and the most work of this many boards, and how many are not proven.
fn work(number: u64, inches: i64, feet: i64, knots: usize) -> (u64, u64, usize) {
    let mut dice = Dice(7);
    let (mut sum, mut most, mut open) = (0, 0, 0);
    let mut grades = std::collections::BTreeMap::new();
    for _ in 0..number {
        let found = expected(&random(&mut dice, inches, feet, knots), Settings::default());
        sum += found.work;
        most = most.max(found.work);
        open += usize::from(!found.proven);
        *grades.entry(found.grade).or_insert(0) += 1;
    }
    println!(
        "{inches} in x {feet} ft, {knots} knots: mean {}, most {most}, open {open}, {grades:?}",
        sum / number
    );
    (sum / number, most, open)
}

#[test]
fn a_board_of_8_in_by_12_ft_with_6_knots_a_face() {
    let (mean, most, open) = work(10_000, 8, 12, 6);
    assert!(mean < 60 && most < 12_000 && open == 0);
}

#[test]
fn wider_and_with_more_knots() {
    work(300, 12, 16, 10);
    work(300, 10, 12, 10);
    work(300, 6, 8, 3);
    work(300, 20, 16, 10);
}
