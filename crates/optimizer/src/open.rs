//! How to open one log: search, saw, replay.

use crate::by_grade;
use crate::column::{Columns, Prices, UNIT};
use crate::counts::{self, Ask, Known, Valued};
use crate::family::{Found, Method, Search};
use crate::looks::{self, Giving, Judged, judge};
use crate::metal::{Later, NearMetal, holds_metal};
use crate::plan::{
    Answer, LogPlan, MethodResult, Obstacle, PlanFault, Planned, Product, Proof, Rests, Settings,
    Tally, Taper, WhyNone,
};
use crate::rests::Laying;
use crate::sawing::{Sawn, Starts, saw_from};
use crate::site::Site;
use crate::want::{Cut, CutId, Want, WantId};
use pithward_geometry::{Frame, Log, Mill, ReplayFault, View, confirm};
use pithward_measure::Length;
use pithward_trade::boxed::smallest_log;
use rayon::prelude::*;
use std::cmp::Reverse;

/// Plans one log: the best pattern of the settings' methods, sawn, replayed at the exact and at the printed
/// heights, with the proof of how good it is.
///
/// # Errors
/// Settings that contradict the mill; or a fault of this program, told as such: replay must confirm every
/// plan before anyone sees it.
pub fn open(
    log: &Log,
    mill: &Mill,
    wants: &[Want],
    settings: &Settings,
) -> Result<Answer, PlanFault> {
    let obstacles = off_the_mill(log, mill, settings)?;
    if !obstacles.is_empty() {
        return Ok(Answer::Impossible(obstacles));
    }
    if is_graded(wants) {
        return by_grade::open(log, mill, wants, settings, None);
    }
    let free = Prices::full(wants);
    let mut laying = Laying::new(log, mill, wants, settings, &free);
    let mut frames = laying.search();
    let metal = holds_metal(log);
    if metal && settings.methods.contains(&Method::Quarter) {
        // Which half is set aside follows from how the log lies.
        let other = frames.first().map(|(frame, _)| (frame.half_turned(), Known::Nothing));
        frames.extend(other);
    }
    // Where counts limit what comes, the frame that is best without them need not be.
    let taper = log.is_round() && settings.taper == Taper::Searched;
    // What replay does not confirm in the best frame may be confirmed in the next; there the blade may come near metal later.
    let mut best = None;
    for (frame, known) in frames {
        let answer = open_knowing(log, mill, wants, settings, (frame, known))?;
        let better = match (&best, &answer) {
            (None, _) => true,
            (Some(Answer::Planned(best)), Answer::Planned(other)) => {
                rank(&other.plan) > rank(&best.plan)
            }
            (Some(_), answer) => matches!(answer, Answer::Planned(_)),
        };
        if better {
            best = Some(answer);
        }
        if !metal && !taper && matches!(best, Some(Answer::Planned(_))) {
            break;
        }
    }
    let Some(Answer::Planned(mut planned)) = best else {
        return Ok(best.unwrap_or(Answer::Impossible(obstacles)));
    };
    planned.plan.rests = laying.rests();
    planned.proof.states += laying.states;
    Ok(Answer::Planned(planned))
}

/// What a method gives: its plan, or why there is none.
pub type ByMethod = (Method, Result<LogPlan, Vec<Obstacle>>);

/// Plans one log by each of the settings' methods alone, side by side: as [`open()`], each laid as suits it best, without a
/// proof.
///
/// # Errors
/// As [`open()`].
pub fn open_each(
    log: &Log,
    mill: &Mill,
    wants: &[Want],
    settings: &Settings,
) -> Result<Vec<ByMethod>, PlanFault> {
    let off = off_the_mill(log, mill, settings)?;
    if off.is_empty() && is_graded(wants) {
        return by_grade::open_each(log, mill, wants, settings);
    }
    let one = |method: &Method| -> Result<ByMethod, PlanFault> {
        let only = Settings { methods: vec![*method], ..settings.clone() };
        let plan = if off.is_empty() {
            match open(log, mill, wants, &only)? {
                Answer::Planned(planned) => Ok(planned.plan),
                Answer::Impossible(why) => Err(why),
            }
        } else {
            Err(off.clone())
        };
        Ok((*method, plan))
    };
    settings.methods.par_iter().map(one).collect()
}

