//! A place's pattern: what its parts are worth together, and the boards themselves.

use super::layer::{Depths, Level, NONE, Run, board, value};
use super::shape::{AroundShape, Core, Layer};
use super::{Heart, Place, fixed, grown};
use crate::family::{Board, Found, Method, Search, Shape, line};
use pithward_geometry::Quarter;

/// The parts of a pattern, each for every allowance.
pub(super) struct Made {
    /// Of the boards across beside the heart, of the upright ones, of what is beyond both.
    levels: [Level; 3],
    runs: [Run; 2],
    pub(super) value: i64,
    /// What each part may use: the heart, the two runs, the stacks across and the upright ones.
    uses: Vec<usize>,
}

impl Made {
    pub(super) fn new(
        search: &mut Search<'_>,
        depths: &Depths,
        heart: &Heart,
        place: Place,
    ) -> Option<Self> {
        let (site, kerf) = (search.site, search.site.kerf);
        let [across, upright] = place.depths;
        let core = grown(heart, depths, place.depths);
        let within = Core { upright: heart.core.upright, ..core };
        let lies = [
            heart.core.lie(Quarter::Second),
            within.lie(Quarter::First),
            core.lie(Quarter::Second),
        ];
        let levels = lies.map(|lie| Level::new(search, lie));
        let offers = |n: usize| line::Offers::new(search, &levels[n].tables);
        let run =
            |n: usize, faces: [i64; 2]| Run::new(search, &offers(n).freed(site), faces, depths);
        let runs = [run(0, heart.core.across), run(1, heart.core.upright)];
        let all = 0..search.allowances.size();
        let (up, planes) = heart.planes();
        let own = offers(0);
        let beyond = |stacks: &crate::stack::Stacks, face: i64| -> Vec<i64> {
            all.clone().map(|a| stacks.value_beyond(a, face + kerf)).collect()
        };
        let parts = [
            all.clone().map(|a| value(search, &own, up, planes, a)).collect(),
            runs[0].values[across].clone(),
            runs[1].values[upright].clone(),
            beyond(levels[2].stacks(search, true), core.across[0]),
            beyond(levels[2].stacks(search, false), core.across[1]),
            beyond(search.outer(true), core.upright[0]),
            beyond(search.outer(false), core.upright[1]),
        ];
        drop(own);
        let (value, uses) = joined(search, &parts)?;
        Some(Self { levels, runs, value, uses })
    }
}

/// The most that parts are worth together under the full allowance, and what each of them then uses.
fn joined(search: &Search<'_>, parts: &[Vec<i64>]) -> Option<(i64, Vec<usize>)> {
    let (allowances, full) = (search.allowances, search.allowances.full());
    let size = allowances.size();
    let mut sums: Vec<Vec<(i64, usize)>> = Vec::with_capacity(parts.len());
    let mut before = vec![0; size];
    for part in parts {
        let best = |allowance: usize| {
            let mut best = (NONE, 0);
            for (own, rest) in allowances.shares(allowance) {
                if part[own] > NONE && before[rest] > NONE && part[own] + before[rest] > best.0 {
                    best = (part[own] + before[rest], own);
                }
            }
            best
        };
        let sum: Vec<(i64, usize)> = (0..size).map(best).collect();
        before = sum.iter().map(|(value, _)| *value).collect();
        sums.push(sum);
    }
    let value = before[full];
    let mut allowance = full;
    let mut uses = Vec::with_capacity(parts.len());
    for sum in sums.iter().rev() {
        let own = sum[allowance].1;
        uses.push(own);
        allowance = allowances.minus(allowance, own)?;
    }
    uses.reverse();
    (value > NONE).then_some((value, uses))
}

/// Reads back the pattern of a place.
pub(super) fn found(
    search: &mut Search<'_>,
    depths: &Depths,
    heart: &Heart,
    place: Place,
) -> Option<Found> {
    let Made { levels, runs, value, uses } = Made::new(search, depths, heart, place)?;
    let [across, upright] = place.depths;
    let core = grown(heart, depths, place.depths);
    let site = search.site;
    let offers = |n: usize| line::Offers::new(search, &levels[n].tables);
    let (up, planes) = heart.planes();
    let own = board(search, &offers(0), up, planes, uses[0]);
    let run = |n: usize, quarter: Quarter, depth: usize| {
        let offers = offers(n).freed(site);
        let faces = heart.core.of(quarter);
        let sides = runs[n].boards(search, &offers, faces, depths, (depth, uses[n + 1]));
        (depth > 0).then_some(Layer { quarter, sides })
    };
    let beyond = offers(2).freed(site);
    let past = |n: usize| -> Vec<Board> {
        let (up, stacks) = (n == 0, levels[2].stacks(search, n == 0));
        line::past(search, &beyond, stacks, (up, uses[3 + n]), core.across[n])
    };
    let flitches = |n: usize| line::beyond(search, n == 0, uses[5 + n], core.upright[n]);
    let outer = [
        Layer { quarter: Quarter::Second, sides: [past(0), past(1)] },
        Layer { quarter: Quarter::First, sides: [flitches(0), flitches(1)] },
    ];
    let inner = [run(0, Quarter::Second, across), run(1, Quarter::First, upright)];
    let layers = inner.into_iter().flatten().chain(outer).collect();
    let shape = AroundShape { kerf: site.kerf, heart: own, core: heart.core, layers };
    let value = value - fixed(search, place.depths);
    Some(search.found(Method::Around, value, Shape::Around(shape)))
}
