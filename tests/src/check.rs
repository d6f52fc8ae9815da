//! A plan held against its log, its mill and its wants, in plain coordinates.
//!
//! Of a plan it takes the boxes of the pieces and the lists; of the log its four measures; of the mill its
//! kerfs. Boxes are turned into the log's own `x, y, z` in whole nanometres, so that "a kerf apart" is exact;
//! only "inside the wood" is a comparison of square roots, with [`SLACK`].

use crate::random::Case;
use pithward_geometry::{Claim, Frame, PartId, Piece};
use pithward_measure::Length;
use pithward_optimizer::{Answer, Fate, LogPlan, Planned, Want};

/// Slack of comparisons between `f64`, inches.
pub const SLACK: f64 = 1e-6;

/// From which smaller side on a piece may lie either way up (the rule of the want's columns).
const EITHER_WAY: Length = Length::inches(3);

macro_rules! ensure {
    ($holds:expr, $($words:tt)*) => {{
        let holds: bool = $holds;
        if !holds {
            return Err(format!($($words)*));
        }
    }};
}

/// A piece's box in the frame of its order, nanometres: across, upward, along, each from and to.
pub type LogBox = [(i64, i64); 3];

/// The box that a claim stands for; `None` when it is not turned by whole quarters from the frame.
pub fn frame_box(frame: &Frame, claim: &Claim) -> Option<LogBox> {
    let span = |span: pithward_geometry::Span| (span.from.as_nm(), span.to.as_nm());
    let back = |span: pithward_geometry::Span| (-span.to.as_nm(), -span.from.as_nm());
    let (u, h) = (claim.u, claim.h);
    let turned = claim.turn.as_millidegrees() - frame.turn.as_millidegrees();
    let (x, y) = match turned.rem_euclid(360_000) {
        0 => (span(u), span(h)),
        90_000 => (span(h), back(u)),
        180_000 => (back(u), back(h)),
        270_000 => (back(h), span(u)),
        _ => return None,
    };
    Some([x, y, span(claim.z)])
}

/// How far, in inches, the wood reaches past the worst point of a claim's box; negative where wood is missing
/// beyond the wane that it allows. The points are the ends of the missing corners' legs, at both ends.
pub fn soundness(case: &Case, claim: &Claim) -> f64 {
    let (small, butt) =
        (case.log.small_end().inches_f64() / 2.0, case.log.butt().inches_f64() / 2.0);
    let length = case.log.length().inches_f64();
    let (wane_u, wane_h) = (claim.wane_u.inches_f64(), claim.wane_h.inches_f64());
    let (us, hs) = (
        [(claim.u.from.inches_f64(), wane_u), (claim.u.to.inches_f64(), -wane_u)],
        [(claim.h.from.inches_f64(), wane_h), (claim.h.to.inches_f64(), -wane_h)],
    );
    let mut least = f64::INFINITY;
    for z in [claim.z.from.inches_f64(), claim.z.to.inches_f64()] {
        let radius = small + (butt - small) * z / length;
        for (u, leg_u) in us {
            for (h, leg_h) in hs {
                for (a, b) in [(u + leg_u, h), (u, h + leg_h)] {
                    least = least.min(radius - (a * a + b * b).sqrt());
                }
            }
        }
    }
    least
}

/// Whether the pieces' interiors are apart, pieces of one strip by a crosscut, and all others by a kerf in `x`
/// or `y`; the two that are not, else.
///
/// # Errors
/// The two pieces, from 1, and what is wrong between them.
pub fn apart(case: &Case, plan: &LogPlan) -> Result<(), String> {
    let pieces = &plan.order.pieces;
    let seen = |piece: &Piece| frame_box(&plan.order.frame, &piece.claim);
    let boxes: Vec<LogBox> = pieces.iter().filter_map(seen).collect();
    ensure!(boxes.len() == pieces.len(), "a piece's frame is not a quarter turn");
    let (kerf, crosscut) = (case.mill.kerf.as_nm(), case.mill.crosscut_kerf.as_nm());
    for (i, a) in boxes.iter().enumerate() {
        for (j, b) in boxes.iter().enumerate().skip(i + 1) {
            let gap = |axis: usize| (b[axis].0 - a[axis].1).max(a[axis].0 - b[axis].1);
            let across = gap(0).max(gap(1));
            let same = pieces[i].part == pieces[j].part && pieces[i].strip == pieces[j].strip;
            let fits = if same { gap(2) >= crosscut } else { across >= kerf };
            ensure!(
                fits,
                "pieces {} and {}: {across} nm apart across, {} nm along",
                i + 1,
                j + 1,
                gap(2)
            );
        }
    }
    Ok(())
}