/// Plans one log that lies already as it is to be sawn: as [`open()`], all planes along this frame.
///
/// # Errors
/// As [`open()`].
pub fn open_laid(
    log: &Log,
    mill: &Mill,
    wants: &[Want],
    settings: &Settings,
    frame: Frame,
) -> Result<Answer, PlanFault> {
    let obstacles = off_the_mill(log, mill, settings)?;
    if obstacles.is_empty() && is_graded(wants) {
        return by_grade::open(log, mill, wants, settings, Some(frame));
    }
    open_knowing(log, mill, wants, settings, (frame, Known::Nothing))
}

fn is_graded(wants: &[Want]) -> bool {
    wants.iter().any(|want| want.grading.is_some())
}

/// The same where something is known of the search in that frame.
fn open_knowing(
    log: &Log,
    mill: &Mill,
    wants: &[Want],
    settings: &Settings,
    (frame, known): (Frame, Known),
) -> Result<Answer, PlanFault> {
    let mut obstacles = off_the_mill(log, mill, settings)?;
    if !obstacles.is_empty() {
        return Ok(Answer::Impossible(obstacles));
    }
    let view = View::new(log, frame);
    let clear = looks::at_best(wants);
    let columns = Columns::new(&view, mill.crosscut_kerf, &clear);
    let site = Site::new(&view, mill, &columns);
    let best = counts::best_knowing(&site, &clear, &settings.methods, Ask::ALONE, known)
        .ok_or(PlanFault::Program)?;
    obstacles.extend(guides(&site, &settings.methods));
    let mut plans: Vec<LogPlan> = Vec::new();
    for Valued { found, .. } in &best.patterns {
        match log_plan(&site, (wants, &Giving::Worth), settings, found)? {
            Made::Plan(plan) => plans.push(*plan),
            Made::Unsawable(fault) => {
                plans.extend(second_best(&view, mill, wants, settings, found.method)?);
                obstacles.push(Obstacle::Unsawable { method: found.method, fault });
            }
        }
    }
    let first = first_of(&mut plans);
    obstacles.extend(none_given(log, wants, first));
    let Some(mut plan) = first.filter(|plan| !plan.products.is_empty()).cloned() else {
        return Ok(Answer::Impossible(obstacles));
    };
    plan.later = Later::than(&plan, plans.iter());
    let (mut board_feet_bound, more_states) =
        most_board_feet(&site, &clear, (&settings.methods, best.bound), most_sawn(&plans));
    let mut worth_bound = best.bound;
    debug_assert!(
        !site.is_alike() || worth_bound >= plan.worth && board_feet_bound >= plan.board_feet,
        "a bound below the plan"
    );
    if !site.is_alike() {
        // Two searches of wood that is not round need not have looked at the same places.
        worth_bound = worth_bound.max(plan.worth);
        board_feet_bound = board_feet_bound.max(plan.board_feet);
    }
    let proof = Proof {
        methods: settings.methods.clone(),
        worth_bound,
        board_feet_bound,
        programs: best.programs,
        states: best.states + more_states,
    };
    let methods = plans.iter().map(summary).collect();
    Ok(Answer::Planned(Box::new(Planned { plan, proof, methods, obstacles })))
}

/// Puts plans in the order of their methods; the first by [`rank`], and around last.
pub(crate) fn first_of(plans: &mut [LogPlan]) -> Option<&LogPlan> {
    plans.sort_by_key(|plan| Method::ALL.iter().position(|method| *method == plan.method));
    let place = |plan: &LogPlan| (rank(plan), Reverse(plan.method == Method::Around));
    plans.iter().max_by_key(|plan| place(plan))
}

/// What is worth more, comes near metal less often or later, and is less work.
pub(crate) fn rank(plan: &LogPlan) -> (i64, Reverse<NearMetal>, Reverse<usize>) {
    let order = &plan.order;
    let work = order.passes() + 3 * (order.turns() + order.moves());
    (plan.worth, Reverse(plan.near_metal()), Reverse(work))
}

/// What keeps the log off the mill, once the settings suit it.
fn off_the_mill(log: &Log, mill: &Mill, settings: &Settings) -> Result<Vec<Obstacle>, PlanFault> {
    if settings.tolerance < mill.step {
        return Err(PlanFault::Tolerance { tolerance: settings.tolerance, step: mill.step });
    }
    if settings.methods.is_empty() {
        return Err(PlanFault::NoMethods);
    }
    Ok(too_large(log, mill))
}

