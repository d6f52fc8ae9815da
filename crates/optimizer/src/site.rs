//! One log on one mill, seen along one frame: the numbers that every search and every sawing order go by.

use crate::column::{Columns, Rim, floor};
use crate::family::Rip;
use crate::flitch::{Bounds, Strip, StripPlace};
use pithward_geometry::{Log, Mill, Quarter, View};

/// Nanometres in a micrometre.
const MICROMETRE: i64 = 1_000;

/// Steps between planes at which boards are sought where the wood does not only narrow outward, nanometres: a quarter of
/// an inch. Half of it finds little more and costs twice the searches.
const GRID: i64 = 6_350_000;

/// One log on one mill, and the columns of what is wanted from it.
#[derive(Debug)]
pub(crate) struct Site<'a> {
    pub(crate) view: &'a View<'a>,
    pub(crate) mill: &'a Mill,
    pub(crate) columns: &'a Columns,
    /// Nanometres.
    pub(crate) kerf: i64,
    /// How far the wood reaches from the axis, nanometres: no plane lies further out.
    pub(crate) limit: i64,
    /// The nearest planes above the axis and below it at which all that lies beyond passes between the guides.
    nearest: [i64; 2],
    is_even: bool,
    is_alike: bool,
}

/// How the planes of some boards lie, and what bounds their strips.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Lie {
    pub(crate) quarter: Quarter,
    pub(crate) bounds: Bounds,
}

impl Lie {
    /// Boards across the first faces, bounded by the log's own round.
    pub(crate) const ROUND: Self = Self { quarter: Quarter::First, bounds: Bounds::ROUND };

    /// Planks between the faces of a cant.
    pub(crate) fn planks(bounds: Bounds) -> Self {
        Self { quarter: Quarter::Second, bounds }
    }
}

/// Strips of one rim within a row: where the first of them begins, and where the last ends. No other of them asks for more.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Held {
    rim: usize,
    begin: i64,
    end: i64,
}

/// The first and the last place of the `-u` edge of a row, by how far each rim reaches.
pub(crate) fn row_room(
    row: &[Held],
    lie: Lie,
    extent: impl Fn(usize) -> Option<(i64, i64)>,
) -> Option<(i64, i64)> {
    let (mut from, mut to) = (i64::MIN / 4, i64::MAX / 4);
    for Held { rim, begin, end } in row {
        let (low, high) = extent(*rim)?;
        from = from.max(low.max(-lie.bounds.low) - begin);
        to = to.min(high.min(lie.bounds.up) - end);
    }
    Some((from, to))
}

/// The two planes of a board whose outer one is so far from the axis, on the upper or the lower side.
pub(crate) fn planes(up: bool, outer: i64, thickness: i64) -> (i64, i64) {
    if up { (outer - thickness, outer) } else { (-outer, thickness - outer) }
}

impl<'a> Site<'a> {
    pub(crate) fn new(view: &'a View<'a>, mill: &'a Mill, columns: &'a Columns) -> Self {
        let reach = |quarter, up| floor(view.wood_reach(quarter, up).max(0.0).round());
        let first = reach(Quarter::First, true).max(reach(Quarter::First, false));
        let second = reach(Quarter::Second, true).max(reach(Quarter::Second, false));
        let limit = first.max(second);
        let nearest = [true, false].map(|up| nearest_plane(view, mill, limit, up));
        let clear = columns.rims.iter().all(|rim| rim.hazards().is_none());
        let is_even = view.is_round() && view.log().flaws().is_empty() && clear;
        let (kerf, is_alike) = (mill.kerf.as_nm(), is_even);
        Self { view, mill, columns, kerf, limit, nearest, is_even, is_alike }
    }

    /// The same, which is not said to be alike on all sides: what boards look like differs there.
    pub(crate) fn unlike(self) -> Self {
        Self { is_alike: false, ..self }
    }

