//! The plan of a pile held against its logs, its list and its mill: every log by [`check::log_plan`] and by
//! replay, and what the pile says of itself counted again from the pieces.

use crate::check;
use crate::random::Case;
use pithward_geometry::{PartId, confirm};
use pithward_optimizer::{
    Fate, LogFate, LogPlan, LotReason, Method, Pile, PilePlan, Tally, WantId,
};
use std::collections::BTreeSet;

macro_rules! ensure {
    ($holds:expr, $($words:tt)*) => {{
        let holds: bool = $holds;
        if !holds {
            return Err(format!($($words)*));
        }
    }};
}

/// Everything that the plan of a pile says of itself.
///
/// # Errors
/// The first thing that is not so.
pub fn plan(pile: &Pile, plan: &PilePlan) -> Result<(), String> {
    ensure!(plan.logs.len() == pile.logs.len(), "not as many fates as logs");
    for (n, (fate, log)) in plan.logs.iter().zip(&pile.logs).enumerate() {
        if let LogFate::Sawn(plan) = fate {
            let case = Case {
                log: log.log.clone(),
                mill: pile.mill.clone(),
                wants: pile.menus[log.menu].clone(),
            };
            sawn(pile, &case, plan).map_err(|why| format!("log {}: {why}", n + 1))?;
        }
        if let LogFate::Impossible(obstacles) = fate {
            ensure!(!obstacles.is_empty(), "log {}: refused without a reason", n + 1);
        }
        ensure!(
            plan.stopped || !matches!(fate, LogFate::Unplanned),
            "log {}: not planned, and nobody stopped it",
            n + 1
        );
    }
    sums(pile, plan)?;
    order(pile, plan)?;
    shortages(pile, plan)
}

/// One log: its pieces in plain coordinates, and its order replayed again.
fn sawn(pile: &Pile, case: &Case, plan: &LogPlan) -> Result<(), String> {
    check::log_plan(case, plan)?;
    let (exact, printed) = confirm(&case.log, &case.mill, &plan.order, pile.settings.tolerance)
        .map_err(|fault| fault.to_string())?;
    ensure!(exact == plan.replayed, "the plan holds another replay than its own");
    ensure!(printed.pieces.len() == plan.products.len(), "a piece is lost at the printed heights");
    ensure!(plan.parts.iter().any(|part| part.fate != Fate::Slab), "sawn for nothing");
    // Its own tally wants nothing: what is wanted is wanted from the pile.
    let (mut worth, mut board_feet) = (0, 0);
    let mut tally = vec![Tally::default(); pile.demands.len()];
    for (product, look) in plan.products.iter().zip(&plan.looks) {
        let want = &case.wants[product.cut.want.0];
        let cut = &want.cuts[product.cut.cut];
        let demand = pile.demands[product.cut.want.0];
        let grade = look.grade.and_then(|expected| expected.grade);
        ensure!(
            want.grading.is_none_or(|grading| look.grade.is_some() && grading.admits(grade)),
            "a piece that is poorer than its want asks"
        );
        let loss = want.grading.map_or(0, |grading| grading.loss(cut.board_feet, grade));
        ensure!(
            demand.count.is_some() || !product.extra,
            "a piece beyond a count that there is not"
        );
        let (within, beyond) = ((cut.worth - loss).max(0), (cut.extra - loss).max(0));
        worth += if product.extra { beyond } else { within - demand.first };
        board_feet += cut.board_feet;
        add(&mut tally[product.cut.want.0], product.extra);
    }
    ensure!(plan.tally == tally, "its tally is {:?}, its pieces are {tally:?}", plan.tally);
    ensure!(plan.worth == worth, "its worth is {}, its pieces' {worth}", plan.worth);
    ensure!(
        plan.board_feet == board_feet,
        "its board feet are {}, its pieces' {board_feet}",
        plan.board_feet
    );
    Ok(())
}

fn none(pile: &Pile) -> Vec<Tally> {
    let none = |count: Option<u32>| Tally { wanted: count, ..Tally::default() };
    pile.demands.iter().map(|demand| none(demand.count)).collect()
}

fn add(tally: &mut Tally, extra: bool) {
    if extra { tally.extra += 1 } else { tally.given += 1 }
}

/// The plans of the logs that are sawn, by their places.
pub fn plans(plan: &PilePlan) -> impl Iterator<Item = (usize, &LogPlan)> {
    let fates = plan.logs.iter().enumerate();
    fates.filter_map(
        |(n, fate)| if let LogFate::Sawn(plan) = fate { Some((n, &**plan)) } else { None },
    )
}

