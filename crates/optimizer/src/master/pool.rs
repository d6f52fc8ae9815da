//! The patterns known so far, and which classes they suit.

use super::{Line, Pricer, UNIT};
use crate::program::Gain;
use rayon::prelude::*;

/// Some pieces of a pattern that are worth the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pieces {
    /// The want.
    pub want: usize,
    /// Worth of one within the count, millionths.
    pub worth: i64,
    /// Worth of one beyond the count, millionths.
    pub extra: i64,
    /// How many.
    pub pieces: u32,
}

/// One way to saw a log, as the program sees it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pattern {
    /// What its work costs, [`UNIT`]ths.
    pub effort: i64,
    /// What it gives, sorted, no two alike but for their number.
    pub pieces: Vec<Pieces>,
}

impl Pattern {
    /// A pattern of single pieces: want, worth within the count and beyond it.
    pub fn new(effort: i64, pieces: impl IntoIterator<Item = (usize, i64, i64)>) -> Self {
        let mut all: Vec<(usize, i64, i64)> = pieces.into_iter().collect();
        all.sort_unstable();
        let mut pieces: Vec<Pieces> = Vec::new();
        for (want, worth, extra) in all {
            match pieces.last_mut() {
                Some(last) if (last.want, last.worth, last.extra) == (want, worth, extra) => {
                    last.pieces += 1;
                }
                _ => pieces.push(Pieces { want, worth, extra, pieces: 1 }),
            }
        }
        Self { effort, pieces }
    }

    /// Its value when a piece of want `i` is worth `max(v - prices[i], w)`, [`UNIT`]ths.
    pub fn value(&self, prices: &[i64]) -> i64 {
        let one = |p: &Pieces| (p.worth - prices[p.want]).max(p.extra) * i64::from(p.pieces) * UNIT;
        self.pieces.iter().map(one).sum::<i64>() - self.effort
    }
}

/// A pattern in the pool.
#[derive(Clone, Debug)]
pub(super) struct Entry<M> {
    pattern: Pattern,
    /// What the pricer knows it by; nothing for the empty one.
    mark: Option<M>,
    /// Worth whatever the counts, [`UNIT`]ths.
    pub(super) base: i64,
    /// Places in the list of gains, and how many pieces gain that within the count.
    pub(super) gains: Vec<(usize, u32)>,
}

/// The patterns known so far.
#[derive(Clone, Debug)]
pub(super) struct Pool<M> {
    pub(super) entries: Vec<Entry<M>>,
    /// For every class the patterns that suit it, as places in `entries`.
    pub(super) of_class: Vec<Vec<u32>>,
    pub(super) gains: Vec<Gain>,
    /// For every want its gains, the greatest first.
    pub(super) of_want: Vec<Vec<usize>>,
    counted: Vec<bool>,
}

/// The empty pattern: a log left whole.
pub(super) const WHOLE: u32 = 0;

/// Up to this many classes a new pattern is offered to all of them; beyond, to as many neighbours as
/// [`NEIGHBOURS`] on either side.
const OFFER_TO_ALL: usize = 1_500;
/// See [`OFFER_TO_ALL`].
const NEIGHBOURS: usize = 40;

impl<M: Clone + Send + Sync> Pool<M> {
    pub(super) fn new(lines: &[Line], classes: usize) -> Self {
        let empty = Entry { pattern: Pattern::default(), mark: None, base: 0, gains: Vec::new() };
        Self {
            entries: vec![empty],
            of_class: vec![vec![WHOLE]; classes],
            gains: Vec::new(),
            of_want: vec![Vec::new(); lines.len()],
            counted: lines.iter().map(|line| line.count.is_some()).collect(),
        }
    }

    /// Adds a pattern that was found for the first of some classes, and offers it to all of them and to those alike.
    pub(super) fn add<P: Pricer<Mark = M>>(
        &mut self,
        pricer: &P,
        own: &[usize],
        pattern: Pattern,
        mark: M,
    ) {
        let classes = 0..self.of_class.len();
        let near = |class: &usize| {
            self.of_class.len() <= OFFER_TO_ALL
                || own.iter().any(|own| own.abs_diff(*class) <= NEIGHBOURS)
        };
        let suited: Vec<usize> = if self.of_class.len() <= 64 {
            classes.filter(|class| own.contains(class) || pricer.suits(&mark, *class)).collect()
        } else {
            let near: Vec<usize> = classes.filter(near).collect();
            near.into_par_iter()
                .with_min_len(64)
                .filter(|class| own.contains(class) || pricer.suits(&mark, *class))
                .collect()
        };
        self.put(&suited, pattern, mark);
    }

