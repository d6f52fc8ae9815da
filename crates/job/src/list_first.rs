//! How much a piece of the list weighs over what it is worth, so that the list is filled in its order.
//!
//! # Problem
//! The customer's counts come before everything else, and an earlier line before a later one. Yet the weights must stay
//! small: a search adds them up, and a bound that is close in shares of huge weights says nothing about wood.
//!
//! # Recurrence
//! Let `n` wants be counted, `b_i` the greatest worth of one piece of the `i`-th of them, and
//! ```text
//! r = min(2, 4096^(1/n))                                       in whole thousandths, rounded down
//! f_n = 9 b_n
//! f_i = max(9 b_i r^(n-i), r f_(i+1))                          for i < n
//! ```
//! A piece within the count weighs its worth and `f_i`. So every counted piece weighs ten times its own worth or more
//! ([`COUNT_FIRST`]); a piece weighs more than one of any later line, as `r > 1`; and its wood, sawn for itself, more
//! than the same wood would weigh at a later line's ten times, as long as one line's pieces are worth about what
//! another's are by the board foot. No more is promised: pieces enough of later lines may outweigh one of an earlier
//! line.
//!
//! `r` is 2 up to twelve counted wants, and falls from there so that the first weighs at most 4096 times its ten times.
//!
//! # Cost
//! `O(n)`, all in whole millionths; a power is kept to 12 places and rounded down, a weight rounds up.

use crate::log_job::COUNT_FIRST;

/// From one line of the list to the next one above it, at most, in thousandths.
const STEEPEST: i128 = 2000;
/// From the last line of the list to the first.
const WHOLE_RISE: i128 = 4096;
/// The unit of a power.
const ONE: i128 = 1_000_000_000_000;

/// What comes on top of each counted want's worth, from the greatest worth of a piece of each, in the order of the
/// list; all in millionths. Stays at the largest number where it would be larger.
pub(crate) fn list_first(greatest: &[i64]) -> Vec<i64> {
    let rise = rise(greatest.len());
    let mut firsts = Vec::with_capacity(greatest.len());
    let (mut power, mut below) = (ONE, 0_i128);
    for worth in greatest.iter().rev() {
        let own = i128::from(COUNT_FIRST - 1) * i128::from(*worth);
        let own = ceil(own.saturating_mul(power), ONE);
        let first = own.max(ceil(below.saturating_mul(rise), 1000));
        firsts.push(i64::try_from(first).unwrap_or(i64::MAX));
        (below, power) = (first, power * rise / 1000);
    }
    firsts.reverse();
    firsts
}

/// `r` in thousandths: the largest whose `n`-th power is at most 4096, and at most 2.
fn rise(n: usize) -> i128 {
    let fits = |rise: i128| {
        let mut power = ONE;
        for _ in 0..n {
            power = power * rise / 1000;
            if power > WHOLE_RISE * ONE {
                return false;
            }
        }
        true
    };
    let (mut least, mut most) = (1000, STEEPEST);
    while least < most {
        let middle = (least + most + 1) / 2;
        if fits(middle) { least = middle } else { most = middle - 1 }
    }
    least
}

fn ceil(over: i128, under: i128) -> i128 {
    over.saturating_add(under - 1).div_euclid(under)
}

#[cfg(test)]
mod tests {
    use super::{list_first, rise};
    use proptest::prelude::*;

    #[test]
    fn a_list_of_alike_pieces_doubles_upwards() {
        assert_eq!(list_first(&[]), [0_i64; 0]);
        assert_eq!(list_first(&[16]), [144]);
        assert_eq!(list_first(&[16, 16, 16]), [576, 288, 144]);
    }

    #[test]
    fn a_small_piece_before_a_large_one_still_comes_first() {
        // 9 * 1 * 2 is less than twice what the large one weighs.
        assert_eq!(list_first(&[1, 100]), [1800, 900]);
        assert_eq!(list_first(&[100, 1]), [1800, 9]);
    }

    #[test]
    fn the_rise_over_the_whole_list_is_4096_at_most() {
        assert_eq!([rise(1), rise(12), rise(13)], [2000, 2000, 1896]);
        // 4096^(1/24) is the square root of two; 4096^(1/64) is 1.1388.
        assert_eq!([rise(24), rise(64)], [1414, 1138]);
        let firsts = list_first(&[1_000_000; 64]);
        assert!(firsts[0] <= 9_000_000 * 4096, "{}", firsts[0]);
    }

    proptest! {
        #[test]
        fn prop_the_recurrence_holds(
            greatest in proptest::collection::vec(1_i64..1_000_000_000_000, 1..64),
        ) {
            let firsts = list_first(&greatest);
            prop_assert_eq!(firsts.len(), greatest.len());
            let rise = rise(greatest.len());
            for (first, worth) in firsts.iter().zip(&greatest) {
                prop_assert!(*first >= worth * 9);
            }
            for (pair, worths) in firsts.windows(2).zip(greatest.windows(2)) {
                prop_assert!(i128::from(pair[0]) * 1000 >= i128::from(pair[1]) * rise);
                prop_assert!(pair[0] + worths[0] > pair[1]);
            }
        }
    }
}
