//! The plan of one log as JSON.

use super::asked::asked;
use super::day::tally;
use super::lines::Lines;
use super::sawing::method;
use super::{day, obstacle, sawing, whole};
use crate::card::near;
use crate::schema::VERSION;
use crate::schema::plan::{LittleForm, MethodResultForm, NearMissForm, PlanForm, ResultForm};
use pithward_job::LogJob;
use pithward_optimizer::{Little, NearMiss, Planned};
use serde::Serialize;

/// The whole plan of one log as JSON, in the form of [`schema`](crate::schema()).
pub fn json(job: &LogJob, planned: &Planned, near: &[NearMiss]) -> String {
    let mut text = Vec::new();
    let lines = Lines::down_to(LINES_DOWN_TO);
    let mut serializer = serde_json::Serializer::with_formatter(&mut text, lines);
    // The form holds numbers, texts and lists of them: it always has a text.
    if form(job, planned, near).serialize(&mut serializer).is_err() {
        return String::new();
    }
    String::from_utf8(text).unwrap_or_default() + "\n"
}

/// A pass, a piece's side or an outline is a line.
const LINES_DOWN_TO: usize = 4;

fn form(job: &LogJob, planned: &Planned, near: &[NearMiss]) -> PlanForm {
    let plan = &planned.plan;
    PlanForm {
        schema_version: VERSION,
        units: day::units(),
        log: day::log(&job.log, job.bark, job.taped_over_bark, job.species, &job.told),
        mill: day::mill(job),
        assumptions: day::assumptions(job, job.log.is_round()),
        wants: day::wants(job),
        sawn: sawing::sawn(job, plan),
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
        obstacles: planned.obstacles.iter().map(|o| obstacle::form(job, o)).collect(),
        near_misses: near.iter().map(|miss| near_miss(job, miss)).collect(),
        asked: asked(job.asked.as_deref()),
    }
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
