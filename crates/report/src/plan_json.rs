//! A plan as JSON: everything that [`crate::card`] says, and every figure behind it.
//!
//! The form is in [`crate::schema`]; here it is only filled in.

use crate::card::near;
use crate::names::{self, Named};
use crate::obstacle;
use crate::schema::{
    AssumptionsForm, BarkSourceForm, CutForm, EdgingForm, EdgingStageForm, FateForm, LittleForm,
    LogForm, MethodForm, MethodResultForm, MillForm, NearMissForm, ObstacleForm, ObstacleKindForm,
    PartForm, PartIdForm, PassForm, PieceForm, PlanForm, RestForm, ResultForm, SizePolicyForm,
    SpanForm, StageForm, SupportForm, TallyForm, UnitsForm, VERSION, WantForm,
};
use pithward_geometry::replay::PassFact;
use pithward_geometry::{Face, PartId, Pass, ReplayFault, Rest, Span, Support};
use pithward_job::{BarkSource, LogJob, MillSource, NamedWant};
use pithward_measure::{Length, Width};
use pithward_optimizer::{
    Cut, CutId, Fate, Little, Method, NearMiss, Obstacle, Part, Planned, Product, Tally, Want,
    WantId, WhyNone,
};
use pithward_trade::SizePolicy;

/// The whole plan of one log as JSON, in the form of [`schema`](crate::schema()).
pub fn json(job: &LogJob, planned: &Planned, near: &[NearMiss]) -> String {
    let text = serde_json::to_string_pretty(&form(job, planned, near));
    // The form holds numbers, texts and lists of them: it always has a text.
    text.unwrap_or_default() + "\n"
}

fn form(job: &LogJob, planned: &Planned, near: &[NearMiss]) -> PlanForm {
    let plan = &planned.plan;
    let mut number = 0;
    let stages = plan.order.stages.iter().enumerate().map(|(n, stage)| {
        let pith = plan.replayed.pith.get(n).copied().unwrap_or_default();
        let facts = plan.replayed.passes.get(n).map_or(&[][..], Vec::as_slice);
        StageForm {
            rest: rest(&stage.rest),
            pith_small_end: from_inches(pith.0),
            pith_butt: from_inches(pith.1),
            passes: passes(job, &stage.passes, facts, &mut number),
        }
    });
    let stages = stages.collect();
    let edgings = plan.order.edgings.iter().map(|edging| {
        let mut number = 0;
        let stages = edging.stages.iter().map(|stage| EdgingStageForm {
            rest: rest(&stage.rest),
            passes: passes(job, &stage.passes, &[], &mut number),
        });
        EdgingForm { part: part_id(edging.part), batch: edging.batch, stages: stages.collect() }
    });
    PlanForm {
        schema_version: VERSION,
        units: UnitsForm {
            length: "nm",
            angle: "millidegree",
            board_feet: "millionth of a board foot",
            worth: "millionth",
            share: "millionth",
        },
        log: log(job),
        mill: mill(job),
        assumptions: AssumptionsForm {
            shape: "straight frustum, pith at the centre",
            sizes: sizes(job.policy),
            trim: job.trim.as_nm(),
            tolerance: job.settings.tolerance.as_nm(),
        },
        wants: wants(job),
        method: method(plan.method),
        stages,
        parts: plan.parts.iter().map(part).collect(),
        edgings: edgings.collect(),
        pieces: pieces(job, planned),
        tally: plan.tally.iter().map(tally).collect(),
        result: result(planned),
        methods_compared: planned
            .methods
            .iter()
            .map(|result| MethodResultForm {
                method: method(result.method),
                tally: result.tally.iter().map(tally).collect(),
                worth: result.worth,
                board_feet: result.board_feet,
                passes: result.passes,
                turns: result.turns,
            })
            .collect(),
        obstacles: planned.obstacles.iter().map(|o| obstacle_form(job, o)).collect(),
        near_misses: near.iter().map(|miss| near_miss(job, miss)).collect(),
    }
}

fn log(job: &LogJob) -> LogForm {
    let log = &job.log;
    LogForm {
        small_end: log.small_end().as_nm(),
        butt: log.butt().as_nm(),
        length: log.length().as_nm(),
        bark_small_end: log.bark_small().as_nm(),
        bark_butt: log.bark_butt().as_nm(),
        bark_source: match job.bark {
            BarkSource::Given => BarkSourceForm::Given,
            BarkSource::Species => BarkSourceForm::Species,
            BarkSource::None => BarkSourceForm::None,
        },
        taped_over_bark: job.taped_over_bark,
        species: job.species.map(|species| species.name.as_str()),
    }
}