/// What keeps the log off the mill altogether.
pub(crate) fn too_large(log: &Log, mill: &Mill) -> Vec<Obstacle> {
    let mut obstacles = Vec::new();
    let (butt, limit) = (log.widest_over_bark(), mill.largest_diameter);
    if butt > limit {
        let (small, growth) =
            (log.small_end_over_bark(), log.butt_over_bark() - log.small_end_over_bark());
        // Of a log that is not round the ends do not tell where it is how thick.
        let length_that_fits = (small <= limit && log.sections().is_none()).then(|| {
            let share = (limit - small) / growth;
            Length::from_inches_f64_down(log.length().inches_f64() * share)
        });
        obstacles.push(Obstacle::TooThick { butt, limit, length_that_fits });
    }
    let length = log.length();
    if length > mill.longest {
        obstacles.push(Obstacle::TooLong { length, limit: mill.longest });
    }
    if length < mill.shortest {
        obstacles.push(Obstacle::TooShort { length, limit: mill.shortest });
    }
    obstacles
}

/// Methods that saw the whole round, when it does not pass between the guides.
pub(crate) fn guides(site: &Site<'_>, methods: &[Method]) -> Vec<Obstacle> {
    if site.nearest_plane(true) == 0 {
        return Vec::new();
    }
    let (width, limit) = (site.log().butt_over_bark(), site.mill.widest_cut);
    let whole = [Method::Through, Method::ThroughTurned, Method::Quarter]
        .into_iter()
        .filter(|method| methods.contains(method));
    whole.map(|method| Obstacle::Guides { method, width, limit }).collect()
}

/// A plan, or why the mill cannot saw the pattern.
pub(crate) enum Made {
    Plan(Box<LogPlan>),
    Unsawable(ReplayFault),
}

/// Saws and replays a pattern. Pieces that do not look as their want asks are no pieces of it; which other want gets them is
/// said beside the wants.
pub(crate) fn log_plan(
    site: &Site<'_>,
    asked: (&[Want], &Giving),
    settings: &Settings,
    found: &Found,
) -> Result<Made, PlanFault> {
    if !holds_metal(site.log()) {
        return plan_from(site, asked, settings, found, Starts::default());
    }
    // The same boards, in the order that comes near metal last.
    let mut best: Option<LogPlan> = None;
    let mut refused = None;
    for starts in Starts::all(found) {
        match plan_from(site, asked, settings, found, starts)? {
            Made::Plan(plan) if best.as_ref().is_none_or(|best| rank(&plan) > rank(best)) => {
                best = Some(*plan);
            }
            Made::Plan(_) => {}
            Made::Unsawable(fault) => refused = refused.or(Some(fault)),
        }
    }
    Ok(match (best, refused) {
        (Some(plan), _) => Made::Plan(Box::new(plan)),
        (None, Some(fault)) => Made::Unsawable(fault),
        (None, None) => return Err(PlanFault::Program),
    })
}

/// The same, from these sides first.
fn plan_from(
    site: &Site<'_>,
    asked: (&[Want], &Giving),
    settings: &Settings,
    found: &Found,
    starts: Starts,
) -> Result<Made, PlanFault> {
    let sawn = match saw_from(site, asked.0, found, starts) {
        Ok(sawn) => sawn,
        Err(fault) => return Ok(Made::Unsawable(fault)),
    };
    match sawn_plan(site.log(), site.mill, asked, settings, (found.method, sawn)) {
        // In wood that is not round what is not confirmed is passed over, as what the mill cannot do.
        Made::Unsawable(fault) if !is_limit(&fault) && site.is_alike() => {
            Err(PlanFault::Replay(fault))
        }
        made => Ok(made),
    }
}

/// Replays what is sawn, and says what it gives.
pub(crate) fn sawn_plan(
    log: &Log,
    mill: &Mill,
    (wants, giving): (&[Want], &Giving),
    settings: &Settings,
    (method, sawn): (Method, Sawn),
) -> Made {
    let judged = judge(log, wants, sawn, giving);
    match replayed_plan(log, mill, wants, settings, (method, judged)) {
        Ok(plan) => Made::Plan(Box::new(plan)),
        Err(fault) => Made::Unsawable(fault),
    }
}

