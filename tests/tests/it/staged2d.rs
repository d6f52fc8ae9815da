//! The kernel used twice on rectangles, against published sets whose best values are proven.
//!
//! Source: `data/benchmarks/staged2d` and `staged2d_known.csv`; each value was proven by two methods that share
//! no code with this one, or by one and equal to what is published.
//!
//! # How the kernel answers them
//! Two stages of cuts right across: a strip as high as one of the sizes is filled along its length, then strips
//! are stacked across. Both are the kernel's own question, with a worth that does not fall on the way out. In a
//! log the same is done with the strips of a flitch and the flitches of a log. Each line is solved twice: from
//! one end of the stock, and from its middle to both ends, as a log is from its pith.
//!
//! * Non-exact (`2N`): a strip of a height takes every size up to that height. Exact (`2E`): only sizes of just
//!   that height.
//! * The sets have no kerf. A size and a kerf take as much room as a larger size without one, so a set solved
//!   with the kerf taken off the stock and off every size has the same value.
//! * Counts, in the two smallest sets that have them, are carried through both stages as allowances.

use pithward_optimizer::allowance::Allowances;
use pithward_optimizer::stack::{Kind, Room, Stacks, Step};
use pithward_tests::table;

/// A size of an instance: how far it reaches along the strip and across, its worth, and how many there may be.
#[derive(Clone, Copy, Debug)]
struct Rectangle {
    along: i64,
    across: i64,
    value: i64,
    count: u32,
}

/// One instance, laid so that the strips run along its first side.
#[derive(Clone, Debug)]
struct Plate {
    along: i64,
    across: i64,
    sizes: Vec<Rectangle>,
    kerf: i64,
}

impl Plate {
    /// An instance whose first cuts part the height (`H`) or the width (`V`).
    fn read(name: &str, first_cut: &str) -> Self {
        let text = table::text(&format!("staged2d/{name}.txt"));
        let numbers: Vec<i64> =
            text.split_whitespace().map(|field| field.parse().expect("whole numbers")).collect();
        let turned = first_cut == "V";
        let turn = |w: i64, h: i64| if turned { (h, w) } else { (w, h) };
        let (along, across) = turn(numbers[0], numbers[1]);
        let sizes: Vec<Rectangle> = numbers[3..]
            .chunks_exact(4)
            .map(|row| {
                let (along, across) = turn(row[0], row[1]);
                let count = u32::try_from(row[3]).expect("a count");
                Rectangle { along, across, value: row[2], count }
            })
            .collect();
        assert_eq!(i64::try_from(sizes.len()), Ok(numbers[2]), "{name}: as many sizes as it says");
        Self { along, across, sizes, kerf: 0 }
    }

    /// The same question with a kerf: what it takes is taken off the stock and off every size.
    fn with_kerf(&self, kerf: i64) -> Self {
        let less = |size: &Rectangle| Rectangle {
            along: size.along - kerf,
            across: size.across - kerf,
            ..*size
        };
        Self {
            along: self.along - kerf,
            across: self.across - kerf,
            sizes: self.sizes.iter().map(less).collect(),
            kerf,
        }
    }

    /// The widest kerf that leaves something of every size.
    fn widest_kerf(&self) -> i64 {
        self.sizes.iter().map(|size| size.along.min(size.across)).min().unwrap_or(1) - 1
    }

    fn heights(&self) -> Vec<i64> {
        let mut heights: Vec<i64> = self.sizes.iter().map(|size| size.across).collect();
        heights.sort_unstable();
        heights.dedup();
        heights
    }

    /// The sizes that a strip of a height takes, by their places.
    fn in_strip(&self, height: i64, exact: bool) -> Vec<usize> {
        let fits = |size: &Rectangle| {
            if exact { size.across == height } else { size.across <= height }
        };
        (0..self.sizes.len()).filter(|n| fits(&self.sizes[*n])).collect()
    }

    /// The best value in two stages, any number of each size.
    fn best(&self, exact: bool) -> i64 {
        let strips: Vec<Item> = self
            .heights()
            .into_iter()
            .map(|height| {
                let items: Vec<Item> = self
                    .in_strip(height, exact)
                    .into_iter()
                    .map(|n| Item {
                        size: self.sizes[n].along,
                        value: self.sizes[n].value,
                        uses: 0,
                    })
                    .collect();
                let value = fill(self.along, self.kerf, &items, &Allowances::none())[0];
                Item { size: height, value, uses: 0 }
            })
            .collect();
        fill(self.across, self.kerf, &strips, &Allowances::none())[0]
    }