fn mill(job: &LogJob) -> MillForm {
    let mill = &job.mill;
    MillForm {
        name: mill.name.clone(),
        file: match &job.mill_source {
            MillSource::Generic => None,
            MillSource::File(path) => Some(path.clone()),
        },
        kerf: mill.kerf.as_nm(),
        step: mill.step.as_nm(),
        largest_diameter: mill.largest_diameter.as_nm(),
        longest: mill.longest.as_nm(),
        shortest: mill.shortest.as_nm(),
        widest_cut: mill.widest_cut.as_nm(),
        deepest_above: mill.deepest_above.as_nm(),
        lowest_blade: mill.lowest_blade.as_nm(),
        crosscut_kerf: mill.crosscut_kerf.as_nm(),
        edging_batch: mill.edging_batch,
    }
}

fn sizes(policy: SizePolicy) -> SizePolicyForm {
    match policy {
        SizePolicy::Full => SizePolicyForm::Full,
        SizePolicy::Dressed => SizePolicyForm::Dressed,
        SizePolicy::Finished(finish) => SizePolicyForm::Finished {
            final_moisture_thousandths: whole(finish.final_moisture_pct * 1e3),
            planing: finish.planing.as_nm(),
            sawing_deviation: finish.sawing_deviation.as_nm(),
            deviations_above: whole(finish.z * 1e6),
        },
    }
}

fn wants(job: &LogJob) -> Vec<WantForm> {
    let searched = job.optimizer_wants();
    let wants = job.wants.iter().zip(&searched).enumerate();
    wants.map(|(n, (named, searched))| want(job, n, named, searched)).collect()
}

fn want(job: &LogJob, n: usize, named: &NamedWant, searched: &Want) -> WantForm {
    let cut = |(place, cut): (usize, &Cut)| CutForm {
        size: job.named_size(CutId { want: WantId(n), cut: place }).map(|size| size.to_string()),
        sawn_thickness: cut.thickness.as_nm(),
        sawn_width: cut.width.as_nm(),
        length: cut.length.as_nm(),
        takes: cut.take.as_nm(),
        board_feet: cut.board_feet,
        worth: cut.worth,
        worth_beyond_count: cut.extra,
    };
    WantForm {
        size: named.size.to_string(),
        thickness: named.size.thickness.as_nm(),
        width: named.size.width.least().as_nm(),
        random_width: matches!(named.size.width, Width::AtLeast(_)),
        lengths: named.lengths.iter().map(|length| length.as_nm()).collect(),
        wane_along_thickness: searched.wane.thickness.as_nm(),
        wane_along_width: searched.wane.width.as_nm(),
        count: named.count,
        more_welcome: named.more_welcome,
        cuts: searched.cuts.iter().enumerate().map(cut).collect(),
    }
}

fn method(method: Method) -> MethodForm {
    match method {
        Method::Through => MethodForm::Through,
        Method::ThroughTurned => MethodForm::ThroughTurned,
        Method::TwoSidedCant => MethodForm::TwoSidedCant,
        Method::FourSidedCant => MethodForm::FourSidedCant,
        Method::BoxedHeart => MethodForm::BoxedHeart,
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

fn passes(job: &LogJob, passes: &[Pass], facts: &[PassFact], number: &mut u32) -> Vec<PassForm> {
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
        }
    };
    passes.iter().enumerate().map(pass).collect()
}

fn part_id(id: PartId) -> PartIdForm {
    match id {
        PartId::Freed(n) => PartIdForm::FreedByPass(n),
        PartId::Left => PartIdForm::LeftOnBed,
    }
}

fn part(part: &Part) -> PartForm {
    let (fate, edging_batch, pieces) = match &part.fate {
        Fate::Slab => (FateForm::Slab, None, Vec::new()),
        Fate::Square(pieces) => (FateForm::Square, None, pieces.clone()),
        Fate::Flitch { batch, pieces } => (FateForm::Edged, Some(*batch), pieces.clone()),
    };
    PartForm { part: part_id(part.id), fate, edging_batch, pieces }
}

