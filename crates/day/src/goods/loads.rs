//! Which loads the hauler makes of the lumber: whole pieces, none of them over the payload.
//!
//! # Method
//! The heaviest pieces first, each on the first load that still carries it. That takes at most 11/9 of the fewest loads,
//! and one more; [`Loads::least`] is what no loading can go below.
//!
//! # Source
//! Johnson, Demers, Ullman, Garey and Graham, "Worst-case performance bounds for simple one-dimensional packing
//! algorithms", SIAM Journal on Computing 3(4), 1974, for first fit by decreasing size.

use pithward_measure::Weight;

/// Loads of lumber.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Loads {
    /// What the hauler carries at once; `None` where nobody said, and then nothing is parted.
    pub payload: Option<Weight>,
    /// All the lumber.
    pub weight: Weight,
    /// The loads, in the order in which they are filled.
    pub loads: Vec<Load>,
    /// So many loads are the least that any loading takes: the weight over the payload.
    pub least: u32,
    /// Lines of lumber of which a single piece is heavier than the payload, and how many such pieces: they are on no load.
    pub over: Vec<(usize, u32)>,
}

/// One load.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Load {
    /// What it weighs.
    pub weight: Weight,
    /// How many pieces of which line of lumber.
    pub pieces: Vec<(usize, u32)>,
}

impl Load {
    fn take(&mut self, line: usize, weight: Weight) {
        self.weight += weight;
        count(&mut self.pieces, line);
    }
}

/// One more of a line.
fn count(lines: &mut Vec<(usize, u32)>, line: usize) {
    match lines.iter_mut().find(|(other, _)| *other == line) {
        Some((_, count)) => *count += 1,
        None => lines.push((line, 1)),
    }
}

impl Loads {
    /// The loads of some pieces, each with the place of its line of lumber.
    pub fn of(pieces: &[(usize, Weight)], payload: Option<Weight>) -> Self {
        let weight = pieces.iter().map(|(_, weight)| *weight).sum();
        let Some(most) = payload else { return Self { weight, ..Self::default() } };
        let mut heavy: Vec<(usize, Weight)> = pieces.to_vec();
        heavy.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
        let (mut loads, mut over): (Vec<Load>, Vec<(usize, u32)>) = (Vec::new(), Vec::new());
        let mut carried = Weight::ZERO;
        for (line, weight) in heavy {
            if weight > most {
                count(&mut over, line);
                continue;
            }
            carried += weight;
            match loads.iter_mut().find(|load| load.weight + weight <= most) {
                Some(load) => load.take(line, weight),
                None => {
                    let mut load = Load::default();
                    load.take(line, weight);
                    loads.push(load);
                }
            }
        }
        for load in &mut loads {
            load.pieces.sort_unstable();
        }
        over.sort_unstable();
        let least = carried.div_ceil(most).and_then(|least| u32::try_from(least).ok());
        Self { payload, weight, loads, least: least.unwrap_or(0), over }
    }
}

#[cfg(test)]
mod tests {
    use super::Loads;
    use pithward_measure::Weight;
    use proptest::prelude::*;

    fn pieces(pounds: &[i64]) -> Vec<(usize, Weight)> {
        pounds.iter().enumerate().map(|(line, pounds)| (line % 3, Weight::lb(*pounds))).collect()
    }

    #[test]
    fn loads_are_whole_pieces() {
        let pounds = [600, 500, 400, 300, 200];
        let loads = Loads::of(&pieces(&pounds), Some(Weight::lb(1000)));
        let of: Vec<Weight> = loads.loads.iter().map(|load| load.weight).collect();
        assert_eq!(of, [Weight::lb(1000), Weight::lb(1000)]);
        assert_eq!(loads.least, 2);
        let loads = Loads::of(&pieces(&pounds), Some(Weight::lb(500)));
        assert_eq!((loads.over.as_slice(), loads.loads.len()), (&[(0, 1)][..], 3));
        let unknown = Loads::of(&pieces(&pounds), None);
        assert_eq!((unknown.weight, unknown.loads.len()), (Weight::lb(2000), 0));
        assert_eq!(Loads::of(&[], Some(Weight::lb(1))).loads.len(), 0);
    }

    proptest! {
        #[test]
        fn prop_every_piece_is_on_one_load_and_none_is_over(
            pounds in prop::collection::vec(1..900i64, 0..80),
            payload in 100..2000i64,
        ) {
            let most = Weight::lb(payload);
            let loads = Loads::of(&pieces(&pounds), Some(most));
            let on: u32 = loads.loads.iter().flat_map(|load| &load.pieces).map(|(_, n)| n).sum();
            let over: u32 = loads.over.iter().map(|(_, n)| n).sum();
            prop_assert_eq!((on + over) as usize, pounds.len());
            prop_assert!(loads.loads.iter().all(|load| load.weight <= most));
            let carried: Weight = loads.loads.iter().map(|load| load.weight).sum();
            let heavier = pounds.iter().filter(|pounds| **pounds > payload);
            prop_assert_eq!(carried + heavier.map(|n| Weight::lb(*n)).sum::<Weight>(), loads.weight);
            let count = u32::try_from(loads.loads.len()).unwrap();
            prop_assert!(loads.least <= count && 9 * count <= 11 * 2 * loads.least.max(1));
        }
    }
}
