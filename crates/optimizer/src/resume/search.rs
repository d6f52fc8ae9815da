//! The best pattern of what is left on the mill, if it is better than what is known.
//!
//! # Method
//! A pattern is worth at most what it is worth under any prices of the counted wants, and the price of the pieces that the
//! counts allow (see [`crate::counts`]). So under each prices only patterns are sought that may beat the best known
//! ([`Search::best_above`]): most searches end at once with nothing. Where a pattern gives more than is wanted, the prices
//! of those wants rise, of those that it is short of they fall, by ever smaller steps.
//!
//! The searches end when nothing better can be, when no count is exceeded, or by the states made: this is asked at the mill.

use crate::column::{Prices, UNIT, Work, floor};
use crate::counts;
use crate::family::{Found, Method, Search};
use crate::site::Site;
use crate::want::{Cut, Want};

/// No further search begins once so many states were made in one direction of the log.
const MOST_STATES: u64 = 150_000;

/// Searches under prices at most.
const MOST_ROUNDS: i64 = 5;

/// A pattern, and what it is worth under the counts, millionths.
#[derive(Debug)]
pub(super) struct Better {
    pub(super) found: Found,
    pub(super) worth: i64,
}

/// Patterns that are worth more than `least` millionths, each better than the one before; `states` counts the work.
pub(super) fn better(
    site: &Site<'_>,
    wants: &[Want],
    methods: &[Method],
    least: i64,
    states: &mut u64,
) -> Vec<Better> {
    let mut known: Vec<Better> = Vec::new();
    let mut discount = begin(wants);
    let mut made = 0;
    for round in 1..=MOST_ROUNDS {
        let floor = known.last().map_or(least, |better| better.worth);
        let allowed: i64 = wants
            .iter()
            .zip(&discount)
            .map(|(want, price)| price * i64::from(want.count.unwrap_or(0)))
            .sum();
        let prices = Prices::of(discount.clone(), Work::TIES);
        let mut search = Search::new(site, wants, &prices);
        let found = search.best_above(methods, (floor - allowed).max(0) * UNIT);
        made += search.states();
        let Some(found) = found else { break };
        let cuts = found.cuts();
        let worth = counts::worth(wants, &cuts);
        let mut given = vec![0i64; wants.len()];
        for cut in &cuts {
            given[cut.want.0] += 1;
        }
        if worth > floor {
            known.push(Better { found, worth });
        }
        let mut exceeded = false;
        for (n, want) in wants.iter().enumerate() {
            let Some(count) = want.count else { continue };
            let most = want.cuts.iter().map(|cut| cut.worth - cut.extra).max().unwrap_or(0);
            let over = given[n] - i64::from(count);
            exceeded |= over > 0 && most > 0;
            // All of the worth at once where nothing is wanted; a third at first else, divided among the count.
            let by = match count {
                0 if over > 0 => most,
                0 => 0,
                count => most.saturating_mul(over) / (3 * i64::from(count) * round),
            };
            discount[n] = (discount[n] + by).clamp(0, most);
        }
        if !exceeded && discount.iter().all(|price| *price == 0) || made > MOST_STATES {
            break;
        }
    }
    *states += made;
    known
}

/// The prices to begin with: a piece of a counted want is worth, by the board foot, a little more than what is wanted as
/// it comes. At its full worth wood would be given up for more of it than is wanted.
fn begin(wants: &[Want]) -> Vec<i64> {
    let free = wants.iter().filter(|want| want.count.is_none()).flat_map(|want| &want.cuts);
    let dearest = free.max_by(|a, b| by_foot(a).total_cmp(&by_foot(b)));
    let Some(foot) = dearest.map(by_foot) else { return vec![0; wants.len()] };
    let price = |want: &Want| {
        if want.count.is_none() {
            return 0;
        }
        let over = want.cuts.iter().map(|cut| {
            let plain = 1.25 * foot * cut.board_feet as f64;
            (cut.worth - floor(plain)).clamp(0, cut.worth - cut.extra.min(cut.worth))
        });
        over.min().unwrap_or(0)
    };
    wants.iter().map(price).collect()
}

/// What a piece is worth by the board foot.
fn by_foot(cut: &Cut) -> f64 {
    cut.worth as f64 / cut.board_feet.max(1) as f64
}
