//! Where a stem may be cut, and the best row of logs along it.
//!
//! All places are reckoned from the butt. Between stretches that are cut out the stem is *sound*; a *span* is a log that
//! may be cut from sound wood.
//!
//! # Places
//! Logs may begin at the butt end of a sound stretch; at a *break* (where a crook lies, a flare ends, a flaw begins or
//! ends); where a log of every length behind such a place ends, and a kerf; and so that a log of every length ends at a
//! break or at the end of the stretch.
//!
//! # Recurrence
//! With `k` the kerf and `G(z)` the most that begins with a log at `z`
//! ```text
//! G(z) = max over spans (z, e):  worth(z, e) + max { G(e + k), S(e + 2k + slice) }
//! S(z) = max { G(z') : z' >= z }                          answer: S(0)
//! ```
//! so that wood may be left between two logs, but no slice thinner than a saw can cut off. Beyond a stretch that is cut
//! out a log may begin anywhere. Exact over the spans; `O(spans * log places)`.
//!
//! # Bound on the work
//! Every span is searched as a log of its own, so there are no more than [`Most::spans`] where that can be had: first
//! the places from which a log would end at a break are left out, then lengths that nobody named, six, four, three of them
//! kept; then places that lie within one, two, ... up to twelve inches of each other become one, the log before it cut that
//! much longer. What is left at worst is a place for every foot of stem and every break, with every length that was named.
//! Spans of plain buckings are never left out.

use super::lengths::thinned;
use super::{BuckTerms, PileStem, PlainRule};
use crate::want::Want;
use pithward_measure::Length;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

/// The thinnest slice that is cut off a stem: common practice, no source.
pub(super) const SLICE: Length = Length::inches(1);

/// How many of the lengths that nobody named are kept, where all of them would make too many spans.
const FEWER: [usize; 3] = [6, 4, 3];

/// Distances to which places are drawn together, inches.
const CLOSER: [i64; 7] = [1, 2, 3, 4, 6, 8, 12];

/// A sound stretch, from the butt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Sound {
    pub(super) from: Length,
    pub(super) to: Length,
}

/// A log that may be cut, from the butt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Span {
    pub(crate) from: Length,
    pub(crate) to: Length,
}

/// All that may be cut from a stem.
#[derive(Clone, Debug)]
pub(crate) struct Way {
    /// In order.
    pub(super) spans: Vec<Span>,
    /// Lengths of logs that were looked at.
    pub(super) lengths: Vec<Length>,
    /// Lengths that were asked for, of which those are some.
    pub(super) all_lengths: Vec<Length>,
    /// Where logs may begin, in order, and the first span there.
    starts: Vec<(Length, usize)>,
    /// For every span the start a kerf behind it, and the first of those that lie a slice behind it.
    next: Vec<(Option<usize>, usize)>,
}

/// Spans of one stem at most, see the head of this file. Moving it trades time for choice.
#[derive(Clone, Copy, Debug)]
pub(super) struct Most {
    pub(super) spans: usize,
}

impl Way {
    /// All that may be cut from a stem whose logs serve some wants.
    pub(super) fn new(
        stem: &PileStem,
        terms: &BuckTerms,
        wants: &[Want],
        all: &[Length],
        most: Most,
    ) -> Self {
        let sound = sound(stem, terms.chain_kerf);
        let fewer = FEWER.map(|most| match terms.lengths {
            Some(_) => all.to_vec(),
            None => thinned(all, wants, most),
        });
        let mut tries = vec![(all, true, Length::ZERO), (all, false, Length::ZERO)];
        tries.extend(fewer.iter().map(|few| (few.as_slice(), false, Length::ZERO)));
        let fewest = fewer.last().map_or(all, Vec::as_slice);
        tries.extend(CLOSER.map(|inches| (fewest, false, Length::inches(inches))));
        let mut best: (BTreeSet<Span>, &[Length]) = (BTreeSet::new(), all);
        for (lengths, back, closer) in tries {
            let cutting = Cutting { stem, terms, lengths, back, closer };
            let spans = sound.iter().flat_map(|sound| cutting.spans(*sound)).collect();
            best = (spans, lengths);
            if best.0.len() <= most.spans {
                break;
            }
        }
        let (mut spans, lengths) = best;
        for rule in rules(all) {
            spans.extend(plain(&sound, terms.chain_kerf, all, rule));
        }
        let way = Self::of(spans.into_iter().collect(), lengths.to_vec(), &sound, terms.chain_kerf);
        Self { all_lengths: all.to_vec(), ..way }
    }

