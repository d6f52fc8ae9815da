//! The sawing of one log: what its steps, parts and pieces are in the file.

use super::looks::looks;
use super::{from_inches, grown};
use crate::names::{self, Named};
use crate::schema::sawing::{
    EdgingForm, EdgingStageForm, FateForm, HangsForm, LaterForm, MetalForm, MethodForm, PartForm,
    PartIdForm, PassForm, PieceForm, ResawForm, RestForm, SawnForm, SpanForm, StageForm,
    SupportForm,
};
use pithward_geometry::replay::{Hangs, PassFact, Place};
use pithward_geometry::{Face, PartId, Pass, Rest, Span, Stage, Support};
use pithward_job::LogJob;
use pithward_measure::Length;
use pithward_optimizer::{Fate, LogPlan, Method, Part, Product};
use std::borrow::Cow;

/// The sawing of one log.
pub(super) fn sawn(job: &LogJob, plan: &LogPlan) -> SawnForm {
    SawnForm {
        method: method(plan.method),
        frame: grown::frame(&plan.order.frame),
        rests: grown::rests(&plan.rests),
        metal: near_metal(plan),
        stages: stages(job, plan),
        resaws: resaws(job, plan),
        parts: parts(plan),
        edgings: edgings(job, plan),
        pieces: pieces(job, plan),
    }
}

/// How often passes come near metal, where one does.
fn near_metal(plan: &LogPlan) -> Option<MetalForm> {
    let near = plan.near_metal();
    let otherwise = plan.later.map(|later| LaterForm {
        method: method(later.method),
        passes: later.near.passes,
        sooner: later.near.sooner,
        worth_less: later.worth,
        board_feet_less: later.board_feet,
    });
    let form = MetalForm { passes: near.passes, sooner: near.sooner, otherwise };
    (near.passes > 0).then_some(form)
}

/// A body on the mill: its stages, and what replay found of them.
struct Bodied<'a> {
    stages: &'a [Stage],
    passes: &'a [Vec<PassFact>],
    pith: &'a [(f64, f64)],
    carried: &'a [(f64, f64)],
    hangs: &'a [Option<Hangs>],
    resaw: Option<usize>,
}

/// The log's stages, in order.
fn stages(job: &LogJob, plan: &LogPlan) -> Vec<StageForm> {
    let (order, replayed) = (&plan.order, &plan.replayed);
    let log = Bodied {
        stages: &order.stages,
        passes: &replayed.passes,
        pith: &replayed.pith,
        carried: &replayed.carried,
        hangs: &replayed.hangs,
        resaw: None,
    };
    body(job, plan, &log)
}

/// The parts that are put back on the mill, in order.
fn resaws(job: &LogJob, plan: &LogPlan) -> Vec<ResawForm> {
    let resaws = plan.order.resaws.iter().zip(&plan.replayed.resaws).enumerate();
    let resaws = resaws.map(|(n, (resaw, replayed))| {
        let own = Bodied {
            stages: &resaw.stages,
            passes: &replayed.passes,
            pith: &replayed.pith,
            carried: &replayed.carried,
            hangs: &replayed.hangs,
            resaw: Some(n + 1),
        };
        ResawForm { part: part_id(resaw.part), stages: body(job, plan, &own) }
    });
    resaws.collect()
}

fn body(job: &LogJob, plan: &LogPlan, body: &Bodied<'_>) -> Vec<StageForm> {
    let mut number = 0;
    let stages = body.stages.iter().enumerate().map(|(n, stage)| {
        let pith = body.pith.get(n).copied().unwrap_or_default();
        let facts = body.passes.get(n).map_or(&[][..], Vec::as_slice);
        let place = match body.resaw {
            None => Place::Log { stage: n + 1 },
            Some(resaw) => Place::Resaw { resaw, stage: n + 1 },
        };
        let near = metal(plan, place);
        let mut passes = passes(job, &stage.passes, facts, &near, &mut number);
        if let Some(resaw) = body.resaw.and_then(|n| u32::try_from(n).ok()) {
            for pass in &mut passes {
                pass.frees = part_id(PartId::Freed(pass.number).of_resaw(resaw));
            }
        }
        StageForm {
            rest: rest(&stage.rest),
            pith_small_end: from_inches(pith.0),
            pith_butt: from_inches(pith.1),
            carried: body
                .carried
                .get(n)
                .map(|(from, to)| SpanForm { from: from_inches(*from), to: from_inches(*to) }),
            hangs: body.hangs.get(n).copied().flatten().map(|hangs| HangsForm {
                small_end: from_inches(hangs.small_end),
                butt: from_inches(hangs.butt),
                toe_board: hangs.toe_board.map(from_inches),
            }),
            passes,
        }
    });
    stages.collect()
}

