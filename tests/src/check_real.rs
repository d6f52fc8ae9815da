//! Orders and plans of real logs held against the tape's own formulas, in plain coordinates.
//!
//! Nothing here knows an outline of geometry's: points of boxes are put into ellipses, samples of the bark onto the
//! bed. What is nearer to its limit than the formulas and the outlines may differ is not judged.

use crate::check;
use crate::random::Case;
use crate::random_shape::RealCase;
use crate::real_wood::{Axes, RealWood, long};
use pithward_geometry::{
    Angle, Claim, FlawKind, Heart, Mill, PartId, Region, Replayed, SawingOrder, Stage, Support,
};
use pithward_optimizer::{LogPlan, Planned};

/// How far a flaw's region may reach beyond the flaw, inches: it is drawn round it with straight sides.
pub const ROUND_IT: f64 = 0.4;

/// Distance of the stations that are looked at, inches.
const STATION: f64 = 1.0;

macro_rules! ensure {
    ($holds:expr, $($words:tt)*) => {{
        let holds: bool = $holds;
        if !holds {
            return Err(format!($($words)*));
        }
    }};
}

/// What the formulas say of one piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It is what it claims to be, with room to spare.
    True,
    /// It is not: why.
    Untrue(String),
    /// Too near to tell.
    Near,
}

/// The quarter turns of a claim from its order's frame; `None` where they are no whole number.
fn quarters(order: &SawingOrder, turn: Angle) -> Option<usize> {
    let by = (turn.as_millidegrees() - order.frame.turn.as_millidegrees()).rem_euclid(360_000);
    (by % 90_000 == 0).then(|| usize::try_from(by / 90_000).unwrap_or(0))
}

/// Stations along a piece, from one end to the other.
fn along(claim: &Claim) -> Vec<f64> {
    let (from, to) = (claim.z.from.inches_f64(), claim.z.to.inches_f64());
    let inner = (0..).map(|n| from + STATION * f64::from(n)).take_while(|z| *z < to);
    inner.chain([to]).collect()
}

/// The sides of a claim, inches: across, upward.
fn sides(claim: &Claim) -> ([f64; 2], [f64; 2]) {
    let span = |span: pithward_geometry::Span| [span.from.inches_f64(), span.to.inches_f64()];
    (span(claim.u), span(claim.h))
}

/// Judges one piece by its claim.
pub fn piece(real: &RealCase, order: &SawingOrder, claim: &Claim) -> Verdict {
    let Some(quarters) = quarters(order, claim.turn) else {
        return Verdict::Untrue("its frame is no quarter turn".to_owned());
    };
    let axes = Axes::new(&order.frame, real.wood.length(), quarters);
    let wood = depth(&real.wood, &axes, claim);
    let heart = heart(&real.wood, &axes, claim);
    let gap = from_flaws(real, &axes, claim);
    let slack = real.wood.slack();
    if wood < -slack {
        Verdict::Untrue(format!("wood is missing by {} in", -wood))
    } else if heart < -slack {
        Verdict::Untrue(format!("the pith is {} in from where it may be", -heart))
    } else if gap <= 0.0 {
        Verdict::Untrue("a flaw reaches into it".to_owned())
    } else if wood > slack && heart > slack && gap > ROUND_IT {
        Verdict::True
    } else {
        Verdict::Near
    }
}

/// How deep under the surface all of a claim lies, at the least; negative where wood is missing beyond its wane.
pub fn depth(wood: &RealWood, axes: &Axes, claim: &Claim) -> f64 {
    let (us, hs) = sides(claim);
    // Legs that would cross on a side end in its middle.
    let half = |[from, to]: [f64; 2]| 0.5 * (to - from);
    let leg_u = claim.wane_u.inches_f64().min(half(us));
    let leg_h = claim.wane_h.inches_f64().min(half(hs));
    let mut least = f64::INFINITY;
    for z in along(claim) {
        let oval = wood.at(z);
        for (u, leg_u) in [(us[0], leg_u), (us[1], -leg_u)] {
            for (h, leg_h) in [(hs[0], leg_h), (hs[1], -leg_h)] {
                for place in [[u + leg_u, h], [u, h + leg_h]] {
                    least = least.min(oval.depth(axes.point(place, z)));
                }
            }
        }
    }
    least
}

