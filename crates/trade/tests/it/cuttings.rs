//! The search for cuttings against plain enumeration, on boards small enough for that.
//!
//! All edges of the boards' defects and all least sizes are whole inches. Then so are all the places on which
//! the lines of some best set lie (they are sums and differences of these), and looking at whole inches only is
//! exhaustive.

use crate::common::Dice;
use pithward_measure::Length;
use pithward_trade::grade::{Area, Field, Least, Units};

/// Whole inches: along from and to, across from and to.
type Sides = (i64, i64, i64, i64);

fn area((a, b, c, d): Sides) -> Area {
    let inch = Length::inches;
    Area::new((inch(a), inch(b)), (inch(c), inch(d)))
}

/// The most square inches that at most `most` of these hold, none over another: all sets, larger rectangles
/// first, until one has enough.
fn enumerate(all: &[(u128, i64)], most: usize, taken: u128, sum: i64, best: &mut i64, enough: i64) {
    *best = sum.max(*best);
    if most == 0 {
        return;
    }
    for (n, (cells, size)) in all.iter().enumerate() {
        if *best >= enough || sum + size * (most as i64) <= *best {
            return;
        }
        if cells & taken == 0 {
            enumerate(&all[n + 1..], most - 1, taken | cells, sum + size, best, enough);
        }
    }
}

struct Small {
    wide: i64,
    long: i64,
    defects: Vec<Sides>,
    /// Width, length.
    sizes: Vec<(i64, i64)>,
    most: usize,
}

impl Small {
    fn random(dice: &mut Dice) -> Self {
        let (wide, long) = (3 + dice.below(6), 5 + dice.below(9));
        let defects = (0..dice.below(6)).map(|_| {
            let (a, c) = (dice.below(long), dice.below(wide));
            (a, (a + 1 + dice.below(2)).min(long), c, (c + 1 + dice.below(2)).min(wide))
        });
        let defects = defects.collect();
        let mut sizes = vec![(2 + dice.below(2), 2 + dice.below(3))];
        if dice.below(3) > 0 {
            // Narrower and longer, as the grades have them.
            let (width, length) = sizes[0];
            sizes.push((width - 1, length + 1 + dice.below(2)));
        }
        Self { wide, long, defects, sizes, most: 1 + usize::try_from(dice.below(4)).unwrap_or(0) }
    }

    fn cells(&self, (a, b, c, d): Sides) -> u128 {
        let cells = (c..d).flat_map(|row| (a..b).map(move |column| row * self.long + column));
        cells.fold(0, |all, cell| all | 1 << cell)
    }

    fn by_enumeration(&self, enough: i64) -> i64 {
        let marks = self.defects.iter().fold(0, |all, defect| all | self.cells(*defect));
        let mut all = Vec::new();
        for (a, c) in (0..self.long).flat_map(|a| (0..self.wide).map(move |c| (a, c))) {
            for (b, d) in (a + 1..=self.long).flat_map(|b| (c + 1..=self.wide).map(move |d| (b, d)))
            {
                let is_large = self.sizes.iter().any(|(w, l)| d - c >= *w && b - a >= *l);
                let cells = self.cells((a, b, c, d));
                if is_large && cells & marks == 0 {
                    all.push((cells, (b - a) * (d - c)));
                }
            }
        }
        all.sort_by_key(|(_, size)| std::cmp::Reverse(*size));
        let mut best = 0;
        enumerate(&all, self.most, 0, 0, &mut best, enough);
        best
    }

    fn field(&self) -> Field {
        let blocked = self.defects.iter().map(|defect| area(*defect)).collect();
        Field::new(Length::inches(self.wide), Length::inches(self.long), blocked)
    }

    fn least(&self) -> Least {
        let inch = |(width, length): &(i64, i64)| (Length::inches(*width), Length::inches(*length));
        Least::Sizes(self.sizes.iter().map(inch).collect())
    }
}

/// What was found is what it says: cuttings of an allowed size, free, apart, not too many.
fn is_sound(small: &Small, cuttings: &[Area], units: Units) {
    assert!(cuttings.len() <= small.most);
    assert_eq!(cuttings.iter().map(Area::units).sum::<Units>(), units);
    let face = area((0, small.long, 0, small.wide));
    for (n, cutting) in cuttings.iter().enumerate() {
        assert!(small.least().takes(cutting) && face.holds(cutting));
        assert!(small.defects.iter().all(|defect| !area(*defect).meets(cutting)));
        assert!(cuttings[..n].iter().all(|other| !other.meets(cutting)));
    }
}

#[test]
fn the_best_set_is_that_of_enumeration_on_10_000_random_boards() {
    let mut dice = Dice(20);
    let (mut searched, mut most_work) = (0, 0);
    for n in 0..10_000 {
        let small = Small::random(&mut dice);
        let best = small.by_enumeration(i64::MAX);
        let (field, least) = (small.field(), small.least());
        let found = field.best(&least, small.most);
        assert!(found.proven);
        is_sound(&small, &found.cuttings, found.units);
        let called = format!("board {n}: {} x {}, {:?}", small.wide, small.long, small.defects);
        assert_eq!(found.units, Units::square_inches(best), "{called}");

        // What can be reached is, and what is beyond is not.
        let reached = field.reach(&least, Some(small.most), found.units);
        assert!(reached.proven && reached.units >= found.units, "{called}");
        is_sound(&small, &reached.cuttings, reached.units);
        let beyond = field.reach(&least, Some(small.most), Units::square_inches(best + 1));
        assert!(beyond.proven && beyond.units <= found.units, "{called}");
        searched += usize::from(found.work > 2);
        most_work = most_work.max(found.work);
    }
    assert!(searched > 1_000, "{searched} boards need more than greed");
    println!("{searched} boards need a search; the most work on one is {most_work}");
}

#[test]
fn any_number_of_cuttings_is_as_many_as_the_target_takes() {
    let mut dice = Dice(3);
    let mut short = 0;
    for _ in 0..1_000 {
        let mut small = Small::random(&mut dice);
        (small.wide, small.long) = (small.wide.min(5), small.long.min(9));
        small.defects.retain(|(_, b, _, d)| *b <= small.long && *d <= small.wide);
        // No more than these fit. The grades that allow any number ask for a third of the face or less; here it is half.
        small.most = 11;
        let half = small.wide * small.long / 2;
        let best = small.by_enumeration(half);
        let found = small.field().reach(&small.least(), None, Units::square_inches(half));
        is_sound(&small, &found.cuttings, found.units);
        assert!(found.proven);
        assert_eq!(found.units >= Units::square_inches(half), best >= half);
        short += usize::from(best < half);
    }
    assert!((50..950).contains(&short), "{short} of 1000 fall short");
}
