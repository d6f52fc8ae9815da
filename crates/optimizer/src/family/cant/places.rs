//! Where the faces of cants may be tried.

use super::bounded::Place;
use super::{Search, aside};
use crate::column::UNIT;
use crate::flitch::Bounds;
use crate::site::Site;
use pithward_geometry::Quarter;

/// One height of cant and the places of its upper face that may be best, from the middle outward.
pub(super) struct Height {
    pub(super) height: i64,
    /// The upper face is the one that moves out; else the lower one.
    pub(super) up: bool,
    /// Place, and what the side boards are worth there.
    pub(super) places: Vec<(i64, i64)>,
    /// Every place where the lower side gains a board, and the last place of all.
    pub(super) gains: Vec<i64>,
    /// What its planks may be worth more than those of a higher cant.
    pub(super) square: i64,
}

impl Height {
    /// The most that its side boards are worth: they only rise from place to place.
    pub(super) fn most_sides(&self) -> i64 {
        self.places.last().map_or(0, |(_, sides)| *sides)
    }

    /// What its planks may be worth at most at places from one that was searched to another, for every allowance: by those of
    /// a cant that holds them all. `None` where that is no more than there.
    pub(super) fn most_planks(
        &self,
        search: &mut Search<'_>,
        near: i64,
        far: i64,
    ) -> Option<Vec<i64>> {
        let [nearest, furthest] = [near, far].map(|top| faces(self.height, top));
        let holding =
            Bounds { up: nearest.up.max(furthest.up), low: nearest.low.max(furthest.low) };
        let own = search.planks(nearest);
        let holding = search.planks(holding);
        aside::most_planks(search, &own, nearest, &holding)
    }

    /// The nearest places of the upper face and of the lower one between two places: there the sides have most room.
    pub(super) fn nearest(&self, near: i64, far: i64) -> [i64; 2] {
        [near.min(far), self.height - near.max(far)]
    }

    /// A place between two where a side gains something, or else in the middle; `None` where they are too near to each other.
    pub(super) fn between(&self, near: i64, far: i64) -> Option<i64> {
        let (low, high) = (near.min(far), near.max(far));
        let within = |top: &&i64| (low + 1..high).contains(*top);
        let gains: Vec<i64> = self.gains.iter().filter(within).copied().collect();
        let middle = low + (high - low) / 2;
        gains.get(gains.len() / 2).copied().or((high - low > CLOSE).then_some(middle))
    }
}

/// How closely places are looked at where a cant may be better than those on either side of it, nanometres: a thousandth
/// of an inch.
const CLOSE: i64 = 25_400;

/// How the faces of a cant bound its planks, the upper one in this place: `+u` is `-y`.
pub(super) fn faces(height: i64, top: i64) -> Bounds {
    Bounds { up: height - top, low: top }
}

/// Whether a cant of this height may have its upper face here: both faces open in the wood, with its middle between them,
/// and what lies beyond each passes between the guides.
pub(crate) fn within(site: &Site<'_>, height: i64, top: i64) -> bool {
    let bottom = height - top;
    let face = |up: bool, plane: i64| {
        let passes = plane >= site.nearest_plane(up) || site.is_sawn(Quarter::First, up, plane);
        passes && site.opens(Quarter::First, up, plane)
    };
    face(true, top) && face(false, bottom)
}

/// Places of a face that are looked at in one direction where wood is not round, unless all of them bound something. Twice
/// as many find a few tenths of a per cent more, in twice the time.
pub(super) const MOST_PLACES: usize = 4;

/// Keeps the first and the last of some places, and some between, evenly.
fn spread(places: &mut Vec<(i64, i64)>, most: usize) {
    let (count, last) = (places.len(), most - 1);
    if count > most {
        *places = (0..most).map(|n| places[n * (count - 1) / last]).collect();
    }
}

/// The heights of cant, each with the places that may be best: in the middle of the wood, and where the side boards
/// together are worth more than at any place nearer to it. A place that is not is no better than a nearer one, where the
/// planks are worth as much or more. In round wood one direction stands for both; elsewhere at most so many are kept in each.
pub(super) fn all(search: &Search<'_>, most: usize) -> Vec<Height> {
    let (site, kerf) = (search.site, search.site.kerf);
    let alike = site.is_alike();
    let gains = [side_gains(search, false), side_gains(search, true)];
    let mut all = Vec::new();
    for height in heights(search) {
        let square = most_square(search, height);
        let (centre, sawn) = middle(site, height);
        if !within(site, height, centre) {
            continue;
        }
        for up in [true, false] {
            let beyond = |top: &i64| if up { *top > centre } else { *top < centre };
            let gained = gains[usize::from(up)].iter();
            let gained = gained.map(|at| if up { height + kerf - at } else { at - kerf });
            let sawn = sawn.clone();
            let mut tops: Vec<i64> = gained
                .chain(sawn)
                .filter(|top| beyond(top) && within(site, height, *top))
                .collect();
            tops.sort_unstable_by_key(|top| (top - centre).abs());
            let mut places: Vec<(i64, i64)> = Vec::new();
            for top in std::iter::once(centre).chain(tops.iter().copied()) {
                let sides = sides(search, height, top);
                let more = |(_, most): &(i64, i64)| sides.div_euclid(UNIT) > most.div_euclid(UNIT);
                if places.last().is_none_or(more) {
                    places.push((top, sides));
                }
            }
            if !alike {
                spread(&mut places, most);
            }
            if up || places.len() > 1 {
                let mut gains = tops;
                gains.push(last_place(site, height, centre, up));
                all.push(Height { height, up, places, gains, square });
            }
            if alike {
                break;
            }
        }
    }
    all
}