/// By how much the pith keeps a claim's rule, at the least; negative where it does not.
fn heart(wood: &RealWood, axes: &Axes, claim: &Claim) -> f64 {
    let (us, hs) = sides(claim);
    let mut least = f64::INFINITY;
    for z in along(claim) {
        let [u, h] = axes.place(wood.at(z).pith, z);
        // How far outside of each pair of sides; negative between them.
        let (beside, over) = ((us[0] - u).max(u - us[1]), (hs[0] - h).max(h - hs[1]));
        let kept = match claim.heart {
            Heart::Any => f64::INFINITY,
            Heart::Free { clear } => {
                let away = if beside.max(over) <= 0.0 {
                    beside.max(over)
                } else {
                    long([beside.max(0.0), over.max(0.0)])
                };
                away - clear.inches_f64()
            }
            Heart::Boxed { within } => {
                let off = |at: f64, [from, to]: [f64; 2]| (at - 0.5 * (from + to)).abs();
                let off = off(u, us).max(off(h, hs));
                (within.inches_f64() - off).min(-beside).min(-over)
            }
        };
        least = least.min(kept);
    }
    least
}

/// How near a flaw that a claim does not tolerate comes to any of it: to the points of a grid, less the grid's own
/// width where it is no nearer.
fn from_flaws(real: &RealCase, axes: &Axes, claim: &Claim) -> f64 {
    const GRID: u32 = 12;
    let (us, hs) = sides(claim);
    let legs = (claim.wane_u.inches_f64(), claim.wane_h.inches_f64());
    let at = |[from, to]: [f64; 2], n: u32| {
        // The outermost points lie just inside.
        let share = (f64::from(n) / f64::from(GRID)).clamp(1e-3, 1.0 - 1e-3);
        from + (to - from) * share
    };
    let cut_off = |u: f64, h: f64| {
        let corner = |at: f64, [from, to]: [f64; 2], leg: f64| {
            if leg > 0.0 { (at - from).min(to - at) / leg } else { 1.0 }
        };
        corner(u, us, legs.0) + corner(h, hs, legs.1) < 1.0
    };
    let grid = long([us[1] - us[0], hs[1] - hs[0]]) / f64::from(GRID);
    let mut least = f64::INFINITY;
    for flaw in real.case.log.flaws().iter().filter(|flaw| !claim.tolerates.holds(flaw.kind)) {
        let (from, to) = (flaw.from.inches_f64(), flaw.to.inches_f64());
        for z in along(claim).into_iter().filter(|z| from <= *z && *z <= to) {
            let oval = real.wood.at(z);
            for n in 0..=GRID {
                for m in 0..=GRID {
                    let (u, h) = (at(us, n), at(hs, m));
                    let gap = oval.from_region(&flaw.region, axes.point([u, h], z));
                    // A flaw in a corner that may be missing does no harm; at the end of a piece or of the flaw the
                    // outlines' stations decide.
                    let counts = !cut_off(u, h)
                        && z > claim.z.from.inches_f64()
                        && z < claim.z.to.inches_f64();
                    least =
                        least.min(if gap <= 0.0 && counts { 0.0 } else { (gap - grid).max(1e-9) });
                }
            }
        }
        // Between two stations of this check the flaw may begin and end.
        if claim.z.from < flaw.to && flaw.from < claim.z.to && to - from < 2.0 * STATION {
            least = least.min(1e-9);
        }
    }
    least
}

/// What an order leaves of the section: across from and to, upward from and to, as the order's own frame sees it.
type Left = [[f64; 2]; 2];

/// A log, or a part of it that is put back: its stages, what replay says of them, and what of the section it is.
struct Sawn<'o> {
    stages: &'o [Stage],
    pith: &'o [(f64, f64)],
    carried: &'o [(f64, f64)],
    left: Left,
    resaw: Option<usize>,
}