    /// Adds a pattern for some classes.
    pub(super) fn put(&mut self, classes: &[usize], pattern: Pattern, mark: M) {
        let n = u32::try_from(self.entries.len()).expect("fewer than 2^32 patterns fit in memory");
        let mut base = -pattern.effort;
        let mut gains: Vec<(usize, u32)> = Vec::new();
        for p in &pattern.pieces {
            let within = if self.counted[p.want] { p.extra } else { p.worth };
            base += within * i64::from(p.pieces) * UNIT;
            if self.counted[p.want] && p.worth > p.extra {
                let gain = self.gain(p.want, p.worth - p.extra);
                match gains.iter_mut().find(|(known, _)| *known == gain) {
                    Some((_, pieces)) => *pieces += p.pieces,
                    None => gains.push((gain, p.pieces)),
                }
            }
        }
        gains.sort_unstable();
        for class in classes {
            self.of_class[*class].push(n);
        }
        self.entries.push(Entry { pattern, mark: Some(mark), base, gains });
    }

    fn gain(&mut self, want: usize, worth: i64) -> usize {
        let gain = Gain { want, worth };
        if let Some(known) = self.gains.iter().position(|other| *other == gain) {
            return known;
        }
        self.gains.push(gain);
        let (gains, of_want) = (&self.gains, &mut self.of_want[want]);
        let at = of_want.partition_point(|other| gains[*other].worth > worth);
        of_want.insert(at, gains.len() - 1);
        gains.len() - 1
    }

    /// Whether nothing is known but leaving logs whole.
    pub(super) fn is_new(&self) -> bool {
        self.entries.len() == 1
    }

    /// Where a class has such a pattern already.
    pub(super) fn place(&self, class: usize, pattern: &Pattern) -> Option<u32> {
        let same = |n: &u32| self.entries[*n as usize].pattern == *pattern;
        self.of_class[class].iter().copied().find(same)
    }

    /// Takes a pattern away from a class.
    pub(super) fn refuse(&mut self, class: usize, pattern: usize) {
        self.of_class[class].retain(|n| *n as usize != pattern || *n == WHOLE);
    }

    /// Value of a pattern under prices, [`UNIT`]ths.
    pub(super) fn value(&self, pattern: u32, prices: &[i64]) -> i64 {
        let entry = &self.entries[pattern as usize];
        let more = |(gain, pieces): &(usize, u32)| {
            let Gain { want, worth } = self.gains[*gain];
            (worth - prices[want]).max(0) * i64::from(*pieces)
        };
        entry.base + entry.gains.iter().map(more).sum::<i64>() * UNIT
    }

    /// The best pattern of a class under prices and its value; the earliest of equals.
    pub(super) fn best(&self, class: usize, prices: &[i64]) -> (u32, i64) {
        let mut best = (WHOLE, 0);
        for pattern in &self.of_class[class] {
            let value = self.value(*pattern, prices);
            if value > best.1 {
                best = (*pattern, value);
            }
        }
        best
    }

    pub(super) fn pattern(&self, n: usize) -> &Pattern {
        &self.entries[n].pattern
    }

    /// A pattern and what the pricer knows it by; none for a log left whole.
    pub(super) fn with_mark(&self, n: u32) -> Option<(&Pattern, &M)> {
        let Entry { pattern, mark, .. } = &self.entries[n as usize];
        Some((pattern, mark.as_ref()?))
    }

    pub(super) fn patterns(&self) -> Vec<(Pattern, Option<M>)> {
        self.entries.iter().map(|entry| (entry.pattern.clone(), entry.mark.clone())).collect()
    }

    pub(super) fn suitable(&self) -> Vec<Vec<usize>> {
        let places = |list: &Vec<u32>| list.iter().map(|n| *n as usize).collect();
        self.of_class.iter().map(places).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pattern_is_worth_what_its_pieces_are_under_the_prices() {
        let pattern = Pattern::new(7, [(1, 5, 2), (0, 10, 0), (1, 5, 2)]);
        assert_eq!(pattern.pieces.len(), 2);
        assert_eq!(pattern.value(&[0, 0]), 20 * UNIT - 7);
        assert_eq!(pattern.value(&[4, 1]), (6 + 8) * UNIT - 7);
        assert_eq!(pattern.value(&[99, 99]), 4 * UNIT - 7);
    }
}