    /// The best value in two stages with no more of each size than its count.
    fn best_with_counts(&self, exact: bool) -> i64 {
        let allowances = Allowances::new(self.sizes.iter().map(|size| size.count).collect());
        let mut strips = Vec::new();
        let mut lower = vec![0; allowances.size()];
        for height in self.heights() {
            let items: Vec<Item> = self
                .in_strip(height, exact)
                .into_iter()
                .map(|n| {
                    let size = self.sizes[n];
                    Item { size: size.along, value: size.value, uses: allowances.one(n) }
                })
                .collect();
            let values = fill(self.along, self.kerf, &items, &allowances);
            // A strip that uses more, or is higher, without being worth more is no strip of its own.
            let own = |uses: &usize| {
                let fewer = items.iter().filter_map(|item| allowances.minus(*uses, item.uses));
                values[*uses]
                    > fewer.map(|fewer| values[fewer]).max().unwrap_or(0).max(lower[*uses])
            };
            let uses = (1..allowances.size()).filter(own);
            strips.extend(uses.map(|uses| Item { size: height, value: values[uses], uses }));
            lower.iter_mut().zip(&values).for_each(|(lower, value)| *lower = (*lower).max(*value));
        }
        fill(self.across, self.kerf, &strips, &allowances)[allowances.full()]
    }
}

/// Something that is laid on a line.
#[derive(Clone, Copy, Debug)]
struct Item {
    size: i64,
    value: i64,
    uses: usize,
}

/// With more allowances than this a line is not solved a second time.
const MANY: usize = 1_500;

/// The most that items on a line of a length are worth, a kerf between neighbours, for every allowance: from
/// one end of it. It must be the same from the middle, and the items that are named must fit and be worth it.
fn fill(length: i64, kerf: i64, items: &[Item], allowances: &Allowances) -> Vec<i64> {
    let items: Vec<&Item> =
        items.iter().filter(|item| item.size <= length && item.value > 0).collect();
    let values: Vec<[Step; 1]> =
        items.iter().map(|item| [Step { at: length, value: item.value }]).collect();
    let kinds = |scale: i64| -> Vec<Kind<'_>> {
        let kind = |(item, steps)| {
            let item: &&Item = item;
            let steps: &[Step; 1] = steps;
            Kind { size: scale * item.size, uses: item.uses, steps }
        };
        items.iter().zip(&values).map(kind).collect()
    };
    let (whole, halves) = (kinds(1), kinds(2));
    let mut from_the_end = Stacks::default();
    from_the_end.sweep(&whole, kerf, Room { outer: length, past: 0 }, allowances);
    // In halves of a unit the middle is a whole number, and the length reaches as far as itself on either side.
    let mut from_the_middle = Stacks::default();
    let twice = allowances.size() <= MANY;
    if twice {
        let room = Room { outer: length, past: length };
        from_the_middle.sweep(&halves, 2 * kerf, room, allowances);
    }
    (0..allowances.size())
        .map(|allowance| {
            let value = from_the_end.value_beyond(allowance, 0);
            let (mut room, mut worth) = (length + kerf, 0);
            for board in from_the_end.boards_beyond(&whole, allowances, allowance, 0) {
                room -= items[board.kind].size + kerf;
                worth += items[board.kind].value;
            }
            assert!(room >= 0 && worth == value, "the items named fit and are worth what they say");
            // All ways to share an allowance between two sides are tried only for the largest.
            if twice && allowance == allowances.full() {
                let side = &from_the_middle;
                let meeting = Stacks::meet(side, side, 2 * kerf, allowances, allowance);
                assert_eq!(meeting.value, value, "from the middle as from the end");
            }
            value
        })
        .collect()
}

#[test]
fn every_known_value_of_two_stages_without_counts_is_reached() {
    let mut reached = 0;
    for row in table::rows("staged2d_known.csv").iter().filter(|row| row[1] == "no") {
        let (name, exact, first_cut) = (&row[0], row[2] == "2E", &row[3]);
        let value: i64 = row[4].parse().unwrap();
        let plate = Plate::read(name, first_cut);
        let what = format!("{name}, {}, first cut {first_cut}", row[2]);
        assert_eq!(plate.best(exact), value, "{what}");
        let kerf = plate.widest_kerf().min(1 + i64::from(reached % 9));
        assert_eq!(plate.with_kerf(kerf).best(exact), value, "{what}, with a kerf of {kerf}");
        reached += 1;
    }
    println!("{reached} of {reached} known values reached, without and with a kerf");
    assert!(reached >= 200, "the whole set: {reached}");
}

#[test]
fn every_known_value_of_two_stages_with_counts_is_reached_where_allowances_are_few() {
    let mut reached = 0;
    for row in table::rows("staged2d_known.csv").iter().filter(|row| row[1] == "yes") {
        let (name, exact, first_cut) = (&row[0], row[2] == "2E", &row[3]);
        let value: i64 = row[4].parse().unwrap();
        let plate = Plate::read(name, first_cut);
        let what = format!("{name}, {}, first cut {first_cut}", row[2]);
        assert_eq!(plate.best_with_counts(exact), value, "{what}");
        assert!(plate.best(exact) >= value, "{what}: counts only take away");
        reached += 1;
    }
    println!("{reached} of {reached} known values with counts reached");
    assert_eq!(reached, 4);
}
