//! Edging on the mill: how each flitch stands, where its first edge is sawn, and which flitches stand
//! together.
//!
//! A flitch stands on one edge, its centre line level, and loses the upper edge; it is turned over onto the
//! fresh edge and ripped from the bed up, so that every width comes out full. A plank of a cant that has a
//! square edge already stands on that and is not turned.
//!
//! # Batches
//! Flitches that get the same passes may stand side by side. After the turn the heights are sums of widths
//! and kerfs, the same for all that are ripped alike; before it the height of the first pass has the slack
//! of each flitch's round edges. So flitches that are ripped alike form batches when their slacks have a
//! height in common: the least number of points that stab all intervals, taken greedily by their upper
//! ends, which is optimal but for the limits on a batch's count and its thickness together.

use crate::column::NM;
use crate::sawing::{Placed, PlacedStrip, below, lift, pass, reach, slices};
use crate::site::Site;
use pithward_geometry::{
    Angle, Basis, Body, Edging, Mill, PartId, Pass, Quarter, Rest, Stage, Support,
};
use pithward_measure::Length;

/// How one flitch is to be edged.
#[derive(Clone, Debug)]
pub(crate) struct Flitch {
    /// Which direction is up in its first stage: the side of its last strip, or of its first.
    up: Side,
    /// Its first stage saws an edge before it is turned over.
    turned: bool,
    /// Lowest and highest height of that first pass.
    first: (i64, i64),
    /// Heights from the sawn edge, from the top down.
    rips: Vec<i64>,
    /// The top one of `rips` takes off waste.
    waste: bool,
    thickness: i64,
    /// Height of the pith's plane over the bed in the first stage.
    ground: i64,
    /// How far it reaches over the bed in its first stage.
    top: i64,
}

impl Flitch {
    /// Heights over the first rip at which waste comes off in slices, when the first edge is sawn at `first`.
    fn waste_over(&self, first: i64, mill: &Mill) -> Vec<i64> {
        let top = if self.turned { first } else { self.top };
        match self.rips.first().filter(|_| self.waste) {
            Some(rip) => slices(*rip, top, mill),
            None => Vec::new(),
        }
    }

