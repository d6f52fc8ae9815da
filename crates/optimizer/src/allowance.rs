//! How many pieces of the counted wants a part of a pattern may still use.
//!
//! Most searches price every piece and count nothing: then there is one allowance, the empty one. Where
//! prices alone leave a gap, the counts of a few wants are carried through the recurrences exactly: an
//! allowance is a vector of remaining counts, written as one number in mixed radix, so that the empty
//! vector is 0 and the full one is the last.

/// The allowances of a few counted wants.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Allowances {
    counts: Vec<u32>,
    size: usize,
    /// `minus[a * size + b]` is `a - b`, or `usize::MAX` where `b` uses more than `a` allows.
    minus: Vec<usize>,
}

impl Allowances {
    /// Nothing is counted.
    pub fn none() -> Self {
        Self::new(Vec::new())
    }

    /// These counts, one for each counted want.
    pub fn new(counts: Vec<u32>) -> Self {
        let size = counts.iter().map(|count| *count as usize + 1).product();
        let mut minus = vec![usize::MAX; size * size];
        for a in 0..size {
            for b in 0..=a {
                if let Some(rest) = subtract(&counts, a, b) {
                    minus[a * size + b] = rest;
                }
            }
        }
        Self { counts, size, minus }
    }

    /// The same and one more counted want, of which there is one piece: the second half of the allowances are the
    /// first with that piece still allowed.
    #[must_use]
    pub fn with_one_more(&self) -> Self {
        let mut counts = self.counts.clone();
        counts.push(1);
        Self::new(counts)
    }

    /// How many allowances there are.
    pub fn size(&self) -> usize {
        self.size
    }

    /// The largest: every count in full.
    pub fn full(&self) -> usize {
        self.size - 1
    }

    /// What is left of `a` when `b` is used; `None` where it does not suffice.
    pub fn minus(&self, a: usize, b: usize) -> Option<usize> {
        // A count of nothing allows no piece: its one piece is beyond all allowances.
        let rest = if b < self.size { self.minus[a * self.size + b] } else { usize::MAX };
        (rest != usize::MAX).then_some(rest)
    }

    /// The allowance of one piece of the `n`-th counted want.
    pub fn one(&self, n: usize) -> usize {
        self.counts[..n].iter().map(|count| *count as usize + 1).product()
    }

    /// Every way to share `a` between two sides.
    pub fn shares(&self, a: usize) -> impl Iterator<Item = (usize, usize)> + '_ {
        (0..=a).filter_map(move |b| self.minus(a, b).map(|rest| (b, rest)))
    }
}

fn subtract(counts: &[u32], mut a: usize, mut b: usize) -> Option<usize> {
    let (mut rest, mut place) = (0, 1);
    for count in counts {
        let radix = *count as usize + 1;
        rest += place * (a % radix).checked_sub(b % radix)?;
        (a, b, place) = (a / radix, b / radix, place * radix);
    }
    Some(rest)
}

#[cfg(test)]
mod tests {
    use super::Allowances;

    #[test]
    fn counts_are_taken_apart_digit_by_digit() {
        let allowances = Allowances::new(vec![2, 3]);
        assert_eq!(allowances.size(), 12);
        assert_eq!((allowances.one(0), allowances.one(1)), (1, 3));
        // (2, 3) - (1, 1) = (1, 2); (0, 1) - (1, 0) does not go.
        assert_eq!(allowances.minus(11, 4), Some(7));
        assert_eq!(allowances.minus(3, 1), None);
        assert_eq!(allowances.shares(4).collect::<Vec<_>>(), [(0, 4), (1, 3), (3, 1), (4, 0)]);
        assert_eq!(Allowances::none().size(), 1);
        let nothing = Allowances::new(vec![0]);
        assert_eq!(nothing.minus(nothing.full(), nothing.one(0)), None);
    }
}