/// Tally, worth, board feet, share and value over all logs.
fn sums(pile: &Pile, plan: &PilePlan) -> Result<(), String> {
    let mut tally = none(pile);
    let (mut worth, mut board_feet, mut first, mut sawn, mut solid) = (0, 0, 0, 0.0, 0.0);
    let (mut passes, mut turns) = (0, 0);
    for (n, log) in plans(plan) {
        for product in &log.products {
            add(&mut tally[product.cut.want.0], product.extra);
            first += if product.extra { 0 } else { pile.demands[product.cut.want.0].first };
        }
        worth += log.worth;
        board_feet += log.board_feet;
        let volume = pile.logs[n].log.volume();
        sawn += log.share_of_solid * volume;
        solid += volume;
        passes += charged(log);
        turns += turns_of(log);
    }
    ensure!(plan.tally == tally, "the tally is {:?}, the pieces {tally:?}", plan.tally);
    for (n, tally) in tally.iter().enumerate() {
        let Some(count) = tally.wanted else { continue };
        let within = count.min(tally.given + tally.extra);
        ensure!(
            tally.given == within,
            "want {}: {tally:?}, {within} of them are within the count",
            n + 1
        );
    }
    ensure!(plan.worth == worth, "worth {}, the logs' {worth}", plan.worth);
    ensure!(
        plan.board_feet == board_feet,
        "board feet {}, the logs' {board_feet}",
        plan.board_feet
    );
    let share = if solid > 0.0 { sawn / solid } else { 0.0 };
    ensure!(
        (plan.share_of_solid - share).abs() < 1e-9,
        "share {}, the logs' {share}",
        plan.share_of_solid
    );
    let proof = &plan.proof;
    ensure!(proof.first == first, "{} puts the list first, its pieces say {first}", proof.first);
    ensure!(
        proof.bound.is_none_or(|bound| bound >= proof.value),
        "a bound below the plan: {proof:?}"
    );
    ensure!(plan.stopped || proof.bound.is_some(), "nothing is proven, and nobody stopped it");
    ensure!(plan.gap_millionths().is_none_or(|gap| gap >= 0), "a gap below nothing");
    // Beside the work stands what breaks ties: a thousandth of a millionth for a pass, three for a turn.
    let work =
        pile.effort.pass * passes + pile.effort.turn * turns + (passes + 3 * turns + 999) / 1000;
    let spent = worth + first - proof.value;
    // What serves no want as it looks is sawn by the pattern and not by the plan.
    let graded = pile.menus.iter().flatten().any(|want| want.grading.is_some());
    ensure!(
        spent == work || graded && spent > work,
        "the work is {spent}; {passes} passes and {turns} turns come to {work}, {:?}",
        pile.effort
    );
    Ok(())
}

/// The passes that a log is charged for: those that open faces, one for every board, one for every strip that
/// is not square already.
fn charged(plan: &LogPlan) -> i64 {
    let boards =
        plan.parts.iter().filter(|part| matches!(part.fate, Fate::Square(_) | Fate::Flitch { .. }));
    let boards = boards.count();
    let opening = match plan.method {
        Method::Through | Method::ThroughTurned => 1,
        Method::TwoSidedCant | Method::FourSidedCant | Method::Around => 3,
        // Four faces; the timber is freed by them.
        Method::BoxedHeart => 4 - 1,
        // All passes but those that free boards.
        Method::Quarter => {
            let bodies = plan.order.resaws.iter().map(|resaw| &resaw.stages);
            let bodies = bodies.chain([&plan.order.stages]).flatten();
            let passes: usize = bodies.map(|stage| stage.passes.len()).sum();
            i64::try_from(passes - boards).unwrap_or(0)
        }
    };
    let edged = plan.order.pieces.iter().filter(|piece| piece.strip.is_some());
    let strips: BTreeSet<(PartId, Option<PartId>)> =
        edged.map(|piece| (piece.part, piece.strip)).collect();
    opening + i64::try_from(boards + strips.len()).unwrap_or(i64::MAX / 4)
}

/// The turns that a log is charged for.
fn turns_of(plan: &LogPlan) -> i64 {
    match plan.method {
        // As many as its layers take, as its parts take with their moves.
        Method::Around | Method::Quarter => {
            i64::try_from(plan.order.turns() + plan.order.moves()).unwrap_or(i64::MAX / 4)
        }
        method => method.turns(),
    }
}

