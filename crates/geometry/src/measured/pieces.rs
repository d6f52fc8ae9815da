//! Which of many things hang together.

/// Sets of things that hang together, by a tree each.
///
/// # Source
/// Tarjan and van Leeuwen, "Worst-case analysis of set union algorithms", Journal of the ACM 31(2), 1984: union by
/// index, path halving.
#[derive(Debug)]
pub(super) struct Pieces(Vec<u32>);

impl Pieces {
    /// Every one of them alone.
    pub(super) fn alone(count: u32) -> Self {
        Self((0..count).collect())
    }

    /// The one that stands for all that hang together with this one: the first of them.
    pub(super) fn of(&mut self, mut thing: u32) -> u32 {
        loop {
            let parent = self.0[thing as usize];
            if parent == thing {
                return thing;
            }
            let grandparent = self.0[parent as usize];
            self.0[thing as usize] = grandparent;
            thing = grandparent;
        }
    }

    /// From now on these two hang together.
    pub(super) fn join(&mut self, a: u32, b: u32) {
        let (a, b) = (self.of(a), self.of(b));
        self.0[a.max(b) as usize] = a.min(b);
    }
}

/// What there is of each piece, and what there is of all: the largest, the second, the number of pieces.
///
/// Of equals the first is the largest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Largest {
    pub(super) piece: u32,
    /// Its share of all.
    pub(super) share: f64,
    /// The second by the largest.
    pub(super) second: f64,
    /// How many others there are.
    pub(super) others: usize,
}

impl Largest {
    /// Of the weights of all pieces; what has no weight is no piece. `None` where there is none.
    pub(super) fn of(weights: &[f64]) -> Option<Self> {
        let (mut largest, mut second, mut all, mut count) = ((0, 0.0), 0.0_f64, 0.0, 0);
        for (piece, weight) in (0_u32..).zip(weights).filter(|(_, weight)| **weight > 0.0) {
            all += weight;
            count += 1;
            if *weight > largest.1 {
                second = second.max(largest.1);
                largest = (piece, *weight);
            } else {
                second = second.max(*weight);
            }
        }
        (count > 0).then(|| Self {
            piece: largest.0,
            share: largest.1 / all,
            second: second / largest.1,
            others: count - 1,
        })
    }
}