/// The stages of a log and of what is put back of it: what carries it, how high the pith lies, what clears the guides
/// and the head, and that every piece lies between planes that were sawn.
///
/// # Errors
/// The first thing that is not so.
pub fn stages(
    real: &RealCase,
    mill: &Mill,
    order: &SawingOrder,
    replayed: &Replayed,
) -> Result<(), String> {
    let whole = [[f64::NEG_INFINITY, f64::INFINITY]; 2];
    let log = Sawn {
        stages: &order.stages,
        pith: &replayed.pith,
        carried: &replayed.carried,
        left: whole,
        resaw: None,
    };
    let mut sawn: [Vec<f64>; 2] = [Vec::new(), Vec::new()];
    let mut parts = body(real, mill, order, log, &mut sawn)?;
    ensure!(order.resaws.len() == replayed.resaws.len(), "a part that is put back is not told of");
    for (n, (resaw, told)) in order.resaws.iter().zip(&replayed.resaws).enumerate() {
        let part = parts.iter().find(|(id, _)| *id == resaw.part);
        let (_, left) = part.copied().ok_or("what is put back was not freed")?;
        let own = Sawn {
            stages: &resaw.stages,
            pith: &told.pith,
            carried: &told.carried,
            left,
            resaw: Some(n + 1),
        };
        parts.extend(body(real, mill, order, own, &mut sawn)?);
    }
    between_planes(order, &sawn, real.wood.slack())
}

/// The stages of one body; the parts that its passes free, and its planes, added to those that were sawn.
fn body(
    real: &RealCase,
    mill: &Mill,
    order: &SawingOrder,
    body: Sawn<'_>,
    sawn: &mut [Vec<f64>; 2],
) -> Result<Vec<(PartId, Left)>, String> {
    let length = real.wood.length();
    let slack = real.wood.slack();
    let (kerf, axes) = (mill.kerf.inches_f64(), Axes::new(&order.frame, length, 0));
    let bark = outlines(&real.wood, &axes);
    let mut left = body.left;
    let mut parts = Vec::new();
    for (n, stage) in body.stages.iter().enumerate() {
        let quarters = quarters(order, stage.rest.turn).ok_or("a rest is no quarter turn")?;
        let (axis, sign) = UP[quarters];
        let reach = |left: &[[f64; 2]; 2], axis: usize, sign: f64| {
            let points = bark.iter().flat_map(|(_, outline)| clipped(outline, left));
            points.map(|p| sign * p[axis]).fold(f64::NEG_INFINITY, f64::max)
        };
        let ground = reach(&left, axis, -sign);
        let (small, butt) = body.pith[n];
        let [u, h] = axes.place([0.0; 2], length);
        let rise = sign * [u, h][axis];
        ensure!(
            (small - ground).abs() < slack && (butt - ground - rise).abs() < slack,
            "stage {}: the pith at {small} and {butt}, not {ground} and {}",
            n + 1,
            ground + rise
        );
        let low = |outline: &[[f64; 2]]| {
            let points = clipped(outline, &left).into_iter();
            points.map(|p| sign * p[axis] + ground).fold(f64::INFINITY, f64::min)
        };
        let (first, last) = body.carried[n];
        for z in [first, last] {
            let over = low(&outline(&real.wood, &axes, z));
            ensure!(over < slack, "stage {}: {over} in over the bed where it is carried", n + 1);
        }
        if n == 0 && body.resaw.is_none() {
            let takes = low(&bark[0].1) - low(&bark[bark.len() - 1].1);
            let told = stage.rest.lift.inches_f64();
            ensure!((takes - told).abs() < slack, "raised by {told}, it takes {takes}");
            ensure!(stage.rest.on == Support::Bark, "the round lies on bark");
        }
        for pass in &stage.passes {
            let plane = sign * (pass.height.inches_f64() - ground);
            let mut stock = left;
            if sign > 0.0 {
                stock[axis] = [plane, left[axis][1]];
            } else {
                stock[axis] = [left[axis][0], plane];
            }
            let wide = reach(&stock, 1 - axis, 1.0) + reach(&stock, 1 - axis, -1.0);
            let above = reach(&stock, axis, sign) - sign * plane;
            ensure!(
                wide < mill.widest_cut.inches_f64() + slack,
                "stage {}: {wide} in between the guides",
                n + 1
            );
            ensure!(
                above < mill.deepest_above.inches_f64() + slack,
                "stage {}: {above} in above the blade",
                n + 1
            );
            sawn[axis].extend([plane, plane + sign * kerf]);
            let number = u32::try_from(parts.len() + 1).unwrap_or(u32::MAX);
            let mut freed = left;
            if sign > 0.0 {
                freed[axis][0] = plane + kerf;
                left[axis][1] = plane;
            } else {
                freed[axis][1] = plane - kerf;
                left[axis][0] = plane;
            }
            let id = PartId::Freed(number);
            let resaw = body.resaw.and_then(|n| u32::try_from(n).ok());
            parts.push((resaw.map_or(id, |n| id.of_resaw(n)), freed));
        }
    }
    Ok(parts)
}