    /// How many slices of waste come off in all when the first edge is sawn at `first`.
    fn slices(&self, first: i64, mill: &Mill) -> (usize, usize) {
        let edge = if self.turned { slices(first, self.top, mill).len() } else { 0 };
        (edge, self.waste_over(first, mill).len())
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Side {
    /// `+u` is up.
    Plus,
    /// `-u` is up.
    Minus,
}

impl Side {
    fn turn(self, frame: Angle) -> Angle {
        let quarter = match self {
            Self::Plus => 90_000,
            Self::Minus => 270_000,
        };
        Angle::millidegrees((frame.as_millidegrees() + quarter) % 360_000)
    }

    /// Its direction.
    fn of(self, basis: &Basis) -> [f64; 3] {
        match self {
            Self::Plus => basis.u,
            Self::Minus => basis.u.map(|c| -c),
        }
    }

    fn other(self) -> Self {
        match self {
            Self::Plus => Self::Minus,
            Self::Minus => Self::Plus,
        }
    }
}

/// The turn of the frame in which a part's `h` is its thickness.
pub(crate) fn turn_of(site: &Site<'_>, placed: &Placed) -> Angle {
    let quarter = match placed.lie.quarter {
        Quarter::First => 0,
        Quarter::Second => 90_000,
    };
    Angle::millidegrees((site.view.up().as_millidegrees() + quarter) % 360_000)
}

/// The directions of a part: `h` is its thickness.
pub(crate) fn basis_of(site: &Site<'_>, placed: &Placed) -> Basis {
    let basis = site.view.basis();
    match placed.lie.quarter {
        Quarter::First => basis,
        Quarter::Second => Basis { h: basis.u, u: basis.h.map(|c| -c), ..basis },
    }
}

/// The one strip of a part that has its width already.
pub(crate) fn square(placed: &Placed) -> Vec<PlacedStrip> {
    vec![(-placed.lie.bounds.low, None)]
}

/// How a part is edged; `None` when it has its width already.
pub(crate) fn flitch(site: &Site<'_>, placed: &Placed) -> Option<Flitch> {
    let strips = &placed.board.strips;
    let widths: Vec<i64> = strips.iter().map(|strip| strip.width).collect();
    let kerf = site.kerf;
    let total = widths.iter().sum::<i64>() + kerf * (i64::try_from(widths.len()).unwrap_or(1) - 1);
    let bounds = placed.lie.bounds;
    let between_faces = bounds.up.saturating_add(bounds.low);
    if widths.len() == 1 && total == between_faces {
        return None;
    }
    let (from, to) = site.room_of(strips, placed.lie, (placed.from, placed.to))?;
    // So that a mark of the scale is within it.
    let half = site.mill.step.as_nm() / 2;
    let (from, to) = match placed.at {
        Some(at) => (from.max(at - half), to.min(at + half)),
        None => (from, to),
    };
    // From the bed up on a square edge: each strip's upper edge, the uppermost first.
    let rips = |widths: &mut dyn Iterator<Item = &i64>| {
        let mut height = -kerf;
        let mut heights: Vec<i64> = widths
            .map(|width| {
                height += kerf + width;
                height
            })
            .collect();
        heights.reverse();
        heights
    };
    let thickness = placed.board.thickness;
    let basis = basis_of(site, placed);
    let flush = |up: Side, mut rips: Vec<i64>| {
        let waste = total != between_faces;
        if !waste {
            rips.remove(0);
        }
        let bed = if up == Side::Plus { bounds.low } else { bounds.up };
        let top = bed + reach(site, &body(site, placed), up.of(&basis));
        Flitch { up, turned: false, first: (0, 0), rips, waste, thickness, ground: 0, top }
    };
    // What is freed stands above the blade: the wider of the outermost strips stays on the bed.
    let first_is_wider = widths.first() > widths.last();
    let (on_low, on_up) = (from == -bounds.low, to + total == bounds.up);
    if on_low && (first_is_wider || !on_up) {
        return Some(flush(Side::Plus, rips(&mut widths.iter())));
    }
    if on_up {
        return Some(flush(Side::Minus, rips(&mut widths.iter().rev())));
    }
    let up = if first_is_wider { Side::Minus } else { Side::Plus };
    let body = body(site, placed);
    let ground = reach(site, &body, up.other().of(&basis));
    let top = ground + reach(site, &body, up.of(&basis));
    // From the pith's plane to the edge that is sawn first.
    let (nearest, furthest) = match up {
        Side::Plus => (from + total, to + total),
        Side::Minus => (-to, -from),
    };
    let rips = match up {
        Side::Plus => rips(&mut widths.iter().rev()),
        Side::Minus => rips(&mut widths.iter()),
    };
    let first = (ground + nearest, ground + furthest);
    Some(Flitch { up, turned: true, first, rips, waste: true, thickness, ground, top })
}

/// The part as a solid.
fn body<'a>(site: &Site<'a>, placed: &Placed) -> Body<'a> {
    let Basis { h, u, .. } = basis_of(site, placed);
    let side = |axis: [f64; 3], sign: f64, nm: i64| below(site, axis.map(|c| sign * c), nm);
    let mut body =
        Body::whole(site.log()).cut(side(h, 1.0, placed.to)).cut(side(h, -1.0, -placed.from));
    // Bounds beyond the bark are no planes.
    for (sign, bound) in [(1.0, placed.lie.bounds.up), (-1.0, placed.lie.bounds.low)] {
        if bound < 2 * site.limit {
            body = body.cut(side(u, sign, bound));
        }
    }
    body
}

