//! How long the logs of a stem may be, where nobody says.
//!
//! A log is useful in the length that one of the wants takes, or several of them end to end with crosscuts between. A
//! sum that another useful length comes within a foot of is left out: it would hardly give anything else.

use crate::want::Want;
use pithward_measure::Length;
use std::collections::BTreeSet;

/// A sum is left out where another length is so little shorter. Moving it down finds more lengths, which cost searches.
const NEAR: Length = Length::feet(1);
/// Sums that are looked at, at most.
const MOST_SUMS: usize = 4_000;

/// Lengths of logs that wants make useful, trim included, from `shortest` to `longest`, the shortest first.
pub(super) fn useful(
    wants: &[Want],
    crosscut: Length,
    (shortest, longest): (Length, Length),
) -> Vec<Length> {
    let takes: BTreeSet<Length> =
        wants.iter().flat_map(|want| &want.cuts).map(|cut| cut.take).collect();
    let takes: Vec<Length> = takes.into_iter().filter(|take| *take <= longest).collect();
    let mut sums: BTreeSet<Length> = takes.iter().copied().collect();
    let mut latest = takes.clone();
    while !latest.is_empty() && sums.len() < MOST_SUMS {
        let more = latest.iter().flat_map(|sum| takes.iter().map(|take| *sum + crosscut + *take));
        let more: BTreeSet<Length> = more.filter(|sum| *sum <= longest).collect();
        latest = more.into_iter().filter(|sum| sums.insert(*sum)).collect();
    }
    let mut useful: Vec<Length> = takes.iter().copied().filter(|take| *take >= shortest).collect();
    for sum in sums.into_iter().filter(|sum| *sum >= shortest) {
        if !useful.iter().any(|known| *known <= sum && sum - *known < NEAR) {
            useful.push(sum);
        }
    }
    useful.sort_unstable();
    useful
}

/// No more than `most` of some lengths: those that alone serve a want first, then others as evenly as may be.
pub(super) fn thinned(lengths: &[Length], wants: &[Want], most: usize) -> Vec<Length> {
    if lengths.len() <= most || most < 2 {
        return lengths.to_vec();
    }
    let only = |want: &Want| {
        let takes: BTreeSet<Length> = want.cuts.iter().map(|cut| cut.take).collect();
        takes.into_iter().next().filter(|take| want.cuts.iter().all(|cut| cut.take == *take))
    };
    let needed = wants.iter().filter_map(only).filter(|take| lengths.contains(take));
    let mut kept: BTreeSet<Length> = needed.take(most).collect();
    for parts in (2..=most).rev() {
        let spread = (0..parts).map(|n| lengths[n * (lengths.len() - 1) / (parts - 1)]);
        let with: BTreeSet<Length> = kept.iter().copied().chain(spread).collect();
        if with.len() <= most {
            kept = with;
            break;
        }
    }
    kept.into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::want::Cut;
    use pithward_geometry::{FlawKinds, Heart};
    use pithward_trade::Wane;

    fn want(feet: &[i64]) -> Want {
        let cut = |feet: &i64| Cut {
            thickness: Length::inches(1),
            width: Length::inches(6),
            length: Length::feet(*feet),
            take: Length::feet(*feet) + Length::inches(3),
            board_feet: 1,
            worth: 1,
            extra: 1,
        };
        let cuts = feet.iter().map(cut).collect();
        let (wane, heart, tolerates) = (Wane::NONE, Heart::Any, FlawKinds::NONE);
        Want { count: None, wane, heart, tolerates, grading: None, rings: None, cuts }
    }

    fn in_inches(lengths: &[Length]) -> Vec<i64> {
        lengths.iter().map(|length| length.div_floor(Length::inches(1))).collect()
    }

    #[test]
    fn what_wants_take_and_what_several_take_together() {
        let limits = (Length::feet(8), Length::feet(20));
        let crosscut = Length::sixty_fourths(16);
        let useful = useful(&[want(&[6]), want(&[12])], crosscut, limits);
        // 12 ft; 6 and 6 is near it; 6 and 12; three of 6.
        assert_eq!(in_inches(&useful), [147, 222]);
        assert!(useful.iter().all(|length| *length >= limits.0 && *length <= limits.1));
    }

    #[test]
    fn thinned_lengths_keep_what_a_want_cannot_do_without() {
        let feet: Vec<i64> = (6..=16).collect();
        let lengths: Vec<Length> =
            feet.iter().map(|feet| Length::feet(*feet) + Length::inches(3)).collect();
        let kept = thinned(&lengths, &[want(&feet)], 6);
        assert_eq!(in_inches(&kept), [75, 99, 123, 147, 171, 195]);
        let kept = thinned(&lengths, &[want(&feet), want(&[9])], 4);
        assert!(kept.len() <= 4 && in_inches(&kept).contains(&111), "{kept:?}");
        assert_eq!(thinned(&lengths[..3], &[], 6), lengths[..3]);
    }
}