/// Every log that is sawn stands in one lot; blocking first; a want that only a lot gives, no other log gives.
fn order(pile: &Pile, plan: &PilePlan) -> Result<(), String> {
    let mut ordered: Vec<usize> = plan.order.iter().flat_map(|lot| lot.logs.clone()).collect();
    ordered.sort_unstable();
    let sawn: Vec<usize> = plans(plan).map(|(n, _)| n).collect();
    ensure!(ordered == sawn, "in order {ordered:?}, sawn {sawn:?}");
    let gives = |log: usize, want: WantId| match &plan.logs[log] {
        LogFate::Sawn(plan) => plan.products.iter().any(|product| product.cut.want == want),
        _ => false,
    };
    for (n, lot) in plan.order.iter().enumerate() {
        ensure!(!lot.logs.is_empty(), "a lot without a log");
        match lot.reason {
            LotReason::Blocking => {
                ensure!(n == 0, "blocking is sawn first");
                let blocking = (0..pile.demands.len()).filter(|want| pile.demands[*want].blocking);
                let blocking: Vec<usize> = blocking.collect();
                for log in &lot.logs {
                    let any = blocking.iter().any(|want| gives(*log, WantId(*want)));
                    ensure!(any, "log {} gives no blocking", log + 1);
                }
            }
            LotReason::Only(want) => {
                for log in &lot.logs {
                    ensure!(gives(*log, want), "log {} does not give want {}", log + 1, want.0 + 1);
                }
                let later = || plan.order[n + 1..].iter().flat_map(|lot| &lot.logs);
                let other = later().find(|log| gives(**log, want));
                ensure!(other.is_none(), "a later log gives want {} too: {other:?}", want.0 + 1);
                ensure!(later().next().is_some(), "no others stand while these are sawn");
            }
            LotReason::Alike { method, .. } => {
                for log in &lot.logs {
                    let LogFate::Sawn(plan) = &plan.logs[*log] else { continue };
                    ensure!(plan.method == method, "log {} is sawn another way", log + 1);
                }
            }
        }
    }
    Ok(())
}

/// Just the wants that are short, in order, each by what the tally says.
fn shortages(pile: &Pile, plan: &PilePlan) -> Result<(), String> {
    let short = plan.tally.iter().enumerate().filter(|(_, tally)| tally.short() > 0);
    let short: Vec<(usize, u32)> = short.map(|(n, tally)| (n, tally.short())).collect();
    let told: Vec<(usize, u32)> =
        plan.shortages.iter().map(|short| (short.want.0, short.missing)).collect();
    ensure!(told == short, "short are {short:?}, told {told:?}");
    for shortage in &plan.shortages {
        why(pile, plan, shortage).map_err(|why| format!("want {}: {why}", shortage.want.0 + 1))?;
    }
    Ok(())
}

/// That the reason of a shortage is not plainly untrue.
fn why(
    pile: &Pile,
    plan: &PilePlan,
    shortage: &pithward_optimizer::Shortage,
) -> Result<(), String> {
    use pithward_optimizer::WhyShort;
    let want = shortage.want;
    let accepting = |n: &usize| !pile.menus[pile.logs[*n].menu][want.0].cuts.is_empty();
    let given = plan.tally[want.0].given + plan.tally[want.0].extra;
    match &shortage.why {
        WhyShort::NoLog => {
            let goes = |n: &usize| {
                let (log, mill) = (&pile.logs[*n].log, &pile.mill);
                log.butt_over_bark() <= mill.largest_diameter
                    && log.length() <= mill.longest
                    && log.length() >= mill.shortest
            };
            let any = (0..pile.logs.len()).filter(accepting).any(|n| goes(&n));
            ensure!(!any && given == 0, "there is a log for it, or it was given");
        }
        WhyShort::TooShort { longest, takes } => {
            ensure!(
                longest < takes && given == 0,
                "{longest:?} is not less than {takes:?}, or it was given"
            );
        }
        WhyShort::TooThin { diameter, thickest } => {
            ensure!(
                thickest < diameter && given == 0,
                "{thickest:?} is not less than {diameter:?}, or it was given"
            );
        }
        WhyShort::TooFew { most } => {
            let count = plan.tally[want.0].wanted.unwrap_or(0);
            ensure!(*most < count && *most >= given, "at most {most}, given {given} of {count}");
        }
        WhyShort::NotSought => ensure!(plan.stopped, "no reason, and nobody stopped it"),
        WhyShort::UsedUp { by } => {
            ensure!(by.windows(2).all(|two| two[0] < two[1]), "not in the order of the list");
            for other in by {
                ensure!(*other != want, "used up by itself");
                let tally = plan.tally[other.0];
                ensure!(
                    tally.given + tally.extra > 0,
                    "used up by want {}, which gets nothing",
                    other.0 + 1
                );
            }
        }
    }
    if let Some(cure) = &shortage.cure {
        ensure!(cure.logs > 0 && cure.each > 0, "a cure of nothing");
        ensure!(cure.logs * cure.each >= shortage.missing, "too little a cure: {cure:?}");
        let fewer = (cure.logs - 1) * cure.each;
        ensure!(fewer < shortage.missing, "more logs than it takes: {cure:?}");
    }
    Ok(())
}