    fn of(spans: Vec<Span>, lengths: Vec<Length>, sound: &[Sound], kerf: Length) -> Self {
        let mut starts: Vec<(Length, usize)> = Vec::new();
        for (n, span) in spans.iter().enumerate() {
            if starts.last().is_none_or(|(at, _)| *at < span.from) {
                starts.push((span.from, n));
            }
        }
        let next = |span: &Span| {
            let of = sound.iter().find(|sound| sound.from <= span.from && span.to <= sound.to);
            let end = of.map_or(span.to, |sound| sound.to);
            let behind = span.to + kerf;
            let own = starts.binary_search_by_key(&behind, |(at, _)| *at).ok();
            // Beyond the end of the stretch lies wood that is cut away anyway.
            let far = |at: Length| at >= behind + kerf + SLICE || at > end && at >= behind;
            (own, starts.partition_point(|(at, _)| !far(*at)))
        };
        let next = spans.iter().map(next).collect();
        Self { spans, all_lengths: lengths.clone(), lengths, starts, next }
    }

    /// The row of spans that is worth most together, and what it is worth. A span without worth is no log.
    pub(super) fn best(&self, worth: &[Option<i64>]) -> (i64, Vec<usize>) {
        let count = self.starts.len();
        // From a start on: what begins there, and its span; what begins there or later, and its start.
        let mut own: Vec<(i64, Option<usize>)> = vec![(0, None); count];
        let mut later: Vec<(i64, Option<usize>)> = vec![(0, None); count + 1];
        let follow = |span: usize, own: &[(i64, Option<usize>)], later: &[(i64, Option<usize>)]| {
            let (kerf, slice) = self.next[span];
            let near = kerf.map_or(0, |start| own[start].0);
            let far = later[slice].0;
            if near >= far { (near, kerf) } else { (far, later[slice].1) }
        };
        for start in (0..count).rev() {
            let end = self.starts.get(start + 1).map_or(self.spans.len(), |(_, first)| *first);
            for span in self.starts[start].1..end {
                let Some(worth) = worth[span] else { continue };
                let all = worth.saturating_add(follow(span, &own, &later).0);
                if all > own[start].0 {
                    own[start] = (all, Some(span));
                }
            }
            later[start] = if own[start].1.is_some() && own[start].0 >= later[start + 1].0 {
                (own[start].0, Some(start))
            } else {
                later[start + 1]
            };
        }
        let (mut row, mut at) = (Vec::new(), later[0].1);
        while let Some(span) = at.and_then(|start| own[start].1) {
            row.push(span);
            at = follow(span, &own, &later).1;
        }
        (later[0].0, row)
    }

    /// The spans that begin at the same place, place by place.
    pub(super) fn starting_together(&self) -> impl Iterator<Item = Range<usize>> {
        let ends = self.starts.iter().skip(1).map(|(_, first)| *first).chain([self.spans.len()]);
        self.starts.iter().zip(ends).map(|((_, first), end)| *first..end)
    }

    /// The place of a span.
    pub(super) fn place(&self, span: &Span) -> Option<usize> {
        self.spans.binary_search(span).ok()
    }
}

/// The stretches of a stem that logs may lie in, from the butt.
pub(super) fn sound(stem: &PileStem, kerf: Length) -> Vec<Sound> {
    let end = stem.log.length();
    let mut cut_out = stem.cut_out.clone();
    cut_out.sort_unstable();
    let (mut sound, mut from) = (Vec::new(), Length::ZERO);
    for (begins, ends) in cut_out {
        if from < begins {
            sound.push(Sound { from, to: begins });
        }
        // Where so little is cut out that a cut is wider, the cut takes the rest.
        let clear = if begins <= Length::ZERO { ends } else { ends.max(begins + kerf) };
        from = from.max(clear);
    }
    if from < end {
        sound.push(Sound { from, to: end });
    }
    sound
}

/// What a person who thinks of no want would cut.
pub(super) fn rules(lengths: &[Length]) -> Vec<PlainRule> {
    let every = lengths.iter().rev().map(|length| PlainRule::Every(*length));
    let longest = (lengths.len() > 1).then_some(PlainRule::LongestFirst);
    longest.into_iter().chain(every).collect()
}

/// The logs of a plain bucking: one behind the other from the butt end of every sound stretch.
pub(super) fn plain(
    sound: &[Sound],
    kerf: Length,
    lengths: &[Length],
    rule: PlainRule,
) -> Vec<Span> {
    let mut spans = Vec::new();
    for Sound { from, to } in sound {
        let mut at = *from;
        let next = |at: Length| match rule {
            PlainRule::Every(length) => (at + length <= *to).then_some(length),
            PlainRule::LongestFirst => {
                lengths.iter().rev().copied().find(|length| at + *length <= *to)
            }
        };
        while let Some(length) = next(at) {
            spans.push(Span { from: at, to: at + length });
            at += length + kerf;
        }
    }
    spans
}