/// Everything that a plan says of itself, against the case that it was made for.
///
/// # Errors
/// The first thing that is not so.
pub fn plan(case: &Case, planned: &Planned) -> Result<(), String> {
    log_plan(case, &planned.plan)?;
    self::planned(case, planned)
}

/// What a plan says of its counts, its worth and its proof, whatever the log.
///
/// # Errors
/// The first thing that is not so.
pub fn planned(case: &Case, planned: &Planned) -> Result<(), String> {
    counts(&case.wants, planned)?;
    let (plan, proof) = (&planned.plan, &planned.proof);
    for method in &planned.methods {
        let (worth, bound) = (method.worth, proof.worth_bound);
        ensure!(
            worth <= bound,
            "{} is worth {worth}, over the bound {bound}",
            method.method.name()
        );
        ensure!(
            worth <= plan.worth,
            "{} is worth {worth}, more than the plan's {}",
            method.method.name(),
            plan.worth
        );
        ensure!(
            method.board_feet <= proof.board_feet_bound,
            "{}: board feet over their bound",
            method.method.name()
        );
    }
    let own = planned.methods.iter().find(|method| method.method == plan.method);
    ensure!(
        own.is_some_and(|own| own.worth == plan.worth),
        "the plan's method is not among the methods"
    );
    Ok(())
}

/// What the plan of one log says of its pieces, parts and heights, whatever the counts.
///
/// # Errors
/// The first thing that is not so.
pub fn log_plan(case: &Case, plan: &LogPlan) -> Result<(), String> {
    sizes(case, plan)?;
    sound(case, plan)?;
    apart(case, plan)?;
    parts(plan)?;
    heights(case, plan)?;
    let volume = |claim: &Claim| {
        claim.u.size().inches_f64() * claim.h.size().inches_f64() * claim.z.size().inches_f64()
    };
    let (s, b) = (case.log.small_end().inches_f64() / 2.0, case.log.butt().inches_f64() / 2.0);
    let solid =
        std::f64::consts::PI * case.log.length().inches_f64() * (s * s + s * b + b * b) / 3.0;
    let share = plan.order.pieces.iter().map(|piece| volume(&piece.claim)).sum::<f64>() / solid;
    ensure!(
        (share - plan.share_of_solid).abs() < 1e-9,
        "share of the solid {} against {share}",
        plan.share_of_solid
    );
    Ok(())
}

/// Each piece is all wood.
fn sound(case: &Case, plan: &LogPlan) -> Result<(), String> {
    for (n, piece) in plan.order.pieces.iter().enumerate() {
        let reach = soundness(case, &piece.claim);
        ensure!(reach >= -SLACK, "piece {}: wood is missing by {} in", n + 1, -reach);
    }
    Ok(())
}

/// Each piece: of the size of its cut, within its wane, where replay found it.
///
/// # Errors
/// The first thing that is not so.
pub fn sizes(case: &Case, plan: &LogPlan) -> Result<(), String> {
    let (pieces, products, rebuilt) = (&plan.order.pieces, &plan.products, &plan.replayed.pieces);
    ensure!(!pieces.is_empty(), "a plan without a piece");
    ensure!(
        pieces.len() == products.len() && pieces.len() == rebuilt.len(),
        "lists of unlike length"
    );
    for (n, ((piece, product), rebuilt)) in pieces.iter().zip(products).zip(rebuilt).enumerate() {
        let (claim, n) = (&piece.claim, n + 1);
        let want = case.wants.get(product.cut.want.0).ok_or("no such want")?;
        let cut = want.cuts.get(product.cut.cut).ok_or("no such cut")?;
        let (across, upward) = (claim.u.size(), claim.h.size());
        let flat = upward == cut.thickness && across == cut.width;
        let upright = upward == cut.width && across == cut.thickness;
        let turned = upright && cut.thickness.min(cut.width) >= EITHER_WAY;
        ensure!(
            flat || turned,
            "piece {n} is {across:?} by {upward:?}, its cut {:?} by {:?}",
            cut.thickness,
            cut.width
        );
        let legs = if flat {
            (want.wane.width, want.wane.thickness)
        } else {
            (want.wane.thickness, want.wane.width)
        };
        ensure!(
            claim.wane_u <= legs.0 && claim.wane_h <= legs.1,
            "piece {n} claims more wane than its want allows"
        );
        ensure!(
            claim.z.size() == cut.take,
            "piece {n} takes {:?}, its cut {:?}",
            claim.z.size(),
            cut.take
        );
        ensure!(
            claim.z.from >= Length::ZERO && claim.z.to <= case.log.length(),
            "piece {n} reaches past the log's ends"
        );
        ensure!(cut.take >= cut.length, "piece {n} is shorter than the length that counts");
        let found = [rebuilt.u.0, rebuilt.u.1, rebuilt.h.0, rebuilt.h.1];
        let claimed = [claim.u.from, claim.u.to, claim.h.from, claim.h.to];
        let off =
            found.iter().zip(claimed).map(|(f, c)| (f - c.inches_f64()).abs()).fold(0.0, f64::max);
        ensure!(off <= SLACK, "piece {n}: replay found it {off} in from where it claims to be");
    }
    Ok(())
}

