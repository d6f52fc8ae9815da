//! Two kinds of logs whose best pattern is found by the kernel alone, so that the program over a pile can be
//! held against published sets: bars that are cut to lengths, and round sections sawn through and through on
//! whole units.

use pithward_optimizer::allowance::Allowances;
use pithward_optimizer::master::{Pattern, Priced, Pricer, UNIT};
use pithward_optimizer::stack::{Kind, Room, Stacks, Step};

/// The most valuable items on a line of a length, a kerf between neighbours, any number of each: the worth, and
/// which.
///
/// Items are a size and a worth; worthless ones are left out.
pub fn fill(length: i64, kerf: i64, items: &[(i64, i64)]) -> (i64, Vec<usize>) {
    let places: Vec<usize> =
        (0..items.len()).filter(|n| items[*n].0 <= length && items[*n].1 > 0).collect();
    let steps: Vec<[Step; 1]> =
        places.iter().map(|n| [Step { at: length, value: items[*n].1 }]).collect();
    let kinds: Vec<Kind<'_>> = places
        .iter()
        .zip(&steps)
        .map(|(n, steps)| Kind { size: items[*n].0, uses: 0, steps })
        .collect();
    let (mut line, none) = (Stacks::default(), Allowances::none());
    line.sweep(&kinds, kerf, Room { outer: length, past: 0 }, &none);
    let chosen = line.boards_beyond(&kinds, &none, 0, 0).map(|board| places[board.kind]).collect();
    (line.value_beyond(0, 0), chosen)
}

/// Bars of one length, as many as may be needed, each at a price, and lengths to be cut from them.
///
/// A piece within its count is worth [`Bars::PIECE`], which is more than a bar costs, and nothing beyond: so
/// all counts are filled, and what is left to save is bars.
#[derive(Clone, Debug)]
pub struct Bars {
    /// Length of a bar.
    pub capacity: i64,
    /// How many there are.
    pub bars: u32,
    /// Lengths asked for.
    pub sizes: Vec<i64>,
}

impl Bars {
    /// What a bar costs, millionths.
    pub const BAR: i64 = 1_000_000;
    /// What a piece within its count is worth, millionths.
    pub const PIECE: i64 = 2_000_000;
}

impl Pricer for Bars {
    type Mark = ();

    fn classes(&self) -> usize {
        1
    }

    fn logs(&self, _: usize) -> u32 {
        self.bars
    }

    fn best(&self, _: usize, prices: &[i64], least: i64) -> Priced<()> {
        let worth = |price: &i64| (Self::PIECE - price).max(0) * UNIT;
        let items: Vec<(i64, i64)> =
            self.sizes.iter().zip(prices).map(|(size, price)| (*size, worth(price))).collect();
        let (worth, chosen) = fill(self.capacity, 0, &items);
        let value = worth - Self::BAR * UNIT;
        let pieces = chosen.into_iter().map(|n| (n, Self::PIECE, 0));
        let pattern = (value > least).then(|| (Pattern::new(Self::BAR * UNIT, pieces), ()));
        Priced { pattern, bound: value.max(least), states: 1 }
    }

    fn suits(&self, (): &(), _: usize) -> bool {
        true
    }
}

/// A size of a pile of round sections, in whole units; worth and surplus in millionths.
#[derive(Clone, Copy, Debug)]
pub struct Board {
    /// Between the planes.
    pub thickness: i64,
    /// Across.
    pub width: i64,
    /// Worth of one within the count.
    pub worth: i64,
    /// Worth of one beyond it.
    pub surplus: i64,
}

/// Round sections, sawn through and through with planes on whole units.
#[derive(Clone, Debug)]
pub struct Rounds {
    /// Kerf, whole units.
    pub kerf: i64,
    /// Diameters with the number of logs that have them; even numbers of units.
    pub diameters: Vec<(i64, u32)>,
    /// What is wanted.
    pub boards: Vec<Board>,
}

impl Rounds {
    /// What a board is worth under prices, [`UNIT`]ths.
    fn worths(&self, prices: &[i64]) -> Vec<i64> {
        let worth =
            |(board, price): (&Board, &i64)| (board.worth - price).max(board.surplus) * UNIT;
        self.boards.iter().zip(prices).map(worth).collect()
    }

    /// The best pattern of a diameter under prices: its value, and the boards.
    pub fn saw(&self, diameter: i64, prices: &[i64]) -> (i64, Vec<usize>) {
        let worths = self.worths(prices);
        let mut thicknesses: Vec<i64> = self.boards.iter().map(|board| board.thickness).collect();
        thicknesses.sort_unstable();
        thicknesses.dedup();
        // For every thickness what it holds by its outer plane, from the outermost in.
        let mut steps: Vec<Vec<Step>> = Vec::new();
        let mut holds: Vec<Vec<Vec<usize>>> = Vec::new();
        for thickness in &thicknesses {
            let of_it: Vec<usize> = (0..self.boards.len())
                .filter(|n| self.boards[*n].thickness == *thickness)
                .collect();
            let items: Vec<(i64, i64)> =
                of_it.iter().map(|n| (self.boards[*n].width, worths[*n])).collect();
            let (mut all, mut contents) = (Vec::<Step>::new(), Vec::new());
            for at in ((thickness + 1) / 2..=diameter / 2).rev() {
                let width = (diameter * diameter - 4 * at * at).isqrt();
                let (value, chosen) = fill(width, self.kerf, &items);
                if value > all.last().map_or(0, |step| step.value) {
                    all.push(Step { at, value });
                    contents.push(chosen.into_iter().map(|n| of_it[n]).collect());
                }
            }
            steps.push(all);
            holds.push(contents);
        }
        let kinds: Vec<Kind<'_>> = thicknesses
            .iter()
            .zip(&steps)
            .map(|(size, steps)| Kind { size: *size, uses: 0, steps })
            .collect();
        let (mut side, none) = (Stacks::default(), Allowances::none());
        side.sweep(&kinds, self.kerf, Room { outer: diameter / 2, past: diameter / 2 }, &none);
        let meeting = Stacks::meet(&side, &side, self.kerf, &none, 0);
        let lower = side.lower_boards(&kinds, &none, &meeting);
        let chosen = side.upper_boards(&kinds, &none, &meeting).chain(lower);
        let boards = chosen.flat_map(|board| holds[board.kind][board.step].iter().copied());
        (meeting.value, boards.collect())
    }
}

impl Pricer for Rounds {
    type Mark = i64;

    fn classes(&self) -> usize {
        self.diameters.len()
    }

    fn logs(&self, class: usize) -> u32 {
        self.diameters[class].1
    }

    fn best(&self, class: usize, prices: &[i64], least: i64) -> Priced<i64> {
        let diameter = self.diameters[class].0;
        let (value, chosen) = self.saw(diameter, prices);
        let pieces = chosen.into_iter().map(|n| (n, self.boards[n].worth, self.boards[n].surplus));
        let pattern = (value > least).then(|| (Pattern::new(0, pieces), diameter));
        Priced { pattern, bound: value.max(least), states: 1 }
    }

    fn suits(&self, diameter: &i64, class: usize) -> bool {
        self.diameters[class].0 >= *diameter
    }
}