/// The passes of a log that replay says come near metal: all that pass within an inch of some that is still in it, and
/// none that pass it by.
///
/// # Errors
/// The first pass that is told and should not be, or is not and should.
pub fn metal(
    real: &RealCase,
    mill: &Mill,
    order: &SawingOrder,
    replayed: &Replayed,
) -> Result<(), String> {
    const NEAR: f64 = 1.0;
    let axes = Axes::new(&order.frame, real.wood.length(), 0);
    let (kerf, points) = (mill.kerf.inches_f64(), metal_points(real, &axes));
    let mut left = [[f64::NEG_INFINITY, f64::INFINITY]; 2];
    for (n, stage) in order.stages.iter().enumerate() {
        let quarters = quarters(order, stage.rest.turn).ok_or("a rest is no quarter turn")?;
        let (axis, sign) = UP[quarters];
        let (ground, _) = replayed.pith[n];
        for (m, pass) in stage.passes.iter().enumerate() {
            let plane = pass.height.inches_f64() - ground;
            let still = |p: &&[f64; 2]| {
                (0..2).all(|axis| left[axis][0] <= p[axis] && p[axis] <= left[axis][1])
            };
            let off = |p: &[f64; 2]| {
                let height = sign * p[axis];
                (height - plane - kerf).max(plane - height)
            };
            let nearest = points.iter().filter(still).map(off).fold(f64::INFINITY, f64::min);
            // What is sawn off already may lie within the flaw's drawn region all the same.
            let any = points.iter().map(off).fold(f64::INFINITY, f64::min);
            let place = pithward_geometry::Place::Log { stage: n + 1 };
            let told = replayed.metal.contains(&(place, m + 1));
            ensure!(
                told || nearest >= NEAR,
                "stage {}, pass {}: {nearest} in from metal and not told",
                n + 1,
                m + 1
            );
            ensure!(
                !told || any < NEAR + ROUND_IT,
                "stage {}, pass {}: told, {any} in from metal",
                n + 1,
                m + 1
            );
            left[axis][usize::from(sign > 0.0)] = sign * plane;
        }
    }
    Ok(())
}

/// The direction in which a region lies: a thin one is met by the ray of just that direction.
fn clock(region: &Region) -> Angle {
    match region {
        Region::Heart { .. } | Region::Ring { .. } => Angle::ZERO,
        Region::Radial { clock, .. } | Region::Side { clock, .. } | Region::Spot { clock, .. } => {
            *clock
        }
    }
}

/// Points of metal as the frame sees them: a fine grid round the pith, at stations along every metal flaw.
fn metal_points(real: &RealCase, axes: &Axes) -> Vec<[f64; 2]> {
    let metal = real.case.log.flaws().iter().filter(|flaw| flaw.kind == FlawKind::Metal);
    let mut points = Vec::new();
    for flaw in metal {
        let (from, to) = (flaw.from.inches_f64(), flaw.to.inches_f64());
        for n in 0..=8u32 {
            let z = from + (to - from) * f64::from(n) / 8.0;
            let oval = real.wood.at(z);
            for turn in 0..180i32 {
                let (sin, cos) = clock(&flaw.region).turned_by(Angle::degrees(2 * turn)).sin_cos();
                let surface = oval.surface([sin, cos]);
                for k in 0..=60u32 {
                    let away = surface * f64::from(k) / 60.0;
                    let p = [oval.pith[0] + away * sin, oval.pith[1] + away * cos];
                    if oval.from_region(&flaw.region, p) <= 0.0 {
                        points.push(axes.place(p, z));
                    }
                }
            }
        }
    }
    points
}

/// By quarter turn, which of the frame's two coordinates is up, and which way.
const UP: [(usize, f64); 4] = [(1, 1.0), (0, 1.0), (1, -1.0), (0, -1.0)];

/// Every piece lies between planes of the log; one that was edged, in one direction at least.
fn between_planes(order: &SawingOrder, sawn: &[Vec<f64>; 2], slack: f64) -> Result<(), String> {
    for (n, piece) in order.pieces.iter().enumerate() {
        let boxed = check::frame_box(&order.frame, &piece.claim).ok_or("no quarter turn")?;
        let is_sawn = |axis: usize| {
            let (from, to) = boxed[axis];
            [from, to].iter().all(|side| {
                let side = pithward_measure::Length::nm(*side).inches_f64();
                sawn[axis].iter().any(|plane| (plane - side).abs() < slack)
            })
        };
        let faces = [0, 1].into_iter().filter(|axis| is_sawn(*axis)).count();
        let needs = if piece.strip.is_some() { 1 } else { 2 };
        ensure!(faces >= needs, "piece {}: {faces} pairs of its sides are sawn", n + 1);
    }
    Ok(())
}

