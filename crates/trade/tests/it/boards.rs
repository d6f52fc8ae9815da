//! The work that boards as they are sawn take.

use crate::common::Dice;
use pithward_measure::Length;
use pithward_trade::grade::{Area, Board, Defect, DefectKind, Settings, expected};

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
#[derive(Debug)]
struct Work {
    mean: u64,
    most: u64,
    open: u64,
}

fn work(number: u64, inches: i64, feet: i64, knots: usize) -> Work {
    let mut dice = Dice(7);
    let (mut sum, mut most, mut open) = (0, 0, 0);
    for _ in 0..number {
        let found = expected(&random(&mut dice, inches, feet, knots), Settings::default());
        sum += found.work;
        most = most.max(found.work);
        open += u64::from(!found.proven);
    }
    Work { mean: sum / number, most, open }
}

#[test]
fn boards_of_8_in_by_12_ft_with_6_knots_a_face() {
    let work = work(10_000, 8, 12, 6);
    println!("{work:?}");
    assert!(work.mean < 100 && work.most < 1_500 && work.open == 0, "{work:?}");
}

#[test]
fn smaller_and_larger_boards() {
    for (inches, feet, knots, mean_below) in
        [(6, 8, 3, 30), (10, 12, 10, 300), (12, 16, 10, 600), (20, 16, 10, 900)]
    {
        let work = work(300, inches, feet, knots);
        println!("{inches} in x {feet} ft, {knots} knots a face: {work:?}");
        assert!(work.mean < mean_below && work.open == 0, "{work:?}");
    }
}