/// The same of what was looked at.
pub(crate) fn replayed_plan(
    log: &Log,
    mill: &Mill,
    wants: &[Want],
    settings: &Settings,
    (method, judged): (Method, Judged),
) -> Result<LogPlan, ReplayFault> {
    let Judged { sawn: Sawn { order, parts, cuts }, losses, looks } = judged;
    let (replayed, _) = confirm(log, mill, &order, settings.tolerance)?;
    let extra = counts::beyond_count(wants, &cuts);
    let product = |((cut, extra), loss): ((&CutId, &bool), &i64)| Product {
        cut: *cut,
        extra: *extra,
        loss: *loss,
    };
    let products: Vec<Product> = cuts.iter().zip(&extra).zip(&losses).map(product).collect();
    let mut tally: Vec<Tally> =
        wants.iter().map(|want| Tally { wanted: want.count, ..Tally::default() }).collect();
    for product in &products {
        let tally = &mut tally[product.cut.want.0];
        if product.extra { tally.extra += 1 } else { tally.given += 1 }
    }
    let volume = |claim: &pithward_geometry::Claim| {
        claim.u.size().inches_f64() * claim.h.size().inches_f64() * claim.z.size().inches_f64()
    };
    let sawn: f64 = order.pieces.iter().map(|piece| volume(&piece.claim)).sum();
    let worth =
        |product: &Product| counts::worth_of(wants, product.cut, product.extra, product.loss);
    Ok(LogPlan {
        method,
        worth: products.iter().map(worth).sum(),
        board_feet: cuts.iter().map(|id| wants[id.want.0].cuts[id.cut].board_feet).sum(),
        share_of_solid: sawn / log.volume(),
        order,
        products,
        looks,
        parts,
        tally,
        replayed,
        rests: Rests::default(),
        later: None,
    })
}

/// Whether it is the mill that cannot do it, rather than the plan that is wrong.
fn is_limit(fault: &ReplayFault) -> bool {
    matches!(
        fault,
        ReplayFault::TooLow { .. } | ReplayFault::TooWide { .. } | ReplayFault::TooDeep { .. }
    )
}

/// The wants without the sizes that edging might be unable to free from above or to leave on the bed, which no recurrence
/// knows; and, should that not help, without all that any pass might be unable to.
pub(crate) fn fewer(wants: &[Want], mill: &Mill) -> [Vec<Want>; 2] {
    let lowest = mill.lowest_blade.ceil_to(mill.step);
    let clears = |cut: &Cut| cut.thickness.max(cut.width) + mill.kerf <= mill.deepest_above;
    let edged = |cut: &Cut| clears(cut) && cut.width >= lowest;
    let any = |cut: &Cut| clears(cut) && cut.thickness.min(cut.width) >= lowest;
    let only = |sawable: &dyn Fn(&Cut) -> bool| {
        let mut fewer = wants.to_vec();
        for cut in fewer.iter_mut().flat_map(|want| &mut want.cuts).filter(|cut| !sawable(cut)) {
            // A cut that may not be sawn takes more than any log has; its place in the list stays.
            cut.take = Length::MAX;
        }
        fewer
    };
    [only(&edged), only(&any)]
}

/// The best plan of a method from fewer sizes.
fn second_best(
    view: &View<'_>,
    mill: &Mill,
    wants: &[Want],
    settings: &Settings,
    method: Method,
) -> Result<Option<LogPlan>, PlanFault> {
    for fewer in fewer(wants, mill) {
        let columns = Columns::new(view, mill.crosscut_kerf, &fewer);
        let site = Site::new(view, mill, &columns);
        let best = counts::best(&site, &fewer, &[method], Ask::ALONE).ok_or(PlanFault::Program)?;
        for valued in best.patterns {
            let asked = (&fewer[..], &Giving::Worth);
            if let Made::Plan(plan) = log_plan(&site, asked, settings, &valued.found)? {
                return Ok(Some(*plan));
            }
        }
    }
    Ok(None)
}

/// Why not a single piece comes from a log of a pile.
pub fn none_from(log: &Log, mill: &Mill, wants: &[Want]) -> Vec<Obstacle> {
    let large = too_large(log, mill);
    if !large.is_empty() {
        return large;
    }
    let none = none_given(log, wants, None);
    if none.is_empty() { vec![Obstacle::NoWant] } else { none }
}

/// Why a want that gets nothing gets nothing, where the log itself is the reason.
pub(crate) fn none_given(log: &Log, wants: &[Want], plan: Option<&LogPlan>) -> Vec<Obstacle> {
    let given = |n: usize| {
        plan.is_some_and(|plan| plan.products.iter().any(|product| product.cut.want.0 == n))
    };
    let why = |want: &Want| -> Option<WhyNone> {
        let takes = want.cuts.iter().map(|cut| cut.take).min()?;
        let Some(radius) = log.radius_over_length(takes) else {
            return Some(WhyNone::TooShort { takes });
        };
        let has = Length::from_inches_f64_down(2.0 * radius);
        let shortest = want.cuts.iter().filter(|cut| cut.take == takes);
        let diameter = shortest
            .filter_map(|cut| smallest_log(cut.thickness, cut.width, want.wane).ok())
            .min()?;
        Some(if diameter > has { WhyNone::TooThin { diameter, has } } else { WhyNone::Outbid })
    };
    let without = wants.iter().enumerate().filter(|(n, _)| !given(*n));
    without
        .filter_map(|(n, want)| why(want).map(|why| Obstacle::NoPiece { want: WantId(n), why }))
        .collect()
}