/// The edging of every part that is edged.
fn edgings(job: &LogJob, plan: &LogPlan) -> Vec<EdgingForm> {
    let edgings = plan.order.edgings.iter().enumerate().map(|(of, edging)| {
        let mut number = 0;
        let replayed = &plan.replayed;
        let stages = edging.stages.iter().enumerate().map(|(n, stage)| {
            let axis = replayed.edging_pith.get(of).and_then(|stages| stages.get(n));
            let middle = replayed.edging_middle.get(of).and_then(|stages| stages.get(n));
            let middle = middle.copied().flatten();
            let near = metal(plan, Place::Edging { edging: of + 1, stage: n + 1 });
            EdgingStageForm {
                rest: rest(&stage.rest),
                axis: axis.copied().map(from_inches),
                middle_small_end: middle.map(|(small, _)| from_inches(small)),
                middle_butt: middle.map(|(_, butt)| from_inches(butt)),
                passes: passes(job, &stage.passes, &[], &near, &mut number),
            }
        });
        EdgingForm { part: part_id(edging.part), batch: edging.batch, stages: stages.collect() }
    });
    edgings.collect()
}

/// Every part, in the order in which they fall.
fn parts(plan: &LogPlan) -> Vec<PartForm> {
    plan.parts.iter().map(part).collect()
}

/// The finished pieces.
fn pieces(job: &LogJob, plan: &LogPlan) -> Vec<PieceForm> {
    let products = plan.order.pieces.iter().zip(&plan.products).zip(looks(job, plan)).enumerate();
    products
        .map(|(number, ((piece, product), looks))| {
            let Product { cut, extra, .. } = product;
            let claim = &piece.claim;
            let named = names::piece(job, product);
            PieceForm {
                number,
                want: cut.want.0,
                cut: cut.cut,
                name: named.map(|named| named.size.to_string()),
                length: named.and_then(|named| named.size.length).map(Length::as_nm),
                board_feet: named.as_ref().map(Named::board_feet),
                extra: *extra,
                part: part_id(piece.part),
                strip: piece.strip.map(part_id),
                turn: claim.turn.as_millidegrees(),
                u: span(claim.u),
                h: span(claim.h),
                z: span(claim.z),
                wane_u: claim.wane_u.as_nm(),
                wane_h: claim.wane_h.as_nm(),
                heart: grown::heart(claim.heart),
                tolerates: grown::tolerates(claim.tolerates)
                    .into_iter()
                    .map(Cow::Borrowed)
                    .collect(),
                looks,
            }
        })
        .collect()
}

/// The method.
pub(super) fn method(method: Method) -> MethodForm {
    match method {
        Method::Through => MethodForm::Through,
        Method::ThroughTurned => MethodForm::ThroughTurned,
        Method::TwoSidedCant => MethodForm::TwoSidedCant,
        Method::FourSidedCant => MethodForm::FourSidedCant,
        Method::BoxedHeart => MethodForm::BoxedHeart,
        Method::Around => MethodForm::Around,
        Method::Quarter => MethodForm::Quarter,
    }
}

fn rest(rest: &Rest) -> RestForm {
    RestForm {
        turn: rest.turn.as_millidegrees(),
        lift: rest.lift.as_nm(),
        on: match rest.on {
            Support::Bark => SupportForm::Bark,
            Support::Face(face) => SupportForm::Face(face.letter()),
            Support::SawnEdge => SupportForm::SawnEdge,
        },
        against: rest.against.map(Face::letter),
    }
}

/// The passes of a stage, from 1, that come near metal.
fn metal(plan: &LogPlan, place: Place) -> Vec<usize> {
    let near = plan.replayed.metal.iter().filter(|(at, _)| *at == place);
    near.map(|(_, pass)| *pass).collect()
}

fn passes(
    job: &LogJob,
    passes: &[Pass],
    facts: &[PassFact],
    near_metal: &[usize],
    number: &mut u32,
) -> Vec<PassForm> {
    let pass = |(n, pass): (usize, &Pass)| {
        *number += 1;
        let fact = facts.get(n);
        PassForm {
            number: *number,
            height: pass.height.as_nm(),
            printed: pass.printed.as_nm(),
            reads: names::height(job, pass.printed),
            frees: PartIdForm::FreedByPass(*number),
            opening_small_end: fact.map(|fact| from_inches(fact.opening_small_end)),
            opening_butt: fact.map(|fact| from_inches(fact.opening_butt)),
            near_metal: near_metal.contains(&(n + 1)),
        }
    };
    passes.iter().enumerate().map(pass).collect()
}

pub(super) fn part_id(id: PartId) -> PartIdForm {
    match id {
        PartId::Freed(n) => PartIdForm::FreedByPass(n),
        PartId::Left => PartIdForm::LeftOnBed,
        PartId::FreedOf { resaw, pass } => PartIdForm::FreedByPassOf { resaw, pass },
        PartId::LeftOf { resaw } => PartIdForm::LeftOnBedOf(resaw),
    }
}

fn part(part: &Part) -> PartForm {
    let resaw = if let Fate::PutBack(resaw) = part.fate { Some(resaw) } else { None };
    let (fate, edging_batch, pieces) = match &part.fate {
        Fate::Slab => (FateForm::Slab, None, Vec::new()),
        Fate::PutBack(_) => (FateForm::PutBack, None, Vec::new()),
        Fate::Square(pieces) => (FateForm::Square, None, pieces.clone()),
        Fate::Flitch { batch, pieces } => (FateForm::Edged, Some(*batch), pieces.clone()),
    };
    PartForm { part: part_id(part.id), fate, edging_batch, resaw, pieces }
}

fn span(span: Span) -> SpanForm {
    SpanForm { from: span.from.as_nm(), to: span.to.as_nm() }
}