/// The last place of the upper face of a cant on one side of a place in the middle of the wood.
fn last_place(site: &Site<'_>, height: i64, centre: i64, up: bool) -> i64 {
    let (mut within_wood, mut beyond) = (0, site.limit + height);
    while beyond - within_wood > 1 {
        let middle = within_wood + (beyond - within_wood) / 2;
        let top = if up { centre + middle } else { centre - middle };
        if within(site, height, top) { within_wood = middle } else { beyond = middle }
    }
    if up { centre + within_wood } else { centre - within_wood }
}

/// The upper face of a cant of this height in the middle of the wood, or as near to that as faces that are sawn already
/// allow; and where one of them is a face of it.
pub(super) fn middle(
    site: &Site<'_>,
    height: i64,
) -> (i64, impl Iterator<Item = i64> + Clone + use<>) {
    let [up, low] = [true, false].map(|up| site.view.sawn(Quarter::First, up));
    let low = low.map(|low| height - low);
    let centre = (height + 1) / 2;
    let centre = low.map_or(centre, |low| centre.max(low));
    (up.map_or(centre, |up| centre.min(up)), up.into_iter().chain(low))
}

/// The passes that a cant's square planks may save: one each, and no more of them than lie side by side.
pub(crate) fn most_square(search: &Search<'_>, height: i64) -> i64 {
    let (columns, kerf) = (search.site.columns, search.site.kerf);
    let square = columns.all.iter().filter(|c| c.width == height && !c.levels.is_empty());
    let thinnest = square.map(|column| column.thickness).min();
    thinnest.map_or(0, |thickness| {
        (2 * search.site.limit + kerf) / (thickness + kerf) * search.work.pass
    })
}

/// What the side boards of a cant can be worth at most.
pub(super) fn sides(search: &Search<'_>, height: i64, top: i64) -> i64 {
    side(search, true, top) + side(search, false, height - top)
}

/// What the boards beyond a face can be worth at most.
pub(super) fn side(search: &Search<'_>, up: bool, face: i64) -> i64 {
    search.outer(up).value_beyond(search.allowances.full(), face + search.site.kerf)
}

/// The planes at which the side that an upper face moving out (`up`) or in gives room gains a board, for any allowance:
/// the lower side, or the upper one.
pub(super) fn side_gains(search: &Search<'_>, up: bool) -> Vec<i64> {
    let outer = search.outer(!up);
    let mut gains: Vec<i64> =
        (0..search.allowances.size()).flat_map(|a| outer.steps(a)).map(|step| step.at).collect();
    gains.sort_unstable();
    gains.dedup();
    gains
}

/// The heights that a cant may have: widths, and sums of widths of one thickness, a kerf between neighbours.
/// A random width stands alone: the next wider one is better than two with a kerf between.
pub(crate) fn heights(search: &Search<'_>) -> Vec<i64> {
    let (kerf, columns) = (search.site.kerf, search.site.columns);
    let most = (2 * search.site.limit).min(search.site.mill.widest_cut.as_nm());
    let mut heights: Vec<i64> = Vec::new();
    for group in &columns.groups {
        let own = || group.columns.iter().map(|column| &columns.all[*column]);
        let widths: Vec<i64> =
            own().filter(|column| !column.random).map(|column| column.width).collect();
        let mut open: Vec<i64> = widths.clone();
        let mut sums: Vec<i64> = Vec::new();
        while let Some(sum) = open.pop() {
            if sum <= most
                && let Err(place) = sums.binary_search(&sum)
            {
                sums.insert(place, sum);
                open.extend(widths.iter().map(|width| sum + kerf + width));
            }
        }
        heights.extend(sums);
        heights.extend(own().map(|column| column.width).filter(|width| *width <= most));
    }
    heights.sort_unstable();
    heights.dedup();
    heights
}

/// Every place of these heights as one that may be opened.
pub(super) fn open_places(search: &Search<'_>, heights: &[Height]) -> Vec<Place> {
    let place = |height: &Height| {
        let Height { height, ref places, square, .. } = *height;
        let place = |(top, _): &(i64, i64)| Place::new(search, height, *top, square);
        places.iter().map(place).collect::<Vec<_>>()
    };
    heights.iter().flat_map(place).collect()
}