/// The batch of every flitch, from 1, and the height of its first pass.
pub(crate) fn batches(mill: &Mill, flitches: Vec<&Flitch>) -> Vec<(u32, i64)> {
    let mut rows: Vec<usize> = (0..flitches.len()).collect();
    let alike = |n: usize| {
        let flitch = flitches[n];
        // As many slices of waste wherever the first edge is sawn; else it stands alone.
        let (from, to) = flitch.first;
        let most = flitch.slices(from, mill);
        let alone = (flitch.slices(to, mill) != most).then_some(n);
        (flitch.turned, flitch.waste, flitch.up, &flitch.rips, most, alone)
    };
    // The widest first, alike together, then by the upper end of the slack.
    rows.sort_by(|a, b| {
        let upper = |n: usize| flitches[n].first.1;
        alike(*b).cmp(&alike(*a)).then(upper(*a).cmp(&upper(*b))).then(a.cmp(b))
    });
    let mut placed = vec![(0, 0); flitches.len()];
    let mut batch = 0;
    let mut rest = rows.as_slice();
    while let Some((&lead, _)) = rest.split_first() {
        batch += 1;
        let (mut from, mut to) = flitches[lead].first;
        let mut width = 0;
        let together = rest
            .iter()
            .take(mill.edging_batch as usize)
            .take_while(|row| {
                let flitch = flitches[**row];
                let (low, high) = (from.max(flitch.first.0), to.min(flitch.first.1));
                width += flitch.thickness;
                let fits =
                    alike(**row) == alike(lead) && low <= high && width <= mill.widest_cut.as_nm();
                if fits {
                    (from, to) = (low, high);
                }
                fits
            })
            .count()
            .max(1);
        let middle = from + (to - from) / 2;
        let mark = Length::nm(middle).round_to(mill.step).as_nm();
        let first = if (from..=to).contains(&mark) { mark } else { middle };
        for row in &rest[..together] {
            placed[*row] = (batch, first);
        }
        rest = &rest[together..];
    }
    placed
}

/// The edging of one flitch in its batch, and where its strips come to lie.
pub(crate) fn edge(
    site: &Site<'_>,
    placed: &Placed,
    flitch: &Flitch,
    batch: u32,
    first: i64,
) -> (Edging, Vec<PlacedStrip>) {
    let mill = site.mill;
    let strips = placed.board.strips.len();
    let widths = || placed.board.strips.iter().map(|strip| strip.width);
    let total: i64 = widths().map(|width| width + site.kerf).sum::<i64>() - site.kerf;
    let mut body = body(site, placed);
    let mut stages = Vec::new();
    let mut up = flitch.up;
    let mut freed = 0;
    let (basis, frame) = (basis_of(site, placed), turn_of(site, placed));
    // Where the strips begin, toward -u.
    let base = if flitch.turned {
        let edge = first - flitch.ground;
        let heights = slices(first, flitch.top, mill).into_iter().chain([first]);
        let passes: Vec<Pass> = heights.map(|height| pass(height, mill)).collect();
        freed += number(passes.len());
        stages.push(Stage { rest: rest(site, &body, up.turn(frame), up.of(&basis)), passes });
        body = body.cut(below(site, up.of(&basis), edge));
        let base = if up == Side::Plus { edge - total } else { -edge };
        up = up.other();
        base
    } else if flitch.up == Side::Plus {
        -placed.lie.bounds.low
    } else {
        placed.lie.bounds.up - total
    };
    // Turned over it stands as high as its first edge was sawn.
    let waste = flitch.waste_over(first, mill);
    let heights = waste.iter().chain(&flitch.rips);
    let passes = heights.map(|height| pass(*height, mill)).collect();
    stages.push(Stage { rest: rest(site, &body, up.turn(frame), up.of(&basis)), passes });
    freed += number(waste.len()) + u32::from(flitch.waste);
    // The strips fall from the top down; the one on the bed stays.
    let mut ids: Vec<PartId> = (1..strips).map(|n| PartId::Freed(freed + number(n))).collect();
    ids.push(PartId::Left);
    if up == Side::Plus {
        ids.reverse();
    }
    let mut from = base;
    let strips = widths()
        .zip(ids)
        .map(|(width, id)| {
            let strip = (from, Some(id));
            from += width + site.kerf;
            strip
        })
        .collect();
    (Edging { part: placed.part, batch, stages }, strips)
}

/// A number of parts: far fewer than 2^32 fall from one flitch.
fn number(parts: usize) -> u32 {
    u32::try_from(parts).unwrap_or(u32::MAX)
}

/// Standing on edge with the centre line level, this direction up, on whatever is lowest.
fn rest(site: &Site<'_>, body: &Body<'_>, turn: Angle, up: [f64; 3]) -> Rest {
    let down = up.map(|c| -c);
    let lowest = (reach(site, body, down) + site.view.origin_toward(down)) as f64 / NM;
    let on_edge = body.plane_facing(down).is_some_and(|plane| plane.offset - lowest < 1e-7);
    let on = if on_edge { Support::SawnEdge } else { Support::Bark };
    Rest { turn, lift: lift(body, up), on, against: None }
}