/// What the first rest of an order takes to be level: how much higher the lowest bark of the small end lies than that
/// of the butt; `None` without a rest, or when it is no quarter turn.
pub fn first_lift(wood: &RealWood, order: &SawingOrder) -> Option<f64> {
    let quarters = quarters(order, order.stages.first()?.rest.turn)?;
    let axes = Axes::new(&order.frame, wood.length(), quarters);
    let low = |z: f64| {
        let heights = outline(wood, &axes, z).into_iter().map(|p| p[1]);
        heights.fold(f64::INFINITY, f64::min)
    };
    Some(low(0.0) - low(wood.length()))
}

fn outline(wood: &RealWood, axes: &Axes, z: f64) -> Vec<[f64; 2]> {
    wood.at(z).outline(true, 240).into_iter().map(|p| axes.place(p, z)).collect()
}

/// The bark at stations from end to end, as the frame sees it.
fn outlines(wood: &RealWood, axes: &Axes) -> Vec<(f64, Vec<[f64; 2]>)> {
    let steps = (1u32..).find(|n| STATION * f64::from(*n) >= wood.length()).unwrap_or(1);
    (0..=steps)
        .map(|n| {
            let z = wood.length() * f64::from(n) / f64::from(steps);
            (z, outline(wood, axes, z))
        })
        .collect()
}

/// What of a closed line lies within bounds, where it enters and leaves them included.
fn clipped(outline: &[[f64; 2]], bounds: &[[f64; 2]; 2]) -> Vec<[f64; 2]> {
    let mut left = outline.to_vec();
    for axis in 0..2 {
        for (bound, sign) in [(bounds[axis][0], -1.0), (bounds[axis][1], 1.0)] {
            if !bound.is_finite() {
                continue;
            }
            let over = |p: &[f64; 2]| sign * (p[axis] - bound);
            let mut kept = Vec::new();
            for (a, b) in left.iter().zip(left.iter().cycle().skip(1)) {
                let (from, to) = (over(a), over(b));
                if from <= 0.0 {
                    kept.push(*a);
                }
                if (from <= 0.0) != (to <= 0.0) {
                    let share = from / (from - to);
                    kept.push([a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]);
                }
            }
            left = kept;
        }
    }
    left
}

/// Everything that a plan of a real log says of itself.
///
/// # Errors
/// The first thing that is not so.
pub fn plan(real: &RealCase, planned: &Planned) -> Result<(), String> {
    let case: &Case = &real.case;
    check::planned(case, planned)?;
    log_plan(real, &planned.plan)
}

/// What the plan of one real log says of its pieces and stages, whatever the counts.
///
/// # Errors
/// The first thing that is not so.
pub fn log_plan(real: &RealCase, plan: &LogPlan) -> Result<(), String> {
    let (case, order) = (&real.case, &plan.order);
    check::sizes(case, plan)?;
    check::apart(case, plan)?;
    check::parts(plan)?;
    check::heights(case, plan)?;
    for (n, piece) in order.pieces.iter().enumerate() {
        let want = &case.wants[plan.products[n].cut.want.0];
        ensure!(
            piece.claim.heart == want.heart && piece.claim.tolerates == want.tolerates,
            "piece {} claims another rule than its want's",
            n + 1
        );
        if let Verdict::Untrue(why) = self::piece(real, order, &piece.claim) {
            return Err(format!("piece {}: {why}", n + 1));
        }
    }
    stages(real, &case.mill, order, &plan.replayed)?;
    metal(real, &case.mill, order, &plan.replayed)?;
    let volume = |claim: &Claim| {
        claim.u.size().inches_f64() * claim.h.size().inches_f64() * claim.z.size().inches_f64()
    };
    let pieces: f64 = order.pieces.iter().map(|piece| volume(&piece.claim)).sum();
    let share = pieces / real.wood.volume();
    ensure!(
        (share - plan.share_of_solid).abs() < 0.003,
        "share of the solid {} against {share}",
        plan.share_of_solid
    );
    Ok(())
}