/// One way to make spans.
struct Cutting<'a> {
    stem: &'a PileStem,
    terms: &'a BuckTerms,
    lengths: &'a [Length],
    /// Whether logs may begin so that they end at a break.
    back: bool,
    /// Places that are closer than this are one.
    closer: Length,
}

impl Cutting<'_> {
    /// The spans of one sound stretch.
    fn spans(&self, sound: Sound) -> BTreeSet<Span> {
        let Sound { from, to } = sound;
        let kerf = self.terms.chain_kerf;
        let breaks = self.stem.breaks.iter().copied().filter(|at| *at > from && *at < to);
        let breaks: Vec<Length> = breaks.collect();
        let mut open: BTreeSet<Length> = breaks.iter().copied().chain([from]).collect();
        if self.back {
            let ends = breaks.iter().map(|at| *at - kerf).chain([to]);
            let back = ends.flat_map(|end| self.lengths.iter().map(move |length| end - *length));
            open.extend(back.filter(|at| *at > from));
        }
        // Nothing thinner than a slice comes off the butt.
        open.retain(|at| *at == from || from > Length::ZERO || *at >= kerf + SLICE);
        let mut known: BTreeMap<Length, ()> = BTreeMap::new();
        let mut spans = BTreeSet::new();
        while let Some(at) = open.pop_first() {
            if known.insert(at, ()).is_some() {
                continue;
            }
            for length in self.lengths {
                let end = self.end(at, *length, sound);
                if end > to {
                    continue;
                }
                spans.insert(Span { from: at, to: end });
                if end + kerf < to && !known.contains_key(&(end + kerf)) {
                    open.insert(end + kerf);
                }
            }
        }
        spans
    }

    /// Where a log of some length ends: a little later where the next may then begin at a place that is known, or
    /// where what is left of the stem is no slice.
    fn end(&self, at: Length, length: Length, sound: Sound) -> Length {
        let kerf = self.terms.chain_kerf;
        let end = at + length;
        let longest = at + self.terms.longest;
        let mut drawn = end;
        if self.closer > Length::ZERO {
            let behind = (end + kerf - sound.from).ceil_to(self.closer) + sound.from - kerf;
            if behind <= sound.to && behind <= longest {
                drawn = behind;
            }
        }
        let stem = self.stem.log.length();
        let left = sound.to - drawn;
        if sound.to == stem && left > Length::ZERO && left < kerf + SLICE && stem <= longest {
            return stem;
        }
        drawn
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pithward_geometry::Log;
    use proptest::prelude::*;

    const KERF: Length = Length::sixty_fourths(24);

    fn inches(inches: i64) -> Length {
        Length::inches(inches)
    }

    fn stem(feet: i64, cut_out: Vec<(Length, Length)>, breaks: Vec<Length>) -> PileStem {
        let (small, butt) = (inches(12), inches(18));
        let log = Log::new(small, butt, Length::feet(feet), Length::ZERO, Length::ZERO).unwrap();
        PileStem { log, menu: 0, cut_out, breaks }
    }

    fn terms(lengths: &[Length]) -> BuckTerms {
        BuckTerms {
            chain_kerf: KERF,
            lengths: Some(lengths.to_vec()),
            shortest: Length::feet(1),
            longest: Length::feet(100),
        }
    }

    fn way(stem: &PileStem, lengths: &[Length], spans: usize) -> Way {
        Way::new(stem, &terms(lengths), &[], lengths, Most { spans })
    }

    /// The same where nobody named the lengths.
    fn unnamed(stem: &PileStem, lengths: &[Length], spans: usize) -> Way {
        let terms = BuckTerms { lengths: None, ..terms(lengths) };
        Way::new(stem, &terms, &[], lengths, Most { spans })
    }

    /// Whether a log may follow another, said anew: a kerf between them, or what is cut out, or a slice that is cut off.
    fn may_follow(stem: &PileStem, one: Span, other: Span) -> bool {
        let gap = other.from - one.to;
        let beyond = stem.cut_out.iter().any(|(from, to)| one.to <= *from && *to <= other.from);
        gap == KERF || gap >= KERF * 2 + SLICE || beyond && gap >= KERF
    }

    /// The most that any row of spans is worth, by trying all of them.
    fn by_trying(stem: &PileStem, way: &Way, worth: &[Option<i64>], last: Option<usize>) -> i64 {
        let next = |n: &usize| {
            worth[*n].is_some()
                && last.is_none_or(|one| may_follow(stem, way.spans[one], way.spans[*n]))
        };
        let first = last.map_or(0, |last| last + 1);
        let of = |n: usize| worth[n].unwrap_or(0) + by_trying(stem, way, worth, Some(n));
        (first..way.spans.len()).filter(next).map(of).max().unwrap_or(0)
    }

    proptest! {
        #[test]
        fn prop_the_best_row_is_the_best_of_all_rows(
            feet in 8_i64..22,
            lengths in prop::collection::btree_set(40_i64..110, 1..4),
            cut in prop::option::of((20_i64..150, 0_i64..20)),
            bend in prop::option::of(20_i64..200),
            worths in prop::collection::vec(prop::option::weighted(0.9, 1_i64..100), 200),
        ) {
            let end = Length::feet(feet);
            let cut_out = cut.map(|(from, long)| (inches(from), inches(from + long) + Length::nm(1)));
            let cut_out: Vec<_> = cut_out.filter(|(_, to)| *to < end).into_iter().collect();
            let breaks: Vec<_> = bend.map(inches).filter(|at| *at < end).into_iter().collect();
            let stem = stem(feet, cut_out, breaks);
            let lengths: Vec<Length> = lengths.into_iter().map(inches).collect();
            let way = way(&stem, &lengths, 1_000);
            let worth: Vec<Option<i64>> =
                (0..way.spans.len()).map(|n| worths[n % worths.len()].map(|w| w * 7 + n as i64)).collect();
            let (most, row) = way.best(&worth);
            prop_assert_eq!(row.iter().filter_map(|n| worth[*n]).sum::<i64>(), most);
            for pair in row.windows(2) {
                prop_assert!(may_follow(&stem, way.spans[pair[0]], way.spans[pair[1]]));
            }
            for span in &way.spans {
                prop_assert!(span.from >= Length::ZERO && span.from < span.to && span.to <= end);
                let clear = |(from, to): &(Length, Length)| span.to <= *from || *to <= span.from;
                prop_assert!(stem.cut_out.iter().all(clear), "what is cut out is in no log");
            }
            prop_assert_eq!(most, by_trying(&stem, &way, &worth, None));
        }
    }

    #[test]
    fn logs_may_begin_and_end_at_a_break() {
        let (bend, long) = (inches(130), inches(60));
        let way = way(&stem(20, Vec::new(), vec![bend]), &[long], 1_000);
        let has = |from: Length| way.place(&Span { from, to: from + long }).is_some();
        assert!(has(bend), "begins there");
        assert!(has(bend - KERF - long), "ends a kerf before it");
        assert!(has(Length::ZERO) && has(long + KERF), "and from the butt as ever");
        assert!(has(Length::feet(20) - long), "and at the end");
    }

    #[test]
    fn the_limit_on_spans_is_kept_and_plain_buckings_stay() {
        let stem = stem(60, Vec::new(), vec![inches(101), inches(222), inches(404)]);
        let lengths: Vec<Length> = (0..6).map(|n| inches(75 + 24 * n)).collect();
        let all = way(&stem, &lengths, usize::MAX);
        for most in [400, 200, 150] {
            let way = unnamed(&stem, &lengths, most);
            let plain: usize = rules(&lengths).len();
            assert!(
                all.spans.len() > way.spans.len(),
                "{} of {}",
                way.spans.len(),
                all.spans.len()
            );
            assert!(way.spans.len() <= most + 8 * plain, "{} for {most}", way.spans.len());
            for rule in rules(&lengths) {
                for span in super::plain(&sound(&stem, KERF), KERF, &lengths, rule) {
                    assert!(way.place(&span).is_some(), "{rule:?} {span:?}");
                }
            }
            let long = |span: &Span| span.to - span.from;
            assert!(way.spans.iter().all(|span| {
                lengths.iter().any(|l| long(span) >= *l && long(span) <= *l + inches(12))
            }));
        }
    }

    #[test]
    fn what_is_cut_out_is_at_least_a_kerf() {
        let thin = (inches(100), inches(100) + Length::nm(10));
        let stem = stem(20, vec![thin], Vec::new());
        let sound = sound(&stem, KERF);
        assert_eq!(sound[0], Sound { from: Length::ZERO, to: inches(100) });
        assert_eq!(sound[1], Sound { from: inches(100) + KERF, to: Length::feet(20) });
    }
}