/// The parts that fall: one for every pass of the log and one left; every piece in just one of them.
///
/// # Errors
/// The first thing that is not so.
pub fn parts(plan: &LogPlan) -> Result<(), String> {
    let ids: Vec<PartId> = plan.parts.iter().map(|part| part.id).collect();
    let of = |stages: &[pithward_geometry::Stage]| {
        let passes: usize = stages.iter().map(|stage| stage.passes.len()).sum();
        (1..=u32::try_from(passes).unwrap_or(0)).map(PartId::Freed).chain([PartId::Left])
    };
    let resawn = plan
        .order
        .resaws
        .iter()
        .zip(1u32..)
        .flat_map(|(resaw, n)| of(&resaw.stages).map(move |id| id.of_resaw(n)));
    let freed = of(&plan.order.stages).chain(resawn);
    ensure!(ids == freed.collect::<Vec<_>>(), "the parts are not those that the passes free");
    let mut named = vec![0u32; plan.products.len()];
    for part in &plan.parts {
        let (pieces, batch): (&[usize], _) = match &part.fate {
            Fate::Slab | Fate::PutBack(_) => (&[], None),
            Fate::Square(pieces) => (pieces, None),
            Fate::Flitch { batch, pieces } => (pieces, Some(*batch)),
        };
        ensure!(
            matches!(part.fate, Fate::Slab | Fate::PutBack(_)) || !pieces.is_empty(),
            "{:?} holds no piece and is no slab",
            part.id
        );
        let put_back = plan.order.put_back(part.id);
        ensure!(
            put_back == if let Fate::PutBack(n) = part.fate { Some(n) } else { None },
            "{:?} is put back as {put_back:?}, its fate is {:?}",
            part.id,
            part.fate
        );
        let edging = plan.order.edgings.iter().find(|edging| edging.part == part.id);
        ensure!(
            edging.map(|edging| edging.batch) == batch,
            "{:?} is not in the batch it says",
            part.id
        );
        for place in pieces {
            ensure!(
                plan.order.pieces[*place].part == part.id,
                "piece {} is of another part",
                place + 1
            );
            named[*place] += 1;
        }
    }
    ensure!(named.iter().all(|times| *times == 1), "a piece is named {named:?} times");
    Ok(())
}

/// Every pass on a mark of the scale, no more than half a step from where it should be, no lower than the blade goes, and
/// lower than the pass before; no batch larger than the mill takes.
///
/// # Errors
/// The first thing that is not so.
pub fn heights(case: &Case, plan: &LogPlan) -> Result<(), String> {
    let (order, mill) = (&plan.order, &case.mill);
    let stages = order.stages.iter().chain(order.resaws.iter().flat_map(|resaw| &resaw.stages));
    let stages = stages.chain(order.edgings.iter().flat_map(|edging| &edging.stages));
    for stage in stages {
        ensure!(!stage.passes.is_empty(), "a stage without a pass");
        for pass in &stage.passes {
            let (step, off) = (mill.step.as_nm(), (pass.printed - pass.height).as_nm().abs());
            ensure!(pass.printed.as_nm() % step == 0, "{:?} is no mark of the scale", pass.printed);
            ensure!(2 * off <= step, "{:?} is printed as {:?}", pass.height, pass.printed);
            ensure!(
                pass.height.min(pass.printed) >= mill.lowest_blade,
                "the blade at {:?} is under the lowest",
                pass.height
            );
        }
        for two in stage.passes.windows(2) {
            let drop = two[0].height - two[1].height;
            ensure!(drop > mill.kerf, "a drop of {drop:?} frees nothing but sawdust");
        }
    }
    for edging in &order.edgings {
        let batch = order.edgings.iter().filter(|other| other.batch == edging.batch).count();
        ensure!(batch <= mill.edging_batch as usize, "{batch} flitches in batch {}", edging.batch);
    }
    Ok(())
}