/// The most board feet that one of these plans has.
pub(crate) fn most_sawn(plans: &[LogPlan]) -> i64 {
    plans.iter().map(|plan| plan.board_feet).max().unwrap_or(0)
}

/// The most board feet of the accepted sizes by these methods, whatever the counts, and the states made. So many are `known`
/// to be possible: only what is more is sought. When worth is board feet already, `bound` is what was found for that.
pub(crate) fn most_board_feet(
    site: &Site<'_>,
    wants: &[Want],
    (methods, bound): (&[Method], i64),
    known: i64,
) -> (i64, u64) {
    if let Some(most) = by_worth(wants, bound) {
        return (most.max(known), 0);
    }
    let by_volume = |cut: &Cut| Cut { worth: cut.board_feet, extra: cut.board_feet, ..*cut };
    let by_volume: Vec<Want> = wants
        .iter()
        .map(|want| Want {
            count: None,
            cuts: want.cuts.iter().map(by_volume).collect(),
            ..want.clone()
        })
        .collect();
    let prices = Prices::full(&by_volume);
    let mut search = Search::new(site, &by_volume, &prices);
    let more = search.best_above(methods, known * UNIT);
    (more.map_or(known, |found| counts::whole(found.value)).max(known), search.states())
}

/// The most board feet of what is worth no more than this, where board feet of all cuts are worth as much but for a
/// thousandth, within a count and beyond it.
fn by_worth(wants: &[Want], bound: i64) -> Option<i64> {
    let mut cuts = wants.iter().flat_map(|want| &want.cuts).filter(|cut| cut.board_feet > 0);
    let worth = |cut: &Cut| i128::from(cut.worth);
    // How much one of two is worth more than the other, both for as many board feet.
    let dearer = |a: &Cut, b: &Cut| {
        (worth(a) * i128::from(b.board_feet)).cmp(&(worth(b) * i128::from(a.board_feet)))
    };
    let (least, most) =
        (cuts.clone().min_by(|a, b| dearer(a, b))?, cuts.clone().max_by(|a, b| dearer(a, b))?);
    let (low, high) =
        (worth(least) * i128::from(most.board_feet), worth(most) * i128::from(least.board_feet));
    let alike = low > 0 && high - low <= low / 1_000 && cuts.all(|cut| cut.extra == cut.worth);
    let bound = i128::from(bound) * i128::from(least.board_feet);
    alike.then(|| i64::try_from(bound / worth(least)).ok()).flatten()
}

pub(crate) fn summary(plan: &LogPlan) -> MethodResult {
    MethodResult {
        method: plan.method,
        tally: plan.tally.clone(),
        worth: plan.worth,
        board_feet: plan.board_feet,
        passes: plan.order.passes(),
        turns: plan.order.turns(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::invented::{cut, want};

    /// Boards of two sizes that are worth so many thousandths of their board feet, beyond a count the first of them less.
    fn wants(first: i64, second: i64, less: i64) -> Vec<Want> {
        let worth = |(width, share): (i64, i64)| {
            let board = cut((Length::inches(1), Length::inches(width)), 8);
            let worth = board.board_feet / 1_000 * share;
            Cut { worth, extra: worth - less, ..board }
        };
        vec![want([(6, first), (12, second)].map(worth).to_vec())]
    }

    #[test]
    fn board_feet_that_are_all_worth_as_much_are_bounded_by_worth() {
        assert_eq!(by_worth(&wants(2_900, 2_900, 0), 29_000_000), Some(10_000_000));
        // The cheaper of the two by a thousandth says how many there may be.
        assert_eq!(by_worth(&wants(2_000, 2_002, 0), 20_000_000), Some(10_000_000));
        assert_eq!(by_worth(&wants(2_000, 2_004, 0), 20_000_000), None);
        assert_eq!(by_worth(&wants(2_900, 2_900, 1), 29_000_000), None);
        assert_eq!(by_worth(&wants(0, 0, 0), 29_000_000), None);
    }
}