fn pieces(job: &LogJob, planned: &Planned) -> Vec<PieceForm> {
    let plan = &planned.plan;
    let products = plan.order.pieces.iter().zip(&plan.products).enumerate();
    products
        .map(|(number, (piece, product))| {
            let Product { cut, extra } = product;
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
                tilt: 0,
                u: span(claim.u),
                h: span(claim.h),
                z: span(claim.z),
                wane_u: claim.wane_u.as_nm(),
                wane_h: claim.wane_h.as_nm(),
            }
        })
        .collect()
}

fn span(span: Span) -> SpanForm {
    SpanForm { from: span.from.as_nm(), to: span.to.as_nm() }
}

fn tally(tally: &Tally) -> TallyForm {
    TallyForm { wanted: tally.wanted, given: tally.given, short: tally.short(), extra: tally.extra }
}

fn result(planned: &Planned) -> ResultForm {
    let (plan, proof) = (&planned.plan, &planned.proof);
    ResultForm {
        worth: plan.worth,
        worth_bound: proof.worth_bound,
        worth_gap: proof.worth_bound - plan.worth,
        board_feet: plan.board_feet,
        board_feet_bound: proof.board_feet_bound,
        share_of_wood: whole(plan.share_of_solid * 1e6),
        passes: plan.order.passes(),
        turns: plan.order.turns(),
        methods_searched: proof.methods.iter().copied().map(method).collect(),
        programs: proof.programs,
        states: proof.states,
    }
}

fn obstacle_form(job: &LogJob, obstacle: &Obstacle) -> ObstacleForm {
    use ObstacleKindForm as Kind;
    let (kind, rules_out, want, figures) = match obstacle {
        Obstacle::TooThick { butt, limit, .. } => {
            (Kind::LogTooThick, None, None, Some((*butt, *limit)))
        }
        Obstacle::TooLong { length, limit } => {
            (Kind::LogTooLong, None, None, Some((*length, *limit)))
        }
        Obstacle::TooShort { length, limit } => {
            (Kind::LogTooShort, None, None, Some((*length, *limit)))
        }
        Obstacle::Guides { method, width, limit } => {
            (Kind::Guides, Some(*method), None, Some((*width, *limit)))
        }
        Obstacle::NoPiece { want, why } => {
            let (kind, figures) = match why {
                WhyNone::TooShort { takes } => {
                    (Kind::WantTooLong, Some((*takes, job.log.length())))
                }
                WhyNone::TooThin { diameter, has } => (Kind::WantTooThick, Some((*diameter, *has))),
                WhyNone::Outbid => (Kind::WantOutbid, None),
            };
            (kind, None, Some(want.0), figures)
        }
        Obstacle::Unsawable { method, fault } => {
            (Kind::Unsawable, Some(*method), None, limits(fault))
        }
    };
    ObstacleForm {
        kind,
        method: rules_out.map(method),
        want,
        got: figures.map(|(got, _)| got.as_nm()),
        limit: figures.map(|(_, limit)| limit.as_nm()),
        says: obstacle::sentence(job, obstacle),
    }
}

/// What a pass met and what the mill allows, where the fault is one of the mill's limits.
fn limits(fault: &ReplayFault) -> Option<(Length, Length)> {
    let inches = Length::from_inches_f64;
    match fault {
        ReplayFault::TooLow { height, lowest, .. } => Some((*height, *lowest)),
        ReplayFault::TooWide { widest, limit, .. } => Some((inches(*widest), inches(*limit))),
        ReplayFault::TooDeep { above, limit, .. } => Some((inches(*above), inches(*limit))),
        _ => None,
    }
}

fn near_miss(job: &LogJob, miss: &NearMiss) -> NearMissForm {
    NearMissForm {
        want: miss.want.0,
        now: miss.now,
        then: miss.then,
        little: match miss.little {
            Little::Wane { legs } => LittleForm::Wane {
                along_thickness: legs.thickness.as_nm(),
                along_width: legs.width.as_nm(),
            },
            Little::Diameter(by) => LittleForm::Diameter(by.as_nm()),
            Little::Length(by) => LittleForm::Length(by.as_nm()),
        },
        says: near::sentence(job, miss),
    }
}

/// A computed length in inches to the nearest nanometre.
fn from_inches(inches: f64) -> i64 {
    Length::from_inches_f64(inches).as_nm()
}

/// The nearest whole number.
#[allow(
    clippy::cast_possible_truncation,
    reason = "shares and percentages in millionths; `as` saturates"
)]
fn whole(figure: f64) -> i64 {
    figure.round() as i64
}