    pub(crate) fn log(&self) -> &'a Log {
        self.view.log()
    }

    /// Where the frame's axis, which begins on the pith, lies: toward `+u` and `+h`.
    pub(crate) fn pith(&self) -> [i64; 2] {
        let basis = self.view.basis();
        [basis.u, basis.h].map(|direction| -self.view.origin_toward(direction))
    }

    /// Whether the wood is the same on every side of the axis, and no want minds where the pith is: what is found for
    /// one side is so for all.
    pub(crate) fn is_alike(&self) -> bool {
        self.is_alike
    }

    /// Whether the same strips fit on every side of the axis, and no want minds where the pith is; what they look like may
    /// differ.
    pub(crate) fn is_even(&self) -> bool {
        self.is_even
    }

    /// The lowest height that the scale can show and the blade can reach.
    pub(crate) fn lowest_blade(&self) -> i64 {
        self.mill.lowest_blade.ceil_to(self.mill.step).as_nm()
    }

    /// Whether a face at this plane lies in the wood: a pass that only touches it takes nothing off. A face that is sawn
    /// already may stay.
    pub(crate) fn opens(&self, quarter: Quarter, up: bool, plane: i64) -> bool {
        let beyond = floor(self.view.wood_reach(quarter, up).max(0.0).round()) - MICROMETRE;
        self.is_sawn(quarter, up, plane) || plane < beyond
    }

    /// Whether a side was sawn at this plane.
    pub(crate) fn is_sawn(&self, quarter: Quarter, up: bool, plane: i64) -> bool {
        self.view.sawn(quarter, up) == Some(plane)
    }

    /// The thickest board that can be freed from above: it stands above the blade with a kerf.
    pub(crate) fn deepest_board(&self) -> i64 {
        self.mill.deepest_above.as_nm() - self.kerf
    }

    /// How far past the axis the lowest plane may lie when the log rests on its bark and is not to be
    /// turned: the kerf below it is still as high as the blade can go down.
    pub(crate) fn lowest_plane(&self, quarter: Quarter) -> i64 {
        self.axis_height(quarter) - self.lowest_blade() - self.kerf
    }

    /// Height of the axis over the bed when the whole log rests on its bark with the axis level.
    pub(crate) fn axis_height(&self, quarter: Quarter) -> i64 {
        floor(self.view.bark_reach(quarter, false).max(0.0).round())
    }

    /// The nearest plane to the axis, above or below it, at which all that lies beyond, with its bark, passes between the
    /// guides, with a step of the scale to spare: printed heights may lie that much lower. 0 where the whole log does.
    pub(crate) fn nearest_plane(&self, up: bool) -> i64 {
        self.nearest[usize::from(!up)]
    }

    /// Where the `-u` edge of a strip may lie between two planes: whole nanometres, from the lowest up.
    pub(crate) fn places(
        &self,
        rim: &Rim,
        lie: Lie,
        planes: (i64, i64),
        width: i64,
    ) -> Vec<(i64, i64)> {
        let Some((from, to)) = Self::place(rim, lie, planes, width) else { return Vec::new() };
        match rim.hazards() {
            Some(hazards) => hazards.places(lie.quarter, planes, width, (from, to)),
            None => vec![(from, to)],
        }
    }

    /// The same but for what a strip must keep clear of.
    pub(crate) fn place(rim: &Rim, lie: Lie, planes: (i64, i64), width: i64) -> Option<(i64, i64)> {
        let extent = rim.extent(lie.quarter, planes)?;
        let from = (-floor_of(-extent.low)).max(-lie.bounds.low);
        let to = floor_of(extent.high).min(lie.bounds.up) - width;
        (from <= to).then_some((from, to))
    }

    /// The places that the `-u` edge of the first of some strips may take between two planes, the widest range of them;
    /// `None` when they do not fit side by side.
    pub(crate) fn room(
        &self,
        strips: &[Strip],
        lie: Lie,
        planes: (i64, i64),
    ) -> Option<(i64, i64)> {
        let heeds = |strip| self.rim(strip).is_some_and(|rim: &Rim| rim.hazards().is_some());
        if !strips.iter().any(heeds) {
            let (from, to) = self.by_how_much(strips, lie, planes)?;
            return (from <= to).then_some((from, to));
        }
        let mut rooms = vec![(i64::MIN / 4, i64::MAX / 4)];
        let mut offset = 0;
        for strip in strips {
            if let Some(rim) = self.rim(strip) {
                let places = self.places(rim, lie, planes, strip.width);
                let mut common = Vec::with_capacity(rooms.len());
                for (from, to) in rooms {
                    common.extend(places.iter().filter_map(|(low, high)| {
                        let (from, to) = (from.max(low - offset), to.min(high - offset));
                        (from <= to).then_some((from, to))
                    }));
                }
                rooms = common;
            }
            offset += strip.width + self.kerf;
        }
        rooms.into_iter().max_by_key(|(from, to)| (to - from, -from))
    }

    /// The first and the last place of the `-u` edge of the first of some strips, whatever they must keep clear of; the
    /// last is less than the first when they do not fit, and by how much tells how far they are from that. `None` where a
    /// plane misses the wood.
    pub(crate) fn by_how_much(
        &self,
        strips: &[Strip],
        lie: Lie,
        planes: (i64, i64),
    ) -> Option<(i64, i64)> {
        let mut row = Vec::with_capacity(strips.len());
        self.row(strips, &mut row);
        self.row_room(&row, lie, planes)
    }

    /// Puts strips side by side as their rims bound them.
    pub(crate) fn row(&self, strips: &[Strip], row: &mut Vec<Held>) {
        row.clear();
        let mut offset = 0;
        for strip in strips {
            let end = offset + strip.width;
            if let Some(rim) = self.rim_place(strip) {
                match row.iter_mut().find(|held| held.rim == rim) {
                    Some(held) => held.end = end,
                    None => row.push(Held { rim, begin: offset, end }),
                }
            }
            offset = end + self.kerf;
        }
    }

    /// [`Site::by_how_much`] of strips as their rims bound them.
    pub(crate) fn row_room(
        &self,
        row: &[Held],
        lie: Lie,
        planes: (i64, i64),
    ) -> Option<(i64, i64)> {
        row_room(row, lie, |rim| {
            let extent = self.columns.rims[rim].extent(lie.quarter, planes)?;
            Some((-floor_of(-extent.low), floor_of(extent.high)))
        })
    }

    /// The same of strips as they are cut, found in this log or in another that has the same columns.
    pub(crate) fn room_of(
        &self,
        strips: &[Rip],
        lie: Lie,
        planes: (i64, i64),
    ) -> Option<(i64, i64)> {
        self.room(&self.strips(strips)?, lie, planes)
    }

    /// What strips are by these columns.
    pub(crate) fn strips(&self, strips: &[Rip]) -> Option<Vec<Strip>> {
        let strip = |rip: &Rip| {
            let Some(column) = rip.column else {
                return Some(Strip { width: rip.width, place: None });
            };
            let levels = &self.columns.all[column].levels;
            let level = levels.iter().position(|level| level.length == rip.length)?;
            let stretches = &levels[level].stretches;
            let stretch = stretches.iter().position(|stretch| stretch.butt == rip.butt)?;
            let place = Some(StripPlace { column, level, stretch, allowance: 0 });
            Some(Strip { width: rip.width, place })
        };
        strips.iter().map(strip).collect()
    }

    /// The rim of a strip; `None` where it is waste.
    pub(crate) fn rim(&self, strip: &Strip) -> Option<&Rim> {
        self.rim_place(strip).map(|rim| &self.columns.rims[rim])
    }

    /// Its place in [`Columns::rims`].
    fn rim_place(&self, strip: &Strip) -> Option<usize> {
        let place = strip.place?;
        let level = &self.columns.all[place.column].levels[place.level];
        Some(level.stretches[place.stretch].rim)
    }

    /// By how much some strips fit side by side in round wood, and how fast that falls with the square of the plane. By a
    /// negative amount when they do not; `None` when the plane misses the wood.
    pub(crate) fn slack(&self, strips: &[Strip], plane: i64, bounds: Bounds) -> Option<(i64, f64)> {
        let (mut from, mut to) = ((i64::MIN, 0.0), (i64::MAX, 0.0));
        let mut offset = 0;
        for strip in strips {
            let Some(rim) = self.rim(strip) else { continue };
            let edge = floor(rim.extent(Quarter::First, (plane, plane))?.high);
            // An edge that a sawn face bounds stays where it is. The other falls as a chord's half does.
            let slope = |bound: i64| if edge < bound { 0.5 / (edge.max(1) as f64) } else { 0.0 };
            let (low, up) =
                (-edge.min(bounds.low) - offset, edge.min(bounds.up) - offset - strip.width);
            if low > from.0 {
                from = (low, slope(bounds.low));
            }
            if up < to.0 {
                to = (up, slope(bounds.up));
            }
            offset += strip.width + self.kerf;
        }
        Some((to.0 - from.0, from.1 + to.1))
    }

    /// From which plane outward boards of some columns need be sought no more often than those that are found stop
    /// fitting: on round sound wood from the axis; and the distance of planes to look at nearer than that.
    pub(crate) fn grid(&self, columns: &[usize], quarter: Quarter, up: bool) -> (i64, i64) {
        if self.is_even() {
            return (0, GRID);
        }
        let levels = columns.iter().flat_map(|column| &self.columns.all[*column].levels);
        let rims = levels.flat_map(|level| &level.stretches);
        let from = rims.map(|stretch| {
            let rim = &self.columns.rims[stretch.rim];
            if rim.hazards().is_some() { self.limit } else { rim.prism().narrows_from(quarter, up) }
        });
        (from.max().unwrap_or(0), GRID)
    }
}

/// See [`Site::nearest_plane`].
fn nearest_plane(view: &View<'_>, mill: &Mill, limit: i64, up: bool) -> i64 {
    let widest = mill.widest_cut.as_nm() as f64;
    let width = |plane: i64| view.width_beyond(Quarter::First, up, plane as f64);
    let (mut wide, mut narrow) = (-2 * limit, 2 * limit);
    if width(wide) <= widest {
        return 0;
    }
    while narrow - wide > 1 {
        let middle = wide + (narrow - wide) / 2;
        if width(middle) <= widest { narrow = middle } else { wide = middle }
    }
    narrow.max(0) + 1 + mill.step.as_nm()
}

/// The whole nanometre at or below.
pub(crate) fn floor_of(nm: f64) -> i64 {
    let toward_zero = floor(nm);
    toward_zero - i64::from(toward_zero as f64 > nm)
}