/// The tally, the worth and the board feet, counted again from the products.
fn counts(wants: &[Want], planned: &Planned) -> Result<(), String> {
    let plan = &planned.plan;
    let (mut worth, mut board_feet) = (0, 0);
    let (mut given, mut extra) = (vec![0u32; wants.len()], vec![0u32; wants.len()]);
    for product in &plan.products {
        let want = product.cut.want.0;
        let cut = &wants[want].cuts[product.cut.cut];
        if product.extra {
            extra[want] += 1;
        } else {
            given[want] += 1;
        }
        worth += if product.extra { cut.extra } else { cut.worth };
        board_feet += cut.board_feet;
    }
    ensure!(plan.tally.len() == wants.len(), "a tally without its want");
    for (n, (want, tally)) in wants.iter().zip(&plan.tally).enumerate() {
        ensure!(tally.wanted == want.count, "want {}: not the count that was asked for", n + 1);
        ensure!(
            (tally.given, tally.extra) == (given[n], extra[n]),
            "want {}: a tally of other pieces",
            n + 1
        );
        match want.count {
            None => ensure!(tally.extra == 0, "want {}: beyond a count that it has not", n + 1),
            Some(count) => {
                let within = tally.given == count.min(given[n] + extra[n]);
                ensure!(
                    within,
                    "want {}: {} given of {count} with {} beyond",
                    n + 1,
                    tally.given,
                    tally.extra
                );
            }
        }
    }
    ensure!(worth == plan.worth, "worth {} against {worth} counted again", plan.worth);
    ensure!(
        board_feet == plan.board_feet,
        "board feet {} against {board_feet} counted again",
        plan.board_feet
    );
    Ok(())
}

/// That a refusal gives its reason, and that the reason is not plainly untrue.
///
/// # Errors
/// What is missing or untrue.
pub fn refusal(case: &Case, answer: &Answer) -> Result<(), String> {
    use pithward_optimizer::{Obstacle, WhyNone};
    let Answer::Impossible(obstacles) = answer else { return Ok(()) };
    ensure!(!obstacles.is_empty(), "refused without a reason");
    for obstacle in obstacles {
        let true_of_it = match obstacle {
            Obstacle::TooThick { butt, limit, .. } => {
                *limit == case.mill.largest_diameter
                    && *butt == case.log.butt() + case.log.bark_butt() * 2
                    && butt > limit
            }
            Obstacle::TooLong { limit, .. } => {
                *limit == case.mill.longest && case.log.length() > *limit
            }
            Obstacle::TooShort { limit, .. } => {
                *limit == case.mill.shortest && case.log.length() < *limit
            }
            Obstacle::NoPiece { want, why: WhyNone::TooShort { .. } } => {
                case.wants[want.0].cuts.iter().all(|cut| cut.take > case.log.length())
            }
            Obstacle::NoPiece { want, why: WhyNone::TooThin { .. } } => {
                // No cut of the want fits round the pith, over its length from the butt.
                !case.wants[want.0]
                    .cuts
                    .iter()
                    .any(|cut| fits_at_all(case, &case.wants[want.0], cut))
            }
            Obstacle::NoWant => case.wants.iter().all(|want| want.cuts.is_empty()),
            Obstacle::NoPiece { .. } | Obstacle::Guides { .. } | Obstacle::Unsawable { .. } => true,
        };
        ensure!(true_of_it, "it is not so that {obstacle}");
    }
    Ok(())
}

/// Whether one piece of a cut fits round the pith with a sixty-fourth of an inch to spare.
pub fn fits_at_all(case: &Case, want: &Want, cut: &pithward_optimizer::Cut) -> bool {
    if cut.take > case.log.length() {
        return false;
    }
    let (small, butt) = (case.log.small_end().inches_f64(), case.log.butt().inches_f64());
    let over = (case.log.length() - cut.take).inches_f64() / case.log.length().inches_f64();
    let diameter = small + (butt - small) * over - 1.0 / 64.0;
    let (t, w) = (cut.thickness.inches_f64(), cut.width.inches_f64());
    let (wt, ww) = (want.wane.thickness.inches_f64(), want.wane.width.inches_f64());
    let within = |a: f64, b: f64| a * a + b * b <= diameter * diameter;
    within(t - 2.0 * wt, w) && within(t, w - 2.0 * ww)
}
